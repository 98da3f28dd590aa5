//! What a line of a log says, figure by figure.

use super::entry::{Entry, Label, Litres, Shown, What};
use super::jotted_number::{Known, alone, is_gravity, points};
use super::label::{label, mash_ph};
use super::words::LogWord;
use crate::catalogue::Kind;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::free::bit::{Bit, What as Piece};
use crate::notation::free::group::{Group, groups};
use crate::notation::free::item::Item;
use crate::notation::free::names::Among;
use crate::notation::free::said::{Part, Slot, trade};
use crate::notation::free::sheet::Sheet;
use crate::notation::free::told::Told;
use crate::notation::free::words::{Clause, clauses, covered, find, has};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// The entries of a line without its date.
pub(super) fn entries(bits: &[Bit], sheet: &mut Sheet<'_>, known: Known) -> Vec<Entry> {
    let mut bits = bits.to_vec();
    points(&mut bits, &mut sheet.told);
    alone(&mut bits, known, &mut sheet.told);
    let mut reader = Reader {
        sheet,
        bits: &bits,
        used: vec![false; bits.len()],
        entries: Vec::new(),
        label: Label::Open,
        is_packaged: false,
        added: None,
        known,
    };
    if !is_of_several(reader.bits) {
        for clause in with_sugar(reader.bits) {
            reader.clause(clause);
        }
    }
    reader.leave();
    let mut entries = reader.entries;
    entries.sort_by_key(|entry| entry.span.start);
    entries
}

/// Whether a line gives the figures of several vessels, which are one fermentation each: `A 1.014 B 1.013`.
fn is_of_several(bits: &[Bit]) -> bool {
    let is_letter = |bit: &Bit| {
        bit.word()
            .is_some_and(|word| matches!(word, "a" | "b" | "c" | "d" | "e" | "f"))
    };
    let is_headed = |pair: &&[Bit]| matches!(pair, [letter, figure] if is_letter(letter) && figure.quantity().is_some());
    bits.windows(2).filter(is_headed).count() > 1
}

/// The clauses of a line; the sugar of a juice that stands behind it in brackets is one with it.
fn with_sugar(bits: &[Bit]) -> Vec<Clause<'_>> {
    let mut whole: Vec<Clause<'_>> = Vec::new();
    for clause in clauses(bits) {
        let has = |clause: &Clause<'_>, dimension| {
            clause.bits.iter().any(|bit| {
                bit.quantity()
                    .is_some_and(|written| written.unit.dimension() == dimension)
            })
        };
        // `rhubarb in, 1.5 kg`
        let is_amount = matches!(clause.bits, [bit] if bit.quantity().is_some_and(|written| written.unit.dimension() == Dimension::Mass));
        let is_named = |before: &Clause<'_>| before.bits.iter().all(|bit| bit.word().is_some());
        if clause.mark == Some(',')
            && is_amount
            && let Some(before) = whole.last_mut().filter(|before| is_named(before))
        {
            before.bits = bits
                .get(before.from..clause.from + clause.bits.len())
                .unwrap_or(before.bits);
            continue;
        }
        let joins = matches!(clause.mark, Some('(' | ',')) && has(&clause, Dimension::Gravity);
        let before = whole.last_mut().filter(|before| {
            joins
                && has(before, Dimension::Volume)
                && !has(before, Dimension::Gravity)
                && find(before.bits, LogWord::Added.phrases()).is_some()
        });
        match before {
            Some(before) => {
                before.bits = bits
                    .get(before.from..clause.from + clause.bits.len())
                    .unwrap_or(before.bits);
            }
            None => whole.push(clause),
        }
    }
    whole
}

struct Reader<'s, 'c, 'b> {
    sheet: &'s mut Sheet<'c>,
    bits: &'b [Bit],
    /// Which pieces are part of an entry.
    used: Vec<bool>,
    entries: Vec<Entry>,
    label: Label,
    /// Once a line speaks of bottles and kegs, what is added is added there.
    is_packaged: bool,
    /// Where the line says first that something went in: a gravity behind it is that of what went in.
    added: Option<usize>,
    known: Known,
}

