//! The brewer's own ingredients as `ingredient` blocks.

use super::item::stated;
use super::{Text, free};
use crate::catalogue::{Beverage, Catalogue, Entry, Fermentable, Hop, Juice, Kind, Yeast};
use crate::diagnostic::TextRef;
use crate::notation::own::own;
use crate::notation::reading::read;
use crate::notation::tree::Document;
use crate::numeric::order;
use crate::quantity::{LaboratoryExtract, Moisture, Quantity, Written};
use crate::recipe::{ExtractBasis, Facts, StatedExtract};

impl Document<'static> {
    /// An own ingredient as an `ingredient` block that reads as the same entry: `like` an entry of the built-in
    /// catalogue, with the figures in which it differs; figures from JSON are the same to its 12 digits. Nothing if it
    /// differs in what no line of the notation states, such as its flavour or its allergens.
    ///
    /// ```
    /// use wortwright::diagnostic::TextRef;
    /// use wortwright::notation::{Document, read};
    ///
    /// let text = "ingredient Barn-smoked malt\n  like pale ale malt\n  7 EBC\n";
    /// let entry = read(&[TextRef::new("text", text)]).ingredients.remove(0);
    /// let document = Document::of_ingredient(&entry).expect("every figure of it can be stated");
    /// assert_eq!(document.to_string(), text);
    /// ```
    pub fn of_ingredient(entry: &Entry) -> Option<Self> {
        let catalogue = Catalogue::builtin();
        let known = catalogue.of_kind(entry.kind());
        let known = known.map(|like| (Some(like.name().to_owned()), like.to_entry()));
        let mut written: Vec<(usize, Self)> = blank(entry)
            .map(|blank| (None, blank))
            .into_iter()
            .chain(known)
            .filter_map(|(like, row)| block(entry, like.as_deref(), row))
            .collect();
        // Of several that it could be like, the one that leaves least to be stated.
        order::sort_by_key(&mut written, |(stated, _)| *stated);
        written.into_iter().next().map(|(_, document)| document)
    }
}

/// The entry of a block without a `like` line.
fn blank(entry: &Entry) -> Option<Entry> {
    match entry {
        Entry::Hop(_) => Some(Hop::new("").into()),
        Entry::Juice(_) => Some(Juice::new("").into()),
        Entry::Beverage(_) => Some(Beverage::new("").into()),
        Entry::Yeast(_) => Some(Yeast::new("").into()),
        _ => None,
    }
}

/// The block, and how much it states; nothing unless it reads as the same entry.
fn block(entry: &Entry, like: Option<&str>, row: Entry) -> Option<(usize, Document<'static>)> {
    let clauses = stated(&differences(entry, row)?, entry.kind());
    let mut text = Text::default();
    text.line(0, format!("ingredient {}", free(entry.name())));
    text.labelled(1, "like", like.map(free));
    if !clauses.is_empty() {
        text.line(1, clauses.join(", "));
    }
    let reading = read(&[TextRef::new("", &text.out)]);
    let [again] = reading.ingredients.as_slice() else {
        return None;
    };
    (reading.is_usable() && same(again, entry)).then(|| (clauses.len(), text.document()))
}

/// Whether two entries are equal, or become so by the rounding of JSON, in which a host hands its entries over.
fn same(one: &Entry, other: &Entry) -> bool {
    one.agrees(other, 1e-11)
}

/// The figures that make `entry` of the row it is like; nothing if they do not.
fn differences(entry: &Entry, mut row: Entry) -> Option<Facts> {
    let mut stated = Facts::default();
    match (entry, &mut row) {
        (Entry::Fermentable(entry), Entry::Fermentable(row)) => {
            fermentable(entry, row, &mut stated);
        }
        (Entry::Juice(entry), Entry::Juice(row)) => juice(entry, row, &mut stated),
        (Entry::Hop(entry), Entry::Hop(row)) if entry.alpha_range != row.alpha_range => {
            row.alpha_range = entry.alpha_range;
            stated.alpha = entry.alpha_range.map(|(alpha, _)| alpha.into());
        }
        (Entry::Beverage(entry), Entry::Beverage(row)) => {
            stated.alcohol = differs(entry.alcohol, &mut row.alcohol);
            stated.brix = differs(entry.extract, &mut row.extract);
            stated.fermentability = differs(entry.fermentability, &mut row.fermentability);
        }
        (Entry::Yeast(entry), Entry::Yeast(row)) => {
            stated.attenuation = differs(entry.attenuation, &mut row.attenuation);
            stated.pitch_rate = differs(entry.pitch_rate, &mut row.pitch_rate);
        }
        _ => {}
    }
    same(&own(row, entry.name().to_owned()), entry).then_some(stated)
}

fn fermentable(entry: &Fermentable, row: &mut Fermentable, stated: &mut Facts) {
    if entry.colour_basis != row.colour_basis {
        // A line states a colour and its basis together.
        row.colour = None;
        stated.colour_basis = entry.colour_basis;
        row.colour_basis = entry.colour_basis.or(row.colour_basis);
    }
    stated.colour = differs(entry.colour, &mut row.colour);
    stated.moisture = differs(entry.moisture, &mut row.moisture);
    stated.diastatic_power = differs(entry.diastatic_power, &mut row.diastatic_power);
    stated.protein = differs(entry.protein, &mut row.protein);
    stated.fermentability = differs(entry.fermentability, &mut row.fermentability);
    if matches!(row.kind(), Kind::Malt | Kind::Grain) {
        stated.ph = differs(entry.mash_ph, &mut row.mash_ph);
    }
    if differs(entry.extract, &mut row.extract).is_some() {
        stated.extract = entry.extract.map(|dry| extract(dry, row.moisture));
    }
}

fn juice(entry: &Juice, row: &mut Juice, stated: &mut Facts) {
    if entry.extract_range != row.extract_range {
        // A stated Brix stands for itself, without a range.
        (row.extract, row.extract_range) = (None, None);
    }
    stated.brix = differs(entry.extract, &mut row.extract);
    stated.ph = differs(entry.ph, &mut row.ph);
    stated.acidity = differs(entry.acidity, &mut row.acidity);
    stated.fermentability = differs(entry.fermentability, &mut row.fermentability);
}

/// What must be stated so that `row` becomes `entry`: nothing where they are equal. No line takes a figure away.
fn differs<Q: Quantity>(entry: Option<Q>, row: &mut Option<Q>) -> Option<Written<Q>> {
    if entry.is_none() || entry == *row {
        return None;
    }
    *row = entry;
    entry.map(Written::in_base_unit)
}

/// The extract of dry matter; as is where that is what gives the same value to the last bit.
fn extract(dry: LaboratoryExtract, moisture: Option<Moisture>) -> StatedExtract {
    let value = Written::from(dry);
    let as_is = moisture
        .filter(|_| value.value() != dry)
        .and_then(|moisture| {
            let matter = 1.0 - moisture.fraction();
            let as_is = Written::from(LaboratoryExtract::clamped(dry.fraction() * matter));
            let again = LaboratoryExtract::clamped(as_is.value().fraction() / matter);
            (again == dry).then_some(as_is)
        });
    match as_is {
        Some(value) => StatedExtract {
            value,
            basis: ExtractBasis::AsIs,
        },
        None => StatedExtract {
            value,
            basis: ExtractBasis::Dry,
        },
    }
}
