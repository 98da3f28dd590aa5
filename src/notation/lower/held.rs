//! A temperature and how long it is held, in either order.

use super::Lower;
use crate::notation::cursor::Cursor;
use crate::notation::grammar::{Role, Takes};
use crate::quantity::{Dimension, Temperature, Time, Written};
use std::fmt::Display;

/// What of the two is stated.
#[derive(Debug, Default)]
pub(super) struct Held {
    pub(super) temperature: Option<Written<Temperature>>,
    pub(super) time: Option<Written<Time>>,
}

impl Held {
    fn lacks(&self, role: &Role) -> bool {
        if role.dimensions == [Dimension::Time] {
            self.time.is_none()
        } else {
            self.temperature.is_none()
        }
    }
}

impl Lower<'_> {
    /// `66 C for 50 min`: the unit tells which is which. Once those that are needed stand, another one needs its word.
    pub(super) fn held(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        takes: &'static [Takes],
        place: impl Display + Copy,
    ) -> Option<Held> {
        let mut held = Held::default();
        loop {
            let open = takes.iter().filter_map(|takes| match takes {
                Takes::Figure(role) if held.lacks(role) => Some(role),
                _ => None,
            });
            let open: Vec<&Role> = open.collect();
            let enough = !open.iter().any(|role| role.needed);
            let at_end = cursor.is_empty();
            let linked = open
                .iter()
                .flat_map(|role| role.after)
                .any(|word| cursor.eat(&[word]));
            if open.is_empty() || (enough && !linked) {
                return Some(held);
            }
            let wanted = open.iter().filter(|role| role.needed || !at_end);
            let wanted: Vec<Dimension> = wanted.flat_map(|role| role.dimensions).copied().collect();
            let measure = self.measure(cursor, &wanted, place)?;
            if measure.unit.dimension() == Dimension::Time {
                held.time = Some(self.written(&measure)?);
            } else {
                held.temperature = Some(self.written(&measure)?);
            }
        }
    }
}
