//! Substitutes for the demo and for small recipes: what they keep, and how they answer to changes of the question.

use wortwright::catalogue::{Allergen, Catalogue, Entry, Kind};
use wortwright::diagnostic::{ErrorKind, Source};
use wortwright::notation::read;
use wortwright::quantity::uom::si::mass::kilogram;
use wortwright::quantity::uom::si::volume::liter;
use wortwright::recipe::{Brewhouse, Recipe, Stock};
use wortwright::scale::{Change, Plan, ScaleOptions, WeighOut, scale};
use wortwright::substitute::{
    Candidates, Effort, NoSubstitute, Practice, Proposals, SubstituteOptions, propose,
};

/// A recipe, its plants and a stock, read from a text.
pub(crate) struct Kitchen {
    pub(crate) recipe: Recipe,
    pub(crate) plants: Vec<Brewhouse>,
    pub(crate) stock: Stock,
}

impl Kitchen {
    pub(crate) fn read(text: &str) -> Self {
        let sources = [Source::new("kitchen", text)];
        let reading = read(&sources);
        assert!(reading.is_usable(), "{:?}\n{text}", reading.diagnostics);
        Self {
            recipe: reading.recipe.clone().unwrap(),
            plants: reading.brewhouses.clone(),
            stock: reading.stock.clone(),
        }
    }

    pub(crate) fn source(&self) -> Option<&Brewhouse> {
        self.recipe.plant_among(&self.plants).unwrap()
    }

    pub(crate) fn target(&self) -> &Brewhouse {
        self.plants.iter().find(|p| p.batch.is_some()).unwrap()
    }

    /// How its plans are made: with its stock, amounts not rounded to a scale.
    pub(crate) fn exact(&self) -> ScaleOptions {
        ScaleOptions::default()
            .with_source(self.source().cloned())
            .with_stock(self.stock.clone())
            .with_weigh_out(WeighOut::Exact)
    }

    /// The plan of the recipe as printed, nothing replaced.
    pub(crate) fn printed(&self) -> Plan {
        let catalogue = Catalogue::builtin();
        scale(&self.recipe, self.target(), &catalogue, &self.exact()).unwrap()
    }

    pub(crate) fn propose(&self, missing: &[&str], options: &SubstituteOptions) -> Vec<Proposals> {
        propose(
            &self.recipe,
            self.source(),
            self.target(),
            missing,
            &self.stock,
            &Catalogue::builtin(),
            options,
        )
        .unwrap()
    }
}

fn demo_text() -> String {
    format!(
        "{}\n{}",
        include_str!("../../examples/data/saltmarsh-lantern.gyle"),
        include_str!("../../examples/data/stove-top.gyle")
    )
}

/// Kilograms of one addition of a plan.
pub(crate) fn mass_kg(plan: &Plan, name: &str) -> f64 {
    let addition = plan.additions.iter().find(|a| a.name == name).unwrap();
    addition.mass.unwrap().get::<kilogram>()
}

pub(crate) fn demo() -> Kitchen {
    Kitchen::read(&demo_text())
}

pub(crate) fn whole() -> SubstituteOptions {
    SubstituteOptions::default().with_candidates(Candidates::Catalogue)
}

const GRISTS: [&str; 5] = [
    "pale ale malt",
    "light munich malt",
    "flaked spelt",
    "caramel malt 150 EBC",
    "honey",
];

#[test]
fn feasible_proposals_keep_gravity_and_colour() {
    let kitchen = demo();
    for name in GRISTS {
        for answer in kitchen.propose(&[name], &whole()) {
            assert_eq!(answer.proposals.len(), 5, "{name}");
            for proposal in answer.proposals {
                assert!(proposal.feasible, "{name}");
                // The equalities are solved in closed form; the wort's gravity is as near as the amounts are solved for.
                assert!(proposal.gravity_residual_pct.abs() < 1e-6, "{name}");
                assert!(proposal.colour_residual_ebc.abs() < 1e-6, "{name}");
                let original = proposal.predicted.original.unwrap().plato();
                assert!((original - 15.6).abs() < 1e-6, "{name}: {original}");
                let sum: f64 = proposal.distance_parts.iter().map(|p| p.value).sum();
                assert!((sum - proposal.distance).abs() < 1e-9, "{name}");
            }
        }
    }
}

