//! The head of a sheet: what is brewed, what it comes to, what could not be met, what to buy.

use super::page::{Page, WIDTH};
use super::{Sheet, cellar, units};
use crate::caution::{Caution, Urgency};
use crate::process::{Figures, Warning};
use crate::quantity::Bitterness;
use crate::scale::{Plan, Purchase, Supply};
use crate::speech::{Speaks, Style, alcohol, packs};

/// Title, source and figures.
pub(super) fn print(page: &mut Page, plan: &Plan, sheet: Sheet, style: Style) {
    page.rule("=");
    page.hung("", &plan.recipe.name.to_uppercase());
    let brewed = match sheet {
        Sheet::ToBrew => "brewed",
        Sheet::Impossible => "wanted",
    };
    page.hung(
        "   ",
        &format!(
            "{} into the fermenter, {brewed} on {}",
            style.volume(plan.volumes.into_fermenter),
            plan.brewhouse.name
        ),
    );
    if let Some(source) = &plan.recipe.source {
        page.hung("   after: ", source);
    }
    if sheet == Sheet::ToBrew {
        page.hung(
            "   ",
            "gyle no. __________   date ______________   brewer ________________________",
        );
    }
    page.rule("=");
    page.gap();
    figures(page, plan, sheet, style);
}

/// The printed figures, the colour beside the predicted one that it is comparable to: a printed colour is that of the
/// beer with everything in it.
pub(super) fn printed(published: &Figures, predicted: &Figures) -> Figures {
    let mut printed = published.clone();
    if predicted.colour_with_juice.is_some() {
        printed.colour_with_juice = printed.colour.take();
    }
    printed
}

/// One figure, said.
type Say<'a> = &'a dyn Fn(&Figures) -> Option<String>;

