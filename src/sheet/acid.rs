//! The acid that juice brings to the beer.

use super::head::fruit_or_juice;
use super::page::Page;
use crate::catalogue::{Catalogue, EntryRef, Kind};
use crate::process::Stage;
use crate::quantity::{Concentration, in_kilograms, in_litres};
use crate::recipe::Ingredient;
use crate::scale::Plan;
use crate::speech::shortest;

/// Titratable acid of the juices over the volume they end up in; what is unknown is named and not counted.
pub(super) fn brought(page: &mut Page, plan: &Plan) {
    let catalogue = &plan.brews().catalogue;
    let volume_l = in_litres(plan.volumes.after_additions);
    let (mut acid_g, mut unknown, mut from_catalogue) = (0.0, Vec::new(), false);
    let mut counted = false;
    for addition in &plan.additions {
        if addition.stage != Stage::Ferment || addition.kind != Kind::Juice {
            continue;
        }
        let litres = addition.volume.map(in_litres);
        let kilograms = addition.mass.map(in_kilograms).filter(|kg| *kg > 0.0);
        match (acidity(addition.ingredient(), catalogue), litres) {
            (Some((acidity, looked_up)), Some(litres)) => {
                acid_g += acidity.grams_per_litre() * litres;
                counted |= litres > 0.0;
                from_catalogue |= looked_up;
            }
            _ if kilograms.is_some() || litres.is_some_and(|l| l > 0.0) => {
                unknown.push(addition.name.as_str());
            }
            _ => {}
        }
    }
    if !counted || volume_l <= 0.0 {
        return;
    }
    let heading = format!("ACID FROM THE {}", fruit_or_juice(plan).to_uppercase());
    let origin = if from_catalogue {
        " (typical values where the sheet gives none; lots vary widely)"
    } else {
        ""
    };
    let missing = if unknown.is_empty() {
        String::new()
    } else {
        format!("; no figure for {}", unknown.join(", "))
    };
    let in_beer_g_l = acid_g / volume_l;
    let in_beer = if in_beer_g_l < 0.05 {
        "Less than 0.05".to_owned()
    } else {
        format!("About {}", shortest(in_beer_g_l, 1))
    };
    page.heading(&heading);
    page.paragraph(&format!(
        "{in_beer} g/L in the beer, each as its main acid{origin}{missing}. Yeast may consume some."
    ));
}

/// Titratable acidity, and whether the catalogue had to say it.
fn acidity(ingredient: &Ingredient, catalogue: &Catalogue) -> Option<(Concentration, bool)> {
    if let Some(stated) = &ingredient.facts.acidity {
        return Some((stated.value(), false));
    }
    match catalogue.find(ingredient.catalogue_name())?.entry {
        EntryRef::Juice(juice) => juice.acidity.map(|acidity| (acidity, true)),
        _ => None,
    }
}
