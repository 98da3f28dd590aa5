//! Rows of the references that tables elsewhere in these tests do not hold: single figures of papers, trials and trade pages, each beside
//! what the model makes of it. What of the references is tested where, and what cannot be said, stands in `rows_read.csv`.

use crate::brewing::{l, predicted_on, weighed};
use crate::reference::rows;
use std::path::Path;
use wortwright::catalogue::{Catalogue, EntryRef};
use wortwright::process::{Prediction, Warning};
use wortwright::quantity::uom::si::{mass::kilogram, volume::liter};
use wortwright::quantity::{Attenuation, Extract, SpecificGravity, Volume};
use wortwright::science::density::extract_of;
use wortwright::science::liquid::Liquid;

static BUILT_IN: Catalogue = Catalogue::builtin();

#[track_caller]
fn near(found: f64, wanted: f64, room: f64, what: &str) {
    assert!(
        (found - wanted).abs() <= room,
        "{what}: {found} is not {wanted}"
    );
}

fn beer(original: &str, lines: &str, plant: &str) -> Prediction {
    let text = format!(
        "recipe Row\nbatch 20 L into fermenter\ntarget original {original} P\nmash\n  100 % pale ale malt\n{lines}brewhouse Pot\n  \
         batch 20 L into fermenter\n  extract yield 80 %\n  evaporation 2 L/h\n  kettle loss 0 L\n  fermenter loss 0 L\n{plant}"
    );
    predicted_on(&text, "Pot")
}

/// The share of its alpha acids that a hop leaves in the wort, by the model that a plant names.
fn share(original: &str, grams: f64, lines: &str, plant: &str) -> f64 {
    let found = beer(original, lines, plant);
    found.predicted.wort_bitterness.unwrap().ibu() * l(found.volumes.post_boil) / (grams * 50.0)
}

/// What a plant of 50 barrels measured into wort (Justus, MBAA TQ 2018 55 67-74, abstract and newsletter), less the 33.7 % that its cellar
/// lost, beside the model, which speaks of beer: a third more for an hour in red wort of 20.2 °P, half for 10 min. A Scottish wort gave
/// 58 % in 5 min and 64 in 60, which is more than any kinetics form. Nine times the dose used a third less (45.3 and 30.6 % at 13 °P); here
/// it uses as much, and is told where more alpha acids go in than dissolve.
#[test]
fn boils_of_a_measured_plant() {
    for (plato, minutes, into_wort, residual) in [
        ("20.2", 60, 0.20, 0.33),
        ("20.2", 10, 0.175, -0.47),
        ("13.8", 60, 0.64, -0.47),
        ("13.8", 5, 0.58, -0.89),
    ] {
        let lines = format!("boil 60 min\n  20 g saaz, pellet, 5 % alpha at {minutes} min\n");
        let of_beer = into_wort * (1.0 - 0.337);
        near(
            share(plato, 20.0, &lines, "") / of_beer - 1.0,
            residual,
            0.01,
            &lines,
        );
    }
    let dosed = |grams: f64| {
        let lines = format!("boil 60 min\n  {grams} g saaz, pellet, 5 % alpha at 60 min\n");
        share("13", grams, &lines, "")
    };
    let published: f64 = 30.6 / 45.3;
    near(
        dosed(91.2) / dosed(10.0) / published - 1.0,
        0.48,
        0.01,
        "4.56 and 0.50 g/L",
    );
}

/// The same plant's whirlpool used 29.9 %, 19.8 of them into beer: half an hour near boiling and 50 min through a plate, times that it does not
/// state, give 19.6 here, 20 min at 95 °C 14. Of a small stand a brewer reckons with 3 to 5 %, at no stated heat: 15 min at 80 °C and a coil
/// give 1.7, 20 min at 95 °C 7.7. A trade page has less than half of the dose isomerised in any kettle: 41 % at the most.
#[test]
fn stands_and_the_most_that_a_kettle_gives() {
    let stood = |stand: &str, cooled: &str| {
        let lines = format!("boil 60 min\nstand {stand}\n  20 g saaz, pellet, 5 % alpha\n");
        let plant = format!("  bitterness kinetic\n  cool to 20 C {cooled}\n");
        share("12", 20.0, &lines, &plant)
    };
    let of_beer = 0.299 * (1.0 - 0.337);
    let long = stood("30 min at 98 C", "through plate in 50 min");
    near(long / of_beer - 1.0, -0.01, 0.005, "whirlpool");
    let shorter = stood("20 min at 95 C", "through plate in 50 min");
    near(shorter / of_beer - 1.0, -0.29, 0.005, "shorter");
    let cool = stood("15 min at 80 C", "in 25 min by coil");
    let hot = stood("20 min at 95 C", "in 25 min by coil");
    assert!(cool < 0.03 && 0.05 < hot, "{cool} {hot}");
    let most = [60, 120, 150, 180, 240].map(|minutes| {
        let lines = format!("boil 240 min\n  20 g saaz, pellet, 5 % alpha at {minutes} min\n");
        share("5", 20.0, &lines, "  bitterness kinetic\n")
    });
    let most = most.into_iter().fold(0.0, f64::max);
    near(most, 0.41, 0.005, "most");
}

