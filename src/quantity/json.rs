//! How quantities stand in JSON: plain numbers in the unit that the field's name ends in, to 12 significant digits.
//!
//! Used as `#[serde(rename = "mass_kg", with = "json::kilogram")]`. A figure that is not finite is refused. What is written
//! is equal to 12 digits, not to the bit.

use super::{Mass, Quantity, Time, Unit, Volume};
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

/// The same of a number that may be unknown.
#[allow(
    clippy::ref_option,
    reason = "serde hands over a reference to the field"
)]
pub(crate) fn rounded_if_known<S: Serializer>(
    value: &Option<f64>,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    match value {
        Some(value) => number(*value, serializer),
        None => serializer.serialize_none(),
    }
}

/// A value of a base unit as a number of `unit`, for fields whose unit stands beside them.
pub(crate) fn in_unit(value: f64, unit: Unit) -> Rounded {
    Rounded(unit.from_base(value))
}

/// A number that is written to 12 significant digits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Rounded(pub(crate) f64);

impl Serialize for Rounded {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        number(self.0, serializer)
    }
}

/// Powers of ten that a double holds exactly.
pub(crate) const EXACT_POWERS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];

/// The value rounded to 12 significant digits, so that 4.2 g is not 0.004200000000000001 kg.
pub(crate) fn round12(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    by_scaling(value).unwrap_or_else(|| by_digits(value))
}

/// The digits as a whole number over or times an exact power of ten, which is what reading them gives (Clinger 1990, PLDI,
/// from memory); of a value that is not zero. None where the power is not exact, or where scaling may have moved a half.
#[allow(
    clippy::cast_possible_truncation,
    reason = "the logarithm of a finite double lies between -324 and 309"
)]
fn by_scaling(value: f64) -> Option<f64> {
    let size = value.abs();
    let shift = 11 - size.log10().floor() as i32;
    let power = *EXACT_POWERS.get(usize::try_from(shift.unsigned_abs()).ok()?)?;
    let scaled = if shift < 0 {
        size / power
    } else {
        size * power
    };
    let whole = scaled.round();
    // Scaling is off by 1e-4 at most.
    if !(1e11..1e12).contains(&scaled) || (scaled - whole).abs() > 0.499 {
        return None;
    }
    let rounded = if shift < 0 {
        whole * power
    } else {
        whole / power
    };
    Some(rounded.copysign(value))
}

fn by_digits(value: f64) -> f64 {
    format!("{value:.11e}").parse().unwrap_or(value)
}

macro_rules! helpers {
    (
        always { $($name:ident, $quantity:ident, $unit:ty, $words:literal;)+ }
        optional { $($optional:ident, $of:ident;)+ }
    ) => {
        $(
            #[doc = concat!("A field in ", $words, ".")]
            #[derive(Debug)]
            #[allow(non_camel_case_types, reason = "it names a unit, in a path of serde's `with`")]
            pub(crate) struct $name;

            impl $name {
                pub(crate) fn serialize<S: Serializer>(value: &super::$quantity, serializer: S) -> Result<S::Ok, S::Error> {
                    number(value.get::<$unit>(), serializer)
                }
            }
        )+

        /// Fields that may be absent; pair them with `skip_serializing_if`.
        #[allow(clippy::ref_option, reason = "serde passes fields by reference")]
        pub(crate) mod option {
            use super::Serializer;
            use crate::quantity::Quantity;

            $(
                #[derive(Debug)]
                #[allow(non_camel_case_types, reason = "it names a unit, in a path of serde's `with`")]
                pub(crate) struct $optional;

                impl $optional {
                    pub(crate) fn serialize<S: Serializer>(value: &Option<crate::quantity::$of>, serializer: S) -> Result<S::Ok, S::Error> {
                        match value {
                            Some(value) => super::$optional::serialize(value, serializer),
                            None => serializer.serialize_none(),
                        }
                    }
                }
            )+

            /// A fraction in per cent that may be absent.
            #[derive(Debug)]
            #[allow(non_camel_case_types, reason = "it names a unit, in a path of serde's `with`")]
            pub(crate) struct percent;

            impl percent {
                pub(crate) fn serialize<Q: Quantity, S: Serializer>(value: &Option<Q>, serializer: S) -> Result<S::Ok, S::Error> {
                    match value {
                        Some(value) => super::percent::serialize(value, serializer),
                        None => serializer.serialize_none(),
                    }
                }
            }
        }
    };
}

