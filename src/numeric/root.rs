//! A bracketed root finder.

use crate::diagnostic::{Error, ErrorKind};

/// An interval in which a function changes its sign.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Bracket {
    /// Lower end.
    pub(crate) low: f64,
    /// Upper end.
    pub(crate) high: f64,
}

/// Enough steps to halve any interval of doubles down to neighbours; the method needs a tenth of that.
const MOST_STEPS: usize = 200;

/// A root of `f` within `bracket`, to within `tolerance` in the argument.
///
/// Interpolate, truncate, project (Oliveira and Takahashi 2020, ACM Trans. Math. Softw. 47(1), from memory): never
/// slower than bisection by more than one step, and nearly as fast as the secant method on smooth functions. The ends
/// may stand in either order. An end at which `f` is zero is returned as it is. A tolerance of zero or below asks for
/// the last digit.
///
/// # Errors
///
/// `NoRoot` when an end is not finite, when `f` has the same sign at both, or when `f` is not a number at an end or on
/// the way; the message gives the places and values.
pub(crate) fn root(
    mut f: impl FnMut(f64) -> f64,
    bracket: Bracket,
    tolerance: f64,
) -> Result<f64, Error> {
    let Bracket { low, high } = bracket;
    let ends = [(low, f(low)), (high, f(high))];
    root_between(&mut f, ends, tolerance)
}

