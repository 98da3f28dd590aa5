//! Which of the packs or bottles at hand to open.

/// Packs of one size, kilograms or litres each.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Packs {
    pub(super) size: f64,
    pub(super) count: u32,
}

/// More packs of one size than this are not told apart.
const MOST: u32 = 200;

/// How many of each to open so that `needed` is covered with the least left over, and then with the fewest packs. None
/// where all of them together do not cover it.
pub(super) fn to_open(needed: f64, packs: &[Packs]) -> Option<Vec<u32>> {
    let mut best = Best {
        left: f64::INFINITY,
        counts: None,
    };
    let mut counts = Vec::with_capacity(packs.len());
    search(needed, packs, &mut counts, &mut best);
    best.counts
}

struct Best {
    left: f64,
    counts: Option<Vec<u32>>,
}

/// Tries every count of the first size and leaves the rest to the others; the last size is decided by what is missing.
fn search(missing: f64, packs: &[Packs], counts: &mut Vec<u32>, best: &mut Best) {
    let Some((first, others)) = packs.split_first() else {
        // Rounding of sums must not ask for one more bottle.
        if missing <= 1e-9 {
            best.offer(-missing, counts);
        }
        return;
    };
    let enough = (missing / first.size - 1e-9).ceil().max(0.0);
    let most = (enough as u32).min(first.count).min(MOST);
    let least = if others.is_empty() { most } else { 0 };
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

impl Best {
    fn offer(&mut self, left: f64, counts: &[u32]) {
        let total = |counts: &[u32]| counts.iter().sum::<u32>();
        let fewer = self
            .counts
            .as_ref()
            .is_none_or(|known| total(counts) < total(known));
        if left < self.left - 1e-9 || (left <= self.left + 1e-9 && fewer) {
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
    }
}
