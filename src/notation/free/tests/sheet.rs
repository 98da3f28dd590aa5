//! Sheets as jotted.

use super::{GRIST, added, codes, questions, said, told, understood};
use crate::diagnostic::{Code, TextRef};
use crate::notation::{ReadingNote, read};

#[test]
fn the_mash_is_read_by_its_own_heat_and_not_by_that_of_its_water() {
    let wanted = ["rest 68 C for 1 h", "mash in 2.800 L/kg"];
    assert_eq!(said("Mash - 14 L at 76 to hit 68C, one hour"), wanted);
    let wanted = ["rest 66 C for 45 min", "mash in 2.400 L/kg"];
    assert_eq!(said("12 L water at 72C -> 66C, 45 min"), wanted);
    let wanted = ["mash in 2.6 L/kg", "rest 66.5 C for 90 min"];
    let typed = "Mash 66.5°C, 90 minutes, 2.6 litres of liquor to the kilo";
    assert_eq!(said(typed), wanted);
}

#[test]
fn steps_of_a_mash_stand_in_a_row() {
    let wanted = [
        "rest 67 C for 40 min",
        "rest 72 C for 10 min",
        "rest 78 C for 10 min",
    ];
    assert_eq!(said("67/40, 72/10, 78"), wanted);
    assert_eq!(said("67 °C 40', 72 °C 10', 78 °C"), wanted);
}

#[test]
fn hops_that_stay_in_the_hot_wort_are_in_a_stand() {
    for typed in [
        "boil 60\n30 g saaz at switch off, leave them half an hour",
        "boil 60\n30 g saaz, off the boil, half an hour stand",
        "boil 60\nsteep 30 g saaz half an hour off the boil",
    ] {
        let lines = said(typed);
        assert!(
            lines.contains(&"stand 0.5 h".to_owned()),
            "{typed}: {lines:?}"
        );
        assert!(
            lines.contains(&"30 g Saazer for 0.5 h".to_owned()),
            "{typed}: {lines:?}"
        );
    }
    assert!(said("boil 60\n30 g saaz at switch off").contains(&"30 g Saazer at 0 min".to_owned()));
}

#[test]
fn decimal_commas_are_read_where_a_text_has_no_other_sign() {
    let text = "Ale\n20,5 L\n4,5 kg pale ale malt\n";
    assert_eq!(codes(text), []);
    assert!(understood(text).contains(&"4.5 kg pale ale malt".to_owned()));
    // One alone, some beside a point, and one that may be thousands are asked, once a text.
    assert_eq!(
        codes("Ale\n20 L\n4,5 kg pale ale malt\n"),
        [Code::AmbiguousNumber]
    );
    let both = "Ale\n20.5 L\n4,5 kg pale ale malt\n0,5 kg vienna malt\n";
    assert_eq!(codes(both), [Code::AmbiguousNumber]);
    let thousand = "Ale\n20,5 L\n4,5 kg pale ale malt\n1,000 g vienna malt\n";
    assert_eq!(codes(thousand), [Code::AmbiguousNumber]);
}

#[test]
fn a_time_that_stands_once_on_a_line_is_that_of_all_its_additions() {
    let lines = said("boil 60\n15 g coriander + 10 g bitter orange peel, 10 min");
    let wanted = [
        "15 g coriander at 10 min",
        "10 g bitter orange peel at 10 min",
    ];
    for wanted in wanted {
        assert!(lines.contains(&wanted.to_owned()), "{wanted}: {lines:?}");
    }
    // Two times are each its own.
    let lines = said("boil 60\n15 g saaz 60 min, 10 g saaz 5 min");
    assert!(
        lines.contains(&"15 g Saazer at 60 min".to_owned()),
        "{lines:?}"
    );
    assert!(
        lines.contains(&"10 g Saazer at 5 min".to_owned()),
        "{lines:?}"
    );
}

#[test]
fn the_heat_beside_a_yeast_is_that_at_which_it_is_pitched() {
    let pitched = "pitch 11 g ale yeast at 19 C".to_owned();
    for typed in [
        "Ferment 19 C, ale yeast 11 g",
        "ale yeast 11 g at 19 C",
        "pitch at 19 C\nale yeast 11 g",
        "Yeast: ale, 11 g, 19 C",
    ] {
        let lines = said(&format!("boil 60\n{typed}"));
        assert!(lines.contains(&pitched), "{typed}: {lines:?}");
        assert!(
            lines.iter().all(|line| !line.starts_with("hold")),
            "{typed}: {lines:?}"
        );
    }
}

