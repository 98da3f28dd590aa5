//! The figures of an ingredient where it stands, by its kind, with what was assumed of them.

use super::Material;
use super::drink::beverage;
use super::grain::grain;
use super::hop::alpha;
use super::juice::juice;
use super::lookup::Lookup;
use super::sugar::sugar;
use super::yeast::yeast;
use crate::catalogue::{Catalogue, EntryRef, Found, Kind, Provenance, Reached};
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::process::assumption::{Assumption, Figure};
use crate::quantity::Quantity;
use crate::recipe::{Ingredient, is_called_hop};
use crate::speech::Noted;

/// The figures of the ingredient that stands at a place: what is mashed gives a laboratory extract, sugar and juice dissolve as they are.
pub(crate) fn settle(
    ingredient: &Ingredient,
    place: &Place,
    catalogue: &Catalogue,
    assumptions: &mut Vec<Noted<Assumption>>,
) -> Result<Material, Error> {
    let mut note = |field, assumption| {
        assumptions.push(Noted::at(place.clone().field(field), assumption));
    };
    let found = catalogue
        .find(ingredient.catalogue_name())
        .filter(|found| kind_fits(found.entry.kind(), ingredient.kind))
        .map(|found| match (found.reached, &ingredient.facts.colour) {
            (Reached::Generic { .. }, Some(colour)) => Found {
                entry: catalogue.grade(found.entry, colour.value()),
                ..found
            },
            _ => found,
        });
    if let Some(found) = &found
        && is_generic(ingredient, found, catalogue)
    {
        let taken = found.entry.name().to_owned();
        let name = ingredient.name.clone();
        note("name", Assumption::GenericName { name, taken });
    }
    let mut lookup = Lookup {
        from_entry: Vec::new(),
        moisture_left_out: false,
        colour_basis_assumed: None,
        facts: &ingredient.facts,
    };
    let entry = found.as_ref().map(|found| found.entry);
    if ingredient.facts.brings_nothing && brings_something(ingredient, entry) {
        return Err(brings_after_all(ingredient).about(place.clone().field("facts.brings_nothing")));
    }
    let material = match ingredient.kind {
        Kind::Malt | Kind::Grain | Kind::Sugar | Kind::Juice | Kind::Beverage | Kind::Other
            if ingredient.facts.brings_nothing && entry.is_none() =>
        {
            Material::Inert
        }
        Kind::Malt | Kind::Grain => Material::Fermentable(grain(ingredient, entry, &mut lookup)?),
        Kind::Sugar => Material::Fermentable(sugar(ingredient, entry, &mut lookup)?),
        Kind::Juice => Material::Fermentable(juice(ingredient, entry, &mut lookup)?),
        Kind::Beverage => Material::Beverage(beverage(ingredient, entry, &mut lookup)?),
        Kind::Hop => Material::Hop {
            alpha: alpha(entry, &mut lookup),
        },
        Kind::Yeast => Material::Yeast(yeast(entry, &lookup)),
        Kind::Botanical | Kind::Salt | Kind::Acid | Kind::Aid => Material::Inert,
        Kind::Other => other(ingredient, &mut lookup)?,
    };
    if !lookup.from_entry.is_empty() {
        let (name, figures) = (ingredient.name.clone(), lookup.from_entry);
        let field = match figures.as_slice() {
            [only] => only.field(),
            _ => "facts",
        };
        let is_own = entry.is_some_and(|entry| entry.provenance() == Provenance::Host);
        let assumption = if is_own {
            Assumption::OwnFigures { name, figures }
        } else {
            Assumption::CatalogueFigures { name, figures }
        };
        note(field, assumption);
    }
    if lookup.moisture_left_out {
        let name = ingredient.name.clone();
        note(
            Figure::Moisture.field(),
            Assumption::MoistureLeftOut { name },
        );
    }
    if let Some(basis) = lookup.colour_basis_assumed {
        let name = ingredient.name.clone();
        note(
            Figure::Colour.field(),
            Assumption::ColourBasis { name, basis },
        );
    }
    if ingredient.kind == Kind::Other && found.is_none() {
        let name = ingredient.name.clone();
        note("facts", Assumption::CarriedPerLitre { name });
    }
    Ok(material)
}

