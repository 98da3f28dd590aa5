//! One entry of the catalogue, whatever its kind.

use super::row::Text;
use super::{Aid, Beverage, Botanical, Fermentable, Hop, Juice, Kind, WaterAgent, Yeast};
use crate::quantity::agreement::Agree;
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

            /// Where the figures come from.
            #[must_use]
            pub fn reference(self) -> &'a str {
                match self {
                    $(Self::$variant(row) => &row.reference,)+
                }
            }

            /// How far that was seen.
            #[must_use]
            pub fn provenance(self) -> super::Provenance {
                match self {
                    $(Self::$variant(row) => row.provenance,)+
                }
            }
        }

        crate::quantity::agreement::variants! { Entry { $($variant)+ } }

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
    /// Water, spirit or another drink.
    Beverage,
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
            Self::Beverage(_) => Kind::Beverage,
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
    /// Whether every figure agrees with the other entry's within a relative tolerance, and all else is equal.
    ///
    /// JSON carries 12 significant digits, so an entry agrees with its copy from JSON within 1e-11.
    #[must_use]
    pub fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        Agree::agrees(self, other, tolerance)
    }

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Concentration, MaltColour, Temperature};

    #[test]
    fn entries_agree_by_their_figures() {
        let malt = |ebc: f64| {
            let mut malt = Fermentable::new("malt");
            malt.colour = MaltColour::from_ebc(ebc).ok();
            malt
        };
        let agree = |one: Fermentable, other: Fermentable| {
            Entry::from(one).agrees(&Entry::from(other), 1e-11)
        };
        assert!(agree(malt(7.0), malt(7.000_000_000_01)));
        assert!(!agree(malt(7.0), malt(7.000_000_001)));
        assert!(!agree(malt(7.0), Fermentable::new("malt")));
        let swelling = |celsius: f64| {
            let celsius = Temperature::from_celsius(celsius).unwrap();
            let mut malt = malt(7.0);
            malt.gelatinisation = Some(super::super::Gelatinisation::Range(celsius, celsius));
            malt
        };
        assert!(agree(swelling(60.0), swelling(60.0 + 1e-11)));
        assert!(!agree(swelling(60.0), swelling(60.1)));
        assert!(!Entry::from(malt(7.0)).agrees(&Juice::new("malt").into(), 1.0));
    }

    #[test]
    fn doses_agree_in_one_unit_only() {
        let aid = |grams: f64| {
            let dose = Concentration::from_grams_per_litre(grams).unwrap();
            let mut aid = Aid::new("aid");
            aid.dose = Some(super::super::UsualDose::Mass(dose, dose));
            Entry::from(aid)
        };
        assert!(aid(0.05).agrees(&aid(0.05), 0.0));
        assert!(!aid(0.05).agrees(&aid(0.06), 1e-11));
    }
}
