//! The score of a line that could be taken for another thing.
