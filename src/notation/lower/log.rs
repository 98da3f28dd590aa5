//! The `log` block.

use super::item::{Nesting, Stated};
use super::stock::{is_by_volume, is_kept_by_volume};
use super::{Lower, Trace};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::Cursor;
use crate::notation::grammar::{Block, Role, Row, Rule, Table, Takes};
use crate::notation::timing::{Keyword, keyword};
use crate::notation::tree::{Line, Token};
use crate::quantity::{Dimension, Extract, Temperature, Time, Written};
use crate::recipe::{
    Added, Amount, At, Content, Drawn, Ingredient, Instrument, Log, LogEntry, LogEvent, LogReading,
    Pitched, WortReading,
};

/// Reads an entry whose word is passed over.
type EntryReader = fn(&mut Lower<'_>, &Line<'_>, Cursor<'_, '_>) -> Option<LogEntry>;

const VOLUME: Takes = Takes::Figure(Role::new("volume", &[Dimension::Volume]));
const GRAVITY: Role = Role::new("gravity", &[Dimension::Gravity, Dimension::Ratio]);
const TEMPERATURE: Takes = Takes::Figure(
    Role::new("temperature", &[Dimension::Temperature])
        .after(&["at"])
        .optional(),
);
// Days are counted and have no unit.
const DAY: Takes = Takes::Figure(
    Role::new("day after pitching", &[])
        .after(&["on day"])
        .optional(),
);

/// A volume, a gravity, or both, each with its temperature behind it.
const WORT: &[Takes] = &[
    Takes::Figure(Role::new("volume", &[Dimension::Volume]).optional()),
    TEMPERATURE,
    Takes::Figure(GRAVITY.after(&["at"]).optional()),
    TEMPERATURE,
    Takes::MaybeWords(Block::Instrument),
    DAY,
];

const fn entry(
    words: &'static [&'static str],
    field: &'static str,
    takes: &'static [Takes],
    example: &'static str,
    bent: &'static [&'static str],
) -> Row {
    Row::new(Block::Log, words, field)
        .takes(takes)
        .example(Block::Log, example, bent)
}

/// Lines of a log.
pub(super) static LOG: Table<EntryReader> = Table(&[
    Rule {
        row: entry(
            &["mash pH"],
            "logs[*].entries[#]",
            &[Takes::Figure(Role::new("pH", &[Dimension::Ph])), DAY],
            "mash pH 5.42",
            &["mash pH 5.3", "mash pH 5.6 on day 0"],
        ),
        read: |lower, _, cursor| lower.mash_ph(cursor),
    },
    Rule {
        row: entry(
            &["first wort"],
            "logs[*].entries[#]",
            WORT,
            "first wort 7 L at 16 P",
            &[
                "first wort 7.4 L at 16 P",
                "first wort 7 L at 17 P",
                "first wort 7 L at 60 C, 16 P",
            ],
        ),
        read: |lower, _, cursor| lower.wort("first wort", cursor, LogEvent::FirstWort),
    },
    Rule {
        row: entry(
            &["before boil"],
            "logs[*].entries[#]",
            WORT,
            "before boil 12.6 L at 98 C, 10.6 P",
            &[
                "before boil 12.9 L at 98 C, 10.6 P",
                "before boil 12.6 L at 98 C, 10.9 P at 22 C",
                "before boil 12.6 L at 60 C, 10.6 P",
                "before boil 12.6 L",
            ],
        ),
        read: |lower, _, cursor| lower.wort("before boil", cursor, LogEvent::BeforeBoil),
    },
    Rule {
        row: entry(
            &["after boil"],
            "logs[*].entries[#]",
            WORT,
            "after boil 9.9 L at 13.1 P",
            &[
                "after boil 9.5 L at 13.1 P",
                "after boil 10.2 L at 95 C, 13.1 P",
                "after boil 14 Bx by refractometer",
            ],
        ),
        read: |lower, _, cursor| lower.wort("after boil", cursor, LogEvent::AfterBoil),
    },
    Rule {
        row: entry(
            &["pitched", "into fermenter"],
            "logs[*].entries[#]",
            &[
                VOLUME,
                Takes::Figure(GRAVITY.after(&["at"])),
                TEMPERATURE,
                Takes::MaybeWords(Block::Instrument),
                DAY,
            ],
            "pitched 8 L at 12 P on day 0",
            &[
                "pitched 9 L at 12 P on day 0",
                "pitched 8 L at 1.050 at 20 C",
            ],
        ),
        read: |lower, line, cursor| lower.pitched(line, cursor),
    },
    Rule {
        row: entry(
            &["reading"],
            "logs[*].entries[#]",
            &[
                Takes::Figure(GRAVITY),
                TEMPERATURE,
                Takes::MaybeWords(Block::Instrument),
                DAY,
            ],
            "reading 1.020 at 20 C on day 3",
            &[
                "reading 1.012 at 20 C on day 3",
                "reading 5 P at 20 C on day 4",
            ],
        ),
        read: |lower, _, cursor| lower.reading(cursor),
    },
    Rule {
        row: entry(
            &["drawn"],
            "logs[*].entries[#]",
            &[VOLUME, DAY],
            "drawn 100 mL on day 3",
            &["drawn 120 mL on day 3", "drawn 100 mL on day 4"],
        ),
        read: |lower, line, cursor| lower.drawn(line, cursor),
    },
    Rule {
        row: entry(
            &["added"],
            "logs[*].entries[#]",
            &[Takes::Item],
            "added 1 L plum juice on day 3",
            &[
                "added 2 L plum juice on day 3",
                "added 1 L apple juice on day 3",
            ],
        ),
        read: |lower, line, cursor| lower.added(line, cursor),
    },
]);

