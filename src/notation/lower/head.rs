//! The head of a recipe: name, source, plant, batch, printed figures, water.

use super::Lower;
use crate::diagnostic::{Code, Diagnostic, Place, Span};
use crate::notation::cursor::{ANY, Cursor};
use crate::notation::grammar::{Block, Role, Row, Rule, Table, Takes};
use crate::notation::tree::{Line, Token, span_of, words_of};
use crate::quantity::{Dimension, Extract, Quantity, Written};
use crate::recipe::{Batch, BatchPoint, ShareBasis, Targets};
use std::borrow::Cow;
use std::fmt;

/// Reads the value of a figure of `target` into its slot.
type TargetReader = fn(&mut Lower<'_>, &mut Cursor<'_, '_>, &mut Targets, Label<'_>);

/// The label of a figure, and where the two stand.
#[derive(Clone, Copy)]
pub(super) struct Label<'a> {
    pub(super) text: &'a str,
    pub(super) span: Span,
}

impl fmt::Display for Label<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "after `{}`", self.text)
    }
}

const GRAVITY: &[Takes] = &[Takes::Figure(Role::new(
    "gravity",
    &[Dimension::Gravity, Dimension::Ratio],
))];
const ALCOHOL: &[Takes] = &[Takes::Figure(Role::new("alcohol", &[Dimension::Percent]))];
const BITTERNESS: &[Takes] = &[Takes::Figure(Role::new(
    "bitterness",
    &[Dimension::Bitterness],
))];
const COLOUR: &[Takes] = &[Takes::Figure(Role::new("colour", &[Dimension::Colour]))];
const GAS: &[Takes] = &[Takes::Figure(Role::new(
    "carbon dioxide",
    &[Dimension::Concentration, Dimension::GasVolumes],
))];

const fn printed(
    words: &'static [&'static str],
    field: &'static str,
    takes: &'static [Takes],
    example: &'static str,
    bent: &'static [&'static str],
) -> Row {
    Row::new(Block::Target, words, field)
        .takes(takes)
        .example(Block::Target, example, bent)
}

/// Printed figures.
pub(super) static TARGETS: Table<TargetReader> = Table(&[
    Rule {
        row: printed(
            &["original", "original gravity", "original extract", "OG"],
            "recipe.targets.original_plato",
            GRAVITY,
            "original 12 P",
            &["original 13 P", "original 1.050"],
        ),
        read: |lower, cursor, to, label| lower.target_gravity(cursor, &mut to.original, label),
    },
    Rule {
        row: printed(
            &["final", "final gravity", "final extract", "FG"],
            "recipe.targets.final_plato",
            GRAVITY,
            "final 3 P",
            &["final 2.5 P", "final 1.010"],
        ),
        read: |lower, cursor, to, label| lower.target_gravity(cursor, &mut to.final_extract, label),
    },
    Rule {
        row: printed(
            &["alcohol", "ABV", "alcohol by volume"],
            "recipe.targets.alcohol_abv_pct",
            ALCOHOL,
            "alcohol 5 %",
            &["alcohol 6 %", "5.5 % alcohol by volume"],
        ),
        read: |lower, cursor, to, label| {
            let read = lower.read(cursor, label);
            let _ = cursor.eat(&["abv"]) || cursor.eat(&["vol"]) || cursor.eat(&["by", "volume"]);
            lower.fill(&mut to.alcohol, read, label);
        },
    },
    Rule {
        row: printed(
            &["bitterness"],
            "recipe.targets.bitterness_ibu",
            BITTERNESS,
            "bitterness 30 IBU",
            &["bitterness 40 IBU", "20 IBU bitterness"],
        ),
        read: |lower, cursor, to, label| lower.target_figure(cursor, &mut to.bitterness, label),
    },
    Rule {
        row: printed(
            &["colour", "color"],
            "recipe.targets.colour_ebc",
            COLOUR,
            "colour 20 EBC",
            &["colour 30 EBC", "color 12 SRM"],
        ),
        read: |lower, cursor, to, label| lower.target_figure(cursor, &mut to.colour, label),
    },
    Rule {
        row: printed(
            &["carbonation"],
            "recipe.targets.carbonation_g_l",
            GAS,
            "carbonation 5 g/L",
            &["carbonation 6 g/L", "carbonation 2.4 volumes"],
        ),
        read: |lower, cursor, to, label| lower.target_figure(cursor, &mut to.carbonation, label),
    },
    Rule {
        row: printed(
            &["wort final"],
            "recipe.targets.wort_final_plato",
            GRAVITY,
            "wort final 3 P",
            &["wort final 4 P", "wort final 1.010"],
        ),
        read: |lower, cursor, to, label| lower.target_gravity(cursor, &mut to.wort_final, label),
    },
    Rule {
        row: printed(
            &["wort alcohol"],
            "recipe.targets.wort_alcohol_abv_pct",
            ALCOHOL,
            "wort alcohol 5 %",
            &["wort alcohol 6 %", "wort alcohol 5.5 %"],
        ),
        read: |lower, cursor, to, label| lower.target_figure(cursor, &mut to.wort_alcohol, label),
    },
    Rule {
        row: printed(
            &["wort bitterness"],
            "recipe.targets.wort_bitterness_ibu",
            BITTERNESS,
            "wort bitterness 30 IBU",
            &["wort bitterness 40 IBU", "wort bitterness 25 IBU"],
        ),
        read: |lower, cursor, to, label| {
            lower.target_figure(cursor, &mut to.wort_bitterness, label);
        },
    },
    Rule {
        row: printed(
            &["wort colour", "wort color"],
            "recipe.targets.wort_colour_ebc",
            COLOUR,
            "wort colour 20 EBC",
            &["wort colour 30 EBC", "wort color 12 SRM"],
        ),
        read: |lower, cursor, to, label| lower.target_figure(cursor, &mut to.wort_colour, label),
    },
]);

