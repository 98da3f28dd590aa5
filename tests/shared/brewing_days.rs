//! Brewing days of plants whose true figures are known: a simulator with a mass balance of its own.
//!
//! It is not the library's model: its density is Balling's rule of thumb, and each plant's evaporation, absorption and yield differ
//! between its weak and its strong brew by up to 5 % of their own, which no plant's line states.

use crate::brewing::Numbers;
use wortwright::Job;
use wortwright::learn::BrewDay;
use wortwright::quantity::uom::si::{mass::kilogram, volume::liter};
use wortwright::recipe::Brewhouse;
use wortwright::scale::Plan;

/// A plant that states nothing but its kind, so that every prior is that of a default.
const PLANT: &str =
    "brewhouse Shed\n  batch 20 L into fermenter\n  lauter bag\n  kettle loss 1 L\n";
/// Priors of that plant: `process/plant/lines.rs` for the figures, `tests/reference/uncertainty.csv` for their spread.
const ABSORPTION: (f64, f64) = (0.8, 0.15);
const CONVERSION: (f64, f64) = (0.98, 0.05 * 0.98);
const EVAPORATION: (f64, f64) = (0.12, 0.25 * 0.12);
const KETTLE_LOSS: (f64, f64) = (1.0, 0.5);
const ATTENUATION: (f64, f64) = (0.78, 0.020);
/// From day to day, of the same table.
const ABSORPTION_BY_DAY: f64 = 0.05;
const YIELD_BY_DAY: f64 = 0.025;
const EVAPORATION_BY_DAY: f64 = 0.07;
const ATTENUATION_BY_DAY: f64 = 0.020;
const LOSS_BY_DAY: f64 = 0.5;
/// Of a reading, and of the instruments, of the same table.
const VOLUME: f64 = 0.015;
const MARKS: f64 = 0.03;
const HYDROMETER_G_L: f64 = 1.0;
/// Extract of the malt as is.
const MALT_EXTRACT: f64 = 0.768;
const MOISTURE: f64 = 0.04;

/// What a simulated plant truly has.
#[derive(Debug, Clone, Copy)]
pub struct Truth {
    pub absorption: f64,
    pub conversion_pct: f64,
    pub evaporation_pct: f64,
    pub kettle_loss: f64,
    pub attenuation_pct: f64,
}

/// A usual plant, but for a conversion at which no day is cut short by the ceiling.
const BELOW_THE_CEILING: Truth = Truth {
    absorption: ABSORPTION.0,
    conversion_pct: 100.0 * (CONVERSION.0 - CONVERSION.1),
    evaporation_pct: 100.0 * EVAPORATION.0,
    kettle_loss: KETTLE_LOSS.0,
    attenuation_pct: 100.0 * ATTENUATION.0,
};

impl Truth {
    /// By the names of the plant's lines.
    pub fn named(&self) -> [(&'static str, f64); 5] {
        [
            ("absorption", self.absorption),
            ("conversion", self.conversion_pct),
            ("evaporation", self.evaporation_pct),
            ("kettle loss", self.kettle_loss),
            ("attenuation", self.attenuation_pct),
        ]
    }
}

/// A simulated plant with the plans that it brews.
#[derive(Debug)]
pub struct Simulated {
    pub truth: Truth,
    pub plant: Brewhouse,
    plans: [Plan; 2],
    numbers: Numbers,
    /// By how much evaporation, absorption and yield differ between its brews.
    differs: [f64; 3],
    kettle_off: f64,
    fermenter_off: f64,
    hydrometer_off: f64,
}

/// What was written down on a day, in the order of its log: volume and gravity before the boil, after it and into the fermenter, final
/// gravity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Readings(pub [f64; Readings::COUNT]);

impl Readings {
    pub const COUNT: usize = 7;

    /// One sigma of each reading.
    pub fn sigma(&self, at: usize) -> f64 {
        match at {
            0 | 2 | 4 => VOLUME * self.0[at],
            _ => shown(self.0[at], HYDROMETER_G_L) - self.0[at],
        }
    }

