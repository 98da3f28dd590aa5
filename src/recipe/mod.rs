//! A recipe, a plant, a stock and a log as plain data, for hosts that build or keep them without a text.
//!
//! ```
//! use wortwright::{Job, recipe::{Addition, Brewhouse, Recipe}};
//!
//! let recipe = Recipe::new("Low Tide")
//!     .batch("10 hL".parse()?)
//!     .original("12 P".parse()?)
//!     .mash(Addition::new("pale ale malt", "100 %".parse()?));
//! let plant = Brewhouse::new("Kitchen").batch("10 L".parse()?);
//! let plan = Job::builder(recipe).plant(plant).build()?.on("Kitchen")?.plan()?;
//! assert!((plan.predicted.original.map_or(0.0, |gravity| gravity.plato()) - 12.0).abs() < 0.05);
//! # Ok::<(), wortwright::Error>(())
//! ```
//!
//! | for | see |
//! |---|---|
//! | a beer as its brewer printed it | [`Recipe`], [`Batch`], [`Targets`], [`IonTargets`] |
//! | its sections | [`Mash`], [`Rest`], [`Sparge`], [`Souring`], [`Boil`], [`HotStep`], [`Stand`], [`CoolStep`], [`Fermentation`], [`Hold`], [`Package`] |
//! | what goes in, how much and when | [`Addition`], [`Ingredient`], [`Facts`], [`Amount`], [`Timing`], [`At`] |
//! | a plant | [`Brewhouse`], [`Lauter`], [`Evaporation`], [`PlantCooling`], [`WeighingSteps`], [`WaterReport`] |
//! | the cupboard | [`Stock`], [`Lot`], [`HeldLot`] |
//! | a fermentation's log | [`Log`], [`LogEntry`], [`LogEvent`] |
//! | something replaced | [`Swap`], [`Recipe::with_swaps`] |
//!
//! Every figure is a [`Written`] value, so that a plan can be shown in the units of its plant. A figure that was not stated
//! is `None`; defaults are chosen where they are used, and each one used is shown in the result. Models are serialised by
//! serde and come back equal; `Job::builder` holds them against the checks of a text.
//!
//! [`Written`]: crate::quantity::Written

mod addition;
mod agreement;
mod brewhouse;
mod builder;
mod edit;
mod ingredient;
mod log;
mod place;
mod replace;
mod stock;
mod swap;
mod targets;

pub(crate) use addition::MEASURED_IN;
pub use addition::{Addition, Amount, At, Content, PackSize, Packs, Timing};
pub use brewhouse::{
    Bag, BatchSparge, BitternessModel, Brewhouse, ContinuousSparge, CoolingMethod, Evaporation,
    Heating, Lauter, PlantCooling, StatedYield, WaterReport, WeighingSteps, YieldBasis, YieldPoint,
};
pub(crate) use ingredient::is_called_hop;
pub use ingredient::{ExtractBasis, Facts, FruitForm, HopForm, Ingredient, Stated, StatedExtract};
pub use log::{
    Added, Drawn, Instrument, Log, LogEntry, LogEvent, LogReading, Pitched, WortReading,
};
pub(crate) use stock::{Available, Holding, Shelf};
pub use stock::{HeldLot, Lot, Stock};
pub(crate) use swap::PITCH;
pub use swap::{BaseMaltChange, Moved, RecipeLine, Section, Swap, SwapPart, Swaps};
pub(crate) use targets::ALCOHOL_WITHIN_PERCENT;
pub use targets::{Batch, BatchPoint, IonTargets, Targets};

use crate::catalogue::{Catalogue, Kind};
use crate::diagnostic::Error;
use crate::quantity::{CarbonDioxide, LiquorRatio, Ph, Temperature, Time, Volume, Written};
use serde::{Deserialize, Serialize};

/// A beer as its brewer printed it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Recipe {
    /// The beer's name.
    pub name: String,
    /// Where the recipe comes from, in free words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// The name of the plant that the figures speak for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub brewed_on: Option<String>,
    /// How much, and where it is counted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub batch: Option<Batch>,
    /// The printed figures of wort and beer.
    pub targets: Targets,
    /// What the shares of fermentables are shares of.
    pub share_basis: ShareBasis,
    /// Wanted ions of the brewing water.
    pub water: IonTargets,
    /// Grist and mash.
    pub mash: Mash,
    /// Souring of the wort by lactic bacteria, before the boil.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub souring: Option<Souring>,
    /// The boil and what goes into it.
    pub boil: Boil,
    /// Stands and coolings between the boil and the fermenter, in order.
    pub hot_side: Vec<HotStep>,
    /// Pitching, holds and later additions.
    pub fermentation: Fermentation,
    /// Packaging.
    pub package: Package,
    /// What was put in place of something else, with the recipe as it was printed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub swaps: Option<Swaps>,
}

