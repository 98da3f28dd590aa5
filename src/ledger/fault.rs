//! What makes a log impossible, and where.

use crate::diagnostic::{Error, ErrorKind, Place, Severity, Span, Text, codes};
use crate::quantity::Extract;
use crate::speech::{Speaks, Style, shortest};
use std::sync::Arc;

/// A log that no fermentation can have given. No figure is worked out from it; a host is told by an [`Error`].
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LogFault {
    /// Which of the log's entries is at fault, counted from 0.
    pub(crate) entry: usize,
    /// The same as an input.
    place: Option<Box<Place>>,
    /// What is wrong with it.
    fault: Fault,
}

/// What is wrong with a line of a log.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Fault {
    /// The log does not begin with what was pitched: put that line first.
    NothingPitched,
    /// A second wort is pitched: write the volume and gravity of both together.
    PitchedTwice,
    /// More extract is pitched than there was after the boil: one of the readings is wrong, or an addition to the fermenter is missing.
    MoreThanBoiled {
        /// Kilograms of extract pitched.
        pitched_kg: f64,
        /// Kilograms of extract after the boil.
        boiled_kg: f64,
    },
    /// A day lies before that of an earlier line: mend the day or the order.
    DaysOutOfOrder {
        /// The day of this line.
        day: f64,
        /// The latest day before it.
        after: f64,
    },
    /// The reading shows more than everything that has gone in: an addition is missing, or the reading is wrong.
    GravityRises {
        /// What was read, corrected.
        read: Extract,
        /// What could be shown at the most.
        most: Extract,
    },
    /// The reading lies below what is shown when all extract has become alcohol.
    BelowFullyFermented {
        /// What was read, corrected.
        read: Extract,
        /// What could be shown at the least.
        least: Extract,
    },
    /// More is drawn than the vessel holds.
    DrawnMoreThanThere {
        /// Litres drawn.
        drawn_l: f64,
        /// Litres there.
        held_l: f64,
    },
    /// Beer is drawn before it was measured, so that nobody knows what went: put a reading before it, or the day of pitching if
    /// it was wort.
    DrawnBeforeReading,
    /// An amount that says nothing about this beer, such as a share of the grist: write a mass or a volume.
    AmountUnclear {
        /// The ingredient.
        name: String,
    },
    /// Grain does not dissolve in beer.
    NeedsMash {
        /// The ingredient.
        name: String,
    },
    /// Nobody knows what an addition brings, and there is too much of it to leave it out.
    BringsUnknown {
        /// The ingredient.
        name: String,
        /// What its line may say.
        help: String,
    },
    /// A figure is missing or lies outside what the models know.
    Figure {
        /// What is wrong.
        message: String,
        /// What to do.
        help: Option<String>,
    },
}

codes! {
    Fault {
        NothingPitched = "nothing_pitched",
        PitchedTwice = "pitched_twice",
        MoreThanBoiled = "more_than_boiled",
        DaysOutOfOrder = "days_out_of_order",
        GravityRises = "gravity_rises",
        BelowFullyFermented = "below_fully_fermented",
        DrawnMoreThanThere = "drawn_more_than_there",
        DrawnBeforeReading = "drawn_before_reading",
        AmountUnclear = "amount_unclear",
        NeedsMash = "needs_mash",
        BringsUnknown = "brings_unknown",
        Figure = "figure",
    }
}

