//! How far each figure may be off, from what, and what would narrow it.

use super::cause::Cause;
use super::effect::{Each, Effect, POST_BOIL_L, PRE_BOIL_L, PRE_BOIL_PLATO, place};
use super::figure::PredictedFigure;
use super::input::VOLUME_MARKS;
use super::measure::{BestMeasurement, Measurement};
use crate::numeric::order;
use crate::quantity::{Extract, Share, SpecificGravity};
use crate::science::density::{extract_of, gravity_of};
use serde::Serialize;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// Row "hydrometer, two points checked": 1.0 g/L, as specific gravity (from memory).
pub(super) const HYDROMETER: f64 = 0.001;
/// So many causes are named.
const NAMED: usize = 3;
/// A spread below this is that of the model's own arithmetic, in any unit (rule of the crate).
const NOTHING: f64 = 1e-6;
/// A part of a variance that is that of the last digits (rule of the crate).
const DUST: f64 = 1e-9;
/// A measurement that leaves more than this part of a spread narrows nothing (rule of the crate).
const NARROWS: f64 = 0.97;
/// The figures for which a measurement is named.
const NARROWED: [PredictedFigure; 6] = [
    PredictedFigure::Original,
    PredictedFigure::Final,
    PredictedFigure::Alcohol,
    PredictedFigure::Bitterness,
    PredictedFigure::Colour,
    PredictedFigure::Batch,
];

/// How far a prediction may be off.
///
/// First order: each cause moves each figure by its slope times the cause's one sigma, and causes are independent of one another. Two
/// things are no matter of slopes and are counted as they are: a factor that is known to worse than a tenth (an evaporation that no
/// line states, the wort that hops keep), and a wort that may end above the gravity which an addition waits for, which is a cause of its
/// own ([`CauseKind::EndsAbove`](super::CauseKind::EndsAbove)). What is then left out is below 5 % of a sigma: 3.3 % at the most of
/// 200 plans against 10 000 draws each, but for the gravities around an addition that hardly ever waits in vain, of which so many draws
/// tell too little (12 ± 9 %).
///
/// One lot, one instrument and one model are one cause, wherever they count. A figure that depends on nothing uncertain has a spread of
/// zero; one of which nothing is known (diastatic power) has none. Of a recipe of hundreds of lines what is smallest of each kind counts
/// as one cause.
///
/// ```
/// use wortwright::{Job, process::PredictedFigure};
///
/// let beer = std::fs::read_to_string("examples/data/saltmarsh-lantern.gyle")?;
/// let home = std::fs::read_to_string("examples/data/stove-top.gyle")?;
/// let plan = Job::read([("beer", beer), ("home", home)])?.on("Stove top")?.plan()?;
/// let spread = plan.spread.as_ref().ok_or("switched off")?;
/// let bitterness = spread.of(PredictedFigure::Bitterness).ok_or("none")?;
/// // Of 19.6 IBU a quarter, by the model alone, is 4.9.
/// assert!(bitterness.one_sigma > 4.9 && bitterness.one_sigma < 5.2);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Spread {
    /// Of each figure.
    #[serde(flatten)]
    pub figures: BTreeMap<PredictedFigure, FigureSpread>,
    /// The one measurement that narrows each of the main figures most.
    pub measure: Vec<BestMeasurement>,
    /// Of what is read around the boil, which is no figure of the beer.
    #[serde(skip)]
    pub(crate) readings: KettleSpread,
}

/// One sigma of what is read around the boil.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct KettleSpread {
    pub(crate) pre_boil_l: f64,
    pub(crate) pre_boil_plato: f64,
    pub(crate) post_boil_l: f64,
}

/// How far one figure may be off.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct FigureSpread {
    /// Standard deviation, in the figure's unit.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub one_sigma: f64,
    /// The three causes that matter most, the largest first.
    pub causes: Vec<Cause>,
}

impl Spread {
    /// That of a figure; none where nothing is known of it.
    pub fn of(&self, figure: PredictedFigure) -> Option<&FigureSpread> {
        self.figures.get(&figure)
    }

    /// That of all figures which have a number, by what moves them.
    pub(super) fn by(effects: &[Effect], numbers: &Each<Option<f64>>) -> Self {
        let known = |(at, figure): (usize, PredictedFigure)| {
            numbers.get(at)?.as_ref()?;
            Some((figure, FigureSpread::by(effects, at)))
        };
        let figures = PredictedFigure::ALL.into_iter().enumerate();
        let figures: BTreeMap<_, _> = figures.filter_map(known).collect();
        let narrowed = NARROWED.into_iter();
        let measure = narrowed
            .filter_map(|figure| narrowest(figure, effects, numbers))
            .collect();
        let sigma = |at| variance(effects, at).sqrt();
        let readings = KettleSpread {
            pre_boil_l: sigma(PRE_BOIL_L),
            pre_boil_plato: sigma(PRE_BOIL_PLATO),
            post_boil_l: sigma(POST_BOIL_L),
        };
        Self {
            figures,
            measure,
            readings,
        }
    }
}

