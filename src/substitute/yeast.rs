//! Yeasts and other cultures, one for one: by what they were selected for, how far they ferment, how warm, and what they
//! taste of.

use super::candidates::{Candidate, Sold};
use super::case::{Case, Measure, Offer, SlackUse};
use super::distance::Aspect;
use super::kind_group::KindGroup;
use super::needs::Need;
use super::part::Origin;
use super::practice::Practice;
use super::profile::level;
use super::search::Problem;
use super::setting::Setting;
use super::taste::{LineSpread, Tastes};
use super::weights::Weights;
use crate::catalogue::{Commonness, EntryRef, Flocculation, Kind, StrainTrait, Yeast, YeastUse};
use crate::process::{ItemIndex, Material};
use crate::quantity::{AlcoholByVolume, Attenuation, Written, litres};
use crate::recipe::{At, Ingredient};
use crate::science::yeast::{Cells, cells_to_pitch};

/// The axes of what yeasts taste of: clove and smoke, and fruit, of which its degrees are steps of the flavour scale.
const AXES: [&str; 2] = ["phenolic", "fruity"];
/// Clove and smoke of a phenolic yeast on the flavour scale of 5, and of one of which some strains are (common practice, no source).
const PHENOLIC: f64 = 4.0;
const PERHAPS_PHENOLIC: f64 = 2.0;
/// What is worth a step of flavour: single strains of a kind differ by so much of apparent attenuation (the catalogue's head), and a
/// fermentation so much warmer or cooler tastes of it (common practice, no source).
const ATTENUATION_STEP: f64 = 0.05;
const TEMPERATURE_STEP_C: f64 = 3.0;
/// Steps of flavour that one step in how it settles is worth: bright beer in days or in weeks (common practice, no source).
const SETTLING_STEPS: f64 = 0.5;

/// What a culture is known by.
struct Culture<'a> {
    row: Option<&'a Yeast>,
    attenuation: Option<f64>,
    phenolic: f64,
    /// Fruit of its esters; absent where nobody knows.
    fruity: Option<f64>,
    settles: f64,
}

impl<'a> Culture<'a> {
    fn of(ingredient: &Ingredient, setting: &Setting<'a>) -> Self {
        let found = setting.catalogue.find(ingredient.catalogue_name());
        let row = found.and_then(|found| match found.entry {
            EntryRef::Yeast(row) => Some(row),
            _ => None,
        });
        let stated = ingredient.facts.attenuation.as_ref().map(Written::value);
        let attenuation = stated.or_else(|| row.and_then(|row| row.attenuation));
        Self {
            row,
            attenuation: attenuation.map(Attenuation::fraction),
            phenolic: match row.and_then(|row| row.phenolic) {
                Some(StrainTrait::Yes) => PHENOLIC,
                Some(StrainTrait::Possible) => PERHAPS_PHENOLIC,
                Some(StrainTrait::No) | None => 0.0,
            },
            fruity: row.and_then(|row| row.esters).map(level),
            settles: match row.and_then(|row| row.flocculation) {
                Some(Flocculation::Low) => 0.0,
                Some(Flocculation::Medium) | None => 1.0,
                Some(Flocculation::High) => 2.0,
            },
        }
    }

    fn usage(&self) -> Option<YeastUse> {
        self.row.and_then(|row| row.usage)
    }

    /// The first word of its species.
    fn genus(&self) -> Option<&str> {
        self.row?.species.split_whitespace().next()
    }

    /// Whether little but the word is common to what it is sold for.
    fn is_of_its_own(&self) -> bool {
        matches!(self.usage(), Some(YeastUse::Other | YeastUse::Wild))
    }

    /// What it costs that it was selected for another job.
    fn other_use(&self, wanted: &Self, weights: &Weights) -> f64 {
        use YeastUse::{Ale, Lager};
        let is_same = wanted.usage() == self.usage();
        if wanted.is_of_its_own() || self.is_of_its_own() {
            // Another genus tastes of another culture.
            let is_like = wanted.genus().is_some() && wanted.genus() == self.genus();
            return match (is_like, is_same) {
                (true, true) => 0.0,
                (true, false) => weights.near_function,
                (false, _) => weights.change_of_function,
            };
        }
        match (wanted.usage(), self.usage()) {
            _ if is_same => 0.0,
            (None | Some(Ale | Lager), None | Some(Ale | Lager)) => weights.near_function,
            _ => weights.change_of_function,
        }
    }

