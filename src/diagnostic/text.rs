//! A text that is kept, with its name.

use super::TextRef;
use std::sync::Arc;

/// A text with the name by which messages call it, owned and cheap to clone.
///
/// Made from a pair: `("beer.gyle", text)` of `&str`, `String` or `Arc<str>`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Text {
    name: Arc<str>,
    text: Arc<str>,
}

impl Text {
    /// A text and its name: a file name, or any word that a person recognises.
    pub fn new(name: impl Into<Arc<str>>, text: impl Into<Arc<str>>) -> Self {
        Self {
            name: name.into(),
            text: text.into(),
        }
    }

    /// What messages call it.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The text itself.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The same, borrowed for reading.
    pub fn borrowed(&self) -> TextRef<'_> {
        TextRef::new(&self.name, &self.text)
    }
}

impl From<TextRef<'_>> for Text {
    fn from(source: TextRef<'_>) -> Self {
        Self::new(source.name, source.text)
    }
}

impl<N: Into<Arc<str>>, T: Into<Arc<str>>> From<(N, T)> for Text {
    fn from((name, text): (N, T)) -> Self {
        Self::new(name, text)
    }
}
