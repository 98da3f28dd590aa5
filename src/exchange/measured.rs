//! A reading of the brewing day as a request states it: what each takes, and in which units.

use super::diagnostics::Diagnostics;
use super::fault::{self, Fault};
use super::json_text;
use crate::quantity::{Dimension, Extract, Ph, Temperature, Unit, Volume};
use serde::Deserialize;

/// A reading of the brewing day.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct Measured {
    pub(super) what: What,
    pub(super) value: f64,
    #[cfg_attr(feature = "schema", schemars(schema_with = "units_known"))]
    pub(super) unit: String,
    /// Of what was measured; absent means 20 °C. Brix is taken to be compensated, and has none but 20 °C.
    #[serde(default)]
    pub(super) at_c: Option<Temperature>,
    #[serde(default, with = "crate::quantity::json::option::litre")]
    pub(super) volume_l: Option<Volume>,
    /// Of the wort when its volume was read; absent means 20 °C.
    #[serde(default)]
    pub(super) volume_at_c: Option<Temperature>,
    #[serde(default)]
    pub(super) name: Option<String>,
    /// What a refractometer's reading of wort is divided by; absent means 1.04.
    #[serde(default)]
    pub(super) wort_correction: Option<f64>,
    /// What the mash should have; absent means what the recipe states, else the usual.
    #[serde(default)]
    pub(super) wanted_ph: Option<Ph>,
    /// The warmest that beer has been since it stopped fermenting.
    #[serde(default)]
    pub(super) warmest_c: Option<Temperature>,
    /// Final apparent extract of beer to be packaged.
    #[serde(default)]
    pub(super) final_plato: Option<Extract>,
}

/// What was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub(super) enum What {
    BeforeBoil,
    AfterBoil,
    InFermenter,
    Juice,
    Stopped,
    MashPh,
    AdditionAt,
    Packaging,
}

/// In what a value is stated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum In {
    Gravity(Unit),
    Volume(Unit),
    Ph,
}

/// Only Brix takes no temperature.
const HELP_AT_C: &str = "refractometers compensate for temperature: leave `at_c` out, or write the unit `P` for a hydrometer's reading";

/// Units as they are offered.
const GRAVITIES: &[&str] = &["P", "Bx", "SG"];
const VOLUMES: &[&str] = &["L", "hL", "mL", "gal", "qt", "bbl", "imp gal"];
const WORT: &[&str] = &[
    "P", "Bx", "SG", "L", "hL", "mL", "gal", "qt", "bbl", "imp gal",
];
const ACIDITY: &[&str] = &["pH"];

