//! Where the lines of texts state each input.

use crate::diagnostic::{Place, Span};

/// Where the lines of texts state each input: what to underline for a place, and the place of what is pointed at.
///
/// ```
/// use wortwright::{Job, catalogue::Catalogue, diagnostic::TextRef, notation::read, speech::Speaks};
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let text = "recipe Ale\nbatch 10 L\ntarget original 12 P, alcohol 7 %\nmash\n  100 % pale ale malt\n";
/// let (source, catalogue) = (TextRef::new("ale", text), Catalogue::builtin());
/// let reading = read(&[source]);
/// let inputs = reading.inputs(&catalogue);
/// let said = Job::from_reading(reading, [source], &catalogue)?.as_written()?;
/// let doubtful = said.warnings.iter().find_map(|told| told.place()).ok_or("none")?;
/// assert_eq!(inputs.span(doubtful).ok_or("none")?.slice(text), "alcohol 7 %");
/// # Ok(())
/// # }
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Inputs {
    stated: Vec<(Span, Place)>,
}

impl Inputs {
    pub(super) fn push(&mut self, span: Span, place: Place) {
        self.stated.push((span, place));
    }

    /// Where a text states the input; where none does, what states the whole that it belongs to.
    #[must_use]
    pub fn span(&self, place: &Place) -> Option<Span> {
        let exactly = self.stated.iter().find(|(_, stated)| stated == place);
        let whole = || {
            let holds = self.stated.iter().filter(|(_, stated)| stated.holds(place));
            holds.max_by_key(|(_, stated)| stated.to_string().len())
        };
        exactly.or_else(whole).map(|(span, _)| *span)
    }

    /// The input that is stated there: that of the shortest span which holds the start of `span`.
    #[must_use]
    pub fn place(&self, span: Span) -> Option<&Place> {
        let there = |stated: &Span| {
            stated.text == span.text && stated.start <= span.start && span.start <= stated.end
        };
        let stated = self.stated.iter().filter(|(stated, _)| there(stated));
        stated
            .min_by_key(|(stated, _)| stated.end - stated.start)
            .map(|(_, place)| place)
    }

    /// What is stated, in the order of the texts.
    pub fn iter(&self) -> impl Iterator<Item = (Span, &Place)> {
        self.stated.iter().map(|(span, place)| (*span, place))
    }
}
