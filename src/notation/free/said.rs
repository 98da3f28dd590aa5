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

    /// Whether its phrases say it wherever they stand.
    pub(super) const fn holds_anywhere(&self) -> bool {
        self.within.is_empty()
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
            // `[for {time}] | …` is a row.
            if row.starts_with('[') && row.ends_with(']') {
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
                // What is more is a heat in degrees Fahrenheit.
                Part::Mash => (5.0..=120.0).contains(&number).then_some(Unit::Minute),
                Part::Boil | Part::Stand => (5.0..=240.0).contains(&number).then_some(Unit::Minute),
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

#[cfg(test)]
mod tests {
    use super::super::tests::understood;
    use super::{Part, Said, Slot, trade};

    /// A figure of the kind that a slot takes in the part.
    fn figure(slot: Slot, part: Part) -> &'static str {
        match (slot, part) {
            (Slot::MashOut, _) => "78 C",
            (Slot::Temperature, Part::Mash) => "66 C",
            (Slot::Temperature, Part::Stand) => "80 C",
            (Slot::Temperature, _) => "18 C",
            (Slot::Time, Part::Ferment) => "5 days",
            (Slot::Time, _) => "25 min",
            (Slot::Volume, _) => "15 L",
            (Slot::Mass, _) => "2 kg",
            (Slot::Ratio, _) => "3 L/kg",
            (Slot::Gravity, _) => "1.045",
            (Slot::Strength, _) => "12 %",
            (Slot::Share, _) => "5 %",
            (Slot::Bitterness, _) => "30 IBU",
            (Slot::Colour, _) => "20 EBC",
            (Slot::Gas | Slot::Volumes, _) => "2.4 volumes",
            (Slot::Dose, _) => "6 g/L",
            (Slot::Ph, _) => "pH 5.4",
            (Slot::Ion, _) => "80 mg/L",
            (Slot::Pressure, _) => "1 bar",
            (Slot::Rate, _) => "3 L/h",
            (Slot::Length, _) => "300 m",
            (Slot::Item, Part::Ferment) => "30 g saaz",
            (Slot::Item, _) => "90 g dextrose",
        }
    }

    /// A sheet around a line of the part.
    fn sheet(part: Part, typed: &str) -> String {
        let grist = "mash:\n4 kg pale ale malt\n1 kg vienna malt\n";
        let hops = "hops:\n20 g saaz at 20 min\n10 g saaz at 5 min\n";
        match part {
            Part::Head => format!("Ale\n{typed}\n{grist}{hops}"),
            Part::Water | Part::Mash => format!("Ale\n{grist}{typed}\n{hops}"),
            Part::Boil | Part::Stand => format!("Ale\n{grist}{hops}{typed}\nboil 75 min\n"),
            _ => format!("Ale\n{grist}{hops}fermentation:\n{typed}\n"),
        }
    }

    /// What a line that says the row's phrase with its figures is read as.
    fn lines(said: &Said, phrase: &str, part: Part) -> Vec<String> {
        let mut typed = phrase.to_owned();
        for slot in said.line.split(['{', '}']).skip(1).step_by(2) {
            let name = slot.split('=').next().unwrap_or(slot);
            let Some(slot) = Slot::named(name) else {
                panic!("{}: no slot {name}", said.line);
            };
            let is_pitched = slot == Slot::Item && said.line.starts_with("pitch");
            let figure = if is_pitched {
                "1 pack ale yeast"
            } else {
                figure(slot, said.part)
            };
            typed = format!("{typed} {figure}");
        }
        lines_of(part, &typed)
    }

    /// The lines that a line of the part adds to a sheet.
    fn lines_of(part: Part, typed: &str) -> Vec<String> {
        let always = understood(&sheet(part, ""));
        let mut lines = understood(&sheet(part, typed));
        lines.retain(|line| !always.contains(line));
        lines
    }

    /// An addition with each phrase of a time goes where its row says.
    #[test]
    fn every_timing_puts_an_addition_where_it_says() {
        let mut wrong = Vec::new();
        assert!(trade().timings.len() >= 8, "{}", trade().timings.len());
        for when in &trade().timings {
            let from = when.within.first().copied().unwrap_or(Part::Boil);
            for phrase in when.phrases() {
                let time = if when.part == Part::Boil {
                    ""
                } else {
                    " 20 min"
                };
                let time = if when.part == Part::Ferment {
                    " 4 days"
                } else {
                    time
                };
                let time = if when.line.is_empty() {
                    "12 min "
                } else {
                    time
                };
                let typed = if when.line.is_empty() {
                    format!("30 g fuggle, {time}{phrase}")
                } else {
                    format!("30 g fuggle, {phrase}{time}")
                };
                let wanted = match when.part {
                    Part::Mash => "30 g Fuggle",
                    Part::Boil => "30 g Fuggle at",
                    Part::Stand => "30 g Fuggle for 20 min",
                    Part::Ferment => "add 30 g Fuggle for 4 days",
                    _ => "add 30 g Fuggle",
                };
                let from = if from == Part::Mash { Part::Boil } else { from };
                let lines = lines_of(from, &typed);
                // A stand of its own says for how long.
                let stands = lines.contains(&"stand 20 min".to_owned());
                let whole = understood(&sheet(from, &typed));
                let at = |start: &str| whole.iter().position(|line| line.starts_with(start));
                let is_mashed = at("30 g Fuggle").is_some_and(|item| Some(item) < at("boil"));
                if !(stands || lines.iter().any(|line| line.starts_with(wanted)))
                    || is_mashed != (when.part == Part::Mash)
                {
                    wrong.push(format!("{typed}: {lines:?}"));
                }
            }
        }
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }

    #[test]
    fn every_phrase_reads_the_line_of_one_of_its_rows() {
        let mut missing = Vec::new();
        let mut count = 0;
        for said in &trade().lines {
            let part = said.within.first().copied().unwrap_or(said.part);
            for phrase in said.phrases() {
                let words: Vec<&str> = phrase.split(' ').collect();
                let Some((rows, length)) = trade().line(&words.iter().copied(), part) else {
                    missing.push(format!("{phrase}: not found"));
                    continue;
                };
                count += 1;
                assert_eq!(length, words.len(), "{phrase}");
                let first = said.line.split(' ').next().unwrap_or("");
                if first.is_empty() {
                    continue;
                }
                // In lines without indent the grammar goes first.
                if phrase == "stand" && said.part == Part::Mash {
                    continue;
                }
                // A row before it may take the same figures.
                let keys: Vec<&str> = rows
                    .iter()
                    .filter_map(|row| row.line.split(' ').next())
                    .collect();
                let found = lines(said, phrase, part);
                let is_read = found.iter().any(|line| {
                    keys.iter()
                        .any(|key| !key.is_empty() && line.starts_with(key))
                });
                if !is_read {
                    missing.push(format!("{phrase} ({}): {found:?}", said.line));
                }
            }
        }
        assert!(missing.is_empty(), "{}", missing.join("\n"));
        // As many as there are to be read, counted in the table.
        assert!(count > 250, "{count}");
    }
}
