//! How far a prediction may be off: what is uncertain, by how much, and what of it moves which figure.
//!
//! `input` lists what a brew rests on with its one sigma (`together` what is smallest of very many items as one), `bend` runs a brew with one of those other than it was taken to be,
//! `effect` collects what each does to each figure (`gas` what no run finds, `wide` of what is hardly known, `waiting` where an addition waits for a gravity that may not come), and `result` says it.

mod bend;
mod cause;
mod effect;
mod figure;
mod gas;
mod input;
mod measure;
#[allow(dead_code, reason = "what is learnt of a plant rests on days too")]
mod plant_figure;
mod result;
#[cfg(test)]
mod tests;
mod together;
mod waiting;
mod wide;

pub use cause::{Cause, CauseKind};
pub use figure::PredictedFigure;
pub(crate) use input::{Known, LotSigma};
pub use measure::{BestMeasurement, Measurement};
pub(crate) use plant_figure::{DayEffect, PlantFigure};
pub use result::{FigureSpread, Spread};

use super::brew::Worked;
use super::figures::Figures;
use super::gas::GasPlan;
use crate::quantity::Ph;
use effect::{Effect, of_difference, shared_effects};

/// A brew whose spread is wanted.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Uncertain<'a> {
    pub(crate) worked: &'a Worked,
    pub(crate) known: Known<'a>,
    /// What is predicted of it, which holds what running it does not give.
    pub(crate) predicted: &'a Figures,
    /// How it comes to its carbon dioxide.
    pub(crate) gas: Option<&'a GasPlan>,
}

impl Uncertain<'_> {
    /// How far its prediction may be off.
    pub(crate) fn spread(self) -> Spread {
        let numbers = effect::with_others(&self.worked.brewed, self.predicted);
        Spread::by(&self.effects(), &numbers)
    }

    /// The effects of everything that it rests on.
    fn effects(self) -> Vec<Effect> {
        let worked = self.worked;
        let inputs = together::bounded(input::inputs(worked, self.known), worked);
        let mut found = effect::effects_of(worked, &inputs);
        waiting::with_waiting(&mut found, worked);
        let of_gas = self.gas.map(|gas| gas::effects(gas, worked));
        found.extend(of_gas.into_iter().flatten());
        found.extend(self.mash_ph_tables());
        found
    }

    /// What of a mash pH the tables of grain leave open, which no run finds.
    fn mash_ph_tables(self) -> Option<Effect> {
        let sigma = self.predicted.mash_ph_uncertainty.map(Ph::value)?;
        let by = |figure| match figure {
            PredictedFigure::MashPh => sigma,
            _ => 0.0,
        };
        Some(effect::by_model(CauseKind::MashPhTables, None, &by))
    }

    /// The same, and that of its difference from the brew `there`, with which it shares lots and models.
    pub(crate) fn spread_and_difference(self, there: Uncertain<'_>) -> (Spread, Spread) {
        let here = self.effects();
        let shared = shared_effects(&here, there.worked, there.known);
        let numbers = effect::with_others(&self.worked.brewed, self.predicted);
        let others = effect::with_others(&there.worked.brewed, there.predicted);
        let difference = of_difference(&here, &shared);
        let mut both = numbers;
        for (here, there) in both.iter_mut().zip(others) {
            *here = here.and(there);
        }
        let mut difference = Spread::by(&difference, &both);
        // How the original is packaged says nothing of how this beer is.
        difference.figures.remove(&PredictedFigure::Carbonation);
        (Spread::by(&here, &numbers), difference)
    }
}
