//! Spirits and other drinks.

use super::{Lines, PLAIN, abv, finished_l};
use crate::brewing::{l, near, predicted_on};
use wortwright::speech::Speaks;

/// A litre of 40 % brings 0.4 L of ethanol: (V·A + 0.4)/(V + 1), and less than 0.02 L are lost on mixing.
#[test]
fn a_spirit_brings_its_alcohol_and_its_water() {
    let plain = PLAIN.predicted();
    let volume = finished_l(&plain);
    for name in ["spirit", "vodka", "plum brandy"] {
        let ferment = format!("  1 L {name}, 40 % alcohol on day 7\n");
        let strong = Lines {
            ferment: &ferment,
            ..PLAIN
        }
        .predicted();
        near(finished_l(&strong), volume + 1.0, 0.001, "litres");
        let by_hand = (volume * abv(&plain) + 40.0) / (volume + 1.0);
        near(abv(&strong), by_hand, 0.001, name);
    }
    // By weight: 40 % by volume is 33.30 % by mass (OIML R 22), so that 948 g are a litre.
    let ferment = "  948.1 g vodka, 40 % alcohol on day 7\n";
    let weighed = Lines { ferment, ..PLAIN }.predicted();
    let by_hand = (volume * abv(&plain) + 40.0) / (volume + 1.0);
    near(abv(&weighed), by_hand, 0.001, "weighed");
    // As most bottles have it, where the line does not say; a liqueur may have 15 or 40.
    let ferment = "  1 L vodka on day 7\n";
    let unsaid = Lines { ferment, ..PLAIN }.predicted();
    near(abv(&unsaid), by_hand, 0.001, "unsaid");
    let ferment = "  1 L sloe gin on day 7\n";
    Lines { ferment, ..PLAIN }.refused_at("sloe gin", "40 % alcohol");
}

#[test]
fn alcohol_is_refused_where_it_boils_off() {
    let boil = format!("{}  1 L vodka, 40 % alcohol at 5 min\n", PLAIN.boil);
    Lines {
        boil: &boil,
        ..PLAIN
    }
    .refused_at("vodka", "`ferment`");
    let hot = "stand 20 min at 80 C\n  1 L vodka, 40 % alcohol for 5 min\n";
    Lines { hot, ..PLAIN }.refused_at("vodka", "`ferment`");
}

/// A plan keeps the water per litre, and its text says the same beer.
#[test]
fn a_plan_keeps_water_and_spirit_per_litre() {
    let boil = format!("{}  5 L water at 10 min\n", PLAIN.boil);
    let ferment = "  1 L vodka, 40 % alcohol on day 7\n  2 L water on day 8\n";
    let text = Lines {
        boil: &boil,
        ferment,
        ..PLAIN
    }
    .text();
    let text = format!(
        "{}\nbrewhouse Small\n  batch 10 L into fermenter\n",
        text.replace("recipe Counted", "recipe Counted\nbrewed on Home")
    );
    let plan = crate::brewing::plan(&text, "Small");
    let litres = |name: &str, at: usize| {
        let mut found = plan.additions.iter().filter(|a| a.name == name);
        l(found.nth(at).unwrap().volume.unwrap())
    };
    // Of 21 L at the end of the boil 5 L: in the same share of the other kettle's wort.
    near(
        litres("water", 0) / l(plan.volumes.post_boil),
        5.0 / 21.0,
        1e-9,
        "kettle",
    );
    near(litres("vodka", 0), 0.5, 1e-9, "spirit");
    near(litres("water", 1), 1.0, 1e-9, "fermenter");
    assert!(plan.shopping.iter().all(|bought| bought.name != "water"));
    let again = predicted_on(&plan.to_document().to_string(), "Small");
    let (ours, theirs) = (&plan.predicted, &again.predicted);
    near(
        ours.alcohol.unwrap().percent(),
        theirs.alcohol.unwrap().percent(),
        1e-6,
        "alcohol",
    );
    near(
        l(ours.finished.unwrap()),
        l(theirs.finished.unwrap()),
        1e-6,
        "litres",
    );
    near(
        ours.bitterness.unwrap().ibu(),
        theirs.bitterness.unwrap().ibu(),
        1e-4,
        "bitterness",
    );
}

#[test]
fn a_spirit_comes_with_its_caution() {
    let of = |ferment| {
        let text = Lines { ferment, ..PLAIN }.text();
        let job = wortwright::Job::read([("text", text)]).unwrap();
        let plan = job.on("Home").unwrap().plan().unwrap();
        plan.cautions()
            .iter()
            .any(|caution| caution.code() == "spirits")
    };
    assert!(of("  100 mL vodka, 40 % alcohol on day 7\n"));
    assert!(!of("  5 L water on day 7\n"));
}
