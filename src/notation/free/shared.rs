//! What a line says once of several things: a time for all its additions, the heat of pitching beside the yeast.

use super::bit::{Bit, What};
use super::group::{Figure, Group, Link, Name};
use super::said::{Part, Slot};
use super::scan::scan;
use super::sheet::{Sheet, Souring};
use super::sour::{ACIDIFIED_BELOW_PH, CULTURES, LEAST_MIN, SOURED_AT};
use super::told::Told;
use crate::catalogue::Kind;
use crate::notation::lower::is_form_of_hops;
use crate::notation::tree::Line;
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// A place behind all pieces of a line, for a figure that is said of more than one thing.
pub(super) const SHARED: usize = usize::MAX / 2;

fn is_time(figure: &Figure) -> bool {
    figure.dimension() == Some(Dimension::Time) || figure.bare.is_some() && figure.link == Link::At
}

fn is_warmth(figure: &Figure) -> bool {
    figure.dimension() == Some(Dimension::Temperature)
}

/// `Dry hop day 7: 25 g citra, 15 g galaxy, 48 h at 15 C`: the day and the gravity of the first addition and the time and heat of the
/// last are those of all.
fn share_days(groups: &mut [Group]) {
    let is_item = |group: &Group| {
        group.name.as_ref().is_some_and(|name| name.is_known)
            && group.said.iter().all(|said| said.takes_item())
            && group.amounts().next().is_some()
    };
    let is_day = |figure: &Figure| {
        figure.link == Link::Day
            || figure.link == Link::When
                && matches!(
                    figure.dimension(),
                    Some(Dimension::Gravity | Dimension::Ratio)
                )
    };
    let is_spell =
        |figure: &Figure| is_warmth(figure) || figure.dimension() == Some(Dimension::Time);
    let mut at = 0;
    while at < groups.len() {
        let run = groups
            .iter()
            .skip(at)
            .take_while(|group| is_item(group))
            .count();
        let Some(items) = groups.get_mut(at..at + run).filter(|items| items.len() > 1) else {
            at += run.max(1);
            continue;
        };
        let of = |group: Option<&Group>, wanted: &dyn Fn(&Figure) -> bool| -> Vec<Figure> {
            let figures = group.into_iter().flat_map(|group| group.figures.iter());
            figures.filter(|figure| wanted(figure)).copied().collect()
        };
        let days = of(items.first(), &is_day);
        let spells = of(items.last(), &is_spell);
        for group in items.iter_mut() {
            let lacks = |wanted: &dyn Fn(&Figure) -> bool| !group.figures.iter().any(wanted);
            let mut more = Vec::new();
            if lacks(&is_day) {
                more.extend(days.iter().copied());
            }
            if lacks(&is_spell) {
                more.extend(spells.iter().copied());
            }
            group
                .figures
                .extend(more.into_iter().enumerate().map(|(more, figure)| Figure {
                    at: SHARED + more,
                    ..figure
                }));
        }
        at += run;
    }
}

/// `Citra 30 g, mosaic 30 g whirlpool 80 C 30 min`: the stand that the last of a row says begins with the first of it.
fn share_stand(groups: &mut [Group]) {
    let is_item = |group: &Group| {
        group.name.as_ref().is_some_and(|name| name.is_known) && group.amounts().next().is_some()
    };
    let is_hot = |figure: &Figure| is_warmth(figure) || is_time(figure);
    let is_plain = |group: &Group| {
        is_item(group)
            && group.said.is_empty()
            && group.when.is_empty()
            && !group.figures.iter().any(is_hot)
    };
    let Some((last, before)) = groups.split_last_mut() else {
        return;
    };
    let stands = last.said.iter().any(|said| said.line.starts_with("stand"));
    if !(stands && is_item(last)) {
        return;
    }
    let row = before
        .iter()
        .rev()
        .take_while(|group| is_plain(group))
        .count();
    let first = before.len() - row;
    let Some(first) = before.get_mut(first) else {
        return;
    };
    (first.said, first.phrase) = (
        std::mem::take(&mut last.said),
        std::mem::take(&mut last.phrase),
    );
    first.said_at = last.said_at;
    // `stand 30`: a number behind the word is of it.
    let said_at = last.said_at;
    let is_of_all =
        |figure: &mut Figure| is_hot(figure) || figure.bare.is_some() && figure.at > said_at;
    let of_all: Vec<Figure> = last.figures.extract_if(.., is_of_all).collect();
    first.figures.extend(of_all);
}

