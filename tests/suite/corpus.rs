//! What brewers write is read as well as it was, and what judges that is held itself.

use std::collections::{BTreeMap, BTreeSet};
use wortwright::Job;
use wortwright::speech::Speaks as _;
use wortwright_tests::corpus::{
    Case, Outcome, Places, Scorer, Show, Sort, TrapOutcome, cases, rates, report, traps,
};
use wortwright_tests::files::read;

/// Rates may only rise: who makes the reader better raises the floors.
#[test]
fn the_corpus_is_read_as_well_as_it_was() {
    let scorer = Scorer::default();
    let scored: Vec<_> = cases("tests/corpus")
        .iter()
        .map(|case| scorer.score(case))
        .collect();
    let floors = read("tests/corpus/floors.csv");
    let floors = floors.lines().filter(|row| !row.starts_with('#'));
    let mut sorts = 0;
    for row in floors {
        let fields: Vec<&str> = row.split(" | ").collect();
        let [name, usable, lines, misread] = fields[..] else {
            panic!("four fields expected: {row}");
        };
        let number = |text: &str| text.parse::<f64>().unwrap();
        let sort = Sort::ALL
            .into_iter()
            .find(|sort| sort.plural() == name)
            .unwrap();
        let found = rates(scored.iter().filter(|text| text.case.sort == sort));
        assert!(found.texts > 0, "{name}");
        assert!(found.usable_pct() >= number(usable), "{name}: {found:?}");
        assert!(found.lines_read_pct() >= number(lines), "{name}: {found:?}");
        let wrong = found.outcome(Outcome::Misread) as f64;
        let show = Show {
            misread: true,
            sort: Some(sort),
            ..Show::default()
        };
        assert!(
            wrong <= number(misread),
            "{name}: {}",
            report(&scored, show)
        );
        sorts += 1;
    }
    assert_eq!(sorts, Sort::ALL.len());
}

/// A warning that always comes is none: how many of the sheets that give a beer draw each, and how many print what it holds them against.
#[test]
fn sheets_draw_few_warnings() {
    let (mut beers, mut drawn) = (0, BTreeMap::new());
    let [mut colours, mut bitternesses] = [0, 0];
    for case in cases("tests/corpus")
        .iter()
        .filter(|case| case.sort == Sort::Sheet)
    {
        let Ok(job) = Job::read([(case.path.as_str(), case.text.as_str())]) else {
            continue;
        };
        let Ok(beer) = job.as_written() else {
            continue;
        };
        beers += 1;
        colours += u32::from(beer.published.colour.is_some());
        bitternesses += u32::from(beer.published.bitterness.is_some());
        let codes: BTreeSet<_> = beer
            .warnings
            .iter()
            .map(|told| told.what.code().to_owned())
            .collect();
        for code in codes {
            *drawn.entry(code).or_insert(0) += 1;
        }
    }
    let of = |code: &str| drawn.get(code).copied().unwrap_or(0);
    assert!(beers >= 64 && colours >= 10 && bitternesses >= 40);
    assert!(of("colour_not_explained") <= 2, "{drawn:?} of {colours}");
    assert!(
        of("bitterness_disagrees") <= 6,
        "{drawn:?} of {bitternesses}"
    );
    // One sheet in six.
    assert!(6 * of("yeast_temperature") <= beers, "{drawn:?} of {beers}");
    assert!(6 * of("high_hopping") <= beers, "{drawn:?} of {beers}");
}

#[test]
fn traps_are_not_stepped_into() {
    let scorer = Scorer::default();
    let traps = traps("tests/corpus/traps.csv");
    assert_eq!(traps.len(), 290);
    let found = traps.iter().map(|trap| scorer.score_trap(trap));
    let wrong: Vec<_> = found
        .filter(|verdict| verdict.outcome == TrapOutcome::Wrong)
        .map(|verdict| format!("{} {}", verdict.trap.case.path, verdict.why))
        .collect();
    // Line 211 of the table, which needs a sheet around it.
    assert!(wrong.len() <= 1, "{wrong:#?}");
}

/// Every fact of the corpus is parsed down to its units; what no scale has stands by its own unit.
#[test]
fn facts_are_parsed() {
    let cases = cases("tests/corpus");
    let count = |sort| cases.iter().filter(|case| case.sort == sort).count();
    assert_eq!(Sort::ALL.map(count), [102, 42, 42, 270, 600]);
    for case in &cases {
        assert!(!case.facts.is_empty(), "{}", case.path);
        for fact in &case.facts {
            assert!(case.lines.contains(&fact.line), "{}: {fact}", case.path);
        }
    }
}

