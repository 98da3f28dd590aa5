//! The sheet of a plant with a water report: salts, acid, ions and mash pH, checked by hand calculation.

use crate::brewing::predicted_on;
use wortwright::catalogue::Catalogue;
use wortwright::diagnostic::TextRef;
use wortwright::job::Job;
use wortwright::notation::{Reading, read};
use wortwright::process::{Assumption, NoMashPh, Warning};
use wortwright::quantity::UnitSystem;
use wortwright::quantity::uom::si::{mass::gram, volume::liter, volume::milliliter};
use wortwright::recipe::Brewhouse;
use wortwright::scale::{LiquorPart, Outcome, Plan};
use wortwright::science::water::{Balance, Ion};
use wortwright::sheet::SheetOptions;
use wortwright::speech::Style;
use wortwright_tests::fixtures::{DEMO, DEMO_PLANT};

/// An invented tap water; its charges agree within 3 %.
const WATER: &str = "  water calcium 34 mg/L, magnesium 5 mg/L, sodium 12 mg/L, sulphate 28 mg/L, chloride 20 mg/L, alkalinity 75 mg/L, pH 7.6\n";

fn with_water(recipe: &str, water: &str) -> Plan {
    let plant = DEMO_PLANT.replace("  weigh malt", &format!("{water}  weigh malt"));
    let reading = read(&[
        TextRef::new("saltmarsh-lantern.gyle", recipe),
        TextRef::new("stove-top.gyle", &plant),
    ]);
    assert!(reading.is_usable(), "{:#?}", reading.diagnostics);
    plan(&reading)
}

