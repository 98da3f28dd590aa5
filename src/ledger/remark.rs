//! What is taken for granted on the day and in a ledger.

use crate::diagnostic::{Severity, codes};
use crate::process::PredictedFigure;
use crate::quantity::{AlcoholByVolume, Attenuation, Extract, Mass, Ph, Temperature, Volume};
use crate::science::instruments::WortCorrection;
use crate::speech::{Noted, Speaks, Style, alcohol};
use serde::Serialize;

/// A smaller part of what can be read is no difference to speak of (rule of the crate).
const AS_PLANNED: f64 = 0.05;

/// What was taken for granted in a ledger or in advice, or deserves a look.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Remark {
    /// Refractometer readings were divided by this factor.
    WortCorrection {
        /// The factor.
        factor: WortCorrection,
    },
    /// A refractometer reading so early in the fermentation that no published fit reaches it: rough.
    RefractometerEarly {
        /// Which line of the log, counted from 0.
        entry: usize,
    },
    /// A refractometer reading of a sample that was not at 20 °C, as one of an instrument that does not compensate.
    RefractometerTemperature {
        /// Which line of the log, counted from 0.
        entry: usize,
        /// Of the sample.
        #[serde(rename = "temperature_c")]
        temperature: Temperature,
        /// What was shown.
        #[serde(rename = "shown_plato")]
        shown: Extract,
        /// What it would have shown at 20 °C.
        #[serde(rename = "corrected_plato")]
        corrected: Extract,
    },
    /// A reading that no fermentation can have given, within what an instrument may be off: it counts as the nearest that one
    /// can have given.
    ReadingMoved {
        /// Which line of the log, counted from 0.
        entry: usize,
        /// What was read, corrected.
        #[serde(rename = "read_plato")]
        read: Extract,
        /// What it counts as.
        #[serde(rename = "counted_plato")]
        counted: Extract,
    },
    /// What was drawn has the composition of the last reading before it, with what was added since.
    DrawnAsLastRead,
    /// Nobody knows how much of this ferments: all of it is taken to.
    FermentsWhollyAssumed {
        /// The ingredient.
        name: String,
    },
    /// Something that brings no extract was measured by volume: that volume is counted as water.
    CountedAsWater {
        /// The ingredient.
        name: String,
    },
    /// No reading tells how far the wort ferments: this apparent attenuation was taken.
    WortAttenuation {
        /// The attenuation.
        #[serde(rename = "attenuation_pct", with = "crate::quantity::json::percent")]
        attenuation: Attenuation,
    },
    /// A refractometer reading of a beer so early in the fermentation that no published fit reaches it: rough.
    RefractometerRough,
    /// Only the gravity was measured: the volume is taken as planned.
    VolumeAsPlanned {
        /// The volume at 20 °C.
        #[serde(rename = "volume_l", with = "crate::quantity::json::litre")]
        volume: Volume,
    },
    /// Only the volume was measured: the extract in it is taken as planned.
    ExtractAsPlanned {
        /// Its mass.
        #[serde(rename = "extract_kg", with = "crate::quantity::json::kilogram")]
        extract: Mass,
    },
    /// A reading in °Bx that does not say `by refractometer`: it is taken for a hydrometer's. Of fermenting beer a
    /// refractometer shows several degrees more.
    BrixByHydrometer {
        /// Which line of the log, counted from 0.
        entry: usize,
    },
    /// What was read differs from the plan by no more than can be read: nothing is corrected.
    WithinReading {
        /// What was read.
        figure: PredictedFigure,
        /// How far that may lie from the plan, in the figure's unit.
        #[serde(serialize_with = "crate::quantity::json::rounded")]
        within: f64,
        /// What was read, in the same unit.
        #[serde(skip)]
        read: f64,
    },
    /// The recipe states no mash pH: the usual range is wanted.
    UsualMashPh {
        /// From.
        #[serde(rename = "lowest_ph")]
        lowest: Ph,
        /// To.
        #[serde(rename = "highest_ph")]
        highest: Ph,
    },
    /// More alcohol than any yeast of beer bears is reckoned from the log.
    AlcoholBeyondYeast {
        /// What the log gives.
        #[serde(rename = "alcohol_abv_pct", with = "crate::quantity::json::percent")]
        alcohol: AlcoholByVolume,
        /// What the strongest yeasts bear.
        #[serde(rename = "most_abv_pct", with = "crate::quantity::json::percent")]
        most: AlcoholByVolume,
    },
    /// A line of the brewing day, which does not change what is in the fermenter.
    BrewDayReading {
        /// Which line of the log, counted from 0.
        entry: usize,
    },
}

