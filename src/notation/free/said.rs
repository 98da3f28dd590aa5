//! What brewers say, and the line of the notation that each says: the rows of `trade_words.txt`.

use crate::quantity::{Dimension, Unit};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

/// Where on a sheet a line stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Part {
    Head,
    Water,
    Mash,
    Boil,
    Stand,
    Ferment,
    Package,
    Plant,
    Stock,
    Log,
}

impl Part {
    fn named(name: &str) -> Option<Self> {
        Some(match name {
            "head" => Self::Head,
            "water" => Self::Water,
            "mash" => Self::Mash,
            "boil" => Self::Boil,
            "stand" => Self::Stand,
            "ferment" => Self::Ferment,
            "package" => Self::Package,
            "plant" => Self::Plant,
            "stock" => Self::Stock,
            "log" => Self::Log,
            _ => return None,
        })
    }
}

/// Phrases with the line that they say, or the timing.
#[derive(Debug)]
pub(super) struct Said {
    /// The phrases, in lower case, apart by commas; none for figures that speak for themselves where they stand.
    phrases: &'static str,
    /// The parts of a sheet in which they say it; empty for all.
    within: Vec<Part>,
    /// The part that the line belongs to.
    pub(super) part: Part,
    /// The line; empty for what a recipe does not hold.
    pub(super) line: &'static str,
}

/// A row that says when an ingredient goes in; its line is the timing.
pub(super) type When = Said;

impl Said {
    fn of(row: &'static str) -> Option<Self> {
        let mut columns = row.split('|').map(str::trim);
        let line = columns.next()?;
        let part = Part::named(columns.next()?)?;
        let within = columns.next()?;
        let phrases = columns.next()?;
        Some(Self {
            phrases: if phrases == "-" { "" } else { phrases },
            within: within.split(' ').filter_map(Part::named).collect(),
            part,
            line: if matches!(line, "nothing" | "as stated") {
                ""
            } else {
                line
            },
        })
    }

    pub(super) fn phrases(&self) -> impl Iterator<Item = &'static str> {
        let phrases: &'static str = self.phrases;
        phrases.split(", ").filter(|phrase| !phrase.is_empty())
    }

    /// Whether it has no phrase: figures alone say it.
    pub(super) const fn is_of_figures(&self) -> bool {
        self.phrases.is_empty()
    }

    /// Whether its phrases say it in the part.
    pub(super) fn holds_in(&self, part: Part) -> bool {
        self.within.is_empty() || self.within.contains(&part)
    }

    /// Whether it waits for an ingredient.
    pub(super) fn takes_item(&self) -> bool {
        self.line.contains("{item}")
    }
}

/// All that is known of how brewers speak.
#[derive(Debug, Default)]
pub(super) struct Trade {
    lines: Vec<Said>,
    timings: Vec<When>,
    headings: Vec<(&'static str, Part)>,
    containers: Vec<(&'static str, &'static str)>,
    fillers: BTreeSet<&'static str>,
    nouns: BTreeSet<&'static str>,
    made: BTreeSet<&'static str>,
    holders: BTreeSet<&'static str>,
    /// The phrases by their first word: the phrase, and the number of its row.
    lines_by_word: BTreeMap<&'static str, Vec<(&'static str, usize)>>,
    timings_by_word: BTreeMap<&'static str, Vec<(&'static str, usize)>>,
}

static TRADE: LazyLock<Trade> = LazyLock::new(|| Trade::of(include_str!("trade_words.txt")));

/// The words of the trade, which are read once.
pub(super) fn trade() -> &'static Trade {
    &TRADE
}

impl Trade {
    fn of(text: &'static str) -> Self {
        let mut trade = Self::default();
        let mut section = "";
        let rows = text
            .lines()
            .filter(|row| !row.is_empty() && !row.starts_with('#'));
        for row in rows {
            if row.starts_with('[') {
                section = row;
                continue;
            }
            trade.row(section, row);
        }
        trade.lines_by_word = by_word(&trade.lines);
        trade.timings_by_word = by_word(&trade.timings);
        trade
    }

