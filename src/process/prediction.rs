//! What is told of a recipe on its plant, and of any brew.

use super::assumption::Assumption;
use super::brew::Worked;
use super::figures::{Figures, Volumes};
use super::formula::{Item, Stage};
use super::gas::GasPlan;
use super::material::Material;
use super::setup::Setup;
use super::side::PlantSize;
use super::souring_limits::souring_limits;
use super::spread::Spread;
use super::warning::Warning;
use super::yeast_limits::{OF_THE_YEAST, yeast_limits};
use super::yeast_use::YeastUse;
use crate::catalogue::Kind;
use crate::diagnostic::Place;
use crate::numeric::order;
use crate::quantity::{
    Attenuation, BeerColour, Bitterness, Concentration, Extract, Share, Temperature, kilowatts,
    litres,
};
use crate::recipe::{BitternessModel, HopForm, Recipe, Targets};
use crate::science::evaporation::rate_of_power;
use crate::science::liquid::Fall;
use crate::speech::{Noted, Speaks};
use serde::Serialize;

/// A boil of a large kettle harder than this is remarked on, share of the pre-boil volume an hour (rule of the crate).
const HARD_BOIL: f64 = 0.15;
/// The same below 2 hL, where the surface decides: L/h for the two-thirds power of the kettle's litres, 70 L/h from a square metre of a
/// pot as wide as it is high (common practice, no source).
const HARD_BOIL_L_PER_H: f64 = 0.65;
/// Alpha acids that boiling wort dissolves, g/L (Hough 1982, quoted in a magazine article; a thesis finds 90 mg/L at pH 5.2).
const ALPHA_DISSOLVES_G_L: f64 = 0.250;
/// What of the bitterness may be that of alpha acids which do not dissolve before it is remarked on: as much as the models are off by on a
/// plant that has not measured any (row "bitterness models, plant not calibrated" of the ingredients reference, one sigma).
const OVERSTATED: f64 = 0.25;
/// A printed colour may lie beyond what is predicted by this share before it is remarked on: the error of Morey's fit, and of
/// the sums that sheets print.
const COLOUR_WITHIN: f64 = 0.30;

/// The rates of isomerisation were measured from here up, °C (Malowicki and Shellhammer 2005).
const MEASURED_FROM_C: f64 = 90.0;

/// What the model gives for a recipe on its plant.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Prediction {
    /// What the model gives.
    pub predicted: Figures,
    /// How far that may be off; absent where it is switched off.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spread: Option<Spread>,
    /// What the sheet prints.
    pub published: Figures,
    /// Volumes of the brewing day.
    pub volumes: Volumes,
    /// Pressure on the keg, or sugar for what is closed; absent where nothing is to be worked out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gas: Option<GasPlan>,
    /// Everything that was taken for granted.
    pub assumptions: Vec<Noted<Assumption>>,
    /// What deserves a look.
    pub warnings: Vec<Noted<Warning>>,
}

