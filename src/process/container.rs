//! Containers that beer is packaged in, and how much gas each is made for.

use crate::quantity::CarbonDioxide;
use serde::Serialize;

/// Crown-capped beer bottles are kept below 3 volumes of 1.977 g/L, heavy swing-top and returnable wheat-beer bottles below
/// 4 (common practice, no source).
const BOTTLE_G_L: f64 = 3.0 * 1.977;
/// See [`BOTTLE_G_L`].
const HEAVY_BOTTLE_G_L: f64 = 4.0 * 1.977;
/// Cask beer holds 1 to 1.5 volumes; above 2 it blows its spile or its shive (common practice, no source).
const CASK_G_L: f64 = 2.0 * 1.977;

/// What beer is packaged in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Container {
    /// A keg, carbonated from a cylinder or by sugar.
    Keg,
    /// A cask, vented through its spile.
    Cask,
    /// A bottle.
    Bottle,
    /// A can.
    Can,
    /// A growler, which is not made for beer that ferments in it.
    Growler,
    /// A jug, which is not made for pressure at all.
    Jug,
    /// No container is named, or one that is not known here: held to the limits of a bottle.
    Unknown,
}

/// Words that name a container, by the beginning of a word; a keg before all others, then the weakest container.
const WORDS: &[(&str, Container)] = &[
    ("keg", Container::Keg),
    ("minikeg", Container::Keg),
    ("growler", Container::Growler),
    ("crowler", Container::Can),
    ("flagon", Container::Jug),
    ("demijohn", Container::Jug),
    ("carboy", Container::Jug),
    ("jug", Container::Jug),
    ("jar", Container::Jug),
    ("pitcher", Container::Jug),
    ("cask", Container::Cask),
    ("firkin", Container::Cask),
    ("kilderkin", Container::Cask),
    ("barrel", Container::Cask),
    ("bottle", Container::Bottle),
    ("can", Container::Can),
    ("tin", Container::Can),
];

impl Container {
    /// The container that its words name.
    pub(crate) fn of(words: Option<&str>) -> Self {
        let words = words.unwrap_or_default().to_lowercase();
        let is_named = |start: &str| {
            let mut parts = words.split(|c: char| !c.is_alphabetic());
            // `can` and `cans`, but no `canteen`: short words stand alone.
            parts.any(|part| {
                part == start || part.strip_suffix('s') == Some(start) || {
                    start.len() > 3 && part.starts_with(start)
                }
            })
        };
        let named = WORDS.iter().find(|(start, _)| is_named(start));
        named.map_or(Self::Unknown, |(_, container)| *container)
    }

    /// Its name within a sentence, of more than one.
    pub(crate) const fn plural(self) -> &'static str {
        match self {
            Self::Keg => "kegs",
            Self::Cask => "casks",
            Self::Bottle => "bottles",
            Self::Can => "cans",
            Self::Growler => "growlers",
            Self::Jug => "jugs",
            Self::Unknown => "closed containers",
        }
    }

    /// Carbon dioxide that it is kept below; none for a keg, which has a pressure stamped on it, and for glass that is not
    /// made for pressure.
    pub(crate) fn limit(self) -> Option<CarbonDioxide> {
        match self {
            Self::Bottle | Self::Can | Self::Unknown => Some(CarbonDioxide::clamped(BOTTLE_G_L)),
            Self::Cask => Some(CarbonDioxide::clamped(CASK_G_L)),
            Self::Keg | Self::Growler | Self::Jug => None,
        }
    }

    /// The same for its heavy kind.
    pub(crate) fn heavy_limit(self) -> Option<CarbonDioxide> {
        match self {
            Self::Bottle | Self::Unknown => Some(CarbonDioxide::clamped(HEAVY_BOTTLE_G_L)),
            _ => None,
        }
    }

    /// Whether beer may come to its gas in it by fermenting.
    pub(crate) const fn may_ferment(self) -> bool {
        !matches!(self, Self::Growler | Self::Jug)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_name_containers() {
        for (words, container) in [
            ("keg", Container::Keg),
            ("Cornelius kegs", Container::Keg),
            ("bottles or keg", Container::Keg),
            ("330 mL bottles", Container::Bottle),
            ("bottling", Container::Unknown),
            ("cans", Container::Can),
            ("canteen", Container::Unknown),
            ("swing-top growler", Container::Growler),
            ("stone jugs", Container::Jug),
            ("firkin", Container::Cask),
            ("cask", Container::Cask),
            ("pouch", Container::Unknown),
        ] {
            assert_eq!(Container::of(Some(words)), container, "{words}");
        }
        assert_eq!(Container::of(None), Container::Unknown);
    }
}
