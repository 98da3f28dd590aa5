//! What the stated power of a plant warms, and how fast.

use super::plant::Plant;
use super::wort::Grist;
use crate::science::density::WATER_KG_PER_L;
use crate::science::fermentability::RISE_C_PER_MIN;
use crate::science::heat::wet_kj_per_k;

/// How fast a plant warms what takes up so much heat, °C/min; without a stated power the usual pace.
pub(crate) fn rise_c_per_min(plant: &Plant, kj_per_k: f64) -> f64 {
    match plant.heat_kw {
        Some(kw) if kj_per_k > 0.0 => 60.0 * kw / kj_per_k,
        _ => RISE_C_PER_MIN,
    }
}

/// Heat that warms a mash by a kelvin, kJ/K; the vessel's own is left out, as in the strike water of a warm tun.
pub(crate) fn mash_kj_per_k(grist: Grist, mash_l: f64) -> f64 {
    let water_kg = mash_l * WATER_KG_PER_L + grist.moisture_kg;
    wet_kj_per_k(water_kg, grist.mass_kg - grist.moisture_kg)
}
