//! The inverse: amounts for a plant that meet the source's figures.

use crate::diagnostic::{Error, ErrorKind, Place};
use crate::inverse::{
    Aim, SourceBrew, SugarShare, WortBill, WortReached, dilution, reach, with_kept, with_top_up,
    wort_for_packaged,
};
use crate::process::{
    Amounts, BatchSize, Brewed, Formula, GravityProfile, ItemIndex, Lautering, Material, PerItem,
    Setup, Stage, grist, into_kettle,
};
use crate::quantity::agreement::Agree as _;
use crate::recipe::BatchPoint;
use crate::remedy::{Relief, boiled_for_topping_up};
use crate::science::liquid::Liquid;

/// Bitterness this near to the aim needs no remark, IBU: no tongue tells it (common practice, no source).
const BITTERNESS_NEAR: f64 = 0.5;

/// Rounds in which the share of a malt that a remedy puts in settles: each leaves a hundredth of what was off.
const MOST_ROUNDS: usize = 5;

/// Rounds in which the bittering hops of a wort that is topped up settle: each leaves a few hundredths of what was off.
const MOST_ROUNDS_OF_HOPS: usize = 12;
/// Part of a figure to which what is found in rounds settles.
const SETTLED: f64 = 1e-12;

/// What is to be solved: the source's figures on a target plant.
#[derive(Clone, Copy)]
pub(super) struct Job<'a> {
    pub(super) source: &'a SourceBrew,
    pub(super) target: &'a Setup,
    /// What taken remedies put in, by item.
    pub(super) reliefs: &'a [(ItemIndex, Relief)],
}

