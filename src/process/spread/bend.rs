//! A brew with one thing other than it was taken to be.

use super::plant_figure::PlantFigure;
use crate::process::brew::Amounts;
use crate::process::formula::{ItemIndex, Stage};
use crate::process::material::{Fermentable, Material, Sugars};
use crate::process::setup::Setup;
use crate::science::density::sucrose_density_20;

/// One thing that may be other than it is taken to be. Several may be bent in one brew, in any order.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Bend {
    /// A figure of the plant, by so much in its own unit.
    Plant(PlantFigure),
    /// The extract of what these items are, by such a part of it.
    Extract(Vec<ItemIndex>),
    /// The alcohol of a drink, by such a part of it.
    DrinkAlcohol(Vec<ItemIndex>),
    /// The colour, by such a part of it.
    Colour(Vec<ItemIndex>),
    /// The alpha acids, by such a part of them.
    Alpha(Vec<ItemIndex>),
    /// The share of the extract that ferments, by so much of the extract.
    Ferments(Vec<ItemIndex>),
    /// What ferments of starch and malt extract, by such a part of it.
    MaltFerments,
    /// What the rests make of that, by such a part of it.
    MashRests,
    /// What hops keep of the wort in the kettle, by such a part of it.
    HopsKeep,
    /// The brewing water, by such a part of it.
    Water,
    /// All that is added later by volume, by such a part of it.
    AddedVolume,
    /// The weight of one item, by such a part of it.
    Weight(ItemIndex),
    /// Several of one kind, each by so many times this.
    Together(Vec<(Bend, f64)>),
}

/// Which figures a bend can move.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Moves {
    /// Those of bitterness: alpha acids count nowhere else.
    Bitterness,
    /// Those of colour, in the same way.
    Colour,
    /// Any.
    Any,
}

impl Bend {
    pub(super) fn moves(&self) -> Moves {
        match self {
            Self::Together(bends) => bends.first().map_or(Moves::Any, |(bend, _)| bend.moves()),
            Self::Alpha(_) => Moves::Bitterness,
            Self::Colour(_) => Moves::Colour,
            _ => Moves::Any,
        }
    }

    /// Bends a brew by so much.
    pub(super) fn apply(&self, by: f64, setup: &mut Setup, amounts: &mut Amounts) {
        match self {
            Self::Plant(figure) => {
                if let Some(value) = figure.of(&setup.plant) {
                    setup.plant = figure.with(&setup.plant, value + by);
                }
            }
            Self::Extract(items) => each(setup, items, |material| with_extract(material, by)),
            Self::DrinkAlcohol(items) => each(setup, items, |material| {
                if let Material::Beverage(drink) = material {
                    let more_kg = drink.per_kg.ethanol_kg * by;
                    drink.per_kg.ethanol_kg += more_kg;
                    drink.per_kg = drink.per_kg.with_water_kg(-more_kg);
                    drink.density_kg_l = drink.per_kg.density_20() / 1000.0;
                }
            }),
            Self::Colour(items) => each(setup, items, |material| with_colour(material, by)),
            Self::Alpha(items) => each(setup, items, |material| {
                if let Material::Hop { alpha: Some(alpha) } = material {
                    *alpha *= 1.0 + by;
                }
            }),
            Self::Ferments(items) => each(setup, items, |material| {
                if let Material::Fermentable(part) = material {
                    part.ferments = part.ferments.map(|share| share + by);
                }
            }),
            Self::MaltFerments => {
                for item in setup.formula.items.values_mut() {
                    if let Material::Fermentable(part) = &mut item.material
                        && matches!(part.sugars, Sugars::Starch | Sugars::MaltExtract)
                    {
                        part.ferments = part.ferments.map(|share| share * (1.0 + by));
                    }
                }
            }
            Self::MashRests => setup.mash_factor.rests *= 1.0 + by,
            Self::HopsKeep => setup.formula.hops_keep *= 1.0 + by,
            Self::Water => {
                amounts.liquor.mash_l *= 1.0 + by;
                amounts.liquor.sparge_l *= 1.0 + by;
            }
            Self::AddedVolume => {
                let items = setup.formula.items.with_mut(&mut amounts.of);
                for (item, amount) in items {
                    if item.place.stage >= Stage::Ferment && item.is_by_volume() {
                        *amount *= 1.0 + by;
                    }
                }
            }
            Self::Together(bends) => {
                for (bend, times) in bends {
                    bend.apply(by * times, setup, amounts);
                }
            }
            Self::Weight(index) => {
                let weighed = amounts.of.at(*index) * (1.0 + by);
                amounts.of.set(*index, weighed);
            }
        }
    }
}

fn each(setup: &mut Setup, items: &[ItemIndex], bend: impl Fn(&mut Material)) {
    for index in items {
        if let Some(item) = setup.formula.items.get_mut(*index) {
            bend(&mut item.material);
        }
    }
}

fn with_extract(material: &mut Material, by: f64) {
    match material {
        Material::Fermentable(part) => {
            let dissolves = is_solution(part);
            part.extract *= 1.0 + by;
            if dissolves {
                // The rest of it is water.
                part.water = 1.0 - part.extract;
                part.density_kg_l = sucrose_density_20(part.extract) / 1000.0;
            }
        }
        Material::Beverage(drink) => {
            let more_kg = drink.per_kg.extract_kg * by;
            drink.per_kg.extract_kg += more_kg;
            drink.per_kg = drink.per_kg.with_water_kg(-more_kg);
            drink.density_kg_l = drink.per_kg.density_20() / 1000.0;
        }
        _ => {}
    }
}

/// Whether something is extract and water and nothing else, as sugars and juices are.
fn is_solution(part: &Fermentable) -> bool {
    part.pulp.is_none() && (part.extract + part.water - 1.0).abs() < 1e-9
}

fn with_colour(material: &mut Material, by: f64) {
    match material {
        Material::Fermentable(part) => {
            part.colour_ebc = part.colour_ebc.map(|ebc| ebc * (1.0 + by));
            part.colour_yield = part.colour_yield.map(|ebc| ebc * (1.0 + by));
        }
        Material::Beverage(drink) => {
            drink.colour_ebc = drink.colour_ebc.map(|ebc| ebc * (1.0 + by));
        }
        _ => {}
    }
}
