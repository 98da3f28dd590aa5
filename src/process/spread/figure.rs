//! The figures of a prediction by name, each as a number of the unit in which a host sees it.

use crate::process::figures::Figures;
use crate::quantity::{AlcoholByVolume, BeerColour, Bitterness, BrewhouseYield, CarbonDioxide};
use crate::quantity::{Extract, Ph, SpecificGravity, in_litres};
use crate::speech::{Spoken, Style};
use serde::Serialize;

/// A figure of a prediction, named as in its JSON.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub enum PredictedFigure {
    /// Original extract, °P.
    #[serde(rename = "original_plato")]
    Original,
    /// The same as specific gravity.
    #[serde(rename = "original_sg")]
    OriginalGravity,
    /// Apparent final extract, °P.
    #[serde(rename = "final_plato")]
    Final,
    /// The same as specific gravity.
    #[serde(rename = "final_sg")]
    FinalGravity,
    /// Alcohol, per cent by volume.
    #[serde(rename = "alcohol_abv_pct")]
    Alcohol,
    /// Apparent final extract if every juice ferments in full, °P.
    #[serde(rename = "final_if_juice_ferments_plato")]
    FinalIfJuiceFerments,
    /// Alcohol if every juice ferments in full, per cent by volume.
    #[serde(rename = "alcohol_if_juice_ferments_abv_pct")]
    AlcoholIfJuiceFerments,
    /// Bitterness of the beer, IBU.
    #[serde(rename = "bitterness_ibu")]
    Bitterness,
    /// The same by Tinseth, IBU.
    #[serde(rename = "bitterness_tinseth_ibu")]
    BitternessTinseth,
    /// The same by isomerisation over the real temperatures, IBU.
    #[serde(rename = "bitterness_kinetic_ibu")]
    BitternessKinetic,
    /// Colour of the beer from malt, EBC.
    #[serde(rename = "colour_ebc")]
    Colour,
    /// The same with juice, EBC.
    #[serde(rename = "colour_with_juice_ebc")]
    ColourWithJuice,
    /// Wort into the fermenter, L.
    #[serde(rename = "batch_l")]
    Batch,
    /// Beer in the fermenter when it has fermented, L.
    #[serde(rename = "finished_l")]
    Finished,
    /// Apparent final extract without later additions, °P.
    #[serde(rename = "wort_final_plato")]
    WortFinal,
    /// Bitterness of the wort, IBU.
    #[serde(rename = "wort_bitterness_ibu")]
    WortBitterness,
    /// Colour of the wort, EBC.
    #[serde(rename = "wort_colour_ebc")]
    WortColour,
    /// Original extract of a wort that would have become this beer at once, °P.
    #[serde(rename = "equivalent_original_plato")]
    EquivalentOriginal,
    /// Apparent extract just before the first addition of juice or sugar, °P.
    #[serde(rename = "plato_before_addition")]
    BeforeAddition,
    /// The same just after it, °P.
    #[serde(rename = "plato_after_addition")]
    AfterAddition,
    /// Mash pH.
    #[serde(rename = "mash_ph")]
    MashPh,
    /// Carbon dioxide in the packaged beer, g/L.
    #[serde(rename = "carbonation_g_l")]
    Carbonation,
    /// Extract in the wort over the laboratory extract of what was mashed, per cent.
    #[serde(rename = "extract_yield_pct")]
    ExtractYield,
}

/// Numbers of a prediction that one cause moves alike.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Family {
    Bitterness,
    Colour,
    Other,
}

impl PredictedFigure {
    /// All of them, in the order of [`Figures`].
    pub const ALL: [Self; 23] = [
        Self::Original,
        Self::OriginalGravity,
        Self::Final,
        Self::FinalGravity,
        Self::Alcohol,
        Self::FinalIfJuiceFerments,
        Self::AlcoholIfJuiceFerments,
        Self::Bitterness,
        Self::BitternessTinseth,
        Self::BitternessKinetic,
        Self::Colour,
        Self::ColourWithJuice,
        Self::Batch,
        Self::Finished,
        Self::WortFinal,
        Self::WortBitterness,
        Self::WortColour,
        Self::EquivalentOriginal,
        Self::BeforeAddition,
        Self::AfterAddition,
        Self::MashPh,
        Self::Carbonation,
        Self::ExtractYield,
    ];

