//! What can be measured on a brewing day, and what the forward model has for it.

use crate::diagnostic::codes;
use crate::process::Worts;
use crate::quantity::{Extract, Volume, litres};
use crate::speech::{Spoken, Style};
use serde::Serialize;

/// A figure of a brewing day that a log can hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub enum DayFigure {
    /// Wort that ran off before any sparge water.
    #[serde(rename = "first_wort_l")]
    FirstWort,
    /// Its extract.
    #[serde(rename = "first_wort_plato")]
    FirstWortExtract,
    /// Wort before the boil.
    #[serde(rename = "pre_boil_l")]
    PreBoil,
    /// Its extract.
    #[serde(rename = "pre_boil_plato")]
    PreBoilExtract,
    /// Wort at the end of the boil.
    #[serde(rename = "post_boil_l")]
    PostBoil,
    /// Its extract.
    #[serde(rename = "post_boil_plato")]
    PostBoilExtract,
    /// Wort in the fermenter.
    #[serde(rename = "into_fermenter_l")]
    IntoFermenter,
    /// Its extract.
    #[serde(rename = "original_plato")]
    Original,
    /// Apparent extract of the beer.
    #[serde(rename = "final_plato")]
    FinalExtract,
}

codes! {
    DayFigure {
        FirstWort = "first_wort_l",
        FirstWortExtract = "first_wort_plato",
        PreBoil = "pre_boil_l",
        PreBoilExtract = "pre_boil_plato",
        PostBoil = "post_boil_l",
        PostBoilExtract = "post_boil_plato",
        IntoFermenter = "into_fermenter_l",
        Original = "original_plato",
        FinalExtract = "final_plato",
    }
}

/// Whether what a recipe adds in the fermenter went into a beer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Later {
    Added,
    LeftOut,
}

impl DayFigure {
    /// All of them, in the order of the day.
    pub(super) const ALL: [Self; 9] = [
        Self::FirstWort,
        Self::FirstWortExtract,
        Self::PreBoil,
        Self::PreBoilExtract,
        Self::PostBoil,
        Self::PostBoilExtract,
        Self::IntoFermenter,
        Self::Original,
        Self::FinalExtract,
    ];

    /// Its name in the exchange.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.coded()
    }

    /// The unit it is counted in.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        if self.is_volume() { "L" } else { "°P" }
    }

    /// The line of a log, and what of it.
    pub(super) const fn said(self) -> &'static str {
        match self {
            Self::FirstWort => "volume of the first wort",
            Self::FirstWortExtract => "gravity of the first wort",
            Self::PreBoil => "volume before the boil",
            Self::PreBoilExtract => "gravity before the boil",
            Self::PostBoil => "volume after the boil",
            Self::PostBoilExtract => "gravity after the boil",
            Self::IntoFermenter => "volume into the fermenter",
            Self::Original => "original gravity",
            Self::FinalExtract => "final gravity",
        }
    }

    /// Litres or °P of it as a practice says them.
    pub(super) fn spoken(self, number: f64, style: Style) -> Spoken {
        if self.is_volume() {
            style.spoken_volume(number)
        } else {
            style.spoken_gravity(Extract::clamped(number))
        }
    }

    pub(super) const fn is_volume(self) -> bool {
        matches!(
            self,
            Self::FirstWort | Self::PreBoil | Self::PostBoil | Self::IntoFermenter
        )
    }

    /// Litres or °P in the worts of a day.
    pub(super) fn of(self, worts: &Worts, later: Later) -> f64 {
        match self {
            Self::FirstWort => worts.first.wort_volume_l(),
            Self::FirstWortExtract => 100.0 * worts.first.strength(),
            Self::PreBoil => worts.before_boil.wort_volume_l(),
            Self::PreBoilExtract => 100.0 * worts.before_boil.strength(),
            Self::PostBoil => worts.after_boil.wort_volume_l(),
            Self::PostBoilExtract | Self::Original => 100.0 * worts.after_boil.strength(),
            Self::IntoFermenter => worts.into_fermenter_l,
            Self::FinalExtract => match later {
                Later::Added => worts.finished.apparent_plato(),
                Later::LeftOut => worts.without_additions.apparent_plato(),
            },
        }
    }
}

/// Figures of a brewing day, as predicted or as read; volumes at 20 °C.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct DayFigures {
    /// Wort that ran off before any sparge water.
    #[serde(
        rename = "first_wort_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub first_wort: Option<Volume>,
    /// Its extract.
    #[serde(rename = "first_wort_plato", skip_serializing_if = "Option::is_none")]
    pub first_wort_extract: Option<Extract>,
    /// Wort before the boil.
    #[serde(
        rename = "pre_boil_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub pre_boil: Option<Volume>,
    /// Its extract.
    #[serde(rename = "pre_boil_plato", skip_serializing_if = "Option::is_none")]
    pub pre_boil_extract: Option<Extract>,
    /// Wort at the end of the boil.
    #[serde(
        rename = "post_boil_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub post_boil: Option<Volume>,
    /// Its extract.
    #[serde(rename = "post_boil_plato", skip_serializing_if = "Option::is_none")]
    pub post_boil_extract: Option<Extract>,
    /// Wort in the fermenter.
    #[serde(
        rename = "into_fermenter_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub into_fermenter: Option<Volume>,
    /// Its extract.
    #[serde(rename = "original_plato", skip_serializing_if = "Option::is_none")]
    pub original: Option<Extract>,
    /// Apparent extract of the beer.
    #[serde(rename = "final_plato", skip_serializing_if = "Option::is_none")]
    pub final_extract: Option<Extract>,
}

impl DayFigures {
    /// Sets a figure, litres or °P.
    pub(super) fn set(&mut self, figure: DayFigure, value: f64) {
        let (volume, extract) = (Some(litres(value)), Some(Extract::clamped(value)));
        match figure {
            DayFigure::FirstWort => self.first_wort = volume,
            DayFigure::FirstWortExtract => self.first_wort_extract = extract,
            DayFigure::PreBoil => self.pre_boil = volume,
            DayFigure::PreBoilExtract => self.pre_boil_extract = extract,
            DayFigure::PostBoil => self.post_boil = volume,
            DayFigure::PostBoilExtract => self.post_boil_extract = extract,
            DayFigure::IntoFermenter => self.into_fermenter = volume,
            DayFigure::Original => self.original = extract,
            DayFigure::FinalExtract => self.final_extract = extract,
        }
    }
}
