//! Density of water and of sugar solutions, and the gravity scales read from it.
//!
//! Brewing takes the extract of a wort for sucrose: degrees Plato are per cent by mass of the sucrose solution of the
//! same density. Everything here rests on two published formulas: Kell 1975 for water ([`water()`]) and the ICUMSA
//! polynomial for sucrose ([`sucrose_solution`]). No gravity "points" and no fitted cubic stand between them.
//!
//! | from | to | call |
//! |---|---|---|
//! | temperature | density of water | [`water()`] |
//! | extract, temperature | density | [`sucrose_solution`] |
//! | density, temperature | extract | [`extract_from_density`] |
//! | extract | specific gravity | [`gravity_of`], [`gravity_weighed`] |
//! | specific gravity | extract | [`extract_of`], [`extract_weighed`] |

mod gravity;
mod sucrose;
mod water;

pub use gravity::{Weighing, extract_of, extract_weighed, gravity_of, gravity_weighed};
pub use sucrose::{extract_from_density, sucrose_solution};
pub use water::water;

pub(crate) use gravity::gravity_ratio;
pub(crate) use sucrose::{
    WATER_20, WATER_KG_PER_L, extract_fraction_from_density_20, solution_density,
    solution_volume_at_l, sucrose_density_20, sucrose_density_and_slope_20,
};
