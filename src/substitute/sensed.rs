//! What a drinker notices of a substitute: differences of the whole beer, each in the smallest step that people tell apart.
//!
//! A step is the smallest difference to assume for a careful drinker, not for a panel, and as much of the spread of what goes in
//! as the two beers do not share, in quadrature. The spread of a line's lot is that of the plan's own spread, worked out once a line.

use super::case::Case;
use super::noticed::{Difference, Noticed, Sense};
use super::search::Found;
use super::taste::{Kin, LineSpread};
use crate::process::Figures;
use std::f64::consts::SQRT_2;

/// Of alcohol, per cent by volume and as a share: half of what is told by mouth in wine at 5 % (Yu & Pickering, Am. J. Enol. Vitic.
/// 2008, abstract read: 1.0 to 1.3 % vol).
const ALCOHOL_STEP: (f64, f64) = (0.5, 0.1);
/// Of the original gravity, °P and as a share: what brings half a per cent of alcohol by Balling's law.
const ORIGINAL_STEP: (f64, f64) = (1.0, 0.1);
/// Of bitterness, IBU and as a share: between the detection of 7 mg/L in an unhopped lager (Kolpin & Shellhammer, J. Am. Soc. Brew.
/// Chem. 67, 2009, abstract read) and Weber's fraction.
const BITTERNESS_STEP: (f64, f64) = (2.0, 0.2);
/// Of real extract, °P: Weber's fraction of thickness, 10 % of 4 °P (derived). Of what is left of sugar it is that of sweetness too.
const REAL_EXTRACT_STEP: f64 = 0.4;
/// Of acid, mEq/L: 20 % (Weber's fraction of sourness) of the 15 mEq/L of a beer (from memory: 1 to 2 g/L as lactic acid).
pub(super) const ACID_STEP: f64 = 3.0;
/// Of the intensity of one taste in the beer, five being the most: Weber's fraction of one (Camacho et al., J. Food Sci. 2015,
/// abstract read).
const TASTE_STEP: f64 = 0.26;
/// Intensities are whole degrees of that scale, judged to half a one (editorial): so little is known of what is tasted of a lot.
const JUDGED_TO: f64 = 0.5;
/// The lot that goes and the one that comes are each known as well as the other (estimate).
const TWO_LOTS: f64 = SQRT_2;
/// Axes that a sense of its own tells of.
const OF_OTHER_SENSES: [&str; 3] = ["creamy_body", "sweet", "sour"];

/// A line with what is put for it.
#[derive(Clone, Copy)]
pub(super) struct Changed<'a> {
    pub(super) case: &'a Case,
    pub(super) found: &'a Found,
}

/// A difference of colour that is seen side by side, EBC: 1, or a tenth of the colour where that is more. Computed from
/// CIEDE2000 of the mean beer spectrum at 5 cm: 2 units are 0.91 EBC at 10 EBC and 1.15 at 20, and 6 % beyond.
pub(super) fn colour_step_ebc(ebc: f64) -> f64 {
    (0.1 * ebc).max(1.0)
}

/// The same, with what the lots of the line may be off.
pub(super) fn colour_step_of(ebc: f64, sigma_ebc: f64) -> f64 {
    colour_step_ebc(ebc).hypot(TWO_LOTS * sigma_ebc)
}

/// The larger of a least step and a share of what there is, with what the lots may be off.
fn step((least, share): (f64, f64), of: f64, sigma: f64) -> f64 {
    (share * of).max(least).hypot(TWO_LOTS * sigma)
}

/// A difference of one taste that is noticed where what is replaced makes `share` of what the beer tastes of.
pub(super) fn taste_step(share: f64) -> f64 {
    TASTE_STEP.hypot(TWO_LOTS * JUDGED_TO * share)
}

