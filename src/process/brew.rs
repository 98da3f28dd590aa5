//! The forward model: amounts and a plant in, the state after every stage out.

use super::cellar::Fermenting;
use super::colour::{linear_colour, wort_colour};
use super::fermentability::{MashFactor, acid_before_l, lactic_acid_kg, wort_fermentable_kg};
use super::fermentation::{Cellar, InFermenter};
use super::formula::{Formula, PerItem, Stage, fermentables};
use super::hops::GravityProfile;
use super::kept::KeptInKettle;
use super::material::Sugars;
use super::setup::Setup;
use super::wort::{Boiled, Grist, KettleSugar, Lautered, Liquor, boil, lauter};
use crate::numeric::order;
use crate::recipe::BitternessModel;
use crate::science::liquid::Liquid;
use crate::science::souring::as_read;
use std::borrow::Borrow;

/// What goes in: for each item of a formula its kilograms, or its litres where it is measured by volume.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Amounts {
    pub(crate) of: PerItem<f64>,
    pub(crate) liquor: Liquor,
}

/// A brew worked out: what it rests on, its amounts, and what they give.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Worked {
    pub(crate) setup: Setup,
    pub(crate) amounts: Amounts,
    pub(crate) brewed: Brewed,
}

/// The state after each stage.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Brewed {
    pub(crate) grist: Grist,
    pub(crate) run: Lautered,
    pub(crate) boiled: Boiled,
    /// Lactic acid that souring made, in all of the boiled wort.
    pub(crate) lactic_acid_kg: f64,
    /// What of 88 % goes into the wort before the bacteria.
    pub(crate) acid_before_l: f64,
    /// What trub and hops keep of the boiled wort beyond the plant's own loss.
    pub(crate) kept: KeptInKettle,
    pub(crate) into_fermenter_l: f64,
    /// Water in it that went in there, and not into the kettle.
    pub(crate) top_up: Liquid,
    /// What of the extract at the end of the boil is in the fermenter, over what would be, had the kettle held the water too.
    pub(crate) carried: f64,
    /// Bitterness in the cold wort at the end of the boil, for each item.
    pub(crate) ibu: PerItem<f64>,
    /// All of it by the model that the plant does not use.
    pub(crate) other_ibu: f64,
    pub(crate) model: BitternessModel,
    pub(crate) wort_colour_ebc: Option<f64>,
    pub(crate) pitched: Fermenting,
    /// The same wort before bacteria made acid of its sugar, which reads lighter.
    pub(crate) pitched_as_mashed: Liquid,
    pub(crate) cellar: Cellar,
    /// Extract yield of what was mashed.
    pub(crate) mash_yield: Option<f64>,
    /// Mean over the grist, WK.
    pub(crate) diastatic_wk: Option<f64>,
}

impl Brewed {
    /// The colour of the beer with that of its juice; none without juice of a known colour.
    pub(crate) fn colour_with_juice_ebc(&self) -> Option<f64> {
        /// Priming sugar brings less than this, which no glass shows (rule of the crate), EBC.
        const UNSEEN_EBC: f64 = 0.1;
        let later_ebc = self.cellar.later_colour_ebc_l? / self.cellar.beer.volume_l();
        let seen = Some(later_ebc).filter(|later| *later > UNSEEN_EBC)?;
        Some(self.beer_colour_ebc()? + seen)
    }

    /// Bitterness of the wort by one of the models.
    pub(crate) fn wort_ibu_by(&self, model: BitternessModel) -> f64 {
        if model == self.model {
            self.wort_ibu()
        } else {
            self.other_ibu
        }
    }

    /// Bitterness of the cold wort at the end of the boil.
    pub(crate) fn wort_ibu(&self) -> f64 {
        self.ibu.values().sum()
    }

    /// What of a bitterness or colour of the wort is left in the finished beer.
    pub(crate) fn dilution(&self) -> f64 {
        self.carried * self.into_fermenter_l / self.cellar.beer.volume_l().max(f64::MIN_POSITIVE)
    }

    /// The wort as mashed whose gravity is the original one: at the end of the boil, or in the fermenter where water makes it up there.
    pub(crate) fn original(&self) -> Liquid {
        if self.top_up.water_kg > 0.0 {
            self.pitched_as_mashed
        } else {
            self.boiled.wort
        }
    }

    /// Malt part of the beer's colour; absent where that of the wort is unknown.
    pub(crate) fn beer_colour_ebc(&self) -> Option<f64> {
        self.wort_colour_ebc.map(|ebc| ebc * self.dilution())
    }
}

/// The bitterness model that is shown beside the one in use.
pub(crate) const fn other_model(model: BitternessModel) -> BitternessModel {
    match model {
        BitternessModel::Tinseth => BitternessModel::Kinetic,
        BitternessModel::Kinetic => BitternessModel::Tinseth,
    }
}

/// The grist in `amounts`.
pub(crate) fn grist(formula: &Formula, amounts: &PerItem<f64>) -> Grist {
    let mut grist = Grist::default();
    for (_, part, kg) in fermentables(formula, amounts).filter(|(item, ..)| item.is_mashed()) {
        grist.mass_kg += kg;
        grist.laboratory_extract_kg += kg * part.extract;
        grist.moisture_kg += kg * part.water;
    }
    grist
}

