//! A quantity as somebody wrote it: a number in a unit, and the value that follows from them.

use super::agreement::Agree;
use super::json::round12;
use super::lexer::AsWritten;
use super::unit::{Dimension, Unit};
use super::{
    HeatCapacity, Length, Mass, Power, Time, Volume, in_kilograms, in_kilojoules_per_kelvin,
    in_kilowatts, in_litres, in_metres, in_minutes, kilograms, kilojoules_per_kelvin, kilowatts,
    litres, metres, minutes,
};
use crate::diagnostic::Error;
use std::fmt;
use std::str::FromStr;

/// A quantity with one base unit in this crate: kg, L, min, m, °C, °P …
pub trait Quantity: Copy + PartialEq + fmt::Debug {
    /// What is measured.
    const DIMENSION: Dimension;

    /// What its units may measure: a gravity is written in °P or as a specific gravity.
    const WRITTEN_AS: &'static [Dimension] = &[Self::DIMENSION];

    /// The number in the base unit.
    fn in_base(self) -> f64;

    /// The quantity from a number in the base unit.
    ///
    /// # Errors
    ///
    /// `OutOfRange` when the number does not fit the scale.
    fn from_base(value: f64) -> Result<Self, Error>;

    /// The number in the base unit of so many of `unit`. What needs a model is converted where the model stands.
    ///
    /// # Errors
    ///
    /// `NotAQuantity` when the unit is of another dimension.
    fn base_of(number: f64, unit: Unit) -> Result<f64, Error> {
        by_factor(number, unit, Self::WRITTEN_AS)
    }

    /// The number of `unit`, unless it is of another dimension.
    fn in_unit(self, unit: Unit) -> Option<f64> {
        let fits = Self::WRITTEN_AS.contains(&unit.dimension());
        fits.then(|| unit.from_base(self.in_base()))
    }
}

/// The number in the base unit, for a unit of one of the dimensions.
pub(crate) fn by_factor(number: f64, unit: Unit, allowed: &[Dimension]) -> Result<f64, Error> {
    if allowed.contains(&unit.dimension()) {
        return Ok(unit.to_base(number));
    }
    let found = AsWritten::plain(number, unit);
    Err(super::lexer::unfitting(allowed, &found.to_string()))
}

macro_rules! uom_quantity {
    ($quantity:ty, $of:path, $within:path, $dimension:ident, $what:literal, $low:literal..=$high:literal) => {
        impl Quantity for $quantity {
            const DIMENSION: Dimension = Dimension::$dimension;

            fn in_base(self) -> f64 {
                $within(self)
            }

            fn from_base(value: f64) -> Result<Self, Error> {
                if ($low..=$high).contains(&value) {
                    Ok($of(value))
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

        impl TryFrom<$quantity> for Written<$quantity> {
            type Error = Error;

            #[doc = concat!("A computed value, to 12 digits.\n\n# Errors\n\n`OutOfRange` unless it is ", $what, " from ",
                stringify!($low), " to ", stringify!($high), " in its base unit.")]
            fn try_from(value: $quantity) -> Result<Self, Error> {
                <$quantity>::from_base(value.in_base()).map(Self::in_base_unit)
            }
        }
    };
}

// The upper bounds are those of the largest plant and the longest storage that make sense (common practice, no source).
uom_quantity!(Mass, kilograms, in_kilograms, Mass, "a mass", 0.0..=1.0e9);
uom_quantity!(Volume, litres, in_litres, Volume, "a volume", 0.0..=1.0e9);
uom_quantity!(Time, minutes, in_minutes, Time, "a time", 0.0..=1.0e7);
uom_quantity!(
    HeatCapacity,
    kilojoules_per_kelvin,
    in_kilojoules_per_kelvin,
    HeatCapacity,
    "a heat capacity",
    0.0..=1.0e6
);
uom_quantity!(
    Power,
    kilowatts,
    in_kilowatts,
    Power,
    "a power",
    0.01..=1.0e5
);
uom_quantity!(
    Length,
    metres,
    in_metres,
    Length,
    "an altitude",
    -500.0..=9000.0
);

/// A quantity as somebody wrote it: a number, or a range, in a unit. The value follows from them and from nothing else.
///
/// It is read from text as the notation reads it, and made of a computed value:
///
/// ```
/// use wortwright::quantity::{Extract, Mass, Share, Unit, Volume, Written};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let batch: Written<Volume> = "4gal".parse()?;
/// assert_eq!((batch.number(), batch.unit()), (4.0, Unit::Gallon));
/// assert_eq!(batch.to_string(), "4 gal");
/// let malt = Written::<Mass>::try_from("~8-10 lb")?;
/// assert_eq!((malt.number(), malt.range()), (9.0, Some((8.0, 10.0))));
/// let gravity: Written<Extract> = "1.050".parse()?;
/// assert_eq!(gravity.unit(), Unit::SpecificGravity);
/// assert!((gravity.value().plato() - 12.38).abs() < 0.005);
/// let share = Written::from(Share::from_fraction(0.7)?);
/// assert_eq!(share.to_string(), "70 %");
/// let refused = "4 P".parse::<Written<Volume>>().unwrap_err();
/// assert_eq!(refused.to_string(), "expected a volume (`L`, `hL`, `mL`, `gal` or `bbl`), found `4 P`");
/// # Ok(())
/// # }
/// ```
///
/// In JSON it is `"4 gal"`, an object of `number` and `unit`, with `range` and `about` where they were written, or a bare
/// number in the unit that the field's name ends in. It is written as the object, with the `value` in the field's unit
/// beside them; one that is read beside a number it contradicts is refused.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Written<Q> {
    value: Q,
    as_written: AsWritten,
}

