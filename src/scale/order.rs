//! A recipe worked out for a plant: the source read, the amounts found, weighed out and predicted, and all that is told of it.

use super::liquor::{Bench, Treatment};
use super::options::WeighOut;
use super::plan::Plan;
use super::solve::{Found, Job};
use super::state::{Brews, State};
use super::{Change, Kept, Outcome, ScaleOptions, drift, scaled, stocked, water, weigh};
use crate::catalogue::Catalogue;
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::inverse::{
    LaidOut, Notes, Printed, SourceBrew, check_yield, fullest_hot_l, refuse_impossible,
    source_mash_ph,
};
use crate::process::{
    Assumption, BatchSize, CooledOn, Figures, Filled, Formula, GasNotes, GasPlan, Headroom,
    MashWaterKnown, Plant, PrintedWater, Rule, Setup, Side, Stage, ToPackage, Volumes, Worked,
    carbonation_is_as_stated, cooled_on, gas_plan, kept_notes, mash_rise, mash_volume_hot_l,
    note_defaults, remarks, steep_without_mash, unused, what_is_as_stated,
};
use crate::quantity::{BrewhouseYield, Extract, Written, litres, minutes};
use crate::recipe::{Batch, BatchPoint, BitternessModel, Brewhouse, Recipe, Shelf, Stock};
use crate::remedy::{
    Limit, OutOfReach, Relief, Remedy, reliefs, with_lines, with_stand, with_stands,
};
use crate::speech::Noted;
use std::sync::Arc;

/// A source as read, to be worked out for as many batches as are asked for.
#[derive(Debug, Clone)]
pub(crate) struct SourceRead {
    pub(crate) source: Arc<SourceBrew>,
    pub(crate) notes: Notes,
}

/// The refusal of a plant that does not say how much it brews.
pub(crate) fn no_batch(plant: &Brewhouse) -> Error {
    let message = format!("the plant `{}` has no batch size", plant.name);
    Error::new(ErrorKind::PlantIncomplete, message)
        .with_help("add a line such as `batch 8 L into fermenter` to it")
        .about(Place::plant(&plant.name.as_str().into(), "batch"))
}

/// What is to be worked out.
#[derive(Clone, Copy)]
pub(crate) struct Order<'a> {
    pub(crate) recipe: &'a Recipe,
    /// The plant to brew on.
    pub(crate) brewhouse: &'a Brewhouse,
    /// The plant that the recipe's figures speak for; without it a commercial one with stated defaults is assumed.
    pub(crate) printed_on: Option<&'a Brewhouse>,
    pub(crate) stock: &'a Stock,
    /// What the stock says of each name.
    pub(crate) shelf: &'a Shelf<'a>,
    pub(crate) catalogue: &'a Catalogue,
    pub(crate) options: ScaleOptions,
    /// Remedies that were taken for this plant.
    pub(crate) taken: &'a [Remedy],
}

