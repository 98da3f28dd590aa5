//! What a reading can tell.
//!
//! A plan is known to its spread s, and a reading to its own noise n. Of a difference d between them s²/(s² + n²) is most likely
//! real, and that is known to ± n · s/√(s² + n²). Up to d = n · √(1 + (n/s)²) the correction would be no larger than its own doubt and
//! might as well lead away: nothing is corrected. A larger difference is corrected in full.

use super::day::Day;
use crate::process::PredictedFigure;

/// One sigma of a volume by marks, as a share of it.
pub(super) use crate::ledger::VOLUME_READ;
/// One sigma of a cooled sample's pH: meter, buffers and temperature together (common practice, no source).
pub(super) const PH_READ: f64 = 0.05;
/// A plan is never trusted to more than its reading: a slip of the day is in no spread (rule of the crate).
const MOST_RATIO: f64 = 1.0;

/// Where on the day something is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ReadOf {
    PreBoilVolume,
    PreBoilGravity,
    Figure(PredictedFigure),
}

impl Day<'_> {
    /// How far a reading of such noise may lie from the plan with nothing to correct, in its unit.
    pub(super) fn readable(self, of: ReadOf, noise: f64) -> f64 {
        let spread = self.spread;
        let planned = match of {
            ReadOf::PreBoilVolume => spread.map(|spread| spread.readings.pre_boil_l),
            ReadOf::PreBoilGravity => spread.map(|spread| spread.readings.pre_boil_plato),
            ReadOf::Figure(figure) => {
                let known = spread.and_then(|spread| spread.of(figure));
                known.map(|figure| figure.one_sigma)
            }
        };
        beyond_doubt(noise, planned)
    }
}

fn beyond_doubt(noise: f64, planned_sigma: Option<f64>) -> f64 {
    let planned_sigma = planned_sigma.filter(|sigma| *sigma > 0.0);
    let ratio = planned_sigma.map_or(0.0, |sigma| (noise / sigma).min(MOST_RATIO));
    noise * ratio.hypot(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: noise 3 and a spread of 4 leave 2.4 of 16/25 of the difference: 3.75 is where both are the same. A spread that is
    /// not known leaves the noise, and one of next to nothing the root of two.
    #[test]
    fn a_correction_is_larger_than_its_doubt() {
        let near = |found: f64, by_hand: f64| assert!((found - by_hand).abs() < 1e-12, "{found}");
        near(beyond_doubt(3.0, Some(4.0)), 3.75);
        near(3.75 * 16.0 / 25.0, 3.0 * 4.0 / 5.0);
        near(beyond_doubt(3.0, None), 3.0);
        near(beyond_doubt(3.0, Some(0.0)), 3.0);
        near(beyond_doubt(3.0, Some(1e-9)), 3.0 * 2.0_f64.sqrt());
    }
}
