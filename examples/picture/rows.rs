//! Rows of the tables to brew from: what is done and ticked, and what is measured, with a blank.

use super::page::{Brewing, escaped, list};
use std::fmt::Write as _;
use wortwright::caution::{BrewStep, Urgency};
use wortwright::process::{Stage, Warning};
use wortwright::quantity::Temperature;
use wortwright::scale::{Plan, PlannedAddition};
use wortwright::sheet::SheetReading;
use wortwright::speech::{Speaks as _, Style};

/// A table of one step of the day, under its heading, with the cautions of that step.
pub(crate) struct Rows {
    html: String,
    count: usize,
    /// Whether a column has the hour and minute.
    timed: bool,
}

impl Rows {
    pub(crate) fn new() -> Self {
        Self {
            html: String::new(),
            count: 0,
            timed: false,
        }
    }

    /// Rows of a table that goes by the clock.
    pub(crate) fn timed() -> Self {
        Self {
            timed: true,
            ..Self::new()
        }
    }

    /// Something to do, and how much of it.
    pub(crate) fn tick(&mut self, amount: &str, text: &str) {
        self.at("", amount, text);
    }

    /// The same at an hour and minute.
    pub(crate) fn at(&mut self, clock: &str, amount: &str, text: &str) {
        self.row(
            ("<span class=\"box\"></span>", clock),
            amount,
            &escaped(text),
        );
    }

    /// Something to measure, and what is expected.
    pub(crate) fn measure(&mut self, expected: &str, name: &str) {
        let name = escaped(name);
        let text = format!("{name} <span class=\"blank\"></span>");
        self.row(("»", ""), expected, &text);
    }

    /// What to do where the reading above is off.
    pub(crate) fn correct(&mut self, brewing: &Brewing<'_>, reading: SheetReading) {
        if let Some(told) = brewing.plan.correction(reading, brewing.style) {
            self.note(&told);
        }
    }

    /// Something to know.
    pub(crate) fn note(&mut self, text: &str) {
        self.count += 1;
        let text = escaped(text);
        let columns = if self.timed { 3 } else { 2 };
        let _ = writeln!(
            self.html,
            "<tr><td></td><td colspan=\"{columns}\" class=\"note\">{text}</td></tr>"
        );
    }

    fn row(&mut self, (mark, clock): (&str, &str), amount: &str, text: &str) {
        self.count += 1;
        let amount = escaped(amount);
        let clock = if self.timed {
            format!("<td class=\"clock\">{clock}</td>")
        } else {
            String::new()
        };
        let _ = writeln!(
            self.html,
            "<tr><td>{mark}</td>{clock}<td class=\"amount\">{amount}</td><td>{text}</td></tr>"
        );
    }

    /// The step, or nothing where there is nothing to do.
    pub(crate) fn under(self, title: &str, step: BrewStep, brewing: &Brewing<'_>) -> String {
        if self.count == 0 {
            return String::new();
        }
        let mut html = format!("<h3>{}</h3>\n", escaped(title));
        html.push_str(&cautions(brewing, step));
        let _ = writeln!(
            html,
            "<table class=\"amounts\"><tbody>\n{}</tbody></table>",
            self.html
        );
        html
    }
}

/// The cautions of a step; what stops the day stands at the head of the page.
pub(crate) fn cautions(brewing: &Brewing<'_>, step: BrewStep) -> String {
    let here = brewing.cautions.iter();
    let here = here.filter(|caution| caution.step == step && caution.urgency != Urgency::Stop);
    let texts: Vec<_> = here.map(|caution| caution.text(brewing.style)).collect();
    if texts.is_empty() {
        return String::new();
    }
    let mut html = String::from("<div class=\"care\">");
    list(&mut html, texts);
    html.push_str("</div>\n");
    html
}

/// The additions of a stage, in the order of the plan; without those that must not go into a drink.
pub(crate) fn at<'a>(
    brewing: &'a Brewing<'_>,
    stage: Stage,
) -> impl Iterator<Item = &'a PlannedAddition> {
    let meant = move |a: &&PlannedAddition| a.stage == stage && !is_blocked(brewing, &a.name);
    brewing.plan.additions.iter().filter(meant)
}

/// Whether a caution at the head forbids it.
pub(crate) fn is_blocked(brewing: &Brewing<'_>, name: &str) -> bool {
    brewing.cautions.iter().any(|caution| {
        caution.urgency == Urgency::Stop
            && caution.code == "botanical_block"
            && caution.text.contains(name)
    })
}

/// Whether what is closed could burst; the head says so, and nothing is primed.
pub(crate) fn may_burst(plan: &Plan) -> bool {
    plan.warnings.iter().any(|warning| {
        matches!(
            warning.what,
            Warning::PackageOverLimit { .. } | Warning::KegOverLimit { .. }
        )
    })
}

/// How much of an addition; nothing for a yeast that is pitched by cells.
pub(crate) fn amount(addition: &PlannedAddition, brewing: &Brewing<'_>) -> String {
    let Brewing { plan, style, .. } = *brewing;
    let packs = || {
        let packs = addition.pack_count?.packs();
        let word = if (packs - 1.0).abs() < 0.05 {
            "pack"
        } else {
            "packs"
        };
        Some(format!("{packs:.1} {word}").replace(".0 ", " "))
    };
    addition
        .mass
        .map(|mass| plan.weighed(mass, addition.kind, style))
        .or_else(|| addition.volume.map(|volume| style.volume(volume)))
        .or_else(packs)
        .unwrap_or_default()
}

/// The temperature at which volumes and gravities are meant.
pub(crate) fn cold(style: Style) -> String {
    Temperature::from_celsius(20.0)
        .map_or_else(|_| "20 °C".to_owned(), |cold| style.temperature(cold))
}

/// The name of an addition with the figures that its amount was calculated with.
pub(crate) fn described(addition: &PlannedAddition, brewing: &Brewing<'_>) -> String {
    brewing.plan.described(addition, brewing.style)
}
