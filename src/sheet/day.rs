//! The brewing day: mash, run-off, boil, stands and cooling.

use super::page::Page;
use super::units;
use crate::catalogue::Kind;
use crate::numeric::order;
use crate::process::{Stage, drains_a_bag};
use crate::quantity::{Temperature, Time, Written, in_kilograms, in_litres, in_minutes, litres};
use crate::recipe::{BatchSparge, CoolStep, CoolingMethod, HopForm, HotStep, Lauter, Stand};
use crate::scale::{Plan, PlannedAddition};
use crate::science::density::WATER_KG_PER_L;
use crate::science::heat::{MashStep, StepWork};
use crate::speech::{Style, packs, percent, shortest, time};

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
    if let Some(share) = addition.share {
        let whole = if addition.blend.is_some() {
            "of the blend"
        } else {
            "of the fermentables"
        };
        say(format!("{} {whole}", percent(share, 1)));
    }
    // By Tinseth a hop that does not boil gives none, and a figure of nothing says nothing.
    if let Some(bitterness) = addition.bitterness.filter(|b| b.ibu() >= 0.05) {
        say(format!("gives {:.1} IBU", bitterness.ibu()));
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
        StepWork::Heat { .. } => ", raised by heat".to_owned(),
        StepWork::Infuse { water, at } => format!(
            ", raised by {} of water at {}",
            style.volume(litres(in_kilograms(water) / WATER_KG_PER_L)),
            style.temperature(at)
        ),
        StepWork::Decoct { share } => format!(
            ", raised by boiling {} of the mash and returning it",
            percent(share, 0)
        ),
        StepWork::LetCool => ", when it has cooled".to_owned(),
        _ => String::new(),
    }
}

/// Grist, rests, run-off.
pub(super) fn mash(page: &mut Page, plan: &Plan, style: Style) {
    if !is_mashed(plan) {
        return;
    }
    page.heading("MASH");
    for addition in at(plan, Stage::Mash).filter(|a| !dissolves_in_kettle(a)) {
        page.tick(&amount(addition, style), &described(addition, style));
    }
    let room = plan
        .brewhouse
        .mash_tun
        .as_ref()
        .or(plan
            .brewhouse
            .kettle
            .as_ref()
            .filter(|_| drains_a_bag(&plan.brewhouse)))
        .map_or_else(String::new, |vessel| {
            format!(" of the vessel's {}", style.volume(vessel.value()))
        });
    page.paragraph(&format!(
        "The mash takes up {}{room}.",
        style.volume(plan.volumes.mash_hot)
    ));
    let steps = plan.water.mash.as_ref().map_or(&[][..], |mash| &mash.steps);
    for (number, rest) in plan.recipe.mash.rests.iter().enumerate() {
        let by = steps
            .get(number)
            .map_or_else(String::new, |step| raised(step, style));
        page.tick(
            &style.temperature(rest.temperature.value()),
            &format!(
                "rest for {}{by}   begun ______  ended ______",
                time(rest.time.value())
            ),
        );
    }
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
            "Predicted: pH {:.2}, give or take {:.2}. Measure before adding more.",
            ph.value(),
            uncertainty.value()
        ));
    }
    match &plan.brewhouse.lauter {
        Some(Lauter::Batch(BatchSparge { sparges })) => page.paragraph(&format!(
            "Drain, then rinse {sparges} x with equal parts of the sparge water, stir, drain."
        )),
        _ if !drains_a_bag(&plan.brewhouse) => {
            page.paragraph("Run off slowly and keep the grain under sparge water.");
        }
        _ if in_litres(plan.volumes.sparge_water) > 0.0 => {
            page.paragraph(
                "Lift the bag, let it drain, rinse it with the sparge water, let it drain again.",
            );
        }
        _ => page.paragraph("Lift the bag and let it drain."),
    }
}

/// The kettle before, during and after the boil; a wort that is not boiled has its readings only.
pub(super) fn boil(page: &mut Page, plan: &Plan, style: Style) {
    let boils = in_minutes(plan.boil) > 0.0;
    if boils {
        page.heading(&format!("BOIL for {}", time(plan.boil)));
    } else {
        page.heading("WORT, NOT BOILED");
    }
    let cold = units::cold(style);
    let volumes = &plan.volumes;
    let before = if boils { "before the boil" } else { "run off" };
    page.reading(
        &format!("Wort {before}, cold ({cold})"),
        &style.volume(volumes.pre_boil),
    );
    page.reading("The same, hot", &style.volume(volumes.pre_boil_hot));
    page.reading(
        &format!("Its gravity, sample cooled to {cold}"),
        &style.gravity(volumes.pre_boil_extract),
    );
    page.gap();
    timetable(page, plan, style);
    if boils {
        page.gap();
        page.reading(
            &format!("Wort after the boil, cold ({cold})"),
            &style.volume(volumes.post_boil),
        );
        page.reading("The same, hot", &style.volume(volumes.post_boil_hot));
    }
}

/// What goes into the kettle, by the minutes left.
fn timetable(page: &mut Page, plan: &Plan, style: Style) {
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
    let line = |page: &mut Page, left: &str, addition: &PlannedAddition| {
        page.timed(left, &amount(addition, style), &described(addition, style));
    };
    let minutes = |min: f64| format!("{} min", shortest(min, 0));
    if boils {
        page.paragraph("Minutes left in the boil:");
    }
    for addition in first_wort {
        line(page, "1st wort", addition);
    }
    if boils {
        let all = minutes(in_minutes(plan.boil));
        page.timed(&all, "", "the boil begins, at ______ o'clock");
    }
    for addition in boiled {
        line(page, &minutes(minutes_left(addition, plan)), addition);
    }
    if boils {
        page.timed("0 min", "", "heat off");
    }
    for addition in at_the_end {
        line(page, if boils { "0 min" } else { "" }, addition);
    }
}

