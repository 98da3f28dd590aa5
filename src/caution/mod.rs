//! What can hurt someone on the way to a beer, each shown only where it applies.
//!
//! ```
//! use wortwright::Job;
//!
//! let beer = std::fs::read_to_string("examples/data/saltmarsh-lantern.gyle")?;
//! let home = std::fs::read_to_string("examples/data/stove-top.gyle")?;
//! let plan = Job::read([("beer", beer), ("home", home)])?.on("Stove top")?.plan()?;
//! for caution in plan.cautions() {
//!     println!("{:?} {}: {}", caution.urgency, caution.code, caution.text);
//! }
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! | for | see |
//! |---|---|
//! | the cautions of a plan | [`Plan::cautions`](crate::scale::Plan::cautions) |
//! | those of a recipe that is brewed as printed | [`for_recipe`] |
//! | one of them, how much it presses, where it applies | [`Caution`], [`Urgency`], [`BrewStep`] |
//!
//! They follow from the recipe, the plant and what the catalogue knows of the ingredients. They cannot see the brewer's
//! kitchen, so a caution that is missing is no proof of safety.

mod brew;
mod code;
mod named;
mod rules;

use crate::catalogue::{Catalogue, CautionLevel, EntryRef};
use crate::diagnostic::Severity;
use crate::numeric::order;
use crate::process::Stage;
use crate::recipe::{Brewhouse, Recipe};
use crate::scale::Plan;
use crate::speech::{Speaks, Style, TemperatureScale};
use brew::{Brew, Part};
use serde::Serialize;
use std::borrow::Cow;

/// One caution.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Caution {
    /// Stable code.
    pub code: &'static str,
    /// How much it presses.
    pub urgency: Urgency,
    /// Where on the way to the beer it applies.
    pub step: BrewStep,
    /// One or two sentences.
    pub text: Cow<'static, str>,
    /// Where its figures come from; absent where it names none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<Cow<'static, str>>,
}

/// How much a caution presses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Urgency {
    /// Not to be brewed like this.
    Stop,
    /// It can maim or kill.
    Danger,
    /// It can hurt, or make someone ill.
    Care,
    /// To be known.
    Note,
}

/// Where on the way to a beer a caution applies, in the order of the day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum BrewStep {
    /// From the first hot water to the last bottle.
    WholeDay,
    /// With the list of ingredients.
    Shopping,
    /// Water and what goes into it.
    Water,
    /// Milling, mashing and the run-off.
    Mash,
    /// Wort that bacteria sour in the kettle.
    Souring,
    /// The kettle.
    Boil,
    /// From the end of the boil to the fermenter.
    Cooling,
    /// The fermenter.
    Fermentation,
    /// What goes into the fermenter after the yeast.
    Additions,
    /// Bottles, casks and kegs.
    Packaging,
    /// At no step of its own.
    Afterwards,
}

impl BrewStep {
    /// Where what goes in at a stage is handled.
    const fn of(stage: Stage) -> Self {
        match stage {
            Stage::Mash => Self::Mash,
            Stage::Sour => Self::Souring,
            Stage::Boil => Self::Boil,
            Stage::Stand => Self::Cooling,
            Stage::Ferment => Self::Additions,
            Stage::Package => Self::Packaging,
        }
    }
}

impl Caution {
    /// Every code there is.
    pub const CODES: &'static [&'static str] = code::Code::ALL;
}

impl Speaks for Caution {
    fn code(&self) -> &'static str {
        self.code
    }

    fn severity(&self) -> Severity {
        match self.urgency {
            Urgency::Stop => Severity::Error,
            Urgency::Danger | Urgency::Care => Severity::Warning,
            Urgency::Note => Severity::Note,
        }
    }

    /// The text with its temperatures in the style's degrees alone.
    fn text(&self, style: Style) -> String {
        in_degrees(&self.text, style.temperature)
    }
}

