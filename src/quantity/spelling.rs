//! Every spelling of a unit in alphabetical order, so that one is found without looking at all.

use super::unit::{Dimension, Unit};

/// Symbols and aliases, blind to case in alphabetical order; spellings that differ in case only keep the units' order.
static SPELLINGS: [(&str, Unit); COUNT] = SORTED;

const SORTED: [(&str, Unit); COUNT] = sorted();

const COUNT: usize = count();

// All of this runs when the crate is compiled, where an index out of range fails the build.
const fn count() -> usize {
    let mut count = 0;
    let mut units = Unit::ALL;
    while let Some((unit, rest)) = units.split_first() {
        count += 1 + unit.aliases().len();
        units = rest;
    }
    count
}

#[allow(clippy::indexing_slicing, reason = "runs at compile time only")]
const fn sorted() -> [(&'static str, Unit); COUNT] {
    let mut table = [("", Unit::Kilogram); COUNT];
    let mut filled = 0;
    let mut units = Unit::ALL;
    while let Some((unit, rest)) = units.split_first() {
        let mut spelling = unit.symbol();
        let mut others = unit.aliases();
        loop {
            let mut at = filled;
            while at > 0 && is_before(spelling.as_bytes(), table[at - 1].0.as_bytes()) {
                table[at] = table[at - 1];
                at -= 1;
            }
            table[at] = (spelling, *unit);
            filled += 1;
            let Some((next, rest)) = others.split_first() else {
                break;
            };
            (spelling, others) = (next, rest);
        }
        units = rest;
    }
    table
}

const fn is_before(mut one: &[u8], mut other: &[u8]) -> bool {
    loop {
        match (one.split_first(), other.split_first()) {
            (Some((a, rest_of_one)), Some((b, rest_of_other))) => {
                let (a, b) = (a.to_ascii_lowercase(), b.to_ascii_lowercase());
                if a != b {
                    return a < b;
                }
                (one, other) = (rest_of_one, rest_of_other);
            }
            (None, Some(_)) => return true,
            _ => return false,
        }
    }
}

/// Where the spellings with each first byte begin; where those of the next byte begin they end.
static STARTS: [u8; 257] = starts();

const _: () = assert!(COUNT <= u8::MAX as usize);

#[allow(clippy::indexing_slicing, reason = "runs at compile time only")]
const fn starts() -> [u8; 257] {
    let mut starts = [0; 257];
    let mut at = 0;
    while at < COUNT {
        if let Some((first, _)) = SORTED[at].0.as_bytes().split_first() {
            starts[first.to_ascii_lowercase() as usize + 1] = at as u8 + 1;
        } else {
            starts[1] = at as u8 + 1;
        }
        at += 1;
    }
    let mut byte = 1;
    while byte < 257 {
        if starts[byte] < starts[byte - 1] {
            starts[byte] = starts[byte - 1];
        }
        byte += 1;
    }
    starts
}

/// The spellings whose first byte is that of `word` in any case.
fn beside(word: &str) -> &'static [(&'static str, Unit)] {
    let places = || {
        let first = usize::from(word.as_bytes().first()?.to_ascii_lowercase());
        let (start, end) = (STARTS.get(first)?, STARTS.get(first + 1)?);
        SPELLINGS.get(usize::from(*start)..usize::from(*end))
    };
    places().unwrap_or(&[])
}

impl Unit {
    /// The unit that `symbol` means where one of `dimensions` may stand: exact case first, then any case if just one
    /// unit fits.
    pub fn find(symbol: &str, dimensions: &[Dimension]) -> Option<Self> {
        let mut fitting = beside(symbol).iter().filter(|(spelling, unit)| {
            spelling.eq_ignore_ascii_case(symbol) && dimensions.contains(&unit.dimension())
        });
        let exact = fitting.clone().find(|(spelling, _)| *spelling == symbol);
        if let Some((_, unit)) = exact {
            return Some(*unit);
        }
        let (_, first) = fitting.next()?;
        fitting.all(|(_, unit)| unit == first).then_some(*first)
    }

    /// Whether some unit is written so in any case, or begins with this word.
    pub(crate) fn begins(word: &str) -> bool {
        beside(word).iter().any(|(spelling, _)| {
            spelling
                .get(..word.len())
                .is_some_and(|start| start.eq_ignore_ascii_case(word))
                && matches!(spelling.as_bytes().get(word.len()), None | Some(b' '))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_spelling_is_found_and_no_other() {
        for unit in Unit::ALL {
            for spelling in std::iter::once(&unit.symbol()).chain(unit.aliases()) {
                if spelling.is_empty() {
                    continue;
                }
                assert_eq!(
                    Unit::find(spelling, &[unit.dimension()]),
                    Some(*unit),
                    "{spelling}"
                );
                let first = spelling.split(' ').next().unwrap();
                assert!(
                    Unit::begins(spelling)
                        && Unit::begins(first)
                        && Unit::begins(&first.to_uppercase())
                );
                assert_eq!(
                    Unit::find(&format!("{spelling}q"), &[unit.dimension()]),
                    None
                );
            }
        }
        for word in ["", "q", "k", "im", "kgs", "degree", "fl o", "zz", "é"] {
            assert!(word.is_empty() || !Unit::begins(word), "{word}");
            assert_eq!(
                Unit::find(word, &[Dimension::Mass, Dimension::Volume]),
                None,
                "{word}"
            );
        }
    }

    #[test]
    fn case_decides_only_where_it_must() {
        assert_eq!(Unit::find("KG", &[Dimension::Mass]), Some(Unit::Kilogram));
        assert_eq!(
            Unit::find("Ml", &[Dimension::Volume]),
            Some(Unit::Millilitre)
        );
        assert_eq!(Unit::find("kg", &[Dimension::Volume]), None);
    }
}
