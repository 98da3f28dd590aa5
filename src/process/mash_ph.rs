//! The mash pH of a brew: its grain's figures from line and catalogue, its liquor from the water report.

use super::assumption::{Assumption, NoMashPh};
use super::brew::Worked;
use super::formula::{Item, Stage};
use super::plant::Plant;
use crate::catalogue::{
    Catalogue, EntryRef, Equivalents, Fermentable, FermentableClass, IonYield, WaterAgent,
};
use crate::diagnostic::Place;
use crate::quantity::{
    Buffering, Concentration, MassDensity, Ph, Strength, Written, kilograms, litres,
};
use crate::recipe::IonTargets;
use crate::science::acid::{Acid, AcidProduct};
use crate::science::mash_ph::{
    BufferedMash, BufferingGrain, GrainKnown, MashAcid, MashPh, MashWater,
};
use crate::science::water::{
    EquivalentConcentration, Ion, Ions, NamedIons, alkalinity_from_bicarbonate,
};
use crate::speech::Noted;
use std::borrow::Cow;
use uom::si::amount_of_substance::mole;
use uom::si::f64::{AmountOfSubstance, MolarMass};
use uom::si::mass_density::gram_per_cubic_centimeter;
use uom::si::molar_mass::gram_per_mole;

/// What a mash has where its recipe says nothing, and what it is brought to outside of that (common practice, no source).
pub(crate) const USUAL_MASH_PH: std::ops::RangeInclusive<f64> = 5.2..=5.6;
pub(crate) const MIDDLE_MASH_PH: f64 = 5.4;
/// pH of a water whose report does not say (common practice, no source; from 7 to 8 the acid it takes changes by 2 %).
pub(crate) const WATER_PH: f64 = 7.5;
/// pH and buffering of unmalted grain in distilled water: the catalogue has none measured (estimate between its pale
/// barley malts and its wheat malt, no source).
const UNMALTED: InWater = InWater {
    ph: 5.8,
    buffering_meq_kg_ph: 40.0,
};
/// Colour of a grain of which neither class nor colour is known, EBC: a pale malt's (common practice, no source).
const PALE_EBC: f64 = 5.0;

/// A water of which ions and pH are known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct KnownWater {
    pub(crate) ions: Ions,
    pub(crate) ph: Ph,
}

/// The ions that are stated, bicarbonate counted as alkalinity where that is not stated itself.
pub(crate) fn stated_ions(stated: &IonTargets, ph: Ph) -> NamedIons {
    let alkalinity = stated.alkalinity.as_ref().map(Written::value).or_else(|| {
        let bicarbonate = stated.bicarbonate.as_ref()?.value();
        Some(alkalinity_from_bicarbonate(bicarbonate, ph).as_calcium_carbonate())
    });
    let value = |written: &Option<Written<Concentration>>| written.as_ref().map(Written::value);
    let much = |ion: Ion| match ion {
        Ion::Calcium => value(&stated.calcium),
        Ion::Magnesium => value(&stated.magnesium),
        Ion::Sodium => value(&stated.sodium),
        Ion::Potassium => value(&stated.potassium),
        Ion::Sulphate => value(&stated.sulphate),
        Ion::Chloride => value(&stated.chloride),
        Ion::Alkalinity => alkalinity,
    };
    let named = |ion| much(ion).map(|much| (ion, much));
    Ion::ALL.into_iter().filter_map(named).collect()
}

