//! What a brew costs in plain floating-point arithmetic: the same formulas on bare numbers, without types, checks,
//! names, reasons or a search for amounts. The floor under `predict` and `scale`.
#![allow(unreachable_pub, reason = "several benches share this file")]

/// A brew as numbers: wort in the fermenter, hops, juice on the way down, final gravity.
#[derive(Debug, Clone)]
pub struct Numbers {
    pub wort_l: f64,
    pub original: f64,
    pub final_plato: f64,
    pub trigger_plato: f64,
    /// Kilograms, alpha acids, minutes in the boil.
    pub hops: Vec<(f64, f64, f64)>,
    pub post_boil_l: f64,
    /// Litres and °Bx.
    pub juices: Vec<(f64, f64)>,
}

/// Alcohol by volume, a fraction, and bitterness of the beer, IBU.
pub fn beer(brew: &Numbers) -> (f64, f64) {
    let wort_kg = brew.wort_l * sugar(brew.original / 100.0) / 1000.0;
    let mut extract_kg = wort_kg * brew.original / 100.0;
    let mut water_kg = wort_kg - extract_kg;
    let at_trigger = consumed(water_kg, extract_kg, 0.0, sugar(brew.trigger_plato / 100.0));
    extract_kg -= at_trigger;
    let mut ethanol_kg = at_trigger / 2.0665;
    for (litres, brix) in &brew.juices {
        let kg = litres * sugar(brix / 100.0) / 1000.0;
        extract_kg += kg * brix / 100.0;
        water_kg += kg * (1.0 - brix / 100.0);
    }
    let rest = consumed(
        water_kg,
        extract_kg,
        ethanol_kg,
        sugar(brew.final_plato / 100.0),
    );
    extract_kg -= rest;
    ethanol_kg += rest / 2.0665;
    let beer_kg = water_kg + extract_kg + ethanol_kg;
    let beer_l = beer_kg / density(water_kg, extract_kg, ethanol_kg) * 1000.0;
    let bigness = 1.65 * 0.000125_f64.powf(sugar(brew.original / 100.0) / sugar(0.0) - 1.0);
    let wort_ibu: f64 = brew
        .hops
        .iter()
        .map(|(kg, alpha, min)| {
            kg * alpha * 1e6 / brew.post_boil_l * bigness * (1.0 - (-0.04 * min).exp()) / 4.15
        })
        .sum();
    (
        ethanol_kg / 0.789_24 / beer_l,
        wort_ibu * brew.wort_l / beer_l,
    )
}

/// Extract that ferments until the density is reached, by bisection.
fn consumed(water_kg: f64, extract_kg: f64, ethanol_kg: f64, wanted: f64) -> f64 {
    let (mut low, mut high) = (0.0, extract_kg);
    for _ in 0..50 {
        let middle = 0.5 * (low + high);
        if density(water_kg, extract_kg - middle, ethanol_kg + middle / 2.0665) > wanted {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// Tabarié's relation as a fixed point, kg/m³.
fn density(water_kg: f64, extract_kg: f64, ethanol_kg: f64) -> f64 {
    let whole_kg = water_kg + extract_kg + ethanol_kg;
    let (mut in_water, mut in_wort) = (ethanol_kg / whole_kg, extract_kg / whole_kg);
    let (mut thin, mut thick) = (spirit(in_water), sugar(in_wort));
    let mut density = thin + thick - spirit(0.0);
    for _ in 0..8 {
        in_water = ethanol_kg / whole_kg * density / thin;
        in_wort = extract_kg / whole_kg * density / thick;
        (thin, thick) = (spirit(in_water), sugar(in_wort));
        density = thin + thick - spirit(0.0);
    }
    density
}

/// ICUMSA polynomial at 20 °C, kg/m³.
fn sugar(w: f64) -> f64 {
    const A: [f64; 7] = [
        998.2031, 385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890,
    ];
    A.iter().rev().fold(0.0, |sum, a| sum * w + a)
}

/// OIML R 22 at 20 °C, kg/m³.
fn spirit(p: f64) -> f64 {
    const A: [f64; 12] = [
        9.982012300e2,
        -1.929769495e2,
        3.891238958e2,
        -1.668103923e3,
        1.352215441e4,
        -8.829278388e4,
        3.062874042e5,
        -6.138381234e5,
        7.470172998e5,
        -5.478461354e5,
        2.234460334e5,
        -3.903285426e4,
    ];
    A.iter().rev().fold(0.0, |sum, a| sum * p + a)
}
