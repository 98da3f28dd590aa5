//! The pieces of a line → groups that each speak of one thing.

mod clause;
mod join;
mod words;

use crate::diagnostic::{Diagnostic, Span};
use crate::notation::free::bit::{Bit, What};
use crate::notation::free::said::{Part, Said, When};
use crate::quantity::lexer::{AsWritten, Marked};
use crate::quantity::{Dimension, Unit, UnitSystem};
use crate::speech::shortest;
use clause::clause;
use join::join;
use words::covered;
pub(super) use words::day_of;

/// The word that leads to a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Link {
    #[default]
    None,
    At,
    For,
    When,
    /// `until`, `to`: what is reached, and not how much goes in.
    To,
    /// `max 10 C`, `never over 21`: a limit, and nothing that is held or goes in.
    Most,
    /// `after 15 min`: since when, which is no time left.
    After,
    Day,
}

/// A number on the line that is not used yet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Figure {
    pub(super) written: Option<AsWritten>,
    /// The number, where there is no unit.
    pub(super) bare: Option<Marked>,
    pub(super) link: Link,
    pub(super) span: Span,
    /// Where it stands among the pieces of the line.
    pub(super) at: usize,
}

impl Figure {
    pub(super) fn dimension(&self) -> Option<Dimension> {
        self.written.map(|written| written.unit.dimension())
    }

    /// As it is told.
    pub(super) fn text(&self) -> String {
        // A third is none of the sixteen digits that a computer makes of it.
        let bare = || self.bare.map(|bare| shortest(bare.middle(), 3));
        let written = self.written.map(|written| written.to_string());
        written.or_else(bare).unwrap_or_default()
    }

    pub(super) fn is_amount(&self) -> bool {
        self.dimension().is_some_and(|dimension| {
            matches!(
                dimension,
                Dimension::Mass
                    | Dimension::Volume
                    | Dimension::Concentration
                    | Dimension::VolumePerVolume
                    | Dimension::Bitterness
                    | Dimension::Packs
                    | Dimension::Percent
            )
        })
    }
}

/// The words of an ingredient's name, and where they stand.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Name {
    pub(super) words: Vec<String>,
    pub(super) span: Span,
    /// Of the first word among the pieces of the line.
    pub(super) at: usize,
    /// Whether an ingredient goes by it.
    pub(super) is_known: bool,
    pub(super) is_quoted: bool,
}

/// What belongs together on a line: a phrase, an ingredient, and figures of either.
#[allow(
    clippy::struct_excessive_bools,
    reason = "each says by itself how the group stands among the others"
)]
#[derive(Debug, Clone, Default)]
pub(super) struct Group {
    /// The rows of the phrase.
    pub(super) said: Vec<&'static Said>,
    /// The phrase, and where it stands among the pieces.
    pub(super) phrase: String,
    pub(super) said_at: usize,
    pub(super) when: Vec<&'static When>,
    /// Where the first of them stands.
    pub(super) when_at: usize,
    /// The words that say them.
    pub(super) when_words: Vec<String>,
    pub(super) name: Option<Name>,
    /// Words that are neither.
    pub(super) others: Vec<String>,
    pub(super) figures: Vec<Figure>,
    pub(super) span: Option<Span>,
    /// What of it can be read in two ways.
    pub(super) doubt: Option<Diagnostic>,
    /// Words beside its name were left out of it.
    pub(super) is_cut: bool,
    /// It is a dose of each of several containers: `per pin`.
    pub(super) is_per_container: bool,
    /// Behind its amount stands `each`.
    pub(super) is_of_each: bool,
    /// It says what is not in the beer: `no finings`.
    pub(super) is_denied: bool,
    /// It comes after what stands before it: `2 weeks, then 33 F for 3 weeks`.
    is_step: bool,
    /// Steps with heats of their own follow on the line.
    pub(super) is_first_of_several: bool,
    /// It is said of nothing on the line.
    is_aside: bool,
}

impl Group {
    fn cover(&mut self, span: Span) {
        self.span = Some(self.span.map_or(span, |own| own.to(span)));
    }

    fn has_subject(&self) -> bool {
        !self.said.is_empty() || self.name.is_some()
    }

    pub(super) fn is_empty(&self) -> bool {
        !self.has_subject()
            && self.figures.is_empty()
            && self.when.is_empty()
            && self.others.is_empty()
            && self.doubt.is_none()
    }

    /// `at switch off, leave them half an hour`, `steep 30 min off the boil`: it stays in the hot wort.
    pub(super) fn is_steeped(&self) -> bool {
        let is_off = self
            .when
            .first()
            .is_some_and(|when| when.line == "at 0 min");
        let stands = self.said.iter().any(|said| said.line.starts_with("stand"));
        let is_spell = |figure: &Figure| {
            figure.written.is_some_and(|written| {
                matches!(written.unit, Unit::Minute | Unit::Hour) && written.number > 0.0
            }) && (stands || figure.at > self.when_at)
                && matches!(figure.link, Link::None | Link::For)
        };
        is_off && self.figures.iter().any(is_spell)
    }

    /// Whether a phrase waits for an ingredient.
    fn wants_item(&self) -> bool {
        let by_phrase = self.said.iter().any(|said| said.takes_item());
        let by_timing = !self.when.is_empty() && self.others.is_empty();
        self.name.is_none() && (by_phrase || by_timing)
    }

    pub(super) fn amounts(&self) -> impl Iterator<Item = &Figure> {
        self.figures.iter().filter(|figure| figure.is_amount())
    }

    fn has_amount(&self) -> bool {
        self.amounts().next().is_some()
    }

