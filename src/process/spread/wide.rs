//! Factors that are known so badly that what they do is no straight line over their sigma.
//!
//! What boils off in an hour is known to a quarter of it where no line states it, and counts for more upwards than downwards: a slope
//! alone has 5 % too small a sigma of the gravity. Such a factor is run on both sides of what it is taken to be.

use super::bend::Bend;
use super::input::Input;
use super::plant_figure::PlantFigure;
use crate::process::brew::Worked;

/// A factor known to this part of itself is all but straight in what it does: its curve adds less than a hundredth of a sigma (rule
/// of the crate).
const STRAIGHT: f64 = 0.1;
/// Gauss and Hermite's three points, in sigma of a normal distribution (Abramowitz & Stegun 25.4.46): none, and these, each of a
/// sixth of the weight. Squares of what is curved like a parabola come out exact.
const NODE: f64 = 1.732_050_808;
const WEIGHT: f64 = 1.0 / 6.0;

/// What a wide factor is bent by below and above, by a lognormal distribution of this sigma and no mean; none of what is straight.
pub(super) fn bends(input: &Input, worked: &Worked) -> Option<[f64; 2]> {
    let value = match input.bend {
        Bend::HopsKeep => 1.0,
        Bend::Plant(figure @ PlantFigure::Evaporation) => figure.of(&worked.setup.plant)?,
        _ => return None,
    };
    let part = input.sigma / value;
    (part > STRAIGHT).then(|| [-NODE, NODE].map(|sigmas| value * factor(part, sigmas)))
}

/// A factor less one at so many sigma of its logarithm, whose own sigma and mean are these: `sigma` and one.
pub(super) fn factor(sigma: f64, sigmas: f64) -> f64 {
    let log = (1.0 + sigma * sigma).ln().sqrt();
    (log * sigmas - 0.5 * log * log).exp() - 1.0
}

/// One sigma of what two bends do, with the sign of its slope, by one sigma of the bends.
pub(super) fn slope(bends: [f64; 2], moved: [f64; 2]) -> f64 {
    sigma(moved) / sigma(bends)
}

fn sigma([below, above]: [f64; 2]) -> f64 {
    let mean = WEIGHT * (below + above);
    let square = WEIGHT * (below * below + above * above);
    (square - mean * mean)
        .max(0.0)
        .sqrt()
        .copysign(above - below)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A straight line has its slope. Of x + x² with a normal x of one sigma the variance is 1 + 2: by hand, since x² has that of 2.
    #[test]
    fn a_parabola_by_hand() {
        let nodes = [-NODE, NODE];
        assert!((slope(nodes, nodes.map(|x| -3.0 * x)) + 3.0).abs() < 1e-12);
        let curved = slope(nodes, nodes.map(|x| x + x * x));
        assert!((curved - 3.0_f64.sqrt()).abs() < 1e-8, "{curved}");
    }

    /// A factor known to a quarter has a logarithm of 0.24622: at two sigma e^(0.49244 - 0.03031) = 1.5875, and e^(-0.52275) = 0.5929.
    #[test]
    fn a_factor_by_hand() {
        let found = [factor(0.25, 2.0), factor(0.25, -2.0)];
        assert!(
            (found[0] - 0.5875).abs() < 1e-3 && (found[1] + 0.4071).abs() < 1e-3,
            "{found:?}"
        );
    }
}