/// The liquor that ions and a pH describe. What is not stated is taken as none and noted; without an alkalinity there is
/// no liquor to compute with. `plant` is the one whose water it is.
pub(crate) fn liquor(
    stated: &IonTargets,
    ph: Option<&Written<Ph>>,
    plant: &Plant,
    assumptions: &mut Vec<Noted<Assumption>>,
) -> Result<KnownWater, NoMashPh> {
    if stated.is_empty() {
        return Err(NoMashPh::NoWaterReport);
    }
    let known_ph = ph.map(Written::value);
    let ph = known_ph.unwrap_or(Ph::clamped(WATER_PH));
    let ions = stated_ions(stated, ph);
    let has = |ion: Ion| ions.of(ion).is_some();
    if !has(Ion::Alkalinity) {
        return Err(NoMashPh::NoAlkalinity);
    }
    // Potassium is seldom in a report, and hardly ever in a water.
    let silent: Vec<_> = Ion::ALL
        .into_iter()
        .filter(|ion| *ion != Ion::Potassium && !has(*ion))
        .collect();
    if !silent.is_empty() || known_ph.is_none() {
        let field = match (silent.as_slice(), known_ph) {
            ([], _) => "water.ph",
            _ => "water",
        };
        let gaps = Assumption::WaterReportGaps {
            side: plant.side,
            ions: silent,
            ph: known_ph.is_none().then_some(ph),
        };
        assumptions.push(Noted::at(Place::plant(&plant.name, field), gaps));
    }
    Ok(KnownWater {
        ions: ions
            .iter()
            .fold(Ions::default(), |water, (ion, much)| water.with(ion, much)),
        ph,
    })
}

/// The grain of a mash with what each takes up, and the names of those that are taken from their class.
pub(crate) fn grain(worked: &Worked, catalogue: &Catalogue) -> (Vec<BufferingGrain>, Vec<String>) {
    let (mut grist, mut by_class) = (Vec::new(), Vec::new());
    for (item, kg) in worked.setup.formula.items.with(&worked.amounts.of) {
        if !item.is_mashed() || *kg <= 0.0 {
            continue;
        }
        let known = match catalogue
            .find(item.ingredient.catalogue_name())
            .map(|found| found.entry)
        {
            Some(EntryRef::Fermentable(known)) => Some(known),
            _ => None,
        };
        // Husks neither take up nor give off what counts.
        if known.and_then(|k| k.class) == Some(FermentableClass::LauteringAid) {
            continue;
        }
        let stated_ph = item
            .ingredient
            .facts
            .ph
            .as_ref()
            .map(|ph| ph.value().value());
        let own = known.and_then(measured);
        let of_class = || of_class(known, stated_colour(item), catalogue);
        let in_water = own.unwrap_or_else(of_class);
        let known = if own.is_none() && stated_ph.is_none() {
            by_class.push(item.ingredient.name.clone());
            GrainKnown::ByClass
        } else {
            GrainKnown::Itself
        };
        let buffering_meq = in_water.buffering_meq_kg_ph;
        let Ok(buffering) = Buffering::from_milliequivalents_per_kilogram_ph(buffering_meq) else {
            continue;
        };
        grist.push(BufferingGrain {
            mass: kilograms(*kg),
            ph: Ph::clamped(stated_ph.unwrap_or(in_water.ph)),
            buffering,
            known,
        });
    }
    (grist, by_class)
}

fn stated_colour(item: &Item) -> Option<f64> {
    item.ingredient
        .facts
        .colour
        .as_ref()
        .map(|c| c.value().ebc())
}

/// A grain in distilled water.
#[derive(Debug, Clone, Copy, PartialEq)]
struct InWater {
    ph: f64,
    buffering_meq_kg_ph: f64,
}

/// That of a row which has both figures.
fn measured(row: &Fermentable) -> Option<InWater> {
    Some(InWater {
        ph: row.mash_ph?.value(),
        buffering_meq_kg_ph: row.buffering?.milliequivalents_per_kilogram_ph(),
    })
}

