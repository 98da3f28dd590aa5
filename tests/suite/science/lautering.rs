//! Lautering against published tables and worked examples.

use super::kilograms;
use crate::reference::rows;
use wortwright::quantity::Mixing;
use wortwright::quantity::uom::si::mass::kilogram;
use wortwright::science::lautering::Bed;
use wortwright::science::liquid::Liquid;

/// The run-offs of a mash that keeps so many kilograms of solution, and the share of the extract that they carry. Grain keeps
/// litres, so that each drain of this textbook's grain is told how many the kilograms are of what it drains.
fn run_off(mash: Liquid, retained_kg: f64, sparges: &[f64]) -> (Vec<Liquid>, f64) {
    let perfect = Mixing::from_fraction(1.0).unwrap();
    let bed = |held: Liquid, drained: Liquid| {
        let kept = drained.volume() * (retained_kg / drained.mass().get::<kilogram>());
        Bed::new(held, kept).unwrap()
    };
    let mut first = bed(mash, mash);
    let mut worts = vec![first.drained()];
    let mut held = first.held();
    for kg in sparges {
        let water = kilograms(*kg);
        let mut drained = bed(held, held.diluted(water).unwrap());
        worts.push(drained.sparged(water, perfect).unwrap());
        held = drained.held();
    }
    let carried: f64 = worts.iter().map(|w| w.extract().get::<kilogram>()).sum();
    (worts, carried / mash.extract().get::<kilogram>())
}

fn mash(extract_kg: f64, water_kg: f64) -> Liquid {
    Liquid::new(kilograms(water_kg), kilograms(extract_kg), kilograms(0.0)).unwrap()
}

/// The kernel that every plan runs, told the kilograms of the textbook.
#[test]
fn lauter_efficiencies_agree_with_the_table() {
    let mut by_absorption = 0;
    for row in rows("lautering_mass_balance.csv") {
        let extract = row.number("extract_kg");
        let total = row.number("total_water_kg");
        let retained = row.number("retained_solution_kg");
        let batches = |portion: f64, count: usize| {
            let portions = vec![portion; count];
            let mash_water = total - portions.iter().sum::<f64>();
            run_off(mash(extract, mash_water), retained, &portions)
        };
        // Equal division of the solvent in cross-current washing (GATE Chemical Engineering 2013, question 38).
        let equal = |count| (total + extract - retained) / (f64::from(count) + 1.0);
        let (worts, efficiency) = batches(0.0, 0);
        row.check("eff_no_sparge", efficiency);
        // The same by what the grain seems to absorb: water in less wort out.
        let [wort] = &worts[..] else {
            panic!("one run-off")
        };
        let water = mash(0.0, total).volume();
        // Extract may swell the wort by more than the grain keeps, so that nothing seems to be absorbed.
        if wort.volume() <= water {
            let absorbed = water - wort.volume();
            let mut bed = Bed::absorbing(mash(extract, total), water, absorbed).unwrap();
            let carried = bed.drained().extract().get::<kilogram>() / extract;
            row.check("eff_no_sparge", carried);
            by_absorption += 1;
        }
        let portion = equal(1);
        row.check("equal_runoff_sparge_water_kg", portion);
        row.check("equal_runoff_mash_water_kg", total - portion);
        let (worts, efficiency) = batches(portion, 1);
        row.check("eff_equal_runoff_batch", efficiency);
        let [first, second] = &worts[..] else {
            panic!("two run-offs")
        };
        let strengths = [first, second].map(|wort| wort.real_extract().plato() / 100.0);
        row.check("first_wort_mass_fraction", strengths[0]);
        row.check("second_wort_mass_fraction", strengths[1]);
        assert!((first.mass() - second.mass()).get::<kilogram>().abs() < 1e-12);
        row.check("eff_two_equal_batch_sparges", batches(equal(2), 2).1);
        let third = 0.3 * (total + extract - retained);
        row.check("eff_batch_30pct_sparge_split", batches(third, 1).1);
    }
    assert!(by_absorption > 0);
}

#[test]
fn equal_sparges_follow_the_law_of_cross_current_washing() {
    // L1: the underflow keeps 1/(1 + S/R)^n after n equal portions of solvent; first drain on top.
    let (_, efficiency) = run_off(mash(4.0, 15.0), 5.0, &[6.0; 4]);
    let left = 5.0 / 19.0 / (1.0_f64 + 6.0 / 5.0).powi(4);
    assert!((efficiency - (1.0 - left)).abs() < 1e-14);
}

#[test]
fn first_worts_agree_with_the_table() {
    for row in rows("lautering_first_wort.csv") {
        // With the 4 % of water that the malt brings.
        let water = row.number("water_kg_per_kg_malt_asis") + 0.04;
        let (worts, _) = run_off(
            mash(row.number("extract_as_is_mass_fraction"), water),
            1.0,
            &[],
        );
        row.check(
            "first_wort_P_with_4pct_malt_moisture",
            worts[0].real_extract().plato(),
        );
    }
}