    fn range(&self) -> Option<[f64; 2]> {
        let (low, high) = self.row?.temperature_range?;
        Some([low.celsius(), high.celsius()])
    }

    /// How far a temperature lies out of its range, K.
    fn out_of_range(&self, celsius: f64) -> f64 {
        self.range().map_or(0.0, |[low, high]| {
            (low - celsius).max(celsius - high).max(0.0)
        })
    }

    /// The alcohol from which its weaker strains stop, where the beer is to have as much, and whether its stronger ones do too.
    fn stops_from(&self, alcohol: Option<f64>) -> Option<(AlcoholByVolume, bool)> {
        let (least, most) = self.row?.alcohol_limit?;
        let alcohol = alcohol?;
        (alcohol > least.fraction()).then(|| (least, alcohol > most.fraction()))
    }

    /// What it costs that it does another job, or that it cannot finish a beer of this strength.
    fn cost_for(&self, wanted: &Self, alcohol: Option<f64>, weights: &Weights) -> f64 {
        let of = |culture: &Self| culture.row.and_then(|row| row.diastatic);
        // One that eats dextrins dries the beer and goes on in the bottle; where some strains do, another strain is a step's trouble.
        let dries = match (of(wanted), of(self)) {
            (Some(StrainTrait::Yes), Some(StrainTrait::No))
            | (Some(StrainTrait::Possible), Some(StrainTrait::Yes)) => weights.near_function,
            (Some(StrainTrait::No) | None, Some(StrainTrait::Possible)) => weights.flavour / 25.0,
            (Some(StrainTrait::No) | None, Some(StrainTrait::Yes)) => weights.change_of_function,
            _ => 0.0,
        };
        let stops = self.stops_from(alcohol).is_some_and(|(_, surely)| surely);
        let stops = if stops {
            weights.change_of_function
        } else {
            0.0
        };
        self.other_use(wanted, weights) + dries + stops
    }
}

/// What is pitched of a yeast; none of anything else, and none of bacteria.
pub(super) fn cells(ingredient: &Ingredient, setting: &Setting<'_>) -> Option<Cells> {
    let row = (ingredient.kind == Kind::Yeast)
        .then(|| Culture::of(ingredient, setting).row)
        .flatten()?;
    let stated = ingredient.facts.pitch_rate.as_ref().map(Written::value);
    let brewed = &setting.planned().brewed;
    let original = brewed.original().real_extract();
    cells_to_pitch(
        stated.or(row.pitch_rate)?,
        litres(brewed.into_fermenter_l),
        original,
    )
    .ok()
}

/// Yeast is replaced by yeast, and bacteria by bacteria.
fn may_stand_for(wanted: &Culture<'_>, brought: &Culture<'_>) -> bool {
    let is_bacteria = |culture: &Culture<'_>| culture.usage() == Some(YeastUse::Bacteria);
    is_bacteria(wanted) == is_bacteria(brought)
}

