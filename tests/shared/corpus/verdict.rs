//! The score of one text.

use super::cases::Case;
use super::fact::{Amount, Fact, Figure};
use super::held::{Held, held};
use super::measure::{Measure, Scale};
use super::names::Names;
use super::same::{Context, Likeness};
use super::slots::{Places, slot, stands_once};
use std::collections::BTreeMap;
use wortwright::catalogue::Catalogue;
use wortwright::diagnostic::{Severity, TextRef};
use wortwright::notation::{ReadOptions, ReadingNote, read_with};

/// What became of a fact, best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// The model holds it.
    Read,
    /// The models have no place for it, and nothing is made of it.
    Kept,
    /// Its line has an error.
    Asked,
    /// It is held otherwise or not at all, and a warning or a note stands on its line.
    Told,
    /// It is held, but for a figure of it that is lost without a word.
    Partly,
    /// Nothing is held of it, without a word.
    Missed,
    /// Something else is held, without a word.
    Misread,
}

impl Outcome {
    pub const ALL: [Self; 7] = [
        Self::Read,
        Self::Kept,
        Self::Asked,
        Self::Told,
        Self::Partly,
        Self::Missed,
        Self::Misread,
    ];

    pub const fn word(self) -> &'static str {
        match self {
            Self::Read => "read",
            Self::Kept => "kept",
            Self::Asked => "asked",
            Self::Told => "told",
            Self::Partly => "partly",
            Self::Missed => "missed",
            Self::Misread => "misread",
        }
    }
}

/// A fact with what became of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    pub line: usize,
    pub outcome: Outcome,
    /// Nothing where the model made a fact up.
    pub meant: Option<Fact>,
    /// What is held of it, or in place of it.
    pub held: Option<Fact>,
    /// The figures that are other or lost.
    pub what: Vec<String>,
}

/// A text's score.
#[derive(Debug, Clone)]
pub struct Scored {
    pub case: Case,
    pub verdicts: Vec<Verdict>,
    /// Severity and message, by line; those of a frame left out.
    pub diagnostics: Vec<(usize, Severity, String)>,
    /// Of the whole text, whatever the line.
    pub is_usable: bool,
}

/// What scoring needs.
#[derive(Debug)]
pub struct Scorer {
    pub catalogue: Catalogue,
    pub options: ReadOptions,
    pub names: Names,
    pub places: Places,
}

impl Default for Scorer {
    fn default() -> Self {
        Self {
            catalogue: Catalogue::builtin(),
            options: ReadOptions::default(),
            names: Names::load(),
            places: Places::load(),
        }
    }
}

/// What a reading of a text gives, but for its frame.
pub(super) struct Heard {
    pub(super) held: Vec<Held>,
    /// The worst that is said of each line.
    pub(super) told: BTreeMap<usize, Severity>,
    /// What notes say was assumed, by line.
    pub(super) assumed: Vec<(usize, String)>,
    pub(super) diagnostics: Vec<(usize, Severity, String)>,
    pub(super) is_usable: bool,
}

/// A part of a fact that a model holds by itself: a reading's volume, its gravity.
struct Atom {
    parent: usize,
    fact: Fact,
    found: Option<(Outcome, Option<usize>, Vec<String>)>,
}

impl Scorer {
    /// Reads a text and judges each of its facts.
    pub fn score(&self, case: &Case) -> Scored {
        let heard = self.hear(case);
        Scored {
            case: case.clone(),
            verdicts: self.verdicts(case, &heard),
            diagnostics: heard.diagnostics,
            is_usable: heard.is_usable,
        }
    }

