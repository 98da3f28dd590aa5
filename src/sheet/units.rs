//! Units of a sheet that only a sheet speaks of.

use crate::quantity::{Mass, Temperature, Unit, UnitSystem, Volume, in_kilograms, in_litres};
use crate::science::yeast::Cells;
use crate::speech::{Style, shortest, two_digits};

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

/// A volume to be measured out; small ones to the drop, in every practice.
pub(super) fn measured(volume: Volume, style: Style) -> String {
    if in_litres(volume) < BY_THE_DROP_L {
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

/// The same by the litre where there is more of it.
pub(super) fn syringed(volume: Volume, style: Style) -> String {
    if in_litres(volume) < 0.9995 {
        dropped(volume)
    } else {
        style.volume(volume)
    }
}

/// A mass that need not be weighed to the gram.
pub(super) fn about_mass(mass: Mass, style: Style) -> String {
    let kg = in_kilograms(mass);
    let (ounces, pounds) = (Unit::Ounce.from_base(kg), Unit::Pound.from_base(kg));
    match style.system {
        UnitSystem::Metric if kg >= 0.995 => format!("{} kg", two_digits(kg)),
        UnitSystem::Us | UnitSystem::Imperial if pounds >= 0.995 => {
            format!("{} lb", two_digits(pounds))
        }
        UnitSystem::Us | UnitSystem::Imperial if ounces >= 0.5 => {
            format!("{} oz", two_digits(ounces))
        }
        _ => format!("{} g", two_digits(kg * 1000.0)),
    }
}

/// A volume that need not be measured to the millilitre.
pub(super) fn about_volume(volume: Volume, style: Style) -> String {
    let l = in_litres(volume);
    let units: &[Unit] = match style.system {
        UnitSystem::Metric => &[Unit::Hectolitre, Unit::Litre, Unit::Millilitre],
        UnitSystem::Us => &[Unit::Gallon, Unit::Quart, Unit::FluidOunce],
        UnitSystem::Imperial => &[
            Unit::ImperialGallon,
            Unit::ImperialPint,
            Unit::ImperialFluidOunce,
        ],
    };
    let fits = |unit: &&Unit| {
        let is_middle = matches!(unit, Unit::Quart | Unit::ImperialPint);
        unit.from_base(l) >= if is_middle { 0.495 } else { 0.995 }
    };
    let unit = units.iter().find(fits).unwrap_or(&Unit::Millilitre);
    format!("{} {}", two_digits(unit.from_base(l)), unit.symbol())
}

/// Dry yeast, of which the pack says no more than an estimate: two digits, in grams in every practice, as packs are sold.
pub(super) fn dry_yeast(mass: Mass, style: Style) -> String {
    let g = in_kilograms(mass) * 1000.0;
    match g {
        ..0.1 => style.mass(mass),
        ..9.5 => format!("{} g", shortest(g, 1)),
        ..999.5 => format!("{g:.0} g"),
        _ => about_mass(mass, style),
    }
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
