//! What a candidate comes to in this recipe, on these plants: its figures, bounds, offer, and the grist left beside it.

use super::super::Weights;
use super::super::case::{Gate, LEAST_SHARE, Measure, Offer};
use super::super::distance::Aspect;
use super::super::practice::{Practice, UnstatedFigure};
use super::super::profile::{Means, Profile, Starch, needs_mash, profile, row_of, starch};
use super::super::sensed::colour_step_of;
use super::super::setting::Setting;
use super::super::taste::LineSpread;
use super::{Unbounded, does_its_job, upper_share, usual_left_kg};
use crate::catalogue::{AidPurpose, EntryRef, FermentableFunction, SmallMash};
use crate::process::{
    Item, ItemIndex, LotSigma, MashFactor, Rule, Stage, Worked, YeastUse, grain_ebc, grain_units,
    run_off_units, units_for,
};
use crate::quantity::{Written, in_kilograms, minutes};
use crate::recipe::{At, Ingredient, Lauter, Moved, Section, ShareBasis, Timing};
use crate::science::density::sucrose_density_20;

/// A grist below this does not convert itself, WK (common practice, no source).
const CONVERTS_FROM_WK: f64 = 75.0;
/// Step of a scale that nobody states, kg (common practice, no source).
const STEP_KG: f64 = 0.001;
/// Sugar that stands for grain enters with this left to boil (common practice, no source).
const SUGAR_AT_MIN: f64 = 10.0;
/// Enzymes of a mash are spent above this, °C (common practice, no source).
const ENZYMES_TO_C: f64 = 72.0;

/// What of the plants and the line a candidate's figures depend on.
pub(super) struct Here<'a> {
    pub(super) item: &'a Item,
    pub(super) replaced_kg: f64,
    /// Yields of the mash on the target and at the source.
    pub(super) target_yield: f64,
    pub(super) source_yield: f64,
    pub(super) has_mash: bool,
    pub(super) on_wort_side: bool,
    pub(super) mash_kg: f64,
    pub(super) fermentables_kg: f64,
    pub(super) step_kg: f64,
    /// Colour units of grain that colour this wort like a kilogram and EBC of what dissolves.
    units_per_ebc_kg: f64,
    /// What the lot may be off, in the beer.
    pub(super) spread: LineSpread,
    mash_factor: MashFactor,
    yeast_use: YeastUse,
    pub(super) rest_c: f64,
    pub(super) share_basis: ShareBasis,
}

impl<'a> Here<'a> {
    pub(super) fn new(
        setting: &Setting<'_>,
        item: &'a Item,
        replaced_kg: f64,
        wanted: &Profile,
    ) -> Self {
        let source = setting.source();
        let source_yield = source.brewed.mash_yield.unwrap_or(1.0);
        let planned = setting.planned();
        let target_yield = planned.brewed.mash_yield.unwrap_or(source_yield);
        let rests = &setting.recipe.mash.rests;
        let rest_c = rests
            .iter()
            .map(|rest| rest.temperature.value().celsius())
            .filter(|celsius| *celsius <= ENZYMES_TO_C)
            .reduce(f64::max)
            .unwrap_or(source.setup.formula.mash_rest_c);
        let mash_kg = setting.mashed_kg();
        let fermentables_kg = setting.fermentables_kg();
        let lot = LotSigma::of(item);
        let units_per_ebc_kg = units_per_ebc_kg(setting, wanted, replaced_kg);
        Self {
            spread: LineSpread {
                original: lot.extract * replaced_kg / fermentables_kg.max(replaced_kg),
                colour_ebc: lot.colour * line_ebc(setting, wanted, replaced_kg),
                ibu: 0.0,
            },
            item,
            replaced_kg,
            target_yield,
            source_yield,
            has_mash: mash_kg > 0.0 && setting.target.lauter != Some(Lauter::NoMash),
            on_wort_side: item.place.stage < Stage::Ferment,
            mash_kg,
            fermentables_kg,
            step_kg: setting
                .target
                .weighing
                .malt
                .as_ref()
                .map_or(STEP_KG, |step| in_kilograms(step.value())),
            units_per_ebc_kg,
            mash_factor: planned
                .setup
                .factor_of(planned.brewed.grist, planned.amounts.liquor),
            yeast_use: planned.setup.formula.yeast_use,
            rest_c,
            share_basis: setting.recipe.share_basis,
        }
    }

