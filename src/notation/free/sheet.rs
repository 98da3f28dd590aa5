//! A sheet as typed, line by line → the lines of the notation that it says.

use super::alpha_units;
use super::bit::Bit;
use super::carried::{self, Timed};
use super::doses;
use super::draft::{Draft, line, tokens};
use super::group::{Figure, Group, Link, Name, groups};
use super::item::WHOLE_BOIL;
use super::jotted_unit::{HANDFUL_G, PINCH_G, pound_sign};
use super::log;
use super::measure::{Gallons, whose_hundredweight};
use super::names::Names;
use super::page::{Jotted, Page};
use super::pieces;
use super::plant;
use super::said::{Part, trade};
use super::scan::scan;
use super::schedule;
use super::sour::Soured;
use super::store;
use super::turns;
use super::yeast;
use crate::catalogue::Kind;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::lower::{is_form_of_hops, labels_dose, may_label};
use crate::notation::tree::{Line, Token};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};
use std::collections::BTreeSet;

/// A remark of the writer, or a figure that was not used.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::notation) enum Told {
    /// Words that say nothing which a recipe can hold.
    Remark(String, Span),
    /// A figure that no line uses.
    NotUsed(String, Span),
    /// A figure without its unit, and how it was read.
    Assumed(String, String, Span),
    /// A figure that is not stated, and what was assumed.
    Default(String, String, Span),
    /// What can be read in two ways.
    Asked(Diagnostic),
}

/// Words of what is mashed.
const GRAINS: [&str; 9] = [
    "malt", "barley", "wheat", "oat", "oats", "rye", "spelt", "maize", "flakes",
];

