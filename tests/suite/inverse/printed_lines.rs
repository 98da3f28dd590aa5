//! What a sheet's lines come to in a brew: blends in every basis, packs, grist figures, and juice that may or may not ferment.

use crate::brewing::{
    BIG, addition, job, kg, l, mass, near, original, plan_on, predicted_on, volume,
};
use wortwright::diagnostic::TextRef;
use wortwright::notation::read;
use wortwright::process::{Figures, Prediction};
use wortwright::scale::Plan;
use wortwright_tests::fixtures::{changed, fixture};

const SMALL: &str = "  batch 10 L into fermenter\n  lauter bag\n  absorption 0.9 L/kg\n  evaporation 2 L/h\n  \
    kettle loss 0.5 L\n  fermenter loss 0 L";
const MALT: &str = "pale ale malt, extract 80 % dry, moisture 5 %";

fn sheet(fermentables: &str, boil: &str, ferment: &str) -> String {
    changed(
        &fixture("plain"),
        &[
            ("  100 % pale ale malt\n", fermentables),
            ("  # into the boil\n", boil),
            ("  # into the fermenter\n", ferment),
        ],
    )
}

fn plan(fermentables: &str, boil: &str, ferment: &str) -> Plan {
    plan_on(&sheet(fermentables, boil, ferment), SMALL)
}

fn predicted(fermentables: &str, boil: &str, ferment: &str) -> Prediction {
    let text = sheet(fermentables, boil, ferment) + BIG;
    predicted_on(&text, "Big")
}

fn pale() -> String {
    format!("  100 % {MALT}\n")
}

/// 60 % and 40 % of 50 kg, 40 L, 5 g/L, 20 mL/L and 10 % by volume. The fermenter holds 2000 L when they go in; a tenth by volume of
/// what is there afterwards is a ninth of what was there. 10 L get a two-hundredth of each.
#[test]
fn parts_of_a_blend_are_in_its_own_basis() {
    for (amount, unit, total) in [
        ("50 kg", 'k', 50.0),
        ("40 L", 'l', 40.0),
        ("5 g/L", 'k', 10.0),
        ("20 mL/L", 'l', 40.0),
        ("10 % by volume", 'l', 2000.0 / 9.0),
    ] {
        // At 11.9 °P next to nothing has fermented: yeast and gas have hardly left.
        let blend = format!(
            "  add {amount} when 11.9 P\n    60 % apple juice, 12 Bx\n    40 % plum juice, 13 Bx\n"
        );
        let plan = plan(&pale(), "", &blend);
        for (name, part) in [("apple juice", 0.6), ("plum juice", 0.4)] {
            let found = addition(&plan, name);
            let here = match unit {
                'k' => kg(found.mass.unwrap()),
                _ => l(found.volume.unwrap()),
            };
            near(
                200.0 * here,
                part * total,
                1e-3,
                &format!("{name} of {amount}"),
            );
        }
    }
}

/// Three packs of 20 L are 60 L, two of 25 kg are 50 kg; 10 L get a two-hundredth of what goes into 2000 L of the same beer.
#[test]
fn packs_are_what_they_hold() {
    let plan = plan(
        &pale(),
        "",
        "  add 3 x 20 L apple juice, 12 Bx when 6 P\n  add 2 x 25 kg sucrose when 4 P\n",
    );
    let juice = addition(&plan, "apple juice").volume.unwrap();
    near(200.0 * l(juice), 60.0, 1e-9, "juice");
    let sugar = addition(&plan, "sucrose").mass.unwrap();
    near(200.0 * kg(sugar), 50.0, 1e-9, "sugar");
}

/// 70 % of 300 WK and 30 % of 60 WK are 228 WK; sugar has none and is not asked.
#[test]
fn diastatic_power_is_the_mean_of_the_grain() {
    let grist = format!("  63 % {MALT}, 300 WK\n  27 % munich malt, 60 WK\n");
    let found = predicted(&grist, "  10 % sucrose at 10 min\n", "");
    near(
        found.predicted.diastatic_power.unwrap().windisch_kolbach(),
        228.0,
        1e-9,
        "power",
    );
}

/// Colour stays in the grain along with the extract: a bag that lauters worse takes more grain for the same wort, which is as
/// dark as the source's.
#[test]
fn a_plant_that_yields_less_makes_a_wort_of_the_same_colour() {
    let plan = plan(
        &format!("  90 % {MALT}\n  10 % caramel malt 150 EBC\n"),
        "",
        "",
    );
    let (there, here) = (&plan.source, &plan.predicted);
    let yields = [there, here].map(|f| f.extract_yield.unwrap().fraction());
    assert!(yields[1] < 0.95 * yields[0], "{yields:?}");
    near(
        here.wort_colour.unwrap().ebc(),
        there.wort_colour.unwrap().ebc(),
        1e-9,
        "colour",
    );
}

