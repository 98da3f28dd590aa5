//! The figures of a plant that a prediction rests on and a brewer can learn: how well each is known, and the plant with another.
//!
//! All are one sigma. The rows named are those of `tests/reference/uncertainty.csv`. The sparge's mixing and the tun's loss are
//! no figures of their own here: no reading tells them from the absorption, whose spread holds theirs.

use crate::process::plant::{Boiloff, Holdback, KnownYield, Lautering, Loss, Plant};
use crate::recipe::{Brewhouse, Lauter};

/// Row "absorption of grain, own plant", L/kg (from memory).
const ABSORPTION_OWN: f64 = 0.05;
/// Row "absorption of grain, assumed", L/kg (brewers quote 0.57 to 1.67; partly seen).
const ABSORPTION_ASSUMED: f64 = 0.15;
/// Row "mash yield, own plant", a part of it (from memory).
const YIELD_OWN: f64 = 0.025;
/// A yield that no line states, a part of it: trade glossaries give 92 to 98 %, as four sigma 1.5 %, beside the row above.
const YIELD_ASSUMED: f64 = 0.03;
/// A conversion that no line states, a part of it (common practice, no source): small plants spread wider.
const CONVERSION_ASSUMED: f64 = 0.05;
/// Row "boil-off, own kettle measured", a part of it (common practice, from memory).
const BOIL_OFF_OWN: f64 = 0.07;
/// Row "boil-off, assumed", a part of it (common practice, from memory).
const BOIL_OFF_ASSUMED: f64 = 0.25;
/// Row "kettle and fermenter loss", 0.5 L of 20 L, stated or assumed (from memory).
const LOSS_SHARE: f64 = 0.5 / 20.0;

/// A figure of a plant that is not known exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum PlantFigure {
    /// What the grain holds back, L/kg: apparent absorption or wort retained, as the plant counts it.
    Absorption,
    /// Share of the laboratory extract that dissolves, a fraction; where no yield overrides it.
    Conversion,
    /// The yield that overrides the lautering, a fraction.
    ExtractYield,
    /// L/h, or a share of the pre-boil volume an hour, as the plant counts it.
    Evaporation,
    /// Litres, or a share of the wort, as the plant counts it.
    KettleLoss,
    /// Litres, or a share of the beer, as the plant counts it.
    FermenterLoss,
}

/// How a figure moves from brew to brew on one plant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum DayEffect {
    /// By so much, in the figure's own unit.
    Absolute(f64),
    /// By such a part of it.
    Relative(f64),
}

impl DayEffect {
    /// In the unit of a figure of this size.
    pub(crate) fn of(self, value: f64) -> f64 {
        match self {
            Self::Absolute(sigma) => sigma,
            Self::Relative(part) => part * value.abs(),
        }
    }
}

impl PlantFigure {
    /// All of them, in the order of the day.
    pub(crate) const ALL: [Self; 6] = [
        Self::Absorption,
        Self::Conversion,
        Self::ExtractYield,
        Self::Evaporation,
        Self::KettleLoss,
        Self::FermenterLoss,
    ];