/// One figure's effects.
fn column(effects: &[Effect], at: usize) -> impl Iterator<Item = f64> + '_ {
    effects
        .iter()
        .map(move |effect| effect.by.get(at).copied().unwrap_or_default())
}

fn variance(effects: &[Effect], at: usize) -> f64 {
    column(effects, at).map(|by| by * by).sum()
}

#[cfg(test)]
impl Spread {
    /// One of these figures, for tests of what is said of it.
    pub(crate) fn plain(figures: BTreeMap<PredictedFigure, FigureSpread>) -> Self {
        Self {
            figures,
            measure: Vec::new(),
            readings: KettleSpread::default(),
        }
    }
}

impl FigureSpread {
    /// One without causes, for tests of what is said of it.
    #[cfg(test)]
    pub(crate) const fn plain(one_sigma: f64) -> Self {
        Self {
            one_sigma,
            causes: Vec::new(),
        }
    }

    fn by(effects: &[Effect], at: usize) -> Self {
        let variance = variance(effects, at);
        if variance <= NOTHING * NOTHING {
            return Self {
                one_sigma: 0.0,
                causes: Vec::new(),
            };
        }
        let causes = causes(effects, at, variance);
        Self {
            one_sigma: variance.sqrt(),
            causes: causes.into_iter().take(NAMED).collect(),
        }
    }
}

/// All causes of a figure's spread, the largest first.
pub(super) fn causes(effects: &[Effect], at: usize, variance: f64) -> Vec<Cause> {
    let mut shares: BTreeMap<_, f64> = BTreeMap::new();
    for (effect, by) in effects.iter().zip(column(effects, at)) {
        *shares.entry((effect.kind, &effect.name)).or_default() += by * by;
    }
    let moving = shares
        .into_iter()
        .filter(|(_, part)| *part > DUST * variance);
    let mut causes: Vec<_> = moving
        .map(|((kind, name), part)| Cause {
            kind,
            name: name.clone(),
            share: Share::clamped(part / variance),
        })
        .collect();
    // Of two that weigh the same the first stays so, whatever their last digits.
    order::sort_by_key(&mut causes, |cause| {
        Reverse((cause.share.fraction() / DUST).round() as u64)
    });
    causes
}

/// What narrows a figure most when it is measured alone.
fn narrowest(
    figure: PredictedFigure,
    effects: &[Effect],
    numbers: &Each<Option<f64>>,
) -> Option<BestMeasurement> {
    let at = place(figure)?;
    let predicted = (*numbers.get(at)?)?;
    let variance = variance(effects, at);
    let inputs = effects
        .iter()
        .zip(column(effects, at))
        .filter_map(|(effect, by)| {
            let (what, leaves) = effect.measured?;
            let left = variance - by * by * (1.0 - leaves * leaves);
            Some((
                what,
                effect.name.as_ref().filter(|_| what.is_of_a_lot()),
                left,
            ))
        });
    // A reading tells of all that moves it and the figure alike.
    let reading = |(what, read_at, sigma): (Measurement, usize, f64)| {
        let read = column(effects, read_at);
        let both: f64 = read.zip(column(effects, at)).map(|(a, b)| a * b).sum();
        let read_variance: f64 = column(effects, read_at).map(|by| by * by).sum();
        (
            what,
            None,
            variance - both * both / (read_variance + sigma * sigma),
        )
    };
    let original_at = place(PredictedFigure::Original)?;
    let number = |at: usize| numbers.get(at).copied().flatten();
    let readings = [
        (
            Measurement::PreBoilVolume,
            PRE_BOIL_L,
            number(PRE_BOIL_L).map(|l| VOLUME_MARKS * l),
        ),
        (
            Measurement::PreBoilGravity,
            PRE_BOIL_PLATO,
            number(PRE_BOIL_PLATO).map(hydrometer_plato),
        ),
        (
            Measurement::OriginalGravity,
            original_at,
            number(original_at).map(hydrometer_plato),
        ),
    ];
    let readings = readings
        .into_iter()
        .filter(|(_, read_at, _)| *read_at != at);
    let readings = readings.filter_map(|(what, read_at, sigma)| Some((what, read_at, sigma?)));
    let all = inputs.chain(readings.map(reading));
    // Of two that narrow it alike the first by name, whatever their last digits.
    let steps = |left: f64| (left / (DUST * variance.max(f64::MIN_POSITIVE))).round();
    let (what, name, left) = all.min_by(|a, b| {
        steps(a.2)
            .total_cmp(&steps(b.2))
            .then_with(|| a.1.cmp(&b.1))
    })?;
    (left < NARROWS * NARROWS * variance).then(|| BestMeasurement {
        figure,
        what,
        name: name.cloned(),
        would_leave: left.max(0.0).sqrt(),
        predicted,
    })
}

/// One sigma of a hydrometer's reading at a strength, °P.
fn hydrometer_plato(plato: f64) -> f64 {
    let gravity = gravity_of(Extract::clamped(plato)).ratio() + HYDROMETER;
    extract_of(SpecificGravity::clamped(gravity)).plato() - plato
}
