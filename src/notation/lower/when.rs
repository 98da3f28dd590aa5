//! The timing at the end of an item.

use super::Lower;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::Cursor;
use crate::notation::grammar::{Block, Row};
use crate::notation::timing::{Keyword, LEFT, WARMTH, opening};
use crate::notation::tree::{Token, span_of};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Time, Unit, Written, in_minutes};
use crate::recipe::{At, Timing};

impl Lower<'_> {
    /// Reads phrases such as `on day 5 for 3 days` into `timing`.
    pub(super) fn timing(&mut self, tokens: &[Token<'_>], stage: Block, timing: &mut Timing) {
        let span = span_of(tokens).unwrap_or_default();
        let mut cursor = Cursor::new(tokens, span);
        while let Some((rule, length)) = opening(cursor.rest()) {
            let start = cursor.here();
            cursor.skip(length);
            match rule.read {
                Keyword::For => {
                    if let Some(time) = self.read(&mut cursor, "after `for`") {
                        let first = timing.contact.replace(time);
                        self.stated_before(first.as_ref(), "for", start);
                    }
                }
                keyword => {
                    if let Some(at) = self.at(&mut cursor, keyword, &rule.row, stage, start) {
                        let first = timing.at.replace(at);
                        self.stated_before(first.as_ref(), rule.row.word(), start);
                    }
                }
            }
        }
        self.expect_end(cursor);
    }

    fn stated_before<T>(&mut self, before: Option<&T>, what: &str, at: Span) {
        if before.is_some() {
            self.push(
                Diagnostic::error(
                    Code::ConflictingFacts,
                    at,
                    format!(
                        "expected one time of this kind on the line, found `{what}` after another"
                    ),
                )
                .with_help("write one line for each addition"),
            );
        }
    }

    fn at(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        keyword: Keyword,
        row: &Row,
        stage: Block,
        start: Span,
    ) -> Option<At> {
        match keyword {
            Keyword::AtFirstWort => {
                let meaning = "`at first wort` belongs to the kettle";
                self.fits(stage, row.among, start, meaning)?;
                Some(At::FirstWort)
            }
            Keyword::When => {
                let gravity = self.gravity(cursor, "after `when`")?;
                let meaning = "`when` gives the falling gravity in the fermenter";
                self.fits(stage, row.among, start, meaning)?;
                self.waits.push((gravity, start));
                Some(At::Gravity(gravity))
            }
            Keyword::OnDay => {
                let day = self.day(cursor)?;
                self.fits(stage, row.among, start, "`on day` counts from pitching")?;
                Some(At::AfterPitching(day))
            }
            Keyword::At | Keyword::For => {
                let measure = self.measure(cursor, Keyword::At.fits(), "after `at`")?;
                if measure.unit.dimension() == Dimension::Temperature {
                    let temperature = self.written(&measure)?;
                    let meaning = "`at` with a temperature belongs to a stand or to the fermenter";
                    self.fits(stage, WARMTH.among, start, meaning)?;
                    return Some(At::Temperature(temperature));
                }
                let left: Written<Time> = self.written(&measure)?;
                let meaning = "`at` with a time counts the boiling time left";
                self.fits(stage, LEFT.among, start, meaning)?;
                self.within_boil(&left, measure.span);
                Some(At::TimeLeft(left))
            }
        }
    }

    /// Complains of a timing in the wrong block.
    fn fits(&mut self, stage: Block, homes: &[Block], at: Span, meaning: &str) -> Option<()> {
        if homes.contains(&stage) {
            return Some(());
        }
        let home = homes.first().map_or("boil", |home| home.home());
        let found = stage.home();
        self.push(
            Diagnostic::error(
                Code::WrongTiming,
                at,
                format!("{meaning}, found it in `{found}`"),
            )
            .with_help(match stage {
                Block::Log => {
                    "write `on day` and the day; a gravity has a `reading` line".to_owned()
                }
                _ => format!("move the line below `{home}`, or write `for` and a contact time"),
            }),
        );
        None
    }

    fn within_boil(&mut self, left: &Written<Time>, span: Span) {
        let Some(boil) = self.recipe.boil.time else {
            return;
        };
        if in_minutes(left.value()) > in_minutes(boil.value()) {
            let diagnostic = Diagnostic::error(
                Code::AdditionBeforeBoil,
                span,
                format!("expected at most {boil}, which is the length of the boil, found {left}"),
            )
            .with_help("lengthen the boil, or write `at first wort` for hops that go in before it");
            let diagnostic = match self.boil_line {
                Some(line) => diagnostic.with_label(line, "the boil begins here"),
                None => diagnostic,
            };
            self.push(diagnostic);
        }
    }

    /// The day behind `on day`, counted from pitching.
    pub(super) fn day(&mut self, cursor: &mut Cursor<'_, '_>) -> Option<Written<Time>> {
        let here = cursor.here();
        let number = cursor.number()?;
        cursor.skip(1);
        if self.bad_number(number, here) {
            return None;
        }
        match Written::stated(AsWritten::marked(number.marked()?, Unit::Day)) {
            Ok(days) => Some(days),
            Err(error) => {
                self.push(
                    Diagnostic::error(Code::OutOfRange, here, error.message().to_owned())
                        .with_help("count days from pitching, which is day 0"),
                );
                None
            }
        }
    }
}