    fn row(&mut self, section: &str, row: &'static str) {
        match section {
            "[lines]" => self.lines.extend(Said::of(row)),
            "[timings]" => self.timings.extend(Said::of(row)),
            "[headings]" => {
                let (part, phrases) = row.split_once(" | ").unwrap_or((row, ""));
                let part = Part::named(part);
                let rows = phrases
                    .split(", ")
                    .filter_map(|phrase| Some((phrase, part?)));
                self.headings.extend(rows);
            }
            "[containers]" => {
                let (container, phrases) = row.split_once(" | ").unwrap_or((row, ""));
                self.containers
                    .extend(phrases.split(", ").map(|phrase| (phrase, container)));
            }
            "[fillers]" => self.fillers.extend(row.split(' ')),
            "[nouns]" => self.nouns.extend(row.split(' ')),
            "[made]" => self.made.extend(row.split(' ')),
            "[holders]" => self.holders.extend(row.split(' ')),
            _ => {}
        }
    }

    /// The rows of figures that speak for themselves in the part.
    pub(super) fn of_figures(&self, part: Part) -> impl Iterator<Item = &Said> {
        self.lines
            .iter()
            .filter(move |said| said.is_of_figures() && said.holds_in(part))
    }

    /// The rows of the longest phrase that the words begin with, and how many words that is.
    pub(super) fn line<'w>(
        &self,
        words: &(impl Iterator<Item = &'w str> + Clone),
        part: Part,
    ) -> Option<(Vec<&Said>, usize)> {
        longest(&self.lines, &self.lines_by_word, words, part)
    }

    /// The timing of the longest phrase that the words begin with.
    pub(super) fn timing<'w>(
        &self,
        words: &(impl Iterator<Item = &'w str> + Clone),
        part: Part,
    ) -> Option<(&When, usize)> {
        let (rows, count) = longest(&self.timings, &self.timings_by_word, words, part)?;
        Some((rows.first().copied()?, count))
    }

    /// Whether a phrase begins a line of the notation anywhere.
    pub(super) fn speaks(&self, phrase: &str) -> bool {
        let first = phrase.split(' ').next().unwrap_or("");
        let phrases = self.lines_by_word.get(first).into_iter().flatten();
        phrases.into_iter().any(|(own, _)| *own == phrase)
    }

    /// Whether a phrase begins with the word.
    pub(super) fn begins(&self, word: &str) -> bool {
        self.lines_by_word
            .contains_key(word.to_lowercase().as_str())
    }

    /// The part that a heading opens.
    pub(super) fn heading(&self, phrase: &str) -> Option<Part> {
        let mut headings = self.headings.iter();
        headings
            .find(|(own, _)| *own == phrase)
            .map(|(_, part)| *part)
    }

    /// What the notation calls a container.
    pub(super) fn container(&self, word: &str) -> Option<&'static str> {
        let mut containers = self.containers.iter();
        containers
            .find(|(own, _)| *own == word)
            .map(|(_, container)| *container)
    }

    /// Whether the notation calls a container so.
    pub(super) fn is_container(&self, name: &str) -> bool {
        self.containers
            .iter()
            .any(|(_, container)| *container == name)
    }

    pub(super) fn is_filler(&self, word: &str) -> bool {
        self.fillers.contains(word)
    }

    /// Whether a word says what a thing is.
    pub(super) fn is_noun(&self, word: &str) -> bool {
        self.nouns.contains(word)
    }

    /// Whether a word only says how a thing was made or sold.
    pub(super) fn is_how_made(&self, word: &str) -> bool {
        self.made.contains(word)
    }

    /// Whether things are bought or stored in it.
    pub(super) fn is_holder(&self, word: &str) -> bool {
        self.holders.contains(word)
    }
}

fn by_word(rows: &[Said]) -> BTreeMap<&'static str, Vec<(&'static str, usize)>> {
    let mut index: BTreeMap<_, Vec<_>> = BTreeMap::new();
    for (at, row) in rows.iter().enumerate() {
        for phrase in row.phrases() {
            let first = phrase.split(' ').next().unwrap_or(phrase);
            index.entry(first).or_default().push((phrase, at));
        }
    }
    index
}

/// The rows of the longest phrase that the words begin with and that says something in the part.
fn longest<'r, 'w>(
    rows: &'r [Said],
    index: &BTreeMap<&'static str, Vec<(&'static str, usize)>>,
    words: &(impl Iterator<Item = &'w str> + Clone),
    part: Part,
) -> Option<(Vec<&'r Said>, usize)> {
    let begins = |phrase: &str| {
        let mut own = words.clone();
        let is_it = phrase.split(' ').all(|word| own.next() == Some(word));
        is_it.then(|| phrase.split(' ').count())
    };
    let mut found: Vec<&Said> = Vec::new();
    let mut most = 0;
    for (phrase, at) in index.get(words.clone().next()?)? {
        let (Some(row), Some(count)) = (rows.get(*at), begins(phrase)) else {
            continue;
        };
        if !row.holds_in(part) || count < most {
            continue;
        }
        if count > most {
            found.clear();
            most = count;
        }
        found.push(row);
    }
    (!found.is_empty()).then_some((found, most))
}

