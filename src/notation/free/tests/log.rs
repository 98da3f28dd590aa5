//! Logs as jotted.

use super::{codes, told, understood};
use crate::diagnostic::Code;

#[test]
fn a_log_begins_with_the_wort_and_counts_from_it() {
    let text = "Low Tide, second brew\n3/2 OG 1.054  5.5 gal  66F\n3/6 1.028 69F\n3/8 sample 4 fl oz, 1.020\n3/13 1.012, kegged 5 gal\n";
    let wanted = [
        "log \"Low Tide\"",
        "pitched 5.5 gal at 1.054 at 66 F on day 0",
        "reading 1.028 at 69 F on day 4",
        "drawn 4 fl oz on day 6",
        "reading 1.02 on day 6",
        "reading 1.012 on day 11",
    ];
    assert_eq!(understood(text), wanted);
    assert_eq!(codes(text), []);
    assert_eq!(told(text), ["5 gal"]);
}

#[test]
fn what_goes_in_is_kept_and_the_sugar_of_bottles_too() {
    let text = "log\nday 0 20 L in, OG 1.049\nday 3 1.021, added 1 L plum juice (12 Bx)\nday 5 topped up with 2 L water\nday 6 dry hop 30 g cascade\nday 20 bottled with 120 g sucrose\n";
    let wanted = [
        "log",
        "pitched 20 L at 1.049 on day 0",
        "reading 1.021 on day 3",
        "added 1 L plum juice, 12 Bx on day 3",
        "added 2 L water on day 5",
        "added 30 g cascade on day 6",
        "added 120 g sucrose on day 20",
    ];
    let lines: Vec<String> = understood(text)
        .iter()
        .map(|line| line.to_lowercase().replace(" ,", ","))
        .collect();
    assert_eq!(lines, wanted.map(str::to_lowercase));
}

#[test]
fn figures_of_the_brew_day_are_no_readings() {
    let text = "Red brewed Sat\n8.10 mash 66.5 C\n9.30 first runnings 1.078\n11.00 30 L collected at 1.039\n14.00 25 L in FV at 1.046, yeast in\nMon 1.020\n";
    let wanted = [
        "log \"Red\"",
        "first wort 1.078 on day 0",
        "pitched 25 L at 1.046 on day 0",
        "reading 1.02 on day 2",
    ];
    assert_eq!(understood(text), wanted);
}

#[test]
fn a_gravity_without_its_point_and_columns_are_read() {
    let text =
        "FV3 Square Rigger\nday  P  T  pH\n0  12.9  18  5.20\n1  11.6  19  4.71\n4  -  17  4.40\n";
    let wanted = [
        "log \"FV3 Square Rigger\"",
        "reading 12.9 P at 18 C on day 0",
        "reading 11.6 P at 19 C on day 1",
    ];
    assert_eq!(understood(text), wanted);
    let text = "Mild log\n20 Nov 18 L 1034.5\n24 Nov 1011\n";
    let wanted = [
        "log \"Mild\"",
        "pitched 18 L at 1.0345 on day 0",
        "reading 1.011 on day 4",
    ];
    assert_eq!(understood(text), wanted);
}

#[test]
fn dates_that_can_be_read_either_way_are_asked_once() {
    // 4 March to 5 April, or 3 April to 4 May.
    let text = "Ale log\n3/4 1.050 20 L\n4/5 1.012\n";
    assert_eq!(codes(text), [Code::AmbiguousNumber]);
    assert!(understood(text).iter().all(|line| !line.contains("on day")));
}

#[test]
fn the_first_day_of_a_log_is_that_of_its_pitching() {
    let log =
        "Ale log 10/5\n20 L, 1.050\nchilled overnight, pitch 10/6\n10/15 1.020\n10/21 1.012\n";
    assert!(
        understood(log).contains(&"reading 1.02 on day 9".to_owned()),
        "{:?}",
        understood(log)
    );
}
