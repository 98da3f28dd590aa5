//! A fault that is planted is found: by each law one of its own kind.

use wortwright_tests::agreement::laws::{Case, Fault, Found, OF_THE_ANSWER, OF_THE_TEXT};
use wortwright_tests::agreement::moves::OF_MOVES;

/// The law, a fault that it must find, and what the fault is.
const FAULTS: [(&str, Fault, &str); 21] = [
    (
        "printed and read again",
        Fault::Text(without_last_line),
        "the last line is not printed",
    ),
    (
        "models written down and read again",
        Fault::Text(half_loss),
        "a loss is written down as half of it",
    ),
    (
        "decimal commas",
        Fault::Text(no_commas),
        "a decimal comma is passed over",
    ),
    (
        "line ends of two bytes",
        Fault::Text(without_last_line),
        "the last line is lost",
    ),
    (
        "units exchanged",
        Fault::Text(imperial),
        "a US gallon is read as an imperial one",
    ),
    (
        "units exchanged",
        Fault::Text(rounded_srm),
        "SRM are EBC over 1.97",
    ),
    (
        "units exchanged",
        Fault::Figure("spread.", 1e-5),
        "a spread by the units of the page",
    ),
    (
        "lines in another order",
        Fault::Figure("spread.", 1e-5),
        "a spread by the order of the lines",
    ),
    (
        "lines in another order",
        Fault::Figure("predicted.colour_ebc", 1e-6),
        "colour by the order of the grist",
    ),
    (
        "lines in another order",
        Fault::Text(without_last_line),
        "the last line does not count",
    ),
    (
        "a line in two",
        Fault::Figure("additions", 1e-6),
        "amounts by the number of lines",
    ),
    (
        "a line in two",
        Fault::Figure("bitterness_ibu", 1e-6),
        "bitterness by the number of lines",
    ),
    (
        "recipe and plants so many times",
        Fault::Text(half_loss),
        "a loss does not grow",
    ),
    (
        "recipe and plants so many times",
        Fault::Figure("predicted.original_plato", 1e-7),
        "a larger brew is stronger",
    ),
    (
        "a plan's own text predicted",
        Fault::Text(no_model),
        "the text does not say the model of bitterness",
    ),
    (
        "a plan's own text predicted",
        Fault::Text(dry),
        "the text states another final gravity",
    ),
    (
        "a plan's own text planned again",
        Fault::Text(dry),
        "the text states another final gravity",
    ),
    (
        "there and back again",
        Fault::Text(dry),
        "the text states another final gravity",
    ),
    (
        "a proposal taken",
        Fault::Figure("predicted.colour_ebc", 1e-6),
        "a colour that is not the promised one",
    ),
    (
        "a remedy taken",
        Fault::Untaken,
        "what is taken changes nothing",
    ),
    (
        "a small change is a small change",
        Fault::Figure("predicted.final_plato", 1e-3),
        "a step in the final gravity",
    ),
];

fn without_last_line(text: &str) -> String {
    let text = text.trim_end();
    text.rsplit_once('\n')
        .map_or("", |(before, _)| before)
        .to_owned()
        + "\n"
}

fn half_loss(text: &str) -> String {
    let half = |line: &str| match line.split_once("loss ") {
        Some((word, figure)) => {
            let (number, unit) = figure.split_once(' ').unwrap_or((figure, ""));
            let number: f64 = number.parse().unwrap_or(0.0);
            format!("{word}loss {} {unit}\n", number / 2.0)
        }
        None => format!("{line}\n"),
    };
    text.lines().map(half).collect()
}

fn no_commas(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let is_digit = |at: usize| chars.get(at).is_some_and(char::is_ascii_digit);
    let kept = (0..chars.len()).filter(|at| {
        let between = *at > 0 && is_digit(at - 1) && is_digit(at + 1);
        !(chars[*at] == ',' && between)
    });
    kept.map(|at| chars[at]).collect()
}

fn imperial(text: &str) -> String {
    text.replace("imp gal", "gal").replace("gal", "imp gal")
}

fn rounded_srm(text: &str) -> String {
    let ebc = |line: &str| {
        let words: Vec<_> = line.split(' ').collect();
        let said = (0..words.len()).map(|at| {
            let is_srm = words
                .get(at + 1)
                .is_some_and(|unit| unit.starts_with("SRM"));
            match words[at].parse::<f64>() {
                Ok(number) if is_srm => format!("{} ", number * 1.97 * 12.7 / 25.0),
                _ => format!("{} ", words[at]),
            }
        });
        said.collect::<String>().trim_end().to_owned() + "\n"
    };
    text.lines().map(ebc).collect()
}

fn no_model(text: &str) -> String {
    let lines = text
        .lines()
        .filter(|line| !line.starts_with("  bitterness "));
    lines.map(|line| format!("{line}\n")).collect()
}

/// The final gravity a hundredth of a degree lower.
fn dry(text: &str) -> String {
    let lower = |line: &str| match line.split_once("final ") {
        Some((before, figure)) if line.starts_with("target") => {
            let (number, rest) = figure.split_once(' ').unwrap_or((figure, ""));
            let number: f64 = number.parse().unwrap_or(0.0);
            format!("{before}final {} {rest}\n", number - 0.01)
        }
        _ => format!("{line}\n"),
    };
    text.lines().map(lower).collect()
}

/// Beers that are looked at for one in which the fault shows.
const LOOKED_AT: u64 = 400;

#[test]
fn every_law_finds_a_fault_of_its_kind() {
    let laws = || OF_THE_TEXT.iter().chain(&OF_THE_ANSWER).chain(&OF_MOVES);
    for (name, fault, told) in FAULTS {
        let (_, law) = laws().find(|(law, _)| *law == name).unwrap();
        let found = (1..=LOOKED_AT).any(|seed| {
            let Ok(mut bent) = Case::of(seed, fault) else {
                return false;
            };
            let found = matches!(law(&mut bent), Found::Fails(_));
            // It is the fault that is found.
            found && law(&mut Case::of(seed, Fault::None).unwrap()) == Found::Holds
        });
        assert!(found, "{name} does not find that {told}");
    }
    let (_, monotonic) = OF_MOVES[1];
    let mut still = (1..=LOOKED_AT).filter_map(|seed| Case::of(seed, Fault::Untaken).ok());
    let found = still.any(|mut case| matches!(monotonic(&mut case), Found::Fails(_)));
    assert!(found, "what changes nothing gives more");
    // No law is without one.
    for (law, _) in laws() {
        let is_listed = FAULTS.iter().any(|(name, ..)| name == law);
        assert!(is_listed || *law == "more gives more", "{law}");
    }
}
