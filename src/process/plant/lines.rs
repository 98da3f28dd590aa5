//! A plant from its lines: what they state, else a default that is noted.

use super::{
    BatchSize, Boiloff, CoolingOf, Holdback, KnownYield, Lautering, Loss, Plant, PrintedWater,
    boiling_at_c,
};
use crate::diagnostic::Place;
use crate::process::assumption::Assumption;
use crate::process::plant_defaults::Defaulted;
use crate::process::side::{PlantSize, Side};
use crate::quantity::{Quantity, Volume, Written, in_litres};
use crate::recipe::{
    Brewhouse, CoolingMethod, Evaporation, Heating, Lauter, YieldBasis, YieldPoint,
};
use crate::speech::Noted;
use std::sync::Arc;

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
/// Yield of a small plant that rinses its grain all along (common practice 75-90 %, no source).
const SMALL_YIELD: f64 = 0.85;
/// Evaporation of a commercial kettle, share of the pre-boil volume an hour (common practice, no source).
const COMMERCIAL_EVAPORATION: f64 = 0.05;
/// Evaporation of a small open kettle, share of the pre-boil volume an hour (common practice 10-15 %, no source).
const SMALL_EVAPORATION: f64 = 0.12;
/// Kettle loss of a commercial plant and fermenter loss of any, each a share of the volume (common practice, no source).
const LOSS: f64 = 0.03;
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

impl Plant {
    /// The plant that `brewhouse` describes, brewing a recipe that prints some of its water. `batch_l` is the batch that decides
    /// between the defaults of a commercial and of a small plant. Each default that is taken is added to `assumptions`.
    pub(crate) fn settle(
        brewhouse: &Brewhouse,
        side: Side,
        batch_l: Option<f64>,
        printed: PrintedWater<'_>,
        assumptions: &mut Vec<Noted<Assumption>>,
    ) -> Self {
        let name: Arc<str> = brewhouse.name.as_str().into();
        let mut defaults = Defaults {
            side,
            plant: &name,
            assumptions,
        };
        let batch = brewhouse.batch.as_ref().map(BatchSize::of);
        let size = PlantSize::of(batch_l.or(batch.map(|batch| batch.l)));
        let (lautering, reached) = lautering(brewhouse, size, printed, &mut defaults);
        let mashes = lautering != Lautering::NoMash;
        let stated_yield = stated_yield(brewhouse).or(reached);
        let known_yield = stated_yield.or_else(|| {
            let needs_default = lautering == Lautering::Continuous;
            needs_default.then(|| KnownYield {
                value: defaults.take(
                    Defaulted::ExtractYield,
                    match size {
                        PlantSize::Commercial => COMMERCIAL_YIELD,
                        PlantSize::Small => SMALL_YIELD,
                    },
                ),
                of: YieldBasis::LaboratoryExtract,
                at: YieldPoint::EndOfBoil,
            })
        });
        let drains_a_bag = matches!(lautering, Lautering::Bag { .. });
        let liquor = base(brewhouse.liquor.as_ref()).or(printed.liquor_l_per_kg);
        let heating =
            brewhouse
                .heating
                .unwrap_or(if drains_a_bag || size == PlantSize::Commercial {
                    Heating::Direct
                } else {
                    Heating::Infusion
                });
        let altitude_m = base(brewhouse.altitude.as_ref()).unwrap_or(0.0);
        // Boiling water takes its part of the mash water.
        let usual_liquor = printed
            .infused_l_per_kg(heating, boiling_at_c(altitude_m))
            .map_or(LIQUOR, |infused| infused.max(LIQUOR));
        Self {
            side,
            batch,
            kettle_l: litres_of(brewhouse.kettle.as_ref()),
            mash_tun_l: litres_of(brewhouse.mash_tun.as_ref()),
            fermenter_l: litres_of(brewhouse.fermenter.as_ref()),
            lautering,
            holdback: holdback(brewhouse, lautering, &mut defaults),
            liquor_l_per_kg: liquor.unwrap_or_else(|| {
                if mashes && !drains_a_bag && printed.sparge_l.is_none() {
                    defaults.take(Defaulted::LiquorRatio, usual_liquor)
                } else {
                    LIQUOR
                }
            }),
            least_liquor_l_per_kg: liquor.unwrap_or(LIQUOR),
            printed_sparge_l: printed.sparge_l.filter(|_| liquor.is_none()),
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
            states_yield: stated_yield.is_some(),
            states_boiloff: brewhouse.evaporation.is_some(),
            boiloff: match &brewhouse.evaporation {
                Some(Evaporation::Rate(rate)) => {
                    Boiloff::LitresPerHour(rate.value().litres_per_hour())
                }
                Some(Evaporation::SharePerHour(share)) => {
                    Boiloff::SharePerHour(share.value().fraction())
                }
                None => Boiloff::SharePerHour(defaults.take(
                    Defaulted::Evaporation,
                    match size {
                        PlantSize::Commercial => COMMERCIAL_EVAPORATION,
                        PlantSize::Small => SMALL_EVAPORATION,
                    },
                )),
            },
            tun_loss_l: litres_of(brewhouse.tun_loss.as_ref()).unwrap_or(0.0),
            kettle_loss: match (litres_of(brewhouse.kettle_loss.as_ref()), size) {
                (Some(lost_l), _) => Loss::Litres(lost_l),
                (None, PlantSize::Commercial) => {
                    Loss::Share(defaults.take(Defaulted::KettleLoss, LOSS))
                }
                // Trub and hops, which are counted each.
                (None, PlantSize::Small) => Loss::Litres(0.0),
            },
            loss_holds_trub: brewhouse.kettle_loss.is_some()
                || size == PlantSize::Commercial
                || (mashes
                    && known_yield.is_some_and(|known| known.at == YieldPoint::IntoFermenter)),
            fermenter_loss: litres_of(brewhouse.fermenter_loss.as_ref()).map_or_else(
                || Loss::Share(defaults.take(Defaulted::FermenterLoss, LOSS)),
                Loss::Litres,
            ),
            altitude_m,
            bitterness: brewhouse.bitterness.unwrap_or_default(),
            heating,
            heater_kw: base(brewhouse.heat_power.as_ref()),
            heat_kw: base(brewhouse.heat_power.as_ref())
                .map(|kw| kw * defaults.take(Defaulted::HeatShare, HEAT_SHARE)),
            stand_min: base(brewhouse.stand.as_ref()),
            cooling: cooling(brewhouse, size, &mut defaults),
            name,
        }
    }
}

