//! The cautions, each once, at the step where it applies.

use super::page::Page;
use crate::caution::{BrewStep, Caution, Urgency};

/// The cautions of a plan that are still to be printed.
#[derive(Debug)]
pub(super) struct Cautions {
    left: Vec<Caution>,
}

impl Cautions {
    pub(super) const fn new(cautions: Vec<Caution>) -> Self {
        Self { left: cautions }
    }

    /// Those for which the day stops.
    pub(super) fn stops(&mut self) -> Vec<Caution> {
        self.take(|caution| caution.urgency == Urgency::Stop)
    }

    /// Those of a step, one line each; they are not printed again.
    pub(super) fn print(&mut self, page: &mut Page, step: BrewStep) {
        for caution in self.take(|caution| caution.step == step) {
            page.hung("   ! ", &caution.text);
        }
    }

    /// Those of the whole day, in a box.
    pub(super) fn boxed(&mut self, page: &mut Page) {
        let all_day = self.take(|caution| caution.step == BrewStep::WholeDay);
        if all_day.is_empty() {
            return;
        }
        page.title(" SAFETY ", "=");
        for caution in all_day {
            page.hung("   ! ", &caution.text);
        }
    }

    /// What no step has printed.
    pub(super) fn rest(&mut self, page: &mut Page) {
        let rest = self.take(|_| true);
        if rest.is_empty() {
            return;
        }
        page.heading("SAFETY");
        for caution in rest {
            page.point(&caution.text);
        }
    }

    /// Leaves out those of a step.
    pub(super) fn drop(&mut self, step: BrewStep) {
        self.left.retain(|caution| caution.step != step);
    }

    fn take(&mut self, is_meant: impl Fn(&Caution) -> bool) -> Vec<Caution> {
        self.left
            .extract_if(.., |caution| is_meant(caution))
            .collect()
    }
}