codes! {
    Remark {
        WortCorrection = "wort_correction",
        RefractometerEarly = "refractometer_early",
        RefractometerTemperature = "refractometer_temperature",
        ReadingMoved = "reading_moved",
        DrawnAsLastRead = "drawn_as_last_read",
        FermentsWhollyAssumed = "ferments_wholly_assumed",
        CountedAsWater = "counted_as_water",
        WortAttenuation = "wort_attenuation",
        RefractometerRough = "refractometer_rough",
        VolumeAsPlanned = "volume_as_planned",
        ExtractAsPlanned = "extract_as_planned",
        BrixByHydrometer = "brix_by_hydrometer",
        WithinReading = "within_reading",
        UsualMashPh = "usual_mash_ph",
        AlcoholBeyondYeast = "alcohol_beyond_yeast",
        BrewDayReading = "brew_day_reading",
    }
}

impl Remark {
    /// That a reading lies within its own error of the plan; none where it is as planned, or beyond.
    pub(crate) fn within(
        figure: PredictedFigure,
        read: f64,
        within: f64,
        off: f64,
    ) -> Option<Noted<Self>> {
        let is_seen = off.abs() > AS_PLANNED * within && off.abs() <= within;
        is_seen.then_some(Noted::from(Self::WithinReading {
            figure,
            within,
            read,
        }))
    }
}

impl Speaks for Remark {
    fn code(&self) -> &'static str {
        self.coded()
    }

    fn severity(&self) -> Severity {
        match self {
            Self::RefractometerEarly { .. }
            | Self::RefractometerRough
            | Self::ReadingMoved { .. }
            | Self::AlcoholBeyondYeast { .. }
            | Self::BrixByHydrometer { .. } => Severity::Warning,
            _ => Severity::Note,
        }
    }

    fn text(&self, style: Style) -> String {
        match self {
            Self::WortCorrection { factor } => {
                format!("refractometer readings corrected by a wort factor of {}", factor.factor())
            }
            Self::RefractometerEarly { entry } => format!(
                "log entry {}: refractometer gravity this early in fermentation is only an estimate: use a hydrometer",
                entry + 1
            ),
            Self::RefractometerTemperature {
                entry,
                temperature,
                shown,
                corrected,
            } => format!(
                "log entry {}: {:.1} °Bx at {} corrected to {:.1} °Bx; leave the temperature out if the refractometer compensates for it",
                entry + 1,
                shown.plato(),
                style.temperature(*temperature),
                corrected.plato()
            ),
            Self::ReadingMoved {
                entry,
                read,
                counted,
            } => format!(
                "log entry {}: {:.2} °P read, {} than fermentation can give here; {:.2} °P assumed; check for gas in the sample, and the instrument in water",
                entry + 1,
                read.plato(),
                if read > counted { "more" } else { "less" },
                counted.plato()
            ),
            Self::DrawnAsLastRead => {
                "drawn beer assumed unchanged since the previous reading".to_owned()
            }
            Self::FermentsWhollyAssumed { name } => {
                format!("`{name}`: fermentability not given, assumed fully fermentable")
            }
            Self::CountedAsWater { name } => {
                format!("Assumed: `{name}`, measured by volume, brings that volume of water")
            }
            Self::WortAttenuation { attenuation } => format!(
                "no final reading: apparent attenuation of {:.0} % assumed for the wort",
                attenuation.percent()
            ),
            Self::RefractometerRough => {
                "refractometer gravity this early in fermentation is only an estimate: use a hydrometer".to_owned()
            }
            Self::VolumeAsPlanned { volume } => format!(
                "volume not measured: {} assumed, as planned",
                style.volume(*volume)
            ),
            Self::ExtractAsPlanned { extract } => format!(
                "gravity not measured: {} of extract assumed, as planned",
                style.mass(*extract)
            ),
            Self::BrixByHydrometer { entry } => format!(
                "log entry {}: °Bx read as a hydrometer reading; if a refractometer was used, add `by refractometer`: in beer it shows several degrees more",
                entry + 1
            ),
            Self::WithinReading {
                figure,
                within,
                read,
            } => {
                let read = figure.spoken(*read, style);
                format!(
                    "{} measured: the difference is within the reading's own error (± {}), nothing to correct",
                    read.said(),
                    read.sigma(*within)
                )
            }
            Self::UsualMashPh { lowest, highest } => format!(
                "Assumed: mash pH {:.1} to {:.1}, since the recipe states none",
                lowest.value(),
                highest.value()
            ),
            Self::AlcoholBeyondYeast {
                alcohol: reached,
                most,
            } => format!(
                "{} is more than any yeast reaches, about {:.0} % vol: check volumes, gravities and additions; if they are right, fermentation stops early and sweet",
                alcohol(*reached),
                most.percent()
            ),
            Self::BrewDayReading { entry } => format!(
                "log entry {}: a reading of the brewing day, which does not change the balance of the fermenter",
                entry + 1
            ),
        }
    }
}
