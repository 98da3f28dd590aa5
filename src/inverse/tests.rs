//! Mass that goes into a stage comes out of it, whatever the recipe and the plant.
#![allow(
    clippy::unnecessary_wraps,
    reason = "the fields of a recipe are optional, and so is what fills them"
)]

use super::source::{LaidOut, Notes, Printed};
use crate::catalogue::{Catalogue, Kind};
use crate::diagnostic::ErrorKind;
use crate::numeric::tests::SeededNumbers;
use crate::process::{Stage, Worked, fermentables};
use crate::quantity::{
    Absorption, AlphaAcids, Bitterness, BrewhouseYield, Concentration, Conversion, EvaporationRate,
    Extract, Fermentability, LaboratoryExtract, Mixing, Moisture, Quantity, Share, VolumeShare,
    Written, litres, minutes,
};
use crate::recipe::{
    Addition, Amount, At, Bag, Batch, BatchPoint, BatchSparge, Brewhouse, Content,
    ContinuousSparge, Evaporation, ExtractBasis, Ingredient, Lauter, Recipe, Stated, StatedExtract,
    StatedYield, Timing, YieldBasis, YieldPoint,
};
use crate::science::attenuation::{
    CARBON_DIOXIDE_PER_ETHANOL, EXTRACT_PER_ETHANOL, YEAST_PER_ETHANOL,
};
use crate::science::density::WATER_KG_PER_L;

/// Sums and differences of a few dozen terms in double precision, through an inverse density that is solved to 1e-14.
const EXACT: f64 = 1e-9;

fn said<Q: Quantity>(base: f64) -> Option<Written<Q>> {
    Some(Written::in_base_unit(Q::from_base(base).unwrap()))
}

fn volume(l: f64) -> Option<Written<crate::quantity::Volume>> {
    Some(Written::in_base_unit(litres(l)))
}

fn ingredient(name: String, kind: Kind, facts: Stated) -> Ingredient {
    Ingredient {
        facts: facts.into(),
        ..Ingredient::new(name, kind)
    }
}

fn share(part: f64) -> Amount {
    Amount::Share(said::<Share>(part).unwrap())
}

fn extract(fraction: f64, basis: ExtractBasis) -> Option<StatedExtract> {
    Some(StatedExtract {
        value: said::<LaboratoryExtract>(fraction).unwrap(),
        basis,
    })
}

fn boiled_for(min: f64) -> Timing {
    Timing {
        at: Some(At::TimeLeft(Written::in_base_unit(minutes(min)))),
        contact: None,
    }
}

#[derive(Debug, Clone)]
struct Malt {
    weight: f64,
    extract: f64,
    moisture: f64,
    ferments: f64,
}

#[derive(Debug, Clone)]
struct Juice {
    total: f64,
    brix: f64,
    when: Option<f64>,
}

#[derive(Debug, Clone)]
struct Beer {
    malts: Vec<Malt>,
    /// Weight, extract as is, minutes left.
    sugars: Vec<(f64, f64, f64)>,
    /// Alpha, minutes left, g/L or IBU.
    hops: Vec<(f64, f64, bool)>,
    juices: Vec<Juice>,
    plato: f64,
    boil_min: f64,
    batch_l: f64,
    point: BatchPoint,
}

fn beer(numbers: &mut SeededNumbers) -> Beer {
    Beer {
        malts: numbers.list(1, 29, |n| Malt {
            weight: n.between(0.1, 100.0),
            extract: n.between(0.55, 0.85),
            moisture: n.between(0.0, 0.12),
            ferments: n.between(0.3, 0.9),
        }),
        sugars: numbers.list(0, 4, |n| {
            (
                n.between(0.1, 20.0),
                n.between(0.6, 1.0),
                n.between(0.0, 90.0),
            )
        }),
        hops: numbers.list(0, 3, |n| {
            (n.between(0.01, 0.2), n.between(1.0, 90.0), n.coin())
        }),
        juices: numbers.list(0, 3, |n| Juice {
            total: n.between(0.01, 0.6),
            brix: n.between(4.0, 40.0),
            when: n.coin().then(|| n.between(0.0, 12.0)),
        }),
        plato: numbers.between(3.0, 14.0),
        boil_min: numbers.between(0.0, 120.0),
        batch_l: numbers.between(0.5_f64.ln(), 5e5_f64.ln()).exp(),
        point: match numbers.below(3) {
            0 => BatchPoint::IntoFermenter,
            1 => BatchPoint::EndOfBoil,
            _ => BatchPoint::Packaged,
        },
    }
}