/// Extract that has run off over what the laboratory finds in the grist.
pub(crate) fn mash_yield(grist: Grist, run: &Lautered) -> Option<f64> {
    let laboratory_kg = grist.laboratory_extract_kg;
    (laboratory_kg > 0.0).then(|| (run.wort.extract_kg - run.dissolved_kg) / laboratory_kg)
}

/// The kettle sugars in `amounts`, the earliest first.
pub(crate) fn kettle_sugars(formula: &Formula, amounts: &PerItem<f64>) -> Vec<KettleSugar> {
    let mut sugars: Vec<_> = fermentables(formula, amounts)
        .filter(|(item, ..)| item.is_kettle_sugar())
        .map(|(item, part, kg)| KettleSugar {
            liquid: Liquid::solution(kg * part.water, kg * part.extract),
            time_left_min: if item.place.stage == Stage::Mash {
                formula.boil_min
            } else {
                item.time_left_min(formula.boil_min)
            },
        })
        .collect();
    order::sort_by(&mut sugars, |a, b| {
        b.time_left_min.total_cmp(&a.time_left_min)
    });
    sugars
}

/// The drinks in `amounts`, and what counts as water, that go into the kettle.
pub(crate) fn kettle_drinks(formula: &Formula, amounts: &PerItem<f64>) -> Vec<KettleSugar> {
    formula
        .items
        .with(amounts)
        .filter(|(item, _)| item.thins_wort())
        .map(|(item, amount)| KettleSugar {
            liquid: item.brings(*amount).liquid,
            time_left_min: item.time_left_min(formula.boil_min),
        })
        .filter(|drink| drink.liquid.mass_kg() > 0.0)
        .collect()
}

/// The water in `amounts` that makes up the wort in the fermenter.
pub(super) fn top_up(formula: &Formula, amounts: &PerItem<f64>) -> Liquid {
    let mut items = formula.items.with(amounts);
    items
        .find(|(item, _)| item.is_top_up())
        .map_or_else(Liquid::default, |(item, amount)| {
            item.brings(*amount).liquid
        })
}

/// Everything in `amounts` that joins the wort in the kettle, the earliest first.
pub(crate) fn into_kettle(formula: &Formula, amounts: &PerItem<f64>) -> Vec<KettleSugar> {
    let mut all = kettle_sugars(formula, amounts);
    let drinks = kettle_drinks(formula, amounts);
    if !drinks.is_empty() {
        all.extend(drinks);
        order::sort_by(&mut all, |a, b| b.time_left_min.total_cmp(&a.time_left_min));
    }
    all
}

impl Worked {
    /// The colour of the wort by a plain sum of the malts' colours, which many sheets print.
    pub(crate) fn linear_colour_ebc(&self) -> Option<f64> {
        let volume_l = self.brewed.boiled.volume_l;
        linear_colour(&self.setup.formula, &self.amounts.of, volume_l)
    }
}

impl Setup {
    /// The setup with its amounts and what they give.
    pub(crate) fn worked(self, amounts: Amounts) -> Worked {
        let brewed = self.brew(&amounts);
        Worked {
            setup: self,
            amounts,
            brewed,
        }
    }

    /// Predicts what `amounts` give.
    pub(crate) fn brew(&self, amounts: &Amounts) -> Brewed {
        let grist = grist(&self.formula, &amounts.of);
        let run = lauter(grist, amounts.liquor, &self.plant);
        let mash = (grist, self.factor_of(grist, amounts.liquor));
        self.brewed(mash, run, &amounts.of, |amounts, pitched| {
            self.fermentation().run(amounts, pitched)
        })
    }

