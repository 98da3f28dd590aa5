//! Fermentability of the mash, fitted so that the source meets what its sheet prints.

use crate::diagnostic::Place;
use crate::numeric::root_between;
use crate::process::{
    Amounts, FermentabilityBasis, Fermenting, Formula, PerItem, Setup, Warning, ferment_by_rule,
    fermentables, wort_fermentable_kg,
};
use crate::quantity::Extract;
use crate::recipe::Recipe;
use crate::science::density::sucrose_density_20;
use crate::science::liquid::Liquid;
use crate::speech::Noted;

/// A printed final extract that is missed by more than this is not explained, °P: half of its last usual digit.
const EXPLAINED_WITHIN_PLATO: f64 = 0.05;

/// Most steps of the search for what must ferment; all recipes but the oddest take two.
const MOST_STEPS: u32 = 60;

/// An apparent extract to be met, °P.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Goal {
    /// Of the beer with everything in it.
    Beer(f64),
    /// Of the wort left alone.
    Wort(f64),
}

/// A factor on the mash's fermentability, and what it was fitted to.
pub(super) struct Fit {
    pub(super) factor: f64,
    pub(super) basis: FermentabilityBasis,
}

/// The factor that meets the printed final extract, or what else the recipe says.
pub(super) fn fit_mash(
    recipe: &Recipe,
    setup: &Setup,
    amounts: &mut Amounts,
    warnings: &mut Vec<Noted<Warning>>,
) -> Fit {
    let (formula, plant) = (&setup.formula, &setup.plant);
    let brewed = setup.brew_by_rule(amounts);
    let Some((basis, goal)) = goal(recipe, formula, brewed.pitched.liquid) else {
        return Fit {
            factor: 1.0,
            basis: FermentabilityBasis::CatalogueGrist,
        };
    };
    let (Goal::Beer(plato) | Goal::Wort(plato)) = goal;
    let wanted = sucrose_density_20(plato / 100.0);
    let kept = brewed.into_fermenter_l / brewed.boiled.volume_l.max(f64::MIN_POSITIVE);
    let in_wort = amounts.of.clone();
    let fermentable =
        |factor| kept * wort_fermentable_kg(formula, &in_wort, brewed.grist, &brewed.run, factor);
    let most = fully_fermenting_factor(formula, &in_wort);
    let [dullest_kg, driest_kg] = [0.0, most].map(fermentable);
    // The wort stays the same; only what of it can ferment changes.
    let mut finished = |fermentable_kg: f64| {
        let pitched = Fermenting {
            fermentable_kg,
            ..brewed.pitched
        };
        match goal {
            Goal::Beer(_) => ferment_by_rule(formula, &mut amounts.of, &pitched, plant).finished,
            Goal::Wort(_) => pitched.finished(),
        }
    };
    // What is missing of a finished beer's attenuation must ferment from the start. That is the answer at once, unless
    // an addition's own size hangs, by a little, on how far the wort had fallen.
    let mut fermentable_kg = brewed.pitched.fermentable_kg;
    let mut beer = finished(fermentable_kg);
    for _ in 0..MOST_STEPS {
        let next_kg = (fermentable_kg + beer.consumed_at_kg(wanted))
            .max(dullest_kg)
            .min(driest_kg);
        let moved_kg = (next_kg - fermentable_kg).abs();
        fermentable_kg = next_kg;
        beer = finished(fermentable_kg);
        if moved_kg <= 1e-13 * brewed.pitched.liquid.extract_kg {
            break;
        }
    }
    let ends = [(0.0, dullest_kg), (most, driest_kg)].map(|(x, kg)| (x, kg - fermentable_kg));
    let factor = match ends {
        [(dullest, above), _] if above >= 0.0 => dullest,
        [_, (driest, below)] if below <= 0.0 => driest,
        ends => root_between(&mut |x| fermentable(x) - fermentable_kg, ends, 1e-13).unwrap_or(1.0),
    };
    if let (FermentabilityBasis::PrintedFinal, Goal::Beer(plato)) = (basis, goal) {
        let nearest = beer.apparent_plato();
        if (nearest - plato).abs() > EXPLAINED_WITHIN_PLATO {
            warnings.push(Noted::at(
                Place::recipe("targets.final_plato"),
                Warning::FinalNotExplained {
                    printed: Extract::clamped(plato),
                    nearest: Extract::clamped(nearest),
                },
            ));
        }
    }
    Fit { factor, basis }
}

/// The factor beyond which every grain ferments in full.
fn fully_fermenting_factor(formula: &Formula, amounts: &PerItem<f64>) -> f64 {
    fermentables(formula, amounts)
        .filter(|(item, ..)| item.is_mashed())
        .filter_map(|(_, part, _)| part.fermentability)
        .filter(|share| *share > 0.0)
        .fold(1.0_f64, |most, share| most.max(1.0 / share))
}

/// What the recipe wants of the fermentation: its printed final extract, else its yeast's attenuation.
fn goal(
    recipe: &Recipe,
    formula: &Formula,
    pitched: Liquid,
) -> Option<(FermentabilityBasis, Goal)> {
    let targets = &recipe.targets;
    if let Some(printed) = &targets.final_extract {
        return Some((
            FermentabilityBasis::PrintedFinal,
            Goal::Beer(printed.value().plato()),
        ));
    }
    if let Some(printed) = &targets.wort_final {
        return Some((
            FermentabilityBasis::PrintedFinal,
            Goal::Wort(printed.value().plato()),
        ));
    }
    let yeast = formula.yeast()?;
    let (basis, attenuation) = match (yeast.stated_attenuation, yeast.usual_attenuation) {
        (Some(stated), _) => (FermentabilityBasis::StatedAttenuation, stated),
        (None, Some(usual)) => (FermentabilityBasis::CatalogueAttenuation, usual),
        (None, None) => return None,
    };
    Some((
        basis,
        Goal::Wort(pitched.apparent_plato() * (1.0 - attenuation)),
    ))
}
