//! What a line of a log says, figure by figure.

use super::bit::{Bit, What as Piece};
use super::date::Reckoned;
use super::draft::tokens;
use super::group::{Group, groups};
use super::item::Item;
use super::log_words::{
    ADDED, AFTER_BOIL, BEFORE_BOIL, COLD, DRAWN, EACH, FIRST_WORT, HOT, LOST, MASH, MOVED,
    NOT_BEER, OUT, PACKAGED, RAW, READS, YEAST,
};
use super::names::Among;
use super::said::{Part, trade};
use super::sheet::{Sheet, Told};
use super::words::{Clause, begins, clauses, covered, find, has};
use crate::catalogue::Kind;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::tree::{Line, Token};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// A mash of another pH is none, or the number no pH.
const MASH_PH_VALUES: std::ops::RangeInclusive<f64> = 4.0..=7.0;

/// Where the wort was when it was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Label {
    /// Not said.
    Open,
    /// Before the end of the boil, or hot; nothing that a log keeps.
    Hot,
    /// At a moment of the brewing day that a log keeps.
    Wort(Moment),
    /// On its way to the fermenter.
    Out,
    Fermenter,
}

impl Label {
    const fn is_before_fermenter(self) -> bool {
        matches!(self, Self::Hot | Self::Wort(_))
    }
}

/// A moment of the brewing day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Moment {
    FirstWort,
    BeforeBoil,
    AfterBoil,
}

impl Moment {
    /// The word of the notation.
    const fn word(self) -> &'static str {
        match self {
            Self::FirstWort => "first wort",
            Self::BeforeBoil => "before boil",
            Self::AfterBoil => "after boil",
        }
    }
}

/// A gravity that was read.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Shown {
    pub(super) written: AsWritten,
    span: Span,
    label: Label,
    /// The temperature that it was read at.
    warmth: Option<(AsWritten, Span)>,
    by: Option<(&'static str, Span)>,
}

impl Shown {
    fn gravity(&self, verb: &str) -> Vec<Token<'static>> {
        let mut written = tokens(verb, self.span);
        written.extend(tokens(&self.written.to_string(), self.span));
        written
    }

    fn details(&self, written: &mut Vec<Token<'static>>) {
        if let Some((at, span)) = self.warmth {
            written.extend(tokens(&format!("at {at}"), span));
        }
        if let Some((by, span)) = self.by {
            written.extend(tokens(by, span));
        }
    }

    fn reading(&self) -> Vec<Token<'static>> {
        let mut written = self.gravity("reading");
        self.details(&mut written);
        written
    }

    /// `before boil 27 L at 95 C, 12 P`
    fn of_wort(&self, moment: Moment, volume: Option<&Litres>) -> Vec<Token<'static>> {
        let Some(volume) = volume else {
            let mut written = self.gravity(moment.word());
            self.details(&mut written);
            return written;
        };
        let mut written = volume.of_wort(moment, self.span);
        // A temperature behind `at` is that of the figure before it.
        written.extend(self.gravity(if volume.warmth.is_some() { "," } else { "at" }));
        self.details(&mut written);
        written
    }

    /// `pitched 20 L at 12 P`
    pub(super) fn pitched(&self, volume: &AsWritten, span: Span) -> Vec<Token<'static>> {
        let mut written = tokens(&format!("pitched {volume}"), span);
        written.extend(self.gravity("at"));
        self.details(&mut written);
        written
    }
}

/// How much wort there was.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Litres {
    written: AsWritten,
    label: Label,
    /// The temperature of the wort, where it is said.
    warmth: Option<(AsWritten, Span)>,
}

impl Litres {
    /// `before boil 27 L at 95 C`
    fn of_wort(&self, moment: Moment, span: Span) -> Vec<Token<'static>> {
        let mut written = tokens(&format!("{} {}", moment.word(), self.written), span);
        if let Some((at, span)) = self.warmth {
            written.extend(tokens(&format!("at {at}"), span));
        }
        written
    }
}

/// What happened.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum What {
    Shown(Shown),
    Volume(Litres),
    MashPh(AsWritten),
    Drawn(AsWritten),
    Added(Vec<Token<'static>>),
    /// A line of the notation.
    AsItStands(Line<'static>),
}

/// A part of a line, and when it was written.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Entry {
    pub(super) what: What,
    pub(super) span: Span,
    pub(super) day: Option<(Reckoned, Span)>,
    /// The number of the line.
    pub(super) line: usize,
}

