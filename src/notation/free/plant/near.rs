//! Which figure of a line of a plant belongs to which of its words.

use crate::notation::free::bit::Bit;

use super::words::{Tag, tag};
use crate::notation::free::words::Clause;
use crate::quantity::Dimension;

pub(super) const fn is_batch(tag: Tag) -> bool {
    matches!(
        tag,
        Tag::Batch
            | Tag::IntoFermenter
            | Tag::EndOfBoil
            | Tag::Packaged
            | Tag::BeforeBoil
            | Tag::Sparge
    )
}

pub(super) fn batch_point(whole: &[Tag]) -> &'static str {
    if whole.contains(&Tag::IntoFermenter) {
        " into fermenter"
    } else if whole.contains(&Tag::EndOfBoil) {
        " at end of boil"
    } else if whole.contains(&Tag::Packaged) {
        " packaged"
    } else {
        ""
    }
}

/// The tag that a volume is of: the first behind it before another volume, else the last before it; and whether it is what the vessel
/// holds then: `5 gal in a carboy`.
pub(super) fn near(part: &Clause<'_>, at: usize, own: &[(usize, Tag)]) -> Option<(Tag, bool)> {
    let is_volume = |at: usize| {
        part.bits
            .get(at)
            .and_then(Bit::quantity)
            .is_some_and(|written| written.unit.dimension() == Dimension::Volume)
    };
    let next = (at + 1..part.bits.len())
        .find(|at| is_volume(*at))
        .unwrap_or(part.bits.len());
    let before = (0..at)
        .rev()
        .find(|at| is_volume(*at))
        .map_or(0, |at| at + 1);
    let is_of = |tag: Tag| tag.is_vessel() || is_batch(tag);
    // A batch is said of the whole.
    if let Some((_, tag)) = own.iter().find(|(_, tag)| *tag == Tag::Batch)
        && before == 0
        && next == part.bits.len()
    {
        return Some((*tag, false));
    }
    let behind = own
        .iter()
        .find(|(place, tag)| at < *place && *place < next && is_of(*tag));
    if let Some((place, tag)) = behind {
        let between = part.bits.get(at + 1..*place).unwrap_or(&[]);
        let is_inside = between
            .iter()
            .any(|bit| matches!(bit.word(), Some("in" | "into")));
        return Some((*tag, is_inside));
    }
    let ahead = own
        .iter()
        .rev()
        .find(|(place, tag)| before <= *place && *place < at && is_of(*tag));
    ahead.map(|(_, tag)| (*tag, false))
}

/// A clause cut before each verb or `and` that has a figure of its own.
pub(super) fn parts<'b>(clause: &Clause<'b>) -> Vec<Clause<'b>> {
    let is_figure = |bit: &Bit| bit.quantity().is_some() || bit.bare().is_some();
    let mut cuts = vec![0];
    let mut has_figure = false;
    for (at, bit) in clause.bits.iter().enumerate() {
        let here = clause.bits.get(at..).unwrap_or(&[]);
        let is_verb = matches!(
            tag(here),
            Some((Tag::Loss | Tag::Evaporation | Tag::Absorption, _))
        );
        let joins = bit.word() == Some("and");
        let follows = here.iter().skip(1).any(is_figure);
        if has_figure && follows && (joins || is_verb) && is_new_figure(here) {
            cuts.push(at);
            has_figure = false;
        }
        has_figure |= is_figure(bit);
    }
    cuts.push(clause.bits.len());
    cuts.iter()
        .zip(cuts.iter().skip(1))
        .filter_map(|(from, to)| {
            let bits = clause.bits.get(*from..*to)?;
            Some(Clause {
                bits,
                from: clause.from + from,
                mark: if *from == 0 { clause.mark } else { None },
            })
        })
        .collect()
}

/// Whether a figure behind is more than the time of what stands before: `2 gal boil off in an hour`.
fn is_new_figure(here: &[Bit]) -> bool {
    here.iter()
        .find_map(Bit::quantity)
        .is_some_and(|written| written.unit.dimension() != Dimension::Time)
}
