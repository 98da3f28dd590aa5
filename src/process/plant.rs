//! A plant with every figure settled: what its lines state, else a default that is shown where it is used.

use super::assumption::Assumption;
use super::defaulted::Defaulted;
use super::hot_side::History;
use crate::diagnostic::{Error, ErrorKind};
use crate::quantity::{Written, in_litres};
use crate::recipe::{
    BatchPoint, BitternessModel, Brewhouse, CoolingMethod, Evaporation, Lauter, YieldBasis,
    YieldPoint,
};
use crate::wording::shortest;

/// Above this batch a plant is taken for a commercial one, 2 hL (common practice, no source).
const COMMERCIAL_FROM_L: f64 = 200.0;
/// Share of the laboratory extract that dissolves (common practice, no source).
const CONVERSION: f64 = 0.98;
/// Apparent absorption of a drained bag, L/kg (common practice, no source).
const BAG_ABSORPTION: f64 = 0.8;
/// Apparent absorption of a drained tun, L/kg (common practice, no source).
const TUN_ABSORPTION: f64 = 1.0;
/// Mash water of a tun, L/kg (common practice, no source).
const LIQUOR: f64 = 3.0;
/// Yield of a commercial brewhouse (common practice, no source; trade glossaries give 92-98 %).
const COMMERCIAL_YIELD: f64 = 0.95;
/// Evaporation of a commercial kettle, share of the pre-boil volume an hour (common practice, no source).
const COMMERCIAL_EVAPORATION: f64 = 0.05;
/// Evaporation of a small open kettle, share of the pre-boil volume an hour (common practice 10-15 %, no source).
const SMALL_EVAPORATION: f64 = 0.12;
/// Kettle loss and fermenter loss of a commercial plant, each a share of the volume (common practice, no source).
const COMMERCIAL_LOSS: f64 = 0.03;

/// A boil that drives off more than this share has no wort left to speak of (rule of the crate).
const MOST_BOILED_OFF: f64 = 0.98;
/// Cooling a commercial batch by plate, min (common practice, no source).
const PLATE_MIN: f64 = 50.0;
/// Cooling a small batch by coil, min (common practice, no source).
const COIL_MIN: f64 = 25.0;
/// Mains water, °C (common practice, no source).
const COOLANT_C: f64 = 15.0;
/// Cold wort, °C (common practice, no source).
const PITCHING_C: f64 = 20.0;
/// A sparge mixes with all of the wort in the grain (common practice, no source).
const MIXING: f64 = 1.0;

/// Which side of the job a plant stands on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// The plant that the printed figures speak for.
    Source,
    /// The plant that is to brew it now.
    Target,
}

/// The size of a plant, which decides between two sets of defaults.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum PlantSize {
    /// Up to 2 hL, or of unknown size.
    Small,
    /// Above 2 hL.
    Commercial,
}

