//! Pressure on a keg and sugar for bottles, with figures worked out by hand.

use crate::brewing::{BIG, job, kg, l, near, plan};
use wortwright::catalogue::Kind;
use wortwright::process::{Assumption, Container, Figures, GasPlan, Warning};
use wortwright::quantity::uom::si::pressure::bar;
use wortwright::quantity::{CarbonDioxide, Unit, Written};
use wortwright::recipe::{Addition, Amount, Ingredient};
use wortwright::scale::Plan;
use wortwright_tests::fixtures::{changed, fixture};

fn text(ferment: &str, package: &str) -> String {
    let changes = [("  # ferment\n", ferment), ("# package", package)];
    changed(&fixture("scale/gas"), &changes) + BIG
}

fn packaged(ferment: &str, package: &str) -> Plan {
    plan(&text(ferment, package), "Small")
}

#[test]
fn a_keg_is_set_to_the_pressure_of_the_table() {
    let plan = packaged("", "keg, carbonate 4.9 g/L at 4.4444 C");
    let Some(GasPlan::Forced { gauge, .. }) = plan.gas else {
        panic!("{:?}", plan.gas)
    };
    // 4.9 g/L are 2.4785 volumes; the printed table has 2.47 at 40 F and 12 psi (0.827 bar), and the fit lies within
    // 0.056 volumes of it, which is 0.03 bar here.
    near(gauge.get::<bar>(), 0.827, 0.04, "gauge");
    assert!(
        !plan
            .assumptions
            .iter()
            .any(|told| told.what == Assumption::CarbonationAsStated)
    );
    assert_eq!(
        plan.predicted
            .carbonation
            .map(CarbonDioxide::grams_per_litre),
        Some(4.9)
    );
}

#[test]
fn bottles_get_the_sugar_that_is_wanting() {
    let plan = packaged("  hold 20 C for 6 days\n", "bottles, carbonate 4.9 g/L");
    let Some(GasPlan::Conditioned {
        sucrose,
        glucose,
        priming_alcohol,
        ..
    }) = &plan.gas
    else {
        panic!("{:?}", plan.gas)
    };
    // By hand at 68 F, the last hold and not pitching: 3.0378 - 0.050062 * 68 + 0.00026555 * 68^2 = 0.86149 volumes,
    // 1.70316 g/L; wanting 3.19684 g/L. Sucrose gives 0.51428 g/g and glucose 0.48857 g/g.
    let litres = l(plan.volumes.packaged);
    near(
        kg(*sucrose),
        litres * 3.19684 / 0.51428 / 1000.0,
        1e-3,
        "sucrose",
    );
    // By Balling 0.9565 g of gas come with a gram of ethanol of 789.24 g/L: 3.3422 g/L, 0.4235 % by volume.
    near(priming_alcohol.percent(), 0.4235, 1e-3, "alcohol");
    near(
        kg(*glucose),
        litres * 3.19684 / 0.48857 / 1000.0,
        1e-3,
        "glucose",
    );
    assert!(
        !plan
            .warnings
            .iter()
            .any(|w| matches!(&w.what, Warning::PackageOverLimit { .. }))
    );
}

/// 4 g/L of sucrose at packaging give 4 · 0.51428 = 2.0571 g/L of gas, and 5 g/L of finings none; the sugar for the rest is
/// less by as much. A litre grows by what becomes of the 4 g: 1.94 g of ethanol at 1.27 mL/g, 2.46 mL at the most, so that the
/// gas is 2.0571/1.0023 = 2.0525 in a litre of the beer packaged.
#[test]
fn sugar_at_packaging_counts_and_finings_do_not() {
    let text = text("  hold 20 C for 6 days\n", "bottles, carbonate 4.9 g/L");
    let mut job = job(&text, "Small");
    for (name, kind, dose) in [("sucrose", Kind::Sugar, 4.0), ("finings", Kind::Other, 5.0)] {
        let dose = Written::new(dose, Unit::GramPerLitre).unwrap();
        let addition = Addition::new(Ingredient::new(name, kind), Amount::Concentration(dose));
        job.recipe.package.additions.push(addition);
    }
    let plan = job.exact();
    let Some(GasPlan::Conditioned {
        from_additions,
        sucrose,
        ..
    }) = &plan.gas
    else {
        panic!("{:?}", plan.gas)
    };
    near(from_additions.grams_per_litre(), 2.0525, 3e-4, "gas");
    near(
        kg(*sucrose),
        l(plan.volumes.packaged) * (3.19684 - 2.0525) / 0.51428 / 1000.0,
        1e-3,
        "what is wanting still",
    );
}

