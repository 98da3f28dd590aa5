//! Single stages of the wort side turned round: the water for a run-off, the run-off for a boiled wort.

use super::aim::Aim;
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::process::{
    Formula, Grist, Holdback, KettleSugar, Lautered, Lautering, Liquor, PerItem, Plant, all_of,
    boil, grist, into_kettle, lauter,
};
use crate::science::density::WATER_KG_PER_L;
use crate::science::liquid::Liquid;

/// The water that makes `grist` run off `volume_l`, split as the plant mashes and sparges.
pub(super) fn liquor_for(grist: Grist, volume_l: f64, plant: &Plant) -> Liquor {
    run_off_of(grist, volume_l, plant).0
}

/// The same, and what runs off.
pub(super) fn run_off_of(grist: Grist, volume_l: f64, plant: &Plant) -> (Liquor, Lautered) {
    let with = |liquor: Liquor| (liquor, lauter(grist, liquor, plant));
    if plant.lautering == Lautering::NoMash || grist.mass_kg <= 0.0 {
        return with(Liquor {
            mash_l: volume_l,
            sparge_l: 0.0,
        });
    }
    let thick_l = plant.mash_water_l(grist.mass_kg);
    // It is split anew at every step.
    let split = |total_l: f64| match plant.lautering {
        Lautering::Bag { sparge_l } => Liquor {
            mash_l: (total_l - sparge_l).max(0.0),
            sparge_l: sparge_l.min(total_l),
        },
        Lautering::Batch { sparges: 0 } => Liquor {
            mash_l: total_l,
            sparge_l: 0.0,
        },
        _ => {
            let mash_l = plant
                .printed_sparge_l
                .map_or(thick_l, |sparge_l| (total_l - sparge_l).max(0.0));
            Liquor {
                mash_l: mash_l.min(total_l),
                sparge_l: (total_l - mash_l).max(0.0),
            }
        }
    };
    let (Holdback::Apparent(kept) | Holdback::Retained(kept)) = plant.holdback;
    let mut total_l = volume_l + kept * grist.mass_kg + plant.tun_loss_l;
    let mut tried = with(split(total_l));
    // A litre more in is very nearly a litre more out; how nearly, the last two tries tell.
    let mut out_per_litre = 1.0;
    for _ in 0..80 {
        let out_l = tried.1.volume_l;
        let missing_l = volume_l - out_l;
        if missing_l.abs() <= 1e-13 * volume_l {
            break;
        }
        // Where the extract alone fills more than that, no water is the nearest.
        let next_l = (total_l + missing_l / out_per_litre).max(0.0);
        let more_l = next_l - total_l;
        if more_l == 0.0 {
            break;
        }
        total_l = next_l;
        tried = with(split(total_l));
        let slope = (tried.1.volume_l - out_l) / more_l;
        // Of steps in the last digits, and across a kink, the two tell nothing.
        if (0.5..2.0).contains(&slope) {
            out_per_litre = slope;
        }
    }
    tried
}

/// The run-off that a boil turns into `wanted`: the inverse of [`boil`].
pub(crate) fn before_boil(
    wanted: Liquid,
    sugars: &[KettleSugar],
    boil_min: f64,
    plant: &Plant,
) -> Lautered {
    let sugar = all_of(sugars);
    let extract_kg = wanted.extract_kg - sugar.extract_kg;
    let without_kg = wanted.water_kg - sugar.water_kg;
    let litres_with =
        |water_kg: f64| Liquid::solution(water_kg.max(0.0), extract_kg.max(0.0)).wort_volume_l();
    let mut volume_l = litres_with(without_kg);
    let mut water_kg = without_kg;
    // A share of the volume before the boil depends on that volume. What is missing is very nearly that share of a
    // longer boil, so that each step goes as far as the whole series of such steps would.
    let ahead = 1.0 / (1.0 - plant.boiloff.share(boil_min)).max(1e-3);
    for _ in 0..200 {
        water_kg = without_kg + plant.boiloff.litres(volume_l, boil_min) * WATER_KG_PER_L;
        let step = litres_with(water_kg) - volume_l;
        volume_l += ahead * step;
        if step.abs() <= 1e-14 * volume_l {
            break;
        }
    }
    Lautered {
        wort: Liquid::solution(water_kg, extract_kg),
        volume_l,
        ..Lautered::default()
    }
}

/// How often something is laid out at most until trub and hops keep what they were said to; how near that is, and how near it may
/// be in the end where the amounts jump, both as a share of what is kept.
const MOST_ROUNDS: usize = 40;
const SETTLED: f64 = 1e-13;
const NEARLY: f64 = 1e-3;

/// What `laid_out` gives where trub and hops keep as many litres as stand beside it: how much is to be boiled hangs on what is kept
/// of it, and only the amounts for it tell that.
pub(crate) fn with_kept<T>(
    plant: &Plant,
    mut laid_out: impl FnMut(f64) -> Result<(T, f64), Error>,
) -> Result<T, Error> {
    let mut kept_l = 0.0;
    let mut before = None;
    for round in 0..=MOST_ROUNDS {
        let (found, found_l) = laid_out(kept_l)?;
        let off_l = found_l - kept_l;
        let within = if round < MOST_ROUNDS { SETTLED } else { NEARLY };
        if off_l.abs() <= within * found_l {
            return Ok(found);
        }
        // What is kept hangs but little on itself: how much, the last two tries tell.
        let slope = before.map_or(-1.0, |(at_l, was_off_l)| {
            (off_l - was_off_l) / (kept_l - at_l)
        });
        before = Some((kept_l, off_l));
        let slope = if (-2.0..-0.3).contains(&slope) {
            slope
        } else {
            -1.0
        };
        kept_l = (kept_l - off_l / slope).max(0.0);
    }
    Err(never_left(plant))
}

