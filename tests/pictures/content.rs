//! What the page says: all that is needed to brew from it, and nothing that must not be brewed.

use super::{example, page};
use wortwright::process::PredictedFigure;

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
        "11.9 L strike water, heated to 69 °C",
        "northern brewer, pellets, 9 % alpha",
        "cool to 20 °C in 25 min",
        // 0.9 million cells per mL and °P: 0.9e6 x 8000 mL x 15.6 = 112e9 cells, of 14e9 to 6e9 to the gram.
        "112 billion cells, at 20 °C",
        "8.0 g to 19 g",
        "When the apparent gravity has fallen to 6.0 °P, add:",
        "set the regulator to 0.95 bar (gauge), keg at 4 °C",
    ] {
        assert!(kegged.contains(needed), "{needed}: {kegged}");
    }
    let bottled = words(&page(&[EXTRACT], "Pot"), "day", "glass");
    for needed in ["10.6 L into the kettle", "no chill", "of table sugar"] {
        assert!(bottled.contains(needed), "{needed}: {bottled}");
    }
    assert!(!bottled.contains("mash pH"), "{bottled}");
}

/// One rule with the sheet: the substitute is on the list and at its step.
#[test]
fn the_page_is_brewed_with_its_substitutes() {
    let page = demo();
    for (from, to) in [("shopping", "day"), ("day", "glass")] {
        let part = words(&page, from, to);
        assert!(part.contains("185 g flaked wheat"), "{part}");
        assert!(part.contains("instead of flaked spelt"), "{part}");
        assert!(!part.contains("not available"), "{part}");
    }
    let head = page.split_once("class=\"stop\"").unwrap().1;
    let head = head
        .split_once("</header>")
        .unwrap()
        .0
        .replace('\u{a0}', " ");
    assert!(head.contains("No flaked spelt: use 185 g flaked wheat ("));
}

/// Juice weaker than the beer lowers its gravity.
#[test]
fn the_paper_says_which_way_an_addition_moves_the_gravity() {
    let of = |page: &str| words(page, "fermenter", "glass");
    let rises = of(&demo());
    assert!(
        rises.contains("rises to") && !rises.contains("falls to"),
        "{rises}"
    );
    let early = example("saltmarsh-lantern").replace("when 6 P", "when 14 P");
    let early = early.replace("13.5 Bx", "4 Bx");
    let weak = example("stove-top").replace("sour cherry juice, 13 Bx", "sour cherry juice, 4 Bx");
    let falls = of(&page(&[&early, &weak], "Stove top"));
    assert!(
        falls.contains("falls to") && !falls.contains("rises to"),
        "{falls}"
    );
}

/// The two glasses are of one basis, so that a beer which is brewed as printed looks like the original.
#[test]
fn a_difference_of_colour_is_told_where_it_is_seen() {
    let same = words(&demo(), "glass", "substitutes");
    assert!(same.contains("no visible difference"), "{same}");
    assert!(same.contains("EBC with juice"), "{same}");
    // The lot at hand is paler than the malt of the sheet.
    let lot = "stock\n  any caramel malt 150 EBC, 60 EBC\n";
    let paler = words(&page(&[STRONG, PLANTS, lot], "Bag"), "glass", "changes");
    assert!(paler.contains("this brew is paler"), "{paler}");
    assert!(!paler.contains("with juice"), "{paler}");
}

/// Widths of the vessels in the picture of the day, and the litres that stand in them.
fn vessels(page: &str) -> Vec<(f64, f64)> {
    let picture = page.split_once("day-picture-said\">").unwrap().1;
    let picture = picture.split_once("</svg>").unwrap().0;
    let mut found = Vec::new();
    for vessel in picture.split("<rect ").skip(1) {
        let number = |from: &str, to: &str| {
            let (text, _) = vessel.split_once(from).unwrap().1.split_once(to).unwrap();
            text.parse::<f64>().unwrap()
        };
        let volume = vessel.split_once("\"middle\">").unwrap().1;
        let (litres, unit) = volume
            .split_once("</text>")
            .unwrap()
            .0
            .split_once('\u{a0}')
            .unwrap();
        let unit = match unit {
            "mL" => 0.001,
            "hL" => 100.0,
            _ => 1.0,
        };
        found.push((
            number("width=\"", "\""),
            litres.parse::<f64>().unwrap() * unit,
        ));
    }
    found
}

