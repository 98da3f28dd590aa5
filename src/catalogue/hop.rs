//! Hop cultivars.

use super::row::{List, Text, row};
use super::{Commonness, HopAroma, HopUse, OilContent};
use crate::quantity::{AlphaAcids, Share};

row! {
    /// A hop cultivar, with ranges of cones as is. An unknown figure is `None`.
    Hop {
        /// What it is grown for.
        usage: Option<HopUse> => "usage";
        /// Usual range of alpha acids, by mass as sold; the middle is used where a lot states none.
        alpha_range: Option<(AlphaAcids, AlphaAcids)> => "alpha_range_pct", "super::percent::Range";
        /// Beta acids.
        beta_range: Option<(Share, Share)> => "beta_range_pct", "super::percent::Range";
        /// Cohumulone in the alpha acids.
        cohumulone_range: Option<(Share, Share)> => "cohumulone_range_pct", "super::percent::Range";
        /// Essential oil.
        oil_range: Option<(OilContent, OilContent)> => "oil_range_ml_100g";
        /// Alpha acids lost by cones in six months at about 20 °C.
        storage_loss: Option<Share> => "storage_loss_pct", "super::percent::One";
        /// What it smells of.
        aroma: Option<HopAroma> => "aroma";
        /// How easily a brewer buys it in small amounts: editorial judgement, no source.
        commonness: Option<Commonness> => "commonness";
        /// The circles of like aroma that brewers put it in. Common practice, no source.
        circles: List<Text> => "circles";
        /// Cultivars that growers name beside it.
        close_to: List<Text> => "close_to";
    }
}

impl Hop {
    /// The middle of the range of alpha acids; a lot's own figure goes before it.
    ///
    /// ```
    /// use wortwright::catalogue::{Catalogue, EntryRef};
    /// let catalogue = Catalogue::builtin();
    /// let found = catalogue.find("fuggles").expect("a known hop");
    /// let EntryRef::Hop(hop) = found.entry else { panic!("a hop") };
    /// assert!(hop.alpha().expect("known").percent() > 3.0);
    /// ```
    #[must_use]
    pub fn alpha(&self) -> Option<AlphaAcids> {
        let (low, high) = self.alpha_range?;
        Some(AlphaAcids::clamped(f64::midpoint(
            low.fraction(),
            high.fraction(),
        )))
    }
}
