//! How quantities stand in JSON: plain numbers in the unit that the field's name ends in, to 12 significant digits.
//!
//! Use with serde as `#[serde(rename = "mass_kg", with = "wortwright::quantity::json::kilogram")]`. A figure that is
//! not finite is refused in both directions. A round trip is equal to 12 digits, not to the bit.

use super::{Quantity, Unit};
use serde::{Deserialize as _, Deserializer, Serialize, Serializer};

/// A finite number, rounded to 12 significant digits.
pub(crate) fn number<S: Serializer>(value: f64, serializer: S) -> Result<S::Ok, S::Error> {
    if value.is_finite() {
        serializer.serialize_f64(round12(value))
    } else {
        Err(serde::ser::Error::custom(
            "a figure that is not finite cannot be written",
        ))
    }
}

/// A bare number whose field is named after its unit.
#[allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde passes fields by reference"
)]
pub(crate) fn rounded<S: Serializer>(value: &f64, serializer: S) -> Result<S::Ok, S::Error> {
    number(*value, serializer)
}

/// A value of a base unit as a number of `unit`, for fields whose unit stands beside them.
pub(crate) fn in_unit(value: f64, unit: Unit) -> Rounded {
    Rounded(unit.from_base(value))
}

/// A number that is written to 12 significant digits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Rounded(f64);

impl Rounded {
    /// A number whose field is named after its unit.
    pub(crate) const fn of(value: f64) -> Self {
        Self(value)
    }
}

impl Serialize for Rounded {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        number(self.0, serializer)
    }
}

/// The value rounded to 12 significant digits, so that 4.2 g is not 0.004200000000000001 kg.
pub(crate) fn round12(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    format!("{value:.11e}").parse().unwrap_or(value)
}

fn finite<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
    let value = f64::deserialize(deserializer)?;
    if value.is_finite() {
        Ok(value)
    } else {
        Err(serde::de::Error::custom("expected a finite number"))
    }
}

macro_rules! helpers {
    ($($name:ident, $quantity:ident, $unit:ty, $words:literal;)+) => {
        $(
            #[doc = concat!("A field in ", $words, ".")]
            #[derive(Debug)]
            #[allow(non_camel_case_types, reason = "it stands for a unit, in a path of serde's `with`")]
            pub struct $name;

            impl $name {
                /// Writes the quantity.
                ///
                /// # Errors
                ///
                /// When the figure is not finite.
                pub fn serialize<S: Serializer>(value: &super::$quantity, serializer: S) -> Result<S::Ok, S::Error> {
                    number(value.get::<$unit>(), serializer)
                }

                /// Reads the quantity.
                ///
                /// # Errors
                ///
                /// When the figure is not a finite number.
                pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<super::$quantity, D::Error> {
                    Ok(super::$quantity::new::<$unit>(finite(deserializer)?))
                }
            }
        )+

        /// Fields that may be absent; pair them with `default` and `skip_serializing_if`.
        pub mod option {
            use super::{Deserializer, Serializer};
            use crate::quantity::Quantity;

            $(
                #[doc = concat!("A field in ", $words, " that may be absent.")]
                #[derive(Debug)]
                #[allow(non_camel_case_types, reason = "it stands for a unit, in a path of serde's `with`")]
                pub struct $name;

                impl $name {
                    /// Writes the quantity if there is one.
                    ///
                    /// # Errors
                    ///
                    /// When the figure is not finite.
                    pub fn serialize<S: Serializer>(value: &Option<crate::quantity::$quantity>, serializer: S) -> Result<S::Ok, S::Error> {
                        match value {
                            Some(value) => super::$name::serialize(value, serializer),
                            None => serializer.serialize_none(),
                        }
                    }

                    /// Reads the quantity.
                    ///
                    /// # Errors
                    ///
                    /// When the figure is not a finite number.
                    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<crate::quantity::$quantity>, D::Error> {
                        super::$name::deserialize(deserializer).map(Some)
                    }
                }
            )+

            /// A fraction in per cent that may be absent.
            #[derive(Debug)]
            #[allow(non_camel_case_types, reason = "it stands for a unit, in a path of serde's `with`")]
            pub struct percent;

            impl percent {
                /// Writes the fraction in per cent if there is one.
                ///
                /// # Errors
                ///
                /// When the figure is not finite.
                pub fn serialize<Q: Quantity, S: Serializer>(value: &Option<Q>, serializer: S) -> Result<S::Ok, S::Error> {
                    match value {
                        Some(value) => super::percent::serialize(value, serializer),
                        None => serializer.serialize_none(),
                    }
                }

                /// Reads a fraction given in per cent.
                ///
                /// # Errors
                ///
                /// When the figure is not a number in the range of the scale.
                pub fn deserialize<'de, Q: Quantity, D: Deserializer<'de>>(deserializer: D) -> Result<Option<Q>, D::Error> {
                    super::percent::deserialize(deserializer).map(Some)
                }
            }
        }
    };
}

helpers! {
    kilogram, Mass, uom::si::mass::kilogram, "kilograms";
    litre, Volume, uom::si::volume::liter, "litres";
    minute, Time, uom::si::time::minute, "minutes";
    day, Time, uom::si::time::day, "days";
    metre, Length, uom::si::length::meter, "metres";
    bar, Pressure, uom::si::pressure::bar, "bar";
    kilojoule, Energy, uom::si::energy::kilojoule, "kilojoules";
    kilogram_per_cubic_metre, MassDensity, uom::si::mass_density::kilogram_per_cubic_meter, "kilograms per cubic metre";
}

/// A fraction, written and read in per cent.
#[derive(Debug)]
#[allow(
    non_camel_case_types,
    reason = "it stands for a unit, in a path of serde's `with`"
)]
pub struct percent;

impl percent {
    /// Writes the fraction in per cent.
    ///
    /// # Errors
    ///
    /// When the figure is not finite.
    pub fn serialize<Q: Quantity, S: Serializer>(
        value: &Q,
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        number(value.in_base() * 100.0, serializer)
    }

    /// Reads a fraction given in per cent.
    ///
    /// # Errors
    ///
    /// When the figure is not a number in the range of the scale.
    pub fn deserialize<'de, Q: Quantity, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<Q, D::Error> {
        Q::from_base(finite(deserializer)? / 100.0).map_err(serde::de::Error::custom)
    }
}
