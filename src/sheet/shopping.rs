//! What to buy, what is in stock, and what is not available.

use super::cautions::Cautions;
use super::cellar;
use super::page::Page;
use super::units;
use crate::catalogue::Kind;
use crate::process::Stage;
use crate::scale::{Plan, Purchase, Supply};
use crate::speech::{Style, packs};

/// The list in three parts.
pub(super) fn print(page: &mut Page, plan: &Plan, cautions: &Cautions, style: Style) {
    page.heading("SHOPPING");
    for (supply, title) in [
        (Supply::Missing, "Not available:"),
        (Supply::ToBuy, "To buy:"),
        (Supply::InStock, "In stock:"),
    ] {
        let list: Vec<_> = plan
            .shopping
            .iter()
            .filter(|purchase| purchase.supply == supply && !cautions.is_blocked(&purchase.name))
            .map(|purchase| line(plan, purchase, style))
            .collect();
        if list.is_empty() {
            continue;
        }
        if supply == Supply::Missing {
            // No box to tick: the one at the head says what to take.
            let list = list.iter().map(|(amount, what)| format!("{amount} {what}"));
            let list: Vec<_> = list.collect();
            page.paragraph(&format!("{title} {}.", list.join(", ")));
        } else {
            page.paragraph(title);
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
        (Supply::Missing, Some(needed), Some(buy)) if partly => (
            buy,
            format!(" (short by this amount; {needed} needed, no more available)"),
        ),
        (Supply::ToBuy, Some(needed), Some(buy)) if partly => {
            (buy, format!(" ({needed} needed; the rest is in stock)"))
        }
        (_, needed, buy) => (
            buy.or(needed).unwrap_or_default(),
            if purchase.needed_mass.is_none() && purchase.needed_volume.is_none() {
                is_yeast(plan, purchase)
                    .then(|| cellar::yeast(plan, style))
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
    let open = if opened.is_empty() {
        String::new()
    } else {
        format!(" (opens {})", opened.join(" + "))
    };
    // A malt is bought by its colour, where the name does not say it.
    let colour = purchase.colour.map(|colour| style.malt_colour(colour));
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
