//! Days as a log counts them in words: `after 5 days`, `a week later`, `Week 1:`, `9th:`.

use super::reader::Reader;
use super::{Clocks, Stamp, Stamped, reader};
use crate::quantity::lexer::is_space;

/// When a line of a log was written: a stamp as any text has it, or one that says so only in a log.
pub(in crate::notation::free) fn stamp_of_log(text: &str, clocks: Clocks) -> Option<Stamped> {
    let mut reader = Reader {
        text,
        at: 0,
        clocks,
    };
    reader.bullet();
    if let Some(stamp) = reader.spell() {
        reader.marks();
        let length = reader.at;
        return Some(Stamped { stamp, length });
    }
    reader::stamp(text, clocks)
}

/// Numbers as they are spelt before a spell of time.
const NUMBERS: &[(&str, f64)] = &[
    ("a", 1.0),
    ("an", 1.0),
    ("one", 1.0),
    ("two", 2.0),
    ("three", 3.0),
    ("four", 4.0),
    ("five", 5.0),
    ("six", 6.0),
    ("seven", 7.0),
    ("eight", 8.0),
    ("nine", 9.0),
    ("ten", 10.0),
    ("another", 1.0),
];

const ORDINALS: &[(&str, f64)] = &[
    ("first", 0.0),
    ("second", 1.0),
    ("third", 2.0),
    ("fourth", 3.0),
    ("fifth", 4.0),
    ("sixth", 5.0),
    ("seventh", 6.0),
];

/// How many days a spell is.
fn days_of(word: &str) -> Option<f64> {
    Some(match word {
        "h" | "hr" | "hrs" | "hour" | "hours" => 1.0 / 24.0,
        "d" | "day" | "days" => 1.0,
        "w" | "wk" | "wks" | "week" | "weeks" => 7.0,
        "fortnight" => 14.0,
        "month" | "months" => 30.0,
        _ => return None,
    })
}

impl Reader<'_> {
    fn spell(&mut self) -> Option<Stamp> {
        let start = self.at;
        let found = self
            .ordinal_day()
            .or_else(|| self.again(start).week())
            .or_else(|| self.again(start).spelt_day())
            .or_else(|| self.again(start).since())
            .or_else(|| self.again(start).day_of_month());
        if found.is_none() {
            self.at = start;
        }
        found
    }

    fn again(&mut self, start: usize) -> &mut Self {
        self.at = start;
        self
    }

    /// `first day`, `the second day`: the first is that of the pitching.
    fn ordinal_day(&mut self) -> Option<Stamp> {
        self.words(&[&["the"], &["on", "the"]]);
        let (word, length) = self.word()?;
        let (_, days) = ORDINALS.iter().find(|(ordinal, _)| *ordinal == word)?;
        self.at += length;
        self.words(&[&["day"]]).then_some(Stamp::Day(*days))
    }

    /// `Week 1:`, `wk 2`: so many weeks after the pitching.
    fn week(&mut self) -> Option<Stamp> {
        self.words(&[&["end", "of"]]);
        self.words(&[&["week"], &["wk"]]).then_some(())?;
        let weeks = self.count()?;
        self.ends().then_some(Stamp::Day(7.0 * weeks))
    }

    /// `Day three`
    fn spelt_day(&mut self) -> Option<Stamp> {
        self.words(&[&["on", "day"], &["day"]]).then_some(())?;
        let (word, length) = self.word()?;
        let (_, days) = NUMBERS
            .iter()
            .find(|(spelt, _)| spelt.len() > 2 && *spelt == word)?;
        self.at += length;
        Some(Stamp::Day(*days))
    }

    /// `after 5 days`, `3 days later`, `a week later`, `1 wk: 1.015`, `24 h 1.044`.
    fn since(&mut self) -> Option<Stamp> {
        let is_after = self.words(&[&["after"]]);
        let count = self.count()?;
        let (word, length) = self.word()?;
        let days = count * days_of(&word)?;
        self.at += length;
        if is_after {
            return Some(Stamp::Day(days));
        }
        if self.words(&[&["later"], &["after", "that"], &["after"], &["on"]]) {
            return Some(Stamp::After(days));
        }
        self.ends().then_some(Stamp::Day(days))
    }

    /// `9th: 1.014`: a day of the month of the date before it.
    fn day_of_month(&mut self) -> Option<Stamp> {
        self.words(&[&["the"], &["on", "the"]]);
        let (day, length) = self.number(2)?;
        self.at += length;
        let is_ordinal = ["st", "nd", "rd", "th"]
            .iter()
            .any(|end| self.rest().starts_with(end));
        if !is_ordinal || !(1..=31).contains(&day) {
            return None;
        }
        self.at += 2;
        let (word, _) = self.word().unwrap_or_default();
        // `2nd runnings` is none.
        (self.ends() || word.is_empty()).then_some(Stamp::OfMonth(day))
    }

    /// A number in digits or in letters.
    fn count(&mut self) -> Option<f64> {
        if let Some((number, length)) = self.number(3) {
            self.at += length;
            return Some(f64::from(number));
        }
        let (word, length) = self.word()?;
        let (_, number) = NUMBERS.iter().find(|(spelt, _)| *spelt == word)?;
        self.at += length;
        Some(*number)
    }

    /// Whether a mark or a number comes next, or nothing.
    fn ends(&self) -> bool {
        let rest = self.rest().trim_start_matches(is_space);
        let next = rest.chars().next();
        next.is_none_or(|next| {
            next.is_ascii_digit() || matches!(next, ':' | ',' | '-' | '–' | '=' | '|' | '.' | ';')
        })
    }
}
