//! The brewing day: mash, run-off, boil, stands and cooling.

use super::cautions::Cautions;
use super::page::Page;
use super::schedule::{
    BAG_DRAINS_MIN, BATCH_DRAINS_MIN, CONTINUOUS_RUN_OFF_MIN, DECOCTION_MIN, HotSideStep, Moment,
};
use super::spread::said_with_spread;
use super::{Day, correction, units};
use crate::catalogue::Kind;
use crate::caution::BrewStep;
use crate::numeric::order;
use crate::process::{
    PredictedFigure, Stage, Walked, cooled_on, drains_a_bag, mash_kj_per_k, rise_c_per_min,
};
use crate::quantity::{
    Ph, Temperature, Time, Volume, Written, in_kilograms, in_litres, in_minutes, litres, minutes,
};
use crate::recipe::{At, BatchSparge, CoolingMethod, HopForm, Lauter};
use crate::scale::{Outcome, Plan, PlannedAddition};
use crate::science::density::WATER_KG_PER_L;
use crate::science::fermentability::RISE_C_PER_MIN;
use crate::science::heat::{MashStep, StepWork};
use crate::speech::{Noted, Style, TemperatureScale, packs, percent, shortest, time};

/// What an addition is, with the figures that its amount was computed with.
pub(super) fn described(plan: &Plan, addition: &PlannedAddition, style: Style) -> String {
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
    if let Some(colour) = addition
        .colour
        .filter(|_| matches!(addition.kind, Kind::Malt | Kind::Grain))
    {
        let colour = style.malt_colour(colour);
        // A name such as `caramel malt 150 EBC` may say it itself.
        if !addition.name.ends_with(&colour) {
            say(colour);
        }
    }
    // Of the fermentables, or of a blend; what is all of its blend says nothing.
    if let Some(share) = addition
        .share
        .filter(|share| addition.blend.is_none() || share.fraction() < 0.999_5)
    {
        say(percent(share, 1));
    }
    // By Tinseth a hop that does not boil gives none, and a figure of nothing says nothing.
    if let Some(bitterness) = addition.bitterness.filter(|b| b.ibu() >= 0.05) {
        say(format!("{:.1} IBU", bitterness.ibu()));
    }
    let is_missing = |outcome: &Noted<Outcome>| matches!(&outcome.what, Outcome::CannotBeBought { name } if *name == addition.name);
    if plan.outcomes.iter().any(is_missing) {
        say("not available: see the box".to_owned());
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
    cautions: &Cautions,
    addition: &PlannedAddition,
    print: impl FnOnce(&mut Page),
) {
    if cautions.is_blocked(&addition.name) {
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
        let (amount, what) = (amount(addition, style), described(plan, addition, style));
        put_in(page, &day.cautions, addition, |page| {
            page.tick(&amount, &what);
        });
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
    mash_ph(page, day);
    run_off(page, day, is_bag);
}

/// The pH that is predicted, else the one that is wanted, else that of most mashes.
fn mash_ph(page: &mut Page, day: &Day<'_>) {
    /// Common practice, no source.
    const USUAL: &str = "5.2 to 5.6";
    let predicted = &day.plan.predicted;
    let wanted = day.plan.recipe.mash.ph.as_ref().map(Written::value);
    let said = |ph: Ph| shortest(ph.value(), 2);
    let (expected, target) = match (predicted.mash_ph, predicted.mash_ph_uncertainty) {
        (Some(ph), Some(uncertainty)) => {
            let missed = wanted.filter(|wanted| (wanted.value() - ph.value()).abs() >= 0.01);
            let target =
                missed.map_or_else(String::new, |wanted| format!(" (target {})", said(wanted)));
            (
                format!("{:.2} ± {:.2}", ph.value(), uncertainty.value()),
                target,
            )
        }
        _ => (wanted.map_or_else(|| USUAL.to_owned(), said), String::new()),
    };
    page.reading(
        &format!("Mash pH, sample at room temperature{target}"),
        &expected,
    );
    correction::mash_ph(page, day);
}

/// The rests, each with the hour at which it begins.
fn rests(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    let steps = plan.water.mash.as_ref().map_or(&[][..], |mash| &mash.steps);
    for (number, rest) in plan.recipe.mash.rests.iter().enumerate() {
        let by = steps
            .get(number)
            .map_or_else(String::new, |step| raised(step, style));
        let mash_in = if number == 0 { "mash in, " } else { "" };
        page.timed(
            &day.clock.shown(Moment::Rest(number)),
            &style.temperature(rest.temperature.value()),
            &format!(
                "{mash_in}rest for {}{by}; start ______ end ______",
                time(rest.time.value())
            ),
        );
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
            format!(
                "{kw} kW of the heater's power reach mash and wort; the mash rises {mash} per minute"
            )
        }
        None => format!(
            "water, mash and wort rise {} per minute",
            rate(RISE_C_PER_MIN, 1)
        ),
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
    let told = match &plan.brewhouse.lauter {
        Some(Lauter::Batch(BatchSparge { sparges })) => format!(
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
        _ if !is_bag => {
            "run off slowly, keeping the grain bed covered with sparge water".to_owned()
        }
        _ if sparged => {
            "lift and drain the bag, pour the sparge water over it, drain again".to_owned()
        }
        _ => "lift the bag and let it drain over the kettle".to_owned(),
    };
    page.timed(&day.clock.shown(Moment::RunOff), "", &told);
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
    let kettle = plan.spread.as_ref().map(|spread| spread.readings);
    let kettle = kettle.unwrap_or_default();
    // A volume spreads hot as it does cold, in proportion.
    let hot = |hot: Volume, cold: Volume, sigma_l: f64| {
        let sigma_l = sigma_l * in_litres(hot) / in_litres(cold).max(f64::MIN_POSITIVE);
        style.spoken_volume(in_litres(hot)).with_sigma(sigma_l)
    };
    let before = if boils { "Pre-boil" } else { "Wort" };
    page.reading(
        &format!(
            "{before} volume, hot ({} at {cold})",
            style.volume(volumes.pre_boil)
        ),
        &hot(volumes.pre_boil_hot, volumes.pre_boil, kettle.pre_boil_l),
    );
    // Water has no gravity to measure, and is as much as was poured in.
    if is_mashed(plan) {
        if boils {
            correction::pre_boil_volume(page, plan, style);
        }
        page.reading(
            &format!("{before} gravity, sample at {cold}"),
            &style
                .spoken_gravity(volumes.pre_boil_extract)
                .with_sigma(kettle.pre_boil_plato),
        );
        if boils {
            correction::pre_boil_gravity(page, plan, style);
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
            &hot(volumes.post_boil_hot, volumes.post_boil, kettle.post_boil_l),
        );
        correction::post_boil_volume(page);
    }
}

/// What goes into the kettle, by the clock and the minutes left.
fn timetable(page: &mut Page, day: &mut Day<'_>) {
    let plan = day.plan;
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
    for addition in first_wort {
        in_the_kettle(
            page,
            day,
            (&day.clock.shown(Moment::HeatToBoil), "1st wort"),
            addition,
        );
    }
    if boils {
        let heat = day.clock.shown(Moment::HeatToBoil);
        page.boiled(&heat, "", "", "heat to the boil");
        let left = format!("{} min", shortest(in_minutes(plan.boil), 0));
        page.boiled(
            &day.clock.shown(Moment::Boil),
            &left,
            "",
            "boil starts; minutes left in the boil:",
        );
    }
    for addition in boiled {
        let left = minutes_left(addition, plan);
        let gone = minutes(in_minutes(plan.boil) - left);
        let at = day.clock.shown_after(Moment::Boil, gone);
        let left = format!("{} min", shortest(left, 0));
        in_the_kettle(page, day, (&at, &left), addition);
    }
    let heat_off = day.clock.shown(Moment::HeatOff);
    if boils {
        page.boiled(&heat_off, "0 min", "", "heat off");
    }
    for addition in at_the_end {
        let left = if boils { "0 min" } else { "" };
        in_the_kettle(page, day, (&heat_off, left), addition);
    }
}

/// What goes into the kettle at a time of the clock, with the minutes left.
fn in_the_kettle(
    page: &mut Page,
    day: &Day<'_>,
    (clock, left): (&str, &str),
    addition: &PlannedAddition,
) {
    let style = day.style;
    let (amount, what) = (
        amount(addition, style),
        described(day.plan, addition, style),
    );
    put_in(page, &day.cautions, addition, |page| {
        page.boiled(clock, left, &amount, &what);
    });
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
            Walked::Cool { to_c, time_min } => {
                partly_cool(page, day, place, (to_c, time_min));
            }
            Walked::Stand {
                index: None,
                time_min,
                ..
            } => {
                let time_of = minutes(time_min);
                let own = "hot stand of your brewhouse";
                page.timed(
                    &day.clock.shown(Moment::HotSide(place)),
                    &time(time_of),
                    own,
                );
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
                    cools_first: matches!(
                        day.clock.hot_side.get(place),
                        Some(HotSideStep::Stand {
                            cools_first: true,
                            ..
                        })
                    ),
                    place,
                };
                steep.print(page, day);
            }
        }
    }
    chill(page, day);
    let style = day.style;
    let expected = |figure: PredictedFigure| {
        let of = (&plan.predicted, plan.spread.as_ref());
        said_with_spread(figure, of, style)
    };
    if let Some(batch) = expected(PredictedFigure::Batch) {
        page.reading("Wort into the fermenter", &batch);
        correction::into_fermenter(page, plan);
    }
    if let Some(original) = expected(PredictedFigure::Original) {
        page.reading(
            &format!("Original gravity, sample at {}", units::cold(style)),
            &original,
        );
        correction::original_gravity(page, plan, style);
    }
}

