//! Answers worked out again from outside: what a plan's amounts and volumes give by relations that are written anew from what is
//! published, on beers of which every figure that counts is stated.

use super::published::{
    Malts, alcohol, first_wort, gravity, litres, lovibond, mash_ph, morey, strength, tinseth,
    wort_density,
};
use crate::brewing::{Numbers, kg, l};
use std::fmt::Write as _;
use wortwright::Job;
use wortwright::quantity::Extract;
use wortwright::scale::{Plan, ScaleOptions, WeighOut};

const BEERS: u64 = 300;

/// A malt as its line states it; buffering is the catalogue's, 40 mEq/(kg pH) of pale malts and 45 of caramel malts (Troester 2009).
#[derive(Debug, Clone, Copy)]
struct Malt {
    name: &'static str,
    share: f64,
    extract: f64,
    ebc: f64,
    ph: f64,
    buffering: f64,
}

#[derive(Debug, Clone, Copy)]
struct Hop {
    g_per_l: f64,
    alpha: f64,
    left_min: f64,
}

/// A beer of stated figures.
#[derive(Debug)]
struct Stated {
    malts: Vec<Malt>,
    hops: Vec<Hop>,
    boil_min: f64,
    /// Conversion and absorption of a bag, else a stated yield.
    bag: Option<(f64, f64)>,
    yielded: f64,
    calcium: f64,
    magnesium: f64,
    alkalinity: f64,
    water_ph: f64,
    text: String,
}

/// Share of water in every malt.
const MOISTURE: f64 = 0.04;

fn stated(seed: u64) -> Stated {
    let n = &mut Numbers(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15));
    n.between(0.0, 1.0);
    let malt = |n: &mut Numbers, name, share, ebc: (f64, f64), ph, buffering| Malt {
        name,
        share,
        extract: (n.between(0.72, 0.80) * 1000.0).round() / 1000.0,
        ebc: n.between(ebc.0, ebc.1).round(),
        ph: ph + (n.between(-0.1, 0.1) * 100.0).round() / 100.0,
        buffering,
    };
    let caramel = n.between(2.0, 12.0).round();
    let munich = n.between(5.0, 40.0).round();
    let sugar = n.between(0.0, 12.0).round();
    let base = 100.0 - caramel - munich - sugar;
    let malts = vec![
        malt(n, "pale ale malt", base, (4.0, 8.0), 5.65, 40.0),
        malt(n, "light munich malt", munich, (12.0, 18.0), 5.45, 40.0),
        malt(
            n,
            "caramel malt 150 EBC",
            caramel,
            (140.0, 160.0),
            4.7,
            45.0,
        ),
    ];
    let boil_min = n.between(55.0, 95.0).round();
    let hop = |n: &mut Numbers, from: f64, to: f64| Hop {
        g_per_l: (n.between(0.3, 2.0) * 100.0).round() / 100.0,
        alpha: n.between(4.0, 14.0).round() / 100.0,
        left_min: n.between(from, to).round(),
    };
    let hops = vec![hop(n, 40.0, 54.0), hop(n, 5.0, 30.0)];
    let bag = n.between(0.0, 1.0) < 0.5;
    let bag = bag.then(|| (n.between(0.92, 0.99), n.between(0.5, 1.0)));
    let yielded = n.between(70.0, 92.0).round() / 100.0;
    let (calcium, magnesium) = (n.between(10.0, 120.0).round(), n.between(1.0, 25.0).round());
    let alkalinity = n.between(10.0, 200.0).round();
    let water_ph = (n.between(6.9, 8.1) * 10.0).round() / 10.0;
    let plato = (n.between(9.0, 18.0) * 10.0).round() / 10.0;
    let left = n.between(0.17, 0.3);
    let mut text = format!(
        "recipe Stated\nbrewed on Works\nbatch 1000 L into fermenter\ntarget original {plato} P, final {:.2} P\nmash\n",
        plato * left
    );
    for malt in &malts {
        writeln!(
            text,
            "  {} % {}, {:.1} % extract as is, 4 % moisture, {} EBC, pH {:.2}",
            malt.share,
            malt.name,
            100.0 * malt.extract,
            malt.ebc,
            malt.ph
        )
        .unwrap();
    }
    writeln!(text, "  rest 66 C for 60 min\nboil {boil_min} min").unwrap();
    if sugar > 0.0 {
        writeln!(
            text,
            "  {sugar} % sucrose, 0 EBC full strength, 99.9 % extract as is at 15 min"
        )
        .unwrap();
    }
    for hop in &hops {
        writeln!(
            text,
            "  {} g/L perle, {:.0} % alpha at {} min",
            hop.g_per_l,
            100.0 * hop.alpha,
            hop.left_min
        )
        .unwrap();
    }
    let lauter = match bag {
        Some((conversion, absorption)) => {
            format!(
                "lauter bag\n  conversion {:.6} %\n  absorption {absorption:.6} L/kg",
                100.0 * conversion
            )
        }
        None => format!("extract yield {:.0} %", 100.0 * yielded),
    };
    write!(
        text,
        "ferment\n  pitch american ale yeast\nbrewhouse Works\n  extract yield 85 %\n  evaporation 6 % per hour\nbrewhouse Home\n  \
         batch {:.2} L into fermenter\n  {lauter}\n  evaporation {:.2} L/h\n  kettle loss {:.2} L\n  bitterness tinseth\n  \
         water calcium {calcium} mg/L, magnesium {magnesium} mg/L, sodium 10 mg/L, potassium 0 mg/L, sulphate 40 mg/L, chloride 40 mg/L, \
         alkalinity {alkalinity} mg/L, pH {water_ph}\n",
        n.between(8.0, 40.0),
        n.between(1.0, 4.0),
        n.between(0.0, 1.5),
    )
    .unwrap();
    Stated {
        malts,
        hops,
        boil_min,
        bag,
        yielded,
        calcium,
        magnesium,
        alkalinity,
        water_ph,
        text,
    }
}

