//! Lines of a plant against one another: two that say one thing, and those that another leaves without effect.

use super::Lower;
use super::once::Seen;
use crate::diagnostic::{Code, Diagnostic};
use crate::recipe::{Brewhouse, CoolingMethod, Lauter};

/// A plant while its lines are read, with where each line stood.
pub(super) struct Plant {
    pub(super) brewhouse: Brewhouse,
    pub(super) seen: Seen,
}

/// Lines that a plant without a mash contradicts.
const OF_A_SPARGE: [&str; 4] = ["sparge mixing", "mash in", "absorption", "retention"];
/// Lines that it leaves without effect.
const OF_A_MASH: [&str; 6] = [
    "conversion",
    "extract yield",
    "tun loss",
    "tun heat",
    "grain at",
    "heat",
];

impl Lower<'_> {
    pub(super) fn check_plant_lines(&mut self, plant: &Plant) {
        if plant.brewhouse.lauter == Some(Lauter::NoMash) {
            self.check_no_mash(plant);
        } else {
            self.check_lauter(plant);
        }
        self.check_coolant(plant);
    }

    fn check_no_mash(&mut self, plant: &Plant) {
        for word in OF_A_SPARGE {
            if let Some(span) = plant.seen.place(word) {
                self.push(
                    Diagnostic::error(
                        Code::SpargeWithoutMash,
                        span,
                        format!("expected no `{word}` in a plant with `no mash`"),
                    )
                    .with_help("delete this line, or the line `no mash`"),
                );
            }
        }
        for word in OF_A_MASH {
            self.unused(
                plant,
                word,
                "in a plant with `no mash`",
                "the line `no mash`",
            );
        }
    }

    fn check_lauter(&mut self, plant: &Plant) {
        let brewhouse = &plant.brewhouse;
        if brewhouse.absorption.is_some() && brewhouse.retention.is_some() {
            self.one_figure(plant, "retention", "absorption");
        }
        match &brewhouse.lauter {
            Some(Lauter::Bag(_)) => {
                let tun = "write `lauter batch` for a mash that is sparged in a tun";
                self.unused(
                    plant,
                    "mash in",
                    "in a bag, which holds all of its water",
                    tun,
                );
            }
            Some(Lauter::Continuous(tun))
                if tun.reached.is_some() && brewhouse.extract_yield.is_some() =>
            {
                self.one_figure(plant, "extract yield", "lauter continuous, yield");
            }
            _ => {}
        }
        if is_unsparged(brewhouse) {
            let sparge = "write `lauter bag, sparge 2 L` or `lauter batch, sparges 1`";
            self.unused(plant, "sparge mixing", "without a sparge", sparge);
        }
        if has_known_yield(brewhouse) {
            let known = "where the yield is known";
            let unknown = "write `lauter batch` without a yield";
            if !is_unsparged(brewhouse) {
                self.unused(plant, "sparge mixing", known, unknown);
            }
            // Wort that the grain retains is measured out of a mash of that conversion.
            if brewhouse.retention.is_none() {
                self.unused(plant, "conversion", known, unknown);
            }
        }
    }

    fn check_coolant(&mut self, plant: &Plant) {
        let cooling = plant.brewhouse.cooling.as_ref();
        let beside = match cooling.and_then(|cooling| cooling.method) {
            Some(CoolingMethod::NoChill) => "beside `no chill`",
            Some(CoolingMethod::Plate) => "beside a plate, which cools in the time that is stated",
            _ => return,
        };
        let coil = "write `cool to 20 C in 25 min by coil`";
        self.unused(plant, "coolant", beside, coil);
    }

    /// Warns of a line that has no effect there.
    fn unused(&mut self, plant: &Plant, word: &'static str, there: &str, instead: &str) {
        if let Some(span) = plant.seen.place(word) {
            let message = format!("expected no `{word}` {there}: it has no effect");
            self.push(
                Diagnostic::warning(Code::UnusedLine, span, message)
                    .with_help(format!("delete this line, or {instead}")),
            );
        }
    }

    /// Complains of a second line for one figure.
    fn one_figure(&mut self, plant: &Plant, second: &'static str, first: &str) {
        let message = format!("expected either `{first}` or `{second}`, found both");
        let span = plant.seen.place(second).unwrap_or_default();
        self.push(
            Diagnostic::error(Code::ConflictingFacts, span, message)
                .with_help("delete one of the two"),
        );
    }
}

/// Whether the extract of the run-off is known from its share; a continuous sparge without a figure has a usual one.
fn has_known_yield(brewhouse: &Brewhouse) -> bool {
    brewhouse.extract_yield.is_some() || matches!(brewhouse.lauter, Some(Lauter::Continuous(_)))
}

/// Whether nothing is sparged.
fn is_unsparged(brewhouse: &Brewhouse) -> bool {
    match &brewhouse.lauter {
        Some(Lauter::Bag(bag)) => bag.sparge.is_none(),
        Some(Lauter::Batch(batch)) => batch.sparges == 0,
        _ => false,
    }
}
