//! What was assumed in learning, and which lines are not used.

use crate::diagnostic::{Severity, codes};
use crate::speech::{GravityScale, Speaks, Style, shortest};
use serde::Serialize;

/// What was assumed in learning, or which line of a log is not used.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum LearnRemark {
    /// How far volumes by marks are trusted.
    VolumesByMarks {
        /// One sigma of a reading.
        #[serde(serialize_with = "crate::quantity::json::rounded")]
        reading_pct: f64,
        /// One sigma of the marks of a vessel, the same on all days.
        #[serde(serialize_with = "crate::quantity::json::rounded")]
        marks_pct: f64,
    },
    /// How far a hydrometer is trusted.
    HydrometerChecked {
        /// One sigma of a reading.
        #[serde(serialize_with = "crate::quantity::json::rounded")]
        reading_g_l: f64,
        /// One sigma of the instrument, the same on all days.
        #[serde(serialize_with = "crate::quantity::json::rounded")]
        instrument_g_l: f64,
    },
    /// How far a refractometer is trusted in wort.
    RefractometerInWort {
        /// One sigma of a reading.
        #[serde(serialize_with = "crate::quantity::json::rounded")]
        reading_plato: f64,
        /// One sigma of the wort factor, the same on all days.
        #[serde(serialize_with = "crate::quantity::json::rounded")]
        factor_pct: f64,
    },
    /// Volumes in the kettle whose lines have no temperature are those of cold wort.
    VolumesCold {
        /// By so much hot wort reads more than it is.
        #[serde(serialize_with = "crate::quantity::json::rounded")]
        hot_pct: f64,
    },
    /// A day differs in a figure from all others by more than days do.
    DayUnlikeOthers {
        /// The name of the log, else its number, from 0.
        log: String,
        /// The figure, by the words of the plant's line, or `attenuation`.
        name: String,
        /// Of that day.
        #[serde(serialize_with = "crate::quantity::json::rounded")]
        value: f64,
        /// As it is learnt.
        #[serde(serialize_with = "crate::quantity::json::rounded")]
        usual: f64,
        /// The unit of both.
        unit: String,
    },
    /// A line that no figure of the plant is learnt from.
    LineNotUsed {
        /// The name of the log, else its number, from 0.
        log: String,
        /// Which line of the log, counted from 0.
        entry: usize,
        /// Why.
        because: NotUsed,
    },
}

/// Why a line of a log is not used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum NotUsed {
    /// A pH says nothing of a plant's volumes and yields.
    MashPh,
    /// What was drawn or added says nothing of them.
    InTheFermenter,
    /// The beer may not have fermented to its end.
    NotFinal,
    /// Something went in that the recipe does not have.
    OtherAdditions,
    /// The days pitched different yeasts.
    OtherYeast,
    /// Its gravity of first wort follows the yield of the whole run-off, which is known.
    KnownYield,
    /// Nothing is mashed.
    NoMash,
}

codes! {
    LearnRemark {
        VolumesByMarks = "volumes_by_marks",
        HydrometerChecked = "hydrometer_checked",
        RefractometerInWort = "refractometer_in_wort",
        VolumesCold = "volumes_cold",
        DayUnlikeOthers = "day_unlike_others",
        LineNotUsed = "line_not_used",
    }
}

impl NotUsed {
    const fn said(self) -> &'static str {
        match self {
            Self::MashPh => "a mash pH does not depend on the figures of the brewhouse",
            Self::InTheFermenter => "this line does not depend on the figures of the brewhouse",
            Self::NotFinal => {
                "only the last gravity, from day 7 on or without a day, is a final gravity"
            }
            Self::OtherAdditions => "the log adds something that is not in the recipe",
            Self::OtherYeast => "the days do not all use the same yeast",
            Self::KnownYield => {
                "the brewhouse states its extract yield, and a first wort gravity does not measure that"
            }
            Self::NoMash => "the brewhouse does not mash",
        }
    }
}

impl Speaks for LearnRemark {
    fn code(&self) -> &'static str {
        self.coded()
    }

    fn severity(&self) -> Severity {
        match self {
            Self::DayUnlikeOthers { .. } => Severity::Warning,
            _ => Severity::Note,
        }
    }

    fn text(&self, style: Style) -> String {
        let shown = |figure: &f64| shortest(*figure, 2);
        match self {
            Self::VolumesByMarks {
                reading_pct,
                marks_pct,
            } => format!(
                "Assumed: volumes read to ± {} %, marks of a vessel right to ± {} %",
                shown(reading_pct),
                shown(marks_pct)
            ),
            Self::HydrometerChecked {
                reading_g_l,
                instrument_g_l,
            } => {
                let said = |g_l: &f64| match style.gravity {
                    GravityScale::Plato => format!("{} g/L", shown(g_l)),
                    // Water weighs a thousand grams to the litre.
                    GravityScale::SpecificGravity => shortest(g_l / 1000.0, 4),
                };
                format!(
                    "Assumed: a hydrometer checked at two points, right to ± {} and read to ± {}",
                    said(instrument_g_l),
                    said(reading_g_l)
                )
            }
            Self::RefractometerInWort {
                reading_plato,
                factor_pct,
            } => format!(
                "Assumed: a refractometer read to ± {} °Bx, its wort factor right to ± {} %",
                shown(reading_plato),
                shown(factor_pct)
            ),
            Self::VolumesCold { hot_pct } => format!(
                "Assumed: kettle volumes without a temperature are of cold wort; at the boil it takes up {} % more, so write the temperature, such as `after boil 20 L at 98 C`",
                shown(hot_pct)
            ),
            Self::DayUnlikeOthers {
                log,
                name,
                value,
                usual,
                unit,
            } => format!(
                "Log `{log}` is unlike the others: {name} {} {unit}, usually {}. Leave it out if it was brewed in another brewhouse or with other amounts than planned",
                shown(value),
                shown(usual)
            ),
            Self::LineNotUsed {
                log,
                entry,
                because,
            } => format!(
                "log `{log}`, line {} is not used: {}",
                entry + 1,
                because.said()
            ),
        }
    }
}
