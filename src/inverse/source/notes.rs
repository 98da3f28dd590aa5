//! What is noticed while a source is read.

use super::{SourceBrew, dilution};
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::process::{
    Assumption, Figure, Formula, Material, PerItem, Rule, Stage, Warning, mean_fermentability,
};
use crate::quantity::{AlcoholByVolume, Bitterness, Extract, in_litres, litres};
use crate::recipe::{ALCOHOL_WITHIN_PERCENT, Recipe};
use crate::speech::Noted;

/// Lines that state their bitterness may sum up to another one than the headline by this share (rule of the crate).
const BITTERNESS_WITHIN: f64 = 0.10;
/// Lines of weighed hops may give this many times the printed bitterness or its part: two sigma of a bitterness model on a plant that it
/// is not calibrated for, 25 %, as a factor (two analysed beers, for which models were off by 0 to 41 %; models differ among themselves
/// by 30 %). A narrower band told nearly every sheet of a published lot.
const BITTERNESS_TIMES: f64 = 1.65;
/// And so much beside, IBU: two sigma between laboratories (EBC 9.8, from memory: 1.2).
const BITTERNESS_WITHIN_IBU: f64 = 2.4;

/// The masses of an extract recipe may give an original extract that differs from the printed one by this share: twice 1.5 %
/// of the extract of a malt extract and 2 % of the volume (common practice, no source).
const ORIGINAL_WITHIN: f64 = 0.05;
/// Printed final gravities of wort and beer may differ from each other's by this, °P: 0.001 in gravity, what a hydrometer is
/// read to (common practice, no source).
const FINAL_WITHIN_PLATO: f64 = 0.25;
/// A printed sparge may differ from what the other waters leave by this share: what a water meter shows (common practice,
/// no source).
const SPARGE_WITHIN: f64 = 0.02;

/// What was noticed while reading the source.
#[derive(Debug, Default, Clone)]
pub(crate) struct Notes {
    pub(crate) assumptions: Vec<Noted<Assumption>>,
    pub(crate) warnings: Vec<Noted<Warning>>,
}

/// Compares what the model gives for the source with what its sheet prints.
pub(super) fn compare_with_print(recipe: &Recipe, found: &SourceBrew, notes: &mut Notes) {
    let warnings = [
        original(recipe, found),
        beer_bitterness(recipe, found),
        wort_bitterness(recipe, found),
        beer_alcohol(recipe, found),
        wort_alcohol(recipe, found),
        wort_final(recipe, found),
        sparge(recipe, found),
    ];
    notes.warnings.extend(warnings.into_iter().flatten());
}

fn original(recipe: &Recipe, found: &SourceBrew) -> Option<Noted<Warning>> {
    let printed = recipe.targets.original.as_ref()?.value();
    let predicted = Extract::clamped(100.0 * found.strength);
    let off = (predicted.plato() - printed.plato()).abs();
    (off > ORIGINAL_WITHIN * printed.plato()).then(|| {
        let disagrees = Warning::OriginalDisagrees { printed, predicted };
        Noted::at(Place::recipe("targets.original_plato"), disagrees)
    })
}

fn beer_bitterness(recipe: &Recipe, found: &SourceBrew) -> Option<Noted<Warning>> {
    let printed = recipe.targets.bitterness.as_ref()?.value();
    let brewed = &found.worked.brewed;
    let predicted = Bitterness::clamped(brewed.wort_ibu() * dilution(brewed));
    differs_in_bitterness(found, printed, predicted).then(|| {
        let disagrees = Warning::BitternessDisagrees { printed, predicted };
        Noted::at(Place::recipe("targets.bitterness_ibu"), disagrees)
    })
}

fn wort_bitterness(recipe: &Recipe, found: &SourceBrew) -> Option<Noted<Warning>> {
    let printed = recipe.targets.wort_bitterness.as_ref()?.value();
    let predicted = Bitterness::clamped(found.worked.brewed.wort_ibu());
    differs_in_bitterness(found, printed, predicted).then(|| {
        let disagrees = Warning::WortBitternessDisagrees { printed, predicted };
        Noted::at(Place::recipe("targets.wort_bitterness_ibu"), disagrees)
    })
}

