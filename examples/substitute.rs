//! What may be used in place of the ingredients that a brewer cannot get.
//!
//! ```text
//! cargo run --example substitute
//! cargo run --example substitute -- --catalogue --missing honey sheet.gyle plant.gyle
//! cargo run --example substitute -- --take 2
//! ```
//!
//! The texts together hold a recipe, its plant, the plant to brew on (`--to PLANT`, else the only one with a batch) and a stock; without
//! any the demo is read. Without `--missing NAME` (as often as wanted) it is what the stock has none or too little of.
//! Candidates are what the stock holds and what a shop sells; with `--stock` the stock alone, with `--catalogue` everything.
//! Proposals stand in the order in which a brewer would choose: what does the same job first, then what is the least trouble and
//! tastes most alike. A proposal has two lines: what to take, with what it would be chosen for, and what is noticed of it. `--take N` takes the
//! Nth for each missing line, and prints what to take care of and the brew sheet.
#![allow(missing_docs, clippy::print_stdout, clippy::print_stderr)]

#[allow(dead_code, reason = "this example has options of its own")]
mod common;

use common::Arguments;
use std::fmt::Write as _;
use std::process::ExitCode;
use wortwright::diagnostic::Error;
use wortwright::job::Brew;
use wortwright::recipe::{Addition, At, Section};
use wortwright::speech::{Speaks, Style};
use wortwright::substitute::{
    Candidates, JuiceMatch, Practice, Proposal, Proposals, SubstituteOptions,
};

const HOW_TO_TAKE: &str = "--take 2 takes the second for each, and prints the whole brew sheet\n";

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
            "--stock" => wanted.candidates = Candidates::Stock,
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
        return Ok("The stock says of no ingredient that it is missing; one that it does not list can be bought. Name one with --missing.\n".to_owned());
    }
    let style = Style::customary(brew.brewhouse().unit_system());
    let Some(place) = wanted.take else {
        let tables: String = found
            .missing
            .iter()
            .map(|line| table(line, &named(line, &found.missing, brew), style))
            .collect();
        return Ok(format!("{tables}{HOW_TO_TAKE}"));
    };
    let (mut taken, mut told) = (Vec::new(), String::new());
    // A line without such a proposal stays as it is: the sheet then says that it cannot be bought.
    for line in &found.missing {
        let Some(proposal) = line.proposals.get(place - 1) else {
            let _ = writeln!(told, "for {}: no proposal {place}", line.name);
            continue;
        };
        let _ = writeln!(told, "for {}: {}", line.name, proposal.text(style));
        let _ = writeln!(told, "  {}", seen(proposal, style));
        for practice in &proposal.practice {
            let _ = writeln!(told, "  {}", practice.text(style));
        }
        taken.push(proposal);
    }
    if taken.len() > 1 {
        told.push_str(JUDGED_ALONE);
    }
    let plan = brew.taking(taken)?.plan()?;
    Ok(format!("{told}\n{plan}"))
}

/// The name of a line, with its time where another line has that name too.
fn named(line: &Proposals, all: &[Proposals], brew: &Brew) -> String {
    if all.iter().filter(|other| other.name == line.name).count() < 2 {
        return line.name.clone();
    }
    let lines = brew.recipe().section(line.line.section);
    let of_name = |addition: &&Addition| {
        let single = addition.ingredient();
        single.is_some_and(|ingredient| ingredient.name == line.line.name)
    };
    let addition = lines.filter(of_name).nth(line.line.nth);
    let when = match addition.and_then(|addition| addition.timing.at.as_ref()) {
        Some(At::TimeLeft(left)) => format!("at {left}"),
        _ if line.line.section == Section::Ferment => "in the fermenter".to_owned(),
        _ => format!("in the {}", line.line.section.word()),
    };
    format!("{} {when}", line.name)
}

fn table(found: &Proposals, name: &str, style: Style) -> String {
    let plural = if found.candidates == 1 { "" } else { "s" };
    let mass = found.mass.map(|mass| style.mass(mass) + " ");
    let amount = mass.or_else(|| found.volume.map(|volume| style.volume(volume) + " "));
    let amount = amount.unwrap_or_default();
    let order = if found.proposals.len() > 1 {
        ", best first"
    } else {
        ""
    };
    let mut text = match found.no_substitute {
        Some(why) => format!("for {amount}{name}, no substitute: {}", why.text(style)),
        None => format!(
            "for {amount}{name}, of {} candidate{plural}{order}:",
            found.candidates
        ),
    };
    if found.no_substitute.is_some() && !found.proposals.is_empty() {
        text.push_str("; nearest:");
    }
    text.push('\n');
    for (place, proposal) in found.proposals.iter().enumerate() {
        let roles: Vec<_> = proposal.roles.iter().map(|role| role.text()).collect();
        let roles = match roles.join(", ") {
            none if none.is_empty() => none,
            roles => format!(" ({roles})"),
        };
        // Fruit is no litre of juice.
        let is_weighed = proposal
            .parts
            .first()
            .is_some_and(|part| part.mass.is_some());
        let way = match proposal.way {
            Some(JuiceMatch::SameVolume) if is_weighed => ", by the juice in it".to_owned(),
            Some(way) => format!(", {}", way.text()),
            None => String::new(),
        };
        let (place, parts) = (place + 1, proposal.text(style));
        let _ = writeln!(
            text,
            "  {place}. {parts}{way}{roles}\n     {}",
            seen(proposal, style)
        );
    }
    if let Some(without) = found.without {
        let _ = writeln!(text, "  or {}", without.text(style));
    }
    text.push('\n');
    text
}

/// What is noticed, and who may not drink it any more; of a miss, by how much it misses.
fn seen(proposal: &Proposal, style: Style) -> String {
    let mut seen = proposal.summary.clone();
    if !proposal.feasible {
        let gravity = proposal.gravity_residual_pct;
        seen = if gravity.abs() >= 0.05 {
            let word = if gravity < 0.0 {
                "lacks"
            } else {
                "has too much"
            };
            format!("{word} {:.1} % of the extract; {seen}", gravity.abs())
        } else {
            seen
        };
    }
    let to_do = proposal.practice.iter().filter(|practice| {
        matches!(
            practice.what,
            Practice::AddAcid { .. }
                | Practice::NeedsCooking { .. }
                | Practice::NeedsEnzyme { .. }
                | Practice::HardToMill { .. }
                | Practice::HardToMash { .. }
                | Practice::AddHulls { .. }
                | Practice::FermentWithin { .. }
                | Practice::FermentsDextrins { .. }
                | Practice::MayStop { .. }
                | Practice::KeepsBeer { .. }
                | Practice::OnTopOf { .. }
                | Practice::Heed { .. }
                | Practice::LacksIons { .. }
                | Practice::TastesOfRoast { .. }
                | Practice::PreservedMayNotFerment { .. }
                | Practice::DoseUnknown { .. }
        )
    });
    for practice in to_do {
        let _ = write!(seen, "; {}", practice.text(style));
    }
    for allergen in &proposal.allergens_gained {
        let _ = write!(seen, "; brings an allergen: {allergen}");
    }
    for allergen in &proposal.allergens_lost {
        let _ = write!(seen, "; without an allergen: {allergen}");
    }
    seen
}