fn recipe(beer: &Beer) -> Recipe {
    let mut recipe = Recipe::new("random");
    recipe.brewed_on = Some("random".into());
    recipe.batch = Some(Batch {
        volume: volume(beer.batch_l).unwrap(),
        at: beer.point,
    });
    recipe.targets.original = said::<Extract>(beer.plato);
    recipe.boil.time = Some(Written::in_base_unit(minutes(beer.boil_min)));
    let total: f64 = beer.malts.iter().map(|m| m.weight).sum::<f64>()
        + beer.sugars.iter().map(|s| s.0).sum::<f64>();
    for (i, malt) in beer.malts.iter().enumerate() {
        let facts = Stated {
            extract: extract(malt.extract, ExtractBasis::Dry),
            moisture: said::<Moisture>(malt.moisture),
            fermentability: said::<Fermentability>(malt.ferments),
            ..Stated::default()
        };
        recipe.mash.additions.push(Addition {
            amount: Some(share(malt.weight / total)),
            ..Addition::of(ingredient(format!("malt {i}"), Kind::Malt, facts))
        });
    }
    for (i, (weight, as_is, left_min)) in beer.sugars.iter().enumerate() {
        let facts = Stated {
            extract: extract(*as_is, ExtractBasis::AsIs),
            fermentability: said::<Fermentability>(0.9),
            ..Stated::default()
        };
        recipe.boil.additions.push(Addition {
            amount: Some(share(weight / total)),
            timing: boiled_for(*left_min),
            ..Addition::of(ingredient(format!("sugar {i}"), Kind::Sugar, facts))
        });
    }
    for (i, (alpha, left_min, by_ibu)) in beer.hops.iter().enumerate() {
        let facts = Stated {
            alpha: said::<AlphaAcids>(*alpha),
            ..Stated::default()
        };
        let amount = if *by_ibu && beer.boil_min > 1.0 {
            Amount::Bitterness(said::<Bitterness>(10.0).unwrap())
        } else {
            Amount::Concentration(said::<Concentration>(0.7).unwrap())
        };
        recipe.boil.additions.push(Addition {
            amount: Some(amount),
            timing: boiled_for(*left_min),
            ..Addition::of(ingredient(format!("hop {i}"), Kind::Hop, facts))
        });
    }
    for (i, juice) in beer.juices.iter().enumerate() {
        let facts = Stated {
            brix: said::<Extract>(juice.brix),
            fermentability: said::<Fermentability>(0.95),
            ..Stated::default()
        };
        recipe.fermentation.additions.push(Addition {
            content: Content::Single(ingredient(format!("juice {i}"), Kind::Juice, facts)),
            amount: Some(Amount::ShareByVolume(
                said::<VolumeShare>(juice.total).unwrap(),
            )),
            timing: Timing {
                at: juice
                    .when
                    .map(|plato| At::Gravity(said::<Extract>(plato).unwrap())),
                contact: None,
            },
        });
    }
    recipe
}

fn lauter(numbers: &mut SeededNumbers) -> (Option<Lauter>, Option<StatedYield>) {
    let known = |reached: f64, of| StatedYield {
        value: said::<BrewhouseYield>(reached).unwrap(),
        of,
        at: YieldPoint::EndOfBoil,
    };
    match numbers.below(6) {
        0 => (Some(Lauter::Bag(Bag::default())), None),
        1 => {
            let sparge = volume(numbers.between(0.0, 0.3));
            (Some(Lauter::Bag(Bag { sparge })), None)
        }
        2 => {
            let sparges = numbers.below(4) as u32;
            (Some(Lauter::Batch(BatchSparge { sparges })), None)
        }
        3 => {
            let reached = said::<BrewhouseYield>(numbers.between(0.5, 1.0));
            (Some(Lauter::Continuous(ContinuousSparge { reached })), None)
        }
        4 => {
            let reached = numbers.between(0.3, 0.8);
            (None, Some(known(reached, YieldBasis::LaboratoryExtract)))
        }
        _ => {
            let reached = numbers.between(0.15, 0.4);
            (None, Some(known(reached, YieldBasis::Grist)))
        }
    }
}

