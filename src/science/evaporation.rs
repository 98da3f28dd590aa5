//! Evaporation in the boil, and the volume of hot against cold wort.
//!
//! A rate is litres of cold water (20 °C) per hour: that is what a kettle of a given surface and heat drives off,
//! whatever is in it. A "per cent per hour" is of the volume before the boil, linear and not compounded; it falls as a
//! kettle grows, so it must never be carried from a plant to another. Rates above 15 % per hour are rare (open
//! kettles 10 to 15 %, common practice, no source; commercial total 6 to 8 %, Oxford Companion to Beer).
//!
//! Heat of evaporation: 2256.54 kJ/kg at 99.974 °C and 2265.3 at 96.649 °C (IAPWS-IF97), curvature from steam tables
//! (from memory); within 0.02 % from 65 to 102 °C. Volumes by the ICUMSA density of the wort, 0 to 102 °C.
//!
//! Boiling wort scalds and boils over: leave headspace and stay with it.

use uom::si::f64::Power;
use uom::si::power::watt;

use super::density::{WATER_20, solution_density, sucrose_density_20};
use super::within::within;
use crate::diagnostic::{Error, ErrorKind};
use crate::quantity::{EvaporationRate, Extract, Share, Temperature, Volume, in_litres, litres};

/// Boiling point at sea level, °C (IAPWS-IF97 at 101.325 kPa).
const SEA_LEVEL_POINT: f64 = 99.974;
/// Heat of evaporation at that point, kJ/kg (IAPWS-IF97).
const HEAT: f64 = 2256.54;
/// Its rise for each K below, kJ/kg (from IAPWS-IF97 at 1000 m, 2265.3 kJ/kg).
const HEAT_SLOPE: f64 = 2.64;
/// Curvature, kJ/(kg K²) (steam tables at 70 and 85 °C, 2333.0 and 2295.3 kJ/kg, from memory).
const HEAT_CURVATURE: f64 = -0.0030;

/// Greatest volume, L; keeps products finite.
const GREATEST_L: f64 = 1e12;

/// Rate of a heater of which the given share goes into steam, at a boiling point from 65 to 102 °C.
///
/// # Errors
///
/// `OutOfModel` outside 65 to 102 °C; `OutOfRange` when the power is negative or the rate above 100 000 L/h.
///
/// # Source
///
/// Heat of evaporation by IAPWS-IF97: 2000 W wholly into steam at sea level are 3.1907 kg/h.
///
/// ```
/// use uom::si::{f64::Power, power::watt};
/// use wortwright::{quantity::{Share, Temperature, uom}, science::evaporation};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let boil = Temperature::from_celsius(99.974)?;
/// let rate = evaporation::rate_of_power(Power::new::<watt>(3500.0), Share::from_percent(85.0)?, boil)?;
/// assert!((rate.litres_per_hour() - 4.755).abs() < 5e-4);
/// # Ok(())
/// # }
/// ```
pub fn rate_of_power(
    power: Power,
    into_steam: Share,
    boiling_point: Temperature,
) -> Result<EvaporationRate, Error> {
    let heat = heat_of_evaporation(boiling_point)?;
    let kg_per_h = power.get::<watt>() * into_steam.fraction() * 3.6 / heat;
    EvaporationRate::from_litres_per_hour(1000.0 * kg_per_h / WATER_20)
}

