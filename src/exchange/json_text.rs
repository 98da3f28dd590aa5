//! Where something stands in a JSON text. Used for messages only: nothing here checks that the text is valid.

use std::ops::Range;

/// The bytes of a member's key and of its value, quotation marks included.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Member {
    pub(super) key: Range<usize>,
    pub(super) value: Range<usize>,
}

/// The first member along a path of keys, from the outermost object inwards.
pub(super) fn member(text: &str, path: &[&str]) -> Option<Member> {
    let (first, rest) = path.split_first()?;
    let mut found = member_of(text, 0, first)?;
    for key in rest {
        found = member_of(text, found.value.start, key)?;
    }
    Some(found)
}

/// The element at a place, counted from 0, of the array that a path leads to.
pub(super) fn element(text: &str, path: &[&str], place: usize) -> Option<Range<usize>> {
    element_of(text, member(text, path)?.value.start, place)
}

/// What a path such as `recipe.mash.additions[1]` leads to, or the last part of it that is there.
pub(super) fn along(text: &str, path: &str) -> Option<Range<usize>> {
    let mut found = None;
    let mut at = 0;
    let mut path = path;
    while !path.is_empty() {
        // The name of a plant may hold a dot.
        let element = path.strip_prefix('[').and_then(|rest| rest.split_once(']'));
        let next = if let Some((element, rest)) = element {
            path = rest;
            match element.parse() {
                Ok(number) => element_of(text, at, number),
                Err(_) => named(text, at, element),
            }
        } else {
            let start = path.trim_start_matches('.');
            let end = start.find(['.', '[']).unwrap_or(start.len());
            let (key, rest) = start.split_at(end);
            path = rest;
            member_of(text, at, key).map(|member| member.value)
        };
        let Some(next) = next else { break };
        at = next.start;
        found = Some(next);
    }
    found
}

/// The element of that name, or without one for no name, of the array that begins at `at`.
fn named(text: &str, at: usize, name: &str) -> Option<Range<usize>> {
    (0..)
        .map_while(|place| element_of(text, at, place))
        .find(|element| {
            let of_element = member_of(text, element.start, "name");
            let found = of_element.and_then(|member| text.get(member.value));
            match found {
                Some(found) => is_key(found, name),
                None => name.is_empty(),
            }
        })
}

/// The element of the array that begins at `at`.
fn element_of(text: &str, mut at: usize, place: usize) -> Option<Range<usize>> {
    let bytes = text.as_bytes();
    if bytes.get(at) != Some(&b'[') {
        return None;
    }
    for before in 0.. {
        let start = space(bytes, at + 1);
        let end = value_end(bytes, start);
        if start == end {
            break;
        }
        if before == place {
            return Some(start..end);
        }
        at = space(bytes, end);
        if bytes.get(at) != Some(&b',') {
            break;
        }
    }
    None
}

/// The member `key` of the object that begins at `at`.
fn member_of(text: &str, at: usize, key: &str) -> Option<Member> {
    let bytes = text.as_bytes();
    let mut at = space(bytes, at);
    if bytes.get(at) != Some(&b'{') {
        return None;
    }
    loop {
        let start = space(bytes, at + 1);
        if bytes.get(start) != Some(&b'"') {
            return None;
        }
        let end = string_end(bytes, start);
        let colon = space(bytes, end);
        if bytes.get(colon) != Some(&b':') {
            return None;
        }
        let value_start = space(bytes, colon + 1);
        let value_end = value_end(bytes, value_start);
        if is_key(text.get(start..end)?, key) {
            return Some(Member {
                key: start..end,
                value: value_start..value_end,
            });
        }
        at = space(bytes, value_end);
        if bytes.get(at) != Some(&b',') {
            return None;
        }
    }
}

/// The path to what stands at `place`: `recipe.mash.additions[1].amount`.
pub(super) fn path_to(text: &str, place: usize) -> String {
    let bytes = text.as_bytes();
    let (mut path, mut at) = (String::new(), space(bytes, 0));
    while let Some(open @ (b'{' | b'[')) = bytes.get(at) {
        let within = members(text, at, *open == b'{').find(|member| place < member.value.end);
        let Some(within) = within.filter(|member| place >= member.key.start) else {
            break;
        };
        if *open == b'{' {
            let key = text.get(within.key.clone()).unwrap_or_default();
            let dot = if path.is_empty() { "" } else { "." };
            path.extend([dot, key.trim_matches('"')]);
        } else {
            let number = members(text, at, false).take_while(|other| *other != within);
            path.extend(["[", &number.count().to_string(), "]"]);
        }
        if place < within.value.start {
            break;
        }
        at = within.value.start;
    }
    path
}

