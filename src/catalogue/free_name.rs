//! A name as a brewer wrote it, as words, each with its place in the text and with what it may be besides a word of a name.

use super::fold::fold;
use super::function::Function;
use super::meaning::{Says, StatedFigure};
use super::respell::respell;
use super::tables::{self, Role, WordRole};
use crate::quantity::Unit;

/// Degrees Lovibond of crystal malts (common practice, no source).
const SHADES: std::ops::RangeInclusive<f64> = 5.0..=250.0;

/// Longer names are read to here only.
const LONGEST: usize = 24;

/// A name, folded piece by piece.
pub(super) struct FreeName<'t> {
    /// The folded words, a space between any two.
    folded: String,
    /// Where each of them stands.
    places: Vec<Place<'t>>,
}

/// Where a folded word stands.
#[derive(Clone, Copy)]
struct Place<'t> {
    text: &'t str,
    /// Behind a comma or in brackets, where brewers put remarks.
    aside: bool,
}

/// A word of a name, written as names are compared.
#[derive(Debug, Clone, Copy)]
pub(super) struct Said<'t, 'k> {
    pub(super) word: &'k str,
    /// The text that it stands for.
    pub(super) text: &'t str,
    pub(super) sort: Sort,
    /// Behind a comma or in brackets.
    is_aside: bool,
    /// The C of `C60`, by which no hop is called.
    is_of_malt: bool,
    /// The keys of the built-in tables that hold it.
    pub(super) keys: &'static [u16],
    /// What it may be besides a word of a name.
    roles: &'static [WordRole],
}

/// What a word of a name is for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Sort {
    /// Part of the name, unless the catalogue lets it be left out.
    Named,
    /// A remark with words that no entry has, or what follows `for`, `from` and the like.
    Talk,
    /// A number or its unit.
    Figure,
}

impl<'t> FreeName<'t> {
    pub(super) fn of(name: &'t str) -> Self {
        let mut this = Self {
            folded: String::with_capacity(name.len() + 16),
            places: Vec::with_capacity(8),
        };
        let mut piece = String::with_capacity(32);
        for (text, aside) in pieces(name) {
            if this.places.len() >= LONGEST {
                break;
            }
            piece.clear();
            fold(text, usize::MAX, &mut piece, &mut |_, _| {});
            this.add(&piece, Place { text, aside });
        }
        this
    }

    /// Adds the words of a piece. Letters between points are one short form: `W.G.V.`.
    fn add(&mut self, piece: &str, place: Place<'t>) {
        let is_letters = place.text.contains('.')
            && piece.len() > 2
            && piece
                .split(' ')
                .all(|word| word.len() == 1 && !word.starts_with(|c: char| c.is_ascii_digit()));
        for (at, word) in piece.split(' ').filter(|word| !word.is_empty()).enumerate() {
            let joins = is_letters && at > 0;
            if !joins {
                if !self.folded.is_empty() {
                    self.folded.push(' ');
                }
                self.places.push(place);
            }
            self.folded.push_str(word);
        }
    }

    /// Its words, without those that count for nothing.
    pub(super) fn words(&self) -> Vec<Said<'t, '_>> {
        let mut words: Vec<Said<'t, '_>> = Vec::with_capacity(self.places.len() + 4);
        let mut talks = false;
        respell(&self.folded, tables::SAME, &mut |word, at| {
            let Some(place) = self.places.get(at) else {
                return;
            };
            let (keys, roles) = (tables::keys_with(word), tables::roles_of(word));
            let is = |role| roles.iter().any(|row| row.role == role);
            if is(Role::Stop) {
                return;
            }
            talks |= !words.is_empty() && is(Role::Tail);
            let unknown = keys.is_empty()
                && roles.is_empty()
                && !word.starts_with(|c: char| c.is_ascii_digit());
            let is_talk = talks || place.aside && unknown;
            words.push(Said {
                word,
                text: place.text,
                sort: if is_talk { Sort::Talk } else { Sort::Named },
                is_aside: place.aside,
                is_of_malt: false,
                keys,
                roles,
            });
        });
        mark_figures(&mut words);
        words
    }
}

/// Marks numbers and the units behind them, and reads `C60` as crystal malt of 60 °L, as American shops write it.
fn mark_figures(words: &mut [Said<'_, '_>]) {
    for at in 0..words.len() {
        let (before, from_here) = words.split_at_mut(at);
        let [number, after @ ..] = from_here else {
            return;
        };
        if !number.is_number() || number.sort == Sort::Talk {
            continue;
        }
        number.sort = Sort::Figure;
        if let [unit, ..] = after
            && unit_of(unit.word).is_some()
        {
            unit.sort = Sort::Figure;
        } else if let [.., letter] = before
            && letter.word == "c"
            && number
                .word
                .parse()
                .is_ok_and(|degrees: f64| SHADES.contains(&degrees))
        {
            (letter.word, letter.keys) = ("crystal", tables::keys_with("crystal"));
            letter.is_of_malt = true;
        }
    }
}

