//! How a quantity stands in JSON: `"4 gal"`, `{"number": 4, "unit": "gal"}`, or a number in the unit of its field.

use super::json::round12;
use super::lexer::AsWritten;
use super::{Dimension, Quantity, Unit, Written};
use crate::diagnostic::{Error, ErrorKind};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use std::fmt;

/// Two figures that say the same agree within this; a host may have computed one of them in single precision.
const AGREES: f64 = 1e-6;
/// Figures are written to 12 digits, so that one near zero may be off by this where a scale has a zero of its own.
const NEAR_ZERO: f64 = 1e-9;

/// As it is written: all of it.
#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Written"))]
struct Shown {
    value: f64,
    number: f64,
    unit: Unit,
    #[serde(skip_serializing_if = "Option::is_none")]
    range: Option<(f64, f64)>,
    #[serde(skip_serializing_if = "is_false")]
    about: bool,
}

impl Shown {
    fn of(written: &AsWritten, value: f64) -> Self {
        Self {
            value: round12(value),
            number: round12(written.number),
            unit: written.unit,
            range: written
                .range
                .map(|(low, high)| (round12(low), round12(high))),
            about: written.about,
        }
    }
}

/// As it is read: a number or range with its unit, or a value.
#[derive(Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Written"))]
#[serde(default, deny_unknown_fields)]
struct Form {
    value: Option<f64>,
    number: Option<f64>,
    unit: Option<Unit>,
    range: Option<(f64, f64)>,
    about: bool,
}

#[allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde passes fields by reference"
)]
fn is_false(value: &bool) -> bool {
    !*value
}

/// Writes what is written, its value in the unit that its field is named after.
fn write<Q: Quantity, S: Serializer>(
    quantity: &Written<Q>,
    field: Unit,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    let value = field.from_base(quantity.value().in_base());
    Shown::of(quantity.as_written(), value).serialize(serializer)
}

/// Reads what is written; a bare number is in the unit that its field is named after.
fn read<'de, Q: Quantity, D: Deserializer<'de>>(
    field: Unit,
    deserializer: D,
) -> Result<Written<Q>, D::Error> {
    let scale = Scale {
        field,
        allowed: Q::WRITTEN_AS,
        base_of: |number, unit| {
            let base = Q::base_of(number, unit)?;
            Q::from_base(base).map(|_| base)
        },
    };
    let written = deserializer.deserialize_any(scale)?;
    Written::stated(written).map_err(de::Error::custom)
}

impl<Q: Quantity> Serialize for Written<Q> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        write(self, Unit::base(Q::DIMENSION), serializer)
    }
}

impl<'de, Q: Quantity> Deserialize<'de> for Written<Q> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        read(Unit::base(Q::DIMENSION), deserializer)
    }
}

/// Times in fields that count days.
pub(crate) mod on_day {
    use crate::quantity::{Time, Unit, Written};
    use serde::{Deserializer, Serializer};

    #[allow(
        clippy::trivially_copy_pass_by_ref,
        reason = "serde passes fields by reference"
    )]
    pub(crate) fn serialize<S: Serializer>(
        day: &Written<Time>,
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        super::write(day, Unit::Day, serializer)
    }

    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<Written<Time>, D::Error> {
        super::read(Unit::Day, deserializer)
    }

    /// The same of a day that may be absent.
    pub(crate) mod option {
        use super::{Deserializer, Serializer, Time, Written};

        #[allow(
            clippy::ref_option,
            clippy::trivially_copy_pass_by_ref,
            reason = "serde passes fields by reference"
        )]
        pub(crate) fn serialize<S: Serializer>(
            day: &Option<Written<Time>>,
            serializer: S,
        ) -> Result<S::Ok, S::Error> {
            match day {
                Some(day) => super::serialize(day, serializer),
                None => serializer.serialize_none(),
            }
        }

        pub(crate) fn deserialize<'de, D: Deserializer<'de>>(
            deserializer: D,
        ) -> Result<Option<Written<Time>>, D::Error> {
            super::deserialize(deserializer).map(Some)
        }
    }
}

