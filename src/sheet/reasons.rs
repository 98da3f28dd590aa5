//! Why the sheet says what it says: changes, warnings, what weighing out moved.

use super::page::Page;
use crate::process::Warning;
use crate::scale::Plan;
use crate::speech::{Noted, Speaks, Style};

/// What differs from the source.
pub(super) fn changes(page: &mut Page, plan: &Plan, style: Style) {
    page.heading("CHANGES FROM THE ORIGINAL SHEET");
    // Two lines of one hop change alike.
    let mut told: Vec<String> = Vec::new();
    for change in &plan.changes {
        let text = change.text(style);
        if !told.contains(&text) {
            page.point(&text);
            told.push(text);
        }
    }
    if plan.changes.is_empty() {
        page.paragraph("No changes.");
    }
}

/// What deserves a look.
pub(super) fn warnings<'a>(
    page: &mut Page,
    warnings: impl Iterator<Item = &'a Noted<Warning>>,
    style: Style,
) {
    let mut warnings = warnings.peekable();
    if warnings.peek().is_none() {
        return;
    }
    page.heading("WARNINGS");
    for warning in warnings {
        page.point(&warning.text(style));
    }
}

/// What weighing out moved.
pub(super) fn drift(page: &mut Page, plan: &Plan, style: Style) {
    if plan.drift.is_empty() {
        return;
    }
    page.heading("EFFECT OF ROUNDING WEIGHTS");
    for drift in &plan.drift {
        page.point(&drift.text(style));
    }
}
