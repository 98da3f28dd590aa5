//! How far the starch of a mash becomes sugar that yeast ferments, by the temperatures and times of its rests.
//!
//! Two rates: sugar forms where the granules have swollen, and the enzyme that makes it (beta-amylase) is lost, both faster
//! when hotter. The result is a factor on the fermentable share of a mash held at 65 °C for 60 min.
//!
//! Source: a relation fitted to about eight soft data (Chandrasekhar's attenuations at 65 to 80 °C, second hand; Muller, J. Inst.
//! Brew. 1991, 97, 85; Hamilton & Lewis, MBAA TQ 1974, 11, 31; Harris & `MacWilliam`, J. Inst. Brew. 1961). The loss at 65 °C is
//! that of Muller 1990: half in 10 min. The other numbers are no properties of an enzyme.
//! Range: a last rest from 62 to 80 °C, 15 to 120 min. One sigma 0.03 at 62 to 68 °C and from 30 min (published to 90 min), 0.06
//! for less time or above 68 °C, 0.08 at 70 to 75 °C, where one second-hand source speaks; another lot of malt 0.03 more. Below 62 °C starch stays
//! unconverted, which is no matter of fermentability: a last rest there has the factor of 62 °C, sigma 0.06.
//! Thickness, pH, diastatic power and the protection of the enzyme by sugar have no term.

use crate::quantity::{Temperature, Time, in_minutes};

/// Gas constant, kJ/(mol K).
const R: f64 = 0.008_314_5;
/// Where both rates are stated, K: 65 °C.
const REFERENCE_K: f64 = 338.15;
/// Formation of sugar at 65 °C, 1/min, and its activation energy, kJ/mol (fitted).
const FORMS_PER_MIN: f64 = 0.354;
const FORMS_KJ: f64 = 94.0;
/// Loss of the enzyme at 65 °C, 1/min: half in 10 min (Muller 1990), and its activation energy, kJ/mol (fitted).
const LOST_PER_MIN: f64 = 0.0693;
const LOST_KJ: f64 = 292.0;
/// Half of the starch has swollen at this temperature, °C, and the width of that (fitted; barley malt swells at 61 ± 1).
const SWOLLEN_C: f64 = 60.6;
const SWELLING_C: f64 = 1.5;
/// What ferments of a wort in which that enzyme made nothing, for one with all it can make (fitted).
const WITHOUT: f64 = 0.19;

/// Below this the last rest has the factor of this temperature, °C.
pub(crate) const COOLEST_LAST_C: f64 = 62.0;
/// What a mash rises by in a minute where nobody states a power, °C (common practice, no source).
pub(crate) const RISE_C_PER_MIN: f64 = 1.0;

/// A mash held at a temperature for a time, and whether it was heated there slowly, rather than brought there at once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MashHold {
    /// Of the mash.
    pub temperature: Temperature,
    /// How long, without the rise to it.
    pub time: Time,
    /// Whether it rises to it by 1 °C a minute from the hold before; of no account for the first.
    pub heated: bool,
}

/// What a mash has come to.
#[derive(Debug, Clone, Copy)]
struct Mash {
    formed: f64,
    enzyme: f64,
    /// Sum of the spread of each part by how much sugar it formed.
    spread: f64,
    minutes: f64,
}

impl Mash {
    const START: Self = Self {
        formed: 0.0,
        enzyme: 1.0,
        spread: 0.0,
        minutes: 0.0,
    };

    fn held(self, celsius: f64, minutes: f64) -> Self {
        let arrhenius = |kj: f64| (-kj / R * (1.0 / (celsius + 273.15) - 1.0 / REFERENCE_K)).exp();
        let swollen = 1.0 / (1.0 + (-(celsius - SWOLLEN_C) / SWELLING_C).exp());
        let forms = FORMS_PER_MIN * arrhenius(FORMS_KJ) * swollen;
        let lost = LOST_PER_MIN * arrhenius(LOST_KJ);
        let left = (-lost * minutes).exp();
        let formed = forms * self.enzyme * (1.0 - left) / lost;
        Self {
            formed: self.formed + formed,
            enzyme: self.enzyme * left,
            spread: self.spread + formed * spread_at(celsius),
            minutes: self.minutes + minutes,
        }
    }

    /// A rise, in whole degrees and what is left of one: a hair more of it is a hair more of what it makes.
    fn raised(self, from_c: f64, to_c: f64, rise_c_per_min: f64) -> Self {
        let (mut mash, mut reached_c) = (self, from_c);
        while reached_c < to_c {
            let step_c = (to_c - reached_c).min(1.0);
            mash = mash.held(reached_c + step_c / 2.0, step_c / rise_c_per_min);
            reached_c += step_c;
        }
        mash
    }

    fn ferments(self) -> f64 {
        WITHOUT + (1.0 - WITHOUT) * (1.0 - (-self.formed).exp())
    }
}

fn spread_at(celsius: f64) -> f64 {
    match celsius {
        c if c < COOLEST_LAST_C => 0.06,
        c if c <= 68.0 => 0.03,
        c if (70.0..=75.0).contains(&c) => 0.08,
        _ => 0.06,
    }
}