/// Figures of the row that is nearest in colour, within the class where that has any, else among all malts.
fn of_class(
    known: Option<&Fermentable>,
    stated_ebc: Option<f64>,
    catalogue: &Catalogue,
) -> InWater {
    let class = known.and_then(|k| k.class);
    if class == Some(FermentableClass::UnmaltedGrain) {
        return UNMALTED;
    }
    let ebc = stated_ebc
        .or_else(|| Some(known?.colour?.ebc()))
        .unwrap_or(PALE_EBC);
    let nearest = |same_class: Option<FermentableClass>| {
        catalogue
            .entries()
            .filter_map(|entry| match entry {
                EntryRef::Fermentable(row) => Some(row),
                _ => None,
            })
            .filter(|row| match same_class {
                Some(class) => row.class == Some(class),
                None => row.class != Some(FermentableClass::AcidMalt),
            })
            .filter_map(|row| Some(((row.colour?.ebc() - ebc).abs(), measured(row)?)))
            .min_by(|(a, _), (b, _)| a.total_cmp(b))
            .map(|(_, figures)| figures)
    };
    class
        .and_then(|class| nearest(Some(class)))
        .or_else(|| nearest(None))
        .unwrap_or(UNMALTED)
}

/// The ions that a gram per litre of a salt brings.
pub(crate) fn salt_ions(salt: &WaterAgent) -> Ions {
    let ions = salt.ions.unwrap_or_default();
    let brought = [
        (Ion::Calcium, ions.calcium),
        (Ion::Magnesium, ions.magnesium),
        (Ion::Sodium, ions.sodium),
        (Ion::Potassium, ions.potassium),
        (Ion::Sulphate, ions.sulphate),
        (Ion::Chloride, ions.chloride),
    ]
    .into_iter()
    .fold(Ions::default(), |water, (ion, yields)| {
        let mg = yields.map_or(0.0, IonYield::milligrams_per_gram);
        water.with(ion, Concentration::clamped(mg / 1000.0))
    });
    let alkalinity = salt
        .alkalinity
        .map_or(0.0, Equivalents::milliequivalents_per_gram);
    brought.with(
        Ion::Alkalinity,
        EquivalentConcentration::of(alkalinity).as_calcium_carbonate(),
    )
}

/// The acid that a row of the catalogue describes; none without its constants.
pub(crate) fn acid_product(row: &WaterAgent) -> Option<AcidProduct> {
    let constants: Vec<_> = [row.pk1, row.pk2, row.pk3].into_iter().flatten().collect();
    let molar_mass = MolarMass::new::<gram_per_mole>(row.molar_mass?.grams_per_mole());
    Some(AcidProduct {
        acid: Acid::new(molar_mass, &constants).ok()?,
        strength: row.strength.unwrap_or(Strength::clamped(1.0)),
        density: row.density.map(|density| {
            MassDensity::new::<gram_per_cubic_centimeter>(density.grams_per_millilitre())
        }),
    })
}

/// A salt, an acid or an alkali in a mash.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Stirred<'a> {
    pub(crate) agent: Cow<'a, WaterAgent>,
    pub(crate) kg: f64,
}

impl<'a> Stirred<'a> {
    pub(crate) const fn of(agent: &'a WaterAgent, kg: f64) -> Self {
        Self {
            agent: Cow::Borrowed(agent),
            kg,
        }
    }

    pub(crate) fn into_owned(self) -> Stirred<'static> {
        Stirred {
            agent: Cow::Owned(self.agent.into_owned()),
            kg: self.kg,
        }
    }
}

/// Salts and acids that the recipe itself puts into the mash.
pub(crate) fn stated_agents<'a>(
    worked: &'a Worked,
    catalogue: &'a Catalogue,
) -> impl Iterator<Item = Stirred<'a>> {
    let items = &worked.setup.formula.items;
    items
        .with(&worked.amounts.of)
        .filter(|(item, _)| item.place.stage == Stage::Mash)
        .filter_map(|(item, amount)| {
            match catalogue.find(item.ingredient.catalogue_name())?.entry {
                EntryRef::WaterAgent(row) => {
                    let kg = if item.is_by_volume() {
                        amount * row.density?.grams_per_millilitre()
                    } else {
                        *amount
                    };
                    Some(Stirred::of(row, kg))
                }
                _ => None,
            }
        })
}

