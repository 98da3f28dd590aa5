//! An input: a field of a model, which a line of a text or a host's own code states.

use serde::{Serialize, Serializer};
use std::fmt;
use std::sync::Arc;

/// An input, by its path in the models' JSON: `recipe.mash.additions[2].amount`, `brewhouses[Stove top].kettle_l`. A plant and
/// a log are known by their names, since recipes and calls name them so; everything else that there is more of, and a log without a
/// name, by its number, from 0.
///
/// ```
/// use wortwright::{Job, speech::Speaks};
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let job = Job::read([("ale", "recipe Ale\nbatch 10 L\ntarget original 12 P, alcohol 7 %\n\
///                               mash\n  100 % pale ale malt\nboil 60 min\nbrewhouse Home\n  batch 10 L\n")])?;
/// let plan = job.on("Home")?.plan()?;
/// let doubtful = plan.warnings.iter().find(|told| told.code() == "alcohol_disagrees").ok_or("none")?;
/// assert_eq!(doubtful.place().ok_or("none")?.to_string(), "recipe.targets.alcohol_abv_pct");
/// # Ok(())
/// # }
/// ```
#[derive(Clone)]
pub struct Place {
    /// The path of the object that has the field: `#` for each number and `*` for the name.
    object: &'static str,
    numbers: [u32; 3],
    name: Option<Arc<str>>,
    /// The path from there to a part that other objects have as well, such as an ingredient; empty where there is none.
    part: &'static str,
    /// The path from there; empty for the object as a whole.
    field: &'static str,
}

impl Place {
    /// The object of that path as a whole.
    pub(crate) const fn of(object: &'static str, numbers: [u32; 3]) -> Self {
        Self {
            object,
            numbers,
            name: None,
            part: "",
            field: "",
        }
    }

    /// The object of that path and name as a whole.
    pub(crate) fn named(object: &'static str, name: Arc<str>, numbers: [u32; 3]) -> Self {
        Self {
            name: Some(name),
            ..Self::of(object, numbers)
        }
    }

    /// A part of the object.
    #[must_use]
    pub(crate) const fn part(mut self, part: &'static str) -> Self {
        self.part = part;
        self
    }

    /// A field of the object, or of its part.
    #[must_use]
    pub(crate) const fn field(mut self, field: &'static str) -> Self {
        self.field = field;
        self
    }

    /// Whether it is the other input or holds it, as an addition holds its amount.
    #[must_use]
    pub fn holds(&self, other: &Self) -> bool {
        let (whole, part) = (self.to_string(), other.to_string());
        let rest = part.strip_prefix(&whole);
        rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut numbers = self.numbers.iter();
        let mut rest = self.object;
        while let Some(at) = rest.bytes().position(|byte| matches!(byte, b'#' | b'*')) {
            let (before, mark) = rest.split_at(at);
            f.write_str(before)?;
            if mark.starts_with('#') {
                fmt::Display::fmt(numbers.next().unwrap_or(&0), f)?;
            } else {
                f.write_str(self.name.as_deref().unwrap_or_default())?;
            }
            rest = mark.get(1..).unwrap_or_default();
        }
        f.write_str(rest)?;
        for path in [self.part, self.field] {
            if !path.is_empty() {
                f.write_str(".")?;
                f.write_str(path)?;
            }
        }
        Ok(())
    }
}

/// Two are the same if their paths are.
impl PartialEq for Place {
    fn eq(&self, other: &Self) -> bool {
        self.to_string() == other.to_string()
    }
}

impl Eq for Place {}

impl fmt::Debug for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Place({self})")
    }
}

impl Serialize for Place {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Place {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Place".into()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        generator.subschema_for::<String>()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_prints_as_its_path() {
        let part = Place::of("recipe.mash.additions[#].content.blend[#]", [2, 1, 0]);
        let whole = "recipe.mash.additions[2].content.blend[1]";
        assert_eq!(part.to_string(), whole);
        let amount = part.clone().field("amount");
        assert_eq!(amount.to_string(), format!("{whole}.amount"));
        assert!(part.holds(&part) && part.holds(&amount) && !amount.holds(&part));
        let second = Place::of("stock.lots[#]", [1, 0, 0]);
        assert!(!second.holds(&Place::of("stock.lots[#]", [12, 0, 0])));
        let plant = Place::named("brewhouses[*]", "Stove top".into(), [0; 3]).field("kettle_l");
        assert_eq!(plant.to_string(), "brewhouses[Stove top].kettle_l");
    }
}
