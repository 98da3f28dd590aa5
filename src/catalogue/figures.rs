//! Figures that only the catalogue needs: one number each, in one stated unit, within a stated range.

use crate::diagnostic::{Error, ErrorKind};

/// Defines a figure: `Name`, its accessor, its checked constructor, its unit and its range.
macro_rules! figure {
    ($(#[$doc:meta])* $name:ident, $getter:ident, $make:ident, $unit:literal, $low:literal..=$high:literal) => {
        $(#[$doc])*
        #[doc = concat!("\n\nUnit ", $unit, ", range ", stringify!($low), " to ", stringify!($high), ".")]
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            #[doc = concat!("A value in ", $unit, ".\n\n# Errors\n\n`OutOfRange` unless it is a number from ",
                stringify!($low), " to ", stringify!($high), ".")]
            pub fn $make(value: f64) -> Result<Self, Error> {
                if ($low..=$high).contains(&value) {
                    Ok(Self(value))
                } else {
                    Err(Error::new(
                        ErrorKind::OutOfRange,
                        format!("expected {} to {} {}, found {value}", $low, $high, $unit),
                    ))
                }
            }

            #[doc = concat!("The value in ", $unit, ".")]
            pub const fn $getter(self) -> f64 {
                self.0
            }

            /// A value of the built-in tables, which are checked when they are written.
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

        impl crate::quantity::agreement::Agree for $name {
            fn agrees(&self, other: &Self, tolerance: f64) -> bool {
                crate::quantity::agreement::Agree::agrees(&self.0, &other.0, tolerance)
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                write!(f, "{} {}", self.0, $unit)
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                crate::quantity::json::number(self.0, serializer)
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                Self::$make(f64::deserialize(deserializer)?).map_err(serde::de::Error::custom)
            }
        }

        #[cfg(feature = "schema")]
        crate::quantity::schema::schema_as! { $name, { "type": "number", "minimum": $low, "maximum": $high } }
    };
}

figure!(
    /// Acid that a kilogram of malt takes up per unit of pH, between its distilled-water mash pH and 5.7.
    Buffering, milliequivalents_per_kilogram_ph, from_milliequivalents_per_kilogram_ph, "mEq/(kg pH)", 0.0..=1000.0
);
figure!(
    /// Mass of an ion that a gram of the product as named brings: mg/L in the water for each g/L of product.
    /// Above 1000 where a carbonate takes up carbon dioxide.
    IonYield, milligrams_per_gram, from_milligrams_per_gram, "mg/g", 0.0..=3000.0
);
figure!(
    /// Acid or alkali that a gram of the product as named brings.
    Equivalents, milliequivalents_per_gram, from_milliequivalents_per_gram, "mEq/g", 0.0..=100.0
);
figure!(
    /// The pH at which half of an acid group has given up its proton, at zero ionic strength and 25 °C.
    AcidConstant, pk, from_pk, "pK", -10.0..=20.0
);
figure!(
    /// Mass of a mole of the formula, water of crystallisation included.
    MolarMass, grams_per_mole, from_grams_per_mole, "g/mol", 1.0..=1000.0
);
figure!(
    /// Mass of a millilitre of a solution near room temperature.
    Density, grams_per_millilitre, from_grams_per_millilitre, "g/mL", 0.5..=3.0
);
figure!(
    /// Essential oil in hop cones.
    OilContent, millilitres_per_100_grams, from_millilitres_per_100_grams, "mL/100 g", 0.0..=10.0
);
figure!(
    /// Dose of a process aid sold as a liquid, in the volume treated.
    VolumeDose, millilitres_per_hectolitre, from_millilitres_per_hectolitre, "mL/hL", 0.0..=10000.0
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_outside_their_range_are_refused() {
        assert_eq!(
            IonYield::from_milligrams_per_gram(232.8)
                .unwrap()
                .milligrams_per_gram(),
            232.8
        );
        let error = IonYield::from_milligrams_per_gram(-1.0).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::OutOfRange);
        assert!(MolarMass::from_grams_per_mole(f64::NAN).is_err());
        assert_eq!(AcidConstant::clamped(f64::NAN), AcidConstant(-10.0));
        assert_eq!(Density::clamped(9.0), Density(3.0));
    }
}
