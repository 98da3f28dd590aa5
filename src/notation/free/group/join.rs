//! Which groups of a line speak of one thing.

use super::{Figure, Group, Link};
use crate::notation::free::said::Said;
use crate::quantity::{Dimension, Unit};

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
pub(super) fn join(groups: &mut Vec<Group>, group: Group, is_new_sentence: bool) {
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
    let is_spoon = |group: &Group| {
        let units = group.figures.iter().filter_map(|figure| figure.written);
        let mut units = units.map(|written| written.unit);
        units.any(|unit| matches!(unit, Unit::Teaspoon | Unit::Tablespoon))
    };
    // `2 g/L sugar and champagne yeast`: no word more of the sugar.
    let is_yeast = |group: &Group| {
        let words = group.name.iter().flat_map(|name| &name.words);
        words.into_iter().any(|word| word == "yeast")
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
        && (has(before, Dimension::Mass) && has(&group, Dimension::Mass)
            || is_spoon(before) && is_spoon(&group))
        && (!group.when.is_empty()
            || group
                .figures
                .iter()
                .any(|figure| matches!(figure.link, Link::At | Link::Day))
            || has(before, Dimension::Time) && has(&group, Dimension::Time));
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
    // `mash in 57 C, 63 C 40 min, 72 C 20 min`: the next step, and no time of the one before.
    let is_next_step = only_more
        && has(before, Dimension::Temperature)
        && has(&group, Dimension::Temperature)
        && before.name.is_none()
        && before.said.iter().any(|said| is_step(said));
    if is_next_step {
        let is_timed = has(&group, Dimension::Time)
            || group.figures.iter().any(|figure| figure.bare.is_some())
            || group.others.is_empty();
        let mut step = group;
        if is_timed {
            step.said = before
                .said
                .iter()
                .copied()
                .filter(|said| is_step(said))
                .collect();
            step.phrase.clone_from(&before.phrase);
        }
        groups.push(step);
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
        || is_item && before.name.is_some() && !has_amount && group.when.is_empty()
            && !is_yeast(&group);
    if joins {
        before.absorb(group);
    } else {
        groups.push(group);
    }
}

/// Whether a row says a step: a heat and how long it lasts.
fn is_step(said: &Said) -> bool {
    said.line.starts_with("rest") || said.line.starts_with("hold")
}
