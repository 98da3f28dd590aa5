//! The amount of an item, and whether it fits what it is an amount of.

use super::Lower;
use super::figure::is_fermentable;
use super::item::{Nesting, Stated};
use super::plant_word::at_most_once;
use super::quantity::glued;
use crate::catalogue::Kind;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::{ANY, Cursor, Measure, opens};
use crate::notation::grammar::{Block, Role, Row, Rule, Table, Takes};
use crate::notation::tree::{Token, text_of};
use crate::quantity::lexer::expected;
use crate::quantity::{Dimension, PackCount, Written};
use crate::recipe::{Amount, Ingredient, MEASURED_IN as AMOUNT, PackSize, Packs};

/// An amount of a measure that has its unit.
type AmountReader = fn(&mut Lower<'_>, &Measure) -> Option<Amount>;

const fn of(name: &'static str, dimensions: &'static [Dimension]) -> Takes {
    Takes::Figure(Role::new(name, dimensions))
}

const MASS: &[Takes] = &[of("mass", &[Dimension::Mass])];
const VOLUME: &[Takes] = &[of("volume", &[Dimension::Volume])];
const DOSE: &[Takes] = &[of("dose", &[Dimension::Concentration])];
const LIQUID_DOSE: &[Takes] = &[of("dose", &[Dimension::VolumePerVolume])];
const SHARE: &[Takes] = &[of("share", &[Dimension::Percent])];
const IBU: &[Takes] = &[of("bitterness", &[Dimension::Bitterness])];
const PACKS: &[Takes] = &[of("packs", &[Dimension::Packs])];
/// What packs hold.
const SIZES: &[Takes] = &[of("size of a pack", &[Dimension::Mass, Dimension::Volume])];

/// Items of a brew, whose vessel holds something to dose.
const BREWED: &[Block] = &[
    Block::Mash,
    Block::Boil,
    Block::Stand,
    Block::Ferment,
    Block::Package,
    Block::Log,
];
/// Items that the fermentables of a wort stand among.
const WORT: &[Block] = &[Block::Mash, Block::Boil, Block::Stand];

const fn amount(words: &'static [&'static str], takes: &'static [Takes]) -> Row {
    Row::new(Block::Amount, words, "amount").takes(takes)
}

/// Amounts: by the dimension of the unit and the words behind it; a row with words stands before one without.
pub(super) static AMOUNTS: Table<AmountReader> = Table(&[
    Rule {
        row: amount(&[], MASS).example(
            Block::Mash,
            "5 kg pale ale malt",
            &["6 kg pale ale malt", "11 lb pale ale malt"],
        ),
        read: |lower, measure| lower.written(measure).map(Amount::Mass),
    },
    Rule {
        row: amount(&[], VOLUME).example(
            Block::Ferment,
            "add 1 L plum juice on day 5",
            &[
                "add 2 L plum juice on day 5",
                "add 1 qt plum juice on day 5",
            ],
        ),
        read: |lower, measure| lower.written(measure).map(Amount::Volume),
    },
    Rule {
        row: amount(&[], DOSE).among(BREWED).example(
            Block::Ferment,
            "add 3 g/L cascade on day 5",
            &["add 4 g/L cascade on day 5", "add 300 g/hL saaz on day 5"],
        ),
        read: |lower, measure| lower.written(measure).map(Amount::Concentration),
    },
    Rule {
        row: amount(&[], LIQUID_DOSE).among(BREWED).example(
            Block::Ferment,
            "add 3 mL/L plum juice on day 5",
            &[
                "add 4 mL/L plum juice on day 5",
                "add 500 mL/hL plum juice on day 5",
            ],
        ),
        read: |lower, measure| lower.written(measure).map(Amount::Dose),
    },
    Rule {
        row: amount(&["by volume"], SHARE)
            .among(&[Block::Ferment, Block::Package, Block::Log])
            .example(
                Block::Ferment,
                "add 10 % by volume plum juice on day 5",
                &[
                    "add 12 % by volume plum juice on day 5",
                    "add 10 % by volume apple juice on day 5",
                ],
            ),
        read: |lower, measure| lower.written(measure).map(Amount::ShareByVolume),
    },
    Rule {
        row: amount(&["by weight", "by mass"], SHARE)
            .among(WORT)
            .example(
                Block::Mash,
                "100 % by weight pale ale malt",
                &[
                    "99.8 % by weight pale ale malt",
                    "100 % by weight wheat malt",
                ],
            ),
        read: |lower, measure| lower.written(measure).map(Amount::Share),
    },
    Rule {
        row: amount(&[], SHARE).among(WORT).example(
            Block::Mash,
            "100 % pale ale malt",
            &["99.8 % pale ale malt", "100 % wheat malt"],
        ),
        read: |lower, measure| lower.written(measure).map(Amount::Share),
    },
    Rule {
        row: amount(&[], IBU)
            .among(&[Block::Boil, Block::Stand])
            .example(
                Block::Boil,
                "20 IBU cascade, 5 % alpha at 60 min",
                &[
                    "25 IBU cascade, 5 % alpha at 60 min",
                    "30 IBU cascade, 5 % alpha at 60 min",
                ],
            ),
        read: |lower, measure| lower.written(measure).map(Amount::Bitterness),
    },
    Rule {
        row: amount(&[], PACKS).example(
            Block::Ferment,
            "pitch 1 pack ale yeast",
            &["pitch 2 packs ale yeast", "pitch 3 packs ale yeast"],
        ),
        read: |lower, measure| lower.packets(measure),
    },
]);