const VOLUME: Role = Role::new("volume", &[Dimension::Volume]);

/// What stands behind `batch`.
pub(super) const BATCH: &[Takes] = &[Takes::Figure(VOLUME), Takes::MaybeWords(Block::BatchPoint)];

const fn point(
    words: &'static [&'static str],
    example: &'static str,
    bent: &'static [&'static str],
) -> Row {
    Row::new(Block::BatchPoint, words, "recipe.batch.at").example(Block::Text, example, bent)
}

/// Where a batch is counted.
pub(super) static BATCH_POINTS: Table<BatchPoint> = Table(&[
    Rule {
        row: point(
            &["into fermenter", "into the fermenter"],
            "batch 20 L into fermenter",
            &["batch 20 L packaged", "batch 20 L at end of boil"],
        ),
        read: BatchPoint::IntoFermenter,
    },
    Rule {
        row: point(
            &["at end of boil"],
            "batch 20 L at end of boil",
            &["batch 20 L into fermenter", "batch 20 L packaged"],
        ),
        read: BatchPoint::EndOfBoil,
    },
    Rule {
        row: point(
            &["packaged"],
            "batch 20 L packaged",
            &["batch 20 L into fermenter", "batch 20 L at end of boil"],
        ),
        read: BatchPoint::Packaged,
    },
]);

/// What shares are of.
pub(super) static SHARE_BASES: Table<ShareBasis> = Table(&[
    Rule {
        row: Row::new(
            Block::ShareBasis,
            &["by weight", "by mass"],
            "recipe.share_basis",
        )
        .example(Block::Text, "shares by weight", &["shares by extract"]),
        read: ShareBasis::Weight,
    },
    Rule {
        row: Row::new(Block::ShareBasis, &["by extract"], "recipe.share_basis").example(
            Block::Text,
            "shares by extract",
            &["shares by weight", "shares by mass"],
        ),
        read: ShareBasis::Extract,
    },
]);

