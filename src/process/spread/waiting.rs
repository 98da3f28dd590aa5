//! An addition that waits for a gravity which the fermentation may not reach.
//!
//! It then goes in at what the fermentation ends at, so that the gravity before it is the greater of the two: a kink, of which a slope
//! shows one side. With a normal end the greater of the two is exact: what of it goes with the causes of that end, and the rest, which
//! is a cause of its own since it goes with none of them.

use super::cause::CauseKind;
use super::effect::{Effect, by_model, place};
use super::figure::PredictedFigure;
use crate::process::brew::Worked;

/// An end further than this many sigma from what is waited for falls on its other side in one brew of 30 000 (rule of the crate).
const SELDOM: f64 = 4.0;
/// Beyond this many sigma nothing is left to sum (1e-15), and so many steps lead there, which is exact to 1e-5.
const ALL_SIGMAS: f64 = 8.0;
const STEPS: u32 = 500;

/// The effects on the gravities around the first addition, with what its waiting does.
pub(super) fn with_waiting(effects: &mut Vec<Effect>, worked: &Worked) {
    let Some(met) = worked.brewed.cellar.first_met else {
        return;
    };
    let places = (
        place(PredictedFigure::WortFinal),
        place(PredictedFigure::BeforeAddition),
        place(PredictedFigure::AfterAddition),
    );
    let (Some(awaited_plato), (Some(end), Some(before), Some(after))) = (met.awaited_plato, places)
    else {
        return;
    };
    let end_plato = worked.brewed.cellar.without_additions.apparent_plato();
    let by = |effect: &Effect, at: usize| effect.by.get(at).copied().unwrap_or_default();
    let squares = effects.iter().map(|effect| by(effect, end).powi(2));
    let sigma = squares.sum::<f64>().sqrt();
    let z = (awaited_plato - end_plato) / sigma;
    if sigma <= 0.0 || z.is_nan() || z.abs() > SELDOM {
        return;
    }
    let (chance, apart) = beyond(z);
    // The slopes have all of the end where it lies above, and nothing of it where it lies below.
    let more = if z < 0.0 { chance - 1.0 } else { chance };
    for effect in effects.iter_mut() {
        let of_end = more * by(effect, end);
        for (at, part) in [(before, 1.0), (after, met.beer_share)] {
            if let Some(by) = effect.by.get_mut(at) {
                *by += part * of_end;
            }
        }
    }
    effects.push(by_model(
        CauseKind::EndsAbove,
        None,
        &|figure| match figure {
            PredictedFigure::BeforeAddition => sigma * apart,
            PredictedFigure::AfterAddition => sigma * apart * met.beer_share,
            _ => 0.0,
        },
    ));
}

/// The chance that a standard normal number lies above `z`, which is also how far its excess over `z` goes with it, and the sigma of
/// what of that excess does not.
fn beyond(z: f64) -> (f64, f64) {
    let step = (ALL_SIGMAS - z) / f64::from(STEPS);
    let (mut chance, mut mean, mut square) = (0.0, 0.0, 0.0);
    for number in 0..STEPS {
        let excess = (f64::from(number) + 0.5) * step;
        let weight = step * (-0.5 * (z + excess).powi(2)).exp() / std::f64::consts::TAU.sqrt();
        chance += weight;
        mean += weight * excess;
        square += weight * excess * excess;
    }
    let apart = square - mean * mean - chance * chance;
    (chance, apart.max(0.0).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Tables of the normal distribution: 0.5 above 0, 0.158655 above 1, 0.977250 above -2. By hand at 0 the excess has the mean
    /// 1/sqrt(tau) and the mean square 1/2, so that 1/2 - 1/tau - 1/4 = 0.090845 is left, the square of 0.301405.
    #[test]
    fn the_excess_is_that_of_the_normal_distribution() {
        let near = |found: f64, table: f64| assert!((found - table).abs() < 2e-5, "{found}");
        near(beyond(0.0).0, 0.5);
        near(beyond(1.0).0, 0.158_655);
        near(beyond(-2.0).0, 0.977_250);
        near(beyond(0.0).1, 0.301_405);
    }
}
