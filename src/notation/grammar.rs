//! The grammar as a table: what may stand where, in which words, and what it states.
//!
//! The reader finds a row by its words and calls the row's own reader, so that a word without a row cannot be read. The
//! words offered for a misspelt one, the block that a line belongs in and the tables of the documentation are the rows'
//! too.

use super::cursor::opens;
use super::tree::Token;
use crate::catalogue::Kind;
use crate::quantity::Dimension;

/// Where the words of a row mean what the row says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum Block {
    /// A line without indent.
    Text,
    /// A figure of `target`.
    Target,
    /// An ion of `water`.
    Water,
    /// A line of `mash`.
    Mash,
    /// A line of `boil`.
    Boil,
    /// A line of `stand`.
    Stand,
    /// A line of `ferment`.
    Ferment,
    /// What is pitched.
    Pitch,
    /// A line of `package`, or a clause of one.
    Package,
    /// A line of `brewhouse`.
    Brewhouse,
    /// A line of `stock`.
    Stock,
    /// A line of `ingredient`.
    Ingredient,
    /// A line of `log`.
    Log,
    /// The amount of an item.
    Amount,
    /// A figure of an ingredient.
    Attribute,
    /// The form of a hop.
    HopForm,
    /// How fruit was prepared.
    FruitForm,
    /// The timing of an item.
    Timing,
    /// Behind the volume of a `batch`.
    BatchPoint,
    /// Behind `shares`.
    ShareBasis,
    /// Behind the figures of `sour`.
    Sour,
    /// Behind a `rest`.
    RestHeating,
    /// Behind the `water` of a plant, beside the ions.
    WaterReport,
    /// Behind `lauter`.
    Lauter,
    /// Behind the comma of a `lauter` line.
    LauterFigure,
    /// Behind `extract yield`: of what.
    YieldBasis,
    /// Behind `extract yield`: where it is counted.
    YieldPoint,
    /// Behind `evaporation` in per cent.
    Hourly,
    /// Behind the temperature of `cool to` in a plant.
    Cooling,
    /// Behind `heat`.
    Heating,
    /// Behind `bitterness` in a plant.
    BitternessModel,
    /// Behind `weigh`.
    Weighing,
    /// By what a gravity was read.
    Instrument,
}

impl Block {
    /// The word that opens the block, or what the rows are.
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Text => "text",
            Self::Target => "target",
            Self::Water => "water",
            Self::Mash => "mash",
            Self::Boil => "boil",
            Self::Stand => "stand",
            Self::Ferment => "ferment",
            Self::Pitch => "pitch",
            Self::Package => "package",
            Self::Brewhouse => "brewhouse",
            Self::Stock => "stock",
            Self::Ingredient => "ingredient",
            Self::Log => "log",
            Self::Amount => "amount",
            Self::Attribute => "figure of an ingredient",
            Self::HopForm => "form of a hop",
            Self::FruitForm => "form of fruit",
            Self::Timing => "timing",
            Self::BatchPoint => "point of a batch",
            Self::ShareBasis => "basis of shares",
            Self::Sour => "sour",
            Self::RestHeating => "heating of a rest",
            Self::WaterReport => "water of a plant",
            Self::Lauter => "way of lautering",
            Self::LauterFigure => "figure of lautering",
            Self::YieldBasis => "basis of a yield",
            Self::YieldPoint => "point of a yield",
            Self::Hourly => "share per hour",
            Self::Cooling => "way of cooling",
            Self::Heating => "way of heating",
            Self::BitternessModel => "model of bitterness",
            Self::Weighing => "step of weighing",
            Self::Instrument => "instrument",
        }
    }

    /// The block that a line stands in, by the word that opens it.
    pub(super) const fn home(self) -> &'static str {
        match self {
            Self::Pitch => "ferment",
            _ => self.as_str(),
        }
    }
}

/// What a figure is where it stands: its unit tells, and the word before it where there is one.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Role {
    /// What it is of the thing that the row speaks of.
    pub name: &'static str,
    /// What its unit may measure.
    pub dimensions: &'static [Dimension],
    /// Words that may stand before it.
    pub after: &'static [&'static str],
    /// Whether it must be there.
    pub needed: bool,
    /// The items that may have it, by the block that they stand in; empty for any that may have the row.
    pub among: &'static [Block],
}

