//! The lines of a plant.

use super::Lower;
use super::head::BATCH;
use super::plant_check::Plant;
use super::plant_word::{HEATINGS, Said};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::Cursor;
use crate::notation::grammar::{Block, Role, Row, Rule, Table, Takes};
use crate::notation::tree::{Line, Token};
use crate::quantity::{Dimension, Quantity, Written};
use crate::recipe::{Brewhouse, CoolingMethod, Heating, Lauter, PlantCooling};

/// Reads a line whose words are passed over.
pub(super) type PlantReader = fn(&mut Lower<'_>, &mut Cursor<'_, '_>, &mut Plant, Said);

const VOLUME: &[Takes] = &[Takes::Figure(Role::new("volume", &[Dimension::Volume]))];
const PER_GRAIN: &[Takes] = &[Takes::Figure(Role::new(
    "volume per mass of grain",
    &[Dimension::VolumePerMass],
))];
const SHARE: &[Takes] = &[Takes::Figure(Role::new("share", &[Dimension::Percent]))];
const TEMPERATURE: &[Takes] = &[Takes::Figure(Role::new(
    "temperature",
    &[Dimension::Temperature],
))];

const fn line(
    words: &'static [&'static str],
    field: &'static str,
    takes: &'static [Takes],
    example: &'static str,
    bent: &'static [&'static str],
) -> Row {
    Row::new(Block::Brewhouse, words, field)
        .takes(takes)
        .example(Block::Brewhouse, example, bent)
}

