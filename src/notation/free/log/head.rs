//! The heading of a log: the name of the beer, the day it was brewed, and the heads of columns.

use super::date::{Clocks, Stamp, stamp};
use super::words::LogWord;
use crate::diagnostic::Span;
use crate::notation::free::bit::{Bit, What};
use crate::notation::free::scan::{begins_quantity, opening_text, scan, scan_behind};
use crate::notation::free::words::has;
use crate::notation::tree::Token;
use crate::quantity::Unit;
use crate::quantity::lexer::{AsWritten, BARE_GRAVITY, is_space};

/// What a heading says.
#[derive(Debug, Default)]
pub(in crate::notation::free) struct Head {
    pub(in crate::notation::free) name: Option<(String, Span)>,
    /// Whether the name stands behind `beer:`.
    pub(in crate::notation::free) is_labelled: bool,
    pub(in crate::notation::free) stamp: Option<Stamp>,
    pub(in crate::notation::free) is_refractometer: bool,
    /// What stands behind the name.
    pub(in crate::notation::free) behind: Vec<Bit>,
}

/// Whether a line may be the heading of a log: some words, no figure of a beer.
pub(in crate::notation::free) fn is_head(typed: &[Token<'_>]) -> bool {
    let bits = scan(typed);
    bits.len() <= 10
        && bits.iter().any(|bit| bit.word().is_some())
        && bits.iter().all(|bit| bit.quantity().is_none())
}

pub(in crate::notation::free) fn head(typed: &[Token<'_>]) -> Head {
    let text = opening_text(typed);
    let start = typed.first().map_or_else(Span::default, Token::span);
    let mut head = Head {
        is_refractometer: has(&scan(typed), &["refractometer"]),
        ..Head::default()
    };
    if let Some(quoted) = typed.iter().find(|token| token.is_quoted()) {
        head.name = Some((quoted.text().to_owned(), quoted.span()));
        return head;
    }
    let (from, is_labelled) = label(&text);
    head.is_labelled = is_labelled;
    let end = name_end(&text, from, &mut head.stamp);
    let (name, at) = bare_name(text.get(from..end).unwrap_or(""), from);
    let is_name = name.chars().any(char::is_alphabetic)
        && name.split(is_space).count() <= 6
        && !labels_figures(&name);
    if is_name {
        let byte = |at: usize| start.start + u32::try_from(at).unwrap_or(0);
        let span = Span::new(start.text, byte(at), byte(at + name.len()));
        head.name = Some((name.replace('"', ""), span));
    }
    head.behind = scan_behind(typed, if is_name { behind_date(&text, end) } else { 0 });
    head
}

/// `20 L wort`, `Pitched`, `Original gravity`: words of a figure, which are no name of a beer.
fn labels_figures(name: &str) -> bool {
    let lower = name.to_lowercase();
    let first = lower.split(is_space).next().unwrap_or("");
    let is_figure = first.starts_with(|c: char| c.is_ascii_digit()) && begins_quantity(&lower);
    let labels = LogWord::Labels.phrases();
    let mut words = lower.split(|c: char| !(c.is_alphanumeric() || c == '.'));
    let is_number = |word: &str| word.chars().all(|c| c.is_ascii_digit() || c == '.');
    is_figure || words.all(|word| is_number(word) || labels.contains(&word.trim_matches('.')))
}

/// Where a date ends that stands there, with what parts it from the name.
fn behind_date(text: &str, end: usize) -> usize {
    let rest = text.get(end..).unwrap_or("");
    let trims = |c: char| is_space(c) || matches!(c, ',' | ':' | '-' | '/' | '–' | '—' | '(');
    let date = rest.trim_start_matches(trims);
    match stamp(date, Clocks::Colon) {
        Some(found) if matches!(found.stamp, Stamp::Date { .. } | Stamp::Slashed { .. }) => {
            end + (rest.len() - date.len()) + found.length
        }
        _ => end,
    }
}

/// `beer: Low Tide`: where the name begins, and whether it has such a label.
fn label(text: &str) -> (usize, bool) {
    let lower = text.to_lowercase();
    for label in ["beer", "name", "brand", "recipe"] {
        if let Some(behind) = lower.strip_prefix(label)
            && let Some(rest) = behind.trim_start_matches(is_space).strip_prefix(':')
        {
            return (lower.len() - rest.len(), true);
        }
    }
    (0, false)
}

/// Where the name ends: at a mark, a date, a quantity, or a word that tells when.
fn name_end(text: &str, from: usize, found: &mut Option<Stamp>) -> usize {
    let mut at = from;
    while let Some(rest) = text.get(at..).filter(|rest| !rest.is_empty()) {
        let word = rest.len() - rest.trim_start_matches(is_space).len();
        let here = rest.get(word..).unwrap_or("");
        let dated = stamp(here, Clocks::Colon).map(|stamped| stamped.stamp);
        if let Some(stamp) = dated.filter(|stamp| !matches!(stamp, Stamp::Clock | Stamp::Later(_)))
        {
            *found = Some(stamp);
            return at;
        }
        let length = here.find(is_space).unwrap_or(here.len());
        let own = here.get(..length).unwrap_or("");
        let is_vessel = text.get(from..at).is_some_and(is_vessel);
        let is_mark = matches!(own, "-" | "–" | "—" | "/" | "|") || own.starts_with('(');
        let is_quantity = own.starts_with(|c: char| c.is_ascii_digit())
            && (begins_quantity(here) || is_specific_gravity(own));
        if (is_mark && !is_vessel || is_quantity) && at > from {
            // A date may still stand behind: ` - brewed 3/2`.
            *found = behind_marks(here);
            return at;
        }
        at += word + length;
        let is_sentence = own.ends_with('.')
            && text.get(at..).is_some_and(|behind| {
                behind
                    .trim_start_matches(is_space)
                    .starts_with(char::is_uppercase)
            });
        if own.ends_with([',', ':', ';']) || is_sentence {
            *found = text.get(at..).and_then(behind_marks);
            return at;
        }
    }
    text.len()
}

/// `1.042`: a gravity, and no number of a brew.
fn is_specific_gravity(word: &str) -> bool {
    let number = word.trim_end_matches([',', ';', ':', '.', ')']);
    let decimals = number
        .split_once('.')
        .map_or(0, |(_, decimals)| decimals.len());
    decimals >= 3
        && number
            .parse()
            .is_ok_and(|number| BARE_GRAVITY.contains(&number))
}

/// A date that stands behind the name.
fn behind_marks(text: &str) -> Option<Stamp> {
    let words = text.split_inclusive(is_space);
    let mut at = 0;
    for word in words {
        let found = text
            .get(at..)
            .and_then(|rest| stamp(rest, Clocks::Colon))
            .map(|stamped| stamped.stamp);
        if let Some(stamp) = found.filter(|stamp| {
            matches!(
                stamp,
                Stamp::Date { .. } | Stamp::Slashed { .. } | Stamp::Weekday { .. }
            )
        }) {
            return Some(stamp);
        }
        at += word.len();
    }
    None
}

/// `FV6`, `Tank 12`
fn is_vessel(text: &str) -> bool {
    let letters = text.trim_matches(|c: char| is_space(c) || c.is_ascii_digit() || c == '/');
    LogWord::Vessels
        .phrases()
        .contains(&letters.to_lowercase().as_str())
}

/// The name without what says only that it is a log, and where it begins.
fn bare_name(text: &str, from: usize) -> (String, usize) {
    let trims = |c: char| is_space(c) || matches!(c, ',' | ':' | ';' | '.' | '-' | '/' | '–' | '—');
    let mut at = from + (text.len() - text.trim_start_matches(trims).len());
    let mut name = text.trim_matches(trims);
    loop {
        let lower = name.to_lowercase();
        let leads = LogWord::Papers.phrases().iter().filter(|paper| {
            lower
                .strip_prefix(**paper)
                .is_some_and(|rest| rest.is_empty() || rest.starts_with(trims))
        });
        if let Some(paper) = leads.max_by_key(|paper| paper.len()) {
            let rest = name.get(paper.len()..).unwrap_or("");
            let behind = rest.trim_start_matches(trims);
            at += name.len() - behind.len();
            name = behind;
            continue;
        }
        let follows = LogWord::Endings.phrases().iter().find_map(|paper| {
            let rest = lower.strip_suffix(*paper)?;
            rest.ends_with(trims).then_some(rest.len())
        });
        let vessel = name.split_once('/').filter(|(before, _)| is_vessel(before));
        match (follows, vessel) {
            (Some(length), _) => name = name.get(..length).unwrap_or("").trim_end_matches(trims),
            (None, Some((before, behind))) => {
                let own = behind.trim_start_matches(trims);
                at += before.len() + 1 + (behind.len() - own.len());
                name = own;
            }
            (None, None) => return (name.to_owned(), at),
        }
    }
}

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Column {
    Day,
    Date,
    Gravity(Unit),
    Warmth(Option<Unit>),
    Ph,
    /// Words, or something else.
    Other,
}

/// The heads of columns: `day  P  T  pH`.
#[derive(Debug)]
pub(in crate::notation::free) struct Columns(Vec<Column>);

const COLUMNS: &[(&str, Column)] = &[
    ("day", Column::Day),
    ("d", Column::Day),
    ("date", Column::Date),
    ("when", Column::Date),
    ("p", Column::Gravity(Unit::Plato)),
    ("°p", Column::Gravity(Unit::Plato)),
    ("plato", Column::Gravity(Unit::Plato)),
    ("bx", Column::Gravity(Unit::Brix)),
    ("°bx", Column::Gravity(Unit::Brix)),
    ("brix", Column::Gravity(Unit::Brix)),
    ("sg", Column::Gravity(Unit::SpecificGravity)),
    ("gravity", Column::Gravity(Unit::SpecificGravity)),
    ("t", Column::Warmth(None)),
    ("temp", Column::Warmth(None)),
    ("temperature", Column::Warmth(None)),
    ("c", Column::Warmth(Some(Unit::Celsius))),
    ("°c", Column::Warmth(Some(Unit::Celsius))),
    ("f", Column::Warmth(Some(Unit::Fahrenheit))),
    ("°f", Column::Warmth(Some(Unit::Fahrenheit))),
    ("ph", Column::Ph),
    ("notes", Column::Other),
    ("remarks", Column::Other),
    ("note", Column::Other),
];

impl Columns {
    /// The columns that a line heads, if each of its words is the head of one.
    pub(in crate::notation::free) fn of(typed: &[Token<'_>]) -> Option<Self> {
        let text = opening_text(typed).to_lowercase();
        let words = text
            .split(|c: char| is_space(c) || c == '|')
            .filter(|word| !word.is_empty());
        let columns: Option<Vec<Column>> = words
            .map(|word| {
                COLUMNS
                    .iter()
                    .find(|(head, _)| *head == word)
                    .map(|(_, column)| *column)
            })
            .collect();
        columns.filter(|columns| columns.len() >= 2).map(Self)
    }

    /// Gives the numbers of a row their units; the day, where it is one of them, and where it stands.
    pub(in crate::notation::free) fn row(
        &self,
        bits: &mut Vec<Bit>,
        is_dated: bool,
        is_us: bool,
    ) -> Option<(f64, Span)> {
        let mut day = None;
        let mut at = 0;
        for column in &self.0 {
            if *column == Column::Date || is_dated && *column == Column::Day {
                continue;
            }
            let Some(bit) = bits.get_mut(at) else { break };
            let Some(number) = bit.bare() else {
                // A stroke stands for no figure.
                if !bit.is_mark('-') && bit.quantity().is_none() {
                    break;
                }
                at += 1;
                continue;
            };
            let is_points = (980.0..=1200.0).contains(&number.middle());
            let unit = match column {
                Column::Day => {
                    day = Some((number.middle(), bit.span));
                    bits.remove(at);
                    continue;
                }
                Column::Gravity(Unit::SpecificGravity) if is_points => None,
                Column::Gravity(unit) => Some(*unit),
                Column::Warmth(unit) => Some(unit.unwrap_or(if is_us {
                    Unit::Fahrenheit
                } else {
                    Unit::Celsius
                })),
                Column::Ph => Some(Unit::PhValue),
                Column::Date | Column::Other => None,
            };
            if let Some(unit) = unit {
                bit.what = What::Quantity(AsWritten::marked(number, unit));
            }
            at += 1;
        }
        day
    }
}
