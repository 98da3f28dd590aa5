//! Sheets that make no beer, each refused at the line that breaks the balance, beside one that only just does.

use wortwright::Job;
use wortwright::diagnostic::ErrorKind;

const SHEET: &str = "recipe Plain\nbatch 20 L into fermenter\nmash\n  4 kg pale ale malt\nboil 60 min\n  1 kg sucrose at 10 min\nferment\n  \
    pitch american ale yeast\n  add 1 L water on day 3\nbrewhouse Shed\n  batch 20 L into fermenter\n  extract yield 75 %\n  \
    evaporation 3 L/h\n  kettle loss 1 L\n";

#[test]
fn what_breaks_the_balance_is_refused_at_its_line() {
    for (line, possible, impossible, place) in [
        // More extract than water: 12 kg in 21 L of wort are some 45 °P, 25 kg are 86 °P.
        (
            "1 kg sucrose at",
            "8 kg sucrose at",
            "25 kg sucrose at",
            "recipe.boil.additions[0].amount",
        ),
        // More stays behind than there is.
        (
            "add 1 L water",
            "add 40 g cascade",
            "add 10 kg cascade",
            "recipe.fermentation.additions",
        ),
    ] {
        let planned = |changed: &str| {
            assert!(SHEET.contains(line), "{line}");
            let text = SHEET.replace(line, changed);
            Job::read([("sheet", text.as_str())]).and_then(|job| job.on("Shed")?.plan())
        };
        if let Err(error) = planned(possible) {
            panic!("{possible}: {error}");
        }
        let error = planned(impossible).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::Contradiction, "{error}");
        let found = error.place().map(ToString::to_string).unwrap_or_default();
        assert!(found.contains(place), "{impossible}: {found}");
        assert!(error.help().is_some_and(|help| !help.is_empty()), "{error}");
    }
}
