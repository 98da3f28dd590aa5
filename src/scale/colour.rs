//! A printed colour that the grist does not explain.

use super::order::Brewing;
use super::{Order, Outcome};
use crate::catalogue::{Catalogue, Kind};
use crate::diagnostic::Place;
use crate::process::{ColourGap, Figures, Material, colour_gaps, settle};
use crate::recipe::Ingredient;
use crate::remedy::{DarkMalt, for_colour};
use crate::speech::Noted;

impl Brewing<'_> {
    /// The printed colours that the source's grist does not explain, with dark malt for this plant where that helps: for that of the
    /// beer where both are printed, since one grist has one remedy.
    pub(super) fn colours(&self) -> Vec<Noted<Outcome>> {
        let source = &self.brews.source.worked;
        let gaps = colour_gaps(&self.order.recipe.targets, source);
        let outcomes = gaps.into_iter().enumerate();
        let outcomes = outcomes.map(|(index, gap)| self.colour(gap, index == 0));
        outcomes.collect()
    }

    fn colour(&self, gap: ColourGap, has_remedy: bool) -> Noted<Outcome> {
        let Order {
            catalogue,
            brewhouse,
            ..
        } = self.order;
        let found = &self.found;
        let from_juice = gap.with_juice.map_or(0.0, |all| all.ebc() - gap.malt.ebc());
        let here = Figures::predicted(&found.brewed);
        // The target keeps the source's colour, so that the same malt part is wanted of both.
        let wort = Place::recipe("targets.wort_colour_ebc");
        let wanted_ebc = match (here.wort_colour, here.colour) {
            (Some(wort_ebc), Some(beer)) if gap.place == wort => {
                gap.printed.ebc() * beer.ebc() / wort_ebc.ebc().max(f64::MIN_POSITIVE)
            }
            _ => gap.printed.ebc() - from_juice,
        };
        // A wort that the plant cannot reach is another one when that is remedied, and so is its colour.
        let is_reached = found.reach.stopped.is_none();
        let remedies = dark_malt(catalogue)
            .filter(|_| has_remedy && is_reached)
            .and_then(|dark| {
                let style = brewhouse.style();
                for_colour(
                    &self.brews.target.setup,
                    &found.amounts,
                    wanted_ebc,
                    &dark,
                    style,
                )
            })
            .into_iter()
            .collect();
        let outcome = Outcome::ColourNotExplained {
            printed: gap.printed,
            malt: gap.malt,
            with_juice: gap.with_juice,
            remedies,
        };
        Noted::at(gap.place, outcome)
    }
}

/// The dark malt that a remedy for colour offers: dehusked, since it darkens with the least roast.
fn dark_malt(catalogue: &Catalogue) -> Option<DarkMalt> {
    let name = "dehusked black malt";
    let ingredient = Ingredient::new(name, Kind::Malt);
    let place = Place::recipe("mash.additions");
    match settle(&ingredient, &place, catalogue, &mut Vec::new()).ok()? {
        Material::Fermentable(figures) => Some(DarkMalt {
            name: name.to_owned(),
            figures,
        }),
        _ => None,
    }
}
