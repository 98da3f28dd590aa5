use super::*;

fn kg(water: f64, extract: f64, ethanol: f64) -> Result<Liquid, Error> {
    Liquid::new(kilograms(water), kilograms(extract), kilograms(ethanol))
}

fn plato(value: f64) -> Extract {
    Extract::from_plato(value).unwrap()
}

#[test]
fn refuses_masses_that_are_none() {
    assert_eq!(
        kg(1.0, -1.0, 0.0).unwrap_err().message(),
        "expected a mass of extract from 0 to 1e12 kg, found -1 kg"
    );
    assert!(kg(f64::NAN, 1.0, 1.0).is_err());
    assert!(kg(1.0, 1.0, f64::INFINITY).is_err());
    assert_eq!(
        kg(0.0, 0.0, 0.0).unwrap_err().message(),
        "expected some water, extract or ethanol, found none"
    );
    let wort = kg(9.0, 1.0, 0.0).unwrap();
    assert!(wort.diluted(kilograms(f64::NAN)).is_err());
    assert_eq!(
        wort.boiled_down(kilograms(9.5)).unwrap_err().message(),
        "expected steam from 0 to 9 kg, found 9.5 kg"
    );
}

#[test]
fn readings_agree_with_one_another() {
    let beer = kg(92.0, 4.0, 4.0).unwrap();
    let litres = in_litres(beer.volume());
    assert!((litres * beer.density_20() / 1000.0 - 100.0).abs() < 1e-10);
    let ethanol_l = 4.0 / 0.7892391;
    assert!((beer.alcohol_by_volume().fraction() - ethanol_l / litres).abs() < 1e-8);
    assert_eq!(beer.real_extract().plato(), 4.0);
    assert_eq!(beer.alcohol_by_mass().percent(), 4.0);
}

#[test]
fn an_empty_vessel_reads_as_water_and_nothing() {
    let empty = Liquid::default();
    assert_eq!(empty.density_20(), WATER_20);
    let readings = [
        Liquid::volume_l,
        Liquid::strength,
        Liquid::original_plato,
        Liquid::alcohol_fraction,
    ];
    assert_eq!(readings.map(|read| read(empty)), [0.0; 4]);
}

#[test]
fn pure_spirit_is_pure() {
    let spirit = kg(0.0, 0.0, 1.0).unwrap();
    assert!((spirit.alcohol_by_volume().fraction() - 1.0).abs() < 1e-5);
    assert_eq!(spirit.apparent_extract().plato(), -20.0);
}

/// Balling: 2.0665 g of extract give 1 g of ethanol; the rest goes as gas and yeast.
#[test]
fn yeast_turns_extract_into_alcohol_and_gas() {
    let later = kg(17.6, 2.4, 0.1).unwrap().fermented_kg(1.0333);
    assert_eq!(later.water_kg, 17.6);
    assert!((later.extract_kg - 1.3667).abs() < 1e-12);
    assert!((later.ethanol_kg - (0.1 + 0.5000)).abs() < 1e-4);
}

/// 100 kg of wort at 12 °P lose 8 kg of extract: 3.87128 kg of ethanol in 95.87128 kg of beer.
#[test]
fn alcohol_by_hand() {
    let wort = kg(88.0, 12.0, 0.0).unwrap();
    let beer = wort.fermented(Fermentability::clamped(2.0 / 3.0));
    assert!((beer.alcohol_by_mass().percent() - 387.128 / 95.87128).abs() < 1e-4);
    assert!((beer.real_extract().plato() - 400.0 / 95.87128).abs() < 1e-5);
    assert!((beer.original_extract().plato() - 12.0).abs() < 1e-9);
}

#[test]
fn unfermented_wort_has_no_alcohol() {
    for original in [0.0, 12.0, 85.0] {
        let wort = kg(100.0 - original, original, 0.0).unwrap();
        let wort = wort.fermented_to(plato(original)).unwrap();
        assert_eq!(wort.alcohol_by_volume().fraction(), 0.0);
        assert!((wort.apparent_extract().plato() - original).abs() < 1e-12);
    }
}

