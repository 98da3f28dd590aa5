//! Ordinary pages, of brewers who have read nothing.

use super::{added, questions, told, understood};

#[test]
fn labels_stand_before_their_figures_in_a_row() {
    for typed in [
        "OG: 1.042 FG: 1.010 IBU: 34 SRM: 12",
        "OG 1.042 FG 1.010 IBU 34 SRM 12",
        "OG 1042 FG 1010 IBU 34 SRM 12",
        "OG: 1.042  FG: 1.010  IBU 34  SRM 12",
    ] {
        let lines = understood(&format!("Ale\n20 L\n{typed}\n5 kg pale ale malt\n"));
        for wanted in [
            "target original 1.042",
            "target final 1.01",
            "target bitterness 34 IBU",
            "target colour 12 SRM",
        ] {
            assert!(
                lines.iter().any(|line| line.starts_with(wanted)),
                "{typed}: {wanted} in {lines:?}"
            );
        }
    }
    // A unit behind its number stays behind it.
    let lines = understood("Ale\n20 L\nOG 1.042, 34 IBU, 12 SRM\n5 kg pale ale malt\n");
    assert!(
        lines.contains(&"target bitterness 34 IBU".to_owned()),
        "{lines:?}"
    );
}

#[test]
fn a_line_below_the_boil_goes_where_its_own_words_say() {
    let mash = added("gypsum 6 g in the mash");
    assert!(
        mash.contains(&"6 g calcium sulphate dihydrate".to_owned())
            || mash.contains(&"6 g gypsum".to_owned()),
        "{mash:?}"
    );
    let lines = understood(&format!("{}gypsum 6 g in the mash\n", super::GRIST));
    let at = |text: &str| lines.iter().position(|line| line.contains(text));
    assert!(at("6 g") < at("boil 60"), "{lines:?}");
    for typed in [
        "Secondary: 2 kg raspberries",
        "Secondary (2 weeks): 1 kg raspberries",
        "oak cubes 30 g, secondary, 3 weeks",
        "3 oz mosaic at high krausen",
        "gelatin 5 g",
    ] {
        let lines = understood(&format!("{}{typed}\n", super::GRIST));
        let at = |text: &str| lines.iter().position(|line| line.starts_with(text));
        assert!(
            at("ferment").is_some_and(|ferment| lines
                .iter()
                .skip(ferment)
                .any(|line| line.starts_with("add "))),
            "{typed}: {lines:?}"
        );
    }
    let late = added("2 oz saaz dry hop 4 days\nirish moss 5 g @ 15");
    assert!(
        late.contains(&"5 g irish moss at 15 min".to_owned()),
        "{late:?}"
    );
}

#[test]
fn what_is_said_once_of_a_row_is_said_of_all() {
    let lines = added("Citra 30 g, Mosaic 30 g whirlpool 80 C 30 min");
    assert_eq!(lines, ["stand 30 min at 80 C", "30 g Citra", "30 g Mosaic"]);
    let lines = added("DH Citra 50g, Simcoe 50g (3 days)");
    for hop in ["add 50 g Citra for 3 days", "add 50 g Simcoe for 3 days"] {
        assert!(lines.contains(&hop.to_owned()), "{hop}: {lines:?}");
    }
    let lines = added("Dry hop day 3: 100g Citra, 100g Mosaic");
    for hop in ["add 100 g Citra on day 3", "add 100 g Mosaic on day 3"] {
        assert!(lines.contains(&hop.to_owned()), "{hop}: {lines:?}");
    }
}

#[test]
fn further_portions_are_of_the_same_hop() {
    let lines = added("Citra 10% 15 g 30 min, 25 g 5 min");
    for hop in [
        "15 g Citra, 10 % alpha at 30 min",
        "25 g Citra, 10 % alpha at 5 min",
    ] {
        assert!(lines.contains(&hop.to_owned()), "{hop}: {lines:?}");
    }
}

