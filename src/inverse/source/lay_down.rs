//! The amounts of a source for a volume of wort.

use super::check::{check_yield, not_on_its_plant};
use super::fermentables::{WortRules, from_masses, from_shares, wort_rules};
use super::fit::{Fit, fit_mash};
use super::hops::{has_open_hop, headline_ibu, hop_amounts};
use super::notes::{Notes, unknown_fermentability};
use super::stated::{Reading, Stated};
use super::{SourceBrew, dilution};
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::inverse::aim::Aim;
use crate::inverse::stages::{liquor_to_fill, with_kept, with_top_up};
use crate::process::{
    Amounts, Assumption, Brewed, FermentabilityBasis, Formula, MashFactor, Material, PerItem, Rule,
    Setup, Stage, Worked, boil, converts_starch, cool_last_rest, fermentable_of_mash, grist,
    into_kettle, lauter, mash_rise,
};
use crate::quantity::{Extract, Fermentability};
use crate::speech::Noted;

/// Extract fraction within which the amounts found give the printed original.
const MET_WITHIN: f64 = 1e-7;
/// Part of a gravity within which masses on a plant give it: half of the fourth digit, the last that is written of one.
const GIVEN_WITHIN: f64 = 5e-4;

impl Stated<'_> {
    /// The amounts for the cold wort at the end of the boil that `post_boil_l` gives where trub and hops keep so many litres beyond
    /// the plant's own loss. The hops that bitterness lines mean, and a headline, are known only when the wort is.
    pub(super) fn laid_down(
        &self,
        post_boil_l: impl Fn(f64) -> f64,
        reading: Reading,
        notes: &mut Notes,
    ) -> Result<SourceBrew, Error> {
        let mut hops = None;
        let (found, noticed) = with_kept(&self.plant, |kept_l| {
            let (stated, mut noticed) = (self.clone(), Notes::default());
            let post_boil_l = post_boil_l(kept_l);
            let volumes = (post_boil_l, kept_l);
            let found = stated.lay_down(volumes, hops.as_ref(), reading, &mut noticed)?;
            hops = Some(found.worked.amounts.of.clone());
            let found_l = found.worked.brewed.kept.all_l();
            Ok(((found, noticed), found_l))
        })?;
        notes.assumptions.extend(noticed.assumptions);
        notes.warnings.extend(noticed.warnings);
        Ok(found)
    }

    /// The amounts for `post_boil_l` of cold wort, where trub and hops keep what those of `hops` do. The plant learns the yield that
    /// follows from masses and gravity.
    fn lay_down(
        mut self,
        (mut post_boil_l, kept_l): (f64, f64),
        hops: Option<&PerItem<f64>>,
        reading: Reading,
        notes: &mut Notes,
    ) -> Result<SourceBrew, Error> {
        let recipe = self.recipe;
        let printed = recipe
            .targets
            .original
            .as_ref()
            .map(|w| w.value().plato() / 100.0);
        let mut thinned = None;
        let mut of = self.formula.items.all(0.0);
        hot_amounts(&self.formula, &mut of, self.printed_l(post_boil_l));
        if let Some(hops) = hops {
            take_hops(&self.formula, &mut of, hops);
        }
        let top_up_kg = top_up_kg(&self.formula, &of);
        if let Some(strength) = printed.filter(|_| top_up_kg > 0.0) {
            let wanted = Aim {
                volume_l: post_boil_l,
                strength,
            };
            let aim = with_top_up(wanted, top_up_kg, &self.plant, kept_l);
            (post_boil_l, thinned) = (aim.volume_l, Some(aim.strength));
        }
        let rules = wort_rules(&self.formula)?;
        match rules {
            WortRules::Shares => {
                let strength = printed.ok_or_else(|| {
                    Error::new(
                        ErrorKind::Incomplete,
                        "the recipe gives shares but no original gravity",
                    )
                    .with_help("write `target original 15.6 P`, or give the fermentables as masses")
                    .about(Place::recipe("targets.original_plato"))
                })?;
                let aim = Aim {
                    volume_l: post_boil_l,
                    strength: thinned.unwrap_or(strength),
                };
                from_shares(&self, aim, &mut of, notes)?;
            }
            WortRules::Masses => {
                from_masses(&self, post_boil_l, &mut of);
                if let Some(strength) = printed {
                    let wort = Aim {
                        volume_l: post_boil_l,
                        strength: thinned.unwrap_or(strength),
                    };
                    if !self.lines_give(wort, &of) {
                        self.infer_yield(wort, &of, reading, notes)?;
                    }
                }
            }
        }
        unknown_fermentability(&self.formula, &of, notes)?;
        let liquor = liquor_to_fill(&self.formula, &self.plant, &of, post_boil_l);
        let mut amounts = Amounts { of, liquor };
        mash_amounts(&self.formula, &mut amounts);
        let setup = self.complete(&mut amounts, notes);
        let unhopped = setup.brew_by_rule(&mut amounts);
        let headline = headline_ibu(recipe, &unhopped);
        hop_amounts(&setup, &mut amounts, &unhopped, headline)?;
        let brewed = setup.brew_by_rule(&mut amounts);
        let strength = brewed.original().strength();
        // Two worts mixed take a little less room than both; and what is thinned hangs on what the kettle keeps, which is found in rounds.
        let is_settled = (brewed.kept.all_l() - kept_l).abs() <= 1e-6 * post_boil_l;
        let met_within = match (top_up_kg > 0.0, is_settled) {
            (true, false) => f64::INFINITY,
            (true, true) => 1e-5,
            (false, _) => MET_WITHIN,
        };
        if reading == Reading::Final {
            check_yield(&setup.plant, &brewed)?;
        }
        if let (Some(printed), WortRules::Shares) = (printed, &rules)
            && (strength - printed).abs() > met_within
        {
            return Err(not_on_its_plant(&setup.plant, printed, strength));
        }
        if printed.is_none() {
            let original = Extract::clamped(100.0 * strength);
            notes.assumptions.push(Noted::at(
                Place::recipe("targets.original_plato"),
                Assumption::OriginalPredicted { original },
            ));
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

    /// Whether the plant's own lines give the printed wort of these masses, as they do of a plan that is read again.
    fn lines_give(&self, wort: Aim, of: &PerItem<f64>) -> bool {
        let (formula, plant) = (&self.formula, &self.plant);
        if plant.known_yield.is_some() {
            return false;
        }
        let liquor = liquor_to_fill(formula, plant, of, wort.volume_l);
        let run = lauter(grist(formula, of), liquor, plant);
        let sugars = into_kettle(formula, of);
        let boiled = boil(&run, &sugars, formula.boil_min, plant);
        let strength = boiled.wort.strength();
        (strength - wort.strength).abs() <= GIVEN_WITHIN * wort.strength
    }

    /// The litres that a printed dose is per litre of: those of the printed batch, wherever that is counted.
    pub(super) fn printed_l(&self, post_boil_l: f64) -> f64 {
        self.plant.batch.map_or(post_boil_l, |batch| batch.l)
    }

    /// The setup, with what of the mash of `amounts` ferments.
    fn complete(self, amounts: &mut Amounts, notes: &mut Notes) -> Setup {
        let Self {
            recipe,
            formula,
            plant,
            cooling,
            known_factor,
        } = self;
        let grist = grist(&formula, &amounts.of);
        let run = lauter(grist, amounts.liquor, &plant);
        let estimated = Setup {
            mash_factor: MashFactor::estimated(&formula, &plant),
            formula,
            plant,
            cooling,
        };
        let share =
            |factor| fermentable_of_mash(&estimated.formula, &amounts.of, (grist, &run), factor);
        if share(estimated.mash_factor).is_none() {
            // Nothing can be fitted, and a printed final extract is compared all the same.
            if known_factor.is_none() {
                fit_mash(recipe, &estimated, &mut amounts.clone(), notes);
            }
            return estimated;
        }
        let fit = match known_factor {
            Some(factor) => Fit {
                factor,
                basis: FermentabilityBasis::PrintedRecipe,
            },
            None => fit_mash(recipe, &estimated, amounts, notes),
        };
        let mash_factor = estimated.mash_factor.fitted(fit.factor);
        let formula = &estimated.formula;
        let here = estimated
            .factor_of(grist, amounts.liquor)
            .fitted(fit.factor);
        let share = fermentable_of_mash(formula, &amounts.of, (grist, &run), here);
        let assumption = Assumption::MashFermentability {
            factor: fit.factor,
            rests_factor: (!formula.rests.is_empty()).then_some(here.rests),
            is_mashed: converts_starch(formula, &amounts.of),
            share: Fermentability::clamped(share.unwrap_or(0.0)),
            basis: fit.basis,
        };
        let told = &mut notes.assumptions;
        told.push(Noted::at(fit.basis.place(), assumption));
        told.extend(cool_last_rest(formula));
        told.extend(mash_rise(formula, &estimated.plant));
        Setup {
            mash_factor,
            ..estimated
        }
    }
}

/// Amounts of what goes into the kettle and is no sugar, but for bitterness lines.
fn hot_amounts(formula: &Formula, of: &mut PerItem<f64>, printed_l: f64) {
    for (item, amount) in formula.items.with_mut(of) {
        let is_hot = matches!(item.place.stage, Stage::Sour | Stage::Boil | Stage::Stand)
            || item.is_top_up();
        if is_hot && !matches!(item.material, Material::Fermentable(_)) {
            *amount = item
                .rule
                .amount_in(printed_l, item.rule.share_of_volume())
                .unwrap_or(0.0);
        }
    }
}

/// Kilograms of water that make up the wort in the fermenter.
fn top_up_kg(formula: &Formula, of: &PerItem<f64>) -> f64 {
    let mut items = formula.items.with(of);
    items
        .find(|(item, _)| item.is_top_up())
        .map_or(0.0, |(item, amount)| item.brings(*amount).liquid.water_kg)
}

/// Amounts of the hops whose bitterness is stated, as they were found before.
fn take_hops(formula: &Formula, of: &mut PerItem<f64>, hops: &PerItem<f64>) {
    for (index, item) in formula.items.iter() {
        if item.is_hot_hop() && matches!(item.rule, Rule::Ibu(_) | Rule::Open) {
            of.set(index, hops.at(index));
        }
    }
}

/// Amounts of what goes into the mash and is no fermentable: a dose is per litre of its water.
fn mash_amounts(formula: &Formula, amounts: &mut Amounts) {
    let mash_l = amounts.liquor.mash_l;
    for (item, amount) in formula.items.with_mut(&mut amounts.of) {
        let in_mash = item.place.stage == Stage::Mash;
        if in_mash && !matches!(item.material, Material::Fermentable(_)) {
            *amount = item
                .rule
                .amount_in(mash_l, item.rule.share_of_volume())
                .unwrap_or(0.0);
        }
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
