//! Jotted texts, read from end to end.

mod carried;
mod log;
mod ordinary;
mod plant;
mod rows;
mod sheet;

use crate::diagnostic::{Code, TextRef};
use crate::notation::{ReadingNote, read};

/// What is understood of a text, line by line without gaps of columns.
pub(super) fn understood(text: &str) -> Vec<String> {
    let reading = read(&[TextRef::new("text", text)]);
    let whole: String = reading
        .understood()
        .iter()
        .map(ToString::to_string)
        .collect();
    whole
        .lines()
        .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "))
        .filter(|line| !line.is_empty())
        .collect()
}

fn codes(text: &str) -> Vec<Code> {
    read(&[TextRef::new("text", text)])
        .diagnostics
        .iter()
        .map(|found| found.code)
        .collect()
}

fn told(text: &str) -> Vec<String> {
    let reading = read(&[TextRef::new("text", text)]);
    let unused = reading.notes.iter().filter_map(|note| match note {
        ReadingNote::NotUsed { typed, .. } => Some(typed.clone()),
        _ => None,
    });
    unused.collect()
}

/// The lines that a small sheet says with these at its end, without those that it always has.
fn said(more: &str) -> Vec<String> {
    let sheet = "Ale\n20 L\n5 kg pale ale malt\n";
    let always = understood(sheet);
    let lines = understood(&format!("{sheet}{more}\n"));
    lines
        .into_iter()
        .filter(|line| !always.contains(line))
        .collect()
}

const GRIST: &str = "Small Ale\n20 L\nmash:\n4 kg pale ale malt\n1 kg wheat malt\nrest 66 C for 60 min\nboil 60 min\n20 g saaz at 60 min\n";

/// The lines that a jotted line adds to a small sheet.
pub(super) fn added(typed: &str) -> Vec<String> {
    let always = understood(GRIST);
    let mut lines = understood(&format!("{GRIST}{typed}\n"));
    lines.retain(|line| !always.contains(line));
    lines
}

pub(super) fn questions(text: &str) -> Vec<String> {
    let reading = read(&[TextRef::new("text", text)]);
    reading
        .diagnostics
        .iter()
        .map(|found| found.message.clone())
        .collect()
}
