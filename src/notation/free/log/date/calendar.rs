//! Days on one scale, as the lines of a log are read.

use super::{Stamp, is_day};

/// Which number of `3/4` is the month.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::notation::free) enum Order {
    MonthFirst,
    DayFirst,
    /// Nothing tells.
    Open,
}

/// The days of the months before, in a year of 365 days.
const BEFORE_MONTH: [u32; 12] = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];

/// Which way round the dates of a text are: by one whose day is above 12, else by a text in US measure.
pub(in crate::notation::free) fn order(stamps: &[Stamp], is_us: bool) -> Order {
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
pub(in crate::notation::free) enum Reckoned {
    SincePitching(f64),
    SinceFirst(i64),
}

/// The calendar of a log, as its lines are read.
#[derive(Debug)]
pub(in crate::notation::free) struct Calendar {
    order: Order,
    /// The day of the last line: a count in which a later day is larger.
    now: Option<i64>,
    /// Of the first date, so that days may count from it.
    weekday: Option<u32>,
    /// The year of the last date, and whether it was stated.
    year: Option<i32>,
}

impl Calendar {
    pub(in crate::notation::free) const fn new(order: Order) -> Self {
        Self {
            order,
            now: None,
            weekday: None,
            year: None,
        }
    }

    /// The day of a line.
    pub(in crate::notation::free) fn day(&mut self, stamp: Stamp) -> Option<Reckoned> {
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
