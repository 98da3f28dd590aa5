//! The day to brew from: shopping, water, mash, boil and cooling.

use super::page::{Brewing, escaped};
use super::rows::{self, Rows, amount, described};
use std::fmt::Write as _;
use wortwright::catalogue::Kind;
use wortwright::caution::BrewStep;
use wortwright::process::Stage;
use wortwright::quantity::uom::si::{mass::kilogram, time::minute, volume::liter};
use wortwright::quantity::{Time, Volume};
use wortwright::recipe::{CoolingMethod, Lauter};
use wortwright::scale::{LiquorPart, Plan, PlannedAddition, Supply};
use wortwright::science::heat::{MashStep, StepWork};
use wortwright::sheet::{HotSideStep, Moment, SheetReading, ShoppingLine};
use wortwright::speech::{Style, percent, time};

/// Water at 20 °C, kg/L (Kell 1975).
const WATER_KG_PER_L: f64 = 0.9982;

/// What to buy, what is in stock, what is not available, and the allergens.
pub(crate) fn shopping(brewing: &Brewing<'_>) -> String {
    let mut html = rows::cautions(brewing, BrewStep::Shopping);
    let list = brewing.plan.shopping_list(brewing.style);
    for part in list.chunk_by(|a, b| a.supply == b.supply) {
        let Some(first) = part.first() else { continue };
        // Nobody ticks what is not there: the box at the head says what to take.
        let (title, tick) = match first.supply {
            Supply::Missing => ("Not available", ""),
            Supply::ToBuy => ("To buy", "<span class=\"box\"></span> "),
            _ => ("In stock", "<span class=\"box\"></span> "),
        };
        let _ = writeln!(html, "<h3>{title}</h3>\n<ul class=\"shopping\">");
        for ShoppingLine { amount, what, .. } in part {
            let text = format!("{amount} {what}");
            let _ = writeln!(html, "<li>{tick}{}</li>", escaped(text.trim_start()));
        }
        html.push_str("</ul>\n");
    }
    html
}

/// Yeast cells.
pub(crate) fn cells(cells: wortwright::science::yeast::Cells) -> String {
    let billions = cells.billions();
    if billions >= 10_000.0 {
        format!("{:.1} trillion cells", billions / 1000.0)
    } else {
        format!("{billions:.0} billion cells")
    }
}

/// Water, mash, boil, cooling.
pub(crate) fn day(brewing: &Brewing<'_>) -> String {
    let mashed = is_mashed(brewing.plan);
    let mut html = water(brewing, mashed);
    if mashed {
        html.push_str(&mash(brewing));
    }
    html.push_str(&boil(brewing, mashed));
    html.push_str(&cooling(brewing));
    html
}

fn is_mashed(plan: &Plan) -> bool {
    plan.volumes.mash_hot.get::<liter>() > 0.0
}