impl Entry {
    fn new(what: What, span: Span) -> Self {
        Self {
            what,
            span,
            day: None,
            line: 0,
        }
    }

    pub(super) fn as_it_stands(line: Line<'static>) -> Self {
        let span = line.span();
        Self::new(What::AsItStands(line), span)
    }

    /// Whether it is a gravity of what ferments.
    pub(super) fn is_of_the_beer(&self) -> bool {
        matches!(&self.what, What::Shown(shown) if matches!(shown.label, Label::Open | Label::Fermenter))
    }

    /// The moment of the brewing day that it speaks of.
    fn moment(&self) -> Option<Moment> {
        match &self.what {
            What::Shown(Shown { label, .. }) | What::Volume(Litres { label, .. }) => match label {
                Label::Wort(moment) => Some(*moment),
                _ => None,
            },
            _ => None,
        }
    }

    /// The line of the notation that says it of the wort of the brewing day, with what else `line` says of the same moment.
    pub(super) fn of_brew_day(&self, all: &[Self]) -> Option<OfBrewDay> {
        if let What::MashPh(ph) = &self.what {
            return Some(OfBrewDay::Line(tokens(
                &format!("mash pH {}", ph.number),
                self.span,
            )));
        }
        let moment = self.moment()?;
        let same = || {
            all.iter()
                .filter(|other| other.line == self.line && other.moment() == Some(moment))
        };
        let volume = same().find_map(|entry| match &entry.what {
            What::Volume(litres) => Some((entry, litres)),
            _ => None,
        });
        let shown = same().find(|entry| matches!(entry.what, What::Shown(_)));
        Some(match &self.what {
            What::Shown(own) => {
                let is_first = shown.is_some_and(|first| first.span == self.span);
                let volume = volume.filter(|_| is_first).map(|(_, litres)| litres);
                OfBrewDay::Line(own.of_wort(moment, volume))
            }
            What::Volume(_)
                if shown.is_some() && volume.is_some_and(|(first, _)| first.span == self.span) =>
            {
                OfBrewDay::WithAnother
            }
            What::Volume(litres) => OfBrewDay::Line(litres.of_wort(moment, self.span)),
            _ => return None,
        })
    }

    /// The line of the notation; nothing of what a log does not follow, which is told.
    pub(super) fn tokens(
        &self,
        is_before: bool,
        told: &mut Vec<Told>,
    ) -> Option<Vec<Token<'static>>> {
        let unused = match &self.what {
            What::Shown(_) if self.is_of_the_beer() && !is_before => None,
            What::Shown(shown) => Some(shown.written.to_string()),
            What::Volume(volume) => Some(volume.written.to_string()),
            What::Drawn(volume) if is_before => Some(volume.to_string()),
            What::Added(written) if is_before => Some(
                written
                    .iter()
                    .skip(1)
                    .map(Token::text)
                    .collect::<Vec<_>>()
                    .join(" "),
            ),
            _ => None,
        };
        if let Some(text) = unused {
            told.push(Told::NotUsed(text, self.span));
            return None;
        }
        match &self.what {
            What::Shown(shown) => Some(shown.reading()),
            What::Drawn(volume) => Some(tokens(&format!("drawn {volume}"), self.span)),
            What::Added(written) => Some(written.clone()),
            What::AsItStands(line) => Some(line.tokens().to_vec()),
            What::Volume(_) | What::MashPh(_) => None,
        }
    }
}

/// What an entry of the brewing day makes.
pub(super) enum OfBrewDay {
    Line(Vec<Token<'static>>),
    /// It stands on the line of another entry.
    WithAnother,
}

/// The wort that went into the fermenter: which entries say its gravity and its volume.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Wort {
    pub(super) gravity: usize,
    pub(super) volume: usize,
    pub(super) written: AsWritten,
    pub(super) span: Span,
}

