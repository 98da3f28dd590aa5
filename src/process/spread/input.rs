//! What a brew rests on that is not known exactly, each with its one sigma.
//!
//! The rows named are those of `tests/reference/uncertainty.csv`. Left out, since no row speaks of them or no figure here moves by
//! them: the liquid in fruit pulp and dry hops (it moves what is racked, not the beer), the maltotriose of syrups, and diastatic
//! power. Carbonation has its own (`gas`).

use super::bend::Bend;
use super::cause::CauseKind;
use super::measure::Measurement;
use super::plant_figure::PlantFigure;
use crate::catalogue::Kind;
use crate::process::brew::Worked;
use crate::process::formula::{Item, ItemIndex, Stage};
use crate::process::material::{Fermentable, Material, Sugars};
use crate::recipe::{Brewhouse, Ingredient};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Row "pale malt extract of the lot against its type", of the dry matter (from memory).
pub(super) const BASE_MALT_LOT: f64 = 0.006;
/// Row "coloured malt extract", of the dry matter (from memory); of unmalted grain too, which is no better known.
pub(super) const OTHER_GRAIN_LOT: f64 = 0.015;
/// Row "extract of malt EBC 4.5.1", of the dry matter: what a certificate leaves (from memory).
pub(super) const CERTIFICATE: f64 = 0.0035;
/// Row "malt moisture at use", a fraction (from memory).
pub(super) const GRAIN_MOISTURE: f64 = 0.005;
/// Row "moisture liquid malt extract": 0.7 of 20 % (trade sheets, read); of other malt extracts as much of their moisture.
pub(super) const EXTRACT_MOISTURE: f64 = 0.7 / 20.0;
/// Row "moisture of sugars and honey": 0.8 of 17.1 % (from memory); of other sugars as much of their moisture.
pub(super) const SUGAR_MOISTURE: f64 = 0.8 / 17.1;
/// Row "Brix of shop juice", °Bx (from memory).
pub(super) const SHOP_JUICE: f64 = 0.4;
/// Row "hand refractometer", °Bx: what a measured Brix leaves (from memory).
pub(super) const MEASURED_BRIX: f64 = 0.15;
/// Row "sugars of fresh fruit", a part of them (a food table, computed).
pub(super) const FRUIT_SUGARS: f64 = 0.10;
/// Row "legal tolerance of declared alcohol", % by volume: a limit, taken as two sigma (read).
pub(super) const DECLARED_ALCOHOL: f64 = 0.5 / 2.0;
/// Of a spirit whose bottle nobody read: 37.5 to 50 % by volume (estimate, no source).
const UNREAD_ALCOHOL: f64 = 4.0;
/// Row "colour pale malt", EBC (partly seen).
pub(super) const PALE_COLOUR: f64 = 0.5;
/// Row "colour caramel malt", a part of it (partly seen); of other coloured malt too.
pub(super) const COLOURED: f64 = 0.08;
/// Row "colour roasted malt", a part of it (partly seen).
pub(super) const ROASTED: f64 = 0.10;
/// Roast malts are darker than this, EBC (the row's own range begins at 900, caramel malt's ends at 400).
pub(super) const ROAST_EBC: f64 = 600.0;
/// Row "colour malt extract, dry or liquid", a part of it (partly seen); of juice and drinks, for which there is no row, too.
pub(super) const EXTRACT_COLOUR: f64 = 0.20;
/// Row "colour syrup, caramelised", a part of it (partly seen).
pub(super) const SYRUP_COLOUR: f64 = 0.15;
/// Row "colour of beer EBC 9.6", a part of it: R95 of 8 to 12 % over 2.8 (from memory); what a certificate leaves of a coloured malt.
pub(super) const COLOUR_CERTIFICATE: f64 = 0.036;
/// A package figure of alpha acids, a part of it: row "alpha acids, contract tolerance" 2.6 % (read), with as much again for the
/// sample and what was lost since, 4 % in all.
pub(super) const ALPHA_PACKAGE: f64 = 0.04;
/// Alpha acids of a cultivar, a part of them: rows "alpha acids between farms" and "between years", 14 and 5 to 20 % (read).
pub(super) const ALPHA_CULTIVAR: f64 = 0.15;
/// Rows "apparent attenuation, known yeast" and "only kind of yeast known", points: what is left of an attenuation that was
/// measured, for one that is the kind's (partly seen; from memory).
pub(super) const KNOWN_YEAST: f64 = 2.0 / 3.5;
/// Between lots of malt, a part of what ferments (fermentability reference).
pub(super) const MALT_FERMENTS: f64 = 0.03;
/// Of the share of caramel and roast grain (design of the crate).
pub(super) const KILNED_FERMENTS: f64 = 0.10;
/// A juice that the catalogue holds not to ferment in full ferments somewhere between its figure and all: that range as four
/// sigma (rule of the table).
pub(super) const RANGE: f64 = 4.0;
/// What hops keep, a part of it: pellets 8 ± 2.5 and cones 5 ± 1.5 L/kg (`process/kept.rs`; figures found differ by a factor of two).
pub(super) const HOPS_KEEP: f64 = 2.5 / 8.0;
/// Row "volume by dip stick or marks", a part of it (from memory).
pub(super) const VOLUME_MARKS: f64 = 0.015;
/// Rows "kitchen scale" and "hop scale", kg (from memory). A hop scale weighs all that is lighter than this.
pub(super) const KITCHEN_SCALE_KG: f64 = 0.003;
pub(super) const HOP_SCALE_KG: f64 = 0.0002;
pub(super) const HOP_SCALE_TO_KG: f64 = 0.1;