/// The word between the number of packs and their size.
pub(super) static COUNTED: Table<()> = Table(&[Rule {
    row: amount(&["x"], SIZES).example(
        Block::Stock,
        "2 x 700 mL plum juice, 12 Bx",
        &[
            "3 x 700 mL plum juice, 12 Bx",
            "2 x 750 mL plum juice, 12 Bx",
        ],
    ),
    read: (),
}]);

impl Lower<'_> {
    /// What stands where an amount belongs; passes over it.
    pub(super) fn amount(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        stage: Block,
        place: Nesting,
    ) -> Stated {
        let start = cursor.here();
        if let Some(number) = cursor.number() {
            let mut ahead = *cursor;
            ahead.skip(1);
            if at_most_once(&mut ahead, &COUNTED).is_some() {
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
        let place_of = format_args!("in `{}`", stage.home());
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
        let dimension = measure.unit.dimension();
        let of_unit = |rule: &&Rule<AmountReader>| rule.row.dimensions() == [dimension];
        let mut rules = AMOUNTS.0.iter().filter(of_unit);
        let rule = rules.find(|rule| {
            let words = rule.row.words.iter();
            let found = words.clone().find(|words| opens(cursor.rest(), words));
            found.inspect(|words| cursor.pass(words)).is_some() || rule.row.words.is_empty()
        });
        let amount = rule.and_then(|rule| (rule.read)(self, &measure));
        let in_beer = matches!(stage, Block::Ferment | Block::Package | Block::Log);
        if let Some(Amount::Share(share)) = &amount
            && place == Nesting::Alone
            && in_beer
        {
            self.push(
                Diagnostic::error(
                    Code::WrongUnit,
                    span,
                    format!("expected `% by volume` in `{}`, found a plain share", stage.home()),
                )
                .with_help(format!(
                    "write `{} % by volume` (of the liquid after the addition), or a mass or volume",
                    share.number()
                )),
            );
            return Stated::Faulty;
        }
        match amount {
            Some(amount) => Stated::Amount(amount, span),
            None => Stated::Faulty,
        }
    }

    fn packets(&mut self, measure: &Measure) -> Option<Amount> {
        let written: Written<PackCount> = self.written(measure)?;
        Some(Amount::PackCount(written.value()))
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
                .with_help("write how many packs there are, and the size of each after the `x`"),
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
        stage: Block,
        place: Nesting,
        name: Span,
    ) -> Stated {
        let kind = ingredient.kind;
        if stage == Block::Stock {
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
                    && stage != Block::Log;
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
                    (Kind::Hop | Kind::Other, Block::Boil | Block::Stand) => return stated,
                    (Kind::Hop | Kind::Other, Block::Ferment | Block::Package) => (
                        Code::DryHopBitterness,
                        format!("expected an amount of a dry hop, found a bitterness of {written}"),
                        "dry hops add no IBU; write a weight, or `g/hL`",
                    ),
                    _ => (
                        Code::WrongUnit,
                        format!(
                            "expected an amount of `{}`, found a bitterness",
                            ingredient.name
                        ),
                        if stage == Block::Log {
                            "an entry of a log needs a mass or a dose, such as `20 g` or `3 g/L`"
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
