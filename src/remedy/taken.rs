//! What a taken remedy changes: a line of the plant, or a line more in the recipe whose amount the target alone decides.

use super::Remedy;
use super::bitterness::stays;
use super::out_of_reach::{DISSOLVED_AT_MIN, SUGAR_EXTRACT, boil_step_min};
use crate::catalogue::Kind;
use crate::process::{DRIED_MALT_EXTRACT, Formula, Item, ItemIndex, Rule, Stage};
use crate::quantity::{
    LaboratoryExtract, Share, Time, Unit, UnitSystem, Volume, Written, in_kilograms, in_litres,
    in_minutes, kilograms, litres, minutes,
};
use crate::recipe::{
    Addition, Amount, At, Bag, Batch, BatchPoint, Brewhouse, ExtractBasis, HotStep, Ingredient,
    Lauter, Recipe, Section, StatedExtract,
};
use crate::speech::Style;

/// What dried malt extract and sugar are called in the catalogue.
const DRIED_EXTRACT: &str = "dried malt extract pale";
const SUGAR: &str = "sucrose";
/// Water that makes up a volume.
const WATER: &str = "water";

/// What goes into a line that a remedy has put into the recipe.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Relief {
    /// Kilograms that dissolve in the kettle, with less grain and other sugar to match.
    Dissolved(f64),
    /// Kilograms of grain, with less of the rest of the grist to match.
    Mashed(f64),
    /// Litres of water that make up the volume in the fermenter.
    TopUp(f64),
}

impl Remedy {
    /// What it puts into a line of its own, and the name of that line.
    fn relief(&self) -> Option<(&str, Relief)> {
        match self {
            Self::DriedExtract { mass, .. } | Self::ExtractBatch { mass, .. } => {
                Some((DRIED_EXTRACT, Relief::Dissolved(in_kilograms(*mass))))
            }
            Self::Sugar { mass, .. } => Some((SUGAR, Relief::Dissolved(in_kilograms(*mass)))),
            Self::DarkMalt { name, mass, .. } => Some((name, Relief::Mashed(in_kilograms(*mass)))),
            Self::TopUp { water, .. } => Some((WATER, Relief::TopUp(in_litres(*water)))),
            Self::Sparge { .. }
            | Self::SmallerBatch { .. }
            | Self::SeveralBrews { .. }
            | Self::LongerBoil { .. }
            | Self::StandTime { .. }
            | Self::BoiledHops { .. } => None,
        }
    }

    /// The plant as it has it.
    pub(crate) fn on_plant(&self, mut plant: Brewhouse) -> Brewhouse {
        let unit = match plant.unit_system() {
            UnitSystem::Metric => Unit::Litre,
            UnitSystem::Us => Unit::Gallon,
            UnitSystem::Imperial => Unit::ImperialGallon,
        };
        let written = |volume: Volume| Written::computed(volume, unit);
        match self {
            Self::Sparge { water, .. } => {
                let sparge = Some(written(*water));
                plant.lauter = Some(Lauter::Bag(Bag { sparge }));
            }
            Self::SmallerBatch { batch, .. }
            | Self::SeveralBrews { batch, .. }
            | Self::ExtractBatch { batch, .. } => {
                plant.batch = Some(Batch::new(written(*batch), BatchPoint::IntoFermenter));
            }
            Self::DriedExtract { .. }
            | Self::Sugar { .. }
            | Self::LongerBoil { .. }
            | Self::DarkMalt { .. }
            | Self::StandTime { .. }
            | Self::BoiledHops { .. }
            | Self::TopUp { .. } => {}
        }
        plant
    }

    /// The same, by so many steps of what is measured to the safe side.
    pub(crate) fn further(&self, steps: u32, style: Style) -> Self {
        let steps = f64::from(steps);
        let less = |volume: Volume| {
            let l = in_litres(volume);
            litres(style.volume_down_l((l - steps * style.volume_step_l(l)).max(0.0)))
        };
        let more = |volume: Volume| {
            let l = in_litres(volume);
            litres(style.volume_up_l(l + steps * style.volume_step_l(l)))
        };
        let mut further = self.clone();
        match &mut further {
            Self::Sparge { water, .. } | Self::TopUp { water, .. } => *water = more(*water),
            Self::SmallerBatch { batch, .. }
            | Self::SeveralBrews { batch, .. }
            | Self::ExtractBatch { batch, .. } => *batch = less(*batch),
            Self::DriedExtract { mass, .. } | Self::Sugar { mass, .. } => {
                let kg = in_kilograms(*mass) * (1.0 + steps / 100.0);
                *mass = kilograms(style.mass_up_kg(kg));
            }
            Self::LongerBoil { boil, .. } => {
                let min = in_minutes(*boil);
                *boil = minutes(min + steps * boil_step_min(min));
            }
            Self::DarkMalt { .. } | Self::StandTime { .. } | Self::BoiledHops { .. } => {}
        }
        further
    }

    /// The time of a stand of the recipe on the target, where it says one: which step, and its minutes.
    pub(crate) fn stand_min(&self) -> Option<(usize, f64)> {
        match self {
            Self::StandTime { stand, time, .. } => Some((stand.checked_sub(1)?, in_minutes(*time))),
            _ => None,
        }
    }

    /// The hop that boils as well, by its name, and with how much left to boil.
    fn boiled_hop(&self) -> Option<(&str, Time)> {
        match self {
            Self::BoiledHops {
                name, time_left, ..
            } => Some((name, *time_left)),
            _ => None,
        }
    }