/// One thing that is not known exactly.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Input {
    pub(super) kind: CauseKind,
    pub(super) name: Option<String>,
    pub(super) bend: Bend,
    /// One sigma, as the bend counts.
    pub(super) sigma: f64,
    /// What measuring it leaves of that, as a share; none where no measurement is at hand.
    pub(super) measured: Option<(Measurement, f64)>,
    /// The lots, where it is of some: the same one in another brew has the same error.
    pub(super) of: Option<Lots>,
}

/// Lots that are one cause: one, or many small ones that count together.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Lots {
    pub(super) ingredients: Vec<Arc<Ingredient>>,
    /// By which part of the sum of what each does they count together; a whole for one.
    pub(super) together: f64,
}

/// What is known beside a brew's own figures.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Known<'a> {
    /// The plant's lines; none where the plant is assumed.
    pub(crate) brewhouse: Option<&'a Brewhouse>,
    /// Whether its yield was inferred from masses and a printed gravity.
    pub(crate) is_yield_inferred: bool,
    /// Whether what its mash ferments was fitted to a printed figure.
    pub(crate) is_fitted: bool,
}

/// Everything of a brew that is not known exactly.
pub(super) fn inputs(worked: &Worked, known: Known<'_>) -> Vec<Input> {
    let mut found = Found {
        worked,
        inputs: Vec::new(),
    };
    found.of_plant(known);
    found.of_lots();
    found.of_fermentation(known);
    found.of_measures();
    found.inputs
}

struct Found<'a> {
    worked: &'a Worked,
    inputs: Vec<Input>,
}