impl Role {
    pub(super) const fn new(name: &'static str, dimensions: &'static [Dimension]) -> Self {
        Self {
            name,
            dimensions,
            after: &[],
            needed: true,
            among: &[],
        }
    }

    pub(super) const fn after(mut self, words: &'static [&'static str]) -> Self {
        self.after = words;
        self
    }

    pub(super) const fn among(mut self, blocks: &'static [Block]) -> Self {
        self.among = blocks;
        self
    }

    pub(super) const fn optional(mut self) -> Self {
        self.needed = false;
        self
    }
}

/// What stands with the words of a row.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Takes {
    /// A figure.
    Figure(Role),
    /// Words of another block.
    Words(Block),
    /// Words of another block, or none.
    MaybeWords(Block),
    /// Labels of another block, each with its figure, apart by commas.
    Figures(Block),
    /// An ingredient with its amount, figures and timing.
    Item,
    /// Text to the end of the line.
    Text,
}

/// One row of the grammar.
///
/// ```
/// use wortwright::notation::{Block, grammar};
///
/// let kettle = grammar().find(|row| row.block == Block::Brewhouse && row.words.contains(&"kettle"));
/// let kettle = kettle.expect("plants have kettles");
/// assert_eq!((kettle.example, kettle.field), ("kettle 16 L", "brewhouses[*].kettle_l"));
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Row {
    /// The words, as they are printed first, then others that are read. Empty where unit and place tell enough.
    pub words: &'static [&'static str],
    /// Where they mean this.
    pub block: Block,
    /// What stands with them.
    pub takes: &'static [Takes],
    /// The field of the models that it states, by its path: `#` for a number in a list, `*` for a name.
    pub field: &'static str,
    /// The kinds of ingredient that may have it; empty for any.
    pub kinds: &'static [Kind],
    /// The items that may have it, by the block that they stand in; empty for any.
    pub among: &'static [Block],
    /// A line of [`example_in`](Self::example_in) that is read as it stands, with lines below it where it needs them.
    pub example: &'static str,
    /// Where the example stands.
    pub example_in: Block,
    /// The example with a figure or a word changed, mostly in two ways.
    pub bent: &'static [&'static str],
}

impl Row {
    pub(super) const fn new(
        block: Block,
        words: &'static [&'static str],
        field: &'static str,
    ) -> Self {
        Self {
            words,
            block,
            takes: &[],
            field,
            kinds: &[],
            among: &[],
            example: "",
            example_in: block,
            bent: &[],
        }
    }

    pub(super) const fn takes(mut self, takes: &'static [Takes]) -> Self {
        self.takes = takes;
        self
    }

    pub(super) const fn of(mut self, kinds: &'static [Kind]) -> Self {
        self.kinds = kinds;
        self
    }

    pub(super) const fn among(mut self, blocks: &'static [Block]) -> Self {
        self.among = blocks;
        self
    }

    pub(super) const fn example(
        mut self,
        example_in: Block,
        example: &'static str,
        bent: &'static [&'static str],
    ) -> Self {
        (self.example_in, self.example, self.bent) = (example_in, example, bent);
        self
    }

    /// The words as they are printed.
    pub fn word(&self) -> &'static str {
        self.words.first().copied().unwrap_or_default()
    }

    /// What the unit of its first figure may measure.
    pub(super) fn dimensions(&self) -> &'static [Dimension] {
        self.roles().next().map_or(&[], |role| role.dimensions)
    }

    /// Its figures.
    pub(super) fn roles(&self) -> impl Iterator<Item = &'static Role> {
        self.takes.iter().filter_map(|takes| match takes {
            Takes::Figure(role) => Some(role),
            _ => None,
        })
    }

    /// The path of its field below an object.
    pub(super) fn field_of(&self, object: &str) -> &'static str {
        let below = self.field.strip_prefix(object);
        below.map_or(self.field, |field| field.trim_start_matches('.'))
    }

    /// Whether what follows the words is what they take, so that they are no part of a name.
    pub(super) fn fits(&self, behind: &[Token<'_>]) -> bool {
        match self.takes.first() {
            None => behind.is_empty(),
            Some(Takes::Item | Takes::Text) => true,
            Some(Takes::Words(_) | Takes::MaybeWords(_) | Takes::Figures(_)) => is_figure(behind),
            Some(Takes::Figure(_)) => {
                let link = |word: &&str| begins_with(behind, word).is_some_and(is_figure);
                is_figure(behind) || self.roles().flat_map(|role| role.after).any(link)
            }
        }
    }

    /// Whether an item of the block may have it.
    pub(super) fn is_among(&self, block: Block) -> bool {
        self.among.is_empty() || self.among.contains(&block)
    }
}

