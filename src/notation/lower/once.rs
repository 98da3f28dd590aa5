//! Where what may stand once was seen.

use crate::diagnostic::Span;

/// The first places of a few dozen words at most, so that a list is quicker than a map.
#[derive(Debug, Default)]
pub(super) struct Seen {
    places: Vec<(&'static str, Span)>,
}

impl Seen {
    pub(super) fn place(&self, word: &str) -> Option<Span> {
        let mut places = self.places.iter();
        places
            .find(|(seen, _)| *seen == word)
            .map(|(_, place)| *place)
    }

    /// Remembers the place unless the word was seen before; then gives the place where.
    pub(super) fn before(&mut self, word: &'static str, at: Span) -> Option<Span> {
        let before = self.place(word);
        if before.is_none() {
            self.places.push((word, at));
        }
        before
    }
}