fn mass(plan: &Plan, name: &str, nth: usize) -> f64 {
    let mut named = plan.additions.iter().filter(|a| a.name == name);
    named.nth(nth).and_then(|a| a.mass).map_or(0.0, kg)
}

/// What is worked out from outside beside what the plan says: name, both figures, and how far apart they may be.
fn both(beer: &Stated, plan: &Plan) -> Vec<(&'static str, f64, f64, f64)> {
    let (volumes, predicted) = (&plan.volumes, &plan.predicted);
    let grist: Vec<_> = (beer.malts.iter())
        .map(|malt| (malt, mass(plan, malt.name, 0)))
        .collect();
    let grain_kg: f64 = grist.iter().map(|(_, kg)| kg).sum();
    let laboratory_kg: f64 = grist.iter().map(|(malt, kg)| malt.extract * kg).sum();
    let water_l = l(volumes.mash_water);
    let mut found = Vec::new();
    let reached = match beer.bag {
        Some((conversion, absorption)) => {
            let dissolved_kg = conversion * laboratory_kg;
            let mash_water_kg = 0.998_203_1 * water_l + MOISTURE * grain_kg;
            let solution_l = litres(mash_water_kg, dissolved_kg);
            let part = first_wort(solution_l, water_l, absorption * grain_kg);
            found.push((
                "wort before the boil, L",
                part * solution_l,
                l(volumes.pre_boil),
                1e-6,
            ));
            conversion * part
        }
        None => beer.yielded,
    };
    let sugar_kg = 0.999 * mass(plan, "sucrose", 0);
    let extract_kg = reached * laboratory_kg + sugar_kg;
    let boiled_l = l(volumes.post_boil);
    let original = strength(extract_kg, boiled_l);
    // What a plan stops at is closer than a part of a million.
    found.push((
        "original, °P",
        100.0 * original,
        predicted.original.unwrap().plato(),
        1e-6,
    ));
    let apparent = predicted.final_extract.unwrap().plato() / 100.0;
    // Lagrange between figures of four decimals, 0.01 kg/m³, is 0.003 °P of a residue and 0.002 % of alcohol in five.
    let by_volume = alcohol(original, apparent);
    found.push((
        "alcohol, % by volume",
        by_volume,
        predicted.alcohol.unwrap().percent(),
        1e-3,
    ));
    // Gravity of the boil, added up over its time by the trapezium rule: water leaves evenly, sugar comes at 15 min.
    let end_kg = boiled_l * wort_density(original) / 1000.0;
    let start_kg = l(volumes.pre_boil)
        * wort_density(strength(extract_kg - sugar_kg, l(volumes.pre_boil)))
        / 1000.0;
    let sugar_all_kg = sugar_kg / 0.999;
    let lost_kg = start_kg + sugar_all_kg - end_kg;
    let at = |left_min: f64| {
        let lost = lost_kg * (1.0 - left_min / beer.boil_min);
        let (extract, all) = if left_min < 15.0 {
            (extract_kg, start_kg + sugar_all_kg - lost)
        } else {
            (extract_kg - sugar_kg, start_kg - lost)
        };
        gravity(extract / all)
    };
    let mut ibu = 0.0;
    for (nth, hop) in beer.hops.iter().enumerate() {
        let steps = 2000;
        let step = hop.left_min / f64::from(steps);
        let mean = (0..steps)
            .map(|at_step| at((f64::from(at_step) + 0.5) * step))
            .sum::<f64>()
            / f64::from(steps);
        ibu += 1e6 * mass(plan, "perle", nth) * hop.alpha * tinseth(hop.left_min, mean) / boiled_l;
    }
    // Two thousand steps, of which one holds the sugar.
    found.push((
        "bitterness of the wort, IBU",
        ibu,
        predicted.wort_bitterness.unwrap().ibu(),
        1e-4,
    ));
    // Colour that runs off, over the 0.75 of the home brewers whose beers Morey fitted (from memory).
    let units: f64 = grist.iter().map(|(malt, kg)| lovibond(malt.ebc) * kg).sum();
    let colour = morey(units * reached / 0.75, boiled_l);
    found.push((
        "colour of the wort, EBC",
        colour,
        predicted.wort_colour.unwrap().ebc(),
        1e-5,
    ));
    // Equivalents: 20.039 g of calcium, 12.1525 of magnesium, 50.043 of calcium carbonate.
    let malts: Vec<_> = grist
        .iter()
        .map(|(malt, kg)| (*kg, malt.ph, malt.buffering))
        .collect();
    let malts: &Malts = &malts;
    let water = (
        beer.calcium / 20.039,
        beer.magnesium / 12.1525,
        beer.alkalinity / 50.043,
    );
    let ph = mash_ph(malts, water_l, water, beer.water_ph);
    // Atomic masses of four digits, and pK of two.
    found.push(("mash pH", ph, predicted.mash_ph.unwrap().value(), 2e-4));
    found
}