/// The lines of a plant.
pub(super) static PLANT: Table<PlantReader> = Table(&[
    Rule {
        row: line(
            &["batch"],
            "brewhouses[*].batch",
            BATCH,
            "batch 8 L into fermenter",
            &["batch 9 L into fermenter", "batch 8 L packaged"],
        ),
        read: |lower, cursor, plant, _| plant.brewhouse.batch = lower.batch(cursor),
    },
    Rule {
        row: line(
            &["mash tun"],
            "brewhouses[*].mash_tun_l",
            VOLUME,
            "mash tun 20 L",
            &["mash tun 25 L", "mash tun 5 gal"],
        ),
        read: |lower, cursor, plant, said| lower.figure(cursor, said, plant, |b| &mut b.mash_tun),
    },
    Rule {
        row: line(
            &["kettle"],
            "brewhouses[*].kettle_l",
            VOLUME,
            "kettle 16 L",
            &["kettle 20 L", "kettle 5 gal"],
        ),
        read: |lower, cursor, plant, said| lower.figure(cursor, said, plant, |b| &mut b.kettle),
    },
    Rule {
        row: line(
            &["fermenter"],
            "brewhouses[*].fermenter_l",
            VOLUME,
            "fermenter 13 L",
            &["fermenter 20 L", "fermenter 5 gal"],
        ),
        read: |lower, cursor, plant, said| lower.figure(cursor, said, plant, |b| &mut b.fermenter),
    },
    Rule {
        row: line(
            &["lauter"],
            "brewhouses[*].lauter",
            &[
                Takes::Words(Block::Lauter),
                Takes::Figures(Block::LauterFigure),
            ],
            "lauter batch, sparges 2",
            &["lauter batch, sparges 3", "lauter bag"],
        ),
        read: |lower, cursor, plant, said| {
            if let Some(lauter) = lower.lauter(cursor, said.span) {
                lower.one_lauter(plant, lauter, said);
            }
        },
    },
    Rule {
        row: line(
            &["no mash"],
            "brewhouses[*].lauter",
            &[],
            "no mash",
            &["lauter bag", "lauter continuous"],
        ),
        read: |lower, cursor, plant, said| {
            let mut lauter = Lauter::NoMash;
            lower.lauter_figures(cursor, &mut lauter);
            lower.one_lauter(plant, lauter, said);
        },
    },
    Rule {
        row: line(
            &["mash in"],
            "brewhouses[*].liquor_l_per_kg",
            PER_GRAIN,
            "mash in 3 L/kg",
            &["mash in 3.5 L/kg", "mash in 1.5 qt/lb"],
        ),
        read: |lower, cursor, plant, said| lower.figure(cursor, said, plant, |b| &mut b.liquor),
    },
    Rule {
        row: line(
            &["absorption"],
            "brewhouses[*].absorption_l_per_kg",
            PER_GRAIN,
            "absorption 0.65 L/kg",
            &["absorption 0.8 L/kg", "absorption 0.5 qt/lb"],
        ),
        read: |lower, cursor, plant, said| lower.figure(cursor, said, plant, |b| &mut b.absorption),
    },
    Rule {
        row: line(
            &["retention"],
            "brewhouses[*].retention_l_per_kg",
            PER_GRAIN,
            "retention 0.9 L/kg",
            &["retention 1 L/kg", "retention 0.5 qt/lb"],
        ),
        read: |lower, cursor, plant, said| lower.figure(cursor, said, plant, |b| &mut b.retention),
    },
    Rule {
        row: line(
            &["sparge mixing"],
            "brewhouses[*].sparge_mixing_pct",
            SHARE,
            "sparge mixing 80 %",
            &["sparge mixing 70 %", "sparge mixing 100 %"],
        ),
        read: |lower, cursor, plant, said| lower.figure(cursor, said, plant, |b| &mut b.mixing),
    },
    Rule {
        row: line(
            &["conversion"],
            "brewhouses[*].conversion_pct",
            SHARE,
            "conversion 98 %",
            &["conversion 95 %", "conversion 99 %"],
        ),
        read: |lower, cursor, plant, said| lower.figure(cursor, said, plant, |b| &mut b.conversion),
    },
    Rule {
        row: line(
            &["extract yield"],
            "brewhouses[*].extract_yield",
            &[
                Takes::Figure(Role::new("share", &[Dimension::Percent])),
                Takes::MaybeWords(Block::YieldBasis),
                Takes::MaybeWords(Block::YieldPoint),
            ],
            "extract yield 91 %",
            &["extract yield 85 %", "extract yield 76 % of grist"],
        ),
        read: |lower, cursor, plant, _| plant.brewhouse.extract_yield = lower.stated_yield(cursor),
    },
    Rule {
        row: line(
            &["evaporation"],
            "brewhouses[*].evaporation",
            &[
                Takes::Figure(Role::new(
                    "rate or share",
                    &[Dimension::VolumePerTime, Dimension::Percent],
                )),
                Takes::MaybeWords(Block::Hourly),
            ],
            "evaporation 2.6 L/h",
            &["evaporation 3 L/h", "evaporation 5 % per hour"],
        ),
        read: |lower, cursor, plant, _| plant.brewhouse.evaporation = lower.evaporation(cursor),
    },
    Rule {
        row: line(
            &["tun loss"],
            "brewhouses[*].tun_loss_l",
            VOLUME,
            "tun loss 0.5 L",
            &["tun loss 1 L", "tun loss 1 qt"],
        ),
        read: |lower, cursor, plant, said| lower.figure(cursor, said, plant, |b| &mut b.tun_loss),
    },
    Rule {
        row: line(
            &["kettle loss"],
            "brewhouses[*].kettle_loss_l",
            VOLUME,
            "kettle loss 0.6 L",
            &["kettle loss 1 L", "kettle loss 1 qt"],
        ),
        read: |lower, cursor, plant, said| {
            lower.figure(cursor, said, plant, |b| &mut b.kettle_loss);
        },
    },
    Rule {
        row: line(
            &["fermenter loss"],
            "brewhouses[*].fermenter_loss_l",
            VOLUME,
            "fermenter loss 0.5 L",
            &["fermenter loss 1 L", "fermenter loss 1 qt"],
        ),
        read: |lower, cursor, plant, said| {
            lower.figure(cursor, said, plant, |b| &mut b.fermenter_loss);
        },
    },
    Rule {
        row: line(
            &["altitude"],
            "brewhouses[*].altitude_m",
            &[Takes::Figure(Role::new("height", &[Dimension::Length]))],
            "altitude 350 m",
            &["altitude 1200 m", "altitude 5000 ft"],
        ),
        read: |lower, cursor, plant, said| lower.figure(cursor, said, plant, |b| &mut b.altitude),
    },
    Rule {
        row: line(
            &["stand"],
            "brewhouses[*].stand_min",
            &[Takes::Figure(Role::new("time", &[Dimension::Time]))],
            "stand 20 min",
            &["stand 30 min", "stand 0.5 h"],
        ),
        read: |lower, cursor, plant, said| lower.figure(cursor, said, plant, |b| &mut b.stand),
    },
    Rule {
        row: line(
            &["cool to"],
            "brewhouses[*].cooling",
            &[
                Takes::Figure(Role::new("temperature", &[Dimension::Temperature])),
                Takes::Figure(
                    Role::new("time", &[Dimension::Time])
                        .after(&["in"])
                        .optional(),
                ),
                Takes::MaybeWords(Block::Cooling),
            ],
            "cool to 20 C in 25 min",
            &["cool to 18 C in 25 min", "cool to 20 C in 40 min by coil"],
        ),
        read: |lower, cursor, plant, said| {
            let cooling = lower.cooling(cursor);
            lower.one_cooling(plant, cooling, said);
        },
    },
    Rule {
        row: line(
            &["no chill"],
            "brewhouses[*].cooling",
            &[],
            "no chill",
            &["cool to 20 C in 25 min", "cool to 20 C by coil"],
        ),
        read: |lower, _, plant, said| {
            let cooling = PlantCooling {
                method: Some(CoolingMethod::NoChill),
                ..PlantCooling::default()
            };
            lower.one_cooling(plant, Some(cooling), said);
        },
    },
    Rule {
        row: line(
            &["coolant"],
            "brewhouses[*].coolant_c",
            TEMPERATURE,
            "coolant 14 C",
            &["coolant 10 C", "coolant 60 F"],
        ),
        read: |lower, cursor, plant, said| lower.figure(cursor, said, plant, |b| &mut b.coolant),
    },
    Rule {
        row: line(
            &["grain at"],
            "brewhouses[*].grain_c",
            TEMPERATURE,
            "grain at 18 C",
            &["grain at 10 C", "grain at 60 F"],
        ),
        read: |lower, cursor, plant, said| lower.figure(cursor, said, plant, |b| &mut b.grain),
    },
    Rule {
        row: line(
            &["tun heat"],
            "brewhouses[*].tun_heat_kj_per_k",
            &[Takes::Figure(Role::new(
                "heat capacity",
                &[Dimension::HeatCapacity],
            ))],
            "tun heat 1.5 kJ/K",
            &["tun heat 2 kJ/K", "tun heat 3 kJ/C"],
        ),
        read: |lower, cursor, plant, said| lower.figure(cursor, said, plant, |b| &mut b.tun_heat),
    },
    Rule {
        row: line(
            &["heat"],
            "brewhouses[*].heating",
            &[Takes::Words(Block::Heating)],
            "heat direct",
            &["heat infusion", "heat none"],
        ),
        read: |lower, cursor, plant, said| plant.brewhouse.heating = lower.heating(cursor, said),
    },
    Rule {
        row: line(
            &["heat direct"],
            "brewhouses[*].heat_power_kw",
            &[Takes::Figure(
                Role::new("power", &[Dimension::Power]).optional(),
            )],
            "heat direct 2.4 kW",
            &["heat direct 3 kW", "heat direct 1800 W"],
        ),
        read: |lower, cursor, plant, said| {
            if lower.first_time(plant, "heat", said.span) {
                plant.brewhouse.heating = Some(Heating::Direct);
                if !cursor.is_empty() {
                    lower.figure(cursor, said, plant, |b| &mut b.heat_power);
                }
            }
        },
    },
    Rule {
        row: line(
            &["weigh"],
            "brewhouses[*].weighing",
            &[Takes::Figures(Block::Weighing)],
            "weigh malt 5 g, hops 0.5 g, salts 0.1 g",
            &[
                "weigh malt 10 g, hops 0.5 g, salts 0.1 g",
                "weigh malt 5 g, hops 1 g, salts 0.1 g",
            ],
        ),
        read: |lower, cursor, plant, said| {
            lower.expect_figures(*cursor, said.word, "malt 5 g");
            lower.weighing(cursor, &mut plant.brewhouse.weighing);
        },
    },
    Rule {
        row: line(
            &["bitterness"],
            "brewhouses[*].bitterness",
            &[Takes::Words(Block::BitternessModel)],
            "bitterness tinseth",
            &["bitterness kinetic"],
        ),
        read: |lower, cursor, plant, said| {
            plant.brewhouse.bitterness = lower.bitterness(cursor, said);
        },
    },
    Rule {
        row: line(
            &["water"],
            "brewhouses[*].water",
            &[
                Takes::Figures(Block::Water),
                Takes::Figures(Block::WaterReport),
            ],
            "water calcium 20 mg/L, alkalinity 60 mg/L",
            &[
                "water calcium 30 mg/L, alkalinity 60 mg/L",
                "water calcium 20 mg/L, alkalinity 60 mg/L, pH 7.5",
            ],
        ),
        read: |lower, cursor, plant, said| {
            lower.expect_figures(*cursor, said.word, "calcium 60 mg/L");
            plant.brewhouse.water = Some(lower.water_report(cursor.rest()));
            cursor.skip(usize::MAX);
        },
    },
]);

