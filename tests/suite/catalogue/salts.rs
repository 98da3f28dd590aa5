//! Salts and acids, computed again from their formulae.
//!
//! Atomic weights: IUPAC, Standard atomic weights of the elements 2021 (Pure Appl. Chem. 2022, 94, 573), abridged to
//! five figures.

use wortwright::catalogue::*;

static BUILT_IN: Catalogue = Catalogue::builtin();

fn atomic_weight(element: &str) -> f64 {
    match element {
        "H" => 1.0080,
        "C" => 12.011,
        "N" => 14.007,
        "O" => 15.999,
        "Na" => 22.990,
        "Mg" => 24.305,
        "P" => 30.974,
        "S" => 32.06,
        "Cl" => 35.45,
        "K" => 39.098,
        "Ca" => 40.078,
        "Zn" => 65.38,
        _ => panic!("no atomic weight for {element}"),
    }
}

/// Atoms in a formula such as `CaCl2·2H2O` or `(NH4)2SO4`, as (element, count).
fn atoms(formula: &str) -> Vec<(String, f64)> {
    let mut found = Vec::new();
    for (part, text) in formula.split('·').enumerate() {
        let digits = text.len()
            - text
                .trim_start_matches(|c: char| c.is_ascii_digit() || c == '.')
                .len();
        let times = if part > 0 && digits > 0 {
            text[..digits].parse().unwrap()
        } else {
            1.0
        };
        let letters: Vec<char> = text[if part > 0 { digits } else { 0 }..].chars().collect();
        let mut group_start = 0;
        let mut at = 0;
        while at < letters.len() {
            let c = letters[at];
            at += 1;
            if c == '(' {
                group_start = found.len();
                continue;
            }
            let mut element = c.to_string();
            if c.is_ascii_uppercase() && letters.get(at).is_some_and(char::is_ascii_lowercase) {
                element.push(letters[at]);
                at += 1;
            }
            let mut count = String::new();
            while letters.get(at).is_some_and(char::is_ascii_digit) {
                count.push(letters[at]);
                at += 1;
            }
            let count: f64 = if count.is_empty() {
                1.0
            } else {
                count.parse().unwrap()
            };
            if c == ')' {
                for (_, number) in &mut found[group_start..] {
                    *number *= count;
                }
            } else {
                found.push((element, count * times));
            }
        }
    }
    found
}

fn count(formula: &str, element: &str) -> f64 {
    atoms(formula)
        .iter()
        .filter(|(e, _)| e == element)
        .map(|(_, n)| n)
        .sum()
}

fn mass(formula: &str) -> f64 {
    atoms(formula)
        .iter()
        .map(|(element, number)| number * atomic_weight(element))
        .sum()
}

#[test]
fn formulae_are_counted() {
    assert!((mass("CaCl2·2H2O") - (40.078 + 2.0 * 35.45 + 2.0 * 18.015)).abs() < 1e-9);
    assert!((count("(NH4)2HPO4", "H") - 9.0).abs() < 1e-12);
    assert!((count("CaSO4·0.5H2O", "O") - 4.5).abs() < 1e-12);
}

#[test]
fn molar_masses_follow_from_atomic_weights() {
    let mut rows = 0;
    for row in BUILT_IN.water_agents() {
        let computed = mass(&row.formula);
        let told = row.molar_mass.unwrap().grams_per_mole();
        // Printed to three decimals.
        assert!(
            (computed - told).abs() < 0.00051,
            "{}: {computed} {told}",
            row.name
        );
        rows += 1;
    }
    assert_eq!(rows, 51);
}

/// Ions that a mole brings, from the formula alone.
fn moles_of_ions(row: &WaterAgent) -> [f64; 10] {
    let formula = row.formula.as_ref();
    let of = |element| count(formula, element);
    let sulphur = of("S");
    let sulphite = row.usage == Some(WaterAgentUse::Sulphite) || formula == "H2SO3";
    let bicarbonate = if formula.ends_with("HCO3") {
        1.0
    } else if formula.ends_with("CO3") && formula != "H2CO3" {
        2.0
    } else {
        0.0
    };
    [
        of("Ca"),
        of("Mg"),
        of("Na"),
        of("K"),
        if sulphite { 0.0 } else { sulphur },
        of("Cl"),
        bicarbonate,
        of("Zn"),
        of("N"),
        if row.usage == Some(WaterAgentUse::Sulphite) {
            sulphur
        } else {
            0.0
        },
    ]
}

