//! Carbonation: the pressure on a keg, the sugar for what is closed, and the gas that comes about in it.

mod residual;
mod text;

use super::assumption::Assumption;
use super::brew::Brewed;
use super::brew::Worked;
use super::container::Container;
use super::formula::{Formula, Item, PerItem, Stage};
use super::warning::Warning;
use crate::catalogue::Kind;
use crate::diagnostic::Place;
use crate::quantity::agreement::is_above;
use crate::quantity::{
    AlcoholByVolume, CarbonDioxide, Concentration, Mass, Pressure, Temperature, Written, litres,
};
use crate::recipe::Recipe;
use crate::science::attenuation::CARBON_DIOXIDE_PER_ETHANOL;
use crate::science::carbonation::{Priming, PrimingSugar, air_pressure, pressure_at};
use crate::science::density::WATER_KG_PER_L;
use crate::speech::Noted;
use residual::warmest_since_fermented;
pub(crate) use residual::{WORKS_FROM_C, left, thin_air};
use serde::Serialize;
pub(crate) use text::{DEXTROSE_PER_GLUCOSE, regulator};
use uom::si::pressure::bar;

/// What many beer kegs are stamped with, bar (from memory: DIN 6647; a soda keg holds about three times as much).
const KEG_LIMIT_BAR: f64 = 3.0;
/// How warm a keg may stand, °C (common practice, no source).
const WARM_C: f64 = 20.0;
/// Temperature of a fermentation that states none, °C (common practice, no source).
const FERMENTED_AT_C: f64 = 20.0;
/// Ethanol at 20 °C, g/L (OIML R 22).
const ETHANOL_G_L: f64 = 789.24;
/// Ethanol that dry hops may let the yeast make of a beer's dextrins in 40 days: 1.3 % by volume, g/L at 20 °C (Kirkpatrick &
/// Shellhammer, J. Agric. Food Chem. 2018, 66, 9121, second hand).
const HOP_CREEP_ETHANOL_G_L: f64 = 0.013 * ETHANOL_G_L;
/// Gas this much over the wish is none to speak of, g/L (common practice, no source).
const NEAR_G_L: f64 = 0.1;

/// How the beer comes to its carbon dioxide.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "by", rename_all = "snake_case")]
#[non_exhaustive]
pub enum GasPlan {
    /// Gas from a cylinder into a keg, until it takes up no more.
    Forced {
        /// What it is packaged in.
        container: Container,
        /// Wanted.
        #[serde(rename = "wanted_g_l")]
        wanted: CarbonDioxide,
        /// Temperature of the beer.
        #[serde(rename = "temperature_c")]
        temperature: Temperature,
        /// Pressure above that of the air on the plant at which it keeps so much.
        #[serde(rename = "gauge_bar", with = "crate::quantity::json::bar")]
        gauge: Pressure,
    },
    /// What ferments in the closed container.
    Conditioned {
        /// What it is packaged in.
        container: Container,
        /// Wanted; absent where no line says.
        #[serde(rename = "wanted_g_l", skip_serializing_if = "Option::is_none")]
        wanted: Option<CarbonDioxide>,
        /// What fermentation leaves in the beer.
        #[serde(rename = "left_g_l")]
        left: CarbonDioxide,
        /// The warmest temperature since fermentation ended, which sets that.
        #[serde(rename = "warmest_c")]
        warmest: Temperature,
        /// Gas from what the recipe itself adds at packaging.
        #[serde(rename = "from_additions_g_l")]
        from_additions: CarbonDioxide,
        /// Gas from what the beer can still ferment, where a reading shows that it has not finished.
        #[serde(
            rename = "from_unfermented_g_l",
            skip_serializing_if = "Option::is_none"
        )]
        from_unfermented: Option<CarbonDioxide>,
        /// Gas on top, should juice ferment that is taken not to.
        #[serde(rename = "if_juice_ferments_g_l")]
        if_juice_ferments: CarbonDioxide,
        /// Table sugar for all of the beer packaged.
        #[serde(rename = "sucrose_kg", with = "crate::quantity::json::kilogram")]
        sucrose: Mass,
        /// Or as much anhydrous glucose.
        #[serde(rename = "glucose_kg", with = "crate::quantity::json::kilogram")]
        glucose: Mass,
        /// Alcohol that either adds to the beer.
        #[serde(
            rename = "priming_alcohol_abv_pct",
            with = "crate::quantity::json::percent"
        )]
        priming_alcohol: AlcoholByVolume,
    },
}

