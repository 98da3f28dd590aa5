//! Numbers and units as people write them: `4 gal`, `5.5EBC`, `~8-10 %`, `1 1/2 tsp`, `2 lb 4 oz`, `1.050`.

mod number;
mod phrase;

pub use number::{DecimalComma, Number};
pub(crate) use number::{Form, Marked, is_space, may_follow_number, number, plain_number};
pub(crate) use phrase::{examples, expected, near_unit, unit};

use super::scalar::show;
use super::unit::{Dimension, Unit, UnitSystem};
use crate::diagnostic::{Error, ErrorKind};
use std::fmt;
use std::ops::RangeInclusive;

/// Numbers that are taken for specific gravities when no unit follows.
pub(crate) const BARE_GRAVITY: RangeInclusive<f64> = 0.980..=1.200;

/// A number, or a range of them, in a unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct AsWritten {
    /// Of a range, its middle.
    pub(crate) number: f64,
    pub(crate) range: Option<(f64, f64)>,
    /// Whether a `~` stands before it.
    pub(crate) about: bool,
    /// Of `2 lb 4 oz`, the first.
    pub(crate) unit: Unit,
}

impl AsWritten {
    pub(crate) const fn plain(number: f64, unit: Unit) -> Self {
        Self {
            number,
            range: None,
            about: false,
            unit,
        }
    }

    pub(crate) fn marked(number: Marked, unit: Unit) -> Self {
        Self {
            number: number.middle(),
            range: number.range(),
            about: number.about,
            unit,
        }
    }

    pub(crate) fn between(low: f64, high: f64, unit: Unit) -> Result<Self, Error> {
        if !(low.is_finite() && high.is_finite() && low <= high) {
            return Err(Error::new(
                ErrorKind::OutOfRange,
                format!("expected a range from low to high, found {low} to {high}"),
            ));
        }
        Ok(Self {
            range: Some((low, high)),
            ..Self::plain(f64::midpoint(low, high), unit)
        })
    }

    /// Adds `more`, which follows it, if the two are one quantity: `2 lb 4 oz`. `last` is the unit before `more`.
    pub(crate) fn absorb(&mut self, last: Unit, more: &Self) -> bool {
        let one = self.range.is_none() && more.range.is_none() && continues(last, more.unit);
        if one {
            self.number += more.number * (more.unit.to_base(1.0) / self.unit.to_base(1.0));
            self.about |= more.about;
        }
        one
    }

    /// All of `text` as a number in a unit of one of these dimensions.
    pub(crate) fn read(text: &str, allowed: &[Dimension]) -> Result<Self, Error> {
        let text = text.trim_matches(is_space);
        let body = match text.get(..2) {
            Some(label) if allowed == [Dimension::Ph] && label.eq_ignore_ascii_case("pH") => {
                text.get(2..).unwrap_or("").trim_start_matches(is_space)
            }
            _ => text,
        };
        let (mut whole, mut rest) = one(body, allowed, text)?;
        let mut last = whole.unit;
        while !rest.is_empty() {
            let more = one(rest, allowed, text)?;
            if !whole.absorb(last, &more.0) {
                return Err(unfitting(allowed, text));
            }
            (last, rest) = (more.0.unit, more.1);
        }
        Ok(whole)
    }
}

