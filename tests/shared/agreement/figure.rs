//! A figure of a drawn page, and the units that it may be written in.

/// What a figure is, and so what it may be written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    Mass,
    Volume,
    Dose,
    LiquidDose,
    Share,
    LitresPerKilogram,
    LitresPerHour,
    Gravity,
    Brix,
    MaltColour,
    BeerColour,
    Bitterness,
    Gas,
    Temperature,
    Minutes,
    Altitude,
    HeatCapacity,
    Power,
    DiastaticPower,
    PitchRate,
    Ph,
    Packs,
    /// A day, or how many.
    Number,
}

/// How a figure in the first unit of its measure is said in another.
#[derive(Debug, Clone, Copy)]
enum Said {
    /// So many of the first unit are one of this.
    Of(f64),
    /// Degrees Fahrenheit of degrees Celsius.
    Fahrenheit,
    /// Degrees Lovibond of EBC units of malt: EBC = 2.65 °L - 1.2 (ASBC and EBC methods, as read in `tests/reference`).
    Lovibond,
    /// Degrees Lintner of Windisch-Kolbach units: WK = 3.5 °L - 16 (trade, see `science`).
    Lintner,
    /// Specific gravity of degrees Plato.
    Gravity,
}

use Said::{Fahrenheit, Gravity, Lintner, Lovibond, Of};

// Pound, gallon, foot: the yard and pound agreement of 1959 and the US gallon of 231 cubic inches; a beer barrel has 31 gallons
// (trade). SRM and EBC are 12.7 and 25 times one absorbance. A volume of gas is 1.9770 g/L (IUPAC-NIST series 62).
const LB: f64 = 0.453_592_37;
const GAL: f64 = 3.785_411_784;
const IMP_GAL: f64 = 4.546_09;

const fn units(measure: Measure) -> &'static [(&'static str, Said)] {
    match measure {
        Measure::Mass => &[
            ("kg", Of(1.0)),
            ("g", Of(0.001)),
            ("lb", Of(LB)),
            ("oz", Of(LB / 16.0)),
            ("t", Of(1000.0)),
        ],
        Measure::Volume => &[
            ("L", Of(1.0)),
            ("hL", Of(100.0)),
            ("mL", Of(0.001)),
            ("gal", Of(GAL)),
            ("qt", Of(GAL / 4.0)),
            ("bbl", Of(31.0 * GAL)),
            ("imp gal", Of(IMP_GAL)),
            ("imp bbl", Of(36.0 * IMP_GAL)),
        ],
        Measure::Dose => &[
            ("g/L", Of(1.0)),
            ("g/hL", Of(0.01)),
            ("mg/L", Of(0.001)),
            ("oz/gal", Of(1000.0 * LB / 16.0 / GAL)),
            ("lb/bbl", Of(1000.0 * LB / (31.0 * GAL))),
        ],
        Measure::LiquidDose => &[("mL/L", Of(1.0)), ("mL/hL", Of(0.01))],
        Measure::Share => &[("%", Of(1.0))],
        Measure::LitresPerKilogram => &[("L/kg", Of(1.0)), ("qt/lb", Of(GAL / 4.0 / LB))],
        Measure::LitresPerHour => &[
            ("L/h", Of(1.0)),
            ("hL/h", Of(100.0)),
            ("gal/h", Of(GAL)),
            ("bbl/h", Of(31.0 * GAL)),
        ],
        Measure::Gravity => &[("P", Of(1.0)), ("", Gravity)],
        Measure::Brix => &[("Bx", Of(1.0)), ("P", Of(1.0))],
        Measure::MaltColour => &[
            ("EBC", Of(1.0)),
            ("SRM", Of(25.0 / 12.7)),
            ("lovibond", Lovibond),
        ],
        Measure::BeerColour => &[("EBC", Of(1.0)), ("SRM", Of(25.0 / 12.7))],
        Measure::Bitterness => &[("IBU", Of(1.0))],
        Measure::Gas => &[("g/L", Of(1.0)), ("volumes", Of(1.977_0))],
        Measure::Temperature => &[("C", Of(1.0)), ("F", Fahrenheit)],
        Measure::Minutes => &[("min", Of(1.0)), ("h", Of(60.0))],
        Measure::Altitude => &[("m", Of(1.0)), ("ft", Of(0.3048))],
        Measure::HeatCapacity => &[("kJ/K", Of(1.0))],
        Measure::Power => &[("kW", Of(1.0)), ("W", Of(0.001))],
        Measure::DiastaticPower => &[("WK", Of(1.0)), ("lintner", Lintner)],
        Measure::PitchRate => &[("M/mL/P", Of(1.0))],
        Measure::Packs => &[("pack", Of(1.0))],
        Measure::Ph | Measure::Number => &[("", Of(1.0))],
    }
}

/// Relative density in air of a sucrose solution over that of water, at 20 °C: the ICUMSA polynomial with its own water term
/// (Bubnik et al. 1995 p. 164, as `tests/reference/sucrose_icumsa.csv` has its figures), both in air of 1.2 kg/m³.
pub fn specific_gravity(plato: f64) -> f64 {
    const WATER: [f64; 6] = [
        999.839_52,
        16.952_577,
        -7.990_512_7e-3,
        -46.241_757e-6,
        105.846_01e-9,
        -281.030_06e-12,
    ];
    const RISE: [f64; 6] = [385.176_1, 135.370_5, 40.929_9, -3.964_3, 13.485_3, -17.289];
    const AIR: f64 = 1.2;
    let sum = |terms: &[f64], x: f64| terms.iter().rev().fold(0.0, |sum, term| sum * x + term);
    let water = sum(&WATER, 20.0) / (1.0 + 16.887_236e-3 * 20.0);
    let w = plato / 100.0;
    (water + w * sum(&RISE, w) - AIR) / (water - AIR)
}

/// A figure as it stands on a page.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// In the first unit of its measure.
    pub value: f64,
    pub measure: Measure,
    /// Which of the units it is written in.
    pub unit: usize,
    /// Whether twice the brew has twice of it.
    pub grows: bool,
    /// What it is, for laws that move it; empty for most.
    pub role: &'static str,
}

impl Figure {
    pub const fn new(value: f64, measure: Measure) -> Self {
        Self {
            value,
            measure,
            unit: 0,
            grows: false,
            role: "",
        }
    }

    /// How many units it may be written in.
    pub const fn unit_count(&self) -> usize {
        units(self.measure).len()
    }

    pub fn text(&self) -> String {
        let (symbol, said) = units(self.measure)[self.unit];
        let number = match said {
            Of(factor) => self.value / factor,
            Fahrenheit => self.value * 1.8 + 32.0,
            Lovibond => (self.value + 1.2) / 2.65,
            Lintner => (self.value + 16.0) / 3.5,
            Gravity => specific_gravity(self.value),
        };
        // Thirteen digits are beyond any difference that a figure shows, and leave 0.237 kg as 237 g.
        let number = format!("{number:.12e}").parse().unwrap_or(number);
        let number = format!("{number}");
        match symbol {
            "" => number,
            symbol => format!("{number} {symbol}"),
        }
    }
}
