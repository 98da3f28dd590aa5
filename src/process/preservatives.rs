//! Preservatives that juice brings into a fermenting beer.

use super::brew::Worked;
use super::formula::{Item, Stage};
use super::material::Material;
use super::warning::Warning;
use crate::catalogue::Kind;
use crate::quantity::{Concentration, Ph, Written};
use crate::science::inhibition::{molecular_sulphur_dioxide, outlook};
use crate::speech::Noted;

/// pH of a finished ale or lager (common practice, 4.0 to 4.5; no source).
const BEER_PH: f64 = 4.2;

/// What deserves a look where juice states sulphite or sorbate; nothing where none does.
pub(crate) fn preserved_juice(worked: &Worked) -> Option<Noted<Warning>> {
    let (mut names, mut ph, mut first) = (Vec::new(), BEER_PH, None);
    let (mut sulphite_g, mut sorbic_g) = (0.0, 0.0);
    let mut beer_l = worked.brewed.cellar.after_additions_l;
    for (item, amount) in worked.setup.formula.items.with(&worked.amounts.of) {
        let Some(juice_l) = poured_l(item, *amount) else {
            continue;
        };
        if item.place.stage > Stage::Ferment {
            beer_l += juice_l;
        }
        let facts = &item.ingredient.facts;
        let stated = |dose: &Option<Written<Concentration>>| {
            dose.as_ref()
                .map_or(0.0, |dose| dose.value().grams_per_litre())
        };
        let (sulphite, sorbate) = (stated(&facts.sulphite), stated(&facts.sorbate));
        if sulphite <= 0.0 && sorbate <= 0.0 {
            continue;
        }
        first.get_or_insert(item.place);
        sulphite_g += sulphite * juice_l;
        sorbic_g += sorbate * juice_l;
        ph = facts
            .ph
            .as_ref()
            .map_or(ph, |own| own.value().value().min(ph));
        if !names.contains(&item.ingredient.name) {
            names.push(item.ingredient.name.clone());
        }
    }
    if names.is_empty() || beer_l <= 0.0 {
        return None;
    }
    let in_beer = |grams: f64| Concentration::clamped(grams / beer_l);
    let (free, sorbic, ph) = (in_beer(sulphite_g), in_beer(sorbic_g), Ph::clamped(ph));
    let warning = Warning::PreservedJuice {
        names,
        free,
        molecular: molecular_sulphur_dioxide(free, ph),
        sorbic,
        ph,
        outlook: outlook(free, sorbic, ph),
    };
    let place = first.map(|slot| slot.ingredient().field("facts"));
    Some(Noted::at(place, warning))
}

/// Litres of a juice that goes in after pitching; a boil drives sulphite off.
fn poured_l(item: &Item, amount: f64) -> Option<f64> {
    let Material::Fermentable(juice) = item.material else {
        return None;
    };
    if item.ingredient.kind != Kind::Juice || item.place.stage < Stage::Ferment || amount <= 0.0 {
        return None;
    }
    Some(if item.is_by_volume() {
        amount
    } else {
        amount / juice.density_kg_l
    })
}
