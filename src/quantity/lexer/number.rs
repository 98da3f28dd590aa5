//! Numbers as people write them: decimals, ranges, fractions, `~`.
//!
//! nom's own `double` would take `nan`, `inf` and `1e5`, read `4,5` as 4 and give up on `5EBC`; none of that fits a recipe.

use crate::quantity::Unit;
use crate::quantity::json::EXACT_POWERS;
use nom::branch::alt;
use nom::bytes::complete::tag;
use nom::character::complete::{char, digit1, satisfy};
use nom::combinator::{opt, recognize, verify};
use nom::multi::many1_count;
use nom::{IResult, Parser};
use serde::{Deserialize, Serialize};

/// What a comma between two digits means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum DecimalComma {
    /// It is ambiguous and refused.
    #[default]
    Refused,
    /// It is the decimal sign.
    Accepted,
}

/// More digits than this cannot be weighed by anyone and are refused.
const MOST_DIGITS: usize = 30;

/// Fifteen digits are exact in a binary fraction, and so is a power of ten up to the 22nd, hence also their quotient is the
/// nearest one (Clinger 1990).
const EXACT_DIGITS: usize = 15;

/// A number as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number<'a> {
    pub(crate) text: &'a str,
    pub(crate) form: Form,
}

/// How the text of a number is to be taken. Its value is read from the text when it is asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Form {
    /// Few digits and a point at most, as nearly all numbers are.
    Plain,
    /// More digits, no digit before the point, a decimal comma, a sign, a fraction, a range, a `~`.
    Composed,
    /// Commas or spaces between digits.
    Ambiguous,
    /// More digits than are read.
    TooLong,
    /// A range whose end is below its start.
    Backwards,
}

/// What the text of a number says, or why it says nothing.
type Meaning = Result<Marked, Form>;

/// A value with its end, if it is a range, and whether `~` stands before it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Marked {
    pub(crate) low: f64,
    pub(crate) high: Option<f64>,
    pub(crate) about: bool,
}

impl<'a> Number<'a> {
    /// The text as written, such as `~8-10`.
    pub const fn text(self) -> &'a str {
        self.text
    }

    /// The value, of a range its middle; absent when the text can be read in two ways.
    pub fn value(self) -> Option<f64> {
        self.marked().map(Marked::middle)
    }

    /// The value with its marks, unless the text can be read in two ways.
    pub(crate) fn marked(self) -> Option<Marked> {
        match self.form {
            Form::Plain => plain_value(self.text).map(Marked::plain),
            Form::Composed => {
                // A comma is ambiguous unless the host has it taken for a decimal sign.
                let read =
                    mixed_fraction(self.text).or_else(|_| core(self.text, DecimalComma::Accepted));
                read.ok()?.1.ok()
            }
            Form::Ambiguous | Form::TooLong | Form::Backwards => None,
        }
    }

    /// Why it is no value, and what to write.
    pub(crate) fn fault(self) -> Option<(String, String)> {
        let text = self.text;
        Some(match self.form {
            Form::Plain | Form::Composed => return None,
            Form::Ambiguous => (
                format!("expected a number with at most one decimal point, found `{text}`"),
                readings(text),
            ),
            Form::TooLong => (
                "expected a number of at most 30 digits".to_owned(),
                "write at most 30 digits".to_owned(),
            ),
            Form::Backwards => (
                format!("expected a range from low to high, found `{text}`"),
                "write the smaller number first".to_owned(),
            ),
        })
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
    pub(crate) fn middle(self) -> f64 {
        self.high
            .map_or(self.low, |high| f64::midpoint(self.low, high))
    }

    /// The two ends of a range.
    pub(crate) fn range(self) -> Option<(f64, f64)> {
        self.high.map(|high| (self.low, high))
    }
}

