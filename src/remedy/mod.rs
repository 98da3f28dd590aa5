//! What would reach a target that a plant cannot reach, each with its amount.
//!
//! ```
//! use wortwright::{Job, speech::Speaks};
//!
//! let text = "recipe Strong\nbatch 10 hL into fermenter\ntarget original 24 P\nmash\n  100 % pale ale malt\n\
//!             brewhouse Pot\n  batch 20 L into fermenter\n  mash tun 15 L\n";
//! let plan = Job::read([("strong", text)])?.on("Pot")?.plan()?;
//! for outcome in &plan.outcomes {
//!     println!("{}", outcome.text(plan.brewhouse.style()));
//!     for remedy in outcome.remedies() {
//!         println!("- {}", remedy.text(plan.brewhouse.style()));
//!     }
//! }
//! assert!(plan.outcomes.iter().any(|outcome| !outcome.remedies().is_empty()));
//! # Ok::<(), wortwright::Error>(())
//! ```
//!
//! | for | see |
//! |---|---|
//! | the remedies of an outcome | [`Outcome::remedies`](crate::scale::Outcome::remedies) |
//! | one of them | [`Remedy`] |
//!
//! Each amount is found by running the forward model again, and each is data that a host [takes](crate::job::Brew::taking).

mod bitterness;
mod colour;
mod out_of_reach;
mod taken;

use crate::diagnostic::{Severity, codes};
use crate::quantity::{
    BeerColour, Bitterness, Extract, Mass, Time, Volume, in_kilograms, in_litres, kilograms, litres,
};
use crate::speech::{Speaks, Style, time};
use serde::{Deserialize, Serialize};

pub(crate) use bitterness::{for_bitterness, with_stand};
pub(crate) use colour::{DarkMalt, for_colour};
pub(crate) use out_of_reach::{Limit, OutOfReach, boiled_for_topping_up};
pub(crate) use taken::{Relief, reliefs, with_lines, with_stands};

/// Halvings that bring any interval down to a millionth of it: nobody weighs or measures as finely.
const HALVINGS: usize = 20;
/// More brews than this are no remedy (rule of the crate).
const MOST_BREWS: u32 = 6;

/// One way out, with its amount and with what the model gives when it is taken.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Remedy {
    /// Rinse the grain with this much water, taken from the mash water.
    Sparge {
        /// Sparge water.
        #[serde(rename = "sparge_l", with = "crate::quantity::json::litre")]
        water: Volume,
        /// Gravity then reached.
        #[serde(rename = "reached_plato")]
        reached: Extract,
    },
    /// Dissolve dried malt extract in the kettle, with less grain to match.
    DriedExtract {
        /// How much.
        #[serde(rename = "mass_kg", with = "crate::quantity::json::kilogram")]
        mass: Mass,
        /// Gravity then reached.
        #[serde(rename = "reached_plato")]
        reached: Extract,
    },
    /// Dissolve sugar in the kettle; the beer turns drier.
    Sugar {
        /// How much.
        #[serde(rename = "mass_kg", with = "crate::quantity::json::kilogram")]
        mass: Mass,
        /// Gravity then reached.
        #[serde(rename = "reached_plato")]
        reached: Extract,
    },
    /// Brew less.
    SmallerBatch {
        /// Wort into the fermenter.
        #[serde(rename = "batch_l", with = "crate::quantity::json::litre")]
        batch: Volume,
        /// Gravity then reached.
        #[serde(rename = "reached_plato")]
        reached: Extract,
    },
    /// Brew so many equal batches and mix them in the fermenter.
    SeveralBrews {
        /// How many.
        brews: u32,
        /// Wort of each into the fermenter.
        #[serde(rename = "batch_l", with = "crate::quantity::json::litre")]
        batch: Volume,
        /// Gravity then reached.
        #[serde(rename = "reached_plato")]
        reached: Extract,
    },
    /// Dissolve dried malt extract in place of all of the grain, in a smaller batch.
    ExtractBatch {
        /// Wort into the fermenter.
        #[serde(rename = "batch_l", with = "crate::quantity::json::litre")]
        batch: Volume,
        /// How much extract.
        #[serde(rename = "mass_kg", with = "crate::quantity::json::kilogram")]
        mass: Mass,
        /// Gravity then reached.
        #[serde(rename = "reached_plato")]
        reached: Extract,
    },
    /// Boil longer, so that more water passes through the grain.
    LongerBoil {
        /// Boiling time in all.
        #[serde(rename = "boil_min", with = "crate::quantity::json::minute")]
        boil: Time,
        /// Gravity then reached.
        #[serde(rename = "reached_plato")]
        reached: Extract,
    },
    /// Replace so much of the grist by dark malt of the same extract.
    DarkMalt {
        /// The malt, by its catalogue name.
        name: String,
        /// How much.
        #[serde(rename = "mass_kg", with = "crate::quantity::json::kilogram")]
        mass: Mass,
        /// Colour of the beer then reached, malt part.
        #[serde(rename = "reached_ebc")]
        reached: BeerColour,
    },
    /// Boil a smaller, stronger wort and add this much boiled and cooled water in the fermenter.
    TopUp {
        /// Water.
        #[serde(rename = "water_l", with = "crate::quantity::json::litre")]
        water: Volume,
        /// Gravity after topping up.
        #[serde(rename = "reached_plato")]
        reached: Extract,
    },
    /// Let the hops stand for another time.
    StandTime {
        /// Which stand of the recipe, counted from 1.
        stand: usize,
        /// Its time.
        #[serde(rename = "time_min", with = "crate::quantity::json::minute")]
        time: Time,
        /// Bitterness of the beer then reached.
        #[serde(rename = "reached_ibu")]
        reached: Bitterness,
    },
    /// Boil some of a hop that stands.
    BoiledHops {
        /// The hop, by its name in the recipe.
        name: String,
        /// How much.
        #[serde(rename = "mass_kg", with = "crate::quantity::json::kilogram")]
        mass: Mass,
        /// Boiling time left when it goes in.
        #[serde(rename = "at_min", with = "crate::quantity::json::minute")]
        time_left: Time,
        /// Bitterness of the beer then reached.
        #[serde(rename = "reached_ibu")]
        reached: Bitterness,
    },
}

