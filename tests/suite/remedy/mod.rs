//! What is out of reach is said with the figure that can be reached, and each way out is taken and found to work. Here
//! stands what the files below share.

mod gravity;
mod partial_boil;
mod stand;
mod taken;
mod vessels;

use crate::brewing::{BIG, l, near, original, plan};
use wortwright::remedy::Remedy;
use wortwright::scale::{Plan, ScaleOptions, WeighOut};
use wortwright_tests::fixtures::{changed, fixture};

/// One malt, so that a share of the extract is a share of everything.
fn recipe(plato: f64, dissolved: Option<(&str, f64)>) -> String {
    let (line, rest) = match dissolved {
        Some((name, share)) => (
            format!("  {:.12} % {name} at 10 min\n", 100.0 * share),
            1.0 - share,
        ),
        None => (String::new(), 1.0),
    };
    changed(
        &fixture("remedy/strong"),
        &[
            ("12 P", &format!("{plato:.9} P")),
            ("  100 %", &format!("  {:.12} %", 100.0 * rest)),
            ("  # dissolved\n", &line),
        ],
    ) + BIG
}

fn on(recipe: &str, small: &str) -> Plan {
    plan(&format!("{recipe}brewhouse Small\n{small}\n"), "Small")
}

struct Plant {
    batch_l: f64,
    lauter: &'static str,
    sparge_l: f64,
    rest: &'static str,
}

impl Plant {
    fn text(&self) -> String {
        let sparge = if self.lauter == "lauter bag" {
            format!(", sparge {:.12} L", self.sparge_l)
        } else {
            String::new()
        };
        format!(
            "  batch {:.12} L into fermenter\n  {}{sparge}\n{}",
            self.batch_l, self.lauter, self.rest
        )
    }
}

/// Takes every remedy on its own, and brews again.
fn every_remedy_works(plato: f64, plant: &Plant, remedies: &[Remedy]) {
    let text = format!("{}brewhouse Small\n{}\n", recipe(plato, None), plant.text());
    let exact = ScaleOptions::default().with_weigh_out(WeighOut::Exact);
    let brew = wortwright::Job::read([("text", text)]).unwrap();
    let brew = brew.on_with("Small", &exact).unwrap();
    for remedy in remedies {
        let helped = brew.taking([remedy]).unwrap().plan().unwrap();
        assert!(
            helped.outcomes.is_empty(),
            "{remedy:?} leaves {:?}",
            helped.outcomes
        );
        let batch_l = match remedy {
            Remedy::SmallerBatch { batch, .. } | Remedy::SeveralBrews { batch, .. } => l(*batch),
            _ => plant.batch_l,
        };
        if matches!(remedy, Remedy::TopUp { .. }) {
            // Its wort is the stronger one until the water is in it.
            let whole = helped.predicted.equivalent_original.unwrap();
            near(whole.plato(), plato, 1e-6, "strength when topped up");
            let filled_l = l(helped.volumes.after_additions);
            near(filled_l, batch_l, 1e-3, "batch when topped up");
        } else {
            near(original(&helped), plato, 1e-7, "strength with the remedy");
            let into_l = l(helped.volumes.into_fermenter);
            near(into_l, batch_l, 1e-9, "batch with the remedy");
        }
    }
}

/// ICUMSA at 20 °C, kg/L (see the demo).
fn density(w: f64) -> f64 {
    (998.2031
        + w * (385.1761
            + w * (135.3705 + w * (40.9299 + w * (-3.9643 + w * (13.4853 - 17.2890 * w))))))
        / 1000.0
}