/// A plant whose losses are in proportion to `batch_l`, so that any batch can be brewed on it.
fn plant(numbers: &mut SeededNumbers) -> Brewhouse {
    let mut plant = Brewhouse::new("random");
    (plant.lauter, plant.extract_yield) = lauter(numbers);
    if numbers.coin() {
        plant.retention = said::<Absorption>(numbers.between(0.0, 1.5));
    } else {
        plant.absorption = said::<Absorption>(numbers.between(0.0, 1.5));
    }
    let boiloff = numbers.between(0.0, 0.3);
    plant.evaporation = Some(if numbers.coin() {
        Evaporation::Rate(said::<EvaporationRate>(boiloff).unwrap())
    } else {
        Evaporation::SharePerHour(said::<Share>(boiloff).unwrap())
    });
    plant.mixing = said::<Mixing>(numbers.between(0.0, 1.0));
    plant.conversion = said::<Conversion>(numbers.between(0.8, 1.0));
    plant.tun_loss = volume(numbers.between(0.0, 0.1));
    plant.kettle_loss = volume(numbers.between(0.0, 0.1));
    plant.fermenter_loss = volume(numbers.between(0.0, 0.1));
    plant
}

/// The plant's volumes, which were drawn for one litre, for a batch.
fn sized(mut plant: Brewhouse, batch_l: f64) -> Brewhouse {
    let times = |written: Option<Written<crate::quantity::Volume>>| {
        written.and_then(|w| volume(crate::quantity::in_litres(w.value()) * batch_l))
    };
    plant.tun_loss = times(plant.tun_loss);
    plant.kettle_loss = times(plant.kettle_loss);
    plant.fermenter_loss = times(plant.fermenter_loss);
    if let Some(Lauter::Bag(bag)) = &mut plant.lauter {
        bag.sparge = times(bag.sparge);
    }
    if let Some(Evaporation::Rate(rate)) = plant.evaporation {
        let litres_per_hour = (rate.value().litres_per_hour() * batch_l).min(1e5);
        plant.evaporation = Some(Evaporation::Rate(
            said::<EvaporationRate>(litres_per_hour).unwrap(),
        ));
    }
    plant
}

#[track_caller]
fn same(what: &str, a: f64, b: f64) {
    let room = EXACT * a.abs().max(b.abs()).max(1e-12);
    assert!((a - b).abs() <= room, "{what}: {a} in, {b} out");
}

