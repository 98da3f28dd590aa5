//! Instructions that a search for substitutes takes: the demo on its stove top, one line missing, the whole catalogue.
//!
//! - `ten_shown`, `one_shown`: so many leaders shown, each predicted; `exhaustive`: ten shown without bounds.
//! - `predicted`: the recipe worked out again with each of the ten in it, which is the part of `ten_shown` that is no search.
#![allow(missing_docs)]

use gungraun::{library_benchmark, library_benchmark_group, main};
use std::hint::black_box;
use wortwright::job::{Brew, Job};
use wortwright::substitute::{Candidates, Effort, Proposals, SubstituteOptions};

struct Question {
    brew: Brew,
    missing: &'static str,
}

impl Question {
    fn of(missing: &'static str) -> Self {
        let recipe = include_str!("../../../examples/data/saltmarsh-lantern.gyle");
        let plant = include_str!("../../../examples/data/stove-top.gyle");
        let plant = plant.split("\nstock").next().unwrap_or(plant);
        let job = Job::read([("recipe", recipe), ("plant", plant)]).expect("the demo can be read");
        let brew = job.on("Stove top").expect("it is there");
        Self { brew, missing }
    }

    fn answer(&self, limit: usize, effort: Effort) -> Proposals {
        let options = SubstituteOptions::default()
            .with_missing([self.missing])
            .with_candidates(Candidates::Catalogue)
            .with_limit(limit)
            .with_effort(effort);
        let mut found = self.brew.substitutes_with(&options).expect("it can be scaled");
        found.missing.remove(0)
    }
}

fn with_answer(missing: &'static str) -> (Question, Proposals) {
    let question = Question::of(missing);
    let answer = question.answer(10, Effort::Bounded);
    (question, answer)
}

#[library_benchmark(setup = Question::of)]
#[bench::spelt("flaked spelt")]
#[bench::caramel("caramel malt 150 EBC")]
#[bench::pale_ale("pale ale malt")]
fn ten_shown(question: Question) -> usize {
    let shown = black_box(question.answer(10, Effort::Bounded));
    assert_eq!(shown.proposals.len(), 10);
    shown.candidates
}

#[library_benchmark(setup = Question::of)]
#[bench::spelt("flaked spelt")]
#[bench::caramel("caramel malt 150 EBC")]
#[bench::pale_ale("pale ale malt")]
fn one_shown(question: Question) -> usize {
    black_box(question.answer(1, Effort::Bounded)).candidates
}

#[library_benchmark(setup = Question::of)]
#[bench::caramel("caramel malt 150 EBC")]
fn exhaustive(question: Question) -> usize {
    black_box(question.answer(10, Effort::Exhaustive)).candidates
}

#[library_benchmark(setup = with_answer)]
#[bench::caramel("caramel malt 150 EBC")]
fn predicted((question, answer): (Question, Proposals)) -> usize {
    let plans = answer.proposals.iter().map(|proposal| {
        let taken = question.brew.taking([proposal]).expect("it fits");
        taken.plan().expect("it scales")
    });
    plans.map(|plan| black_box(plan).additions.len()).sum()
}

library_benchmark_group!(
    name = search,
    benchmarks = [ten_shown, one_shown, exhaustive, predicted]
);
main!(library_benchmark_groups = [search]);
