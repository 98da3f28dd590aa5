//! An ingredient with every figure settled: the line's own first, then the catalogue's.
//!
//! `settle` is the way in. What each kind needs stands in a file of its own, what all look up in `lookup`.

mod colour_basis;
mod drink;
mod fermentable;
mod grain;
mod hop;
mod juice;
mod lookup;
mod settle;
mod sugar;
mod sugars;
mod yeast;

pub(crate) use colour_basis::colour_yield;
pub(crate) use drink::Beverage;
pub(crate) use fermentable::Fermentable;
pub(crate) use hop::alpha_missing;
pub(crate) use settle::{check_kind, settle};
pub(crate) use sugars::Sugars;
pub(crate) use yeast::Yeast;

/// What an ingredient does to the beer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Material {
    Fermentable(Fermentable),
    /// Water, a spirit or another drink.
    Beverage(Beverage),
    /// Nobody need know the alpha acids of a dry hop.
    Hop {
        alpha: Option<f64>,
    },
    Yeast(Yeast),
    /// Known to bring neither extract nor alcohol nor bitterness: botanicals, salts, acids, aids, and what its line says so of.
    Inert,
    /// Nobody knows what it brings.
    Unknown,
}

impl Material {
    /// Water and nothing else.
    pub(crate) fn is_water(&self) -> bool {
        matches!(self, Self::Beverage(drink) if drink.per_kg.ethanol_kg <= 0.0 && drink.per_kg.extract_kg <= 0.0)
    }
}
