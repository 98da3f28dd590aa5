//! A reading of the brewing day, and the ways on from it.
//!
//! Each way carries the figures that the forward model gives when it is taken: nothing here is a rule of thumb but where it says so.
//! Dried extract counts as 95.5 % extract that ferments like the mash; bitterness and colour stay with the wort.

use super::action::{Action, AdvisedAction};
use super::day::{Day, Poured, crossing, figures, run_off, with_poured};
use super::juice::juice;
use super::late::{addition_at, gravity_before, late_item};
use super::mash::mash_off;
use super::package::{FinishedBeer, packaging};
use super::reading::{DayReading, Shown, wort};
use super::room::{Measured, check_extract, water_kg};
use super::stopped::stopped;
use crate::diagnostic::Error;
use crate::ledger::Remark;
use crate::process::{Assumption, DRIED_MALT_EXTRACT, Figures, Warning};
use crate::quantity::{Extract, Volume, in_litres, kilograms, litres, minutes};
use crate::scale::Plan;
use crate::science::density::WATER_KG_PER_L;
use crate::science::liquid::Liquid;
use crate::speech::Noted;
use serde::Serialize;

/// A boil longer than this is no advice, minutes.
const LONGEST_BOIL_MIN: f64 = 300.0;
/// Gravities closer than this are as planned, mass fraction: what a hydrometer can be read to.
const AS_PLANNED: f64 = 0.001;

/// What to do about a reading.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Advice {
    /// Extract that the reading was taken for: the real one of a wort or juice, the apparent one of a beer.
    #[serde(rename = "extract_plato", skip_serializing_if = "Option::is_none")]
    pub extract: Option<Extract>,
    /// Volume that it was taken for, at 20 °C.
    #[serde(
        rename = "volume_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub volume: Option<Volume>,
    /// What the plan had.
    pub planned: Figures,
    /// The ways on, the plainest first.
    pub actions: Vec<AdvisedAction>,
    /// What was taken for granted to find them.
    pub assumptions: Vec<Noted<Assumption>>,
    /// What of the reading itself was.
    pub remarks: Vec<Noted<Remark>>,
    /// What deserves a look: in the beer to be packaged, and in the vessel for what is to be poured in.
    pub warnings: Vec<Noted<Warning>>,
}

impl Plan {
    /// The ways on from a reading, each with what the model gives when it is taken.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a volume or an extract that is none and for a mash pH outside of 4 to 7, `UnknownName` for a juice that the plan
    /// does not use, `OutOfModel` for a gravity that the planned wort cannot show and for a wort with more
    /// extract than went into it, `Incomplete` for the pH of a mash without grain and for a
    /// wort of which neither volume nor gravity was measured.
    ///
    /// ```
    /// use wortwright::advice::{DayReading, Action};
    /// use wortwright::job::Job;
    /// use wortwright::quantity::{Ph, uom::si::mass::gram};
    /// # fn main() -> Result<(), Box<dyn std::error::Error>> {
    /// let text = "recipe Plain\nbatch 10 hL into fermenter\ntarget original 12 P\nmash\n  100 % pilsner malt\n\
    ///     brewhouse Kitchen\n  batch 10 L into fermenter\n";
    /// let plan = Job::read([("plain", text)])?.on("Kitchen")?.plan()?;
    /// let reading = DayReading::MashPh { measured: Ph::from_value(5.8)?, wanted: Ph::from_value(5.4)? };
    /// let advice = plan.advise(&reading)?;
    /// let Action::AddAcid { mass, .. } = &advice.actions[1].action else { return Err("no acid".into()) };
    /// let malt_kg = plan.additions[0].mass.ok_or("no malt")?.get::<uom::si::mass::kilogram>();
    /// // No water report: 40 mEq/(kg pH) of the malt times 0.4, and 9.50 mEq in a gram of lactic acid of 88 % at pH 5.4.
    /// assert!((mass.get::<gram>() - malt_kg * 40.0 * 0.4 / 9.50).abs() < 0.01);
    /// # Ok(())
    /// # }
    /// # use wortwright::quantity::uom;
    /// ```
    pub fn advise(&self, reading: &DayReading) -> Result<Advice, Error> {
        let day = Day::of(self);
        let (mut assumptions, mut warnings, mut remarks) = (Vec::new(), Vec::new(), Vec::new());
        let (mut extract, mut volume) = (None, None);
        let actions = match reading {
            DayReading::BeforeBoil {
                volume: measured,
                shown,
            } => {
                let planned = day.run_off_as_read();
                let found = wort(*measured, *shown, &planned, &mut remarks)?;
                (volume, extract) = (Some(found.0), Some(found.1));
                before_boil(day, found, &mut warnings)?
            }
            DayReading::InFermenter {
                volume: measured,
                shown,
            } => {
                let planned = &day.planned().pitched.liquid;
                let found = wort(*measured, *shown, planned, &mut remarks)?;
                (volume, extract) = (Some(found.0), Some(found.1));
                in_fermenter(day, found, &mut warnings)?
            }
            DayReading::Juice { name, shown } => {
                let brix = shown.corrected()?;
                extract = Some(brix);
                juice(day, name, brix)?
            }
            DayReading::Stopped { shown } => {
                let end = &day.planned().cellar.finished;
                let original = end.original_extract();
                let apparent = shown.at_20()?.in_beer(original, &mut remarks);
                extract = Some(apparent);
                stopped(day, apparent)?
            }
            DayReading::MashPh { measured, wanted } => {
                mash_off(self, *measured, *wanted, &mut assumptions)?
            }
            DayReading::AdditionAt { name, shown } => {
                let (at, item) = late_item(day, name)?;
                let apparent = gravity_before(day, at, item, shown.at_20()?, &mut remarks);
                extract = Some(apparent);
                addition_at(day, at, item, apparent)?
            }
            DayReading::Packaging {
                volume: measured,
                warmest,
                shown,
            } => {
                let original = day.planned().cellar.finished.original_extract();
                let shown = shown.map(Shown::at_20).transpose()?;
                let apparent = shown.map(|shown| shown.in_beer(original, &mut remarks));
                (volume, extract) = (Some(*measured), apparent);
                let beer = FinishedBeer {
                    volume: *measured,
                    warmest: *warmest,
                    apparent,
                };
                packaging(day, self, beer, &mut warnings)?
            }
        };
        let mut planned = figures(day.planned());
        planned.mash_ph = self.predicted.mash_ph;
        planned.mash_ph_uncertainty = self.predicted.mash_ph_uncertainty;
        Ok(Advice {
            extract,
            volume,
            planned,
            actions,
            assumptions,
            remarks,
            warnings,
        })
    }
}

