//! How a source is read: from masses or shares, hop lines and headlines, printed final gravities and packaged batches.

use crate::brewing::{BIG, final_plato, job, l, mass, near, original, plan_on};
use wortwright::diagnostic::{Error, ErrorKind};
use wortwright::process::{Assumption, FermentabilityBasis, Prediction, Warning};
use wortwright::speech::Noted;

const MALT: &str = "pale ale malt, extract 80 % dry, moisture 5 %";
const SMALL: &str = "  batch 10 L into fermenter\n  lauter bag\n  absorption 0.7 L/kg\n  evaporation 2 L/h\n  kettle loss 0.5 L";

/// ICUMSA at 20 °C, kg/L (source in the demo's test).
fn density(w: f64) -> f64 {
    (998.2031
        + w * (385.1761
            + w * (135.3705 + w * (40.9299 + w * (-3.9643 + w * (13.4853 - 17.2890 * w))))))
        / 1000.0
}

/// Extract of the plain source's wort: 20 hL in the fermenter and 40 L left in the kettle.
fn extract_kg(plato: f64) -> f64 {
    2040.0 * density(plato / 100.0) * plato / 100.0
}

fn predicted(text: &str) -> Result<Prediction, Error> {
    let job = job(&format!("{text}\nbrewhouse Small\n{SMALL}\n"), "Small");
    job.built()?.as_written()
}

fn sheet(targets: &str, fermentables: &str, hops: &str, rest: &str) -> String {
    format!(
        "recipe Sheet\nbrewed on Big\nbatch 20 hL into fermenter\n{targets}\nmash\n{fermentables}\n  rest 66 C for 60 min\n\
         boil 60 min\n{hops}\nferment\n{rest}\n{BIG}"
    )
}

const YEAST: &str = "  pitch ale yeast, attenuation 78 %";

/// Printed shares that add up to 99.9 or 100.4 brew as what they are parts of a whole, and say so; a blend's as well.
#[test]
fn rounded_shares_brew_as_parts_of_the_whole() {
    let brewed = |parts: [f64; 2], juices: [f64; 2]| {
        let [one, other] = parts;
        let grist = format!("  {one:.9} % {MALT}\n  {other:.9} % wheat malt");
        let [one, other] = juices;
        let blend = format!(
            "{YEAST}\n  add 12 % by volume on day 4\n    {one:.9} % plum juice\n    {other:.9} % sour cherry juice"
        );
        predicted(&sheet("target original 12 P", &grist, "", &blend)).unwrap()
    };
    let whole = brewed([200.0 / 3.0, 100.0 / 3.0], [45.0 / 1.004, 55.4 / 1.004]);
    let sums = |found: &Prediction| -> Vec<f64> {
        let sums = found.assumptions.iter().filter_map(|a| match &a.what {
            Assumption::SharesNormalised { sum } => Some(sum.percent()),
            _ => None,
        });
        sums.collect()
    };
    assert!(sums(&whole).is_empty());
    let rounded = brewed([66.6, 33.3], [45.0, 55.4]);
    let told = sums(&rounded);
    assert_eq!(told.len(), 2);
    near(told[0], 100.4, 1e-9, "blend");
    near(told[1], 99.9, 1e-9, "grist");
    let alcohol = |found: &Prediction| found.predicted.alcohol.unwrap().percent();
    let gravity = |found: &Prediction| found.predicted.final_extract.unwrap().plato();
    near(alcohol(&rounded), alcohol(&whole), 1e-8, "alcohol");
    near(gravity(&rounded), gravity(&whole), 1e-8, "final gravity");
}

/// 2040 L at 12 °P hold 256.2 kg; a yield follows from any mass of malt of 76 % as is.
#[test]
fn masses_and_gravity_infer_the_yield() {
    let extract = extract_kg(12.0);
    assert!((extract - 256.2).abs() < 0.1, "{extract}");
    for (wanted, stated_apart, high) in [
        (0.80, true, false),
        (0.91, false, false),
        (0.985, true, true),
    ] {
        let kg = extract / 0.76 / wanted;
        let found = predicted(&sheet(
            "target original 12 P",
            &format!("  {kg:.9} kg {MALT}"),
            "  1 g/hL carrageenan at 10 min",
            YEAST,
        ))
        .unwrap();
        let inferred = found
            .assumptions
            .iter()
            .find_map(|a| match &a.what {
                Assumption::YieldInferred { reached } => Some(reached.fraction()),
                _ => None,
            })
            .unwrap();
        // The mass is written with nine decimals, the density with seven digits.
        near(inferred, wanted, 1e-7, "yield");
        near(
            found.predicted.original.unwrap().plato(),
            12.0,
            1e-9,
            "strength",
        );
        let has = |f: fn(&Noted<Warning>) -> bool| found.warnings.iter().any(f);
        // The plant states 92 %: three points apart are remarked on.
        assert_eq!(
            has(|w| matches!(&w.what, Warning::YieldsDisagree { .. })),
            stated_apart,
            "{wanted}"
        );
        assert_eq!(
            has(|w| matches!(&w.what, Warning::YieldHigh { .. })),
            high,
            "{wanted}"
        );
    }
    for impossible in [1.001, 1.3] {
        let kg = extract / 0.76 / impossible;
        let error = predicted(&sheet(
            "target original 12 P",
            &format!("  {kg:.9} kg {MALT}"),
            "  1 g/hL carrageenan at 10 min",
            YEAST,
        ))
        .unwrap_err();
        assert_eq!(error.kind(), ErrorKind::Contradiction, "{error}");
    }
}

