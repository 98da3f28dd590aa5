//! An ingredient with every figure settled: the line's own first, then the catalogue's.

use super::assumption::{Assumption, Figure};
use super::colour::{assumed_basis, colour_yield};
use super::fermentability::Sugars;
use crate::catalogue::{
    Catalogue, ColourBasis, EntryRef, Fermentable as CatalogueFermentable, Found, FruitClass, Kind,
    MaltotrioseUse, Provenance, Reached, StrainTrait,
};
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::quantity::{AlcoholByVolume, Quantity, Temperature, Unit, Written};
use crate::recipe::{ExtractBasis, Facts, FruitForm, Ingredient, is_called_hop};
use crate::science::density::{WATER_KG_PER_L, sucrose_density_20};
use crate::science::liquid::Liquid;
use crate::speech::Noted;

/// What an ingredient does to the beer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Material {
    Fermentable(Fermentable),
    /// Water, a spirit or another drink.
    Beverage(Beverage),
    /// Nobody need know the alpha acids of a dry hop.
    Hop {
        alpha: Option<f64>,
    },
    Yeast(Yeast),
    /// Known to bring neither extract nor alcohol nor bitterness: botanicals, salts, acids, aids, and what its line says so of.
    Inert,
    /// Nobody knows what it brings.
    Unknown,
}

/// Something that brings extract. All figures by mass, of the product as is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Fermentable {
    pub(crate) extract: f64,
    pub(crate) water: f64,
    /// As its line or the catalogue states it.
    pub(crate) colour_ebc: Option<f64>,
    /// Colour of a kilogram made up to a litre, EBC, of what dissolves as it is.
    pub(crate) colour_yield: Option<f64>,
    /// Share of the extract that can ferment; absent where nobody knows it.
    pub(crate) fermentability: Option<f64>,
    /// The share that the yeast of its formula takes.
    pub(crate) ferments: Option<f64>,
    pub(crate) sugars: Sugars,
    pub(crate) diastatic_wk: Option<f64>,
    /// Kilograms in a litre, for what is measured by volume.
    pub(crate) density_kg_l: f64,
    /// What does not dissolve of whole fruit and puree.
    pub(crate) pulp: Option<Pulp>,
}

/// What does not dissolve of fruit, and how much liquid it keeps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pulp {
    /// Of the edible part.
    pub(crate) insoluble: f64,
    /// Of the edible part.
    pub(crate) seeds: f64,
    /// Of the fruit as it is weighed.
    pub(crate) stones: f64,
    /// Liquid that a kilogram of pulp keeps, seeds and stones apart.
    pub(crate) keeps_kg_kg: f64,
}

/// Seeds are taken to be so much of what does not dissolve, and keep half their mass of liquid, as stones do (estimates, no source).
const SEEDS_INSOLUBLE: f64 = 0.85;
const SEEDS_KEEP: f64 = 0.5;
/// Pulp keeps no more than this of the fruit's own liquid (estimate, no source).
const MOST_KEPT: f64 = 0.85;
/// Dissolved and other solids of fruit (sucrose solutions; estimate).
const SOLIDS_KG_PER_L: f64 = 1.587;
const PULP_KG_PER_L: f64 = 1.5;
/// Finished beer, in which pulp and stones lie.
const BEER_KG_PER_L: f64 = 1.008;

impl Fermentable {
    /// Litres of beer that `kg` of it keep.
    pub(crate) fn keeps_l(&self, kg: f64) -> f64 {
        let Some(pulp) = self.pulp else {
            return 0.0;
        };
        let edible_kg = kg * (1.0 - pulp.stones);
        let by_pulp = pulp.keeps_kg_kg * (pulp.insoluble - SEEDS_INSOLUBLE * pulp.seeds).max(0.0)
            + SEEDS_KEEP * pulp.seeds;
        let own_kg = kg * (self.water + self.extract);
        let kept_kg = (edible_kg * by_pulp).min(MOST_KEPT * own_kg);
        (kept_kg + SEEDS_KEEP * kg * pulp.stones) / BEER_KG_PER_L
    }

