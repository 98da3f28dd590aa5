//! The brew sheet: the demo line by line, width, and that nothing is left off.

use proptest::prelude::*;
use wortwright::catalogue::Catalogue;
use wortwright::diagnostic::TextRef;
use wortwright::job::Job;
use wortwright::notation::{Reading, read};
use wortwright::quantity::UnitSystem;
use wortwright::scale::Plan;
use wortwright::sheet::{SheetLength, SheetOptions};
use wortwright::speech::{Speaks, Style};
use wortwright_tests::fixtures::{DEMO, DEMO_PLANT, changed, fixture};

fn demo() -> Reading<'static> {
    read(&[
        TextRef {
            name: "saltmarsh-lantern.gyle",
            text: DEMO,
        },
        TextRef {
            name: "stove-top.gyle",
            text: DEMO_PLANT,
        },
    ])
}

/// A plan of a reading for the plant of a name.
fn plan(reading: &Reading<'_>, plant: &str) -> Plan {
    let job = Job::from_reading(
        reading.clone(),
        [] as [TextRef<'_>; 0],
        &Catalogue::builtin(),
    )
    .unwrap();
    job.on(plant).unwrap().plan().unwrap()
}

/// The plan of a text for its plant `Pot`.
fn planned(text: &str) -> Plan {
    let reading = read(&[TextRef::new("text", text)]);
    assert!(reading.is_usable(), "{:#?}", reading.diagnostics);
    plan(&reading, "Pot")
}

fn in_units(units: UnitSystem) -> SheetOptions {
    SheetOptions::default().with_style(Style::customary(units))
}

/// A text without its line breaks, so that a sentence is found wherever it was wrapped.
fn unwrapped(text: &str) -> String {
    text.split_whitespace().collect()
}

#[track_caller]
fn holds_everything(plan: &Plan, style: Style) {
    let sheet = plan.sheet(&SheetOptions::default().with_style(style));
    let all = unwrapped(&sheet);
    let mut texts: Vec<String> = Vec::new();
    texts.extend(plan.outcomes.iter().map(|o| o.text(style)));
    texts.extend(plan.warnings.iter().map(|w| w.text(style)));
    texts.extend(plan.changes.iter().map(|c| c.text(style)));
    texts.extend(plan.drift.iter().map(|d| d.text(style)));
    let cautions = plan.cautions();
    texts.extend(cautions.iter().map(|c| c.text(style)));
    texts.extend(plan.additions.iter().map(|a| a.name.clone()));
    texts.extend(plan.shopping.iter().map(|p| p.name.clone()));
    for text in texts {
        assert!(
            all.contains(&unwrapped(&text)),
            "`{text}` is not on\n{sheet}"
        );
    }
    for line in sheet.lines() {
        assert!(line.chars().count() <= 96, "too wide: {line}");
        assert_eq!(line, line.trim_end());
    }
}

#[test]
fn the_demo_in_metric_units() {
    insta::assert_snapshot!(plan(&demo(), "Stove top").sheet(&in_units(UnitSystem::Metric)));
}

#[test]
fn the_demo_in_us_customary_units() {
    insta::assert_snapshot!(plan(&demo(), "Stove top").sheet(&in_units(UnitSystem::Us)));
}

#[test]
fn the_demo_in_imperial_units() {
    insta::assert_snapshot!(plan(&demo(), "Stove top").sheet(&in_units(UnitSystem::Imperial)));
}

#[test]
fn the_demo_predicted_on_its_own_plant() {
    let prediction = Job::from_reading(demo(), [] as [TextRef<'_>; 0], &Catalogue::builtin())
        .unwrap()
        .as_written()
        .unwrap();
    insta::assert_snapshot!(prediction.sheet(&SheetOptions::default()));
}

/// Two pages of 64 lines of A4, pinned to the wall, that end with packaging.
#[test]
fn the_brief_sheet_is_two_pages() {
    let job = Job::from_reading(demo(), [] as [TextRef<'_>; 0], &Catalogue::builtin()).unwrap();
    let brew = job.on("Stove top").unwrap();
    let plan = brew.plan().unwrap();
    let found = brew.substitutes().unwrap();
    let taken = found.taken().unwrap().plan().unwrap();
    for units in [UnitSystem::Metric, UnitSystem::Us, UnitSystem::Imperial] {
        let options = in_units(units).with_substitutes(found.best(Style::customary(units)));
        let brief = taken.sheet(&options.with_length(SheetLength::Brief));
        let lines = brief.lines().count();
        assert!(lines <= 128, "{lines} lines\n{brief}");
    }
    // A plant in US units with a water report, a stock that lacks two things, and a tight fermenter.
    let porch = fixture("sheet/porch");
    let job = Job::read([("beer", DEMO), ("porch", porch.as_str())]).unwrap();
    let on_porch = job.on("Porch").unwrap();
    let found = on_porch.substitutes().unwrap();
    let best = found.best(Style::customary(UnitSystem::Us));
    let options = SheetOptions::default().with_substitutes(best);
    let brief = found
        .taken()
        .unwrap()
        .plan()
        .unwrap()
        .sheet(&options.with_length(SheetLength::Brief));
    assert!(
        brief.contains("WARNINGS") && brief.contains("after salts"),
        "{brief}"
    );
    assert!(
        brief.lines().count() <= 128,
        "{} lines\n{brief}",
        brief.lines().count()
    );
    let brief = plan.sheet(&SheetOptions::default().with_length(SheetLength::Brief));
    let full = plan.sheet(&SheetOptions::default());
    let (day, rest) = full.split_once("CHANGES FROM THE ORIGINAL SHEET").unwrap();
    assert!(day.starts_with(&brief), "{brief}");
    assert!(rest.contains("ASSUMPTIONS") && rest.contains("SAFETY"));
    assert!(!brief.contains("ASSUMPTIONS"));
}

/// By hand: water from 14 °C (the coolant) to 69.2 °C at 1 °C/min is 55 min; 50 min of rest, 10 °C of heating, 10 min of
/// rest; two drains of 15 min; 76 °C to 98.8 °C (350 m) is 23 min; 75 min of boil; 10 min of cooling, 25 min of stand and
/// 25 min of cooling.
#[test]
fn the_day_goes_by_the_clock() {
    let plan = plan(&demo(), "Stove top");
    let start = "9:00".parse().unwrap();
    for (options, times) in [
        (
            SheetOptions::default(),
            [
                "0:55", "1:55", "2:05", "2:35", "2:58", "4:13", "4:48", "5:13",
            ],
        ),
        (
            SheetOptions::default().starting(start),
            [
                "9:55", "10:55", "11:05", "11:35", "11:58", "13:13", "13:48", "14:13",
            ],
        ),
    ] {
        let sheet = plan.sheet(&options);
        let at = |what: &str| {
            let line = sheet.lines().find(|line| line.contains(what));
            let line = line.unwrap_or_else(|| panic!("no {what}: {sheet}"));
            line.split_whitespace().nth(2).unwrap().to_owned()
        };
        let (_, heated) = sheet.split_once("heat on at ").unwrap();
        let heated = heated.split(';').next().unwrap().to_owned();
        let shown = [
            at("rest 50 min"),
            at("rest 10 min"),
            at("lift and drain"),
            heated,
            at("boil starts"),
            at("heat off"),
            at("cool to 20 °C"),
            at("pitch farmhouse"),
        ];
        assert_eq!(shown, times, "{sheet}");
    }
}

/// Falling where the juice is weaker than the beer, rising where it is stronger.
#[test]
fn the_sheet_says_which_way_an_addition_moves_the_gravity() {
    let rises = plan(&demo(), "Stove top").sheet(&SheetOptions::default());
    assert!(rises.contains("Gravity just after (rises)"), "{rises}");
    let early = DEMO
        .replace("when 6 P", "when 14 P")
        .replace("13.5 Bx", "4 Bx");
    let weak = DEMO_PLANT.replace("sour cherry juice, 13 Bx", "sour cherry juice, 4 Bx");
    let sources = [
        TextRef::new("saltmarsh-lantern.gyle", &early),
        TextRef::new("stove-top.gyle", &weak),
    ];
    let falls = plan(&read(&sources), "Stove top").sheet(&SheetOptions::default());
    assert!(falls.contains("Gravity just after (falls)"), "{falls}");
}

/// A stand-hopped pale ale on a plant of the same size, with the way from its boil to cold wort.
fn stood(hot_side: &str, more: &str) -> String {
    let text = format!(
        "recipe Stood\nbatch 20 L into fermenter\ntarget original 12 P\nmash\n  100 % pale ale malt\n  rest 66 C for 60 min\n\
         boil 60 min\n  20 g northern brewer, 9 % alpha at 10 min\n{hot_side}ferment\n  pitch english ale yeast at 19 C\n{more}\
         brewhouse Pot\n  batch 20 L into fermenter\n  kettle 40 L\n  fermenter 30 L\n  lauter bag\n  cool to 20 C in 25 min\n  \
         bitterness kinetic\n"
    );
    planned(&text).sheet(&SheetOptions::default())
}

/// Each cooling that the bitterness counts is done on the day too, behind a stand or without one.
#[test]
fn every_cooling_that_counts_is_on_the_sheet() {
    let cooled = stood("cool to 80 C in 60 min\n", "");
    assert!(
        cooled.contains("80 °C  cool the wort to this in 60 min"),
        "{cooled}"
    );
    let skipped = stood(
        "cool to 90 C in 60 min\nstand 20 min at 90 C\ncool to 75 C in 10 min\nstand 25 min\n  5 g juniper berries for 25 min\n",
        "",
    );
    assert!(
        skipped.contains("90 °C  cool the wort to this in 60 min"),
        "{skipped}"
    );
    assert!(skipped.contains("stand at 75 °C"), "{skipped}");
    // The stand without additions belongs to the original brewery.
    assert!(!skipped.contains("stand at 90 °C"), "{skipped}");
    let at_once = stood("stand 25 min\n  5 g juniper berries for 25 min\n", "");
    assert!(at_once.contains("stand starting at flame-out"), "{at_once}");
}

/// What must not go into a drink is neither bought nor weighed, at whatever stage.
#[test]
fn a_blocked_plant_has_no_box_to_tick() {
    let text = "recipe B\nbatch 10 L into fermenter\nmash\n  2 kg pale ale malt\nboil 60 min\n  5 g tansy at 10 min\n\
                stand 20 min at 80 C\n  5 g pennyroyal\nbrewhouse Pot\n  batch 10 L into fermenter\n";
    let sheet = planned(text).sheet(&SheetOptions::default());
    let (head, day) = sheet.split_once("SHOPPING").unwrap();
    for name in ["tansy", "pennyroyal"] {
        assert!(head.contains(&format!("Do not use {name}")), "{sheet}");
        assert!(day.contains(&format!("leave out {name}")), "{sheet}");
        let boxes = day.lines().filter(|line| line.contains("[ ]"));
        assert_eq!(
            boxes.filter(|line| line.contains(name)).count(),
            0,
            "{sheet}"
        );
    }
}

/// Sugar that bursts the container is left out, and no gas is asked for.
#[test]
fn sugar_that_bursts_is_left_out() {
    for package in ["bottle, carbonate 5 g/L", "keg, carbonate 5 g/L at 20 C"] {
        let sheet = stood("", &format!("package\n  {package}\n  400 g table sugar\n"));
        assert!(sheet.contains("STOP"), "{sheet}");
        assert!(sheet.contains("leave out table sugar"), "{sheet}");
        let (_, packaging) = sheet.split_once("PACKAGING").unwrap();
        assert!(!packaging.contains("400 g  table sugar"), "{sheet}");
    }
}

#[test]
fn the_units_are_those_of_the_plant_unless_told() {
    let text = format!(
        "{DEMO_PLANT}\nbrewhouse Back porch\n  batch 5 gal into fermenter\n  kettle 10 gal\n  cool to 68 F in 20 min\n"
    );
    let reading = read(&[
        TextRef {
            name: "saltmarsh-lantern.gyle",
            text: DEMO,
        },
        TextRef {
            name: "plants.gyle",
            text: &text,
        },
    ]);
    let porch = plan(&reading, "Back porch");
    let sheet = porch.sheet(&SheetOptions::default());
    assert!(sheet.contains("5.00 gal into the fermenter"), "{sheet}");
    assert!(
        sheet.contains("68 °F") && !sheet.contains("20 °C"),
        "{sheet}"
    );
    assert_eq!(sheet, porch.sheet(&in_units(UnitSystem::Us)));
    assert!(
        plan(&reading, "Stove top")
            .sheet(&SheetOptions::default())
            .contains("20 °C")
    );
}

#[test]
fn nothing_of_the_demo_is_left_off() {
    let plan = plan(&demo(), "Stove top");
    for units in [UnitSystem::Metric, UnitSystem::Us, UnitSystem::Imperial] {
        holds_everything(&plan, Style::customary(units));
    }
}

/// The demo with a line of its small plant replaced.
fn plan_on(line: &str, by: &str) -> Plan {
    let text = DEMO_PLANT.replace(line, by);
    assert_ne!(text, DEMO_PLANT);
    let sources = [
        TextRef::new("saltmarsh-lantern.gyle", DEMO),
        TextRef::new("stove-top.gyle", &text),
    ];
    plan(&read(&sources), "Stove top")
}

/// Its day is that of the plan in which the first way out was taken, and the box at the head says so.
#[test]
fn a_beer_out_of_reach_is_printed_for_its_first_way_out() {
    for (line, by) in [("kettle 16 L", "kettle 10 L"), ("batch 8 L", "batch 80 hL")] {
        let plant = changed(DEMO_PLANT, &[(line, by)]);
        let job = Job::read([("beer", DEMO), ("home", plant.as_str())]).unwrap();
        let brew = job.on("Stove top").unwrap();
        let plan = brew.plan().unwrap();
        let remedy = plan.remedy.clone().unwrap();
        let taken = brew.taking([remedy]).unwrap().plan().unwrap();
        let (sheet, of_taken) = (plan.to_string(), taken.to_string());
        let (head, day) = sheet.split_once("SHOPPING").unwrap();
        assert_eq!(
            Some(("", day)),
            of_taken.split_once("SHOPPING").map(|(_, day)| ("", day))
        );
        let mut outcomes = plan.outcomes.iter();
        let overflow = outcomes.find(|o| !o.remedies().is_empty()).unwrap();
        let text = overflow.text(Style::default());
        let (problem, ways) = text.split_once(" Options: ").unwrap();
        let first = ways.trim_end_matches('.').split("; or ").next().unwrap();
        let told = format!("{problem} THIS SHEET IS FOR OPTION 1.!! Option 1: {first}.");
        assert!(unwrapped(head).contains(&unwrapped(&told)), "{sheet}");
        assert!(!of_taken.contains("THIS SHEET IS FOR"), "{of_taken}");
    }
}

/// More boils off than the kettle holds, whatever the batch.
#[test]
fn an_impossible_brew_without_a_way_out_has_no_amounts() {
    let plan = plan_on("kettle 16 L", "kettle 1 L");
    assert!(plan.remedy.is_none(), "{:#?}", plan.remedy);
    let sheet = plan.sheet(&SheetOptions::default());
    let all = unwrapped(&sheet);
    for text in plan
        .outcomes
        .iter()
        .map(|outcome| outcome.text(Style::default()))
    {
        assert!(all.contains(&unwrapped(&text)), "{sheet}");
    }
    for change in &plan.changes {
        assert!(
            all.contains(&unwrapped(&change.text(Style::default()))),
            "{sheet}"
        );
    }
    // The source's figures stand; nothing stands that somebody could weigh out or heat.
    assert!(
        sheet.contains("21 IBU") && sheet.contains("STOP"),
        "{sheet}"
    );
    assert!(!sheet.contains("[ ]") && !sheet.contains(">>"), "{sheet}");
    for word in ["SHOPPING", "MASH", "gyle no.", "____", "WARNINGS"] {
        assert!(!sheet.contains(word), "{word}: {sheet}");
    }
    assert!(sheet.lines().all(|line| line.chars().count() <= 96));
}

#[test]
fn what_cannot_be_met_stands_before_the_first_step() {
    // 9.05 L of beer.
    let over = plan_on("fermenter 13 L", "fermenter 8.5 L");
    let sheet = over.sheet(&SheetOptions::default());
    let (before, after) = sheet.split_once("SHOPPING").unwrap();
    assert!(before.contains("!! Fermenter too small: 8.50 L"), "{sheet}");
    assert!(!unwrapped(after).contains("25%forfoam"), "{sheet}");
    holds_everything(&over, Style::default());
    // With room for the beer and none for the foam it is a matter for later.
    let tight = plan_on("fermenter 13 L", "fermenter 10 L");
    let sheet = tight.sheet(&SheetOptions::default());
    let (before, after) = sheet.split_once("1. WARNINGS").unwrap();
    assert!(!before.contains("Fermenter too small"), "{sheet}");
    assert!(after.contains("- Fermenter too small: 10.0 L"), "{sheet}");
    holds_everything(&tight, Style::default());
}

#[test]
fn a_stand_hotter_than_the_boil_is_printed_as_it_is_held() {
    let recipe = DEMO.replace("stand 25 min at 75 C", "stand 25 min at 98 C");
    let plant = DEMO_PLANT.replace("altitude 350 m", "altitude 2000 m");
    let sources = [
        TextRef::new("saltmarsh-lantern.gyle", &recipe),
        TextRef::new("stove-top.gyle", &plant),
    ];
    let sheet = plan(&read(&sources), "Stove top").sheet(&SheetOptions::default());
    // Water boils at 93.3 °C at 2000 m (ICAO atmosphere and saturation pressure).
    assert!(
        unwrapped(&sheet).contains("standat93°C,theboilingpointatyouraltitude(originalsheet:98°C)"),
        "{sheet}"
    );
    assert!(!sheet.contains("min  stand at 98 °C"), "{sheet}");
}

#[test]
fn figures_are_no_finer_than_they_are_known() {
    let recipe = DEMO.replace("8 g/hL     carrageenan", "4 g/hL     carrageenan");
    let sources = [
        TextRef::new("saltmarsh-lantern.gyle", &recipe),
        TextRef::new("stove-top.gyle", DEMO_PLANT),
    ];
    let plan = plan(&read(&sources), "Stove top");
    let us = plan.sheet(&in_units(UnitSystem::Us));
    // By hand: 4 g/hL of 20 hL in 20.6 hL at the end of the boil, 38.8 mg/L, weighed or not: 0.147 g in 3.785 L.
    assert!(us.contains("carrageenan: same dose, 0.15 g/gal"), "{us}");
    let metric = plan.sheet(&SheetOptions::default());
    assert!(
        metric.contains("112 billion cells: 8 to 19 g dry"),
        "{metric}"
    );
}

#[test]
fn a_plant_that_does_not_mash_gets_no_mash_on_its_sheet() {
    let plan = planned(&fixture("sheet/extract"));
    let sheet = plan.sheet(&SheetOptions::default());
    assert!(!sheet.contains(" MASH "), "{sheet}");
    assert!(sheet.contains("into the kettle"), "{sheet}");
    assert!(!sheet.contains("the bag"), "{sheet}");
    holds_everything(&plan, Style::default());
}

/// A plant that says nothing of lautering has a bag on its sheet only where the model takes it to have one.
#[test]
fn a_plant_is_told_to_drain_its_grain_as_it_is_reckoned() {
    const BAG: &str = "lift the bag and let it drain over the kettle";
    const TUN: &str = "run off slowly, keeping the grain bed covered with sparge water";
    // A bag hangs in a kettle that is heated, and a brewery heats its mash (common practice, no source).
    for (plant, told, is_bag, is_heated) in [
        ("batch 10 L into fermenter\n  kettle 20 L", BAG, true, true),
        (
            "batch 20 hL into fermenter\n  kettle 30 hL",
            TUN,
            false,
            true,
        ),
        (
            "batch 10 L into fermenter\n  kettle 20 L\n  extract yield 80 %",
            TUN,
            false,
            false,
        ),
    ] {
        let text = changed(&fixture("sheet/two_rests"), &[("# plant", plant)]);
        let plan = planned(&text);
        let sheet = plan.sheet(&SheetOptions::default());
        assert!(sheet.contains(told), "{plant}\n{sheet}");
        assert_eq!(sheet.contains(", direct heat"), is_heated, "{sheet}");
        // In a bag the kettle is the vessel of the mash.
        assert_eq!(sheet.contains(" in the vessel."), is_bag, "{sheet}");
    }
}

#[test]
fn a_wort_that_is_not_boiled_has_no_timetable() {
    let plan = planned(&fixture("sheet/raw"));
    let sheet = plan.sheet(&SheetOptions::default());
    assert!(sheet.contains("WORT (NO BOIL)"), "{sheet}");
    assert!(!sheet.contains("left in the boil"), "{sheet}");
    assert!(!sheet.contains("IBU"), "{sheet}");
    // The model counts the sugar after the run-off, so it must not stand with the grain.
    let (_, after_run_off) = sheet.split_once("WORT (NO BOIL)").unwrap();
    assert!(after_run_off.contains("sucrose, "), "{sheet}");
    holds_everything(&plan, Style::default());
}

#[test]
fn first_wort_hops_stand_before_the_boil_and_the_last_after_the_heat_is_off() {
    let plan = planned(&fixture("sheet/first_wort_hops"));
    let sheet = plan.sheet(&SheetOptions::default());
    let (_, boil) = sheet.split_once("BOIL for").unwrap();
    let at = |what: &str| boil.find(what).unwrap();
    assert!(at("1st wort") < at("boil starts"));
    assert!(at("boil starts") < at("heat off"));
    assert!(at("heat off") < at("styrian golding"));
}

#[test]
fn acid_of_juice_is_counted_by_hand() {
    // 1 L at 12 g/L and 1 L whose line states 20 g/L in the liquid of 10 L wort and 2 L juice: 32 g in about 12 L.
    let text = fixture("sheet/sour");
    let sheet_of = |text: &str| planned(text).sheet(&SheetOptions::default());
    let sheet = sheet_of(&text);
    assert!(sheet.contains("About 2.7 g/L"), "{sheet}");
    assert!(
        !sheet.contains("where the sheet gives none; lots vary"),
        "{sheet}"
    );
    // A drop of it is little, and not nothing.
    let little = text
        .replace("add 1 L raspberry", "add 20 mL raspberry")
        .replace("  add 1 L redcurrant juice, acidity 20 g/L when 5 P\n", "");
    let sheet = sheet_of(&little);
    assert!(sheet.contains("Less than 0.05 g/L in the beer"), "{sheet}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn no_line_is_too_wide_for_any_name(
        beer in "\\PC{0,160}",
        plant in "\\PC{0,160}",
        source in "\\PC{0,300}",
        malt in "[a-zß°é ]{1,200}",
        units in prop_oneof![Just(UnitSystem::Metric), Just(UnitSystem::Us), Just(UnitSystem::Imperial)],
        factor in 0.001..10_000.0_f64,
    ) {
        let text = DEMO_PLANT.replace("batch 8 L", &format!("batch {factor:.3} L"));
        let reading = read(&[
            TextRef { name: "saltmarsh-lantern.gyle", text: DEMO },
            TextRef { name: "stove-top.gyle", text: &text },
        ]);
        let mut plan = plan(&reading, "Stove top");
        plan.recipe.name = beer;
        plan.brewhouse.name = plant;
        plan.recipe.source = Some(source);
        for addition in &mut plan.additions {
            addition.name = malt.clone();
        }
        for purchase in &mut plan.shopping {
            purchase.name = malt.clone();
        }
        let sheet = plan.sheet(&in_units(units));
        for line in sheet.lines() {
            prop_assert!(line.chars().count() <= 96, "too wide: {line}");
        }
    }
}