    /// The words with which a plant's line states it.
    pub(crate) const fn keyword(self, plant: &Plant) -> &'static str {
        match (self, plant.holdback) {
            (Self::Absorption, Holdback::Retained(_)) => "retention",
            (Self::Absorption, Holdback::Apparent(_)) => "absorption",
            (Self::Conversion, _) => "conversion",
            (Self::ExtractYield, _) => "extract yield",
            (Self::Evaporation, _) => "evaporation",
            (Self::KettleLoss, _) => "kettle loss",
            (Self::FermenterLoss, _) => "fermenter loss",
        }
    }

    /// Its value in the plant; none where the plant does not rest on it.
    pub(crate) fn of(self, plant: &Plant) -> Option<f64> {
        let mashes = plant.lautering != Lautering::NoMash;
        match self {
            Self::Absorption => match plant.holdback {
                Holdback::Apparent(held) | Holdback::Retained(held) => mashes.then_some(held),
            },
            Self::Conversion => (mashes && plant.known_yield.is_none()).then_some(plant.conversion),
            Self::ExtractYield => plant
                .known_yield
                .filter(|_| mashes)
                .map(|known| known.value),
            Self::Evaporation => match plant.boiloff {
                Boiloff::LitresPerHour(rate) | Boiloff::SharePerHour(rate) => Some(rate),
            },
            Self::KettleLoss => Some(lost(plant.kettle_loss)),
            Self::FermenterLoss => Some(lost(plant.fermenter_loss)),
        }
    }

    /// The plant with another value of it, in the unit of [`PlantFigure::of`].
    #[must_use]
    pub(crate) fn with(self, plant: &Plant, value: f64) -> Plant {
        let mut plant = plant.clone();
        match self {
            Self::Absorption => {
                plant.holdback = match plant.holdback {
                    Holdback::Apparent(_) => Holdback::Apparent(value),
                    Holdback::Retained(_) => Holdback::Retained(value),
                }
            }
            Self::Conversion => plant.conversion = value,
            Self::ExtractYield => {
                plant.known_yield = plant.known_yield.map(|known| KnownYield { value, ..known });
            }
            Self::Evaporation => {
                plant.boiloff = match plant.boiloff {
                    Boiloff::LitresPerHour(_) => Boiloff::LitresPerHour(value),
                    Boiloff::SharePerHour(_) => Boiloff::SharePerHour(value),
                }
            }
            Self::KettleLoss => plant.kettle_loss = other_loss(plant.kettle_loss, value),
            Self::FermenterLoss => plant.fermenter_loss = other_loss(plant.fermenter_loss, value),
        }
        plant
    }

    /// Whether a line of the plant states it. No plant states nothing.
    pub(crate) fn is_stated(self, brewhouse: Option<&Brewhouse>) -> bool {
        brewhouse.is_some_and(|plant| match self {
            Self::Absorption => plant.absorption.is_some() || plant.retention.is_some(),
            Self::Conversion => plant.conversion.is_some(),
            Self::ExtractYield => {
                let reached = match &plant.lauter {
                    Some(Lauter::Continuous(tun)) => tun.reached.is_some(),
                    _ => false,
                };
                reached || plant.extract_yield.is_some()
            }
            Self::Evaporation => plant.evaporation.is_some(),
            Self::KettleLoss => plant.kettle_loss.is_some(),
            Self::FermenterLoss => plant.fermenter_loss.is_some(),
        })
    }

    /// One sigma of it, in the unit of [`PlantFigure::of`], stated by a line or assumed. `batch_l` is what the losses are counted by
    /// where they are litres.
    pub(crate) fn sigma(self, plant: &Plant, is_stated: bool, batch_l: f64) -> f64 {
        let value = self.of(plant).unwrap_or_default();
        let known = |own: f64, assumed: f64| if is_stated { own } else { assumed };
        match self {
            Self::Absorption => known(ABSORPTION_OWN, ABSORPTION_ASSUMED),
            Self::Conversion => value * known(YIELD_OWN, CONVERSION_ASSUMED),
            Self::ExtractYield => value * known(YIELD_OWN, YIELD_ASSUMED),
            Self::Evaporation => value * known(BOIL_OFF_OWN, BOIL_OFF_ASSUMED),
            Self::KettleLoss => loss_sigma(plant.kettle_loss, batch_l),
            Self::FermenterLoss => loss_sigma(plant.fermenter_loss, batch_l),
        }
    }

    /// One sigma from brew to brew, however well the plant is known. `batch_l` is what the losses are counted by where they are litres.
    pub(crate) fn day_effect(self, plant: &Plant, batch_l: f64) -> DayEffect {
        match self {
            Self::Absorption => DayEffect::Absolute(ABSORPTION_OWN),
            Self::Conversion | Self::ExtractYield => DayEffect::Relative(YIELD_OWN),
            Self::Evaporation => DayEffect::Relative(BOIL_OFF_OWN),
            Self::KettleLoss => DayEffect::Absolute(loss_sigma(plant.kettle_loss, batch_l)),
            Self::FermenterLoss => DayEffect::Absolute(loss_sigma(plant.fermenter_loss, batch_l)),
        }
    }
}

const fn lost(loss: Loss) -> f64 {
    match loss {
        Loss::Litres(lost) | Loss::Share(lost) => lost,
    }
}

const fn other_loss(loss: Loss, value: f64) -> Loss {
    match loss {
        Loss::Litres(_) => Loss::Litres(value),
        Loss::Share(_) => Loss::Share(value),
    }
}

