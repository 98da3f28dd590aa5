//! What a figure of a plant is a figure of.

use crate::notation::free::bit::Bit;

use super::near::{batch_point, is_batch, near};
use super::power::is_hourly;
use super::reader::Reader;
use super::words::Tag;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::free::rates::per_hour;
use crate::notation::free::told::Told;
use crate::notation::free::words::Clause;
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// Litres of water to a kilogram of grain from which on it is a mash and no bed (common practice, no source).
const THIN_L_PER_KG: f64 = 1.7;

/// Metres from which on a height needs no word that it is one.
const HIGH_M: f64 = 100.0;

impl Reader<'_, '_> {
    pub(super) fn figure(
        &mut self,
        written: AsWritten,
        span: Span,
        at: usize,
        part: &Clause<'_>,
        own: &[(usize, Tag)],
        whole: &[Tag],
    ) -> bool {
        let says = |tag: Tag| whole.contains(&tag);
        let is_chilled = whole.iter().any(|tag| tag.is_chiller())
            || self.context.iter().any(|tag| tag.is_chiller());
        match written.unit.dimension() {
            Dimension::VolumePerTime
                if !is_chilled
                    && !says(Tag::Sparge)
                    && !says(Tag::Continuous)
                    && !says(Tag::Other) =>
            {
                self.put("evaporation", &format!("evaporation {written}"), span)
            }
            Dimension::VolumePerMass => self.per_grain(&written, span, whole),
            Dimension::Percent => self.share(&written, span, at, part, whole),
            Dimension::Length => {
                let metres = written.unit.to_base(written.number);
                let is_height = says(Tag::Altitude)
                    || !is_chilled
                        && !own.iter().any(|(_, tag)| tag.is_vessel())
                        && metres >= HIGH_M;
                is_height && self.put("altitude", &format!("altitude {written}"), span)
            }
            Dimension::Temperature if says(Tag::Coolant) => {
                self.put("coolant", &format!("coolant {written}"), span)
            }
            Dimension::Temperature
                if is_chilled
                    && !says(Tag::Aside)
                    && written.unit.to_base(written.number) < 40.0 =>
            {
                let is_open = self.chiller.to.is_none();
                self.chiller.to.get_or_insert((written, span));
                is_open
            }
            Dimension::Time if is_chilled && !says(Tag::Aside) => {
                let is_open = self.chiller.time.is_none();
                self.chiller.time.get_or_insert((written, span));
                is_open
            }
            Dimension::Volume => self.volume(&written, span, at, part, own, whole),
            _ => false,
        }
    }

    pub(super) fn per_grain(&mut self, written: &AsWritten, span: Span, whole: &[Tag]) -> bool {
        let litres = written.unit.to_base(written.number);
        if whole.contains(&Tag::Hops) {
            return false;
        }
        if whole.contains(&Tag::MashIn)
            || whole.contains(&Tag::BeforeBoil)
            || litres >= THIN_L_PER_KG && !whole.contains(&Tag::Absorption)
        {
            return self.put("mash in", &format!("mash in {written}"), span);
        }
        self.put("absorption", &format!("absorption {written}"), span)
    }

