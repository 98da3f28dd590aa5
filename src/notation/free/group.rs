//! The pieces of a line → groups that each speak of one thing.

use super::bit::{Bit, What};
use super::jotted_unit::warmth;
use super::said::{Part, Said, When, trade};
use crate::diagnostic::{Diagnostic, Span};
use crate::quantity::lexer::{AsWritten, Marked};
use crate::quantity::{Dimension, Unit, UnitSystem};

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
        let bare = || self.bare.map(|bare| bare.middle().to_string());
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
    pub(super) name: Option<Name>,
    /// Words that are neither.
    pub(super) others: Vec<String>,
    pub(super) figures: Vec<Figure>,
    pub(super) span: Option<Span>,
    /// What of it can be read in two ways.
    pub(super) doubt: Option<Diagnostic>,
    /// Words beside its name were left out of it.
    pub(super) is_cut: bool,
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
        self.others.extend(other.others);
        self.figures.extend(other.figures);
        self.doubt = self.doubt.take().or(other.doubt);
        // `peel of one orange, no pith`: what is not in it is something else.
        self.is_denied |= other.is_denied && !self.has_subject();
        self.is_cut |= other.is_cut;
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
            if !is_same {
                join(&mut groups, group, is_new_sentence);
            }
            is_new_sentence = false;
        }
        opens_bracket = matches!(mark, Some(What::Mark('(' | '=')));
        opens_other = matches!(mark, Some(What::Mark('/')));
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

/// So many pieces behind a figure a phrase is of something else: `30 minutes and that's all the boil`.
const FAR: usize = 4;

/// Marks between things.
const PARTS: [char; 16] = [
    ',', ';', '|', '.', '(', ')', '/', '>', ':', '-', '!', '?', '+', '&', '[', ']',
];

/// No name of the trade has more words.
const LONGEST: usize = 6;

/// Words of a heading before an ingredient.
const LEADS: [&str; 9] = [
    "first",
    "last",
    "second",
    "hop",
    "hops",
    "addition",
    "bittering",
    "aroma",
    "flavour",
];

