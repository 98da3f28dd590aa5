//! What a plant learns from its brewing days.

mod by_hand;
mod contradictions;
mod simulated;
