//! Mashes as they are jotted, brought into the order in which the grammar says them: `12 L at 76 to hit 68 C`, `67/40, 72/10, 78`.

use super::bit::{Bit, What};
use super::draft::{line, tokens};
use super::jotted_unit::warmth;
use super::said::{Part, trade};
use super::sheet::Sheet;
use super::told::Told;
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// What stands between the heat of the water and that of the mash, the longest first.
const LANDS: [&[&str]; 14] = [
    &["should", "land", "on"],
    &["should", "land", "me", "on"],
    &["should", "settle", "at"],
    &["which", "lands", "me", "on"],
    &["which", "lands", "me", "at"],
    &["gets", "it", "to"],
    &["lands", "on"],
    &["land", "on"],
    &["to", "settle", "at"],
    &["to", "get"],
    &["to", "hit"],
    &["want"],
    &["for"],
    &["hits"],
];

/// Heats of water for a mash, and heats of a mash, in degrees Celsius (common practice, no source).
const STRIKES: std::ops::RangeInclusive<f64> = 52.0..=95.0;
const RESTS: std::ops::RangeInclusive<f64> = 45.0..=78.0;

/// A heat, with its scale or without.
fn heat(bit: &Bit) -> Option<AsWritten> {
    match &bit.what {
        What::Quantity(written) => {
            (written.unit.dimension() == Dimension::Temperature).then_some(*written)
        }
        What::Bare(bare) => Some(AsWritten::marked(*bare, warmth(bare.middle()))),
        _ => None,
    }
}

fn degrees(heat: &AsWritten) -> f64 {
    heat.unit.to_base(heat.number)
}

/// Leaves out the heat of the water where that of the mash stands behind it: it is worked out.
pub(super) fn landed(bits: &[Bit], told: &mut Vec<Told>) -> Option<Vec<Bit>> {
    let is_volume = |bit: &Bit| {
        bit.quantity()
            .is_some_and(|written| written.unit.dimension() == Dimension::Volume)
    };
    let volume = bits.iter().position(is_volume)?;
    let (strike, first) = bits
        .iter()
        .enumerate()
        .skip(volume + 1)
        .find_map(|(at, bit)| {
            let heat = heat(bit)?;
            STRIKES.contains(&degrees(&heat)).then_some((at, heat))
        })?;
    let behind = bits.get(strike + 1..)?;
    let marks = behind
        .iter()
        .take_while(|bit| matches!(bit.what, What::Mark(',' | '-' | '>')))
        .count();
    let is_arrow = behind.iter().take(marks).any(|bit| bit.is_mark('>'));
    let words: Vec<&str> = behind.iter().skip(marks).map_while(Bit::word).collect();
    let lands = LANDS.iter().find(|lands| words.starts_with(lands));
    let length = match lands {
        Some(lands) => marks + lands.len(),
        None if is_arrow => marks,
        // `7.5 gal at 166, 154 for 60`: the second is a rest, with its time.
        None if marks == 1 && rests_behind(behind.get(1..)?) => marks,
        None => return None,
    };
    let reached = behind.get(length)?;
    let second = heat(reached)?;
    let is_mash = RESTS.contains(&degrees(&second)) && degrees(&second) < degrees(&first);
    is_mash.then_some(())?;
    let mut whole: Vec<Bit> = Vec::with_capacity(bits.len() + 2);
    let is_said = bits.iter().take(strike).any(|bit| {
        matches!(
            bit.word(),
            Some("mash" | "strike" | "dough" | "doughing" | "liquor")
        )
    }) || bits
        .get(volume + 1)
        .is_some_and(|next| next.word() == Some("strike"));
    if !is_said {
        let span = bits.get(volume)?.span;
        whole.push(Bit {
            what: What::Word("strike".into()),
            span,
        });
    }
    whole.extend(bits.iter().take(strike).cloned());
    let span = reached.span;
    whole.push(Bit {
        what: What::Mark(','),
        span,
    });
    whole.push(Bit {
        what: What::Word("rest".into()),
        span,
    });
    if reached.bare().is_some() {
        let typed = second.number.to_string();
        told.push(Told::Assumed(typed, second.to_string(), span));
    }
    whole.push(Bit {
        what: What::Quantity(second),
        span,
    });
    whole.extend(behind.iter().skip(length + 1).cloned());
    Some(whole)
}

/// A heat with its time behind it: `154 for 60`.
fn rests_behind(bits: &[Bit]) -> bool {
    let word = bits.get(1).and_then(Bit::word);
    let is_time = |bit: &Bit| {
        bit.bare().is_some()
            || bit
                .quantity()
                .is_some_and(|written| written.unit.dimension() == Dimension::Time)
    };
    let from = 1 + usize::from(word == Some("for"));
    bits.first().and_then(heat).is_some() && bits.get(from).is_some_and(is_time)
}

