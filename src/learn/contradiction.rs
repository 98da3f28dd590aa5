//! Days that no brewery can have had.

use super::day::{Day, Reading, VOLUME};
use super::day_figure::DayFigure;
use super::linear::MARKS;
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::process::{Bent, Boiloff, Lautering};
use crate::science::density::WATER_KG_PER_L;
use crate::science::liquid::Liquid;
use crate::speech::shortest;

/// Readings may lie so many sigma off what is possible before a day is refused (rule of the crate).
const SIGMAS: f64 = 3.0;
/// One sigma of a gravity beside that of its reading, a part of it: of the instrument (1 g/L of 40), and of the extract of a lot
/// (0.75 %), rows of `tests/reference/uncertainty.csv`.
const GRAVITY: f64 = 0.026;
/// The same for a mass of extract, as a part of it: of a volume (1.5 %, its marks 3 %), a gravity (2 %) and the extract of a lot
/// (0.75 %), rows of `tests/reference/uncertainty.csv`.
const EXTRACT: f64 = SIGMAS * 0.040;

impl Day<'_> {
    /// Refuses what contradicts the balance of mass beyond what readings may be off.
    pub(super) fn check(&self) -> Result<(), Error> {
        let poured_l = self.poured_l();
        self.shrinks(DayFigure::PreBoil, DayFigure::PostBoil, poured_l)?;
        self.shrinks(DayFigure::PostBoil, DayFigure::IntoFermenter, 0.0)?;
        if poured_l <= 0.0 {
            self.rises(DayFigure::PreBoilExtract, DayFigure::PostBoilExtract)?;
            self.rises(DayFigure::PreBoilExtract, DayFigure::Original)?;
        }
        self.rises(DayFigure::FinalExtract, DayFigure::Original)?;
        self.holds_its_extract()
    }

    fn readings_of(&self, figure: DayFigure) -> impl Iterator<Item = &Reading> {
        self.readings
            .iter()
            .filter(move |reading| reading.figure == figure)
    }

    /// What goes into the kettle beside the wort of the mash, L.
    fn poured_l(&self) -> f64 {
        let mut plant = self.prior.plant.clone();
        plant.boiloff = Boiloff::LitresPerHour(0.0);
        let mash_factor = self.prior.mash_factor;
        let worts = self.setup.worts(self.amounts, &Bent { plant, mash_factor });
        let poured_l = worts.after_boil.wort_volume_l() - worts.before_boil.wort_volume_l();
        // Less is the dust of a difference.
        if poured_l > 1e-6 { poured_l } else { 0.0 }
    }

    /// There is no more wort later than before.
    fn shrinks(&self, before: DayFigure, after: DayFigure, poured_l: f64) -> Result<(), Error> {
        for (before, after) in pairs(self, before, after) {
            let most_l = before.value + poured_l;
            // One vessel's marks are off alike.
            let marks = if before.tool == after.tool {
                0.0
            } else {
                MARKS
            };
            let room_l = SIGMAS * VOLUME.hypot(marks) * before.value.hypot(after.value);
            if after.value > most_l + room_l {
                return Err(self.refused(after, "at most", most_l, "L").with_help(
                    "check both volumes; write the temperature of hot wort, such as `after boil 20 L at 98 C`",
                ));
            }
        }
        Ok(())
    }

    /// The wort is no weaker later than before.
    fn rises(&self, before: DayFigure, after: DayFigure) -> Result<(), Error> {
        for (before, after) in pairs(self, before, after) {
            let room = SIGMAS * before.sigma.hypot(after.sigma);
            if after.value < before.value - room {
                return Err(self.refused(after, "at least", before.value, "°P").with_help(
                    "check both gravities; write the temperature of a warm sample, such as `at 10.6 P at 40 C`",
                ));
            }
        }
        Ok(())
    }

    /// No wort holds more extract than its grist and sugars.
    fn holds_its_extract(&self) -> Result<(), Error> {
        let most_kg = self.setup.most_extract_kg(self.amounts);
        for (volume, gravity) in [
            (DayFigure::PreBoil, DayFigure::PreBoilExtract),
            (DayFigure::PostBoil, DayFigure::PostBoilExtract),
            (DayFigure::IntoFermenter, DayFigure::Original),
        ] {
            for (volume, gravity) in pairs(self, volume, gravity) {
                let wort = Liquid::wort_of(volume.value, gravity.value / 100.0);
                if wort.extract_kg > most_kg * (1.0 + EXTRACT) {
                    let strongest = 100.0 * most_kg / wort.mass_kg();
                    return Err(self.refused(gravity, "at most", strongest, "°P").with_help(
                        "the malt and sugar of the plan do not hold more extract: check the volume, the gravity and the amounts",
                    ));
                }
            }
        }
        if self.prior.plant.lautering == Lautering::NoMash {
            return Ok(());
        }
        // Undiluted by sparge water, all of it dissolved.
        let water_kg = self.amounts.liquor.mash_l * WATER_KG_PER_L;
        let strongest = 100.0 * most_kg / (most_kg + water_kg).max(f64::MIN_POSITIVE);
        for figure in [DayFigure::FirstWortExtract, DayFigure::PreBoilExtract] {
            for reading in self.readings_of(figure) {
                let room = reading.sigma.hypot(GRAVITY * reading.value);
                if reading.value > strongest + SIGMAS * room {
                    return Err(self.refused(reading, "at most", strongest, "°P").with_help(
                        "the malt of the plan in its mash water does not give more: check the gravity and its unit",
                    ));
                }
            }
        }
        Ok(())
    }

    fn refused(&self, reading: &Reading, limit: &str, value: f64, unit: &str) -> Error {
        let name = match self.name.as_ref() {
            number if number.parse::<usize>().is_ok() => String::new(),
            name => format!("day `{name}`, "),
        };
        let message = format!(
            "{name}line {}: expected a {} of {limit} {} {unit}, found {} {unit}",
            reading.entry + 1,
            reading.figure.said(),
            shortest(value, 2),
            shortest(reading.value, 2),
        );
        let place = Place::log_entry(&self.name, reading.entry);
        Error::new(ErrorKind::Contradiction, message).about(place)
    }
}

/// Every reading of one figure with every one of another.
fn pairs<'d>(
    day: &'d Day<'_>,
    one: DayFigure,
    other: DayFigure,
) -> impl Iterator<Item = (&'d Reading, &'d Reading)> {
    day.readings_of(one)
        .flat_map(move |one| day.readings_of(other).map(move |other| (one, other)))
}
