//! Extract, alcohol and attenuation against published tables and worked examples.

use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::{mass::kilogram, volume::hectoliter, volume::liter};
use wortwright::quantity::{
    AlcoholByMass, Extract, Fermentability, Mass, MassDensity, SpecificGravity, Temperature,
    Volume, uom,
};
use wortwright::science::attenuation::{apparent_attenuation, fermented_share};
use wortwright::science::density::{
    Weighing, extract_from_density, extract_of, gravity_weighed, sucrose_solution,
};
use wortwright::science::ethanol;
use wortwright::science::liquid::Liquid;

use crate::reference::{Case, check, crossing, rows};

fn plato(value: f64) -> Extract {
    Extract::from_plato(value).unwrap()
}

fn mass_percent(value: f64) -> AlcoholByMass {
    AlcoholByMass::from_percent(value).unwrap()
}

/// A litre of wort that has fermented to a hydrometer's reading.
fn fermented(original: Extract, apparent: Extract) -> Liquid {
    let wort = Liquid::wort(Volume::new::<liter>(1.0), original).unwrap();
    wort.fermented_to(apparent).unwrap()
}

/// Alcohol of a wort that has fermented wholly, per cent by mass.
fn most_alcohol(original: f64) -> f64 {
    let wort = Liquid::wort(Volume::new::<liter>(1.0), plato(original)).unwrap();
    let all = Fermentability::from_fraction(1.0).unwrap();
    wort.fermented(all).alcohol_by_mass().percent()
}

/// A beer by its analysis.
fn analysed(alcohol: f64, real: f64) -> Liquid {
    let kg = Mass::new::<kilogram>;
    Liquid::new(kg(100.0 - alcohol - real), kg(real), kg(alcohol)).unwrap()
}

/// Density at 20 °C, kg/m³, by the *mass* reading of Tabarié's relation, in which distillate and residue are made up to the mass
/// of the sample (practice of beer analysis: MEBAK collection, density and alcohol-sensor method). The crate uses the volume
/// reading.
fn density_by_mass_reading(alcohol: f64, real: f64) -> f64 {
    let twenty = Temperature::from_celsius(20.0).unwrap();
    let spirit = |percent| ethanol::density(mass_percent(percent), twenty).unwrap();
    let density = sucrose_solution(plato(real), twenty).unwrap() + spirit(alcohol) - spirit(0.0);
    density.get::<kilogram_per_cubic_meter>()
}

/// Apparent extract by the mass reading of Tabarié's relation.
fn apparent_by_mass_reading(alcohol: f64, real: f64) -> f64 {
    let density =
        MassDensity::new::<kilogram_per_cubic_meter>(density_by_mass_reading(alcohol, real));
    let twenty = Temperature::from_celsius(20.0).unwrap();
    extract_from_density(density, twenty).unwrap().plato()
}

/// Degrees Plato between the two water terms of Tabarié's relation. The tables here take sucrose's water off the
/// sum, the crate that of OIML R 22, 0.0019 kg/m³ below it; the same beer is the denser for that by 0.0005 °P.
fn water_terms_apart(apparent: f64) -> f64 {
    let twenty = Temperature::from_celsius(20.0).unwrap();
    let sugar = |p| {
        let density = sucrose_solution(plato(p), twenty).unwrap();
        density.get::<kilogram_per_cubic_meter>()
    };
    let other = ethanol::density(mass_percent(0.0), twenty).unwrap();
    let apart = sugar(0.0) - other.get::<kilogram_per_cubic_meter>();
    assert!((apart - 0.0019).abs() < 5e-5);
    apart / (sugar(apparent + 0.5) - sugar(apparent - 0.5))
}

#[test]
fn original_extract_is_that_of_the_russian_standard() {
    let rows = rows("original_extract_gost.csv");
    assert_eq!(rows.len(), 147);
    check(
        rows.iter().map(|row| {
            let (alcohol, real) = (
                row.number("alcohol_mass_percent"),
                row.number("real_extract"),
            );
            let ours = analysed(alcohol, real).original_extract().plato();
            Case::new(row.place(), ours, row.number("oe_gost"), 0.01)
        }),
        &[],
    );
}

