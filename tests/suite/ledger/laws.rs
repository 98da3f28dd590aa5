//! Laws of the ledger on logs as they are written: order, splitting, draws, doubt, and what cannot be.

use super::entries::{ledger, ledger_with};
use uom::si::{mass::kilogram, volume::liter};
use wortwright::diagnostic::TextRef;
use wortwright::ledger::{Ledger, LedgerOptions};
use wortwright::notation::read;
use wortwright::quantity::{
    Attenuation, Concentration, Extract, Fermentability, SpecificGravity, Unit, Volume,
    VolumeShare, Written, uom,
};
use wortwright::recipe::{Amount, Log, LogEvent};
use wortwright::science::density::{extract_of, gravity_of};
use wortwright::science::liquid::Liquid;
use wortwright::speech::{Speaks, Style};

/// The log of these lines.
fn log(lines: &str) -> Log {
    log_of(&format!("log\n{lines}"))
}

fn log_of(text: &str) -> Log {
    let reading = read(&[TextRef::new("log", text)]);
    assert!(reading.is_usable(), "{:?}\n{text}", reading.diagnostics);
    reading.logs[0].clone()
}

fn followed(lines: &str) -> Ledger {
    ledger(&log(lines)).unwrap()
}

fn abv(ledger: &Ledger) -> f64 {
    ledger.alcohol.by_volume.percent()
}

/// Every order and every cut of what goes in between two readings gives one beer; masses add up, so that only rounding may differ.
#[test]
fn order_and_cuts_of_additions_do_not_matter() {
    let parts = [
        "  added 1.2 L apple juice, 12 Bx, 98 % fermentable\n",
        "  added 300 g sucrose\n",
        "  added 0.5 kg honey, 80 % extract\n",
    ];
    let beer = |order: [usize; 3]| {
        let middle: String = order.map(|part| parts[part]).concat();
        followed(&format!(
            "  pitched 19 L at 13 P\n  reading 5 P\n{middle}  reading 2.5 P\n"
        ))
    };
    let first = beer([0, 1, 2]);
    let volume = |ledger: &Ledger| ledger.steps.last().unwrap().volume.get::<liter>();
    for order in [[0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]] {
        let other = beer(order);
        assert!((abv(&other) - abv(&first)).abs() < 1e-9, "{order:?}");
        assert!((volume(&other) - volume(&first)).abs() < 1e-9, "{order:?}");
    }
    let cut = followed(
        "  pitched 19 L at 13 P\n  reading 5 P\n  added 100 g sucrose\n  added 0.2 L apple juice, 12 Bx, 98 % fermentable\n  \
         added 200 g sucrose\n  added 0.5 kg honey, 80 % extract\n  added 1 L apple juice, 12 Bx, 98 % fermentable\n  reading 2.5 P\n",
    );
    assert!((abv(&cut) - abv(&first)).abs() < 1e-9);
    assert!((volume(&cut) - volume(&first)).abs() < 1e-9);
    // An order that a reading comes between does matter, so that the above is no accident.
    let apart = followed(
        "  pitched 19 L at 13 P\n  added 300 g sucrose\n  reading 5 P\n  drawn 5 L\n  added 1.2 L apple juice, 12 Bx, 98 % fermentable\n  \
         added 0.5 kg honey, 80 % extract\n  reading 2.5 P\n",
    );
    assert!((abv(&apart) - abv(&first)).abs() > 0.01);
}

/// One juice of 12 °Bx (1.046444 kg/L, ICUMSA) into 20 L, written in every way: 2 L are 2.092888 kg, 104.6444 g for each litre there,
/// 100 mL for each, and an eleventh of what is there afterwards.
#[test]
fn an_addition_is_the_same_in_every_unit() {
    let share = |part| VolumeShare::from_fraction(part).unwrap().into();
    let dose = Concentration::from_grams_per_litre(104.6444).unwrap();
    for written in [
        Amount::Volume(Written::new(2.0, Unit::Litre).unwrap()),
        Amount::Mass(Written::new(2.092_888, Unit::Kilogram).unwrap()),
        Amount::Concentration(dose.into()),
        Amount::ShareByVolume(share(1.0 / 11.0)),
    ] {
        let mut log =
            log("  pitched 20 L at 12 P\n  added 1 L apple juice, 12 Bx\n  reading 3 P\n");
        let LogEvent::Added(added) = &mut log.entries[1].what else {
            panic!("{log:?}")
        };
        added.amount = written.clone();
        let ledger = ledger(&log).unwrap();
        let juiced = &ledger.steps[1];
        let brought_kg = juiced.brought_extract.unwrap().get::<kilogram>();
        assert!(
            (brought_kg / (2.092_888 * 0.12) - 1.0).abs() < 1e-6,
            "{written:?}: {brought_kg}"
        );
        let volume_l = juiced.volume.get::<liter>();
        assert!((volume_l - 22.0).abs() < 1e-5, "{written:?}: {volume_l}");
    }
}

