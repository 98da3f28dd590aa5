//! From days to figures.

use super::day::{BrewDay, Day, HYDROMETER_G_L, REFRACTOMETER, Tool, VOLUME};
use super::day_figure::DayFigure;
use super::learnt::Learnt;
use super::linear::{HYDROMETER_OFF_G_L, Layout, MARKS, WORT_FACTOR};
use super::remark::LearnRemark;
use super::told::Learning;
use super::unknown::Unknown;
use crate::diagnostic::Error;
use crate::process::{Bent, Loss, Plant, PlantFigure, PrintedWater, Side, Worked};
use crate::recipe::{Brewhouse, Log};
use crate::scale::Plan;
use crate::speech::Noted;
use std::sync::Arc;

/// Row "hot volume without contraction" of `tests/reference/uncertainty.csv`, at 98 °C (Kunze 0.96).
const HOT_PCT: f64 = 4.0;

/// What brewing days tell of a plant.
///
/// Each day is a plan as it was brewed, and the log of that brew: see the [module](crate::learn).
///
/// # Errors
///
/// `Contradiction` for a day that no brewery can have had, such as more wort after the boil than before it, with the line of the log;
/// those of [`Kept::resume`](crate::scale::Kept::resume) for a plan that cannot be taken up.
///
/// # Source
///
/// Maximum a posteriori by Gauss and Newton's method with Huber's weights (Huber 1964); spreads from
/// `tests/reference/uncertainty.csv`.
pub fn learn(plant: &Brewhouse, days: &[BrewDay]) -> Result<Learnt, Error> {
    let mut plans: Vec<Arc<Plan>> = Vec::with_capacity(days.len());
    for (index, day) in days.iter().enumerate() {
        // Days of one plan share it.
        let mut before = days.iter().take(index).zip(&plans);
        let known = before.find(|(other, _)| other.plan == day.plan);
        let plan = match known {
            Some((_, plan)) => Arc::clone(plan),
            None => Arc::new(day.plan.resume_plainly()?),
        };
        plans.push(plan);
    }
    let brews = plans.iter().map(|plan| &plan.brews().target);
    let logs = days.iter().map(|day| &day.log);
    learn_from(plant, &brews.zip(logs).collect::<Vec<_>>())
}

/// The same of brews that were planned already.
pub(crate) fn learn_from(
    brewhouse: &Brewhouse,
    brews: &[(&Worked, &Log)],
) -> Result<Learnt, Error> {
    let mut remarks = Vec::new();
    let days = days(brewhouse, brews, &mut remarks)?;
    let (plant, batch_l) = match days.as_slice() {
        [] => {
            let batch_l = settled(brewhouse).batch.map_or(0.0, |batch| batch.l);
            (settled(brewhouse), batch_l)
        }
        [first, ..] => (
            first.prior.plant.clone(),
            mean(&days, |day| day.predicted.into_fermenter_l),
        ),
    };
    let ferments = days.iter().any(|day| {
        let mut figures = day.readings.iter().map(|reading| reading.figure);
        figures.any(|figure| figure == DayFigure::FinalExtract)
    });
    let unknowns: Vec<Unknown> = PlantFigure::ALL
        .into_iter()
        // No line of a log tells what is left in the fermenter.
        .filter(|figure| *figure != PlantFigure::FermenterLoss)
        .filter_map(|figure| {
            let value = figure.of(&plant)?;
            let is_stated = figure.is_stated(Some(brewhouse));
            let sigma = figure.sigma(&plant, is_stated, batch_l);
            Unknown::of(figure, (value, sigma), figure.day_effect(&plant, batch_l))
        })
        .chain(
            days.first()
                .filter(|_| ferments)
                .map(|day| Unknown::attenuation(day.setup)),
        )
        .collect();
    let layout = Layout {
        unknowns: &unknowns,
        days: &days,
    };
    let (fit, slips) = layout.without_slips();
    remarks.extend(trusted(&days));
    if days.iter().any(|day| day.is_taken_cold) {
        remarks.push(LearnRemark::VolumesCold { hot_pct: HOT_PCT }.into());
    }
    Ok(Learning {
        brewhouse,
        plant: &plant,
        layout,
        fit,
        slips,
    }
    .told(remarks))
}

