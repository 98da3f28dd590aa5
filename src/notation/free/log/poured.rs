//! What is poured in and is no ingredient of the catalogue, or is stated by its gravity: wort, krausen, beer, drinks, juice.

use super::jotted_number::{is_gravity, plato};
use super::words::LogWord;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::free::bit::{Bit, What as Piece};
use crate::notation::free::said::trade;
use crate::notation::free::words::has;
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// What ferments of a wort's extract where the log reads nothing behind it: four fifths as a hydrometer shows it (common practice, no
/// source).
const WORT_FERMENTS_PCT: f64 = 65.0;

/// What is poured in, as the notation says it behind the amount.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Poured {
    pub(super) text: String,
    /// A figure of the line and what was made of it.
    pub(super) told: Option<(String, String, Span)>,
}

/// The figures that tell what a drink is made of.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Strength {
    pub(super) gravity: Option<(AsWritten, Span)>,
    pub(super) alcohol: Option<(AsWritten, Span)>,
}

impl Strength {
    /// Those of the pieces.
    pub(super) fn of(bits: &[Bit]) -> Self {
        let find = |fits: &dyn Fn(&AsWritten) -> bool| {
            bits.iter().find_map(|bit| {
                let written = bit.quantity().filter(|written| fits(written))?;
                Some((*written, bit.span))
            })
        };
        Self {
            gravity: find(&is_gravity),
            alcohol: find(&|written| written.unit == Unit::Percent),
        }
    }
}

/// `10 L wort at 1.050`, `5 L of stout, 6.5 % ABV, 1.016`: what the notation says of it, by what the line says; nothing where no words
/// say what it is.
pub(super) fn poured(
    bits: &[Bit],
    amount: Span,
    original: Option<AsWritten>,
) -> Option<Result<Poured, Diagnostic>> {
    let strength = Strength::of(bits);
    let is_krausen = has(bits, LogWord::Krausen.phrases());
    let is_wort = has(bits, LogWord::Wort.phrases());
    let is_beer = has(bits, LogWord::Beer.phrases());
    let shown = strength
        .gravity
        .and_then(|(written, span)| Some((plato(&written)?, written, span)));
    // `10 L of beer from 1.060 to 1.012` counts as the wort that it was made of, as young beer does.
    if let (Some(strongest), true) = (strongest(bits), is_beer || is_krausen) {
        return Some(Ok(Poured {
            text: wort("krausen beer", &strongest),
            told: None,
        }));
    }
    Some(match (shown, strength.alcohol) {
        // Young beer counts as the wort that it was made of: what of it has become alcohol by now comes to the same.
        (Some((_, written, span)), None) if is_krausen => {
            let Some(original) = original else {
                return Some(Err(lacks(bits, amount, "young beer")));
            };
            Ok(Poured {
                text: wort("krausen beer", &original),
                told: Some((
                    format!("krausen at {written}"),
                    format!("young beer of a wort of {original}, as this one"),
                    span,
                )),
            })
        }
        (Some((_, written, span)), None) if is_wort => Ok(Poured {
            text: wort("fresh wort", &written),
            told: Some((
                format!("wort of {written}"),
                format!(
                    "wort of which {WORT_FERMENTS_PCT} % of the extract ferments, unless a reading shows it"
                ),
                span,
            )),
        }),
        (Some(_), None) if is_beer => Err(lacks(bits, amount, "beer")),
        (Some((_, written, _)), None) => {
            let brix = brix_word(&written);
            Ok(Poured {
                text: format!("\"{}\", {brix}{written}", name(bits)?),
                told: None,
            })
        }
        (Some((plato, written, span)), Some((alcohol, _))) => {
            let shown = specific_gravity(&written, plato);
            Ok(Poured {
                text: format!("\"beer poured in\", {alcohol} alcohol, brix {shown}"),
                told: Some((
                    format!("{written} beside {alcohol}"),
                    "what a hydrometer shows in it".to_owned(),
                    span,
                )),
            })
        }
        (None, Some(_)) if is_beer => Err(lacks(bits, amount, "beer")),
        (None, Some((alcohol, _))) if !is_wort && !is_krausen => Ok(Poured {
            text: format!("\"{}\", {alcohol} alcohol", name(bits)?),
            told: None,
        }),
        _ if is_krausen => Err(lacks(bits, amount, "young beer")),
        _ if is_beer => Err(lacks(bits, amount, "beer")),
        _ if is_wort => Err(lacks(bits, amount, "wort")),
        _ => return None,
    })
}

/// The word without which a specific gravity is no figure of a drink.
fn brix_word(shown: &AsWritten) -> &'static str {
    if shown.unit == Unit::SpecificGravity {
        "brix "
    } else {
        ""
    }
}

/// The first of two gravities, if it is the stronger.
fn strongest(bits: &[Bit]) -> Option<AsWritten> {
    let mut shown = bits
        .iter()
        .filter_map(Bit::quantity)
        .filter(|written| is_gravity(written));
    let (first, second) = (shown.next()?, shown.next()?);
    (plato(first)? > plato(second)?).then_some(*first)
}

/// Wort by its gravity.
pub(super) fn wort(name: &str, shown: &AsWritten) -> String {
    let brix = brix_word(shown);
    format!("\"{name}\", 0 % alcohol, {brix}{shown}, {WORT_FERMENTS_PCT} % fermentable")
}

/// To a hundredth, as no instrument of a log reads nearer.
fn rounded(plato: f64) -> f64 {
    (plato * 100.0).round() / 100.0
}

