//! Ethanol and water against OIML R 22 and other published figures.

use uom::si::mass_density::kilogram_per_cubic_meter;
use wortwright::quantity::{AlcoholByMass, AlcoholByVolume, Temperature, uom};
use wortwright::science::ethanol;

use crate::reference::{Case, check, crossing, rows};

fn density(percent: f64, celsius: f64) -> f64 {
    let alcohol = AlcoholByMass::from_percent(percent).unwrap();
    ethanol::density(alcohol, Temperature::from_celsius(celsius).unwrap())
        .unwrap()
        .get::<kilogram_per_cubic_meter>()
}

/// Mass per cent of the mixture of this density; the crate needs no such call itself.
fn percent_at(aim: f64, celsius: f64) -> f64 {
    crossing(|p| density(p, celsius) - aim, 0.0, 100.0)
}

#[test]
fn density_is_that_of_the_alcoholometric_tables() {
    check(
        rows("ethanol_r22.csv").iter().flat_map(|row| {
            let percent = 100.0 * row.number("mass_fraction");
            let alcohol = AlcoholByMass::from_percent(percent).unwrap();
            let ours = density(percent, row.number("temperature_C"));
            let strength = ethanol::volume_strength(alcohol).percent();
            [
                Case::new(row.place(), ours, row.number("density_kg_m3"), 5.1e-5),
                Case::new(row.place(), strength, row.number("abv_percent_20C"), 5.1e-5),
            ]
        }),
        &[],
    );
}

#[test]
fn strength_by_mass_is_that_of_the_alcoholometric_tables() {
    check(
        rows("ethanol_strength.csv").iter().flat_map(|row| {
            let strength = AlcoholByVolume::from_percent(row.number("abv_percent")).unwrap();
            let mass = ethanol::mass_strength(strength).percent();
            [
                Case::new(row.place(), mass, row.number("mass_percent"), 5.1e-6),
                Case::new(
                    row.place(),
                    density(mass, 20.0),
                    row.number("density_kg_m3"),
                    5.1e-5,
                ),
            ]
        }),
        &[],
    );
}

#[test]
fn density_is_near_other_published_figures() {
    check(
        rows("ethanol_published.csv").iter().map(|row| {
            let key = row.number("key");
            let t = row.number("temperature_C");
            let (ours, tolerance) = match (row.text("source"), row.text("quantity")) {
                ("PERRY", _) => (density(key, t), 0.06),
                ("GOST12787", _) => (percent_at(key * density(0.0, t), t), 0.022),
                ("OIML-ERRATUM" | "RANGE-LIMIT", _) => (density(key, t), 0.005),
                ("CODE-EXAMPLE", "density_kg_m3") => (density(key, t), 5e-6),
                ("CODE-EXAMPLE", _) => (percent_at(key, t), 5e-6),
                ("ROUNDED", _) => (density(key, t), 0.5),
                other => panic!("{}: {other:?}", row.place()),
            };
            Case::new(row.place(), ours, row.number("published"), tolerance)
        }),
        &[],
    );
}

mod laws {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn strengths_are_inverse(fraction in 0.0..=1.0_f64) {
            let volume = AlcoholByVolume::from_fraction(fraction).unwrap();
            let back = ethanol::volume_strength(ethanol::mass_strength(volume)).fraction();
            // The twelve terms of the formula are up to 7e5 kg/m³ and cancel: 2e-13 of the density is rounding.
            prop_assert!((back - fraction).abs() < 1e-12);
        }

        #[test]
        fn volume_strength_rises_with_mass_strength(percent in 0.0..99.9_f64, more in 0.001..0.1_f64) {
            let at = |p| ethanol::volume_strength(AlcoholByMass::from_percent(p).unwrap());
            prop_assert!(at(percent + more) > at(percent));
        }
    }
}
