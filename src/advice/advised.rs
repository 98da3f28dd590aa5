//! A way on with what comes of it, and what it costs beside the plan.

use super::action::Action;
use super::doubt::VOLUME_READ;
use crate::diagnostic::Severity;
use crate::process::Figures;
use crate::quantity::{Bitterness, Share, Volume, in_litres};
use crate::speech::{Speaks, Style, percent};
use serde::Serialize;

/// Bitterness that differs by less from the planned one is not spoken of: a part of it, and IBU (common practice, no source).
const BITTER_PART: f64 = 0.05;
const BITTER_IBU: f64 = 1.0;

/// One way on, and what the model gives for it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct AdvisedAction {
    /// What to do.
    #[serde(flatten)]
    pub action: Action,
    /// What comes of it.
    pub predicted: Figures,
    /// How much of each hop addition still to come keeps the planned bitterness; absent where all of it does.
    #[serde(
        rename = "hop_share_pct",
        with = "crate::quantity::json::option::percent",
        skip_serializing_if = "Option::is_none"
    )]
    pub hop_share: Option<Share>,
    /// What differs from the plan, for its words.
    #[serde(skip)]
    cost: Cost,
}

/// What a way brings, and what the plan had.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Cost {
    batch: Option<(Volume, Volume)>,
    bitterness: Option<(Bitterness, Bitterness)>,
}

impl AdvisedAction {
    pub(super) fn new(action: Action, predicted: Figures) -> Self {
        Self {
            action,
            predicted,
            hop_share: None,
            cost: Cost::default(),
        }
    }

    /// The same with what it costs beside the plan: wort and bitterness.
    pub(super) fn beside(mut self, planned: &Figures) -> Self {
        let batch = self.predicted.batch.zip(planned.batch);
        self.cost.batch = batch.filter(|(now, planned)| {
            let (now_l, planned_l) = (in_litres(*now), in_litres(*planned));
            (now_l - planned_l).abs() > VOLUME_READ * planned_l
        });
        let bitterness = self.predicted.bitterness.zip(planned.bitterness);
        self.cost.bitterness = bitterness.filter(|(now, planned)| {
            let off = (now.ibu() - planned.ibu()).abs();
            off > BITTER_IBU && off > BITTER_PART * planned.ibu()
        });
        self
    }

    /// The same where the hops are still to come, so that some of them may be held back.
    pub(super) fn before_hops(mut self) -> Self {
        let bitter = self.cost.bitterness;
        let bitter = bitter.filter(|(now, planned)| now.ibu() > planned.ibu());
        self.hop_share = bitter.map(|(now, planned)| Share::clamped(planned.ibu() / now.ibu()));
        self
    }
}

impl Cost {
    fn text(self, hop_share: Option<Share>, style: Style) -> String {
        let batch = self.batch.map(|(now, planned)| {
            format!(
                "it leaves {} into the fermenter, {} planned",
                style.volume(now),
                style.volume(planned)
            )
        });
        let held = |share| {
            format!(
                ": use {} of each hop addition still to come",
                percent(share, 0)
            )
        };
        let bitterness = self.bitterness.map(|(now, planned)| {
            format!(
                "bitterness {:.0} IBU, {:.0} IBU planned{}",
                now.ibu(),
                planned.ibu(),
                hop_share.map_or_else(String::new, held)
            )
        });
        let told = batch.into_iter().chain(bitterness);
        let told: Vec<_> = told.map(|told| format!("; {told}")).collect();
        told.concat()
    }
}

impl Speaks for AdvisedAction {
    fn code(&self) -> &'static str {
        self.action.code()
    }

    fn severity(&self) -> Severity {
        self.action.severity()
    }

    fn text(&self, style: Style) -> String {
        self.action.text(style) + &self.cost.text(self.hop_share, style)
    }
}
