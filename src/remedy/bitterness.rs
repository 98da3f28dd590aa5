//! Remedies for a bitterness that no boiled hop can bring: hops that only stand bitter by their time, which the plant's cooling makes
//! longer or shorter.

use super::{HALVINGS, Remedy};
use crate::inverse::dilution;
use crate::process::{Amounts, HotStepOf, Item, Material, Rule, Setup, Slot, Stage};
use crate::quantity::{Bitterness, Written, in_minutes, kilograms, minutes};
use crate::recipe::{At, Timing};
use crate::speech::Style;
use std::sync::Arc;

/// The longest stand that is offered, min (common practice, no source).
const LONGEST_STAND_MIN: f64 = 120.0;
/// The boil of a hop that is to bitter, min (common practice, no source).
const BITTERING_MIN: f64 = 60.0;

/// The ways to the bitterness of `aim_ibu` in the beer of `amounts`, whose hops stand and do not boil.
pub(crate) fn for_bitterness(
    setup: &Setup,
    amounts: &Amounts,
    aim_ibu: f64,
    style: Style,
) -> Vec<Remedy> {
    let ways = [
        stood(setup, amounts, aim_ibu),
        boiled(setup, amounts, aim_ibu, style),
    ];
    ways.into_iter().flatten().collect()
}

fn beer_ibu(setup: &Setup, amounts: &Amounts) -> f64 {
    let brewed = setup.brew(amounts);
    brewed.wort_ibu() * dilution(&brewed)
}

/// The setup with a stand, and the hops that stay in it to its end, of another time.
pub(crate) fn with_stand(setup: Setup, index: usize, time_min: f64) -> Setup {
    let Setup {
        mut formula,
        plant,
        mash_factor,
        ..
    } = setup;
    let mut before_min = 0.0;
    for step in &mut formula.hot_steps {
        if let HotStepOf::Stand {
            index: here,
            time_min: stood_min,
            ..
        } = step
            && *here == index
        {
            before_min = *stood_min;
            *stood_min = time_min;
        }
    }
    for item in formula.items.values_mut() {
        if item.place.stage == Stage::Stand && item.place.stand == index {
            stays(&mut item.timing, before_min, time_min);
        }
    }
    Setup::new(formula, plant, mash_factor.fit)
}

/// What stays to the end of a stand stays to its new end.
pub(super) fn stays(timing: &mut Timing, before_min: f64, time_min: f64) {
    let to_the_end = |time: &Written<_>| in_minutes(time.value()) >= before_min;
    if timing.contact.as_ref().is_some_and(to_the_end) {
        timing.contact = Some(Written::in_base_unit(minutes(time_min)));
    }
}

/// Whole minutes of the first stand with hops that bring the bitterness nearest to the aim, where they reach it.
fn stood(setup: &Setup, amounts: &Amounts, aim_ibu: f64) -> Option<Remedy> {
    let items = setup.formula.items.values();
    let mut stands = items.filter(|item| item.is_hot_hop() && item.place.stage == Stage::Stand);
    let index = stands.next()?.place.stand;
    let of = |time_min: f64| beer_ibu(&with_stand(setup.clone(), index, time_min), amounts);
    let (mut low, mut high) = (0.0, LONGEST_STAND_MIN);
    if !(of(low)..=of(high)).contains(&aim_ibu) {
        return None;
    }
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if of(middle) < aim_ibu {
            low = middle;
        } else {
            high = middle;
        }
    }
    let time_min = high.round().max(1.0);
    Some(Remedy::StandTime {
        stand: index + 1,
        time: minutes(time_min),
        reached: Bitterness::clamped(of(time_min)),
    })
}

/// The first hop of the stands in the boil as well, as much as is missing.
fn boiled(setup: &Setup, amounts: &Amounts, aim_ibu: f64, style: Style) -> Option<Remedy> {
    let formula = &setup.formula;
    let items = formula.items.values();
    let mut stands = items.filter(|item| item.is_hot_hop() && item.place.stage == Stage::Stand);
    let hop = stands.next()?;
    let left_min = formula.boil_min.min(BITTERING_MIN);
    let missing_ibu = aim_ibu - beer_ibu(setup, amounts);
    if left_min <= 0.0 || missing_ibu <= 0.0 {
        return None;
    }
    let mut with = setup.clone();
    with.formula.items.push(Item {
        ingredient: Arc::clone(&hop.ingredient),
        place: Slot {
            stage: Stage::Boil,
            stand: 0,
            index: usize::MAX,
            part: None,
        },
        timing: Timing {
            at: Some(At::TimeLeft(Written::in_base_unit(minutes(left_min)))),
            contact: None,
        },
        material: match hop.material {
            Material::Hop { alpha: Some(alpha) } => Material::Hop { alpha: Some(alpha) },
            _ => return None,
        },
        rule: Rule::Kilograms(0.0),
    });
    let of = |kg: f64| {
        let mut more = amounts.clone();
        more.of.push(kg);
        beer_ibu(&with, &more)
    };
    let tried_kg = 0.001 * setup.brew(amounts).boiled.volume_l;
    let per_kg = (of(tried_kg) - of(0.0)) / tried_kg;
    let kg = style.mass_up_kg(missing_ibu / per_kg);
    (kg.is_finite() && kg > 0.0).then(|| Remedy::BoiledHops {
        name: hop.ingredient.name.clone(),
        mass: kilograms(kg),
        time_left: minutes(left_min),
        reached: Bitterness::clamped(of(kg)),
    })
}
