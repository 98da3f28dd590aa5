//! Spices, finings, enzymes, salts and acids: one for one, by the job that both do, in the usual doses of both.

use super::answer::WithoutIt;
use super::candidates::Sold;
use super::case::{Case, Measure, Offer, SlackUse};
use super::distance::Aspect;
use super::kind_group::{KindGroup, group};
use super::needs::Need;
use super::part::Origin;
use super::practice::Practice;
use super::search::Problem;
use super::setting::Setting;
use super::taste::{Kin, LineSpread, OwnTaste, Tastes};
use crate::catalogue::{
    Aid, AidJob, Botanical, BotanicalJob, CautionLevel, Commonness, Density, EntryRef, Equivalents,
    IonYield, Kind, UsualDose, WaterAgent,
};
use crate::process::ItemIndex;
use crate::recipe::Ingredient;

/// A spice is dosed to be tasted: so many smallest steps of it are in the beer (rule of the crate).
const SPICE_STEPS: f64 = 2.0;
/// What is of one genus, as two peels of citrus or two cinnamons, has so much of the same taste (editorial, no source).
const OF_ONE_GENUS: f64 = 0.7;
/// What does another job tastes stranger by half (editorial, no source).
const OF_ANOTHER_JOB: f64 = -0.5;
/// Acids that are sold to brewers for mash and wort, by their formulas (common practice, no source).
const SOLD_ACIDS: [&str; 4] = ["C3H6O3", "H3PO4", "C6H8O7", "C6H8O7·H2O"];
/// Ions of a salt.
const IONS: usize = 10;

/// What something is there for.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Job {
    Spice(BotanicalJob),
    Aid(AidJob),
    Acid,
    /// The ions that it brings.
    Salt([bool; IONS]),
}

/// Jobs of spices beside each other: what does the one is put for the other by many brewers (common practice, no source).
const BESIDE: [[BotanicalJob; 2]; 11] = {
    use BotanicalJob as B;
    [
        [B::CitrusPeel, B::CitrusHerb],
        [B::CitrusPeel, B::CitrusSpice],
        [B::Pepper, B::HotRoot],
        [B::Pepper, B::Heat],
        [B::Cinnamon, B::Nutmeg],
        [B::Cinnamon, B::Clove],
        [B::Nutmeg, B::Clove],
        [B::Anise, B::Liquorice],
        [B::Vanilla, B::Hay],
        [B::HoneyedFlower, B::PerfumedFlower],
        [B::GruitHerb, B::BitteringHerb],
    ]
};

/// What is known of something of these kinds.
#[derive(Debug, Clone)]
struct Helper<'a> {
    job: Job,
    /// What it is one of: the genus of a plant, the formula of an acid.
    genus: &'a str,
    /// How much of the job a kilogram does, in a measure that all of the same job share.
    does: Option<f64>,
    kg_per_l: Option<f64>,
}

impl<'a> Helper<'a> {
    /// None for what does nothing that something else does, and for what is not to be offered.
    fn of(entry: EntryRef<'a>) -> Option<Self> {
        match entry {
            EntryRef::Botanical(row) => Self::of_spice(row),
            EntryRef::Aid(row) => Self::of_aid(row),
            EntryRef::WaterAgent(row) => Self::of_agent(row),
            _ => None,
        }
    }

    fn of_spice(row: &'a Botanical) -> Option<Self> {
        if row.caution_level == Some(CautionLevel::Block) {
            return None;
        }
        let middle = row
            .dose_range
            .map(|(low, high)| f64::midpoint(low.grams_per_litre(), high.grams_per_litre()));
        Some(Self {
            job: Job::Spice(row.job?),
            genus: row.botanical.split_whitespace().next().unwrap_or_default(),
            does: middle.filter(|dose| *dose > 0.0).map(f64::recip),
            kg_per_l: None,
        })
    }

    fn of_aid(row: &'a Aid) -> Option<Self> {
        // A dose by volume is of a liquid as dense as water (estimate).
        let middle = row.dose.map(|dose| match dose {
            UsualDose::Mass(low, high) => {
                f64::midpoint(low.grams_per_litre(), high.grams_per_litre())
            }
            UsualDose::Volume(low, high) => {
                0.01 * f64::midpoint(
                    low.millilitres_per_hectolitre(),
                    high.millilitres_per_hectolitre(),
                )
            }
        });
        let is_liquid = matches!(row.dose, Some(UsualDose::Volume(..)));
        Some(Self {
            job: Job::Aid(row.job?),
            genus: "",
            does: middle.filter(|dose| *dose > 0.0).map(f64::recip),
            kg_per_l: is_liquid.then_some(1.0),
        })
    }

