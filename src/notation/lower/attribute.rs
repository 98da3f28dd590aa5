//! Attributes of an ingredient, value or label first.

use super::Lower;
use super::figure::{
    ATTRIBUTES, AttributeReader, BRINGS_NOTHING, DIMENSIONS, is_of, labels_of, stated_of, told_by,
};
use super::form::{FRUIT_FORMS, HOP_FORMS};
use super::stated::Attribute;
use crate::catalogue::Kind;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::{ANY, Cursor, Measure};
use crate::notation::grammar::{Block, Row, Rule};
use crate::notation::tree::{Token, span_of, words_of};
use crate::quantity::lexer::near_unit;
use crate::quantity::{Dimension, Number, Unit};
use crate::recipe::Facts;

impl Lower<'_> {
    /// Reads one attribute into `facts`, or complains of it; gives the row that it is read by.
    pub(super) fn attribute(
        &mut self,
        tokens: &[Token<'_>],
        facts: &mut Facts,
        kind: Option<Kind>,
    ) -> Option<&'static Row> {
        let span = span_of(tokens).unwrap_or_default();
        let Some(at) = tokens.iter().position(Token::is_number) else {
            return self.word(tokens, span, facts);
        };
        let (label, value) = tokens.split_at(at);
        let mut label = words_of(label);
        let mut cursor = Cursor::new(value, span);
        let labelled = ATTRIBUTES.named(&label);
        let measure = match labelled.map(|rule| rule.row.dimensions()) {
            Some([Dimension::Ph]) => Some(self.ph_measure(&mut cursor)?),
            Some([Dimension::Gravity]) => Some(self.gravity_measure(&mut cursor, "for `brix`")?),
            Some(dimensions) => cursor.measure(dimensions),
            None => cursor.measure(&DIMENSIONS),
        };
        let Some(measure) = measure.or_else(|| cursor.measure(ANY)) else {
            self.no_attribute(cursor, &label, labelled, span);
            return None;
        };
        // A pH and a gravity may have no unit, by which their end would be known.
        let written_bare = labelled.filter(|rule| {
            let of = rule.row.dimensions();
            of == [Dimension::Ph] || of == [Dimension::Gravity]
        });
        if written_bare.is_none() && !cursor.is_empty() {
            let behind = words_of(cursor.rest());
            label = if label.is_empty() {
                behind
            } else {
                format!("{label} {behind}").into()
            };
        }
        let rule = written_bare.or_else(|| {
            if label.is_empty() {
                told_by(measure.unit.dimension())
            } else {
                ATTRIBUTES.named(&label)
            }
        });
        let is_colour = |rule: &Rule<AttributeReader>| rule.row.dimensions() == [Dimension::Colour];
        match rule {
            Some(Rule { row, read })
                if written_bare.is_some()
                    || row.dimensions().contains(&measure.unit.dimension()) =>
            {
                let said = Attribute {
                    measure,
                    span,
                    kind,
                    row,
                };
                read(self, &said, facts);
                if written_bare.is_some() {
                    self.expect_end(cursor);
                }
                return Some(row);
            }
            rule if rule.is_none_or(is_colour)
                && measure.unit == Unit::Litre
                && !label.contains(' ') =>
            {
                self.litres_for_colour(&measure);
            }
            Some(rule) => self.wrong_figure(&rule.row, &label, &measure),
            None => self.unknown_label(&label, &measure, kind, span),
        }
        None
    }

    fn wrong_figure(&mut self, row: &Row, label: &str, measure: &Measure) {
        let expected = crate::quantity::lexer::expected(row.dimensions());
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

    /// An attribute without a number: the form of a hop, or that nothing is brought.
    fn word(
        &mut self,
        tokens: &[Token<'_>],
        span: Span,
        facts: &mut Facts,
    ) -> Option<&'static Row> {
        let text = words_of(tokens);
        if let Some(Rule { row, read: form }) = HOP_FORMS.named(&text) {
            if facts.form.is_some_and(|stated| stated != *form) {
                self.conflict("form", span);
            }
            facts.form.get_or_insert(*form);
            return Some(row);
        }
        if let Some(Rule { row, read: form }) = FRUIT_FORMS.named(&text) {
            if facts.fruit_form.is_some_and(|stated| stated != *form) {
                self.conflict("form of fruit", span);
            }
            facts.fruit_form.get_or_insert(*form);
            return Some(row);
        }
        if let Some(rule) = BRINGS_NOTHING.named(&text) {
            facts.brings_nothing = true;
            return Some(&rule.row);
        }
        if let Some(rule) = ATTRIBUTES.named(&text) {
            let mut cursor = Cursor::new(&[], span);
            let place = format_args!("after `{text}`");
            let _ = self.measure(&mut cursor, rule.row.dimensions(), place);
            return None;
        }
        self.unknown_word(&text, span);
        None
    }

    /// Complains of a figure that such an ingredient does not have, or not where it stands.
    pub(super) fn expect_of(
        &mut self,
        kind: Kind,
        stage: Block,
        row: &'static Row,
        tokens: &[Token<'_>],
    ) {
        let span = span_of(tokens).unwrap_or_default();
        let said = words_of(tokens);
        let of_kind = is_of(row, kind);
        if of_kind && (kind == Kind::Other || row.is_among(stage)) {
            return;
        }
        let article = if kind == Kind::Acid || kind == Kind::Aid {
            "an"
        } else {
            "a"
        };
        let (message, help) = if of_kind {
            let home = stage.home();
            (
                format!(
                    "expected no `{}` of {article} {kind} in `{home}`, found `{said}`",
                    row.word()
                ),
                format!("delete `{said}`: it has no effect in `{home}`"),
            )
        } else {
            let has = stated_of(kind);
            let help = match (kind, row.dimensions()) {
                (Kind::Sugar, [Dimension::Gravity]) => {
                    "write the solids of a sugar or syrup as `80 % extract`".to_owned()
                }
                (Kind::Juice, [Dimension::Percent]) if row.field == "facts.extract" => {
                    "write the sugar of a juice as `12 Bx`".to_owned()
                }
                _ if has.is_empty() => format!("delete `{said}`: {article} {kind} has no figures"),
                _ => format!(
                    "delete `{said}`: a line can state these figures of {article} {kind}: {has}"
                ),
            };
            (
                format!("expected a figure that {article} {kind} can have, found `{said}`"),
                help,
            )
        };
        self.push(Diagnostic::error(Code::UnknownAttribute, span, message).with_help(help));
    }

    fn unknown_word(&mut self, text: &str, span: Span) {
        let names = ATTRIBUTES
            .words()
            .chain(HOP_FORMS.words())
            .chain(FRUIT_FORMS.words())
            .chain(BRINGS_NOTHING.words());
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
        labelled: Option<&'static Rule<AttributeReader>>,
        span: Span,
    ) {
        let behind = words_of(cursor.rest().get(1..).unwrap_or(&[]));
        let rule = labelled.or_else(|| ATTRIBUTES.named(&behind));
        let faulty_number = cursor
            .number()
            .is_some_and(|number| number.value().is_none());
        match rule {
            Some(rule) => {
                let name = if label.is_empty() { &*behind } else { label };
                let place = format_args!("for `{name}`");
                let _ = self.measure(&mut cursor, rule.row.dimensions(), place);
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

    fn unknown_label(&mut self, label: &str, measure: &Measure, kind: Option<Kind>, span: Span) {
        if !label.is_empty() {
            self.unknown_word(label, span);
            return;
        }
        let shown = format!("{} {}", measure.number, measure.unit.symbol());
        let a_word = format!("expected a word after `{shown}` that says its meaning");
        let (message, help) = match measure.unit.dimension() {
            dimension @ (Dimension::Percent | Dimension::Concentration) => {
                let labels = labels_of(dimension, kind);
                if labels.is_empty() {
                    return self.unknown_word(&shown, span);
                }
                (a_word, format!("add {labels} after it"))
            }
            Dimension::Mass | Dimension::Volume => (
                format!("expected a figure of the ingredient, found `{shown}`"),
                "give the amount once, before the name".to_owned(),
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
}