/// How many bytes the commonest number takes, `12.5` with a space or nothing behind it that could belong to it; the rest is
/// for [`number`].
pub(crate) fn plain_number(input: &str) -> Option<usize> {
    let length = plain_length(input)?;
    match input.as_bytes().get(length..)? {
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
    Some(length)
}

/// How many bytes of the text are digits with a point among them, if they are few.
fn plain_length(text: &str) -> Option<usize> {
    let bytes = text.as_bytes();
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
    (whole > 0 && whole + decimals <= EXACT_DIGITS).then_some(length)
}

/// The value of digits with a point among them.
fn plain_value(text: &str) -> Option<f64> {
    let (mut value, mut decimals) = (0_u64, None);
    for byte in text.bytes() {
        if byte == b'.' {
            decimals = Some(0);
        } else {
            value = value * 10 + u64::from(byte - b'0');
            decimals = decimals.map(|count: usize| count + 1);
        }
    }
    Some(value as f64 / EXACT_POWERS.get(decimals.unwrap_or(0))?)
}

/// How many bytes a number at the start of `input` takes; `fits` says whether what follows it may follow a number. Without
/// a number there the input is a word or something else.
pub(crate) fn number(
    input: &str,
    comma: DecimalComma,
    fits: impl Fn(&str) -> bool,
) -> Option<(usize, Form)> {
    let (rest, meaning) = match core(input, comma) {
        Ok((rest, meaning)) if fits(rest) => (rest, meaning),
        // `4,5th` is a figure, a comma and a word, whatever a comma between digits means.
        _ => match plain(input) {
            Ok((rest, meaning)) if fits(rest) => (rest, meaning),
            _ => return None,
        },
    };
    let (rest, meaning) = if let Ok((after, meaning)) = mixed_fraction(input)
        && fits(after)
    {
        (after, meaning)
    } else if let Ok((after, _)) = grouped(input)
        && fits(after)
    {
        (after, Err(Form::Ambiguous))
    } else {
        (rest, meaning)
    };
    let length = input.len() - rest.len();
    let form = match meaning {
        Ok(_) if plain_length(input.get(..length)?) == Some(length) => Form::Plain,
        Ok(_) => Form::Composed,
        Err(form) => form,
    };
    Some((length, form))
}

/// What separates words. A byte-order mark inside a text comes from joined files and means nothing.
pub(crate) fn is_space(c: char) -> bool {
    c.is_whitespace() || c == '\u{feff}'
}

/// Whether the text can directly follow a number: a space, a comma, a unit, or the `x` of `2x700 mL`.
pub(crate) fn may_follow_number(after: &str) -> bool {
    let glued = after
        .split(|c| is_space(c) || c == ',')
        .next()
        .unwrap_or("");
    glued.is_empty()
        || glued.starts_with('%')
        || glued
            .strip_prefix('x')
            .is_some_and(|more| more.starts_with(|c: char| c.is_ascii_digit()))
        || Unit::begins(glued)
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
fn fraction(input: &str) -> IResult<&str, Meaning> {
    verify(
        (digit1, char('/'), digit1).map(|(over, _, under)| quotient(0.0, over, under)),
        is_defined,
    )
    .parse(input)
}

/// `1 1/2`
fn mixed_fraction(input: &str) -> IResult<&str, Meaning> {
    let (rest, (about, whole, _, over, _, under)) =
        (opt(char('~')), digit1, spaces, digit1, char('/'), digit1).parse(input)?;
    let meaning = match read(whole) {
        Some(whole) => quotient(whole, over, under),
        None => Err(Form::TooLong),
    };
    if is_defined(&meaning) {
        Ok((rest, with_mark(meaning, about)))
    } else {
        Err(nom::Err::Error(nom::error::Error::new(
            input,
            nom::error::ErrorKind::Digit,
        )))
    }
}

/// Whether a fraction has a value: `1/0` has none.
fn is_defined(meaning: &Meaning) -> bool {
    meaning.is_err() || meaning.is_ok_and(|marked| marked.low.is_finite())
}

fn with_mark(meaning: Meaning, about: Option<char>) -> Meaning {
    meaning.map(|marked| Marked {
        about: about.is_some(),
        ..marked
    })
}

fn quotient(whole: f64, over: &str, under: &str) -> Meaning {
    match (read(over), read(under)) {
        (Some(over), Some(under)) => Ok(Marked::plain(whole + over / under)),
        _ => Err(Form::TooLong),
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
fn plain(input: &str) -> IResult<&str, Meaning> {
    let (rest, (about, minus, low, high)) = (
        opt(char('~')),
        opt(dash),
        decimal,
        opt((dash, opt(dash), decimal).map(|(_, minus, high)| (minus, high))),
    )
        .parse(input)?;
    Ok((rest, value(about, (minus, low), high)))
}

/// A number as its sign and its digits.
type Signed<'a> = (Option<&'a str>, &'a str);

fn signed((minus, digits): Signed<'_>) -> Result<f64, Form> {
    let size = read(digits).ok_or(Form::TooLong)?;
    Ok(if minus.is_some() { -size } else { size })
}

fn value(about: Option<char>, low: Signed<'_>, high: Option<Signed<'_>>) -> Meaning {
    let low = signed(low)?;
    let high = high.map(signed).transpose()?;
    if high.is_some_and(|high| high < low) {
        return Err(Form::Backwards);
    }
    Ok(Marked {
        low,
        high,
        about: about.is_some(),
    })
}

/// One number without spaces in it.
fn core(input: &str, comma: DecimalComma) -> IResult<&str, Meaning> {
    if let (DecimalComma::Accepted, Ok(read)) = (comma, with_decimal_comma(input)) {
        return Ok(read);
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
        return Ok((rest, Err(Form::Ambiguous)));
    }
    if let Ok((rest, (about, meaning))) = (opt(char('~')), fraction).parse(input) {
        return Ok((rest, with_mark(meaning, about)));
    }
    plain(input)
}

/// One number whose writer uses the comma as decimal sign.
fn with_decimal_comma(input: &str) -> IResult<&str, Meaning> {
    let side = |input| {
        recognize((digit1, char(','), digit1))
            .or(decimal)
            .parse(input)
    };
    let (rest, (about, minus, low, high)) = (
        opt(char('~')),
        opt(dash),
        side,
        opt((dash, opt(dash), side).map(|(_, minus, high)| (minus, high))),
    )
        .parse(input)?;
    if !low.contains(',') && !high.is_some_and(|(_, high)| high.contains(',')) {
        return Err(nom::Err::Error(nom::error::Error::new(
            input,
            nom::error::ErrorKind::Char,
        )));
    }
    let low = low.replace(',', ".");
    let high = high.map(|(minus, high)| (minus, high.replace(',', ".")));
    let high = high.as_ref().map(|(minus, high)| (*minus, high.as_str()));
    Ok((rest, value(about, (minus, &low), high)))
}

fn read(digits: &str) -> Option<f64> {
    (digits.len() <= MOST_DIGITS)
        .then(|| digits.parse().ok())
        .flatten()
        .filter(|value: &f64| value.is_finite())
}

/// Both readings of a number that can be read in two ways.
fn readings(text: &str) -> String {
    let bare = text.trim_start_matches('~');
    if text.contains(' ') {
        let joined: String = text.split(' ').collect();
        return match bare.split_once(' ') {
            Some((one, rest)) if !rest.contains(' ') && (one == "1" || rest == "000") => format!(
                "write `{joined}` for one number, or a comma between `{one}` and `{rest}` for two"
            ),
            Some((count, size)) if !size.contains(' ') => format!(
                "write `{joined}` for one number, or `{count} x {size}` with the unit for {count} packs"
            ),
            _ => format!("write `{joined}` for one number"),
        };
    }
    let groups: Vec<&str> = bare.split(',').collect();
    let thousands = groups
        .iter()
        .skip(1)
        .all(|group| group.len() == 3 || group.contains('.'));
    let joined: String = groups.concat();
    match groups.as_slice() {
        [whole, part] if thousands => {
            format!("write `{joined}` for thousands, or `{whole}.{part}` for a decimal")
        }
        [whole, part] => {
            format!("write `{whole}.{part}` for a decimal, or `{whole}, {part}` for two figures")
        }
        _ => format!("write `{joined}` for one number, or a space after each comma for several"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Text and value of a number, the latter read from the text alone.
    fn read_back(input: &str, comma: DecimalComma) -> (String, Option<Marked>) {
        let (length, form) = number(input, comma, |_| true).unwrap();
        let text = &input[..length];
        (text.to_owned(), Number { text, form }.marked())
    }

    fn check(input: &str, text: &str, low: f64, high: Option<f64>, about: bool) {
        let marked = Marked { low, high, about };
        let expected = (text.to_owned(), Some(marked));
        assert_eq!(read_back(input, DecimalComma::Refused), expected, "{input}");
        if let Some(length) = plain_number(input) {
            let text = &input[..length];
            let form = Form::Plain;
            assert_eq!(Number { text, form }.marked(), Some(marked), "{input}");
        }
    }

    fn refused(input: &str, expected: Form) {
        let (length, form) = number(input, DecimalComma::Refused, |_| true).unwrap();
        let text = &input[..length];
        assert_eq!(form, expected, "{input}");
        assert_eq!(Number { text, form }.value(), None, "{input}");
    }

    #[test]
    fn decimals_ranges_fractions_and_signs() {
        check("-2--1 C", "-2--1", -2.0, Some(-1.0), false);
        check("−3–−1.5 C", "−3–−1.5", -3.0, Some(-1.5), false);
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
        check("~1  3/4 tsp", "~1  3/4", 1.75, None, true);
        check("5e3", "5", 5.0, None, false);
        check("2 50 g", "2", 2.0, None, false);
    }

    #[test]
    fn what_can_be_read_two_ways_is_no_value() {
        refused("4,5 kg", Form::Ambiguous);
        refused("1,000 g", Form::Ambiguous);
        refused("1 000 g", Form::Ambiguous);
        refused("12 000 000 g", Form::Ambiguous);
        refused("10-8 g", Form::Backwards);
        refused(&"9".repeat(40), Form::TooLong);
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
        let value = |input| {
            let (_, marked) = read_back(input, DecimalComma::Accepted);
            marked.map(Marked::middle)
        };
        assert_eq!(value("4,5 kg"), Some(4.5));
        assert_eq!(value("1,5-2,5 kg"), Some(2.0));
        assert_eq!(value("~1,5-2 kg"), Some(1.75));
        assert_eq!(value("1 1/2 kg"), Some(1.5));
    }
}
