//! Texts into recipes, plants and stocks.

use std::fmt::Write as _;
use std::fs;
use wortwright::catalogue::{Catalogue, Entry, EntryRef, Kind};
use wortwright::diagnostic::{Code, Source, render};
use wortwright::notation::{
    DecimalComma, Document, ReadOptions, Reading, ReadingNote, read, read_with,
};
use wortwright::quantity::Unit;
use wortwright::quantity::uom::si::{mass::kilogram, time::minute, volume::liter};
use wortwright::recipe::{
    Addition, Amount, At, BatchPoint, CoolingMethod, Evaporation, ExtractBasis, HopForm, HotStep,
    Lauter, Lot, PackSize, Recipe, YieldBasis, YieldPoint,
};
use wortwright::recipe::{Instrument, LogEvent};

/// Reads a text that must be free of findings.
pub(crate) fn clean(text: &str) -> Reading<'_> {
    let sources = [Source::new("text", text)];
    let reading = read(&sources);
    let said: Vec<String> = reading
        .diagnostics
        .iter()
        .map(|d| render(d, &sources))
        .collect();
    assert!(said.is_empty(), "{}", said.join("\n"));
    reading
}

fn recipe(text: &str) -> Recipe {
    clean(text).recipe.expect("a recipe")
}

fn demo() -> (String, String) {
    let text = |name: &str| fs::read_to_string(format!("examples/data/{name}.gyle")).unwrap();
    (text("saltmarsh-lantern"), text("stove-top"))
}

fn demo_recipe() -> Recipe {
    recipe(&demo().0)
}

fn named<'r>(additions: &'r [Addition], name: &str) -> &'r Addition {
    additions
        .iter()
        .find(|addition| addition.ingredient().is_some_and(|i| i.name == name))
        .unwrap_or_else(|| panic!("no {name}"))
}

