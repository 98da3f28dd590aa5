//! The inverse: amounts for a plant that meet the source's figures.

use crate::catalogue::Kind;
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::inverse::{
    Aim, SourceBrew, SugarShare, WortBill, WortReached, dilution, reach, wort_for_packaged,
};
use crate::process::{
    Amounts, BatchSize, Brewed, Formula, GravityProfile, Item, ItemIndex, Material, PerItem, Setup,
    Stage, grist, into_kettle,
};
use crate::recipe::BatchPoint;
use crate::science::liquid::Liquid;

/// Bitterness this near to the aim needs no remark, IBU: no tongue tells it (common practice, no source).
const BITTERNESS_NEAR: f64 = 0.5;

/// What is to be solved: the source's figures on a target plant.
#[derive(Clone, Copy)]
pub(super) struct Job<'a> {
    pub(super) source: &'a SourceBrew,
    pub(super) target: &'a Setup,
}

/// What was found for the target plant, before weighing out.
pub(super) struct Found {
    pub(super) design: WortBill,
    pub(super) aim: Aim,
    pub(super) reach: WortReached,
    pub(super) amounts: Amounts,
    pub(super) brewed: Brewed,
    /// Wanted from the bittering hop and the aim, where none could give it.
    pub(super) bitterness: BitternessGap,
}

#[derive(Clone, Copy, PartialEq)]
pub(super) enum BitternessGap {
    Closed,
    /// The rest is more bitter than the aim.
    TooBitter,
    /// There is no hop that could close it.
    NoHop,
}