/// Volume and gravity of one line, or of one day, before the beer was read again.
pub(super) fn wort(entries: &[Entry]) -> Option<Wort> {
    let first = entries.iter().find(|entry| entry.is_of_the_beer());
    let is_of_the_start = |entry: &Entry| {
        first.is_none_or(|first| {
            entry.line <= first.line
                || entry.day.is_some()
                    && entry.day.map(|(day, _)| day) == first.day.map(|(day, _)| day)
        })
    };
    let early = || {
        entries
            .iter()
            .enumerate()
            .filter(|(_, entry)| is_of_the_start(entry))
    };
    let volumes = early().filter_map(|(at, entry)| match &entry.what {
        What::Volume(litres) if !litres.label.is_before_fermenter() => {
            Some((at, entry, &litres.written, litres.label))
        }
        _ => None,
    });
    let gravities = || {
        early().filter_map(|(at, entry)| match &entry.what {
            What::Shown(shown) if !shown.label.is_before_fermenter() => Some((at, entry)),
            _ => None,
        })
    };
    let volumes: Vec<_> = volumes.collect();
    let of_one_line = volumes.iter().find_map(|(at, entry, written, _)| {
        let (gravity, _) = gravities().find(|(_, other)| other.line == entry.line)?;
        Some((gravity, *at, **written, entry.span))
    });
    // What stands in the fermenter has the gravity that was knocked out.
    let of_two = || {
        volumes
            .iter()
            .filter(|(.., label)| *label == Label::Fermenter)
            .find_map(|(at, entry, written, _)| {
                let before = gravities().rfind(|(_, other)| other.line <= entry.line);
                let (gravity, _) = before
                    .or_else(|| gravities().find(|(_, other)| other.line == entry.line + 1))?;
                Some((gravity, *at, **written, entry.span))
            })
    };
    let (gravity, volume, written, span) = of_one_line.or_else(of_two)?;
    Some(Wort {
        gravity,
        volume,
        written,
        span,
    })
}

/// What the lines before told.
#[derive(Debug, Clone, Copy)]
pub(super) struct Known {
    /// The unit of the last gravity.
    pub(super) unit: Option<Unit>,
    /// Whether the log is one of refractometer readings.
    pub(super) is_refractometer: bool,
}

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

/// `1034`, `1011.5`: a gravity without its point.
fn points(bits: &mut [Bit], told: &mut Vec<Told>) {
    let mut before: Option<String> = None;
    for bit in bits {
        let is_number = before.as_deref().is_some_and(|word| {
            matches!(
                word,
                "no" | "nr" | "gyle" | "brew" | "batch" | "sud" | "lot"
            )
        });
        before = bit.word().map(str::to_owned);
        let Some(points) = bit
            .bare()
            .filter(|number| !is_number && (985.0..=1200.0).contains(&number.middle()))
        else {
            continue;
        };
        let mut written = AsWritten::marked(points, Unit::SpecificGravity);
        written.number /= 1000.0;
        written.range = written
            .range
            .map(|(low, high)| (low / 1000.0, high / 1000.0));
        told.push(Told::Assumed(
            points.middle().to_string(),
            written.to_string(),
            bit.span,
        ));
        bit.what = Piece::Quantity(written);
    }
}

/// A number alone behind the date, in the unit of the gravities before it; and one behind a gravity, which is its temperature.
fn alone(bits: &mut [Bit], known: Known, told: &mut Vec<Told>) {
    let is_gravity = |bit: &Bit| bit.quantity().is_some_and(is_gravity);
    let Some(unit) = known
        .unit
        .filter(|unit| unit.dimension() == Dimension::Gravity)
    else {
        return;
    };
    if bits.iter().any(is_gravity) {
        return;
    }
    let first = bits.iter().position(|bit| bit.bare().is_some());
    let Some(at) = first else { return };
    let plain = |bit: &Bit| {
        bit.word()
            .is_none_or(|word| trade().is_filler(word) || READS.contains(&word))
    };
    let ends = |bit: &&Bit| !matches!(bit.what, Piece::Mark(',' | '.' | ';'));
    let is_plain = bits.get(..at).unwrap_or(&[]).iter().all(plain);
    let follows = bits
        .get(at + 1..)
        .unwrap_or(&[])
        .iter()
        .take_while(ends)
        .all(plain);
    if let Some(bit) = bits.get_mut(at).filter(|_| is_plain && follows)
        && let Some(number) = bit
            .bare()
            .filter(|number| (0.0..=30.0).contains(&number.middle()))
    {
        let written = AsWritten::marked(number, unit);
        told.push(Told::Assumed(
            number.middle().to_string(),
            written.to_string(),
            bit.span,
        ));
        bit.what = Piece::Quantity(written);
    }
}

