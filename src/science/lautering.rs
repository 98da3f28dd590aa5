//! What runs off from a mash and what the grain keeps: first wort and sparges, one after another.
//!
//! The solution in a mash is all its extract and all its water, malt moisture included, and mixed throughout. Every drain
//! stops when grain and tun hold the litres of it that they keep, and so leaves that share of the extract, and of the
//! water, behind. This is the run-off of every plan.
//!
//! Apparent absorption (water in less wort out) is *not* what is kept: the extract swells the solution, and
//! [`Bed::absorbing`] goes from one to the other.
//!
//! Source: derived from the mass balance; equal portions give the (1 + S/R)^-n law of cross-current washing
//! (GATE Chemical Engineering 2013, question 38).
//! Range: ideal mixing, no dead space. Real sparges lie a little below; say so with a [`Mixing`] below 1.

use crate::diagnostic::Error;
use crate::quantity::{Mass, Mixing, Volume, in_kilograms, in_litres, litres};
use crate::science::liquid::Liquid;
use crate::science::within::within;

/// More than any mash tun holds, kg or L.
const MOST: f64 = 1e7;

/// Grain with the solution that it holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bed {
    held: Liquid,
    /// What grain and tun keep after every drain, cold: what a brewer measures.
    kept_l: f64,
}

impl Bed {
    /// A mash before anything has run off, whose grain and tun keep so much of the solution after every drain.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a mash above 10⁷ kg or with ethanol in it, or retained wort below zero or above 10⁷ L.
    ///
    /// ```
    /// use wortwright::quantity::{Mass, Mixing, Volume, uom::si::{mass::kilogram, volume::liter}};
    /// use wortwright::science::lautering::Bed;
    /// use wortwright::science::liquid::Liquid;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// // Sucrose at 20 °C (ICUMSA): 25 kg of 20 % by mass fill 23.127 L, and 8 of them stay.
    /// let kg = Mass::new::<kilogram>;
    /// let mash = Liquid::new(kg(20.0), kg(5.0), kg(0.0))?;
    /// let mut bed = Bed::new(mash, Volume::new::<liter>(8.0))?;
    /// assert!((bed.drained().extract().get::<kilogram>() - 3.2704).abs() < 5e-5);
    /// // What stays is 8.648 kg. With 10 kg of water in it 18.648 kg of 9.275 % fill 18.013 L, of which 10.013 run off.
    /// let second = bed.sparged(kg(10.0), Mixing::from_fraction(1.0)?)?;
    /// assert!((second.extract().get::<kilogram>() - 0.9614).abs() < 5e-4);
    /// # Ok(())
    /// # }
    /// ```
    pub fn new(mash: Liquid, kept: Volume) -> Result<Self, Error> {
        within("a mash", mash.mass_kg(), 0.0..=MOST, "kg")?;
        within("ethanol in a mash", mash.ethanol_kg, 0.0..=0.0, "kg")?;
        let kept_l = within("retained wort", in_litres(kept), 0.0..=MOST, "L")?;
        Ok(Self::of(mash, kept_l))
    }

    /// The same by what the grain seems to absorb: mash water in less first wort out. It keeps between nothing (a wetter
    /// first wort than there is solution) and all of it (dry mash: nothing runs).
    ///
    /// # Errors
    ///
    /// As [`Bed::new`], and for a volume below zero or beyond 10⁷ L.
    ///
    /// ```
    /// use wortwright::quantity::{Mass, Volume, uom::si::{mass::kilogram, volume::liter}};
    /// use wortwright::science::{lautering::Bed, liquid::Liquid};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// // 18.973 kg of 21.08 °P are 17.474 L at 1085.8 kg/m³, so that 7.474 L stay where 5 L seem to be absorbed.
    /// let (kg, l) = (Mass::new::<kilogram>, Volume::new::<liter>);
    /// let mut bed = Bed::absorbing(Liquid::new(kg(14.973), kg(4.0), kg(0.0))?, l(15.0), l(5.0))?;
    /// bed.drained();
    /// assert!((bed.held().volume().get::<liter>() - 7.474).abs() < 0.001);
    /// # Ok(())
    /// # }
    /// ```
    pub fn absorbing(mash: Liquid, mash_water: Volume, absorbed: Volume) -> Result<Self, Error> {
        let water_l = within("mash water", in_litres(mash_water), 0.0..=MOST, "L")?;
        let absorbed_l = within("absorbed water", in_litres(absorbed), 0.0..=MOST, "L")?;
        let kept_l = retained_wort_l(mash.volume_l(), water_l, absorbed_l);
        Self::new(mash, litres(kept_l))
    }

