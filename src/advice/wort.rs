//! A wort that was measured before the boil, after it or in the fermenter, and the ways on from it.
//!
//! Where only its volume or its gravity was read and that is off, the other decides between ways that exclude one another (a short
//! volume may be strong, or may have lost its extract): it is measured before anything is added. What a reading cannot tell is not
//! corrected.

use super::action::Action;
use super::advised::AdvisedAction;
use super::day::{Day, Measured, Poured, crossing, figures, run_off, with_poured};
use super::doubt::{ReadOf, VOLUME_READ};
use super::reading::{Halves, WortRead};
use super::room::{check_extract, fits, room_for};
use super::to_measure::ToMeasure;
use crate::diagnostic::Error;
use crate::ledger::Remark;
use crate::process::{Brewed, PredictedFigure, Stage, Warning};
use crate::quantity::{in_litres, kilograms, litres, minutes};
use crate::science::density::WATER_KG_PER_L;
use crate::science::liquid::Liquid;
use crate::speech::Noted;

/// Nobody boils on for longer than this beyond the plan, minutes (common practice, no source).
const MORE_BOIL_MIN: f64 = 60.0;
/// A mash that gives so much less extract than planned may not be converted: twice row "mash yield, own plant" of
/// `tests/reference/uncertainty.csv` (from memory).
const UNCONVERTED: f64 = 0.05;
/// More water or extract than the wort itself weighs so many times is no advice.
const MOST_TIMES: f64 = 5.0;

/// What is told beside the ways on.
pub(super) struct Told<'a> {
    pub(super) warnings: &'a mut Vec<Noted<Warning>>,
    pub(super) remarks: &'a mut Vec<Noted<Remark>>,
}

/// A measured wort in its place.
#[derive(Clone, Copy)]
struct Standing<'a> {
    day: Day<'a>,
    at: Measured,
    read: WortRead,
    wort: Liquid,
}

pub(super) fn wort_ways(
    day: Day<'_>,
    at: Measured,
    read: WortRead,
    told: &mut Told<'_>,
) -> Result<Vec<AdvisedAction>, Error> {
    let wort = Liquid::wort(read.volume, read.extract)?;
    let as_mashed = match at {
        Measured::BeforeBoil => day.run_off_as_mashed(wort),
        Measured::AfterBoil | Measured::InFermenter => wort,
    };
    check_extract(day, &as_mashed, at)?;
    let standing = Standing {
        day,
        at,
        read,
        wort,
    };
    let go_on = standing.way(Action::GoOn, &standing.given(Poured::default()));
    let first = |what: Vec<ToMeasure>| {
        let predicted = go_on.predicted.clone();
        AdvisedAction::new(Action::MeasureFirst { what }, predicted)
    };
    if !fits(day, &wort, at, told.warnings) {
        let mut what = vec![ToMeasure::Volume];
        what.extend((read.halves == Halves::Volume).then_some(ToMeasure::Gravity));
        return Ok(vec![first(what), go_on]);
    }
    let missing = match read.halves {
        Halves::Both => None,
        Halves::Volume => {
            let off_l = in_litres(read.volume) - standing.planned().volume_l();
            let within = standing.volume_within_l();
            (off_l.abs() > within).then_some(vec![ToMeasure::Gravity])
        }
        Halves::Gravity => {
            let off_plato = read.extract.plato() - 100.0 * standing.planned().strength();
            let is_off = off_plato.abs() > standing.gravity_within_plato();
            let low = is_off && at == Measured::BeforeBoil && off_plato < 0.0;
            let stirred = low.then_some(ToMeasure::StirredSample);
            is_off.then(|| stirred.into_iter().chain([ToMeasure::Volume]).collect())
        }
    };
    if let Some(what) = missing {
        return Ok(vec![first(what), go_on]);
    }
    if read.halves != Halves::Both {
        told.remarks.extend(standing.within());
        return Ok(vec![go_on]);
    }
    let mut actions = vec![go_on.clone()];
    standing.corrections(&mut actions, told.warnings);
    let what = standing.free_checks();
    if !what.is_empty() {
        actions.insert(0, first(what));
    } else if actions.len() == 1 {
        told.remarks.extend(standing.within());
    }
    Ok(actions)
}

