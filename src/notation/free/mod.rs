//! Text as brewers jot it → the lines of the notation that it says.
//!
//! Only lines that the notation does not know as they stand are looked at. A line is a set of figures and words in any order: the
//! unit of a figure and the part of the sheet tell what it is a figure of, a phrase of the trade says which line of the notation is
//! meant, and what is left is the name of an ingredient. What is written for it is a line of the notation in the grammar's own words,
//! each of its tokens at the place where it was read, so that everything behind it (checks, complaints, places) is that of a line that
//! was typed so.

mod alpha_units;
mod bit;
mod carried;
mod comma;
mod degrees;
mod doses;
mod draft;
mod figures;
mod fill;
mod finish;
mod gas;
mod group;
mod heading;
mod item;
mod jotted_unit;
mod left;
mod line;
mod log;
mod measure;
mod names;
mod page;
mod phrase;
mod pieces;
mod place;
mod plant;
mod rates;
mod said;
mod scan;
mod schedule;
mod series;
mod shared;
mod sheet;
mod sour;
mod store;
#[cfg(test)]
mod tests;
mod text;
mod told;
mod turns;
mod unit_once;
mod unused;
mod words;
mod yeast;

pub(super) use told::Told;

use super::lower::{measures_amiss, opens_line, opens_statement, slips_line, statement_words};
use super::tree::{Document, Entry, Line, Token, own, own_line};
use crate::catalogue::Catalogue;
use crate::diagnostic::{Severity, Span};
use crate::quantity::{Dimension, Unit, UnitSystem};
use draft::line;
use measure::Gallons;
use names::Names;
use page::{Jotted, Page};
use said::{Part, trade};
use sheet::{Named, Read, Sheet, Souring};
use std::collections::BTreeSet;

/// What a document says, where `how_wrong` tells of a line what the notation finds in it as it stands.
pub(super) fn understood(
    document: &Document<'_>,
    how_wrong: &dyn Fn(Span) -> Option<Severity>,
    catalogue: &Catalogue,
) -> (Document<'static>, Vec<Told>) {
    let mut told = Vec::new();
    // One line without indent that is none of the notation's, and the text is a page that somebody jotted.
    let is_jotted = document.lines().any(|line| {
        let tokens = line.tokens();
        let is_slip = tokens.first().is_some_and(|first| is_slip(first.text()));
        opens_statement(tokens).is_none() && !is_slip
    });
    let pointed = comma::with_points(document, is_jotted, &mut told);
    let document = pointed.as_ref().unwrap_or(document);
    let is_us = is_us(document);
    let scaled = degrees::with_scale(document, is_us, &mut told);
    let document = scaled.as_ref().unwrap_or(document);
    let names = Names::of(catalogue);
    let mut reader = Reader {
        is_jotted,
        sheet: Sheet::new(&names, is_us, Gallons::of(document)),
        how_wrong,
    };
    reader.sheet.told = told;
    reader.sheet.in_turns = turns::of(document);
    if text::is_soured(document) {
        reader.sheet.souring = Souring::Meant;
    }
    reader.sheet.part = text::opens_as(document, &names);
    for line in document.lines() {
        reader.statement(line);
    }
    let starts = |pages: &[Page]| -> BTreeSet<u32> {
        let lines = pages.iter().flat_map(|page| &page.lines);
        lines.map(|line| line.span().start).collect()
    };
    let (of_logs, of_plants) = (starts(&reader.sheet.logs), starts(&reader.sheet.plants));
    let (draft, mut told) = reader.sheet.finish();
    ask_once(&mut told);
    let said = draft.finish();
    let holds = |line: Span| match line.start {
        at if of_logs.contains(&at) => Part::Log,
        at if of_plants.contains(&at) => Part::Plant,
        _ => Part::Head,
    };
    unused::tell(document, &said, &holds, &mut told);
    (said, told)
}

/// Leaves a question that one answer settles for the whole text to the first place where it comes up.
fn ask_once(told: &mut Vec<Told>) {
    let mut asked = BTreeSet::new();
    told.retain(|told| match told {
        Told::Asked(found) => {
            let question = OF_THE_TEXT
                .iter()
                .find(|own| found.message.starts_with(**own));
            question.is_none_or(|question| asked.insert(*question))
        }
        _ => true,
    });
}

/// How questions begin that are of a whole text.
const OF_THE_TEXT: [&str; 7] = [
    degrees::WHOSE_DEGREES,
    measure::WHOSE_HUNDREDWEIGHT,
    log::WHICH_INSTRUMENT,
    comma::DECIMAL_COMMA,
    measure::WHOSE_BARRELS,
    fill::WHICH_SCALE,
    jotted_unit::POUND_SIGN,
];

