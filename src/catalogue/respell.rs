//! Folded words written in the one way in which names are compared word by word.

/// The most words that a way of writing takes.
const LONGEST: usize = 4;

/// Calls `word` with each word of `folded`, written as the sorted table `same` says, and with the number of the first
/// word of `folded` that it stands for.
pub(super) fn respell<'k>(
    folded: &'k str,
    same: &'k [(&'k str, &'k str)],
    word: &mut dyn FnMut(&'k str, usize),
) {
    let mut rest = folded;
    let mut number = 0;
    while !rest.is_empty() {
        let (means, taken, count) = longest(rest, same).unwrap_or_else(|| {
            let end = rest.find(' ').unwrap_or(rest.len());
            (rest.get(..end).unwrap_or(rest), end, 1)
        });
        for said in means.split(' ') {
            word(said, number);
        }
        rest = rest.get(taken..).unwrap_or_default().trim_start();
        number += count;
    }
}

/// The longest run of first words that has a way of writing of its own, how many bytes it takes, and how many words.
fn longest<'k>(text: &str, same: &'k [(&'k str, &'k str)]) -> Option<(&'k str, usize, usize)> {
    let ends = text.match_indices(' ').map(|(end, _)| end);
    let mut bounds = [0; LONGEST];
    let ends = ends.chain([text.len()]).zip(&mut bounds);
    let count = ends.map(|(end, bound)| *bound = end).count();
    (1..=count).rev().find_map(|words| {
        let end = *bounds.get(words - 1)?;
        let run = text.get(..end)?;
        let at = same
            .binary_search_by(|(written, _)| (*written).cmp(run))
            .ok()?;
        Some((same.get(at)?.1, end, words))
    })
}
