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
//! Each amount is found by running the forward model again.

mod colour;
mod gravity;
mod kettle;

use crate::diagnostic::{Severity, codes};
use crate::quantity::{BeerColour, Extract, Mass, Time, Volume};
use crate::speech::{Speaks, Style, time};
use serde::Serialize;

pub(crate) use colour::{DarkMalt, for_colour};
pub(crate) use gravity::{Extracts, for_gravity};
pub(crate) use kettle::for_kettle;

/// Halvings that bring any interval down to a millionth of it: nobody weighs or measures as finely.
const HALVINGS: usize = 20;
/// More brews than this are no remedy (rule of the crate).
const MOST_BREWS: u32 = 6;

/// One way out, with its amount and with what the model gives when it is taken.
#[derive(Debug, Clone, PartialEq, Serialize)]
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
}

codes! {
    Remedy {
        Sparge = "sparge",
        DriedExtract = "dried_extract",
        Sugar = "sugar",
        SmallerBatch = "smaller_batch",
        SeveralBrews = "several_brews",
        LongerBoil = "longer_boil",
        DarkMalt = "dark_malt",
        TopUp = "top_up",
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
        match self {
            Self::Sparge { water, reached } => format!(
                "rinse the grain with {} of the water (reaches {})",
                style.volume(*water),
                style.gravity(*reached)
            ),
            Self::DriedExtract { mass, reached } => format!(
                "dissolve {} of pale dried malt extract in the kettle (reaches {})",
                style.mass(*mass),
                style.gravity(*reached)
            ),
            Self::Sugar { mass, reached } => format!(
                "dissolve {} of sugar in the kettle (reaches {}; the beer turns drier)",
                style.mass(*mass),
                style.gravity(*reached)
            ),
            Self::SmallerBatch { batch, reached } => format!(
                "brew {} only (reaches {})",
                style.volume(*batch),
                style.gravity(*reached)
            ),
            Self::SeveralBrews {
                brews,
                batch,
                reached,
            } => format!(
                "brew {} {brews} times and mix them in the fermenter (reaches {})",
                style.volume(*batch),
                style.gravity(*reached)
            ),
            Self::LongerBoil { boil, reached } => format!(
                "boil for {} in all (reaches {})",
                time(*boil),
                style.gravity(*reached)
            ),
            Self::DarkMalt {
                name,
                mass,
                reached,
            } => format!(
                "put {} of {name} in place of as much of the grist (reaches {})",
                style.mass(*mass),
                style.beer_colour(*reached)
            ),
            Self::TopUp { water, reached } => format!(
                "boil a stronger wort and top up with {} of boiled, cooled water (reaches {})",
                style.volume(*water),
                style.gravity(*reached)
            ),
        }
    }
}