#[test]
fn gravity_and_colour_are_kept_by_hand() {
    // Flaked spelt, 4 EBC, 76 % dry, 9 % moisture: what its parts bring, counted from their printed figures.
    let kitchen = demo();
    let plan = kitchen.printed();
    let kg = |name: &str| mass_kg(&plan, name);
    let answer = &kitchen.propose(&["flaked spelt"], &SubstituteOptions::default())[0];
    let first = &answer.proposals[0];
    assert_eq!(first.parts.len(), 2);
    let figures = |name: &str| match name {
        // extract as is, EBC; the demo's malt has no moisture of its own: the catalogue's.
        "spelt malt" => (0.80 * 0.95, 5.0),
        "flaked wheat" => (0.78 * 0.91, 3.5),
        other => panic!("{other}"),
    };
    let wanted = kg("flaked spelt");
    let slack = first.slack.unwrap().get::<kilogram>();
    let (mut extract, mut colour) = (0.815 * 0.962 * slack, 5.5 * slack);
    for part in &first.parts {
        let mass = part.mass.unwrap().get::<kilogram>();
        let (as_is, ebc) = figures(&part.name);
        extract += as_is * mass;
        colour += ebc * mass;
    }
    assert!((extract / (0.76 * 0.91 * wanted) - 1.0).abs() < 1e-9);
    assert!((colour / (4.0 * wanted) - 1.0).abs() < 1e-9);
}

/// Malt colour units of all fermentables in a litre of the cold wort, grain at the source's yield: counted from a plan.
fn colour_units(recipe: &Recipe, plan: &Plan, source_yield: f64) -> f64 {
    let catalogue = Catalogue::builtin();
    let here = plan.predicted.extract_yield.unwrap().fraction() / source_yield;
    let lines = recipe.mash.additions.iter().chain(&recipe.boil.additions);
    // Two lines may have one name: each takes the next addition of it.
    let mut additions: Vec<_> = plan.additions.iter().collect();
    let units: f64 = lines
        .filter_map(|line| line.ingredient())
        .filter_map(|ingredient| {
            let Entry::Fermentable(row) = catalogue
                .find(ingredient.catalogue_name())?
                .entry
                .to_entry()
            else {
                return None;
            };
            let stated = ingredient
                .facts
                .colour
                .as_ref()
                .map(wortwright::quantity::Written::value);
            let mashed = matches!(ingredient.kind, Kind::Malt | Kind::Grain);
            let place = additions.iter().position(|a| a.name == ingredient.name)?;
            let kg = additions.remove(place).mass?.get::<kilogram>();
            let ebc = stated.or(row.colour)?.ebc();
            Some(kg * ebc * if mashed { here } else { 1.0 })
        })
        .sum();
    units / plan.volumes.post_boil.get::<liter>()
}

#[test]
fn gravity_and_colour_of_the_whole_wort_are_kept() {
    let kitchen = Kitchen {
        stock: Stock::default(),
        ..demo()
    };
    let source = kitchen.source().cloned();
    let exact = ScaleOptions::default()
        .with_source(source)
        .with_weigh_out(WeighOut::Exact);
    let catalogue = Catalogue::builtin();
    let scaled = |recipe: &Recipe| scale(recipe, kitchen.target(), &catalogue, &exact).unwrap();
    let plain = scaled(&kitchen.recipe);
    // The demo's printed plant yields 91 %.
    let wanted = colour_units(&kitchen.recipe, &plain, 0.91);
    assert!(wanted > 1.0, "{wanted}");
    for name in GRISTS {
        let answer = &kitchen.propose(&[name], &whole())[0];
        for proposal in answer.proposals.iter().filter(|p| {
            // A figure that nobody states is not in the catalogue's row that is counted here.
            !p.practice
                .iter()
                .any(|practice| matches!(practice, Practice::FiguresAssumed { .. }))
        }) {
            let swapped = kitchen
                .recipe
                .with_swaps(std::slice::from_ref(&proposal.swap))
                .unwrap();
            let plan = scaled(&swapped);
            let original = plan.predicted.original.unwrap().plato();
            assert!((original / 15.6 - 1.0).abs() < 1e-4, "{name}: {original}");
            let units = colour_units(&swapped, &plan, 0.91);
            assert!(
                (units - wanted).abs() < 0.01,
                "{name}: {units} for {wanted}"
            );
        }
    }
}

