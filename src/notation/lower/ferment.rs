//! The `ferment` block.

use super::LineReader;
use super::item::Nesting;
use super::{Lower, Trace};
use crate::catalogue::Kind;
use crate::diagnostic::{Code, Diagnostic, Place};
use crate::notation::cursor::Cursor;
use crate::notation::grammar::{Block, Role, Row, Rule, Table, Takes};
use crate::notation::timing::{self, Keyword};
use crate::notation::tree::{Line, Token};
use crate::quantity::lexer::BARE_GRAVITY;
use crate::quantity::{Dimension, Number};
use crate::recipe::{Addition, Hold, Section, Timing};

const HOLD: &[Takes] = &[
    Takes::Figure(Role::new("temperature", &[Dimension::Temperature]).after(&["at", "for"])),
    Takes::Figure(
        Role::new("time", &[Dimension::Time])
            .after(&["at", "for"])
            .optional(),
    ),
];

/// Lines of the fermentation; those without a word of their own are additions.
pub(super) static FERMENT: Table<LineReader> = Table(&[
    Rule {
        row: Row::new(Block::Ferment, &["pitch"], "recipe.fermentation.pitch")
            .takes(&[Takes::Item])
            .example(
                Block::Ferment,
                "pitch ale yeast at 20 C",
                &["pitch ale yeast at 18 C", "pitch lager yeast at 20 C"],
            ),
        read: |lower, line, cursor| lower.pitch_line(line, cursor),
    },
    Rule {
        row: Row::new(
            Block::Ferment,
            &["top up with", "topped up with"],
            "recipe.fermentation.top_up",
        )
        .takes(&[Takes::Item])
        .example(
            Block::Ferment,
            "top up with 4 L water",
            &["top up with 5 L water", "top up with 1 gal water"],
        ),
        read: |lower, line, cursor| lower.top_up_line(line, cursor),
    },
    Rule {
        row: Row::new(Block::Ferment, &["hold"], "recipe.fermentation.holds[#]")
            .takes(HOLD)
            .example(
                Block::Ferment,
                "hold 20 C for 5 days",
                &["hold 19 C for 5 days", "hold for 6 days at 20 C"],
            ),
        read: |lower, line, cursor| lower.hold_line(line, cursor),
    },
    Rule {
        row: Row::new(Block::Ferment, &["add"], "recipe.fermentation.additions[#]")
            .takes(&[Takes::Item])
            .example(
                Block::Ferment,
                "add 30 g cascade on day 5",
                &["add 40 g cascade on day 5", "add 30 g cascade on day 7"],
            ),
        read: |lower, line, cursor| lower.ferment_item(line, cursor),
    },
    Rule {
        row: Row::new(Block::Ferment, &[], "recipe.fermentation.additions[#]")
            .takes(&[Takes::Item])
            .example(
                Block::Ferment,
                "1 L plum juice on day 5",
                &["2 L plum juice on day 5", "1 L apple juice on day 5"],
            ),
        read: |lower, line, cursor| lower.ferment_item(line, cursor),
    },
]);

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
            self.line_of(&FERMENT, Block::Ferment, child);
        }
    }

    fn ferment_item(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.next_addition(Section::Ferment);
        let item = self.item(line, cursor.rest(), Block::Ferment, Nesting::Alone);
        let additions = &mut self.recipe.fermentation.additions;
        additions.extend(item.map(|item| item.addition));
    }

    /// `pitch champagne yeast on day 5`: one with such a time is a second yeast, and goes in beside what else is added.
    fn pitch_line(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        let tokens = cursor.rest();
        let mut ends = (0..tokens.len()).filter_map(|at| tokens.get(at..));
        let is_later = |end: &[Token<'_>]| match timing::keyword(end) {
            Some((Keyword::OnDay | Keyword::When, _)) => true,
            Some((Keyword::At, words)) => {
                let mut behind = Cursor::new(end, line.span());
                behind.skip(words);
                let bare = behind.number().and_then(Number::value);
                behind.measure(&[Dimension::Gravity]).is_some()
                    || bare.is_some_and(|number| BARE_GRAVITY.contains(&number))
            }
            _ => false,
        };
        if ends.any(is_later) {
            self.ferment_item(line, cursor);
            let added = self.recipe.fermentation.additions.last();
            let other = added.and_then(Addition::ingredient);
            if let Some(other) = other.filter(|other| other.kind != Kind::Yeast) {
                let message = format!("expected a yeast after `pitch`, found `{}`", other.name);
                self.push(
                    Diagnostic::error(Code::WrongBlock, line.span(), message).with_help(
                        "write `add` for additions to the fermenter other than the yeast",
                    ),
                );
            }
            return;
        }
        if let Some(first) = self.seen.before("pitch", line.span()) {
            self.push(
                Diagnostic::error(
                    Code::DuplicateBlock,
                    line.span(),
                    "expected one yeast without a time, found a second one",
                )
                .with_label(first, "the first goes in here")
                .with_help(
                    "write when the second goes in, such as `pitch champagne yeast on day 5` or `pitch champagne yeast when 3 P`",
                ),
            );
            return;
        }
        self.expect_no_lines(line);
        self.pitch(line, cursor);
    }

    /// Water into the fermenter before the yeast: the batch and the original gravity are those with it.
    fn top_up_line(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        if !self.once("top up", line.span()) {
            return;
        }
        self.expect_no_lines(line);
        self.next_item("content.single", |_| Place::top_up());
        let item = self.item(line, cursor.rest(), Block::Ferment, Nesting::Alone);
        let Some(item) = item else {
            return;
        };
        let addition = item.addition;
        let is_water = addition
            .ingredient()
            .is_some_and(|it| it.catalogue_name() == "water");
        if !is_water || addition.timing != Timing::default() {
            let message = "expected litres of water after `top up with`, and no time".to_owned();
            self.push(
                Diagnostic::error(Code::WrongBlock, line.span(), message).with_help(
                    "write `top up with 4 L water`; later additions and other liquids have an `add` line",
                ),
            );
            return;
        }
        self.recipe.fermentation.top_up = Some(addition);
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
        let item = self.item(line, cursor.rest(), Block::Pitch, Nesting::Alone);
        self.recipe.fermentation.pitch = item.map(|item| item.addition);
    }

    /// `23 C for 6 days`, in either order.
    fn hold_line(&mut self, line: &Line<'_>, mut cursor: Cursor<'_, '_>) {
        self.expect_no_lines(line);
        self.states(line.span(), Trace::hold);
        let Some(held) = self.held(&mut cursor, HOLD, "in `hold`") else {
            return;
        };
        self.expect_end(cursor);
        self.recipe
            .fermentation
            .holds
            .extend(held.temperature.map(|temperature| Hold {
                temperature,
                time: held.time,
            }));
    }
}
