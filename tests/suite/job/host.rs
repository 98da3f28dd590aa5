//! The way in, as a host uses it.

use wortwright::catalogue::Catalogue;
use wortwright::catalogue::Kind;
use wortwright::diagnostic::{ErrorKind, Severity, TextRef};
use wortwright::job::JobBuilder;
use wortwright::notation::{Models, read};
use wortwright::quantity::in_kilograms;
use wortwright::recipe::{Addition, Brewhouse, Recipe};
use wortwright::scale::{ScaleOptions, Supply};
use wortwright::speech::Speaks;
use wortwright::substitute::{Candidates, SubstituteOptions};
use wortwright::{Brew, Error, Job, Plan};
use wortwright_tests::fixtures::{DEMO, DEMO_PLANT};

fn demo() -> Job {
    Job::read([("beer", DEMO), ("home", DEMO_PLANT)]).unwrap()
}

#[test]
fn a_window_can_hold_job_brew_and_plan() {
    fn held<T: Clone + Send + Sync + 'static>() {}
    held::<Job>();
    held::<Brew>();
    held::<Plan>();
    held::<Error>();
}

#[test]
fn a_slider_shows_what_a_plant_of_that_batch_gives() {
    let brew = demo().on("stove TOP").unwrap();
    let first = brew.plan().unwrap();
    for batch in ["5 L", "9.5 L", "11 L"] {
        let slid = brew.batch(batch).unwrap().plan().unwrap();
        let home = DEMO_PLANT.replace("batch 8 L", &format!("batch {batch}"));
        let fresh = Job::read([("beer", DEMO), ("home", home.as_str())]).unwrap();
        assert_eq!(slid, fresh.on("Stove top").unwrap().plan().unwrap());
        assert_ne!(slid, first);
    }
    // The brew itself stays as it was.
    assert_eq!(brew.plan().unwrap(), first);
}

#[test]
fn a_batch_that_is_no_volume_is_refused() {
    let brew = demo().on("Stove top").unwrap();
    let error = brew.batch("7.5 kg").unwrap_err();
    assert_eq!(error.kind(), ErrorKind::NotAQuantity);
    assert!(brew.batch("a lot").is_err());
    // Of nothing there is no plan, and none with a figure that is no number.
    let nothing = brew.batch("0 L").and_then(|brew| brew.plan());
    let kind = nothing
        .map(|plan| plan.to_string())
        .map_err(|error| error.kind());
    assert!(
        !matches!(&kind, Ok(sheet) if sheet.contains("NaN") || sheet.contains("inf ")),
        "{kind:?}"
    );
}

#[test]
fn what_is_taken_is_in_the_plan() {
    let brew = demo().on("Stove top").unwrap();
    let before = brew.plan().unwrap();
    let found = brew.substitutes().unwrap();
    let names: Vec<_> = found
        .missing
        .iter()
        .map(|line| line.name.as_str())
        .collect();
    assert_eq!(names, ["flaked spelt", "elderberry juice"]);
    let after = brew
        .taking(found.closest().unwrap())
        .unwrap()
        .plan()
        .unwrap();
    let taken = found.missing[0].proposals[0].leader().unwrap();
    let has = |plan: &Plan, name: &str| plan.additions.iter().any(|part| part.name == name);
    assert!(has(&before, "flaked spelt") && !has(&after, "flaked spelt"));
    assert!(has(&after, taken) && !has(&after, "elderberry juice"));
    assert!(after.to_string().contains(taken));
}

#[test]
fn nothing_infeasible_is_closest() {
    // A cupboard with nothing in it that would do.
    let home = "brewhouse Pot\n  batch 8 L into fermenter\nstock\n  9 kg black malt\n  none flaked spelt\n";
    let brew = Job::read([("beer", DEMO), ("home", home)])
        .unwrap()
        .on("Pot")
        .unwrap();
    let at_hand = SubstituteOptions::default().with_candidates(Candidates::Stock);
    let found = brew.substitutes_with(&at_hand).unwrap();
    let error = found.closest().unwrap_err();
    assert!(error.message().contains("flaked spelt"), "{error}");
}

