//! Reading the source: from printed shares, doses and targets, or from printed masses, to absolute amounts.

mod check;
mod fermentables;
mod fit;
mod hops;

pub(crate) use check::{check_yield, wort_for_packaged};

use check::{never_packaged, not_on_its_plant};
use fermentables::{WortRules, from_masses, from_shares, wort_rules};
use fit::fit_mash;
use hops::{has_open_hop, headline_ibu, hop_amounts};

use crate::diagnostic::{Error, ErrorKind};
use crate::process::aim::Aim;
use crate::process::assumption::{Assumption, Figure};
use crate::process::brew::{
    Amounts, Brewed, Nature, brew_with, grist, kettle_sugars, mean_fermentability,
};
use crate::process::fermentation::Dosing;
use crate::process::formula::{Formula, Item, Rule, Stage};
use crate::process::material::Material;
use crate::process::plant::Plant;
use crate::process::warning::Warning;
use crate::process::wort::{Grist, KettleSugar, Liquor, boil, lauter, liquor_for};
use crate::quantity::{AlcoholByVolume, Bitterness, Extract, in_litres};
use crate::recipe::{BatchPoint, Recipe};

/// The hop lines may differ from the headline by this share (rule of the crate).
const BITTERNESS_WITHIN: f64 = 0.10;
/// Extract fraction within which the amounts found give the printed original.
const MET_WITHIN: f64 = 1e-7;
/// Printed alcohol may differ from the predicted one by this: 0.5 % vol, the EU's tolerance for beers up to 5.5 % vol
/// (Directive 87/250/EEC).
const ALCOHOL_WITHIN: f64 = 0.005;

/// The source as the model reads it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct SourceBrew {
    pub(crate) amounts: Amounts,
    pub(crate) brewed: Brewed,
    pub(crate) nature: Nature,
    /// Extract of the wort, a fraction by mass.
    pub(crate) strength: f64,
    /// Share of each kettle sugar in the extract of the wort at the end of the boil; nothing for the other items.
    pub(crate) extract_share: Vec<f64>,
    /// Bitterness aimed at in the finished beer, IBU.
    pub(crate) aim_ibu: f64,
}

/// What was noticed while reading the source.
#[derive(Debug, Default)]
pub(crate) struct Notes {
    pub(crate) assumptions: Vec<Assumption>,
    pub(crate) warnings: Vec<Warning>,
}

/// Reads the source. The plant learns the yield that follows from masses and gravity.
pub(crate) fn read(
    recipe: &Recipe,
    formula: &Formula,
    plant: &mut Plant,
    notes: &mut Notes,
) -> Result<SourceBrew, Error> {
    let (batch_l, point) = match &recipe.batch {
        Some(batch) => (in_litres(batch.volume.value()), batch.at),
        None => plant.batch.ok_or_else(|| {
            Error::new(ErrorKind::Incomplete, "the recipe has no batch size")
                .with_help("write `batch 20 hL into fermenter` under the recipe's name")
        })?,
    };
    if batch_l <= 0.0 {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            "the recipe's batch size is zero",
        ));
    }
    plant.batch = Some((batch_l, point));
    plant.check(batch_l, point, formula.boil_min)?;
    let found = match point {
        BatchPoint::EndOfBoil => lay_down(recipe, formula, plant, batch_l, notes, Reading::Final)?,
        BatchPoint::IntoFermenter => {
            let post_boil_l = plant.post_boil_l(batch_l);
            lay_down(recipe, formula, plant, post_boil_l, notes, Reading::Final)?
        }
        BatchPoint::Packaged => {
            // Each try starts from the plant as it was stated, since masses and gravity teach it a yield.
            let stated = plant.clone();
            let post_boil_l = wort_for_packaged(batch_l, plant, |post_boil_l| {
                let notes = &mut Notes::default();
                let plant = &mut stated.clone();
                lay_down(recipe, formula, plant, post_boil_l, notes, Reading::Trial).map_or_else(
                    // What is wrong at every volume is said by the last reading.
                    |_| {
                        stated
                            .fermenter_loss
                            .after(stated.fermenter_l_of(post_boil_l))
                    },
                    |found| found.brewed.cellar.packaged_l,
                )
            })?;
            let found = lay_down(recipe, formula, plant, post_boil_l, notes, Reading::Final)?;
            if (found.brewed.cellar.packaged_l - batch_l).abs() > 1e-6 * batch_l {
                return Err(never_packaged(batch_l));
            }
            found
        }
    };
    compare_with_print(recipe, &found, notes);
    Ok(found)
}

