//! The brewing day: mash, run-off, boil, stands and cooling.

use super::clock::{BAG_DRAINS_MIN, BATCH_DRAINS_MIN, CONTINUOUS_RUN_OFF_MIN, DECOCTION_MIN};
use super::page::Page;
use super::{Day, units};
use crate::catalogue::Kind;
use crate::caution::{BrewStep, is_blocked};
use crate::numeric::order;
use crate::process::{
    DRIED_MALT_EXTRACT, Stage, Walked, drains_a_bag, mash_kj_per_k, rise_c_per_min,
};
use crate::quantity::{
    Extract, Temperature, Time, in_kilograms, in_litres, in_minutes, kilograms, litres, minutes,
};
use crate::recipe::{At, BatchSparge, CoolingMethod, HopForm, Lauter};
use crate::scale::{Plan, PlannedAddition};
use crate::science::density::{WATER_KG_PER_L, gravity_of};
use crate::science::fermentability::RISE_C_PER_MIN;
use crate::science::heat::{MashStep, StepWork, wet_kj_per_k};
use crate::speech::{GravityScale, Style, TemperatureScale, packs, percent, shortest, time};

/// What an addition is, with the figures that its amount was computed with.
pub(super) fn described(addition: &PlannedAddition, style: Style) -> String {
    let mut text = addition.name.clone();
    let mut say = |figure: String| {
        text.push_str(", ");
        text.push_str(&figure);
    };
    if let Some(form) = addition.form {
        say(match form {
            HopForm::Pellet => "pellets",
            HopForm::Whole => "whole cones",
            HopForm::Fresh => "fresh cones",
            HopForm::Extract => "extract",
        }
        .to_owned());
    }
    if let Some(form) = addition.ingredient().facts.fruit_form {
        say(form.word().to_owned());
    }
    if let Some(alpha) = addition.alpha {
        say(format!("{} alpha", percent(alpha, 1)));
    }
    if let Some(brix) = addition.brix {
        say(format!("{} °Bx", shortest(brix.plato(), 1)));
    }
    // A name such as `caramel malt 150 EBC` says its colour itself.
    if let Some(colour) = addition.colour.filter(|_| {
        matches!(addition.kind, Kind::Malt | Kind::Grain) && !addition.name.ends_with("EBC")
    }) {
        say(style.malt_colour(colour));
    }
    // A single juice is all of its blend.
    if let Some(share) = addition
        .share
        .filter(|share| addition.blend.is_none() || share.fraction() < 0.999_5)
    {
        let whole = if addition.blend.is_some() {
            "of the blend"
        } else {
            "of the fermentables"
        };
        say(format!("{} {whole}", percent(share, 1)));
    }
    // By Tinseth a hop that does not boil gives none, and a figure of nothing says nothing.
    if let Some(bitterness) = addition.bitterness.filter(|b| b.ibu() >= 0.05) {
        say(format!("{:.1} IBU", bitterness.ibu()));
    }
    text
}

/// The amount of an addition; empty for a yeast that is pitched by cells.
pub(super) fn amount(addition: &PlannedAddition, style: Style) -> String {
    addition
        .mass
        .map(|mass| units::weighed(mass, style))
        .or_else(|| addition.volume.map(|volume| style.volume(volume)))
        .or_else(|| addition.pack_count.map(packs))
        .unwrap_or_default()
}

/// Prints an addition to be put in; of a plant that must not go into a drink only that it is left out.
pub(super) fn put_in(
    page: &mut Page,
    plan: &Plan,
    addition: &PlannedAddition,
    print: impl FnOnce(&mut Page),
) {
    if is_blocked(plan, addition.ingredient().catalogue_name()) {
        page.point(&format!(
            "leave out {}: see the box on the first page",
            addition.name
        ));
    } else {
        print(page);
    }
}

/// The additions of a stage.
pub(super) fn at(plan: &Plan, stage: Stage) -> impl Iterator<Item = &PlannedAddition> {
    plan.additions.iter().filter(move |a| a.stage == stage)
}

pub(super) fn is_mashed(plan: &Plan) -> bool {
    at(plan, Stage::Mash).any(|a| {
        matches!(a.kind, Kind::Malt | Kind::Grain)
            && a.mass.is_some_and(|mass| in_kilograms(mass) > 0.0)
    }) && plan.brewhouse.lauter != Some(Lauter::NoMash)
}

