//! The stable codes of diagnostics, one for each kind of mistake.

use serde::{Serialize, Serializer};

macro_rules! codes {
    ($($(#[$doc:meta])* $variant:ident = $text:literal,)*) => {
        /// Stable code of a kind of mistake; hosts may match on [`Code::as_str`].
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[non_exhaustive]
        pub enum Code {
            $($(#[$doc])* $variant,)*
        }

        impl Code {
            /// Every code there is, in the order of this list.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)*];

            /// The code as hosts see it, such as `missing_unit`.
            pub const fn as_str(self) -> &'static str {
                match self {
                    $(Self::$variant => $text,)*
                }
            }
        }
    };
}

codes! {
    /// A number without a unit where several units fit.
    MissingUnit = "missing_unit",
    /// A unit that does not belong where it stands.
    WrongUnit = "wrong_unit",
    /// A word in a unit's place that is no unit.
    UnknownUnit = "unknown_unit",
    /// A number that can be read in two ways, such as `4,5`.
    AmbiguousNumber = "ambiguous_number",
}

impl Serialize for Code {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.as_str())
    }
}