#[test]
fn balance_is_ballings() {
    let b = |original: f64| most_alcohol(original) / original;
    // Balling, beer volume p. 505: 12 °P without real extract.
    let wort = 100.0 + 1.0665 * most_alcohol(12.0);
    let mut cases = vec![
        Case::new("b at 12", b(12.0), 0.5158, 1e-4),
        Case::new("alcohol", 12.0 * b(12.0), 6.190, 5e-4),
        Case::new("wort", wort, 106.601, 1e-3),
        Case::new("extract", 0.12 * wort, 12.792, 5e-4),
        // Distilling volume p. 380: apparent degrees of attenuation.
        Case::new(
            "8 to 1",
            apparent_attenuation(plato(8.0), plato(1.0)).fraction(),
            0.875,
            1e-12,
        ),
        Case::new(
            "12.5 to 1",
            apparent_attenuation(plato(12.5), plato(1.0)).fraction(),
            0.920,
            1e-12,
        ),
    ];
    cases.extend(rows("balling_factors.csv").iter().map(|row| {
        Case::new(
            row.place(),
            b(row.number("original_extract")),
            row.number("b"),
            5.1e-6,
        )
    }));
    check(cases, &[]);
}

/// Balling's tabulated factors a and c give more alcohol for a fall of the hydrometer than today's densities of alcohol
/// and sugar do. The crate follows the densities; the size of the difference is kept here.
#[test]
fn ballings_tabulated_factors_differ_by_a_known_amount() {
    for row in rows("balling_factors.csv") {
        let original = row.number("original_extract");
        let beer = fermented(plato(original), plato(2.0));
        let alcohol = beer.alcohol_by_mass().percent();
        let a = row.number("a_implied") / (alcohol / (original - 2.0));
        assert!((1.003..1.012).contains(&a), "{}: {a}", row.place());
        let c = row.number("c_published") / (alcohol / (beer.real_extract().plato() - 2.0));
        assert!((1.019..1.060).contains(&c), "{}: {c}", row.place());
    }
    let left = |original, apparent| {
        let beer = fermented(plato(original), plato(apparent));
        beer.real_extract().plato()
    };
    // Distilling volume p. 380: what is left of 8 and 12.5 °P at an apparent 1 °P, and of 12.5 °P at 0 °P.
    let cases = || {
        [
            ("8 to 1, %", left(8.0, 1.0) / 0.08, 28.80),
            ("12.5 to 1, %", left(12.5, 1.0) / 0.125, 25.41),
            ("12.5 to 0, °P", left(12.5, 0.0), 2.363),
        ]
    };
    check(
        cases().map(|(name, ours, published)| Case::new(name, ours, published, 0.005 * published)),
        &["8 to 1, %", "12.5 to 1, %", "12.5 to 0, °P"],
    );
    check(
        cases().map(|(name, ours, published)| Case::new(name, ours, published, 0.025 * published)),
        &[],
    );
}

#[test]
fn beers_as_analysed_bear_out_the_volume_reading() {
    assert_eq!(rows("beer_means_2009.csv").len(), 5);
    check(
        rows("beer_means_2009.csv").iter().flat_map(|row| {
            let (a, re) = (row.number("alcohol_mass"), row.number("re"));
            let beer = analysed(a, re);
            let apparent = beer.apparent_extract().plato();
            let apart = water_terms_apart(apparent);
            [
                Case::new(row.place(), apparent, row.number("ae"), 0.04),
                Case::new(
                    row.place(),
                    apparent - apart,
                    row.number("ae_tab_vol"),
                    5.1e-4,
                ),
                Case::new(
                    row.place(),
                    apparent_by_mass_reading(a, re) - apart,
                    row.number("ae_tab_mass"),
                    5.1e-4,
                ),
                Case::new(
                    row.place(),
                    beer.original_extract().plato(),
                    row.number("oe"),
                    0.24,
                ),
            ]
        }),
        &[],
    );
}

