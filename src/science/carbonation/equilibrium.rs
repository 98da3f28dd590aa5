//! Carbon dioxide dissolved in beer at equilibrium, and what fermentation leaves in it.
//!
//! The fit is A. J. deLange's (2011, from memory): `volumes = (psi gauge + 14.695)(0.01821 + 0.090115 exp(−(F − 32)/43.11))
//! − 0.003342`. Against the 276 cells of the table that the trade uses (`BrewingTechniques` 2(1) 1994, table I, 30 to
//! 46 °F and 1 to 22 psi; the same figures as ASBC Beer-13) it has an rms error of 0.019 volumes, a greatest one of
//! 0.056 and no bias. It is taken for that reason: the exponential of the German literature, `10 p exp(−10.73797 +
//! 2617.25/T)` (from memory), lies 0.031 volumes above the table and has twice the rms error. The table itself is not smooth in
//! pressure, so no smooth fit meets every cell. It speaks of an ordinary beer; its origin is unknown (Speers and
//! `MacIntosh`, J. ASBC 71 (2013) 242).
//!
//! Range: −2 to 40 °C. Outside −1 to 8 °C and 2.5 bar absolute it is an extrapolation, good to 15 %.

use uom::si::pressure::psi;

use super::super::within::within;
use crate::diagnostic::Error;
use crate::quantity::{CarbonDioxide, Pressure, Temperature, Unit};

/// Air at sea level as the fit has it, psi.
const AIR_PSI: f64 = 14.695;
/// Solubility far above the freezing point, volumes per psi (deLange's fit).
const SOLUBILITY_FLOOR: f64 = 0.01821;
/// What is added to it at 32 °F, volumes per psi (same).
const SOLUBILITY_COLD: f64 = 0.090115;
/// Fahrenheit degrees over which the second falls to 1/e (same).
const SOLUBILITY_SCALE_F: f64 = 43.11;
/// Volumes below a line through the origin (same).
const OFFSET_VOLUMES: f64 = 0.003342;

/// Residual volumes, powers 0 to 2 of the Fahrenheit temperature (Draper and Hibberd, `BrewingTechniques` 4(4) 1996).
const RESIDUAL: [f64; 3] = [3.0378, -0.050062, 0.00026555];

/// Pressure of the air at sea level as the carbonation fit has it: 14.695 psi.
///
/// ```
/// use wortwright::quantity::uom::si::pressure::bar;
/// use wortwright::science::carbonation::air_pressure;
/// assert!((air_pressure().get::<bar>() - 1.0132).abs() < 1e-4);
/// ```
#[must_use]
pub fn air_pressure() -> Pressure {
    Pressure::new::<psi>(AIR_PSI)
}

/// Carbon dioxide dissolved in beer at a temperature from −2 to 40 °C under an absolute pressure of the gas.
///
/// # Errors
///
/// `OutOfRange` outside these temperatures, or for a pressure below zero or above 30 bar.
///
/// # Source
///
/// deLange's fit, see the head of this module's file. The table has 2.47 volumes at 40 °F and 12 psi gauge.
///
/// ```
/// use wortwright::quantity::{Pressure, Temperature, uom::si::pressure::psi};
/// use wortwright::science::carbonation::{air_pressure, carbon_dioxide_at};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let beer = carbon_dioxide_at(air_pressure() + Pressure::new::<psi>(12.0), Temperature::from_fahrenheit(40.0)?)?;
/// assert!((beer.volumes() - 2.48).abs() < 0.01);
/// # Ok(())
/// # }
/// ```
pub fn carbon_dioxide_at(
    pressure: Pressure,
    temperature: Temperature,
) -> Result<CarbonDioxide, Error> {
    let per_psi = solubility(temperature)?;
    let absolute_psi = within("a pressure", pressure.get::<psi>(), 0.0..=435.0, "psi")?;
    let volumes = (absolute_psi * per_psi - OFFSET_VOLUMES).max(0.0);
    Ok(of_volumes(volumes))
}

/// Absolute pressure at which beer of a temperature from −2 to 40 °C keeps so much carbon dioxide. Below the air's
/// pressure it goes flat in the open.
///
/// # Errors
///
/// `OutOfRange` outside these temperatures.
///
/// # Source
///
/// deLange's fit solved for the pressure, see the head of this module's file.
///
/// ```
/// use wortwright::quantity::{CarbonDioxide, Temperature, uom::si::pressure::bar};
/// use wortwright::science::carbonation::{air_pressure, pressure_at};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let keg = pressure_at(CarbonDioxide::from_grams_per_litre(5.2)?, Temperature::from_celsius(4.0)?)?;
/// assert!(((keg - air_pressure()).get::<bar>() - 0.909).abs() < 0.01);
/// # Ok(())
/// # }
/// ```
pub fn pressure_at(beer: CarbonDioxide, temperature: Temperature) -> Result<Pressure, Error> {
    let per_psi = solubility(temperature)?;
    Ok(Pressure::new::<psi>(
        (beer.volumes() + OFFSET_VOLUMES) / per_psi,
    ))
}

