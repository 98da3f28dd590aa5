//! Pages of notebooks as they are jotted, and what a log makes of them: its lines, and the alcohol that a calculation by hand gives.

use wortwright::diagnostic::{Severity, TextRef};
use wortwright::job::Job;
use wortwright::notation::read;
use wortwright::speech::{Speaks, Style};

/// The lines of the log that a page is understood as.
fn lines(page: &str) -> Vec<String> {
    let reading = read(&[TextRef::new("page", page)]);
    let whole: String = reading
        .understood()
        .iter()
        .map(ToString::to_string)
        .collect();
    let lines = whole
        .lines()
        .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
    lines.filter(|line| !line.is_empty()).collect()
}

/// What is told of a page and is no remark.
fn told(page: &str) -> Vec<String> {
    let reading = read(&[TextRef::new("page", page)]);
    let notes = reading.notes.iter().map(|note| note.text(Style::default()));
    notes
        .filter(|note| !note.starts_with("Kept as a remark"))
        .collect()
}

/// The errors of a page, and what stands at the place of each.
fn errors(page: &str) -> Vec<(String, String)> {
    let reading = read(&[TextRef::new("page", page)]);
    let errors = reading
        .diagnostics
        .iter()
        .filter(|found| found.severity == Severity::Error);
    errors
        .map(|found| {
            let (start, end) = (found.span.start as usize, found.span.end as usize);
            (
                page[start..end].to_owned(),
                found.help.clone().unwrap_or_default(),
            )
        })
        .collect()
}

/// Alcohol of the only log of a page, % by volume.
fn alcohol(page: &str) -> f64 {
    let job = Job::read([("page", page)]).unwrap_or_else(|error| panic!("{page}\n{error}"));
    let ledgers: Vec<_> = job.ledgers().collect();
    let [Ok(ledger)] = ledgers.as_slice() else {
        panic!("{page}\n{ledgers:?}");
    };
    ledger.alcohol.by_volume.percent()
}

fn near(page: &str, by_hand: f64, accuracy: f64) {
    let found = alcohol(page);
    assert!(
        (found - by_hand).abs() < accuracy,
        "{page}\n{found}, by hand {by_hand}"
    );
}

/// The log of a page, without its opening.
fn log(page: &str) -> Vec<String> {
    let lines = lines(page);
    assert!(
        lines.first().is_some_and(|first| first.starts_with("log")),
        "{page}\n{lines:?}"
    );
    lines.into_iter().skip(1).collect()
}

/// A page in which `typed` stands on the tenth day of a beer of 1.048 that has come down to 1.012.
fn with(typed: &str) -> String {
    format!("Porter\n4 March: 20 L at 1.048\n12 March: 1.012\n14 March: {typed}\n20 March: 1.012\n")
}

/// What that page says of the line.
fn said(typed: &str) -> Vec<String> {
    let mut said = log(&with(typed));
    said.retain(|line| !line.starts_with("pitched") && !line.starts_with("reading 1.012"));
    said
}

#[test]
fn a_first_line_with_an_amount_and_a_gravity_is_the_wort() {
    for head in [
        "23 L at 1.052",
        "Pitched 23 L at 1.052",
        "OG 1.052, 23 L",
        "Bitter 1.052, 23 L",
        "OG 1.052, 23 L into the carboy",
        "23 litres of wort, 1.052",
        "Knockout 23 L, 1.052",
        "Harvest Ale. 23 L at 1.052.",
        "Harvest Ale 23 L\nOG 1.052",
        "Harvest Ale\n23 L batch\nOG: 1.052",
        "Harvest Ale\nOG: 1.052\nVolume: 23 L",
    ] {
        let page = format!("{head}\nday 8: 1.011\n");
        assert_eq!(
            log(&page),
            ["pitched 23 L at 1.052", "reading 1.011 on day 8"],
            "{page}"
        );
    }
    assert_eq!(
        lines("Harvest Ale. 23 L at 1.052.\nday 8: 1.011\n")[0],
        "log \"Harvest Ale\""
    );
}