#[test]
fn bounds_change_nothing_that_is_shown() {
    let kitchen = demo();
    for name in [
        "flaked spelt",
        "caramel malt 150 EBC",
        "honey",
        "northern brewer",
        "elderberry juice",
    ] {
        let bounded = kitchen.propose(&[name], &whole());
        let all = kitchen.propose(&[name], &whole().with_effort(Effort::Exhaustive));
        assert!(bounded == all, "{name}");
    }
}

#[test]
fn a_sugar_for_grain_dries_the_beer_by_the_same_mash() {
    let kitchen = Kitchen::read(
        "recipe Dry\nbrewed on Works\nbatch 20 hL into fermenter\ntarget original 12 P, final 3 P\nmash\n  90 % pilsner malt\n  \
         10 % flaked maize\n  rest 66 C for 60 min\nboil 60 min\n  20 IBU Perle at 60 min\nferment\n  pitch american ale yeast\n\
         brewhouse Works\n  extract yield 92 %\nbrewhouse Pot\n  batch 20 L into fermenter\n  lauter bag\nstock\n  \
         any sucrose\n  any dark candi syrup\n",
    );
    let answer = &kitchen.propose(&["flaked maize"], &SubstituteOptions::default())[0];
    let sugar = &answer.proposals[0];
    assert_eq!(sugar.leader(), Some("sucrose"));
    let last = sugar.predicted.final_extract.unwrap().plato();
    assert!(
        last < 2.7,
        "sugar ferments in full, the mash as before: {last}"
    );
    let swapped = kitchen
        .recipe
        .with_swaps(std::slice::from_ref(&sugar.swap))
        .unwrap();
    assert!(
        swapped
            .mash
            .additions
            .iter()
            .all(|a| a.ingredient().unwrap().name != "flaked maize")
    );
    let plan = scale(
        &swapped,
        kitchen.target(),
        &Catalogue::builtin(),
        &ScaleOptions::default().with_source(kitchen.source().cloned()),
    )
    .unwrap();
    assert!(plan.changes.iter().any(|change| matches!(
        change,
        Change::Replaced { name, with, .. } if name == "flaked maize" && with.contains(&"sucrose".to_owned())
    )));
}

#[test]
fn doubling_the_batch_doubles_the_amounts_and_nothing_else() {
    let small = demo().propose(&["caramel malt 150 EBC"], &whole());
    let text = demo_text()
        .replace("batch 8 L", "batch 16 L")
        .replace("kettle 16 L", "kettle 32 L")
        .replace("fermenter 13 L", "fermenter 26 L")
        .replace("sparge 1.2 L", "sparge 2.4 L")
        .replace("evaporation 2.6 L/h", "evaporation 5.2 L/h")
        .replace("kettle loss 0.6 L", "kettle loss 1.2 L")
        .replace("weigh malt 5 g", "weigh malt 10 g");
    let large = Kitchen::read(&text).propose(&["caramel malt 150 EBC"], &whole());
    for (a, b) in small[0].proposals.iter().zip(&large[0].proposals) {
        assert!((a.distance - b.distance).abs() < 1e-6);
        for (x, y) in a.parts.iter().zip(&b.parts) {
            assert_eq!(x.name, y.name);
            let ratio = (y.mass.unwrap() / x.mass.unwrap()).value;
            assert!((ratio - 2.0).abs() < 1e-4, "{ratio}");
        }
    }
}

#[test]
fn a_smaller_stock_never_brings_a_nearer_substitute() {
    let text = demo_text();
    let (mut last, mut compared) = (0.0, 0);
    for lot in [
        "any     flaked wheat",
        "500 g   flaked wheat",
        "60 g    flaked wheat",
        "none    flaked wheat",
    ] {
        let kitchen = Kitchen::read(&text.replace("500 g   flaked wheat", lot));
        let answers = kitchen.propose(&["flaked spelt"], &SubstituteOptions::default());
        let first = &answers[0].proposals[0];
        if first.feasible {
            assert!(first.distance >= last - 1e-12, "{lot}");
            compared += usize::from(first.distance > last);
            last = first.distance;
        }
    }
    assert!(compared >= 2, "the lots must bind: {compared}");
}

