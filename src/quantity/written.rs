//! A value together with the number and unit in which somebody wrote it.

use super::json::round12;
use super::unit::{Dimension, Unit};
use super::{HeatCapacity, Length, Mass, Time, Volume};
use crate::diagnostic::{Error, ErrorKind};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use std::fmt;

/// A quantity with one base unit in this crate: kg, L, min, m, °C, °P …
pub trait Quantity: Copy + PartialEq + fmt::Debug {
    /// What is measured; it decides which units fit.
    const DIMENSION: Dimension;

    /// The number in the base unit.
    fn in_base(self) -> f64;

    /// The quantity from a number in the base unit.
    ///
    /// # Errors
    ///
    /// `OutOfRange` when the number does not fit the scale.
    fn from_base(value: f64) -> Result<Self, Error>;
}

macro_rules! uom_quantity {
    ($quantity:ty, $unit:ty, $dimension:ident, $what:literal, $low:literal..=$high:literal) => {
        impl Quantity for $quantity {
            const DIMENSION: Dimension = Dimension::$dimension;

            fn in_base(self) -> f64 {
                self.get::<$unit>()
            }

            fn from_base(value: f64) -> Result<Self, Error> {
                if ($low..=$high).contains(&value) {
                    Ok(Self::new::<$unit>(value))
                } else {
                    Err(super::scalar::out_of_range(
                        $what.into(),
                        value,
                        Unit::base(Dimension::$dimension).symbol(),
                        $low,
                        $high,
                    ))
                }
            }
        }
    };
}

// The upper bounds are those of the largest plant and the longest storage that make sense (common practice, no source).
uom_quantity!(Mass, uom::si::mass::kilogram, Mass, "a mass", 0.0..=1.0e9);
uom_quantity!(
    Volume,
    uom::si::volume::liter,
    Volume,
    "a volume",
    0.0..=1.0e9
);
uom_quantity!(Time, uom::si::time::minute, Time, "a time", 0.0..=1.0e7);
uom_quantity!(
    HeatCapacity,
    uom::si::heat_capacity::kilojoule_per_kelvin,
    HeatCapacity,
    "a heat capacity",
    0.0..=1.0e6
);
uom_quantity!(
    Length,
    uom::si::length::meter,
    Length,
    "an altitude",
    -500.0..=9000.0
);

/// A value, and the number and unit in which it was written.
///
/// In JSON it is an object of `value` (in the unit that the field's name ends in), `number` and `unit`, with `range`
/// and `about` where they were written; a bare number is read as `value`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Written<Q> {
    value: Q,
    number: f64,
    unit: Unit,
    range: Option<(f64, f64)>,
    about: bool,
}

impl<Q: Quantity> Written<Q> {
    /// The value of `number` in `unit`.
    ///
    /// # Errors
    ///
    /// `OutOfRange` when the unit is of another dimension or the value does not fit its scale. A specific gravity is
    /// refused here, since only a density model turns it into an extract: see [`Written::converted`].
    pub fn new(number: f64, unit: Unit) -> Result<Self, Error> {
        if !unit.measures(Q::DIMENSION) {
            return Err(Error::new(
                ErrorKind::OutOfRange,
                format!(
                    "expected {}, found `{number} {}`",
                    Q::DIMENSION.expected(),
                    unit.symbol()
                ),
            ));
        }
        Q::from_base(unit.to_base(number)).map(|value| Self::converted(value, number, unit))
    }

    /// A value in the base unit of its scale, as if it had been written so.
    pub fn in_base_unit(value: Q) -> Self {
        // The unit that stands for a dimension is not always the one computed in: shares are said in per cent.
        let unit = Unit::base(Q::DIMENSION);
        Self::converted(value, unit.from_base(value.in_base()), unit)
    }

    /// A value that somebody else has converted from `number` and `unit`.
    pub const fn converted(value: Q, number: f64, unit: Unit) -> Self {
        Self {
            value,
            number,
            unit,
            range: None,
            about: false,
        }
    }

    /// The same value, written as a range whose middle it is.
    #[must_use]
    pub const fn over_range(mut self, low: f64, high: f64) -> Self {
        self.range = Some((low, high));
        self
    }

    /// The same value, marked as approximate by its writer.
    #[must_use]
    pub const fn approximately(mut self) -> Self {
        self.about = true;
        self
    }

    /// The value.
    pub const fn value(&self) -> Q {
        self.value
    }

    /// The number as written; of a range, its middle.
    pub const fn number(&self) -> f64 {
        self.number
    }

    /// The unit as written.
    pub const fn unit(&self) -> Unit {
        self.unit
    }

    /// The ends of the range in the written unit, if a range was written.
    pub const fn range(&self) -> Option<(f64, f64)> {
        self.range
    }

