//! How a plant lauters, and the yield that it is known to reach.

use super::Lower;
use super::plant_word::at_most_once;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::Cursor;
use crate::notation::grammar::{Block, Role, Row, Rule, Table, Takes};
use crate::notation::tree::{Token, span_of};
use crate::quantity::{BrewhouseYield, Dimension, Number, Written};
use crate::recipe::{
    Bag, BatchSparge, ContinuousSparge, Lauter, StatedYield, YieldBasis, YieldPoint,
};

/// A yield above this is rarely true (common practice, no source).
const HIGH_YIELD_PERCENT: f64 = 98.0;

const fn way(
    words: &'static [&'static str],
    example: &'static str,
    bent: &'static [&'static str],
) -> Row {
    Row::new(Block::Lauter, words, "brewhouses[*].lauter").example(Block::Brewhouse, example, bent)
}

/// Ways of lautering.
pub(super) static LAUTERS: Table<fn() -> Lauter> = Table(&[
    Rule {
        row: way(
            &["bag"],
            "lauter bag",
            &["lauter batch", "lauter continuous"],
        ),
        read: || Lauter::Bag(Bag::default()),
    },
    Rule {
        row: way(
            &["batch"],
            "lauter batch, sparges 2",
            &["lauter bag", "lauter continuous"],
        ),
        read: || Lauter::Batch(BatchSparge::new(1)),
    },
    Rule {
        row: way(
            &["continuous"],
            "lauter continuous",
            &["lauter bag", "lauter batch, sparges 2"],
        ),
        read: || Lauter::Continuous(ContinuousSparge::default()),
    },
    Rule {
        row: way(&["none"], "lauter none", &["lauter bag", "lauter batch"]),
        read: || Lauter::NoMash,
    },
]);

/// Reads the figure of a way of lautering; `false` if this way has no such figure.
type LauterReader = fn(&mut Lower<'_>, &mut Cursor<'_, '_>, &mut Lauter) -> bool;

/// The figures that ways of lautering have.
pub(super) static LAUTER_FIGURES: Table<LauterReader> = Table(&[
    Rule {
        row: Row::new(
            Block::LauterFigure,
            &["sparge"],
            "brewhouses[*].lauter.bag.sparge_l",
        )
        .takes(&[Takes::Figure(Role::new("volume", &[Dimension::Volume]))])
        .example(
            Block::Brewhouse,
            "lauter bag, sparge 2 L",
            &["lauter bag, sparge 3 L", "lauter bag, sparge 1 gal"],
        ),
        read: |lower, cursor, lauter| match lauter {
            Lauter::Bag(bag) => {
                bag.sparge = lower.read(cursor, "after `sparge`");
                true
            }
            Lauter::Batch(batch) => lower.sparges(cursor, batch),
            _ => false,
        },
    },
    Rule {
        row: Row::new(
            Block::LauterFigure,
            &["sparges"],
            "brewhouses[*].lauter.batch.sparges",
        )
        // A count has no unit.
        .takes(&[Takes::Figure(Role::new("number of sparges", &[]))])
        .example(
            Block::Brewhouse,
            "lauter batch, sparges 2",
            &["lauter batch, sparges 3", "lauter batch, sparges 1"],
        ),
        read: |lower, cursor, lauter| match lauter {
            Lauter::Batch(batch) => lower.sparges(cursor, batch),
            _ => false,
        },
    },
    Rule {
        row: Row::new(
            Block::LauterFigure,
            &["yield"],
            "brewhouses[*].lauter.continuous.yield_pct",
        )
        .takes(&[Takes::Figure(Role::new("share", &[Dimension::Percent]))])
        .example(
            Block::Brewhouse,
            "lauter continuous, yield 96 %",
            &[
                "lauter continuous, yield 90 %",
                "lauter continuous, yield 88 %",
            ],
        ),
        read: |lower, cursor, lauter| match lauter {
            Lauter::Continuous(tun) => {
                tun.reached = lower.yield_percent(cursor, "after `yield`");
                true
            }
            _ => false,
        },
    },
]);

const fn of_yield(
    block: Block,
    words: &'static [&'static str],
    field: &'static str,
    example: &'static str,
    bent: &'static [&'static str],
) -> Row {
    Row::new(block, words, field).example(Block::Brewhouse, example, bent)
}

/// What a yield is a share of, where it is not the laboratory extract.
pub(super) static YIELD_BASES: Table<YieldBasis> = Table(&[Rule {
    row: of_yield(
        Block::YieldBasis,
        &["of grist"],
        "brewhouses[*].extract_yield.of",
        "extract yield 76 % of grist",
        &["extract yield 76 %"],
    ),
    read: YieldBasis::Grist,
}]);

