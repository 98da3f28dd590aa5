//! What a brewer wrote down beside the kettle and the fermenter.

use super::{Amount, Ingredient};
use crate::catalogue::Catalogue;
use crate::quantity::{Extract, Ph, Temperature, Time, Volume, Written};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// The log of one brew, from the mash to the finished beer, in the order in which it was written.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Log {
    /// Its name, by which it is told from other logs; unnamed where it stands alone.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Its lines.
    pub entries: Vec<LogEntry>,
}

/// One line of a log.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct LogEntry {
    /// Time since pitching; absent where no day was noted.
    #[serde(
        rename = "on_day",
        with = "crate::quantity::on_day::option",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(with = "Option<Written<Time>>"))]
    pub day: Option<Written<Time>>,
    /// What happened.
    pub what: LogEvent,
}

/// What was measured on the brewing day, and what happened to the fermenting beer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[allow(
    clippy::large_enum_variant,
    reason = "a log holds tens of these, never millions"
)]
#[non_exhaustive]
pub enum LogEvent {
    /// The pH of the mash, of a sample cooled to room temperature.
    MashPh(Written<Ph>),
    /// The wort that ran off before any sparge water.
    FirstWort(WortReading),
    /// The wort before the boil.
    BeforeBoil(WortReading),
    /// The wort at the end of the boil.
    AfterBoil(WortReading),
    /// Wort went into the fermenter and yeast was pitched.
    Pitched(Pitched),
    /// The beer was measured.
    Reading(LogReading),
    /// Beer was taken out: samples, racking losses, a bottle on the side.
    Drawn(Drawn),
    /// Something was put in.
    Added(Added),
}

/// Wort that was measured on the brewing day: its volume, its gravity, or both.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct WortReading {
    /// Volume at the temperature that it was read at.
    #[serde(rename = "volume_l", skip_serializing_if = "Option::is_none")]
    pub volume: Option<Written<Volume>>,
    /// Temperature of the wort when its volume was read; absent means 20 °C.
    #[serde(rename = "volume_at_c", skip_serializing_if = "Option::is_none")]
    pub volume_at: Option<Written<Temperature>>,
    /// Extract as the instrument shows it.
    #[serde(rename = "shown_plato", skip_serializing_if = "Option::is_none")]
    pub shown: Option<Written<Extract>>,
    /// By what it was read.
    pub instrument: Instrument,
    /// Temperature of the sample; absent means that of the instrument's scale, 20 °C.
    #[serde(rename = "temperature_c", skip_serializing_if = "Option::is_none")]
    pub temperature: Option<Written<Temperature>>,
}

/// Wort that went into the fermenter, and its gravity.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Pitched {
    /// Volume at 20 °C.
    #[serde(rename = "volume_l")]
    pub volume: Written<Volume>,
    /// Original extract as the instrument shows it.
    #[serde(rename = "shown_plato")]
    pub shown: Written<Extract>,
    /// By what it was read.
    #[serde(default)]
    pub instrument: Instrument,
    /// Temperature of the sample; absent means that of the instrument's scale, 20 °C.
    #[serde(
        rename = "temperature_c",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    pub temperature: Option<Written<Temperature>>,
}

/// A gravity that was read.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct LogReading {
    /// What the instrument shows, in °P or °Bx; a specific gravity has been turned into °P.
    #[serde(rename = "shown_plato")]
    pub shown: Written<Extract>,
    /// By what it was read.
    #[serde(default)]
    pub instrument: Instrument,
    /// Temperature of the sample; absent means that of the instrument's scale, 20 °C.
    #[serde(
        rename = "temperature_c",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    pub temperature: Option<Written<Temperature>>,
}

/// Beer that was taken out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Drawn {
    /// Volume at 20 °C.
    #[serde(rename = "volume_l")]
    pub volume: Written<Volume>,
}