struct Reader<'c, 'w> {
    is_jotted: bool,
    sheet: Sheet<'c>,
    how_wrong: &'w dyn Fn(Span) -> Option<Severity>,
}

impl Reader<'_, '_> {
    fn is_right(&self, line: &Line<'_>) -> bool {
        (self.how_wrong)(line.span()).is_none()
    }

    /// A line without indent.
    fn statement(&mut self, typed: &Line<'_>) {
        let opening = opens_statement(typed.tokens());
        // In a log `mash 66 C` is a remark, in a plant `batch 20 L` a line of it.
        let is_on_page =
            matches!(self.sheet.part, Part::Plant | Part::Log) && !text::opens_text(typed);
        // A plant or a log is one whatever is wrong with its lines.
        let is_page = |word: &str| {
            word == "ingredient" || matches!(word, "brewhouse" | "log") && text::opens_text(typed)
        };
        let word = opening.filter(|word| is_page(word) || self.is_right(typed) && !is_on_page);
        let Some(word) = word else {
            if self.is_jotted {
                self.jotted(typed);
            } else {
                self.sheet.part = if self.sheet.named == Named::Not {
                    Part::Head
                } else {
                    self.sheet.part
                };
                self.odd(typed, true);
            }
            return;
        };
        if let "brewhouse" | "log" = word {
            self.page(
                typed,
                if word == "log" {
                    Part::Log
                } else {
                    Part::Plant
                },
            );
            return;
        }
        let tokens: Vec<Token<'static>> = typed
            .tokens()
            .iter()
            .cloned()
            .map(super::tree::own_token)
            .collect();
        let part = match word {
            "mash" => Part::Mash,
            "boil" => Part::Boil,
            "ferment" => Part::Ferment,
            "package" => Part::Package,
            "stock" => Part::Stock,
            _ => {
                if word == "sour" {
                    self.sheet.souring = Souring::Not;
                }
                if word == "recipe" {
                    self.sheet.named = Named::Stated;
                }
                self.sheet.part = match word {
                    "stand" | "cool to" => Part::Stand,
                    "water" => Part::Water,
                    _ => self.sheet.part,
                };
                let mut whole = own_line(typed.clone());
                if word == "water" {
                    whole.children = self.water(typed);
                }
                self.sheet.note_head(&whole);
                match word {
                    "stand" | "cool to" => self.sheet.draft.hot.push(whole),
                    _ => self.sheet.draft.head.push(whole),
                }
                return;
            }
        };
        self.sheet.part = part;
        if part != Part::Mash {
            self.sheet.souring = Souring::Not;
        }
        let block = match part {
            Part::Mash => &mut self.sheet.draft.mash,
            Part::Boil => &mut self.sheet.draft.boil,
            Part::Ferment => &mut self.sheet.draft.ferment,
            Part::Package => &mut self.sheet.draft.package,
            _ => &mut self.sheet.draft.stock,
        };
        // `mash off 78 C` is no heading.
        let is_heading = tokens.len() == 1 || matches!(part, Part::Boil | Part::Package);
        if block.opening.is_some() || !is_heading {
            // A second one: a line in other words, such as `mash out 76 C`, or two blocks, which the notation complains of.
            if tokens.len() > 1 {
                self.jotted(typed);
            } else {
                self.sheet.draft.head.push(own_line(typed.clone()));
            }
            return;
        }
        block.opening = Some(tokens);
        for below in typed.lines() {
            self.below(below, part);
        }
    }

    /// A plant or a log under its statement. Lines without indent that follow are its own where it has no others.
    fn page(&mut self, typed: &Line<'_>, part: Part) {
        let opening = typed.tokens().iter().cloned().map(super::tree::own_token);
        let opening = Some(opening.collect());
        if let Some(pages) = self.sheet.pages(part) {
            pages.push(Page {
                opening,
                lines: Vec::new(),
            });
        }
        for line in typed.lines() {
            // Who writes the notation is told what is wrong with a line of it.
            let is_of_notation = !self.is_jotted
                && (opens_line(line.tokens())
                    || slips_line(line.tokens())
                    || part == Part::Log && measures_amiss(line.tokens()))
                && !(part == Part::Plant && plant::reads_whole(line, &self.sheet));
            self.keep(line, part, false, is_of_notation || self.is_right(line));
        }
        let has_lines = typed.lines().next().is_some();
        self.sheet.part = if has_lines { Part::Head } else { part };
    }

    /// Keeps a line of a plant or a log, and those below it.
    fn keep(&mut self, typed: &Line<'_>, part: Part, is_below: bool, is_right: bool) {
        self.sheet.keep(part, Jotted::of(typed, is_right, is_below));
        for line in typed.lines() {
            self.keep(line, part, true, false);
        }
    }

