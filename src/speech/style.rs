//! How figures are said to a person: in which units, and with how many digits.
//!
//! Reasons, assumptions and the brew sheet all speak through one [`Style`], so that a plan for an American kettle
//! speaks of gallons throughout.

use super::{Spoken, two_digits};
use crate::quantity::{
    AlcoholByVolume, BeerColour, CarbonDioxide, Concentration, Extract, MaltColour, Mass,
    PackCount, Pressure, Quantity, Temperature, Time, Unit, UnitSystem, Volume, in_kilograms,
    in_litres, in_minutes,
};
use crate::science::density::gravity_of;
use serde::{Deserialize, Serialize};
use uom::si::pressure::{bar, psi};

/// Over so many degrees Plato a specific gravity is straight.
const SLOPE_PLATO: f64 = 0.1;

/// Units of volume, each with the least that is said in it.
const US_VOLUMES: [(Unit, f64); 4] = [
    (Unit::Barrel, 2.0),
    (Unit::Gallon, 0.5),
    (Unit::Quart, 0.9995),
    (Unit::FluidOunce, 0.0),
];
const IMPERIAL_VOLUMES: [(Unit, f64); 4] = [
    (Unit::ImperialBarrel, 2.0),
    (Unit::ImperialGallon, 0.5),
    (Unit::ImperialPint, 0.9995),
    (Unit::ImperialFluidOunce, 0.0),
];

/// The units in which figures are said.
///
/// ```
/// use wortwright::quantity::{Extract, Temperature, UnitSystem};
/// use wortwright::speech::Style;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let us = Style::customary(UnitSystem::Us);
/// assert_eq!(us.gravity(Extract::from_plato(12.0)?), "1.048");
/// assert_eq!(us.temperature(Temperature::from_celsius(20.0)?), "68 °F");
/// assert_eq!(Style::default().gravity(Extract::from_plato(12.0)?), "12.0 °P");
/// # Ok(())
/// # }
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
pub struct Style {
    /// Masses and volumes.
    pub system: UnitSystem,
    /// Strength of wort and beer.
    pub gravity: GravityScale,
    /// Colour of malt and beer.
    pub colour: ColourScale,
    /// Of mash, boil, fermentation and store.
    pub temperature: TemperatureScale,
}

/// How the strength of a wort is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum GravityScale {
    /// Degrees Plato.
    #[default]
    Plato,
    /// Specific gravity 20/20 °C.
    SpecificGravity,
}

/// How colour is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum ColourScale {
    /// EBC units.
    #[default]
    Ebc,
    /// SRM for beer, Lovibond for malt.
    Srm,
}

/// How temperature is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum TemperatureScale {
    /// Degrees Celsius.
    #[default]
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
}

impl Style {
    /// What is customary in a practice: specific gravity, SRM and Fahrenheit in the United States; specific gravity,
    /// EBC and Celsius in Britain; Plato, EBC and Celsius elsewhere.
    pub const fn customary(system: UnitSystem) -> Self {
        let (gravity, colour, temperature) = match system {
            UnitSystem::Metric => (
                GravityScale::Plato,
                ColourScale::Ebc,
                TemperatureScale::Celsius,
            ),
            UnitSystem::Us => (
                GravityScale::SpecificGravity,
                ColourScale::Srm,
                TemperatureScale::Fahrenheit,
            ),
            UnitSystem::Imperial => (
                GravityScale::SpecificGravity,
                ColourScale::Ebc,
                TemperatureScale::Celsius,
            ),
        };
        Self {
            system,
            gravity,
            colour,
            temperature,
        }
    }

    /// A mass: kilograms and grams, or pounds and ounces, with grams for pinches.
    pub fn mass(self, mass: Mass) -> String {
        let kg = in_kilograms(mass);
        if self.system == UnitSystem::Metric {
            return if kg >= 99.95 {
                format!("{kg:.0} kg")
            } else if kg >= 9.995 {
                format!("{kg:.1} kg")
            } else if kg >= 0.9995 {
                format!("{kg:.2} kg")
            } else if kg >= 0.09995 {
                format!("{:.0} g", kg * 1000.0)
            } else if kg >= 0.000_95 {
                format!("{:.1} g", kg * 1000.0)
            } else if kg == 0.0 {
                "0 g".to_owned()
            } else {
                format!("{:.0} mg", kg * 1e6)
            };
        }
        let ounces = Unit::Ounce.from_base(kg);
        if ounces >= 1600.0 {
            return format!("{:.1} lb", Unit::Pound.from_base(kg));
        }
        // Rounded as a whole first, so that sixteen ounces carry over into a pound.
        let tenths = (ounces * 10.0).round();
        if tenths < 160.0 {
            return if ounces < 0.2 {
                // A hundredth of an ounce is too coarse for a pinch; small scales in both practices show grams.
                Self::default().mass(mass)
            } else if ounces < 1.0 {
                format!("{ounces:.2} oz")
            } else {
                format!("{:.1} oz", tenths / 10.0)
            };
        }
        let pounds = (tenths / 160.0).floor();
        format!("{pounds:.0} lb {:.1} oz", (tenths - pounds * 160.0) / 10.0)
    }

