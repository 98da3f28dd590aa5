//! What is noticed while a source is read.

use super::{SourceBrew, dilution};
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::process::{
    Assumption, Figure, Formula, Material, PerItem, Stage, Warning, mean_fermentability,
};
use crate::quantity::Bitterness;
use crate::recipe::{ALCOHOL_WITHIN_PERCENT, Recipe};
use crate::speech::Noted;

/// The hop lines may differ from the headline by this share (rule of the crate).
const BITTERNESS_WITHIN: f64 = 0.10;

/// What was noticed while reading the source.
#[derive(Debug, Default, Clone)]
pub(crate) struct Notes {
    pub(crate) assumptions: Vec<Noted<Assumption>>,
    pub(crate) warnings: Vec<Noted<Warning>>,
}

/// Compares what the model gives for the source with what its sheet prints.
pub(super) fn compare_with_print(recipe: &Recipe, found: &SourceBrew, notes: &mut Notes) {
    let targets = &recipe.targets;
    let brewed = &found.worked.brewed;
    let beer_ibu = brewed.wort_ibu() * dilution(brewed);
    if let Some(printed) = &targets.bitterness
        && (beer_ibu - printed.value().ibu()).abs() > BITTERNESS_WITHIN * printed.value().ibu()
    {
        notes.warnings.push(Noted::at(
            Place::recipe("targets.bitterness_ibu"),
            Warning::BitternessDisagrees {
                printed: printed.value(),
                predicted: Bitterness::clamped(beer_ibu),
            },
        ));
    }
    let alcohol = brewed.cellar.finished.alcohol_by_volume();
    if let Some(printed) = &targets.alcohol
        && (alcohol.percent() - printed.value().percent()).abs() > ALCOHOL_WITHIN_PERCENT
    {
        notes.warnings.push(Noted::at(
            Place::recipe("targets.alcohol_abv_pct"),
            Warning::AlcoholDisagrees {
                printed: printed.value(),
                predicted: alcohol,
            },
        ));
    }
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
                    "`{name}`: neither its line nor the catalogue says how much of it ferments"
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