/// What deserves a look in a brew on a plant.
pub(crate) fn remarks(worked: &Worked, warnings: &mut Vec<Noted<Warning>>) {
    let Setup {
        formula,
        plant,
        cooling,
        ..
    } = &worked.setup;
    let brewed = &worked.brewed;
    for missed in &brewed.cellar.missed {
        let Some(item) = formula.items.get(missed.index) else {
            continue;
        };
        let (Fall::AlreadyBelow(met) | Fall::EndsAbove(met)) = missed.fall;
        let not_met = Warning::GravityNotMet {
            name: item.ingredient.name.clone(),
            wanted: Extract::clamped(item.trigger_plato().unwrap_or_default()),
            met: Extract::clamped(met),
            side: plant.side,
        };
        warnings.push(Noted::at(item.place.line().field("timing.at"), not_met));
    }
    for (step, wanted_c) in &cooling.clamped_c {
        let clamped = Warning::StandClamped {
            wanted: Temperature::clamped(*wanted_c),
            boiling: Temperature::clamped(cooling.boiling_c),
            side: plant.side,
        };
        let place = Place::stand(*step).field("temperature_c");
        warnings.push(Noted::at(place, clamped));
    }
    if let Some((coolant_c, to_c)) = cooling.never_arrives_c {
        let never = Warning::NeverCools {
            coolant: Temperature::clamped(coolant_c),
            to: Temperature::clamped(to_c),
            side: plant.side,
        };
        let place = Place::plant(&plant.name, "coolant_c");
        warnings.push(Noted::at(place, never));
    }
    // Of one beer on two plants it is told once.
    if let Some(hopping) = high_hopping(worked) {
        warnings.retain(|told| told.what.code() != hopping.what.code());
        warnings.push(hopping);
    }
    // On another plant it is the same yeast: only the beer that is brewed there is told of.
    warnings.retain(|told| !OF_THE_YEAST.contains(&told.what.code()));
    warnings.extend(yeast_limits(worked));
    for limit in souring_limits(formula) {
        warnings
            .retain(|told| told.what.code() != limit.what.code() || told.place() != limit.place());
        warnings.push(limit);
    }
    let hourly_l = plant.boiloff.litres(brewed.run.volume_l, 60.0);
    // An evaporation that was assumed blames no heater.
    if formula.boil_min > 0.0 && plant.states_boiloff {
        warnings.extend(weak_heater(&worked.setup, hourly_l));
    }
    let hourly = hourly_l / brewed.run.volume_l.max(f64::MIN_POSITIVE);
    let is_hard = match PlantSize::of(plant.batch.map(|batch| batch.l)) {
        PlantSize::Commercial => hourly > HARD_BOIL,
        PlantSize::Small => {
            let kettle_l = plant.kettle_l.unwrap_or(brewed.run.volume_l);
            hourly_l > HARD_BOIL_L_PER_H * kettle_l.powf(2.0 / 3.0)
        }
    };
    if is_hard {
        let hard = Warning::HardBoil {
            hourly: Share::clamped(hourly),
            side: plant.side,
        };
        let place = Place::plant(&plant.name, "evaporation");
        warnings.push(Noted::at(place, hard));
    }
}

/// A boil that takes more power than its heater is said to have: the heat of evaporation alone, whatever else is lost.
fn weak_heater(setup: &Setup, hourly_l: f64) -> Option<Noted<Warning>> {
    let plant = &setup.plant;
    let at = Temperature::clamped(setup.cooling.boiling_c);
    let kilowatt = rate_of_power(kilowatts(1.0), Share::clamped(1.0), at).ok()?;
    let most_l = plant.heater_kw? * kilowatt.litres_per_hour();
    (hourly_l > most_l).then(|| {
        let weak = Warning::HeaterWeak {
            hourly: litres(hourly_l),
            most: litres(most_l),
            needed: kilowatts(hourly_l / kilowatt.litres_per_hour()),
            side: plant.side,
        };
        Noted::at(Place::plant(&plant.name, "heat_power_kw"), weak)
    })
}

/// More alpha acids in hot wort than it dissolves, where bitterness is predicted of what does not: the hops that go in first dissolve
/// first, and one of which the model gives no bitterness overstates none.
fn high_hopping(worked: &Worked) -> Option<Noted<Warning>> {
    let formula = &worked.setup.formula;
    let litres = worked.brewed.boiled.volume_l.max(f64::MIN_POSITIVE);
    let mut hops = Vec::new();
    for (index, item) in formula.items.iter() {
        if let Material::Hop { alpha: Some(alpha) } = item.material
            && item.is_hot_hop()
        {
            let g_per_l = 1000.0 * worked.amounts.of.at(index) * alpha / litres;
            hops.push((item, g_per_l, worked.brewed.ibu.at(index)));
        }
    }
    order::sort_by(&mut hops, |(a, ..), (b, ..)| {
        let left = |item: &Item| item.time_left_min(formula.boil_min);
        (a.place.stage.cmp(&b.place.stage))
            .then(left(b).total_cmp(&left(a)))
            .then(a.place.stand.cmp(&b.place.stand))
    });
    let (mut added_g_l, mut overstated_ibu) = (0.0_f64, 0.0);
    for (_, g_per_l, ibu) in &hops {
        let room_g_l = (ALPHA_DISSOLVES_G_L - added_g_l).max(0.0);
        let undissolved = (1.0 - room_g_l / g_per_l.max(f64::MIN_POSITIVE)).max(0.0);
        overstated_ibu += undissolved * ibu;
        added_g_l += g_per_l;
    }
    let (most, ..) = (hops.into_iter()).max_by(|(_, a, _), (_, b, _)| a.total_cmp(b))?;
    let all_ibu = worked.brewed.wort_ibu();
    (overstated_ibu > OVERSTATED * all_ibu).then(|| {
        let too_much = Warning::HighHopping {
            alpha: Concentration::clamped(added_g_l),
            dissolves: Concentration::clamped(ALPHA_DISSOLVES_G_L),
            of_undissolved: Bitterness::clamped(overstated_ibu),
            side: worked.setup.plant.side,
        };
        Noted::at(most.place.line().field("amount"), too_much)
    })
}