/// Factor on the fermentable share of mashed starch, one for 65 °C held for 60 min. Nothing held is that mash.
///
/// # Source
///
/// See the head of the module. The rule of a point of attenuation for a degree holds from 62 to 67 °C alone.
///
/// ```
/// use wortwright::quantity::{Temperature, Time, uom::si::time::minute};
/// use wortwright::science::fermentability::{MashHold, mash_factor};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let hold = |celsius, minutes| -> Result<MashHold, wortwright::diagnostic::Error> {
///     Ok(MashHold {
///         temperature: Temperature::from_celsius(celsius)?,
///         time: Time::new::<minute>(minutes),
///         heated: true,
///     })
/// };
/// assert!((mash_factor(&[hold(72.0, 60.0)?]) - 0.7671).abs() < 5e-5);
/// // Heated slowly, a mash makes its sugar on the way.
/// assert!((mash_factor(&[hold(50.0, 15.0)?, hold(72.0, 30.0)?]) - 0.96).abs() < 5e-3);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn mash_factor(holds: &[MashHold]) -> f64 {
    factor_and_spread(holds, RISE_C_PER_MIN).0
}

/// The factor of a mash that is heated so fast, with its one sigma, which leaves out the lot of malt.
pub(crate) fn factor_and_spread(holds: &[MashHold], rise_c_per_min: f64) -> (f64, f64) {
    let reference = Mash::START.held(65.0, 60.0);
    let mut mash = Mash::START;
    let mut before_c: Option<f64> = None;
    for (number, hold) in holds.iter().enumerate() {
        let mut celsius = hold.temperature.celsius();
        let is_last = number + 1 == holds.len();
        if is_last && celsius < COOLEST_LAST_C {
            celsius = COOLEST_LAST_C;
        }
        if let Some(from_c) = before_c.filter(|from_c| hold.heated && *from_c < celsius) {
            mash = mash.raised(from_c, celsius, rise_c_per_min);
        }
        let (formed, spread) = (mash.formed, mash.spread);
        mash = mash.held(celsius, in_minutes(hold.time).max(0.0));
        if is_last && hold.temperature.celsius() < COOLEST_LAST_C {
            mash.spread = spread + (mash.formed - formed) * spread_at(hold.temperature.celsius());
        }
        before_c = Some(celsius);
    }
    if mash.formed <= 0.0 {
        mash = reference;
    }
    let spread = mash.spread / mash.formed;
    let spread = if mash.minutes < 30.0 {
        spread.max(0.06)
    } else {
        spread
    };
    (mash.ferments() / reference.ferments(), spread)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::minutes;

    fn holds(steps: &[(f64, f64)], heated: bool) -> Vec<MashHold> {
        let hold = |(celsius, time): &(f64, f64)| MashHold {
            temperature: Temperature::from_celsius(*celsius).unwrap(),
            time: minutes(*time),
            heated,
        };
        steps.iter().map(hold).collect()
    }

    /// What nobody mashes: no rest, no time, ice and boiling. The factor stays a number within its ends.
    #[test]
    fn it_is_a_number_whatever_is_held() {
        let ends = [-5.0, 0.0, 20.0, 61.9, 62.0, 75.0, 100.0, 120.0];
        for celsius in ends {
            for time in [0.0, 1e-6, 60.0, 1e6] {
                for before in ends {
                    let (factor, spread) = factor_and_spread(
                        &holds(&[(before, time), (celsius, time)], true),
                        RISE_C_PER_MIN,
                    );
                    assert!(
                        (0.19..1.01).contains(&factor),
                        "{before} {celsius} {time}: {factor}"
                    );
                    assert!((0.0299..0.0801).contains(&spread), "{spread}");
                }
            }
        }
        assert_eq!(mash_factor(&[]), 1.0);
    }

    /// Design: a cool last rest is held at 62 °C; earlier ones are as they are.
    #[test]
    fn a_cool_last_rest_has_the_factor_of_62_degrees() {
        let of = |steps: &[(f64, f64)]| factor_and_spread(&holds(steps, false), RISE_C_PER_MIN);
        assert_eq!(of(&[(58.0, 60.0)]).0, of(&[(62.0, 60.0)]).0);
        assert!((of(&[(58.0, 60.0)]).1 - 0.06).abs() < 1e-9);
        assert!(of(&[(58.0, 20.0), (75.0, 30.0)]).0 < of(&[(62.0, 20.0), (75.0, 30.0)]).0);
    }

    /// A hair more of a rise, such as 17 degrees that were written in Fahrenheit, is no piece more.
    #[test]
    fn a_rise_has_no_steps_in_it() {
        let of = |from_c| mash_factor(&holds(&[(from_c, 30.0), (68.0, 30.0)], true));
        let slope = (of(51.0 - 1e-3) - of(51.0)).abs() / 1e-3;
        assert!((of(51.0 - 1e-9) - of(51.0)).abs() < 2e-9 * slope.max(1e-3));
    }

    /// 2 °C a minute are half a minute in each of 22 steps of a degree, 1 °C a minute the usual pace.
    #[test]
    fn a_stronger_heater_passes_faster_through_the_heat_that_makes_sugar() {
        let ends = |heated| holds(&[(50.0, 15.0), (72.0, 30.0)], heated);
        for (rise, minutes) in [(2.0, 0.5), (1.0, 1.0), (0.25, 4.0)] {
            let mut steps = vec![(50.0, 15.0)];
            steps.extend((0..22).map(|step| (50.5 + f64::from(step), minutes)));
            steps.push((72.0, 30.0));
            let stepped = mash_factor(&holds(&steps, false));
            let (risen, _) = factor_and_spread(&ends(true), rise);
            assert!((risen - stepped).abs() < 1e-12, "{rise}: {risen} {stepped}");
        }
        let at = |rise| factor_and_spread(&ends(true), rise).0;
        assert!(at(4.0) + 0.02 < at(2.0) && at(2.0) + 0.02 < at(1.0));
        assert_eq!(at(1.0), mash_factor(&ends(true)));
    }
}
