//! `correct`: a reading of the brewing day, and the ways on from it.

use super::fault::Fault;
use super::finding::{Finding, Findings, Place};
use super::locate;
use super::material::{Material, Models};
use super::plan::worked_out;
use super::request::{GravityUnit, Measured, Request, What};
use super::said::{Said, said};
use super::{refuse, reply};
use crate::correct::{DayReading, WayOn, advise};
use crate::diagnostic::{Error, ErrorKind};
use crate::process::Figures;
use crate::quantity::{Extract, SpecificGravity, Temperature, Volume};
use crate::science::density::{extract_of, gravity_of};
use crate::science::evaporation::cold_volume;
use crate::science::instruments::hydrometer;
use serde::Serialize;
use serde_json::value::RawValue;

/// At which hydrometers are marked and volumes are meant, °C.
const USUAL_C: f64 = 20.0;

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct Corrected {
    extract_plato: Extract,
    extract_sg: SpecificGravity,
    #[serde(
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    volume_l: Option<Volume>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Day {
    corrected: Corrected,
    planned: Figures,
    advice: Vec<Said<WayOn>>,
}

pub(super) fn answer(text: &str, mut request: Request<'_>, id: Option<&RawValue>) -> String {
    let Some(measured) = request.reading.take() else {
        let message = "expected `reading`, what was measured, found none".to_owned();
        let help = r#"write `"reading": {"what": "before_boil", "value": 12.5, "unit": "P", "volume_l": 11}`"#;
        let finding = Fault::MissingField.at(text, 0..1, message);
        return refuse(id, &[finding.with_help(Some(help.to_owned()))]);
    };
    let faults = faults(text, &measured);
    if !faults.is_empty() {
        return refuse(id, &faults);
    }
    let models = Models::taken_from(&mut request);
    let material = match Material::of(text, &request, models) {
        Ok(material) => material,
        Err(findings) => return refuse(id, &findings),
    };
    match advised(&material, &request, measured) {
        Ok(result) => reply(id, &material.findings, result),
        Err(findings) => refuse(id, &material.refused(findings)),
    }
}

/// What is missing from a reading, and what does nothing in it.
fn faults(text: &str, measured: &Measured) -> Findings {
    let (word, takes): (_, &[&str]) = match measured.what {
        What::BeforeBoil => ("before_boil", &["volume_l", "volume_at_c"]),
        What::InFermenter => ("in_fermenter", &["volume_l", "volume_at_c"]),
        What::Juice => ("juice", &["name"]),
        What::Stopped => ("stopped", &[]),
    };
    let mut faults = Vec::new();
    for (field, is_there) in [
        ("volume_l", measured.volume_l.is_some()),
        ("volume_at_c", measured.volume_at_c.is_some()),
        ("name", measured.name.is_some()),
    ] {
        if is_there && !takes.contains(&field) {
            let message = format!("`{field}` does nothing for the reading `{word}`");
            faults.push(Fault::FieldWithoutEffect.at_key(text, &["reading", field], message));
        }
        if !is_there && takes.first() == Some(&field) {
            let message = format!("expected a field `{field}` in this object, found none");
            let open = locate::member(text, &["reading"]).map_or(0, |member| member.value.start);
            faults.push(Fault::MissingField.at(text, open..open + 1, message));
        }
    }
    faults
}

fn advised(
    material: &Material<'_>,
    request: &Request<'_>,
    measured: Measured,
) -> Result<Day, Findings> {
    let text = material.request;
    let at = |field: &'static str| {
        move |error: Error| {
            let place = Place::at_value(text, &["reading", field]);
            vec![Finding::refusal(&error, place)]
        }
    };
    let (mut plan, style) = worked_out(material, request)?;
    // The day runs by the plant's own model; what the request wants goes before that.
    if let Some(model) = request.bitterness_model() {
        plan.brewhouse.bitterness = Some(model);
    }
    let shown = match measured.unit {
        GravityUnit::Plato | GravityUnit::Brix => Extract::from_plato(measured.value),
        GravityUnit::SpecificGravity => SpecificGravity::from_ratio(measured.value).map(extract_of),
    }
    .map_err(at("value"))?;
    let usual = Temperature::from_celsius(USUAL_C).map_err(at("at_c"))?;
    let sample = measured.at_c.unwrap_or(usual);
    let extract = hydrometer(shown, sample, usual).map_err(at(if sample == usual {
        "value"
    } else {
        "at_c"
    }))?;
    let volume_l = match (measured.volume_l, measured.volume_at_c) {
        (Some(hot), Some(at_c)) => {
            Some(cold_volume(hot, extract, at_c).map_err(at("volume_at_c"))?)
        }
        (volume, _) => volume,
    };
    let volume = volume_l.unwrap_or_default();
    let reading = match measured.what {
        What::BeforeBoil => DayReading::BeforeBoil { volume, extract },
        What::InFermenter => DayReading::InFermenter { volume, extract },
        What::Juice => DayReading::Juice {
            name: measured.name.unwrap_or_default(),
            brix: extract,
        },
        What::Stopped => DayReading::Stopped { apparent: extract },
    };
    let advice = advise(&plan, &material.catalogue, &reading).map_err(|error| {
        let field = match error.kind() {
            ErrorKind::UnknownName => "name",
            // A wort that is none has no volume or an extract below nought.
            ErrorKind::OutOfRange if volume_l.is_some() && extract.plato() >= 0.0 => "volume_l",
            _ => "value",
        };
        at(field)(error)
    })?;
    Ok(Day {
        corrected: Corrected {
            extract_plato: extract,
            extract_sg: gravity_of(extract),
            volume_l,
        },
        planned: advice.planned,
        advice: said(advice.ways, style),
    })
}