/// A reading on the way of a beer that ferments as it was taken to adds nothing that was not known.
#[test]
fn a_reading_half_way_leaves_what_is_predicted() {
    let all = followed("  pitched 20 L at 1.048\n  added 500 g cane sugar\n");
    let read = followed("  pitched 20 L at 1.048\n  reading 1.024\n  added 500 g cane sugar\n");
    assert!((abv(&all) - abv(&read)).abs() < 1e-9);
    // 500 g of sugar less its water give about 242 g of ethanol in 20 L, 1.5 % by volume, beside the 4.7 % of a beer from
    // 1.048 to 1.012.
    assert!((abv(&all) - 6.2).abs() < 0.2, "{}", abv(&all));
}

/// No model can carry what no text can: less than nothing.
#[test]
fn amounts_below_nothing_cannot_be_made() {
    let less = Written::try_from(Volume::new::<liter>(-1.0)).unwrap_err();
    assert_eq!(less.code(), "out_of_range");
    assert!(less.to_string().ends_with("found -1 L"), "{less}");
}

/// Numbers that look normal and are the same in every run: the sum of twelve uniform ones less six.
struct Dice(u64);

impl Dice {
    fn uniform(&mut self) -> f64 {
        // Knuth, MMIX.
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }
}

/// A reading with the gravity off by so much.
fn off(shown: &Written<Extract>, gravity: f64) -> Written<Extract> {
    let moved = gravity_of(shown.value()).ratio() + gravity;
    extract_of(SpecificGravity::from_ratio(moved).unwrap()).into()
}

fn times(volume: &Written<Volume>, factor: f64) -> Written<Volume> {
    (volume.value() * factor).try_into().unwrap()
}

/// One sigma of the relation of alcohol to extracts, % by volume (row "alcohol from extracts (formula)" of `uncertainty.csv`).
const FORMULA: f64 = 0.10;

/// The log with everything off by so many sigma: 0.001 of gravity, 1.5 % of a volume, 0.15 °Bx of a stated juice (`uncertainty.csv`).
/// `draw` gives the next figure.
fn shaken(log: &Log, mut draw: impl FnMut() -> f64) -> Log {
    let mut log = log.clone();
    for entry in &mut log.entries {
        match &mut entry.what {
            LogEvent::Pitched(pitched) => {
                pitched.volume = times(&pitched.volume, 1.0 + 0.015 * draw());
                pitched.shown = off(&pitched.shown, 0.001 * draw());
            }
            LogEvent::Reading(reading) => reading.shown = off(&reading.shown, 0.001 * draw()),
            LogEvent::Drawn(drawn) => drawn.volume = times(&drawn.volume, 1.0 + 0.015 * draw()),
            LogEvent::Added(added) => {
                let ingredient = &mut added.ingredient;
                let Amount::Volume(volume) = &mut added.amount else {
                    panic!("{ingredient:?}")
                };
                *volume = times(volume, 1.0 + 0.015 * draw());
                let brix = ingredient.facts.brix.as_mut().unwrap();
                let moved = brix.value().plato() + 0.15 * draw();
                *brix = Extract::from_plato(moved).unwrap().into();
            }
            other => panic!("{other:?}"),
        }
    }
    log
}

const STAGED: &str = include_str!("fixtures/staged.gyle");

/// One thing off at a time, both ways, by this file's own hand: half of each difference, squared, summed, and the root of it.
#[test]
fn doubt_is_that_of_finite_differences() {
    let log = log_of(STAGED);
    let given = ledger(&log).unwrap();
    let mut count = 0;
    shaken(&log, || {
        count += 1;
        0.0
    });
    let moved = |which: usize, by: f64| {
        let mut at = 0;
        let moved = shaken(&log, || {
            at += 1;
            if at == which + 1 { by } else { 0.0 }
        });
        abv(&ledger(&moved).unwrap())
    };
    let squares: f64 = (0..count)
        .map(|which| (0.5 * (moved(which, 1.0) - moved(which, -1.0))).powi(2))
        .sum();
    let squares = squares + FORMULA * FORMULA;
    let found = given.alcohol.uncertainty.percent();
    assert_eq!(count, 10);
    assert!(
        (found / squares.sqrt() - 1.0).abs() < 1e-6,
        "{found} {}",
        squares.sqrt()
    );
}

