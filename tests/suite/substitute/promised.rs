//! What a proposal promises is what the plan gives when it is taken: its figures, its amounts, and the beer of its own text.

use super::kitchen::{demo_text, whole};
use crate::brewing::{BIG, kg, l, near};
use crate::scale::one_beer::pairs;
use serde_json::Value;
use wortwright::Job;
use wortwright::scale::{Plan, ScaleOptions, WeighOut};
use wortwright::substitute::Proposal;

/// Strong, dark, sugared and hopped recipes, and what is missing of each.
fn cases() -> Vec<(String, Vec<&'static str>)> {
    let small = "brewhouse Small\n  batch 12 L into fermenter\n  lauter bag\n  absorption 0.9 L/kg\n  evaporation 2 L/h\n";
    let milk = format!(
        "recipe Milk stout\nbrewed on Big\nbatch 20 hL into fermenter\ntarget original 15 P, final 5.2 P, bitterness 28 IBU\nmash\n  \
         80 % pale ale malt\n  6 % caramel malt 150 EBC\n  6 % roasted barley\nboil 60 min\n  8 % lactose at 10 min\n  \
         28 IBU northern brewer at 60 min\nferment\n  pitch ale yeast\n{BIG}\n{small}"
    );
    let hoppy = format!(
        "recipe Pale\nbrewed on Big\nbatch 20 hL into fermenter\ntarget original 13 P, final 2.6 P, bitterness 45 IBU\nmash\n  \
         90 % pale ale malt\n  5 % light munich malt\nboil 60 min\n  5 % sucrose at 10 min\n  120 g/hL northern brewer at 60 min\n  \
         100 g/hL saaz at 10 min\nferment\n  pitch ale yeast\n  add 8 % by volume when 6 P\n    60 % apple juice\n    40 % plum juice\n{BIG}\n{small}"
    );
    vec![
        (
            demo_text(),
            vec![
                "flaked spelt",
                "caramel malt 150 EBC",
                "honey",
                "northern brewer",
                "elderberry juice",
            ],
        ),
        (
            milk,
            vec![
                "lactose",
                "roasted barley",
                "caramel malt 150 EBC",
                "northern brewer",
            ],
        ),
        (
            hoppy,
            vec![
                "sucrose",
                "light munich malt",
                "northern brewer",
                "saaz",
                "plum juice",
            ],
        ),
    ]
}

/// The figures of a prediction, by name.
fn figures(plan: &Value) -> Vec<(String, f64)> {
    let fields = plan.as_object().unwrap().iter();
    fields
        .map(|(name, value)| (name.clone(), value.as_f64().unwrap()))
        .collect()
}

fn keeps_its_promise(proposal: &Proposal, plan: &Plan, told: &str) {
    let promised = figures(&serde_json::to_value(&proposal.predicted).unwrap());
    let given = serde_json::to_value(&plan.predicted).unwrap();
    for (name, promised) in promised {
        near(
            given[&name].as_f64().unwrap(),
            promised,
            1e-9,
            &format!("{name} {told}"),
        );
    }
    for part in &proposal.parts {
        let named = plan.additions.iter().filter(|a| a.name == part.name);
        let lines: Vec<_> = named.collect();
        // What else the recipe has of it stands in a line of its own.
        let [line] = lines[..] else { continue };
        // Sugar in a blend by volume is weighed in the proposal and measured in the plan.
        let both = Option::zip(line.mass.map(kg), part.mass.map(kg));
        let both = both.or(Option::zip(line.volume.map(l), part.volume.map(l)));
        if let Some((given, promised)) = both {
            near(given, promised, 0.02, &format!("{} {told}", part.name));
        }
    }
}

#[test]
fn a_proposal_taken_gives_what_it_promised() {
    let exact = ScaleOptions::default().with_weigh_out(WeighOut::Exact);
    let mut taken = 0;
    for (text, missing) in cases() {
        let brew = Job::read([("text", text.as_str())]).unwrap();
        let brew = brew
            .on_with(&brew.only_plant().unwrap().name.clone(), &exact)
            .unwrap();
        for name in missing {
            let options = whole().with_missing([name]);
            let answer = brew.substitutes_with(&options).unwrap();
            for proposal in answer
                .missing
                .iter()
                .flat_map(|line| line.proposals.iter().take(4))
            {
                let names: Vec<_> = proposal
                    .parts
                    .iter()
                    .map(|part| part.name.as_str())
                    .collect();
                let told = format!("{names:?} for {name}");
                let plan = brew.taking([proposal]).unwrap().plan().unwrap();
                keeps_its_promise(proposal, &plan, &told);
                for (figure, planned, read) in pairs(&plan) {
                    let scale = if figure.ends_with("plato") { 10.0 } else { 1.0 };
                    let room = 1e-6 * planned.abs().max(scale);
                    assert!(
                        (planned - read).abs() <= room,
                        "{figure} {planned} {read} {told}"
                    );
                }
                taken += 1;
            }
        }
    }
    assert!(taken > 40, "{taken}");
}

/// Half of a line goes to the kettle: the colour that it does not bring there is told.
#[test]
fn what_moves_to_the_kettle_is_told_by_its_colour() {
    let exact = ScaleOptions::default().with_weigh_out(WeighOut::Exact);
    for (text, missing) in cases() {
        let brew = Job::read([("text", text.as_str())]).unwrap();
        let brew = brew
            .on_with(&brew.only_plant().unwrap().name.clone(), &exact)
            .unwrap();
        let before = brew.plan().unwrap().predicted.wort_colour.unwrap().ebc();
        for name in missing
            .iter()
            .filter(|name| name.contains("malt") || name.contains("barley"))
        {
            let answer = brew
                .substitutes_with(&whole().with_missing([*name]))
                .unwrap();
            for proposal in &answer.missing[0].proposals {
                let after = proposal.predicted.wort_colour.unwrap().ebc();
                assert!(
                    (proposal.colour_residual_ebc - (after - before)).abs() < 1e-6,
                    "{name}"
                );
            }
        }
    }
}