impl Lower<'_> {
    pub(super) fn recipe_line(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        let span = line.span();
        if let Some(first) = self.named {
            self.push(once_named(Code::SecondRecipe, span, first, "recipe"));
            self.skipping = true;
            return;
        }
        self.named = Some(span);
        self.open(span);
        self.states(span, |_| Place::recipe("name"));
        if cursor.is_empty() {
            self.push(
                Diagnostic::error(
                    Code::MissingName,
                    span,
                    "expected the name of the beer after `recipe`",
                )
                .with_help("put a name after `recipe`, on the same line"),
            );
        }
        self.recipe.name = cursor.text();
        self.expect_no_lines(line);
    }

    pub(super) fn source_line(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.open(line.span());
        self.states(line.span(), |_| Place::recipe("source"));
        if self.once("source", line.span()) && !cursor.is_empty() {
            self.recipe.source = Some(cursor.text());
        }
        self.expect_no_lines(line);
    }

    pub(super) fn brewed_on(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.open(line.span());
        if !self.once("brewed on", line.span()) {
            return;
        }
        self.states(line.span(), |_| Place::recipe("brewed_on"));
        if cursor.is_empty() {
            self.push(
                Diagnostic::error(
                    Code::MissingName,
                    line.span(),
                    "expected the name of a plant after `brewed on`",
                )
                .with_help("use the name given after `brewhouse`"),
            );
            return;
        }
        self.plant_named = Some(cursor.span());
        self.recipe.brewed_on = Some(cursor.text());
        self.expect_no_lines(line);
    }

    pub(super) fn recipe_batch(&mut self, line: &Line<'_>, mut cursor: Cursor<'_, '_>) {
        self.open(line.span());
        self.states(line.span(), |_| Place::recipe("batch"));
        if self.once("batch", line.span()) {
            self.recipe.batch = self.batch(&mut cursor);
            self.expect_end(cursor);
        }
        self.expect_no_lines(line);
    }

    /// `20 hL into fermenter`
    pub(super) fn batch(&mut self, cursor: &mut Cursor<'_, '_>) -> Option<Batch> {
        let Some(volume) = self.read(cursor, "after `batch`") else {
            cursor.skip(usize::MAX);
            return None;
        };
        let at = match BATCH_POINTS.opening(cursor.rest()) {
            Some((point, words)) => {
                cursor.pass(words);
                point.read
            }
            None if cursor.is_empty() => BatchPoint::IntoFermenter,
            None => {
                let message = format!(
                    "expected where the batch is counted, found `{}`",
                    cursor.text()
                );
                self.push(
                    Diagnostic::error(Code::UnexpectedWords, cursor.span(), message)
                        .with_help(format!("write {}", BATCH_POINTS.choice())),
                );
                cursor.skip(usize::MAX);
                return None;
            }
        };
        Some(Batch { volume, at })
    }

    pub(super) fn shares_line(&mut self, line: &Line<'_>, mut cursor: Cursor<'_, '_>) {
        self.open(line.span());
        if !self.once("shares", line.span()) {
            return;
        }
        self.states(line.span(), |_| Place::recipe("share_basis"));
        self.expect_no_lines(line);
        let Some((basis, words)) = SHARE_BASES.opening(cursor.rest()) else {
            let message = format!("expected {} after `shares`", SHARE_BASES.choice());
            self.push(
                Diagnostic::error(Code::UnexpectedWords, cursor.span(), message)
                    .with_help("state `shares by weight`, the usual meaning"),
            );
            return;
        };
        cursor.pass(words);
        self.recipe.share_basis = basis.read;
        self.basis_line = Some(line.span());
        self.expect_end(cursor);
    }

    pub(super) fn target_line(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.open(line.span());
        self.target_line = Some(line.span());
        self.states(line.span(), |_| Place::recipe("targets"));
        let mut targets = std::mem::take(&mut self.recipe.targets);
        for tokens in std::iter::once(cursor.rest()).chain(line.lines().map(Line::tokens)) {
            for clause in tokens.split(Token::is_comma) {
                if !clause.is_empty() {
                    self.target(clause, &mut targets);
                }
            }
        }
        if cursor.is_empty() {
            self.expect_lines(line, "target", "original 12 P");
        }
        self.recipe.targets = targets;
    }

    fn target(&mut self, clause: &[Token<'_>], targets: &mut Targets) {
        let span = span_of(clause).unwrap_or_default();
        let (text, mut cursor) = labelled(clause, span);
        let Some(Rule { row, read }) = TARGETS.named(&text) else {
            self.unknown_figure(&text, span, "a target figure", &TARGETS);
            return;
        };
        self.states(span, |_| Place::recipe(row.field_of("recipe")));
        read(self, &mut cursor, targets, Label { text: &text, span });
        self.expect_end(cursor);
    }

    fn target_figure<Q: Quantity>(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        slot: &mut Option<Written<Q>>,
        label: Label<'_>,
    ) {
        let read = self.read(cursor, label);
        self.fill(slot, read, label);
    }

    fn target_gravity(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        slot: &mut Option<Written<Extract>>,
        label: Label<'_>,
    ) {
        let read = self.gravity(cursor, label);
        self.fill(slot, read, label);
    }

    /// Fills a slot with what was read, if anything was.
    pub(super) fn fill<Q: Quantity>(
        &mut self,
        slot: &mut Option<Written<Q>>,
        read: Option<Written<Q>>,
        label: Label<'_>,
    ) {
        if let Some(written) = read {
            self.set(slot, written, label.text, label.span);
        }
    }

    pub(super) fn unknown_figure<R>(
        &mut self,
        label: &str,
        span: Span,
        what: &str,
        table: &Table<R>,
    ) {
        let near = self.near(label, table.words());
        let help = match near.first() {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("write one of: {}", table.listed()),
        };
        let message = if label.is_empty() {
            format!("expected the name of {what} beside the number")
        } else {
            format!("expected the name of {what}, found `{label}`")
        };
        self.push(Diagnostic::error(Code::UnknownAttribute, span, message).with_help(help));
    }
}

/// The finding that there are two of what there may be one of in all texts.
pub(super) fn once_named(code: Code, span: Span, first: Span, what: &str) -> Diagnostic {
    Diagnostic::error(
        code,
        span,
        format!("expected one {what} in these texts, found a second one"),
    )
    .with_label(first, format!("the first {what} begins here"))
    .with_help("read them separately")
}

/// The label of a clause and its value, whichever stands first.
pub(super) fn labelled<'t, 'a>(
    clause: &'t [Token<'a>],
    span: Span,
) -> (Cow<'t, str>, Cursor<'t, 'a>) {
    let number = clause.iter().position(Token::is_number);
    match number {
        Some(0) => {
            let mut ahead = Cursor::new(clause, span);
            if ahead.measure(ANY).is_none() {
                ahead.skip(1);
            }
            let (value, label) = clause.split_at(clause.len() - ahead.rest().len());
            (words_of(label), Cursor::new(value, span))
        }
        Some(at) => {
            let (label, value) = clause.split_at(at);
            (words_of(label), Cursor::new(value, span))
        }
        None => (words_of(clause), Cursor::new(&[], span)),
    }
}