impl Lower<'_> {
    pub(super) fn plant_line(&mut self, line: &Line<'_>, plant: &mut Plant) {
        let span = line.span();
        let mut cursor = Cursor::new(line.tokens(), span);
        let found = PLANT.opening(line.tokens());
        let Some((rule, word)) = found.filter(|(_, word)| !self.misspelt(line, word)) else {
            self.unknown_plant_line(line);
            return;
        };
        cursor.pass(word);
        let field = rule.row.field_of("brewhouses[*]");
        self.states(span, |trace| trace.of_plant(field));
        if self.first_time(plant, rule.row.word(), span) {
            (rule.read)(self, &mut cursor, plant, Said { word, span });
            self.expect_end(cursor);
        }
    }

    /// Whether a word that stands where the figure of `kettle` belongs is a slip for that of `kettle loss`.
    fn misspelt(&self, line: &Line<'_>, word: &str) -> bool {
        let [first, second, ..] = line.tokens() else {
            return false;
        };
        let (Some(first), Some(second)) = (first.word(), second.word()) else {
            return false;
        };
        // `heat none` is no slip for `heat direct`.
        if word == "heat" && HEATINGS.named(second).is_some() {
            return false;
        }
        let longer = |known: &&str| {
            known
                .strip_prefix(word)
                .is_some_and(|rest| rest.starts_with(' '))
        };
        let mut longer = PLANT.words().filter(longer).peekable();
        longer.peek().is_some() && !self.near(&format!("{first} {second}"), longer).is_empty()
    }

    /// A line with one figure.
    fn figure<Q: Quantity>(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        said: Said,
        plant: &mut Plant,
        slot: fn(&mut Brewhouse) -> &mut Option<Written<Q>>,
    ) {
        let read = self.read(cursor, said);
        *slot(&mut plant.brewhouse) = read;
    }

    /// Complains of a list with nothing in it.
    fn expect_figures(&mut self, cursor: Cursor<'_, '_>, word: &str, example: &str) {
        if cursor.rest().iter().all(Token::is_comma) {
            let message = format!("expected a figure after `{word}`, found nothing");
            self.push(
                Diagnostic::error(Code::MissingQuantity, cursor.here(), message)
                    .with_help(format!("add it there, such as `{word} {example}`")),
            );
        }
    }

    fn one_lauter(&mut self, plant: &mut Plant, lauter: Lauter, said: Said) {
        if plant.brewhouse.lauter.is_some() {
            self.exclude("lauter", "no mash", said.span);
        } else {
            plant.brewhouse.lauter = Some(lauter);
        }
    }

    fn one_cooling(&mut self, plant: &mut Plant, cooling: Option<PlantCooling>, said: Said) {
        if plant.brewhouse.cooling.is_some() {
            self.exclude("cool to", "no chill", said.span);
        } else {
            plant.brewhouse.cooling = cooling;
        }
    }

    fn exclude(&mut self, one: &str, other: &str, span: Span) {
        let message = format!("expected either `{one}` or `{other}`, found both");
        self.push(
            Diagnostic::error(Code::ConflictingFacts, span, message)
                .with_help("delete one of them"),
        );
    }
}
