//! Ways out of a wort that a plant cannot brew: too strong for its mash, too much for its kettle, or both.
//!
//! Whatever is offered keeps within both limits, and its amount is one that can be measured: rounded to the side that
//! reaches the aim, and run through the model as rounded.

use super::{HALVINGS, MOST_BREWS, Remedy};
use crate::inverse::{Aim, SugarShare, WortBill, can_reach, fullest_hot_l, reach};
use crate::process::{DRIED_MALT_EXTRACT, Grist, KeptInKettle, Lautering, Plant};
use crate::quantity::{Extract, Mass, Volume, kilograms, litres, minutes};
use crate::science::bitterness::tinseth::utilisation_share;
use crate::science::density::{WATER_KG_PER_L, sucrose_density_20};
use crate::science::liquid::Liquid;
use crate::speech::Style;

/// A wort that is wanted of a plant, with what may be done about it.
#[derive(Clone, Copy)]
pub(crate) struct OutOfReach<'a> {
    design: &'a WortBill,
    aim: Aim,
    plant: &'a Plant,
    /// What trub and hops keep in the kettle for each litre of the batch, beyond the plant's own loss.
    kept_per_l: f64,
    /// In whose units the brewer measures.
    style: Style,
}

/// What a plant cannot do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Limit {
    Gravity,
    Kettle,
    Both,
}

/// Extract of sugar, a fraction of its mass (crystals of sucrose, by definition).
pub(super) const SUGAR_EXTRACT: f64 = 1.0;
/// Something dissolved goes in with this left to boil, minutes (common practice, no source).
pub(super) const DISSOLVED_AT_MIN: f64 = 10.0;
/// Quarters of an hour that a boil may be longer (common practice, no source).
const LONGEST_BOIL_QUARTERS: u32 = 12;
/// What a step down leaves of a volume, and how many go down to a ten-thousandth of it.
const STEP_DOWN: f64 = 0.975;
const STEPS_DOWN: i32 = 364;
/// A wort stronger than this is not worth topping up, extract fraction (common practice, no source).
const STRONGEST: f64 = 0.30;
/// No wort is weaker than this for want of grain, extract fraction (rule of the crate).
const LEAST_REACHED: f64 = 0.01;
/// Steps of what is measured by which an amount that only just works may have to go on.
const FURTHER_STEPS: u32 = 4;

impl<'a> OutOfReach<'a> {
    /// A wort of which `kept` stays in the kettle when it is brewed as strong as it can be, `reached`: grain and bittering hops for
    /// all of it keep more.
    pub(crate) fn of(
        design: &'a WortBill,
        aim: Aim,
        plant: &'a Plant,
        (reached, kept): (f64, KeptInKettle),
        style: Style,
    ) -> Self {
        let into_l = plant.fermenter_l_of(aim.volume_l, kept.all_l());
        let used = |strength| utilisation_share(60.0, sucrose_density_20(strength) / 1000.0);
        let grain = aim.strength / reached.max(LEAST_REACHED);
        let kept_l = kept
            .times(grain, used(reached) / used(aim.strength))
            .all_l();
        Self {
            design,
            aim: Aim {
                volume_l: plant.post_boil_l(into_l, kept_l),
                ..aim
            },
            plant,
            kept_per_l: kept_l / into_l.max(f64::MIN_POSITIVE),
            style,
        }
    }

    /// The ways out, each within both limits, the plainest first.
    pub(crate) fn remedies(&self, limit: Limit) -> Vec<Remedy> {
        let mashes = self.plant.lautering != Lautering::NoMash;
        let stronger = || {
            let sugar = self.dissolved(SUGAR_EXTRACT).filter(|_| mashes);
            [
                self.sparge(),
                self.dissolved(DRIED_MALT_EXTRACT)
                    .map(|(mass, reached)| Remedy::DriedExtract { mass, reached }),
                sugar.map(|(mass, reached)| Remedy::Sugar { mass, reached }),
                self.longer_boil(),
            ]
        };
        let less = [self.smaller(), self.several()];
        let ways: Vec<Option<Remedy>> = match limit {
            Limit::Gravity => stronger().into_iter().chain(less).collect(),
            Limit::Kettle => less.into_iter().chain([self.top_up()]).collect(),
            Limit::Both => {
                let both = less.into_iter().chain(stronger());
                both.chain([self.top_up(), self.less_of_extract()])
                    .collect()
            }
        };
        ways.into_iter().flatten().collect()
    }

