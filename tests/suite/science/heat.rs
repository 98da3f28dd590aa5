//! Heat of a mash against published tables. A worked example that is left out, by name: H3 is a misprint.

use super::{celsius, kilograms};
use crate::reference::rows;
use wortwright::quantity::Temperature;
use wortwright::quantity::uom::si::f64::SpecificHeatCapacity;
use wortwright::quantity::uom::si::mass::kilogram;
use wortwright::quantity::uom::si::specific_heat_capacity::kilojoule_per_kilogram_kelvin;
use wortwright::science::heat::{
    Decoction, DryGrist, MashIn, StepInfusion, ThermalMass, decoction, step_infusion,
};

/// A grist whose specific heat is given relative to that of water, 4.186 kJ/(kg K) in the trade's tables.
fn grist(kg: f64, temperature: Temperature, relative_heat: f64) -> DryGrist {
    DryGrist {
        mass: kilograms(kg),
        temperature,
        specific_heat: SpecificHeatCapacity::new::<kilojoule_per_kilogram_kelvin>(
            4.186 * relative_heat,
        ),
    }
}

#[test]
fn strike_temperatures_agree_with_the_table() {
    for row in rows("mash_strike.csv") {
        let relative_heat = row.number("malt_specific_heat_rel_water");
        let mash = MashIn {
            grist: grist(1.0, celsius(row.number("grist_C")), relative_heat),
            water: kilograms(row.number("water_kg_per_kg")),
            tun: None,
        };
        let strike = mash.strike_temperature(celsius(row.number("mash_C")));
        row.check("strike_C_no_losses_no_slaking", strike.unwrap().celsius());
    }
}

#[test]
fn mash_steps_agree_with_the_table() {
    for row in rows("mash_steps.csv") {
        let (from, to) = (celsius(row.number("T1_C")), celsius(row.number("T2_C")));
        let mixed = MashIn {
            grist: grist(row.number("grist_kg"), from, row.number("c_rel")),
            water: kilograms(row.number("mash_water_kg")),
            tun: None,
        };
        let mash = ThermalMass {
            heat_capacity: mixed.heat_capacity().unwrap(),
            temperature: from,
        };
        let hot = celsius(row.number("hot_C"));
        let StepInfusion::Water { mass } = step_infusion(mash, to, hot).unwrap() else {
            panic!("the water is hot enough")
        };
        row.check("infusion_water_kg", mass.get::<kilogram>());
        let Decoction::Part { share } = decoction(from, to, hot) else {
            panic!("the decoction is hot enough")
        };
        row.check("decoction_fraction_of_mash", share.fraction());
    }
}
