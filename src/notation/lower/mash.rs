//! The `mash` block.

use super::item::{Nesting, Stage};
use super::{Lower, Trace};
use crate::diagnostic::{Code, Diagnostic, Place};
use crate::notation::cursor::Cursor;
use crate::notation::tree::{Line, Token};
use crate::quantity::{Dimension, Temperature, Time, Volume, Written};
use crate::recipe::{Heating, Rest, Section, Sparge};

impl Lower<'_> {
    pub(super) fn mash_block(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.open(line.span());
        if !self.once("mash", line.span()) {
            return;
        }
        self.expect_end(cursor);
        self.expect_lines(line, "mash", "5 kg pale ale malt");
        self.states(line.span(), |_| Place::recipe("mash"));
        for child in line.lines() {
            self.mash_line(child);
        }
    }

    fn mash_line(&mut self, line: &Line<'_>) {
        let span = line.span();
        let mut cursor = Cursor::new(line.tokens(), span);
        let number_at = |at: usize| line.tokens().get(at).is_some_and(Token::is_number);
        if self.is_verb(cursor, "rest") {
            cursor.skip(1);
            self.states(span, Trace::rest);
            if let Some(rest) = self.rest(cursor) {
                self.recipe.mash.rests.push(rest);
            }
        } else if cursor.at(&["mash", "in"]) && number_at(2) {
            cursor.skip(2);
            self.states(span, |_| Place::recipe("mash.liquor_l_per_kg"));
            if self.once("mash in", span) {
                self.recipe.mash.liquor = self.read(&mut cursor, "after `mash in`");
                self.expect_end(cursor);
            }
        } else if cursor.at(&["sparge"])
            && (number_at(1) || (cursor.at(&["sparge", "at"]) && number_at(2)))
        {
            cursor.skip(1);
            self.states(span, |_| Place::recipe("mash.sparge"));
            if self.once("sparge", span) {
                self.recipe.mash.sparge = self.sparge(cursor);
            }
        } else if cursor.at(&["pH"]) && number_at(1) {
            cursor.skip(1);
            self.states(span, |_| Place::recipe("mash.ph"));
            if self.once("mash pH", span) {
                self.recipe.mash.ph = self.ph(&mut cursor);
                self.expect_end(cursor);
            }
        } else {
            if !self.misplaced(line, "mash") {
                self.next_addition(Section::Mash);
                let item = self.item(line, line.tokens(), Stage::Mash, Nesting::Alone);
                self.count(item.as_ref());
                self.recipe
                    .mash
                    .additions
                    .extend(item.map(|item| item.addition));
            }
            return;
        }
        self.expect_no_lines(line);
    }

    /// `66 C for 50 min by heat`, temperature and time in any order.
    fn rest(&mut self, mut cursor: Cursor<'_, '_>) -> Option<Rest> {
        let mut temperature: Option<Written<Temperature>> = None;
        let mut time: Option<Written<Time>> = None;
        while temperature.is_none() || time.is_none() {
            let _ = cursor.eat(&["at"]) || cursor.eat(&["for"]);
            let both = [Dimension::Temperature, Dimension::Time];
            let wanted: &[Dimension] = match (&temperature, &time) {
                (None, None) => &both,
                (None, _) => &[Dimension::Temperature],
                _ => &[Dimension::Time],
            };
            let measure = self.measure(&mut cursor, wanted, "in `rest`")?;
            if measure.unit.dimension() == Dimension::Time {
                time = Some(self.written(&measure)?);
            } else {
                temperature = Some(self.written(&measure)?);
            }
        }
        let by = if cursor.eat(&["by", "heat"]) {
            Some(Heating::Direct)
        } else if cursor.eat(&["by", "infusion"]) {
            Some(Heating::Infusion)
        } else if cursor.eat(&["by", "decoction"]) {
            Some(Heating::Decoction)
        } else {
            None
        };
        if by.is_none() && cursor.at(&["by"]) {
            self.push(
                Diagnostic::error(
                    Code::UnexpectedWords,
                    cursor.span(),
                    format!("expected how the mash is heated, found `{}`", cursor.text()),
                )
                .with_help("write `by heat`, `by infusion` or `by decoction`"),
            );
        } else {
            self.expect_end(cursor);
        }
        Some(Rest {
            temperature: temperature?,
            time: time?,
            by,
        })
    }

    /// `12 hL at 78 C`, either of them alone too.
    fn sparge(&mut self, mut cursor: Cursor<'_, '_>) -> Option<Sparge> {
        let mut sparge = Sparge::default();
        if !cursor.at(&["at"]) {
            let volume: Written<Volume> = self.read(&mut cursor, "after `sparge`")?;
            sparge.volume = Some(volume);
        }
        if cursor.eat(&["at"]) {
            sparge.temperature = Some(self.read(&mut cursor, "after `at`")?);
        }
        self.expect_end(cursor);
        Some(sparge)
    }
}