/// A mash of 90 kg and a syrup of 10 kg by weight, on a source that states no yield: the syrup's extract is all in the wort, the
/// malt's at the yield of its mash. On the other plant the syrup keeps its share of the extract.
#[test]
fn a_syrup_keeps_its_share_of_the_extract() {
    let text = sheet(
        &format!("  90 % {MALT}\n"),
        "  10 % unheard syrup, 75 % extract at 10 min\n",
        "",
    )
    .replace("brewed on Big", "brewed on Bag")
    .replace("20 hL", "20 L")
        + &fixture("inverse/bag");
    let job = job(&format!("{text}brewhouse Small\n{SMALL}\n"), "Small");
    let plan = job.exact();
    let malt = kg(addition(&plan, "pale ale malt").source_mass.unwrap());
    let syrup = kg(addition(&plan, "unheard syrup").source_mass.unwrap());
    near(syrup / malt, 1.0 / 9.0, 1e-9, "by weight");
    let share = |yielded: f64, malt: f64, syrup: f64| {
        let (malt, syrup) = (0.76 * yielded * malt, 0.75 * syrup);
        syrup / (malt + syrup)
    };
    let there = share(plan.source.extract_yield.unwrap().fraction(), malt, syrup);
    let here = share(
        plan.predicted.extract_yield.unwrap().fraction(),
        mass(&plan, "pale ale malt"),
        mass(&plan, "unheard syrup"),
    );
    near(here, there, 1e-9, "share of the extract");
    // ICUMSA: 12 °P is 1.04646 kg/L, 20 L hold 2.5115 kg.
    let extract = 0.76 * plan.source.extract_yield.unwrap().fraction() * malt + 0.75 * syrup;
    near(extract, 2.5115, 1e-4, "extract");
}

/// The same litres of syrup in each litre of a wort as strong: 20 L in the source's 2040 L are 0.103 L in 10.5 L at the end of the boil.
#[test]
fn a_syrup_in_litres_travels_too() {
    let text = sheet(
        &format!("  340 kg {MALT}\n"),
        "  20 L unheard syrup, 75 % extract at 10 min\n",
        "",
    );
    let plan = plan_on(&text, SMALL);
    let here_l = volume(&plan, "unheard syrup");
    near(here_l, 20.0 * 10.5 / 2040.0, 1e-9, "syrup");
    near(original(&plan), 12.0, 1e-9, "strength");
}

/// By hand: a tenth by volume of juice at 12 °Bx brings 0.1 · 1046.5 · 0.12 = 12.56 g/L. Where a fifth of it is taken not to ferment,
/// those 2.512 g/L would be 2.512/2.0665 = 1.215 g/L of ethanol, 0.154 % by volume (789.24 g/L). A gram a litre of sugar adds
/// 0.386 kg/m³ (ICUMSA), one of ethanol near 40 g/L takes 0.178 off (OIML R 22), and a degree Plato is 3.92 kg/m³ at 2 to 3 °P:
/// (2.512 · 0.386 + 1.215 · 0.178)/3.92 = 0.303 °P less in the end.
#[test]
fn juice_that_may_ferment_after_all_has_a_second_figure() {
    let juice = |share: &str| {
        predicted(
            &pale(),
            "",
            &format!("  add 10 % by volume when 5 P\n    100 % apple juice, 12 Bx, {share} % fermentable\n"),
        )
        .predicted
    };
    let partly = juice("80");
    let more =
        partly.alcohol_if_juice_ferments.unwrap().percent() - partly.alcohol.unwrap().percent();
    near(more, 0.154, 0.01, "alcohol");
    let drop =
        partly.final_extract.unwrap().plato() - partly.final_if_juice_ferments.unwrap().plato();
    near(drop, 0.303, 0.02, "final");
    // All of it fermented is all of it fermented, whoever foretold it.
    let fully = juice("100");
    near(
        fully.alcohol.unwrap().percent(),
        partly.alcohol_if_juice_ferments.unwrap().percent(),
        1e-9,
        "the same beer",
    );
    assert_eq!(fully.alcohol_if_juice_ferments, None);
}

/// By hand: nine tenths of the plain beer and 12.56 g/L of juice extract, which are 6.08 g/L of ethanol, 0.770 % by volume. The
/// two together take up as much room as apart to half a per cent.
#[test]
fn what_goes_into_the_fermenter_ferments() {
    let plain = predicted(&pale(), "", "").predicted;
    let juiced = predicted(
        &pale(),
        "",
        "  add 10 % by volume when 5 P\n    100 % apple juice, 12 Bx, 100 % fermentable\n",
    )
    .predicted;
    near(
        juiced.alcohol.unwrap().percent(),
        0.9 * plain.alcohol.unwrap().percent() + 0.770,
        0.006,
        "alcohol",
    );
}

/// Plato's table: 12 °P is 1.0484 and 3 °P is 1.0117 (20/20 °C).
#[test]
fn a_printed_sheet_is_shown_as_printed() {
    let text = "recipe Printed\nbatch 20 hL into fermenter\ntarget original 12 P, final 3 P, alcohol 4.8 %, bitterness 31 IBU, \
                colour 17 EBC, carbonation 5.1 g/L, wort final 2.5 P, wort bitterness 34 IBU, wort colour 18 EBC\n";
    let reading = read(&[TextRef::new("sheet", text)]);
    let shown = Figures::published(&reading.recipe.unwrap().targets);
    let plato = |extract: Option<wortwright::quantity::Extract>| extract.unwrap().plato();
    assert_eq!(plato(shown.original), 12.0);
    assert_eq!(plato(shown.final_extract), 3.0);
    assert_eq!(plato(shown.wort_final), 2.5);
    for (gravity, wanted) in [
        (shown.original_gravity, 1.0484),
        (shown.final_gravity, 1.0117),
    ] {
        assert!((gravity.unwrap().ratio() - wanted).abs() < 1e-4);
    }
    assert_eq!(shown.alcohol.unwrap().percent(), 4.8);
    assert_eq!(shown.bitterness.unwrap().ibu(), 31.0);
    assert_eq!(shown.colour.unwrap().ebc(), 17.0);
    assert_eq!(shown.wort_bitterness.unwrap().ibu(), 34.0);
    assert_eq!(shown.wort_colour.unwrap().ebc(), 18.0);
    assert_eq!(shown.carbonation.unwrap().grams_per_litre(), 5.1);
    // What no sheet prints stays open.
    assert_eq!(shown.diastatic_power, None);
    assert_eq!(shown.batch, None);
}
