//! How far a prediction may be off: what is uncertain, by how much, and what of it moves which figure.

mod plant_figure;

pub(crate) use plant_figure::{DayEffect, PlantFigure};