    /// What is replaced, of all fermentables.
    pub(super) fn share(&self) -> f64 {
        self.replaced_kg / self.fermentables_kg.max(self.replaced_kg)
    }

    /// Extract in the wort and the colour units that run off, for a kilogram on the target. What dissolves as it is counts
    /// in the units of grain that it colours like. Husks bring neither: they count by their mass.
    pub(super) fn brings(&self, profile: &Profile) -> [f64; 2] {
        if profile.function == Some(FermentableFunction::LauteringAid) {
            [1.0, 0.0]
        } else if profile.is_mashed {
            [
                profile.extract * self.target_yield,
                run_off_units(1.0, profile.colour_ebc, self.target_yield),
            ]
        } else {
            [profile.extract, profile.colour_ebc * self.units_per_ebc_kg]
        }
    }

    pub(super) fn fermentable(&self, profile: &Profile) -> f64 {
        let [extract, _] = self.brings(profile);
        let taken = self.yeast_use.ferments(profile.fermentable, profile.sugars);
        extract * self.mash_factor.ferments(taken, profile.sugars)
    }

    pub(super) fn features(
        &self,
        profile: &Profile,
        wanted: &Profile,
        weights: &Weights,
    ) -> Vec<f64> {
        let [gravity, _] = self.brings(wanted);
        let in_mash = self.replaced_kg / self.mash_kg.max(f64::MIN_POSITIVE);
        let flavour = weights.flavour.sqrt() / 5.0;
        profile
            .flavour
            .iter()
            .map(|intensity| flavour * intensity)
            .chain([
                weights.fermentable.sqrt() * self.fermentable(profile)
                    / gravity.max(f64::MIN_POSITIVE),
                weights.diastatic_power.sqrt() * profile.diastatic_wk * in_mash / 100.0,
                weights.protein.sqrt() * profile.protein / 0.1,
                weights.gum.sqrt() * profile.gum / 3.0,
                weights.mash_acidity.sqrt() * profile.acidity_meq * in_mash / 10.0,
            ])
            .collect()
    }

    /// Least and most of a candidate, for one of what is replaced; none where the least is more than the most.
    pub(super) fn bounds(
        &self,
        setting: &Setting<'_>,
        candidate: &Unbounded<'_>,
        brought: &Profile,
        wanted: &Profile,
        most_gravity: f64,
    ) -> Option<(f64, f64)> {
        let [extract, _] = self.brings(brought);
        if extract <= 0.0 {
            return None;
        }
        let low = LEAST_SHARE.max(2.0 * self.step_kg / self.replaced_kg);
        let usual_kg = self
            .usual_kg(setting, candidate, brought, wanted)
            .unwrap_or(f64::INFINITY);
        let high = (most_gravity / extract)
            .min(usual_kg / self.replaced_kg)
            .min(candidate.left_kg / self.replaced_kg);
        (low <= high).then_some((low, high))
    }

    /// Kilograms of a candidate up to its usual upper share, or to what the recipe has of what is replaced; none where nothing is usual.
    pub(super) fn usual_kg(
        &self,
        setting: &Setting<'_>,
        candidate: &Unbounded<'_>,
        brought: &Profile,
        wanted: &Profile,
    ) -> Option<f64> {
        let row = candidate.row.filter(|_| self.on_wort_side)?;
        let [[extract, _], [its, _]] = [self.brings(wanted), self.brings(brought)];
        let replaced = self.share() * extract / its.max(f64::MIN_POSITIVE);
        let does_it = does_its_job(wanted, brought);
        let share = upper_share(row.usual_max_share?, replaced, does_it);
        let name = candidate.ingredient.catalogue_name();
        Some(usual_left_kg(setting, name, share, self.fermentables_kg))
    }