/// Phrases of a mash of which a part is drawn, to be boiled.
const DRAWN: [&str; 4] = ["pull", "draw", "draw off", "rmut"];

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
    /// The form of hops that a heading names.
    pub(super) form: Option<String>,
    /// Whether the last stand is one that was assumed for what goes into it.
    pub(super) is_stand_open: bool,
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
            is_stand_open: false,
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
            in_turns: None,
        }
    }

    /// Reads a line; `false` if it says nothing that can be read.
    pub(super) fn line(&mut self, typed: &Line<'_>) -> Read {
        let mut bits = scan(typed.tokens());
        self.gallons.read(&mut bits, &mut self.told);
        doses::join(&mut bits, self.gallons, &mut self.told);
        self.ask_of_signs(typed.tokens());
        if let Some(length) = store::heading(&bits) {
            let rest = bits.get(length..).unwrap_or(&[]);
            if rest.is_empty() {
                self.part = Part::Stock;
                return Read::All;
            }
            return self.stored(rest);
        }
        if turns::is_each(&bits) {
            self.turns = turns::counted(&bits).or(self.in_turns);
            if self.turns.is_none() {
                let span = bits.first().map_or_else(Span::default, |bit| bit.span);
                self.told.push(Told::Asked(turns::how_many(span)));
            }
            self.part = Part::Mash;
            return Read::All;
        }
        let before = self.part;
        if bits.first().is_some_and(|bit| bit.is_mark('-')) {
            bits.remove(0);
        }
        let bits = self.without_heading(&bits);
        if self.part != before {
            self.turns = None;
        }
        if self.part == Part::Stock && !self.is_fixed {
            return self.stored(bits);
        }
        if bits.is_empty() || self.name(typed.tokens(), bits) {
            return Read::All;
        }
        let (bits, equipment) = plant::parted(bits);
        let has_equipment = !equipment.is_empty();
        if has_equipment {
            self.equipment.push(equipment);
            if bits.is_empty() {
                return Read::All;
            }
        }
        let landed = schedule::landed(&bits, &mut self.told);
        let mut bits = landed.unwrap_or(bits);
        if self.draft.boil.opening.is_none() && schedule::is_steps(&bits, self.part) {
            self.part = Part::Mash;
            bits = schedule::steps(bits, &mut self.told);
        }
        if self.is_soured(&bits) {
            for mut group in self.groups(&bits) {
                self.soured.take(&mut group);
                self.leave(&group);
            }
            return Read::WordsLeft;
        }
        let bits = alpha_units::weighed(&bits, self.names, &mut self.told);
        // `10 orange peel 20 g` in columns: the line ends with its weight, so that the ten are no count.
        let weight = bits.last().and_then(Bit::quantity);
        let is_weighed = bits.first().is_some_and(|bit| bit.bare().is_some())
            && weight.is_some_and(|written| written.unit.dimension() == Dimension::Mass);
        let bits = if is_weighed {
            bits
        } else {
            pieces::weighed(bits, &mut self.told)
        };
        let bits = yeast::named(&bits, self.names).unwrap_or(bits);
        let bits = yeast::by_country(&bits, self.names, &mut self.told).unwrap_or(bits);
        let bits = self.without_totals(&bits);
        let bits = carried::with_the_boil(&bits).unwrap_or(bits);
        let bits = carried::falls(&bits).unwrap_or(bits);
        self.is_heading = bits.last().is_some_and(|bit| bit.is_mark(':'));
        let bits = self.without_lead(&bits);
        let lead = self.lead;
        let (bits, again) = self.time_again(bits);
        self.lead = again.or(lead);
        let told = self.told.len();
        let mut any = false;
        let mut open = Vec::new();
        let mut is_decoction = false;
        let mut groups = self.groups(bits);
        let is_hot = |group: &Group| {
            group.figures.iter().any(|figure| {
                figure.bare.is_some() || figure.dimension() == Some(Dimension::Temperature)
            })
        };
        let several = groups.iter().filter(|group| is_hot(group)).count() > 1;
        if let Some(first) = groups.first_mut() {
            first.is_first_of_several = several;
        }
        self.below_heading(&mut groups);
        Self::share_each(bits, &mut groups);
        self.share_times(&mut groups);
        self.pitching_heat(&mut groups);
        // Sugar on a line that speaks of bottles is for them.
        self.is_packaging = groups.iter().any(|group| {
            let words = group
                .phrase
                .split(' ')
                .chain(group.others.iter().map(String::as_str));
            words
                .clone()
                .any(|word| trade().container(word).is_some() || word.starts_with("prim"))
        });
        self.is_filled = false;
        for group in groups {
            let words = group
                .phrase
                .split(' ')
                .chain(group.others.iter().map(String::as_str));
            self.is_filled |= words.clone().any(|word| trade().container(word).is_some());
            is_decoction |=
                group.phrase.contains("decoct") || DRAWN.contains(&group.phrase.as_str());
            if is_decoction {
                let mut group = group;
                // `10 g decoction thing` is an ingredient of the notation.
                let is_item =
                    self.is_fixed && bits.first().is_some_and(|bit| bit.quantity().is_some());
                let drawn = if is_item { 0 } else { group.figures.len() };
                for figure in group.figures.drain(..drawn) {
                    self.told.push(Told::NotUsed(figure.text(), figure.span));
                }
                open.push(group);
                continue;
            }
            let (read, left) = self.group(group);
            any |= read;
            open.push(left);
        }
        if again.is_some() {
            self.lead = lead;
        }
        any |= is_decoction;
        if is_decoction && !self.is_fixed {
            self.returned(bits);
        }
        if !any && has_equipment && open.iter().all(|group| group.figures.is_empty()) {
            for group in &open {
                self.leave(group);
            }
            return Read::WordsLeft;
        }
        if !any {
            self.told.truncate(told);
            return Read::Nothing;
        }
        let says = |word: &String| is_form_of_hops(word) || may_label(word);
        let has_figures = open.iter().any(|group| {
            !group.figures.is_empty()
                || self.is_fixed
                    && (group.is_cut || group.others.iter().any(|word| labels_dose(word)))
                || group.others.iter().any(says)
        });
        let has_words = open
            .iter()
            .any(|group| !group.others.is_empty() || group.name.is_some());
        let told = self.told.get(told..).unwrap_or(&[]);
        // A number with a word behind it that is not known may have that for its unit.
        let is_before_word = |span: &Span| {
            let next = bits
                .iter()
                .position(|bit| bit.span == *span)
                .and_then(|at| bits.get(at + 1));
            next.and_then(Bit::word)
                .is_some_and(|word| !trade().is_filler(word))
        };
        let may_be_another = has_words
            && told
                .iter()
                .any(|told| matches!(told, Told::Assumed(_, _, span) if is_before_word(span)));
        let assumes = told.iter().any(|told| matches!(told, Told::Default(..)));
        let part = self.part;
        for group in &mut open {
            if !self.is_fixed {
                self.unknown(group, part);
            }
            self.leave(group);
        }
        if has_figures || may_be_another {
            Read::FiguresLeft
        } else if assumes {
            Read::Assumed
        } else if has_words {
            Read::WordsLeft
        } else {
            Read::All
        }
    }

    /// `10# pale malt`, in a text that says pounds nowhere else.
    fn ask_of_signs(&mut self, typed: &[Token<'_>]) {
        for token in typed {
            let word = token.text().trim_end_matches('s').to_lowercase();
            if word.ends_with("cwt") && self.gallons != Gallons::ByWord {
                self.told
                    .push(Told::Asked(whose_hundredweight(token.span())));
            }
            let grams = match word.as_str() {
                "handful" => HANDFUL_G,
                "pinch" | "pinche" => PINCH_G,
                _ => continue,
            };
            let read = AsWritten::plain(grams, Unit::Gram).to_string();
            self.told
                .push(Told::Assumed(token.text().to_owned(), read, token.span()));
        }
        for token in typed.iter().filter(|_| !self.is_us) {
            let number = token.text().strip_suffix('#').unwrap_or("");
            if !number.is_empty()
                && number
                    .bytes()
                    .all(|byte| byte.is_ascii_digit() || byte == b'.')
            {
                let read = format!("{number} lb");
                let found = pound_sign(token.text(), &read, token.span());
                self.told.push(Told::Asked(found));
            }
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
        (self.soured, self.timed) = (soured, timed);
    }

    /// The draft, once all lines are read.
    pub(super) fn finish(mut self) -> (Draft, Vec<Told>) {
        for page in std::mem::take(&mut self.plants) {
            let plant = plant::read(&page, &mut self);
            self.draft.last.push(plant);
        }
        if let Some(plant) = plant::of_sheet(&mut self) {
            self.draft.last.push(plant);
        }
        for page in std::mem::take(&mut self.logs) {
            let logs = log::read(&page, &mut self);
            self.draft.last.extend(logs);
        }
        if let Some((water, span)) = self.strike {
            self.liquor(&water, span);
        }
        self.draft.sour = self.soured.line();
        self.whole_boils();
        self.stands_in_order();
        if let Some(figure) = self.pitched_at {
            self.told.push(Told::NotUsed(figure.text(), figure.span));
        }
        (self.draft, self.told)
    }

    /// Gives what goes in at the start of the boil its time.
    fn whole_boils(&mut self) {
        let boil = self.boil_time();
        for line in &mut self.draft.boil.lines {
            let is_it = |token: &Token<'_>| token.text() == WHOLE_BOIL;
            let Some(at) = line.tokens.iter().position(is_it) else {
                continue;
            };
            let mut whole = std::mem::take(&mut line.tokens).into_vec();
            let span = whole.get(at).map_or_else(Span::default, Token::span);
            let time = boil.as_deref().map(|time| tokens(time, span));
            if time.is_none() {
                self.told
                    .push(Told::Remark("start of the boil".into(), span));
            }
            // Without it, the `at` before it goes too.
            let from = if time.is_some() {
                at
            } else {
                at.saturating_sub(1)
            };
            whole.splice(from..=at, time.unwrap_or_default());
            line.tokens = whole.into_boxed_slice();
        }
    }

    /// The water of the mash in litres, said per kilogram of what is mashed.
    fn liquor(&mut self, water: &AsWritten, span: Span) {
        let grist = self.grist.filter(|grist| *grist > 0.0);
        let ratio = grist.map(|grist| water.unit.to_base(water.number) / grist);
        // Thinner or thicker than this is no mash but water for something else (common practice, no source).
        if let Some(ratio) = ratio.filter(|ratio| (1.2..=8.0).contains(ratio)) {
            let text = format!("{ratio:.3} L/kg");
            self.told
                .push(Told::Assumed(water.to_string(), text.clone(), span));
            let tokens = tokens(&format!("mash in {text}"), span);
            self.draft.mash.lines.push(line(tokens, Vec::new()));
        } else {
            self.told.push(Told::NotUsed(water.to_string(), span));
        }
    }

    /// Whether a line that cannot be read speaks of no ingredient.
    pub(super) fn is_remark(&self, typed: &Line<'_>) -> bool {
        let bits = scan(typed.tokens());
        let is_slip = |group: &Group| {
            let words = group.others.join(" ");
            !words.is_empty()
                && group.figures.is_empty()
                && !self.names.catalogue.near(&words, None).is_empty()
        };
        self.groups(&bits).iter().all(|group| {
            group.name.is_none()
                && group.figures.is_empty()
                && group.doubt.is_none()
                && !is_slip(group)
        })
    }

    /// Whether a line speaks of waters and of nothing that is counted: `tap cut half and half with rain water`.
    pub(super) fn is_of_waters(&self, typed: &Line<'_>) -> bool {
        let groups = self.groups(&scan(typed.tokens()));
        let is_water = |name: &Name| self.names.resolve(&name.words, &[Kind::Beverage]).is_some();
        groups
            .iter()
            .any(|group| group.name.as_ref().is_some_and(is_water))
            && groups.iter().all(|group| {
                group.figures.is_empty()
                    && group.doubt.is_none()
                    && group.name.as_ref().is_none_or(is_water)
            })
    }

    /// A line that says nothing that can be read: an ingredient that is not known is complained of, all else is told.
    pub(super) fn unread(&mut self, typed: &Line<'_>, part: Part) {
        let bits = scan(typed.tokens());
        for mut group in self.groups(&bits) {
            let unknown = group
                .name
                .take()
                .filter(|name| !name.is_known || name.is_quoted);
            let amount = group.amounts().next().copied();
            let amount = amount.filter(|_| part != Part::Head);
            if unknown.is_none() {
                self.unknown(&mut group, part);
            }
            if let (Some(name), Some(amount)) = (unknown, amount) {
                let mut whole = tokens(&amount.text(), amount.span);
                let text = name.words.join(" ");
                let text = if name.is_quoted {
                    format!("\"{}\"", text.replace('"', "\"\""))
                } else {
                    text
                };
                whole.extend(tokens(&text, name.span));
                self.lines(part).push(line(whole, Vec::new()));
                group.figures.retain(|figure| figure.at != amount.at);
            }
            self.leave(&group);
        }
    }

    /// Words beside an amount by weight, in a part of the sheet that holds ingredients: one that is not known, which is complained of
    /// and not left out.
    fn unknown(&mut self, group: &mut Group, part: Part) {
        let is_listed = matches!(part, Part::Mash | Part::Boil | Part::Stand | Part::Ferment);
        let is_weight = |figure: &Figure| {
            matches!(
                figure.dimension(),
                Some(Dimension::Mass | Dimension::Concentration | Dimension::Bitterness)
            )
        };
        let Some(amount) = group.figures.iter().copied().find(is_weight) else {
            return;
        };
        let is_name = (1..=4).contains(&group.others.len())
            && group.name.is_none()
            && group.said.is_empty()
            && group.phrase.is_empty()
            && !group.others.iter().all(|word| trade().is_how_made(word));
        // Among the grist the name must say that it is grain: `Grist 24 kg` and `a 50 lb sack` are none.
        let is_grain = |word: &String| GRAINS.contains(&word.as_str());
        let may_be = part != Part::Mash || group.others.iter().any(is_grain);
        if !is_listed || !is_name || !may_be || group.is_denied {
            return;
        }
        let span = group.span.unwrap_or(amount.span);
        let mut whole = tokens(&amount.text(), amount.span);
        whole.extend(tokens(&group.others.join(" "), span));
        group.figures.retain(|figure| figure.at != amount.at);
        group.others.clear();
        self.lines(part).push(line(whole, Vec::new()));
    }

    /// `2 pineapples`: how many of an ingredient, of which one weighs that nobody knows. It is asked, so that nothing that goes in
    /// counts for nothing.
    fn uncounted(&mut self, group: &Group) -> Option<Figure> {
        let is_listed = matches!(
            self.part,
            Part::Mash | Part::Boil | Part::Stand | Part::Ferment | Part::Package
        );
        let name = group.name.as_ref().filter(|name| name.is_known)?;
        let stands_alone = group.said.is_empty() && group.others.len() < 3 && !group.is_denied;
        if !is_listed || !stands_alone || group.amounts().next().is_some() {
            return None;
        }
        let end = name.at + name.words.len();
        let is_count = |figure: &&Figure| {
            figure.bare.is_some()
                && figure.link == Link::None
                && (figure.at < name.at && figure.at + 2 >= name.at || figure.at == end)
        };
        let count = group.figures.iter().find(is_count).copied()?;
        let (number, name) = (count.text(), name.words.join(" "));
        let message = format!("expected how much {number} {name} are, found no weight of one");
        let help = format!("write the weight of all: `400 g {name}`");
        let found = Diagnostic::error(Code::MissingUnit, count.span, message).with_help(help);
        self.told.push(Told::Asked(found));
        Some(count)
    }

    /// What is left of a group.
    pub(super) fn leave(&mut self, group: &Group) {
        let uncounted = self.uncounted(group);
        for figure in &group.figures {
            if uncounted.is_some_and(|count| count.at == figure.at) {
                continue;
            }
            self.told.push(Told::NotUsed(figure.text(), figure.span));
        }
        if !group.others.is_empty()
            && let Some(span) = group.span
        {
            self.told.push(Told::Remark(group.others.join(" "), span));
        }
    }
}
