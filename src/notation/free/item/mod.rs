//! A group that speaks of an ingredient → the item that it says.

mod amount;
mod figure;
mod timing;

use crate::catalogue::Kind;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::free::draft::{line, tokens};
use crate::notation::free::group::{Figure, Group};
use crate::notation::free::names::{Among, Known, Resolved};
use crate::notation::free::said::{Part, trade};
use crate::notation::free::sheet::{Lot, Sheet};
use crate::notation::free::told::Told;
use crate::notation::lower::is_form_of_hops;
use crate::notation::tree::{Line, Token};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};
pub(super) use timing::is_of_cellar;

/// Stands for the time of the boil, which may be stated on a later line.
pub(super) const WHOLE_BOIL: &str = "whole-boil";

/// Stands for hops of which only that they are hops is said.
pub(super) const UNNAMED_HOP: &str = "unnamed-hop";

/// Stands for alpha acids that another line may state.
pub(super) const ALPHA_OF_LOT: &str = "alpha-of-lot";

/// An ingredient with what is stated of it.
pub(super) struct Item {
    /// Where it goes in.
    pub(super) part: Part,
    pub(super) kind: Kind,
    name: String,
    name_span: Span,
    amount: Option<(String, Span, AsWritten)>,
    /// Figures of the ingredient: `, 5 EBC`.
    figures: Vec<(String, Span)>,
    timing: Vec<(String, Span)>,
    pub(super) told: Vec<Told>,
}

impl Item {
    /// The ingredient that a group speaks of, if its name is one of those kinds; the group keeps the figures that are left.
    pub(super) fn of(
        sheet: &Sheet<'_>,
        group: &mut Group,
        part: Option<Part>,
        among: Among,
    ) -> Option<Self> {
        let own = group.name.clone()?;
        let name = if own.words == [UNNAMED_HOP] {
            Known {
                name: "hops".to_owned(),
                kind: Kind::Hop,
                figures: Vec::new(),
                form: Vec::new(),
                left_out: Vec::new(),
                is_understood: false,
            }
        } else if own.is_quoted {
            let found = sheet.names.catalogue.find(own.words.first()?)?;
            Known {
                name: found.entry.name().to_owned(),
                kind: found.entry.kind(),
                figures: Vec::new(),
                form: Vec::new(),
                left_out: Vec::new(),
                is_understood: false,
            }
        } else {
            let mut words = own.words.clone();
            words.extend(group.others.iter().cloned());
            let whole = sheet
                .names
                .among(&words, among)
                .filter(|_| !group.others.is_empty());
            let found = if let Some(found) = whole {
                group.others.clear();
                found
            } else {
                let found = sheet.names.among(&own.words, among);
                // `1 oz old saaz`, where the line began as one of another part.
                let plain = || {
                    let is_how = |word: &&String| !trade().is_how_made(word);
                    let plain: Vec<String> = own.words.iter().filter(is_how).cloned().collect();
                    let is_less = !own.is_known && plain.len() < own.words.len();
                    (is_less && !plain.is_empty())
                        .then(|| sheet.names.among(&plain, among))
                        .flatten()
                };
                found.or_else(plain)?
            };
            match found {
                Resolved::One(known) => strong(sheet, group, &own.words, known),
                Resolved::Several(_) if group.amounts().next().is_none() => return None,
                Resolved::Several(names) => {
                    let typed = own.words.join(" ");
                    let message = format!(
                        "expected one ingredient, found `{typed}`, which may be {}",
                        names.join(" or ")
                    );
                    let help = format!("write `{}`", names.join("` or `"));
                    let found = Diagnostic::error(Code::UnknownIngredient, own.span, message);
                    group.doubt = Some(found.with_help(help));
                    return None;
                }
            }
        };
        let part = part.unwrap_or_else(|| sheet.home(name.kind, group));
        let mut item = Self {
            part,
            kind: name.kind,
            name: name.name.clone(),
            name_span: own.span,
            amount: None,
            figures: Vec::new(),
            timing: Vec::new(),
            told: Vec::new(),
        };
        group.name = None;
        item.form(&name.form);
        if item.kind != Kind::Hop {
            // A form of hops, and of nothing else; but `fresh raspberries` are what they are called.
            let is_figure =
                |word: &&String| is_form_of_hops(word) && own.words.first() != Some(*word);
            group
                .others
                .extend(name.form.iter().filter(is_figure).cloned());
        }
        let is_told = |word: &&String| item.kind != Kind::Hop || !is_form_of_hops(word);
        let left_out: Vec<&str> = name
            .left_out
            .iter()
            .filter(is_told)
            .map(String::as_str)
            .collect();
        if !left_out.is_empty() {
            item.told.push(Told::Remark(left_out.join(" "), own.span));
        }
        item.shade(&name.figures, own.span, sheet.is_us);
        item.form(&group.others);
        if matches!(part, Part::Boil | Part::Stand) {
            item.form(sheet.form.as_slice());
        }
        item.colour(group);
        item.nearer_shade(sheet, &own.words);
        item.grade(sheet);
        item.amount(group, part);
        item.percent(group);
        item.rate(group);
        let boil = sheet.boil_time();
        item.when(group, part, boil.as_deref());
        if item.kind == Kind::Yeast {
            item.warmth(group, part, sheet.is_us);
        }
        item.bare(group, part, own.at, own.at + own.words.len(), sheet.is_us);
        // The 60 of `crystal 60` may stand without its unit.
        item.grade(sheet);
        Some(item)
    }

