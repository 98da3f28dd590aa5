//! Units of a sheet that only a sheet speaks of.

use crate::catalogue::Kind;
use crate::quantity::{Mass, Temperature, Unit, UnitSystem, Volume, in_kilograms, in_litres};
use crate::scale::Plan;
use crate::science::yeast::Cells;
use crate::speech::{Style, shortest};

/// The temperature at which volumes and gravities are meant.
pub(super) fn cold(style: Style) -> String {
    style.temperature(Temperature::clamped(20.0))
}

impl Plan {
    /// A mass as it is weighed out on this plant: to the step of its scales for that kind of ingredient, else to 1 % or the
    /// gram; in US and imperial units malt in pounds and ounces, hops and botanicals in ounces, salts, acids and finings in
    /// grams, as small scales show them.
    ///
    /// ```
    /// use wortwright::quantity::{Mass, UnitSystem, uom::si::mass::gram};
    /// use wortwright::{Job, catalogue::Kind, speech::Style};
    ///
    /// let beer = std::fs::read_to_string("examples/data/saltmarsh-lantern.gyle")?;
    /// let home = std::fs::read_to_string("examples/data/stove-top.gyle")?;
    /// let plan = Job::read([("beer", beer), ("home", home)])?.on("Stove top")?.plan()?;
    /// let (metric, us) = (Style::default(), Style::customary(UnitSystem::Us));
    /// assert_eq!(plan.weighed(Mass::new::<gram>(1485.0), Kind::Malt, metric), "1.485 kg"); // weigh malt 5 g
    /// assert_eq!(plan.weighed(Mass::new::<gram>(5.0), Kind::Hop, us), "0.18 oz");
    /// assert_eq!(plan.weighed(Mass::new::<gram>(6.2), Kind::Salt, us), "6.2 g");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn weighed(&self, mass: Mass, kind: Kind, style: Style) -> String {
        let step_g = self.brewhouse.weighing.of(kind);
        let step_g = step_g.map(|step| 1000.0 * in_kilograms(step.value()));
        let is_in_grams = matches!(kind, Kind::Salt | Kind::Acid | Kind::Aid | Kind::Yeast);
        let g = 1000.0 * in_kilograms(mass);
        match style.system {
            UnitSystem::Metric => grams(g, step_g),
            _ if g < LEAST_IN_OUNCES_G => grams(g, step_g),
            _ if is_in_grams && g < 999.5 => grams(g, step_g),
            _ => {
                let ounces = Unit::Ounce.from_base(g / 1000.0);
                match ounces {
                    ..0.0995 => format!("{ounces:.3} oz"),
                    ..0.995 => format!("{ounces:.2} oz"),
                    _ => style.mass(mass),
                }
            }
        }
    }
}

/// Less than this is weighed in grams in every practice, as small scales show it (rule of the crate).
const LEAST_IN_OUNCES_G: f64 = 0.95;

/// Grams or kilograms to the digits of a step of the scales. Without a step one is assumed of 10 g for kilograms, 1 g from 10 g
/// up and 0.1 g below (rule of the crate).
fn grams(g: f64, step_g: Option<f64>) -> String {
    let digits = |usual: usize, unit_g: f64| {
        step_g.map_or(usual, |step_g| {
            // As many as write the step itself.
            let written = |decimal: &f64| {
                let last_digits = step_g / unit_g * decimal;
                (last_digits - last_digits.round()).abs() < 1e-6 && last_digits > 0.5
            };
            let decimals = [1.0, 10.0, 100.0, 1000.0];
            decimals.iter().position(written).unwrap_or(usual)
        })
    };
    match g {
        99_995.0.. => format!("{:.1} kg", g / 1000.0),
        999.5.. => format!("{:.*} kg", digits(2, 1000.0), g / 1000.0),
        9.95.. => format!("{g:.*} g", digits(0, 1.0)),
        0.95.. => format!("{} g", shortest(g, digits(1, 1.0).max(1))),
        0.005.. => format!("{} g", shortest(g, 2)),
        _ => format!("{} mg", shortest(1000.0 * g, 1)),
    }
}

/// A mass of a kind in the list of what a plan weighs, by its name.
pub(super) fn kind_of(plan: &Plan, name: &str) -> Kind {
    let mut additions = plan.additions.iter();
    let addition = additions.find(|addition| addition.name == name);
    let mut agents = plan.water.additions.iter();
    addition
        .map(|addition| addition.kind)
        .or_else(|| Some(agents.find(|agent| agent.name == name)?.kind))
        .unwrap_or(Kind::Other)
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

/// Dry yeast, of which the pack says no more than an estimate: two digits, in grams in every practice, as packs are sold.
pub(super) fn dry_yeast(mass: Mass, style: Style) -> String {
    let g = in_kilograms(mass) * 1000.0;
    match g {
        ..0.1 => style.mass(mass),
        ..9.5 => format!("{} g", shortest(g, 1)),
        ..999.5 => format!("{g:.0} g"),
        _ => style.about_mass(mass),
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
