//! The head of a recipe: name, source, plant, batch, printed figures, water.

use super::{Lower, lower_case};
use crate::diagnostic::{Code, Diagnostic, Place, Span};
use crate::notation::cursor::{ANY, Cursor};
use crate::notation::tree::{Line, Token, span_of, words_of};
use crate::quantity::{Ph, Written};
use crate::recipe::{Batch, BatchPoint, IonTargets, ShareBasis, Targets};
use std::borrow::Cow;

/// Labels of printed figures.
const TARGETS: [&str; 11] = [
    "original",
    "final",
    "alcohol",
    "bitterness",
    "colour",
    "carbonation",
    "wort final",
    "wort alcohol",
    "wort bitterness",
    "wort colour",
    "original gravity",
];

/// Labels of ions.
const IONS: [&str; 9] = [
    "calcium",
    "magnesium",
    "sodium",
    "potassium",
    "sulphate",
    "chloride",
    "bicarbonate",
    "alkalinity",
    "sulfate",
];

impl Lower<'_> {
    pub(super) fn recipe_line(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        let span = line.span();
        if let Some(first) = self.named {
            self.push(once_named(Code::SecondRecipe, span, first, "recipe"));
            self.skipping = true;
            return;
        }
        self.named = Some(span);
        self.open(span);
        self.states(span, |_| Place::recipe("name"));
        if cursor.is_empty() {
            self.push(
                Diagnostic::error(
                    Code::MissingName,
                    span,
                    "expected the name of the beer after `recipe`",
                )
                .with_help("write `recipe` and a name on one line"),
            );
        }
        self.recipe.name = cursor.text();
        self.expect_no_lines(line);
    }

    pub(super) fn source_line(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.open(line.span());
        self.states(line.span(), |_| Place::recipe("source"));
        if self.once("source", line.span()) && !cursor.is_empty() {
            self.recipe.source = Some(cursor.text());
        }
        self.expect_no_lines(line);
    }

    pub(super) fn brewed_on(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.open(line.span());
        if !self.once("brewed on", line.span()) {
            return;
        }
        self.states(line.span(), |_| Place::recipe("brewed_on"));
        if cursor.is_empty() {
            self.push(
                Diagnostic::error(
                    Code::MissingName,
                    line.span(),
                    "expected the name of a plant after `brewed on`",
                )
                .with_help("write the name that stands behind `brewhouse`"),
            );
            return;
        }
        self.plant_named = Some(cursor.span());
        self.recipe.brewed_on = Some(cursor.text());
        self.expect_no_lines(line);
    }

    pub(super) fn recipe_batch(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.open(line.span());
        self.states(line.span(), |_| Place::recipe("batch"));
        if self.once("batch", line.span()) {
            self.recipe.batch = self.batch(cursor);
        }
        self.expect_no_lines(line);
    }

    /// `20 hL into fermenter`
    pub(super) fn batch(&mut self, mut cursor: Cursor<'_, '_>) -> Option<Batch> {
        let volume = self.read(&mut cursor, "after `batch`")?;
        let at = if cursor.is_empty()
            || cursor.eat(&["into", "fermenter"])
            || cursor.eat(&["into", "the", "fermenter"])
        {
            BatchPoint::IntoFermenter
        } else if cursor.eat(&["at", "end", "of", "boil"]) {
            BatchPoint::EndOfBoil
        } else if cursor.eat(&["packaged"]) {
            BatchPoint::Packaged
        } else {
            self.push(
                Diagnostic::error(
                    Code::UnexpectedWords,
                    cursor.span(),
                    format!(
                        "expected where the batch is counted, found `{}`",
                        cursor.text()
                    ),
                )
                .with_help("write `into fermenter`, `at end of boil` or `packaged`"),
            );
            return None;
        };
        self.expect_end(cursor);
        Some(Batch { volume, at })
    }

    pub(super) fn shares_line(&mut self, line: &Line<'_>, mut cursor: Cursor<'_, '_>) {
        self.open(line.span());
        if !self.once("shares", line.span()) {
            return;
        }
        self.states(line.span(), |_| Place::recipe("share_basis"));
        self.expect_no_lines(line);
        if cursor.eat(&["by", "weight"]) || cursor.eat(&["by", "mass"]) {
            self.recipe.share_basis = ShareBasis::Weight;
        } else if cursor.eat(&["by", "extract"]) {
            self.recipe.share_basis = ShareBasis::Extract;
        } else {
            self.push(
                Diagnostic::error(
                    Code::UnexpectedWords,
                    cursor.span(),
                    "expected `by weight` or `by extract` after `shares`",
                )
                .with_help("write `shares by weight`, which holds without this line too"),
            );
            return;
        }
        self.expect_end(cursor);
    }

    pub(super) fn target_line(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.open(line.span());
        self.target_line = Some(line.span());
        self.states(line.span(), |_| Place::recipe("targets"));
        let mut targets = std::mem::take(&mut self.recipe.targets);
        for tokens in std::iter::once(cursor.rest()).chain(line.lines().map(Line::tokens)) {
            for clause in tokens.split(Token::is_comma) {
                if !clause.is_empty() {
                    self.target(clause, &mut targets);
                }
            }
        }
        if cursor.is_empty() {
            self.expect_lines(line, "target", "original 12 P");
        }
        self.recipe.targets = targets;
    }

    fn target(&mut self, clause: &[Token<'_>], targets: &mut Targets) {
        let span = span_of(clause).unwrap_or_default();
        let (label, mut cursor) = labelled(clause, span);
        let place = format_args!("after `{label}`");
        let c = &mut cursor;
        if let Some(field) = target_field(&lower_case(&label)) {
            self.states(span, |_| Place::recipe(field));
        }
        match &*lower_case(&label) {
            "original" | "original gravity" | "original extract" | "og" => {
                let read = self.gravity(c, place);
                self.fill(&mut targets.original, read, &label, span);
            }
            "final" | "final gravity" | "final extract" | "fg" => {
                let read = self.gravity(c, place);
                self.fill(&mut targets.final_extract, read, &label, span);
            }
            "wort final" => {
                let read = self.gravity(c, place);
                self.fill(&mut targets.wort_final, read, &label, span);
            }
            "alcohol" | "abv" | "alcohol by volume" => {
                let read = self.read(c, place);
                let _ = c.eat(&["abv"]) || c.eat(&["vol"]) || c.eat(&["by", "volume"]);
                self.fill(&mut targets.alcohol, read, &label, span);
            }
            "wort alcohol" => {
                let read = self.read(c, place);
                self.fill(&mut targets.wort_alcohol, read, &label, span);
            }
            "bitterness" => {
                let read = self.read(c, place);
                self.fill(&mut targets.bitterness, read, &label, span);
            }
            "wort bitterness" => {
                let read = self.read(c, place);
                self.fill(&mut targets.wort_bitterness, read, &label, span);
            }
            "colour" | "color" => {
                let read = self.read(c, place);
                self.fill(&mut targets.colour, read, &label, span);
            }
            "wort colour" | "wort color" => {
                let read = self.read(c, place);
                self.fill(&mut targets.wort_colour, read, &label, span);
            }
            "carbonation" => {
                let read = self.read(c, place);
                self.fill(&mut targets.carbonation, read, &label, span);
            }
            _ => {
                self.unknown_figure(&label, span, "a printed figure", &TARGETS);
                return;
            }
        }
        self.expect_end(cursor);
    }

    /// Fills a slot with what was read, if anything was.
    pub(super) fn fill<Q: crate::quantity::Quantity>(
        &mut self,
        slot: &mut Option<Written<Q>>,
        read: Option<Written<Q>>,
        label: &str,
        span: Span,
    ) {
        if let Some(written) = read {
            self.set(slot, written, label, span);
        }
    }

    pub(super) fn unknown_figure(
        &mut self,
        label: &str,
        span: Span,
        what: &str,
        names: &[&'static str],
    ) {
        let near = self.near(label, names.iter().copied());
        let help = match near.first() {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("write one of: {}", names.join(", ")),
        };
        let message = if label.is_empty() {
            format!("expected the name of {what} beside the number")
        } else {
            format!("expected the name of {what}, found `{label}`")
        };
        self.push(Diagnostic::error(Code::UnknownAttribute, span, message).with_help(help));
    }

    pub(super) fn water_block(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.open(line.span());
        if !self.once("water", line.span()) {
            return;
        }
        self.states(line.span(), |_| Place::recipe("water"));
        let mut ions = std::mem::take(&mut self.recipe.water);
        for tokens in std::iter::once(cursor.rest()).chain(line.lines().map(Line::tokens)) {
            self.ions(tokens, &mut ions, None);
        }
        if cursor.is_empty() {
            self.expect_lines(line, "water", "calcium 60 mg/L");
        }
        self.recipe.water = ions;
    }

    /// `calcium 60 mg/L, alkalinity 15 mg/L`; a water report may state a pH too.
    pub(super) fn ions(
        &mut self,
        tokens: &[Token<'_>],
        ions: &mut IonTargets,
        mut ph: Option<&mut Option<Written<Ph>>>,
    ) {
        for clause in tokens.split(Token::is_comma) {
            if clause.is_empty() {
                continue;
            }
            let span = span_of(clause).unwrap_or_default();
            let (label, mut cursor) = labelled(clause, span);
            if let Some([of_recipe, of_plant]) = ion_fields(&lower_case(&label)) {
                let is_of_plant = ph.is_some();
                self.states(span, |trace| {
                    if is_of_plant {
                        trace.of_plant(of_plant)
                    } else {
                        Place::recipe(of_recipe)
                    }
                });
            }
            let slot = match &*lower_case(&label) {
                "calcium" | "ca" => &mut ions.calcium,
                "magnesium" | "mg" => &mut ions.magnesium,
                "sodium" | "na" => &mut ions.sodium,
                "potassium" | "k" => &mut ions.potassium,
                "sulphate" | "sulfate" | "so4" => &mut ions.sulphate,
                "chloride" | "cl" => &mut ions.chloride,
                "bicarbonate" | "hco3" => &mut ions.bicarbonate,
                "alkalinity" => &mut ions.alkalinity,
                "ph" if ph.is_some() => {
                    let read = self.ph(&mut cursor);
                    if let (Some(slot), Some(read)) = (ph.as_deref_mut(), read) {
                        self.set(slot, read, "pH", span);
                    }
                    self.expect_end(cursor);
                    continue;
                }
                _ => {
                    self.unknown_figure(&label, span, "an ion", &IONS);
                    continue;
                }
            };
            let read = self.read(&mut cursor, format_args!("after `{label}`"));
            self.fill(slot, read, &label, span);
            let _ = cursor.eat(&["as", "CaCO3"]);
            self.expect_end(cursor);
        }
    }
}

/// The field of a recipe that a label of `target` states.
fn target_field(label: &str) -> Option<&'static str> {
    Some(match label {
        "original" | "original gravity" | "original extract" | "og" => "targets.original_plato",
        "final" | "final gravity" | "final extract" | "fg" => "targets.final_plato",
        "alcohol" | "abv" | "alcohol by volume" => "targets.alcohol_abv_pct",
        "bitterness" => "targets.bitterness_ibu",
        "colour" | "color" => "targets.colour_ebc",
        "carbonation" => "targets.carbonation_g_l",
        "wort final" => "targets.wort_final_plato",
        "wort alcohol" => "targets.wort_alcohol_abv_pct",
        "wort bitterness" => "targets.wort_bitterness_ibu",
        "wort colour" | "wort color" => "targets.wort_colour_ebc",
        _ => return None,
    })
}

/// The fields of a recipe and of a plant that a label of `water` states.
fn ion_fields(label: &str) -> Option<[&'static str; 2]> {
    macro_rules! fields {
        ($ion:literal) => {
            [
                concat!("water.", $ion, "_g_l"),
                concat!("water.ions.", $ion, "_g_l"),
            ]
        };
    }
    Some(match label {
        "calcium" | "ca" => fields!("calcium"),
        "magnesium" | "mg" => fields!("magnesium"),
        "sodium" | "na" => fields!("sodium"),
        "potassium" | "k" => fields!("potassium"),
        "sulphate" | "sulfate" | "so4" => fields!("sulphate"),
        "chloride" | "cl" => fields!("chloride"),
        "bicarbonate" | "hco3" => fields!("bicarbonate"),
        "alkalinity" => fields!("alkalinity_as_caco3"),
        "ph" => ["water", "water.ph"],
        _ => return None,
    })
}

/// The finding that there are two of what there may be one of in all texts.
pub(super) fn once_named(code: Code, span: Span, first: Span, what: &str) -> Diagnostic {
    Diagnostic::error(
        code,
        span,
        format!("expected one {what} in all texts, found a second one"),
    )
    .with_label(first, format!("the first {what} begins here"))
    .with_help("read the two in separate calls")
}

/// The label of a clause and its value, whichever stands first.
pub(super) fn labelled<'t, 'a>(
    clause: &'t [Token<'a>],
    span: Span,
) -> (Cow<'t, str>, Cursor<'t, 'a>) {
    let number = clause.iter().position(Token::is_number);
    match number {
        Some(0) => {
            let mut ahead = Cursor::new(clause, span);
            if ahead.measure(ANY).is_none() {
                ahead.skip(1);
            }
            let (value, label) = clause.split_at(clause.len() - ahead.rest().len());
            (words_of(label), Cursor::new(value, span))
        }
        Some(at) => {
            let (label, value) = clause.split_at(at);
            (words_of(label), Cursor::new(value, span))
        }
        None => (words_of(clause), Cursor::new(&[], span)),
    }
}
