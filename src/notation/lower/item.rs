//! An item: amount, name, attributes, timing, and the parts of a blend below it.

use super::Lower;
use super::attribute;
use super::quantity::glued;
use crate::catalogue::Kind;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::{AMOUNT, Cursor};
use crate::notation::timing;
use crate::notation::tree::{Line, Token, TokenKind, text_of};
use crate::quantity::{Dimension, VolumeShare, Written};
use crate::recipe::{Addition, Amount, Content, Facts, Ingredient, PackSize, Timing};

/// Where an item stands; it decides what its line needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stage {
    Mash,
    Boil,
    Stand,
    Pitch,
    Ferment,
    Package,
    Stock,
    Log,
}

impl Stage {
    pub(super) const fn block(self) -> &'static str {
        match self {
            Self::Mash => "mash",
            Self::Boil => "boil",
            Self::Stand => "stand",
            Self::Pitch | Self::Ferment => "ferment",
            Self::Package => "package",
            Self::Stock => "stock",
            Self::Log => "log",
        }
    }
}

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
pub(super) enum Place {
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
        stage: Stage,
        place: Place,
    ) -> Option<Item> {
        let mut timing = Timing::default();
        let mut clauses = tokens.split(|token| token.kind == TokenKind::Comma);
        let first = clauses.next().unwrap_or(&[]);
        let first = self.without_timing(first, stage, &mut timing);
        let mut cursor = Cursor::new(first, line.span());
        let stated = self.amount(&mut cursor, stage, place);
        // Stocks and logs have no blends; their block has complained of lines below an item.
        if let Some(child) = line
            .lines()
            .next()
            .filter(|_| !matches!(stage, Stage::Stock | Stage::Log))
        {
            if cursor.is_empty() && place == Place::Alone {
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
                    "give it the indent of the line above; parts of a blend stand below a line with an amount and no name",
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
                .with_help("write its name behind the amount, or indent the parts of a blend below the line"),
            );
            return None;
        }
        let named = self.name(&mut cursor);
        let mut facts = Facts::default();
        let kind = named.kind();
        if !cursor.is_empty() {
            self.attribute(cursor.rest(), &mut facts, kind);
        }
        for clause in clauses {
            let rest = self.without_timing(clause, stage, &mut timing);
            if !rest.is_empty() {
                self.attribute(rest, &mut facts, kind);
            }
        }
        let span = named.span;
        let ingredient = self.ingredient(named, facts, stage, &stated);
        let stated = self.fitting_amount(stated, &ingredient, stage, place, span);
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

    /// The clause without the timing at its end, which is read.
    fn without_timing<'t, 'a>(
        &mut self,
        clause: &'t [Token<'a>],
        stage: Stage,
        timing: &mut Timing,
    ) -> &'t [Token<'a>] {
        let length = timing::length_at_end(clause);
        let (rest, when) = clause.split_at(clause.len() - length);
        if !when.is_empty() {
            self.timing(when, stage, timing);
        }
        rest
    }

    fn parts(&mut self, line: &Line<'_>, stage: Stage) -> Vec<Addition> {
        let mut items = Vec::new();
        for part in line.lines() {
            if let Some(item) = self.item(part, part.tokens(), stage, Place::PartOfBlend) {
                items.push(item);
            }
        }
        self.check_blend(&mut items, line.span());
        items.into_iter().map(|item| item.addition).collect()
    }

    /// What stands where an amount belongs; passes over it.
    pub(super) fn amount(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        stage: Stage,
        place: Place,
    ) -> Stated {
        let start = cursor.here();
        if let Some(number) = cursor.number() {
            let mut ahead = *cursor;
            ahead.skip(1);
            if ahead.eat(&["x"]) {
                let count = number.value();
                if self.bad_number(number, start) {
                    *cursor = ahead;
                    let _ = cursor.measure(AMOUNT);
                    return Stated::Faulty;
                }
                *cursor = ahead;
                return self.packs(cursor, count.unwrap_or(0.0), start);
            }
        } else {
            let Some((digits, unit)) = cursor.peek().and_then(Token::word).and_then(glued) else {
                return Stated::Nothing;
            };
            let is_name = self.catalogue.longest_match(&cursor.text()).is_some();
            if is_name || !unit.starts_with(char::is_alphabetic) || digits.is_empty() {
                return Stated::Nothing;
            }
        }
        if self.unit_left_out(cursor) {
            return Stated::Faulty;
        }
        let where_ = format!("in `{}`", stage.block());
        let Some(measure) = self.measure(cursor, AMOUNT, &where_) else {
            return Stated::Faulty;
        };
        let span = measure.span;
        let amount = match measure.unit.dimension() {
            Dimension::Mass => self.written(&measure).map(Amount::Mass),
            Dimension::Volume => self.written(&measure).map(Amount::Volume),
            Dimension::Concentration => self.written(&measure).map(Amount::Concentration),
            Dimension::Bitterness => self.written(&measure).map(Amount::Bitterness),
            Dimension::Packs => Some(Amount::PackCount(measure.number)),
            Dimension::VolumePerVolume => {
                let value = VolumeShare::from_fraction(measure.unit.to_base(measure.number));
                value.ok().map(|value| {
                    Amount::Dose(Written::converted(value, measure.number, measure.unit))
                })
            }
            _ if cursor.eat(&["by", "volume"]) => self.written(&measure).map(Amount::ShareByVolume),
            _ => {
                let _ = cursor.eat(&["by", "weight"]) || cursor.eat(&["by", "mass"]);
                if place == Place::Alone && matches!(stage, Stage::Ferment | Stage::Package) {
                    self.push(
                        Diagnostic::error(
                            Code::WrongUnit,
                            span,
                            format!("expected `% by volume` in `{}`, found a plain share", stage.block()),
                        )
                        .with_help(format!(
                            "write `{} % by volume` (of the liquid after the addition), or a mass or volume",
                            measure.number
                        )),
                    );
                    return Stated::Faulty;
                }
                self.written(&measure).map(Amount::Share)
            }
        };
        match amount {
            Some(amount) => Stated::Amount(amount, span),
            None => Stated::Faulty,
        }
    }

    /// `2 x 700 mL`, after the `x`.
    fn packs(&mut self, cursor: &mut Cursor<'_, '_>, count: f64, start: Span) -> Stated {
        let sizes = &[Dimension::Mass, Dimension::Volume];
        let Some(measure) = self.measure(cursor, sizes, "after `x`") else {
            return Stated::Faulty;
        };
        let each = match measure.unit.dimension() {
            Dimension::Mass => self.written(&measure).map(PackSize::Mass),
            _ => self.written(&measure).map(PackSize::Volume),
        };
        if count.fract() != 0.0 || !(1.0..=100_000.0).contains(&count) {
            self.push(
                Diagnostic::error(
                    Code::OutOfRange,
                    start,
                    format!("expected a whole number of packs before `x`, found {count}"),
                )
                .with_help("write how many packs there are, and the size of each behind the `x`"),
            );
            return Stated::Faulty;
        }
        each.map_or(Stated::Faulty, |each| {
            let count = count as u32;
            Stated::Amount(Amount::Packs { count, each }, start.to(measure.span))
        })
    }

    /// `70 pale malt`: what follows the number is a known name, so a unit was left out.
    fn unit_left_out(&mut self, cursor: &mut Cursor<'_, '_>) -> bool {
        let mut ahead = *cursor;
        let Some(number) = cursor.number().filter(|n| n.value().is_some()) else {
            return false;
        };
        if ahead.measure(crate::notation::cursor::ANY).is_some() {
            return false;
        }
        let mut ahead = *cursor;
        ahead.skip(1);
        if !ahead.is_empty()
            && self
                .catalogue
                .longest_match(&text_of(ahead.rest()))
                .is_none()
        {
            return false;
        }
        let text = number.text();
        self.push(
            Diagnostic::error(
                Code::MissingUnit,
                cursor.here(),
                format!(
                    "expected a unit after `{text}`: {}",
                    super::quantity::expected(AMOUNT)
                ),
            )
            .with_help(format!("write `{text} %` or `{text} kg`")),
        );
        *cursor = ahead;
        true
    }

    /// Checks that the amount fits what it is an amount of.
    fn fitting_amount(
        &mut self,
        stated: Stated,
        ingredient: &Ingredient,
        stage: Stage,
        place: Place,
        name: Span,
    ) -> Stated {
        let kind = ingredient.kind;
        if stage == Stage::Stock {
            return stated;
        }
        match &stated {
            // An unknown word without an amount has been complained of as a name.
            Stated::Nothing if ingredient.entry.is_none() && kind != Kind::Other => {
                return if kind == Kind::Hop || kind == Kind::Yeast {
                    stated
                } else {
                    Stated::Faulty
                };
            }
            Stated::Nothing => {
                let open = matches!(kind, Kind::Hop | Kind::Yeast)
                    && place == Place::Alone
                    && stage != Stage::Log;
                if !open {
                    self.push(
                        Diagnostic::error(
                            Code::MissingQuantity,
                            name,
                            format!("expected an amount before `{}`", ingredient.name),
                        )
                        .with_help(format!(
                            "write how much, such as `100 g {}`",
                            ingredient.name
                        )),
                    );
                    return Stated::Faulty;
                }
            }
            Stated::Amount(Amount::Bitterness(written), span) => {
                let (code, message, help) = match (kind, stage) {
                    (Kind::Hop | Kind::Other, Stage::Boil | Stage::Stand) => return stated,
                    (Kind::Hop | Kind::Other, Stage::Ferment | Stage::Package) => (
                        Code::DryHopBitterness,
                        format!("expected an amount of a dry hop, found a bitterness of {written}"),
                        "a dry hop isomerises nothing; write grams, or `g/hL`",
                    ),
                    _ => (
                        Code::WrongUnit,
                        format!(
                            "expected an amount of `{}`, found a bitterness",
                            ingredient.name
                        ),
                        "only hops in the boil or a stand are measured in IBU; write a mass or a share",
                    ),
                };
                self.push(Diagnostic::error(code, *span, message).with_help(help));
                return Stated::Faulty;
            }
            Stated::Amount(Amount::Share(written), span)
                if place == Place::Alone && !attribute::is_fermentable(kind) =>
            {
                self.push(
                    Diagnostic::error(
                        Code::WrongUnit,
                        *span,
                        format!(
                            "expected a mass or a dose of `{}`, found a share of {written}",
                            ingredient.name
                        ),
                    )
                    .with_help("a share is of all fermentables; write grams, or `g/hL`"),
                );
                return Stated::Faulty;
            }
            _ => {}
        }
        stated
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
