//! Amounts found from what a printed sheet says.

mod printed_lines;
mod source;
