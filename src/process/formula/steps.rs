//! What is done to the whole of a wort: the rests of its mash, and stands and coolings after the boil.

use crate::quantity::in_minutes;
use crate::recipe::{Heating, HotStep, Recipe};
use crate::science::fermentability::MashHold;

/// A rest of the mash: what it is held at, how long, and how it is reached where the recipe says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct RestOf {
    pub(crate) hold: MashHold,
    pub(crate) by: Option<Heating>,
}

/// A step between the boil and the fermenter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum HotStepOf {
    Stand {
        /// Which step of the recipe's hot side.
        index: usize,
        /// Without a temperature the wort stands as hot as it is.
        at_c: Option<f64>,
        time_min: f64,
        /// Whether nothing goes into it.
        bare: bool,
    },
    /// A cooling without a time takes its part of the plant's; with no stand behind it, it is passed on the way.
    Cool { to_c: f64, time_min: Option<f64> },
}

pub(super) fn rests(recipe: &Recipe) -> Vec<RestOf> {
    (recipe.mash.rests.iter())
        .map(|rest| RestOf {
            hold: MashHold {
                temperature: rest.temperature.value(),
                time: rest.time.value(),
                heated: false,
            },
            by: rest.by,
        })
        .collect()
}

pub(super) fn hot_steps(recipe: &Recipe) -> Vec<HotStepOf> {
    recipe
        .hot_side
        .iter()
        .enumerate()
        .map(|(index, step)| match step {
            HotStep::Stand(stand) => HotStepOf::Stand {
                index,
                at_c: stand.temperature.as_ref().map(|t| t.value().celsius()),
                time_min: in_minutes(stand.time.value()),
                bare: stand.additions.is_empty(),
            },
            HotStep::Cool(cool) => HotStepOf::Cool {
                to_c: cool.to.value().celsius(),
                time_min: cool.time.as_ref().map(|time| in_minutes(time.value())),
            },
        })
        .collect()
}