    /// Litres that its pulp and stones take up in `kg` of it.
    pub(crate) fn pulp_l(&self, kg: f64) -> f64 {
        let of = |pulp: Pulp| pulp.insoluble * (1.0 - pulp.stones) + pulp.stones;
        kg * self.pulp.map_or(0.0, of) / PULP_KG_PER_L
    }
}

/// Liquid that a kilogram of pulp keeps when the beer is racked, kg: pressed 5 (4 to 7, of pomace of berries), firm fruit 12.6 (10.4 to 14, of
/// apples in a small press), puree 8 (5 to 12), thawed or crushed 12 (8 to 18), chopped firm fruit 22 (15 to 30, of basket presses); good to
/// 40 %.
fn keeps(class: FruitClass, form: Option<FruitForm>) -> f64 {
    const PRESSED: f64 = 5.0;
    const PRESSED_FIRM: f64 = 12.6;
    const PUREE: f64 = 8.0;
    const CRUSHED: f64 = 12.0;
    const CHOPPED: f64 = 22.0;
    match (form, class) {
        (Some(FruitForm::Pressed), FruitClass::Firm) => PRESSED_FIRM,
        (Some(FruitForm::Pressed), _) => PRESSED,
        (Some(FruitForm::Puree), _) | (_, FruitClass::Pulp) => PUREE,
        (Some(FruitForm::Thawed), _) => CRUSHED,
        (_, FruitClass::Firm) => CHOPPED,
        (_, FruitClass::Stone | FruitClass::Berry | FruitClass::Dried) => CRUSHED,
    }
}

/// Something poured in as it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Beverage {
    /// What is in a kilogram.
    pub(crate) per_kg: Liquid,
    /// Share of its extract that ferments.
    pub(crate) fermentability: f64,
    pub(crate) colour_ebc: Option<f64>,
    pub(crate) density_kg_l: f64,
}

impl Beverage {
    /// Water: that which stands for whatever is measured by volume and brings nothing else.
    pub(crate) fn water() -> Self {
        Self::of(Liquid::drink(0.0, 0.0), 0.0, Some(0.0))
    }

    fn of(per_kg: Liquid, fermentability: f64, colour_ebc: Option<f64>) -> Self {
        Self {
            per_kg,
            fermentability,
            colour_ebc,
            density_kg_l: per_kg.density_20() / 1000.0,
        }
    }
}

/// A yeast.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Yeast {
    pub(crate) stated_attenuation: Option<f64>,
    pub(crate) usual_attenuation: Option<f64>,
    pub(crate) pitch_rate: Option<f64>,
    pub(crate) stated_pitch_rate: bool,
    pub(crate) diastatic: Option<StrainTrait>,
    pub(crate) maltotriose: Option<MaltotrioseUse>,
    /// Alcohol at which it usually stops, the weaker strains and the stronger ones.
    pub(crate) alcohol_limit: Option<(AlcoholByVolume, AlcoholByVolume)>,
    /// Temperatures at which it usually ferments.
    pub(crate) temperature_range: Option<(Temperature, Temperature)>,
}

/// A line's own figures, and which were taken from the catalogue for want of one.
struct Lookup<'a> {
    from_entry: Vec<Figure>,
    moisture_left_out: bool,
    /// What a stated colour was taken to refer to, where its line doesn't say.
    colour_basis_assumed: Option<ColourBasis>,
    facts: &'a Facts,
}

impl Lookup<'_> {
    /// The stated figure, else the catalogue's, which is noted.
    fn either<Q: Quantity>(
        &mut self,
        stated: Option<&Written<Q>>,
        known: Option<Q>,
        figure: Figure,
    ) -> Option<f64> {
        if let Some(stated) = stated {
            return Some(stated.value().in_base());
        }
        if known.is_some() {
            self.from_entry.push(figure);
        }
        known.map(Quantity::in_base)
    }
}

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
        Kind::Malt | Kind::Grain => grain(ingredient, entry, &mut lookup)?,
        Kind::Sugar => sugar(ingredient, entry, &mut lookup)?,
        Kind::Juice => juice(ingredient, entry, &mut lookup)?,
        Kind::Beverage => beverage(ingredient, entry, &mut lookup)?,
        Kind::Hop => hop(entry, &mut lookup),
        Kind::Yeast => yeast(entry, &mut lookup),
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

