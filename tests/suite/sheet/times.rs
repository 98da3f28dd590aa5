//! What has a time of its own on the clock: sparge water, malt extract, a stand below the boil; and what strong worts and short
//! stocks ask for.

use crate::brewing::weighed;

/// The sheet of 20 L on this plant, with these lines of malt extract and after the boil.
fn sheet(kettle: &str, after: &str, plant: &str) -> String {
    let text = format!(
        "recipe Timed\nbatch 20 L into fermenter\nmash\n  4 kg pilsner malt\n  rest 66 C for 60 min\nboil 60 min\n{kettle}\
         {after}ferment\n  pitch american ale yeast at 18 C\nbrewhouse Pot\n  batch 20 L into fermenter\n  kettle 40 L\n{plant}"
    );
    weighed(&text, "Pot").to_string()
}

/// The line with these words, and the minutes of its clock.
fn timed(sheet: &str, words: &str) -> (String, u32) {
    let is_timed = |line: &&str| line.starts_with("   [ ]") && line.contains(':');
    let line = (sheet.lines().filter(is_timed)).find(|line| line.contains(words));
    let line = line.unwrap_or_else(|| panic!("no `{words}` on\n{sheet}"));
    let face = line.split_whitespace().find(|word| word.contains(':'));
    let (hours, minutes) = face.unwrap().split_once(':').unwrap();
    let [hours, minutes] = [hours, minutes].map(|part| part.parse::<u32>().unwrap());
    (line.to_owned(), 60 * hours + minutes)
}

/// From 100 to 20 °C in 25 min in water of 14 °C: 86 K fall to 6 K, e^(-25/t) = 6/86, t = 9.39 min. To 90 °C 86 K fall to 76:
/// 9.39 ln(86/76) = 1.16 min. Without a coil 25 K take 25 min at 1 K/min.
#[test]
fn the_clock_goes_on_past_a_stand_below_the_boil() {
    let stood = |at: &str, plant: &str| {
        let stand = format!("stand 20 min at {at}\n  20 g cascade, 6 % alpha for 20 min\n");
        let sheet = sheet("", &stand, plant);
        let off = timed(&sheet, "heat off").1;
        let (line, began) = timed(&sheet, &format!("stand at {}", at.replace(" C", " °C")));
        let pitch = sheet.lines().find(|line| line.contains("aerate well"));
        assert_eq!(pitch.unwrap().contains("__:__"), plant.contains("no chill"));
        (line, began - off)
    };
    let coil = "  lauter bag\n  cool to 20 C in 25 min by coil\n  coolant 14 C\n";
    let (line, cooled) = stood("90 C", coil);
    assert!(line.contains("(about 2 min)"), "{line}");
    assert_eq!(cooled, 1);
    let (line, cooled) = stood("75 C", "  lauter bag\n  no chill\n");
    assert!(line.contains("(about 25 min)"), "{line}");
    assert_eq!(cooled, 25);
}

/// The bag drains for 15 min before the sparge; 77 °C from 15 °C at 1 °C/min are 62 min, so 47 before the bag is lifted.
#[test]
fn sparge_water_is_put_on_the_heat_in_time() {
    let bag = sheet("", "", "  lauter bag, sparge 6 L\n");
    let (line, on) = timed(&bag, "of sparge water in a second vessel");
    assert!(line.contains("heat 6.00 L"), "{line}");
    assert_eq!(timed(&bag, "lift and drain the bag").1 - on, 47);
    // A tun is drained for 20 min first, and the kettle takes what runs off.
    let tun = sheet("", "", "  mash tun 30 L\n  lauter batch, sparges 1\n");
    let (_, on) = timed(&tun, "of sparge water in a second vessel");
    assert_eq!(timed(&tun, "drain, then batch sparge").1 - on, 42);
    let none = sheet("", "", "  lauter bag\n");
    assert!(!none.contains("second vessel"), "{none}");
}

/// Malt extract dissolves with the heat off; the hour of the hops runs from the boil after it.
#[test]
fn extract_dissolves_before_the_boil_begins() {
    let extract = "  500 g dried malt extract pale at 60 min\n  20 g perle, 8 % alpha at 60 min\n";
    let with = sheet(extract, "", "  lauter bag\n");
    let (_, dissolved) = timed(&with, "dried malt extract pale");
    let boils = timed(&with, "boil starts").1;
    assert_eq!(boils - dissolved, 10);
    assert_eq!(timed(&with, "perle").1, boils);
    // What goes in later goes into the boil.
    let late = sheet(
        &extract.replacen("60 min", "15 min", 1),
        "",
        "  lauter bag\n",
    );
    let (_, dissolved) = timed(&late, "dried malt extract pale");
    assert_eq!(dissolved - timed(&late, "boil starts").1, 45);
}

/// 20 L of 20 °P at the ordinary 0.75 million for each mL and °P are 300 billion cells, and a third more 400.
#[test]
fn a_strong_wort_is_pitched_and_aerated_for_its_strength() {
    let of = |original: &str, yeast: &str| {
        let text = format!(
            "recipe Strong\nbatch 20 L into fermenter\ntarget original {original}\nmash\n  100 % pale ale malt\nferment\n  \
             pitch {yeast}\nbrewhouse Pot\n  batch 20 L into fermenter\n  mash tun 60 L\n  lauter batch, sparges 1\n"
        );
        let plan = weighed(&text, "Pot");
        let litres_plato = 20.0 * plan.predicted.original.unwrap().plato();
        let rate = plan.cells.unwrap().billions() / litres_plato;
        (rate, plan.to_string().contains("aerate again"))
    };
    let (strong, twice) = of("20 P", "american ale yeast");
    assert!((strong - 1.0).abs() < 1e-3 && twice, "{strong}");
    let (usual, twice) = of("17 P", "american ale yeast");
    assert!((usual - 0.75).abs() < 1e-3 && !twice, "{usual}");
    let (stated, twice) = of("20 P", "american ale yeast, 0.9 M/mL/P");
    assert!((stated - 0.9).abs() < 1e-3 && !twice, "{stated}");
}

/// A stock that does not go round is used up, and the rest is bought; nothing stops the day.
#[test]
fn a_short_stock_is_filled_up() {
    let text = "recipe Short\nbatch 20 L into fermenter\nmash\n  4 kg pilsner malt\nbrewhouse Pot\n  batch 20 L into fermenter\n\
                stock\n";
    let short = weighed(&format!("{text}  1 kg pilsner malt\n"), "Pot").to_string();
    assert!(short.contains("needed; the rest is in stock)"), "{short}");
    assert!(
        !short.contains("Not available") && !short.contains("STOP"),
        "{short}"
    );
    let none = weighed(&format!("{text}  none pilsner malt\n"), "Pot").to_string();
    assert!(
        none.contains("Not available") && none.contains("STOP"),
        "{none}"
    );
}
