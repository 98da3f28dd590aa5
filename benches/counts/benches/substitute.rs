//! Instructions that a search for substitutes takes: the demo on its stove top, one line missing, the whole catalogue.
//!
//! - `ten_shown`, `one_shown`: so many leaders shown, each predicted; `exhaustive`: ten shown without bounds.
//! - `predicted`: the recipe worked out again with each of the ten in it, which is the part of `ten_shown` that is no search.
#![allow(missing_docs)]

use gungraun::{library_benchmark, library_benchmark_group, main};
use std::hint::black_box;
use wortwright::catalogue::Catalogue;
use wortwright::diagnostic::Source;
use wortwright::notation::read;
use wortwright::recipe::{Brewhouse, Recipe, Stock};
use wortwright::scale::{ScaleOptions, scale};
use wortwright::substitute::{Candidates, Effort, Proposals, SubstituteOptions, propose};

struct Question {
    recipe: Recipe,
    plants: Vec<Brewhouse>,
    missing: &'static str,
    catalogue: Catalogue,
}

impl Question {
    fn of(missing: &'static str) -> Self {
        let recipe = include_str!("../../../examples/data/saltmarsh-lantern.gyle");
        let plant = include_str!("../../../examples/data/stove-top.gyle");
        let sources = [Source::new("recipe", recipe), Source::new("plant", plant)];
        let reading = read(&sources);
        Self {
            recipe: reading.recipe.clone().expect("the demo is a recipe"),
            plants: reading.brewhouses.clone(),
            missing,
            catalogue: Catalogue::builtin(),
        }
    }

    fn plants(&self) -> (Option<&Brewhouse>, &Brewhouse) {
        let source = self.recipe.plant_among(&self.plants);
        let target = self.plants.iter().find(|plant| plant.batch.is_some());
        (source.expect("it is named"), target.expect("it has one"))
    }

    fn answer(&self, limit: usize, effort: Effort) -> Proposals {
        let (source, target) = self.plants();
        let options = SubstituteOptions::default()
            .with_candidates(Candidates::Catalogue)
            .with_limit(limit)
            .with_effort(effort);
        let missing = [self.missing];
        let stock = Stock::default();
        propose(
            &self.recipe,
            source,
            target,
            &missing,
            &stock,
            &self.catalogue,
            &options,
        )
        .expect("the demo can be scaled")
        .remove(0)
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
    let (source, target) = question.plants();
    let options = ScaleOptions::default().with_source(source.cloned());
    let swapped = answer.proposals.iter().map(|proposal| {
        let swaps = std::slice::from_ref(&proposal.swap);
        question.recipe.with_swaps(swaps).expect("it fits")
    });
    swapped
        .map(|recipe| scale(&recipe, target, &question.catalogue, &options).expect("it scales"))
        .map(|plan| black_box(plan).additions.len())
        .sum()
}

library_benchmark_group!(
    name = search,
    benchmarks = [ten_shown, one_shown, exhaustive, predicted]
);
main!(library_benchmark_groups = [search]);
