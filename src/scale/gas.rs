//! Carbonation: the pressure on a keg, or the sugar for bottles.

use crate::diagnostic::Place;
use crate::process::{Brewed, Formula, Item, PerItem, Stage, Warning};
use crate::quantity::{
    CarbonDioxide, Concentration, Mass, Pressure, Temperature, Written, in_kilograms, litres,
};
use crate::recipe::{At, Recipe};
use crate::science::carbonation::{
    Priming, PrimingSugar, air_pressure, carbon_dioxide_from, carbon_dioxide_left, pressure_at,
};
use crate::science::liquid::Liquid;
use crate::speech::{Noted, Style};
use serde::Serialize;
use uom::si::pressure::bar;

/// What crown-capped beer bottles are kept below, and what heavy swing-top and returnable wheat-beer bottles are, g/L:
/// 3 and 4 volumes of 1.977 g/L (common practice, no source).
const BOTTLE_LIMITS_G_L: (f64, f64) = (3.0 * 1.977, 4.0 * 1.977);
/// What many beer kegs are stamped with, bar (from memory: DIN 6647; a soda keg holds about three times as much).
const KEG_LIMIT_BAR: f64 = 3.0;
/// How warm a keg may stand, °C (common practice, no source).
const WARM_C: f64 = 20.0;
/// Gas this much over the wish is none to speak of, g/L (common practice, no source).
const NEAR_G_L: f64 = 0.1;

/// How the beer comes to its carbon dioxide.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "into", rename_all = "snake_case")]
#[non_exhaustive]
pub enum GasPlan {
    /// Gas from a cylinder into a keg, until it takes up no more.
    Keg {
        /// Wanted.
        #[serde(rename = "wanted_g_l")]
        wanted: CarbonDioxide,
        /// Temperature of the beer.
        #[serde(rename = "temperature_c")]
        temperature: Temperature,
        /// Pressure above that of the air at which it keeps so much.
        #[serde(rename = "gauge_bar", with = "crate::quantity::json::bar")]
        gauge: Pressure,
    },
    /// Sugar that ferments in the bottle.
    Bottles {
        /// Wanted.
        #[serde(rename = "wanted_g_l")]
        wanted: CarbonDioxide,
        /// What fermentation leaves in the beer.
        #[serde(rename = "left_g_l")]
        left: CarbonDioxide,
        /// The temperature at which it last fermented, which sets that.
        #[serde(rename = "fermented_at_c")]
        fermented_at: Temperature,
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
    },
}

impl GasPlan {
    /// What the beer then holds, juice fermenting as predicted.
    pub(crate) fn reached(&self) -> CarbonDioxide {
        match self {
            Self::Keg { wanted, .. } => *wanted,
            Self::Bottles { wanted, .. } => {
                let there = self.there_g_l();
                CarbonDioxide::clamped(there.max(wanted.grams_per_litre()))
            }
        }
    }