    fn of_agent(row: &'a WaterAgent) -> Option<Self> {
        let kg_per_l = row.density.map(Density::grams_per_millilitre);
        if row.kind() == Kind::Acid {
            let is_sold = SOLD_ACIDS.contains(&&*row.formula);
            return is_sold.then(|| Self {
                job: Job::Acid,
                genus: &row.formula,
                does: row
                    .acidity_at_ph_5_4
                    .map(Equivalents::milliequivalents_per_gram),
                kg_per_l,
            });
        }
        let ions = row.ions?;
        let yields = [
            ions.calcium,
            ions.magnesium,
            ions.sodium,
            ions.potassium,
            ions.sulphate,
            ions.chloride,
            ions.bicarbonate,
            ions.zinc,
            ions.ammonium_nitrogen,
            ions.sulphur_dioxide,
        ]
        .map(|ion| {
            ion.map(IonYield::milligrams_per_gram)
                .filter(|brings| *brings > 0.0)
        });
        Some(Self {
            job: Job::Salt(yields.map(|ion| ion.is_some())),
            genus: "",
            does: yields.into_iter().flatten().reduce(f64::max),
            kg_per_l,
        })
    }

    /// Whether something does the same job, or one beside it.
    fn is_near(&self, other: &Self) -> Option<bool> {
        if self.job == other.job {
            return Some(true);
        }
        match (self.job, other.job) {
            (Job::Spice(one), Job::Spice(other))
                if BESIDE.contains(&[one, other]) || BESIDE.contains(&[other, one]) =>
            {
                Some(false)
            }
            _ => None,
        }
    }

    /// How much of it is put for one of `wanted`, in the measure of its line; none where it cannot be told.
    fn ratio(&self, wanted: &Self, by_volume: bool) -> Option<f64> {
        let by_mass = wanted
            .does
            .zip(self.does)
            .map_or(1.0, |(one, its)| one / its);
        if by_volume {
            Some(by_mass * wanted.kg_per_l? / self.kg_per_l?)
        } else {
            Some(by_mass)
        }
    }
}

/// What becomes of a beer without it.
pub(super) fn without(setting: &Setting<'_>, ingredient: &Ingredient) -> Option<WithoutIt> {
    let name = ingredient.catalogue_name();
    let entry = setting.catalogue.find(name).map(|found| found.entry);
    let aid = |job: Option<AidJob>| match job? {
        AidJob::KettleFining
        | AidJob::CaskFining
        | AidJob::AuxiliaryFining
        | AidJob::WineFining => Some(WithoutIt::ClearsSlowly),
        AidJob::HazeProtein | AidJob::HazeTannin => Some(WithoutIt::HazeInTheCold),
        AidJob::FilterBed => Some(WithoutIt::Unfiltered),
        AidJob::StarchEnzyme => Some(WithoutIt::StarchStays),
        AidJob::DextrinEnzyme | AidJob::DebranchingEnzyme => Some(WithoutIt::EndsSweeter),
        AidJob::GumEnzyme => Some(WithoutIt::RunsOffSlowly),
        AidJob::PectinEnzyme => Some(WithoutIt::PectinHaze),
        AidJob::DiacetylEnzyme => Some(WithoutIt::RestsForDiacetyl),
        AidJob::YeastFood | AidJob::Zinc => Some(WithoutIt::FermentsSlowly),
        AidJob::LessFoam => Some(WithoutIt::FoamsHigher),
        AidJob::MoreFoam => Some(WithoutIt::HeadFalls),
    };
    match (ingredient.kind, entry) {
        (_, Some(EntryRef::Aid(row))) => aid(row.job),
        (Kind::Botanical, _) => Some(WithoutIt::LacksItsFlavour),
        (Kind::Acid, _) => Some(WithoutIt::PhStays),
        (Kind::Salt, _) => Some(WithoutIt::LacksItsIons),
        _ => None,
    }
}