/// What brings the mash to a rest.
fn raised(step: &MashStep, style: Style) -> String {
    match step.work {
        StepWork::Heat { .. } => ", direct heat".to_owned(),
        StepWork::Infuse { water, at } => format!(
            ", infuse {} of water at {}",
            style.volume(litres(in_kilograms(water) / WATER_KG_PER_L)),
            style.temperature(at)
        ),
        StepWork::Decoct { share } => format!(
            ", decoction: boil {} of the mash and return it",
            percent(share, 0)
        ),
        StepWork::LetCool => ", after cooling".to_owned(),
        _ => String::new(),
    }
}

/// Grist, rests, run-off.
pub(super) fn mash(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    if !is_mashed(plan) {
        return;
    }
    page.heading("MASH");
    day.cautions.print(page, BrewStep::Mash);
    for addition in at(plan, Stage::Mash).filter(|a| !dissolves_in_kettle(a)) {
        let (amount, what) = (amount(addition, style), described(addition, style));
        put_in(page, plan, addition, |page| page.tick(&amount, &what));
    }
    let vessel = plan.brewhouse.mash_tun.as_ref();
    let kettle = plan.brewhouse.kettle.as_ref();
    let is_bag = drains_a_bag(&plan.brewhouse);
    let room = vessel
        .or(kettle.filter(|_| is_bag))
        .map_or_else(String::new, |vessel| {
            format!(" of {} in the vessel", style.volume(vessel.value()))
        });
    page.paragraph(&format!(
        "Mash volume with the grain, hot: {}{room}.",
        style.volume(plan.volumes.mash_hot)
    ));
    rests(page, day);
    let ph = plan
        .recipe
        .mash
        .ph
        .as_ref()
        .map_or_else(|| "-".to_owned(), |ph| shortest(ph.value().value(), 2));
    page.reading("Mash pH, sample cooled to room temperature", &ph);
    let predicted = &plan.predicted;
    if let (Some(ph), Some(uncertainty)) = (predicted.mash_ph, predicted.mash_ph_uncertainty) {
        page.paragraph(&format!(
            "Predicted pH {:.2} ± {:.2}. Measure before adding more acid or alkali.",
            ph.value(),
            uncertainty.value()
        ));
    }
    run_off(page, day, is_bag);
}

/// The rests, each with the hour at which it begins.
fn rests(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    let steps = plan.water.mash.as_ref().map_or(&[][..], |mash| &mash.steps);
    let mut now_c = None;
    for (number, rest) in plan.recipe.mash.rests.iter().enumerate() {
        let to_c = rest.temperature.value().celsius();
        let step = steps.get(number);
        let by = step.map_or_else(String::new, |step| raised(step, style));
        match step.map(|step| step.work) {
            Some(StepWork::Decoct { .. }) => day.clock.pass_minutes(DECOCTION_MIN),
            Some(StepWork::LetCool) => day.clock.lose(),
            Some(StepWork::Infuse { .. } | StepWork::MashIn { .. }) => {}
            _ => day.warm(day.mash_kj_per_k(), now_c.unwrap_or(to_c), to_c),
        }
        page.timed(
            &day.clock.shown(),
            &style.temperature(rest.temperature.value()),
            &format!(
                "rest for {}{by}   start ______  end ______",
                time(rest.time.value())
            ),
        );
        day.clock.pass(rest.time.value());
        now_c = Some(to_c);
    }
}

/// What the clock assumes for the steps whose time is not given.
pub(super) fn clock_assumed(page: &mut Page, plan: &Plan, style: Style) {
    let rate = |c_per_min: f64, digits| match style.temperature {
        TemperatureScale::Celsius => format!("{} °C", shortest(c_per_min, digits)),
        TemperatureScale::Fahrenheit => format!("{} °F", shortest(1.8 * c_per_min, digits)),
    };
    let target = &plan.brews().target;
    let mut assumed = vec![match target.setup.plant.heat_kw {
        Some(kw) => {
            let mash = mash_kj_per_k(target.brewed.grist, target.amounts.liquor.mash_l);
            let mash = rate(rise_c_per_min(&target.setup.plant, mash), 1);
            let kw = shortest(kw, 2);
            format!("heating with {kw} kW that arrive, a mash by {mash} per minute")
        }
        None => format!("heating by {} per minute", rate(RISE_C_PER_MIN, 1)),
    }];
    if is_mashed(plan) {
        assumed.push(match &plan.brewhouse.lauter {
            Some(Lauter::Batch(_)) => {
                format!("{BATCH_DRAINS_MIN:.0} min for each drain of the tun")
            }
            _ if drains_a_bag(&plan.brewhouse) => {
                format!("{BAG_DRAINS_MIN:.0} min for each drain of the bag")
            }
            _ => format!("{CONTINUOUS_RUN_OFF_MIN:.0} min to run off"),
        });
    }
    let mut steps = plan.water.mash.iter().flat_map(|mash| &mash.steps);
    if steps.any(|step| matches!(step.work, StepWork::Decoct { .. })) {
        assumed.push(format!("{DECOCTION_MIN:.0} min for a decoction"));
    }
    page.heading("CLOCK");
    page.paragraph(&format!("Assumed: {}.", assumed.join("; ")));
}

