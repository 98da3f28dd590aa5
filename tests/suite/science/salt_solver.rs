//! Salts for a water against a general-purpose interior-point solver (clarabel), on the catalogue's salts. That the
//! least squares beneath are least is held by their conditions of optimality in `src/numeric/nnls.rs`.

use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettingsBuilder, DefaultSolver, IPSolver as _, NonnegativeConeT, SolverStatus, ZeroConeT,
};
use wortwright::catalogue::{Catalogue, EntryRef, Equivalents, IonYield, Kind, WaterAgent};
use wortwright::quantity::Concentration;
use wortwright::science::water::{Ion, Ions, WaterTreatment};

/// Numbers that look random and are the same in every run (Marsaglia's xorshift, from memory).
struct Numbers(u64);

impl Numbers {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        low + (high - low) * (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn one_in(&mut self, count: u32) -> bool {
        self.between(0.0, f64::from(count)) < 1.0
    }
}

fn salts() -> Vec<Ions> {
    let catalogue = Catalogue::builtin();
    let salts: Vec<_> = catalogue
        .entries()
        .filter_map(|entry| match entry {
            EntryRef::WaterAgent(row) if row.kind() == Kind::Salt => Some(brought(row)),
            _ => None,
        })
        .filter(|salt| charges(salt) != [0.0; 7])
        .collect();
    assert!(salts.len() > 5, "{}", salts.len());
    salts
}

/// What 1 g/L of a salt brings.
fn brought(row: &WaterAgent) -> Ions {
    let ions = row.ions.unwrap_or_default();
    let brought = [
        (Ion::Calcium, ions.calcium),
        (Ion::Magnesium, ions.magnesium),
        (Ion::Sodium, ions.sodium),
        (Ion::Potassium, ions.potassium),
        (Ion::Sulphate, ions.sulphate),
        (Ion::Chloride, ions.chloride),
    ]
    .into_iter()
    .fold(Ions::default(), |water, (ion, yields)| {
        water.with(ion, mg(yields.map_or(0.0, IonYield::milligrams_per_gram)))
    });
    let meq = row
        .alkalinity
        .map_or(0.0, Equivalents::milliequivalents_per_gram);
    // 50.043 mg of calcium carbonate a milliequivalent.
    brought.with(Ion::Alkalinity, mg(50.043 * meq))
}

fn mg(value: f64) -> Concentration {
    Concentration::from_grams_per_litre(value / 1000.0).unwrap()
}

/// Charges of every ion, mEq/L.
fn charges(water: &Ions) -> [f64; 7] {
    Ion::ALL.map(|ion| ion.equivalents(water.of(ion)).milliequivalents_per_litre())
}

fn squared(values: impl Iterator<Item = f64>) -> f64 {
    values.map(|v| v * v).sum()
}

/// The reached ions of the least misfit by the general solver: minimise |r|² under Ax + r = b, x ≥ 0, and Cx ≤ d.
fn general(
    columns: &[Vec<f64>],
    target: &[f64],
    (limits, room): (&[Vec<f64>], &[f64]),
) -> Option<Vec<f64>> {
    let (n, m) = (columns.len(), target.len());
    // The solver works on numbers near one.
    let size = squared(target.iter().copied()).sqrt().max(1e-12);
    let mut rows: Vec<Vec<f64>> = (0..m)
        .map(|row| {
            let residual = (0..m).map(|other| f64::from(u8::from(other == row)));
            columns.iter().map(|c| c[row]).chain(residual).collect()
        })
        .collect();
    let mut right: Vec<f64> = target.iter().map(|b| b / size).collect();
    for i in 0..n {
        rows.push(
            (0..n + m)
                .map(|j| if i == j { -1.0 } else { 0.0 })
                .collect(),
        );
        right.push(0.0);
    }
    for (limit, room) in limits.iter().zip(room) {
        rows.push(limit.iter().copied().chain((0..m).map(|_| 0.0)).collect());
        right.push(room / size);
    }
    let squares: Vec<Vec<f64>> = (0..n + m)
        .map(|i| {
            (0..n + m)
                .map(|j| if i == j && i >= n { 2.0 } else { 0.0 })
                .collect()
        })
        .collect();
    let cones = [ZeroConeT(m), NonnegativeConeT(n + limits.len())];
    // The tightest tolerance is out of reach now and then.
    [1e-12, 1e-11, 1e-10].into_iter().find_map(|tolerance| {
        let settings = DefaultSettingsBuilder::default()
            .verbose(false)
            .tol_gap_abs(tolerance)
            .tol_gap_rel(tolerance)
            .tol_feas(tolerance)
            .build()
            .unwrap();
        let (squares, rows) = (sparse(&squares, n + m), sparse(&rows, n + m));
        let linear = vec![0.0; n + m];
        let mut solver =
            DefaultSolver::new(&squares, &linear, &rows, &right, &cones, settings).unwrap();
        solver.solve();
        (solver.solution.status == SolverStatus::Solved).then(|| {
            let residual = &solver.solution.x[n..];
            let pairs = target.iter().zip(residual);
            pairs.map(|(b, r)| b - r * size).collect()
        })
    })
}

fn sparse(rows: &[Vec<f64>], columns: usize) -> CscMatrix<f64> {
    let (mut starts, mut places, mut entries) = (vec![0], Vec::new(), Vec::new());
    for column in 0..columns {
        for (row, values) in rows.iter().enumerate() {
            if values[column] != 0.0 {
                places.push(row);
                entries.push(values[column]);
            }
        }
        starts.push(entries.len());
    }
    CscMatrix::new(rows.len(), columns, starts, places, entries)
}

fn columns_of(salts: &[Ions], wanted: &[usize]) -> Vec<Vec<f64>> {
    let column = |salt: &Ions| wanted.iter().map(|ion| charges(salt)[*ion]).collect();
    salts.iter().map(column).collect()
}

#[test]
fn salts_under_caps_come_as_near_as_a_general_solver() {
    let salts = salts();
    let caps = [
        (Ion::Calcium, 150.0),
        (Ion::Magnesium, 30.0),
        (Ion::Sodium, 100.0),
        (Ion::Sulphate, 250.0),
        (Ion::Chloride, 150.0),
    ]
    .map(|(ion, much)| (ion, mg(much)));
    let mut numbers = Numbers(0x9e37_79b9_7f4a_7c15);
    for _ in 0..200 {
        let water = Ion::ALL.into_iter().fold(Ions::default(), |water, ion| {
            water.with(ion, mg(numbers.between(0.0, 60.0)))
        });
        let wanted: Vec<_> = Ion::ALL
            .into_iter()
            .enumerate()
            .filter(|_| numbers.one_in(2))
            .collect();
        let wishes: Vec<_> = wanted
            .iter()
            .map(|(_, ion)| (*ion, mg(numbers.between(0.0, 250.0))))
            .collect();
        if wishes.is_empty() {
            continue;
        }
        let treatment = WaterTreatment {
            start: water,
            wanted: wishes.iter().copied().collect(),
            caps: caps.into_iter().collect(),
        };
        let found = treatment.by_salts(&salts).unwrap();
        let places: Vec<_> = wanted.iter().map(|(place, _)| *place).collect();
        let start = charges(&water);
        let target: Vec<f64> = wishes
            .iter()
            .zip(&places)
            .map(|((ion, much), place)| {
                ion.equivalents(*much).milliequivalents_per_litre() - start[*place]
            })
            .collect();
        let free: Vec<_> = (0..7)
            .filter(|place| !places.contains(place))
            .filter_map(|place| {
                let (ion, cap) = caps.iter().find(|(ion, _)| *ion == Ion::ALL[place])?;
                let cap = ion.equivalents(*cap).milliequivalents_per_litre();
                Some((place, (cap - start[place]).max(0.0)))
            })
            .collect();
        let limits: Vec<Vec<f64>> = free
            .iter()
            .map(|(place, _)| salts.iter().map(|salt| charges(salt)[*place]).collect())
            .collect();
        let room: Vec<f64> = free.iter().map(|(_, room)| *room).collect();
        let theirs = general(&columns_of(&salts, &places), &target, (&limits, &room))
            .expect("the general solver settles");
        let now = charges(&found.reached);
        let ours: Vec<f64> = places
            .iter()
            .map(|place| now[*place] - start[*place])
            .collect();
        let misfit = |ions: &[f64]| squared(ions.iter().zip(&target).map(|(a, b)| a - b));
        let farther = misfit(&ours) - misfit(&theirs);
        // Each salt may be left out at a cost of 1e-6 (mEq/L)². A cap counts a million times a wish, so that the misfit
        // falls by some millionths of itself where a cap is leant on.
        let room_for_rules = 1e-6 * (salts.len() as f64) + 1e-5 * misfit(&theirs);
        assert!(
            farther.abs() <= room_for_rules,
            "{farther}: {wishes:?} {water:?}"
        );
        for (place, room) in free {
            assert!(now[place] - start[place] <= room + 1e-4);
        }
    }
}