/// Trub and hops keep so much that no wort fills the batch.
pub(super) fn never_left(plant: &Plant) -> Error {
    Error::new(
        ErrorKind::Contradiction,
        format!(
            "trub and hops hold all of the wort in the kettle of the plant `{}`",
            plant.name
        ),
    )
    .with_help("check the masses of the hops, or state the loss: `kettle loss 1 L`")
    .about(Place::plant(&plant.name, "kettle_loss_l"))
}

/// Rounds in which a kettle's loss settles: each leaves less than a ten-thousandth of what was off.
const ROUNDS_OF_LOSS: usize = 4;

/// The aim where so much water makes up the wort in the fermenter: the kettle's loss is of wort that is not thinned, so that all of it
/// together is to be a little weaker than the wort in the fermenter.
pub(crate) fn with_top_up(aim: Aim, water_kg: f64, plant: &Plant, kept_l: f64) -> Aim {
    if water_kg <= 0.0 {
        return aim;
    }
    let into_l = plant.fermenter_l_of(aim.volume_l, kept_l);
    let mut lost_l = aim.volume_l - into_l;
    let wanted = Liquid::wort_of(into_l, aim.strength);
    let water_kg = water_kg.min(wanted.water_kg);
    let strong = wanted.with_water_kg(-water_kg);
    let strong_l = strong.wort_volume_l().max(f64::MIN_POSITIVE);
    let mut all = Liquid::default();
    // Mixed, they take a little less room than both, and of less a kettle may keep less.
    for _ in 0..ROUNDS_OF_LOSS {
        all = strong.part(1.0 + lost_l / strong_l).with_water_kg(water_kg);
        let all_l = all.wort_volume_l();
        lost_l = all_l - plant.fermenter_l_of(all_l, kept_l);
    }
    Aim {
        volume_l: all.wort_volume_l(),
        strength: all.strength(),
    }
}

/// Brewing water that leaves `post_boil_l` in the kettle.
pub(crate) fn liquor_to_fill(
    formula: &Formula,
    plant: &Plant,
    of: &PerItem<f64>,
    post_boil_l: f64,
) -> Liquor {
    let (grist, sugars) = (grist(formula, of), into_kettle(formula, of));
    let mut run_l = post_boil_l;
    // A share of what is added boils off again: each step goes as far as the whole series of such steps would.
    let ahead = 1.0 / (1.0 - plant.boiloff.share(formula.boil_min)).max(1e-3);
    let (mut liquor, mut lautered) = run_off_of(grist, run_l, plant);
    for _ in 0..200 {
        let boiled = boil(&lautered, &sugars, formula.boil_min, plant);
        let missing_l = post_boil_l - boiled.volume_l;
        if missing_l.abs() <= 1e-13 * post_boil_l {
            break;
        }
        run_l = (run_l + ahead * missing_l).max(0.0);
        (liquor, lautered) = run_off_of(grist, run_l, plant);
    }
    liquor
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::process::{Boiloff, PrintedWater, Side};
    use crate::recipe::Brewhouse;

    #[track_caller]
    fn same(a: f64, b: f64) {
        let room = 1e-12 * a.abs().max(b.abs());
        assert!((a - b).abs() <= room, "{a} is not {b}");
    }

    /// Boiling what is wanted before the boil gives what is wanted after it, though nearly all of it boils away.
    #[test]
    fn what_is_wanted_before_the_boil_boils_down_to_the_wort() {
        let wanted = Liquid::wort_of(20.0, 0.12);
        let honey = KettleSugar {
            liquid: Liquid::solution(0.1, 0.4),
            time_left_min: 10.0,
        };
        let settled = Plant::settle(
            &Brewhouse::default(),
            Side::Target,
            Some(10.0),
            PrintedWater::default(),
            &mut Vec::new(),
        );
        for boiloff in [
            Boiloff::LitresPerHour(3.0),
            Boiloff::SharePerHour(0.05),
            Boiloff::SharePerHour(0.6),
            Boiloff::SharePerHour(0.9),
            Boiloff::SharePerHour(0.97),
        ] {
            let plant = Plant {
                boiloff,
                ..settled.clone()
            };
            let run = before_boil(wanted, &[honey], 60.0, &plant);
            same(run.volume_l, run.wort.volume_l());
            let boiled = boil(&run, &[honey], 60.0, &plant);
            same(boiled.volume_l, 20.0);
            same(boiled.wort.water_kg, wanted.water_kg);
            same(boiled.wort.extract_kg, wanted.extract_kg);
            // By hand: 3 L in the hour, or that share of what was there.
            let driven_l = match boiloff {
                Boiloff::LitresPerHour(_) => 3.0,
                Boiloff::SharePerHour(share) => share * run.volume_l,
            };
            // OIML R 22 to seven digits.
            let litre_kg = boiled.evaporated_kg / driven_l;
            assert!((litre_kg / 0.998_203_1 - 1.0).abs() < 1e-7, "{litre_kg}");
        }
    }
}