fn is_figure(tokens: &[Token<'_>]) -> bool {
    tokens.first().is_some_and(Token::is_number)
}

/// What follows the words at the start of the tokens.
pub(super) fn begins_with<'t, 'a>(tokens: &'t [Token<'a>], words: &str) -> Option<&'t [Token<'a>]> {
    let count = 1 + words.bytes().filter(|byte| *byte == b' ').count();
    opens(tokens, words).then(|| tokens.get(count..).unwrap_or(&[]))
}

/// A row with what it is read by.
#[derive(Debug)]
pub(super) struct Rule<R: 'static> {
    pub(super) row: Row,
    pub(super) read: R,
}

/// The rows of a block, or those of a part of it, with what they are read by.
#[derive(Debug)]
pub(super) struct Table<R: 'static>(pub(super) &'static [Rule<R>]);

impl<R> Table<R> {
    pub(super) fn rows(&self) -> impl Iterator<Item = &'static Row> + use<R> {
        self.0.iter().map(|rule| &rule.row)
    }

    /// All words.
    pub(super) fn words(&self) -> impl Iterator<Item = &'static str> + use<R> {
        self.rows().flat_map(|row| row.words).copied()
    }

    /// The words as they are printed, apart by commas.
    pub(super) fn listed(&self) -> String {
        let words = self.rows().map(Row::word).filter(|word| !word.is_empty());
        words.collect::<Vec<_>>().join(", ")
    }

    /// The words as they are printed, as a choice: `a`, `b` or `c`.
    pub(super) fn choice(&self) -> String {
        choice(self.rows().map(Row::word))
    }

    /// The rule whose words the tokens begin with, the longest of several, and the words.
    pub(super) fn opening(&self, tokens: &[Token<'_>]) -> Option<(&'static Rule<R>, &'static str)> {
        let first = tokens.first()?.word()?.as_bytes().first()?;
        let mut found: Option<(&'static Rule<R>, &'static str)> = None;
        for rule in self.0 {
            for word in rule.row.words {
                // Most words differ in the first letter.
                let may_be = word
                    .as_bytes()
                    .first()
                    .is_some_and(|initial| initial.eq_ignore_ascii_case(first));
                if may_be
                    && found.is_none_or(|(_, longest)| longest.len() < word.len())
                    && opens(tokens, word)
                {
                    found = Some((rule, word));
                }
            }
        }
        found
    }

    /// The rule of that label, in any case.
    pub(super) fn named(&self, label: &str) -> Option<&'static Rule<R>> {
        if label.is_empty() {
            return None;
        }
        let is_it = |word: &&str| word.eq_ignore_ascii_case(label);
        self.0.iter().find(|rule| rule.row.words.iter().any(is_it))
    }

    /// The rule without words.
    pub(super) fn wordless(&self) -> Option<&'static Rule<R>> {
        self.0.iter().find(|rule| rule.row.words.is_empty())
    }
}

/// Words in quotation marks as a choice: `a`, `b` or `c`.
pub(super) fn choice(words: impl Iterator<Item = &'static str>) -> String {
    let quoted: Vec<_> = words.map(|word| format!("`{word}`")).collect();
    match quoted.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        _ => quoted.concat(),
    }
}
