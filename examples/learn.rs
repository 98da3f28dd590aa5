//! What the logs of some brewing days tell of a plant: its figures, what each day was off by, and what the next one spreads.
//!
//! ```text
//! cargo run --example learn
//! cargo run --example learn -- beer.gyle plant.gyle days.gyle --to Garage
//! cargo run --example learn -- --out page.html
//! ```
//!
//! Without a text the demo is learnt from: three invented days, whose truth stands at the head of their file. All logs are of
//! one recipe on one plant. With `--out` a page with pictures is written too.
#![allow(missing_docs, clippy::print_stdout, clippy::print_stderr)]

#[allow(dead_code, reason = "a plant speaks in its own units")]
mod common;
#[path = "picture/learnt.rs"]
mod picture;

use common::Arguments;
use std::process::ExitCode;
use wortwright::job::Job;
use wortwright::learn::{BrewDay, Learnt, learn};
use wortwright::speech::Speaks as _;

const DEMO: [(&str, &str); 3] = [
    (
        "saltmarsh-lantern.gyle",
        include_str!("data/saltmarsh-lantern.gyle"),
    ),
    ("stove-top.gyle", include_str!("data/stove-top.gyle")),
    (
        "stove-top-days.gyle",
        include_str!("data/stove-top-days.gyle"),
    ),
];

fn main() -> ExitCode {
    common::finish(run())
}

fn run() -> Result<String, String> {
    let mut words: Vec<String> = std::env::args().skip(1).collect();
    let out = words.iter().position(|word| word == "--out");
    let out = out.map(|at| words.drain(at..words.len().min(at + 2)).nth(1));
    let arguments = Arguments::from_words(words.into_iter())?;
    let job = if arguments.files.is_empty() {
        Job::read(DEMO).map_err(|error| error.to_string())?
    } else {
        arguments.job()?
    };
    let learnt = learnt(&job, arguments.plant.as_deref()).map_err(|error| error.to_string())?;
    if let Some(file) = out {
        let file = file.ok_or("--out needs the name of a file")?;
        let page = picture::page(&learnt);
        std::fs::write(&file, page).map_err(|error| format!("{file}: {error}"))?;
    }
    Ok(told(&learnt))
}

fn learnt(job: &Job, plant: Option<&str>) -> Result<Learnt, wortwright::Error> {
    let plant = match plant {
        Some(plant) => plant,
        None => &job.only_plant()?.name,
    };
    let brew = job.on(plant)?;
    let plan = brew.plan()?;
    let days = job
        .logs()
        .iter()
        .map(|log| BrewDay::new(plan.keep(), log.clone()));
    learn(brew.brewhouse(), &days.collect::<Vec<_>>())
}

fn told(learnt: &Learnt) -> String {
    let style = learnt.brewhouse.style();
    let mut page = learnt.lines();
    let mut say = |line: String| {
        page.push_str(&line);
        page.push('\n');
    };
    say("\nFIGURES".to_owned());
    for figure in &learnt.figures {
        say(format!("  {}", figure.text(style)));
    }
    for [one, other] in &learnt.not_told_apart {
        say(format!("  not told apart: {one} and {other}"));
    }
    say("\nDAYS".to_owned());
    for day in &learnt.days {
        say(format!("  {}: {}", day.name, day.text(style)));
        for slip in &day.slipped {
            say(format!("    {}", slip.text(style)));
        }
    }
    say("\nNEXT DAY".to_owned());
    for next in &learnt.next_day {
        say(format!("  {}", next.text(style)));
    }
    say(String::new());
    for remark in &learnt.remarks {
        say(format!("  {}", remark.text(style)));
    }
    page
}