/// How the wort leaves the grain.
fn run_off(page: &mut Page, day: &mut Day<'_>, is_bag: bool) {
    let plan = day.plan;
    let sparged = in_litres(plan.volumes.sparge_water) > 0.0;
    let (told, long_min) = match &plan.brewhouse.lauter {
        Some(Lauter::Batch(BatchSparge { sparges })) => (
            format!(
                "drain, then batch sparge {}: add {} of the sparge water, stir, rest, drain",
                match sparges {
                    1 => "once".to_owned(),
                    2 => "twice".to_owned(),
                    more => format!("{more} times"),
                },
                if *sparges == 1 {
                    "all"
                } else {
                    "an equal share"
                }
            ),
            BATCH_DRAINS_MIN * f64::from(sparges.saturating_add(1)),
        ),
        _ if !is_bag => (
            "run off slowly, keeping the grain bed covered with sparge water".to_owned(),
            CONTINUOUS_RUN_OFF_MIN,
        ),
        _ if sparged => (
            "lift and drain the bag, pour the sparge water over it, drain again".to_owned(),
            2.0 * BAG_DRAINS_MIN,
        ),
        _ => (
            "lift the bag and let it drain over the kettle".to_owned(),
            BAG_DRAINS_MIN,
        ),
    };
    page.timed(&day.clock.shown(), "", &told);
    day.clock.pass_minutes(long_min);
}

/// The kettle before, during and after the boil; a wort that is not boiled has its readings only.
pub(super) fn boil(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    let boils = in_minutes(plan.boil) > 0.0;
    if boils {
        page.heading(&format!("BOIL for {}", time(plan.boil)));
    } else {
        page.heading("WORT (NO BOIL)");
    }
    let cold = units::cold(style);
    let volumes = &plan.volumes;
    let before = if boils { "Pre-boil" } else { "Wort" };
    page.reading(
        &format!(
            "{before} volume, hot ({} at {cold})",
            style.volume(volumes.pre_boil)
        ),
        &style.volume(volumes.pre_boil_hot),
    );
    // Water has no gravity to measure.
    if is_mashed(plan) {
        page.reading(
            &format!("{before} gravity, sample at {cold}"),
            &style.gravity(volumes.pre_boil_extract),
        );
        if boils {
            correction(page, plan, style);
        }
    }
    day.cautions.print(page, BrewStep::Boil);
    timetable(page, day);
    if boils {
        page.reading(
            &format!(
                "Post-boil volume, hot ({} at {cold})",
                style.volume(volumes.post_boil)
            ),
            &style.volume(volumes.post_boil_hot),
        );
    }
}

/// What brings a wort that misses its gravity before the boil to it, for each step that it misses it by.
fn correction(page: &mut Page, plan: &Plan, style: Style) {
    let aim = plan.volumes.pre_boil_extract;
    let (step_plato, said) = match style.gravity {
        GravityScale::Plato => (0.5, "0.5 °P"),
        GravityScale::SpecificGravity => {
            let next = Extract::clamped(aim.plato() + 1.0);
            let rise = gravity_of(next).ratio() - gravity_of(aim).ratio();
            (0.002 / rise, "0.002")
        }
    };
    let wort = plan.brews().target.brewed.run.wort;
    let wort_kg = wort.water_kg + wort.extract_kg;
    // Mass balance: wort of a strength one step lower with so much extract, or one step higher with so much water.
    let extract_kg = wort_kg * step_plato / (100.0 * DRIED_MALT_EXTRACT - aim.plato());
    let water_l = wort_kg * step_plato / aim.plato() / WATER_KG_PER_L;
    if !(extract_kg.is_finite() && water_l.is_finite()) {
        return;
    }
    page.paragraph(&format!(
        "For each {said}: if too low add {} dried malt extract; if too high add {} water.",
        style.mass(kilograms(extract_kg)),
        style.volume(litres(water_l)),
    ));
}

