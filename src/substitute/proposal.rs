//! What is proposed, and what it changes.

use super::noticed::{Noticed, ProposalRole};
use super::practice::Practice;
use crate::catalogue::{Allergen, Commonness, Kind};
use crate::diagnostic::{Place, Severity, codes};
use crate::process::Figures;
use crate::quantity::{Mass, Volume, VolumeShare};
use crate::recipe::{RecipeLine, Swap};
use crate::speech::{Noted, Speaks, Style};
use serde::Serialize;

/// What may stand for one line of a recipe.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Proposals {
    /// What is missing, as the recipe writes it.
    pub name: String,
    /// The line.
    pub line: RecipeLine,
    /// What it is.
    pub kind: Kind,
    /// How much of it the line has on the target, for what is weighed.
    #[serde(
        rename = "mass_kg",
        with = "crate::quantity::json::option::kilogram",
        skip_serializing_if = "Option::is_none"
    )]
    pub mass: Option<Mass>,
    /// The same, for what is measured.
    #[serde(
        rename = "volume_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub volume: Option<Volume>,
    /// How many candidates there were.
    pub candidates: usize,
    /// The proposals, the nearest first, each led by another ingredient. Where nothing keeps gravity and colour, what
    /// misses one of them by least: marked as not feasible, with by how much.
    pub proposals: Vec<Proposal>,
    /// Why there is no honest substitute, where there is none; the proposals then hold the nearest misses, if any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub no_substitute: Option<NoSubstitute>,
}

/// Why nothing can stand for a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum NoSubstitute {
    /// There is no candidate of a fitting kind: add lots to the stock, or look at the whole catalogue.
    NoCandidates,
    /// No blend keeps gravity and colour, or of hops bitterness: see how much the nearest one misses, and accept it or add lots.
    NothingKeepsGravityAndColour,
    /// Whatever keeps them leaves a grist that does not convert: add enzymes or base malt.
    NothingConverts,
    /// The line adds no amount on this plant, so that nothing is missing.
    NothingNeeded,
}

codes! {
    NoSubstitute {
        NoCandidates = "no_candidates",
        NothingKeepsGravityAndColour = "nothing_keeps_gravity_and_colour",
        NothingConverts = "nothing_converts",
        NothingNeeded = "nothing_needed",
    }
}

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

/// One part of a proposal, on the target plant, before weighing out.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Part {
    /// The ingredient.
    pub name: String,
    /// Its mass, for what is weighed; a yeast, which has neither mass nor volume here, goes in as its line says.
    #[serde(
        rename = "mass_kg",
        with = "crate::quantity::json::option::kilogram",
        skip_serializing_if = "Option::is_none"
    )]
    pub mass: Option<Mass>,
    /// Its volume, for what is measured.
    #[serde(
        rename = "volume_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub volume: Option<Volume>,
    /// From where it is taken; nowhere for water.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<Origin>,
}

/// From where a part is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Origin {
    /// What the stock holds.
    Stock,
    /// A supermarket or a good shop.
    Shop,
    /// A specialist, on order.
    SpecialOrder,
}