    pub fn name(at: usize) -> &'static str {
        [
            "pre_boil_l",
            "pre_boil_plato",
            "post_boil_l",
            "post_boil_plato",
            "into_fermenter_l",
            "original_plato",
            "final_plato",
        ][at]
    }
}

/// The plans of a weak and of a strong beer on the plant.
pub fn plans() -> [Plan; 2] {
    ["10.5 P", "14 P"].map(|original| {
        let text = format!(
            "recipe Plain\nbatch 20 L into fermenter\ntarget original {original}\nmash\n  100 % pale ale malt, extract 76.8 % as is, moisture 4 %\n  rest 65 C for 60 min\nboil 60 min\n  20 g hallertau mittelfrueh, 4 % alpha at 60 min\nferment\n  pitch english ale yeast, attenuation 78 % at 20 C\n{PLANT}"
        );
        let job = Job::read([("plain", text)]).unwrap();
        job.on("Shed").unwrap().plan().unwrap()
    })
}

impl Numbers {
    /// The next of a normal distribution (Box & Muller 1958).
    pub fn normal(&mut self) -> f64 {
        let radius = (-2.0 * self.between(1e-12, 1.0).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.between(0.0, 1.0)).cos()
    }
}

fn log_normal((mean, sigma): (f64, f64), draw: f64) -> f64 {
    mean * (draw * sigma / mean).exp()
}

/// A share that is no more than all.
fn share((mean, sigma): (f64, f64), mut draw: impl FnMut() -> f64) -> f64 {
    loop {
        let drawn = mean + sigma * draw();
        if (0.0..=1.0).contains(&drawn) {
            return drawn;
        }
    }
}

/// kg/L of wort at 20 °C: a degree Plato is four thousandths (rule of thumb), with its curvature.
fn density(plato: f64) -> f64 {
    0.9982 * (1.0 + plato / (258.6 - 0.8796 * plato))
}

/// What a hydrometer shows that is off by so many g/L: its scale counts density, so that a gram is less °P in strong wort than in beer.
fn shown(plato: f64, off_g_l: f64) -> f64 {
    let above_water = (density(plato) + off_g_l / 1000.0) / 0.9982 - 1.0;
    258.6 * above_water / (1.0 + 0.8796 * above_water)
}

/// A brew by a mass balance. A day is so many sigma off the plant in absorption, conversion, evaporation, attenuation and kettle loss, and the
/// brew differs from what the plant states by such factors of the first three.
fn brewed(truth: &Truth, by_day: [f64; 5], differs: [f64; 3], plan: &Plan) -> Readings {
    let [evaporates, absorbs, yields] = differs;
    let absorption =
        truth.absorption * (ABSORPTION_BY_DAY / truth.absorption * by_day[0]).exp() * absorbs;
    let mean = truth.conversion_pct / 100.0;
    // No malt gives more than it has.
    let conversion = (mean * (1.0 + YIELD_BY_DAY * by_day[1]) * yields).min(1.0);
    let evaporation =
        truth.evaporation_pct / 100.0 * (EVAPORATION_BY_DAY * by_day[2]).exp() * evaporates;
    let attenuation = truth.attenuation_pct / 100.0 + ATTENUATION_BY_DAY * by_day[3];
    let malt = plan.additions.iter().find(|a| a.name == "pale ale malt");
    let malt_kg = malt.unwrap().mass.unwrap().get::<kilogram>();
    let water_l = plan.volumes.mash_water.get::<liter>();
    let extract_kg = conversion * MALT_EXTRACT * malt_kg;
    let plato = 100.0 * extract_kg / (extract_kg + 0.9982 * water_l + MOISTURE * malt_kg);
    let before_l = water_l - absorption * malt_kg;
    let before_kg = before_l * density(plato);
    let after_kg = before_kg - 0.9982 * evaporation * before_l;
    let original = plato * before_kg / after_kg;
    let after_l = after_kg / density(original);
    let fermenter_l = after_l - truth.kettle_loss - LOSS_BY_DAY * by_day[4];
    // A yeast's attenuation is that of 12 °P; it is all but the same at other strengths.
    let end = original * (1.0 - attenuation);
    Readings([
        before_l,
        plato,
        after_l,
        original,
        fermenter_l,
        original,
        end,
    ])
}

