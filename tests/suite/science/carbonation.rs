//! Carbonation, residual gas and priming against published tables and worked examples.

use uom::si::f64::{Pressure, Volume};
use uom::si::{
    mass::gram,
    pressure::{bar, psi},
    volume::liter,
};
use wortwright::quantity::{CarbonDioxide, Concentration, Temperature, uom};
use wortwright::science::carbonation::{
    Priming, PrimingSugar, air_pressure, carbon_dioxide_at, carbon_dioxide_from,
    carbon_dioxide_left, pressure_at, sealed_pressure,
};

use crate::reference::{Case, check, rows};

fn co2(grams_per_litre: f64) -> CarbonDioxide {
    CarbonDioxide::from_grams_per_litre(grams_per_litre).unwrap()
}

fn g_l(value: f64) -> Concentration {
    Concentration::from_grams_per_litre(value).unwrap()
}

fn grams(sugar: PrimingSugar, beer_l: f64, present: f64, wanted: f64) -> f64 {
    let priming = Priming {
        beer: Volume::new::<liter>(beer_l),
        present: co2(present),
        wanted: co2(wanted),
    };
    priming.mass_of(sugar).unwrap().get::<gram>()
}

#[test]
fn dissolves_what_the_trades_table_prints() {
    let table = rows("carbonation_table.csv");
    assert_eq!(table.len(), 276);
    let mut squares = 0.0;
    let mut sum = 0.0;
    let mut pressure_squares = 0.0;
    let cases: Vec<Case> = table
        .iter()
        .map(|row| {
            let at = Temperature::from_fahrenheit(row.number("temp_F")).unwrap();
            let gauge = Pressure::new::<psi>(row.number("gauge_psi"));
            let printed = row.number("published_volumes");
            let ours = carbon_dioxide_at(air_pressure() + gauge, at)
                .unwrap()
                .volumes();
            squares += (ours - printed).powi(2);
            sum += ours - printed;
            let back = pressure_at(co2(printed * 1.977), at).unwrap() - air_pressure() - gauge;
            pressure_squares += back.get::<psi>().powi(2);
            Case::new(row.place(), ours, printed, 0.0565)
        })
        .collect();
    check(cases, &[]);
    let count = 276.0_f64;
    let rms = (squares / count).sqrt();
    assert!((0.0185..0.0195).contains(&rms), "{rms}");
    assert!((sum / count).abs() < 0.002);
    // An rms of 0.019 volumes is about an eighth of a psi.
    assert!((pressure_squares / count).sqrt() < 0.2);
}

#[test]
fn leaves_what_was_measured_after_fermentation() {
    let table = rows("carbonation_residual.csv");
    check(
        table.iter().flat_map(|row| {
            let at = Temperature::from_celsius(row.number("temp_C")).unwrap();
            let left = carbon_dioxide_left(at).unwrap().volumes();
            let air = carbon_dioxide_at(air_pressure(), at).unwrap().volumes();
            let place = row.place();
            [
                Case::new(
                    format!("{place} table"),
                    left,
                    row.number("published_volumes_1996"),
                    0.02,
                ),
                Case::new(
                    format!("{place} formula"),
                    left,
                    row.number("quadratic_volumes"),
                    5.1e-5,
                ),
                Case::new(
                    format!("{place} air"),
                    air,
                    row.number("fit_A_at_0_gauge"),
                    5.1e-5,
                ),
            ]
        }),
        &[],
    );
}

#[test]
fn sugar_gives_what_stoichiometry_says() {
    let sugars = [
        ("glucose anhydrous", PrimingSugar::Glucose),
        ("glucose monohydrate", PrimingSugar::GlucoseMonohydrate),
        ("sucrose", PrimingSugar::Sucrose),
        ("balling (extract 2.0665 g)", PrimingSugar::Extract),
    ];
    let table = rows("carbonation_priming.csv");
    check(
        sugars.iter().flat_map(|(name, sugar)| {
            let row = table.iter().find(|row| row.text("sugar") == *name).unwrap();
            let gas = carbon_dioxide_from(*sugar, g_l(10.0)).unwrap();
            // The table's litre of gas: 44.0095 g/mol by 22.262 L/mol.
            let per_volume = grams(*sugar, 1.0, 0.0, 44.0095 / 22.262);
            [
                Case::new(
                    *name,
                    gas.grams_per_litre() / 10.0,
                    row.number("g_CO2_per_g"),
                    1e-5,
                ),
                Case::new(
                    *name,
                    per_volume,
                    row.number("g_sugar_per_L_per_volume_CO2"),
                    1e-4,
                ),
            ]
        }),
        &[],
    );
}

#[test]
fn worked_examples_of_priming_come_out() {
    // G1: 23 L from 0.9 to 2.4 volumes, 140 g printed, 138 by its rule of 4 g/L; stoichiometry is 1.2 % above the rule.
    let g1 = grams(PrimingSugar::Glucose, 23.0, 0.9 * 1.977, 2.4 * 1.977);
    // G4: 20 L, 3 g/L at 2.16 g of sugar for a gram of gas, 130 g printed: the figure for extract.
    let g4 = grams(PrimingSugar::Extract, 20.0, 0.0, 3.0);
    // The same by the stoichiometry of glucose, as recomputed beside it.
    let g4_glucose = grams(PrimingSugar::Glucose, 20.0, 0.0, 3.0);
    // G2: 20 L from 3.2 to 5.2 g/L, 40 g of gas: the sugar for it gives it back.
    let g2_sugar = grams(PrimingSugar::Sucrose, 20.0, 3.2, 5.2);
    let g2 = carbon_dioxide_from(PrimingSugar::Sucrose, g_l(g2_sugar / 20.0)).unwrap();
    // G3: 3.7 g/L of glucose for a volume, printed as stoichiometry. It counts the volume at 20 °C; 0.35 g/L too little.
    let g3 = grams(PrimingSugar::Glucose, 1.0, 0.0, 1.977);
    check(
        [
            Case::new("G1", g1, 140.0, 2.0),
            Case::new("G2", 20.0 * g2.grams_per_litre(), 40.0, 1e-9),
            Case::new("G3", g3, 3.7, 0.05),
            Case::new("G4", g4, 130.0, 0.5),
            Case::new("G4 by glucose", g4_glucose, 122.8, 0.05),
        ],
        &["G3"],
    );
    assert!((g3 - 4.046).abs() < 0.001);
}

#[test]
fn sugar_left_bursts_bottles_as_computed_elsewhere() {
    let table = rows("carbonation_overpressure.csv");
    check(
        table.iter().flat_map(|row| {
            let present = co2(0.88 * 1.977);
            let sugar = g_l(row.number("unfermented_sugar_g_L_sucrose_eq"));
            let made = carbon_dioxide_from(PrimingSugar::Sucrose, sugar).unwrap();
            [("5", 5.0), ("20", 20.0), ("30", 30.0), ("40", 40.0)].map(|(name, celsius)| {
                let at = Temperature::from_celsius(celsius).unwrap();
                let gauge = sealed_pressure(present, made, at).unwrap() - air_pressure();
                let printed = row.number(&format!("gauge_bar_{name}C"));
                Case::new(
                    format!("{} {name}", row.place()),
                    gauge.get::<bar>(),
                    printed,
                    2e-3,
                )
            })
        }),
        &[],
    );
}
