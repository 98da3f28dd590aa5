//! What to buy, what is in stock, and what is not available.

use super::addition::instead;
use super::cautions::Cautions;
use super::head::substitute_of;
use super::packaging::{bottles, priming_sugar};
use super::page::Page;
use super::{BestSubstitute, units, yeast};
use crate::catalogue::Kind;
use crate::caution::PlanCautions;
use crate::process::Stage;
use crate::scale::{Plan, Purchase, Supply};
use crate::speech::{Style, packs};

/// A line of a shopping list.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct ShoppingLine {
    /// Whether it is bought, in stock or not available.
    pub supply: Supply,
    /// How much, as it is bought or weighed; empty for yeast by cells and for bottles.
    pub amount: String,
    /// The ingredient, with what it replaces, its colour and the packs to open.
    pub what: String,
}

impl Plan {
    /// The shopping list in words: what is not available, then what to buy with the sugar and the bottles of packaging, then what
    /// is in stock.
    #[must_use]
    pub fn shopping_list(&self, style: Style) -> Vec<ShoppingLine> {
        let blocked = PlanCautions::of(self).blocked;
        listed(self, &|name| blocked.iter().any(|of| of == name), style)
    }
}

fn listed(plan: &Plan, is_left_out: &dyn Fn(&str) -> bool, style: Style) -> Vec<ShoppingLine> {
    let mut list = Vec::new();
    for supply in [Supply::Missing, Supply::ToBuy, Supply::InStock] {
        let wanted = plan.shopping.iter().filter(|of| of.supply == supply);
        let wanted = wanted.filter(|purchase| !is_left_out(&purchase.name));
        list.extend(wanted.map(|purchase| {
            let (amount, what) = line(plan, purchase, style);
            ShoppingLine {
                supply,
                amount,
                what,
            }
        }));
        if supply != Supply::ToBuy {
            continue;
        }
        let sugar = priming_sugar(plan).map(|sugar| ShoppingLine {
            supply,
            amount: style.about_mass(sugar),
            what: "table sugar, for priming".to_owned(),
        });
        let bottles = bottles(plan, style).map(|what| ShoppingLine {
            supply,
            amount: String::new(),
            what,
        });
        list.extend(sugar.into_iter().chain(bottles));
    }
    list
}

/// The list in three parts.
pub(super) fn print(
    page: &mut Page,
    plan: &Plan,
    cautions: &Cautions,
    (style, substitutes): (Style, &[BestSubstitute]),
) {
    page.heading("SHOPPING");
    // The box at the head says what to buy for what has a substitute.
    let is_left_out = |name: &str| {
        let is_missing = |of: &Purchase| of.name == name && of.supply == Supply::Missing;
        cautions.is_blocked(name)
            || (substitute_of(name, substitutes).is_some() && plan.shopping.iter().any(is_missing))
    };
    for part in listed(plan, &is_left_out, style).chunk_by(|a, b| a.supply == b.supply) {
        let lines = part.iter();
        if part
            .first()
            .is_some_and(|line| line.supply == Supply::Missing)
        {
            let lines: Vec<_> = lines
                .map(|line| {
                    format!("{} {}", line.amount, line.what)
                        .trim_start()
                        .to_owned()
                })
                .collect();
            page.paragraph(&format!("Not available: {}.", lines.join(", ")));
        } else {
            let lines: Vec<_> = lines
                .map(|line| (line.amount.clone(), line.what.clone()))
                .collect();
            page.two_columns(&lines);
        }
    }
}

/// The amount and what it is of.
fn line(plan: &Plan, purchase: &Purchase, style: Style) -> (String, String) {
    let kind = units::kind_of(plan, &purchase.name);
    let say = |mass: Option<_>, volume: Option<_>| {
        let weighed = mass.map(|m| plan.weighed(m, kind, style));
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
        .map(|packs| format!("{} x {}", packs.count, packs.each))
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
    let name = colour.map_or_else(
        || purchase.name.clone(),
        |colour| style.malt(&purchase.name, colour),
    );
    let instead = instead(plan, &purchase.name);
    (amount, format!("{name}{instead}{note}{open}"))
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
