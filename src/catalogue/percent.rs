//! Fractions that stand in per cent in JSON, in fields whose names end in `_pct`.

use crate::diagnostic::Error;
use crate::quantity::{
    AlcoholByVolume, AlphaAcids, Attenuation, Fermentability, LaboratoryExtract, Moisture, Protein,
    Share, Strength, json,
};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// A fraction that can be read and written in per cent.
pub(super) trait Percent: Copy {
    fn percent(self) -> f64;
    fn from_percent(value: f64) -> Result<Self, Error>;
}

macro_rules! in_percent {
    ($($name:ident),+) => {
        $(impl Percent for $name {
            fn percent(self) -> f64 {
                $name::percent(self)
            }

            fn from_percent(value: f64) -> Result<Self, Error> {
                $name::from_percent(value)
            }
        })+
    };
}

in_percent!(
    AlcoholByVolume,
    AlphaAcids,
    Attenuation,
    Fermentability,
    LaboratoryExtract,
    Moisture,
    Protein,
    Share,
    Strength
);

struct InPercent<T>(T);

impl<T: Percent> Serialize for InPercent<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        json::number(self.0.percent(), serializer)
    }
}

impl<'de, T: Percent> Deserialize<'de> for InPercent<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        T::from_percent(f64::deserialize(deserializer)?)
            .map(Self)
            .map_err(de::Error::custom)
    }
}

/// One fraction.
pub(super) struct One;

impl One {
    #[allow(clippy::ref_option, reason = "serde passes fields by reference")]
    pub(super) fn serialize<T: Percent, S: Serializer>(
        value: &Option<T>,
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        value.map(InPercent).serialize(serializer)
    }

    pub(super) fn deserialize<'de, T: Percent, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<Option<T>, D::Error> {
        Ok(Option::<InPercent<T>>::deserialize(deserializer)?.map(|value| value.0))
    }
}

/// A lower and an upper bound.
pub(super) struct Range;

impl Range {
    #[allow(clippy::ref_option, reason = "serde passes fields by reference")]
    pub(super) fn serialize<T: Percent, S: Serializer>(
        value: &Option<(T, T)>,
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        value
            .map(|(low, high)| (InPercent(low), InPercent(high)))
            .serialize(serializer)
    }

    pub(super) fn deserialize<'de, T: Percent, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<Option<(T, T)>, D::Error> {
        let read = Option::<(InPercent<T>, InPercent<T>)>::deserialize(deserializer)?;
        Ok(read.map(|(low, high)| (low.0, high.0)))
    }
}

#[cfg(feature = "schema")]
crate::quantity::schema::schema_as!(One, { "type": ["number", "null"] });
#[cfg(feature = "schema")]
crate::quantity::schema::schema_as!(Range, {
    "type": ["array", "null"], "items": { "type": "number" }, "minItems": 2, "maxItems": 2
});