fn loss_sigma(loss: Loss, batch_l: f64) -> f64 {
    match loss {
        Loss::Litres(_) => LOSS_SHARE * batch_l,
        Loss::Share(_) => LOSS_SHARE,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::process::{PrintedWater, Side};

    fn row(quantity: &str) -> (f64, String) {
        let text = include_str!("../../../tests/reference/uncertainty.csv");
        let line = text
            .lines()
            .find(|line| line.split(';').nth(1) == Some(quantity));
        let cells: Vec<&str> = line.unwrap().split(';').collect();
        (cells[4].parse().unwrap(), cells[2].to_owned())
    }

    #[test]
    fn constants_are_those_of_the_table() {
        let check = |quantity, unit: &str, ours: f64| {
            let (sigma, counted_in) = row(quantity);
            assert_eq!(counted_in, unit, "{quantity}");
            let ours = if unit == "% relative" {
                100.0 * ours
            } else {
                ours
            };
            assert!((ours - sigma).abs() < 1e-12, "{quantity}: {ours}, {sigma}");
        };
        check("absorption of grain, own plant", "L/kg", ABSORPTION_OWN);
        check("absorption of grain, assumed", "L/kg", ABSORPTION_ASSUMED);
        check("mash yield, own plant", "% relative", YIELD_OWN);
        check("boil-off, own kettle measured", "% relative", BOIL_OFF_OWN);
        check("boil-off, assumed", "% relative", BOIL_OFF_ASSUMED);
        check("kettle and fermenter loss", "L", 20.0 * LOSS_SHARE);
    }

    fn plant(change: impl FnOnce(&mut Brewhouse)) -> (Plant, Brewhouse) {
        let mut brewhouse = Brewhouse::new("here");
        change(&mut brewhouse);
        let printed = PrintedWater::default();
        let plant = Plant::settle(
            &brewhouse,
            Side::Target,
            Some(20.0),
            printed,
            &mut Vec::new(),
        );
        (plant, brewhouse)
    }

    #[test]
    fn a_stated_figure_is_known_better() {
        let (plant, stated) = plant(|plant| {
            plant.absorption = Some("0.7 L/kg".parse().unwrap());
        });
        let absorption = PlantFigure::Absorption;
        assert_eq!(absorption.of(&plant), Some(0.7));
        assert!(absorption.is_stated(Some(&stated)));
        assert!(!PlantFigure::Evaporation.is_stated(Some(&stated)));
        assert!((absorption.sigma(&plant, true, 20.0) - 0.05).abs() < 1e-12);
        assert!((absorption.sigma(&plant, false, 20.0) - 0.15).abs() < 1e-12);
        // 12 % an hour by default, a quarter of it unknown; a fermenter loss of 3 % of the beer ± 2.5 points.
        let evaporation = PlantFigure::Evaporation.sigma(&plant, false, 20.0);
        assert!((evaporation - 0.03).abs() < 1e-12, "{evaporation}");
        let lost = PlantFigure::FermenterLoss.sigma(&plant, false, 20.0);
        assert!((lost - 0.025).abs() < 1e-12);
        // A small kettle's loss is litres: 0.5 of 20.
        let lost_l = PlantFigure::KettleLoss.sigma(&plant, false, 20.0);
        assert!((lost_l - 0.5).abs() < 1e-12);
    }

    #[test]
    fn each_figure_is_set_as_it_is_read() {
        let (by_mash, _) = plant(|_| {});
        let (by_yield, _) = plant(|plant| {
            plant.retention = Some("1.1 L/kg".parse().unwrap());
            plant.evaporation = Some(crate::recipe::Evaporation::Rate("3 L/h".parse().unwrap()));
            plant.kettle_loss = Some("1 L".parse().unwrap());
            plant.lauter = Some(Lauter::Continuous(
                crate::recipe::ContinuousSparge::default(),
            ));
        });
        let mut met = 0;
        for plant in [&by_mash, &by_yield] {
            for figure in PlantFigure::ALL {
                let Some(value) = figure.of(plant) else {
                    continue;
                };
                met += 1;
                let bent = figure.with(plant, value + 0.01);
                assert_ne!(bent, *plant, "{figure:?}");
                assert_eq!(figure.of(&bent), Some(value + 0.01), "{figure:?}");
                assert_eq!(figure.with(&bent, value), *plant, "{figure:?}");
            }
        }
        // A yield leaves the conversion nothing to say, and a mash that is balanced has no yield.
        assert_eq!(met, 10);
        assert_eq!(PlantFigure::Absorption.keyword(&by_mash), "absorption");
        assert_eq!(PlantFigure::Absorption.keyword(&by_yield), "retention");
    }

    #[test]
    fn days_differ_by_so_much_on_one_plant() {
        let (plant, _) = plant(|_| {});
        let by = |figure: PlantFigure| figure.day_effect(&plant, 40.0).of(2.0);
        assert_eq!(by(PlantFigure::Absorption), 0.05);
        assert_eq!(by(PlantFigure::ExtractYield), 0.05);
        assert_eq!(by(PlantFigure::Evaporation), 0.14);
        // Half a litre of 20.
        assert_eq!(by(PlantFigure::KettleLoss), 1.0);
    }
}
