//! Polynomials by Horner's rule.

/// The value at `x` of the polynomial with these coefficients, the constant first, and its slope there.
pub(crate) fn value_and_slope(coefficients: &[f64], x: f64) -> (f64, f64) {
    coefficients
        .iter()
        .rev()
        .fold((0.0, 0.0), |(value, slope), coefficient| {
            (value * x + coefficient, slope * x + value)
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gives_value_and_slope_by_hand() {
        // 1 + 2x + 3x² at 2: 17, and 2 + 6x: 14.
        assert_eq!(value_and_slope(&[1.0, 2.0, 3.0], 2.0), (17.0, 14.0));
        assert_eq!(value_and_slope(&[], 2.0), (0.0, 0.0));
    }
}
