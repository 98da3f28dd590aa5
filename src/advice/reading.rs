//! What is measured on the day, and what it is taken for.

use crate::diagnostic::{Error, ErrorKind};
use crate::inverse::STRONGEST_WORT_PLATO;
use crate::ledger::{Remark, at_scale, beer_noise_plato, wort_noise_plato};
use crate::quantity::{Extract, Ph, Temperature, Volume, in_litres, kilograms, litres};
use crate::recipe::Instrument;
use crate::science::instruments::{
    Refracted, WortCorrection, refractometer_beer, refractometer_wort,
};
use crate::science::liquid::Liquid;
use crate::speech::{Noted, shortest};

/// What was measured, as it was read. Volumes are those at 20 °C, as in a log.
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
    /// The wort at the end of the boil, in the kettle. What was not measured is taken as planned.
    AfterBoil {
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
        /// Its soluble solids, which no correction for wort changes.
        shown: Shown,
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
        /// What it should be; absent means what the recipe states, else the usual 5.2 to 5.6.
        wanted: Option<Ph>,
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
        /// Its final gravity; absent for the predicted one.
        shown: Option<Shown>,
    },
}

/// A gravity as an instrument shows it; what follows from temperature and instrument is worked out as for a log.
///
/// ```
/// use wortwright::advice::Shown;
/// # fn main() -> Result<(), wortwright::Error> {
/// let warm = Shown::hydrometer("10.1 P".parse()?).at("30 C".parse()?);
/// assert!((warm.corrected()?.plato() - 10.7).abs() < 0.1); // warm wort lifts a hydrometer less
/// # Ok(())
/// # }
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Shown {
    /// What it shows, in °P or °Bx.
    pub value: Extract,
    /// By what it was read.
    pub instrument: Instrument,
    /// Temperature of the sample; absent means that of the instrument's scale, 20 °C, or one that the instrument compensates for.
    pub temperature: Option<Temperature>,
    /// What a refractometer's readings of wort are divided by.
    pub wort_correction: WortCorrection,
}

impl Shown {
    /// By a hydrometer or a meter of density, at 20 °C.
    #[must_use]
    pub fn hydrometer(value: Extract) -> Self {
        Self {
            value,
            instrument: Instrument::Hydrometer,
            temperature: None,
            wort_correction: WortCorrection::default(),
        }
    }

    /// Brix by a refractometer, at 20 °C or compensated, with the usual correction for wort.
    #[must_use]
    pub fn refractometer(brix: Extract) -> Self {
        Self {
            instrument: Instrument::Refractometer,
            ..Self::hydrometer(brix)
        }
    }

    /// The same of a sample at another temperature.
    #[must_use]
    pub const fn at(mut self, temperature: Temperature) -> Self {
        self.temperature = Some(temperature);
        self
    }

    /// The same by a refractometer of another correction.
    #[must_use]
    pub const fn with_wort_correction(mut self, factor: WortCorrection) -> Self {
        self.wort_correction = factor;
        self
    }

    /// What the instrument would show at 20 °C.
    ///
    /// # Errors
    ///
    /// `OutOfModel` or `OutOfRange` where the correction is not known so far from 20 °C or for such a gravity.
    pub fn corrected(self) -> Result<Extract, Error> {
        match self.temperature {
            Some(temperature) => at_scale(self.instrument, self.value, temperature),
            None => Ok(self.value),
        }
    }

    /// The same reading as it would be at 20 °C.
    pub(super) fn at_20(self) -> Result<Self, Error> {
        Ok(Self {
            value: self.corrected()?,
            temperature: None,
            ..self
        })
    }

    /// Extract of a wort in which nothing has fermented, by a reading at 20 °C.
    pub(super) fn in_wort(self, remarks: &mut Vec<Noted<Remark>>) -> Extract {
        match self.instrument {
            Instrument::Hydrometer => self.value,
            Instrument::Refractometer => {
                let factor = self.wort_correction;
                remarks.push(Remark::WortCorrection { factor }.into());
                refractometer_wort(self.value, factor)
            }
        }
    }

    /// Apparent extract of a beer from a wort of `original`, by a reading at 20 °C.
    pub(super) fn in_beer(self, original: Extract, remarks: &mut Vec<Noted<Remark>>) -> Extract {
        match self.instrument {
            Instrument::Hydrometer => self.value,
            Instrument::Refractometer => {
                let factor = self.wort_correction;
                remarks.push(Remark::WortCorrection { factor }.into());
                let refracted = refractometer_beer(original, self.value, factor);
                if matches!(refracted, Refracted::Bridged(_)) {
                    remarks.push(Remark::RefractometerRough.into());
                }
                refracted.apparent()
            }
        }
    }
}

/// Which halves of a wort were read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Halves {
    Both,
    Volume,
    Gravity,
}

/// A wort as it was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct WortRead {
    pub(super) volume: Volume,
    pub(super) extract: Extract,
    /// One sigma of the extract as its instrument shows it.
    pub(super) noise_plato: f64,
    /// What of it was read; the other is the plan's.
    pub(super) halves: Halves,
}

/// A beer as it was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct BeerRead {
    pub(super) apparent: Extract,
    /// One sigma of that.
    pub(super) noise_plato: f64,
}

impl BeerRead {
    pub(super) fn of(
        shown: Shown,
        original: Extract,
        remarks: &mut Vec<Noted<Remark>>,
    ) -> Result<Self, Error> {
        let apparent = shown.at_20()?.in_beer(original, remarks);
        let noise_plato = beer_noise_plato(shown.instrument, apparent);
        Ok(Self {
            apparent,
            noise_plato,
        })
    }
}

/// Volume and extract of a wort, what was not measured as in the planned one.
pub(super) fn wort(
    volume: Option<Volume>,
    shown: Option<Shown>,
    planned: &Liquid,
    remarks: &mut Vec<Noted<Remark>>,
) -> Result<WortRead, Error> {
    let shown = shown.map(Shown::at_20).transpose()?;
    let extract = shown.map(|shown| shown.in_wort(remarks));
    if let Some(extract) = extract
        && !(0.0..=STRONGEST_WORT_PLATO).contains(&extract.plato())
    {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            format!(
                "expected the gravity of a wort, from 0 to {STRONGEST_WORT_PLATO} °P, found {} °P",
                shortest(extract.plato(), 2)
            ),
        )
        .with_help("check the figure and its unit, and the hydrometer in water: it should read 0 °P, 1.000"));
    }
    let instrument = shown.map_or(Instrument::Hydrometer, |shown| shown.instrument);
    let read = |volume: Volume, extract: Extract, halves: Halves| WortRead {
        volume,
        extract,
        noise_plato: wort_noise_plato(instrument, extract),
        halves,
    };
    match (volume, extract) {
        (Some(volume), Some(extract)) => Ok(read(volume, extract, Halves::Both)),
        (None, Some(extract)) => {
            let volume = litres(planned.volume_l());
            remarks.push(Remark::VolumeAsPlanned { volume }.into());
            Ok(read(volume, extract, Halves::Gravity))
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
            let extract = extract.with_water_kg(water_kg).real_extract();
            Ok(read(volume, extract, Halves::Volume))
        }
        (None, None) => Err(Error::new(
            ErrorKind::Incomplete,
            "expected a volume or a gravity of the wort, found neither",
        )
        .with_help("measure both")),
    }
}
