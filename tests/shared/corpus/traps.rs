//! The score of a line that could be taken for another thing.

use super::cases::{Case, Sort, framed};
use super::fact::Fact;
use super::held::Held;
use super::measure::Measure;
use super::names::Names;
use super::verdict::Scorer;
use crate::files::read;
use std::fmt::Write;
use wortwright::diagnostic::Severity;
use wortwright::quantity::{Mass, Volume, Written};

/// Kinds that the table names beside those of the corpus.
const KINDS: &[&str] = &[
    "malt", "grain", "sugar", "extract", "juice", "fruit", "hop", "spice", "herb", "yeast", "salt",
    "acid", "finings", "nutrient", "enzyme", "water", "wood", "spirit", "other", "prime",
    "setting", "note", "unit",
];

/// A row of the table.
#[derive(Debug, Clone)]
pub struct Trap {
    pub case: Case,
    /// What it means, in plain words.
    pub means: String,
    /// Of these kinds; none where the words do not tell.
    pub kinds: Vec<String>,
    /// Words and kind of what it must not become.
    pub must_not: Vec<(String, Vec<String>)>,
    /// Whether the reader has to ask.
    pub is_to_ask: bool,
}

/// What became of it, best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TrapOutcome {
    Right,
    /// It could have been read.
    Asked,
    /// The kind is right; no word of the name is that of the meaning.
    Doubtful,
    /// Nothing is made of it, and nothing said.
    Silent,
    /// It became what it is not, without a word.
    Wrong,
}

/// A row with what became of it.
#[derive(Debug, Clone)]
pub struct TrapVerdict {
    pub trap: Trap,
    pub outcome: TrapOutcome,
    pub why: String,
    pub held: Vec<Fact>,
    pub diagnostics: Vec<(usize, Severity, String)>,
}

/// The rows `typed | block | means, kind | must not become; ... | reads or ask | why`.
pub fn traps(path: &str) -> Vec<Trap> {
    let table = read(path);
    let rows = table.lines().enumerate();
    rows.filter(|(_, row)| !row.starts_with('#'))
        .map(|(index, row)| {
            let fields: Vec<&str> = row.split(" | ").collect();
            let [typed, block, means, must_not, outcome, _] = fields[..] else {
                panic!("{path}:{}: six fields expected", index + 1);
            };
            let (means, kinds) = words_and_kinds(means);
            Trap {
                case: framed(format!("{path}:{}", index + 1), Sort::Phrase, block, typed),
                means,
                kinds,
                must_not: must_not.split("; ").map(words_and_kinds).collect(),
                is_to_ask: outcome == "ask",
            }
        })
        .collect()
}

/// `crystal malt of 130 EBC, malt`: the kinds are those of the last part that names any at its start.
fn words_and_kinds(text: &str) -> (String, Vec<String>) {
    let parts: Vec<&str> = text.split(", ").collect();
    for (index, part) in parts.iter().enumerate().skip(1).rev() {
        let words = part
            .split([' ', ';'])
            .take_while(|word| *word == "or" || KINDS.contains(word));
        let kinds: Vec<String> = words.filter(|word| *word != "or").map(in_corpus).collect();
        if !kinds.is_empty() {
            return (parts[..index].join(", "), kinds);
        }
    }
    (text.to_owned(), Vec::new())
}

fn in_corpus(kind: &str) -> String {
    if kind == "herb" { "spice" } else { kind }.to_owned()
}

impl Scorer {
    /// Reads a trap and judges what became of it.
    pub fn score_trap(&self, trap: &Trap) -> TrapVerdict {
        let heard = self.hear(&trap.case);
        let held = heard.held;
        let told = heard.told.values().max().copied();
        let (outcome, why) = self.judge(trap, &held, told);
        TrapVerdict {
            trap: trap.clone(),
            outcome,
            why,
            held: held.iter().map(Held::shown).collect(),
            diagnostics: heard.diagnostics,
        }
    }

    fn judge(&self, trap: &Trap, held: &[Held], told: Option<Severity>) -> (TrapOutcome, String) {
        let said = |outcome, why: &str| (outcome, why.to_owned());
        let asked = told >= Some(Severity::Warning);
        if asked && trap.is_to_ask {
            return said(TrapOutcome::Right, "");
        }
        // What is refused becomes nothing, and what is warned of is told.
        if told == Some(Severity::Error) {
            return said(TrapOutcome::Asked, "refused");
        }
        let bad = trap
            .must_not
            .iter()
            .find(|bad| self.is_bad(trap, bad, held));
        if let Some((words, kinds)) = bad {
            return (
                TrapOutcome::Wrong,
                format!("became {words}, {}", kinds.join(" or ")),
            );
        }
        if trap.is_to_ask {
            return if held.is_empty() {
                said(TrapOutcome::Silent, "not asked")
            } else {
                said(TrapOutcome::Wrong, "taken without a question")
            };
        }
        self.read(trap, held, asked)
    }

