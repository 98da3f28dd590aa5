//! Recipes, plants, stocks and logs put together in code as a host would.

use wortwright::catalogue::{Catalogue, Kind};
use wortwright::diagnostic::Diagnostic;
use wortwright::diagnostic::{Error, TextRef};
use wortwright::notation::{Document, Models, Reading, read};
use wortwright::quantity::Proportion;
use wortwright::recipe::{
    Added, Addition, Bag, BatchPoint, BatchSparge, Brewhouse, CoolStep, Evaporation, Hold,
    Ingredient, Lauter, Log, LogEntry, LogEvent, LogReading, Lot, Pitched, Recipe, RecipeLine,
    Rest, Section, Stand, Stock, Swap, SwapPart,
};

fn reading(text: &str) -> Reading<'_> {
    let reading = read(&[TextRef::new("text", text)]);
    assert!(reading.is_usable(), "{:?}", reading.diagnostics);
    reading
}

fn built() -> Result<Recipe, Error> {
    let juices = [
        Addition::new("sour cherry juice", "45 %".parse()?),
        Addition::new("plum juice", "55 %".parse()?),
    ];
    Ok(Recipe::new("Low Tide")
        .batch("20 hL".parse()?)
        .original("1.064".parse()?)
        .bitterness("21 IBU".parse()?)
        .mash(Addition::new("pale ale malt", "94 %".parse()?))
        .rest(Rest::new("66 C".parse()?, "50 min".parse()?))
        .boil_for("75 min".parse()?)
        .boil(Addition::new("honey", "6 %".parse()?).at("10 min".parse()?))
        .boil(Addition::new("northern brewer", "20 IBU".parse()?).at("60 min".parse()?))
        .stand(Stand::new("40 min".parse()?).at("95 C".parse()?))
        .cool(CoolStep::new("75 C".parse()?))
        .stand(
            Stand::new("25 min".parse()?)
                .with(Addition::new("juniper berries", "70 g/hL".parse()?)),
        )
        .pitch(Addition::new("farmhouse ale yeast", "2 packs".parse()?).at("20 C".parse()?))
        .hold(Hold::new("23 C".parse()?).time("6 days".parse()?))
        .ferment(
            Addition::blend(juices)
                .amount("12 % by volume".parse()?)
                .at("6 P".parse()?),
        )
        .ferment(
            Addition::new("cascade", "3 g/L".parse()?)
                .at("day 5".parse()?)
                .contact("3 days".parse()?),
        )
        .carbonate("2.5 volumes".parse()?))
}

const WRITTEN: &str = include_str!("fixtures/low_tide.gyle");

#[test]
fn a_recipe_built_in_code_is_the_one_that_is_read() {
    let mut recipe = built().unwrap();
    assert_eq!(
        recipe.mash.additions[0].ingredient().unwrap().kind,
        Kind::Other
    );
    recipe.resolve(&Catalogue::builtin());
    let read = reading(WRITTEN).recipe.unwrap();
    assert_eq!(recipe, read);
    let written = Document::from(&recipe).to_string();
    assert_eq!(reading(&written).recipe.unwrap(), recipe, "{written}");
}

