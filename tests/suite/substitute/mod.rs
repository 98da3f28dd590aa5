//! What may stand for an ingredient that is not available.

mod by_hand;
mod customary;
mod doses;
mod juice_and_hop;
mod kitchen;
mod named;
mod noticed;
mod offers;
mod promised;
mod same_job;
mod together;
mod wort;
