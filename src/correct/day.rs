//! The planned brew, run again from what was measured.

use crate::catalogue::Catalogue;
use crate::diagnostic::{Error, ErrorKind};
use crate::numeric::{Bracket, root};
use crate::process::{
    Amounts, Assumption, Beer, Brewed, Dosing, Figures, Formula, History, Item, Lautered, Material,
    Nature, Notes, Plant, Stage, brew_run_off, ferment, read_swapped,
};
use crate::quantity::{Extract, Volume, Written, in_litres};
use crate::recipe::At;
use crate::scale::Plan;
use crate::science::attenuation::Composition;
use crate::science::density::solution_volume_l;

/// The plan, ready to be run again.
pub(super) struct Day {
    formula: Formula,
    plant: Plant,
    amounts: Amounts,
    nature: Nature,
    pub(super) planned: Brewed,
}

/// Something dissolved in or poured to a wort.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Stirred {
    pub(super) water_kg: f64,
    pub(super) extract_kg: f64,
    /// Share of that extract which ferments; absent for what ferments like the wort.
    pub(super) fermentability: Option<f64>,
}

impl Stirred {
    pub(super) fn water(kg: f64) -> Self {
        Self {
            water_kg: kg,
            ..Self::default()
        }
    }
}

impl Day {
    pub(super) fn of(plan: &Plan, catalogue: &Catalogue) -> Result<Self, Error> {
        let mut notes = Notes::default();
        let (formula, plant, source) = read_swapped(
            &plan.recipe,
            Some(&plan.brewhouse),
            catalogue,
            None,
            (printed_mash_factor(plan), &mut notes),
        )?;
        Ok(Self {
            formula,
            plant,
            amounts: source.amounts,
            nature: source.nature,
            planned: source.brewed,
        })
    }

    pub(super) fn boil_min(&self) -> f64 {
        self.formula.boil_min
    }

    /// The boiling time that the additions need.
    pub(super) fn least_boil_min(&self) -> f64 {
        let items = self.formula.items.iter();
        items
            .filter(|item| item.place.stage == Stage::Boil && item.timing.at.is_some())
            .map(|item| item.time_left_min(self.formula.boil_min))
            .fold(0.0, f64::max)
    }

    /// Extract fraction planned at the end of the boil.
    pub(super) fn planned_strength(&self) -> f64 {
        self.planned.boiled.strength()
    }

    /// What a measured wort before the boil gives.
    pub(super) fn given_run_off(&self, run: Lautered, boil_min: f64) -> Brewed {
        let formula = Formula {
            boil_min,
            ..self.formula.clone()
        };
        // A longer boil shifts the temperatures that the hops see.
        let mut plant = self.plant.clone();
        plant.history = History::of(&formula, &plant);
        let mut amounts = self.amounts.clone();
        brew_run_off(
            &formula,
            &mut amounts,
            run,
            &plant,
            self.nature,
            Dosing::Given,
        )
    }

    /// What a measured wort in the fermenter gives, with the bitterness and the colour of the plan in it.
    pub(super) fn given_wort(&self, wort: Composition, stirred: Stirred) -> Brewed {
        let planned = &self.planned.pitched;
        let extract_kg = crate::quantity::in_kilograms(wort.extract());
        let usual = planned.fermentable_kg / planned.extract_kg.max(f64::MIN_POSITIVE);
        let fermentability = stirred.fermentability.unwrap_or(usual);
        let pitched = Beer {
            water_kg: crate::quantity::in_kilograms(wort.water()) + stirred.water_kg,
            extract_kg: extract_kg + stirred.extract_kg,
            fermentable_kg: extract_kg * usual + stirred.extract_kg * fermentability,
            ..*planned
        };
        self.given_pitched(pitched, &self.formula, &self.amounts)
    }

    /// What is to come of the wort if an item's figures or amount are others.
    pub(super) fn with_item(&self, at: usize, material: Material, amount: f64) -> Brewed {
        let (mut formula, mut amounts) = (self.formula.clone(), self.amounts.clone());
        if let Some(item) = formula.items.get_mut(at) {
            item.material = material;
        }
        if let Some(place) = amounts.of.get_mut(at) {
            *place = amount;
        }
        self.given_pitched(self.planned.pitched, &formula, &amounts)
    }