fn is_gravity(written: &AsWritten) -> bool {
    matches!(
        written.unit.dimension(),
        Dimension::Gravity | Dimension::Ratio
    )
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
                && find(before.bits, ADDED).is_some()
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
        self.is_packaged |= has(clause.bits, PACKAGED);
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
        if self.is_packaged || self.label.is_before_fermenter() || has(clause.bits, EACH) {
            return;
        }
        let names = self.sheet.names;
        let found = groups(clause.bits, Part::Log, &|words| {
            names.stretch(words, Part::Ferment)
        });
        let is_added = has(clause.bits, ADDED);
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
        let mash = find(clause.bits, MASH).map(|(mash, _)| clause.from + mash);
        if let Some(mash) = mash {
            self.use_bit(mash);
        }
        let span = self.bits.get(at).map_or_else(Span::default, |bit| bit.span);
        self.entries.push(Entry::new(What::MashPh(written), span));
    }

    fn gravities(&mut self, clause: Clause<'_>) {
        let own = find(clause.bits, ADDED).map(|(at, _)| clause.from + at);
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
        if let Some(span) = place(find(clause.bits, RAW)) {
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
            || has(clause.bits, EACH)
            || has(clause.bits, LOST)
            || has(clause.bits, NOT_BEER)
            || has(clause.bits, YEAST);
        let is_drawn = has(clause.bits, DRAWN);
        if is_elsewhere || !is_drawn && (has(clause.bits, ADDED) || has(clause.bits, MOVED)) {
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
                let unit = super::said::Slot::Temperature.bare(
                    number.middle(),
                    Part::Ferment,
                    self.sheet.is_us,
                )?;
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
                    let says_nothing = trade().is_filler(word) || READS.contains(&word.as_str());
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
pub(super) const WHICH_INSTRUMENT: &str = "expected an instrument after";

/// `8 Bx` of a beer that ferments: a refractometer shows its alcohol too.
fn which_instrument(written: &AsWritten, span: Span) -> Diagnostic {
    let message = format!("{WHICH_INSTRUMENT} `{written}`; assumed a refractometer as it stands");
    Diagnostic::warning(Code::MissingQuantity, span, message).with_help(format!(
        "write `{written} by refractometer` or `{written} by hydrometer`"
    ))
}

/// Whether a line gives a figure of the brewing day.
pub(super) fn says_of_brew_day(bits: &[Bit]) -> bool {
    let is_measured =
        |written: &AsWritten| is_gravity(written) || written.unit.dimension() == Dimension::Volume;
    let is_figure = |bit: &Bit| bit.quantity().is_some_and(is_measured);
    let is_of_wort = matches!(label(bits), Label::Wort(_)) && bits.iter().any(is_figure);
    is_of_wort || mash_ph(bits).is_some()
}

/// `mash pH 5.4`: which piece is the pH.
fn mash_ph(bits: &[Bit]) -> Option<(usize, AsWritten)> {
    let is_ph = |written: &&AsWritten| {
        written.unit == Unit::PhValue && MASH_PH_VALUES.contains(&written.number)
    };
    let mut figures = bits.iter().enumerate();
    let found = figures.find_map(|(at, bit)| Some((at, *bit.quantity().filter(is_ph)?)));
    found.filter(|_| has(bits, MASH))
}

/// Where the wort of a clause was.
fn label(bits: &[Bit]) -> Label {
    // Where the last of the phrases ends: `pre boil` says more than the `boil` in it.
    let end = |phrases: &[&str]| {
        let ends = |at: usize| {
            let here = bits.get(at..)?;
            let counts = phrases.iter().filter_map(|phrase| begins(here, phrase));
            counts.max().map(|count| at + count)
        };
        (0..bits.len()).filter_map(ends).max()
    };
    let found = [
        (end(HOT), Label::Hot),
        (end(FIRST_WORT), Label::Wort(Moment::FirstWort)),
        (end(BEFORE_BOIL), Label::Wort(Moment::BeforeBoil)),
        (end(AFTER_BOIL), Label::Wort(Moment::AfterBoil)),
        (end(OUT), Label::Out),
        (end(COLD), Label::Fermenter),
    ];
    let (at, label) = found
        .into_iter()
        .max_by_key(|(at, _)| *at)
        .unwrap_or((None, Label::Open));
    if at.is_some() { label } else { Label::Open }
}
