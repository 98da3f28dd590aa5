//! The hot side after the mash: `boil`, `stand`, `cool`.

use super::item::{Nesting, Stage};
use super::{Lower, Trace};
use crate::diagnostic::{Code, Diagnostic, Place};
use crate::notation::cursor::Cursor;
use crate::notation::tree::Line;
use crate::quantity::{Dimension, Temperature, Time, Written};
use crate::recipe::{CoolStep, HotStep, Section, Stand};

impl Lower<'_> {
    pub(super) fn boil_block(&mut self, line: &Line<'_>, mut cursor: Cursor<'_, '_>) {
        let span = line.span();
        self.open(span);
        if !self.once("boil", span) {
            return;
        }
        self.boil_line = Some(span);
        self.states(span, |_| Place::recipe("boil.time_min"));
        if cursor.is_empty() {
            self.expect_lines(line, "boil", "50 g cascade at 60 min");
        } else {
            let _ = cursor.eat(&["for"]);
            self.recipe.boil.time = self.read(&mut cursor, "after `boil`");
            self.expect_end(cursor);
        }
        for child in line.lines() {
            if !self.misplaced(child, "boil") {
                self.next_addition(Section::Boil);
                let item = self.item(child, child.tokens(), Stage::Boil, Nesting::Alone);
                self.count(item.as_ref());
                self.recipe
                    .boil
                    .additions
                    .extend(item.map(|item| item.addition));
            }
        }
    }

    pub(super) fn stand_block(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.open(line.span());
        self.states(line.span(), Trace::stand);
        let stand = self.stand(line, cursor);
        let mut additions = Vec::new();
        for child in line.lines() {
            if !self.misplaced(child, "stand") {
                self.next_addition(Section::Stand);
                let item = self.item(child, child.tokens(), Stage::Stand, Nesting::Alone);
                self.count(item.as_ref());
                additions.extend(item.map(|item| item.addition));
            }
        }
        if let Some((time, temperature)) = stand {
            self.recipe.hot_side.push(HotStep::Stand(Stand {
                time,
                temperature,
                additions,
            }));
        }
    }

    /// `40 min at 95 C`, in either order; the temperature may be left out.
    fn stand(
        &mut self,
        line: &Line<'_>,
        mut cursor: Cursor<'_, '_>,
    ) -> Option<(Written<Time>, Option<Written<Temperature>>)> {
        let mut time = None;
        let mut temperature = None;
        while !cursor.is_empty() {
            let before = cursor.rest().len();
            let _ = cursor.eat(&["at"]) || cursor.eat(&["for"]);
            let wanted: &[Dimension] = match (&time, &temperature) {
                (None, None) => &[Dimension::Time, Dimension::Temperature],
                (None, _) => &[Dimension::Time],
                (_, None) => &[Dimension::Temperature],
                _ => break,
            };
            if time.is_some() && cursor.rest().len() == before {
                break;
            }
            let measure = self.measure(&mut cursor, wanted, "in `stand`")?;
            if measure.unit.dimension() == Dimension::Time {
                time = Some(self.written(&measure)?);
            } else {
                temperature = Some(self.written(&measure)?);
            }
        }
        self.expect_end(cursor);
        if time.is_none() {
            self.push(
                Diagnostic::error(
                    Code::MissingQuantity,
                    line.span(),
                    "expected how long the wort stands",
                )
                .with_help("write the time, such as `stand 20 min at 80 C`"),
            );
        }
        Some((time?, temperature))
    }

    pub(super) fn cool_line(&mut self, line: &Line<'_>, mut cursor: Cursor<'_, '_>) {
        self.open(line.span());
        self.expect_no_lines(line);
        self.states(line.span(), Trace::cooling);
        let _ = cursor.eat(&["to"]);
        let Some(to) = self.read(&mut cursor, "after `cool to`") else {
            return;
        };
        let mut time = None;
        if cursor.eat(&["in"]) {
            time = self.read(&mut cursor, "after `in`");
        }
        self.expect_end(cursor);
        self.recipe
            .hot_side
            .push(HotStep::Cool(CoolStep { to, time }));
    }
}
