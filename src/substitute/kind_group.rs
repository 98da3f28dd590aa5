//! Which kinds of ingredient are substitutes for one another.

use crate::catalogue::Kind;

/// Kinds among which one may stand for another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum KindGroup {
    Fermentable,
    Juice,
    Hop,
    Yeast,
    /// Herbs, spices, flowers and woods.
    Botanical,
    /// Salts and acids.
    WaterAgent,
    /// Finings, enzymes and what else helps.
    Aid,
    /// What nothing stands for.
    Other,
}

pub(super) const fn group(kind: Kind) -> KindGroup {
    match kind {
        Kind::Malt | Kind::Grain | Kind::Sugar => KindGroup::Fermentable,
        Kind::Juice => KindGroup::Juice,
        Kind::Hop => KindGroup::Hop,
        Kind::Yeast => KindGroup::Yeast,
        Kind::Botanical => KindGroup::Botanical,
        Kind::Salt | Kind::Acid => KindGroup::WaterAgent,
        Kind::Aid => KindGroup::Aid,
        Kind::Beverage | Kind::Other => KindGroup::Other,
    }
}
