//! The JSON of assumptions whose figure stands in a unit of its own.

use super::figure::Figure;
use crate::process::plant_defaults::Defaulted;
use crate::process::side::Side;
use crate::quantity::Unit;
use crate::quantity::json::{Rounded, in_unit};
use serde::{Serialize, Serializer};

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct PlantDefaultForm {
    side: Side,
    what: Defaulted,
    #[serde(skip_serializing_if = "Option::is_none")]
    value: Option<Rounded>,
    #[serde(skip_serializing_if = "Option::is_none")]
    unit: Option<&'static str>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct MeanOfGristForm<'a> {
    name: &'a str,
    figure: Figure,
    value: Rounded,
    unit: &'static str,
}

#[allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde passes fields by reference"
)]
pub(super) fn plant_default_form<S: Serializer>(
    side: &Side,
    what: &Defaulted,
    value: &f64,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    let unit = what.unit();
    PlantDefaultForm {
        side: *side,
        what: *what,
        value: unit.map(|unit| in_unit(*value, unit)),
        unit: unit.map(Unit::symbol),
    }
    .serialize(serializer)
}

#[allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde passes fields by reference"
)]
pub(super) fn mean_of_grist_form<S: Serializer>(
    name: &str,
    figure: &Figure,
    value: &f64,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    MeanOfGristForm {
        name,
        figure: *figure,
        value: in_unit(*value, figure.unit()),
        unit: figure.unit().symbol(),
    }
    .serialize(serializer)
}
