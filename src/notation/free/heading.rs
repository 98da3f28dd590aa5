//! Headings, the name of the beer, and times that stand before what they are said of.

use super::bit::{Bit, What};
use super::draft::{line, tokens};
use super::group::{Figure, Group, Link, day_of};
use super::said::{Part, Said, trade};
use super::sheet::{Named, Sheet};
use super::told::Told;
use crate::diagnostic::Span;
use crate::notation::tree::{Token, text_of};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

impl Sheet<'_> {
    /// `60 - 8 oz perle`: a time before the ingredients it is said of.
    pub(super) fn without_lead<'b>(&mut self, bits: &'b [Bit]) -> &'b [Bit] {
        let filled = bits.iter().take_while(|bit| {
            matches!(bit.word(), Some("at" | "on" | "around" | "the" | "another"))
        });
        let filled = filled.count();
        if let Some((day, count)) = bits.get(filled..).and_then(day_of)
            && matches!(
                self.part,
                Part::Boil | Part::Stand | Part::Ferment | Part::Package
            )
        {
            self.part = Part::Ferment;
            self.lead = Some(Figure {
                written: None,
                bare: Some(day),
                link: Link::Day,
                span: bits.first().map_or_else(Span::default, |bit| bit.span),
                at: usize::MAX,
            });
            return bits.get(filled + count..).unwrap_or(&[]);
        }
        if let Some((figure, count)) = gravity_lead(bits).filter(|_| self.part == Part::Ferment) {
            self.lead = Some(figure);
            return bits.get(count..).unwrap_or(&[]);
        }
        if self.part != Part::Boil {
            self.lead = None;
            return bits;
        }
        if let Some(figure) = time_heading(bits) {
            self.lead = Some(figure);
            return &[];
        }
        // `Spices @ 5 min: 5 g cinnamon, 2 g ginger`
        if let Some(colon) = bits.iter().position(|bit| bit.is_mark(':'))
            && let Some(figure) = bits.get(..=colon).and_then(time_heading)
        {
            self.lead = Some(figure);
            return bits.get(colon + 1..).unwrap_or(&[]);
        }
        let time = |bit: &Bit| {
            bit.bare()
                .is_some_and(|bare| bare.high.is_none() && bare.low <= 240.0)
                || bit
                    .quantity()
                    .is_some_and(|written| written.unit == Unit::Minute)
        };
        let mut first = bits.iter();
        let Some(figure) = first.next().filter(|bit| time(bit)) else {
            return bits;
        };
        let marks = first
            .clone()
            .take_while(|bit| matches!(bit.what, What::Mark(':' | '-' | '.')))
            .count();
        let rest = bits.get(1 + marks..).unwrap_or(&[]);
        let is_item = marks > 0 || figure.quantity().is_some() || is_column(figure, rest);
        let speaks = rest
            .first()
            .is_some_and(|bit| !matches!(bit.word(), Some("before" | "boil" | "from" | "minute")));
        if !is_item || !speaks {
            return bits;
        }
        let written = figure.quantity().copied().or_else(|| {
            let bare = figure.bare()?;
            Some(AsWritten::marked(bare, Unit::Minute))
        });
        if let (Some(bare), Some(written)) = (figure.bare(), written) {
            let typed = bare.middle().to_string();
            let read = written.to_string();
            self.told.push(Told::Assumed(typed, read, figure.span));
        }
        self.lead = written.map(|written| Figure {
            written: Some(written),
            bare: None,
            link: Link::At,
            span: figure.span,
            at: usize::MAX,
        });
        rest
    }

    /// `Mash`, `In the tun:`, `BK: …`: sets the part, and gives what stands behind it.
    pub(super) fn without_heading<'b>(&mut self, bits: &'b [Bit]) -> &'b [Bit] {
        let is_end = |bit: &Bit| matches!(bit.what, What::Mark(':' | '-' | '(' | ')' | '.' | '='));
        let words: Vec<&str> = bits.iter().map_while(Bit::word).take(4).collect();
        for count in (1..=words.len()).rev() {
            let (Some(name), behind) = (words.get(..count), bits.get(count..).unwrap_or(&[]))
            else {
                continue;
            };
            let name = name.join(" ");
            let Some(part) = trade().heading(&name) else {
                continue;
            };
            let next = behind.first();
            let alone = behind.iter().all(is_end);
            let labels =
                next.is_some_and(|bit| matches!(bit.what, What::Mark(':' | '-' | '=' | '(' | ',')));
            let counted = next.is_some_and(|bit| bit.quantity().is_some());
            if !(alone || labels || counted) {
                continue;
            }
            self.part = part;
            self.lead = None;
            self.form = form_of(bits);
            if alone {
                return &[];
            }
            // `Boil: 60 min` says what `boil 60 min` says.
            let is_container = part == Part::Package && trade().container(&name).is_some();
            let speaks = trade().speaks(&name) || is_container;
            return if speaks {
                bits
            } else {
                behind.get(usize::from(labels)..).unwrap_or(&[])
            };
        }
        bits
    }

    /// `Name: Low Tide`, or the first line of a sheet.
    pub(super) fn name(&mut self, typed: &[Token<'_>], bits: &[Bit]) -> bool {
        let words: Vec<&str> = bits.iter().map_while(Bit::word).take(3).collect();
        let is_first = !std::mem::replace(&mut self.has_begun, true);
        let (labelled, from) = match words.as_slice() {
            _ if self.named != Named::Stated && said_name(bits).is_some() => {
                (true, said_name(bits).unwrap_or(0))
            }
            ["name" | "recipe" | "title" | "beer", next, ..] if trade().is_filler(next) => {
                (false, 0)
            }
            ["name" | "recipe" | "title" | "beer", ..] if self.part == Part::Head => (true, 1),
            ["call", "it", ..] | ["i", "call", "it"] | ["called", ..] => (
                true,
                words
                    .iter()
                    .position(|word| *word == "it")
                    .map_or(1, |at| at + 1),
            ),
            _ => (false, 0),
        };
        let wanted = if labelled {
            self.named != Named::Stated
        } else {
            self.named == Named::Not && self.part == Part::Head && is_first
        };
        if !wanted {
            return false;
        }
        if !labelled && is_talk(bits) {
            self.has_begun = false;
            return false;
        }
        let from = from + usize::from(bits.get(from).is_some_and(|bit| bit.is_mark(':')));
        let from = from + number_of_brew(bits.get(from..).unwrap_or(&[]));
        let rest = bits.get(from..).unwrap_or(&[]);
        let is_figure = |bit: &Bit| {
            matches!(
                bit.what,
                What::Quantity(_) | What::Bare(_) | What::Ambiguous(..)
            )
        };
        // `Bitter No. 4`, `Jam Jar #6`
        let is_number_of = |at: usize| {
            let before = at.checked_sub(1).and_then(|at| rest.get(at));
            before.is_some_and(|bit| {
                matches!(bit.word(), Some("no" | "number" | "mk" | "mark" | "#"))
            })
        };
        // `Ležák 12°`: a beer called by the strength of its wort.
        let is_class = |bit: &Bit| {
            let is_sign = |token: &Token<'_>| {
                token.text().ends_with('°') && token.span().start == bit.span.start
            };
            bit.quantity()
                .is_some_and(|written| (6.0..=30.0).contains(&written.number))
                && typed.iter().any(is_sign)
        };
        let ends = |(at, bit): &(usize, &Bit)| {
            is_figure(bit)
                && !is_class(bit)
                && !(bit.bare().is_some() && (labelled || is_number_of(*at)))
                || matches!(
                    bit.what,
                    What::Mark('(' | '.' | '/' | ';' | '|' | ':' | '=')
                )
                || labelled && bit.is_mark(',')
        };
        let quoted = rest
            .iter()
            .position(|bit| matches!(bit.what, What::Quoted(_)));
        let (start, count) = match quoted {
            Some(at) if !labelled => (at, at + 1),
            _ => (
                0,
                rest.iter()
                    .enumerate()
                    .take_while(|pair| !ends(pair))
                    .count(),
            ),
        };
        // `BLURRY MAGPIE   turn 1 of 1`: the label of the figure behind the name is none of its words.
        let is_counted = !labelled && count <= 6 && rest.get(count).is_some_and(is_figure);
        let count = if is_counted {
            let labels = |at: &usize| {
                let words = rest
                    .get(*at..count)
                    .unwrap_or(&[])
                    .iter()
                    .map_while(Bit::word);
                let found = trade().line(&words, Part::Head);
                found.is_some_and(|(_, length)| at + length == count)
            };
            (start + 1..count).find(labels).unwrap_or(count)
        } else {
            count
        };
        let name = rest.get(start..count).unwrap_or(&[]);
        let (Some(first), Some(last)) = (name.first(), name.last()) else {
            return false;
        };
        let behind = rest.get(count..).unwrap_or(&[]);
        let is_labelled_figure = behind
            .first()
            .is_some_and(|bit| is_figure(bit) || bit.is_mark(':') || bit.is_mark('='));
        let is_weighed = behind
            .first()
            .and_then(Bit::quantity)
            .is_some_and(|written| written.unit.dimension() == Dimension::Mass);
        let speaks =
            // What it is filled into names a beer as well as any word.
            is_labelled_figure
                && self.groups(name).iter().any(|group| {
                    let is_filled = |said: &&Said| said.part == Part::Package;
                    !group.said.is_empty() && !group.said.iter().all(is_filled)
                });
        // So many words before a figure are no ingredient and no label.
        let is_prose = name.len() > 6;
        if !labelled && !is_prose && (is_weighed || speaks) {
            return false;
        }
        let span = first.span.to(last.span);
        let inside =
            |token: &&Token<'_>| span.start <= token.span().start && token.span().start < span.end;
        let words: Vec<&str> = typed.iter().filter(inside).map(Token::text).collect();
        let text = if words.is_empty() {
            text_of(typed)
        } else {
            words.join(" ").replace(" ,", ",")
        };
        let text = text
            .trim_end_matches([':', ',', '.', ';', '-', '–', '—', ' '])
            .replace('"', "");
        let mut named = tokens("recipe", span);
        named.extend(tokens(&format!("\"{text}\""), span));
        if self.named == Named::ByPlace {
            self.draft.head.retain(|line| {
                line.tokens()
                    .first()
                    .is_none_or(|token| token.text() != "recipe")
            });
        }
        self.draft.head.insert(0, line(named, Vec::new()));
        self.named = if labelled {
            Named::Stated
        } else {
            Named::ByPlace
        };
        let behind = self.scaled(behind);
        for mut group in self.groups(&behind) {
            // `… is what happened to twenty pounds of peaches`: a title lists no ingredient.
            let is_known = group.name.as_ref().is_some_and(|name| name.is_known);
            if is_known && !labelled && group.said.is_empty() {
                // `… (pale lager), 25 litres`: what stands behind a mark is said of the beer.
                let is_volume = |figure: &Figure, end: usize| {
                    figure.at > end && figure.dimension() == Some(Dimension::Volume)
                };
                let end = group
                    .name
                    .as_ref()
                    .map_or(0, |name| name.at + name.words.len());
                let figures = group.figures.iter();
                let batch = figures.copied().find(|figure| is_volume(figure, end));
                // `…, 10 hL brewhouse`: of something else.
                let is_mark = |bit: &&Bit| matches!(bit.what, What::Mark(_));
                let last = behind.iter().rev().find(|bit| !is_mark(bit));
                let is_alone = last.is_some_and(|last| last.quantity().is_some());
                let words = group.name.take().map(|name| name.words);
                group.others.extend(words.unwrap_or_default());
                if let (Some(batch), 1, true) = (batch, group.figures.len(), is_alone) {
                    group.figures.clear();
                    let mut said = Group::default();
                    said.figures.push(batch);
                    said.span = Some(batch.span);
                    let (_, left) = self.group(said);
                    self.leave(&left);
                }
                self.leave(&group);
                continue;
            }
            let (_, left) = self.group(group);
            self.leave(&left);
        }
        true
    }
}