/// The same where sugar gives part of the extract in full: only the rest counts for the mash.
#[test]
fn sugar_counts_in_full_in_an_inferred_yield() {
    let extract = extract_kg(12.0);
    let kg = (extract - 30.0) / 0.76 / 0.9;
    let text = sheet(
        "target original 12 P",
        &format!("  {kg:.9} kg {MALT}"),
        "  30 kg sucrose, 100 % extract at 10 min",
        YEAST,
    );
    let found = predicted(&text).unwrap();
    near(
        found.predicted.extract_yield.unwrap().fraction(),
        0.9,
        1e-7,
        "yield",
    );
    // A packaged batch is sought through volumes at which the masses would contradict the gravity.
    let packaged = text.replace("batch 20 hL into fermenter", "batch 1970 L packaged");
    let found = predicted(&packaged).unwrap();
    near(l(found.volumes.packaged), 1970.0, 1e-9, "packaged");
    let into_fermenter = l(found.volumes.into_fermenter);
    assert!(
        into_fermenter > 1990.0 && into_fermenter < 2010.0,
        "{into_fermenter}"
    );
}

/// Shares of yielded extract: 25 % of the extract as sugar is a quarter of 256.2 kg, in full.
#[test]
fn shares_by_extract_are_of_what_is_in_the_wort() {
    let text = sheet(
        "shares by extract\ntarget original 12 P",
        &format!("  75 % {MALT}"),
        "  25 % sucrose, 100 % extract at 10 min",
        YEAST,
    );
    let plan = plan_on(&text.replace(BIG, ""), SMALL);
    let source =
        |name: &str| crate::brewing::kg(crate::brewing::addition(&plan, name).source_mass.unwrap());
    near(source("sucrose"), 0.25 * extract_kg(12.0), 1e-7, "sugar");
    near(
        source("pale ale malt"),
        0.75 * extract_kg(12.0) / 0.76 / 0.92,
        1e-7,
        "malt",
    );
    // By weight the sugar, which loses nothing, gives more than a quarter of the extract.
    let weight = plan_on(
        &text.replace(BIG, "").replace("shares by extract\n", ""),
        SMALL,
    );
    let sugar = crate::brewing::kg(
        crate::brewing::addition(&weight, "sucrose")
            .source_mass
            .unwrap(),
    );
    let size = extract_kg(12.0) / (0.75 * 0.76 * 0.92 + 0.25);
    near(sugar, 0.25 * size, 1e-7, "sugar by weight");
    // On the target the sugar keeps its share of the extract, in a plant that yields less.
    let here = mass(&weight, "sucrose");
    let wort = 10.5 * density(0.12) * 0.12;
    near(
        here / wort,
        sugar / extract_kg(12.0),
        1e-7,
        "share of the extract",
    );
}

/// Printed doses are per litre of the printed batch; 50 g/hL of 20 hL are a kilogram.
#[test]
fn printed_doses_are_of_the_printed_batch() {
    let text = sheet(
        "target original 12 P",
        &format!("  100 % {MALT}"),
        "  50 g/hL saaz, 4 % alpha at 10 min",
        YEAST,
    );
    let plan = plan_on(&text.replace(BIG, ""), SMALL);
    let saaz = crate::brewing::addition(&plan, "saaz");
    near(
        crate::brewing::kg(saaz.source_mass.unwrap()),
        1.0,
        1e-12,
        "source",
    );
}

