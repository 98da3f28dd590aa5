use super::*;
use crate::numeric::tests::{General, SeededNumbers, Verdict};

/// A random program; some with dependent rows, with one row, with equal columns or with fewer features than variables.
fn random(numbers: &mut SeededNumbers) -> Program {
    let size = 1 + numbers.below(MOST);
    let features = 1 + numbers.below(6);
    let mut columns: Vec<Vec<f64>> = (0..size)
        .map(|_| (0..features).map(|_| numbers.between(-1.0, 1.0)).collect())
        .collect();
    if size > 1 && numbers.below(5) == 0 {
        columns[1] = columns[0].clone();
    }
    let target: Vec<f64> = (0..features).map(|_| numbers.between(-1.0, 1.0)).collect();
    let product = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let mut program = Program {
        size,
        gram: [[0.0; MOST]; MOST],
        linear: [0.0; MOST],
        constant: product(&target, &target),
        rows: [[0.0; MOST]; 2],
        right: [0.0; 2],
        low: [0.0; MOST],
        high: [0.0; MOST],
    };
    for i in 0..size {
        program.linear[i] = product(&columns[i], &target);
        program.low[i] = numbers.between(-0.3, 0.2);
        program.high[i] = program.low[i] + numbers.between(0.05, 1.5);
        program.rows[0][i] = numbers.between(0.3, 1.0);
        program.rows[1][i] = numbers.between(0.0, 3.0);
        for j in 0..size {
            program.gram[i][j] = product(&columns[i], &columns[j]);
        }
    }
    program.right = [numbers.between(0.2, 1.2), numbers.between(0.2, 2.0)];
    match numbers.below(6) {
        0 => {
            program.rows[1] = [0.0; MOST];
            program.right[1] = 0.0;
        }
        1 => {
            let factor = numbers.between(0.5, 2.0);
            for i in 0..size {
                program.rows[1][i] = factor * program.rows[0][i];
            }
            program.right[1] = factor * program.right[0];
        }
        _ => {}
    }
    program
}

fn general(program: &Program) -> General {
    let n = program.size;
    let cut = |v: &Vector| v[..n].to_vec();
    let used: Vec<usize> = (0..2)
        .filter(|r| program.rows[*r].iter().any(|a| *a != 0.0))
        .collect();
    General {
        gram: program.gram[..n].iter().map(cut).collect(),
        linear: cut(&program.linear),
        rows: used.iter().map(|r| cut(&program.rows[*r])).collect(),
        right: used.iter().map(|r| program.right[*r]).collect(),
        low: cut(&program.low),
        high: cut(&program.high),
    }
}

fn residuals(program: &Program, z: &Vector) -> [f64; 2] {
    std::array::from_fn(|r| dot(&program.in_use(&program.rows[r]), z) - program.right[r])
}

#[test]
fn the_closed_forms_agree_with_a_general_solver() {
    let mut numbers = SeededNumbers(0x9E37_79B9_7F4A_7C15);
    let (mut met, mut missed, mut unsure, mut border) = (0, 0, 0, 0);
    for case in 0..800 {
        let program = random(&mut numbers);
        let other = general(&program).solve();
        match (program.solve(), other) {
            (Ok(least), Verdict::Least(value)) => {
                met += 1;
                let value = value + program.constant;
                assert!(
                    (least.value - value).abs() <= 1e-6 * value.abs().max(1.0),
                    "case {case}: {} against {value}: {program:?}",
                    least.value
                );
                for off in residuals(&program, &least.at) {
                    assert!(off.abs() < 1e-9, "case {case}: {off}");
                }
                assert!(program.allows(&least.at));
            }
            (_, Verdict::Unsure) => unsure += 1,
            (Err(miss), Verdict::Impossible) => {
                missed += 1;
                assert!(miss.by.abs() > 0.0, "case {case}: {miss:?}");
            }
            (ours, theirs) => {
                // At the border of what is possible the two may differ by their tolerance; none of these lies there.
                border += 1;
                let by = match ours {
                    Err(miss) => miss.by.abs(),
                    Ok(least) => residuals(&program, &least.at)
                        .iter()
                        .fold(0.0, |most: f64, r| most.max(r.abs())),
                };
                assert!(by < 1e-7, "case {case}: {ours:?} against {theirs:?}");
            }
        }
    }
    assert!(met > 200 && missed > 100, "{met} met, {missed} missed");
    assert!(unsure < 16, "{unsure}");
    assert_eq!(border, 0);
}