/// A beer that was read later is no wort, whatever the first line lacks.
#[test]
fn a_wort_without_its_gravity_is_asked_for() {
    for page in [
        "Ale\nday 0: 20 L\nday 9: 1.012\nday 12: 1.011\n",
        "Ale\nday 0: 20 L at 1.50\nday 9: 1.012\n",
    ] {
        assert!(
            log(page).iter().all(|line| !line.starts_with("pitched")),
            "{page}"
        );
        let reading = read(&[TextRef::new("page", page)]);
        let asked = reading
            .diagnostics
            .iter()
            .any(|found| found.message.contains("gravity of the wort"));
        assert!(asked, "{page}");
    }
}

#[test]
fn days_are_counted_in_the_ways_of_notebooks() {
    for (early, late) in [
        ("after 3 days", "after 2 weeks"),
        ("3 days later", "11 days later"),
        ("+72h", "+2 weeks"),
        ("T+3:", "T+14:"),
        ("72 h:", "2 wks:"),
        ("Day three", "Week 2:"),
    ] {
        let page = format!("Mild\n20 L at 1.036\n{early} 1.020\n{late} 1.010\n");
        let wanted = [
            "pitched 20 L at 1.036",
            "reading 1.02 on day 3",
            "reading 1.01 on day 14",
        ];
        assert_eq!(log(&page), wanted, "{page}");
    }
    let rows = "Mild\n0: 20 L 1.036\n3: 1.020\n14: 1.010\n";
    assert_eq!(
        log(rows)[1..],
        ["reading 1.02 on day 3", "reading 1.01 on day 14"]
    );
    let on_one_line = "Mild\n2 Feb: 20 L at 1.036; 5 Feb: 1.020; 16 Feb: 1.010\n";
    assert_eq!(
        log(on_one_line)[1..],
        ["reading 1.02 on day 3", "reading 1.01 on day 14"]
    );
    let by_day_of_month = "Mild\n2nd Feb: 20 L at 1.036\n5th: 1.020\n16th: 1.010\n";
    assert_eq!(
        log(by_day_of_month)[1..],
        ["reading 1.02 on day 3", "reading 1.01 on day 14"]
    );
    let on_its_own_line = "Mild\n20 L at 1.036\nday 3\n1.020\nday 14\n1.010\n";
    assert_eq!(
        log(on_its_own_line)[1..],
        ["reading 1.02 on day 3", "reading 1.01 on day 14"]
    );
    let hours = log("Mild\n20 L at 1.036\n+12 h 1.030\n+36 h 1.020\n");
    assert_eq!(
        hours[1..],
        ["reading 1.03 on day 0.5", "reading 1.02 on day 1.5"]
    );
}

#[test]
fn dates_follow_each_other_within_days() {
    for (page, days) in [
        (
            "Gose\n3/6: 20 L at 1.040\n7/6: 1.015\n12/6: 1.008\n",
            ["4", "9"],
        ),
        (
            "Gose\n6/3/25 20 L at 1.040\n6/7/25 1.015\n6/12/25 1.008\n",
            ["4", "9"],
        ),
    ] {
        let wanted = days.map(|day| format!("on day {day}"));
        let found = log(page);
        assert!(
            found[1].ends_with(&wanted[0]) && found[2].ends_with(&wanted[1]),
            "{found:?}"
        );
        assert!(
            told(page).iter().any(|note| note.contains("June")),
            "{page}"
        );
    }
    let backwards = "Gose\n9 June: 20 L at 1.040\n4 June: 1.015\n";
    assert_eq!(errors(backwards)[0].0, "4 June:");
    let new_year = "Gose\n28 Dec: 20 L at 1.040\n6 Jan: 1.008\n";
    assert_eq!(log(new_year)[1], "reading 1.008 on day 9");
    let brewed = "Brewed on 9 June\nOG 1.040, 20 L\n16 June 1.008\n";
    assert_eq!(
        log(brewed),
        ["pitched 20 L at 1.04 on day 0", "reading 1.008 on day 7"]
    );
}

