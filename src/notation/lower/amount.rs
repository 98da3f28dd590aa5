//! The amount of an item, and whether it fits what it is an amount of.

use super::Lower;
use super::figure::is_fermentable;
use super::item::{Nesting, Stage, Stated};
use super::quantity::glued;
use crate::catalogue::Kind;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::{ANY, Cursor};
use crate::notation::tree::{Token, text_of};
use crate::quantity::lexer::expected;
use crate::quantity::{Dimension, PackCount, Written};
use crate::recipe::{Amount, Ingredient, MEASURED_IN as AMOUNT, PackSize, Packs};

impl Lower<'_> {
    /// What stands where an amount belongs; passes over it.
    pub(super) fn amount(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        stage: Stage,
        place: Nesting,
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
        let place_of = format_args!("in `{}`", stage.block());
        let Some(measure) = cursor.measure(AMOUNT) else {
            if !self.unit_left_out(cursor) {
                self.no_measure(cursor, AMOUNT, &place_of);
            }
            return Stated::Faulty;
        };
        let Some(measure) = self.with_sign(measure, place_of) else {
            return Stated::Faulty;
        };
        let span = measure.span;
        let amount = match measure.unit.dimension() {
            Dimension::Mass => self.written(&measure).map(Amount::Mass),
            Dimension::Volume => self.written(&measure).map(Amount::Volume),
            Dimension::Concentration => self.written(&measure).map(Amount::Concentration),
            Dimension::Bitterness => self.written(&measure).map(Amount::Bitterness),
            Dimension::Packs => self
                .written(&measure)
                .map(|written: Written<PackCount>| Amount::PackCount(written.value())),
            Dimension::VolumePerVolume => self.written(&measure).map(Amount::Dose),
            _ if cursor.eat(&["by", "volume"]) => self.written(&measure).map(Amount::ShareByVolume),
            _ => {
                let _ = cursor.eat(&["by", "weight"]) || cursor.eat(&["by", "mass"]);
                if place == Nesting::Alone
                    && matches!(stage, Stage::Ferment | Stage::Package | Stage::Log)
                {
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
            Stated::Amount(Amount::Packs(Packs { count, each }), start.to(measure.span))
        })
    }

    /// `70 pale malt`: what follows the number is a known name, so a unit was left out.
    fn unit_left_out(&mut self, cursor: &mut Cursor<'_, '_>) -> bool {
        let mut ahead = *cursor;
        let Some(number) = cursor.number().filter(|n| n.value().is_some()) else {
            return false;
        };
        if ahead.measure(ANY).is_some() {
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
                format!("expected a unit after `{text}`: {}", expected(AMOUNT)),
            )
            .with_help(format!("write `{text} %` or `{text} kg`")),
        );
        *cursor = ahead;
        true
    }

    /// Checks that the amount fits what it is an amount of.
    pub(super) fn fitting_amount(
        &mut self,
        stated: Stated,
        ingredient: &Ingredient,
        stage: Stage,
        place: Nesting,
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
                    && place == Nesting::Alone
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
                        if stage == Stage::Log {
                            "a log follows what went in; write a mass or a dose, such as `20 g` or `3 g/L`"
                        } else {
                            "only hops in the boil or a stand are measured in IBU; write a mass or a share"
                        },
                    ),
                };
                self.push(Diagnostic::error(code, *span, message).with_help(help));
                return Stated::Faulty;
            }
            Stated::Amount(Amount::Share(written), span)
                if place == Nesting::Alone && !is_fermentable(kind) =>
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
