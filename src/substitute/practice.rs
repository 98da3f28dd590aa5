//! What to take care of with a substitute, and what nobody knows of it.

use crate::diagnostic::{Severity, codes};
use crate::quantity::{AlcoholByVolume, DiastaticPower, Mass, Temperature, Volume};
use crate::speech::{Speaks, Style, percent};
use serde::Serialize;

/// What to take care of with a substitute.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Practice {
    /// It must be mashed.
    NeedsMashing {
        /// The ingredient.
        name: String,
    },
    /// Its starch swells only in part at the mash temperature: cook it first.
    NeedsCooking {
        /// The ingredient.
        name: String,
    },
    /// It is raw and harder than malt.
    HardToMill {
        /// The ingredient.
        name: String,
    },
    /// It clumps or is too hard for a small mash.
    HardToMash {
        /// The ingredient.
        name: String,
    },
    /// It swells above the malt's own enzymes.
    NeedsEnzyme {
        /// The ingredient.
        name: String,
    },
    /// The acid of what is replaced is lacking in the mash.
    AddAcid {
        /// The acid.
        acid: String,
        /// How much of it.
        #[serde(rename = "volume_l", with = "crate::quantity::json::litre")]
        volume: Volume,
    },
    /// So much gum makes a sticky mash: add hulls.
    AddHulls {
        /// The ingredients with much gum.
        names: Vec<String>,
    },
    /// It goes into the kettle instead of the mash.
    GoesIntoKettle {
        /// The ingredient.
        name: String,
    },
    /// It goes into the mash instead of the kettle.
    GoesIntoMash {
        /// The ingredient.
        name: String,
    },
    /// A juice that is or may be preserved may not ferment.
    PreservedMayNotFerment {
        /// The juice.
        name: String,
    },
    /// It leaves a haze.
    PectinHaze {
        /// The juice.
        name: String,
    },
    /// It holds sorbitol, which yeast leaves and which is laxative in large amounts.
    Sorbitol {
        /// The juice.
        name: String,
    },
    /// A concentrate thinned with water.
    ThinWithWater {
        /// The concentrate.
        name: String,
        /// Water for a litre of it.
        #[serde(
            rename = "water_l_per_l",
            serialize_with = "crate::quantity::json::rounded"
        )]
        water: f64,
    },
    /// The grist may convert slowly.
    DiastaticPowerLow {
        /// Mean over the grist.
        #[serde(rename = "diastatic_power_wk")]
        power: DiastaticPower,
    },
    /// How far a yeast ferments is not known: as far as the one that it replaces is assumed.
    AttenuationUnknown {
        /// The yeast.
        name: String,
    },
    /// A yeast that ferments dextrins too, for weeks.
    FermentsDextrins {
        /// The yeast.
        name: String,
    },
    /// The beer is stronger than some strains of a yeast stand.
    MayStop {
        /// The yeast.
        name: String,
        /// The alcohol at which the weaker ones stop.
        #[serde(rename = "from_abv_pct", with = "crate::quantity::json::percent")]
        from: AlcoholByVolume,
    },
    /// The amount of a spice or an aid follows the usual doses of both.
    SetByUsualDose {
        /// The ingredient.
        name: String,
    },
    /// The recipe has it already.
    OnTopOf {
        /// The ingredient.
        name: String,
        /// How much of it the recipe has elsewhere, on the target.
        #[serde(rename = "mass_kg", with = "crate::quantity::json::kilogram")]
        mass: Mass,
    },
    /// What it may do to people, or to yeast.
    Heed {
        /// The ingredient.
        name: String,
        /// What to take care of.
        caution: String,
    },
    /// A salt of other ions.
    LacksIons {
        /// The salt.
        name: String,
        /// What it does not bring.
        ions: Vec<String>,
    },
    /// Its colour is that of roast.
    TastesOfRoast {
        /// The ingredient.
        name: String,
    },
    /// Its usual dose is not known: as much as of what it replaces.
    DoseUnknown {
        /// The ingredient.
        name: String,
    },
    /// The pulp of fruit keeps beer.
    KeepsBeer {
        /// The fruit.
        name: String,
        /// How much beer is lost with it.
        #[serde(rename = "volume_l", with = "crate::quantity::json::litre")]
        volume: Volume,
    },
    /// Figures that nobody states; means of its kind stand for them.
    FiguresAssumed {
        /// The ingredient.
        name: String,
        /// Which.
        figures: Vec<UnstatedFigure>,
    },
    /// The yeast ferments at another temperature than the recipe does.
    FermentWithin {
        /// The yeast.
        name: String,
        /// The coolest that is usual.
        #[serde(rename = "coolest_c")]
        coolest: Temperature,
        /// The warmest.
        #[serde(rename = "warmest_c")]
        warmest: Temperature,
    },
    /// The hop's bitterness is kept, so that its mass changes.
    MassFollowsBitterness {
        /// The hop.
        name: String,
    },
}

