//! `correct`: a reading of the brewing day, and the ways on from it.

use super::AnswerJson;
use super::diagnostics::{AnswerDiagnostic, Diagnostics, Location};
use super::entries::{Entry, entries, noted};
use super::fault::Fault;
use super::material::Material;
use super::measured::{In, Measured, What};
use super::plan::worked_out;
use super::request::Request;
use super::write::json;
use crate::advice::{AdvisedAction, DayReading, Shown};
use crate::diagnostic::{Error, ErrorKind};
use crate::inverse::STRONGEST_WORT_PLATO;
use crate::ledger::Remark;
use crate::process::{Assumption, Figures, Warning};
use crate::quantity::{
    Extract, Ph, SpecificGravity, Temperature, Unit, Volume, Written, in_litres,
};
use crate::science::density::{extract_of, gravity_of};
use crate::science::evaporation::cold_volume;
use crate::science::instruments::WortCorrection;
use crate::speech::shortest;
use serde::Serialize;

/// At which hydrometers are marked and volumes are meant, °C.
const USUAL_C: f64 = 20.0;
/// A sample of mash between these is cool, °C; a hot one reads about 0.3 lower (common practice, no source).
const COOLED_C: (f64, f64) = (10.0, 30.0);

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct Corrected {
    #[serde(skip_serializing_if = "Option::is_none")]
    extract_plato: Option<Extract>,
    #[serde(skip_serializing_if = "Option::is_none")]
    extract_sg: Option<SpecificGravity>,
    #[serde(
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    volume_l: Option<Volume>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ph: Option<Ph>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Day {
    corrected: Corrected,
    planned: Figures,
    advice: Vec<Entry<AdvisedAction>>,
    assumptions: Vec<Entry<Assumption>>,
    remarks: Vec<Entry<Remark>>,
    warnings: Vec<Entry<Warning>>,
}

pub(super) fn answer(
    material: &Material<'_>,
    request: &Request,
) -> Result<AnswerJson, Diagnostics> {
    let text = material.request;
    let Some(measured) = &request.reading else {
        let message = "expected a `reading`, found none".to_owned();
        let help = r#"write `"reading": {"what": "before_boil", "value": 12.5, "unit": "P", "volume_l": 11}`"#;
        let finding = Fault::MissingField.at(text, 0..1, message);
        return Err(vec![finding.with_help(Some(help.to_owned()))]);
    };
    let unit = measured.unit(text)?;
    let faults = measured.faults(text, unit);
    if !faults.is_empty() {
        return Err(faults);
    }
    Ok(json(&advised(material, request, measured, unit)?))
}

fn advised(
    material: &Material<'_>,
    request: &Request,
    measured: &Measured,
    unit: In,
) -> Result<Day, Diagnostics> {
    let text = material.request;
    let at = |field: &'static str| {
        move |error: Error| {
            let place = Location::at_value(text, &["reading", field]);
            vec![AnswerDiagnostic::refusal(&error, place)]
        }
    };
    let (plan, style) = worked_out(material, request)?;
    let usual = Temperature::clamped(USUAL_C);
    let sample = measured.at_c.unwrap_or(usual);
    let reading = match unit {
        In::Ph => DayReading::MashPh {
            measured: cooled_ph(measured).map_err(|(field, error)| at(field)(error))?,
            wanted: measured.wanted_ph,
        },
        In::Gravity(unit) => {
            let shown =
                gravity(measured, unit, sample).map_err(|(field, error)| at(field)(error))?;
            of_gravity(measured, shown).map_err(|(field, error)| at(field)(error))?
        }
        In::Volume(unit) => {
            let stated = Written::<Volume>::new(measured.value, unit).map_err(at("value"))?;
            let extract = match measured.what {
                What::BeforeBoil => Some(plan.volumes.pre_boil_extract),
                What::AfterBoil | What::InFermenter => plan.predicted.original,
                _ => measured.final_plato.or(plan.predicted.final_extract),
            };
            let at_rest = extract.unwrap_or(Extract::clamped(0.0));
            // Beer below 0 °P swells like water.
            let at_rest = Extract::clamped(at_rest.plato().max(0.0));
            let volume = if sample == usual {
                stated.value()
            } else {
                cold_volume(stated.value(), at_rest, sample).map_err(at("at_c"))?
            };
            of_volume(measured, volume)
        }
    };
    let advice = plan.advise(&reading).map_err(|error| {
        let field = match error.kind() {
            ErrorKind::UnknownName => "name",
            ErrorKind::OutOfRange if is_volume_at_fault(&reading) => "volume_l",
            ErrorKind::OutOfRange if is_warmest_at_fault(&reading) => "warmest_c",
            _ => "value",
        };
        at(field)(error)
    })?;
    // What is planned rests on what the plan took for granted.
    let mut assumptions = plan.assumptions;
    for assumed in advice.assumptions {
        if !assumptions.contains(&assumed) {
            assumptions.push(assumed);
        }
    }
    Ok(Day {
        corrected: Corrected {
            extract_plato: advice.extract,
            extract_sg: advice.extract.map(gravity_of),
            volume_l: advice.volume,
            ph: match reading {
                DayReading::MashPh { measured, .. } => Some(measured),
                _ => None,
            },
        },
        planned: advice.planned,
        advice: entries(&advice.actions, style),
        assumptions: noted(&assumptions, style),
        remarks: noted(&advice.remarks, style),
        warnings: noted(&advice.warnings, style),
    })
}