    /// What stands below `water`, without the salts and acids, which go into the mash with it.
    fn water(&mut self, typed: &Line<'_>) -> Vec<Entry<'static>> {
        let mut kept = Vec::new();
        for entry in typed.entries() {
            let below = match entry {
                Entry::Line(line) if !self.is_right(line) => Some(line),
                _ => None,
            };
            let mut trial = self.sheet.trial(false);
            let is_read = |line: &Line<'_>, read| match read {
                Read::All => true,
                Read::WordsLeft => line.tokens().first().is_some_and(Token::is_number),
                _ => false,
            };
            let is_item = below.is_some_and(|line| is_read(line, trial.line(line)))
                && trial.draft.mash.lines.len() == 1
                && trial.draft.count() == 1;
            let is_report = !trial.draft.water.is_empty()
                && trial.draft.count() == trial.draft.water.len()
                && trial
                    .told
                    .iter()
                    .all(|told| matches!(told, Told::Assumed(..) | Told::Remark(..)));
            if is_item {
                self.sheet.take(trial);
            } else if below.is_some() && is_report {
                let lines = std::mem::take(&mut trial.draft.water);
                kept.extend(lines.into_iter().map(Entry::Line));
                self.sheet.take(trial);
            } else if let Some(line) = below.filter(|line| self.sheet.is_of_waters(line)) {
                self.sheet.unread(line, Part::Water);
            } else {
                kept.extend(own(vec![entry.clone()]));
            }
        }
        kept
    }

    /// A line below a statement of the notation.
    fn below(&mut self, typed: &Line<'_>, part: Part) {
        if self.is_right(typed) && typed.lines().all(|line| self.is_right(line)) {
            self.sheet.part = part;
            let whole = own_line(typed.clone());
            self.sheet.note(&whole);
            self.sheet.is_pitched |= part == Part::Ferment
                && whole
                    .tokens()
                    .first()
                    .is_some_and(|token| token.text() == "pitch");
            self.sheet.lines(part).push(whole);
            return;
        }
        if self.is_jotted {
            self.jotted(typed);
        } else {
            self.odd(typed, false);
        }
    }

    /// A line below a statement of the notation that is not read as it stands. A writer of the notation slips; so such a line is read in
    /// other words only if nothing of it is left over.
    fn odd(&mut self, typed: &Line<'_>, is_root: bool) {
        // `sour`, with its lines below: they make one line of the notation.
        if is_root && self.sour_heading(typed) {
            return;
        }
        let part = if is_root { Part::Head } else { self.sheet.part };
        let mut trial = self.sheet.trial(is_root);
        // `resst 66 C`: a word of the notation with a letter gone wrong.
        let is_of_stock = part == Part::Stock
            && typed
                .tokens()
                .first()
                .is_some_and(|first| matches!(first.text(), "any" | "none"));
        let first = typed.tokens().first().map_or("", Token::text);
        let is_slip = slips_line(typed.tokens()) && !trade().begins(first);
        let read = if is_of_stock || is_slip || has_stray_mark(typed.tokens()) {
            Read::FiguresLeft
        } else {
            trial.line(typed)
        };
        // An ingredient and a line beside it: one of them was meant for the other.
        let begins_with_amount = typed.tokens().first().is_some_and(Token::is_number);
        let is_split = begins_with_amount
            && trial.draft.count() > 1 + self.sheet.stands()
            && trial.draft.has_item();
        let is_whole = match read {
            // A question alone: the notation asks it too.
            _ if is_split || trial.only_asks() => false,
            // `lager 5`: who writes the notation writes the scale.
            _ if part == Part::Ferment && trial.guesses_heat() => false,
            // `rack to secondary at 1.014`: no ingredient, and nothing that a recipe holds.
            Read::FiguresLeft | Read::WordsLeft | Read::All
                if !is_root
                    && trial.draft.count() == self.sheet.stands()
                    && opens_with_nothing(typed) =>
            {
                true
            }
            _ if is_root && trial.draft.count() == 0 => false,
            Read::All => true,
            Read::WordsLeft => !is_root,
            // A rest without its time is a slip; a mash out without it is how it is said.
            Read::Assumed => !is_root && !is_named_by_row(typed.tokens()),
            Read::FiguresLeft | Read::Nothing => false,
        };
        if is_whole {
            self.sheet.take(trial);
        } else if !is_root
            && read == Read::Nothing
            && self.sheet.is_remark(typed)
            && !opens_line(typed.tokens())
        {
            self.sheet.unread(typed, part);
        } else if is_root {
            // What stands below it follows from it.
            self.sheet.draft.head.push(own_line(typed.clone()));
            return;
        } else {
            self.as_it_stands(typed, part);
        }
        for below in typed.lines() {
            self.odd(below, false);
        }
    }