#[test]
fn one_more_lot_never_brings_a_farther_substitute() {
    let nearest = |lots: &str| {
        let text = demo_text().replace("stock\n", &format!("stock\n{lots}"));
        let answers =
            Kitchen::read(&text).propose(&["flaked spelt"], &SubstituteOptions::default());
        let first = &answers[0].proposals[0];
        assert!(first.feasible);
        first.distance
    };
    let plain = nearest("");
    let mut nearer = 0;
    for lot in [
        "black malt",
        "sucrose",
        "rye malt",
        "flaked triticale",
        "flaked oats",
        "dextrin malt",
    ] {
        let distance = nearest(&format!("  any {lot}\n"));
        assert!(distance <= plain + 1e-12, "{lot}: {distance} after {plain}");
        nearer += usize::from(distance < plain - 1e-6);
    }
    assert!(nearer > 0, "one of them must help");
}

#[test]
fn an_ingredient_that_does_not_fit_changes_nothing() {
    let with = |lot: &str| {
        let text = demo_text().replace("stock\n", &format!("stock\n  any {lot}\n"));
        Kitchen::read(&text).propose(&["flaked spelt"], &SubstituteOptions::default())[0]
            .proposals
            .iter()
            .map(|p| (p.parts.clone(), p.distance))
            .collect::<Vec<_>>()
    };
    let plain = with("sour cherry juice");
    // Rice stays raw at 66 °C, and hops are no grain.
    assert_eq!(plain, with("raw milled rice"));
    assert_eq!(plain, with("cascade"));
}

#[test]
fn the_order_of_lots_does_not_matter() {
    let text = demo_text();
    let turned = text
        .replace("  500 g   flaked wheat\n", "")
        .replace("stock\n", "stock\n  500 g   flaked wheat\n");
    let shown = |text: &str| {
        Kitchen::read(text).propose(&["flaked spelt"], &SubstituteOptions::default())[0]
            .proposals
            .clone()
    };
    assert_eq!(shown(&text), shown(&turned));
}

#[test]
fn the_same_under_another_name_has_distance_zero() {
    let twin = Catalogue::builtin()
        .find("flaked spelt")
        .map(|found| found.entry.to_entry())
        .unwrap();
    let Entry::Fermentable(mut row) = twin else {
        panic!("a grain")
    };
    row.name = "Twin flakes".into();
    row.aliases = std::borrow::Cow::Borrowed(&[]);
    let catalogue = Catalogue::builtin().with([row.into()]);
    let kitchen = demo();
    let answers = propose(
        &kitchen.recipe,
        kitchen.source(),
        kitchen.target(),
        &["flaked spelt"],
        &kitchen.stock,
        &catalogue,
        &whole(),
    )
    .unwrap();
    let first = &answers[0].proposals[0];
    assert_eq!(first.leader(), Some("Twin flakes"));
    assert_eq!(first.parts.len(), 1);
    let matching: f64 = first
        .distance_parts
        .iter()
        .filter(|part| {
            !matches!(
                part.what,
                wortwright::substitute::Aspect::Uncommon | wortwright::substitute::Aspect::Unknown
            )
        })
        .map(|part| part.value)
        .sum();
    assert!(matching < 1e-12, "{matching}");
}

#[test]
fn allergens_that_come_and_go_are_told() {
    let kitchen = Kitchen::read(
        "recipe Plain\nbrewed on Works\nbatch 20 hL into fermenter\ntarget original 12 P\nmash\n  90 % pilsner malt\n  \
         10 % flaked oats\n  rest 66 C for 60 min\nbrewhouse Works\n  extract yield 92 %\nbrewhouse Pot\n  batch 20 L into \
         fermenter\n  lauter bag\nstock\n  any flaked wheat\n  any torrefied wheat\n",
    );
    let answer = &kitchen.propose(&["flaked oats"], &SubstituteOptions::default())[0];
    assert!(!answer.proposals.is_empty());
    for proposal in &answer.proposals {
        assert_eq!(proposal.allergens_gained, [Allergen::Wheat]);
        assert_eq!(proposal.allergens_lost, [Allergen::Oats]);
    }
}