    /// The largest batch that keeps within both limits, into the fermenter, where one does.
    pub(crate) fn largest_batch(&self) -> Option<Volume> {
        let volume_l = self.largest_l()?;
        let batch_l = self.fermenter_l_of(volume_l);
        (batch_l > 0.0).then(|| litres(batch_l))
    }

    fn fermenter_l_of(&self, volume_l: f64) -> f64 {
        self.plant.fermenter_l_of(volume_l, 0.0) / (1.0 + self.kept_per_l)
    }

    fn shrunk(&self, volume_l: f64) -> Aim {
        Aim {
            volume_l,
            ..self.aim
        }
    }

    /// Cold wort at the end of the boil for a batch into the fermenter.
    fn batch_of(&self, batch_l: f64) -> Aim {
        self.shrunk(self.plant.post_boil_l(batch_l, self.kept_per_l * batch_l))
    }

    fn largest_l(&self) -> Option<f64> {
        let works = |volume_l: f64| works_on(self.design, self.shrunk(volume_l), self.plant);
        largest(self.aim.volume_l, works)
    }

    /// The least sparge water that a bag needs.
    fn sparge(&self) -> Option<Remedy> {
        let Lautering::Bag { sparge_l: now_l } = self.plant.lautering else {
            return None;
        };
        let with = |sparge_l: f64| Plant {
            lautering: Lautering::Bag { sparge_l },
            ..self.plant.clone()
        };
        // Too much sparge leaves too thick a mash, so the whole range is looked through for the first that works.
        let most_l = self.aim.volume_l;
        let mut steps = (1..=40).map(|i| now_l + (most_l - now_l) * f64::from(i) / 40.0);
        let works = |sparge_l: f64| works_on(self.design, self.aim, &with(sparge_l));
        let first = steps.find(|sparge_l| works(*sparge_l))?;
        let sparge_l = least(now_l, first, works)?;
        let sparge_l = self.measured_up(sparge_l, works)?;
        Some(Remedy::Sparge {
            water: litres(sparge_l),
            reached: reached_on(self.design, self.aim, &with(sparge_l)),
        })
    }

    /// The design with this share of the extract from something dissolved. Everything else keeps its proportions within
    /// what is left.
    fn with_dissolved(&self, share: f64, extract: f64) -> WortBill {
        let mut helped = self.design.clone();
        for sugar in &mut helped.sugars {
            sugar.share *= 1.0 - share;
        }
        helped.sugars.push(SugarShare {
            share,
            water_per_extract: (1.0 - extract) / extract,
            time_left_min: self.design.boil_min.min(DISSOLVED_AT_MIN),
        });
        helped
    }

    /// The design of a plant that does not mash, its grain replaced by something dissolved, and that share of the extract.
    fn all_dissolved(&self, extract: f64) -> (WortBill, f64) {
        let mut helped = self.design.clone();
        let share = 1.0 - helped.sugars.iter().map(|sugar| sugar.share).sum::<f64>();
        helped.unit = Grist::default();
        helped.sugars.push(SugarShare {
            share,
            water_per_extract: (1.0 - extract) / extract,
            // Without it hops would boil in water.
            time_left_min: self.design.boil_min,
        });
        (helped, share)
    }

    /// The least of something dissolved in the kettle, as is, and the gravity then reached.
    fn dissolved(&self, extract: f64) -> Option<(Mass, Extract)> {
        let extract_kg = Liquid::wort_of(self.aim.volume_l, self.aim.strength).extract_kg;
        let whole_kg = extract_kg / extract;
        if self.plant.lautering == Lautering::NoMash {
            let (helped, share) = self.all_dissolved(extract);
            let kg = self.style.mass_up_kg(share * whole_kg);
            let works = works_on(&helped, self.aim, self.plant);
            let reached = Extract::clamped(100.0 * self.aim.strength);
            return works.then(|| (kilograms(kg), reached));
        }
        let works = |share: f64| {
            let helped = self.with_dissolved(share, extract);
            share < 1.0 && works_on(&helped, self.aim, self.plant)
        };
        let share = least(0.0, 0.999, works)?;
        let kg = (0..=FURTHER_STEPS)
            .map(|further| {
                let more = 1.0 + f64::from(further) / 100.0;
                self.style.mass_up_kg(share * whole_kg * more)
            })
            .find(|kg| works(kg / whole_kg))?;
        let helped = self.with_dissolved(kg / whole_kg, extract);
        Some((kilograms(kg), reached_on(&helped, self.aim, self.plant)))
    }