/// What of a heater's power warms what is in the vessel: of a burner less, of an immersed element more (common practice, no source).
const HEAT_SHARE: f64 = 0.80;

/// Takes defaults and notes each.
struct Defaults<'a> {
    side: Side,
    plant: &'a Arc<str>,
    assumptions: &'a mut Vec<Noted<Assumption>>,
}

impl Defaults<'_> {
    fn take(&mut self, what: Defaulted, value: f64) -> f64 {
        let default = Assumption::PlantDefault {
            side: self.side,
            what,
            value,
        };
        let place = Place::plant(self.plant, what.field());
        self.assumptions.push(Noted::at(place, default));
        value
    }
}

fn base<Q: Quantity>(written: Option<&Written<Q>>) -> Option<f64> {
    written.map(|w| w.value().in_base())
}

fn litres_of(written: Option<&Written<Volume>>) -> Option<f64> {
    written.map(|w| in_litres(w.value()))
}

/// The cooling, each missing part by default.
fn cooling(brewhouse: &Brewhouse, size: PlantSize, defaults: &mut Defaults<'_>) -> CoolingOf {
    let stated = brewhouse.cooling.as_ref();
    let (usual, usual_min) = match size {
        PlantSize::Commercial => (CoolingMethod::Plate, PLATE_MIN),
        PlantSize::Small => (CoolingMethod::Coil, COIL_MIN),
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
    size: PlantSize,
    printed: PrintedWater<'_>,
    defaults: &mut Defaults<'_>,
) -> (Lautering, Option<KnownYield>) {
    match &brewhouse.lauter {
        Some(Lauter::Bag(bag)) => {
            let sparge_l = litres_of(bag.sparge.as_ref()).or(printed.sparge_l);
            let sparge_l = sparge_l.unwrap_or(0.0);
            (Lautering::Bag { sparge_l }, None)
        }
        Some(Lauter::Batch(batch)) => {
            let sparges = batch.sparges;
            (Lautering::Batch { sparges }, None)
        }
        Some(Lauter::Continuous(tun)) => (
            Lautering::Continuous,
            tun.reached.as_ref().map(|reached| KnownYield {
                value: reached.value().fraction(),
                of: YieldBasis::LaboratoryExtract,
                at: YieldPoint::EndOfBoil,
            }),
        ),
        Some(Lauter::NoMash) => (Lautering::NoMash, None),
        // A tun of its own holds the grain, so that no bag does.
        None if size == PlantSize::Small
            && brewhouse.mash_tun.is_some()
            && brewhouse.extract_yield.is_none() =>
        {
            defaults.take(Defaulted::BatchSparge, 0.0);
            (Lautering::Batch { sparges: 1 }, None)
        }
        None if a_bag_is_usual(brewhouse, size) => {
            defaults.take(Defaulted::Bag, 0.0);
            let sparge_l = printed.sparge_l.unwrap_or(0.0);
            (Lautering::Bag { sparge_l }, None)
        }
        None => (Lautering::Continuous, None),
    }
}

/// Whether a plant that says nothing of lautering is taken to drain a bag: a small one without a tun is. A commercial plant, and one known by its
/// yield alone, are taken to rinse their grain.
fn a_bag_is_usual(brewhouse: &Brewhouse, size: PlantSize) -> bool {
    size == PlantSize::Small && brewhouse.extract_yield.is_none() && brewhouse.mash_tun.is_none()
}

/// Whether a plant that is to brew drains its grain in a bag, by its own word or as it is taken to.
pub(crate) fn drains_a_bag(brewhouse: &Brewhouse) -> bool {
    if let Some(way) = &brewhouse.lauter {
        return matches!(way, Lauter::Bag(_));
    }
    let batch_l = brewhouse
        .batch
        .as_ref()
        .map(|batch| in_litres(batch.volume.value()));
    a_bag_is_usual(brewhouse, PlantSize::of(batch_l))
}

fn holdback(brewhouse: &Brewhouse, lautering: Lautering, defaults: &mut Defaults<'_>) -> Holdback {
    if let Some(retained) = base(brewhouse.retention.as_ref()) {
        return Holdback::Retained(retained);
    }
    if let Some(apparent) = base(brewhouse.absorption.as_ref()) {
        return Holdback::Apparent(apparent);
    }
    Holdback::Apparent(match lautering {
        Lautering::Bag { .. } => defaults.take(Defaulted::Absorption, BAG_ABSORPTION),
        Lautering::Batch { .. } | Lautering::Continuous => {
            defaults.take(Defaulted::Absorption, TUN_ABSORPTION)
        }
        Lautering::NoMash => TUN_ABSORPTION,
    })
}