#[test]
fn says_which_readings_are_possible() {
    let wort = kg(88.0, 12.0, 0.0).unwrap();
    assert_eq!(
        wort.fermented_to(plato(-4.0)).unwrap_err().message(),
        "expected an apparent extract from -2.81 to 12.00 °P, found -4 °P"
    );
    let heavy = wort.fermented_to(plato(13.0)).unwrap_err();
    assert_eq!(heavy.kind(), ErrorKind::OutOfModel);
}

/// From water to syrup, without alcohol and with as much as that of a strong beer after an addition.
#[test]
fn shows_every_reading_that_it_fell_to() {
    for extract in [0.5, 4.0, 12.0, 30.0, 60.0, 85.0] {
        for ethanol in [0.0, 1e-6, 5.0, 12.0] {
            let start = kg(100.0 - extract, extract, ethanol).unwrap();
            let (now, least) = (
                start.apparent_plato(),
                start.fermented_kg(extract).apparent_plato(),
            );
            for share in [1e-9, 0.01, 0.3, 0.7, 0.99, 1.0 - 1e-9] {
                let wanted = plato(now + share * (least - now));
                let beer = start.fermented_to(wanted).unwrap();
                assert!(
                    (beer.apparent_plato() - wanted.plato()).abs() < 1e-10,
                    "{extract} {ethanol} {share}: {} for {wanted}",
                    beer.apparent_plato()
                );
                assert!(beer.extract_kg >= 0.0 && beer.extract_kg <= extract);
            }
        }
    }
}

/// A quarter of the vessel holds a quarter of everything; 2 kg of juice of 15 % bring 0.3 kg of extract and 1.7 kg of water.
#[test]
fn draws_take_of_everything_and_juice_brings_what_it_is() {
    let drawn = kg(88.0, 7.0, 2.4).unwrap().part(0.25);
    assert_eq!((drawn.water_kg, drawn.extract_kg), (22.0, 1.75));
    let juiced = drawn.blended(Liquid::solution(1.7, 0.3));
    assert!((juiced.water_kg - 23.7).abs() < 1e-12);
    assert!((juiced.extract_kg - 2.05).abs() < 1e-12);
    assert_eq!(juiced.ethanol_kg, drawn.ethanol_kg);
}

/// Sucrose at 20 °C (OIML R 22 and ICUMSA): 100 kg of 10 % by mass are 96.341 L, since its density is 1038.1 kg/m³.
#[test]
fn water_fills_a_volume_up() {
    let sugar = Liquid::solution(0.0, 10.0);
    assert!((sugar.water_to_fill_kg(100.0 / 1.0381) - 90.0).abs() < 0.01);
    for (water, extract, ethanol) in [
        (0.0, 0.5, 0.0),
        (0.0, 60.0, 0.0),
        (30.0, 4.0, 5.0),
        (120.0, 4.0, 5.0),
    ] {
        let liquid = kg(water, extract, ethanol).unwrap();
        let filled = liquid.with_water_kg(liquid.water_to_fill_kg(100.0));
        assert!((filled.volume_l() - 100.0).abs() < 1e-10);
    }
}

#[test]
fn serialises_in_kilograms() {
    let json = serde_json::to_string(&kg(9.0, 1.0, 0.0).unwrap()).unwrap();
    assert_eq!(
        json,
        r#"{"water_kg":9.0,"extract_kg":1.0,"ethanol_kg":0.0}"#
    );
}

/// The table beer of the handbooks: wort of 12 °P that shows 2.5 °P has fermented to about 5 % by volume, and Balling's balance read
/// backwards finds the same wort from what is shown and the alcohol alone.
#[test]
fn a_beer_is_known_by_what_it_shows_and_its_alcohol() {
    let wort = Liquid::wort(litres(1.0), plato(12.0)).unwrap();
    let beer = wort.fermented_to(plato(2.5)).unwrap();
    let alcohol = beer.alcohol_by_volume().percent() / 100.0;
    let again = Liquid::drink_showing(alcohol, plato(2.5));
    assert!((again.apparent_plato() - 2.5).abs() < 1e-6);
    assert!((again.original_plato() - 12.0).abs() < 1e-3);
    // A spirit without extract shows less than any drink of its strength can.
    assert!(Liquid::drink_showing(0.4, plato(0.0)).strength() > 0.1);
}