/// A double pale ale of 269 calculated IBU had 68 (a brewing magazine). Calculated so, it is told that all but 50 are of alpha acids that
/// do not dissolve: 18 too few, by a solubility of 250 mg/L (second hand); by 90 mg/L, which a thesis measured in buffer, it would be 18.
#[test]
fn a_double_pale_ale_of_more_bitterness_than_dissolves() {
    let lines = "boil 60 min\n  200 g columbus, pellet, 15 % alpha at 60 min\n";
    let found = beer("18", lines, "");
    let calculated = found.predicted.bitterness.unwrap().ibu();
    near(calculated, 269.0, 3.0, "calculated");
    let told = found.warnings.iter().find_map(|told| match told.what {
        Warning::HighHopping { of_undissolved, .. } => Some(of_undissolved.ibu()),
        _ => None,
    });
    near(calculated - told.unwrap() - 68.0, -18.5, 0.5, "left");
}

/// Trials of hop creep beside what is told, up to 0.7 % of alcohol in 5 days and 1.3 in 40: a lager went from 4.9 to 6.2 %, 1.3; its printed
/// fall from 1.014 to 1.007 is 0.92 by Balling and Tabarié, a third less than that. Bottles that came to 4.5 volumes for 3.0 made 1.5 of
/// the 2.7 that 0.7 % of alcohol are. Of hops at 2 g/L two cultivars raised the alcohol, two did not, one lowered it: from there it is told.
#[test]
fn hop_creep_against_trials() {
    let litre = Volume::new::<liter>(1.0);
    let wort = Liquid::wort(litre, Extract::from_plato(11.2).unwrap()).unwrap();
    let abv = |sg: f64| {
        let plato = extract_of(SpecificGravity::from_ratio(sg).unwrap());
        wort.fermented_to(plato)
            .unwrap()
            .alcohol_by_volume()
            .percent()
    };
    near(abv(1.014), 4.0, 0.1, "base");
    near(abv(1.007) - abv(1.014) - 1.3, -0.38, 0.02, "1.014 to 1.007");
    // 7.8924 g of ethanol in a litre for a per cent, 0.9551 g of gas for a gram of it, 1.97694 g a volume.
    let volumes = |abv: f64| abv * 7.8924 * 0.9551 / 1.97694;
    near(volumes(0.7), 2.7, 0.05, "volumes");
    assert!(1.5 < volumes(0.7));
    let told = |g_l: f64| {
        let lines = format!(
            "boil 60 min\nferment\n  pitch ale yeast\n  add {g_l} g/L cascade, pellet on day 5\n"
        );
        let found = beer("12", &lines, "");
        let mut told = found.warnings.iter();
        told.any(|told| matches!(told.what, Warning::HopCreep))
    };
    assert!(told(2.0) && !told(1.9));
}

/// Alpha acids of Bavarian gardens, means of three years, beside the middle of the catalogue's range, which stands in for a lot without a
/// figure: Hersbrucker, whose range of 2.5 to 6 was read elsewhere, is 42 % above. Of 13 means of one day all but one lie in the range.
#[test]
fn alpha_acids_against_three_crops() {
    let hop = |name: &str| match BUILT_IN.find(name).map(|found| found.entry) {
        Some(EntryRef::Hop(hop)) => Some(hop),
        _ => None,
    };
    let residuals = [0.11, 0.09, 0.05, 0.42, 0.06, 0.03];
    for (row, residual) in rows("hop_alpha_years.csv").iter().zip(residuals) {
        let name = row.text("cultivar");
        let years = ["2019_pct", "2023_pct", "2024_pct"].map(|year| row.number(year));
        let mean = years.iter().sum::<f64>() / 3.0;
        let middle = hop(name).unwrap().alpha().unwrap().percent();
        near(middle / mean - 1.0, residual, 0.01, name);
    }
    let days = rows("hop_alpha_spread.csv");
    let mut outside = Vec::new();
    for row in &days {
        let Some(hop) = hop(row.text("cultivar")) else {
            assert_eq!(row.text("cultivar"), "Titan");
            continue;
        };
        let (low, high) = hop.alpha_range.unwrap();
        let mean = row.number("mean_pct");
        if !(low.percent()..=high.percent()).contains(&mean) {
            outside.push((row.text("cultivar"), row.text("year")));
        }
    }
    assert_eq!(outside, [("Herkules", "2023")]);
}

