//! What simulated plants learn: how often the truth lies within two sigma, and how often a slip is named.
//!
//! ```text
//! cargo run --release -p wortwright-tests --bin learning
//! cargo run --release -p wortwright-tests --bin learning -- 1000 7
//! ```
//!
//! The first word is how many plants, 300 unless said, the second the seed of the first.
#![allow(
    missing_docs,
    clippy::print_stdout,
    clippy::unwrap_used,
    clippy::indexing_slicing
)]

use std::time::Instant;
use wortwright::learn::{BrewDay, Learnt, learn};
use wortwright::scale::Plan;
use wortwright_tests::brewing_days::{Readings, Simulated, leverages, plans};

/// Sigma of a reading that a slip is off by.
const SLIP: f64 = 5.0;

#[derive(Default)]
struct Counts {
    within: [u32; 5],
    within_one: [u32; 5],
    sets: u32,
    clean_named: u32,
    refused: u32,
    slips: u32,
    named: u32,
    others_named: u32,
    slips_of: [u32; Readings::COUNT],
    named_of: [u32; Readings::COUNT],
    next_within: u32,
    next: u32,
    squares: [f64; 5],
}

fn is_named(found: &Learnt, day: usize, at: usize) -> bool {
    let mut slips = found.days[day].slipped.iter();
    slips.any(|slip| slip.name.name() == Readings::name(at))
}

fn one(counts: &mut Counts, seed: u64, count: usize, plans: &[Plan; 2]) {
    let mut plant = Simulated::drawn(seed, plans);
    let days = plant.days(count);
    let Ok(found) = learn(&plant.plant, &plant.written(&days)) else {
        counts.refused += 1;
        return;
    };
    counts.sets += 1;
    for (at, (name, is)) in plant.truth.named().into_iter().enumerate() {
        let figure = found
            .figures
            .iter()
            .find(|figure| figure.name == name)
            .unwrap();
        let sigmas = (figure.value - is) / figure.one_sigma;
        counts.within[at] += u32::from(sigmas.abs() <= 2.0);
        counts.within_one[at] += u32::from(sigmas.abs() <= 1.0);
        counts.squares[at] += sigmas;
    }
    if std::env::var("WW_SHOW").is_ok() {
        for d in &found.days {
            for s in &d.slipped {
                println!(
                    "CLEAN {seed} {count} {} off {:.2} sigma {:.2} ratio {:.2} truth {:?}",
                    s.name.name(),
                    s.off,
                    s.one_sigma,
                    s.off / s.one_sigma,
                    plant.truth
                );
            }
        }
    }
    counts.clean_named += u32::from(found.days.iter().any(|day| !day.slipped.is_empty()));
    let next = plant.happens(count - 1 + 2);
    for (at, is) in next.0.into_iter().enumerate() {
        let mut told = found.next_day.iter();
        let told = told
            .find(|told| told.name.name() == Readings::name(at))
            .unwrap();
        counts.next_within += u32::from((told.predicted - is).abs() <= 2.0 * told.one_sigma);
        counts.next += 1;
    }
    let day = usize::try_from(seed).unwrap() % count;
    let at = usize::try_from(seed / 11).unwrap() % Readings::COUNT;
    let mut slipped = days;
    let sign = if seed.is_multiple_of(2) { 1.0 } else { -1.0 };
    slipped[day].0[at] += sign * SLIP * slipped[day].sigma(at);
    let Ok(found) = learn(&plant.plant, &plant.written(&slipped)) else {
        counts.refused += 1;
        return;
    };
    counts.slips += 1;
    counts.slips_of[at] += 1;
    let named = is_named(&found, day, at);
    counts.named += u32::from(named);
    counts.named_of[at] += u32::from(named);
    let all: usize = found.days.iter().map(|day| day.slipped.len()).sum();
    counts.others_named += u32::from(all > usize::from(named));
}

fn main() {
    let words: Vec<u64> = std::env::args()
        .skip(1)
        .map(|word| word.parse().unwrap())
        .collect();
    let plants = words.first().copied().unwrap_or(300);
    let first = words.get(1).copied().unwrap_or(1000);
    let plans = plans();
    for days in [1, 3, 10] {
        for (day, of) in leverages(days, &plans).iter().enumerate() {
            if day < 2 {
                println!("{days} {day} {of:.2?}");
            }
        }
    }
    for count in [1, 3, 10] {
        let mut counts = Counts::default();
        for seed in first..first + plants {
            one(&mut counts, seed, count, &plans);
        }
        let percent = |part: u32, all: u32| 100.0 * f64::from(part) / f64::from(all.max(1));
        println!("{count} days, {plants} plants, {} refused", counts.refused);
        let names = [
            "absorption",
            "conversion",
            "evaporation",
            "kettle loss",
            "attenuation",
        ];
        for (at, name) in names.into_iter().enumerate() {
            println!(
                "  {name:12} within one sigma {:5.1} %, two {:5.1} %, mean {:+.2} sigma",
                percent(counts.within_one[at], counts.sets),
                percent(counts.within[at], counts.sets),
                counts.squares[at] / f64::from(counts.sets)
            );
        }
        println!(
            "  all within two sigma {:.1} %; next day within two {:.1} %; clean sets that name a slip {:.1} %",
            percent(counts.within.iter().sum(), 5 * counts.sets),
            percent(counts.next_within, counts.next),
            percent(counts.clean_named, counts.sets)
        );
        println!(
            "  a slip of {SLIP} sigma named {:.1} %, another beside or instead {:.1} %",
            percent(counts.named, counts.slips),
            percent(counts.others_named, counts.slips)
        );
        for at in 0..Readings::COUNT {
            let named = percent(counts.named_of[at], counts.slips_of[at]);
            println!(
                "    {:16} {named:5.1} % of {}",
                Readings::name(at),
                counts.slips_of[at]
            );
        }
    }
    let mut plant = Simulated::drawn(1, &plans);
    let days = plant.days(10);
    let days: Vec<BrewDay> = plant.written(&days);
    let mut best = f64::INFINITY;
    for _ in 0..20 {
        let start = Instant::now();
        let found = learn(&plant.plant, &days);
        best = best.min(start.elapsed().as_secs_f64());
        assert!(found.is_ok());
    }
    println!("learn of ten days: {:.2} ms", 1000.0 * best);
}
