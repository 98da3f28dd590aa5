//! When a line of a log was written: a date, a day, a clock, and how they count from the pitching.

use crate::notation::cursor::ANY;
use crate::quantity::lexer::{is_space, unit};

/// When, as a line begins with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Stamp {
    /// Days since pitching: `day 3`, `d3`, `+2 days`, `72 h`.
    Day(f64),
    /// A date whose month is named or stands in its known place.
    Date {
        year: Option<i32>,
        month: u32,
        day: u32,
    },
    /// Two numbers, either of which may be the month.
    Slashed {
        first: u32,
        second: u32,
        year: Option<i32>,
    },
    /// A day of the week from Monday on; `next` is the one after another of its name.
    Weekday { day: u32, is_next: bool },
    /// Days after the line before.
    Later(u32),
    /// Only the time of day.
    Clock,
}

/// A stamp, and how many bytes of the line it takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stamped {
    pub(super) stamp: Stamp,
    pub(super) length: usize,
}

/// Which number of `3/4` is the month.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Order {
    MonthFirst,
    DayFirst,
    /// Nothing tells.
    Open,
}

/// What clocks look like that a text begins its lines with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Clocks {
    Colon,
    /// `8.25` too.
    Dotted,
}

const MONTHS: &[(&str, u32)] = &[
    ("jan", 1),
    ("january", 1),
    ("januar", 1),
    ("feb", 2),
    ("february", 2),
    ("februar", 2),
    ("mar", 3),
    ("march", 3),
    ("märz", 3),
    ("mrt", 3),
    ("maart", 3),
    ("apr", 4),
    ("april", 4),
    ("may", 5),
    ("mai", 5),
    ("mei", 5),
    ("jun", 6),
    ("june", 6),
    ("juni", 6),
    ("jul", 7),
    ("july", 7),
    ("juli", 7),
    ("aug", 8),
    ("august", 8),
    ("augustus", 8),
    ("sep", 9),
    ("sept", 9),
    ("september", 9),
    ("oct", 10),
    ("october", 10),
    ("okt", 10),
    ("oktober", 10),
    ("nov", 11),
    ("november", 11),
    ("dec", 12),
    ("december", 12),
    ("dez", 12),
    ("dezember", 12),
];

const WEEKDAYS: &[(&str, u32)] = &[
    ("mon", 0),
    ("monday", 0),
    ("tue", 1),
    ("tues", 1),
    ("tuesday", 1),
    ("wed", 2),
    ("weds", 2),
    ("wednesday", 2),
    ("thu", 3),
    ("thur", 3),
    ("thurs", 3),
    ("thursday", 3),
    ("fri", 4),
    ("friday", 4),
    ("sat", 5),
    ("saturday", 5),
    ("sun", 6),
    ("sunday", 6),
];

/// Days of the week of neighbours, read before a date only: `do` and `so` are English words.
const WEEKDAYS_ABROAD: &[&str] = &[
    "ma", "di", "wo", "do", "vr", "za", "zo", "mo", "mi", "fr", "sa", "so", "lun", "mar", "mer",
    "jeu", "ven", "sam", "dim", "po", "út", "st", "čt", "pá", "ne",
];

const PARTS_OF_DAY: &[&str] = &[
    "morning",
    "noon",
    "afternoon",
    "evening",
    "night",
    "midnight",
    "midday",
    "lunchtime",
];

/// The days of the months before, in a year of 365 days.
const BEFORE_MONTH: [u32; 12] = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];

/// When a line begins with it.
pub(super) fn stamp(text: &str, clocks: Clocks) -> Option<Stamped> {
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
pub(super) fn is_dotted_clock(text: &str) -> bool {
    let reader = Reader {
        text,
        at: 0,
        clocks: Clocks::Dotted,
    };
    text.starts_with(|first: char| first.is_ascii_digit()) && reader.clock().is_some()
}

struct Reader<'t> {
    text: &'t str,
    at: usize,
    clocks: Clocks,
}

