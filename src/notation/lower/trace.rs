//! Which inputs the lines state, noted where somebody asks.

use super::Lower;
use crate::diagnostic::{Place, Span};
use crate::notation::inputs::Inputs;
use crate::recipe::Section;
use std::sync::Arc;

/// The inputs so far, and where among the models the reader stands. Lines are counted whether or not they can be used, so
/// that the places of a model written as text are those of the model.
#[derive(Debug, Default)]
pub(in crate::notation) struct Trace {
    pub(in crate::notation) inputs: Inputs,
    /// Additions by section, those of a stand from its head.
    additions: [usize; 5],
    rests: usize,
    hot_steps: usize,
    holds: usize,
    lots: usize,
    logs: usize,
    entries: usize,
    own_ingredients: usize,
    plant: Arc<str>,
    log: Arc<str>,
    item: Option<Item>,
}

/// The item that is being read.
#[derive(Debug, Clone)]
struct Item {
    line: Place,
    /// The path from its line to its ingredient.
    ingredient: &'static str,
    /// Section, step of the hot side and number of an addition, by which its parts are known.
    addition: Option<(Section, usize, usize)>,
}

fn next(count: &mut usize) -> usize {
    let this = *count;
    *count += 1;
    this
}

impl Trace {
    pub(super) fn rest(&mut self) -> Place {
        Place::rest(next(&mut self.rests))
    }

    pub(super) fn hold(&mut self) -> Place {
        Place::hold(next(&mut self.holds))
    }

    pub(super) fn stand(&mut self) -> Place {
        if let Some(count) = self.additions.get_mut(Section::Stand as usize) {
            *count = 0;
        }
        Place::stand(next(&mut self.hot_steps))
    }

    pub(super) fn cooling(&mut self) -> Place {
        Place::cooling(next(&mut self.hot_steps))
    }

    pub(super) fn own_ingredient(&mut self) -> Place {
        Place::own_ingredient(next(&mut self.own_ingredients))
    }

    pub(super) fn plant(&mut self, name: &str) -> Place {
        self.plant = name.into();
        self.of_plant("")
    }

    pub(super) fn of_plant(&self, field: &'static str) -> Place {
        Place::plant(&self.plant, field)
    }

    pub(super) fn log(&mut self, name: &str) -> Place {
        let number = next(&mut self.logs);
        self.log = match name {
            "" => number.to_string().into(),
            name => name.into(),
        };
        self.entries = 0;
        Place::log(&self.log)
    }

    pub(super) fn entry(&mut self) -> Place {
        Place::log_entry(&self.log, next(&mut self.entries))
    }
}

impl Lower<'_> {
    /// Notes what a span states.
    pub(super) fn states(&mut self, span: Span, place: impl FnOnce(&mut Trace) -> Place) {
        if let Some(trace) = &mut self.trace {
            let place = place(trace);
            trace.inputs.push(span, place);
        }
    }

    /// Says that the next item is an addition of a section.
    pub(super) fn next_addition(&mut self, section: Section) {
        if let Some(trace) = &mut self.trace
            && let Some(count) = trace.additions.get_mut(section as usize)
        {
            let step = trace.hot_steps.saturating_sub(1);
            let index = next(count);
            trace.item = Some(Item {
                line: Place::addition(section, step, index, None),
                ingredient: "content.single",
                addition: Some((section, step, index)),
            });
        }
    }

    /// Says that the next item stands elsewhere.
    pub(super) fn next_item(
        &mut self,
        ingredient: &'static str,
        place: impl FnOnce(&mut Trace) -> Place,
    ) {
        if let Some(trace) = &mut self.trace {
            let line = place(trace);
            trace.item = Some(Item {
                line,
                ingredient,
                addition: None,
            });
        }
    }

    pub(super) fn next_lot(&mut self, ingredient: &'static str) {
        self.next_item(ingredient, |trace| Place::lot(next(&mut trace.lots)));
    }

    /// Notes a field of the item that is being read, all of it without one.
    pub(super) fn item_states(&mut self, span: Span, field: &'static str) {
        if let Some(trace) = &mut self.trace
            && let Some(item) = &trace.item
        {
            trace.inputs.push(span, item.line.clone().field(field));
        }
    }

    /// Notes a field of the item's ingredient.
    pub(super) fn figure_states(&mut self, span: Span, field: &'static str) {
        if let Some(trace) = &mut self.trace
            && let Some(item) = &trace.item
        {
            let place = item.line.clone().part(item.ingredient).field(field);
            trace.inputs.push(span, place);
        }
    }

    /// Takes a step from a blend to one of its parts, and back.
    pub(super) fn in_part<R>(&mut self, part: usize, read: impl FnOnce(&mut Self) -> R) -> R {
        let whole = self.trace.as_mut().and_then(|trace| trace.item.clone());
        if let Some(trace) = &mut self.trace
            && let Some(item) = &mut trace.item
            && let Some((section, step, index)) = item.addition
        {
            item.line = Place::addition(section, step, index, Some(part));
        }
        let read = read(self);
        if let Some(trace) = &mut self.trace {
            trace.item = whole;
        }
        read
    }
}
