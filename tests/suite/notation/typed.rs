//! What brewers type obeys the laws as well: it prints as it reads, whatever its line ends are, its model is written as text and read
//! again, and each number of it counts or is spoken of.

use super::printing::{document, laws, parse, same_meaning};
use wortwright::notation::{Document, Reading};
use wortwright::speech::{Speaks, Style};
use wortwright_tests::corpus::{Case, Sort, cases};

/// Share of figures that may change nothing and be told nowhere: numbers that count things off, a figure said twice.
const MOST_SILENT: f64 = 0.02;

/// `EVERY_PAGE=1` tries all pages and figures where a run of the suite tries some.
fn all() -> bool {
    std::env::var_os("EVERY_PAGE").is_some()
}

/// Whole pages: sheets, logs and plants.
fn pages() -> Vec<Case> {
    let all = cases("tests/corpus").into_iter();
    let pages = all.filter(|case| matches!(case.sort, Sort::Sheet | Sort::Log | Sort::Plant));
    pages.collect()
}

#[test]
fn pages_print_as_they_read() {
    // One in six; each law is six readings.
    let step = if all() { 1 } else { 6 };
    for page in pages().iter().step_by(step) {
        laws(&page.text);
    }
}

#[test]
fn line_ends_and_spaces_at_the_end_say_nothing() {
    for page in pages() {
        let other = page.text.replace('\n', "  \r\n");
        same_meaning(&parse(&other), &parse(&page.text));
    }
}

/// The strict form of what was typed freely says the same.
#[test]
fn pages_are_written_in_the_strict_form() {
    for page in pages() {
        let reading = parse(&page.text);
        if !reading.is_usable() {
            continue;
        }
        if let Some(recipe) = &reading.recipe {
            let text = Document::from(recipe).to_string();
            let again = parse(&text);
            assert_eq!(again.recipe.as_ref(), Some(recipe), "{}\n{text}", page.path);
            assert_eq!(document(&text).to_string(), text, "{}", page.path);
        }
        for plant in &reading.brewhouses {
            let text = Document::from(plant).to_string();
            assert_eq!(
                parse(&text).brewhouses,
                std::slice::from_ref(plant),
                "{text}"
            );
        }
        let text = Document::from(&reading.stock).to_string();
        assert_eq!(parse(&text).stock, reading.stock, "{text}");
    }
}

/// All that a host learns of a text.
fn learnt(reading: &Reading<'_>) -> String {
    let notes: Vec<String> = reading
        .notes
        .iter()
        .map(|note| note.text(Style::default()))
        .collect();
    let found: Vec<&str> = reading
        .diagnostics
        .iter()
        .map(|found| found.message.as_str())
        .collect();
    format!(
        "{:?}{:?}{:?}{:?}{notes:?}{found:?}",
        reading.recipe, reading.brewhouses, reading.stock, reading.logs
    )
}

/// Each figure of a sheet changes the model when it is bent, or something is told of it. One of each sheet here. Logs have clocks before pitching, which nothing rests on.
#[test]
fn no_figure_counts_for_nothing() {
    let sheets = pages().into_iter().filter(|page| page.sort == Sort::Sheet);
    let (mut bent, mut silent) = (0, Vec::new());
    for (number, page) in sheets.enumerate() {
        let plain = learnt(&parse(&page.text));
        let bytes = page.text.as_bytes();
        let is_last = |at: &usize| {
            bytes[*at].is_ascii_digit() && !bytes.get(at + 1).is_some_and(u8::is_ascii_digit)
        };
        let ends: Vec<usize> = (0..bytes.len()).filter(is_last).collect();
        let chosen = if all() {
            0..ends.len()
        } else {
            7 * number % ends.len()..7 * number % ends.len() + 1
        };
        for at in ends[chosen].iter().copied() {
            let mut other = page.text.clone().into_bytes();
            other[at] = if other[at] == b'9' {
                b'8'
            } else {
                other[at] + 1
            };
            bent += 1;
            if learnt(&parse(&String::from_utf8(other).unwrap())) == plain {
                let line = page.text[..at].matches('\n').count();
                let typed = page.text.lines().nth(line).unwrap();
                silent.push(format!("{}:{} {typed}", page.path, line + 1));
            }
        }
    }
    assert!(bent > 90);
    let share = silent.len() as f64 / f64::from(bent);
    assert!(
        share <= MOST_SILENT,
        "{} of {bent}:\n{}",
        silent.len(),
        silent.join("\n")
    );
}