/// One sigma of each reading about what its plant usually has, for the weak and the strong brew: of reading and of how days differ.
pub fn sigmas_of_a_day(plans: &[Plan; 2]) -> [[f64; Readings::COUNT]; 2] {
    [0, 1].map(|plan| {
        let of = |by_day| brewed(&BELOW_THE_CEILING, by_day, [1.0; 3], &plans[plan]);
        let here = of([0.0; 5]);
        let mut sigmas = [0.0; Readings::COUNT];
        for (at, sigma) in sigmas.iter_mut().enumerate() {
            let mut variance = here.sigma(at).powi(2);
            for unknown in 0..5 {
                let mut by_day = [0.0; 5];
                by_day[unknown] = 1.0;
                variance += (of(by_day).0[at] - here.0[at]).powi(2);
            }
            *sigma = variance.sqrt();
        }
        sigmas
    })
}

/// The leverage of each reading of each of so many days: the part of its variance that it decides itself, in a fit that knows priors,
/// instruments and how days differ. A reading with little of it is told by the others.
pub fn leverages(days: usize, plans: &[Plan; 2]) -> Vec<[f64; Readings::COUNT]> {
    let moved = |unknown: Option<usize>| {
        let mut truth = BELOW_THE_CEILING;
        match unknown {
            Some(0) => truth.absorption += ABSORPTION.1,
            Some(1) => truth.conversion_pct += 100.0 * CONVERSION.1,
            Some(2) => truth.evaporation_pct += 100.0 * EVAPORATION.1,
            Some(3) => truth.kettle_loss += KETTLE_LOSS.1,
            Some(4) => truth.attenuation_pct += 100.0 * ATTENUATION.1,
            _ => {}
        }
        truth
    };
    let of = |day: usize, unknown: Option<usize>, by_day: [f64; 5]| {
        brewed(&moved(unknown), by_day, [1.0; 3], &plans[day % 2]).0
    };
    let count = 8 + 5 * days;
    let mut rows = Vec::new();
    for day in 0..days {
        let here = of(day, None, [0.0; 5]);
        for at in 0..Readings::COUNT {
            let mut row = vec![0.0; count];
            for (unknown, slope) in row.iter_mut().take(5).enumerate() {
                *slope = of(day, Some(unknown), [0.0; 5])[at] - here[at];
            }
            let tool = match at {
                0 | 2 => (5, MARKS * here[at]),
                4 => (6, MARKS * here[at]),
                _ => (7, Readings(here).sigma(at)),
            };
            row[tool.0] = tool.1;
            for of_day in 0..5 {
                let mut by_day = [0.0; 5];
                by_day[of_day] = 1.0;
                row[8 + 5 * day + of_day] = of(day, None, by_day)[at] - here[at];
            }
            let sigma = Readings(here).sigma(at);
            rows.push(
                row.into_iter()
                    .map(|slope| slope / sigma)
                    .collect::<Vec<_>>(),
            );
        }
    }
    let mut information = vec![vec![0.0; count]; count];
    for (at, line) in information.iter_mut().enumerate() {
        for (other, cell) in line.iter_mut().enumerate() {
            let prior = f64::from(u8::from(at == other));
            *cell = prior + rows.iter().map(|row| row[at] * row[other]).sum::<f64>();
        }
    }
    let covariance = inverse(information);
    let leverage = |row: &Vec<f64>| {
        let along = covariance
            .iter()
            .map(|line| line.iter().zip(row).map(|(a, b)| a * b).sum::<f64>());
        along.zip(row).map(|(a, b)| a * b).sum::<f64>()
    };
    let all: Vec<f64> = rows.iter().map(leverage).collect();
    all.chunks_exact(Readings::COUNT)
        .map(|day| day.try_into().unwrap())
        .collect()
}

