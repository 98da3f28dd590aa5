//! Figures of an ingredient as a line states them, each at most once.

use super::Lower;
use crate::catalogue::{ColourBasis, Kind};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::Measure;
use crate::notation::grammar::Row;
use crate::quantity::{Quantity, Written};
use crate::recipe::{ExtractBasis, Facts, StatedExtract};

/// A figure as it stands on a line.
pub(super) struct Attribute {
    pub(super) measure: Measure,
    pub(super) span: Span,
    pub(super) kind: Option<Kind>,
    pub(super) row: &'static Row,
}

/// Above this a malt's extract is more likely of dry matter than as is: the best malts reach 83 % dry at 4 % moisture
/// (common practice, no source).
const HIGHEST_AS_IS_PERCENT: f64 = 79.0;

impl Lower<'_> {
    pub(super) fn alpha(&mut self, said: &Attribute, facts: &mut Facts) {
        let number = said.measure.number;
        if number <= 0.0 {
            let message = format!("expected alpha acids above 0 %, found {number} %");
            self.out_of_range(message, said.measure.span);
        } else {
            self.fact(&mut facts.alpha, said);
        }
    }

    pub(super) fn extract(
        &mut self,
        basis: Option<ExtractBasis>,
        said: &Attribute,
        facts: &mut Facts,
    ) {
        let Some(value) = self.written(&said.measure) else {
            return;
        };
        let number = said.measure.number;
        if basis.is_none() && said.kind == Some(Kind::Malt) && number > HIGHEST_AS_IS_PERCENT {
            let message = format!("extract assumed as is: {number} %, which is high for a malt");
            self.push(
                Diagnostic::warning(Code::ExtractBasis, said.measure.span, message).with_help(
                    format!("write `{number} % extract dry` if it is on dry matter, or `{number} % extract as is`"),
                ),
            );
        }
        let basis = basis.unwrap_or(ExtractBasis::AsIs);
        let differs =
            |stated: &StatedExtract| stated.basis == basis && !is_same(&stated.value, &value);
        if facts.extract.as_ref().is_some_and(differs) {
            self.conflict("extract", said.span);
        }
        facts.extract.get_or_insert(StatedExtract { value, basis });
    }

    /// A colour and what it refers to.
    pub(super) fn colour(&mut self, basis: ColourBasis, said: &Attribute, facts: &mut Facts) {
        if facts.colour_basis.is_some_and(|stated| stated != basis) {
            self.conflict("colour", said.span);
        }
        self.fact(&mut facts.colour, said);
        facts.colour_basis.get_or_insert(basis);
    }

    pub(super) fn fact<Q: Quantity>(&mut self, slot: &mut Option<Written<Q>>, said: &Attribute) {
        if let Some(written) = self.written(&said.measure) {
            self.set(slot, written, said.row.word(), said.span);
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

    pub(super) fn conflict(&mut self, label: &str, span: Span) {
        self.push(
            Diagnostic::error(
                Code::ConflictingFacts,
                span,
                format!("expected one figure for `{label}`, found another one that differs"),
            )
            .with_help("delete one of them"),
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
