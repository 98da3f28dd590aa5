//! Remedies for a colour that the grist does not explain.

use super::Remedy;
use crate::inverse::liquor_to_fill;
use crate::numeric::{Bracket, root};
use crate::process::{Amounts, Fermentable, Item, Material, Setup, grist};
use crate::quantity::{BeerColour, kilograms};
use crate::speech::Style;

/// More of the grist than this is not exchanged for colour, by extract (common practice, no source).
const MOST_SHARE: f64 = 0.15;

/// Steps in which the rest of the grist makes up for the dark malt; two or three are the rule.
const MOST_STEPS: u32 = 8;
/// Part of the extract within which the wort is as strong as it was.
const STRENGTH_WITHIN: f64 = 1e-10;

/// A dark malt that can be put into a grist.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct DarkMalt {
    pub(crate) name: String,
    pub(crate) figures: Fermentable,
}

/// The mass of dark malt that brings the malt part of the beer to `wanted_ebc`, put in place of as much extract of the
/// rest of the grist, and run through the model again. None where the beer is dark enough, or where it takes too much.
pub(crate) fn for_colour(
    setup: &Setup,
    amounts: &Amounts,
    wanted_ebc: f64,
    dark: &DarkMalt,
    style: Style,
) -> Option<Remedy> {
    let formula = &setup.formula;
    let model = formula.items.values().find(|item| item.is_mashed())?;
    let mut darker = setup.clone();
    darker.formula.items.push(Item {
        material: Material::Fermentable(dark.figures),
        ..model.clone()
    });
    let grist_kg = grist(formula, &amounts.of).laboratory_extract_kg;
    let wort = setup.brew(amounts).boiled;
    let with = |share: f64| {
        let dark_kg = share * grist_kg / dark.figures.extract;
        let grist = |kept: f64| {
            let mut of = formula.items.map(|index, item| {
                let kept = if item.is_mashed() { kept } else { 1.0 };
                amounts.of.at(index) * kept
            });
            of.push(dark_kg);
            // Another moisture is made up for by water, as in a plan.
            let liquor = liquor_to_fill(&darker.formula, &darker.plant, &of, wort.volume_l);
            darker.brew(&Amounts { of, liquor })
        };
        // The wort stays as strong as it was: a heavier grist lauters a little worse.
        let mut kept = 1.0 - share;
        let mut brewed = grist(kept);
        for _ in 0..MOST_STEPS {
            let missing_kg = wort.wort.extract_kg - brewed.boiled.wort.extract_kg;
            if missing_kg.abs() <= STRENGTH_WITHIN * wort.wort.extract_kg {
                break;
            }
            kept += missing_kg / wort.wort.extract_kg.max(f64::MIN_POSITIVE);
            brewed = grist(kept);
        }
        (dark_kg, brewed.beer_colour_ebc())
    };
    let miss = |share: f64| with(share).1.map_or(f64::NAN, |ebc| ebc - wanted_ebc);
    let bracket = Bracket {
        low: 0.0,
        high: MOST_SHARE,
    };
    let share = root(miss, bracket, 1e-9)
        .ok()
        .filter(|share| *share > 0.0)?;
    let exact_kg = with(share).0;
    let dark_kg = style.mass_up_kg(exact_kg);
    let (_, reached) = with(share * dark_kg / exact_kg);
    Some(Remedy::DarkMalt {
        name: dark.name.clone(),
        mass: kilograms(dark_kg),
        reached: BeerColour::clamped(reached?),
    })
}