    /// Whether the writer marked it as approximate.
    pub const fn is_approximate(&self) -> bool {
        self.about
    }

    /// Whether two values agree within a relative tolerance, whatever they were written in.
    pub fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        let (a, b) = (self.value.in_base(), other.value.in_base());
        (a - b).abs() <= tolerance * a.abs().max(b.abs())
    }
}

impl<Q: Quantity> fmt::Display for Written<Q> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.about {
            f.write_str("~")?;
        }
        match self.range {
            Some((low, high)) => write!(f, "{}-{}", round12(low), round12(high))?,
            None => write!(f, "{}", round12(self.number))?,
        }
        if self.unit.symbol().is_empty() {
            Ok(())
        } else {
            write!(f, " {}", self.unit.symbol())
        }
    }
}

/// Whether a value of `dimension` may have been written in `unit`, conversions by a density or gas model included.
fn may_say(unit: Unit, dimension: Dimension) -> bool {
    unit.measures(dimension)
        || matches!(
            (dimension, unit.dimension()),
            (Dimension::Gravity, Dimension::Ratio)
                | (Dimension::Concentration, Dimension::GasVolumes)
                | (Dimension::Percent, Dimension::VolumePerVolume)
        )
}

#[derive(Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", schemars(rename = "Written"))]
struct Form {
    value: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    number: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    unit: Option<Unit>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    range: Option<(f64, f64)>,
    #[serde(default, skip_serializing_if = "is_false")]
    about: bool,
}

#[allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde passes fields by reference"
)]
fn is_false(value: &bool) -> bool {
    !*value
}

impl<Q: Quantity> Serialize for Written<Q> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        Form {
            value: round12(self.value.in_base()),
            number: Some(round12(self.number)),
            unit: Some(self.unit),
            range: self.range.map(|(low, high)| (round12(low), round12(high))),
            about: self.about,
        }
        .serialize(serializer)
    }
}

impl<'de, Q: Quantity> Deserialize<'de> for Written<Q> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Visitor<Q>(std::marker::PhantomData<Q>);

        impl<'de, Q: Quantity> de::Visitor<'de> for Visitor<Q> {
            type Value = Written<Q>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(
                    f,
                    "a number, or an object with `value`, `number` and `unit`"
                )
            }

            fn visit_f64<E: de::Error>(self, value: f64) -> Result<Self::Value, E> {
                Q::from_base(value)
                    .map(Written::in_base_unit)
                    .map_err(E::custom)
            }

            fn visit_i64<E: de::Error>(self, value: i64) -> Result<Self::Value, E> {
                self.visit_f64(value as f64)
            }

            fn visit_u64<E: de::Error>(self, value: u64) -> Result<Self::Value, E> {
                self.visit_f64(value as f64)
            }

            fn visit_map<A: de::MapAccess<'de>>(self, map: A) -> Result<Self::Value, A::Error> {
                let form = Form::deserialize(de::value::MapAccessDeserializer::new(map))?;
                let (low, high) = form.range.unwrap_or_default();
                if ![form.number.unwrap_or_default(), low, high]
                    .iter()
                    .all(|n| n.is_finite())
                {
                    return Err(de::Error::custom(
                        "expected `number` and `range` to be finite",
                    ));
                }
                let value = Q::from_base(form.value).map_err(de::Error::custom)?;
                let mut written = match (form.number, form.unit) {
                    (Some(number), Some(unit)) if may_say(unit, Q::DIMENSION) => {
                        Written::converted(value, number, unit)
                    }
                    (Some(_), Some(unit)) => {
                        return Err(de::Error::custom(format!(
                            "expected {}, found the unit `{}`",
                            Q::DIMENSION.expected(),
                            unit.symbol()
                        )));
                    }
                    (None, None) => Written::in_base_unit(value),
                    _ => return Err(de::Error::custom("`number` and `unit` go together")),
                };
                written.range = form.range;
                written.about = form.about;
                Ok(written)
            }
        }

        deserializer.deserialize_any(Visitor(std::marker::PhantomData))
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
        let form = generator.subschema_for::<Form>();
        if generator.contract().is_serialize() {
            return form;
        }
        schemars::json_schema!({"anyOf": [{"type": "number"}, form]})
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Share, Temperature};

    #[test]
    fn a_value_in_its_base_unit_is_said_in_that_unit() {
        let share = Written::in_base_unit(Share::from_fraction(0.7).unwrap());
        assert_eq!(share.to_string(), "70 %");
        let warm = Written::in_base_unit(Temperature::from_celsius(66.0).unwrap());
        assert_eq!(warm.to_string(), "66 C");
    }
}
