//! Drawn beers under the laws that hold of any: the first seed and how many beers, and of how many each law of the answer takes one.
//!
//! ```text
//! cargo run --release -p wortwright-tests --bin agreement -- 1 50000 1
//! ```
#![allow(missing_docs, clippy::unwrap_used, clippy::print_stdout)]

use wortwright_tests::agreement::draw::beer;
use wortwright_tests::agreement::run::Report;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let number = |at: usize, other: u64| words.get(at).map_or(other, |word| word.parse().unwrap());
    let (first, count, each) = (number(0, 1), number(1, 1000), number(2, 1));
    if words.get(1).is_none_or(|count| count == "0") {
        println!("{}", beer(first).page.text());
        return;
    }
    let start = std::time::Instant::now();
    let mut report = Report::default();
    for seed in first..first + count {
        report.add(seed, each);
    }
    let mut seeds = std::collections::BTreeMap::<_, Vec<u64>>::new();
    for finding in &report.findings {
        let of_law = seeds.entry(finding.law).or_default();
        of_law.push(finding.seed);
        if of_law.len() <= 3 {
            println!(
                "== {} (seed {})\n{}\n-- of\n{}",
                finding.law, finding.seed, finding.told, finding.text
            );
        }
    }
    for refusal in report.refusals.values() {
        println!("== refused {refusal}");
    }
    println!(
        "{} beers in {:.1?}; refused {:?}",
        report.beers,
        start.elapsed(),
        report.refused
    );
    println!("tried {:?}", report.tried);
    println!("failed {}: {seeds:?}", report.findings.len());
    println!("rows never drawn {:?}", report.drawn.missing());
    println!("words never said {:?}", report.drawn.unsaid());
}