impl GasPlan {
    /// What the beer then holds, juice fermenting as predicted.
    pub(crate) fn reached(&self) -> CarbonDioxide {
        match self {
            Self::Forced { wanted, .. } => *wanted,
            Self::Conditioned {
                container, wanted, ..
            } => {
                let primed = wanted.filter(|_| container.may_ferment());
                let primed_g_l = primed.map_or(0.0, CarbonDioxide::grams_per_litre);
                CarbonDioxide::clamped(self.there_g_l().max(primed_g_l))
            }
        }
    }

    /// What beer comes to without priming.
    fn there_g_l(&self) -> f64 {
        match self {
            Self::Forced { .. } => 0.0,
            Self::Conditioned {
                left,
                from_additions,
                from_unfermented,
                ..
            } => {
                left.grams_per_litre()
                    + from_additions.grams_per_litre()
                    + from_unfermented.map_or(0.0, CarbonDioxide::grams_per_litre)
            }
        }
    }
}

/// What is known of the beer itself, beside the plan.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Measured {
    /// The warmest that it has been since it stopped fermenting.
    pub(crate) warmest: Option<Temperature>,
    /// What it can still ferment.
    pub(crate) unfermented: Option<Concentration>,
    /// The share of it that is water filled up with, which brings no gas.
    pub(crate) water: f64,
}

/// A beer to be packaged, with what goes in there.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ToPackage<'a> {
    pub(crate) formula: &'a Formula,
    pub(crate) amounts: &'a PerItem<f64>,
    pub(crate) brewed: &'a Brewed,
    pub(crate) altitude_m: f64,
    pub(crate) measured: Measured,
}

impl<'a> ToPackage<'a> {
    /// The beer as it was worked out.
    pub(crate) fn of(worked: &'a Worked) -> Self {
        Self {
            formula: &worked.setup.formula,
            amounts: &worked.amounts.of,
            brewed: &worked.brewed,
            altitude_m: worked.setup.plant.altitude_m,
            measured: Measured::default(),
        }
    }
}

/// What is told of the gas.
pub(crate) struct GasNotes<'a> {
    pub(crate) assumptions: &'a mut Vec<Noted<Assumption>>,
    pub(crate) warnings: &'a mut Vec<Noted<Warning>>,
}

/// The carbon dioxide that a recipe wants, and which of its lines says so.
#[derive(Clone, Copy)]
struct Wish {
    gas: CarbonDioxide,
    field: &'static str,
}

impl Wish {
    fn of(recipe: &Recipe) -> Option<Self> {
        let (written, field) = match (&recipe.package.carbonation, &recipe.targets.carbonation) {
            (Some(written), _) => (written, "package.carbonation_g_l"),
            (None, Some(written)) => (written, "targets.carbonation_g_l"),
            (None, None) => return None,
        };
        Some(Self {
            gas: written.value(),
            field,
        })
    }
}

/// Gas that comes about in the closed container, g/L.
#[derive(Clone, Copy)]
struct Made {
    from_additions: CarbonDioxide,
    from_unfermented: Option<CarbonDioxide>,
    if_juice_ferments: CarbonDioxide,
}

impl Made {
    fn of(beer: ToPackage<'_>) -> Self {
        let (cellar, packaged_l) = (&beer.brewed.cellar, beer.brewed.cellar.packaged_l);
        let added_g_l: f64 = beer
            .formula
            .items
            .with(beer.amounts)
            .filter(|(item, _)| item.place.stage == Stage::Package)
            .map(|(item, amount)| gas_of_kg(item, *amount))
            .sum::<f64>()
            * 1000.0
            / packaged_l.max(f64::MIN_POSITIVE);
        let per_l = 1000.0 / cellar.beer.volume_l().max(f64::MIN_POSITIVE);
        let by_yeast_g_l = of_hexose(cellar.in_packages_kg * per_l).grams_per_litre();
        let unfermented = beer.measured.unfermented;
        let juice_g_l = cellar.if_juice_ferments.map_or(0.0, |dry| {
            let left_kg = (cellar.beer.extract_kg - dry.extract_kg).max(0.0);
            left_kg * per_l
        });
        Self {
            from_additions: CarbonDioxide::clamped(added_g_l + by_yeast_g_l),
            from_unfermented: unfermented.map(|left| of_hexose(left.grams_per_litre())),
            if_juice_ferments: of_hexose(juice_g_l),
        }
    }