impl<'a> Order<'a> {
    pub(crate) fn batch(self) -> Result<&'a Batch, Error> {
        let batch = self.brewhouse.batch.as_ref();
        batch.ok_or_else(|| no_batch(self.brewhouse))
    }

    /// How bitterness is predicted on both plants, where someone has chosen.
    fn model(self) -> Option<BitternessModel> {
        self.options
            .bitterness
            .or(self.brewhouse.bitterness)
            .or(self.printed_on.and_then(|plant| plant.bitterness))
    }

    /// The recipe as its source is to be read.
    pub(crate) fn printed(self) -> Printed<'a> {
        Printed {
            recipe: self.recipe,
            brewhouse: self.printed_on,
            catalogue: self.catalogue,
            model: self.model(),
            is_chosen: false,
            spread: false,
        }
    }

    /// The source, which depends on neither the batch nor the stock.
    pub(crate) fn read(self, laid_out: LaidOut) -> Result<SourceRead, Error> {
        let mut notes = Notes::default();
        let source = Arc::new(self.printed().read(laid_out, &mut notes)?);
        Ok(SourceRead { source, notes })
    }

    /// The same of a recipe in which something was replaced: the mash ferments as that of the recipe as `printed`.
    pub(crate) fn read_like(
        self,
        laid_out: LaidOut,
        printed: &SourceBrew,
    ) -> Result<SourceRead, Error> {
        let mut notes = Notes::default();
        let source = Arc::new(self.printed().read_like(laid_out, printed, &mut notes)?);
        Ok(SourceRead { source, notes })
    }

    /// Whether nothing is out of reach, nor a vessel fuller than this, when `remedy` is taken beside what was taken.
    fn is_cured_by(self, remedy: &Remedy, headroom: Headroom) -> bool {
        let brewhouse = remedy.on_plant(self.brewhouse.clone());
        let recipe = with_lines(self.recipe, self.brewhouse, std::slice::from_ref(remedy));
        let taken: Vec<_> = self.taken.iter().chain([remedy]).cloned().collect();
        let order = Order {
            recipe: &recipe,
            brewhouse: &brewhouse,
            taken: &taken,
            ..self
        };
        let read = LaidOut::of(&recipe, self.catalogue).and_then(|laid_out| order.read(laid_out));
        let brewing = read.and_then(|read| order.brew(read));
        brewing.is_ok_and(|brewing| brewing.limit().is_none() && headroom.holds(brewing.filled()))
    }

    /// The plan for a source that was read for this order.
    pub(crate) fn plan(self, read: SourceRead) -> Result<Plan, Error> {
        Ok(self.brew(read)?.into_plan())
    }

    /// The source's beer on the plant: amounts, water and gas.
    pub(crate) fn brew(self, read: SourceRead) -> Result<Brewing<'a>, Error> {
        let SourceRead { source, mut notes } = read;
        let batch = self.batch()?;
        remarks(&source.worked, &mut notes.warnings);
        let (stocked_recipe, lot_changes, lot_outcomes) =
            stocked::with_lots(self.recipe, self.shelf);
        let setup = self.setup(&source, &stocked_recipe, &mut notes)?;
        let job = Job {
            source: &source,
            target: &setup,
            reliefs: &reliefs(&source.worked.setup.formula, self.taken),
        };
        let found = job.solve(BatchSize::of(batch))?;
        check_yield(&setup.plant, &found.brewed)?;
        let weighed = match self.options.weigh_out {
            WeighOut::Rounded => weigh::weighed(job, &found, &self.brewhouse.weighing),
            WeighOut::Exact => found.amounts.clone(),
        };
        let target = setup.worked(weighed);
        refuse_impossible(&target)?;
        remarks(&target, &mut notes.warnings);
        let bench = Bench {
            order: self,
            worked: &target,
        };
        let mut treated = bench.treat(&mut notes);
        let mut told = GasNotes {
            assumptions: &mut notes.assumptions,
            warnings: &mut notes.warnings,
        };
        let gas = gas_plan(&stocked_recipe, ToPackage::of(&target), &mut told);
        let predicted = Figures::predicted(&target.brewed)
            .with_mash_ph(treated.mash_ph)
            .with_carbonation(gas.as_ref().map(GasPlan::reached));
        Ok(Brewing {
            order: self,
            batch,
            stocked_recipe,
            lot_changes,
            lot_outcomes,
            brews: Brews {
                kept: Kept::default(),
                catalogue: self.catalogue.clone(),
                source,
                target,
                treated: std::mem::take(&mut treated.treated),
                settles_without_acid: treated.settles_without_acid,
                adds_caustic: treated.adds_caustic(),
                adds_acid: treated.adds_acid(),
            },
            found,
            treated,
            gas,
            predicted,
            notes,
        })
    }

    /// The plant settled for the recipe with the brewer's lots in it.
    fn setup(
        self,
        source: &SourceBrew,
        stocked_recipe: &Recipe,
        notes: &mut Notes,
    ) -> Result<Setup, Error> {
        let mut lot_notes = Vec::new();
        let there = &source.worked.setup;
        let mut formula =
            there
                .formula
                .with_lots(stocked_recipe, self.catalogue, &mut lot_notes)?;
        let assumptions = &mut notes.assumptions;
        let printed = PrintedWater::of(self.recipe, Side::Target);
        let mut plant = Plant::settle(self.brewhouse, Side::Target, None, printed, assumptions);
        assumptions.extend(plant.unused_mash_in(self.recipe));
        steep_without_mash(&mut plant, &formula, Some(&source.worked), assumptions);
        plant.bitterness = there.plant.bitterness;
        note_defaults(self.brewhouse, &formula, &plant, assumptions);
        for note in lot_notes {
            // What the source's line left to the catalogue is said once, lots or no lots.
            let said = |known: &Noted<Assumption>| known.speaks_of_the_same(&note);
            if !assumptions.iter().any(said) {
                assumptions.push(note);
            }
        }
        keep_doses(&mut formula, &source.worked);
        for boil_min in self.taken.iter().filter_map(Remedy::boil_min) {
            formula.boil_min = boil_min;
        }
        for (index, relief) in reliefs(&there.formula, self.taken) {
            if let (Relief::TopUp(l), Some(item)) = (relief, formula.items.get_mut(index)) {
                item.rule = Rule::Litres(l);
            }
        }
        assumptions.extend(mash_rise(&formula, &plant));
        let setup = Setup::new(formula, plant, there.mash_factor.fit);
        let stands = self.taken.iter().filter_map(Remedy::stand_min);
        Ok(stands.fold(setup, |setup, (index, time_min)| {
            with_stand(setup, index, time_min)
        }))
    }
}

