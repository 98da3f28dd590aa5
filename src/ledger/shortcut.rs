//! What the handbooks' short ways would have said, and how far that is off.

use super::events::{Event, Line};
use super::run::{Run, Settings, wort};
use crate::diagnostic::{Severity, codes};
use crate::quantity::{AlcoholByVolume, Extract};
use crate::science::density::{gravity_of, sucrose_density_20};
use crate::speech::{Speaks, Style};
use serde::Serialize;

/// Per cent by volume for a fall of the gravity by one (common practice, no source).
const PER_GRAVITY: f64 = 131.25;

/// A short way, its answer and its error.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Shortcut {
    /// Which way.
    pub code: ShortcutRule,
    /// The alcohol it gives.
    #[serde(rename = "abv_pct", with = "crate::quantity::json::percent")]
    pub alcohol: AlcoholByVolume,
    /// That figure less the ledger's, in per cent by volume.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub error_pct: f64,
}

/// A short way of the handbooks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum ShortcutRule {
    /// (original − final) × 131.25 with the gravity at pitching, as if nothing had been added.
    AdditionIgnored,
    /// The same with the gravities of wort and additions blended by their volumes.
    GravitiesBlended,
}

codes! {
    ShortcutRule {
        AdditionIgnored = "addition_ignored",
        GravitiesBlended = "gravities_blended",
    }
}

impl Speaks for Shortcut {
    fn code(&self) -> &'static str {
        self.code.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Note
    }

    fn text(&self, _: Style) -> String {
        let way = match self.code {
            ShortcutRule::AdditionIgnored => {
                "(original − final) × 131.25 from the gravity at pitching"
            }
            ShortcutRule::GravitiesBlended => {
                "(original − final) × 131.25 with wort and additions averaged by volume"
            }
        };
        let off = if self.error_pct.abs() < 0.005 {
            "the same as the full calculation".to_owned()
        } else {
            let side = if self.error_pct > 0.0 { "high" } else { "low" };
            format!("{:.2} too {side}", self.error_pct.abs())
        };
        format!("{way} gives {:.2} % alcohol, {off}", self.alcohol.percent())
    }
}

/// What the short ways give for a log that ends with a reading.
pub(super) fn shortcuts(
    lines: &[Line<'_>],
    run: &Run<'_>,
    settings: Settings,
    true_pct: f64,
) -> Vec<Shortcut> {
    let Some(Event::Pitched { volume_l, sight }) = lines
        .iter()
        .map(|line| &line.event)
        .find(|event| **event != Event::BrewDay)
    else {
        return Vec::new();
    };
    let Ok(original) = wort(sight, settings) else {
        return Vec::new();
    };
    let points = |extract: Extract| gravity_of(extract).ratio() - 1.0;
    let last = points(run.end().apparent_extract());
    let mut litres = *volume_l;
    let mut sum = litres * points(original);
    let brought = run.after.iter().map(|after| after.brought.liquid);
    for brought in brought.filter(|brought| brought.extract_kg > 0.0) {
        let fraction = brought.strength();
        let added_l = 1000.0 * brought.mass_kg() / sucrose_density_20(fraction);
        litres += added_l;
        sum += added_l * points(Extract::clamped(100.0 * fraction));
    }
    let entry = |code, original: f64| {
        let pct = (PER_GRAVITY * (original - last)).clamp(0.0, 100.0);
        Shortcut {
            code,
            alcohol: AlcoholByVolume::clamped(pct / 100.0),
            error_pct: pct - true_pct,
        }
    };
    let mut found = vec![entry(ShortcutRule::AdditionIgnored, points(original))];
    if litres > *volume_l {
        found.push(entry(ShortcutRule::GravitiesBlended, sum / litres));
    }
    found
}