fn differs_in_bitterness(found: &SourceBrew, printed: Bitterness, predicted: Bitterness) -> bool {
    let mut hops = found
        .worked
        .setup
        .formula
        .items
        .values()
        .filter(|item| item.is_hot_hop());
    if hops.all(|item| matches!(item.rule, Rule::Ibu(_) | Rule::Open)) {
        // No model stands between the lines and the headline.
        return (predicted.ibu() - printed.ibu()).abs() > BITTERNESS_WITHIN * printed.ibu();
    }
    let (low, high) = (
        printed.ibu().min(predicted.ibu()),
        printed.ibu().max(predicted.ibu()),
    );
    high > BITTERNESS_TIMES * low + BITTERNESS_WITHIN_IBU
}

fn beer_alcohol(recipe: &Recipe, found: &SourceBrew) -> Option<Noted<Warning>> {
    let printed = recipe.targets.alcohol.as_ref()?.value();
    let predicted = found.worked.brewed.cellar.beer.alcohol_by_volume();
    differs_in_alcohol(printed, predicted).then(|| {
        let disagrees = Warning::AlcoholDisagrees { printed, predicted };
        Noted::at(Place::recipe("targets.alcohol_abv_pct"), disagrees)
    })
}

fn wort_alcohol(recipe: &Recipe, found: &SourceBrew) -> Option<Noted<Warning>> {
    let printed = recipe.targets.wort_alcohol.as_ref()?.value();
    let wort = found.worked.brewed.cellar.without_additions;
    let predicted = wort.alcohol_by_volume();
    differs_in_alcohol(printed, predicted).then(|| {
        let disagrees = Warning::WortAlcoholDisagrees { printed, predicted };
        Noted::at(Place::recipe("targets.wort_alcohol_abv_pct"), disagrees)
    })
}

fn differs_in_alcohol(printed: AlcoholByVolume, predicted: AlcoholByVolume) -> bool {
    (predicted.percent() - printed.percent()).abs() > ALCOHOL_WITHIN_PERCENT
}

/// Where the beer's final gravity is printed, that of the wort is not fitted to and may differ.
fn wort_final(recipe: &Recipe, found: &SourceBrew) -> Option<Noted<Warning>> {
    recipe.targets.final_extract.as_ref()?;
    let printed = recipe.targets.wort_final.as_ref()?.value();
    let predicted = found
        .worked
        .brewed
        .cellar
        .without_additions
        .apparent_extract();
    let differs = (predicted.plato() - printed.plato()).abs() > FINAL_WITHIN_PLATO;
    differs.then(|| {
        let disagrees = Warning::WortFinalDisagrees { printed, predicted };
        Noted::at(Place::recipe("targets.wort_final_plato"), disagrees)
    })
}

fn sparge(recipe: &Recipe, found: &SourceBrew) -> Option<Noted<Warning>> {
    let printed = recipe.mash.sparge.as_ref()?.volume.as_ref()?.value();
    let predicted_l = found.worked.amounts.liquor.sparge_l;
    let differs = (predicted_l - in_litres(printed)).abs() > SPARGE_WITHIN * in_litres(printed);
    differs.then(|| {
        let predicted = litres(predicted_l);
        let disagrees = Warning::SpargeDisagrees { printed, predicted };
        Noted::at(Place::recipe("mash.sparge.volume_l"), disagrees)
    })
}

/// Notes what is taken for a fermentability that neither sheet nor catalogue knows.
pub(super) fn unknown_fermentability(
    formula: &Formula,
    of: &PerItem<f64>,
    notes: &mut Notes,
) -> Result<(), Error> {
    let mean = mean_fermentability(formula, of);
    for item in formula.items.values() {
        let Material::Fermentable(part) = item.material else {
            continue;
        };
        if part.fermentability.is_some() {
            continue;
        }
        let name = item.ingredient.name.clone();
        let place = item
            .place
            .ingredient()
            .field(Figure::Fermentability.field());
        if item.place.stage >= Stage::Ferment {
            notes
                .assumptions
                .push(Noted::at(place, Assumption::FermentsInFull { name }));
            continue;
        }
        let value = mean.ok_or_else(|| {
            Error::new(
                ErrorKind::Incomplete,
                format!(
                    "`{name}`: neither its line nor the ingredient table says how much of it ferments"
                ),
            )
            .with_help("write it on the line, such as `66 % fermentable`")
            .about(place.clone())
        })?;
        let figure = Figure::Fermentability;
        let mean = Assumption::MeanOfGrist {
            name,
            figure,
            value,
        };
        notes.assumptions.push(Noted::at(place, mean));
    }
    Ok(())
}
