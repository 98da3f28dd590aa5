//! A reading of the brewing day, and the ways on from it.
//!
//! Each way carries the figures that the forward model gives when it is taken: nothing here is a rule of thumb but where it says so.
//! Dried extract counts as 95.5 % extract that ferments like the mash; bitterness and colour stay with the wort.

use super::day::{Day, Stirred, crossing, figures, run_off, stirred};
use super::late::addition_at;
use super::mash::mash_off;
use super::package::packaging;
use super::way::{Way, WayOn};
use crate::catalogue::Catalogue;
use crate::diagnostic::{Error, ErrorKind};
use crate::process::{Assumption, Figures, Material, WATER_KG_PER_L, water_for_volume_kg};
use crate::quantity::{
    CarbonDioxide, Concentration, Extract, Ph, Temperature, Volume, in_kilograms, in_litres,
    kilograms, litres, minutes,
};
use crate::scale::Plan;
use crate::science::attenuation::{Beer, Composition};
use crate::science::carbonation::{air_pressure, sealed_pressure};
use crate::science::density::sucrose_density_20;
use serde::Serialize;

/// Extract of dried malt extract as is (catalogue: 99.5 % of 96 % dry matter).
const DRIED_EXTRACT: f64 = 0.955;
/// A boil longer than this is no advice, minutes.
const LONGEST_BOIL_MIN: f64 = 300.0;
/// Gravities closer than this are as planned, mass fraction: what a hydrometer can be read to.
const AS_PLANNED: f64 = 0.001;
/// Carbon dioxide in beer that has stood in the open at 20 °C, g/L (Draper and Hibberd 1996: 0.88 volumes).
const STANDING_CARBON_DIOXIDE: f64 = 1.74;

/// What was measured. Volumes are cold, 20 °C; readings are corrected for temperature first, see
/// [`crate::science::instruments`].
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum DayReading {
    /// The wort before the boil.
    BeforeBoil {
        /// Its volume at 20 °C.
        volume: Volume,
        /// Its extract.
        extract: Extract,
    },
    /// The wort in the fermenter, before anything is added to it.
    InFermenter {
        /// Its volume at 20 °C.
        volume: Volume,
        /// Its extract.
        extract: Extract,
    },
    /// A lot of juice that is not as the plan has it.
    Juice {
        /// The name as the recipe writes it.
        name: String,
        /// Its soluble solids.
        brix: Extract,
    },
    /// The gravity no longer falls and lies above what was predicted.
    Stopped {
        /// What a hydrometer shows.
        apparent: Extract,
    },
    /// The mash does not have the pH that is wanted.
    MashPh {
        /// Of a cooled sample.
        measured: Ph,
        /// What it should be; a recipe that states one has it in `recipe.mash.ph`.
        wanted: Ph,
    },
    /// A juice or sugar goes into the fermenter at another gravity than planned, as a rule into drier beer.
    AdditionAt {
        /// The name as the recipe writes it.
        name: String,
        /// What a hydrometer shows just before.
        apparent: Extract,
    },
    /// The finished beer, ready to be packaged.
    Packaging {
        /// Its volume at 20 °C.
        volume: Volume,
    },
}

/// What to do about a reading.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Advice {
    /// What the plan had.
    pub planned: Figures,
    /// The ways on, the plainest first.
    pub ways: Vec<WayOn>,
    /// What was taken for granted to find them.
    pub assumptions: Vec<Assumption>,
}

/// The ways on from a reading, each with what the model gives when it is taken.
///
/// # Errors
///
/// `OutOfRange` for a volume or an extract that is none and for a mash pH outside of 4 to 7, `UnknownName` for a juice that the plan
/// does not use, `OutOfModel` for a gravity that the planned wort cannot show, `Incomplete` for the pH of a mash without grain.
///
/// ```
/// use wortwright::catalogue::Catalogue;
/// use wortwright::correct::{DayReading, Way, advise};
/// use wortwright::diagnostic::Source;
/// use wortwright::quantity::{Ph, uom::si::mass::gram};
/// use wortwright::{notation, scale};
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let text = "recipe Plain\nbatch 10 hL into fermenter\ntarget original 12 P\nmash\n  100 % pilsner malt\n\
///     brewhouse Kitchen\n  batch 10 L into fermenter\n";
/// let read = notation::read(&[Source::new("plain", text)]);
/// let catalogue = Catalogue::builtin();
/// let recipe = read.recipe.ok_or("no recipe")?;
/// let plan = scale::scale(&recipe, &read.brewhouses[0], &catalogue, &scale::ScaleOptions::default())?;
/// let reading = DayReading::MashPh { measured: Ph::from_value(5.8)?, wanted: Ph::from_value(5.4)? };
/// let advice = advise(&plan, &catalogue, &reading)?;
/// let Way::AddAcid { mass, .. } = &advice.ways[1].way else { return Err("no acid".into()) };
/// let malt_kg = plan.additions[0].mass.ok_or("no malt")?.get::<uom::si::mass::kilogram>();
/// // No water report: 40 mEq/(kg pH) of the malt times 0.4, and 9.50 mEq in a gram of lactic acid of 88 % at pH 5.4.
/// assert!((mass.get::<gram>() - malt_kg * 40.0 * 0.4 / 9.50).abs() < 0.01);
/// # Ok(())
/// # }
/// # use wortwright::quantity::uom;
/// ```
pub fn advise(plan: &Plan, catalogue: &Catalogue, reading: &DayReading) -> Result<Advice, Error> {
    let day = Day::of(plan, catalogue)?;
    let mut assumptions = Vec::new();
    let ways = match reading {
        DayReading::BeforeBoil { volume, extract } => before_boil(&day, *volume, *extract)?,
        DayReading::InFermenter { volume, extract } => in_fermenter(&day, *volume, *extract)?,
        DayReading::Juice { name, brix } => juice(&day, name, *brix)?,
        DayReading::Stopped { apparent } => stopped(&day, *apparent)?,
        DayReading::MashPh { measured, wanted } => mash_off(
            &day,
            (plan, catalogue),
            (*measured, *wanted),
            &mut assumptions,
        )?,
        DayReading::AdditionAt { name, apparent } => addition_at(&day, name, *apparent)?,
        DayReading::Packaging { volume } => packaging(&day, *volume)?,
    };
    let mut planned = figures(&day.planned);
    planned.mash_ph = plan.predicted.mash_ph;
    planned.mash_ph_uncertainty = plan.predicted.mash_ph_uncertainty;
    Ok(Advice {
        planned,
        ways,
        assumptions,
    })
}