/// A wort to be brewed on the target, for one unit of its grist.
struct Bill {
    aim: Aim,
    design: WortBill,
    /// Mashed grain in the unit.
    grain: PerItem<f64>,
    /// Share of each kettle sugar in the extract.
    sugar: PerItem<f64>,
    /// Wort of the beer at the end of the boil, litres, had all of it been boiled: what doses are per litre of.
    dosed_l: f64,
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
            BatchPoint::EndOfBoil if !self.tops_up() => Ok(self.lay_out(batch_l, 0.0)),
            BatchPoint::EndOfBoil => self.filled(|_| Ok(batch_l)),
            BatchPoint::IntoFermenter => {
                self.filled(|kept_l| Ok(plant.post_boil_l(batch_l, kept_l)))
            }
            BatchPoint::Packaged => self.filled(|kept_l| {
                wort_for_packaged(batch_l, plant, |post_boil_l| {
                    let found = self.lay_out(post_boil_l, kept_l);
                    found.brewed.cellar.packaged_l
                })
            }),
        }
    }

    /// Whether water makes up the volume in the fermenter.
    fn tops_up(self) -> bool {
        let mut reliefs = self.reliefs.iter();
        self.source.worked.brewed.top_up.water_kg > 0.0
            || reliefs.any(|(_, relief)| matches!(relief, Relief::TopUp(_)))
    }

    /// The amounts for the cold wort at the end of the boil that `post_boil_l` gives where trub and hops keep so many
    /// litres beyond the plant's own loss, which only the amounts tell.
    fn filled(self, post_boil_l: impl Fn(f64) -> Result<f64, Error>) -> Result<Found, Error> {
        with_kept(&self.target.plant, |kept_l| {
            let found = self.lay_out(post_boil_l(kept_l)?, kept_l);
            let found_l = found.brewed.kept.all_l();
            Ok((found, found_l))
        })
    }

    fn lay_out(self, post_boil_l: f64, kept_l: f64) -> Found {
        let mut found = self.lay_out_for(self.source.strength, post_boil_l, kept_l);
        let rounds = match found.reach.stopped {
            Some(_) if self.tops_up() => MOST_ROUNDS,
            _ => 0,
        };
        // How much room water takes hangs on the wort that it thins: where that is out of reach, on the strongest there is.
        for _ in 0..rounds {
            let strength = found.brewed.original().strength();
            let next = self.lay_out_for(strength, post_boil_l, kept_l);
            let stopped = found.reach.stopped;
            found = Found {
                design: found.design,
                aim: found.aim,
                reach: WortReached {
                    stopped,
                    ..next.reach
                },
                ..next
            };
            if found
                .brewed
                .original()
                .strength()
                .agrees(&strength, SETTLED)
            {
                break;
            }
        }
        found
    }

    /// The amounts for a wort of this strength in the fermenter.
    fn lay_out_for(self, strength: f64, post_boil_l: f64, kept_l: f64) -> Found {
        let bill = self.bill(strength, post_boil_l, kept_l);
        let reach = reach(&bill.design, bill.aim, &self.target.plant);
        let mut amounts = Amounts {
            of: self.proportional(&bill, &reach),
            liquor: reach.liquor,
        };
        let unhopped = self.target.brew_by_rule(&mut amounts);
        let mut bitterness = self.close_bitterness(&mut amounts, &unhopped);
        // What the hops now keep moves the beer that the later additions meet.
        let mut brewed = self.target.brew_by_rule(&mut amounts);
        // And how much of the bitterness leaves the kettle, where water makes up what stays there.
        let rounds = if self.tops_up() {
            MOST_ROUNDS_OF_HOPS
        } else {
            0
        };
        for _ in 0..rounds {
            let before_l = brewed.kept.all_l();
            bitterness = self.close_bitterness(&mut amounts, &brewed);
            brewed = self.target.brew_by_rule(&mut amounts);
            if brewed.kept.all_l().agrees(&before_l, SETTLED) {
                break;
            }
        }
        Found {
            design: bill.design,
            aim: bill.aim,
            reach,
            amounts,
            brewed,
            bitterness,
        }
    }

    /// The source's grist with the target's own lots, its sugars by their share of the extract, and what remedies put in.
    fn bill(self, strength: f64, post_boil_l: f64, kept_l: f64) -> Bill {
        let plant = &self.target.plant;
        let wanted = Aim {
            volume_l: post_boil_l,
            strength,
        };
        let source = &self.source.worked.brewed;
        let per_l = source.top_up.water_kg / source.boiled.volume_l.max(f64::MIN_POSITIVE);
        let wanted = with_top_up(wanted, per_l * post_boil_l, plant, kept_l);
        let mut aim = wanted;
        for (_, relief) in self.reliefs {
            if let Relief::TopUp(water_l) = relief {
                aim = boiled_for_topping_up(aim, *water_l, plant, kept_l);
            }
        }
        let extract_kg = Liquid::wort_of(aim.volume_l, aim.strength).extract_kg;
        let sugar = self.sugar_shares(extract_kg);
        let grain = self.target.formula.items.map(|index, item| {
            let amount = self.source.worked.amounts.of.at(index);
            if item.is_mashed() && !self.is_all_dissolved() {
                amount
            } else {
                0.0
            }
        });
        let into_l = |volume_l| plant.fermenter_l_of(volume_l, kept_l);
        let mut bill = Bill {
            aim,
            design: self.design(&grain, &sugar),
            grain,
            sugar,
            dosed_l: aim.volume_l * into_l(wanted.volume_l)
                / into_l(aim.volume_l).max(f64::MIN_POSITIVE),
        };
        for (index, relief) in self.reliefs {
            if let Relief::Mashed(kg) = relief {
                self.put_into_grist(&mut bill, *index, *kg);
            }
        }
        bill
    }

    /// Whether something dissolved stands for all of the grain, on a plant that does not mash.
    fn is_all_dissolved(self) -> bool {
        let mut reliefs = self.reliefs.iter();
        self.target.plant.lautering == Lautering::NoMash
            && reliefs.any(|(_, relief)| matches!(relief, Relief::Dissolved(_)))
    }

    /// The share of each kettle sugar in the extract: the source's, less what remedies dissolve in its place.
    fn sugar_shares(self, extract_kg: f64) -> PerItem<f64> {
        let items = &self.target.formula.items;
        let mut shares = items.map(|index, _| self.source.extract_share.at(index));
        for (index, relief) in self.reliefs {
            let Relief::Dissolved(kg) = relief else {
                continue;
            };
            let others: f64 = shares.values().sum();
            if self.is_all_dissolved() {
                shares.set(*index, (1.0 - others).max(0.0));
                continue;
            }
            let extract = items.get(*index).and_then(|item| item.fermentable(*kg));
            let dissolved_kg = extract.map_or(0.0, |(part, kg)| kg * part.extract);
            let share = (dissolved_kg / extract_kg.max(f64::MIN_POSITIVE)).min(1.0);
            for other in shares.values_mut() {
                *other *= 1.0 - share;
            }
            shares.set(*index, share);
        }
        shares
    }

    /// Grain that a remedy puts in place of as much extract of the rest.
    fn put_into_grist(self, bill: &mut Bill, at: ItemIndex, kg: f64) {
        let Some(item) = self.target.formula.items.get(at) else {
            return;
        };
        let Some((part, kg)) = item.fermentable(kg) else {
            return;
        };
        let (plain, unit_kg) = (bill.grain.clone(), bill.design.unit.laboratory_extract_kg);
        let extract_kg = kg * part.extract;
        // The grist lauters a little otherwise with it, which moves its share of the grist by next to nothing.
        for _ in 0..MOST_ROUNDS {
            let reached = reach(&bill.design, bill.aim, &self.target.plant);
            let all_kg = (reached.factor * unit_kg).max(f64::MIN_POSITIVE);
            let share = (extract_kg / all_kg).min(1.0);
            bill.grain = plain.map(|_, grain| grain * (1.0 - share));
            let in_unit_kg = share * unit_kg / part.extract.max(f64::MIN_POSITIVE);
            bill.grain.set(at, in_unit_kg);
            bill.design = self.design(&bill.grain, &bill.sugar);
        }
    }

    fn design(self, grain: &PerItem<f64>, sugar: &PerItem<f64>) -> WortBill {
        let formula = &self.target.formula;
        let sugars = formula
            .items
            .with(sugar)
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
            unit: grist(formula, grain),
            sugars,
            drinks_per_l: self.source.drinks_per_l(),
            boil_min: formula.boil_min,
            mash_c: formula.mash_rest_c,
        }
    }

    /// Everything that keeps a proportion: to the grist, to the extract, or to the wort.
    fn proportional(self, bill: &Bill, reach: &WortReached) -> PerItem<f64> {
        let extract_kg = Liquid::wort_of(bill.aim.volume_l, reach.strength).extract_kg;
        let source = &self.source.worked;
        let by_wort = bill.dosed_l / source.brewed.boiled.volume_l.max(f64::MIN_POSITIVE);
        self.target.formula.items.map(|index, item| {
            let amount = source.amounts.of.at(index);
            match item.material {
                Material::Fermentable(_) if item.is_mashed() => bill.grain.at(index) * reach.factor,
                Material::Fermentable(part) if item.is_kettle_sugar() => {
                    let share = bill.sugar.at(index);
                    let kg = share * extract_kg / part.extract.max(f64::MIN_POSITIVE);
                    if item.is_by_volume() {
                        kg / part.density_kg_l
                    } else {
                        kg
                    }
                }
                _ => match item.place.stage {
                    Stage::Mash if !item.is_hot_hop() => amount * reach.factor,
                    Stage::Mash | Stage::Sour | Stage::Boil | Stage::Stand => amount * by_wort,
                    Stage::Ferment if item.is_top_up() => amount * by_wort,
                    Stage::Ferment | Stage::Package => amount,
                },
            }
        })
    }

    /// Sets the bittering hops so that the beer is as bitter as the source's: all by one factor, since two hops in place of one
    /// keep their proportion.
    pub(super) fn close_bitterness(
        self,
        amounts: &mut Amounts,
        unhopped: &Brewed,
    ) -> BitternessGap {
        let formula = &self.target.formula;
        let dilution = dilution(unhopped);
        let aim_ibu = self.source.aim_ibu / dilution;
        let hops = bittering(formula);
        let others = unhopped.ibu.iter();
        let others = others.filter(|(other, _)| !hops.contains(other));
        let others_ibu: f64 = others.map(|(_, ibu)| ibu).sum();
        let gap_ibu = aim_ibu - others_ibu;
        let per_kg = self.bitterness_per_kg(amounts, unhopped, &hops);
        let now_ibu = |(index, per_kg): &(ItemIndex, f64)| amounts.of.at(*index) * per_kg;
        let together_ibu: f64 = per_kg.iter().map(now_ibu).sum();
        let Some((first, first_per_kg)) = per_kg.first().copied() else {
            let off = (unhopped.wort_ibu() - aim_ibu).abs() * dilution;
            return if off > BITTERNESS_NEAR {
                BitternessGap::NoHop
            } else {
                BitternessGap::Closed
            };
        };
        let wanted_ibu = gap_ibu.max(0.0);
        if together_ibu > 0.0 {
            for (index, _) in per_kg {
                let amount = amounts.of.at(index) * wanted_ibu / together_ibu;
                amounts.of.set(index, amount);
            }
        } else {
            amounts.of.set(first, wanted_ibu / first_per_kg);
        }
        if gap_ibu * dilution < -BITTERNESS_NEAR {
            BitternessGap::TooBitter
        } else {
            BitternessGap::Closed
        }
    }

    /// What a kilogram of each of these hops gives the wort, IBU; those that give nothing are left out.
    fn bitterness_per_kg(
        self,
        amounts: &Amounts,
        unhopped: &Brewed,
        hops: &[ItemIndex],
    ) -> Vec<(ItemIndex, f64)> {
        let Setup {
            formula,
            plant,
            cooling,
            ..
        } = self.target;
        let sugars = into_kettle(formula, &amounts.of);
        let (run, boiled) = (&unhopped.run, &unhopped.boiled);
        let profile = GravityProfile::of(run, &sugars, boiled, formula.boil_min);
        let per_kg = |index: &ItemIndex| {
            let item = formula.items.get(*index)?;
            let Material::Hop { alpha: Some(alpha) } = item.material else {
                return None;
            };
            let utilisation = profile.utilisation(item, cooling, plant.bitterness);
            let ibu = utilisation * alpha * 1e6 / boiled.volume_l;
            (ibu > 0.0).then_some((*index, ibu))
        };
        hops.iter().filter_map(per_kg).collect()
    }
}

/// The items that close the gap in bitterness: the hops that boil longest, all that go in at that time.
pub(super) fn bittering(formula: &Formula) -> Vec<ItemIndex> {
    let boil_min = formula.boil_min;
    let hops = || {
        let items = formula.items.iter();
        items
            .filter(|(_, item)| item.is_hot_hop() && item.place.stage == Stage::Boil)
            .filter(|(_, item)| item.time_left_min(boil_min) > 0.0)
    };
    let longest = hops().max_by(|(i, a), (j, b)| {
        a.time_left_min(boil_min)
            .total_cmp(&b.time_left_min(boil_min))
            .then(j.cmp(i))
    });
    let Some((_, longest)) = longest else {
        return Vec::new();
    };
    let together = hops().filter(|(_, item)| item.timing.at == longest.timing.at);
    together.map(|(index, _)| index).collect()
}
