//! How much of what brewers write is read, asked back, missed or read as something else; the format of the corpus is told in
//! `tests/corpus/README.md`.
//!
//! ```text
//! cargo run -p wortwright-tests --bin corpus_report                                   the whole corpus
//! cargo run -p wortwright-tests --bin corpus_report -- --rates                        the table alone
//! cargo run -p wortwright-tests --bin corpus_report -- --misread                      misread facts alone
//! cargo run -p wortwright-tests --bin corpus_report -- --names tests/corpus/us_home   one sort, one folder
//! cargo run -p wortwright-tests --bin corpus_report -- --traps                        lines easily taken for another thing
//! cargo run -p wortwright-tests --bin corpus_report -- --all us_home/sheets/01        every line of paths that contain the word
//! ```
#![allow(missing_docs, clippy::print_stdout)]

use wortwright_tests::corpus::{Scorer, Show, Sort, cases, report, report_traps, traps};

fn main() {
    let mut show = Show::default();
    let mut folder = "tests/corpus".to_owned();
    let mut only = String::new();
    let mut only_traps = false;
    for word in std::env::args().skip(1) {
        match word.as_str() {
            "--misread" => show.misread = true,
            "--all" => show.all = true,
            "--rates" => show.rates = true,
            "--sheets" => show.sort = Some(Sort::Sheet),
            "--logs" => show.sort = Some(Sort::Log),
            "--plants" => show.sort = Some(Sort::Plant),
            "--phrases" => show.sort = Some(Sort::Phrase),
            "--traps" => only_traps = true,
            "--names" => show.sort = Some(Sort::Name),
            _ if wortwright_tests::files::at(&word).is_dir() => folder = word,
            _ => only = word,
        }
    }
    let scorer = Scorer::default();
    if only_traps {
        let table = traps(&format!("{folder}/traps.csv"));
        let found: Vec<_> = table.iter().map(|trap| scorer.score_trap(trap)).collect();
        println!("{}", report_traps(&found, show.misread));
        return;
    }
    let scored: Vec<_> = cases(&folder)
        .iter()
        .filter(|case| case.path.contains(&only))
        .map(|case| scorer.score(case))
        .collect();
    println!("{}", report(&scored, show));
}
