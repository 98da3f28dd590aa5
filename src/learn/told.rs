//! What is told of a fit.

use super::day::Tool;
use super::day_figure::{DayFigure, DayFigures};
use super::fit::Fit;
use super::learnt::{Learnt, LearntDay, LearntFigure, MovedFigure, NextDay, rounded};
use super::linear::{About, Layout};
use super::lines::{state, unit};
use super::remark::LearnRemark;
use super::slip::Slip;
use super::unknown::{Learns, Unknown};
use crate::diagnostic::Place;
use crate::process::{Boiloff, Plant, PlantFigure};
use crate::quantity::Unit;
use crate::recipe::Brewhouse;
use crate::speech::Noted;

/// Two figures are not told apart where knowing one would halve the variance of the other: the square of their correlation is
/// above one half.
const TOLD_APART: f64 = 0.5;

/// A figure of which the days tell less than this part of its variance is not learnt: no line states it (rule of the crate).
const LEARNT: f64 = 0.1;

/// A fit, to be told of.
pub(super) struct Learning<'a> {
    pub(super) brewhouse: &'a Brewhouse,
    pub(super) plant: &'a Plant,
    pub(super) layout: Layout<'a>,
    pub(super) fit: Fit,
    pub(super) slips: Vec<usize>,
}

impl Learning<'_> {
    pub(super) fn told(&self, mut remarks: Vec<Noted<LearnRemark>>) -> Learnt {
        let unknowns = || self.layout.unknowns.iter().enumerate();
        let mut brewhouse = self.brewhouse.clone();
        let figures: Vec<_> = unknowns()
            .map(|(place, unknown)| self.figure(place, unknown))
            .collect();
        for ((place, unknown), figure) in unknowns().zip(&figures) {
            if let Learns::Plant(kind) = unknown.learns
                && self.stands_in_lines(place, kind)
            {
                let number = rounded(figure.value, figure.one_sigma);
                state(
                    &mut brewhouse,
                    kind,
                    (number, unit(kind, self.plant, self.brewhouse)),
                );
            }
        }
        remarks.extend(self.unlike());
        Learnt {
            brewhouse,
            days: (0..self.layout.days.len())
                .filter_map(|day| self.day(day, &figures))
                .collect(),
            next_day: self.next_day(),
            not_told_apart: self.not_told_apart(&figures),
            figures,
            remarks,
        }
    }

    /// One sigma of what is learnt of an unknown, in sigma of its prior.
    fn sigmas(&self, place: usize) -> f64 {
        let row = self.fit.covariance.get(place);
        let variance = row.and_then(|row| row.get(place));
        variance.copied().unwrap_or(1.0).max(0.0).sqrt()
    }

    /// Whether the lines to paste state a figure: a line that states it is better known than a default, so that none is written
    /// of which the days tell nothing.
    fn stands_in_lines(&self, place: usize, figure: PlantFigure) -> bool {
        let is_learnt = self.sigmas(place).powi(2) < 1.0 - LEARNT;
        let has_days = !self.layout.days.is_empty();
        has_days && (is_learnt || figure.is_stated(Some(self.brewhouse)))
    }

    /// The days that differ in a figure by more than chance.
    fn unlike(&self) -> Vec<Noted<LearnRemark>> {
        let of_day = |number: usize| {
            let day = self.layout.days.get(number)?;
            let place = self.fit.unlike(&self.layout, number)?;
            let unknown = self.layout.unknowns.get(place)?;
            let own = self.fit.of_day(&self.layout, number, place);
            let on_day = unknown.on_a_day(self.at(place), own) / unknown.sigma;
            let (value, usual) = (
                self.shown(unknown, on_day),
                self.shown(unknown, self.at(place)),
            );
            let (name, unit) = self.named(unknown);
            let what = LearnRemark::DayUnlikeOthers {
                log: day.name.to_string(),
                name,
                value,
                usual,
                unit,
            };
            Some(Noted::at(Place::log_entry(&day.name, 0), what))
        };
        (0..self.layout.days.len()).filter_map(of_day).collect()
    }

    fn at(&self, place: usize) -> f64 {
        self.fit.at.get(place).copied().unwrap_or(0.0)
    }

    /// A value of an unknown so many sigma of its prior from that, in the unit in which it is shown.
    fn shown(&self, unknown: &Unknown, sigmas: f64) -> f64 {
        let value = unknown.value(unknown.sigma * sigmas);
        match unknown.learns {
            Learns::Plant(figure) => unit(figure, self.plant, self.brewhouse).from_base(value),
            Learns::Attenuation => {
                let day = self.layout.days.first();
                100.0
                    * day.map_or(0.0, |day| {
                        let fit = day.setup.mash_factor.fit;
                        day.setup.formula.yeast_use.attenuation(fit * value)
                    })
            }
        }
    }

    /// One sigma of a value: the mean way to one sigma above and below, which differ where it nears a limit.
    fn one_sigma(&self, unknown: &Unknown, at: f64, sigmas: f64) -> f64 {
        let value = self.shown(unknown, at);
        let way = |to: f64| self.shown(unknown, to) - value;
        way(at + sigmas).hypot(way(at - sigmas)) / std::f64::consts::SQRT_2
    }

    /// The name of an unknown, and its unit.
    fn named(&self, unknown: &Unknown) -> (String, String) {
        let (name, unit) = match unknown.learns {
            Learns::Plant(figure) => {
                let unit = unit(figure, self.plant, self.brewhouse).symbol();
                let hourly = matches!(self.plant.boiloff, Boiloff::SharePerHour(_));
                let is_hourly = figure == PlantFigure::Evaporation && hourly;
                let unit = if is_hourly {
                    format!("{unit} per hour")
                } else {
                    unit.to_owned()
                };
                (figure.keyword(self.plant), unit)
            }
            Learns::Attenuation => ("attenuation", Unit::Percent.symbol().to_owned()),
        };
        (name.to_owned(), unit)
    }

    fn figure(&self, place: usize, unknown: &Unknown) -> LearntFigure {
        let at = self.at(place);
        let (name, unit) = self.named(unknown);
        LearntFigure {
            name,
            value: self.shown(unknown, at),
            one_sigma: self.one_sigma(unknown, at, self.sigmas(place)),
            prior: self.shown(unknown, 0.0),
            prior_one_sigma: self.one_sigma(unknown, 0.0, 1.0),
            unit,
            stands_in_lines: match unknown.learns {
                Learns::Plant(kind) => self.stands_in_lines(place, kind),
                Learns::Attenuation => false,
            },
        }
    }

    fn day(&self, number: usize, figures: &[LearntFigure]) -> Option<LearntDay> {
        let day = self.layout.days.get(number)?;
        let offsets = |at: &dyn Fn(usize) -> f64| -> Vec<f64> {
            let unknowns = self.layout.unknowns.iter().enumerate();
            unknowns
                .map(|(place, unknown)| unknown.sigma * at(place))
                .collect()
        };
        let learnt = offsets(&|place| self.at(place));
        let mut bent = day.prior.clone();
        for (unknown, offset) in self.layout.unknowns.iter().zip(&learnt) {
            unknown.bend(&mut bent, *offset);
        }
        let worts = day.setup.worts(day.amounts, &bent);
        let (mut predicted, mut before) = (DayFigures::default(), DayFigures::default());
        for reading in &day.readings {
            predicted.set(reading.figure, reading.figure.of(&worts, day.later));
            before.set(reading.figure, reading.figure.of(&day.predicted, day.later));
        }
        Some(LearntDay {
            name: day.name.to_string(),
            predicted,
            predicted_before: before,
            read: day.read(),
            moved: self.moved(number, figures),
            slipped: self.slipped(number),
        })
    }

    /// By how much a day moved each figure: its part of the sum by which a straight model is solved.
    fn moved(&self, number: usize, figures: &[LearntFigure]) -> Vec<MovedFigure> {
        let mut pull = vec![0.0; self.layout.len()];
        let rows = self.fit.rows.iter().zip(&self.fit.weights);
        for (row, weight) in rows.filter(|(row, _)| row.day == number) {
            let Some(reading) = self.layout.reading(row) else {
                continue;
            };
            let aim = reading.value - row.predicted + row.along(&self.fit.at);
            for (place, slope) in &row.slopes {
                if let Some(pulled) = pull.get_mut(*place) {
                    *pulled += weight * slope * aim / (reading.sigma * reading.sigma);
                }
            }
        }
        let by = |(place, unknown): (usize, &Unknown)| {
            let row = self.fit.covariance.get(place)?;
            let sigmas: f64 = row.iter().zip(&pull).map(|(a, b)| a * b).sum();
            let at = self.at(place);
            let all = self.shown(unknown, at) - self.shown(unknown, 0.0);
            let slope = if at.abs() > f64::EPSILON {
                all / at
            } else {
                0.0
            };
            Some(MovedFigure {
                name: figures.get(place)?.name.clone(),
                by: slope * sigmas,
            })
        };
        self.layout
            .unknowns
            .iter()
            .enumerate()
            .filter_map(by)
            .collect()
    }

    fn slipped(&self, number: usize) -> Vec<Slip> {
        let slip = |index: &usize| {
            let row = self.fit.rows.get(*index).filter(|row| row.day == number)?;
            let reading = self.layout.reading(row)?;
            let deviation = self.fit.without(&self.layout, *index)?;
            Some(Slip {
                entry: reading.entry,
                name: reading.figure,
                off: deviation.off,
                one_sigma: deviation.sigma,
                unit: reading.figure.unit(),
                read: reading.value,
            })
        };
        self.slips.iter().filter_map(slip).collect()
    }

    /// The brew of the last day, once more.
    fn next_day(&self) -> Vec<NextDay> {
        let Some(day) = self.layout.days.last() else {
            return Vec::new();
        };
        let unknowns = self.layout.unknowns;
        let at: Vec<f64> = (0..unknowns.len()).map(|place| self.at(place)).collect();
        let offsets = unknowns.iter().zip(&at);
        let offsets: Vec<_> = offsets.map(|(unknown, at)| unknown.sigma * at).collect();
        let unmoved = vec![0.0; unknowns.len()];
        let about = About::of(day, unknowns, &offsets);
        let before = About::of(day, unknowns, &unmoved);
        let mashes = day
            .readings
            .iter()
            .any(|reading| reading.figure <= DayFigure::FirstWortExtract);
        let figures = DayFigure::ALL.into_iter().filter(|figure| {
            let is_final = *figure == DayFigure::FinalExtract;
            let ferments = unknowns
                .iter()
                .any(|unknown| unknown.learns == Learns::Attenuation);
            (mashes || *figure > DayFigure::FirstWortExtract) && (ferments || !is_final)
        });
        figures
            .map(|figure| {
                let by_day = |slopes: &[f64], offsets: &[f64], scatter: &[f64]| -> f64 {
                    let parts = slopes.iter().zip(unknowns).zip(offsets).zip(scatter);
                    let sigma =
                        |(((slope, unknown), offset), times): (((&f64, &Unknown), &f64), &f64)| {
                            slope * unknown.by_day(*offset) * times
                        };
                    parts.map(|part| sigma(part).powi(2)).sum()
                };
                let slopes = about.slopes(day, figure);
                let known: f64 = self.spread(&slopes);
                let first = before.slopes(day, figure);
                let unlearnt: f64 = first
                    .iter()
                    .zip(unknowns)
                    .map(|(slope, unknown)| (slope * unknown.sigma).powi(2))
                    .sum();
                NextDay {
                    name: figure,
                    predicted: figure.of(&about.worts, day.later),
                    one_sigma: (known + by_day(&slopes, &offsets, &self.fit.scatter))
                        .max(0.0)
                        .sqrt(),
                    prior_one_sigma: (unlearnt
                        + by_day(&first, &unmoved, &vec![1.0; unknowns.len()]))
                    .sqrt(),
                    unit: figure.unit().to_owned(),
                }
            })
            .collect()
    }

    /// Variance that the learnt unknowns give to what follows them so.
    fn spread(&self, slopes: &[f64]) -> f64 {
        let unknowns = self.layout.unknowns;
        let scaled: Vec<f64> = slopes
            .iter()
            .zip(unknowns)
            .map(|(s, u)| s * u.sigma)
            .collect();
        let row = |row: &Vec<f64>| row.iter().zip(&scaled).map(|(c, s)| c * s).sum::<f64>();
        let rows = self.fit.covariance.iter().zip(&scaled);
        rows.map(|(covariance, slope)| slope * row(covariance))
            .sum()
    }

    fn not_told_apart(&self, figures: &[LearntFigure]) -> Vec<[String; 2]> {
        let mut pairs = Vec::new();
        let names: Vec<&str> = figures.iter().map(|figure| figure.name.as_str()).collect();
        let tools = Tool::ALL.map(Tool::name);
        let all: Vec<&str> = names.iter().copied().chain(tools).collect();
        for (place, one) in names.iter().enumerate() {
            for (other, name) in all.iter().enumerate().skip(place + 1) {
                let both = self
                    .fit
                    .covariance
                    .get(place)
                    .and_then(|row| row.get(other));
                let spread = self.sigmas(place) * self.sigmas(other);
                let correlation = both.copied().unwrap_or(0.0) / spread.max(f64::MIN_POSITIVE);
                if correlation * correlation > TOLD_APART {
                    pairs.push([(*one).to_owned(), (*name).to_owned()]);
                }
            }
        }
        let yields = |name: &&&str| matches!(**name, "conversion" | "extract yield");
        if !self.layout.days.is_empty() {
            // Only a certificate of the lot tells what it holds.
            let yields = names.iter().find(yields);
            pairs.extend(yields.map(|name| [(*name).to_owned(), "extract of the malt".to_owned()]));
        }
        pairs
    }
}
