//! Printed figures against one another: what no single line can show.

use super::Lower;
use crate::catalogue::Kind;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::recipe::{Addition, Content};

impl Lower<'_> {
    /// Warns of figures that exclude one another.
    pub(super) fn check_sense(&mut self) {
        self.check_bittering();
        self.check_waits();
        self.check_alcohol();
    }

    fn printed(&self) -> Option<Span> {
        self.target_line.or(self.opened)
    }

    fn check_bittering(&mut self) {
        let targets = &self.recipe.targets;
        let Some(wanted) = targets.bitterness.or(targets.wort_bitterness) else {
            return;
        };
        let steeped = self.recipe.stands().flat_map(|stand| &stand.additions);
        let has_hop = self
            .recipe
            .boil
            .additions
            .iter()
            .chain(steeped)
            .any(|addition| holds(addition, |kind| kind == Kind::Hop));
        if has_hop || wanted.value().ibu() <= 0.0 {
            return;
        }
        if let Some(span) = self.printed() {
            self.push(
                Diagnostic::warning(
                    Code::NoBitteringHop,
                    span,
                    format!(
                        "expected a hop in the boil or in a hop stand for {wanted}, found none"
                    ),
                )
                .with_help("add a hop below `boil`, such as `20 IBU northern brewer at 60 min`"),
            );
        }
    }

    fn check_waits(&mut self) {
        let targets = &self.recipe.targets;
        let (original, last) = (targets.original, targets.final_extract);
        for (wait, span) in std::mem::take(&mut self.waits) {
            let at = wait.value().plato();
            let (bound, where_) = match (original, last) {
                (Some(original), _) if at >= original.value().plato() => {
                    (original, "below the original gravity")
                }
                (_, Some(last)) if at <= last.value().plato() => (last, "above the final gravity"),
                _ => continue,
            };
            self.push(
                Diagnostic::warning(
                    Code::GravityNotPassed,
                    span,
                    format!("expected a gravity {where_} of {bound}, found {wait}"),
                )
                .with_help("write a gravity between original and final, or `on day` and a number"),
            );
        }
    }

    /// Alcohol against the gravities.
    fn check_alcohol(&mut self) {
        let targets = &self.recipe.targets;
        let (Some(original), Some(last), Some(alcohol)) =
            (targets.original, targets.final_extract, targets.alcohol)
        else {
            return;
        };
        let Some(given) = self.recipe.contradicted_alcohol() else {
            return;
        };
        let given = given.percent();
        if let Some(span) = self.printed() {
            self.push(
                Diagnostic::warning(
                    Code::FiguresDisagree,
                    span,
                    format!("expected about {given:.1} % alcohol from {original} and {last}, found {alcohol}"),
                )
                .with_help("one of the three figures is wrong; the gravities are used: check the sheet"),
            );
        }
    }
}

/// Whether an addition, or a part of its blend, is of a kind.
fn holds(addition: &Addition, is: impl Fn(Kind) -> bool + Copy) -> bool {
    match &addition.content {
        Content::Single(ingredient) => is(ingredient.kind),
        Content::Blend(parts) => parts.iter().any(|part| holds(part, is)),
    }
}
