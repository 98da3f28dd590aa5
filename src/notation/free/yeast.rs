//! Yeasts whose line says what they are at its beginning: `Yeast: 2 sachets US ale, rehydrated`.

use super::bit::{Bit, What};
use super::names::Names;
use crate::catalogue::Kind;

/// The line with the word behind the name, where a heading has it: `2 sachets US ale yeast`.
pub(super) fn named(bits: &[Bit], names: &Names<'_>) -> Option<Vec<Bit>> {
    let first = bits.first().filter(|bit| bit.word() == Some("yeast"))?;
    let rest = bits.get(1..)?;
    let is_said = rest.iter().any(|bit| {
        bit.word()
            .is_some_and(|word| word.starts_with("yeast") || word == "pitch")
    });
    if is_said {
        return None;
    }
    let (start, length) = (0..rest.len()).find_map(|start| {
        let words: Vec<String> = rest
            .get(start..)?
            .iter()
            .map_while(Bit::word)
            .take(3)
            .map(str::to_owned)
            .collect();
        (1..=words.len()).rev().find_map(|length| {
            let mut name = words.get(..length)?.to_vec();
            name.push("yeast".to_owned());
            names.resolve(&name, &[Kind::Yeast])?;
            Some((start, length))
        })
    })?;
    let marks = rest
        .iter()
        .take_while(|bit| matches!(bit.what, What::Mark(':' | '-' | '=')))
        .count();
    let mut whole: Vec<Bit> = rest
        .iter()
        .take(start + length)
        .skip(marks)
        .cloned()
        .collect();
    let span = rest
        .get(start + length - 1)
        .map_or(first.span, |bit| bit.span);
    whole.push(Bit {
        what: What::Word("yeast".into()),
        span,
    });
    whole.extend(rest.iter().skip(start + length).cloned());
    Some(whole)
}
