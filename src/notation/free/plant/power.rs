//! Powers and hours behind a number.

use crate::notation::free::bit::Bit;

use crate::quantity::Unit;

/// A pump or a fan is weaker, kW (rule of the crate).
pub(super) const HEATER_KW: f64 = 1.0;

/// The kilowatts of `5500 W` and `5.5 kW`; of a burner in BTU the share that heats the kettle is anybody's guess.
pub(super) fn kilowatts(number: f64, stretch: &[Bit]) -> Option<f64> {
    match stretch.get(1).and_then(Bit::word)? {
        "kw" => Some(number),
        "w" | "watt" | "watts" => Some(number / 1000.0),
        _ => None,
    }
}

/// `5500 W`, the power of something.
pub(super) fn is_power(stretch: &[Bit]) -> bool {
    let next = stretch.get(1).and_then(Bit::word);
    next.is_some_and(|word| matches!(word, "btu" | "w" | "watt" | "watts" | "kw"))
}

/// `per hour`, `an hour`, `/h` behind a share.
pub(super) fn is_hourly(behind: &[Bit]) -> bool {
    let joins = |bit: &&Bit| {
        bit.is_mark('/') || matches!(bit.word(), Some("per" | "an" | "a" | "each" | "every"))
    };
    let skipped = usize::from(behind.first().as_ref().is_some_and(joins));
    let Some(bit) = behind.get(skipped) else {
        return false;
    };
    let is_hour = matches!(bit.word(), Some("h" | "hr" | "hour" | "hourly"));
    is_hour && skipped == 1
        || bit
            .quantity()
            .is_some_and(|time| time.unit == Unit::Hour && (time.number - 1.0).abs() < 1e-9)
}
