//! Texts into recipes, plants and stocks: measures, names, spacing, and several texts read together.

use super::texts::{clean, named, recipe, share_percent};
use std::fmt::Write as _;
use wortwright::catalogue::{Catalogue, EntryRef, Kind};
use wortwright::diagnostic::{Code, TextRef};
use wortwright::notation::{
    DecimalComma, Document, ReadOptions, Reading, ReadingNote, read, read_with,
};
use wortwright::quantity::Unit;
use wortwright::quantity::uom::si::{mass::kilogram, time::minute};
use wortwright::recipe::{Amount, At, HopForm, Recipe};

#[test]
fn a_sheet_in_us_measure_is_read() {
    let reading = clean(include_str!("fixtures/us_measure.gyle"));
    let recipe = reading.recipe.as_ref().unwrap();
    let original = recipe.targets.original.unwrap();
    // 1.064 is 15.66 °P in the table of the density relations.
    assert!((original.value().plato() - 15.66).abs() < 0.01);
    assert_eq!(
        (original.number(), original.unit()),
        (1.064, Unit::SpecificGravity)
    );
    assert_eq!(
        recipe.targets.final_extract.unwrap().range(),
        Some((1.012, 1.014))
    );
    assert!(recipe.targets.alcohol.unwrap().is_approximate());
    // 25 / 12.7 EBC to the SRM.
    assert!((recipe.targets.colour.unwrap().value().ebc() - 11.811).abs() < 1e-3);
    // 40 lb 8 oz = 40.5 lb = 18.3705 kg.
    let oats = named(&recipe.mash.additions, "flaked oats");
    assert!(matches!(oats.amount, Some(Amount::Mass(m))
        if m.number() == 40.5 && (m.value().get::<kilogram>() - 18.3705).abs() < 1e-4));
    assert!((recipe.mash.rests[0].temperature.value().celsius() - 66.667).abs() < 1e-3);
    assert_eq!(recipe.boil.time.unwrap().value().get::<minute>(), 90.0);
    assert_eq!(recipe.boil.additions[1].timing.at, Some(At::FirstWort));
    let cascade = recipe.stands().next().unwrap().additions[0]
        .ingredient()
        .unwrap();
    assert_eq!(
        (cascade.name.as_str(), cascade.facts.form),
        ("cascade", Some(HopForm::Pellet))
    );
    let dry = &recipe.fermentation.additions[0];
    assert!(
        matches!(dry.timing.at, Some(At::AfterPitching(d)) if d.value().get::<minute>() == 7200.0)
    );
    assert_eq!(dry.timing.contact.unwrap().value().get::<minute>(), 4320.0);
    // 2.5 volumes of 1.977 g/L.
    assert!(
        (recipe
            .package
            .carbonation
            .unwrap()
            .value()
            .grams_per_litre()
            - 4.9425)
            .abs()
            < 1e-9
    );
    let plant = &reading.brewhouses[0];
    assert!(
        (plant
            .altitude
            .unwrap()
            .value()
            .get::<wortwright::quantity::uom::si::length::meter>()
            - 1609.344)
            .abs()
            < 1e-9
    );
    assert_eq!(plant.water.as_ref().unwrap().ph.unwrap().number(), 7.6);
}

/// They stay as printed in the model; the brew made of them is that of the whole.
#[test]
fn shares_that_were_rounded_in_print_are_noted() {
    let text = "recipe A\nmash\n  66.6 % pale ale malt\n  33.3 % wheat malt\n";
    let reading = clean(text);
    let recipe = reading.recipe.as_ref().unwrap();
    assert_eq!(share_percent(&recipe.mash.additions[0]), 66.6);
    assert!(
        matches!(reading.notes[..], [ReadingNote::SharesNormalised { sum_pct, .. }]
        if (sum_pct - 99.9).abs() < 1e-9)
    );
}

#[test]
fn a_generic_trade_name_is_resolved_with_a_note() {
    let reading = clean("recipe A\nmash\n  5 kg munich malt\n");
    assert!(
        matches!(&reading.notes[..], [ReadingNote::GenericName { name, entry, .. }]
        if name == "munich malt" && entry == "light munich malt")
    );
}

