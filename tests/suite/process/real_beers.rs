//! Whole beers as brewers write them, each by hand: kilograms of extract from masses and the yield of the plant, Balling on what ferments, Tinseth on
//! the mean gravity of the boil. Hand figures were worked on masses with Plato's polynomial and Tabarié by volume, outside of the crate; gravities
//! agree within 0.1 °P, alcohol within 0.1 % by volume, bitterness within a unit.

use crate::brewing::predicted_on;
use wortwright::quantity::Bitterness;

/// Original and final extract, alcohol and bitterness of a beer on a plant that yields 80 % and loses nothing.
fn brewed(batch_l: f64, lines: &str) -> [f64; 4] {
    let text = format!(
        "recipe Whole\nbrewed on Pot\nbatch {batch_l} L into fermenter\n{lines}brewhouse Pot\n  batch {batch_l} L into fermenter\n  \
         extract yield 80 %\n  evaporation 3 L/h\n  kettle loss 0 L\n  fermenter loss 0 L\n"
    );
    let found = predicted_on(&text, "Pot").predicted;
    [
        found.original.unwrap().plato(),
        found.final_extract.unwrap().plato(),
        found.alcohol.unwrap().percent(),
        found.bitterness.map_or(0.0, Bitterness::ibu),
    ]
}

#[track_caller]
fn near(found: [f64; 4], wanted: [f64; 4]) {
    for (at, room) in [0.1, 0.1, 0.1, 1.0].into_iter().enumerate() {
        let (found, wanted) = (found[at], wanted[at]);
        assert!(
            (found - wanted).abs() <= room,
            "{at}: {found} is not {wanted}"
        );
    }
}

/// 4 kg of pale, 0.4 of roast and 0.3 of caramel malt: 0.8 x (3.136 + 0.265 + 0.216) kg of extract, of which 0.937 (75 % on malt) of 66, 30 and 44 %
/// ferment; 0.475 kg of lactose, none.
#[test]
fn a_stout_with_lactose() {
    let lines = "mash\n  4 kg pale ale malt\n  400 g roasted barley\n  300 g caramel malt 150 EBC\n  rest 65 C for 60 min\nboil 60 min\n  \
                 40 g fuggle, pellet, 4.5 % alpha at 60 min\n  500 g lactose at 10 min\nferment\n  pitch ale yeast, attenuation 75 %\n";
    near(brewed(20.0, lines), [15.85, 6.39, 5.18, 20.3]);
}

/// 2.5 kg of pale malt and 1.5 of honey when the heat is off, in which no hop boils: more than half of the extract is honey, 95 % of which ferments.
#[test]
fn a_braggot_of_honey() {
    let lines = "mash\n  2.5 kg pale ale malt\n  rest 65 C for 60 min\nboil 60 min\n  15 g goldings, pellet, 5 % alpha at 60 min\n  \
                 1.5 kg honey at 0 min\nferment\n  pitch ale yeast, attenuation 75 %\n";
    near(brewed(10.0, lines), [25.41, 2.15, 13.33, 16.2]);
}

/// 600 g of brown sugar at 12 °P, 0.573 kg of extract: the original gravity is the wort's, the alcohol has it all. Of 50 g of hops 12
/// are more than 2 g/L and keep 0.1 L in the kettle.
#[test]
fn an_imperial_stout_with_sugar_late() {
    let lines = "mash\n  7 kg pale ale malt\n  500 g roasted barley\n  400 g chocolate malt\n  rest 65 C for 60 min\nboil 60 min\n  \
                 50 g magnum, pellet, 13 % alpha at 60 min\nferment\n  pitch ale yeast, attenuation 75 %\n  add 600 g dark brown sugar when 12 P\n";
    near(brewed(19.0, lines), [23.28, 6.65, 10.81, 53.6]);
}

/// Half a kilogram of caramel malt is steeped, and 2.5 of dried extract boil all along.
#[test]
fn an_extract_beer_with_steeped_grain() {
    let lines = "mash\n  500 g caramel malt 150 EBC\n  rest 68 C for 30 min\nboil 60 min\n  2.5 kg dried malt extract pale\n  \
                 25 g northern brewer, pellet, 8.5 % alpha at 60 min\nferment\n  pitch ale yeast, attenuation 75 %\n";
    near(brewed(20.0, lines), [12.75, 3.82, 4.77, 25.0]);
}

/// 300 g of dark invert syrup, 0.235 kg of extract.
#[test]
fn a_bitter_with_invert_syrup() {
    let lines = "mash\n  2.9 kg pale ale malt\n  200 g caramel malt 150 EBC\n  rest 65 C for 60 min\nboil 60 min\n  300 g dark invert syrup\n  \
                 30 g challenger, pellet, 7 % alpha at 60 min\nferment\n  pitch ale yeast, attenuation 75 %\n";
    near(brewed(20.0, lines), [10.43, 2.29, 4.28, 26.8]);
}