fn water(brewing: &Brewing<'_>, mashed: bool) -> String {
    let Brewing { plan, style, .. } = *brewing;
    let volumes = &plan.volumes;
    let mut rows = Rows::new();
    let reserved = infused(plan);
    let first = match (mashed, plan.water.strike) {
        (true, Some(strike)) => {
            let grain = plan.water.grain.map_or_else(String::new, |grain| {
                format!(" (grain at {})", style.temperature(grain))
            });
            format!(
                "strike water, heated to {}{grain}; {}",
                style.about_temperature(strike),
                brewing.schedule.begins()
            )
        }
        (true, None) => "strike water".to_owned(),
        (false, _) => "into the kettle".to_owned(),
    };
    rows.tick(&style.volume(volumes.mash_water - reserved), &first);
    if reserved.get::<liter>() > 0.0 {
        let text = "reserved for later infusions, boiling";
        rows.tick(&style.volume(reserved), text);
    }
    if volumes.sparge_water.get::<liter>() > 0.0 {
        let warm = plan.water.sparge;
        let warm = warm.map_or_else(String::new, |t| format!(" at {}", style.temperature(t)));
        let text = format!(
            "sparge water{warm}; {} in total",
            style.volume(volumes.total_water)
        );
        rows.tick(&style.volume(volumes.sparge_water), &text);
    }
    for addition in &plan.water.additions {
        let part = match (addition.into, mashed) {
            (LiquorPart::Sparge, _) => "sparge",
            (_, true) => "mash",
            (_, false) => "kettle",
        };
        let mass = plan.weighed(addition.mass, addition.kind, style);
        let acid = if addition.kind == Kind::Acid {
            "; two thirds first, measure pH"
        } else {
            ""
        };
        let (much, beside) = match addition.volume {
            Some(volume) => {
                let ml = volume.get::<liter>() * 1000.0;
                (format!("{ml:.1} mL"), format!(" ({mass})"))
            }
            None => (mass, String::new()),
        };
        let text = format!("{}{beside} into the {part} water{acid}", addition.name);
        rows.tick(&much, &text);
    }
    if plan.water.reached.is_none() && !plan.water.wanted.is_empty() {
        let wanted = plan.water.wanted.iter().map(|wanted| {
            let mg_l = wanted.concentration.grams_per_litre() * 1000.0;
            let basis = if wanted.ion == "alkalinity" {
                " (as CaCO3)"
            } else {
                ""
            };
            format!("{}{basis} {mg_l:.0}", wanted.ion)
        });
        let wanted: Vec<_> = wanted.collect();
        let text = format!("Target water profile, mg/L: {}.", wanted.join(", "));
        rows.note(&text);
    }
    rows.under("Water", BrewStep::Water, brewing)
}

/// Water that goes in after mashing in.
fn infused(plan: &Plan) -> Volume {
    let steps = plan.water.mash.iter().flat_map(|mash| &mash.steps);
    let litres = steps.map(|step| match step.work {
        StepWork::Infuse { water, .. } => water.get::<kilogram>() / WATER_KG_PER_L,
        _ => 0.0,
    });
    Volume::new::<liter>(litres.sum())
}

fn mash(brewing: &Brewing<'_>) -> String {
    let Brewing {
        plan,
        style,
        schedule,
        ..
    } = *brewing;
    let mut rows = Rows::timed();
    for addition in rows::at(brewing, Stage::Mash).filter(|a| a.kind != Kind::Sugar) {
        rows.tick(&amount(addition, brewing), &described(addition, brewing));
    }
    let steps = plan.water.mash.as_ref().map_or(&[][..], |mash| &mash.steps);
    for (number, rest) in plan.recipe.mash.rests.iter().enumerate() {
        let by = steps.get(number).map_or_else(String::new, |s| by(s, style));
        let mash_in = match (plan.steeps(), number) {
            (true, _) => "bag in, ",
            (false, 0) => "mash in, ",
            (false, _) => "",
        };
        let text = format!("{mash_in}rest for {}{by}", time(rest.time.value()));
        let warmth = style.temperature(rest.temperature.value());
        rows.at(&schedule.shown(Moment::Rest(number)), &warmth, &text);
    }
    if let Some(at) = plan.water.sparge {
        let water = style.volume(plan.volumes.sparge_water);
        let text = format!("heat {water} of sparge water in a second vessel");
        let put_on = schedule.shown(Moment::SpargeWater);
        rows.at(&put_on, &style.temperature(at), &text);
    }
    rows.note(&format!(
        "The mash takes up {} hot.",
        style.volume(plan.volumes.mash_hot)
    ));
    let figures = &plan.predicted;
    let wanted = plan.recipe.mash.ph.as_ref().map(|ph| ph.value().value());
    let expected = wanted.map_or_else(|| "5.2 to 5.6".to_owned(), |ph| format!("{ph:.2}"));
    let predicted = match (figures.mash_ph, figures.mash_ph_uncertainty) {
        (Some(ph), Some(spread)) => {
            format!(" (predicted {:.2} ± {:.2})", ph.value(), spread.value())
        }
        _ => String::new(),
    };
    if !plan.steeps() {
        let what = format!("mash pH, sample at room temperature{predicted}");
        rows.measure(&expected, &what);
        rows.correct(brewing, SheetReading::MashPh);
    }
    rows.at(&schedule.shown(Moment::RunOff), "", run_off(plan));
    let title = if plan.steeps() { "Steep" } else { "Mash" };
    rows.under(title, BrewStep::Mash, brewing)
}