    fn sure_g_l(self) -> f64 {
        let unfermented = self.from_unfermented;
        self.from_additions.grams_per_litre()
            + unfermented.map_or(0.0, CarbonDioxide::grams_per_litre)
    }

    fn most_g_l(self) -> f64 {
        self.sure_g_l() + self.if_juice_ferments.grams_per_litre()
    }
}

/// Gas from extract whose sugars are not known: as of hexose, which gives more than the extract of wort does by
/// Balling's balance. That errs on the safe side. More than the scale knows counts as its end.
fn of_hexose(g_l: f64) -> CarbonDioxide {
    CarbonDioxide::clamped(g_l * PrimingSugar::Glucose.yield_of_gas())
}

/// Kilograms of gas from an addition at packaging; where it is not known how much of it ferments, all of it does. Juice holds
/// hexose, and of sugars sucrose gives the most. Malt extract ferments by its own share here, without the factor of a printed final
/// gravity, which speaks of the wort more than of a few grams a litre.
fn gas_of_kg(item: &Item, amount: f64) -> f64 {
    let sugar = match item.ingredient.kind {
        Kind::Juice => PrimingSugar::Glucose,
        _ => PrimingSugar::Sucrose,
    };
    item.fermentable(amount).map_or(0.0, |(part, kg)| {
        kg * part.extract * part.ferments.unwrap_or(1.0) * sugar.yield_of_gas()
    })
}

/// The gas of a beer, in whatever it is packaged; none where nothing is to be worked out.
pub(crate) fn gas_plan(
    recipe: &Recipe,
    beer: ToPackage<'_>,
    notes: &mut GasNotes<'_>,
) -> Option<GasPlan> {
    let package = &recipe.package;
    let container = Container::of(package.container.as_deref());
    let (wish, made) = (Wish::of(recipe), Made::of(beer));
    compare_wishes(recipe, notes);
    let ferments = made.sure_g_l() > NEAR_G_L;
    let is_closed = match container {
        Container::Keg | Container::Unknown => ferments || package.primed,
        _ => true,
    };
    let plan = match (container, wish, &package.temperature) {
        (Container::Keg, Some(wish), Some(at)) if !package.primed => {
            forced(wish, at.value(), beer.altitude_m)
        }
        _ if is_closed => Some(conditioned(recipe, container, beer, made, notes)?),
        _ => None,
    };
    if let (Some(_), None | Some(GasPlan::Conditioned { .. })) = (&package.temperature, &plan) {
        let unused = Assumption::PackageTemperatureNotUsed { container };
        let place = Place::recipe("package.temperature_c");
        notes.assumptions.push(Noted::at(place, unused));
    }
    if container != Container::Keg && matches!(plan, Some(GasPlan::Conditioned { .. })) {
        seal_hop_creep(container, notes.warnings);
    }
    warn_of_limit(
        recipe,
        beer,
        &Filled {
            container,
            made,
            plan: plan.as_ref(),
        },
        notes,
    );
    plan
}

/// Gas from a cylinder, at equilibrium with the beer.
fn forced(wish: Wish, temperature: Temperature, altitude_m: f64) -> Option<GasPlan> {
    let absolute = pressure_at(wish.gas, temperature).ok()?;
    let gauge = absolute - air_pressure() * thin_air(altitude_m);
    Some(GasPlan::Forced {
        container: Container::Keg,
        wanted: wish.gas,
        temperature,
        gauge: gauge.max(Pressure::default()),
    })
}