/// Cooling on the way to a stand or to the plant's own cooling.
fn partly_cool(page: &mut Page, day: &Day<'_>, place: usize, (to_c, time_min): (f64, Option<f64>)) {
    let within = time_min.map_or_else(String::new, |min| {
        format!(" in {}", time(minutes(min.round())))
    });
    page.timed(
        &day.clock.shown(Moment::HotSide(place)),
        &day.style.temperature(Temperature::clamped(to_c)),
        &format!("cool the wort to this{within}"),
    );
}

/// A stand of the plan.
struct Steep {
    /// Which step of the recipe's hot side.
    step: usize,
    /// Counted from 1.
    number: usize,
    time: Time,
    at: Temperature,
    /// Whether the wort is warmer before, and nothing says how it cools.
    cools_first: bool,
    /// Counted from 0 among the steps of the hot side.
    place: usize,
}

impl Steep {
    fn print(&self, page: &mut Page, day: &Day<'_>) {
        let (plan, style) = (day.plan, day.style);
        let cooling = &plan.brews().target.setup.cooling;
        let mut clamped = cooling.clamped_c.iter();
        let heat = style.temperature(self.at);
        let warmth = match clamped.find(|(step, _)| *step == self.step) {
            Some((_, wished_c)) => format!(
                "at {heat}, the boiling point at your altitude (original sheet: {})",
                style.temperature(Temperature::clamped(*wished_c))
            ),
            None if self.place == 0 && self.at.celsius() >= cooling.boiling_c => {
                "starting at flame-out".to_owned()
            }
            None if self.cools_first => {
                format!("at {heat}, once the wort has cooled to it")
            }
            None => format!("at {heat}"),
        };
        let long = time(self.time);
        let begins = Moment::HotSide(self.place);
        page.timed(&day.clock.shown(begins), &long, &format!("stand {warmth}"));
        for addition in at(plan, Stage::Stand).filter(|a| a.stand == Some(self.number)) {
            let stay = addition
                .contact
                .map_or_else(String::new, |t| format!(", for {}", time(t)));
            // What stays a shorter time goes in later, so that all come out at the end of the stand.
            let wait = addition.contact.map_or(0.0, |stay| {
                (in_minutes(self.time) - in_minutes(stay)).max(0.0)
            });
            let (amount, what) = (amount(addition, style), described(plan, addition, style));
            let clock = day.clock.shown_after(begins, minutes(wait));
            put_in(page, &day.cautions, addition, |page| {
                page.timed(&clock, &amount, &format!("{what}{stay}"));
            });
        }
    }
}