impl What {
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::BeforeBoil => "before_boil",
            Self::AfterBoil => "after_boil",
            Self::InFermenter => "in_fermenter",
            Self::Juice => "juice",
            Self::Stopped => "stopped",
            Self::MashPh => "mash_ph",
            Self::AdditionAt => "addition_at",
            Self::Packaging => "packaging",
        }
    }

    /// The units in which it can be stated.
    const fn units(self) -> &'static [&'static str] {
        match self {
            Self::BeforeBoil | Self::AfterBoil | Self::InFermenter => WORT,
            Self::Juice | Self::Stopped | Self::AdditionAt => GRAVITIES,
            Self::MashPh => ACIDITY,
            Self::Packaging => VOLUMES,
        }
    }

    fn takes(self, unit: In) -> bool {
        match unit {
            In::Gravity(_) => !matches!(self, Self::MashPh | Self::Packaging),
            In::Volume(_) => matches!(
                self,
                Self::BeforeBoil | Self::AfterBoil | Self::InFermenter | Self::Packaging
            ),
            In::Ph => self == Self::MashPh,
        }
    }

    /// The fields beside the value and `at_c` that do something, and whether the first of them is needed.
    fn fields(self, unit: In) -> (&'static [&'static str], Need) {
        let refracted = unit == In::Gravity(Unit::Brix);
        match (self, unit) {
            (Self::BeforeBoil | Self::AfterBoil | Self::InFermenter, In::Gravity(_))
                if refracted =>
            {
                (&["volume_l", "volume_at_c", "wort_correction"], Need::None)
            }
            (Self::BeforeBoil | Self::AfterBoil | Self::InFermenter, In::Gravity(_)) => {
                (&["volume_l", "volume_at_c"], Need::None)
            }
            (Self::Juice, _) => (&["name"], Need::First),
            (Self::AdditionAt, _) if refracted => (&["name", "wort_correction"], Need::First),
            (Self::AdditionAt, _) => (&["name"], Need::First),
            (Self::Stopped, _) if refracted => (&["wort_correction"], Need::None),
            (Self::MashPh, _) => (&["wanted_ph"], Need::None),
            (Self::Packaging, _) => (&["warmest_c", "final_plato"], Need::None),
            (Self::BeforeBoil | Self::AfterBoil | Self::InFermenter | Self::Stopped, _) => {
                (&[], Need::None)
            }
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Need {
    None,
    First,
}

impl Measured {
    /// The unit of the value, or what is wrong with it.
    pub(super) fn unit(&self, text: &str) -> Result<In, Diagnostics> {
        let unit = known(&self.unit);
        if let Some(unit) = unit.filter(|unit| self.what.takes(*unit)) {
            return Ok(unit);
        }
        let (word, fitting) = (self.what.word(), self.what.units());
        let path = ["reading", "unit"];
        let finding = if unit.is_some() {
            let message = format!("`{}` does not measure the reading `{word}`", self.unit);
            let help = format!("units that do are `{}`", fitting.join("`, `"));
            Fault::WrongValue
                .at_value(text, &path, message)
                .with_help(Some(help))
        } else {
            let found = fault::clipped(&self.unit);
            let message = format!("expected a unit of the reading `{word}`, found `{found}`");
            Fault::UnknownValue
                .at_value(text, &path, message)
                .with_help(fault::help("units are", found, fitting))
        };
        Err(vec![finding])
    }

    /// What is missing from a reading, and what does nothing in it.
    pub(super) fn faults(&self, text: &str, unit: In) -> Diagnostics {
        let word = self.what.word();
        let (takes, need) = self.what.fields(unit);
        let mut faults = Vec::new();
        for (field, is_there) in [
            ("at_c", self.at_c.is_some()),
            ("volume_l", self.volume_l.is_some()),
            ("volume_at_c", self.volume_at_c.is_some()),
            ("name", self.name.is_some()),
            ("wort_correction", self.wort_correction.is_some()),
            ("wanted_ph", self.wanted_ph.is_some()),
            ("warmest_c", self.warmest_c.is_some()),
            ("final_plato", self.final_plato.is_some()),
        ] {
            let idle = match field {
                // A refractometer compensates; at 20 °C there is nothing to.
                "at_c" => {
                    unit == In::Gravity(Unit::Brix)
                        && self
                            .at_c
                            .is_some_and(|at| (at.celsius() - 20.0).abs() > 0.5)
                }
                "volume_at_c" if self.volume_l.is_none() => true,
                _ => !takes.contains(&field),
            };
            if is_there && idle {
                let message = format!(
                    "`{field}` has no effect on the reading `{word}` in `{}`",
                    self.unit
                );
                let help = (field == "at_c").then(|| HELP_AT_C.to_owned());
                let fault = Fault::FieldWithoutEffect.at_key(text, &["reading", field], message);
                faults.push(fault.with_help(help));
            }
            if !is_there && need == Need::First && takes.first() == Some(&field) {
                let message = format!("expected a field `{field}` in this object, found none");
                let open =
                    json_text::member(text, &["reading"]).map_or(0, |member| member.value.start);
                faults.push(Fault::MissingField.at(text, open..open + 1, message));
            }
        }
        faults
    }
}

/// Every spelling of a unit that some reading is stated in.
#[cfg(feature = "schema")]
fn units_known(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
    let measured = [Dimension::Gravity, Dimension::Ratio, Dimension::Volume];
    let spelled = Unit::ALL
        .iter()
        .filter(|unit| measured.contains(&unit.dimension()))
        .flat_map(|unit| std::iter::once(unit.symbol()).chain(unit.aliases().iter().copied()))
        .filter(|spelling| !spelling.is_empty())
        .chain(["pH", "specific_gravity"]);
    schemars::json_schema!({"type": "string", "enum": spelled.collect::<Vec<_>>()})
}

/// The unit of that spelling.
fn known(unit: &str) -> Option<In> {
    if unit.eq_ignore_ascii_case("ph") {
        return Some(In::Ph);
    }
    if unit.eq_ignore_ascii_case("specific_gravity") {
        return Some(In::Gravity(Unit::SpecificGravity));
    }
    let gravity = [Dimension::Gravity, Dimension::Ratio];
    Unit::find(unit, &gravity)
        .map(In::Gravity)
        .or_else(|| Unit::find(unit, &[Dimension::Volume]).map(In::Volume))
}