/// In and out of every stage.
fn balance(worked: &Worked) {
    let Worked {
        setup,
        amounts,
        brewed,
    } = worked;
    let (formula, plant) = (&setup.formula, &setup.plant);
    let liquor_kg = (amounts.liquor.mash_l + amounts.liquor.sparge_l) * WATER_KG_PER_L;
    let (run, boiled, pitched) = (&brewed.run, &brewed.boiled, &brewed.pitched.liquid);
    same(
        "mash water",
        liquor_kg + brewed.grist.moisture_kg,
        run.wort.water_kg + run.left.water_kg,
    );
    same(
        "mash extract",
        brewed.grist.laboratory_extract_kg,
        run.wort.extract_kg + run.left.extract_kg,
    );
    same("run-off volume", run.volume_l, run.wort.volume_l());
    assert!(run.left.water_kg >= -EXACT * liquor_kg && run.left.extract_kg >= -EXACT);
    let (mut sugar_kg, mut sugar_water_kg) = (0.0, 0.0);
    let (mut later_kg, mut later_water_kg) = (0.0, 0.0);
    for (item, part, kg) in fermentables(formula, &amounts.of) {
        if item.is_kettle_sugar() {
            sugar_kg += kg * part.extract;
            sugar_water_kg += kg * part.water;
        } else if item.place.stage == Stage::Ferment {
            later_kg += kg * part.extract;
            later_water_kg += kg * part.water;
        }
    }
    same(
        "boil water",
        run.wort.water_kg + sugar_water_kg,
        boiled.wort.water_kg + boiled.evaporated_kg,
    );
    same(
        "boil extract",
        run.wort.extract_kg + sugar_kg,
        boiled.wort.extract_kg,
    );
    let driven_l = plant.boiloff.litres(run.volume_l, formula.boil_min);
    same(
        "evaporation",
        driven_l * WATER_KG_PER_L,
        boiled.evaporated_kg,
    );
    // What stays in the kettle is wort of the same strength.
    let kept = brewed.into_fermenter_l / boiled.volume_l;
    // Pellets keep 8 L/kg, of which a stated loss holds that of 2 g/L.
    let hops = formula.items.with(&amounts.of);
    let hops_kg: f64 = hops
        .filter(|(item, _)| item.is_hot_hop())
        .map(|(_, kg)| kg)
        .sum();
    let hops_l = 8.0 * (hops_kg - 0.002 * boiled.volume_l).max(0.0);
    same(
        "kettle loss",
        plant.kettle_loss.after(boiled.volume_l) - hops_l,
        brewed.into_fermenter_l,
    );
    same(
        "pitched water",
        boiled.wort.water_kg * kept,
        pitched.water_kg,
    );
    same(
        "pitched extract",
        boiled.wort.extract_kg * kept,
        pitched.extract_kg,
    );
    same(
        "pitched volume",
        brewed.into_fermenter_l,
        pitched.volume_l(),
    );
    let beer = &brewed.cellar.finished;
    let consumed_kg = pitched.extract_kg + later_kg - beer.extract_kg;
    same(
        "beer water",
        pitched.water_kg + later_water_kg,
        beer.water_kg,
    );
    same(
        "ethanol by Balling",
        consumed_kg,
        EXTRACT_PER_ETHANOL * beer.ethanol_kg,
    );
    let left_kg = (CARBON_DIOXIDE_PER_ETHANOL + YEAST_PER_ETHANOL) * beer.ethanol_kg;
    same(
        "all of the beer",
        pitched.mass_kg() + later_kg + later_water_kg,
        beer.mass_kg() + left_kg,
    );
    same(
        "packaged",
        plant.fermenter_loss.after(beer.volume_l()),
        brewed.cellar.packaged_l,
    );
}

/// Every stage's masses balance, the batch is filled where it is counted, and the printed strength is met.
#[test]
fn what_goes_in_comes_out() {
    let mut numbers = SeededNumbers(0x9e37_79b9_7f4a_7c15);
    let mut count = 0;
    for _ in 0..600 {
        let beer = beer(&mut numbers);
        let brewhouse = sized(plant(&mut numbers), beer.batch_l);
        let (recipe, catalogue) = (recipe(&beer), Catalogue::builtin());
        let printed = Printed {
            recipe: &recipe,
            brewhouse: Some(&brewhouse),
            catalogue: &catalogue,
            model: None,
            is_chosen: false,
            spread: false,
        };
        let laid_out = LaidOut::of(&recipe, &catalogue);
        let read = laid_out.and_then(|laid_out| printed.read(laid_out, &mut Notes::default()));
        let source = match read {
            Ok(read) => read,
            // A plant that cannot make this wort, a hop that cannot be as bitter as asked, or juices that leave no room for beer.
            Err(error) => {
                assert_eq!(error.kind(), ErrorKind::Contradiction, "{error}");
                continue;
            }
        };
        balance(&source.worked);
        let brewed = &source.worked.brewed;
        let counted_l = match beer.point {
            BatchPoint::IntoFermenter => brewed.into_fermenter_l,
            BatchPoint::EndOfBoil => brewed.boiled.volume_l,
            BatchPoint::Packaged => brewed.cellar.packaged_l,
        };
        same("batch", counted_l, beer.batch_l);
        same("strength", 100.0 * source.strength, beer.plato);
        count += 1;
    }
    assert!(count > 300, "{count}");
}
