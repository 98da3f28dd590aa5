//! The texts of the demo into its recipe, its plants, its stock and its log.

use super::texts::{clean, named, recipe, share_percent};
use wortwright::catalogue::{Entry, Kind};
use wortwright::diagnostic::TextRef;
use wortwright::notation::{Document, read};
use wortwright::quantity::Unit;
use wortwright::quantity::uom::si::{mass::kilogram, time::minute, volume::liter};
use wortwright::recipe::{
    Amount, At, BatchPoint, CoolingMethod, Evaporation, ExtractBasis, HopForm, HotStep, Instrument,
    Lauter, LogEvent, Lot, PackSize, Packs, Pitched, Recipe, YieldBasis, YieldPoint,
};
use wortwright_tests::fixtures::{DEMO, DEMO_LOG, DEMO_PLANT};

fn demo_recipe() -> Recipe {
    recipe(DEMO)
}

#[test]
fn the_demo_reads_as_its_sheet_says() {
    let sources = [
        TextRef::new("sheet", DEMO),
        TextRef::new("stove", DEMO_PLANT),
    ];
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
fn the_mash_and_the_boil_of_the_demo_are_read() {
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
fn the_stands_the_fermentation_and_the_package_of_the_demo_are_read() {
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
fn the_plants_and_the_stock_of_the_demo_are_read() {
    let sources = [
        TextRef::new("sheet", DEMO),
        TextRef::new("stove", DEMO_PLANT),
    ];
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
    assert!(matches!(&stove.lauter, Some(Lauter::Bag(bag)) if bag.sparge.unwrap().number() == 1.2));
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
    let Lot::Held(malt) = &lots[0] else {
        panic!("{:?}", lots[0])
    };
    assert_eq!(malt.ingredient.facts.colour.unwrap().number(), 6.0);
    assert!(matches!(&malt.amount, Amount::Mass(m) if m.value().get::<kilogram>() == 6.0));
    assert!(matches!(&lots[2], Lot::Any(malt) if malt.name == "spelt malt"));
    assert!(
        matches!(&lots[3], Lot::Held(juice) if juice.amount == Amount::Packs(Packs::new(2, PackSize::Volume("700 mL".parse().unwrap()))))
    );
    assert!(matches!(&lots[6], Lot::Missing(juice) if juice.name == "elderberry juice"));
}

#[test]
fn the_log_and_the_own_ingredient_of_the_demo_are_read() {
    let reading = clean(DEMO_LOG);
    let log = &reading.logs[0];
    assert_eq!(log.entries.len(), 6);
    let days: Vec<f64> = log
        .entries
        .iter()
        .map(|e| e.day.unwrap().number())
        .collect();
    assert_eq!(days, [0.0, 3.0, 3.0, 3.0, 9.0, 16.0]);
    assert!(matches!(&log.entries[0].what, LogEvent::Pitched(pitched)
        if *pitched == Pitched::new("8.3 L".parse().unwrap(), "15.7 P".parse().unwrap())));
    assert!(matches!(&log.entries[1].what, LogEvent::Reading(reading)
        if reading.instrument == Instrument::Hydrometer && reading.shown.number() == 1.033
            && reading.temperature.unwrap().value().celsius() == 22.0));
    assert!(
        matches!(&log.entries[2].what, LogEvent::Drawn(drawn) if drawn.volume.unit() == Unit::Millilitre)
    );
    assert!(matches!(&log.entries[3].what, LogEvent::Added(added)
        if added.amount == "980 mL".parse().unwrap() && added.ingredient.facts.brix.unwrap().number() == 13.0));
    assert!(matches!(&log.entries[4].what, LogEvent::Reading(reading)
        if reading.instrument == Instrument::Refractometer && reading.shown.unit() == Unit::Brix));
    let written = Document::from(log).to_string();
    assert_eq!(clean(&written).logs, reading.logs, "{written}");

    let [Entry::Fermentable(malt)] = reading.ingredients.as_slice() else {
        panic!("{:?}", reading.ingredients);
    };
    assert_eq!(malt.name, "Barn-smoked malt");
    assert_eq!(malt.kind(), Kind::Malt);
    // 80 % of dry matter at 4.5 % moisture is 76.4 % as is.
    assert!((malt.extract_as_is().unwrap().percent() - 76.4).abs() < 1e-9);
    assert_eq!(malt.colour.unwrap().ebc(), 7.0);
}
