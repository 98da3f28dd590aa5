//! What trub and hops keep: by hand from litres per kilogram, and the batch delivered all the same.

use crate::brewing::{kg, l, near, plan, predicted_on};
use wortwright::process::{Assumption, Prediction, Warning};

/// 20 L of a malt beer in a small plant that states no losses but those of a test.
fn brewed(lines: &str, plant: &str) -> Prediction {
    let text = format!(
        "recipe Kept\nbatch 20 L into fermenter\nmash\n  5 kg pale ale malt\nboil 60 min\n{lines}\n\
         brewhouse Small\n  batch 20 L into fermenter\n  lauter bag\n  evaporation 3 L/h\n{plant}"
    );
    predicted_on(&text, "Small")
}

fn in_kettle(prediction: &Prediction) -> f64 {
    l(prediction.volumes.post_boil) - l(prediction.volumes.into_fermenter)
}

fn in_fermenter(prediction: &Prediction) -> f64 {
    l(prediction.volumes.after_additions) - l(prediction.volumes.racked)
}

/// 60 g in the kettle and 100 g in the beer, 5 kg of malt: 0.48 + 0.80 + 1.0 = 2.28 L by pellets (hops.md), and of cones 0.3 + 0.6.
#[test]
fn each_charge_keeps_what_its_form_does() {
    let of = |form: &str, more: &str| {
        let lines = format!(
            "  60 g perle, 8 % alpha{form} at 60 min\n{more}ferment\n  pitch ale yeast, attenuation 75 %\n  add 100 g saaz{form} on day 5\n"
        );
        brewed(&lines, "  fermenter loss 0 L\n")
    };
    let finings = "  2 g carrageenan at 10 min\n";
    for (form, more, kettle_l, beer_l) in [
        (", pellet", "", 0.48 + 1.0, 0.8),
        ("", "", 0.48 + 1.0, 0.8),
        (", whole", "", 0.30 + 1.0, 0.6),
        // A kilogram of fresh cones is a fifth of one dried.
        (", fresh", "", 0.06 + 1.0, 0.12),
        (", extract", "", 1.0, 0.0),
        (", pellet", finings, 0.48 + 2.0, 0.8),
    ] {
        let found = of(form, more);
        near(l(found.volumes.into_fermenter), 20.0, 1e-12, "batch");
        near(in_kettle(&found), kettle_l, 1e-9, form);
        // The beer is a little less than the wort: 20 L of 12 °P lose some 0.4 kg as gas and yeast.
        let lost_l = in_fermenter(&found) - beer_l;
        assert!((0.0..0.1).contains(&lost_l), "{form} {lost_l}");
        let assumed = found.assumptions.iter().map(|told| &told.what);
        let is_open = |what: &&Assumption| matches!(what, Assumption::HopsArePellets { .. });
        assert_eq!(
            assumed.filter(is_open).count(),
            usize::from(form.is_empty())
        );
    }
}

/// A stated loss holds trub and 2 g/L of hops: 60 g in 21 L and what is kept are 8 (0.060 − 0.002 V) more, V = 21 + that, so that
/// V = 21.48/1.016; 30 g are less than 2 g/L. A stated fermenter loss holds yeast and never dry hops.
#[test]
fn a_stated_loss_holds_the_usual_hops() {
    let of = |grams: u32| {
        let lines = format!(
            "  {grams} g perle, 8 % alpha, pellet at 60 min\nferment\n  pitch ale yeast, attenuation 75 %\n  add 100 g saaz, pellet on day 5\n"
        );
        brewed(&lines, "  kettle loss 1 L\n  fermenter loss 0.5 L\n")
    };
    let (many, few) = (of(60), of(30));
    near(l(many.volumes.post_boil), 21.48 / 1.016, 1e-9, "60 g");
    near(l(few.volumes.post_boil), 21.0, 1e-12, "30 g");
    for found in [many, few] {
        let lost_l = in_fermenter(&found) - 1.3;
        assert!((0.0..0.1).contains(&lost_l), "{lost_l}");
    }
}

/// Without a line a small plant's fermenter keeps 3 % with the yeast; above 2 hL the kettle's 3 % hold the trub of any malt.
#[test]
fn the_defaults_of_both_sizes() {
    let found = brewed("ferment\n  pitch ale yeast, attenuation 75 %\n", "");
    near(in_kettle(&found), 1.0, 1e-9, "trub");
    near(
        l(found.volumes.racked),
        0.97 * l(found.predicted.finished.unwrap()),
        1e-12,
        "3 %",
    );
    let text = "recipe Large\nbatch 20 hL into fermenter\nmash\n  400 kg pale ale malt\nboil 60 min\n  3 kg perle, 8 % alpha at 60 min\n";
    let large = predicted_on(
        &format!("{text}brewhouse Large\n  batch 20 hL into fermenter\n"),
        "Large",
    );
    near(l(large.volumes.post_boil), 2000.0 / 0.97, 1e-9, "3 %");
}

