//! The demo's fermentation worked out by hand, after the wort in `demo`.
//!
//! Constants as published, typed in from their sources:
//! - density of alcohol and water at 20 °C: OIML R 22 (1975), of which the terms in temperature vanish at 20 °C;
//! - Tabarié's sum, read per volume (OIV-MA-AS2-03B);
//! - Balling: 2.0665 g of extract give 1 g of ethanol, 0.9565 g of carbon dioxide and 0.11 g of yeast.

use super::demo_wort::{CLOSE, demo, trial, wort_density};
use crate::brewing::{l, near, volume};

fn alcohol_density(p: f64) -> f64 {
    let coefficients = [
        998.2012300,
        -192.9769495,
        389.1238958,
        -1668.103923,
        13522.15441,
        -88292.78388,
        306287.4042,
        -613838.1234,
        747017.2998,
        -547846.1354,
        223446.0334,
        -39032.85426,
    ];
    coefficients.iter().rev().fold(0.0, |sum, a| sum * p + a) / 1000.0
}

/// Water, extract and ethanol in kilograms.
#[derive(Clone, Copy)]
struct Liquid {
    water: f64,
    extract: f64,
    ethanol: f64,
}

impl Liquid {
    fn kg(self) -> f64 {
        self.water + self.extract + self.ethanol
    }
    /// Tabarié per volume: grams in a litre of beer are grams in a litre of each of the two solutions.
    fn density(self) -> f64 {
        let mut density = 1.0;
        for _ in 0..100 {
            let litres = self.kg() / density;
            let p = trial(0.0, 0.5, |p| p * alcohol_density(p) - self.ethanol / litres);
            let w = trial(0.0, 0.8, |w| w * wort_density(w) - self.extract / litres);
            density = alcohol_density(p) - 0.9982012300 + wort_density(w);
        }
        density
    }
    fn litres(self) -> f64 {
        self.kg() / self.density()
    }
    /// What a hydrometer shows.
    fn apparent(self) -> f64 {
        let density = self.density();
        100.0 * trial(-0.05, 0.5, |w| wort_density(w) - density)
    }
    fn fermented(self, extract: f64) -> Self {
        Self {
            extract: self.extract - extract,
            ethanol: self.ethanol + extract / 2.0665,
            ..self
        }
    }
}

#[test]
fn the_demos_fermentation_is_that_of_the_hand() {
    let (_, plan) = demo();
    // 8 L of the wort ferment down to 6 °P apparent.
    let kg = 8.0 * wort_density(0.156);
    let pitched = Liquid {
        water: 0.844 * kg,
        extract: 0.156 * kg,
        ethanol: 0.0,
    };
    let consumed = trial(0.0, pitched.extract, |x| {
        6.0 - pitched.fermented(x).apparent()
    });
    let young = pitched.fermented(consumed);
    // 12 % of what is then in the vessel, so 12/88 of what was.
    let before_l = young.litres();
    let juice_l = before_l * 0.12 / 0.88;
    let juices = [
        ("sour cherry juice", 0.45, 0.135),
        ("elderberry juice", 0.25, 0.11),
        ("plum juice", 0.20, 0.143),
        ("redcurrant juice", 0.10, 0.105),
    ];
    let mut mixed = young;
    for (name, part, brix) in juices {
        near(volume(&plan, name), part * juice_l, CLOSE, name);
        let kg = part * juice_l * wort_density(brix);
        mixed.extract += kg * brix;
        mixed.water += kg * (1.0 - brix);
    }
    let (before, after) = (
        plan.predicted.before_addition.unwrap(),
        plan.predicted.after_addition.unwrap(),
    );
    near(before.plato(), 6.0, CLOSE, "before the juice");
    near(after.plato(), mixed.apparent(), 1e-7, "after the juice");
    assert!(
        after.plato() > before.plato(),
        "stronger juice raises the gravity"
    );
    // The mash ferments so far that the beer ends at the printed 3.1 °P.
    let rest = trial(0.0, mixed.extract, |x| 3.1 - mixed.fermented(x).apparent());
    let beer = mixed.fermented(rest);
    near(
        plan.predicted.final_extract.unwrap().plato(),
        3.1,
        1e-7,
        "final gravity",
    );
    let alcohol = beer.ethanol / 0.78924 / beer.litres();
    // 789.24 kg/m³ is R 22's printed density of ethanol; the crate carries a digit more.
    near(
        plan.predicted.alcohol.unwrap().fraction(),
        alcohol,
        2e-6,
        "alcohol by Balling",
    );
    assert!(
        (alcohol - 0.066).abs() < 0.0005,
        "the sheet prints 6.6 %: {alcohol}"
    );
    near(
        l(plan.volumes.after_additions),
        mixed.litres(),
        CLOSE,
        "in the vessel",
    );
    near(
        l(plan.volumes.packaged),
        beer.litres() - 0.5,
        CLOSE,
        "packaged",
    );
}
