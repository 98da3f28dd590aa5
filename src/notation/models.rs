//! Models that belong together.

use crate::catalogue::Catalogue;
use crate::recipe::{Brewhouse, Log, Recipe, Stock};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// Models that belong together, to be checked, to become a [`Job`](crate::job::Job), or to be stored.
///
/// Stored models carry the `format` that they are written in. Those without one are of the first, and those of a later one
/// are refused, so that nothing in them is lost unseen. By serde alone a field that is not known is an error;
/// `exchange::stored` leaves it out and notes it.
///
/// ```
/// use wortwright::{notation::Models, recipe::Brewhouse};
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let models = Models::default().plant(Brewhouse::new("Pot"));
/// let kept = serde_json::to_string(&models)?;
/// assert!(kept.starts_with(r#"{"format":1,"brewhouses":[{"name":"Pot""#), "{kept}");
/// assert_eq!(serde_json::from_str::<Models>(&kept)?, models);
/// let newer = serde_json::from_str::<Models>(r#"{"format": 2}"#).unwrap_err();
/// assert!(newer.to_string().contains("format 2 is newer than 1"));
/// # Ok(())
/// # }
/// ```
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Models {
    format: Format,
    /// The recipe.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub recipe: Option<Recipe>,
    /// The plants.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub brewhouses: Vec<Brewhouse>,
    /// What is in the cupboard.
    #[serde(skip_serializing_if = "is_empty")]
    pub stock: Stock,
    /// The logs, each of one fermentation.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub logs: Vec<Log>,
}

fn is_empty(stock: &Stock) -> bool {
    stock.lots.is_empty()
}

/// The one form in which models have been stored so far.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Format;

impl Format {
    const NUMBER: u64 = 1;
}

impl Serialize for Format {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_u64(Self::NUMBER)
    }
}

impl<'de> Deserialize<'de> for Format {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let (number, known) = (u64::deserialize(deserializer)?, Self::NUMBER);
        if number == known {
            return Ok(Self);
        }
        Err(de::Error::custom(if number > known {
            format!(
                "format {number} is newer than {known}, the newest that this version of the library reads"
            )
        } else {
            format!("expected format {known}, found {number}")
        }))
    }
}

impl Models {
    /// A recipe, so far without plants.
    #[must_use]
    pub fn new(recipe: Recipe) -> Self {
        Self {
            recipe: Some(recipe),
            ..Self::default()
        }
    }

    /// One plant more.
    #[must_use]
    pub fn plant(mut self, plant: Brewhouse) -> Self {
        self.brewhouses.push(plant);
        self
    }

    /// What the brewer has, can buy or cannot get; stocks add up.
    #[must_use]
    pub fn stock(mut self, stock: Stock) -> Self {
        self.stock.lots.extend(stock.lots);
        self
    }

    /// One log more.
    #[must_use]
    pub fn log(mut self, log: Log) -> Self {
        self.logs.push(log);
        self
    }

    /// Finds the entry and the kind of each ingredient that was named without them.
    pub fn resolve(&mut self, catalogue: &Catalogue) {
        if let Some(recipe) = &mut self.recipe {
            recipe.resolve(catalogue);
        }
        self.stock.resolve(catalogue);
        for log in &mut self.logs {
            log.resolve(catalogue);
        }
    }
}
