//! The planned brew, run again from what was measured.

use crate::diagnostic::{Error, ErrorKind};
use crate::numeric::{Bracket, root};
use crate::process::{
    Brewed, DRIED_MALT_EXTRACT, Fermenting, Figures, Formula, InFermenter, Item, ItemIndex,
    Lautered, Material, PerItem, Spread, Stage, Worked,
};
use crate::quantity::Extract;
use crate::scale::Plan;
use crate::science::liquid::Liquid;
use crate::science::souring::as_read;

/// The planned brew, to be run again with something else in it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Day<'a> {
    /// As it was planned.
    pub(super) worked: &'a Worked,
    /// How far that may be off; none where it is switched off.
    pub(super) spread: Option<&'a Spread>,
}

/// Where a wort was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Measured {
    BeforeBoil,
    AfterBoil,
    InFermenter,
}

/// Something dissolved in or poured to a wort.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Poured {
    pub(super) liquid: Liquid,
    /// Share of that extract which ferments; absent for what ferments like the wort.
    pub(super) fermentability: Option<f64>,
}

impl Poured {
    pub(super) fn water(kg: f64) -> Self {
        Self {
            liquid: Liquid::solution(kg, 0.0),
            fermentability: None,
        }
    }

    /// Dried malt extract.
    pub(super) fn dried_extract(kg: f64) -> Self {
        Self {
            liquid: Liquid::solution(kg * (1.0 - DRIED_MALT_EXTRACT), kg * DRIED_MALT_EXTRACT),
            fermentability: None,
        }
    }

    /// A share of it.
    pub(super) fn part(self, share: f64) -> Self {
        Self {
            liquid: self.liquid.part(share),
            ..self
        }
    }
}

impl<'a> Day<'a> {
    pub(super) fn of(plan: &'a Plan) -> Self {
        Self {
            worked: &plan.brews().target,
            spread: plan.spread.as_ref(),
        }
    }

