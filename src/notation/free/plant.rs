//! A plant as described: what each of its lines says → the lines of a `brewhouse`.

use super::bit::{Bit, What};
use super::draft::{line, tokens};
use super::page::{Jotted, Page};
use super::plant_words::{Tag, tag};
use super::rates::per_hour;
use super::said::trade;
use super::scan::{scan, scan_apart};
use super::sheet::{Sheet, Told};
use super::words::{Clause, clauses};
use crate::diagnostic::{Code, Diagnostic, Severity, Span};
use crate::notation::tree::{Line, Token};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// Litres of a batch from which on a plant is a brewery's: the share of the extract that it gets is said of the kettle there, and at home
/// mostly of the fermenter.
const LARGE_L: f64 = 200.0;

/// Litres of water to a kilogram of grain from which on it is a mash and no bed (common practice, no source).
const THIN_L_PER_KG: f64 = 1.7;

/// Metres from which on a height needs no word that it is one.
const HIGH_M: f64 = 100.0;

/// Whether a line speaks of a plant.
pub(super) fn speaks(bits: &[Bit]) -> bool {
    let tags = tags(bits);
    let has_figure = bits.iter().any(|bit| {
        matches!(
            bit.what,
            What::Quantity(_) | What::Bare(_) | What::Ambiguous(..)
        )
    });
    let is_clear = |tag: Tag| {
        !matches!(
            tag,
            Tag::Hops
                | Tag::Lees
                | Tag::Aside
                | Tag::Brewhouse
                | Tag::Batch
                | Tag::Sparge
                | Tag::MashIn
                | Tag::BeforeBoil
        )
    };
    let is_subject = |(_, tag): &(usize, Tag)| is_clear(*tag) && (has_figure || is_way(*tag));
    tags.iter().any(is_subject) || bits.iter().any(is_rate)
}

const fn is_way(tag: Tag) -> bool {
    matches!(
        tag,
        Tag::Bag
            | Tag::BatchSparge
            | Tag::Continuous
            | Tag::NoSparge
            | Tag::NoMash
            | Tag::Plate
            | Tag::Coil
            | Tag::NoChill
    )
}

fn is_rate(bit: &Bit) -> bool {
    bit.quantity().is_some_and(|written| {
        matches!(
            written.unit.dimension(),
            Dimension::VolumePerTime | Dimension::VolumePerMass
        )
    })
}

/// Whether a clause of a sheet states a figure of the plant.
fn is_of_a_plant(clause: &Clause<'_>) -> bool {
    let tags = tags(clause.bits);
    let says = |wanted: &[Tag]| tags.iter().any(|(_, tag)| wanted.contains(tag));
    let measures = |dimension| {
        clause.bits.iter().any(|bit| {
            bit.quantity()
                .is_some_and(|written| written.unit.dimension() == dimension)
        })
    };
    let is_alone = clause.bits.iter().all(|bit| bit.word().is_some());
    measures(Dimension::VolumePerTime) && !says(&[Tag::Sparge, Tag::Continuous])
        || measures(Dimension::Percent) && says(&[Tag::Yield])
        // `boil 90 min with 30 g target 9.5 %`: alpha acids.
        || measures(Dimension::Percent) && says(&[Tag::Evaporation]) && !measures(Dimension::Mass)
        || measures(Dimension::VolumePerMass) && says(&[Tag::Absorption])
        || measures(Dimension::Volume)
            && says(&[Tag::Loss])
            && says(&[Tag::Kettle, Tag::Trub, Tag::Tun, Tag::Fermenter])
        || measures(Dimension::Length) && says(&[Tag::Altitude])
        || is_alone && says(&[Tag::NoSparge, Tag::BatchSparge, Tag::NoChill])
        || says(&[Tag::Bag]) && clause.bits.len() == 1
        || is_vessel(clause.bits)
        || is_size(clause.bits)
}

