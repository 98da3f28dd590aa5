//! What was assumed, grouped by how much it matters: by its share of the variance of the figures at the head.

use super::addition::{dissolves_before_boil, is_in_bag, is_mashed};
use super::page::Page;
use super::schedule::{
    BAG_DRAINS_MIN, BATCH_DRAINS_MIN, CONTINUOUS_RUN_OFF_MIN, DECOCTION_MIN, DISSOLVES_MIN,
    HotSideStep, Schedule,
};
use crate::numeric::order;
use crate::process::{
    Assumption, Cause, CauseKind, Defaulted, Figure, PredictedFigure, Side, Spread, Unused,
    mash_kj_per_k, rise_c_per_min,
};
use crate::quantity::in_minutes;
use crate::recipe::{CoolingMethod, Lauter};
use crate::scale::Plan;
use crate::science::fermentability::RISE_C_PER_MIN;
use crate::science::heat::StepWork;
use crate::speech::{Noted, Speaks, Style, TemperatureScale, shortest};

/// The figures whose spread says what matters.
const FIGURES: [PredictedFigure; 6] = [
    PredictedFigure::Original,
    PredictedFigure::Final,
    PredictedFigure::Alcohol,
    PredictedFigure::Bitterness,
    PredictedFigure::Colour,
    PredictedFigure::Batch,
];
/// What makes up less than this of every figure's variance does not matter much (rule of the crate).
const MATTERS: f64 = 0.1;

/// The assumptions: first those that matter, each alone, then figures of the ingredient table and of plants in one paragraph
/// each, and the rest one by one.
pub(super) fn print(
    page: &mut Page,
    (assumptions, spread): (&[Noted<Assumption>], Option<&Spread>),
    style: Style,
) {
    if assumptions.is_empty() {
        return;
    }
    page.heading("ASSUMPTIONS");
    let mut list = Assumed::default();
    let has_no_ph = |assumption: &Noted<Assumption>| {
        matches!(&assumption.what, Assumption::MashPhNotPredicted { .. })
    };
    list.has_no_ph = assumptions.iter().any(has_no_ph);
    let has_no_mash = |assumption: &Noted<Assumption>| {
        let what = &assumption.what;
        matches!(what, Assumption::MashFermentability { is_mashed, .. } if !is_mashed)
    };
    list.has_no_mash = assumptions.iter().any(has_no_mash);
    for assumption in assumptions {
        list.take(&assumption.what, spread, style);
    }
    list.print(page);
}

/// The assumptions of a plan, sorted.
#[derive(Debug, Default)]
struct Assumed<'a> {
    has_no_ph: bool,
    /// Malt extract alone: nothing converts, and what a plant does with a mash moves no figure.
    has_no_mash: bool,
    /// Each with its share of a figure's variance.
    matter: Vec<(f64, String)>,
    others: Vec<String>,
    of_source: Vec<String>,
    of_target: Vec<String>,
    from_table: FiguresOf<'a>,
    from_own: FiguresOf<'a>,
}

impl<'a> Assumed<'a> {
    fn take(&mut self, assumption: &'a Assumption, spread: Option<&Spread>, style: Style) {
        match assumption {
            // The line on the water report says so too.
            Assumption::ChangesNoFigure {
                what: Unused::MashPh,
                ..
            } if self.has_no_ph => {}
            Assumption::PlantDefault { what, .. } if self.has_no_mash && is_of_mash(*what) => {}
            Assumption::YieldInferred { .. } if self.has_no_mash => {}
            Assumption::CatalogueFigures { name, figures } => {
                let rest = self.figures(name, figures, ("typical value", spread));
                collect(&mut self.from_table, name, &rest);
            }
            Assumption::OwnFigures { name, figures } => {
                let rest = self.figures(name, figures, ("your own entry or its base", spread));
                collect(&mut self.from_own, name, &rest);
            }
            Assumption::PlantDefault {
                side: Side::Source,
                what,
                value,
            } => self.of_source.push(what.say(*value, style)),
            Assumption::PlantDefault {
                side: Side::Target,
                what,
                value,
            } => {
                let kind = cause_of_plant(*what);
                let weight = kind.and_then(|kind| Weight::of(spread?, |cause| cause.kind == kind));
                match weight {
                    Some(weight) => {
                        let said = format!("Assumed: {}, not given", what.say(*value, style));
                        self.matter.push(weight.beside(&said));
                    }
                    None => self.of_target.push(what.say(*value, style)),
                }
            }
            other => {
                let weight = Weight::of_assumption(other, spread);
                match weight {
                    Some(weight) => self.matter.push(weight.beside(&other.text(style))),
                    None => self.others.push(other.text(style)),
                }
            }
        }
    }

