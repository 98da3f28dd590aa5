//! What counts how much. Set once, by judgement; no figure is tuned to a single case.

use serde::{Deserialize, Serialize};

/// Weights of the distance between an ingredient and what stands for it.
///
/// The distance is a sum of squared differences, each divided by a scale and multiplied by its weight, plus fixed
/// costs. One step of the five-step flavour scale along one axis, for the whole amount, costs 0.04 by default: every
/// other figure says how many such steps it is worth. All of it is editorial judgement, no source. A weight is from 0 to
/// 1000; another one is refused.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Weights {
    /// Flavour and aroma, per axis, full scale 5. The measure of all others: a substitute is chosen to taste alike.
    pub flavour: f64,
    /// Fermentable extract, as a share of the extract replaced. A sugar for a malt differs by about 0.35, which thins the
    /// beer as plainly as one and a half steps of flavour change it.
    pub fermentable: f64,
    /// Diastatic power of the whole grist, scale 100 WK: the loss of a base malt's whole power is as grave as a step.
    pub diastatic_power: f64,
    /// Protein, scale 10 % of the mass replaced: it is seen in foam and haze, not tasted.
    pub protein: f64,
    /// Gum, scale the three degrees from none to much: it makes body and slows the run-off.
    pub gum: f64,
    /// Acidity of the whole mash, scale 10 mEq/kg, about a quarter of a pH unit; acid or chalk can mend it.
    pub mash_acidity: f64,
    /// Acid of a juice, scale 100 mEq/L: a sour juice for a mild one is tasted at once.
    pub juice_acid: f64,
    /// Fermentable sugar of a juice, as a share of what is replaced: it changes the strength.
    pub juice_sugar: f64,
    /// Sugar alcohols and other solids that yeast leaves, scale 50 g/L: they sweeten and fill.
    pub juice_unfermented: f64,
    /// Volume of a juice, as a share of what is replaced: more of it thins the beer.
    pub juice_volume: f64,
    /// Hue, scale from water-white to purple-black: it is seen at once, yet does not change the taste.
    pub hue: f64,
    /// Tannin and pectin haze, scale the three degrees each: one dries the mouth, the other is only seen.
    pub tannin_and_pectin: f64,
    /// Oil of a hop, as a share of what is replaced: it carries the aroma.
    pub hop_oil: f64,
    /// Cohumulone, scale 20 points of the alpha acids; its effect on bitterness is disputed.
    pub cohumulone: f64,
    /// Each part beyond the first, where what is replaced is most of the beer: one more thing to buy, weigh and keep is worth two
    /// steps of flavour. In a small share of the beer the same step is noticed less, and a second part must buy more of them:
    /// up to six times as much.
    pub extra_part: f64,
    /// An ingredient that does another job, such as toast for caramel: more than two further parts ever cost, so that what
    /// does the same job goes first.
    pub change_of_function: f64,
    /// One that does a job beside it, such as sugar for flaked maize or wheat malt for flaked wheat: six steps.
    pub near_function: f64,
    /// Colour at the edge of what is told apart: a step, less than a second part costs, so that none is bought for a difference
    /// that is not seen.
    pub colour_edge: f64,
    /// What is neither at hand nor in the recipe already, where most of the beer is replaced: two steps, for one more thing to buy
    /// and keep; up to six times as much for a small share of the malt, grain, sugar or juice.
    pub to_buy: f64,
    /// Raw grain that is milled hard, or twice: two steps, for the mill and for what a coarse crush leaves.
    pub hard_mill: f64,
    /// Boiled soft in a second pot first, or with an enzyme of its own: three steps, for the hour.
    pub second_pot: f64,
    /// Flour that clumps, or grain too hard for a small mill: twelve steps.
    pub impractical: f64,
    /// Mashed grain for sugar or extract, or the reverse: it changes how the beer is made.
    pub change_of_kind: f64,
    /// A grain for a malt or the reverse, both mashed: hardly a change.
    pub change_within_mash: f64,
    /// An ingredient that only good shops have: a quarter of a step, so that it decides between equals.
    pub good_shops_only: f64,
    /// An ingredient that only specialists have: a step, for the order and the wait.
    pub specialist_only: f64,
    /// An ingredient that is hardly ever sold in small amounts: three steps, more than a second part costs.
    pub rare: f64,
    /// Base malt that gives way: it costs nothing to weigh more or less of what is there anyway, but the recipe is touched in a
    /// second place. It does so only where nothing else keeps gravity and colour.
    pub slack: f64,
    /// Sugar or water that tops up a juice, for each 100 g or mL in a litre replaced: half a step, for a part that
    /// brings nothing of its own.
    pub topping_up: f64,
    /// Each allergen that the recipe has not: two steps, since somebody may not drink the beer any more.
    pub new_allergen: f64,
    /// Each figure of a candidate that nobody states and that a class mean stands for: a tenth of a step, so that of two
    /// alike the known one goes first.
    pub unknown_figure: f64,
}

