//! A plant with every figure that the forward model needs, settled.

mod lines;
mod printed_water;

pub(crate) use lines::drains_a_bag;
pub(crate) use printed_water::PrintedWater;

use crate::diagnostic::{Error, ErrorKind, Place};
use crate::process::side::Side;
use crate::quantity::{Temperature, in_litres, metres};
use crate::recipe::{
    Batch, BatchPoint, BitternessModel, CoolingMethod, Heating, YieldBasis, YieldPoint,
};
use crate::science::boiling;
use crate::science::heat::schedule::GRAIN_ROOM_L_PER_KG;
use crate::speech::shortest;
use std::sync::Arc;

/// Boiling point taken where the altitude lies outside the standard atmosphere's range, °C (sea level, IAPWS-IF97).
const SEA_LEVEL_BOIL_C: f64 = 99.97;
/// A boil that drives off more than this share has no wort left to speak of (rule of the crate).
const MOST_BOILED_OFF: f64 = 0.98;
/// Cold water in a litre of a mash as hot as mashes are raised, 80 °C (Kell 1975: 0.9718 against 0.9982 kg/L).
const HOT: f64 = 0.9736;

/// How the wort leaves the grain, settled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Lautering {
    Bag { sparge_l: f64 },
    Batch { sparges: u32 },
    Continuous,
    NoMash,
}

impl Lautering {
    /// Whether water is stirred into the drained grain.
    fn is_sparged(self) -> bool {
        match self {
            Self::Bag { sparge_l } => sparge_l > 0.0,
            Self::Batch { sparges } => sparges > 0,
            Self::Continuous | Self::NoMash => false,
        }
    }
}

/// What the grain holds back, settled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Holdback {
    /// Litres of water in less first wort out, per kilogram.
    Apparent(f64),
    /// Litres of wort retained, per kilogram.
    Retained(f64),
}

/// A yield that overrides the lautering.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct KnownYield {
    pub(crate) value: f64,
    pub(crate) of: YieldBasis,
    pub(crate) at: YieldPoint,
}

/// How much is brewed, and where that is counted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct BatchSize {
    pub(crate) l: f64,
    pub(crate) at: BatchPoint,
}

impl BatchSize {
    pub(crate) fn of(batch: &Batch) -> Self {
        Self {
            l: in_litres(batch.volume.value()),
            at: batch.at,
        }
    }
}

/// Litres lost, or a share of what is there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Loss {
    Litres(f64),
    Share(f64),
}

impl Loss {
    /// What is left of `volume_l`.
    pub(crate) fn after(self, volume_l: f64) -> f64 {
        match self {
            Self::Litres(lost) => (volume_l - lost).max(0.0),
            Self::Share(share) => volume_l * (1.0 - share),
        }
    }

    /// What there was before, when `left_l` is left.
    pub(crate) fn before(self, left_l: f64) -> f64 {
        match self {
            Self::Litres(lost) => left_l + lost,
            Self::Share(share) => left_l / (1.0 - share),
        }
    }
}

/// What a boil drives off, settled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Boiloff {
    LitresPerHour(f64),
    SharePerHour(f64),
}

impl Boiloff {
    /// Litres of cold water driven off from `pre_boil_l` in `boil_min`.
    pub(crate) fn litres(self, pre_boil_l: f64, boil_min: f64) -> f64 {
        let hours = boil_min / 60.0;
        match self {
            Self::LitresPerHour(rate) => rate * hours,
            Self::SharePerHour(share) => share * hours * pre_boil_l,
        }
    }

    /// Litres driven off for each litre more before the boil.
    pub(crate) fn share(self, boil_min: f64) -> f64 {
        match self {
            Self::LitresPerHour(_) => 0.0,
            Self::SharePerHour(share) => share * boil_min / 60.0,
        }
    }
}