    /// A share: what boils off, or what is got of the extract.
    pub(super) fn share(
        &mut self,
        written: &AsWritten,
        span: Span,
        at: usize,
        part: &Clause<'_>,
        whole: &[Tag],
    ) -> bool {
        let behind = part.bits.get(at + 1..).unwrap_or(&[]);
        let spell = part.bits.iter().find_map(|bit| {
            bit.quantity()
                .filter(|time| time.unit.dimension() == Dimension::Time)
        });
        // `12 % boil off per hour`
        let is_hourly = (0..behind.len()).any(|from| is_hourly(behind.get(from..).unwrap_or(&[])));
        if whole.contains(&Tag::Evaporation) || is_hourly {
            if part.bits.iter().any(|bit| bit.word() == Some("total")) {
                return false;
            }
            let minutes = spell
                .filter(|_| !is_hourly)
                .map(|time| time.unit.to_base(time.number));
            let hourly = match minutes {
                Some(minutes) if minutes > 0.0 => {
                    AsWritten::plain(written.number * 60.0 / minutes, Unit::Percent)
                }
                _ => *written,
            };
            let text = format!("evaporation {hourly} per hour");
            if !is_hourly && minutes.is_none() {
                self.sheet.told.push(Told::Asked(per_what(&hourly, span)));
            } else if !is_hourly {
                self.sheet.told.push(Told::Assumed(
                    written.to_string(),
                    format!("{hourly} per hour"),
                    span,
                ));
            }
            return self.put("evaporation", &text, span);
        }
        let is_yield = whole.contains(&Tag::Yield)
            || whole.contains(&Tag::Brewhouse)
            || whole.is_empty()
            || whole == [Tag::IntoFermenter];
        let is_open = self.reached.is_none();
        let likely = (30.0..=100.0).contains(&written.number);
        if is_yield && is_open && likely {
            let mut tags = whole.to_vec();
            if part.bits.iter().any(|bit| bit.word() == Some("mash")) {
                tags.push(Tag::Tun);
            }
            self.reached = Some((*written, span, tags));
            return true;
        }
        false
    }

    /// `eff 75`
    pub(super) fn bare(&mut self, bit: &Bit, whole: &[Tag]) -> bool {
        let Some(number) = bit
            .bare()
            .filter(|number| (40.0..=95.0).contains(&number.middle()))
        else {
            return false;
        };
        if !whole.contains(&Tag::Yield) || self.reached.is_some() {
            return false;
        }
        let written = AsWritten::marked(number, Unit::Percent);
        self.sheet.told.push(Told::Assumed(
            number.middle().to_string(),
            written.to_string(),
            bit.span,
        ));
        self.reached = Some((written, bit.span, whole.to_vec()));
        true
    }

    pub(super) fn volume(
        &mut self,
        written: &AsWritten,
        span: Span,
        at: usize,
        part: &Clause<'_>,
        own: &[(usize, Tag)],
        whole: &[Tag],
    ) -> bool {
        let says = |tag: Tag| whole.contains(&tag);
        if says(Tag::Evaporation) {
            let spell = part.bits.iter().find_map(|bit| {
                bit.quantity()
                    .filter(|time| time.unit.dimension() == Dimension::Time)
            });
            let rate = spell.and_then(|time| per_hour(written, time));
            return rate
                .is_some_and(|rate| self.put("evaporation", &format!("evaporation {rate}"), span));
        }
        if says(Tag::Loss) && own.iter().any(|(_, tag)| *tag == Tag::Hops) {
            return false;
        }
        if says(Tag::Loss) || says(Tag::Trub) && !whole.iter().any(|tag| tag.is_vessel()) {
            return self.loss(written, span, own, whole);
        }
        // `12 gal batch max`: the largest, and not the usual one.
        let is_most = |bit: &Bit| matches!(bit.word(), Some("max" | "maximum"));
        if says(Tag::Batch) && part.bits.iter().any(is_most) {
            return false;
        }
        let near = near(part, at, own);
        let (tag, is_inside) = match near {
            Some(near) => near,
            None if !own.is_empty() || !self.context.is_empty() => {
                let subject = whole
                    .iter()
                    .copied()
                    .find(|tag| tag.is_vessel() || is_batch(*tag))
                    .or_else(|| {
                        self.context
                            .iter()
                            .copied()
                            .find(|tag| tag.is_vessel() || is_batch(*tag))
                    });
                match subject {
                    Some(tag) => (tag, false),
                    None => return self.alone(written, span, part),
                }
            }
            None => return self.alone(written, span, part),
        };
        match (tag, is_inside) {
            (Tag::Sparge, _) => {
                let is_open = self.sparge.is_none();
                self.sparge.get_or_insert((*written, span));
                is_open
            }
            (Tag::Batch, _) => self.batch(written, span, batch_point(whole)),
            (Tag::IntoFermenter, _) | (Tag::Fermenter, true) => {
                self.batch(written, span, " into fermenter")
            }
            (Tag::EndOfBoil, _) => self.batch(written, span, " at end of boil"),
            (Tag::Packaged, _) => self.batch(written, span, " packaged"),
            (Tag::Kettle, false) => {
                self.kettle_l
                    .get_or_insert(written.unit.to_base(written.number));
                self.put("kettle", &format!("kettle {written}"), span)
            }
            (Tag::Tun, false) => self.put("mash tun", &format!("mash tun {written}"), span),
            (Tag::LauterTun, false) if part.bits.iter().any(|bit| bit.word() == Some("mash")) => {
                self.put("mash tun", &format!("mash tun {written}"), span)
            }
            (Tag::Fermenter, false) => {
                let each = self.each(written, span);
                self.put("fermenter", &format!("fermenter {each}"), span)
            }
            _ => false,
        }
    }