    /// The shortest boil that keeps within both limits.
    fn longer_boil(&self) -> Option<Remedy> {
        if self.plant.lautering == Lautering::NoMash {
            return None;
        }
        let with = |boil_min: f64| WortBill {
            boil_min,
            ..self.design.clone()
        };
        let works = |boil_min: f64| works_on(&with(boil_min), self.aim, self.plant);
        let now_min = self.design.boil_min;
        // Too long a boil overfills the kettle, so the whole range is looked through for the first that works.
        let first = (1..=LONGEST_BOIL_QUARTERS)
            .map(|quarter| now_min + 15.0 * f64::from(quarter))
            .find(|min| works(*min))?;
        let boil_min = least(first - 15.0, first, works)?;
        let step_min = boil_step_min(boil_min);
        let boil_min = step_min * (boil_min / step_min).ceil();
        works(boil_min).then(|| Remedy::LongerBoil {
            boil: minutes(boil_min),
            reached: reached_on(&with(boil_min), self.aim, self.plant),
        })
    }

    /// The largest batch that keeps within both limits.
    fn smaller(&self) -> Option<Remedy> {
        let batch_l = self.fermenter_l_of(self.largest_l()?);
        let works = |batch_l: f64| works_on(self.design, self.batch_of(batch_l), self.plant);
        let batch_l = self.measured_down(batch_l, works)?;
        Some(Remedy::SmallerBatch {
            batch: litres(batch_l),
            reached: reached_on(self.design, self.batch_of(batch_l), self.plant),
        })
    }

    /// The fewest equal brews that keep within both limits.
    fn several(&self) -> Option<Remedy> {
        let batch_l = self.fermenter_l_of(self.aim.volume_l);
        let works = |batch_l: f64| works_on(self.design, self.batch_of(batch_l), self.plant);
        (2..=MOST_BREWS).find_map(|brews| {
            let each_l = batch_l / f64::from(brews);
            let each_l = self
                .measured_down(each_l, works)
                .filter(|_| works(each_l))?;
            Some(Remedy::SeveralBrews {
                brews,
                batch: litres(each_l),
                reached: reached_on(self.design, self.batch_of(each_l), self.plant),
            })
        })
    }

    /// The least water that makes up the volume of a smaller and stronger wort.
    fn top_up(&self) -> Option<Remedy> {
        let batch_l = self.fermenter_l_of(self.aim.volume_l);
        let kept_l = self.kept_per_l * batch_l;
        // The wort that goes into the fermenter carries all the extract; water makes up the rest.
        let wanted = Liquid::wort_of(batch_l, self.aim.strength);
        let least_l = 1000.0 * wanted.extract_kg / STRONGEST / sucrose_density_20(STRONGEST);
        // Below the volume of the strongest wort worth topping up nothing is asked of the model.
        let works = |water_l: f64| {
            let strong = self.topped_up_with(water_l);
            self.plant.fermenter_l_of(strong.volume_l, kept_l) >= least_l
                && works_on(self.design, strong, self.plant)
        };
        let most_l =
            (wanted.water_kg - wanted.extract_kg * (1.0 / STRONGEST - 1.0)) / WATER_KG_PER_L;
        let mut steps = (1..=100).map(|i| most_l * f64::from(i) / 100.0);
        let first_l = steps.find(|water_l| *water_l > 0.0 && works(*water_l))?;
        let water_l = least(first_l - most_l / 100.0, first_l, works)?;
        let water_l = self.measured_up(water_l, works)?;
        let strong = self.topped_up_with(water_l);
        let boiled = reach(self.design, strong, self.plant).strength;
        let into_l = self.plant.fermenter_l_of(strong.volume_l, kept_l);
        let topped = Liquid::wort_of(into_l, boiled).with_water_kg(water_l * WATER_KG_PER_L);
        Some(Remedy::TopUp {
            water: litres(water_l),
            reached: topped.real_extract(),
        })
    }

