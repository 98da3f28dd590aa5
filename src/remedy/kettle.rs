//! Remedies for a kettle that does not hold its wort.

use super::{HALVINGS, MOST_BREWS, Remedy};
use crate::inverse::{Aim, WortBill, before_boil_hot_l, can_reach, reach};
use crate::process::Plant;
use crate::quantity::{Extract, Volume, litres};
use crate::science::density::{WATER_KG_PER_L, sucrose_density_20};
use crate::science::liquid::Liquid;

/// What a step down leaves of a volume, and how many go down to a ten-thousandth of it.
const STEP_DOWN: f64 = 0.975;
const STEPS_DOWN: i32 = 364;
/// A wort stronger than this is not worth topping up, extract fraction (common practice, no source).
const STRONGEST: f64 = 0.30;

/// Ways out of a kettle that is too small.
#[derive(Debug, Default)]
pub(crate) struct KettleRemedies {
    pub(crate) remedies: Vec<Remedy>,
    /// The largest batch that fits, into the fermenter, where one does.
    pub(crate) largest_batch: Option<Volume>,
}

/// Remedies for a wort of `aim` that the kettle does not hold before the boil, each run through the model again.
pub(crate) fn for_kettle(design: &WortBill, aim: Aim, plant: &Plant) -> KettleRemedies {
    let Some(kettle_l) = plant.kettle_l else {
        return KettleRemedies::default();
    };
    let fits = |aim: Aim| {
        before_boil_hot_l(design, aim, plant) <= kettle_l && can_reach(design, aim, plant)
    };
    let shrunk = |volume_l: f64| Aim { volume_l, ..aim };
    let batch_l = plant.fermenter_l_of(aim.volume_l);
    let mut remedies = Vec::new();
    let mut largest_batch = None;
    if let Some(volume_l) = largest(aim.volume_l, |volume_l| fits(shrunk(volume_l)))
        && plant.fermenter_l_of(volume_l) > 0.0
    {
        let batch = litres(plant.fermenter_l_of(volume_l));
        largest_batch = Some(batch);
        remedies.push(Remedy::SmallerBatch {
            batch,
            reached: Extract::clamped(100.0 * reach(design, shrunk(volume_l), plant).strength),
        });
    }
    let brews =
        (2..=MOST_BREWS).find(|brews| fits(shrunk(plant.post_boil_l(batch_l / f64::from(*brews)))));
    if let Some(brews) = brews {
        let each_l = batch_l / f64::from(brews);
        remedies.push(Remedy::SeveralBrews {
            brews,
            batch: litres(each_l),
            reached: Extract::clamped(
                100.0 * reach(design, shrunk(plant.post_boil_l(each_l)), plant).strength,
            ),
        });
    }
    // The wort that goes into the fermenter carries all the extract; water makes up the rest.
    let wanted = Liquid::wort_of(batch_l, aim.strength);
    let strong = |into_l: f64| {
        let extract = Liquid::solution(0.0, wanted.extract_kg);
        Aim {
            volume_l: plant.post_boil_l(into_l),
            strength: extract
                .with_water_kg(extract.water_to_fill_kg(into_l))
                .strength(),
        }
    };
    // Below the volume of the strongest wort worth topping up nothing is asked of the model.
    let least_l = 1000.0 * wanted.extract_kg / STRONGEST / sucrose_density_20(STRONGEST);
    let holds = |into_l: f64| into_l >= least_l && fits(strong(into_l));
    if let Some(into_l) = largest(batch_l, holds) {
        let boiled = Liquid::wort_of(into_l, reach(design, strong(into_l), plant).strength);
        let water_kg = wanted.water_kg - boiled.water_kg;
        remedies.push(Remedy::TopUp {
            water: litres(water_kg / WATER_KG_PER_L),
            reached: boiled.with_water_kg(water_kg).real_extract(),
        });
    }
    KettleRemedies {
        remedies,
        largest_batch,
    }
}

/// The largest value below `top` that works: the first found going down, then refined.
fn largest(top: f64, works: impl Fn(f64) -> bool) -> Option<f64> {
    let mut steps = (1..=STEPS_DOWN).map(|i| top * STEP_DOWN.powi(i));
    let mut low = steps.find(|x| works(*x))?;
    let mut high = low / STEP_DOWN;
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if works(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(low)
}
