//! Grain that is steeped for its taste and colour in a beer of malt extract.

use super::assumption::Assumption;
use super::brew::{Worked, into_kettle};
use super::formula::{Formula, Item};
use super::material::Sugars;
use super::plant::{Holdback, Lautering, Plant};
use super::wort::all_of;
use crate::diagnostic::Place;
use crate::quantity::Share;
use crate::speech::Noted;

/// Grain with less extract than this share of that of extract and sugar is steeped for its taste (rule of the crate).
pub(crate) const STEEPED: f64 = 0.33;

/// What a steep of half an hour brings of the laboratory extract of caramel and roast grain (common practice, no source: home texts
/// count half to two thirds).
const GIVES: f64 = 0.6;
/// Water that a small bag of crushed grain holds, L/kg (common practice, no source).
const BAG_HOLDS_L_KG: f64 = 0.8;

/// Whether all grain of a formula can be steeped: it has no starch that only a mash would convert.
fn can_be_steeped(formula: &Formula) -> bool {
    let is_kilned = |item: &Item| {
        let part = item.fermentable(1.0);
        part.is_some_and(|(part, _)| part.sugars == Sugars::Kilned)
    };
    let mut grain = formula
        .items
        .values()
        .filter(|item| item.is_mashed())
        .peekable();
    grain.peek().is_some() && grain.all(is_kilned)
}

/// Lets a plant that does not mash steep the grain of a formula in a bag, where that can be done. It gives what it gave in the
/// source's steep, else what is usual.
pub(crate) fn steep_without_mash(
    plant: &mut Plant,
    formula: &Formula,
    source: Option<&Worked>,
    assumptions: &mut Vec<Noted<Assumption>>,
) {
    if plant.lautering != Lautering::NoMash || !can_be_steeped(formula) {
        return;
    }
    let there = source.filter(|worked| is_steep(worked));
    let gives = there.and_then(|worked| worked.brewed.mash_yield);
    plant.lautering = Lautering::Bag { sparge_l: 0.0 };
    plant.holdback = Holdback::Apparent(BAG_HOLDS_L_KG);
    plant.conversion = gives.unwrap_or(GIVES).min(1.0);
    plant.known_yield = None;
    let steeped = Assumption::SteepedInBag {
        side: plant.side,
        gives: Share::clamped(plant.conversion),
    };
    assumptions.push(Noted::at(Place::plant(&plant.name, "lauter"), steeped));
}

/// Whether the grain of a brew is steeped, and no mash: it has no starch to convert, and gives little of the extract.
pub(crate) fn is_steep(worked: &Worked) -> bool {
    let brewed = &worked.brewed;
    let dissolved = into_kettle(&worked.setup.formula, &worked.amounts.of);
    let dissolved_kg = all_of(&dissolved).extract_kg;
    brewed.grist.mass_kg > 0.0
        && brewed.diastatic_wk.is_none()
        && brewed.grist.laboratory_extract_kg < STEEPED * dissolved_kg
}
