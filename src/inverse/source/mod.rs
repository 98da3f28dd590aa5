//! Reading the source: from printed shares, doses and targets, or from printed masses, to absolute amounts.
//!
//! What a sheet prints of the wort and the beer is what its amounts must give on its own plant.

mod check;
mod fermentables;
mod fit;
mod hops;
mod lay_down;
mod notes;
mod stated;
mod unknown;

pub(crate) use check::{check_yield, wort_for_packaged};
pub(crate) use notes::Notes;
pub(crate) use unknown::{TRACE_G_L, juice_of, what_to_write};

use crate::catalogue::Catalogue;
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::process::{
    Assumption, BatchSize, Brewed, CoolingHistory, Formula, KettleSugar, Known, PerItem, Plant,
    PlantSize, PrintedWater, Side, Worked, note_defaults, steep_without_mash,
};
use crate::quantity::in_litres;
use crate::recipe::{BatchPoint, BitternessModel, Brewhouse, Recipe};
use crate::speech::Noted;
use check::never_packaged;
pub(crate) use check::{STRONGEST_WORT_PLATO, refuse_impossible};
use fermentables::drinks_per_l;
use notes::compare_with_print;
use stated::{Reading, Stated};
use unknown::refuse_unknown;

/// The source as the model reads it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct SourceBrew {
    pub(crate) worked: Worked,
    /// Extract of the wort, a fraction by mass.
    pub(crate) strength: f64,
    /// Share of each kettle sugar in the extract of the wort at the end of the boil; nothing for the other items.
    pub(crate) extract_share: PerItem<f64>,
    /// Bitterness aimed at in the finished beer, IBU.
    pub(crate) aim_ibu: f64,
}

impl SourceBrew {
    /// The drinks that go into the kettle, for each litre of wort at the end of the boil.
    pub(crate) fn drinks_per_l(&self) -> Vec<KettleSugar> {
        let Worked {
            setup,
            amounts,
            brewed,
        } = &self.worked;
        drinks_per_l(&setup.formula, &amounts.of, brewed.boiled.volume_l)
    }
}

/// A recipe with what it is read by: the plant it was brewed on, or none for one with stated defaults.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Printed<'a> {
    pub(crate) recipe: &'a Recipe,
    pub(crate) brewhouse: Option<&'a Brewhouse>,
    pub(crate) catalogue: &'a Catalogue,
    /// How bitterness is predicted, whatever the plant says.
    pub(crate) model: Option<BitternessModel>,
    /// Whether the host names the plant, so that nothing is assumed of where it was brewed.
    pub(crate) is_chosen: bool,
    /// Whether the spread of a prediction is wanted.
    pub(crate) spread: bool,
}

/// A recipe laid out: the part of its reading that no plant has a say in.
#[derive(Debug, Clone)]
pub(crate) struct LaidOut {
    formula: Formula,
    assumed: Vec<Noted<Assumption>>,
}

impl LaidOut {
    pub(crate) fn of(recipe: &Recipe, catalogue: &Catalogue) -> Result<Self, Error> {
        let mut assumed = Vec::new();
        let formula = Formula::of(recipe, catalogue, &mut assumed)?;
        Ok(Self { formula, assumed })
    }
}