/// What goes into the kettle, by the clock and the minutes left.
fn timetable(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    let boils = in_minutes(plan.boil) > 0.0;
    let in_kettle = at(plan, Stage::Mash).filter(|a| !is_mashed(plan) || dissolves_in_kettle(a));
    let mut all: Vec<_> = in_kettle.chain(at(plan, Stage::Boil)).collect();
    // Stable: what goes in together stays in the order of the recipe.
    order::sort_by(&mut all, |a, b| {
        minutes_left(b, plan).total_cmp(&minutes_left(a, plan))
    });
    let (first_wort, later): (Vec<_>, Vec<_>) = all.into_iter().partition(|a| a.first_wort);
    let (boiled, at_the_end): (Vec<_>, Vec<_>) =
        later.into_iter().partition(|a| minutes_left(a, plan) > 0.0);
    let line = |page: &mut Page, clock: &str, left: &str, addition: &PlannedAddition| {
        let (amount, what) = (amount(addition, style), described(addition, style));
        put_in(page, plan, addition, |page| {
            page.boiled(clock, left, &amount, &what);
        });
    };
    for addition in first_wort {
        line(page, &day.clock.shown(), "1st wort", addition);
    }
    if boils {
        heat_to_the_boil(page, day);
        let left = format!("{} min", shortest(in_minutes(plan.boil), 0));
        page.boiled(
            &day.clock.shown(),
            &left,
            "",
            "boil starts; minutes left in the boil:",
        );
    }
    for addition in boiled {
        let left = minutes_left(addition, plan);
        let at = day.clock.after(minutes(in_minutes(plan.boil) - left));
        line(page, &at, &format!("{} min", shortest(left, 0)), addition);
    }
    day.clock.pass(plan.boil);
    if boils {
        page.boiled(&day.clock.shown(), "0 min", "", "heat off");
    }
    for addition in at_the_end {
        let left = if boils { "0 min" } else { "" };
        line(page, &day.clock.shown(), left, addition);
    }
}

/// From the run-off, or from cold water, to the boil.
fn heat_to_the_boil(page: &mut Page, day: &mut Day<'_>) {
    let setup = &day.plan.brews().target.setup;
    let soured_at = setup.formula.souring.and_then(|souring| souring.at);
    let from_c = soured_at.map_or_else(|| day.wort_c(), Temperature::celsius);
    page.boiled(&day.clock.shown(), "", "", "heat to the boil");
    let wort = day.plan.brews().target.brewed.run.wort;
    let wort_kj_per_k = wet_kj_per_k(wort.water_kg, wort.extract_kg);
    day.warm(wort_kj_per_k, from_c, setup.cooling.boiling_c);
}

/// A sugar that the recipe lists with the grain: the model takes it for the kettle, after the readings before the boil.
fn dissolves_in_kettle(addition: &PlannedAddition) -> bool {
    addition.kind == Kind::Sugar
}

fn minutes_left(addition: &PlannedAddition, plan: &Plan) -> f64 {
    in_minutes(addition.time_left.unwrap_or(plan.boil))
}

/// Stands between boil and fermenter, and the cooling to pitching temperature.
pub(super) fn cooling(page: &mut Page, day: &mut Day<'_>) {
    let plan = day.plan;
    let cooling = &plan.brews().target.setup.cooling;
    let hopped = at(plan, Stage::Stand).any(|a| a.kind == Kind::Hop);
    let stands = |step: &Walked| matches!(step, Walked::Stand { .. });
    page.heading(match (cooling.walked.iter().any(stands), hopped) {
        (true, true) => "HOP STAND AND COOLING",
        (true, false) => "HOT STAND AND COOLING",
        (false, _) => "COOLING",
    });
    day.cautions.print(page, BrewStep::Cooling);
    let mut stand = 0;
    for (place, step) in cooling.walked.iter().enumerate() {
        match *step {
            Walked::Cool { to_c, time_min } => partly_cool(page, day, to_c, time_min),
            Walked::Stand {
                index: None,
                time_min,
                ..
            } => {
                let time_of = minutes(time_min);
                let own = "hot stand of your brewhouse";
                page.timed(&day.clock.shown(), &time(time_of), own);
                day.clock.pass(time_of);
            }
            Walked::Stand {
                index: Some(index),
                at_c,
                time_min,
            } => {
                stand += 1;
                let steep = Steep {
                    step: index,
                    number: stand,
                    time: minutes(time_min),
                    at: Temperature::clamped(at_c),
                    is_first: place == 0,
                };
                steep.print(page, day);
            }
        }
    }
    chill(page, day);
    let style = day.style;
    page.reading(
        "Wort into the fermenter",
        &style.volume(plan.volumes.into_fermenter),
    );
    if let Some(original) = plan.predicted.original {
        page.reading(
            &format!("Original gravity, sample at {}", units::cold(style)),
            &style.gravity(original),
        );
    }
}

