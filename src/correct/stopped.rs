//! A fermentation that no longer moves, and what could still ferment in it.

use super::day::{Day, figures};
use super::way::{Way, WayOn};
use crate::diagnostic::Error;
use crate::process::Figures;
use crate::quantity::{CarbonDioxide, Concentration, Extract, Temperature};
use crate::science::attenuation::{Beer, EXTRACT_PER_ETHANOL, beer_density_20};
use crate::science::carbonation::{air_pressure, sealed_pressure};
use crate::science::density::gravity_of;

/// Gravities closer than this are as planned, °P: what a hydrometer can be read to.
const AS_PLANNED_PLATO: f64 = 0.1;
/// Carbon dioxide in beer that has stood in the open at 20 °C, g/L (Draper and Hibberd 1996: 0.88 volumes).
const STANDING_CARBON_DIOXIDE: f64 = 1.74;

pub(super) fn stopped(day: &Day, apparent: Extract) -> Result<Vec<WayOn>, Error> {
    let mut ways = vec![WayOn {
        way: Way::GoOn,
        predicted: as_read(day, apparent)?,
    }];
    if let Some(left) = still_fermentable(day, apparent)? {
        let at_20 = Temperature::from_celsius(20.0)?;
        let standing = CarbonDioxide::clamped(STANDING_CARBON_DIOXIDE);
        let sealed = sealed_pressure(standing, left, at_20).ok();
        ways.push(WayOn {
            way: Way::Rouse {
                left,
                sealed: sealed.map(|absolute| absolute - air_pressure()),
            },
            predicted: figures(&day.planned),
        });
    }
    Ok(ways)
}

/// The planned figures, with the beer as far on as it was read.
pub(super) fn as_read(day: &Day, apparent: Extract) -> Result<Figures, Error> {
    let original = Extract::clamped(day.planned.cellar.finished.equivalent_original_plato());
    let now = Beer::from_readings(original, apparent)?;
    let mut figures = figures(&day.planned);
    figures.final_extract = Some(apparent);
    figures.final_gravity = Some(gravity_of(apparent));
    figures.alcohol = Some(now.alcohol_by_volume);
    Ok(figures)
}

/// Extract that stands between a litre of the beer as read and the one predicted; none where they are as good as one.
pub(super) fn still_fermentable(
    day: &Day,
    apparent: Extract,
) -> Result<Option<Concentration>, Error> {
    let end = &day.planned.cellar.finished;
    if apparent.plato() - end.apparent_plato() <= AS_PLANNED_PLATO {
        return Ok(None);
    }
    let original = Extract::clamped(end.equivalent_original_plato());
    let now = Beer::from_readings(original, apparent)?;
    let planned = Beer::from_readings(original, Extract::clamped(end.apparent_plato()))?;
    let share = planned.fermented_share.fraction() - now.fermented_share.fraction();
    let here = share_in_litre(original, now.fermented_share.fraction());
    Ok(Some(Concentration::clamped(share * here)))
}

/// Grams of original extract behind a litre of beer of which this share has fermented.
fn share_in_litre(original: Extract, fermented: f64) -> f64 {
    let extract = original.plato();
    let consumed = extract * fermented;
    let (water, left, ethanol) = (
        100.0 - extract,
        extract - consumed,
        consumed / EXTRACT_PER_ETHANOL,
    );
    let beer_l = 1000.0 * (water + left + ethanol) / beer_density_20(water, left, ethanol);
    1000.0 * extract / beer_l
}
