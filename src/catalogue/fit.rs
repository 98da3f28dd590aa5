//! How well a free name fits the names of entries.

use super::free_name::{Said, Sort, figures, has_word};
use super::function::Function;
use super::meaning::{LeftOut, Meaning, Meant, Says};
use super::tables::{self, Role};
use super::{EntryRef, Found, Reached};

/// A name of an entry as words, written as names are compared.
#[derive(Debug, Clone, Copy)]
pub(super) struct Key<'a> {
    pub(super) words: &'a str,
    pub(super) found: Found<'a>,
}

/// The keys that fit best so far.
pub(super) struct Best<'w, 't, 'k, 'a> {
    words: &'w [Said<'t, 'k>],
    /// A key must fit better than this.
    below: usize,
    keys: Vec<Key<'a>>,
}

impl<'w, 't, 'k, 'a> Best<'w, 't, 'k, 'a> {
    pub(super) const fn among(words: &'w [Said<'t, 'k>]) -> Self {
        Self {
            words,
            below: usize::MAX,
            keys: Vec::new(),
        }
    }

    /// Takes a key that fits as well as any so far.
    pub(super) fn offer(&mut self, key: Key<'a>, allows: &dyn Fn(EntryRef<'_>) -> bool) {
        let entry = key.found.entry;
        let Some(distance) = distance(self.words, key.words, Function::of(entry)) else {
            return;
        };
        if distance >= self.below || !allows(entry) {
            return;
        }
        if distance + 1 < self.below {
            self.keys.clear();
            self.below = distance + 1;
        }
        let mut known = self.keys.iter_mut();
        match known.find(|known| known.found.entry.name() == entry.name()) {
            Some(known) if rank(key.found.reached) < rank(known.found.reached) => *known = key,
            Some(_) => {}
            None => self.keys.push(key),
        }
    }

    /// What a host adds hides what is built in and fits no better.
    pub(super) const fn prefer_these(&mut self) {
        if !self.keys.is_empty() {
            self.below -= 1;
        }
    }
}

impl<'a> Best<'_, 'a, '_, 'a> {
    /// What the name means.
    pub(super) fn meaning(&self) -> Meaning<'a> {
        let meant = |key: &Key<'a>| meant(self.words, key);
        match self.keys.as_slice() {
            [] => Meaning::Unknown,
            [one] => Meaning::One(meant(one)),
            several => Meaning::Several(several.iter().map(meant).collect()),
        }
    }
}

/// Calls `each` with every built-in key that these words may mean.
pub(super) fn keys_for(words: &[Said<'_, '_>], each: &mut dyn FnMut(Key<'static>)) {
    let named = |said: &&Said<'_, '_>| said.sort == Sort::Named;
    let musts = words.iter().filter(|said| said.must_be_named());
    let rarest = musts.min_by_key(|said| said.keys.len());
    let all: Vec<&Said<'_, '_>> = match rarest {
        Some(word) => vec![word],
        None => words.iter().filter(named).collect(),
    };
    for at in all.into_iter().flat_map(|said| said.keys) {
        if let Some((words, found)) = tables::key(*at) {
            each(Key { words, found });
        }
    }
}

/// A name goes before an alias, and an alias before a generic name.
const fn rank(reached: Reached<'_>) -> usize {
    match reached {
        Reached::Name => 0,
        Reached::Alias(_) => 1,
        Reached::Generic { .. } => 2,
    }
}

/// How many words are left out or unsaid when a name means an entry by this key; `None` where it does not mean it.
fn distance(words: &[Said<'_, '_>], key: &str, function: Function) -> Option<usize> {
    if !words.iter().all(|said| said.may_be_of(function)) {
        return None;
    }
    let mut unsaid = unsaid(words, key);
    let mut distance = 0;
    if let Some(word) = unsaid.next() {
        // One word may go without saying, where no noun of the name says that the thing does something else.
        let goes_without = unsaid.next().is_none()
            && is_understood(word, function)
            && (!words.iter().any(|said| said.says_other_than(function))
                || function == Function::Malt && is_grain_of_malt(words, key));
        goes_without.then_some(())?;
        distance += 1;
    }
    for said in words.iter().filter(|said| !has_word(key, said.word)) {
        let says = said.left_out_of(function)?;
        let counts = said.sort == Sort::Figure && said.is_number() || says != Says::Remark;
        distance += usize::from(counts);
    }
    Some(distance)
}

/// `white wheat` is malt where malt may stand, and `wheat` or `roasted wheat` is not: a word that is none of grain's tells.
fn is_grain_of_malt(words: &[Said<'_, '_>], key: &str) -> bool {
    let is_of_grain = |said: &Said<'_, '_>| said.says_only(Function::Grain);
    let is_of_key = |said: &Said<'_, '_>| has_word(key, said.word);
    let mut others = words
        .iter()
        .filter(|said| said.says_other_than(Function::Malt));
    others.all(|said| is_of_grain(said) && is_of_key(said))
        && words
            .iter()
            .any(|said| !is_of_grain(said) && is_of_key(said))
}

/// The words of a key that a name leaves unsaid.
fn unsaid<'k>(words: &[Said<'_, '_>], key: &'k str) -> impl Iterator<Item = &'k str> {
    let is_said = |word: &str| {
        let mut named = words.iter().filter(|said| said.sort != Sort::Talk);
        named.any(|said| said.word == word)
    };
    key.split(' ').filter(move |word| !is_said(word))
}

fn is_understood(word: &str, function: Function) -> bool {
    let roles = tables::roles_of(word);
    roles
        .iter()
        .any(|row| row.role == Role::Understood(function))
}

fn meant<'a>(words: &[Said<'a, '_>], key: &Key<'a>) -> Meant<'a> {
    let function = Function::of(key.found.entry);
    let mut left_out: Vec<LeftOut<'a>> = Vec::new();
    for said in words
        .iter()
        .filter(|said| said.sort != Sort::Figure && !has_word(key.words, said.word))
    {
        let says = said.left_out_of(function).unwrap_or(Says::Remark);
        let text = said.text;
        // A piece of the text that is written as several words.
        if !left_out.iter().any(|known| std::ptr::eq(known.text, text)) {
            left_out.push(LeftOut { text, says });
        }
    }
    Meant {
        entry: key.found.entry,
        reached: key.found.reached,
        left_out,
        understood: unsaid(words, key.words).next(),
        figures: figures(words, key.words),
    }
}