/// The line as a problem: one of it for one of what is replaced.
pub(super) fn case(setting: &Setting<'_>, need: &Need, missing: &[ItemIndex]) -> Option<Case> {
    let item = setting.item(need.index)?;
    let Material::Yeast(_) = item.material else {
        return None;
    };
    let weights = &setting.options.weights;
    let wanted = Culture::of(&item.ingredient, setting);
    let at_c = match &item.timing.at {
        Some(At::Temperature(at)) => Some(at.value().celsius()),
        _ => setting.held_c().or_else(|| {
            let range = wanted.range();
            range.map(|[low, high]| f64::midpoint(low, high))
        }),
    };
    let pitch_rate = &item.ingredient.facts.pitch_rate;
    let alcohol = setting.before.alcohol.map(AlcoholByVolume::fraction);
    let step = weights.flavour.sqrt() / 5.0;
    let features = |culture: &Culture<'_>, out_of_range_c: f64| {
        vec![
            step * culture.phenolic,
            match wanted.fruity {
                Some(known) => step * culture.fruity.unwrap_or(known),
                None => 0.0,
            },
            // Where one of the two is not known, nothing is told of their difference.
            match wanted.attenuation {
                Some(known) => step * culture.attenuation.unwrap_or(known) / ATTENUATION_STEP,
                None => 0.0,
            },
            step * out_of_range_c / TEMPERATURE_STEP_C,
            step * SETTLING_STEPS * culture.settles,
        ]
    };
    // Nothing is told of a difference in what nobody knows.
    let tastes = |culture: &Culture<'_>| {
        let known = wanted.fruity.zip(culture.fruity);
        vec![culture.phenolic, known.map_or(0.0, |(_, fruity)| fruity)]
    };
    // Which shop has which stands in no table.
    let rows = setting.catalogue.yeasts();
    let rows = rows.map(|row| Sold {
        name: &row.name,
        kind: Kind::Yeast,
        from: Origin::Shop,
        does_it: true,
    });
    let found = setting.candidates(item, missing, (KindGroup::Yeast, 0.0), rows);
    let considered = found.len();
    let (mut candidates, mut offers) = (Vec::new(), Vec::new());
    for candidate in found {
        let Candidate {
            mut ingredient,
            from,
            ..
        } = candidate;
        let culture = Culture::of(&ingredient, setting);
        if let (Some(rate), None) = (pitch_rate, &ingredient.facts.pitch_rate) {
            ingredient.facts.pitch_rate = Some(*rate);
        }
        let is_unknown = culture.attenuation.is_none() && wanted.attenuation.is_some();
        // What nobody knows the attenuation of is not bought for what is known.
        let is_blind = is_unknown && from != Origin::Stock;
        if is_blind || !may_stand_for(&wanted, &culture) {
            continue;
        }
        let mut costs = vec![
            (
                Aspect::ChangeOfFunction,
                culture.cost_for(&wanted, alcohol, weights),
            ),
            (
                Aspect::Unknown,
                weights.unknown_figure * f64::from(u8::from(is_unknown)),
            ),
        ];
        costs.extend(setting.costs_of_buying(
            ingredient.catalogue_name(),
            from,
            Some(Commonness::Everywhere),
            1.0,
        ));
        costs.retain(|(_, cost)| *cost > 0.0);
        let out_of_range_c = at_c.map_or(0.0, |celsius| culture.out_of_range(celsius));
        let mut practice = Vec::new();
        let mut ferments_at = None;
        let name = ingredient.name.clone();
        if let Some((coolest, warmest)) = culture.row.and_then(|row| row.temperature_range)
            && out_of_range_c > 0.0
        {
            let is_cooler = at_c.is_some_and(|at_c| at_c < coolest.celsius());
            ferments_at = Some(if is_cooler { coolest } else { warmest });
            practice.push(Practice::FermentWithin {
                name: name.clone(),
                coolest,
                warmest,
            });
        }
        if is_unknown {
            practice.push(Practice::AttenuationUnknown { name: name.clone() });
        }
        if culture.row.and_then(|row| row.diastatic) == Some(StrainTrait::Yes) {
            practice.push(Practice::FermentsDextrins { name: name.clone() });
        }
        if let Some((from, _)) = culture.stops_from(alcohol) {
            practice.push(Practice::MayStop { name, from });
        }
        let cost = costs.iter().map(|(_, cost)| cost).sum();
        candidates.push((features(&culture, out_of_range_c), cost));
        offers.push(Offer {
            practice,
            costs,
            tastes: tastes(&culture),
            // Families are told apart by four figures, and strains by more.
            tastes_alike: false,
            ferments_at,
            ..Offer::plain(ingredient, Measure::OneForOne, from)
        });
    }
    Some(Case {
        problem: Problem::one_for_one(candidates, features(&wanted, 0.0)),
        offers,
        way: None,
        slack: SlackUse::None,
        aspects: vec![
            (Aspect::Flavour, AXES.len()),
            (Aspect::Attenuation, 1),
            (Aspect::FermentationTemperature, 1),
            (Aspect::Settling, 1),
        ],
        considered,
        gate: None,
        acid_meq: None,
        tastes: Tastes {
            axes: &AXES,
            share: 1.0,
            wanted: tastes(&wanted),
            slack: Vec::new(),
            acid_meq_l: 0.0,
            own: None,
        },
        spread: LineSpread::default(),
        per_residual: [0.0; 2],
    })
}
