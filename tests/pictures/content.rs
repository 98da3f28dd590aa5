//! What the page says: all that is needed to brew from it, and nothing that must not be brewed.

use super::{example, page};

const PLANTS: &str = include_str!("fixtures/plants.gyle");
const EXTRACT: &str = include_str!("fixtures/extract.gyle");
const STRONG: &str = include_str!("fixtures/strong.gyle");

/// The words of a page between two headings, without marks and with plain spaces.
fn words(page: &str, from: &str, to: &str) -> String {
    let body = page.split_once("<main>").unwrap().1;
    let part = body.split_once(&format!("id=\"{from}\"")).unwrap().1;
    let part = part.split_once(&format!("id=\"{to}\"")).unwrap().0;
    let mut words = String::new();
    for piece in part.split('<') {
        words.push_str(piece.split_once('>').map_or("", |(_, text)| text));
        words.push(' ');
    }
    let words = words.replace("\u{a0}", " ").replace("&#160;", " ");
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn demo() -> String {
    page(
        &[&example("saltmarsh-lantern"), &example("stove-top")],
        "Stove top",
    )
}

#[test]
fn all_that_a_brewer_needs_is_there() {
    let kegged = words(&demo(), "day", "glass");
    for needed in [
        "5.35 mash pH",
        "11.9 L strike water, heated to 69.2 °C",
        "northern brewer, pellets, 9 % alpha",
        "cool to 20 °C in 25 min",
        // 0.9 million cells per mL and °P: 0.9e6 x 8000 mL x 15.6 = 112e9 cells, of 14e9 to 6e9 to the gram.
        "112 billion cells, at 20 °C",
        "8.0 g to 19 g",
        "When the apparent gravity has fallen to 6.0 °P, add:",
        "0.95 bar",
    ] {
        assert!(kegged.contains(needed), "{needed}: {kegged}");
    }
    let bottled = words(&page(&[EXTRACT], "Pot"), "day", "glass");
    for needed in ["10.6 L into the kettle", "no chill", "of table sugar"] {
        assert!(bottled.contains(needed), "{needed}: {bottled}");
    }
    assert!(!bottled.contains("mash pH"), "{bottled}");
}

/// The two glasses are of one basis, so that a beer which is brewed as printed looks like the original.
#[test]
fn a_difference_of_colour_is_told_where_it_is_seen() {
    let same = words(&demo(), "glass", "substitutes");
    assert!(same.contains("no visible difference"), "{same}");
    assert!(same.contains("EBC with juice"), "{same}");
    // A bag that does not reach the gravity brews a thinner, paler beer.
    let paler = words(&page(&[STRONG, PLANTS], "Jar"), "glass", "changes");
    assert!(paler.contains("this brew is paler"), "{paler}");
    assert!(!paler.contains("with juice"), "{paler}");
}

#[test]
fn what_cannot_be_brewed_has_no_amounts() {
    let small = page(&[STRONG, PLANTS], "Thimble");
    let all = words(&small, "figures", "changes");
    assert!(all.contains("No amounts are shown"), "{all}");
    assert!(!all.contains("this brew "), "{all}");
    assert!(!small.contains("class=\"box\"") && !small.contains("day-picture"));
    assert!(demo().contains("class=\"box\""));
}

/// Neither a tick nor a line of the shopping list asks for a plant that must not go into a drink.
#[test]
fn a_plant_that_must_not_be_drunk_is_named_in_the_first_box_alone() {
    let with = |plant: &str| {
        EXTRACT.replace(
            "  20 g cascade",
            &format!("  5 g {plant} at 5 min\n  20 g cascade"),
        )
    };
    let tansy = page(&[&with("tansy")], "Pot");
    let day = words(&tansy, "shopping", "changes");
    assert!(!day.contains("tansy"), "{day}");
    let head = tansy.split_once("class=\"stop\"").unwrap().1;
    assert!(head.split_once("</header>").unwrap().0.contains("tansy"));
    let juniper = words(
        &page(&[&with("juniper berries")], "Pot"),
        "shopping",
        "changes",
    );
    assert!(juniper.contains("5 min left: juniper berries"), "{juniper}");
}
