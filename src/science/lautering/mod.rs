//! What runs off from a mash and what the grain keeps: the mass balance of ideal mixing.
//!
//! The solution in a mash is all its extract and all its water, malt moisture included. Every drain stops when the
//! grain holds the same amount of solution as after the first one, so it leaves retained/mixed of the extract
//! behind. Apparent absorption (water in less wort out) is *not* what is retained: the extract swells the solution,
//! and [`retained_wort`] goes from one to the other.
//!
//! [`lauter`] works over masses, the textbook's cross-current washing; with
//! volumes in place of masses the same shares follow, since a mixed solution is one thing throughout
//! ([`left_behind`]).

/// Strength of the first wort.
pub(crate) mod first_wort;
/// What the grain keeps: wort between drains, water at the end.
pub(crate) mod grain;
/// First wort and sparges, one after another.
pub(crate) mod run_off;

pub use first_wort::first_wort;
pub use grain::{SpentGrain, left_behind, retained_wort, spent_grain};
pub use run_off::{Lautered, MashSolution, RunOff, Sparge, equal_portion, lauter};

/// More than any mash tun holds, kg or L.
const MOST_KG: f64 = 1e7;
