//! `keg at 12 psi, 38 F`: carbon dioxide by the pressure that keeps it in the beer.

use super::bit::{Bit, What};
use super::told::Told;
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Pressure, Quantity, Temperature, Unit};
use crate::science::carbonation::{air_pressure, carbon_dioxide_at};
use uom::si::pressure::bar;

/// Words of a line that fills beer under gas.
const UNDER_GAS: [&str; 9] = [
    "keg",
    "kegs",
    "kegged",
    "carb",
    "carbonate",
    "carbonation",
    "carbed",
    "force",
    "serve",
];

/// The line with the volumes of gas that a pressure over the beer keeps in it at the line's temperature.
pub(super) fn by_pressure(bits: &[Bit], told: &mut Vec<Told>) -> Option<Vec<Bit>> {
    let says = |bit: &Bit| bit.word().is_some_and(|word| UNDER_GAS.contains(&word));
    bits.iter().any(says).then_some(())?;
    let of = |dimension| {
        let mut found = bits.iter().enumerate().filter(move |(_, bit)| {
            bit.quantity()
                .is_some_and(|written| written.unit.dimension() == dimension)
        });
        let only = found.next()?;
        found.next().is_none().then_some(only)
    };
    let is_stated = of(Dimension::GasVolumes).is_some();
    let (at, pressure) = of(Dimension::Pressure).filter(|_| !is_stated)?;
    let (_, heat) = of(Dimension::Temperature)?;
    let (typed, heat) = (pressure.quantity()?, heat.quantity()?);
    // A gauge shows what is above the air.
    let gauge = Pressure::new::<bar>(typed.unit.to_base(typed.number));
    let cold = Temperature::from_base(heat.unit.to_base(heat.number)).ok()?;
    let gas = carbon_dioxide_at(air_pressure() + gauge, cold).ok()?;
    let volumes = (gas.volumes() * 100.0).round() / 100.0;
    let read = AsWritten::plain(volumes, Unit::GasVolumes);
    told.push(Told::Assumed(
        format!("{typed} at {heat}"),
        read.to_string(),
        pressure.span,
    ));
    let mut whole = bits.to_vec();
    if let Some(bit) = whole.get_mut(at) {
        bit.what = What::Quantity(read);
    }
    Some(whole)
}