#[test]
fn bottles_over_the_usual_limit_are_warned_of() {
    // 6.5 g/L are 3.29 volumes.
    let plan = packaged("", "bottles, carbonate 6.5 g/L");
    assert!(
        plan.warnings
            .iter()
            .any(|w| matches!(&w.what, Warning::PackageOverLimit { .. }))
    );
    // At 0.93 volumes (1.8 g/L) left at 18 C, 1 g/L is there already.
    let flat = packaged("", "bottles, carbonate 1 g/L");
    assert!(
        flat.warnings
            .iter()
            .any(|w| matches!(&w.what, Warning::GasBeyondWanted { .. }))
    );
    let Some(GasPlan::Conditioned { sucrose, .. }) = flat.gas else {
        panic!("{:?}", flat.gas)
    };
    assert_eq!(kg(sucrose), 0.0);
}

#[test]
fn without_a_temperature_the_carbonation_stays_as_stated() {
    let plan = packaged("", "keg, carbonate 5 g/L");
    assert_eq!(plan.gas, None);
    assert!(
        plan.assumptions
            .iter()
            .any(|told| told.what == Assumption::CarbonationAsStated)
    );
}

/// The plan of a beer that ended at 20 °C, with more lines under `package`, on a plant with more lines.
fn with_lines(package: &str, plant: &str) -> Plan {
    let small = "  batch 20 L into fermenter\n";
    let text = text("  hold 20 C for 8 days\n", package);
    plan(&text.replace(small, &format!("{small}{plant}")), "Small")
}

/// What a container comes to, told at the container and at the head of the sheet.
fn over_limit(plan: &Plan) -> Option<(Container, f64)> {
    let told = plan.warnings.iter().find_map(|told| match &told.what {
        Warning::PackageOverLimit {
            container, most, ..
        } => Some((told, *container, most.grams_per_litre())),
        _ => None,
    });
    let (told, container, most) = told?;
    assert_eq!(
        told.place.as_ref().map(ToString::to_string).as_deref(),
        Some("recipe.package.container")
    );
    let sheet = plan.to_string();
    let (_, head) = sheet.split_once("STOP").unwrap();
    let (head, _) = head.split_once("SHOPPING").unwrap();
    assert!(head.contains("burst"), "{head}");
    Some((container, most))
}

/// 20 °C leaves 1.70316 g/L (0.86149 volumes, worked out above), and 20 g/L of sucrose in the racked beer give
/// 20 · 0.51428 = 10.286 g per litre of it. A litre grows by its sugar: 20 g of sucrose are 20/1.6 = 12.4 mL in solution,
/// of which the fermented half leaves about 12.3 mL: 10.286/1.0123 = 10.16 g/L, 11.86 g/L in all.
#[test]
fn what_ferments_in_any_closed_container_counts() {
    for (container, kind) in [
        ("bottles", Container::Bottle),
        ("cans", Container::Can),
        ("growlers", Container::Growler),
        ("cask", Container::Cask),
        ("stone jug", Container::Jug),
        ("tetra packs", Container::Unknown),
    ] {
        let plan = with_lines(&format!("{container}\n  add 20 g/L sucrose"), "");
        let (named, most) = over_limit(&plan).unwrap();
        assert_eq!(named, kind);
        near(most, 11.86, 0.01, container);
        let there = plan.predicted.carbonation.unwrap().grams_per_litre();
        near(there, 11.86, 0.01, container);
        // Without the sugar the beer is flat and safe.
        let flat = with_lines(container, "");
        assert_eq!(over_limit(&flat), None, "{container}");
    }
    // Where no container is named, the sugar says that one is closed.
    let text = text("  hold 20 C for 8 days\n", "add 20 g/L sucrose");
    let unnamed = plan(&text, "Small");
    assert!(unnamed.warnings.iter().any(|told| matches!(
        told.what,
        Warning::PackageOverLimit {
            container: Container::Unknown,
            ..
        }
    )));
    // A growler is not made for pressure: sugar that a bottle bears is too much for it.
    let little = |container: &str| with_lines(&format!("{container}\n  add 2 g/L sucrose"), "");
    assert_eq!(over_limit(&little("bottles")), None);
    assert!(over_limit(&little("growlers")).is_some());
}