/// 20 oz of dry hops, 567 g of pellets at 8 L/kg, keep 1.2 gal of 5.
#[test]
fn dry_hops_leave_less_to_package() {
    let of = |ounces: u32| {
        let text = format!(
            "recipe Hazy\nbatch 5 gal into fermenter\nmash\n  12 lb pale ale malt\nboil 60 min\n  1 oz perle, 8 % alpha at 60 min\n\
             ferment\n  pitch ale yeast, attenuation 75 %\n  add {ounces} oz citra on day 5\nbrewhouse Home\n  batch 5 gal into fermenter\n"
        );
        l(predicted_on(&text, "Home").volumes.packaged)
    };
    near(of(1) - of(20), 19.0 * 0.028_349_523 * 8.0, 1e-7, "19 oz");
    // 18.93 L of wort, of which gas and yeast take some 0.06 L and the fermenter 3 %, less 0.567 kg at 8 L.
    assert!((of(20) - (18.87 * 0.97 - 4.536)).abs() < 0.1, "{}", of(20));
}

/// Coffee keeps 2 L/kg, nibs of cocoa 1, flakes of coconut 2; in the beer and in the kettle, where the batch is delivered all the same. An
/// extract of coffee is poured in whole, and cocoa powder is no nib.
#[test]
fn what_is_steeped_keeps_beer() {
    let beer = "ferment\n  pitch ale yeast, attenuation 75 %\n";
    let of = |lines: &str| brewed(&format!("{beer}{lines}"), "  fermenter loss 0 L\n");
    let plain = of("");
    for (line, litres) in [
        ("  add 200 g coffee on day 6\n", 0.4),
        ("  add 300 g cocoa nibs on day 6\n", 0.3),
        ("  add 500 g toasted coconut on day 6\n", 1.0),
        (
            "  add 200 g coffee on day 6\n  add 300 g cacao nibs on day 6\n",
            0.7,
        ),
        ("  add 5 g vanilla on day 6\n", 0.0),
    ] {
        let found = of(line);
        near(
            in_fermenter(&found) - in_fermenter(&plain),
            litres,
            1e-9,
            line,
        );
        let told = found.assumptions.iter().find_map(|told| match &told.what {
            Assumption::KeptBySteeped { kept, names, .. } => Some((l(*kept), names.len())),
            _ => None,
        });
        let lines = line.lines().count();
        assert_eq!(told.is_some(), litres > 0.0, "{line}");
        assert!(
            told.is_none_or(|(told_l, names)| (told_l - litres).abs() < 1e-9 && names == lines)
        );
    }
    let boiled = brewed(&format!("  200 g coffee at 5 min\n{beer}"), "");
    near(in_kettle(&boiled), 1.0 + 0.4, 1e-9, "kettle");
    near(l(boiled.volumes.into_fermenter), 20.0, 1e-12, "batch");
}

/// The plan delivers its batch wherever it is counted, with all that hops and trub keep of it; and a brew that is hopped more is
/// made larger.
#[test]
fn the_batch_is_delivered_all_the_same() {
    let of = |hops: &str, point: &str| {
        let text = format!(
            "recipe Kept\nbrewed on Big\nbatch 20 hL into fermenter\ntarget original 14 P\nmash\n  100 % pale ale malt\nboil 60 min\n\
             \x20 40 IBU perle, 8 % alpha at 60 min\n  {hops} saaz, 4 % alpha at 5 min\nferment\n  pitch ale yeast, attenuation 75 %\n\
             \x20 add {hops} cascade on day 4\n{}\nbrewhouse Small\n  batch 20 L {point}\n  lauter bag\n  evaporation 3 L/h\n",
            crate::brewing::BIG
        );
        plan(&text, "Small")
    };
    for (point, volume) in [
        ("into fermenter", 0),
        ("at end of boil", 1),
        ("packaged", 2),
    ] {
        let (few, many) = (of("1 g/L", point), of("6 g/L", point));
        for plan in [&few, &many] {
            let v = &plan.volumes;
            let filled = [v.into_fermenter, v.post_boil, v.packaged][volume];
            near(l(filled), 20.0, 1e-9, point);
            near(plan.predicted.original.unwrap().plato(), 14.0, 1e-9, point);
        }
        let water = |plan: &wortwright::scale::Plan| l(plan.volumes.total_water);
        assert_eq!(water(&many) > water(&few), point != "at end of boil");
    }
    let plan = of("6 g/L", "into fermenter");
    let all = plan.additions.iter().filter(|a| a.time_left.is_some());
    let hops_kg: f64 = all.filter_map(|a| a.mass).map(kg).sum();
    let malt_kg = kg(plan.additions[0].mass.unwrap());
    let kept_l = l(plan.volumes.post_boil) - l(plan.volumes.into_fermenter);
    near(kept_l, 0.2 * malt_kg + 8.0 * hops_kg, 1e-9, "kept");
}

