//! What each cause does to each figure: one run of the forward model for each input that can move it.

use super::bend::{Bend, Moves};
use super::cause::CauseKind;
use super::figure::{Family, PredictedFigure};
use super::input::{Input, Known, Lots, inputs};
use super::measure::Measurement;
use super::together::of_lots;
use super::wide;
use crate::process::brew::{Brewed, Worked};
use crate::process::figures::Figures;

/// Row "bitterness models, plant not calibrated", a part of it (two analysed beers, partly read).
pub(super) const BITTERNESS_MODEL: f64 = 0.25;
/// Row "bitterness models, plant calibrated", a part of it (from memory).
pub(super) const BITTERNESS_CALIBRATED: f64 = 0.10;
/// Row "colour by Morey, not calibrated", a part of it (partly seen).
pub(super) const COLOUR_MODEL: f64 = 0.20;
/// Row "colour, plant calibrated", a part of it (from memory).
pub(super) const COLOUR_CALIBRATED: f64 = 0.08;
/// Row "alcohol from extracts (formula)", % by volume (derived).
pub(super) const ALCOHOL_FORMULA: f64 = 0.10;

/// An input is bent by this part of its sigma, so that a curve of the model is followed at its start.
const STEP: f64 = 0.05;

/// Everything that is looked at: the figures, and what is read on the day before they are there.
const FIGURES: usize = PredictedFigure::ALL.len();
const ALL: usize = FIGURES + 3;
/// Where the readings around the boil stand.
pub(super) const PRE_BOIL_L: usize = FIGURES;
pub(super) const PRE_BOIL_PLATO: usize = FIGURES + 1;
pub(super) const POST_BOIL_L: usize = FIGURES + 2;

/// A number for each figure and reading.
pub(super) type Each<T> = [T; ALL];

/// The numbers of a brew.
pub(super) fn numbers(brewed: &Brewed) -> Each<Option<f64>> {
    let figures = Figures::predicted(brewed);
    let mut all = [None; ALL];
    for (figure, number) in PredictedFigure::ALL.iter().zip(&mut all) {
        *number = match figure {
            // A prediction keeps it below a whole, which the first order knows nothing of.
            PredictedFigure::ExtractYield => brewed.mash_yield.map(|share| 100.0 * share),
            _ => figure.of(&figures),
        };
    }
    let [.., pre_boil_l, pre_boil_plato, post_boil_l] = &mut all;
    *pre_boil_l = Some(brewed.run.volume_l);
    *pre_boil_plato = Some(brewed.run.wort.real_extract().plato());
    *post_boil_l = Some(brewed.boiled.volume_l);
    all
}

/// The same with what is not found by running a brew.
pub(super) fn with_others(brewed: &Brewed, predicted: &Figures) -> Each<Option<f64>> {
    let mut all = numbers(brewed);
    for (figure, number) in PredictedFigure::ALL.into_iter().zip(&mut all) {
        if matches!(
            figure,
            PredictedFigure::MashPh | PredictedFigure::Carbonation
        ) {
            *number = figure.of(predicted);
        }
    }
    all
}

/// What one sigma of a cause does to every figure.
#[derive(Debug, Clone)]
pub(super) struct Effect {
    pub(super) kind: CauseKind,
    pub(super) name: Option<String>,
    pub(super) measured: Option<(Measurement, f64)>,
    of: Option<Lots>,
    pub(super) by: Each<f64>,
}

impl Effect {
    /// Whether the same error is in both brews: of one lot, or of one model.
    fn is_shared_with(&self, other: &Self) -> bool {
        let is_of_one_lot = self.of.is_some() && self.of == other.of;
        self.kind == other.kind && (self.of_a_model() || is_of_one_lot)
    }

    /// Whether a model of the crate is what is not exact.
    pub(super) const fn of_a_model(&self) -> bool {
        matches!(
            self.kind,
            CauseKind::BitternessModel | CauseKind::ColourModel | CauseKind::AlcoholFormula
        )
    }
}

/// What of those is in another brew too, as it is there.
pub(super) fn shared_effects(effects: &[Effect], there: &Worked, known: Known<'_>) -> Vec<Effect> {
    let all = inputs(there, known);
    let lots = effects
        .iter()
        .filter_map(|here| Some((here.kind, here.of.as_ref()?)));
    let inputs: Vec<Input> = lots
        .filter_map(|(kind, lots)| of_lots(&all, kind, lots))
        .collect();
    effects_of(there, &inputs)
}

/// Those of the difference between two brews: what both share counts by how differently it moves them, and what the other has alone is
/// none of its causes, since its sheet was read so that its printed figures hold.
pub(super) fn of_difference(here: &[Effect], there: &[Effect]) -> Vec<Effect> {
    let differ = |effect: &Effect| {
        let mut effect = effect.clone();
        if let Some(other) = there.iter().find(|other| effect.is_shared_with(other)) {
            for (by, there) in effect.by.iter_mut().zip(&other.by) {
                *by -= there;
            }
        }
        effect
    };
    here.iter().map(differ).collect()
}