#[test]
fn a_grist_that_would_not_convert_is_not_offered() {
    let kitchen = Kitchen::read(
        "recipe Weak\nbrewed on Works\nbatch 20 hL into fermenter\ntarget original 12 P\nmash\n  50 % pale ale malt\n  \
         50 % pilsner malt\n  rest 66 C for 60 min\nbrewhouse Works\n  extract yield 92 %\nbrewhouse Pot\n  batch 20 L into \
         fermenter\n  lauter bag\nstock\n  none pale ale malt\n  none pilsner malt\n  any rice malt\n  any naked oat malt\n  \
         any sorghum malt\n  any biscuit malt\n  any flaked rice\n",
    );
    let answer = &kitchen.propose(&["pilsner malt"], &SubstituteOptions::default())[0];
    assert!(!answer.proposals.is_empty());
    for proposal in &answer.proposals {
        let power = proposal.predicted.diastatic_power.unwrap();
        assert!(power.windisch_kolbach() >= 75.0 - 1e-6, "{power:?}");
    }
}

#[test]
fn without_candidates_the_answer_says_so() {
    let kitchen = Kitchen::read(&demo_text().replace("stock\n", "stock\n  none pale ale malt\n"));
    let empty = Kitchen {
        stock: Stock::default(),
        ..kitchen
    };
    let answer = &empty.propose(&["flaked spelt"], &SubstituteOptions::default())[0];
    assert_eq!(answer.no_substitute, Some(NoSubstitute::NoCandidates));
    assert!(answer.proposals.is_empty());
}

#[test]
fn a_miss_says_by_how_much() {
    // Black malt alone for honey: it keeps the gravity and is far too dark.
    let kitchen = Kitchen::read(&demo_text().replace(
        "  none    flaked spelt",
        "  any black malt\n  none pale ale malt\n  none spelt malt",
    ));
    let kitchen = Kitchen {
        stock: Stock {
            lots: kitchen
                .stock
                .lots
                .into_iter()
                .filter(|lot| lot.ingredient().name == "black malt")
                .collect(),
        },
        ..kitchen
    };
    let answer = &kitchen.propose(&["light munich malt"], &SubstituteOptions::default())[0];
    assert_eq!(
        answer.no_substitute,
        Some(NoSubstitute::NothingKeepsGravityAndColour)
    );
    let miss = &answer.proposals[0];
    assert!(!miss.feasible);
    assert!(miss.gravity_residual_pct.abs() > 1.0 || miss.colour_residual_ebc.abs() > 1.0);
}

#[test]
fn a_prediction_is_that_of_the_swapped_recipe() {
    let kitchen = demo();
    let exact = kitchen.exact();
    for missing in GRISTS {
        for proposal in &kitchen.propose(&[missing], &whole())[0].proposals {
            let swapped = kitchen
                .recipe
                .with_swaps(std::slice::from_ref(&proposal.swap))
                .unwrap();
            let plan = scale(&swapped, kitchen.target(), &Catalogue::builtin(), &exact).unwrap();
            assert_eq!(proposal.predicted, plan.predicted, "{missing}");
        }
    }
}

#[test]
fn an_unknown_name_is_refused_with_a_near_one() {
    let kitchen = demo();
    let error = propose(
        &kitchen.recipe,
        kitchen.source(),
        kitchen.target(),
        &["flaked spel"],
        &kitchen.stock,
        &Catalogue::builtin(),
        &whole(),
    )
    .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::UnknownName);
    assert!(error.help().unwrap().contains("flaked spelt"));
}

#[test]
fn what_the_stock_lacks_is_found() {
    let names: Vec<String> = demo()
        .propose(&[], &SubstituteOptions::default())
        .into_iter()
        .map(|answer| answer.name)
        .collect();
    assert_eq!(names, ["flaked spelt", "elderberry juice"]);
}

#[test]
fn json_has_the_names_of_the_exchange() {
    let answer = &demo().propose(&["flaked spelt"], &SubstituteOptions::default())[0];
    let json = serde_json::to_value(answer).unwrap();
    let first = &json["proposals"][0];
    for field in [
        "parts",
        "slack_kg",
        "feasible",
        "gravity_residual_pct",
        "colour_residual_ebc",
        "distance",
        "distance_parts",
        "predicted",
        "allergens_gained",
        "allergens_lost",
        "practice",
        "variants",
    ] {
        assert!(!first[field].is_null(), "{field}");
    }
    assert!(first["parts"][0]["mass_kg"].is_f64());
    let swap: wortwright::recipe::Swap = serde_json::from_value(first["swap"].clone()).unwrap();
    assert_eq!(swap.replaced.name, "flaked spelt");
}
