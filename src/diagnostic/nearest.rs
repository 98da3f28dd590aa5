//! The nearest known names to a misspelt one.

/// Names closer than this by Jaro–Winkler similarity are worth offering (common practice, no source).
const WORTH_OFFERING: f64 = 0.82;

/// Longer words resemble no name, and comparing them would take long.
const LONGEST: usize = 80;

/// Up to three of `names` that resemble `word`, the nearest first; names that tie keep alphabetical order.
///
/// Case does not matter. An empty result means that nothing known comes close.
///
/// ```
/// use wortwright::diagnostic::nearest;
/// assert_eq!(nearest("honney", ["honey", "oats"]), ["honey"]);
/// ```
#[must_use]
pub fn nearest<'a>(word: &str, names: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    if word.chars().count() > LONGEST {
        return Vec::new();
    }
    let word = word.to_lowercase();
    let mut scored: Vec<(f64, &str)> = names
        .into_iter()
        .map(|name| (strsim::jaro_winkler(&word, &name.to_lowercase()), name))
        .filter(|(score, _)| *score >= WORTH_OFFERING)
        .collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
    scored.dedup_by_key(|(_, name)| *name);
    scored.truncate(3);
    scored.into_iter().map(|(_, name)| name).collect()
}