/// Puts a group to the one before it where it says more of the same thing.
fn join(groups: &mut Vec<Group>, group: Group, is_new_sentence: bool) {
    let Some(before) = groups.last_mut() else {
        groups.push(group);
        return;
    };
    let only_more = !group.has_subject();
    let is_item = group.name.is_some() && group.said.is_empty();
    let has_amount = group.has_amount();
    // `steam to 64 C, hold 15`: the time of the rest before it.
    let has = |group: &Group, dimension| {
        group
            .figures
            .iter()
            .any(|figure| figure.dimension() == Some(dimension))
    };
    let only_holds = matches!(
        group.phrase.as_str(),
        "hold" | "rest" | "stand" | "keep" | "hold for" | "rest for"
    ) && group.name.is_none()
        && !has(&group, Dimension::Temperature)
        && has(before, Dimension::Temperature)
        && !has(before, Dimension::Time)
        && !before.said.is_empty();
    // `150 g progress, off the boil, half an hour stand`
    let only_stands = group.name.is_none()
        && group.said.iter().all(|said| said.line.starts_with("stand"))
        && !group.said.is_empty()
        && has(&group, Dimension::Time)
        && !has(&group, Dimension::Temperature)
        && before.name.is_some()
        && before
            .when
            .first()
            .is_some_and(|when| when.line == "at 0 min");
    // `candi sugar 700 g (boil, 10 min)`: how long it is boiled.
    let only_boils = group.name.is_none()
        && group.phrase == "boil"
        && before.name.as_ref().is_some_and(|name| name.is_known)
        && before.said.is_empty()
        && before.has_amount()
        && !has(before, Dimension::Time)
        && group.figures.iter().all(|figure| {
            figure
                .written
                .is_some_and(|written| written.unit == Unit::Minute && written.number <= 30.0)
        });
    if only_boils {
        before
            .figures
            .extend(group.figures.into_iter().map(|figure| Figure {
                link: Link::At,
                ..figure
            }));
        return;
    }
    if only_holds || only_stands {
        before.figures.extend(group.figures);
        return;
    }
    // `14 kg pilsner malt, no lactic acid`
    let is_denied = (group.is_denied || before.is_denied) && group.name.is_some();
    if is_new_sentence || is_denied || group.is_step || group.is_aside || before.is_aside {
        groups.push(group);
        return;
    }
    // `15 g saaz at 60 and 10 g at 15`: more of the same ingredient.
    let is_again = only_more
        && before.name.as_ref().is_some_and(|name| name.is_known)
        && has(before, Dimension::Mass)
        && has(&group, Dimension::Mass)
        && (!group.when.is_empty() || group.figures.iter().any(|figure| figure.link == Link::At));
    if is_again {
        let mut again = Group {
            name: before.name.clone(),
            ..group
        };
        // `15 g saaz (3 %) at 60 and 10 g at 15`: a time before the amount is the first one's.
        let first = again
            .figures
            .iter()
            .position(Figure::is_amount)
            .unwrap_or(0);
        before.figures.extend(again.figures.drain(..first));
        let alpha = before.figures.iter().filter(|figure| {
            figure.dimension() == Some(Dimension::Percent) && before.amounts().count() > 1
        });
        again.figures.extend(alpha.copied());
        groups.push(again);
        return;
    }
    let only_shade = group.amounts().all(|figure| {
        figure
            .written
            .is_some_and(|written| written.unit == Unit::Litre)
    });
    let weighed = is_item && !before.has_subject() && has(before, Dimension::Mass) && only_shade;
    // `Apricots, 200 g/L stoned`: the amount of the ingredient before it.
    let is_more = is_item
        && group.name.as_ref().is_some_and(|name| !name.is_known)
        && before.name.as_ref().is_some_and(|name| name.is_known)
        && !before.has_amount();
    // `Last hops (10 min)  fuggle, 6 IBU`: when, before what.
    let only_times = before
        .figures
        .iter()
        .all(|figure| figure.dimension() == Some(Dimension::Time));
    let is_lead = is_item
        && group.name.as_ref().is_some_and(|name| name.is_known)
        && !before.has_subject()
        && only_times
        && before
            .others
            .iter()
            .all(|word| LEADS.contains(&word.as_str()))
        && !has(&group, Dimension::Time);
    // `citra - 80 g - hop stand 80 C 25 min`
    let only_stand = group.name.is_none()
        && !group.said.is_empty()
        && group.said.iter().all(|said| said.line.starts_with("stand"))
        && before.name.as_ref().is_some_and(|name| name.is_known)
        && before.said.is_empty()
        && before.when.is_empty()
        && !has(before, Dimension::Time);
    // `30 g fuggle, dry hop 4 days`
    let only_verb = group.name.is_none()
        && group.said.iter().any(|said| said.takes_item())
        && !has_amount
        && before.name.as_ref().is_some_and(|name| name.is_known)
        && before.said.is_empty()
        && before.when.is_empty()
        && !has(before, Dimension::Time);
    let joins = only_stand || only_verb || is_lead || weighed || is_more || only_more
        || is_item && before.wants_item()
        || is_item && !before.has_subject() && before.has_amount() && !has_amount
        // `Munich malt, dark`: a word more, without a figure of its own.
        || is_item && before.name.is_some() && !has_amount && group.when.is_empty();
    if joins {
        before.absorb(group);
    } else {
        groups.push(group);
    }
}

/// The groups of a stretch without marks; its first piece is number `from` of the line.
fn clause(bits: &[Bit], from: usize, part: Part, known: Known<'_>) -> Vec<Group> {
    let mut clause = Clause {
        done: Vec::new(),
        now: Group::default(),
        link: Link::None,
        known,
        is_then: false,
    };
    let mut at = 0;
    while let Some(stretch) = bits.get(at..).filter(|stretch| !stretch.is_empty()) {
        at += clause.take(stretch, from + at, part).max(1);
    }
    clause.done.push(clause.now);
    clause.done.retain(|group| !group.is_empty());
    clause.done
}

/// A clause while its groups are found.
struct Clause<'k> {
    done: Vec<Group>,
    now: Group,
    link: Link,
    known: Known<'k>,
    /// Behind `then`.
    is_then: bool,
}

