//! Reading the source: from printed shares, doses and targets, or from printed masses, to absolute amounts.

use super::aim::{Aim, Design, SugarShare, reach};
use super::assumption::{Assumption, FermentabilityBasis};
use super::brew::{
    Amounts, Brewed, Dosing, GravityProfile, Nature, brew_with, fermentables, grist, kettle_sugars,
    mean_fermentability, utilisation,
};
use super::formula::{Formula, Item, Rule, Stage};
use super::material::Material;
use super::plant::{KnownYield, Plant};
use super::warning::Warning;
use super::wort::{Grist, KettleSugar, Liquor, boil, lauter, liquor_for, wort_of};
use crate::diagnostic::{Error, ErrorKind};
use crate::numeric::{Bracket, root};
use crate::quantity::{
    AlcoholByVolume, Bitterness, BrewhouseYield, Extract, Fermentability, in_litres,
};
use crate::recipe::{BatchPoint, Recipe, ShareBasis, YieldBasis, YieldPoint};
use crate::wording::shortest;

/// Shares that add up to 100 % within this are brought to it; design of the notation.
const SHARES_WITHIN: f64 = 0.005;
/// A yield above this is remarked on (common practice 92-98 %, no source).
const HIGH_YIELD: f64 = 0.98;
/// Stated and inferred yield may differ by this (rule of the crate: three points).
const YIELDS_WITHIN: f64 = 0.03;
/// The hop lines may differ from the headline by this share (rule of the crate).
const BITTERNESS_WITHIN: f64 = 0.10;
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
    /// Share of each item in the extract of the wort at the end of the boil.
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
    let found = match point {
        BatchPoint::EndOfBoil => lay_down(recipe, formula, plant, batch_l, notes)?,
        BatchPoint::IntoFermenter => {
            lay_down(recipe, formula, plant, plant.post_boil_l(batch_l), notes)?
        }
        BatchPoint::Packaged => {
            // The packaged volume is very nearly proportional to the wort.
            let mut post_boil_l = plant.post_boil_l(batch_l);
            let mut found = lay_down(recipe, formula, plant, post_boil_l, &mut Notes::default())?;
            for _ in 0..50 {
                let off = batch_l / found.brewed.cellar.packaged_l.max(f64::MIN_POSITIVE);
                if (off - 1.0).abs() < 1e-13 {
                    break;
                }
                post_boil_l *= off;
                found = lay_down(recipe, formula, plant, post_boil_l, &mut Notes::default())?;
            }
            lay_down(recipe, formula, plant, post_boil_l, notes)?
        }
    };
    compare_with_print(recipe, &found, notes);
    Ok(found)
}

