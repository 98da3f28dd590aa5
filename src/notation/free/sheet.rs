//! What is gathered of a sheet as its lines are read.

use super::bit::Bit;
use super::draft::{Draft, line};
use super::group::{Figure, Group, Name, groups};
use super::measure::Gallons;
use super::names::Names;
use super::page::{Jotted, Page};
use super::said::Part;
use super::scan::scan;
use super::sour::Soured;
use super::told::Told;
use crate::diagnostic::Span;
use crate::notation::tree::Line;
use crate::quantity::Dimension;
use crate::quantity::lexer::AsWritten;
use std::collections::BTreeSet;

/// An ingredient of the boil, and when it goes in: `15 min`.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Timed {
    pub(super) is_hop: bool,
    pub(super) time: String,
}

/// A hop on a line, and the alpha acids that the line states.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Lot {
    /// Where its name stands.
    pub(super) span: Span,
    pub(super) hop: String,
    pub(super) alpha: Option<String>,
}

/// Whether the lines speak of wort that is soured before it is boiled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Souring {
    Not,
    /// Some line of the text speaks of it.
    Meant,
    /// The lines that are read speak of it, up to the boil.
    Now,
}

/// Whether the beer has its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Named {
    Not,
    /// By the first line.
    ByPlace,
    Stated,
}

/// How much of a line is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Read {
    Nothing,
    /// Some figure is not.
    FiguresLeft,
    /// All figures are, and one that is not stated is assumed.
    Assumed,
    /// All figures are, and some words say nothing.
    WordsLeft,
    All,
}

/// What is gathered of a text.
#[allow(
    clippy::struct_excessive_bools,
    reason = "each says of one thing whether it is known yet"
)]
pub(super) struct Sheet<'c> {
    pub(super) names: &'c Names<'c>,
    pub(super) part: Part,
    pub(super) draft: Draft,
    pub(super) told: Vec<Told>,
    /// Whether the text speaks in US measure.
    pub(super) is_us: bool,
    pub(super) gallons: Gallons,
    pub(super) logs: Vec<Page>,
    pub(super) plants: Vec<Page>,
    /// What a sheet says of the plant that it was brewed on, line by line.
    pub(super) equipment: Vec<Vec<Bit>>,
    pub(super) named: Named,
    /// A time that stands before the ingredients it is said of: `15 - kettle finings 2 oz, nutrient 3 oz`.
    pub(super) lead: Option<Figure>,
    pub(super) is_pitched: bool,
    pub(super) has_begun: bool,
    /// Whether the block of a line is known, and what it holds.
    pub(super) is_fixed: bool,
    pub(super) is_contained: bool,
    /// What may be said once and is.
    pub(super) once: BTreeSet<String>,
    pub(super) is_packaging: bool,
    /// Whether the line has spoken of what the beer is filled into.
    pub(super) is_filled: bool,
    pub(super) is_boil_jotted: bool,
    /// The hop of which a heading says that its amounts follow, with its alpha acids.
    pub(super) headed: Option<(Name, Option<Figure>)>,
    /// The ingredient that went in last, of which `another 500 g` may follow.
    pub(super) last: Option<Name>,
    /// What goes into the boil, and when, in the order of the lines.
    pub(super) timed: Vec<Timed>,
    /// The hops of the lines, with the alpha acids that these state.
    pub(super) lots: Vec<Lot>,
    /// The form of hops that a heading names.
    pub(super) form: Option<String>,
    /// Whether the last stand is one that was assumed for what goes into it.
    pub(super) is_stand_open: bool,
    /// Whether the wort is cooled to where it ferments.
    pub(super) is_cooled: bool,
    /// Whether a cooling was jotted.
    pub(super) is_cool_jotted: bool,
    /// Water of the mash, which a line states in litres and the notation per kilogram of grain.
    pub(super) strike: Option<(AsWritten, Span)>,
    /// Kilograms of what is mashed; nothing once one is not stated by mass.
    pub(super) grist: Option<f64>,
    /// Whether the line that is read ends in a colon.
    pub(super) is_heading: bool,
    /// How wort is soured before its boil, if the text speaks of it.
    pub(super) souring: Souring,
    /// What the text says of that.
    pub(super) soured: Soured,
    /// The heat of pitching, where it stands before the yeast.
    pub(super) pitched_at: Option<Figure>,
    /// In how many mashes or turns a heading says that it is brewed, so that what stands below it is for each.
    pub(super) turns: Option<f64>,
    /// Whether each of them has its own boil.
    pub(super) has_boil_each: bool,
    /// How many mashes the text speaks of.
    pub(super) in_turns: Option<f64>,
}

impl<'c> Sheet<'c> {
    pub(super) fn new(names: &'c Names<'c>, is_us: bool, gallons: Gallons) -> Self {
        Self {
            names,
            part: Part::Head,
            draft: Draft::default(),
            told: Vec::new(),
            is_us,
            gallons,
            logs: Vec::new(),
            plants: Vec::new(),
            equipment: Vec::new(),
            named: Named::Not,
            lead: None,
            is_pitched: false,
            is_boil_jotted: false,
            form: None,
            headed: None,
            last: None,
            timed: Vec::new(),
            lots: Vec::new(),
            is_stand_open: false,
            is_cooled: false,
            is_cool_jotted: false,
            has_begun: false,
            is_fixed: false,
            is_contained: false,
            once: BTreeSet::new(),
            is_packaging: false,
            is_filled: false,
            strike: None,
            grist: Some(0.0),
            is_heading: false,
            souring: Souring::Not,
            soured: Soured::default(),
            pitched_at: None,
            turns: None,
            has_boil_each: false,
            in_turns: None,
        }
    }

