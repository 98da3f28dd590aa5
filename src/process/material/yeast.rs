//! Yeast.

use super::lookup::Lookup;
use crate::catalogue::{EntryRef, MaltotrioseUse, StrainTrait};
use crate::quantity::{AlcoholByVolume, Quantity, Temperature};

/// A yeast.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Yeast {
    pub(crate) stated_attenuation: Option<f64>,
    pub(crate) usual_attenuation: Option<f64>,
    pub(crate) pitch_rate: Option<f64>,
    pub(crate) stated_pitch_rate: bool,
    pub(crate) diastatic: Option<StrainTrait>,
    pub(crate) maltotriose: Option<MaltotrioseUse>,
    /// Alcohol at which it usually stops, the weaker strains and the stronger ones.
    pub(crate) alcohol_limit: Option<(AlcoholByVolume, AlcoholByVolume)>,
    /// Temperatures at which it usually ferments.
    pub(crate) temperature_range: Option<(Temperature, Temperature)>,
}

pub(super) fn yeast(entry: Option<EntryRef<'_>>, lookup: &Lookup<'_>) -> Yeast {
    let known = match entry {
        Some(EntryRef::Yeast(known)) => Some(known),
        _ => None,
    };
    let facts = lookup.facts;
    let stated = facts.pitch_rate.as_ref().map(|w| w.value().in_base());
    Yeast {
        stated_attenuation: facts.attenuation.as_ref().map(|w| w.value().in_base()),
        usual_attenuation: known.and_then(|k| k.attenuation).map(Quantity::in_base),
        pitch_rate: stated.or(known.and_then(|k| k.pitch_rate).map(Quantity::in_base)),
        stated_pitch_rate: stated.is_some(),
        diastatic: known.and_then(|k| k.diastatic),
        maltotriose: known.and_then(|k| k.maltotriose),
        alcohol_limit: known.and_then(|k| k.alcohol_limit),
        temperature_range: known.and_then(|k| k.temperature_range),
    }
}