codes! {
    Remedy {
        Sparge = "sparge",
        DriedExtract = "dried_extract",
        Sugar = "sugar",
        SmallerBatch = "smaller_batch",
        SeveralBrews = "several_brews",
        ExtractBatch = "extract_batch",
        LongerBoil = "longer_boil",
        DarkMalt = "dark_malt",
        TopUp = "top_up",
        StandTime = "stand_time",
        BoiledHops = "boiled_hops",
    }
}

impl Speaks for Remedy {
    fn code(&self) -> &'static str {
        self.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Note
    }

    fn text(&self, style: Style) -> String {
        // In units that it was not rounded in a remedy still stands on the side that reaches the aim.
        let at_least = |l| style.volume(litres(style.volume_up_l(in_litres(l))));
        let at_most = |l| style.volume(litres(style.volume_down_l(in_litres(l))));
        let weighed = |kg| style.mass(kilograms(style.mass_up_kg(in_kilograms(kg))));
        match self {
            Self::Sparge { water, reached } => format!(
                "sparge with {} of the mash water (gives {})",
                at_least(*water),
                style.gravity(*reached)
            ),
            Self::DriedExtract { mass, reached } => format!(
                "dissolve {} of pale dried malt extract in the kettle (gives {})",
                weighed(*mass),
                style.gravity(*reached)
            ),
            Self::Sugar { mass, reached } => format!(
                "dissolve {} of sugar in the kettle (gives {}; the beer turns drier)",
                weighed(*mass),
                style.gravity(*reached)
            ),
            Self::SmallerBatch { batch, reached } => format!(
                "brew only {} (gives {})",
                at_most(*batch),
                style.gravity(*reached)
            ),
            Self::SeveralBrews {
                brews,
                batch,
                reached,
            } => format!(
                "brew {brews} batches of {} and combine them in the fermenter (gives {})",
                at_most(*batch),
                style.gravity(*reached)
            ),
            Self::ExtractBatch {
                batch,
                mass,
                reached,
            } => format!(
                "brew only {}, with {} of pale dried malt extract instead of the grain (gives {})",
                at_most(*batch),
                weighed(*mass),
                style.gravity(*reached)
            ),
            Self::LongerBoil { boil, reached } => format!(
                "boil for {} in total (gives {})",
                time(*boil),
                style.gravity(*reached)
            ),
            Self::DarkMalt {
                name,
                mass,
                reached,
            } => format!(
                "replace part of the grist with the same weight, {}, of {name} (gives {})",
                weighed(*mass),
                style.beer_colour(*reached)
            ),
            Self::StandTime {
                time: stood,
                reached,
                ..
            } => format!(
                "let the hops stand for {} (gives {:.0} IBU)",
                time(*stood),
                reached.ibu()
            ),
            Self::BoiledHops {
                name,
                mass,
                time_left,
                reached,
            } => format!(
                "boil {} of {name} for {} as well (gives {:.0} IBU)",
                weighed(*mass),
                time(*time_left),
                reached.ibu()
            ),
            Self::TopUp { water, reached } => format!(
                "boil a stronger wort and top up with {} of boiled, cooled water in the fermenter (gives {})",
                at_least(*water),
                style.gravity(*reached)
            ),
        }
    }
}
