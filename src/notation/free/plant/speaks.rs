//! Which parts of a sheet speak of the plant.

use crate::notation::free::bit::{Bit, What};

use super::words::{Tag, tag, tags};
use crate::notation::free::said::trade;
use crate::notation::free::words::{Clause, clauses};
use crate::quantity::Dimension;

/// Whether a line speaks of a plant.
pub(in crate::notation::free) fn speaks(bits: &[Bit]) -> bool {
    let tags = tags(bits);
    let has_figure = bits.iter().any(|bit| {
        matches!(
            bit.what,
            What::Quantity(_) | What::Bare(_) | What::Ambiguous(..)
        )
    });
    let is_clear = |tag: Tag| {
        !matches!(
            tag,
            Tag::Hops
                | Tag::Lees
                | Tag::Aside
                | Tag::Brewhouse
                | Tag::Batch
                | Tag::Sparge
                | Tag::MashIn
                | Tag::BeforeBoil
        )
    };
    let is_subject = |(_, tag): &(usize, Tag)| is_clear(*tag) && (has_figure || is_way(*tag));
    tags.iter().any(is_subject) || bits.iter().any(is_rate)
}

const fn is_way(tag: Tag) -> bool {
    matches!(
        tag,
        Tag::Bag
            | Tag::BatchSparge
            | Tag::Continuous
            | Tag::NoSparge
            | Tag::NoMash
            | Tag::Plate
            | Tag::Coil
            | Tag::NoChill
    )
}

fn is_rate(bit: &Bit) -> bool {
    bit.quantity().is_some_and(|written| {
        matches!(
            written.unit.dimension(),
            Dimension::VolumePerTime | Dimension::VolumePerMass
        )
    })
}

/// Whether a clause of a sheet states a figure of the plant.
fn is_of_a_plant(clause: &Clause<'_>) -> bool {
    let tags = tags(clause.bits);
    let says = |wanted: &[Tag]| tags.iter().any(|(_, tag)| wanted.contains(tag));
    let measures = |dimension| {
        clause.bits.iter().any(|bit| {
            bit.quantity()
                .is_some_and(|written| written.unit.dimension() == dimension)
        })
    };
    let is_alone = clause.bits.iter().all(|bit| bit.word().is_some());
    measures(Dimension::VolumePerTime) && !says(&[Tag::Sparge, Tag::Continuous])
        || measures(Dimension::Percent) && says(&[Tag::Yield])
        // `boil 90 min with 30 g target 9.5 %`: alpha acids.
        || measures(Dimension::Percent) && says(&[Tag::Evaporation]) && !measures(Dimension::Mass)
        || measures(Dimension::VolumePerMass) && says(&[Tag::Absorption])
        || measures(Dimension::Volume)
            && says(&[Tag::Loss])
            && says(&[Tag::Kettle, Tag::Trub, Tag::Tun, Tag::Fermenter])
        || measures(Dimension::Length) && says(&[Tag::Altitude])
        || is_alone && says(&[Tag::NoSparge, Tag::BatchSparge, Tag::NoChill])
        || says(&[Tag::Bag]) && clause.bits.len() == 1
        || is_alone
            && says(&[Tag::Bag])
            && (says(&[Tag::NoSparge]) || says(&[Tag::Kettle, Tag::BeforeBoil]) && !says(&[Tag::Sparge]))
            && is_all_said(clause.bits)
        || is_vessel(clause.bits)
        || is_size(clause.bits)
}

/// `BIAB no sparge`, `full volume in a bag`: words of a plant and such as say nothing.
fn is_all_said(bits: &[Bit]) -> bool {
    let mut at = 0;
    while let Some(stretch) = bits.get(at..).filter(|stretch| !stretch.is_empty()) {
        let filler = || {
            let word = stretch.first().and_then(Bit::word);
            word.is_some_and(|word| trade().is_filler(word))
                .then_some(1)
        };
        let Some(count) = tag(stretch).map(|(_, count)| count).or_else(filler) else {
            return false;
        };
        at += count;
    }
    true
}

