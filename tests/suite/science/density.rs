//! Density of water and sugar solutions, and gravity, against published tables.

use uom::si::mass_density::kilogram_per_cubic_meter;
use wortwright::quantity::{Extract, MassDensity, SpecificGravity, Temperature, uom};
use wortwright::science::density::{
    Weighing, extract_from_density, extract_of, extract_weighed, gravity_of, gravity_weighed,
    sucrose_solution, water,
};

use crate::reference::{Case, check, rows};

fn celsius(value: f64) -> Temperature {
    Temperature::from_celsius(value).unwrap()
}

fn sucrose(percent: f64, temperature: f64) -> f64 {
    let extract = Extract::from_plato(percent).unwrap();
    sucrose_solution(extract, celsius(temperature))
        .unwrap()
        .get::<kilogram_per_cubic_meter>()
}

fn percent_at(density: f64, temperature: f64) -> f64 {
    let density = MassDensity::new::<kilogram_per_cubic_meter>(density);
    extract_from_density(density, celsius(temperature))
        .unwrap()
        .plato()
}

#[test]
fn water_is_kells() {
    check(
        rows("water_density.csv").iter().flat_map(|row| {
            let t = row.number("temperature_C");
            let ours = water(celsius(t)).unwrap().get::<kilogram_per_cubic_meter>();
            let far = match t {
                ..=60.0 => 0.004,
                ..=100.0 => 0.016,
                _ => 0.036,
            };
            [
                Case::new(row.place(), ours, row.number("kell1975"), 5.1e-5),
                Case::new(row.place(), ours, row.number("iapws95"), far),
            ]
        }),
        &[],
    );
    // The misprinted denominator would be 0.27 kg/m³ off at 20 °C.
    assert!((sucrose(0.0, 20.0) - 998.2041).abs() < 0.002);
}

#[test]
fn a_solution_without_sugar_is_its_own_water() {
    check(
        rows("water_density.csv")
            .iter()
            .filter(|row| row.number("temperature_C") <= 100.0)
            .map(|row| {
                let ours = sucrose(0.0, row.number("temperature_C"));
                Case::new(row.place(), ours, row.number("kell_its90"), 5.1e-5)
            }),
        &[],
    );
}

#[test]
fn sugar_solutions_are_icumsas() {
    check(
        rows("sucrose_icumsa.csv").iter().flat_map(|row| {
            let t = row.number("temperature_C");
            let percent = 100.0 * row.number("mass_fraction");
            let density = row.number("density_kg_m3");
            let ours = sucrose(percent, t);
            [
                Case::new(row.place(), ours, density, 5.1e-5),
                Case::new(
                    row.place(),
                    ours / sucrose(0.0, t),
                    row.number("relative_density_t_t"),
                    5.1e-7,
                ),
                // 5e-5 kg/m³ of the printed density is 1.6e-5 °P.
                Case::new(row.place(), percent_at(density, t), percent, 2e-5),
            ]
        }),
        &[],
    );
}

#[test]
fn sugar_solutions_are_near_the_published_tables() {
    let grams_per_ml = |ratio: f64, t: f64| {
        let density = ratio * sucrose(0.0, t);
        density * percent_at(density, t) / 1e5
    };
    check(
        rows("sucrose_published.csv").iter().map(|row| {
            let key = row.number("key");
            let t = row.number("temperature_C");
            let source = row.text("source");
            let (ours, tolerance) = match source {
                "UMK" => (sucrose(key, t), 0.07),
                "CRC" => (sucrose(key, t), 0.1),
                "GERLACH" => (sucrose(key, t) / sucrose(0.0, t), 0.00032),
                // Pounds in a US gallon in air of 1.2 kg/m³ against brass of 8400 kg/m³.
                "CHEN/NBS440" => {
                    let in_air = (sucrose(key, t) - 1.2) / (1.0 - 1.2 / 8400.0);
                    (in_air * 3.785411784e-3 / 0.45359237, 0.0009)
                }
                "TAB19" => (100.0 * grams_per_ml(key, t), 0.011),
                "GOST14251" => (100.0 * grams_per_ml(key, t), 0.022),
                "GOST51620" => (1000.0 * grams_per_ml(key, t), 0.13),
                other => panic!("{}: {other}", row.place()),
            };
            let name = format!("{source} {key} at {t}");
            Case::new(name, ours, row.number("published"), tolerance)
        }),
        // Misprint: the neighbours and the table's own g/L column give 1146.34.
        &["UMK 34 at 20"],
    );
}

