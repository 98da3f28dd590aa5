//! Numbers as people write them: decimals, ranges, fractions, `~`.
//!
//! nom's own `double` would take `nan`, `inf` and `1e5`, read `4,5` as 4 and give up on `5EBC`; none of that fits a recipe.

use super::DecimalComma;
use super::lex::is_space;
use crate::quantity::json::EXACT_POWERS;
use nom::branch::alt;
use nom::bytes::complete::tag;
use nom::character::complete::{char, digit1, satisfy};
use nom::combinator::{opt, recognize, verify};
use nom::multi::many1_count;
use nom::{IResult, Parser};
use std::borrow::Cow;

/// More digits than this cannot be weighed by anyone and are refused.
const MOST_DIGITS: usize = 30;

/// A number with its text as written.
#[derive(Debug, Clone, PartialEq)]
pub struct Number<'a> {
    pub(super) text: Cow<'a, str>,
    pub(super) form: Form,
}

/// What a number's text means. Nearly all are plain values, so the tree keeps the rest apart.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Form {
    /// A value.
    Value(f64),
    /// A range of values, or one with `~`.
    Marked(Box<Marked>),
    /// Commas or spaces between digits.
    Ambiguous,
    /// More digits than are read.
    TooLong,
    /// A range whose end is below its start.
    Backwards,
}

/// A value with its end, if it is a range, and whether `~` stands before it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Marked {
    pub(super) low: f64,
    pub(super) high: Option<f64>,
    pub(super) about: bool,
}

impl Number<'_> {
    /// The text as written, such as `~8-10`.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The value, of a range its middle; absent when the text can be read in two ways.
    pub fn value(&self) -> Option<f64> {
        self.marked().map(Marked::middle)
    }

    /// The value with its marks, unless the text can be read in two ways.
    pub(super) fn marked(&self) -> Option<Marked> {
        match &self.form {
            Form::Value(value) => Some(Marked::plain(*value)),
            Form::Marked(marked) => Some(**marked),
            Form::Ambiguous | Form::TooLong | Form::Backwards => None,
        }
    }

    pub(super) fn into_owned(self) -> Number<'static> {
        Number {
            text: Cow::Owned(self.text.into_owned()),
            form: self.form,
        }
    }
}

impl Marked {
    const fn plain(low: f64) -> Self {
        Self {
            low,
            high: None,
            about: false,
        }
    }

    /// The value, of a range its middle.
    pub(super) fn middle(self) -> f64 {
        self.high
            .map_or(self.low, |high| f64::midpoint(self.low, high))
    }

    /// The two ends of a range.
    pub(super) fn range(self) -> Option<(f64, f64)> {
        self.high.map(|high| (self.low, high))
    }
}

impl Form {
    fn about(self, about: Option<char>) -> Self {
        match (self, about) {
            (Self::Value(low), Some(_)) => Self::Marked(Box::new(Marked {
                about: true,
                ..Marked::plain(low)
            })),
            (form, _) => form,
        }
    }
}

/// The commonest number, `12.5` with a space or nothing behind it that could belong to it; the rest is for [`number`].
pub(super) fn plain_number(input: &str) -> Option<(&str, Number<'_>)> {
    /// Fifteen digits are exact in a binary fraction, and so is a power of ten up to the 22nd, hence also their
    /// quotient is the nearest one (Clinger 1990).
    const EXACT_DIGITS: usize = 15;
    let bytes = input.as_bytes();
    let digits = |from: usize| {
        let rest = bytes.get(from..).unwrap_or(&[]);
        rest.iter().take_while(|byte| byte.is_ascii_digit()).count()
    };
    let whole = digits(0);
    let decimals = match bytes.get(whole) {
        Some(b'.') => digits(whole + 1),
        _ => 0,
    };
    let length = if decimals > 0 {
        whole + 1 + decimals
    } else {
        whole
    };
    if whole == 0 || whole + decimals > EXACT_DIGITS {
        return None;
    }
    match bytes.get(length..)? {
        [] | [b'%', ..] => {}
        // `1 000` and `1 1/2` are for the other reader, and so is a space that is no blank.
        [b' ' | b',', next, ..] if next.is_ascii_graphic() && !next.is_ascii_digit() => {}
        [b' ', rest @ ..] => {
            let next = rest.iter().find(|byte| **byte != b' ')?;
            if !next.is_ascii_graphic() || next.is_ascii_digit() {
                return None;
            }
        }
        _ => return None,
    }
    let (text, after) = input.split_at(length);
    let mut value = 0_u64;
    for byte in text.bytes().filter(u8::is_ascii_digit) {
        value = value * 10 + u64::from(byte - b'0');
    }
    let form = Form::Value(value as f64 / EXACT_POWERS.get(decimals)?);
    let text = Cow::Borrowed(text);
    Some((after, Number { text, form }))
}