impl Default for Weights {
    fn default() -> Self {
        Self {
            flavour: 1.0,
            fermentable: 0.5,
            diastatic_power: 0.04,
            protein: 0.02,
            gum: 0.15,
            mash_acidity: 0.04,
            juice_acid: 0.15,
            juice_sugar: 0.25,
            juice_unfermented: 0.1,
            juice_volume: 0.1,
            hue: 0.2,
            tannin_and_pectin: 0.06,
            hop_oil: 0.1,
            cohumulone: 0.02,
            extra_part: 0.08,
            change_of_function: 1.0,
            near_function: 0.24,
            colour_edge: 0.04,
            to_buy: 0.08,
            hard_mill: 0.08,
            second_pot: 0.12,
            impractical: 0.48,
            change_of_kind: 0.2,
            change_within_mash: 0.02,
            good_shops_only: 0.01,
            specialist_only: 0.04,
            rare: 0.12,
            slack: 0.02,
            topping_up: 0.02,
            new_allergen: 0.08,
            unknown_figure: 0.004,
        }
    }
}

/// The smallest difference in the intensity of one taste that is noticed, as a share of it: Weber's fraction of thickness, which the
/// authors call comparable for bitterness and sourness (Camacho et al., J. Food Sci. 2015, abstract read).
const WEBER: f64 = 0.26;
/// A further part costs at most so many times what it does where most of the beer is replaced (rule of the crate).
const SELDOM: f64 = 6.0;

/// By how much more trouble must be worth where `share` of the beer is replaced.
fn seldom(share: f64) -> f64 {
    let steps = (WEBER / share.max(f64::MIN_POSITIVE)).powi(2);
    (0.5 * steps).clamp(1.0, SELDOM)
}

impl Weights {
    /// What a further part costs where `share` of the beer is replaced: as much as the steps of flavour that must be mended before
    /// the beer shows a quarter of one step, `0.04 (0.26 / share)²`, where that is more than the part itself costs.
    pub(super) fn further_part(&self, share: f64) -> f64 {
        self.extra_part * seldom(share)
    }

    /// What it costs to buy something, and more in proportion where little of the beer is replaced by it.
    pub(super) fn buying(&self, share: f64) -> f64 {
        self.to_buy * seldom(share)
    }

    /// The largest weight: one that large drowns every other.
    pub(crate) const HEAVIEST: f64 = 1000.0;

    /// The first weight that is not from 0 to [`HEAVIEST`](Self::HEAVIEST), with its name.
    pub(crate) fn out_of_range(&self) -> Option<(&'static str, f64)> {
        /// Every field with its name; one left out does not compile.
        macro_rules! named {
            ($($field:ident)*) => {{
                let Self { $($field),* } = *self;
                [$((stringify!($field), $field)),*]
            }};
        }
        named! {
            flavour fermentable diastatic_power protein gum mash_acidity
            juice_acid juice_sugar juice_unfermented juice_volume hue tannin_and_pectin
            hop_oil cohumulone extra_part change_of_function near_function colour_edge to_buy
            hard_mill second_pot impractical change_of_kind change_within_mash good_shops_only
            specialist_only rare slack topping_up new_allergen unknown_figure
        }
        .into_iter()
        .find(|(_, weight)| !(0.0..=Self::HEAVIEST).contains(weight))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_further_part_must_buy_more_of_a_small_share() {
        let weights = Weights::default();
        let cost = |share| weights.further_part(share);
        // 0.04 (0.26 / 0.1)² by hand; where most is replaced the part itself, and six times that at most.
        assert!((cost(0.1) - 0.2704).abs() < 1e-12, "{}", cost(0.1));
        assert!((cost(0.9) - 0.08).abs() < 1e-12 && (cost(0.0) - 0.48).abs() < 1e-12);
        assert!(weights.change_of_function > 2.0 * cost(0.0));
        assert!(weights.colour_edge < cost(1.0));
    }

    #[test]
    fn a_weight_that_is_none_is_named() {
        assert_eq!(Weights::default().out_of_range(), None);
        let mut weights = Weights {
            rare: f64::INFINITY,
            ..Weights::default()
        };
        assert_eq!(weights.out_of_range(), Some(("rare", f64::INFINITY)));
        weights.extra_part = f64::NAN;
        let (name, weight) = weights.out_of_range().unwrap();
        assert!(name == "extra_part" && weight.is_nan());
    }
}
