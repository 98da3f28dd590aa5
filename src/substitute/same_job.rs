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
use super::sensed::ACID_STEP;
use super::setting::Setting;
use super::taste::{Kin, LineSpread, OwnTaste, Tastes};
use crate::catalogue::{
    Aid, AidJob, Botanical, BotanicalJob, CautionLevel, Commonness, Density, EntryRef, IonYield,
    Kind, UsualDose, WaterAgent,
};
use crate::numeric::{Bracket, root};
use crate::process::{Item, ItemIndex, Stage, acid_product};
use crate::quantity::kilograms;
use crate::science::acid::AcidProduct;

/// A spice is dosed to be tasted: so many smallest steps of it are in the beer (rule of the crate).
const SPICE_STEPS: f64 = 2.0;
/// What is of one genus, as two peels of citrus or two cinnamons, has so much of the same taste (editorial, no source).
const OF_ONE_GENUS: f64 = 0.7;
/// What does another job tastes stranger by half (editorial, no source).
const OF_ANOTHER_JOB: f64 = -0.5;
/// Acids that are sold to brewers for mash and wort, by their formulas (common practice, no source).
const SOLD_ACIDS: [&str; 3] = ["C3H6O3", "H3PO4", "C6H8O7"];
/// Salts that are sold to brewers for their calcium, magnesium, sulphate and chloride, by formula and hydrate (common practice, no
/// source): what sets to plaster is not.
const SOLD_SALTS: [(&str, &str); 5] = [
    ("CaSO4·2H2O", "dihydrate"),
    ("CaCl2·2H2O", "dihydrate"),
    ("CaCl2", "anhydrous"),
    ("MgSO4·7H2O", "heptahydrate"),
    ("MgCl2·6H2O", "hexahydrate"),
];
/// pH of mash and wort, to which acid is dosed (the middle of the usual 5.2 to 5.6, common practice, no source).
const WORT_PH: f64 = 5.4;
/// pH to which the acid of a drink is titrated, as that of juices.
const TITRATED_TO_PH: f64 = 8.2;
/// A beer before acid, and the acid that takes a litre of it one pH unit lower, mEq: beers are of 4.1 to 4.6, and 10 to 20 (from memory).
const BEER_PH: f64 = 4.3;
const BEER_BUFFERING_MEQ_L: f64 = 15.0;
/// No acid takes a beer lower than this.
const LEAST_PH: f64 = 0.0;
/// Acid that brings more water to the beer than this share of it dilutes it (rule of the crate).
const DILUTES_FROM: f64 = 0.01;
/// An acid is tasted for itself up to as much as a spice, in smallest steps (editorial, no source).
const ACID_TASTE_STEPS: f64 = SPICE_STEPS;
/// A gram of salt in a litre is plainly tasted as what it is (rule of the crate).
const SALT_TASTE_STEPS: f64 = 1.5;
/// Ions of a salt, and their names, calcium first.
const IONS: usize = 10;
const ION_NAMES: [&str; IONS] = [
    "calcium",
    "magnesium",
    "sodium",
    "potassium",
    "sulphate",
    "chloride",
    "bicarbonate",
    "zinc",
    "ammonium",
    "sulphite",
];
/// Of them those for which one salt goes in another's place, what is tasted first: sulphate, chloride, calcium, magnesium.
const SHARED_IONS: [usize; 4] = [4, 5, 0, 1];

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
const BESIDE: [[BotanicalJob; 2]; 10] = {
    use BotanicalJob as B;
    [
        [B::CitrusPeel, B::CitrusHerb],
        [B::CitrusPeel, B::CitrusSpice],
        [B::Pepper, B::HotRoot],
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
    /// Name of a spice, and the part of the plant.
    name: &'a str,
    part: &'a str,
    /// What it is one of: the genus of a plant, the formula of an acid.
    genus: &'a str,
    /// How much of the job a kilogram does, in a measure that all of the same job share.
    does: Option<f64>,
    kg_per_l: Option<f64>,
    /// Usual dose of a spice, least and most, g/L.
    dose_g_l: Option<[f64; 2]>,
    acid: Option<AcidProduct>,
    /// Milligrams of each ion in a gram.
    ions: [f64; IONS],
    /// What to take care of.
    caution: Option<&'a str>,
}

/// Equivalents of a kilogram of an acid to a pH.
fn eq_per_kg(acid: &AcidProduct, ph: f64) -> f64 {
    acid.moles_per_kg() * acid.acid.protons(ph)
}

/// To which pH so many kilograms of an acid take a litre of beer.
fn beer_ph(acid: &AcidProduct, kg_per_l: f64) -> f64 {
    let over =
        |ph: f64| 1000.0 * kg_per_l * eq_per_kg(acid, ph) - BEER_BUFFERING_MEQ_L * (BEER_PH - ph);
    let bracket = Bracket {
        low: LEAST_PH,
        high: BEER_PH,
    };
    root(over, bracket, 1e-9).unwrap_or(BEER_PH)
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
            genus: row.botanical.split_whitespace().next().unwrap_or_default(),
            does: middle.filter(|dose| *dose > 0.0).map(f64::recip),
            dose_g_l: row
                .dose_range
                .map(|(low, high)| [low.grams_per_litre(), high.grams_per_litre()])
                .filter(|[low, _]| *low > 0.0),
            caution: row
                .caution_level
                .filter(|level| *level != CautionLevel::Info)
                .map(|_| &*row.cautions),
            name: &row.name,
            part: &row.part,
            ..Self::plain(Job::Spice(row.job?))
        })
    }

    const fn plain(job: Job) -> Self {
        Self {
            job,
            name: "",
            part: "",
            genus: "",
            does: None,
            kg_per_l: None,
            dose_g_l: None,
            acid: None,
            ions: [0.0; IONS],
            caution: None,
        }
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
            does: middle.filter(|dose| *dose > 0.0).map(f64::recip),
            kg_per_l: is_liquid.then_some(1.0),
            ..Self::plain(Job::Aid(row.job?))
        })
    }

    fn of_agent(row: &'a WaterAgent) -> Option<Self> {
        let kg_per_l = row.density.map(Density::grams_per_millilitre);
        if row.kind() == Kind::Acid {
            let formula = row.formula.split('·').next().unwrap_or_default();
            let acid = acid_product(row)?;
            return SOLD_ACIDS.contains(&formula).then(|| Self {
                genus: formula,
                does: Some(eq_per_kg(&acid, WORT_PH)),
                kg_per_l,
                acid: Some(acid),
                ..Self::plain(Job::Acid)
            });
        }
        let ions = row.ions?;
        let brings = [
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
        .map(|ion| ion.map_or(0.0, IonYield::milligrams_per_gram));
        let most = brings.into_iter().fold(0.0, f64::max);
        Some(Self {
            does: (most > 0.0).then_some(most),
            kg_per_l,
            ions: brings,
            ..Self::plain(Job::Salt(brings.map(|ion| ion > 0.0)))
        })
    }

    /// The ion for which the one salt goes in the place of the other, where they are of other ions.
    fn shared_ion(&self, other: &Self) -> Option<usize> {
        let of = |helper: &Self, ion: usize| helper.ions.get(ion).copied().unwrap_or(0.0) > 0.0;
        // Nothing that takes acid away or feeds yeast is put for what does not.
        let is_plain =
            |helper: &Self| (0..IONS).all(|ion| SHARED_IONS.contains(&ion) || !of(helper, ion));
        let mut shared = SHARED_IONS.into_iter();
        (is_plain(self) && is_plain(other))
            .then(|| shared.find(|ion| of(self, *ion) && of(other, *ion)))?
    }

    /// The words of a spice's name that are not of the part of the plant.
    fn names(&self) -> impl Iterator<Item = &'a str> + use<'a> {
        let part = self.part;
        let words = self.name.split_whitespace();
        words.filter(move |word| !part.split([' ', ',']).any(|of_part| of_part == *word))
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
            (Job::Salt(_), Job::Salt(_)) => self.shared_ion(other).map(|_| false),
            _ => None,
        }
    }

    /// Grams of a spice in a litre for so much of what is wanted: as far up in its own usual range as that is in its own. Of another
    /// plant half as far up, and of what does another job the least: how strong it comes through is less certain.
    fn spice_g_l(&self, wanted: &Self, dose_g_l: f64) -> Option<f64> {
        let [[least, most], [low, high]] = [wanted.dose_g_l?, self.dose_g_l?];
        let up = if most > least {
            ((dose_g_l / least).ln() / (most / least).ln()).clamp(0.0, 1.0)
        } else {
            0.5
        };
        let up = match (self.job == wanted.job, self.genus == wanted.genus) {
            (true, true) => up,
            (true, false) => 0.5 * up,
            (false, _) => 0.0,
        };
        Some(low * (high / low).powf(up))
    }

    /// How much of it is put for one of `wanted`, in the measure of its line, `there` in so much beer; none where it cannot be told.
    fn ratio(&self, wanted: &Self, by_volume: bool, there: &There) -> Option<f64> {
        let of_what_it_does = wanted.does.zip(self.does);
        let by_mass = match (wanted.job, wanted.acid, self.acid) {
            (Job::Acid, Some(one), Some(other)) => {
                let ph = if there.in_beer {
                    beer_ph(&one, there.kg / there.beer_l)
                } else {
                    WORT_PH
                };
                eq_per_kg(&one, ph) / eq_per_kg(&other, ph)
            }
            (Job::Spice(_), ..) => {
                let dose_g_l = 1000.0 * there.kg / there.beer_l;
                let its_g_l = self.spice_g_l(wanted, dose_g_l);
                its_g_l.map_or(1.0, |its_g_l| its_g_l / dose_g_l)
            }
            (Job::Salt(_), ..) if self.job != wanted.job => {
                let ion = wanted.shared_ion(self)?;
                wanted.ions.get(ion)? / self.ions.get(ion)?
            }
            _ => of_what_it_does.map_or(1.0, |(one, its)| one / its),
        };
        if by_volume {
            Some(by_mass * wanted.kg_per_l? / self.kg_per_l?)
        } else {
            Some(by_mass)
        }
    }
}

