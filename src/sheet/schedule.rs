//! When each step of a brewing day begins.
//!
//! Rests, boil and stands have their times in the recipe; heating and running off have not, and take what is common
//! practice. The full sheet says what was assumed.

use super::addition::{dissolves_before_boil, is_in_bag, is_mashed};
use super::clock::{Clock, TimeOfDay};
use super::water::infused_l;
use crate::process::{
    Walked, boiling_c, cooled_on, cooling_min, mash_kj_per_k, rise_c_per_min, to_stand_min,
};
use crate::quantity::{Temperature, Time, in_litres, in_minutes, minutes};
use crate::recipe::{BatchSparge, CoolingMethod, Lauter};
use crate::scale::Plan;
use crate::science::density::WATER_KG_PER_L;
use crate::science::fermentability::RISE_C_PER_MIN;
use crate::science::heat::{StepWork, wet_kj_per_k};

/// Lifting a bag and letting it drain, minutes (common practice, no source).
pub(super) const BAG_DRAINS_MIN: f64 = 15.0;
/// One drain of a tun that is batch sparged, its stirring and resting counted, minutes (common practice, no source).
pub(super) const BATCH_DRAINS_MIN: f64 = 20.0;
/// Running off under sparge water, minutes (common practice, no source).
pub(super) const CONTINUOUS_RUN_OFF_MIN: f64 = 90.0;
/// Drawing a part of the mash, boiling and returning it, minutes, once it has come to the boil (common practice, no source).
pub(super) const DECOCTION_MIN: f64 = 20.0;
/// Dissolving malt extract or sugar with the heat off, and back to the boil, minutes (common practice, no source).
pub(super) const DISSOLVES_MIN: f64 = 10.0;
/// Temperature at which lactic bacteria are kept where the recipe does not say, °C (common practice, no source: 30 to 45).
pub(super) const SOURED_AT_C: f64 = 38.0;

/// Wort this near to a stand's temperature is at it (rule of the crate), K.
const NEAR_K: f64 = 0.5;

/// A moment of a brewing day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum Moment {
    /// A rest of the mash begins, counted from 0.
    Rest(usize),
    /// The sparge water is put on the heat.
    SpargeWater,
    /// The wort is drained from the grain.
    RunOff,
    /// The wort is cooled for the souring.
    SourCooling,
    /// The bacteria go in.
    Culture,
    /// The kettle is heated to the boil.
    HeatToBoil,
    /// The wort boils, and what is to dissolve before the boil begins goes in with the heat off.
    Dissolve,
    /// The boil begins.
    Boil,
    /// The heat is off.
    HeatOff,
    /// A step of [`Schedule::hot_side`] begins, counted from 0.
    HotSide(usize),
    /// The last cooling begins.
    Cooling,
    /// Wort is in the fermenter.
    Filled,
    /// The yeast goes in.
    Pitch,
}

/// A step between the end of the boil and the last cooling, as it is done on the plant.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum HotSideStep {
    /// The wort is held.
    Stand {
        /// Which stand of the plan, counted from 1; none for the plant's own.
        number: Option<usize>,
        /// How warm it is held.
        at: Temperature,
        /// How long.
        time: Time,
        /// How long the wort is assumed to cool to it before; absent where it is as warm.
        after_cooling: Option<Time>,
    },
    /// The wort is cooled.
    Cool {
        /// To this.
        to: Temperature,
        /// In this time; absent where it cannot be told.
        time: Option<Time>,
    },
}

/// When each step of a brewing day begins.
///
/// ```
/// use wortwright::{Job, sheet::Moment};
///
/// let beer = std::fs::read_to_string("examples/data/saltmarsh-lantern.gyle")?;
/// let home = std::fs::read_to_string("examples/data/stove-top.gyle")?;
/// let plan = Job::read([("beer", beer), ("home", home)])?.on("Stove top")?.plan()?;
/// let day = plan.schedule(Some("9:00".parse()?));
/// assert_eq!(day.shown(Moment::Boil), "11:58");
/// assert_eq!(plan.schedule(None).shown(Moment::Boil), "2:58"); // from the heat on
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct Schedule {
    moments: Vec<(Moment, Clock)>,
    /// What is done between the end of the boil and the last cooling.
    pub hot_side: Vec<HotSideStep>,
    begins: Clock,
}

impl Plan {
    /// When each step of the brewing day begins; without a start counted from the heat on.
    #[must_use]
    pub fn schedule(&self, start: Option<TimeOfDay>) -> Schedule {
        let mut walk = Walk {
            plan: self,
            clock: Clock::starting(start),
            begins: Clock::starting(start),
            moments: Vec::new(),
        };
        let begins = walk.begins;
        walk.mash();
        walk.souring();
        walk.boil();
        let hot_side = walk.hot_side();
        walk.cooling();
        Schedule {
            moments: walk.moments,
            hot_side,
            begins,
        }
    }
}

