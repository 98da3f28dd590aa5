//! A wort that is boiled small and topped up: late hops keep their dose in the diluted wort, bittering hops pay for the thicker boil.

use crate::brewing::{ibu, l, mass, near};
use wortwright::Job;
use wortwright::remedy::Remedy;
use wortwright::scale::{Outcome, Plan, ScaleOptions, WeighOut};

/// 20 L of a 12 °P wort in a kettle of so many litres.
fn brew(kettle_l: f64) -> wortwright::job::Brew {
    let text = format!(
        "recipe Partial\nbrewed on Big\nbatch 20 hL into fermenter\ntarget original 12 P\nmash\n  100 % pale ale malt\nboil 60 min\n\
         \x20 15 IBU perle, pellet, 8 % alpha at 60 min\n  40 g/hL saaz, pellet, 4 % alpha at 0 min\nferment\n  pitch ale yeast, attenuation 75 %\n{}\n\
         brewhouse Small\n  batch 20 L into fermenter\n  kettle {kettle_l} L\n  lauter continuous, yield 88 %\n  evaporation 2 L/h\n  kettle loss 0 L\n",
        crate::brewing::BIG
    );
    let exact = ScaleOptions::default().with_weigh_out(WeighOut::Exact);
    Job::read([("text", text)])
        .unwrap()
        .on_with("Small", &exact)
        .unwrap()
}

fn topped_up() -> (Plan, f64) {
    // A tenth of it stays free for the foam.
    let brew = brew(16.0 / 0.9);
    let plan = brew.plan().unwrap();
    let remedies = plan.outcomes.iter().find_map(|told| match &told.what {
        Outcome::KettleOverflows { remedies, .. } => Some(remedies.clone()),
        _ => None,
    });
    let remedies = remedies.unwrap();
    let top_up = remedies.iter().find_map(|remedy| match remedy {
        Remedy::TopUp { water, .. } => Some((remedy, l(*water))),
        _ => None,
    });
    let (remedy, water_l) = top_up.unwrap();
    (brew.taking([remedy]).unwrap().plan().unwrap(), water_l)
}

/// Nothing stays in the kettle (its hops are below 2 g/L, which the stated loss holds), so that as many grams of late hops go into less wort as into all of it; and Tinseth's utilisation is
/// 0.000125 to the power of the mean gravity of each boil, by which the bittering hop grows for the same beer.
#[test]
fn rates_are_of_the_diluted_wort_and_utilisation_of_the_boil() {
    let whole = brew(40.0).plan().unwrap();
    assert!(whole.outcomes.is_empty(), "{:?}", whole.outcomes);
    let (partial, water_l) = topped_up();
    assert!(water_l > 5.0, "{water_l}");
    near(
        mass(&partial, "saaz"),
        mass(&whole, "saaz"),
        1e-3,
        "late hop",
    );
    // In the shrinkage of mixing water with a stronger wort the volumes differ by some 1e-4.
    near(ibu(&partial), ibu(&whole), 1e-4, "bitterness");
    let gravity = |plato: f64| 1.0 + plato / (258.6 - 0.8796 * plato);
    let mean = |plan: &Plan| {
        let post_l = l(plan.volumes.post_boil);
        let pre = plan.volumes.pre_boil_extract.plato();
        // The extract of the boiled wort by what boiled off.
        let post = pre * l(plan.volumes.pre_boil) / post_l;
        (post, 0.5 * (gravity(pre) + gravity(post)))
    };
    let ((_, whole_sg), (_, partial_sg)) = (mean(&whole), mean(&partial));
    let by_hand = 0.000_125_f64.powf(whole_sg - partial_sg);
    assert!(by_hand > 1.1, "{by_hand}");
    near(
        mass(&partial, "perle") / mass(&whole, "perle"),
        by_hand,
        0.02,
        "bittering hop",
    );
}
