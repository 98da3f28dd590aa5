//! Sorting of lists that are short or sorted seldom.
//!
//! The compiler makes the standard library's sort anew for every type and comparison, some two thousand lines each. Here it is
//! made once, for places in a list. Where time counts, the standard sort of the values themselves is faster.

use std::cmp::Ordering;

/// Sorts by a comparison; what compares equal stays in its order.
pub(crate) fn sort_by<T>(items: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    let by_place = |a: usize, b: usize| match (items.get(a), items.get(b)) {
        (Some(a), Some(b)) => compare(a, b),
        _ => a.cmp(&b),
    };
    let ranks = ranks(items.len(), &by_place);
    settle(ranks, &mut |a, b| items.swap(a, b));
}

/// Sorts by a key; what has equal keys stays in its order.
pub(crate) fn sort_by_key<T, K: Ord>(items: &mut [T], key: impl Fn(&T) -> K) {
    sort_by(items, |a, b| key(a).cmp(&key(b)));
}

/// For each place the one to which its item goes.
fn ranks(count: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<usize> {
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|a, b| compare(*a, *b));
    let mut ranks = vec![0; count];
    for (rank, place) in order.into_iter().enumerate() {
        if let Some(known) = ranks.get_mut(place) {
            *known = rank;
        }
    }
    ranks
}

/// Brings each item to its rank: every swap settles at least one for good.
fn settle(mut ranks: Vec<usize>, swap: &mut dyn FnMut(usize, usize)) {
    for place in 0..ranks.len() {
        while let Some(rank) = ranks.get(place).copied()
            && rank != place
        {
            swap(place, rank);
            ranks.swap(place, rank);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_are_sorted_as_the_standard_library_sorts_them() {
        // A linear congruential generator (Knuth's MMIX constants, from memory).
        let mut state = 1_u64;
        for count in [0_usize, 1, 2, 3, 10, 100, 1000] {
            let items: Vec<(u64, usize)> = (0..count)
                .map(|at| {
                    state = state
                        .wrapping_mul(6_364_136_223_846_793_005)
                        .wrapping_add(1_442_695_040_888_963_407);
                    // Few keys, so that many are equal.
                    ((state >> 33) % 17, at)
                })
                .collect();
            let (mut one, mut other) = (items.clone(), items);
            sort_by_key(&mut one, |(key, _)| *key);
            other.sort_by_key(|(key, _)| *key);
            assert_eq!(one, other);
            sort_by(&mut one, |a, b| b.1.cmp(&a.1));
            other.sort_by_key(|(_, place)| std::cmp::Reverse(*place));
            assert_eq!(one, other);
        }
    }
}