    /// Reads a text.
    pub(super) fn hear(&self, case: &Case) -> Heard {
        let source = TextRef::new(&case.path, &case.text);
        let reading = read_with(&[source], &self.catalogue, &self.options);
        let mut told: BTreeMap<usize, Severity> = BTreeMap::new();
        let mut diagnostics = Vec::new();
        for found in &reading.diagnostics {
            let line = found.span.position(&case.text).line;
            if case.lines.contains(&line) {
                let message = found.message.lines().next().unwrap_or_default();
                diagnostics.push((line, found.severity, message.to_owned()));
                let worst = told.entry(line).or_insert(found.severity);
                *worst = (*worst).max(found.severity);
            }
        }
        let mut assumed = Vec::new();
        for note in &reading.notes {
            let line = note.span().position(&case.text).line;
            told.entry(line).or_insert(Severity::Note);
            if let ReadingNote::ReadAs { typed, read, .. } = note
                && !typed.contains(|c: char| c.is_ascii_digit())
            {
                assumed.push((line, read.clone()));
            }
        }
        let all = held(&reading, &case.text, &self.catalogue);
        let counts = |held: &Held| held.fact.line == 0 || case.lines.contains(&held.fact.line);
        Heard {
            held: all.into_iter().filter(counts).collect(),
            told,
            assumed,
            diagnostics,
            is_usable: reading.is_usable(),
        }
    }

    fn verdicts(&self, case: &Case, heard: &Heard) -> Vec<Verdict> {
        let (held, told) = (&heard.held[..], &heard.told);
        let context = Context {
            names: &self.names,
            places: &self.places,
            catalogue: &self.catalogue,
            meant: &case.facts,
            text: &case.text,
            held,
            assumed: &heard.assumed,
        };
        let mut matching = Matching {
            context,
            told,
            atoms: case
                .facts
                .iter()
                .enumerate()
                .flat_map(|(parent, fact)| atoms(parent, fact))
                .collect(),
            used: vec![false; held.len()],
        };
        matching.asked_back();
        matching.same(true);
        matching.same(false);
        matching.nearly();
        matching.unheld();
        matching.verdicts(&case.facts)
    }
}

struct Matching<'a> {
    context: Context<'a>,
    told: &'a BTreeMap<usize, Severity>,
    atoms: Vec<Atom>,
    used: Vec<bool>,
}