/// The source is warned of in its prediction too.
#[test]
fn a_prediction_counts_the_gas() {
    let text = text("  hold 20 C for 8 days\n", "bottles\n  add 20 g/L sucrose");
    let beer = crate::brewing::predicted(&text).unwrap();
    assert!(
        beer.warnings
            .iter()
            .any(|told| matches!(told.what, Warning::PackageOverLimit { .. }))
    );
    near(
        beer.predicted.carbonation.unwrap().grams_per_litre(),
        11.86,
        0.01,
        "gas",
    );
}

/// 5 g/L and 10.16 g/L from sugar are 7.67 volumes; at 68 °F 0.05731 volumes a psi: 133.9 psi, 119.2 above the air, 8.2 bar.
#[test]
fn sugar_in_a_keg_counts_to_its_limit() {
    let plan = with_lines("keg, carbonate 5 g/L at 4 C\n  add 20 g/L sucrose", "");
    let gauge = plan.warnings.iter().find_map(|told| match told.what {
        Warning::KegOverLimit { gauge, .. } => Some(gauge.get::<bar>()),
        _ => None,
    });
    near(gauge.unwrap(), 8.22, 0.03, "warm keg");
    // The gas of the cylinder is at equilibrium with the beer whatever ferments.
    let Some(GasPlan::Forced { gauge, .. }) = plan.gas else {
        panic!("{:?}", plan.gas)
    };
    near(gauge.get::<bar>(), 12.113 * 0.0689476, 1e-3, "gauge");
    // A keg that no line carbonates holds what is left and what the sugar makes: 11.86 g/L, 6.0 volumes.
    let sealed = with_lines("keg\n  add 20 g/L sucrose", "");
    let gauge = sealed.warnings.iter().find_map(|told| match told.what {
        Warning::KegOverLimit { gauge, .. } => Some(gauge.get::<bar>()),
        _ => None,
    });
    near(
        gauge.unwrap(),
        (104.74 - 14.695) * 0.0689476,
        0.05,
        "sealed",
    );
    let safe = with_lines("keg, carbonate 5 g/L at 4 C", "");
    assert!(safe.warnings.is_empty(), "{:?}", safe.warnings);
}

/// A cold crash adds no gas: 2 °C would leave 1.59 volumes, 3.15 g/L.
#[test]
fn a_cold_crash_adds_no_gas() {
    let crash = "  hold 20 C for 8 days\n  hold 2 C for 3 days\n";
    let plan = packaged(crash, "bottles, carbonate 4.9 g/L");
    let Some(GasPlan::Conditioned { left, sucrose, .. }) = &plan.gas else {
        panic!("{:?}", plan.gas)
    };
    near(left.grams_per_litre(), 1.70316, 1e-4, "left");
    near(
        kg(*sucrose),
        l(plan.volumes.packaged) * 3.19684 / 0.51428 / 1000.0,
        1e-3,
        "sucrose",
    );
}

/// At 2000 m the air has 795 of 1013.25 hPa (ISO 2533): 0.7846 · 1.70316 = 1.3363 g/L are left, and a gauge shows 0.2183 bar
/// more than at the sea.
#[test]
fn thin_air_leaves_less_gas() {
    let plan = with_lines("bottles, carbonate 4.9 g/L", "  altitude 2000 m\n");
    let Some(GasPlan::Conditioned { left, .. }) = &plan.gas else {
        panic!("{:?}", plan.gas)
    };
    near(left.grams_per_litre(), 1.3363, 1e-3, "left");
    let keg = |plant: &str| match with_lines("keg, carbonate 5 g/L at 4 C", plant).gas {
        Some(GasPlan::Forced { gauge, .. }) => gauge.get::<bar>(),
        other => panic!("{other:?}"),
    };
    near(keg("  altitude 2000 m\n") - keg(""), 0.2183, 2e-3, "gauge");
}

