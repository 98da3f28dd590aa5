//! The brewer's own ingredients as `ingredient` blocks.

use super::item::facts;
use super::{Text, free};
use crate::catalogue::{Catalogue, Entry, Fermentable, Hop, Juice, Kind, Yeast};
use crate::diagnostic::Source;
use crate::notation::own::own;
use crate::notation::reading::read;
use crate::notation::tree::Document;
use crate::quantity::{LaboratoryExtract, Moisture, Quantity, Unit, Written};
use crate::recipe::{ExtractBasis, Facts, StatedExtract};
use std::iter::successors;

impl Document<'static> {
    /// An own ingredient as an `ingredient` block that reads as the same entry: `like` an entry of the built-in
    /// catalogue, with the figures in which it differs. Nothing if it differs in what no line of the notation states,
    /// such as its flavour or its allergens.
    ///
    /// ```
    /// use wortwright::diagnostic::Source;
    /// use wortwright::notation::{Document, read};
    ///
    /// let text = "ingredient Barn-smoked malt\n  like pale ale malt\n  7 EBC\n";
    /// let entry = read(&[Source::new("text", text)]).ingredients.remove(0);
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
        written.sort_by_key(|(stated, _)| *stated);
        written.into_iter().next().map(|(_, document)| document)
    }
}

/// The entry of a block without a `like` line.
fn blank(entry: &Entry) -> Option<Entry> {
    match entry {
        Entry::Hop(_) => Some(Hop::new("").into()),
        Entry::Juice(_) => Some(Juice::new("").into()),
        Entry::Yeast(_) => Some(Yeast::new("").into()),
        _ => None,
    }
}

/// The block, and how much it states; nothing unless it reads as the same entry.
fn block(entry: &Entry, like: Option<&str>, row: Entry) -> Option<(usize, Document<'static>)> {
    let stated = differences(entry, row)?;
    let mut text = Text::default();
    text.line(0, format!("ingredient {}", free(entry.name())));
    text.labelled(1, "like", like.map(free));
    let mut clauses = Vec::new();
    facts(&mut clauses, &stated, entry.kind());
    if !clauses.is_empty() {
        text.line(1, clauses.join(", "));
    }
    let reading = read(&[Source::new("", &text.out)]);
    let same = reading.is_usable() && reading.ingredients.as_slice() == std::slice::from_ref(entry);
    same.then(|| (clauses.len(), text.document()))
}

/// The figures that make `entry` of the row it is like; nothing if they do not.
fn differences(entry: &Entry, mut row: Entry) -> Option<Facts> {
    let mut stated = Facts::default();
    match (entry, &mut row) {
        (Entry::Fermentable(entry), Entry::Fermentable(row)) => {
            fermentable(entry, row, &mut stated)?;
        }
        (Entry::Juice(entry), Entry::Juice(row)) => juice(entry, row, &mut stated)?,
        (Entry::Hop(entry), Entry::Hop(row)) => {
            if entry.alpha_range != row.alpha_range {
                row.alpha_range = entry.alpha_range;
                stated.alpha = Some(exact(entry.alpha_range?.0)?);
            }
        }
        (Entry::Yeast(entry), Entry::Yeast(row)) => {
            stated.attenuation = differs(entry.attenuation, &mut row.attenuation)?;
            stated.pitch_rate = differs(entry.pitch_rate, &mut row.pitch_rate)?;
        }
        _ => {}
    }
    (own(row, entry.name().to_owned()) == *entry).then_some(stated)
}

fn fermentable(entry: &Fermentable, row: &mut Fermentable, stated: &mut Facts) -> Option<()> {
    stated.colour = differs(entry.colour, &mut row.colour)?;
    stated.moisture = differs(entry.moisture, &mut row.moisture)?;
    stated.diastatic_power = differs(entry.diastatic_power, &mut row.diastatic_power)?;
    stated.protein = differs(entry.protein, &mut row.protein)?;
    stated.fermentability = differs(entry.fermentability, &mut row.fermentability)?;
    if matches!(row.kind(), Kind::Malt | Kind::Grain) {
        stated.ph = differs(entry.mash_ph, &mut row.mash_ph)?;
    }
    if entry.extract != row.extract {
        row.extract = entry.extract;
        stated.extract = Some(extract(entry.extract?, row.moisture)?);
    }
    Some(())
}

fn juice(entry: &Juice, row: &mut Juice, stated: &mut Facts) -> Option<()> {
    if entry.extract_range != row.extract_range {
        // A stated Brix stands for itself, without a range.
        (row.extract, row.extract_range) = (None, None);
    }
    stated.brix = differs(entry.extract, &mut row.extract)?;
    stated.ph = differs(entry.ph, &mut row.ph)?;
    stated.acidity = differs(entry.acidity, &mut row.acidity)?;
    stated.fermentability = differs(entry.fermentability, &mut row.fermentability)?;
    Some(())
}

/// What must be stated so that `row` becomes `entry`: nothing where they are equal. No line takes a figure away.
fn differs<Q: Quantity>(entry: Option<Q>, row: &mut Option<Q>) -> Option<Option<Written<Q>>> {
    if entry == *row {
        return Some(None);
    }
    *row = entry;
    Some(Some(exact(entry?)?))
}

/// The extract of dry matter; as is where no number in per cent is read as the same value to the last bit.
fn extract(dry: LaboratoryExtract, moisture: Option<Moisture>) -> Option<StatedExtract> {
    if let Some(value) = exact(dry) {
        let basis = ExtractBasis::Dry;
        return Some(StatedExtract { value, basis });
    }
    let matter = 1.0 - moisture?.fraction();
    let value = near(dry.percent() * matter)
        .filter_map(|number| Written::<LaboratoryExtract>::new(number, Unit::Percent).ok())
        .find(|as_is| LaboratoryExtract::clamped(as_is.value().fraction() / matter) == dry)?;
    let basis = ExtractBasis::AsIs;
    Some(StatedExtract { value, basis })
}

/// The value with a number that is read as the same value to the last bit, if there is one.
fn exact<Q: Quantity>(value: Q) -> Option<Written<Q>> {
    let plain = Written::in_base_unit(value);
    near(plain.number())
        .filter_map(|number| Written::new(number, plain.unit()).ok())
        .find(|written| written.value() == value)
}

/// The number, and those beside it.
fn near(number: f64) -> impl Iterator<Item = f64> {
    const BESIDE: usize = 8;
    let above = successors(Some(number), |number| Some(number.next_up()));
    let below = successors(Some(number), |number| Some(number.next_down()));
    above.take(BESIDE).chain(below.take(BESIDE))
}
