//! The most probable unknowns: Gauss and Newton's method on the forward model, with readings far from the others counting less.

use super::day::Reading;
use super::linear::{Layout, Row, rows};
use crate::numeric::inverse;

/// Beyond so many sigma a reading counts less, in proportion (Huber 1964; common practice from 1.3 to 2.5).
const FULL_WEIGHT: f64 = 2.0;
/// The model is all but straight, so that a handful of steps are enough; how days differ takes some more.
const MOST_STEPS: usize = 40;
/// Closer than this, in sigma, the unknowns have settled.
const SETTLED: f64 = 1e-4;
/// How far days usually differ is worth as much as so many days of the plant's own: a sigma from memory, known to a third of itself
/// (rule of the crate).
pub(super) const USUAL_DAYS: f64 = 5.0;
/// Nothing is sought further from its prior than so many sigma.
const FURTHEST: f64 = 8.0;

/// The unknowns that fit best, in sigma of their priors.
#[derive(Debug)]
pub(super) struct Fit {
    pub(super) at: Vec<f64>,
    pub(super) covariance: Vec<Vec<f64>>,
    pub(super) rows: Vec<Row>,
    /// How much each row counts: 1 for all of it.
    pub(super) weights: Vec<f64>,
    /// By how many times their usual sigma days differ in each unknown.
    pub(super) scatter: Vec<f64>,
}

impl Layout<'_> {
    pub(super) fn reading(&self, row: &Row) -> Option<&Reading> {
        self.days.get(row.day)?.readings.get(row.reading)
    }

    /// The best fit to all rows but those left out.
    pub(super) fn fitted(&self, left_out: &[usize], from: Option<&Fit>) -> Fit {
        let mut at = from.map_or_else(|| vec![0.0; self.len()], |fit| fit.at.clone());
        let usual = || vec![1.0; self.unknowns.len()];
        let mut scatter = from.map_or_else(usual, |fit| fit.scatter.clone());
        let mut left = MOST_STEPS;
        loop {
            let rows = rows(self, &at, &scatter);
            let weights = self.weights(&rows, left_out);
            let found = self.step(&rows, &weights, &at);
            let Some((to, covariance)) = found else {
                return self.unmoved(rows);
            };
            let moved = at.iter().zip(&to).map(|(from, to)| (from - to).abs());
            let most = moved.fold(0.0, f64::max);
            left -= 1;
            if most < SETTLED || left == 0 {
                return Fit {
                    at,
                    covariance,
                    rows,
                    weights,
                    scatter,
                };
            }
            scatter = self.scatter(&scatter, &to, &covariance);
            at = to;
        }
    }

    /// By how many times their usual sigma days differ: the mean square of what each day is off the plant, known as far as it is,
    /// with the usual one as that of some days more (expectation and maximisation, Dempster, Laird & Rubin 1977). Never by less than
    /// usual.
    fn scatter(&self, scatter: &[f64], at: &[f64], covariance: &[Vec<f64>]) -> Vec<f64> {
        let square = |place: usize| {
            let off = at.get(place).copied().unwrap_or(0.0);
            let variance = covariance.get(place).and_then(|row| row.get(place));
            off * off + variance.copied().unwrap_or(1.0)
        };
        let of_unknown = |(unknown, times): (usize, &f64)| {
            let days = 0..self.days.len();
            let count = USUAL_DAYS + f64::from(u32::try_from(days.len()).unwrap_or(u32::MAX));
            let squares: f64 = days.map(|day| square(self.of_day(day, unknown))).sum();
            ((USUAL_DAYS + times * times * squares) / count)
                .sqrt()
                .max(1.0)
        };
        scatter.iter().enumerate().map(of_unknown).collect()
    }

    /// Where the squares of all deviations are least if everything is straight, and the covariance there.
    fn step(&self, rows: &[Row], weights: &[f64], at: &[f64]) -> Option<(Vec<f64>, Vec<Vec<f64>>)> {
        let unit = |row: usize| (0..self.len()).map(move |at| f64::from(u8::from(at == row)));
        let mut information: Vec<Vec<f64>> =
            (0..self.len()).map(|row| unit(row).collect()).collect();
        let mut pull = vec![0.0; self.len()];
        for (row, weight) in rows.iter().zip(weights) {
            let reading = self.reading(row)?;
            let counts = weight / (reading.sigma * reading.sigma);
            let aim = reading.value - row.predicted + row.along(at);
            for (one, slope) in &row.slopes {
                *pull.get_mut(*one)? += counts * slope * aim;
                let line = information.get_mut(*one)?;
                for (other, also) in &row.slopes {
                    *line.get_mut(*other)? += counts * slope * also;
                }
            }
        }
        let covariance = inverse(&information)?;
        let along = |row: &Vec<f64>| row.iter().zip(&pull).map(|(a, b)| a * b).sum::<f64>();
        let to: Vec<f64> = covariance.iter().map(along).collect();
        let is_found = to.iter().all(|value| value.is_finite());
        let near = |value: f64| value.clamp(-FURTHEST, FURTHEST);
        is_found.then(|| (to.into_iter().map(near).collect(), covariance))
    }

    fn weights(&self, rows: &[Row], left_out: &[usize]) -> Vec<f64> {
        let weight = |(index, row): (usize, &Row)| {
            let reading = self.reading(row).filter(|_| !left_out.contains(&index));
            reading.map_or(0.0, |reading| {
                let sigmas = (reading.value - row.predicted).abs() / reading.sigma;
                (FULL_WEIGHT / sigmas).min(1.0)
            })
        };
        rows.iter().enumerate().map(weight).collect()
    }

    /// The priors, where nothing can be found.
    fn unmoved(&self, rows: Vec<Row>) -> Fit {
        let unit = |row: usize| (0..self.len()).map(move |at| f64::from(u8::from(at == row)));
        Fit {
            at: vec![0.0; self.len()],
            covariance: (0..self.len()).map(|row| unit(row).collect()).collect(),
            weights: vec![0.0; rows.len()],
            scatter: vec![1.0; self.unknowns.len()],
            rows,
        }
    }
}