impl Job<'_> {
    /// Amounts for a batch.
    pub(super) fn solve(self, batch: BatchSize) -> Result<Found, Error> {
        let plant = &self.target.plant;
        let batch_l = batch.l;
        if batch_l <= 0.0 {
            return Err(Error::new(
                ErrorKind::PlantIncomplete,
                format!("the batch of the plant `{}` is zero", plant.name),
            )
            .about(Place::plant(&plant.name, "batch.volume_l")));
        }
        plant.check(batch, self.target.formula.boil_min)?;
        match batch.at {
            BatchPoint::EndOfBoil => Ok(self.lay_out(batch_l)),
            BatchPoint::IntoFermenter => Ok(self.lay_out(plant.post_boil_l(batch_l))),
            BatchPoint::Packaged => {
                let post_boil_l = wort_for_packaged(batch_l, plant, |post_boil_l| {
                    self.lay_out(post_boil_l).brewed.cellar.packaged_l
                })?;
                Ok(self.lay_out(post_boil_l))
            }
        }
    }

    fn lay_out(self, post_boil_l: f64) -> Found {
        let design = self.design();
        let aim = Aim {
            volume_l: post_boil_l,
            strength: self.source.strength,
        };
        let reach = reach(&design, aim, &self.target.plant);
        let mut amounts = Amounts {
            of: self.proportional(post_boil_l, &reach),
            liquor: reach.liquor,
        };
        let unhopped = self.target.brew_by_rule(&mut amounts);
        let bitterness = self.close_bitterness(&mut amounts, &unhopped);
        let brewed = self.target.brew(&amounts);
        Found {
            design,
            aim,
            reach,
            amounts,
            brewed,
            bitterness,
        }
    }

    /// The source's grist with the target's own lots, and its sugars by their share of the extract.
    fn design(self) -> WortBill {
        let formula = &self.target.formula;
        let sugars = formula
            .items
            .with(&self.source.extract_share)
            .filter_map(|(item, share)| match item.material {
                Material::Fermentable(part) if item.is_kettle_sugar() && *share > 0.0 => {
                    Some(SugarShare {
                        share: *share,
                        water_per_extract: part.water / part.extract,
                        time_left_min: item.time_left_min(formula.boil_min),
                    })
                }
                _ => None,
            })
            .collect();
        WortBill {
            unit: grist(formula, &self.source.worked.amounts.of),
            sugars,
            drinks_per_l: self.source.drinks_per_l(),
            boil_min: formula.boil_min,
            mash_c: formula.mash_rest_c,
        }
    }

    /// Everything that keeps a proportion: to the grist, to the extract, or to the wort.
    fn proportional(self, post_boil_l: f64, reach: &WortReached) -> PerItem<f64> {
        let extract_kg = Liquid::wort_of(post_boil_l, reach.strength).extract_kg;
        let source = &self.source.worked;
        let by_wort = post_boil_l / source.brewed.boiled.volume_l.max(f64::MIN_POSITIVE);
        let by_water = reach.liquor.mash_l / source.amounts.liquor.mash_l.max(f64::MIN_POSITIVE);
        self.target.formula.items.map(|index, item| {
            let amount = source.amounts.of.at(index);
            match item.material {
                Material::Fermentable(_) if item.is_mashed() => amount * reach.factor,
                Material::Fermentable(part) if item.is_kettle_sugar() => {
                    let share = self.source.extract_share.at(index);
                    let kg = share * extract_kg / part.extract.max(f64::MIN_POSITIVE);
                    if item.is_by_volume() {
                        kg / part.density_kg_l
                    } else {
                        kg
                    }
                }
                _ => match item.place.stage {
                    Stage::Mash if matches!(item.ingredient.kind, Kind::Salt | Kind::Acid) => {
                        amount * by_water
                    }
                    Stage::Mash if !item.is_hot_hop() => amount * reach.factor,
                    Stage::Mash | Stage::Boil | Stage::Stand => amount * by_wort,
                    Stage::Ferment | Stage::Package => amount,
                },
            }
        })
    }

    /// Sets the bittering hop so that the beer is as bitter as the source's.
    fn close_bitterness(self, amounts: &mut Amounts, unhopped: &Brewed) -> BitternessGap {
        let formula = &self.target.formula;
        let dilution = dilution(unhopped);
        let aim_ibu = self.source.aim_ibu / dilution;
        let Some((index, item)) = bittering(formula) else {
            let off = (unhopped.wort_ibu() - aim_ibu).abs() * dilution;
            return if off > BITTERNESS_NEAR {
                BitternessGap::NoHop
            } else {
                BitternessGap::Closed
            };
        };
        let others: f64 = unhopped
            .ibu
            .iter()
            .filter(|(other, _)| *other != index)
            .map(|(_, ibu)| ibu)
            .sum();
        let sugars = into_kettle(formula, &amounts.of);
        let (run, boiled) = (&unhopped.run, &unhopped.boiled);
        let profile = GravityProfile::of(run, &sugars, boiled, formula.boil_min);
        let Material::Hop { alpha: Some(alpha) } = item.material else {
            return BitternessGap::NoHop;
        };
        let gap_ibu = aim_ibu - others;
        let model = self.target.plant.bitterness;
        let utilisation = profile.utilisation(item, &self.target.cooling, model);
        let per_kg = utilisation * alpha * 1e6 / boiled.volume_l;
        if per_kg <= 0.0 {
            return BitternessGap::NoHop;
        }
        amounts.of.set(index, gap_ibu.max(0.0) / per_kg);
        if gap_ibu * dilution < -BITTERNESS_NEAR {
            BitternessGap::TooBitter
        } else {
            BitternessGap::Closed
        }
    }
}

/// The item that closes the gap in bitterness: the hop that boils longest.
pub(super) fn bittering(formula: &Formula) -> Option<(ItemIndex, &Item)> {
    let boil_min = formula.boil_min;
    formula
        .items
        .iter()
        .filter(|(_, item)| item.is_hot_hop() && item.place.stage == Stage::Boil)
        .filter(|(_, item)| item.time_left_min(boil_min) > 0.0)
        .max_by(|(i, a), (j, b)| {
            a.time_left_min(boil_min)
                .total_cmp(&b.time_left_min(boil_min))
                .then(j.cmp(i))
        })
}