/// A row of the scorer's tables that serves nothing would only excuse what is to come.
#[test]
fn every_row_of_the_tables_is_needed() {
    let cases = cases("tests/corpus");
    let facts: Vec<_> = cases.iter().flat_map(|case| &case.facts).collect();
    assert_eq!(Places::load().idle(&facts), Vec::<String>::new());
    let equivalents = read("tests/corpus/equivalents.csv");
    for row in equivalents.lines().filter(|row| !row.starts_with('#')) {
        let fields: Vec<&str> = row.split(" | ").collect();
        assert_eq!(fields.len(), 3, "{row}");
        assert!(facts.iter().any(|fact| fact.name == fields[0]), "{row}");
    }
}

const SHEET: &str = "\
recipe Low Tide
batch 20 L into fermenter
target original 1.050, bitterness 30 IBU
mash
  5 kg pale ale malt
  300 g wheat malt
  rest 152 F for 60 min
boil 60 min
  20 g cascade, 5 % alpha at 60 min
stand 20 min at 80 C
  30 g cascade
ferment
  pitch 1 pack ale yeast at 18 C
";

/// The outcomes of the facts of a text, and `+` for each that is made up.
fn outcomes(text: &str, means: &str) -> Vec<String> {
    let facts = means.lines().map(|row| Case::fact(row).unwrap()).collect();
    let case = Case {
        path: "made-up".into(),
        sort: Sort::Sheet,
        text: text.into(),
        lines: 1..=text.lines().count(),
        facts,
    };
    let scored = Scorer::default().score(&case);
    let word = |made_up: bool, outcome: Outcome| {
        format!("{}{}", if made_up { "+" } else { "" }, outcome.word())
    };
    scored
        .verdicts
        .iter()
        .map(|verdict| word(verdict.meant.is_none(), verdict.outcome))
        .collect()
}

/// What is not read of the sheet, one line of which is typed or means something else. All others must be read.
fn line(at: usize, typed: &str, means: &str) -> Vec<String> {
    let text: String = SHEET
        .lines()
        .enumerate()
        .map(|(index, line)| format!("{}\n", if index + 1 == at { typed } else { line }))
        .collect();
    let others: Vec<&str> = RIGHT
        .lines()
        .filter(|row| !row.starts_with(&format!("{at} |")))
        .collect();
    let found = outcomes(&text, &format!("{}\n{means}", others.join("\n")));
    let read = found.iter().filter(|word| *word == "read").count();
    assert!(read >= others.len(), "{found:?}");
    found.into_iter().filter(|word| word != "read").collect()
}

const RIGHT: &str = "\
1 | recipe | name | Low Tide | - | -
2 | recipe | batch | - | 20 L | -
3 | recipe | original | - | 1.050 SG | -
3 | recipe | bitterness | - | 30 IBU | -
5 | mash | malt | pale ale malt | 5 kg | -
6 | mash | malt | wheat malt | 0.3 kg | -
7 | mash | rest | saccharification | 66.67 C | for 60 min
8 | boil | boil-time | - | 60 min | -
9 | boil | hop | cascade | 0.02 kg | alpha 5 %, left 60 min
11 | stand | hop | cascade | 0.03 kg | at 80 C, for 20 min
13 | ferment | yeast | ale yeast | 1 pack | -
13 | boil | cool | - | 18 C | -";

#[test]
fn a_right_sheet_is_read() {
    let found = outcomes(SHEET, RIGHT);
    assert_eq!(found, vec!["read"; RIGHT.lines().count()]);
}

