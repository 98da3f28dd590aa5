//! Words behind a figure of a plant, or in place of one.

use super::Lower;
use super::head::{Label, labelled};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::Cursor;
use crate::notation::grammar::{Block, Role, Row, Rule, Table, Takes};
use crate::notation::tree::{Token, span_of};
use crate::quantity::{Dimension, Mass, Written};
use crate::recipe::{
    BitternessModel, CoolingMethod, Evaporation, Heating, PlantCooling, WeighingSteps,
};

const fn word(
    block: Block,
    words: &'static [&'static str],
    field: &'static str,
    example: &'static str,
    bent: &'static [&'static str],
) -> Row {
    Row::new(block, words, field).example(Block::Brewhouse, example, bent)
}

/// The words that a line of a plant opens with, and where the line stands.
#[derive(Clone, Copy)]
pub(super) struct Said {
    pub(super) word: &'static str,
    pub(super) span: Span,
}

impl std::fmt::Display for Said {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "after `{}`", self.word)
    }
}

/// What makes a share of the pre-boil volume a rate.
pub(super) static HOURLY: Table<()> = Table(&[Rule {
    row: word(
        Block::Hourly,
        &["per hour", "per h", "an hour", "/h", "/hour"],
        "brewhouses[*].evaporation.share_per_h_pct",
        "evaporation 5 % per hour",
        &["evaporation 8 % per hour", "evaporation 10 % an hour"],
    ),
    read: (),
}]);

/// By what wort is cooled.
pub(super) static COOLERS: Table<CoolingMethod> = Table(&[
    Rule {
        row: word(
            Block::Cooling,
            &["by coil", "through coil"],
            "brewhouses[*].cooling.method",
            "cool to 20 C in 25 min by coil",
            &["cool to 20 C in 25 min through plate"],
        ),
        read: CoolingMethod::Coil,
    },
    Rule {
        row: word(
            Block::Cooling,
            &["through plate", "by plate"],
            "brewhouses[*].cooling.method",
            "cool to 20 C in 25 min through plate",
            &["cool to 20 C in 25 min by coil"],
        ),
        read: CoolingMethod::Plate,
    },
]);

const fn heated(
    words: &'static [&'static str],
    example: &'static str,
    bent: &'static [&'static str],
) -> Row {
    word(
        Block::Heating,
        words,
        "brewhouses[*].heating",
        example,
        bent,
    )
}

/// How a mash can be heated.
pub(super) static HEATINGS: Table<Heating> = Table(&[
    Rule {
        row: heated(&["direct"], "heat direct", &["heat infusion", "heat none"]),
        read: Heating::Direct,
    },
    Rule {
        row: heated(
            &["infusion"],
            "heat infusion",
            &["heat direct", "heat none"],
        ),
        read: Heating::Infusion,
    },
    Rule {
        row: heated(
            &["decoction"],
            "heat decoction",
            &["heat direct", "heat infusion"],
        ),
        read: Heating::Decoction,
    },
    Rule {
        row: heated(&["none"], "heat none", &["heat direct", "heat infusion"]),
        read: Heating::None,
    },
]);

/// How bitterness is predicted.
pub(super) static MODELS: Table<BitternessModel> = Table(&[
    Rule {
        row: word(
            Block::BitternessModel,
            &["tinseth"],
            "brewhouses[*].bitterness",
            "bitterness tinseth",
            &["bitterness kinetic"],
        ),
        read: BitternessModel::Tinseth,
    },
    Rule {
        row: word(
            Block::BitternessModel,
            &["kinetic"],
            "brewhouses[*].bitterness",
            "bitterness kinetic",
            &["bitterness tinseth"],
        ),
        read: BitternessModel::Kinetic,
    },
]);

const STEP: &[Takes] = &[Takes::Figure(Role::new("step", &[Dimension::Mass]))];

/// Gives the place of a step.
type StepOf = fn(&mut WeighingSteps) -> &mut Option<Written<Mass>>;

