//! When a line of a log was written: a date, a day, a clock, and how they count from the pitching.

mod calendar;
mod reader;
mod spell;
#[cfg(test)]
mod tests;
mod words;

pub(super) use calendar::{Calendar, Order, Reckoned, month_name, order};
pub(in crate::notation::free) use reader::{is_dotted_clock, stamp};
pub(in crate::notation::free) use spell::stamp_of_log;

/// When, as a line begins with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::notation::free) enum Stamp {
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
    /// The same, as a log counts them: `3 days later`, `24 h later`.
    After(f64),
    /// A day of the month of the date before it, or of the next: `9th`.
    OfMonth(u32),
    /// Only the time of day.
    Clock,
}

/// A stamp, and how many bytes of the line it takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::notation::free) struct Stamped {
    pub(in crate::notation::free) stamp: Stamp,
    pub(in crate::notation::free) length: usize,
}

/// What clocks look like that a text begins its lines with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::notation::free) enum Clocks {
    Colon,
    /// `8.25` too.
    Dotted,
}

/// Whether there is such a day, of a leap year too.
pub(super) fn is_day(day: u32, month: u32) -> bool {
    let last = match month {
        2 => 29,
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => return false,
    };
    (1..=last).contains(&day)
}