impl Sheet<'_> {
    /// `15 kg maltodextrin + 25 kg lactose, 15 min`: a time that stands once, behind the last addition or before the first, is that of
    /// all.
    pub(super) fn share_times(&mut self, groups: &mut [Group]) {
        let is_dry_hop = |group: &Group| {
            let mut said = group.said.iter();
            group.name.is_some() && said.any(|said| said.takes_item() && said.part == Part::Ferment)
        };
        if matches!(self.part, Part::Ferment | Part::Package)
            || groups.first().is_some_and(is_dry_hop)
        {
            share_days(groups);
        }
        share_stand(groups);
        if !matches!(self.part, Part::Boil | Part::Stand) {
            return;
        }
        let is_item = |group: &Group| {
            group.name.as_ref().is_some_and(|name| name.is_known)
                && group.said.is_empty()
                && group.amounts().next().is_some()
        };
        let is_timed = |group: &Group| group.figures.iter().any(is_time) || !group.when.is_empty();
        let items: Vec<usize> = (0..groups.len())
            .filter(|at| groups.get(*at).is_some_and(is_item))
            .collect();
        let timed: Vec<usize> = items
            .iter()
            .copied()
            .filter(|at| groups.get(*at).is_some_and(is_timed))
            .collect();
        let ([first, .., last], [only]) = (items.as_slice(), timed.as_slice()) else {
            return;
        };
        // Beside each other, and nothing between them.
        if last - first + 1 != items.len() {
            return;
        }
        let Some(source) = groups.get(*only).cloned() else {
            return;
        };
        let name = source.name.as_ref().map_or(0, |name| name.at);
        let leads = source
            .figures
            .iter()
            .filter(|figure| is_time(figure))
            .all(|figure| figure.at < name)
            && (source.when.is_empty() || source.when_at < name);
        if !(only == last || only == first && leads) {
            return;
        }
        for at in items.iter().filter(|at| *at != only) {
            let Some(group) = groups.get_mut(*at) else {
                continue;
            };
            group.when.clone_from(&source.when);
            group.when_at = source.when_at;
            let times = source.figures.iter().filter(|figure| is_time(figure));
            // A place of its own, since figures are told apart by it.
            group
                .figures
                .extend(times.enumerate().map(|(more, figure)| Figure {
                    at: SHARED + more,
                    ..*figure
                }));
            if let Some(span) = group.span {
                let text = source.figures.iter().find(|figure| is_time(figure));
                let said = text.map(Figure::text).or_else(|| {
                    let when = source.when.first()?;
                    Some(when.line.to_owned())
                });
                let name = group.name.as_ref().map(|name| name.words.join(" "));
                self.told.push(Told::Default(
                    name.unwrap_or_default(),
                    said.unwrap_or_default(),
                    span,
                ));
            }
        }
    }

    /// `Northern Brewer, 8.2 % alpha:` with `1 oz at 60 min` below it: the hop that a line does not name.
    pub(super) fn below_heading(&mut self, groups: &mut [Group]) {
        if matches!(self.part, Part::Mash | Part::Water) && self.is_heading {
            let is_hop = |group: &Group| {
                let name = group.name.as_ref().filter(|name| name.is_known);
                name.is_some_and(|name| self.names.resolve(&name.words, &[Kind::Hop]).is_some())
            };
            if groups.first().is_some_and(is_hop) {
                self.part = Part::Boil;
            }
        }
        if !matches!(self.part, Part::Boil | Part::Stand | Part::Ferment) {
            self.headed = None;
            return;
        }
        let is_named = groups
            .iter()
            .any(|group| group.name.as_ref().is_some_and(|name| name.is_known));
        if is_named {
            let is_hop = |name: &&Name| self.names.resolve(&name.words, &[Kind::Hop]).is_some();
            let is_weighed = groups.iter().any(|group| {
                group
                    .amounts()
                    .any(|figure| figure.dimension() == Some(Dimension::Mass))
            });
            let first = groups
                .iter()
                .find_map(|group| group.name.as_ref())
                .filter(is_hop);
            let alpha = groups
                .iter()
                .flat_map(|group| &group.figures)
                .find(|figure| figure.dimension() == Some(Dimension::Percent));
            self.headed = first
                .filter(|_| self.is_heading && !is_weighed)
                .map(|name| (name.clone(), alpha.copied()));
            if self.headed.is_some() {
                let words = groups.iter().flat_map(|group| &group.others);
                self.form = words
                    .into_iter()
                    .find(|word| is_form_of_hops(word))
                    .cloned();
            }
            return;
        }
        let is_more = |group: &Group| group.others.iter().any(|word| word == "another");
        let again = self
            .last
            .clone()
            .filter(|_| groups.iter().any(is_more))
            .map(|name| (name, None));
        let Some((name, alpha)) = self.headed.clone().or(again) else {
            return;
        };
        for group in groups {
            let is_weighed = group
                .figures
                .iter()
                .any(|figure| figure.dimension() == Some(Dimension::Mass));
            if !is_weighed || !group.said.is_empty() || group.name.is_some() {
                continue;
            }
            let span = group.span.unwrap_or(name.span);
            group.name = Some(Name {
                at: SHARED + 1,
                span,
                ..name.clone()
            });
            group.figures.extend(alpha.map(|alpha| Figure {
                at: SHARED + 9,
                ..alpha
            }));
            self.told.push(Told::Default(
                "the hop of the line".into(),
                name.words.join(" "),
                span,
            ));
        }
    }

    /// `half a pound each of Munich and wheat malt`: an amount of each.
    pub(super) fn share_each(bits: &[Bit], groups: &mut [Group]) {
        let is_each = |pair: &[Bit]| {
            let [amount, each] = pair else { return false };
            each.word() == Some("each")
                && amount
                    .quantity()
                    .is_some_and(|written| written.unit.dimension() == Dimension::Mass)
        };
        let Some(at) = bits.windows(2).position(is_each) else {
            return;
        };
        let amount = groups
            .iter()
            .flat_map(|group| &group.figures)
            .find(|figure| figure.at == at)
            .copied();
        let Some(amount) = amount else { return };
        for group in groups {
            let follows = group
                .name
                .as_ref()
                .is_some_and(|name| name.is_known && name.at > at);
            if follows && group.said.is_empty() && group.amounts().next().is_none() {
                group.figures.push(Figure {
                    at: SHARED,
                    ..amount
                });
            }
        }
    }

    /// `Ferment 19 C with ale yeast`, `Cool to 24 C, saison yeast 40 g/hL`: the heat at which the yeast of the line is pitched.
    pub(super) fn pitching_heat(&mut self, groups: &mut Vec<Group>) {
        let is_yeast = |group: &Group| {
            let name = group.name.as_ref().filter(|name| name.is_known);
            name.is_some_and(|name| self.names.resolve(&name.words, &[Kind::Yeast]).is_some())
        };
        let Some(yeast) = groups.iter().position(is_yeast) else {
            return;
        };
        let has_heat = |group: &Group| group.figures.iter().any(is_warmth);
        if groups.get(yeast).is_none_or(has_heat) {
            return;
        }
        let is_only_heat = |group: &Group| {
            group.name.is_none()
                && group.when.is_empty()
                && group.figures.len() == 1
                && has_heat(group)
                && group
                    .figures
                    .iter()
                    .all(|figure| !matches!(figure.link, Link::To | Link::Most))
        };
        let says =
            |group: &Group, word: &str| group.said.iter().any(|said| said.line.starts_with(word));
        let Some(at) = (0..groups.len()).find(|at| {
            groups.get(*at).is_some_and(|group| {
                let begins = |word: &String| {
                    matches!(
                        word.as_str(),
                        "start" | "started" | "begin" | "begins" | "room" | "cool"
                    )
                };
                let is_said = group.said.is_empty() && group.others.iter().all(begins)
                    || says(group, "pitch")
                    || says(group, "hold") && *at < yeast
                    || says(group, "cool to");
                is_only_heat(group) && is_said && at.abs_diff(yeast) == 1
            })
        }) else {
            return;
        };
        let Some(figure) = groups
            .get(at)
            .and_then(|group| group.figures.first().copied())
        else {
            return;
        };
        let is_cooled = groups.get(at).is_some_and(|group| says(group, "cool to"));
        if let Some(group) = groups.get_mut(yeast) {
            let place = if is_cooled { SHARED } else { figure.at };
            group.figures.push(Figure {
                link: Link::At,
                at: place,
                ..figure
            });
        }
        if !is_cooled {
            groups.remove(at);
        }
    }

    /// `8 days total`: of several holds together; `0.2 ppm as zinc sulphate`: a dose of what is in it, and not of it.
    pub(super) fn without_totals(&mut self, bits: &[Bit]) -> Vec<Bit> {
        let word = |bits: &[Bit], at: usize, wanted: &[&str]| {
            bits.get(at)
                .and_then(Bit::word)
                .is_some_and(|word| wanted.contains(&word))
        };
        let mut whole = Vec::with_capacity(bits.len());
        let mut skipped = false;
        for (at, bit) in bits.iter().enumerate() {
            skipped &= !matches!(bit.what, What::Mark(_));
            if skipped {
                continue;
            }
            let Some(written) = bit.quantity() else {
                whole.push(bit.clone());
                continue;
            };
            let is_total = written.unit.dimension() == Dimension::Time
                && word(bits, at + 1, &["total", "altogether", "later"]);
            if is_total {
                self.told.push(Told::NotUsed(written.to_string(), bit.span));
                continue;
            }
            whole.push(bit.clone());
            // The dose is that of what the name says.
            skipped = written.unit == Unit::MilligramPerLitre
                && at > 0
                && word(bits, at + 1, &["as"])
                && !word(bits, at + 2, &["caco3"]);
            if skipped {
                let words = bits.iter().skip(at + 1).map_while(Bit::word);
                let text = words.collect::<Vec<_>>().join(" ");
                self.told.push(Told::Remark(text, bit.span));
            }
        }
        whole
    }

    /// `pitch at 18 C`, where the yeast stands on a later line.
    pub(super) fn keep_pitching_heat(&mut self, group: &mut Group) -> bool {
        let is_us = self.is_us;
        let found = group.figures.iter().position(|figure| {
            is_warmth(figure)
                || figure.bare.is_some_and(|bare| {
                    Slot::Temperature
                        .bare(bare.middle(), Part::Ferment, is_us)
                        .is_some()
                })
        });
        let Some(at) = found.filter(|_| !self.is_pitched && self.pitched_at.is_none()) else {
            return false;
        };
        let mut figure = group.figures.remove(at);
        if let Some(bare) = figure.bare.take()
            && let Some(unit) = Slot::Temperature.bare(bare.middle(), Part::Ferment, is_us)
        {
            let written = AsWritten::marked(bare, unit);
            let typed = bare.middle().to_string();
            self.told
                .push(Told::Assumed(typed, written.to_string(), figure.span));
            figure.written = Some(written);
        }
        self.pitched_at = Some(figure);
        true
    }

    /// A line below `sour`.
    pub(super) fn sours(&mut self, typed: &Line<'_>) {
        let mut bits = scan(typed.tokens());
        self.gallons.read(&mut bits, &mut self.told);
        for mut group in self.groups(&bits) {
            self.soured.take(&mut group);
            self.leave(&group);
        }
    }

    /// Whether a line speaks of souring before the boil: from the cooling of the wort to the boil behind it.
    pub(super) fn is_soured(&mut self, bits: &[Bit]) -> bool {
        if self.souring == Souring::Not || self.is_pitched {
            return false;
        }
        let says = |wanted: &[&str]| {
            bits.iter()
                .any(|bit| bit.word().is_some_and(|word| wanted.contains(&word)))
        };
        let is_hot = |bit: &Bit| {
            bit.quantity().is_some_and(|written| {
                written.unit.dimension() == Dimension::Temperature
                    && SOURED_AT.contains(&written.unit.to_base(written.number))
            }) || bit.bare().is_some_and(|bare| {
                let degrees = Unit::Fahrenheit.to_base(bare.middle());
                bare.middle() > 86.0 && SOURED_AT.contains(&degrees)
            })
        };
        if self.souring == Souring::Meant {
            let cools = says(&["cool", "chill", "chilled", "cooled", "down"]);
            // Acid that makes wort sourer than any mash.
            let is_sour = |bit: &Bit| {
                bit.quantity().is_some_and(|written| {
                    written.unit.dimension() == Dimension::Ph
                        && written.number <= ACIDIFIED_BELOW_PH
                })
            };
            let acidifies = says(&["preacidify", "pre-acidify", "acidify", "pre-acidified"]);
            // `lacto at 38 C`, `lactobacillus 36 h`: bacteria before the boil, and no yeast beside them.
            let is_long = |bit: &Bit| {
                bit.quantity().is_some_and(|written| {
                    matches!(written.unit, Unit::Hour | Unit::Day)
                        && written.unit.to_base(written.number) >= LEAST_MIN
                })
            };
            let is_early = self.draft.boil.lines.is_empty() && self.part != Part::Ferment;
            let is_cultured = is_early
                && says(&CULTURES)
                && !says(&["yeast"])
                && bits
                    .iter()
                    .any(|bit| is_hot(bit) || is_long(bit) || is_sour(bit));
            // A heading.
            let is_heading = bits.len() <= 3
                && bits
                    .iter()
                    .all(|bit| bit.word().is_some() || bit.is_mark(':'))
                && says(&["sour", "souring"]);
            if is_cultured || is_heading && is_early {
                self.souring = Souring::Now;
            }
            if cools && bits.iter().any(is_hot) || acidifies && bits.iter().any(is_sour) {
                self.souring = Souring::Now;
            }
        } else if says(&[
            "boil",
            "boiled",
            "reboil",
            "hops",
            "ferment",
            "fermenter",
            "package",
            "yeast",
            "rack",
            "bottle",
            "keg",
        ]) {
            self.souring = Souring::Not;
        }
        self.souring == Souring::Now
    }
}
