//! The texts of a folder, each with its facts; phrases and names in a small frame.

use super::fact::Fact;
use crate::files::{at, below, read};
use std::collections::BTreeMap;
use std::ops::RangeInclusive;

/// What a text is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sort {
    Sheet,
    Log,
    Plant,
    Phrase,
    Name,
}

impl Sort {
    pub const ALL: [Self; 5] = [
        Self::Sheet,
        Self::Log,
        Self::Plant,
        Self::Phrase,
        Self::Name,
    ];

    pub const fn plural(self) -> &'static str {
        match self {
            Self::Sheet => "sheets",
            Self::Log => "logs",
            Self::Plant => "plants",
            Self::Phrase => "phrases",
            Self::Name => "names",
        }
    }
}

/// A text with what it means.
#[derive(Debug, Clone)]
pub struct Case {
    /// The file, and the row of a table.
    pub path: String,
    pub sort: Sort,
    pub text: String,
    /// The lines that count; a frame around them does not.
    pub lines: RangeInclusive<usize>,
    pub facts: Vec<Fact>,
}

/// All texts below a folder: `sheets`, `logs`, `plants`, `phrases.csv` and `names.csv`, of one writer or of several.
pub fn cases(folder: &str) -> Vec<Case> {
    let mut found = Vec::new();
    for path in below(folder, ".txt") {
        found.extend(document(&path));
    }
    for path in below(folder, "phrases.csv") {
        found.extend(phrases(&path, &read(&path)));
    }
    for path in below(folder, "names.csv") {
        found.extend(names(&path, &read(&path)));
    }
    found
}

/// A text as typed, with the facts beside it; nothing for one that has none.
fn document(path: &str) -> Option<Case> {
    let meant = path.replace(".txt", ".means");
    if !at(&meant).exists() {
        return None;
    }
    let sort = match path.rsplit('/').nth(1) {
        Some("logs") => Sort::Log,
        Some("plants") => Sort::Plant,
        _ => Sort::Sheet,
    };
    let text = read(path);
    let facts = read(&meant)
        .lines()
        .map(|row| Case::fact(row).unwrap_or_else(|fault| panic!("{meant}: {row}: {fault}")))
        .collect();
    let lines = 1..=text.lines().count().max(1);
    Some(Case {
        path: path.to_owned(),
        sort,
        text,
        lines,
        facts,
    })
}

impl Case {
    /// `LINE | STAGE | KIND | NAME | AMOUNT | FIGURES`.
    pub fn fact(row: &str) -> Result<Fact, String> {
        let fields: Vec<&str> = row.split(" | ").collect();
        let (line, fields) = fields.split_first().ok_or("an empty row")?;
        let line = line.parse().map_err(|_| format!("no line: {line}"))?;
        Fact::parse(line, fields)
    }
}

/// `typed | block | STAGE | KIND | NAME | AMOUNT | FIGURES`; rows of one phrase are one case.
fn phrases(path: &str, table: &str) -> Vec<Case> {
    let mut found: BTreeMap<(String, String), Case> = BTreeMap::new();
    for (index, row) in table.lines().enumerate() {
        let row_path = format!("{path}:{}", index + 1);
        let fields: Vec<&str> = row.split(" | ").collect();
        let [typed, block, fact @ ..] = &fields[..] else {
            panic!("{row_path}: {row}");
        };
        let case = found
            .entry(((*typed).to_owned(), (*block).to_owned()))
            .or_insert_with(|| framed(row_path.clone(), Sort::Phrase, block, typed));
        let line = *case.lines.start();
        let fact = Fact::parse(line, fact).unwrap_or_else(|fault| panic!("{row_path}: {fault}"));
        case.facts.push(fact);
    }
    found.into_values().collect()
}

/// `typed | block | KIND | NAME[, FIGURE]...`, as a line with a plausible amount.
fn names(path: &str, table: &str) -> Vec<Case> {
    let rows = table.lines().enumerate();
    rows.map(|(index, row)| {
        let row_path = format!("{path}:{}", index + 1);
        let fields: Vec<&str> = row.split(" | ").collect();
        let [typed, block, kind, meant] = fields[..] else {
            panic!("{row_path}: {row}");
        };
        let (name, figures) = meant.split_once(", ").unwrap_or((meant, "-"));
        let (typed_amount, amount) = plausible(kind, name);
        let line = format!("{typed_amount} {typed}");
        let mut case = framed(row_path.clone(), Sort::Name, block, &line);
        let start = *case.lines.start();
        let fact = Fact::parse(start, &[block, kind, name, amount, figures])
            .unwrap_or_else(|fault| panic!("{row_path}: {fault}"));
        case.facts.push(fact);
        case
    })
    .collect()
}

/// An amount in which a brewer takes things of the kind: as typed, and as the corpus writes it.
fn plausible(kind: &str, name: &str) -> (&'static str, &'static str) {
    match kind {
        "malt" | "grain" | "sugar" | "extract" | "fruit" | "other" => ("500 g", "0.5 kg"),
        "yeast" => ("1 pack", "1 pack"),
        "juice" => ("500 mL", "0.5 L"),
        "spirit" => ("200 mL", "0.2 L"),
        "water" => ("5 L", "5 L"),
        "acid" => ("5 mL", "0.005 L"),
        "enzyme" | "finings" if name.contains("tablet") => ("1 tablet", "1 tablet"),
        "enzyme" | "finings" | "nutrient" | "salt" => ("5 g", "0.005 kg"),
        _ => ("20 g", "0.02 kg"),
    }
}

/// A line in its block of a small recipe, plant, stock or log.
pub(super) fn framed(path: String, sort: Sort, block: &str, line: &str) -> Case {
    let before = frame(block);
    let text = format!("{before}{line}\n");
    let at = text.lines().count();
    Case {
        path,
        sort,
        text,
        lines: at..=at,
        facts: Vec::new(),
    }
}

fn frame(block: &str) -> &'static str {
    match block {
        "recipe" | "head" => "recipe Small\n",
        "water" => "recipe Small\nbatch 20 L\nmash\n  4 kg pale ale malt\nwater\n  ",
        "mash" => "recipe Small\nbatch 20 L\nmash\n  4 kg pale ale malt\n  ",
        "sour" => "recipe Small\nbatch 20 L\nmash\n  4 kg pale ale malt\nsour\n  ",
        "boil" => "recipe Small\nbatch 20 L\nmash\n  4 kg pale ale malt\nboil\n  ",
        "stand" => {
            "recipe Small\nbatch 20 L\nmash\n  4 kg pale ale malt\nboil 60 min\nstand 20 min at 80 C\n  "
        }
        "ferment" => {
            "recipe Small\nbatch 20 L\nmash\n  4 kg pale ale malt\nboil 60 min\nferment\n  "
        }
        "package" => {
            "recipe Small\nbatch 20 L\nmash\n  4 kg pale ale malt\nboil 60 min\npackage\n  "
        }
        "plant" => "brewhouse Small\n  ",
        "stock" => "stock\n  ",
        "log" => "log Small\n  ",
        other => panic!("no block: {other}"),
    }
}
