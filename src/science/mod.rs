//! Pure relations of the trade, one file a topic; each states its source, its range and its units.

/// Density of water and of sugar solutions, and the gravity scales read from it.
pub mod density;
/// Density of ethanol and water, and strength by volume and by mass.
pub mod ethanol;
/// Extract into alcohol, and what a hydrometer shows of it.
pub mod attenuation;