/// A text with one of each pair such as `60 °C (140 °F)`.
fn in_degrees(text: &str, scale: TemperatureScale) -> String {
    let pair = text
        .split_once(" °C (")
        .and_then(|(before, rest)| Some((before, rest.split_once(" °F)")?)));
    let Some((before, (fahrenheit, after))) = pair else {
        return text.to_owned();
    };
    let said = match scale {
        TemperatureScale::Celsius => format!("{before} °C"),
        TemperatureScale::Fahrenheit => {
            let before = before.trim_end_matches(|c| c != ' ');
            format!("{before}{fahrenheit} °F")
        }
    };
    said + &in_degrees(after, scale)
}

impl Plan {
    /// The cautions of a plan, the most pressing first.
    #[must_use]
    pub fn cautions(&self) -> Vec<Caution> {
        cautions(&Brew::planned(self))
    }
}

/// What a sheet asks of a plan, its ingredients looked up once.
#[derive(Debug)]
pub(crate) struct PlanCautions {
    pub(crate) cautions: Vec<Caution>,
    /// Whether a yeast or an enzyme goes on for weeks where others have stopped.
    pub(crate) ferments_dextrins: bool,
    /// Plants that must not go into a drink, by their names.
    pub(crate) blocked: Vec<String>,
}

impl PlanCautions {
    pub(crate) fn of(plan: &Plan) -> Self {
        let brew = Brew::planned(plan);
        let is_blocked = |part: &&Part<'_>| {
            matches!(
                part.entry,
                Some(EntryRef::Botanical(plant)) if plant.caution_level == Some(CautionLevel::Block)
            )
        };
        let blocked = brew.parts.iter().filter(is_blocked);
        Self {
            cautions: cautions(&brew),
            ferments_dextrins: brew.parts.iter().any(named::ferments_dextrins),
            blocked: blocked.map(|part| part.ingredient.name.clone()).collect(),
        }
    }
}

/// The cautions of a recipe on a plant, the most pressing first. Without a plant those that hang on it (a bag, wort
/// that is not chilled) cannot be seen.
///
/// ```
/// use wortwright::catalogue::Catalogue;
/// use wortwright::caution::for_recipe;
/// use wortwright::recipe::Recipe;
/// let cautions = for_recipe(&Recipe::new("Nothing yet"), None, &Catalogue::builtin());
/// assert!(cautions.iter().any(|caution| caution.code == "arithmetic_only"));
/// assert!(!cautions.iter().any(|caution| caution.code == "boil_over"));
/// ```
#[must_use]
pub fn for_recipe(
    recipe: &Recipe,
    brewhouse: Option<&Brewhouse>,
    catalogue: &Catalogue,
) -> Vec<Caution> {
    cautions(&Brew::of(recipe, brewhouse, catalogue))
}

fn cautions(brew: &Brew<'_>) -> Vec<Caution> {
    let mut cautions: Vec<_> = rules::RULES
        .iter()
        .filter(|rule| (rule.applies)(brew))
        .map(rules::Rule::caution)
        .collect();
    // Acid that only corrects the mash is met there.
    let is_acid = |caution: &&mut Caution| caution.code == code::Code::Acids.as_str();
    if brew.only_corrects_with_acid
        && let Some(acid) = cautions.iter_mut().find(is_acid)
    {
        acid.step = BrewStep::Mash;
    }
    cautions.extend(named::cautions(brew));
    // Stable: among equals the order of the day. What holds for every sheet comes last.
    order::sort_by_key(&mut cautions, |caution| {
        (caution.urgency, caution.code == rules::ALWAYS.as_str())
    });
    cautions
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_has_one_of_two_degrees() {
        let text = "60 °C (140 °F) burns, below 3 °C (37 °F) it keeps.";
        let said = |scale| in_degrees(text, scale);
        assert_eq!(
            said(TemperatureScale::Celsius),
            "60 °C burns, below 3 °C it keeps."
        );
        assert_eq!(
            said(TemperatureScale::Fahrenheit),
            "140 °F burns, below 37 °F it keeps."
        );
        assert_eq!(
            in_degrees("at 20 °C (cold", TemperatureScale::Fahrenheit),
            "at 20 °C (cold"
        );
    }
}
