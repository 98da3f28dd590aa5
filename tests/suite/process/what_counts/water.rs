//! Water, and what counts as water, in the kettle, the mash and the fermenter.

use super::{Lines, PLAIN, abv, finished_l, places};
use crate::brewing::{l, near};
use wortwright::process::Prediction;
use wortwright::scale::Outcome;

/// The batch, the extract and the steam are the same, so that 5 L of water in the kettle leave 5 L less to be drawn from the tap
/// before.
#[test]
fn water_in_the_kettle_is_brewing_water() {
    let plain = PLAIN.predicted();
    let boil = format!("{}  5 L water at 10 min\n", PLAIN.boil);
    let in_boil = Lines {
        boil: &boil,
        ..PLAIN
    };
    let hot = "stand 20 min at 80 C\n  5 L tap water for 20 min\n";
    let in_stand = Lines { hot, ..PLAIN };
    for lines in [in_boil, in_stand] {
        let thinned = lines.predicted();
        let water = |found: &Prediction| l(found.volumes.total_water);
        // Volumes of wort and water do not quite add up: 1 mL of 5 L.
        near(water(&plain) - water(&thinned), 5.0, 3e-4, "water drawn");
        near(l(thinned.volumes.into_fermenter), 20.0, 1e-6, "batch");
        let original = |found: &Prediction| found.predicted.original.unwrap().plato();
        near(original(&thinned), original(&plain), 1e-6, "original");
        // A fifth of the kettle is still missing before the boil.
        let pre_boil = |found: &Prediction| l(found.volumes.pre_boil);
        near(
            pre_boil(&plain) - pre_boil(&thinned),
            5.0,
            0.005,
            "before the boil",
        );
        // The hop meets a stronger wort for most of the boil, and so gives less.
        assert!(thinned.predicted.bitterness < plain.predicted.bitterness);
    }
}

/// Ethanol and iso-alpha-acids stay, the litres grow: a beer of V litres has V/(V + 5) of its strength. Water and beer shrink by
/// less than 0.02 L on mixing.
#[test]
fn water_in_the_fermenter_thins_the_beer() {
    let plain = PLAIN.predicted();
    let ferment = "  5 L boiled water on day 7\n";
    let thinned = Lines { ferment, ..PLAIN }.predicted();
    near(
        finished_l(&thinned),
        finished_l(&plain) + 5.0,
        0.001,
        "litres",
    );
    let share = finished_l(&plain) / (finished_l(&plain) + 5.0);
    near(abv(&thinned), abv(&plain) * share, 0.001, "alcohol");
    let ibu = |found: &Prediction| found.predicted.bitterness.unwrap().ibu();
    near(ibu(&thinned), ibu(&plain) * share, 0.001, "bitterness");
}

#[test]
fn water_with_the_grist_is_part_of_the_mash_water() {
    let mash = "  5 L water\n";
    let found = Lines { mash, ..PLAIN }.predicted();
    let told = places(&found, "part_of_mash_water");
    assert_eq!(told, ["recipe.mash.additions[1].content.single"]);
    let plain = PLAIN.predicted();
    assert_eq!(found.volumes.total_water, plain.volumes.total_water);
}

/// Half a litre of finings in water is half a litre of water.
#[test]
fn finings_in_solution_bring_their_water() {
    let plain = PLAIN.predicted();
    let ferment = "  500 mL isinglass on day 7\n";
    let fined = Lines { ferment, ..PLAIN }.predicted();
    near(
        finished_l(&fined),
        finished_l(&plain) + 0.5,
        0.001,
        "litres",
    );
    let told = places(&fined, "counted_as_water");
    assert_eq!(told, ["recipe.fermentation.additions[0].amount"]);
    let ferment = "  1 g isinglass on day 7\n";
    let dry = Lines { ferment, ..PLAIN }.predicted();
    assert_eq!(dry.predicted.finished, plain.predicted.finished);
    // It brings no extract, so that it is no addition whose gravity is to be read.
    assert_eq!(fined.predicted.before_addition, None);
}

/// Water at the end of the boil: the kettle is fullest then, with 21 L of wort that grow by 4.15 % from 20 to 100 °C.
#[test]
fn a_kettle_holds_what_is_poured_into_it() {
    let kettle = |litres: f64, boil: &str| {
        let plant = format!("  lauter batch, sparges 1\n  kettle {litres} L\n");
        let lines = Lines {
            boil,
            plant: &plant,
            ..PLAIN
        };
        let job = wortwright::Job::read([("text", lines.text())]).unwrap();
        let plan = job.on("Home").unwrap().plan().unwrap();
        plan.outcomes.into_iter().find_map(|told| match told.what {
            Outcome::KettleOverflows { needed, .. } => {
                assert_eq!(told.place.unwrap().to_string(), "brewhouses[Home].kettle_l");
                Some(l(needed))
            }
            _ => None,
        })
    };
    let late = "  10 L water at 0 min\n";
    // 15 L before the boil, 21 L behind it.
    assert_eq!(kettle(22.5, late), None);
    near(kettle(21.0, late).unwrap(), 21.0 * 1.0415, 3e-3, "full");
    // Without it, 25 L before the boil.
    near(kettle(22.5, "").unwrap(), 25.0 * 1.0415, 3e-3, "full");
    // 15 L before the boil, and nearly all of the steam yet to come.
    let early = kettle(22.5, "  10 L water at 45 min\n").unwrap();
    near(early, 24.0 * 1.0415, 3e-3, "full");
}

/// 30 L into the kettle for 21 L of wort at the end of the boil, of which 4 L boil off: nothing is left to be drawn.
#[test]
fn a_kettle_takes_no_more_water_than_its_wort_has() {
    let boil = "  30 L water at 60 min\n";
    Lines { boil, ..PLAIN }.refused_at("30 L water", "fermenter");
    let boil = "  10 L water at 60 min\n";
    let found = Lines { boil, ..PLAIN }.predicted();
    near(l(found.volumes.into_fermenter), 20.0, 1e-6, "batch");
}

/// 24 L of water for 20 L of wort, where 8 L boil off and the extract brings next to none. On a plant that boils 2 L off
/// half of it is 12 L, and 10 L of wort and 2 L of steam have no room for it with the water of the syrup.
#[test]
fn a_kettle_that_boils_off_less_takes_less_water() {
    let text = "recipe Counted\nbrewed on Home\nbatch 20 L at end of boil\nboil 60 min\n  2.5 kg liquid malt extract at 60 min\n  \
                24 L water at 60 min\nferment\n  pitch ale yeast\nbrewhouse Home\n  no mash\n  evaporation 8 L/h\n\
                brewhouse Half\n  batch 10 L at end of boil\n  no mash\n  evaporation EVAPORATION L/h\n";
    let plan = |evaporation: &str| {
        let text = text.replace("EVAPORATION", evaporation);
        let job = wortwright::Job::read([("text", &*text)]).unwrap();
        job.on("Half").unwrap().plan()
    };
    plan("4").unwrap();
    let refused = plan("1").unwrap_err();
    assert!(
        refused.to_string().contains("no room for wort"),
        "{refused}"
    );
    assert_eq!(
        refused.place().unwrap().to_string(),
        "recipe.boil.additions[1].amount"
    );
}