impl Schedule {
    /// The hour and minute of a moment; blanks after a step of unknown length, nothing for one that this day has not.
    #[must_use]
    pub fn shown(&self, moment: Moment) -> String {
        self.clock(moment).map(Clock::shown).unwrap_or_default()
    }

    /// The same so much later.
    #[must_use]
    pub fn shown_after(&self, moment: Moment, time: Time) -> String {
        let clock = self.clock(moment);
        clock.map(|clock| clock.after(time)).unwrap_or_default()
    }

    /// When the brewer begins to heat.
    #[must_use]
    pub fn begins(&self) -> String {
        self.begins.begins()
    }

    /// The day of a moment, from 1.
    pub(super) fn day(&self, moment: Moment) -> Option<u32> {
        self.clock(moment).and_then(Clock::day)
    }

    /// Whether a moment comes before another; neither does where either is unknown.
    pub(super) fn is_before(&self, moment: Moment, other: Moment) -> bool {
        let clocks = self.clock(moment).zip(self.clock(other));
        clocks.is_some_and(|(clock, other)| clock.is_before(other))
    }

    fn clock(&self, moment: Moment) -> Option<Clock> {
        let mut moments = self.moments.iter();
        moments
            .find(|(at, _)| *at == moment)
            .map(|(_, clock)| *clock)
    }
}

/// A clock on its way through a day.
struct Walk<'a> {
    plan: &'a Plan,
    clock: Clock,
    begins: Clock,
    moments: Vec<(Moment, Clock)>,
}

