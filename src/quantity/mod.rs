//! Quantities of the trade, each with its unit and its range.
//!
//! A host reads what a person typed, which stays as it was written, computes with it in any unit, and shows figures in the
//! units of the person's practice:
//!
//! ```
//! use wortwright::{quantity::{Extract, Mass, UnitSystem, Written, in_kilograms, litres}, speech::Style};
//!
//! let typed: Written<Mass> = "2 lb 4 oz".parse()?;
//! assert!((in_kilograms(typed.value()) - 1.02058).abs() < 1e-5); // 2.25 lb of 0.45359237 kg
//! let wort: Extract = "1.048".parse()?; // the same scale whether °P, °Bx or specific gravity was typed
//! assert!((wort.plato() - 11.91).abs() < 0.005);
//! assert_eq!(Extract::from_plato(12.0)?.plato(), 12.0); // made and read by methods that name the unit
//! assert!(Extract::from_plato(f64::NAN).is_err() && "12 kg".parse::<Extract>().is_err());
//! assert_eq!(Style::customary(UnitSystem::Us).volume(litres(8.0)), "2.11 gal");
//! # Ok::<(), wortwright::Error>(())
//! ```
//!
//! | for | see |
//! |---|---|
//! | a figure as it was typed, with unit, range and `~`; its value | [`Written`], [`Quantity`] |
//! | units and what they measure; a number not yet read | [`Unit`], [`Dimension`], [`UnitSystem`], [`Number`] |
//! | masses, volumes, times and lengths from plain numbers, and back | [`kilograms`], [`litres`], [`minutes`], [`metres`]; [`in_kilograms`], [`in_litres`], [`in_minutes`], [`in_metres`] |
//! | wort and beer | [`Extract`], [`SpecificGravity`], [`AlcoholByVolume`], [`AlcoholByMass`], [`Attenuation`], [`BeerColour`], [`Bitterness`], [`CarbonDioxide`] |
//! | ingredients | [`LaboratoryExtract`], [`Moisture`], [`MaltColour`], [`DiastaticPower`], [`Protein`], [`Fermentability`], [`AlphaAcids`], [`Strength`], [`Buffering`], [`AcidConstant`] |
//! | the brewhouse | [`BrewhouseYield`], [`Conversion`], [`Mixing`], [`Absorption`], [`LiquorRatio`], [`EvaporationRate`] |
//! | parts of a whole | [`Share`], [`VolumeShare`], [`Proportion`] |
//! | a figure in the units of a practice | [`Style`](crate::speech::Style) |
//!
//! Mass, volume, time, length, pressure, energy and density are [`uom`] quantities. Every ratio and trade scale has a
//! type of its own here, so that a yield cannot be taken for a moisture.
//!
//! Scales do not mix, and neither does their arithmetic:
//!
//! ```compile_fail
//! use wortwright::quantity::{Extract, Temperature};
//! fn nonsense(wort: Extract, warmth: Temperature) -> bool {
//!     wort == warmth
//! }
//! ```
//!
//! | type | unit in the crate | also read and written as |
//! |---|---|---|
//! | [`Mass`] | kg | g, mg, t, lb, oz |
//! | [`Volume`] | L | mL, cL, hL, US and imperial gal, qt, pt, fl oz, bbl, tsp, tbsp |
//! | [`Time`] | min | s, h, days, weeks |
//! | [`Length`] (altitude) | m | ft |
//! | [`Pressure`] | bar | kPa, psi |
//! | [`Energy`], [`HeatCapacity`], [`Power`] | kJ, kJ/K, kW | |
//! | [`MassDensity`] | kg/m³ | |
//! | [`Temperature`] | °C | °F |
//! | [`Extract`] | °P (per cent by mass) | °Bx, specific gravity |
//! | [`SpecificGravity`] | ratio at 20/20 °C | |
//! | [`Ph`] | pH | |
//! | [`Concentration`] | g/L | mg/L, g/hL, kg/hL, lb/bbl, oz/gal … |
//! | [`BeerColour`], [`MaltColour`] | EBC | SRM, °Lovibond |
//! | [`Bitterness`] | IBU (mg/L) | |
//! | [`DiastaticPower`] | °WK | °Lintner |
//! | [`CarbonDioxide`] | g/L | volumes |
//! | [`Absorption`], [`LiquorRatio`] | L/kg | qt/lb, gal/lb |
//! | [`EvaporationRate`] | L/h | hL/h, gal/h, qt/h, bbl/h |
//! | [`PackCount`] | packs | |
//! | [`PitchRate`] | million cells per mL and °P | |
//! | shares and yields | fraction | % |

