//! The hot side after the mash: `boil`, `stand`, `cool`.

use super::LineReader;
use super::item::Nesting;
use super::{Lower, Trace};
use crate::diagnostic::Place;
use crate::notation::cursor::Cursor;
use crate::notation::grammar::{Block, Role, Row, Rule, Table, Takes};
use crate::notation::tree::Line;
use crate::quantity::Dimension;
use crate::recipe::{CoolStep, HotStep, Section, Stand};

/// What stands behind `stand`.
pub(super) const STAND: &[Takes] = &[
    Takes::Figure(Role::new("time", &[Dimension::Time]).after(&["at", "for"])),
    Takes::Figure(
        Role::new("temperature", &[Dimension::Temperature])
            .after(&["at", "for"])
            .optional(),
    ),
];

/// Lines of the boil: items.
pub(super) static BOIL: Table<LineReader> = Table(&[Rule {
    row: Row::new(Block::Boil, &[], "recipe.boil.additions[#]")
        .takes(&[Takes::Item])
        .example(
            Block::Boil,
            "50 g cascade, 5 % alpha at 60 min",
            &[
                "60 g cascade, 5 % alpha at 60 min",
                "50 g cascade, 5 % alpha at 15 min",
            ],
        ),
    read: |lower, line, cursor| {
        lower.next_addition(Section::Boil);
        let item = lower.item(line, cursor.rest(), Block::Boil, Nesting::Alone);
        lower.count(item.as_ref());
        let additions = &mut lower.recipe.boil.additions;
        additions.extend(item.map(|item| item.addition));
    },
}]);

/// Lines of a stand: items.
pub(super) static STEEPED: Table<LineReader> = Table(&[Rule {
    row: Row::new(Block::Stand, &[], "recipe.hot_side[#].stand.additions[#]")
        .takes(&[Takes::Item])
        .example(
            Block::Stand,
            "70 g cascade, 5 % alpha for 20 min",
            &[
                "80 g cascade, 5 % alpha for 20 min",
                "70 g cascade, 5 % alpha for 10 min",
            ],
        ),
    read: |lower, line, cursor| {
        lower.next_addition(Section::Stand);
        let item = lower.item(line, cursor.rest(), Block::Stand, Nesting::Alone);
        lower.count(item.as_ref());
        lower.steeped.extend(item.map(|item| item.addition));
    },
}]);

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
            self.line_of(&BOIL, Block::Boil, child);
        }
    }

    /// `40 min at 95 C`, in either order; the temperature may be left out.
    pub(super) fn stand_block(&mut self, line: &Line<'_>, mut cursor: Cursor<'_, '_>) {
        self.open(line.span());
        self.states(line.span(), Trace::stand);
        let held = self.held(&mut cursor, STAND, "in `stand`");
        if held.is_some() {
            self.expect_end(cursor);
        }
        for child in line.lines() {
            self.line_of(&STEEPED, Block::Stand, child);
        }
        let additions = std::mem::take(&mut self.steeped);
        if let Some(held) = held
            && let Some(time) = held.time
        {
            self.recipe.hot_side.push(HotStep::Stand(Stand {
                time,
                temperature: held.temperature,
                additions,
            }));
        }
    }

    pub(super) fn cool_line(&mut self, line: &Line<'_>, mut cursor: Cursor<'_, '_>) {
        self.open(line.span());
        self.expect_no_lines(line);
        self.states(line.span(), Trace::cooling);
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
