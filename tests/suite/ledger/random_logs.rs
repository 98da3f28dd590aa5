//! Laws of the ledger on random logs.

use super::entries::{
    abv, drawn, fermented, juice, kilograms_of, litres_of, of, pitched, plato, read, sugar,
};
use proptest::prelude::*;
use uom::si::{mass::kilogram, volume::liter};
use wortwright::ledger::Ledger;
use wortwright::quantity::uom;
use wortwright::recipe::LogEntry;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn without_additions_it_is_the_closed_form(extract in 4.0..25.0_f64, fall in 0.1..0.9_f64) {
        let end = extract * (1.0 - fall);
        let ledger = of([pitched(20.0, extract), read(extract * (1.0 - 0.5 * fall)), read(end)]);
        let beer = fermented(plato(extract), plato(end));
        prop_assert!((abv(&ledger) - beer.alcohol_by_volume().percent()).abs() < 1e-8);
        prop_assert!((ledger.alcohol.real_extract.plato() - beer.real_extract().plato()).abs() < 1e-8);
    }

    #[test]
    fn additions_commute_and_split(litres in 0.1..5.0_f64, kg in 0.05..2.0_f64, brix in 5.0..70.0_f64) {
        let with = |middle: Vec<LogEntry>| {
            let ends = [pitched(20.0, 12.0), read(4.0)];
            of(ends.into_iter().chain(middle).chain([read(2.5)]))
        };
        let (a, b) = (litres_of(litres, juice(brix)), kilograms_of(kg, sugar()));
        let one = with(vec![a.clone(), b.clone()]);
        let other = with(vec![b.clone(), a]);
        let halves = with(vec![litres_of(0.3 * litres, juice(brix)), b, litres_of(0.7 * litres, juice(brix))]);
        prop_assert!((abv(&one) - abv(&other)).abs() < 1e-9);
        prop_assert!((abv(&one) - abv(&halves)).abs() < 1e-9);
        let volume = |ledger: &Ledger| ledger.steps.last().unwrap().volume.get::<liter>();
        prop_assert!((volume(&one) - volume(&halves)).abs() < 1e-8);
    }

    #[test]
    fn a_draw_changes_amounts_alone(share in 0.01..0.9_f64) {
        let whole = of([pitched(20.0, 12.0), read(5.0), litres_of(2.0, juice(13.0)), read(4.0), read(2.0)]);
        let less = of([pitched(20.0, 12.0), read(5.0), litres_of(2.0, juice(13.0)), read(4.0), drawn(20.0 * share), read(2.0)]);
        prop_assert!((abv(&whole) - abv(&less)).abs() < 1e-9);
        let (one, other) = (&whole.alcohol, &less.alcohol);
        prop_assert!((one.real_extract.plato() - other.real_extract.plato()).abs() < 1e-9);
        prop_assert!((one.energy_kcal_per_100_ml - other.energy_kcal_per_100_ml).abs() < 1e-9);
        let (full, left) = (whole.steps[4].ethanol.get::<kilogram>(), less.steps[5].ethanol.get::<kilogram>());
        let (before, drawn_l) = (whole.steps[3].volume.get::<liter>(), 20.0 * share);
        prop_assert!((left / full - (1.0 - drawn_l / before)).abs() < 1e-9);
    }

    #[test]
    fn mass_is_kept(litres in 0.1..5.0_f64, brix in 5.0..70.0_f64) {
        let ledger = of([pitched(20.0, 12.0), read(4.0), litres_of(litres, juice(brix)), read(3.5)]);
        let water = |at: usize| ledger.steps[at].water.get::<kilogram>();
        let extract = |at: usize| {
            let step = &ledger.steps[at];
            step.extract.get::<kilogram>() + 2.0665 * step.ethanol.get::<kilogram>()
        };
        prop_assert!((water(1) - water(0)).abs() < 1e-9 && (water(3) - water(2)).abs() < 1e-9);
        prop_assert!((extract(1) - extract(0)).abs() < 1e-9 && (extract(3) - extract(2)).abs() < 1e-9);
        let brought = ledger.steps[2].brought_extract.unwrap().get::<kilogram>();
        prop_assert!((extract(2) - extract(1) - brought).abs() < 1e-9);
    }
}