codes! {
    Practice {
        NeedsMashing = "needs_mashing",
        NeedsCooking = "needs_cooking",
        HardToMill = "hard_to_mill",
        HardToMash = "hard_to_mash",
        NeedsEnzyme = "needs_enzyme",
        AddAcid = "add_acid",
        AddHulls = "add_hulls",
        GoesIntoKettle = "goes_into_kettle",
        GoesIntoMash = "goes_into_mash",
        PreservedMayNotFerment = "preserved_may_not_ferment",
        PectinHaze = "pectin_haze",
        Sorbitol = "sorbitol",
        ThinWithWater = "thin_with_water",
        DiastaticPowerLow = "diastatic_power_low",
        AttenuationUnknown = "attenuation_unknown",
        FermentsDextrins = "ferments_dextrins",
        MayStop = "may_stop",
        SetByUsualDose = "set_by_usual_dose",
        OnTopOf = "on_top_of",
        Heed = "heed",
        LacksIons = "lacks_ions",
        TastesOfRoast = "tastes_of_roast",
        DoseUnknown = "dose_unknown",
        KeepsBeer = "keeps_beer",
        FiguresAssumed = "figures_assumed",
        FermentWithin = "ferment_within",
        MassFollowsBitterness = "mass_follows_bitterness",
    }
}

/// A figure of a candidate that neither its line nor the catalogue states.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum UnstatedFigure {
    /// Laboratory extract of dry matter.
    Extract,
    /// Moisture.
    Moisture,
    /// Colour.
    Colour,
    /// Share of the extract that ferments.
    Fermentability,
    /// Diastatic power.
    DiastaticPower,
    /// Protein.
    Protein,
    /// Gum that thickens the wort.
    Gum,
    /// Acid that it brings to the mash.
    MashAcidity,
    /// Flavour of a malt, grain or sugar.
    Flavour,
    /// Acid of a juice.
    Acidity,
    /// Aroma of a juice or hop.
    Aroma,
    /// Hue of a juice.
    Hue,
    /// Essential oil of a hop.
    Oil,
    /// Cohumulone of a hop.
    Cohumulone,
}

impl UnstatedFigure {
    /// The figure in words.
    pub const fn text(self) -> &'static str {
        match self {
            Self::Extract => "extract",
            Self::Moisture => "moisture",
            Self::Colour => "colour",
            Self::Fermentability => "fermentability",
            Self::DiastaticPower => "diastatic power",
            Self::Protein => "protein",
            Self::Gum => "gum",
            Self::MashAcidity => "mash acidity",
            Self::Flavour => "flavour",
            Self::Acidity => "acidity",
            Self::Aroma => "aroma",
            Self::Hue => "hue",
            Self::Oil => "oil",
            Self::Cohumulone => "cohumulone",
        }
    }
}

