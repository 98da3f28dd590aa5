//! What can be done about a reading.

use super::to_measure::ToMeasure;
use crate::diagnostic::{Severity, codes};
use crate::process::GasPlan;
use crate::quantity::{
    Concentration, Extract, Mass, PackCount, Pressure, Temperature, Time, Volume, in_litres,
    in_minutes,
};
use crate::speech::{Speaks, Style, packs};
use serde::Serialize;

/// Below this no yeast of beer does much, °C (common practice, no source).
const KEPT_BELOW_C: f64 = 4.0;

/// What to do.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Action {
    /// Go on as planned.
    GoOn,
    /// Measure this before anything is added: it costs nothing, and may change what is right.
    MeasureFirst {
        /// What to measure, the first thing first.
        what: Vec<ToMeasure>,
    },
    /// Boil for so long in all; the hops go in at the same time before the end.
    BoilFor {
        /// The whole boil.
        #[serde(rename = "boil_min", with = "crate::quantity::json::minute")]
        time: Time,
    },
    /// Pour in so much water; boiled and cooled if the wort has been.
    AddWater {
        /// How much.
        #[serde(rename = "water_l", with = "crate::quantity::json::litre")]
        water: Volume,
        /// Whether the wort has been boiled and cooled, and so must be what joins it.
        cold: bool,
    },
    /// Dissolve so much pale dried malt extract; in some of the wort that is boiled for it if the wort has been cooled.
    AddDriedExtract {
        /// How much.
        #[serde(rename = "mass_kg", with = "crate::quantity::json::kilogram")]
        mass: Mass,
        /// Whether the wort has been boiled and cooled, and so must be what joins it.
        cold: bool,
    },
    /// Use so much of the juice.
    UseJuice {
        /// How much.
        #[serde(rename = "juice_l", with = "crate::quantity::json::litre")]
        juice: Volume,
    },
    /// Use so much of the juice and dissolve sugar in it.
    SweetenJuice {
        /// How much juice.
        #[serde(rename = "juice_l", with = "crate::quantity::json::litre")]
        juice: Volume,
        /// How much sugar.
        #[serde(rename = "sugar_kg", with = "crate::quantity::json::kilogram")]
        sugar: Mass,
    },
    /// Use so much of the juice and thin it.
    ThinJuice {
        /// How much juice.
        #[serde(rename = "juice_l", with = "crate::quantity::json::litre")]
        juice: Volume,
        /// How much water.
        #[serde(rename = "water_l", with = "crate::quantity::json::litre")]
        water: Volume,
    },
    /// Warm it, rouse the yeast, wait for two equal readings three days apart, and pitch fresh yeast if nothing moves (common practice). The
    /// figures are those of the plan, if it moves.
    Rouse {
        /// Gravity as read.
        #[serde(rename = "shown_plato")]
        shown: Extract,
        /// Gravity as planned.
        #[serde(rename = "planned_plato")]
        planned: Extract,
        /// What could still ferment, as sucrose.
        #[serde(rename = "fermentable_left_g_l")]
        left: Concentration,
        /// Gauge pressure in a bottle at 20 °C, were it sealed now and went on. Do not bottle it so.
        #[serde(
            rename = "sealed_gauge_bar",
            with = "crate::quantity::json::option::bar",
            skip_serializing_if = "Option::is_none"
        )]
        sealed: Option<Pressure>,
    },
    /// The beer is drier than planned and may not have ended: wait for equal readings over three weeks (common practice). The figures are
    /// those as read.
    WaitForEnd {
        /// Gravity as read.
        #[serde(rename = "shown_plato")]
        shown: Extract,
        /// Gravity as planned.
        #[serde(rename = "planned_plato")]
        planned: Extract,
    },
    /// Take the beer as it is, once it has ended: what is left can burst nothing that it is packaged in.
    TakeAsItIs,
    /// No bottle bears what is left: rack it into a keg with a relief valve and keep it cold.
    KegCold {
        /// What could still ferment, as sucrose.
        #[serde(rename = "fermentable_left_g_l")]
        left: Concentration,
        /// Gauge pressure in the keg at 20 °C, were all of that to ferment.
        #[serde(rename = "sealed_gauge_bar", with = "crate::quantity::json::bar")]
        sealed: Pressure,
    },
    /// Stir so much acid into the mash: half of it first, then measure again. Acid burns.
    AddAcid {
        /// Its name in the catalogue.
        name: String,
        /// How much.
        #[serde(rename = "mass_kg", with = "crate::quantity::json::kilogram")]
        mass: Mass,
        /// The same measured, for a liquid.
        #[serde(
            rename = "volume_l",
            with = "crate::quantity::json::option::litre",
            skip_serializing_if = "Option::is_none"
        )]
        volume: Option<Volume>,
    },
    /// Stir so much of an alkaline salt into the mash: half of it first, then measure again.
    AddAlkali {
        /// Its name in the catalogue.
        name: String,
        /// How much.
        #[serde(rename = "mass_kg", with = "crate::quantity::json::kilogram")]
        mass: Mass,
    },
    /// Pour in what was planned, whatever the gravity of the beer.
    PourPlanned {
        /// How much of each part.
        doses: Vec<Dose>,
    },
    /// Pour in the planned share of what is in the vessel now.
    KeepShare {
        /// How much of each part.
        doses: Vec<Dose>,
    },
    /// Package what there is; what goes in by the litre goes in by the litres that there are.
    PackageLess {
        /// Beer short of the plan; below zero for beer beyond it.
        #[serde(rename = "short_l", with = "crate::quantity::json::litre")]
        short: Volume,
        /// What the plan adds at packaging, for this volume.
        doses: Vec<Dose>,
        /// Pressure or priming sugar for it, where container, carbonation and temperature are known.
        #[serde(skip_serializing_if = "Option::is_none")]
        gas: Option<GasPlan>,
    },
    /// Fill up with water, boiled, cooled and kept from air; what goes in by the litre is as planned.
    TopUp {
        /// How much.
        #[serde(rename = "water_l", with = "crate::quantity::json::litre")]
        water: Volume,
        /// Pressure or priming sugar for all of it.
        #[serde(skip_serializing_if = "Option::is_none")]
        gas: Option<GasPlan>,
    },
}