/// Two flakes are missing and flaked wheat is nearest to both, but there is enough of it for one: what is taken for both is
/// there, and each alone would have asked for more.
#[test]
fn the_closest_of_several_lines_share_the_stock() {
    let text = "recipe Two\nbatch 10 L into fermenter\ntarget original 12 P\nmash\n  80 % pale ale malt\n  \
                10 % flaked spelt\n  10 % torrefied wheat\nbrewhouse Pot\n  batch 10 L into fermenter\nstock\n  \
                9 kg pale ale malt\n  200 g flaked wheat\n  2 kg spelt malt\n  2 kg wheat malt\n  2 kg flaked barley\n  2 kg rye malt\n  none flaked spelt\n  none torrefied wheat\n";
    let brew = Job::read([("two", text)]).unwrap().on("Pot").unwrap();
    let at_hand = SubstituteOptions::default().with_candidates(Candidates::Stock);
    let found = brew.substitutes_with(&at_hand).unwrap();
    assert_eq!(found.missing.len(), 2);
    let wheat_kg = |plan: &Plan| -> f64 {
        let lines = plan
            .additions
            .iter()
            .filter(|part| part.name == "flaked wheat");
        lines.filter_map(|part| part.mass).map(in_kilograms).sum()
    };
    let alone = found.missing.iter().map(|line| &line.proposals[0]);
    let alone = brew.taking(alone).unwrap().plan().unwrap();
    assert!(wheat_kg(&alone) > 0.21, "{}", wheat_kg(&alone));
    let together = brew
        .taking(found.closest().unwrap())
        .unwrap()
        .plan()
        .unwrap();
    let names: Vec<_> = together
        .additions
        .iter()
        .map(|part| part.name.as_str())
        .collect();
    assert!(
        !names.contains(&"flaked spelt") && !names.contains(&"torrefied wheat"),
        "{names:?}"
    );
    assert!(wheat_kg(&together) < 0.2 + 1e-6, "{}", wheat_kg(&together));
}

/// What proposes, what primes and what a log's line came to speak as everything else does.
#[test]
fn proposals_gas_and_steps_speak_of_their_inputs() {
    let brew = demo().on("Stove top").unwrap();
    let found = brew.substitutes().unwrap();
    let proposal = &found.missing[0].proposals[0];
    let told = |entry: &dyn Speaks| (entry.code(), entry.place().map(ToString::to_string));
    let spelt = Some("recipe.mash.additions[2]".to_owned());
    assert_eq!(told(proposal), ("substitute", spelt));
    assert_eq!(proposal.severity(), Severity::Note);
    let gas = brew.plan().unwrap().gas.unwrap();
    assert_eq!(told(&gas), ("forced", Some("recipe.package".to_owned())));
    let log = "log\n  pitched 8 L at 12 P\n  reading 3 P\n";
    let ledger = Job::read([("log", log)])
        .unwrap()
        .ledgers()
        .next()
        .unwrap()
        .unwrap();
    let read = Some("logs[0].entries[1]".to_owned());
    assert_eq!(told(&ledger.steps[1]), ("reading", read));
    let json = serde_json::to_value(&found).unwrap();
    assert_eq!(
        json["missing"][0]["proposals"][0]["place"],
        "recipe.mash.additions[2]"
    );
}

