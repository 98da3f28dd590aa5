//! Why the sheet says what it says: changes, assumptions, warnings, what weighing out moved.

use super::page::Page;
use crate::process::{Assumption, Figure, Side, Unused, Warning};
use crate::scale::Plan;
use crate::speech::{Noted, Speaks, Style};

/// What differs from the source.
pub(super) fn changes(page: &mut Page, plan: &Plan, style: Style) {
    page.heading("CHANGES FROM THE ORIGINAL SHEET");
    for change in &plan.changes {
        page.point(&change.text(style));
    }
    if plan.changes.is_empty() {
        page.paragraph("No changes.");
    }
}

/// What was taken for granted: figures of the catalogue and of plants in one paragraph each, the rest one by one.
pub(super) fn assumed(page: &mut Page, assumptions: &[Noted<Assumption>], style: Style) {
    if assumptions.is_empty() {
        return;
    }
    page.heading("ASSUMPTIONS");
    let (mut from_catalogue, mut from_own) = (FiguresOf::new(), FiguresOf::new());
    let mut defaults = [
        ("the original brewhouse", Side::Source, Vec::new()),
        ("your brewhouse", Side::Target, Vec::new()),
    ];
    let has_no_ph = |assumption: &Noted<Assumption>| {
        matches!(&assumption.what, Assumption::MashPhNotPredicted { .. })
    };
    let has_no_ph = assumptions.iter().any(has_no_ph);
    for assumption in assumptions {
        match &assumption.what {
            // The line on the water report says so too.
            Assumption::ChangesNoFigure {
                what: Unused::MashPh,
                ..
            } if has_no_ph => {}
            Assumption::CatalogueFigures { name, figures } => {
                collect(&mut from_catalogue, name, figures);
            }
            Assumption::OwnFigures { name, figures } => collect(&mut from_own, name, figures),
            Assumption::PlantDefault { side, what, value } => {
                for (_, of, list) in &mut defaults {
                    if of == side {
                        list.push(what.say(*value, style));
                    }
                }
            }
            other => page.point(&other.text(style)),
        }
    }
    for (plant, _, list) in defaults {
        if !list.is_empty() {
            page.point(&format!(
                "Assumed, typical values where {plant} gives none: {}",
                list.join(", ")
            ));
        }
    }
    for (whose, figures) in [
        (
            "from your own ingredient entries, or the entries they are based on",
            from_own,
        ),
        ("typical values from the ingredient table", from_catalogue),
    ] {
        if !figures.is_empty() {
            page.point(&format!(
                "Assumed, {whose}, where sheet and stock give none: {}",
                by_figures(figures)
            ));
        }
    }
}

/// Ingredients, and the figures that an entry gave for each.
type FiguresOf<'a> = Vec<(&'a str, Vec<Figure>)>;

/// One ingredient may be named twice: as the sheet has it and as the lot in stock.
fn collect<'a>(known: &mut FiguresOf<'a>, name: &'a str, figures: &[Figure]) {
    let at = known.iter().position(|(of, _)| *of == name);
    let at = at.unwrap_or_else(|| {
        known.push((name, Vec::new()));
        known.len() - 1
    });
    let Some((_, known)) = known.get_mut(at) else {
        return;
    };
    for figure in figures {
        if let Err(place) = known.binary_search(figure) {
            known.insert(place, *figure);
        }
    }
}

/// Those with the same figures together.
fn by_figures(ingredients: FiguresOf<'_>) -> String {
    let mut groups: Vec<(Vec<Figure>, Vec<&str>)> = Vec::new();
    for (name, figures) in ingredients {
        match groups.iter_mut().find(|(known, _)| *known == figures) {
            Some((_, names)) => names.push(name),
            None => groups.push((figures, vec![name])),
        }
    }
    let said: Vec<_> = groups
        .iter()
        .map(|(figures, names)| {
            let words: Vec<_> = figures.iter().map(|figure| figure.word()).collect();
            format!("{} of {}", words.join(", "), names.join(", "))
        })
        .collect();
    said.join("; ")
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