/// The days with their readings.
fn days<'a>(
    brewhouse: &Brewhouse,
    brews: &[(&'a Worked, &'a Log)],
    remarks: &mut Vec<Noted<LearnRemark>>,
) -> Result<Vec<Day<'a>>, Error> {
    let given = settled(brewhouse);
    let mut days: Vec<Day<'a>> = brews
        .iter()
        .enumerate()
        .map(|(number, (worked, log))| {
            let plant = with_figures(&worked.setup.plant, &given);
            let mash_factor = worked.setup.mash_factor;
            Day::of(worked, Bent { plant, mash_factor }, &log.key(number))
        })
        .collect();
    if brewhouse.kettle_loss.is_none() {
        // What a line would state: with trub and the usual hops, which a default does not hold.
        let lost_l = mean(&days, kettle_loss_l);
        for day in &mut days {
            day.prior.plant = stating(&day.prior.plant, lost_l);
            day.predicted = day.setup.worts(day.amounts, &day.prior);
        }
    }
    let yeasts = || days.iter().map(Day::yeast);
    let first = yeasts().next().flatten();
    let is_yeast_known = yeasts().all(|yeast| yeast == first);
    for (day, (_, log)) in days.iter_mut().zip(brews) {
        day.read_log(log, is_yeast_known, remarks)?;
        day.check()?;
    }
    Ok(days)
}

/// A plant as its lines state it.
fn settled(brewhouse: &Brewhouse) -> Plant {
    let printed = PrintedWater::default();
    Plant::settle(brewhouse, Side::Target, None, printed, &mut Vec::new())
}

/// A day's plant with the figures of another.
fn with_figures(day: &Plant, given: &Plant) -> Plant {
    Plant {
        holdback: given.holdback,
        conversion: given.conversion,
        known_yield: given.known_yield,
        boiloff: given.boiloff,
        kettle_loss: given.kettle_loss,
        loss_holds_trub: given.loss_holds_trub,
        ..day.clone()
    }
}

/// A plant whose kettle loss is stated.
fn stating(plant: &Plant, lost_l: f64) -> Plant {
    Plant {
        kettle_loss: Loss::Litres(lost_l),
        loss_holds_trub: true,
        ..plant.clone()
    }
}

/// What a line would state of a day's kettle loss.
fn kettle_loss_l(day: &Day<'_>) -> f64 {
    let lossless = Bent {
        plant: stating(&day.prior.plant, 0.0),
        mash_factor: day.prior.mash_factor,
    };
    let into_l = day.setup.worts(day.amounts, &lossless).into_fermenter_l;
    (into_l - day.predicted.into_fermenter_l).max(0.0)
}

fn mean(days: &[Day<'_>], of: impl Fn(&Day<'_>) -> f64) -> f64 {
    days.iter().map(of).sum::<f64>() / days.len().max(1) as f64
}

/// How far the instruments that were used are trusted.
fn trusted(days: &[Day<'_>]) -> Vec<Noted<LearnRemark>> {
    let is_used = |tools: &[Tool]| {
        let mut readings = days.iter().flat_map(|day| &day.readings);
        readings.any(|reading| tools.contains(&reading.tool))
    };
    let volumes = LearnRemark::VolumesByMarks {
        reading_pct: 100.0 * VOLUME,
        marks_pct: 100.0 * MARKS,
    };
    let hydrometer = LearnRemark::HydrometerChecked {
        reading_g_l: HYDROMETER_G_L,
        instrument_g_l: HYDROMETER_OFF_G_L,
    };
    let refractometer = LearnRemark::RefractometerInWort {
        reading_plato: REFRACTOMETER,
        factor_pct: 100.0 * WORT_FACTOR,
    };
    [
        (&[Tool::KettleMarks, Tool::FermenterMarks][..], volumes),
        (&[Tool::Hydrometer], hydrometer),
        (&[Tool::Refractometer], refractometer),
    ]
    .into_iter()
    .filter(|(tools, _)| is_used(tools))
    .map(|(_, told)| told.into())
    .collect()
}
