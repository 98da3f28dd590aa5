//! From grain and water to cold wort in the kettle: mass balance of mash, run-off and boil.
//!
//! Everything is kilograms of water and extract; litres are cold (20 °C) readings of them. What goes into a stage
//! comes out of it, and each result carries both sides.

use super::plant::{Holdback, Lautering, Plant};
use crate::recipe::{BatchPoint, YieldBasis, YieldPoint};
use crate::science::density::{WATER_KG_PER_L, solution_volume_at_l};
use crate::science::heat::schedule::GRAIN_ROOM_L_PER_KG;
use crate::science::lautering::{Bed, retained_wort_l};
use crate::science::liquid::Liquid;

/// Extract of dried malt extract as is: 99.5 % of 96 % dry matter, as in the built-in catalogue.
pub(crate) const DRIED_MALT_EXTRACT: f64 = 0.955;

/// What is mashed, summed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Grist {
    pub(crate) mass_kg: f64,
    /// Fine-grind laboratory extract as is.
    pub(crate) laboratory_extract_kg: f64,
    pub(crate) moisture_kg: f64,
}

impl Grist {
    /// The grist `factor` times as large.
    pub(crate) fn times(self, factor: f64) -> Self {
        Self {
            mass_kg: self.mass_kg * factor,
            laboratory_extract_kg: self.laboratory_extract_kg * factor,
            moisture_kg: self.moisture_kg * factor,
        }
    }
}

/// Something that dissolves in the kettle as it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct KettleSugar {
    pub(crate) liquid: Liquid,
    pub(crate) time_left_min: f64,
}

/// Brewing water, cold litres.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Liquor {
    pub(crate) mash_l: f64,
    pub(crate) sparge_l: f64,
}

/// The wort that runs off a mash, and what stays behind.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Lautered {
    pub(crate) wort: Liquid,
    pub(crate) volume_l: f64,
    /// Water and extract in the grain, what did not dissolve included.
    pub(crate) left: Liquid,
    /// Extract in the wort that is none of the mash's, kg.
    pub(crate) dissolved_kg: f64,
}

/// The wort when the boil ends.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Boiled {
    pub(crate) wort: Liquid,
    pub(crate) volume_l: f64,
    pub(crate) evaporated_kg: f64,
}

/// The run-off of `grist` mashed and rinsed with `liquor`.
pub(crate) fn lauter(grist: Grist, liquor: Liquor, plant: &Plant) -> Lautered {
    let water_kg = (liquor.mash_l + liquor.sparge_l) * WATER_KG_PER_L;
    if plant.lautering == Lautering::NoMash || grist.mass_kg <= 0.0 {
        return Lautered {
            wort: Liquid::solution(water_kg, 0.0),
            volume_l: liquor.mash_l + liquor.sparge_l,
            ..Lautered::default()
        };
    }
    if let Some(extract_kg) = known_extract_kg(grist, plant) {
        let whole = Liquid::solution(water_kg + grist.moisture_kg, grist.laboratory_extract_kg);
        let mut bed = Bed::of(whole, 0.0);
        // Where the lauter lines and the yield contradict each other, the masses stand and the volume is read from them.
        let wort = bed.run_off(extract_kg, known_run_off_l(grist, liquor, plant));
        return Lautered {
            wort,
            volume_l: wort.wort_volume_l(),
            left: bed.held(),
            dissolved_kg: 0.0,
        };
    }
    let dissolved_kg = plant.conversion * grist.laboratory_extract_kg;
    let mash = Liquid::solution(
        liquor.mash_l * WATER_KG_PER_L + grist.moisture_kg,
        dissolved_kg,
    );
    let solution_l = mash.wort_volume_l();
    let mut bed = Bed::of(mash, retained_l(grist, liquor.mash_l, solution_l, plant));
    let mut wort = bed.drained_of(solution_l);
    let sparges = match plant.lautering {
        Lautering::Batch { sparges } => sparges.max(1),
        _ => 1,
    };
    if liquor.sparge_l > 0.0 {
        let portion_kg = liquor.sparge_l * WATER_KG_PER_L / f64::from(sparges);
        for _ in 0..sparges {
            wort = wort.blended(bed.sparged_kg(portion_kg, plant.mixing));
        }
    }
    let undissolved = Liquid::solution(0.0, grist.laboratory_extract_kg - dissolved_kg);
    Lautered {
        wort,
        volume_l: wort.wort_volume_l(),
        left: bed.held().blended(undissolved),
        dissolved_kg: 0.0,
    }
}