pub(crate) mod agreement;
mod fractions;
pub(crate) mod json;
pub(crate) mod lexer;
mod scalar;
mod scales;
#[cfg(feature = "schema")]
pub(crate) mod schema;
mod spelling;
mod unit;
mod written;
mod written_json;
pub(crate) use written_json::on_day;

pub use fractions::{
    AlcoholByMass, AlcoholByVolume, AlphaAcids, Attenuation, BrewhouseYield, Conversion,
    Fermentability, LaboratoryExtract, Mixing, Moisture, Protein, Share, Strength, VolumeShare,
};
pub(crate) use lexer::DecimalComma;
pub use lexer::Number;
pub use scales::{
    Absorption, AcidConstant, BeerColour, Bitterness, Buffering, CarbonDioxide, Concentration,
    DiastaticPower, EvaporationRate, Extract, LiquorRatio, MaltColour, PackCount, Ph, PitchRate,
    Proportion, SpecificGravity, Temperature,
};
pub use unit::{Dimension, Unit, UnitSystem};
pub use uom;
pub use uom::si::f64::{
    Energy, HeatCapacity, Length, Mass, MassDensity, Power, Pressure, Time, Volume,
};
pub use written::{Quantity, Written};

pub(crate) use scalar::{figure, out_of_range, show, spoken};
pub(crate) use written::by_factor;

use uom::si::heat_capacity::kilojoule_per_kelvin;
use uom::si::power::kilowatt;
use uom::si::{length::meter, mass::kilogram, time::minute, volume::liter};

/// A mass of so many kilograms, for code that has computed in kilograms.
#[must_use]
pub fn kilograms(kg: f64) -> Mass {
    Mass::new::<kilogram>(kg)
}

/// A volume of so many litres, for code that has computed in litres.
#[must_use]
pub fn litres(l: f64) -> Volume {
    Volume::new::<liter>(l)
}

/// A time of so many minutes, for code that has computed in minutes.
#[must_use]
pub fn minutes(min: f64) -> Time {
    Time::new::<minute>(min)
}

/// A length of so many metres.
#[must_use]
pub fn metres(m: f64) -> Length {
    Length::new::<meter>(m)
}

/// A heat capacity of so many kilojoules per kelvin.
pub(crate) fn kilojoules_per_kelvin(kj_k: f64) -> HeatCapacity {
    HeatCapacity::new::<kilojoule_per_kelvin>(kj_k)
}

/// A power of so many kilowatts.
pub(crate) fn kilowatts(kw: f64) -> Power {
    Power::new::<kilowatt>(kw)
}

/// Kilograms in a mass.
#[must_use]
pub fn in_kilograms(mass: Mass) -> f64 {
    mass.get::<kilogram>()
}

/// Litres in a volume.
#[must_use]
pub fn in_litres(volume: Volume) -> f64 {
    volume.get::<liter>()
}

/// Minutes in a time.
#[must_use]
pub fn in_minutes(time: Time) -> f64 {
    time.get::<minute>()
}

/// Metres in a length.
#[must_use]
pub fn in_metres(length: Length) -> f64 {
    length.get::<meter>()
}

/// Kilojoules per kelvin in a heat capacity.
pub(crate) fn in_kilojoules_per_kelvin(capacity: HeatCapacity) -> f64 {
    capacity.get::<kilojoule_per_kelvin>()
}

/// Kilowatts in a power.
pub(crate) fn in_kilowatts(power: Power) -> f64 {
    power.get::<kilowatt>()
}
