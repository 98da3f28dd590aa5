//! The time of a day, and a clock that runs through it.

use crate::diagnostic::{Error, ErrorKind};
use crate::quantity::{Time, in_minutes};
use serde::{Deserialize, Serialize};
use std::fmt;
use std::str::FromStr;

/// What a sheet shows where no time can be given.
const UNKNOWN: &str = "__:__";
const DAY_MIN: f64 = 1440.0;

/// An hour and a minute of a day, from `0:00` to `23:59`.
///
/// ```
/// use wortwright::sheet::{SheetOptions, TimeOfDay};
///
/// let options = SheetOptions::default().starting("8:30".parse::<TimeOfDay>()?);
/// assert_eq!(options.start.map(|start| start.to_string()), Some("8:30".to_owned()));
/// assert!("25:00".parse::<TimeOfDay>().is_err());
/// # Ok::<(), wortwright::diagnostic::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(with = "String"))]
#[serde(try_from = "String", into = "String")]
pub struct TimeOfDay {
    minutes: u32,
}

impl FromStr for TimeOfDay {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self, Error> {
        let read = || {
            let (hour, minute) = text.split_once(':')?;
            let of = |digits: &str| {
                let all =
                    (1..=2).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit());
                all.then(|| digits.parse::<u32>().ok())?
            };
            let (hour, minute) = (of(hour)?, of(minute)?);
            (hour < 24 && minute < 60).then_some(Self {
                minutes: 60 * hour + minute,
            })
        };
        read().ok_or_else(|| {
            Error::new(
                ErrorKind::NotAQuantity,
                format!("`{text}` is no time of day: write it as `8:30`, from 0:00 to 23:59"),
            )
        })
    }
}

impl TryFrom<String> for TimeOfDay {
    type Error = Error;

    fn try_from(text: String) -> Result<Self, Error> {
        text.parse()
    }
}

impl From<TimeOfDay> for String {
    fn from(time: TimeOfDay) -> Self {
        time.to_string()
    }
}

impl fmt::Display for TimeOfDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{:02}", self.minutes / 60, self.minutes % 60)
    }
}

/// A clock that runs through the day, from the hour at which the brewer begins or from 0:00.
#[derive(Debug, Clone, Copy)]
pub(super) struct Clock {
    /// Minutes since midnight, or since the beginning; absent after a step of unknown length.
    now_min: Option<f64>,
    counts_from_zero: bool,
}

impl Clock {
    pub(super) fn starting(start: Option<TimeOfDay>) -> Self {
        let minutes = start.map_or(0, |start| start.minutes);
        Self {
            now_min: Some(f64::from(minutes)),
            counts_from_zero: start.is_none(),
        }
    }

    /// When the brewer begins to heat.
    pub(super) fn begins(self) -> String {
        if self.counts_from_zero {
            "0:00 = heat on".to_owned()
        } else {
            format!("heating starts at {}", self.shown())
        }
    }

    /// The hour and minute that it shows.
    pub(super) fn shown(self) -> String {
        self.now_min
            .filter(|now| now.is_finite())
            .map_or_else(|| UNKNOWN.to_owned(), face)
    }

    /// The hour and minute that it will show.
    pub(super) fn after(mut self, time: Time) -> String {
        self.pass(time);
        self.shown()
    }

    pub(super) fn pass(&mut self, time: Time) {
        self.pass_minutes(in_minutes(time));
    }

    pub(super) fn pass_minutes(&mut self, minutes: f64) {
        self.now_min = self.now_min.map(|now| now + minutes.max(0.0));
    }

    /// The same clock so many minutes ago, but no sooner than `first`.
    pub(super) fn earlier(mut self, minutes: f64, first: Self) -> Self {
        let ago = self.now_min.zip(first.now_min);
        self.now_min = ago.map(|(now, first)| (now - minutes).max(first));
        self
    }

    /// Whether it shows less than another.
    pub(super) fn is_before(self, other: Self) -> bool {
        let both = self.now_min.zip(other.now_min);
        both.is_some_and(|(now, other)| now < other)
    }

    /// Which day of the brew it is, from 1.
    pub(super) fn day(self) -> Option<u32> {
        let now_min = self.now_min.filter(|now| now.is_finite())?;
        Some((now_min.round() / DAY_MIN).floor() as u32 + 1)
    }

    /// A step of which nobody knows how long it takes.
    pub(super) fn lose(&mut self) {
        self.now_min = None;
    }
}

fn face(now_min: f64) -> String {
    let minutes = now_min.rem_euclid(DAY_MIN).round() as u32 % 1440;
    TimeOfDay { minutes }.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::minutes;

    #[test]
    fn a_clock_runs_from_its_start_and_past_midnight() {
        let mut clock = Clock::starting("22:45".parse().ok());
        assert_eq!(clock.shown(), "22:45");
        clock.pass(minutes(90.0));
        assert_eq!(clock.shown(), "0:15");
        clock.pass_minutes(60.0);
        assert_eq!(clock.shown(), "1:15");
        // What is as warm already takes no time.
        clock.pass_minutes(-60.0);
        assert_eq!(clock.shown(), "1:15");
    }

    #[test]
    fn after_a_step_of_unknown_length_it_shows_a_blank() {
        let mut clock = Clock::starting(None);
        clock.pass_minutes(59.6);
        assert_eq!(clock.shown(), "1:00");
        clock.lose();
        clock.pass_minutes(5.0);
        assert_eq!(clock.shown(), UNKNOWN);
    }
}
