//! The unknowns of a plant: each with its prior and how a day moves it, on a scale on which it may take any value.

use crate::process::{Bent, DayEffect, PlantFigure, Setup};

/// Apparent attenuation from brew to brew of a known yeast: row "apparent attenuation, known yeast" of
/// `tests/reference/uncertainty.csv` (catalogue ranges as 4 sigma of strain and brew), a fraction.
const ATTENUATION_BY_DAY: f64 = 0.020;
/// How sharp the ceiling of a share is: a lot holds so much more or less than the figure of its type, row "pale malt extract of the
/// lot against its type" of `tests/reference/uncertainty.csv`, 0.6 of 80 (from memory).
const CEILING: f64 = 0.6 / 80.0;
/// So far above a whole a share never gets, so that a whole itself lies on the scale.
const ABOVE: f64 = CEILING * std::f64::consts::LN_2;
/// By how much an unknown is moved to see what follows it, in its own scale.
pub(super) const STEP: f64 = 1e-4;

/// What is learnt.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Learns {
    Plant(PlantFigure),
    /// A factor on what ferments of what a mash made.
    Attenuation,
}

/// On what an unknown may take any value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Scale {
    Plain,
    /// What is above zero.
    Logarithm,
    /// What cannot be much more than a whole: itself, but that it nears that ever more slowly.
    Share,
}

impl Scale {
    fn to(self, value: f64) -> f64 {
        match self {
            Self::Plain => value,
            Self::Logarithm => value.max(f64::MIN_POSITIVE).ln(),
            Self::Share => {
                let left = (1.0 + ABOVE - value.min(1.0)) / CEILING;
                // The logarithm of e^left - 1, without its overflow.
                1.0 + ABOVE - CEILING * (left + (-(-left).exp()).ln_1p())
            }
        }
    }

    fn back(self, scaled: f64) -> f64 {
        match self {
            Self::Plain => scaled,
            Self::Logarithm => scaled.exp(),
            Self::Share => {
                let left = (1.0 + ABOVE - scaled) / CEILING;
                // The logarithm of e^left + 1, without its overflow.
                1.0 + ABOVE - CEILING * (left.max(0.0) + (-left.abs()).exp().ln_1p())
            }
        }
    }
}

/// An unknown that all days share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Unknown {
    pub(super) learns: Learns,
    scale: Scale,
    /// On the scale.
    prior: f64,
    /// One sigma of the prior, on the scale.
    pub(super) sigma: f64,
    by_day: DayEffect,
}

impl Unknown {
    /// A figure of a plant with one sigma of it and how days differ, in its own unit; none where it is known exactly.
    pub(super) fn of(
        figure: PlantFigure,
        (value, sigma): (f64, f64),
        by_day: DayEffect,
    ) -> Option<Self> {
        let scale = match figure {
            PlantFigure::Absorption | PlantFigure::Evaporation => Scale::Logarithm,
            PlantFigure::Conversion | PlantFigure::ExtractYield => Scale::Share,
            PlantFigure::KettleLoss | PlantFigure::FermenterLoss => Scale::Plain,
        };
        let unknown = Self {
            learns: Learns::Plant(figure),
            scale,
            prior: scale.to(value),
            sigma: scaled(scale, value, sigma),
            by_day,
        };
        let is_unknown = sigma > 0.0 && value.is_finite() && unknown.sigma.is_finite();
        let is_on_scale = scale != Scale::Logarithm || value > 0.0;
        (is_unknown && is_on_scale).then_some(unknown)
    }

    /// How far the yeast of a brew ferments, against what is predicted.
    pub(super) fn attenuation(setup: &Setup) -> Self {
        let usual = setup.formula.yeast_use;
        Self {
            learns: Learns::Attenuation,
            scale: Scale::Logarithm,
            prior: 0.0,
            sigma: usual.sigma(),
            by_day: DayEffect::Relative(
                ATTENUATION_BY_DAY / usual.attenuation(1.0).max(ATTENUATION_BY_DAY),
            ),
        }
    }

    /// How far it lies from its prior on a day, on the scale: so many sigma for the plant, and so many from day to day.
    pub(super) fn on_a_day(&self, sigmas: f64, of_day: f64) -> f64 {
        let plant = self.sigma * sigmas;
        plant + self.by_day(plant) * of_day
    }