fn before_boil(day: &Day, volume: Volume, extract: Extract) -> Result<Vec<WayOn>, Error> {
    let run = run_off(volume, extract)?;
    let planned = day.planned_strength();
    let as_it_is = day.given_run_off(run, day.boil_min());
    let strength = as_it_is.boiled.strength();
    let mut ways = vec![WayOn {
        way: Way::GoOn,
        predicted: figures(&as_it_is),
    }];
    if (strength - planned).abs() < AS_PLANNED {
        return Ok(ways);
    }
    let boil = crossing(LONGEST_BOIL_MIN, |boil_min| {
        day.given_run_off(run, boil_min).boiled.strength() - planned
    });
    if let Some(boil_min) = boil.filter(|boil_min| *boil_min >= day.least_boil_min()) {
        ways.push(WayOn {
            way: Way::BoilFor {
                time: minutes(boil_min),
            },
            predicted: figures(&day.given_run_off(run, boil_min)),
        });
    }
    let with = |stir: Stirred| day.given_run_off(stirred(&run, stir), day.boil_min());
    if strength > planned {
        let most_kg = 5.0 * (run.water_kg + run.extract_kg);
        let water = |kg: f64| with(Stirred::water(kg));
        if let Some(kg) = crossing(most_kg, |kg| water(kg).boiled.strength() - planned) {
            ways.push(WayOn {
                way: Way::AddWater {
                    water: litres(kg / WATER_KG_PER_L),
                },
                predicted: figures(&water(kg)),
            });
        }
    } else {
        let dried = |kg: f64| with(dried_extract(kg));
        let most_kg = run.water_kg + run.extract_kg;
        if let Some(kg) = crossing(most_kg, |kg| dried(kg).boiled.strength() - planned) {
            ways.push(WayOn {
                way: Way::AddDriedExtract {
                    mass: kilograms(kg),
                },
                predicted: figures(&dried(kg)),
            });
        }
    }
    Ok(ways)
}

fn dried_extract(kg: f64) -> Stirred {
    Stirred {
        water_kg: kg * (1.0 - DRIED_EXTRACT),
        extract_kg: kg * DRIED_EXTRACT,
        fermentability: None,
    }
}

fn in_fermenter(day: &Day, volume: Volume, extract: Extract) -> Result<Vec<WayOn>, Error> {
    let wort = Composition::wort(volume, extract)?;
    let planned = day.planned_strength();
    let (wort_kg, extract_kg) = (in_kilograms(wort.mass()), in_kilograms(wort.extract()));
    let strength = extract_kg / wort_kg;
    let mut ways = vec![WayOn {
        way: Way::GoOn,
        predicted: figures(&day.given_wort(wort, Stirred::default())),
    }];
    let mut add_water = |kg: f64| {
        ways.push(WayOn {
            way: Way::AddWater {
                water: litres(kg / WATER_KG_PER_L),
            },
            predicted: figures(&day.given_wort(wort, Stirred::water(kg))),
        });
    };
    if strength > planned + AS_PLANNED && planned > 0.0 {
        add_water(extract_kg / planned - wort_kg);
    }
    let planned_l = day.planned.pitched.volume_l();
    if planned_l > in_litres(volume) * 1.01 {
        let water_kg = in_kilograms(wort.water());
        add_water(water_for_volume_kg(planned_l, extract_kg) - water_kg);
    }
    if strength < planned - AS_PLANNED {
        // Mass balance: (extract + 0.955 x) / (wort + x) = planned.
        let kg = (planned * wort_kg - extract_kg) / (DRIED_EXTRACT - planned);
        ways.push(WayOn {
            way: Way::AddDriedExtract {
                mass: kilograms(kg),
            },
            predicted: figures(&day.given_wort(wort, dried_extract(kg))),
        });
    }
    Ok(ways)
}