/// A gravity of beer as a specific one, which only a hydrometer shows: halved so often, the range is one number.
fn specific_gravity(written: &AsWritten, shown: f64) -> AsWritten {
    if written.unit == Unit::SpecificGravity {
        return *written;
    }
    let (mut low, mut high) = (0.98, 1.2);
    for _ in 0..40 {
        let middle = f64::midpoint(low, high);
        let at = plato(&AsWritten::plain(middle, Unit::SpecificGravity));
        if at.is_some_and(|at| at < shown) {
            low = middle;
        } else {
            high = middle;
        }
    }
    AsWritten::plain((low * 1e5).round() / 1e5, Unit::SpecificGravity)
}

/// What it is called: the words of the line that are neither verbs nor labels.
pub(super) fn name(bits: &[Bit]) -> Option<String> {
    const LABELS: [&str; 14] = [
        "abv", "alc", "alcohol", "vol", "vol.", "proof", "og", "fg", "sg", "gravity", "brix",
        "showing", "reading", "read",
    ];
    let is_verb = |word: &str| {
        let phrases = LogWord::Added.phrases().iter();
        phrases
            .flat_map(|phrase| phrase.split(' '))
            .any(|own| own == word)
    };
    let is_alcohol = |at: usize| {
        // `grain alcohol 95 %` is what it is called, `95 % alcohol` how strong it is.
        let before = at.checked_sub(1).and_then(|at| bits.get(at));
        before.is_none_or(|before| before.word().is_none_or(|word| trade().is_filler(word)))
    };
    let words = bits.iter().enumerate().filter_map(|(at, bit)| {
        let word = bit.word()?;
        let is_label = LABELS.contains(&word) && (word != "alcohol" || is_alcohol(at));
        (!is_label && !is_verb(word) && !trade().is_filler(word)).then_some(word)
    });
    let name = words.take(4).collect::<Vec<_>>().join(" ");
    (!name.is_empty()).then_some(name)
}

/// Beer or wort without what tells how much it brings.
fn lacks(bits: &[Bit], amount: Span, what: &str) -> Diagnostic {
    let typed = bits.iter().find(|bit| bit.span == amount);
    let typed = typed
        .and_then(Bit::quantity)
        .map_or_else(|| "5 L".to_owned(), ToString::to_string);
    let (wanted, example) = match what {
        "wort" => ("its gravity", "wort at 1.050"),
        "young beer" => ("the gravity of its wort", "wort at 1.050"),
        _ => ("its gravity and its alcohol", "beer, 1.012, 5 % alcohol"),
    };
    let message = format!("expected {wanted} beside {typed} of {what}");
    Diagnostic::error(Code::MissingQuantity, amount, message).with_help(format!(
        "write it with its figures, such as `added {typed} {example}`"
    ))
}

/// A gravity of a juice as its Brix, with the words before it out of the way: `apple juice at 1.048`.
pub(super) fn in_brix(bits: &[Bit]) -> Vec<Bit> {
    let is_volume = |bit: &Bit| {
        bit.quantity()
            .is_some_and(|written| written.unit.dimension() == Dimension::Volume)
    };
    let Some(first) = bits.iter().position(is_volume) else {
        return bits.to_vec();
    };
    let mut whole: Vec<Bit> = Vec::with_capacity(bits.len());
    for (at, bit) in bits.iter().enumerate() {
        let shown = bit
            .quantity()
            .filter(|written| at > first && is_gravity(written) && written.unit != Unit::Brix);
        match shown.and_then(plato) {
            Some(plato) => {
                let leads = |bit: &Bit| {
                    matches!(bit.word(), Some("at" | "of" | "sg" | "og" | "gravity"))
                        || bit.is_mark('@')
                };
                while whole.last().is_some_and(leads) {
                    whole.pop();
                }
                whole.push(Bit {
                    what: Piece::Quantity(AsWritten::plain(rounded(plato), Unit::Brix)),
                    span: bit.span,
                });
            }
            None => whole.push(bit.clone()),
        }
    }
    whole
}

/// `80 proof`: twice the alcohol by volume, as bottles of the United States say it.
pub(super) fn proof(bits: &mut Vec<Bit>) -> Option<(String, String, Span)> {
    let at = bits.windows(2).position(|pair| {
        pair.first().is_some_and(|bit| bit.bare().is_some())
            && pair.get(1).and_then(Bit::word) == Some("proof")
    })?;
    let number = bits.get(at)?.bare()?.middle();
    let span = bits.get(at)?.span.to(bits.get(at + 1)?.span);
    let written = AsWritten::plain(number / 2.0, Unit::Percent);
    bits.remove(at + 1);
    let bit = bits.get_mut(at)?;
    bit.what = Piece::Quantity(written);
    bit.span = span;
    Some((
        format!("{number} proof"),
        format!("{written} alcohol"),
        span,
    ))
}

/// The pieces without the marks before the figures of what is poured in: `300 ml rum, 54 % vol` is one thing.
pub(super) fn flat(bits: Vec<Bit>) -> Vec<Bit> {
    let is_of = |bit: &Bit, wanted: &[Dimension]| {
        bit.quantity()
            .is_some_and(|written| wanted.contains(&written.unit.dimension()))
    };
    let volume = bits.iter().position(|bit| is_of(bit, &[Dimension::Volume]));
    let strength = bits
        .iter()
        .rposition(|bit| is_of(bit, &[Dimension::Percent, Dimension::Gravity]));
    let (Some(volume), Some(strength)) = (volume, strength) else {
        return bits;
    };
    let is_mark = |bit: &Bit| matches!(bit.what, Piece::Mark(',' | '(' | ')' | '-' | '=' | '/'));
    let inside = |at: usize| volume < at && at < strength;
    bits.into_iter()
        .enumerate()
        .filter(|(at, bit)| !(inside(*at) && is_mark(bit)))
        .map(|(_, bit)| bit)
        .collect()
}
