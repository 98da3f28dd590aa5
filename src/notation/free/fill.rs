//! The slots of a line, filled with the figures of a group.

use super::draft::tokens;
use super::group::{Figure, Group, Link};
use super::jotted_unit::warmth;
use super::said::{Part, Said, Slot};
use super::told::Told;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::tree::Token;
use crate::quantity::lexer::{AsWritten, Marked};
use crate::quantity::{Dimension, Unit};

/// A line whose slots are filled.
pub(super) struct Filled {
    pub(super) tokens: Vec<Token<'static>>,
    /// The figures that it took, by their place on the line.
    pub(super) used: Vec<usize>,
    pub(super) told: Vec<Told>,
}

/// Fills the slots of a row; nothing if a slot without default stays empty.
pub(super) fn fill(said: &Said, group: &Group, is_us: bool) -> Option<Filled> {
    if said.line.is_empty() {
        return None;
    }
    let span = group.span.unwrap_or_default();
    let mut filled = Filled {
        tokens: Vec::new(),
        used: Vec::new(),
        told: Vec::new(),
    };
    let mut takes_any = false;
    let mut heat = None;
    let (line, unsaid) = said
        .line
        .split_once(" ~")
        .map_or((said.line, ""), |(line, unsaid)| (line, unsaid));
    for piece in pieces(line) {
        let (text, is_optional) = match piece
            .strip_prefix('[')
            .and_then(|text| text.strip_suffix(']'))
        {
            Some(text) => (text, true),
            None => (piece, false),
        };
        let mut written = Vec::new();
        let mut is_empty = false;
        for word in words(text) {
            let Some(inside) = word
                .strip_prefix('{')
                .and_then(|word| word.strip_suffix('}'))
            else {
                written.extend(tokens(word, span));
                continue;
            };
            let (name, default) = inside
                .split_once('=')
                .map_or((inside, None), |(name, default)| (name, Some(default)));
            let slot = Slot::named(name)?;
            let may_be_bare = !said.is_of_figures();
            // `OG 18.5`: no wort has such a specific gravity. `FG 3` may be points as well.
            let is_labelled = said.holds_anywhere();
            let may_be_plato = match said.line.split(' ').nth(1) {
                Some("original") if is_labelled => Some(Degrees::Any),
                Some("final") if is_labelled => Some(Degrees::Fractions),
                _ => None,
            };
            let bare = Bare {
                is_cooling: said.line.starts_with("cool to"),
                is_us,
                may_be_bare,
                limits: Limits::Not,
                may_be_plato,
            };
            match take(slot, group, &filled.used, said.part, bare)
                .filter(|(figure, _)| slot != Slot::Time || !is_of_another(group, figure, heat))
            {
                Some((figure, quantity)) => {
                    if slot == Slot::Temperature {
                        heat = Some(figure.at);
                    }
                    filled.used.push(figure.at);
                    takes_any = true;
                    if figure.written.is_none() {
                        let bare = figure.bare.map_or(0.0, Marked::middle);
                        filled.told.push(Told::Assumed(
                            bare.to_string(),
                            quantity.to_string(),
                            figure.span,
                        ));
                    }
                    written.extend(tokens(&quantity.to_string(), figure.span));
                }
                None if is_optional => is_empty = true,
                None => {
                    let default = default?;
                    // A step as hot as this ends the mash.
                    let is_hot = heat.is_some_and(|heat| {
                        let mut figures = group.figures.iter();
                        figures.any(|figure| figure.at == heat && ends_mash(figure))
                    });
                    let default = if is_hot && default == "60 min" {
                        "10 min"
                    } else {
                        default
                    };
                    // `infusion 57 > 63 > 72 C`: the heat at which the grain goes in, where no time is said of it.
                    if default == "60 min"
                        && group.is_first_of_several
                        && group.figures.iter().all(is_mild)
                    {
                        return None;
                    }
                    // A step without its time has its scale.
                    let is_bare = filled
                        .told
                        .iter()
                        .any(|told| matches!(told, Told::Assumed(..)));
                    if is_bare && said.line == "rest {temperature} for {time=10 min}" {
                        return None;
                    }
                    filled.told.push(Told::Default(
                        said.line.split(' ').next().unwrap_or("").to_owned(),
                        default.to_owned(),
                        span,
                    ));
                    written.extend(tokens(default, span));
                }
            }
        }
        if !is_empty {
            filled.tokens.extend(written);
        }
    }
    // What the line says besides and the notation cannot.
    for name in unsaid
        .split(" ~")
        .filter_map(|name| name.strip_prefix('{')?.strip_suffix('}'))
    {
        let slot = Slot::named(name)?;
        let unsaid = Bare {
            limits: Limits::Count,
            ..Bare::default()
        };
        while let Some((figure, _)) = take(slot, group, &filled.used, said.part, unsaid) {
            filled.used.push(figure.at);
            filled.told.push(Told::NotUsed(figure.text(), figure.span));
        }
    }
    if let Some(found) = how_long(group, &filled.used) {
        filled.told.push(Told::Asked(found));
    }
    // Two numbers without units, and no word that says which is which: `hold 65 for 60`.
    let bare = filled
        .told
        .iter()
        .filter(|told| matches!(told, Told::Assumed(..)))
        .count();
    let is_clear = bare < 2
        || group.phrase.starts_with("mash")
        || filled
            .told
            .iter()
            .any(|told| matches!(told, Told::Assumed(_, read, _) if read.ends_with(" F")));
    if !is_us {
        for told in &mut filled.told {
            if let Told::Assumed(typed, read, span) = told
                && read.ends_with(" F")
            {
                *told = Told::Asked(which_scale(typed, read, *span));
            }
        }
    }
    // A line that has no slot is said by its phrase.
    let is_whole = !said.line.contains('{');
    ((takes_any || is_whole) && is_clear).then_some(filled)
}

