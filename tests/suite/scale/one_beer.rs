//! One beer has one set of figures: those of a plan are those of its own text read again, and two lines of one thing are one
//! line of their sum.

use crate::brewing::{BIG, Numbers, job, l, mass, near, plan, plan_on, predicted_on};
use serde_json::Value;
use wortwright::scale::{Drift, Plan, WeighOut};

/// A recipe of shares, its plants and a target of any kind.
fn beer(numbers: &mut Numbers) -> String {
    let n = numbers;
    let caramel = n.between(2.0, 15.0).round();
    let sugar = n.one_of(&["0", "0", "8", "15"]).parse::<f64>().unwrap();
    let base = 100.0 - caramel - sugar;
    let kettle = match sugar {
        0.0 => String::new(),
        share => format!(
            "  {share} % {} at 10 min\n",
            n.one_of(&["sucrose", "honey"])
        ),
    };
    let targets = n.one_of(&[
        ", final 3 P, alcohol 6.1 %, colour 24 EBC",
        ", final 2.4 P",
        ", wort final 3.1 P",
        ", bitterness 35 IBU, alcohol 5 %",
        "",
    ]);
    let late = n.one_of(&[
        "",
        "stand 20 min at 85 C\n  60 g/hL saaz, 4 % alpha for 20 min\n",
        "stand 40 min at 95 C\n",
        "stand 30 min\ncool to 75 C in 10 min\nstand 25 min at 75 C\n  50 g/hL saaz, 4 % alpha for 25 min\n",
    ]);
    let later = n.one_of(&[
        "",
        "  add 10 % by volume when 6 P\n    60 % apple juice, 12 Bx\n    40 % plum juice, 14 Bx\n",
        "  add 3 % by volume apple juice, 12 Bx when 7 P\n  add 4 % by volume plum juice, 14 Bx when 7 P\n",
        "  add 20 g/L honey on day 5\n",
        "  add 3 g/L saaz, 4 % alpha on day 5 for 3 days\n",
    ]);
    let lauter = n.one_of(&[
        "lauter bag",
        "lauter bag, sparge 2 L",
        "lauter batch, sparges 2",
        "lauter continuous, yield 85 %",
        "extract yield 70 % of grist in fermenter",
    ]);
    let rest = n.one_of(&[
        "",
        "  kettle 22 L\n",
        "  bitterness kinetic\n  stand 15 min\n  altitude 1500 m\n",
        "  bitterness kinetic\n  cool to 18 C in 40 min by coil\n",
        "  mash tun 11 L\n",
    ]);
    let point = n.one_of(&["into fermenter", "at end of boil", "packaged"]);
    format!(
        "recipe Any\nbrewed on Big\nbatch 20 hL into fermenter\ntarget original {:.1} P{targets}\nmash\n  {base} % pale ale malt\n  \
         {caramel} % caramel malt 150 EBC\n  rest 66 C for 60 min\nboil 75 min\n{kettle}  20 IBU perle, 8 % alpha at 60 min\n  \
         90 g/hL saaz, 4 % alpha at 10 min\n{late}ferment\n  pitch ale yeast, attenuation {:.0} %\n{later}{BIG}\n\
         brewhouse Small\n  batch {:.2} L {point}\n  {lauter}\n  absorption {:.2} L/kg\n  evaporation {:.1} L/h\n  \
         kettle loss {:.2} L\n  fermenter loss {:.2} L\n{rest}  weigh malt {:.0} g, hops {:.1} g\n",
        n.between(8.0, 22.0),
        n.between(68.0, 84.0),
        n.between(5.0, 25.0),
        n.between(0.5, 1.1),
        n.between(1.0, 3.0),
        n.between(0.0, 1.0),
        n.between(0.0, 1.0),
        n.between(1.0, 50.0),
        n.between(0.1, 2.0),
    )
}

/// Carbon dioxide and the pH of the mash are worked out by a plan alone.
const PLAN_ONLY: [&str; 3] = ["carbonation_g_l", "mash_ph", "mash_ph_uncertainty"];