impl Speaks for Practice {
    fn code(&self) -> &'static str {
        self.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Note
    }

    fn text(&self, style: Style) -> String {
        match self {
            Self::NeedsMashing { name } => format!("{name} must be mashed"),
            Self::NeedsCooking { name } => {
                format!(
                    "cook {name} before mashing: its starch does not fully gelatinise at this mash temperature"
                )
            }
            Self::HardToMill { name } => {
                format!(
                    "{name}: harder than malt, so mill with a narrow gap, or twice, or have the shop mill it"
                )
            }
            Self::FermentWithin {
                name,
                coolest,
                warmest,
            } => format!(
                "{name} ferments at {} to {}: pitched and held at the nearest",
                style.temperature(*coolest),
                style.temperature(*warmest)
            ),
            Self::HardToMash { name } => format!(
                "{name} clumps or is too hard for a small mash: use a bag and a slurry, or a cooker"
            ),
            Self::NeedsEnzyme { name } => format!(
                "{name} gelatinises above the malt's own enzymes: rest at 72 to 80 °C with heat-stable enzyme"
            ),
            Self::AddAcid { acid, volume } => format!(
                "{} of {acid} makes up the acid of the mash: measure the pH",
                style.volume(*volume)
            ),
            Self::AddHulls { names } => format!(
                "{} can make the mash sticky; rice hulls help the run-off",
                names.join(" and ")
            ),
            Self::GoesIntoKettle { name } => {
                format!("add {name} to the kettle, heat off while it dissolves")
            }
            Self::GoesIntoMash { name } => format!("add {name} to the mash"),
            Self::PreservedMayNotFerment { name } => format!(
                "{name} may be preserved with sulphite or sorbate: check the label, it may not ferment"
            ),
            Self::PectinHaze { name } => format!("{name} leaves a pectin haze"),
            Self::Sorbitol { name } => {
                format!(
                    "{name} contains sorbitol, which stays sweet and is laxative in large amounts"
                )
            }
            Self::ThinWithWater { name, water } => {
                format!("dilute {name} with {water:.2} L of water per litre")
            }
            Self::DiastaticPowerLow { power } => format!(
                "diastatic power drops to {:.0} WK, which may convert slowly: rest longer, or add enzymes",
                power.windisch_kolbach()
            ),
            Self::FiguresAssumed { name, figures } => format!(
                "{name}: {} not known, average of its type used",
                figures
                    .iter()
                    .map(|figure| figure.text())
                    .collect::<Vec<_>>()
                    .join(", ")
            ),
            Self::AttenuationUnknown { name } => {
                format!("{name}: no figure for attenuation; assumed: that of the yeast it replaces")
            }
            Self::FermentsDextrins { name } => format!(
                "{name} is diastatic: the beer may end drier than predicted, for weeks; package after two equal readings three weeks apart"
            ),
            Self::MayStop { name, from } => format!(
                "some strains of {name} stop at {} alcohol: ask for the limit of yours",
                percent(*from, 0)
            ),
            Self::SetByUsualDose { name } => {
                format!("{name} by its usual dose: start with less, and taste")
            }
            Self::OnTopOf { name, mass } => format!(
                "on top of the {} of {name} in the recipe",
                style.mass(*mass)
            ),
            Self::Heed { name, caution } => format!("{name}: {caution}"),
            Self::LacksIons { name, ions } => {
                format!("{name} brings no {}", ions.join(" and no "))
            }
            Self::TastesOfRoast { name } => format!("{name} tastes of roast"),
            Self::DoseUnknown { name } => format!(
                "{name}: no usual dose known; assumed: as much as of what it replaces; start with less, and taste"
            ),
            Self::KeepsBeer { name, volume } => format!(
                "the pulp of {name} holds about {} of beer",
                style.volume(*volume)
            ),
            Self::MassFollowsBitterness { name } => {
                format!("weight of {name} set for the same bitterness")
            }
        }
    }
}
