//! How a host that is itself written in Rust adds its own ingredient, plant and stock, and reads reasons as data.
//!
//! ```text
//! cargo run --example embed
//! ```
#![allow(missing_docs, clippy::print_stdout)]

use wortwright::catalogue::{Catalogue, Entry};
use wortwright::diagnostic::Source;
use wortwright::notation::{ReadOptions, read_with};
use wortwright::recipe::{Brewhouse, Stock};
use wortwright::scale::{Change, ScaleOptions, scale};
use wortwright::wording::Style;

/// A host keeps such things in its own database; here they are texts of JSON, in the form that the exchange answers.
const INGREDIENTS: &str = r#"[{"fermentable": {"name": "moon malt", "class": "base_malt", "colour_ebc": 7,
    "extract_dry_pct": 81, "moisture_pct": 4}}]"#;
const PLANT: &str =
    r#"{"name": "Pot", "batch": {"volume_l": 10, "at": "into_fermenter"}, "kettle_l": 20}"#;
const RECIPE: &str = "recipe Moonlit\nbatch 10 hL into fermenter\ntarget original 12 P, bitterness 25 IBU\n\
    mash\n  90 % moon malt\n  10 % light munich malt\nboil 60 min\n  northern brewer at 60 min\n";

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let entries: Vec<Entry> = serde_json::from_str(INGREDIENTS)?;
    let catalogue = Catalogue::builtin().with(entries);
    let plant: Brewhouse = serde_json::from_str(PLANT)?;
    let sources = [Source::new("moonlit", RECIPE)];
    let reading = read_with(&sources, &catalogue, &ReadOptions::default());
    let recipe = reading.recipe.ok_or("the text holds no recipe")?;
    let options = ScaleOptions::default().with_stock(Stock::default());
    let plan = scale(&recipe, &plant, &catalogue, &options)?;
    for change in &plan.changes {
        // A host matches on what it has a use for, and shows the sentence of everything else.
        match change {
            Change::KeepsDose { name, .. } => println!("dose kept: {name}"),
            other => println!("{}", other.text(Style::default())),
        }
    }
    println!("as data: {}", serde_json::to_string(&plan.outcomes)?);
    if let Some(original) = plan.predicted.original {
        println!("{:.1} °P", original.plato());
    }
    Ok(())
}