/// A figure at fault, and the field that it stands in.
type AtField = (&'static str, Error);

/// A gravity as it was shown.
fn gravity(measured: &Measured, unit: Unit, sample: Temperature) -> Result<Shown, AtField> {
    let usual = Temperature::clamped(USUAL_C);
    let shown = match unit {
        Unit::SpecificGravity => SpecificGravity::from_ratio(measured.value)
            .map(extract_of)
            .map_err(|error| meant_gravity(measured.value, error)),
        _ => Extract::from_plato(measured.value),
    }
    .map_err(|error| ("value", error))?;
    if unit == Unit::Brix {
        let factor = match measured.wort_correction {
            Some(factor) => {
                WortCorrection::from_factor(factor).map_err(|error| ("wort_correction", error))?
            }
            None => WortCorrection::default(),
        };
        return Ok(Shown::refractometer(shown).with_wort_correction(factor));
    }
    let field = if sample == usual { "value" } else { "at_c" };
    let read = Shown::hydrometer(shown).at(sample);
    read.corrected().map_err(|error| (field, error))?;
    Ok(read)
}

/// `1069` and `69` are ways to write 1.069.
fn meant_gravity(value: f64, error: Error) -> Error {
    let meant = match value {
        1000.0..=1200.0 => value / 1000.0,
        2.0..=200.0 => 1.0 + value / 1000.0,
        _ => return error,
    };
    error.with_help(format!("did you mean {meant:.3}?"))
}

/// The reading of a gravity.
fn of_gravity(measured: &Measured, shown: Shown) -> Result<DayReading, AtField> {
    let name = || measured.name.clone().unwrap_or_default();
    Ok(match measured.what {
        What::Stopped => DayReading::Stopped { shown },
        What::AdditionAt => DayReading::AdditionAt {
            name: name(),
            shown,
        },
        What::Juice => DayReading::Juice {
            name: name(),
            shown,
        },
        what => {
            let volume = match (measured.volume_l, measured.volume_at_c) {
                (Some(hot), Some(at_c)) => {
                    let extract = shown.corrected().map_err(|error| ("value", error))?;
                    Some(cold_volume(hot, extract, at_c).map_err(|error| ("volume_at_c", error))?)
                }
                (volume, _) => volume,
            };
            let shown = Some(shown);
            match what {
                What::InFermenter => DayReading::InFermenter { volume, shown },
                What::AfterBoil => DayReading::AfterBoil { volume, shown },
                _ => DayReading::BeforeBoil { volume, shown },
            }
        }
    })
}

/// The reading of a cold volume.
fn of_volume(measured: &Measured, volume: Volume) -> DayReading {
    match measured.what {
        What::BeforeBoil => DayReading::BeforeBoil {
            volume: Some(volume),
            shown: None,
        },
        What::AfterBoil => DayReading::AfterBoil {
            volume: Some(volume),
            shown: None,
        },
        What::InFermenter => DayReading::InFermenter {
            volume: Some(volume),
            shown: None,
        },
        _ => DayReading::Packaging {
            volume,
            warmest: measured.warmest_c,
            shown: measured.final_plato.map(Shown::hydrometer),
        },
    }
}

/// The pH of a sample that is cool enough to be compared.
fn cooled_ph(measured: &Measured) -> Result<Ph, AtField> {
    let (low, high) = COOLED_C;
    if let Some(at_c) = measured.at_c
        && !(low..=high).contains(&at_c.celsius())
    {
        let message = format!(
            "expected a mash sample cooled to {low} to {high} °C, found {} °C",
            shortest(at_c.celsius(), 1)
        );
        let error = Error::new(ErrorKind::OutOfModel, message)
            .with_help("cool the sample to room temperature and measure again");
        return Err(("at_c", error));
    }
    Ph::from_value(measured.value).map_err(|error| ("value", error))
}

/// Whether a reading that was refused can be so for its volume: a wort that is none has no extract below nought.
fn is_volume_at_fault(reading: &DayReading) -> bool {
    let (DayReading::BeforeBoil {
        volume: Some(_),
        shown: Some(shown),
    }
    | DayReading::AfterBoil {
        volume: Some(_),
        shown: Some(shown),
    }
    | DayReading::InFermenter {
        volume: Some(_),
        shown: Some(shown),
    }) = reading
    else {
        return false;
    };
    shown
        .corrected()
        .is_ok_and(|extract| (0.0..=STRONGEST_WORT_PLATO).contains(&extract.plato()))
}

/// Whether a reading at packaging that was refused can be so for its warmest temperature: its volume is one.
fn is_warmest_at_fault(reading: &DayReading) -> bool {
    let DayReading::Packaging {
        volume, warmest, ..
    } = reading
    else {
        return false;
    };
    warmest.is_some() && in_litres(*volume) > 0.0
}
