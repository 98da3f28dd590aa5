//! Fermentability of the mash, fitted so that the source meets what its sheet prints.

use super::Notes;
use crate::numeric::{Bracket, root};
use crate::process::assumption::{Assumption, FermentabilityBasis};
use crate::process::brew::{
    Amounts, Brewed, Dosing, Nature, brew_with, fermentables, mean_fermentability,
};
use crate::process::formula::Formula;
use crate::process::plant::Plant;
use crate::process::warning::Warning;
use crate::quantity::{Extract, Fermentability};
use crate::recipe::Recipe;

/// The factor on the mash's fermentability that meets the printed final extract, or what else the recipe says.
pub(super) fn fit_mash(
    recipe: &Recipe,
    formula: &Formula,
    amounts: &mut Amounts,
    plant: &Plant,
    nature: Nature,
    notes: &mut Notes,
) -> f64 {
    let Some(mean) = mean_fermentability(formula, &amounts.of).filter(|mean| *mean > 0.0) else {
        return 1.0;
    };
    let yeast = formula.yeast().map(|(_, yeast)| yeast);
    let original = |brewed: &Brewed| brewed.pitched.apparent_plato();
    let with = |factor: f64, amounts: &mut Amounts| {
        brew_with(
            formula,
            amounts,
            plant,
            Nature {
                mash_factor: factor,
                ..nature
            },
            Dosing::ByRule,
        )
    };
    let targets = &recipe.targets;
    let stated = yeast.and_then(|y| y.stated_attenuation);
    let usual = yeast.and_then(|y| y.usual_attenuation);
    let (basis, miss): (_, Box<dyn Fn(&Brewed) -> f64>) =
        if let Some(printed) = &targets.final_extract {
            let plato = printed.value().plato();
            (
                FermentabilityBasis::PrintedFinal,
                Box::new(move |b: &Brewed| b.cellar.finished.apparent_plato() - plato),
            )
        } else if let Some(printed) = &targets.wort_final {
            let plato = printed.value().plato();
            (
                FermentabilityBasis::PrintedFinal,
                Box::new(move |b: &Brewed| b.cellar.without_additions.apparent_plato() - plato),
            )
        } else if let Some(attenuation) = stated.or(usual) {
            let basis = if stated.is_some() {
                FermentabilityBasis::StatedAttenuation
            } else {
                FermentabilityBasis::CatalogueAttenuation
            };
            (
                basis,
                Box::new(move |b: &Brewed| {
                    b.cellar.without_additions.apparent_plato() - original(b) * (1.0 - attenuation)
                }),
            )
        } else {
            note_fermentability(1.0, mean, FermentabilityBasis::CatalogueGrist, notes);
            return 1.0;
        };
    // Beyond this every grain ferments in full.
    let most = fermentables(formula, &amounts.of)
        .filter(|(item, ..)| item.is_mashed())
        .filter_map(|(_, part, _)| part.fermentability)
        .filter(|share| *share > 0.0)
        .fold(1.0_f64, |most, share| most.max(1.0 / share));
    let ends = [0.0, most].map(|factor| miss(&with(factor, amounts)));
    let factor = match ends {
        [dull, _] if dull <= 0.0 => 0.0,
        [_, dry] if dry >= 0.0 => most,
        _ => root(
            |x| miss(&with(x, amounts)),
            Bracket {
                low: 0.0,
                high: most,
            },
            1e-13,
        )
        .unwrap_or(1.0),
    };
    let reached = with(factor, amounts);
    if let (FermentabilityBasis::PrintedFinal, Some(printed)) = (basis, &targets.final_extract)
        && miss(&reached).abs() > 0.005
    {
        notes.warnings.push(Warning::FinalNotExplained {
            printed: printed.value(),
            nearest: Extract::clamped(reached.cellar.finished.apparent_plato()),
        });
    }
    note_fermentability(factor, mean, basis, notes);
    factor
}

fn note_fermentability(factor: f64, mean: f64, basis: FermentabilityBasis, notes: &mut Notes) {
    notes.assumptions.push(Assumption::MashFermentability {
        factor,
        share: Fermentability::clamped(mean * factor),
        basis,
    });
}
