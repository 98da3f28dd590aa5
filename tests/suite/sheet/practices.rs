//! How the sheet speaks in each practice: one unit for a sort of thing, digits that a scale or a mark shows, and columns.

use wortwright::job::Job;
use wortwright::quantity::UnitSystem;
use wortwright::sheet::SheetOptions;
use wortwright::speech::Style;
use wortwright_tests::fixtures::{DEMO, DEMO_PLANT, fixture};

/// The demo, a plant with a water report in US units, and an extract beer, each in the units of a practice.
fn sheets(units: UnitSystem) -> [String; 3] {
    let (porch, kitchen) = (fixture("sheet/porch"), fixture("sheet/kitchen"));
    let extract = fixture("sheet/steeped_extract");
    let options = SheetOptions::default().with_style(Style::customary(units));
    [
        (DEMO, DEMO_PLANT, "Stove top"),
        (DEMO, porch.as_str(), "Porch"),
        (extract.as_str(), kitchen.as_str(), "Kitchen"),
    ]
    .map(|(beer, plant, name)| {
        let job = Job::read([("beer", beer), ("plant", plant)]).unwrap();
        job.on(name).unwrap().plan().unwrap().sheet(&options)
    })
}

/// Ticked lines without their box.
fn ticks(sheet: &str) -> impl Iterator<Item = &str> {
    sheet
        .lines()
        .filter_map(|line| line.split_once("[ ]").map(|(_, line)| line))
}

#[test]
fn a_sort_of_thing_has_one_unit() {
    for units in [UnitSystem::Us, UnitSystem::Imperial] {
        for sheet in sheets(units) {
            for line in ticks(&sheet).filter(|line| line.contains("% alpha")) {
                assert!(line.contains(" oz "), "{line}");
            }
            for line in ticks(&sheet).filter(|line| line.contains("into the mash water")) {
                assert!(!line.contains(" oz "), "{line}");
            }
            for line in ticks(&sheet).filter(|line| line.contains("carrageenan")) {
                let amount = line.split_once("carrageenan").unwrap().0.trim_end();
                assert!(amount.ends_with(" g"), "{line}");
            }
            let flat: Vec<_> = sheet.split_whitespace().collect();
            for words in flat.windows(3) {
                let most = if units == UnitSystem::Us { 32.0 } else { 20.0 };
                let is_small = words[1..] == ["fl", "oz"] || words[1..] == ["imp", "fl"];
                let number: Option<f64> = words[0].trim_start_matches('(').parse().ok();
                assert!(
                    !is_small || number.is_none_or(|number| number < most),
                    "{words:?}"
                );
            }
            if units == UnitSystem::Us {
                let (_, day) = sheet.split_once(". WATER").unwrap();
                let day = day.split_once(". BOIL").unwrap().0;
                assert!(!day.contains("EBC"), "{day}");
            }
        }
    }
}

/// A bottle is opened by the size that stands on it.
#[test]
fn a_pack_is_named_as_the_stock_names_it() {
    for units in [UnitSystem::Metric, UnitSystem::Us, UnitSystem::Imperial] {
        let [demo, ..] = sheets(units);
        assert!(demo.contains("opens 1 x 700 mL"), "{demo}");
    }
}

#[test]
fn amounts_stand_in_one_column() {
    for units in [UnitSystem::Metric, UnitSystem::Us, UnitSystem::Imperial] {
        for sheet in sheets(units) {
            let boil = sheet.split_once(". BOIL").unwrap().1;
            let boil = boil.split_once("heat off").unwrap().0;
            let lines = boil
                .lines()
                .filter(|line| line.contains(" min  ") && line.contains('%'));
            let columns: Vec<_> = lines
                .map(|line| {
                    let after = line.split_once(" min ").unwrap();
                    let amount = after.1.trim_start();
                    let name = amount.split_once("  ").unwrap().1;
                    line.chars().count() - name.trim_start().chars().count()
                })
                .collect();
            assert!(columns.len() > 1, "{sheet}");
            assert!(columns.windows(2).all(|pair| pair[0] == pair[1]), "{sheet}");
        }
    }
}

/// Neither more digits than a scale shows, nor a spread that the figure's own digits do not show.
#[test]
fn a_number_is_printed_to_what_it_is_worth() {
    for units in [UnitSystem::Metric, UnitSystem::Us, UnitSystem::Imperial] {
        for sheet in sheets(units) {
            for word in sheet.split_whitespace() {
                let digits = word.split_once('.').map_or(0, |(_, after)| after.len());
                let number = word.parse::<f64>().is_ok();
                assert!(!number || digits <= 3, "{word}: {sheet}");
            }
            assert!(!sheet.contains("± 0.000"), "{sheet}");
            // From pages in degrees Fahrenheit.
            assert!(
                !sheet.contains("68.3 °C") && !sheet.contains("18.9 °C"),
                "{sheet}"
            );
        }
    }
    let [demo, _, extract] = sheets(UnitSystem::Metric);
    for said in [
        "65 g  caramel malt 150 EBC",
        "5 g  styrian golding",
        "heated to 69 °C",
        "trub 0.6 L",
        "3.9 L headspace",
        "a sixth of a Campden tablet",
        "6.1 % of the volume before the addition",
        "75 g dried malt extract; high: 0.39 L water",
    ] {
        assert!(demo.contains(said), "{said}: {demo}");
    }
    for said in ["caramel malt, 158 EBC", "68 °C", "19 °C"] {
        assert!(extract.contains(said), "{said}: {extract}");
    }
}