    /// The stronger wort that so much water makes the wanted one.
    fn topped_up_with(&self, water_l: f64) -> Aim {
        let kept_l = self.kept_per_l * self.fermenter_l_of(self.aim.volume_l);
        boiled_for_topping_up(self.aim, water_l, self.plant, kept_l)
    }

    /// A smaller batch of something dissolved, for a plant that does not mash and whose kettle is too small.
    fn less_of_extract(&self) -> Option<Remedy> {
        if self.plant.lautering != Lautering::NoMash {
            return None;
        }
        let extract = DRIED_MALT_EXTRACT;
        let (helped, share) = self.all_dissolved(extract);
        let works = |batch_l: f64| works_on(&helped, self.batch_of(batch_l), self.plant);
        let volume_l = largest(self.aim.volume_l, |l| works(self.fermenter_l_of(l)))?;
        let batch_l = self.measured_down(self.fermenter_l_of(volume_l), works)?;
        let aim = self.batch_of(batch_l);
        let extract_kg = Liquid::wort_of(aim.volume_l, aim.strength).extract_kg;
        Some(Remedy::ExtractBatch {
            batch: litres(batch_l),
            mass: kilograms(self.style.mass_up_kg(share * extract_kg / extract)),
            reached: Extract::clamped(100.0 * aim.strength),
        })
    }

    /// The least volume from here on that can be measured and works.
    fn measured_up(&self, l: f64, works: impl Fn(f64) -> bool) -> Option<f64> {
        let step_l = self.style.volume_step_l(l);
        let up_l = self.style.volume_up_l(l);
        let mut tried = (0..=FURTHER_STEPS).map(|further| up_l + f64::from(further) * step_l);
        tried.find(|l| works(*l))
    }

    /// The largest volume up to here that can be measured and works.
    fn measured_down(&self, l: f64, works: impl Fn(f64) -> bool) -> Option<f64> {
        let step_l = self.style.volume_step_l(l);
        let down_l = self.style.volume_down_l(l);
        let mut tried = (0..=FURTHER_STEPS).map(|further| down_l - f64::from(further) * step_l);
        tried.find(|l| *l > 0.0 && works(*l))
    }
}

/// Minutes, or the tenths of an hour in which a long boil is said.
pub(super) fn boil_step_min(boil_min: f64) -> f64 {
    if boil_min > 174.0 { 6.0 } else { 1.0 }
}

/// Whether a plant reaches a wort and its kettle holds it.
fn works_on(design: &WortBill, aim: Aim, plant: &Plant) -> bool {
    let kettle_l = plant.kettle_l.unwrap_or(f64::INFINITY);
    fullest_hot_l(design, aim, plant) <= kettle_l && can_reach(design, aim, plant)
}

fn reached_on(design: &WortBill, aim: Aim, plant: &Plant) -> Extract {
    Extract::clamped(100.0 * reach(design, aim, plant).strength)
}

/// The wort to be boiled where so much water makes up the volume of `aim` in the fermenter.
pub(crate) fn boiled_for_topping_up(aim: Aim, water_l: f64, plant: &Plant, kept_l: f64) -> Aim {
    let into_l = plant.fermenter_l_of(aim.volume_l, kept_l);
    let wanted = Liquid::wort_of(into_l, aim.strength);
    // No water leaves less than a syrup that is all extract.
    let water_kg = (water_l * WATER_KG_PER_L).min(wanted.water_kg);
    let strong = wanted.with_water_kg(-water_kg);
    Aim {
        volume_l: plant.post_boil_l(strong.volume_l(), kept_l),
        strength: strong.strength(),
    }
}

/// The smallest value between `low` (which fails) and `high` that works, if `high` works.
fn least(low: f64, high: f64, works: impl Fn(f64) -> bool) -> Option<f64> {
    if !works(high) {
        return None;
    }
    let (mut low, mut high) = (low, high);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if works(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(high)
}

/// The largest value below `top` that works: the first found going down, then refined.
fn largest(top: f64, works: impl Fn(f64) -> bool) -> Option<f64> {
    let mut steps = (1..=STEPS_DOWN).map(|i| top * STEP_DOWN.powi(i));
    let mut low = steps.find(|x| works(*x))?;
    let mut high = low / STEP_DOWN;
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if works(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(low)
}