/// A line of so many IBU gives that to the wort; the headline fills an open line with what the others leave.
#[test]
fn hop_lines_and_the_headline() {
    let with = |targets: &str, hops: &str| {
        plan_on(
            &sheet(targets, &format!("  100 % {MALT}"), hops, YEAST).replace(BIG, ""),
            SMALL,
        )
    };
    let lines = with(
        "target original 12 P",
        "  24 IBU perle, 8 % alpha at 60 min\n  6 IBU saaz, 4 % alpha at 15 min",
    );
    near(
        lines.source.wort_bitterness.unwrap().ibu(),
        30.0,
        1e-9,
        "lines",
    );
    let open = with(
        "target original 12 P, bitterness 35 IBU",
        "  perle, 8 % alpha at 60 min\n  6 IBU saaz, 4 % alpha at 15 min",
    );
    near(
        open.source.bitterness.unwrap().ibu(),
        35.0,
        1e-9,
        "headline of the beer",
    );
    near(
        open.predicted.bitterness.unwrap().ibu(),
        35.0,
        1e-9,
        "and here",
    );
    let wort = with(
        "target original 12 P, wort bitterness 35 IBU",
        "  perle, 8 % alpha at 60 min\n  6 IBU saaz, 4 % alpha at 15 min",
    );
    near(
        wort.source.wort_bitterness.unwrap().ibu(),
        35.0,
        1e-9,
        "headline of the wort",
    );
    // Yeast and gas leave, so that the beer is a little less than the wort, and more bitter.
    assert!(wort.source.bitterness.unwrap().ibu() > 35.0);
    // Lines against a headline: the lines win, and a tenth apart is remarked on.
    for (headline, remarked) in [(30, false), (32, false), (50, true)] {
        let plan = with(
            &format!("target original 12 P, bitterness {headline} IBU"),
            "  30 IBU perle, 8 % alpha at 60 min",
        );
        near(
            plan.source.wort_bitterness.unwrap().ibu(),
            30.0,
            1e-9,
            "lines win",
        );
        let warned = plan
            .warnings
            .iter()
            .any(|w| matches!(&w.what, Warning::BitternessDisagrees { .. }));
        assert_eq!(warned, remarked, "{headline}");
    }
}

/// Late hops keep g/L of cold wort; bittering falls to nothing and no lower when they alone are too bitter.
#[test]
fn late_hops_keep_their_dose_and_bittering_stops_at_nothing() {
    let text = sheet(
        "target original 12 P",
        &format!("  100 % {MALT}"),
        "  2 IBU perle, 8 % alpha at 60 min\n  400 g/hL saaz, 10 % alpha at 20 min",
        YEAST,
    );
    let plan = plan_on(&text.replace(BIG, ""), SMALL);
    // 8 kg in 2040 L of wort there, in 10.5 L here.
    near(mass(&plan, "saaz"), 8.0 / 2040.0 * 10.5, 1e-9, "late hop");
    assert!(mass(&plan, "perle") >= 0.0);
    // A plant with a far longer boil-off has a thinner wort on average, so that the same dose is more bitter.
    let hard = plan_on(&text.replace(BIG, ""), &SMALL.replace("2 L/h", "40 L/h"));
    assert_eq!(mass(&hard, "perle"), 0.0);
    assert!(
        hard.warnings
            .iter()
            .any(|w| matches!(&w.what, Warning::TooBitterWithoutBittering { .. })),
        "{:?}",
        hard.warnings
    );
}

fn basis(found: &Prediction) -> (FermentabilityBasis, f64) {
    found
        .assumptions
        .iter()
        .find_map(|a| match &a.what {
            Assumption::MashFermentability { basis, factor, .. } => Some((*basis, *factor)),
            _ => None,
        })
        .unwrap()
}

/// One factor on the mash meets the printed final, else the stated attenuation, else the catalogue's.
#[test]
fn the_final_gravity_is_fitted_in_this_order() {
    let with = |targets: &str, yeast: &str| {
        predicted(&sheet(
            &format!("target original 12 P{targets}"),
            &format!("  100 % {MALT}, fermentable 66 %"),
            "  1 g/hL carrageenan at 10 min",
            &format!("  pitch {yeast}"),
        ))
        .unwrap()
    };
    let printed = with(", final 2.4 P", "ale yeast, attenuation 70 %");
    assert_eq!(basis(&printed).0, FermentabilityBasis::PrintedFinal);
    near(
        printed.predicted.final_extract.unwrap().plato(),
        2.4,
        1e-9,
        "printed",
    );
    let stated = with("", "ale yeast, attenuation 70 %");
    assert_eq!(basis(&stated).0, FermentabilityBasis::StatedAttenuation);
    near(
        stated.predicted.final_extract.unwrap().plato(),
        12.0 * 0.30,
        1e-9,
        "stated",
    );
    let usual = with("", "farmhouse ale yeast");
    assert_eq!(basis(&usual).0, FermentabilityBasis::CatalogueAttenuation);
    // The catalogue's 82 % for that yeast.
    near(
        usual.predicted.final_extract.unwrap().plato(),
        12.0 * 0.18,
        1e-9,
        "usual",
    );
    // Out of reach of any fermentability: said, with the nearest.
    let dry = with(", final -6 P", "ale yeast");
    assert!(
        dry.warnings
            .iter()
            .any(|w| matches!(&w.what, Warning::FinalNotExplained { .. }))
    );
    // All of the extract fermented: 12 °P give 6.15 % by mass and a hydrometer near -2.7 °P (Balling, Tabarié).
    let nearest = dry.predicted.final_extract.unwrap().plato();
    assert!((-3.0..-2.3).contains(&nearest), "{nearest}");
}

