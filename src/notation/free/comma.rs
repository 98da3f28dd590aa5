//! Texts whose decimal sign is the comma.

use super::sheet::Told;
use crate::notation::piece::Piece;
use crate::notation::tree::{Class, Document, Entry, Line, Token};
use crate::quantity::lexer::Form;

/// What the numbers of a text say of its decimal sign.
#[derive(Default)]
struct Signs {
    /// Numbers in which a comma can only be it: `4,5` and `12,75`, and not `1,000`.
    commas: u32,
    /// Numbers with a point.
    points: u32,
}

/// The text with points for its commas, if several numbers of it can only have a decimal comma and none has a point; `1,000` is left
/// as it is, to be asked for.
pub(super) fn with_points(
    document: &Document<'_>,
    told: &mut Vec<Told>,
) -> Option<Document<'static>> {
    let mut signs = Signs::default();
    signs.look(&mut document.lines());
    (signs.commas >= 2 && signs.points == 0).then_some(())?;
    let mut document = document.clone().into_owned();
    for entry in &mut document.entries {
        if let Entry::Line(line) = entry {
            replace(line, told);
        }
    }
    Some(document)
}

impl Signs {
    // Depth is bounded by the parser.
    fn look(&mut self, lines: &mut dyn Iterator<Item = &Line<'_>>) {
        for line in lines {
            for token in line.tokens() {
                self.commas += u32::from(pointed(token).is_some());
                let bytes = token.text().as_bytes();
                let is_pointed = |three: &[u8]| matches!(three, [before, b'.', behind] if before.is_ascii_digit() && behind.is_ascii_digit());
                self.points += u32::from(!token.is_quoted() && bytes.windows(3).any(is_pointed));
            }
            self.look(&mut line.lines());
        }
    }
}

fn replace(line: &mut Line<'_>, told: &mut Vec<Told>) {
    for token in &mut line.tokens {
        if let Some(text) = pointed(token) {
            // Said once, and the same for all.
            if told.is_empty() {
                let typed = token.text().to_owned();
                told.push(Told::Assumed(typed, text.clone(), token.span()));
            }
            token.text = Piece::from(text);
            token.class = Class::Number(Form::Composed);
        }
    }
    for entry in &mut line.children {
        if let Entry::Line(line) = entry {
            replace(line, told);
        }
    }
}

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
