//! Brewing water: its ions, its alkalinity, and the salts that bring it nearer to what a beer wants.

/// Alkalinity and the carbonate system.
pub(crate) mod carbonate;
/// Concentrations counted as charge.
pub(crate) mod equivalents;
/// Ions of a water, residual alkalinity, electrical balance.
pub(crate) mod ions;
/// Salts for wanted ions.
pub(crate) mod salts;

pub use carbonate::{CarbonateWater, alkalinity_from_bicarbonate};
pub use equivalents::EquivalentConcentration;
pub use ions::{Balance, Ion, Ions, NamedIons};
pub(crate) use salts::{Dosed, doses_for};
pub use salts::{MissedIon, SaltSolution, Settled, WaterTreatment};
