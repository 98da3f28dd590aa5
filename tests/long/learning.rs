//! What simulated plants learn: how often the truth lies within two sigma, and how often a slip is named.
//!
//! ```text
//! cargo run --release -p wortwright-tests --bin learning
//! cargo run --release -p wortwright-tests --bin learning -- 1000 7 exact
//! ```
//!
//! The first word is how many plants, 300 unless said, the second the seed of the first. With a third the plants have none of the 5 % by
//! which each differs from the library's model.
#![allow(
    missing_docs,
    clippy::print_stdout,
    clippy::unwrap_used,
    clippy::indexing_slicing
)]

use std::time::Instant;
use wortwright::learn::{BrewDay, LearnRemark, Learnt, learn};
use wortwright::scale::Plan;
use wortwright_tests::brewing_days::{Readings, Simulated, leverages, plans, sigmas_of_a_day};

/// A slip is off by so many sigma.
const SLIP: f64 = 5.0;
/// A reading that decides more of its own variance than this leaves too little to tell a slip by.
const MOST_LEVERAGE: f64 = 1.0 / 3.0;

/// By which sigma a slip is counted.
#[derive(Clone, Copy)]
enum Sigma {
    /// Of the reading alone, for readings of little leverage.
    Reading,
    /// Of the reading about what its plant usually has, days being as they are.
    Day,
}

#[derive(Default)]
struct Slips {
    made: [u32; Readings::COUNT],
    named: [u32; Readings::COUNT],
    /// Refused with the day of the slip named, as no brewery can have had it.
    refused: u32,
    others_named: u32,
    /// What is learnt beside a slip: the sum of its distance to the truth, in sigma, of each figure, and how many.
    bias: [f64; 5],
    learnt: u32,
}

#[derive(Default)]
struct Counts {
    within: [u32; 5],
    within_one: [u32; 5],
    sets: u32,
    clean_named: u32,
    clean_unlike: u32,
    refused: u32,
    by_reading: Slips,
    by_day: Slips,
    next_within: u32,
    next: u32,
    sums: [f64; 5],
    /// One sigma of the next day's original gravity, told before and after, and what it was off by, squared.
    next_told: [f64; 2],
    next_off: f64,
}

/// What all sets of so many days share.
struct World<'a> {
    plans: &'a [Plan; 2],
    sigmas: [[f64; Readings::COUNT]; 2],
    leverages: Vec<[f64; Readings::COUNT]>,
    is_exact: bool,
}

fn is_named(found: &Learnt, day: usize, at: usize) -> bool {
    let mut slips = found.days[day].slipped.iter();
    slips.any(|slip| slip.name.name() == Readings::name(at))
}

/// How far the figures of a plant lie off its truth, in sigma.
fn off(found: &Learnt, plant: &Simulated) -> [f64; 5] {
    plant.truth.named().map(|(name, is)| {
        let mut figures = found.figures.iter();
        let figure = figures.find(|figure| figure.name == name).unwrap();
        (figure.value - is) / figure.one_sigma
    })
}

fn one(counts: &mut Counts, seed: u64, world: &World<'_>) {
    let count = world.leverages.len();
    let mut plant = Simulated::drawn(seed, world.plans);
    if world.is_exact {
        plant = plant.without_model_error();
    }
    let days = plant.days(count);
    let Ok(found) = learn(&plant.plant, &plant.written(&days)) else {
        counts.refused += 1;
        return;
    };
    counts.sets += 1;
    for (at, sigmas) in off(&found, &plant).into_iter().enumerate() {
        counts.within[at] += u32::from(sigmas.abs() <= 2.0);
        counts.within_one[at] += u32::from(sigmas.abs() <= 1.0);
        counts.sums[at] += sigmas;
    }
    counts.clean_named += u32::from(found.days.iter().any(|day| !day.slipped.is_empty()));
    let is_unlike = |remark: &LearnRemark| matches!(remark, LearnRemark::DayUnlikeOthers { .. });
    counts.clean_unlike += u32::from(found.remarks.iter().any(|remark| is_unlike(&remark.what)));
    // The brew of the last day, once more.
    let next = plant.happens(count - 1 + 2);
    for (at, is) in next.0.into_iter().enumerate() {
        let mut told = found.next_day.iter();
        let told = told.find(|told| told.name.name() == Readings::name(at));
        let told = told.unwrap();
        let off = told.predicted - is;
        counts.next_within += u32::from(off.abs() <= 2.0 * told.one_sigma);
        counts.next += 1;
        if Readings::name(at) == "original_plato" {
            counts.next_told[0] += told.prior_one_sigma.powi(2);
            counts.next_told[1] += told.one_sigma.powi(2);
            counts.next_off += off * off;
        }
    }
    for by in [Sigma::Reading, Sigma::Day] {
        slip(counts, (&plant, &days, seed), world, by);
    }
}

