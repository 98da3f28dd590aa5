//! The nearest known names to a misspelt one.

use std::borrow::Cow;

/// Names closer than this by Jaro–Winkler similarity are worth offering (common practice, no source).
const WORTH_OFFERING: f64 = 0.82;

/// Longer words resemble no name, and comparing them would take long.
const LONGEST: usize = 80;

/// Up to three of `names` that resemble `word`, the nearest first; names that tie keep alphabetical order.
///
/// Case does not matter. An empty result means that nothing known comes close.
#[must_use]
pub(crate) fn nearest<'a>(word: &str, names: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    among(word, &mut names.into_iter(), &|_| true)
}

/// The same of names that have several words, each of which is to be like one of `words`: `mash out` is no `marsh tea`.
#[must_use]
pub(crate) fn nearest_by_words<'a>(
    words: &str,
    names: impl IntoIterator<Item = &'a str>,
) -> Vec<&'a str> {
    let typed = words.to_lowercase();
    among(words, &mut names.into_iter(), &|name| {
        is_like(&typed, &lower_case(name))
    })
}

/// Whether the words typed are those of a name with letters gone wrong, one in three of a word; one of several may be a word too many
/// (common practice, no source).
fn is_like(typed: &str, name: &str) -> bool {
    fn words(text: &str) -> impl Iterator<Item = &str> {
        text.split([' ', '-']).filter(|word| !word.is_empty())
    }
    let slips = |length: usize| if length < 3 { 0 } else { (length / 3).max(1) };
    let is_word = |word: &&str| {
        let most = slips(word.chars().count());
        words(name).any(|known| strsim::osa_distance(word, known) <= most)
    };
    let (count, known) = (words(typed).count(), words(typed).filter(is_word).count());
    count < 2
        || known == count
        || known > 1 && known + 1 == count
        // A space too many or too few.
        || strsim::osa_distance(typed, name) <= typed.chars().count() / 5
}

/// The search is compiled once, whatever the names come from.
fn among<'a>(
    word: &str,
    names: &mut dyn Iterator<Item = &'a str>,
    is_wanted: &dyn Fn(&str) -> bool,
) -> Vec<&'a str> {
    if word.chars().count() > LONGEST {
        return Vec::new();
    }
    let word = word.to_lowercase();
    let letters = Letters::of(&word);
    let mut scored: Vec<(f64, &str)> = names
        .filter(|name| letters.may_resemble(name))
        .map(|name| (strsim::jaro_winkler(&word, &lower_case(name)), name))
        .filter(|(score, name)| *score >= WORTH_OFFERING && is_wanted(name))
        .collect();
    scored.sort_unstable_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
    scored.dedup_by_key(|(_, name)| *name);
    scored.truncate(3);
    scored.into_iter().map(|(_, name)| name).collect()
}

fn lower_case(name: &str) -> Cow<'_, str> {
    if name
        .bytes()
        .any(|byte| byte.is_ascii_uppercase() || !byte.is_ascii())
    {
        Cow::Owned(name.to_lowercase())
    } else {
        Cow::Borrowed(name)
    }
}

/// How often each letter stands in a word. Comparing these first spares most names the full comparison.
struct Letters<'w> {
    word: &'w str,
    counts: [u8; 32],
}

impl<'w> Letters<'w> {
    fn of(word: &'w str) -> Self {
        let mut counts = [0_u8; 32];
        for byte in word.bytes() {
            if let Some(count) = counts.get_mut(place(byte)) {
                *count = count.saturating_add(1);
            }
        }
        Self { word, counts }
    }

    /// Whether the similarity could be large enough: no letter matches more often than both words have it.
    fn may_resemble(&self, name: &str) -> bool {
        if !self.word.is_ascii() || !name.is_ascii() || name.is_empty() || self.word.is_empty() {
            return true;
        }
        let mut left = self.counts;
        let mut shared = 0_u32;
        for byte in name.bytes() {
            if let Some(count) = left.get_mut(place(byte.to_ascii_lowercase()))
                && *count > 0
            {
                *count -= 1;
                shared += 1;
            }
        }
        let shared = f64::from(shared);
        // Jaro: the mean of the shares that match and of the share that is in order, here taken as all.
        let jaro = (shared / self.word.len() as f64 + shared / name.len() as f64 + 1.0) / 3.0;
        let pairs = self.word.bytes().zip(name.bytes()).take(4);
        let prefix = pairs
            .take_while(|(a, b)| *a == b.to_ascii_lowercase())
            .count();
        // Winkler: a tenth of what is missing for each of the first letters that agree.
        shared > 0.0 && jaro + 0.1 * prefix as f64 * (1.0 - jaro) >= WORTH_OFFERING - 1e-9
    }
}

/// One place for each small letter, the others share.
fn place(byte: u8) -> usize {
    usize::from(byte & 31)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_misspelt_name_finds_its_own() {
        assert_eq!(nearest("honney", ["honey", "oats"]), ["honey"]);
        assert_eq!(nearest("Honney", ["honey", "oats"]), ["honey"]);
        assert!(nearest("peat", ["honey", "oats"]).is_empty());
    }

    #[test]
    fn words_are_those_of_the_name_with_letters_gone_wrong() {
        let offered = |typed, name| !nearest_by_words(typed, [name]).is_empty();
        assert!(!offered("mash out", "marsh tea"));
        assert!(!offered("mash off", "marsh tea"));
        assert!(offered("munch malt", "munich malt"));
        assert!(offered("nothern brewr", "Northern Brewer"));
        assert!(offered("marisotter malt", "maris otter malt"));
        assert!(offered("pale ale mallt best", "pale ale malt"));
    }

    #[test]
    fn no_name_worth_offering_is_passed_over() {
        let words = [
            "pale ale malt",
            "pail ale mlat",
            "honey",
            "honney",
            "hnoey",
            "oats",
            "flaked oats",
            "a",
            "ab",
            "ba",
            "",
            "Northern Brewer",
            "northen brewr",
            "kölsch",
            "kolsch",
            "plum juice",
            "plumb juce",
            "mash",
            "mahs",
            "x9 z",
        ];
        for word in words {
            let word = word.to_lowercase();
            for name in words {
                let score = strsim::jaro_winkler(&word, &name.to_lowercase());
                let kept = Letters::of(&word).may_resemble(name);
                assert!(kept || score < WORTH_OFFERING, "{word} {name} {score}");
            }
        }
    }
}