impl Origin {
    /// Where something as common as this is bought.
    pub(super) const fn of(commonness: Option<Commonness>) -> Self {
        match commonness {
            Some(Commonness::Everywhere | Commonness::GoodShops) => Self::Shop,
            Some(Commonness::Specialist | Commonness::Rare) | None => Self::SpecialOrder,
        }
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

/// What a part of the distance speaks of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Aspect {
    /// Flavour.
    Flavour,
    /// Fermentable extract.
    Fermentable,
    /// Diastatic power of the grist.
    DiastaticPower,
    /// Protein.
    Protein,
    /// Gum and body.
    Gum,
    /// Acidity of the mash.
    MashAcidity,
    /// Aroma of a juice or hop.
    Aroma,
    /// Acid of a juice.
    Acid,
    /// Fermentable sugar of a juice.
    Sugar,
    /// What yeast leaves of a juice.
    Unfermented,
    /// Volume.
    Volume,
    /// Hue.
    Hue,
    /// Tannin and pectin.
    TanninAndPectin,
    /// Oil of a hop.
    Oil,
    /// Cohumulone.
    Cohumulone,
    /// How far a yeast ferments.
    Attenuation,
    /// How warm a yeast ferments.
    FermentationTemperature,
    /// How readily a yeast settles.
    Settling,
    /// Fixed: parts beyond the first.
    ExtraParts,
    /// Colour beyond half of what is told apart.
    Colour,
    /// Fixed: another kind of ingredient.
    ChangeOfKind,
    /// Fixed: another job.
    ChangeOfFunction,
    /// Fixed: hard to use in a small mash.
    Practicality,
    /// Fixed: not at hand.
    ToBuy,
    /// Fixed: hard to buy.
    Uncommon,
    /// Fixed: figures that nobody states.
    Unknown,
    /// Fixed: base malt changed.
    Slack,
    /// Fixed: sugar or water added.
    ToppingUp,
}

/// A part of the distance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct DistancePart {
    /// What it speaks of.
    pub what: Aspect,
    /// Its size; all parts add up to the distance.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub value: f64,
}

impl Proposals {
    /// The same for another line that wants the same.
    pub(super) fn at_line(&self, line: &RecipeLine, place: Option<&Place>) -> Self {
        Self {
            line: line.clone(),
            name: line.name.clone(),
            proposals: self
                .proposals
                .iter()
                .map(|proposal| proposal.at_line(line, place))
                .collect(),
            ..self.clone()
        }
    }
}

impl Proposal {
    fn at_line(&self, line: &RecipeLine, place: Option<&Place>) -> Self {
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
        let mut texts: Vec<String> = self
            .parts
            .iter()
            .map(|part| match (part.mass, part.volume) {
                (Some(mass), _) => format!("{} {}", style.mass(mass), part.name),
                (None, Some(volume)) => format!("{} {}", style.volume(volume), part.name),
                (None, None) => part.name.clone(),
            })
            .collect();
        if let (Some(slack), Some(base)) = (self.slack, &self.swap.base_malt) {
            let kg = crate::quantity::in_kilograms(slack);
            let size = style.mass(crate::quantity::kilograms(kg.abs()));
            let word = if kg < 0.0 { "less" } else { "more" };
            texts.push(format!("{size} {word} {}", base.line.name));
        }
        texts.join(" + ")
    }
}

impl Speaks for NoSubstitute {
    fn code(&self) -> &'static str {
        self.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Warning
    }

    fn text(&self, _: Style) -> String {
        let text = match self {
            Self::NoCandidates => "no candidate",
            Self::NothingKeepsGravityAndColour => {
                "no blend matches gravity and colour (hops: bitterness)"
            }
            Self::NothingConverts => "every match leaves too little diastatic power to convert",
            Self::NothingNeeded => "this addition comes to nothing in this brewhouse",
        };
        text.to_owned()
    }
}

impl Aspect {
    /// The aspect in words.
    pub const fn text(self) -> &'static str {
        match self {
            Self::Flavour => "flavour",
            Self::Fermentable => "fermentable extract",
            Self::DiastaticPower => "diastatic power",
            Self::Protein => "protein",
            Self::Gum => "gum",
            Self::MashAcidity => "mash acidity",
            Self::Aroma => "aroma",
            Self::Acid => "acid",
            Self::Sugar => "sugar",
            Self::Unfermented => "unfermented solids",
            Self::Volume => "volume",
            Self::Hue => "hue",
            Self::TanninAndPectin => "tannin and pectin",
            Self::Oil => "oil",
            Self::Cohumulone => "cohumulone",
            Self::Attenuation => "attenuation",
            Self::FermentationTemperature => "fermentation temperature",
            Self::Settling => "settling",
            Self::ExtraParts => "extra parts",
            Self::Colour => "colour",
            Self::ChangeOfKind => "change of kind",
            Self::ChangeOfFunction => "another function",
            Self::Practicality => "hard to mash",
            Self::ToBuy => "to buy",
            Self::Uncommon => "hard to buy",
            Self::Unknown => "unknown figures",
            Self::Slack => "base malt changed",
            Self::ToppingUp => "topping up",
        }
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