/// Makes one slip, and counts whether it is named.
fn slip(
    counts: &mut Counts,
    (plant, days, seed): (&Simulated, &[Readings], u64),
    world: &World<'_>,
    by: Sigma,
) {
    let all = (0..days.len()).flat_map(|day| (0..Readings::COUNT).map(move |at| (day, at)));
    let can_be_told = |(day, at): &(usize, usize)| match by {
        Sigma::Reading => world.leverages[*day][*at] <= MOST_LEVERAGE,
        Sigma::Day => true,
    };
    let of: Vec<_> = all.filter(can_be_told).collect();
    if of.is_empty() {
        return;
    }
    let place = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 33;
    let (day, at) = of[usize::try_from(place).unwrap() % of.len()];
    let sigma = match by {
        Sigma::Reading => days[day].sigma(at),
        Sigma::Day => world.sigmas[day % 2][at],
    };
    let sign = if place & (1 << 20) == 0 { 1.0 } else { -1.0 };
    let mut slipped = days.to_vec();
    slipped[day].0[at] += sign * SLIP * sigma;
    let slips = match by {
        Sigma::Reading => &mut counts.by_reading,
        Sigma::Day => &mut counts.by_day,
    };
    let found = match learn(&plant.plant, &plant.written(&slipped)) {
        Ok(found) => found,
        Err(error) => {
            let day = format!("logs[day {day}]");
            let place = error.place().map(ToString::to_string);
            assert!(
                place.is_some_and(|place| place.starts_with(&day)),
                "{error}"
            );
            slips.refused += 1;
            return;
        }
    };
    let named = is_named(&found, day, at);
    slips.made[at] += 1;
    slips.named[at] += u32::from(named);
    let all: usize = found.days.iter().map(|day| day.slipped.len()).sum();
    slips.others_named += u32::from(all > usize::from(named));
    slips.learnt += 1;
    for (sum, sigmas) in slips.bias.iter_mut().zip(off(&found, plant)) {
        *sum += sigmas;
    }
}

fn percent(part: u32, all: u32) -> f64 {
    100.0 * f64::from(part) / f64::from(all.max(1))
}

fn print(counts: &Counts, names: [&str; 5]) {
    let sets = f64::from(counts.sets);
    for (at, name) in names.into_iter().enumerate() {
        println!(
            "  {name:12} within one sigma {:5.1} %, two {:5.1} %, mean {:+.2} sigma",
            percent(counts.within_one[at], counts.sets),
            percent(counts.within[at], counts.sets),
            counts.sums[at] / sets
        );
    }
    println!(
        "  all within two sigma {:.1} %; next day within two {:.1} %; clean sets that name a slip {:.1} %, a day unlike the others {:.1} %",
        percent(counts.within.iter().sum(), 5 * counts.sets),
        percent(counts.next_within, counts.next),
        percent(counts.clean_named, counts.sets),
        percent(counts.clean_unlike, counts.sets)
    );
    println!(
        "  next day's gravity: one sigma {:.2} before, {:.2} told, {:.2} found",
        (counts.next_told[0] / sets).sqrt(),
        (counts.next_told[1] / sets).sqrt(),
        (counts.next_off / sets).sqrt()
    );
    for (slips, of) in [
        (&counts.by_reading, "its reading, leverage up to a third"),
        (&counts.by_day, "a day's reading"),
    ] {
        let made: u32 = slips.made.iter().sum();
        if made == 0 {
            continue;
        }
        println!(
            "  a slip of {SLIP} sigma of {of}: {} refused, its day named; {:.1} % of {made} others named, {:.1} % of all; another beside or instead {:.1} %",
            slips.refused,
            percent(slips.named.iter().sum(), made),
            percent(
                slips.named.iter().sum::<u32>() + slips.refused,
                made + slips.refused
            ),
            percent(slips.others_named, made)
        );
        for at in 0..Readings::COUNT {
            let named = percent(slips.named[at], slips.made[at]);
            if slips.made[at] > 0 {
                println!(
                    "    {:16} {named:5.1} % of {}",
                    Readings::name(at),
                    slips.made[at]
                );
            }
        }
        let bias = slips.bias.map(|sum| sum / f64::from(slips.learnt));
        println!("    bias of what is learnt beside it, sigma: {bias:+.2?}");
    }
}

fn main() {
    let mut words: Vec<String> = std::env::args().skip(1).collect();
    let is_exact = words.len() > 2 && words.pop().is_some();
    let words: Vec<u64> = words.iter().map(|word| word.parse().unwrap()).collect();
    let plants = words.first().copied().unwrap_or(300);
    let first = words.get(1).copied().unwrap_or(1000);
    let plans = plans();
    for count in [1, 3, 10] {
        let mut counts = Counts::default();
        let world = World {
            plans: &plans,
            sigmas: sigmas_of_a_day(&plans),
            leverages: leverages(count, &plans),
            is_exact,
        };
        for seed in first..first + plants {
            one(&mut counts, seed, &world);
        }
        let names = Simulated::drawn(first, &plans).truth.named();
        println!("{count} days, {plants} plants, {} refused", counts.refused);
        print(&counts, names.map(|(name, _)| name));
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
