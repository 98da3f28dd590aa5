//! What a drinker notices of a substitute: differences of the whole beer, each in the smallest step that people tell apart.
//!
//! A step is the smallest difference to assume for a careful drinker, not for a panel, and as much of the spread of what goes in
//! as the two beers do not share, in quadrature.

use super::case::Case;
use super::proposal::Origin;
use super::search::Found;
use crate::process::Figures;
use serde::Serialize;

/// Of alcohol, per cent by volume and as a share: half of what is told by mouth in wine at 5 % (Yu & Pickering, Am. J. Enol. Vitic.
/// 2008, abstract read: 1.0 to 1.3 % vol).
const ALCOHOL_STEP: (f64, f64) = (0.5, 0.1);
/// Of the original gravity, °P and as a share: what brings half a per cent of alcohol by Balling's law.
const ORIGINAL_STEP: (f64, f64) = (1.0, 0.1);
/// Of bitterness, IBU and as a share: between the detection of 7 mg/L in an unhopped lager (Kolpin & Shellhammer, J. Am. Soc. Brew.
/// Chem. 67, 2009, abstract read) and Weber's fraction.
const BITTERNESS_STEP: (f64, f64) = (2.0, 0.2);
/// Of real extract, °P: Weber's fraction of thickness, 10 % of 4 °P (derived).
const BODY_STEP: f64 = 0.4;
/// Of acid, mEq/L: 20 % (Weber's fraction of sourness) of the 15 mEq/L of a beer (from memory: 1 to 2 g/L as lactic acid).
const ACID_STEP: f64 = 3.0;
/// Of the intensity of one taste in the beer, five being the most: Weber's fraction of one (Camacho et al., J. Food Sci. 2015,
/// abstract read).
const TASTE_STEP: f64 = 0.26;
/// One sigma of what a lot brings, as a share: extract 0.6 points of 80, colour of caramel malt, alpha acids of a cultivar
/// (uncertainty as recommended: extract and colour derived, alpha read).
const EXTRACT_SIGMA: f64 = 0.0075;
const COLOUR_SIGMA: f64 = 0.08;
const ALPHA_SIGMA: f64 = 0.15;
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

/// What a case tells of taste, one for each axis.
#[derive(Debug, Clone)]
pub(super) struct Tastes {
    pub(super) axes: &'static [&'static str],
    /// What is replaced makes so much of what the beer tastes of.
    pub(super) share: f64,
    pub(super) wanted: Vec<f64>,
    /// Of one of the slack.
    pub(super) slack: Vec<f64>,
    /// Acid of what is wanted, mEq in a litre of the beer.
    pub(super) acid_meq_l: f64,
}

/// A difference of colour that is seen side by side, EBC: 1, or a tenth of the colour where that is more. Computed from
/// CIEDE2000 of the mean beer spectrum at 5 cm: 2 units are 0.91 EBC at 10 EBC and 1.15 at 20, and 6 % beyond.
pub(super) fn colour_step_ebc(ebc: f64) -> f64 {
    (0.1 * ebc).max(1.0)
}

