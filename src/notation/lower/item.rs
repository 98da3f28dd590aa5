//! An item: amount, name, attributes, timing, and the parts of a blend below it.

use super::Lower;
use crate::catalogue::Kind;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::Cursor;
use crate::notation::grammar::Block;
use crate::notation::timing;
use crate::notation::tree::{Line, Token, span_of, text_of};
use crate::recipe::{Addition, Amount, Content, Facts, MEASURED_IN, Timing};

/// What stands where an amount belongs.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Stated {
    /// Nothing.
    Nothing,
    /// Something that was complained of.
    Faulty,
    /// An amount.
    Amount(Amount, Span),
}

/// Whether an item is a part of a blend.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Nesting {
    Alone,
    PartOfBlend,
}

/// An item that was read, with the place of its amount.
pub(super) struct Item {
    pub(super) addition: Addition,
    pub(super) stated: Stated,
    pub(super) span: Span,
}

impl Lower<'_> {
    /// The item that `tokens` of `line` state; nothing if it has no name and no parts.
    pub(super) fn item(
        &mut self,
        line: &Line<'_>,
        tokens: &[Token<'_>],
        stage: Block,
        place: Nesting,
    ) -> Option<Item> {
        if stage != Block::Log {
            self.item_states(line.span(), "");
        }
        let mut timing = Timing::default();
        let mut clauses = tokens.split(Token::is_comma);
        let first = clauses.next().unwrap_or(&[]);
        let first = self.without_timing(first, stage, &mut timing);
        let mut cursor = Cursor::new(first, line.span());
        self.words_before_amount(&mut cursor);
        let from = cursor.rest();
        let stated = self.amount(&mut cursor, stage, place);
        let amount = from.get(..from.len() - cursor.rest().len()).unwrap_or(&[]);
        // Stocks and logs have no blends; their block has complained of lines below an item.
        if let Some(child) = line
            .lines()
            .next()
            .filter(|_| !matches!(stage, Block::Stock | Block::Log))
        {
            // `blend at 10 min`: the amounts of the parts are all that is stated.
            if stated == Stated::Nothing && cursor.at(&["blend"]) && cursor.rest().len() == 1 {
                cursor.skip(1);
            }
            if cursor.is_empty() && place == Nesting::Alone {
                let parts = self.parts(line, stage);
                for clause in clauses {
                    let rest = self.without_timing(clause, stage, &mut timing);
                    self.expect_end(Cursor::new(rest, line.span()));
                }
                return Some(blend(line, parts, stated, timing));
            }
            self.shares_unsure = true;
            self.push(
                Diagnostic::error(
                    Code::UnexpectedLines,
                    child.span(),
                    "expected no line indented below an ingredient",
                )
                .with_help(
                    "give it the indent of the line above; parts of a blend go below a line with an amount and no name",
                ),
            );
        }
        if cursor.is_empty() {
            self.push(
                Diagnostic::error(
                    Code::MissingName,
                    line.span(),
                    "expected the name of an ingredient on this line",
                )
                .with_help("write its name after the amount, or indent the parts of a blend below the line"),
            );
            return None;
        }
        let named = self.name(&mut cursor);
        let mut facts = Facts::default();
        // What the catalogue does not know may have any figure, unless a host says what it is.
        let declared = || self.declared.get(&named.text).copied();
        let of = named.kind().or_else(declared).unwrap_or(Kind::Other);
        let kind = (named.kind(), of);
        if !cursor.is_empty() {
            self.stated_figure(cursor.rest(), &mut facts, kind, stage);
        }
        for clause in clauses {
            let rest = self.without_timing(clause, stage, &mut timing);
            if !rest.is_empty() {
                self.stated_figure(rest, &mut facts, kind, stage);
            }
        }
        let span = named.span;
        let ingredient = self.ingredient(named, facts, stage, &stated);
        let stated = self.fitting_amount(stated, &ingredient, stage, place, span);
        self.slips_of_amount(amount, &stated, &ingredient);
        let addition = Addition {
            amount: match &stated {
                Stated::Amount(amount, _) => Some(amount.clone()),
                _ => None,
            },
            content: Content::Single(ingredient),
            timing,
        };
        Some(Item {
            addition,
            stated,
            span: line.span(),
        })
    }

    /// Reads one attribute into `facts`, and notes which it is.
    fn stated_figure(
        &mut self,
        tokens: &[Token<'_>],
        facts: &mut Facts,
        (kind, of): (Option<Kind>, Kind),
        stage: Block,
    ) {
        if let Some(row) = self.attribute(tokens, facts, kind) {
            self.figure_states(span_of(tokens).unwrap_or_default(), row.field);
            self.expect_of(of, stage, row, tokens);
        }
    }

    /// The clause without the timing at its end, which is read.
    fn without_timing<'t, 'a>(
        &mut self,
        clause: &'t [Token<'a>],
        stage: Block,
        timing: &mut Timing,
    ) -> &'t [Token<'a>] {
        let length = timing::length_at_end(clause);
        let (rest, when) = clause.split_at(clause.len() - length);
        if !when.is_empty() {
            if stage != Block::Log {
                self.item_states(span_of(when).unwrap_or_default(), "timing");
            }
            self.timing(when, stage, timing);
        }
        rest
    }

    /// `dry hop 30 g cascade`: an ingredient behind an amount that does not stand first. Passes over the words.
    fn words_before_amount(&mut self, cursor: &mut Cursor<'_, '_>) {
        let Some(at) = cursor
            .rest()
            .iter()
            .position(Token::is_number)
            .filter(|at| *at > 0)
        else {
            return;
        };
        let (before, item) = cursor.rest().split_at(at);
        let mut ahead = Cursor::new(item, cursor.here());
        let behind = ahead.measure(MEASURED_IN).is_some() && !ahead.is_empty();
        if !behind
            || self.catalogue.longest_match(&ahead.text()).is_none()
            || self.catalogue.longest_match(&cursor.text()).is_some()
        {
            return;
        }
        let words = text_of(before);
        let message = format!("expected the amount at the start of the line, found `{words}`");
        self.push(
            Diagnostic::error(
                Code::UnexpectedWords,
                span_of(before).unwrap_or_default(),
                message,
            )
            .with_help(format!("delete `{words}`, and write `{}`", text_of(item))),
        );
        cursor.skip(at);
    }

    fn parts(&mut self, line: &Line<'_>, stage: Block) -> Vec<Addition> {
        let mut items = Vec::new();
        for (index, part) in line.lines().enumerate() {
            let read =
                |lower: &mut Self| lower.item(part, part.tokens(), stage, Nesting::PartOfBlend);
            items.extend(self.in_part(index, read));
        }
        self.check_blend(&items, line.span());
        items.into_iter().map(|item| item.addition).collect()
    }
}

fn blend(line: &Line<'_>, parts: Vec<Addition>, stated: Stated, timing: Timing) -> Item {
    Item {
        addition: Addition {
            content: Content::Blend(parts),
            amount: match &stated {
                Stated::Amount(amount, _) => Some(amount.clone()),
                _ => None,
            },
            timing,
        },
        stated,
        span: line.span(),
    }
}
