//! The range check for the quantities that carry no range of their own: masses, volumes, times, lengths.

use crate::diagnostic::Error;
use crate::quantity::out_of_range;
use std::ops::RangeInclusive;

/// `value` itself if it is a number in `range`, else an `OutOfRange` error that names it as `what`.
pub(super) fn within(
    what: &str,
    value: f64,
    range: RangeInclusive<f64>,
    unit: &str,
) -> Result<f64, Error> {
    if range.contains(&value) {
        Ok(value)
    } else {
        Err(out_of_range(
            what,
            value,
            unit,
            *range.start(),
            *range.end(),
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refuses_what_lies_outside_and_what_is_no_number() {
        assert_eq!(within("a boil", 5.0, 0.0..=9.0, "min").unwrap(), 5.0);
        let error = within("a boil", -1.0, 0.0..=9.0, "min").unwrap_err();
        assert_eq!(
            error.message(),
            "expected a boil from 0 to 9 min, found -1 min"
        );
        let bare = within("a pK", 25.0, -10.0..=20.0, "").unwrap_err();
        assert_eq!(bare.to_string(), "expected a pK from -10 to 20, found 25");
        assert!(within("a boil", f64::NAN, 0.0..=9.0, "min").is_err());
    }
}
