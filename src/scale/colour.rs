//! A printed colour that the grist does not explain.

use super::order::Brewing;
use super::{Order, Outcome};
use crate::catalogue::{Catalogue, Kind};
use crate::diagnostic::Place;
use crate::process::{Figures, Material, colour_gap, settle};
use crate::recipe::Ingredient;
use crate::remedy::{DarkMalt, for_colour};
use crate::speech::Noted;

impl Brewing<'_> {
    /// A printed colour that the source's grist does not explain, with dark malt for this plant where that helps.
    pub(super) fn colour(&self) -> Option<Noted<Outcome>> {
        let Order {
            recipe,
            catalogue,
            brewhouse,
            ..
        } = self.order;
        let found = &self.found;
        let gap = colour_gap(&recipe.targets, &self.brews.source.worked.brewed)?;
        let from_juice = gap.with_juice.map_or(0.0, |all| all.ebc() - gap.malt.ebc());
        let here = Figures::predicted(&found.brewed);
        // The target keeps the source's colour, so that the same malt part is wanted of both.
        let wanted_ebc = match (&recipe.targets.colour, here.wort_colour, here.colour) {
            (None, Some(wort), Some(beer)) => {
                gap.printed.ebc() * beer.ebc() / wort.ebc().max(f64::MIN_POSITIVE)
            }
            _ => gap.printed.ebc() - from_juice,
        };
        // A wort that the plant cannot reach is another one when that is remedied, and so is its colour.
        let is_reached = found.reach.stopped.is_none();
        let remedies = dark_malt(catalogue)
            .filter(|_| is_reached)
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
        Some(Noted::at(gap.place, outcome))
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