/// What is noticed of all that is changed: the beer without it and with it.
pub(super) fn noticed(all: &[Changed<'_>], [before, after]: [&Figures; 2]) -> Vec<Noticed> {
    let sigma = |of: fn(&LineSpread) -> f64| {
        let squares = all.iter().map(|one| of(&one.case.spread).powi(2));
        squares.sum::<f64>().sqrt()
    };
    let mut told = Vec::new();
    let both = |get: &dyn Fn(&Figures) -> Option<f64>| Some((get(before)?, get(after)?));
    let original = both(&|f| Some(f.original?.plato()));
    let alcohol = both(&|f| Some(100.0 * f.alcohol?.fraction()));
    let strength = [
        original
            .map(|(was, is)| (is - was) / step(ORIGINAL_STEP, was, sigma(|s| s.original) * was)),
        alcohol.map(|(was, is)| (is - was) / step(ALCOHOL_STEP, was, 0.0)),
    ];
    if let Some(steps) = strongest(strength) {
        let words = ["weaker", "stronger"];
        told.push(Noticed::new(Sense::Gravity, steps, words, "strength"));
    }
    if let Some((was, is)) = both(&|f| Some(f.colour_with_juice.or(f.colour)?.ebc())) {
        let steps = (is - was) / colour_step_of(was, sigma(|s| s.colour_ebc));
        let words = ["paler", "darker"];
        told.push(Noticed::new(Sense::Colour, steps, words, "colour"));
    }
    if let Some((was, is)) = both(&|f| Some(f.bitterness?.ibu())) {
        let steps = (is - was) / step(BITTERNESS_STEP, was, sigma(|s| s.ibu));
        let words = ["less bitter", "more bitter"];
        told.push(Noticed::new(Sense::Bitterness, steps, words, "bitterness"));
    }
    let changes = changes(all);
    let taste = |name: &str| {
        let of_name = changes.iter().find(|(axis, _)| *axis == name)?;
        Some(of_name.1)
    };
    // Balling's law: what is left in the beer, from what a hydrometer shows.
    let real = both(&|f| Some(0.1808 * f.original?.plato() + 0.8192 * f.final_extract?.plato()));
    let left = real.map(|(was, is)| (is - was) / REAL_EXTRACT_STEP);
    if let Some(steps) = strongest([left, taste("creamy_body")]) {
        let words = ["thinner", "fuller"];
        told.push(Noticed::new(Sense::Body, steps, words, "body"));
    }
    // Where no axis tells of it, what is left unfermented does.
    if let Some(steps) = taste("sweet").or(left) {
        let words = ["less sweet", "sweeter"];
        told.push(Noticed::new(Sense::Sweetness, steps, words, "sweetness"));
    }
    // What acid malt lacks is made up with acid.
    let is_made_up = all.iter().any(|one| one.case.acid_meq.is_some());
    let tasted = taste("sour").filter(|_| !is_made_up);
    if let Some(steps) = strongest([sourer(all), tasted]) {
        let words = ["less sour", "more sour"];
        told.push(Noticed::new(Sense::Acid, steps, words, "acid"));
    }
    told.extend(aroma(&changes, all));
    told
}

fn strongest(steps: [Option<f64>; 2]) -> Option<f64> {
    let steps = steps.into_iter().flatten();
    steps.reduce(|most, next| if next.abs() > most.abs() { next } else { most })
}

/// What each part of a support brings of something.
fn parts<'a>(one: &Changed<'a>) -> impl Iterator<Item = (&'a super::case::Offer, f64)> + use<'a> {
    let case = one.case;
    let parts = one.found.parts();
    parts.filter_map(|(member, amount)| Some((case.offers.get(member)?, amount)))
}

/// How much more acid there is, in steps; none where nothing that is replaced is sour.
fn sourer(all: &[Changed<'_>]) -> Option<f64> {
    let is_sour = |one: &&Changed<'_>| one.case.tastes.acid_meq_l > 0.0;
    let meq_l = all.iter().filter(is_sour).map(|one| {
        let brings = parts(one).map(|(offer, amount)| offer.acid_meq_l * amount);
        brings.sum::<f64>() - one.case.tastes.acid_meq_l
    });
    let steps = meq_l.map(|meq_l| meq_l / ACID_STEP);
    steps.reduce(|all, next| all + next)
}

/// How much more of each taste the beer has, each axis once, in steps.
fn changes(all: &[Changed<'_>]) -> Vec<(&'static str, f64)> {
    let mut changes: Vec<(&'static str, f64, f64)> = Vec::new();
    for one in all {
        let tastes = &one.case.tastes;
        for (place, axis) in tastes.axes.iter().enumerate() {
            let of = |list: &[f64]| list.get(place).copied().unwrap_or(0.0);
            let brought = parts(one).map(|(offer, amount)| amount * of(&offer.tastes));
            let slack = one.found.slack * of(&tastes.slack);
            let more = tastes.share * (brought.sum::<f64>() + slack - of(&tastes.wanted));
            match changes.iter_mut().find(|(known, ..)| known == axis) {
                Some((_, change, share)) => {
                    *change += more;
                    *share = share.hypot(tastes.share);
                }
                None => changes.push((axis, more, tastes.share)),
            }
        }
    }
    let steps = changes.into_iter();
    steps
        .map(|(axis, change, share)| (axis, change / taste_step(share)))
        .collect()
}

/// What is not told of by a sense of its own. The tastes that change most give the words; where what is replaced is known by a taste of
/// its own, that and what comes in its place do, if it is the larger change.
fn aroma(changes: &[(&'static str, f64)], all: &[Changed<'_>]) -> Option<Noticed> {
    let others = || {
        let others = changes.iter();
        others.filter(|(axis, _)| !OF_OTHER_SENSES.contains(axis))
    };
    let (most, least) = (
        others().max_by(|a, b| a.1.total_cmp(&b.1)),
        others().min_by(|a, b| a.1.total_cmp(&b.1)),
    );
    let of_axes = most
        .zip(least)
        .map(|((gained, more), (lost, less))| flavour([word(lost), word(gained)], [*more, *less]));
    let of_own = all.iter().filter_map(own_lost);
    let own = of_own.max_by(|a, b| a.2.total_cmp(&b.2));
    let of_own = own.map(|(names, is_gone, steps)| own_flavour(names, is_gone, steps));
    match (of_axes, of_own) {
        (Some(axes), Some(own)) if own.steps.abs() > axes.steps.abs() => Some(own),
        (Some(axes), _) => Some(axes),
        (None, own) => own,
    }
}

/// What of its own taste a line loses, what comes for it, whether nothing of the first is left, and the steps.
fn own_lost<'a>(one: &Changed<'a>) -> Option<([&'a str; 2], bool, f64)> {
    let own = one.case.tastes.own.as_ref()?;
    let brought = || parts(one).filter_map(|(offer, amount)| Some((offer.kin.as_ref()?, amount)));
    let kept: f64 = brought().map(|(kin, amount)| kin.alike * amount).sum();
    let other = brought().max_by(|a, b| {
        let strange = |(kin, amount): &(&Kin, f64)| (1.0 - kin.alike) * amount;
        strange(a).total_cmp(&strange(b))
    });
    let (kin, _) = other?;
    let steps = own.steps * (1.0 - kept).max(0.0);
    Some(([&own.name, &kin.name], kept <= 0.0, steps))
}

/// The words for what a line is known by and what comes for it.
fn own_flavour([lost, gained]: [&str; 2], is_gone: bool, steps: f64) -> Noticed {
    if !is_gone {
        return flavour([lost, gained], [steps, -steps]);
    }
    let mut told = Noticed::new(Sense::Aroma, -steps, ["", ""], "flavour");
    if told.verdict != Difference::Same {
        told.text = format!("{gained} instead of {lost}");
    }
    told
}

/// The words for one taste lost and another gained, by so many steps.
fn flavour([lost, gained]: [&str; 2], [more, less]: [f64; 2]) -> Noticed {
    // Both are said where both are noticed.
    let words = if more.min(-less) >= 1.0 {
        let both = format!("less {lost} and more {gained} flavour");
        [both.clone(), both]
    } else {
        [
            format!("less {lost} flavour"),
            format!("more {gained} flavour"),
        ]
    };
    let steps = if more > -less { more } else { less };
    let [lost, gained] = &words;
    Noticed::new(Sense::Aroma, steps, [lost, gained], "flavour")
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
        "phenolic" => "clove",
        "fruity" => "fruit",
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_is_the_threshold_and_the_spread() {
        // By hand: 20 IBU have a step of 4; with two lots of 20 IBU at 15 % it is √(16 + 18) = 5.83.
        assert!((step(BITTERNESS_STEP, 20.0, 0.0) - 4.0).abs() < 1e-12);
        assert!((step(BITTERNESS_STEP, 20.0, 3.0) - 34.0_f64.sqrt()).abs() < 1e-12);
        assert!((step(BITTERNESS_STEP, 5.0, 0.0) - 2.0).abs() < 1e-12);
        assert!((colour_step_ebc(5.0) - 1.0).abs() < 1e-12);
        assert!((colour_step_ebc(40.0) - 4.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_lost_and_what_comes_for_it_are_both_said() {
        let told = flavour(["cherry", "apple"], [3.0, -2.0]);
        assert_eq!(told.text, "less cherry and more apple flavour");
        assert_eq!(told.verdict, Difference::Noticeable);
        let told = flavour(["cherry", "apple"], [0.4, -2.0]);
        assert_eq!((&*told.text, told.steps), ("less cherry flavour", -2.0));
        let told = flavour(["grain", "nut"], [0.8, -0.2]);
        assert_eq!(told.text, "a little more nut flavour");
    }
}
