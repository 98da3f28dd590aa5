//! Yeasts whose line says what they are at its beginning: `Yeast: 2 sachets US ale, rehydrated`.

use super::bit::{Bit, What};
use super::draft::{line, tokens};
use super::names::{Names, Resolved};
use super::said::{Part, trade};
use super::sheet::Sheet;
use super::told::Told;
use crate::catalogue::Kind;
use crate::diagnostic::Span;
use crate::notation::tree::{Line, Token};
use crate::quantity::{Dimension, Unit};

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
    let is_yeast = |name: &[String], more: &[&str]| {
        let mut name = name.to_vec();
        name.extend(more.iter().map(|word| (*word).to_owned()));
        names.resolve(&name, &[Kind::Yeast]).is_some()
    };
    let mut is_ale = false;
    let (start, length) = (0..rest.len()).find_map(|start| {
        let words: Vec<String> = rest
            .get(start..)?
            .iter()
            .map_while(Bit::word)
            .take(3)
            .map(str::to_owned)
            .collect();
        (1..=words.len()).rev().find_map(|length| {
            let name = words.get(..length)?;
            if is_yeast(name, &["yeast"]) {
                return Some((start, length));
            }
            // `2 packets English`: of ale, where no lager yeast goes by the same word.
            is_ale = is_yeast(name, &["ale", "yeast"]) && !is_yeast(name, &["lager", "yeast"]);
            is_ale.then_some((start, length))
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
    let kind = is_ale.then_some("ale");
    for word in kind.into_iter().chain(["yeast"]) {
        whole.push(Bit {
            what: What::Word(word.into()),
            span,
        });
    }
    whole.extend(rest.iter().skip(start + length).cloned());
    Some(whole)
}

/// Words between what a yeast is and `yeast`.
const SOLD: [&str; 5] = ["dry", "dried", "liquid", "fresh", "top"];

/// `2 packets English yeast`, `English dry yeast`: an ale yeast by where it comes from, where no lager yeast goes by the same word.
pub(super) fn by_country(
    bits: &[Bit],
    names: &Names<'_>,
    told: &mut Vec<Told>,
) -> Option<Vec<Bit>> {
    let at = bits.iter().position(|bit| bit.word() == Some("yeast"))?;
    let is_sold = |bit: &&Bit| bit.word().is_some_and(|word| SOLD.contains(&word));
    let before = bits.get(..at)?;
    let sold = before.iter().rev().take_while(is_sold).count();
    let before = before.get(..at - sold)?;
    let words = before.iter().rev().map_while(Bit::word).take(3).count();
    let is_known = |words: &[&Bit], more: &[&str]| {
        let own = words.iter().filter_map(|bit| bit.word());
        let name: Vec<String> = own.chain(more.iter().copied()).map(str::to_owned).collect();
        // With no word left out: `english lager yeast` is none of its own.
        let found = names.resolve(&name, &[Kind::Yeast]);
        matches!(found, Some(Resolved::One(known)) if known.left_out.is_empty())
    };
    let last = |count: usize| -> Vec<&Bit> {
        let from = before.len().saturating_sub(count);
        before.iter().skip(from).collect()
    };
    let mut whole: Vec<Bit> = before.to_vec();
    let yeast = bits.get(at)?;
    if (1..=words).any(|count| is_known(&last(count), &["yeast"])) {
        (sold > 0).then_some(())?;
    } else {
        let own = last(1);
        let is_ale =
            words > 0 && is_known(&own, &["ale", "yeast"]) && !is_known(&own, &["lager", "yeast"]);
        is_ale.then_some(())?;
        let country = own.first()?;
        let typed = format!("{} yeast", country.word()?);
        let read = format!("{} ale yeast", country.word()?);
        told.push(Told::Assumed(typed, read, country.span.to(yeast.span)));
        whole.push(Bit {
            what: What::Word("ale".into()),
            span: yeast.span,
        });
    }
    whole.push(yeast.clone());
    whole.extend(bits.iter().skip(at + 1).cloned());
    Some(whole)
}

/// How yeast is sold, and nothing else that goes into beer.
const PACKS: [&str; 15] = [
    "pack", "packs", "packet", "packets", "pkt", "pkts", "pkg", "pkgs", "pk", "sachet", "sachets",
    "vial", "vials", "pouch", "pouches",
];

impl Sheet<'_> {
    /// `2 packs W-12`, `Yeast: house strain 11 g, 19 C`: a yeast by a name that no table has, which it is all the same.
    pub(super) fn unknown_yeast(
        &mut self,
        typed: &[Token<'_>],
        bits: &[Bit],
    ) -> Option<Line<'static>> {
        let is_of_beer = !matches!(
            self.part,
            Part::Package | Part::Stock | Part::Plant | Part::Log
        );
        (is_of_beer && !self.is_pitched && !self.is_fixed).then_some(())?;
        let word = |token: &Token<'_>| {
            token
                .text()
                .trim_end_matches([':', ',', '.'])
                .to_lowercase()
        };
        let is_pack = |token: &Token<'_>| PACKS.contains(&word(token).as_str());
        let first = typed.first().map(word).unwrap_or_default();
        let is_headed = matches!(first.as_str(), "yeast" | "yeasts");
        // `German yeast`: of whose kind is asked.
        let says_yeast = typed
            .iter()
            .skip(1)
            .any(|token| word(token).starts_with("yeast"));
        (!says_yeast).then_some(())?;
        (is_headed || typed.iter().any(is_pack)).then_some(())?;
        let measured = |dimension| {
            bits.iter().find(|bit| {
                bit.quantity()
                    .is_some_and(|written| written.unit.dimension() == dimension)
            })
        };
        let has_minutes = bits.iter().any(|bit| {
            bit.quantity()
                .is_some_and(|written| written.unit == Unit::Minute)
        });
        let amount = measured(Dimension::Packs).or_else(|| measured(Dimension::Mass));
        (!has_minutes && (is_headed || amount.is_some())).then_some(())?;
        let is_name = |bit: &&Bit| {
            bit.word().is_some_and(|word| {
                !trade().is_filler(word)
                    && !trade().is_how_made(word)
                    && !matches!(word, "yeast" | "yeasts" | "pitch" | "pitched" | "of")
            })
        };
        // `from the cupboard`: a name stands at the beginning, or behind the amount.
        let leads = |bit: &&Bit| {
            bit.word()
                .is_none_or(|word| matches!(word, "yeast" | "yeasts" | "pitch" | "of"))
        };
        let own: Vec<&Bit> = bits.iter().skip_while(leads).take_while(is_name).collect();
        let words: Vec<String> = own
            .iter()
            .filter_map(|bit| bit.word().map(str::to_owned))
            .collect();
        let all: Vec<String> = bits
            .iter()
            .filter_map(|bit| bit.word().map(str::to_owned))
            .collect();
        let is_known = |words: &[String]| {
            [self.part, Part::Ferment]
                .iter()
                .any(|part| self.names.stretch(words, *part).is_some())
        };
        let is_plain = words
            .iter()
            .flat_map(|word| word.chars())
            .all(|c| c.is_alphanumeric() || "-/'".contains(c));
        if words.is_empty() || words.len() > 4 || !is_plain || is_known(&words) || is_known(&all) {
            return None;
        }
        let said = |bit: Option<&Bit>, lead: &str, end: &str| {
            let figure = bit.and_then(Bit::quantity);
            figure.map_or_else(String::new, |figure| format!("{lead}{figure}{end}"))
        };
        let heat = measured(Dimension::Temperature);
        let text = format!(
            "pitch {}{}{}",
            said(amount, "", " "),
            words.join(" "),
            said(heat, " at ", "")
        );
        let is_used = |bit: &Bit| bit.quantity().is_none() || [amount, heat].contains(&Some(bit));
        for bit in bits.iter().filter(|bit| !is_used(bit)) {
            let figure = bit.quantity().map(ToString::to_string);
            self.told
                .push(Told::NotUsed(figure.unwrap_or_default(), bit.span));
        }
        let span = own.iter().fold(None, |span: Option<Span>, bit| {
            Some(span.map_or(bit.span, |span| span.to(bit.span)))
        });
        Some(line(tokens(&text, span?), Vec::new()))
    }
}