/// A juice of 12 Bx as a tenth of the packaged beer, and the beer from which it was made, as water, extract and ethanol.
#[test]
fn what_goes_in_at_packaging_is_in_the_beer() {
    let plain = with_lines("bottles", "");
    let with = with_lines(
        "bottles\n  add 10 % by volume apple juice, 12 Bx, 100 % fermentable",
        "",
    );
    let (before, after) = (&plain.predicted, &with.predicted);
    // By volume nine parts of beer and one of juice, of which the alcohol takes a little room: 120.5 g/L of sugar
    // (1.0484 kg/L) are 58.3 g/L of ethanol by Balling, 7.4 % by volume of the juice.
    let abv = before.alcohol.unwrap().percent();
    near(
        after.alcohol.unwrap().percent(),
        0.9 * abv + 0.1 * 1048.4 * 0.12 / 2.0665 / 7.893,
        0.03,
        "alcohol",
    );
    // By the hops of a tenth less beer it is nine tenths as bitter, on the plant of the sheet too.
    let hopped = |package: &str| {
        let text = text("  hold 20 C for 8 days\n", package);
        let hops = "  100 g/hL northern brewer, 9 % alpha at 60 min\n";
        let text = text.replace("boil 60 min\n", &format!("boil 60 min\n{hops}"));
        crate::brewing::predicted(&text).unwrap().predicted
    };
    let juice = "bottles\n  add 10 % by volume apple juice, 12 Bx, 100 % fermentable, 0 EBC";
    let (bare, thinned) = (hopped("bottles"), hopped(juice));
    let ibu = |beer: &Figures| beer.bitterness.unwrap().ibu();
    near(ibu(&thinned) / ibu(&bare), 0.9, 1e-3, "bitterness");
    let ebc = |beer: &Figures| beer.colour.unwrap().ebc();
    near(ebc(&thinned) / ebc(&bare), 0.9, 1e-3, "colour");
    let racked_l = l(plain.volumes.racked);
    near(l(with.volumes.packaged), racked_l / 0.9, 0.1, "volume");
    near(l(with.volumes.racked), racked_l, 1e-6, "racked");
    assert!(after.final_extract < before.final_extract);
    // The plan written down and read again is the same beer.
    let again = crate::brewing::predicted(&with.to_document().to_string()).unwrap();
    let of = |figures: &Figures| {
        [
            figures.final_extract.unwrap().plato(),
            figures.alcohol.unwrap().percent(),
            l(figures.finished.unwrap()),
        ]
    };
    for (read, planned) in of(&again.predicted).into_iter().zip(of(after)) {
        near(read, planned, 1e-2, "read again");
    }
    near(
        l(again.volumes.packaged),
        l(with.volumes.packaged),
        1e-2,
        "packaged",
    );
    assert!(
        with.assumptions
            .iter()
            .any(|told| matches!(told.what, Assumption::FermentsInPackage { .. }))
    );
}

/// Two lines that want another carbonation are told apart, and a temperature that sets nothing is told.
#[test]
fn no_line_of_a_package_counts_for_nothing() {
    let text = text(
        "  hold 20 C for 8 days\n",
        "bottles, carbonate 5 g/L at 4 C",
    );
    let text = text.replace("original 12 P", "original 12 P, carbonation 4 g/L");
    let plan = plan(&text, "Small");
    assert!(
        plan.warnings
            .iter()
            .any(|told| matches!(told.what, Warning::CarbonationDisagrees { .. }))
    );
    assert!(plan.assumptions.iter().any(|told| told.what
        == Assumption::PackageTemperatureNotUsed {
            container: Container::Bottle
        }));
    // No temperature of fermentation is stated: 20 °C, told.
    let bare = text.replace(" at 18 C\n  hold 20 C for 8 days\n", "\n");
    let bare = crate::brewing::plan(&bare, "Small");
    assert!(
        bare.assumptions
            .iter()
            .any(|told| matches!(told.what, Assumption::FermentedAt { .. }))
    );
}

