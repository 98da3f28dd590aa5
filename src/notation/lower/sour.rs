//! The `sour` line: wort soured by bacteria before the boil.

use super::item::Nesting;
use super::{LineReader, Lower};
use crate::diagnostic::{Code, Diagnostic, Place};
use crate::notation::cursor::Cursor;
use crate::notation::grammar::{Block, Role, Row, Rule, Table, Takes};
use crate::notation::tree::{Line, Token};
use crate::quantity::Dimension;
use crate::recipe::{Souring, Timing};
use std::ops::RangeInclusive;

/// What stands behind `sour`, in any order.
pub(super) const SOUR: &[Takes] = &[
    Takes::Figure(
        Role::new("time", &[Dimension::Time])
            .after(&["for"])
            .optional(),
    ),
    Takes::Figure(
        Role::new("temperature", &[Dimension::Temperature])
            .after(&["at"])
            .optional(),
    ),
    Takes::Figure(
        Role::new("pH", &[Dimension::Ph])
            .after(&["to pH", "until pH", "to", "until", "pH"])
            .optional(),
    ),
    Takes::Figure(
        Role::new("acid", &[Dimension::Ph])
            .after(&["from pH", "from"])
            .optional(),
    ),
    Takes::MaybeWords(Block::Sour),
];

/// The bacteria, behind the figures.
pub(super) static SOURED_WITH: Table<LineReader> = Table(&[Rule {
    row: Row::new(Block::Sour, &["with"], "recipe.souring.culture")
        .takes(&[Takes::Item])
        .example(
            Block::Text,
            "sour for 2 days at 38 C with 10 g lactobacillus culture",
            &[
                "sour for 2 days at 38 C with 20 g lactobacillus culture",
                "sour for 2 days at 38 C, 1 pack live yoghurt",
            ],
        ),
    read: |lower, line, cursor| lower.culture(line, cursor),
}]);

/// pH to which lactic bacteria bring a wort: they stop near 2.9 (common practice, no source), and above 4.6 nothing is sour.
const SOURED: RangeInclusive<f64> = 2.8..=4.6;
/// pH to which acid may bring a wort before them: below, they have nothing left to do; above, it is that of the wort (common practice, no
/// source).
const ACIDIFIED: RangeInclusive<f64> = 3.8..=5.4;

impl Lower<'_> {
    /// `for 2 days at 38 C to pH 3.4 with lactobacillus culture`, figures in any order.
    pub(super) fn sour_line(&mut self, line: &Line<'_>, mut cursor: Cursor<'_, '_>) {
        self.open(line.span());
        if !self.once("sour", line.span()) {
            return;
        }
        self.expect_no_lines(line);
        self.states(line.span(), |_| Place::recipe("souring"));
        self.recipe.souring = Some(self.soured(&mut cursor));
        let comma = cursor.rest().first().is_some_and(Token::is_comma);
        cursor.skip(usize::from(comma));
        if cursor.eat(&["with"]) || comma || !cursor.is_empty() {
            self.culture(line, cursor);
        }
    }

    /// The figures, until something else stands there.
    fn soured(&mut self, cursor: &mut Cursor<'_, '_>) -> Souring {
        let mut souring = Souring::default();
        loop {
            let here = cursor.here();
            let from = acid_before(cursor);
            let to = !from && ["to", "until"].iter().any(|word| cursor.eat(&[word]));
            if cursor.eat(&["pH"]) || to || from {
                let Some(ph) = self.ph(cursor) else {
                    break;
                };
                let (range, slot, word) = if from {
                    (ACIDIFIED, &mut souring.from, "acid")
                } else {
                    (SOURED, &mut souring.to, "pH")
                };
                let before = [["before", "pitching"], ["before", "souring"]];
                let _ = from && before.iter().any(|words| cursor.eat(words));
                if range.contains(&ph.number()) {
                    self.set(slot, ph, word, here);
                } else {
                    let (low, high) = (range.start(), range.end());
                    let found = ph.number();
                    let message = format!("expected a pH from {low} to {high}, found {found}");
                    self.out_of_range(message, here);
                }
                continue;
            }
            let linked = ["for", "at"].iter().any(|word| cursor.eat(&[word]));
            let either = [Dimension::Time, Dimension::Temperature];
            // `10 g lactobacillus` is no figure of the souring.
            let mut ahead = *cursor;
            if !linked && ahead.measure(&either).is_none() {
                break;
            }
            let Some(measure) = self.measure(cursor, &either, "in `sour`") else {
                break;
            };
            if measure.unit.dimension() == Dimension::Time {
                if let Some(time) = self.written(&measure) {
                    self.set(&mut souring.time, time, "time", measure.span);
                }
            } else if let Some(at) = self.written(&measure) {
                self.set(&mut souring.temperature, at, "temperature", measure.span);
            }
        }
        souring
    }

    /// The bacteria: an ingredient with its amount.
    fn culture(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.next_item("content.single", |_| Place::souring_culture());
        let here = cursor.span();
        let Some(item) = self.item(line, cursor.rest(), Block::Sour, Nesting::Alone) else {
            return;
        };
        if item.addition.timing != Timing::default() {
            self.push(
                Diagnostic::error(
                    Code::WrongTiming,
                    here,
                    "expected the time and the temperature of souring before `with`, found them after the culture",
                )
                .with_help("write `sour for 2 days at 38 C with lactobacillus culture`"),
            );
        }
        if let Some(souring) = &mut self.recipe.souring {
            souring.culture = Some(item.addition);
        }
    }
}

/// Whether the acid that goes in before the bacteria is next: `from pH 4.5`, `, acid to pH 4.5`; its words are taken.
fn acid_before(cursor: &mut Cursor<'_, '_>) -> bool {
    let mut ahead = *cursor;
    let comma = ahead.rest().first().is_some_and(Token::is_comma);
    ahead.skip(usize::from(comma));
    let acids: [&[&str]; 4] = [
        &["from"],
        &["acid", "to"],
        &["acidified", "to"],
        &["acidify", "to"],
    ];
    let is_next = acids.iter().any(|words| ahead.eat(words));
    if is_next {
        *cursor = ahead;
    }
    is_next
}
