//! What may stand for an ingredient that cannot be had.
mod options;
mod search;
mod weights;
pub use options::{Candidates, SubstituteOptions};
pub use search::Effort;
pub use weights::Weights;