/// A kilogram of concentrate and the water of the table come to its single strength and litres, by the crate's densities within their
/// digits. What the catalogue has of the concentrate is the trade's figure of the same table and no evidence.
#[test]
fn concentrates_are_thinned_as_their_table_says() {
    let mut known = 0;
    for row in rows("fruit_concentrates.csv") {
        let brix = row.number("brix_concentrate");
        let strong = Liquid::wort(
            Volume::new::<liter>(1.0),
            Extract::from_plato(brix).unwrap(),
        );
        let strong = strong.unwrap();
        let mass = strong.mass();
        let kg = mass.get::<kilogram>();
        let water = mass * row.number("water_kg_per_kg");
        let thin = strong.diluted(water).unwrap();
        let name = row.text("juice");
        near(
            thin.real_extract().plato(),
            row.number("brix_single"),
            0.03,
            name,
        );
        row.check_within("juice_l_per_l_conc", l(thin.volume()), 0.01);
        row.check_within("juice_l_per_kg_conc", l(thin.volume()) / kg, 0.01);
        let entry = BUILT_IN.find(&format!("{name} juice concentrate"));
        if let Some(EntryRef::Juice(juice)) = entry.map(|found| found.entry) {
            near(juice.extract.unwrap().plato(), brix, 1e-9, name);
            known += 1;
        }
    }
    assert_eq!(known, 13);
}

/// How much the sugars of one kind of fruit scatter between samples (USDA SR28): the median is the sigma that a plan takes. Water scatters by
/// 1.7 g in 100 g, for which a plan has no term.
#[test]
fn fruit_scatters_as_its_samples() {
    let median = |quantity: &str, column: &str| {
        let all = rows("fruit_spread.csv");
        let of = all.iter().filter(|row| row.text("quantity") == quantity);
        let mut all: Vec<f64> = of.map(|row| row.number(column)).collect();
        all.sort_by(f64::total_cmp);
        (all.len(), all[all.len() / 2])
    };
    // Fields of that table are parted by semicolons.
    let sigmas = wortwright_tests::files::read("tests/reference/uncertainty.csv");
    let row = sigmas
        .lines()
        .find(|row| row.starts_with("lot;sugars of fresh fruit;"));
    let sigma: f64 = row.unwrap().split(';').nth(4).unwrap().parse().unwrap();
    let (fruits, sugars) = median("total sugars", "cv_pct");
    assert_eq!(fruits, 17);
    near(sugars - sigma, 0.0, 0.5, "sugars");
    let (fruits, water) = median("water", "sd_g_100g");
    assert_eq!(fruits, 33);
    near(water, 1.7, 0.05, "water");
}

/// Litres that a kilogram of fruit leaves in the beer. Apples from a small water press give 0.67 to 0.75 and chopped ones, drained, 0.50:
/// the pulp's share was taken from those, which are no evidence. A belt press gives 0.75 (0.50 to 0.90), 7 % more than here; pomace is 20 to
/// 35 % of the apples, here 24, and 20 % of grapes, here 4: no stalks and skins are counted there.
#[test]
fn fruit_leaves_what_presses_leave() {
    let left = |fruit: &str| {
        let of = |add: &str| {
            beer(
                "12",
                &format!("boil 60 min\nferment\n  pitch ale yeast\n{add}"),
                "",
            )
        };
        let (without, with) = (of(""), of(&format!("  add 2 kg {fruit} on day 5\n")));
        let more = |of: fn(&Prediction) -> f64| (of(&with) - of(&without)) / 2.0;
        let mixed = more(|found| l(found.volumes.after_additions));
        let racked = more(|found| l(found.volumes.racked));
        (racked, 1.008 * (mixed - racked))
    };
    let (chopped_l, _) = left("apple, chopped");
    near(chopped_l, 0.50, 0.01, "chopped");
    let (pressed_l, kept_kg) = left("apple, pressed");
    near(pressed_l, 0.70, 0.03, "small press");
    near(pressed_l / 0.75 - 1.0, -0.07, 0.02, "belt press");
    near(kept_kg + 0.022, 0.24, 0.01, "pomace of apples");
    let (_, kept_kg) = left("table grape, pressed");
    near(kept_kg + 0.009 - 0.20, -0.16, 0.01, "pomace of grapes");
}

