//! What is counted in packs.

use super::{Lines, PLAIN};
use crate::brewing::near;
use wortwright::advice::{Action, DayReading};
use wortwright::quantity::litres;
use wortwright::speech::Style;

/// Nobody knows the size of a pack: it stays a pack, half of one in half the beer, and is no kilogram.
#[test]
fn a_pack_stays_a_pack() {
    let lines = Lines {
        boil: "  1 pack kettle finings, brings nothing at 10 min\n",
        ferment: "  1 pack clarifier, brings nothing on day 3\n",
        package: "  add 3 packs polish, brings nothing\n",
        plant: "brewhouse Half\n  batch 10 L into fermenter\n  extract yield 75 %\n  kettle loss 0.5 L\n  \
                fermenter loss 0.5 L\n",
        ..PLAIN
    };
    let text = lines
        .text()
        .replace("recipe Counted", "recipe Counted\nbrewed on Home");
    let job = wortwright::Job::read([("text", &*text)]).unwrap();
    let plan = job.on("Half").unwrap().plan().unwrap();
    let of = |name: &str| plan.additions.iter().find(|a| a.name == name).unwrap();
    for (name, packs) in [("kettle finings", 0.5), ("clarifier", 0.5), ("polish", 1.5)] {
        let line = of(name);
        assert_eq!(
            (line.mass, line.volume, line.source_mass),
            (None, None, None),
            "{name}"
        );
        near(line.pack_count.unwrap().packs(), packs, 1e-6, name);
    }
    let bought = plan.shopping.iter().find(|a| a.name == "polish").unwrap();
    assert_eq!(bought.needed_mass, None);
    near(bought.needed_packs.unwrap().packs(), 1.5, 1e-6, "bought");
    let reading = DayReading::Packaging {
        volume: plan.predicted.finished.unwrap() - litres(0.5),
        warmest: None,
        shown: None,
    };
    let advice = plan.advise(&reading).unwrap();
    let doses = advice.actions.iter().find_map(|way| match &way.action {
        Action::PackageLess { doses, .. } => Some(doses),
        _ => None,
    });
    let [polish] = &**doses.unwrap() else {
        panic!("{doses:?}")
    };
    assert_eq!((polish.mass, polish.volume), (None, None));
    near(polish.pack_count.unwrap().packs(), 1.5, 1e-6, "advised");
    assert_eq!(polish.text(Style::default()), "1.5 packs of polish");
    // The plan read again has the packs, and the page shows them.
    let again = wortwright::Job::read([("text", plan.to_document().to_string())]).unwrap();
    let again = again.on("Half").unwrap().plan().unwrap();
    let packs = |plan: &wortwright::scale::Plan| {
        plan.additions
            .iter()
            .filter_map(|a| a.pack_count)
            .map(wortwright::quantity::PackCount::packs)
            .collect::<Vec<_>>()
    };
    for (read, planned) in packs(&again).into_iter().zip(packs(&plan)) {
        near(read, planned, 1e-3, "read again");
    }
    assert_eq!(packs(&again).len(), 3);
    assert!(plan.to_string().contains("packs"), "{plan}");
    // What counts by its mass is refused in packs.
    let boil = "  1 pack table sugar at 10 min\n";
    Lines { boil, ..PLAIN }.refused_at("1 pack", "1.4 kg");
    let ferment = "  1 pack table sugar on day 3\n";
    Lines { ferment, ..PLAIN }.refused_at("1 pack", "2 x 500 g");
    let ferment = "  1 pack cascade on day 3\n";
    Lines { ferment, ..PLAIN }.refused_at("1 pack", "2 x 500 g");
}
