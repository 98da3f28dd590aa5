//! What makes an entry of the catalogue the brewer's own.

use crate::catalogue::{Entry, Provenance};
use std::borrow::Cow;

/// The entry under a name of the brewer's own, without the aliases that its model in the catalogue goes by.
pub(super) fn own(mut entry: Entry, name: String) -> Entry {
    let (own_name, aliases, provenance) = match &mut entry {
        Entry::Fermentable(row) => (&mut row.name, &mut row.aliases, &mut row.provenance),
        Entry::Juice(row) => (&mut row.name, &mut row.aliases, &mut row.provenance),
        Entry::Beverage(row) => (&mut row.name, &mut row.aliases, &mut row.provenance),
        Entry::Hop(row) => (&mut row.name, &mut row.aliases, &mut row.provenance),
        Entry::Botanical(row) => (&mut row.name, &mut row.aliases, &mut row.provenance),
        Entry::WaterAgent(row) => (&mut row.name, &mut row.aliases, &mut row.provenance),
        Entry::Aid(row) => (&mut row.name, &mut row.aliases, &mut row.provenance),
        Entry::Yeast(row) => (&mut row.name, &mut row.aliases, &mut row.provenance),
    };
    *own_name = name.into();
    *aliases = Cow::Borrowed(&[]);
    *provenance = Provenance::Host;
    entry
}