impl Matching<'_> {
    fn told(&self, line: usize) -> Option<Severity> {
        self.told.get(&line).copied()
    }

    /// What a brewer would have to ask: to be asked is right, to take an amount is a guess.
    fn asked_back(&mut self) {
        for at in 0..self.atoms.len() {
            let fact = &self.atoms[at].fact;
            let is_ask = fact.amount == Amount::Ask
                || fact
                    .figures
                    .values()
                    .any(|figure| *figure == Figure::Word("ask".into()));
            if !is_ask {
                continue;
            }
            let line = fact.line;
            let asked = self
                .told(line)
                .is_some_and(|severity| severity >= Severity::Warning);
            let context = &self.context;
            let taken = (0..self.used.len()).find(|&index| {
                !self.used[index]
                    && context.held[index].fact.line == line
                    && Context::may_stand_for(fact, &context.held[index])
            });
            let outcome = match (asked, taken) {
                (true, _) => Outcome::Read,
                (false, Some(_)) => Outcome::Misread,
                (false, None) => Outcome::Missed,
            };
            if let Some(index) = taken {
                self.used[index] = true;
            }
            self.atoms[at].found = Some((outcome, taken, vec!["ask".to_owned()]));
        }
    }

    /// Facts held as meant: on their own line first, then wherever.
    fn same(&mut self, on_its_line: bool) {
        for at in 0..self.atoms.len() {
            let atom = &self.atoms[at];
            if atom.found.is_some() {
                continue;
            }
            let found = (0..self.used.len()).find(|&index| {
                let held = &self.context.held[index];
                (!self.used[index] || held.is_shadow)
                    && (!on_its_line || held.fact.line == atom.fact.line)
                    && self.context.likeness(&atom.fact, held) == Likeness::Same
            });
            if let Some(index) = found {
                self.used[index] = true;
                self.atoms[at].found = Some((Outcome::Read, Some(index), Vec::new()));
            }
        }
    }

    /// Facts held with something other or lost.
    fn nearly(&mut self) {
        for at in 0..self.atoms.len() {
            let atom = &self.atoms[at];
            if atom.found.is_some() {
                continue;
            }
            let line = atom.fact.line;
            let near = (0..self.used.len())
                .filter(|&index| !self.used[index] && !self.context.held[index].is_shadow)
                .filter(|&index| [line, 0].contains(&self.context.held[index].fact.line))
                .filter_map(|index| {
                    let held = &self.context.held[index];
                    match self.context.likeness(&atom.fact, held) {
                        Likeness::Lacks(what) => Some((what.len(), index, Outcome::Partly, what)),
                        Likeness::Differs(what) => {
                            Some((10 + what.len(), index, Outcome::Misread, what))
                        }
                        _ => None,
                    }
                })
                .min_by_key(|(distance, ..)| *distance);
            if let Some((_, index, outcome, what)) = near {
                self.used[index] = true;
                let outcome = self.softened(line, outcome);
                self.atoms[at].found = Some((outcome, Some(index), what));
            }
        }
    }

    /// What an outcome is where something is said on the line.
    fn softened(&self, line: usize, outcome: Outcome) -> Outcome {
        match self.told(line) {
            Some(Severity::Error) => Outcome::Asked,
            Some(_) => Outcome::Told,
            None => outcome,
        }
    }

    /// Facts that nothing held is like.
    fn unheld(&mut self) {
        for at in 0..self.atoms.len() {
            if self.atoms[at].found.is_some() {
                continue;
            }
            let fact = self.atoms[at].fact.clone();
            let instead = (0..self.used.len()).find(|&index| {
                !self.used[index]
                    && self.context.held[index].fact.line == fact.line
                    && Context::may_stand_for(&fact, &self.context.held[index])
            });
            let is_error = self.told(fact.line) == Some(Severity::Error);
            let found = if let Some(index) = instead {
                self.used[index] = true;
                let what = self.other(&fact, &self.context.held[index]);
                (
                    self.softened(fact.line, Outcome::Misread),
                    Some(index),
                    what,
                )
            } else if is_error {
                (Outcome::Asked, None, Vec::new())
            } else if self.context.places.without(&fact).is_some() || self.is_one_of_several(&fact)
            {
                (Outcome::Kept, None, Vec::new())
            } else {
                (self.softened(fact.line, Outcome::Missed), None, Vec::new())
            };
            self.atoms[at].found = Some(found);
        }
    }

    /// What is other where another thing is held.
    fn other(&self, meant: &Fact, held: &Held) -> Vec<String> {
        let mut what = Vec::new();
        let mut say = |is_other: bool, word: &str| {
            if is_other {
                what.push(word.to_owned());
            }
        };
        let is_ingredient = !held.kinds.is_empty();
        say(meant.stage != held.fact.stage, "stage");
        say(
            is_ingredient && !held.kinds.contains(&meant.kind.as_str())
                || !is_ingredient && slot(meant).1 != slot(&held.fact).1,
            "kind",
        );
        say(is_ingredient && !self.context.is_named(meant, held), "name");
        what
    }

    /// Whether the model holds another of these, of which it keeps one.
    fn is_one_of_several(&self, fact: &Fact) -> bool {
        let group = stands_once(fact);
        group.is_some()
            && self.atoms.iter().any(|atom| {
                let is_held = matches!(atom.found, Some((Outcome::Read, Some(_), _)));
                is_held && stands_once(&atom.fact) == group
            })
    }

    fn verdicts(self, facts: &[Fact]) -> Vec<Verdict> {
        let mut verdicts = Vec::new();
        for (parent, fact) in facts.iter().enumerate() {
            let of_it = self.atoms.iter().filter(|atom| atom.parent == parent);
            let worst = of_it
                .filter_map(|atom| atom.found.as_ref())
                .max_by_key(|(outcome, ..)| *outcome);
            let Some((outcome, held, what)) = worst else {
                continue;
            };
            verdicts.push(Verdict {
                line: fact.line,
                outcome: *outcome,
                meant: Some(fact.clone()),
                held: held.map(|index| self.context.held[index].shown()),
                what: what.clone(),
            });
        }
        for (index, held) in self.context.held.iter().enumerate() {
            if self.used[index] || held.is_shadow || self.is_meant_elsewhere(held) {
                continue;
            }
            let line = held.fact.line;
            verdicts.push(Verdict {
                line,
                outcome: self.softened(line, Outcome::Misread),
                meant: None,
                held: Some(held.shown()),
                what: vec!["not meant".to_owned()],
            });
        }
        verdicts.sort_by_key(|verdict| verdict.line);
        verdicts
    }

    /// Whether a setting says again what another fact means, as the stand of hops that are meant to stand so long, or is a title
    /// where none is meant: a text needs one.
    fn is_meant_elsewhere(&self, held: &Held) -> bool {
        let fact = &held.fact;
        let stands = |meant: &&Fact| meant.stage == "stand";
        let has = |meant: &Fact, label: &str, measure: Option<&Measure>| matches!((meant.measure(label), measure), (Some(one), Some(other)) if one.agrees(other));
        let is_stand = (fact.stage.as_str(), fact.kind.as_str()) == ("stand", "stand");
        let is_stood = || {
            self.context.meant.iter().filter(stands).any(|meant| {
                has(meant, "for", fact.measure("for")) || has(meant, "at", fact.amount.measure())
            })
        };
        let is_title = |meant: &Fact| (&meant.stage, &meant.kind) == (&fact.stage, &fact.kind);
        let needs_title = fact.kind == "name" && !self.context.meant.iter().any(is_title);
        // The writers had kegs, bottles and casks to say it by.
        let is_without_word = (fact.stage.as_str(), fact.kind.as_str()) == ("package", "can");
        needs_title || is_without_word || (is_stand && is_stood()) || self.is_needed(fact)
    }

    /// Whether a setting is the line that the models need for what its text means: a stand, of the usual length, which is told, for
    /// what stands without a time; a way of lautering for a mash that is not sparged.
    fn is_needed(&self, fact: &Fact) -> bool {
        let on_line = |meant: &&Fact| meant.line == fact.line;
        let is_told = |what: &str| {
            let mut assumed = self.context.assumed.iter();
            assumed.any(|(line, read)| *line == fact.line && read == what)
        };
        let mut meant = self.context.meant.iter().filter(on_line);
        match (fact.stage.as_str(), fact.kind.as_str()) {
            ("stand", "stand") => {
                self.context.is_default(fact, "for")
                    && fact.amount == Amount::Unstated
                    && meant.any(|meant| meant.stage == "stand")
            }
            // A heat at which it is pitched, of a yeast that is not named.
            ("ferment", "yeast") => {
                fact.name == "house yeast"
                    && is_told("house yeast")
                    && meant.any(|meant| meant.kind == "pitch")
            }
            // The word of a container among what is said of filling it.
            ("package", "keg" | "bottle" | "cask") => {
                let says = self.context.line(fact.line).contains(&fact.kind[..3]);
                says && meant.any(|meant| meant.stage == "package")
            }
            ("plant", "lauter") => {
                let is_unsparged =
                    |meant: &Fact| (meant.kind.as_str(), meant.name.as_str()) == ("sparge", "none");
                fact.name == "batch" && meant.any(is_unsparged)
            }
            _ => false,
        }
    }
}

/// The parts of a fact that the models keep apart: volume, gravity, pH and heat of a reading.
fn atoms(parent: usize, fact: &Fact) -> Vec<Atom> {
    let atom = |fact: Fact| Atom {
        parent,
        fact,
        found: None,
    };
    let mut first = fact.clone();
    if fact.kind != "reading" {
        return vec![atom(first)];
    }
    let gravity = first.figures.remove("gravity");
    let ph = first.figures.remove("pH");
    let parts = [gravity, ph].into_iter().flatten();
    let mut others: Vec<Fact> = parts
        .filter_map(|part| match part {
            Figure::Is(measure) => Some(Fact {
                amount: Amount::Is(measure),
                ..first.clone()
            }),
            Figure::Word(_) => None,
        })
        .collect();
    let is_gravity =
        |fact: &Fact| matches!(&fact.amount, Amount::Is(measure) if measure.scale == Scale::Plato);
    // The heat is the gravity's, where there is one.
    if others.iter().any(is_gravity) {
        first.figures.remove("at");
    }
    for other in &mut others {
        if !is_gravity(other) {
            other.figures.remove("at");
        }
    }
    others.insert(0, first);
    others.into_iter().map(atom).collect()
}
