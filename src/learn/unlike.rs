//! Days that are unlike the others of their plant: brewed on another one, or with other amounts than their plan's.
//!
//! Such a day is no slip of one reading: all of its lines agree with one another. It shows in a figure of the plant that differs on it
//! from the others by more than days do, which is asked as it is of a reading (`slip`): by the scatter that the *other* days have, of
//! Student's t, with the chance shared among all days and figures.

use super::fit::{Fit, USUAL_DAYS};
use super::linear::Layout;
use super::slip::BY_CHANCE;
use crate::numeric::{student_as_normal, two_sided_sigma};

/// Of two days none is unlike the other.
const FEWEST: usize = 3;
/// A day must tell at least this part of how far it is off (rule of the crate).
const TOLD: f64 = 0.5;

impl Fit {
    /// How far a day is off the plant in an unknown, in sigma of how days usually differ.
    pub(super) fn of_day(&self, layout: &Layout<'_>, day: usize, unknown: usize) -> f64 {
        let off = self.at.get(layout.of_day(day, unknown));
        self.times(unknown) * off.copied().unwrap_or(0.0)
    }

    fn times(&self, unknown: usize) -> f64 {
        self.scatter.get(unknown).copied().unwrap_or(1.0)
    }

    /// The part of its variance that a day leaves of how far it is off.
    fn left(&self, place: usize) -> f64 {
        let variance = self.covariance.get(place).and_then(|row| row.get(place));
        variance.map_or(1.0, |left| left.clamp(0.0, 1.0))
    }

    /// The unknown in which a day is unlike all others, where there is one.
    pub(super) fn unlike(&self, layout: &Layout<'_>, day: usize) -> Option<usize> {
        let days = layout.days.len();
        let figures = layout.unknowns.len();
        if days < FEWEST {
            return None;
        }
        let tried = f64::from(u32::try_from(days * figures).unwrap_or(u32::MAX));
        let limit = two_sided_sigma(BY_CHANCE / tried);
        let all = (0..figures).filter_map(|unknown| {
            let sigmas = self.sigmas_unlike(layout, day, unknown)?;
            (sigmas > limit).then_some((unknown, sigmas))
        });
        all.max_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(unknown, _)| unknown)
    }

    /// How far a day is off the plant in an unknown against how the others are, in sigma of a normal distribution.
    fn sigmas_unlike(&self, layout: &Layout<'_>, day: usize, unknown: usize) -> Option<f64> {
        let told = 1.0 - self.left(layout.of_day(day, unknown));
        let others = (0..layout.days.len()).filter(|other| *other != day);
        let squares = others.map(|other| {
            let off = self.of_day(layout, other, unknown);
            let left = self.times(unknown).powi(2) * self.left(layout.of_day(other, unknown));
            off * off + left.min(1.0)
        });
        let freedom =
            USUAL_DAYS + f64::from(u32::try_from(layout.days.len()).unwrap_or(u32::MAX)) - 1.0;
        let by_others = ((USUAL_DAYS + squares.sum::<f64>()) / freedom)
            .sqrt()
            .max(1.0);
        let off = self.of_day(layout, day, unknown).abs() / (told.sqrt() * by_others);
        (told > TOLD).then(|| student_as_normal(off, freedom))
    }
}