/// Water as a tenth of what is packaged: a ninth of the beer more, with nine tenths of its alcohol, bitterness and gas. Water and
/// beer shrink by less than 0.02 L on mixing.
#[test]
fn water_at_packaging_thins_the_beer_and_its_gas() {
    let of = |package: &str| {
        let text = text("  hold 20 C for 8 days\n", package);
        let hops = "  100 g/hL northern brewer, 9 % alpha at 60 min\n";
        plan(
            &text.replace("boil 60 min\n", &format!("boil 60 min\n{hops}")),
            "Small",
        )
    };
    let package = "bottles, carbonate 5 g/L";
    let plain = of(package);
    let thinned = of(&format!("{package}\n  add 10 % by volume boiled water"));
    near(
        l(thinned.volumes.racked),
        l(plain.volumes.racked),
        1e-6,
        "racked",
    );
    let packaged_l = l(plain.volumes.racked) / 0.9;
    near(l(thinned.volumes.packaged), packaged_l, 1e-3, "packaged");
    let abv = |plan: &Plan| plan.predicted.alcohol.unwrap().percent();
    near(abv(&thinned), 0.9 * abv(&plain), 1e-3, "alcohol");
    let ibu = |plan: &Plan| plan.predicted.bitterness.unwrap().ibu();
    near(ibu(&thinned), 0.9 * ibu(&plain), 1e-3, "bitterness");
    let gas = |plan: &Plan| match &plan.gas {
        Some(GasPlan::Conditioned { left, sucrose, .. }) => (left.grams_per_litre(), kg(*sucrose)),
        other => panic!("{other:?}"),
    };
    // 0.86 volumes of 1.977 g/L at 20 °C (Draper and Hibberd 1996), and 4 × 44.0095/342.3 g of gas from a gram of sucrose.
    near(gas(&plain).0, 0.86 * 1.977, 0.01, "left");
    near(gas(&thinned).0, 0.9 * gas(&plain).0, 1e-3, "left");
    let wanting_g_l = 5.0 - 0.9 * 0.86 * 1.977;
    near(
        gas(&thinned).1,
        wanting_g_l / 0.5143 * packaged_l / 1000.0,
        6e-3,
        "sucrose",
    );
}

/// A volume is 1.977 g/L, sucrose gives 0.51428 g/g. At 18 °C (64.4 F) fermentation leaves 3.0378 - 0.050062 * 64.4 + 0.00026555 * 64.4^2 =
/// 0.91515 volumes.
#[test]
fn a_cask_is_primed_and_has_a_line_of_its_own() {
    for (line, volumes) in [
        ("cask, prime to 1.2 volumes", 1.2),
        ("cask, prime to 1.5 volumes", 1.5),
        // Whatever the word, a cask gets its gas by fermenting.
        ("cask, carbonate 1.2 volumes", 1.2),
    ] {
        let plan = packaged("  hold 18 C for 6 days\n", line);
        let Some(GasPlan::Conditioned {
            sucrose, container, ..
        }) = &plan.gas
        else {
            panic!("{:?}", plan.gas)
        };
        assert_eq!(*container, Container::Cask);
        let wanting_g_l = (volumes - 0.915_15) * 1.977;
        let wanted_kg = l(plan.volumes.packaged) * wanting_g_l / 0.51428 / 1000.0;
        near(kg(*sucrose), wanted_kg, 2e-3, line);
        let sheet = plan.to_string();
        assert!(sheet.contains("Cask: stand it at 12 °C"), "{sheet}");
    }
    let bottle = packaged("  hold 18 C for 6 days\n", "bottle, prime to 2.4 volumes").to_string();
    assert!(!bottle.contains("Cask:"), "{bottle}");
}

#[test]
fn a_keg_is_primed_where_the_recipe_says_so() {
    let primed = packaged(
        "  hold 20 C for 6 days\n",
        "keg, prime to 2 volumes at 12 C",
    );
    let Some(GasPlan::Conditioned {
        sucrose, container, ..
    }) = &primed.gas
    else {
        panic!("{:?}", primed.gas)
    };
    assert_eq!(*container, Container::Keg);
    // At 68 F 0.86149 volumes are left.
    let wanted_kg = l(primed.volumes.packaged) * (2.0 - 0.861_49) * 1.977 / 0.51428 / 1000.0;
    near(kg(*sucrose), wanted_kg, 1e-3, "sucrose");
    let forced = packaged(
        "  hold 20 C for 6 days\n",
        "keg, carbonate 2 volumes at 12 C",
    );
    assert!(matches!(forced.gas, Some(GasPlan::Forced { .. })));
    // Sugar by its mass: 50 g in all of the sheet's beer.
    let by_mass = packaged("  hold 20 C for 6 days\n", "keg, prime with 5 g/L sucrose");
    let Some(GasPlan::Conditioned { from_additions, .. }) = &by_mass.gas else {
        panic!("{:?}", by_mass.gas)
    };
    near(from_additions.grams_per_litre(), 5.0 * 0.51428, 0.02, "gas");
    let again = plan(&(by_mass.to_document().to_string()), "Small");
    assert_eq!(again.recipe.package, by_mass.recipe.package);
    let again = plan(&(primed.to_document().to_string()), "Small");
    assert_eq!(again.recipe.package, primed.recipe.package);
}
