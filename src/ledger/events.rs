//! The lines of a log with every figure settled, in plain numbers.

use super::fault::{Fault, LogFault};
use super::remark::Remark;
use crate::catalogue::{Catalogue, EntryRef, Kind};
use crate::diagnostic::Place;
use crate::inverse::{juice_of, what_to_write};
use crate::process::{Assumption, Figure, Material, settle};
use crate::quantity::{Extract, Temperature, Time, Written, in_kilograms, in_litres, in_minutes};
use crate::recipe::{
    Added, Amount, Ingredient, Instrument, Log, LogEntry, LogEvent, PackSize, Packs,
};
use crate::science::liquid::Liquid;
use crate::speech::{Noted, shortest};
use std::sync::Arc;

/// A line of a log.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line<'a> {
    pub(super) entry: &'a LogEntry,
    pub(super) event: Event,
}

/// What a line tells.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Event {
    /// Something of the brewing day, which changes nothing in the fermenter.
    BrewDay,
    Pitched {
        volume_l: f64,
        sight: Sight,
    },
    Reading(Sight),
    Drawn {
        volume_l: f64,
        /// Wort, since it was drawn on the day of pitching.
        as_pitched: bool,
    },
    Added {
        measure: Measure,
        matter: Matter,
    },
}

/// What an instrument showed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Sight {
    pub(super) shown_plato: f64,
    pub(super) instrument: Instrument,
    pub(super) celsius: f64,
    /// Error of the relation between reading and extract, °P; nothing but when uncertainty is worked out.
    pub(super) off_plato: f64,
}

/// How an addition is measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Measure {
    MassKg(f64),
    VolumeL(f64),
    /// Per litre of what is there.
    KgPerLitre(f64),
    /// Litres per litre of what is there.
    LitrePerLitre(f64),
    /// Of the volume after the addition, by volumes that add up.
    ShareByVolume(f64),
}

/// What is known of an addition.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Matter {
    /// What it brings.
    Counted(Brings),
    /// That it brings nothing.
    Nothing,
    /// Nothing: so much of it as hardly counts is carried along.
    Unknown,
}

/// What an addition brings, by mass as is; the rest of it is water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Brings {
    pub(super) extract: f64,
    pub(super) ethanol: f64,
    pub(super) fermentability: f64,
    /// Pulp and stones of fruit, which do not dissolve.
    pub(super) pulp: f64,
    /// Half the range in which the extract lies.
    pub(super) extract_spread: f64,
}

impl Brings {
    /// What counts as water brings nothing else.
    const WATER: Self = Self {
        extract: 0.0,
        ethanol: 0.0,
        fermentability: 0.0,
        pulp: 0.0,
        extract_spread: 0.0,
    };

    /// A kilogram of it.
    pub(super) fn per_kg(self) -> Liquid {
        Liquid {
            water_kg: (1.0 - self.extract - self.ethanol - self.pulp).max(0.0),
            extract_kg: self.extract,
            ethanol_kg: self.ethanol,
        }
    }
}

impl Measure {
    const fn is_volume(self) -> bool {
        matches!(
            self,
            Self::VolumeL(_) | Self::LitrePerLitre(_) | Self::ShareByVolume(_)
        )
    }
}

/// Temperature of an instrument's scale, °C.
pub(super) const SCALE_C: f64 = 20.0;
/// The largest amount of a log, litres or kilograms: that of the largest vessel (common practice, no source).
const MOST: f64 = 1e9;
/// One sigma of a Brix that the line states, mass fraction: row "hand refractometer" of `tests/reference/uncertainty.csv` (from memory).
const STATED_BRIX: f64 = 0.0015;
/// A range of the trade is taken as so many sigma (rule of that table).
const RANGE: f64 = 4.0;
/// One sigma of the solids of a sugar or syrup, mass fraction (common practice, no source).
const SOLIDS: f64 = 0.005;