/// Reads a number at the start of `input`; `fits` says whether what follows it may follow a number. Without a number
/// there the input is a word or something else.
pub(super) fn number<'a>(
    input: &'a str,
    comma: DecimalComma,
    fits: impl Fn(&str) -> bool,
) -> Option<(&'a str, Number<'a>)> {
    let (rest, form) = match core(input, comma) {
        Ok((rest, form)) if fits(rest) => (rest, form),
        // `4,5th` is a figure, a comma and a word.
        Ok((_, Form::Ambiguous)) => match plain(input) {
            Ok((rest, form)) if fits(rest) => (rest, form),
            _ => return None,
        },
        _ => return None,
    };
    let spaced = |rest: &'a str, form| {
        let text = input.get(..input.len() - rest.len()).unwrap_or(input);
        let text = if text.contains(is_space) {
            Cow::Owned(
                text.split(is_space)
                    .filter(|part| !part.is_empty())
                    .collect::<Vec<_>>()
                    .join(" "),
            )
        } else {
            Cow::Borrowed(text)
        };
        Some((rest, Number { text, form }))
    };
    if let Ok((after, form)) = mixed_fraction(input)
        && fits(after)
    {
        return spaced(after, form);
    }
    if let Ok((after, _)) = grouped(input)
        && fits(after)
    {
        return spaced(after, Form::Ambiguous);
    }
    spaced(rest, form)
}

fn spaces(input: &str) -> IResult<&str, usize> {
    many1_count(satisfy(is_space)).parse(input)
}

fn dash(input: &str) -> IResult<&str, &str> {
    alt((tag("-"), tag("–"), tag("−"))).parse(input)
}

/// `12`, `12.5`, `.5`
fn decimal(input: &str) -> IResult<&str, &str> {
    alt((
        recognize((digit1, opt((char('.'), digit1)))),
        recognize((char('.'), digit1)),
    ))
    .parse(input)
}

/// `4,5` or `1,000,000` or `1,234.5`
fn with_commas(input: &str) -> IResult<&str, &str> {
    recognize((
        digit1,
        many1_count((char(','), digit1)),
        opt((char('.'), digit1)),
    ))
    .parse(input)
}

/// `1/2`
fn fraction(input: &str) -> IResult<&str, Form> {
    verify(
        (digit1, char('/'), digit1).map(|(over, _, under)| quotient(0.0, over, under)),
        |form| !matches!(form, Form::Value(value) if !value.is_finite()),
    )
    .parse(input)
}

/// `1 1/2`
fn mixed_fraction(input: &str) -> IResult<&str, Form> {
    let (rest, (about, whole, _, over, _, under)) =
        (opt(char('~')), digit1, spaces, digit1, char('/'), digit1).parse(input)?;
    let form = match read(whole) {
        Some(whole) => quotient(whole, over, under),
        None => Form::TooLong,
    };
    match form {
        Form::Value(value) if !value.is_finite() => Err(nom::Err::Error(nom::error::Error::new(
            input,
            nom::error::ErrorKind::Digit,
        ))),
        form => Ok((rest, form.about(about))),
    }
}

fn quotient(whole: f64, over: &str, under: &str) -> Form {
    match (read(over), read(under)) {
        (Some(over), Some(under)) => Form::Value(whole + over / under),
        _ => Form::TooLong,
    }
}

/// `1 000` and `12 000 000`: could be thousands, could be two figures.
fn grouped(input: &str) -> IResult<&str, &str> {
    let group = |input| {
        let (rest, (_, digits)) = (spaces, digit1).parse(input)?;
        if digits.len() == 3 {
            Ok((rest, digits))
        } else {
            Err(nom::Err::Error(nom::error::Error::new(
                input,
                nom::error::ErrorKind::Digit,
            )))
        }
    };
    recognize((
        opt(char('~')),
        verify(digit1, |digits: &str| digits.len() <= 3),
        many1_count(group),
        opt((char('.'), digit1)),
    ))
    .parse(input)
}

/// One number without spaces in it and without commas.
fn plain(input: &str) -> IResult<&str, Form> {
    let (rest, (about, minus, low, high)) = (
        opt(char('~')),
        opt(dash),
        decimal,
        opt((dash, decimal).map(|(_, high)| high)),
    )
        .parse(input)?;
    Ok((rest, value(about, minus, low, high)))
}

fn value(about: Option<char>, minus: Option<&str>, low: &str, high: Option<&str>) -> Form {
    let sign = if minus.is_some() { -1.0 } else { 1.0 };
    let Some(low) = read(low).map(|low| sign * low) else {
        return Form::TooLong;
    };
    let high = match high.map(read) {
        None => None,
        Some(Some(high)) if high >= low => Some(high),
        Some(Some(_)) => return Form::Backwards,
        Some(None) => return Form::TooLong,
    };
    match high {
        None => Form::Value(low).about(about),
        Some(_) => Form::Marked(Box::new(Marked {
            low,
            high,
            about: about.is_some(),
        })),
    }
}

