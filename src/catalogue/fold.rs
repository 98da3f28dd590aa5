//! How names are compared: blind to case, plural, hyphen, apostrophe, accent, and a missing space before a unit.

/// A name as it is compared: two names that differ only in case, plural, hyphens, apostrophes, accents, spacing or
/// in `sulf` for `sulph` have the same folded form.
///
/// ```
/// use wortwright::catalogue::folded;
/// assert_eq!(folded("Juniper-Berries"), folded("juniper berry"));
/// assert_eq!(folded("lactic acid 88%"), "lactic acid 88 %");
/// ```
#[must_use]
pub fn folded(name: &str) -> String {
    let mut key = String::with_capacity(name.len() + 8);
    fold(name, usize::MAX, &mut key, &mut |_, _| {});
    key
}

#[derive(Clone, Copy, PartialEq)]
enum Class {
    Letter,
    Digit,
    Sign,
    Apostrophe,
    Separator,
}

fn class(c: char, before: Option<Class>, next: Option<char>) -> Class {
    match c {
        'a'..='z' => Class::Letter,
        '%' => Class::Sign,
        '0'..='9' => Class::Digit,
        '.' if before == Some(Class::Digit) && next.is_some_and(|n| n.is_ascii_digit()) => {
            Class::Digit
        }
        '\'' | '’' => Class::Apostrophe,
        _ if c.is_alphabetic() => Class::Letter,
        _ => Class::Separator,
    }
}

/// Appends the folded form of `text` to `key` until that is longer than `limit` bytes. Calls `at_bound` with the
/// length of the key and of the text read at each end of a word where a space or the end of the text follows.
pub(super) fn fold(
    text: &str,
    limit: usize,
    key: &mut String,
    at_bound: &mut dyn FnMut(usize, usize),
) {
    let mut word: Option<(Class, usize)> = None;
    let mut rest = text;
    let mut chars = text.chars();
    while let Some(c) = chars.next() {
        let class = class(c, word.map(|w| w.0), chars.clone().next());
        let from_here = std::mem::replace(&mut rest, chars.as_str());
        if class == Class::Apostrophe {
            continue;
        }
        if let Some((open, start)) = word
            && open != class
        {
            end_word(key, open, start);
            // A closing bracket belongs to the name before it.
            let after = from_here.trim_start_matches(')');
            if after.is_empty() || after.starts_with(char::is_whitespace) {
                at_bound(key.len(), text.len() - after.len());
            }
            word = None;
        }
        if class == Class::Separator {
            continue;
        }
        if word.is_none() {
            if key.len() > limit {
                return;
            }
            if !key.is_empty() {
                key.push(' ');
            }
            word = Some((class, key.len()));
        }
        push(c, key);
        if class == Class::Letter {
            // Letters that stay as they are, at once: a name folds in half the instructions.
            let plain = rest.bytes().take_while(|b| is_plain(*b)).count();
            if let Some((same, after)) = rest.split_at_checked(plain) {
                key.push_str(same);
                rest = after;
                chars = after.chars();
            }
        }
    }
    if let Some((open, start)) = word {
        end_word(key, open, start);
        at_bound(key.len(), text.len());
    }
}

/// Whether a letter folds to itself whatever stands before it.
const fn is_plain(letter: u8) -> bool {
    letter.is_ascii_lowercase() && letter != b'f'
}

