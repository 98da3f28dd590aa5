//! The head of a sheet: what is brewed, what it comes to, what could not be met.

use super::addition::{amount, replaced_by};
use super::cautions::Cautions;
use super::page::Page;
use super::spread::{LEGEND_OF_THE_DAY, said, said_with_spread};
use super::{BestSubstitute, Sheet, SheetOptions, cellar};
use crate::catalogue::{EntryRef, Kind};
use crate::process::{Figures, PredictedFigure, Spread, Warning};
use crate::quantity::UnitSystem;
use crate::scale::{Outcome, Plan, PlannedAddition};
use crate::speech::{Speaks, Style};

/// Title, source and figures.
pub(super) fn print(page: &mut Page, plan: &Plan, sheet: Sheet, style: Style) {
    page.title(&plan.recipe.name.to_uppercase(), "=");
    let batch = style.volume(plan.volumes.into_fermenter);
    let brewhouse = &plan.brewhouse.name;
    let brewed = match sheet {
        Sheet::ToBrew => format!("{batch} into the fermenter, brewhouse {brewhouse}"),
        Sheet::Impossible => {
            format!("requested: {batch} into the fermenter, brewhouse {brewhouse}")
        }
    };
    let source = plan.recipe.source.as_ref();
    let source = source.map_or_else(String::new, |source| format!("; based on: {source}"));
    page.paragraph(&format!("{brewed}{source}"));
    if sheet == Sheet::ToBrew {
        let number = match style.system {
            UnitSystem::Us => "batch no.",
            UnitSystem::Metric | UnitSystem::Imperial => "gyle no.",
        };
        page.lines_of_blanks(
            &format!("   {number} __________   "),
            &["date ______________", "brewer ________________________"],
        );
    }
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

/// The columns of a table of figures.
struct Columns<'a> {
    original: Figures,
    target: &'a Figures,
    brewed: &'a Figures,
    spread: Option<&'a Spread>,
    style: Style,
    /// How many are shown: what the plant cannot brew has no figures of its own.
    shown: usize,
}

impl Columns<'_> {
    fn of(plan: &Plan, sheet: Sheet, style: Style) -> Columns<'_> {
        Columns {
            original: printed(&plan.published, &plan.predicted),
            target: &plan.source,
            brewed: &plan.predicted,
            spread: plan.spread.as_ref(),
            style,
            shown: match sheet {
                Sheet::ToBrew => 4,
                Sheet::Impossible => 2,
            },
        }
    }

    fn heads(&self, page: &mut Page) {
        let heads = ["original sheet", "target", "this brew", "measured"];
        self.row(page, "", heads);
    }

    fn row(&self, page: &mut Page, name: &str, cells: [&str; 4]) {
        let cells: Vec<_> = cells.into_iter().take(self.shown).collect();
        page.columns(name, &cells);
    }

    /// Whether two figures of the brew look different on the sheet.
    fn differ(&self, one: PredictedFigure, other: PredictedFigure) -> bool {
        said(one, self.brewed, self.style) != said(other, self.brewed, self.style)
    }

    /// A figure in every column; nothing where none has it. The blank is for what a small brewer can measure.
    fn figure(&self, page: &mut Page, (name, figure): (&str, PredictedFigure), blank: &str) {
        let of = |figures: &Figures| said(figure, figures, self.style);
        let original = of(&self.original);
        let brewed = said_with_spread(figure, (self.brewed, self.spread), self.style);
        if original.is_none() && brewed.is_none() {
            return;
        }
        let cell = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
        let (original, target) = (cell(original), cell(of(self.target)));
        self.row(page, name, [&original, &target, &cell(brewed), blank]);
    }
}