impl Clause<'_> {
    /// Takes what the stretch begins with, the piece number `at` of the line; gives how many pieces that was.
    fn take(&mut self, stretch: &[Bit], at: usize, part: Part) -> usize {
        let spoken = phrase(stretch, part).filter(|(rows, count)| {
            !self.is_longer_name(stretch, *count) && !self.is_when(stretch, rows, *count, part)
        });
        if let Some((rows, count)) = spoken {
            let is_full =
                !self.now.said.is_empty() || self.now.name.is_some() && self.now.has_amount();
            let takes_item = rows.iter().any(|said| said.takes_item());
            // `40 g goldings steep at 80 C`: where that one goes in.
            let is_stand = rows.iter().any(|said| said.line.starts_with("stand"));
            let last = self.now.figures.last().copied();
            let is_far = last.is_some_and(|last| last.at + FAR < at);
            let is_after = self.is_after(&rows, stretch, count);
            if (is_far || is_after) && self.now.said.is_empty()
                || is_full && !((takes_item || is_stand) && self.now.said.is_empty())
            {
                self.next();
            } else if let Some(last) = last
                && self.now.said.is_empty()
                && self.now.name.is_none()
                && rows.iter().all(|said| said.line.is_empty())
            {
                // `78 C until 46 L in copper`: it speaks of the last figure alone.
                self.now.figures.pop();
                self.next();
                self.now.cover(last.span);
                self.now.figures.push(last);
            }
            let words = stretch.iter().take(count).filter_map(Bit::word);
            self.now.phrase = words.collect::<Vec<_>>().join(" ");
            (self.now.said, self.now.said_at) = (rows, at);
            self.now.cover(covered(stretch, count));
            self.link = Link::None;
            return count;
        }
        if let Some((when, count)) = timing(stretch, part) {
            if self.now.when.is_empty() {
                self.now.when_at = at;
            }
            self.now.when.push(when);
            self.now.cover(covered(stretch, count));
            return count;
        }
        if let Some((day, count)) = day_of(stretch) {
            self.link = Link::Day;
            self.figure(None, Some(day), covered(stretch, count), at);
            return count;
        }
        let Some(bit) = stretch.first() else {
            return 1;
        };
        match &bit.what {
            What::Quantity(written) => {
                let mut written = *written;
                // `60m` is an altitude nowhere but among the figures of a plant.
                if written.unit == Unit::Metre && part != Part::Plant && written.number <= 300.0 {
                    written.unit = Unit::Minute;
                }
                self.figure(Some(written), None, bit.span, at);
            }
            What::Bare(marked) => self.figure(None, Some(*marked), bit.span, at),
            What::Pair(degrees, minutes) => {
                if part == Part::Mash {
                    let rest = AsWritten::plain(*degrees, warmth(*degrees));
                    self.figure(Some(rest), None, bit.span, at);
                    self.figure(
                        Some(AsWritten::plain(*minutes, Unit::Minute)),
                        None,
                        bit.span,
                        at,
                    );
                }
            }
            What::Ambiguous(..) => {
                self.now.cover(bit.span);
                self.now.doubt = bit.doubt();
            }
            What::Quoted(name) => {
                let words = vec![name.clone()];
                self.named(
                    words,
                    bit.span,
                    at,
                    (self.known)(std::slice::from_ref(name)).is_some(),
                    true,
                );
            }
            What::Mark('@') => self.link = Link::At,
            What::Mark('x' | '*') => self.link = Link::For,
            What::Mark(_) => {}
            What::Word(word) => return self.words(word, stretch, at, part),
        }
        1
    }

    /// `3 days and then crash to 2 C`, `18 C rising to 21`: what stands before it is of what was before.
    fn is_after(&self, rows: &[&Said], stretch: &[Bit], count: usize) -> bool {
        let is_of_step = |figure: &Figure| {
            figure.bare.is_some()
                || matches!(
                    figure.dimension(),
                    Some(Dimension::Time | Dimension::Temperature)
                )
        };
        let figures = &self.now.figures;
        let is_heat = |bit: &Bit| {
            bit.bare().is_some()
                || bit
                    .quantity()
                    .is_some_and(|written| written.unit.dimension() == Dimension::Temperature)
        };
        let follows = stretch
            .get(count..)
            .unwrap_or(&[])
            .iter()
            .take(3)
            .any(is_heat);
        let ends = stretch.get(count - 1).and_then(Bit::word) == Some("to");
        let is_step = rows
            .iter()
            .any(|said| said.line.starts_with("hold") || said.line.starts_with("rest"));
        self.now.name.is_none()
            && !figures.is_empty()
            && figures.iter().all(is_of_step)
            && is_step
            && follows
            && (ends || self.is_then)
    }

    /// Whether a phrase that is also a time to add something says that: no figure follows that it could be said of.
    fn is_when(&self, stretch: &[Bit], rows: &[&Said], count: usize, part: Part) -> bool {
        let is_it = timing(stretch, part).is_some_and(|(_, length)| length >= count);
        let takes_item = rows
            .iter()
            .any(|said| said.takes_item() || said.line.starts_with("stand"));
        let is_of_item = self.now.name.is_some() && self.now.said.is_empty();
        let behind = stretch.get(count..).unwrap_or(&[]);
        let is_other = |bit: &Bit| {
            bit.bare().is_some()
                || bit.quantity().is_some_and(|written| {
                    !matches!(written.unit.dimension(), Dimension::Time | Dimension::Mass)
                })
        };
        is_it
            && (is_of_item || !takes_item && self.now.figures.is_empty())
            && !behind.iter().any(is_other)
    }

    /// Whether a name begins here that has more words than the phrase: `yeast nutrient`.
    fn is_longer_name(&self, stretch: &[Bit], count: usize) -> bool {
        let run: Vec<String> = stretch
            .iter()
            .map_while(Bit::word)
            .take_while(|word| !is_filler(word))
            .map(str::to_owned)
            .collect();
        run.len() > count
            && (self.known)(&run).is_some_and(|found| found.start == 0 && found.end > count)
    }

    /// Whether a name that begins before piece `at` goes on there: the `yeast` of `ale yeast` is no phrase.
    fn is_inside_name(&self, stretch: &[Bit], at: usize) -> bool {
        let run: Vec<String> = stretch
            .iter()
            .map_while(Bit::word)
            .take_while(|word| !is_filler(word))
            .skip(at.saturating_sub(LONGEST))
            .take(2 * LONGEST)
            .map(str::to_owned)
            .collect();
        let at = at.min(LONGEST);
        (self.known)(&run).is_some_and(|found| found.start < at && found.end > at)
    }

    /// `1 oz amarillo at 10 and another oz at knockout`: more of the same begins here.
    fn goes_on(&mut self, stretch: &[Bit], part: Part) -> bool {
        let is_weight = |bit: &Bit| {
            bit.quantity()
                .is_some_and(|written| written.unit.dimension() == Dimension::Mass)
        };
        let behind = stretch.get(2..).unwrap_or(&[]);
        let is_timed = timing(behind, part).is_some()
            || behind
                .first()
                .is_some_and(|bit| bit.is_mark('@') || bit.word() == Some("at"));
        let name = self.now.name.clone().filter(|name| name.is_known);
        let follows = stretch.get(1).is_some_and(is_weight) && is_timed;
        if !follows || name.is_none() || !self.now.has_amount() {
            return false;
        }
        // Of one lot: what is said of the hop before holds for it.
        let is_alpha = |figure: &&Figure| figure.dimension() == Some(Dimension::Percent);
        let of_lot: Vec<_> = self.now.figures.iter().filter(is_alpha).copied().collect();
        self.next();
        self.now.name = name;
        self.now.figures = of_lot;
        true
    }

    fn next(&mut self) {
        self.is_then = false;
        self.done.push(std::mem::take(&mut self.now));
    }

    fn figure(&mut self, written: Option<AsWritten>, bare: Option<Marked>, span: Span, at: usize) {
        self.now.cover(span);
        self.now.figures.push(Figure {
            written,
            bare,
            link: std::mem::take(&mut self.link),
            span,
            at,
        });
    }

    /// A word that says nothing, or a run of words that may be a name.
    fn words(&mut self, word: &str, stretch: &[Bit], at: usize, part: Part) -> usize {
        self.link = match word {
            "last" if matches!(part, Part::Ferment | Part::Package) => Link::For,
            "at" | "last" => Link::At,
            "for" | "x" => Link::For,
            "when" | "once" | "below" | "hits" | "reaches" => Link::When,
            "until" | "till" | "to" => Link::To,
            "after" => Link::After,
            "max" | "maximum" | "over" | "exceed" | "above" | "reach" | "under" => Link::Most,
            "on" | "of" | "the" | "about" | "around" | "it" | "is" => self.link,
            // `till I've got 7.5 gal`
            _ if matches!(self.link, Link::To | Link::When | Link::Most) && is_filler(word) => {
                self.link
            }
            _ => Link::None,
        };
        // `no finings`: what is not in it.
        let numbers = stretch.get(1).is_some_and(|next| next.bare().is_some());
        if matches!(
            word,
            "no" | "none" | "without" | "skip" | "never" | "don't" | "not"
        ) && !numbers
        {
            if self.now.has_subject() || !self.now.figures.is_empty() {
                self.next();
            }
            self.now.is_denied = true;
            return 1;
        }
        if word == "and" && self.goes_on(stretch, part) {
            return 1;
        }
        if is_filler(word) {
            self.is_then |= word == "then";
            let is_full = !self.now.figures.is_empty() && self.now.name.is_none();
            if word == "then" && is_full && part == Part::Ferment {
                self.next();
                self.now.is_step = true;
                self.is_then = true;
            }
            return 1;
        }
        let mut run = Vec::new();
        for (count, bit) in stretch.iter().enumerate() {
            let behind = stretch.get(count..).unwrap_or(&[]);
            let Some(word) = bit.word() else { break };
            let ends = count > 0
                && (phrase(behind, part)
                    .is_some_and(|(_, count)| !self.is_longer_name(behind, count))
                    || timing(behind, part).is_some()
                    || day_of(behind).is_some())
                && !self.is_inside_name(stretch, count);
            // `grains of paradise`: between two words of a name a filler belongs to it.
            let next = behind.get(1).and_then(Bit::word);
            let joins =
                matches!(word, "of" | "no" | "in") && next.is_some_and(|next| !is_filler(next));
            if ends || is_filler(word) && !joins {
                break;
            }
            run.push(word.to_owned());
        }
        let count = run.len().max(1);
        let known = (self.known)(&run);
        if let Some(found) = known {
            let span = covered(stretch.get(found.start..).unwrap_or(&[]), found.len());
            let name: Vec<String> = run.get(found.clone()).unwrap_or(&[]).to_vec();
            let mut others = run;
            others.drain(found.clone());
            self.named(name, span, at + found.start, true, false);
            let says = |word: &String| !trade().is_how_made(word) && word != "v/v";
            self.now.is_cut |= others.iter().any(says);
            self.now.others.extend(others);
        } else {
            let follows_amount = self.now.figures.last().is_some_and(|last| {
                last.is_amount()
                    && last.at + 1 == at
                    && last.dimension() != Some(Dimension::Percent)
            });
            let is_how = run.iter().all(|word| trade().is_how_made(word));
            if follows_amount && !is_how && self.now.name.is_none() {
                self.named(run, covered(stretch, count), at, false, false);
            } else {
                self.now.cover(covered(stretch, count));
                self.now.others.extend(run);
            }
        }
        count
    }

    fn named(
        &mut self,
        words: Vec<String>,
        span: Span,
        at: usize,
        is_known: bool,
        is_quoted: bool,
    ) {
        if let Some(own) = &self.now.name {
            if own.is_known && !is_known {
                self.now.others.extend(words);
                return;
            }
            // `6 lb cascade 4 lb centennial`: an amount before a name is its own, unless it stands right behind the name before it
            // and that one has no other.
            let last = self.now.figures.last().copied();
            let end = own.at + own.words.len();
            let precedes = last.is_some_and(|last| {
                last.is_amount()
                    && last.at > own.at
                    && last.at + 3 >= at
                    && (last.at > end || self.now.amounts().count() > 1)
            });
            if own.is_known || precedes {
                let amount = if precedes {
                    self.now.figures.pop()
                } else {
                    None
                };
                self.next();
                if let Some(amount) = amount {
                    self.now.cover(amount.span);
                    self.now.figures.push(amount);
                }
            }
        }
        self.now.cover(span);
        self.now.name = Some(Name {
            words,
            span,
            at,
            is_known,
            is_quoted,
        });
    }
}