    /// What is to come of the beer if the addition that item belongs to goes in at another gravity, `times` as much of it.
    pub(super) fn with_addition_at(&self, at: usize, apparent: Extract, times: f64) -> Brewed {
        let (mut formula, mut amounts) = (self.formula.clone(), self.amounts.clone());
        if let Some(moved) = self.formula.items.get(at) {
            for (item, amount) in formula.items.iter_mut().zip(&mut amounts.of) {
                if item.same_addition(moved) {
                    item.timing.at = Some(At::Gravity(Written::in_base_unit(apparent)));
                    *amount *= times;
                }
            }
        }
        self.given_pitched(self.planned.pitched, &formula, &amounts)
    }

    /// The recipe laid out, and its amounts.
    pub(super) const fn laid_out(&self) -> (&Formula, &Amounts) {
        (&self.formula, &self.amounts)
    }

    fn given_pitched(&self, pitched: Beer, formula: &Formula, amounts: &Amounts) -> Brewed {
        let mut of = amounts.of.clone();
        let cellar = ferment(formula, &mut of, &pitched, &self.plant, Dosing::Given);
        let mut brewed = self.planned.clone();
        let into_l = pitched.volume_l();
        // Figures speak of the wort at the end of the boil; what was mended afterwards stands in for it.
        brewed.boiled.extract_kg = pitched.extract_kg;
        brewed.boiled.water_kg = pitched.water_kg;
        brewed.boiled.volume_l = into_l;
        let thinned = self.planned.pitched.volume_l() / into_l.max(f64::MIN_POSITIVE);
        for ibu in &mut brewed.ibu {
            *ibu *= thinned;
        }
        brewed.other_ibu *= thinned;
        brewed.wort_colour_ebc = brewed.wort_colour_ebc.map(|colour| colour * thinned);
        brewed.into_fermenter_l = into_l;
        brewed.pitched = pitched;
        brewed.cellar = cellar;
        brewed
    }

    /// The juice or sugar of that name in the fermenter: its place, its item and its amount.
    pub(super) fn later_item(&self, name: &str) -> Result<(usize, &Item, f64), Error> {
        let items = self.formula.items.iter().zip(&self.amounts.of).enumerate();
        items
            .filter(|(_, (item, _))| item.place.stage >= Stage::Ferment)
            .find(|(_, (item, _))| {
                item.ingredient.name.eq_ignore_ascii_case(name)
                    && matches!(item.material, Material::Fermentable(_))
            })
            .map(|(at, (item, amount))| (at, item, *amount))
            .ok_or_else(|| {
                Error::new(
                    ErrorKind::UnknownName,
                    format!(
                        "expected a juice or sugar that goes into the fermenter, found `{name}`"
                    ),
                )
            })
    }
}

/// The mash factor of a recipe with something replaced, as the plan found it: it is fitted to the recipe as printed on the
/// plant that it was printed for, which is not the plant of the day.
fn printed_mash_factor(plan: &Plan) -> Option<f64> {
    plan.recipe.swaps.as_ref()?;
    let fitted = plan.assumptions.iter().find_map(|assumed| match assumed {
        Assumption::MashFermentability { factor, .. } => Some(*factor),
        _ => None,
    });
    // Without it nothing is mashed that the factor could speak of.
    Some(fitted.unwrap_or(1.0))
}

/// The figures that a brew comes to.
pub(super) fn figures(brewed: &Brewed) -> Figures {
    Figures::predicted(brewed)
}

/// A wort before the boil from its cold volume and extract.
pub(super) fn run_off(volume: Volume, extract: Extract) -> Result<Lautered, Error> {
    let wort = Composition::wort(volume, extract)?;
    Ok(Lautered {
        water_kg: crate::quantity::in_kilograms(wort.water()),
        extract_kg: crate::quantity::in_kilograms(wort.extract()),
        volume_l: in_litres(volume),
        ..Lautered::default()
    })
}

/// The run-off with something in it.
pub(super) fn stirred(run: &Lautered, with: Stirred) -> Lautered {
    let (water_kg, extract_kg) = (
        run.water_kg + with.water_kg,
        run.extract_kg + with.extract_kg,
    );
    Lautered {
        water_kg,
        extract_kg,
        volume_l: solution_volume_l(water_kg, extract_kg),
        ..*run
    }
}

/// Where `f` crosses zero from 0 to `most`, if it does.
pub(super) fn crossing(most: f64, f: impl FnMut(f64) -> f64) -> Option<f64> {
    let bracket = Bracket {
        low: 0.0,
        high: most,
    };
    root(f, bracket, 1e-12 * most.max(f64::MIN_POSITIVE)).ok()
}