codes! {
    Action {
        GoOn = "go_on",
        MeasureFirst = "measure_first",
        BoilFor = "boil_for",
        AddWater = "add_water",
        AddDriedExtract = "add_dried_extract",
        UseJuice = "use_juice",
        SweetenJuice = "sweeten_juice",
        ThinJuice = "thin_juice",
        Rouse = "rouse",
        WaitForEnd = "wait_for_end",
        TakeAsItIs = "take_as_it_is",
        KegCold = "keg_cold",
        AddAcid = "add_acid",
        AddAlkali = "add_alkali",
        PourPlanned = "pour_planned",
        KeepShare = "keep_share",
        PackageLess = "package_less",
        TopUp = "top_up",
    }
}

/// An amount of something.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Dose {
    /// The name as the recipe writes it.
    pub name: String,
    /// Its mass, for what is weighed.
    #[serde(
        rename = "mass_kg",
        with = "crate::quantity::json::option::kilogram",
        skip_serializing_if = "Option::is_none"
    )]
    pub mass: Option<Mass>,
    /// Its volume, for what is measured.
    #[serde(
        rename = "volume_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub volume: Option<Volume>,
    /// Its packs, for packs of unknown size.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pack_count: Option<PackCount>,
}

impl Dose {
    /// The amount as a phrase.
    pub fn text(&self, style: Style) -> String {
        let much = self
            .volume
            .map(|volume| style.volume(volume))
            .or_else(|| self.mass.map(|mass| style.mass(mass)))
            .or_else(|| self.pack_count.map(packs));
        match much {
            Some(much) => format!("{much} of {}", self.name),
            None => self.name.clone(),
        }
    }
}

/// A small amount of acid: tenths of a millilitre in every practice, since syringes are marked so.
fn millilitres(volume: Volume) -> String {
    let ml = 1000.0 * in_litres(volume);
    if ml < 20.0 {
        format!("{ml:.1} mL")
    } else {
        format!("{ml:.0} mL")
    }
}

/// Amounts one after another.
fn said(doses: &[Dose], style: Style) -> String {
    let said: Vec<_> = doses.iter().map(|dose| dose.text(style)).collect();
    said.join(", ")
}

