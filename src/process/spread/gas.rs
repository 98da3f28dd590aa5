//! How far the carbon dioxide of a packaged beer may be off, which no run of the forward model finds.
//!
//! A keg on a regulator holds what its temperature and its gauge make of it. In what is closed, gas is what fermentation left at its
//! temperature, what the sugar gives that was weighed for a volume, and what the beer still ferments: that it has ended is known by a
//! hydrometer, of which one gram per litre is a gram of gas in a litre.

use super::cause::CauseKind;
use super::effect::{Effect, by_model};
use super::figure::PredictedFigure;
use super::input::{VOLUME_MARKS, scale_kg};
use super::result::HYDROMETER;
use crate::process::brew::Worked;
use crate::process::gas::{GasPlan, left, thin_air};
use crate::quantity::{CarbonDioxide, Pressure, Temperature, Unit, in_kilograms};
use crate::science::carbonation::{PrimingSugar, carbon_dioxide_at, pressure_at};
use crate::science::density::WATER_KG_PER_L;
use uom::si::pressure::bar;

/// Between rows "digital thermometer", 0.3 °C, and "glass or bimetal thermometer", 0.7 °C (from memory).
pub(super) const THERMOMETER_C: f64 = 0.5;
/// Half a division of a gauge of 0.1 bar (common practice, no source).
const GAUGE_BAR: f64 = 0.05;
/// Of the solubility: the root mean square by which its fit misses the table of the trade, in volumes (`science/carbonation`).
const SOLUBILITY_VOLUMES: f64 = 0.019;
/// Of what fermentation leaves, a part of it: two published relations lie 5 to 7 % apart (`science/carbonation`), half of which is one
/// sigma (rule of the crate).
const LEFT: f64 = 0.03;

/// The effects on the carbon dioxide that a beer comes to.
pub(super) fn effects(gas: &GasPlan, worked: &Worked) -> Vec<Effect> {
    let by_cause = match gas {
        GasPlan::Forced {
            wanted,
            temperature,
            ..
        } => forced(*wanted, *temperature),
        GasPlan::Conditioned { .. } => conditioned(gas, worked),
    };
    let of = |(kind, g_l): (CauseKind, f64)| {
        let by = move |figure| match figure {
            PredictedFigure::Carbonation => g_l,
            _ => 0.0,
        };
        by_model(kind, None, &by)
    };
    let moving = by_cause
        .into_iter()
        .filter(|(_, g_l)| g_l.is_finite() && *g_l != 0.0);
    moving.map(of).collect()
}

/// g/L by one sigma of each cause, of a keg on a regulator.
fn forced(wanted: CarbonDioxide, at: Temperature) -> Vec<(CauseKind, f64)> {
    let Ok(absolute) = pressure_at(wanted, at) else {
        return Vec::new();
    };
    let other = |pressure: Pressure, off_c: f64| {
        let at = Temperature::clamped(at.celsius() + off_c);
        let found = carbon_dioxide_at(pressure, at).ok();
        found.map_or(0.0, |gas| gas.grams_per_litre() - wanted.grams_per_litre())
    };
    vec![
        (CauseKind::BeerTemperature, other(absolute, THERMOMETER_C)),
        (
            CauseKind::GasPressure,
            other(absolute + Pressure::new::<bar>(GAUGE_BAR), 0.0),
        ),
        (
            CauseKind::CarbonationModel,
            Unit::GasVolumes.to_base(SOLUBILITY_VOLUMES),
        ),
    ]
}

