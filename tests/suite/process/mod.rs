//! The forward model: a setup and amounts to the state after every stage.

mod assumptions;
mod charge_balance;
mod colour;
mod cooled_on;
mod demo_fermentation;
pub(crate) mod demo_wort;
mod fermentability;
mod fruit;
mod heater;
mod hot_side;
mod kept;
mod later_additions;
mod published_hops;
mod published_rows;
mod real_beers;
mod real_ingredients;
mod second_yeast;
mod souring;
mod top_up;
mod unknown_figures;
mod what_counts;
mod yeast_limits;
mod yeast_temperatures;