/// 19 L at 1.062 hold 19 × 1.062 × 0.998 kg × 15.2 % = 3.06 kg of extract; in 23 L that is 1.051, which comes down to 1.012:
/// 39 points × 0.131 % = 5.1 % (the handbooks' rule, good to 0.1).
#[test]
fn a_vessel_is_filled_up_to_a_volume() {
    let wanted = "added 4 L water";
    for typed in [
        "topped up to 23 L with water",
        "topped up to 23 L",
        "topped up with water to 23 L",
    ] {
        let page = format!("Dubbel\n19 L at 1.062, {typed}\nday 9: 1.012\n");
        assert_eq!(log(&page)[1], wanted, "{page}");
        near(&page, 5.1, 0.15);
        assert!(
            told(&page)
                .iter()
                .any(|note| note.contains("4 L that went in")),
            "{page}"
        );
    }
    near(
        "Dubbel\n19 L at 1.062\ndiluted with 4 L of water\nday 9: 1.012\n",
        5.1,
        0.15,
    );
    let knocked_out =
        "Dubbel\n19 L knockout at 1.062, topped up to 23 L with cold water\nday 9: 1.012\n";
    assert_eq!(log(knocked_out)[1], "added 4 L water");
    // Nothing tells how much went in where nothing was missing, or where fruit went in before.
    for page in [
        "Dubbel\n20 L at 1.062\nday 4: 1.020, topped up to 20 L\nday 9: 1.012\n",
        "Dubbel\n20 L at 1.062\nday 2: added 2 kg plums\nday 4: topped up to 23 L\nday 9: 1.012\n",
    ] {
        assert_eq!(errors(page).len(), 1, "{page}");
        assert!(errors(page)[0].1.contains("added 2 L water"), "{page}");
    }
}

/// By hand, volumes adding up: 20 L of 4.69 % (1.048 to 1.012) with what goes in.
#[test]
fn what_is_poured_in_counts_by_its_figures() {
    let own = 4.69;
    let mixed = |litres: f64, abv: f64| (20.0 * own + litres * abv) / (20.0 + litres);
    for (typed, litres, abv) in [
        ("added 250 ml rum, 54 % vol", 0.25, 54.0),
        ("+ 250 ml bourbon (45% abv)", 0.25, 45.0),
        ("250 ml vodka (80 proof)", 0.25, 40.0),
        ("added 300 mL grain alcohol 95%", 0.3, 95.0),
        ("500 ml red wine, 13 %", 0.5, 13.0),
        ("blended with 4 L of stout, 1.018, 7 % ABV", 4.0, 7.0),
        ("mixed with 4 L of beer at 1.010 (4.2%)", 4.0, 4.2),
    ] {
        let page = format!("Porter\n4 March: 20 L at 1.048\n12 March: 1.012\n14 March: {typed}\n");
        near(&page, mixed(litres, abv), 0.08);
    }
    // Wort and young beer count as the wort that they were made of: 4 L of 1.048 beside 20 L change nothing.
    for typed in [
        "added 4 L krausen at 1.030",
        "krausened with 4 L krausen beer, 7 P",
        "added 4 L of fresh wort at 1.048",
        "+4 L wort at 1.048",
        "blended with 4 L of ale from 1.048 to 1.012",
    ] {
        near(&with(typed), own, 0.05);
        assert!(
            said(typed)[0].contains("1.048"),
            "{typed}: {:?}",
            said(typed)
        );
    }
    // A juice by the line's own gravity.
    for typed in [
        "added 1 L apple juice at 1.052",
        "1 litre apple juice (1.052)",
        "added 1 L apple juice, 1.052",
    ] {
        assert_eq!(
            said(typed),
            ["added 1 L apple juice, 12.86 Bx on day 10"],
            "{typed}"
        );
    }
}

