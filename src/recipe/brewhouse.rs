//! A plant: what it holds, loses, evaporates, and how it lauters and cools.

use super::{Batch, IonTargets};
use crate::catalogue::Kind;
use crate::diagnostic::{Error, ErrorKind, nearest};
use crate::quantity::{
    Absorption, BrewhouseYield, Conversion, EvaporationRate, HeatCapacity, Length, LiquorRatio,
    Mass, Mixing, Power, Share, Temperature, Time, Unit, UnitSystem, Volume, Written,
};
use crate::speech::{Style, TemperatureScale};
use serde::{Deserialize, Serialize};

/// A plant as its lines state it. What is absent has a default, which the result shows when it is used.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Brewhouse {
    /// The plant's name.
    pub name: String,
    /// Its batch, and where it is counted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub batch: Option<Batch>,
    /// Capacity of the mash tun.
    #[serde(rename = "mash_tun_l", skip_serializing_if = "Option::is_none")]
    pub mash_tun: Option<Written<Volume>>,
    /// Capacity of the kettle.
    #[serde(rename = "kettle_l", skip_serializing_if = "Option::is_none")]
    pub kettle: Option<Written<Volume>>,
    /// Capacity of the fermenter.
    #[serde(rename = "fermenter_l", skip_serializing_if = "Option::is_none")]
    pub fermenter: Option<Written<Volume>>,
    /// How the wort leaves the grain.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lauter: Option<Lauter>,
    /// Mash water per kilogram of grist.
    #[serde(rename = "liquor_l_per_kg", skip_serializing_if = "Option::is_none")]
    pub liquor: Option<Written<LiquorRatio>>,
    /// Apparent absorption: water in less first wort out, per kilogram of grain.
    #[serde(
        rename = "absorption_l_per_kg",
        skip_serializing_if = "Option::is_none"
    )]
    pub absorption: Option<Written<Absorption>>,
    /// Wort that the grain retains, per kilogram; stated in place of an absorption.
    #[serde(rename = "retention_l_per_kg", skip_serializing_if = "Option::is_none")]
    pub retention: Option<Written<Absorption>>,
    /// How thoroughly sparge water mixes with the wort in the grain.
    #[serde(rename = "sparge_mixing_pct", skip_serializing_if = "Option::is_none")]
    pub mixing: Option<Written<Mixing>>,
    /// Share of the laboratory extract that dissolves.
    #[serde(rename = "conversion_pct", skip_serializing_if = "Option::is_none")]
    pub conversion: Option<Written<Conversion>>,
    /// A yield that the plant is known to reach; it overrides what the lauter lines would give.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub extract_yield: Option<StatedYield>,
    /// How much the boil drives off.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub evaporation: Option<Evaporation>,
    /// Wort left in the mash tun beside what the grain retains.
    #[serde(rename = "tun_loss_l", skip_serializing_if = "Option::is_none")]
    pub tun_loss: Option<Written<Volume>>,
    /// Wort left in the kettle, hop soak included.
    #[serde(rename = "kettle_loss_l", skip_serializing_if = "Option::is_none")]
    pub kettle_loss: Option<Written<Volume>>,
    /// Beer left in the fermenter.
    #[serde(rename = "fermenter_loss_l", skip_serializing_if = "Option::is_none")]
    pub fermenter_loss: Option<Written<Volume>>,
    /// Above the sea: it sets the boiling point; 0 m where it is not stated.
    #[serde(rename = "altitude_m", skip_serializing_if = "Option::is_none")]
    pub altitude: Option<Written<Length>>,
    /// Hot stand that this plant always has.
    #[serde(rename = "stand_min", skip_serializing_if = "Option::is_none")]
    pub stand: Option<Written<Time>>,
    /// How the wort is cooled to pitching temperature.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cooling: Option<PlantCooling>,
    /// The water that cools the wort: a coil never brings it lower.
    #[serde(rename = "coolant_c", skip_serializing_if = "Option::is_none")]
    pub coolant: Option<Written<Temperature>>,
    /// Temperature of the grain before mashing in.
    #[serde(rename = "grain_c", skip_serializing_if = "Option::is_none")]
    pub grain: Option<Written<Temperature>>,
    /// Heat that the mash vessel takes up.
    #[serde(rename = "tun_heat_kj_per_k", skip_serializing_if = "Option::is_none")]
    pub tun_heat: Option<Written<HeatCapacity>>,
    /// How the mash can be heated.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub heating: Option<Heating>,
    /// Power of what heats mash and wort, as its maker states it.
    #[serde(rename = "heat_power_kw", skip_serializing_if = "Option::is_none")]
    pub heat_power: Option<Written<Power>>,
    /// What the scales can weigh.
    pub weighing: WeighingSteps,
    /// How bitterness is predicted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bitterness: Option<BitternessModel>,
    /// What its water holds before salts and acid; without it no mash pH is predicted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub water: Option<WaterReport>,
}

