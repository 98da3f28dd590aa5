//! JSON schemas of figures, which stand in JSON as plain numbers in the unit that their field names.

/// Schemas of types that are written as plain numbers.
macro_rules! numbers {
    ($($name:ty),+ $(,)?) => {
        $($crate::quantity::schema::schema_as! { $name, { "type": "number" } })+
    };
}
pub(crate) use numbers;

/// The schema of a type that writes its own JSON. It stands in place, since it says no more than its field's name.
macro_rules! schema_as {
    ($name:ty, $($schema:tt)+) => {
        impl schemars::JsonSchema for $name {
            fn inline_schema() -> bool {
                true
            }

            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!($($schema)+)
            }
        }
    };
}
pub(crate) use schema_as;

use super::json::{self, option};

numbers!(
    json::Rounded,
    json::kilogram,
    json::litre,
    json::minute,
    json::day,
    json::kilowatt,
    json::metre,
    json::bar,
    json::kilojoule,
    json::percent,
    option::kilogram,
    option::litre,
    option::minute,
    option::day,
    option::bar,
    option::percent,
);
