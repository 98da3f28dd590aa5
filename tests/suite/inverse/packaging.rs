//! What is added at packaging.

use super::{MALT, YEAST, on_small, sheet};
use crate::brewing::{addition, kg, l, mass, near};
use wortwright::catalogue::Kind;
use wortwright::quantity::{Unit, Written};
use wortwright::recipe::{Addition, Amount, Ingredient};

/// What is added at packaging is not lost: a printed mass goes per litre of beer, there and here.
#[test]
fn additions_at_packaging_are_kept_per_litre_of_beer() {
    let text = sheet(
        "target original 12 P",
        &format!("  100 % {MALT}"),
        "  1 g/hL carrageenan at 10 min",
        YEAST,
    );
    let mut job = on_small(&text);
    for (name, amount) in [
        (
            "finings by mass",
            Amount::Mass(Written::new(1.2, Unit::Kilogram).unwrap()),
        ),
        (
            "finings by dose",
            Amount::Concentration(Written::new(0.6, Unit::GramPerLitre).unwrap()),
        ),
    ] {
        let added = Addition::new(Ingredient::new(name, Kind::Aid), amount);
        job.recipe.package.additions.push(added);
    }
    let plan = job.exact();
    let source_l = l(plan.source.finished.unwrap()) - 30.0;
    let here_l = l(plan.volumes.packaged);
    near(
        mass(&plan, "finings by mass"),
        1.2 / source_l * here_l,
        1e-9,
        "mass",
    );
    near(
        mass(&plan, "finings by dose"),
        0.6 * here_l / 1000.0,
        1e-9,
        "dose",
    );
    let source = addition(&plan, "finings by dose").source_mass.unwrap();
    near(
        kg(source),
        0.6 * source_l / 1000.0,
        1e-9,
        "dose at the source",
    );
}