/// Carbon dioxide that fermentation leaves in beer under air, from the temperature at which it *last fermented*, 0 to
/// 30 °C. Beer that was warmed since and could breathe holds less.
///
/// # Errors
///
/// `OutOfRange` outside 0 to 30 °C.
///
/// # Source
///
/// Draper and Hibberd, `BrewingTechniques` 4(4) 1996: the quadratic in °F, which follows their table from 0 to 22 °C
/// within 0.02 volumes; above, it is an extrapolation. The carbonation fit gives 5 to 7 % less at the air's pressure, since
/// this table lies closer to pure water.
///
/// ```
/// use wortwright::{quantity::Temperature, science::carbonation::carbon_dioxide_left};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let beer = carbon_dioxide_left(Temperature::from_celsius(20.0)?)?;
/// assert!((beer.volumes() - 0.86).abs() < 0.005);
/// # Ok(())
/// # }
/// ```
pub fn carbon_dioxide_left(temperature: Temperature) -> Result<CarbonDioxide, Error> {
    within(
        "a temperature of fermentation",
        temperature.celsius(),
        0.0..=30.0,
        "°C",
    )?;
    let fahrenheit = temperature.fahrenheit();
    let [a, b, c] = RESIDUAL;
    let volumes = a + fahrenheit * (b + fahrenheit * c);
    Ok(of_volumes(volumes))
}

/// Absolute pressure in a full, sealed vessel that holds the gas present in the beer and the gas made as the rest ferments, at a
/// temperature from −2 to 40 °C. The gas space is neglected, which errs on the safe side.
///
/// # Errors
///
/// `OutOfRange` outside these temperatures, or where the carbon dioxide would exceed 30 g/L.
///
/// # Source
///
/// The carbonation fit. At these temperatures and pressures it is an extrapolation, good to 15 %.
///
/// ```
/// use wortwright::quantity::{CarbonDioxide, Concentration, Temperature, uom::si::pressure::bar};
/// use wortwright::science::carbonation::{PrimingSugar, air_pressure, carbon_dioxide_from, sealed_pressure};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let present = CarbonDioxide::from_grams_per_litre(1.74)?;
/// let made = carbon_dioxide_from(PrimingSugar::Sucrose, Concentration::from_grams_per_litre(10.0)?)?;
/// let bottle = sealed_pressure(present, made, Temperature::from_celsius(20.0)?)?;
/// assert!(((bottle - air_pressure()).get::<bar>() - 3.18).abs() < 0.01);
/// # Ok(())
/// # }
/// ```
pub fn sealed_pressure(
    present: CarbonDioxide,
    made: CarbonDioxide,
    temperature: Temperature,
) -> Result<Pressure, Error> {
    let all =
        CarbonDioxide::from_grams_per_litre(present.grams_per_litre() + made.grams_per_litre())?;
    pressure_at(all, temperature)
}

fn of_volumes(volumes: f64) -> CarbonDioxide {
    CarbonDioxide::clamped(Unit::GasVolumes.to_base(volumes))
}

/// Volumes per psi.
fn solubility(temperature: Temperature) -> Result<f64, Error> {
    within(
        "a temperature of carbonation",
        temperature.celsius(),
        -2.0..=40.0,
        "°C",
    )?;
    let cold = (-(temperature.fahrenheit() - 32.0) / SOLUBILITY_SCALE_F).exp();
    Ok(SOLUBILITY_FLOOR + SOLUBILITY_COLD * cold)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn celsius(value: f64) -> Temperature {
        Temperature::from_celsius(value).unwrap()
    }

    #[test]
    fn by_hand_at_the_freezing_point() {
        // 32 °F and 10 psi gauge: 24.695 × (0.01821 + 0.090115) − 0.003342 = 2.67174 volumes.
        let pressure = air_pressure() + Pressure::new::<psi>(10.0);
        let beer = carbon_dioxide_at(pressure, celsius(0.0)).unwrap();
        assert!((beer.volumes() - 2.67174).abs() < 1e-4);
    }

    #[test]
    fn pressure_undoes_what_dissolves() {
        for (at, bars) in [(-2.0, 1.0), (4.0, 2.0), (38.0, 6.0)] {
            let pressure = Pressure::new::<psi>(bars * 14.5);
            let beer = carbon_dioxide_at(pressure, celsius(at)).unwrap();
            let back = pressure_at(beer, celsius(at)).unwrap();
            assert!((back.get::<psi>() - bars * 14.5).abs() < 1e-9);
        }
    }

    #[test]
    fn refuses_what_lies_outside() {
        let beer = CarbonDioxide::clamped(5.0);
        assert_eq!(
            pressure_at(beer, celsius(41.0)).unwrap_err().message(),
            "expected a temperature of carbonation from -2 to 40 °C, found 41 °C"
        );
        assert!(carbon_dioxide_at(Pressure::new::<psi>(-1.0), celsius(4.0)).is_err());
        assert!(carbon_dioxide_at(Pressure::new::<psi>(f64::NAN), celsius(4.0)).is_err());
        assert!(carbon_dioxide_left(celsius(31.0)).is_err());
        let most = CarbonDioxide::clamped(30.0);
        assert!(sealed_pressure(beer, most, celsius(20.0)).is_err());
    }
}
