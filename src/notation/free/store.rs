//! What a brewer has, listed on a sheet: `On hand: 5 kg pale ale malt, no lactic acid`.

use super::bit::Bit;
use super::draft::{line, tokens};
use super::group::{Figure, Group};
use super::item::Item;
use super::names::Among;
use super::said::Part;
use super::sheet::{Read, Sheet};
use super::told::Told;
use crate::catalogue::Kind;
use crate::notation::tree::Line;
use crate::quantity::Dimension;

/// Words of a heading that speaks of what there is.
const STORES: [&str; 7] = [
    "store",
    "cupboard",
    "stock",
    "hand",
    "freezer",
    "pantry",
    "storeroom",
];

/// How many pieces of a line are a heading of what there is.
pub(super) fn heading(bits: &[Bit]) -> Option<usize> {
    let end = bits.iter().position(|bit| bit.is_mark(':'))?;
    let words: Vec<&str> = bits.iter().take(end).filter_map(Bit::word).collect();
    let is_store = words.iter().any(|word| STORES.contains(word));
    let is_left = words.starts_with(&["what's", "left"]) || words.starts_with(&["left", "over"]);
    let has_amount = bits.iter().take(end).any(|bit| bit.quantity().is_some());
    ((is_store || is_left) && !has_amount && words.len() <= 12).then_some(end + 1)
}

impl Sheet<'_> {
    /// Reads the things of a line of what there is.
    pub(super) fn stored(&mut self, bits: &[Bit]) -> Read {
        let part = std::mem::replace(&mut self.part, Part::Stock);
        let groups = self.groups(bits);
        self.part = part;
        let mut any = false;
        for mut group in groups {
            any |= self.thing(&mut group);
            self.leave(&group);
        }
        if any { Read::WordsLeft } else { Read::Nothing }
    }

    fn thing(&mut self, group: &mut Group) -> bool {
        let has = |group: &Group, words: &[&str]| {
            group
                .others
                .iter()
                .any(|word| words.contains(&word.as_str()))
        };
        let is_none = group.is_denied || has(group, &["zero", "none", "out"]);
        let is_any = has(group, &["plenty", "lots", "enough", "loads"]);
        let mut rest = group.clone();
        rest.others.retain(|word| {
            !matches!(
                word.as_str(),
                "zero" | "none" | "plenty" | "lots" | "enough" | "loads"
            )
        });
        // A colour is that of a malt: `crystal 80, 2 lb` is no hop.
        let end = rest
            .name
            .as_ref()
            .map_or(0, |name| name.at + name.words.len());
        let is_shade = |figure: &Figure| {
            figure.dimension() == Some(Dimension::Colour)
                || figure.bare.is_some() && figure.at == end
        };
        let is_coloured = rest.figures.iter().any(is_shade);
        if is_none {
            rest.figures.retain(is_shade);
        }
        let kinds: &'static [Kind] = if is_coloured {
            &[Kind::Malt, Kind::Grain]
        } else {
            &[]
        };
        let Some(item) = Item::of(self, &mut rest, Some(Part::Stock), Among::Kinds(kinds)) else {
            if let Some(doubt) = rest.doubt.take().filter(|_| !is_none) {
                self.told.push(Told::Asked(doubt));
                group.figures.clear();
                return true;
            }
            return false;
        };
        let much = if is_none {
            "none"
        } else if item.is_stated() {
            ""
        } else if is_any {
            "any"
        } else {
            return false;
        };
        *group = rest;
        let span = group.span.unwrap_or_default();
        let mut written = tokens(much, span);
        written.extend(item.tokens(None));
        self.told.extend(item.told);
        let stored: Line<'static> = line(written, Vec::new());
        self.draft.stock.lines.push(stored);
        true
    }
}
