//! Where the models keep a fact, and what they have no place for.

use super::fact::{Amount, Fact};
use super::measure::Scale;
use crate::files::read;

/// Kinds of the corpus that are ingredients.
const INGREDIENTS: &[&str] = &[
    "malt", "grain", "sugar", "extract", "juice", "fruit", "hop", "spice", "yeast", "salt", "acid",
    "finings", "nutrient", "enzyme", "wood", "spirit", "other", "added", "pitched",
];

/// Waters that are settings and no liquid.
const WATER_FIGURES: &[&str] = &[
    "calcium",
    "magnesium",
    "sodium",
    "potassium",
    "sulphate",
    "chloride",
    "bicarbonate",
    "alkalinity",
    "residual alkalinity",
    "hardness",
    "infusion",
    "cereal mash",
    "coolant",
];

/// Whether a fact of the corpus is of an ingredient.
pub(super) fn is_ingredient(fact: &Fact) -> bool {
    match fact.kind.as_str() {
        "water" => !WATER_FIGURES.contains(&fact.name.as_str()),
        "prime" => !is_gas(fact) && fact.name != "none",
        kind => INGREDIENTS.contains(&kind),
    }
}

fn is_gas(fact: &Fact) -> bool {
    matches!(&fact.amount, Amount::Is(measure) if measure.scale == Scale::Gas)
}

/// Where a setting is kept: stage, kind and name, the same for all words of it.
pub(super) fn slot(fact: &Fact) -> (&str, &str, &str) {
    let (stage, kind, name) = (fact.stage.as_str(), fact.kind.as_str(), fact.name.as_str());
    match (stage, kind, name) {
        ("mash", "mash-out", _) => ("mash", "rest", ""),
        ("mash", "rest", "decoction" | "cereal mash" | "second mash")
        | ("mash", "sparge", "none")
        | ("plant", "mash-tun", "maximum grain")
        | ("plant", "kettle", "decoction kettle")
        | ("plant", "efficiency", "above" | "up to" | "conversion")
        | ("recipe" | "plant", "batch", "before boil" | "after boil" | "packaged") => {
            (stage, kind, name)
        }
        ("recipe" | "plant", "batch", _) => (stage, kind, "into fermenter"),
        ("ferment", "crash", _) => ("ferment", "hold", ""),
        ("package", "prime", _) if is_gas(fact) => ("package", "carbonate", ""),
        ("recipe", "original", _)
        | ("mash", "rest" | "sparge" | "mash-in", _)
        | ("ferment", "hold" | "pitch", _)
        | ("boil", "cool", "-")
        | ("package", "keg" | "bottle" | "cask" | "carbonate", _)
        | ("plant", "kettle" | "mash-tun" | "fermenter-size" | "efficiency", _)
        | (_, _, "-") => (stage, kind, ""),
        ("plant", "loss", "whirlpool") => (stage, kind, "kettle"),
        ("plant", "sparge", "fly") => (stage, "lauter", "continuous"),
        ("plant", "sparge", "batch") => (stage, "lauter", "batch"),
        ("plant", "cool", "immersion chiller") => (stage, kind, "coil"),
        ("plant", "cool", "plate chiller" | "counterflow chiller" | "two-stage heat exchanger") => {
            (stage, kind, "plate")
        }
        _ => (stage, kind, name),
    }
}

/// Whether a setting that is held is of the kind meant.
pub(super) fn same_slot(meant: &Fact, held: &Fact) -> bool {
    let (meant_slot, held_slot) = (slot(meant), slot(held));
    if meant_slot == held_slot {
        return true;
    }
    match (meant_slot, held_slot) {
        // What leaves the kettle is counted at its end or in the fermenter.
        ((stage, "batch", "into fermenter"), (other, "batch", "after boil")) => {
            stage == other && meant.name == "knocked out"
        }
        (("log", "reading", meant), ("log", "reading", held)) => match held {
            "original" => matches!(meant, "" | "fermenter" | "knocked out"),
            _ => matches!(meant, "fermenter" | "final"),
        },
        (("log", "drawn", _), ("log", "drawn", _)) => true,
        // How much a title says that there was is the wort that was pitched.
        (("log", "batch", ""), ("log", "reading", "original")) => true,
        // How wort is cooled is the plant's.
        (("boil", "cool", "no-chill"), ("plant", "cool", "no-chill")) => true,
        // A water that is wanted, or the plant's own.
        (("water", "water", meant), ("plant", "water", held)) => meant == held,
        ((one, "name", meant), (other, "name", held)) => one == other && same_title(meant, held),
        _ => false,
    }
}