    pub(crate) const fn of(held: Liquid, kept_l: f64) -> Self {
        Self { held, kept_l }
    }

    /// What the grain holds.
    #[must_use]
    pub const fn held(&self) -> Liquid {
        self.held
    }

    /// Drains it: the first wort of a fresh mash. Nothing runs off where there is no more than it keeps.
    #[inline]
    pub fn drained(&mut self) -> Liquid {
        self.drained_of(self.held.wort_volume_l())
    }

    /// The same where the volume of what it holds is known.
    #[inline]
    pub(crate) fn drained_of(&mut self, held_l: f64) -> Liquid {
        let left = if held_l > self.kept_l {
            self.kept_l / held_l
        } else {
            1.0
        };
        let run_off = self.held.part(1.0 - left);
        self.held = self.held.part(left);
        run_off
    }

    /// Stirs water in and drains. `mixing` is the share of it that mixes with the wort in the grain; the rest runs through
    /// and takes nothing. In grain that holds less than it keeps, what mixes fills it first.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a mass of water below zero or above 10⁷ kg.
    pub fn sparged(&mut self, water: Mass, mixing: Mixing) -> Result<Liquid, Error> {
        let water_kg = within("a sparge", in_kilograms(water), 0.0..=MOST, "kg")?;
        Ok(self.sparged_kg(water_kg, mixing.fraction()))
    }

    #[inline]
    pub(crate) fn sparged_kg(&mut self, water_kg: f64, mixing: f64) -> Liquid {
        self.held = self.held.with_water_kg(mixing * water_kg);
        self.drained().with_water_kg((1.0 - mixing) * water_kg)
    }

    /// Runs off so many litres with so much of the extract in them, or as near to those litres as there is water: all
    /// run-offs of a plant of known yield as one.
    pub(crate) fn run_off(&mut self, extract_kg: f64, volume_l: f64) -> Liquid {
        let extract = Liquid::solution(0.0, extract_kg);
        let water_kg = extract
            .water_to_fill_kg(volume_l)
            .max(0.0)
            .min(self.held.water_kg.max(0.0));
        self.held.extract_kg -= extract_kg;
        self.held.water_kg -= water_kg;
        extract.with_water_kg(water_kg)
    }
}