impl Sheet<'_> {
    /// `scaled 7 bbl -> 6 gal`, `scaled from 10 hL to 20 L`: what it is scaled to is brewed, and the other told.
    fn scaled(&mut self, bits: &[Bit]) -> Vec<Bit> {
        let is_volume = |bit: &Bit| {
            bit.quantity()
                .is_some_and(|written| written.unit.dimension() == Dimension::Volume)
        };
        let whole = bits.to_vec();
        let said = |bit: &Bit| matches!(bit.word(), Some("scaled" | "rescaled" | "cut" | "down"));
        let Some(first) = bits.iter().position(is_volume) else {
            return whole;
        };
        let between = bits
            .iter()
            .skip(first + 1)
            .take_while(|bit| {
                bit.is_mark('-') || bit.is_mark('>') || matches!(bit.word(), Some("to" | "down"))
            })
            .collect::<Vec<_>>();
        let leads = between
            .iter()
            .any(|bit| bit.is_mark('>') || bit.word() == Some("to"));
        let follows = bits.get(first + 1 + between.len()).is_some_and(is_volume);
        let is_it = leads && follows && bits.iter().take(first).any(said);
        let Some(from) = bits.get(first).filter(|_| is_it) else {
            return whole;
        };
        if let Some(written) = from.quantity() {
            self.told
                .push(Told::NotUsed(written.to_string(), from.span));
        }
        bits.get(first + 1 + between.len()..)
            .unwrap_or(&[])
            .to_vec()
    }
}

