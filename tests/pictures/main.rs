//! The page of pictures (`examples/picture_sheet.rs`) as a browser lays it out: no text upon another, none off the page, from
//! one litre to a hundred hectolitres, on a telephone, a tablet, a desk and on paper.
//!
//! Run by its name alone, `cargo test --test pictures`: it needs Debian's `chromium` and fails without.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic
)]

mod browser;
mod content;
mod layout;
#[path = "../../examples/picture/learnt.rs"]
mod learnt;
#[path = "../../examples/picture/mod.rs"]
mod picture;

use wortwright::Job;
use wortwright_tests::files;

/// The page of a recipe on one of the plants that stand with it.
fn page(texts: &[&str], plant: &str) -> String {
    let named = texts.iter().enumerate();
    let named = named.map(|(number, text)| (format!("text {number}"), (*text).to_owned()));
    let job = Job::read(named).unwrap_or_else(|error| panic!("{error}"));
    let brew = job.on(plant).unwrap_or_else(|error| panic!("{error}"));
    picture::sheet(&brew, picture::PageOptions::default()).unwrap_or_else(|error| panic!("{error}"))
}

/// A text of the examples.
fn example(name: &str) -> String {
    files::read(&format!("examples/data/{name}.gyle"))
}
