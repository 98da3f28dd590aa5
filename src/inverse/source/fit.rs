//! Fermentability of what a mash made: estimated by the forward model, and fitted so that the source meets what its sheet
//! prints.

use super::notes::Notes;
use crate::diagnostic::Place;
use crate::numeric::root_between;
use crate::process::{
    Amounts, Assumption, FermentabilityBasis, Fermenting, Figure, Formula, InFermenter, PerItem,
    Setup, Warning, fit_sigma, fully_fermenting_fit, later_of_mash_kg, wort_fermentable_kg,
};
use crate::quantity::{AlcoholByVolume, Attenuation, Extract, Written};
use crate::recipe::Recipe;
use crate::science::attenuation::EXTRACT_PER_ETHANOL;
use crate::science::density::sucrose_density_20;
use crate::science::liquid::Liquid;
use crate::speech::Noted;

/// A printed final extract that is missed by more than this is not explained, °P: half of its last usual digit.
const EXPLAINED_WITHIN_PLATO: f64 = 0.05;

/// A printed alcohol is met with no more than this factor on the estimate: twice a spread of a tenth (rule of the crate). What is
/// left of it is told.
const MOST_FOR_ALCOHOL: f64 = 1.2;

/// Ethanol at 20 °C, kg/L (OIML R 22: 789.24 kg/m³); only the steps of a search hang on it.
const ETHANOL_KG_PER_L: f64 = 0.789_24;

/// Most steps of the search for what must ferment; all recipes but the oddest take two.
const MOST_STEPS: u32 = 60;

