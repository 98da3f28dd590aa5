//! Bitterness from hops.

/// From hops to bitterness and back, given the share of the alpha acids that is used.
pub(crate) mod amount;
/// Isomerisation and loss over a temperature history (Malowicki and Shellhammer 2005).
pub(crate) mod kinetics;
/// Ageing of hops in store.
pub(crate) mod storage;
/// Utilisation by boiling time and gravity (Tinseth 1997).
pub(crate) mod tinseth;

pub use amount::BitteringHops;
pub use kinetics::{CoilCooling, Isomerisation};
pub use storage::{HopPackaging, HopStore, StorageIndex, lost_by_storage_index};
pub use tinseth::utilisation;

pub(crate) use kinetics::TemperaturePath;