/// Every figure of a plan beside that of its own text, read again.
pub(crate) fn pairs(plan: &Plan) -> Vec<(String, f64, f64)> {
    let text = plan.to_document().to_string();
    let again = predicted_on(&text, &plan.brewhouse.name);
    let fields = |figures: &Value, volumes: &Value| -> Vec<(String, f64)> {
        let both = [figures, volumes].map(|part| part.as_object().unwrap().clone());
        let all = both.into_iter().flatten();
        let known = all.filter(|(name, _)| !PLAN_ONLY.contains(&name.as_str()));
        known
            .map(|(name, value)| (name, value.as_f64().unwrap()))
            .collect()
    };
    let json = |value| serde_json::to_value(value).unwrap();
    let planned = fields(
        &json(&plan.predicted),
        &serde_json::to_value(&plan.volumes).unwrap(),
    );
    let read = fields(
        &json(&again.predicted),
        &serde_json::to_value(&again.volumes).unwrap(),
    );
    let names =
        |fields: &[(String, f64)]| fields.iter().map(|(n, _)| n.clone()).collect::<Vec<_>>();
    assert_eq!(names(&planned), names(&read), "{text}");
    let both = planned.into_iter().zip(read);
    both.map(|((name, planned), (_, read))| (name, planned, read))
        .collect()
}

#[test]
fn a_plan_and_its_own_text_are_one_beer() {
    let mut numbers = Numbers(2024);
    let mut stopped = 0;
    for _ in 0..120 {
        let text = beer(&mut numbers);
        let job = job(&text, "Small");
        for (weigh_out, part) in [
            // Amounts and gravity of a text that a machine reads have 12 digits; an apparent extract near zero is a
            // difference of two figures of some 20.
            (WeighOut::Exact, 1e-6),
            // What somebody weighs is written with four digits: half a digit of 1000 of a hop, and as much of the gravity
            // and of what it meets.
            (WeighOut::Rounded, 1.5e-3),
        ] {
            let plan = match job.scaled(weigh_out) {
                Ok(plan) => plan,
                Err(error) => panic!("{error}\n{text}"),
            };
            stopped += usize::from(!plan.outcomes.is_empty());
            for (name, planned, read) in pairs(&plan) {
                // A volume that is the difference of others is as good as the whole.
                let scale = match name.rsplit('_').next() {
                    Some("plato") => 10.0,
                    Some("l") => l(plan.volumes.total_water),
                    _ => 0.0,
                };
                let room = part * planned.abs().max(scale);
                assert!(
                    (planned - read).abs() <= room,
                    "{name}: planned {planned}, read again {read}\n{text}\n{}",
                    plan.to_document()
                );
            }
        }
    }
    // Among them are worts that a plant cannot reach.
    assert!(stopped > 20, "{stopped}");
}

/// Every figure of two texts that mean the same beer.
fn same_beer(one: &str, other: &str) {
    let small =
        "  batch 10 L into fermenter\n  lauter bag\n  absorption 0.8 L/kg\n  evaporation 2 L/h\n";
    let [one, other] = [one, other].map(|text| plan_on(text, small));
    let json = |plan: &Plan| serde_json::to_value(&plan.predicted).unwrap();
    let (a, b) = (json(&one), json(&other));
    for (name, value) in a.as_object().unwrap() {
        near(
            value.as_f64().unwrap(),
            b[name].as_f64().unwrap(),
            1e-9,
            name,
        );
    }
    for (a, b) in [
        (one.volumes.packaged, other.volumes.packaged),
        (one.volumes.after_additions, other.volumes.after_additions),
        (one.volumes.mash_water, other.volumes.mash_water),
    ] {
        near(l(a), l(b), 1e-9, "volume");
    }
}

