//! What a text without statements of the notation is: a sheet, a log or a plant.

use super::bit::Bit;
use super::log::{Clocks, Columns, LogWord, stamp};
use super::names::Names;
use super::plant;
use super::said::Part;
use super::scan::{opening_text, scan};
use super::words::has;
use crate::notation::lower::opens_statement;
use crate::notation::tree::{Document, Line};
use crate::quantity::Dimension;

/// What brewers write down of a day that is done.
const DONE: &[&str] = &[
    "pitched",
    "racked",
    "kegged",
    "bottled",
    "brewed",
    "mashed",
    "sparged",
    "drained",
    "crashed",
    "boiled",
    "chilled",
    "knocked",
    "topped",
    "pulled",
    "drew",
    "dumped",
    "roused",
    "skimmed",
    "hit",
    "read",
    "reading",
    "collected",
    "ended",
    "cast",
    "filled",
    "added",
    "took",
    "settled",
];

/// Words beside a gravity that nobody has read yet.
const PLANNED: &[&str] = &[
    "target",
    "aim",
    "aiming",
    "expected",
    "estimated",
    "est",
    "planned",
    "style",
    "range",
];

const HEADS_OF_LOGS: &[&str] = &[
    "log",
    "diary",
    "actuals",
    "journal",
    "tank card",
    "brewed",
    "brew day notes",
];
const HEADS_OF_PLANTS: &[&str] = &[
    "brewhouse",
    "equipment",
    "setup",
    "plant",
    "brewery",
    "system",
    "kit",
];

/// What its lines say.
#[derive(Debug, Default)]
struct Count {
    lines: usize,
    stamped: usize,
    done: usize,
    /// Lines about the brew day.
    hot: usize,
    has_columns: bool,
    equipment: usize,
    ingredients: usize,
    /// Gravities, of a beer that is brewed and not of one that is planned.
    gravities: usize,
    has_volume: bool,
    has_statement: bool,
    /// What its first line says that it is.
    head: Option<Part>,
}

/// Words of texts in which wort is soured before its boil.
const SOURED: &[&str] = &[
    "sour",
    "souring",
    "soured",
    "kettle sour",
    "kettle souring",
    "lacto",
    "lactobacillus",
    "yoghurt",
    "preacidify",
    "pre-acidify",
];

/// Whether a text speaks of souring.
pub(super) fn is_soured(document: &Document<'_>) -> bool {
    fn look(lines: &mut dyn Iterator<Item = &Line<'_>>) -> bool {
        // Depth is bounded by the parser.
        for line in lines {
            if has(&scan(line.tokens()), SOURED) || look(&mut line.lines()) {
                return true;
            }
        }
        false
    }
    look(&mut document.lines())
}

/// The part that a text begins with: that of a log, of a plant, or the head of a sheet.
pub(super) fn opens_as(document: &Document<'_>, names: &Names<'_>) -> Part {
    let mut count = Count::default();
    count.look(&mut document.lines(), names);
    count.part()
}

impl Count {
    fn look(&mut self, lines: &mut dyn Iterator<Item = &Line<'_>>, names: &Names<'_>) {
        for line in lines {
            let bits = scan(line.tokens());
            self.has_statement |= opens_text(line);
            if self.lines == 0 {
                let is_log = has(&bits, HEADS_OF_LOGS);
                let is_plant = !is_log && has(&bits, HEADS_OF_PLANTS);
                self.head = is_log
                    .then_some(Part::Log)
                    .or_else(|| is_plant.then_some(Part::Plant));
            }
            self.lines += 1;
            self.has_columns |= Columns::of(line.tokens()).is_some();
            let is_row = self.has_columns && bits.first().is_some_and(|bit| bit.bare().is_some());
            let is_stamped = is_row || stamp(&opening_text(line.tokens()), Clocks::Colon).is_some();
            self.stamped += usize::from(is_stamped);
            self.done += usize::from(!is_stamped && has(&bits, DONE));
            let of_brew_day = [
                LogWord::Hot.phrases(),
                LogWord::FirstWort.phrases(),
                LogWord::BeforeBoil.phrases(),
                LogWord::AfterBoil.phrases(),
            ];
            let is_hot = of_brew_day.iter().any(|words| has(&bits, words));
            self.hot += usize::from(!is_stamped && is_hot);
            let is_of_plant = plant::speaks(&bits);
            self.equipment += usize::from(is_of_plant);
            // `32 L boiler, copper manifold, efficiency 75 %` weighs nothing.
            let is_weighed = bits.iter().filter_map(Bit::quantity).any(|written| {
                matches!(
                    written.unit.dimension(),
                    Dimension::Mass | Dimension::Bitterness | Dimension::Packs
                )
            });
            self.ingredients +=
                usize::from((is_weighed || !is_of_plant) && is_ingredient(&bits, names));
            let is_of = |wanted: &[Dimension]| {
                let mut written = bits.iter().filter_map(Bit::quantity);
                written.any(|written| wanted.contains(&written.unit.dimension()))
            };
            let is_shown = |bit: &&Bit| {
                bit.quantity().is_some_and(|written| {
                    matches!(
                        written.unit.dimension(),
                        Dimension::Gravity | Dimension::Ratio
                    )
                })
            };
            if !has(&bits, PLANNED) {
                self.gravities += bits.iter().filter(is_shown).count();
            }
            self.has_volume |= is_of(&[Dimension::Volume]);
            self.look(&mut line.lines(), names);
        }
    }