/// A printed colour, and what the grist gives in its place.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ColourGap {
    pub(crate) place: Place,
    pub(crate) printed: BeerColour,
    pub(crate) malt: BeerColour,
    pub(crate) with_juice: Option<BeerColour>,
}

/// The printed colours that the grist does not explain, that of the beer first: paler than Morey's relation allows for, or darker
/// than a sum of the malts' colours, by which many sheets are reckoned.
pub(crate) fn colour_gaps(targets: &Targets, worked: &Worked) -> Vec<ColourGap> {
    let brewed = &worked.brewed;
    let linear_ebc = || worked.linear_colour_ebc().unwrap_or_default();
    let of_beer = targets.colour.as_ref().zip(brewed.beer_colour_ebc());
    let of_beer = of_beer.map(|(printed, malt_ebc)| Compared {
        place: "targets.colour_ebc",
        printed: printed.value(),
        malt: BeerColour::clamped(malt_ebc),
        with_juice: brewed.colour_with_juice_ebc().map(BeerColour::clamped),
        linear_ebc: linear_ebc() * brewed.dilution(),
    });
    let of_wort = targets.wort_colour.as_ref().zip(brewed.wort_colour_ebc);
    let of_wort = of_wort.map(|(printed, malt_ebc)| Compared {
        place: "targets.wort_colour_ebc",
        printed: printed.value(),
        malt: BeerColour::clamped(malt_ebc),
        with_juice: None,
        linear_ebc: linear_ebc(),
    });
    let compared = of_beer.into_iter().chain(of_wort);
    compared.filter_map(Compared::gap).collect()
}

/// A printed colour, and what the brew has in its place.
struct Compared {
    place: &'static str,
    printed: BeerColour,
    malt: BeerColour,
    with_juice: Option<BeerColour>,
    /// The colour by a sum of the malts' colours.
    linear_ebc: f64,
}

impl Compared {
    fn gap(self) -> Option<ColourGap> {
        let Self {
            printed,
            malt,
            with_juice,
            ..
        } = self;
        let from_juice = with_juice.map_or(0.0, |all| all.ebc() - malt.ebc());
        let palest = (1.0 - COLOUR_WITHIN) * malt.ebc();
        let darkest = (1.0 + COLOUR_WITHIN) * (self.linear_ebc.max(malt.ebc()) + from_juice);
        let explained = (palest..=darkest).contains(&printed.ebc());
        (!explained).then(|| ColourGap {
            place: Place::recipe(self.place),
            printed,
            malt,
            with_juice,
        })
    }
}

/// Notes a carbonation that is printed and not worked out.
pub(crate) fn carbonation_is_as_stated(recipe: &Recipe, assumptions: &mut Vec<Noted<Assumption>>) {
    let place = match (&recipe.package.carbonation, &recipe.targets.carbonation) {
        (Some(_), _) => "package.carbonation_g_l",
        (None, Some(_)) => "targets.carbonation_g_l",
        (None, None) => return,
    };
    assumptions.push(Noted::at(
        Place::recipe(place),
        Assumption::CarbonationAsStated,
    ));
}