fn figures(page: &mut Page, plan: &Plan, sheet: Sheet, style: Style) {
    use PredictedFigure as F;
    let columns = Columns::of(plan, sheet, style);
    columns.heads(page);
    let blank = "________";
    let what = fruit_or_juice(plan);
    let dry = format!("   if the {what} ferments out fully");
    let colour = format!("Colour with {what} (estimate)");
    for (name, figure, blank) in [
        ("Original gravity", F::Original, blank),
        ("Final gravity", F::Final, blank),
        (&*dry, F::FinalIfJuiceFerments, ""),
        ("Alcohol", F::Alcohol, blank),
        (&dry, F::AlcoholIfJuiceFerments, ""),
        (
            "Original gravity incl. additions",
            F::EquivalentOriginal,
            "",
        ),
        ("Bitterness", F::Bitterness, ""),
        ("Colour from malt", F::Colour, ""),
        (&colour, F::ColourWithJuice, ""),
        ("Wort into the fermenter", F::Batch, blank),
        ("Beer after fermentation", F::Finished, blank),
    ] {
        let is_told = match figure {
            F::EquivalentOriginal => plan.predicted.before_addition.is_some(),
            F::FinalIfJuiceFerments => columns.differ(figure, F::Final),
            F::AlcoholIfJuiceFerments => columns.differ(figure, F::Alcohol),
            _ => true,
        };
        if is_told {
            columns.figure(page, (name, figure), blank);
        }
    }
    if plan.spread.is_some() && sheet == Sheet::ToBrew {
        page.hung("   ", LEGEND_OF_THE_DAY);
    }
}

/// What the later additions of fruit are called.
pub(super) fn fruit_or_juice(plan: &Plan) -> &'static str {
    let catalogue = &plan.brews().catalogue;
    let juices = || plan.additions.iter().filter(|a| a.kind == Kind::Juice);
    let is_fruit = |a: &PlannedAddition| {
        let ingredient = a.ingredient();
        let found = catalogue.find(ingredient.catalogue_name());
        let is_whole = found.is_some_and(|found| match found.entry {
            EntryRef::Juice(row) => row.is_whole_fruit(),
            _ => false,
        });
        is_whole || ingredient.facts.fruit_form.is_some()
    };
    match (juices().any(is_fruit), juices().any(|a| !is_fruit(a))) {
        (true, true) => "fruit and juice",
        (true, false) => "fruit",
        (false, true) => "juice",
        (false, false) => "additions",
    }
}

/// The bitterness by either model, where they differ from what the head says.
pub(super) fn bitterness(page: &mut Page, plan: &Plan, style: Style) {
    // The head has the spread of the one in use.
    let mut columns = Columns::of(plan, Sheet::ToBrew, style);
    columns.spread = None;
    // One model alone is that of the head.
    let both = [
        PredictedFigure::BitternessTinseth,
        PredictedFigure::BitternessKinetic,
    ];
    let is_missing = |figure| said(figure, &plan.predicted, style).is_none();
    let [tinseth, kinetic] = both;
    let agree = |figures: &Figures| said(tinseth, figures, style) == said(kinetic, figures, style);
    let all = [&columns.original, columns.target, columns.brewed];
    if both.into_iter().any(is_missing) || all.into_iter().all(agree) {
        return;
    }
    page.heading("BITTERNESS BY MODEL");
    page.paragraph("Target = the original recipe calculated for its own brewhouse.");
    columns.row(page, "", ["original sheet", "target", "this brew", ""]);
    for row in [
        ("Bitterness by Tinseth", PredictedFigure::BitternessTinseth),
        (
            "   by isomerisation kinetics",
            PredictedFigure::BitternessKinetic,
        ),
    ] {
        columns.figure(page, row, "");
    }
}

impl Plan {
    /// What must be resolved before brew day, line by line: plants that must not go in, a beer out of reach with its ways out,
    /// what is not available with the substitutes of the options, vessels that run over or burst. Of a beer out of reach the
    /// sheet is that of [`Plan::with_first_remedy`].
    #[must_use]
    pub fn to_resolve(&self, options: &SheetOptions) -> Vec<String> {
        let style = options.style.unwrap_or_else(|| self.brewhouse.style());
        let relieved = self.with_first_remedy();
        let plans = match &relieved {
            Some(plan) => (plan, Some(self)),
            None => (self, None),
        };
        let mut cautions = Cautions::of(plans.0, style);
        not_met(plans, &mut cautions, (style, &options.substitutes))
    }
}