#[test]
fn what_went_in_is_never_left_out_of_an_alcohol() {
    for (typed, help) in [
        ("added 3 L of beer", "added 3 L beer, 1.012, 5 % alcohol"),
        ("topped up with 3 L wort", "added 3 L wort at 1.050"),
        ("2 L starter added", "added 2 L wort at 1.050"),
        ("added sugar", "added 500 g sugar"),
        ("a jar of honey", "added 500 g honey"),
        (
            "split: 8 L onto raspberries, 12 L plain",
            "a log for each part",
        ),
    ] {
        let errors = errors(&with(typed));
        assert!(
            errors.len() == 1 && errors[0].1.contains(help),
            "{typed}: {errors:?}"
        );
    }
    // Nobody knows what these bring: the ledger refuses them at their line.
    for typed in ["added 500 ml elderflower cordial", "1 lb sugar syrup"] {
        let job = Job::read([("page", with(typed).as_str())]).unwrap();
        assert!(job.ledgers().all(|ledger| ledger.is_err()), "{typed}");
    }
}

#[test]
fn sugar_is_read_however_it_was_dissolved() {
    for (typed, wanted) in [
        (
            "added 400 g sugar boiled in 0.5 L water",
            ["added 400 g sugar", "added 0.5 L water"],
        ),
        (
            "400 g DME boiled in 0.5 L water",
            ["added 400 g DME", "added 0.5 L water"],
        ),
        (
            "400 g honey (in 0.5 L hot water)",
            ["added 400 g honey", "added 0.5 L water"],
        ),
        (
            "400 g sugar, 0.5 L water",
            ["added 400 g sugar", "added 0.5 L water"],
        ),
    ] {
        let wanted = wanted.map(|line| format!("{line} on day 10"));
        assert_eq!(said(typed), wanted, "{typed}");
    }
    assert_eq!(said("honey: 400 g"), ["added 400 g honey on day 10"]);
    assert_eq!(
        said("racked on to 1.5 kg raspberries"),
        ["added 1.5 kg raspberry on day 10"]
    );
}

/// A gram of sucrose gives about half a gram of ethanol, 0.65 mL: 6 g/L are 0.39 % by volume, 120 g in 20 L the same.
#[test]
fn the_sugar_of_bottles_is_part_of_the_beer() {
    let without = alcohol("Bitter\n1 May: 20 L at 1.040\n9 May: 1.010\n");
    for typed in [
        "bottled with 120 g table sugar",
        "primed with 120 g sugar",
        "bottled, 6 g/L sugar",
        "bottled 10 L with 60 g sugar",
    ] {
        let page = format!("Bitter\n1 May: 20 L at 1.040\n9 May: 1.010\n12 May: {typed}\n");
        near(&page, without + 0.39, 0.06);
        assert!(
            told(&page)
                .iter()
                .any(|note| note.contains("ferments in what the beer is filled into")),
            "{page}"
        );
    }
    let each =
        "Bitter\n1 May: 20 L at 1.040\n9 May: 1.010\n12 May: bottled, 3 g sugar per bottle\n";
    let reading = read(&[TextRef::new("page", each)]);
    assert!(
        reading
            .diagnostics
            .iter()
            .any(|found| found.message.contains("left out of the alcohol"))
    );
}

#[test]
fn a_year_of_two_digits_is_of_this_century() {
    let page = "Weizen\n28-Dec-25: 20 L at 1.050\n3-Jan-26: 1.020\n8-Jan-26: 1.012\n";
    let wanted = [
        "pitched 20 L at 1.05 on day 0",
        "reading 1.02 on day 6",
        "reading 1.012 on day 11",
    ];
    assert_eq!(log(page), wanted);
}

/// `no` alone, and `was` alone, correct nothing.
#[test]
fn only_a_no_with_a_was_corrects() {
    let page = |typed: &str| {
        format!("Weizen\n2 May: 20 L at 1.050\n6 May: 1.024\n{typed}\n12 May: 1.012\n")
    };
    for typed in ["7 May: no bubbles, 1.020", "7 May: it was 1.020"] {
        let wanted = [
            "pitched 20 L at 1.05 on day 0",
            "reading 1.024 on day 4",
            "reading 1.02 on day 5",
            "reading 1.012 on day 10",
        ];
        assert_eq!(log(&page(typed)), wanted, "{typed}");
    }
}