#[test]
fn souring_before_the_boil_makes_no_fermentation() {
    let text = "Sour\n20 L\n4 kg pilsner malt\nkettle sour:\ncool to 38 C, 10 mL lactic acid\nhold 38 C for 36 hours, until pH 3.4\nboil 60 min\n10 g saaz 60 min\n";
    let lines = understood(text);
    for line in &lines {
        assert!(
            !["hold", "cool", "pH", "stand", "ferment"]
                .iter()
                .any(|word| line.starts_with(word)),
            "{lines:?}"
        );
    }
    assert!(told(text).contains(&"10 mL".to_owned()));
    assert!(
        lines.contains(&"sour for 36 h at 38 C to pH 3.4".to_owned()),
        "{lines:?}"
    );
    assert!(
        lines.contains(&"10 g Saazer at 60 min".to_owned()),
        "{lines:?}"
    );
}

#[test]
fn what_a_brewer_has_is_stock_and_no_grist() {
    let text = "Ale\n20 L\nOn hand: 14 kg pilsner malt, no lactic acid, gypsum plenty\nUse: 4 kg pilsner malt\n";
    let lines = understood(text);
    let at = lines.iter().position(|line| line == "stock").unwrap();
    let stored = &lines[at + 1..];
    for wanted in [
        "14 kg pilsner malt",
        "none lactic acid",
        "any calcium sulphate dihydrate",
    ] {
        assert!(stored.contains(&wanted.to_owned()), "{wanted}: {lines:?}");
    }
    assert!(
        lines[..at].contains(&"4 kg pilsner malt".to_owned()),
        "{lines:?}"
    );
}

#[test]
fn what_goes_into_each_of_several_mashes_is_counted() {
    let text = "Stout, two mashes one boil\n20 L\nmash 1 + mash 2, each:\n3 kg pale ale malt\nboil 60 min\n";
    assert!(
        understood(text).contains(&"6 kg pale ale malt".to_owned()),
        "{:?}",
        understood(text)
    );
    assert_eq!(
        codes("Stout\n20 L\nEach turn:\n3 kg pale ale malt\nboil 60 min\n"),
        [Code::MissingQuantity]
    );
}

#[test]
fn the_name_of_the_beer_may_be_said() {
    for typed in [
        "A good one for parties\nThe name's Low Tide\n20 L\n5 kg pale ale malt\n",
        "House beers\nTake-home recipe: Low Tide\n20 L\n5 kg pale ale malt\n",
        "This beer is called Low Tide.\n20 L\n5 kg pale ale malt\n",
    ] {
        let lines = understood(typed);
        assert!(
            lines.contains(&"recipe \"Low Tide\"".to_owned()),
            "{typed}: {lines:?}"
        );
    }
    let lines = understood("Bitter No. 4\n20 L\n5 kg pale ale malt\n");
    assert!(
        lines.contains(&"recipe \"Bitter No. 4\"".to_owned()),
        "{lines:?}"
    );
}

#[test]
fn what_is_counted_is_weighed() {
    // A vanilla bean of 3 g, a stick of cinnamon of 4 g, the zest of a lemon of 5 g (common practice, no source).
    assert_eq!(added("2 vanilla beans at 5 min"), ["6 g vanilla at 5 min"]);
    assert_eq!(
        added("cinnamon 3 sticks, 10 min"),
        ["12 g cinnamon at 10 min"]
    );
    assert_eq!(
        added("zest of 2 lemons at 5 min"),
        ["10 g lemon peel at 5 min"]
    );
    assert_eq!(added("half a kettle finings tablet, 10 min").len(), 1);
    assert_eq!(added("Star anise"), Vec::<String>::new());
}