fn yields(row: &WaterAgent) -> [f64; 10] {
    let ions = row.ions.unwrap();
    [
        ions.calcium,
        ions.magnesium,
        ions.sodium,
        ions.potassium,
        ions.sulphate,
        ions.chloride,
        ions.bicarbonate,
        ions.zinc,
        ions.ammonium_nitrogen,
        ions.sulphur_dioxide,
    ]
    .map(|ion| ion.map_or(0.0, IonYield::milligrams_per_gram))
}

const IONS: [&str; 10] = ["Ca", "Mg", "Na", "K", "SO4", "Cl", "HCO3", "Zn", "N", "SO2"];

#[test]
fn ion_yields_follow_from_the_formula() {
    for row in BUILT_IN.water_agents() {
        let strength = row.strength.unwrap().fraction();
        for ((told, moles), ion) in yields(row).into_iter().zip(moles_of_ions(row)).zip(IONS) {
            let computed = 1000.0 * strength * moles * mass(ion) / mass(&row.formula);
            // Printed to a tenth of a milligram.
            assert!(
                (told - computed).abs() < 0.11,
                "{} {ion}: {told} {computed}",
                row.name
            );
        }
    }
}

#[test]
fn charges_of_ions_balance() {
    const CHARGES: [f64; 10] = [2.0, 2.0, 1.0, 1.0, -2.0, -1.0, -1.0, 2.0, 1.0, -1.0];
    let mut balanced = 0;
    for row in BUILT_IN.water_agents() {
        // Phosphate, sorbate and tartrate have no column, so that their cations stand alone.
        if [
            "diammonium phosphate",
            "potassium sorbate",
            "potassium hydrogen tartrate",
        ]
        .contains(&row.name.as_ref())
        {
            continue;
        }
        let charge: f64 = yields(row)
            .iter()
            .zip(IONS)
            .zip(CHARGES)
            .map(|((mg, ion), charge)| mg * charge / mass(ion))
            .sum();
        // What a hydroxide or strong acid brings besides stands as alkalinity and acidity.
        let besides = if row.formula.contains("OH") {
            -row.alkalinity.unwrap().milliequivalents_per_gram()
        } else if row.usage == Some(WaterAgentUse::Acid) && yields(row).iter().any(|mg| *mg > 0.0) {
            row.acidity_at_ph_5_4.unwrap().milliequivalents_per_gram()
        } else {
            0.0
        };
        // Sixteen milliequivalents a gram, printed to three or four figures.
        assert!(
            (charge + besides).abs() < 0.015,
            "{}: {charge} {besides}",
            row.name
        );
        balanced += 1;
    }
    assert_eq!(balanced, 48);
}

#[test]
fn alkalinity_is_that_of_the_anion() {
    for row in BUILT_IN.water_agents() {
        let Some(told) = row.alkalinity else { continue };
        let moles = moles_of_ions(row)[6]
            + count(&row.formula, "O") * f64::from(row.formula.contains("OH"));
        let computed = 1000.0 * moles / mass(&row.formula);
        let told = told.milliequivalents_per_gram();
        assert!(
            (told / computed - 1.0).abs() < 0.001,
            "{}: {told} {computed}",
            row.name
        );
    }
}

#[test]
fn acids_give_up_the_protons_that_their_constants_say() {
    let mut acids = 0;
    for row in BUILT_IN
        .water_agents()
        .filter(|row| row.usage == Some(WaterAgentUse::Acid))
    {
        let groups = [row.pk1, row.pk2, row.pk3];
        // Shares of the acid with 0, 1, 2, 3 protons given up, relative to none.
        let (mut share, mut sum, mut given) = (1.0, 1.0, 0.0);
        for (group, pk) in groups.into_iter().flatten().enumerate() {
            share *= 10_f64.powf(5.4 - pk.pk());
            sum += share;
            given += share * (group + 1) as f64;
        }
        let computed = 1000.0 * row.strength.unwrap().fraction() * given / sum / mass(&row.formula);
        let told = row.acidity_at_ph_5_4.unwrap().milliequivalents_per_gram();
        // Printed to a hundredth.
        assert!(
            (told - computed).abs() < 0.0065 + 0.0005 * computed,
            "{}: {told} {computed}",
            row.name
        );
        acids += 1;
    }
    assert_eq!(acids, 20);
}