/// As [`root`], between two arguments at which the value is known already.
pub(crate) fn root_between(
    f: &mut dyn FnMut(f64) -> f64,
    [(mut a, mut ya), (mut b, mut yb)]: [(f64, f64); 2],
    tolerance: f64,
) -> Result<f64, Error> {
    if ya == 0.0 {
        return Ok(a);
    }
    if yb == 0.0 {
        return Ok(b);
    }
    // A value that is not a number has a sign that is not one either. The product of the values would underflow.
    let changes_sign = ya.signum() * yb.signum() < 0.0;
    if !changes_sign || !a.is_finite() || !b.is_finite() {
        return Err(Error::new(
            ErrorKind::NoRoot,
            format!("no change of sign between {a} (value {ya}) and {b} (value {yb})"),
        ));
    }
    if b < a {
        ((a, ya), (b, yb)) = ((b, yb), (a, ya));
    }
    // Work on a rising function.
    let sign = if ya < 0.0 { 1.0 } else { -1.0 };
    ya *= sign;
    yb *= sign;
    let epsilon = (0.5 * tolerance).max(f64::MIN_POSITIVE);
    let truncation = 0.2 / (b - a);
    let halvings = ((b - a) / (2.0 * epsilon)).log2().ceil().max(0.0);
    let mut radius = epsilon * (halvings + 1.0).exp2();
    for _ in 0..MOST_STEPS {
        let width = b - a;
        if width <= 2.0 * epsilon {
            break;
        }
        let middle = 0.5 * (a + b);
        if middle <= a || middle >= b {
            break;
        }
        let falsi = (yb * a - ya * b) / (yb - ya);
        let towards = (middle - falsi).signum();
        // Near the root rounding puts the interpolated point on the same side again and again: what it is moved by must
        // be felt, or the other end stays where it is.
        let step = (truncation * width * width).max(0.5 * epsilon);
        let truncated = if step <= (middle - falsi).abs() {
            falsi + towards * step
        } else {
            middle
        };
        let reach = radius - 0.5 * width;
        let x = if (truncated - middle).abs() <= reach {
            truncated
        } else {
            middle - towards * reach
        };
        let y = sign * f(x);
        if y > 0.0 {
            b = x;
            yb = y;
        } else if y < 0.0 {
            a = x;
            ya = y;
        } else if y == 0.0 {
            return Ok(x);
        } else {
            return Err(Error::new(
                ErrorKind::NoRoot,
                format!(
                    "no value at {x}, between {a} (value {}) and {b} (value {})",
                    sign * ya,
                    sign * yb
                ),
            ));
        }
        radius *= 0.5;
    }
    Ok(0.5 * (a + b))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(f: impl FnMut(f64) -> f64, low: f64, high: f64, expected: f64) {
        let x = root(f, Bracket { low, high }, 1e-12).unwrap();
        assert!((x - expected).abs() <= 1e-12, "{x} {expected}");
    }

    #[test]
    fn finds_known_roots_of_rising_and_falling_functions() {
        check(|x| x * x * x - 8.0, 0.0, 9.0, 2.0);
        check(|x| 1.0 - x.exp(), -3.0, 4.0, 0.0);
        check(|x| (x - 1.0) * 1e-9, -1e3, 1e3, 1.0);
        check(|x| if x < 0.3 { -1.0 } else { 1.0 }, 0.0, 1.0, 0.3);
        check(|x| x, 0.0, 5.0, 0.0);
        check(|x| x - 5.0, 0.0, 5.0, 5.0);
    }

    #[test]
    fn never_needs_many_more_steps_than_bisection() {
        for power in [1, 3, 9, 25] {
            let mut calls = 0;
            let f = |x: f64| {
                calls += 1;
                x.powi(power) - 1e-3
            };
            root(
                f,
                Bracket {
                    low: 0.0,
                    high: 10.0,
                },
                1e-12,
            )
            .unwrap();
            assert!(calls <= 47, "{power}: {calls}");
        }
    }

    #[test]
    fn the_middle_of_a_straight_line_is_found_at_once() {
        let mut arguments = Vec::new();
        let f = |x: f64| {
            arguments.push(x);
            3.0 * (x - 5.0)
        };
        let (low, high) = (1.0, 9.0);
        assert_eq!(root(f, Bracket { low, high }, 1e-9).unwrap(), 5.0);
        assert_eq!(arguments, [low, high, 5.0]);
    }

    #[test]
    fn smooth_functions_take_a_third_of_what_halving_takes() {
        let check = |f: fn(f64) -> f64, low: f64, high: f64| {
            let mut calls = 0;
            let counted = |x: f64| {
                calls += 1;
                f(x)
            };
            root(counted, Bracket { low, high }, 1e-12).unwrap();
            let halvings = ((high - low) / 1e-12).log2().ceil();
            assert!(f64::from(calls) <= halvings / 3.0, "{calls} of {halvings}");
        };
        check(|x| x * x - 2.0, 0.0, 2.0);
        check(|x| x * x - 2.0, 1.0, 2.0);
        check(|x| x.exp() - 5.0, 1.0, 3.0);
        check(|x| 0.3 - x.ln(), 1.0, 2.5);
        check(|x| x.cos() - x, -1.0, 2.0);
        check(|x| x.exp() - 3.0, -2.0, 2.0);
        check(|x| x.exp() - 0.3, -3.0, 1.0);
        check(|x| 1.0 / x - 0.01, 80.0, 130.0);
    }

    #[test]
    fn says_both_values_where_there_is_no_root() {
        let same = root(
            |x| x * x + 1.0,
            Bracket {
                low: 0.0,
                high: 2.0,
            },
            1e-9,
        )
        .unwrap_err();
        assert_eq!(
            same.to_string(),
            "no change of sign between 0 (value 1) and 2 (value 5)"
        );
        let nan = root(
            |_| f64::NAN,
            Bracket {
                low: 0.0,
                high: 2.0,
            },
            1e-9,
        )
        .unwrap_err();
        assert_eq!(nan.kind(), ErrorKind::NoRoot);
    }

    #[test]
    fn a_function_that_has_no_value_on_the_way_has_no_root_there() {
        // The root of x is 0, but the first step inside of -1 to 3 meets no value.
        let gap = |x: f64| {
            if x.abs() < 2.0 && x > -1.0 {
                f64::NAN
            } else {
                x
            }
        };
        let bracket = Bracket {
            low: -1.0,
            high: 3.0,
        };
        let error = root(gap, bracket, 1e-9).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::NoRoot);
        assert!(error.to_string().starts_with("no value at "), "{error}");
    }

    #[test]
    fn ends_may_stand_in_either_order_and_must_be_finite() {
        check(|x| x * x * x - 8.0, 9.0, 0.0, 2.0);
        check(|x| 1.0 - x, 4.0, -3.0, 1.0);
        for (low, high) in [
            (f64::NEG_INFINITY, f64::INFINITY),
            (f64::NEG_INFINITY, 1.0),
            (0.0, f64::INFINITY),
        ] {
            assert!(root(|x| x - 0.5, Bracket { low, high }, 1e-9).is_err());
        }
        assert!(
            root(
                |x| x,
                Bracket {
                    low: f64::NAN,
                    high: 1.0
                },
                1e-9
            )
            .is_err()
        );
    }

    #[test]
    fn values_too_small_to_multiply_still_differ_in_sign() {
        check(|x| (x - 1.0) * 1e-200, 0.0, 3.0, 1.0);
    }
}