    /// What became of a line that can be read.
    fn read(&self, trap: &Trap, held: &[Held], asked: bool) -> (TrapOutcome, String) {
        let said = |outcome, why: &str| (outcome, why.to_owned());
        let is_setting = |held: &&Held| held.kinds.is_empty();
        if held.is_empty() {
            return if asked {
                said(TrapOutcome::Asked, "warned of")
            } else if trap.kinds == ["note"] {
                said(TrapOutcome::Right, "")
            } else {
                said(TrapOutcome::Silent, "nothing held")
            };
        }
        if trap
            .kinds
            .iter()
            .any(|kind| kind == "setting" || kind == "note")
        {
            // A heat at which it is pitched needs a yeast, which is the brewery's own where none is named.
            let is_carrier = |held: &Held| held.fact.name == "house yeast";
            return if held
                .iter()
                .all(|held| is_setting(&held) || is_carrier(held))
            {
                said(TrapOutcome::Right, "")
            } else {
                said(TrapOutcome::Wrong, "no ingredient")
            };
        }
        // What no catalogue knows and the reader says so of may be anything.
        let is_unknown = |held: &Held| held.entry.is_none() && held.kinds == ["other"] && asked;
        let of_kind = |held: &&Held| {
            let mut kinds = trap.kinds.iter();
            // Where the words tell no kind, any will do.
            is_unknown(held)
                || trap.kinds.is_empty()
                || kinds.any(|kind| held.kinds.contains(&kind.as_str()) || kind == "prime")
        };
        let Some(found) = held.iter().find(of_kind) else {
            return said(TrapOutcome::Wrong, "another kind");
        };
        let is_named = match &found.entry {
            Some(entry) => {
                self.names.is(&trap.means, entry, &self.catalogue)
                    || Names::share_a_word(&trap.means, entry)
            }
            None => Names::share_a_word(&trap.case.text, &found.fact.name),
        };
        if is_named {
            said(TrapOutcome::Right, "")
        } else {
            said(TrapOutcome::Doubtful, "another name")
        }
    }

    /// Whether something held is what the line must not become, as far as kind, name and amount tell.
    fn is_bad(&self, trap: &Trap, (words, kinds): &(String, Vec<String>), held: &[Held]) -> bool {
        let amount = amount_in(words);
        held.iter().any(|held| {
            let entry = held.entry.as_deref();
            let is_kind = kinds.iter().any(|kind| held.kinds.contains(&kind.as_str()));
            let is_amount = match (&amount, held.fact.amount.measure()) {
                (Some(bad), Some(found)) => bad.agrees(found),
                _ => false,
            };
            // `100 L batch`: of a batch, and of no kettle.
            let is_amount = is_amount && is_of_setting(words, &held.fact);
            let is_setting = kinds.iter().any(|kind| kind == "setting")
                && held.kinds.is_empty()
                && trap.kinds.iter().all(|kind| kind != "setting");
            is_setting
                || (is_kind
                    && entry.is_some_and(|entry| self.names.is(words, entry, &self.catalogue)))
                || (is_amount
                    && (is_kind || kinds.iter().any(|kind| kind == "unit" || kind == "setting")))
        })
    }
}

/// Whether words behind an amount that name a setting name the one held.
fn is_of_setting(words: &str, held: &Fact) -> bool {
    let behind: Vec<&str> = words.split(' ').skip(2).collect();
    !matches!(behind[..], ["batch"]) || held.kind == "batch"
}

/// `150200 g`, `1 kg of malt`: an amount at the start.
fn amount_in(words: &str) -> Option<Measure> {
    let mut words = words.split(' ');
    let text = format!("{} {}", words.next()?, words.next()?);
    let mass = text.parse::<Written<Mass>>().ok();
    let volume = text.parse::<Written<Volume>>().ok();
    mass.as_ref()
        .map(Measure::of)
        .or_else(|| volume.as_ref().map(Measure::of))
}

/// What fails, and the counts.
pub fn report_traps(found: &[TrapVerdict], only_wrong: bool) -> String {
    let mut page = String::new();
    let least = if only_wrong {
        TrapOutcome::Wrong
    } else {
        TrapOutcome::Asked
    };
    for verdict in found.iter().filter(|verdict| verdict.outcome >= least) {
        let trap = &verdict.trap;
        let typed = trap.case.text.lines().last().unwrap_or_default().trim();
        let to = if trap.is_to_ask { "ask" } else { "read" };
        let _ = writeln!(
            page,
            "{}  {typed}\n    to {to}: {} [{}]",
            trap.case.path,
            trap.means,
            trap.kinds.join(" or ")
        );
        for (_, severity, message) in &verdict.diagnostics {
            let _ = writeln!(page, "    {severity:?}: {message}");
        }
        for held in &verdict.held {
            let _ = writeln!(page, "        ->  {held}");
        }
        let _ = writeln!(page, "    {:?}: {}", verdict.outcome, verdict.why);
    }
    let count = |outcome, is_to_ask| {
        let of = |verdict: &&TrapVerdict| {
            verdict.outcome == outcome && verdict.trap.is_to_ask == is_to_ask
        };
        found.iter().filter(of).count()
    };
    let _ = writeln!(
        page,
        "\n{:<36}{:>8}{:>8}{:>10}{:>8}{:>8}",
        "traps", "right", "asked", "doubtful", "silent", "wrong"
    );
    for (label, is_to_ask) in [("to be read", false), ("to be asked", true)] {
        let of = |outcome| count(outcome, is_to_ask);
        let _ = writeln!(
            page,
            "{label:<36}{:>8}{:>8}{:>10}{:>8}{:>8}",
            of(TrapOutcome::Right),
            of(TrapOutcome::Asked),
            of(TrapOutcome::Doubtful),
            of(TrapOutcome::Silent),
            of(TrapOutcome::Wrong)
        );
    }
    page
}