impl Found<'_> {
    fn push(&mut self, kind: CauseKind, bend: Bend, sigma: f64) -> Option<&mut Input> {
        if sigma <= 0.0 || !sigma.is_finite() {
            return None;
        }
        self.inputs.push(Input {
            kind,
            name: None,
            bend,
            sigma,
            measured: None,
            of: None,
        });
        self.inputs.last_mut()
    }

    fn of_plant(&mut self, known: Known<'_>) {
        let plant = &self.worked.setup.plant;
        for figure in PlantFigure::ALL {
            if figure.of(plant).is_none() {
                continue;
            }
            let is_inferred = figure == PlantFigure::ExtractYield && known.is_yield_inferred;
            let is_stated = is_inferred || figure.is_stated(known.brewhouse);
            let batch_l = self.worked.brewed.into_fermenter_l;
            let sigma = |is_stated| figure.sigma(plant, is_stated, batch_l);
            let (here, own) = (sigma(is_stated), sigma(true));
            let name = plant.name.to_string();
            let Some(input) = self.push(CauseKind::of_plant(figure), Bend::Plant(figure), here)
            else {
                continue;
            };
            input.name = Some(name).filter(|name| !name.is_empty());
            if own < here {
                input.measured = Measurement::of_plant(figure).map(|how| (how, own / here));
            }
        }
    }

    fn of_lots(&mut self) {
        let (formula, amounts) = (&self.worked.setup.formula, &self.worked.amounts);
        let mut lots: Vec<(&Item, Vec<ItemIndex>)> = Vec::new();
        let mut named: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        for (index, item) in formula.items.iter() {
            if amounts.of.at(index) <= 0.0 {
                continue;
            }
            let alike = named.entry(&item.ingredient.name).or_default();
            let is_it = |at: &&usize| {
                let lot = lots.get(**at);
                lot.is_some_and(|(lot, _)| lot.ingredient == item.ingredient)
            };
            // One sack, however often it is opened.
            let known = alike.iter().find(is_it).and_then(|at| lots.get_mut(*at));
            if let Some((_, items)) = known {
                items.push(index);
            } else {
                alike.push(lots.len());
                lots.push((item, vec![index]));
            }
        }
        for (lot, items) in lots {
            let of_lot = [
                extract(lot, &items),
                drink_alcohol(lot, &items),
                colour(lot, &items),
                alpha(lot, &items),
                juice_fermentability(lot, &items),
            ];
            for input in of_lot.into_iter().flatten() {
                let lots = Lots {
                    ingredients: vec![lot.ingredient.clone()],
                    together: 1.0,
                };
                if let Some(pushed) = self.push(input.kind, input.bend, input.sigma) {
                    pushed.name = Some(lot.ingredient.name.clone());
                    pushed.measured = input.measured;
                    pushed.of = Some(lots);
                }
            }
        }
    }

    fn of_fermentation(&mut self, known: Known<'_>) {
        let setup = &self.worked.setup;
        let is_any = |wanted: fn(Sugars) -> bool| {
            setup
                .formula
                .items
                .values()
                .any(|item| match item.material {
                    Material::Fermentable(part) => {
                        item.place.stage < Stage::Ferment && wanted(part.sugars)
                    }
                    _ => false,
                })
        };
        let yeast_sigma = setup.formula.yeast_use.sigma();
        let yeast = setup.formula.yeast();
        let is_own = yeast.is_some_and(|yeast| yeast.stated_attenuation.is_some());
        if is_any(|sugars| matches!(sugars, Sugars::Starch | Sugars::MaltExtract)) {
            // A printed final gravity says how the yeast ferments this wort: what is left is from brew to brew.
            let sigma = if known.is_fitted && !is_own {
                yeast_sigma * KNOWN_YEAST
            } else {
                yeast_sigma
            };
            let is_open = !known.is_fitted && !is_own;
            if let Some(input) = self.push(CauseKind::Attenuation, Bend::MaltFerments, sigma)
                && is_open
            {
                input.measured = Some((Measurement::YeastAttenuation, KNOWN_YEAST));
            }
            self.push(
                CauseKind::MaltFermentability,
                Bend::MaltFerments,
                MALT_FERMENTS,
            );
        }
        if known.is_fitted {
            return;
        }
        if is_any(|sugars| sugars == Sugars::Starch) {
            let sigma = setup.mash_factor.rests_sigma();
            self.push(CauseKind::MashRests, Bend::MashRests, sigma);
        }
        let items = setup
            .formula
            .items
            .iter()
            .filter(|(_, item)| match item.material {
                Material::Fermentable(part) => part.sugars == Sugars::Kilned,
                _ => false,
            });
        let kilned: Vec<_> = items.map(|(index, _)| index).collect();
        if !kilned.is_empty() {
            let bend = Bend::Ferments(kilned);
            self.push(CauseKind::KilnedFermentability, bend, KILNED_FERMENTS);
        }
    }

    fn of_measures(&mut self) {
        let (formula, amounts) = (&self.worked.setup.formula, &self.worked.amounts);
        self.push(CauseKind::WaterVolume, Bend::Water, VOLUME_MARKS);
        let is_in_kettle = |item: &Item| {
            matches!(item.material, Material::Hop { .. }) && item.place.stage < Stage::Ferment
        };
        if formula.items.values().any(is_in_kettle) {
            self.push(CauseKind::HopsKeep, Bend::HopsKeep, HOPS_KEEP);
        }
        let pours = |item: &Item| item.place.stage >= Stage::Ferment && item.is_by_volume();
        if formula.items.values().any(pours) {
            self.push(CauseKind::AddedVolume, Bend::AddedVolume, VOLUME_MARKS);
        }
        for (index, item) in formula.items.iter() {
            let kg = amounts.of.at(index);
            if kg <= 0.0 || !item.is_by_mass() {
                continue;
            }
            let bend = match item.material {
                // A hop's weight counts as its alpha acids do, but for what it soaks up.
                Material::Hop { alpha: Some(_) } if item.is_hot_hop() => Bend::Alpha(vec![index]),
                Material::Fermentable(_) | Material::Beverage(_) => Bend::Weight(index),
                _ => continue,
            };
            self.push(CauseKind::Weighing, bend, scale_kg(kg) / kg);
        }
    }
}