    /// The same to two digits, for what need not be weighed to the gram.
    pub fn about_mass(self, mass: Mass) -> String {
        let kg = in_kilograms(mass);
        let (ounces, pounds) = (Unit::Ounce.from_base(kg), Unit::Pound.from_base(kg));
        match self.system {
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

    /// A volume to two digits, for what need not be measured to the millilitre: in litres down to a tenth, as marks of vessels
    /// have them.
    pub fn about_volume(self, volume: Volume) -> String {
        let l = in_litres(volume);
        let units: &[Unit] = match self.system {
            UnitSystem::Metric if (0.0995..0.995).contains(&l) => {
                return format!("{} L", shortest(l, 2));
            }
            UnitSystem::Metric => &[Unit::Hectolitre, Unit::Litre, Unit::Millilitre],
            UnitSystem::Us => &[Unit::Gallon, Unit::Quart, Unit::FluidOunce],
            UnitSystem::Imperial => &[
                Unit::ImperialGallon,
                Unit::ImperialPint,
                Unit::ImperialFluidOunce,
            ],
        };
        let mut units = units.iter();
        let unit = units.find(|unit| unit.from_base(l) >= 0.995);
        let unit = unit.unwrap_or(&Unit::Millilitre);
        format!("{} {}", two_digits(unit.from_base(l)), unit.symbol())
    }

    /// A volume: hectolitres, litres, millilitres, or gallons, quarts and fluid ounces.
    pub fn volume(self, volume: Volume) -> String {
        self.spoken_volume(in_litres(volume)).said()
    }

    /// The same, of litres.
    pub(crate) fn spoken_volume(self, l: f64) -> Spoken {
        let say = |unit: Unit, digits: usize| {
            let per_litre = unit.from_base(1.0);
            Spoken::plain(unit.from_base(l), digits, unit.symbol()).scaled(per_litre)
        };
        let [large, middle, lesser, small] = match self.system {
            UnitSystem::Metric => {
                return if l >= 999.5 {
                    say(Unit::Hectolitre, 1)
                } else if l >= 99.95 {
                    say(Unit::Litre, 0)
                } else if l >= 9.995 {
                    say(Unit::Litre, 1)
                } else if l >= 0.9995 {
                    say(Unit::Litre, 2)
                } else {
                    say(Unit::Millilitre, 0)
                };
            }
            UnitSystem::Us => US_VOLUMES,
            UnitSystem::Imperial => IMPERIAL_VOLUMES,
        };
        let fits = |(unit, least): &(Unit, f64)| unit.from_base(l) >= *least;
        match [large, middle, lesser].iter().find(|unit| fits(unit)) {
            Some((unit, _)) => say(*unit, three_digits(unit.from_base(l))),
            None => say(small.0, 1),
        }
    }

    /// Litres in the last digit with which a volume of about `l` is said.
    pub(crate) fn volume_step_l(self, l: f64) -> f64 {
        let [large, middle, lesser, small] = match self.system {
            UnitSystem::Metric => {
                let steps = [(999.5, 10.0), (99.95, 1.0), (9.995, 0.1), (0.9995, 0.01)];
                let step = steps.into_iter().find(|(from, _)| l >= *from);
                return step.map_or(0.001, |(_, step)| step);
            }
            UnitSystem::Us => US_VOLUMES,
            UnitSystem::Imperial => IMPERIAL_VOLUMES,
        };
        let step = |unit: Unit| {
            let digits = three_digits(unit.from_base(l));
            unit.to_base(match digits {
                0 => 1.0,
                1 => 0.1,
                _ => 0.01,
            })
        };
        let fits = |(unit, least): &(Unit, f64)| unit.from_base(l) >= *least;
        match [large, middle, lesser].iter().find(|unit| fits(unit)) {
            Some((unit, _)) => step(*unit),
            None => small.0.to_base(0.1),
        }
    }

    /// The next volume, litres, that can be said and is no less.
    pub(crate) fn volume_up_l(self, l: f64) -> f64 {
        whole_steps(l, self.volume_step_l(l), f64::ceil)
    }

    /// The next volume, litres, that can be said and is no more.
    pub(crate) fn volume_down_l(self, l: f64) -> f64 {
        whole_steps(l, self.volume_step_l(l), f64::floor)
    }

    /// The next mass, kilograms, that can be said and is no less.
    pub(crate) fn mass_up_kg(self, kg: f64) -> f64 {
        let ounces = Unit::Ounce.from_base(kg);
        let step_kg = if self.system == UnitSystem::Metric || ounces < 0.2 {
            let steps = [
                (99.95, 1.0),
                (9.995, 0.1),
                (0.9995, 0.01),
                (0.09995, 0.001),
                (0.000_95, 1e-4),
            ];
            let step = steps.into_iter().find(|(from, _)| kg >= *from);
            step.map_or(1e-6, |(_, step)| step)
        } else if ounces >= 1600.0 {
            Unit::Pound.to_base(0.1)
        } else if ounces >= 1.0 {
            Unit::Ounce.to_base(0.1)
        } else {
            Unit::Ounce.to_base(0.01)
        };
        whole_steps(kg, step_kg, f64::ceil)
    }

    /// The strength of a wort or beer.
    pub fn gravity(self, extract: Extract) -> String {
        self.spoken_gravity(extract).said()
    }

    /// The same with its scale.
    pub(crate) fn spoken_gravity(self, extract: Extract) -> Spoken {
        match self.gravity {
            GravityScale::Plato => Spoken::plain(extract.plato(), 1, "°P"),
            GravityScale::SpecificGravity => {
                let ratio = |extract| gravity_of(extract).ratio();
                let stronger = ratio(Extract::clamped(extract.plato() + SLOPE_PLATO));
                let slope = (stronger - ratio(extract)) / SLOPE_PLATO;
                Spoken::plain(ratio(extract), 3, "").scaled(slope)
            }
        }
    }

    /// The colour of a wort or beer.
    pub fn beer_colour(self, colour: BeerColour) -> String {
        self.spoken_colour(colour).said()
    }

    /// The same with its scale.
    pub(crate) fn spoken_colour(self, colour: BeerColour) -> Spoken {
        match self.colour {
            ColourScale::Ebc => Spoken::plain(colour.ebc(), 0, "EBC"),
            ColourScale::Srm => {
                let per_ebc = Unit::Srm.from_base(1.0);
                Spoken::plain(colour.srm(), 0, "SRM").scaled(per_ebc)
            }
        }
    }

    /// The colour of a malt or sugar.
    pub fn malt_colour(self, colour: MaltColour) -> String {
        match self.colour {
            ColourScale::Ebc => format!("{} EBC", tenths_below_20(colour.ebc())),
            ColourScale::Srm => format!("{} °L", tenths_below_20(colour.lovibond())),
        }
    }

    /// A malt with its colour, which stands once: a name that ends with a colour is said with the one of the lot.
    ///
    /// ```
    /// use wortwright::quantity::{MaltColour, UnitSystem};
    /// use wortwright::speech::Style;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let (ebc, us) = (Style::default(), Style::customary(UnitSystem::Us));
    /// let colour = MaltColour::from_ebc(150.0)?;
    /// assert_eq!(ebc.malt("caramel malt 150 EBC", colour), "caramel malt 150 EBC");
    /// assert_eq!(us.malt("caramel malt 150 EBC", colour), "caramel malt, 57 °L");
    /// assert_eq!(ebc.malt("caramel malt 120 EBC", colour), "caramel malt, 150 EBC");
    /// assert_eq!(ebc.malt("black malt", MaltColour::from_ebc(1300.0)?), "black malt, 1300 EBC");
    /// # Ok(())
    /// # }
    /// ```
    pub fn malt(self, name: &str, colour: MaltColour) -> String {
        let said = self.malt_colour(colour);
        if name.ends_with(&said) {
            return name.to_owned();
        }
        let stem = name.strip_suffix(" EBC");
        let stem = stem.map(|stem| {
            stem.trim_end_matches(|c: char| c.is_ascii_digit())
                .trim_end()
        });
        format!("{}, {said}", stem.unwrap_or(name))
    }

    /// To a degree; to a tenth of a degree Celsius where it was stated so.
    pub fn temperature(self, temperature: Temperature) -> String {
        /// A figure of whole Fahrenheit is further from a tenth of a degree, K.
        const STATED_IN_TENTHS_C: f64 = 0.005;
        let celsius = temperature.celsius();
        let tenth = (10.0 * celsius).round() / 10.0;
        let digits = usize::from((tenth - celsius).abs() < STATED_IN_TENTHS_C);
        match self.temperature {
            TemperatureScale::Celsius => format!("{} °C", shortest(celsius, digits)),
            TemperatureScale::Fahrenheit => format!("{:.0} °F", temperature.fahrenheit()),
        }
    }

    /// The same to a degree, for what is calculated.
    pub fn about_temperature(self, temperature: Temperature) -> String {
        match self.temperature {
            TemperatureScale::Celsius => format!("{} °C", shortest(temperature.celsius(), 0)),
            TemperatureScale::Fahrenheit => self.temperature(temperature),
        }
    }

    /// Carbon dioxide in beer: volumes in the United States, grams per litre elsewhere.
    pub fn carbon_dioxide(self, gas: CarbonDioxide) -> String {
        match self.system {
            UnitSystem::Us => format!("{:.1} volumes of CO2", gas.volumes()),
            _ => format!("{} g/L of CO2", shortest(gas.grams_per_litre(), 1)),
        }
    }

    /// Carbon dioxide in beer, to which a spread belongs.
    pub(crate) fn spoken_carbon_dioxide(self, gas: CarbonDioxide) -> Spoken {
        match self.system {
            UnitSystem::Us => {
                let per_gram = Unit::GasVolumes.from_base(1.0);
                Spoken::plain(gas.volumes(), 1, "volumes of CO2").scaled(per_gram)
            }
            _ => Spoken::plain(gas.grams_per_litre(), 1, "g/L of CO2"),
        }
    }

    /// A pressure: bar, or pounds per square inch.
    pub fn pressure(self, pressure: Pressure) -> String {
        match self.system {
            UnitSystem::Metric => format!("{:.2} bar", pressure.get::<bar>()),
            _ => format!("{:.1} psi", pressure.get::<psi>()),
        }
    }

    /// A dose: mass per volume of wort or beer.
    pub fn concentration(self, concentration: Concentration) -> String {
        let g_l = concentration.grams_per_litre();
        match self.system {
            UnitSystem::Metric if g_l < 0.1 => {
                let digits = usize::from(g_l < 0.009_95);
                format!("{} mg/L", shortest(g_l * 1000.0, digits))
            }
            UnitSystem::Metric => format!("{} g/L", shortest(g_l, 2)),
            UnitSystem::Us => by_gallon(g_l, Unit::OuncePerGallon, Unit::Gallon),
            UnitSystem::Imperial => {
                by_gallon(g_l, Unit::OuncePerImperialGallon, Unit::ImperialGallon)
            }
        }
    }
}

/// Ounces per gallon; of pinches such as finings and salts grams, as small scales in both practices show them.
fn by_gallon(g_l: f64, ounces: Unit, gallon: Unit) -> String {
    let (in_ounces, gallon_name) = (ounces.from_base(g_l), gallon.symbol());
    if in_ounces < 0.05 {
        let grams = g_l * gallon.to_base(1.0);
        return format!(
            "{} g/{gallon_name}",
            shortest(grams, if grams < 0.1 { 3 } else { 2 })
        );
    }
    format!("{} oz/{gallon_name}", shortest(in_ounces, 3))
}

fn tenths_below_20(value: f64) -> String {
    shortest(value, usize::from(value < 19.95))
}

/// Decimals that leave a figure three digits; one below 1 has two decimals.
fn three_digits(value: f64) -> usize {
    match value {
        ..9.995 => 2,
        ..99.95 => 1,
        _ => 0,
    }
}

/// A value in whole steps, but where it is whole steps already and only its last digits say otherwise.
fn whole_steps(value: f64, step: f64, rounded: fn(f64) -> f64) -> f64 {
    let steps = value / step;
    let nearest = steps.round();
    if (steps - nearest).abs() <= 1e-9 * nearest.abs() {
        nearest * step
    } else {
        rounded(steps) * step
    }
}

/// What water holds of an ion: milligrams per litre, in which every water report is printed.
pub(crate) fn ion(concentration: Concentration) -> String {
    let mg_l = concentration.grams_per_litre() * 1000.0;
    format!("{} mg/L", shortest(mg_l, 1))
}

/// A length of time: minutes, hours or days.
pub fn time(time: Time) -> String {
    let min = in_minutes(time);
    if min >= 2.0 * 1440.0 {
        format!("{} days", shortest(min / 1440.0, 1))
    } else if min >= 180.0 {
        format!("{} h", shortest(min / 60.0, 1))
    } else {
        format!("{} min", shortest(min, 1))
    }
}

/// Alcohol by volume, to a tenth of a per cent.
pub fn alcohol(alcohol: AlcoholByVolume) -> String {
    format!("{:.1} % vol", alcohol.percent())
}

/// A fraction in per cent.
pub fn percent<Q: Quantity>(share: Q, digits: usize) -> String {
    format!("{} %", shortest(share.in_base() * 100.0, digits))
}

/// The phrase as a sentence begins.
pub(crate) fn capital(phrase: &str) -> String {
    let mut letters = phrase.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// Packs of unknown size: to a tenth of one, of less than one to two digits.
pub(crate) fn packs(count: PackCount) -> String {
    let digits = match count.packs() {
        ..0.095 => 3,
        0.095..0.95 => 2,
        _ => 1,
    };
    let packs = shortest(count.packs(), digits);
    let one = if packs == "1" { "pack" } else { "packs" };
    format!("{packs} {one}")
}

/// A number with at most so many decimals and no trailing zeros.
pub(crate) fn shortest(value: f64, digits: usize) -> String {
    let mut text = format!("{value:.digits$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{kilograms, litres};

    #[test]
    fn rounding_carries_over_into_the_next_unit() {
        let us = Style::customary(UnitSystem::Us);
        let metric = Style::default();
        let ounce = 0.028349523125;
        assert_eq!(us.mass(kilograms(15.96 * ounce)), "1 lb 0.0 oz");
        assert_eq!(us.mass(kilograms(31.97 * ounce)), "2 lb 0.0 oz");
        assert_eq!(us.mass(kilograms(0.25 * ounce)), "0.25 oz");
        assert_eq!(us.mass(kilograms(0.1 * ounce)), "2.8 g");
        assert_eq!(metric.mass(kilograms(0.99951)), "1.00 kg");
        assert_eq!(metric.mass(kilograms(0.9994)), "999 g");
        assert_eq!(metric.mass(kilograms(0.0042)), "4.2 g");
        assert_eq!(metric.volume(litres(0.9996)), "1.00 L");
        assert_eq!(metric.volume(litres(2000.0)), "20.0 hL");
        assert_eq!(us.volume(litres(3.785411784 * 5.0)), "5.00 gal");
    }

    /// What is rounded to one side is said as it is, in every practice.
    #[test]
    fn what_can_be_said_is_said_without_rounding() {
        let styles =
            [UnitSystem::Metric, UnitSystem::Us, UnitSystem::Imperial].map(Style::customary);
        for style in styles {
            for exact in [
                0.000_37, 0.012_34, 0.298_7, 1.234_5, 9.993_1, 13.87, 99.93, 123.4, 1234.5,
            ] {
                let (up, down) = (style.volume_up_l(exact), style.volume_down_l(exact));
                assert!(down <= exact && exact <= up, "{down} {exact} {up}");
                // A quarter of a step more is said alike, and three quarters are not.
                let step = style.volume_step_l(up);
                let said = |l| style.volume(litres(l));
                assert_eq!(said(up), said(up + 0.25 * step), "{up}");
                assert_ne!(said(up), said(up + 0.75 * step), "{up}");
                assert!((style.volume_up_l(up) - up).abs() <= 1e-9 * up);
                let kg = style.mass_up_kg(exact);
                assert!(kg >= exact && kg <= exact * 1.3, "{kg} {exact}");
                assert!((style.mass_up_kg(kg) - kg).abs() <= 1e-9 * kg);
            }
        }
        assert_eq!(Style::default().volume_down_l(13.87), 13.8);
        assert_eq!(Style::default().volume_up_l(13.8), 13.8);
    }

    #[test]
    fn no_figure_is_said_as_minus_nothing() {
        assert_eq!(Style::default().gravity(Extract::clamped(-0.01)), "0.0 °P");
        assert_eq!(shortest(-0.001, 2), "0");
        assert_eq!(shortest(12.50, 2), "12.5");
        assert_eq!(shortest(100.0, 0), "100");
    }
}
