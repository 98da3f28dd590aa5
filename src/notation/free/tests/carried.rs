//! What a line takes from others, and doses of the beer.

use super::{added, questions, understood};

/// A line that is added to a small sheet (20 g saaz at 60 min), with another hop before it at 15 min.
fn after_two_hops(typed: &str) -> Vec<String> {
    let mut lines = added(&format!("25 g cascade at 15 min\n{typed}"));
    lines.retain(|line| !line.starts_with("25 g Cascade"));
    lines
}

#[test]
fn a_time_may_be_that_of_another_line() {
    for typed in [
        "5 g irish moss with the second hops",
        "5 g irish moss, same time",
        "5 g irish moss together with the last hops",
        "5 g irish moss, at the same time.",
        "5 g irish moss with the 2nd hop addition",
    ] {
        let wanted = ["5 g irish moss at 15 min"];
        assert_eq!(after_two_hops(typed), wanted, "{typed}");
    }
    let text = "Ale\n20 L\nmash:\n4 kg pale ale malt\nboil 60 min\n20 g saaz at 60 min\n10 g fuggle at 60 min\n15 g saaz at 5 min\n5 g irish moss with the second hops\n";
    let lines = understood(text);
    assert!(
        lines.contains(&"5 g irish moss at 5 min".to_owned()),
        "hops of one time are one addition: {lines:?}"
    );
    // The third of two, one of two, and hops of which the sheet says nothing.
    for typed in [
        "5 g irish moss with the third hops",
        "5 g irish moss with the hops",
        "5 g irish moss with the green hops",
    ] {
        let lines = after_two_hops(typed);
        assert!(
            lines.iter().all(|line| !line.contains(" min")),
            "{typed}: {lines:?}"
        );
    }
}

#[test]
fn what_the_wort_is_boiled_with_goes_in_at_its_start() {
    for typed in [
        "boil 90 min with 30 g target",
        "Boil for 90 minutes with 30 g Target 9.5 %",
        "boil it 90 min with 30 g of target, so it keeps",
    ] {
        let lines = added(typed);
        assert!(
            lines
                .iter()
                .any(|line| line.starts_with("30 g Target") && line.ends_with("at 90 min")),
            "{typed}: {lines:?}"
        );
    }
    // A time of its own, or several.
    for typed in [
        "boil 90 min with 30 g target at 20 min",
        "boil 90 min with 30 g target in the last 20 min",
        "boil 90 min with 30 g target at the end",
    ] {
        let lines = added(typed);
        assert!(
            lines.iter().all(|line| !line.ends_with("at 90 min")),
            "{typed}: {lines:?}"
        );
    }
}

#[test]
fn gravities_that_a_beer_falls_between_are_its_targets() {
    for typed in [
        "Gravity from 1052 to 1012",
        "from 1.052 down to 1.012",
        "Gravity: 1.052 to 1.012",
    ] {
        let lines = added(typed);
        let wanted = ["target original 1.052", "target final 1.012"];
        for wanted in wanted {
            assert!(lines.contains(&wanted.to_owned()), "{typed}: {lines:?}");
        }
    }
    for typed in [
        "starter from 1.052 to 1.012",
        "rack from 1.020 to secondary",
        "pull from 1.030 to 1.028",
    ] {
        let lines = added(typed);
        assert!(
            lines.iter().all(|line| !line.starts_with("target")),
            "{typed}: {lines:?}"
        );
    }
}

#[test]
fn a_weight_per_barrel_is_a_dose_of_the_beer() {
    // 1 lb in 36 imperial gallons is 2.7716 g/L, in 31 US ones 3.8654 g/L (hand calculation).
    for (typed, wanted) in [
        (
            "1 lb fuggle per brl at 10 min",
            "1 lb/imp bbl Fuggle at 10 min",
        ),
        (
            "Fuggle, 8 oz to the brl, at 10 min",
            "8 oz/imp bbl Fuggle at 10 min",
        ),
        ("60 g fuggle per hL at 10 min", "60 g/hL Fuggle at 10 min"),
        (
            "60 g of fuggle to each hectolitre at 10 min",
            "60 g/hL Fuggle at 10 min",
        ),
        (
            "2 kg fuggle per brl at 10 min",
            "12.2205 g/L Fuggle at 10 min",
        ),
    ] {
        assert!(
            added(typed).contains(&wanted.to_owned()),
            "{typed}: {:?}",
            added(typed)
        );
    }
    // Whose barrel it is, is asked.
    let text = "Ale\n20 L\n4 kg pale ale malt\nboil 60 min\n4 oz saaz per barrel at 10 min\n";
    let asked = questions(text);
    assert!(
        asked
            .iter()
            .any(|asked| asked.starts_with("expected whose barrels")),
        "{asked:?}"
    );
    // Said of a place and of a package.
    for typed in [
        "60 g fuggle at 10 min",
        "60 g fuggle in the barrel",
        "60 g fuggle per cask",
        "dry hop 60 g fuggle, then into the barrel",
    ] {
        let lines = added(typed);
        assert!(
            lines
                .iter()
                .all(|line| !line.contains("bbl") && !line.contains("/L")),
            "{typed}: {lines:?}"
        );
    }
}

#[test]
fn an_ale_yeast_may_be_called_by_its_country() {
    for (typed, wanted) in [
        ("2 packs of English yeast", "pitch 2 pack english ale yeast"),
        (
            "English liquid yeast, 2 packs",
            "pitch 2 pack english ale yeast",
        ),
        (
            "Scottish yeast 2 packs at 16 C",
            "pitch 2 pack scottish ale yeast at 16 C",
        ),
        (
            "US ale dry yeast, 2 packs",
            "pitch 2 pack american ale yeast",
        ),
    ] {
        let lines = added(typed);
        assert!(lines.contains(&wanted.to_owned()), "{typed}: {lines:?}");
    }
    // Lager yeasts go by these too, and other words say no strain.
    for typed in [
        "German yeast, 2 packs",
        "Czech yeast, 2 packs",
        "my own yeast, 2 packs",
    ] {
        let lines = added(typed);
        assert!(
            lines.iter().all(|line| !line.starts_with("pitch")),
            "{typed}: {lines:?}"
        );
    }
}

#[test]
fn the_title_may_say_how_much_is_brewed() {
    for (title, wanted) in [
        ("Old Gate (dark lager), 30 litres", "batch 30 L"),
        ("Old Gate, 5 gal / 19 L", "batch 19 L"),
        ("Old Gate, 12 gal / 45 L", "batch 45 L"),
        ("Old Gate (ale), scaled 10 hL -> 20 L", "batch 20 L"),
        ("Old Gate, scaled from 10 hL to 20 L", "batch 20 L"),
        ("Old Gate, cut down from 8 hL to 25 L", "batch 25 L"),
    ] {
        let lines = understood(&format!("{title}\n4 kg pale ale malt\n"));
        assert!(lines.contains(&wanted.to_owned()), "{title}: {lines:?}");
    }
    let lines = understood("Old Gate (dark lager), 10 hL brewhouse\n4 kg pale ale malt\n");
    assert!(
        lines.iter().all(|line| !line.starts_with("batch")),
        "{lines:?}"
    );
    // No other measure of the same: so many gallons are not so many litres.
    let lines = understood("Old Gate, 5 gal / 40 L\n4 kg pale ale malt\n");
    assert!(!lines.contains(&"batch 40 L".to_owned()), "{lines:?}");
}
