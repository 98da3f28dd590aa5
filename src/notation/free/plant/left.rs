//! What no line of a plant holds.

use crate::notation::free::bit::{Bit, What};

use super::power::{HEATER_KW, is_power, kilowatts};
use super::reader::Reader;
use super::words::{Tag, tag};
use crate::diagnostic::Span;
use crate::notation::free::said::trade;
use crate::notation::free::told::Told;
use crate::quantity::Unit;

impl Reader<'_, '_> {
    /// Tells of what no line of the plant holds.
    pub(super) fn leave(&mut self, bits: &[Bit], used: &[bool]) {
        let mut words = Vec::new();
        let mut place: Option<Span> = None;
        let mut at = 0;
        while let Some(stretch) = bits.get(at..).filter(|stretch| !stretch.is_empty()) {
            let Some(bit) = stretch.first() else { break };
            let is_used = used.get(at).copied().unwrap_or(false);
            let known = tag(stretch).filter(|(tag, _)| !matches!(tag, Tag::Other | Tag::Aside));
            match &bit.what {
                What::Quantity(written) if !is_used && written.unit != Unit::Hour => self
                    .sheet
                    .told
                    .push(Told::NotUsed(written.to_string(), bit.span)),
                What::Bare(number) if !is_used && is_power(stretch) => {
                    let kw = kilowatts(number.middle(), stretch).filter(|kw| *kw >= HEATER_KW);
                    let heats = kw.is_some_and(|kw| {
                        self.put("heat direct", &format!("heat direct {kw} kW"), bit.span)
                    });
                    if !heats {
                        words.push("power");
                        place = Some(place.map_or(bit.span, |place| place.to(bit.span)));
                    }
                }
                What::Bare(number) if !is_used => self
                    .sheet
                    .told
                    .push(Told::NotUsed(number.middle().to_string(), bit.span)),
                What::Ambiguous(..) => self.ambiguous(stretch),
                What::Word(word) | What::Quoted(word)
                    if !(known.is_some()
                        || is_used
                        || trade().is_filler(word)
                        // It counts the sparges.
                        || word == "twice" && self.way.is_some()) =>
                {
                    words.push(word.as_str());
                    place = Some(place.map_or(bit.span, |place| place.to(bit.span)));
                }
                _ => {}
            }
            at += known.map_or(1, |(_, count)| count);
        }
        if let Some(place) = place {
            self.sheet.told.push(Told::Remark(words.join(" "), place));
        }
    }

    /// A number that can be read in two ways is asked, unless no line of a plant would use it.
    pub(super) fn ambiguous(&mut self, stretch: &[Bit]) {
        let Some(doubt) = stretch.first().and_then(Bit::doubt) else {
            return;
        };
        // A power has no line, whatever its comma means.
        if !is_power(stretch) {
            self.sheet.told.push(Told::Asked(doubt));
        }
    }
}