/// The figures among the words of a name that are not words of the entry's own.
pub(super) fn figures<'t>(words: &[Said<'t, '_>], key: &str) -> Vec<StatedFigure<'t>> {
    let stated = words.iter().enumerate().filter_map(|(at, said)| {
        if said.sort != Sort::Figure || has_word(key, said.word) {
            return None;
        }
        let unit = words.get(at + 1).filter(|unit| unit.sort == Sort::Figure);
        // `C60`: the letter and the number are one piece of the text.
        let is_american = at.checked_sub(1).and_then(|before| words.get(before));
        let is_american = is_american.is_some_and(|c| c.word == "crystal" && c.text == said.text);
        Some(StatedFigure {
            text: said.text,
            number: said.word.parse().ok()?,
            unit: unit
                .and_then(|unit| unit_of(unit.word))
                .or(is_american.then_some(Unit::Lovibond)),
        })
    });
    stated.collect()
}

/// Whether a word is one of a key's.
pub(super) fn has_word(key: &str, word: &str) -> bool {
    key.split(' ').any(|of_key| of_key == word)
}

fn unit_of(word: &str) -> Option<Unit> {
    match word {
        "ebc" => Some(Unit::Ebc),
        "l" | "lovibond" => Some(Unit::Lovibond),
        "srm" => Some(Unit::Srm),
        "%" => Some(Unit::Percent),
        "bx" | "brix" => Some(Unit::Brix),
        _ => None,
    }
}

impl Said<'_, '_> {
    /// Whether it is a letter for a malt.
    pub(super) const fn is_shorthand(&self) -> bool {
        self.is_of_malt
    }

    /// Whether something that does this may have the word.
    pub(super) fn may_be_of(&self, function: Function) -> bool {
        !self.is_of_malt || function == Function::Malt
    }

    /// What the word says where it is left out of the name of something that does this; `None` where it may not be.
    pub(super) fn left_out_of(&self, function: Function) -> Option<Says> {
        if self.sort != Sort::Named {
            return Some(Says::Remark);
        }
        // `wheat beer yeast (banana)`: no yeast has that word, and none is a fruit.
        if self.is_aside && self.roles.is_empty() && !tables::has_key_of(self.keys, function) {
            return Some(Says::Remark);
        }
        self.roles.iter().find_map(|row| match row.role {
            Role::Head(of) | Role::Understood(of) => (of == function).then_some(Says::Thing),
            _ if row.within & function.bit() == 0 => None,
            Role::Origin => Some(Says::Origin),
            Role::Form => Some(Says::Form),
            Role::Remark => Some(Says::Remark),
            _ => None,
        })
    }

    /// Whether every name that it is part of has it.
    pub(super) fn must_be_named(&self) -> bool {
        self.sort == Sort::Named
            && !self.is_aside
            && !self.roles.iter().any(|row| row.role.may_be_left_out())
    }

    /// Whether it says that a thing does something else.
    pub(super) fn says_other_than(&self, function: Function) -> bool {
        let mut roles = self.roles.iter().filter(|_| self.sort != Sort::Talk);
        roles.any(|row| matches!(row.role, Role::Head(of) | Role::Own(of) | Role::Understood(of) if of != function))
    }

    /// Whether it says which of a function a thing is, and nothing else.
    pub(super) fn says_only(&self, function: Function) -> bool {
        let does = |row: &WordRole| row.role == Role::Own(function);
        self.sort != Sort::Talk && self.roles.iter().all(does) && !self.roles.is_empty()
    }

    pub(super) fn is_number(&self) -> bool {
        self.word.starts_with(|c: char| c.is_ascii_digit())
    }
}

/// The pieces of a name between spaces, commas and brackets, each with whether it stands aside.
fn pieces(name: &str) -> impl Iterator<Item = (&str, bool)> {
    let mut depth = 0_usize;
    let mut after_comma = false;
    let mut rest = name;
    std::iter::from_fn(move || {
        loop {
            let begins = rest.find(|c: char| !is_between(c))?;
            let (between, from_here) = rest.split_at(begins);
            for c in between.chars() {
                match c {
                    '(' | '[' => depth += 1,
                    ')' | ']' => depth = depth.saturating_sub(1),
                    ',' | ';' => after_comma = true,
                    _ => {}
                }
            }
            let ends = from_here.find(is_between).unwrap_or(from_here.len());
            let (piece, after) = from_here.split_at(ends);
            rest = after;
            if !piece.is_empty() {
                return Some((piece, depth > 0 || after_comma));
            }
        }
    })
}

/// Whether a character parts two pieces.
fn is_between(c: char) -> bool {
    c.is_whitespace()
        || matches!(
            c,
            ',' | ';' | '(' | ')' | '[' | ']' | '/' | '&' | '+' | '"' | ':'
        )
}
