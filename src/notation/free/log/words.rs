//! What brewers write in a log: the rows of `words.txt`.

use crate::notation::free::bit::Bit;
use crate::notation::free::words::{has, rows};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// What phrases of a log speak of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::notation::free) enum LogWord {
    /// Wort before the end of the boil, and what becomes of the mash, beside the moments of the brewing day below.
    Hot,
    /// The wort that ran off first.
    FirstWort,
    /// The wort in the kettle before the boil.
    BeforeBoil,
    /// The wort in the kettle at the end of the boil.
    AfterBoil,
    /// What a pH is of.
    Mash,
    /// Wort on its way to the fermenter.
    Out,
    Cold,
    /// Beer that is taken out.
    Drawn,
    /// What is taken out and is no beer.
    NotBeer,
    /// What is lost or short, of which nobody knows what it was.
    Lost,
    /// Something goes in.
    Added,
    /// What is moved to another vessel.
    Moved,
    /// What is filled for sale or for the cellar, and what goes in there.
    Packaged,
    /// Doses of each of several vessels.
    Each,
    /// Yeast, of which a log does not keep how much there was.
    Yeast,
    /// Yeast goes in.
    Pitched,
    /// A refractometer, and its reading as it stands.
    Raw,
    /// Words about a reading that say nothing more.
    Reads,
    /// Words that say which paper it is and not which beer.
    Papers,
    /// The same behind a name.
    Endings,
    /// Vessels, which a heading may name before the beer.
    Vessels,
    /// Wort that is poured into what ferments.
    Wort,
    /// Young beer that ferments, of a brew of the same kind.
    Krausen,
    /// Beer of another brew.
    Beer,
    /// What is poured in, whether the line says so or not.
    Pours,
    /// The figure that follows takes the place of the one before.
    Corrects,
    /// The same in brackets only: elsewhere they say what was hoped for.
    InBrackets,
    /// Words before a figure, which are no name of a beer.
    Labels,
}

static PHRASES: LazyLock<BTreeMap<LogWord, Vec<&str>>> = LazyLock::new(|| {
    let rows = rows(include_str!("words.txt"));
    rows.filter_map(|(name, phrases)| Some((LogWord::named(name)?, phrases)))
        .collect()
});

impl LogWord {
    fn named(name: &str) -> Option<Self> {
        Some(match name {
            "hot" => Self::Hot,
            "first wort" => Self::FirstWort,
            "before boil" => Self::BeforeBoil,
            "after boil" => Self::AfterBoil,
            "mash" => Self::Mash,
            "out" => Self::Out,
            "cold" => Self::Cold,
            "drawn" => Self::Drawn,
            "not beer" => Self::NotBeer,
            "lost" => Self::Lost,
            "added" => Self::Added,
            "moved" => Self::Moved,
            "packaged" => Self::Packaged,
            "each" => Self::Each,
            "yeast" => Self::Yeast,
            "pitched" => Self::Pitched,
            "raw" => Self::Raw,
            "reads" => Self::Reads,
            "papers" => Self::Papers,
            "endings" => Self::Endings,
            "vessels" => Self::Vessels,
            "wort" => Self::Wort,
            "krausen" => Self::Krausen,
            "beer" => Self::Beer,
            "pours" => Self::Pours,
            "corrects" => Self::Corrects,
            "in brackets" => Self::InBrackets,
            "labels" => Self::Labels,
            _ => return None,
        })
    }

    pub(in crate::notation::free) fn phrases(self) -> &'static [&'static str] {
        PHRASES.get(&self).map_or(&[], Vec::as_slice)
    }
}

/// How many rows of the file are read.
#[cfg(test)]
pub(in crate::notation::free) fn count_of_words() -> usize {
    PHRASES.len()
}

/// Whether something is taken away that is no beer: `dumped 1 L yeast`, and not `added yeast nutrient`.
pub(super) fn removes(bits: &[Bit]) -> bool {
    let verbs = [
        "dumped",
        "dump",
        "skimmed",
        "cropped",
        "harvested",
        "left",
        "purged",
        "removed",
        "drained",
    ];
    has(bits, &verbs)
}
