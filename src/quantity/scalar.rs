//! The macro behind every newtype: one private number in one stated unit, within a stated range.

/// Defines a figure: `Name`, its accessor, its checked constructor, the unit and the range; `shown` is what a number of the
/// unit is multiplied by for a reader, and what is put behind it. No text writes it with a unit of its own.
macro_rules! figure {
    (
        $(#[$doc:meta])*
        $name:ident, $getter:ident, $make:ident, $unit:literal, $low:literal..=$high:literal
    ) => {
        $crate::quantity::figure! {
            $(#[$doc])* $name, $getter, $make, $unit, $low..=$high, shown 1.0, $unit
        }

        impl $crate::quantity::agreement::Agree for $name {
            fn agrees(&self, other: &Self, tolerance: f64) -> bool {
                $crate::quantity::agreement::Agree::agrees(&self.0, &other.0, tolerance)
            }
        }
    };
    (
        $(#[$doc:meta])*
        $name:ident, $getter:ident, $make:ident, $unit:literal, $low:literal..=$high:literal,
        shown $times:literal, $shown:literal
    ) => {
        $(#[$doc])*
        #[doc = concat!("\n\nUnit ", $unit, ", range ", stringify!($low), " to ", stringify!($high), ".")]
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            #[doc = concat!("A value in ", $unit, ".\n\n# Errors\n\n`OutOfRange` unless it is a number from ",
                stringify!($low), " to ", stringify!($high), ".")]
            pub fn $make(value: f64) -> Result<Self, $crate::diagnostic::Error> {
                if ($low..=$high).contains(&value) {
                    Ok(Self(value))
                } else {
                    Err($crate::quantity::out_of_range(
                        &$crate::quantity::spoken(stringify!($name)),
                        value * $times, $shown, $low * $times, $high * $times,
                    ))
                }
            }

            #[doc = concat!("The value in ", $unit, ".")]
            pub const fn $getter(self) -> f64 {
                self.0
            }

            /// A computed value, brought into the range; not a number becomes the lower bound.
            #[allow(dead_code, reason = "a scale that is never computed has no use for it")]
            pub(crate) const fn clamped(value: f64) -> Self {
                if value >= $low && value <= $high {
                    Self(value)
                } else if value > $high {
                    Self($high)
                } else {
                    Self($low)
                }
            }
        }

        impl std::fmt::Display for $name {
            /// The number to 12 digits, or to the precision asked for, and its unit.
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                $crate::quantity::show(f, self.0 * $times, $shown)
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                $crate::quantity::json::number(self.0, serializer)
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let value = f64::deserialize(deserializer)?;
                Self::$make(value).map_err(serde::de::Error::custom)
            }
        }

        #[cfg(feature = "schema")]
        $crate::quantity::schema::schema_as! { $name, { "type": "number", "minimum": $low, "maximum": $high } }
    };
}
pub(crate) use figure;

/// Defines a scale: a figure that texts write with one of its units.
macro_rules! scalar {
    (
        $(#[$doc:meta])*
        $name:ident, $getter:ident, $make:ident, $unit:literal, $low:literal..=$high:literal
    ) => {
        $crate::quantity::scalar::scalar! {
            $(#[$doc])* $name, $getter, $make, $unit, $low..=$high, shown 1.0, $unit
        }
    };
    (
        $(#[$doc:meta])*
        $name:ident, $getter:ident, $make:ident, $unit:literal, $low:literal..=$high:literal,
        shown $times:literal, $shown:literal
    ) => {
        $crate::quantity::figure! {
            $(#[$doc])* $name, $getter, $make, $unit, $low..=$high, shown $times, $shown
        }

        impl From<$name> for $crate::quantity::Written<$name> {
            /// A computed value, to 12 digits.
            fn from(value: $name) -> Self {
                Self::in_base_unit(value)
            }
        }

        impl std::str::FromStr for $name {
            type Err = $crate::diagnostic::Error;

            /// A number and its unit, as the notation reads them.
            fn from_str(text: &str) -> Result<Self, Self::Err> {
                text.parse::<$crate::quantity::Written<Self>>().map(|written| written.value())
            }
        }
    };
}
pub(crate) use scalar;

/// Says what a scale's units measure, the first that of its base; without a model between them.
macro_rules! measured_in {
    ($($name:ident, $make:ident, $dimension:ident $(or $other:ident)?;)+) => {
        $(impl $crate::quantity::Quantity for $name {
            const DIMENSION: $crate::quantity::Dimension = $crate::quantity::Dimension::$dimension;
            $(const WRITTEN_AS: &'static [$crate::quantity::Dimension] =
                &[$crate::quantity::Dimension::$other, $crate::quantity::Dimension::$dimension];)?

            fn in_base(self) -> f64 {
                self.0
            }

            fn from_base(value: f64) -> Result<Self, $crate::diagnostic::Error> {
                Self::$make(value)
            }
        })+
    };
}
pub(crate) use measured_in;

use super::json::round12;
use crate::diagnostic::{Error, ErrorKind};
use std::fmt;

/// The error of a value outside its scale.
pub(crate) fn out_of_range(what: &str, value: f64, unit: &str, low: f64, high: f64) -> Error {
    let unit = if unit.is_empty() {
        String::new()
    } else {
        format!(" {unit}")
    };
    let [value, low, high] = [value, low, high].map(round12);
    Error::new(
        ErrorKind::OutOfRange,
        format!("expected {what} from {low} to {high}{unit}, found {value}{unit}"),
    )
}

/// Writes a number and its unit, without the dust of binary fractions.
pub(crate) fn show(f: &mut fmt::Formatter<'_>, number: f64, unit: &str) -> fmt::Result {
    match f.precision() {
        Some(digits) => write!(f, "{number:.digits$}")?,
        None => write!(f, "{}", round12(number))?,
    }
    if unit.is_empty() {
        Ok(())
    } else {
        write!(f, " {unit}")
    }
}

/// A type's name as words: `LiquorRatio` becomes `a liquor ratio`.
pub(crate) fn spoken(type_name: &str) -> String {
    if type_name == "Ph" {
        return "a pH".to_owned();
    }
    let mut words = String::new();
    for c in type_name.chars() {
        if c.is_uppercase() && !words.is_empty() {
            words.push(' ');
        }
        words.extend(c.to_lowercase());
    }
    let article = if words.starts_with(['a', 'e', 'i', 'o', 'u']) {
        "an"
    } else {
        "a"
    };
    format!("{article} {words}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn types_are_called_by_the_words_of_their_names() {
        for (name, said) in [
            ("Ph", "a pH"),
            ("LiquorRatio", "a liquor ratio"),
            ("Extract", "an extract"),
        ] {
            assert_eq!(spoken(name), said);
        }
    }
}
