//! The `ferment` block.

use super::item::{Nesting, Stage};
use super::{Lower, Trace};
use crate::diagnostic::{Code, Diagnostic, Place};
use crate::notation::cursor::Cursor;
use crate::notation::tree::{Line, Token};
use crate::quantity::{Dimension, Temperature, Time, Written};
use crate::recipe::{Hold, Section};

impl Lower<'_> {
    pub(super) fn ferment_block(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.open(line.span());
        if !self.once("ferment", line.span()) {
            return;
        }
        self.expect_end(cursor);
        self.expect_lines(line, "ferment", "pitch ale yeast at 20 C");
        self.states(line.span(), |_| Place::recipe("fermentation"));
        for child in line.lines() {
            self.ferment_line(child);
        }
    }

    fn ferment_line(&mut self, line: &Line<'_>) {
        let mut cursor = Cursor::new(line.tokens(), line.span());
        if cursor.eat(&["pitch"]) {
            if self.once("pitch", line.span()) {
                self.expect_no_lines(line);
                self.pitch(line, cursor);
            }
        } else if self.is_verb(cursor, "hold") {
            cursor.skip(1);
            let _ = cursor.eat(&["at"]);
            self.expect_no_lines(line);
            self.states(line.span(), Trace::hold);
            if let Some(hold) = self.hold(cursor) {
                self.recipe.fermentation.holds.push(hold);
            }
        } else {
            let add = cursor.eat(&["add"]);
            if add || !self.misplaced(line, "ferment") {
                self.next_addition(Section::Ferment);
                let item = self.item(line, cursor.rest(), Stage::Ferment, Nesting::Alone);
                self.recipe
                    .fermentation
                    .additions
                    .extend(item.map(|item| item.addition));
            }
        }
    }

    fn pitch(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        if cursor.is_empty() {
            self.push(
                Diagnostic::error(
                    Code::MissingName,
                    line.span(),
                    "expected the name of a yeast after `pitch`",
                )
                .with_help("write a yeast, such as `pitch ale yeast at 20 C`"),
            );
            return;
        }
        self.next_item("content.single", |_| Place::pitch());
        let item = self.item(line, cursor.rest(), Stage::Pitch, Nesting::Alone);
        self.recipe.fermentation.pitch = item.map(|item| item.addition);
    }

    /// `23 C for 6 days`, in either order.
    fn hold(&mut self, mut cursor: Cursor<'_, '_>) -> Option<Hold> {
        let mut temperature: Option<Written<Temperature>> = None;
        let mut time: Option<Written<Time>> = None;
        while !cursor.is_empty() && (temperature.is_none() || time.is_none()) {
            let linked = cursor.eat(&["for"]) || cursor.eat(&["at"]);
            if temperature.is_some() && !linked {
                break;
            }
            let wanted: &[Dimension] = match (&temperature, &time) {
                (None, None) => &[Dimension::Temperature, Dimension::Time],
                (None, _) => &[Dimension::Temperature],
                _ => &[Dimension::Time],
            };
            let measure = self.measure(&mut cursor, wanted, "in `hold`")?;
            if measure.unit.dimension() == Dimension::Time {
                time = Some(self.written(&measure)?);
            } else {
                temperature = Some(self.written(&measure)?);
            }
        }
        self.expect_end(cursor);
        if temperature.is_none() {
            let mut end = Cursor::new(&[], cursor.here());
            let _ = self.measure(&mut end, &[Dimension::Temperature], "in `hold`");
        }
        Some(Hold {
            temperature: temperature?,
            time,
        })
    }
}

/// Whether a line of a later stage opens with an amount, as an item does.
pub(super) fn opens_with_amount(tokens: &[Token<'_>]) -> bool {
    tokens.first().is_some_and(Token::is_number)
}