/// By Gauss and Jordan; the matrix is positive definite.
fn inverse(mut matrix: Vec<Vec<f64>>) -> Vec<Vec<f64>> {
    let count = matrix.len();
    for (at, row) in matrix.iter_mut().enumerate() {
        row.extend((0..count).map(|other| f64::from(u8::from(at == other))));
    }
    for at in 0..count {
        let pivot = matrix[at][at];
        matrix[at].iter_mut().for_each(|cell| *cell /= pivot);
        let line = matrix[at].clone();
        for (other, row) in matrix.iter_mut().enumerate() {
            let times = row[at];
            if other != at {
                row.iter_mut()
                    .zip(&line)
                    .for_each(|(cell, above)| *cell -= times * above);
            }
        }
    }
    matrix
        .into_iter()
        .map(|row| row[count..].to_vec())
        .collect()
}

impl Simulated {
    /// A plant drawn from the priors.
    pub fn drawn(seed: u64, plans: &[Plan; 2]) -> Self {
        let mut numbers = Numbers(seed.wrapping_mul(2_654_435_761).wrapping_add(17));
        for _ in 0..8 {
            numbers.between(0.0, 1.0);
        }
        let truth = Truth {
            absorption: log_normal(ABSORPTION, numbers.normal()),
            conversion_pct: 100.0 * share(CONVERSION, || numbers.normal()),
            evaporation_pct: 100.0 * log_normal(EVAPORATION, numbers.normal()),
            kettle_loss: KETTLE_LOSS.0 + KETTLE_LOSS.1 * numbers.normal(),
            attenuation_pct: 100.0 * (ATTENUATION.0 + ATTENUATION.1 * numbers.normal()),
        };
        let mut differ = || numbers.between(-0.05, 0.05);
        let differs = [differ(), differ(), differ()];
        Self {
            truth,
            plant: plans[0].brewhouse.clone(),
            plans: plans.clone(),
            differs,
            kettle_off: (MARKS * numbers.normal()).exp(),
            fermenter_off: (MARKS * numbers.normal()).exp(),
            hydrometer_off: HYDROMETER_G_L * numbers.normal(),
            numbers,
        }
    }

    /// The same plant, of which the library's model is exact but for its densities.
    #[must_use]
    pub fn without_model_error(self) -> Self {
        Self {
            differs: [0.0; 3],
            ..self
        }
    }

    /// What happens on a day and what is read of it, with neither errors of instruments nor of reading.
    pub fn happens(&mut self, day: usize) -> Readings {
        let draws = [(); 5].map(|()| self.numbers.normal());
        let strong = day % 2 == 1;
        let sign = if strong { 1.0 } else { -1.0 };
        let differs = self.differs.map(|differs| 1.0 + sign * differs);
        brewed(
            &self.truth,
            draws,
            differs,
            &self.plans[usize::from(strong)],
        )
    }

    /// The readings of a day as they are written down.
    pub fn read(&mut self, day: usize) -> Readings {
        let Readings(mut read) = self.happens(day);
        for (at, value) in read.iter_mut().enumerate() {
            let draw = self.numbers.normal();
            match at {
                0 | 2 => *value *= self.kettle_off * (1.0 + VOLUME * draw),
                4 => *value *= self.fermenter_off * (1.0 + VOLUME * draw),
                _ => *value = shown(*value, self.hydrometer_off + HYDROMETER_G_L * draw),
            }
        }
        Readings(read)
    }

    /// A day as its log has it.
    pub fn day(&self, day: usize, Readings(read): Readings) -> BrewDay {
        let [before_l, before, after_l, after, fermenter_l, original, end] = read;
        let text = format!(
            "log day {day}\n  before boil {before_l:.3} L at {before:.3} P\n  after boil {after_l:.3} L at {after:.3} P\n  pitched {fermenter_l:.3} L at {original:.3} P\n  reading {end:.3} P on day 14\n"
        );
        let job = Job::read([("log", text.as_str())]).unwrap_or_else(|error| panic!("{error}"));
        BrewDay::new(self.plans[day % 2].keep(), job.logs()[0].clone())
    }

    /// So many days.
    pub fn days(&mut self, count: usize) -> Vec<Readings> {
        (0..count).map(|day| self.read(day)).collect()
    }

    pub fn written(&self, days: &[Readings]) -> Vec<BrewDay> {
        let days = days.iter().enumerate();
        days.map(|(day, read)| self.day(day, *read)).collect()
    }
}
