//! What a line of a log says, figure by figure: what went in, what an instrument shows, what a volume is of.

mod added;
mod shown;
mod volume;

pub(in crate::notation::free) use shown::WHICH_INSTRUMENT;

use super::entry::{Entry, Label, What};
use super::jotted_number::{Known, alone, is_gravity, one_of, points, thousandths};
use super::label::{label, mash_ph};
use super::poured::proof;
use super::words::LogWord;
use crate::diagnostic::Span;
use crate::notation::free::bit::{Bit, What as Piece};
use crate::notation::free::said::trade;
use crate::notation::free::sheet::Sheet;
use crate::notation::free::told::Told;
use crate::notation::free::words::{Clause, clauses, find, has};
use crate::quantity::Dimension;
use crate::quantity::lexer::AsWritten;

/// The entries of a line without its date.
pub(super) fn entries(bits: &[Bit], sheet: &mut Sheet<'_>, known: Known) -> Vec<Entry> {
    let mut bits = bits.to_vec();
    onto(&mut bits);
    one_of(&mut bits);
    if let Some((typed, read, span)) = proof(&mut bits) {
        sheet.told.push(Told::Assumed(typed, read, span));
    }
    points(&mut bits, &mut sheet.told);
    thousandths(&mut bits, known, &mut sheet.told);
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
        for clause in with_figures(reader.bits, known.is_fermenting) {
            reader.clause(clause);
        }
        reader.mash_ph();
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

/// `racked on to 3 lb raspberries` is `onto`: what follows is no volume to be reached.
fn onto(bits: &mut Vec<Bit>) {
    while let Some(at) = bits.windows(2).position(
        |pair| matches!(pair, [on, to] if on.word() == Some("on") && to.word() == Some("to")),
    ) {
        bits.remove(at + 1);
        if let Some(on) = bits.get_mut(at) {
            on.what = Piece::Word("onto".to_owned());
        }
    }
}

/// The clauses of a line; figures alone behind what is poured in are of it: `added 1 L plum juice (12 Bx)`, `300 ml rum, 54 % vol`.
fn with_figures(bits: &[Bit], is_fermenting: bool) -> Vec<Clause<'_>> {
    let mut whole: Vec<Clause<'_>> = Vec::new();
    for clause in clauses(bits) {
        let is_of = |bit: &Bit, wanted: &[Dimension]| {
            bit.quantity()
                .is_some_and(|written| wanted.contains(&written.unit.dimension()))
        };
        let has = |clause: &Clause<'_>, wanted: &[Dimension]| {
            clause.bits.iter().any(|bit| is_of(bit, wanted))
        };
        // `rhubarb in, 1.5 kg`, `honey: 300 g`
        let is_amount = matches!(clause.bits, [bit] if is_of(bit, &[Dimension::Mass]));
        let is_named = |before: &Clause<'_>| before.bits.iter().all(|bit| bit.word().is_some());
        // `added must, 4 L of 20.5 Bx`
        let opens_amount = clause
            .bits
            .first()
            .is_some_and(|bit| is_of(bit, &[Dimension::Mass, Dimension::Volume]));
        let is_measure = opens_amount
            && clause.bits.iter().all(|bit| {
                bit.word()
                    .is_none_or(|word| trade().is_filler(word) || is_of_strength(word))
            });
        let is_put = |before: &Clause<'_>| {
            is_named(before) && find(before.bits, LogWord::Added.phrases()).is_some()
        };
        let is_gravity = has(&clause, &SHOWN);
        let is_share = has(&clause, &[Dimension::Percent]);
        let says_figure = |bit: &Bit| bit.word().is_none_or(is_of_strength);
        let says_nothing = |bit: &Bit| {
            says_figure(bit)
                || bit.word().is_some_and(|word| {
                    trade().is_filler(word) || matches!(word, "refractometer" | "hydrometer")
                })
        };
        let opens = clause
            .bits
            .first()
            .is_some_and(|bit| bit.quantity().is_some());
        let is_strength = (is_gravity || is_share)
            && (clause.bits.iter().all(says_figure)
                || opens && clause.bits.iter().all(says_nothing));
        let takes = |before: &Clause<'_>| {
            let word =
                |fits: &dyn Fn(&str) -> bool| before.bits.iter().filter_map(Bit::word).any(fits);
            let is_put = find(before.bits, LogWord::Added.phrases()).is_some()
                || before.mark == Some('+')
                || is_fermenting && (word(&|word| trade().is_noun(word)) || is_poured(before.bits));
            is_put
                && has(before, &[Dimension::Volume])
                && !word(&|word| matches!(word, "water" | "to"))
                && !(is_gravity && has(before, &SHOWN))
                && !(is_share && has(before, &[Dimension::Percent]))
        };
        let joins = match clause.mark {
            Some(',' | ':') if is_amount => whole.last().is_some_and(is_named),
            Some(',' | ':') if is_measure && whole.last().is_some_and(is_put) => true,
            Some(',' | '(' | '-' | '=') if is_strength => whole.last().is_some_and(takes),
            _ => false,
        };
        match whole.last_mut().filter(|_| joins) {
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

/// What a hydrometer or a refractometer shows.
const SHOWN: [Dimension; 2] = [Dimension::Gravity, Dimension::Ratio];

/// Words beside the figures of how strong a drink is.
fn is_of_strength(word: &str) -> bool {
    matches!(
        word,
        "abv"
            | "alcohol"
            | "alc"
            | "vol"
            | "by"
            | "volume"
            | "og"
            | "fg"
            | "sg"
            | "gravity"
            | "at"
            | "wort"
            | "from"
            | "to"
            | "of"
            | "brewed"
            | "with"
            | "and"
            | "now"
    )
}

/// Whether words say that something is poured in, without saying so.
fn is_poured(bits: &[Bit]) -> bool {
    [
        LogWord::Pours,
        LogWord::Wort,
        LogWord::Krausen,
        LogWord::Beer,
    ]
    .iter()
    .any(|words| has(bits, words.phrases()))
}

/// Whether a clause weighs something out, and shows no gravity.
fn is_dose(bits: &[Bit]) -> bool {
    let mut written = bits.iter().filter_map(Bit::quantity);
    let is_weighed = bits.iter().any(|bit| {
        bit.quantity()
            .is_some_and(|written| written.unit.dimension() == Dimension::Mass)
    });
    is_weighed && !written.any(is_gravity)
}

pub(super) struct Reader<'s, 'c, 'b> {
    pub(super) sheet: &'s mut Sheet<'c>,
    pub(super) bits: &'b [Bit],
    /// Which pieces are part of an entry.
    used: Vec<bool>,
    pub(super) entries: Vec<Entry>,
    pub(super) label: Label,
    /// Once a line speaks of bottles and kegs, what is added is added there.
    pub(super) is_packaged: bool,
    /// Where the line says first that something went in: a gravity behind it is that of what went in.
    added: Option<usize>,
    pub(super) known: Known,
}

