//! Herbs, spices, flowers and woods, with what they can do to people. Not medical or legal advice.

use super::row::{Text, row};
use super::{BotanicalJob, CautionLevel};
use crate::quantity::Concentration;

row! {
    /// A herb, spice, flower or wood. An unknown figure is `None`.
    Botanical {
        /// Species.
        botanical: Text => "botanical";
        /// Part of the plant.
        part: Text => "part";
        /// Usual dose of dried material (fresh for peels, tips and nettle) in the beer: common practice, no source.
        /// Both ends are 0 where it must not be used.
        dose_range: Option<(Concentration, Concentration)> => "dose_range_g_l";
        /// Where it goes.
        use_stage: Text => "use_stage";
        /// What it does in a beer.
        job: Option<BotanicalJob> => "job";
        /// How much care it asks for.
        caution_level: Option<CautionLevel> => "caution_level";
        /// What to take care of.
        cautions: Text => "cautions";
    }
}
