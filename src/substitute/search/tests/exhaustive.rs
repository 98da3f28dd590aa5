//! The bounded search held against the exhaustive one.

use super::*;

#[test]
fn bounds_drop_nothing() {
    let mut numbers = SeededNumbers(99);
    let mut spared = 0.0;
    for case in 0..60 {
        let mut problem = random(&mut numbers, 40, case % 2 == 0);
        if case % 5 == 0 {
            // As for hops and some ways of juices: a second equality that states nothing.
            problem.right[1] = 0.0;
            for column in &mut problem.columns {
                column.brings[1] = 0.0;
            }
            if let Some(slack) = &mut problem.slack {
                slack.brings[1] = 0.0;
            }
        }
        let (bounded, exhaustive) = both_ways(&problem, KEEP, case);
        spared += bounded.solved as f64 / exhaustive.solved as f64;
    }
    // Random malts resemble each other less than real ones, so that little can be ruled out early.
    assert!(spared < 0.6 * 60.0, "the bounds spare too little: {spared}");
}

/// The bounded and the exhaustive search, which must find the same.
fn both_ways(problem: &Problem, keep: Keep, case: usize) -> (Ranking, Ranking) {
    let table = Table::new(problem);
    let [bounded, exhaustive] =
        [Effort::Bounded, Effort::Exhaustive].map(|effort| table.search(keep, effort, &|_| true));
    assert_eq!(bounded.supports, exhaustive.supports, "case {case}");
    assert_eq!(bounded.leaders, exhaustive.leaders, "case {case}");
    (bounded, exhaustive)
}

/// A cheap candidate counted twice would be worth more than a true triple where lots are small and others are dear.
#[test]
fn a_small_lot_is_counted_once() {
    let keep = Keep {
        supports: 1,
        leaders: 5,
    };
    let mut numbers = SeededNumbers(7);
    let mut triples = 0;
    for case in 0..1000 {
        let mut problem = random(&mut numbers, 12, case % 2 == 0);
        problem.part_cost = 0.001;
        for column in &mut problem.columns {
            column.high = numbers.between(0.2, 0.5);
            column.cost = 0.2 * numbers.below(6) as f64;
        }
        let (bounded, _) = both_ways(&problem, keep, case);
        triples += bounded.leaders.iter().filter(|(_, f)| f.count == 3).count();
    }
    assert!(triples > 1000, "{triples}");
}

/// All features times a factor, and all costs times its square, give the same blends and values times the square. With a
/// power of two this is so to the last bit.
#[test]
fn the_scale_of_features_and_costs_does_not_matter() {
    const FACTOR: f64 = 16.0;
    const SQUARE: f64 = FACTOR * FACTOR;
    let mut numbers = SeededNumbers(16);
    for case in 0..60 {
        let problem = random(&mut numbers, 20, case % 2 == 0);
        let mut large = problem.clone();
        let columns = large.columns.iter_mut();
        let features = columns.flat_map(|column| {
            column.cost *= SQUARE;
            &mut column.features
        });
        features
            .chain(&mut large.target)
            .for_each(|feature| *feature *= FACTOR);
        large.part_cost *= SQUARE;
        if let Some(band) = &mut large.band {
            band.low.price *= SQUARE;
            band.high.price *= SQUARE;
        }
        if let Some(slack) = &mut large.slack {
            slack.price *= SQUARE;
            slack.if_needed = slack.if_needed.map(|cost| cost * SQUARE);
            slack.features.iter_mut().for_each(|f| *f *= FACTOR);
        }
        let (small, _) = both_ways(&problem, KEEP, case);
        let (large, _) = both_ways(&large, KEEP, case);
        assert_eq!(small.supports.len(), large.supports.len(), "case {case}");
        for (a, b) in small.supports.iter().zip(&large.supports) {
            let larger = Found {
                distance: SQUARE * a.distance,
                value: SQUARE * a.value,
                ..*a
            };
            assert_eq!(larger, *b, "case {case}");
        }
    }
}

/// Programs solved and figures held grow with the candidates and no faster, from where blends are no longer sought among all.
#[test]
fn what_is_solved_and_held_has_an_end() {
    let mut numbers = SeededNumbers(3);
    let problem = |numbers: &mut SeededNumbers, count| Problem {
        // A second part costs more than the best of many singles misses.
        part_cost: 2.0,
        ..random(numbers, count, true)
    };
    for count in [MOST_BLENDED, 4 * MOST_BLENDED] {
        let problem = problem(&mut numbers, count);
        let table = Table::new(&problem);
        let found = table.search(KEEP, Effort::Bounded, &|_| true);
        assert!(found.solved < 3 * count, "{count}: {}", found.solved);
        let blended = table.order().get(..MOST_BLENDED).unwrap();
        assert_eq!(Free::new(&problem, blended).count(), MOST_BLENDED);
    }
}
