//! Flavour and aroma: one intensity from 0 (none) to 5 (dominant) for each named axis. Editorial judgement, no source.

use crate::diagnostic::{Error, ErrorKind, nearest};
use serde::de::{self, MapAccess, Visitor};
use serde::ser::SerializeMap as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;

/// The axes of [`MaltFlavour`], in order.
pub const FLAVOUR_AXES: [&str; 17] = [
    "grainy",
    "bready",
    "biscuit",
    "nutty",
    "honey",
    "caramel",
    "toffee",
    "dark_fruit",
    "chocolate",
    "coffee",
    "roast",
    "smoke",
    "spice",
    "sour",
    "earthy",
    "sweet",
    "creamy_body",
];

/// The axes of [`JuiceAroma`], in order.
pub const JUICE_AXES: [&str; 10] = [
    "floral",
    "citrus",
    "stone_fruit",
    "pome",
    "tropical",
    "berry",
    "muscat_terpene",
    "herbaceous",
    "spice",
    "vegetal",
];

/// The axes of [`HopAroma`], in order.
pub const HOP_AXES: [&str; 9] = [
    "floral",
    "citrus",
    "tropical",
    "herbal",
    "spicy",
    "pine",
    "earthy",
    "stone_fruit",
    "berry",
];

/// The strongest intensity.
const DOMINANT: u8 = 5;

macro_rules! intensities {
    ($(#[$doc:meta])* $name:ident, $axes:ident, $count:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub struct $name([u8; $count]);

        impl $name {
            /// Intensities in the order of the axes.
            ///
            /// # Errors
            ///
            /// `OutOfRange` when one is above 5.
            pub fn new(values: [u8; $count]) -> Result<Self, Error> {
                match values.iter().find(|value| **value > DOMINANT) {
                    Some(value) => Err(Error::new(
                        ErrorKind::OutOfRange,
                        format!("expected an intensity from 0 to 5, found {value}"),
                    )),
                    None => Ok(Self(values)),
                }
            }

            /// Intensities of the built-in tables, which are checked when they are written.
            pub(crate) const fn tabled(values: [u8; $count]) -> Self {
                Self(values)
            }

            /// The intensities, in the order of the axes.
            pub const fn values(&self) -> &[u8; $count] {
                &self.0
            }

            /// The intensity on the axis of this name.
            pub fn along(&self, axis: &str) -> Option<u8> {
                let at = $axes.iter().position(|name| *name == axis)?;
                self.0.get(at).copied()
            }
        }

        crate::quantity::agreement::equal!($name);

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                let mut map = serializer.serialize_map(Some($count))?;
                for (axis, value) in $axes.iter().zip(&self.0) {
                    map.serialize_entry(axis, value)?;
                }
                map.end()
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                struct Axes;

                impl<'de> Visitor<'de> for Axes {
                    type Value = $name;

                    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                        f.write_str("intensities from 0 to 5 by axis; an axis left out is 0")
                    }

                    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<$name, A::Error> {
                        let mut values = [0; $count];
                        while let Some((axis, value)) = map.next_entry::<String, u8>()? {
                            let at = $axes.iter().position(|name| *name == axis);
                            match at.and_then(|at| values.get_mut(at)) {
                                Some(place) => *place = value,
                                None => return Err(unknown_axis(&axis, &$axes)),
                            }
                        }
                        $name::new(values).map_err(de::Error::custom)
                    }
                }

                deserializer.deserialize_map(Axes)
            }
        }

        #[cfg(feature = "schema")]
        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                let intensity = || serde_json::json!({"type": "integer", "minimum": 0, "maximum": 5});
                let axes: serde_json::Map<_, _> =
                    $axes.iter().map(|axis| ((*axis).to_owned(), intensity())).collect();
                schemars::json_schema!({"type": "object", "properties": axes, "additionalProperties": false})
            }
        }
    };
}

fn unknown_axis<E: de::Error>(axis: &str, axes: &[&str]) -> E {
    match nearest(axis, axes.iter().copied()).first() {
        Some(near) => E::custom(format!("unknown axis `{axis}`; did you mean `{near}`")),
        None => E::custom(format!("unknown axis `{axis}`")),
    }
}

intensities!(
    /// What a malt, grain or sugar brings, along [`FLAVOUR_AXES`].
    MaltFlavour, FLAVOUR_AXES, 17
);
intensities!(
    /// What a juice smells of, along [`JUICE_AXES`].
    JuiceAroma, JUICE_AXES, 10
);
intensities!(
    /// What a hop smells of, along [`HOP_AXES`].
    HopAroma, HOP_AXES, 9
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn intensities_are_named_and_bounded() {
        let aroma = HopAroma::new([0, 5, 0, 0, 0, 3, 0, 0, 0]).unwrap();
        assert_eq!(aroma.along("pine"), Some(3));
        assert_eq!(aroma.along("smoke"), None);
        assert!(HopAroma::new([6, 0, 0, 0, 0, 0, 0, 0, 0]).is_err());
    }

    #[test]
    fn json_names_the_axes() {
        let aroma: HopAroma = serde_json::from_str(r#"{"pine":3,"citrus":5}"#).unwrap();
        let text = serde_json::to_string(&aroma).unwrap();
        assert!(text.contains(r#""pine":3"#), "{text}");
        assert_eq!(serde_json::from_str::<HopAroma>(&text).unwrap(), aroma);
        let error = serde_json::from_str::<HopAroma>(r#"{"pin":3}"#).unwrap_err();
        assert!(error.to_string().contains("did you mean `pine`"), "{error}");
        assert!(serde_json::from_str::<HopAroma>(r#"{"pine":6}"#).is_err());
    }
}
