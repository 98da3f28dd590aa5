//! One addition: what, how much, and when.

use super::Ingredient;
use crate::diagnostic::Error;
use crate::quantity::lexer::{AsWritten, unfitting};
use crate::quantity::{
    Bitterness, Concentration, Dimension, Extract, Mass, PackCount, Share, Temperature, Time, Unit,
    Volume, VolumeShare, Written, in_kilograms, in_litres,
};
use serde::{Deserialize, Serialize};
use std::str::FromStr;

/// What goes in at one place and time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Addition {
    /// One ingredient, or a blend of several.
    pub content: Content,
    /// How much; absent when the headline figures decide it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub amount: Option<Amount>,
    /// When.
    #[serde(default)]
    pub timing: Timing,
}

/// One ingredient, or a blend of several.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[allow(
    clippy::large_enum_variant,
    reason = "a text holds tens of these, never millions"
)]
#[non_exhaustive]
pub enum Content {
    /// One ingredient.
    Single(Ingredient),
    /// Parts of a blend; a share among them is of the blend, in the blend's own basis.
    Blend(Vec<Addition>),
}

/// How much of something.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Amount {
    /// As weighed, for the recipe's whole batch.
    #[serde(rename = "mass_kg")]
    Mass(Written<Mass>),
    /// At 20 °C, for the recipe's whole batch.
    #[serde(rename = "volume_l")]
    Volume(Written<Volume>),
    /// Mass per litre of the liquid it goes into.
    #[serde(rename = "concentration_g_l")]
    Concentration(Written<Concentration>),
    /// Volume per litre of the liquid it goes into.
    #[serde(rename = "dose_ml_l")]
    Dose(Written<VolumeShare>),
    /// A share of all fermentables, or of the blend it stands in.
    #[serde(rename = "share_pct")]
    Share(Written<Share>),
    /// A share of the liquid's volume after the addition.
    #[serde(rename = "share_by_volume_pct")]
    ShareByVolume(Written<VolumeShare>),
    /// Bitterness it gives to the wort at the end of the boil.
    #[serde(rename = "bitterness_ibu")]
    Bitterness(Written<Bitterness>),
    /// So many packs of one size.
    Packs(Packs),
    /// So many packs of unknown size.
    PackCount(PackCount),
}

/// What an amount can be measured in.
pub(crate) const MEASURED_IN: &[Dimension] = &[
    Dimension::Mass,
    Dimension::Volume,
    Dimension::Concentration,
    Dimension::VolumePerVolume,
    Dimension::Percent,
    Dimension::Bitterness,
    Dimension::Packs,
];

/// Packs or bottles of one size.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Packs {
    /// How many.
    pub count: u32,
    /// What one pack holds.
    pub each: PackSize,
}

/// The size of a pack or bottle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum PackSize {
    /// By mass.
    #[serde(rename = "mass_kg")]
    Mass(Written<Mass>),
    /// By volume.
    #[serde(rename = "volume_l")]
    Volume(Written<Volume>),
}

/// When an addition enters, and how long it stays.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Timing {
    /// When it enters.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<At>,
    /// How long it stays.
    #[serde(rename = "for_min", skip_serializing_if = "Option::is_none")]
    pub contact: Option<Written<Time>>,
}

/// When an addition enters.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum At {
    /// With so much boiling time left.
    #[serde(rename = "at_min")]
    TimeLeft(Written<Time>),
    /// With the first wort in the kettle.
    FirstWort,
    /// When the liquid has this temperature.
    #[serde(rename = "at_c")]
    Temperature(Written<Temperature>),
    /// When the apparent extract has fallen to this.
    #[serde(rename = "when_plato")]
    Gravity(Written<Extract>),
    /// So long after pitching.
    #[serde(rename = "on_day", with = "crate::quantity::on_day")]
    #[cfg_attr(feature = "schema", schemars(with = "Written<Time>"))]
    AfterPitching(Written<Time>),
}

impl Amount {
    /// Kilograms and litres of what is there to be weighed or measured, packs counted; neither of a share, a dose or
    /// packs of unknown size.
    pub(crate) fn kilograms_and_litres(&self) -> (f64, f64) {
        match self {
            Self::Mass(mass) => (in_kilograms(mass.value()), 0.0),
            Self::Volume(volume) => (0.0, in_litres(volume.value())),
            Self::Packs(Packs { count, each }) => {
                let count = f64::from(*count);
                match each {
                    PackSize::Mass(mass) => (count * in_kilograms(mass.value()), 0.0),
                    PackSize::Volume(volume) => (0.0, count * in_litres(volume.value())),
                }
            }
            _ => (0.0, 0.0),
        }
    }
}

impl Packs {
    /// So many packs of a size.
    #[must_use]
    pub const fn new(count: u32, each: PackSize) -> Self {
        Self { count, each }
    }
}

impl FromStr for Amount {
    type Err = Error;