fn before_boil(
    day: Day<'_>,
    (volume, extract): (Volume, Extract),
    warnings: &mut Vec<Noted<Warning>>,
) -> Result<Vec<AdvisedAction>, Error> {
    let mut run = run_off(volume, extract)?;
    run.wort = day.run_off_as_mashed(run.wort);
    check_extract(day, &run.wort, Measured::BeforeBoil)?;
    let planned = day.planned_strength();
    let as_it_is = day.given_run_off(run, day.boil_min());
    let strength = as_it_is.boiled.wort.strength();
    let mut actions = vec![AdvisedAction {
        action: Action::GoOn,
        predicted: figures(&as_it_is),
    }];
    if (strength - planned).abs() < AS_PLANNED {
        return Ok(actions);
    }
    let boil = crossing(LONGEST_BOIL_MIN, |boil_min| {
        day.given_run_off(run, boil_min).boiled.wort.strength() - planned
    });
    if let Some(boil_min) = boil.filter(|boil_min| *boil_min >= day.least_boil_min()) {
        actions.push(AdvisedAction {
            action: Action::BoilFor {
                time: minutes(boil_min),
            },
            predicted: figures(&day.given_run_off(run, boil_min)),
        });
    }
    let with = |poured: Poured| day.given_run_off(with_poured(&run, poured), day.boil_min());
    if strength > planned {
        let most_kg = 5.0 * run.wort.mass_kg();
        let water = |kg: f64| with(Poured::water(kg));
        let wanted_kg = crossing(most_kg, |kg| water(kg).boiled.wort.strength() - planned);
        let kg = wanted_kg.map_or(0.0, |kg| {
            water_kg(day, &run.wort, kg, Measured::BeforeBoil, warnings)
        });
        if kg > 0.0 {
            actions.push(AdvisedAction {
                action: Action::AddWater {
                    water: litres(kg / WATER_KG_PER_L),
                    cold: false,
                },
                predicted: figures(&water(kg)),
            });
        }
    } else {
        let dried = |kg: f64| with(dried_extract(kg));
        let most_kg = run.wort.mass_kg();
        if let Some(kg) = crossing(most_kg, |kg| dried(kg).boiled.wort.strength() - planned) {
            actions.push(AdvisedAction {
                action: Action::AddDriedExtract {
                    mass: kilograms(kg),
                    cold: false,
                },
                predicted: figures(&dried(kg)),
            });
        }
    }
    Ok(actions)
}

fn dried_extract(kg: f64) -> Poured {
    Poured {
        liquid: Liquid::solution(kg * (1.0 - DRIED_MALT_EXTRACT), kg * DRIED_MALT_EXTRACT),
        fermentability: None,
    }
}

fn in_fermenter(
    day: Day<'_>,
    (volume, extract): (Volume, Extract),
    warnings: &mut Vec<Noted<Warning>>,
) -> Result<Vec<AdvisedAction>, Error> {
    let wort = Liquid::wort(volume, extract)?;
    check_extract(day, &wort, Measured::InFermenter)?;
    let planned = day.planned().pitched.liquid.strength();
    let (wort_kg, strength) = (wort.mass_kg(), wort.strength());
    let mut actions = vec![AdvisedAction {
        action: Action::GoOn,
        predicted: figures(&day.given_wort(wort, Poured::default())),
    }];
    let mut add_water = |wanted_kg: f64| {
        let kg = water_kg(day, &wort, wanted_kg, Measured::InFermenter, warnings);
        if kg <= 0.0 {
            return;
        }
        actions.push(AdvisedAction {
            action: Action::AddWater {
                water: litres(kg / WATER_KG_PER_L),
                cold: true,
            },
            predicted: figures(&day.given_wort(wort, Poured::water(kg))),
        });
    };
    if strength > planned + AS_PLANNED && planned > 0.0 {
        add_water(wort.extract_kg / planned - wort_kg);
    }
    let planned_l = day.planned().pitched.liquid.volume_l();
    // A hundredth less is within what marks on a fermenter show (common practice, no source).
    if planned_l > in_litres(volume) * 1.01 {
        add_water(wort.water_to_fill_kg(planned_l));
    }
    if strength < planned - AS_PLANNED {
        // Mass balance: (extract + 0.955 x) / (wort + x) = planned.
        let kg = (planned * wort_kg - wort.extract_kg) / (DRIED_MALT_EXTRACT - planned);
        actions.push(AdvisedAction {
            action: Action::AddDriedExtract {
                mass: kilograms(kg),
                cold: true,
            },
            predicted: figures(&day.given_wort(wort, dried_extract(kg))),
        });
    }
    Ok(actions)
}