/// What is left in the beer and what ferments on in a closed container, with the sugar for the rest.
fn conditioned(
    recipe: &Recipe,
    container: Container,
    beer: ToPackage<'_>,
    made: Made,
    notes: &mut GasNotes<'_>,
) -> Option<GasPlan> {
    let wish = Wish::of(recipe);
    let stated = beer.measured.warmest;
    let stated = stated.or_else(|| warmest_since_fermented(recipe, beer.formula));
    let warmest = stated.unwrap_or_else(|| {
        let temperature = Temperature::clamped(FERMENTED_AT_C);
        let assumed = Assumption::FermentedAt { temperature };
        notes
            .assumptions
            .push(Noted::at(Place::recipe("fermentation.holds"), assumed));
        temperature
    });
    let undiluted = left(warmest, thin_air(beer.altitude_m))?;
    let still = (beer.measured.water + water_added(beer)).min(1.0);
    let left_g_l = undiluted.grams_per_litre() * (1.0 - still);
    let mut plan = GasPlan::Conditioned {
        container,
        wanted: wish.map(|wish| wish.gas),
        left: CarbonDioxide::clamped(left_g_l),
        warmest,
        from_additions: made.from_additions,
        from_unfermented: made.from_unfermented,
        if_juice_ferments: made.if_juice_ferments,
        sucrose: Mass::default(),
        glucose: Mass::default(),
        priming_alcohol: AlcoholByVolume::clamped(0.0),
    };
    let there = CarbonDioxide::clamped(plan.there_g_l());
    if let (
        GasPlan::Conditioned {
            sucrose,
            glucose,
            priming_alcohol,
            ..
        },
        Some(wish),
    ) = (&mut plan, wish)
        && container.may_ferment()
    {
        let primed_g_l = (wish.gas.grams_per_litre() - there.grams_per_litre()).max(0.0);
        let ethanol_g_l = primed_g_l / CARBON_DIOXIDE_PER_ETHANOL;
        *priming_alcohol = AlcoholByVolume::clamped(ethanol_g_l / ETHANOL_G_L);
        let priming = Priming {
            beer: litres(beer.brewed.cellar.packaged_l),
            present: there,
            wanted: wish.gas,
        };
        *sucrose = priming.mass_of(PrimingSugar::Sucrose).ok()?;
        *glucose = priming.mass_of(PrimingSugar::Glucose).ok()?;
    }
    if let Some(wish) = wish
        && there.grams_per_litre() > wish.gas.grams_per_litre() + NEAR_G_L
    {
        let wanted = wish.gas;
        let beyond = Warning::GasBeyondWanted { wanted, there };
        notes
            .warnings
            .push(Noted::at(Place::recipe(wish.field), beyond));
    }
    Some(plan)
}

/// The share of the packaged beer that is water added to it, alone or in what is added, which brings no gas.
fn water_added(beer: ToPackage<'_>) -> f64 {
    let items = beer.formula.items.with(beer.amounts);
    let added = items.filter(|(item, _)| item.place.stage == Stage::Package);
    let water_kg: f64 = added
        .map(|(item, amount)| item.brings(*amount).liquid.water_kg)
        .sum();
    water_kg / WATER_KG_PER_L / beer.brewed.cellar.packaged_l.max(f64::MIN_POSITIVE)
}

/// A container with its gas.
struct Filled<'a> {
    container: Container,
    made: Made,
    plan: Option<&'a GasPlan>,
}

/// Warns of a beer that comes to more gas than its container is made for.
fn warn_of_limit(
    recipe: &Recipe,
    beer: ToPackage<'_>,
    filled: &Filled<'_>,
    notes: &mut GasNotes<'_>,
) {
    let Filled {
        container,
        made,
        plan,
    } = *filled;
    let place = match recipe.package.container {
        Some(_) => Place::recipe("package.container"),
        None => Place::recipe("package"),
    };
    if container == Container::Keg {
        let over = keg_over_limit(recipe, beer, made, plan);
        notes
            .warnings
            .extend(over.map(|over| Noted::at(place, over)));
        return;
    }
    let Some(plan) = plan else { return };
    let most_g_l = plan.reached().grams_per_litre() + made.if_juice_ferments.grams_per_litre();
    // In a vessel that is not made for pressure nothing may ferment.
    let open_g_l = most_g_l - made.most_g_l();
    let limit_g_l = container
        .limit()
        .map_or(open_g_l + NEAR_G_L, CarbonDioxide::grams_per_litre);
    if most_g_l > limit_g_l {
        let over = Warning::PackageOverLimit {
            container,
            most: CarbonDioxide::clamped(most_g_l),
            limit: container.limit(),
            heavy_limit: container.heavy_limit(),
            from_sugar: CarbonDioxide::clamped(made.most_g_l()),
            to_ferment_out: names_of(beer, |item| {
                made.if_juice_ferments.grams_per_litre() > 0.0
                    && item.place.stage == Stage::Ferment
                    && item.ingredient.kind == Kind::Juice
            }),
            at_packaging: names_of(beer, |item| item.place.stage == Stage::Package),
            carbonate_at_most: container
                .limit()
                .and_then(|_| lower_wish(recipe, plan, limit_g_l - most_g_l)),
        };
        notes.warnings.push(Noted::at(place, over));
    }
}

