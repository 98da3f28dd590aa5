//! The normal distribution.

/// How many sigma a figure lies from its mean, to either side, with a chance of `chance`, from 1e-12 to 1.
///
/// # Source
///
/// Abramowitz & Stegun, Handbook of Mathematical Functions (1964), 26.2.23; good to 4.5e-4 sigma.
pub(crate) fn two_sided_sigma(chance: f64) -> f64 {
    let tail = 0.5 * chance.clamp(1e-12, 1.0);
    let t = (-2.0 * tail.ln()).sqrt();
    let above = 2.515_517 + t * (0.802_853 + t * 0.010_328);
    let below = 1.0 + t * (1.432_788 + t * (0.189_269 + t * 0.001_308));
    (t - above / below).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Table of the normal distribution: 31.73, 5, 1 and 0.1 % lie beyond 1, 1.960, 2.576 and 3.291 sigma.
    #[test]
    fn meets_the_table() {
        for (chance, sigma) in [
            (0.317_311, 1.0),
            (0.05, 1.959_964),
            (0.01, 2.575_829),
            (0.001, 3.290_527),
        ] {
            assert!((two_sided_sigma(chance) - sigma).abs() < 5e-4, "{chance}");
        }
        assert!(two_sided_sigma(1.0) < 5e-4);
    }
}