/// How the wort leaves the grain.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Lauter {
    /// A bag in the kettle, lifted out, and rinsed if sparge water is stated.
    Bag(Bag),
    /// A tun, drained, refilled and drained again.
    Batch(BatchSparge),
    /// A tun, rinsed continuously.
    Continuous(ContinuousSparge),
    /// No mash: everything dissolves as it is.
    NoMash,
}

/// A bag in the kettle.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Bag {
    /// Sparge water.
    #[serde(rename = "sparge_l", skip_serializing_if = "Option::is_none")]
    pub sparge: Option<Written<Volume>>,
}

/// Sparges of a tun that is drained in between.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct BatchSparge {
    /// How many sparges of equal size.
    pub sparges: u32,
}

/// A tun that is sparged continuously.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct ContinuousSparge {
    /// The yield it is known to reach.
    #[serde(rename = "yield_pct", skip_serializing_if = "Option::is_none")]
    pub reached: Option<Written<BrewhouseYield>>,
}

/// A stated yield, of what, and where it is counted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct StatedYield {
    /// The figure.
    #[serde(rename = "yield_pct")]
    pub value: Written<BrewhouseYield>,
    /// What it is a share of.
    #[serde(default)]
    pub of: YieldBasis,
    /// Where the extract is counted.
    #[serde(default)]
    pub at: YieldPoint,
}

/// What a yield is a share of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum YieldBasis {
    /// Of the fine-grind as-is laboratory extract.
    #[default]
    LaboratoryExtract,
    /// Of the mass of grist.
    Grist,
}

/// Where the extract of a yield is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum YieldPoint {
    /// In the cold wort at the end of the boil.
    #[default]
    EndOfBoil,
    /// In the wort that reaches the fermenter.
    IntoFermenter,
}

/// What a boil drives off, as litres of cold water.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Evaporation {
    /// A rate, which a kettle keeps whatever it holds.
    #[serde(rename = "rate_l_per_h")]
    Rate(Written<EvaporationRate>),
    /// A share of the pre-boil volume an hour.
    #[serde(rename = "share_per_h_pct")]
    SharePerHour(Written<Share>),
}

/// How a plant cools its wort to pitching temperature.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct PlantCooling {
    /// Temperature reached.
    #[serde(rename = "to_c", skip_serializing_if = "Option::is_none")]
    pub to: Option<Written<Temperature>>,
    /// Time it takes for the whole batch.
    #[serde(rename = "time_min", skip_serializing_if = "Option::is_none")]
    pub time: Option<Written<Time>>,
    /// By what.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub method: Option<CoolingMethod>,
}

/// By what the wort is cooled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum CoolingMethod {
    /// A coil in the kettle: all of the wort cools together.
    Coil,
    /// A plate cooler: each parcel stays hot until it leaves.
    Plate,
    /// Not at all: it is filled hot and left.
    NoChill,
}

/// How a mash reaches its next temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Heating {
    /// By direct heat.
    Direct,
    /// By hot water.
    Infusion,
    /// By boiling part of the mash.
    Decoction,
    /// Not at all.
    None,
}

/// The steps in which a plant can weigh.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct WeighingSteps {
    /// Step for malt, grain and sugar.
    #[serde(rename = "malt_kg", skip_serializing_if = "Option::is_none")]
    pub malt: Option<Written<Mass>>,
    /// Step for hops and botanicals.
    #[serde(rename = "hops_kg", skip_serializing_if = "Option::is_none")]
    pub hops: Option<Written<Mass>>,
    /// Step for salts, aids and yeast.
    #[serde(rename = "salts_kg", skip_serializing_if = "Option::is_none")]
    pub salts: Option<Written<Mass>>,
}