#[test]
fn the_day_is_drawn_to_scale() {
    let crowded = include_str!("fixtures/crowded.gyle");
    for (page, most) in [
        (demo(), 11.9),
        (page(&[crowded, PLANTS], "Jar"), 2.72),
        (page(&[crowded, PLANTS], "Works"), 11_100.0),
    ] {
        let vessels = vessels(&page);
        assert_eq!(vessels.len(), 6, "{vessels:?}");
        let largest = vessels.iter().fold(
            (0.0, 0.0),
            |a: (f64, f64), b| if b.1 > a.1 { *b } else { a },
        );
        assert!((largest.1 - most).abs() < 1e-9 * most, "{largest:?}");
        for (wide, litres) in &vessels {
            // Both are rounded: a tenth of a pixel, and the last of three digits.
            let scale = largest.0 / largest.1;
            assert!(
                (wide - litres * scale).abs() < 0.1 + 0.005 * wide,
                "{vessels:?}"
            );
        }
    }
}

/// What comes in and what is lost explain each step: 11.9 + 1.20 - 1.29 = 11.8 L, + 0.04 - 3.25 = 8.60, - 0.60 = 8.00,
/// + 1.06 = 9.06, - 0.51 = 8.54; the plant's own figures are 0.65 L/kg of 1.990 kg, 2.6 L/h of 1.25 h, 0.6 L and 0.5 L.
#[test]
fn losses_are_those_of_the_plant() {
    let volumes = words(&demo(), "volumes", "safety");
    for told in [
        "1.29 L grain absorption",
        "3.25 L boil-off",
        "600 mL trub, hops, kettle",
        "514 mL yeast, sediment",
    ] {
        let spoken = told.split(' ').collect::<Vec<_>>().join(" ");
        assert!(volumes.contains(&spoken), "{told}: {volumes}");
    }
    // Two litres per hour more for 75 min.
    let hot = example("stove-top").replace("2.6 L/h", "4.6 L/h");
    let hot = words(
        &page(&[&example("saltmarsh-lantern"), &hot], "Stove top"),
        "volumes",
        "safety",
    );
    assert!(hot.contains("5.75 L boil-off"), "{hot}");
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

/// As many dots as steps are noticed, and none for what is the same.
#[test]
fn dots_count_what_is_noticed() {
    let (beer, plant) = (example("saltmarsh-lantern"), example("stove-top"));
    let job = wortwright::Job::read([("beer", beer), ("plant", plant)]).unwrap();
    let missing = job.on("Stove top").unwrap().substitutes().unwrap().missing;
    let told = missing
        .iter()
        .flat_map(|line| line.proposals.iter().take(4));
    let (mut dots, mut same) = (0, 0);
    for noticed in told.flat_map(|proposal| &proposal.noticed) {
        // Half a step is the least that is noticed, one the least that makes a dot, four another beer.
        match noticed.steps.abs() {
            ..0.5 => same += 1,
            ..1.0 => {}
            steps => dots += (steps.round() as usize).min(if steps < 4.0 { 3 } else { 4 }),
        }
    }
    assert!(dots > 0 && same > 0, "{dots} {same}");
    let page = demo();
    let part = page.split_once("id=\"substitutes\"").unwrap().1;
    let part = part.split_once("id=\"changes\"").unwrap().0;
    // One more of each in the words that explain them.
    assert_eq!(part.matches("<i class=\"dot\">").count(), dots + 1);
    assert_eq!(part.matches(">=</span>").count(), same);
}

/// The high bar is one sigma either way, the low one two, and the range that stands beside them is that of the plan.
#[test]
fn bars_are_the_spread_of_the_plan() {
    let (beer, plant) = (example("saltmarsh-lantern"), example("stove-top"));
    for (texts, plant, figures) in [
        (vec![("beer", beer), ("plant", plant)], "Stove top", 5),
        (vec![("beer", EXTRACT.to_owned())], "Pot", 5),
    ] {
        let pages: Vec<_> = texts.iter().map(|(_, text)| text.as_str()).collect();
        let page = page(&pages, plant);
        let plan = wortwright::Job::read(texts)
            .unwrap()
            .on(plant)
            .unwrap()
            .plan()
            .unwrap();
        let sigma = plan
            .spread
            .unwrap()
            .of(PredictedFigure::Original)
            .unwrap()
            .one_sigma;
        let original = plan.predicted.original.unwrap().plato();
        let range = format!("{:.1} °P to {:.1} °P", original - sigma, original + sigma);
        let part = page
            .split_once("spread-picture-said\">")
            .unwrap()
            .1
            .split_once("</svg>")
            .unwrap()
            .0;
        assert!(
            part.replace('\u{a0}', " ").contains(&range),
            "{range}: {part}"
        );
        let wide = |bar: &str| {
            bar.split_once("width=\"")
                .unwrap()
                .1
                .split_once('"')
                .unwrap()
                .0
                .parse::<f64>()
                .unwrap()
        };
        let bars: Vec<f64> = part.split("<rect ").skip(1).map(wide).collect();
        assert_eq!(bars.len(), 2 * figures, "{part}");
        for pair in bars.chunks(2) {
            assert!(
                (pair[0] - 2.0 * pair[1]).abs() < 0.2 && pair[1] > 1.0,
                "{bars:?}"
            );
        }
    }
}