    /// What bottled beer comes to without priming.
    fn there_g_l(&self) -> f64 {
        match self {
            Self::Keg { .. } => 0.0,
            Self::Bottles {
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

    /// What to do, as a phrase.
    pub fn text(&self, style: Style) -> String {
        match self {
            Self::Keg {
                wanted,
                temperature,
                gauge,
            } => format!(
                "set the keg's gas to {} on the gauge for {}, beer at {}; never above the keg's marking, and with a relief valve",
                style.pressure(*gauge),
                style.carbon_dioxide(*wanted),
                style.temperature(*temperature)
            ),
            Self::Bottles {
                wanted,
                left,
                fermented_at,
                from_additions,
                from_unfermented,
                sucrose,
                glucose,
                ..
            } => {
                let mut counted = vec![format!(
                    "{} left by fermenting at {}",
                    style.carbon_dioxide(*left),
                    style.temperature(*fermented_at)
                )];
                if from_additions.grams_per_litre() > 0.0 {
                    let more = style.carbon_dioxide(*from_additions);
                    counted.push(format!("{more} from what goes in at packaging"));
                }
                if let Some(more) = from_unfermented {
                    counted.push(format!(
                        "{} from what it can still ferment: wait for two equal readings three days apart before you bottle it",
                        style.carbon_dioxide(*more)
                    ));
                }
                let counted = counted.join(", ");
                let prime = if in_kilograms(*sucrose) > 0.0 {
                    format!(
                        "prime with {} of table sugar, or {} of anhydrous glucose, for {}",
                        style.mass(*sucrose),
                        style.mass(*glucose),
                        style.carbon_dioxide(*wanted)
                    )
                } else {
                    "prime with nothing".to_owned()
                };
                format!(
                    "{prime}, counting {counted}; fill only bottles made for pressure, too much sugar bursts them"
                )
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
    pub(crate) measured: Measured,
}

/// The carbon dioxide that a recipe wants, and which of its lines says so.
struct Wish {
    gas: CarbonDioxide,
    place: Place,
}

impl Wish {
    fn of(recipe: &Recipe) -> Option<Self> {
        let (written, place) = match (&recipe.package.carbonation, &recipe.targets.carbonation) {
            (Some(written), _) => (written, "package.carbonation_g_l"),
            (None, Some(written)) => (written, "targets.carbonation_g_l"),
            (None, None) => return None,
        };
        Some(Self {
            gas: written.value(),
            place: Place::recipe(place),
        })
    }
}

/// The gas of a beer, where container, wish and temperature are known.
pub(crate) fn plan(
    recipe: &Recipe,
    beer: ToPackage<'_>,
    warnings: &mut Vec<Noted<Warning>>,
) -> Option<GasPlan> {
    let package = &recipe.package;
    let wish = Wish::of(recipe)?;
    let container = package.container.as_ref()?.to_lowercase();
    let named = |word: &str| {
        container
            .split(|c: char| !c.is_alphabetic())
            .any(|part| part.starts_with(word))
    };
    if named("bottle") && !named("keg") {
        let warmest = beer.measured.warmest;
        let fermented_at = warmest.or_else(|| last_fermented_at(recipe))?;
        return bottles(wish, fermented_at, beer, warnings);
    }
    if !named("keg") {
        return None;
    }
    let temperature = package.temperature.as_ref()?.value();
    let wanted = wish.gas;
    let absolute = pressure_at(wanted, temperature).ok()?;
    warn_of_keg(wish, temperature, &beer.measured, warnings);
    Some(GasPlan::Keg {
        wanted,
        temperature,
        gauge: (absolute - air_pressure()).max(Pressure::default()),
    })
}

/// Warns of a keg that comes to more than it may hold when it stands warm.
fn warn_of_keg(
    wish: Wish,
    temperature: Temperature,
    measured: &Measured,
    warnings: &mut Vec<Noted<Warning>>,
) {
    let still = measured.unfermented.unwrap_or(Concentration::clamped(0.0));
    let at = Temperature::clamped(temperature.celsius().max(WARM_C));
    let made = carbon_dioxide_from(PrimingSugar::Sucrose, still);
    let made = made.map_or(f64::INFINITY, CarbonDioxide::grams_per_litre);
    // More gas than the scale knows is taken for its end, which is beyond any keg: that must not pass in silence.
    let all = CarbonDioxide::clamped(wish.gas.grams_per_litre() + made);
    let Ok(absolute) = pressure_at(all, at) else {
        return;
    };
    let (gauge, limit) = (
        absolute - air_pressure(),
        Pressure::new::<bar>(KEG_LIMIT_BAR),
    );
    if gauge > limit {
        let over = Warning::KegOverLimit { gauge, at, limit };
        warnings.push(Noted::at(wish.place, over));
    }
}

fn bottles(
    wish: Wish,
    fermented_at: Temperature,
    beer: ToPackage<'_>,
    warnings: &mut Vec<Noted<Warning>>,
) -> Option<GasPlan> {
    let wanted = wish.gas;
    let (brewed, measured) = (beer.brewed, &beer.measured);
    let undiluted = carbon_dioxide_left(fermented_at).ok()?;
    let left = CarbonDioxide::clamped(undiluted.grams_per_litre() * (1.0 - measured.water));
    let packaged_l = brewed.cellar.packaged_l;
    let added_g: f64 = beer
        .formula
        .items
        .with(beer.amounts)
        .filter(|(item, _)| item.place.stage == Stage::Package)
        .map(|(item, amount)| 1000.0 * fermentable_kg(item, *amount))
        .sum();
    let added = Concentration::from_grams_per_litre(added_g / packaged_l.max(f64::MIN_POSITIVE));
    // As sucrose, which gives the most gas of all sugars: that errs on the safe side.
    let from_additions = carbon_dioxide_from(PrimingSugar::Sucrose, added.ok()?).ok()?;
    let still = brewed.cellar.if_juice_ferments.map_or(0.0, |beer| {
        still_fermentable_g_l(brewed.cellar.finished, beer)
    });
    let still = Concentration::from_grams_per_litre(still).ok()?;
    let if_juice_ferments = carbon_dioxide_from(PrimingSugar::Sucrose, still).ok()?;
    let from_unfermented = measured
        .unfermented
        .map(|left| carbon_dioxide_from(PrimingSugar::Sucrose, left))
        .transpose()
        .ok()?;
    let mut plan = GasPlan::Bottles {
        wanted,
        left,
        fermented_at,
        from_additions,
        from_unfermented,
        if_juice_ferments,
        sucrose: Mass::default(),
        glucose: Mass::default(),
    };
    let there = CarbonDioxide::clamped(plan.there_g_l());
    if let GasPlan::Bottles {
        sucrose, glucose, ..
    } = &mut plan
    {
        let priming = Priming {
            beer: litres(packaged_l),
            present: there,
            wanted,
        };
        *sucrose = priming.mass_of(PrimingSugar::Sucrose).ok()?;
        *glucose = priming.mass_of(PrimingSugar::Glucose).ok()?;
    }
    if there.grams_per_litre() > wanted.grams_per_litre() + NEAR_G_L {
        let beyond = Warning::GasBeyondWanted { wanted, there };
        warnings.push(Noted::at(wish.place, beyond));
    }
    let most = plan.reached().grams_per_litre() + if_juice_ferments.grams_per_litre();
    let (limit_g_l, heavy_g_l) = BOTTLE_LIMITS_G_L;
    if most > limit_g_l {
        let over = Warning::BottlesOverLimit {
            most: CarbonDioxide::clamped(most),
            limit: CarbonDioxide::clamped(limit_g_l),
            heavy_limit: CarbonDioxide::clamped(heavy_g_l),
        };
        warnings.push(Noted::at(Place::recipe("package.container"), over));
    }
    Some(plan)
}

/// The last temperature held, else that of pitching.
fn last_fermented_at(recipe: &Recipe) -> Option<Temperature> {
    let fermentation = &recipe.fermentation;
    if let Some(hold) = fermentation.holds.last() {
        return Some(hold.temperature.value());
    }
    match &fermentation.pitch.as_ref()?.timing.at {
        Some(At::Temperature(written)) => Some(Written::value(written)),
        _ => None,
    }
}

/// What an addition at packaging brings for the yeast; where nobody knows how much of it ferments, all of it.
fn fermentable_kg(item: &Item, amount: f64) -> f64 {
    item.fermentable(amount).map_or(0.0, |(part, kg)| {
        kg * part.extract * part.fermentability.unwrap_or(1.0)
    })
}

/// Extract that goes on fermenting between two states of a beer, in a litre of the first.
fn still_fermentable_g_l(beer: Liquid, later: Liquid) -> f64 {
    1000.0 * (beer.extract_kg - later.extract_kg).max(0.0) / beer.volume_l().max(f64::MIN_POSITIVE)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn warned(carbon_dioxide_g_l: f64, unfermented_g_l: f64) -> Option<f64> {
        let measured = Measured {
            warmest: None,
            unfermented: Some(Concentration::clamped(unfermented_g_l)),
            water: 0.0,
        };
        let mut warnings = Vec::new();
        let wish = Wish {
            gas: CarbonDioxide::clamped(carbon_dioxide_g_l),
            place: Place::recipe("package.carbonation_g_l"),
        };
        warn_of_keg(wish, Temperature::clamped(4.0), &measured, &mut warnings);
        warnings.first().map(|warning| match &warning.what {
            Warning::KegOverLimit { gauge, .. } => gauge.get::<bar>(),
            other => panic!("{other:?}"),
        })
    }

    #[test]
    fn a_keg_of_half_fermented_wort_is_warned_of_however_much_gas_it_makes() {
        assert_eq!(warned(5.0, 0.0), None);
        assert!(warned(5.0, 20.0).is_some_and(|gauge| gauge > KEG_LIMIT_BAR));
        // 0.514 g of carbon dioxide for a gram of sugar: 51 g/L, more than the scale of carbon dioxide knows.
        assert!(warned(5.0, 100.0).is_some_and(|gauge| gauge > 2.0 * KEG_LIMIT_BAR));
    }
}