fn push(c: char, key: &mut String) {
    match c {
        'f' | 'F' if key.ends_with("sul") => key.push_str("ph"),
        'a'..='z' => key.push(c),
        _ if c.is_ascii() => key.push(c.to_ascii_lowercase()),
        'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' | 'À' | 'Á' | 'Â' | 'Ã' | 'Ä' | 'Å' => {
            key.push('a');
        }
        'ç' | 'Ç' | 'č' | 'Č' | 'ć' | 'Ć' => key.push('c'),
        'ď' | 'Ď' => key.push('d'),
        'è' | 'é' | 'ê' | 'ë' | 'ě' | 'È' | 'É' | 'Ê' | 'Ë' | 'Ě' => key.push('e'),
        'ì' | 'í' | 'î' | 'ï' | 'Ì' | 'Í' | 'Î' | 'Ï' => key.push('i'),
        'ł' | 'Ł' => key.push('l'),
        'ñ' | 'Ñ' | 'ň' | 'Ň' | 'ń' | 'Ń' => key.push('n'),
        'ò' | 'ó' | 'ô' | 'õ' | 'ö' | 'ø' | 'Ò' | 'Ó' | 'Ô' | 'Õ' | 'Ö' | 'Ø' => {
            key.push('o');
        }
        'ř' | 'Ř' => key.push('r'),
        'š' | 'Š' | 'ś' | 'Ś' => key.push('s'),
        'ť' | 'Ť' => key.push('t'),
        'ß' => key.push_str("ss"),
        'ù' | 'ú' | 'û' | 'ü' | 'ů' | 'Ù' | 'Ú' | 'Û' | 'Ü' | 'Ů' => key.push('u'),
        'ý' | 'Ý' => key.push('y'),
        'ž' | 'Ž' | 'ż' | 'Ż' | 'ź' | 'Ź' => key.push('z'),
        _ => key.extend(c.to_lowercase()),
    }
}

/// Brings the last word into the singular, by the commonest rules of English.
fn end_word(key: &mut String, class: Class, start: usize) {
    let Some(word) = key.get(start..).filter(|_| class == Class::Letter) else {
        return;
    };
    if !word.ends_with('s') {
        return;
    }
    let letters = word.len();
    let ends = |endings: &[&str]| endings.iter().any(|ending| word.ends_with(ending));
    if letters > 4 && ends(&["ies"]) {
        key.truncate(start + letters - 3);
        key.push('y');
    } else if letters > 5 && ends(&["ches", "shes", "sses", "xes", "oes"]) {
        key.truncate(start + letters - 2);
    } else if letters > 3 && ends(&["s"]) && !ends(&["ss", "us", "is"]) {
        key.truncate(start + letters - 1);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_differ_in_writing_only_fold_alike() {
        for (one, other) in [
            ("Fuggles", "fuggle"),
            ("juniper  berries", "Juniper-berry"),
            ("brewer's gold", "Brewers Gold"),
            ("peaches", "peach"),
            ("lactic acid 88%", "lactic acid 88 %"),
            ("caramel malt 150EBC", "Caramel malt 150 EBC"),
            ("calcium sulfate", "calcium sulphate"),
            ("Mt. Hood", "mt hood"),
            ("Hallertauer mittelfrüh", "hallertauer mittelfruh"),
            ("corn flakes (brewing)", "Corn flake brewing"),
        ] {
            assert_eq!(folded(one), folded(other), "{one} {other}");
        }
    }

    #[test]
    fn names_that_differ_in_more_stay_apart() {
        assert_ne!(folded("citrus"), folded("citru"));
        assert_ne!(folded("glass"), folded("glas"));
        assert_ne!(folded("malt 1.5"), folded("malt 15"));
        assert_eq!(folded("acid 1. 5"), "acid 1 5");
        assert_eq!(folded(" -- ' "), "");
    }

    #[test]
    fn word_bounds_are_told_in_bytes_of_the_text() {
        let (mut key, mut bounds) = (String::new(), Vec::new());
        fold(
            "Kölsch  yeasts 5EBC",
            usize::MAX,
            &mut key,
            &mut |folded, read| bounds.push((folded, read)),
        );
        assert_eq!(key, "kolsch yeast 5 ebc");
        assert_eq!(bounds, [(6, 7), (12, 15), (18, 20)]);
    }

    #[test]
    fn long_texts_are_left_at_the_limit() {
        let mut key = String::new();
        fold(&"word ".repeat(1000), 20, &mut key, &mut |_, _| {});
        assert!(key.len() < 30, "{}", key.len());
    }
}
