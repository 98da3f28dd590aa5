//! Many plans at once: seeded variations of the demo's recipe, each for many plants, on one thread and on all.
//!
//! ```text
//! cargo run --release --example batch
//! cargo run --release --example batch -- 200
//! ```
//!
//! The argument is how many plans; without it a hundred thousand. Prints how many a second, whether all threads find the
//! very same plans as one, and the most memory that was held. Texts are read before the clock starts.
#![allow(missing_docs, clippy::print_stdout, clippy::print_stderr)]

use rayon::prelude::*;
use std::fmt::Write as _;
use std::process::ExitCode;
use std::time::Instant;
use wortwright::quantity::{AlcoholByVolume, BeerColour, Bitterness, Extract, Ph};
use wortwright::scale::ScaleOptions;
use wortwright::{Job, Plan};

const RECIPE: &str = include_str!("data/saltmarsh-lantern.gyle");
const PLANT: &str = include_str!("data/stove-top.gyle");
const USUAL_COUNT: usize = 100_000;
const SEED: u64 = 20_210_417;

/// Numbers that are the same in every run (Knuth's MMIX generator, from memory).
struct Numbers(u64);

impl Numbers {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * (self.0 >> 33) as f64 / f64::from(1_u32 << 31)
    }
}

fn main() -> ExitCode {
    match run() {
        Ok(text) => {
            print!("{text}");
            ExitCode::SUCCESS
        }
        Err(fault) => {
            eprintln!("error: {fault}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<String, String> {
    let count = match std::env::args().nth(1) {
        Some(word) => word
            .parse()
            .ok()
            .filter(|count| *count > 0)
            .ok_or_else(|| format!("expected how many plans, from 1, found `{word}`"))?,
        None => USUAL_COUNT,
    };
    let mut numbers = Numbers(SEED);
    // As many recipes as plants for each, nearly.
    let recipe_count = count.isqrt().max(1);
    let recipes: Vec<_> = (0..recipe_count).map(|_| recipe(&mut numbers)).collect();
    let names: Vec<_> = (0..count.div_ceil(recipe_count)).map(plant_name).collect();
    let plants: String = names.iter().map(|name| plant(name, &mut numbers)).collect();
    let jobs = recipes
        .into_iter()
        .map(|recipe| {
            Job::read([
                ("recipe", recipe.as_str()),
                ("stock", PLANT),
                ("plants", &plants),
            ])
        })
        .collect::<Result<Vec<_>, _>>()
        .map_err(|fault| fault.to_string())?;
    let pairs: Vec<_> = names
        .iter()
        .flat_map(|name| jobs.iter().map(move |job| (job, name)))
        .take(count)
        .collect();
    let options = ScaleOptions::default().without_spread();
    let plan = |(job, name): &(&Job, &String)| {
        let plan = job.on_with(name, &options).and_then(|brew| brew.plan());
        plan.map_or(0, |plan| fingerprint(&plan))
    };
    let start = Instant::now();
    let by_one: Vec<u64> = pairs.iter().map(plan).collect();
    let one_s = start.elapsed().as_secs_f64();
    let start = Instant::now();
    let by_all: Vec<u64> = pairs.par_iter().map(plan).collect();
    let all_s = start.elapsed().as_secs_f64();
    if by_all != by_one {
        return Err("threads find other plans than one alone".to_owned());
    }
    let refused = by_one.iter().filter(|print| **print == 0).count();
    let mut text = String::new();
    let told = (|| {
        writeln!(
            text,
            "{count} plans: {} recipes, {} plants, {refused} refused",
            jobs.len(),
            names.len()
        )?;
        let a_second = |seconds: f64| count as f64 / seconds.max(f64::MIN_POSITIVE);
        writeln!(text, "one thread: {:.0} plans a second", a_second(one_s))?;
        writeln!(
            text,
            "{} threads: {:.0} plans a second, each the same to the last bit",
            rayon::current_num_threads(),
            a_second(all_s)
        )?;
        match peak_memory() {
            Some(memory) => writeln!(text, "most memory held: {memory}"),
            None => writeln!(text, "most memory held: not told by this system"),
        }
    })();
    told.map_err(|fault: std::fmt::Error| fault.to_string())?;
    Ok(text)
}

/// The demo's sheet with other targets, doses and times.
fn recipe(numbers: &mut Numbers) -> String {
    let mut figure = |written: &str, unit: &str, low: f64, high: f64| {
        let varied = format!("{:.1} {unit}", numbers.between(low, high));
        (written.to_owned(), varied)
    };
    let figures = [
        figure("15.6 P", "P", 12.0, 18.0),
        figure("3.1 P", "P", 2.4, 4.0),
        figure("21 IBU", "IBU", 15.0, 35.0),
        figure("75 min", "min", 60.0, 100.0),
        figure("60 g/hL", "g/hL", 20.0, 120.0),
        figure("12 % by volume", "% by volume", 4.0, 18.0),
    ];
    figures
        .iter()
        .fold(RECIPE.to_owned(), |text, (written, varied)| {
            text.replace(written, varied)
        })
}

fn plant_name(index: usize) -> String {
    format!("Varied {index}")
}

/// A plant of a kitchen or a garage.
fn plant(name: &str, numbers: &mut Numbers) -> String {
    let batch_l = numbers.between(5.0, 60.0);
    let lauter = match numbers.between(0.0, 3.0) {
        kind if kind < 1.0 => "bag, sparge 1.2 L",
        kind if kind < 2.0 => "batch, sparges 2",
        _ => "continuous, yield 93 %",
    };
    format!(
        "brewhouse {name}\n  batch {batch_l:.1} L into fermenter\n  kettle {:.1} L\n  lauter {lauter}\n  \
         absorption {:.2} L/kg\n  evaporation {:.1} L/h\n  kettle loss {:.1} L\n  altitude {:.0} m\n  \
         cool to 20 C in {:.0} min\n  coolant {:.0} C\n  weigh malt 5 g, hops 0.5 g, salts 0.1 g\n",
        batch_l * numbers.between(1.5, 2.5),
        numbers.between(0.5, 1.1),
        batch_l * numbers.between(0.06, 0.25),
        batch_l * numbers.between(0.0, 0.06),
        numbers.between(0.0, 1500.0),
        numbers.between(10.0, 60.0),
        numbers.between(5.0, 18.0),
    )
}

/// Amounts and figures of a plan folded into one number, bit for bit (FNV-1a).
fn fingerprint(plan: &Plan) -> u64 {
    let amounts = plan.additions.iter().flat_map(|addition| {
        let mass = addition.mass.map(|mass| mass.value);
        [mass, addition.volume.map(|volume| volume.value)]
    });
    let predicted = &plan.predicted;
    let figures = [
        predicted.original.map(Extract::plato),
        predicted.final_extract.map(Extract::plato),
        predicted.alcohol.map(AlcoholByVolume::percent),
        predicted.bitterness.map(Bitterness::ibu),
        predicted.colour.map(BeerColour::ebc),
        predicted.mash_ph.map(Ph::value),
        Some(plan.volumes.pre_boil_hot.value),
        Some(plan.water.additions.len() as f64),
        Some(plan.changes.len() as f64),
        Some((plan.warnings.len() + plan.outcomes.len()) as f64),
    ];
    amounts
        .chain(figures)
        .map(|figure| figure.map_or(u64::MAX, f64::to_bits))
        .flat_map(u64::to_le_bytes)
        .fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        })
}

/// The most memory that the process has held, where the system keeps a file of it (Linux).
fn peak_memory() -> Option<String> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:"))?;
    Some(line.trim().to_owned())
}
