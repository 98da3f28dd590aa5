//! Many beers under all laws.

use super::draw::beer;
use super::laws::{Case, Fault, Found, Law, OF_THE_ANSWER, OF_THE_TEXT};
use super::moves::OF_MOVES;
use super::rows::Drawn;
use std::collections::BTreeMap;

/// A law that does not hold of a beer.
#[derive(Debug, Clone)]
pub struct Finding {
    pub seed: u64,
    pub law: &'static str,
    pub told: String,
    pub text: String,
}

/// What was tried and found.
#[derive(Debug, Default)]
pub struct Report {
    pub beers: usize,
    /// Beers that are refused, by the code.
    pub refused: BTreeMap<String, usize>,
    /// How often each law was tried.
    pub tried: BTreeMap<&'static str, usize>,
    pub findings: Vec<Finding>,
    pub drawn: Drawn,
    /// The first beer of each refusal.
    pub refusals: BTreeMap<String, String>,
}

impl Report {
    /// One beer under some of the laws in turn, all of them when `each` is one; under what applies to few beers always.
    pub fn add(&mut self, seed: u64, each: u64) {
        self.beers += 1;
        let mut case = match Case::of(seed, Fault::None) {
            Ok(case) => case,
            Err(error) => {
                let text = beer(seed).page.text();
                let code = error.code().to_owned();
                self.refusals
                    .entry(code.clone())
                    .or_insert_with(|| format!("{seed}: {error}\n{text}"));
                *self.refused.entry(code).or_default() += 1;
                return;
            }
        };
        let laws = OF_THE_TEXT.iter().chain(&OF_THE_ANSWER).chain(&OF_MOVES);
        let laws = laws.enumerate().filter(|(index, (name, _))| {
            *name == "a remedy taken" || (*index as u64 + seed).is_multiple_of(each)
        });
        for (_, law) in laws {
            self.hold(&mut case, seed, law);
        }
        self.drawn.join(case.beer.drawn);
    }

    /// What two runs found.
    pub fn join(&mut self, other: Self) {
        self.beers += other.beers;
        for (code, count) in other.refused {
            *self.refused.entry(code).or_default() += count;
        }
        for (law, count) in other.tried {
            *self.tried.entry(law).or_default() += count;
        }
        self.findings.extend(other.findings);
        self.refusals.extend(other.refusals);
        self.drawn.join(other.drawn);
    }

    fn hold(&mut self, case: &mut Case, seed: u64, (name, law): &Law) {
        let found = law(case);
        if found != Found::DoesNotApply {
            *self.tried.entry(name).or_default() += 1;
        }
        if let Found::Fails(told) = found {
            self.findings.push(Finding {
                seed,
                law: name,
                told,
                text: case.text.clone(),
            });
        }
    }
}