/// What a share of fermentables is a share of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum ShareBasis {
    /// Mass as weighed out.
    #[default]
    Weight,
    /// Extract in the wort.
    Extract,
}

/// What is mashed, at which temperatures, and how it is sparged.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Mash {
    /// Grist, and whatever else goes into the mash.
    pub additions: Vec<Addition>,
    /// Mash water per kilogram of grist.
    #[serde(rename = "liquor_l_per_kg", skip_serializing_if = "Option::is_none")]
    pub liquor: Option<Written<LiquorRatio>>,
    /// Rests in order.
    pub rests: Vec<Rest>,
    /// Wanted mash pH of a sample at room temperature.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ph: Option<Written<Ph>>,
    /// Sparge as printed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sparge: Option<Sparge>,
}

/// One mash rest.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Rest {
    /// Temperature of the rest.
    #[serde(rename = "temperature_c")]
    pub temperature: Written<Temperature>,
    /// Length of the rest.
    #[serde(rename = "time_min")]
    pub time: Written<Time>,
    /// How the mash reaches the temperature, if the recipe says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by: Option<Heating>,
}

/// Sparge water as a recipe prints it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Sparge {
    /// Water for the grain, at 20 °C.
    #[serde(rename = "volume_l", skip_serializing_if = "Option::is_none")]
    pub volume: Option<Written<Volume>>,
    /// Of that water; else it is such that the bed comes to 76 °C.
    #[serde(rename = "temperature_c", skip_serializing_if = "Option::is_none")]
    pub temperature: Option<Written<Temperature>>,
}

/// Wort that lactic bacteria sour in the kettle, after the run-off and before the boil that kills them.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Souring {
    /// pH to which acid brings the wort before the bacteria go in.
    #[serde(rename = "from_ph", skip_serializing_if = "Option::is_none")]
    pub from: Option<Written<Ph>>,
    /// pH at which it is boiled, of a sample at room temperature.
    #[serde(rename = "to_ph", skip_serializing_if = "Option::is_none")]
    pub to: Option<Written<Ph>>,
    /// How long it is given.
    #[serde(rename = "time_min", skip_serializing_if = "Option::is_none")]
    pub time: Option<Written<Time>>,
    /// At which temperature.
    #[serde(rename = "temperature_c", skip_serializing_if = "Option::is_none")]
    pub temperature: Option<Written<Temperature>>,
    /// The bacteria.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub culture: Option<Addition>,
}

/// How long it boils, and what goes in by minutes left.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Boil {
    /// Length of the boil.
    #[serde(rename = "time_min", skip_serializing_if = "Option::is_none")]
    pub time: Option<Written<Time>>,
    /// Kettle additions.
    pub additions: Vec<Addition>,
}

/// What happens to the wort between the boil and the fermenter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum HotStep {
    /// The wort stands hot.
    Stand(Stand),
    /// The wort is cooled to a further stand.
    Cool(CoolStep),
}

/// A hot stand or whirlpool rest.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Stand {
    /// Length of the stand.
    #[serde(rename = "time_min")]
    pub time: Written<Time>,
    /// Its temperature; without one it starts at the boiling point.
    #[serde(
        rename = "temperature_c",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    pub temperature: Option<Written<Temperature>>,
    /// What goes in.
    #[serde(default)]
    pub additions: Vec<Addition>,
}

/// Cooling between two stands.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct CoolStep {
    /// Temperature reached.
    #[serde(rename = "to_c")]
    pub to: Written<Temperature>,
    /// Time taken.
    #[serde(rename = "time_min", default, skip_serializing_if = "Option::is_none")]
    pub time: Option<Written<Time>>,
}

/// From pitching to the end of fermentation.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Fermentation {
    /// The yeast; its timing carries the pitching temperature.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pitch: Option<Addition>,
    /// Water that makes up the wort in the fermenter, before the yeast.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub top_up: Option<Addition>,
    /// Temperatures held, in order.
    pub holds: Vec<Hold>,
    /// What is added later: juices, sugars, dry hops …
    pub additions: Vec<Addition>,
}