/// Something that was put in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Added {
    /// How much; a dose is of what the vessel holds by then.
    pub amount: Amount,
    /// Of what, with the figures that the line states.
    pub ingredient: Ingredient,
}

/// What a gravity was read with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Instrument {
    /// A floating hydrometer, or a meter that shows density.
    #[default]
    Hydrometer,
    /// A refractometer with a Brix scale.
    Refractometer,
}

impl Log {
    /// A log of these lines.
    pub fn new(entries: impl IntoIterator<Item = LogEntry>) -> Self {
        Self {
            name: None,
            entries: entries.into_iter().collect(),
        }
    }

    /// The same log under a name.
    #[must_use]
    pub fn named(mut self, name: impl Into<String>) -> Self {
        self.name = Some(name.into());
        self
    }

    /// Its name; empty where it has none.
    pub fn name(&self) -> &str {
        self.name.as_deref().unwrap_or_default()
    }

    /// What places call it: its name, else its number, from 0.
    pub(crate) fn key(&self, number: usize) -> Arc<str> {
        match self.name() {
            "" => number.to_string().into(),
            name => name.into(),
        }
    }

    /// Whether it goes by that name, in capitals or not.
    pub(crate) fn is_called(&self, name: &str) -> bool {
        self.name().to_lowercase() == name.to_lowercase()
    }

    /// Finds the entry and the kind of each ingredient that was named without them.
    pub fn resolve(&mut self, catalogue: &Catalogue) {
        for entry in &mut self.entries {
            if let LogEvent::Added(added) = &mut entry.what {
                added.ingredient.resolve(catalogue);
            }
        }
    }
}

impl LogEvent {
    /// Whether it speaks of the wort and the mash, before there is anything to ferment.
    #[must_use]
    pub const fn is_of_brew_day(&self) -> bool {
        match self {
            Self::MashPh(_) | Self::FirstWort(_) | Self::BeforeBoil(_) | Self::AfterBoil(_) => true,
            Self::Pitched(_) | Self::Reading(_) | Self::Drawn(_) | Self::Added(_) => false,
        }
    }
}

impl WortReading {
    /// So much wort.
    #[must_use]
    pub fn of_volume(volume: Written<Volume>) -> Self {
        Self {
            volume: Some(volume),
            ..Self::default()
        }
    }

    /// Wort of a gravity read by hydrometer at 20 °C.
    #[must_use]
    pub fn of_gravity(shown: Written<Extract>) -> Self {
        Self {
            shown: Some(shown),
            ..Self::default()
        }
    }
}

impl Pitched {
    /// So much wort of a gravity read by hydrometer at 20 °C.
    #[must_use]
    pub const fn new(volume: Written<Volume>, shown: Written<Extract>) -> Self {
        Self {
            volume,
            shown,
            instrument: Instrument::Hydrometer,
            temperature: None,
        }
    }
}

impl LogReading {
    /// A gravity read by hydrometer at 20 °C.
    #[must_use]
    pub const fn new(shown: Written<Extract>) -> Self {
        Self {
            shown,
            instrument: Instrument::Hydrometer,
            temperature: None,
        }
    }
}

impl Drawn {
    /// So much beer.
    #[must_use]
    pub const fn new(volume: Written<Volume>) -> Self {
        Self { volume }
    }
}

impl Added {
    /// So much of an ingredient.
    pub fn new(amount: Amount, ingredient: impl Into<Ingredient>) -> Self {
        Self {
            amount,
            ingredient: ingredient.into(),
        }
    }
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

    #[test]
    fn goes_to_json_and_back() {
        let pitched = Pitched::new("8.3 L".parse().unwrap(), "15.7 P".parse().unwrap());
        let drawn = Drawn::new("120 mL".parse().unwrap());
        let log = Log::new([
            LogEntry::dated("0 days".parse().unwrap(), LogEvent::Pitched(pitched)),
            LogEntry::undated(LogEvent::Drawn(drawn)),
        ]);
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