/// What is carried from the sheet without being worked out.
pub(crate) fn what_is_as_stated(setup: &Setup, assumptions: &mut Vec<Noted<Assumption>>) {
    let formula = &setup.formula;
    let is_hop = |item: &&Item| matches!(item.material, Material::Hop { .. });
    let in_stand = formula
        .items
        .values()
        .filter(is_hop)
        .filter(|i| i.place.stage == Stage::Stand)
        .count();
    let untimed = |item: &&Item| {
        item.place.stage == Stage::Ferment
            && matches!(item.material, Material::Fermentable(_))
            && item.trigger_plato().is_none()
            && !item.is_at_pitching()
    };
    assumptions.extend(formula.items.values().filter(untimed).map(|item| {
        let name = item.ingredient.name.clone();
        Noted::at(
            item.place.line().field("timing.at"),
            Assumption::LateAddition { name },
        )
    }));
    let at_packaging = |item: &&Item| {
        let ferments = match item.material {
            Material::Fermentable(part) => part.ferments.is_none_or(|share| share > 0.0),
            _ => false,
        };
        item.place.stage == Stage::Package && ferments
    };
    assumptions.extend(formula.items.values().filter(at_packaging).map(|item| {
        let name = item.ingredient.name.clone();
        Noted::at(item.place.line(), Assumption::FermentsInPackage { name })
    }));
    let as_water = |item: &&Item| {
        let is_slurry = matches!(
            item.ingredient.kind,
            Kind::Aid | Kind::Botanical | Kind::Other
        );
        is_slurry && item.material == Material::Inert && item.is_by_volume()
    };
    let after_mash = |item: &&Item| item.place.stage > Stage::Mash;
    let slurries = formula.items.values().filter(after_mash).filter(as_water);
    assumptions.extend(slurries.map(|item| {
        let name = item.ingredient.name.clone();
        let place = item.place.place().field("amount");
        Noted::at(place, Assumption::CountedAsWater { name })
    }));
    let mut yeasts = formula.yeasts();
    if let Some((_, first)) = yeasts.next() {
        let first = YeastUse::of(Some(&first));
        let later = yeasts.chain(formula.package_yeasts());
        assumptions.extend(later.map(|(item, later)| {
            let both = first.and(&later).attenuation(1.0);
            let later = Assumption::LaterYeast {
                name: item.ingredient.name.clone(),
                attenuation: Attenuation::clamped(both),
                beyond: Share::clamped(both - first.attenuation(1.0)),
            };
            Noted::at(item.place.line(), later)
        }));
    }
    let starters = formula.items.values();
    let starters = starters.filter(|item| matches!(item.material, Material::Yeast(_)));
    assumptions.extend(starters.filter(|item| item.is_by_volume()).map(|item| {
        let name = item.ingredient.name.clone();
        let place = item.place.place().field("amount");
        Noted::at(place, Assumption::YeastVolumeLeftOut { name })
    }));
    let hopped = formula.items.values().any(Item::is_hot_hop);
    match setup.plant.bitterness {
        BitternessModel::Tinseth if hopped && !setup.cooling.stands.is_empty() => {
            // The history is kept from its end.
            let first = setup.cooling.stands.last();
            let place = first.map(|stand| stand.place(&setup.plant));
            let unknown = Assumption::StandWithoutBitterness {
                additions: in_stand,
            };
            assumptions.push(Noted::at(place, unknown));
        }
        BitternessModel::Kinetic if hopped => {
            let stands = &setup.cooling.stands;
            let cooler = stands.iter().rfind(|stand| stand.at_c < MEASURED_FROM_C);
            assumptions.extend(cooler.map(|stand| {
                Noted::at(
                    stand.place(&setup.plant),
                    Assumption::IsomerisationExtrapolated,
                )
            }));
        }
        _ => {}
    }
    let mashed = formula.items.values().filter(is_hop);
    let mashed = mashed.filter(|item| item.place.stage == Stage::Mash);
    assumptions.extend(mashed.map(|item| {
        let name = item.ingredient.name.clone();
        Noted::at(item.place.place(), Assumption::MashHops { name })
    }));
    let after_boil = formula.items.values().filter(is_hop);
    let after_boil = after_boil.filter(|item| item.place.stage >= Stage::Ferment);
    let (extracts, mut dry): (Vec<_>, Vec<_>) =
        after_boil.partition(|item| item.ingredient.hop_form() == Some(HopForm::Extract));
    dry.truncate(1);
    assumptions.extend(
        dry.iter()
            .map(|item| Noted::at(item.place.place(), Assumption::DryHopsWithoutBitterness)),
    );
    assumptions.extend(extracts.iter().map(|item| {
        let name = item.ingredient.name.clone();
        Noted::at(
            item.place.place(),
            Assumption::ExtractWithoutBitterness { name },
        )
    }));
    // The one enzyme of the catalogue that makes sugar of what a mash leaves.
    let splits = |item: &&Item| item.ingredient.catalogue_name() == "amyloglucosidase";
    assumptions.extend(formula.items.values().filter(splits).map(|item| {
        let name = item.ingredient.name.clone();
        Noted::at(item.place.line(), Assumption::DextrinsSplit { name })
    }));
}