/// Whether a volume is the source's own or tried on the way to it, where masses and gravity may contradict each other.
#[derive(Clone, Copy, PartialEq)]
enum Reading {
    Trial,
    Final,
}

/// The source's amounts for `post_boil_l` of cold wort.
fn lay_down(
    recipe: &Recipe,
    formula: &Formula,
    plant: &mut Plant,
    post_boil_l: f64,
    notes: &mut Notes,
    reading: Reading,
) -> Result<SourceBrew, Error> {
    let printed = recipe
        .targets
        .original
        .as_ref()
        .map(|w| w.value().plato() / 100.0);
    let mut of = vec![0.0; formula.items.len()];
    let rules = wort_rules(formula)?;
    match rules {
        WortRules::Shares => {
            let strength = printed.ok_or_else(|| {
                Error::new(
                    ErrorKind::Incomplete,
                    "the recipe gives shares but no original gravity",
                )
                .with_help("write `target original 15.6 P`, or give the fermentables as masses")
            })?;
            from_shares(
                recipe,
                formula,
                plant,
                Aim {
                    volume_l: post_boil_l,
                    strength,
                },
                &mut of,
                notes,
            )?;
        }
        WortRules::Masses => from_masses(
            formula,
            plant,
            post_boil_l,
            printed,
            &mut of,
            notes,
            reading,
        )?,
    }
    unknown_fermentability(formula, &of, notes)?;
    let sugars = kettle_sugars(formula, &of);
    let liquor = liquor_to_fill(
        grist(formula, &of),
        &sugars,
        formula.boil_min,
        post_boil_l,
        plant,
    );
    let mut amounts = Amounts { of, liquor };
    let nature = Nature {
        mash_factor: 1.0,
        colour_yield: None,
    };
    // A printed dose is per litre of the printed batch, wherever that is counted.
    let printed_l = plant.batch.map_or(post_boil_l, |(batch_l, _)| batch_l);
    other_amounts(formula, &mut amounts, printed_l);
    let mash_factor = fit_mash(recipe, formula, &mut amounts, plant, nature, notes);
    let mut nature = Nature {
        mash_factor,
        ..nature
    };
    let unhopped = brew_with(formula, &mut amounts, plant, nature, Dosing::ByRule);
    nature.colour_yield = unhopped.mash_yield;
    let headline = headline_ibu(recipe, &unhopped);
    hop_amounts(formula, &mut amounts, plant, &unhopped, headline)?;
    let brewed = brew_with(formula, &mut amounts, plant, nature, Dosing::ByRule);
    for (item, amount) in formula.items.iter().zip(amounts.of.iter_mut()) {
        if item.place.stage == Stage::Package {
            *amount = absolute(item, brewed.cellar.packaged_l).unwrap_or(0.0);
        }
    }
    let strength = brewed.boiled.strength();
    if reading == Reading::Final {
        check_yield(plant, &brewed)?;
    }
    if let (Some(printed), WortRules::Shares) = (printed, &rules)
        && (strength - printed).abs() > MET_WITHIN
    {
        return Err(not_on_its_plant(plant, printed, strength));
    }
    if printed.is_none() {
        notes.assumptions.push(Assumption::OriginalPredicted {
            original: Extract::clamped(100.0 * strength),
        });
    }
    let extract_share = extract_shares(formula, &amounts, &brewed);
    let dilution = dilution(&brewed);
    let aim_ibu = match headline {
        // A headline fills an open line; when every line has its amount the lines win.
        Some(wort_ibu) if has_open_hop(formula) => wort_ibu * dilution,
        _ => brewed.wort_ibu() * dilution,
    };
    Ok(SourceBrew {
        amounts,
        brewed,
        nature,
        strength,
        extract_share,
        aim_ibu,
    })
}

/// Bitterness of the finished beer for one IBU of the wort.
pub(crate) fn dilution(brewed: &Brewed) -> f64 {
    brewed.into_fermenter_l / brewed.cellar.finished.volume_l().max(f64::MIN_POSITIVE)
}