/// A slot of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Slot {
    Temperature,
    /// A temperature at which a mash is ended.
    MashOut,
    Time,
    Volume,
    Mass,
    Ratio,
    Gravity,
    /// A gravity in per cent by mass, as it is said of wort on the Continent.
    Strength,
    Share,
    Bitterness,
    Colour,
    Gas,
    Volumes,
    Dose,
    Ph,
    Rate,
    Length,
    Pressure,
    Ion,
    Item,
}

impl Slot {
    pub(super) fn named(name: &str) -> Option<Self> {
        Some(match name {
            "temperature" => Self::Temperature,
            "mash-out" => Self::MashOut,
            "time" => Self::Time,
            "volume" => Self::Volume,
            "mass" => Self::Mass,
            "ratio" => Self::Ratio,
            "gravity" => Self::Gravity,
            "strength" => Self::Strength,
            "share" => Self::Share,
            "bitterness" => Self::Bitterness,
            "colour" => Self::Colour,
            "gas" => Self::Gas,
            "volumes" => Self::Volumes,
            "dose" => Self::Dose,
            "ph" => Self::Ph,
            "rate" => Self::Rate,
            "length" => Self::Length,
            "pressure" => Self::Pressure,
            "ion" => Self::Ion,
            "item" => Self::Item,
            _ => return None,
        })
    }

    pub(super) const fn dimensions(self) -> &'static [Dimension] {
        match self {
            Self::Temperature | Self::MashOut => &[Dimension::Temperature],
            Self::Time => &[Dimension::Time],
            Self::Volume => &[Dimension::Volume],
            Self::Mass => &[Dimension::Mass],
            Self::Ratio => &[Dimension::VolumePerMass],
            Self::Gravity => &[Dimension::Gravity, Dimension::Ratio],
            Self::Share | Self::Strength => &[Dimension::Percent],
            Self::Bitterness => &[Dimension::Bitterness],
            Self::Colour => &[Dimension::Colour],
            Self::Gas => &[Dimension::GasVolumes, Dimension::Concentration],
            Self::Volumes => &[Dimension::GasVolumes],
            Self::Dose => &[Dimension::Concentration],
            Self::Ph => &[Dimension::Ph],
            Self::Rate => &[Dimension::VolumePerTime],
            Self::Length => &[Dimension::Length],
            Self::Pressure => &[Dimension::Pressure],
            Self::Ion => &[Dimension::Concentration],
            Self::Item => &[],
        }
    }

    /// The unit of a number alone that stands in the slot, as the trade would read it; told wherever it is used.
    pub(super) fn bare(self, number: f64, part: Part, is_us: bool) -> Option<Unit> {
        match self {
            Self::Temperature => match part {
                Part::Mash | Part::Boil | Part::Stand => match number {
                    -2.0..=100.0 if part == Part::Stand => Some(Unit::Celsius),
                    30.0..=100.0 => Some(Unit::Celsius),
                    100.0..=212.0 => Some(Unit::Fahrenheit),
                    _ => None,
                },
                _ if is_us && (28.0..=110.0).contains(&number) => Some(Unit::Fahrenheit),
                _ if (-2.0..=30.0).contains(&number) => Some(Unit::Celsius),
                _ if (45.0..=110.0).contains(&number) => Some(Unit::Fahrenheit),
                _ => None,
            },
            Self::Time => match part {
                Part::Mash | Part::Boil | Part::Stand => {
                    (5.0..=240.0).contains(&number).then_some(Unit::Minute)
                }
                _ => None,
            },
            Self::Gravity => match number {
                0.98..=1.2 => Some(Unit::SpecificGravity),
                _ => None,
            },
            Self::Share => (1.0..=20.0).contains(&number).then_some(Unit::Percent),
            Self::Bitterness => (1.0..=150.0).contains(&number).then_some(Unit::Ibu),
            Self::Gas | Self::Volumes => (1.0..=4.5).contains(&number).then_some(Unit::GasVolumes),
            Self::Ion => (0.0..=2000.0)
                .contains(&number)
                .then_some(Unit::MilligramPerLitre),
            Self::Ph => (2.5..=8.0).contains(&number).then_some(Unit::PhValue),
            _ => None,
        }
    }
}