impl PlantSize {
    /// The size of a plant that brews so much.
    pub(crate) fn of(batch_l: Option<f64>) -> Self {
        if batch_l.is_some_and(|l| l > COMMERCIAL_FROM_L) {
            Self::Commercial
        } else {
            Self::Small
        }
    }
}

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
    pub(crate) name: String,
    pub(crate) side: Side,
    pub(crate) batch: Option<(f64, BatchPoint)>,
    pub(crate) kettle_l: Option<f64>,
    pub(crate) mash_tun_l: Option<f64>,
    pub(crate) fermenter_l: Option<f64>,
    pub(crate) lautering: Lautering,
    pub(crate) holdback: Holdback,
    pub(crate) liquor_l_per_kg: f64,
    pub(crate) mixing: f64,
    pub(crate) conversion: f64,
    pub(crate) known_yield: Option<KnownYield>,
    pub(crate) boiloff: Boiloff,
    pub(crate) tun_loss_l: f64,
    pub(crate) kettle_loss: Loss,
    pub(crate) fermenter_loss: Loss,
    pub(crate) altitude_m: f64,
    pub(crate) bitterness: BitternessModel,
    /// Hot stand that the plant always has.
    pub(crate) stand_min: Option<f64>,
    pub(crate) cooling: CoolingOf,
    /// What follows the boil, once a formula is known.
    pub(crate) history: History,
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
    /// The plant that `brewhouse` describes. `batch_l` is the batch that decides between the defaults of a
    /// commercial and of a small plant. Each default that is taken is added to `assumptions`.
    pub(crate) fn settle(
        brewhouse: &Brewhouse,
        side: Side,
        batch_l: Option<f64>,
        assumptions: &mut Vec<Assumption>,
    ) -> Self {
        let mut defaults = Defaults { side, assumptions };
        let batch = brewhouse
            .batch
            .as_ref()
            .map(|b| (in_litres(b.volume.value()), b.at));
        let commercial = PlantSize::of(batch_l.or(batch.map(|b| b.0))) == PlantSize::Commercial;
        let (lautering, reached) = lautering(brewhouse, commercial, &mut defaults);
        let mashes = lautering != Lautering::NoMash;
        let known_yield = stated_yield(brewhouse).or(reached).or_else(|| {
            let needs_default = lautering == Lautering::Continuous;
            needs_default.then(|| KnownYield {
                value: defaults.take(Defaulted::ExtractYield, COMMERCIAL_YIELD),
                of: YieldBasis::LaboratoryExtract,
                at: YieldPoint::EndOfBoil,
            })
        });
        let small_bag = matches!(lautering, Lautering::Bag { .. });
        Self {
            name: brewhouse.name.clone(),
            side,
            batch,
            kettle_l: litres_of(brewhouse.kettle.as_ref()),
            mash_tun_l: litres_of(brewhouse.mash_tun.as_ref()),
            fermenter_l: litres_of(brewhouse.fermenter.as_ref()),
            lautering,
            holdback: holdback(brewhouse, small_bag, mashes, &mut defaults),
            liquor_l_per_kg: base(brewhouse.liquor.as_ref()).unwrap_or_else(|| {
                if mashes && !small_bag {
                    defaults.take(Defaulted::LiquorRatio, LIQUOR)
                } else {
                    LIQUOR
                }
            }),
            mixing: base(brewhouse.mixing.as_ref()).unwrap_or_else(|| {
                // A known yield leaves the mixing nothing to say.
                if known_yield.is_none() && lautering.is_sparged() {
                    defaults.take(Defaulted::SpargeMixing, MIXING)
                } else {
                    MIXING
                }
            }),
            conversion: base(brewhouse.conversion.as_ref()).unwrap_or_else(|| {
                if mashes && known_yield.is_none() {
                    defaults.take(Defaulted::Conversion, CONVERSION)
                } else {
                    CONVERSION
                }
            }),
            known_yield,
            boiloff: match &brewhouse.evaporation {
                Some(Evaporation::Rate(rate)) => {
                    Boiloff::LitresPerHour(rate.value().litres_per_hour())
                }
                Some(Evaporation::SharePerHour(share)) => {
                    Boiloff::SharePerHour(share.value().fraction())
                }
                None => Boiloff::SharePerHour(defaults.take(
                    Defaulted::Evaporation,
                    if commercial {
                        COMMERCIAL_EVAPORATION
                    } else {
                        SMALL_EVAPORATION
                    },
                )),
            },
            tun_loss_l: litres_of(brewhouse.tun_loss.as_ref()).unwrap_or(0.0),
            kettle_loss: loss(
                brewhouse.kettle_loss.as_ref(),
                commercial,
                Defaulted::KettleLoss,
                &mut defaults,
            ),
            fermenter_loss: loss(
                brewhouse.fermenter_loss.as_ref(),
                commercial,
                Defaulted::FermenterLoss,
                &mut defaults,
            ),
            altitude_m: base(brewhouse.altitude.as_ref()).unwrap_or(0.0),
            bitterness: brewhouse.bitterness.unwrap_or_default(),
            stand_min: base(brewhouse.stand.as_ref()),
            cooling: cooling(brewhouse, commercial, &mut defaults),
            history: History::default(),
        }
    }

    /// Whether a boil of `boil_min` and the losses leave anything of `batch_l` counted at `point`.
    pub(crate) fn check(
        &self,
        batch_l: f64,
        point: BatchPoint,
        boil_min: f64,
    ) -> Result<(), Error> {
        let boiled_off = self.boiloff.share(boil_min);
        if boiled_off > MOST_BOILED_OFF {
            return Err(Error::new(
                ErrorKind::Contradiction,
                format!(
                    "a boil of {} min drives off {} % of what the plant `{}` holds",
                    shortest(boil_min, 0),
                    shortest(100.0 * boiled_off, 0),
                    self.name
                ),
            )
            .with_help("shorten the boil, or state the evaporation in litres an hour"));
        }
        if point == BatchPoint::EndOfBoil && self.fermenter_l_of(batch_l) <= 0.0 {
            return Err(Error::new(
                ErrorKind::Contradiction,
                format!(
                    "the kettle loss of the plant `{}` takes all of its {} L at the end of the boil",
                    self.name,
                    shortest(batch_l, 1)
                ),
            )
            .with_help("make the batch larger, or the kettle loss smaller"));
        }
        Ok(())
    }

    /// Wort into the fermenter when the kettle holds `post_boil_l` of cold wort.
    pub(crate) fn fermenter_l_of(&self, post_boil_l: f64) -> f64 {
        self.kettle_loss.after(post_boil_l)
    }

    /// Cold wort in the kettle that gives `into_fermenter_l`.
    pub(crate) fn post_boil_l(&self, into_fermenter_l: f64) -> f64 {
        self.kettle_loss.before(into_fermenter_l)
    }
}

/// Takes defaults and notes each.
struct Defaults<'a> {
    side: Side,
    assumptions: &'a mut Vec<Assumption>,
}

