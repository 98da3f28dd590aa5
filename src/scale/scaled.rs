//! The plan as a recipe with absolute amounts, so that it can be written down, read again and scaled further.

use crate::process::{Figures, Material, PITCH, Rule, Slot, Stage, TOP_UP, Worked};
use crate::quantity::{
    Extract, LiquorRatio, Mass, PackCount, Quantity, Unit, UnitSystem, Volume, Written, kilograms,
    litres,
};
use crate::recipe::{
    Addition, Amount, Batch, Brewhouse, Content, HotStep, Recipe, ShareBasis, Stand, Targets,
};

/// A beer as it is to be brewed, to be written down.
pub(super) struct AsBrewed<'a> {
    pub(super) worked: &'a Worked,
    pub(super) predicted: &'a Figures,
    /// Whether it is as strong as the sheet wants it.
    pub(super) is_reached: bool,
    pub(super) brewhouse: &'a Brewhouse,
    pub(super) batch: &'a Batch,
    pub(super) digits: Digits,
}

/// The recipe with the mash and sparge water of the plant that it is brewed on: a mash in that is not used there is left out.
pub(super) fn mashed_here(mut recipe: Recipe, target: &Worked, digits: Digits) -> Recipe {
    let plant = &target.setup.plant;
    if plant.mashes_by_ratio().is_err() {
        recipe.mash.liquor = None;
    } else if let Some(liquor) = &mut recipe.mash.liquor {
        *liquor = digits.write(LiquorRatio::clamped(plant.liquor_l_per_kg), liquor.unit());
    }
    let sparge_l = target.amounts.liquor.sparge_l;
    if let Some(sparge) = &mut recipe.mash.sparge
        && let Some(printed) = &sparge.volume
    {
        let here = || digits.write(litres(sparge_l), printed.unit());
        sparge.volume = (sparge_l > 0.0).then(here);
        if sparge.volume.is_none() && sparge.temperature.is_none() {
            recipe.mash.sparge = None;
        }
    }
    recipe
}

impl AsBrewed<'_> {
    /// `recipe` with the amounts that were found, brewed on this plant, and the figures that they give.
    pub(super) fn recipe(&self, mut recipe: Recipe) -> Recipe {
        let system = self.brewhouse.unit_system();
        recipe.brewed_on = Some(self.brewhouse.name.clone());
        recipe.batch = Some(self.batch.clone());
        recipe.share_basis = ShareBasis::Weight;
        self.state_figures(&mut recipe.targets);
        let items = &self.worked.setup.formula.items;
        for (item, amount) in items.with(&self.worked.amounts.of) {
            let amount = if item.is_by_packs() {
                Amount::PackCount(PackCount::clamped(*amount))
            } else if item.is_by_volume() {
                Amount::Volume(volume(*amount, system, self.digits))
            } else {
                Amount::Mass(mass(*amount, system, self.digits))
            };
            let Some(addition) = addition_at(&mut recipe, item.place) else {
                continue;
            };
            match (&mut addition.content, item.place.part) {
                (Content::Blend(parts), Some(part)) => {
                    // The parts carry their own amounts; the blend as a whole no longer does.
                    addition.amount = None;
                    if let Some(part) = parts.get_mut(part) {
                        part.amount = Some(amount);
                    }
                }
                // A yeast is pitched by cells; its line keeps what it says.
                _ if item.place.index == PITCH => {}
                // One without an amount goes in as its maker says.
                _ if matches!(item.material, Material::Yeast(_)) && item.rule == Rule::Open => {}
                _ => addition.amount = Some(amount),
            }
        }
        recipe.hot_side = self.hot_side(recipe.hot_side);
        recipe
    }

    /// The figures of this beer in place of those of the sheet. How far its mash ferments is known by a final extract, which
    /// therefore always stands there: that of the wort where the sheet has none of the beer and more goes into it later, so that
    /// whoever changes the later additions changes the beer. A printed colour is no aim of a plan and stays, unless it speaks of
    /// a stronger beer.
    fn state_figures(&self, targets: &mut Targets) {
        let (digits, predicted) = (self.digits, self.predicted);
        let plato = |extract: Extract| digits.extract(extract);
        targets.original = predicted.original.map(plato);
        let more_goes_in = self.worked.brewed.cellar.first_met.is_some();
        if targets.wort_final.is_some() || (more_goes_in && targets.final_extract.is_none()) {
            targets.wort_final = predicted.wort_final.map(plato);
            replace(
                &mut targets.final_extract,
                predicted.final_extract.map(plato),
            );
        } else {
            targets.final_extract = predicted.final_extract.map(plato);
        }
        let percent = |alcohol| digits.write(alcohol, Unit::Percent);
        replace(&mut targets.alcohol, predicted.alcohol.map(percent));
        let wort = self.worked.brewed.cellar.without_additions;
        let wort_alcohol = percent(wort.alcohol_by_volume());
        replace(&mut targets.wort_alcohol, Some(wort_alcohol));
        let ibu = |bitterness| digits.write(bitterness, Unit::Ibu);
        replace(&mut targets.bitterness, predicted.bitterness.map(ibu));
        let wort_ibu = predicted.wort_bitterness.map(ibu);
        replace(&mut targets.wort_bitterness, wort_ibu);
        if !self.is_reached {
            let ebc = |colour| digits.write(colour, Unit::Ebc);
            let beer = predicted.colour_with_juice.or(predicted.colour);
            replace(&mut targets.colour, beer.map(ebc));
            replace(&mut targets.wort_colour, predicted.wort_colour.map(ebc));
        }
    }

    /// The steps after the boil that are done here, a stand that the plant always has in its own time.
    fn hot_side(&self, steps: Vec<HotStep>) -> Vec<HotStep> {
        let mut done = Vec::new();
        let mut own = self.brewhouse.stand;
        for step in steps {
            match step {
                HotStep::Stand(stand) if stand.additions.is_empty() => {
                    let own = own.take();
                    done.extend(own.map(|time| HotStep::Stand(Stand { time, ..stand })));
                }
                step => done.push(step),
            }
        }
        done
    }
}

