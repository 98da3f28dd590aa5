//! Finished beer that is less, or more, than planned.
//!
//! Lost beer leaves the rest as it was: nothing but the amounts that go in by the litre changes. Water makes the volume up and thins
//! everything else.

use super::day::{Day, crossing, figures};
use super::late::dose;
use super::way::{Way, WayOn};
use crate::diagnostic::{Error, ErrorKind};
use crate::process::{Beer, Stage, WATER_KG_PER_L};
use crate::quantity::{Volume, in_litres, litres};

/// Volumes closer than this are as planned: what a fermenter can be read to (common practice, no source).
const AS_PLANNED: f64 = 0.01;

pub(super) fn packaging(day: &Day, volume: Volume) -> Result<Vec<WayOn>, Error> {
    let (beer_l, planned_l) = (in_litres(volume), day.planned.cellar.packaged_l);
    if !(beer_l > 0.0 && beer_l <= 1e7) {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            format!("expected a volume of beer above zero and up to 10⁷ L, found {beer_l} L"),
        ));
    }
    let (formula, amounts) = day.laid_out();
    let by_litre = beer_l / planned_l.max(f64::MIN_POSITIVE);
    let doses = formula
        .items
        .iter()
        .zip(&amounts.of)
        .filter(|(item, amount)| item.place.stage == Stage::Package && **amount > 0.0)
        .map(|(item, amount)| dose(item, amount * by_litre))
        .collect();
    let mut as_it_is = figures(&day.planned);
    as_it_is.finished = Some(volume);
    let mut ways = vec![WayOn {
        way: Way::PackageLess {
            short: litres(planned_l - beer_l),
            doses,
        },
        predicted: as_it_is,
    }];
    if by_litre < 1.0 - AS_PLANNED
        && let Some(filled) = filled_up(day, beer_l, planned_l)
    {
        ways.push(filled);
    }
    Ok(ways)
}

/// The beer filled up with water to the planned volume: worked out on all of the planned beer, of which `beer_l` is a part.
fn filled_up(day: &Day, beer_l: f64, planned_l: f64) -> Option<WayOn> {
    let finished = day.planned.cellar.finished;
    let finished_l = finished.volume_l();
    let thinned = |beer: Beer, water_kg: f64| Beer {
        water_kg: beer.water_kg + water_kg,
        ..beer
    };
    let wanted_l = finished_l * planned_l / beer_l;
    let most_kg = 2.0 * wanted_l * WATER_KG_PER_L;
    let water_kg = crossing(most_kg, |kg| thinned(finished, kg).volume_l() - wanted_l)?;
    let mut brewed = day.planned.clone();
    brewed.cellar.finished = thinned(finished, water_kg);
    brewed.cellar.if_juice_ferments = brewed
        .cellar
        .if_juice_ferments
        .map(|beer| thinned(beer, water_kg));
    let mut predicted = figures(&brewed);
    predicted.finished = Some(litres(planned_l));
    Some(WayOn {
        way: Way::TopUp {
            water: litres(water_kg / WATER_KG_PER_L * beer_l / finished_l),
        },
        predicted,
    })
}