/// A temperature held during fermentation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Hold {
    /// Of the fermenting beer.
    #[serde(rename = "temperature_c")]
    pub temperature: Written<Temperature>,
    /// How long, if stated.
    #[serde(rename = "time_min", default, skip_serializing_if = "Option::is_none")]
    pub time: Option<Written<Time>>,
}

/// Packaging.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Package {
    /// Into what, in free words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub container: Option<String>,
    /// Wanted carbonation.
    #[serde(rename = "carbonation_g_l", skip_serializing_if = "Option::is_none")]
    pub carbonation: Option<Written<CarbonDioxide>>,
    /// Whether sugar brings the gas where a cylinder could: in a keg.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub primed: bool,
    /// Temperature at which it is carbonated.
    #[serde(rename = "temperature_c", skip_serializing_if = "Option::is_none")]
    pub temperature: Option<Written<Temperature>>,
    /// What goes in at packaging.
    pub additions: Vec<Addition>,
}

impl Recipe {
    /// A recipe with a name and nothing else.
    pub fn new(name: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            ..Self::default()
        }
    }

    /// The stands between the boil and the fermenter, in order.
    pub fn stands(&self) -> impl Iterator<Item = &Stand> {
        self.hot_side.iter().filter_map(|step| match step {
            HotStep::Stand(stand) => Some(stand),
            HotStep::Cool(_) => None,
        })
    }

    /// Whether hops go into a stand, which not every bitterness model has an answer for.
    pub(crate) fn has_hops_in_stand(&self) -> bool {
        let additions = self.stands().flat_map(|stand| &stand.additions);
        additions
            .flat_map(|addition| std::iter::once(addition).chain(addition.parts()))
            .filter_map(Addition::ingredient)
            .any(|ingredient| ingredient.kind == Kind::Hop)
    }

    /// Every addition, from the mash to the package, blends counted once.
    pub fn additions(&self) -> impl Iterator<Item = &Addition> {
        self.mash
            .additions
            .iter()
            .chain(self.souring.iter().flat_map(|sour| &sour.culture))
            .chain(&self.boil.additions)
            .chain(self.stands().flat_map(|stand| &stand.additions))
            .chain(&self.fermentation.top_up)
            .chain(&self.fermentation.pitch)
            .chain(&self.fermentation.additions)
            .chain(&self.package.additions)
    }

    /// Calls `f` on every ingredient, parts of blends included.
    pub(crate) fn for_each_ingredient_mut(&mut self, mut f: impl FnMut(&mut Ingredient)) {
        let stands = self.hot_side.iter_mut().flat_map(|step| match step {
            HotStep::Stand(stand) => stand.additions.iter_mut(),
            HotStep::Cool(_) => [].iter_mut(),
        });
        let all = self
            .mash
            .additions
            .iter_mut()
            .chain(self.souring.iter_mut().flat_map(|sour| &mut sour.culture))
            .chain(&mut self.boil.additions)
            .chain(stands)
            .chain(&mut self.fermentation.top_up)
            .chain(&mut self.fermentation.pitch)
            .chain(&mut self.fermentation.additions)
            .chain(&mut self.package.additions);
        for addition in all {
            match &mut addition.content {
                Content::Single(ingredient) => f(ingredient),
                Content::Blend(parts) => {
                    for part in parts {
                        if let Content::Single(ingredient) = &mut part.content {
                            f(ingredient);
                        }
                    }
                }
            }
        }
    }

    /// Finds the entry and the kind of each ingredient that was named without them.
    pub fn resolve(&mut self, catalogue: &Catalogue) {
        self.for_each_ingredient_mut(|ingredient| ingredient.resolve(catalogue));
    }

    /// The plant that the recipe was brewed on: the one it names, else the only one without a batch, else none, which
    /// means a commercial plant with stated defaults.
    ///
    /// # Errors
    ///
    /// `UnknownName` when it names a plant that is not among `plants`.
    pub fn plant_among<'a>(&self, plants: &'a [Brewhouse]) -> Result<Option<&'a Brewhouse>, Error> {
        if let Some(name) = &self.brewed_on {
            return Brewhouse::find(name, plants).map(Some);
        }
        let mut without_batch = plants.iter().filter(|plant| plant.batch.is_none());
        Ok(match (without_batch.next(), without_batch.next()) {
            (Some(only), None) => Some(only),
            _ => None,
        })
    }
}
