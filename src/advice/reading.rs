//! What is measured on the day, and what it is taken for.

use crate::diagnostic::{Error, ErrorKind};
use crate::ledger::Remark;
use crate::quantity::{Extract, Ph, Temperature, Volume, in_litres, kilograms, litres};
use crate::science::instruments::{
    Refracted, WortCorrection, refractometer_beer, refractometer_wort,
};
use crate::science::liquid::Liquid;
use crate::speech::{Noted, shortest};

/// What was measured. Volumes are cold, 20 °C; what a hydrometer shows is corrected for temperature first, see
/// [`hydrometer`](crate::science::instruments::hydrometer).
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum DayReading {
    /// The wort before the boil. What was not measured is taken as planned: the volume, or the mass of extract.
    BeforeBoil {
        /// Its volume at 20 °C.
        volume: Option<Volume>,
        /// Its gravity.
        shown: Option<Shown>,
    },
    /// The wort in the fermenter, before anything is added to it. What was not measured is taken as planned.
    InFermenter {
        /// Its volume at 20 °C.
        volume: Option<Volume>,
        /// Its gravity.
        shown: Option<Shown>,
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
        /// The gravity of the beer.
        shown: Shown,
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
        /// The gravity just before.
        shown: Shown,
    },
    /// The finished beer, ready to be packaged, before anything goes in there.
    Packaging {
        /// Its volume at 20 °C.
        volume: Volume,
        /// The warmest that it has been since it stopped fermenting, which sets the gas left in it; absent for what the recipe says.
        warmest: Option<Temperature>,
        /// Its final apparent extract; absent for the predicted one.
        apparent: Option<Extract>,
    },
}

/// A gravity as an instrument shows it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shown {
    /// By a hydrometer or a meter of density, corrected for temperature.
    Hydrometer(Extract),
    /// Brix by a refractometer that compensates for temperature, with the factor that its readings of wort are divided by.
    Refractometer(Extract, WortCorrection),
}

impl Shown {
    /// Extract of a wort in which nothing has fermented.
    pub(super) fn in_wort(self, remarks: &mut Vec<Noted<Remark>>) -> Extract {
        match self {
            Self::Hydrometer(extract) => extract,
            Self::Refractometer(brix, factor) => {
                remarks.push(Remark::WortCorrection { factor }.into());
                refractometer_wort(brix, factor)
            }
        }
    }

    /// Apparent extract of a beer from a wort of `original`.
    pub(super) fn in_beer(self, original: Extract, remarks: &mut Vec<Noted<Remark>>) -> Extract {
        match self {
            Self::Hydrometer(extract) => extract,
            Self::Refractometer(brix, factor) => {
                remarks.push(Remark::WortCorrection { factor }.into());
                let refracted = refractometer_beer(original, brix, factor);
                if matches!(refracted, Refracted::Bridged(_)) {
                    remarks.push(Remark::RefractometerRough.into());
                }
                refracted.apparent()
            }
        }
    }
}

/// Volume and extract of a wort, what was not measured as in the planned one.
pub(super) fn wort(
    volume: Option<Volume>,
    shown: Option<Shown>,
    planned: &Liquid,
    remarks: &mut Vec<Noted<Remark>>,
) -> Result<(Volume, Extract), Error> {
    match (volume, shown.map(|shown| shown.in_wort(remarks))) {
        (Some(volume), Some(extract)) => Ok((volume, extract)),
        (None, Some(extract)) => {
            let volume = litres(planned.volume_l());
            remarks.push(Remark::VolumeAsPlanned { volume }.into());
            Ok((volume, extract))
        }
        (Some(volume), None) => {
            let planned_kg = planned.extract_kg;
            let extract = Liquid::solution(0.0, planned_kg);
            let water_kg = extract.water_to_fill_kg(in_litres(volume));
            if !(water_kg > 0.0 && water_kg.is_finite()) {
                return Err(Error::new(
                    ErrorKind::OutOfRange,
                    format!(
                        "expected a volume that holds the planned extract, {} kg, found {} L",
                        shortest(planned_kg, 3),
                        shortest(in_litres(volume), 3)
                    ),
                )
                .with_help("check the volume and its unit, or measure the gravity too"));
            }
            let as_planned = kilograms(planned_kg);
            remarks.push(
                Remark::ExtractAsPlanned {
                    extract: as_planned,
                }
                .into(),
            );
            Ok((volume, extract.with_water_kg(water_kg).real_extract()))
        }
        (None, None) => Err(Error::new(
            ErrorKind::Incomplete,
            "expected a volume or a gravity of the wort, found neither",
        )
        .with_help("measure at least one; the other is then assumed as planned")),
    }
}