/// Whether a line says a generic name, for which `found` stands.
fn is_generic(ingredient: &Ingredient, found: &Found<'_>, catalogue: &Catalogue) -> bool {
    let is_generic = |found: &Found<'_>| matches!(found.reached, Reached::Generic { .. });
    match &ingredient.entry {
        // A line that names its entry outright is no generic name.
        Some(entry) if *entry == ingredient.name => false,
        Some(_) => catalogue
            .find(&ingredient.name)
            .is_some_and(|named| is_generic(&named)),
        None => is_generic(found),
    }
}

/// Refuses an ingredient that means an entry of the catalogue and says that it is something else.
pub(crate) fn check_kind(
    ingredient: &Ingredient,
    place: &Place,
    catalogue: &Catalogue,
) -> Result<(), Error> {
    let Some(found) = ingredient.entry.as_ref().and_then(|e| catalogue.find(e)) else {
        return Ok(());
    };
    let known = found.entry.kind();
    if kind_fits(known, ingredient.kind) {
        return Ok(());
    }
    let (name, stated) = (&ingredient.name, ingredient.kind);
    Err(Error::new(
        ErrorKind::Contradiction,
        format!(
            "`{name}` is stated as `{stated}`, and its entry in the ingredient table is `{known}`"
        ),
    )
    .with_help(format!("write the kind `{known}`, or leave the entry out"))
    .about(place.clone().field("kind")))
}

/// Malt and grain are told apart by the catalogue alone, so that either may stand for the other.
fn kind_fits(entry: Kind, wanted: Kind) -> bool {
    let mashed = |kind| matches!(kind, Kind::Malt | Kind::Grain);
    entry == wanted || (mashed(entry) && mashed(wanted))
}

/// Something that the host calls nothing in particular: what its line states is what it brings.
fn other(ingredient: &Ingredient, lookup: &mut Lookup<'_>) -> Result<Material, Error> {
    let facts = lookup.facts;
    Ok(if facts.alcohol.is_some() {
        Material::Beverage(beverage(ingredient, None, lookup)?)
    } else if facts.brix.is_some() {
        Material::Fermentable(juice(ingredient, None, lookup)?)
    } else if facts.extract.is_some() {
        Material::Fermentable(sugar(ingredient, None, lookup)?)
    } else if is_called_hop(&ingredient.name) {
        Material::Hop {
            alpha: alpha(None, lookup),
        }
    } else {
        Material::Unknown
    })
}

/// Whether the catalogue or the line itself knows that an ingredient brings something.
fn brings_something(ingredient: &Ingredient, entry: Option<EntryRef<'_>>) -> bool {
    let facts = &ingredient.facts;
    let by_line = facts.extract.is_some()
        || facts.brix.is_some()
        || facts.alcohol.is_some()
        || facts.alpha.is_some();
    let by_catalogue = match entry {
        Some(EntryRef::Fermentable(known)) => known
            .extract_as_is()
            .is_none_or(|extract| extract.in_base() > 0.0),
        Some(EntryRef::Beverage(known)) => {
            let none = |figure: Option<f64>| figure.is_some_and(|figure| figure <= 0.0);
            !none(known.alcohol.map(Quantity::in_base))
                || !none(known.extract.map(Quantity::in_base))
        }
        Some(
            EntryRef::Juice(_) | EntryRef::Hop(_) | EntryRef::Yeast(_) | EntryRef::WaterAgent(_),
        ) => true,
        Some(EntryRef::Botanical(_) | EntryRef::Aid(_)) => false,
        None => matches!(
            ingredient.kind,
            Kind::Hop | Kind::Yeast | Kind::Salt | Kind::Acid
        ),
    };
    by_line || by_catalogue
}

fn brings_after_all(ingredient: &Ingredient) -> Error {
    let name = &ingredient.name;
    Error::new(
        ErrorKind::Contradiction,
        format!(
            "`{name}` is known to bring something to the beer, and its line says `brings nothing`"
        ),
    )
    .with_help("delete `brings nothing`")
}