/// `leaves 2 qt behind`, beside other figures of a plant.
fn is_loss(clause: &Clause<'_>) -> bool {
    let is_volume = |bit: &Bit| {
        bit.quantity()
            .is_some_and(|written| written.unit.dimension() == Dimension::Volume)
    };
    tags(clause.bits).iter().any(|(_, tag)| *tag == Tag::Loss)
        && clause.bits.iter().filter(|bit| is_volume(bit)).count() == 1
}

/// `my kettle 9 gal`, `my mash tun is a 15 L cool box`: a vessel and its size, and no heat or time beside it.
fn is_size(bits: &[Bit]) -> bool {
    let figures: Vec<usize> = (0..bits.len())
        .filter(|at| {
            bits.get(*at)
                .is_some_and(|bit| bit.quantity().is_some() || bit.bare().is_some())
        })
        .collect();
    let [at] = figures[..] else { return false };
    let is_volume = bits
        .get(at)
        .and_then(Bit::quantity)
        .is_some_and(|written| written.unit.dimension() == Dimension::Volume);
    let between = |from: usize| {
        bits.get(from..at).is_some_and(|bits| {
            bits.iter()
                .all(|bit| matches!(bit.word(), Some("is" | "a" | "an" | "of" | "holds")))
        })
    };
    let before = bits.get(..at).unwrap_or(&[]);
    let is_vessel = (0..before.len()).any(|from| {
        let found = before.get(from..).and_then(tag);
        found.is_some_and(|(tag, count)| {
            matches!(tag, Tag::Kettle | Tag::Tun) && between(from + count)
        })
    });
    is_volume && is_vessel
}

/// What stands between the size of a vessel and its name.
const BUILT: [&str; 8] = [
    "stainless",
    "steel",
    "stock",
    "brew",
    "boil",
    "old",
    "plastic",
    "cool",
];

/// `5 gal stainless pot`, `bag in the 19 L pot`: one figure, with the name of a vessel behind it.
fn is_vessel(bits: &[Bit]) -> bool {
    let figures = bits
        .iter()
        .filter(|bit| bit.quantity().is_some() || bit.bare().is_some())
        .count();
    let Some(at) = bits.iter().position(|bit| {
        bit.quantity()
            .is_some_and(|written| written.unit.dimension() == Dimension::Volume)
    }) else {
        return false;
    };
    let mut words = bits.iter().skip(at + 1).map_while(Bit::word);
    let name = words.find(|word| !BUILT.contains(word));
    let is_named = name.is_some_and(|word| {
        matches!(
            word,
            "pot" | "pan" | "kettle" | "copper" | "bucket" | "cooler" | "coolbox"
        )
    });
    figures == 1 && is_named
}

/// Parts the clauses of a sheet that speak of the plant from the rest.
pub(super) fn parted(bits: &[Bit]) -> (Vec<Bit>, Vec<Bit>) {
    let (mut rest, mut plant) = (bits.to_vec(), Vec::new());
    let clauses = clauses(bits);
    let is_measured = |clause: &Clause<'_>| clause.bits.iter().all(|bit| bit.word().is_none());
    for (_, clause) in clauses.iter().enumerate().rev().filter(|(at, clause)| {
        // `batch sparge x2, 80 C`: of the day, and not of the plant.
        let is_way = tags(clause.bits)
            .iter()
            .any(|(_, tag)| *tag == Tag::BatchSparge);
        let next = clauses.get(at + 1).is_some_and(is_measured);
        let is_next = |before: &usize| clauses.get(*before).is_some_and(is_of_a_plant);
        let follows = at.checked_sub(1).as_ref().is_some_and(is_next) && is_loss(clause);
        is_of_a_plant(clause) && !(is_way && next) || follows
    }) {
        let from = clause.from;
        let to = (from + clause.bits.len() + 1).min(rest.len());
        let mut own: Vec<Bit> = rest.splice(from..to, []).collect();
        own.append(&mut plant);
        plant = own;
    }
    (rest, plant)
}