impl<'t> Reader<'t> {
    fn rest(&self) -> &'t str {
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
    fn bullet(&mut self) {
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
    fn marks(&mut self) {
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
    fn word(&self) -> Option<(String, usize)> {
        let (rest, blanks) = self.next();
        let end = rest
            .find(|c: char| !c.is_alphabetic())
            .unwrap_or(rest.len());
        let word = rest.get(..end).filter(|word| !word.is_empty())?;
        Some((word.to_lowercase(), blanks + end))
    }

    /// Passes the first of the phrases that comes next.
    fn words(&mut self, phrases: &[&[&str]]) -> bool {
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
    fn number(&self, digits: usize) -> Option<(u32, usize)> {
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
        let is_day = word == "day" || PARTS_OF_DAY.contains(&word.as_str());
        is_day.then(|| {
            self.at += length;
            Stamp::Later(1)
        })
    }

    fn weekday(&mut self, is_next: bool) -> Option<Stamp> {
        let (word, length) = self.word()?;
        if let Some((_, day)) = WEEKDAYS.iter().find(|(name, _)| *name == word) {
            self.at += length;
            return Some(Stamp::Weekday { day: *day, is_next });
        }
        if WEEKDAYS_ABROAD.contains(&word.as_str()) {
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
            (day, self.month()?)
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
        let year = self
            .number(4)
            .filter(|(year, _)| (1900..2200).contains(year));
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

    fn month(&mut self) -> Option<u32> {
        let (word, length) = self.word()?;
        let (_, month) = MONTHS.iter().find(|(name, _)| *name == word)?;
        self.at += length;
        if self.rest().starts_with('.') {
            self.at += 1;
        }
        Some(*month)
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
        if rest.starts_with('+') {
            self.at += blanks + 1;
            if let Some((days, length)) = self.number(3) {
                self.at += length;
                self.words(&[&["days"], &["day"], &["d"]]);
                return Some(Stamp::Day(f64::from(days)));
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
            return Some(Stamp::Day(0.0));
        }
        self.at = start;
        None
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
            .filter(|(word, _)| PARTS_OF_DAY.contains(&word.as_str()));
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

/// Whether there is such a day, of a leap year too.
fn is_day(day: u32, month: u32) -> bool {
    let last = match month {
        2 => 29,
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => return false,
    };
    (1..=last).contains(&day)
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

/// Which way round the dates of a text are: by one whose day is above 12, else by a text in US measure.
pub(super) fn order(stamps: &[Stamp], is_us: bool) -> Order {
    let (mut month_first, mut day_first) = (false, false);
    let mut any = false;
    for stamp in stamps {
        if let Stamp::Slashed { first, second, .. } = stamp {
            any |= first != second;
            month_first |= !is_day(*first, *second);
            day_first |= !is_day(*second, *first);
        }
    }
    match (month_first, day_first) {
        (true, false) => Order::MonthFirst,
        (false, true) => Order::DayFirst,
        (false, false) if is_us || !any => Order::MonthFirst,
        _ => Order::Open,
    }
}

/// Days on one scale: those since the first date of a text, or stated since the pitching.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Reckoned {
    SincePitching(f64),
    SinceFirst(i64),
}

/// The calendar of a log, as its lines are read.
#[derive(Debug)]
pub(super) struct Calendar {
    order: Order,
    /// The day of the last line: a count in which a later day is larger.
    now: Option<i64>,
    /// Of the first date, so that days may count from it.
    weekday: Option<u32>,
    /// The year of the last date, and whether it was stated.
    year: Option<i32>,
}

impl Calendar {
    pub(super) const fn new(order: Order) -> Self {
        Self {
            order,
            now: None,
            weekday: None,
            year: None,
        }
    }

    /// The day of a line.
    pub(super) fn day(&mut self, stamp: Stamp) -> Option<Reckoned> {
        match stamp {
            Stamp::Day(days) => Some(Reckoned::SincePitching(days)),
            Stamp::Date { year, month, day } => self.date(year, month, day),
            Stamp::Slashed {
                first,
                second,
                year,
            } => match self.order {
                Order::MonthFirst => self.date(year, first, second),
                Order::DayFirst => self.date(year, second, first),
                Order::Open => None,
            },
            // Which day of the week a date was is not known.
            Stamp::Weekday { .. } if self.now.is_some() && self.weekday.is_none() => None,
            Stamp::Weekday { day, is_next } => Some(self.weekday(day, is_next)),
            Stamp::Later(days) => {
                let now = self.now? + i64::from(days);
                self.weekday = self.weekday.map(|weekday| (weekday + days) % 7);
                self.now = Some(now);
                Some(Reckoned::SinceFirst(now))
            }
            Stamp::Clock => self.now.map(Reckoned::SinceFirst),
        }
    }

    fn date(&mut self, year: Option<i32>, month: u32, day: u32) -> Option<Reckoned> {
        if !is_day(day, month) {
            return None;
        }
        // A date earlier than that of the line before is of the next year.
        let mut taken = year.or(self.year).unwrap_or(2001);
        if year.is_none() && self.now.is_some_and(|now| count(taken, month, day) < now) {
            taken += 1;
        }
        self.year = Some(taken);
        let now = count(taken, month, day);
        self.now = Some(now);
        self.weekday = None;
        Some(Reckoned::SinceFirst(now))
    }

    fn weekday(&mut self, day: u32, is_next: bool) -> Reckoned {
        let now = self.now.unwrap_or(0);
        let ahead = self.weekday.map_or(0, |before| (day + 7 - before) % 7);
        let ahead = if ahead == 0 && is_next { 7 } else { ahead };
        self.weekday = Some(day);
        let now = now + i64::from(ahead);
        self.now = Some(now);
        Reckoned::SinceFirst(now)
    }
}

/// Days since the start of the year 0, which no log counts over.
fn count(year: i32, month: u32, day: u32) -> i64 {
    let is_leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let before = year - 1;
    let leaps = before / 4 - before / 100 + before / 400;
    let months = usize::try_from(month)
        .ok()
        .and_then(|month| BEFORE_MONTH.get(month.checked_sub(1)?));
    let leap_day = i64::from(is_leap && month > 2);
    i64::from(before) * 365
        + i64::from(leaps)
        + i64::from(*months.unwrap_or(&0))
        + leap_day
        + i64::from(day)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stamp_of(text: &str) -> Option<Stamp> {
        stamp(text, Clocks::Colon).map(|stamped| stamped.stamp)
    }

    fn days(lines: &[&str], is_us: bool) -> Vec<Option<Reckoned>> {
        let stamps: Vec<Stamp> = lines.iter().filter_map(|line| stamp_of(line)).collect();
        assert_eq!(stamps.len(), lines.len(), "{lines:?}");
        let mut calendar = Calendar::new(order(&stamps, is_us));
        stamps
            .into_iter()
            .map(|stamp| calendar.day(stamp))
            .collect()
    }

    /// Days from the first line on.
    fn ahead(lines: &[&str], is_us: bool) -> Vec<i64> {
        let found: Vec<i64> = days(lines, is_us)
            .into_iter()
            .filter_map(|day| match day {
                Some(Reckoned::SinceFirst(day)) => Some(day),
                _ => None,
            })
            .collect();
        assert_eq!(found.len(), lines.len(), "{lines:?}");
        found
            .iter()
            .map(|day| day - found.first().expect("there are lines"))
            .collect()
    }

    #[test]
    fn days_are_counted_as_they_are_typed() {
        for (text, wanted) in [
            ("day 3 - 1.021", 3.0),
            ("Day 12: 6.6 P", 12.0),
            ("d0 1.057 @ 20C", 0.0),
            ("+2 days all going", 2.0),
            ("+6 C roused", 6.0),
            ("72 h: 10.2 P", 3.0),
            ("- day 5 1.012", 5.0),
        ] {
            assert_eq!(stamp_of(text), Some(Stamp::Day(wanted)), "{text}");
        }
    }

    #[test]
    fn dates_are_told_from_amounts() {
        let dated = |text| {
            matches!(
                stamp_of(text),
                Some(Stamp::Slashed { .. } | Stamp::Date { .. })
            )
        };
        for text in [
            "1/14 8.0 P",
            "14 Jan 1.034",
            "Jan 14th: 1.034",
            "12.3. 11.9 P",
            "2024-03-12 1.020",
            "za 4/10: SG 1.050",
            "Filled 28 Nov, 230 L",
            "Mon 4 Sept KO 19 C",
        ] {
            assert!(dated(text), "{text}");
        }
        for text in [
            "1/2 tsp nutrient",
            "1.012 68F",
            "12.9 P",
            "31/31 odd",
            "5 gal in",
            "do 2 more",
            "may add hops",
            "d 3 g/L citra",
            "14 ml lactic",
        ] {
            assert_eq!(stamp_of(text), None, "{text}");
        }
    }

    #[test]
    fn clocks_are_told_from_gravities() {
        assert_eq!(stamp_of("11:40 boil"), Some(Stamp::Clock));
        assert_eq!(stamp_of("8am 95F"), Some(Stamp::Clock));
        assert_eq!(stamp_of("8.25 mash 66.5C"), None);
        assert!(is_dotted_clock("8.25 mash 66.5C") && is_dotted_clock("14.00 5 gal in FV"));
        for text in ["1.05", "1.010 at 20 C", "9.50 P", "25.10 mash", "8.75 mash"] {
            assert!(!is_dotted_clock(text), "{text}");
        }
    }

    #[test]
    fn one_day_above_twelve_says_which_way_round_all_are() {
        assert_eq!(ahead(&["4/10", "5/10", "13/10"], false), [0, 1, 9]);
        // US measure decides where none is.
        assert_eq!(ahead(&["3/2", "3/6", "3/10"], true), [0, 4, 8]);
        assert_eq!(days(&["3/2", "3/6", "3/10"], false), [None, None, None]);
        // Two that contradict each other leave it open.
        assert_eq!(days(&["14/3", "3/14"], true), [None, None]);
    }

    #[test]
    fn a_year_ends_between_two_dates() {
        // 28 November to 1 December: 3 days; to 15 January: 48; to 10 April of a year of 365 days: 133.
        assert_eq!(
            ahead(&["28 Nov", "1 Dec", "15 Jan", "10 Apr"], false),
            [0, 3, 48, 133]
        );
        // 2024 is a leap year: 4 November 2023 to 30 March 2024 is 26 + 31 + 31 + 29 + 30 days.
        assert_eq!(ahead(&["11/4/23", "3/30/24"], true), [0, 147]);
    }

    #[test]
    fn days_of_the_week_go_on_from_one_another() {
        assert_eq!(
            ahead(&["Sat", "Sun", "Mon", "Wed", "Fri"], false),
            [0, 1, 2, 4, 6]
        );
        assert_eq!(
            ahead(&["Sun", "Thu", "Mon", "following Mon", "Mon after"], false),
            [0, 4, 8, 15, 22]
        );
        assert_eq!(ahead(&["Fri", "The next Wednesday"], false), [0, 5]);
    }
}
