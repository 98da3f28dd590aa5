//! An amount or figure, in a scale by which meant and read ones are compared.

use std::fmt;
use wortwright::quantity::{
    BeerColour, CarbonDioxide, Dimension, Extract, MaltColour, Quantity, Written,
};

/// What is measured, in one unit.
#[derive(Debug, Clone, PartialEq)]
pub enum Scale {
    Kilograms,
    Litres,
    /// Per cent; doses by volume too.
    Percent,
    GramsPerLitre,
    LitresPerKilogram,
    LitresPerHour,
    PercentPerHour,
    Plato,
    Ebc,
    Ibu,
    /// Carbon dioxide in g/L.
    Gas,
    Celsius,
    Minutes,
    Metres,
    MillionPerMlPlato,
    Ph,
    /// Packs, tablets, pieces.
    Count,
    /// What no model measures, by its unit.
    Unit(String),
}

/// A number, or a range, so many times.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    pub scale: Scale,
    pub low: f64,
    pub high: f64,
    pub times: f64,
}

impl Measure {
    pub fn new(scale: Scale, value: f64) -> Self {
        Self {
            scale,
            low: value,
            high: value,
            times: 1.0,
        }
    }

    /// What a model holds.
    pub fn of<Q: Quantity>(written: &Written<Q>) -> Self {
        let factor = if Q::DIMENSION == Dimension::Percent {
            100.0
        } else {
            1.0
        };
        Self::new(scale_of(Q::DIMENSION), written.value().in_base() * factor)
    }

    /// The same in another scale, for carbon dioxide and rates that are shares.
    #[must_use]
    pub fn as_scale(mut self, scale: Scale) -> Self {
        self.scale = scale;
        self
    }

    #[must_use]
    pub fn times(mut self, times: f64) -> Self {
        self.times *= times;
        self
    }

    /// `[N x [N x ]]NUMBER[-NUMBER] UNIT`, as the corpus writes it.
    pub fn parse(text: &str) -> Option<Self> {
        let (numbers, unit) = text.rsplit_once(' ')?;
        let mut factors: Vec<&str> = numbers.split(" x ").collect();
        let (low, high) = range(factors.pop()?)?;
        let times = factors
            .into_iter()
            .map(|factor| factor.trim().parse::<f64>().ok())
            .product::<Option<f64>>()?;
        let convert = |number: f64| in_scale(number, unit);
        let (scale, low) = convert(low)?;
        let (_, high) = convert(high)?;
        Some(Self {
            scale,
            low,
            high,
            times,
        })
    }

    /// A colour of malt, where `L` is degrees Lovibond.
    pub fn malt_colour(text: &str) -> Option<Self> {
        let text = text.replace(" L", " °L");
        let written: Written<MaltColour> = text.parse().ok()?;
        Some(Self::of(&written))
    }

    /// The middle of the range, all told.
    pub fn total(&self) -> f64 {
        self.low.midpoint(self.high) * self.times
    }

    /// One of several.
    #[must_use]
    pub fn each(&self) -> Self {
        Self {
            times: 1.0,
            ..self.clone()
        }
    }

    /// Whether two are the same: to 1 %, or to the digits of the corpus where a percentage says nothing.
    pub fn agrees(&self, other: &Self) -> bool {
        let (one, two) = (self.total(), other.total());
        let tolerance = match self.scale {
            // Four digits of a temperature in °F.
            Scale::Celsius => 0.06,
            // An eighth of a thousandth of gravity.
            Scale::Plato => 0.03,
            Scale::Ph => 0.006,
            _ => 0.01 * one.abs().max(two.abs()) + 1e-9,
        };
        self.scale == other.scale && (one - two).abs() <= tolerance
    }
}

