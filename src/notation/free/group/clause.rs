//! The groups of a stretch without marks.

use super::words::{covered, day_of, is_filler, phrase, timing};
use super::{Figure, Group, Known, Link, Name};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::free::bit::{Bit, What};
use crate::notation::free::jotted_unit::warmth;
use crate::notation::free::said::{Part, Said, trade};
use crate::quantity::lexer::{AsWritten, Marked};
use crate::quantity::{Dimension, Unit};

/// So many pieces behind a figure a phrase is of something else: `30 minutes and that's all the boil`.
const FAR: usize = 4;

/// No name of the trade has more words.
const LONGEST: usize = 6;

/// `at 15/5`, of things that are no row: which of the two is meant.
fn pair(first: f64, second: f64, span: Span) -> Diagnostic {
    let message = format!("expected one number, found two in `{first}/{second}`");
    Diagnostic::error(Code::AmbiguousNumber, span, message)
        .with_help("write a line for each of the two")
}

/// The groups of a stretch without marks; its first piece is number `from` of the line.
pub(super) fn clause(bits: &[Bit], from: usize, part: Part, known: Known<'_>) -> Vec<Group> {
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
        // `per pint bottle`: of each, and no word more of the package.
        let first = stretch.first().and_then(Bit::word);
        if self.now.is_per_container && first.is_some_and(|word| trade().container(word).is_some())
        {
            self.now.cover(covered(stretch, 1));
            return 1;
        }
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
            let words = stretch.iter().take(count).filter_map(Bit::word);
            self.now.when_words.extend(words.map(str::to_owned));
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
                } else if (degrees + minutes - 100.0).abs() > 1e-9 {
                    // `50/50`: parts of a hundred, of which nothing is counted.
                    self.now.cover(bit.span);
                    self.now.doubt = Some(pair(*degrees, *minutes, bit.span));
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
        // `another oz at knockout`
        let is_at = self.link == Link::At && behind.is_empty();
        is_it
            && (is_at || is_of_item || !takes_item && self.now.figures.is_empty())
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
        if matches!(word, "per" | "a" | "each") && self.now.has_amount() {
            let next = stretch.get(1).and_then(Bit::word);
            let next = if next == Some("pint") {
                stretch.get(2).and_then(Bit::word)
            } else {
                next
            };
            self.now.is_per_container |= next.is_some_and(|next| trade().container(next).is_some());
        }
        let ends = stretch.get(1).is_none_or(|next| next.word().is_none());
        self.now.is_of_each |= word == "each" && ends && self.now.has_amount();
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
        // `24 hours in`: after the pitching.
        let is_spell = |figure: &Figure| {
            figure.dimension() == Some(Dimension::Time) && figure.link == Link::None
        };
        if word == "in"
            && stretch.len() == 1
            && part == Part::Ferment
            && let Some(last) = self.now.figures.last_mut().filter(|last| is_spell(last))
        {
            last.link = Link::At;
            return 1;
        }
        if word == "and" && self.goes_on(stretch, part) {
            return 1;
        }
        if is_filler(word) {
            self.is_then |= word == "then";
            let is_full = !self.now.figures.is_empty() && self.now.name.is_none();
            // `…, then 3 weeks at 50 F`
            if word == "then" && self.now.is_empty() && part == Part::Ferment {
                self.now.is_step = true;
            }
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
            // `amarillo below 180`: of the figure behind.
            let leads = matches!(
                word,
                "below" | "until" | "till" | "once" | "above" | "under"
            ) && behind
                .iter()
                .skip(1)
                .take(3)
                .any(|bit| bit.word().is_none());
            if ends || count > 0 && leads || is_filler(word) && !joins {
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
