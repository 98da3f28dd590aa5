//! Which of the packs or bottles at hand to open.

/// Packs of one size, kilograms or litres each.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Packs {
    pub(super) size: f64,
    pub(super) count: u32,
}

/// Choices that are compared: a cupboard of four sizes with a dozen bottles of each has a tenth of that. Beyond, the best
/// of those seen is good enough.
const MOST_CHOICES: u32 = 200_000;
/// Rounding of sums must not ask for one more bottle, litres or kilograms.
const ROUNDING: f64 = 1e-9;

/// How many of each to open so that `needed` is covered with the least left over, and then with the fewest packs. None
/// where all of them together do not cover it.
pub(super) fn to_open(needed: f64, packs: &[Packs]) -> Option<Vec<u32>> {
    let mut best = Best {
        left: f64::INFINITY,
        counts: None,
        choices: MOST_CHOICES,
    };
    let mut counts = Vec::with_capacity(packs.len());
    search(needed, packs, &mut counts, &mut best);
    best.counts
}

struct Best {
    left: f64,
    counts: Option<Vec<u32>>,
    /// How many more choices may be looked at.
    choices: u32,
}

/// Tries every count of the first size and leaves the rest to the others; the last size is decided by what is missing.
/// What the others cannot make up for is not tried, so that each choice covers what is needed.
fn search(missing: f64, packs: &[Packs], counts: &mut Vec<u32>, best: &mut Best) {
    let held = |packs: &[Packs]| packs.iter().map(Packs::held).sum::<f64>();
    if best.choices == 0 || missing > held(packs) + ROUNDING {
        return;
    }
    best.choices -= 1;
    let Some((first, others)) = packs.split_first() else {
        best.offer(-missing, counts);
        return;
    };
    let enough = (missing / first.size - ROUNDING).ceil().max(0.0);
    let most = (enough as u32).min(first.count);
    let without = (missing - held(others)) / first.size - ROUNDING;
    let fewest = without.ceil().clamp(0.0, f64::from(most)) as u32;
    let least = if others.is_empty() { most } else { fewest };
    for count in least..=most {
        counts.push(count);
        search(
            missing - f64::from(count) * first.size,
            others,
            counts,
            best,
        );
        counts.pop();
    }
}

impl Packs {
    fn held(&self) -> f64 {
        self.size * f64::from(self.count)
    }
}

impl Best {
    fn offer(&mut self, left: f64, counts: &[u32]) {
        let total = |counts: &[u32]| counts.iter().sum::<u32>();
        let fewer = self
            .counts
            .as_ref()
            .is_none_or(|known| total(counts) < total(known));
        if left < self.left - ROUNDING || (left <= self.left + ROUNDING && fewer) {
            self.left = left;
            self.counts = Some(counts.to_vec());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(needed: f64, packs: &[(f64, u32)], expected: Option<&[u32]>) {
        let packs: Vec<_> = packs
            .iter()
            .map(|(size, count)| Packs {
                size: *size,
                count: *count,
            })
            .collect();
        assert_eq!(
            to_open(needed, &packs).as_deref(),
            expected,
            "{needed} of {packs:?}"
        );
    }

    #[test]
    fn opens_what_leaves_least_over_and_then_fewest() {
        check(0.98, &[(0.7, 2), (0.33, 4)], Some(&[0, 3]));
        check(1.0, &[(0.7, 2), (0.33, 4)], Some(&[1, 1]));
        check(1.4, &[(0.7, 2), (0.35, 4)], Some(&[2, 0]));
        check(0.1, &[(0.7, 2), (0.33, 1)], Some(&[0, 1]));
        check(3.0, &[(0.7, 2), (0.33, 1)], None);
        check(0.0, &[(0.7, 2)], Some(&[0]));
        check(2.1, &[(0.7, 3)], Some(&[3]));
        check(175.0, &[(0.7, 250)], Some(&[250]));
    }

    #[test]
    fn many_sizes_take_no_longer_than_a_few() {
        let packs: Vec<_> = (1..=12)
            .map(|size| Packs {
                size: 0.01 * f64::from(size),
                count: 100_000,
            })
            .collect();
        let opened = to_open(50_000.0, &packs).expect("78 000 L are there");
        let litres: f64 = packs
            .iter()
            .zip(&opened)
            .map(|(p, n)| p.size * f64::from(*n))
            .sum();
        assert!(litres >= 50_000.0 - 1e-6, "{litres}");
    }
}
