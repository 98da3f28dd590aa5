//! Spreads that can be worked out on paper.

use super::super::cause::CauseKind;
use super::super::effect;
use super::super::figure::PredictedFigure;
use super::super::input::{Input, inputs};
use super::super::measure::Measurement;
use super::super::result::{Spread, causes};
use super::super::together;
use super::chance::WITHIN;
use super::{demo, effects, known, plan};

#[test]
fn shares_of_all_causes_make_a_whole() {
    let planned = demo();
    let worked = &planned.brews().target;
    let all = effects(worked, known(&planned, worked), &planned.predicted);
    let mut looked_at = 0;
    for at in 0..PredictedFigure::ALL.len() {
        let variance: f64 = all.iter().map(|effect| effect.by[at].powi(2)).sum();
        if variance > 0.0 {
            looked_at += 1;
            let causes = causes(&all, at, variance);
            let sum: f64 = causes.iter().map(|cause| cause.share.fraction()).sum();
            assert!((sum - 1.0).abs() < 1e-9, "{sum}");
            assert!(
                causes
                    .windows(2)
                    .all(|pair| pair[0].share.fraction() >= pair[1].share.fraction())
            );
        }
    }
    assert!(looked_at > 12, "{looked_at}");
}

/// By hand: a wort keeps its extract while more or less water boils off, so that its strength moves by itself times that water over
/// the wort's mass. 2.6 L/h for 75 min are 3.25 L; 7 % of that are 0.2271 kg.
#[test]
fn evaporation_moves_the_gravity_as_by_hand() {
    let planned = demo();
    let worked = &planned.brews().target;
    let all = effects(worked, known(&planned, worked), &planned.predicted);
    let evaporation = all
        .iter()
        .find(|effect| effect.kind == CauseKind::Evaporation)
        .unwrap();
    let plato = planned.predicted.original.unwrap().plato();
    let mass_kg = worked.brewed.boiled.wort.mass_kg();
    let by_hand = plato * 0.07 * 3.25 * 0.9982 / mass_kg;
    let found = evaporation.by[0];
    assert!(
        (found / by_hand - 1.0).abs() < 0.002,
        "{found} against {by_hand}"
    );
    assert!(found > 0.2 && found < 0.5, "{found}");
    // And the batch by as much water.
    let batch = PredictedFigure::ALL
        .iter()
        .position(|f| *f == PredictedFigure::Batch)
        .unwrap();
    let found_l = evaporation.by[batch];
    assert!((found_l + 0.2275).abs() < 0.005, "{found_l}");
}

/// By hand: 100 g of pellets at 8 ± 2.5 L/kg keep 0.8 ± 0.25 L, so that as much more or less comes into the fermenter.
#[test]
fn hops_keep_wort_as_by_hand() {
    let planned = plan(
        "recipe Ale\nbatch 20 L into fermenter\ntarget original 12 P\nmash\n  4 kg pale ale malt\nboil 60 min\n  100 g saaz, pellet at 10 min\nbrewhouse Home\n  batch 20 L into fermenter\n",
    );
    let worked = &planned.brews().target;
    let all = effects(worked, known(&planned, worked), &planned.predicted);
    let kept = all.iter().find(|effect| effect.kind == CauseKind::HopsKeep);
    let kg: f64 = planned
        .additions
        .iter()
        .filter(|a| a.name.contains("saaz"))
        .filter_map(|a| a.mass)
        .map(|mass| mass.get::<uom::si::mass::kilogram>())
        .sum();
    let batch = PredictedFigure::ALL
        .iter()
        .position(|f| *f == PredictedFigure::Batch)
        .unwrap();
    let found = kept.unwrap().by[batch];
    assert!(kg > 0.05 && (found + 2.5 * kg).abs() < 0.01, "{found} {kg}");
}