impl Reader<'_, '_, '_> {
    fn clause(&mut self, clause: Clause<'_>) {
        let own = label(clause.bits);
        if own != Label::Open {
            self.label = own;
        }
        self.is_packaged |= has(clause.bits, LogWord::Packaged.phrases());
        self.items(clause);
        self.mash_ph(clause);
        self.gravities(clause);
        self.volumes(clause);
    }

    fn use_bit(&mut self, at: usize) {
        if let Some(used) = self.used.get_mut(at) {
            *used = true;
        }
    }

    fn use_span(&mut self, span: Span) {
        let inside = |bit: &Bit| span.start <= bit.span.start && bit.span.end <= span.end;
        for (bit, used) in self.bits.iter().zip(&mut self.used) {
            *used |= inside(bit);
        }
    }

    /// What went in beside the yeast.
    fn items(&mut self, clause: Clause<'_>) {
        if self.is_packaged
            || self.label.is_before_fermenter()
            || has(clause.bits, LogWord::Each.phrases())
        {
            return;
        }
        let names = self.sheet.names;
        let found = groups(clause.bits, Part::Log, &|words| {
            names.stretch(words, Part::Ferment)
        });
        let is_added = has(clause.bits, LogWord::Added.phrases());
        for group in found {
            self.item(group, is_added);
        }
    }

    fn item(&mut self, mut group: Group, is_added: bool) {
        let Some(name) = group.name.clone().filter(|name| name.is_known) else {
            return;
        };
        let before: Vec<Span> = group.figures.iter().map(|figure| figure.span).collect();
        let Some(item) = Item::of(
            self.sheet,
            &mut group,
            Some(Part::Log),
            Among::Part(Part::Ferment),
        ) else {
            return;
        };
        let dimension = item.dimension();
        let fits = match (item.kind, dimension) {
            (Kind::Yeast, _) => false,
            // Water and beer are spoken of without being added.
            (Kind::Beverage, Some(Dimension::Volume)) => is_added,
            (Kind::Malt | Kind::Grain | Kind::Hop | Kind::Salt, dimension) => {
                matches!(dimension, Some(Dimension::Mass | Dimension::Concentration))
            }
            (_, dimension) => matches!(
                dimension,
                Some(Dimension::Mass | Dimension::Concentration | Dimension::Volume)
            ),
        };
        if !fits {
            return;
        }
        for span in before
            .iter()
            .filter(|span| group.figures.iter().all(|figure| figure.span != **span))
        {
            self.use_span(*span);
        }
        self.use_span(name.span);
        let written = item.tokens(Some("added"));
        let span = group.span.unwrap_or(name.span);
        self.sheet.told.extend(item.told);
        self.entries.push(Entry::new(What::Added(written), span));
    }

    fn mash_ph(&mut self, clause: Clause<'_>) {
        let Some((at, written)) = mash_ph(clause.bits) else {
            return;
        };
        let at = clause.from + at;
        self.use_bit(at);
        let mash = find(clause.bits, LogWord::Mash.phrases()).map(|(mash, _)| clause.from + mash);
        if let Some(mash) = mash {
            self.use_bit(mash);
        }
        let span = self.bits.get(at).map_or_else(Span::default, |bit| bit.span);
        self.entries.push(Entry::new(What::MashPh(written), span));
    }

    fn gravities(&mut self, clause: Clause<'_>) {
        let own = find(clause.bits, LogWord::Added.phrases()).map(|(at, _)| clause.from + at);
        self.added = self.added.or(own);
        let added = self.added;
        for at in clause.from..clause.from + clause.bits.len() {
            let Some((written, span)) =
                self.quantity(at).filter(|(written, _)| is_gravity(written))
            else {
                continue;
            };
            if self.is_used(at) || added.is_some_and(|added| added < at) {
                continue;
            }
            self.use_bit(at);
            let warmth = self.warmth(at);
            let by = self.instrument(clause, &written, span);
            self.entries.push(Entry::new(
                What::Shown(Shown {
                    written,
                    span,
                    label: self.label,
                    warmth,
                    by,
                }),
                span,
            ));
        }
    }

    fn instrument(
        &mut self,
        clause: Clause<'_>,
        written: &AsWritten,
        span: Span,
    ) -> Option<(&'static str, Span)> {
        let place = |found: Option<(usize, usize)>| {
            let (at, count) = found?;
            covered(clause.bits.get(at..at + count)?)
        };
        if let Some(span) = place(find(clause.bits, LogWord::Raw.phrases())) {
            return Some(("by refractometer", span));
        }
        if let Some(span) = place(find(clause.bits, &["hydrometer"])) {
            return Some(("by hydrometer", span));
        }
        (written.unit == Unit::Brix).then(|| {
            let by = "by refractometer";
            if !self.known.is_refractometer {
                self.sheet
                    .told
                    .push(Told::Asked(which_instrument(written, span)));
            }
            (by, span)
        })
    }

    fn volumes(&mut self, clause: Clause<'_>) {
        let is_elsewhere = self.is_packaged
            || has(clause.bits, LogWord::Each.phrases())
            || has(clause.bits, LogWord::Lost.phrases())
            || has(clause.bits, LogWord::NotBeer.phrases())
            || has(clause.bits, LogWord::Yeast.phrases());
        let is_drawn = has(clause.bits, LogWord::Drawn.phrases());
        if is_elsewhere
            || !is_drawn
                && (has(clause.bits, LogWord::Added.phrases())
                    || has(clause.bits, LogWord::Moved.phrases()))
        {
            return;
        }
        for at in clause.from..clause.from + clause.bits.len() {
            let Some((written, span)) = self
                .quantity(at)
                .filter(|(written, _)| written.unit.dimension() == Dimension::Volume)
            else {
                continue;
            };
            if self.is_used(at) {
                continue;
            }
            self.use_bit(at);
            let what = if is_drawn && !self.label.is_before_fermenter() {
                What::Drawn(written)
            } else {
                let is_kept = matches!(self.label, Label::Wort(_));
                let warmth = is_kept.then(|| self.warmth_of_volume(at)).flatten();
                What::Volume(Litres {
                    written,
                    label: self.label,
                    warmth,
                })
            };
            self.entries.push(Entry::new(what, span));
        }
    }

    /// `27 L at 95 C`, `27 L @ 95 C`, `27 L, 95 C`: the temperature right behind a volume.
    fn warmth_of_volume(&mut self, volume: usize) -> Option<(AsWritten, Span)> {
        let links = |bit: &Bit| bit.is_mark('@') || bit.is_mark(',') || bit.word() == Some("at");
        let is_linked = self.bits.get(volume + 1).is_some_and(links);
        let at = volume + 1 + usize::from(is_linked);
        let (written, span) = self.quantity(at)?;
        if written.unit.dimension() != Dimension::Temperature || self.is_used(at) {
            return None;
        }
        self.use_bit(at);
        Some((written, span))
    }

    fn quantity(&self, at: usize) -> Option<(AsWritten, Span)> {
        let bit = self.bits.get(at)?;
        Some((*bit.quantity()?, bit.span))
    }

    fn is_used(&self, at: usize) -> bool {
        self.used.get(at).copied().unwrap_or(false)
    }

    /// The temperature beside a gravity, with nothing between them but other figures.
    fn warmth(&mut self, gravity: usize) -> Option<(AsWritten, Span)> {
        let (mut found, mut is_said) = (None, false);
        for at in gravity + 1..self.bits.len() {
            let bit = self.bits.get(at)?;
            let is_link = bit.is_mark('@') || bit.word() == Some("at");
            is_said |= is_link && at == gravity + 1;
            let is_warm = bit
                .quantity()
                .is_some_and(|written| written.unit.dimension() == Dimension::Temperature);
            if is_warm
                || bit.bare().is_some() && (at == gravity + 1 || is_said && at == gravity + 2)
            {
                found = Some(at);
            }
            let is_figure = bit.quantity().is_some_and(|written| !is_gravity(written));
            let passes =
                is_link || is_figure || bit.is_mark(',') || bit.is_mark('/') || bit.is_mark('|');
            if found.is_some() || !passes {
                break;
            }
        }
        let at = found.or_else(|| self.warmth_before(gravity))?;
        if self.is_used(at) {
            return None;
        }
        let bit = self.bits.get(at)?;
        let (written, typed) = match (bit.quantity(), bit.bare()) {
            // No beer ferments at 60 °C: degrees without their scale. Wort is hot in either.
            (Some(written), _)
                if written.unit == Unit::Celsius
                    && written.number > 45.0
                    && !self.label.is_before_fermenter() =>
            {
                (
                    AsWritten {
                        unit: Unit::Fahrenheit,
                        ..*written
                    },
                    Some(written.number),
                )
            }
            (Some(written), _) => (*written, None),
            (None, Some(number)) => {
                let unit =
                    Slot::Temperature.bare(number.middle(), Part::Ferment, self.sheet.is_us)?;
                (AsWritten::marked(number, unit), Some(number.middle()))
            }
            _ => return None,
        };
        let span = bit.span;
        if let Some(typed) = typed {
            self.sheet
                .told
                .push(Told::Assumed(typed.to_string(), written.to_string(), span));
        }
        self.use_bit(at);
        Some((written, span))
    }

    /// `66 F 1.024`: before the gravity, if no word says what it is of.
    fn warmth_before(&self, gravity: usize) -> Option<usize> {
        for at in (0..gravity).rev() {
            let bit = self.bits.get(at)?;
            if bit
                .quantity()
                .is_some_and(|written| written.unit.dimension() == Dimension::Temperature)
            {
                let before = at.checked_sub(1).and_then(|before| self.bits.get(before));
                return before
                    .is_none_or(|before| before.is_mark(',') || before.quantity().is_some())
                    .then_some(at);
            }
            let is_label = bit
                .word()
                .is_some_and(|word| matches!(word, "sg" | "og" | "fg" | "gravity" | "oe"));
            let is_figure = bit.quantity().is_some_and(|written| !is_gravity(written));
            if !(is_label || is_figure || bit.is_mark(',') || bit.is_mark('|')) {
                return None;
            }
        }
        None
    }

    /// Tells of what no entry holds.
    fn leave(&mut self) {
        let mut words = Vec::new();
        let mut place: Option<Span> = None;
        for (bit, used) in self.bits.iter().zip(&self.used) {
            if *used {
                continue;
            }
            match &bit.what {
                Piece::Quantity(written) => self
                    .sheet
                    .told
                    .push(Told::NotUsed(written.to_string(), bit.span)),
                Piece::Bare(number) => self
                    .sheet
                    .told
                    .push(Told::NotUsed(number.middle().to_string(), bit.span)),
                Piece::Ambiguous(..) => self.sheet.told.extend(bit.doubt().map(Told::Asked)),
                Piece::Word(word) | Piece::Quoted(word) => {
                    let says_nothing = trade().is_filler(word)
                        || LogWord::Reads.phrases().contains(&word.as_str());
                    if !says_nothing {
                        words.push(word.as_str());
                        place = Some(place.map_or(bit.span, |place| place.to(bit.span)));
                    }
                }
                Piece::Pair(..) | Piece::Mark(_) => {}
            }
        }
        if let Some(place) = place {
            self.sheet.told.push(Told::Remark(words.join(" "), place));
        }
    }
}

/// How the question begins.
pub(in crate::notation::free) const WHICH_INSTRUMENT: &str = "expected an instrument after";

/// `8 Bx` of a beer that ferments: a refractometer shows its alcohol too.
fn which_instrument(written: &AsWritten, span: Span) -> Diagnostic {
    let message = format!("{WHICH_INSTRUMENT} `{written}`; assumed a refractometer as it stands");
    Diagnostic::warning(Code::MissingQuantity, span, message).with_help(format!(
        "write `{written} by refractometer` or `{written} by hydrometer`"
    ))
}