    pub(super) fn offer(
        &self,
        setting: &Setting<'_>,
        ingredient: Ingredient,
        candidate: &Unbounded<'_>,
        brought: &Profile,
        wanted: &Profile,
        costs: Vec<(Aspect, f64)>,
    ) -> Offer {
        let row = candidate.row;
        let name = ingredient.name.clone();
        // Sugar keeps its share of the extract between plants, grain follows the yield.
        let carried = match (wanted.is_mashed, brought.is_mashed) {
            (true, false) => self.source_yield / self.target_yield.max(f64::MIN_POSITIVE),
            (false, true) => self.target_yield / self.source_yield.max(f64::MIN_POSITIVE),
            _ => 1.0,
        };
        let [extract, _] = self.brings(brought);
        let [wanted_extract, _] = self.brings(wanted);
        let ratio = match self.share_basis {
            ShareBasis::Extract if matches!(self.item.rule, Rule::Share(_)) => {
                extract / wanted_extract.max(f64::MIN_POSITIVE)
            }
            _ if self.item.is_by_volume() => {
                let density = |profile: &Profile| {
                    if profile.is_mashed {
                        1.0
                    } else {
                        sucrose_density_20(profile.extract) / 1000.0
                    }
                };
                carried * density(wanted) / density(brought)
            }
            _ => carried,
        };
        let mut practice = Vec::new();
        let mut moved = None;
        if brought.is_mashed {
            if needs_mash(row, ingredient.kind) && !wanted.is_mashed {
                practice.push(Practice::NeedsMashing { name: name.clone() });
            }
            let small_mash = row.and_then(|row| row.small_mash);
            if small_mash == Some(SmallMash::HardMill) {
                practice.push(Practice::HardToMill { name: name.clone() });
            }
            match small_mash {
                Some(SmallMash::Impractical) => {
                    practice.push(Practice::HardToMash { name: name.clone() });
                }
                Some(SmallMash::Enzyme) => {
                    practice.push(Practice::NeedsEnzyme { name: name.clone() });
                }
                small_mash
                    if small_mash == Some(SmallMash::SecondPot)
                        || starch(row, self.rest_c) == Starch::WantsCooking =>
                {
                    practice.push(Practice::NeedsCooking { name: name.clone() });
                }
                _ => {}
            }
            if !wanted.is_mashed {
                moved = Some(Moved {
                    section: Section::Mash,
                    timing: Timing::default(),
                });
                practice.push(Practice::GoesIntoMash { name: name.clone() });
            }
        } else if wanted.is_mashed {
            moved = Some(Moved {
                section: Section::Boil,
                timing: Timing {
                    at: Some(At::TimeLeft(Written::in_base_unit(minutes(SUGAR_AT_MIN)))),
                    contact: None,
                },
            });
            practice.push(Practice::GoesIntoKettle { name: name.clone() });
        }
        let roasts = |profile: &Profile| profile.function == Some(FermentableFunction::Roast);
        if roasts(brought) && !roasts(wanted) {
            practice.push(Practice::TastesOfRoast { name: name.clone() });
        }
        if !brought.assumed.is_empty() {
            practice.push(Practice::FiguresAssumed {
                name,
                figures: brought.assumed.clone(),
            });
        }
        let measure = Measure::Kilograms(self.replaced_kg);
        Offer {
            ratio,
            moved,
            practice,
            diastatic_wk: brought.is_mashed.then_some(brought.diastatic_wk),
            costs,
            is_base: [wanted, brought].map(|p| p.function == Some(FermentableFunction::Base))
                == [false, true],
            tastes: brought.flavour.to_vec(),
            mash_acid_meq: self.replaced_kg * brought.acidity_meq,
            tastes_alike: !brought.assumed.contains(&UnstatedFigure::Flavour),
            usual_kg: self.usual_kg(setting, candidate, brought, wanted),
            ..Offer::plain(ingredient, measure, candidate.from)
        }
    }

    /// By how many colour units, of one of what is replaced, the wort becomes paler or darker by so many noticeable steps.
    pub(super) fn units_off(&self, setting: &Setting<'_>, steps: f64) -> [f64; 2] {
        let Worked {
            setup,
            amounts,
            brewed,
        } = setting.planned();
        let volume_l = brewed.boiled.volume_l;
        let wort_ebc = brewed.wort_colour_ebc.unwrap_or(0.0);
        let step_ebc = steps * colour_step_of(wort_ebc, self.spread.colour_ebc);
        let units = grain_units(&setup.formula, &amounts.of, brewed.mash_yield);
        let total = match units.filter(|units| *units > 0.0 && volume_l > 0.0) {
            Some(units) => {
                let grain = grain_ebc(units, volume_l);
                [
                    units_for((grain - step_ebc).max(0.0), volume_l) - units,
                    units_for(grain + step_ebc, volume_l) - units,
                ]
            }
            None => [-step_ebc * volume_l, step_ebc * volume_l],
        };
        let [paler, darker] = total.map(|units| units / self.replaced_kg);
        [paler.min(-f64::MIN_POSITIVE), darker.max(f64::MIN_POSITIVE)]
    }