fn figures(page: &mut Page, plan: &Plan, sheet: Sheet, style: Style) {
    let published = printed(&plan.published, &plan.predicted);
    // What the plant cannot brew has no figures of its own.
    let shown = match sheet {
        Sheet::ToBrew => 4,
        Sheet::Impossible => 2,
    };
    let row = |page: &mut Page, name: &str, cells: [&str; 4]| {
        let cells: Vec<_> = cells.into_iter().take(shown).collect();
        page.columns(name, &cells);
    };
    row(page, "", ["printed", "aim", "this plan", "read"]);
    let blank = "__________";
    // Without hops there is nothing to say.
    let ibu = |b: Bitterness| (b.ibu() > 0.0).then(|| format!("{:.0} IBU", b.ibu()));
    // The blank is for what a small brewer can measure.
    let rows: [(&str, &str, Say<'_>); 13] = [
        ("Original gravity", blank, &|f| {
            f.original.map(|g| style.gravity(g))
        }),
        ("Final gravity", blank, &|f| {
            f.final_extract.map(|g| style.gravity(g))
        }),
        ("   if juice ferments in full", "", &|f| {
            f.final_if_juice_ferments.map(|g| style.gravity(g))
        }),
        ("Alcohol", blank, &|f| f.alcohol.map(alcohol)),
        ("   if juice ferments in full", "", &|f| {
            f.alcohol_if_juice_ferments.map(alcohol)
        }),
        ("Bitterness", "", &|f| f.bitterness.and_then(ibu)),
        ("   by Tinseth", "", &|f| f.bitterness_tinseth.and_then(ibu)),
        ("   by isomerisation", "", &|f| {
            f.bitterness_kinetic.and_then(ibu)
        }),
        ("Colour, malt part", "", &|f| {
            f.colour.map(|c| style.beer_colour(c))
        }),
        ("Colour with juice, rough", "", &|f| {
            f.colour_with_juice.map(|c| style.beer_colour(c))
        }),
        ("Original, additions counted in", "", &|f| {
            f.equivalent_original
                .filter(|_| f.before_addition.is_some())
                .map(|g| style.gravity(g))
        }),
        ("Wort into the fermenter", blank, &|f| {
            f.batch.map(|v| style.volume(v))
        }),
        ("Beer when it has fermented", blank, &|f| {
            f.finished.map(|v| style.volume(v))
        }),
    ];
    for (name, blank, say) in rows {
        let planned = say(&plan.predicted);
        let printed = say(&published);
        if planned.is_none() && printed.is_none() {
            continue;
        }
        let cell = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
        let (printed, aim, planned) = (cell(printed), cell(say(&plan.source)), cell(planned));
        row(page, name, [&printed, &aim, &planned, blank]);
    }
    page.paragraph(
        "printed = the sheet's own figures; aim = what they come to on the plant they were printed for",
    );
}

/// What could not be met and what must not go in: first, and loud.
pub(super) fn not_met(page: &mut Page, plan: &Plan, cautions: &[Caution], style: Style) {
    let stops: Vec<_> = cautions
        .iter()
        .filter(|caution| caution.urgency == Urgency::Stop)
        .collect();
    let warnings: Vec<_> = plan
        .warnings
        .iter()
        .filter(|warning| stands_at_the_head(plan, warning))
        .collect();
    if plan.outcomes.is_empty() && stops.is_empty() && warnings.is_empty() {
        return;
    }
    page.gap();
    let title = " STOP: SETTLE THIS BEFORE YOU BREW ";
    page.hung("", &format!("{title:!^WIDTH$}"));
    for caution in stops {
        page.hung("!! ", &caution.text);
    }
    for outcome in &plan.outcomes {
        page.hung("!! ", &outcome.text(style));
    }
    for warning in warnings {
        page.hung("!! ", &warning.text(style));
    }
    page.rule("!");
}

/// Whether a warning stops the day: a fermenter that runs over does, one that is merely tight does not; and a container that
/// may burst does.
pub(super) fn stands_at_the_head(plan: &Plan, warning: &Warning) -> bool {
    match warning {
        Warning::FermenterSmall { .. } => cellar::overflows(plan),
        Warning::PackageOverLimit { .. } | Warning::KegOverLimit { .. } => true,
        _ => false,
    }
}

/// What follows the head of an impossible brew: why nothing does.
pub(super) fn no_amounts(page: &mut Page) {
    page.gap();
    page.paragraph(
        "No amounts are given: this plant cannot brew this batch. Take one of the ways out above, change the plant or the recipe, and work it out again.",
    );
}

/// The shopping list in three parts.
pub(super) fn shopping(page: &mut Page, plan: &Plan, style: Style) {
    page.heading("SHOPPING");
    for (supply, title) in [
        (Supply::Missing, "Cannot be had:"),
        (Supply::ToBuy, "To buy:"),
        (Supply::InStock, "In stock:"),
    ] {
        let list: Vec<_> = plan
            .shopping
            .iter()
            .filter(|p| p.supply == supply)
            .collect();
        if list.is_empty() {
            continue;
        }
        page.paragraph(title);
        for purchase in list {
            line(page, plan, purchase, style);
        }
    }
}

fn line(page: &mut Page, plan: &Plan, purchase: &Purchase, style: Style) {
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
            format!(" (short by this much of {needed}; no more can be had)"),
        ),
        (Supply::ToBuy, Some(needed), Some(buy)) if partly => {
            (buy, format!(" (of {needed}; the rest is in stock)"))
        }
        (_, needed, buy) => (
            buy.or(needed).unwrap_or_default(),
            if purchase.needed_mass.is_none() && purchase.needed_volume.is_none() {
                plan.cells
                    .filter(|_| is_yeast(plan, purchase))
                    .map(|cells| format!(" ({})", units::cells(cells)))
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
        format!(" (open {})", opened.join(" + "))
    };
    page.tick(&amount, &format!("{}{note}{open}", purchase.name));
}

fn is_yeast(plan: &Plan, purchase: &Purchase) -> bool {
    plan.additions.iter().any(|addition| {
        addition.kind == crate::catalogue::Kind::Yeast && addition.name == purchase.name
    })
}