#[test]
fn a_plant_built_in_code_is_the_one_that_is_read() {
    let build = || -> Result<Brewhouse, Error> {
        let mut bag = Bag::default();
        bag.sparge = Some("1.2 L".parse()?);
        Ok(Brewhouse::new("Stove top")
            .batch("8 L".parse()?)
            .kettle("16 L".parse()?)
            .lauter(Lauter::Bag(bag))
            .absorption("0.65 L/kg".parse()?)
            .evaporation(Evaporation::Rate("2.6 L/h".parse()?))
            .kettle_loss("0.6 L".parse()?)
            .altitude("350 m".parse()?)
            .coolant("14 C".parse()?)
            .weigh_hops("0.5 g".parse()?))
    };
    let plant = build().unwrap();
    let text = include_str!("fixtures/stove_top.gyle");
    assert_eq!(reading(text).brewhouses, std::slice::from_ref(&plant));
    assert_eq!(plant.batch.unwrap().at, BatchPoint::IntoFermenter);
    let json = serde_json::to_string(&Lauter::Batch(BatchSparge::new(2))).unwrap();
    assert_eq!(json, r#"{"batch":{"sparges":2}}"#);
}

#[test]
fn a_stock_and_a_log_built_in_code_are_those_that_are_read() {
    let malt = Lot::held("pale ale malt".into(), "6 kg".parse().unwrap());
    let plum = Lot::held("plum juice".into(), "2 x 700 mL".parse().unwrap());
    let mut stock = Stock::new([malt, plum, Lot::Missing("flaked spelt".into())]);
    stock.resolve(&Catalogue::builtin());
    let text = "stock\n  6 kg pale ale malt\n  2 x 700 mL plum juice\n  none flaked spelt\n";
    assert_eq!(reading(text).stock, stock);
    let juice = Added::new("980 mL".parse().unwrap(), "sour cherry juice");
    let pitched = Pitched::new("8.3 L".parse().unwrap(), "15.7 P".parse().unwrap());
    let mut log = Log::new([
        LogEntry::dated("0 days".parse().unwrap(), LogEvent::Pitched(pitched)),
        LogEntry::undated(LogEvent::Added(juice)),
        LogEntry::undated(LogEvent::Reading(LogReading::new("1.011".parse().unwrap()))),
    ]);
    log.resolve(&Catalogue::builtin());
    let text = "log\n  pitched 8.3 L at 15.7 P on day 0\n  added 980 mL sour cherry juice\n  reading 1.011\n";
    assert_eq!(reading(text).logs, [log]);
}

#[test]
fn a_model_without_kinds_is_read_from_json() {
    let json = r#"{"name":"X","mash":{"additions":[{"content":{"single":{"name":"pale ale malt"}},"amount":{"mass_kg":"5 kg"}}]}}"#;
    let mut recipe: Recipe = serde_json::from_str(json).unwrap();
    recipe.resolve(&Catalogue::builtin());
    let malt = recipe.mash.additions[0].ingredient().unwrap();
    assert_eq!(
        (malt.kind, malt.entry.as_deref()),
        (Kind::Malt, Some("pale ale malt"))
    );
    // A kind that was given stays, and so does a thing that nobody knows.
    for (name, kind) in [("honey", Kind::Juice), ("moon dust", Kind::Other)] {
        let mut ingredient = Ingredient::new(name, kind);
        ingredient.resolve(&Catalogue::builtin());
        assert_eq!((ingredient.kind, ingredient.entry), (kind, None), "{name}");
    }
}

#[test]
fn a_swap_built_in_code_is_made() {
    let honey = RecipeLine::first(Section::Boil, "honey");
    let sugar = SwapPart::new("sucrose", Proportion::from_ratio(0.8).unwrap());
    let swapped = built()
        .unwrap()
        .with_swaps(&[Swap::new(honey, [sugar])])
        .unwrap();
    assert_eq!(
        swapped.boil.additions[0].ingredient().unwrap().name,
        "sucrose"
    );
}

/// The codes that a text gets, and those that the models read from it get.
fn codes(text: &str) -> (Vec<&'static str>, Vec<(&'static str, String)>) {
    let reading = read(&[TextRef::new("text", text)]);
    let mut models = Models::default();
    models.recipe = reading.recipe;
    models.brewhouses = reading.brewhouses;
    models.stock = reading.stock;
    let check = models.check(&Catalogue::builtin());
    let read = reading.diagnostics.iter().map(|found| found.code.as_str());
    let checked = check.diagnostics.iter();
    let place = |found: &Diagnostic| {
        found
            .place
            .as_ref()
            .map(ToString::to_string)
            .unwrap_or_default()
    };
    let checked = checked.map(|found| (found.code.as_str(), place(found)));
    (read.collect(), checked.collect())
}

#[test]
fn models_are_checked_as_texts_are() {
    let grist = "mash\n  100 % pale ale malt\n";
    for (text, code, path) in [
        (
            "recipe A\nmash\n  90 % pale ale malt\n",
            "shares_do_not_add_up",
            "recipe.mash",
        ),
        (
            "recipe A\nmash\n  90 % pale ale malt\n  1 kg wheat malt\n",
            "shares_beside_masses",
            "recipe.mash.additions[1]",
        ),
        (
            "recipe A\nmash\n  5 kg pale ail malt\n",
            "unknown_ingredient",
            "recipe.mash.additions[0]",
        ),
        (
            &format!(
                "recipe A\n{grist}ferment\n  add 12 % by volume when 6 P\n    45 % plum juice\n    45 % apple juice\n"
            ),
            "shares_do_not_add_up",
            "recipe.fermentation.additions[0]",
        ),
        (
            &format!("recipe A\ntarget original 12 P, bitterness 20 IBU\n{grist}boil 60 min\n"),
            "no_bittering_hop",
            "recipe.targets",
        ),
        (
            &format!("recipe A\n{grist}boil 60 min\n  20 g northern brewer at 90 min\n"),
            "addition_before_boil",
            "recipe.boil.additions[0].timing",
        ),
        (
            &format!("recipe A\nbrewed on Big\n{grist}brewhouse Small\n  batch 8 L\n"),
            "unknown_plant",
            "recipe.brewed_on",
        ),
    ] {
        let (read, checked) = codes(text);
        assert_eq!(read, [code], "{text}");
        assert_eq!(checked, [(code, path.to_owned())], "{text}");
    }
}

#[test]
fn models_without_fault_are_told_nothing() {
    let mut models = Models::new(built().unwrap());
    models
        .brewhouses
        .push(Brewhouse::new("Stove top").batch("8 L".parse().unwrap()));
    models.stock = Stock::new([Lot::Any("plum juice".into())]);
    let check = models.check(&Catalogue::builtin());
    assert!(
        check.is_usable() && check.diagnostics.is_empty(),
        "{:?}",
        check.diagnostics
    );
    // What the host calls a salt is none of the reader's guesses, wherever it stands.
    let salt = Ingredient::new("moon salt", Kind::Salt);
    let recipe = built()
        .unwrap()
        .mash(Addition::new(salt, "3 g".parse().unwrap()));
    assert_eq!(
        Models::new(recipe).check(&Catalogue::builtin()).diagnostics,
        []
    );
}