/// Whether another heat stands between a time and the heat of the line: `52 C, 63 C 40 min`.
fn is_of_another(group: &Group, time: &Figure, heat: Option<usize>) -> bool {
    heat.is_some_and(|heat| {
        let (from, to) = (heat.min(time.at), heat.max(time.at));
        group.figures.iter().any(|other| {
            from < other.at && other.at < to && other.dimension() == Some(Dimension::Temperature)
        })
    })
}

/// `mash in 30 min at 67 C`: how long the grain takes to go in, or how long the mash rests.
fn how_long(group: &Group, used: &[usize]) -> Option<Diagnostic> {
    let is_doughing = matches!(
        group.phrase.as_str(),
        "mash in" | "mash-in" | "dough in" | "doughing in"
    );
    let behind = group.said_at + group.phrase.split(' ').count();
    let time = group.figures.iter().find(|figure| {
        figure.at == behind
            && figure.dimension() == Some(Dimension::Time)
            && used.contains(&figure.at)
    })?;
    let message = format!(
        "expected how long the mash rests, found `{}`, which may be how long the grain takes to go in",
        time.text()
    );
    let found = Diagnostic::warning(Code::MissingQuantity, time.span, message);
    is_doughing.then(|| found.with_help("give the rest a line of its own: `rest 67 C for 60 min`"))
}

/// Degrees Celsius from which on nothing is converted any more (common practice, no source).
fn ends_mash(figure: &Figure) -> bool {
    let heat = figure
        .written
        .filter(|written| written.unit.dimension() == Dimension::Temperature)
        .map(|heat| heat.unit.to_base(heat.number));
    let bare = figure.bare.map(|bare| {
        let bare = bare.middle();
        warmth(bare).to_base(bare)
    });
    heat.or(bare)
        .is_some_and(|heat| (74.0..85.0).contains(&heat))
}