#[test]
fn a_later_figure_replaces_the_earlier_one() {
    let page = |typed: &str| format!("Weizen\n2 May: 20 L at 1.050\n{typed}\n12 May: 1.012\n");
    for typed in [
        "6 May: 1.026 (1.028 corrected for temp)",
        "6 May: SG 1.025, correction: 1.028",
        "6 May: 1.025 (should be 1.028)",
        "6 May: 1.024\n7 May: no, that was 1.028 - misread",
    ] {
        let wanted = [
            "pitched 20 L at 1.05 on day 0",
            "reading 1.028 on day 4",
            "reading 1.012 on day 10",
        ];
        assert_eq!(log(&page(typed)), wanted, "{typed}");
        assert!(
            told(&page(typed))
                .iter()
                .any(|note| note.contains("corrected to 1.028")),
            "{typed}"
        );
    }
    for typed in [
        "6 May: 1.028, 7.1 P",
        "6 May: 1.028/1.029",
        "6 May: 1.028 (= 7 P)",
    ] {
        assert_eq!(
            log(&page(typed))[1..2],
            ["reading 1.028 on day 4"],
            "{typed}"
        );
    }
    let differ = errors(&page("6 May: 1.028, 9.5 P"));
    assert_eq!(differ[0].0, "9.5 P");
}

#[test]
fn a_temperature_is_told_to_be_that_of_the_sample() {
    let page = "Pils\nday 0: 50 L, 12 P, 9 C\nday 8: 5 P, 10 C\nday 20: 2.6 P\n";
    let notes = told(page);
    let of_sample = notes
        .iter()
        .filter(|note| note.contains("temperature of the sample"));
    assert_eq!(of_sample.count(), 1, "{notes:?}");
    assert_eq!(
        errors("Pils\nday 0: 50 L, 12 P\nday 8: 1.012 at 68 C\n")[0].0,
        "68 C"
    );
    let degrees = "Pils\nday 0: 50 L, 12.5 degrees plato\nday 8: 4.1 deg P\nday 12: 3°\n";
    assert_eq!(
        log(degrees)[1..],
        ["reading 4.1 P on day 8", "reading 3 P on day 12"]
    );
}

#[test]
fn losses_change_what_a_later_dose_is_of() {
    for (typed, wanted) in [
        ("racked, lost 2 L", "drawn 2 L on day 10"),
        ("racked to secondary, left 2 L trub", "drawn 2 L on day 10"),
        ("1.012 (100 ml)", "drawn 100 mL on day 10"),
        ("two samples of 100 ml", "drawn 200 mL on day 10"),
        ("sample 4 oz", "drawn 4 fl oz on day 10"),
    ] {
        assert_eq!(said(typed), [wanted], "{typed}");
    }
    // Nothing goes in behind it.
    let page = "Sour\n1 May: 20 L at 1.048\n9 May: 1.012\n10 May: now 18 L\n";
    assert_eq!(log(page).len(), 2);
    assert!(
        said("added 1 tsp yeast nutrient")
            .iter()
            .all(|line| !line.starts_with("drawn"))
    );
}

#[test]
fn the_lines_of_the_brew_day_are_kept_apart() {
    let page = "Brewday 12 Sept\nMashed in at 67C\nFirst runnings 1.074\nPre-boil 27 L, 1.041\nKnockout 21 L, 1.050\n19 Sept 1.013\n";
    let wanted = [
        "first wort 1.074",
        "before boil 27 L at 1.041",
        "pitched 21 L at 1.05",
        "reading 1.013 on day 7",
    ];
    let found: Vec<String> = log(page)
        .iter()
        .map(|line| line.replace(" on day 0", ""))
        .collect();
    assert_eq!(found, wanted);
}