    /// Whether water makes up the volume of what is boiled.
    pub(crate) const fn tops_up(&self) -> bool {
        matches!(self, Self::TopUp { .. })
    }

    /// The length of the boil on the target, where it says one, minutes.
    pub(crate) fn boil_min(&self) -> Option<f64> {
        match self {
            Self::LongerBoil { boil, .. } => Some(in_minutes(*boil)),
            _ => None,
        }
    }
}

/// The recipe with a line for what each remedy adds on a plant. On its own plant there is nothing of it.
pub(crate) fn with_lines(recipe: &Recipe, plant: &Brewhouse, taken: &[Remedy]) -> Recipe {
    let mashes = plant.lauter != Some(Lauter::NoMash);
    let mut recipe = recipe.clone();
    let by_share = [Section::Mash, Section::Boil].into_iter().any(|section| {
        let mut lines = recipe.section(section);
        lines.any(|line| matches!(line.amount, Some(Amount::Share(_))))
    });
    let nothing = || {
        if by_share {
            Amount::Share(Written::in_base_unit(Share::clamped(0.0)))
        } else {
            Amount::Mass(Written::in_base_unit(kilograms(0.0)))
        }
    };
    let boils = recipe.boil.time.is_some() || !recipe.boil.additions.is_empty();
    for (name, relief) in taken.iter().filter_map(Remedy::relief) {
        match relief {
            Relief::Mashed(_) => {
                let mut line = Addition::of(Ingredient::new(name, Kind::Malt));
                line.amount = Some(nothing());
                recipe.mash.additions.push(line);
            }
            Relief::Dissolved(_) => {
                let mut line = Addition::of(dissolved(name));
                line.amount = Some(nothing());
                // A line below `boil` would make a boil where there is none.
                if boils {
                    // What stands for the grain is boiled as its wort would be.
                    let left = Written::in_base_unit(minutes(DISSOLVED_AT_MIN));
                    line.timing.at = mashes.then_some(At::TimeLeft(left));
                    recipe.boil.additions.push(line);
                } else {
                    recipe.mash.additions.push(line);
                }
            }
            Relief::TopUp(_) => {
                let mut line = Addition::of(Ingredient::new(WATER, Kind::Beverage));
                line.amount = Some(Amount::Volume(Written::in_base_unit(litres(0.0))));
                line.timing.at = Some(At::AfterPitching(Written::in_base_unit(minutes(0.0))));
                recipe.fermentation.additions.push(line);
            }
        }
    }
    for (name, time_left) in taken.iter().filter_map(Remedy::boiled_hop) {
        if let Some(hop) = standing(&recipe, name) {
            // The first bittering hop closes the gap, so that its amount is the plan's to find.
            let mut line = Addition::of(hop);
            line.amount = Some(Amount::Mass(Written::in_base_unit(kilograms(0.0))));
            line.timing.at = Some(At::TimeLeft(Written::in_base_unit(time_left)));
            recipe.boil.additions.push(line);
        }
    }
    recipe
}

/// The recipe with the times of the stands that remedies change.
pub(crate) fn with_stands(recipe: &mut Recipe, taken: &[Remedy]) {
    for (index, time_min) in taken.iter().filter_map(Remedy::stand_min) {
        if let Some(HotStep::Stand(stand)) = recipe.hot_side.get_mut(index) {
            let before_min = in_minutes(stand.time.value());
            for addition in &mut stand.additions {
                stays(&mut addition.timing, before_min, time_min);
            }
            stand.time = Written::in_base_unit(minutes(time_min));
        }
    }
}

/// A hop in a stand, by its name.
fn standing(recipe: &Recipe, name: &str) -> Option<Ingredient> {
    let stands = recipe.hot_side.iter().filter_map(|step| match step {
        HotStep::Stand(stand) => Some(stand),
        HotStep::Cool(_) => None,
    });
    let mut hops = stands.flat_map(|stand| &stand.additions);
    let hop = hops.find_map(|addition| {
        let hop = addition.ingredient()?;
        (hop.name == name).then_some(hop)
    });
    hop.cloned()
}

/// Extract or sugar, with the extract that the remedy counted on.
fn dissolved(name: &str) -> Ingredient {
    let mut ingredient = Ingredient::new(name, Kind::Sugar);
    ingredient.entry = Some(name.to_owned());
    let extract = if name == DRIED_EXTRACT {
        DRIED_MALT_EXTRACT
    } else {
        SUGAR_EXTRACT
    };
    ingredient.facts.extract = Some(StatedExtract {
        value: Written::in_base_unit(LaboratoryExtract::clamped(extract)),
        basis: ExtractBasis::AsIs,
    });
    ingredient
}

/// The items of those lines and what goes into each, in the order in which the remedies were taken.
pub(crate) fn reliefs(formula: &Formula, taken: &[Remedy]) -> Vec<(ItemIndex, Relief)> {
    let is_open = |item: &Item| {
        matches!(
            item.rule,
            Rule::Share(0.0) | Rule::Kilograms(0.0) | Rule::Litres(0.0) | Rule::LitresPerLitre(0.0)
        )
    };
    let mut found: Vec<(ItemIndex, Relief)> = Vec::new();
    for (name, relief) in taken.iter().filter_map(Remedy::relief) {
        let in_ferment = matches!(relief, Relief::TopUp(_));
        let mut items = formula.items.iter();
        let line = items.find(|(index, item)| {
            is_open(item)
                && item.ingredient.name == name
                && (item.place.stage == Stage::Ferment) == in_ferment
                && found.iter().all(|(other, _)| other != index)
        });
        found.extend(line.map(|(index, _)| (index, relief)));
    }
    found
}