    /// Whether it gives gravities and nothing to brew from: a beer that was measured.
    fn is_read(&self) -> bool {
        let is_measured = self.gravities >= 2 || self.gravities == 1 && self.has_volume;
        is_measured
            && self.gravities > self.equipment
            && self.gravities > 2 * self.ingredients
            && 2 * self.hot <= self.lines
    }

    fn part(&self) -> Part {
        if self.has_statement {
            return Part::Head;
        }
        let said = 2 * self.stamped + self.done;
        let is_log = self.stamped >= 2 && 3 * self.stamped >= self.lines
            || self.stamped + self.done >= 2
                && 3 * said >= 2 * self.lines
                && 3 * self.ingredients <= self.lines
            || self.head == Some(Part::Log)
                && self.stamped + self.done > 0
                && 2 * (said + self.hot) >= self.lines
            || self.is_read();
        let is_plant = self.equipment >= 1
            && self.equipment > 2 * self.ingredients
            && 2 * self.equipment + usize::from(self.head == Some(Part::Plant)) >= self.lines;
        match (is_log, is_plant) {
            (true, _) => Part::Log,
            (false, true) => Part::Plant,
            _ => Part::Head,
        }
    }
}

/// Whether a line opens a text of the notation: `brewhouse Stove top`, and not `brewhouse yield 68 %`.
pub(super) fn opens_text(line: &Line<'_>) -> bool {
    let opens = opens_statement(line.tokens()).is_some_and(|word| {
        matches!(
            word,
            "recipe" | "brewhouse" | "log" | "stock" | "ingredient"
        )
    });
    let bits = scan(line.tokens());
    // `brewhouse eff 70`
    let says_yield = bits
        .get(1)
        .and_then(Bit::word)
        .is_some_and(|word| matches!(word, "eff" | "efficiency" | "yield" | "extract"))
        && bits.get(2).is_some();
    if says_yield {
        return false;
    }
    let is_name = bits
        .get(1)
        .is_none_or(|bit| bit.quantity().is_none() && !bit.is_mark(':'));
    opens
        && is_name
        && !bits.iter().any(|bit| {
            bit.quantity()
                .is_some_and(|written| written.unit.dimension() == Dimension::Percent)
        })
}

/// Whether a line states how much of a malt, a hop or a yeast there is.
fn is_ingredient(bits: &[Bit], names: &Names<'_>) -> bool {
    let is_amount = |bit: &Bit| {
        bit.quantity().is_some_and(|written| {
            matches!(
                written.unit.dimension(),
                Dimension::Mass | Dimension::Percent | Dimension::Packs | Dimension::Bitterness
            )
        })
    };
    bits.iter().any(is_amount)
        && bits
            .split(|bit| bit.word().is_none())
            .filter(|run| !run.is_empty())
            .any(|run| {
                let words: Vec<String> = run
                    .iter()
                    .filter_map(Bit::word)
                    .map(str::to_owned)
                    .collect();
                names.stretch(&words, Part::Head).is_some()
            })
}