/// One number without spaces in it.
fn core(input: &str, comma: DecimalComma) -> IResult<&str, Form> {
    if let (DecimalComma::Accepted, Ok((rest, form))) = (comma, with_decimal_comma(input)) {
        return Ok((rest, form));
    }
    let side = |input| alt((with_commas, decimal)).parse(input);
    let commas = (
        opt(char('~')),
        opt(dash),
        side,
        opt((dash, side).map(|(_, s)| s)),
    )
        .parse(input)
        .ok()
        .filter(|(_, (_, _, low, high))| {
            low.contains(',') || high.is_some_and(|high| high.contains(','))
        });
    if let Some((rest, _)) = commas {
        return Ok((rest, Form::Ambiguous));
    }
    if let Ok((rest, (about, form))) = (opt(char('~')), fraction).parse(input) {
        return Ok((rest, form.about(about)));
    }
    plain(input)
}

/// One number whose writer uses the comma as decimal sign.
fn with_decimal_comma(input: &str) -> IResult<&str, Form> {
    let side = |input| {
        recognize((digit1, char(','), digit1))
            .or(decimal)
            .parse(input)
    };
    let (rest, (about, minus, low, high)) = (
        opt(char('~')),
        opt(dash),
        side,
        opt((dash, side).map(|(_, high)| high)),
    )
        .parse(input)?;
    if !low.contains(',') && !high.is_some_and(|high| high.contains(',')) {
        return Err(nom::Err::Error(nom::error::Error::new(
            input,
            nom::error::ErrorKind::Char,
        )));
    }
    let low = low.replace(',', ".");
    let high = high.map(|high| high.replace(',', "."));
    Ok((rest, value(about, minus, &low, high.as_deref())))
}

fn read(digits: &str) -> Option<f64> {
    (digits.len() <= MOST_DIGITS)
        .then(|| digits.parse().ok())
        .flatten()
        .filter(|value: &f64| value.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(input: &str, text: &str, low: f64, high: Option<f64>, about: bool) {
        let (_, number) = number(input, DecimalComma::Refused, |_| true).unwrap();
        assert_eq!(number.text, text, "{input}");
        let marked = Marked { low, high, about };
        assert_eq!(number.marked(), Some(marked), "{input}");
    }

    fn refused(input: &str, form: &Form) {
        let (_, number) = number(input, DecimalComma::Refused, |_| true).unwrap();
        assert_eq!(&number.form, form, "{input}");
    }

    #[test]
    fn decimals_ranges_fractions_and_signs() {
        check("70 %", "70", 70.0, None, false);
        check("5.5EBC", "5.5", 5.5, None, false);
        check(".5 g", ".5", 0.5, None, false);
        check("8-10 %", "8-10", 8.0, Some(10.0), false);
        check("8–10 %", "8–10", 8.0, Some(10.0), false);
        check("8−10.5 %", "8−10.5", 8.0, Some(10.5), false);
        check("-2 C", "-2", -2.0, None, false);
        check("−2 C", "−2", -2.0, None, false);
        check("~40 g", "~40", 40.0, None, true);
        check("1/2 tsp", "1/2", 0.5, None, false);
        check("1 1/2 tsp", "1 1/2", 1.5, None, false);
        check("~1  3/4 tsp", "~1 3/4", 1.75, None, true);
        check("5e3", "5", 5.0, None, false);
        check("2 50 g", "2", 2.0, None, false);
    }

    #[test]
    fn what_can_be_read_two_ways_is_no_value() {
        refused("4,5 kg", &Form::Ambiguous);
        refused("1,000 g", &Form::Ambiguous);
        refused("1 000 g", &Form::Ambiguous);
        refused("12 000 000 g", &Form::Ambiguous);
        refused("10-8 g", &Form::Backwards);
        refused(&"9".repeat(40), &Form::TooLong);
    }

    #[test]
    fn words_are_not_numbers() {
        for word in ["nan", "inf", "-", "~", "e5", "-x", ".", "1/0"] {
            let found = number(word, DecimalComma::Refused, str::is_empty);
            assert!(found.is_none(), "{word}: {found:?}");
        }
    }

    #[test]
    fn a_decimal_comma_is_read_where_the_host_allows_it() {
        let (_, n) = number("4,5 kg", DecimalComma::Accepted, |_| true).unwrap();
        assert_eq!(n.value(), Some(4.5));
        let (_, n) = number("1,5-2,5 kg", DecimalComma::Accepted, |_| true).unwrap();
        assert_eq!(n.value(), Some(2.0));
    }
}