fn by(step: &MashStep, style: Style) -> String {
    match step.work {
        StepWork::Heat { .. } => ", direct heat".to_owned(),
        StepWork::Infuse { water, at } => {
            let litres = Volume::new::<liter>(water.get::<kilogram>() / WATER_KG_PER_L);
            let (litres, warmth) = (style.volume(litres), style.temperature(at));
            format!(", infuse {litres} of water at {warmth}")
        }
        StepWork::Decoct { share } => {
            let share = percent(share, 0);
            format!(", decoction: boil {share} of the mash and return it")
        }
        StepWork::LetCool => ", after cooling".to_owned(),
        _ => String::new(),
    }
}

fn run_off(plan: &Plan) -> &'static str {
    let sparged = plan.volumes.sparge_water.get::<liter>() > 0.0;
    match (&plan.brewhouse.lauter, sparged) {
        (Some(Lauter::Batch(_)), _) => "drain, add sparge water, stir, rest, drain again",
        (Some(Lauter::Bag(_)), true) => "lift and drain the bag, pour the sparge water over it",
        (Some(Lauter::Bag(_)), false) => "lift the bag and let it drain over the kettle",
        (_, true) => "run off slowly, keeping the grain bed covered with sparge water",
        (_, false) => "run off the wort from the grain",
    }
}

fn boil(brewing: &Brewing<'_>, mashed: bool) -> String {
    let Brewing { plan, style, .. } = *brewing;
    let volumes = &plan.volumes;
    let boil_min = plan.boil.get::<minute>();
    let mut rows = Rows::timed();
    let before = "before the boil, hot";
    rows.measure(&style.volume(volumes.pre_boil_hot), before);
    rows.correct(brewing, SheetReading::PreBoilVolume);
    if mashed {
        let text = format!("before the boil, sample cooled to {}", rows::cold(style));
        rows.measure(&style.gravity(volumes.pre_boil_extract), &text);
        rows.correct(brewing, SheetReading::PreBoilGravity);
    }
    let in_mash = rows::at(brewing, Stage::Mash);
    let in_mash = in_mash.filter(|a| !mashed || a.kind == Kind::Sugar);
    let mut all: Vec<_> = in_mash.chain(rows::at(brewing, Stage::Boil)).collect();
    // Stable: what goes in together stays in the order of the recipe.
    let left = |a: &PlannedAddition| a.time_left.unwrap_or(plan.boil).get::<minute>();
    all.sort_by(|a, b| {
        b.first_wort
            .cmp(&a.first_wort)
            .then(left(b).total_cmp(&left(a)))
    });
    let schedule = brewing.schedule;
    let boils = boil_min > 0.0;
    let (first_wort, boiled): (Vec<_>, Vec<_>) = all.into_iter().partition(|a| a.first_wort);
    let dissolves = |a: &&PlannedAddition| boils && a.kind == Kind::Sugar && left(a) >= boil_min;
    let (dissolved, boiled): (Vec<_>, Vec<_>) = boiled.into_iter().partition(dissolves);
    let heat = schedule.shown(Moment::HeatToBoil);
    for addition in first_wort {
        let text = format!("first wort: {}", described(addition, brewing));
        rows.at(&heat, &amount(addition, brewing), &text);
    }
    if boils {
        rows.at(&heat, "", "heat to the boil");
        let dissolving = schedule.shown(Moment::Dissolve);
        for addition in dissolved {
            let text = format!("dissolve: {}", described(addition, brewing));
            rows.at(&dissolving, &amount(addition, brewing), &text);
        }
        let begins = format!("boil starts, {boil_min:.0} min");
        rows.at(&schedule.shown(Moment::Boil), "", &begins);
    }
    for addition in boiled {
        let left = left(addition);
        let gone = Time::new::<minute>(boil_min - left);
        let when = if boils {
            format!("{left:.0} min left: ")
        } else {
            String::new()
        };
        let text = format!("{when}{}", described(addition, brewing));
        let clock = schedule.shown_after(Moment::Boil, gone);
        rows.at(&clock, &amount(addition, brewing), &text);
    }
    let title = if boils {
        rows.at(&schedule.shown(Moment::HeatOff), "", "heat off");
        let after = "after the boil, hot";
        rows.measure(&style.volume(volumes.post_boil_hot), after);
        rows.correct(brewing, SheetReading::PostBoilVolume);
        format!("Boil for {}", time(plan.boil))
    } else {
        "Wort (no boil)".to_owned()
    };
    rows.under(&title, BrewStep::Boil, brewing)
}