fn planned(beer: &Stated) -> Plan {
    let exact = ScaleOptions::default()
        .with_weigh_out(WeighOut::Exact)
        .without_spread();
    Job::read([("stated", beer.text.as_str())])
        .and_then(|job| job.on_with("Home", &exact)?.plan())
        .unwrap()
}

/// How many figures were held beside each other, and those that are off, by which part of themselves.
fn off(beer: &Stated, plan: &Plan) -> (usize, Vec<(&'static str, f64, String)>) {
    let figures = both(beer, plan);
    let apart =
        |(_, outside, told, _): &(_, f64, f64, f64)| (outside - told).abs() / told.abs().max(1.0);
    let off = figures.iter().filter(|figure| apart(figure) > figure.3);
    let off = off.map(|figure| {
        (
            figure.0,
            apart(figure),
            format!("{} and {}", figure.1, figure.2),
        )
    });
    (figures.len(), off.collect())
}

#[test]
fn amounts_and_volumes_give_the_figures_by_published_relations() {
    let mut compared = 0;
    let mut kinds = std::collections::BTreeMap::<_, (usize, f64)>::new();
    let mut first = None;
    for seed in 1..=BEERS {
        let beer = stated(seed);
        // A wort out of reach is another beer, of which the amounts say all the same.
        let (figures, off) = off(&beer, &planned(&beer));
        compared += figures;
        for (name, part, told) in off {
            let kind = kinds.entry(name).or_default();
            *kind = (kind.0 + 1, kind.1.max(part));
            first.get_or_insert_with(|| format!("{seed}: {name} {told}\n{}", beer.text));
        }
    }
    assert!(compared > 1600, "{compared}");
    assert!(kinds.is_empty(), "{kinds:?} of {compared}: {first:?}");
}

/// Makes something of a plan so many times what it is.
type Bend = fn(&mut Plan, f64);

/// So much of an amount or a volume more, and the figure in which that shows first.
const BENT: [(&str, f64, Bend); 7] = [
    ("wort before the boil, L", 1e-5, |plan, more| {
        plan.volumes.pre_boil *= more;
    }),
    ("original, °P", 1e-5, |plan, more| {
        plan.volumes.post_boil *= more;
    }),
    ("original, °P", 1e-5, |plan, more| {
        bend(plan, "pale ale malt", more);
    }),
    ("bitterness of the wort, IBU", 5e-4, |plan, more| {
        bend(plan, "perle", more);
    }),
    ("colour of the wort, EBC", 1e-3, |plan, more| {
        bend(plan, "caramel malt 150 EBC", more);
    }),
    ("alcohol, % by volume", 0.02, |plan, more| {
        let finished = &mut plan.predicted.final_extract;
        *finished = finished.map(|plato| Extract::from_plato(plato.plato() * more).unwrap());
    }),
    ("mash pH", 0.05, |plan, more| {
        bend(plan, "caramel malt 150 EBC", more);
    }),
];

fn bend(plan: &mut Plan, name: &str, more: f64) {
    for added in plan.additions.iter_mut().filter(|added| added.name == name) {
        added.mass = added.mass.map(|mass| mass * more);
    }
}

#[test]
fn an_amount_that_is_off_is_found() {
    for (name, part, bent) in BENT {
        let mut beers = (1..=20).map(stated);
        let found = beers.any(|beer| {
            let mut plan = planned(&beer);
            bent(&mut plan, 1.0 + part);
            off(&beer, &plan).1.iter().any(|(found, ..)| *found == name)
        });
        assert!(found, "{name} by {part}");
    }
}

/// By hand, so that the formulas above are held to the world too: 1.048 and 1.010 are 11.91 and 2.56 °P, which are 5.0 % of alcohol by
/// volume in any table; Tinseth's table has 0.231 for 60 min at 1.050; Morey gives 10 units 7.24 SRM, 14.25 EBC.
#[test]
fn the_formulas_are_those_of_the_tables() {
    let near =
        |one: f64, other: f64, within: f64| assert!((one - other).abs() < within, "{one} {other}");
    near(gravity(0.12), 1.0484, 5e-5);
    near(alcohol(0.1191, 0.0256), 5.0, 0.06);
    near(tinseth(60.0, 1.050), 0.231, 5e-4);
    near(
        morey(10.0 * 0.453_592_37 / 3.785_411_784, 1.0),
        25.0 / 12.7 * 7.24,
        0.01,
    );
    near(lovibond(2.65 * 10.0 - 1.2), 10.0, 1e-12);
    // A kilogram of pale malt in distilled water has its own pH.
    near(
        mash_ph(&[(1.0, 5.6, 40.0)], 0.0, (0.0, 0.0, 0.0), 7.0),
        5.6,
        1e-6,
    );
}