/// One sigma of a weight, kg.
pub(super) const fn scale_kg(kg: f64) -> f64 {
    if kg < HOP_SCALE_TO_KG {
        HOP_SCALE_KG
    } else {
        KITCHEN_SCALE_KG
    }
}

/// What one lot is uncertain in.
struct OfLot {
    kind: CauseKind,
    bend: Bend,
    sigma: f64,
    measured: Option<(Measurement, f64)>,
}

impl OfLot {
    fn new(kind: CauseKind, bend: Bend, sigma: f64) -> Self {
        Self {
            kind,
            bend,
            sigma,
            measured: None,
        }
    }

    /// With what a measurement leaves of it, as the bend counts.
    fn measured(mut self, how: Measurement, leaves: f64) -> Self {
        if leaves < self.sigma {
            self.measured = Some((how, leaves / self.sigma));
        }
        self
    }
}

/// One sigma of what a lot brings, as a part of it: extract, colour, alpha acids; zero of what it does not bring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct LotSigma {
    pub(crate) extract: f64,
    pub(crate) colour: f64,
    pub(crate) alpha: f64,
}

impl LotSigma {
    /// That of the lot which an item is taken from.
    pub(crate) fn of(item: &Item) -> Self {
        let sigma = |found: Option<OfLot>| found.map_or(0.0, |found| found.sigma);
        Self {
            extract: sigma(extract(item, &[])),
            colour: sigma(colour(item, &[])),
            alpha: sigma(alpha(item, &[])),
        }
    }
}

/// Extract of the lot as it is weighed, a part of it: what the laboratory finds of its dry matter, and its moisture.
fn extract(lot: &Item, items: &[ItemIndex]) -> Option<OfLot> {
    let facts = &lot.ingredient.facts;
    let bend = || Bend::Extract(items.to_vec());
    let kind = CauseKind::Extract;
    match lot.material {
        Material::Fermentable(part) if part.extract > 0.0 => {
            let relative = |sigma: f64| sigma / part.extract;
            if lot.is_mashed() {
                let by_kind = if part.sugars == Sugars::Starch && lot.ingredient.kind == Kind::Malt
                {
                    BASE_MALT_LOT
                } else {
                    OTHER_GRAIN_LOT
                };
                let is_known = facts.extract.is_some();
                let dry = part.extract / (1.0 - part.water);
                let as_is = |of_dry: f64| {
                    relative((of_dry * (1.0 - part.water)).hypot(dry * GRAIN_MOISTURE))
                };
                let of_dry = if is_known { CERTIFICATE } else { by_kind };
                let found = OfLot::new(kind, bend(), as_is(of_dry));
                return Some(found.measured(Measurement::MaltExtract, as_is(CERTIFICATE)));
            }
            if lot.ingredient.kind == Kind::Juice || facts.brix.is_some() {
                let measured = relative(MEASURED_BRIX / 100.0);
                let sigma = match (facts.brix.is_some(), part.pulp) {
                    (true, _) => measured,
                    (false, Some(_)) => FRUIT_SUGARS,
                    (false, None) => relative(SHOP_JUICE / 100.0),
                };
                let found = OfLot::new(kind, bend(), sigma);
                return Some(found.measured(Measurement::JuiceBrix, measured));
            }
            let by_moisture = if part.sugars == Sugars::MaltExtract {
                EXTRACT_MOISTURE
            } else {
                SUGAR_MOISTURE
            };
            Some(OfLot::new(kind, bend(), relative(by_moisture * part.water)))
        }
        Material::Beverage(drink) if drink.per_kg.extract_kg > 0.0 => {
            let brix = if facts.brix.is_some() {
                MEASURED_BRIX
            } else {
                SHOP_JUICE
            };
            let share = drink.per_kg.extract_kg / drink.per_kg.mass_kg();
            Some(OfLot::new(kind, bend(), brix / 100.0 / share))
        }
        _ => None,
    }
}

