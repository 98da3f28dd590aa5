//! Pure relations of the trade, one file a topic; each states its source, its range and its units.

/// Density of water and of sugar solutions, and the gravity scales read from it.
pub mod density;
