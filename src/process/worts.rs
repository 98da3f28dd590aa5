//! The wort along the day and the beer at its end, without hops and colours: what the readings of a log are held against.

use super::brew::{Amounts, Racking, grist, into_kettle, top_up};
use super::fermentability::{MashFactor, lactic_acid_kg, wort_fermentable_kg};
use super::fermentation::InFermenter;
use super::kept::KeptInKettle;
use super::plant::Plant;
use super::setup::Setup;
use super::wort::{Liquor, boil, lauter};
use super::{Fermenting, Stage, fermentables};
use crate::science::liquid::Liquid;
use crate::science::souring::as_read;

/// A plant whose figures may differ from those that a brew was planned with, and how far its mash ferments.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Bent {
    pub(crate) plant: Plant,
    pub(crate) mash_factor: MashFactor,
}

/// What can be measured along the day.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Worts {
    /// The wort that runs off before any sparge water.
    pub(crate) first: Liquid,
    pub(crate) before_boil: Liquid,
    pub(crate) after_boil: Liquid,
    /// What stays in the kettle beyond the plant's own loss, L.
    pub(crate) kept_l: f64,
    pub(crate) into_fermenter_l: f64,
    /// The beer as it has fermented, with what the recipe adds to it in the fermenter.
    pub(crate) finished: Liquid,
    /// The same without later additions.
    pub(crate) without_additions: Liquid,
}

impl Setup {
    /// The worts that `amounts` give on another plant than that of the setup.
    pub(crate) fn worts(&self, amounts: &Amounts, bent: &Bent) -> Worts {
        let (formula, plant, of) = (&self.formula, &bent.plant, &amounts.of);
        let grist = grist(formula, of);
        let run = lauter(grist, amounts.liquor, plant);
        let unsparged = Liquor {
            sparge_l: 0.0,
            ..amounts.liquor
        };
        let boiled = boil(&run, &into_kettle(formula, of), formula.boil_min, plant);
        let kept = KeptInKettle::of(formula, of, (grist, &run), plant, boiled.volume_l);
        let into_fermenter_l = plant.fermenter_l_of(boiled.volume_l, kept.all_l());
        let acid_kg = lactic_acid_kg(formula, of, (grist, &run));
        let after_boil = as_read(boiled.wort, acid_kg);
        let wort = Fermenting {
            liquid: after_boil,
            fermentable_kg: wort_fermentable_kg(formula, of, (grist, &run), bent.mash_factor),
        };
        let racking = Racking {
            boiled_l: boiled.volume_l,
            into_fermenter_l,
            top_up: top_up(formula, of),
        };
        let fermentation = InFermenter {
            formula,
            plant,
            fit: bent.mash_factor.fit,
        };
        let cellar = fermentation.run(of, &racking.of(wort).0);
        Worts {
            first: lauter(grist, unsparged, plant).wort,
            before_boil: as_read(run.wort, acid_kg),
            after_boil,
            kept_l: kept.all_l(),
            into_fermenter_l,
            finished: cellar.finished,
            without_additions: cellar.without_additions,
        }
    }

    /// The most extract that a wort of `amounts` can hold, kg.
    pub(crate) fn most_extract_kg(&self, amounts: &Amounts) -> f64 {
        fermentables(&self.formula, &amounts.of)
            .filter(|(item, ..)| item.place.stage < Stage::Ferment)
            .map(|(_, part, kg)| kg * part.extract)
            .sum()
    }
}