/// A plant with every figure that the forward model needs.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Plant {
    pub(crate) name: Arc<str>,
    pub(crate) side: Side,
    pub(crate) batch: Option<BatchSize>,
    pub(crate) kettle_l: Option<f64>,
    pub(crate) mash_tun_l: Option<f64>,
    pub(crate) fermenter_l: Option<f64>,
    pub(crate) lautering: Lautering,
    pub(crate) holdback: Holdback,
    pub(crate) liquor_l_per_kg: f64,
    /// What of it is mashed with where the tun holds no more; the same where a line states it.
    pub(crate) least_liquor_l_per_kg: f64,
    /// Sparge water that the sheet brewed here prints, where nothing says how thick the mash is.
    pub(crate) printed_sparge_l: Option<f64>,
    pub(crate) mixing: f64,
    pub(crate) conversion: f64,
    pub(crate) known_yield: Option<KnownYield>,
    /// Whether that is its own, and not what plants like it have.
    pub(crate) states_yield: bool,
    pub(crate) boiloff: Boiloff,
    /// Whether that is its own, and not what plants like it have.
    pub(crate) states_boiloff: bool,
    pub(crate) tun_loss_l: f64,
    pub(crate) kettle_loss: Loss,
    /// Whether that loss holds trub and the usual hops: one that is stated, one of a large plant, and that within a yield that is
    /// counted in the fermenter.
    pub(crate) loss_holds_trub: bool,
    pub(crate) fermenter_loss: Loss,
    pub(crate) altitude_m: f64,
    pub(crate) bitterness: BitternessModel,
    /// How the mash is raised from a rest to the next.
    pub(crate) heating: Heating,
    /// The stated power of its heater, kW.
    pub(crate) heater_kw: Option<f64>,
    /// What of the stated power warms mash and wort that are heated directly, kW.
    pub(crate) heat_kw: Option<f64>,
    /// Hot stand that the plant always has.
    pub(crate) stand_min: Option<f64>,
    pub(crate) cooling: CoolingOf,
}

/// The way to pitching temperature, settled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct CoolingOf {
    pub(crate) method: CoolingMethod,
    pub(crate) to_c: f64,
    pub(crate) time_min: f64,
    pub(crate) coolant_c: f64,
}

impl Plant {
    /// Capacity of the vessel that holds the mash; unknown is unlimited.
    pub(crate) fn mash_vessel_l(&self) -> Option<f64> {
        match self.lautering {
            Lautering::Bag { .. } => self.mash_tun_l.or(self.kettle_l),
            _ => self.mash_tun_l,
        }
    }

    /// Whether a boil of `boil_min` and the losses leave anything of a batch.
    pub(crate) fn check(&self, batch: BatchSize, boil_min: f64) -> Result<(), Error> {
        let boiled_off = self.boiloff.share(boil_min);
        if boiled_off > MOST_BOILED_OFF {
            return Err(Error::new(
                ErrorKind::Contradiction,
                format!(
                    "a boil of {} min evaporates {} % of the kettle of `{}`",
                    shortest(boil_min, 0),
                    shortest(100.0 * boiled_off, 0),
                    self.name
                ),
            )
            .with_help("shorten the boil, or state the evaporation in litres per hour")
            .about(Place::plant(&self.name, "evaporation")));
        }
        if batch.at == BatchPoint::EndOfBoil && self.fermenter_l_of(batch.l, 0.0) <= 0.0 {
            return Err(Error::new(
                ErrorKind::Contradiction,
                format!(
                    "the kettle loss of `{}` is as large as its {} L at the end of the boil",
                    self.name,
                    shortest(batch.l, 1)
                ),
            )
            .with_help("make the batch larger, or the kettle loss smaller")
            .about(Place::plant(&self.name, "kettle_loss_l")));
        }
        Ok(())
    }

    /// Wort into the fermenter when the kettle holds `post_boil_l` of cold wort, of which trub and hops keep `kept_l` beyond the
    /// plant's own loss.
    pub(crate) fn fermenter_l_of(&self, post_boil_l: f64, kept_l: f64) -> f64 {
        (self.kettle_loss.after(post_boil_l) - kept_l).max(0.0)
    }

    /// Water that `grist_kg` is mashed with where it is mashed by a ratio: what infusions want beyond the least only as far as the tun holds it.
    pub(crate) fn mash_water_l(&self, grist_kg: f64) -> f64 {
        let least_l = self.least_liquor_l_per_kg * grist_kg;
        let room_l = self.mash_tun_l.map_or(f64::INFINITY, |tun_l| {
            (tun_l - GRAIN_ROOM_L_PER_KG * grist_kg) * HOT
        });
        (self.liquor_l_per_kg * grist_kg).min(room_l.max(least_l))
    }

    /// Cold wort in the kettle that gives `into_fermenter_l`.
    pub(crate) fn post_boil_l(&self, into_fermenter_l: f64, kept_l: f64) -> f64 {
        self.kettle_loss.before(into_fermenter_l + kept_l)
    }
}

/// Boiling point at the plant's altitude, °C.
pub(crate) fn boiling_c(plant: &Plant) -> f64 {
    boiling_at_c(plant.altitude_m)
}

fn boiling_at_c(altitude_m: f64) -> f64 {
    boiling::point_at(metres(altitude_m)).map_or(SEA_LEVEL_BOIL_C, Temperature::celsius)
}