/// What is weighed.
pub(super) static WEIGHED: Table<StepOf> = Table(&[
    Rule {
        row: word(
            Block::Weighing,
            &["malt", "malts", "grain"],
            "brewhouses[*].weighing.malt_kg",
            "weigh malt 5 g",
            &["weigh malt 10 g", "weigh malts 1 oz"],
        )
        .takes(STEP),
        read: |steps| &mut steps.malt,
    },
    Rule {
        row: word(
            Block::Weighing,
            &["hops", "hop"],
            "brewhouses[*].weighing.hops_kg",
            "weigh hops 0.5 g",
            &["weigh hops 1 g", "weigh hops 5 g"],
        )
        .takes(STEP),
        read: |steps| &mut steps.hops,
    },
    Rule {
        row: word(
            Block::Weighing,
            &["salts", "salt"],
            "brewhouses[*].weighing.salts_kg",
            "weigh salts 0.1 g",
            &["weigh salts 1 g", "weigh salts 0.5 g"],
        )
        .takes(STEP),
        read: |steps| &mut steps.salts,
    },
]);

/// What words of the table say, if they come next.
pub(super) fn at_most_once<R: Copy>(cursor: &mut Cursor<'_, '_>, table: &Table<R>) -> Option<R> {
    let (rule, words) = table.opening(cursor.rest())?;
    cursor.pass(words);
    Some(rule.read)
}

impl Lower<'_> {
    /// `2.6 L/h` or `5 % per hour`
    pub(super) fn evaporation(&mut self, cursor: &mut Cursor<'_, '_>) -> Option<Evaporation> {
        let both = [Dimension::VolumePerTime, Dimension::Percent];
        let measure = self.measure(cursor, &both, "after `evaporation`")?;
        if measure.unit.dimension() == Dimension::VolumePerTime {
            return self.written(&measure).map(Evaporation::Rate);
        }
        if at_most_once(cursor, &HOURLY).is_none() {
            self.push(
                Diagnostic::error(
                    Code::MissingUnit,
                    measure.span,
                    format!("expected `per hour` after `{} %`", measure.number),
                )
                .with_help(format!(
                    "write `{} % per hour`, or a rate such as `2.6 L/h`",
                    measure.number
                )),
            );
        }
        self.written(&measure).map(Evaporation::SharePerHour)
    }

    /// `cool to 20 C in 25 min by coil`, from the temperature on.
    pub(super) fn cooling(&mut self, cursor: &mut Cursor<'_, '_>) -> Option<PlantCooling> {
        let mut cooling = PlantCooling {
            to: Some(self.read(cursor, "after `cool to`")?),
            ..PlantCooling::default()
        };
        loop {
            if cooling.time.is_none() && cursor.eat(&["in"]) {
                cooling.time = self.read(cursor, "after `in`");
                continue;
            }
            if cooling.method.is_none() {
                cooling.method = at_most_once(cursor, &COOLERS);
                if cooling.method.is_some() {
                    continue;
                }
            }
            return Some(cooling);
        }
    }

    pub(super) fn heating(&mut self, cursor: &mut Cursor<'_, '_>, said: Said) -> Option<Heating> {
        let heating = at_most_once(cursor, &HEATINGS);
        if heating.is_none() {
            self.choose(cursor, said.word, &HEATINGS);
        }
        heating
    }

    pub(super) fn bitterness(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        said: Said,
    ) -> Option<BitternessModel> {
        let model = at_most_once(cursor, &MODELS);
        if model.is_none() {
            self.choose(cursor, said.word, &MODELS);
        }
        model
    }

    /// Complains of a word that is none of the table's.
    pub(super) fn choose<R>(&mut self, cursor: &mut Cursor<'_, '_>, word: &str, table: &Table<R>) {
        let choices = table.choice();
        let text = cursor.text();
        let found = if text.is_empty() {
            "the end".into()
        } else {
            format!("`{text}`")
        };
        self.push(
            Diagnostic::error(
                Code::UnexpectedWords,
                cursor.span(),
                format!("expected {choices} after `{word}`, found {found}"),
            )
            .with_help(format!("write {choices}")),
        );
        cursor.skip(usize::MAX);
    }

    /// `malt 5 g, hops 0.5 g, salts 0.1 g`
    pub(super) fn weighing(&mut self, cursor: &mut Cursor<'_, '_>, steps: &mut WeighingSteps) {
        let clauses = cursor.rest().split(Token::is_comma);
        for clause in clauses.filter(|clause| !clause.is_empty()) {
            let span = span_of(clause).unwrap_or_default();
            let (text, mut cursor) = labelled(clause, span);
            let Some(rule) = WEIGHED.named(&text) else {
                self.unknown_figure(&text, span, "what is weighed", &WEIGHED);
                continue;
            };
            let label = Label { text: &text, span };
            let read = self.read(&mut cursor, label);
            self.fill((rule.read)(steps), read, label);
            self.expect_end(cursor);
        }
        cursor.skip(usize::MAX);
    }
}