    /// Notes the alpha acids of a hop; where its line has none, those of another line of the same hop, which is one lot, are filled in
    /// once all are read.
    pub(super) fn alpha_of_lot(&mut self, lots: &mut Vec<Lot>) {
        if self.kind != Kind::Hop {
            return;
        }
        let mut figures = self.figures.iter().map(|(figure, _)| figure);
        let alpha = figures.find(|figure| figure.ends_with("alpha")).cloned();
        if alpha.is_none() {
            self.figures.push((ALPHA_OF_LOT.to_owned(), self.name_span));
        }
        lots.push(Lot {
            span: self.name_span,
            hop: self.name.clone(),
            alpha,
        });
    }

    /// The name by which the notation finds it.
    pub(super) fn name(&self) -> &str {
        &self.name
    }

    /// Kilograms, where it is stated by mass.
    pub(super) fn mass(&self) -> Option<f64> {
        let (_, _, written) = self.amount.as_ref()?;
        (written.unit.dimension() == Dimension::Mass).then(|| written.unit.to_base(written.number))
    }

    pub(super) fn volume(&self) -> Option<(AsWritten, Span)> {
        let (_, span, written) = self.amount.as_ref()?;
        (written.unit.dimension() == Dimension::Volume).then_some((*written, *span))
    }

    /// What its amount measures.
    pub(super) fn dimension(&self) -> Option<Dimension> {
        self.amount
            .as_ref()
            .map(|(_, _, written)| written.unit.dimension())
    }

    /// How long before the end of the boil it goes in: `15 min`.
    pub(super) fn left(&self) -> Option<&str> {
        self.timing
            .iter()
            .find_map(|(text, _)| text.strip_prefix("at "))
    }

    /// Whether it says how much.
    pub(super) fn is_stated(&self) -> bool {
        self.amount.is_some()
    }