/// The sigma of what rests on defaults, and what a measurement would leave of it.
#[test]
fn the_measurement_named_narrows_most() {
    let text = "recipe Ale\nbatch 20 L into fermenter\ntarget original 12 P, bitterness 25 IBU\nmash\n  100 % pale ale malt\n  \
                rest 66 C for 60 min\nboil 60 min\n  25 IBU saaz at 60 min\nbrewhouse Home\n  batch 20 L into fermenter\n";
    let planned = plan(text);
    let spread = planned.spread.unwrap();
    let measure = |figure| {
        spread
            .measure
            .iter()
            .find(|measure| measure.figure == figure)
            .unwrap()
    };
    // 25 % of the model fall to 10 when a laboratory has looked at a beer of the plant.
    let bitterness = measure(PredictedFigure::Bitterness);
    assert_eq!(bitterness.what, Measurement::BeerBitterness);
    let whole = spread.of(PredictedFigure::Bitterness).unwrap().one_sigma;
    let ibu = planned.predicted.bitterness.unwrap().ibu();
    let by_hand = (whole * whole - ibu * ibu * (0.25 * 0.25 - 0.10 * 0.10)).sqrt();
    assert!((bitterness.would_leave - by_hand).abs() < 1e-9);
    for measure in &spread.measure {
        let whole = spread.of(measure.figure).unwrap().one_sigma;
        assert!(measure.would_leave < 0.97 * whole, "{measure:?}");
    }
    // Its own evaporation, stated, is known better, and the gravity with it.
    let stated =
        text.to_owned() + "  evaporation 2.6 L/h\n  absorption 0.8 L/kg\n  conversion 95 %\n";
    let stated = plan(&stated).spread.unwrap();
    let sigma = |spread: &Spread| spread.of(PredictedFigure::Original).unwrap().one_sigma;
    assert!(
        sigma(&stated) < 0.75 * sigma(&spread),
        "{} {}",
        sigma(&stated),
        sigma(&spread)
    );
}

/// A recipe of 121 malts and 20 hops, each another lot.
fn of_many_lots() -> crate::scale::Plan {
    let malts = ["munich malt", "wheat malt", "flaked oats", "chocolate malt"];
    let lines: Vec<String> = (0..120)
        .map(|at| {
            let (malt, g) = (malts[at % 4], 20 + 7 * (at % 13));
            format!("  {g} g {malt}, extract {}.{} %\n", 70 + at % 7, at % 10)
        })
        .collect();
    let hops: Vec<String> = (0..20)
        .map(|at| {
            format!(
                "  {} g saaz, {}.5 % alpha at {} min\n",
                2 + at % 3,
                3 + at % 4,
                5 + at
            )
        })
        .collect();
    let (lines, hops) = (lines.concat(), hops.concat());
    plan(&format!(
        "recipe Ale\nbatch 20 L into fermenter\ntarget original 14 P\nmash\n  2 kg pale ale malt\n{lines}boil 60 min\n{hops}brewhouse Home\n  batch 20 L into fermenter\n"
    ))
}

/// With fewer runs than inputs the spread is all but the same: what is small goes by its weight.
#[test]
fn what_is_small_counts_together() {
    let planned = of_many_lots();
    let worked = &planned.brews().target;
    let known = known(&planned, worked);
    let all = inputs(worked, known);
    let few = together::at_most(all.clone(), worked, 40);
    assert!(
        all.len() > 150 && few.len() < 60,
        "{} {}",
        all.len(),
        few.len()
    );
    let sigma = |inputs: &[Input], at: usize| {
        let found = effect::effects_of(worked, inputs);
        let of_inputs = found.iter().filter(|effect| !effect.of_a_model());
        of_inputs
            .map(|effect| effect.by[at].powi(2))
            .sum::<f64>()
            .sqrt()
    };
    let mut looked_at = 0;
    for (at, figure) in PredictedFigure::ALL.into_iter().enumerate() {
        let (whole, less) = (sigma(&all, at), sigma(&few, at));
        if whole > 1e-6 {
            looked_at += 1;
            assert!(
                (less / whole - 1.0).abs() < WITHIN,
                "{figure:?}: {less} {whole}"
            );
        }
    }
    assert!(looked_at > 8, "{looked_at}");
    assert!(planned.spread.is_some());
}

/// Two brews of the same lots share them, whether each counts alone or the small ones together: of a difference from oneself nothing is
/// left that lots cause.
#[test]
fn small_lots_are_shared_too() {
    let planned = of_many_lots();
    let worked = &planned.brews().target;
    let all = inputs(worked, known(&planned, worked));
    let few = together::at_most(all.clone(), worked, 40);
    assert!(few.iter().any(|input| {
        let lots = input.of.as_ref();
        lots.is_some_and(|lots| lots.ingredients.len() > 20)
    }));
    for inputs in [&all, &few] {
        let here = effect::effects_of(worked, inputs);
        let there = effect::shared_effects(&here, worked, known(&planned, worked));
        let left = effect::of_difference(&here, &there);
        let of_lots = |effects: &[effect::Effect]| -> f64 {
            let of_lots = |effect: &&effect::Effect| effect.kind == CauseKind::Extract;
            let of_lots = effects.iter().filter(of_lots);
            of_lots.map(|effect| effect.by[0].abs()).sum()
        };
        assert!(of_lots(&here) > 0.01, "{}", of_lots(&here));
        assert!(of_lots(&left) < 1e-9, "{}", of_lots(&left));
    }
}