/// Where nothing was read after pitching, the doubt is that of an attenuation of 70 to 80 % and of the gravity at pitching.
#[test]
fn doubt_of_what_is_predicted_is_that_of_the_attenuation() {
    let predicted = |extract: f64, percent: f64| {
        let log = log(&format!("  pitched 20 L at {extract:.10} P\n"));
        let attenuation = Attenuation::from_percent(percent).unwrap();
        let options = LedgerOptions::default().with_wort_attenuation(attenuation);
        ledger_with(&log, options).unwrap()
    };
    let original = Extract::from_plato(12.0).unwrap();
    let points = gravity_of(original).ratio();
    let shifted = |by: f64| {
        let gravity = SpecificGravity::from_ratio(points + by).unwrap();
        extract_of(gravity).plato()
    };
    // Balling's and Tabarié's relations without a log give the same alcohol.
    let wort = Liquid::wort(Volume::new::<liter>(20.0), original).unwrap();
    let closed = wort
        .fermented_to(Extract::from_plato(3.0).unwrap())
        .unwrap();
    let given = predicted(12.0, 75.0);
    assert!((abv(&given) - closed.alcohol_by_volume().percent()).abs() < 1e-6);
    let by_attenuation = 0.5 * (abv(&predicted(12.0, 80.0)) - abv(&predicted(12.0, 70.0)));
    let by_gravity =
        0.5 * (abv(&predicted(shifted(0.001), 75.0)) - abv(&predicted(shifted(-0.001), 75.0)));
    let found = given.alcohol.uncertainty.percent();
    let expected = by_attenuation.hypot(by_gravity).hypot(FORMULA);
    assert!((found / expected - 1.0).abs() < 1e-4, "{found} {expected}");
}

/// A beer read below what can be, within what a hydrometer may be off, is one that has fermented wholly: its doubt is that of the
/// wort's gravity and does not jump where a reading that is off by a little more would be refused.
#[test]
fn doubt_of_a_dry_beer_is_steady() {
    let read = |below: f64| {
        let wort = Liquid::wort(
            Volume::new::<liter>(20.0),
            Extract::from_plato(12.0).unwrap(),
        );
        let all = Fermentability::from_percent(100.0).unwrap();
        let dry = wort.unwrap().fermented(all).apparent_extract().plato();
        followed(&format!(
            "  pitched 20 L at 12 P\n  reading {:.6} P\n",
            dry - below
        ))
    };
    let (near, far) = (read(0.40), read(0.48));
    assert!((abv(&near) - abv(&far)).abs() < 1e-9);
    let doubt = |ledger: &Ledger| ledger.alcohol.uncertainty.percent();
    assert!(doubt(&near) > 0.05, "{}", doubt(&near));
    assert!((doubt(&near) / doubt(&far) - 1.0).abs() < 1e-9);
}

/// Everything off at once, two thousand times: what scatters is as wide as what is stated. A standard deviation from 2000 draws is itself
/// uncertain by 1/√4000, 1.6 %; five of these are allowed, and the bend of the relations.
#[test]
fn doubt_is_that_of_chance() {
    let log = log_of(STAGED);
    let given = ledger(&log).unwrap();
    let mut dice = Dice(20_090_317);
    let (mut sum, mut squares) = (0.0, 0.0);
    let throws = 2000;
    for _ in 0..throws {
        let thrown = shaken(&log, || dice.normal());
        let off = abv(&ledger(&thrown).unwrap()) - abv(&given) + FORMULA * dice.normal();
        sum += off;
        squares += off * off;
    }
    let mean = sum / f64::from(throws);
    let deviation = (squares / f64::from(throws) - mean * mean).sqrt();
    let stated = given.alcohol.uncertainty.percent();
    assert!(
        (stated / deviation - 1.0).abs() < 0.08,
        "{stated} {deviation}"
    );
    // No bias beyond that of chance: five times the deviation over the root of the throws.
    assert!(
        mean.abs() < 5.0 * deviation / f64::from(throws).sqrt(),
        "{mean}"
    );
}

/// The handbooks' ways stand beside the ledger's answer, worked out here from the gravities alone.
#[test]
fn short_ways_are_those_of_the_handbooks() {
    let beer = followed(
        "  pitched 20 L at 1.050\n  reading 1.020\n  added 4 L apple juice, 12 Bx, 98 % fermentable\n  reading 1.008\n",
    );
    let [ignored, blended] = &beer.shortcuts[..] else {
        panic!("{:?}", beer.shortcuts)
    };
    // (0.050 − 0.008) · 131.25.
    assert!((ignored.alcohol.percent() - 5.5125).abs() < 1e-6);
    // 12 Bx are 1.04837 (ASBC table): (20 · 50 + 4 · 48.37)/24 = 49.73 points.
    assert!((blended.alcohol.percent() - (49.73 - 8.0) * 0.13125).abs() < 2e-3);
    for way in [ignored, blended] {
        assert!((way.error_pct - (way.alcohol.percent() - abv(&beer))).abs() < 1e-12);
        let side = if way.error_pct > 0.0 {
            "too high"
        } else {
            "too low"
        };
        assert!(
            way.text(Style::default()).contains(side),
            "{}",
            way.text(Style::default())
        );
    }
}
