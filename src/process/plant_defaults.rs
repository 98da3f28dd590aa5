//! Lines of a plant that have a default.

use crate::quantity::{Temperature, Unit, UnitSystem};
use crate::speech::{Style, shortest};
use serde::Serialize;

/// A plant line that has a default.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Defaulted {
    /// Share of the laboratory extract that dissolves, a fraction.
    Conversion,
    /// Apparent absorption in L/kg.
    Absorption,
    /// Mash water in L/kg.
    LiquorRatio,
    /// Brewhouse yield, a fraction.
    ExtractYield,
    /// Share of the pre-boil volume an hour, a fraction.
    Evaporation,
    /// Kettle loss, a fraction of the wort.
    KettleLoss,
    /// Fermenter loss, a fraction of the beer.
    FermenterLoss,
    /// A bag without sparge.
    Bag,
    /// A tun that is drained, filled once more and drained.
    BatchSparge,
    /// Time of cooling by plate, min.
    PlateTime,
    /// Time of cooling by coil, min.
    CoilTime,
    /// Temperature of the coolant, °C.
    Coolant,
    /// Cooling by coil, in the stated time.
    Coil,
    /// Cooling by plate, in the stated time.
    Plate,
    /// Share of its wort that a sparge mixes with, a fraction.
    SpargeMixing,
    /// Altitude, m.
    Altitude,
    /// Temperature to which the wort is cooled, °C.
    PitchingTemperature,
    /// Time in which unchilled wort loses all but 1/e of its heat above the room's, min.
    UnchilledTime,
    /// Room in which unchilled wort stands, °C.
    Room,
    /// Share of the stated power that warms mash and wort, a fraction.
    HeatShare,
}

impl Defaulted {
    /// The unit in which its figure is written; none where there is no figure.
    pub const fn unit(self) -> Option<Unit> {
        match self {
            Self::Conversion
            | Self::ExtractYield
            | Self::Evaporation
            | Self::KettleLoss
            | Self::FermenterLoss
            | Self::SpargeMixing
            | Self::HeatShare => Some(Unit::Percent),
            Self::Absorption | Self::LiquorRatio => Some(Unit::LitrePerKilogram),
            Self::PlateTime | Self::CoilTime | Self::UnchilledTime => Some(Unit::Minute),
            Self::Coolant | Self::PitchingTemperature | Self::Room => Some(Unit::Celsius),
            Self::Altitude => Some(Unit::Metre),
            Self::Bag | Self::BatchSparge | Self::Coil | Self::Plate => None,
        }
    }

    /// The field of a plant that states it.
    pub(crate) const fn field(self) -> &'static str {
        match self {
            Self::Conversion => "conversion_pct",
            Self::Absorption => "absorption_l_per_kg",
            Self::LiquorRatio => "liquor_l_per_kg",
            Self::ExtractYield => "extract_yield",
            Self::Evaporation => "evaporation",
            Self::KettleLoss => "kettle_loss_l",
            Self::FermenterLoss => "fermenter_loss_l",
            Self::Bag | Self::BatchSparge => "lauter",
            Self::PlateTime | Self::CoilTime => "cooling.time_min",
            Self::Coolant => "coolant_c",
            Self::Coil | Self::Plate => "cooling.method",
            Self::SpargeMixing => "sparge_mixing_pct",
            Self::Altitude => "altitude_m",
            Self::PitchingTemperature => "cooling.to_c",
            Self::HeatShare => "heat_power_kw",
            // No line states what becomes of unchilled wort; chilling it does.
            Self::UnchilledTime | Self::Room => "cooling",
        }
    }

    /// The line with the figure that was taken for it, in the units of a practice.
    pub(crate) fn say(self, value: f64, style: Style) -> String {
        let temperature = || style.temperature(Temperature::clamped(value));
        let per_cent = shortest(value * 100.0, 1);
        match self {
            Self::Conversion => format!("conversion {per_cent} %"),
            Self::Absorption => format!("absorption {}", per_mass(value, style)),
            Self::LiquorRatio => format!("mash water {}", per_mass(value, style)),
            Self::ExtractYield => format!("extract yield {per_cent} %"),
            Self::Evaporation => {
                format!("evaporation {per_cent} % of pre-boil volume per hour")
            }
            Self::KettleLoss => format!("kettle loss {per_cent} %"),
            Self::FermenterLoss => format!("fermenter loss {per_cent} %"),
            Self::Bag => "a mash bag without sparge".to_owned(),
            Self::BatchSparge => "one batch sparge in the mash tun".to_owned(),
            Self::PlateTime => format!("cooling by plate chiller in {} min", shortest(value, 0)),
            Self::CoilTime => format!("cooling by coil chiller in {} min", shortest(value, 0)),
            Self::Coolant => format!("coolant at {}", temperature()),
            Self::Coil => "cooling by coil".to_owned(),
            Self::Plate => "cooling by plate".to_owned(),
            Self::SpargeMixing => format!("sparge mixing {per_cent} %"),
            Self::Altitude => match style.system {
                UnitSystem::Us => {
                    format!("altitude {} ft", shortest(Unit::Foot.from_base(value), 0))
                }
                UnitSystem::Metric | UnitSystem::Imperial => {
                    format!("altitude {} m", shortest(value, 0))
                }
            },
            Self::PitchingTemperature => {
                format!("cooling to {}", temperature())
            }
            Self::UnchilledTime => format!(
                "no-chill cooling with a time constant of {} min",
                shortest(value, 0)
            ),
            Self::HeatShare => format!("{per_cent} % of the heater's power into mash and wort"),
            Self::Room => format!("a room of {} for it", temperature()),
        }
    }
}

/// Water for grain: quarts a pound where a practice counts in them.
pub(super) fn per_mass(litres_per_kg: f64, style: Style) -> String {
    let unit = match style.system {
        UnitSystem::Metric => Unit::LitrePerKilogram,
        UnitSystem::Us => Unit::QuartPerPound,
        UnitSystem::Imperial => Unit::ImperialQuartPerPound,
    };
    let value = shortest(unit.from_base(litres_per_kg), 2);
    format!("{value} {}", unit.symbol())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn defaults_speak_the_units_of_the_practice() {
        let us = Style::customary(UnitSystem::Us);
        // A US quart is 0.946353 L and a pound 0.453592 kg: 3 L/kg are 1.438 qt/lb.
        assert_eq!(Defaulted::LiquorRatio.say(3.0, us), "mash water 1.44 qt/lb");
        assert_eq!(
            Defaulted::PitchingTemperature.say(20.0, us),
            "cooling to 68 °F"
        );
        let metric = Style::default();
        assert_eq!(Defaulted::LiquorRatio.say(3.0, metric), "mash water 3 L/kg");
        assert_eq!(Defaulted::Coolant.say(14.0, metric), "coolant at 14 °C");
    }
}