impl WeighingSteps {
    /// The step for a kind of ingredient.
    pub(crate) const fn of(&self, kind: Kind) -> Option<&Written<Mass>> {
        match kind {
            Kind::Malt | Kind::Grain | Kind::Sugar | Kind::Juice | Kind::Beverage => {
                self.malt.as_ref()
            }
            Kind::Hop | Kind::Botanical => self.hops.as_ref(),
            Kind::Yeast | Kind::Salt | Kind::Acid | Kind::Aid | Kind::Other => self.salts.as_ref(),
        }
    }
}

/// How bitterness is predicted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum BitternessModel {
    /// Tinseth (1997): boil time and gravity only.
    #[default]
    Tinseth,
    /// Isomerisation and degradation over the real temperature history.
    Kinetic,
}

/// A laboratory's or a supplier's figures of a brewing water.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct WaterReport {
    /// As printed; what is not named is unknown.
    pub ions: IonTargets,
    /// pH of the water.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ph: Option<Written<crate::quantity::Ph>>,
}

impl BatchSparge {
    /// So many sparges of equal size.
    #[must_use]
    pub const fn new(sparges: u32) -> Self {
        Self { sparges }
    }
}

impl StatedYield {
    /// A yield of the laboratory extract, counted at the end of the boil.
    #[must_use]
    pub const fn new(value: Written<BrewhouseYield>) -> Self {
        Self {
            value,
            of: YieldBasis::LaboratoryExtract,
            at: YieldPoint::EndOfBoil,
        }
    }
}

impl Brewhouse {
    /// A plant with a name and nothing else.
    pub fn new(name: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            ..Self::default()
        }
    }

    /// The practice in whose units the plant was written: that of its batch, else of its vessels, else metric.
    pub fn unit_system(&self) -> UnitSystem {
        [
            self.batch.as_ref().map(|batch| &batch.volume),
            self.fermenter.as_ref(),
            self.kettle.as_ref(),
            self.mash_tun.as_ref(),
        ]
        .into_iter()
        .flatten()
        .next()
        .map_or(UnitSystem::Metric, |volume| volume.unit().system())
    }

    /// The units in which the plant was written: its volumes say the system, its temperatures their own scale.
    pub fn style(&self) -> Style {
        let mut style = Style::customary(self.unit_system());
        let cooled = self.cooling.as_ref().and_then(|cooling| cooling.to);
        let written = [cooled, self.coolant, self.grain];
        if let Some(first) = written.into_iter().flatten().next() {
            style.temperature = if first.unit() == Unit::Fahrenheit {
                TemperatureScale::Fahrenheit
            } else {
                TemperatureScale::Celsius
            };
        }
        style
    }

    /// The plant of that name, in any case.
    ///
    /// ```
    /// use wortwright::recipe::Brewhouse;
    /// let plants = [Brewhouse::new("Stove top"), Brewhouse::new("Garage")];
    /// assert_eq!(Brewhouse::find("stove TOP", &plants).map(|plant| plant.name.as_str()), Ok("Stove top"));
    /// let unknown = Brewhouse::find("Stofe top", &plants).unwrap_err();
    /// assert_eq!(unknown.help(), Some("did you mean `Stove top`?"));
    /// ```
    ///
    /// # Errors
    ///
    /// `UnknownName` when there is none; the help lists near names, or all of them.
    pub fn find<'a>(name: &str, plants: &'a [Self]) -> Result<&'a Self, Error> {
        let as_written = plants.iter().find(|plant| plant.name == name);
        let wanted = name.to_lowercase();
        as_written
            .or_else(|| {
                plants
                    .iter()
                    .find(|plant| plant.name.to_lowercase() == wanted)
            })
            .ok_or_else(|| {
                let error = Error::new(
                    ErrorKind::UnknownName,
                    format!("no plant is called `{name}`"),
                );
                let near = nearest(name, plants.iter().map(|plant| plant.name.as_str()));
                let all: Vec<_> = plants.iter().map(|plant| plant.name.as_str()).collect();
                match (near.first(), all.is_empty()) {
                    (Some(near), _) => error.with_help(format!("did you mean `{near}`?")),
                    (None, false) => {
                        error.with_help(format!("the plants are `{}`", all.join("`, `")))
                    }
                    (None, true) => error.with_help("write a `brewhouse` block with that name"),
                }
            })
    }
}
