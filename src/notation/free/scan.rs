//! A line as typed → its quantities, words and marks.

use super::bit::{Bit, What};
use super::figures::join;
use super::jotted_unit::{spelt, words};
use super::rates::rates;
use crate::diagnostic::{Code, Span};
use crate::notation::cursor::ANY;
use crate::notation::tree::{Class, Token};
use crate::quantity::lexer::{self, AsWritten, BARE_GRAVITY, Form, Marked, is_space};
use crate::quantity::{DecimalComma, Dimension, Number, Unit};

/// The text of a run of tokens, and where each stretch of it stood.
struct Raw {
    text: String,
    /// The start of each token in the text, its place, and whether it stands in the text as it was typed, byte for byte.
    places: Vec<(usize, Span, bool)>,
}

impl Raw {
    fn of(tokens: &[Token<'_>]) -> Self {
        let mut raw = Self {
            text: String::new(),
            places: Vec::with_capacity(tokens.len()),
        };
        for token in tokens {
            let span = token.span();
            // As the printer sets them: what is read may not depend on how wide a gap was typed.
            if !raw.text.is_empty() {
                raw.text.push(' ');
            }
            let from = raw.text.len();
            for c in token.text().chars() {
                raw.push(c);
            }
            let is_as_typed = raw.text.get(from..) == Some(token.text());
            raw.places.push((from, span, is_as_typed));
        }
        raw
    }

    /// Appends a character, a vulgar fraction as digits.
    fn push(&mut self, c: char) {
        let fraction = match c {
            '½' => "1/2",
            '¼' => "1/4",
            '¾' => "3/4",
            '⅓' => "1/3",
            '⅔' => "2/3",
            '⅛' => "1/8",
            '’' => "'",
            _ => {
                self.text.push(c);
                return;
            }
        };
        if fraction != "'" && self.text.ends_with(|before: char| before.is_ascii_digit()) {
            self.text.push(' ');
        }
        self.text.push_str(fraction);
    }

    fn span(&self, start: usize, end: usize) -> Span {
        let at = self.places.partition_point(|(from, ..)| *from <= start);
        let to = self.places.partition_point(|(from, ..)| *from < end);
        let first = at.checked_sub(1).and_then(|at| self.places.get(at));
        let last = to.checked_sub(1).and_then(|to| self.places.get(to));
        let (Some((from, first, is_first_typed)), Some((until, last, is_last_typed))) =
            (first, last)
        else {
            return Span::default();
        };
        // A token that was spelt out has no places inside.
        let within = |from: usize, span: &Span, at: usize| {
            let next = span.start + (at - from) as u32;
            next.min(span.end)
        };
        let opens = if *is_first_typed {
            within(*from, first, start)
        } else {
            first.start
        };
        let closes = if *is_last_typed {
            within(*until, last, end)
        } else {
            last.end
        };
        Span::new(first.text, opens, closes.max(opens))
    }
}

/// The pieces of a run of tokens.
pub(super) fn scan(tokens: &[Token<'_>]) -> Vec<Bit> {
    scan_behind(tokens, 0)
}

/// The text of the tokens up to the first quotation.
pub(super) fn opening_text(tokens: &[Token<'_>]) -> String {
    let run = tokens.split(Token::is_quoted).next().unwrap_or(&[]);
    Raw::of(run).text
}

/// The pieces behind so many bytes of the opening text.
pub(super) fn scan_behind(tokens: &[Token<'_>], length: usize) -> Vec<Bit> {
    let mut bits = Vec::new();
    let mut at = length;
    for run in tokens.split_inclusive(Token::is_quoted) {
        let (run, quoted) = match run.split_last() {
            Some((last, rest)) if last.class == Class::Quoted => (rest, Some(last)),
            _ => (run, None),
        };
        let raw = Raw::of(run);
        let at = std::mem::take(&mut at).min(raw.text.len());
        Scanner { raw: &raw, at }.scan(&mut bits);
        if let Some(quoted) = quoted {
            bits.push(Bit {
                what: What::Quoted(quoted.text().to_owned()),
                span: quoted.span(),
            });
        }
    }
    join(&mut bits);
    rates(&mut bits);
    bits
}

/// The pieces of a run of tokens, of `4 x 40 L` the count and the size each by itself.
pub(super) fn scan_apart(tokens: &[Token<'_>]) -> Vec<Bit> {
    let raw = Raw::of(tokens);
    let mut bits = Vec::new();
    Scanner { raw: &raw, at: 0 }.scan(&mut bits);
    bits
}

/// Whether a text begins with a number and its unit.
pub(super) fn begins_quantity(text: &str) -> bool {
    let raw = Raw {
        text: text.to_owned(),
        places: Vec::new(),
    };
    let mut bits = Vec::new();
    Scanner { raw: &raw, at: 0 }.scan(&mut bits);
    bits.first().is_some_and(|bit| bit.quantity().is_some())
}

struct Scanner<'r> {
    raw: &'r Raw,
    at: usize,
}

impl<'r> Scanner<'r> {
    fn rest(&self) -> &'r str {
        self.raw.text.get(self.at..).unwrap_or("")
    }

    fn scan(mut self, bits: &mut Vec<Bit>) {
        loop {
            let rest = self.rest();
            let trimmed = rest.trim_start_matches(is_space);
            self.at += rest.len() - trimmed.len();
            let Some(first) = trimmed.chars().next() else {
                return;
            };
            let start = self.at;
            let what = if begins_number(trimmed) {
                self.number()
            } else if first.is_alphabetic() || matches!(first, '°' | 'º' | '%' | '#') {
                self.word()
            } else {
                self.at += first.len_utf8();
                What::Mark(match first {
                    '–' | '—' | '−' => '-',
                    '→' => '>',
                    '×' => 'x',
                    other => other,
                })
            };
            let what = match what {
                What::Word(word) if word == "x" => What::Mark('x'),
                what => what,
            };
            bits.push(Bit {
                what,
                span: self.raw.span(start, self.at),
            });
        }
    }

    /// A number and the unit behind it; `2-row` and `7th` are words.
    fn number(&mut self) -> What {
        let rest = self.rest();
        let Some((length, form)) = lexer::number(rest, DecimalComma::Refused, |_| true) else {
            self.at += rest.chars().next().map_or(1, char::len_utf8);
            return What::Mark('~');
        };
        let (text, behind) = rest.split_at(length);
        let glued = word_at(behind);
        let is_ordinal = matches!(glued, "st" | "nd" | "rd" | "th");
        let is_name = behind.strip_prefix('-').is_some_and(|more| {
            more.starts_with(char::is_alphabetic) && lexer::unit(words(more), ANY).is_none()
        });
        if is_ordinal || is_name {
            return self.word();
        }
        self.at += length;
        let number = Number { text, form };
        // `63/40`, `30/15/5`: two figures, where a fraction would be of no use.
        if let Some((over, under)) = text.split_once('/')
            && let (Ok(over), Ok(under)) = (over.parse::<f64>(), under.parse::<f64>())
            && (under >= 2.0 && (over >= 30.0 || over >= under) || behind.starts_with('/'))
        {
            return What::Pair(over, under);
        }
        let thousands = (form == Form::Ambiguous).then(|| thousands(text)).flatten();
        let Some(marked) = number.marked().or(thousands) else {
            return doubtful(number);
        };
        // `90'`: minutes, as they are jotted beside hops.
        let is_minutes = marked.high.is_none() && marked.low <= 240.0 && glued.is_empty();
        let prime = behind.strip_prefix('\'').filter(|_| is_minutes);
        if prime.is_some_and(|more| !more.starts_with(|next: char| next.is_alphanumeric())) {
            self.at += 1;
            return What::Quantity(AsWritten::marked(marked, Unit::Minute));
        }
        let blank = behind.len() - behind.trim_start_matches(is_space).len();
        // `60-minute boil`, `5-gallon pot`.
        let dash = usize::from(behind.starts_with('-') && !is_name && blank == 0);
        let skipped = blank.max(dash);
        let after = behind.get(skipped..).unwrap_or("");
        // Cells per litre without the gravity are no rate that the notation has.
        if begins_with(after, "m cells") || begins_with(after, "million cells") {
            let per_plato = spelt(after, marked);
            if per_plato.is_none() {
                return What::Word("cells".into());
            }
        }
        // `FG 1.024 IBU 50`: the label of the next figure.
        let is_gravity = BARE_GRAVITY.contains(&marked.middle()) && marked.middle().fract() != 0.0;
        let is_label =
            |unit: Unit| matches!(unit, Unit::Ibu | Unit::Ebc | Unit::Srm | Unit::PhValue);
        let found = unit_at(after, marked).filter(|(unit, ..)| !(is_gravity && is_label(*unit)));
        // A thousand with a comma is one of feet or metres; all else is asked.
        if thousands.is_some()
            && found.is_none_or(|(unit, ..)| unit.dimension() != Dimension::Length)
        {
            return doubtful(number);
        }
        if found.is_none() && measures_otherwise(after) {
            let unit = word_at(after);
            self.at += skipped + unit.len();
            return What::Word(format!("{} {}", marked.middle(), unit.to_lowercase()));
        }
        match found {
            Some((unit, length, factor)) => {
                let begins = self
                    .raw
                    .text
                    .get(..self.at - text.len())
                    .is_some_and(|before| before.trim().is_empty());
                self.at += skipped + length;
                // `9 lbs. Munich`: a short form, where no sentence has begun yet.
                let is_amount = matches!(unit.dimension(), Dimension::Mass | Dimension::Volume);
                if begins && is_amount && self.rest().starts_with(". ") {
                    self.at += 1;
                }
                What::Quantity(AsWritten::marked(times(marked, factor), unit))
            }
            None => What::Bare(marked),
        }
    }

    fn word(&mut self) -> What {
        let rest = self.rest();
        let length = word_length(rest).max(rest.chars().next().map_or(1, char::len_utf8));
        // `OG1.056`: a label and its figure.
        let letters = rest.chars().take_while(char::is_ascii_alphabetic).count();
        let label = rest.get(..letters).unwrap_or("").to_lowercase();
        let is_label = matches!(
            label.as_str(),
            "og" | "fg" | "tg" | "pg" | "sg" | "ph" | "ibu" | "abv" | "ebc" | "srm"
        );
        let length = if is_label { letters } else { length };
        self.at += length;
        let word = rest.get(..length).unwrap_or("");
        if self.rest().starts_with('.') && length == 1 && word.starts_with(char::is_uppercase) {
            // `N. Brewer`: a name cut short.
            self.at += usize::from(
                self.rest()
                    .get(1..)
                    .is_some_and(|next| next.starts_with(' ')),
            );
        } else if self.rest().starts_with('.') && length <= 5 {
            let is_short = matches!(
                word.to_lowercase().as_str(),
                "mt" | "st" | "fl" | "no" | "hall"
            );
            // The full stop of a short form, unless a sentence ends there.
            let next = self
                .rest()
                .get(1..)
                .unwrap_or("")
                .trim_start_matches(is_space);
            if !next.is_empty() && (is_short || !next.starts_with(char::is_uppercase)) {
                self.at += 1;
            }
        }
        What::Word(word.to_lowercase())
    }
}

/// Whether a unit follows that the notation does not have: the figure is none of those that it has.
fn measures_otherwise(text: &str) -> bool {
    let word = word_at(text).to_lowercase();
    word.starts_with('°')
        || matches!(
            word.as_str(),
            "dh" | "qr" | "qrs" | "ppb" | "ntu" | "rpm" | "kwh" | "btu" | "amp" | "amps"
        )
}

fn doubtful(number: Number<'_>) -> What {
    let (message, help) = number.fault().unwrap_or_default();
    What::Ambiguous(Code::AmbiguousNumber, message, help)
}

fn begins_with(text: &str, head: &str) -> bool {
    let own = text.get(..head.len());
    own.is_some_and(|own| own.eq_ignore_ascii_case(head))
}

fn times(number: Marked, factor: f64) -> Marked {
    Marked {
        low: number.low * factor,
        high: number.high.map(|high| high * factor),
        about: number.about,
    }
}

fn begins_number(text: &str) -> bool {
    let mut chars = text.chars();
    match chars.next() {
        Some(c) if c.is_ascii_digit() => true,
        Some('.' | '~') => chars.next().is_some_and(|c| c.is_ascii_digit() || c == '.'),
        Some('-' | '–' | '−') => chars.next().is_some_and(|c| c.is_ascii_digit()),
        _ => false,
    }
}

/// `4,900`: one comma and three digits behind it.
fn thousands(text: &str) -> Option<Marked> {
    let (thousands, hundreds) = text.split_once(',')?;
    let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    let fits = hundreds.len() == 3 && (1..=3).contains(&thousands.len());
    (fits && digits(thousands) && digits(hundreds))
        .then(|| format!("{thousands}{hundreds}").parse().ok())
        .flatten()
        .map(|low| Marked {
            low,
            high: None,
            about: false,
        })
}

/// How many bytes of the text are a word: letters and digits, with signs that join them.
fn word_length(text: &str) -> usize {
    let mut end = 0;
    let mut chars = text.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        let next = chars.peek().map(|(_, next)| *next);
        let joins = next.is_some_and(char::is_alphanumeric);
        let inside = c.is_alphanumeric()
            || matches!(c, '°' | 'º' | '%' | '#')
            || at > 0 && matches!(c, '-' | '\'' | '.' | '&') && joins
            || at == 1
                && c == '/'
                && !text.starts_with('%')
                && next.is_none_or(|next| !next.is_ascii_digit());
        if !inside {
            break;
        }
        end = at + c.len_utf8();
    }
    end
}

fn word_at(text: &str) -> &str {
    text.get(..word_length(text)).unwrap_or("")
}

/// The unit that the text begins with, and how many bytes it takes.
fn unit_at(text: &str, number: Marked) -> Option<(Unit, usize, f64)> {
    // `7 %/h`
    if text.starts_with("%/") {
        return Some((Unit::Percent, 1, 1.0));
    }
    let plain =
        lexer::unit(words(text), ANY).map(|(unit, count)| (unit, bytes_of(text, count), 1.0));
    let jotted = spelt(text, number);
    // `3 fl oz/bbl` is no ounce.
    match (plain, jotted) {
        (Some(plain), Some(jotted)) if jotted.1 > plain.1 || text.starts_with("wk") => Some(jotted),
        (plain, jotted) => plain.or(jotted),
    }
}

/// How many bytes the first words of the text take.
fn bytes_of(text: &str, count: usize) -> usize {
    let mut rest = text;
    for at in 0..count {
        rest = rest.trim_start_matches(is_space);
        let word = words(rest)(0).unwrap_or("");
        rest = rest.get(word.len()..).unwrap_or("");
        if at + 1 == count && rest.starts_with('.') {
            let behind = rest.get(1..).unwrap_or("").trim_start_matches(is_space);
            if !behind.is_empty() && !behind.starts_with(char::is_uppercase) {
                rest = rest.get(1..).unwrap_or("");
            }
        }
    }
    text.len() - rest.len()
}
