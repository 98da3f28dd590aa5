//! The forward model about a point: what every reading should be there, and how it follows each unknown.
//!
//! Every unknown is counted in sigma of its prior, so that all priors are alike: those of the plant, the instruments, and of each
//! day how far its own figures are off the plant's.

use super::day::{Day, HYDROMETER_G_L, Reading, Tool, hydrometer_plato};
use super::day_figure::DayFigure;
use super::unknown::{STEP, Unknown};
use crate::process::{Bent, Worts};
use crate::quantity::Extract;

/// Row "volume, marked bucket" of `tests/reference/uncertainty.csv`: how far the marks of a vessel are off, a part of the volume
/// (bias, from memory).
pub(super) const MARKS: f64 = 0.03;
/// A checked hydrometer is off by as much as one of its readings (row "hydrometer, two points checked", from memory), g/L.
pub(super) const HYDROMETER_OFF_G_L: f64 = 1.0;
/// Row "refractometer on wort against extract": how far the wort factor is off, a part of the extract (bias, from memory).
pub(super) const WORT_FACTOR: f64 = 0.02;

/// Which unknown stands where.
#[derive(Debug)]
pub(super) struct Layout<'a> {
    pub(super) unknowns: &'a [Unknown],
    pub(super) days: &'a [Day<'a>],
}

impl Layout<'_> {
    pub(super) fn len(&self) -> usize {
        self.of_day(self.days.len(), 0)
    }

    fn of_tool(&self, tool: Tool) -> usize {
        self.unknowns.len() + tool as usize
    }

    /// How far a day's own figure is off the plant's.
    pub(super) fn of_day(&self, day: usize, unknown: usize) -> usize {
        self.unknowns.len() * (day + 1) + Tool::ALL.len() + unknown
    }
}

/// What a reading of a day should be, and how it follows the unknowns.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row {
    pub(super) day: usize,
    /// Which of the day's readings.
    pub(super) reading: usize,
    pub(super) predicted: f64,
    /// By how much for one sigma of each.
    pub(super) slopes: Vec<(usize, f64)>,
}

impl Row {
    /// The sum of its slopes times the unknowns.
    pub(super) fn along(&self, unknowns: &[f64]) -> f64 {
        let parts = self.slopes.iter();
        parts
            .map(|(at, slope)| slope * unknowns.get(*at).unwrap_or(&0.0))
            .sum()
    }

    /// Variance that a covariance of the unknowns gives it.
    pub(super) fn variance(&self, covariance: &[Vec<f64>]) -> f64 {
        let parts = self.slopes.iter();
        parts
            .map(|(at, slope)| slope * self.with(covariance, *at))
            .sum()
    }

    /// Its covariance with one of the unknowns.
    pub(super) fn with(&self, covariance: &[Vec<f64>], place: usize) -> f64 {
        // A covariance is symmetric.
        covariance.get(place).map_or(0.0, |row| self.along(row))
    }
}

/// A day's worts, and how they follow each unknown of the plant, by its own scale.
pub(super) struct About {
    pub(super) worts: Worts,
    moved: Vec<Worts>,
}

impl About {
    /// The worts of a day at these distances from the priors, each on its unknown's scale.
    pub(super) fn of(day: &Day<'_>, unknowns: &[Unknown], offsets: &[f64]) -> Self {
        let worts = |moved: Option<usize>| {
            let mut bent = Bent::clone(&day.prior);
            for (at, (unknown, offset)) in unknowns.iter().zip(offsets).enumerate() {
                let step = if moved == Some(at) { STEP } else { 0.0 };
                unknown.bend(&mut bent, offset + step);
            }
            day.setup.worts(day.amounts, &bent)
        };
        Self {
            worts: worts(None),
            moved: (0..unknowns.len()).map(|at| worts(Some(at))).collect(),
        }
    }

    /// How a figure follows each unknown.
    pub(super) fn slopes(&self, day: &Day<'_>, figure: DayFigure) -> Vec<f64> {
        let here = figure.of(&self.worts, day.later);
        let slope = |worts: &Worts| (figure.of(worts, day.later) - here) / STEP;
        self.moved.iter().map(slope).collect()
    }
}

/// All readings about a point, where days differ by so many times their usual sigma.
pub(super) fn rows(layout: &Layout<'_>, at: &[f64], scatter: &[f64]) -> Vec<Row> {
    let value = |place: usize| at.get(place).copied().unwrap_or(0.0);
    let times = |unknown: usize| scatter.get(unknown).copied().unwrap_or(1.0);
    let mut rows = Vec::new();
    for (number, day) in layout.days.iter().enumerate() {
        let offset = |(place, unknown): (usize, &Unknown)| {
            let of_day = times(place) * value(layout.of_day(number, place));
            unknown.on_a_day(value(place), of_day)
        };
        let offsets: Vec<_> = layout.unknowns.iter().enumerate().map(offset).collect();
        let about = About::of(day, layout.unknowns, &offsets);
        for (index, reading) in day.readings.iter().enumerate() {
            let mut slopes = Vec::new();
            let follows = about.slopes(day, reading.figure);
            for (place, (unknown, slope)) in layout.unknowns.iter().zip(follows).enumerate() {
                let own = layout.of_day(number, place);
                let of_day = times(place) * value(own);
                let (plant, day) = unknown.slopes_on_a_day(value(place), of_day);
                slopes.push((place, slope * plant));
                slopes.push((own, slope * day * times(place)));
            }
            let is = reading.figure.of(&about.worts, day.later);
            let tool = layout.of_tool(reading.tool);
            let (off, slope, factor) = by_tool(reading, is, value(tool));
            for (_, along) in &mut slopes {
                *along *= factor;
            }
            slopes.push((tool, slope));
            slopes.retain(|(_, slope)| *slope != 0.0);
            rows.push(Row {
                day: number,
                reading: index,
                predicted: is * factor + off,
                slopes,
            });
        }
    }
    rows
}

/// What an instrument that is off by so many sigma adds to a figure, how that follows its sigma, and by what it multiplies the
/// figure.
fn by_tool(reading: &Reading, is: f64, sigmas: f64) -> (f64, f64, f64) {
    let factor = |sigma: f64| {
        let times = (sigma * sigmas).exp();
        (0.0, is * times * sigma, times)
    };
    match reading.tool {
        Tool::KettleMarks | Tool::FermenterMarks => factor(MARKS),
        Tool::Refractometer => factor(WORT_FACTOR),
        Tool::Hydrometer => {
            let per_gram = hydrometer_plato(Extract::clamped(reading.value)) / HYDROMETER_G_L;
            let sigma = HYDROMETER_OFF_G_L * per_gram;
            (sigma * sigmas, sigma, 1.0)
        }
    }
}
