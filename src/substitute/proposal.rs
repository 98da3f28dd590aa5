//! What is proposed, and what it changes.

use super::distance::DistancePart;
use super::noticed::{Noticed, ProposalRole};
use super::part::Part;
use super::practice::Practice;
use crate::catalogue::Allergen;
use crate::diagnostic::{Place, Severity};
use crate::process::Figures;
use crate::quantity::{Mass, VolumeShare};
use crate::recipe::{RecipeLine, Swap};
use crate::speech::{Noted, Speaks, Style};
use serde::Serialize;

/// One substitute: a blend of one to three ingredients.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = with_code))]
#[non_exhaustive]
pub struct Proposal {
    /// What goes in, the leading part first.
    pub parts: Vec<Part>,
    /// How a juice is matched.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub way: Option<JuiceMatch>,
    /// The new share of the liquid's volume, where a juice's is printed and changes.
    #[serde(
        rename = "share_by_volume_pct",
        with = "crate::quantity::json::option::percent",
        skip_serializing_if = "Option::is_none"
    )]
    pub share_by_volume: Option<VolumeShare>,
    /// Base malt more (or less, below zero) than printed, kilograms; absent where it is too little to weigh.
    #[serde(
        rename = "slack_kg",
        with = "crate::quantity::json::option::kilogram",
        skip_serializing_if = "Option::is_none"
    )]
    pub slack: Option<Mass>,
    /// Whether gravity is kept, and colour short of what makes another beer (bitterness for hops).
    pub feasible: bool,
    /// Gravity brought less gravity wanted, per cent of the whole wort's, before weighing out.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub gravity_residual_pct: f64,
    /// Colour of the wort with this less that without, EBC, by the model and before weighing out; in the fermenter, where nothing
    /// of it colours the wort, colour brought less colour wanted, as EBC of the whole wort.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub colour_residual_ebc: f64,
    /// Distance: the smaller the nearer. Comparable within one line only.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub distance: f64,
    /// What a drinker notices of it, sense by sense.
    pub noticed: Vec<Noticed>,
    /// What it would be chosen for, among the proposals of its line.
    pub roles: Vec<ProposalRole>,
    /// One line that a brewer reads: how different, in what, and from where it is.
    pub summary: String,
    /// The same without what stays as it is and where it is from, for a box.
    #[serde(skip)]
    pub difference: String,
    /// What the distance is made of.
    pub distance_parts: Vec<DistancePart>,
    /// The whole recipe on the target with this in it.
    pub predicted: Figures,
    /// Allergens that come in.
    pub allergens_gained: Vec<Allergen>,
    /// Allergens that go.
    pub allergens_lost: Vec<Allergen>,
    /// What to take care of, each with the input that asks for it.
    pub practice: Vec<Noted<Practice>>,
    /// Blends with the same leader that stand behind this one among the best.
    pub variants: usize,
    /// A juice's other ways, for the same ingredients.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub other_ways: Vec<Proposal>,
    /// The line in whose place it goes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<Place>,
    /// The swap that makes it, for [`Recipe::with_swaps`](crate::recipe::Recipe::with_swaps).
    pub swap: Swap,
}

/// An answer has the code beside the figures.
#[cfg(feature = "schema")]
fn with_code(schema: &mut schemars::Schema) {
    let properties = schema.get_mut("properties");
    if let Some(properties) = properties.and_then(serde_json::Value::as_object_mut) {
        let codes = serde_json::json!({ "enum": Proposal::CODES });
        properties.insert("code".to_owned(), codes);
    }
}

/// How a juice is matched.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum JuiceMatch {
    /// The same volume; strength may change.
    SameVolume,
    /// The same fermentable sugar; the volume may change.
    SameSugar,
    /// The same volume and fermentable sugar, topped up with sugar.
    ToppedUpWithSugar,
    /// The same volume and fermentable sugar, topped up with water.
    ToppedUpWithWater,
}

impl Proposal {
    pub(super) fn at_line(&self, line: &RecipeLine, place: Option<&Place>) -> Self {
        let mut proposal = self.clone();
        for practice in &mut proposal.practice {
            if practice.place == self.place {
                practice.place = place.cloned();
            }
        }
        for other in &mut proposal.other_ways {
            *other = other.at_line(line, place);
        }
        proposal.place = place.cloned();
        proposal.swap.replaced = line.clone();
        proposal
    }

    /// The codes of proposals: whether gravity and colour are kept (bitterness for hops), or missed.
    pub const CODES: &'static [&'static str] = &["substitute", "nearest_miss"];

    /// The name of the leading part.
    pub fn leader(&self) -> Option<&str> {
        self.parts.first().map(|part| part.name.as_str())
    }
}

impl Speaks for Proposal {
    fn code(&self) -> &'static str {
        if self.feasible {
            "substitute"
        } else {
            "nearest_miss"
        }
    }

    fn severity(&self) -> Severity {
        if self.feasible {
            Severity::Note
        } else {
            Severity::Warning
        }
    }

    fn place(&self) -> Option<&Place> {
        self.place.as_ref()
    }

    /// The parts with their amounts, the leading one first.
    fn text(&self, style: Style) -> String {
        let mut texts: Vec<String> = self.parts.iter().map(|part| part.text(style)).collect();
        if let (Some(slack), Some(base)) = (self.slack, &self.swap.base_malt) {
            let kg = crate::quantity::in_kilograms(slack);
            let size = style.mass(crate::quantity::kilograms(kg.abs()));
            let word = if kg < 0.0 { "less" } else { "more" };
            texts.push(format!("{size} {word} {}", base.line.name));
        }
        texts.join(" + ")
    }
}

impl JuiceMatch {
    /// The way in words.
    pub const fn text(self) -> &'static str {
        match self {
            Self::SameVolume => "litre for litre",
            Self::SameSugar => "for the same strength",
            Self::ToppedUpWithSugar => "litre for litre, sugar makes up the strength",
            Self::ToppedUpWithWater => "for the same strength, water makes up the volume",
        }
    }
}