fn drink_alcohol(lot: &Item, items: &[ItemIndex]) -> Option<OfLot> {
    let Material::Beverage(drink) = lot.material else {
        return None;
    };
    let declared_pct = 100.0 * drink.per_kg.alcohol_fraction();
    let bend = Bend::DrinkAlcohol(items.to_vec());
    (declared_pct > 0.0).then(|| {
        OfLot::new(
            CauseKind::DrinkAlcohol,
            bend,
            if lot.ingredient.facts.alcohol.is_some() {
                DECLARED_ALCOHOL
            } else {
                UNREAD_ALCOHOL
            } / declared_pct,
        )
    })
}

fn colour(lot: &Item, items: &[ItemIndex]) -> Option<OfLot> {
    let is_stated = lot.ingredient.facts.colour.is_some();
    let sigma = match lot.material {
        Material::Fermentable(part) if lot.is_mashed() => malt_colour(&part, is_stated)?,
        Material::Fermentable(Fermentable {
            colour_yield: Some(ebc),
            sugars,
            ..
        }) if ebc > 0.0 => match (is_stated, sugars) {
            (true, _) => COLOUR_CERTIFICATE,
            (false, Sugars::MaltExtract) => EXTRACT_COLOUR,
            (false, _) if lot.ingredient.kind == Kind::Sugar => SYRUP_COLOUR,
            (false, _) => EXTRACT_COLOUR,
        },
        Material::Beverage(drink) => {
            drink.colour_ebc.filter(|ebc| *ebc > 0.0)?;
            if is_stated {
                COLOUR_CERTIFICATE
            } else {
                EXTRACT_COLOUR
            }
        }
        _ => return None,
    };
    let certificate = match lot.material {
        Material::Fermentable(part) if lot.is_mashed() => malt_colour(&part, true)?,
        _ => COLOUR_CERTIFICATE,
    };
    let found = OfLot::new(CauseKind::Colour, Bend::Colour(items.to_vec()), sigma);
    Some(found.measured(Measurement::LotColour, certificate))
}

/// One sigma of a malt's colour, a part of it.
fn malt_colour(part: &Fermentable, is_stated: bool) -> Option<f64> {
    let ebc = part.colour_ebc.filter(|ebc| *ebc > 0.0)?;
    // Pale malts differ by as much between laboratories as between lots.
    let pale = PALE_COLOUR / ebc;
    let share = if is_stated {
        COLOUR_CERTIFICATE
    } else if part.sugars == Sugars::Kilned && ebc > ROAST_EBC {
        ROASTED
    } else {
        COLOURED
    };
    Some(share.max(pale))
}

fn alpha(lot: &Item, items: &[ItemIndex]) -> Option<OfLot> {
    let is_hot = lot.is_hot_hop() && matches!(lot.material, Material::Hop { alpha: Some(_) });
    let sigma = if lot.ingredient.facts.alpha.is_some() {
        ALPHA_PACKAGE
    } else {
        ALPHA_CULTIVAR
    };
    let found = OfLot::new(CauseKind::Alpha, Bend::Alpha(items.to_vec()), sigma);
    is_hot.then(|| found.measured(Measurement::LotAlpha, ALPHA_PACKAGE))
}

fn juice_fermentability(lot: &Item, items: &[ItemIndex]) -> Option<OfLot> {
    let Material::Fermentable(part) = lot.material else {
        return None;
    };
    let share = part
        .ferments
        .filter(|_| lot.ingredient.kind == Kind::Juice)?;
    let bend = Bend::Ferments(items.to_vec());
    let sigma = (1.0 - share) / RANGE;
    (lot.ingredient.facts.fermentability.is_none())
        .then(|| OfLot::new(CauseKind::JuiceFermentability, bend, sigma))
}
