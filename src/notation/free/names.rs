//! The words of a name as typed → an ingredient of the catalogue.

use super::said::{Part, trade};
use crate::catalogue::{Catalogue, Kind, Meaning, Meant, Reached, Says};
use crate::quantity::Unit;
use std::cell::RefCell;
use std::collections::HashMap;
use std::ops::Range;

/// What the catalogue knows under the words of a name.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Resolved {
    /// One ingredient.
    One(Known),
    /// Any of several, by their names.
    Several(Vec<String>),
}

/// An ingredient that the words of a name mean.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Known {
    /// The name by which the notation finds it.
    pub(super) name: String,
    pub(super) kind: Kind,
    /// Figures among the words: the 60 of `crystal 60`.
    pub(super) figures: Vec<(f64, Option<Unit>)>,
    /// Words that say how it was prepared.
    pub(super) form: Vec<String>,
    /// Words that say more than the ingredient's name does, as typed.
    pub(super) left_out: Vec<String>,
    /// Whether a word of the ingredient's name goes without saying.
    pub(super) is_understood: bool,
}

impl Resolved {
    /// Whether nothing of its name goes without saying.
    const fn is_said(&self) -> bool {
        match self {
            Self::One(known) => !known.is_understood,
            Self::Several(_) => true,
        }
    }
}

/// The kinds of ingredient that a part of the sheet may hold, those that are meant first.
pub(super) const fn kinds(part: Part) -> &'static [Kind] {
    match part {
        // A list without a heading is a grist.
        Part::Head | Part::Mash => &[
            Kind::Malt,
            Kind::Grain,
            Kind::Salt,
            Kind::Acid,
            Kind::Aid,
            Kind::Sugar,
            Kind::Botanical,
            Kind::Beverage,
            Kind::Other,
        ],
        Part::Boil | Part::Stand => &[
            Kind::Hop,
            Kind::Sugar,
            Kind::Aid,
            Kind::Botanical,
            Kind::Salt,
            Kind::Acid,
            Kind::Juice,
            Kind::Beverage,
            Kind::Other,
        ],
        Part::Ferment | Part::Package => &[
            Kind::Yeast,
            Kind::Juice,
            Kind::Sugar,
            Kind::Hop,
            Kind::Botanical,
            Kind::Aid,
            Kind::Beverage,
            Kind::Salt,
            Kind::Acid,
            Kind::Other,
        ],
        Part::Water => &[Kind::Salt, Kind::Acid, Kind::Beverage],
        Part::Plant | Part::Stock | Part::Log => &[],
    }
}

/// Among what a name is looked for.
#[derive(Debug, Clone, Copy)]
pub(super) enum Among {
    /// What a part of the sheet may hold.
    Part(Part),
    /// Ingredients of some kinds; no kind is any.
    Kinds(&'static [Kind]),
}

/// The kinds that a part is for, before all that it may hold: `chocolate` in a mash is malt.
const fn foremost(part: Part) -> &'static [Kind] {
    match part {
        Part::Head | Part::Mash => &[Kind::Malt, Kind::Grain],
        Part::Boil | Part::Stand => &[Kind::Hop],
        _ => &[Kind::Yeast],
    }
}

/// A name, and the kinds among which it is looked for.
#[derive(PartialEq, Eq, Hash)]
struct Sought {
    name: String,
    kinds: &'static [Kind],
}

/// What the names of a text mean. A line is looked at several times and the names of a page come again: each is looked up once.
pub(super) struct Names<'c> {
    pub(super) catalogue: &'c Catalogue,
    known: RefCell<HashMap<Sought, Option<Resolved>>>,
}

impl<'c> Names<'c> {
    pub(super) fn of(catalogue: &'c Catalogue) -> Self {
        Self {
            catalogue,
            known: RefCell::default(),
        }
    }

    /// What these words mean.
    pub(super) fn among(&self, words: &[String], among: Among) -> Option<Resolved> {
        match among {
            Among::Part(part) => self.within(words, part),
            Among::Kinds(kinds) => self.resolve(words, kinds),
        }
    }