/// The line as it is in the beer.
struct There {
    kg: f64,
    beer_l: f64,
    /// Into the beer, not into mash or wort.
    in_beer: bool,
}

impl There {
    /// What a kilogram is told of in a litre: of acid milliequivalents as titrated.
    fn acid_meq_l(&self, helper: &Helper<'_>, kg: f64) -> f64 {
        let eq_per_kg = helper
            .acid
            .map_or(0.0, |acid| eq_per_kg(&acid, TITRATED_TO_PH));
        1000.0 * eq_per_kg * kg / self.beer_l
    }

    /// By which taste the line is known, and in how many steps.
    fn own_taste(&self, wanted: &Helper<'_>, item: &Item) -> Option<OwnTaste> {
        let steps = match wanted.job {
            Job::Spice(_) => SPICE_STEPS,
            Job::Acid if self.in_beer => {
                (self.acid_meq_l(wanted, self.kg) / ACID_STEP).min(ACID_TASTE_STEPS)
            }
            Job::Salt(_) => SALT_TASTE_STEPS * (1000.0 * self.kg / self.beer_l).min(1.0),
            Job::Acid | Job::Aid(_) => return None,
        };
        Some(OwnTaste {
            name: known_by(wanted, &item.ingredient.name),
            steps,
        })
    }
}

