//! When a caution applies and what it says.

mod triggers;