    /// How that follows the sigma of the plant and those of the day.
    pub(super) fn slopes_on_a_day(&self, sigmas: f64, of_day: f64) -> (f64, f64) {
        let further = self.on_a_day(sigmas + STEP, of_day);
        let by_plant = (further - self.on_a_day(sigmas, of_day)) / STEP;
        (by_plant, self.by_day(self.sigma * sigmas))
    }

    /// One sigma from day to day where the plant's own value is so far from the prior, both on the scale.
    pub(super) fn by_day(&self, offset: f64) -> f64 {
        let value = self.value(offset);
        let one_sigma = self.by_day.of(value);
        scaled(self.scale, value, one_sigma)
    }

    /// Its value so far from the prior, on the scale.
    pub(super) fn value(&self, offset: f64) -> f64 {
        self.scale.back(self.prior + offset)
    }

    /// Moves it in a plant so far from its prior, on the scale.
    pub(super) fn bend(&self, bent: &mut Bent, offset: f64) {
        let value = self.value(offset);
        match self.learns {
            Learns::Plant(figure) => bent.plant = figure.with(&bent.plant, value),
            Learns::Attenuation => {
                bent.mash_factor = bent.mash_factor.fitted(bent.mash_factor.fit * value);
            }
        }
    }
}

/// One sigma of a value, on the scale.
fn scaled(scale: Scale, value: f64, sigma: f64) -> f64 {
    match scale {
        Scale::Plain | Scale::Share => sigma,
        Scale::Logarithm => sigma / value.max(f64::MIN_POSITIVE),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unknown(figure: PlantFigure, value: f64, sigma: f64) -> Option<Unknown> {
        Unknown::of(figure, (value, sigma), DayEffect::Absolute(0.1))
    }

    /// A rate of 3 L/h ± 25 % is e^0.25 times as large one sigma above: 3.852. A conversion of 95 % lies 5.5199 % below the ceiling
    /// at 100.5199 %, 7.3598 times its 0.75 %; ln(e^7.3598 - 1) = 7.3592 makes 5.5194 % of it. One sigma of 2.5 % below, 8.0194 % are
    /// 10.6925 times, and ln(e^10.6925 + 1) makes 8.0194 % of it: 92.5005 %. Above, 3.0194 % are 4.0259 times, and
    /// ln(e^4.0259 + 1) = 4.0436 makes 3.0327 %: 97.4872 %. A whole is one.
    #[test]
    fn a_sigma_above_and_below_by_hand() {
        let rate = unknown(PlantFigure::Evaporation, 3.0, 0.75).unwrap();
        assert!((rate.value(rate.sigma) - 3.852).abs() < 1e-3);
        assert!((rate.value(0.0) - 3.0).abs() < 1e-12);
        let share = unknown(PlantFigure::Conversion, 0.95, 0.025).unwrap();
        assert!((share.value(0.0) - 0.95).abs() < 1e-12);
        assert!((share.value(-share.sigma) - 0.925_005).abs() < 2e-6);
        assert!((share.value(share.sigma) - 0.974_872).abs() < 2e-6);
        let whole = unknown(PlantFigure::Conversion, 1.0, 0.025).unwrap();
        assert!((whole.value(0.0) - 1.0).abs() < 1e-12);
        assert!(whole.value(8.0 * whole.sigma) < 1.0052);
        let lost = unknown(PlantFigure::KettleLoss, 0.6, 0.2).unwrap();
        assert!((lost.value(-lost.sigma) - 0.4).abs() < 1e-12);
        assert!((lost.by_day(0.0) - 0.1).abs() < 1e-12);
        // A tenth of a rate, in its logarithm, whatever the rate.
        let rate = Unknown {
            by_day: DayEffect::Relative(0.1),
            ..rate
        };
        assert!((rate.by_day(rate.sigma) - 0.1).abs() < 1e-12);
    }

    #[test]
    fn what_is_known_exactly_is_no_unknown() {
        assert_eq!(unknown(PlantFigure::Evaporation, 0.0, 0.0), None);
        assert_eq!(unknown(PlantFigure::KettleLoss, 0.6, 0.0), None);
    }
}
