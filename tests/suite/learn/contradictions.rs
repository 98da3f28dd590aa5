//! Days that no brewery can have had, and lines that tell nothing.

use wortwright::Job;
use wortwright::diagnostic::{Error, ErrorKind};
use wortwright::learn::{BrewDay, LearnRemark, Learnt, learn};

const TEXT: &str = "recipe Plain\nbatch 20 L into fermenter\ntarget original 12 P\nmash\n  100 % pale ale malt\nboil 60 min\n\
    brewhouse Shed\n  batch 20 L into fermenter\n  lauter bag\n  evaporation 3 L/h\n  kettle loss 1 L\n";

fn of(lines: &[&str]) -> Result<Learnt, Error> {
    let lines: String = lines.iter().map(|line| format!("  {line}\n")).collect();
    let text = format!("{TEXT}log Third\n{lines}");
    let job = Job::read([("text", text)]).unwrap_or_else(|error| panic!("{error}"));
    let plan = job.on("Shed")?.plan()?;
    learn(
        &plan.brewhouse,
        &[BrewDay::new(plan.keep(), job.logs()[0].clone())],
    )
}

/// Each is refused at its line; what readings may be off by is not.
#[test]
fn what_no_brewery_can_have_is_refused_at_its_line() {
    for (lines, entry, refused) in [
        (&["before boil 22 L", "after boil 24 L"][..], 1, true),
        (&["before boil 22 L", "after boil 22.5 L"], 1, false),
        (&["after boil 20 L", "pitched 26 L at 12 P"], 1, true),
        (&["before boil 10 P", "after boil 8 P"], 1, true),
        (&["before boil 10 P", "after boil 9.5 P"], 1, false),
        (&["pitched 20 L at 12 P", "reading 14 P on day 10"], 0, true),
        (&["before boil 24 L at 15 P"], 0, true),
        (&["before boil 40 P"], 0, true),
        (&["mash pH 5.4", "first wort 30 P"], 1, true),
        (&["pitched 30 L at 14 P"], 0, true),
    ] {
        match of(lines) {
            Ok(_) => assert!(!refused, "{lines:?}"),
            Err(error) => {
                assert!(refused, "{lines:?}: {error}");
                assert_eq!(error.kind(), ErrorKind::Contradiction, "{lines:?}");
                let said = error.message();
                let line = format!("day `Third`, line {}", entry + 1);
                assert!(said.starts_with(&line), "{said}");
                let place = error.place().unwrap().to_string();
                assert_eq!(place, format!("logs[Third].entries[{entry}]"));
                assert!(error.help().is_some());
            }
        }
    }
}

#[test]
fn lines_that_tell_nothing_are_told() {
    let found = of(&[
        "mash pH 5.4",
        "before boil 24 L at 10 P",
        "pitched 20 L at 12 P",
        "drawn 100 mL on day 2",
        "reading 6 P on day 3",
        "reading 2.5 P on day 12",
    ])
    .unwrap();
    let unused = found
        .remarks
        .iter()
        .filter_map(|remark| match &remark.what {
            LearnRemark::LineNotUsed { entry, .. } => Some(*entry),
            _ => None,
        });
    assert_eq!(unused.collect::<Vec<_>>(), [0, 3, 4]);
    let codes: Vec<_> = found
        .remarks
        .iter()
        .map(wortwright::speech::Speaks::code)
        .collect();
    assert!(codes.contains(&"hydrometer_checked") && codes.contains(&"volumes_by_marks"));
    assert!(!codes.contains(&"refractometer_in_wort"));
    assert!(
        found
            .figures
            .iter()
            .any(|figure| figure.name == "attenuation")
    );
}

/// A hot volume is the cold one that the tables have for it: 4 % less at the boil.
#[test]
fn hot_volumes_count_cold() {
    let read = |line: &str| {
        let found = of(&[line]).unwrap();
        let litres = found.days[0].read.pre_boil.unwrap();
        litres.get::<wortwright::quantity::uom::si::volume::liter>()
    };
    assert!((read("before boil 25 L at 99.974 C, 10 P") - 25.0 * 0.9601).abs() < 0.01);
    assert!((read("before boil 25 L at 10 P") - 25.0).abs() < 1e-9);
}