/// Volume at 20 °C of wort that takes the given volume at a temperature from 0 to 102 °C.
///
/// # Errors
///
/// `OutOfModel` outside 0 to 102 °C or 0 to 85 °P; `OutOfRange` when the volume is negative or above 1e12 L.
///
/// # Source
///
/// ICUMSA densities. Water and wort of 12 °P alike grow by 4.16 % from 20 to 99.974 °C; in between the wort grows more.
///
/// ```
/// use wortwright::quantity::{Extract, Temperature, Volume, uom::si::volume::liter};
/// use wortwright::science::evaporation;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let (water, boil) = (Extract::from_plato(0.0)?, Temperature::from_celsius(99.974)?);
/// let cold = evaporation::cold_volume(Volume::new::<liter>(100.0), water, boil)?;
/// assert!((cold.get::<liter>() - 96.01).abs() < 0.005);
/// # Ok(())
/// # }
/// ```
pub fn cold_volume(
    hot: Volume,
    extract: Extract,
    temperature: Temperature,
) -> Result<Volume, Error> {
    let hot_l = within("a hot volume", in_litres(hot), 0.0..=GREATEST_L, "L")?;
    Ok(litres(hot_l / expansion(extract, temperature)?))
}

fn heat_of_evaporation(boiling_point: Temperature) -> Result<f64, Error> {
    let celsius = boiling_point.celsius();
    if (65.0..=102.0).contains(&celsius) {
        let below = SEA_LEVEL_POINT - celsius;
        Ok(HEAT + HEAT_SLOPE * below + HEAT_CURVATURE * below * below)
    } else {
        Err(Error::new(
            ErrorKind::OutOfModel,
            format!("expected a boiling point from 65 to 102 °C, found {boiling_point}"),
        ))
    }
}

/// Volume at a temperature over the volume at 20 °C.
fn expansion(extract: Extract, temperature: Temperature) -> Result<f64, Error> {
    let celsius = temperature.celsius();
    let plato = extract.plato();
    if !(0.0..=102.0).contains(&celsius) {
        return Err(Error::new(
            ErrorKind::OutOfModel,
            format!("the volume of wort is known from 0 to 102 °C, found {temperature}"),
        ));
    }
    if !(0.0..=85.0).contains(&plato) {
        return Err(Error::new(
            ErrorKind::OutOfModel,
            format!("the volume of wort is known from 0 to 85 °P, found {extract}"),
        ));
    }
    let w = plato / 100.0;
    Ok(sucrose_density_20(w) / solution_density(w, celsius))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn celsius(value: f64) -> Temperature {
        Temperature::from_celsius(value).unwrap()
    }

    #[test]
    fn heat_of_evaporation_meets_the_steam_tables() {
        // IAPWS-IF97 at the boiling points of 0 and 1000 m; steam tables (from memory) for the others.
        for (t, heat) in [
            (99.974, 2256.5),
            (96.649, 2265.3),
            (85.0, 2295.3),
            (70.0, 2333.0),
        ] {
            let ours = heat_of_evaporation(celsius(t)).unwrap();
            assert!((ours / heat - 1.0).abs() < 2e-4, "{t} {ours}");
        }
    }

    #[test]
    fn sweet_wort_contracts_more_than_water() {
        let factor = |plato, t| expansion(Extract::from_plato(plato).unwrap(), celsius(t)).unwrap();
        assert_eq!(factor(12.0, 20.0), 1.0);
        assert!(factor(12.0, 60.0) > factor(0.0, 60.0));
        assert!(factor(12.0, 99.974) > 1.04 && factor(12.0, 99.974) < 1.045);
    }

    #[test]
    fn names_what_was_expected() {
        let all = Share::from_fraction(1.0).unwrap();
        let warm = rate_of_power(Power::new::<watt>(2500.0), all, celsius(50.0)).unwrap_err();
        assert_eq!(
            warm.to_string(),
            "expected a boiling point from 65 to 102 °C, found 50 °C"
        );
        let wort = Extract::clamped(12.0);
        assert_eq!(
            cold_volume(litres(f64::NAN), wort, celsius(90.0))
                .unwrap_err()
                .to_string(),
            "expected a hot volume from 0 to 1000000000000 L, found NaN L"
        );
        assert!(cold_volume(litres(1.0), wort, celsius(103.0)).is_err());
        assert!(cold_volume(litres(1.0), Extract::clamped(-1.0), celsius(90.0)).is_err());
    }
}
