//! What may stand for the ingredients that a brewer cannot get.
//!
//! ```text
//! cargo run --example substitute
//! cargo run --example substitute -- --catalogue --missing honey sheet.gyle plant.gyle
//! cargo run --example substitute -- --take 1
//! ```
//!
//! The texts together hold a recipe, its plant, the plant to brew on (`--to PLANT`, else the only one with a batch) and a stock; without
//! any the demo is read. Without `--missing NAME` (as often as wanted) it is what the stock has none or too little of.
//! Candidates come from the stock, or with `--catalogue` from everything the catalogue has. `--take N` takes the Nth
//! proposal for each missing line, says what was taken and what it misses, and prints the brew sheet.
#![allow(missing_docs, clippy::print_stdout, clippy::print_stderr)]

#[allow(dead_code, reason = "this example has options of its own")]
mod common;

use common::Arguments;
use std::fmt::Write as _;
use std::process::ExitCode;
use wortwright::catalogue::Kind;
use wortwright::diagnostic::Error;
use wortwright::job::Brew;
use wortwright::recipe::Section;
use wortwright::speech::{Speaks, Style, alcohol};
use wortwright::substitute::{Candidates, Proposal, Proposals, SubstituteOptions};

const DISTANCE: &str = "distance: 0 is the same; 0.04 is one step of five in one kind of flavour, of all that is replaced\n";

const JUDGED_ALONE: &str = "each was judged as if it alone were replaced: what the stock lacks for all together stands on the sheet\n";

#[derive(Default)]
struct Wanted {
    missing: Vec<String>,
    candidates: Candidates,
    take: Option<usize>,
}

fn main() -> ExitCode {
    common::finish(run())
}

fn run() -> Result<String, String> {
    let (mut wanted, mut arguments) = (Wanted::default(), Arguments::default());
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        match word.as_str() {
            "--to" => arguments.plant = Some(words.next().ok_or("--to needs the name of a plant")?),
            "--catalogue" => wanted.candidates = Candidates::Catalogue,
            "--missing" => wanted
                .missing
                .push(words.next().ok_or("--missing needs a name")?),
            "--take" => {
                let place = words.next().and_then(|n| n.parse().ok()).filter(|n| *n > 0);
                wanted.take = Some(place.ok_or("--take needs a number from 1")?);
            }
            _ if word.starts_with("--") => return Err(format!("no option is called `{word}`")),
            _ => arguments.files.push(word),
        }
    }
    answer(&arguments.brew()?, &wanted).map_err(|error| error.to_string())
}

fn answer(brew: &Brew, wanted: &Wanted) -> Result<String, Error> {
    let options = SubstituteOptions::default()
        .with_candidates(wanted.candidates)
        .with_missing(&wanted.missing);
    let found = brew.substitutes_with(&options)?;
    if found.missing.is_empty() {
        return Ok("nothing is missing: the stock lacks no ingredient of the recipe; name one with --missing\n".to_owned());
    }
    let style = Style::customary(brew.brewhouse().unit_system());
    let Some(place) = wanted.take else {
        let tables: String = found
            .missing
            .iter()
            .map(|line| table(line, style))
            .collect();
        return Ok(format!("{tables}{DISTANCE}"));
    };
    let (mut taken, mut told) = (Vec::new(), String::new());
    // A line without such a proposal stays as it is: the sheet then says that it cannot be bought.
    for line in &found.missing {
        let Some(proposal) = line.proposals.get(place - 1) else {
            let _ = writeln!(told, "for {}: no proposal {place}", line.name);
            continue;
        };
        let (name, parts, kept) = (&line.name, proposal.text(style), kept(line, proposal));
        let _ = writeln!(told, "for {name}: {parts}; {kept}");
        taken.push(proposal);
    }
    if taken.len() > 1 {
        told.push_str(JUDGED_ALONE);
    }
    let plan = brew.taking(taken)?.plan()?;
    Ok(format!("{told}\n{plan}"))
}

