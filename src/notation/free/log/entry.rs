//! What a line of a log says of one thing: a reading, a draw, an addition.

use super::date::Reckoned;
use crate::diagnostic::Span;
use crate::notation::free::draft::tokens;
use crate::notation::free::told::Told;
use crate::notation::tree::{Line, Token};
use crate::quantity::lexer::AsWritten;

/// Where the wort was when it was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Label {
    /// Not said.
    Open,
    /// Before the end of the boil, or hot; nothing that a log keeps.
    Hot,
    /// At a moment of the brewing day that a log keeps.
    Wort(Moment),
    /// On its way to the fermenter.
    Out,
    Fermenter,
}

impl Label {
    pub(super) const fn is_before_fermenter(self) -> bool {
        matches!(self, Self::Hot | Self::Wort(_))
    }
}

/// A moment of the brewing day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Moment {
    FirstWort,
    BeforeBoil,
    AfterBoil,
}

impl Moment {
    /// The word of the notation.
    const fn word(self) -> &'static str {
        match self {
            Self::FirstWort => "first wort",
            Self::BeforeBoil => "before boil",
            Self::AfterBoil => "after boil",
        }
    }
}

/// A gravity that was read.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Shown {
    pub(super) written: AsWritten,
    pub(super) span: Span,
    pub(super) label: Label,
    /// The temperature that it was read at.
    pub(super) warmth: Option<(AsWritten, Span)>,
    pub(super) by: Option<(&'static str, Span)>,
}

impl Shown {
    fn gravity(&self, verb: &str) -> Vec<Token<'static>> {
        let mut written = tokens(verb, self.span);
        written.extend(tokens(&self.written.to_string(), self.span));
        written
    }

    fn details(&self, written: &mut Vec<Token<'static>>) {
        if let Some((at, span)) = self.warmth {
            written.extend(tokens(&format!("at {at}"), span));
        }
        if let Some((by, span)) = self.by {
            written.extend(tokens(by, span));
        }
    }

    fn reading(&self) -> Vec<Token<'static>> {
        let mut written = self.gravity("reading");
        self.details(&mut written);
        written
    }

    /// `before boil 27 L at 95 C, 12 P`
    fn of_wort(&self, moment: Moment, volume: Option<&Litres>) -> Vec<Token<'static>> {
        let Some(volume) = volume else {
            let mut written = self.gravity(moment.word());
            self.details(&mut written);
            return written;
        };
        let mut written = volume.of_wort(moment, self.span);
        // A temperature behind `at` is that of the figure before it.
        written.extend(self.gravity(if volume.warmth.is_some() { "," } else { "at" }));
        self.details(&mut written);
        written
    }

    /// `pitched 20 L at 12 P`
    pub(super) fn pitched(&self, volume: &AsWritten, span: Span) -> Vec<Token<'static>> {
        let mut written = tokens(&format!("pitched {volume}"), span);
        written.extend(self.gravity("at"));
        self.details(&mut written);
        written
    }
}

/// How much wort there was.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Litres {
    pub(super) written: AsWritten,
    pub(super) label: Label,
    /// The temperature of the wort, where it is said.
    pub(super) warmth: Option<(AsWritten, Span)>,
    /// Whether it is said to be all that is there by then: `racked, 18 L`, `now 18 L`.
    pub(super) is_left: bool,
}

impl Litres {
    /// `before boil 27 L at 95 C`
    fn of_wort(&self, moment: Moment, span: Span) -> Vec<Token<'static>> {
        let mut written = tokens(&format!("{} {}", moment.word(), self.written), span);
        if let Some((at, span)) = self.warmth {
            written.extend(tokens(&format!("at {at}"), span));
        }
        written
    }
}

/// What went in.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Added {
    pub(super) written: Vec<Token<'static>>,
    /// How much more there is then; nothing where its mass does not tell.
    pub(super) litres: Option<f64>,
}

/// The vessel was filled up.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct UpTo {
    pub(super) written: AsWritten,
    /// What with, as the notation says it behind an amount.
    pub(super) with: String,
}

