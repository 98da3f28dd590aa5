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
    by_day: Option<DayEffect>,
}

impl Unknown {
    /// A figure of a plant with one sigma of it, in its own unit; none where it is known exactly.
    pub(super) fn of(figure: PlantFigure, value: f64, sigma: f64) -> Option<Self> {
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
            by_day: figure.day_effect(),
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
            by_day: Some(DayEffect::Relative(
                ATTENUATION_BY_DAY / usual.attenuation(1.0).max(ATTENUATION_BY_DAY),
            )),
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
        let one_sigma = self.by_day.map_or(0.0, |effect| effect.of(value));
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

    /// A rate of 3 L/h ± 25 % is e^0.25 times as large one sigma above: 3.852. A conversion of 95 % ± 2.5 leaves 5 %, 6.667 times the
    /// 0.75 % of the ceiling, which ln(e^6.667 - 1) = 6.6654 makes 4.9990 %: 7.4990 % one sigma below, where the ceiling adds
    /// 0.75 % ln(1 + e^-9.9987) = 0.00003 %, and 2.4990 % above, where it adds 0.75 % ln(1 + e^-3.332) = 0.0263 %.
    #[test]
    fn a_sigma_above_and_below_by_hand() {
        let rate = Unknown::of(PlantFigure::Evaporation, 3.0, 0.75).unwrap();
        assert!((rate.value(rate.sigma) - 3.852).abs() < 1e-3);
        assert!((rate.value(0.0) - 3.0).abs() < 1e-12);
        let share = Unknown::of(PlantFigure::Conversion, 0.95, 0.025).unwrap();
        assert!((share.value(0.0) - 0.95).abs() < 1e-12);
        assert!((share.value(-share.sigma) - 0.925_010).abs() < 1e-6);
        assert!((share.value(share.sigma) - 0.974_747).abs() < 1e-6);
        let lost = Unknown::of(PlantFigure::KettleLoss, 0.6, 0.2).unwrap();
        assert!((lost.value(-lost.sigma) - 0.4).abs() < 1e-12);
        assert_eq!(lost.by_day(0.0), 0.0);
    }

    #[test]
    fn what_is_known_exactly_is_no_unknown() {
        assert_eq!(Unknown::of(PlantFigure::Evaporation, 0.0, 0.0), None);
        assert_eq!(Unknown::of(PlantFigure::KettleLoss, 0.6, 0.0), None);
    }
}
