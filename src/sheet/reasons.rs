//! Why the sheet says what it says: changes, assumptions, warnings, what weighing out moved, cautions.

use super::page::Page;
use crate::caution::{Caution, Urgency};
use crate::process::{Assumption, Side, Warning};
use crate::scale::Plan;
use crate::wording::Style;

/// What differs from the source.
pub(super) fn changes(page: &mut Page, plan: &Plan, style: Style) {
    page.heading("WHY IT DIFFERS FROM THE PRINTED SHEET");
    for change in &plan.changes {
        page.point(&change.text(style));
    }
    if plan.changes.is_empty() {
        page.paragraph("It does not.");
    }
}

/// What was taken for granted: figures of the catalogue and of plants in one paragraph each, the rest one by one.
pub(super) fn assumed(page: &mut Page, assumptions: &[Assumption], style: Style) {
    if assumptions.is_empty() {
        return;
    }
    page.heading("ASSUMED");
    let mut from_catalogue = Vec::new();
    let mut defaults = [("source plant", Side::Source, Vec::new()), ("your plant", Side::Target, Vec::new())];
    for assumption in assumptions {
        match assumption {
            Assumption::CatalogueFigures { name, figures } => {
                let words: Vec<_> = figures.iter().map(|figure| figure.word()).collect();
                from_catalogue.push(format!("{name} ({})", words.join(", ")));
            }
            Assumption::PlantDefault { side, what, value } => {
                for (_, of, list) in &mut defaults {
                    if of == side {
                        list.push(what.say(*value));
                    }
                }
            }
            other => page.point(&other.text(style)),
        }
    }
    for (plant, _, list) in defaults {
        if !list.is_empty() {
            page.point(&format!(
                "{plant}, not stated, common practice taken: {}",
                list.join(", ")
            ));
        }
    }
    if !from_catalogue.is_empty() {
        page.point(&format!(
            "typical figures of the catalogue, where sheet and stock are silent: {}",
            from_catalogue.join("; ")
        ));
    }
}

/// What deserves a look.
pub(super) fn warnings(page: &mut Page, warnings: &[Warning], style: Style) {
    if warnings.is_empty() {
        return;
    }
    page.heading("LOOK AT THIS");
    for warning in warnings {
        page.point(&warning.text(style));
    }
}

/// What weighing out moved.
pub(super) fn drift(page: &mut Page, plan: &Plan, style: Style) {
    if plan.drift.is_empty() {
        return;
    }
    page.heading("MOVED BY WEIGHING OUT");
    for drift in &plan.drift {
        page.point(&drift.text(style));
    }
}

/// The cautions, but for those that stand at the head.
pub(super) fn cautions(page: &mut Page, cautions: &[Caution]) {
    page.heading("TAKE CARE");
    for caution in cautions.iter().filter(|c| c.urgency != Urgency::Stop) {
        page.point(&caution.text);
    }
}
