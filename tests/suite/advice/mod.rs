//! What to do on the day, from a plan and a reading.

mod by_stage;
mod taken;
mod ways_on;
