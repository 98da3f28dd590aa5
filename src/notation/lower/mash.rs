//! The `mash` block.

use super::LineReader;
use super::item::Nesting;
use super::{Lower, Trace};
use crate::diagnostic::{Code, Diagnostic, Place};
use crate::notation::cursor::Cursor;
use crate::notation::grammar::{Block, Role, Row, Rule, Table, Takes};
use crate::notation::tree::Line;
use crate::quantity::{Dimension, Volume, Written};
use crate::recipe::{Heating, Rest, Section, Sparge};

const TEMPERATURE: Role = Role::new("temperature", &[Dimension::Temperature]).after(&["at"]);

const REST: &[Takes] = &[
    Takes::Figure(TEMPERATURE.after(&["at", "for"])),
    Takes::Figure(Role::new("time", &[Dimension::Time]).after(&["at", "for"])),
    Takes::MaybeWords(Block::RestHeating),
];

/// Lines of the mash; those without a word of their own are items.
pub(super) static MASH: Table<LineReader> = Table(&[
    Rule {
        row: Row::new(Block::Mash, &["rest"], "recipe.mash.rests[#]")
            .takes(REST)
            .example(
                Block::Mash,
                "rest 66 C for 50 min",
                &["rest 64 C for 50 min", "rest 40 min at 66 C"],
            ),
        read: |lower, line, cursor| lower.rest_line(line, cursor),
    },
    Rule {
        row: Row::new(Block::Mash, &["mash in"], "recipe.mash.liquor_l_per_kg")
            .takes(&[Takes::Figure(Role::new(
                "water",
                &[Dimension::VolumePerMass],
            ))])
            .example(
                Block::Mash,
                "mash in 3 L/kg",
                &["mash in 3.5 L/kg", "mash in 1.5 qt/lb"],
            ),
        read: |lower, line, cursor| lower.mash_in_line(line, cursor),
    },
    Rule {
        row: Row::new(Block::Mash, &["sparge"], "recipe.mash.sparge")
            .takes(&[
                Takes::Figure(Role::new("volume", &[Dimension::Volume]).optional()),
                Takes::Figure(TEMPERATURE.optional()),
            ])
            .example(
                Block::Mash,
                "sparge 10 L at 78 C",
                &["sparge 12 L at 78 C", "sparge 10 L at 75 C"],
            ),
        read: |lower, line, cursor| lower.sparge_line(line, cursor),
    },
    Rule {
        row: Row::new(Block::Mash, &["pH"], "recipe.mash.ph")
            .takes(&[Takes::Figure(Role::new("pH", &[Dimension::Ph]))])
            .example(Block::Mash, "pH 5.4", &["pH 5.3", "pH 5.6"]),
        read: |lower, line, cursor| lower.mash_ph_line(line, cursor),
    },
    Rule {
        row: Row::new(Block::Mash, &[], "recipe.mash.additions[#]")
            .takes(&[Takes::Item])
            .example(
                Block::Mash,
                "5 kg pale ale malt",
                &["6 kg pale ale malt", "5 kg wheat malt"],
            ),
        read: |lower, line, cursor| lower.mash_item(line, cursor),
    },
]);

const fn heating(
    words: &'static [&'static str],
    example: &'static str,
    bent: &'static [&'static str],
) -> Row {
    Row::new(Block::RestHeating, words, "recipe.mash.rests[#].by").example(
        Block::Mash,
        example,
        bent,
    )
}

/// How a mash reaches a rest.
pub(super) static REST_HEATINGS: Table<Heating> = Table(&[
    Rule {
        row: heating(
            &["by heat"],
            "rest 66 C for 50 min by heat",
            &["rest 66 C for 50 min by infusion", "rest 66 C for 50 min"],
        ),
        read: Heating::Direct,
    },
    Rule {
        row: heating(
            &["by infusion"],
            "rest 66 C for 50 min by infusion",
            &[
                "rest 66 C for 50 min by heat",
                "rest 66 C for 50 min by decoction",
            ],
        ),
        read: Heating::Infusion,
    },
    Rule {
        row: heating(
            &["by decoction"],
            "rest 66 C for 50 min by decoction",
            &[
                "rest 66 C for 50 min by heat",
                "rest 66 C for 50 min by infusion",
            ],
        ),
        read: Heating::Decoction,
    },
]);

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
            self.line_of(&MASH, Block::Mash, child);
        }
    }

    fn mash_item(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.next_addition(Section::Mash);
        let item = self.item(line, cursor.rest(), Block::Mash, Nesting::Alone);
        self.count(item.as_ref());
        let additions = &mut self.recipe.mash.additions;
        additions.extend(item.map(|item| item.addition));
    }

    fn mash_in_line(&mut self, line: &Line<'_>, mut cursor: Cursor<'_, '_>) {
        self.expect_no_lines(line);
        self.states(line.span(), |_| Place::recipe("mash.liquor_l_per_kg"));
        if self.once("mash in", line.span()) {
            self.recipe.mash.liquor = self.read(&mut cursor, "after `mash in`");
            self.expect_end(cursor);
        }
    }

    fn mash_ph_line(&mut self, line: &Line<'_>, mut cursor: Cursor<'_, '_>) {
        self.expect_no_lines(line);
        self.states(line.span(), |_| Place::recipe("mash.ph"));
        if self.once("mash pH", line.span()) {
            self.recipe.mash.ph = self.ph(&mut cursor);
            self.expect_end(cursor);
        }
    }

    fn rest_line(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.expect_no_lines(line);
        self.states(line.span(), Trace::rest);
        let rest = self.rest(cursor);
        self.recipe.mash.rests.extend(rest);
    }

    /// `66 C for 50 min by heat`, temperature and time in any order.
    fn rest(&mut self, mut cursor: Cursor<'_, '_>) -> Option<Rest> {
        let held = self.held(&mut cursor, REST, "in `rest`")?;
        let heating = REST_HEATINGS.opening(cursor.rest());
        if let Some((_, words)) = heating {
            cursor.pass(words);
        }
        if heating.is_none() && cursor.at(&["by"]) {
            let message = format!("expected how the mash is heated, found `{}`", cursor.text());
            self.push(
                Diagnostic::error(Code::UnexpectedWords, cursor.span(), message)
                    .with_help(format!("write {}", REST_HEATINGS.choice())),
            );
        } else {
            self.expect_end(cursor);
        }
        Some(Rest {
            temperature: held.temperature?,
            time: held.time?,
            by: heating.map(|(rule, _)| rule.read),
        })
    }

    fn sparge_line(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.expect_no_lines(line);
        self.states(line.span(), |_| Place::recipe("mash.sparge"));
        if self.once("sparge", line.span()) {
            self.recipe.mash.sparge = self.sparge(cursor);
        }
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