/// The log's lines, or the first that cannot be.
pub(super) fn settled<'a>(
    (log, name): (&'a Log, &Arc<str>),
    catalogue: &Catalogue,
    assumptions: &mut Vec<Noted<Assumption>>,
    remarks: &mut Vec<Noted<Remark>>,
) -> Result<Vec<Line<'a>>, LogFault> {
    let mut lines = Vec::with_capacity(log.entries.len());
    let mut latest_day: Option<f64> = None;
    let (mut is_pitched, mut pitched_day) = (false, None);
    for (index, entry) in log.entries.iter().enumerate() {
        let day = entry.day.as_ref().map(days);
        if let Some(day) = day {
            if let Some(after) = latest_day.filter(|latest| day < *latest) {
                return Err(LogFault::new(index, Fault::DaysOutOfOrder { day, after }));
            }
            latest_day = Some(day);
        }
        if entry.what.is_of_brew_day() {
            let told = Remark::BrewDayReading { entry: index };
            remarks.push(Noted::at(Place::log_entry(name, index), told));
            let event = Event::BrewDay;
            lines.push(Line { entry, event });
            continue;
        }
        let is_pitch = matches!(entry.what, LogEvent::Pitched(_));
        if is_pitched == is_pitch {
            let fault = if is_pitch {
                Fault::PitchedTwice
            } else {
                Fault::NothingPitched
            };
            return Err(LogFault::new(index, fault));
        }
        let event = match &entry.what {
            LogEvent::MashPh(_)
            | LogEvent::FirstWort(_)
            | LogEvent::BeforeBoil(_)
            | LogEvent::AfterBoil(_) => Event::BrewDay,
            LogEvent::Pitched(pitched) => {
                (is_pitched, pitched_day) = (true, day);
                let temperature = pitched.temperature.as_ref();
                Event::Pitched {
                    volume_l: some(index, in_litres(pitched.volume.value()), "L")?,
                    sight: sight(&pitched.shown, pitched.instrument, temperature),
                }
            }
            LogEvent::Reading(reading) => {
                let temperature = reading.temperature.as_ref();
                Event::Reading(sight(&reading.shown, reading.instrument, temperature))
            }
            LogEvent::Drawn(drawn) => Event::Drawn {
                volume_l: some(index, in_litres(drawn.volume.value()), "L")?,
                as_pitched: day.is_some() && day == pitched_day,
            },
            LogEvent::Added(Added { amount, ingredient }) => {
                let measure = measure(index, amount)?.ok_or_else(|| {
                    let name = ingredient.name.clone();
                    LogFault::new(index, Fault::AmountUnclear { name })
                })?;
                let line = Addition {
                    entry: index,
                    place: Place::log_entry(name, index),
                    ingredient,
                    measure,
                };
                let matter = line.matter(catalogue, assumptions, remarks)?;
                Event::Added { measure, matter }
            }
        };
        lines.push(Line { entry, event });
    }
    if !is_pitched {
        let last = log.entries.len().saturating_sub(1);
        return Err(LogFault::new(last, Fault::NothingPitched));
    }
    Ok(lines)
}

pub(super) fn days(time: &Written<Time>) -> f64 {
    in_minutes(time.value()) / 1440.0
}

pub(super) fn sight(
    shown: &Written<Extract>,
    instrument: Instrument,
    temperature: Option<&Written<Temperature>>,
) -> Sight {
    Sight {
        shown_plato: shown.value().plato(),
        instrument,
        celsius: temperature.map_or(SCALE_C, |t| t.value().celsius()),
        off_plato: 0.0,
    }
}

/// An amount that is none cannot be taken out or put in.
fn some(entry: usize, amount: f64, unit: &str) -> Result<f64, LogFault> {
    if (0.0..=MOST).contains(&amount) {
        return Ok(amount);
    }
    let message = format!(
        "expected an amount from 0 to {MOST:e} {unit}, found {} {unit}",
        shortest(amount, 3)
    );
    Err(LogFault::new(
        entry,
        Fault::Figure {
            message,
            help: None,
        },
    ))
}

