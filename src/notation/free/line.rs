//! A line of a sheet as typed → the lines of the notation that it says.

use super::alpha_units;
use super::bit::Bit;
use super::carried;
use super::doses;
use super::gas;
use super::group::Group;
use super::jotted_unit::{HANDFUL_G, PINCH_G, pound_sign};
use super::measure::{Gallons, casks, whose_hundredweight};
use super::pieces;
use super::plant;
use super::said::{Part, trade};
use super::scan::scan;
use super::schedule;
use super::series;
use super::sheet::{Read, Sheet};
use super::store;
use super::told::Told;
use super::turns;
use super::unit_once;
use super::yeast;
use crate::diagnostic::Span;
use crate::notation::lower::{is_form_of_hops, labels_dose, may_label};
use crate::notation::tree::{Line, Token};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// Phrases of a mash of which a part is drawn, to be boiled.
const DRAWN: [&str; 4] = ["pull", "draw", "draw off", "rmut"];

impl Sheet<'_> {
    /// Reads a line; `false` if it says nothing that can be read.
    pub(super) fn line(&mut self, typed: &Line<'_>) -> Read {
        let mut bits = scan(typed.tokens());
        self.gallons.read(&mut bits, &mut self.told);
        if self.part == Part::Head {
            casks(&mut bits, &mut self.told);
        }
        unit_once::read(&mut bits, &mut self.told);
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
            self.has_boil_each = turns::has_boil(&bits);
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
        // Each turn has its own boil, and two mashes may have one.
        let is_hot = matches!(self.part, Part::Water | Part::Mash)
            || self.part == Part::Boil && self.has_boil_each;
        if self.part != before && !is_hot {
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
        let bits = series::steps(&bits, self.part).unwrap_or(bits);
        let bits = schedule::pairs(bits, self.part);
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
        let bits = series::apart(&bits, self.part).unwrap_or(bits);
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
        if let Some(yeast) = self.unknown_yeast(typed.tokens(), &bits) {
            self.part = Part::Ferment;
            self.is_pitched = true;
            self.lines(Part::Ferment).push(yeast);
            return Read::All;
        }
        let bits = gas::by_pressure(&bits, &mut self.told).unwrap_or(bits);
        let bits = self.without_totals(&bits);
        let bits = carried::with_the_boil(&bits).unwrap_or(bits);
        let bits = carried::falls(&bits).unwrap_or(bits);
        self.is_heading = bits.last().is_some_and(|bit| bit.is_mark(':'));
        let bits = self.without_lead(&bits);
        // `10 oz per turn`
        let is_per_turn = turns::is_per_turn(bits);
        let turns = self.turns;
        if is_per_turn {
            self.turns = turns.or(self.in_turns);
        }
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
        if is_per_turn {
            self.turns = turns;
        }
        any |= is_decoction;
        let is_item = self.is_fixed && bits.first().is_some_and(|bit| bit.quantity().is_some());
        if is_decoction && !is_item {
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
}