    /// What the fermentation of its wort rests on.
    pub(crate) const fn fermentation(&self) -> InFermenter<'_> {
        InFermenter {
            formula: &self.formula,
            plant: &self.plant,
            fit: self.mash_factor.fit,
        }
    }

    /// The same, where the amounts of later additions are found by their rules on the way.
    pub(crate) fn brew_by_rule(&self, amounts: &mut Amounts) -> Brewed {
        let grist = grist(&self.formula, &amounts.of);
        let run = lauter(grist, amounts.liquor, &self.plant);
        let mash = (grist, self.factor_of(grist, amounts.liquor));
        self.brewed(mash, run, &mut amounts.of, |amounts, pitched| {
            self.fermentation().run_by_rule(amounts, pitched)
        })
    }

    /// Predicts what a measured run-off gives.
    pub(crate) fn brew_run_off(&self, amounts: &Amounts, run: Lautered) -> Brewed {
        let grist = grist(&self.formula, &amounts.of);
        let mash = (grist, self.factor_of(grist, amounts.liquor));
        self.brewed(mash, run, &amounts.of, |amounts, pitched| {
            self.fermentation().run(amounts, pitched)
        })
    }

    fn brewed<A: Borrow<PerItem<f64>>>(
        &self,
        (grist, mash_factor): (Grist, MashFactor),
        run: Lautered,
        of: A,
        fermented: impl FnOnce(A, &Fermenting) -> Cellar,
    ) -> Brewed {
        let (formula, plant) = (&self.formula, &self.plant);
        let amounts = of.borrow();
        let sugars = into_kettle(formula, amounts);
        let boiled = boil(&run, &sugars, formula.boil_min, plant);
        let kept = KeptInKettle::of(formula, amounts, (grist, &run), plant, boiled.volume_l);
        let into_fermenter_l = plant.fermenter_l_of(boiled.volume_l, kept.all_l());
        let mash_yield = mash_yield(grist, &run);
        let profile = GravityProfile::of(&run, &sugars, &boiled, formula.boil_min);
        let hops = |model| profile.bitterness(formula, amounts, &self.cooling, model);
        let ibu = hops(plant.bitterness);
        let other_ibu = hops(other_model(plant.bitterness)).values().sum();
        let wort_colour_ebc = wort_colour(formula, amounts, boiled.volume_l, mash_yield);
        let fermentable_kg = wort_fermentable_kg(formula, amounts, (grist, &run), mash_factor);
        let lactic_acid_kg = lactic_acid_kg(formula, amounts, (grist, &run));
        let acid_before_l = acid_before_l(formula, amounts, (grist, &run));
        let racking = Racking {
            boiled_l: boiled.volume_l,
            into_fermenter_l,
            top_up: top_up(formula, amounts),
        };
        let racked = |liquid: Liquid| {
            racking.of(Fermenting {
                liquid,
                fermentable_kg,
            })
        };
        let (pitched, carried) = racked(as_read(boiled.wort, lactic_acid_kg));
        let pitched_as_mashed = if lactic_acid_kg > 0.0 {
            racked(boiled.wort).0.liquid
        } else {
            pitched.liquid
        };
        let in_packages_kg = formula.conditioned().map_or(0.0, |bottled| {
            let factor = mash_factor.for_yeast(&bottled.yeast_use);
            let all_kg = wort_fermentable_kg(&bottled, amounts, (grist, &run), factor);
            let pitched_share = pitched.fermentable_kg / fermentable_kg.max(f64::MIN_POSITIVE);
            (all_kg - fermentable_kg).max(0.0) * pitched_share
        });
        let diastatic_wk = diastatic_power(formula, amounts);
        Brewed {
            cellar: fermented(of, &pitched).with_more_in_packages(in_packages_kg),
            grist,
            run,
            boiled,
            lactic_acid_kg,
            acid_before_l,
            kept,
            into_fermenter_l,
            top_up: racking.top_up,
            carried,
            ibu,
            other_ibu,
            model: plant.bitterness,
            wort_colour_ebc,
            pitched,
            pitched_as_mashed,
            mash_yield,
            diastatic_wk,
        }
    }
}

/// How boiled wort comes into the fermenter.
pub(super) struct Racking {
    pub(super) boiled_l: f64,
    pub(super) into_fermenter_l: f64,
    /// Water that makes it up there, which is counted with the boiled wort.
    pub(super) top_up: Liquid,
}

impl Racking {
    /// What is pitched of a boiled wort, and what of its extract is there over what would be, had the kettle held the water too.
    pub(super) fn of(&self, boiled: Fermenting) -> (Fermenting, f64) {
        let racked = if self.boiled_l > 0.0 {
            self.into_fermenter_l / self.boiled_l
        } else {
            0.0
        };
        if self.top_up.water_kg <= 0.0 {
            return (boiled.part(racked), 1.0);
        }
        // What stays in the kettle is not thinned.
        let strong = boiled.liquid.with_water_kg(-self.top_up.water_kg);
        let strong_l = strong.wort_volume_l().max(f64::MIN_POSITIVE);
        let lost_l = self.boiled_l - self.into_fermenter_l;
        let left = (1.0 - lost_l / strong_l).clamp(0.0, 1.0);
        let kettle = Fermenting {
            liquid: strong,
            ..boiled
        };
        let pitched = kettle.part(left).with(&Fermenting::done(self.top_up));
        (pitched, left / racked.max(f64::MIN_POSITIVE))
    }
}

/// Whether a mash has starch to convert: that of an extract beer has none.
pub(crate) fn converts_starch(formula: &Formula, amounts: &PerItem<f64>) -> bool {
    fermentables(formula, amounts)
        .any(|(item, part, kg)| item.is_mashed() && kg > 0.0 && part.sugars == Sugars::Starch)
}

/// Windisch-Kolbach units of the grist as a whole; none where it holds no starch to convert, as where caramel malt is steeped.
fn diastatic_power(formula: &Formula, amounts: &PerItem<f64>) -> Option<f64> {
    let (mut mass_kg, mut power, mut converts) = (0.0, 0.0, false);
    for (_, part, kg) in
        fermentables(formula, amounts).filter(|(item, _, kg)| item.is_mashed() && *kg > 0.0)
    {
        mass_kg += kg;
        power += kg * part.diastatic_wk?;
        converts |= part.sugars == Sugars::Starch;
    }
    converts.then(|| power / mass_kg)
}