fn known_fermentable(entry: EntryRef<'_>) -> Option<&CatalogueFermentable> {
    match entry {
        EntryRef::Fermentable(known) => Some(known),
        _ => None,
    }
}

fn grain(
    ingredient: &Ingredient,
    entry: Option<EntryRef<'_>>,
    lookup: &mut Lookup<'_>,
) -> Result<Material, Error> {
    let known = entry.and_then(known_fermentable);
    let moisture = lookup.either(
        lookup.facts.moisture.as_ref(),
        known.and_then(|k| k.moisture),
        Figure::Moisture,
    );
    let facts = lookup.facts;
    let dry = match &facts.extract {
        Some(stated) if stated.basis == ExtractBasis::AsIs => None,
        stated => lookup.either(
            stated.as_ref().map(|s| &s.value),
            known.and_then(|k| k.extract),
            Figure::Extract,
        ),
    };
    let as_is = facts
        .extract
        .as_ref()
        .filter(|stated| stated.basis == ExtractBasis::AsIs)
        .map(|stated| stated.value.value().fraction());
    let extract = match (as_is, dry, moisture) {
        (Some(as_is), ..) => as_is,
        (None, Some(dry), Some(moisture)) => dry * (1.0 - moisture),
        _ => {
            return Err(missing(
                ingredient,
                "its extract and moisture",
                "such as `extract 80 % dry, moisture 4.5 %`",
            ));
        }
    };
    lookup.moisture_left_out = moisture.is_none();
    let fermentability = lookup.either(
        facts.fermentability.as_ref(),
        known.and_then(|k| k.fermentability),
        Figure::Fermentability,
    );
    Ok(Material::Fermentable(Fermentable {
        extract,
        // An extract as is says how much dissolves; the water in the grain is then taken as none.
        water: moisture.unwrap_or(0.0),
        colour_ebc: lookup.either(
            facts.colour.as_ref(),
            known.and_then(|k| k.colour),
            Figure::Colour,
        ),
        colour_yield: None,
        fermentability,
        ferments: fermentability,
        sugars: Sugars::of(ingredient.kind, known),
        diastatic_wk: lookup.either(
            facts.diastatic_power.as_ref(),
            known.and_then(|k| k.diastatic_power),
            Figure::DiastaticPower,
        ),
        density_kg_l: 1.0,
        pulp: None,
    }))
}

fn sugar(
    ingredient: &Ingredient,
    entry: Option<EntryRef<'_>>,
    lookup: &mut Lookup<'_>,
) -> Result<Material, Error> {
    let known = entry.and_then(known_fermentable);
    let facts = lookup.facts;
    let extract = match &facts.extract {
        Some(stated) if stated.basis == ExtractBasis::AsIs => Some(stated.value.value().fraction()),
        Some(stated) => lookup
            .either(
                facts.moisture.as_ref(),
                known.and_then(|k| k.moisture),
                Figure::Moisture,
            )
            .map(|moisture| stated.value.value().fraction() * (1.0 - moisture)),
        None => lookup.either(
            None,
            known.and_then(CatalogueFermentable::extract_as_is),
            Figure::Extract,
        ),
    };
    let Some(extract) = extract else {
        return Err(missing(ingredient, "its extract", "such as `80 % extract`"));
    };
    let colour_ebc = lookup.either(
        facts.colour.as_ref(),
        known.and_then(|k| k.colour),
        Figure::Colour,
    );
    let fermentability = lookup.either(
        facts.fermentability.as_ref(),
        known.and_then(|k| k.fermentability),
        Figure::Fermentability,
    );
    let sugars = Sugars::of(ingredient.kind, known);
    let extract = extract.min(1.0);
    lookup.colour_basis_assumed = assumed_basis(facts, known);
    Ok(Material::Fermentable(Fermentable {
        colour_ebc,
        colour_yield: colour_yield(facts, known, extract),
        sugars,
        ..dissolving(extract, fermentability)
    }))
}