    /// Takes the figures of an ingredient that matter; the others are left.
    fn figures(
        &mut self,
        name: &str,
        figures: &[Figure],
        (origin, spread): (&str, Option<&Spread>),
    ) -> Vec<Figure> {
        let mut rest = figures.to_vec();
        rest.retain(|figure| {
            let kinds = causes_of_figure(*figure);
            let is_of =
                |cause: &Cause| kinds.contains(&cause.kind) && cause.name.as_deref() == Some(name);
            let weight = spread.and_then(|spread| Weight::of(spread, is_of));
            if let Some(weight) = &weight {
                let said = format!("Assumed: {} of {name}, {origin}", figure.word());
                self.matter.push(weight.beside(&said));
            }
            weight.is_none()
        });
        rest
    }

    fn print(mut self, page: &mut Page) {
        order::sort_by(&mut self.matter, |a, b| b.0.total_cmp(&a.0));
        // One lot may go in twice.
        self.matter.dedup_by(|a, b| a.1 == b.1);
        let has_groups = !self.matter.is_empty();
        if has_groups {
            page.paragraph("Most important:");
        }
        for (_, said) in &self.matter {
            page.point(said);
        }
        if has_groups {
            page.paragraph("Less important:");
        }
        for said in &self.others {
            page.point(said);
        }
        for (plant, list) in [
            ("the original brewhouse", self.of_source),
            ("your brewhouse", self.of_target),
        ] {
            if !list.is_empty() {
                page.point(&format!(
                    "Assumed, typical values where {plant} gives none: {}",
                    list.join(", ")
                ));
            }
        }
        for (whose, figures) in [
            (
                "from your own ingredient entries, or the entries they are based on",
                self.from_own,
            ),
            ("typical values from the ingredient table", self.from_table),
        ] {
            if !figures.is_empty() {
                page.point(&format!(
                    "Assumed, {whose}, where sheet and stock give none: {}",
                    by_figures(figures)
                ));
            }
        }
    }
}

/// How much something matters: the figure that depends on it most, and its share of that one's variance.
struct Weight {
    figure: PredictedFigure,
    share: f64,
}

impl Weight {
    /// Of all causes that are meant, together; none where they do not matter.
    fn of(spread: &Spread, is_meant: impl Fn(&Cause) -> bool) -> Option<Self> {
        let of_figure = |figure: PredictedFigure| {
            let causes = spread.of(figure)?.causes.iter();
            let share = causes.filter(|cause| is_meant(cause));
            let share = share.map(|cause| cause.share.fraction()).sum();
            Some(Self { figure, share })
        };
        let all = FIGURES.into_iter().filter_map(of_figure);
        let most = all.max_by(|a, b| a.share.total_cmp(&b.share))?;
        (most.share >= MATTERS).then_some(most)
    }

    fn of_assumption(assumption: &Assumption, spread: Option<&Spread>) -> Option<Self> {
        let kinds = causes_of(assumption);
        Self::of(spread?, |cause| kinds.contains(&cause.kind))
    }

    /// A sentence with it, to be sorted by it.
    fn beside(&self, said: &str) -> (f64, String) {
        let share = format!("{:.0} %", 100.0 * self.share);
        let figure = self.figure.words();
        (
            self.share,
            format!("{said} ({share} of the spread of {figure})"),
        )
    }
}

/// Whether a default of the plant is one of its mash.
const fn is_of_mash(what: Defaulted) -> bool {
    matches!(
        what,
        Defaulted::Conversion
            | Defaulted::Absorption
            | Defaulted::LiquorRatio
            | Defaulted::ExtractYield
            | Defaulted::Bag
            | Defaulted::BatchSparge
            | Defaulted::SpargeMixing
    )
}

/// What a default of the plant moves.
const fn cause_of_plant(what: Defaulted) -> Option<CauseKind> {
    match what {
        Defaulted::Conversion => Some(CauseKind::Conversion),
        Defaulted::Absorption => Some(CauseKind::Absorption),
        Defaulted::ExtractYield => Some(CauseKind::ExtractYield),
        Defaulted::Evaporation => Some(CauseKind::Evaporation),
        Defaulted::KettleLoss => Some(CauseKind::KettleLoss),
        Defaulted::FermenterLoss => Some(CauseKind::FermenterLoss),
        _ => None,
    }
}

/// What a figure of an ingredient moves.
const fn causes_of_figure(figure: Figure) -> &'static [CauseKind] {
    match figure {
        Figure::Extract | Figure::Moisture | Figure::Brix => &[CauseKind::Extract],
        Figure::Colour => &[CauseKind::Colour],
        Figure::Alpha => &[CauseKind::Alpha],
        Figure::Fermentability => &[
            CauseKind::JuiceFermentability,
            CauseKind::MaltFermentability,
        ],
        Figure::Attenuation => &[CauseKind::Attenuation],
        Figure::Alcohol => &[CauseKind::DrinkAlcohol],
        Figure::DiastaticPower => &[],
    }
}