fn scale_of(dimension: Dimension) -> Scale {
    match dimension {
        Dimension::Mass => Scale::Kilograms,
        Dimension::Volume => Scale::Litres,
        Dimension::Concentration => Scale::GramsPerLitre,
        Dimension::VolumePerVolume | Dimension::Percent => Scale::Percent,
        Dimension::VolumePerMass => Scale::LitresPerKilogram,
        Dimension::VolumePerTime => Scale::LitresPerHour,
        Dimension::Gravity => Scale::Plato,
        Dimension::Colour => Scale::Ebc,
        Dimension::Bitterness => Scale::Ibu,
        Dimension::GasVolumes => Scale::Gas,
        Dimension::Temperature => Scale::Celsius,
        Dimension::Time => Scale::Minutes,
        Dimension::Length => Scale::Metres,
        Dimension::PitchRate => Scale::MillionPerMlPlato,
        Dimension::Ph => Scale::Ph,
        Dimension::Packs => Scale::Count,
        other => Scale::Unit(format!("{other:?}")),
    }
}

/// A number of a unit of the corpus.
fn in_scale(number: f64, unit: &str) -> Option<(Scale, f64)> {
    fn base<Q: Quantity>(text: &str) -> Option<f64> {
        text.parse::<Written<Q>>()
            .ok()
            .map(|written| written.value().in_base())
    }
    Some(match unit {
        "kg" => (Scale::Kilograms, number),
        "L" => (Scale::Litres, number),
        "%" => (Scale::Percent, number),
        "mL/L" => (Scale::Percent, number / 10.0),
        "g/L" => (Scale::GramsPerLitre, number),
        "mg/L" => (Scale::GramsPerLitre, number / 1000.0),
        "L/kg" => (Scale::LitresPerKilogram, number),
        "L/h" => (Scale::LitresPerHour, number),
        "%/h" => (Scale::PercentPerHour, number),
        "SG" => (Scale::Plato, base::<Extract>(&format!("{number:.5}"))?),
        "P" | "Bx" => (Scale::Plato, number),
        "EBC" => (Scale::Ebc, number),
        "SRM" => (Scale::Ebc, base::<BeerColour>(&format!("{number} SRM"))?),
        "IBU" => (Scale::Ibu, number),
        "vol" => (Scale::Gas, base::<CarbonDioxide>(&format!("{number} vol"))?),
        "C" => (Scale::Celsius, number),
        "min" => (Scale::Minutes, number),
        "days" => (Scale::Minutes, number * 24.0 * 60.0),
        "m" => (Scale::Metres, number),
        "M/mL/P" => (Scale::MillionPerMlPlato, number),
        "pH" => (Scale::Ph, number),
        "pack" | "tablet" | "count" => (Scale::Count, number),
        other => (Scale::Unit(other.to_owned()), number),
    })
}

/// `26-29`, `-1`, `5`.
fn range(text: &str) -> Option<(f64, f64)> {
    let text = text.trim();
    if let Ok(number) = text.parse() {
        return Some((number, number));
    }
    let dash = text.get(1..)?.find('-')? + 1;
    let (low, high) = text.split_at(dash);
    Some((low.parse().ok()?, high.get(1..)?.parse().ok()?))
}

impl fmt::Display for Measure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if (self.times - 1.0).abs() > 1e-9 {
            write!(f, "{} x ", self.times)?;
        }
        let unit = match &self.scale {
            Scale::Kilograms => "kg",
            Scale::Litres => "L",
            Scale::Percent => "%",
            Scale::GramsPerLitre => "g/L",
            Scale::LitresPerKilogram => "L/kg",
            Scale::LitresPerHour => "L/h",
            Scale::PercentPerHour => "%/h",
            Scale::Plato => "P",
            Scale::Ebc => "EBC",
            Scale::Ibu => "IBU",
            Scale::Gas => "g/L CO2",
            Scale::Celsius => "C",
            Scale::Minutes => "min",
            Scale::Metres => "m",
            Scale::MillionPerMlPlato => "M/mL/P",
            Scale::Ph => "pH",
            Scale::Count => "count",
            Scale::Unit(unit) => unit,
        };
        let shown = if self.scale == Scale::Plato { 1e2 } else { 1e5 };
        let digits = |number: f64| format!("{}", (number * shown).round() / shown);
        f.write_str(&digits(self.low))?;
        if (self.high - self.low).abs() > 1e-12 {
            write!(f, "-{}", digits(self.high))?;
        }
        write!(f, " {unit}")
    }
}