    fn sour_heading(&mut self, typed: &Line<'_>) -> bool {
        let [first] = typed.tokens() else {
            return false;
        };
        if !first.text().eq_ignore_ascii_case("sour") || typed.lines().next().is_none() {
            return false;
        }
        self.sheet.part = Part::Boil;
        for below in typed.lines() {
            self.sheet.sours(below);
        }
        true
    }

    /// A line as jotted, and those below it.
    fn jotted(&mut self, typed: &Line<'_>) {
        let part = self.sheet.part;
        if self.sour_heading(typed) {
            return;
        }
        if let Part::Plant | Part::Log = part {
            self.keep(typed, part, false, false);
            return;
        }
        if self.sheet.line(typed) == Read::Nothing {
            let tokens = typed.tokens();
            let slip = tokens.first().is_some_and(|first| is_slip(first.text()));
            // `target original`: a line of the notation with something missing.
            let lacks = tokens.len() <= 3 && opens_statement(tokens).is_some();
            if slip || lacks {
                self.sheet.draft.head.push(own_line(typed.clone()));
                return;
            }
            self.sheet.unread(typed, part);
        }
        for below in typed.lines() {
            self.jotted(below);
        }
    }

    /// Leaves a line to the notation, which says what is wrong with it.
    fn as_it_stands(&mut self, typed: &Line<'_>, part: Part) {
        let whole = line(own_line(typed.clone()).tokens.into_vec(), Vec::new());
        self.sheet.lines(part).push(whole);
    }
}

/// Whether a word is that of a statement with a letter gone wrong, or the first of two without the second.
fn is_slip(word: &str) -> bool {
    let word = word.to_lowercase();
    let word = word.trim_end_matches([':', '.', ',', ';']);
    let slips = |statement: &str| {
        !word.starts_with(statement) && strsim::osa_distance(statement, word) == 1
    };
    word == "brewed" || word.len() >= 4 && statement_words().any(slips)
}

/// Whether a text speaks in US measure: most of its figures are of it.
fn is_us(document: &Document<'_>) -> bool {
    let mut seen = Seen::default();
    seen.count(&mut document.lines());
    seen.us > seen.metric
}

/// How many figures of a measure a text has.
#[derive(Default)]
struct Seen {
    us: u32,
    metric: u32,
}

impl Seen {
    // Depth is bounded by the parser.
    fn count(&mut self, lines: &mut dyn Iterator<Item = &Line<'_>>) {
        for line in lines {
            for bit in scan::scan(line.tokens()) {
                let unit = bit.quantity().map(|quantity| quantity.unit);
                let is_metric = unit.is_some_and(|unit| {
                    matches!(
                        unit,
                        Unit::Kilogram
                            | Unit::Gram
                            | Unit::Litre
                            | Unit::Millilitre
                            | Unit::Hectolitre
                            | Unit::Celsius
                    )
                });
                let is_us = unit.is_some_and(|unit| {
                    unit.system() == UnitSystem::Us && unit.dimension() != Dimension::Ratio
                });
                self.us += u32::from(is_us);
                self.metric += u32::from(is_metric);
            }
            self.count(&mut line.lines());
        }
    }
}

/// Whether a line begins as one of the grammar does that lacks a figure.
fn is_named_by_row(tokens: &[Token<'_>]) -> bool {
    let first = tokens.first().map_or("", Token::text);
    ["rest", "hold", "stand", "sparge"]
        .iter()
        .any(|word| first.eq_ignore_ascii_case(word))
}

/// Whether a line begins with what brewers say and a recipe does not hold.
fn opens_with_nothing(typed: &Line<'_>) -> bool {
    let bits = scan::scan(typed.tokens());
    let words = bits.iter().map_while(bit::Bit::word);
    [Part::Mash, Part::Ferment, Part::Package]
        .iter()
        .any(|part| {
            let found = trade().line(&words, *part);
            found.is_some_and(|(rows, _)| rows.iter().any(|said| said.line.is_empty()))
        })
}

/// Whether a line has a mark that belongs to no figure and parts no words: a name with one is a name of its own.
fn has_stray_mark(tokens: &[Token<'_>]) -> bool {
    let mut open = 0_i32;
    let strays = |c: char, open: &mut i32| {
        *open += i32::from(c == '(') - i32::from(c == ')');
        *open < 0
            || matches!(
                c,
                '{' | '}'
                    | '['
                    | ']'
                    | '\\'
                    | '^'
                    | '`'
                    | '$'
                    | '_'
                    | '<'
                    | '|'
                    | '"'
                    | '!'
                    | '?'
                    | ';'
            )
    };
    let words = tokens.iter().filter(|token| !token.is_quoted());
    let is_stray = words
        .flat_map(|token| token.text().chars())
        .any(|c| strays(c, &mut open));
    is_stray || open != 0
}