#[test]
fn gravity_follows_the_brewing_tables() {
    check(
        rows("gravity_tables.csv")
            .iter()
            .filter(|row| row.number("plato") <= 30.0)
            .map(|row| {
                let plato = row.number("plato");
                let gravity = row.number("gravity");
                let ours = match row.text("weighing") {
                    "air" => SpecificGravity::from_ratio(gravity).map(extract_of),
                    _ => SpecificGravity::from_ratio(gravity)
                        .map(|g| extract_weighed(g, Weighing::InVacuum)),
                };
                let name = format!("{} {plato}", row.text("table"));
                Case::new(name, ours.unwrap().plato(), plato, 0.02)
            }),
        // Misprint: a density among ratios.
        &["handbook 5"],
    );
}

#[test]
fn the_limit_of_the_nbs_table_is_met_nearly() {
    // 40 °P is 1.17874 in air; ICUMSA is 0.00011 denser there.
    let ours = gravity_of(Extract::from_plato(40.0).unwrap()).ratio();
    assert!((ours - 1.17874).abs() < 1.2e-4);
}

#[test]
fn degrees_plato_agree_with_a_professional_examination() {
    let plato = |gravity| extract_of(SpecificGravity::from_ratio(gravity).unwrap()).plato();
    check(
        [
            Case::new("1.062", plato(1.062), 15.14, 0.02),
            Case::new("1.055", plato(1.055), 13.54, 0.02),
            // Plato 1900 in air at whole degrees, for scale.
            Case::new("1.06111", plato(1.06111), 15.0, 0.02),
        ],
        // Study cards. The first is from a cubic that is 0.06 °P below the NBS and ASBC ones; the second is neither
        // that cubic (13.514) nor the ASBC one (13.570). Ours: 15.199 and 13.563.
        &["1.062", "1.055"],
    );
    assert!((plato(1.062) - 15.199).abs() < 0.001);
    assert!((plato(1.055) - 13.563).abs() < 0.001);
}

mod laws {
    use super::*;
    use proptest::prelude::*;

    const BOTH: [Weighing; 2] = [Weighing::InAir, Weighing::InVacuum];

    proptest! {
        #[test]
        fn gravity_and_extract_are_inverse(plato in -20.0..100.0_f64) {
            let extract = Extract::from_plato(plato).unwrap();
            for weighing in BOTH {
                let back = extract_weighed(gravity_weighed(extract, weighing), weighing).plato();
                prop_assert!((back - plato).abs() < 1e-10);
            }
        }

        #[test]
        fn extract_and_gravity_are_inverse(ratio in 0.93..1.55_f64) {
            let gravity = SpecificGravity::from_ratio(ratio).unwrap();
            for weighing in BOTH {
                let back = gravity_weighed(extract_weighed(gravity, weighing), weighing).ratio();
                prop_assert!((back - ratio).abs() < 1e-12);
                // A ratio of weights: in air, 1.2 kg/m³ lifts both liquids.
                let air = if weighing == Weighing::InAir { 1.2 } else { 0.0 };
                let density = ratio * (sucrose(0.0, 20.0) - air) + air;
                let plato = extract_weighed(gravity, weighing).plato();
                if (-8.0..=85.0).contains(&plato) {
                    prop_assert!((percent_at(density, 20.0) - plato).abs() < 1e-10);
                }
            }
        }

        #[test]
        fn gravity_rises_with_extract(plato in -20.0..99.9_f64, more in 0.001..0.1_f64) {
            for weighing in BOTH {
                let at = |p| gravity_weighed(Extract::from_plato(p).unwrap(), weighing);
                prop_assert!(at(plato + more) > at(plato));
            }
        }

        #[test]
        fn density_and_extract_are_inverse(plato in -8.0..85.0_f64, t in 0.0..100.0_f64) {
            prop_assert!((percent_at(sucrose(plato, t), t) - plato).abs() < 1e-10);
        }

        #[test]
        fn wort_expands_with_heat(plato in 0.0..40.0_f64, t in 5.0..99.0_f64) {
            prop_assert!(sucrose(plato, t) > sucrose(plato, t + 1.0));
        }
    }
}