/// The water of a mash with salts in it, and the acids beside it.
pub(crate) fn stirred_water(
    liquor: &KnownWater,
    mash_l: f64,
    agents: &[Stirred<'_>],
) -> Option<(MashWater, Vec<MashAcid>)> {
    let mut water = MashWater::new(litres(mash_l), liquor.ions, liquor.ph).ok()?;
    let (mut alkali_meq_l, mut carbonate_mmol_l) = (0.0, 0.0);
    let mut acids = Vec::new();
    for Stirred { agent, kg } in agents {
        let dose_g_l = 1000.0 * kg / mash_l.max(f64::MIN_POSITIVE);
        water.ions = water
            .ions
            .with_dose(&salt_ions(agent), Concentration::clamped(dose_g_l));
        let alkali = alkali_of(agent);
        alkali_meq_l += dose_g_l * alkali.meq_per_g;
        carbonate_mmol_l += dose_g_l * alkali.carbonate_mmol_per_g;
        if let Some(product) = acid_product(agent) {
            acids.push(MashAcid {
                acid: product.acid,
                amount: AmountOfSubstance::new::<mole>(kg * product.moles_per_kg()),
            });
        }
    }
    // Alkali brings its own carbonate: how much acid that takes up hangs on the mash's pH and not on the water's.
    if alkali_meq_l > 0.0 {
        water.carbonate = water
            .carbonate
            .with_alkali(alkali_meq_l, carbonate_mmol_l)?;
    }
    Some((water, acids))
}

/// What a gram of an alkali brings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Alkali {
    pub(crate) meq_per_g: f64,
    /// Where it is a carbonate of any kind.
    pub(crate) carbonate_mmol_per_g: f64,
}

pub(crate) fn alkali_of(row: &WaterAgent) -> Alkali {
    let alkali = row.alkalinity;
    let meq_per_g = alkali.map_or(0.0, Equivalents::milliequivalents_per_gram);
    let is_carbonate = row.ions.is_some_and(|ions| ions.bicarbonate.is_some());
    let molar = row.molar_mass.filter(|_| is_carbonate && meq_per_g > 0.0);
    Alkali {
        meq_per_g,
        carbonate_mmol_per_g: molar.map_or(0.0, |molar| 1000.0 / molar.grams_per_mole()),
    }
}

/// Mash pH of a grist in a liquor, with salts and acids in it.
pub(crate) fn predicted(
    grist: &[BufferingGrain],
    liquor: &KnownWater,
    mash_l: f64,
    agents: &[Stirred<'_>],
) -> Option<MashPh> {
    let (water, acids) = stirred_water(liquor, mash_l, agents)?;
    BufferedMash::new(grist, Some(&water), &acids)
        .ok()?
        .ph()
        .ok()
}

/// Mash pH of a brew as its sheet describes it: `water` is that of its plant, or what the sheet wants.
pub(crate) fn of_brew(
    worked: &Worked,
    catalogue: &Catalogue,
    liquor: &KnownWater,
    assumptions: &mut Vec<Noted<Assumption>>,
) -> Option<MashPh> {
    let (grist, by_class) = grain(worked, catalogue);
    let agents: Vec<_> = stated_agents(worked, catalogue).collect();
    let found = predicted(&grist, liquor, worked.amounts.liquor.mash_l, &agents)?;
    note_classes(by_class, assumptions);
    Some(found)
}

/// Says once which grain was taken from its class.
pub(crate) fn note_classes(names: Vec<String>, assumptions: &mut Vec<Noted<Assumption>>) {
    if names.is_empty() {
        return;
    }
    let note = Noted::at(
        Place::recipe("mash.additions"),
        Assumption::MashPhFromClass { names },
    );
    if !assumptions.contains(&note) {
        assumptions.push(note);
    }
}
