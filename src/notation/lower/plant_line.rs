//! The lines of a plant.

use super::brewhouse::{PLANT_WORDS, Plant};
use super::head::labelled;
use super::{Lower, lower_case};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::{Cursor, opens};
use crate::notation::tree::{Line, Token, span_of};
use crate::quantity::{BrewhouseYield, Dimension, Mass, Number, Written};
use crate::recipe::{
    Bag, BatchSparge, BitternessModel, ContinuousSparge, CoolingMethod, Evaporation, Heating,
    Lauter, PlantCooling, StatedYield, WaterReport, YieldBasis, YieldPoint,
};

/// A yield above this is rarely true (common practice, no source).
const HIGH_YIELD_PERCENT: f64 = 98.0;

/// The field of a plant that a line of that word states.
fn field(word: &str) -> &'static str {
    match word {
        "batch" => "batch",
        "mash tun" => "mash_tun_l",
        "kettle" => "kettle_l",
        "fermenter" => "fermenter_l",
        "mash in" => "liquor_l_per_kg",
        "absorption" => "absorption_l_per_kg",
        "retention" => "retention_l_per_kg",
        "sparge mixing" => "sparge_mixing_pct",
        "conversion" => "conversion_pct",
        "tun loss" => "tun_loss_l",
        "kettle loss" => "kettle_loss_l",
        "fermenter loss" => "fermenter_loss_l",
        "altitude" => "altitude_m",
        "stand" => "stand_min",
        "coolant" => "coolant_c",
        "grain at" => "grain_c",
        "tun heat" => "tun_heat_kj_per_k",
        "extract yield" => "extract_yield",
        "evaporation" => "evaporation",
        "cool to" | "no chill" => "cooling",
        "heat" => "heating",
        "bitterness" => "bitterness",
        "water" => "water",
        "weigh" => "weighing",
        _ => "lauter",
    }
}