/// The members of the object, or the elements of the array, that begins at `at`; an element's key is its own beginning.
fn members(text: &str, at: usize, is_object: bool) -> impl Iterator<Item = Member> {
    let bytes = text.as_bytes();
    let mut next = Some(at + 1);
    std::iter::from_fn(move || {
        let start = space(bytes, next?);
        let (key, value_start) = if is_object {
            let end = string_end(bytes, start);
            (start..end, space(bytes, space(bytes, end) + 1))
        } else {
            (start..start, start)
        };
        let end = value_end(bytes, value_start);
        let comma = space(bytes, end);
        next = (bytes.get(comma) == Some(&b',')).then_some(comma + 1);
        (end > value_start).then_some(Member {
            key,
            value: value_start..end,
        })
    })
}

/// Puts blanks in the place of a member, with the comma beside it.
pub(super) fn leave_out(text: &mut String, key: Range<usize>) {
    let bytes = text.as_bytes();
    let end = value_end(bytes, space(bytes, space(bytes, key.end) + 1));
    let after = space(bytes, end);
    let before = bytes.get(..key.start).unwrap_or_default();
    let before = before.iter().rposition(|byte| !is_space(*byte));
    let comma_before = before.filter(|at| bytes.get(*at) == Some(&b','));
    let range = match (bytes.get(after), comma_before) {
        (Some(b','), _) => key.start..after + 1,
        (_, Some(comma)) => comma..end,
        (_, None) => key.start..end,
    };
    let blank = " ".repeat(range.len());
    text.replace_range(range, &blank);
}

fn is_key(token: &str, key: &str) -> bool {
    if token.contains('\\') {
        serde_json::from_str::<String>(token).is_ok_and(|decoded| decoded == key)
    } else {
        token.trim_matches('"') == key
    }
}

/// The token that ends at `end`, blanks before it aside: a string, or a run of other characters.
pub(super) fn token_before(text: &str, end: usize) -> Range<usize> {
    let bytes = text.as_bytes();
    let mut end = end.min(bytes.len());
    while end > 0 && bytes.get(end - 1).is_some_and(|b| is_space(*b)) {
        end -= 1;
    }
    let Some(last) = end.checked_sub(1) else {
        return 0..0;
    };
    let mut start = last;
    if bytes.get(last) == Some(&b'"') {
        while let Some(before) = start.checked_sub(1) {
            start = before;
            if bytes.get(start) == Some(&b'"') && !is_escaped(bytes, start) {
                break;
            }
        }
    } else {
        let in_token = |b: u8| b.is_ascii_alphanumeric() || matches!(b, b'+' | b'-' | b'.');
        while let Some(before) = start.checked_sub(1)
            && bytes.get(start).is_some_and(|b| in_token(*b))
            && bytes.get(before).is_some_and(|b| in_token(*b))
        {
            start = before;
        }
    }
    start..end
}

/// The bracket that the one at `close` closes.
pub(super) fn opening_of(text: &str, close: usize) -> Option<usize> {
    let bytes = text.as_bytes();
    let mut open = Vec::new();
    let mut at = 0;
    while at < close {
        match bytes.get(at) {
            Some(b'"') => at = string_end(bytes, at).max(at + 1) - 1,
            Some(b'{' | b'[') => open.push(at),
            Some(b'}' | b']') => {
                open.pop();
            }
            _ => {}
        }
        at += 1;
    }
    open.pop()
}

fn is_space(byte: u8) -> bool {
    matches!(byte, b' ' | b'\n' | b'\t' | b'\r')
}

pub(super) fn space(bytes: &[u8], mut at: usize) -> usize {
    while bytes.get(at).is_some_and(|b| is_space(*b)) {
        at += 1;
    }
    at
}

/// Whether an odd number of backslashes stands before `at`.
fn is_escaped(bytes: &[u8], at: usize) -> bool {
    let before = bytes.get(..at).unwrap_or_default();
    before.iter().rev().take_while(|b| **b == b'\\').count() % 2 == 1
}

/// One past the string that begins at `start`, or the end of the text.
fn string_end(bytes: &[u8], start: usize) -> usize {
    let mut at = start + 1;
    while let Some(byte) = bytes.get(at) {
        match byte {
            b'\\' => at += 2,
            b'"' => return at + 1,
            _ => at += 1,
        }
    }
    bytes.len()
}