fn share_percent(addition: &Addition) -> f64 {
    match addition.amount.as_ref().unwrap() {
        Amount::Share(share) => share.value().percent(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn the_demo_reads_as_its_sheet_says() {
    let (sheet, stove) = demo();
    let sources = [Source::new("sheet", &sheet), Source::new("stove", &stove)];
    let reading = read(&sources);
    assert_eq!(reading.diagnostics, []);
    assert_eq!(reading.notes, []);
    let recipe = reading.recipe.as_ref().unwrap();
    assert_eq!(recipe.name, "Saltmarsh Lantern");
    assert_eq!(
        recipe.source.as_deref(),
        Some("printed sheet of a 20 hL brewery")
    );
    assert_eq!(recipe.brewed_on.as_deref(), Some("Printed plant"));
    let batch = recipe.batch.as_ref().unwrap();
    assert_eq!(batch.volume.value().get::<liter>(), 2000.0);
    assert_eq!(
        (batch.volume.number(), batch.volume.unit()),
        (20.0, Unit::Hectolitre)
    );
    assert_eq!(batch.at, BatchPoint::IntoFermenter);
    let targets = &recipe.targets;
    assert_eq!(targets.original.unwrap().value().plato(), 15.6);
    assert_eq!(targets.final_extract.unwrap().value().plato(), 3.1);
    assert_eq!(targets.alcohol.unwrap().number(), 6.6);
    assert_eq!(targets.bitterness.unwrap().value().ibu(), 21.0);
    assert_eq!(targets.colour.unwrap().value().ebc(), 19.0);
    assert_eq!(
        recipe.water.calcium.unwrap().value().milligrams_per_litre(),
        60.0
    );
    assert_eq!(
        recipe
            .water
            .alkalinity
            .unwrap()
            .value()
            .milligrams_per_litre(),
        15.0
    );
    assert_eq!(recipe.water.stated().count(), 4);
}

#[test]
fn the_mash_and_the_boil_of_the_demo() {
    let recipe = &demo_recipe();
    let mash = &recipe.mash;
    assert_eq!(mash.additions.len(), 4);
    let pale = named(&mash.additions, "pale ale malt");
    assert_eq!(share_percent(pale), 70.0);
    assert_eq!(
        pale.ingredient()
            .unwrap()
            .facts
            .colour
            .unwrap()
            .value()
            .ebc(),
        5.5
    );
    assert_eq!(pale.ingredient().unwrap().kind, Kind::Malt);
    assert_eq!(
        named(&mash.additions, "flaked spelt")
            .ingredient()
            .unwrap()
            .kind,
        Kind::Grain
    );
    let caramel = named(&mash.additions, "caramel malt 150 EBC");
    assert_eq!(share_percent(caramel), 3.0);
    assert_eq!(
        caramel.ingredient().unwrap().entry.as_deref(),
        Some("caramel malt 150 EBC")
    );
    assert_eq!(mash.rests.len(), 2);
    assert_eq!(mash.rests[0].temperature.value().celsius(), 66.0);
    assert_eq!(mash.rests[1].time.value().get::<minute>(), 10.0);
    assert_eq!(mash.ph.unwrap().value().value(), 5.35);

    assert_eq!(recipe.boil.time.unwrap().value().get::<minute>(), 75.0);
    let honey = named(&recipe.boil.additions, "honey");
    assert_eq!(share_percent(honey), 6.0);
    let extract = honey.ingredient().unwrap().facts.extract.clone().unwrap();
    assert_eq!(
        (extract.value.value().percent(), extract.basis),
        (80.0, ExtractBasis::AsIs)
    );
    let bitter = named(&recipe.boil.additions, "northern brewer");
    let facts = &bitter.ingredient().unwrap().facts;
    assert_eq!(facts.alpha.unwrap().value().percent(), 9.0);
    assert_eq!(facts.form, Some(HopForm::Pellet));
    assert!(matches!(bitter.amount, Some(Amount::Bitterness(ibu)) if ibu.value().ibu() == 20.0));
    assert!(
        matches!(bitter.timing.at, Some(At::TimeLeft(left)) if left.value().get::<minute>() == 60.0)
    );
    let late = named(&recipe.boil.additions, "styrian golding");
    assert!(
        matches!(late.amount, Some(Amount::Concentration(c)) if c.value().grams_per_litre() == 0.6)
    );
    assert_eq!(
        late.ingredient().unwrap().entry.as_deref(),
        Some("Savinjski Golding")
    );
    assert_eq!(
        named(&recipe.boil.additions, "carrageenan")
            .ingredient()
            .unwrap()
            .kind,
        Kind::Aid
    );
}

#[test]
fn the_stands_the_fermentation_and_the_package_of_the_demo() {
    let recipe = &demo_recipe();
    assert_eq!(recipe.hot_side.len(), 3);
    assert!(matches!(&recipe.hot_side[0], HotStep::Stand(s)
        if s.time.value().get::<minute>() == 40.0 && s.temperature.unwrap().value().celsius() == 95.0));
    assert!(matches!(&recipe.hot_side[1], HotStep::Cool(c)
        if c.to.value().celsius() == 75.0 && c.time.unwrap().value().get::<minute>() == 10.0));
    let juniper = &recipe.stands().nth(1).unwrap().additions[0];
    assert_eq!(juniper.ingredient().unwrap().kind, Kind::Botanical);
    assert_eq!(
        juniper.timing.contact.unwrap().value().get::<minute>(),
        25.0
    );

    let pitch = recipe.fermentation.pitch.as_ref().unwrap();
    let yeast = pitch.ingredient().unwrap();
    assert_eq!(
        (yeast.name.as_str(), yeast.kind),
        ("farmhouse ale yeast", Kind::Yeast)
    );
    assert_eq!(yeast.facts.attenuation.unwrap().value().percent(), 80.0);
    assert_eq!(
        yeast
            .facts
            .pitch_rate
            .unwrap()
            .value()
            .million_per_ml_plato(),
        0.9
    );
    assert!(matches!(pitch.timing.at, Some(At::Temperature(t)) if t.value().celsius() == 20.0));
    assert_eq!(
        recipe.fermentation.holds[0]
            .time
            .unwrap()
            .value()
            .get::<minute>(),
        8640.0
    );
    let juices = &recipe.fermentation.additions[0];
    assert!(matches!(juices.amount, Some(Amount::ShareByVolume(s)) if s.value().percent() == 12.0));
    assert!(matches!(juices.timing.at, Some(At::Gravity(g)) if g.value().plato() == 6.0));
    assert_eq!(
        juices.parts().iter().map(share_percent).collect::<Vec<_>>(),
        [45.0, 25.0, 20.0, 10.0]
    );
    let cherry = juices.parts()[0].ingredient().unwrap();
    assert_eq!(cherry.kind, Kind::Juice);
    assert_eq!(cherry.facts.brix.unwrap().value().plato(), 13.5);
    assert_eq!(cherry.facts.ph.unwrap().value().value(), 3.3);
    assert_eq!(recipe.package.container.as_deref(), Some("keg"));
    assert_eq!(
        recipe
            .package
            .carbonation
            .unwrap()
            .value()
            .grams_per_litre(),
        5.2
    );
    assert_eq!(recipe.package.temperature.unwrap().value().celsius(), 4.0);
}

#[test]
fn the_plants_and_the_stock_of_the_demo() {
    let (sheet, stove) = demo();
    let sources = [Source::new("sheet", &sheet), Source::new("stove", &stove)];
    let reading = read(&sources);
    let printed = reading.brewhouse("printed plant").unwrap();
    let stated = printed.extract_yield.as_ref().unwrap();
    assert_eq!(stated.value.value().percent(), 91.0);
    assert_eq!(
        (stated.of, stated.at),
        (YieldBasis::LaboratoryExtract, YieldPoint::EndOfBoil)
    );
    assert!(
        matches!(printed.evaporation, Some(Evaporation::SharePerHour(s)) if s.value().percent() == 5.0)
    );
    assert_eq!(
        printed.cooling.as_ref().unwrap().method,
        Some(CoolingMethod::Plate)
    );
    let stove = reading.brewhouse("Stove top").unwrap();
    assert_eq!(
        stove.batch.as_ref().unwrap().volume.value().get::<liter>(),
        8.0
    );
    assert_eq!(stove.kettle.unwrap().value().get::<liter>(), 16.0);
    assert!(matches!(&stove.lauter, Some(Lauter::Bag { sparge: Some(s) }) if s.number() == 1.2));
    assert_eq!(
        stove.absorption.unwrap().value().litres_per_kilogram(),
        0.65
    );
    assert!(
        matches!(stove.evaporation, Some(Evaporation::Rate(r)) if r.value().litres_per_hour() == 2.6)
    );
    assert_eq!(stove.kettle_loss.unwrap().number(), 0.6);
    assert_eq!(stove.fermenter_loss.unwrap().number(), 0.5);
    assert_eq!(stove.altitude.unwrap().number(), 350.0);
    let cooling = stove.cooling.as_ref().unwrap();
    assert_eq!(
        (cooling.time.unwrap().number(), cooling.method),
        (25.0, None)
    );
    assert_eq!(stove.coolant.unwrap().value().celsius(), 14.0);
    assert_eq!(stove.weighing.hops.unwrap().number(), 0.5);

    let lots = &reading.stock.lots;
    assert_eq!(lots.len(), 7);
    assert!(matches!(&lots[0], Lot::Held(malt, Amount::Mass(m))
        if malt.facts.colour.unwrap().number() == 6.0 && m.value().get::<kilogram>() == 6.0));
    assert!(matches!(&lots[2], Lot::Any(malt) if malt.name == "spelt malt"));
    assert!(
        matches!(&lots[3], Lot::Held(_, Amount::Packs { count: 2, each: PackSize::Volume(v) })
        if v.number() == 700.0)
    );
    assert!(matches!(&lots[6], Lot::Missing(juice) if juice.name == "elderberry juice"));
}

#[test]
fn a_sheet_in_us_measure() {
    let reading = clean(
        "recipe Low Tide\n\
         brewed on Seven barrel\n\
         batch 7 bbl into fermenter\n\
         target original 1.064, final 1.012-1.014, bitterness 45 IBU, colour 6 SRM, alcohol ~6.8 %\n\
         mash\n  350 lb pale ale malt, 3.5 lovibond\n  40 lb 8 oz flaked oats\n  mash in 1.5 qt/lb\n  \
         rest 152 F for 1 h\n  sparge 150 gal at 170 °F\n\
         boil 1 h 30 min\n  2 lb 4 oz cascade, pellets, 6.5 % alpha acids at 60 min\n  \
         0.5 lb/bbl centennial, 10 % alpha at first wort\n  1 1/2 oz yeast nutrient at 10 min\n\
         stand 20 min\n  1.0 oz/gal cascade pellets for 20 min\n\
         ferment\n  1 lb/bbl cascade on day 5 for 3 days\n\
         package\n  keg, carbonate 2.5 volumes at 38 F\n\
         brewhouse Seven barrel\n  kettle 10 bbl\n  lauter continuous, yield 92 %\n  evaporation 4 gal per hour\n  \
         altitude 5280 ft\n  water calcium 20 mg/L, alkalinity 60 mg/L as CaCO3, pH 7.6\n",
    );
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
            .get::<uom::si::length::meter>()
            - 1609.344)
            .abs()
            < 1e-9
    );
    assert_eq!(plant.water.as_ref().unwrap().ph.unwrap().number(), 7.6);
}

#[test]
fn shares_that_were_rounded_in_print_are_brought_to_a_hundred() {
    let text = "recipe A\nmash\n  66.6 % pale ale malt\n  33.3 % wheat malt\n";
    let reading = clean(text);
    let recipe = reading.recipe.as_ref().unwrap();
    assert!((share_percent(&recipe.mash.additions[0]) - 100.0 * 66.6 / 99.9).abs() < 1e-9);
    assert!(
        matches!(reading.notes[..], [ReadingNote::SharesNormalised { sum_percent, .. }]
        if (sum_percent - 99.9).abs() < 1e-9)
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
fn names_that_look_like_something_else() {
    let text = "recipe A\nmash\n  5 kg pale ale malt\nboil 60 min\n  2 g grains of paradise at 5 min\n  \
                3 mL lactic acid 88 % at 10 min\n  1 kg malt for stout, 75 % extract at 10 min\n  \
                2 lb 4 oz honey at 10 min\n  2 lb 4 kings syrup, 75 % extract at 10 min\n";
    // The unknown ones are warned of.
    let reading = read(&[Source::new("text", text)]);
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
        Source::new(
            "a",
            "recipe A\nbrewed on Barn\nmash\n  5 kg pale ale malt\n",
        ),
        Source::new(
            "b",
            "brewhouse Barn\n  kettle 30 L\nstock\n  1 kg wheat malt\n",
        ),
        Source::new("c", "stock\n  2 kg rye malt\nboil 60 min\n"),
    ];
    let reading = read(&sources);
    assert_eq!(reading.diagnostics, []);
    assert_eq!(reading.stock.lots.len(), 2);
    assert!(reading.recipe.unwrap().boil.time.is_some());
    assert_eq!(reading.documents.len(), 3);
}

#[test]
fn a_host_may_accept_decimal_commas() {
    let text = [Source::new(
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
fn the_log_and_the_own_ingredient_of_the_demo() {
    let text = fs::read_to_string("examples/data/stove-top-log.gyle").unwrap();
    let reading = clean(&text);
    let log = reading.log.as_ref().unwrap();
    assert_eq!(log.entries.len(), 6);
    let days: Vec<f64> = log
        .entries
        .iter()
        .map(|e| e.day.unwrap().number())
        .collect();
    assert_eq!(days, [0.0, 3.0, 3.0, 3.0, 9.0, 16.0]);
    assert!(
        matches!(&log.entries[0].what, LogEvent::Pitched { volume, shown, temperature: None, .. }
        if volume.number() == 8.3 && shown.value().plato() == 15.7)
    );
    assert!(
        matches!(&log.entries[1].what, LogEvent::Reading { shown, temperature: Some(t), instrument: Instrument::Hydrometer }
        if shown.number() == 1.033 && t.value().celsius() == 22.0)
    );
    assert!(
        matches!(&log.entries[2].what, LogEvent::Drawn { volume } if volume.unit() == Unit::Millilitre)
    );
    assert!(
        matches!(&log.entries[3].what, LogEvent::Added { amount: Amount::Volume(v), ingredient }
        if v.number() == 980.0 && ingredient.facts.brix.unwrap().number() == 13.0)
    );
    assert!(
        matches!(&log.entries[4].what, LogEvent::Reading { shown, instrument: Instrument::Refractometer, .. }
        if shown.unit() == Unit::Brix)
    );
    let written = Document::from(log).to_string();
    assert_eq!(clean(&written).log.as_ref(), Some(log), "{written}");

    let [Entry::Fermentable(malt)] = reading.ingredients.as_slice() else {
        panic!("{:?}", reading.ingredients);
    };
    assert_eq!(malt.name, "Barn-smoked malt");
    assert_eq!(malt.kind(), Kind::Malt);
    // 80 % of dry matter at 4.5 % moisture is 76.4 % as is.
    assert!((malt.extract_as_is().unwrap().percent() - 76.4).abs() < 1e-9);
    assert_eq!(malt.colour.unwrap().ebc(), 7.0);
}

#[test]
fn an_own_ingredient_is_known_to_the_whole_text() {
    let text = "recipe A\nmash\n  5 kg barn-smoked malt, 9 EBC\nboil 60 min\n  20 g hedge hop at 60 min\n\
                ingredient Barn-smoked malt\n  like pale ale malt\n  extract 76.4 % as is\ningredient hedge hop\n  6 % alpha\n";
    let reading = clean(text);
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
    let reading = read(&[Source::new("text", &text)]);
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
        read(&[Source::new("text", &text)])
            .documents
            .remove(0)
            .into_owned()
    };
    assert_eq!(document.lines().count(), 2);
    let again = wortwright::notation::read_documents(vec![document], &Catalogue::builtin());
    assert_eq!(again.recipe.unwrap().name, "A");
}