#[test]
fn the_mass_reading_fits_those_beers_worse() {
    let (mut by_volume, mut by_mass) = (0.0_f64, 0.0_f64);
    for row in rows("beer_means_2009.csv") {
        let (a, re, listed) = (
            row.number("alcohol_mass"),
            row.number("re"),
            row.number("ae"),
        );
        let beer = analysed(a, re);
        by_volume = by_volume.max((beer.apparent_extract().plato() - listed).abs());
        by_mass = by_mass.max((apparent_by_mass_reading(a, re) - listed).abs());
    }
    assert!(by_volume < 0.04 && by_mass > 0.07, "{by_volume} {by_mass}");
}

#[test]
fn real_extract_and_alcohol_agree_with_a_grid_of_beers() {
    assert_eq!(rows("alcohol_grid.csv").len(), 297);
    check(
        rows("alcohol_grid.csv").iter().flat_map(|row| {
            let (oe, ae) = (row.number("oe"), row.number("ae"));
            let beer = fermented(plato(oe), plato(ae + water_terms_apart(ae)));
            let vacuum = |p| gravity_weighed(plato(p), Weighing::InVacuum).ratio();
            let name = |what: &str| format!("{oe} {ae} {what}");
            [
                Case::new(name("sg oe"), vacuum(oe), row.number("sg_oe_vac"), 5.1e-6),
                Case::new(name("sg ae"), vacuum(ae), row.number("sg_ae_vac"), 5.1e-6),
                Case::new(
                    name("re"),
                    beer.real_extract().plato(),
                    row.number("re_tab_vol"),
                    5.1e-4,
                ),
                Case::new(
                    name("a"),
                    beer.alcohol_by_mass().percent(),
                    row.number("a_tab_vol"),
                    5.1e-4,
                ),
                // The water term makes the beer itself 2e-6 denser, and so up to 2e-5 % stronger by volume.
                Case::new(
                    name("abv"),
                    beer.alcohol_by_volume().percent(),
                    row.number("abv_tab_vol"),
                    5.3e-4,
                ),
            ]
        }),
        &[],
    );
}

#[test]
fn the_mass_reading_gives_the_published_grid_too() {
    check(
        rows("alcohol_grid.csv").iter().flat_map(|row| {
            let (oe, ae) = (row.number("oe"), row.number("ae"));
            // Balling, p. 483, for the real extract.
            let real_at = |a: f64| oe - a * (2.0665 - 0.010665 * oe);
            let most = most_alcohol(oe);
            let excess =
                |a: f64| apparent_by_mass_reading(a, real_at(a)) - ae - water_terms_apart(ae);
            let a = crossing(excess, 0.0, most);
            let name = |what: &str| format!("{oe} {ae} {what}");
            [
                Case::new(name("re"), real_at(a), row.number("re_tab_mass"), 5.1e-4),
                Case::new(name("a"), a, row.number("a_tab_mass"), 5.1e-4),
                Case::new(
                    name("abv"),
                    a * density_by_mass_reading(a, real_at(a)) / 789.239,
                    row.number("abv_tab_mass"),
                    5.3e-4,
                ),
            ]
        }),
        &[],
    );
}

/// The usual `RE = 0.1808 OE + 0.8192 AE` gives too little real extract for every beer of the grid, by up to 0.31 °P.
#[test]
fn the_factor_0_8192_is_not_reproduced() {
    let mut worst = 0.0_f64;
    for row in rows("alcohol_grid.csv") {
        let beer = fermented(plato(row.number("oe")), plato(row.number("ae")));
        let short = beer.real_extract().plato() - row.number("re_0.1808");
        assert!(short > 0.02, "{}", row.place());
        worst = worst.max(short);
    }
    assert!((worst - 0.307).abs() < 0.001, "{worst}");
}

