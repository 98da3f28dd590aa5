//! How time and memory grow with what is asked: one question a run, its size the last word.
//!
//! ```text
//! cargo build --release -p wortwright-tests --bin growth
//! for n in 1000 5000 20000; do target/release/growth own_ingredients $n; done
//! ```
//!
//! - `missing_lines`: lines of one malt that the stock lacks, all alike; `lines_of_other_amounts`: each of another amount.
//! - `own_ingredients`: a brewer's own malts, all in stock and all candidates for one line.
//! - `faulty_lines`: lines that say nothing.
//! - `sugars_and_hops`: so many sugars and as many hops of one boil, planned.
#![allow(missing_docs, clippy::unwrap_used, clippy::print_stdout)]

use std::fmt::Write as _;
use std::time::Instant;
use wortwright::job::Job;
use wortwright_tests::growth;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let [what, size] = &words[..] else {
        println!("what, and how many");
        return;
    };
    let size = size.parse().unwrap();
    let text = match what.as_str() {
        "missing_lines" => growth::missing_lines(size),
        "lines_of_other_amounts" => growth::lines_of_other_amounts(size),
        "own_ingredients" => growth::own_ingredients(size),
        "faulty_lines" => growth::faulty_lines(size),
        "sugars_and_hops" => growth::sugars_and_hops(size),
        _ => return,
    };
    let start = Instant::now();
    let job = Job::read([("text", text)]);
    if what == "sugars_and_hops" {
        let plan = job.and_then(|job| job.on("Pot")?.plan()).unwrap();
        let ibu = plan.predicted.bitterness.unwrap().ibu();
        println!("{what} {size}: {:.3?}, {ibu:.1} IBU", start.elapsed());
        return;
    }
    let answer = job.and_then(|job| job.on("Pot")?.substitutes());
    let mut said = String::new();
    match answer {
        Ok(found) => {
            for line in found.missing.iter().take(1) {
                for proposal in &line.proposals {
                    let _ = write!(said, "; {}", proposal.leader().unwrap_or_default());
                }
            }
        }
        Err(error) => {
            let count = error.diagnostics().len();
            said = format!("; {count} diagnostics; {}", error.code());
        }
    }
    let took = start.elapsed();
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let peak = status.lines().find(|line| line.starts_with("VmHWM"));
    println!(
        "{what} {size}: {took:.3?}, {}{said}",
        peak.unwrap_or_default()
    );
}