/// The `brewhouse` of a page, and what is told of it.
pub(super) fn read(page: &Page, sheet: &mut Sheet<'_>) -> Line<'static> {
    let mut plant = Reader::new(sheet);
    let mut opening = page.opening.clone();
    for (at, typed) in page.lines.iter().enumerate() {
        if typed.is_right {
            plant.as_it_stands(typed.line());
            continue;
        }
        let mut bits = scan(&typed.tokens);
        plant.sheet.gallons.read(&mut bits, &mut plant.sheet.told);
        let mut from = 0;
        if at == 0 && opening.is_none() {
            let (named, length) = name(&bits, &typed.tokens);
            opening = named;
            from = length;
        }
        plant.is_first = at == 0;
        plant.apart = scan_apart(&typed.tokens);
        plant.line(bits.get(from..).unwrap_or(&[]));
    }
    let opening = opening.unwrap_or_else(|| {
        let here = page.lines.first().map_or_else(Span::default, Jotted::span);
        let here = Span::new(here.text, here.start, here.start);
        plant.sheet.told.push(Told::Assumed(
            "a plant without a name".into(),
            "Plant".into(),
            here,
        ));
        tokens("brewhouse Plant", here)
    });
    plant.finish(opening)
}

/// Whether all of a line is read in other words than the notation's.
pub(super) fn reads_whole(typed: &Line<'_>, sheet: &Sheet<'_>) -> bool {
    let mut trial = sheet.trial(true);
    let mut bits = scan(typed.tokens());
    let gallons = trial.gallons;
    gallons.read(&mut bits, &mut trial.told);
    let mut plant = Reader::new(&mut trial);
    plant.line(&bits);
    let is_read = !plant.lines.is_empty();
    let is_fine = |told: &Told| match told {
        Told::Assumed(..) => true,
        Told::Asked(found) => found.severity == Severity::Warning,
        _ => false,
    };
    is_read && trial.told.iter().all(is_fine)
}

/// What a sheet says of the plant that it was brewed on: a plant of the beer's name.
pub(super) fn of_sheet(sheet: &mut Sheet<'_>) -> Option<Line<'static>> {
    let lines = std::mem::take(&mut sheet.equipment);
    let first = lines.first()?.first()?.span;
    let is_recipe = |line: &&Line<'_>| {
        line.tokens()
            .first()
            .is_some_and(|token| token.text() == "recipe")
    };
    let name = sheet
        .draft
        .head
        .iter()
        .find(is_recipe)
        .and_then(|line| line.tokens().get(1))
        .map(|token| token.text().to_owned());
    let is_taken = |name: &str| {
        sheet.draft.last.iter().any(|line| {
            line.tokens()
                .get(1)
                .is_some_and(|token| token.text().eq_ignore_ascii_case(name))
        })
    };
    let name = name
        .filter(|name| !is_taken(name))
        .unwrap_or_else(|| "Plant of the sheet".to_owned());
    let litres = sheet.batch_litres();
    let mut plant = Reader::new(sheet);
    plant.batch_l = litres;
    plant.is_of_sheet = true;
    for mut bits in lines {
        plant.sheet.gallons.read(&mut bits, &mut plant.sheet.told);
        plant.line(&bits);
    }
    let opening = tokens(&format!("brewhouse \"{name}\""), first);
    Some(plant.finish(opening))
}

/// The line that opens a plant, by the first line of its text, and how many pieces the name takes.
fn name(bits: &[Bit], typed: &[Token<'_>]) -> (Option<Vec<Token<'static>>>, usize) {
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

/// The tags of a stretch, each with the place of its first piece.
fn tags(bits: &[Bit]) -> Vec<(usize, Tag)> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(stretch) = bits.get(at..).filter(|stretch| !stretch.is_empty()) {
        match tag(stretch) {
            Some((tag, count)) => {
                found.push((at, tag));
                at += count;
            }
            None => at += 1,
        }
    }
    found
}

/// A plant while its lines are read.
struct Reader<'s, 'c> {
    sheet: &'s mut Sheet<'c>,
    lines: Vec<Line<'static>>,
    /// The words of the lines that stand already.
    stated: Vec<&'static str>,
    is_first: bool,
    /// What the clauses before on the line spoke of.
    context: Vec<Tag>,
    /// The vessel that was named last, on this line and on any.
    on_line: Option<Tag>,
    vessel: Option<Tag>,
    batch_l: Option<f64>,
    /// Whether a sheet says it beside its recipe.
    is_of_sheet: bool,
    kettle_l: Option<f64>,
    reached: Option<(AsWritten, Span, Vec<Tag>)>,
    bag: Option<Span>,
    way: Option<(&'static str, Span)>,
    sparge: Option<(AsWritten, Span)>,
    chiller: Chiller,
    /// The pieces of the line, of `4 x 40 L` the size of one by itself.
    apart: Vec<Bit>,
}

#[derive(Default)]
struct Chiller {
    to: Option<(AsWritten, Span)>,
    time: Option<(AsWritten, Span)>,
    by: Option<(&'static str, Span)>,
}

impl<'s, 'c> Reader<'s, 'c> {
    fn new(sheet: &'s mut Sheet<'c>) -> Self {
        Self {
            sheet,
            lines: Vec::new(),
            stated: Vec::new(),
            is_first: false,
            context: Vec::new(),
            on_line: None,
            vessel: None,
            batch_l: None,
            is_of_sheet: false,
            kettle_l: None,
            reached: None,
            bag: None,
            way: None,
            sparge: None,
            chiller: Chiller::default(),
            apart: Vec::new(),
        }
    }

    fn as_it_stands(&mut self, typed: Line<'static>) {
        let text = typed
            .tokens()
            .iter()
            .map(Token::text)
            .collect::<Vec<_>>()
            .join(" ")
            .to_lowercase();
        let words = [
            "batch",
            "mash tun",
            "kettle loss",
            "kettle",
            "fermenter loss",
            "fermenter",
            "lauter",
            "mash in",
            "absorption",
            "extract yield",
            "evaporation",
            "tun loss",
            "altitude",
            "cool to",
            "coolant",
        ];
        self.stated
            .extend(words.iter().filter(|word| text.starts_with(**word)).take(1));
        self.lines.push(typed);
    }

    fn line(&mut self, bits: &[Bit]) {
        self.context.clear();
        self.on_line = None;
        self.ask_of_each(bits);
        let mut used = vec![false; bits.len()];
        for clause in clauses(bits) {
            if matches!(clause.mark, Some('.' | ';')) {
                self.context.clear();
            }
            for part in parts(&clause) {
                self.part(&part, &mut used);
            }
        }
        self.leave(bits, &used);
    }

    /// A stretch with the figures of one verb.
    fn part(&mut self, part: &Clause<'_>, used: &mut [bool]) {
        let own = tags(part.bits);
        for (at, tag) in &own {
            let span = part
                .bits
                .get(*at)
                .map_or_else(Span::default, |bit| bit.span);
            self.way_of(*tag, span, part);
        }
        let here: Vec<Tag> = own.iter().map(|(_, tag)| *tag).collect();
        let only_place = !here.is_empty()
            && here.iter().all(|tag| {
                tag.is_vessel()
                    || matches!(tag, Tag::Trub | Tag::Lees | Tag::Hops | Tag::BeforeBoil)
            });
        let mut whole = here.clone();
        if here.is_empty() || only_place && self.context.contains(&Tag::Loss) || here == [Tag::Hops]
        {
            whole.extend(self.context.iter().copied());
        }
        let vessel = whole.iter().copied().find(|tag| tag.is_vessel());
        for (at, bit) in part.bits.iter().enumerate() {
            let is_used = match &bit.what {
                What::Quantity(written) => self.figure(*written, bit.span, at, part, &own, &whole),
                What::Bare(_) => self.bare(bit, &whole),
                _ => false,
            };
            if is_used && let Some(used) = used.get_mut(part.from + at) {
                *used = true;
            }
        }
        self.on_line = here
            .iter()
            .copied()
            .find(|tag| tag.is_vessel())
            .or(self.on_line);
        self.vessel = vessel.or(self.vessel);
        if !(here.is_empty() || only_place && self.context.contains(&Tag::Loss)) {
            self.context = here;
        }
    }

    /// Ways of lautering and cooling, which are said without a figure.
    fn way_of(&mut self, tag: Tag, span: Span, part: &Clause<'_>) {
        let twice = part.bits.iter().any(|bit| bit.word() == Some("twice"));
        let way = match tag {
            Tag::Bag => {
                self.bag.get_or_insert(span);
                return;
            }
            Tag::BatchSparge if twice => "lauter batch, sparges 2",
            Tag::BatchSparge => "lauter batch",
            Tag::Continuous => "lauter continuous",
            Tag::NoSparge => "lauter batch, sparges 0",
            Tag::NoMash => "no mash",
            Tag::Plate | Tag::Coil => {
                let by = if tag == Tag::Plate {
                    "through plate"
                } else {
                    "by coil"
                };
                self.chiller.by.get_or_insert((by, span));
                return;
            }
            Tag::NoChill => {
                self.put("cool to", "no chill", span);
                return;
            }
            _ => return,
        };
        // What a sheet says of its mash is read as a way of the plant.
        if tag == Tag::NoSparge && self.is_of_sheet {
            let told = Told::Assumed("no sparge".into(), way.into(), span);
            self.sheet.told.push(told);
        }
        self.way.get_or_insert((way, span));
    }

    fn figure(
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

    fn per_grain(&mut self, written: &AsWritten, span: Span, whole: &[Tag]) -> bool {
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
    fn share(
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
        let is_hourly = is_hourly(behind);
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
    fn bare(&mut self, bit: &Bit, whole: &[Tag]) -> bool {
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

    fn volume(
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
    fn each(&mut self, written: &AsWritten, span: Span) -> AsWritten {
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
    fn ask_of_each(&mut self, bits: &[Bit]) {
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
    fn alone(&mut self, written: &AsWritten, span: Span, part: &Clause<'_>) -> bool {
        let begins = part.from == 0 && part.bits.len() == 1;
        (self.is_first || begins) && self.batch(written, span, "")
    }

    fn batch(&mut self, written: &AsWritten, span: Span, point: &str) -> bool {
        self.batch_l
            .get_or_insert(written.unit.to_base(written.number));
        self.put("batch", &format!("batch {written}{point}"), span)
    }

    /// What stays behind: in the vessel that is named with it, that its name tells, or that was spoken of before.
    fn loss(
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

    /// Writes a line that does not stand yet.
    fn put(&mut self, word: &'static str, text: &str, span: Span) -> bool {
        if self.stated.contains(&word) {
            return false;
        }
        self.stated.push(word);
        self.lines.push(line(tokens(text, span), Vec::new()));
        true
    }

    /// Tells of what no line of the plant holds.
    fn leave(&mut self, bits: &[Bit], used: &[bool]) {
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
                    if known.is_none() && !trade().is_filler(word) =>
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
    fn ambiguous(&mut self, stretch: &[Bit]) {
        let Some(doubt) = stretch.first().and_then(Bit::doubt) else {
            return;
        };
        // A power has no line, whatever its comma means.
        if !is_power(stretch) {
            self.sheet.told.push(Told::Asked(doubt));
        }
    }

    fn finish(mut self, opening: Vec<Token<'static>>) -> Line<'static> {
        self.lautering();
        self.cooling();
        self.extract_yield();
        line(opening, self.lines)
    }

    fn lautering(&mut self) {
        let sparge = self.sparge.take();
        let way = match (self.bag, self.way) {
            (_, Some(("no mash", span))) => Some(("no mash".to_owned(), span)),
            (Some(span), _) => Some((
                sparge.map_or_else(
                    || "lauter bag".to_owned(),
                    |(volume, _)| format!("lauter bag, sparge {volume}"),
                ),
                span,
            )),
            (None, Some((way, span))) => Some((way.to_owned(), span)),
            (None, None) => None,
        };
        if let Some((volume, span)) = sparge.filter(|_| self.bag.is_none()) {
            self.sheet
                .told
                .push(Told::NotUsed(volume.to_string(), span));
        }
        if let Some((text, span)) = way {
            self.put("lauter", &text, span);
        }
    }

    fn cooling(&mut self) {
        let Chiller { to, time, by } = std::mem::take(&mut self.chiller);
        let Some((to, span)) = to else {
            if let Some((time, span)) = time {
                self.sheet.told.push(Told::NotUsed(time.to_string(), span));
            }
            if let Some((by, span)) = by {
                self.sheet
                    .told
                    .push(Told::Remark(format!("cooled {by}"), span));
            }
            return;
        };
        let time = time.map_or_else(String::new, |(time, _)| format!(" in {time}"));
        let by = by.map_or_else(String::new, |(by, _)| format!(" {by}"));
        self.put("cool to", &format!("cool to {to}{time}{by}"), span);
    }

    /// The share of the extract that the plant gets: of what a laboratory gets, and at home counted in the fermenter.
    fn extract_yield(&mut self) {
        let Some((reached, span, tags)) = self.reached.take() else {
            return;
        };
        if self.stated.contains(&"extract yield") {
            self.sheet
                .told
                .push(Told::NotUsed(reached.to_string(), span));
            return;
        }
        let is_large = self
            .batch_l
            .or(self.kettle_l)
            .is_some_and(|litres| litres >= LARGE_L);
        let says = |tag: Tag| tags.contains(&tag);
        let point = if says(Tag::IntoFermenter) {
            " in fermenter"
        } else if says(Tag::Tun) || says(Tag::EndOfBoil) || says(Tag::Kettle) {
            ""
        } else if is_large {
            let message = format!(
                "expected where a yield of {reached} is counted, found no word of it; assumed the end of the boil"
            );
            let found = Diagnostic::warning(Code::MissingQuantity, span, message)
                .with_help(format!("write `extract yield {reached}` for the end of the boil, or `extract yield {reached} in fermenter`"));
            self.sheet.told.push(Told::Asked(found));
            self.put("extract yield", &format!("extract yield {reached}"), span);
            return;
        } else {
            " in fermenter"
        };
        let text = format!("extract yield {reached}{point}");
        self.sheet.told.push(Told::Assumed(
            reached.to_string(),
            format!("{reached} of laboratory extract{point}"),
            span,
        ));
        self.put("extract yield", &text, span);
    }
}

/// `10 % evaporation`: an hour, or a boil.
fn per_what(share: &AsWritten, span: Span) -> Diagnostic {
    let message = format!("expected a time after an evaporation of `{share}`; assumed per hour");
    Diagnostic::warning(Code::MissingQuantity, span, message)
        .with_help(format!("write `{share} per hour`"))
}

/// A pump or a fan is weaker, kW (rule of the crate).
const HEATER_KW: f64 = 1.0;

/// The kilowatts of `5500 W` and `5.5 kW`; of a burner in BTU the share that heats the kettle is anybody's guess.
fn kilowatts(number: f64, stretch: &[Bit]) -> Option<f64> {
    match stretch.get(1).and_then(Bit::word)? {
        "kw" => Some(number),
        "w" | "watt" | "watts" => Some(number / 1000.0),
        _ => None,
    }
}

/// `5500 W`, the power of something.
fn is_power(stretch: &[Bit]) -> bool {
    let next = stretch.get(1).and_then(Bit::word);
    next.is_some_and(|word| matches!(word, "btu" | "w" | "watt" | "watts" | "kw"))
}

/// `per hour`, `an hour`, `/h` behind a share.
fn is_hourly(behind: &[Bit]) -> bool {
    let joins = |bit: &&Bit| {
        bit.is_mark('/') || matches!(bit.word(), Some("per" | "an" | "a" | "each" | "every"))
    };
    let skipped = usize::from(behind.first().as_ref().is_some_and(joins));
    let Some(bit) = behind.get(skipped) else {
        return false;
    };
    let is_hour = matches!(bit.word(), Some("h" | "hr" | "hour" | "hourly"));
    is_hour && skipped == 1
        || bit
            .quantity()
            .is_some_and(|time| time.unit == Unit::Hour && (time.number - 1.0).abs() < 1e-9)
}

const fn is_batch(tag: Tag) -> bool {
    matches!(
        tag,
        Tag::Batch
            | Tag::IntoFermenter
            | Tag::EndOfBoil
            | Tag::Packaged
            | Tag::BeforeBoil
            | Tag::Sparge
    )
}

fn batch_point(whole: &[Tag]) -> &'static str {
    if whole.contains(&Tag::IntoFermenter) {
        " into fermenter"
    } else if whole.contains(&Tag::EndOfBoil) {
        " at end of boil"
    } else if whole.contains(&Tag::Packaged) {
        " packaged"
    } else {
        ""
    }
}

/// The tag that a volume is of: the first behind it before another volume, else the last before it; and whether it is what the vessel
/// holds then: `5 gal in a carboy`.
fn near(part: &Clause<'_>, at: usize, own: &[(usize, Tag)]) -> Option<(Tag, bool)> {
    let is_volume = |at: usize| {
        part.bits
            .get(at)
            .and_then(Bit::quantity)
            .is_some_and(|written| written.unit.dimension() == Dimension::Volume)
    };
    let next = (at + 1..part.bits.len())
        .find(|at| is_volume(*at))
        .unwrap_or(part.bits.len());
    let before = (0..at)
        .rev()
        .find(|at| is_volume(*at))
        .map_or(0, |at| at + 1);
    let is_of = |tag: Tag| tag.is_vessel() || is_batch(tag);
    // A batch is said of the whole.
    if let Some((_, tag)) = own.iter().find(|(_, tag)| *tag == Tag::Batch)
        && before == 0
        && next == part.bits.len()
    {
        return Some((*tag, false));
    }
    let behind = own
        .iter()
        .find(|(place, tag)| at < *place && *place < next && is_of(*tag));
    if let Some((place, tag)) = behind {
        let between = part.bits.get(at + 1..*place).unwrap_or(&[]);
        let is_inside = between
            .iter()
            .any(|bit| matches!(bit.word(), Some("in" | "into")));
        return Some((*tag, is_inside));
    }
    let ahead = own
        .iter()
        .rev()
        .find(|(place, tag)| before <= *place && *place < at && is_of(*tag));
    ahead.map(|(_, tag)| (*tag, false))
}

/// A clause cut before each verb or `and` that has a figure of its own.
fn parts<'b>(clause: &Clause<'b>) -> Vec<Clause<'b>> {
    let is_figure = |bit: &Bit| bit.quantity().is_some() || bit.bare().is_some();
    let mut cuts = vec![0];
    let mut has_figure = false;
    for (at, bit) in clause.bits.iter().enumerate() {
        let here = clause.bits.get(at..).unwrap_or(&[]);
        let is_verb = matches!(
            tag(here),
            Some((Tag::Loss | Tag::Evaporation | Tag::Absorption, _))
        );
        let joins = bit.word() == Some("and");
        let follows = here.iter().skip(1).any(is_figure);
        if has_figure && follows && (joins || is_verb) && is_new_figure(here) {
            cuts.push(at);
            has_figure = false;
        }
        has_figure |= is_figure(bit);
    }
    cuts.push(clause.bits.len());
    cuts.iter()
        .zip(cuts.iter().skip(1))
        .filter_map(|(from, to)| {
            let bits = clause.bits.get(*from..*to)?;
            Some(Clause {
                bits,
                from: clause.from + from,
                mark: if *from == 0 { clause.mark } else { None },
            })
        })
        .collect()
}

/// Whether a figure behind is more than the time of what stands before: `2 gal boil off in an hour`.
fn is_new_figure(here: &[Bit]) -> bool {
    here.iter()
        .find_map(Bit::quantity)
        .is_some_and(|written| written.unit.dimension() != Dimension::Time)
}
