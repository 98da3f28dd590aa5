//! The inverse: amounts for a plant that meet the source's figures.

use super::{Outcome, Stop};
use crate::catalogue::Kind;
use crate::diagnostic::{Error, ErrorKind};
use crate::process::{
    Aim, Amounts, Brewed, Design, Dosing, Formula, GravityProfile, Item, Limit, Material, Plant,
    Reach, Rule, SourceBrew, Stage, SugarShare, before_boil_hot_l, brew, brew_with, dilution,
    kettle_sugars, reach, utilisation, wort_for_packaged, wort_of,
};
use crate::quantity::{Extract, litres};
use crate::recipe::BatchPoint;
use crate::remedy::{Extracts, Remedy, for_gravity, for_kettle};

/// Bitterness this near to the aim needs no remark, IBU: no tongue tells it (common practice, no source).
const BITTERNESS_NEAR: f64 = 0.5;

/// What is to be solved: the source's figures on a target plant.
pub(super) struct Job<'a> {
    pub(super) formula: &'a Formula,
    pub(super) plant: &'a Plant,
    pub(super) source: &'a SourceBrew,
    pub(super) source_formula: &'a Formula,
    pub(super) source_plant: &'a Plant,
}

/// What was found for the target plant, before weighing out.
pub(super) struct Found {
    design: Design,
    aim: Aim,
    pub(super) reach: Reach,
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
    /// Amounts for a batch of `batch_l` counted at `point`.
    pub(super) fn solve(&self, batch_l: f64, point: BatchPoint) -> Result<Found, Error> {
        if batch_l <= 0.0 {
            return Err(Error::new(
                ErrorKind::PlantIncomplete,
                format!("the batch of the plant `{}` is zero", self.plant.name),
            ));
        }
        self.plant.check(batch_l, point, self.formula.boil_min)?;
        match point {
            BatchPoint::EndOfBoil => Ok(self.lay_out(batch_l)),
            BatchPoint::IntoFermenter => Ok(self.lay_out(self.plant.post_boil_l(batch_l))),
            BatchPoint::Packaged => {
                let post_boil_l = wort_for_packaged(batch_l, self.plant, |post_boil_l| {
                    self.lay_out(post_boil_l).brewed.cellar.packaged_l
                })?;
                Ok(self.lay_out(post_boil_l))
            }
        }
    }