/// A stone is 14 lb of 0.45359237 kg, and its pounds those of either practice: 2 stone 7 lb are 35 lb.
#[test]
fn malt_is_weighed_in_stone() {
    for (amount, kg) in [("5 stone", 31.751_465_9), ("2 stone 7 lb", 15.875_732_95)] {
        let recipe = recipe(&format!("recipe A\nmash\n  {amount} pale ale malt\n"));
        let malt = named(&recipe.mash.additions, "pale ale malt");
        let Some(Amount::Mass(mass)) = &malt.amount else {
            panic!("{malt:?}")
        };
        assert!(
            (mass.value().get::<kilogram>() - kg).abs() < 1e-9,
            "{amount}"
        );
    }
}

#[test]
fn names_may_look_like_something_else() {
    let text = include_str!("fixtures/odd_names.gyle");
    // The unknown ones are warned of.
    let reading = read(&[TextRef::new("text", text)]);
    assert!(reading.is_usable());
    let recipe = reading.recipe.unwrap();
    let names: Vec<_> = recipe
        .boil
        .additions
        .iter()
        .map(|a| a.ingredient().unwrap().name.as_str())
        .collect();
    let expected = [
        "grains of paradise",
        "lactic acid 88 %",
        "malt for stout",
        "honey",
        "4 kings syrup",
    ];
    assert_eq!(names, expected);
}

#[test]
fn spacing_line_ends_and_marks_do_not_matter() {
    let plain = recipe("recipe A\nmash\n  70 % pale ale malt, 5 EBC\n  30 % wheat malt\n");
    for text in [
        "\u{feff}recipe A\r\nmash\r\n\t70% pale ale malt,5EBC\r\n\t30% wheat malt\r\n",
        "recipe  A   # a beer\n\n# grist\nmash\n   70 %   pale ale malt ,  5 EBC # base\n# more\n   30 % wheat malt",
        "RECIPE A\nMash\n 70 % pale ale malt, colour 5 ebc\n 30 PERCENT wheat malt",
    ] {
        assert_eq!(recipe(text), plain, "{text:?}");
    }
}

#[test]
fn texts_that_are_read_together_join() {
    let sources = [
        TextRef::new(
            "a",
            "recipe A\nbrewed on Barn\nmash\n  5 kg pale ale malt\n",
        ),
        TextRef::new(
            "b",
            "brewhouse Barn\n  kettle 30 L\nstock\n  1 kg wheat malt\n",
        ),
        TextRef::new("c", "stock\n  2 kg rye malt\nboil 60 min\n"),
    ];
    let reading = read(&sources);
    assert_eq!(reading.diagnostics, []);
    assert_eq!(reading.stock.lots.len(), 2);
    assert!(reading.recipe.unwrap().boil.time.is_some());
    assert_eq!(reading.documents.len(), 3);
}

#[test]
fn a_host_may_accept_decimal_commas() {
    let text = [TextRef::new(
        "a",
        "recipe A\nmash\n  4,5 kg pale ale malt, 5,5 EBC\n",
    )];
    assert!(!read(&text).is_usable());
    let options = ReadOptions::default().with_decimal_comma(DecimalComma::Accepted);
    let reading = read_with(&text, &Catalogue::builtin(), &options);
    assert_eq!(reading.diagnostics, []);
    let malt = &reading.recipe.unwrap().mash.additions[0];
    assert!(matches!(malt.amount, Some(Amount::Mass(m)) if m.value().get::<kilogram>() == 4.5));
}

#[test]
fn an_own_ingredient_is_known_to_the_whole_text() {
    let reading = clean(include_str!("fixtures/own_malt_and_hop.gyle"));
    let malt = reading.recipe.as_ref().unwrap().mash.additions[0]
        .ingredient()
        .unwrap();
    assert_eq!(
        (malt.entry.as_deref(), malt.kind),
        (Some("Barn-smoked malt"), Kind::Malt)
    );
    assert_eq!(reading.ingredients.len(), 2);
    let own = Catalogue::builtin().with(reading.ingredients.clone());
    let hop = own.find("hedge hop").unwrap();
    assert!(matches!(hop.entry, EntryRef::Hop(hop) if hop.alpha().unwrap().percent() == 6.0));
}