/// What a field measures. It reads for all quantities, so that reading is compiled once.
#[derive(Clone, Copy)]
struct Scale {
    /// The unit that the field is named after.
    field: Unit,
    allowed: &'static [Dimension],
    /// The value in the base unit, if it lies on the scale.
    base_of: fn(f64, Unit) -> Result<f64, Error>,
}

impl Scale {
    fn checked(self, written: AsWritten) -> Result<AsWritten, Error> {
        (self.base_of)(written.number, written.unit).map(|_| written)
    }

    fn bare(self, value: f64) -> Result<AsWritten, Error> {
        self.checked(AsWritten::plain(round12(value), self.field))
    }

    fn stated(self, form: &Form) -> Result<AsWritten, Error> {
        let Some(unit) = form.unit else {
            let value = form
                .value
                .filter(|_| form.number.is_none() && form.range.is_none());
            let mut written = self.bare(value.ok_or_else(|| {
                Error::new(
                    ErrorKind::Incomplete,
                    "expected a `unit` beside the `number` or `range`",
                )
            })?)?;
            written.about = form.about;
            return Ok(written);
        };
        let mut written = match (form.range, form.number) {
            (Some((low, high)), _) => AsWritten::between(low, high, unit)?,
            (None, Some(number)) => AsWritten::plain(number, unit),
            (None, None) => {
                return Err(Error::new(
                    ErrorKind::Incomplete,
                    "expected a `number` beside the `unit`",
                ));
            }
        };
        written.about = form.about;
        agreeing("number", form.number, written.number, "its range")?;
        let base = (self.base_of)(written.number, unit)?;
        let value = self.field.from_base(base);
        agreeing("value", form.value, value, &written.to_string())?;
        Ok(written)
    }
}

/// Refuses a figure that contradicts what stands beside it.
fn agreeing(field: &str, stated: Option<f64>, follows: f64, from: &str) -> Result<(), Error> {
    let Some(stated) = stated else {
        return Ok(());
    };
    let within = AGREES * stated.abs().max(follows.abs()) + NEAR_ZERO;
    if (stated - follows).abs() <= within {
        return Ok(());
    }
    let follows = round12(follows);
    let error = Error::new(
        ErrorKind::Contradiction,
        format!("expected the `{field}` {follows} of {from}, found {stated}"),
    );
    Err(error.with_help(format!("leave out `{field}`")))
}

impl<'de> de::Visitor<'de> for Scale {
    type Value = AsWritten;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number, a text such as \"4 gal\", or an object with `number` and `unit`")
    }

    fn visit_f64<E: de::Error>(self, value: f64) -> Result<AsWritten, E> {
        self.bare(value).map_err(E::custom)
    }

    fn visit_i64<E: de::Error>(self, value: i64) -> Result<AsWritten, E> {
        self.visit_f64(value as f64)
    }

    fn visit_u64<E: de::Error>(self, value: u64) -> Result<AsWritten, E> {
        self.visit_f64(value as f64)
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<AsWritten, E> {
        AsWritten::read(text, self.allowed)
            .and_then(|written| self.checked(written))
            .map_err(E::custom)
    }

    fn visit_map<A: de::MapAccess<'de>>(self, map: A) -> Result<AsWritten, A::Error> {
        let form = Form::deserialize(de::value::MapAccessDeserializer::new(map))?;
        self.stated(&form).map_err(de::Error::custom)
    }
}

#[cfg(feature = "schema")]
impl<Q: Quantity> schemars::JsonSchema for Written<Q> {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Written".into()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        if generator.contract().is_serialize() {
            return generator.subschema_for::<Shown>();
        }
        let form = generator.subschema_for::<Form>();
        schemars::json_schema!({"anyOf": [{"type": "number"}, {"type": "string"}, form]})
    }
}