fn with(mash: &str, boil: &str, ferment: &str) -> String {
    format!(
        "recipe Lines\nbrewed on Big\nbatch 20 hL into fermenter\ntarget original 14 P, final 3 P, bitterness 30 IBU\nmash\n{mash}boil 60 min\n\
         {boil}ferment\n  pitch ale yeast\n{ferment}"
    )
}

#[test]
fn two_lines_of_one_thing_are_one_line_of_both() {
    const MALT: &str = "  100 % pale ale malt\n";
    const HOP: &str = "  30 IBU perle, 8 % alpha at 60 min\n";
    let whole = |later: &str| with(MALT, HOP, later);
    for (two, one) in [
        (
            with("  60 % pale ale malt\n  40 % pale ale malt\n", HOP, ""),
            whole(""),
        ),
        (
            with(
                MALT,
                "  12 IBU perle, 8 % alpha at 60 min\n  18 IBU perle, 8 % alpha at 60 min\n",
                "",
            ),
            whole(""),
        ),
        (
            whole(
                "  add 5 % by volume apple juice, 12 Bx when 8 P\n  add 7 % by volume apple juice, 12 Bx when 8 P\n",
            ),
            whole("  add 12 % by volume apple juice, 12 Bx when 8 P\n"),
        ),
        (
            whole(
                "  add 1 hL apple juice, 12 Bx when 8 P\n  add 2 hL apple juice, 12 Bx when 8 P\n",
            ),
            whole("  add 3 hL apple juice, 12 Bx when 8 P\n"),
        ),
        (
            whole("  add 10 g/L honey on day 4\n  add 15 g/L honey on day 4\n"),
            whole("  add 25 g/L honey on day 4\n"),
        ),
        (
            whole(
                "  add 5 % by volume apple juice, 12 Bx\n  add 7 % by volume apple juice, 12 Bx\n",
            ),
            whole("  add 12 % by volume apple juice, 12 Bx\n"),
        ),
    ] {
        same_beer(&two, &one);
    }
}

/// By hand: two shares of a volume that go in at once are shares of what there is then, 5 L and 7 L of 100 with 88 of beer.
#[test]
fn shares_of_a_volume_that_go_in_at_once_are_of_the_whole() {
    let text = with(
        "  100 % pale ale malt\n",
        "  30 IBU perle, 8 % alpha at 60 min\n",
        "  add 5 % by volume apple juice, 12 Bx when 8 P\n  add 7 % by volume plum juice, 14 Bx when 8 P\n",
    );
    let plan = plan_on(&text, "  batch 88 L into fermenter\n  lauter bag\n");
    let litres = |name| crate::brewing::volume(&plan, name);
    near(
        litres("apple juice") / litres("plum juice"),
        5.0 / 7.0,
        1e-9,
        "ratio",
    );
    // Beer that has fermented to 8 °P is a little less than the wort.
    near(litres("apple juice"), 5.0, 5e-3, "apple juice");
    let full = text
        .replace("5 % by volume", "55 % by volume")
        .replace("7 % by volume", "45 % by volume");
    let error = job(
        &format!("{full}\n{BIG}\nbrewhouse Small\n  batch 88 L into fermenter\n"),
        "Small",
    );
    let error = error.scaled(WeighOut::Exact).unwrap_err();
    assert!(error.message().contains("100 % of the volume"), "{error}");
}

