//! What every row of the catalogue has in common.

use std::borrow::Cow;

/// A text of a row: borrowed from the built-in tables, or a host's own.
pub(super) type Text = Cow<'static, str>;

/// A list of a row.
pub(super) type List<T> = Cow<'static, [T]>;

/// A field that may be left out of JSON.
pub(super) trait Blank {
    fn is_blank(&self) -> bool;
}

impl<T> Blank for Option<T> {
    fn is_blank(&self) -> bool {
        self.is_none()
    }
}

impl Blank for Text {
    fn is_blank(&self) -> bool {
        self.is_empty()
    }
}

impl<T: Clone> Blank for List<T> {
    fn is_blank(&self) -> bool {
        self.is_empty()
    }
}

pub(super) fn blank<T: Blank>(field: &T) -> bool {
    field.is_blank()
}

/// Defines a row: the common fields, its own fields with their names in JSON, and the constructor for hosts.
macro_rules! row {
    (
        $(#[$doc:meta])*
        $name:ident {
            $($(#[$field_doc:meta])* $field:ident: $type:ty => $json:literal $(, $with:literal)?;)+
        }
    ) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[serde(deny_unknown_fields)]
        #[non_exhaustive]
        pub struct $name {
            /// Generic trade name.
            pub name: $crate::catalogue::row::Text,
            /// Other names of the same thing.
            #[serde(default, skip_serializing_if = "crate::catalogue::row::blank")]
            pub aliases: $crate::catalogue::row::List<$crate::catalogue::row::Text>,
            $(
                $(#[$field_doc])*
                #[serde(default, skip_serializing_if = "crate::catalogue::row::blank", rename = $json $(, with = $with)?)]
                pub $field: $type,
            )+
            /// Regulated allergens. An empty list does not speak for cross-contact.
            #[serde(default, skip_serializing_if = "crate::catalogue::row::blank")]
            pub allergens: $crate::catalogue::row::List<$crate::catalogue::Allergen>,
            /// What else is to be said on allergies.
            #[serde(default, skip_serializing_if = "crate::catalogue::row::blank")]
            pub allergen_note: $crate::catalogue::row::Text,
            /// Where the figures come from.
            #[serde(default, skip_serializing_if = "crate::catalogue::row::blank")]
            pub reference: $crate::catalogue::row::Text,
            /// How far the reference was seen.
            #[serde(default = "crate::catalogue::row::host")]
            pub provenance: $crate::catalogue::Provenance,
        }

        $crate::quantity::agreement::fields! {
            $name { name aliases $($field)+ allergens allergen_note reference provenance }
        }

        impl $name {
            /// A row of the host's own, of which nothing but the name is known yet.
            #[must_use]
            pub fn new(name: impl Into<$crate::catalogue::row::Text>) -> Self {
                Self {
                    name: name.into(),
                    aliases: std::borrow::Cow::Borrowed(&[]),
                    $($field: Default::default(),)+
                    allergens: std::borrow::Cow::Borrowed(&[]),
                    allergen_note: std::borrow::Cow::Borrowed(""),
                    reference: std::borrow::Cow::Borrowed(""),
                    provenance: $crate::catalogue::Provenance::Host,
                }
            }
        }
    };
}
pub(super) use row;

pub(super) const fn host() -> super::Provenance {
    super::Provenance::Host
}