fn chill(page: &mut Page, day: &Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    let cooling = plan.brewhouse.cooling.as_ref();
    let method = cooling.and_then(|cooling| cooling.method);
    if method == Some(CoolingMethod::NoChill) {
        page.timed(
            &day.clock.shown(Moment::Cooling),
            "",
            "no chill: run the hot wort into a container rated for boiling liquid, never glass, let it cool, and pitch within 24 h of filling",
        );
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
    let setup = &plan.brews().target.setup;
    let goes_on = cooled_on(&setup.formula, &setup.plant, &plan.brewhouse);
    let on = goes_on.and_then(|on| Some((on.to, minutes(on.coil_min?.ceil()))));
    let on = on.map_or_else(String::new, |(to, long)| {
        format!(
            ", and on to {} in {} more",
            style.temperature(to),
            time(long)
        )
    });
    let top_up = plan.brews().target.brewed.top_up;
    let left = in_litres(plan.volumes.post_boil) + top_up.volume_l()
        - in_litres(plan.volumes.into_fermenter);
    let behind = if left > 0.0 {
        format!("; trub keeps {}", style.volume(litres(left)))
    } else {
        String::new()
    };
    page.timed(
        &day.clock.shown(Moment::Cooling),
        "",
        &format!("cool to {to}{within}{by}{on}, run off into the sanitised fermenter{behind}"),
    );
    if top_up.water_kg > 0.0 {
        page.timed(
            &day.clock.shown(Moment::Filled),
            &style.volume(top_up.volume()),
            "cold, clean water into the fermenter: boiled before, or from a supply that needs no boiling",
        );
    }
}
