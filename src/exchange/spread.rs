//! How far figures may be off, as an answer has it.

use super::entries::{Entry, entries};
use crate::process::{BestMeasurement, Cause, PredictedFigure, Spread};
use crate::speech::Style;
use serde::Serialize;
use std::collections::BTreeMap;

/// Of each figure of `predicted`, and what would narrow the main ones.
#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "SpreadOfFigures"))]
pub(super) struct Spreads {
    #[serde(flatten)]
    figures: BTreeMap<PredictedFigure, OfFigure>,
    measure: Vec<Entry<BestMeasurement>>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct OfFigure {
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    one_sigma: f64,
    causes: Vec<Entry<Cause>>,
}

/// A spread with the sentences of its causes and measurements.
pub(super) fn spreads(spread: &Spread, style: Style) -> Spreads {
    let of_figure = spread.figures.iter().map(|(figure, spread)| {
        let of_figure = OfFigure {
            one_sigma: spread.one_sigma,
            causes: entries(&spread.causes, style),
        };
        (*figure, of_figure)
    });
    Spreads {
        figures: of_figure.collect(),
        measure: entries(&spread.measure, style),
    }
}
