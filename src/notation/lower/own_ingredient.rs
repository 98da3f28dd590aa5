//! The `ingredient` block: the brewer's own entry on top of the catalogue.

use super::Lower;
use super::trace::Trace;
use crate::catalogue::{Beverage, Entry, Fermentable, Hop, Juice, Kind, Yeast};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::Cursor;
use crate::notation::grammar::{Block, Row, Rule, Table, Takes};
use crate::notation::own::own;
use crate::notation::tree::{Document, Line, span_of};
use crate::notation::write::stated;
use crate::quantity::{LaboratoryExtract, Moisture, Quantity, Written};
use crate::recipe::{ExtractBasis, Facts};

/// Lines of an own ingredient; those without a word of their own are figures.
pub(super) static INGREDIENT: Table<()> = Table(&[
    Rule {
        row: Row::new(Block::Ingredient, &["like"], "ingredients[#]")
            .takes(&[Takes::Text])
            .example(
                Block::Ingredient,
                "like pale ale malt",
                &["like wheat malt", "like cascade"],
            ),
        read: (),
    },
    Rule {
        row: Row::new(Block::Ingredient, &[], "ingredients[#]")
            .takes(&[Takes::Figures(Block::Attribute)])
            .example(
                Block::Ingredient,
                "12 Bx, pH 3.3",
                &["13 Bx, pH 3.3", "12 Bx, pH 3.5"],
            ),
        read: (),
    },
]);

impl Lower<'_> {
    /// The own ingredients of a text; they are read before anything that may name them.
    pub(super) fn own_ingredients(&mut self, document: &Document<'_>, entries: &mut Vec<Entry>) {
        for line in document.lines() {
            let mut cursor = Cursor::new(line.tokens(), line.span());
            if cursor.eat(&["ingredient"]) {
                entries.extend(self.own_ingredient(line, cursor));
            }
        }
    }

    pub(super) fn own_ingredient(
        &mut self,
        line: &Line<'_>,
        cursor: Cursor<'_, '_>,
    ) -> Option<Entry> {
        let span = line.span();
        let name = cursor.text();
        if name.is_empty() {
            self.push(
                Diagnostic::error(
                    Code::MissingName,
                    span,
                    "expected a name after `ingredient`",
                )
                .with_help("write the name by which recipe and stock call it"),
            );
            return None;
        }
        if let Some(first) = self.owned.get(&name.to_lowercase()).copied() {
            self.twice(&format!("ingredient {name}"), span, first);
            return None;
        }
        self.owned.insert(name.to_lowercase(), span);
        self.expect_lines(line, "ingredient", "like pale ale malt");
        let place = self.trace.as_mut().map(Trace::own_ingredient);
        let mut stating = Vec::new();
        let (mut like, mut like_unknown) = (None, false);
        let mut facts = Facts::default();
        for child in line.lines() {
            self.expect_no_lines(child);
            let mut cursor = Cursor::new(child.tokens(), child.span());
            if let Some((_, word)) = INGREDIENT.opening(child.tokens()) {
                cursor.pass(word);
                stating.push((child.span(), None));
                match self.like(cursor) {
                    Some(found) => like = Some(found),
                    None => like_unknown = true,
                }
                continue;
            }
            let kind = like.as_ref().map(Entry::kind);
            for clause in child.clauses().filter(|clause| !clause.is_empty()) {
                let row = self.attribute(clause, &mut facts, kind);
                let span = span_of(clause).unwrap_or_default();
                stating.extend(row.map(|row| (span, Some(row.field))));
            }
        }
        if like_unknown {
            return None;
        }
        let entry = self.entry(name, like, facts, span)?;
        if let Some(place) = place {
            self.states(span, |_| place.clone());
            for (span, figure) in stating {
                let field = figure.and_then(|figure| field_of(&entry, figure));
                self.states(span, |_| place.clone().field(field.unwrap_or_default()));
            }
        }
        Some(entry)
    }

    fn like(&mut self, cursor: Cursor<'_, '_>) -> Option<Entry> {
        let name = cursor.text();
        if let Some(found) = self.catalogue.find(&name) {
            return Some(found.entry.to_entry());
        }
        let near = if self.sink.is_full() {
            Vec::new()
        } else {
            self.catalogue.near(&name, None)
        };
        let help = match near.first() {
            Some(near) => format!("did you mean `{near}`?"),
            None => "name the most similar ingredient of the table".to_owned(),
        };
        let message = format!("expected an ingredient of the table after `like`, found `{name}`");
        self.push(
            Diagnostic::error(Code::UnknownIngredient, cursor.span(), message).with_help(help),
        );
        None
    }

    /// The entry that the block describes: that of its `like` line with the stated figures on top.
    fn entry(
        &mut self,
        name: String,
        like: Option<Entry>,
        mut facts: Facts,
        span: Span,
    ) -> Option<Entry> {
        let like = like.or_else(|| by_figures(&facts));
        let Some(mut entry) = like else {
            let message = format!("expected a `like` line of `{name}`");
            self.push(
                Diagnostic::error(Code::MissingLike, span, message)
                    .with_help("add a line such as `like pale ale malt`; it gives the figures that are not stated"),
            );
            return None;
        };
        match &mut entry {
            Entry::Fermentable(row) => fermentable(row, &mut facts),
            Entry::Juice(row) => juice(row, &mut facts),
            Entry::Beverage(row) => beverage(row, &mut facts),
            Entry::Hop(row) => {
                if let Some(alpha) = facts.alpha.take() {
                    row.alpha_range = Some((alpha.value(), alpha.value()));
                }
            }
            Entry::Yeast(row) => {
                put(&mut row.attenuation, facts.attenuation.take());
                put(&mut row.pitch_rate, facts.pitch_rate.take());
            }
            Entry::Botanical(_) | Entry::WaterAgent(_) | Entry::Aid(_) => {}
        }
        self.left_over(&name, &facts, entry.kind(), span);
        Some(own(entry, name))
    }

    /// Warns of figures that no entry of this kind has.
    fn left_over(&mut self, name: &str, facts: &Facts, kind: Kind, span: Span) {
        if *facts == Facts::default() {
            return;
        }
        let figures = stated(facts, kind).join("`, `");
        let message = format!("expected figures that `{name}` can have, found `{figures}`");
        self.push(
            Diagnostic::warning(Code::UnknownAttribute, span, message).with_help(
                "delete these figures here; a line of a recipe or stock may still give them",
            ),
        );
    }
}