impl Standing<'_> {
    fn planned(self) -> Liquid {
        self.day.planned_wort(self.at)
    }

    /// The brew that the wort gives with something in it.
    fn given(self, poured: Poured) -> Brewed {
        match self.at {
            Measured::BeforeBoil => self.boiled_for(self.day.boil_min(), poured),
            Measured::AfterBoil => self.day.given_boiled(self.wort, poured),
            Measured::InFermenter => self.day.given_wort(self.wort, poured),
        }
    }

    fn boiled_for(self, boil_min: f64, poured: Poured) -> Brewed {
        let mut run = run_off(self.wort);
        run.wort = self.day.run_off_as_mashed(self.wort);
        self.day.given_run_off(with_poured(&run, poured), boil_min)
    }

    fn way(self, action: Action, brewed: &Brewed) -> AdvisedAction {
        let way = AdvisedAction::new(action, figures(brewed));
        let way = way.beside(&figures(self.day.planned()));
        if self.at == Measured::BeforeBoil {
            way.before_hops()
        } else {
            way
        }
    }

    /// Strength of the wort into the fermenter beyond the planned one, mass fraction.
    fn beyond(self, brewed: &Brewed) -> f64 {
        match self.at {
            Measured::BeforeBoil => brewed.boiled.wort.strength() - self.day.planned_strength(),
            Measured::AfterBoil | Measured::InFermenter => {
                let planned = self.day.planned().pitched.liquid;
                brewed.pitched.liquid.strength() - planned.strength()
            }
        }
    }

    /// How far the volume may lie from the plan with nothing to correct, L.
    fn volume_within_l(self) -> f64 {
        let noise_l = VOLUME_READ * self.planned().volume_l();
        let of = match self.at {
            Measured::BeforeBoil => ReadOf::PreBoilVolume,
            _ => ReadOf::Figure(PredictedFigure::Batch),
        };
        self.day.readable(of, noise_l)
    }

    /// The same of the gravity, °P.
    fn gravity_within_plato(self) -> f64 {
        let of = match self.at {
            Measured::BeforeBoil => ReadOf::PreBoilGravity,
            _ => ReadOf::Figure(PredictedFigure::Original),
        };
        self.day.readable(of, self.read.noise_plato)
    }

    /// What is told of a reading with nothing to correct.
    fn within(self) -> Option<Noted<Remark>> {
        let (figure, within, off) = match self.read.halves {
            Halves::Volume => {
                let off_l = in_litres(self.read.volume) - self.planned().volume_l();
                (PredictedFigure::Batch, self.volume_within_l(), off_l)
            }
            Halves::Both | Halves::Gravity => {
                let off_plato = self.read.extract.plato() - 100.0 * self.planned().strength();
                let within = self.gravity_within_plato();
                (PredictedFigure::Original, within, off_plato)
            }
        };
        let read = match self.read.halves {
            Halves::Volume => in_litres(self.read.volume),
            Halves::Both | Halves::Gravity => self.read.extract.plato(),
        };
        Remark::within(figure, read, within, off)
    }

    /// What costs nothing, where the wort before the boil is weak.
    fn free_checks(self) -> Vec<ToMeasure> {
        let planned = self.planned();
        let off_plato = 100.0 * (self.wort.strength() - planned.strength());
        if self.at != Measured::BeforeBoil || -off_plato <= self.gravity_within_plato() {
            return Vec::new();
        }
        let mut items = self.day.formula().items.values();
        let is_mashed = items.any(|item| item.place.stage == Stage::Mash);
        let lacks = 1.0 - self.wort.extract_kg / planned.extract_kg.max(f64::MIN_POSITIVE);
        let starch = (is_mashed && lacks > UNCONVERTED).then_some(ToMeasure::Starch);
        [ToMeasure::StirredSample]
            .into_iter()
            .chain(starch)
            .collect()
    }

    /// Ways back to the planned strength and volume.
    fn corrections(self, actions: &mut Vec<AdvisedAction>, warnings: &mut Vec<Noted<Warning>>) {
        let as_it_is = self.given(Poured::default());
        let beyond = self.beyond(&as_it_is);
        // What the reading's noise comes to at the end of the boil.
        let concentrated = as_it_is.boiled.wort.strength() / self.wort.strength().max(1e-9);
        let noise_plato = concentrated * self.read.noise_plato;
        let original = ReadOf::Figure(PredictedFigure::Original);
        let is_off = 100.0 * beyond.abs() > self.day.readable(original, noise_plato);
        if is_off && self.at == Measured::BeforeBoil {
            self.boil_on(actions);
        }
        let mut pour = |dose: &dyn Fn(f64) -> Poured, kg: f64| {
            let dose = dose(kg);
            let share = room_for(self.day, &self.wort, dose.liquid, self.at, warnings);
            (kg * share > 0.0).then(|| (kg * share, self.given(dose.part(share))))
        };
        let cold = self.at == Measured::InFermenter;
        if is_off && beyond > 0.0 {
            let poured = self.closing(&Poured::water);
            if let Some((kg, brewed)) = poured.and_then(|kg| pour(&Poured::water, kg)) {
                actions.push(self.add_water(kg, cold, &brewed));
            }
        }
        let planned_l = self.planned().volume_l();
        if cold && planned_l - in_litres(self.read.volume) > self.volume_within_l() {
            let kg = self.wort.water_to_fill_kg(planned_l);
            if let Some((kg, brewed)) = pour(&Poured::water, kg) {
                actions.push(self.add_water(kg, cold, &brewed));
            }
        }
        if is_off && beyond < 0.0 {
            let poured = self.closing(&Poured::dried_extract);
            if let Some((kg, brewed)) = poured.and_then(|kg| pour(&Poured::dried_extract, kg)) {
                let mass = kilograms(kg);
                actions.push(self.way(Action::AddDriedExtract { mass, cold }, &brewed));
            }
        }
    }

    fn add_water(self, kg: f64, cold: bool, brewed: &Brewed) -> AdvisedAction {
        let water = litres(kg / WATER_KG_PER_L);
        self.way(Action::AddWater { water, cold }, brewed)
    }

    /// Kilograms of a dose that bring the planned strength.
    fn closing(self, dose: &dyn Fn(f64) -> Poured) -> Option<f64> {
        let most_kg = MOST_TIMES * self.wort.mass_kg();
        crossing(most_kg, |kg| self.beyond(&self.given(dose(kg))))
    }

    fn boil_on(self, actions: &mut Vec<AdvisedAction>) {
        let boiled = |boil_min| self.boiled_for(boil_min, Poured::default());
        let longest_min = self.day.boil_min() + MORE_BOIL_MIN;
        let boil_min = crossing(longest_min, |boil_min| self.beyond(&boiled(boil_min)));
        if let Some(boil_min) = boil_min.filter(|boil_min| *boil_min >= self.day.least_boil_min()) {
            let time = minutes(boil_min);
            actions.push(self.way(Action::BoilFor { time }, &boiled(boil_min)));
        }
    }
}
