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

/// How many sigma of a normal distribution are as rare as so many of Student's t.
///
/// # Source
///
/// Wallace, Ann. Math. Stat. 30 (1959) 1121; good to 0.01 sigma from 5 degrees of freedom on.
pub(crate) fn student_as_normal(sigmas: f64, freedom: f64) -> f64 {
    let shrinks = (8.0 * freedom + 1.0) / (8.0 * freedom + 3.0);
    let square = freedom * (sigmas * sigmas / freedom).ln_1p();
    let is_normal = !square.is_finite() || freedom > 1e9;
    if is_normal {
        sigmas
    } else {
        shrinks * square.sqrt()
    }
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

    /// Table of Student's t: beyond 2.571 at 5 degrees of freedom lie 5 %, beyond 4.587 at 10 and 3.850 at 20 a tenth of one.
    #[test]
    fn student_is_as_rare() {
        for (t, freedom, chance) in [
            (2.571, 5.0, 0.05),
            (4.032, 5.0, 0.01),
            (4.587, 10.0, 0.001),
            (3.850, 20.0, 0.001),
        ] {
            let found = student_as_normal(t, freedom);
            assert!(
                (found - two_sided_sigma(chance)).abs() < 0.012,
                "{t}: {found}"
            );
        }
        assert_eq!(student_as_normal(3.0, f64::INFINITY), 3.0);
        assert!((student_as_normal(3.0, 1e8) - 3.0).abs() < 1e-6);
    }
}
