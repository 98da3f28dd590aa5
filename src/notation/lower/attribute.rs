//! Attributes of an ingredient, value or label first.

use super::Lower;
use super::figure::{BRINGS_NOTHING, DIMENSIONS, FORMS, Figure, LABELS, form};
use crate::catalogue::Kind;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::{ANY, Cursor, Measure};
use crate::notation::tree::{Token, span_of, words_of};
use crate::quantity::lexer::near_unit;
use crate::quantity::{Dimension, Number, Quantity, Unit, Written};
use crate::recipe::{ExtractBasis, Facts, StatedExtract};

/// Above this a malt's extract is more likely of dry matter than as is: the best malts reach 83 % dry at 4 % moisture
/// (common practice, no source).
const HIGHEST_AS_IS_PERCENT: f64 = 79.0;

impl Lower<'_> {
    /// Reads one attribute into `facts`, or complains of it.
    pub(super) fn attribute(
        &mut self,
        tokens: &[Token<'_>],
        facts: &mut Facts,
        kind: Option<Kind>,
    ) {
        let span = span_of(tokens).unwrap_or_default();
        let Some(at) = tokens.iter().position(Token::is_number) else {
            self.word(tokens, span, facts);
            return;
        };
        let (label, value) = tokens.split_at(at);
        let mut label = words_of(label);
        let mut cursor = Cursor::new(value, span);
        if let Some(Figure::Ph) = Figure::named(&label) {
            if let Some(ph) = self.ph(&mut cursor) {
                self.set(&mut facts.ph, ph, "pH", span);
            }
            self.expect_end(cursor);
            return;
        }
        let labelled = Figure::named(&label);
        if labelled == Some(Figure::Brix) {
            if let Some(brix) = self.gravity(&mut cursor, "for `brix`") {
                self.set(&mut facts.brix, brix, "brix", span);
            }
            self.expect_end(cursor);
            return;
        }
        let measure = match labelled {
            Some(figure) => cursor.measure(&[figure.dimension()]),
            None => cursor.measure(&DIMENSIONS),
        };
        let measure = measure.or_else(|| cursor.measure(ANY));
        let Some(measure) = measure else {
            self.no_attribute(cursor, &label, labelled, span);
            return;
        };
        if !cursor.is_empty() {
            let behind = words_of(cursor.rest());
            label = if label.is_empty() {
                behind
            } else {
                format!("{label} {behind}").into()
            };
        }
        let figure = if label.is_empty() {
            Figure::of_unit(measure.unit)
        } else {
            Figure::named(&label)
        };
        match figure {
            Some(figure) if measure.unit.dimension() == figure.dimension() => {
                self.figure(figure, &measure, facts, kind, span);
            }
            Some(Figure::Colour) | None if measure.unit == Unit::Litre && !label.contains(' ') => {
                self.litres_for_colour(&measure);
            }
            Some(figure) => {
                let expected = figure.dimension().expected();
                self.push(
                    Diagnostic::error(
                        Code::WrongUnit,
                        measure.span,
                        format!(
                            "expected {expected} for `{label}`, found `{} {}`",
                            measure.number,
                            measure.unit.symbol()
                        ),
                    )
                    .with_help(format!("write {expected}")),
                );
            }
            None => self.unknown_label(&label, &measure, span),
        }
    }

    /// An attribute without a number: the form of a hop, or that nothing is brought.
    fn word(&mut self, tokens: &[Token<'_>], span: Span, facts: &mut Facts) {
        let text = words_of(tokens);
        if let Some(form) = form(&text) {
            if facts.form.is_some_and(|stated| stated != form) {
                self.conflict("form", span);
            }
            facts.form.get_or_insert(form);
            return;
        }
        if text.eq_ignore_ascii_case(BRINGS_NOTHING) {
            facts.brings_nothing = true;
            return;
        }
        if let Some(figure) = Figure::named(&text) {
            let mut cursor = Cursor::new(&[], span);
            let _ = self.measure(
                &mut cursor,
                &[figure.dimension()],
                format_args!("after `{text}`"),
            );
            return;
        }
        self.unknown_word(&text, span);
    }

    fn unknown_word(&mut self, text: &str, span: Span) {
        let names = LABELS
            .iter()
            .map(|(name, _)| *name)
            .chain(FORMS.iter().map(|(name, _)| *name))
            .chain([BRINGS_NOTHING]);
        let help = match self.near(text, names).first() {
            Some(near) => format!("did you mean `{near}`?"),
            None => {
                "write a figure such as `5 EBC`, `80 % extract`, `9 % alpha`, `12 Bx` or `pH 3.3`; \
                     put `#` before other words"
                    .to_owned()
            }
        };
        self.push(
            Diagnostic::error(
                Code::UnknownAttribute,
                span,
                format!("expected a figure of the ingredient, found `{text}`"),
            )
            .with_help(help),
        );
    }

    fn no_attribute(
        &mut self,
        mut cursor: Cursor<'_, '_>,
        label: &str,
        labelled: Option<Figure>,
        span: Span,
    ) {
        let behind = words_of(cursor.rest().get(1..).unwrap_or(&[]));
        let figure = labelled.or_else(|| Figure::named(&behind));
        let faulty_number = cursor
            .number()
            .is_some_and(|number| number.value().is_none());
        match figure {
            Some(figure) => {
                let name = if label.is_empty() { &*behind } else { label };
                let place = format_args!("for `{name}`");
                let _ = self.measure(&mut cursor, &[figure.dimension()], place);
            }
            None if label.is_empty() && !faulty_number && cursor.rest().len() == 2 => {
                let shown = cursor.number().map_or("", Number::text).to_owned();
                let message =
                    format!("expected a figure of the ingredient, found `{shown} {behind}`");
                match near_unit(&behind, &DIMENSIONS) {
                    Some(near) => self.unknown_unit(span, message, &shown, &near),
                    None => self.push(
                        Diagnostic::error(Code::UnknownUnit, span, message)
                            .with_help("write a figure such as `5 EBC`, `80 % extract`, `9 % alpha` or `12 Bx`"),
                    ),
                }
            }
            None if faulty_number || (label.is_empty() && cursor.rest().len() == 1) => {
                let _ = self.measure(
                    &mut cursor,
                    &[Dimension::Percent, Dimension::Colour],
                    "in this attribute",
                );
            }
            None => {
                let text = format!("{label} {behind}");
                self.unknown_word(text.trim(), span);
            }
        }
    }

    fn unknown_label(&mut self, label: &str, measure: &Measure, span: Span) {
        if !label.is_empty() {
            self.unknown_word(label, span);
            return;
        }
        let shown = format!("{} {}", measure.number, measure.unit.symbol());
        let a_word = format!("expected a word on what `{shown}` is of");
        let (message, help) = match measure.unit.dimension() {
            Dimension::Percent => (
                a_word,
                "write behind it `extract`, `moisture`, `fermentable`, `protein`, `alpha`, `alcohol` or `attenuation`",
            ),
            Dimension::Concentration => (a_word, "write behind it `acidity`, `SO2` or `sorbate`"),
            Dimension::Mass | Dimension::Volume => (
                format!("expected a figure of the ingredient, found `{shown}`"),
                "an amount stands once, at the start of the line and before the name",
            ),
            // No figure of an ingredient is measured so.
            _ => return self.unknown_word(&shown, span),
        };
        self.push(Diagnostic::error(Code::UnknownAttribute, span, message).with_help(help));
    }

    fn litres_for_colour(&mut self, measure: &Measure) {
        self.push(
            Diagnostic::error(
                Code::LitresForColour,
                measure.span,
                format!(
                    "expected a colour in this attribute, found {} litres",
                    measure.number
                ),
            )
            .with_help(format!(
                "write `{0} lovibond` or `{0} EBC`; `L` is always litres",
                measure.number
            )),
        );
    }

    fn figure(
        &mut self,
        figure: Figure,
        measure: &Measure,
        facts: &mut Facts,
        kind: Option<Kind>,
        span: Span,
    ) {
        match figure {
            Figure::Colour => self.fact(&mut facts.colour, measure, "colour", span),
            Figure::Moisture => self.fact(&mut facts.moisture, measure, "moisture", span),
            Figure::Fermentability => {
                self.fact(&mut facts.fermentability, measure, "fermentable", span);
            }
            Figure::DiastaticPower => {
                self.fact(&mut facts.diastatic_power, measure, "diastatic power", span);
            }
            Figure::Protein => self.fact(&mut facts.protein, measure, "protein", span),
            Figure::Alpha if measure.number <= 0.0 => {
                let message = format!("expected alpha acids above 0 %, found {} %", measure.number);
                self.out_of_range(message, measure.span);
            }
            Figure::Alpha => self.fact(&mut facts.alpha, measure, "alpha", span),
            Figure::Alcohol => self.fact(&mut facts.alcohol, measure, "alcohol", span),
            Figure::Brix => self.fact(&mut facts.brix, measure, "brix", span),
            Figure::Ph => self.fact(&mut facts.ph, measure, "pH", span),
            Figure::Acidity => self.fact(&mut facts.acidity, measure, "acidity", span),
            Figure::Sulphite => self.fact(&mut facts.sulphite, measure, "sulphite", span),
            Figure::Sorbate => self.fact(&mut facts.sorbate, measure, "sorbate", span),
            Figure::Attenuation => self.fact(&mut facts.attenuation, measure, "attenuation", span),
            Figure::PitchRate => self.fact(&mut facts.pitch_rate, measure, "pitch rate", span),
            Figure::Extract(basis) => {
                let Some(value) = self.written(measure) else {
                    return;
                };
                let malt = kind == Some(Kind::Malt);
                if basis.is_none() && malt && measure.number > HIGHEST_AS_IS_PERCENT {
                    self.push(
                        Diagnostic::warning(
                            Code::ExtractBasis,
                            measure.span,
                            format!("extract assumed as is: {} %, which is high for a malt", measure.number),
                        )
                        .with_help(format!(
                            "write `{0} % extract dry` if it is of dry matter, or `{0} % extract as is`",
                            measure.number
                        )),
                    );
                }
                let basis = basis.unwrap_or(ExtractBasis::AsIs);
                let differs = |stated: &StatedExtract| {
                    stated.basis == basis && !is_same(&stated.value, &value)
                };
                if facts.extract.as_ref().is_some_and(differs) {
                    self.conflict("extract", span);
                }
                facts.extract.get_or_insert(StatedExtract { value, basis });
            }
        }
    }

    fn fact<Q: Quantity>(
        &mut self,
        slot: &mut Option<Written<Q>>,
        measure: &Measure,
        label: &str,
        span: Span,
    ) {
        if let Some(written) = self.written(measure) {
            self.set(slot, written, label, span);
        }
    }

    /// Fills a slot; complains if it holds another figure already.
    pub(super) fn set<Q: Quantity>(
        &mut self,
        slot: &mut Option<Written<Q>>,
        written: Written<Q>,
        label: &str,
        span: Span,
    ) {
        if slot
            .as_ref()
            .is_some_and(|stated| !is_same(stated, &written))
        {
            self.conflict(label, span);
        }
        slot.get_or_insert(written);
    }

    fn conflict(&mut self, label: &str, span: Span) {
        self.push(
            Diagnostic::error(
                Code::ConflictingFacts,
                span,
                format!("expected one figure for `{label}`, found another one that differs"),
            )
            .with_help("delete the one that is wrong"),
        );
    }
}

/// Figures in two units agree within this: 15.6 °P and 1.064 are one gravity to the last printed digit.
const SAME: f64 = 0.01;

/// Whether two figures say the same. In one unit only the same number does.
fn is_same<Q: Quantity>(one: &Written<Q>, other: &Written<Q>) -> bool {
    let tolerance = if one.unit() == other.unit() {
        f64::EPSILON
    } else {
        SAME
    };
    one.agrees(other, tolerance)
}
