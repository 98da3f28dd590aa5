//! Texts whose decimal sign is the comma.

use super::jotted_unit::{spelt, words};
use super::told::Told;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::ANY;
use crate::notation::piece::Piece;
use crate::notation::tree::{Class, Document, Entry, Line, Token};
use crate::quantity::Dimension;
use crate::quantity::lexer::{self, BARE_GRAVITY, Form, Marked};

/// What the numbers of a text say of its decimal sign.
#[derive(Default)]
struct Signs {
    /// Numbers in which a comma can only be it: `4,5` and `12,75`, and not `1,000`.
    commas: u32,
    /// Numbers with a point.
    points: u32,
}

/// The text with points for its commas, if several numbers of it can only have a decimal comma and none has a point; `1,000` is left
/// as it is, to be asked for. In a page that somebody jotted such a comma is read beside points too, and asked about.
pub(super) fn with_points(
    document: &Document<'_>,
    is_jotted: bool,
    told: &mut Vec<Told>,
) -> Option<Document<'static>> {
    let mut signs = Signs::default();
    signs.look(&mut document.lines());
    let is_clear = signs.commas >= 2 && signs.points == 0;
    (is_clear || is_jotted).then_some(())?;
    let mut document = document.clone().into_owned();
    for entry in &mut document.entries {
        if let Entry::Line(line) = entry {
            replace(line, is_clear, told);
        }
    }
    Some(document)
}

/// How the question begins.
pub(super) const DECIMAL_COMMA: &str = "expected one decimal sign throughout, found a comma in";

/// `5,4 kg` in a text that has points too.
fn which_sign(typed: &str, read: &str, span: Span) -> Diagnostic {
    let message = format!("{DECIMAL_COMMA} `{typed}`; assumed {read}");
    Diagnostic::warning(Code::AmbiguousNumber, span, message).with_help(format!("write `{read}`"))
}

impl Signs {
    // Depth is bounded by the parser.
    fn look(&mut self, lines: &mut dyn Iterator<Item = &Line<'_>>) {
        for line in lines {
            for token in line.tokens() {
                self.commas += u32::from(pointed(token).is_some());
                let bytes = token.text().as_bytes();
                let is_pointed = |three: &[u8]| matches!(three, [before, b'.', behind] if before.is_ascii_digit() && behind.is_ascii_digit());
                let is_number = !token.is_quoted() && !is_date(token.text());
                self.points += u32::from(is_number && bytes.windows(3).any(is_pointed));
            }
            self.look(&mut line.lines());
        }
    }
}

fn replace(line: &mut Line<'_>, is_clear: bool, told: &mut Vec<Told>) {
    let whole: Vec<Option<String>> = line
        .tokens
        .iter()
        .enumerate()
        .map(|(at, token)| {
            pointed(token)
                .or_else(|| of_three(token, line.tokens.get(at + 1)).filter(|_| !is_clear))
        })
        .collect();
    for (token, text) in line.tokens.iter_mut().zip(whole) {
        if let Some(text) = text {
            // Said once, and the same for all.
            let typed = token.text().to_owned();
            if !is_clear {
                told.push(Told::Asked(which_sign(&typed, &text, token.span())));
            } else if told.is_empty() {
                told.push(Told::Assumed(typed, text.clone(), token.span()));
            }
            token.text = Piece::from(text);
            token.class = Class::Number(Form::Composed);
        }
    }
    in_brackets(line, is_clear, told);
    for entry in &mut line.children {
        if let Entry::Line(line) = entry {
            replace(line, is_clear, told);
        }
    }
}

/// `(7,5 %)`: behind a bracket the comma parts the number, which is made one again.
fn in_brackets(line: &mut Line<'_>, is_clear: bool, told: &mut Vec<Told>) {
    let is_digits = |text: &str| {
        (1..=2).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit())
    };
    let is_split = |three: &[Token<'_>]| {
        let [first, comma, last] = three else {
            return false;
        };
        let whole = first.text().strip_prefix('(').is_some_and(is_digits);
        let is_close =
            first.span().end == comma.span().start && comma.span().end == last.span().start;
        whole && comma.is_comma() && is_close && is_digits(last.text())
    };
    let Some(at) = line.tokens.windows(3).position(is_split) else {
        return;
    };
    let mut tokens = std::mem::take(&mut line.tokens).into_vec();
    let last = tokens.remove(at + 2);
    tokens.remove(at + 1);
    if let Some(first) = tokens.get_mut(at) {
        let whole = first.text().trim_start_matches('(').to_owned();
        let (typed, read) = (
            format!("{whole},{}", last.text()),
            format!("{whole}.{}", last.text()),
        );
        first.span = first.span.to(last.span);
        first.text = Piece::from(format!("({read}"));
        if !is_clear {
            told.push(Told::Asked(which_sign(&typed, &read, first.span)));
        }
    }
    line.tokens = tokens.into_boxed_slice();
    in_brackets(line, is_clear, told);
}

/// `01.10.`: a day and its month.
fn is_date(text: &str) -> bool {
    let digits = |text: &str| text.len() <= 4 && text.bytes().all(|byte| byte.is_ascii_digit());
    text.matches('.').count() == 2 && text.split('.').all(digits)
}

/// A number with one comma and three digits behind it: thousands of what is weighed or measured by volume, and a gravity where it is none.
fn of_three(token: &Token<'_>, next: Option<&Token<'_>>) -> Option<String> {
    let (whole, part) = token.text().split_once(',')?;
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    (part.len() == 3 && digits(whole) && digits(part)).then_some(())?;
    let is_amount = next.is_some_and(|next| {
        let unit = next.text().trim_end_matches(['.', ',', ':', ';', ')']);
        let unit = spelt(unit, ONE)
            .map(|(unit, ..)| unit)
            .or_else(|| lexer::unit(words(unit), ANY).map(|(unit, _)| unit));
        unit.is_some_and(|unit| matches!(unit.dimension(), Dimension::Mass | Dimension::Volume))
    });
    let pointed = format!("{whole}.{part}");
    let is_gravity = pointed
        .parse()
        .is_ok_and(|number: f64| BARE_GRAVITY.contains(&number));
    if is_amount {
        Some(format!("{whole}{part}"))
    } else {
        (is_gravity && next.is_none_or(|next| !next.is_number())).then_some(pointed)
    }
}

/// Any number: which it is does not change the unit behind it.
const ONE: Marked = Marked {
    low: 1.0,
    high: None,
    about: false,
};

/// A number with one comma and one or two digits behind it, or a range of such, with points.
fn pointed(token: &Token<'_>) -> Option<String> {
    (token.class == Class::Number(Form::Ambiguous)).then_some(())?;
    let text = token.text();
    let is_decimal = |number: &str| {
        let (whole, part) = number.split_once(',').unwrap_or((number, "0"));
        let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
        digits(whole) && digits(part) && part.len() <= 2
    };
    let is_it = text
        .split(['-', '–', '−'])
        .all(|number| is_decimal(number.trim_start_matches('~')));
    is_it.then(|| text.replace(',', "."))
}
