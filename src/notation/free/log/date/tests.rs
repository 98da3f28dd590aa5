use super::{Calendar, Clocks, Reckoned, Stamp, is_dotted_clock, order, stamp};

fn stamp_of(text: &str) -> Option<Stamp> {
    stamp(text, Clocks::Colon).map(|stamped| stamped.stamp)
}

fn days(lines: &[&str], is_us: bool) -> Vec<Option<Reckoned>> {
    let stamps: Vec<Stamp> = lines.iter().filter_map(|line| stamp_of(line)).collect();
    assert_eq!(stamps.len(), lines.len(), "{lines:?}");
    let mut calendar = Calendar::new(order(&stamps, is_us).0);
    stamps
        .into_iter()
        .map(|stamp| calendar.day(stamp))
        .collect()
}

/// Days from the first line on.
fn ahead(lines: &[&str], is_us: bool) -> Vec<i64> {
    let found: Vec<i64> = days(lines, is_us)
        .into_iter()
        .filter_map(|day| match day {
            Some(Reckoned::SinceFirst(day)) => Some(day),
            _ => None,
        })
        .collect();
    assert_eq!(found.len(), lines.len(), "{lines:?}");
    found
        .iter()
        .map(|day| day - found.first().expect("there are lines"))
        .collect()
}

#[test]
fn days_are_counted_as_they_are_typed() {
    for (text, wanted) in [
        ("day 3 - 1.021", 3.0),
        ("Day 12: 6.6 P", 12.0),
        ("d0 1.057 @ 20C", 0.0),
        ("+2 days all going", 2.0),
        ("+6 C roused", 6.0),
        ("72 h: 10.2 P", 3.0),
        ("- day 5 1.012", 5.0),
    ] {
        assert_eq!(stamp_of(text), Some(Stamp::Day(wanted)), "{text}");
    }
}

#[test]
fn dates_are_told_from_amounts() {
    let dated = |text| {
        matches!(
            stamp_of(text),
            Some(Stamp::Slashed { .. } | Stamp::Date { .. })
        )
    };
    for text in [
        "1/14 8.0 P",
        "14 Jan 1.034",
        "Jan 14th: 1.034",
        "12.3. 11.9 P",
        "2024-03-12 1.020",
        "za 4/10: SG 1.050",
        "Filled 28 Nov, 230 L",
        "Mon 4 Sept KO 19 C",
    ] {
        assert!(dated(text), "{text}");
    }
    for text in [
        "1/2 tsp nutrient",
        "1.012 68F",
        "12.9 P",
        "31/31 odd",
        "5 gal in",
        "do 2 more",
        "may add hops",
        "d 3 g/L citra",
        "14 ml lactic",
    ] {
        assert_eq!(stamp_of(text), None, "{text}");
    }
}

#[test]
fn clocks_are_told_from_gravities() {
    assert_eq!(stamp_of("11:40 boil"), Some(Stamp::Clock));
    assert_eq!(stamp_of("8am 95F"), Some(Stamp::Clock));
    assert_eq!(stamp_of("8.25 mash 66.5C"), None);
    assert!(is_dotted_clock("8.25 mash 66.5C") && is_dotted_clock("14.00 5 gal in FV"));
    for text in ["1.05", "1.010 at 20 C", "9.50 P", "25.10 mash", "8.75 mash"] {
        assert!(!is_dotted_clock(text), "{text}");
    }
}

#[test]
fn one_day_above_twelve_says_which_way_round_all_are() {
    assert_eq!(ahead(&["4/10", "5/10", "13/10"], false), [0, 1, 9]);
    // US measure decides where none is.
    assert_eq!(ahead(&["3/2", "3/6", "3/10"], true), [0, 4, 8]);
    // Days apart are likelier than months; where neither is, it is left open.
    assert_eq!(ahead(&["3/2", "3/6", "3/10"], false), [0, 4, 8]);
    assert_eq!(days(&["3/4", "4/5"], false), [None, None]);
    // Two that contradict each other leave it open.
    assert_eq!(days(&["14/3", "3/14"], true), [None, None]);
}

#[test]
fn a_year_ends_between_two_dates() {
    // 28 November to 1 December: 3 days; to 15 January: 48; to 10 April of a year of 365 days: 133.
    assert_eq!(
        ahead(&["28 Nov", "1 Dec", "15 Jan", "10 Apr"], false),
        [0, 3, 48, 133]
    );
    // 2024 is a leap year: 4 November 2023 to 30 March 2024 is 26 + 31 + 31 + 29 + 30 days.
    assert_eq!(ahead(&["11/4/23", "3/30/24"], true), [0, 147]);
}

#[test]
fn days_of_the_week_go_on_from_one_another() {
    assert_eq!(
        ahead(&["Sat", "Sun", "Mon", "Wed", "Fri"], false),
        [0, 1, 2, 4, 6]
    );
    assert_eq!(
        ahead(&["Sun", "Thu", "Mon", "following Mon", "Mon after"], false),
        [0, 4, 8, 15, 22]
    );
    assert_eq!(ahead(&["Fri", "The next Wednesday"], false), [0, 5]);
}
