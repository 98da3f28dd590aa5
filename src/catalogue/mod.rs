//! Ingredients by the names that the trade uses, with what is known of each.
//!
//! A host looks names up, offers near ones for a misspelt one, lists a kind for a menu, and adds entries of its own.
//!
//! ```
//! use wortwright::catalogue::{Catalogue, EntryRef, Hop, Kind};
//!
//! let catalogue = Catalogue::builtin().with([Hop::new("garden hop").into()]);
//! let found = catalogue.find("munich malt").ok_or("unknown")?;
//! assert_eq!(found.entry.name(), "light munich malt");
//! let EntryRef::Fermentable(malt) = found.entry else { return Err("no malt".into()) };
//! assert_eq!(malt.colour.map(|colour| colour.ebc()), Some(15.0));
//! assert_eq!(catalogue.near("honney", Some(Kind::Sugar)), ["honey"]);
//! assert!(catalogue.of_kind(Kind::Hop).any(|hop| hop.name() == "garden hop"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! | for | see |
//! |---|---|
//! | all of it; a host's own on top | [`Catalogue::builtin`], [`Catalogue::with`] |
//! | a whole name; a name that attributes follow; near names | [`Catalogue::find`], [`Catalogue::longest_match`], [`Catalogue::near`]; [`Found`], [`LongestMatch`], [`Reached`] |
//! | what a name means as a brewer writes it, words in any order | [`Catalogue::meaning`]; [`Meaning`], [`Meant`], [`LeftOut`], [`Says`], [`StatedFigure`] |
//! | lists for a menu | [`Catalogue::entries`], [`Catalogue::of_kind`], [`Catalogue::of_class`]; [`Kind`], [`FermentableClass`] |
//! | an entry, owned or borrowed | [`Entry`], [`EntryRef`] |
//! | its rows | [`Fermentable`], [`Hop`], [`Yeast`], [`Juice`], [`Botanical`], [`WaterAgent`], [`Aid`] |
//! | how a thing tastes, on named axes | [`MaltFlavour`] ([`FLAVOUR_AXES`]), [`HopAroma`] ([`HOP_AXES`]), [`JuiceAroma`] ([`JUICE_AXES`]) |
//! | how far figures may be trusted, how easily it is bought, what it is used for, what it may do to someone | [`Provenance`], [`Commonness`], [`FermentableFunction`], [`SmallMash`], [`JuiceFunction`], [`BotanicalJob`], [`AidJob`], [`Allergen`], [`CautionLevel`] |
//! | names compared as the catalogue does | [`folded`] |
//!
//! The built-in tables are compiled in; reading them costs nothing. Each row says where its figures come from: most are
//! typical values of the trade, some from memory, so that a lot's own figures always go before them. Flavour, gum, tannin,
//! hue and commonness are editorial judgement.

mod aid;
mod beverage;
mod botanical;
mod entry;
mod fermentable;
mod figures;
mod fit;
mod flavour;
mod fold;
mod free_lookup;
mod free_name;
mod function;
mod hop;
mod juice;
mod kind;
mod lookup;
mod meaning;
mod percent;
mod respell;
mod row;
mod tables;
mod water_agent;
mod yeast;

pub use aid::{Aid, UsualDose};
pub use beverage::Beverage;
pub use botanical::Botanical;
pub use entry::{Entry, EntryRef};
pub use fermentable::{Fermentable, Gelatinisation};
pub use figures::{Density, Equivalents, IonYield, MolarMass, OilContent, VolumeDose};
pub use flavour::{FLAVOUR_AXES, HOP_AXES, HopAroma, JUICE_AXES, JuiceAroma, MaltFlavour};
pub use fold::folded;
pub use hop::Hop;
pub use juice::Juice;
pub use kind::{
    AidJob, AidPurpose, Allergen, BotanicalJob, CautionLevel, ColourBasis, ColourClass, Commonness,
    FermentableClass, FermentableFunction, Flocculation, FruitAcid, FruitClass, HopUse,
    JuiceFunction, Kind, Level, MaltotrioseUse, NeedsMash, Provenance, SmallMash, StrainTrait,
    WaterAgentUse, YeastUse,
};
pub use lookup::{Catalogue, Found, LongestMatch, Reached};
pub use meaning::{LeftOut, Meaning, Meant, Says, StatedFigure};
pub use water_agent::{IonsPerGram, WaterAgent};
pub use yeast::Yeast;
