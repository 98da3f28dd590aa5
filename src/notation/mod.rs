//! The plain-text notation.

mod cursor;
mod lower;
mod number;
mod parse;
mod print;
mod reading;
mod sink;
mod timing;
mod tree;
mod write;

pub use number::Number;
pub use reading::{ReadOptions, Reading, ReadingNote, read, read_documents, read_with};
pub use tree::{Comment, Document, Entry, Line, Token, TokenKind};

use serde::{Deserialize, Serialize};

/// What a comma between two digits means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DecimalComma {
    /// It is ambiguous and refused.
    #[default]
    Refused,
    /// It is the decimal sign.
    Accepted,
}