    fn lay_out(&self, post_boil_l: f64) -> Found {
        let design = self.design();
        let aim = Aim {
            volume_l: post_boil_l,
            strength: self.source.strength,
        };
        let reach = reach(&design, aim, self.plant);
        let mut amounts = Amounts {
            of: self.proportional(post_boil_l, &reach),
            liquor: reach.liquor,
        };
        let unhopped = brew_with(
            self.formula,
            &mut amounts,
            self.plant,
            self.source.nature,
            Dosing::ByRule,
        );
        let bitterness = self.close_bitterness(&mut amounts, &unhopped);
        self.package(&mut amounts, &unhopped);
        let brewed = brew(self.formula, &amounts, self.plant, self.source.nature);
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
    fn design(&self) -> Design {
        let sugars = self
            .formula
            .items
            .iter()
            .zip(&self.source.extract_share)
            .filter_map(|(item, share)| match item.material {
                Material::Fermentable(part) if item.is_kettle_sugar() && *share > 0.0 => {
                    Some(SugarShare {
                        share: *share,
                        water_per_extract: part.water / part.extract,
                        time_left_min: item.time_left_min(self.formula.boil_min),
                    })
                }
                _ => None,
            })
            .collect();
        Design {
            unit: crate::process::grist(self.formula, &self.source.amounts.of),
            sugars,
            boil_min: self.formula.boil_min,
            mash_c: self.formula.mash_rest_c,
        }
    }

    /// Everything that keeps a proportion: to the grist, to the extract, or to the wort.
    fn proportional(&self, post_boil_l: f64, reach: &Reach) -> Vec<f64> {
        let extract_kg = wort_of(post_boil_l, reach.strength).extract_kg;
        let source = self.source;
        let by_wort = post_boil_l / source.brewed.boiled.volume_l.max(f64::MIN_POSITIVE);
        let by_water = reach.liquor.mash_l / source.amounts.liquor.mash_l.max(f64::MIN_POSITIVE);
        self.formula
            .items
            .iter()
            .zip(source.amounts.of.iter().zip(&source.extract_share))
            .map(|(item, (amount, share))| match item.material {
                Material::Fermentable(_) if item.is_mashed() => amount * reach.factor,
                Material::Fermentable(part) if item.is_kettle_sugar() => {
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
                    Stage::Mash => amount * reach.factor,
                    Stage::Boil | Stage::Stand => amount * by_wort,
                    Stage::Ferment | Stage::Package => *amount,
                },
            })
            .collect()
    }

    /// Additions at packaging keep their amount per litre of beer.
    fn package(&self, amounts: &mut Amounts, brewed: &Brewed) {
        let by_beer =
            brewed.cellar.packaged_l / self.source.brewed.cellar.packaged_l.max(f64::MIN_POSITIVE);
        let source = &self.source.amounts.of;
        for ((item, amount), source) in self.formula.items.iter().zip(&mut amounts.of).zip(source) {
            if item.place.stage == Stage::Package {
                *amount = match item.rule {
                    Rule::GramsPerLitre(dose) => dose * brewed.cellar.packaged_l / 1000.0,
                    Rule::LitresPerLitre(dose) => dose * brewed.cellar.packaged_l,
                    _ => source * by_beer,
                };
            }
        }
    }

    /// The item that closes the gap in bitterness: the hop that boils longest.
    pub(super) fn bittering(&self) -> Option<(usize, &Item)> {
        let boil_min = self.formula.boil_min;
        self.formula
            .items
            .iter()
            .enumerate()
            .filter(|(_, item)| item.is_hot_hop() && item.place.stage == Stage::Boil)
            .filter(|(_, item)| item.time_left_min(boil_min) > 0.0)
            .max_by(|(i, a), (j, b)| {
                a.time_left_min(boil_min)
                    .total_cmp(&b.time_left_min(boil_min))
                    .then(j.cmp(i))
            })
    }

    /// Sets the bittering hop so that the beer is as bitter as the source's.
    fn close_bitterness(&self, amounts: &mut Amounts, unhopped: &Brewed) -> BitternessGap {
        let dilution = dilution(unhopped);
        let aim_ibu = self.source.aim_ibu / dilution;
        let Some((index, item)) = self.bittering() else {
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
            .enumerate()
            .filter(|(i, _)| *i != index)
            .map(|(_, ibu)| ibu)
            .sum();
        let sugars = kettle_sugars(self.formula, &amounts.of);
        let profile = GravityProfile::of(
            &unhopped.run,
            &sugars,
            &unhopped.boiled,
            self.formula.boil_min,
        );
        let Material::Hop { alpha: Some(alpha) } = item.material else {
            return BitternessGap::NoHop;
        };
        let gap_ibu = aim_ibu - others;
        let per_kg = utilisation(
            item,
            self.formula,
            &profile,
            self.plant,
            self.plant.bitterness,
        ) * alpha
            * 1e6
            / unhopped.boiled.volume_l;
        if per_kg <= 0.0 {
            return BitternessGap::NoHop;
        }
        if let Some(amount) = amounts.of.get_mut(index) {
            *amount = gap_ibu.max(0.0) / per_kg;
        }
        if gap_ibu * dilution < -BITTERNESS_NEAR {
            BitternessGap::TooBitter
        } else {
            BitternessGap::Closed
        }
    }

    /// What the plant cannot do, with the ways out.
    pub(super) fn outcomes(&self, found: &Found, extracts: Extracts) -> Vec<Outcome> {
        let mut outcomes = Vec::new();
        if let Some(limit) = found.reach.stopped {
            outcomes.push(Outcome::GravityOutOfReach {
                wanted: Extract::clamped(100.0 * found.aim.strength),
                highest: Extract::clamped(100.0 * found.reach.strength),
                because: match limit {
                    Limit::Thickness => Stop::TooThick,
                    Limit::MashVessel => Stop::VesselFull,
                    Limit::Holdback => Stop::GrainHoldsBack,
                    Limit::NoMash => Stop::NoMash,
                },
                remedies: for_gravity(&found.design, found.aim, self.plant, &found.reach, extracts),
            });
        }
        let hot_l = before_boil_hot_l(&found.design, found.aim, self.plant);
        if let Some(capacity_l) = self.plant.kettle_l
            && hot_l > capacity_l
        {
            let remedies = for_kettle(&found.design, found.aim, self.plant);
            let largest_batch = remedies.iter().find_map(|remedy| match remedy {
                Remedy::SmallerBatch { batch, .. } => Some(*batch),
                _ => None,
            });
            outcomes.push(Outcome::KettleOverflows {
                needed: litres(hot_l),
                capacity: litres(capacity_l),
                largest_batch,
                remedies,
            });
        }
        outcomes
    }
}
