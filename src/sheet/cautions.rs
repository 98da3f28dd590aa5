//! The cautions, each once, at the step where it applies.

use super::page::Page;
use crate::caution::{BrewStep, Caution, PlanCautions, Urgency};
use crate::scale::Plan;
use crate::speech::{Speaks, Style};

/// The cautions of a plan that are still to be printed.
#[derive(Debug)]
pub(super) struct Cautions {
    left: Vec<Caution>,
    style: Style,
    pub(super) ferments_dextrins: bool,
    blocked: Vec<String>,
}

impl Cautions {
    pub(super) fn of(plan: &Plan, style: Style) -> Self {
        let found = PlanCautions::of(plan);
        Self {
            left: found.cautions,
            style,
            ferments_dextrins: found.ferments_dextrins,
            blocked: found.blocked,
        }
    }

    /// Whether what is called so must not go into a drink.
    pub(super) fn is_blocked(&self, name: &str) -> bool {
        self.blocked.iter().any(|blocked| blocked == name)
    }

    /// Those for which the day stops.
    pub(super) fn stops(&mut self) -> Vec<Caution> {
        self.take(|caution| caution.urgency == Urgency::Stop)
    }

    /// Those of a step, one line each; they are not printed again.
    pub(super) fn print(&mut self, page: &mut Page, step: BrewStep) {
        for caution in self.take(|caution| caution.step == step) {
            page.hung("   ! ", &caution.text(self.style));
        }
    }

    /// Those of the whole day, in a box.
    pub(super) fn boxed(&mut self, page: &mut Page) {
        let all_day = self.take(|caution| caution.step == BrewStep::WholeDay);
        if all_day.is_empty() {
            return;
        }
        page.title("SAFETY", "=");
        for caution in all_day {
            page.hung("   ! ", &caution.text(self.style));
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
            page.point(&caution.text(self.style));
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
