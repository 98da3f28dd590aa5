//! One entry of the catalogue, whatever its kind.

use super::row::Text;
use super::{Aid, Botanical, Fermentable, Hop, Juice, Kind, WaterAgent, Yeast};
use serde::{Deserialize, Serialize};

macro_rules! entries {
    ($($(#[$doc:meta])* $variant:ident,)+) => {
        /// An entry that a host or brewer adds to the catalogue.
        ///
        /// In JSON: `{"hop": {"name": …}}`.
        #[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[serde(rename_all = "snake_case")]
        #[allow(clippy::large_enum_variant, reason = "few are ever made, and a box would be one more thing to unwrap")]
        #[non_exhaustive]
        pub enum Entry {
            $($(#[$doc])* $variant($variant),)+
        }

        /// An entry as the catalogue lends it.
        #[derive(Debug, Clone, Copy, PartialEq, Serialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[serde(rename_all = "snake_case")]
        #[non_exhaustive]
        pub enum EntryRef<'a> {
            $($(#[$doc])* $variant(&'a $variant),)+
        }

        impl Entry {
            /// The same entry, lent.
            #[must_use]
            pub const fn view(&self) -> EntryRef<'_> {
                match self {
                    $(Self::$variant(row) => EntryRef::$variant(row),)+
                }
            }
        }

        impl<'a> EntryRef<'a> {
            /// The generic trade name.
            #[must_use]
            pub fn name(self) -> &'a str {
                match self {
                    $(Self::$variant(row) => &row.name,)+
                }
            }

            pub(super) fn alias_texts(self) -> &'a [Text] {
                match self {
                    $(Self::$variant(row) => &row.aliases,)+
                }
            }

            /// A copy that the caller may change and hand back as its own.
            #[must_use]
            pub fn to_entry(self) -> Entry {
                match self {
                    $(Self::$variant(row) => Entry::$variant(row.clone()),)+
                }
            }

            /// The regulated allergens.
            #[must_use]
            pub fn allergens(self) -> &'a [super::Allergen] {
                match self {
                    $(Self::$variant(row) => &row.allergens,)+
                }
            }

            /// Where the figures come from: the source as told, and how far it was seen.
            #[must_use]
            pub fn source(self) -> (&'a str, super::Provenance) {
                match self {
                    $(Self::$variant(row) => (&row.source, row.provenance),)+
                }
            }
        }

        $(impl From<$variant> for Entry {
            fn from(row: $variant) -> Self {
                Self::$variant(row)
            }
        })+
    };
}

entries! {
    /// Malt, grain, sugar, syrup, honey, malt extract, colouring.
    Fermentable,
    /// Juice, puree or concentrate.
    Juice,
    /// Hop cultivar.
    Hop,
    /// Herb, spice, flower or wood.
    Botanical,
    /// Salt, acid or sulphite.
    WaterAgent,
    /// Process aid.
    Aid,
    /// Yeast or other culture.
    Yeast,
}

impl<'a> EntryRef<'a> {
    /// What it is to the brewer.
    #[must_use]
    pub fn kind(self) -> Kind {
        match self {
            Self::Fermentable(row) => row.kind(),
            Self::Juice(_) => Kind::Juice,
            Self::Hop(_) => Kind::Hop,
            Self::Botanical(_) => Kind::Botanical,
            Self::WaterAgent(row) => row.kind(),
            Self::Aid(_) => Kind::Aid,
            Self::Yeast(_) => Kind::Yeast,
        }
    }

    /// Other names of the same thing.
    pub fn aliases(self) -> impl Iterator<Item = &'a str> {
        self.alias_texts().iter().map(AsRef::as_ref)
    }
}

impl Entry {
    /// The generic trade name.
    #[must_use]
    pub fn name(&self) -> &str {
        self.view().name()
    }

    /// What it is to the brewer.
    #[must_use]
    pub fn kind(&self) -> Kind {
        self.view().kind()
    }

    /// Other names of the same thing.
    pub fn aliases(&self) -> impl Iterator<Item = &str> {
        self.view().aliases()
    }
}