/// The same, with what a colour of the catalogue may be off where what is replaced makes `share` of the fermentables.
pub(super) fn colour_step_of(ebc: f64, share: f64) -> f64 {
    colour_step_ebc(ebc).hypot(COLOUR_SIGMA * share * ebc)
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
    fn new(sense: Sense, steps: f64, [less, more]: [&str; 2], name: &str) -> Self {
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

/// The larger of a least step and a share of what there is.
fn step((least, share): (f64, f64), of: f64, sigma: f64) -> f64 {
    (share * of).max(least).hypot(sigma)
}

/// What is noticed of a found support: the beer without it and with it.
pub(super) fn noticed(
    case: &Case,
    found: &Found,
    [before, after]: [&Figures; 2],
    line_ibu: f64,
) -> Vec<Noticed> {
    let tastes = &case.tastes;
    let mut all = Vec::new();
    let both = |get: &dyn Fn(&Figures) -> Option<f64>| Some((get(before)?, get(after)?));
    let original = both(&|f| Some(f.original?.plato()));
    let alcohol = both(&|f| Some(100.0 * f.alcohol?.fraction()));
    let strength = [
        original.map(|(was, is)| {
            let sigma = EXTRACT_SIGMA * tastes.share * was;
            (is - was) / step(ORIGINAL_STEP, was, sigma)
        }),
        alcohol.map(|(was, is)| (is - was) / step(ALCOHOL_STEP, was, 0.0)),
    ];
    let strongest = |steps: [Option<f64>; 2]| {
        let steps = steps.into_iter().flatten();
        steps.reduce(|most, next| if next.abs() > most.abs() { next } else { most })
    };
    if let Some(steps) = strongest(strength) {
        all.push(Noticed::new(
            Sense::Gravity,
            steps,
            ["weaker", "stronger"],
            "strength",
        ));
    }
    let colour = both(&|f| Some(f.colour_with_juice.or(f.colour)?.ebc()));
    if let Some((was, is)) = colour {
        let steps = (is - was) / colour_step_of(was, tastes.share);
        all.push(Noticed::new(
            Sense::Colour,
            steps,
            ["paler", "darker"],
            "colour",
        ));
    }
    if let Some((was, is)) = both(&|f| Some(f.bitterness?.ibu())) {
        let steps = (is - was) / step(BITTERNESS_STEP, was, ALPHA_SIGMA * line_ibu);
        let words = ["less bitter", "more bitter"];
        all.push(Noticed::new(Sense::Bitterness, steps, words, "bitterness"));
    }
    let changes = changes(case, found);
    let taste = |name: &str| {
        let at = tastes.axes.iter().position(|axis| *axis == name)?;
        Some(changes.get(at)? / TASTE_STEP)
    };
    // Balling's law: what is left in the beer, from what a hydrometer shows.
    let real = both(&|f| Some(0.1808 * f.original?.plato() + 0.8192 * f.final_extract?.plato()));
    let thicker = real.map(|(was, is)| (is - was) / BODY_STEP);
    if let Some(steps) = strongest([thicker, taste("creamy_body")]) {
        all.push(Noticed::new(
            Sense::Body,
            steps,
            ["thinner", "fuller"],
            "body",
        ));
    }
    if let Some(steps) = taste("sweet") {
        let words = ["less sweet", "sweeter"];
        all.push(Noticed::new(Sense::Sweetness, steps, words, "sweetness"));
    }
    let sour = (tastes.acid_meq_l > 0.0).then(|| {
        let brings = found
            .parts()
            .filter_map(|(member, amount)| Some(case.offers.get(member)?.acid_meq_l * amount));
        (brings.sum::<f64>() - tastes.acid_meq_l) / ACID_STEP
    });
    if let Some(steps) = strongest([sour, taste("sour")]) {
        let words = ["less sour", "more sour"];
        all.push(Noticed::new(Sense::Acid, steps, words, "acid"));
    }
    all.extend(aroma(tastes, &changes));
    all
}

/// How much more of each taste the beer has.
fn changes(case: &Case, found: &Found) -> Vec<f64> {
    let tastes = &case.tastes;
    let mut changes: Vec<f64> = tastes.wanted.iter().map(|wanted| -wanted).collect();
    let parts = found
        .parts()
        .filter_map(|(member, amount)| Some((&case.offers.get(member)?.tastes, amount)))
        .chain([(&tastes.slack, found.slack)]);
    for (tastes, amount) in parts {
        for (change, taste) in changes.iter_mut().zip(tastes) {
            *change += amount * taste;
        }
    }
    changes.iter().map(|change| tastes.share * change).collect()
}

/// What is not told of by a sense of its own: the taste that changes most gives the word.
fn aroma(tastes: &Tastes, changes: &[f64]) -> Option<Noticed> {
    let other = tastes
        .axes
        .iter()
        .zip(changes)
        .filter(|(axis, _)| !["creamy_body", "sweet", "sour"].contains(axis));
    let (axis, change) = other.reduce(|most, next| {
        if next.1.abs() > most.1.abs() {
            next
        } else {
            most
        }
    })?;
    let name = word(axis);
    let (less, more) = (
        format!("less {name} flavour"),
        format!("more {name} flavour"),
    );
    let steps = change / TASTE_STEP;
    Some(Noticed::new(Sense::Aroma, steps, [&less, &more], "flavour"))
}

/// The trade's word for an axis.
fn word(axis: &str) -> &str {
    match axis {
        "grainy" => "grain",
        "bready" => "bread",
        "nutty" => "nut",
        "dark_fruit" => "dark fruit",
        "earthy" => "earthy",
        "stone_fruit" => "stone fruit",
        "pome" => "apple",
        "tropical" => "tropical fruit",
        "muscat_terpene" => "muscat",
        "herbaceous" => "green",
        "vegetal" => "vegetable",
        other => other,
    }
}

/// One line that a brewer reads: how different, in what, and from where.
pub(super) fn summary(noticed: &[Noticed], origins: &[Origin]) -> String {
    let worst = noticed.iter().map(|told| told.verdict).max();
    let head = worst.map_or("not known", |worst| match worst {
        Difference::Same => "the same beer",
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
    if worst != Some(Difference::Same)
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

/// The size of what is noticed, all senses together.
pub(super) fn size(noticed: &[Noticed]) -> f64 {
    noticed.iter().map(|told| told.steps * told.steps).sum()
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
    fn a_step_is_the_threshold_and_the_spread() {
        // By hand: 20 IBU have a step of 4; with a line of 20 IBU at 15 % it is √(16 + 9) = 5.
        assert!((step(BITTERNESS_STEP, 20.0, 0.0) - 4.0).abs() < 1e-12);
        assert!((step(BITTERNESS_STEP, 20.0, 3.0) - 5.0).abs() < 1e-12);
        assert!((step(BITTERNESS_STEP, 5.0, 0.0) - 2.0).abs() < 1e-12);
        assert!((colour_step_ebc(5.0) - 1.0).abs() < 1e-12);
        assert!((colour_step_ebc(40.0) - 4.0).abs() < 1e-12);
    }

    #[test]
    fn a_line_tells_how_different_in_what_and_from_where() {
        let noticed = [
            Noticed::new(Sense::Gravity, 0.1, ["weaker", "stronger"], "strength"),
            Noticed::new(Sense::Colour, -0.2, ["paler", "darker"], "colour"),
            Noticed::new(Sense::Aroma, -0.7, ["less grain flavour", ""], "flavour"),
        ];
        assert_eq!(
            summary(&noticed, &[Origin::Stock]),
            "hardly different: the same strength and colour, a little less grain flavour; in your stock"
        );
        assert_eq!(
            summary(&noticed[..2], &[Origin::Shop]),
            "the same beer; from a shop"
        );
    }
}