/// What an assumption of another kind moves on the brewhouse to brew on.
const fn causes_of(assumption: &Assumption) -> &'static [CauseKind] {
    match assumption {
        Assumption::MashFermentability { .. } => &[
            CauseKind::MaltFermentability,
            CauseKind::MashRests,
            CauseKind::KilnedFermentability,
        ],
        Assumption::AttenuationCompared { .. } => &[CauseKind::Attenuation],
        Assumption::KeptInKettle {
            side: Side::Target, ..
        } => &[CauseKind::HopsKeep],
        _ => &[],
    }
}

/// Ingredients, and the figures that an entry gave for each.
type FiguresOf<'a> = Vec<(&'a str, Vec<Figure>)>;

/// One ingredient may be named twice: as the sheet has it and as the lot in stock.
fn collect<'a>(known: &mut FiguresOf<'a>, name: &'a str, figures: &[Figure]) {
    if figures.is_empty() {
        return;
    }
    let at = known.iter().position(|(of, _)| *of == name);
    let at = at.unwrap_or_else(|| {
        known.push((name, Vec::new()));
        known.len() - 1
    });
    let Some((_, known)) = known.get_mut(at) else {
        return;
    };
    for figure in figures {
        if let Err(place) = known.binary_search(figure) {
            known.insert(place, *figure);
        }
    }
}

/// Those with the same figures together.
fn by_figures(ingredients: FiguresOf<'_>) -> String {
    let mut groups: Vec<(Vec<Figure>, Vec<&str>)> = Vec::new();
    for (name, figures) in ingredients {
        match groups.iter_mut().find(|(known, _)| *known == figures) {
            Some((_, names)) => names.push(name),
            None => groups.push((figures, vec![name])),
        }
    }
    let said: Vec<_> = groups
        .iter()
        .map(|(figures, names)| {
            let words: Vec<_> = figures.iter().map(|figure| figure.word()).collect();
            format!("{} of {}", words.join(", "), names.join(", "))
        })
        .collect();
    said.join("; ")
}

/// What the clock assumes for the steps whose time is not given.
pub(super) fn clock(page: &mut Page, (plan, schedule): (&Plan, &Schedule), style: Style) {
    let rate = |c_per_min: f64, digits| match style.temperature {
        TemperatureScale::Celsius => format!("{} °C", shortest(c_per_min, digits)),
        TemperatureScale::Fahrenheit => format!("{} °F", shortest(1.8 * c_per_min, digits - 1)),
    };
    let target = &plan.brews().target;
    let mut assumed = vec![match target.setup.plant.heat_kw {
        Some(kw) => {
            let mash = mash_kj_per_k(target.brewed.grist, target.amounts.liquor.mash_l);
            let mash = rate(rise_c_per_min(&target.setup.plant, mash), 1);
            let kw = shortest(kw, 2);
            format!(
                "{kw} kW of the heater's power reach mash and wort; the mash rises {mash} per minute"
            )
        }
        None => format!(
            "water, mash and wort rise {} per minute",
            rate(RISE_C_PER_MIN, 1)
        ),
    }];
    if is_mashed(plan) {
        assumed.push(match &plan.brewhouse.lauter {
            Some(Lauter::Batch(_)) => {
                format!("{BATCH_DRAINS_MIN:.0} min for each drain of the tun")
            }
            _ if is_in_bag(plan) => {
                format!("{BAG_DRAINS_MIN:.0} min for each drain of the bag")
            }
            _ => format!("{CONTINUOUS_RUN_OFF_MIN:.0} min to run off"),
        });
    }
    if target.setup.plant.heat_kw.is_some() && plan.water.sparge.is_some() {
        let rise = rate(RISE_C_PER_MIN, 1);
        assumed.push(format!("sparge water rises {rise} per minute"));
    }
    if plan
        .additions
        .iter()
        .any(|a| dissolves_before_boil(plan, a))
    {
        assumed.push(format!(
            "{DISSOLVES_MIN:.0} min to dissolve what boils from the start, and back to the boil"
        ));
    }
    let cooled = schedule.hot_side.iter().filter_map(|step| match step {
        HotSideStep::Stand { after_cooling, .. } => *after_cooling,
        HotSideStep::Cool { .. } => None,
    });
    assumed.extend(cooled.map(|time| {
        let by = match target.setup.plant.cooling.method {
            CoolingMethod::Coil => "with the coil",
            _ => "off the heat",
        };
        format!(
            "{:.0} min to cool to the stand, {by}",
            in_minutes(time).ceil()
        )
    }));
    let mut steps = plan.water.mash.iter().flat_map(|mash| &mash.steps);
    if steps.any(|step| matches!(step.work, StepWork::Decoct { .. })) {
        assumed.push(format!(
            "{DECOCTION_MIN:.0} min to draw, boil and return a decoction, besides heating it"
        ));
    }
    page.heading("CLOCK");
    page.paragraph(&format!("Assumed: {}.", assumed.join("; ")));
}