/// Where a yield is counted, where it is not the end of the boil.
pub(super) static YIELD_POINTS: Table<YieldPoint> = Table(&[Rule {
    row: of_yield(
        Block::YieldPoint,
        &["in fermenter", "into fermenter"],
        "brewhouses[*].extract_yield.at",
        "extract yield 85 % in fermenter",
        &["extract yield 85 %"],
    ),
    read: YieldPoint::IntoFermenter,
}]);

impl Lower<'_> {
    pub(super) fn lauter(&mut self, cursor: &mut Cursor<'_, '_>, span: Span) -> Option<Lauter> {
        let mut clauses = cursor.rest().split(Token::is_comma);
        let mut way = Cursor::new(clauses.next().unwrap_or(&[]), span);
        let tail = way.rest().len();
        let Some((rule, words)) = LAUTERS.opening(way.rest()) else {
            self.choose(&mut way, "lauter", &LAUTERS);
            cursor.skip(usize::MAX);
            return None;
        };
        way.pass(words);
        self.expect_end(way);
        cursor.skip(tail);
        let mut lauter = (rule.read)();
        self.lauter_figures(cursor, &mut lauter);
        Some(lauter)
    }

    /// What stands behind the way of lautering.
    pub(super) fn lauter_figures(&mut self, cursor: &mut Cursor<'_, '_>, lauter: &mut Lauter) {
        let mut clauses = cursor.rest().split(Token::is_comma);
        // Of `no mash at all` the words behind.
        self.expect_end(Cursor::new(clauses.next().unwrap_or(&[]), cursor.here()));
        cursor.skip(usize::MAX);
        let mut clauses = clauses.filter(|clause| !clause.is_empty());
        if let Some(clause) = clauses.next() {
            self.lauter_figure(clause, lauter);
        }
        // No way of lautering has two figures.
        for clause in clauses {
            self.expect_end(Cursor::new(clause, Span::default()));
        }
    }

    fn lauter_figure(&mut self, clause: &[Token<'_>], lauter: &mut Lauter) {
        let span = span_of(clause).unwrap_or_default();
        let mut cursor = Cursor::new(clause, span);
        if let Some((rule, words)) = LAUTER_FIGURES.opening(clause) {
            let is_sparge = rule.row.word() != "yield";
            let mut behind = cursor;
            behind.pass(words);
            if *lauter == Lauter::NoMash && is_sparge {
                self.push(
                    Diagnostic::error(
                        Code::SpargeWithoutMash,
                        span,
                        "expected no sparge in a plant with `no mash`",
                    )
                    .with_help("delete the sparge, or write `lauter bag` if the plant mashes"),
                );
                return;
            }
            if (rule.read)(self, &mut behind, lauter) {
                cursor = behind;
            }
        }
        self.expect_end(cursor);
    }

    fn sparges(&mut self, cursor: &mut Cursor<'_, '_>, batch: &mut BatchSparge) -> bool {
        let here = cursor.here();
        let number = cursor.bump().and_then(Token::number);
        let count = number.and_then(Number::value);
        match count.filter(|count| count.fract() == 0.0 && (0.0..=20.0).contains(count)) {
            Some(count) => batch.sparges = count as u32,
            None => self.push(
                Diagnostic::error(
                    Code::OutOfRange,
                    here,
                    "expected how many sparges there are, 0 to 20",
                )
                .with_help("write a whole number, such as `lauter batch, sparges 2`"),
            ),
        }
        true
    }

    /// `91 %`, `76 % of grist`, `88 % in fermenter`
    pub(super) fn stated_yield(&mut self, cursor: &mut Cursor<'_, '_>) -> Option<StatedYield> {
        let value = self.yield_percent(cursor, "after `extract yield`")?;
        let of = at_most_once(cursor, &YIELD_BASES).unwrap_or(YieldBasis::LaboratoryExtract);
        let at = at_most_once(cursor, &YIELD_POINTS).unwrap_or(YieldPoint::EndOfBoil);
        Some(StatedYield { value, of, at })
    }

    fn yield_percent(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        place: &str,
    ) -> Option<Written<BrewhouseYield>> {
        let measure = self.measure(cursor, &[Dimension::Percent], place)?;
        if measure.number > HIGH_YIELD_PERCENT {
            let found = measure.number;
            let (diagnostic, usable) = if found > 100.0 {
                let message = format!("expected a yield of at most 100 %, found {found} %");
                (
                    Diagnostic::error(Code::YieldTooHigh, measure.span, message),
                    false,
                )
            } else {
                let message = format!("a yield of {found} % is above any real brewhouse yield");
                (
                    Diagnostic::warning(Code::YieldTooHigh, measure.span, message),
                    true,
                )
            };
            self.push(diagnostic.with_help(
                "give the yield as a share of the malt's laboratory extract, or add `of grist` if it is per weight of malt",
            ));
            if !usable {
                return None;
            }
        }
        self.written(&measure)
    }
}