#[test]
fn an_error_beyond_the_listed_findings_still_counts() {
    // 120 warnings, then an error that no longer fits the list.
    let mut lots = String::new();
    for i in 0..120 {
        let _ = writeln!(lots, "  1 kg unheard-of thing {i}th");
    }
    let text = format!("stock\n{lots}brewhouse A\n  kettle 20 kg\n");
    let reading = read(&[TextRef::new("text", &text)]);
    assert_eq!(reading.diagnostics.len(), 101);
    let last = reading.diagnostics.last().unwrap();
    assert_eq!(last.code, Code::TooMany);
    assert_eq!(last.message, "21 more findings are not listed");
    assert!(!reading.is_usable());
}

#[test]
fn readings_can_cross_threads() {
    fn check<T: Send + Sync>() {}
    check::<Reading<'static>>();
    check::<Document<'static>>();
}

#[test]
fn a_document_outlives_its_text() {
    let document = {
        let text = String::from("recipe A  # mine\nmash\n  5 kg pale ale malt\n");
        read(&[TextRef::new("text", &text)])
            .documents
            .remove(0)
            .into_owned()
    };
    assert_eq!(document.lines().count(), 2);
    let again = wortwright::notation::read_documents(vec![document], &Catalogue::builtin());
    assert_eq!(again.recipe.unwrap().name, "A");
}

/// A jotted page of a pale beer whose boil holds these lines, read without an error.
fn jotted(lines: &str) -> Recipe {
    let text = format!(
        "Pale\n20 L, OG 1.050\nMash 66 C 60 min\n5 kg pale malt\nBoil 60 min\n{lines}\nUS ale yeast 18 C\n"
    );
    let reading = read(&[TextRef::new("pale", &text)]);
    assert!(reading.is_usable(), "{text}\n{:#?}", reading.diagnostics);
    reading.recipe.unwrap()
}

/// Minutes that lead lines of the boil are none of the fermenter's.
#[test]
fn a_time_of_the_boil_does_not_hold_the_yeast() {
    for lines in [
        "30 g Saaz @60\nHops at 5 minutes:\n20 g Saaz",
        "60 Saaz 30 g",
    ] {
        let recipe = jotted(lines);
        let times: Vec<_> = recipe
            .fermentation
            .holds
            .iter()
            .map(|hold| &hold.time)
            .collect();
        assert!(
            times.iter().all(|time| time.is_none()),
            "{lines}: {times:?}"
        );
    }
}

/// What is weighed is not counted too: the ten are minutes.
#[test]
fn a_column_of_minutes_is_no_count() {
    let recipe = jotted("60 Saaz 30 g\n10 orange peel 20 g");
    let peel = recipe.boil.additions.last().unwrap();
    let amount = format!("{:?}", peel.amount);
    assert!(amount.contains("20"), "{amount}");
    assert!(
        format!("{:?}", peel.timing.at).contains("10"),
        "{:?}",
        peel.timing
    );
}

/// Units of a hop that is not known weigh nothing: they are asked about, never dropped.
#[test]
fn alpha_acid_units_without_an_alpha_are_an_error() {
    let text = "Pale\n20 L, OG 1.050\nMash 66 C 60 min\n5 kg pale malt\nBoil 60 min\n6 AAU Zorbek @ 30\nUS ale yeast\n";
    let reading = read(&[TextRef::new("pale", text)]);
    assert!(!reading.is_usable());
    assert!(
        reading
            .diagnostics
            .iter()
            .any(|found| found.message.contains("6 AAU"))
    );
}

/// What is steeped beside a mash is no rest of it, of jotted lines either.
#[test]
fn a_steep_beside_a_grist_is_no_rest() {
    let text = "Pale\n20 L, OG 1.050\nMash 66 C 60 min\n5 kg pale malt\nsteep 500 g crystal malt 30 min 65 C\nBoil 60 min\n30 g Saaz @60\nUS ale yeast\n";
    let reading = read(&[TextRef::new("pale", text)]);
    assert_eq!(reading.recipe.unwrap().mash.rests.len(), 1);
}