/// The number and unit that `body` begins with, and what follows them; `whole` is for messages.
fn one<'t>(
    body: &'t str,
    allowed: &[Dimension],
    whole: &str,
) -> Result<(AsWritten, &'t str), Error> {
    let read = plain_number(body).map(|length| (length, Form::Plain));
    let read = read.or_else(|| number(body, DecimalComma::Refused, may_follow_number));
    let Some((text, form, rest)) = read.and_then(|(length, form)| {
        let (text, rest) = body.split_at_checked(length)?;
        Some((text, form, rest))
    }) else {
        return Err(unfitting(allowed, whole));
    };
    let number = Number { text, form };
    if let Some((message, help)) = number.fault() {
        return Err(Error::new(ErrorKind::NotAQuantity, message).with_help(help));
    }
    let marked = number.marked().ok_or_else(|| unfitting(allowed, whole))?;
    let rest = rest.trim_start_matches(is_space);
    let word = |at: usize| words(rest).nth(at);
    if let Some((unit, count)) = unit(word, allowed) {
        let rest = (0..count).fold(rest, |rest, _| after_word(rest));
        return Ok((AsWritten::marked(marked, unit), rest));
    }
    if rest.is_empty()
        && let Some(unit) = bare_unit(marked, allowed)
    {
        return Ok((AsWritten::marked(marked, unit), rest));
    }
    let thousandth = marked.middle() / 1000.0;
    let help = if let Some(word) = word(0) {
        let near = near_unit(word, allowed).unwrap_or_default();
        (!near.is_empty()).then(|| format!("did you mean `{text} {}`?", near.join("` or `")))
    } else if allowed.contains(&Dimension::Ratio) && BARE_GRAVITY.contains(&thousandth) {
        Some(format!("did you mean `{thousandth:.3}`?"))
    } else {
        Some(format!("write `{}`", examples(text, allowed)))
    };
    let error = unfitting(allowed, whole);
    Err(match help {
        Some(help) => error.with_help(help),
        None => error,
    })
}

/// The unit of a number that stands alone, where there is one that needs no name.
fn bare_unit(number: Marked, allowed: &[Dimension]) -> Option<Unit> {
    match allowed {
        [Dimension::Ph] => Some(Unit::PhValue),
        [Dimension::Ratio] => Some(Unit::SpecificGravity),
        _ => (allowed.contains(&Dimension::Ratio) && BARE_GRAVITY.contains(&number.middle()))
            .then_some(Unit::SpecificGravity),
    }
}

/// The refusal of a text that is no quantity of these dimensions.
pub(crate) fn unfitting(allowed: &[Dimension], found: &str) -> Error {
    let expected = expected(allowed);
    Error::new(
        ErrorKind::NotAQuantity,
        format!("expected {expected}, found `{found}`"),
    )
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(is_space).filter(|word| !word.is_empty())
}

/// The text behind its first word and the space after that.
fn after_word(text: &str) -> &str {
    let end = text.find(is_space).unwrap_or(text.len());
    text.get(end..).unwrap_or("").trim_start_matches(is_space)
}

/// Whether a smaller unit of the same kind and practice continues a quantity.
fn continues(unit: Unit, smaller: Unit) -> bool {
    // Pounds are the same in both customary practices, gallons are not.
    let of_both =
        |unit: Unit| unit.dimension() == Dimension::Mass && unit.system() != UnitSystem::Metric;
    matches!(
        unit.dimension(),
        Dimension::Mass | Dimension::Volume | Dimension::Time
    ) && unit.dimension() == smaller.dimension()
        && (unit.system() == smaller.system() || of_both(unit) && of_both(smaller))
        && smaller.to_base(1.0) < unit.to_base(1.0)
}

/// The number as it is printed: below 1e-15 it is zero, since more digits than that are not read back.
fn legible(number: f64) -> f64 {
    if number.abs() < 1e-15 { 0.0 } else { number }
}

impl fmt::Display for AsWritten {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.about {
            f.write_str("~")?;
        }
        let last = match self.range {
            Some((low, high)) => {
                show(f, legible(low), "")?;
                f.write_str("-")?;
                high
            }
            None => self.number,
        };
        // A specific gravity carries its name where the bare number would not be taken for it.
        let is_gravity = self.unit == Unit::SpecificGravity;
        let symbol = if is_gravity && !BARE_GRAVITY.contains(&self.number) {
            "SG"
        } else {
            self.unit.symbol()
        };
        show(f, legible(last), symbol)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MASS: &[Dimension] = &[Dimension::Mass];
    const GRAVITY: &[Dimension] = &[Dimension::Gravity, Dimension::Ratio];

    fn check(text: &str, allowed: &[Dimension], number: f64, unit: Unit) {
        let read = AsWritten::read(text, allowed).unwrap();
        assert!((read.number - number).abs() < 1e-12, "{text}: {read:?}");
        assert_eq!(read.unit, unit, "{text}");
    }

    fn refused(text: &str, allowed: &[Dimension], message: &str, help: Option<&str>) {
        let error = AsWritten::read(text, allowed).unwrap_err();
        assert_eq!(error.message(), message, "{text}");
        assert_eq!(error.help(), help, "{text}");
    }

