//! Two thousand drawn beers, the same each time. More by hand: `tests/long/agreement.rs`.

use wortwright_tests::agreement::run::Report;

const BEERS: u64 = 2000;
/// Of so many laws each beer is held against one; against what applies to few beers, always.
const EACH: u64 = 6;
/// What no beer that can be brewed may be refused for; a printed gravity that its plant does not reach contradicts itself.
const MOST_REFUSED: usize = 20;

/// Rows of the grammar that are drawn in no beer, each with its reason. This list only shrinks.
const NOT_DRAWN: [(&str, &str); 0] = [];

#[test]
fn drawn_beers_keep_all_laws() {
    let reports = std::thread::scope(|scope| {
        let halves = [0, 1].map(|half| {
            scope.spawn(move || {
                let mut report = Report::default();
                for seed in (1..=BEERS).filter(|seed| seed % 2 == half) {
                    report.add(seed, EACH);
                }
                report
            })
        });
        halves.map(|half| half.join().unwrap())
    });
    let mut all = Report::default();
    for report in reports {
        all.join(report);
    }
    let failed: Vec<_> = (all.findings.iter())
        .map(|found| (found.law, found.seed))
        .collect();
    let first = all.findings.first();
    let first = first.map_or_else(String::new, |found| {
        format!("{}\n{}", found.told, found.text)
    });
    assert!(failed.is_empty(), "{failed:?}\n{first}");
    let refused: usize = all.refused.values().sum();
    assert!(
        refused <= MOST_REFUSED,
        "{:?} {:?}",
        all.refused,
        all.refusals.values()
    );
    // Each law was tried, and those of what is rare often enough.
    for (law, least) in [
        ("a proposal taken", 20),
        ("a remedy taken", 10),
        ("there and back again", 200),
    ] {
        let tried = all.tried.get(law).copied().unwrap_or(0);
        assert!(tried >= least, "{law}: {tried}");
    }
    assert_eq!(all.tried.len(), 15, "{:?}", all.tried);
    let listed: Vec<_> = NOT_DRAWN.iter().map(|(row, _)| (*row).to_owned()).collect();
    assert_eq!(all.drawn.missing(), listed);
}

/// Beers of other seeds of which a law once failed, one of each kind: what a topped-up kettle keeps; the strongest topped-up wort; a bittering
/// hop that cannot be less than none; a degree, a tenth of a gram and a figure of a lot in two units; a remedy that is measured in gallons;
/// causes of one weight.
const FAILED_ONCE: [u64; 10] = [
    7000550, 7000276, 7001450, 7003436, 7004966, 7003268, 7004033, 7004766, 7001897, 7000108,
];

#[test]
fn what_failed_once_keeps_all_laws() {
    let mut report = Report::default();
    for seed in FAILED_ONCE {
        report.add(seed, 1);
    }
    let failed: Vec<_> = report
        .findings
        .iter()
        .map(|found| (found.law, found.seed))
        .collect();
    assert!(
        failed.is_empty(),
        "{failed:?}\n{:?}",
        report.findings.first()
    );
    assert!(report.refused.is_empty(), "{:?}", report.refused);
}