    /// What these words mean in a part of a sheet: among what it is for, or else among what it may hold.
    fn within(&self, words: &[String], part: Part) -> Option<Resolved> {
        let first = self.resolve(words, foremost(part));
        match first {
            // `red wine` is a drink, where `red wine yeast` is meant by `red wine` only if no drink is known by it.
            Some(Resolved::One(ref known))
                if known.is_understood && foremost(part) == [Kind::Yeast] =>
            {
                let wide = self.resolve(words, kinds(part));
                wide.filter(Resolved::is_said).or(first)
            }
            Some(Resolved::One(_)) => first,
            _ => self.resolve(words, kinds(part)).or(first),
        }
    }

    /// What these words mean among ingredients of those kinds; no kind is any.
    pub(super) fn resolve(&self, words: &[String], kinds: &'static [Kind]) -> Option<Resolved> {
        let sought = Sought {
            name: words.join(" "),
            kinds,
        };
        if let Some(resolved) = self.known.borrow().get(&sought) {
            return resolved.clone();
        }
        let resolved = resolved(self.catalogue, &sought.name, kinds);
        self.known.borrow_mut().insert(sought, resolved.clone());
        resolved
    }

    /// The stretch of the words that an ingredient goes by: all of them, or the longest stretch where the rest is plain English.
    pub(super) fn stretch(&self, words: &[String], part: Part) -> Option<Range<usize>> {
        let is_container = matches!(words, [word] if trade().container(word).is_some());
        if is_container || words.iter().all(|word| trade().is_how_made(word)) {
            return None;
        }
        // What the part does not hold must say what it is: `ale yeast` below the hops, and not `stout`.
        let is_told = || {
            words.iter().any(|word| trade().is_noun(word))
                || self.catalogue.find(&words.join(" ")).is_some()
        };
        if self.within(words, part).is_some() || is_told() && self.resolve(words, &[]).is_some() {
            return Some(0..words.len());
        }
        let is_head = |word: &String| trade().is_noun(word);
        for length in (1..words.len().min(7)).rev() {
            for start in 0..=words.len() - length {
                let inside = words.get(start..start + length)?;
                let mut outside = words
                    .iter()
                    .take(start)
                    .chain(words.iter().skip(start + length));
                let is_one =
                    !outside.any(is_head) && !inside.iter().all(|word| trade().is_how_made(word));
                let is_found = || {
                    self.within(inside, part).is_some()
                        || length > 1
                            && inside.iter().any(is_head)
                            && self.resolve(inside, &[]).is_some()
                };
                if is_one && is_found() {
                    return Some(start..start + length);
                }
            }
        }
        None
    }
}

fn resolved(catalogue: &Catalogue, name: &str, kinds: &[Kind]) -> Option<Resolved> {
    match catalogue.meaning(name, kinds) {
        // A shade is a malt's: `c60` is no hop.
        Meaning::One(meant) if meant.entry.kind() == Kind::Hop && !meant.figures.is_empty() => None,
        Meaning::One(meant) => Some(Resolved::One(known(catalogue, &meant))),
        Meaning::Several(several) => {
            let names = several.iter().map(|meant| meant.entry.name().to_owned());
            Some(Resolved::Several(names.collect()))
        }
        _ => None,
    }
}

fn known(catalogue: &Catalogue, meant: &Meant<'_>) -> Known {
    let left_out = |says: fn(Says) -> bool| {
        let words = meant.left_out.iter().filter(move |word| says(word.says));
        words.map(|word| word.text.to_lowercase())
    };
    // By a generic name, so that its default is told.
    let name = match meant.reached {
        Reached::Generic { name, .. }
            if catalogue
                .find(name)
                .is_some_and(|found| found.entry == meant.entry) =>
        {
            name
        }
        _ => meant.entry.name(),
    };
    Known {
        name: name.to_owned(),
        kind: meant.entry.kind(),
        figures: meant
            .figures
            .iter()
            .map(|figure| (figure.number, figure.unit))
            .collect(),
        form: left_out(|says| says == Says::Form).collect(),
        left_out: left_out(|says| says != Says::Thing).collect(),
        is_understood: meant.understood.is_some(),
    }
}
