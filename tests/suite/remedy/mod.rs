//! What reaches a target that is out of reach.

mod ways_out;
