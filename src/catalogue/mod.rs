//! Ingredients: what the trade sells under which name, and what is known of each.
//!
//! The built-in tables are compiled in; reading them costs nothing. Each row says where its figures come from
//! ([`Provenance`]): most are typical values of the trade, some from memory, so that a lot's own figures always go
//! before them. Flavour, gum, tannin, hue and commonness are editorial judgement.
//!
//! [`Catalogue::find`] resolves a whole name, [`Catalogue::longest_match`] a name that attributes follow.

mod aid;
mod botanical;
mod entry;
mod fermentable;
mod figures;
mod flavour;
mod fold;
mod hop;
mod juice;
mod kind;
mod lookup;
mod percent;
mod row;
mod tables;
mod water_agent;
mod yeast;

pub use aid::{Aid, UsualDose};
pub use botanical::Botanical;
pub use entry::{Entry, EntryRef};
pub use fermentable::{Fermentable, Gelatinisation};
pub use figures::{
    AcidConstant, Buffering, Density, Equivalents, IonYield, MolarMass, OilContent, VolumeDose,
};
pub use flavour::{FLAVOUR_AXES, HOP_AXES, HopAroma, JUICE_AXES, JuiceAroma, MaltFlavour};
pub use fold::folded;
pub use hop::Hop;
pub use juice::Juice;
pub use kind::{
    AidPurpose, Allergen, CautionLevel, ColourClass, Commonness, FermentableClass, Flocculation,
    FruitAcid, HopUse, Kind, Level, NeedsMash, Provenance, StrainTrait, WaterAgentUse, YeastUse,
};
pub use lookup::{Catalogue, Found, Reached};
pub use water_agent::{IonsPerGram, WaterAgent};
pub use yeast::Yeast;