    /// The grist without the line; none where enzymes help, or where nothing is mashed.
    pub(super) fn gate(
        &self,
        setting: &Setting<'_>,
        without: ItemIndex,
        means: &Means,
        base_wk: f64,
    ) -> Option<Gate> {
        let enzymes = setting.formula().items.values().any(|item| {
            item.place.stage == Stage::Mash
                && setting
                    .catalogue
                    .find(item.ingredient.catalogue_name())
                    .is_some_and(|found| match found.entry {
                        EntryRef::Aid(aid) => aid.purpose == Some(AidPurpose::Enzyme),
                        _ => false,
                    })
        });
        if enzymes || !self.has_mash || !self.on_wort_side {
            return None;
        }
        let (mut mash_kg, mut power, mut all_power) = (0.0, 0.0, 0.0);
        for (index, item) in setting.formula().items.iter() {
            if !item.is_mashed() {
                continue;
            }
            let row = row_of(&item.ingredient, setting.catalogue);
            let (profile, _) = profile(&item.ingredient, row, means);
            let kg = setting.target_kg(index);
            all_power += kg * profile.diastatic_wk;
            if index != without {
                mash_kg += kg;
                power += kg * profile.diastatic_wk;
            }
        }
        let whole = (self.mash_kg, all_power);
        let before = all_power / self.mash_kg.max(f64::MIN_POSITIVE);
        Some(Gate {
            mash_kg,
            power,
            whole,
            base_wk,
            lowest_wk: CONVERTS_FROM_WK.min(before),
        })
    }
}

/// How much of the wort's colour is the line's: what the wort would lose without it, EBC.
fn line_ebc(setting: &Setting<'_>, wanted: &Profile, replaced_kg: f64) -> f64 {
    let Worked {
        setup,
        amounts,
        brewed,
    } = setting.planned();
    let volume_l = brewed.boiled.volume_l.max(f64::MIN_POSITIVE);
    if !wanted.is_mashed {
        return wanted.colour_ebc * replaced_kg / volume_l;
    }
    let mash_yield = brewed.mash_yield.unwrap_or_default();
    let units = grain_units(&setup.formula, &amounts.of, brewed.mash_yield).unwrap_or(0.0);
    let own = run_off_units(replaced_kg, wanted.colour_ebc, mash_yield);
    (grain_ebc(units, volume_l) - grain_ebc((units - own).max(0.0), volume_l)).max(0.0)
}

/// Grain colours a wort by Morey's curve and what dissolves by a straight line: the chord of the curve over what is replaced
/// says how much of the one colours like the other.
fn units_per_ebc_kg(setting: &Setting<'_>, wanted: &Profile, replaced_kg: f64) -> f64 {
    let Worked {
        setup,
        amounts,
        brewed,
    } = setting.planned();
    let volume_l = brewed.boiled.volume_l;
    let units = grain_units(&setup.formula, &amounts.of, brewed.mash_yield);
    let Some(units) = units.filter(|units| *units > 0.0 && volume_l > 0.0) else {
        return 1.0;
    };
    let ebc = grain_ebc(units, volume_l);
    let (other_units, other_ebc) = if wanted.is_mashed {
        let mash_yield = brewed.mash_yield.unwrap_or_default();
        let gone = run_off_units(replaced_kg, wanted.colour_ebc, mash_yield);
        let left = (units - gone).max(0.0);
        (left, grain_ebc(left, volume_l))
    } else {
        let deeper_ebc = ebc + (wanted.colour_ebc * replaced_kg / volume_l).max(1e-3);
        (units_for(deeper_ebc, volume_l), deeper_ebc)
    };
    (units - other_units) / (ebc - other_ebc) / volume_l
}