/// A heat below those at which mashes rest for an hour, in degrees Celsius (common practice, no source).
fn is_mild(figure: &Figure) -> bool {
    let heat = figure
        .written
        .filter(|written| written.unit.dimension() == Dimension::Temperature);
    let bare = figure.bare.map(Marked::middle);
    heat.map(|heat| heat.unit.to_base(heat.number))
        .or(bare)
        .is_some_and(|heat| (30.0..61.0).contains(&heat))
}

/// How the question begins.
pub(super) const WHICH_SCALE: &str = "expected a scale after the temperature";

/// `mash at 152`, in a text that has no other degrees Fahrenheit.
fn which_scale(typed: &str, read: &str, span: Span) -> Diagnostic {
    let message = format!("{WHICH_SCALE} `{typed}`; assumed {read}");
    Diagnostic::warning(Code::MissingUnit, span, message).with_help(format!("write `{read}`"))
}

/// How a number without its unit may be read.
#[derive(Debug, Clone, Copy, Default)]
struct Bare {
    is_us: bool,
    may_be_bare: bool,
    /// What wort is cooled to.
    is_cooling: bool,
    /// `until 8 bbl in the kettle`: what is reached, where the line does not say it.
    limits: Limits,
    /// A gravity in degrees Plato.
    may_be_plato: Option<Degrees>,
}

/// Whether a figure that is reached counts as one that is said.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
enum Limits {
    #[default]
    Not,
    Count,
}

/// Which numbers are degrees Plato.
#[derive(Debug, Clone, Copy)]
enum Degrees {
    /// Those of worts.
    Any,
    /// Those of beers that are no whole numbers, as points of gravity are.
    Fractions,
}

impl Degrees {
    fn hold(self, number: f64) -> bool {
        match self {
            Self::Any => (6.0..=35.0).contains(&number),
            Self::Fractions => number.fract() != 0.0 && (1.3..=12.0).contains(&number),
        }
    }
}

/// The words of a line, a slot with its default as one.
fn words(text: &str) -> impl Iterator<Item = &str> {
    let mut rest = text;
    std::iter::from_fn(move || {
        rest = rest.trim_start();
        if rest.is_empty() {
            return None;
        }
        let end = if rest.starts_with('{') {
            rest.find('}').map_or(rest.len(), |at| at + 1)
        } else {
            rest.find(' ').unwrap_or(rest.len())
        };
        let (word, behind) = rest.split_at(end);
        rest = behind;
        Some(word)
    })
}

/// The stretches of a line, one in brackets as a whole.
fn pieces(line: &str) -> Vec<&str> {
    let mut pieces = Vec::new();
    let mut rest = line;
    while let Some(open) = rest.find('[') {
        let close = rest.find(']').map_or(rest.len(), |at| at + 1);
        pieces.push(rest.get(..open).unwrap_or("").trim());
        pieces.push(rest.get(open..close).unwrap_or(""));
        rest = rest.get(close..).unwrap_or("");
    }
    pieces.push(rest.trim());
    pieces.retain(|piece| !piece.is_empty());
    pieces
}