/// One past the value that begins at `start`.
pub(super) fn value_end(bytes: &[u8], start: usize) -> usize {
    let mut depth = 0_usize;
    let mut at = start;
    while let Some(byte) = bytes.get(at) {
        match byte {
            b'"' => {
                at = string_end(bytes, at);
                if depth == 0 {
                    return at;
                }
                continue;
            }
            b'{' | b'[' => depth += 1,
            b'}' | b']' | b',' if depth == 0 => return at,
            b'}' | b']' => {
                depth -= 1;
                if depth == 0 {
                    return at + 1;
                }
            }
            byte if depth == 0 && is_space(*byte) => return at,
            _ => {}
        }
        at += 1;
    }
    bytes.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value<'a>(text: &'a str, path: &[&str]) -> Option<&'a str> {
        text.get(member(text, path)?.value)
    }

    #[test]
    fn members_are_found_along_a_path() {
        let text =
            r#" {"a": [1, {"b": 2}], "options" : {"b": "x\"}", "limit":-5e3 } , "\u0069d":true}"#;
        assert_eq!(value(text, &["a"]), Some(r#"[1, {"b": 2}]"#));
        assert_eq!(value(text, &["options", "b"]), Some(r#""x\"}""#));
        assert_eq!(value(text, &["options", "limit"]), Some("-5e3"));
        assert_eq!(value(text, &["id"]), Some("true"));
        assert_eq!(value(text, &["b"]), None);
        assert_eq!(value(text, &["a", "b"]), None);
        assert_eq!(value("[1]", &["a"]), None);
        assert_eq!(value(r#"{"a""#, &["a"]), None);
        assert_eq!(
            value(r#"{"a":"unfinished\"#, &["a"]),
            Some(r#""unfinished\"#)
        );
    }

    #[test]
    fn elements_are_counted_from_nought() {
        let text = r#"{"a": {"b": [ {"c": [1, 2]} , "x,]" ,3], "d": [], "e": 1}}"#;
        let found = |path: &[&str], place| text.get(element(text, path, place)?);
        assert_eq!(found(&["a", "b"], 0), Some(r#"{"c": [1, 2]}"#));
        assert_eq!(found(&["a", "b"], 1), Some(r#""x,]""#));
        assert_eq!(found(&["a", "b"], 2), Some("3"));
        assert_eq!(found(&["a", "b"], 3), None);
        assert_eq!(found(&["a", "d"], 0), None);
        assert_eq!(found(&["a", "e"], 0), None);
    }

    #[test]
    fn a_path_is_followed_as_far_as_it_goes() {
        let text = r#"{"a": {"b": [ {"c": [1, 2]} , "x,]" ,3]}}"#;
        let found = |path| text.get(along(text, path)?);
        assert_eq!(found("a.b[1]"), Some(r#""x,]""#));
        assert_eq!(found("a.b[0].c[1]"), Some("2"));
        assert_eq!(found("a.b[0].d"), Some(r#"{"c": [1, 2]}"#));
        assert_eq!(found("b"), None);
        let text = r#"{"a": [{"b": 1}, {"name": "St. J", "b": 2}]}"#;
        let found = |path| text.get(along(text, path)?);
        assert_eq!(found("a[St. J].b"), Some("2"));
        assert_eq!(found("a[].b"), Some("1"));
        assert_eq!(found("a[K].b"), found("a"));
    }

    #[test]
    fn tokens_are_found_from_their_end() {
        let text = r#"{"a\\": "x\"y" , "b":-1.5e3}"#;
        let token = |end: usize| text.get(token_before(text, end)).unwrap();
        assert_eq!(token(6), r#""a\\""#);
        assert_eq!(token(14), r#""x\"y""#);
        assert_eq!(token(15), r#""x\"y""#);
        assert_eq!(token(27), "-1.5e3");
        assert_eq!(token(28), "}");
        assert_eq!(token(0), "");
        assert_eq!(token(usize::MAX), "}");
    }

    #[test]
    fn a_closing_bracket_knows_its_opening_one() {
        let text = r#"{"a": {"}": [1]}}"#;
        assert_eq!(opening_of(text, 15), Some(6));
        assert_eq!(opening_of(text, 16), Some(0));
        assert_eq!(opening_of("}", 0), None);
        assert_eq!(opening_of("\"", 9), None);
    }
}