/// `Hops (whole leaf):`: the form of the hops below.
fn form_of(bits: &[Bit]) -> Option<String> {
    let has_amount = bits.iter().any(|bit| {
        bit.quantity()
            .is_some_and(|written| written.unit.dimension() == Dimension::Mass)
    });
    let words = bits.iter().filter_map(Bit::word);
    let form = words.into_iter().find(|word| {
        matches!(
            *word,
            "leaf" | "cone" | "cones" | "pellet" | "pellets" | "t90" | "t45"
        )
    });
    form.map(str::to_owned).filter(|_| !has_amount)
}

/// `Spices at 2 minutes:`: the time of what is listed below.
fn time_heading(bits: &[Bit]) -> Option<Figure> {
    let (last, rest) = bits.split_last()?;
    let figures = rest
        .iter()
        .filter(|bit| bit.quantity().is_some() || bit.bare().is_some());
    let [time] = figures.collect::<Vec<_>>()[..] else {
        return None;
    };
    let minutes = time
        .quantity()
        .filter(|written| written.unit == Unit::Minute)?;
    let is_left = rest.iter().any(|bit| {
        matches!(bit.word(), Some("at" | "left" | "last" | "before" | "end")) || bit.is_mark('@')
    });
    let is_boil = rest
        .iter()
        .any(|bit| bit.word().is_some_and(|word| word.starts_with("boil")));
    (last.is_mark(':') && is_left && !is_boil).then_some(Figure {
        written: Some(*minutes),
        bare: None,
        link: Link::At,
        span: time.span,
        at: usize::MAX,
    })
}