#[test]
fn alpha_acid_units_are_ounces_times_per_cent() {
    // 7 AAU of a hop of 5 %: 7 / 5 = 1.4 oz.
    let stated = added("7 AAU Fuggle 5 % at 30 min");
    assert_eq!(stated, ["1.4 oz Fuggle, 5 % alpha at 30 min"]);
    // Without it the catalogue's, which is written down with it: ounces times per cent make the units again.
    let assumed = added("6 HBU Cluster at 30 min");
    let [line] = &assumed[..] else {
        panic!("{assumed:?}");
    };
    let numbers: Vec<f64> = line
        .split(' ')
        .filter_map(|word| word.parse().ok())
        .collect();
    let [ounces, alpha, _] = numbers[..] else {
        panic!("{line}");
    };
    assert!((ounces * alpha - 6.0).abs() < 0.01, "{line}");
    assert!(
        line.contains("oz Cluster,") && line.contains("% alpha"),
        "{line}"
    );
}

#[test]
fn what_may_be_another_thing_is_asked() {
    let asks = |text: &str, word: &str| {
        let found = questions(text);
        assert!(
            found.iter().any(|message| message.contains(word)),
            "{text}: {found:?}"
        );
    };
    asks("Ale\n10 bbl\nmash:\n100 % pale ale malt\n", "whose barrels");
    asks(
        "Ale\n20 L\nmash:\n4 kg pale ale malt\nmash at 152\n",
        "a scale after",
    );
    asks("Ale\n20 L\n2 kg wheat malt\n10# pale ale malt\n", "`#`");
    asks(
        "brewhouse Small\n  10 % evaporation\n",
        "a time after an evaporation",
    );
    asks(
        "brewhouse Small\n  two kettles\n  boils off 8 L an hour each\n",
        "the whole plant",
    );
    asks(
        "Ale\nmash:\n4 kg pale ale malt\nmash in 30 min at 67 C\n",
        "how long the mash rests",
    );
    // One answer settles all barrels.
    let twice = questions("Ale\n10 bbl into fermenter\nmash:\n100 % pale ale malt\nsparge 3 bbl\n");
    assert_eq!(
        twice
            .iter()
            .filter(|message| message.contains("barrels"))
            .count(),
        1
    );
    // Quarts are of the United States, and so are the barrels beside them.
    assert!(questions("Ale\n10 bbl\nmash:\n100 % pale ale malt\nsparge 30 qt\n").is_empty());
}

#[test]
fn a_wish_is_no_ingredient_and_what_is_left_out_takes_nothing_with_it() {
    assert_eq!(
        added("300 g munich malt (vienna if I can get it)"),
        ["300 g munich malt"]
    );
    assert_eq!(
        added("peel of one orange, no pith, 5 min"),
        ["8 g orange peel at 5 min"]
    );
}

#[test]
fn days_times_and_heats_are_those_of_all_additions_beside_each_other() {
    let lines = added("ferment\ndry hop day 7: 25 g citra, 25 g mosaic, 15 g galaxy, 3 days");
    let hops: Vec<_> = lines
        .iter()
        .filter(|line| line.starts_with("add"))
        .collect();
    assert_eq!(hops.len(), 3, "{lines:?}");
    assert!(
        hops.iter().all(|line| line.contains("on day 7 for 3 days")),
        "{lines:?}"
    );
}

#[test]
fn a_part_that_is_boiled_brings_the_mash_to_a_rest() {
    let sheet = "Lager\n20 L\nmash:\n4 kg pilsner malt\n52 C 10 min\npull a third, boil 15 min, back -> 64 C\n64 C 30 min\n";
    let rests: Vec<String> = understood(sheet)
        .into_iter()
        .filter(|line| line.starts_with("rest"))
        .collect();
    assert_eq!(
        rests,
        [
            "rest 52 C for 10 min",
            "rest 64 C for 10 min",
            "rest 64 C for 30 min"
        ]
    );
}

#[test]
fn yeast_never_boils() {
    let lines = added("saison yeast, start 20 C and let it rise to 26 C");
    assert!(
        lines
            .iter()
            .any(|line| line.starts_with("pitch") && line.ends_with("at 20 C")),
        "{lines:?}"
    );
}

#[test]
fn a_comma_in_a_jotted_page_is_read_and_asked_about() {
    let sheet = "Pils\n20.5 L\nmash:\n5,4 kg pilsner malt\n0.3 kg wheat malt\nhops:\n1,200 g saaz at 10 min\n";
    let lines = understood(sheet);
    assert!(
        lines.contains(&"5.4 kg pilsner malt".to_owned()),
        "{lines:?}"
    );
    assert!(
        lines.iter().any(|line| line.starts_with("1200 g")),
        "{lines:?}"
    );
    assert_eq!(
        questions(sheet)
            .iter()
            .filter(|message| message.contains("decimal sign"))
            .count(),
        1
    );
}

