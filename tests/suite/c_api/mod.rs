//! The C interface.

mod hosts;