#[test]
fn a_wrong_amount_is_misread() {
    let typed = "  300 g wheat malt";
    assert_eq!(
        line(6, typed, "6 | mash | malt | wheat malt | 0.31 kg | -"),
        ["misread"]
    );
    // To 1 %.
    assert!(
        line(6, typed, "6 | mash | malt | wheat malt | 0.302 kg | -")
            .iter()
            .all(|word| word == "read")
    );
    assert_eq!(
        line(6, typed, "6 | mash | malt | rye malt | 0.3 kg | -"),
        ["misread"]
    );
    assert_eq!(
        line(6, typed, "6 | mash | grain | wheat malt | 0.3 kg | -"),
        ["misread"]
    );
    let hop = "  20 g cascade, 5 % alpha at 60 min";
    assert_eq!(
        line(
            9,
            hop,
            "9 | boil | hop | cascade | 0.02 kg | alpha 5 %, left 50 min"
        ),
        ["misread"]
    );
    assert_eq!(
        line(9, hop, "9 | boil | hop | cascade | 0.02 kg | alpha 5 %"),
        ["misread"]
    );
    assert_eq!(
        line(
            9,
            hop,
            "9 | stand | hop | cascade | 0.02 kg | alpha 5 %, left 60 min"
        ),
        ["misread"]
    );
    assert_eq!(
        line(
            7,
            "  rest 153 F for 60 min",
            "7 | mash | rest | - | 66.67 C | for 60 min"
        ),
        ["misread"]
    );
    assert_eq!(
        line(
            3,
            "target original 1.050, bitterness 30 IBU",
            "3 | recipe | original | - | 1.051 SG | -\n3 | recipe | bitterness | - | 30 IBU | -"
        ),
        ["misread"]
    );
}

#[test]
fn a_lost_figure_a_lost_line_and_a_made_up_one_are_told_apart() {
    let hop = "  20 g cascade, 5 % alpha at 60 min";
    let with_form = "9 | boil | hop | cascade | 0.02 kg | alpha 5 %, form pellet, left 60 min";
    assert_eq!(line(9, hop, with_form), ["partly"]);
    let malt = "6 | mash | malt | wheat malt | 0.3 kg | -";
    assert_eq!(line(6, "  # 300 g wheat malt", malt), ["missed"]);
    assert_eq!(line(6, "  300 g wheat malt", ""), ["+misread"]);
}

#[test]
fn what_is_refused_is_asked_and_nothing_near_it_suffers() {
    let malt = "6 | mash | malt | wheat malt | 0.3 kg | -";
    assert_eq!(line(6, "  300 wheat malt", malt), ["asked"]);
    // A line before others of its list that the model does not hold.
    let pale = "5 | mash | malt | pale ale malt | 5 kg | -";
    assert_eq!(line(5, "  5 kg", pale), ["asked"]);
}

#[test]
fn a_question_must_be_asked() {
    let malt = "6 | mash | malt | wheat malt | ask | -";
    assert_eq!(line(6, "  300 g wheat malt", malt), ["misread"]);
    assert!(
        line(6, "  300 wheat malt", malt)
            .iter()
            .all(|word| word == "read")
    );
}

#[test]
fn what_has_no_place_is_kept_unless_something_else_is_made_of_it() {
    let drawn = "6 | mash | drawn | decoction | 8 L | -";
    assert_eq!(line(6, "  pull 8 L", drawn), ["kept"]);
    // Refused, and what is held of it all the same is told with it.
    assert_eq!(line(6, "  fetch 8 L", drawn), ["asked", "+asked"]);
    assert_eq!(line(6, "  sparge 8 L", drawn), ["misread"]);
}

#[test]
fn days_of_a_log_are_counted_from_its_dates() {
    let text = "log a\n  pitched 19 L at 1.050 on day 0\n  reading 1.020 at 20 C on day 3\n";
    let means = |date: &str| {
        format!(
            "1 | log | name | a | - | -\n2 | log | reading | fermenter | 19 L | gravity 1.050 SG, date 05-30\n\
             3 | log | reading | - | 1.020 SG | at 20 C, date {date}"
        )
    };
    assert_eq!(outcomes(text, &means("06-02")), ["read", "read", "read"]);
    assert_eq!(outcomes(text, &means("06-03")), ["read", "read", "misread"]);
}

#[test]
fn a_plant_is_judged_by_slots() {
    let text = "brewhouse Home\n  kettle 30 L\n  kettle loss 1 L\n  evaporation 10 % per hour\n";
    let means = "1 | plant | name | Home | - | -\n2 | plant | kettle | - | 30 L | -\n2 | plant | heat | gas | - | -\n";
    let right = "3 | plant | loss | whirlpool | 1 L | -\n4 | plant | evaporation | - | 10 %/h | -";
    let wrong = "3 | plant | loss | fermenter | 1 L | -\n4 | plant | evaporation | - | 10 L/h | -";
    assert_eq!(
        outcomes(text, &format!("{means}{right}")),
        ["read", "read", "kept", "read", "read"]
    );
    assert_eq!(
        outcomes(text, &format!("{means}{wrong}")),
        ["read", "read", "kept", "misread", "misread"]
    );
}
