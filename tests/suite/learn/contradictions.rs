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

/// Hot wort whose temperature is not written reads 4 % more than it is: that it is taken as cold is told.
#[test]
fn volumes_without_a_temperature_are_told() {
    let is_told = |lines: &[&str]| {
        let found = of(lines).unwrap();
        let mut remarks = found.remarks.iter();
        remarks.any(|remark| matches!(remark.what, LearnRemark::VolumesCold { .. }))
    };
    assert!(is_told(&["before boil 24 L at 10 P"]));
    assert!(is_told(&["before boil 25 L at 98 C", "after boil 22 L"]));
    assert!(!is_told(&["before boil 25 L at 98 C, 10 P"]));
    assert!(!is_told(&["before boil 10 P", "pitched 20 L at 12 P"]));
}

/// Days as they are on the plant, and one of a plant that boils off twice as much: no line of it is a slip, the day is unlike the others. By
/// hand it boils off 6 L in an hour where the others have 3.3, which is eleven times the 7 % by which days differ.
#[test]
fn a_day_of_another_plant_is_told() {
    let with = |last: &str| {
        let day = |number: usize| {
            let more_l = 0.1 * (number % 3) as f64;
            format!(
                "log d{number}\n  before boil {} L at 10.3 P\n  after boil {} L at 11.9 P\n  pitched 20.4 L at 12 P\n",
                24.9 + more_l,
                21.6 + more_l
            )
        };
        let logs: String = (0..9).map(day).collect();
        let job = Job::read([("text", format!("{TEXT}{logs}log x\n{last}"))]).unwrap();
        let plan = job.on("Shed").unwrap().plan().unwrap();
        let days = job.logs().iter();
        let days: Vec<_> = days
            .map(|log| BrewDay::new(plan.keep(), log.clone()))
            .collect();
        let found = learn(&plan.brewhouse, &days).unwrap();
        let remarks = found
            .remarks
            .into_iter()
            .filter_map(|remark| match remark.what {
                LearnRemark::DayUnlikeOthers {
                    log,
                    name,
                    value,
                    usual,
                    ..
                } => Some((log, name, value, usual)),
                _ => None,
            });
        remarks.collect::<Vec<_>>()
    };
    let usual =
        "  before boil 25 L at 10.3 P\n  after boil 21.5 L at 11.9 P\n  pitched 20.3 L at 12 P\n";
    assert_eq!(with(usual), []);
    let other =
        "  before boil 25 L at 10.3 P\n  after boil 19 L at 13.4 P\n  pitched 17.9 L at 13.4 P\n";
    let told = with(other);
    let [(log, name, value, usual)] = told.as_slice() else {
        panic!("{told:?}");
    };
    assert_eq!((log.as_str(), name.as_str()), ("x", "evaporation"));
    assert!(*value > 4.5 && *usual < 3.6, "{told:?}");
}

/// A default of which the days tell nothing is not written down as the plant's own, which would be taken to be better known.
#[test]
fn only_what_is_learnt_stands_in_the_lines() {
    let nothing = of(&["reading 1.010 on day 3"]).unwrap();
    assert_eq!(nothing.brewhouse.conversion, None);
    assert!(
        !nothing.lines().contains("conversion"),
        "{}",
        nothing.lines()
    );
    let gravity = of(&["after boil 11.5 P"]).unwrap();
    assert!(gravity.brewhouse.conversion.is_some());
    assert!(gravity.brewhouse.absorption.is_none());
}