const fn read_by(
    words: &'static [&'static str],
    example: &'static str,
    bent: &'static [&'static str],
) -> Row {
    Row::new(
        Block::Instrument,
        words,
        "logs[*].entries[#].what.reading.instrument",
    )
    .example(Block::Log, example, bent)
}

/// What a gravity is read by.
pub(super) static INSTRUMENTS: Table<Instrument> = Table(&[
    Rule {
        row: read_by(
            &["by hydrometer"],
            "reading 6 Bx by hydrometer on day 3",
            &["reading 6 Bx by refractometer on day 3"],
        ),
        read: Instrument::Hydrometer,
    },
    Rule {
        row: read_by(
            &["by refractometer"],
            "reading 6 Bx by refractometer on day 3",
            &["reading 6 Bx by hydrometer on day 3"],
        ),
        read: Instrument::Refractometer,
    },
]);

/// What may stand behind a volume or a reading, in any order.
#[derive(Debug, Default)]
struct Details {
    shown: Option<Written<Extract>>,
    temperature: Option<Written<Temperature>>,
    instrument: Option<Instrument>,
    day: Option<Written<Time>>,
}

impl Details {
    fn is_of_a_reading(&self) -> bool {
        self.shown.is_some() || self.temperature.is_some() || self.instrument.is_some()
    }
}

