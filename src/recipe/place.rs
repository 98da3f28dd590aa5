//! The inputs of the models, for what speaks of one.

use super::{Lot, Section};
use crate::diagnostic::Place;
use std::sync::Arc;

/// An addition and a part of it.
macro_rules! lines {
    ($addition:literal) => {
        [$addition, concat!($addition, ".content.blend[#]")]
    };
}

impl Place {
    /// A field of the recipe that stands in no list, by its path.
    pub(crate) const fn recipe(field: &'static str) -> Self {
        Self::of("recipe", [0; 3]).field(field)
    }

    /// An addition, or a part of one. `step` is that of the hot side for what goes into a stand.
    pub(crate) fn addition(
        section: Section,
        step: usize,
        index: usize,
        part: Option<usize>,
    ) -> Self {
        let [whole, blend] = match section {
            Section::Mash => lines!("recipe.mash.additions[#]"),
            Section::Boil => lines!("recipe.boil.additions[#]"),
            Section::Stand => lines!("recipe.hot_side[#].stand.additions[#]"),
            Section::Ferment => lines!("recipe.fermentation.additions[#]"),
            Section::Package => lines!("recipe.package.additions[#]"),
        };
        let object = if part.is_some() { blend } else { whole };
        let part = part.unwrap_or_default();
        let numbers = match section {
            Section::Stand => [step, index, part],
            _ => [index, part, 0],
        };
        Self::of(object, numbers.map(number))
    }

    /// The water that makes up the wort in the fermenter.
    pub(crate) const fn top_up() -> Self {
        Self::of("recipe.fermentation.top_up", [0; 3])
    }

    /// The yeast's line.
    pub(crate) const fn pitch() -> Self {
        Self::of("recipe.fermentation.pitch", [0; 3])
    }

    /// The bacteria that sour the wort.
    pub(crate) const fn souring_culture() -> Self {
        Self::of("recipe.souring.culture", [0; 3])
    }

    /// A rest of the mash.
    pub(crate) fn rest(index: usize) -> Self {
        Self::of("recipe.mash.rests[#]", [number(index), 0, 0])
    }

    /// A stand, by its step of the hot side.
    pub(crate) fn stand(step: usize) -> Self {
        Self::of("recipe.hot_side[#].stand", [number(step), 0, 0])
    }

    /// A field of a plant; of one that is not described, the line of the recipe that ought to name it.
    pub(crate) fn plant(name: &Arc<str>, field: &'static str) -> Self {
        if name.is_empty() {
            return Self::recipe("brewed_on");
        }
        Self::named("brewhouses[*]", Arc::clone(name), [0; 3]).field(field)
    }

    /// A cooling between stands, by its step of the hot side.
    pub(crate) fn cooling(step: usize) -> Self {
        Self::of("recipe.hot_side[#].cool", [number(step), 0, 0])
    }

    /// A temperature held while it ferments.
    pub(crate) fn hold(index: usize) -> Self {
        Self::of("recipe.fermentation.holds[#]", [number(index), 0, 0])
    }

    /// A lot of the stock.
    pub(crate) fn lot(index: usize) -> Self {
        Self::of("stock.lots[#]", [number(index), 0, 0])
    }

    /// The ingredient of a lot.
    pub(crate) fn of_lot(index: usize, lot: &Lot) -> Self {
        Self::lot(index).part(match lot {
            Lot::Held(..) => "held.ingredient",
            Lot::Any(_) => "any",
            Lot::Missing(_) => "missing",
        })
    }

    /// An own ingredient of the texts.
    pub(crate) fn own_ingredient(index: usize) -> Self {
        Self::of("ingredients[#]", [number(index), 0, 0])
    }

    /// The log of that name, or of that number where it has none.
    pub(crate) fn log(log: &Arc<str>) -> Self {
        Self::named("logs[*]", Arc::clone(log), [0; 3])
    }

    /// An entry of the log of that name.
    pub(crate) fn log_entry(log: &Arc<str>, index: usize) -> Self {
        let numbers = [number(index), 0, 0];
        Self::named("logs[*].entries[#]", Arc::clone(log), numbers)
    }
}

fn number(index: usize) -> u32 {
    u32::try_from(index).unwrap_or(u32::MAX)
}
