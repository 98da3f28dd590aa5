//! The macro behind every newtype: one private number in one stated unit, within a stated range.

/// Defines a scale: `Name`, its accessor, its checked constructor, the unit as shown, the range and the dimension.
macro_rules! scalar {
    (
        $(#[$doc:meta])*
        $name:ident, $getter:ident, $make:ident, $unit:literal, $low:literal..=$high:literal, $dimension:ident
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
                    Err($crate::quantity::scalar::out_of_range(
                        &$crate::quantity::scalar::spoken(stringify!($name)), value, $unit, $low, $high,
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
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                std::fmt::Display::fmt(&self.0, f)?;
                if $unit.is_empty() { Ok(()) } else { write!(f, " {}", $unit) }
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

        impl $crate::quantity::Quantity for $name {
            const DIMENSION: $crate::quantity::Dimension = $crate::quantity::Dimension::$dimension;

            fn in_base(self) -> f64 {
                self.0
            }

            fn from_base(value: f64) -> Result<Self, $crate::diagnostic::Error> {
                Self::$make(value)
            }
        }
    };
}
pub(crate) use scalar;

use crate::diagnostic::{Error, ErrorKind};

/// The error of a value outside its scale.
pub(crate) fn out_of_range(
    what: &str,
    value: f64,
    unit: &str,
    low: impl std::fmt::Display,
    high: impl std::fmt::Display,
) -> Error {
    let unit = if unit.is_empty() {
        String::new()
    } else {
        format!(" {unit}")
    };
    Error::new(
        ErrorKind::OutOfRange,
        format!("expected {what} from {low} to {high}{unit}, found {value}{unit}"),
    )
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