/// The source's amounts for `post_boil_l` of cold wort.
fn lay_down(
    recipe: &Recipe,
    formula: &Formula,
    plant: &mut Plant,
    post_boil_l: f64,
    notes: &mut Notes,
) -> Result<SourceBrew, Error> {
    let printed = recipe
        .targets
        .original
        .as_ref()
        .map(|w| w.value().plato() / 100.0);
    let mut of = vec![0.0; formula.items.len()];
    match wort_rules(formula)? {
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
        WortRules::Masses => from_masses(formula, plant, post_boil_l, printed, &mut of, notes)?,
    }
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
    other_amounts(formula, &mut amounts, post_boil_l);
    let mash_factor = fit_mash(recipe, formula, &mut amounts, plant, nature, notes);
    let mut nature = Nature {
        mash_factor,
        ..nature
    };
    let unhopped = brew_with(formula, &mut amounts, plant, nature, Dosing::ByRule);
    nature.colour_yield = unhopped.mash_yield;
    let headline = headline_ibu(recipe, &unhopped);
    hop_amounts(formula, &mut amounts, &unhopped, headline, post_boil_l)?;
    let brewed = brew_with(formula, &mut amounts, plant, nature, Dosing::ByRule);
    let strength = brewed.boiled.strength();
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

enum WortRules {
    Shares,
    Masses,
}

/// Whether the wort's fermentables are shares or masses.
fn wort_rules(formula: &Formula) -> Result<WortRules, Error> {
    let (mut share, mut mass) = (None, None);
    for item in formula
        .items
        .iter()
        .filter(|item| item.is_mashed() || item.is_kettle_sugar())
    {
        match item.rule {
            Rule::Share(_) => share = Some(item),
            Rule::Kilograms(_) | Rule::Litres(_) | Rule::GramsPerLitre(_) => mass = Some(item),
            _ => {
                return Err(Error::new(
                    ErrorKind::Incomplete,
                    format!("`{}` needs a share or a mass", item.ingredient.name),
                )
                .with_help("write `70 %` or `1.4 kg` before its name"));
            }
        }
    }
    match (share, mass) {
        (Some(share), Some(mass)) => Err(Error::new(
            ErrorKind::Contradiction,
            format!(
                "`{}` is a share and `{}` is a mass; one recipe uses one of them",
                share.ingredient.name, mass.ingredient.name
            ),
        )),
        (Some(_), None) => Ok(WortRules::Shares),
        (None, Some(_)) => Ok(WortRules::Masses),
        (None, None) => Err(Error::new(
            ErrorKind::Incomplete,
            "the recipe has no malt, grain or sugar",
        )
        .with_help("list the fermentables under `mash` or `boil`")),
    }
}

fn from_shares(
    recipe: &Recipe,
    formula: &Formula,
    plant: &Plant,
    aim: Aim,
    of: &mut [f64],
    notes: &mut Notes,
) -> Result<(), Error> {
    let share = |item: &Item| match item.rule {
        Rule::Share(share) => share,
        _ => 0.0,
    };
    let sum: f64 = formula.items.iter().map(share).sum();
    if (sum - 1.0).abs() > SHARES_WITHIN {
        return Err(Error::new(
            ErrorKind::Contradiction,
            format!(
                "the shares of malt, grain and sugar add up to {} %, not 100 %",
                shortest(sum * 100.0, 2)
            ),
        )
        .with_help("shares under `mash` and `boil` are of all fermentables together"));
    }
    if (sum - 1.0).abs() > 1e-9 {
        notes.assumptions.push(Assumption::SharesNormalised {
            sum: crate::quantity::Attenuation::clamped(sum),
        });
    }
    let wanted_kg = wort_of(aim.volume_l, aim.strength).extract_kg;
    // First one unit: a kilogram of all fermentables, or the masses that give one kilogram of extract.
    for (item, amount) in formula.items.iter().zip(of.iter_mut()) {
        if let Material::Fermentable(part) = item.material
            && matches!(item.rule, Rule::Share(_))
        {
            *amount = match recipe.share_basis {
                ShareBasis::Weight => share(item) / sum,
                ShareBasis::Extract if part.extract > 0.0 => share(item) / sum / part.extract,
                ShareBasis::Extract => 0.0,
            };
        }
    }
    let unit = grist(formula, of);
    let (factor, sugar_factor) = match recipe.share_basis {
        ShareBasis::Extract => {
            let reached = reach(&design(formula, of, wanted_kg, wanted_kg), aim, plant);
            (reached.factor, wanted_kg)
        }
        ShareBasis::Weight => {
            let size = size_by_weight(formula, of, unit, wanted_kg, aim, plant)?;
            (size, size)
        }
    };
    for (item, amount) in formula.items.iter().zip(of.iter_mut()) {
        *amount *= if item.is_mashed() {
            factor
        } else {
            sugar_factor
        };
    }
    Ok(())
}

/// Kilograms of all fermentables, whose shares by weight are in `of`, that give `wanted_kg` of extract.
fn size_by_weight(
    formula: &Formula,
    of: &[f64],
    unit: Grist,
    wanted_kg: f64,
    aim: Aim,
    plant: &Plant,
) -> Result<f64, Error> {
    let sugar_kg: f64 = kettle_sugars(formula, of)
        .iter()
        .map(|s| s.extract_kg)
        .sum();
    if plant.known_yield.is_some() || unit.laboratory_extract_kg <= 0.0 {
        let run = lauter(
            unit,
            Liquor {
                mash_l: 10.0 * unit.mass_kg,
                sparge_l: 0.0,
            },
            plant,
        );
        return Ok(wanted_kg / (run.extract_kg + sugar_kg));
    }
    let needed = |size: f64| reach(&design(formula, of, size, wanted_kg), aim, plant).factor;
    let least = wanted_kg / (unit.laboratory_extract_kg + sugar_kg);
    let most = if sugar_kg > 0.0 {
        (wanted_kg / sugar_kg).min(20.0 * least)
    } else {
        20.0 * least
    };
    root(
        |size| size - needed(size),
        Bracket {
            low: 0.5 * least,
            high: most,
        },
        1e-13 * least,
    )
}

/// The design of a wort of `extract_kg` whose sugars are those in `of` times `sugar_factor`.
pub(crate) fn design(formula: &Formula, of: &[f64], sugar_factor: f64, extract_kg: f64) -> Design {
    Design {
        unit: grist(formula, of),
        sugars: kettle_sugars(formula, of)
            .iter()
            .filter(|sugar| sugar.extract_kg > 0.0)
            .map(|sugar| SugarShare {
                share: sugar.extract_kg * sugar_factor / extract_kg,
                water_per_extract: sugar.water_kg / sugar.extract_kg,
                time_left_min: sugar.time_left_min,
            })
            .collect(),
        boil_min: formula.boil_min,
        mash_c: formula.mash_rest_c,
    }
}

fn from_masses(
    formula: &Formula,
    plant: &mut Plant,
    post_boil_l: f64,
    printed: Option<f64>,
    of: &mut [f64],
    notes: &mut Notes,
) -> Result<(), Error> {
    for (item, amount) in formula.items.iter().zip(of.iter_mut()) {
        if item.is_mashed() || item.is_kettle_sugar() {
            *amount = match item.rule {
                Rule::Kilograms(kg) => kg,
                Rule::Litres(l) => l,
                Rule::GramsPerLitre(dose) => dose * post_boil_l / 1000.0,
                _ => 0.0,
            };
        }
    }
    let mashed = grist(formula, of);
    let (Some(strength), true) = (printed, mashed.laboratory_extract_kg > 0.0) else {
        return Ok(());
    };
    let sugar_kg: f64 = kettle_sugars(formula, of)
        .iter()
        .map(|s| s.extract_kg)
        .sum();
    let from_mash_kg = wort_of(post_boil_l, strength).extract_kg - sugar_kg;
    let reached = from_mash_kg / mashed.laboratory_extract_kg;
    if !(0.0..=1.0).contains(&reached) {
        return Err(Error::new(
            ErrorKind::Contradiction,
            format!(
                "{} L of wort at {} °P hold {} kg of extract from the mash, but the grist has {} kg: a yield of {} %",
                shortest(post_boil_l, 1),
                shortest(strength * 100.0, 1),
                shortest(from_mash_kg, 2),
                shortest(mashed.laboratory_extract_kg, 2),
                shortest(reached * 100.0, 1)
            ),
        )
        .with_help("check the masses, the batch and the original gravity against the sheet"));
    }
    let inferred = BrewhouseYield::clamped(reached);
    notes
        .assumptions
        .push(Assumption::YieldInferred { reached: inferred });
    if reached > HIGH_YIELD {
        notes
            .warnings
            .push(Warning::YieldHigh { reached: inferred });
    }
    let stated = plant.known_yield.filter(|known| {
        known.of == YieldBasis::LaboratoryExtract && known.at == YieldPoint::EndOfBoil
    });
    if let Some(stated) = stated
        && (stated.value - reached).abs() > YIELDS_WITHIN
    {
        notes.warnings.push(Warning::YieldsDisagree {
            stated: BrewhouseYield::clamped(stated.value),
            inferred,
        });
    }
    plant.known_yield = Some(KnownYield {
        value: reached,
        of: YieldBasis::LaboratoryExtract,
        at: YieldPoint::EndOfBoil,
    });
    Ok(())
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
    let mut liquor = liquor_for(grist, run_l, plant);
    for _ in 0..200 {
        let boiled = boil(&lauter(grist, liquor, plant), sugars, boil_min, plant);
        let missing_l = post_boil_l - boiled.volume_l;
        if missing_l.abs() <= 1e-13 * post_boil_l {
            break;
        }
        run_l = (run_l + missing_l).max(0.0);
        liquor = liquor_for(grist, run_l, plant);
    }
    liquor
}

/// Amounts of everything that is neither fermentable nor decided later.
fn other_amounts(formula: &Formula, amounts: &mut Amounts, post_boil_l: f64) {
    let mash_l = amounts.liquor.mash_l;
    for (item, amount) in formula.items.iter().zip(amounts.of.iter_mut()) {
        if matches!(item.material, Material::Fermentable(_)) {
            continue;
        }
        let liquid_l = match item.place.stage {
            Stage::Mash => mash_l,
            Stage::Boil | Stage::Stand => post_boil_l,
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

/// The factor on the mash's fermentability that meets the printed final extract, or what else the recipe says.
fn fit_mash(
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
    if let Some(factor) = formula.printed_mash_factor {
        note_fermentability(factor, mean, FermentabilityBasis::PrintedRecipe, notes);
        return factor;
    }
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

/// Bitterness of the wort that the headline means, if there is one.
fn headline_ibu(recipe: &Recipe, brewed: &Brewed) -> Option<f64> {
    let targets = &recipe.targets;
    targets
        .wort_bitterness
        .as_ref()
        .map(|w| w.value().ibu())
        .or_else(|| {
            targets
                .bitterness
                .as_ref()
                .map(|w| w.value().ibu() / dilution(brewed))
        })
}

fn has_open_hop(formula: &Formula) -> bool {
    formula
        .items
        .iter()
        .any(|item| item.is_hot_hop() && item.rule == Rule::Open)
}

/// Amounts of the hops: bitterness lines from the model, an open line from the headline.
fn hop_amounts(
    formula: &Formula,
    amounts: &mut Amounts,
    unhopped: &Brewed,
    headline: Option<f64>,
    post_boil_l: f64,
) -> Result<(), Error> {
    let sugars = kettle_sugars(formula, &amounts.of);
    let profile = GravityProfile::of(&unhopped.run, &sugars, &unhopped.boiled, formula.boil_min);
    let per_ibu = |item: &Item| match item.material {
        Material::Hop { alpha } => {
            post_boil_l / (utilisation(item, formula, &profile) * alpha * 1e6)
        }
        _ => f64::INFINITY,
    };
    let mut known_ibu = 0.0;
    for (item, amount) in formula
        .items
        .iter()
        .zip(amounts.of.iter_mut())
        .filter(|(item, _)| item.is_hot_hop())
    {
        if let Rule::Ibu(ibu) = item.rule {
            let kg = ibu * per_ibu(item);
            if !kg.is_finite() {
                return Err(Error::new(
                    ErrorKind::Contradiction,
                    format!(
                        "`{}` cannot give {} IBU: it does not boil",
                        item.ingredient.name,
                        shortest(ibu, 1)
                    ),
                )
                .with_help("give it as a mass or as `g/L`, or let it boil"));
            }
            *amount = kg;
        }
        known_ibu += *amount / per_ibu(item);
    }
    let open = formula
        .items
        .iter()
        .zip(amounts.of.iter_mut())
        .find(|(item, _)| item.is_hot_hop() && item.rule == Rule::Open);
    if let Some((item, amount)) = open {
        let Some(headline) = headline else {
            return Err(Error::new(
                ErrorKind::Incomplete,
                format!(
                    "`{}` has no amount, and no bitterness is printed to fill it",
                    item.ingredient.name
                ),
            )
            .with_help("give it a mass, or write `target bitterness 25 IBU`"));
        };
        let kg = (headline - known_ibu).max(0.0) * per_ibu(item);
        *amount = if kg.is_finite() { kg } else { 0.0 };
    }
    Ok(())
}

/// The share of each item in the extract of the wort.
fn extract_shares(formula: &Formula, amounts: &Amounts, brewed: &Brewed) -> Vec<f64> {
    let total_kg = brewed.boiled.extract_kg.max(f64::MIN_POSITIVE);
    let run_off = brewed.mash_yield.unwrap_or(0.0);
    formula
        .items
        .iter()
        .zip(&amounts.of)
        .map(|(item, amount)| match item.material {
            Material::Fermentable(part) if item.is_mashed() => {
                amount * part.extract * run_off / total_kg
            }
            Material::Fermentable(part) if item.is_kettle_sugar() => {
                let kg = if item.is_by_volume() {
                    amount * part.density_kg_l
                } else {
                    *amount
                };
                kg * part.extract / total_kg
            }
            _ => 0.0,
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
