//! The text of a token.

use std::ops::Deref;

/// A piece of the text that was read, or one of its own.
///
/// A tree is hardly more than these, so they are two thirds of a [`Cow`](std::borrow::Cow): one that owns its text is rare
/// and keeps the length of it behind the pointer.
#[derive(Debug, Clone)]
pub(super) enum Piece<'a> {
    Borrowed(&'a str),
    Owned(Box<Box<str>>),
}

impl Piece<'_> {
    pub(super) fn into_owned(self) -> Piece<'static> {
        match self {
            Self::Borrowed(text) => Piece::from(text.to_owned()),
            Self::Owned(text) => Piece::Owned(text),
        }
    }
}

impl From<String> for Piece<'_> {
    fn from(text: String) -> Self {
        Self::Owned(Box::new(text.into_boxed_str()))
    }
}

impl Deref for Piece<'_> {
    type Target = str;

    fn deref(&self) -> &str {
        match self {
            Self::Borrowed(text) => text,
            Self::Owned(text) => text,
        }
    }
}

impl PartialEq for Piece<'_> {
    fn eq(&self, other: &Self) -> bool {
        **self == **other
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_piece_is_as_large_as_a_borrowed_text() {
        assert_eq!(size_of::<Piece<'_>>(), size_of::<&str>());
    }
}
