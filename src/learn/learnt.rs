//! What was learnt.

use super::day_figure::{DayFigure, DayFigures};
use super::remark::LearnRemark;
use super::slip::Slip;
use crate::diagnostic::Severity;
use crate::quantity::{Extract, Volume};
use crate::recipe::Brewhouse;
use crate::speech::{Noted, Speaks, Style, shortest};
use serde::Serialize;

/// What brewing days tell of a plant.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Learnt {
    /// The plant with the figures that were learnt.
    pub brewhouse: Brewhouse,
    /// Its figures that a log can tell, in the order of the day.
    pub figures: Vec<LearntFigure>,
    /// One for each day.
    pub days: Vec<LearntDay>,
    /// What the next day's prediction spreads, for the brew of the last day; nothing without days.
    pub next_day: Vec<NextDay>,
    /// Figures that these days do not tell apart: of a pair one could be learnt if the other were known.
    pub not_told_apart: Vec<[String; 2]>,
    /// What was assumed, and which lines are not used.
    pub remarks: Vec<Noted<LearnRemark>>,
}

/// A figure of a plant.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct LearntFigure {
    /// The words of the plant's line, or `attenuation`, which the line of the yeast states.
    pub name: String,
    /// What it is by the days, in its unit.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub value: f64,
    /// One sigma of it.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub one_sigma: f64,
    /// What it was by the plant's line or by default.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub prior: f64,
    /// One sigma of that.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub prior_one_sigma: f64,
    /// The unit of all four.
    pub unit: String,
    #[serde(skip)]
    pub(super) stands_in_lines: bool,
}

/// A figure that a day moved.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct MovedFigure {
    /// The figure's name.
    pub name: String,
    /// By how much, in its unit; the days of a figure add up to all of its change, as far as the model is straight.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub by: f64,
}

/// A brewing day.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct LearntDay {
    /// The name of its log, else its number, from 0.
    pub name: String,
    /// What the learnt figures predict for it.
    pub predicted: DayFigures,
    /// What the plant's lines predict for it.
    pub predicted_before: DayFigures,
    /// What was read, at 20 °C.
    pub read: DayFigures,
    /// By how much it moved each figure.
    pub moved: Vec<MovedFigure>,
    /// Readings that must be slips.
    pub slipped: Vec<Slip>,
}

/// How far a prediction for the next day may be off.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct NextDay {
    /// What is predicted.
    pub name: DayFigure,
    /// Litres or °P.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub predicted: f64,
    /// One sigma of it: of the plant's figures as learnt, and of how days differ.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub one_sigma: f64,
    /// What it was before anything was learnt.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub prior_one_sigma: f64,
    /// The unit of all three.
    pub unit: String,
}

impl Speaks for LearntFigure {
    fn code(&self) -> &'static str {
        "learnt"
    }

    fn severity(&self) -> Severity {
        Severity::Note
    }

    fn text(&self, _: Style) -> String {
        let figure = |value: f64, sigma: f64| {
            format!(
                "{} ± {} {}",
                shortest(rounded(value, sigma), 4),
                shortest(rounded(sigma, sigma), 4),
                self.unit
            )
        };
        let now = figure(self.value, self.one_sigma);
        let before = figure(self.prior, self.prior_one_sigma);
        format!("{} {now}, before {before}", self.name)
    }
}

impl Speaks for NextDay {
    fn code(&self) -> &'static str {
        "next_day"
    }

    fn severity(&self) -> Severity {
        Severity::Note
    }

    fn text(&self, style: Style) -> String {
        let spoken = self.name.spoken(self.predicted, style);
        let (what, told) = (self.name.said(), spoken.with_any_sigma(self.one_sigma));
        format!(
            "{what} {told}, before ± {}",
            spoken.sigma(self.prior_one_sigma)
        )
    }
}

impl NextDay {
    /// Every code there is.
    pub const CODES: &'static [&'static str] = &["next_day"];
}

impl LearntFigure {
    /// Every code there is.
    pub const CODES: &'static [&'static str] = &["learnt"];
}

impl Speaks for LearntDay {
    fn code(&self) -> &'static str {
        "brew_day"
    }

    fn severity(&self) -> Severity {
        Severity::Note
    }

    fn text(&self, style: Style) -> String {
        let volume = |what: &str, predicted: Option<Volume>, read: Option<Volume>| {
            let (predicted, read) = (style.volume(predicted?), style.volume(read?));
            Some(format!("{what} {read}, predicted {predicted}"))
        };
        let gravity = |what: &str, predicted: Option<Extract>, read: Option<Extract>| {
            let (predicted, read) = (style.gravity(predicted?), style.gravity(read?));
            Some(format!("{what} {read}, predicted {predicted}"))
        };
        let (told, read) = (&self.predicted, &self.read);
        let all = [
            volume("first wort", told.first_wort, read.first_wort),
            gravity(
                "first wort",
                told.first_wort_extract,
                read.first_wort_extract,
            ),
            volume("before the boil", told.pre_boil, read.pre_boil),
            gravity(
                "before the boil",
                told.pre_boil_extract,
                read.pre_boil_extract,
            ),
            volume("after the boil", told.post_boil, read.post_boil),
            gravity(
                "after the boil",
                told.post_boil_extract,
                read.post_boil_extract,
            ),
            volume(
                "into the fermenter",
                told.into_fermenter,
                read.into_fermenter,
            ),
            gravity("original", told.original, read.original),
            gravity("final", told.final_extract, read.final_extract),
        ];
        let all: Vec<String> = all.into_iter().flatten().collect();
        if all.is_empty() {
            return "no reading of this day tells of the brewhouse".to_owned();
        }
        format!("measured {}", all.join("; "))
    }
}

/// A figure with as many digits as its sigma is worth.
pub(super) fn rounded(value: f64, one_sigma: f64) -> f64 {
    let step = 10_f64.powf((0.5 * one_sigma).log10().floor());
    if !(step.is_finite() && step > 0.0) {
        return value;
    }
    let whole = (value / step).round();
    // A division by a whole number leaves no dust of a binary fraction.
    if step < 1.0 {
        whole / (1.0 / step).round()
    } else {
        whole * step
    }
}