    /// One of several vessels of a size: a brew goes into one.
    pub(super) fn each(&mut self, written: &AsWritten, span: Span) -> AsWritten {
        let is_it = |bit: &&Bit| bit.span.end == span.end && bit.span.start > span.start;
        let one = self.apart.iter().find(is_it).and_then(Bit::quantity);
        let Some(one) = one.filter(|one| one.unit.dimension() == Dimension::Volume) else {
            return *written;
        };
        let mut one = *one;
        one.unit = written.unit;
        let told = Told::Assumed(written.to_string(), format!("{one} each"), span);
        self.sheet.told.push(told);
        one
    }

    /// `boils off 8 L an hour each`, in a plant that has several of a kind.
    pub(super) fn ask_of_each(&mut self, bits: &[Bit]) {
        let each = bits
            .iter()
            .find(|bit| matches!(bit.word(), Some("each" | "apiece")));
        if let Some(each) = each.filter(|_| bits.iter().any(|bit| bit.quantity().is_some())) {
            let message = "expected a figure of the whole plant, found one of each of several";
            let found = Diagnostic::warning(Code::MissingQuantity, each.span, message)
                .with_help("write what all of them together hold, lose or boil off");
            self.sheet.told.push(Told::Asked(found));
        }
    }

    /// A volume of which no word says what it is: the size of the plant, where it begins a line.
    pub(super) fn alone(&mut self, written: &AsWritten, span: Span, part: &Clause<'_>) -> bool {
        let begins = part.from == 0 && part.bits.len() == 1;
        (self.is_first || begins) && self.batch(written, span, "")
    }

    pub(super) fn batch(&mut self, written: &AsWritten, span: Span, point: &str) -> bool {
        self.batch_l
            .get_or_insert(written.unit.to_base(written.number));
        self.put("batch", &format!("batch {written}{point}"), span)
    }

    /// What stays behind: in the vessel that is named with it, that its name tells, or that was spoken of before.
    pub(super) fn loss(
        &mut self,
        written: &AsWritten,
        span: Span,
        own: &[(usize, Tag)],
        whole: &[Tag],
    ) -> bool {
        let told = |(_, tag): &(usize, Tag)| match tag {
            tag if tag.is_vessel() => Some(*tag),
            Tag::BeforeBoil => Some(Tag::Kettle),
            _ => None,
        };
        let says = |wanted: Tag| own.iter().any(|(_, tag)| *tag == wanted);
        let named = own.iter().find_map(told);
        let by_name = says(Tag::Lees)
            .then_some(Tag::Fermenter)
            .or_else(|| says(Tag::Trub).then_some(Tag::Kettle));
        let before = whole.iter().copied().find(|tag| tag.is_vessel());
        let trub = whole.contains(&Tag::Trub).then_some(Tag::Kettle);
        let place = named
            .or(by_name)
            .or(before)
            .or(self.on_line)
            .or(trub)
            .or(self.vessel);
        let word = match place {
            Some(Tag::Kettle) => "kettle loss",
            Some(Tag::Tun) => "tun loss",
            Some(Tag::Fermenter) => "fermenter loss",
            _ => return false,
        };
        self.put(word, &format!("{word} {written}"), span)
    }
}

/// `10 % evaporation`: an hour, or a boil.
fn per_what(share: &AsWritten, span: Span) -> Diagnostic {
    let message = format!("expected a time after an evaporation of `{share}`; assumed per hour");
    Diagnostic::warning(Code::MissingQuantity, span, message)
        .with_help(format!("write `{share} per hour`"))
}