impl<Q: Quantity> Written<Q> {
    /// So many of `unit`.
    ///
    /// # Errors
    ///
    /// `NotAQuantity` when the unit is of another dimension, `OutOfRange` when the value does not fit its scale.
    pub fn new(number: f64, unit: Unit) -> Result<Self, Error> {
        Self::stated(AsWritten::plain(number, unit))
    }

    /// From `low` to `high` of `unit`; the value is that of the middle.
    ///
    /// # Errors
    ///
    /// As [`Written::new`], and `OutOfRange` unless `low` is the lower of the two.
    pub fn between(low: f64, high: f64, unit: Unit) -> Result<Self, Error> {
        AsWritten::between(low, high, unit).and_then(Self::stated)
    }

    /// The quantity of which a text or a host states this much.
    pub(crate) fn stated(as_written: AsWritten) -> Result<Self, Error> {
        let base = Q::base_of(as_written.number, as_written.unit)?;
        Ok(Self {
            value: Q::from_base(base)?,
            as_written,
        })
    }

    /// A computed value in the unit in which such values are said.
    pub(crate) fn in_base_unit(value: Q) -> Self {
        // It is not always the unit that is computed in: shares are said in per cent.
        Self::computed(value, Unit::base(Q::DIMENSION))
    }

    /// A computed value in `unit`, to the 12 digits that a text or JSON keeps of it.
    pub(crate) fn computed(value: Q, unit: Unit) -> Self {
        let number = value.in_unit(unit);
        let number = round12(number.unwrap_or_else(|| unit.from_base(value.in_base())));
        Self::new(number, unit).unwrap_or(Self {
            value,
            as_written: AsWritten::plain(number, unit),
        })
    }

    /// `factor` times as much, of a unit that is proportional to its base; a range is left behind.
    pub(crate) fn times(&self, factor: f64) -> Result<Self, Error> {
        Self::new(self.as_written.number * factor, self.as_written.unit)
    }

    /// The same value, marked as approximate by its writer.
    #[must_use]
    pub const fn approximately(mut self) -> Self {
        self.as_written.about = true;
        self
    }

    /// What it means, computed once when it was read; of a range the middle.
    pub const fn value(&self) -> Q {
        self.value
    }

    /// The number as written; of a range, its middle.
    pub const fn number(&self) -> f64 {
        self.as_written.number
    }

    /// The unit as written.
    pub const fn unit(&self) -> Unit {
        self.as_written.unit
    }

    /// The ends of the range in the written unit, if a range was written.
    pub const fn range(&self) -> Option<(f64, f64)> {
        self.as_written.range
    }

    /// Whether the writer marked it as approximate.
    pub const fn is_approximate(&self) -> bool {
        self.as_written.about
    }

    pub(super) const fn as_written(&self) -> &AsWritten {
        &self.as_written
    }

    /// Whether two values agree within a relative tolerance, whatever they were written in.
    pub fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        self.value.agrees(&other.value, tolerance)
    }
}

impl<Q> fmt::Display for Written<Q> {
    /// As the notation reads it, the number to 12 digits or to the precision asked for.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.as_written.fmt(f)
    }
}

impl<Q: Quantity> FromStr for Written<Q> {
    type Err = Error;

    /// A number and its unit, as the notation reads them.
    fn from_str(text: &str) -> Result<Self, Error> {
        AsWritten::read(text, Q::WRITTEN_AS).and_then(Self::stated)
    }
}

impl<Q: Quantity> TryFrom<&str> for Written<Q> {
    type Error = Error;

    /// A number and its unit, as the notation reads them.
    fn try_from(text: &str) -> Result<Self, Error> {
        text.parse()
    }
}