fn juice(day: &Day, name: &str, brix: Extract) -> Result<Vec<WayOn>, Error> {
    let (at, item, amount) = day.later_item(name)?;
    let fraction = brix.plato() / 100.0;
    let Material::Fermentable(planned) = item.material else {
        return Ok(Vec::new());
    };
    if fraction <= 0.0 {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            format!("expected a juice above 0 °P, found {brix}"),
        ));
    }
    let by_volume = item.is_by_volume();
    let planned_l = if by_volume {
        amount
    } else {
        amount / planned.density_kg_l
    };
    let density_kg_l = sucrose_density_20(fraction) / 1000.0;
    let lot = crate::process::Fermentable {
        extract: fraction,
        water: 1.0 - fraction,
        density_kg_l,
        ..planned
    };
    // Litres of the lot with kilograms of something stirred in, as one liquid of `total_l`.
    let pour = |lot_l: f64, water_kg: f64, sugar_kg: f64| {
        let juice_kg = lot_l * density_kg_l;
        let total_kg = juice_kg + water_kg + sugar_kg;
        let extract = (juice_kg * fraction + sugar_kg) / total_kg;
        let mixed = crate::process::Fermentable {
            extract,
            water: 1.0 - extract,
            density_kg_l: sucrose_density_20(extract) / 1000.0,
            ..lot
        };
        let amount = if by_volume {
            total_kg / mixed.density_kg_l
        } else {
            total_kg
        };
        day.with_item(at, Material::Fermentable(mixed), amount)
    };
    let sugar_per_l = planned.extract * planned.density_kg_l;
    let same_sugar_l = planned_l * sugar_per_l / (fraction * density_kg_l);
    let plain = |lot_l: f64| WayOn {
        way: Way::UseJuice {
            juice: litres(lot_l),
        },
        predicted: figures(&pour(lot_l, 0.0, 0.0)),
    };
    let mut ways = vec![plain(planned_l), plain(same_sugar_l)];
    let planned_kg = planned_l * planned.density_kg_l;
    if fraction < planned.extract {
        // Sugar in place of juice until a kilogram holds as much as planned, for the planned mass of it.
        let sugar_kg = planned_kg * (planned.extract - fraction) / (1.0 - fraction);
        let lot_l = (planned_kg - sugar_kg) / density_kg_l;
        ways.push(WayOn {
            way: Way::SweetenJuice {
                juice: litres(lot_l),
                sugar: kilograms(sugar_kg),
            },
            predicted: figures(&pour(lot_l, 0.0, sugar_kg)),
        });
    } else if fraction > planned.extract {
        let water_kg = planned_kg - planned_kg * planned.extract / fraction;
        let lot_l = same_sugar_l;
        ways.push(WayOn {
            way: Way::ThinJuice {
                juice: litres(lot_l),
                water: litres(water_kg / WATER_KG_PER_L),
            },
            predicted: figures(&pour(lot_l, water_kg, 0.0)),
        });
    }
    Ok(ways)
}

fn stopped(day: &Day, apparent: Extract) -> Result<Vec<WayOn>, Error> {
    let end = &day.planned.cellar.finished;
    let original = Extract::clamped(end.equivalent_original_plato());
    let now = Beer::from_readings(original, apparent)?;
    let predicted = figures(&day.planned);
    let mut as_it_is = predicted.clone();
    as_it_is.final_extract = Some(apparent);
    as_it_is.final_gravity = Some(crate::science::density::gravity_of(apparent));
    as_it_is.alcohol = Some(now.alcohol_by_volume);
    let mut ways = vec![WayOn {
        way: Way::GoOn,
        predicted: as_it_is,
    }];
    if apparent.plato() - end.apparent_plato() > 100.0 * AS_PLANNED {
        // Extract that stands between this beer and the predicted one, of a litre of it.
        let planned = Beer::from_readings(original, Extract::clamped(end.apparent_plato()))?;
        let share = planned.fermented_share.fraction() - now.fermented_share.fraction();
        let here = share_in_litre(original, now.fermented_share.fraction());
        let left = Concentration::clamped(share * here);
        let at_20 = Temperature::from_celsius(20.0)?;
        let standing = CarbonDioxide::clamped(STANDING_CARBON_DIOXIDE);
        let sealed = sealed_pressure(standing, left, at_20).ok();
        ways.push(WayOn {
            way: Way::Rouse {
                left,
                sealed: sealed.map(|absolute| absolute - air_pressure()),
            },
            predicted,
        });
    }
    Ok(ways)
}

/// Grams of original extract behind a litre of beer of which this share has fermented.
fn share_in_litre(original: Extract, fermented: f64) -> f64 {
    use crate::science::attenuation::{EXTRACT_PER_ETHANOL, beer_density_20};
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
