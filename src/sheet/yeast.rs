//! The yeast to buy or to grow for the cells to pitch.

use super::units;
use crate::quantity::minutes;
use crate::scale::Plan;
use crate::science::yeast::{
    CellDensity, Cells, DRY_YEAST_BILLION_PER_G, ENOUGH, LIQUID_PACK_BILLION, dry_yeast, living,
    packs, starter, viability_after,
};
use crate::speech::Style;

/// How long such a pack may have been kept, days (common practice, no source).
const OLD_DAYS: f64 = 60.0;

/// What a step of a starter takes, days (common practice, no source: 1 to 2).
const STARTER_DAYS: u32 = 2;

/// More packs than this nobody buys (rule of the crate).
const MOST_PACKS: u32 = 20;

/// What to buy or grow of the yeast that is pitched by cells: dry by weight, liquid by packs, or a starter, which takes days.
pub(super) fn for_cells(plan: &Plan, style: Style) -> Option<String> {
    let cells = plan.cells?;
    let (least, most) = DRY_YEAST_BILLION_PER_G;
    let mass = |per_g: f64| {
        CellDensity::from_billions_per_gram(per_g)
            .map(|density| units::dry_yeast(dry_yeast(cells, density), style))
            .unwrap_or_default()
    };
    let (from, to) = (mass(most), mass(least));
    let from = from
        .strip_suffix(" g")
        .filter(|_| to.ends_with(" g"))
        .unwrap_or(&from);
    let dry = format!("{from} to {to} dry (see the pack)");
    let liquid = liquid_yeast(cells, style).unwrap_or_default();
    Some(format!("{}: {dry}{liquid}", units::cells(cells)))
}

/// Packs of liquid yeast, fresh and old, or a starter from one of them; nothing where that would be a crate full.
fn liquid_yeast(cells: Cells, style: Style) -> Option<String> {
    let pack = Cells::from_billions(LIQUID_PACK_BILLION).ok()?;
    let old = living(
        pack,
        viability_after(minutes(1440.0 * OLD_DAYS)).ok()?.expected,
    );
    let enough = Cells::from_billions(ENOUGH * cells.billions()).ok()?;
    let (fresh, aged) = (packs(enough, pack).ok()?, packs(enough, old).ok()?);
    if fresh > MOST_PACKS {
        return None;
    }
    let counted = |count: u32| {
        format!(
            "{count} fresh liquid {}",
            if count == 1 { "pack" } else { "packs" }
        )
    };
    let grown = starter(cells, old).ok()?.map_or_else(String::new, |grown| {
        let size = style.about_volume(grown.volume);
        let days = STARTER_DAYS * grown.steps;
        match grown.steps {
            1 => format!(", or one in a {size} starter {days} days before"),
            steps => {
                format!(", or one in {steps} starters, the last of {size}, {days} days before")
            }
        }
    });
    Some(format!(
        ", or {} of {LIQUID_PACK_BILLION:.0} billion ({OLD_DAYS:.0} days old: {aged}{grown})",
        counted(fresh),
    ))
}
