//! The rows of the grammar, as they are drawn.

use crate::brewing::Numbers;
use std::collections::{BTreeSet, HashMap};
use std::sync::OnceLock;
use wortwright::notation::{Block, Row, Takes, grammar};
use wortwright::quantity::Dimension;

type ByWord = HashMap<(Block, &'static str), (usize, &'static Row)>;
type Bare = HashMap<(Block, Option<Dimension>), usize>;

/// The rows by their words, and those without words by what they measure.
fn table() -> &'static (ByWord, Bare) {
    static TABLE: OnceLock<(ByWord, Bare)> = OnceLock::new();
    TABLE.get_or_init(|| {
        let (mut by_word, mut bare) = (HashMap::new(), HashMap::new());
        for (index, row) in grammar().enumerate() {
            for word in row.words {
                by_word.insert((row.block, *word), (index, row));
            }
            if row.words.is_empty() {
                bare.insert((row.block, first_dimension(row)), index);
            }
        }
        (by_word, bare)
    })
}

fn first_dimension(row: &Row) -> Option<Dimension> {
    row.takes.iter().find_map(|takes| match takes {
        Takes::Figure(role) => role.dimensions.first().copied(),
        _ => None,
    })
}

/// How a row is called in a list.
fn called(row: &Row) -> String {
    let bare = first_dimension(row).map_or("an ingredient".to_owned(), |d| format!("{d:?}"));
    let what = row.words.first().map_or(bare, |word| (*word).to_owned());
    format!("{}: {what}", row.block.as_str())
}

/// The rows that were drawn so far.
#[derive(Debug, Default)]
pub struct Drawn {
    pub rows: BTreeSet<usize>,
    pub words: BTreeSet<(usize, &'static str)>,
}

impl Drawn {
    /// A row by its word, said in one of its words.
    ///
    /// # Panics
    ///
    /// When the grammar has no such row: then what is drawn is no page.
    pub fn say(&mut self, numbers: &mut Numbers, block: Block, word: &str) -> &'static str {
        let Some((index, row)) = table().0.get(&(block, word)).copied() else {
            panic!("no row `{word}` in {block:?}");
        };
        self.rows.insert(index);
        let said = if numbers.between(0.0, 1.0) < 0.7 {
            row.word()
        } else {
            numbers.one_of(row.words)
        };
        let known = row.words.iter().find(|word| **word == said);
        let said = known.copied().unwrap_or_default();
        self.words.insert((index, said));
        said
    }

    /// A row without words.
    ///
    /// # Panics
    ///
    /// As [`Self::say`].
    pub fn note(&mut self, block: Block, dimension: Option<Dimension>) {
        match table().1.get(&(block, dimension)) {
            Some(index) => self.rows.insert(*index),
            None => panic!("no row of {dimension:?} in {block:?}"),
        };
    }

    pub fn join(&mut self, other: Self) {
        self.rows.extend(other.rows);
        self.words.extend(other.words);
    }

    /// The rows of the grammar that none of these is.
    pub fn missing(&self) -> Vec<String> {
        let rows = grammar().enumerate();
        let rows = rows.filter(|(index, _)| !self.rows.contains(index));
        rows.map(|(_, row)| called(row)).collect()
    }

    /// The words of the grammar's rows that were never said.
    pub fn unsaid(&self) -> Vec<String> {
        let all = grammar().enumerate().flat_map(|(index, row)| {
            let words = row.words.iter();
            words.map(move |word| (index, row, *word))
        });
        let unsaid = all.filter(|(index, _, word)| !self.words.contains(&(*index, *word)));
        unsaid
            .map(|(_, row, word)| format!("{}: {word}", row.block.as_str()))
            .collect()
    }
}
