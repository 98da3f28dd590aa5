//! What a line of a log says, figure by figure.

use super::entry::{Added, Entry, Label, Litres, Shown, What};
use super::jotted_number::{Known, alone, is_gravity, one_of, points, thousandths};
use super::label::{label, mash_ph};
use super::poured::{flat, in_brix, proof};
use super::words::LogWord;
use crate::catalogue::{EntryRef, Kind};
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

/// More is no sample (common practice, no source).
const SAMPLE_L: f64 = 0.6;

/// `sample 4 oz` is drawn by volume.
fn as_volume(written: AsWritten, is_drawn: bool) -> AsWritten {
    let unit = match written.unit {
        Unit::Ounce if is_drawn => Unit::FluidOunce,
        unit => unit,
    };
    AsWritten { unit, ..written }
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

    /// What went in beside the yeast.
    fn items(&mut self, clause: Clause<'_>) {
        if self.label.is_before_fermenter() {
            return;
        }
        if self.is_packaged || has(clause.bits, LogWord::Each.phrases()) {
            self.priming(clause);
            return;
        }
        let is_said = has(clause.bits, LogWord::Added.phrases()) || clause.mark == Some('+');
        let bits = flat(in_brix(clause.bits));
        let groups = self.groups(&bits);
        if self.is_split(&groups) {
            return;
        }
        for group in groups {
            self.item(group, is_said || self.has_put(), is_said);
        }
        self.pour(clause, is_said);
    }

    /// Whether the line has put something in already.
    fn has_put(&self) -> bool {
        let is_added = |entry: &Entry| matches!(entry.what, What::Added(_));
        self.entries.iter().any(is_added)
    }

    /// `split: 10 L to cherries, 10 L plain`: two beers from here on, of which a log follows one.
    fn is_split(&mut self, groups: &[Group]) -> bool {
        const SPLIT: &[&str] = &["split", "divided", "halved", "half"];
        let is_measured = self.bits.iter().any(|bit| {
            bit.quantity()
                .is_some_and(|written| written.unit.dimension() == Dimension::Volume)
        });
        if !(self.known.is_fermenting && is_measured && has(self.bits, SPLIT)) {
            return false;
        }
        let named = groups.iter().find_map(|group| group.name.as_ref());
        if let Some(name) = named.filter(|name| name.is_known) {
            let message = "expected one beer in a log, found one that was split";
            let found = Diagnostic::error(Code::UnexpectedWords, name.span, message).with_help(
                "write a log for each part, each beginning with the wort, such as `10 L at 1.050`",
            );
            self.sheet.told.push(Told::Asked(found));
        }
        true
    }

    pub(super) fn groups(&self, bits: &[Bit]) -> Vec<Group> {
        let names = self.sheet.names;
        groups(bits, Part::Log, &|words| {
            names.stretch(words, Part::Ferment)
        })
    }

    fn item(&mut self, mut group: Group, is_added: bool, is_said: bool) {
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
            // Water is spoken of without being added.
            (Kind::Beverage, Some(Dimension::Volume)) => {
                is_added || self.known.is_fermenting && item.name() != "water"
            }
            // `10 L to cherries` are litres of beer.
            (Kind::Juice, Some(Dimension::Volume)) => is_said || !self.is_whole_fruit(item.name()),
            (Kind::Malt | Kind::Grain | Kind::Hop | Kind::Salt, dimension) => {
                matches!(dimension, Some(Dimension::Mass | Dimension::Concentration))
            }
            (_, dimension) => matches!(
                dimension,
                Some(Dimension::Mass | Dimension::Concentration | Dimension::Volume)
            ),
        };
        if !fits {
            self.ask_amount(&item, name.span, is_said);
            return;
        }
        for span in before
            .iter()
            .filter(|span| group.figures.iter().all(|figure| figure.span != **span))
        {
            self.use_span(*span);
        }
        self.use_span(name.span);
        let litres = match (item.kind, item.volume()) {
            (_, Some((written, _))) => Some(written.unit.to_base(written.number)),
            (Kind::Sugar | Kind::Juice | Kind::Beverage | Kind::Malt | Kind::Other, None) => None,
            _ => Some(0.0),
        };
        let written = item.tokens(Some("added"));
        let span = group.span.unwrap_or(name.span);
        self.sheet.told.extend(item.told);
        let added = Added { written, litres };
        self.entries.push(Entry::new(What::Added(added), span));
    }

    fn is_whole_fruit(&self, name: &str) -> bool {
        match self
            .sheet
            .names
            .catalogue
            .find(name)
            .map(|found| found.entry)
        {
            Some(EntryRef::Juice(juice)) => juice.is_whole_fruit(),
            _ => false,
        }
    }

    /// `added sugar`: what ferments went in, and nobody knows how much.
    fn ask_amount(&mut self, item: &Item, span: Span, is_said: bool) {
        const HOLDERS: &[&str] = &["jar", "tin", "can", "bottle", "bag", "carton", "jug", "pot"];
        let ferments = matches!(item.kind, Kind::Sugar | Kind::Juice)
            || item.kind == Kind::Beverage && item.name() != "water";
        let is_measured = self.bits.iter().any(|bit| {
            bit.quantity().is_some_and(|written| {
                !matches!(
                    written.unit.dimension(),
                    Dimension::Gravity
                        | Dimension::Ratio
                        | Dimension::Temperature
                        | Dimension::Time
                )
            })
        });
        if !(ferments && self.known.is_fermenting && item.dimension().is_none())
            || is_measured
            || !(is_said || has(self.bits, HOLDERS))
        {
            return;
        }
        let name = item.name();
        let message = format!("expected how much `{name}` went into the beer, found no amount");
        let amount = if item.kind == Kind::Sugar {
            "500 g"
        } else {
            "1 L"
        };
        let found = Diagnostic::error(Code::MissingQuantity, span, message)
            .with_help(format!("write it, such as `added {amount} {name}`"));
        self.sheet.told.push(Told::Asked(found));
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

    fn gravities(&mut self, clause: Clause<'_>, is_topped: bool) {
        // What is read once the vessel is full is of all that is in it.
        let own = find(clause.bits, LogWord::Added.phrases())
            .filter(|_| !is_topped)
            .map(|(at, _)| clause.from + at);
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
        let has = |words: LogWord| has(clause.bits, words.phrases());
        let is_fermenting = self.known.is_fermenting;
        let is_drawn = has(LogWord::Drawn);
        let is_removed = has(LogWord::NotBeer) && super::words::removes(clause.bits);
        let is_lost = is_fermenting && !is_drawn && (has(LogWord::Lost) || is_removed);
        let is_elsewhere = self.is_packaged || has(LogWord::Each) || !is_lost && has(LogWord::Lost);
        let not_beer = [LogWord::NotBeer, LogWord::Yeast]
            .iter()
            .filter_map(|words| find(clause.bits, words.phrases()))
            .map(|(at, _)| clause.from + at)
            .min()
            .filter(|_| !is_lost && !is_drawn);
        let shown = clause
            .bits
            .iter()
            .position(|bit| bit.quantity().is_some_and(is_gravity));
        let shown = shown.map(|at| clause.from + at);
        let is_moved = has(LogWord::Moved) && !is_fermenting && self.label != Label::Fermenter;
        let is_state = find(clause.bits, &["now", "volume", "remaining"]).is_some();
        let is_put = has(LogWord::Added) && !(has(LogWord::Moved) && is_fermenting);
        if is_elsewhere || !is_drawn && !is_lost && (is_put || is_moved) {
            return;
        }
        for at in clause.from..clause.from + clause.bits.len() {
            let Some((written, span)) = self
                .quantity(at)
                .map(|(written, span)| (as_volume(written, is_drawn), span))
                .filter(|(written, _)| written.unit.dimension() == Dimension::Volume)
            else {
                continue;
            };
            // `20 L at 1.050, 200 ml slurry`: before the gravity it is wort, and yeast behind it.
            let is_wort =
                not_beer.is_none_or(|yeast| shown.is_some_and(|shown| at < shown && shown < yeast));
            if self.is_used(at) || !is_wort {
                continue;
            }
            self.use_bit(at);
            let is_open = !self.label.is_before_fermenter();
            // `1.010 (100 ml)`: so little beside a reading is what was read.
            let is_sample = is_fermenting
                && clause.bits.len() == 1
                && written.unit.to_base(written.number) <= SAMPLE_L
                && self.has_shown();
            // `2 L left for bottles` are there.
            let left = find(clause.bits, &["left"]).map(|(left, _)| clause.from + left);
            let is_lost = is_lost && left.is_none_or(|left| left < at);
            let what = if is_open && is_lost {
                What::Lost(written)
            } else if is_open && (is_drawn || is_sample) {
                What::Drawn(self.times(at, clause.from, written))
            } else {
                let is_kept = matches!(self.label, Label::Wort(_));
                let warmth = is_kept.then(|| self.warmth_of_volume(at)).flatten();
                What::Volume(Litres {
                    written,
                    label: self.label,
                    warmth,
                    is_left: is_fermenting && (has(LogWord::Moved) || is_state),
                })
            };
            self.entries.push(Entry::new(what, span));
        }
    }

    fn has_shown(&self) -> bool {
        let is_shown = |entry: &Entry| matches!(entry.what, What::Shown(_));
        self.entries.iter().any(is_shown)
    }

    /// `two samples of 100 ml`: so many times as much.
    fn times(&mut self, at: usize, from: usize, written: AsWritten) -> AsWritten {
        let counted = |at: &usize| {
            let number = self.bits.get(*at)?.bare()?.middle();
            let is_count = number.fract() == 0.0 && (2.0..=12.0).contains(&number);
            let of = self.bits.get(at + 1).and_then(Bit::word);
            (is_count && matches!(of, Some("samples" | "bottles" | "jars" | "of")))
                .then_some(number)
        };
        let found = (from..at).find_map(|at| Some((at, counted(&at)?)));
        let Some((place, count)) = found else {
            return written;
        };
        self.use_bit(place);
        AsWritten::plain(written.number * count, written.unit)
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

    pub(super) fn quantity(&self, at: usize) -> Option<(AsWritten, Span)> {
        let bit = self.bits.get(at)?;
        Some((*bit.quantity()?, bit.span))
    }

    pub(super) fn is_used(&self, at: usize) -> bool {
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
            let is_scale = matches!(bit.word(), Some("sg" | "og" | "fg" | "gravity"));
            let passes = is_link
                || is_figure
                || is_scale
                || matches!(bit.what, Piece::Mark(',' | '/' | '|' | '('));
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