/// A figure in place of one that was stated.
fn replace<Q>(stated: &mut Option<Written<Q>>, figure: Option<Written<Q>>) {
    if stated.is_some() {
        *stated = figure;
    }
}

fn addition_at(recipe: &mut Recipe, place: Slot) -> Option<&mut Addition> {
    match place.stage {
        Stage::Mash => recipe.mash.additions.get_mut(place.index),
        Stage::Sour => recipe.souring.as_mut()?.culture.as_mut(),
        Stage::Boil => recipe.boil.additions.get_mut(place.index),
        Stage::Stand => match recipe.hot_side.get_mut(place.stand) {
            Some(HotStep::Stand(stand)) => stand.additions.get_mut(place.index),
            _ => None,
        },
        Stage::Ferment if place.index == PITCH => recipe.fermentation.pitch.as_mut(),
        Stage::Ferment if place.index == TOP_UP => recipe.fermentation.top_up.as_mut(),
        Stage::Ferment => recipe.fermentation.additions.get_mut(place.index),
        Stage::Package => recipe.package.additions.get_mut(place.index),
    }
}

/// How many digits a computed amount is written with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Digits {
    /// All of them.
    All,
    /// As somebody might measure it: four.
    Four,
}

impl Digits {
    /// A gravity in Plato, but that of a dry beer below zero, which only a specific gravity says.
    fn extract(self, extract: Extract) -> Written<Extract> {
        if extract.plato() >= 0.0 {
            return self.write(extract, Unit::Plato);
        }
        let exact = Written::computed(extract, Unit::SpecificGravity);
        let fine = (exact.number() * 1e5).round() / 1e5;
        match self {
            Self::All => exact,
            Self::Four => Written::new(fine, Unit::SpecificGravity).unwrap_or(exact),
        }
    }

    /// The value written in `unit`; with four digits it is the rounded value that counts.
    fn write<Q: Quantity>(self, value: Q, unit: Unit) -> Written<Q> {
        let exact = Written::computed(value, unit);
        match self {
            Self::All => exact,
            Self::Four => format!("{:.3e}", exact.number())
                .parse()
                .ok()
                .and_then(|short| Written::new(short, unit).ok())
                .unwrap_or(exact),
        }
    }
}

