//! Any bytes: reading never panics, spans lie on character bounds, findings are bounded, and the laws of printing hold.
#![no_main]

use libfuzzer_sys::fuzz_target;
use wortwright::diagnostic::{TextRef, Span, render};
use wortwright::notation::{Document, Entry, Reading, read};

/// The listed findings, and the one that counts the rest.
const MOST_FINDINGS: usize = 101;

fuzz_target!(|bytes: &[u8]| {
    let text = String::from_utf8_lossy(bytes);
    let sources = [TextRef::new("text", &text)];
    let reading = read(&sources);
    check_spans(&reading, &text);
    assert!(reading.diagnostics.len() <= MOST_FINDINGS);
    for diagnostic in &reading.diagnostics {
        assert!(!render(diagnostic, &sources).is_empty());
    }
    laws(&reading);
});

fn check_spans(reading: &Reading<'_>, text: &str) {
    let good = |span: Span| {
        let (start, end) = (span.start as usize, span.end as usize);
        assert!(start <= end && text.is_char_boundary(start) && text.is_char_boundary(end));
    };
    for diagnostic in &reading.diagnostics {
        good(diagnostic.span);
        diagnostic.labels.iter().for_each(|label| good(label.span));
    }
    for note in &reading.notes {
        good(note.span());
    }
    for document in &reading.documents {
        walk(document.entries(), &good);
    }
}

fn walk(entries: &[Entry<'_>], good: &impl Fn(Span)) {
    for entry in entries {
        match entry {
            Entry::Comment(comment) => good(comment.span()),
            Entry::Line(line) => {
                line.tokens().iter().for_each(|token| good(token.span()));
                walk(line.entries(), good);
            }
        }
    }
}

/// `parse(print(d)) == d`, printing is idempotent, and what is printed means the same.
fn laws(first: &Reading<'_>) {
    let printed = first.documents[0].to_string();
    let second = read(&[TextRef::new("text", &printed)]);
    assert_eq!(second.documents[0], first.documents[0], "{printed}");
    assert_eq!(second.documents[0].to_string(), printed);
    assert_eq!(second.recipe, first.recipe, "{printed}");
    assert_eq!(second.brewhouses, first.brewhouses, "{printed}");
    assert_eq!(second.stock, first.stock, "{printed}");
    assert_eq!(second.logs, first.logs, "{printed}");
    assert_eq!(second.ingredients, first.ingredients, "{printed}");
    // An ingredient read without fault can be written: nothing else reads as the same entry.
    for entry in first.ingredients.iter().take(2).filter(|_| first.is_usable()) {
        assert!(Document::of_ingredient(entry).is_some(), "{entry:?}");
    }
    // A recipe read without fault is written and read without fault.
    if let Some(recipe) = first.recipe.as_ref().filter(|_| first.is_usable()) {
        let written = Document::from(recipe).to_string();
        let again = read(&[TextRef::new("text", &written)]);
        let again = again.recipe.expect("a written recipe holds a recipe");
        assert_eq!(again.name, recipe.name, "{written}");
        assert_eq!(
            again.additions().count(),
            recipe.additions().count(),
            "{written}"
        );
    }
}