#[test]
fn a_yeast_that_no_table_has_is_pitched() {
    assert_eq!(added("2 packs W-12"), ["ferment", "pitch 2 pack w-12"]);
    assert_eq!(
        added("Yeast: Hillside 11 g, 19 C"),
        ["ferment", "pitch 11 g hillside at 19 C"]
    );
    assert_eq!(
        added("1 sachet Hillside, 18 C"),
        ["ferment", "pitch 1 pack hillside at 18 C"]
    );
}

#[test]
fn a_pressure_at_its_temperature_is_an_amount_of_gas() {
    let lines = added("Keg at 12 psi, 38 F");
    assert!(
        lines.iter().any(|line| line.starts_with("carbonate 2.5")),
        "{lines:?}"
    );
}

#[test]
fn grain_is_mashed_whatever_stands_above_it() {
    let lines = understood(
        "Ale\n19 L OG 1.050, 90 min boil\n4 kg pale ale malt\nMash 66 C\n20 g saaz 60 min\n",
    );
    let at = |text: &str| lines.iter().position(|line| line.contains(text));
    assert!(
        at("pale ale malt") < at("boil 90 min") && at("pale ale malt").is_some(),
        "{lines:?}"
    );
    assert!(
        questions(
            "Ale\n19 L OG 1.050, 90 min boil\n4 kg pale ale malt\nMash 66 C\n20 g saaz 60 min\n"
        )
        .is_empty()
    );
}

#[test]
fn lovibond_is_no_litre_that_makes_gallons_imperial() {
    let lines = understood("Ale\n5 gal, OG 1.050\n9 lb pale ale malt\n1 lb crystal 20L\n");
    assert!(
        lines.iter().any(|line| line.starts_with("batch 5 gal")),
        "{lines:?}"
    );
    assert!(told("Ale\n5 gal, OG 1.050\n9 lb pale ale malt\n1 lb crystal 20L\n").is_empty());
}

#[test]
fn a_crystal_malt_is_the_grade_of_its_colour() {
    let lines =
        understood("Ale\n20 L\n5 kg pale ale malt\n200 g crystal 60L\n100 g crystal 300 EBC\n");
    assert!(
        lines.contains(&"200 g caramel malt 150 EBC, 60 lovibond".to_owned()),
        "{lines:?}"
    );
    assert!(
        lines.contains(&"100 g caramel malt 300 EBC, 300 EBC".to_owned()),
        "{lines:?}"
    );
}

#[test]
fn a_hop_has_the_alpha_acids_of_its_lot_on_every_line() {
    let lines = added("25 g citra 13 % 10 min\n30 g citra flameout");
    assert!(
        lines.contains(&"30 g Citra, 13 % alpha at 0 min".to_owned()),
        "{lines:?}"
    );
}

#[test]
fn a_time_before_a_colon_is_that_of_the_line() {
    let lines = added("Spices @ 5 min: 5 g cinnamon, 2 g ginger");
    assert_eq!(
        lines
            .iter()
            .filter(|line| line.ends_with("at 5 min"))
            .count(),
        2,
        "{lines:?}"
    );
}

#[test]
fn a_plant_is_read_below_its_statement_as_it_is_without() {
    let lines = understood(
        "brewhouse Garage\n  35 L kettle\n  mash tun 30 L\n  batch sparge twice\n  12 % boil off per hour\n  batch 20 L into fermenter\n",
    );
    for wanted in [
        "kettle 35 L",
        "lauter batch, sparges 2",
        "evaporation 12 % per hour",
        "batch 20 L into fermenter",
    ] {
        assert!(lines.contains(&wanted.to_owned()), "{wanted}: {lines:?}");
    }
    let lines = understood(
        "My kit\n10 gal kettle\n10 gal cooler mash tun\n12 gal batch max\n5.5 gal batch\nboil off 1 gal/hr\n",
    );
    assert!(lines.contains(&"batch 5.5 gal".to_owned()), "{lines:?}");
}
