//! Boiling point, evaporation and the growth of hot wort against published tables.

use uom::si::f64::{Length, Mass, Power, Pressure, Volume};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::{length::meter, mass::kilogram, power::watt, pressure::kilopascal, volume::liter};
use wortwright::quantity::{Extract, Share, Temperature, uom};
use wortwright::science::density::water;
use wortwright::science::liquid::Liquid;
use wortwright::science::{boiling, evaporation};

use crate::reference::{Case, check, rows};

fn celsius(value: f64) -> Temperature {
    Temperature::from_celsius(value).unwrap()
}

#[test]
fn water_boils_where_the_formulations_say() {
    let altitudes = rows("boiling_altitude.csv");
    let pressures = rows("boiling_pressure.csv");
    let by_altitude = altitudes.iter().flat_map(|row| {
        let altitude = Length::new::<meter>(row.number("altitude_m"));
        let pressure = boiling::pressure_at(altitude).unwrap().get::<kilopascal>();
        let point = boiling::point_at(altitude).unwrap().celsius();
        [
            Case::new(row.place(), pressure, row.number("pressure_kPa"), 5.1e-5),
            Case::new(row.place(), point, row.number("boiling_C_if97"), 5.1e-4),
            Case::new(row.place(), point, row.number("boiling_C_iapws95"), 1e-3),
            Case::new(row.place(), point, row.number("boiling_C_geometric"), 9e-3),
        ]
    });
    let by_pressure = pressures.iter().flat_map(|row| {
        let pressure = Pressure::new::<kilopascal>(row.number("pressure_kPa"));
        let point = boiling::point_under(pressure).unwrap().celsius();
        [
            Case::new(row.place(), point, row.number("boiling_C_if97"), 5.1e-4),
            Case::new(row.place(), point, row.number("boiling_C_iapws95"), 1e-3),
        ]
    });
    check(by_altitude.chain(by_pressure), &[]);
}

#[test]
fn power_turns_into_steam_as_published() {
    check(
        rows("evaporation_power.csv").iter().map(|row| {
            let power = Power::new::<watt>(row.number("heater_W"));
            let share = Share::from_fraction(row.number("fraction_of_power_to_evaporation"));
            let boil = celsius(99.974);
            let litres = evaporation::rate_of_power(power, share.unwrap(), boil).unwrap();
            // Cold litres of the crate, at its density of water at 20 °C.
            let kg = litres.litres_per_hour() * 0.9982031;
            Case::new(row.place(), kg, row.number("evaporation_kg_per_h"), 5.1e-5)
        }),
        &[],
    );
}

#[test]
fn points_grow_nearly_as_the_volume_shrinks() {
    // Extract is what is conserved; the rule of points is 0.3 % off at most.
    for row in rows("evaporation_volume.csv") {
        let extract = Extract::from_plato(12.0).unwrap();
        let before_l = row.number("preboil_L_hot");
        let before = Liquid::wort(Volume::new::<liter>(before_l), extract).unwrap();
        let steam_l = row.number("rate_L_per_h") * row.number("minutes") / 60.0;
        let steam = Mass::new::<kilogram>(steam_l * 0.9982031);
        let after = before.boiled_down(steam);
        let points = |liquid: Liquid| liquid.specific_gravity().ratio() - 1.0;
        let ours = points(after.unwrap()) / points(before);
        let rule = row.number("gravity_points_multiplier_linear");
        assert!((ours / rule - 1.0).abs() < 0.003, "{ours} {rule}");
    }
}

#[test]
fn hot_water_takes_the_room_that_the_tables_say() {
    let none = Extract::from_plato(0.0).unwrap();
    check(
        rows("water_properties.csv").iter().flat_map(|row| {
            let t = celsius(row.number("T_C"));
            let density = water(t).unwrap().get::<kilogram_per_cubic_meter>();
            let cold = evaporation::cold_volume(Volume::new::<liter>(1.0), none, t).unwrap();
            [
                Case::new(row.place(), density, row.number("density_kg_m3"), 0.017),
                Case::new(
                    row.place(),
                    1.0 / cold.get::<liter>(),
                    row.number("volume_relative_to_20C"),
                    2.5e-5,
                ),
            ]
        }),
        &[],
    );
}

#[test]
fn contraction_agrees_with_a_professional_examination() {
    // Study card: water from 75 to 20 °C, 2.3 %. It holds of the hot volume; of the cold one it is 2.4 %.
    let hot = Volume::new::<liter>(100.0);
    let none = Extract::from_plato(0.0).unwrap();
    let cold = evaporation::cold_volume(hot, none, celsius(75.0)).unwrap();
    let lost = 100.0 - cold.get::<liter>();
    assert!((lost - 2.3).abs() <= 0.05, "{lost}");
    assert!((100.0 * lost / cold.get::<liter>() - 2.40).abs() <= 0.005);
}

mod laws {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn hotter_wort_is_less_wort_when_cold(
            volume in 0.1..1e5_f64, plato in 0.0..85.0_f64, t in 5.0..101.0_f64,
        ) {
            let hot = Volume::new::<liter>(volume);
            let extract = Extract::from_plato(plato).unwrap();
            let cold = |t| evaporation::cold_volume(hot, extract, celsius(t)).unwrap();
            prop_assert!(cold(t + 1.0) < cold(t));
            prop_assert!((cold(20.0).get::<liter>() / volume - 1.0).abs() < 1e-12);
        }

        #[test]
        fn boiling_point_and_pressure_fall_with_altitude(metres in -500.0..8990.0_f64, up in 1.0..10.0_f64) {
            let point = |m| boiling::point_at(Length::new::<meter>(m)).unwrap();
            prop_assert!(point(metres + up) < point(metres));
        }

        #[test]
        fn thin_air_makes_more_steam(watts in 100.0..1e5_f64, t in 65.0..101.0_f64) {
            let share = Share::from_fraction(0.8).unwrap();
            let at = |t| evaporation::rate_of_power(Power::new::<watt>(watts), share, celsius(t)).unwrap();
            // The heat of evaporation falls with temperature, so a hotter boil makes more.
            prop_assert!(at(t + 1.0) > at(t));
        }
    }
}