fn is_filler(word: &str) -> bool {
    trade().is_filler(word)
}

fn covered(stretch: &[Bit], count: usize) -> Span {
    let spans = stretch.get(..count).unwrap_or(stretch);
    let first = spans.first().map_or_else(Span::default, |bit| bit.span);
    spans.last().map_or(first, |last| first.to(last.span))
}

fn words(stretch: &[Bit]) -> impl Iterator<Item = &str> + Clone {
    stretch.iter().map_while(Bit::word)
}

fn phrase(stretch: &[Bit], part: Part) -> Option<(Vec<&'static Said>, usize)> {
    trade().line(&words(stretch), part)
}

fn timing(stretch: &[Bit], part: Part) -> Option<(&'static When, usize)> {
    trade().timing(&words(stretch), part)
}

/// `day 5`, `d5`: the number, and how many pieces it takes.
pub(super) fn day_of(stretch: &[Bit]) -> Option<(Marked, usize)> {
    let word = stretch.first()?.word()?;
    if word == "day" {
        return Some((stretch.get(1)?.bare()?, 2));
    }
    let digits = word
        .strip_prefix("day")
        .or_else(|| word.strip_prefix('d'))?;
    let low: f64 = digits.parse().ok()?;
    Some((
        Marked {
            low,
            high: None,
            about: false,
        },
        1,
    ))
}