fn juice(
    ingredient: &Ingredient,
    entry: Option<EntryRef<'_>>,
    lookup: &mut Lookup<'_>,
) -> Result<Material, Error> {
    let known = match entry {
        Some(EntryRef::Juice(known)) => Some(known),
        _ => None,
    };
    let facts = lookup.facts;
    let brix = lookup.either(
        facts.brix.as_ref(),
        known.and_then(|k| k.extract),
        Figure::Brix,
    );
    let Some(brix) = brix else {
        return Err(missing(ingredient, "its Brix", "such as `12 Bx`"));
    };
    // Not noted as taken from the catalogue: wherever a juice's colour is shown, it is said to be rough.
    let colour_ebc = match &facts.colour {
        Some(stated) => Some(stated.value().ebc()),
        None => known.and_then(|k| k.colour).map(Quantity::in_base),
    };
    let fermentability = lookup.either(
        facts.fermentability.as_ref(),
        known.and_then(|k| k.fermentability),
        Figure::Fermentability,
    );
    let juice = dissolving(brix / 100.0, fermentability);
    let juice = Fermentable {
        colour_ebc,
        colour_yield: colour_ebc.map(|ebc| ebc / juice.density_kg_l),
        ..juice
    };
    let form = ingredient.facts.fruit_form;
    let class = known.and_then(|k| k.fruit_class);
    let Some((known, class)) = known.zip(class) else {
        return Ok(Material::Fermentable(juice));
    };
    let Some(insoluble) = known.pulp else {
        return Ok(Material::Fermentable(juice));
    };
    Ok(Material::Fermentable(with_pulp(
        juice,
        Pulp {
            insoluble: insoluble.in_base(),
            seeds: known.seeds.map_or(0.0, Quantity::in_base),
            stones: match form {
                None | Some(FruitForm::Thawed | FruitForm::Chopped) => {
                    known.stones.map_or(0.0, Quantity::in_base)
                }
                Some(FruitForm::Pitted | FruitForm::Puree | FruitForm::Pressed) => 0.0,
            },
            keeps_kg_kg: keeps(class, form),
        },
    )))
}

/// Sugar or juice: extract and water, no grain.
fn dissolving(extract: f64, fermentability: Option<f64>) -> Fermentable {
    Fermentable {
        extract,
        water: 1.0 - extract,
        colour_ebc: None,
        colour_yield: None,
        fermentability,
        ferments: fermentability,
        sugars: Sugars::Simple,
        diastatic_wk: None,
        density_kg_l: sucrose_density_20(extract) / 1000.0,
        pulp: None,
    }
}

/// The same of whole fruit or puree, whose pulp and stones do not dissolve.
fn with_pulp(juice: Fermentable, pulp: Pulp) -> Fermentable {
    let edible = 1.0 - pulp.stones;
    let pulp_kg = pulp.insoluble * edible;
    let extract = juice.extract * edible;
    let water = (edible - extract - pulp_kg).max(0.0);
    // Its colour is that of its juice.
    let juice_l = water / WATER_KG_PER_L + extract / SOLIDS_KG_PER_L;
    let litres = juice_l + (pulp_kg + pulp.stones) / PULP_KG_PER_L;
    Fermentable {
        extract,
        water,
        density_kg_l: 1.0 / litres,
        colour_yield: juice.colour_ebc.map(|ebc| ebc * juice_l),
        pulp: Some(pulp),
        ..juice
    }
}

