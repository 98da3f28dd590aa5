//! Units and values as written.

mod written;