impl Lower<'_> {
    /// Whether a word that stands where the figure of `kettle` belongs is a slip for that of `kettle loss`.
    fn misspelt(&self, line: &Line<'_>, word: &str) -> bool {
        let [first, second, ..] = line.tokens() else {
            return false;
        };
        let (Some(first), Some(second)) = (first.word(), second.word()) else {
            return false;
        };
        let longer = |known: &&str| {
            known
                .strip_prefix(word)
                .is_some_and(|rest| rest.starts_with(' '))
        };
        let mut longer = PLANT_WORDS.into_iter().filter(longer).peekable();
        longer.peek().is_some() && !self.near(&format!("{first} {second}"), longer).is_empty()
    }

    pub(super) fn plant_line(&mut self, line: &Line<'_>, plant: &mut Plant) {
        let span = line.span();
        let mut cursor = Cursor::new(line.tokens(), span);
        // Words of two before words of one: `kettle loss` is not `kettle`.
        let word = PLANT_WORDS
            .iter()
            .filter(|word| opens(line.tokens(), word))
            .max_by_key(|word| word.len());
        let Some(word) = word.copied().filter(|word| !self.misspelt(line, word)) else {
            self.unknown_plant_line(line);
            return;
        };
        cursor.skip(word.split(' ').count());
        self.states(span, |trace| trace.of_plant(field(word)));
        if !self.first_time(plant, word, span) {
            return;
        }
        let b = &mut plant.brewhouse;
        let place = format_args!("after `{word}`");
        let c = &mut cursor;
        match word {
            "batch" => {
                b.batch = self.batch(cursor);
                return;
            }
            "mash tun" => b.mash_tun = self.read(c, place),
            "kettle" => b.kettle = self.read(c, place),
            "fermenter" => b.fermenter = self.read(c, place),
            "mash in" => b.liquor = self.read(c, place),
            "absorption" => b.absorption = self.read(c, place),
            "retention" => b.retention = self.read(c, place),
            "sparge mixing" => b.mixing = self.read(c, place),
            "conversion" => b.conversion = self.read(c, place),
            "tun loss" => b.tun_loss = self.read(c, place),
            "kettle loss" => b.kettle_loss = self.read(c, place),
            "fermenter loss" => b.fermenter_loss = self.read(c, place),
            "altitude" => b.altitude = self.read(c, place),
            "stand" => b.stand = self.read(c, place),
            "coolant" => b.coolant = self.read(c, place),
            "grain at" => b.grain = self.read(c, place),
            "tun heat" => b.tun_heat = self.read(c, place),
            "extract yield" => b.extract_yield = self.stated_yield(c),
            "evaporation" => b.evaporation = self.evaporation(c),
            "cool to" | "no chill" => {
                if b.cooling.is_some() {
                    self.exclude("cool to", "no chill", span);
                } else {
                    b.cooling = self.cooling(c, word);
                }
            }
            "heat" => b.heating = self.heating(c),
            "bitterness" => b.bitterness = self.bitterness_model(c),
            "water" => {
                self.expect_figures(cursor, word, "calcium 60 mg/L");
                let mut report = WaterReport::default();
                self.ions(cursor.rest(), &mut report.ions, Some(&mut report.ph));
                b.water = Some(report);
                return;
            }
            "weigh" => {
                self.expect_figures(cursor, word, "malt 5 g");
                self.weighing(cursor.rest(), plant);
                return;
            }
            _ => {
                if b.lauter.is_some() {
                    self.exclude("lauter", "no mash", span);
                } else {
                    b.lauter = self.lauter(word, cursor, span);
                }
                return;
            }
        }
        self.expect_end(cursor);
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

    fn exclude(&mut self, one: &str, other: &str, span: Span) {
        let message = format!("expected either `{one}` or `{other}`, found both");
        self.push(
            Diagnostic::error(Code::ConflictingFacts, span, message)
                .with_help("delete the one that does not hold"),
        );
    }

    /// `91 %`, `76 % of grist`, `88 % in fermenter`
    fn stated_yield(&mut self, cursor: &mut Cursor<'_, '_>) -> Option<StatedYield> {
        let value = self.yield_percent(cursor, "after `extract yield`")?;
        let of = if cursor.eat(&["of", "grist"]) {
            YieldBasis::Grist
        } else {
            YieldBasis::LaboratoryExtract
        };
        let at = if cursor.eat(&["in", "fermenter"]) || cursor.eat(&["into", "fermenter"]) {
            YieldPoint::IntoFermenter
        } else {
            YieldPoint::EndOfBoil
        };
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
                let message = format!("a yield of {found} % is above what plants reach");
                (
                    Diagnostic::warning(Code::YieldTooHigh, measure.span, message),
                    true,
                )
            };
            self.push(diagnostic.with_help(
                "state the extract in the wort over the laboratory extract of the malt, or write `of grist` behind a yield of the malt's weight",
            ));
            if !usable {
                return None;
            }
        }
        self.written(&measure)
    }

    /// `2.6 L/h` or `5 % per hour`
    fn evaporation(&mut self, cursor: &mut Cursor<'_, '_>) -> Option<Evaporation> {
        let both = [Dimension::VolumePerTime, Dimension::Percent];
        let measure = self.measure(cursor, &both, "after `evaporation`")?;
        if measure.unit.dimension() == Dimension::VolumePerTime {
            return self.written(&measure).map(Evaporation::Rate);
        }
        let hourly = cursor.eat(&["per", "hour"])
            || cursor.eat(&["per", "h"])
            || cursor.eat(&["an", "hour"])
            || cursor.eat(&["/h"])
            || cursor.eat(&["/hour"]);
        if !hourly {
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

    /// `cool to 20 C in 25 min by coil`, or `no chill`
    fn cooling(&mut self, cursor: &mut Cursor<'_, '_>, word: &str) -> Option<PlantCooling> {
        let mut cooling = PlantCooling::default();
        if word == "no chill" {
            cooling.method = Some(CoolingMethod::NoChill);
            return Some(cooling);
        }
        cooling.to = Some(self.read(cursor, "after `cool to`")?);
        loop {
            if cooling.time.is_none() && cursor.eat(&["in"]) {
                cooling.time = self.read(cursor, "after `in`");
            } else if cooling.method.is_none()
                && (cursor.eat(&["by", "coil"]) || cursor.eat(&["through", "coil"]))
            {
                cooling.method = Some(CoolingMethod::Coil);
            } else if cooling.method.is_none()
                && (cursor.eat(&["through", "plate"]) || cursor.eat(&["by", "plate"]))
            {
                cooling.method = Some(CoolingMethod::Plate);
            } else {
                return Some(cooling);
            }
        }
    }

    fn heating(&mut self, cursor: &mut Cursor<'_, '_>) -> Option<Heating> {
        for (word, heating) in [
            ("direct", Heating::Direct),
            ("infusion", Heating::Infusion),
            ("decoction", Heating::Decoction),
            ("none", Heating::None),
        ] {
            if cursor.eat(&[word]) {
                return Some(heating);
            }
        }
        self.choose(
            cursor,
            "heat",
            "`direct`, `infusion`, `decoction` or `none`",
        );
        None
    }

    fn bitterness_model(&mut self, cursor: &mut Cursor<'_, '_>) -> Option<BitternessModel> {
        if cursor.eat(&["tinseth"]) {
            return Some(BitternessModel::Tinseth);
        }
        if cursor.eat(&["kinetic"]) {
            return Some(BitternessModel::Kinetic);
        }
        self.choose(cursor, "bitterness", "`tinseth` or `kinetic`");
        None
    }

    fn choose(&mut self, cursor: &mut Cursor<'_, '_>, word: &str, choices: &str) {
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

    fn lauter(&mut self, word: &str, cursor: Cursor<'_, '_>, span: Span) -> Option<Lauter> {
        let mut clauses = cursor.rest().split(Token::is_comma);
        let mut way = Cursor::new(clauses.next().unwrap_or(&[]), span);
        let mut lauter = if word == "no mash" || way.eat(&["none"]) {
            Lauter::NoMash
        } else if way.eat(&["bag"]) {
            Lauter::Bag(Bag::default())
        } else if way.eat(&["batch"]) {
            Lauter::Batch(BatchSparge::new(1))
        } else if way.eat(&["continuous"]) {
            Lauter::Continuous(ContinuousSparge::default())
        } else {
            self.choose(&mut way, "lauter", "`bag`, `batch` or `continuous`");
            return None;
        };
        self.expect_end(way);
        let mut clauses = clauses.filter(|clause| !clause.is_empty());
        if let Some(clause) = clauses.next() {
            self.lauter_clause(clause, &mut lauter);
        }
        // No way of lautering has two figures.
        for clause in clauses {
            self.expect_end(Cursor::new(clause, span));
        }
        Some(lauter)
    }

    fn lauter_clause(&mut self, clause: &[Token<'_>], lauter: &mut Lauter) {
        let span = span_of(clause).unwrap_or_default();
        let mut cursor = Cursor::new(clause, span);
        match lauter {
            Lauter::Bag(bag) if cursor.eat(&["sparge"]) => {
                bag.sparge = self.read(&mut cursor, "after `sparge`");
            }
            Lauter::Batch(batch) if cursor.eat(&["sparges"]) || cursor.eat(&["sparge"]) => {
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
            }
            Lauter::Continuous(tun) if cursor.eat(&["yield"]) => {
                tun.reached = self.yield_percent(&mut cursor, "after `yield`");
            }
            Lauter::NoMash if cursor.at(&["sparge"]) || cursor.at(&["sparges"]) => {
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
            _ => {}
        }
        self.expect_end(cursor);
    }

    /// `malt 5 g, hops 0.5 g, salts 0.1 g`
    fn weighing(&mut self, tokens: &[Token<'_>], plant: &mut Plant) {
        let weighing = &mut plant.brewhouse.weighing;
        for clause in tokens.split(Token::is_comma).filter(|c| !c.is_empty()) {
            let span = span_of(clause).unwrap_or_default();
            let (label, mut cursor) = labelled(clause, span);
            let slot: &mut Option<Written<Mass>> = match &*lower_case(&label) {
                "malt" | "malts" | "grain" => &mut weighing.malt,
                "hops" | "hop" => &mut weighing.hops,
                "salts" | "salt" => &mut weighing.salts,
                _ => {
                    self.unknown_figure(
                        &label,
                        span,
                        "what is weighed",
                        &["malt", "hops", "salts"],
                    );
                    continue;
                }
            };
            let read = self.read(&mut cursor, format_args!("after `{label}`"));
            self.fill(slot, read, &label, span);
            self.expect_end(cursor);
        }
    }
}