/// What was stored comes back equal, and makes the same plan.
#[test]
fn stored_models_come_back() {
    let job = demo();
    let kept = serde_json::to_string(&job.models()).unwrap();
    let models: Models = serde_json::from_str(&kept).unwrap();
    assert_eq!(serde_json::to_string(&models).unwrap(), kept);
    let again = Job::default().with(models).unwrap();
    assert!(again.recipe().unwrap().agrees(job.recipe().unwrap(), 1e-12));
    let plan = |job: &Job| job.on("Stove top").unwrap().plan().unwrap().to_string();
    assert_eq!(plan(&again), plan(&job));
    let refused = |text: &str| {
        serde_json::from_str::<Models>(text)
            .unwrap_err()
            .to_string()
    };
    assert!(refused(r#"{"format": 2}"#).contains("newer"));
    assert!(refused(r#"{"format": 0}"#).contains("expected format 1"));
    assert!(refused(r#"{"recipes": []}"#).contains("recipes"));
    assert!(
        serde_json::from_str::<Models>("{}").is_ok(),
        "the first form had no format"
    );
}

#[test]
fn an_error_shows_every_fault_under_its_line() {
    let text = "recipe Ale\nbatch 20 L\nmash\n  70  pale ale malt\n  30  munich malt\n";
    let error = Job::read([("ale.gyle", text)]).unwrap_err();
    assert_eq!(
        (error.kind(), error.diagnostics().len()),
        (ErrorKind::Unreadable, 2)
    );
    let shown = format!("{error:?}");
    for line in [
        "--> ale.gyle:4:3",
        "--> ale.gyle:5:3",
        "help: write `70 %`",
        "2 errors in the texts",
    ] {
        assert!(shown.contains(line), "{shown}");
    }
    assert_eq!(shown, error.to_string());
}

#[test]
fn a_job_says_what_it_lacks() {
    let logs = Job::read([("log", "log\n  pitched 8 L at 12 P on day 0\n")]).unwrap();
    assert_eq!(logs.only_plant().unwrap_err().kind(), ErrorKind::Incomplete);
    let unknown = demo().on("Stofe top").unwrap_err();
    assert_eq!(unknown.help(), Some("did you mean `Stove top`?"));
    assert_eq!(demo().only_plant().unwrap().name, "Stove top");
    let two = format!("{DEMO_PLANT}\nbrewhouse Shed\n  batch 20 L into fermenter\n");
    let job = Job::read([("beer", DEMO), ("home", two.as_str())]).unwrap();
    let error = job.only_plant().unwrap_err();
    assert_eq!(error.help(), Some("choose one of `Stove top`, `Shed`"));
}

#[test]
fn a_log_that_cannot_be_is_shown_at_its_line() {
    let text = "log\n  pitched 8 L at 12 P on day 0\n  reading 1.060 on day 3\n";
    let error = Job::read([("day.gyle", text)])
        .unwrap()
        .ledgers()
        .next()
        .unwrap()
        .unwrap_err();
    assert_eq!(
        (error.kind(), error.code()),
        (ErrorKind::ImpossibleLog, "gravity_rises")
    );
    assert!(error.to_string().contains("--> day.gyle:3:3"), "{error}");
    assert_eq!(
        error.span().map(|span| span.slice(text)),
        Some("reading 1.060 on day 3")
    );
}

#[test]
fn a_reading_and_models_give_the_plan_of_the_texts() {
    let plan = demo().on("Stove top").unwrap().plan().unwrap();
    let sources = [TextRef::new("beer", DEMO), TextRef::new("home", DEMO_PLANT)];
    let reading = read(&sources);
    let (recipe, plants) = (reading.recipe.clone().unwrap(), reading.brewhouses.clone());
    let stock = reading.stock.clone();
    let of_reading = Job::from_reading(reading, sources, &Catalogue::builtin()).unwrap();
    assert_eq!(of_reading.on("Stove top").unwrap().plan().unwrap(), plan);
    let built = plants
        .into_iter()
        .fold(Job::builder(recipe), JobBuilder::plant);
    let built = built.stock(stock).build().unwrap();
    assert_eq!(built.on("Stove top").unwrap().plan().unwrap(), plan);
}

#[test]
fn a_plant_of_the_hosts_own_goes_beside_a_text() {
    let reading = read(&[TextRef::new("home", DEMO_PLANT)]);
    let plant = reading.brewhouses[0].clone();
    let beer = "recipe Ale\nbrewed on Stove top\nbatch 8 L\ntarget original 12 P\nmash\n  100 % pale ale malt\nbrewhouse Shed\n  batch 5 L\n";
    let text = Job::read([("ale", beer)]).unwrap();
    let codes = |job: &Job| -> Vec<_> {
        let found = job.diagnostics().iter();
        found.map(|found| found.code.as_str()).collect()
    };
    assert_eq!(codes(&text), ["unknown_plant"]);
    let both = text.with(Models::default().plant(plant.clone())).unwrap();
    assert_eq!(codes(&both), [""; 0]);
    let joined = format!("{beer}{DEMO_PLANT}");
    let of_texts = Job::read([("all", joined.as_str())]).unwrap();
    assert_eq!(both.as_written().unwrap(), of_texts.as_written().unwrap());
    // A second one of its name is refused.
    let twice = both.with(Models::default().plant(plant)).unwrap_err();
    assert_eq!(
        twice.place().unwrap().to_string(),
        "brewhouses[Stove top].name"
    );
}

#[test]
fn a_log_needs_no_recipe() {
    let reading = read(&[TextRef::new(
        "log",
        "log\n  pitched 10 L at 12 P\n  reading 2.5 P\n",
    )]);
    let log = reading.logs[0].clone();
    let job = Job::default().with(Models::default().log(log)).unwrap();
    // Balling by hand for 12 and 2.5 °P: 4.303 °P real (Tabarié), 3.956 % by mass, 5.0 % by volume.
    let ledger = job.ledgers().next().unwrap().unwrap();
    assert!((ledger.alcohol.by_volume.percent() - 5.0).abs() < 0.1);
}

#[test]
fn models_are_held_against_the_checks_of_a_text() {
    let code = |job: JobBuilder| {
        let error = job.build().unwrap_err();
        assert_eq!(error.kind(), ErrorKind::Unreadable);
        let errors = error.diagnostics().iter();
        let errors: Vec<_> = errors.map(|found| found.code.as_str()).collect();
        assert_eq!(errors.len(), 1, "{error}");
        // Each is shown under the line that would state it.
        assert!(error.to_string().contains("--> models:"), "{error}");
        errors[0]
    };
    let pot = || Brewhouse::new("Pot");
    let twice = Job::builder(Recipe::new("Ale"))
        .plant(pot())
        .plant(Brewhouse::new("POT"));
    assert_eq!(code(twice), "duplicate_plant");
    let part = Addition::new("pale ale malt", "90 %".parse().unwrap());
    let short = Recipe::new("Ale").mash(part);
    assert_eq!(
        code(Job::builder(short).plant(pot())),
        "shares_do_not_add_up"
    );
}

#[test]
fn a_kind_is_found_by_the_catalogue() {
    let recipe = Recipe::new("Ale")
        .mash(Addition::new("pale ale malt", "4 kg".parse().unwrap()))
        .boil(Addition::new("northern brewer", "20 g".parse().unwrap()));
    let job = Job::builder(recipe).build().unwrap();
    let kinds: Vec<_> = job
        .recipe()
        .unwrap()
        .additions()
        .filter_map(|a| a.ingredient())
        .map(|i| i.kind)
        .collect();
    assert_eq!(kinds, [Kind::Malt, Kind::Hop]);
}

#[test]
fn a_host_chooses_the_model_of_bitterness() {
    let options =
        ScaleOptions::default().with_bitterness(wortwright::recipe::BitternessModel::Kinetic);
    let ibu = |brew: Brew| brew.predict().unwrap().predicted.bitterness.unwrap().ibu();
    let usual = ibu(demo().on("Printed plant").unwrap());
    let kinetic = ibu(demo().on_with("Printed plant", &options).unwrap());
    assert!((usual - kinetic).abs() > 0.1, "{usual} {kinetic}");
}

#[test]
fn a_hop_spelt_in_two_ways_draws_on_one_lot() {
    // 60 g in the cupboard are enough for either line of about 50 g, not for both.
    let beer = include_str!("fixtures/two_spellings.gyle");
    let home = "brewhouse Pot\n  batch 10 L into fermenter\nstock\n  9 kg pale ale malt\n  60 g east kent golding, 5 % alpha\n";
    let plan = |home: &str| {
        let job = Job::read([("beer", beer), ("home", home)]).unwrap();
        job.on("Pot").unwrap().plan().unwrap()
    };
    let hops = |plan: &Plan| -> Vec<Supply> {
        let hops = plan
            .shopping
            .iter()
            .filter(|line| line.name.contains("golding"));
        hops.map(|line| line.supply).collect()
    };
    assert_eq!(hops(&plan(home)), [Supply::ToBuy]);
    assert_eq!(
        hops(&plan(&home.replace("60 g", "160 g"))),
        [Supply::InStock]
    );
}

#[test]
fn a_lot_in_stock_is_brewed_with() {
    // A lot of another colour is brewed with; without it the recipe's own figure stands.
    let beer = include_str!("fixtures/pale_ale.gyle");
    let ebc = |stock| {
        let job = Job::read([("beer", beer), ("stock", stock)]).unwrap();
        let plan = job.on("Pot").unwrap().plan().unwrap();
        plan.predicted.colour.unwrap().ebc()
    };
    assert!(ebc("stock\n  9 kg pale ale malt, 12 EBC\n") > 1.2 * ebc(""));
}

#[test]
fn a_refusal_shows_the_line_that_it_speaks_of() {
    let beer = "recipe Ale\nbatch 20 L\ntarget original 12 P\nmash\n  100 % pale ale malt\nboil 60 min\n  cascade at 60 min\n";
    let job = Job::read([
        ("ale", beer),
        ("home", "brewhouse Home\n  batch 10 L\nbrewhouse Shed\n"),
    ])
    .unwrap();
    let error = job.as_written().unwrap_err();
    let place = error.place().unwrap().to_string();
    assert_eq!(place, "recipe.boil.additions[0].amount");
    assert!(
        error
            .to_string()
            .contains("--> ale:7:3\n    7 |   cascade at 60 min"),
        "{error}"
    );
    assert_eq!(job.on("Home").unwrap().plan().unwrap_err(), error);
    // The plant, where the plant is wanting.
    let error = job.on("Shed").unwrap().plan().unwrap_err();
    assert_eq!(error.place().unwrap().to_string(), "brewhouses[Shed].batch");
    assert!(error.to_string().contains("--> home:3:"), "{error}");
}