fn plan(reading: &Reading<'_>) -> Plan {
    let job = Job::from_reading(
        reading.clone(),
        [] as [TextRef<'_>; 0],
        &Catalogue::builtin(),
    )
    .unwrap();
    job.on("Stove top").unwrap().plan().unwrap()
}

/// The column of an ion: of the water, as wanted, and after salts with its flag.
pub(super) fn column(sheet: &str, ion: &str) -> [String; 3] {
    let cells = |row: &str| -> Vec<String> {
        let mut lines = sheet
            .lines()
            .filter_map(|line| line.trim_start().strip_prefix(row));
        let line = lines
            .next()
            .unwrap_or_else(|| panic!("no `{row}` on\n{sheet}"));
        // A flag belongs to the figure before it.
        let line = line.replace(" high", "_high").replace(" low", "_low");
        line.split_whitespace()
            .map(|cell| cell.replace('_', " "))
            .collect()
    };
    let at = cells("Mash water, mg/L")
        .iter()
        .position(|name| name == ion);
    let at = at.unwrap_or_else(|| panic!("no {ion} on\n{sheet}"));
    ["your water", "target", "after salts, before acid"].map(|row| cells(row)[at].clone())
}

fn grams(plan: &Plan, name: &str, part: LiquorPart) -> f64 {
    plan.water
        .additions
        .iter()
        .filter(|a| a.name == name && a.into == part)
        .map(|a| a.mass.get::<gram>())
        .sum()
}

#[test]
fn the_demo_on_a_plant_that_knows_its_water() {
    let plan = with_water(DEMO, WATER);
    insta::assert_snapshot!(plan.sheet(&SheetOptions::default()));
}

/// Molar masses by IUPAC (2021), abridged: gypsum 172.164, calcium chloride dihydrate 147.008, magnesium sulphate
/// heptahydrate 246.466, Ca 40.078, Mg 24.305, sulphate 96.056, Cl 35.45.
#[test]
fn ions_on_the_sheet_follow_from_its_grams_by_molar_masses() {
    let plan = with_water(DEMO, WATER);
    let sheet = plan.sheet(&SheetOptions::default());
    let litres = plan.volumes.mash_water.get::<liter>();
    let gypsum = grams(&plan, "calcium sulphate dihydrate", LiquorPart::Mash);
    let chloride = grams(&plan, "calcium chloride dihydrate", LiquorPart::Mash);
    let magnesium = grams(&plan, "magnesium sulphate heptahydrate", LiquorPart::Mash);
    assert!(gypsum > 0.5 && chloride > 0.3, "{gypsum} {chloride}");
    for (name, mass) in [
        ("calcium sulphate dihydrate", gypsum),
        ("calcium chloride dihydrate", chloride),
        ("magnesium sulphate heptahydrate", magnesium),
    ] {
        // A tenth of a gram is what the plant's scale shows.
        let line = format!("{mass:.1} g  {name} into the mash water");
        assert!(sheet.contains(&line), "{line}: {sheet}");
    }
    let per_litre = |mass: f64, of: f64, in_salt: f64| 1000.0 * mass / litres * of / in_salt;
    let calcium = 34.0 + per_litre(gypsum, 40.078, 172.164) + per_litre(chloride, 40.078, 147.008);
    let sulphate =
        28.0 + per_litre(gypsum, 96.056, 172.164) + per_litre(magnesium, 96.056, 246.466);
    let chlorine = 20.0 + per_litre(chloride, 2.0 * 35.45, 147.008);
    for (ion, own, wanted, by_hand) in [
        ("calcium", "34", "60", calcium),
        ("sulphate", "28", "70", sulphate),
        ("chloride", "20", "45", chlorine),
        (
            "magnesium",
            "5",
            "-",
            5.0 + per_litre(magnesium, 24.305, 246.466),
        ),
    ] {
        let cells = column(&sheet, ion);
        assert_eq!(cells[..2], [own, wanted], "{sheet}");
        let printed: f64 = cells[2].parse().unwrap();
        // Printed to 0.1 mg/L; the catalogue's yields are rounded to 0.1 mg/g.
        assert!(
            (printed - by_hand).abs() < 0.1,
            "{ion}: {printed} {by_hand}"
        );
        // A tenth of a gram in 12 L is 5 mg/L of sulphate: no wish is missed by more.
        if let Ok(wish) = wanted.parse::<f64>() {
            assert!((by_hand - wish).abs() < 6.0, "{ion}: {by_hand}");
        }
    }
    // No salt takes alkalinity away; acid does, and with the mash pH met nothing is missed.
    assert_eq!(column(&sheet, "alkalinity"), ["75", "15", "75"], "{sheet}");
    let missed = |o: &Outcome| matches!(o, Outcome::IonsMissed { .. });
    assert!(!plan.outcomes.iter().any(|o| missed(&o.what)), "{sheet}");
    // Sparge water gets its own, a tenth as much.
    assert!(grams(&plan, "calcium sulphate dihydrate", LiquorPart::Sparge) > 0.0);
    assert!(sheet.contains(" g into the sparge"), "{sheet}");
}

#[test]
fn acid_is_measured_in_millilitres_and_comes_with_its_care() {
    let plan = with_water(DEMO, WATER);
    let sheet = plan.sheet(&SheetOptions::default());
    let acid = plan
        .water
        .additions
        .iter()
        .find(|a| a.name == "lactic acid 88 %")
        .expect("acid for pH 5.35");
    // 1.206 g/mL.
    let ml = acid.volume.unwrap().get::<milliliter>();
    assert!((ml - acid.mass.get::<gram>() / 1.206).abs() < 1e-9);
    let text: String = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains(&format!("{ml:.1} mL lactic acid 88 % (")),
        "{sheet}"
    );
    assert!(text.contains("goggles, gloves, acid into water, never water into acid"));
    let ph = plan.predicted.mash_ph.unwrap().value();
    // A tenth of a gram is 0.95 mEq in 1.9 kg of grain: 0.013 of a pH.
    assert!((ph - 5.35).abs() < 0.01, "{ph}");
    let uncertainty = plan.predicted.mash_ph_uncertainty.unwrap().value();
    assert!(
        text.contains(&format!(
            "room temperature {ph:.2} ± {uncertainty:.2} measured"
        )),
        "{sheet}"
    );
    // Every practice measures it so.
    let us = plan.sheet(&SheetOptions::default().with_style(Style::customary(UnitSystem::Us)));
    assert!(us.contains(" mL  lactic acid"), "{us}");
}

#[test]
fn wishes_that_no_water_can_have_are_said_with_or_without_a_report() {
    let wanted = "calcium 60 mg/L, sulphate 70 mg/L, chloride 45 mg/L, alkalinity 15 mg/L";
    let impossible = DEMO.replace(
        wanted,
        "calcium 200 mg/L, sulphate 20 mg/L, chloride 20 mg/L, alkalinity 20 mg/L",
    );
    assert_ne!(impossible, DEMO);
    for water in [WATER, ""] {
        let plan = with_water(&impossible, water);
        // By hand: 200/20.039 - 20/48.028 - 20/35.45 - 20/50.043 = 8.600 mEq/L.
        let excess = plan.warnings.iter().find_map(|w| match &w.what {
            Warning::IonsUnbalanced { excess } => Some(excess.milliequivalents_per_litre()),
            _ => None,
        });
        assert!((excess.unwrap() - 8.600).abs() < 1e-3, "{excess:?}");
        assert!(matches!(
            plan.water.balance,
            Some(Balance::Impossible { .. })
        ));
        let sheet = plan.sheet(&SheetOptions::default());
        assert!(sheet.contains("water profile does not balance"), "{sheet}");
        let sane = with_water(DEMO, water);
        assert_eq!(sane.water.balance, Some(Balance::Balanced));
        assert!(
            !sane
                .sheet(&SheetOptions::default())
                .contains("does not balance")
        );
    }
}