/// Attenuation of families by another table than the catalogue's, which wins; each within that table's range.
#[test]
fn yeasts_attenuate_near_their_other_table() {
    let known = [
        (
            "lager, Frohberg type (group II)",
            "high-attenuating lager yeast",
            1.0,
        ),
        ("lager, Saaz type (group I)", "saaz-type lager yeast", -3.0),
        (
            "ale, maltotriose-negative",
            "low-attenuating english ale yeast",
            0.0,
        ),
        (
            "saison and other diastatic (STA1)",
            "diastatic farmhouse ale yeast",
            -2.0,
        ),
        ("wine and champagne", "champagne yeast", -6.0),
        ("maltose-negative (low alcohol)", "low-alcohol yeast", 0.0),
    ];
    for row in rows("yeast_use_of_sugars.csv") {
        let own = known.iter().find(|(of, ..)| *of == row.text("family"));
        let (_, name, residual) = own.unwrap_or_else(|| panic!("{}", row.place()));
        let Some(EntryRef::Yeast(yeast)) = BUILT_IN.find(name).map(|found| found.entry) else {
            panic!("{name}")
        };
        let typical = yeast.attenuation.map(Attenuation::percent).unwrap();
        let of = |which: &str| row.number(&format!("apparent_attenuation_{which}_pct"));
        near(typical - of("typical"), *residual, 1e-9, name);
        assert!((of("min")..=of("max")).contains(&typical), "{name}");
    }
}

/// Sparge water as maltsters, makers and brewers want it, 76 to 78 °C and never above 80: on each kind of plant 77.
#[test]
fn sparge_water_is_as_warm_as_read() {
    let text = "recipe Sparge\nbatch 20 L into fermenter\ntarget original 12 P\nmash\n  100 % pale ale malt\n  rest 66 C for 60 min\nboil 60 min\n\
                brewhouse A\n  batch 20 L into fermenter\n  lauter bag, sparge 2 L\nbrewhouse B\n  batch 20 L into fermenter\n  \
                lauter batch, sparges 2\nbrewhouse C\n  batch 10 hL into fermenter\n  lauter continuous, yield 90 %\n";
    for plant in ["A", "B", "C"] {
        let sparge = weighed(text, plant).water.sparge.unwrap();
        assert!(
            (76.0..=78.0).contains(&sparge.celsius()),
            "{plant}: {sparge}"
        );
    }
}

/// What a sheet prints is done as printed, and told where it is hotter than any of them wants it.
#[test]
fn a_printed_sparge_above_80_is_told() {
    let told = |printed: &str, lauter: &str| {
        let text = format!(
            "recipe Sparge\nbatch 20 L into fermenter\ntarget original 12 P\nmash\n  100 % pale ale malt\n  rest 66 C for 60 min\n  sparge {printed}\n\
             boil 60 min\nbrewhouse A\n  batch 20 L into fermenter\n  lauter {lauter}\n"
        );
        let plan = weighed(&text, "A");
        let at = plan
            .water
            .sparge
            .map(wortwright::quantity::Temperature::celsius);
        let mut told = plan.warnings.iter();
        (
            at,
            told.any(|told| matches!(told.what, Warning::SpargeHot { .. })),
        )
    };
    assert_eq!(told("at 85 C", "batch, sparges 2"), (Some(85.0), true));
    assert_eq!(told("at 80 C", "batch, sparges 2"), (Some(80.0), false));
    assert_eq!(told("at 85 C", "bag"), (None, false));
}

/// The list of what is tested where names files that are there.
#[test]
fn every_table_of_the_references_has_its_place() {
    let mut read = 0.0;
    for row in rows("rows_read.csv") {
        for place in row
            .text("tested_in")
            .split(' ')
            .filter(|place| !place.is_empty())
        {
            let file = wortwright_tests::files::at(place);
            assert!(Path::new(&file).exists(), "{}: {place}", row.place());
        }
        assert!(!row.text("tested_in").is_empty() || !row.text("not_said").is_empty());
        read += row.number("rows_read");
    }
    near(read, 619.0, 1e-9, "rows");
}