pub(super) fn effects_of(worked: &Worked, inputs: &[Input]) -> Vec<Effect> {
    let base = numbers(&worked.brewed);
    let slopes = slopes(worked, inputs, &base);
    let mut found: Vec<_> = inputs
        .iter()
        .map(|input| {
            let slope = slopes.iter().find(|(bend, _)| **bend == input.bend);
            let mut by = slope.map_or([0.0; ALL], |(_, slope)| *slope);
            for by in &mut by {
                *by *= input.sigma;
            }
            Effect {
                kind: input.kind,
                name: input.name.clone(),
                measured: input.measured,
                of: input.of.clone(),
                by,
            }
        })
        .collect();
    let number = |figure: PredictedFigure| {
        place(figure)
            .and_then(|at| base.get(at).copied().flatten())
            .unwrap_or_default()
    };
    let bitterness = |figure: PredictedFigure| match figure.family() {
        Family::Bitterness => BITTERNESS_MODEL * number(figure),
        _ => 0.0,
    };
    let colour = |figure: PredictedFigure| match figure.family() {
        Family::Colour => COLOUR_MODEL * number(figure),
        _ => 0.0,
    };
    let alcohol = |figure: PredictedFigure| {
        if figure.is_alcohol() && number(figure) > 0.0 {
            ALCOHOL_FORMULA
        } else {
            0.0
        }
    };
    let by_laboratory = (
        Measurement::BeerBitterness,
        BITTERNESS_CALIBRATED / BITTERNESS_MODEL,
    );
    found.push(by_model(
        CauseKind::BitternessModel,
        Some(by_laboratory),
        &bitterness,
    ));
    let by_laboratory = (Measurement::BeerColour, COLOUR_CALIBRATED / COLOUR_MODEL);
    found.push(by_model(
        CauseKind::ColourModel,
        Some(by_laboratory),
        &colour,
    ));
    found.push(by_model(CauseKind::AlcoholFormula, None, &alcohol));
    found
}

pub(super) fn place(wanted: PredictedFigure) -> Option<usize> {
    PredictedFigure::ALL
        .iter()
        .position(|figure| *figure == wanted)
}

pub(super) fn by_model(
    kind: CauseKind,
    measured: Option<(Measurement, f64)>,
    by: &dyn Fn(PredictedFigure) -> f64,
) -> Effect {
    let mut all = [0.0; ALL];
    for (figure, effect) in PredictedFigure::ALL.into_iter().zip(&mut all) {
        *effect = by(figure);
    }
    Effect {
        kind,
        name: None,
        measured,
        of: None,
        by: all,
    }
}

/// What each bend does to every figure, for a bend of one. Bends that cannot move the same figure share a run.
fn slopes<'a>(
    worked: &Worked,
    inputs: &'a [Input],
    base: &Each<Option<f64>>,
) -> Vec<(&'a Bend, Each<f64>)> {
    let mut distinct: Vec<&Input> = Vec::new();
    for input in inputs {
        if !distinct.iter().any(|other| other.bend == input.bend) {
            distinct.push(input);
        }
    }
    let of = |moves: Moves| {
        distinct
            .iter()
            .copied()
            .filter(move |input| input.bend.moves() == moves)
    };
    let (wide, straight): (Vec<&Input>, Vec<&Input>) =
        of(Moves::Any).partition(|input| wide::bends(input, worked).is_some());
    let mut runs: Vec<Vec<&Input>> = straight.into_iter().map(|input| vec![input]).collect();
    let (mut bitter, mut coloured) = (of(Moves::Bitterness), of(Moves::Colour));
    loop {
        let shared: Vec<_> = bitter.next().into_iter().chain(coloured.next()).collect();
        if shared.is_empty() {
            break;
        }
        runs.push(shared);
    }
    let mut found = Vec::with_capacity(distinct.len());
    for run in runs {
        let bends = run.iter().map(|input| (&input.bend, STEP * input.sigma));
        let bent = bent(worked, bends);
        for input in run {
            found.push((&input.bend, slope(input, base, &bent)));
        }
    }
    for input in wide {
        if let Some(bends) = wide::bends(input, worked) {
            let sides = bends.map(|by| bent(worked, [(&input.bend, by)].into_iter()));
            found.push((&input.bend, wide_slope(bends, base, &sides)));
        }
    }
    found
}

/// The numbers of a brew that is bent.
fn bent<'a>(worked: &Worked, bends: impl Iterator<Item = (&'a Bend, f64)>) -> Each<Option<f64>> {
    let (mut setup, mut amounts) = (worked.setup.clone(), worked.amounts.clone());
    for (bend, by) in bends {
        bend.apply(by, &mut setup, &mut amounts);
    }
    numbers(&setup.brew(&amounts))
}

/// What a wide factor does by one sigma of it, from what its two sides moved.
fn wide_slope(
    bends: [f64; 2],
    base: &Each<Option<f64>>,
    [below, above]: &[Each<Option<f64>>; 2],
) -> Each<f64> {
    let mut slopes = [0.0; ALL];
    let moved = base.iter().zip(below.iter().zip(above));
    for ((base, (below, above)), slope) in moved.zip(&mut slopes) {
        if let (Some(base), Some(below), Some(above)) = (base, below, above) {
            *slope = wide::slope(bends, [below - base, above - base]);
        }
    }
    slopes
}

/// What one of them did of all that a run moved.
fn slope(input: &Input, base: &Each<Option<f64>>, bent: &Each<Option<f64>>) -> Each<f64> {
    let mut slope = [0.0; ALL];
    let moved = base.iter().zip(bent).zip(&mut slope).enumerate();
    for (at, ((base, bent), slope)) in moved {
        let family = PredictedFigure::ALL
            .get(at)
            .map_or(Family::Other, |figure| figure.family());
        let is_its_own = match input.bend.moves() {
            Moves::Any => true,
            Moves::Bitterness => family == Family::Bitterness,
            Moves::Colour => family == Family::Colour,
        };
        if let (true, Some(base), Some(bent)) = (is_its_own, base, bent) {
            *slope = (bent - base) / (STEP * input.sigma);
        }
    }
    slope
}
