//! What is assumed of the wort and beer that trub, hops and fruit keep.

use super::assumption::Assumption;
use super::brew::Worked;
use super::formula::{Item, Stage};
use super::kept::{fruit_keeps_l, per_kg, steeped_keeps_l};
use crate::diagnostic::Place;
use crate::quantity::litres;
use crate::speech::Noted;

/// Notes what trub and hops keep, and of what form the hops are where their lines do not say.
pub(crate) fn kept_notes(worked: &Worked, assumptions: &mut Vec<Noted<Assumption>>) {
    let (setup, brewed) = (&worked.setup, &worked.brewed);
    let (formula, plant) = (&setup.formula, &setup.plant);
    let (trub_l, hops_l) = (brewed.kept.trub_l, brewed.kept.by_hops_l());
    if trub_l + hops_l > 0.0 {
        let kept = Assumption::KeptInKettle {
            side: plant.side,
            trub: litres(trub_l),
            hops: litres(hops_l),
            beyond_loss: plant.loss_holds_trub,
        };
        assumptions.push(Noted::at(Place::plant(&plant.name, "kettle_loss_l"), kept));
    }
    let counts = |item: &Item| item.place.stage >= Stage::Ferment || hops_l > 0.0;
    let items = formula.items.with(&worked.amounts.of);
    let hops = items.filter(|(item, kg)| per_kg(item).is_some() && **kg > 0.0);
    let hops: Vec<_> = hops
        .map(|(item, _)| item)
        .filter(|item| counts(item))
        .collect();
    let mut dry = hops
        .iter()
        .filter(|item| item.place.stage >= Stage::Ferment);
    let in_beer = || {
        let items = formula.items.with(&worked.amounts.of);
        items.filter(|(item, _)| item.place.stage >= Stage::Ferment)
    };
    let dry_l: f64 = in_beer()
        .filter_map(|(item, kg)| Some(per_kg(item)? * kg))
        .sum();
    assumptions.extend(dry.next().map(|item| {
        let kept = Assumption::KeptByDryHops {
            side: plant.side,
            kept: litres(dry_l),
        };
        Noted::at(item.place.line(), kept)
    }));
    let fruit = || {
        formula
            .items
            .with(&worked.amounts.of)
            .map(|(item, amount)| (item, fruit_keeps_l(item, *amount)))
    };
    let first = fruit().find(|(_, kept_l)| *kept_l > 0.0);
    assumptions.extend(first.map(|(item, _)| {
        let kept = Assumption::KeptByFruit {
            side: plant.side,
            kept: litres(fruit().map(|(_, kept_l)| kept_l).sum()),
        };
        Noted::at(item.place.line(), kept)
    }));
    let steeped = || {
        let items = formula.items.with(&worked.amounts.of);
        let kept = items.map(|(item, amount)| (item, steeped_keeps_l(item, *amount)));
        kept.filter(|(_, kept_l)| *kept_l > 0.0)
    };
    assumptions.extend(steeped().next().map(|(item, _)| {
        let kept = Assumption::KeptBySteeped {
            side: plant.side,
            names: steeped()
                .map(|(item, _)| item.ingredient.name.clone())
                .collect(),
            kept: litres(steeped().map(|(_, kept_l)| kept_l).sum()),
        };
        Noted::at(item.place.line(), kept)
    }));
    let formless = hops
        .iter()
        .filter(|item| item.ingredient.facts.form.is_none());
    let formless: Vec<_> = formless.collect();
    if let Some(first) = formless.first() {
        let mut names: Vec<String> = Vec::new();
        for item in &formless {
            if !names.contains(&item.ingredient.name) {
                names.push(item.ingredient.name.clone());
            }
        }
        let pellets = Assumption::HopsArePellets { names };
        let note = Noted::at(first.place.ingredient().field("facts.form"), pellets);
        if !assumptions.contains(&note) {
            assumptions.push(note);
        }
    }
}