    /// `ale yeast, 19 C, two weeks`: the temperature that it is held at, and for how long.
    pub(super) fn hold(&self, group: &mut Group) -> Option<Line<'static>> {
        // `second shake at 12 h` is no time held.
        let is_time = |figure: &Figure| {
            figure.written.is_some_and(|written| {
                written.unit.dimension() == Dimension::Time
                    && written.unit.to_base(written.number) >= Unit::Day.to_base(1.0)
            })
        };
        let (warmth, span) = self
            .timing
            .iter()
            .find(|(text, _)| text.starts_with("at "))?;
        let at = group
            .figures
            .iter()
            .position(is_time)
            .filter(|_| self.kind == Kind::Yeast)?;
        let time = group.figures.remove(at);
        let text = format!(
            "hold {} for {}",
            warmth.trim_start_matches("at "),
            time.text()
        );
        Some(line(tokens(&text, span.to(time.span)), Vec::new()))
    }

    /// So many times as much, of a sheet that says how much goes into each of several mashes.
    pub(super) fn in_turns(&mut self, turns: f64) {
        let Some((text, span, written)) = &mut self.amount else {
            return;
        };
        if !matches!(
            written.unit.dimension(),
            Dimension::Mass | Dimension::Volume | Dimension::Packs
        ) {
            return;
        }
        let typed = std::mem::take(text);
        written.number *= turns;
        written.range = written.range.map(|(low, high)| (low * turns, high * turns));
        *text = written.to_string();
        self.told.push(Told::Assumed(typed, text.clone(), *span));
    }

    /// Asks how much goes into all of several containers, where so much goes into each.
    pub(super) fn of_each(&self) -> Option<Diagnostic> {
        let (text, span, written) = self.amount.as_ref()?;
        let is_total = matches!(
            written.unit.dimension(),
            Dimension::Mass | Dimension::Volume | Dimension::Packs
        );
        let message = format!(
            "expected how much {} goes into all of the beer, found {text} for each container",
            self.name
        );
        let help = format!(
            "write the amount of all, or a dose such as `6 g/L {}`",
            self.name
        );
        let found = Diagnostic::warning(Code::MissingQuantity, *span, message);
        is_total.then(|| found.with_help(help))
    }

    /// Days count from the pitching of the first yeast: what is said of its own day is of something else.
    pub(super) fn pitched_first(&mut self) {
        self.timing.retain(|(timing, span)| {
            let is_day = timing.starts_with("on day");
            if is_day {
                self.told.push(Told::NotUsed(timing.clone(), *span));
            }
            !is_day
        });
    }

    /// Says at what heat it is pitched, if its own line does not.
    pub(super) fn pitch_at(&mut self, figure: &Figure) {
        if self.timing.is_empty() {
            self.timing
                .push((format!("at {}", figure.text()), figure.span));
        }
    }

    /// The line of the item, below a verb where its part has one.
    pub(super) fn tokens(&self, verb: Option<&str>) -> Vec<Token<'static>> {
        let mut line = Vec::new();
        if let Some(verb) = verb {
            line.extend(tokens(verb, self.name_span));
        }
        if let Some((amount, span, _)) = &self.amount {
            line.extend(tokens(amount, *span));
        }
        line.extend(tokens(&self.name, self.name_span));
        for (figure, span) in &self.figures {
            line.extend(tokens("x, x", *span).into_iter().filter(Token::is_comma));
            line.extend(tokens(figure, *span));
        }
        for (timing, span) in &self.timing {
            line.extend(tokens(timing, *span));
        }
        line
    }
}

/// An acid by its strength, which is part of its name: `lactic 88 %`.
fn strong(sheet: &Sheet<'_>, group: &mut Group, words: &[String], acid: Known) -> Known {
    let is_share = |figure: &Figure| figure.dimension() == Some(Dimension::Percent);
    let at = group.figures.iter().position(is_share);
    let Some(at) = at.filter(|_| acid.kind == Kind::Acid) else {
        return acid;
    };
    let mut words = words.to_vec();
    words.extend(group.figures.get(at).map(Figure::text));
    match sheet.names.among(&words, Among::Kinds(&[Kind::Acid])) {
        Some(Resolved::One(known)) if known.figures.is_empty() => {
            group.figures.remove(at);
            known
        }
        _ => acid,
    }
}
