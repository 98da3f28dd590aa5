//! The `stock` block.

use super::Lower;
use super::item::{Nesting, Stated};
use crate::catalogue::{Catalogue, Kind, Reached};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::Cursor;
use crate::notation::grammar::{Block, Row, Rule, Table, Takes};
use crate::notation::tree::Line;
use crate::recipe::{Amount, Content, Ingredient, Lot, PackSize, Packs};

/// How a stock lists something; the later ones beat the earlier ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    Held,
    Any,
    Missing,
}

impl Way {
    const fn word(self) -> &'static str {
        match self {
            Self::Held => "an amount",
            Self::Any => "any",
            Self::Missing => "none",
        }
    }
}

/// What stands in place of an amount in a stock.
pub(super) static LISTED: Table<Way> = Table(&[
    Rule {
        row: Row::new(Block::Stock, &["any"], "stock.lots[#]")
            .takes(&[Takes::Item])
            .example(
                Block::Stock,
                "any spelt malt",
                &["none spelt malt", "any rye malt"],
            ),
        read: Way::Any,
    },
    Rule {
        row: Row::new(Block::Stock, &["none"], "stock.lots[#]")
            .takes(&[Takes::Item])
            .example(
                Block::Stock,
                "none spelt malt",
                &["any spelt malt", "none rye malt"],
            ),
        read: Way::Missing,
    },
    Rule {
        row: Row::new(Block::Stock, &[], "stock.lots[#]")
            .takes(&[Takes::Item])
            .example(
                Block::Stock,
                "6 kg pale ale malt, 6 EBC",
                &["5 kg pale ale malt, 6 EBC", "6 kg pale ale malt, 7 EBC"],
            ),
        read: Way::Held,
    },
]);

impl Lower<'_> {
    pub(super) fn stock_block(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.expect_end(cursor);
        self.expect_lines(line, "stock", "6 kg pale ale malt");
        self.stock.lots.reserve(line.entries().len());
        for child in line.lines() {
            self.expect_no_lines(child);
            self.lot(child);
        }
    }

    fn lot(&mut self, line: &Line<'_>) {
        let mut cursor = Cursor::new(line.tokens(), line.span());
        let way = match LISTED.opening(cursor.rest()) {
            Some((rule, word)) => {
                cursor.pass(word);
                rule.read
            }
            None => Way::Held,
        };
        self.next_lot(match way {
            Way::Any => "any",
            Way::Missing => "missing",
            Way::Held => "held.ingredient",
        });
        let Some(item) = self.item(line, cursor.rest(), Block::Stock, Nesting::Alone) else {
            return;
        };
        let Content::Single(ingredient) = item.addition.content else {
            return;
        };
        let span = line.span();
        let lot = match (way, item.stated) {
            (Way::Any, Stated::Nothing) => Lot::Any(ingredient),
            (Way::Missing, Stated::Nothing) => Lot::Missing(ingredient),
            (Way::Held, Stated::Amount(amount, at)) => {
                if !self.held_in(&ingredient, &amount, at) {
                    return;
                }
                Lot::held(ingredient, amount)
            }
            (Way::Held, Stated::Nothing) => {
                let message = format!("expected how much `{}` there is", ingredient.name);
                self.push(
                    Diagnostic::error(Code::MissingQuantity, span, message)
                        .with_help("write an amount, `any` or `none` before the name"),
                );
                return;
            }
            (Way::Any | Way::Missing, Stated::Amount(_, at)) => {
                let message = format!("expected a name after `{}`, found an amount", way.word());
                self.push(
                    Diagnostic::error(Code::UnexpectedWords, at, message)
                        .with_help("write either an amount or the word, not both"),
                );
                return;
            }
            (_, Stated::Faulty) => return,
        };
        if matches!(way, Way::Any | Way::Missing) {
            self.general(lot.ingredient(), way, span);
        }
        self.conflicts(lot.ingredient(), way, span);
        self.stock.lots.push(lot);
    }

    /// Whether the ingredient is kept in such a unit.
    fn held_in(&mut self, ingredient: &Ingredient, amount: &Amount, span: Span) -> bool {
        let liquid = is_kept_by_volume(ingredient.kind);
        let kept = matches!(
            amount,
            Amount::Mass(_) | Amount::Volume(_) | Amount::Packs(_) | Amount::PackCount(_)
        );
        if kept && (liquid || !is_by_volume(amount)) {
            return true;
        }
        let expected = if liquid {
            "a mass, a volume or packs"
        } else {
            "a mass or packs"
        };
        let message = format!("expected {expected} of `{}`", ingredient.name);
        self.push(
            Diagnostic::error(Code::StockUnit, span, message).with_help(format!(
                "write how much there is, such as `500 g {}`",
                ingredient.name
            )),
        );
        false
    }

    /// `none wheat`: one ingredient is listed by a name that others go by too.
    fn general(&mut self, ingredient: &Ingredient, way: Way, span: Span) {
        let Some(entry) = &ingredient.entry else {
            return;
        };
        let found = self.catalogue.find(&ingredient.name);
        let is_generic =
            found.is_some_and(|found| matches!(found.reached, Reached::Generic { .. }));
        let is_shared = ingredient.name != *entry && Catalogue::is_everyday(&ingredient.name);
        if is_generic || is_shared {
            let (name, way) = (&ingredient.name, way.word());
            let message = format!(
                "expected one ingredient after `{way}`, found `{name}`, which others are called too; assumed `{entry}`"
            );
            let help = format!("write `{way} {entry}`, and a line for each other one");
            self.push(Diagnostic::warning(Code::UnknownIngredient, span, message).with_help(help));
        }
    }

    fn conflicts(&mut self, ingredient: &Ingredient, way: Way, span: Span) {
        let name = ingredient.catalogue_name().to_lowercase();
        let listed = self.stocked.get(&name).copied();
        let other = listed.filter(|(listed, _)| *listed != way);
        if let Some((other, first)) = other {
            let message = format!(
                "expected `{}` to be listed in one way, found {} and {}",
                ingredient.name,
                other.word(),
                way.word()
            );
            self.push(
                Diagnostic::warning(Code::StockConflict, span, message)
                    .with_label(first, "first listed here")
                    .with_help(
                        "delete one of the lines; `none` beats `any`, and `any` beats amounts",
                    ),
            );
        }
        self.stocked.entry(name).or_insert((way, span));
    }
}

/// Whether such things may be liquid, and then are measured by volume.
pub(super) const fn is_kept_by_volume(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Juice
            | Kind::Beverage
            | Kind::Yeast
            | Kind::Acid
            | Kind::Aid
            | Kind::Other
            | Kind::Sugar
            | Kind::Botanical
    )
}

/// Whether what is measured is a volume.
pub(super) const fn is_by_volume(amount: &Amount) -> bool {
    matches!(
        amount,
        Amount::Volume(_)
            | Amount::Dose(_)
            | Amount::ShareByVolume(_)
            | Amount::Packs(Packs {
                each: PackSize::Volume(_),
                ..
            })
    )
}
