//! Pure relations of the trade, one file a topic; each states its source, its range and its units.
//!
//! - [`attenuation`]: extract into alcohol, and what a hydrometer shows of it
//! - [`boiling`]: boiling point of water at an altitude or a pressure
//! - [`density`]: water and sugar solutions, and the gravity scales read from them
//! - [`ethanol`]: ethanol and water, strength by volume and by mass
//! - [`evaporation`]: evaporation in the boil, and the volume of hot against cold wort

pub mod attenuation;
pub mod boiling;
pub mod density;
pub mod ethanol;
pub mod evaporation;