/// The colour of a plan is what Morey's relation gives for the units that run off, by hand: 1.4922 MCU^0.6859 with MCU in
/// pounds x °Lovibond per US gallon (8.3454 kg/L), °L = (EBC + 1.2)/2.65, 25/12.7 EBC for one SRM, and the share of the
/// grist's extract in the wort over the 0.75 of Morey's day.
#[test]
fn one_colour_law_for_plan_prediction_and_text() {
    let text = with(
        "  92 % pale ale malt, 5.5 EBC\n  8 % caramel malt 150 EBC, 150 EBC\n",
        "  30 IBU perle, 8 % alpha at 60 min\n",
        "",
    );
    // Two plants that lauter unlike each other, and the sheet's own.
    let colour = |units: f64, reached: f64, wort_l: f64| {
        25.0 / 12.7 * 1.4922 * (8.345_404 * units * reached / 0.75 / wort_l).powf(0.6859)
    };
    let mut colours = Vec::new();
    for lauter in [
        "lauter bag\n  absorption 1.4 L/kg",
        "lauter batch, sparges 3",
    ] {
        let plan = plan_on(&text, &format!("  batch 20 L into fermenter\n  {lauter}\n"));
        let units = mass(&plan, "pale ale malt") * (5.5 + 1.2) / 2.65
            + mass(&plan, "caramel malt 150 EBC") * (150.0 + 1.2) / 2.65;
        let reached = plan.predicted.extract_yield.unwrap().fraction();
        let wort_l = l(plan.volumes.post_boil);
        let planned = plan.predicted.wort_colour.unwrap().ebc();
        near(
            planned,
            colour(units, reached, wort_l),
            1e-4,
            "colour by hand",
        );
        let again = predicted_on(&plan.to_document().to_string(), "Small");
        near(
            again.predicted.wort_colour.unwrap().ebc(),
            planned,
            1e-6,
            "the text's",
        );
        // A grist that lauters worse is larger and leaves as much more of its colour in the grain.
        near(
            plan.source.wort_colour.unwrap().ebc(),
            planned,
            1e-6,
            "the source's",
        );
        colours.push(planned);
    }
    near(colours[0], colours[1], 1e-9, "whatever the plant");
}

/// 12.5 g of either hop in place of one stay in proportion, where the first alone was to close the gap.
#[test]
fn hops_that_go_in_together_close_the_gap_together() {
    let text = with(
        "  100 % pale ale malt\n",
        "  100 g/hL perle, 8 % alpha at 60 min\n  100 g/hL saaz, 4 % alpha at 60 min\n  90 g/hL saaz, 4 % alpha at 10 min\n",
        "",
    );
    let plan = plan_on(
        &text,
        "  batch 20 L into fermenter\n  lauter bag\n  evaporation 4 L/h\n",
    );
    let saaz = plan.additions.iter().find(|a| a.name == "saaz").unwrap();
    near(
        crate::brewing::kg(saaz.mass.unwrap()),
        mass(&plan, "perle"),
        1e-9,
        "one factor",
    );
    near(
        plan.predicted.bitterness.unwrap().ibu(),
        plan.source.bitterness.unwrap().ibu(),
        1e-9,
        "bitterness",
    );
}

/// 25 g of black malt on a scale of 100 g, and a spice of 4 g on one of 10 g: the colour and the amounts are told.
#[test]
fn a_scale_too_coarse_is_told() {
    let text = format!(
        "{}{BIG}\nbrewhouse Small\n  batch 8 L into fermenter\n  lauter bag\n  weigh malt 100 g, hops 10 g, salts 1 g\n",
        with(
            "  98.7 % pale ale malt, 5 EBC\n  1.3 % black malt, 1300 EBC\n",
            "  30 IBU perle, 8 % alpha at 60 min\n  50 g/hL coriander seed at 5 min\n",
            "",
        )
    );
    let job = job(&text, "Small");
    let (exact, plan) = (job.exact(), job.scaled(WeighOut::Rounded).unwrap());
    near(mass(&plan, "black malt"), 0.1, 1e-9, "one step");
    let ebc = |plan: &Plan| plan.predicted.colour.unwrap().ebc();
    assert!(
        ebc(&plan) > 1.5 * ebc(&exact),
        "{} {}",
        ebc(&plan),
        ebc(&exact)
    );
    let colour = plan.drift.iter().find_map(|drift| match drift {
        Drift::Colour { exact, weighed } => Some((exact.ebc(), weighed.ebc())),
        _ => None,
    });
    let (told_exact, told_weighed) = colour.unwrap();
    near(told_exact, ebc(&exact), 1e-9, "as computed");
    near(told_weighed, ebc(&plan), 1e-9, "as weighed out");
    let amounts = plan.drift.iter().filter_map(|drift| match drift {
        Drift::Amount { name, .. } => Some(name.as_str()),
        _ => None,
    });
    let amounts: Vec<_> = amounts.collect();
    assert!(
        amounts.contains(&"black malt") && amounts.contains(&"coriander seed"),
        "{amounts:?}"
    );
    assert!(!amounts.contains(&"pale ale malt"), "{amounts:?}");
    // On a fine scale nothing of the kind is said.
    let fine = text.replace(
        "malt 100 g, hops 10 g, salts 1 g",
        "malt 1 g, hops 0.1 g, salts 0.1 g",
    );
    let fine = self::plan(&fine, "Small");
    assert!(fine.drift.is_empty(), "{:?}", fine.drift);
}

