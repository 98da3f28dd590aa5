//! The amounts of a source for a volume of wort.

use super::check::{check_yield, not_on_its_plant};
use super::fermentables::{WortRules, from_masses, from_shares, infer_yield, wort_rules};
use super::fit::{Fit, fit_mash};
use super::hops::{has_open_hop, headline_ibu, hop_amounts};
use super::inverse::liquor_to_fill;
use super::notes::{Notes, unknown_fermentability};
use super::reach::Aim;
use super::{SourceBrew, dilution};
use crate::diagnostic::{Error, ErrorKind};
use crate::process::assumption::{Assumption, FermentabilityBasis};
use crate::process::brew::{Amounts, Brewed, mean_fermentability};
use crate::process::formula::{Formula, PerItem, Stage};
use crate::process::material::Material;
use crate::process::setup::{Setup, Worked};
use crate::quantity::{Extract, Fermentability};
use crate::recipe::Recipe;

/// Extract fraction within which the amounts found give the printed original.
const MET_WITHIN: f64 = 1e-7;

/// Whether a volume is the source's own or tried on the way to it, where masses and gravity may contradict each other.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Reading {
    Trial,
    Final,
}

/// A recipe on its plant as stated, to be laid down.
#[derive(Clone)]
pub(super) struct Stated<'a> {
    pub(super) recipe: &'a Recipe,
    pub(super) setup: Setup,
    /// Factor on the mash's fermentability, where it is known already.
    pub(super) known_factor: Option<f64>,
}

impl Stated<'_> {
    /// The amounts for `post_boil_l` of cold wort. The plant learns the yield that follows from masses and gravity.
    pub(super) fn lay_down(
        self,
        post_boil_l: f64,
        reading: Reading,
        notes: &mut Notes,
    ) -> Result<SourceBrew, Error> {
        let Self {
            recipe, mut setup, ..
        } = self;
        let printed = recipe
            .targets
            .original
            .as_ref()
            .map(|w| w.value().plato() / 100.0);
        let mut of = setup.formula.items.all(0.0);
        let rules = wort_rules(&setup.formula)?;
        match rules {
            WortRules::Shares => {
                let strength = printed.ok_or_else(|| {
                    Error::new(
                        ErrorKind::Incomplete,
                        "the recipe gives shares but no original gravity",
                    )
                    .with_help("write `target original 15.6 P`, or give the fermentables as masses")
                })?;
                let aim = Aim {
                    volume_l: post_boil_l,
                    strength,
                };
                from_shares(recipe, &setup, aim, &mut of, notes)?;
            }
            WortRules::Masses => {
                from_masses(&setup, post_boil_l, &mut of);
                if let Some(strength) = printed {
                    let wort = Aim {
                        volume_l: post_boil_l,
                        strength,
                    };
                    infer_yield(&mut setup, wort, &of, reading, notes)?;
                }
            }
        }
        unknown_fermentability(&setup.formula, &of, notes)?;
        let liquor = liquor_to_fill(&setup, &of, post_boil_l);
        let mut amounts = Amounts { of, liquor };
        // A printed dose is per litre of the printed batch, wherever that is counted.
        let printed_l = setup
            .plant
            .batch
            .map_or(post_boil_l, |(batch_l, _)| batch_l);
        other_amounts(&setup.formula, &mut amounts, printed_l);
        let known = mean_fermentability(&setup.formula, &amounts.of);
        if let Some(mean) = known.filter(|mean| *mean > 0.0) {
            let fit = match self.known_factor {
                Some(factor) => Fit {
                    factor,
                    basis: FermentabilityBasis::PrintedRecipe,
                },
                None => fit_mash(recipe, &setup, &mut amounts, &mut notes.warnings),
            };
            setup.mash.factor = fit.factor;
            notes.assumptions.push(Assumption::MashFermentability {
                factor: fit.factor,
                share: Fermentability::clamped(mean * fit.factor),
                basis: fit.basis,
            });
        }
        let unhopped = setup.brew_by_rule(&mut amounts);
        setup.mash.colour_yield = unhopped.mash_yield;
        let headline = headline_ibu(recipe, &unhopped);
        hop_amounts(&setup, &mut amounts, &unhopped, headline)?;
        let brewed = setup.brew_by_rule(&mut amounts);
        for (item, amount) in setup.formula.items.with_mut(&mut amounts.of) {
            if item.place.stage == Stage::Package {
                *amount = item.rule.amount_in(brewed.cellar.packaged_l).unwrap_or(0.0);
            }
        }
        let strength = brewed.boiled.wort.strength();
        if reading == Reading::Final {
            check_yield(&setup.plant, &brewed)?;
        }
        if let (Some(printed), WortRules::Shares) = (printed, &rules)
            && (strength - printed).abs() > MET_WITHIN
        {
            return Err(not_on_its_plant(&setup.plant, printed, strength));
        }
        if printed.is_none() {
            notes.assumptions.push(Assumption::OriginalPredicted {
                original: Extract::clamped(100.0 * strength),
            });
        }
        let aim_ibu = match headline {
            // A headline fills an open line; when every line has its amount the lines win.
            Some(wort_ibu) if has_open_hop(&setup.formula) => wort_ibu * dilution(&brewed),
            _ => brewed.wort_ibu() * dilution(&brewed),
        };
        let extract_share = extract_shares(&setup.formula, &amounts, &brewed);
        Ok(SourceBrew {
            worked: Worked {
                setup,
                amounts,
                brewed,
            },
            strength,
            extract_share,
            aim_ibu,
        })
    }
}

/// Amounts of everything that is neither fermentable nor decided later.
fn other_amounts(formula: &Formula, amounts: &mut Amounts, printed_l: f64) {
    let mash_l = amounts.liquor.mash_l;
    for (item, amount) in formula.items.with_mut(&mut amounts.of) {
        if matches!(item.material, Material::Fermentable(_)) {
            continue;
        }
        let liquid_l = match item.place.stage {
            Stage::Mash => mash_l,
            Stage::Boil | Stage::Stand => printed_l,
            Stage::Ferment | Stage::Package => continue,
        };
        *amount = item.rule.amount_in(liquid_l).unwrap_or(0.0);
    }
}

/// The share of each kettle sugar in the extract of the wort.
fn extract_shares(formula: &Formula, amounts: &Amounts, brewed: &Brewed) -> PerItem<f64> {
    let total_kg = brewed.boiled.wort.extract_kg.max(f64::MIN_POSITIVE);
    formula.items.map(|index, item| {
        let sugar = item.fermentable(amounts.of.at(index));
        let sugar = sugar.filter(|_| item.is_kettle_sugar());
        sugar.map_or(0.0, |(part, kg)| kg * part.extract / total_kg)
    })
}