/// The name of a taste: a salt's is that of its sulphate or chloride, an acid's the first word of its name.
fn known_by(helper: &Helper<'_>, name: &str) -> String {
    let tasted = || {
        let mut ions = SHARED_IONS.into_iter();
        let ion = ions.find(|ion| helper.ions.get(*ion).is_some_and(|brings| *brings > 0.0))?;
        ION_NAMES.get(ion).copied()
    };
    match helper.job {
        Job::Salt(_) => tasted().unwrap_or(name).to_owned(),
        Job::Acid => name
            .strip_suffix(" %")
            .map_or(name, |name| {
                name.rsplit_once(' ').map_or(name, |(acid, _)| acid)
            })
            .to_owned(),
        _ => name.to_owned(),
    }
}

/// What becomes of a beer without it.
pub(super) fn without(setting: &Setting<'_>, item: &Item) -> Option<WithoutIt> {
    let ingredient = &item.ingredient;
    let is_in_beer = item.place.stage >= Stage::Ferment;
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
        (Kind::Acid, _) if is_in_beer => Some(WithoutIt::LacksItsAcid),
        (Kind::Acid, _) => Some(WithoutIt::PhStays),
        (Kind::Salt, _) if item.place.stage == Stage::Mash => Some(WithoutIt::LacksItsIons),
        (Kind::Salt, _) => Some(WithoutIt::LacksItsSalt),
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
    let there = There {
        kg: if by_volume {
            amount * wanted.kg_per_l.unwrap_or(1.0)
        } else {
            amount
        },
        beer_l: setting
            .planned()
            .brewed
            .into_fermenter_l
            .max(f64::MIN_POSITIVE),
        in_beer: item.place.stage >= Stage::Ferment,
    };
    // Which shop has which stands in no table; what does other jobs too is bought where brewers are known to.
    let sold = |entry: EntryRef<'_>| {
        let helper = Helper::of(entry);
        let is_sold = match entry {
            EntryRef::WaterAgent(row) if wanted.shared_ion(&wanted).is_some() => {
                SOLD_SALTS.contains(&(&*row.formula, &*row.form))
            }
            _ => true,
        };
        is_sold && helper.and_then(|helper| wanted.is_near(&helper)).is_some()
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
        let Some(mut ratio) = helper.ratio(&wanted, by_volume, &there) else {
            continue;
        };
        let catalogue_name = candidate.ingredient.catalogue_name();
        let (held_kg, _) = setting.used(catalogue_name, kinds, missing);
        let is_spice = matches!(wanted.job, Job::Spice(_));
        if let Some([_, most_g_l]) = helper.dose_g_l.filter(|_| is_spice) {
            // More of what the beer has already goes no further than its usual dose.
            let room_kg = most_g_l * there.beer_l / 1000.0 - held_kg;
            if room_kg <= 0.0 {
                continue;
            }
            ratio = ratio.min(room_kg / there.kg);
        }
        let in_place_kg = there.kg
            * if by_volume {
                ratio * helper.kg_per_l.unwrap_or(1.0) / wanted.kg_per_l.unwrap_or(1.0)
            } else {
                ratio
            };
        let water_kg =
            in_place_kg * (1.0 - helper.acid.map_or(1.0, |acid| acid.strength.fraction()));
        let dilutes = water_kg > DILUTES_FROM * there.beer_l && wanted.acid.is_some();
        if candidate.left < amount * ratio || dilutes {
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
        } else if !is_kin && wanted.acid.is_some() && there.in_beer {
            // Which acid it is is tasted.
            costs.push((Aspect::Flavour, weights.near_function));
        } else if !is_kin && (is_spice || wanted.acid.is_some()) {
            // Another plant, or another acid, is a step of flavour away.
            costs.push((Aspect::Flavour, weights.flavour / 25.0));
        }
        if let Some(acid) = helper.acid {
            // Half as strong is a larger bottle for the same acid.
            let halvings = -acid.strength.fraction().log2();
            costs.push((Aspect::Uncommon, weights.good_shops_only * halvings));
        }
        let is_dosed = kinds != KindGroup::WaterAgent;
        let is_unknown = helper.does.is_none() || wanted.does.is_none() || item.is_by_packs();
        if is_dosed && is_unknown {
            costs.push((Aspect::Unknown, weights.unknown_figure));
        }
        let measure = if item.is_by_packs() {
            Measure::OneForOne
        } else if by_volume {
            Measure::Litres(amount * ratio)
        } else {
            Measure::Kilograms(amount * ratio)
        };
        let mut practice = match (is_dosed, is_unknown) {
            (true, true) => vec![Practice::DoseUnknown { name: name.clone() }],
            (true, false) => vec![Practice::SetByUsualDose { name: name.clone() }],
            (false, _) => Vec::new(),
        };
        if is_spice && held_kg > 0.0 {
            practice.push(Practice::OnTopOf {
                name: name.clone(),
                mass: kilograms(held_kg),
            });
        }
        if let Some(caution) = helper.caution {
            practice.push(Practice::Heed {
                name: name.clone(),
                caution: caution.to_owned(),
            });
        }
        let lost = ION_NAMES.iter().zip(wanted.ions.iter().zip(helper.ions));
        let lost = lost.filter(|(_, (had, has))| **had > 0.0 && *has <= 0.0);
        let lost: Vec<&str> = lost.map(|(ion, _)| *ion).collect();
        if !lost.is_empty() {
            practice.push(Practice::LacksIons {
                name: name.clone(),
                ions: lost.into_iter().map(str::to_owned).collect(),
            });
        }
        // Sulphate and chloride are what is tasted of a salt.
        let tasted = |helper: &Helper<'_>| {
            let of = |ion: usize| helper.ions.get(ion).is_some_and(|brings| *brings > 0.0);
            [4, 5].map(of)
        };
        let is_salt = matches!(wanted.job, Job::Salt(_));
        let tastes_alike = tasted(&wanted) == tasted(&helper);
        if is_salt && !tastes_alike {
            costs.push((Aspect::Flavour, weights.flavour / 25.0));
        }
        let is_called_alike = wanted
            .names()
            .any(|word| helper.names().any(|its| its == word));
        if is_kin && is_spice && !is_called_alike {
            // Sweet orange goes for bitter orange before lemon does.
            costs.push((Aspect::Flavour, weights.flavour / 50.0));
        }
        let known_by = known_by(&helper, &name);
        let alike = match (does_same, is_kin) {
            _ if is_salt => f64::from(u8::from(tastes_alike)),
            (_, true) if wanted.acid.is_some() => 1.0,
            (false, _) => OF_ANOTHER_JOB,
            (true, true) => OF_ONE_GENUS,
            (true, false) => 0.0,
        };
        costs.retain(|(_, cost)| *cost > 0.0);
        candidates.push((vec![0.0], costs.iter().map(|(_, cost)| cost).sum()));
        offers.push(Offer {
            ratio: if item.is_by_packs() { 1.0 } else { ratio },
            practice,
            costs,
            acid_meq_l: there.acid_meq_l(&helper, in_place_kg),
            tastes_alike: !is_salt || does_same,
            kin: Some(Kin {
                name: known_by,
                alike,
            }),
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
            acid_meq_l: there.acid_meq_l(&wanted, there.kg),
            own: there.own_taste(&wanted, item),
        },
        spread: LineSpread::default(),
        per_residual: [0.0; 2],
    })
}
