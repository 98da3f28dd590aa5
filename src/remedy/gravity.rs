//! Remedies for a gravity that a mash cannot reach.

use super::{HALVINGS, MOST_BREWS, Remedy};
use crate::inverse::{
    Aim, Stop, SugarShare, WortBill, WortReached, before_boil_hot_l, can_reach, reach,
};
use crate::process::{Lautering, Plant};
use crate::quantity::{Extract, kilograms, litres, minutes};

/// Extract of what can be dissolved in the kettle, a fraction of its mass as is; the rest is water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Extracts {
    pub(crate) dried_malt: f64,
    pub(crate) sugar: f64,
}

/// Quarters of an hour that a boil may be longer (common practice, no source).
const LONGEST_BOIL_QUARTERS: u32 = 12;
/// A batch is shrunk by no more than this share: down to a ten-thousandth, which a wrong unit may call for.
const MOST_SHRUNK: f64 = 0.999_9;

/// Remedies for `aim`, each run through the model again. `batch_of` turns litres at the end of the boil into litres
/// into the fermenter.
pub(crate) fn for_gravity(
    design: &WortBill,
    aim: Aim,
    plant: &Plant,
    stopped: &WortReached,
    extracts: Extracts,
) -> Vec<Remedy> {
    let mut remedies = Vec::new();
    if stopped.stopped != Some(Stop::NoMash) {
        remedies.extend(sparge(design, aim, plant));
    }
    remedies.extend(
        dissolved(design, aim, plant, extracts.dried_malt).map(|(kg, reached)| {
            Remedy::DriedExtract {
                mass: kilograms(kg),
                reached,
            }
        }),
    );
    if stopped.stopped != Some(Stop::NoMash) {
        remedies.extend(
            dissolved(design, aim, plant, extracts.sugar).map(|(kg, reached)| Remedy::Sugar {
                mass: kilograms(kg),
                reached,
            }),
        );
        remedies.extend(longer_boil(design, aim, plant));
        remedies.extend(smaller(design, aim, plant));
        remedies.extend(several(design, aim, plant));
    }
    remedies
}

fn reached_plato(reached: &WortReached) -> Extract {
    Extract::clamped(100.0 * reached.strength)
}

/// The smallest value between `low` (which fails) and `high` that works, if `high` works.
fn least(low: f64, high: f64, works: impl Fn(f64) -> bool) -> Option<f64> {
    if !works(high) {
        return None;
    }
    let (mut low, mut high) = (low, high);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if works(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(high)
}

/// The least sparge water that a bag needs.
fn sparge(design: &WortBill, aim: Aim, plant: &Plant) -> Option<Remedy> {
    let Lautering::Bag { sparge_l: now_l } = plant.lautering else {
        return None;
    };
    let with = |sparge_l: f64| Plant {
        lautering: Lautering::Bag { sparge_l },
        ..plant.clone()
    };
    // Too much sparge leaves too thick a mash, so the whole range is looked through for the first that works.
    let most_l = aim.volume_l;
    let mut steps = (1..=40).map(|i| now_l + (most_l - now_l) * f64::from(i) / 40.0);
    let works = |sparge_l: f64| can_reach(design, aim, &with(sparge_l));
    let first = steps.find(|sparge_l| works(*sparge_l))?;
    let sparge_l = least(now_l, first, works)?;
    Some(Remedy::Sparge {
        water: litres(sparge_l),
        reached: reached_plato(&reach(design, aim, &with(sparge_l))),
    })
}

/// The least of something dissolved in the kettle, kilograms as is, and the gravity then reached.
fn dissolved(design: &WortBill, aim: Aim, plant: &Plant, extract: f64) -> Option<(f64, Extract)> {
    let with = |share: f64| {
        let mut helped = design.clone();
        // Everything else keeps its proportions within what is left.
        for sugar in &mut helped.sugars {
            sugar.share *= 1.0 - share;
        }
        helped.sugars.push(SugarShare {
            share,
            water_per_extract: (1.0 - extract) / extract,
            time_left_min: design.boil_min.min(10.0),
        });
        helped
    };
    let works = |share: f64| can_reach(&with(share), aim, plant);
    let others: f64 = design.sugars.iter().map(|s| s.share).sum();
    let share = if plant.lautering == Lautering::NoMash {
        // Nothing is mashed: the extract stands in for all of the grain.
        1.0 - others
    } else {
        least(0.0, 0.999, works)?
    };
    let reached = if plant.lautering == Lautering::NoMash {
        Extract::clamped(100.0 * aim.strength)
    } else {
        reached_plato(&reach(&with(share), aim, plant))
    };
    let extract_kg = crate::science::liquid::Liquid::wort_of(aim.volume_l, aim.strength).extract_kg;
    Some((share * extract_kg / extract, reached))
}

/// The shortest boil that reaches the gravity and whose wort the kettle holds.
fn longer_boil(design: &WortBill, aim: Aim, plant: &Plant) -> Option<Remedy> {
    let with = |longer_min: f64| WortBill {
        boil_min: design.boil_min + longer_min,
        ..design.clone()
    };
    let works = |longer_min: f64| {
        let longer = with(longer_min);
        let fits = plant
            .kettle_l
            .is_none_or(|kettle_l| before_boil_hot_l(&longer, aim, plant) <= kettle_l);
        fits && can_reach(&longer, aim, plant)
    };
    // Too long a boil overfills the kettle, so the whole range is looked through for the first that works.
    let first = (1..=LONGEST_BOIL_QUARTERS)
        .map(|quarter| 15.0 * f64::from(quarter))
        .find(|min| works(*min))?;
    let longer_min = least(first - 15.0, first, works)?;
    Some(Remedy::LongerBoil {
        boil: minutes(design.boil_min + longer_min),
        reached: reached_plato(&reach(&with(longer_min), aim, plant)),
    })
}

/// The largest batch that reaches the gravity.
fn smaller(design: &WortBill, aim: Aim, plant: &Plant) -> Option<Remedy> {
    let with = |shrink: f64| Aim {
        volume_l: aim.volume_l * (1.0 - shrink),
        ..aim
    };
    let shrink = least(0.0, MOST_SHRUNK, |shrink| {
        can_reach(design, with(shrink), plant)
    })?;
    let batch_l = plant.fermenter_l_of(aim.volume_l * (1.0 - shrink));
    (batch_l > 0.0).then(|| Remedy::SmallerBatch {
        batch: litres(batch_l),
        reached: reached_plato(&reach(design, with(shrink), plant)),
    })
}

/// The fewest equal brews that reach the gravity.
fn several(design: &WortBill, aim: Aim, plant: &Plant) -> Option<Remedy> {
    let batch_l = plant.fermenter_l_of(aim.volume_l);
    (2..=MOST_BREWS).find_map(|brews| {
        let each_l = batch_l / f64::from(brews);
        let part = Aim {
            volume_l: plant.post_boil_l(each_l),
            ..aim
        };
        can_reach(design, part, plant).then(|| Remedy::SeveralBrews {
            brews,
            batch: litres(each_l),
            reached: reached_plato(&reach(design, part, plant)),
        })
    })
}