/// Cooling on the way to a stand or to the plant's own cooling.
fn partly_cool(page: &mut Page, day: &mut Day<'_>, to_c: f64, time_min: Option<f64>) {
    let within = time_min.map_or_else(String::new, |min| {
        format!(" in {}", time(minutes(min.round())))
    });
    page.timed(
        &day.clock.shown(),
        &day.style.temperature(Temperature::clamped(to_c)),
        &format!("cool the wort to this{within}"),
    );
    match time_min {
        Some(min) => day.clock.pass_minutes(min),
        None => day.clock.lose(),
    }
}

/// A stand of the plan.
struct Steep {
    /// Which step of the recipe's hot side.
    step: usize,
    /// Counted from 1.
    number: usize,
    time: Time,
    at: Temperature,
    /// Whether nothing cooled the wort or held it before.
    is_first: bool,
}

impl Steep {
    fn print(&self, page: &mut Page, day: &mut Day<'_>) {
        let (plan, style) = (day.plan, day.style);
        let cooling = &plan.brews().target.setup.cooling;
        let mut clamped = cooling.clamped_c.iter();
        let heat = style.temperature(self.at);
        let warmth = match clamped.find(|(step, _)| *step == self.step) {
            Some((_, wished_c)) => format!(
                "at {heat}, the boiling point at your altitude (original sheet: {})",
                style.temperature(Temperature::clamped(*wished_c))
            ),
            None if self.is_first && self.at.celsius() >= cooling.boiling_c => {
                "starting at flame-out".to_owned()
            }
            None => format!("at {heat}"),
        };
        let long = time(self.time);
        page.timed(&day.clock.shown(), &long, &format!("stand {warmth}"));
        for addition in at(plan, Stage::Stand).filter(|a| a.stand == Some(self.number)) {
            let stay = addition
                .contact
                .map_or_else(String::new, |t| format!(", for {}", time(t)));
            // What stays a shorter time goes in later, so that all come out at the end of the stand.
            let wait = addition.contact.map_or(0.0, |stay| {
                (in_minutes(self.time) - in_minutes(stay)).max(0.0)
            });
            let (amount, what) = (amount(addition, style), described(addition, style));
            let clock = day.clock.after(minutes(wait));
            put_in(page, plan, addition, |page| {
                page.timed(&clock, &amount, &format!("{what}{stay}"));
            });
        }
        day.clock.pass(self.time);
    }
}

fn chill(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    let cooling = plan.brewhouse.cooling.as_ref();
    let method = cooling.and_then(|cooling| cooling.method);
    if method == Some(CoolingMethod::NoChill) {
        page.timed(
            &day.clock.shown(),
            "",
            "no chill: run the hot wort into a container rated for boiling liquid, never glass, let it cool, and pitch within 24 h of filling",
        );
        day.clock.lose();
        return;
    }
    // A yeast that goes in warmer than the plant cools is not waited for.
    let pitched = plan.recipe.fermentation.pitch.as_ref();
    let pitched = pitched.and_then(|pitch| match &pitch.timing.at {
        Some(At::Temperature(at)) => Some(at.value()),
        _ => None,
    });
    let to = cooling.and_then(|cooling| cooling.to.as_ref()).map_or_else(
        || "pitching temperature".to_owned(),
        |to| {
            let warmer = pitched.filter(|at| *at > to.value());
            style.temperature(warmer.unwrap_or(to.value()))
        },
    );
    let within = cooling
        .and_then(|cooling| cooling.time.as_ref())
        .map_or_else(String::new, |t| format!(" in {}", time(t.value())));
    let by = match method {
        Some(CoolingMethod::Coil) => " with the coil",
        Some(CoolingMethod::Plate) => " through the plate chiller",
        _ => "",
    };
    let top_up = plan.brews().target.brewed.top_up;
    let left = in_litres(plan.volumes.post_boil) + top_up.volume_l()
        - in_litres(plan.volumes.into_fermenter);
    let behind = if left > 0.0 {
        format!(", leaving {} with the trub", style.volume(litres(left)))
    } else {
        String::new()
    };
    page.timed(
        &day.clock.shown(),
        "",
        &format!("cool to {to}{within}{by} and run off{behind}"),
    );
    day.clock
        .pass_minutes(plan.brews().target.setup.plant.cooling.time_min);
    if top_up.water_kg > 0.0 {
        page.timed(
            &day.clock.shown(),
            &style.volume(top_up.volume()),
            "cold, clean water into the fermenter: boiled before, or from a supply that needs no boiling",
        );
    }
}
