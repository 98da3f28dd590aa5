//! The ledger of a log: by hand, against published mixtures, by its laws, and in the face of impossible logs.

use uom::si::f64::{Mass, Volume};
use uom::si::{mass::gram, mass::kilogram, volume::liter};
use wortwright::ledger::{Basis, LedgerOptions};
use wortwright::quantity::{AlcoholByVolume, Attenuation, Fermentability, uom};
use wortwright::recipe::{ExtractBasis, Instrument, LogEntry, LogEvent, LogReading, StatedExtract};
use wortwright::science::density::{Weighing, gravity_of, sucrose_solution};
use wortwright::science::ethanol;
use wortwright::science::liquid::Liquid;
use wortwright::speech::{Speaks, Style};

use super::entries::{
    abv, fermented, juice, kilograms_of, ledger, ledger_with, litres_of, log, of, on_day, pitched,
    plato, read, read_with, sugar,
};
use crate::reference::{Case, check, rows};
use wortwright_tests::fixtures::DEMO_LOG;

#[test]
fn water_and_juice_are_those_of_the_hand() {
    // 10 L of water, 9.98203 kg; 10 L of juice at 12 Bx, 1046.444 kg/m³: 10.46444 kg, 1.255733 kg of sugar. It gives
    // 1.255733/2.0665 = 0.607662 kg of ethanol in 9.98203 + 9.208707 + 0.607662 = 19.798399 kg: 3.06925 % by mass.
    let ledger = of([pitched(10.0, 0.0), litres_of(10.0, juice(12.0))]);
    assert_eq!(ledger.basis, Basis::Predicted);
    assert!((ledger.alcohol.by_mass.percent() - 3.06925).abs() < 1e-4);
    assert!(ledger.alcohol.real_extract.plato().abs() < 1e-9);
    // 6.0 % of sugar in the mixture: 1.255733/20.44647.
    assert!((ledger.alcohol.equivalent_original.plato() - 6.1416).abs() < 1e-3);
    // 0.607662 kg in 20 L less what contraction and fermentation take: 30.6 g/L, 7 kcal each.
    assert!((ledger.alcohol.energy_kcal_per_100_ml - 7.0 * 3.06925 * 0.9929).abs() < 0.05);
}

#[test]
fn juice_in_the_middle_is_that_of_the_hand() {
    // 8.3 L of 15.7 P, at 8.0 P when 0.98 L of 13 Bx goes in, finished at 3.0 P.
    let entries = [
        pitched(8.3, 15.7),
        read(8.0),
        litres_of(0.98, juice(13.0)),
        read(3.0),
    ];
    let ledger = of(entries);
    // Extract that went in: 8.3 × 1.06422 × 0.157 = 1.3868 kg and 0.98 × 1.05069 × 0.13 = 0.13386 kg in 9.8627 kg.
    assert!((ledger.alcohol.equivalent_original.plato() - 15.418).abs() < 0.01);
    // As if it had been one wort of that extract.
    let one = fermented(ledger.alcohol.equivalent_original, plato(3.0));
    assert!((abv(&ledger) - one.alcohol_by_volume().percent()).abs() < 1e-9);
    assert!(ledger.steps[2].shown > ledger.steps[1].shown);
    let ignored = ledger.shortcuts[0];
    assert!((ignored.error_pct - (ignored.alcohol.percent() - abv(&ledger))).abs() < 1e-12);
    // Two readings of ±0.001 are ±0.186 (0.131 each), with ±0.10 of the formula ±0.211; what the juice adds is small beside that.
    let off = ledger.alcohol.uncertainty.percent();
    assert!((off - 0.211).abs() < 0.02, "{off}");
}

#[test]
fn a_stronger_addition_makes_the_short_way_wrong() {
    // 2 L of concentrate at 65 Bx into 20 L of 12 P: gravity at pitching knows nothing of it.
    let ledger = of([
        pitched(20.0, 12.0),
        read(3.0),
        litres_of(2.0, juice(65.0)),
        read(2.0),
    ]);
    let errors: Vec<f64> = ledger.shortcuts.iter().map(|s| s.error_pct).collect();
    // By hand: 1.71 kg of sugar are 0.83 kg of ethanol, 1.05 L in 22 L or 4.7 %; the fall of the gravity sees 1 % of that, and the volume
    // thins the rest by a tenth, 0.5 %: some 3 % too low.
    assert!((-3.8..-2.4).contains(&errors[0]), "{errors:?}");
    // Blended gravities see the sugar. What is left is that 131.25 suits beers of 4 to 5 %: at 9 % it lies half a per cent low.
    assert!(errors[1].abs() < 0.6, "{errors:?}");
}

