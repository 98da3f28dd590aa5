//! The stamp that a line begins with.

use super::words::{Says, is_weekday_abroad, says};
use super::{Clocks, Stamp, Stamped, is_day};
use crate::notation::cursor::ANY;
use crate::quantity::lexer::{is_space, unit};

/// When a line begins with it.
pub(in crate::notation::free) fn stamp(text: &str, clocks: Clocks) -> Option<Stamped> {
    let mut reader = Reader {
        text,
        at: 0,
        clocks,
    };
    let stamp = reader.stamp()?;
    reader.marks();
    Some(Stamped {
        stamp,
        length: reader.at,
    })
}

/// Whether a line begins with a clock with a dot: `8.25`.
pub(in crate::notation::free) fn is_dotted_clock(text: &str) -> bool {
    let reader = Reader {
        text,
        at: 0,
        clocks: Clocks::Dotted,
    };
    text.starts_with(|first: char| first.is_ascii_digit()) && reader.clock().is_some()
}

pub(super) struct Reader<'t> {
    pub(super) text: &'t str,
    pub(super) at: usize,
    pub(super) clocks: Clocks,
}

impl<'t> Reader<'t> {
    pub(super) fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or("")
    }

    /// The text behind blanks, and how many they are.
    fn next(&self) -> (&'t str, usize) {
        let rest = self.rest();
        let behind = rest.trim_start_matches(is_space);
        (behind, rest.len() - behind.len())
    }

    fn stamp(&mut self) -> Option<Stamp> {
        self.bullet();
        let start = self.at;
        if self.words(&[
            &["brewed", "on"],
            &["brewed"],
            &["filled"],
            &["fill"],
            &["started"],
            &["on"],
        ]) {
            let week = self.weekday(false);
            if week.is_some() {
                self.glue();
            }
            let date = self.date().or(week);
            if date.is_some() {
                self.clock_behind();
            } else {
                self.at = start;
            }
            return date;
        }
        let is_next = self.words(&[
            &["the", "next"],
            &["next"],
            &["following"],
            &["the", "following"],
            &["the"],
        ]);
        if let Some(days) = is_next.then(|| self.later()).flatten() {
            return Some(days);
        }
        let week = self.weekday(is_next);
        if week.is_some() {
            self.glue();
        }
        if let Some(date) = self.date() {
            self.clock_behind();
            return Some(date);
        }
        if let Some(Stamp::Weekday { day, .. }) = week {
            let is_next = is_next || self.words(&[&["after"]]);
            self.clock_behind();
            return Some(Stamp::Weekday { day, is_next });
        }
        if is_next {
            return None;
        }
        let counted = self.day().or_else(|| self.hours());
        if counted.is_some() {
            self.clock_behind();
            return counted;
        }
        let length = self.clock()?;
        self.at += length;
        Some(Stamp::Clock)
    }

    /// `- ` before an entry of a list.
    pub(super) fn bullet(&mut self) {
        let (rest, blanks) = self.next();
        let mark = rest
            .chars()
            .next()
            .filter(|first| matches!(first, '-' | '*' | '•' | '–'));
        if let Some(mark) = mark.filter(|mark| {
            rest.get(mark.len_utf8()..)
                .is_some_and(|behind| behind.starts_with(is_space))
        }) {
            self.at += blanks + mark.len_utf8();
        }
    }

    /// A comma or a full stop behind a word.
    fn glue(&mut self) {
        if self.rest().starts_with([',', '.']) {
            self.at += 1;
        }
    }

    /// `:`, ` - `, `,` behind a stamp.
    pub(super) fn marks(&mut self) {
        loop {
            let (rest, blanks) = self.next();
            let Some(mark) = rest.chars().next() else {
                return;
            };
            let behind = rest.get(mark.len_utf8()..).unwrap_or("");
            let ends = matches!(mark, ':' | ',' | '|' | ';' | '.' | ')')
                && !behind.starts_with(|next: char| next.is_ascii_digit())
                || matches!(mark, '-' | '–' | '—')
                    && (behind.is_empty() || behind.starts_with(is_space));
            if !ends {
                return;
            }
            self.at += blanks + mark.len_utf8();
        }
    }

    /// The word that comes next, in lower case, and how many bytes there are up to its end.
    pub(super) fn word(&self) -> Option<(String, usize)> {
        let (rest, blanks) = self.next();
        let end = rest
            .find(|c: char| !c.is_alphabetic())
            .unwrap_or(rest.len());
        let word = rest.get(..end).filter(|word| !word.is_empty())?;
        Some((word.to_lowercase(), blanks + end))
    }

    /// Passes the first of the phrases that comes next.
    pub(super) fn words(&mut self, phrases: &[&[&str]]) -> bool {
        let start = self.at;
        for phrase in phrases {
            let all = phrase.iter().all(|wanted| match self.word() {
                Some((word, length)) if word == *wanted => {
                    self.at += length;
                    true
                }
                _ => false,
            });
            if all {
                return true;
            }
            self.at = start;
        }
        false
    }

    /// A whole number of at most `digits` digits, and how many bytes there are up to its end.
    pub(super) fn number(&self, digits: usize) -> Option<(u32, usize)> {
        let (rest, blanks) = self.next();
        let end = rest
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(rest.len());
        let number = rest
            .get(..end)
            .filter(|text| (1..=digits).contains(&text.len()))?;
        Some((number.parse().ok()?, blanks + end))
    }

    /// `next morning`, `next day`.
    fn later(&mut self) -> Option<Stamp> {
        let (word, length) = self.word()?;
        let is_day = word == "day" || says(&word) == Some(Says::PartOfDay);
        is_day.then(|| {
            self.at += length;
            Stamp::Later(1)
        })
    }

    fn weekday(&mut self, is_next: bool) -> Option<Stamp> {
        let (word, length) = self.word()?;
        if let Some(Says::Weekday(day)) = says(&word) {
            self.at += length;
            return Some(Stamp::Weekday { day, is_next });
        }
        if is_weekday_abroad(&word) {
            let start = self.at;
            self.at += length;
            self.glue();
            if self.numeric().is_none() {
                self.at = start;
            } else {
                self.at = start + length;
            }
        }
        None
    }

    fn date(&mut self) -> Option<Stamp> {
        let start = self.at;
        let found = self.named().or_else(|| {
            self.at = start;
            let (stamp, length) = self.numeric()?;
            self.at += length;
            Some(stamp)
        });
        if found.is_none() {
            self.at = start;
        }
        found
    }

    /// `14 Jan`, `Jan 14th`, `4 July 2024`
    fn named(&mut self) -> Option<Stamp> {
        let start = self.at;
        let (day, month) = if let Some((day, length)) = self.number(2) {
            self.at += length;
            self.ordinal();
            self.joined();
            let month = self.month()?;
            self.joined();
            (day, month)
        } else {
            let month = self.month()?;
            let Some((day, length)) = self.number(2) else {
                self.at = start;
                return None;
            };
            self.at += length;
            self.ordinal();
            (day, month)
        };
        let ahead = self.at;
        self.glue();
        let is_joined = self
            .text
            .get(..self.at)
            .is_some_and(|text| text.ends_with('-'));
        let year = self.number(4).and_then(|(year, length)| match year {
            1900..2200 => Some((year, length)),
            // `5-Nov-25`
            0..=99 if is_joined => Some((2000 + year, length)),
            _ => None,
        });
        self.at = match year {
            Some((_, length)) => self.at + length,
            None => ahead,
        };
        let year = year.and_then(|(year, _)| i32::try_from(year).ok());
        (1..=31)
            .contains(&day)
            .then_some(Stamp::Date { year, month, day })
    }

    fn ordinal(&mut self) {
        let rest = self.rest();
        let end = ["st", "nd", "rd", "th", "."]
            .iter()
            .find(|end| rest.starts_with(**end));
        if let Some(end) = end {
            self.at += end.len();
        }
        self.words(&[&["of"]]);
    }

    /// The stroke of `5-Nov-25`.
    fn joined(&mut self) {
        let behind = self.rest().strip_prefix('-').unwrap_or("");
        if behind.starts_with(|c: char| c.is_alphanumeric()) {
            self.at += 1;
        }
    }

    fn month(&mut self) -> Option<u32> {
        let (word, length) = self.word()?;
        let Some(Says::Month(month)) = says(&word) else {
            return None;
        };
        self.at += length;
        if self.rest().starts_with('.') {
            self.at += 1;
        }
        Some(month)
    }

    /// `1/14`, `11/4/23`, `12.3.`, `12.03.2024`, `2024-03-12`, with how many bytes there are up to its end.
    fn numeric(&self) -> Option<(Stamp, usize)> {
        let (rest, blanks) = self.next();
        let end = rest
            .find(|c: char| !(c.is_ascii_digit() || matches!(c, '/' | '.' | '-')))
            .unwrap_or(rest.len());
        let text = rest.get(..end)?;
        let behind = rest.get(end..).unwrap_or("");
        let mark = text.chars().find(|c| !c.is_ascii_digit())?;
        // A full stop ends the short form of a day and a month.
        let body = text.trim_end_matches('-');
        let is_short = body.ends_with('.');
        let parts: Vec<&str> = body.trim_end_matches('.').split(mark).collect();
        let numbers: Vec<u32> = parts.iter().map_while(|part| part.parse().ok()).collect();
        if numbers.len() != parts.len()
            || behind.starts_with(|c: char| c.is_alphabetic() || c == '°' || c == '%')
        {
            return None;
        }
        let stamp = match (mark, numbers.as_slice()) {
            ('/', [first, second]) if !says_unit(behind) => Stamp::Slashed {
                first: *first,
                second: *second,
                year: None,
            },
            ('/' | '.', [year, month, day]) if *year > 1900 => Stamp::Date {
                year: i32::try_from(*year).ok(),
                month: *month,
                day: *day,
            },
            ('/', [first, second, year]) => Stamp::Slashed {
                first: *first,
                second: *second,
                year: Some(whole_year(*year)?),
            },
            ('.', [day, month]) if is_short => Stamp::Date {
                year: None,
                month: *month,
                day: *day,
            },
            ('.', [day, month, year]) => Stamp::Date {
                year: Some(whole_year(*year)?),
                month: *month,
                day: *day,
            },
            ('-', [year, month, day]) if *year > 1900 => Stamp::Date {
                year: i32::try_from(*year).ok(),
                month: *month,
                day: *day,
            },
            _ => return None,
        };
        let fits = match stamp {
            Stamp::Slashed { first, second, .. } => is_day(first, second) || is_day(second, first),
            Stamp::Date { month, day, .. } => is_day(day, month),
            _ => false,
        };
        fits.then_some((stamp, blanks + body.len()))
    }

    /// `day 3`, `d3`, `+2 days`
    fn day(&mut self) -> Option<Stamp> {
        let start = self.at;
        let (rest, blanks) = self.next();
        let lower = rest.get(..2).unwrap_or("").to_lowercase();
        if rest.starts_with('+') || matches!(lower.as_str(), "t+" | "d+") {
            self.at += blanks + if rest.starts_with('+') { 1 } else { 2 };
            if let Some((number, length)) = self.number(4) {
                self.at += length;
                let days = f64::from(number);
                if self.words(&[&["hours"], &["hour"], &["hrs"], &["hr"], &["h"]]) {
                    return Some(Stamp::Day(days / 24.0));
                }
                if self.words(&[&["weeks"], &["week"], &["wks"], &["wk"], &["w"]]) {
                    return Some(Stamp::Day(7.0 * days));
                }
                if !says_unit(self.rest()) || number <= 31 && !self.measures_next() {
                    self.words(&[&["days"], &["day"], &["d"]]);
                    return Some(Stamp::Day(days));
                }
            }
        } else if self.words(&[
            &["on", "day"],
            &["day"],
            &["days"],
            &["d"],
            &["tag"],
            &["dag"],
        ]) {
            if self.rest().starts_with(['+', '.']) {
                self.at += 1;
            }
            // `d 3 g/L` is none, and `D 30 L` neither: what a day is told of is no unit.
            if let Some((days, length)) = self.number(3) {
                let behind = self.text.get(self.at + length..).unwrap_or("");
                let is_whole = !behind.starts_with(['.', '/']) || behind.starts_with(". ");
                if is_whole && !says_unit(behind) {
                    self.at += length;
                    return Some(Stamp::Day(f64::from(days)));
                }
            }
        } else if self.words(&[&["brew", "day"], &["brewday"], &["brew", "date"]]) {
            // `Brewday 12 Sept`
            let named = self.at;
            self.glue();
            if self.rest().starts_with(':') {
                self.at += 1;
            }
            let date = self.date();
            if date.is_none() {
                self.at = named;
            }
            return Some(date.unwrap_or(Stamp::Day(0.0)));
        }
        self.at = start;
        None
    }

    /// Whether the number before is an amount: `+10 L second wort`.
    fn measures_next(&self) -> bool {
        let (word, _) = self.word().unwrap_or_default();
        matches!(
            word.as_str(),
            "l" | "litre"
                | "litres"
                | "liter"
                | "liters"
                | "ml"
                | "g"
                | "kg"
                | "gal"
                | "gallon"
                | "gallons"
                | "oz"
                | "lb"
                | "lbs"
                | "pint"
                | "pints"
                | "qt"
                | "hl"
                | "bbl"
                | "cl"
        )
    }

    /// `72 h:`
    fn hours(&mut self) -> Option<Stamp> {
        let start = self.at;
        let (hours, length) = self.number(4)?;
        self.at += length;
        let is_hours = self.words(&[&["h"], &["hr"], &["hrs"], &["hours"], &["hour"]]);
        if is_hours && self.rest().starts_with(':') {
            return Some(Stamp::Day(f64::from(hours) / 24.0));
        }
        self.at = start;
        None
    }

    /// A clock behind a day, and the part of the day.
    fn clock_behind(&mut self) {
        let start = self.at;
        self.glue();
        let part = self
            .word()
            .filter(|(word, _)| says(word) == Some(Says::PartOfDay));
        self.at += part.as_ref().map_or(0, |(_, length)| *length);
        let clock = Reader {
            text: self.text,
            at: self.at,
            clocks: Clocks::Dotted,
        }
        .clock();
        match clock {
            Some(length) => self.at += length,
            None if part.is_none() => self.at = start,
            None => {}
        }
    }

    /// `11:40`, `8.25`, `8am`, `1:30p`, `noon`: how many bytes there are up to its end.
    fn clock(&self) -> Option<usize> {
        if let Some((_, length)) = self
            .word()
            .filter(|(word, _)| matches!(word.as_str(), "noon" | "midnight" | "midday"))
        {
            return Some(length);
        }
        let (hours, length) = self.number(2)?;
        let mut ahead = Reader {
            text: self.text,
            at: self.at + length,
            clocks: self.clocks,
        };
        let mark = ahead.rest().chars().next();
        let is_dotted = mark == Some('.') && self.clocks == Clocks::Dotted;
        let mut has_minutes = false;
        if mark == Some(':') || is_dotted {
            ahead.at += 1;
            let digits = ahead
                .rest()
                .find(|c: char| !c.is_ascii_digit())
                .unwrap_or(ahead.rest().len());
            if digits == 2 {
                let (minutes, length) = ahead.number(2)?;
                has_minutes = minutes < 60;
                ahead.at += length;
            }
            // `1.05` is a gravity.
            if !has_minutes || is_dotted && hours <= 1 {
                return None;
            }
        }
        let half = ahead
            .word()
            .filter(|(word, _)| matches!(word.as_str(), "am" | "pm" | "a" | "p" | "uhr"));
        let half = half.filter(|(word, length)| word.len() > 1 || *length == 1);
        if let Some((_, length)) = half {
            ahead.at += length;
            if hours <= 12 || has_minutes {
                return Some(ahead.at - self.at);
            }
        }
        let behind = ahead.rest();
        let ends = behind.is_empty()
            || behind
                .starts_with(|c: char| is_space(c) || matches!(c, ',' | ':' | ';' | '-' | '.'));
        let is_clock = has_minutes && hours < 24 && ends && !(is_dotted && says_unit(behind));
        is_clock.then_some(ahead.at - self.at)
    }
}

/// Whether a unit comes next, so that the number before is a quantity.
fn says_unit(behind: &str) -> bool {
    let first = |at: usize| {
        behind
            .split(is_space)
            .filter(|word| !word.is_empty())
            .nth(at)
    };
    behind.starts_with('°')
        || unit(
            |at| first(at).map(|word| word.trim_end_matches([',', '.', ';', ':'])),
            ANY,
        )
        .is_some()
}

/// `23` is 2023, in this century.
fn whole_year(year: u32) -> Option<i32> {
    let whole = match year {
        0..=99 => 2000 + year,
        1900..=2199 => year,
        _ => return None,
    };
    i32::try_from(whole).ok()
}