#[test]
fn a_limit_is_not_held() {
    let lines = added("ferment 18 C for 10 days, never over 21 C");
    assert!(
        lines.contains(&"hold 18 C for 10 days".to_owned()),
        "{lines:?}"
    );
    assert!(lines.iter().all(|line| !line.contains("21")), "{lines:?}");
}

#[test]
fn hops_without_a_name_go_into_the_fermenter() {
    let text = format!("{GRIST}ferment\ndry hop 40 g, 3 days\n");
    assert!(
        understood(&text).contains(&"add 40 g hops for 3 days".to_owned()),
        "{:?}",
        understood(&text)
    );
    let reading = read(&[TextRef::new("text", &text)]);
    assert!(reading.is_usable(), "{:?}", reading.diagnostics);
    let additions = &reading.recipe.unwrap().fermentation.additions;
    let hops = additions[0].ingredient().unwrap();
    assert_eq!(
        (hops.name.as_str(), hops.kind),
        ("hops", crate::catalogue::Kind::Hop)
    );
}

#[test]
fn a_heading_names_the_hop_of_the_amounts_below_it() {
    let lines =
        added("Northern Brewer, 8.2 % alpha, pellets:\n  30 g at 60 min\n  15 g with 10 min left");
    let wanted = [
        "30 g Northern Brewer, pellet, 8.2 % alpha at 60 min",
        "15 g Northern Brewer, pellet, 8.2 % alpha at 10 min",
    ];
    for line in wanted {
        let plain = line.replace(" pellet,", "");
        assert!(
            lines.iter().any(|own| own == line || *own == plain),
            "{line}: {lines:?}"
        );
    }
}

#[test]
fn a_day_is_no_minute_of_the_boil() {
    let lines = added("200 g dextrose, in the fermenter on day 3");
    assert!(
        lines.contains(&"add 200 g dextrose on day 3".to_owned()),
        "{lines:?}"
    );
}

#[test]
fn units_that_the_notation_does_not_have_are_told() {
    // A hundredweight of 112 pounds.
    assert!(
        understood("Ale\nmash:\n2 cwt pale ale malt\n")
            .contains(&"224 lb pale ale malt".to_owned())
    );
    let reading = read(&[TextRef::new(
        "text",
        "Ale\nmash:\n100 lb pale ale malt, 12 qr\n",
    )]);
    let is_told = |note: &ReadingNote| matches!(note, ReadingNote::Remark { text, .. } if text.contains("12 qr"));
    assert!(reading.notes.iter().any(is_told), "{:?}", reading.notes);
}

#[test]
fn kettle_souring_a_heater_and_a_top_up_are_read_as_they_are_jotted() {
    for (typed, line) in [
        (
            "Sour\n20 L\n4 kg pilsner malt\nkettle sour 36 h at 40 C with lactobacillus\nboil 60 min\n",
            "kettle sour 36 h at 40 C with lactobacillus",
        ),
        (
            "Sour\n20 L\n4 kg pilsner malt\nsour 48 h at 38 C, lactic culture\nboil 60 min\n",
            "sour 48 h at 38 C, lactic culture",
        ),
        (
            "Pale\n20 L\n4 kg pilsner malt\nboil 60 min\ntop up with 4 L water\nsafe ale yeast\n",
            "top up with 4 L water",
        ),
    ] {
        let lines = understood(typed);
        assert!(lines.contains(&line.to_owned()), "{typed}: {lines:?}");
    }
    for (typed, line) in [
        (
            "plant: my kettle\nkettle 30 L, 3500 W element\nbag\n",
            Some("heat direct 3.5 kW"),
        ),
        ("plant: my kettle\nkettle 30 L, pump 60 W\nbag\n", None),
    ] {
        let lines = understood(typed);
        let found = lines.iter().find(|line| line.starts_with("heat"));
        assert_eq!(found.map(String::as_str), line, "{lines:?}");
    }
    // A title is no souring.
    let lines = understood("Kettle sour with cherries\n20 L\n4 kg pilsner malt\nboil 60 min\n");
    assert!(
        lines.iter().all(|line| !line.starts_with("sour")),
        "{lines:?}"
    );
}