    #[test]
    fn a_number_and_its_unit_are_read_as_in_the_notation() {
        check("4 gal", &[Dimension::Volume], 4.0, Unit::Gallon);
        check(" 5.5EBC ", &[Dimension::Colour], 5.5, Unit::Ebc);
        check("70%", &[Dimension::Percent], 70.0, Unit::Percent);
        check("1 1/2 tsp", &[Dimension::Volume], 1.5, Unit::Teaspoon);
        check(
            "3 imp fl oz",
            &[Dimension::Volume],
            3.0,
            Unit::ImperialFluidOunce,
        );
        check(
            "2 litres per hour",
            &[Dimension::VolumePerTime],
            2.0,
            Unit::LitrePerHour,
        );
        check("-2 C", &[Dimension::Temperature], -2.0, Unit::Celsius);
        check("2 lb 4 oz", MASS, 2.25, Unit::Pound);
        check("2lb 4oz", MASS, 2.25, Unit::Pound);
        check("1 h 30 min 36 s", &[Dimension::Time], 1.51, Unit::Hour);
        check("15.6 P", GRAVITY, 15.6, Unit::Plato);
        check("1.050", GRAVITY, 1.05, Unit::SpecificGravity);
        check("0.95 SG", GRAVITY, 0.95, Unit::SpecificGravity);
        check("pH 5.4", &[Dimension::Ph], 5.4, Unit::PhValue);
        check("5.4", &[Dimension::Ph], 5.4, Unit::PhValue);
        let range = AsWritten::read("~8-10 kg", MASS).unwrap();
        assert_eq!((range.range, range.about), (Some((8.0, 10.0)), true));
    }

    #[test]
    fn what_is_refused_is_told_with_the_units_that_fit() {
        const A_MASS: &str = "expected a mass (`kg`, `g`, `lb` or `oz`), found";
        refused("", MASS, &format!("{A_MASS} ``"), None);
        refused("malt", MASS, &format!("{A_MASS} `malt`"), None);
        refused("5", MASS, &format!("{A_MASS} `5`"), Some("write `5 kg`"));
        refused("5 L", MASS, &format!("{A_MASS} `5 L`"), None);
        refused("5 kg malt", MASS, &format!("{A_MASS} `5 kg malt`"), None);
        refused(
            "5 kilogrm",
            MASS,
            &format!("{A_MASS} `5 kilogrm`"),
            Some("did you mean `5 kilogram`?"),
        );
        // Four ounces and two pounds are two quantities.
        refused("4 oz 2 lb", MASS, &format!("{A_MASS} `4 oz 2 lb`"), None);
        refused(
            "8-9 lb 4 oz",
            MASS,
            &format!("{A_MASS} `8-9 lb 4 oz`"),
            None,
        );
        refused(
            "4,5 kg",
            MASS,
            "expected a number with at most one decimal point, found `4,5`",
            Some("write `4.5` for a decimal, or `4, 5` for two figures"),
        );
        refused(
            "1069",
            GRAVITY,
            "expected a gravity (`P`, or a specific gravity such as `1.050`), found `1069`",
            Some("did you mean `1.069`?"),
        );
    }

    #[test]
    fn what_is_printed_is_read_back() {
        for (text, allowed) in [
            ("~8-10.5 kg", MASS),
            ("0.3 kg", MASS),
            ("1.05", GRAVITY),
            ("0.97 SG", GRAVITY),
            ("12 P", GRAVITY),
        ] {
            assert_eq!(AsWritten::read(text, allowed).unwrap().to_string(), text);
        }
        let third = AsWritten::plain(0.1 + 0.2, Unit::Kilogram);
        assert_eq!(third.to_string(), "0.3 kg");
        assert_eq!(format!("{third:.2}"), "0.30 kg");
        for number in [5e-324, 1.234_567_890_123e-15, 1e9] {
            let text = AsWritten::plain(number, Unit::Kilogram).to_string();
            let read = AsWritten::read(&text, MASS).unwrap().number;
            assert!((read - number).abs() < 1e-15, "{text}");
        }
    }
}
