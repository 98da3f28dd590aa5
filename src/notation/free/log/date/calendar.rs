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

/// A log that takes so many times as long one way round is not read that way, if it takes so many days more.
const MUCH_LONGER: i64 = 3;
const MANY_DAYS: i64 = 30;

/// Which way round the dates of a text are: by one whose day is above 12, else by the way in which they follow each other within days
/// and not months (then it is a guess), else by a text in US measure.
pub(in crate::notation::free) fn order(stamps: &[Stamp], is_us: bool) -> (Order, bool) {
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
        (true, false) => return (Order::MonthFirst, false),
        (false, true) => return (Order::DayFirst, false),
        (true, true) => return (Order::Open, false),
        (false, false) if !any => return (Order::MonthFirst, false),
        (false, false) => {}
    }
    let usual = if is_us {
        Order::MonthFirst
    } else {
        Order::Open
    };
    let guess = match (
        takes(stamps, Order::MonthFirst),
        takes(stamps, Order::DayFirst),
    ) {
        (Some(month), Some(day)) if is_much_longer(day, month) => Order::MonthFirst,
        (Some(month), Some(day)) if is_much_longer(month, day) => Order::DayFirst,
        (Some(_), None) => Order::MonthFirst,
        (None, Some(_)) => Order::DayFirst,
        _ => return (usual, false),
    };
    (guess, guess != usual)
}

const fn is_much_longer(long: i64, short: i64) -> bool {
    long >= MUCH_LONGER * short && long - short >= MANY_DAYS
}

/// How many days a log takes whose dates are of that order; nothing where one of them lies before the one above it.
fn takes(stamps: &[Stamp], order: Order) -> Option<i64> {
    let mut calendar = Calendar::new(order);
    let mut ends: Option<(i64, i64)> = None;
    for stamp in stamps {
        let Some(Reckoned::SinceFirst(day)) = calendar.day(*stamp) else {
            continue;
        };
        let (first, last) = ends.unwrap_or((day, day));
        (day >= last).then_some(())?;
        ends = Some((first, day));
    }
    ends.map(|(first, last)| last - first)
}

/// The months as they are written in a date.
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

pub(in crate::notation::free) fn month_name(month: u32) -> &'static str {
    let at = usize::try_from(month).unwrap_or(0);
    at.checked_sub(1)
        .and_then(|at| MONTHS.get(at))
        .copied()
        .unwrap_or("")
}

/// A date so much later in the next year is one that lies before the line above it (common practice, no source).
const LONGEST_WAIT: i64 = 270;

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
    /// The month of the last date.
    month: Option<u32>,
    /// The last day that was counted from the pitching.
    since: f64,
    /// Whether the last date lay before the one above it.
    goes_back: bool,
}

impl Calendar {
    pub(in crate::notation::free) const fn new(order: Order) -> Self {
        Self {
            order,
            now: None,
            weekday: None,
            year: None,
            month: None,
            since: 0.0,
            goes_back: false,
        }
    }

    /// The day of a line.
    pub(in crate::notation::free) fn day(&mut self, stamp: Stamp) -> Option<Reckoned> {
        match stamp {
            Stamp::Day(days) => {
                self.since = days;
                Some(Reckoned::SincePitching(days))
            }
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
            Stamp::After(days) => Some(self.after(days)),
            Stamp::OfMonth(day) => {
                let month = self.month?;
                let found = self.date(None, month, day);
                // The 2nd behind the 28th is of the month after.
                if self.goes_back && month < 12 {
                    return self.date(None, month + 1, day);
                }
                found
            }
            Stamp::Later(days) if self.now.is_none() => Some(self.after(f64::from(days))),
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
        let mut taken = year.or(self.year).unwrap_or(2001);
        let before = self.now;
        // A date earlier than that of the line before is of the next year, if that is near.
        let next = count(taken + 1, month, day);
        if year.is_none()
            && before
                .is_some_and(|now| count(taken, month, day) < now && next - now <= LONGEST_WAIT)
        {
            taken += 1;
        }
        let now = count(taken, month, day);
        self.goes_back = before.is_some_and(|before| now < before);
        if !self.goes_back {
            self.year = Some(taken);
            self.month = Some(month);
            self.now = Some(now);
            self.weekday = None;
        }
        Some(Reckoned::SinceFirst(now))
    }

    /// So long after the line before.
    fn after(&mut self, days: f64) -> Reckoned {
        if let Some(now) = self.now {
            let now = now + days.round() as i64;
            self.now = Some(now);
            return Reckoned::SinceFirst(now);
        }
        self.since += days;
        Reckoned::SincePitching(self.since)
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
