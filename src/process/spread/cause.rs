//! What a prediction's uncertainty comes from.

use super::plant_figure::PlantFigure;
use crate::diagnostic::{Severity, codes};
use crate::quantity::Share;
use crate::speech::{Speaks, Style, percent};
use serde::Serialize;

/// What is not known exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum CauseKind {
    /// Extract and moisture of a lot, Brix of a juice, sugars of a fruit.
    Extract,
    /// Colour of a lot.
    Colour,
    /// Alpha acids of a lot of hops.
    Alpha,
    /// Alcohol of a drink that is added.
    DrinkAlcohol,
    /// How much of a juice's or fruit's extract ferments.
    JuiceFermentability,
    /// Attenuation, from brew to brew and, where only the kind is known, between yeasts.
    Attenuation,
    /// How far malt ferments, from lot to lot.
    MaltFermentability,
    /// What the rests of the mash do to that.
    MashRests,
    /// How much of the extract of caramel and roast malt ferments.
    KilnedFermentability,
    /// What the grain holds back.
    Absorption,
    /// Share of the laboratory extract that dissolves.
    Conversion,
    /// The plant's extract yield.
    ExtractYield,
    /// Evaporation of the boil.
    Evaporation,
    /// Wort that stays in the kettle.
    KettleLoss,
    /// Wort that hops keep in the kettle.
    HopsKeep,
    /// Beer that stays in the fermenter.
    FermenterLoss,
    /// Litres of brewing water, by the marks of a vessel.
    WaterVolume,
    /// Litres of what is added later.
    AddedVolume,
    /// The scales.
    Weighing,
    /// The model of bitterness, on a plant for which no beer was analysed.
    BitternessModel,
    /// The model of colour, in the same way.
    ColourModel,
    /// The relation of alcohol to extracts.
    AlcoholFormula,
    /// pH and buffering of the grain, as tables have them.
    MashPhTables,
    /// A fermentation that may end above the gravity which an addition waits for.
    EndsAbove,
    /// Temperature of the beer when it is carbonated, or since it fermented.
    BeerTemperature,
    /// Pressure of the gas on a keg.
    GasPressure,
    /// Volume of the beer that is primed.
    PackagedVolume,
    /// Gravity that is still to ferment when the beer is packaged.
    ResidualGravity,
    /// The relations of dissolved carbon dioxide to temperature and pressure.
    CarbonationModel,
}

codes! {
    CauseKind {
        Extract = "extract",
        Colour = "colour",
        Alpha = "alpha",
        DrinkAlcohol = "drink_alcohol",
        JuiceFermentability = "juice_fermentability",
        Attenuation = "attenuation",
        MaltFermentability = "malt_fermentability",
        MashRests = "mash_rests",
        KilnedFermentability = "kilned_fermentability",
        Absorption = "absorption",
        Conversion = "conversion",
        ExtractYield = "extract_yield",
        Evaporation = "evaporation",
        KettleLoss = "kettle_loss",
        HopsKeep = "hops_keep",
        FermenterLoss = "fermenter_loss",
        WaterVolume = "water_volume",
        AddedVolume = "added_volume",
        Weighing = "weighing",
        BitternessModel = "bitterness_model",
        ColourModel = "colour_model",
        AlcoholFormula = "alcohol_formula",
        MashPhTables = "mash_ph_tables",
        EndsAbove = "ends_above",
        BeerTemperature = "beer_temperature",
        GasPressure = "gas_pressure",
        PackagedVolume = "packaged_volume",
        ResidualGravity = "residual_gravity",
        CarbonationModel = "carbonation_model",
    }
}

impl CauseKind {
    /// That of a figure of the plant.
    pub(super) const fn of_plant(figure: PlantFigure) -> Self {
        match figure {
            PlantFigure::Absorption => Self::Absorption,
            PlantFigure::Conversion => Self::Conversion,
            PlantFigure::ExtractYield => Self::ExtractYield,
            PlantFigure::Evaporation => Self::Evaporation,
            PlantFigure::KettleLoss => Self::KettleLoss,
            PlantFigure::FermenterLoss => Self::FermenterLoss,
        }
    }

    /// In words, without the name of what it is of.
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::Extract => "extract",
            Self::Colour => "colour",
            Self::Alpha => "alpha acids",
            Self::DrinkAlcohol => "alcohol",
            Self::JuiceFermentability | Self::MaltFermentability => "fermentability",
            Self::Attenuation => "attenuation",
            Self::MashRests => "effect of the mash rests on fermentability",
            Self::KilnedFermentability => "fermentability of caramel and roast malt",
            Self::Absorption => "grain absorption",
            Self::Conversion => "conversion",
            Self::ExtractYield => "extract yield",
            Self::Evaporation => "evaporation",
            Self::KettleLoss => "kettle loss",
            Self::HopsKeep => "wort held by hops",
            Self::FermenterLoss => "fermenter loss",
            Self::WaterVolume => "volume of the brewing water",
            Self::AddedVolume => "volumes of later additions",
            Self::Weighing => "weighing",
            Self::BitternessModel => "bitterness model",
            Self::ColourModel => "colour model",
            Self::AlcoholFormula => "alcohol formula",
            Self::MashPhTables => "mash pH figures of the grain",
            Self::EndsAbove => "fermentation that may end above the gravity the addition waits for",
            Self::BeerTemperature => "temperature of the beer",
            Self::GasPressure => "pressure on the gauge",
            Self::PackagedVolume => "volume of the beer packaged",
            Self::ResidualGravity => "gravity still to ferment",
            Self::CarbonationModel => "solubility of carbon dioxide",
        }
    }
}

/// One cause of a figure's spread.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Cause {
    /// What it is, its stable code.
    #[serde(rename = "code")]
    pub kind: CauseKind,
    /// The ingredient or the plant that it is of; absent for what is of none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Its share of the variance.
    #[serde(rename = "share_pct", with = "crate::quantity::json::percent")]
    pub share: Share,
}

impl Speaks for Cause {
    fn code(&self) -> &'static str {
        self.kind.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Note
    }

    fn text(&self, _: Style) -> String {
        let what = of(self.kind, self.name.as_deref());
        format!("{what}: {} of the variance", percent(self.share, 0))
    }
}

/// A cause with the name of what it is of.
pub(super) fn of(kind: CauseKind, name: Option<&str>) -> String {
    match name {
        Some(name) => format!("{} of `{name}`", kind.words()),
        None => kind.words().to_owned(),
    }
}
