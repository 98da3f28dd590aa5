//! What is told of a substitute: sense by sense, what it would be chosen for, and in one line.

use super::part::Origin;
use serde::Serialize;

/// Below half a step nothing is noticed; from four on it is another beer: two per cent of alcohol, or half as bitter again and
/// more (rule of the crate).
const SAME_TO: f64 = 0.5;
const HARDLY_TO: f64 = 1.0;
pub(super) const NOTICEABLE_TO: f64 = 4.0;

/// What is sensed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Sense {
    /// Strength: original gravity and alcohol.
    Gravity,
    /// Colour, side by side.
    Colour,
    /// Bitterness.
    Bitterness,
    /// Body: real extract, and what makes a beer creamy.
    Body,
    /// Sweetness.
    Sweetness,
    /// Acid.
    Acid,
    /// Flavour and aroma.
    Aroma,
}

/// How much of it is noticed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Difference {
    /// Below half a step.
    Same,
    /// Below a step.
    Hardly,
    /// Up to four steps.
    Noticeable,
    /// Beyond.
    AnotherBeer,
}

/// What is noticed by one sense.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Noticed {
    /// The sense.
    pub sense: Sense,
    /// How much.
    pub verdict: Difference,
    /// The difference in smallest steps, more above zero.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub steps: f64,
    /// The same in words.
    pub text: String,
}

/// What a brewer would choose a proposal for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum ProposalRole {
    /// The least is noticed.
    Closest,
    /// The fewest parts, and nothing to be done beside them.
    Simplest,
    /// The nearest of those that are at hand.
    FromStock,
    /// The easiest to buy.
    Easiest,
}

impl Difference {
    const fn of(steps: f64) -> Self {
        let size = steps.abs();
        if size < SAME_TO {
            Self::Same
        } else if size < HARDLY_TO {
            Self::Hardly
        } else if size < NOTICEABLE_TO {
            Self::Noticeable
        } else {
            Self::AnotherBeer
        }
    }

    /// The verdict in words.
    pub const fn text(self) -> &'static str {
        match self {
            Self::Same => "the same",
            Self::Hardly => "hardly different",
            Self::Noticeable => "noticeably different",
            Self::AnotherBeer => "another beer",
        }
    }
}

impl ProposalRole {
    /// The role in words.
    pub const fn text(self) -> &'static str {
        match self {
            Self::Closest => "closest",
            Self::Simplest => "simplest",
            Self::FromStock => "from your stock",
            Self::Easiest => "easiest to buy",
        }
    }
}

impl Noticed {
    /// `words`: what less and more of it is called.
    pub(super) fn new(sense: Sense, steps: f64, [less, more]: [&str; 2], name: &str) -> Self {
        let verdict = Difference::of(steps);
        let word = if steps < 0.0 { less } else { more };
        let text = match verdict {
            Difference::Same => format!("the same {name}"),
            Difference::Hardly => format!("a little {word}"),
            Difference::Noticeable => word.to_owned(),
            Difference::AnotherBeer => format!("much {word}"),
        };
        Self {
            sense,
            verdict,
            steps,
            text,
        }
    }
}

/// One line that a brewer reads: how different, in what, and from where. It is the same beer where it is known to taste alike.
pub(super) fn summary(noticed: &[Noticed], origins: &[Origin], tastes_alike: bool) -> String {
    told(noticed, origins, (tastes_alike, true))
}

/// What is different alone, for a box.
pub(super) fn in_brief(noticed: &[Noticed], tastes_alike: bool) -> String {
    told(noticed, &[], (tastes_alike, false))
}

fn told(
    noticed: &[Noticed],
    origins: &[Origin],
    (tastes_alike, names_same): (bool, bool),
) -> String {
    let worst = most(noticed);
    let is_same = worst == Some(Difference::Same) && tastes_alike;
    let head = worst.map_or("not known", |worst| match worst {
        Difference::Same if is_same => "the same beer",
        Difference::Same => Difference::Hardly.text(),
        other => other.text(),
    });
    let same: Vec<&str> = noticed
        .iter()
        .filter(|told| told.verdict == Difference::Same)
        .filter_map(|told| match told.sense {
            Sense::Gravity => Some("strength"),
            Sense::Colour => Some("colour"),
            Sense::Bitterness => Some("bitterness"),
            _ => None,
        })
        .collect();
    let mut told = Vec::new();
    if names_same
        && worst != Some(Difference::Same)
        && let Some((last, others)) = same.split_last()
    {
        told.push(if others.is_empty() {
            format!("the same {last}")
        } else {
            format!("the same {} and {last}", others.join(", "))
        });
    }
    let mut differ: Vec<&Noticed> = noticed
        .iter()
        .filter(|told| told.verdict != Difference::Same)
        .collect();
    crate::numeric::order::sort_by(&mut differ, |a, b| b.steps.abs().total_cmp(&a.steps.abs()));
    told.extend(differ.iter().map(|told| told.text.clone()));
    let from = match origins.iter().max() {
        Some(Origin::Stock) => Some("in your stock"),
        Some(Origin::Shop) => Some("from a shop"),
        Some(Origin::SpecialOrder) => Some("a special order"),
        None => None,
    };
    let told = told.join(", ");
    let mut text = if told.is_empty() {
        head.to_owned()
    } else {
        format!("{head}: {told}")
    };
    if let Some(from) = from {
        text.push_str("; ");
        text.push_str(from);
    }
    text
}

/// How much is noticed by the sense that notices most.
pub(super) fn most(noticed: &[Noticed]) -> Option<Difference> {
    noticed.iter().map(|told| told.verdict).max()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_get_their_verdicts_and_words() {
        let told = |steps| Noticed::new(Sense::Colour, steps, ["paler", "darker"], "colour");
        for (steps, verdict, text) in [
            (0.49, Difference::Same, "the same colour"),
            (-0.6, Difference::Hardly, "a little paler"),
            (1.1, Difference::Noticeable, "darker"),
            (-4.1, Difference::AnotherBeer, "much paler"),
        ] {
            assert_eq!((told(steps).verdict, &*told(steps).text), (verdict, text));
        }
    }

    #[test]
    fn a_line_tells_how_different_in_what_and_from_where() {
        let noticed = [
            Noticed::new(Sense::Gravity, 0.1, ["weaker", "stronger"], "strength"),
            Noticed::new(Sense::Colour, -0.2, ["paler", "darker"], "colour"),
            Noticed::new(Sense::Aroma, -0.7, ["less grain flavour", ""], "flavour"),
        ];
        assert_eq!(
            summary(&noticed, &[Origin::Stock], true),
            "hardly different: the same strength and colour, a little less grain flavour; in your stock"
        );
        assert_eq!(
            summary(&noticed[..2], &[Origin::Shop], true),
            "the same beer; from a shop"
        );
        assert_eq!(
            summary(&noticed[..2], &[Origin::Shop], false),
            "hardly different; from a shop"
        );
    }
}