/// Whether a title holds the one meant, be there more words about it; what the words mean besides is a fact of its own.
fn same_title(meant: &str, held: &str) -> bool {
    let letters = |title: &str| {
        let kept = title.chars().filter(|sign| sign.is_alphanumeric());
        kept.flat_map(char::to_lowercase).collect::<String>()
    };
    letters(held).contains(&letters(meant))
}

/// What stands once in a model, by which of several that a text states it keeps one.
pub(super) fn stands_once(fact: &Fact) -> Option<(&str, &str)> {
    let (stage, kind, _) = slot(fact);
    let group = match kind {
        "keg" | "bottle" | "cask" => "container",
        "batch" | "original" | "final" | "boil-time" | "sparge" | "mash-in" | "kettle"
        | "mash-tun" | "fermenter-size" | "efficiency" | "evaporation" | "lauter" | "cool"
        | "carbonate" | "name" => kind,
        _ => return None,
    };
    Some((stage, group))
}

/// What the models have no place for: such a fact counts as read where its line is neither refused nor read as something else.
#[derive(Debug)]
pub struct Places {
    rows: Vec<Row>,
    /// Names of what is counted, and g or mL of one.
    pieces: Vec<(String, f64)>,
}

#[derive(Debug)]
struct Row {
    stage: String,
    kind: String,
    name: String,
    unit: String,
    why: String,
}

impl Places {
    /// Those of the table.
    pub fn load() -> Self {
        let pieces = read("tests/corpus/pieces.csv");
        let pieces = pieces.lines().filter(|row| !row.starts_with('#'));
        let pieces = pieces.map(|row| {
            let (name, each) = row.split_once(" | ").unwrap_or_else(|| panic!("{row}"));
            (
                name.to_owned(),
                each.parse().unwrap_or_else(|_| panic!("{row}")),
            )
        });
        Self {
            pieces: pieces.collect(),
            ..Self::parse(&read("tests/corpus/no_place.csv"))
        }
    }

    /// Rows `STAGE | KIND | NAME | UNIT | why`, `*` for any; a row whose stage is `figure` has a label in place of a name.
    pub fn parse(table: &str) -> Self {
        let rows = table.lines().filter(|row| !row.starts_with('#'));
        let rows = rows.map(|row| {
            let fields: Vec<&str> = row.split(" | ").collect();
            let [stage, kind, name, unit, why] = fields[..] else {
                panic!("five fields expected: {row}");
            };
            let [stage, kind, name, unit, why] = [stage, kind, name, unit, why].map(str::to_owned);
            Row {
                stage,
                kind,
                name,
                unit,
                why,
            }
        });
        Self {
            rows: rows.collect(),
            pieces: Vec::new(),
        }
    }

    /// Grams or millilitres of one of what is counted.
    pub(super) fn piece(&self, name: &str) -> Option<f64> {
        let mut pieces = self.pieces.iter();
        pieces.find(|(own, _)| own == name).map(|(_, each)| *each)
    }

    /// Why the models have no place for a fact.
    pub fn without(&self, fact: &Fact) -> Option<&str> {
        let row = self.rows.iter().find(|row| row.holds(fact));
        row.map(|row| row.why.as_str())
    }

    /// Whether a fact's amount or figure has no place, though the fact has.
    pub fn without_figure(&self, fact: &Fact, label: &str) -> bool {
        self.rows.iter().any(|row| row.holds_figure(fact, label))
    }

    /// Rows that no fact needs.
    pub fn idle(&self, facts: &[&Fact]) -> Vec<String> {
        let is_idle = |row: &&Row| {
            !facts.iter().any(|fact| {
                let mut labels = fact.figures.keys().map(String::as_str).chain(["amount"]);
                row.holds(fact) || labels.any(|label| row.holds_figure(fact, label))
            })
        };
        let idle = self.rows.iter().filter(is_idle);
        idle.map(|row| format!("{} | {} | {} | {}", row.stage, row.kind, row.name, row.unit))
            .collect()
    }
}

impl Row {
    fn holds(&self, fact: &Fact) -> bool {
        fits(&self.stage, &fact.stage)
            && fits(&self.kind, &fact.kind)
            && fits(&self.name, &fact.name)
            && fits(&self.unit, &unit(fact))
    }

    fn holds_figure(&self, fact: &Fact, label: &str) -> bool {
        self.stage == "figure" && fits(&self.kind, &fact.kind) && fits(&self.name, label)
    }
}

/// Whether a word is among those of a cell.
fn fits(cell: &str, word: &str) -> bool {
    cell == "*" || cell.split(", ").any(|one| one == word)
}

/// The unit of a fact's amount, `-` where it has none.
fn unit(fact: &Fact) -> String {
    let Amount::Is(measure) = &fact.amount else {
        return "-".to_owned();
    };
    let shown = measure.each().to_string();
    shown
        .split_once(' ')
        .map_or(String::new(), |(_, unit)| unit.to_owned())
}
