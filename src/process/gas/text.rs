//! Carbonation, in words.

use super::GasPlan;
use crate::diagnostic::{Place, Severity, codes};
use crate::process::container::Container;
use crate::quantity::{CarbonDioxide, Pressure, Temperature, in_kilograms};
use crate::speech::{Speaks, Style, alcohol};

/// What says in what the beer is packaged, and how much gas it is to hold.
static PACKAGE: Place = Place::recipe("package");

/// Dextrose as it is sold, with a water of crystallisation: 198.17 g/mol over 180.16 g/mol of glucose.
pub(crate) const DEXTROSE_PER_GLUCOSE: f64 = 1.1;

codes! {
    GasPlan {
        Forced = "forced",
        Conditioned = "conditioned",
    }
}

impl Speaks for GasPlan {
    fn code(&self) -> &'static str {
        self.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Note
    }

    fn place(&self) -> Option<&Place> {
        Some(&PACKAGE)
    }

    fn text(&self, style: Style) -> String {
        match self {
            Self::Forced {
                wanted,
                temperature,
                gauge,
                ..
            } => format!(
                "{}; stay below the pressure stamped on the keg",
                regulator(
                    (*gauge, *temperature),
                    &style.carbon_dioxide(*wanted),
                    style
                )
            ),
            Self::Conditioned {
                container,
                wanted,
                sucrose,
                glucose,
                priming_alcohol,
                ..
            } => {
                let prime = match wanted {
                    Some(wanted) if in_kilograms(*sucrose) > 0.0 => format!(
                        "prime with {} of table sugar, or {} of dextrose (monohydrate), for {}; it adds {}",
                        style.about_mass(*sucrose),
                        style.about_mass(*glucose * DEXTROSE_PER_GLUCOSE),
                        style.carbon_dioxide(*wanted),
                        alcohol(*priming_alcohol)
                    ),
                    Some(_) => "add no priming sugar".to_owned(),
                    None => format!(
                        "no carbonation is given; the beer reaches {}",
                        style.carbon_dioxide(self.reached())
                    ),
                };
                format!(
                    "{prime} (allowing for {}); {}",
                    self.counted(style).join(", "),
                    container.advice()
                )
            }
        }
    }
}

/// How a keg is filled with gas.
pub(crate) fn regulator(
    (gauge, at): (Pressure, Temperature),
    reached: &str,
    style: Style,
) -> String {
    format!(
        "set the regulator to {} (gauge), keg at {} for a week: {reached}",
        style.pressure(gauge),
        style.temperature(at)
    )
}

impl GasPlan {
    /// Where the gas of a beer comes from that is not primed yet.
    pub(crate) fn counted(&self, style: Style) -> Vec<String> {
        let Self::Conditioned {
            left,
            warmest,
            from_additions,
            from_unfermented,
            ..
        } = self
        else {
            return Vec::new();
        };
        let said = |gas: &CarbonDioxide| style.carbon_dioxide(*gas);
        let mut counted = vec![format!(
            "{} already dissolved at {}, the warmest since fermentation ended",
            said(left),
            style.temperature(*warmest)
        )];
        if from_additions.grams_per_litre() > 0.0 {
            let more = said(from_additions);
            counted.push(format!("{more} from packaging additions"));
        }
        if let Some(more) = from_unfermented {
            counted.push(format!(
                "{} still to come from unfermented sugar: wait for a stable gravity before packaging",
                said(more)
            ));
        }
        counted
    }
}

impl Container {
    /// What to mind with it, as a phrase.
    pub(crate) const fn advice(self) -> &'static str {
        match self {
            Self::Keg => "stay below the keg's stamped pressure and use a relief valve",
            Self::Cask => "vent the cask through its spile",
            Self::Bottle => "use pressure-rated bottles: over-primed bottles explode",
            Self::Can => "over-primed cans burst",
            Self::Growler | Self::Jug => {
                "fill it from a keg with finished, cold beer and drink it within days: it is not made for pressure and bursts where beer ferments in it"
            }
            Self::Unknown => "use containers made for pressure: over-primed ones burst",
        }
    }
}
