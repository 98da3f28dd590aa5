//! The plant's lines with what was learnt.

use super::learnt::{Learnt, LearntFigure, rounded};
use crate::notation::Document;
use crate::process::{Holdback, Plant, PlantFigure};
use crate::quantity::{
    Absorption, BrewhouseYield, Conversion, EvaporationRate, Quantity, Share, Unit, UnitSystem,
    Volume, Written,
};
use crate::recipe::{Brewhouse, Evaporation, Lauter, StatedYield};
use crate::speech::shortest;

/// The unit in which a plant's line states a figure, else the usual one of its system.
pub(super) fn unit(figure: PlantFigure, plant: &Plant, brewhouse: &Brewhouse) -> Unit {
    let (per_mass, volume) = match brewhouse.unit_system() {
        UnitSystem::Metric => (Unit::LitrePerKilogram, Unit::Litre),
        UnitSystem::Us => (Unit::QuartPerPound, Unit::Gallon),
        UnitSystem::Imperial => (Unit::ImperialQuartPerPound, Unit::ImperialGallon),
    };
    let lost = |stated: Option<Written<Volume>>| stated.map_or(volume, |stated| stated.unit());
    match figure {
        PlantFigure::Absorption => {
            let stated = match plant.holdback {
                Holdback::Retained(_) => brewhouse.retention,
                Holdback::Apparent(_) => brewhouse.absorption,
            };
            stated.map_or(per_mass, |stated| stated.unit())
        }
        PlantFigure::Conversion | PlantFigure::ExtractYield => Unit::Percent,
        PlantFigure::Evaporation => match &brewhouse.evaporation {
            Some(Evaporation::Rate(rate)) => rate.unit(),
            _ => Unit::Percent,
        },
        PlantFigure::KettleLoss => lost(brewhouse.kettle_loss),
        PlantFigure::FermenterLoss => lost(brewhouse.fermenter_loss),
    }
}

fn written<Q: Quantity>(number: f64, unit: Unit) -> Option<Written<Q>> {
    Written::new(number, unit).ok()
}

/// Writes a figure into the plant's lines.
pub(super) fn state(brewhouse: &mut Brewhouse, figure: PlantFigure, stated: (f64, Unit)) {
    let (number, unit) = stated;
    match figure {
        PlantFigure::Absorption => {
            let line: Option<Written<Absorption>> = written(number, unit);
            if brewhouse.retention.is_some() {
                brewhouse.retention = line.or(brewhouse.retention);
            } else {
                brewhouse.absorption = line.or(brewhouse.absorption);
            }
        }
        PlantFigure::Conversion => {
            let line: Option<Written<Conversion>> = written(number, unit);
            brewhouse.conversion = line.or(brewhouse.conversion);
        }
        PlantFigure::ExtractYield => {
            let Some(line) = written::<BrewhouseYield>(number, unit) else {
                return;
            };
            match (&mut brewhouse.extract_yield, &mut brewhouse.lauter) {
                (Some(stated), _) => stated.value = line,
                (None, Some(Lauter::Continuous(tun))) => tun.reached = Some(line),
                (stated, _) => *stated = Some(StatedYield::new(line)),
            }
        }
        PlantFigure::Evaporation => {
            let line = match unit {
                Unit::Percent => written::<Share>(number, unit).map(Evaporation::SharePerHour),
                _ => written::<EvaporationRate>(number, unit).map(Evaporation::Rate),
            };
            brewhouse.evaporation = line.or(brewhouse.evaporation.take());
        }
        PlantFigure::KettleLoss => {
            let line: Option<Written<Volume>> = written(number.max(0.0), unit);
            brewhouse.kettle_loss = line.or(brewhouse.kettle_loss);
        }
        PlantFigure::FermenterLoss => {
            let line: Option<Written<Volume>> = written(number.max(0.0), unit);
            brewhouse.fermenter_loss = line.or(brewhouse.fermenter_loss);
        }
    }
}

impl Learnt {
    /// The plant's lines to paste, each learnt one with its spread as a comment.
    #[must_use]
    pub fn lines(&self) -> String {
        let text = Document::from(&self.brewhouse).to_string();
        let with_spread = |line: &str| {
            let of_line = |figure: &&LearntFigure| {
                figure.stands_in_lines && line.trim_start().starts_with(&*figure.name)
            };
            match self.figures.iter().find(of_line) {
                Some(figure) => format!(
                    "{line}  # ± {} {}\n",
                    shortest(rounded(figure.one_sigma, figure.one_sigma), 4),
                    figure.unit
                ),
                None => format!("{line}\n"),
            }
        };
        text.lines().map(with_spread).collect()
    }
}