impl Defaults<'_> {
    fn take(&mut self, what: Defaulted, value: f64) -> f64 {
        self.assumptions.push(Assumption::PlantDefault {
            side: self.side,
            what,
            value,
        });
        value
    }
}

fn base<Q: crate::quantity::Quantity>(written: Option<&Written<Q>>) -> Option<f64> {
    written.map(|w| w.value().in_base())
}

fn litres_of(written: Option<&Written<crate::quantity::Volume>>) -> Option<f64> {
    written.map(|w| in_litres(w.value()))
}

fn loss(
    written: Option<&Written<crate::quantity::Volume>>,
    commercial: bool,
    what: Defaulted,
    defaults: &mut Defaults<'_>,
) -> Loss {
    match litres_of(written) {
        Some(lost) => Loss::Litres(lost),
        None if commercial => Loss::Share(defaults.take(what, COMMERCIAL_LOSS)),
        None => Loss::Litres(defaults.take(what, 0.0)),
    }
}

/// The cooling, each missing part by default.
fn cooling(brewhouse: &Brewhouse, commercial: bool, defaults: &mut Defaults<'_>) -> CoolingOf {
    let stated = brewhouse.cooling.as_ref();
    let usual = if commercial {
        CoolingMethod::Plate
    } else {
        CoolingMethod::Coil
    };
    let timed = stated.is_some_and(|c| c.time.is_some());
    let method = stated.and_then(|c| c.method).unwrap_or_else(|| {
        // Without a time the default of the time names the method too.
        if timed {
            let what = match usual {
                CoolingMethod::Plate => Defaulted::Plate,
                _ => Defaulted::Coil,
            };
            defaults.take(what, 0.0);
        }
        usual
    });
    let usual_min = if commercial { PLATE_MIN } else { COIL_MIN };
    let time_min = stated
        .and_then(|c| base(c.time.as_ref()))
        .unwrap_or_else(|| match method {
            CoolingMethod::NoChill => 0.0,
            CoolingMethod::Plate => defaults.take(Defaulted::PlateTime, usual_min),
            CoolingMethod::Coil => defaults.take(Defaulted::CoilTime, usual_min),
        });
    let coolant_c = base(brewhouse.coolant.as_ref()).unwrap_or_else(|| match method {
        CoolingMethod::Coil => defaults.take(Defaulted::Coolant, COOLANT_C),
        CoolingMethod::Plate | CoolingMethod::NoChill => COOLANT_C,
    });
    CoolingOf {
        method,
        to_c: stated
            .and_then(|c| base(c.to.as_ref()))
            .unwrap_or(PITCHING_C),
        time_min,
        coolant_c,
    }
}

fn stated_yield(brewhouse: &Brewhouse) -> Option<KnownYield> {
    brewhouse.extract_yield.as_ref().map(|stated| KnownYield {
        value: stated.value.value().fraction(),
        of: stated.of,
        at: stated.at,
    })
}

/// The lautering, and the yield that its line states.
fn lautering(
    brewhouse: &Brewhouse,
    commercial: bool,
    defaults: &mut Defaults<'_>,
) -> (Lautering, Option<KnownYield>) {
    match &brewhouse.lauter {
        Some(Lauter::Bag { sparge }) => {
            let sparge_l = litres_of(sparge.as_ref()).unwrap_or(0.0);
            (Lautering::Bag { sparge_l }, None)
        }
        Some(Lauter::Batch { sparges }) => (Lautering::Batch { sparges: *sparges }, None),
        Some(Lauter::Continuous { reached }) => (
            Lautering::Continuous,
            reached.as_ref().map(|reached| KnownYield {
                value: reached.value().fraction(),
                of: YieldBasis::LaboratoryExtract,
                at: YieldPoint::EndOfBoil,
            }),
        ),
        Some(Lauter::NoMash) => (Lautering::NoMash, None),
        // A commercial plant, a plant known by its yield alone and one that only a printed sheet speaks of are taken to rinse their
        // grain. A small plant with a batch of its own drains a bag, whether it brews for the first time or a plan is read again.
        None if commercial
            || (defaults.side == Side::Source && brewhouse.batch.is_none())
            || brewhouse.extract_yield.is_some() =>
        {
            (Lautering::Continuous, None)
        }
        None => {
            defaults.take(Defaulted::Bag, 0.0);
            (Lautering::Bag { sparge_l: 0.0 }, None)
        }
    }
}

fn holdback(
    brewhouse: &Brewhouse,
    bag: bool,
    mashes: bool,
    defaults: &mut Defaults<'_>,
) -> Holdback {
    if let Some(retained) = base(brewhouse.retention.as_ref()) {
        return Holdback::Retained(retained);
    }
    if let Some(apparent) = base(brewhouse.absorption.as_ref()) {
        return Holdback::Apparent(apparent);
    }
    let default = if bag { BAG_ABSORPTION } else { TUN_ABSORPTION };
    Holdback::Apparent(if mashes {
        defaults.take(Defaulted::Absorption, default)
    } else {
        default
    })
}
