//! Process aids: finings, filter aids, enzymes, nutrients, foam control.

use super::row::{Text, row};
use super::{AidJob, AidPurpose, VolumeDose};
use crate::quantity::Concentration;
use crate::quantity::agreement::Agree;
use serde::{Deserialize, Serialize};

/// A usual range of doses, lowest and highest, in the volume treated.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum UsualDose {
    /// By mass, in g/L: a g/hL is 0.01 g/L.
    #[serde(rename = "mass_g_l")]
    Mass(Concentration, Concentration),
    /// By volume, in mL/hL.
    #[serde(rename = "volume_ml_hl")]
    Volume(VolumeDose, VolumeDose),
}

impl Agree for UsualDose {
    fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        match (*self, *other) {
            (Self::Mass(low, high), Self::Mass(other_low, other_high)) => {
                (low, high).agrees(&(other_low, other_high), tolerance)
            }
            (Self::Volume(low, high), Self::Volume(other_low, other_high)) => {
                (low, high).agrees(&(other_low, other_high), tolerance)
            }
            _ => false,
        }
    }
}

row! {
    /// A process aid. An unknown figure is `None`.
    Aid {
        /// What it does.
        purpose: Option<AidPurpose> => "purpose";
        /// What it does, within that.
        job: Option<AidJob> => "job";
        /// Usual doses; the supplier's own figure goes before them.
        dose: Option<UsualDose> => "dose";
        /// Where it goes.
        use_stage: Text => "use_stage";
        /// What to take care of.
        note: Text => "note";
    }
}