    /// Its number in a prediction, in its unit; none where that does not have it.
    ///
    /// ```
    /// use wortwright::process::{Figures, PredictedFigure};
    /// let mut figures = Figures::default();
    /// figures.original = Some(wortwright::quantity::Extract::from_plato(15.6)?);
    /// assert_eq!(PredictedFigure::Original.of(&figures), Some(15.6));
    /// assert_eq!(PredictedFigure::MashPh.of(&figures), None);
    /// # Ok::<(), wortwright::diagnostic::Error>(())
    /// ```
    pub fn of(self, figures: &Figures) -> Option<f64> {
        let plato = |extract: Option<Extract>| extract.map(Extract::plato);
        let ratio = |gravity: Option<SpecificGravity>| gravity.map(SpecificGravity::ratio);
        let abv = |alcohol: Option<AlcoholByVolume>| alcohol.map(AlcoholByVolume::percent);
        let ibu = |bitterness: Option<Bitterness>| bitterness.map(Bitterness::ibu);
        let ebc = |colour: Option<BeerColour>| colour.map(BeerColour::ebc);
        match self {
            Self::Original => plato(figures.original),
            Self::OriginalGravity => ratio(figures.original_gravity),
            Self::Final => plato(figures.final_extract),
            Self::FinalGravity => ratio(figures.final_gravity),
            Self::Alcohol => abv(figures.alcohol),
            Self::FinalIfJuiceFerments => plato(figures.final_if_juice_ferments),
            Self::AlcoholIfJuiceFerments => abv(figures.alcohol_if_juice_ferments),
            Self::Bitterness => ibu(figures.bitterness),
            Self::BitternessTinseth => ibu(figures.bitterness_tinseth),
            Self::BitternessKinetic => ibu(figures.bitterness_kinetic),
            Self::Colour => ebc(figures.colour),
            Self::ColourWithJuice => ebc(figures.colour_with_juice),
            Self::Batch => figures.batch.map(in_litres),
            Self::Finished => figures.finished.map(in_litres),
            Self::WortFinal => plato(figures.wort_final),
            Self::WortBitterness => ibu(figures.wort_bitterness),
            Self::WortColour => ebc(figures.wort_colour),
            Self::EquivalentOriginal => plato(figures.equivalent_original),
            Self::BeforeAddition => plato(figures.before_addition),
            Self::AfterAddition => plato(figures.after_addition),
            Self::MashPh => figures.mash_ph.map(Ph::value),
            Self::Carbonation => figures.carbonation.map(CarbonDioxide::grams_per_litre),
            Self::ExtractYield => figures.extract_yield.map(BrewhouseYield::percent),
        }
    }

    /// What can move it alone of all figures.
    pub(super) const fn family(self) -> Family {
        match self {
            Self::Bitterness
            | Self::BitternessTinseth
            | Self::BitternessKinetic
            | Self::WortBitterness => Family::Bitterness,
            Self::Colour | Self::ColourWithJuice | Self::WortColour => Family::Colour,
            _ => Family::Other,
        }
    }

    /// A number of it, in the unit of [`PredictedFigure::of`], as a practice says it.
    pub(crate) fn spoken(self, number: f64, style: Style) -> Spoken {
        match self {
            Self::OriginalGravity | Self::FinalGravity => Spoken::plain(number, 3, ""),
            Self::MashPh => Spoken::plain(number, 2, ""),
            Self::Alcohol | Self::AlcoholIfJuiceFerments => Spoken::plain(number, 1, "% vol"),
            Self::ExtractYield => Spoken::plain(number, 1, "%"),
            Self::Batch | Self::Finished => style.spoken_volume(number),
            Self::Carbonation => style.spoken_carbon_dioxide(CarbonDioxide::clamped(number)),
            _ => match self.family() {
                Family::Bitterness => Spoken::plain(number, 0, "IBU"),
                Family::Colour => style.spoken_colour(BeerColour::clamped(number)),
                Family::Other => style.spoken_gravity(Extract::clamped(number)),
            },
        }
    }

    /// Whether it is a bitterness.
    pub(crate) const fn is_bitterness(self) -> bool {
        matches!(self.family(), Family::Bitterness)
    }

    /// In words.
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Original | Self::OriginalGravity => "original gravity",
            Self::Final | Self::FinalGravity => "final gravity",
            Self::Alcohol => "alcohol",
            Self::FinalIfJuiceFerments => "final gravity if the juice ferments out fully",
            Self::AlcoholIfJuiceFerments => "alcohol if the juice ferments out fully",
            Self::Bitterness => "bitterness",
            Self::BitternessTinseth => "bitterness by Tinseth",
            Self::BitternessKinetic => "bitterness by isomerisation kinetics",
            Self::Colour => "colour from malt",
            Self::ColourWithJuice => "colour with juice",
            Self::Batch => "wort into the fermenter",
            Self::Finished => "beer after fermentation",
            Self::WortFinal => "final gravity of the wort",
            Self::WortBitterness => "bitterness of the wort",
            Self::WortColour => "colour of the wort",
            Self::EquivalentOriginal => "original gravity incl. additions",
            Self::BeforeAddition => "gravity before the addition",
            Self::AfterAddition => "gravity after the addition",
            Self::MashPh => "mash pH",
            Self::Carbonation => "carbonation",
            Self::ExtractYield => "extract yield",
        }
    }

    /// Whether it is an alcohol, which a formula finds from extracts.
    pub(super) const fn is_alcohol(self) -> bool {
        matches!(self, Self::Alcohol | Self::AlcoholIfJuiceFerments)
    }
}