#[test]
fn the_nearest_misses_no_more_than_a_general_solver_does() {
    let mut numbers = SeededNumbers(42);
    let mut looked_at = 0;
    for _ in 0..400 {
        let program = random(&mut numbers);
        let Err(miss) = program.solve() else { continue };
        // Least squares of the missed row alone, under the other row where that one is kept.
        let n = program.size;
        let (row, keeps) = match miss.equality {
            Equality::First => (0, None),
            Equality::Second => (1, Some(0)),
        };
        if program.rows[row].iter().all(|a| *a == 0.0) {
            continue;
        }
        let a = &program.rows[row];
        let least = General {
            gram: (0..n)
                .map(|i| (0..n).map(|j| a[i] * a[j]).collect())
                .collect(),
            linear: (0..n).map(|i| a[i] * program.right[row]).collect(),
            rows: keeps
                .iter()
                .map(|r: &usize| program.rows[*r][..n].to_vec())
                .collect(),
            right: keeps.iter().map(|r| program.right[*r]).collect(),
            low: program.low[..n].to_vec(),
            high: program.high[..n].to_vec(),
        };
        let Verdict::Least(value) = least.solve() else {
            continue;
        };
        let off = (value + program.right[row].powi(2)).max(0.0).sqrt();
        assert!(
            (miss.by.abs() - off).abs() < 1e-5,
            "{} against {off}",
            miss.by
        );
        looked_at += 1;
    }
    assert!(looked_at > 50);
}

#[test]
fn a_hand_worked_segment() {
    // x + y = 1, no second row, squared distance to (0.2, 0.6): free minimum (0.3, 0.7), value 0.02.
    let mut program = Program {
        size: 2,
        gram: [
            [1.0, 0.0, 0.0, 0.0],
            [0.0, 1.0, 0.0, 0.0],
            [0.0; 4],
            [0.0; 4],
        ],
        linear: [0.2, 0.6, 0.0, 0.0],
        constant: 0.4,
        rows: [[1.0, 1.0, 0.0, 0.0], [0.0; 4]],
        right: [1.0, 0.0],
        low: [0.0; 4],
        high: [1.0; 4],
    };
    let least = program.solve().unwrap();
    assert!((least.at[0] - 0.3).abs() < 1e-15 && (least.at[1] - 0.7).abs() < 1e-15);
    assert!((least.value - 0.02).abs() < 1e-15);
    // Clipped at y = 0.5: x = 0.5, value 0.09 + 0.01.
    program.high[1] = 0.5;
    let least = program.solve().unwrap();
    assert_eq!(least.at[..2], [0.5, 0.5]);
    assert!((least.value - 0.1).abs() < 1e-15);
    assert_eq!(program.minimum(0.1 - 1e-12), None);
    // Out of reach: 0.4 + 0.5 is 0.1 short of 1.
    program.high[0] = 0.4;
    let miss = program.solve().unwrap_err();
    assert_eq!(miss.equality, Equality::First);
    assert!((miss.by + 0.1).abs() < 1e-15);
}

/// Columns of which the second is the first but for a trifle, so that the parabola is nearly flat between them.
fn nearly_flat(numbers: &mut SeededNumbers) -> Program {
    let mut program = random(numbers);
    if program.size < 2 {
        return program;
    }
    let trifle = 10_f64.powf(numbers.between(-9.0, -1.0));
    let features = 1 + numbers.below(6);
    let mut columns: Vec<Vec<f64>> = (0..program.size)
        .map(|_| (0..features).map(|_| numbers.between(-1.0, 1.0)).collect())
        .collect();
    columns[1] = columns[0]
        .iter()
        .map(|a| a + trifle * numbers.between(-1.0, 1.0))
        .collect();
    let target: Vec<f64> = (0..features).map(|_| numbers.between(-1.0, 1.0)).collect();
    let product = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    program.constant = product(&target, &target);
    for i in 0..program.size {
        program.linear[i] = product(&columns[i], &target);
        for j in 0..program.size {
            program.gram[i][j] = product(&columns[i], &columns[j]);
        }
    }
    if numbers.below(2) == 0 {
        // A price on the last: then the parabola may fall along its flat way.
        program.linear[program.size - 1] -= numbers.between(-0.2, 0.2);
    }
    program
}