/// A recipe worked out as far as its beer, before anything is told of it.
pub(crate) struct Brewing<'a> {
    pub(super) order: Order<'a>,
    batch: &'a Batch,
    stocked_recipe: Recipe,
    lot_changes: Vec<Noted<Change>>,
    lot_outcomes: Vec<Noted<Outcome>>,
    pub(crate) brews: Brews,
    /// The target as computed, before weighing out.
    pub(super) found: Found,
    treated: Treatment,
    pub(super) gas: Option<GasPlan>,
    pub(crate) predicted: Figures,
    pub(super) notes: Notes,
}

impl Brewing<'_> {
    /// The names of which the stock has none or too little.
    pub(crate) fn lacking(&self) -> Vec<String> {
        let needs = stocked::needs(&self.brews.target, &self.treated.additions);
        let lacking = needs
            .iter()
            .filter(|need| need.is_lacking(self.order.shelf));
        lacking.map(|need| need.name.to_owned()).collect()
    }

    fn into_plan(mut self) -> Plan {
        let Order {
            recipe,
            brewhouse,
            options,
            shelf,
            ..
        } = self.order;
        let source_figures = Figures::predicted(&self.brews.source.worked.brewed);
        let mut outcomes = std::mem::take(&mut self.lot_outcomes);
        outcomes.extend(self.out_of_reach());
        outcomes.extend(self.colours());
        outcomes.extend(self.bitterness());
        let missed = std::mem::take(&mut self.treated.missed);
        if !missed.is_empty() {
            let outcome = Outcome::IonsMissed { missed };
            outcomes.push(Noted::at(Place::recipe("water"), outcome));
        }
        let source_ph = source_mash_ph(
            self.order.printed(),
            &self.brews.source.worked,
            &mut self.notes.assumptions,
        );
        let source_figures = source_figures.with_mash_ph(source_ph);
        let (spread, spread_of_difference) = self.spread(&source_figures).unzip();
        self.warn();
        if self.gas.is_none() {
            carbonation_is_as_stated(recipe, &mut self.notes.assumptions);
        }
        let source = &self.brews.source.worked.setup;
        what_is_as_stated(source, &mut self.notes.assumptions);
        kept_notes(&self.brews.source.worked, &mut self.notes.assumptions);
        kept_notes(&self.brews.target, &mut self.notes.assumptions);
        let known = MashWaterKnown {
            ions: self.treated.reached.is_some(),
            ph: source_ph.is_some() || self.treated.mash_ph.is_some(),
            planned_ph: self.treated.mash_ph.is_some(),
        };
        let told = unused(recipe, &source.formula, known);
        self.notes.assumptions.extend(told);
        if let Some(known) = self.brews.target.setup.plant.known_yield
            && brewhouse.lauter.is_some()
            && brewhouse.extract_yield.is_some()
        {
            let overridden = Assumption::YieldOverridesLauter {
                side: Side::Target,
                reached: BrewhouseYield::clamped(known.value),
            };
            let lauter = Place::plant(&self.brews.target.setup.plant.name, "lauter");
            let note = Noted::at(lauter, overridden);
            self.notes.assumptions.push(note);
        }
        let target = &self.brews.target.setup;
        let goes_on = cooled_on(&target.formula, &target.plant, brewhouse);
        if let Some(CooledOn { from, to, .. }) = goes_on.filter(|on| on.coil_min.is_none()) {
            let place = Place::pitch().field("timing.at.at_c");
            let cooled = Assumption::CooledOn { from, to };
            self.notes.assumptions.push(Noted::at(place, cooled));
        }
        let mut changes = self.changes();
        changes.append(&mut self.lot_changes);
        changes.append(&mut self.treated.changes);
        let (boiled_on, batch) = self.boiled_batch();
        let cells = self.cells();
        let additions = self.additions();
        let assumptions = &mut self.notes.assumptions;
        let mut water = water::plan(recipe, brewhouse, &self.brews.target, assumptions);
        let stopped = water.mash.as_ref().and_then(|mash| mash.stopped);
        outcomes.extend(stopped.map(|stopped| {
            let rest = stopped.rest().saturating_sub(1);
            Noted::at(Place::rest(rest), Outcome::MashStops { stopped })
        }));
        water.reached = self.treated.reached;
        water.balance = self.treated.balance;
        water.additions = self.treated.additions;
        let needs = stocked::needs(&self.brews.target, &water.additions);
        let shopping = stocked::shopping(&needs, shelf);
        let setup = &self.brews.target.setup;
        let digits = match options.weigh_out {
            WeighOut::Rounded => scaled::Digits::Four,
            WeighOut::Exact => scaled::Digits::All,
        };
        for remedy in self.order.taken {
            let taken = Change::RemedyTaken {
                remedy: remedy.clone(),
            };
            changes.push(taken.into());
        }
        if self
            .order
            .taken
            .iter()
            .any(|remedy| remedy.boil_min().is_some())
        {
            self.stocked_recipe.boil.time =
                Some(Written::in_base_unit(minutes(setup.formula.boil_min)));
        }
        with_stands(&mut self.stocked_recipe, self.order.taken);
        self.brews.kept = self.order.kept();
        let as_brewed = scaled::AsBrewed {
            worked: &self.brews.target,
            predicted: &self.predicted,
            is_reached: self.found.reach.stopped.is_none(),
            brewhouse: &boiled_on,
            batch: &batch,
            digits,
        };
        Plan {
            recipe: as_brewed.recipe(scaled::mashed_here(
                self.stocked_recipe,
                &self.brews.target,
                digits,
            )),
            brewhouse: boiled_on.clone(),
            remedy: first_remedy(&outcomes),
            drift: drift::drift(&self.found, &self.brews.target, &self.predicted),
            water,
            predicted: self.predicted,
            spread,
            spread_of_difference,
            published: Figures::published(&recipe.targets)
                .with_printed_mash_ph(recipe.mash.ph.as_ref().map(Written::value)),
            source: source_figures,
            volumes: Volumes::of(&self.brews.target),
            boil: minutes(setup.formula.boil_min),
            additions,
            cells,
            gas: self.gas,
            changes,
            assumptions: self.notes.assumptions,
            warnings: self.notes.warnings,
            outcomes,
            shopping,
            state: State::of(self.brews),
        }
    }

    /// The plant and the batch that is boiled on it: where water makes up the volume, the wort before that.
    fn boiled_batch(&self) -> (Brewhouse, Batch) {
        let mut plant = self.order.brewhouse.clone();
        let mut batch = self.batch.clone();
        if self.order.taken.iter().any(Remedy::tops_up) {
            let boiled = litres(self.brews.target.brewed.into_fermenter_l);
            let unit = batch.volume.unit();
            batch = Batch::new(Written::computed(boiled, unit), BatchPoint::IntoFermenter);
            plant.batch = Some(batch.clone());
        }
        (plant, batch)
    }

    /// What the vessels hold when they are fullest; no mash where none is as it should be.
    pub(super) fn filled(&self) -> Filled {
        let (design, reach) = (&self.found.design, &self.found.reach);
        let plant = &self.brews.target.setup.plant;
        let is_mashed = reach.factor > 0.0 && reach.stopped.is_none();
        let mash_l = mash_volume_hot_l(
            design.unit.times(reach.factor),
            reach.liquor.mash_l,
            design.mash_c,
        );
        Filled {
            kettle_l: fullest_hot_l(design, self.found.aim, plant),
            mash_l: if is_mashed { mash_l } else { 0.0 },
        }
    }

    /// Hot wort when the kettle is fullest, and what it holds where that is less.
    fn overflow_l(&self) -> Option<(f64, f64)> {
        let plant = &self.brews.target.setup.plant;
        let hot_l = fullest_hot_l(&self.found.design, self.found.aim, plant);
        let kettle_l = plant.kettle_l.filter(|kettle_l| hot_l > *kettle_l)?;
        Some((hot_l, kettle_l))
    }

    /// What of it the plant cannot do.
    fn limit(&self) -> Option<Limit> {
        match (self.found.reach.stopped, self.overflow_l()) {
            (None, None) => None,
            (Some(_), None) => Some(Limit::Gravity),
            (None, Some(_)) => Some(Limit::Kettle),
            (Some(_), Some(_)) => Some(Limit::Both),
        }
    }

    /// A remedy of which that which it moves in trub and hops is known: by as many steps further as it takes to keep within all limits.
    fn that_holds(&self, remedy: &Remedy, headroom: Headroom) -> Option<Remedy> {
        let style = self.order.brewhouse.style();
        let steps = [0, 1, 2, 4, 8, 16, 32].into_iter();
        let mut tried = steps.map(|steps| match steps {
            0 => remedy.clone(),
            _ => remedy.further(steps, style),
        });
        tried.find(|remedy| self.order.is_cured_by(remedy, headroom))
    }

    /// What the plant cannot do, with the ways out.
    fn out_of_reach(&self) -> Vec<Noted<Outcome>> {
        let Some(limit) = self.limit() else {
            return Vec::new();
        };
        let (found, plant) = (&self.found, &self.brews.target.setup.plant);
        let (design, aim) = (&found.design, found.aim);
        let style = self.order.brewhouse.style();
        let reached = (found.reach.strength, found.brewed.kept);
        // A way out leaves room for foam and for stirring, or as much as there is.
        let headroom = Headroom::of(plant).or_as(plant, self.filled());
        let roomy = headroom.on(plant);
        let wanted = OutOfReach::of(design, aim, &roomy, reached, style);
        let remedies = wanted.remedies(limit);
        let remedies = remedies.iter();
        let remedies: Vec<_> = remedies
            .filter_map(|remedy| self.that_holds(remedy, headroom))
            .collect();
        let mut outcomes = Vec::new();
        if let Some(because) = found.reach.stopped {
            let outcome = Outcome::GravityOutOfReach {
                wanted: Extract::clamped(100.0 * aim.strength),
                highest: Extract::clamped(100.0 * found.reach.strength),
                because,
                remedies: remedies.clone(),
            };
            let batch = Place::plant(&plant.name, "batch");
            outcomes.push(Noted::at(batch, outcome));
        }
        if let Some((hot_l, capacity_l)) = self.overflow_l() {
            let outcome = Outcome::KettleOverflows {
                needed: litres(hot_l),
                capacity: litres(capacity_l),
                largest_batch: wanted.largest_batch(),
                remedies,
            };
            let kettle = Place::plant(&plant.name, "kettle_l");
            outcomes.push(Noted::at(kettle, outcome));
        }
        outcomes
    }
}

/// The first way out of what keeps the beer out of reach.
fn first_remedy(outcomes: &[Noted<Outcome>]) -> Option<Remedy> {
    let stop = outcomes.iter().find(|told| told.what.stops_with_remedy());
    stop.and_then(|told| told.what.remedies().first().cloned())
}

/// Turns the amounts of later additions, those at packaging included, into doses of what was in the source's vessel, so that they travel.
fn keep_doses(formula: &mut Formula, source: &Worked) {
    for (index, item) in formula.items.iter_mut() {
        let vessel_l = source.brewed.cellar.vessel_l.at(index);
        if item.place.stage < Stage::Ferment || vessel_l <= 0.0 {
            continue;
        }
        let dose = source.amounts.of.at(index) / vessel_l;
        item.rule = match item.rule {
            Rule::Kilograms(_) => Rule::GramsPerLitre(1000.0 * dose),
            Rule::Litres(_) => Rule::LitresPerLitre(dose),
            Rule::Packs(_) => Rule::PacksPerLitre(dose),
            kept => kept,
        };
    }
}