/// `leaves 2 qt behind`, beside other figures of a plant.
fn is_loss(clause: &Clause<'_>) -> bool {
    let is_volume = |bit: &Bit| {
        bit.quantity()
            .is_some_and(|written| written.unit.dimension() == Dimension::Volume)
    };
    tags(clause.bits).iter().any(|(_, tag)| *tag == Tag::Loss)
        && clause.bits.iter().filter(|bit| is_volume(bit)).count() == 1
}

/// `my kettle 9 gal`, `my mash tun is a 15 L cool box`: a vessel and its size, and no heat or time beside it.
fn is_size(bits: &[Bit]) -> bool {
    let figures: Vec<usize> = (0..bits.len())
        .filter(|at| {
            bits.get(*at)
                .is_some_and(|bit| bit.quantity().is_some() || bit.bare().is_some())
        })
        .collect();
    let [at] = figures[..] else { return false };
    let is_volume = bits
        .get(at)
        .and_then(Bit::quantity)
        .is_some_and(|written| written.unit.dimension() == Dimension::Volume);
    let between = |from: usize| {
        bits.get(from..at).is_some_and(|bits| {
            bits.iter()
                .all(|bit| matches!(bit.word(), Some("is" | "a" | "an" | "of" | "holds")))
        })
    };
    let before = bits.get(..at).unwrap_or(&[]);
    let is_vessel = (0..before.len()).any(|from| {
        let found = before.get(from..).and_then(tag);
        found.is_some_and(|(tag, count)| {
            matches!(tag, Tag::Kettle | Tag::Tun) && between(from + count)
        })
    });
    is_volume && is_vessel
}

/// What stands between the size of a vessel and its name.
const BUILT: [&str; 8] = [
    "stainless",
    "steel",
    "stock",
    "brew",
    "boil",
    "old",
    "plastic",
    "cool",
];

/// `5 gal stainless pot`, `bag in the 19 L pot`: one figure, with the name of a vessel behind it.
fn is_vessel(bits: &[Bit]) -> bool {
    let figures = bits
        .iter()
        .filter(|bit| bit.quantity().is_some() || bit.bare().is_some())
        .count();
    let Some(at) = bits.iter().position(|bit| {
        bit.quantity()
            .is_some_and(|written| written.unit.dimension() == Dimension::Volume)
    }) else {
        return false;
    };
    let mut words = bits.iter().skip(at + 1).map_while(Bit::word);
    let name = words.find(|word| !BUILT.contains(word));
    let is_named = name.is_some_and(|word| {
        matches!(
            word,
            "pot" | "pan" | "kettle" | "copper" | "bucket" | "cooler" | "coolbox" | "box"
        )
    });
    figures == 1 && is_named
}

/// Parts the clauses of a sheet that speak of the plant from the rest.
pub(in crate::notation::free) fn parted(bits: &[Bit]) -> (Vec<Bit>, Vec<Bit>) {
    let (mut rest, mut plant) = (bits.to_vec(), Vec::new());
    let clauses = clauses(bits);
    let is_measured = |clause: &Clause<'_>| clause.bits.iter().all(|bit| bit.word().is_none());
    for (_, clause) in clauses.iter().enumerate().rev().filter(|(at, clause)| {
        // `batch sparge x2, 80 C`: of the day, and not of the plant.
        let is_way = tags(clause.bits)
            .iter()
            .any(|(_, tag)| *tag == Tag::BatchSparge);
        let next = clauses.get(at + 1).is_some_and(is_measured);
        let is_next = |before: &usize| clauses.get(*before).is_some_and(is_of_a_plant);
        let follows = at.checked_sub(1).as_ref().is_some_and(is_next) && is_loss(clause);
        is_of_a_plant(clause) && !(is_way && next) || follows
    }) {
        let from = clause.from;
        let to = (from + clause.bits.len() + 1).min(rest.len());
        let mut own: Vec<Bit> = rest.splice(from..to, []).collect();
        own.append(&mut plant);
        plant = own;
    }
    (rest, plant)
}
