//! What went into the beer beside the ingredients of the catalogue: what it was filled up with, other liquids, and the sugar of bottles.

use super::entry::{Added, Entry, UpTo, What};
use super::line::Reader;
use super::poured::{Strength, name, poured, wort};
use super::words::LogWord;
use crate::catalogue::Kind;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::free::bit::Bit;
use crate::notation::free::draft::tokens;
use crate::notation::free::item::Item;
use crate::notation::free::names::Among;
use crate::notation::free::said::Part;
use crate::notation::free::told::Told;
use crate::notation::free::words::{Clause, covered, find, has};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// So little of the same beer, as far as anybody knows, changes an alcohol by less than it is read to, a share of the wort (common practice,
/// no source).
const LITTLE: f64 = 0.05;

/// Who fills so much of the wort into bottles fills all of it: the rest was lost (common practice, no source).
const ALL: f64 = 0.75;

/// Verbs of those that fill up, whose liquid goes without saying: water.
const FILLS: &[&str] = &[
    "topped up",
    "top up",
    "topped off",
    "top off",
    "topped",
    "top",
    "refilled",
    "diluted",
    "dilute",
    "let down",
    "liquored back",
    "liquored down",
    "made up",
    "filled up",
    "brought up",
];

impl Reader<'_, '_, '_> {
    /// `topped up to 20 L with water`: a volume that is reached, and not how much went in.
    pub(super) fn up_to(&mut self, clause: Clause<'_>) -> bool {
        if self.label.is_before_fermenter() || self.is_packaged {
            return false;
        }
        let Some((verb, _)) = find(clause.bits, LogWord::Added.phrases()) else {
            return false;
        };
        let is_reached = |at: &usize| {
            let leads = |at: usize| clause.bits.get(at).and_then(Bit::word);
            let before = at.checked_sub(1).and_then(leads);
            // `topped up to about 20 L`
            let earlier = at.checked_sub(2).and_then(leads);
            let is_about = matches!(before, Some("about" | "around" | "the" | "roughly"));
            before == Some("to") || is_about && earlier == Some("to")
        };
        let found = (verb..clause.bits.len()).filter(is_reached).find_map(|at| {
            let (written, span) = self.quantity(clause.from + at)?;
            let is_volume = written.unit.dimension() == Dimension::Volume;
            is_volume.then_some((clause.from + at, written, span))
        });
        let Some((at, written, span)) = found else {
            return false;
        };
        self.use_bit(at);
        let strength = Strength::of(clause.bits).gravity;
        let is_wort = has(clause.bits, LogWord::Wort.phrases());
        let with = match strength {
            Some((shown, span)) if is_wort => {
                self.use_span(span);
                wort("fresh wort", &shown)
            }
            _ => self.filled_with(clause, span),
        };
        if let Some(whole) = covered(clause.bits) {
            self.use_words(whole);
        }
        let up = UpTo { written, with };
        self.entries.push(Entry::new(What::UpTo(up), span));
        true
    }

    /// What a vessel is filled up with: water, if the line names nothing else.
    fn filled_with(&mut self, clause: Clause<'_>, span: Span) -> String {
        for mut group in self.groups(clause.bits) {
            group.figures.clear();
            let found = Item::of(
                self.sheet,
                &mut group,
                Some(Part::Log),
                Among::Part(Part::Ferment),
            );
            if let Some(item) =
                found.filter(|item| matches!(item.kind, Kind::Beverage | Kind::Juice))
            {
                return item.name().to_owned();
            }
        }
        self.sheet.told.push(Told::Default(
            "filled up with".to_owned(),
            "water".to_owned(),
            span,
        ));
        "water".to_owned()
    }

    fn use_words(&mut self, whole: Span) {
        let words = self.bits.iter().filter(|bit| {
            bit.word().is_some() && whole.start <= bit.span.start && bit.span.end <= whole.end
        });
        for span in words.map(|bit| bit.span).collect::<Vec<_>>() {
            self.use_span(span);
        }
    }

    /// What a clause pours in, or weighs in, and the catalogue does not know: none is left out in silence.
    pub(super) fn pour(&mut self, clause: Clause<'_>, is_said: bool) {
        let has = |words: LogWord| has(clause.bits, words.phrases());
        let begins = |entry: &Entry| matches!(entry.what, What::Shown(_) | What::Volume(_));
        let is_begun = self.known.is_fermenting || self.entries.iter().any(begins);
        let is_elsewhere = has(LogWord::Drawn)
            || has(LogWord::Lost)
            || has(LogWord::NotBeer) && !has(LogWord::Wort)
            || has(LogWord::Moved)
            || has(LogWord::Pitched);
        if !is_begun || is_elsewhere {
            return;
        }
        let strength = Strength::of(clause.bits);
        let is_strong =
            strength.alcohol.is_some() || strength.gravity.is_some() && has(LogWord::Pours);
        let is_sweet = |bit: &Bit| {
            matches!(
                bit.word(),
                Some("syrup" | "sugar" | "honey" | "molasses" | "treacle" | "candi")
            )
        };
        let is_sugar = self.known.is_fermenting && clause.bits.iter().any(is_sweet);
        let is_put =
            is_said || is_sugar || self.known.is_fermenting && (is_strong || has(LogWord::Pours));
        if !is_put {
            return;
        }
        for at in clause.from..clause.from + clause.bits.len() {
            let Some((amount, span)) = self.quantity(at).filter(|_| !self.is_used(at)) else {
                continue;
            };
            // `about 25 L with juice`
            let next = self.bits.get(at + 1).and_then(Bit::word);
            let is_all = !is_said && matches!(next, Some("with" | "and" | "in"));
            match amount.unit.dimension() {
                Dimension::Volume if is_all => {}
                Dimension::Volume => self.pour_in(clause, (amount, span), is_said),
                Dimension::Mass if is_said || is_sugar => self.weigh_in(clause, (amount, span)),
                _ => {}
            }
        }
    }

    fn pour_in(&mut self, clause: Clause<'_>, (amount, span): (AsWritten, Span), is_said: bool) {
        let litres = Some(amount.unit.to_base(amount.number));
        let is_filled = has(clause.bits, FILLS);
        let strength = Strength::of(clause.bits);
        let is_bare = strength.gravity.is_none() && strength.alcohol.is_none();
        let same = || self.same_beer(&amount).filter(|_| is_filled && is_bare);
        let text = match poured(clause.bits, span, self.known.original) {
            Some(Ok(poured)) => {
                if let Some((typed, read, span)) = poured.told {
                    self.sheet.told.push(Told::Assumed(typed, read, span));
                }
                poured.text
            }
            Some(Err(_)) if same().is_some() => {
                let original = same().unwrap_or(amount);
                self.sheet.told.push(Told::Asked(like_this(&amount, span)));
                wort("beer poured in", &original)
            }
            Some(Err(found)) => {
                self.sheet.told.push(Told::Asked(found));
                self.use_all(clause);
                return;
            }
            None => match name(clause.bits) {
                Some(name) => format!("\"{name}\""),
                None if same().is_some() => {
                    let original = same().unwrap_or(amount);
                    self.sheet.told.push(Told::Asked(like_this(&amount, span)));
                    wort("beer poured in", &original)
                }
                None if is_filled && !self.known.is_fermenting => "water".to_owned(),
                None if is_said => {
                    self.sheet.told.push(Told::Asked(went_in(&amount, span)));
                    self.use_all(clause);
                    return;
                }
                None => return,
            },
        };
        self.use_all(clause);
        let mut written = tokens("added", span);
        written.extend(tokens(&format!("{amount} {text}"), span));
        let added = Added { written, litres };
        self.entries.push(Entry::new(What::Added(added), span));
    }

    /// The wort that a little beer was made of with which a vessel was topped up: beer like this one.
    fn same_beer(&self, amount: &AsWritten) -> Option<AsWritten> {
        let wort_l = self.known.wort_l.filter(|_| self.known.is_fermenting)?;
        let is_little = amount.unit.to_base(amount.number) <= LITTLE * wort_l;
        self.known.original.filter(|_| is_little)
    }

    /// An additive that the catalogue does not know: the notation asks what it brings, where there is much of it.
    fn weigh_in(&mut self, clause: Clause<'_>, (amount, span): (AsWritten, Span)) {
        let is_known = |group: &crate::notation::free::group::Group| {
            group.name.as_ref().is_some_and(|name| name.is_known)
        };
        if self.groups(clause.bits).iter().any(is_known)
            || has(clause.bits, LogWord::Yeast.phrases())
        {
            return;
        }
        let Some(name) = name(clause.bits) else {
            self.sheet.told.push(Told::Asked(went_in(&amount, span)));
            self.use_all(clause);
            return;
        };
        self.use_all(clause);
        let mut written = tokens("added", span);
        written.extend(tokens(&format!("{amount} \"{name}\""), span));
        let added = Added {
            written,
            litres: None,
        };
        self.entries.push(Entry::new(What::Added(added), span));
    }

    fn use_all(&mut self, clause: Clause<'_>) {
        for at in clause.from..clause.from + clause.bits.len() {
            self.use_bit(at);
        }
    }

    /// `bottled with 90 g table sugar`: it ferments in the bottle, so that it is part of the beer.
    pub(super) fn priming(&mut self, clause: Clause<'_>) {
        if !self.known.is_fermenting {
            return;
        }
        let is_each = has(clause.bits, LogWord::Each.phrases());
        let mut is_named = false;
        for mut group in self.groups(clause.bits) {
            let is_known = group.name.as_ref().is_some_and(|name| name.is_known);
            let figures: Vec<(AsWritten, Span)> = group
                .amounts()
                .filter_map(|figure| Some((figure.written?, figure.span)))
                .collect();
            let name = if is_known {
                let Some(item) = Item::of(
                    self.sheet,
                    &mut group,
                    Some(Part::Log),
                    Among::Part(Part::Ferment),
                )
                .filter(|item| item.kind == Kind::Sugar) else {
                    continue;
                };
                is_named = true;
                item.name().to_owned()
            } else if !is_named && has(clause.bits, &["prime", "primed", "priming", "bottled"]) {
                "sucrose".to_owned()
            } else {
                continue;
            };
            let dose = figures.iter().find(|(written, _)| {
                matches!(
                    written.unit.dimension(),
                    Dimension::Mass | Dimension::Concentration
                )
            });
            let Some((written, span)) = dose.copied() else {
                continue;
            };
            if is_each {
                self.sheet
                    .told
                    .push(Told::Asked(per_bottle(&written, span)));
                self.use_span(span);
                continue;
            }
            self.prime((written, span), &name);
        }
    }

    fn prime(&mut self, (written, span): (AsWritten, Span), name: &str) {
        // Of what went into the bottles, where the line says how much that was.
        let filled = self.bits.iter().find_map(|bit| {
            let filled = bit.quantity()?;
            (filled.unit.dimension() == Dimension::Volume)
                .then(|| filled.unit.to_base(filled.number))
                .filter(|litres| *litres > 2.0)
                .filter(|litres| {
                    self.known
                        .wort_l
                        .is_none_or(|wort_l| *litres < ALL * wort_l)
                })
        });
        let amount = match filled {
            Some(litres) if written.unit.dimension() == Dimension::Mass => {
                let grams = 1000.0 * written.unit.to_base(written.number) / litres;
                AsWritten::plain((grams * 100.0).round() / 100.0, Unit::GramPerLitre)
            }
            _ => written,
        };
        self.use_span(span);
        let read = format!("{amount} {name} that ferments in what the beer is filled into");
        self.sheet
            .told
            .push(Told::Assumed(written.to_string(), read, span));
        let mut line = tokens("added", span);
        line.extend(tokens(&format!("{amount} {name}"), span));
        let added = Added {
            written: line,
            litres: None,
        };
        self.entries.push(Entry::new(What::Added(added), span));
    }
}

fn like_this(amount: &AsWritten, span: Span) -> Diagnostic {
    let message =
        format!("expected the liquid of the {amount} that topped up; assumed beer like this one");
    Diagnostic::warning(Code::MissingQuantity, span, message).with_help(format!(
        "write `added {amount} water`, or the beer's figures, such as `added {amount} beer, 1.012, 5 % alcohol`"
    ))
}

fn went_in(amount: &AsWritten, span: Span) -> Diagnostic {
    let message =
        format!("expected an ingredient beside {amount}, found an addition without a name");
    Diagnostic::error(Code::MissingQuantity, span, message).with_help(format!(
        "write it, such as `added {amount} water` or `added {amount} wort at 1.050`"
    ))
}

fn per_bottle(dose: &AsWritten, span: Span) -> Diagnostic {
    let message = format!(
        "expected how much beer {dose} each went into; the sugar of the bottles is left out of the alcohol"
    );
    Diagnostic::warning(Code::MissingQuantity, span, message)
        .with_help("write the dose of all, such as `bottled with 6 g/L sugar`")
}