helpers! {
    always {
        kilogram, Mass, uom::si::mass::kilogram, "kilograms";
        litre, Volume, uom::si::volume::liter, "litres";
        minute, Time, uom::si::time::minute, "minutes";
        day, Time, uom::si::time::day, "days";
        metre, Length, uom::si::length::meter, "metres";
        bar, Pressure, uom::si::pressure::bar, "bar";
        kilojoule, Energy, uom::si::energy::kilojoule, "kilojoules";
        kilowatt, Power, uom::si::power::kilowatt, "kilowatts";
    }
    optional {
        kilogram, Mass;
        litre, Volume;
        minute, Time;
        day, Time;
        bar, Pressure;
    }
}

fn finite<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
    let value = f64::deserialize(deserializer)?;
    if value.is_finite() {
        Ok(value)
    } else {
        Err(serde::de::Error::custom("expected a finite number"))
    }
}

/// A request's volume, which may be left out.
#[cfg(feature = "exchange")]
impl option::litre {
    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<Option<Volume>, D::Error> {
        finite(deserializer).map(|volume_l| Some(super::litres(volume_l)))
    }
}

/// Of a remedy that a request takes.
impl litre {
    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<Volume, D::Error> {
        finite(deserializer).map(super::litres)
    }
}

impl kilogram {
    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<Mass, D::Error> {
        finite(deserializer).map(super::kilograms)
    }
}

impl minute {
    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<Time, D::Error> {
        finite(deserializer).map(super::minutes)
    }
}

/// A fraction, written in per cent.
#[derive(Debug)]
#[allow(
    non_camel_case_types,
    reason = "it names a unit, in a path of serde's `with`"
)]
pub(crate) struct percent;

impl percent {
    pub(crate) fn serialize<Q: Quantity, S: Serializer>(
        value: &Q,
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        number(value.in_base() * 100.0, serializer)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn twelve_digits_are_kept() {
        assert_eq!(round12(0.004_200_000_000_000_001), 0.0042);
        assert_eq!(round12(-1.234_567_890_123_456e-7), -1.234_567_890_12e-7);
        assert_eq!(round12(999_999_999_999.6), 1e12);
        assert_eq!(round12(5e-324), 5e-324);
        assert_eq!(round12(0.0), 0.0);
    }

    #[test]
    fn scaling_gives_what_the_digits_give() {
        // A linear congruential generator (Knuth's MMIX constants, from memory).
        let mut state = 1_u64;
        let (mut quick, mut slow) = (0, 0);
        for _ in 0..200_000 {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            let mantissa = f64::from((state >> 32) as u32) / f64::from(u32::MAX) + 1e-7;
            let exponent = (state >> 20) % 40;
            let value = (mantissa - 0.5) * 10_f64.powf(exponent as f64 - 20.0);
            // Many digits, twelve, and few.
            for value in [
                value,
                round12(value),
                (value * 1e3).round() / 1e3,
                value * 3.0,
            ] {
                if value == 0.0 {
                    continue;
                }
                match by_scaling(value) {
                    Some(rounded) => {
                        quick += 1;
                        assert_eq!(rounded.to_bits(), by_digits(value).to_bits(), "{value:e}");
                    }
                    None => slow += 1,
                }
            }
        }
        assert!(quick > 3 * slow, "{quick} {slow}");
    }
}