/// The least value by trying every face of the box: each variable is free, at its lower or at its upper bound, and the
/// free ones are solved for without bounds. The least point lies inside of one of these, or along its flat way in one
/// with fewer free variables.
fn by_every_face(program: &Program) -> Option<f64> {
    let Rank::Plane(plane) = program.plane() else {
        return None;
    };
    if plane.dimensions == 0 {
        return program
            .allows(&plane.base)
            .then(|| program.within(plane.base).value);
    }
    let inside = program
        .free_minimum(&plane)
        .filter(|z| program.allows(z))
        .map(|z| program.within(z).value);
    let on_faces = (0..program.size)
        .flat_map(|i| [(i, program.low[i]), (i, program.high[i])])
        .filter_map(|(i, bound)| by_every_face(&program.fixed(i, bound)));
    on_faces.chain(inside).min_by(f64::total_cmp)
}

#[test]
fn near_ties_are_not_given_up_early() {
    let mut numbers = SeededNumbers(0x5EED);
    let (mut met, mut none) = (0, 0);
    for case in 0..20_000 {
        let program = nearly_flat(&mut numbers);
        let brute = by_every_face(&program);
        let Some(least) = program.minimum(f64::INFINITY) else {
            assert_eq!(brute, None, "case {case}: {program:?}");
            none += 1;
            continue;
        };
        met += 1;
        if let Some(brute) = brute {
            let size = brute.abs().max(1.0);
            assert!(
                (least.value - brute).abs() < 1e-12 * size,
                "case {case}: {} against {brute}",
                least.value
            );
        }
        // Whatever is worth a trifle more than the least value finds it again.
        for more in [1e-13, 1e-9, 1e-6] {
            let worth = least.value + more * least.value.abs().max(1.0);
            assert!(
                program.minimum(worth).is_some(),
                "case {case}: given up at {more} above {}: {program:?}",
                least.value
            );
        }
    }
    assert!(met > 5000 && none > 1000, "{met} met, {none} not");
}

/// Squared distance to the origin under two rows, each figure from nothing to a thousand.
fn nearest_to_nothing(size: usize, rows: [Vector; 2], right: [f64; 2]) -> Program {
    Program {
        size,
        gram: std::array::from_fn(|i| std::array::from_fn(|j| if i == j { 1.0 } else { 0.0 })),
        linear: [0.0; MOST],
        constant: 0.0,
        rows,
        right,
        low: [0.0; MOST],
        high: [1000.0; MOST],
    }
}

#[test]
fn rows_that_state_nothing_or_the_same_twice() {
    let none = [0.0; MOST];
    let sum = [1.0, 1.0, 0.0, 0.0];
    let twice = [2.0, 2.0, 0.0, 0.0];
    let halves = Some(vec![0.5, 0.5]);
    for (rows, right, expected) in [
        ([sum, none], [1.0, 0.0], halves.clone()),
        ([none, sum], [0.0, 1.0], halves.clone()),
        ([sum, twice], [1.0, 2.0], halves.clone()),
        ([twice, sum], [2.0, 1.0], halves),
        // Nothing is one; one is two.
        ([sum, none], [1.0, 1.0], None),
        ([none, sum], [1.0, 1.0], None),
        ([none, none], [0.0, 0.0], None),
        ([sum, twice], [1.0, 1.0], None),
        ([sum, twice], [1.0, 3.0], None),
    ] {
        let program = nearest_to_nothing(2, rows, right);
        let found = program.minimum(f64::INFINITY);
        let at = found.map(|least| least.at[..2].to_vec());
        assert_eq!(at, expected, "{rows:?} {right:?}");
    }
}

#[test]
fn a_bound_is_kept_but_for_rounding() {
    // The slip is a share of 1e-10 of the bounds: 1e-7 of a thousand.
    for (beyond, fits) in [(5e-8, true), (5e-7, false)] {
        let one = [1.0, 0.0, 0.0, 0.0];
        let point = nearest_to_nothing(1, [one, [0.0; MOST]], [1000.0 + beyond, 0.0]);
        let found = point.minimum(f64::INFINITY);
        assert_eq!(found.is_some(), fits, "{beyond}");
        if let Some(least) = found {
            assert_eq!(least.at[0], 1000.0);
        }
        let both = [1.0, 1.0, 0.0, 0.0];
        let corner = nearest_to_nothing(2, [both, [0.0; MOST]], [2000.0 + 2.0 * beyond, 0.0]);
        assert_eq!(
            corner.minimum(f64::INFINITY).is_some(),
            fits,
            "{beyond} twice"
        );
    }
}
