//! Units of a sheet that only a sheet speaks of.

use crate::quantity::{
    Concentration, Mass, Temperature, UnitSystem, Volume, in_kilograms, in_litres,
};
use crate::science::yeast::Cells;
use crate::speech::{Style, shortest};

/// The temperature at which volumes and gravities are meant.
pub(super) fn cold(style: Style) -> String {
    style.temperature(Temperature::clamped(20.0))
}

/// A mass to be weighed out: to the gram up to ten kilograms, since kitchen scales show it.
pub(super) fn weighed(mass: Mass, style: Style) -> String {
    let kg = in_kilograms(mass);
    match style.system {
        UnitSystem::Metric if kg >= 99.995 => format!("{kg:.1} kg"),
        UnitSystem::Metric if kg >= 9.9995 => format!("{kg:.2} kg"),
        UnitSystem::Metric if kg >= 0.9995 => format!("{kg:.3} kg"),
        // A brewer's scale for pinches shows grams.
        _ if (0.000_005..0.000_95).contains(&kg) => format!("{} g", shortest(kg * 1000.0, 2)),
        _ => style.mass(mass),
    }
}

/// Below this a volume is measured by the drop, litres: whole millilitres would be a tenth off (common practice, no source).
const BY_THE_DROP_L: f64 = 0.02;

/// A volume to be measured out; small ones to the drop.
pub(super) fn measured(volume: Volume, style: Style) -> String {
    if in_litres(volume) < BY_THE_DROP_L && style.system == UnitSystem::Metric {
        dropped(volume)
    } else {
        style.volume(volume)
    }
}

/// A liquid that is measured with a syringe or a small cylinder, in millilitres in every practice.
pub(super) fn dropped(volume: Volume) -> String {
    let ml = in_litres(volume) * 1000.0;
    format!("{ml:.digits$} mL", digits = if ml < 1.0 { 2 } else { 1 })
}

/// Dry yeast, of which the pack says no more than a rough figure: two digits.
pub(super) fn dry_yeast(mass: Mass, style: Style) -> String {
    let g = in_kilograms(mass) * 1000.0;
    match style.system {
        UnitSystem::Metric if (0.1..999.5).contains(&g) => {
            let digits = match g {
                ..9.5 => 1,
                _ => 0,
            };
            format!("{} g", shortest(g, digits))
        }
        _ => style.mass(mass),
    }
}

/// Ions in water: milligrams a litre in every practice.
pub(super) fn ions(concentration: Concentration) -> String {
    format!(
        "{} mg/L",
        shortest(concentration.grams_per_litre() * 1000.0, 1)
    )
}

/// Yeast cells.
pub(super) fn cells(cells: Cells) -> String {
    let billions = cells.billions();
    if billions >= 10_000.0 {
        format!("{} trillion cells", shortest(billions / 1000.0, 1))
    } else {
        format!("{} billion cells", shortest(billions, 0))
    }
}