/// The same factor serves the target: attenuation is of the wort, so the home plant ends at the same gravity.
#[test]
fn the_factor_of_the_source_serves_the_target() {
    let text = sheet(
        "target original 12 P, final 2.4 P",
        &format!("  90 % {MALT}, fermentable 66 %"),
        "  10 % sucrose at 10 min",
        YEAST,
    );
    let plan = plan_on(&text.replace(BIG, ""), SMALL);
    near(final_plato(&plan), 2.4, 1e-9, "final");
    near(original(&plan), 12.0, 1e-9, "original");
}

/// What is added at packaging is not lost: a printed mass goes per litre of beer, there and here.
#[test]
fn additions_at_packaging_are_kept_per_litre_of_beer() {
    use wortwright::catalogue::Kind;
    use wortwright::quantity::{Unit, Written};
    use wortwright::recipe::{Addition, Amount, Ingredient};
    let text = sheet(
        "target original 12 P",
        &format!("  100 % {MALT}"),
        "  1 g/hL carrageenan at 10 min",
        YEAST,
    );
    let mut job = job(&format!("{text}\nbrewhouse Small\n{SMALL}\n"), "Small");
    for (name, amount) in [
        (
            "finings by mass",
            Amount::Mass(Written::new(1.2, Unit::Kilogram).unwrap()),
        ),
        (
            "finings by dose",
            Amount::Concentration(Written::new(0.6, Unit::GramPerLitre).unwrap()),
        ),
    ] {
        let addition = Addition::new(Ingredient::new(name, Kind::Other), amount);
        job.recipe.package.additions.push(addition);
    }
    let plan = job.exact();
    let source_l = l(plan.source.finished.unwrap()) - 30.0;
    let here_l = l(plan.volumes.packaged);
    near(
        mass(&plan, "finings by mass"),
        1.2 / source_l * here_l,
        1e-9,
        "mass",
    );
    near(
        mass(&plan, "finings by dose"),
        0.6 * here_l / 1000.0,
        1e-9,
        "dose",
    );
    let source = crate::brewing::addition(&plan, "finings by dose")
        .source_mass
        .unwrap();
    near(
        crate::brewing::kg(source),
        0.6 * source_l / 1000.0,
        1e-9,
        "dose at the source",
    );
}

/// A sugar in a hot stand was never in the boil: however long it stands, it thickens no wort in which hops boil.
#[test]
fn a_sugar_in_the_stand_does_not_boil() {
    let with = |timing: &str| {
        let text = sheet(
            "target original 14 P",
            &format!("  360 kg {MALT}"),
            "  30 IBU perle, 8 % alpha at 60 min",
            YEAST,
        )
        .replace(BIG, "")
        .replace(
            "ferment\n",
            &format!("stand 60 min at 80 C\n  40 kg sucrose {timing}\nferment\n"),
        );
        mass(&plan_on(&text, SMALL), "perle")
    };
    near(
        with("for 60 min"),
        with("for 1 min"),
        1e-12,
        "bittering hop",
    );
}

/// Hops in a stand have a figure in both models, and it is a number.
#[test]
fn hops_in_a_stand_under_both_models() {
    for model in ["tinseth", "kinetic"] {
        let text = sheet(
            "target original 14 P",
            &format!("  100 % {MALT}"),
            "  30 IBU perle, 8 % alpha at 60 min\n  20 g/hL saaz, 4 % alpha at 0 min",
            YEAST,
        )
        .replace(BIG, "")
        .replace(
            "ferment\n",
            "stand 30 min at 85 C\n  100 g/hL cascade, 6 % alpha for 30 min\nferment\n",
        );
        let plan = plan_on(&text, &format!("{SMALL}\n  bitterness {model}"));
        crate::brewing::sane(&plan);
        let stand = crate::brewing::addition(&plan, "cascade")
            .bitterness
            .unwrap()
            .ibu();
        assert_eq!(stand > 0.0, model == "kinetic", "{model}: {stand}");
        near(
            plan.predicted.bitterness.unwrap().ibu(),
            plan.source.bitterness.unwrap().ibu(),
            1e-9,
            model,
        );
    }
}
