//! A number as it is said, and how far it may be off in the same unit.

/// More digits than a figure has are shown of a spread that would else be nothing, so many at most.
const MORE_DIGITS: usize = 2;

/// A number in the unit in which a person reads it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Spoken {
    number: f64,
    digits: usize,
    /// What stands after the number.
    unit: &'static str,
    /// By how much the number grows with the figure's own unit.
    slope: f64,
}

impl Spoken {
    /// A number that is said in the figure's own unit.
    pub(crate) const fn plain(number: f64, digits: usize, unit: &'static str) -> Self {
        Self {
            number,
            digits,
            unit,
            slope: 1.0,
        }
    }

    /// The same where the number grows with the figure's own unit by so much.
    pub(crate) const fn scaled(self, slope: f64) -> Self {
        Self { slope, ..self }
    }

    /// `15.6 °P`.
    pub(crate) fn said(self) -> String {
        with_unit(&fixed(self.number, self.digits), self.unit)
    }

    /// `15.6 ± 0.4 °P`, of one sigma in the figure's own unit; without it where it is less than the last digit shows.
    pub(crate) fn with_sigma(self, sigma: f64) -> String {
        if (self.slope * sigma).abs() < 0.5 * last_digit(self.digits) {
            return self.said();
        }
        self.with_any_sigma(sigma)
    }

    /// The same with more digits for a spread that would else be nothing.
    pub(crate) fn with_any_sigma(self, sigma: f64) -> String {
        let sigma = (self.slope * sigma).abs();
        if sigma.is_nan() || sigma <= 0.0 {
            return self.said();
        }
        let shows = |digits: &usize| sigma >= 0.5 * last_digit(*digits);
        let most = self.digits + MORE_DIGITS;
        let digits = (self.digits..=most).find(shows).unwrap_or(most);
        let number = fixed(self.number, self.digits);
        with_unit(&format!("{number} ± {sigma:.digits$}"), self.unit)
    }

    /// One sigma alone, to the two digits that it is worth: `0.43 °P`.
    pub(crate) fn sigma(self, sigma: f64) -> String {
        let two = two_digits((self.slope * sigma).abs());
        with_unit(&two, self.unit)
    }
}

fn with_unit(number: &str, unit: &str) -> String {
    if unit.is_empty() {
        number.to_owned()
    } else {
        format!("{number} {unit}")
    }
}

/// One in the last of so many decimals.
fn last_digit(digits: usize) -> f64 {
    0.1_f64.powi(i32::try_from(digits).unwrap_or(0))
}

/// A number with so many decimals, never a minus before nothing.
fn fixed(number: f64, digits: usize) -> String {
    let text = format!("{number:.digits$}");
    match text.strip_prefix('-') {
        Some(zero) if !zero.contains(|c: char| c.is_ascii_digit() && c != '0') => zero.to_owned(),
        _ => text,
    }
}

/// A positive number to two digits.
pub(crate) fn two_digits(number: f64) -> String {
    let rounded: f64 = format!("{number:.1e}").parse().unwrap_or(number);
    // Rounded, it is at most 9.9 or at least 10 in its last digits, but for dust.
    let digits = (0..8).find(|digits| rounded > 9.95 * last_digit(*digits));
    match digits {
        _ if rounded == 0.0 => "0".to_owned(),
        Some(digits) => format!("{rounded:.digits$}"),
        None => format!("{rounded:.8}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spread_has_the_digits_of_its_figure() {
        let said =
            |number, digits, unit, sigma| Spoken::plain(number, digits, unit).with_sigma(sigma);
        assert_eq!(said(15.6, 1, "°P", 0.43), "15.6 ± 0.4 °P");
        assert_eq!(said(21.0, 0, "IBU", 5.4), "21 ± 5 IBU");
        assert_eq!(said(21.0, 0, "IBU", 0.31), "21 IBU");
        let any = Spoken::plain(21.0, 0, "IBU").with_any_sigma(0.31);
        assert_eq!(any, "21 ± 0.3 IBU");
        assert_eq!(said(6.6, 1, "% vol", 0.26), "6.6 ± 0.3 % vol");
        assert_eq!(said(20.0, 1, "hL", 0.0), "20.0 hL");
        assert_eq!(said(-0.04, 1, "°P", 0.2), "0.0 ± 0.2 °P");
    }

    #[test]
    fn a_sigma_alone_has_two_digits() {
        for (number, said) in [
            (0.0018, "0.0018"),
            (0.0996, "0.10"),
            (0.43, "0.43"),
            (2.213, "2.2"),
            (9.96, "10"),
            (12.4, "12"),
            (123.0, "120"),
            (0.0, "0"),
        ] {
            assert_eq!(two_digits(number), said, "{number}");
        }
    }
}
