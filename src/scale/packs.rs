//! Which of the packs or bottles at hand to open.

use crate::recipe::PackSize;

/// Packs of one size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Packs<'a> {
    pub(super) each: &'a PackSize,
    /// That size in kilograms or litres.
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
pub(super) fn to_open<'a>(needed: f64, packs: &[Packs<'a>]) -> Option<Vec<Packs<'a>>> {
    let mut best = Best {
        left: f64::INFINITY,
        opened: None,
        choices: MOST_CHOICES,
    };
    let mut opened = Vec::with_capacity(packs.len());
    search(needed, packs, &mut opened, &mut best);
    best.opened
}

struct Best<'a> {
    left: f64,
    opened: Option<Vec<Packs<'a>>>,
    /// How many more choices may be looked at.
    choices: u32,
}

/// Tries every count of the first size and leaves the rest to the others; the last size is decided by what is missing.
/// What the others cannot make up for is not tried, so that each choice covers what is needed.
fn search<'a>(missing: f64, packs: &[Packs<'a>], opened: &mut Vec<Packs<'a>>, best: &mut Best<'a>) {
    let held = |packs: &[Packs<'_>]| packs.iter().map(Packs::held).sum::<f64>();
    if best.choices == 0 || missing > held(packs) + ROUNDING {
        return;
    }
    best.choices -= 1;
    let Some((first, others)) = packs.split_first() else {
        best.offer(-missing, opened);
        return;
    };
    let enough = (missing / first.size - ROUNDING).ceil().max(0.0);
    let most = (enough as u32).min(first.count);
    let without = (missing - held(others)) / first.size - ROUNDING;
    let fewest = without.ceil().clamp(0.0, f64::from(most)) as u32;
    let least = if others.is_empty() { most } else { fewest };
    for count in least..=most {
        opened.push(Packs { count, ..*first });
        search(
            missing - f64::from(count) * first.size,
            others,
            opened,
            best,
        );
        opened.pop();
    }
}

impl Packs<'_> {
    fn held(&self) -> f64 {
        self.size * f64::from(self.count)
    }
}

impl<'a> Best<'a> {
    fn offer(&mut self, left: f64, opened: &[Packs<'a>]) {
        let total = |opened: &[Packs<'_>]| opened.iter().map(|packs| packs.count).sum::<u32>();
        let fewer = self
            .opened
            .as_ref()
            .is_none_or(|known| total(opened) < total(known));
        if left < self.left - ROUNDING || (left <= self.left + ROUNDING && fewer) {
            self.left = left;
            self.opened = Some(opened.to_vec());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Written, litres};

    fn bottle(l: f64) -> PackSize {
        PackSize::Volume(Written::in_base_unit(litres(l)))
    }

    fn check(needed: f64, packs: &[(f64, u32)], expected: Option<&[u32]>) {
        let bottles: Vec<_> = packs.iter().map(|(size, _)| bottle(*size)).collect();
        let packs: Vec<_> = std::iter::zip(&bottles, packs)
            .map(|(each, (size, count))| Packs {
                each,
                size: *size,
                count: *count,
            })
            .collect();
        let opened = to_open(needed, &packs);
        let counts: Option<Vec<u32>> =
            opened.map(|opened| opened.iter().map(|packs| packs.count).collect());
        assert_eq!(counts.as_deref(), expected, "{needed} of {packs:?}");
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
        let each = bottle(1.0);
        let packs: Vec<_> = (1..=12)
            .map(|size| Packs {
                each: &each,
                size: 0.01 * f64::from(size),
                count: 100_000,
            })
            .collect();
        let opened = to_open(50_000.0, &packs).expect("78 000 L are there");
        let litres: f64 = opened.iter().map(Packs::held).sum();
        assert!(litres >= 50_000.0 - 1e-6, "{litres}");
    }
}