/// The carbonation, less than is wanted, that brings a container below its limit, which it exceeds by `-spare_g_l`.
fn lower_wish(recipe: &Recipe, plan: &GasPlan, spare_g_l: f64) -> Option<CarbonDioxide> {
    // As it is said: to a tenth, on the safe side.
    let lower_g_l = (10.0 * (plan.reached().grams_per_litre() + spare_g_l)).floor() / 10.0;
    let wish = Wish::of(recipe)?;
    let is_lower = lower_g_l < wish.gas.grams_per_litre() && lower_g_l >= plan.there_g_l();
    is_lower.then(|| CarbonDioxide::clamped(lower_g_l))
}

/// The names of what brings something that ferments, of items as are asked for.
fn names_of(beer: ToPackage<'_>, is_asked: impl Fn(&Item) -> bool) -> Vec<String> {
    let items = beer.formula.items.with(beer.amounts);
    let named = items.filter(|(item, amount)| is_asked(item) && gas_of_kg(item, **amount) > 0.0);
    named
        .map(|(item, _)| item.ingredient.name.clone())
        .collect()
}

/// Dry hops in a beer that comes to its gas in a closed container without a valve: more than a look.
fn seal_hop_creep(container: Container, warnings: &mut [Noted<Warning>]) {
    for told in warnings {
        if told.what == Warning::HopCreep {
            told.what = Warning::HopCreepSealed {
                container,
                gas: CarbonDioxide::clamped(HOP_CREEP_ETHANOL_G_L * CARBON_DIOXIDE_PER_ETHANOL),
            };
        }
    }
}

/// A keg that comes to more pressure than it may hold when it stands warm: with the gas that it was given, or with what
/// fermentation left, and with what ferments on in it. Juice that is taken not to ferment (sorbitol, acids) is left out, since a
/// keg has a relief valve.
fn keg_over_limit(
    recipe: &Recipe,
    beer: ToPackage<'_>,
    made: Made,
    plan: Option<&GasPlan>,
) -> Option<Warning> {
    let given_g_l = match (Wish::of(recipe), plan) {
        (Some(wish), _) => wish.gas.grams_per_litre(),
        (None, Some(GasPlan::Conditioned { left, .. })) => left.grams_per_litre(),
        _ => return None,
    };
    let stands = recipe.package.temperature.as_ref().map(Written::value);
    let at = Temperature::clamped(stands.map_or(WARM_C, |t| t.celsius().max(WARM_C)));
    // More gas than the scale knows counts as its end, which is beyond any keg: that must not pass in silence.
    let all = CarbonDioxide::clamped(given_g_l + made.sure_g_l());
    let gauge = pressure_at(all, at).ok()? - air_pressure() * thin_air(beer.altitude_m);
    let limit = Pressure::new::<bar>(KEG_LIMIT_BAR);
    (gauge > limit).then_some(Warning::KegOverLimit { gauge, at, limit })
}

/// Tells where two lines want another carbonation: that of the package is taken.
fn compare_wishes(recipe: &Recipe, notes: &mut GasNotes<'_>) {
    let stated = (&recipe.package.carbonation, &recipe.targets.carbonation);
    let (Some(package), Some(printed)) = stated else {
        return;
    };
    let (package, printed) = (package.value(), printed.value());
    let apart_g_l = (package.grams_per_litre() - printed.grams_per_litre()).abs();
    if is_above(apart_g_l, NEAR_G_L) {
        let disagree = Warning::CarbonationDisagrees { printed, package };
        let place = Place::recipe("targets.carbonation_g_l");
        notes.warnings.push(Noted::at(place, disagree));
    }
}