/// Wort that the grain keeps, L: the whole solution less the first wort, which is the mash water less what seems to be
/// absorbed.
pub(crate) fn retained_wort_l(solution_l: f64, mash_water_l: f64, absorbed_l: f64) -> f64 {
    let first_wort_l = mash_water_l - absorbed_l;
    solution_l - first_wort_l.clamp(0.0, solution_l.max(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::kilograms;

    fn mash(extract_kg: f64, water_kg: f64, kept_l: f64) -> Bed {
        let solution = Liquid::solution(water_kg, extract_kg);
        Bed::new(solution, litres(kept_l)).unwrap()
    }

    #[track_caller]
    fn near(a: f64, b: f64) {
        assert!((a - b).abs() < 1e-12, "{a} is not {b}");
    }

    #[test]
    fn a_drain_stops_at_the_volume_that_is_kept() {
        // Sucrose at 20 °C (ICUMSA): 25 kg of 20 % by mass fill 23.127 L, since their density is 1080.97 kg/m³. 8 L stay.
        let mut bed = mash(5.0, 20.0, 8.0);
        let first = bed.drained();
        assert!((first.extract_kg - 5.0 * (1.0 - 8.0 / 23.127)).abs() < 5e-5);
        near(bed.held().volume_l(), 8.0);
        // The second run-off is as strong as what then stays, and 8 L stay again.
        let second = bed.sparged_kg(10.0, 1.0);
        near(second.strength(), bed.held().strength());
        near(bed.held().volume_l(), 8.0);
    }

    #[test]
    fn nothing_is_lost_on_the_way() {
        for (kept_l, mixing) in [(5.0, 1.0), (5.0, 0.6), (0.0, 1.0), (30.0, 0.3)] {
            let mut bed = mash(4.0, 19.0, kept_l);
            let mut all = bed.drained();
            for portion in [3.0, 7.0] {
                all = all.blended(bed.sparged_kg(portion, mixing));
            }
            near(all.extract_kg + bed.held().extract_kg, 4.0);
            near(all.water_kg + bed.held().water_kg, 29.0);
        }
    }

    #[test]
    fn a_sparge_that_mixes_in_part_washes_like_a_smaller_one() {
        let (mut part, mut whole) = (mash(4.0, 15.0, 5.0), mash(4.0, 15.0, 5.0));
        assert_eq!(part.drained(), whole.drained());
        let (second, smaller) = (part.sparged_kg(10.0, 0.6), whole.sparged_kg(6.0, 1.0));
        near(part.held().extract_kg, whole.held().extract_kg);
        near(second.extract_kg, smaller.extract_kg);
        near(second.water_kg, smaller.water_kg + 4.0);
        assert_eq!(part.sparged_kg(10.0, 0.0).strength(), 0.0);
    }

    #[test]
    fn a_dry_mash_gives_no_first_wort_and_fills_first() {
        // Water alone: of the 5 litres that it keeps it holds 4, so that one of six fills it and five run off.
        let kg_per_l = 0.998_203;
        let mut bed = mash(0.0, 4.0 * kg_per_l, 5.0);
        assert_eq!(bed.drained(), Liquid::default());
        let run_off = bed.sparged_kg(6.0 * kg_per_l, 1.0);
        assert!((run_off.water_kg / kg_per_l - 5.0).abs() < 1e-5);
        let mut empty = mash(0.0, 0.0, 0.0);
        assert_eq!(empty.drained(), Liquid::default());
    }

    #[test]
    fn a_known_yield_runs_off_its_extract() {
        // 23.127 L of 20 % by mass hold 5 kg of extract and 20 of water; 2.6 and 10 kg stay.
        let mut bed = mash(7.6, 30.0, 0.0);
        let wort = bed.run_off(5.0, 25.0 / 1.080_97);
        near(wort.extract_kg, 5.0);
        assert!((wort.water_kg - 20.0).abs() < 5e-4, "{}", wort.water_kg);
        near(bed.held().extract_kg, 2.6);
        near(bed.held().water_kg + wort.water_kg, 30.0);
        // No more water runs off than there is, and none where the extract alone fills more.
        near(mash(7.6, 30.0, 0.0).run_off(5.0, 100.0).water_kg, 30.0);
        near(mash(7.6, 30.0, 0.0).run_off(5.0, 1.0).water_kg, 0.0);
    }

    #[test]
    fn retained_wort_stays_between_nothing_and_everything() {
        near(retained_wort_l(17.5, 15.0, 4.0), 6.5);
        assert_eq!(retained_wort_l(17.5, 3.0, 5.0), 17.5);
        assert_eq!(retained_wort_l(14.0, 15.0, 0.0), 0.0);
    }

    #[test]
    fn absurd_masses_are_refused() {
        let mash = Liquid::solution(2.0, 1.0);
        assert!(Bed::new(Liquid::solution(1e8, 1.0), litres(1.0)).is_err());
        assert!(Bed::new(mash, litres(-1.0)).is_err());
        assert!(Bed::absorbing(mash, litres(f64::NAN), litres(1.0)).is_err());
        let mixing = Mixing::from_fraction(1.0).unwrap();
        let mut bed = Bed::new(mash, litres(1.0)).unwrap();
        assert!(bed.sparged(kilograms(f64::NAN), mixing).is_err());
    }
}