/// The wort that grain and tun keep. The apparent absorption is water in less first wort out, so that the wort kept
/// is larger by the volume that the dissolved extract and the grain's own moisture take up.
fn retained_l(grist: Grist, mash_l: f64, solution_l: f64, plant: &Plant) -> f64 {
    let by_grain = match plant.holdback {
        Holdback::Apparent(absorption) => {
            retained_wort_l(solution_l, mash_l, absorption * grist.mass_kg)
        }
        Holdback::Retained(retention) => retention * grist.mass_kg,
    };
    (by_grain + plant.tun_loss_l).clamp(0.0, solution_l.max(0.0))
}

/// The extract that a plant of known yield runs off.
fn known_extract_kg(grist: Grist, plant: &Plant) -> Option<f64> {
    plant.known_yield.map(|known| {
        known.value
            * match known.of {
                YieldBasis::LaboratoryExtract => grist.laboratory_extract_kg,
                YieldBasis::Grist => grist.mass_kg,
            }
            * counted_at(plant)
    })
}

/// Extract at the end of the boil for one kilogram at the point where the plant's yield is counted.
fn counted_at(plant: &Plant) -> f64 {
    match (plant.known_yield.map(|known| known.at), plant.batch) {
        (Some(YieldPoint::IntoFermenter), Some(batch)) => match batch.at {
            BatchPoint::EndOfBoil => {
                batch.l / plant.fermenter_l_of(batch.l, 0.0).max(f64::MIN_POSITIVE)
            }
            _ => plant.post_boil_l(batch.l, 0.0) / batch.l,
        },
        (Some(YieldPoint::IntoFermenter), None) => plant.post_boil_l(1.0, 0.0),
        _ => 1.0,
    }
}

/// Litres that run off in all where the yield is known: the lauter lines give them.
fn known_run_off_l(grist: Grist, liquor: Liquor, plant: &Plant) -> f64 {
    let total_l = liquor.mash_l + liquor.sparge_l;
    let run_off_l = match plant.holdback {
        Holdback::Apparent(absorption) => total_l - absorption * grist.mass_kg,
        Holdback::Retained(retention) => {
            let water_kg = total_l * WATER_KG_PER_L + grist.moisture_kg;
            let dissolved_kg = plant.conversion * grist.laboratory_extract_kg;
            Liquid::solution(water_kg, dissolved_kg).wort_volume_l() - retention * grist.mass_kg
        }
    };
    (run_off_l - plant.tun_loss_l).max(0.0)
}

/// The wort after boiling `run` for `boil_min` with `sugars`.
pub(crate) fn boil(run: &Lautered, sugars: &[KettleSugar], boil_min: f64, plant: &Plant) -> Boiled {
    let poured = sugars.iter().filter(|s| s.time_left_min >= boil_min);
    // No more boils off than is in the kettle when the boil begins.
    let in_kettle_kg = run.wort.water_kg + poured.map(|s| s.liquid.water_kg).sum::<f64>();
    let evaporated_kg =
        (plant.boiloff.litres(run.volume_l, boil_min) * WATER_KG_PER_L).min(in_kettle_kg);
    let wort = all_of(sugars)
        .blended(run.wort)
        .with_water_kg(-evaporated_kg);
    Boiled {
        wort,
        volume_l: wort.wort_volume_l(),
        evaporated_kg,
    }
}

/// Volume of the mash at its rest.
pub(crate) fn mash_volume_hot_l(grist: Grist, mash_l: f64, mash_c: f64) -> f64 {
    let water_kg = mash_l * WATER_KG_PER_L;
    solution_volume_at_l(water_kg, 0.0, mash_c) + GRAIN_ROOM_L_PER_KG * grist.mass_kg
}

