//! The name of a plant, by the first line of its text.

use crate::notation::free::bit::{Bit, What};
use crate::notation::free::draft::tokens;

use super::words::{Tag, tags};
use crate::diagnostic::Span;
use crate::notation::tree::Token;

/// The line that opens a plant, by the first line of its text, and how many pieces the name takes.
pub(super) fn name(bits: &[Bit], typed: &[Token<'_>]) -> (Option<Vec<Token<'static>>>, usize) {
    let opened = |name: &str, span: Span| {
        let mut opening = tokens("brewhouse", span);
        opening.extend(tokens(&format!("\"{}\"", name.replace('"', "")), span));
        opening
    };
    if let Some((at, bit)) = bits
        .iter()
        .enumerate()
        .find(|(_, bit)| matches!(bit.what, What::Quoted(_)))
        && let What::Quoted(name) = &bit.what
    {
        return (Some(opened(name, bit.span)), at + 1);
    }
    let is_label = |bit: &Bit| {
        matches!(
            bit.word(),
            Some("brewhouse" | "plant" | "equipment" | "setup" | "kit" | "system")
        )
    };
    let labelled =
        bits.first().is_some_and(is_label) && bits.get(1).is_some_and(|bit| bit.is_mark(':'));
    let from = if labelled { 2 } else { 0 };
    let own = bits.get(from..).unwrap_or(&[]);
    let words = own.iter().take_while(|bit| bit.word().is_some()).count();
    let name = own.get(..words).unwrap_or(&[]);
    let ends = own
        .get(words)
        .is_none_or(|bit| matches!(bit.what, What::Mark(_)));
    let is_sentence = name.iter().any(|bit| {
        matches!(
            bit.word(),
            Some(
                "i" | "we" | "is" | "are" | "was" | "do" | "have" | "has" | "live" | "you" | "get"
            )
        )
    });
    let is_subject = |(_, tag): &(usize, Tag)| {
        !matches!(tag, Tag::Brewhouse | Tag::Batch | Tag::Bag | Tag::Other)
    };
    let only_label = name.len() == 1 && name.first().is_some_and(is_label);
    let fits = (1..=6).contains(&words)
        && ends
        && !is_sentence
        && !only_label
        && !tags(name).iter().any(is_subject);
    let (Some(first), Some(last), true) = (name.first(), name.last(), fits) else {
        return (
            None,
            if labelled || only_label {
                from.max(1)
            } else {
                0
            },
        );
    };
    let span = first.span.to(last.span);
    let inside =
        |token: &&Token<'_>| span.start <= token.span().start && token.span().start < span.end;
    let text: Vec<&str> = typed.iter().filter(inside).map(Token::text).collect();
    let text = text.join(" ");
    let text = text.trim_end_matches([':', ',', '.', ';']);
    (Some(opened(text, span)), from + words)
}