    pub(super) fn planned(self) -> &'a Brewed {
        &self.worked.brewed
    }

    pub(super) fn formula(self) -> &'a Formula {
        &self.worked.setup.formula
    }

    pub(super) fn boil_min(self) -> f64 {
        self.formula().boil_min
    }

    /// The boiling time that the additions need.
    pub(super) fn least_boil_min(self) -> f64 {
        let items = self.formula().items.values();
        items
            .filter(|item| item.place.stage == Stage::Boil && item.timing.at.is_some())
            .map(|item| item.time_left_min(self.boil_min()))
            .fold(0.0, f64::max)
    }

    /// Extract fraction planned at the end of the boil, as mashed.
    pub(super) fn planned_strength(self) -> f64 {
        self.planned().boiled.wort.strength()
    }

    /// The wort before the boil as it is planned to be read: where bacteria soured it, that is less than was mashed.
    pub(super) fn run_off_as_read(self) -> Liquid {
        let planned = self.planned();
        as_read(planned.run.wort, planned.lactic_acid_kg)
    }

    /// What a wort read before the boil was as mashed: lighter by as much of its extract as is planned.
    pub(super) fn run_off_as_mashed(self, read: Liquid) -> Liquid {
        restored(read, self.run_off_as_read(), self.planned().run.wort)
    }

    /// The same of one read in the fermenter.
    fn pitched_as_mashed(self, read: Liquid) -> Liquid {
        let planned = self.planned();
        restored(read, planned.pitched.liquid, planned.pitched_as_mashed)
    }

    /// What a measured wort before the boil gives.
    pub(super) fn given_run_off(self, run: Lautered, boil_min: f64) -> Brewed {
        let mut setup = self.worked.setup.clone();
        setup.formula.boil_min = boil_min;
        setup.brew_run_off(&self.worked.amounts, run)
    }

    /// What a measured wort at the end of the boil gives: of it and what is stirred in the planned share reaches the fermenter.
    pub(super) fn given_boiled(self, wort: Liquid, poured: Poured) -> Brewed {
        let (planned, top_up) = (self.planned(), self.planned().top_up);
        let extract_kg = planned.pitched_as_mashed.extract_kg - top_up.extract_kg;
        let share = extract_kg / planned.boiled.wort.extract_kg.max(f64::MIN_POSITIVE);
        self.given_wort(wort.part(share).blended(top_up), poured.part(share))
    }

    /// The wort where it is measured, as it is planned to be read.
    pub(super) fn planned_wort(self, at: Measured) -> Liquid {
        let planned = self.planned();
        match at {
            Measured::BeforeBoil => self.run_off_as_read(),
            // Without water that joins it in the fermenter.
            Measured::AfterBoil => {
                let read = as_read(planned.boiled.wort, planned.lactic_acid_kg);
                read.with_water_kg(-planned.top_up.water_kg)
            }
            Measured::InFermenter => planned.pitched.liquid,
        }
    }

    /// What a measured wort in the fermenter gives, with the bitterness and the colour of the plan in it.
    pub(super) fn given_wort(self, wort: Liquid, poured: Poured) -> Brewed {
        let planned = &self.planned().pitched;
        let usual = planned.fermentable_kg / planned.liquid.extract_kg.max(f64::MIN_POSITIVE);
        let fermentability = poured.fermentability.unwrap_or(usual);
        let pitched = Fermenting {
            liquid: wort.blended(poured.liquid),
            fermentable_kg: wort.extract_kg * usual + poured.liquid.extract_kg * fermentability,
        };
        self.given_pitched(pitched, self.formula(), &self.worked.amounts.of)
    }

    /// What is to come of the wort if an item's figures or amount are others.
    pub(super) fn with_item(self, at: ItemIndex, material: Material, amount: f64) -> Brewed {
        let (mut formula, mut of) = (self.formula().clone(), self.worked.amounts.of.clone());
        if let Some(item) = formula.items.get_mut(at) {
            item.material = material;
        }
        of.set(at, amount);
        self.given_pitched(self.planned().pitched, &formula, &of)
    }

    /// What is to come of the beer if the addition that item belongs to goes in at another gravity, `times` as much of it.
    pub(super) fn with_addition_at(self, moved: &Item, apparent: Extract, times: f64) -> Brewed {
        let formula = self.formula().with_addition_at(moved, apparent);
        let of = formula.items.map(|index, item| {
            let times = if item.same_addition(moved) {
                times
            } else {
                1.0
            };
            self.worked.amounts.of.at(index) * times
        });
        self.given_pitched(self.planned().pitched, &formula, &of)
    }

    fn given_pitched(
        self,
        pitched: Fermenting,
        formula: &Formula,
        amounts: &PerItem<f64>,
    ) -> Brewed {
        let planned = self.planned();
        let into_l = pitched.liquid.volume_l();
        let thinned = planned.pitched.liquid.volume_l() / into_l.max(f64::MIN_POSITIVE);
        let mut brewed = planned.clone();
        let fermentation = InFermenter {
            formula,
            ..self.worked.setup.fermentation()
        };
        brewed.cellar = fermentation.run(amounts, &pitched);
        // Figures speak of the wort at the end of the boil; what was mended afterwards stands in for it.
        brewed.pitched_as_mashed = self.pitched_as_mashed(pitched.liquid);
        brewed.boiled.wort = brewed.pitched_as_mashed;
        brewed.boiled.volume_l = into_l;
        for ibu in brewed.ibu.values_mut() {
            *ibu *= thinned;
        }
        brewed.other_ibu *= thinned;
        brewed.wort_colour_ebc = brewed.wort_colour_ebc.map(|colour| colour * thinned);
        brewed.into_fermenter_l = into_l;
        (brewed.top_up, brewed.carried) = (Liquid::default(), 1.0);
        brewed.pitched = pitched;
        brewed
    }

    /// The juice or sugar of that name in the fermenter.
    pub(super) fn later_item(self, name: &str) -> Result<(ItemIndex, &'a Item), Error> {
        self.formula()
            .items
            .iter()
            .filter(|(_, item)| item.place.stage >= Stage::Ferment)
            .find(|(_, item)| {
                item.ingredient.name.eq_ignore_ascii_case(name)
                    && matches!(item.material, Material::Fermentable(_))
            })
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

/// A wort with as much more extract, of its water, as a wort that was planned to be read like it has.
fn restored(read: Liquid, planned_read: Liquid, planned: Liquid) -> Liquid {
    let unseen_kg = planned.extract_kg - planned_read.extract_kg;
    let more_kg = unseen_kg * read.extract_kg / planned_read.extract_kg.max(f64::MIN_POSITIVE);
    Liquid {
        water_kg: read.water_kg - more_kg,
        extract_kg: read.extract_kg + more_kg,
        ..read
    }
}

/// The figures that a brew comes to.
pub(super) fn figures(brewed: &Brewed) -> Figures {
    Figures::predicted(brewed)
}

/// A measured wort before the boil.
pub(super) fn run_off(wort: Liquid) -> Lautered {
    Lautered {
        wort,
        volume_l: wort.volume_l(),
        ..Lautered::default()
    }
}

/// The run-off with something in it.
pub(super) fn with_poured(run: &Lautered, poured: Poured) -> Lautered {
    let wort = run.wort.blended(poured.liquid);
    Lautered {
        wort,
        volume_l: wort.volume_l(),
        dissolved_kg: run.dissolved_kg + poured.liquid.extract_kg,
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
