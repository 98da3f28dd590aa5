//! Pure relations of the trade, one file a topic; each states its source, its range and its units.

/// Extract into alcohol, and what a hydrometer shows of it.
pub mod attenuation;
/// Boiling point of water at an altitude or a pressure.
pub mod boiling;
/// Density of water and of sugar solutions, and the gravity scales read from it.
pub mod density;
/// Density of ethanol and water, and strength by volume and by mass.
pub mod ethanol;
/// Evaporation in the boil, and the volume of hot against cold wort.
pub mod evaporation;