/// A beer of 20 L and such a strength, as two lines of a log.
fn beer_of(litres: f64, alcohol: f64) -> [LogEntry; 2] {
    // Bisection on the extract of a wort that ends at 2 °P: a hundred halvings leave nothing of the interval.
    let (mut low, mut high) = (2.0, 40.0);
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        let beer = fermented(plato(middle), plato(2.0));
        if beer.alcohol_by_volume().percent() < alcohol {
            low = middle;
        } else {
            high = middle;
        }
    }
    let shrunk = of([pitched(1.0, low), read(2.0)]).steps[1]
        .volume
        .get::<liter>();
    [pitched(litres / shrunk, low), read(2.0)]
}

/// Brix of a solution with so many grams in a litre.
fn brix_of(grams_per_litre: f64) -> f64 {
    let (mut low, mut high) = (0.0, 85.0);
    let at_20 = wortwright::quantity::Temperature::from_celsius(20.0).unwrap();
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        let density = sucrose_solution(plato(middle), at_20).unwrap();
        let held =
            density.get::<uom::si::mass_density::kilogram_per_cubic_meter>() * middle / 100.0;
        if held < grams_per_litre {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

#[test]
fn mixtures_follow_the_wine_convention() {
    let none =
        LedgerOptions::default().with_wort_attenuation(Attenuation::from_fraction(0.0).unwrap());
    let table = rows("staged_mixtures.csv");
    check(
        table.iter().flat_map(|row| {
            let (v1, v2) = (row.number("V1_L"), row.number("V2_L"));
            let (hexose_g_l, dry_kg) = (
                row.number("sugar2_g_L_hexose"),
                row.number("dry_sucrose_kg_at_start_hexose_x1.0526"),
            );
            let strength = row.number("abv1_pct");
            let mut entries: Vec<LogEntry> = if strength > 0.0 {
                beer_of(v1, strength).into()
            } else {
                vec![pitched(v1, 0.0)]
            };
            if v2 > 0.0 {
                entries.push(litres_of(v2, juice(brix_of(hexose_g_l))));
            }
            if dry_kg > 0.0 {
                entries.push(kilograms_of(dry_kg, sugar()));
            }
            let ours = abv(&ledger_with(&log(entries), none).unwrap());
            let published = row.number("abv_final_pct");
            let (sugar_g, hexose_g) = (
                v2 * hexose_g_l + 1000.0 * dry_kg,
                v2 * hexose_g_l + 1052.6 * dry_kg,
            );
            let convention =
                (sugar_g / 16.310 - hexose_g / 16.83) / row.number("V_final_L_additive");
            let name = row.text("case_constructed");
            [
                Case::new(format!("{name} as printed"), ours, published, 0.02),
                Case::new(
                    format!("{name} by one convention"),
                    ours - convention,
                    published,
                    0.06,
                ),
            ]
        }),
        &[
            "juice as printed",
            "concentrate as printed",
            "sucrose dry as printed",
            "juice+sucrose as printed",
            "wort-free water + juice as printed",
        ],
    );
}

#[test]
fn alcohol_from_sugar_agrees_with_worked_examples() {
    let table = rows("staged_sugar_to_alcohol.csv");
    let pct = |grams_per_litre: f64| {
        let wort = Liquid::wort(Volume::new::<liter>(1.0), plato(brix_of(grams_per_litre)));
        let beer = wort
            .unwrap()
            .fermented(Fermentability::from_fraction(1.0).unwrap());
        beer.ethanol().get::<gram>() / 7.8924
    };
    let cases = table.iter().map(|row| {
        let ours = pct(row.number("sugar_g_L_hexose"));
        Case::new(
            row.place(),
            ours,
            row.number("pct_vol_balling_if_extract"),
            1.1e-4,
        )
    });
    // S7: 3.4 kg of sucrose in 100 L, 2 % vol by the 17 g/L of the source; Balling's 16.31 gives 0.085 more.
    check(
        cases.chain([Case::new("S7", pct(34.0), 2.0, 0.05)]),
        &["S7"],
    );
    assert!((pct(34.0) - 2.085).abs() < 0.001);

    // S1: 77.4 parts of 12 Brix and 22.6 of 65, by mass, make 24 Brix.
    let mut syrup = sugar();
    syrup.facts.extract = Some(StatedExtract::new(
        "65 %".parse().unwrap(),
        ExtractBasis::AsIs,
    ));
    let wort = Liquid::wort(Volume::new::<liter>(1.0), plato(12.0)).unwrap();
    let wort_l = 77.4 / wort.mass().get::<kilogram>();
    let mixed = of([pitched(wort_l, 12.0), kilograms_of(22.6, syrup)]);
    // S2 and S3: 20 parts of 15 % and 5 of 40 % make 20 %; 82.85 of 9.1 % and 45.15 of 40 % as well. Contraction, which the
    // sources neglect, makes it up to 0.1 % more.
    let blend = |parts: [(f64, f64); 2]| {
        let mut masses = [0.0, 0.0];
        for (litres, percent) in parts {
            let strength = AlcoholByVolume::from_percent(percent).unwrap();
            let by_mass = ethanol::mass_strength(strength);
            let at_20 = wortwright::quantity::Temperature::from_celsius(20.0).unwrap();
            let density = ethanol::density(by_mass, at_20).unwrap();
            let mass_kg =
                litres / 1000.0 * density.get::<uom::si::mass_density::kilogram_per_cubic_meter>();
            masses[0] += mass_kg * (1.0 - by_mass.fraction());
            masses[1] += mass_kg * by_mass.fraction();
        }
        let kg = Mass::new::<kilogram>;
        let blend = Liquid::new(kg(masses[0]), kg(0.0), kg(masses[1])).unwrap();
        blend.alcohol_by_volume().percent()
    };
    check(
        [
            Case::new("S1", mixed.steps[1].shown.plato(), 24.0, 0.03),
            Case::new("S2", blend([(20.0, 15.0), (5.0, 40.0)]), 20.0, 0.15),
            Case::new("S3", blend([(82.85, 9.1), (45.15, 40.0)]), 20.0, 0.3),
        ],
        &[],
    );
}

#[test]
fn warm_readings_and_refractometers_are_undone() {
    let mut warm = LogReading::new(plato(3.0).into());
    warm.temperature = Some("30 C".parse().unwrap());
    let warm = LogEntry::undated(LogEvent::Reading(warm));
    let ledger = of([pitched(20.0, 12.0), warm]);
    // 3 °P at 30 °C is about 0.6 °P too low.
    assert!((ledger.steps[1].shown.plato() - 3.62).abs() < 0.05);
    // Terrill's check: 12 down to 6 °Bx (6.24 with a factor of 1.04) is 1.01068.
    let optical = of([
        pitched(20.0, 12.0),
        read_with(Instrument::Refractometer, 6.24),
    ]);
    assert!((optical.steps[1].shown_gravity.ratio() - 1.01068).abs() < 1e-5);
    // After juice the reading is undone with everything together: 15.418 °P, not 15.7.
    let entries = [pitched(8.3, 15.7), read(8.0), litres_of(0.98, juice(13.0))];
    let last = read_with(Instrument::Refractometer, 7.9);
    let staged = of(entries.into_iter().chain([last]));
    let expected = 1.0 - 0.00085683 * 15.418 + 0.0034941 * 7.9 / 1.04;
    assert!((staged.steps[3].shown_gravity.ratio() - expected).abs() < 2e-5);
    assert!(staged.alcohol.uncertainty.percent() > ledger.alcohol.uncertainty.percent());
}

#[test]
fn speaks_as_the_exchange_names_it() {
    let ledger = of([
        on_day(0.0, pitched(20.0, 12.0)),
        read(3.0),
        litres_of(2.0, juice(13.0)),
        read(2.0),
    ]);
    let json = serde_json::to_value(&ledger).unwrap();
    for name in [
        "abv_pct",
        "abv_uncertainty_pct",
        "abw_pct",
        "real_extract_plato",
        "equivalent_original_plato",
        "apparent_attenuation_pct",
        "real_attenuation_pct",
        "energy_kcal_per_100_ml",
    ] {
        assert!(json["alcohol"][name].is_number(), "{name}");
    }
    for name in [
        "volume_l",
        "extract_kg",
        "ethanol_kg",
        "shown_sg",
        "shown_plato",
    ] {
        assert!(json["steps"][3][name].is_number(), "{name}");
    }
    assert_eq!(json["steps"][0]["on_day"], 0.0);
    assert_eq!(json["steps"][2]["what"], "added");
    assert_eq!(json["shortcuts"][1]["code"], "gravities_blended");
}

#[test]
fn a_gravity_of_air_is_the_one_shown() {
    let ledger = of([pitched(20.0, 12.0)]);
    let shown = ledger.steps[0].shown_gravity;
    assert_eq!(shown, gravity_of(ledger.steps[0].shown));
    assert_eq!(
        shown,
        wortwright::science::density::gravity_weighed(plato(12.0), Weighing::InAir)
    );
}

#[test]
fn what_readings_can_be_off_by_reaches_the_alcohol() {
    // Two hydrometer readings of ±0.001 at 131.25 % by volume for a fall by one (common practice): 0.131 times the root of two, beside
    // ±0.10 of the formula. The volume does not count while nothing is added.
    let plain = of([pitched(20.0, 12.0), read(3.0)]);
    let off = plain.alcohol.uncertainty.percent();
    let by_hand = (0.13125 * 2.0_f64.sqrt()).hypot(0.10);
    assert!((off - by_hand).abs() < 0.015, "{off}");
    // 2 L at 65 Bx are 2.63 kg with 1.71 kg of sugar. Volumes of ±1.5 % on either side move 0.026 kg of sugar, 0.016 L of ethanol, in
    // 22 L: 0.072 less what they thin, so at most 0.072 each beside the readings.
    let strong = of([
        pitched(20.0, 12.0),
        read(3.0),
        litres_of(2.0, juice(65.0)),
        read(2.0),
    ]);
    let more = strong.alcohol.uncertainty.percent();
    assert!(more > off + 0.005 && more < off + 2.0 * 0.072, "{more}");
}

/// Five sets of beers whose alcohol was measured, 532 in all: what the relations make of their original and apparent extract scatters about
/// it as the model term of the uncertainty says, 0.10 % by volume. Of five normal figures a root mean square lies between 0.5 and 1.5 sigma
/// in 9 of 10 cases (chi squared of five: 1.1 and 11.1). Within one sigma lie 3 of 5, 60 % (15 to 95 % by Clopper & Pearson 1934, at 95 %),
/// within two 5 of 5, 100 % (48 to 100 %): nothing against 68 and 95 %, and not much for them.
#[test]
fn what_the_formula_can_be_off_by_is_what_it_is_off_by() {
    let off: Vec<f64> = rows("beer_means_2009.csv")
        .iter()
        .map(|row| {
            let beer = fermented(plato(row.number("oe")), plato(row.number("ae")));
            let by_mass = beer.alcohol_by_mass().percent();
            // As much more or less by volume as by mass.
            let factor = beer.alcohol_by_volume().percent() / by_mass;
            (by_mass - row.number("alcohol_mass")) * factor
        })
        .collect();
    let squares: f64 = off.iter().map(|off| (off / 0.10).powi(2)).sum();
    assert!((1.1..11.1).contains(&squares), "{off:?}");
    let within = |sigmas: f64| off.iter().filter(|off| off.abs() <= sigmas * 0.10).count();
    assert_eq!((within(1.0), within(2.0)), (3, 5), "{off:?}");
}

#[test]
fn the_demos_log_leads_to_its_alcohol() {
    let reading =
        wortwright::notation::read(&[wortwright::diagnostic::TextRef::new("log", DEMO_LOG)]);
    let log = &reading.logs[0];
    let ledger = ledger(log).unwrap();
    assert_eq!((ledger.basis, ledger.steps.len()), (Basis::Measured, 6));
    // 15.7 °P diluted by a ninth of 13 Bx, and what was drawn was of the wort alone.
    assert!((ledger.alcohol.equivalent_original.plato() - 15.42).abs() < 0.02);
    let whole = fermented(
        ledger.alcohol.equivalent_original,
        ledger.alcohol.apparent_extract,
    );
    assert!((abv(&ledger) - whole.alcohol_by_volume().percent()).abs() < 1e-9);
    // 1.011 is 2.81 °P; the line of the refractometer lies near it.
    assert!((ledger.alcohol.apparent_extract.plato() - 2.81).abs() < 0.03);
    assert!((ledger.steps[4].shown.plato() - 3.4).abs() < 0.2);
    assert!(
        ledger
            .remarks
            .iter()
            .all(|remark| !remark.text(Style::default()).is_empty())
    );
}