/// Brewing water that leaves `post_boil_l` in the kettle.
pub(crate) fn liquor_to_fill(
    grist: Grist,
    sugars: &[KettleSugar],
    boil_min: f64,
    post_boil_l: f64,
    plant: &Plant,
) -> Liquor {
    let mut run_l = post_boil_l;
    // A share of what is added boils off again: each step goes as far as the whole series of such steps would.
    let ahead = 1.0 / (1.0 - plant.boiloff.share(boil_min)).max(1e-3);
    let mut liquor = liquor_for(grist, run_l, plant);
    for _ in 0..200 {
        let boiled = boil(&lauter(grist, liquor, plant), sugars, boil_min, plant);
        let missing_l = post_boil_l - boiled.volume_l;
        if missing_l.abs() <= 1e-13 * post_boil_l {
            break;
        }
        run_l = (run_l + ahead * missing_l).max(0.0);
        liquor = liquor_for(grist, run_l, plant);
    }
    liquor
}

/// Amounts of everything that is neither fermentable nor decided later.
fn other_amounts(formula: &Formula, amounts: &mut Amounts, printed_l: f64) {
    let mash_l = amounts.liquor.mash_l;
    for (item, amount) in formula.items.iter().zip(amounts.of.iter_mut()) {
        if matches!(item.material, Material::Fermentable(_)) {
            continue;
        }
        let liquid_l = match item.place.stage {
            Stage::Mash => mash_l,
            Stage::Boil | Stage::Stand => printed_l,
            Stage::Ferment | Stage::Package => continue,
        };
        *amount = absolute(item, liquid_l).unwrap_or(0.0);
    }
}

/// The absolute amount of a rule in `liquid_l`; none for what only the headline or the fermenter decides.
fn absolute(item: &Item, liquid_l: f64) -> Option<f64> {
    match item.rule {
        Rule::Kilograms(kg) => Some(kg),
        Rule::Litres(l) => Some(l),
        Rule::GramsPerLitre(dose) => Some(dose * liquid_l / 1000.0),
        Rule::LitresPerLitre(dose) => Some(dose * liquid_l),
        Rule::Packs(count) => Some(count),
        Rule::ShareOfVolume { total, part } => {
            Some(liquid_l * part * total / (1.0 - total).max(1e-9))
        }
        Rule::Share(_) | Rule::Ibu(_) | Rule::Open => None,
    }
}

/// The amount of an addition in the fermenter that holds `vessel_l`.
pub(crate) fn later_amount(item: &Item, vessel_l: f64) -> Option<f64> {
    absolute(item, vessel_l)
}

/// The share of each kettle sugar in the extract of the wort.
fn extract_shares(formula: &Formula, amounts: &Amounts, brewed: &Brewed) -> Vec<f64> {
    let total_kg = brewed.boiled.extract_kg.max(f64::MIN_POSITIVE);
    formula
        .items
        .iter()
        .zip(&amounts.of)
        .map(|(item, amount)| {
            let sugar = item.fermentable(*amount);
            let sugar = sugar.filter(|_| item.is_kettle_sugar());
            sugar.map_or(0.0, |(part, kg)| kg * part.extract / total_kg)
        })
        .collect()
}

/// Compares what the model gives for the source with what its sheet prints.
fn compare_with_print(recipe: &Recipe, found: &SourceBrew, notes: &mut Notes) {
    let targets = &recipe.targets;
    let brewed = &found.brewed;
    let beer_ibu = brewed.wort_ibu() * dilution(brewed);
    if let Some(printed) = &targets.bitterness
        && (beer_ibu - printed.value().ibu()).abs() > BITTERNESS_WITHIN * printed.value().ibu()
    {
        notes.warnings.push(Warning::BitternessDisagrees {
            printed: printed.value(),
            predicted: Bitterness::clamped(beer_ibu),
        });
    }
    let alcohol = brewed.cellar.finished.alcohol_by_volume();
    if let Some(printed) = &targets.alcohol
        && (alcohol - printed.value().fraction()).abs() > ALCOHOL_WITHIN
    {
        notes.warnings.push(Warning::AlcoholDisagrees {
            printed: printed.value(),
            predicted: AlcoholByVolume::clamped(alcohol),
        });
    }
}

/// Notes what is taken for a fermentability that neither sheet nor catalogue knows.
fn unknown_fermentability(formula: &Formula, of: &[f64], notes: &mut Notes) -> Result<(), Error> {
    let mean = mean_fermentability(formula, of);
    for item in &formula.items {
        let Material::Fermentable(part) = item.material else {
            continue;
        };
        if part.fermentability.is_some() {
            continue;
        }
        let name = item.ingredient.name.clone();
        if item.place.stage >= Stage::Ferment {
            notes.assumptions.push(Assumption::FermentsInFull { name });
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
        })?;
        notes.assumptions.push(Assumption::MeanOfGrist {
            name,
            figure: Figure::Fermentability,
            value,
        });
    }
    Ok(())
}
