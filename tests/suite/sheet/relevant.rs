//! What stands on a sheet and what does not: the substitutes that are brewed with, packaging on the list, and nothing that
//! this beer has not.

use wortwright::job::{Brew, Job};
use wortwright::quantity::UnitSystem;
use wortwright::scale::Supply;
use wortwright::sheet::SheetOptions;
use wortwright::speech::Style;
use wortwright_tests::fixtures::{DEMO, DEMO_PLANT, changed, fixture};

const SYSTEMS: [UnitSystem; 3] = [UnitSystem::Metric, UnitSystem::Us, UnitSystem::Imperial];

fn brew(texts: &[&str], plant: &str) -> Brew {
    let named = texts.iter().map(|text| ("text", *text));
    let job = Job::read(named).unwrap_or_else(|error| panic!("{error}"));
    job.on(plant).unwrap()
}

/// The sheet in the units of a practice, with the substitutes taken.
fn with_substitutes(brew: &Brew, units: UnitSystem) -> String {
    let style = Style::customary(units);
    let found = brew.substitutes().unwrap();
    let options = SheetOptions::default().with_style(style);
    let options = options.with_substitutes(found.best(style));
    found.taken().unwrap().plan().unwrap().sheet(&options)
}

/// The part below a heading, in one line.
fn part(sheet: &str, heading: &str) -> String {
    let below = sheet.split_once(&format!(". {heading}"));
    let below = below.unwrap_or_else(|| panic!("no {heading}: {sheet}")).1;
    let lines = below.lines().skip(1);
    let of_part = lines.take_while(|line| !line.ends_with("---"));
    let text: Vec<_> = of_part.flat_map(str::split_whitespace).collect();
    text.join(" ")
}

fn kitchen(changes: &[(&str, &str)]) -> String {
    let recipe = changed(&fixture("sheet/steeped_extract"), changes);
    let plant = fixture("sheet/kitchen");
    brew(&[&recipe, &plant], "Kitchen")
        .plan()
        .unwrap()
        .to_string()
}

/// What is not available is replaced in the box, on the list and at its step, by one amount.
#[test]
fn the_best_substitute_is_bought_and_weighed() {
    let on_stove_top = brew(&[DEMO, DEMO_PLANT], "Stove top");
    for units in SYSTEMS {
        let sheet = with_substitutes(&on_stove_top, units);
        let first = sheet.split_once(" SAFETY ").unwrap().0;
        let amount = first.split_once("No flaked spelt: use ").unwrap().1;
        let amount = amount.split_once(" flaked wheat (").unwrap().0;
        for step in ["SHOPPING", "MASH"] {
            let part = part(&sheet, step);
            assert!(
                part.contains(&format!("[ ] {amount} flaked wheat")),
                "{part}"
            );
            assert!(part.contains("instead of flaked spelt"), "{part}");
        }
        let added = part(&sheet, "FERMENTER ADDITIONS");
        assert!(added.contains("instead of elderberry juice"), "{added}");
        assert!(!sheet.contains("not available"), "{sheet}");
        assert!(
            part(&sheet, "SHOPPING").contains("wheat (flaked wheat)"),
            "{sheet}"
        );
    }
    // Nothing is taken where a brewer takes nothing.
    let plain = on_stove_top.plan().unwrap().to_string();
    assert!(plain.contains("not available: see the box"), "{plain}");
}

/// A line without a substitute is left, and keeps no other from its own.
#[test]
fn what_has_no_substitute_stays_not_available() {
    let plant = changed(
        DEMO_PLANT,
        &[(
            "  none    elderberry juice",
            "  none    farmhouse ale yeast",
        )],
    );
    let lacks_yeast = brew(&[DEMO, &plant], "Stove top");
    let found = lacks_yeast.substitutes().unwrap();
    let yeast = found
        .missing
        .iter()
        .find(|line| line.name.contains("yeast"));
    let sheet = with_substitutes(&lacks_yeast, UnitSystem::Metric);
    assert!(sheet.contains("instead of flaked spelt"), "{sheet}");
    let has_one = yeast.is_some_and(|line| line.proposals.iter().any(|found| found.feasible));
    assert_eq!(has_one, !sheet.contains("not available"), "{sheet}");
}

/// Whatever replaces oats where all of them are gone: their allergen goes, and that of wheat comes if it is wheat.
#[test]
fn the_box_tells_the_allergens_of_a_substitute() {
    let oaten = changed(DEMO, &[("flaked spelt", "flaked oats")]);
    let plant = changed(
        DEMO_PLANT,
        &[(
            "  none    flaked spelt\n",
            "  none    flaked oats\n  none    oat malt\n  none    naked oat malt\n  none    caramel oat malt\n  none    raw oats\n  \
             none    torrefied oats\n",
        )],
    );
    let found = brew(&[&oaten, &plant], "Stove top").substitutes().unwrap();
    let oats = found
        .missing
        .iter()
        .find(|line| line.name == "flaked oats")
        .unwrap();
    let first = oats.proposals.iter().find(|found| found.feasible).unwrap();
    let best = found.best(Style::default());
    let told = &best
        .iter()
        .find(|best| best.missing == "flaked oats")
        .unwrap()
        .difference;
    assert!(told.contains("allergen lost: oats"), "{told}");
    for gained in &first.allergens_gained {
        assert!(
            told.contains("allergen gained: ") && told.contains(&gained.to_string()),
            "{told}"
        );
    }
}