#[test]
fn extract_agrees_with_a_professional_brewery() {
    let hl = |v| Volume::new::<hectoliter>(v);
    let wort = Liquid::wort(hl(482.0), plato(15.14)).unwrap();
    let kg = wort.extract().get::<kilogram>();
    let at_1062 = extract_of(SpecificGravity::from_ratio(1.062).unwrap());
    let degrees = |liquid: Liquid| {
        liquid.volume().get::<liter>() * 1000.0 * (liquid.specific_gravity().ratio() - 1.0)
    };
    // Sugar of 80 % extract made up to about 10 °P, litre degrees per kilogram.
    let sugar = Liquid::new(
        Mass::new::<kilogram>(7.2),
        Mass::new::<kilogram>(0.8),
        Mass::new::<kilogram>(0.0),
    )
    .unwrap();
    check(
        [
            // Study cards of a brewing examination. Their density, 1.060, is rounded: 0.0005 is 3.6 kg.
            Case::new("extract of 482 hL at 15.14 °P", kg, 7735.0, 3.7),
            // 3.7 kg of 7790 is 0.05 %.
            Case::new("recovered of 7790 kg, %", kg / 77.90, 99.30, 0.05),
            Case::new(
                "hectolitre degrees of 482 hL at 1.062",
                degrees(Liquid::wort(hl(482.0), at_1062).unwrap()) / 100.0,
                29884.0,
                0.5,
            ),
            // 80 % of 385.6; the figure belongs to the gravity at which it is taken.
            Case::new(
                "litre degrees of a kilogram at 80 %",
                degrees(sugar),
                308.5,
                0.2,
            ),
        ],
        &[],
    );
}

mod laws {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn readings_give_back_what_was_fermented(original in 0.5..60.0_f64, share in 0.0..1.0_f64) {
            let wort = Liquid::wort(Volume::new::<liter>(1.0), plato(original)).unwrap();
            let beer = wort.fermented(Fermentability::from_fraction(share).unwrap());
            prop_assert!((beer.original_extract().plato() - original).abs() < 1e-10);
            let consumed = fermented_share(beer.original_extract(), beer.real_extract());
            prop_assert!((consumed.fraction() - share).abs() < 1e-10);
            let read = fermented(plato(original), beer.apparent_extract());
            prop_assert!((read.real_extract().plato() - beer.real_extract().plato()).abs() < 1e-8);
        }

        #[test]
        fn a_drier_beer_is_lighter_and_stronger(
            original in 1.0..40.0_f64, share in 0.0..0.99_f64, more in 0.001..0.01_f64,
        ) {
            let beer = |s| {
                let share = Fermentability::from_fraction(s).unwrap();
                let wort = Liquid::wort(Volume::new::<liter>(1.0), plato(original)).unwrap();
                wort.fermented(share)
            };
            let (sweet, dry) = (beer(share), beer(share + more));
            prop_assert!(dry.apparent_extract() < sweet.apparent_extract());
            prop_assert!(dry.real_extract() < sweet.real_extract());
            prop_assert!(dry.alcohol_by_volume() > sweet.alcohol_by_volume());
            prop_assert!(sweet.real_extract() > sweet.apparent_extract() || share == 0.0);
        }

        #[test]
        fn every_reading_of_a_liquid_is_finite(
            water in 0.0..1e6_f64, extract in 0.0..1e6_f64, ethanol in 0.0..1e6_f64,
        ) {
            let kg = |m| Mass::new::<kilogram>(m);
            if let Ok(liquid) = Liquid::new(kg(water), kg(extract), kg(ethanol)) {
                let density = liquid.density().get::<kilogram_per_cubic_meter>();
                prop_assert!((700.0..1600.0).contains(&density));
                prop_assert!(liquid.volume().get::<liter>() > 0.0);
                prop_assert!(liquid.apparent_extract().plato().is_finite());
                prop_assert!(liquid.alcohol_by_volume().fraction() <= 1.0);
            }
        }

        #[test]
        fn fermentation_loses_gas_and_yeast_only(original in 0.0..60.0_f64, share in 0.0..1.0_f64) {
            let wort = Liquid::wort(Volume::new::<liter>(20.0), plato(original)).unwrap();
            let beer = wort.fermented(Fermentability::from_fraction(share).unwrap());
            let ethanol = beer.ethanol().get::<kilogram>();
            let lost = (wort.mass() - beer.mass()).get::<kilogram>();
            prop_assert!((lost - (0.9565 + 0.11) * ethanol).abs() < 1e-9);
            prop_assert!((wort.volume().get::<liter>() - 20.0).abs() < 1e-9);
        }
    }
}