/// The same of what ferments in a closed container.
fn conditioned(gas: &GasPlan, worked: &Worked) -> Vec<(CauseKind, f64)> {
    let GasPlan::Conditioned {
        left: there,
        warmest,
        sucrose,
        ..
    } = gas
    else {
        return Vec::new();
    };
    let there_g_l = there.grams_per_litre();
    let cellar = &worked.brewed.cellar;
    let air = thin_air(worked.setup.plant.altitude_m);
    let warmer = Temperature::clamped(warmest.celsius() + THERMOMETER_C);
    // Water that the beer was thinned with brings no gas at either temperature.
    let warmer = left(warmer, air).zip(left(*warmest, air));
    let by_temperature = warmer.map_or(0.0, |(warmer, usual)| {
        there_g_l * (warmer.grams_per_litre() / usual.grams_per_litre() - 1.0)
    });
    let made_g_l = (gas.reached().grams_per_litre() - there_g_l).max(0.0);
    let sugar_kg = in_kilograms(*sucrose);
    let weighed = if sugar_kg > 0.0 {
        let g_l = 1000.0 * scale_kg(sugar_kg) / cellar.packaged_l.max(f64::MIN_POSITIVE);
        g_l * PrimingSugar::Sucrose.yield_of_gas()
    } else {
        0.0
    };
    let lighter = cellar.beer.density_20() - 1000.0 * WATER_KG_PER_L * HYDROMETER;
    let unfermented_kg = cellar.beer.consumed_at_kg(lighter).max(0.0);
    let unfermented_g_l = 1000.0 * unfermented_kg / cellar.beer.volume_l().max(f64::MIN_POSITIVE);
    vec![
        (CauseKind::BeerTemperature, by_temperature),
        (CauseKind::PackagedVolume, -VOLUME_MARKS * made_g_l),
        (CauseKind::Weighing, weighed),
        (
            CauseKind::ResidualGravity,
            unfermented_g_l * PrimingSugar::Glucose.yield_of_gas(),
        ),
        (CauseKind::CarbonationModel, LEFT * there_g_l),
    ]
}

#[cfg(test)]
mod tests {
    use crate::job::Job;
    use crate::process::{CauseKind, PredictedFigure};

    fn spread(package: &str) -> (f64, Vec<CauseKind>, f64) {
        let text = format!(
            "recipe Ale\nbatch 20 L into fermenter\ntarget original 12 P, final 3 P\nmash\n  100 % pale ale malt\nferment\n  pitch american ale yeast at 20 C\npackage\n  {package}\nbrewhouse Home\n  batch 20 L into fermenter\n"
        );
        let job = Job::read([("text", text.as_str())]).unwrap();
        let plan = job.on("Home").unwrap().plan().unwrap();
        let spread = plan.spread.unwrap();
        let of = spread.of(PredictedFigure::Carbonation).unwrap();
        let causes = of.causes.iter().map(|cause| cause.kind).collect();
        let reached = plan.predicted.carbonation.unwrap().grams_per_litre();
        (of.one_sigma, causes, reached)
    }

    /// A keg at 4 °C with 5.2 g/L or 2.6303 volumes, by the fit of `science/carbonation`: at 39.2 °F a psi holds 0.01821 + 0.07625 volumes,
    /// so that it takes 27.88 psi. 0.5 °C more take 2.066 % off 0.07625: 0.0439 volumes or 0.0868 g/L. 0.05 bar or 0.7252 psi more hold
    /// 0.0685 volumes or 0.1354 g/L; the fit itself has 0.0376. The root of their squares is 0.1652.
    #[test]
    fn a_keg_by_hand() {
        let (sigma, causes, reached) = spread("keg, carbonate 5.2 g/L at 4 C");
        assert!((reached - 5.2).abs() < 1e-9);
        assert_eq!(causes[0], CauseKind::GasPressure);
        assert!((sigma - 0.1652).abs() < 2e-4, "{sigma}");
    }

    /// Bottles: one gram per litre of gravity that the hydrometer does not show. A gram of extract gives 1/2.0665 g of ethanol; it takes
    /// 3.9 g off a litre's mass per percent of extract and leaves 0.48 % of ethanol, which takes 0.9 g more: 4.8 g/L by 10 g/L of extract,
    /// so that 1 g/L are 2.1 g of extract and 1.0 g of gas. The rest is small beside it: 1.5 % of 3.3 g/L, 3 % of 1.7.
    #[test]
    fn bottles_by_hand() {
        let (sigma, causes, reached) = spread("bottle, carbonate 5 g/L");
        assert!((reached - 5.0).abs() < 1e-9);
        assert_eq!(causes[0], CauseKind::ResidualGravity);
        assert!((sigma - 1.02).abs() < 0.05, "{sigma}");
    }
}
