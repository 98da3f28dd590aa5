//! No text lies upon another or off the page, whatever is brewed and however much of it.

use super::browser::{WIDTHS, laid_out};
use super::{example, learnt, page};
use wortwright::Job;
use wortwright::learn::{BrewDay, learn};

const PLANTS: &str = include_str!("fixtures/plants.gyle");
const CROWDED: &str = include_str!("fixtures/crowded.gyle");
const EXTRACT: &str = include_str!("fixtures/extract.gyle");
const STRONG: &str = include_str!("fixtures/strong.gyle");

#[test]
fn no_text_lies_upon_another() {
    let demo = example("saltmarsh-lantern");
    let stove = example("stove-top");
    let mut pages = vec![("demo", page(&[&demo, &stove], "Stove top"))];
    for (name, plant) in [
        ("1 L", "Jar"),
        ("100 hL", "Works"),
        ("5 gal", "Garage"),
        ("imperial", "Shed"),
    ] {
        pages.push((name, page(&[&demo, PLANTS], plant)));
        pages.push((name, page(&[CROWDED, PLANTS], plant)));
    }
    for name in ["bramble-buoy", "quay-mist"] {
        pages.push((name, page(&[&example(name), &stove], "Stove top")));
    }
    pages.push(("extract", page(&[EXTRACT], "Pot")));
    pages.push(("out of reach", page(&[STRONG, PLANTS], "Bag")));
    pages.push(("kettle too small", page(&[STRONG, PLANTS], "Thimble")));
    let found = laid_out("layout", &pages);
    // No page has fewer than a hundred texts.
    assert!(
        found.seen > 100 * pages.len() * WIDTHS.len(),
        "{}",
        found.seen
    );
    assert!(found.faults.is_empty(), "{:#?}", found.faults);
}

/// The page of brewing days, whose lines to paste are wider than a telephone.
#[test]
fn the_page_of_brewing_days_fits_too() {
    let texts = ["saltmarsh-lantern", "stove-top", "stove-top-days"].map(example);
    let job = Job::read(texts.iter().map(|text| ("text", text.as_str()))).unwrap();
    let brew = job.on("Stove top").unwrap();
    let plan = brew.plan().unwrap();
    let days = job
        .logs()
        .iter()
        .map(|log| BrewDay::new(plan.keep(), log.clone()));
    let learnt = learn(brew.brewhouse(), &days.collect::<Vec<_>>()).unwrap();
    let found = laid_out("learnt", &[("learnt", learnt::page(&learnt))]);
    assert!(found.seen > 30 * WIDTHS.len(), "{}", found.seen);
    assert!(found.faults.is_empty(), "{:#?}", found.faults);
}

/// A page with faults of each kind shows all of them, at every width.
#[test]
fn planted_faults_are_found() {
    let planted =
        |body: &str| format!("<!DOCTYPE html><html><body style=\"margin:0\">{body}</body></html>");
    let svg = |texts: &str| {
        planted(&format!(
            "<svg class=\"picture\" width=\"200\" viewBox=\"0 0 200 100\">{texts}</svg>"
        ))
    };
    let pages = [
        (
            "apart",
            svg("<text x=\"5\" y=\"20\">one</text><text x=\"5\" y=\"40\">two</text>"),
        ),
        (
            "upon",
            svg("<text x=\"5\" y=\"20\">one</text><text x=\"15\" y=\"24\">two</text>"),
        ),
        (
            "cut",
            svg("<text x=\"180\" y=\"20\">longer than its room</text>"),
        ),
        (
            "wide",
            planted(&format!(
                "<p style=\"white-space:nowrap\">{}</p>",
                "word ".repeat(400)
            )),
        ),
        (
            "html",
            planted("<p>one</p><p style=\"margin-top:-1.9em\">two</p>"),
        ),
    ];
    let found = laid_out("planted", &pages).faults;
    let told = |name: &str, what: &str| {
        let lines = found
            .iter()
            .filter(|line| line.starts_with(&format!("{name} at ")));
        lines.filter(|line| line.contains(what)).count()
    };
    assert_eq!(told("apart", ""), 0, "{found:#?}");
    assert_eq!(
        told("upon", "\"one\" lies upon \"two\""),
        WIDTHS.len(),
        "{found:#?}"
    );
    assert_eq!(told("html", "lies upon"), WIDTHS.len(), "{found:#?}");
    assert_eq!(told("cut", "is cut off"), WIDTHS.len(), "{found:#?}");
    assert_eq!(
        told("wide", "is wider than its window"),
        WIDTHS.len(),
        "{found:#?}"
    );
}
