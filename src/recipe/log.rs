//! What a brewer wrote down beside the fermenter.

use super::{Amount, Ingredient};
use crate::quantity::{Extract, Temperature, Time, Volume, Written};
use serde::{Deserialize, Serialize};

/// The log of one fermentation, in the order in which it was written.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
pub struct Log {
    /// Its lines.
    pub entries: Vec<LogEntry>,
}

/// One line of a log.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct LogEntry {
    /// Time since pitching; absent where no day was noted.
    #[serde(
        rename = "after_pitching_min",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    pub day: Option<Written<Time>>,
    /// What happened.
    pub what: LogEvent,
}

/// What happened to a fermenting beer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[allow(
    clippy::large_enum_variant,
    reason = "a log holds tens of these, never millions"
)]
pub enum LogEvent {
    /// Wort went into the fermenter and yeast was pitched.
    Pitched {
        /// Volume at 20 °C.
        #[serde(rename = "volume_l")]
        volume: Written<Volume>,
        /// Original extract as the instrument shows it.
        #[serde(rename = "shown_plato")]
        shown: Written<Extract>,
        /// By what it was read.
        #[serde(default)]
        instrument: Instrument,
        /// Temperature of the sample; absent means that of the instrument's scale, 20 °C.
        #[serde(
            rename = "temperature_c",
            default,
            skip_serializing_if = "Option::is_none"
        )]
        temperature: Option<Written<Temperature>>,
    },
    /// The beer was measured.
    Reading {
        /// What the instrument shows, in °P or °Bx; a specific gravity has been turned into °P.
        #[serde(rename = "shown_plato")]
        shown: Written<Extract>,
        /// By what it was read.
        #[serde(default)]
        instrument: Instrument,
        /// Temperature of the sample; absent means that of the instrument's scale, 20 °C.
        #[serde(
            rename = "temperature_c",
            default,
            skip_serializing_if = "Option::is_none"
        )]
        temperature: Option<Written<Temperature>>,
    },
    /// Beer was taken out: samples, racking losses, a bottle on the side.
    Drawn {
        /// Volume at 20 °C.
        #[serde(rename = "volume_l")]
        volume: Written<Volume>,
    },
    /// Something was put in.
    Added {
        /// How much; a dose is of what the vessel holds by then.
        amount: Amount,
        /// Of what, with the figures that the line states.
        ingredient: Ingredient,
    },
}

/// What a gravity was read with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Instrument {
    /// A floating hydrometer, or a meter that shows density.
    #[default]
    Hydrometer,
    /// A refractometer with a Brix scale.
    Refractometer,
}

impl LogEntry {
    /// A line without a day.
    #[must_use]
    pub const fn undated(what: LogEvent) -> Self {
        Self { day: None, what }
    }

    /// A line with the time since pitching.
    #[must_use]
    pub const fn dated(day: Written<Time>, what: LogEvent) -> Self {
        Self {
            day: Some(day),
            what,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;

    #[test]
    fn goes_to_json_and_back() {
        let log = Log {
            entries: vec![
                LogEntry::dated(
                    Written::new(0.0, Unit::Day).unwrap(),
                    LogEvent::Pitched {
                        volume: Written::new(8.3, Unit::Litre).unwrap(),
                        shown: Written::new(15.7, Unit::Plato).unwrap(),
                        instrument: Instrument::Hydrometer,
                        temperature: None,
                    },
                ),
                LogEntry::undated(LogEvent::Drawn {
                    volume: Written::new(120.0, Unit::Millilitre).unwrap(),
                }),
            ],
        };
        let json = serde_json::to_string(&log).unwrap();
        assert!(
            json.contains(r#""pitched":{"volume_l":{"value":8.3"#),
            "{json}"
        );
        let back: Log = serde_json::from_str(&json).unwrap();
        assert!((back.entries.len(), &back.entries[0]) == (2, &log.entries[0]));
        let misspelt = r#"{"entries":[{"what":{"drawn":{"volume":1}}}]}"#;
        assert!(serde_json::from_str::<Log>(misspelt).is_err());
    }
}