impl Sheet<'_> {
    /// `pull a third, boil 15 min, back -> 63 C`: the rest that a boiled part brings the mash to.
    pub(super) fn returned(&mut self, bits: &[Bit]) {
        let is_heat = |bit: &Bit| {
            bit.quantity().is_some_and(|written| {
                RETURNS.contains(&degrees(written))
                    && written.unit.dimension() == Dimension::Temperature
            })
        };
        let Some(at) = bits.iter().rposition(is_heat) else {
            return;
        };
        let before = bits.get(at.saturating_sub(5)..at).unwrap_or(&[]);
        let is_back = before.iter().any(|bit| {
            bit.is_mark('>')
                || matches!(bit.word(), Some("back" | "return" | "returned" | "returns"))
        });
        let (Some(bit), true) = (bits.get(at), is_back) else {
            return;
        };
        let Some(heat) = bit.quantity() else { return };
        let time = bits.get(at + 1).and_then(Bit::quantity);
        let time = time.filter(|time| time.unit.dimension() == Dimension::Time);
        let time = time.map_or_else(
            || {
                self.told
                    .push(Told::Default("rest".into(), "10 min".into(), bit.span));
                "10 min".to_owned()
            },
            ToString::to_string,
        );
        let rest = tokens(&format!("rest {heat} for {time}"), bit.span);
        let taken = heat.to_string();
        self.told.retain(|told| !matches!(told, Told::NotUsed(typed, span) if *typed == taken && *span == bit.span));
        self.draft.mash.lines.push(line(rest, Vec::new()));
        self.once.insert("rest".into());
        self.part = Part::Mash;
    }
}

/// Heats that a decoction brings a mash to, in degrees Celsius (common practice, no source).
const RETURNS: std::ops::RangeInclusive<f64> = 45.0..=80.0;

/// Whether a line is a list of the steps of a mash: heats with their times, one behind the other, and no ingredient or phrase.
pub(super) fn is_steps(bits: &[Bit], part: Part) -> bool {
    if !matches!(part, Part::Head | Part::Water | Part::Mash | Part::Boil) {
        return false;
    }
    let is_pair = |bit: &Bit| matches!(bit.what, What::Pair(..));
    let is_step = |pair: &[Bit]| {
        let [first, second] = pair else { return false };
        let of_mash = |heat: &AsWritten| (35.0..=80.0).contains(&degrees(heat));
        let is_heat = first.quantity().is_some() && heat(first).as_ref().is_some_and(of_mash);
        let is_time =
            |written: &AsWritten| matches!(written.unit, Unit::Minute | Unit::Hour | Unit::Second);
        is_heat && second.quantity().is_some_and(is_time)
    };
    let steps = bits.windows(2).filter(|pair| is_step(pair)).count();
    let speaks = bits.iter().enumerate().any(|(at, _)| {
        let words = bits.get(at..).unwrap_or(&[]).iter().map_while(Bit::word);
        trade().line(&words, part).is_some()
    });
    bits.iter().filter(|bit| is_pair(bit)).count() + steps >= 2 && !speaks
}

/// The line of a mash with a heat and a time each in the place of `63/40`.
pub(super) fn pairs(bits: Vec<Bit>, part: Part) -> Vec<Bit> {
    let is_step = |bit: &Bit| match bit.what {
        What::Pair(heat, minutes) => {
            let heat = AsWritten::plain(heat, warmth(heat));
            (35.0..=80.0).contains(&degrees(&heat)) && (1.0..=240.0).contains(&minutes)
        }
        _ => false,
    };
    let says = |bit: &Bit| {
        bit.word()
            .is_some_and(|word| ["mash", "rest", "rests", "step", "steps"].contains(&word))
    };
    let is_of_mash = matches!(part, Part::Head | Part::Water | Part::Mash);
    if !(is_of_mash && bits.iter().any(says) && bits.iter().any(is_step)) {
        return bits;
    }
    let mut whole = Vec::with_capacity(bits.len() + 4);
    for bit in bits {
        match bit.what {
            What::Pair(heat, minutes) if is_step(&bit) => {
                for written in [
                    AsWritten::plain(heat, warmth(heat)),
                    AsWritten::plain(minutes, Unit::Minute),
                ] {
                    whole.push(Bit {
                        what: What::Quantity(written),
                        span: bit.span,
                    });
                }
            }
            _ => whole.push(bit),
        }
    }
    whole
}

/// The steps with a heat and a time each in the place of `67/40`, and the last heat of all with its scale.
pub(super) fn steps(bits: Vec<Bit>, told: &mut Vec<Told>) -> Vec<Bit> {
    let last = bits.len().saturating_sub(1);
    let mut whole = Vec::with_capacity(bits.len());
    for (at, bit) in bits.into_iter().enumerate() {
        let quantity = |number: f64, unit| Bit {
            what: What::Quantity(AsWritten::plain(number, unit)),
            span: bit.span,
        };
        match bit.what {
            What::Pair(degrees, minutes) => {
                whole.push(quantity(degrees, warmth(degrees)));
                whole.push(quantity(minutes, Unit::Minute));
            }
            What::Bare(bare) if at == last => {
                let ended = quantity(bare.middle(), warmth(bare.middle()));
                let read = ended.quantity().map(ToString::to_string);
                let typed = bare.middle().to_string();
                told.push(Told::Assumed(typed, read.unwrap_or_default(), bit.span));
                whole.push(ended);
            }
            _ => whole.push(bit),
        }
    }
    whole
}
