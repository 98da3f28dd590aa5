//! The words of dates: the rows of `words.txt`.

use crate::notation::free::words::rows;
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// What a word of a date says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Says {
    /// From 1 on.
    Month(u32),
    /// From Monday on, which is 0.
    Weekday(u32),
    PartOfDay,
}

/// The words, and those that are days of the week of neighbours.
struct Words {
    says: BTreeMap<&'static str, Says>,
    abroad: Vec<&'static str>,
}

static WORDS: LazyLock<Words> = LazyLock::new(|| {
    let mut words = Words {
        says: BTreeMap::new(),
        abroad: Vec::new(),
    };
    for (name, own) in rows(include_str!("words.txt")) {
        let number = |label: &str| name.strip_prefix(label)?.trim().parse().ok();
        let says = if let Some(month) = number("month") {
            Says::Month(month)
        } else if let Some(day) = number("weekday") {
            Says::Weekday(day)
        } else if name == "part of day" {
            Says::PartOfDay
        } else {
            words.abroad = own;
            continue;
        };
        words.says.extend(own.iter().map(|word| (*word, says)));
    }
    words
});

/// What a word says.
pub(super) fn says(word: &str) -> Option<Says> {
    WORDS.says.get(word).copied()
}

/// Whether it is a day of the week of a neighbour.
pub(super) fn is_weekday_abroad(word: &str) -> bool {
    WORDS.abroad.contains(&word)
}