impl<'a> Printed<'a> {
    /// How well what the source rests on is known: a yield that no line states and a printed gravity goes with was inferred from it.
    pub(crate) fn known(self, worked: &Worked) -> Known<'a> {
        Known {
            brewhouse: self.brewhouse,
            is_yield_inferred: self.recipe.targets.original.is_some(),
            is_fitted: worked.setup.mash_factor.is_fitted(),
        }
    }

    /// The recipe laid out, its plant settled, and its amounts found.
    pub(crate) fn read(self, laid_out: LaidOut, notes: &mut Notes) -> Result<SourceBrew, Error> {
        let LaidOut { formula, assumed } = laid_out;
        notes.assumptions.extend(assumed);
        // A printed final extract speaks for what was printed, not for what stands in its place.
        let known_factor = match &self.recipe.swaps {
            Some(swaps) => {
                let printed = Printed {
                    recipe: &swaps.printed,
                    ..self
                };
                let laid_out = LaidOut::of(&swaps.printed, self.catalogue)?;
                let read = printed.read(laid_out, &mut Notes::default())?;
                Some(read.worked.setup.mash_factor.fit)
            }
            None => None,
        };
        self.read_laid_out(formula, known_factor, notes)
    }

    /// The same, where the mash ferments as that of `printed`, the recipe before anything in it was replaced.
    pub(crate) fn read_like(
        self,
        laid_out: LaidOut,
        printed: &SourceBrew,
        notes: &mut Notes,
    ) -> Result<SourceBrew, Error> {
        let LaidOut { formula, assumed } = laid_out;
        notes.assumptions.extend(assumed);
        self.read_laid_out(formula, Some(printed.worked.setup.mash_factor.fit), notes)
    }

    fn read_laid_out(
        self,
        formula: Formula,
        known_factor: Option<f64>,
        notes: &mut Notes,
    ) -> Result<SourceBrew, Error> {
        let plant = self.plant(&formula, notes);
        let recipe = self.recipe;
        let stated = Stated {
            recipe,
            cooling: CoolingHistory::of(&formula, &plant),
            formula,
            plant,
            known_factor,
        };
        let found = read(stated, notes)?;
        refuse_unknown(&found.worked, self.catalogue)?;
        refuse_impossible(&found.worked)?;
        compare_with_print(recipe, &found, notes);
        Ok(found)
    }

    /// The plant that the recipe was brewed on, settled.
    fn plant(self, formula: &Formula, notes: &mut Notes) -> Plant {
        let batch_l = self
            .recipe
            .batch
            .as_ref()
            .map(|batch| in_litres(batch.volume.value()));
        let assumed = match (self.brewhouse, &self.recipe.brewed_on) {
            (None, _) => Some(Assumption::CommercialPlant {
                size: PlantSize::of(batch_l),
            }),
            (Some(plant), None) if !self.is_chosen => Some(Assumption::OnlyOtherPlant {
                plant: plant.name.clone(),
            }),
            (Some(_), _) => None,
        };
        let unnamed = assumed.map(|what| Noted::at(Place::recipe("brewed_on"), what));
        notes.assumptions.extend(unnamed);
        let unnamed = Brewhouse::default();
        let described = self.brewhouse.unwrap_or(&unnamed);
        let printed = PrintedWater::of(self.recipe, Side::Source);
        let told = &mut notes.assumptions;
        let mut plant = Plant::settle(described, Side::Source, batch_l, printed, told);
        told.extend(plant.unused_mash_in(self.recipe));
        steep_without_mash(&mut plant, formula, None, told);
        match self.model.or(described.bitterness) {
            Some(model) => plant.bitterness = model,
            None if self.recipe.has_hops_in_stand() => {
                plant.bitterness = BitternessModel::Kinetic;
                notes.assumptions.push(Noted::at(
                    Place::plant(&plant.name, "bitterness"),
                    Assumption::KineticForStand,
                ));
            }
            None => {}
        }
        note_defaults(described, formula, &plant, &mut notes.assumptions);
        plant
    }
}

fn read(mut stated: Stated<'_>, notes: &mut Notes) -> Result<SourceBrew, Error> {
    let plant = &mut stated.plant;
    let batch = match &stated.recipe.batch {
        Some(batch) => BatchSize::of(batch),
        None => plant.batch.ok_or_else(|| {
            Error::new(ErrorKind::Incomplete, "the recipe has no batch size")
                .with_help("write `batch 20 hL into fermenter` under the recipe's name")
                .about(Place::recipe("batch"))
        })?,
    };
    if batch.l <= 0.0 {
        return Err(
            Error::new(ErrorKind::OutOfRange, "the recipe's batch size is zero")
                .about(Place::recipe("batch")),
        );
    }
    plant.batch = Some(batch);
    plant.check(batch, stated.formula.boil_min)?;
    let batch_l = batch.l;
    match batch.at {
        BatchPoint::EndOfBoil => stated.laid_down(|_| batch_l, Reading::Final, notes),
        BatchPoint::IntoFermenter => {
            let post_boil_l = |kept_l| stated.plant.post_boil_l(batch_l, kept_l);
            stated.laid_down(post_boil_l, Reading::Final, notes)
        }
        BatchPoint::Packaged => {
            let plant = &stated.plant;
            let post_boil_l = wort_for_packaged(batch_l, plant, |post_boil_l| {
                let found =
                    stated.laid_down(|_| post_boil_l, Reading::Trial, &mut Notes::default());
                found.map_or_else(
                    // What is wrong at every volume is said by the last reading.
                    |_| {
                        plant
                            .fermenter_loss
                            .after(plant.fermenter_l_of(post_boil_l, 0.0))
                    },
                    |found| found.worked.brewed.cellar.packaged_l,
                )
            })?;
            let found = stated.laid_down(|_| post_boil_l, Reading::Final, notes)?;
            if (found.worked.brewed.cellar.packaged_l - batch_l).abs() > 1e-6 * batch_l {
                return Err(never_packaged(batch_l));
            }
            Ok(found)
        }
    }
}

/// Bitterness of the finished beer for one IBU of the wort.
pub(crate) fn dilution(brewed: &Brewed) -> f64 {
    brewed.dilution()
}
