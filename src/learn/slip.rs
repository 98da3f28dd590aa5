//! Readings that lie too far from what all others say to be chance.

use super::day_figure::DayFigure;
use super::fit::Fit;
use super::linear::Layout;
use crate::diagnostic::Severity;
use crate::numeric::two_sided_sigma;
use crate::speech::{Speaks, Style, shortest};
use serde::Serialize;

/// Of logs without a slip this part names one.
const BY_CHANCE: f64 = 0.05;
/// More readings than this part of them are no slips.
const MOST_LEFT_OUT: f64 = 0.2;

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

    fn text(&self, _: Style) -> String {
        let side = if self.off > 0.0 { "above" } else { "below" };
        format!(
            "line {}: {} is {} {} {side} all other readings (± {}); it is left out",
            self.entry + 1,
            self.name.said(),
            shortest(self.off.abs(), 2),
            self.unit,
            shortest(self.one_sigma, 2)
        )
    }
}

/// How far a row lies off what all others say of it, and one sigma of that.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Deviation {
    pub(super) off: f64,
    pub(super) sigma: f64,
}

impl Fit {
    /// How far a row lies off what the fit would say without it.
    pub(super) fn without(&self, layout: &Layout<'_>, index: usize) -> Option<Deviation> {
        let (row, weight) = (self.rows.get(index)?, *self.weights.get(index)?);
        let reading = layout.reading(row)?;
        let own = reading.sigma * reading.sigma;
        let fitted = row.variance(&self.covariance);
        // What the row itself takes off its variance (Sherman & Morrison 1950).
        let rest = (1.0 - weight * fitted / own).max(f64::MIN_POSITIVE);
        Some(Deviation {
            off: (reading.value - row.predicted) / rest,
            sigma: (own + fitted / rest).sqrt(),
        })
    }
}

impl Layout<'_> {
    /// The fit without its slips, and which rows they are.
    pub(super) fn without_slips(&self) -> (Fit, Vec<usize>) {
        let mut slips = Vec::new();
        let mut fit = self.fitted(&slips, &[]);
        let count = fit.rows.len();
        #[allow(
            clippy::cast_precision_loss,
            reason = "a log holds hundreds of readings"
        )]
        let (all, most) = (count as f64, MOST_LEFT_OUT * count as f64);
        let limit = two_sided_sigma(BY_CHANCE / all.max(1.0));
        #[allow(
            clippy::cast_precision_loss,
            reason = "a log holds hundreds of readings"
        )]
        while (slips.len() as f64) < most.max(1.0) {
            let sigmas = |index: usize| {
                let deviation = self.deviation(&fit, index, &slips)?;
                Some((index, (deviation.off / deviation.sigma).abs()))
            };
            let found = (0..count)
                .filter_map(sigmas)
                .max_by(|a, b| a.1.total_cmp(&b.1));
            let Some((index, _)) = found.filter(|(_, sigmas)| *sigmas > limit) else {
                break;
            };
            slips.push(index);
            fit = self.fitted(&slips, &fit.at);
        }
        (fit, slips)
    }

    fn deviation(&self, fit: &Fit, index: usize, slips: &[usize]) -> Option<Deviation> {
        if slips.contains(&index) {
            return None;
        }
        fit.without(self, index)
    }
}