/// Water that makes up the wort is counted alike when the sheet is read and when the plan is made: how far the mash ferments, and what
/// the kettle keeps of a wort that is not thinned, wherever the batch is counted. And a model of bitterness that the sheet's plant chose
/// stands in the text, where hops that stand would have another one.
#[test]
fn what_the_sheets_plant_and_its_water_decide_stands_in_the_text() {
    let works = "brewhouse Works\n  extract yield 85 %\n  kettle loss 1 L\n  bitterness tinseth\n";
    for point in ["into fermenter", "at end of boil", "packaged"] {
        let text = format!(
            "recipe Any\nbrewed on Works\nbatch 50 L into fermenter\nmash\n  9 kg pale ale malt\n  rest 66 C for 60 min\nboil 60 min\n  \
             60 g perle, 8 % alpha at 60 min\nstand 20 min at 85 C\n  100 g saaz, 4 % alpha for 20 min\nferment\n  \
             top up with 6 L water\n  pitch ale yeast\n  add 3 L apple juice, 12 Bx when 6 P\n{works}\
             brewhouse Small\n  batch 12 L {point}\n  lauter bag\n  kettle loss 0.8 L\n"
        );
        let first = plan(&text, "Small");
        let again = plan(&first.to_document().to_string(), "Small");
        for (figure, planned, read) in pairs(&first) {
            let scale = if figure.ends_with("plato") { 10.0 } else { 1.0 };
            near(read, planned, 1e-6 * scale, &figure);
        }
        for (one, other) in [
            (first.predicted.original, again.predicted.original),
            (first.predicted.wort_final, again.predicted.wort_final),
        ] {
            near(other.unwrap().plato(), one.unwrap().plato(), 1e-6, point);
        }
        near(
            again.predicted.bitterness.unwrap().ibu(),
            first.predicted.bitterness.unwrap().ibu(),
            1e-5,
            point,
        );
    }
}

/// A wort out of reach is another beer, and its text says so: the final gravity and the alcohol of the sheet's would make its
/// mash ferment otherwise.
#[test]
fn a_wort_out_of_reach_keeps_no_figure_of_the_stronger_one() {
    let text = with(
        "  100 % pale ale malt\n",
        "  30 IBU perle, 8 % alpha at 60 min\n",
        "",
    );
    let text = text.replace(
        "original 14 P, final 3 P",
        "original 24 P, final 6 P, alcohol 10.5 %, colour 30 EBC",
    );
    let plan = plan_on(
        &text,
        "  batch 20 L into fermenter\n  lauter bag\n  kettle 26 L\n",
    );
    assert!(!plan.outcomes.is_empty());
    let targets = &plan.recipe.targets;
    near(
        targets.final_extract.unwrap().value().plato(),
        plan.predicted.final_extract.unwrap().plato(),
        1e-9,
        "final",
    );
    near(
        targets.alcohol.unwrap().value().percent(),
        plan.predicted.alcohol.unwrap().percent(),
        1e-9,
        "alcohol",
    );
    near(
        targets.colour.unwrap().value().ebc(),
        plan.predicted.colour.unwrap().ebc(),
        1e-9,
        "colour",
    );
}
