//! Feeds the exchange with a million bent requests, or as many as the argument says.
//!
//! ```text
//! cargo run --release -p wortwright-tests --bin bent_requests -- 1000000
//! ```
#![allow(missing_docs, clippy::expect_used, clippy::print_stdout)]

use std::time::Instant;
use wortwright_tests::bent::feed;

fn main() {
    let times = std::env::args().nth(1).map_or(1_000_000, |word| {
        word.parse().expect("the argument is how many requests")
    });
    let start = Instant::now();
    let answered = feed(times);
    println!(
        "{answered} of {times} answered with a result in {:?}",
        start.elapsed()
    );
}