/// A drink: where its line states an extract or an alcohol, the other of which neither line nor catalogue knows is none.
fn beverage(
    ingredient: &Ingredient,
    entry: Option<EntryRef<'_>>,
    lookup: &mut Lookup<'_>,
) -> Result<Material, Error> {
    let known = match entry {
        Some(EntryRef::Beverage(known)) => Some(known),
        _ => None,
    };
    let facts = lookup.facts;
    let known_alcohol = known.and_then(|k| k.alcohol);
    let known_extract = known.and_then(|k| k.extract);
    let is_known = facts.alcohol.is_some() || known_alcohol.is_some();
    if !is_known && (known.is_some() || facts.brix.is_none()) {
        return Err(missing(ingredient, "its alcohol", "such as `40 % alcohol`"));
    }
    // That water has none of either is no news.
    let known_alcohol = known_alcohol.filter(|alcohol| alcohol.in_base() > 0.0);
    let known_extract = known_extract.filter(|extract| extract.in_base() > 0.0);
    let alcohol = lookup.either(facts.alcohol.as_ref(), known_alcohol, Figure::Alcohol);
    let extract = lookup.either(facts.brix.as_ref(), known_extract, Figure::Brix);
    let extract = extract.unwrap_or(0.0) / 100.0;
    // Nobody says a real extract as a specific gravity: that is read off a hydrometer, alcohol and all.
    let shown = facts.brix.as_ref();
    let shown = shown.filter(|stated| stated.unit() == Unit::SpecificGravity);
    let per_kg = match (shown, alcohol) {
        (Some(shown), Some(alcohol)) => Liquid::drink_showing(alcohol, shown.value()),
        (_, alcohol) => Liquid::drink(alcohol.unwrap_or(0.0), extract),
    };
    let stated = facts.fermentability.as_ref().map(|w| w.value().in_base());
    let known_share = known.and_then(|k| k.fermentability).map(Quantity::in_base);
    let fermentability = stated.or(known_share);
    let colour_ebc = match &facts.colour {
        Some(stated) => Some(stated.value().ebc()),
        None => known.and_then(|k| k.colour).map(Quantity::in_base),
    };
    Ok(Material::Beverage(Beverage::of(
        per_kg,
        // A drink that was fermented once has left what yeast leaves.
        fermentability.unwrap_or(0.0),
        colour_ebc,
    )))
}

/// Something that the host calls nothing in particular: what its line states is what it brings.
fn other(ingredient: &Ingredient, lookup: &mut Lookup<'_>) -> Result<Material, Error> {
    let facts = lookup.facts;
    if facts.alcohol.is_some() {
        beverage(ingredient, None, lookup)
    } else if facts.brix.is_some() {
        juice(ingredient, None, lookup)
    } else if facts.extract.is_some() {
        sugar(ingredient, None, lookup)
    } else if is_called_hop(&ingredient.name) {
        Ok(hop(None, lookup))
    } else {
        Ok(Material::Unknown)
    }
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

fn hop(entry: Option<EntryRef<'_>>, lookup: &mut Lookup<'_>) -> Material {
    let known = match entry {
        Some(EntryRef::Hop(known)) => known.alpha(),
        _ => None,
    };
    let facts = lookup.facts;
    Material::Hop {
        alpha: lookup.either(facts.alpha.as_ref(), known, Figure::Alpha),
    }
}

/// The refusal of a hop that is to give bitterness and of which nobody says how much it has.
pub(crate) fn alpha_missing(ingredient: &Ingredient) -> Error {
    missing(ingredient, "its alpha acids", "such as `5 % alpha`")
}

fn yeast(entry: Option<EntryRef<'_>>, lookup: &mut Lookup<'_>) -> Material {
    let known = match entry {
        Some(EntryRef::Yeast(known)) => Some(known),
        _ => None,
    };
    let facts = lookup.facts;
    let stated = facts.pitch_rate.as_ref().map(|w| w.value().in_base());
    Material::Yeast(Yeast {
        stated_attenuation: facts.attenuation.as_ref().map(|w| w.value().in_base()),
        usual_attenuation: known.and_then(|k| k.attenuation).map(Quantity::in_base),
        pitch_rate: stated.or(known.and_then(|k| k.pitch_rate).map(Quantity::in_base)),
        stated_pitch_rate: stated.is_some(),
        diastatic: known.and_then(|k| k.diastatic),
        maltotriose: known.and_then(|k| k.maltotriose),
        alcohol_limit: known.and_then(|k| k.alcohol_limit),
        temperature_range: known.and_then(|k| k.temperature_range),
    })
}

fn missing(ingredient: &Ingredient, what: &str, example: &str) -> Error {
    Error::new(
        ErrorKind::Incomplete,
        format!(
            "`{}`: neither its line nor the ingredient table says {what}",
            ingredient.name
        ),
    )
    .with_help(format!("write it on the line, {example}"))
}
