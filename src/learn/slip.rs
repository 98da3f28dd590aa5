//! Readings that lie too far from what all others say to be chance.
//!
//! What is asked of a reading is whether it differs from what the fit without it predicts for its day by more than the reading and the
//! day may: one sigma of that holds the reading's own, that of what was learnt, and how days differ, since no reading tells its own
//! slip from a day that was off. How days differ is an estimate itself, from the usual and some days, so that the deviation is
//! one of Student's t as far as it rests on that (Satterthwaite 1946), and the chance is shared among all readings
//! (Bonferroni): of logs without a slip no more than [`BY_CHANCE`] name one, if every sigma is right.

use super::day_figure::DayFigure;
use super::fit::{Fit, USUAL_DAYS};
use super::linear::{Layout, Row};
use crate::diagnostic::Severity;
use crate::numeric::{order, student_as_normal, two_sided_sigma};
use crate::speech::{Speaks, Style};
use serde::Serialize;

/// Of logs without a slip this part names one, whatever the number of readings: the usual level of a test (common practice, no source).
pub(super) const BY_CHANCE: f64 = 0.05;
/// More readings than this part of them are no slips.
const MOST_LEFT_OUT: f64 = 0.2;
/// So many of the readings that look worst are left out in turn.
const TRIED: usize = 3;

/// A reading that must be a slip: of the instrument, the pen or the day.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Slip {
    /// Which line of the log, counted from 0.
    pub entry: usize,
    /// What was read.
    pub name: DayFigure,
    /// By how much it lies above what all other readings say, in litres or °P.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub off: f64,
    /// One sigma of that.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub one_sigma: f64,
    /// The unit of both.
    pub unit: &'static str,
    /// What was read, in that.
    #[serde(skip)]
    pub(super) read: f64,
}

impl Slip {
    /// Every code there is.
    pub const CODES: &'static [&'static str] = &["slipped"];
}

impl Speaks for Slip {
    fn code(&self) -> &'static str {
        "slipped"
    }

    fn severity(&self) -> Severity {
        Severity::Warning
    }

    fn text(&self, style: Style) -> String {
        let side = match (self.off > 0.0, self.name.is_volume()) {
            (true, true) => "more",
            (true, false) => "higher",
            (false, true) => "less",
            (false, false) => "lower",
        };
        let read = self.name.spoken(self.read, style);
        format!(
            "line {}: {} is {} {side} than the other readings give (± {}); it is left out",
            self.entry + 1,
            self.name.said(),
            read.sigma(self.off),
            read.sigma(self.one_sigma)
        )
    }
}

/// How far a row lies off what all others say of it, and one sigma of that.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Deviation {
    pub(super) off: f64,
    pub(super) sigma: f64,
    /// How many independent observations that sigma rests on, as far as days are what makes it.
    freedom: f64,
}

impl Deviation {
    /// How many sigma of a normal distribution are as rare.
    fn sigmas(self) -> f64 {
        student_as_normal((self.off / self.sigma).abs(), self.freedom)
    }
}

impl Fit {
    /// How far a row lies off what all others say of it, by the sigma of a normal distribution.
    fn sigmas_off(&self, layout: &Layout<'_>, index: usize) -> Option<f64> {
        Some(self.without(layout, index)?.sigmas())
    }

    /// How far a row lies off what the fit would say without it.
    pub(super) fn without(&self, layout: &Layout<'_>, index: usize) -> Option<Deviation> {
        let (row, weight) = (self.rows.get(index)?, *self.weights.get(index)?);
        let reading = layout.reading(row)?;
        let own = reading.sigma * reading.sigma;
        let fitted = row.variance(&self.covariance);
        // What the row itself takes off its variance (Sherman & Morrison 1950).
        let rest = (1.0 - weight * fitted / own).max(f64::MIN_POSITIVE);
        let variance = own + fitted / rest;
        Some(Deviation {
            off: (reading.value - row.predicted) / rest,
            sigma: variance.sqrt(),
            freedom: self.freedom(layout, (row, rest), variance),
        })
    }

    /// The degrees of freedom of such a variance: each part that goes with how days differ in one unknown has those of that estimate,
    /// all else is known (Satterthwaite 1946; how a variance goes with one of its components, Giesbrecht & Burns 1985).
    fn freedom(&self, layout: &Layout<'_>, (row, rest): (&Row, f64), variance: f64) -> f64 {
        let by_days = |unknown: usize| {
            let of_day = |day| row.with(&self.covariance, layout.of_day(day, unknown));
            let parts = (0..layout.days.len()).map(|day| (of_day(day) / rest).powi(2));
            parts.sum::<f64>()
        };
        // The day itself tells nothing of how it should be.
        let days =
            USUAL_DAYS + f64::from(u32::try_from(layout.days.len()).unwrap_or(u32::MAX)) - 1.0;
        let squares: f64 = (0..layout.unknowns.len())
            .map(|unknown| by_days(unknown).powi(2))
            .sum();
        days * variance * variance / squares.max(f64::MIN_POSITIVE)
    }
}

impl Layout<'_> {
    /// The fit without its slips, and which rows they are.
    ///
    /// One after another the reading that all others contradict most is left out, as long as that is no chance; one that is no
    /// longer contradicted when others are out comes in again.
    pub(super) fn without_slips(&self) -> (Fit, Vec<usize>) {
        let mut slips = Vec::new();
        let mut fit = self.fitted(&slips, None);
        let count = u32::try_from(fit.rows.len()).unwrap_or(u32::MAX);
        let most = (MOST_LEFT_OUT * f64::from(count)).max(1.0);
        let limit = two_sided_sigma(BY_CHANCE / f64::from(count.max(1)));
        for _ in 0..count {
            if f64::from(u32::try_from(slips.len()).unwrap_or(u32::MAX)) >= most {
                break;
            }
            let found = self.slipped(&fit, &slips, limit);
            let Some((index, without)) = found else {
                break;
            };
            slips.push(index);
            fit = without;
            let is_off =
                |index: &usize| fit.sigmas_off(self, *index).is_some_and(|off| off > limit);
            let still: Vec<usize> = slips.iter().copied().filter(is_off).collect();
            if still.len() < slips.len() {
                slips = still;
                fit = self.fitted(&slips, Some(&fit));
            }
        }
        (fit, slips)
    }

    /// The reading that the others contradict by more than the limit, and the fit without it. What it does to how days differ hides
    /// it, so that those which look worst are left out in turn.
    fn slipped(&self, fit: &Fit, slips: &[usize], limit: f64) -> Option<(usize, Fit)> {
        let sigmas = |index| Some((index, fit.sigmas_off(self, index)?));
        let rows = (0..fit.rows.len()).filter(|index| !slips.contains(index));
        let mut worst: Vec<(usize, f64)> = rows.filter_map(sigmas).collect();
        order::sort_by(&mut worst, |a, b| b.1.total_cmp(&a.1));
        let tried = worst.into_iter().take(TRIED).map(|(index, _)| {
            let left_out: Vec<usize> = slips.iter().copied().chain([index]).collect();
            let without = self.fitted(&left_out, Some(fit));
            let sigmas = without.sigmas_off(self, index).unwrap_or(0.0);
            (index, without, sigmas)
        });
        let worst = tried.max_by(|a, b| a.2.total_cmp(&b.2));
        worst
            .filter(|(_, _, sigmas)| *sigmas > limit)
            .map(|(index, without, _)| (index, without))
    }
}