/// What is to be met.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Goal {
    of: Fermented,
    figure: Wanted,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Fermented {
    /// The beer with everything in it.
    Beer,
    /// The wort left alone.
    Wort,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Wanted {
    /// Apparent extract.
    Plato(f64),
    /// Alcohol, per cent by volume.
    Abv(f64),
}

impl Wanted {
    /// What has yet to ferment of a beer for that, kg; below zero where less had to.
    fn missing_kg(self, beer: Liquid) -> f64 {
        match self {
            Self::Plato(plato) => beer.consumed_at_kg(sucrose_density_20(plato / 100.0)),
            Self::Abv(percent) => {
                let mut consumed_kg = 0.0;
                for _ in 0..MOST_STEPS {
                    let now = beer.fermented_kg(consumed_kg);
                    let missing = percent - now.alcohol_by_volume().percent();
                    let litres = missing / 100.0 * now.volume_l();
                    let step_kg = litres * ETHANOL_KG_PER_L * EXTRACT_PER_ETHANOL;
                    consumed_kg += step_kg;
                    if step_kg.abs() <= 1e-14 * beer.mass_kg() {
                        break;
                    }
                }
                consumed_kg
            }
        }
    }
}

/// A fit within so many sigma of the estimate is not remarked on (design of the crate).
const SIGMAS: f64 = 2.0;

/// A factor on the estimate of what ferments of a mash, and what it was fitted to.
pub(super) struct Fit {
    pub(super) factor: f64,
    pub(super) basis: FermentabilityBasis,
}

/// The factor that meets the printed final extract, or what else the recipe says.
pub(super) fn fit_mash(
    recipe: &Recipe,
    setup: &Setup,
    amounts: &mut Amounts,
    notes: &mut Notes,
) -> Fit {
    let (formula, plant) = (&setup.formula, &setup.plant);
    let brewed = setup.brew_by_rule(amounts);
    let Some((basis, goal)) = goal(recipe) else {
        return Fit {
            factor: 1.0,
            basis: by_yeast(formula),
        };
    };
    // Of a wort that is topped up the kettle keeps more than of its volume in the fermenter: what stays there is not thinned.
    let kept =
        brewed.carried * brewed.into_fermenter_l / brewed.boiled.volume_l.max(f64::MIN_POSITIVE);
    let in_wort = amounts.of.clone();
    let estimate = setup.factor_of(brewed.grist, amounts.liquor);
    let wort = (brewed.grist, &brewed.run);
    let in_wort_kg =
        |fit| kept * wort_fermentable_kg(formula, &in_wort, wort, estimate.fitted(fit));
    let fully = fully_fermenting_fit(formula, &in_wort, wort, estimate);
    let most = match goal.figure {
        Wanted::Plato(_) => fully,
        Wanted::Abv(_) => fully.min(MOST_FOR_ALCOHOL),
    };
    // What can ferment with that factor, and the beer that it then becomes. The wort and what goes in later stay the same.
    let tried = |fit, of: &mut PerItem<f64>| {
        let pitched = Fermenting {
            fermentable_kg: in_wort_kg(fit),
            ..brewed.pitched
        };
        match goal.of {
            Fermented::Beer => {
                let fermentation = InFermenter {
                    formula,
                    plant,
                    fit,
                };
                fermentation.run_by_rule(of, &pitched).beer
            }
            Fermented::Wort => pitched.finished(),
        }
    };
    let fermentable = |fit, of: &PerItem<f64>| match goal.of {
        Fermented::Beer => in_wort_kg(fit) + later_of_mash_kg(formula, of, fit),
        Fermented::Wort => in_wort_kg(fit),
    };
    // What is missing of a finished beer's attenuation must ferment from the start. That is the answer at once, unless
    // an addition's own size hangs, by a little, on how far the wort had fallen.
    let mut factor = 1.0;
    let mut beer = tried(factor, &mut amounts.of);
    for _ in 0..MOST_STEPS {
        let of = &amounts.of;
        let wanted_kg = fermentable(factor, of) + goal.figure.missing_kg(beer);
        let ends = [0.0, most].map(|fit| (fit, fermentable(fit, of) - wanted_kg));
        let next = match ends {
            [(dullest, above), _] if above >= 0.0 => dullest,
            [_, (driest, below)] if below <= 0.0 => driest,
            ends => root_between(&mut |fit| fermentable(fit, of) - wanted_kg, ends, 1e-13)
                .unwrap_or(1.0),
        };
        let moved = (next - factor).abs();
        factor = next;
        beer = tried(factor, &mut amounts.of);
        if moved <= 1e-12 {
            break;
        }
    }
    let met_plato = beer.apparent_plato();
    // An alcohol that is not met is told where all printed figures are compared.
    match goal.figure {
        Wanted::Plato(plato) if (met_plato - plato).abs() > EXPLAINED_WITHIN_PLATO => {
            notes.warnings.push(Noted::at(
                basis.place(),
                Warning::FinalNotExplained {
                    printed: Extract::clamped(plato),
                    nearest: Extract::clamped(met_plato),
                },
            ));
        }
        _ => {
            let sigma = fit_sigma(formula, &in_wort, wort, estimate);
            let estimated = match goal.of {
                Fermented::Beer => brewed.cellar.beer,
                Fermented::Wort => brewed.pitched.finished(),
            };
            let met = Met {
                factor,
                sigma,
                plato: met_plato,
                estimated_plato: estimated.apparent_plato(),
            };
            compare(formula, basis, &met, notes);
        }
    }
    Fit { factor, basis }
}

/// A printed figure that is met, beside the estimate.
struct Met {
    factor: f64,
    /// One sigma of the estimate, as a part of it.
    sigma: f64,
    plato: f64,
    estimated_plato: f64,
}

/// Holds a printed figure against the estimate: against the attenuation that the yeast's line states, where it does, else
/// against grist, rests and the kind of yeast.
fn compare(formula: &Formula, basis: FermentabilityBasis, met: &Met, notes: &mut Notes) {
    let off = (met.factor - 1.0).abs();
    let is_beyond = off > SIGMAS * met.sigma;
    // What a line states of one of two yeasts is no figure of the beer.
    let is_one = formula.yeasts().count() == 1;
    let stated = formula.yeast().and_then(|yeast| yeast.stated_attenuation);
    if let Some(stated) = stated.filter(|_| is_one) {
        let stated = Attenuation::clamped(stated);
        let predicted = Attenuation::clamped(formula.yeast_use.attenuation(met.factor));
        let yeast = Place::pitch().part("content.single");
        let place = yeast.field(Figure::Attenuation.field());
        if is_beyond {
            let disagrees = Warning::AttenuationDisagrees { stated, predicted };
            notes.warnings.push(Noted::at(place, disagrees));
        } else {
            let compared = Assumption::AttenuationCompared { stated, predicted };
            notes.assumptions.push(Noted::at(place, compared));
        }
    } else if is_beyond {
        let room = (met.plato - met.estimated_plato).abs() * SIGMAS * met.sigma / off;
        let beyond = Warning::FinalBeyondEstimate {
            printed: Extract::clamped(met.plato),
            lowest: Extract::clamped(met.estimated_plato - room),
            highest: Extract::clamped(met.estimated_plato + room),
        };
        notes.warnings.push(Noted::at(basis.place(), beyond));
    }
}

/// What an estimate rests on.
fn by_yeast(formula: &Formula) -> FermentabilityBasis {
    match formula.yeast() {
        Some(yeast) if yeast.stated_attenuation.is_some() => FermentabilityBasis::StatedAttenuation,
        Some(yeast) if yeast.usual_attenuation.is_some() => {
            FermentabilityBasis::CatalogueAttenuation
        }
        _ => FermentabilityBasis::CatalogueGrist,
    }
}

/// What the recipe wants of the fermentation: its printed final extract, else its printed alcohol.
fn goal(recipe: &Recipe) -> Option<(FermentabilityBasis, Goal)> {
    let targets = &recipe.targets;
    let plato = |written: &Option<Written<Extract>>| {
        let written = written.as_ref()?;
        Some(Wanted::Plato(written.value().plato()))
    };
    let abv = |written: &Option<Written<AlcoholByVolume>>| {
        let written = written.as_ref()?;
        Some(Wanted::Abv(written.value().percent()))
    };
    let printed = [
        (
            FermentabilityBasis::PrintedFinal,
            Fermented::Beer,
            plato(&targets.final_extract),
        ),
        (
            FermentabilityBasis::PrintedWortFinal,
            Fermented::Wort,
            plato(&targets.wort_final),
        ),
        (
            FermentabilityBasis::PrintedAlcohol,
            Fermented::Beer,
            abv(&targets.alcohol),
        ),
        (
            FermentabilityBasis::PrintedWortAlcohol,
            Fermented::Wort,
            abv(&targets.wort_alcohol),
        ),
    ];
    printed.into_iter().find_map(|(basis, of, figure)| {
        Some((
            basis,
            Goal {
                of,
                figure: figure?,
            },
        ))
    })
}
