//! How a host that is itself written in Rust adds its own ingredient, plant and stock, takes a proposal for what it
//! cannot get, and reads the reasons as data.
//!
//! ```text
//! cargo run --example embed
//! ```
#![allow(missing_docs, clippy::print_stdout)]

use wortwright::catalogue::{Catalogue, Entry};
use wortwright::job::{Job, Take};
use wortwright::notation::ReadOptions;
use wortwright::recipe::{Brewhouse, Stock};
use wortwright::scale::{Change, Outcome, Plan};
use wortwright::speech::{Noted, Speaks};

/// A host keeps such things in its own database; here they are texts of JSON, in the form that the exchange answers.
const INGREDIENTS: &str = r#"[{"fermentable": {"name": "moon malt", "class": "base_malt", "colour_ebc": 7,
    "extract_dry_pct": 81, "moisture_pct": 4, "diastatic_power_wk": 250}}]"#;
const PLANT: &str = r#"{"name": "Pot", "batch": {"volume_l": 10, "at": "into_fermenter"}, "kettle_l": 11.5,
    "lauter": {"bag": {"sparge_l": 3}}}"#;
const STOCK: &str = r#"{"lots": [
    {"held": [{"name": "moon malt", "kind": "malt", "facts": {"colour_ebc": 8}}, {"mass_kg": 5}]},
    {"any": {"name": "flaked wheat", "kind": "grain", "entry": "flaked wheat"}},
    {"any": {"name": "spelt malt", "kind": "malt", "entry": "spelt malt"}},
    {"missing": {"name": "flaked spelt", "kind": "grain", "entry": "flaked spelt"}}]}"#;
const RECIPE: &str = "recipe Moonlit\nbatch 10 hL into fermenter\ntarget original 12 P, bitterness 25 IBU\n\
    mash\n  85 % moon malt\n  15 % flaked spelt\nboil 60 min\n  northern brewer at 60 min\n";

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let entries: Vec<Entry> = serde_json::from_str(INGREDIENTS)?;
    let catalogue = Catalogue::builtin().with(entries);
    let plant: Brewhouse = serde_json::from_str(PLANT)?;
    let stock: Stock = serde_json::from_str(STOCK)?;
    let read = Job::read_with([("moonlit", RECIPE)], &catalogue, &ReadOptions::default())?;
    let recipe = read.recipe().ok_or("the text holds no recipe")?.clone();
    let job = Job::builder(recipe)
        .plant(plant)
        .stock(stock)
        .catalogue(catalogue)
        .build()?;
    let brew = job.on("Pot")?;

    println!("as printed");
    show(&brew.plan()?)?;

    let mut taken = Vec::new();
    for line in brew.substitutes()?.missing {
        // Nothing is swapped in silence: a host shows what is proposed and takes what its user picks, here the nearest.
        let picked = line.proposals.first().ok_or("no substitute was found")?;
        let style = brew.brewhouse().style();
        println!("\nfor {}: {}", line.name, picked.text(style));
        for part in &picked.distance_parts {
            println!("  {}", serde_json::to_string(part)?);
        }
        taken.push(Take::from(picked));
    }

    println!("\nwith what can be had");
    show(&brew.taking(taken)?.plan()?)
}

/// A host matches on what it has a use for; the rest it shows as a sentence, or hands on as data.
fn show(plan: &Plan) -> Result<(), Box<dyn std::error::Error>> {
    let style = plan.brewhouse.style();
    for change in &plan.changes {
        match &change.what {
            Change::Replaced { name, with, .. } => {
                println!("  {name} is now {}", with.join(" and "));
            }
            other => println!("  {}", other.text(style)),
        }
    }
    for outcome in &plan.outcomes {
        println!("  not reached: {}", outcome.text(style));
        for remedy in outcome.remedies() {
            println!("    {}", serde_json::to_string(remedy)?);
        }
    }
    let is_missing =
        |outcome: &&Noted<Outcome>| matches!(&outcome.what, Outcome::CannotBeBought { .. });
    println!(
        "  {} to be replaced",
        plan.outcomes.iter().filter(is_missing).count()
    );
    if let Some(original) = plan.predicted.original {
        println!("  {:.1} °P", original.plato());
    }
    Ok(())
}