fn table(found: &Proposals, style: Style) -> String {
    let plural = if found.candidates == 1 { "" } else { "s" };
    let mut text = format!("{}: {} candidate{plural}", found.name, found.candidates);
    if let Some(why) = found.no_substitute {
        let _ = write!(text, ", no honest substitute: {}", why.text(style));
        if !found.proposals.is_empty() {
            text.push_str("; the nearest misses are");
        }
    }
    text.push('\n');
    for (place, proposal) in found.proposals.iter().enumerate() {
        let _ = write!(text, "  {}. {}", place + 1, row(found, proposal, style));
    }
    text.push('\n');
    text
}

fn row(found: &Proposals, proposal: &Proposal, style: Style) -> String {
    let mut lines = vec![proposal.text(style)];
    for other in &proposal.other_ways {
        lines.push(format!("or {}: {}", way(other), other.text(style)));
    }
    let variants = match proposal.variants {
        0 => String::new(),
        1 => "; 1 more blend is led by it".to_owned(),
        more => format!("; {more} more blends are led by it"),
    };
    lines.push(kept(found, proposal) + &variants);
    let parts: Vec<_> = proposal
        .distance_parts
        .iter()
        .filter(|part| part.value >= 0.005)
        .map(|part| format!("{} {:.3}", part.what.text(), part.value))
        .collect();
    let mainly = if parts.is_empty() {
        String::new()
    } else {
        format!(", mainly {}", parts.join(", "))
    };
    lines.push(format!("distance {:.3}{mainly}", proposal.distance));
    let figures = &proposal.predicted;
    let mashed = matches!(found.kind, Kind::Malt | Kind::Grain | Kind::Sugar);
    let predicted: Vec<_> = [
        figures
            .original
            .map(|g| format!("original {}", style.gravity(g))),
        figures
            .final_extract
            .map(|g| format!("final {}", style.gravity(g))),
        figures.alcohol.map(alcohol),
        figures
            .bitterness
            .filter(|_| found.kind == Kind::Hop)
            .map(|b| format!("bitterness {:.1} IBU", b.ibu())),
        figures
            .colour
            .filter(|_| found.kind != Kind::Hop)
            .map(|c| format!("malt colour {}", style.beer_colour(c))),
        figures
            .diastatic_power
            .filter(|_| mashed)
            .map(|p| format!("diastatic power {:.0} WK", p.windisch_kolbach())),
    ]
    .into_iter()
    .flatten()
    .collect();
    lines.push(format!("predicted: {}", predicted.join(", ")));
    lines.extend(
        proposal
            .allergens_gained
            .iter()
            .map(|a| format!("brings an allergen: {a}")),
    );
    lines.extend(
        proposal
            .practice
            .iter()
            .map(|practice| practice.text(style)),
    );
    lines.join("\n     ") + "\n"
}

/// What is kept, or what is missed by how much before the batch is worked out anew.
fn kept(found: &Proposals, proposal: &Proposal) -> String {
    if proposal.feasible {
        return match (found.kind, found.line.section) {
            (Kind::Juice, _) => way(proposal).to_owned(),
            (Kind::Hop, Section::Boil | Section::Stand) => "same bitterness".to_owned(),
            (Kind::Hop, _) => "same mass".to_owned(),
            _ => "same gravity and malt colour".to_owned(),
        };
    }
    let (gravity, colour) = (proposal.gravity_residual_pct, proposal.colour_residual_ebc);
    let mut misses = Vec::new();
    if gravity < -0.05 {
        misses.push(format!(
            "{:.1} % of the wort's extract is lacking, since its lot or its usual share of a grist allows no more of it",
            -gravity
        ));
    } else if gravity > 0.05 {
        misses.push(format!("{gravity:.1} % more extract than the wort's"));
    }
    if colour.abs() >= 0.005 {
        let word = if colour < 0.0 { "less" } else { "more" };
        misses.push(format!(
            "{:.2} EBC {word} malt colour in the wort",
            colour.abs()
        ));
    }
    format!("a miss: {}", misses.join("; "))
}

fn way(proposal: &Proposal) -> &'static str {
    proposal
        .way
        .map_or("", wortwright::substitute::JuiceMatch::text)
}
