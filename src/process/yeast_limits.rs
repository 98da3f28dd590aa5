//! What a yeast bears: alcohol, a strong wort, and hops that feed it.

use super::brew::Worked;
use super::formula::{Item, Stage};
use super::warning::Warning;
use crate::catalogue::Kind;
use crate::diagnostic::Place;
use crate::speech::Noted;

/// Above this a wort wants more yeast and oxygen than an ordinary pitch has, °P (Casey, Magnus & Ingledew 1984: 16 to 18; a seminar
/// of 2022: 18).
const STRONG_PLATO: f64 = 18.0;
/// Dry hops below this dose give little (common practice, no source), g/L.
const LITTLE_HOP_G_L: f64 = 2.0;

/// The codes of the warnings that are found here.
pub(super) const OF_THE_YEAST: [&str; 3] = ["alcohol_beyond_yeast", "strong_wort", "hop_creep"];

/// How much more than an ordinary pitch a strong wort gets: 25 to 50 % is usual (common practice, no source).
pub(crate) const STRONG_PITCH: f64 = 4.0 / 3.0;

/// Whether a wort wants more yeast than an ordinary pitch, and none is stated.
pub(crate) fn wants_more_yeast(worked: &Worked) -> bool {
    let pitched = worked.setup.formula.yeasts().next();
    pitched.is_some_and(|(_, yeast)| !yeast.stated_pitch_rate)
        && worked.brewed.pitched.liquid.real_extract().plato() > STRONG_PLATO
}

/// What the yeast of a brew may not bear, and what may keep it at work.
pub(super) fn yeast_limits(worked: &Worked) -> Vec<Noted<Warning>> {
    let (formula, brewed) = (&worked.setup.formula, &worked.brewed);
    if formula.yeasts().next().is_none() {
        return Vec::new();
    }
    let at_pitch = |warning| Noted::at(Place::pitch(), warning);
    let alcohol = brewed.cellar.beer.alcohol_by_volume();
    // Of several yeasts the strongest goes on longest.
    let limits = formula
        .yeasts()
        .filter_map(|(item, yeast)| Some((item, yeast.alcohol_limit?)));
    let strongest = limits.reduce(|a, b| if b.1.0 > a.1.0 { b } else { a });
    let too_much = strongest.filter(|(_, (usual, _))| alcohol > *usual);
    let too_much = too_much.map(|(item, (usual, most))| {
        let beyond = Warning::AlcoholBeyondYeast {
            name: item.ingredient.name.clone(),
            alcohol,
            usual,
            most,
        };
        Noted::at(item.place.line(), beyond)
    });
    let original = brewed.pitched.liquid.real_extract();
    let strong = wants_more_yeast(worked).then(|| at_pitch(Warning::StrongWort { original }));
    let vessel_l = brewed.cellar.finished.volume_l().max(f64::MIN_POSITIVE);
    let is_dry_hop = |item: &Item| {
        item.place.stage == Stage::Ferment && item.ingredient.kind == Kind::Hop && item.is_by_mass()
    };
    let hops = formula.items.with(&worked.amounts.of);
    let hops: Vec<_> = hops.filter(|(item, _)| is_dry_hop(item)).collect();
    let g_l = 1000.0 * hops.iter().map(|(_, kg)| **kg).sum::<f64>() / vessel_l;
    let creep = hops.first().filter(|_| g_l >= LITTLE_HOP_G_L);
    let creep = creep.map(|(item, _)| Noted::at(item.place.line(), Warning::HopCreep));
    too_much.into_iter().chain(strong).chain(creep).collect()
}
