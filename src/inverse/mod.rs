//! The forward model turned round: the amounts that give what is wanted, found by running [`process`](crate::process).
//!
//! `stages` turns single stages round (the water for a run-off, the wort before a boil), `reach` finds grist and water for a
//! wort on any plant and says what stops it, `source` finds what the amounts of a printed sheet were on its own plant. `scale`
//! works plans out with them; nothing here knows of plans.

mod aim;
mod predict;
mod reach;
mod source;
mod stages;

pub(crate) use aim::{Aim, SugarShare, WortBill};
pub(crate) use predict::{predict, source_mash_ph};
pub use reach::Stop;
pub(crate) use reach::{WortReached, can_reach, fullest_hot_l, reach};
pub(crate) use source::{
    LaidOut, Notes, Printed, STRONGEST_WORT_PLATO, SourceBrew, TRACE_G_L, check_yield, dilution,
    juice_of, refuse_impossible, what_to_write, wort_for_packaged,
};
pub(crate) use stages::{liquor_to_fill, with_kept, with_top_up};

#[cfg(test)]
mod tests;
