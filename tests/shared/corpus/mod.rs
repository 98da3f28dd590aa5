//! What brewers write (`tests/corpus`), read and held against its meaning: how much of it is read, asked back, missed or
//! read as something else.
//!
//! | file | holds |
//! |---|---|
//! | `measure` | an amount or figure, in a scale by which meant and read ones are compared |
//! | `fact` | a fact as the corpus states it, parsed |
//! | `cases` | the texts of a folder, each with its facts; phrases and names in a small frame |
//! | `lines` | which line of the text states a field of a model |
//! | `held` | the facts that the models hold |
//! | `names` | whether a name and a kind are those meant |
//! | `slots` | where the models keep a fact, and what they have no place for |
//! | `same` | whether a fact held is the one meant |
//! | `verdict` | the score of one text |
//! | `traps` | the score of a line that could be taken for another thing |
//! | `report` | rates, and a page to work from |

mod cases;
mod fact;
mod held;
mod lines;
mod measure;
mod names;
mod report;
mod same;
mod slots;
mod traps;
mod verdict;

pub use cases::{Case, Sort, cases};
pub use fact::{Amount, Fact, Figure, Figures};
pub use measure::{Measure, Scale};
pub use names::Names;
pub use report::{Rates, Show, rates, report};
pub use slots::Places;
pub use traps::{Trap, TrapOutcome, TrapVerdict, report_traps, traps};
pub use verdict::{Outcome, Scored, Scorer};
