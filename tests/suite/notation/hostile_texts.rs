//! Texts that no brewer writes: a bounded list of findings, in time that grows with the length and no faster.

use std::time::{Duration, Instant};
use wortwright::diagnostic::{Code, TextRef, render};
use wortwright::notation::{Document, Entry, Token, read};
use wortwright_tests::fixtures::{DEMO, DEMO_LOG, DEMO_PLANT};
use wortwright_tests::hostile::SHAPES;

/// The hundred findings that are listed, and the one that counts the rest.
const MOST_FINDINGS: usize = 101;
/// Message and help are cut at four hundred bytes each.
const LONGEST_FINDING: usize = 2 * (400 + 4);

/// How many lines, comments and tokens a tree holds.
fn nodes(entries: &[Entry<'_>]) -> usize {
    let of = |entry: &Entry<'_>| match entry {
        Entry::Comment(_) => 1,
        Entry::Line(line) => {
            let comment = usize::from(line.comment().is_some());
            1 + line.tokens().len() + comment + nodes(line.entries())
        }
    };
    entries.iter().map(of).sum()
}

/// How long one reading takes, with a look at what it finds.
fn time(text: &str) -> Duration {
    let sources = [TextRef::new("text", text)];
    let start = Instant::now();
    let reading = read(&sources);
    let took = start.elapsed();
    assert!(reading.diagnostics.len() <= MOST_FINDINGS);
    // A token takes a byte at least, and so does the end of a line.
    let nodes: usize = reading.documents.iter().map(|d| nodes(d.entries())).sum();
    assert!(nodes <= 2 * text.len() + 1, "{nodes}");
    for diagnostic in &reading.diagnostics {
        let length = diagnostic.message.len() + diagnostic.help.as_ref().map_or(0, String::len);
        assert!(length <= LONGEST_FINDING, "{}", diagnostic.message);
        assert!(!render(diagnostic, &sources).is_empty());
    }
    took
}

/// Processor time that this thread has had: what a busy machine gives to others does not count. Where the system does
/// not tell, the time of day stands in.
fn spent(since: Instant) -> Duration {
    std::fs::read_to_string("/proc/thread-self/schedstat")
        .ok()
        .and_then(|text| text.split(' ').next()?.parse().ok())
        .map_or_else(|| since.elapsed(), Duration::from_nanos)
}

/// As much text in long pieces as in short ones takes about as long; a quadratic reader would take eight times as long
/// for the long ones. Between them lies what the cache and a neighbour on the same core add.
#[test]
fn time_grows_with_the_length_and_no_faster() {
    const SHORT: usize = 8_000;
    const MOST_TIMES: f64 = 3.0;
    /// Processor time is counted in ticks of a few milliseconds; what is shorter than two of them is fast enough.
    const TICKS_S: f64 = 0.008;
    let start = Instant::now();
    let took = |text: &str, times: usize| {
        let before = spent(start);
        (0..times).for_each(|_| {
            time(text);
        });
        spent(start).saturating_sub(before).as_secs_f64()
    };
    let mut slow = Vec::new();
    for (name, make) in SHAPES {
        let (short, long) = (make(SHORT), make(8 * SHORT));
        let ratio = || (took(&long, 2) + TICKS_S) / (took(&short, 16) + TICKS_S);
        let ratios: Vec<f64> = (0..4)
            .map(|_| ratio())
            .take_while(|r| *r > MOST_TIMES)
            .collect();
        if ratios.len() == 4 {
            slow.push(format!("{name}: {ratios:.1?} times"));
        }
    }
    assert!(slow.is_empty(), "{slow:#?}");
}

#[test]
fn ten_megabytes_of_random_bytes_are_read() {
    let start = Instant::now();
    for (name, make) in &SHAPES[..2] {
        let text = make(10_000_000);
        let before = spent(start);
        time(&text);
        let took = spent(start).saturating_sub(before);
        assert!(took < Duration::from_secs(20), "{name} took {took:?}");
    }
}

/// With the bound on the number of nodes this bounds the tree.
#[test]
fn nodes_of_a_tree_are_small() {
    assert!(size_of::<Token<'_>>() <= 56, "{}", size_of::<Token<'_>>());
    assert!(size_of::<Entry<'_>>() <= 48, "{}", size_of::<Entry<'_>>());
}

#[test]
fn a_million_of_one_thing_are_read() {
    for part in ["a ", ",", "17", "\"", "#", "\n", " "] {
        time(&part.repeat(1_000_000));
    }
}

#[test]
fn a_hundred_thousand_indents_give_one_finding_of_depth() {
    // As deep as a line can stand, and as many lines each deeper than the last as fit in ten megabytes.
    let far = format!("mash\n{}a\n", " ".repeat(100_000));
    let text = far + &SHAPES[6].1(10_000_000);
    let reading = read(&[TextRef::new("text", &text)]);
    let deep = reading
        .diagnostics
        .iter()
        .filter(|diagnostic| diagnostic.code.as_str() == "too_deep");
    assert_eq!(deep.count(), 1);
    // No recursion over the tree may overflow, printing and dropping it included.
    let printed = reading.documents[0].to_string();
    assert_eq!(
        Document::parse(&TextRef::new("text", &printed)),
        reading.documents[0]
    );
}

#[test]
fn every_beginning_of_the_demo_is_read() {
    for text in [DEMO, DEMO_PLANT, DEMO_LOG] {
        for (at, _) in text.char_indices() {
            let beginning = &text[..at];
            let sources = [TextRef::new("text", beginning)];
            let reading = read(&sources);
            // A text cut short is short of something: no more than its last lines can be wrong.
            assert!(reading.diagnostics.len() <= 6, "{beginning}");
            assert!(
                reading
                    .diagnostics
                    .iter()
                    .all(|found| found.span.end as usize <= at),
                "{beginning}"
            );
        }
    }
}

/// A text ends at 64 MiB, before a character that would go beyond.
#[test]
fn what_lies_beyond_the_longest_text_is_not_read() {
    const LONGEST: usize = 64 << 20;
    let with_end = |end: &str, at: usize| {
        let head = "recipe A\n";
        format!("{head}{}{end}", " ".repeat(at - head.len()))
    };
    let full = with_end("\nbatch 20 L", LONGEST - 11);
    assert_eq!(full.len(), LONGEST);
    let reading = read(&[TextRef::new("text", &full)]);
    assert_eq!(reading.diagnostics, []);
    assert!(reading.recipe.unwrap().batch.is_some());

    for (end, read_bytes) in [
        ("\nbatch 20 L", LONGEST),
        ("\u{a0}\nbatch 20 L", LONGEST - 1),
    ] {
        let text = with_end(end, read_bytes);
        let reading = read(&[TextRef::new("text", &text)]);
        let [said] = reading.diagnostics.as_slice() else {
            panic!("{:?}", reading.diagnostics)
        };
        assert_eq!(said.code, Code::TooLong);
        assert_eq!(
            (said.span.start, said.span.end),
            (read_bytes as u32, read_bytes as u32)
        );
        assert!(reading.recipe.unwrap().batch.is_none());
    }
}