    /// Whether the other group gives the last amount once more in another measure: `4 gallons (18 L)`. The metric one is kept: a gallon
    /// may be either.
    fn says_again(&mut self, other: &Self) -> bool {
        let [again] = other.figures.as_slice() else {
            return false;
        };
        if let Some(plato) = points(again) {
            return self
                .figures
                .last()
                .and_then(points)
                .is_some_and(|own| (own / plato - 1.0).abs() < 0.06);
        }
        let Some(own) = self
            .figures
            .iter_mut()
            .rev()
            .find(|own| own.dimension() == again.dimension())
        else {
            return false;
        };
        let (Some(first), Some(second)) = (own.written, again.written) else {
            return false;
        };

        let ratio = second.unit.to_base(second.number) / first.unit.to_base(first.number);
        let is_same = first.unit.system() != second.unit.system() && (0.75..=1.33).contains(&ratio);
        if is_same && second.unit.system() == UnitSystem::Metric {
            *own = Figure {
                at: own.at,
                ..*again
            };
        }
        is_same
    }

    fn absorb(&mut self, other: Self) {
        if let Some(span) = other.span {
            self.cover(span);
        }
        if self.said.is_empty() {
            (self.said, self.phrase, self.said_at) = (other.said, other.phrase, other.said_at);
        }
        match (&mut self.name, other.name) {
            (Some(_), Some(more)) => self.others.extend(more.words),
            (own, Some(more)) => *own = Some(more),
            (_, None) => {}
        }
        if self.when.is_empty() {
            self.when_at = other.when_at;
        }
        self.when.extend(other.when);
        self.when_words.extend(other.when_words);
        self.others.extend(other.others);
        self.figures.extend(other.figures);
        self.doubt = self.doubt.take().or(other.doubt);
        // `peel of one orange, no pith`: what is not in it is something else.
        self.is_denied |= other.is_denied && !self.has_subject();
        self.is_cut |= other.is_cut;
        self.is_per_container |= other.is_per_container;
        self.is_of_each |= other.is_of_each;
    }
}

/// A gravity in rough degrees Plato, four points of specific gravity each, to see whether two figures speak of one.
fn points(figure: &Figure) -> Option<f64> {
    let written = figure.written?;
    match written.unit {
        Unit::SpecificGravity => Some((written.number - 1.0) * 250.0),
        Unit::Plato | Unit::Brix => Some(written.number),
        _ => None,
    }
}

/// Tells the stretch of the words that an ingredient goes by.
pub(super) type Known<'k> = &'k dyn Fn(&[String]) -> Option<std::ops::Range<usize>>;

/// The groups of a line that stands in `part`.
pub(super) fn groups(bits: &[Bit], part: Part, known: Known<'_>) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    let mut is_new_sentence = true;
    let ends = |bit: &Bit| matches!(bit.what, What::Mark(mark) if PARTS.contains(&mark));
    let mut from = 0;
    let mut opens_bracket = false;
    let mut opens_other = false;
    let mut is_listed = false;
    for stretch in bits.split_inclusive(ends) {
        let (stretch, mark) = match stretch.split_last() {
            Some((last, rest)) if ends(last) => (rest, Some(&last.what)),
            _ => (stretch, None),
        };
        let found = if opens_bracket && is_wish(stretch) {
            vec![remark(stretch)]
        } else {
            clause(stretch, from, part, known)
        };
        for group in found {
            let is_same = opens_bracket
                && groups
                    .last_mut()
                    .is_some_and(|before| before.says_again(&group));
            // `5 gal / 19 L`: the same once more, where nothing is said of it.
            let is_same = is_same
                || opens_other
                    && !group.has_subject()
                    && group.others.is_empty()
                    && groups
                        .last_mut()
                        .is_some_and(|before| before.says_again(&group));
            // `saaz & perle at 5`: another one.
            let is_known = |group: &Group| group.name.as_ref().is_some_and(|name| name.is_known);
            let is_another = is_listed && is_known(&group) && groups.last().is_some_and(is_known);
            if is_another {
                groups.push(group);
            } else if !is_same {
                join(&mut groups, group, is_new_sentence);
            }
            is_new_sentence = false;
            is_listed = false;
        }
        opens_bracket = matches!(mark, Some(What::Mark('(' | '=')));
        opens_other = matches!(mark, Some(What::Mark('/')));
        // `amber malt 8 % - crystal 8 %`
        let is_weighed = groups.last().is_some_and(Group::has_amount);
        is_listed = match mark {
            Some(What::Mark('&' | '+')) => true,
            Some(What::Mark('-')) => is_weighed,
            _ => false,
        };
        from += stretch.len() + 1;
        is_new_sentence |= matches!(mark, Some(What::Mark(';' | '|' | '.' | '>' | '!' | '?')));
    }
    groups
}

/// `(Golden Promise if I can get it)`: what would be nicer, and is not what goes in.
fn is_wish(stretch: &[Bit]) -> bool {
    let has_figure = stretch.iter().any(|bit| bit.word().is_none());
    !has_figure && stretch.iter().any(|bit| bit.word() == Some("if"))
}

/// Words that are kept as a remark.
fn remark(stretch: &[Bit]) -> Group {
    let words = stretch.iter().filter_map(Bit::word);
    Group {
        others: words.map(str::to_owned).collect(),
        span: Some(covered(stretch, stretch.len())),
        is_aside: true,
        ..Group::default()
    }
}

/// Marks between things.
const PARTS: [char; 16] = [
    ',', ';', '|', '.', '(', ')', '/', '>', ':', '-', '!', '?', '+', '&', '[', ']',
];