/// A mass in the unit that a brewer of this practice would write.
pub(super) fn mass(kg: f64, system: UnitSystem, digits: Digits) -> Written<Mass> {
    let unit = match system {
        UnitSystem::Metric if kg >= 1.0 => Unit::Kilogram,
        UnitSystem::Metric => Unit::Gram,
        UnitSystem::Us | UnitSystem::Imperial if kg >= 0.45 => Unit::Pound,
        UnitSystem::Us | UnitSystem::Imperial => Unit::Ounce,
    };
    let number = unit.from_base(kg);
    // What was weighed out has few digits anyway: only the error of the division is dropped.
    let weighed = (number * 1e5).round() / 1e5;
    if (weighed - number).abs() <= 1e-9 * number {
        return Written::computed(kilograms(unit.to_base(weighed)), unit);
    }
    digits.write(kilograms(kg), unit)
}

/// A volume in the unit that a brewer of this practice would write.
fn volume(l: f64, system: UnitSystem, digits: Digits) -> Written<Volume> {
    let unit = match system {
        UnitSystem::Metric if l >= 1.0 => Unit::Litre,
        UnitSystem::Metric => Unit::Millilitre,
        UnitSystem::Us if l >= 2.0 => Unit::Gallon,
        UnitSystem::Us => Unit::FluidOunce,
        UnitSystem::Imperial if l >= 2.0 => Unit::ImperialGallon,
        UnitSystem::Imperial => Unit::ImperialFluidOunce,
    };
    digits.write(litres(l), unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Gallons of 3.785411784 and 4.54609 L, of 128 and 160 fluid ounces; pounds of 453.59237 g, of 16 ounces.
    #[test]
    fn amounts_stand_in_the_units_of_the_practice() {
        let volumes = [
            (UnitSystem::Metric, 1.5, Unit::Litre, 1.5),
            (UnitSystem::Metric, 0.25, Unit::Millilitre, 250.0),
            (UnitSystem::Us, 3.785_411_784, Unit::Gallon, 1.0),
            (UnitSystem::Us, 1.892_705_892, Unit::FluidOunce, 64.0),
            (UnitSystem::Imperial, 9.092_18, Unit::ImperialGallon, 2.0),
            (
                UnitSystem::Imperial,
                1.136_522_5,
                Unit::ImperialFluidOunce,
                40.0,
            ),
        ];
        for (system, l, unit, number) in volumes {
            let written = volume(l, system, Digits::Four);
            assert_eq!(written.unit(), unit, "{l} L");
            assert!(
                (written.number() - number).abs() < 1e-9 * number,
                "{written}"
            );
        }
        let masses = [
            (UnitSystem::Metric, 1.5, Unit::Kilogram, 1.5),
            (UnitSystem::Metric, 0.25, Unit::Gram, 250.0),
            (UnitSystem::Us, 0.907_184_74, Unit::Pound, 2.0),
            (UnitSystem::Us, 0.226_796_185, Unit::Ounce, 8.0),
            (UnitSystem::Imperial, 0.907_184_74, Unit::Pound, 2.0),
            (UnitSystem::Imperial, 0.226_796_185, Unit::Ounce, 8.0),
        ];
        for (system, kg, unit, number) in masses {
            let written = mass(kg, system, Digits::Four);
            assert_eq!(written.unit(), unit, "{kg} kg");
            assert!(
                (written.number() - number).abs() < 1e-9 * number,
                "{written}"
            );
        }
    }

    /// A third of a litre is measured as 333.3 mL; for a machine it is a third.
    #[test]
    fn four_digits_are_what_somebody_measures() {
        let third = |digits| volume(1.0 / 3.0, UnitSystem::Metric, digits);
        assert_eq!(third(Digits::Four).number(), 333.3);
        assert!((third(Digits::All).number() - 1000.0 / 3.0).abs() < 1e-9);
        let rounded_l = crate::quantity::in_litres(third(Digits::Four).value());
        assert!((rounded_l - 0.3333).abs() < 1e-12, "{rounded_l}");
    }
}
