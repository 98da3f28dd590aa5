//! What to buy, what is in stock, and what is not available.

use super::cautions::Cautions;
use super::head::substitute_of;
use super::page::Page;
use super::{units, yeast};
use crate::catalogue::Kind;
use crate::process::Stage;
use crate::scale::{Plan, Purchase, Supply};
use crate::speech::{Style, packs};

/// The list in three parts.
pub(super) fn print(
    page: &mut Page,
    plan: &Plan,
    cautions: &Cautions,
    (style, substitutes): (Style, &[(String, String)]),
) {
    page.heading("SHOPPING");
    for supply in [Supply::Missing, Supply::ToBuy, Supply::InStock] {
        let list: Vec<_> = plan
            .shopping
            .iter()
            .filter(|purchase| purchase.supply == supply && !cautions.is_blocked(&purchase.name))
            // The box at the head says what to buy for it.
            .filter(|purchase| {
                supply != Supply::Missing || substitute_of(&purchase.name, substitutes).is_none()
            })
            .map(|purchase| line(plan, purchase, style))
            .collect();
        if list.is_empty() {
            continue;
        }
        if supply == Supply::Missing {
            let list = list.iter().map(|(amount, what)| format!("{amount} {what}"));
            let list: Vec<_> = list.collect();
            page.paragraph(&format!("Not available: {}.", list.join(", ")));
        } else {
            page.two_columns(&list);
        }
    }
}

/// The amount and what it is of.
fn line(plan: &Plan, purchase: &Purchase, style: Style) -> (String, String) {
    let say = |mass: Option<_>, volume: Option<_>| {
        let weighed = mass.map(|m| units::weighed(m, style));
        let measured = volume.map(|v| units::measured(v, style));
        // Something that one line weighs and another measures is said both ways.
        match (weighed, measured) {
            (Some(weighed), Some(measured)) => Some(format!("{weighed} and {measured}")),
            (weighed, measured) => weighed.or(measured),
        }
    };
    let needed = say(purchase.needed_mass, purchase.needed_volume)
        .or_else(|| purchase.needed_packs.map(packs));
    let buy = say(purchase.buy_mass, purchase.buy_volume).or_else(|| purchase.buy_packs.map(packs));
    let partly = needed != buy;
    let (amount, note) = match (purchase.supply, needed, buy) {
        (Supply::InStock, Some(needed), _) => (needed, String::new()),
        (Supply::ToBuy, Some(needed), Some(buy)) if partly => {
            (buy, format!(" ({needed} needed; the rest is in stock)"))
        }
        (_, needed, buy) => (
            buy.or(needed).unwrap_or_default(),
            if purchase.needed_mass.is_none() && purchase.needed_volume.is_none() {
                is_yeast(plan, purchase)
                    .then(|| yeast::for_cells(plan, style))
                    .flatten()
                    .map(|packs| format!(", {packs}"))
                    .unwrap_or_default()
            } else {
                String::new()
            },
        ),
    };
    let opened: Vec<_> = purchase
        .open
        .iter()
        .filter_map(|packs| {
            let each = say(packs.each_mass, packs.each_volume)?;
            Some(format!("{} x {each}", packs.count))
        })
        .collect();
    let open = match (purchase.supply, opened.is_empty()) {
        (Supply::InStock, true) => " (in stock)".to_owned(),
        (_, true) => String::new(),
        (Supply::InStock, false) => format!(" (in stock; opens {})", opened.join(" + ")),
        (_, false) => format!(" (opens {})", opened.join(" + ")),
    };
    // A malt is bought by its colour, where the name does not say it.
    let colour = (purchase.supply != Supply::InStock)
        .then_some(purchase.colour)
        .flatten();
    let colour = colour.map(|colour| style.malt_colour(colour));
    let colour = colour
        .filter(|colour| !purchase.name.ends_with(colour))
        .map_or_else(String::new, |colour| format!(", {colour}"));
    (amount, format!("{}{colour}{note}{open}", purchase.name))
}

/// Whether it is the yeast that the wort is pitched with, by cells.
fn is_yeast(plan: &Plan, purchase: &Purchase) -> bool {
    let mut yeasts = plan
        .additions
        .iter()
        .filter(|addition| addition.kind == Kind::Yeast && addition.stage == Stage::Ferment);
    yeasts
        .next()
        .is_some_and(|first| first.name == purchase.name)
}