/// The field of an entry that a figure of its block states.
fn field_of(entry: &Entry, figure: &'static str) -> Option<&'static str> {
    let field = match (entry, figure.strip_prefix("facts.")?) {
        (Entry::Fermentable(_), "colour_ebc") => "fermentable.colour_ebc",
        (Entry::Fermentable(_), "colour_basis") => "fermentable.colour_basis",
        (Entry::Fermentable(_), "extract") => "fermentable.extract_dry_pct",
        (Entry::Fermentable(_), "moisture_pct") => "fermentable.moisture_pct",
        (Entry::Fermentable(_), "fermentable_pct") => "fermentable.fermentable_pct",
        (Entry::Fermentable(_), "diastatic_power_wk") => "fermentable.diastatic_power_wk",
        (Entry::Fermentable(_), "protein_pct") => "fermentable.protein_dry_pct",
        (Entry::Fermentable(_), "ph") => "fermentable.mash_ph",
        (Entry::Juice(_), "brix_plato") => "juice.extract_plato",
        (Entry::Juice(_), "ph") => "juice.ph",
        (Entry::Juice(_), "acidity_g_l") => "juice.acidity_g_l",
        (Entry::Juice(_), "fermentable_pct") => "juice.fermentable_pct",
        (Entry::Hop(_), "alpha_pct") => "hop.alpha_range_pct",
        (Entry::Yeast(_), "attenuation_pct") => "yeast.attenuation_pct",
        (Entry::Yeast(_), "pitch_rate_million_per_ml_plato") => {
            "yeast.pitch_rate_million_per_ml_plato"
        }
        _ => return None,
    };
    Some(field)
}

/// Puts a stated figure in the place of the model's.
fn put<Q: Quantity>(slot: &mut Option<Q>, stated: Option<Written<Q>>) {
    *slot = stated.map(|written| written.value()).or(*slot);
}

/// An empty entry of the kind that the figures betray; a malt or sugar needs a `like` line, since its class decides
/// how it is brewed.
fn by_figures(facts: &Facts) -> Option<Entry> {
    if facts.alpha.is_some() {
        Some(Hop::new("").into())
    } else if facts.alcohol.is_some() {
        Some(Beverage::new("").into())
    } else if facts.brix.is_some() {
        Some(Juice::new("").into())
    } else if facts.attenuation.is_some() {
        Some(Yeast::new("").into())
    } else {
        None
    }
}

fn fermentable(row: &mut Fermentable, facts: &mut Facts) {
    row.colour_basis = facts.colour_basis.take().or(row.colour_basis);
    put(&mut row.colour, facts.colour.take());
    put(&mut row.moisture, facts.moisture.take());
    put(&mut row.diastatic_power, facts.diastatic_power.take());
    put(&mut row.protein, facts.protein.take());
    put(&mut row.fermentability, facts.fermentability.take());
    if matches!(row.kind(), Kind::Malt | Kind::Grain) {
        put(&mut row.mash_ph, facts.ph.take());
    }
    let Some(extract) = facts.extract.take() else {
        return;
    };
    let stated = extract.value.value();
    match (extract.basis, row.moisture) {
        (ExtractBasis::Dry, _) => row.extract = Some(stated),
        (ExtractBasis::AsIs, Some(moisture)) if moisture.fraction() < 1.0 => {
            let dry = stated.fraction() / (1.0 - moisture.fraction());
            row.extract = Some(LaboratoryExtract::clamped(dry));
        }
        // Without a moisture the product is counted as its own dry matter, which leaves its extract as stated.
        (ExtractBasis::AsIs, _) => {
            row.extract = Some(stated);
            row.moisture = Some(Moisture::clamped(0.0));
        }
    }
}

fn beverage(row: &mut Beverage, facts: &mut Facts) {
    put(&mut row.alcohol, facts.alcohol.take());
    put(&mut row.extract, facts.brix.take());
    put(&mut row.fermentability, facts.fermentability.take());
}

fn juice(row: &mut Juice, facts: &mut Facts) {
    if let Some(brix) = facts.brix.take() {
        row.extract = Some(brix.value());
        row.extract_range = None;
    }
    put(&mut row.ph, facts.ph.take());
    put(&mut row.acidity, facts.acidity.take());
    put(&mut row.fermentability, facts.fermentability.take());
}
