//! What is out of reach is said with the figure that can be reached, and each way out is taken and found to work. Here
//! stands what the files below share.

mod gravity;
mod vessels;

use crate::brewing::{BIG, kg, l, near, original, plan};
use wortwright::remedy::Remedy;
use wortwright::scale::Plan;
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

/// Takes every remedy on its own, by changing the texts as a brewer would; a little more than the printed figure is
/// taken, since the least that works works only just.
fn every_remedy_works(plato: f64, plant: &Plant, remedies: &[Remedy]) {
    const MORE: f64 = 1e-9;
    for remedy in remedies {
        let (text, plant_text, batch_l) = match remedy {
            Remedy::Sparge { water, .. } => {
                let rinsed = Plant {
                    sparge_l: l(*water) * (1.0 + MORE),
                    ..*plant
                };
                (recipe(plato, None), rinsed.text(), plant.batch_l)
            }
            Remedy::SmallerBatch { batch, .. } | Remedy::SeveralBrews { batch, .. } => {
                let less = Plant {
                    batch_l: l(*batch) * (1.0 - MORE),
                    ..*plant
                };
                (recipe(plato, None), less.text(), less.batch_l)
            }
            Remedy::DriedExtract { mass, .. } | Remedy::Sugar { mass, .. } => {
                let first = on(&recipe(plato, None), &plant.text());
                // The kettle's wort at the wanted strength, by the plan's own volume.
                let density = density(plato / 100.0);
                let extract_kg = l(first.volumes.post_boil) * density * plato / 100.0;
                let (name, as_is) = match remedy {
                    Remedy::Sugar { .. } => ("sucrose, 100 % extract", 1.0),
                    _ => ("dried malt extract pale, 95 % extract", 0.95),
                };
                // The remedy's mass is of the catalogue's extract, whose figure the plan need not share with this line.
                let share = kg(*mass) * as_is / extract_kg * (1.0 + 0.01);
                (
                    recipe(plato, Some((name, share.min(1.0)))),
                    plant.text(),
                    plant.batch_l,
                )
            }
            Remedy::LongerBoil { boil, .. } => {
                let text = recipe(plato, None);
                let longer = format!("boil {:.9} min", boil.value / 60.0);
                (
                    text.replace("boil 60 min", &longer),
                    plant.text(),
                    plant.batch_l,
                )
            }
            // The kettle's own test takes it.
            Remedy::TopUp { .. } => continue,
            other => panic!("a remedy that no test takes: {other:?}"),
        };
        let helped = on(&text, &plant_text);
        assert!(
            helped.outcomes.is_empty(),
            "{remedy:?} leaves {:?}",
            helped.outcomes
        );
        near(original(&helped), plato, 1e-7, "strength with the remedy");
        near(
            l(helped.volumes.into_fermenter),
            batch_l,
            1e-9,
            "batch with the remedy",
        );
    }
}

/// ICUMSA at 20 °C, kg/L (see the demo).
fn density(w: f64) -> f64 {
    (998.2031
        + w * (385.1761
            + w * (135.3705 + w * (40.9299 + w * (-3.9643 + w * (13.4853 - 17.2890 * w))))))
        / 1000.0
}