impl Lower<'_> {
    pub(super) fn log_block(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        let span = line.span();
        let name = cursor.text();
        if let Some(first) = self.logged.get(&name.to_lowercase()).copied() {
            let found = if name.is_empty() {
                "expected a name for each of several logs, found a second one without".to_owned()
            } else {
                format!("expected one log of this name, found `{name}` again")
            };
            self.push(
                Diagnostic::error(Code::DuplicateLog, span, found)
                    .with_label(first, "first given here")
                    .with_help("write a name after `log`, such as `log second brew`"),
            );
        }
        self.logged.entry(name.to_lowercase()).or_insert(span);
        self.states(span, |trace| trace.log(&name));
        self.expect_lines(line, "log", "reading 1.050 at 20 C on day 0");
        let mut log = Log {
            name: (!name.is_empty()).then_some(name),
            ..Log::default()
        };
        for child in line.lines() {
            self.expect_no_lines(child);
            self.next_item("what.added.ingredient", Trace::entry);
            self.item_states(child.span(), "");
            log.entries.extend(self.log_line(child));
        }
        self.logs.push(log);
    }

    fn log_line(&mut self, line: &Line<'_>) -> Option<LogEntry> {
        let mut cursor = Cursor::new(line.tokens(), line.span());
        if let Some((rule, word)) = LOG.opening(line.tokens()) {
            cursor.pass(word);
            return (rule.read)(self, line, cursor);
        }
        let first = cursor.bump()?;
        let help = match self.near(first.text(), LOG.words()).first() {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("begin the line with one of: {}", LOG.listed()),
        };
        let message = format!(
            "expected a line of a log, such as `reading` or `added`, found `{}`",
            first.text()
        );
        self.push(Diagnostic::error(Code::UnknownKeyword, first.span(), message).with_help(help));
        None
    }

    fn pitched(&mut self, line: &Line<'_>, mut cursor: Cursor<'_, '_>) -> Option<LogEntry> {
        let volume = self.read(&mut cursor, "after `pitched`")?;
        let details = self.details(cursor, Details::default())?;
        let Some(shown) = details.shown else {
            let message = "expected the gravity of the wort that was pitched";
            self.push(
                Diagnostic::error(Code::MissingQuantity, line.span(), message).with_help(
                    "write it after the volume, such as `pitched 20 L at 12 P on day 0`",
                ),
            );
            return None;
        };
        let mut pitched = Pitched::new(volume, shown);
        pitched.instrument = details.instrument.unwrap_or_default();
        pitched.temperature = details.temperature;
        Some(LogEntry {
            day: details.day,
            what: LogEvent::Pitched(pitched),
        })
    }

    fn mash_ph(&mut self, mut cursor: Cursor<'_, '_>) -> Option<LogEntry> {
        let ph = self.ph(&mut cursor)?;
        let start = cursor.here();
        let details = self.details(cursor, Details::default())?;
        if details.is_of_a_reading() {
            let message = "expected only a day after a `mash pH`";
            self.push(
                Diagnostic::error(Code::UnexpectedWords, start, message)
                    .with_help("write the pH of a sample cooled to room temperature"),
            );
        }
        Some(LogEntry {
            day: details.day,
            what: LogEvent::MashPh(ph),
        })
    }

    /// `12.6 L at 98 C, 10.6 P at 22 C by hydrometer`: a temperature is that of the figure before it.
    fn wort(
        &mut self,
        word: &str,
        mut cursor: Cursor<'_, '_>,
        what: fn(WortReading) -> LogEvent,
    ) -> Option<LogEntry> {
        let start = cursor.here();
        let place = format!("after `{word}`");
        let mut wort = WortReading::default();
        let mut ahead = cursor;
        if let Some(mass) = ahead.measure(&[Dimension::Mass]) {
            let message = format!("expected litres {place}, found a mass");
            self.push(
                Diagnostic::error(Code::WrongUnit, mass.span, message).with_help(format!(
                    "write the volume, such as `{word} 12 L at 12 P`: kilograms over the gravity, 12.6 kg at 1.050 are 12 L"
                )),
            );
            return None;
        }
        if ahead.measure(&[Dimension::Volume]).is_some() {
            wort.volume = Some(self.read(&mut cursor, place.as_str())?);
            let mut ahead = cursor;
            if ahead.eat(&["at"]) && ahead.measure(&[Dimension::Temperature]).is_some() {
                cursor.skip(1);
                wort.volume_at = Some(self.read(&mut cursor, "after `at`")?);
            }
            if cursor.peek().is_some_and(Token::is_comma) {
                cursor.skip(1);
            }
        }
        let mut details = Details::default();
        let is_gravity = |cursor: Cursor<'_, '_>| cursor.number().is_some();
        if is_gravity(cursor) || wort.volume.is_none() {
            details.shown = Some(self.gravity(&mut cursor, place.as_str())?);
        }
        let details = self.details(cursor, details)?;
        if details.shown.is_none() && details.is_of_a_reading() {
            let message = format!("expected a gravity {place}, found none");
            self.push(
                Diagnostic::error(Code::MissingQuantity, start, message).with_help(format!(
                    "write it after the volume, such as `{word} 12 L at 12 P`"
                )),
            );
        }
        wort.shown = details.shown;
        wort.instrument = details.instrument.unwrap_or_default();
        wort.temperature = details.temperature;
        Some(LogEntry {
            day: details.day,
            what: what(wort),
        })
    }

    fn reading(&mut self, mut cursor: Cursor<'_, '_>) -> Option<LogEntry> {
        let shown = self.gravity(&mut cursor, "after `reading`")?;
        let details = Details {
            shown: Some(shown),
            ..Details::default()
        };
        let details = self.details(cursor, details)?;
        let mut reading = LogReading::new(shown);
        reading.instrument = details.instrument.unwrap_or_default();
        reading.temperature = details.temperature;
        Some(LogEntry {
            day: details.day,
            what: LogEvent::Reading(reading),
        })
    }

    fn drawn(&mut self, line: &Line<'_>, mut cursor: Cursor<'_, '_>) -> Option<LogEntry> {
        let volume = self.read(&mut cursor, "after `drawn`")?;
        let details = self.details(cursor, Details::default())?;
        if details.is_of_a_reading() {
            let message = "expected only a volume and a day after `drawn`";
            self.push(
                Diagnostic::error(Code::UnexpectedWords, line.span(), message).with_help(
                    "write the reading on a line of its own, such as `reading 1.020 at 20 C`",
                ),
            );
        }
        Some(LogEntry {
            day: details.day,
            what: LogEvent::Drawn(Drawn::new(volume)),
        })
    }

    /// `at 15.7 P by hydrometer at 20 C on day 0`
    fn details(&mut self, mut cursor: Cursor<'_, '_>, mut details: Details) -> Option<Details> {
        loop {
            let start = cursor.here();
            if let Some((Keyword::OnDay, length)) = keyword(cursor.rest()) {
                cursor.skip(length);
                let day = self.day(&mut cursor)?;
                self.set(&mut details.day, day, "on day", start);
            } else if let Some((rule, words)) = INSTRUMENTS.opening(cursor.rest()) {
                cursor.pass(words);
                let instrument = rule.read;
                if details.instrument.is_some_and(|first| first != instrument) {
                    self.two_instruments(start);
                }
                details.instrument.get_or_insert(instrument);
            } else if cursor.eat(&["at"]) {
                let mut ahead = cursor;
                if details.shown.is_none() && ahead.measure(&[Dimension::Temperature]).is_none() {
                    details.shown = Some(self.gravity(&mut cursor, "after `at`")?);
                } else {
                    let at = self.read(&mut cursor, "after `at`")?;
                    self.set(&mut details.temperature, at, "at", start);
                }
            } else {
                self.expect_end(cursor);
                return Some(details);
            }
        }
    }

    fn two_instruments(&mut self, span: Span) {
        self.push(
            Diagnostic::error(
                Code::ConflictingFacts,
                span,
                "expected one instrument, found another one that differs",
            )
            .with_help("give each instrument a `reading` line of its own"),
        );
    }

    fn added(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) -> Option<LogEntry> {
        let item = self.item(line, cursor.rest(), Block::Log, Nesting::Alone)?;
        let Content::Single(ingredient) = item.addition.content else {
            return None;
        };
        let Stated::Amount(amount, at) = item.stated else {
            return None;
        };
        if !self.goes_in(&ingredient, &amount, at) {
            return None;
        }
        let timing = item.addition.timing;
        if timing.contact.is_some() {
            let message = "expected only a day: a log does not use contact times";
            self.push(
                Diagnostic::warning(Code::WrongTiming, line.span(), message)
                    .with_help("delete `for` and the time, or put `#` before them"),
            );
        }
        let day = match timing.at {
            Some(At::AfterPitching(day)) => Some(day),
            _ => None,
        };
        let what = LogEvent::Added(Added::new(amount, ingredient));
        Some(LogEntry { day, what })
    }

    /// Whether the ingredient is measured in such a unit: as in a stock, or as a dose of what the vessel holds. A ledger
    /// balances masses, and packs do not say theirs.
    fn goes_in(&mut self, ingredient: &Ingredient, amount: &Amount, span: Span) -> bool {
        let name = &ingredient.name;
        if let Amount::PackCount(_) = amount {
            let message =
                format!("expected a mass or a volume of `{name}`, found a number of packs");
            self.push(
                Diagnostic::error(Code::WrongUnit, span, message).with_help(format!(
                    "write the size of the packs, such as `2 x 11 g {name}`"
                )),
            );
            return false;
        }
        if !is_by_volume(amount) || is_kept_by_volume(ingredient.kind) {
            return true;
        }
        let message = format!("expected a mass or a dose by mass of `{name}`, found a volume");
        self.push(
            Diagnostic::error(Code::WrongUnit, span, message).with_help(format!(
                "write its mass or dose, such as `50 g {name}` or `3 g/L {name}`"
            )),
        );
        false
    }
}
