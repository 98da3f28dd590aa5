//! What a brewer can measure, and how much of a figure's spread that would leave.

use super::figure::PredictedFigure;
use super::plant_figure::PlantFigure;
use crate::diagnostic::{Severity, codes};
use crate::speech::{Speaks, Style};
use serde::Serialize;

/// Something that can be measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Measurement {
    /// Extract of a lot of malt: its certificate.
    MaltExtract,
    /// Brix of a juice or fruit, by refractometer.
    JuiceBrix,
    /// Colour of a lot: its certificate.
    LotColour,
    /// Alpha acids of a lot of hops: the figure on its pack.
    LotAlpha,
    /// Attenuation of the yeast, from brews with it.
    YeastAttenuation,
    /// The plant's grain absorption, from brews on it.
    PlantAbsorption,
    /// The plant's conversion, in the same way.
    PlantConversion,
    /// The plant's extract yield, in the same way.
    PlantYield,
    /// The plant's evaporation, in the same way.
    PlantEvaporation,
    /// Bitterness of a beer of this plant, by a laboratory.
    BeerBitterness,
    /// Colour of a beer of this plant, by a laboratory.
    BeerColour,
    /// Volume before the boil, on the day.
    PreBoilVolume,
    /// Gravity before the boil, on the day.
    PreBoilGravity,
    /// Gravity of the wort into the fermenter, on the day.
    OriginalGravity,
}

codes! {
    Measurement {
        MaltExtract = "malt_extract",
        JuiceBrix = "juice_brix",
        LotColour = "lot_colour",
        LotAlpha = "lot_alpha",
        YeastAttenuation = "yeast_attenuation",
        PlantAbsorption = "plant_absorption",
        PlantConversion = "plant_conversion",
        PlantYield = "plant_yield",
        PlantEvaporation = "plant_evaporation",
        BeerBitterness = "beer_bitterness",
        BeerColour = "beer_colour",
        PreBoilVolume = "pre_boil_volume",
        PreBoilGravity = "pre_boil_gravity",
        OriginalGravity = "original_gravity",
    }
}

impl Measurement {
    /// The plant's own figure in place of an assumed one; none for a loss, which is no better known when it is stated.
    pub(super) const fn of_plant(figure: PlantFigure) -> Option<Self> {
        match figure {
            PlantFigure::Absorption => Some(Self::PlantAbsorption),
            PlantFigure::Conversion => Some(Self::PlantConversion),
            PlantFigure::ExtractYield => Some(Self::PlantYield),
            PlantFigure::Evaporation => Some(Self::PlantEvaporation),
            PlantFigure::KettleLoss | PlantFigure::FermenterLoss => None,
        }
    }

    /// Whether it is of one lot, which has a name.
    pub(super) const fn is_of_a_lot(self) -> bool {
        matches!(
            self,
            Self::MaltExtract | Self::JuiceBrix | Self::LotColour | Self::LotAlpha
        )
    }

    const fn words(self) -> &'static str {
        match self {
            Self::MaltExtract => "the extract on the lot's certificate",
            Self::JuiceBrix => "the Brix",
            Self::LotColour => "the colour on the lot's certificate",
            Self::LotAlpha => "the alpha acids on the pack",
            Self::YeastAttenuation => "the attenuation of this yeast in earlier brews",
            Self::PlantAbsorption => "the brewhouse's own grain absorption",
            Self::PlantConversion => "the brewhouse's own conversion",
            Self::PlantYield => "the brewhouse's own extract yield",
            Self::PlantEvaporation => "the brewhouse's own evaporation",
            Self::BeerBitterness => "the bitterness of a beer of this brewhouse by a laboratory",
            Self::BeerColour => "the colour of a beer of this brewhouse by a laboratory",
            Self::PreBoilVolume => "the volume before the boil",
            Self::PreBoilGravity => "the gravity before the boil",
            Self::OriginalGravity => "the original gravity",
        }
    }
}

/// The one measurement that narrows a figure most.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct BestMeasurement {
    /// The figure that it narrows.
    pub figure: PredictedFigure,
    /// What to measure.
    pub what: Measurement,
    /// The ingredient that it is of, where it is of one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// One sigma of the figure when that is known, in the figure's unit.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub would_leave: f64,
    /// What is predicted, in the same unit.
    #[serde(skip)]
    pub(super) predicted: f64,
}

impl Speaks for BestMeasurement {
    fn code(&self) -> &'static str {
        self.what.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Note
    }

    fn text(&self, style: Style) -> String {
        let (what, figure) = (self.what.words(), self.figure.words());
        let of = match &self.name {
            Some(name) => format!(" of `{name}`"),
            None => String::new(),
        };
        let leaves = self.figure.spoken(self.predicted, style);
        let leaves = leaves.sigma(self.would_leave);
        format!("measure {what}{of}: {figure} is then known to ± {leaves}")
    }
}