impl LogFault {
    /// What to do next.
    pub(crate) fn help(&self) -> &str {
        match &self.fault {
            Fault::NothingPitched => "begin the log with `pitched 8 L at 12 P`",
            Fault::PitchedTwice => "enter one line with the combined volume and gravity",
            Fault::MoreThanBoiled { .. } => {
                "check volume and gravity of both lines; enter additions to the fermenter as `added`"
            }
            Fault::DaysOutOfOrder { .. } => "correct the day, or reorder the lines",
            Fault::GravityRises { .. } => {
                "this reading, the one before it or an addition is wrong or missing: correct that line, or delete the reading that was wrong"
            }
            Fault::BelowFullyFermented { .. } => {
                "check the hydrometer in water (it should read 1.000) and the gravity of the wort"
            }
            Fault::DrawnMoreThanThere { .. } => "check both volumes and their units",
            Fault::DrawnBeforeReading => {
                "add a reading before it, or give the pitching day if it was wort"
            }
            Fault::AmountUnclear { .. } => "give a weight or a volume",
            Fault::NeedsMash { .. } => "enter the wort made from it, with volume and gravity",
            Fault::BringsUnknown { help, .. } => help,
            Fault::Figure { help, .. } => help.as_deref().unwrap_or("correct the figure"),
        }
    }

    pub(super) fn new(entry: usize, fault: Fault) -> Self {
        Self {
            entry,
            place: None,
            fault,
        }
    }

    /// The same in the log of that name.
    pub(super) fn in_log(self, log: &Arc<str>) -> Self {
        Self {
            place: Some(Box::new(Place::log_entry(log, self.entry))),
            ..self
        }
    }

    pub(super) fn of(entry: usize, error: &Error) -> Self {
        Self::new(
            entry,
            Fault::Figure {
                message: error.message().to_owned(),
                help: error.help().map(str::to_owned),
            },
        )
    }
}

impl Speaks for LogFault {
    fn code(&self) -> &'static str {
        self.fault.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Error
    }

    fn place(&self) -> Option<&Place> {
        self.place.as_deref()
    }

    /// Lower case, no full stop; without the line, which is its `place`.
    fn text(&self, _: Style) -> String {
        match &self.fault {
            Fault::NothingPitched => "expected a `pitched` line before anything else".to_owned(),
            Fault::PitchedTwice => "expected one pitched wort, found a second".to_owned(),
            Fault::MoreThanBoiled {
                pitched_kg,
                boiled_kg,
            } => format!(
                "expected at most the {boiled_kg:.2} kg of extract that the wort held after the boil, found {pitched_kg:.2} kg"
            ),
            Fault::DaysOutOfOrder { day, after } => {
                let (day, after) = (shortest(*day, 2), shortest(*after, 2));
                format!("expected day {after} or later, found day {day}")
            }
            Fault::GravityRises { read, most } => format!(
                "expected a reading of at most {:.2} °P from the wort and additions so far, found {:.2} °P",
                most.plato(),
                read.plato()
            ),
            Fault::BelowFullyFermented { read, least } => format!(
                "expected a reading of at least {:.2} °P, where all extract has become alcohol, found {:.2} °P",
                least.plato(),
                read.plato()
            ),
            Fault::DrawnMoreThanThere { drawn_l, held_l } => format!(
                "expected to draw less than the {held_l:.2} L in the fermenter, found {drawn_l:.2} L"
            ),
            Fault::DrawnBeforeReading => {
                "expected a reading before beer is drawn, found none since pitching".to_owned()
            }
            Fault::AmountUnclear { name } => {
                format!("`{name}`: expected a mass or a volume")
            }
            Fault::NeedsMash { name } => {
                format!("`{name}`: expected an addition that dissolves, found a grain")
            }
            Fault::BringsUnknown { name, .. } => format!(
                "`{name}`: neither its line nor the ingredient table says what it brings to the beer"
            ),
            Fault::Figure { message, .. } => message.clone(),
        }
    }
}

impl LogFault {
    /// As an error at its line of the texts, which shows that line.
    pub(crate) fn at(self, line: Option<Span>, texts: &[Text]) -> Error {
        let error = Error::new(ErrorKind::ImpossibleLog, self.text(Style::default()))
            .with_help(self.help())
            .with_code(self.code())
            .at(line, texts);
        match self.place {
            Some(place) => error.about(*place),
            None => error,
        }
    }
}