#[test]
fn a_missing_report_is_an_assumption_on_the_sheet() {
    let plan = with_water(DEMO, "");
    assert!(plan.assumptions.iter().any(|a| matches!(
        &a.what,
        Assumption::MashPhNotPredicted {
            because: NoMashPh::NoWaterReport,
            ..
        }
    )));
    let sheet = plan.sheet(&SheetOptions::default());
    assert!(
        sheet.contains("Target water profile, mg/L: calcium 60,"),
        "{sheet}"
    );
    assert!(
        !sheet.contains("after salts") && !sheet.contains("lactic acid 88 % ("),
        "{sheet}"
    );
}

#[test]
fn a_plan_written_down_keeps_its_salts_and_acid() {
    let plan = with_water(DEMO, WATER);
    let text = plan.to_document().to_string();
    let again = read(&[TextRef::new("plan", &text)]);
    assert!(again.is_usable(), "{:#?}\n{text}", again.diagnostics);
    assert_eq!(again.documents[0].to_string(), text);
    let recipe = again.recipe.as_ref().unwrap();
    let plant = Brewhouse::find("Stove top", &again.brewhouses).unwrap();
    assert_eq!(plant.water, plan.brewhouse.water);
    assert_eq!(recipe.water, plan.recipe.water);
    assert_eq!(recipe.mash.ph, plan.recipe.mash.ph);
    let in_mash = plan
        .water
        .additions
        .iter()
        .filter(|a| a.into == LiquorPart::Mash)
        .count();
    assert!(in_mash >= 3);
    assert_eq!(
        recipe.mash.additions.len(),
        plan.recipe.mash.additions.len() + in_mash
    );
    // What is read predicts what was planned; the batch is written with four digits.
    let predicted = predicted_on(&text, &plan.brewhouse.name).predicted;
    let (ours, theirs) = (plan.predicted.mash_ph.unwrap(), predicted.mash_ph.unwrap());
    assert!(
        (ours.value() - theirs.value()).abs() < 0.005,
        "{ours:?} {theirs:?}\n{text}"
    );
}

/// Water reports print milligrams a litre (parts per million) in the United States too.
#[test]
fn ions_are_said_in_milligrams_a_litre_in_every_practice() {
    let plan = with_water(DEMO, WATER);
    let us = Style::customary(UnitSystem::Us);
    let sheet = plan.sheet(&SheetOptions::default().with_style(us));
    assert!(
        sheet.contains("salts change, in mg/L, calcium from 34 to"),
        "{sheet}"
    );
    assert!(!sheet.contains("(wanted 0.0"), "{sheet}");
}

/// Sparge water of pH 7.6 draws tannin, one of pH 5.6 does not; a plant that does not say is not told.
#[test]
fn sparge_water_above_ph_5_8_is_told() {
    let told = |water: &str| {
        let plan = with_water(DEMO, water);
        let mut warnings = plan.warnings.iter();
        warnings.any(|told| matches!(told.what, Warning::SpargeWaterPh { .. }))
    };
    assert!(told(WATER));
    assert!(!told(&WATER.replace("pH 7.6", "pH 5.6")));
    assert!(!told(&WATER.replace(", pH 7.6", "")));
}

/// Without an acid in the shop the alkalinity stays, and with it the mash pH.
#[test]
fn an_alkalinity_that_no_acid_makes_up_for_is_missed() {
    let stock = format!("{DEMO_PLANT}\n  none lactic acid 88 %\n");
    let plant = stock.replace("  weigh malt", &format!("{WATER}  weigh malt"));
    let job = Job::read([("beer", DEMO), ("home", plant.as_str())]).unwrap();
    let plan = job.on("Stove top").unwrap().plan().unwrap();
    let sheet = plan.sheet(&SheetOptions::default());
    assert_eq!(
        column(&sheet, "alkalinity"),
        ["75", "15", "75 high"],
        "{sheet}"
    );
    let is_missed = |o: &Outcome| matches!(o, Outcome::IonsMissed { missed } if missed.len() == 1 && missed[0].ion == Ion::Alkalinity);
    assert!(plan.outcomes.iter().any(|o| is_missed(&o.what)), "{sheet}");
}