    pub(super) fn groups(&self, bits: &[Bit]) -> Vec<Group> {
        let part = self.part;
        groups(bits, part, &|words| self.names.stretch(words, part))
    }

    /// The pages that lines of the part go to: those of logs or of plants.
    pub(super) fn pages(&mut self, part: Part) -> Option<&mut Vec<Page>> {
        match part {
            Part::Log => Some(&mut self.logs),
            Part::Plant => Some(&mut self.plants),
            _ => None,
        }
    }

    /// The litres of the batch, where the sheet says them.
    pub(super) fn batch_litres(&self) -> Option<f64> {
        let is_batch = |line: &&Line<'_>| {
            let first = line.tokens().first();
            first.is_some_and(|token| token.text().eq_ignore_ascii_case("batch"))
        };
        let batch = self.draft.head.iter().find(is_batch)?;
        let bits = scan(batch.tokens());
        let written = bits.into_iter().find_map(|bit| bit.quantity().copied())?;
        let is_volume = written.unit.dimension() == Dimension::Volume;
        is_volume.then(|| written.unit.to_base(written.number))
    }

    /// Keeps a line for the log or the plant that it belongs to.
    pub(super) fn keep(&mut self, part: Part, line: Jotted) {
        let Some(pages) = self.pages(part) else {
            return;
        };
        if pages.is_empty() {
            pages.push(Page::default());
        }
        if let Some(page) = pages.last_mut() {
            page.lines.push(line);
        }
    }

    /// Where lines of a part go.
    pub(super) fn lines(&mut self, part: Part) -> &mut Vec<Line<'static>> {
        match part {
            Part::Head | Part::Plant | Part::Log => &mut self.draft.head,
            Part::Water => &mut self.draft.water,
            Part::Mash => &mut self.draft.mash.lines,
            Part::Boil | Part::Stand => &mut self.draft.boil.lines,
            Part::Ferment => &mut self.draft.ferment.lines,
            Part::Package => &mut self.draft.package.lines,
            Part::Stock => &mut self.draft.stock.lines,
        }
    }

    /// A sheet that goes on from this one, to see what a line says.
    pub(super) fn trial(&self, is_root: bool) -> Self {
        let mut trial = Self {
            is_fixed: !is_root,
            named: Named::Stated,
            draft: Draft::default(),
            told: Vec::new(),
            once: self.once.clone(),
            form: self.form.clone(),
            headed: self.headed.clone(),
            last: self.last.clone(),
            timed: self.timed.clone(),
            lots: self.lots.clone(),
            logs: Vec::new(),
            plants: Vec::new(),
            equipment: Vec::new(),
            soured: self.soured.clone(),
            ..*self
        };
        trial
            .draft
            .boil
            .opening
            .clone_from(&self.draft.boil.opening);
        trial
            .draft
            .package
            .opening
            .clone_from(&self.draft.package.opening);
        let is_stand = |line: &&Line<'_>| {
            line.tokens()
                .first()
                .is_some_and(|token| token.text() == "stand")
        };
        let stand = self.draft.hot.iter().rev().find(is_stand);
        trial
            .draft
            .hot
            .extend(stand.map(|stand| line(stand.tokens.to_vec(), Vec::new())));
        trial
    }

    /// Whether all that came of a trial's line is a question.
    pub(super) fn only_asks(&self) -> bool {
        let asks = self.told.iter().any(|told| matches!(told, Told::Asked(_)));
        asks && self.draft.count() == self.stands()
    }

    /// Whether a heat without its scale was read as one in degrees Celsius.
    pub(super) fn guesses_heat(&self) -> bool {
        // Beer that rises to 21 rises in degrees Celsius, and one that is held at 5 may be in the other scale.
        let is_it = |told: &Told| match told {
            Told::Assumed(_, read, _) => read
                .strip_suffix(" C")
                .is_some_and(|number| number.parse().is_ok_and(|number: f64| number < 15.0)),
            _ => false,
        };
        self.told.iter().any(is_it)
    }

    /// How many stands a trial begins with.
    pub(super) fn stands(&self) -> usize {
        let is_stand = |line: &Line<'_>| {
            line.tokens()
                .first()
                .is_some_and(|token| token.text() == "stand")
        };
        usize::from(self.draft.hot.iter().any(is_stand))
    }

    /// Takes what a trial has read.
    pub(super) fn take(&mut self, trial: Self) {
        let Self {
            draft,
            told,
            equipment,
            once,
            part,
            lead,
            is_pitched,
            is_contained,
            is_boil_jotted,
            strike,
            grist,
            souring,
            soured,
            pitched_at,
            turns,
            timed,
            lots,
            ..
        } = trial;
        self.draft.append(draft);
        self.told.extend(told);
        self.equipment.extend(equipment);
        (self.once, self.part, self.lead) = (once, part, lead);
        (self.is_pitched, self.is_contained, self.is_boil_jotted) =
            (is_pitched, is_contained, is_boil_jotted);
        (self.strike, self.grist) = (strike, grist);
        (self.souring, self.pitched_at, self.turns) = (souring, pitched_at, turns);
        (self.soured, self.timed, self.lots) = (soured, timed, lots);
    }
}