/// The figure of a group that fits a slot: those behind its phrase first.
fn take(
    slot: Slot,
    group: &Group,
    used: &[usize],
    part: Part,
    Bare {
        is_cooling,
        is_us,
        may_be_bare,
        limits,
        may_be_plato,
    }: Bare,
) -> Option<(Figure, AsWritten)> {
    let free = |figure: &&Figure| !used.contains(&figure.at);
    // Behind the phrase first; where there is none, as they stand.
    let is_behind = |figure: &&Figure| group.phrase.is_empty() || figure.at > group.said_at;
    let behind = group.figures.iter().filter(is_behind);
    let before = group.figures.iter().filter(|figure| !is_behind(figure));
    let ordered: Vec<&Figure> = behind.chain(before).filter(free).collect();
    let measured = ordered.iter().find_map(|figure| {
        let written = figure.written?;
        let is_reached = figure.link == Link::Most
            || limits == Limits::Not
                && matches!(figure.link, Link::To | Link::When)
                && matches!(slot, Slot::Volume | Slot::Mass);
        let fits = slot.dimensions().contains(&written.unit.dimension())
            && fits(slot, part, &written)
            && !is_reached;
        let mut written = written;
        if slot == Slot::Strength {
            written.unit = Unit::Plato;
        }
        fits.then_some((**figure, written))
    });
    measured.or_else(|| {
        ordered.iter().find_map(|figure| {
            let timed = || {
                group
                    .figures
                    .iter()
                    .any(|other| other.dimension() == Some(Dimension::Time))
            };
            let is_step = || slot == Slot::Temperature && part == Part::Mash && timed();
            let is_gravity = |bare: f64| slot == Slot::Gravity && (1010.0..=1150.0).contains(&bare);
            let may_be = |bare: &Marked| {
                may_be_bare || figure.link == Link::For || is_step() || is_gravity(bare.middle())
            };
            // The 60 of `crystal 60` is its shade.
            let is_of_name = group
                .name
                .as_ref()
                .is_some_and(|name| figure.at == name.at + name.words.len());
            let bare = figure.bare.filter(may_be).filter(|_| {
                !(is_of_name && slot == Slot::Temperature && figure.link == Link::None)
            })?;
            let linked = match figure.link {
                Link::None => true,
                Link::At => slot == Slot::Temperature,
                Link::For => slot == Slot::Time || slot == Slot::Volume,
                Link::When | Link::To => matches!(
                    slot,
                    Slot::Gravity | Slot::Temperature | Slot::Gas | Slot::Ph | Slot::Bitterness
                ),
                Link::Day | Link::After | Link::Most => false,
            };
            let gravity = slot == Slot::Gravity && (1000.0..=1200.0).contains(&bare.middle());
            if gravity {
                let written = AsWritten::plain(bare.middle() / 1000.0, Unit::SpecificGravity);
                return Some((**figure, written));
            }
            let degrees = || {
                slot == Slot::Gravity
                    && may_be_plato.is_some_and(|degrees| degrees.hold(bare.middle()))
            };
            // Nobody crashes beer at 34 C.
            let is_cold = slot == Slot::Temperature
                && group.phrase.contains("crash")
                && (28.0..45.0).contains(&bare.middle());
            // `chill to 66`, in a text of US measure.
            let is_cold = is_cold
                || slot == Slot::Temperature
                    && is_cooling
                    && is_us
                    && (40.0..=110.0).contains(&bare.middle());
            let unit = is_cold
                .then_some(Unit::Fahrenheit)
                .or_else(|| slot.bare(bare.middle(), part, is_us))
                .or_else(|| degrees().then_some(Unit::Plato))
                .filter(|_| linked)?;
            Some((**figure, AsWritten::marked(bare, unit)))
        })
    })
}

/// Whether a figure can be what the slot of the part says: no mash rests at 20 °C, and none for five days.
pub(super) fn fits(slot: Slot, part: Part, written: &AsWritten) -> bool {
    let base = written.unit.to_base(written.number);
    match (slot, part) {
        (Slot::Temperature, Part::Mash) => (25.0..=82.0).contains(&base),
        (Slot::MashOut, _) => (74.0..=82.0).contains(&base),
        (Slot::Temperature, Part::Ferment | Part::Package) => (-3.0..=45.0).contains(&base),
        (Slot::Time, Part::Mash | Part::Boil | Part::Stand) => {
            base <= 24.0 * 60.0 && !matches!(written.unit, Unit::Day | Unit::Week)
        }
        (Slot::Time, Part::Ferment) => base >= 60.0,
        (Slot::Gas, _) => {
            written.unit.dimension() == Dimension::GasVolumes || (1.0..=12.0).contains(&base)
        }
        // What is sourer is no mash but a soured wort or beer.
        (Slot::Ph, Part::Mash) => (4.6..=6.5).contains(&base),
        (Slot::Ion, _) => (0.0..=2.5).contains(&base),
        (Slot::Strength, _) => (0.01..=0.4).contains(&base),
        (Slot::Share, Part::Head) => (0.0..=0.25).contains(&base),
        _ => true,
    }
}