/// A sugar that the recipe lists with the grain: the model takes it for the kettle, after the readings before the boil.
fn dissolves_in_kettle(addition: &PlannedAddition) -> bool {
    addition.kind == Kind::Sugar
}

fn minutes_left(addition: &PlannedAddition, plan: &Plan) -> f64 {
    in_minutes(addition.time_left.unwrap_or(plan.boil))
}

/// Stands between boil and fermenter, and the cooling to pitching temperature.
pub(super) fn cooling(page: &mut Page, plan: &Plan, style: Style) {
    page.heading("STAND AND COOL");
    let mut cool: Option<&CoolStep> = None;
    let mut number = 0;
    // As the model has it: a bare stand belongs to the source, and a plant that always has one takes its own time for
    // the first of them.
    let mut own = plan.brewhouse.stand.as_ref().map(Written::value);
    if plan.recipe.stands().next().is_none()
        && let Some(own) = own
    {
        page.tick(&time(own), "your plant's own hot stand");
    }
    for step in &plan.recipe.hot_side {
        match step {
            HotStep::Cool(step) => cool = Some(step),
            HotStep::Stand(step) => {
                number += 1;
                let long = if step.additions.is_empty() {
                    own.take()
                } else {
                    Some(step.time.value())
                };
                if let Some(long) = long {
                    let stand = Steep {
                        stand: step,
                        number,
                        time: long,
                        cool: cool.take(),
                    };
                    steep(page, plan, &stand, style);
                }
            }
        }
    }
    chill(page, plan, style);
    page.reading(
        "Wort into the fermenter",
        &style.volume(plan.volumes.into_fermenter),
    );
    if let Some(original) = plan.predicted.original {
        page.reading(
            &format!("Its gravity, at {}", units::cold(style)),
            &style.gravity(original),
        );
    }
}

/// A stand of the plan.
struct Steep<'a> {
    stand: &'a Stand,
    /// Counted from 1.
    number: usize,
    time: Time,
    /// The cooling before it.
    cool: Option<&'a CoolStep>,
}

fn steep(page: &mut Page, plan: &Plan, steep: &Steep<'_>, style: Style) {
    let Steep {
        stand,
        number,
        cool,
        ..
    } = *steep;
    if let Some(cool) = cool {
        let within = cool
            .time
            .as_ref()
            .map_or_else(String::new, |t| format!(" in {}", time(t.value())));
        page.tick(
            &style.temperature(cool.to.value()),
            &format!("cool the wort to this{within}"),
        );
    }
    let warmth = stand.temperature.as_ref().map_or_else(
        || "from the boil, heat off".to_owned(),
        |t| held(plan, t.value(), style),
    );
    page.tick(&time(steep.time), &format!("stand {warmth}"));
    for addition in at(plan, Stage::Stand).filter(|a| a.stand == Some(number)) {
        let stay = addition
            .contact
            .map_or_else(String::new, |t| format!(", for {}", time(t)));
        page.tick(
            &amount(addition, style),
            &format!("{}{stay}", described(addition, style)),
        );
    }
}

/// What a stand is held at: no wort is hotter than its boil.
fn held(plan: &Plan, wished: Temperature, style: Style) -> String {
    let cooling = &plan.brews().target.setup.cooling;
    let mut clamped = cooling.clamped_c.iter();
    let is_clamped = clamped.any(|(_, wished_c)| Temperature::clamped(*wished_c) == wished);
    match is_clamped.then(|| Temperature::clamped(cooling.boiling_c)) {
        Some(boil) => format!(
            "at {}, as hot as wort boils on your plant (the sheet wishes {})",
            style.temperature(boil),
            style.temperature(wished)
        ),
        None => format!("at {}", style.temperature(wished)),
    }
}

fn chill(page: &mut Page, plan: &Plan, style: Style) {
    let cooling = plan.brewhouse.cooling.as_ref();
    let method = cooling.and_then(|cooling| cooling.method);
    if method == Some(CoolingMethod::NoChill) {
        page.paragraph(
            "No chilling: fill hot into a vessel made for it, never glass, and leave it to cool.",
        );
        return;
    }
    let to = cooling.and_then(|cooling| cooling.to.as_ref()).map_or_else(
        || "pitching temperature".to_owned(),
        |to| style.temperature(to.value()),
    );
    let within = cooling
        .and_then(|cooling| cooling.time.as_ref())
        .map_or_else(String::new, |t| format!(" in {}", time(t.value())));
    let by = match method {
        Some(CoolingMethod::Coil) => " by the coil",
        Some(CoolingMethod::Plate) => " through the plate cooler",
        _ => "",
    };
    let left = in_litres(plan.volumes.post_boil) - in_litres(plan.volumes.into_fermenter);
    let behind = if left > 0.0 {
        format!(
            ", leaving {} with the sediment behind",
            style.volume(litres(left))
        )
    } else {
        String::new()
    };
    page.paragraph(&format!(
        "Cool to {to}{within}{by}, then run into the fermenter{behind}."
    ));
}