    /// An amount as the notation reads it: `5 kg`, `60 g/hL`, `70 %`, `12 % by volume`, `20 IBU`, `2 x 700 mL`.
    ///
    /// ```
    /// use wortwright::recipe::Amount;
    /// assert!(matches!("20 IBU".parse()?, Amount::Bitterness(_)));
    /// assert!(matches!("12 % by volume".parse()?, Amount::ShareByVolume(_)));
    /// assert!(matches!("2 x 700 mL".parse()?, Amount::Packs(packs) if packs.count == 2));
    /// assert!("20 C".parse::<Amount>().is_err());
    /// # Ok::<(), wortwright::diagnostic::Error>(())
    /// ```
    fn from_str(text: &str) -> Result<Self, Error> {
        if let Some((count, each)) = text.split_once('x')
            && let Ok(count) = count.trim().parse()
        {
            return each.parse().map(|each| Self::Packs(Packs { count, each }));
        }
        let (measure, by_volume) = match text.trim_end().strip_suffix("by volume") {
            Some(measure) => (measure, true),
            None => (text, false),
        };
        let written = AsWritten::read(measure, MEASURED_IN)?;
        if by_volume && written.unit != Unit::Percent {
            return Err(unfitting(&[Dimension::Percent], measure.trim()));
        }
        match written.unit.dimension() {
            Dimension::Mass => Written::stated(written).map(Self::Mass),
            Dimension::Volume => Written::stated(written).map(Self::Volume),
            Dimension::Concentration => Written::stated(written).map(Self::Concentration),
            Dimension::VolumePerVolume => Written::stated(written).map(Self::Dose),
            Dimension::Bitterness => Written::stated(written).map(Self::Bitterness),
            Dimension::Packs => PackCount::from_packs(written.number).map(Self::PackCount),
            _ if by_volume => Written::stated(written).map(Self::ShareByVolume),
            _ => Written::stated(written).map(Self::Share),
        }
    }
}

impl FromStr for PackSize {
    type Err = Error;

    /// A mass or a volume.
    fn from_str(text: &str) -> Result<Self, Error> {
        let written = AsWritten::read(text, &[Dimension::Mass, Dimension::Volume])?;
        match written.unit.dimension() {
            Dimension::Mass => Written::stated(written).map(Self::Mass),
            _ => Written::stated(written).map(Self::Volume),
        }
    }
}

impl FromStr for At {
    type Err = Error;

    /// When, as the notation says it behind `at`, `when` or `on`: `60 min`, `80 C`, `6 P`, `first wort`, `day 5`.
    ///
    /// ```
    /// use wortwright::recipe::At;
    /// assert!(matches!("60 min".parse()?, At::TimeLeft(_)));
    /// assert!(matches!("day 5".parse()?, At::AfterPitching(day) if day.number() == 5.0));
    /// # Ok::<(), wortwright::diagnostic::Error>(())
    /// ```
    fn from_str(text: &str) -> Result<Self, Error> {
        let text = text.trim();
        if text == "first wort" {
            return Ok(Self::FirstWort);
        }
        if let Some(day) = text.strip_prefix("day ") {
            return format!("{day} days").parse().map(Self::AfterPitching);
        }
        let allowed = [
            Dimension::Time,
            Dimension::Temperature,
            Dimension::Gravity,
            Dimension::Ratio,
        ];
        let written = AsWritten::read(text, &allowed)?;
        match written.unit.dimension() {
            Dimension::Time => Written::stated(written).map(Self::TimeLeft),
            Dimension::Temperature => Written::stated(written).map(Self::Temperature),
            _ => Written::stated(written).map(Self::Gravity),
        }
    }
}

impl Addition {
    /// So much of one ingredient, without a time yet.
    pub fn new(ingredient: impl Into<Ingredient>, amount: Amount) -> Self {
        Self {
            amount: Some(amount),
            ..Self::of(ingredient)
        }
    }

    /// One ingredient, with neither amount nor timing yet.
    pub fn of(ingredient: impl Into<Ingredient>) -> Self {
        Self::made_of(Content::Single(ingredient.into()))
    }

    /// A blend of parts, with neither amount nor timing yet.
    pub fn blend(parts: impl IntoIterator<Item = Self>) -> Self {
        Self::made_of(Content::Blend(parts.into_iter().collect()))
    }

    fn made_of(content: Content) -> Self {
        Self {
            content,
            amount: None,
            timing: Timing::default(),
        }
    }

    /// The same addition in this amount.
    #[must_use]
    pub fn amount(mut self, amount: Amount) -> Self {
        self.amount = Some(amount);
        self
    }

    /// The same addition at this time.
    #[must_use]
    pub fn at(mut self, at: At) -> Self {
        self.timing.at = Some(at);
        self
    }

    /// The same addition, taken out after this time.
    #[must_use]
    pub fn contact(mut self, time: Written<Time>) -> Self {
        self.timing.contact = Some(time);
        self
    }

    /// The ingredient, unless this is a blend.
    pub fn ingredient(&self) -> Option<&Ingredient> {
        match &self.content {
            Content::Single(ingredient) => Some(ingredient),
            Content::Blend(_) => None,
        }
    }

    /// The parts of a blend; none for a single ingredient.
    pub fn parts(&self) -> &[Self] {
        match &self.content {
            Content::Single(_) => &[],
            Content::Blend(parts) => parts,
        }
    }
}
