//! What brewers call the parts of a plant, and what these do.

use crate::notation::free::bit::Bit;
use crate::notation::free::words::{begins, rows};
use std::sync::LazyLock;

/// What a phrase speaks of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tag {
    Kettle,
    Tun,
    /// A lauter tun of its own, which holds no mash.
    LauterTun,
    Fermenter,
    /// Equipment of which a plant holds no figure.
    Other,
    Batch,
    IntoFermenter,
    EndOfBoil,
    Packaged,
    BeforeBoil,
    Loss,
    /// What stays behind is yeast, of the fermenter.
    Lees,
    /// What stays behind is trub, of the kettle if nothing else is said.
    Trub,
    Evaporation,
    Yield,
    /// `brewhouse 74 %`
    Brewhouse,
    Absorption,
    Hops,
    MashIn,
    Sparge,
    Bag,
    BatchSparge,
    Continuous,
    NoSparge,
    NoMash,
    Plate,
    Coil,
    /// A chiller of which only that it is one is said.
    Chiller,
    NoChill,
    Coolant,
    Altitude,
    /// A temperature or a time that is none of the plant's.
    Aside,
}

impl Tag {
    fn named(name: &str) -> Option<Self> {
        Some(match name {
            "kettle" => Self::Kettle,
            "tun" => Self::Tun,
            "lauter tun" => Self::LauterTun,
            "fermenter" => Self::Fermenter,
            "other" => Self::Other,
            "batch" => Self::Batch,
            "into fermenter" => Self::IntoFermenter,
            "end of boil" => Self::EndOfBoil,
            "packaged" => Self::Packaged,
            "before boil" => Self::BeforeBoil,
            "loss" => Self::Loss,
            "trub" => Self::Trub,
            "lees" => Self::Lees,
            "evaporation" => Self::Evaporation,
            "yield" => Self::Yield,
            "brewhouse" => Self::Brewhouse,
            "absorption" => Self::Absorption,
            "hops" => Self::Hops,
            "mash in" => Self::MashIn,
            "sparge" => Self::Sparge,
            "bag" => Self::Bag,
            "batch sparge" => Self::BatchSparge,
            "continuous" => Self::Continuous,
            "no sparge" => Self::NoSparge,
            "no mash" => Self::NoMash,
            "plate" => Self::Plate,
            "coil" => Self::Coil,
            "chiller" => Self::Chiller,
            "no chill" => Self::NoChill,
            "coolant" => Self::Coolant,
            "altitude" => Self::Altitude,
            "aside" => Self::Aside,
            _ => return None,
        })
    }

    pub(super) const fn is_vessel(self) -> bool {
        matches!(
            self,
            Self::Kettle | Self::Tun | Self::LauterTun | Self::Fermenter | Self::Other
        )
    }

    pub(super) const fn is_chiller(self) -> bool {
        matches!(self, Self::Plate | Self::Coil | Self::Chiller)
    }
}

static TAGS: LazyLock<Vec<(Tag, Vec<&str>)>> = LazyLock::new(|| {
    let rows = rows(include_str!("words.txt"));
    rows.filter_map(|(name, phrases)| Some((Tag::named(name)?, phrases)))
        .collect()
});

/// What the stretch begins with, and how many pieces that takes: the longest phrase.
pub(super) fn tag(stretch: &[Bit]) -> Option<(Tag, usize)> {
    let first = stretch.first()?.word()?.as_bytes().first()?;
    let found = TAGS.iter().flat_map(|(tag, phrases)| {
        phrases
            .iter()
            .filter(|phrase| phrase.as_bytes().first() == Some(first))
            .filter_map(|phrase| begins(stretch, phrase))
            .map(move |count| (*tag, count))
    });
    found.max_by_key(|(_, count)| *count)
}

/// The tags of a stretch, each with the place of its first piece.
pub(super) fn tags(bits: &[Bit]) -> Vec<(usize, Tag)> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(stretch) = bits.get(at..).filter(|stretch| !stretch.is_empty()) {
        match tag(stretch) {
            Some((tag, count)) => {
                found.push((at, tag));
                at += count;
            }
            None => at += 1,
        }
    }
    found
}

/// How many rows of the file are read.
#[cfg(test)]
pub(in crate::notation::free) fn count_of_words() -> usize {
    TAGS.len()
}
