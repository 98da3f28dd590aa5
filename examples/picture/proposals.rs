//! Substitutes for what is missing: a small table for each, a dot for each step that a drinker notices.

use super::page::{escaped, list};
use std::fmt::Write as _;
use wortwright::job::Substitutes;
use wortwright::speech::{Speaks, Style};
use wortwright::substitute::{Difference, Noticed, Proposal, Proposals, Sense};

/// So many beside each other on a telephone.
const SHOWN: usize = 4;
/// As many dots as say "another beer".
const MOST_DOTS: usize = 4;

/// Every missing ingredient.
pub(crate) fn tables(found: &Substitutes, style: Style) -> String {
    let mut html = String::new();
    for proposals in &found.missing {
        table(&mut html, proposals, style);
    }
    if !html.is_empty() {
        html.push_str(
            "<p class=\"small\">Dots: the difference in the finished beer, in the smallest steps that a careful drinker \
             notices. <span class=\"dots\"><i class=\"dot half\"></i></span> hardly, \
             <span class=\"dots\"><i class=\"dot\"></i></span> one step, four dots another beer; ↓ less, ↑ more, = the same.</p>\n",
        );
    }
    html
}

fn table(html: &mut String, found: &Proposals, style: Style) {
    let _ = writeln!(html, "<h3>For {}</h3>", escaped(&found.name));
    if let Some(why) = found.no_substitute {
        let _ = writeln!(
            html,
            "<p>No honest substitute: {}.</p>",
            escaped(&why.text(style))
        );
    }
    let shown: Vec<_> = found.proposals.iter().take(SHOWN).collect();
    if shown.is_empty() {
        return;
    }
    html.push_str("<ol class=\"offers\" type=\"A\">\n");
    for proposal in &shown {
        offer(html, proposal, style);
    }
    html.push_str("</ol>\n<table class=\"noticed\">\n<thead><tr><th scope=\"col\">Noticed</th>");
    for letter in ('A'..='Z').take(shown.len()) {
        let _ = write!(html, "<th scope=\"col\">{letter}</th>");
    }
    html.push_str("</tr></thead>\n<tbody>\n");
    for (sense, name) in SENSES {
        row(html, &shown, sense, name);
    }
    html.push_str("</tbody>\n</table>\n");
}

const SENSES: [(Sense, &str); 7] = [
    (Sense::Gravity, "Strength"),
    (Sense::Colour, "Colour"),
    (Sense::Bitterness, "Bitterness"),
    (Sense::Body, "Body"),
    (Sense::Sweetness, "Sweetness"),
    (Sense::Acid, "Acid"),
    (Sense::Aroma, "Flavour"),
];

/// What is bought and weighed, what it is chosen for, and what to take care of.
fn offer(html: &mut String, proposal: &Proposal, style: Style) {
    let way = proposal
        .way
        .map_or_else(String::new, |way| format!(", {}", way.text()));
    let roles: Vec<_> = proposal.roles.iter().map(|role| role.text()).collect();
    let roles = if roles.is_empty() {
        String::new()
    } else {
        format!(" <em>{}</em>", escaped(&roles.join(", ")))
    };
    let _ = write!(
        html,
        "<li><strong>{}</strong>{}: {}{roles}",
        escaped(&proposal.text(style)),
        escaped(&way),
        escaped(&proposal.summary)
    );
    let mut notes: Vec<String> = proposal.practice.iter().map(|p| p.text(style)).collect();
    let gained = proposal.allergens_gained.iter();
    notes.extend(gained.map(|allergen| format!("new allergen: {allergen}")));
    if !notes.is_empty() {
        html.push_str("<div class=\"small\">");
        list(html, notes);
        html.push_str("</div>");
    }
    html.push_str("</li>\n");
}

/// A sense of each proposal; none where no proposal speaks of it.
fn row(html: &mut String, shown: &[&Proposal], sense: Sense, name: &str) {
    let told: Vec<_> = shown
        .iter()
        .map(|proposal| proposal.noticed.iter().find(|n| n.sense == sense))
        .collect();
    if told.iter().all(Option::is_none) {
        return;
    }
    let _ = write!(html, "<tr><th scope=\"row\">{name}</th>");
    for noticed in told {
        let cell = noticed.map_or_else(String::new, dots);
        let _ = write!(html, "<td>{cell}</td>");
    }
    html.push_str("</tr>\n");
}

/// The steps as dots, in words for who does not see them.
fn dots(noticed: &Noticed) -> String {
    let full = noticed.steps.abs().round().max(1.0) as usize;
    let dot = "<i class=\"dot\"></i>";
    let shown = match noticed.verdict {
        Difference::Same => "=".to_owned(),
        Difference::Hardly => "<i class=\"dot half\"></i>".to_owned(),
        Difference::Noticeable => dot.repeat(full.min(MOST_DOTS - 1)),
        Difference::AnotherBeer => dot.repeat(MOST_DOTS),
    };
    let sign = match (noticed.verdict, noticed.steps < 0.0) {
        (Difference::Same, _) => "",
        (_, true) => "↓",
        (_, false) => "↑",
    };
    format!(
        "<span class=\"dots\" role=\"img\" aria-label=\"{0}\" title=\"{0}\">{sign}{shown}</span>",
        escaped(&noticed.text)
    )
}