/// 8 g/L of 4 % are 320 mg/L of alpha acids, more than boiling wort dissolves; 5 g/L are 200. Of what goes in first 250 mg/L dissolve, and
/// of the rest as much of its bitterness is predicted in vain; a hop of which none is predicted overstates nothing.
#[test]
fn more_alpha_acids_than_wort_dissolves_are_told() {
    let warned = |hops: &str| {
        let lines = format!("{hops}ferment\n  pitch ale yeast, attenuation 75 %\n");
        let found = brewed(&lines, "");
        let told = found.warnings.into_iter().find_map(|told| match told.what {
            Warning::HighHopping {
                alpha,
                of_undissolved,
                ..
            } => Some((alpha.milligrams_per_litre(), of_undissolved.ibu())),
            _ => None,
        });
        let ibu = found.predicted.wort_bitterness.unwrap().ibu();
        (told, l(found.volumes.post_boil), ibu)
    };
    let (told, wort_l, ibu) = warned("  200 g saaz, 4 % alpha at 60 min\n");
    let (alpha, overstated) = told.unwrap();
    near(alpha, 8000.0 / wort_l, 1e-9, "mg/L");
    near(overstated, ibu * (1.0 - 250.0 / alpha), 1e-9, "IBU");
    assert_eq!(warned("  100 g saaz, 4 % alpha at 60 min\n").0, None);
    // 200 mg/L for the whole boil and as much at its end, of which Tinseth predicts nothing.
    let bittered = "  100 g saaz, 4 % alpha at 60 min\n";
    assert_eq!(
        warned(&format!("{bittered}  100 g saaz, 4 % alpha at 0 min\n")).0,
        None
    );
    // In 20 min it gives six tenths of an hour's, two thirds of them of what does not dissolve: 0.65 · 0.61/1.61 is not a quarter of it all.
    assert_eq!(
        warned(&format!("{bittered}  100 g saaz, 4 % alpha at 20 min\n")).0,
        None
    );
    let late = warned(&format!("{bittered}  100 g saaz, 4 % alpha at 35 min\n"))
        .0
        .unwrap();
    near(late.0, 2.0 * 4000.0 / wort_l, 4.0, "mg/L");
}

/// Hops that drink all of the wort or of the beer are refused.
#[test]
fn hops_that_leave_nothing_are_refused() {
    let of = |lines: &str, point: &str| {
        let text = format!(
            "recipe Kept\nbatch 20 L {point}\ntarget original 12 P\nmash\n  100 % pale ale malt\nboil 60 min\n{lines}\
             brewhouse Small\n  batch 20 L {point}\n  lauter bag\n"
        );
        let job = wortwright::Job::read([("text", text.as_str())]).unwrap();
        job.on("Small").unwrap().predict().map(|_| ()).unwrap_err()
    };
    let kettle = of("  130 g/L perle, 8 % alpha at 60 min\n", "at end of boil");
    assert!(
        kettle.to_string().contains("trub and hops hold"),
        "{kettle}"
    );
    let dry = "ferment\n  pitch ale yeast, attenuation 75 %\n  add 3 kg saaz on day 5\n";
    let dry = of(dry, "into fermenter");
    assert!(dry.to_string().contains("dry hops hold 24 L"), "{dry}");
}

/// A pot of 30 L drives off 0.65 · 30^⅔ = 6.3 L/h at most without a word, one of 60 L 10 L/h, though that is a third of 20 L; 20 hL boil
/// hard above 15 %.
#[test]
fn a_hard_boil_is_judged_by_the_size_of_the_kettle() {
    let of = |batch: &str, lines: &str| {
        let malt = if batch.ends_with("hL") { 400 } else { 4 };
        let text = format!(
            "recipe Boiled\nbatch {batch} into fermenter\nmash\n  {malt} kg pale ale malt\nboil 60 min\nbrewhouse Pot\n  batch {batch} into fermenter\n{lines}"
        );
        let found = predicted_on(&text, "Pot");
        let mut told = found.warnings.iter();
        told.any(|told| matches!(told.what, Warning::HardBoil { .. }))
    };
    for (batch, lines, hard) in [
        ("20 L", "  kettle 30 L\n  evaporation 6.2 L/h\n", false),
        ("20 L", "  kettle 30 L\n  evaporation 6.4 L/h\n", true),
        ("20 L", "  kettle 60 L\n  evaporation 9.8 L/h\n", false),
        ("20 L", "  kettle 60 L\n  evaporation 10.1 L/h\n", true),
        (
            "20 L",
            "  kettle 30 L\n  evaporation 16 % per hour\n",
            false,
        ),
        ("20 hL", "  evaporation 14 % per hour\n", false),
        ("20 hL", "  evaporation 16 % per hour\n", true),
    ] {
        assert_eq!(of(batch, lines), hard, "{batch} {lines}");
    }
}
