//! Whether two values mean the same within a relative tolerance, such as one and its copy from JSON.

use super::{Quantity, Written};
use std::borrow::Cow;

/// Part of a figure that the unit in which it is written changes at most: its last digits.
pub(crate) const OF_ITS_UNIT: f64 = 1e-9;

/// Whether a figure is above a limit by more than the unit in which it is written may change.
pub(crate) fn is_above(figure: f64, limit: f64) -> bool {
    figure > limit && !figure.agrees(&limit, OF_ITS_UNIT)
}

/// Types whose figures can agree within a tolerance.
pub(crate) trait Agree {
    /// Whether every figure agrees within the relative tolerance, and all else is equal.
    fn agrees(&self, other: &Self, tolerance: f64) -> bool;
}

impl Agree for f64 {
    fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        (self - other).abs() <= tolerance * self.abs().max(other.abs())
    }
}

impl<Q: Quantity> Agree for Q {
    fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        self.in_base().agrees(&other.in_base(), tolerance)
    }
}

impl<Q: Quantity> Agree for Written<Q> {
    fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        self.value().agrees(&other.value(), tolerance)
    }
}

impl<T: Agree> Agree for (T, T) {
    fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        self.0.agrees(&other.0, tolerance) && self.1.agrees(&other.1, tolerance)
    }
}

impl<T: Agree> Agree for Option<T> {
    fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        match (self, other) {
            (Some(one), Some(other)) => one.agrees(other, tolerance),
            (None, None) => true,
            _ => false,
        }
    }
}

impl<T: Agree> Agree for [T] {
    fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        self.len() == other.len()
            && self
                .iter()
                .zip(other)
                .all(|(one, other)| one.agrees(other, tolerance))
    }
}

impl<T: Agree> Agree for Vec<T> {
    fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        (**self).agrees(&**other, tolerance)
    }
}

/// Texts and lists of a row hold no figures.
impl<T: ToOwned + PartialEq + ?Sized> Agree for Cow<'_, T> {
    fn agrees(&self, other: &Self, _: f64) -> bool {
        self == other
    }
}

/// Types without a figure.
macro_rules! equal {
    ($($name:ident)+) => {
        $(impl $crate::quantity::agreement::Agree for $name {
            fn agrees(&self, other: &Self, _: f64) -> bool {
                self == other
            }
        })+
    };
}
pub(crate) use equal;

/// Types that agree when all of their fields do. A field that is left out here does not compile.
macro_rules! fields {
    ($($name:ident { $($field:ident)+ })+) => {
        $(impl $crate::quantity::agreement::Agree for $name {
            fn agrees(&self, other: &Self, tolerance: f64) -> bool {
                let Self { $($field,)+ } = self;
                $($crate::quantity::agreement::Agree::agrees($field, &other.$field, tolerance))&&+
            }
        })+
    };
}
pub(crate) use fields;

/// Types that agree when they are of one variant and what it holds agrees.
macro_rules! variants {
    ($($name:ident { $($variant:ident)+ })+) => {
        $(impl $crate::quantity::agreement::Agree for $name {
            fn agrees(&self, other: &Self, tolerance: f64) -> bool {
                match (self, other) {
                    $((Self::$variant(one), Self::$variant(other)) => {
                        $crate::quantity::agreement::Agree::agrees(one, other, tolerance)
                    })+
                    #[allow(unreachable_patterns, reason = "a type may have no other variants")]
                    _ => self == other,
                }
            }
        })+
    };
}
pub(crate) use variants;

equal!(String u32);