fn measure(entry: usize, amount: &Amount) -> Result<Option<Measure>, LogFault> {
    let litres = |volume| some(entry, in_litres(volume), "L");
    let kilograms = |mass| some(entry, in_kilograms(mass), "kg");
    Ok(Some(match amount {
        Amount::Mass(mass) => Measure::MassKg(kilograms(mass.value())?),
        Amount::Volume(volume) => Measure::VolumeL(litres(volume.value())?),
        Amount::Concentration(dose) => Measure::KgPerLitre(dose.value().grams_per_litre() / 1000.0),
        Amount::Dose(dose) => Measure::LitrePerLitre(dose.value().fraction()),
        Amount::ShareByVolume(share) if share.value().fraction() < 1.0 => {
            Measure::ShareByVolume(share.value().fraction())
        }
        Amount::Packs(Packs { count, each }) => {
            let count = f64::from(*count);
            match each {
                PackSize::Mass(mass) => Measure::MassKg(count * kilograms(mass.value())?),
                PackSize::Volume(volume) => Measure::VolumeL(count * litres(volume.value())?),
            }
        }
        Amount::Share(_)
        | Amount::ShareByVolume(_)
        | Amount::Bitterness(_)
        | Amount::PackCount(_) => return Ok(None),
    }))
}

/// A line that says what was put in.
struct Addition<'a> {
    entry: usize,
    place: Place,
    ingredient: &'a Ingredient,
    measure: Measure,
}

impl Addition<'_> {
    fn matter(
        &self,
        catalogue: &Catalogue,
        assumptions: &mut Vec<Noted<Assumption>>,
        remarks: &mut Vec<Noted<Remark>>,
    ) -> Result<Matter, LogFault> {
        let ingredient = self.ingredient;
        let name = || ingredient.name.clone();
        if ingredient.is_grain() {
            return Err(LogFault::new(self.entry, Fault::NeedsMash { name: name() }));
        }
        let place = self.place.clone().part("what.added.ingredient");
        // The figures of a hop or a yeast say nothing of what it brings to the balance.
        let mut noted = Vec::new();
        let found = settle(ingredient, &place, catalogue, &mut noted)
            .map_err(|error| LogFault::of(self.entry, &error))?;
        if !matches!(found, Material::Hop { .. } | Material::Yeast(_)) {
            assumptions.append(&mut noted);
        }
        Ok(match found {
            Material::Fermentable(found) => {
                let fermentability = found.fermentability.unwrap_or_else(|| {
                    remarks.push(Noted::at(
                        place.field(Figure::Fermentability.field()),
                        Remark::FermentsWhollyAssumed { name: name() },
                    ));
                    1.0
                });
                Matter::Counted(Brings {
                    extract: found.extract.clamp(0.0, 1.0),
                    ethanol: 0.0,
                    fermentability,
                    pulp: found
                        .pulp
                        .map_or(0.0, |_| 1.0 - found.extract - found.water),
                    extract_spread: spread(ingredient, catalogue),
                })
            }
            Material::Beverage(drink) => Matter::Counted(Brings {
                extract: drink.per_kg.extract_kg,
                ethanol: drink.per_kg.ethanol_kg,
                fermentability: drink.fermentability,
                pulp: 0.0,
                extract_spread: 0.0,
            }),
            Material::Unknown if self.measure.is_volume() || self.is_fruit(catalogue) => {
                return Err(self.unknown(catalogue));
            }
            Material::Unknown => Matter::Unknown,
            _ if self.measure.is_volume() => {
                if !matches!(ingredient.kind, Kind::Salt | Kind::Acid) {
                    let place = self.place.clone().field("what.added.amount");
                    remarks.push(Noted::at(place, Remark::CountedAsWater { name: name() }));
                }
                Matter::Counted(Brings::WATER)
            }
            _ => Matter::Nothing,
        })
    }

    fn is_fruit(&self, catalogue: &Catalogue) -> bool {
        juice_of(&self.ingredient.name, catalogue).is_some()
    }

    fn unknown(&self, catalogue: &Catalogue) -> LogFault {
        let name = self.ingredient.name.clone();
        let help = what_to_write(&name, juice_of(&name, catalogue));
        LogFault::new(self.entry, Fault::BringsUnknown { name, help })
    }
}

/// One sigma of the extract of an addition, mass fraction.
fn spread(ingredient: &Ingredient, catalogue: &Catalogue) -> f64 {
    if ingredient.kind == Kind::Sugar {
        return SOLIDS;
    }
    if ingredient.facts.brix.is_some() {
        return STATED_BRIX;
    }
    let range = match catalogue.find(ingredient.catalogue_name()).map(|f| f.entry) {
        Some(EntryRef::Juice(juice)) => juice.extract_range,
        _ => None,
    };
    range.map_or(STATED_BRIX, |(low, high)| {
        (high.plato() - low.plato()) / 100.0 / RANGE
    })
}