impl Speaks for Action {
    fn code(&self) -> &'static str {
        self.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Note
    }

    fn text(&self, style: Style) -> String {
        match self {
            Self::GoOn => "go on as planned".to_owned(),
            Self::MeasureFirst { what } => {
                let what: Vec<_> = what.iter().map(|one| one.text(style)).collect();
                format!("before anything is added: {}", what.join("; "))
            }
            Self::BoilFor { time: boil } => format!(
                "boil for {:.0} min in total; keep hop times counted from the end",
                in_minutes(*boil)
            ),
            Self::AddWater { water, cold: false } => {
                format!("add {} of water", style.volume(*water))
            }
            Self::AddWater { water, cold: true } => format!(
                "top up with {} of boiled, cooled water",
                style.volume(*water)
            ),
            Self::AddDriedExtract { mass, cold: false } => {
                format!("dissolve {} of pale dried malt extract", style.mass(*mass))
            }
            Self::AddDriedExtract { mass, cold: true } => format!(
                "dissolve {} of pale dried malt extract in some of the wort, boil it, cool it and add it",
                style.mass(*mass)
            ),
            Self::UseJuice { juice } => format!("use {} of the juice", style.volume(*juice)),
            Self::SweetenJuice { juice, sugar } => format!(
                "use {} of the juice with {} of sugar",
                style.volume(*juice),
                style.mass(*sugar)
            ),
            Self::ThinJuice { juice, water } => format!(
                "use {} of the juice with {} of water",
                style.volume(*juice),
                style.volume(*water)
            ),
            Self::Rouse {
                shown,
                planned,
                left,
                ..
            } => format!(
                "gravity {}, {} planned: warm the beer to the top of its yeast's range, rouse the yeast, and measure again after three days. If nothing has moved, pitch fresh active yeast. Do not bottle yet: {} is still fermentable",
                style.gravity(*shown),
                style.gravity(*planned),
                style.concentration(*left)
            ),
            Self::WaitForEnd { shown, planned } => format!(
                "gravity {}, {} planned: a wild or diastatic yeast may be at work, or the mash was cooler than planned. Smell and taste a sample, read the gravity twice, with the hydrometer checked in water, package only after equal readings over three weeks, and count on more gas: no bottles that are not made for pressure",
                style.gravity(*shown),
                style.gravity(*planned)
            ),
            Self::TakeAsItIs => "accept the beer as it is: package after two equal readings three days apart, and allow for unfermented sugar when priming".to_owned(),
            Self::KegCold { left, sealed } => format!(
                "do not bottle it: with {} still fermentable it could burst its container. Rack it into a keg with a relief valve, keep it below {} and drink it soon: warm, that alone brings it to {}",
                style.concentration(*left),
                style.temperature(Temperature::clamped(KEPT_BELOW_C)),
                style.pressure(*sealed)
            ),
            Self::AddAcid { name, mass, volume } => format!(
                "lower the mash pH with {} of {name}: goggles and gloves on, dilute by adding acid to water (never water to acid), stir in half, wait 10 min, measure a cooled sample, then continue in small steps",
                volume.map_or_else(|| style.mass(*mass), millilitres)
            ),
            Self::AddAlkali { name, mass } => format!(
                "raise the mash pH with {} of {name}: goggles and gloves on, stir in half, wait 10 min, measure a cooled sample, then continue in small steps",
                style.mass(*mass)
            ),
            Self::PourPlanned { doses } => format!(
                "add the planned {} anyway: strength and final gravity stay as planned, only the readings around the addition differ; pour slowly, the beer foams",
                said(doses, style)
            ),
            Self::KeepShare { doses } => format!(
                "add {}, the planned proportion of the volume now in the fermenter; pour slowly, the beer foams",
                said(doses, style)
            ),
            Self::PackageLess { short, doses, gas } => {
                let less = if in_litres(*short) > 0.0 {
                    format!(
                        "package {} less than planned; the beer is the same",
                        style.volume(*short)
                    )
                } else {
                    "package everything".to_owned()
                };
                let dosed = if doses.is_empty() {
                    String::new()
                } else {
                    format!("; dose for the actual volume: {}", said(doses, style))
                };
                let primed = match gas {
                    Some(gas) => gas.text(style),
                    None => "calculate priming sugar for the actual volume: too much makes bottles explode".to_owned(),
                };
                format!("{less}{dosed}; {primed}")
            }
            Self::TopUp { water, gas } => {
                let primed = gas
                    .as_ref()
                    .map_or_else(String::new, |gas| format!("; {}", gas.text(style)));
                format!(
                    "top up with {} of boiled, cooled, de-aerated water; strength, bitterness and colour are diluted{primed}",
                    style.volume(*water)
                )
            }
        }
    }
}
