//! Hops that only stand bitter by their time: another way of cooling needs another stand, or some of them in the boil.
//!
//! By hand from the rates of Malowicki and Shellhammer (J. Agric. Food Chem. 2005, 53, 4434).

use crate::brewing::{ibu, kg};
use wortwright::Job;
use wortwright::quantity::uom::si::time::minute;
use wortwright::recipe::HotStep;
use wortwright::remedy::Remedy;
use wortwright::scale::{Outcome, Plan, ScaleOptions, WeighOut};

/// A beer hopped in a stand of half an hour at 95 °C alone, from one way of cooling to another.
fn brew(there: &str, here: &str) -> wortwright::job::Brew {
    let text = format!(
        "recipe Stood\nbrewed on Big\nbatch 20 hL into fermenter\ntarget original 12 P\nmash\n  100 % pale ale malt\nboil 60 min\n\
         stand 30 min at 95 C\n  150 g/hL cascade, 7 % alpha, pellet for 30 min\nferment\n  pitch ale yeast, attenuation 75 %\n\
         brewhouse Big\n  extract yield 90 %\n  evaporation 5 % per hour\n  kettle loss 40 L\n  fermenter loss 30 L\n  cool to 20 C {there}\n\
         brewhouse Small\n  batch 20 L into fermenter\n  extract yield 90 %\n  evaporation 5 % per hour\n  kettle loss 0.4 L\n  cool to 20 C {here}\n"
    );
    let exact = ScaleOptions::default().with_weigh_out(WeighOut::Exact);
    Job::read([("text", text)])
        .unwrap()
        .on_with("Small", &exact)
        .unwrap()
}

fn ways(plan: &Plan) -> Option<(f64, &[Remedy])> {
    plan.outcomes.iter().find_map(|told| match &told.what {
        Outcome::BitternessNotMet {
            wanted, remedies, ..
        } => Some((wanted.ibu(), &remedies[..])),
        _ => None,
    })
}

/// Iso-alpha-acids formed of one part of alpha acids at 95 °C in so many minutes.
fn iso(min: f64) -> f64 {
    let kelvin = 95.0 + 273.15;
    let k1 = 7.9e11 * (-11858.0_f64 / kelvin).exp();
    let k2 = 4.1e12 * (-12994.0_f64 / kelvin).exp();
    k1 / (k2 - k1) * ((-k1 * min).exp() - (-k2 * min).exp())
}

/// Where a plate of 50 min cools the wort, each parcel stands for as long as it waits: the mean over 30 to 80 min at 95 °C. A kitchen
/// that chills at once stands until it has formed as much, some 54 min by the same rates; or it boils some of the hop.
#[test]
fn a_fast_chill_needs_a_longer_stand_or_a_hop_in_the_boil() {
    let brew = brew("through plate in 50 min", "through plate in 0 min");
    let plan = brew.plan().unwrap();
    let (wanted, remedies) = ways(&plan).unwrap();
    let parcels = (0..1000).map(|i| iso(30.0 + 50.0 * (f64::from(i) + 0.5) / 1000.0));
    let mean = parcels.sum::<f64>() / 1000.0;
    let (mut low, mut high) = (30.0, 80.0);
    while high - low > 1e-6 {
        let middle = 0.5 * (low + high);
        if iso(middle) < mean {
            low = middle;
        } else {
            high = middle;
        }
    }
    assert!(low > 50.0 && low < 56.0, "{low}");
    // The ratio of what is formed is the ratio of bitterness.
    assert!((ibu(&plan) / wanted / (iso(30.0) / mean) - 1.0).abs() < 1e-3);
    assert_eq!(remedies.len(), 2, "{remedies:?}");
    for remedy in remedies {
        let after = brew.taking([remedy]).unwrap().plan().unwrap();
        assert!(ways(&after).is_none(), "{:?}", after.outcomes);
        assert!(
            (ibu(&after) - wanted).abs() < 0.3,
            "{} {wanted}",
            ibu(&after)
        );
        match remedy {
            Remedy::StandTime { time, .. } => {
                assert!((time.get::<minute>() - low).abs() <= 0.6, "{time:?} {low}");
                let Some(HotStep::Stand(stand)) = after.recipe.hot_side.first() else {
                    panic!("{:?}", after.recipe.hot_side);
                };
                assert_eq!(stand.time.value(), *time);
            }
            Remedy::BoiledHops { name, mass, .. } => {
                assert_eq!(name, "cascade");
                let boiled = after.additions.iter().find(|a| a.time_left.is_some());
                let taken = kg(boiled.unwrap().mass.unwrap());
                assert!((taken / kg(*mass) - 1.0).abs() < 0.02, "{taken}");
            }
            other => panic!("{other:?}"),
        }
        // Written down and read again it is the same beer.
        let text = after.to_document().to_string();
        let again = crate::brewing::predicted_on(&text, "Small");
        let read = again.predicted.bitterness.unwrap().ibu();
        assert!((read - ibu(&after)).abs() < 0.01, "{read}\n{text}");
    }
}

/// A slow chill bitters more: a shorter stand is the only way, since no hop in the boil makes a beer less bitter.
#[test]
fn a_slow_chill_needs_a_shorter_stand() {
    let brew = brew("through plate in 0 min", "through plate in 40 min");
    let plan = brew.plan().unwrap();
    let (wanted, remedies) = ways(&plan).unwrap();
    let [remedy @ Remedy::StandTime { time, .. }] = remedies else {
        panic!("{remedies:?}");
    };
    assert!(time.get::<minute>() < 20.0, "{time:?}");
    let after = brew.taking([remedy]).unwrap().plan().unwrap();
    assert!(
        (ibu(&after) - wanted).abs() < 0.5,
        "{} {wanted}",
        ibu(&after)
    );
}

/// As long a cooling as there needs nothing.
#[test]
fn the_same_cooling_needs_nothing() {
    let cooling = "through plate in 20 min";
    assert!(ways(&brew(cooling, cooling).plan().unwrap()).is_none());
}