/// The line as a problem: one for one of what is replaced.
pub(super) fn case(setting: &Setting<'_>, need: &Need, missing: &[ItemIndex]) -> Option<Case> {
    let item = setting.item(need.index)?;
    let kinds = group(item.ingredient.kind);
    let entry = |name: &str| setting.catalogue.find(name).map(|found| found.entry);
    let wanted = Helper::of(entry(item.ingredient.catalogue_name())?)?;
    let by_volume = item.is_by_volume();
    let amount = if by_volume {
        setting.target_l(need.index)
    } else {
        setting.target_kg(need.index)
    };
    if amount <= 0.0 && !item.is_by_packs() {
        return None;
    }
    let weights = &setting.options.weights;
    // Which shop has which stands in no table.
    let sold = |entry: EntryRef<'_>| {
        let helper = Helper::of(entry);
        helper.and_then(|helper| wanted.is_near(&helper)).is_some()
    };
    let catalogue = setting.catalogue;
    let spices = catalogue.botanicals().map(EntryRef::Botanical);
    let agents = catalogue.water_agents().map(EntryRef::WaterAgent);
    let aids = catalogue.aids().map(EntryRef::Aid);
    let rows = spices
        .chain(agents)
        .chain(aids)
        .filter(|row| group(row.kind()) == kinds && sold(*row));
    let rows = rows.map(|row| Sold {
        name: row.name(),
        kind: row.kind(),
        from: Origin::Shop,
        does_it: true,
    });
    let found = setting.candidates(item, missing, (kinds, amount), rows);
    let considered = found.len();
    let (mut candidates, mut offers) = (Vec::new(), Vec::new());
    for candidate in found {
        let Some(helper) = entry(candidate.ingredient.catalogue_name()).and_then(Helper::of) else {
            continue;
        };
        let Some(does_same) = wanted.is_near(&helper) else {
            continue;
        };
        let Some(ratio) = helper.ratio(&wanted, by_volume) else {
            continue;
        };
        if candidate.left < amount * ratio {
            continue;
        }
        let is_kin = !wanted.genus.is_empty() && wanted.genus == helper.genus;
        let name = candidate.ingredient.name.clone();
        let mut costs = setting.costs_of_buying(
            candidate.ingredient.catalogue_name(),
            candidate.from,
            Some(Commonness::Everywhere),
            1.0,
        );
        if !does_same {
            costs.push((Aspect::ChangeOfFunction, weights.near_function));
        } else if !is_kin && kinds != KindGroup::Aid {
            // Another plant, or another acid, is a step of flavour away.
            costs.push((Aspect::Flavour, weights.flavour / 25.0));
        }
        let is_dosed = kinds != KindGroup::WaterAgent;
        let is_unknown = helper.does.is_none() || wanted.does.is_none() || item.is_by_packs();
        if is_dosed && is_unknown {
            costs.push((Aspect::Unknown, weights.unknown_figure));
        }
        costs.retain(|(_, cost)| *cost > 0.0);
        let measure = if item.is_by_packs() {
            Measure::OneForOne
        } else if by_volume {
            Measure::Litres(amount * ratio)
        } else {
            Measure::Kilograms(amount * ratio)
        };
        let cost = costs.iter().map(|(_, cost)| cost).sum();
        candidates.push((vec![0.0], cost));
        let practice = match (is_dosed, is_unknown) {
            (true, true) => vec![Practice::DoseUnknown { name: name.clone() }],
            (true, false) => vec![Practice::SetByUsualDose { name: name.clone() }],
            (false, _) => Vec::new(),
        };
        let alike = match (does_same, is_kin) {
            (false, _) => OF_ANOTHER_JOB,
            (true, true) => OF_ONE_GENUS,
            (true, false) => 0.0,
        };
        offers.push(Offer {
            ratio: if item.is_by_packs() { 1.0 } else { ratio },
            practice,
            costs,
            kin: Some(Kin { name, alike }),
            ..Offer::plain(candidate.ingredient, measure, candidate.from)
        });
    }
    if offers.is_empty() {
        return None;
    }
    Some(Case {
        problem: Problem::one_for_one(candidates, vec![0.0]),
        offers,
        way: None,
        slack: SlackUse::None,
        aspects: Vec::new(),
        considered,
        gate: None,
        acid_meq: None,
        tastes: Tastes {
            axes: &[],
            share: 1.0,
            wanted: Vec::new(),
            slack: Vec::new(),
            acid_meq_l: 0.0,
            own: (kinds == KindGroup::Botanical).then(|| OwnTaste {
                name: item.ingredient.name.clone(),
                steps: SPICE_STEPS,
            }),
        },
        spread: LineSpread::default(),
        per_residual: [0.0; 2],
    })
}