fn cooling(brewing: &Brewing<'_>) -> String {
    let Brewing {
        plan,
        style,
        schedule,
        ..
    } = *brewing;
    let mut rows = Rows::timed();
    let mut title = "Cooling";
    for (place, step) in schedule.hot_side.iter().enumerate() {
        let begins = Moment::HotSide(place);
        let clock = schedule.shown(begins);
        match *step {
            HotSideStep::Cool { to, time: long } => {
                let within = long.map_or_else(String::new, |t| format!(" in {}", time(t)));
                let text = format!("cool the wort to this{within}");
                rows.at(&clock, &style.temperature(to), &text);
            }
            HotSideStep::Stand {
                number,
                at,
                time: long,
                after_cooling,
            } => {
                let here = rows::at(brewing, Stage::Stand);
                let here: Vec<_> = here.filter(|a| a.stand == number).collect();
                let hops = here.iter().any(|a| a.kind == Kind::Hop);
                title = if hops {
                    "Hop stand and cooling"
                } else {
                    "Hot stand and cooling"
                };
                let cooled = if after_cooling.is_some() {
                    ", once the wort has cooled to it"
                } else {
                    ""
                };
                let text = format!("stand at {}{cooled}", style.temperature(at));
                rows.at(&clock, &time(long), &text);
                for addition in here.into_iter().filter(|_| number.is_some()) {
                    let stay = addition.contact;
                    // What stays a shorter time goes in later.
                    let wait = stay.map_or_else(Time::default, |stay| long - stay);
                    let stay = stay.map_or_else(String::new, |t| format!(", for {}", time(t)));
                    let text = format!("{}{stay}", described(addition, brewing));
                    let clock = schedule.shown_after(begins, wait);
                    rows.at(&clock, &amount(addition, brewing), &text);
                }
            }
            _ => {}
        }
    }
    let clock = schedule.shown(Moment::Cooling);
    rows.at(&clock, "", &chill(plan, style));
    let into = &plan.volumes.into_fermenter;
    rows.measure(&style.volume(*into), "wort into the fermenter");
    rows.correct(brewing, SheetReading::IntoFermenter);
    if let Some(original) = plan.predicted.original {
        let text = format!("original gravity, sample at {}", rows::cold(style));
        rows.measure(&style.gravity(original), &text);
        rows.correct(brewing, SheetReading::OriginalGravity);
    }
    rows.under(title, BrewStep::Cooling, brewing)
}

fn chill(plan: &Plan, style: Style) -> String {
    let cooling = plan.brewhouse.cooling.as_ref();
    let method = cooling.and_then(|cooling| cooling.method);
    if method == Some(CoolingMethod::NoChill) {
        return "no chill: run the hot wort into a container rated for boiling liquid, never glass, let it cool, and \
                pitch within 24 h of filling"
            .to_owned();
    }
    let to = cooling.and_then(|cooling| cooling.to.as_ref()).map_or_else(
        || "pitching temperature".to_owned(),
        |to| style.temperature(to.value()),
    );
    let within = cooling.and_then(|cooling| cooling.time.as_ref());
    let within = within.map_or_else(String::new, |t| format!(" in {}", time(t.value())));
    let by = match method {
        Some(CoolingMethod::Coil) => " with the coil",
        Some(CoolingMethod::Plate) => " through the plate chiller",
        _ => "",
    };
    format!("cool to {to}{within}{by}, run into the sanitised fermenter, leaving the trub")
}