impl Walk<'_> {
    fn mark(&mut self, moment: Moment) {
        self.moments.push((moment, self.clock));
    }

    /// What takes up so much heat for a kelvin, kJ/K, is warmed from one temperature to another, °C.
    fn warm(&mut self, kj_per_k: f64, from_c: f64, to_c: f64) {
        let plant = &self.plan.brews().target.setup.plant;
        let rise = rise_c_per_min(plant, kj_per_k);
        self.clock.pass_minutes((to_c - from_c) / rise);
    }

    /// Water, rests, run-off.
    fn mash(&mut self) {
        let plan = self.plan;
        if !is_mashed(plan) {
            return;
        }
        let target = &plan.brews().target;
        match plan.water.strike {
            Some(strike) => {
                let water_l = in_litres(plan.volumes.mash_water) - infused_l(plan);
                let water_kj_per_k = wet_kj_per_k(water_l * WATER_KG_PER_L, 0.0);
                let tap_c = target.setup.plant.cooling.coolant_c;
                self.warm(water_kj_per_k, tap_c, strike.celsius());
            }
            None => self.clock.lose(),
        }
        let steps = plan.water.mash.as_ref().map_or(&[][..], |mash| &mash.steps);
        let mash = mash_kj_per_k(target.brewed.grist, target.amounts.liquor.mash_l);
        let mut now_c = None;
        for (number, rest) in plan.recipe.mash.rests.iter().enumerate() {
            let to_c = rest.temperature.value().celsius();
            match steps.get(number).map(|step| step.work) {
                Some(StepWork::Decoct { share }) => {
                    let boils_c = boiling_c(&target.setup.plant);
                    self.warm(share.fraction() * mash, now_c.unwrap_or(to_c), boils_c);
                    self.clock.pass_minutes(DECOCTION_MIN);
                }
                Some(StepWork::LetCool) => self.clock.lose(),
                Some(StepWork::Infuse { .. } | StepWork::MashIn { .. }) => {}
                _ => self.warm(mash, now_c.unwrap_or(to_c), to_c),
            }
            self.mark(Moment::Rest(number));
            self.clock.pass(rest.time.value());
            now_c = Some(to_c);
        }
        let is_bag = is_in_bag(plan);
        let sparged = in_litres(plan.volumes.sparge_water) > 0.0;
        // Until the sparge water is wanted, and from then on.
        let (before_min, after_min) = match &plan.brewhouse.lauter {
            Some(Lauter::Batch(BatchSparge { sparges })) => {
                (BATCH_DRAINS_MIN, BATCH_DRAINS_MIN * f64::from(*sparges))
            }
            _ if !is_bag => (0.0, CONTINUOUS_RUN_OFF_MIN),
            _ if sparged => (BAG_DRAINS_MIN, BAG_DRAINS_MIN),
            _ => (BAG_DRAINS_MIN, 0.0),
        };
        if let Some(sparge) = plan.water.sparge {
            let tap_c = target.setup.plant.cooling.coolant_c;
            let heated_min = ((sparge.celsius() - tap_c) / RISE_C_PER_MIN).max(0.0);
            let put_on = self.clock.earlier(heated_min - before_min, self.begins);
            self.moments.push((Moment::SpargeWater, put_on));
        }
        self.mark(Moment::RunOff);
        self.clock.pass_minutes(before_min + after_min);
    }

    /// The temperature of the wort that has run off, of the water where nothing is mashed, °C.
    fn wort_c(&self) -> f64 {
        let rests = &self.plan.recipe.mash.rests;
        let last_rest = rests.last().filter(|_| is_mashed(self.plan));
        let coolant_c = self.plan.brews().target.setup.plant.cooling.coolant_c;
        last_rest.map_or(coolant_c, |rest| rest.temperature.value().celsius())
    }

    fn souring(&mut self) {
        let setup = &self.plan.brews().target.setup;
        let (Some(souring), Some(stated)) = (setup.formula.souring, &self.plan.recipe.souring)
        else {
            return;
        };
        self.mark(Moment::SourCooling);
        let warm_c = souring.at.map_or(SOURED_AT_C, Temperature::celsius);
        match cooling_min(&setup.plant, self.wort_c(), warm_c) {
            Some(min) => self.clock.pass_minutes(min),
            None => self.clock.lose(),
        }
        self.mark(Moment::Culture);
        match &stated.time {
            Some(long) => self.clock.pass(long.value()),
            None => self.clock.lose(),
        }
    }

    fn boil(&mut self) {
        let setup = &self.plan.brews().target.setup;
        let soured_c = setup
            .formula
            .souring
            .map(|souring| souring.at.map_or(SOURED_AT_C, Temperature::celsius));
        self.mark(Moment::HeatToBoil);
        if in_minutes(self.plan.boil) > 0.0 {
            let from_c = soured_c.unwrap_or_else(|| self.wort_c());
            let wort = self.plan.brews().target.brewed.run.wort;
            let wort_kj_per_k = wet_kj_per_k(wort.water_kg, wort.extract_kg);
            self.warm(wort_kj_per_k, from_c, setup.cooling.boiling_c);
        }
        if self
            .plan
            .additions
            .iter()
            .any(|a| dissolves_before_boil(self.plan, a))
        {
            self.mark(Moment::Dissolve);
            self.clock.pass_minutes(DISSOLVES_MIN);
        }
        self.mark(Moment::Boil);
        self.clock.pass(self.plan.boil);
        self.mark(Moment::HeatOff);
    }

    fn hot_side(&mut self) -> Vec<HotSideStep> {
        let setup = &self.plan.brews().target.setup;
        let (plant, cooling) = (&setup.plant, &setup.cooling);
        let (walked, mut now_c) = (&cooling.walked, cooling.boiling_c);
        let (mut steps, mut stands) = (Vec::new(), 0);
        for (number, step) in walked.iter().enumerate() {
            let after_cooling = match *step {
                Walked::Stand { at_c, .. } if now_c > at_c + NEAR_K => {
                    Some(minutes(to_stand_min(plant, now_c, at_c)))
                }
                _ => None,
            };
            if let Some(time) = after_cooling {
                self.clock.pass(time);
            }
            self.mark(Moment::HotSide(number));
            match *step {
                Walked::Stand {
                    index,
                    at_c,
                    time_min,
                } => {
                    self.clock.pass_minutes(time_min);
                    steps.push(HotSideStep::Stand {
                        number: index.map(|_| {
                            stands += 1;
                            stands
                        }),
                        at: Temperature::clamped(at_c),
                        time: minutes(time_min),
                        after_cooling,
                    });
                    now_c = at_c;
                }
                Walked::Cool { to_c, time_min } => {
                    match time_min {
                        Some(min) => self.clock.pass_minutes(min),
                        None => self.clock.lose(),
                    }
                    steps.push(HotSideStep::Cool {
                        to: Temperature::clamped(to_c),
                        time: time_min.map(minutes),
                    });
                    now_c = to_c;
                }
            }
        }
        steps
    }

    /// The last cooling, and the one in the cold where the yeast is pitched colder.
    fn cooling(&mut self) {
        let plan = self.plan;
        let setup = &plan.brews().target.setup;
        self.mark(Moment::Cooling);
        if setup.plant.cooling.method == CoolingMethod::NoChill {
            self.clock.lose();
        } else {
            self.clock.pass_minutes(setup.plant.cooling.time_min);
        }
        let goes_on = cooled_on(&setup.formula, &setup.plant, &plan.brewhouse);
        if let Some(minutes) = goes_on.and_then(|goes_on| goes_on.coil_min) {
            self.clock.pass_minutes(minutes);
        }
        self.mark(Moment::Filled);
        if goes_on.is_some_and(|goes_on| goes_on.coil_min.is_none()) {
            self.clock.lose();
        }
        self.mark(Moment::Pitch);
    }
}
