//! How far a plan may be off, and its difference from the source.

use super::order::Brewing;
use crate::process::{Figures, Known, Spread, Uncertain};

impl Brewing<'_> {
    /// The spread of the prediction and of its difference from the source, whose figures are given; none where they are switched off.
    pub(super) fn spread(&self, source_figures: &Figures) -> Option<(Spread, Spread)> {
        let (source, target) = (&self.brews.source.worked, &self.brews.target);
        let here = Uncertain {
            worked: target,
            known: Known {
                brewhouse: Some(self.order.brewhouse),
                is_yield_inferred: false,
                is_fitted: target.setup.mash_factor.is_fitted(),
            },
            predicted: &self.predicted,
            gas: self.gas.as_ref(),
        };
        let there = Uncertain {
            worked: source,
            known: self.order.printed().known(source),
            predicted: source_figures,
            gas: None,
        };
        let wanted = self.order.options.spread;
        wanted.then(|| here.spread_and_difference(there))
    }
}