/// 4.9 g/L in 9.5 L, of which 1.8 g/L are there at 19 °C: 3.1 x 9.46 / 0.514 (g of CO2 from a gram of sucrose) are 57 g.
#[test]
fn priming_sugar_and_bottles_are_on_the_list() {
    let sheet = kitchen(&[]);
    let (list, packaging) = (part(&sheet, "SHOPPING"), part(&sheet, "PACKAGING"));
    let sugar = list.split_once(" g table sugar, for priming").unwrap().0;
    let sugar = sugar.rsplit(' ').next().unwrap();
    let grams: f64 = sugar.parse().unwrap();
    assert!((grams - 57.0).abs() <= 3.0, "{grams}");
    assert!(
        packaging.contains(&format!("{sugar} g table sugar")),
        "{packaging}"
    );
    // 9.46 L fill 18.9 bottles of half a litre.
    assert!(list.contains("bottles and caps: 19 of 500 mL"), "{list}");
    assert!(
        packaging.contains("Bottles and caps: 19 of 500 mL"),
        "{packaging}"
    );
    let kegged = kitchen(&[("bottle, 2.5", "keg, 2.5")]);
    let list = part(&kegged, "SHOPPING");
    assert!(
        !list.contains("priming") && !list.contains("bottles"),
        "{list}"
    );
    let plan = brew(&[DEMO, DEMO_PLANT], "Stove top").plan().unwrap();
    let list = plan.shopping_list(Style::default());
    assert!(list.iter().all(|line| !line.what.contains("priming")));
    assert!(list.iter().any(|line| line.supply == Supply::Missing));
}

#[test]
fn the_gas_says_what_to_set_and_what_makes_it_vary() {
    let keg = brew(&[DEMO, DEMO_PLANT], "Stove top").plan().unwrap();
    let packaging = part(&keg.to_string(), "PACKAGING");
    let said =
        "[ ] set the regulator to 0.95 bar (gauge), keg at 4 °C for a week: 5.2 ± 0.2 g/L of CO2";
    assert!(packaging.contains(said), "{packaging}");
    let packaging = part(&kitchen(&[]), "PACKAGING");
    let told = "Most of the ±: sugar still to ferment; bottle only when the gravity is steady.";
    assert!(packaging.contains(told), "{packaging}");
}

/// Kegs on a kegged beer, acid where it is weighed or corrects the mash, tables where they say something.
#[test]
fn nothing_irrelevant_is_said() {
    let (bottled, kegged) = (kitchen(&[]), kitchen(&[("bottle, 2.5", "keg, 2.5")]));
    assert!(
        !bottled.contains("Kegs:") && kegged.contains("Kegs:"),
        "{bottled}"
    );
    // By two models that agree, and of water that is left as it comes.
    assert!(!bottled.contains("BITTERNESS BY MODEL"), "{bottled}");
    let watered = fixture("sheet/kitchen") + "  water calcium 40 mg/L, alkalinity 60 mg/L\n";
    let recipe = fixture("sheet/steeped_extract");
    let as_it_comes = brew(&[&recipe, &watered], "Kitchen").plan().unwrap();
    assert!(
        !as_it_comes.to_string().contains("Mash water, mg/L"),
        "{as_it_comes}"
    );

    let demo = brew(&[DEMO, DEMO_PLANT], "Stove top")
        .plan()
        .unwrap()
        .to_string();
    assert!(demo.contains("BITTERNESS BY MODEL"), "{demo}");
    let acid = "acid into water, never water into acid";
    assert!(!part(&demo, "WATER").contains(acid), "{demo}");
    assert!(part(&demo, "MASH").contains(acid), "{demo}");
    assert!(
        part(&demo, "WATER").contains("No water report for Stove top"),
        "{demo}"
    );

    let fruit = changed(DEMO, &[("sour cherry juice", "raspberries")]);
    let fruited = brew(&[&fruit, DEMO_PLANT], "Stove top")
        .plan()
        .unwrap()
        .to_string();
    assert!(
        fruited.contains("ACID FROM THE FRUIT AND JUICE"),
        "{fruited}"
    );
}

/// No mash is assumed for a beer of malt extract, with grain steeped in it or without.
#[test]
fn malt_extract_assumes_no_mash() {
    let extract = fixture("sheet/extract");
    let alone = brew(&[&extract], "Pot").plan().unwrap().to_string();
    for sheet in [kitchen(&[]), alone] {
        let assumed = part(&sheet, "ASSUMPTIONS");
        for word in [
            "bag",
            "absorption",
            "conversion",
            "rests",
            "mash water",
            "brewhouse yield",
        ] {
            assert!(!assumed.contains(word), "{word}: {assumed}");
        }
        assert!(
            assumed.contains("of the malt extract ferments"),
            "{assumed}"
        );
    }
    let mashed = brew(&[DEMO, DEMO_PLANT], "Stove top")
        .plan()
        .unwrap()
        .to_string();
    let assumed = part(&mashed, "ASSUMPTIONS");
    for said in [
        "Assumed: conversion 98 %, not given (62 % of the spread of original gravity)",
        "the mash rests give 99 % of the fermentable extract of 60 min at 65 °C",
        "absorption 1 L/kg",
    ] {
        assert!(assumed.contains(said), "{said}: {assumed}");
    }
}