/// What happened.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum What {
    Shown(Shown),
    Volume(Litres),
    MashPh(AsWritten),
    Drawn(AsWritten),
    /// Beer that was lost, or left behind with the yeast.
    Lost(AsWritten),
    Added(Added),
    UpTo(UpTo),
    /// A line of the notation.
    AsItStands(Line<'static>),
}

/// A part of a line, and when it was written.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Entry {
    pub(super) what: What,
    pub(super) span: Span,
    pub(super) day: Option<(Reckoned, Span)>,
    /// The number of the line.
    pub(super) line: usize,
}

impl Entry {
    pub(super) fn new(what: What, span: Span) -> Self {
        Self {
            what,
            span,
            day: None,
            line: 0,
        }
    }

    pub(super) fn as_it_stands(line: Line<'static>) -> Self {
        let span = line.span();
        Self::new(What::AsItStands(line), span)
    }

    /// Whether it is a gravity of what ferments.
    pub(super) fn is_of_the_beer(&self) -> bool {
        matches!(&self.what, What::Shown(shown) if matches!(shown.label, Label::Open | Label::Fermenter))
    }

    /// The moment of the brewing day that it speaks of.
    fn moment(&self) -> Option<Moment> {
        match &self.what {
            What::Shown(Shown { label, .. }) | What::Volume(Litres { label, .. }) => match label {
                Label::Wort(moment) => Some(*moment),
                _ => None,
            },
            _ => None,
        }
    }

    /// The line of the notation that says it of the wort of the brewing day, with what else `line` says of the same moment.
    pub(super) fn of_brew_day(&self, all: &[Self]) -> Option<OfBrewDay> {
        if let What::MashPh(ph) = &self.what {
            return Some(OfBrewDay::Line(tokens(
                &format!("mash pH {}", ph.number),
                self.span,
            )));
        }
        let moment = self.moment()?;
        let same = || {
            all.iter()
                .filter(|other| other.line == self.line && other.moment() == Some(moment))
        };
        let volume = same().find_map(|entry| match &entry.what {
            What::Volume(litres) => Some((entry, litres)),
            _ => None,
        });
        let shown = same().find(|entry| matches!(entry.what, What::Shown(_)));
        Some(match &self.what {
            What::Shown(own) => {
                let is_first = shown.is_some_and(|first| first.span == self.span);
                let volume = volume.filter(|_| is_first).map(|(_, litres)| litres);
                OfBrewDay::Line(own.of_wort(moment, volume))
            }
            What::Volume(_)
                if shown.is_some() && volume.is_some_and(|(first, _)| first.span == self.span) =>
            {
                OfBrewDay::WithAnother
            }
            What::Volume(litres) => OfBrewDay::Line(litres.of_wort(moment, self.span)),
            _ => return None,
        })
    }

    /// The line of the notation; nothing of what a log does not follow, which is told.
    pub(super) fn tokens(
        &self,
        is_before: bool,
        told: &mut Vec<Told>,
    ) -> Option<Vec<Token<'static>>> {
        let unused = match &self.what {
            What::Shown(_) if self.is_of_the_beer() && !is_before => None,
            What::Shown(shown) => Some(shown.written.to_string()),
            What::Volume(volume) => Some(volume.written.to_string()),
            What::Drawn(volume) if is_before => Some(volume.to_string()),
            What::UpTo(up) => Some(up.written.to_string()),
            What::Lost(volume) => Some(volume.to_string()),
            What::Added(added) if is_before => Some(
                added
                    .written
                    .iter()
                    .skip(1)
                    .map(Token::text)
                    .collect::<Vec<_>>()
                    .join(" "),
            ),
            _ => None,
        };
        if let Some(text) = unused {
            told.push(Told::NotUsed(text, self.span));
            return None;
        }
        match &self.what {
            What::Shown(shown) => Some(shown.reading()),
            What::Drawn(volume) => Some(tokens(&format!("drawn {volume}"), self.span)),
            What::Added(added) => Some(added.written.clone()),
            What::AsItStands(line) => Some(line.tokens().to_vec()),
            What::Volume(_) | What::MashPh(_) | What::Lost(_) | What::UpTo(_) => None,
        }
    }
}

/// What an entry of the brewing day makes.
pub(super) enum OfBrewDay {
    Line(Vec<Token<'static>>),
    /// It stands on the line of another entry.
    WithAnother,
}