impl Reader<'_, '_, '_> {
    fn clause(&mut self, clause: Clause<'_>) {
        let own = label(clause.bits);
        // `500 g sugar boiled in 1 L of water`: what goes into the beer, and no wort.
        let is_put = own == Label::Hot
            && self.known.is_fermenting
            && (is_dose(clause.bits) || self.has_put());
        if own != Label::Open && !is_put {
            self.label = own;
        }
        self.is_packaged |= has(clause.bits, LogWord::Packaged.phrases());
        let is_topped = self.up_to(clause);
        if !is_topped {
            self.items(clause);
        }
        self.gravities(clause, is_topped);
        self.volumes(clause);
    }

    pub(super) fn use_bit(&mut self, at: usize) {
        if let Some(used) = self.used.get_mut(at) {
            *used = true;
        }
    }

    pub(super) fn use_span(&mut self, span: Span) {
        let inside = |bit: &Bit| span.start <= bit.span.start && bit.span.end <= span.end;
        for (bit, used) in self.bits.iter().zip(&mut self.used) {
            *used |= inside(bit);
        }
    }

    fn mash_ph(&mut self) {
        if self.known.is_fermenting {
            return;
        }
        let Some((at, written)) = mash_ph(self.bits).filter(|(at, _)| !self.is_used(*at)) else {
            return;
        };
        self.use_bit(at);
        if let Some((mash, _)) = find(self.bits, LogWord::Mash.phrases()) {
            self.use_bit(mash);
        }
        let span = self.bits.get(at).map_or_else(Span::default, |bit| bit.span);
        self.entries.push(Entry::new(What::MashPh(written), span));
    }

    pub(super) fn quantity(&self, at: usize) -> Option<(AsWritten, Span)> {
        let bit = self.bits.get(at)?;
        Some((*bit.quantity()?, bit.span))
    }

    pub(super) fn is_used(&self, at: usize) -> bool {
        self.used.get(at).copied().unwrap_or(false)
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