/// All of the sugars as one liquid.
pub(crate) fn all_of(sugars: &[KettleSugar]) -> Liquid {
    sugars
        .iter()
        .fold(Liquid::default(), |sum, sugar| sum.blended(sugar.liquid))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::process::Side;
    use crate::process::plant::{BatchSize, KnownYield, Loss, PrintedWater};
    use crate::recipe::Brewhouse;

    /// A small plant with nothing stated, which a test then changes.
    fn plant() -> Plant {
        Plant::settle(
            &Brewhouse::default(),
            Side::Target,
            Some(10.0),
            PrintedWater::default(),
            &mut Vec::new(),
        )
    }

    #[track_caller]
    fn same(a: f64, b: f64) {
        let room = 1e-12 * a.abs().max(b.abs());
        assert!((a - b).abs() <= room, "{a} is not {b}");
    }

    /// A litre of water at 20 °C is 0.9982 kg, and where nothing is mashed all of it comes through.
    #[test]
    fn without_a_mash_all_the_water_is_in_the_kettle() {
        let water = Liquor {
            mash_l: 8.0,
            sparge_l: 2.0,
        };
        let grain = Grist {
            mass_kg: 2.0,
            laboratory_extract_kg: 1.5,
            moisture_kg: 0.1,
        };
        let no_mash = Plant {
            lautering: Lautering::NoMash,
            ..plant()
        };
        for (grist, plant) in [(Grist::default(), plant()), (grain, no_mash)] {
            let run = lauter(grist, water, &plant);
            assert!((run.wort.water_kg - 9.982).abs() < 1e-3);
            same(run.volume_l, 10.0);
            assert_eq!(run.wort.extract_kg, 0.0);
        }
    }

    /// 3 % of 100 L is 3 L; litres are taken off as they are, and no more than there are.
    #[test]
    fn losses_are_taken_off_and_put_back() {
        same(Loss::Share(0.03).after(100.0), 97.0);
        same(Loss::Litres(3.0).after(100.0), 97.0);
        same(Loss::Litres(3.0).after(2.0), 0.0);
        for loss in [Loss::Share(0.03), Loss::Litres(3.0)] {
            same(loss.before(97.0), 100.0);
            let plant = Plant {
                kettle_loss: loss,
                ..plant()
            };
            // Trub and hops keep 10 L besides.
            same(plant.fermenter_l_of(100.0, 10.0), 87.0);
            same(plant.post_boil_l(87.0, 10.0), 100.0);
        }
    }

    /// 70 % of the grist is 7 kg of 10 kg, wherever it is counted; into the fermenter a twentieth stays in the kettle,
    /// so that the kettle held 7/0.95.
    #[test]
    fn a_yield_counts_where_it_is_stated() {
        let grist = Grist {
            mass_kg: 10.0,
            laboratory_extract_kg: 8.0,
            moisture_kg: 0.4,
        };
        let water = Liquor {
            mash_l: 30.0,
            sparge_l: 30.0,
        };
        let of = |of, at, batch| {
            let plant = Plant {
                known_yield: Some(KnownYield { value: 0.7, of, at }),
                kettle_loss: Loss::Share(0.05),
                batch,
                ..plant()
            };
            lauter(grist, water, &plant).wort.extract_kg
        };
        let (grain, extract) = (YieldBasis::Grist, YieldBasis::LaboratoryExtract);
        let (kettle, fermenter) = (YieldPoint::EndOfBoil, YieldPoint::IntoFermenter);
        same(of(grain, kettle, None), 7.0);
        same(of(extract, kettle, None), 5.6);
        for batch in [
            None,
            Some((95.0, BatchPoint::IntoFermenter)),
            Some((100.0, BatchPoint::EndOfBoil)),
        ] {
            let batch = batch.map(|(l, at)| BatchSize { l, at });
            same(of(grain, fermenter, batch), 7.0 / 0.95);
        }
    }
}