/// What could not be met and what must not go in. The plan is that of the sheet; `wanted` the one before its first way out was
/// taken, where it has one.
fn not_met(
    (plan, wanted): (&Plan, Option<&Plan>),
    cautions: &mut Cautions,
    (style, substitutes): (Style, &[BestSubstitute]),
) -> Vec<String> {
    let mut told: Vec<_> = cautions
        .stops()
        .iter()
        .map(|caution| caution.text(style))
        .collect();
    let wanted = wanted.map_or(&[][..], |wanted| &wanted.outcomes);
    let unreached = wanted.iter().filter(|told| told.what.stops_with_remedy());
    for outcome in unreached {
        let text = outcome.text(style);
        let (problem, _) = text.split_once(" Options: ").unwrap_or((&text, ""));
        told.push(format!("{problem} THIS SHEET IS FOR OPTION 1."));
        let ways = outcome.what.ways_out(style).into_iter().enumerate();
        told.extend(ways.map(|(number, way)| format!("Option {}: {way}.", number + 1)));
    }
    told.extend(plan.outcomes.iter().map(|outcome| match &outcome.what {
        Outcome::CannotBeBought { name } => match substitute_of(name, substitutes) {
            Some(best) => format!("No {name}: use {} ({}).", best.with, best.difference),
            None => outcome.text(style),
        },
        _ => outcome.text(style),
    }));
    // Taken, each has its amount of this sheet.
    told.extend(substitutes.iter().filter_map(|best| {
        let with = replaced_by(plan, &best.missing)?.iter().map(|name| {
            let mut additions = plan.additions.iter();
            let addition = additions.find(|addition| addition.name == *name);
            let amount =
                addition.map_or_else(String::new, |addition| amount(plan, addition, style));
            format!("{amount} {name}").trim_start().to_owned()
        });
        let with: Vec<_> = with.collect();
        let (missing, difference) = (&best.missing, &best.difference);
        Some(format!(
            "No {missing}: use {} ({difference}).",
            with.join(" + ")
        ))
    }));
    let stops = plan.warnings.iter();
    let stops = stops.filter(|warning| stands_at_the_head(plan, warning));
    told.extend(stops.map(|warning| warning.text(style)));
    told
}

/// The same in a box: first, and loud.
pub(super) fn resolved_first(
    page: &mut Page,
    plans: (&Plan, Option<&Plan>),
    cautions: &mut Cautions,
    of: (Style, &[BestSubstitute]),
) {
    let told = not_met(plans, cautions, of);
    if told.is_empty() {
        return;
    }
    page.title("STOP: RESOLVE THIS BEFORE BREW DAY", "!");
    for text in told {
        page.hung("!! ", &text);
    }
}

/// What a host names for an ingredient that is not available.
pub(super) fn substitute_of<'a>(
    name: &str,
    known: &'a [BestSubstitute],
) -> Option<&'a BestSubstitute> {
    known.iter().find(|best| best.missing == name)
}

/// Whether a warning stops the day: a fermenter that runs over does, or one that is tight for fruit, whose cap rises; one that is
/// merely tight does not; and a container that may burst does.
pub(super) fn stands_at_the_head(plan: &Plan, warning: &Warning) -> bool {
    match warning {
        Warning::FermenterSmall { .. } => cellar::overflows(plan) || cellar::has_cap(plan),
        Warning::PackageOverLimit { .. }
        | Warning::KegOverLimit { .. }
        | Warning::HopCreepSealed { .. } => true,
        _ => false,
    }
}

/// What follows the head of an impossible brew: why nothing does.
pub(super) fn no_amounts(page: &mut Page) {
    page.gap();
    page.paragraph(
        "No amounts are shown because this brewhouse cannot make this batch. Choose one of the options above, or change the brewhouse or the recipe, and scale again.",
    );
}
