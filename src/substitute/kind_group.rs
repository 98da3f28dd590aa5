//! Which kinds of ingredient are substitutes for one another.

use crate::catalogue::Kind;

/// Kinds among which one may stand for another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum KindGroup {
    Fermentable,
    Juice,
    Hop,
    Yeast,
    Other,
}

pub(super) const fn group(kind: Kind) -> KindGroup {
    match kind {
        Kind::Malt | Kind::Grain | Kind::Sugar => KindGroup::Fermentable,
        Kind::Juice => KindGroup::Juice,
        Kind::Hop => KindGroup::Hop,
        Kind::Yeast => KindGroup::Yeast,
        _ => KindGroup::Other,
    }
}
