//! Models built in code, held against what is held against a text.

use super::inputs::Inputs;
use super::models::Models;
use super::reading::{ReadOptions, read_with};
use super::tree::log_lines;
use super::write::written;
use crate::catalogue::{Aid, Botanical, Catalogue, Entry, Kind, WaterAgent};
use crate::diagnostic::{Diagnostic, Severity, Span, TextRef};
use crate::recipe::{Ingredient, LogEvent, Lot, Recipe};
use std::collections::BTreeMap;

/// What a reader of the models says of them.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
#[must_use]
pub struct Check {
    /// The models as a text; the diagnostics point into it.
    pub text: String,
    /// What is wrong or deserves a look, with the codes that a text gets and the field of the models that it speaks of.
    pub diagnostics: Vec<Diagnostic>,
    /// Where each log stands in the text: its head, then its lines.
    pub(crate) logs: Vec<Vec<Span>>,
    /// Where the text states the models' fields; kept where something is wrong.
    pub(crate) inputs: Inputs,
}

impl Models {
    /// Checks the models as a text that states them is checked: each check is made in one place, where texts are read.
    ///
    /// ```
    /// use wortwright::catalogue::Catalogue;
    /// use wortwright::notation::Models;
    /// use wortwright::recipe::{Addition, Recipe};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let recipe = Recipe::new("Plain").mash(Addition::new("pale ale malt", "90 %".parse()?));
    /// let check = Models::new(recipe).check(&Catalogue::builtin());
    /// let [wrong] = check.diagnostics.as_slice() else { panic!("{check:?}") };
    /// assert_eq!(wrong.code.as_str(), "shares_do_not_add_up");
    /// assert_eq!(wrong.place.as_ref().map(ToString::to_string).as_deref(), Some("recipe.mash"));
    /// # Ok(())
    /// # }
    /// ```
    pub fn check(&self, catalogue: &Catalogue) -> Check {
        let mut models = self.clone();
        models.resolve(catalogue);
        let catalogue = catalogue.clone().with(models.given(catalogue));
        let text = written(&models);
        let source = TextRef::new("models", &text);
        let options = ReadOptions {
            declared: self.declared(),
            ..ReadOptions::default()
        };
        let reading = read_with(&[source], &catalogue, &options);
        let logs = log_lines(&reading.documents);
        let mut diagnostics = reading.diagnostics.clone();
        let inputs = if diagnostics.is_empty() {
            Inputs::default()
        } else {
            reading.inputs(&catalogue)
        };
        for found in &mut diagnostics {
            found.place = inputs.place(found.span).cloned();
        }
        Check {
            text,
            diagnostics,
            logs,
            inputs,
        }
    }

    /// Entries for what the catalogue does not know and the host calls something that needs no figures: a reader would
    /// take it for what is usual where it stands.
    fn given(&self, catalogue: &Catalogue) -> Vec<Entry> {
        let unknown = self.ingredients().filter(|ingredient| {
            ingredient.entry.is_none() && catalogue.find(&ingredient.name).is_none()
        });
        let entries = unknown.filter_map(|ingredient| {
            let name = || ingredient.name.clone();
            Some(match ingredient.kind {
                Kind::Botanical => Botanical::new(name()).into(),
                Kind::Salt | Kind::Acid => WaterAgent::new(name()).into(),
                Kind::Aid => Aid::new(name()).into(),
                _ => return None,
            })
        });
        entries.collect()
    }

    /// The kinds that the host gives to names of its own.
    fn declared(&self) -> BTreeMap<String, Kind> {
        let named = self
            .ingredients()
            .filter(|ingredient| ingredient.entry.is_none());
        named
            .map(|ingredient| (ingredient.name.clone(), ingredient.kind))
            .collect()
    }

    /// Every ingredient that a line names.
    fn ingredients(&self) -> impl Iterator<Item = &Ingredient> {
        let additions = self.recipe.iter().flat_map(Recipe::additions);
        let of_recipe = additions
            .flat_map(|addition| std::iter::once(addition).chain(addition.parts()))
            .filter_map(|part| part.ingredient());
        let of_stock = self.stock.lots.iter().map(Lot::ingredient);
        let entries = self.logs.iter().flat_map(|log| &log.entries);
        let of_logs = entries.filter_map(|entry| match &entry.what {
            LogEvent::Added(added) => Some(&added.ingredient),
            _ => None,
        });
        of_recipe.chain(of_stock).chain(of_logs)
    }
}

impl Check {
    /// Whether no error was found, warnings aside.
    pub fn is_usable(&self) -> bool {
        self.diagnostics
            .iter()
            .all(|diagnostic| diagnostic.severity < Severity::Error)
    }
}
