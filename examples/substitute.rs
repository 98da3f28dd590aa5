//! What may stand for the ingredients that a brewer cannot get.
//!
//! `cargo run --example substitute -- [--catalogue] [--missing NAME]… [FILE…]`
//!
//! The files hold a recipe, its plant, the brewer's plant and a stock; without any the demo is read. The plant with a
//! batch is the one to brew on. Candidates come from the stock, or with `--catalogue` from everything the catalogue has.

use std::error::Error;
use std::fs;
use wortwright::catalogue::Catalogue;
use wortwright::diagnostic::Source;
use wortwright::notation::read;
use wortwright::substitute::{Candidates, Proposal, Proposals, SubstituteOptions, propose};
use wortwright::wording::{Style, alcohol};

const DEMO: [&str; 2] = [
    "examples/data/saltmarsh-lantern.gyle",
    "examples/data/stove-top.gyle",
];

fn main() -> Result<(), Box<dyn Error>> {
    let mut files = Vec::new();
    let mut missing = Vec::new();
    let mut candidates = Candidates::Stock;
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        match word.as_str() {
            "--catalogue" => candidates = Candidates::Catalogue,
            "--missing" => missing.push(words.next().ok_or("--missing wants a name")?),
            _ => files.push(word),
        }
    }
    if files.is_empty() {
        files = DEMO.map(str::to_owned).to_vec();
    }
    let texts = files
        .iter()
        .map(|file| Ok((file.clone(), fs::read_to_string(file)?)))
        .collect::<Result<Vec<_>, std::io::Error>>()?;
    let sources: Vec<_> = texts
        .iter()
        .map(|(file, text)| Source::new(file, text))
        .collect();
    let catalogue = Catalogue::builtin();
    let reading = read(&sources);
    let recipe = reading.recipe.as_ref().ok_or("the files hold no recipe")?;
    let source = recipe.plant_among(&reading.brewhouses)?;
    let target = reading
        .brewhouses
        .iter()
        .find(|plant| plant.batch.is_some())
        .ok_or("no plant with a batch")?;
    let names: Vec<&str> = missing.iter().map(String::as_str).collect();
    let options = SubstituteOptions::default().with_candidates(candidates);
    let answers = propose(
        recipe,
        source,
        target,
        &names,
        &reading.stock,
        &catalogue,
        &options,
    )?;
    let style = Style::customary(target.unit_system());
    for answer in &answers {
        show(answer, style);
    }
    Ok(())
}

fn show(answer: &Proposals, style: Style) {
    println!(
        "{}: {} candidates{}",
        answer.name,
        answer.candidates,
        answer
            .no_substitute
            .map(|why| format!(", no honest substitute ({why:?})"))
            .unwrap_or_default()
    );
    for (place, proposal) in answer.proposals.iter().enumerate() {
        println!("  {}. {}", place + 1, proposal.text(style));
        for other in &proposal.other_ways {
            println!("     or {}: {}", way(other), other.text(style));
        }
        println!(
            "     {}distance {:.3}, gravity {:+.4} %, colour {:+.3} EBC{}, {} variants",
            way(proposal) + if proposal.way.is_some() { ", " } else { "" },
            proposal.distance,
            proposal.gravity_residual_pct,
            proposal.colour_residual_ebc,
            if proposal.feasible { "" } else { " (not kept)" },
            proposal.variants
        );
        let parts: Vec<_> = proposal
            .distance_parts
            .iter()
            .map(|part| format!("{:?} {:.3}", part.what, part.value))
            .collect();
        println!("     {}", parts.join(", "));
        let figures = &proposal.predicted;
        let say = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
        println!(
            "     predicted: original {}, final {}, {}, {}, {}",
            say(figures.original.map(|g| style.gravity(g))),
            say(figures.final_extract.map(|g| style.gravity(g))),
            say(figures.alcohol.map(alcohol)),
            say(figures.colour.map(|c| style.beer_colour(c))),
            say(figures
                .diastatic_power
                .map(|p| format!("{:.0} WK", p.windisch_kolbach())))
        );
        for allergen in &proposal.allergens_gained {
            println!("     brings an allergen: {allergen}");
        }
        for practice in &proposal.practice {
            println!("     {}", practice.text());
        }
    }
}

fn way(proposal: &Proposal) -> String {
    proposal
        .way
        .map(|way| way.text().to_owned())
        .unwrap_or_default()
}