/// `When it is down to 4 P: 1 kg honey`: a gravity before what it is said of, and how many pieces it takes.
fn gravity_lead(bits: &[Bit]) -> Option<(Figure, usize)> {
    const BEFORE: [&str; 13] = [
        "when", "at", "around", "about", "once", "it", "it's", "is", "down", "to", "gets", "below",
        "hits",
    ];
    let words = bits
        .iter()
        .take_while(|bit| bit.word().is_some_and(|word| BEFORE.contains(&word)));
    let count = words.count();
    let bit = bits.get(count).filter(|_| count > 0)?;
    let written = bit.quantity().filter(|written| {
        matches!(
            written.unit.dimension(),
            Dimension::Gravity | Dimension::Ratio
        )
    })?;
    let ends = bits.get(count + 1).is_some_and(|next| {
        matches!(next.what, What::Mark(':' | ','))
            || matches!(next.word(), Some("add" | "goes" | "go"))
    });
    let figure = Figure {
        written: Some(*written),
        bare: None,
        link: Link::When,
        span: bit.span,
        at: usize::MAX,
    };
    ends.then_some((figure, count + 1))
}

/// `90   Premiant 8 %   12 IBU`: a number before a name that has its amount behind it, and no other time.
fn is_column(figure: &Bit, rest: &[Bit]) -> bool {
    let is_whole = figure
        .bare()
        .is_some_and(|bare| bare.high.is_none() && bare.low.fract() == 0.0);
    let has = |wanted: &[Dimension]| {
        rest.iter().any(|bit| {
            bit.quantity()
                .is_some_and(|written| wanted.contains(&written.unit.dimension()))
        })
    };
    let is_named = rest.first().is_some_and(|bit| bit.word().is_some());
    let amounts = [
        Dimension::Mass,
        Dimension::Bitterness,
        Dimension::Concentration,
    ];
    is_whole && is_named && has(&amounts) && !has(&[Dimension::Time])
}

/// `Gyle 214. …`: how many pieces say which brew it was, before the name of the beer.
fn number_of_brew(bits: &[Bit]) -> usize {
    let [brew, number, mark, ..] = bits else {
        return 0;
    };
    let is_brew = matches!(brew.word(), Some("gyle" | "brew" | "batch" | "sud"));
    let is_number = number.bare().is_some() && matches!(mark.what, What::Mark(_));
    if is_brew && is_number { 3 } else { 0 }
}

/// Whether a first line talks to its reader, and names nothing.
fn is_talk(bits: &[Bit]) -> bool {
    let talks = |bit: &Bit| matches!(bit.word(), Some("i" | "i'm" | "my" | "who" | "here's"));
    let ends = |bit: &&Bit| !matches!(bit.what, What::Mark(_));
    bits.len() > 8 && bits.iter().take_while(ends).any(talks)
}

/// `The name's …`, `Beer's called …`, `Take-home recipe: …`: behind how many pieces the name of the beer begins.
fn said_name(bits: &[Bit]) -> Option<usize> {
    let words: Vec<&str> = bits.iter().map_while(Bit::word).take(8).collect();
    let called = words
        .iter()
        .take(4)
        .position(|word| matches!(*word, "called" | "named" | "name's"));
    if let Some(at) = called {
        return Some(at + 1);
    }
    // `Take-home recipe: …`, `Brand: …`
    let colon = bits.iter().position(|bit| bit.is_mark(':'));
    let labels = colon.filter(|colon| {
        let label = colon.checked_sub(1).and_then(|at| words.get(at));
        (1..=3).contains(colon) && matches!(label, Some(&"recipe" | &"brand"))
    });
    if let Some(colon) = labels {
        return Some(colon + 1);
    }
    let named = words.iter().take(3).position(|word| *word == "name")?;
    let is = words.iter().position(|word| *word == "is")?;
    (is > named).then_some(is + 1)
}
