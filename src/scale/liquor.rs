//! Salts for the wanted ions, and acid or alkali for the wanted mash pH.

use super::change::IonBrought;
use super::options::WeighOut;
use super::weigh::to_step;
use super::{Change, Order};
use crate::catalogue::{EntryRef, Kind, WaterAgent};
use crate::diagnostic::Place;
use crate::inverse::Notes;
use crate::process::{
    Assumption, KnownWater, MIDDLE_MASH_PH, NoMashPh, PhCorrection, Stirred, USUAL_MASH_PH,
    WATER_PH, Warning, Worked, acid_product, alkali_of, grain, is_steep, liquor, note_classes,
    predicted, salt_ions, stated_agents, stated_ions, stirred_water,
};
use crate::quantity::{Concentration, Mass, Ph, Volume, Written, in_kilograms, kilograms, litres};
use crate::recipe::Available;
use crate::science::mash_ph::{BufferedMash, BufferingGrain, MashPh};
use crate::science::water::{
    Balance, CarbonateWater, Dosed, Ion, Ions, MissedIon, NamedIons, WaterTreatment, doses_for,
};
use crate::speech::Noted;
use serde::Serialize;
use uom::si::amount_of_substance::{millimole, mole};
use uom::si::f64::AmountOfSubstance;

/// Salts that bring ions without touching the pH by themselves; any shop has them.
const CUPBOARD: [&str; 4] = [
    "calcium sulphate dihydrate",
    "calcium chloride dihydrate",
    "magnesium sulphate heptahydrate",
    "sodium chloride",
];
/// What lifts a mash pH. Chalk would not dissolve.
const ALKALI: &str = "sodium bicarbonate";
/// What lowers it, unless the stock holds another acid.
const ACID: &str = "lactic acid 88 %";
/// Ions that the sheet does not name are kept below these, mg/L (common practice, no source).
const CAPS_MG_L: [(Ion, f64); 5] = [
    (Ion::Calcium, 150.0),
    (Ion::Magnesium, 30.0),
    (Ion::Sodium, 100.0),
    (Ion::Sulphate, 250.0),
    (Ion::Chloride, 150.0),
];
/// A mash pH this near needs neither acid nor alkali: a meter reads no better (common practice, no source).
const PH_NEAR: f64 = 0.02;
/// A mash pH this near to the wanted one leaves nothing to be wanted of the alkalinity: a meter of the trade reads to it (common
/// practice, no source).
const PH_MET: f64 = 0.05;
/// A wish counts as met within 5 mg/L or a tenth of it: water reports are no better (rule of the crate).
const ION_NEAR: (f64, f64) = (0.005, 0.1);

/// A salt, acid or alkali for the brewing water.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct LiquorAddition {
    /// Its name in the catalogue.
    pub name: String,
    /// Salt or acid.
    pub kind: Kind,
    /// Which water it goes into.
    pub into: LiquorPart,
    /// How much.
    #[serde(rename = "mass_kg", with = "crate::quantity::json::kilogram")]
    pub mass: Mass,
    /// The same measured, for a liquid.
    #[serde(
        rename = "volume_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub volume: Option<Volume>,
}

/// Which water of the day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum LiquorPart {
    /// That of the mash, infusions included; of the kettle where nothing is mashed.
    Mash,
    /// That which rinses the grain.
    Sparge,
}

/// What the water is treated with, and what that comes to.
#[derive(Debug, Default)]
pub(super) struct Treatment {
    pub(super) additions: Vec<LiquorAddition>,
    pub(super) reached: Option<Ions>,
    pub(super) balance: Option<Balance>,
    pub(super) mash_ph: Option<MashPh>,
    /// The same as it is carried on.
    pub(super) treated: Vec<Treated>,
    /// Whether the mash comes to its pH without acid: it is as wanted or below, or an alkali brings it there.
    pub(super) settles_without_acid: bool,
    pub(super) changes: Vec<Noted<Change>>,
    /// Wanted ions that salts do not bring.
    pub(super) missed: Vec<MissedIon>,
}

impl Treatment {
    pub(super) fn adds_caustic(&self) -> bool {
        let mut names = self.additions.iter().map(|addition| &addition.name);
        names.any(|name| name.contains("hydroxide"))
    }

    pub(super) fn adds_acid(&self) -> bool {
        let mut additions = self.additions.iter();
        additions.any(|addition| addition.kind == Kind::Acid)
    }
}

/// A salt, an acid or an alkali that was worked out for a water.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Treated {
    pub(crate) stirred: Stirred<'static>,
    pub(crate) into: LiquorPart,
}

/// Salts for the wanted ions, as computed.
struct Salts<'a> {
    doses: Vec<Dosed<&'a WaterAgent>>,
    wanted: NamedIons,
}

/// What is to be treated, and with what at hand.
pub(super) struct Bench<'a> {
    pub(super) order: Order<'a>,
    pub(super) worked: &'a Worked,
}

impl<'a> Bench<'a> {
    /// Salts, acid and the mash pH that they come to.
    pub(super) fn treat(&self, notes: &mut Notes) -> Treatment {
        let Order {
            recipe,
            brewhouse,
            catalogue,
            ..
        } = self.order;
        let plant = &self.worked.setup.plant;
        let silent = crate::recipe::WaterReport::default();
        let report = brewhouse.water.as_ref().unwrap_or(&silent);
        let mut treated = Treatment {
            balance: self.balance(report.ph.as_ref()),
            ..Treatment::default()
        };
        if let Some(Balance::Impossible { excess }) = treated.balance {
            let unbalanced = Warning::IonsUnbalanced { excess };
            let wanted = Noted::at(Place::recipe("water"), unbalanced);
            notes.warnings.push(wanted);
        }
        let found = liquor(
            &report.ions,
            report.ph.as_ref(),
            plant,
            &mut notes.assumptions,
        );
        let not_predicted = |because: NoMashPh| {
            let place = Place::plant(&plant.name, because.field());
            let side = plant.side;
            Noted::at(place, Assumption::MashPhNotPredicted { side, because })
        };
        let (grist, by_class) = grain(self.worked, catalogue);
        let liquor = match found {
            Ok(liquor) => liquor,
            Err(because) => {
                let asks_ph = !grist.is_empty() && !is_steep(self.worked);
                if asks_ph || !recipe.water.is_empty() {
                    notes.assumptions.push(not_predicted(because));
                }
                return treated;
            }
        };
        let stated: Vec<_> = stated_agents(self.worked, catalogue).collect();
        let mut agents = stated.clone();
        // A recipe that lists its own salts has said what it wants.
        let salts = if stated
            .iter()
            .any(|stirred| stirred.agent.kind() == Kind::Salt)
        {
            None
        } else {
            self.salts(&liquor, &mut treated)
        };
        if let Some(salts) = &salts {
            self.weigh_salts(salts, &mut treated, &mut agents);
        }
        let mash_l = self.worked.amounts.liquor.mash_l;
        let stirred = |water: Ions, stirred: &Stirred<'_>| {
            let g_l = 1000.0 * stirred.kg / mash_l.max(f64::MIN_POSITIVE);
            water.with_dose(&salt_ions(&stirred.agent), Concentration::clamped(g_l))
        };
        let reached = agents.iter().fold(liquor.ions, stirred);
        treated.reached = Some(reached);
        if let Some(salts) = salts {
            let brought = |(ion, wanted): (Ion, Concentration)| IonBrought {
                ion,
                from: liquor.ions.of(ion),
                wanted,
                reached: reached.of(ion),
            };
            let ions = salts.wanted.iter().map(brought).collect();
            treated.changes.push(Noted::at(
                Place::recipe("water"),
                Change::WaterBrought { ions },
            ));
        }
        if grist.is_empty() {
            return treated;
        }
        let Some(before) = predicted(&grist, &liquor, mash_l, &agents) else {
            let note = not_predicted(NoMashPh::WaterOutOfModel);
            notes.assumptions.push(note);
            return treated;
        };
        note_classes(by_class, &mut notes.assumptions);
        treated.mash_ph = Some(before);
        let has_acid = stated
            .iter()
            .any(|stirred| stirred.agent.kind() == Kind::Acid);
        let Some(target) = recipe.mash.ph.as_ref().map(Written::value) else {
            let is_usual = (USUAL_MASH_PH.start() - PH_NEAR..=USUAL_MASH_PH.end() + PH_NEAR)
                .contains(&before.ph.value());
            if !is_usual && !is_steep(self.worked) {
                let middle = Ph::clamped(MIDDLE_MASH_PH);
                let found = self.for_ph(&grist, &liquor, &agents, middle);
                let unusual = Warning::MashPhUnusual {
                    predicted: before.ph,
                    lowest: Ph::clamped(*USUAL_MASH_PH.start()),
                    highest: Ph::clamped(*USUAL_MASH_PH.end()),
                    by: found.map(|(row, kg)| PhCorrection {
                        name: row.name.to_string(),
                        mass: kilograms(kg),
                        volume: volume_of(row, kg),
                        to: middle,
                    }),
                };
                notes
                    .warnings
                    .push(Noted::at(Place::recipe("mash.ph"), unusual));
            }
            return treated;
        };
        treated.settles_without_acid = before.ph.value() <= target.value() + PH_NEAR;
        if !has_acid
            && (before.ph.value() - target.value()).abs() > PH_NEAR
            && let Some((row, exact_kg)) = self.for_ph(&grist, &liquor, &agents, target)
        {
            let kg = self.weighed(exact_kg);
            if kg > 0.0 {
                treated.add(row, kg, LiquorPart::Mash);
                let more = Stirred::of(row, kg);
                treated.reached = Some(stirred(reached, &more));
                agents.push(more);
                treated.mash_ph = predicted(&grist, &liquor, mash_l, &agents);
                treated.settles_without_acid = row.kind() != Kind::Acid;
                let set = Change::MashPhSet {
                    name: row.name.to_string(),
                    from: before.ph,
                    to: treated.mash_ph.map_or(target, |mash| mash.ph),
                    wanted: target,
                };
                treated
                    .changes
                    .push(Noted::at(Place::recipe("mash.ph"), set));
            }
        }
        // Alkalinity is wanted low for the sake of the mash pH, which acid or alkali has brought.
        let is_met = |mash: &MashPh| (mash.ph.value() - target.value()).abs() <= PH_MET;
        if treated.mash_ph.as_ref().is_some_and(is_met) {
            treated
                .missed
                .retain(|missed| missed.ion != Ion::Alkalinity);
        }
        treated
    }

    /// Whether the wanted ions can stand together, whatever the plant's own water.
    fn balance(&self, ph: Option<&Written<Ph>>) -> Option<Balance> {
        let ph = ph.map_or(Ph::clamped(WATER_PH), Written::value);
        let wanted = stated_ions(&self.order.recipe.water, ph);
        (!wanted.is_empty()).then(|| wanted.balance())
    }

    /// Doses of the cupboard's salts for the wanted ions; what they miss is noted.
    fn salts(&self, liquor: &KnownWater, treated: &mut Treatment) -> Option<Salts<'a>> {
        let wanted = stated_ions(&self.order.recipe.water, liquor.ph);
        if wanted.is_empty() {
            return None;
        }
        let cupboard = CUPBOARD.iter().filter_map(|name| self.agent(name));
        let caps = CAPS_MG_L.map(|(ion, mg_l)| (ion, Concentration::clamped(mg_l / 1000.0)));
        let (doses, missed) = doses_for(
            &WaterTreatment {
                start: liquor.ions,
                wanted,
                caps: caps.into_iter().collect(),
            },
            cupboard.collect(),
            |row| salt_ions(row),
        )
        .ok()?;
        let far = |missed: &MissedIon| {
            let (wish, got) = (
                missed.wanted.grams_per_litre(),
                missed.reached.grams_per_litre(),
            );
            (got - wish).abs() > ION_NEAR.0.max(ION_NEAR.1 * wish)
        };
        treated.missed = missed.into_iter().filter(far).collect();
        Some(Salts { doses, wanted })
    }

    /// Weighs the doses out for mash and sparge water.
    fn weigh_salts(
        &self,
        salts: &Salts<'a>,
        treated: &mut Treatment,
        agents: &mut Vec<Stirred<'a>>,
    ) {
        let water = self.worked.amounts.liquor;
        for (part, volume_l) in [
            (LiquorPart::Mash, water.mash_l),
            (LiquorPart::Sparge, water.sparge_l),
        ] {
            for Dosed { salt: row, dose } in &salts.doses {
                let kg = self.weighed(dose.grams_per_litre() * volume_l / 1000.0);
                if kg > 0.0 {
                    treated.add(row, kg, part);
                    if part == LiquorPart::Mash {
                        agents.push(Stirred::of(row, kg));
                    }
                }
            }
        }
    }

    /// What brings the mash to `target`, and how much of it, kg.
    fn for_ph(
        &self,
        grist: &[BufferingGrain],
        liquor: &KnownWater,
        agents: &[Stirred<'_>],
        target: Ph,
    ) -> Option<(&'a WaterAgent, f64)> {
        let (water, acids) = stirred_water(liquor, self.worked.amounts.liquor.mash_l, agents)?;
        let mash = BufferedMash::new(grist, Some(&water), &acids).ok()?;
        let acid = mash.acid_for(target);
        if acid > AmountOfSubstance::new::<mole>(0.0) {
            let row = self.acid()?;
            let mass = acid_product(row)?.mass_for(acid, target).ok()?;
            return Some((row, in_kilograms(mass)));
        }
        let row = self.agent(ALKALI)?;
        // What a gram takes up at the mash's pH is linear in the dose.
        let alkali = alkali_of(row);
        let taken_up = |carbonate: CarbonateWater| carbonate.acid_meq_l(target.value());
        let with_a_gram = water
            .carbonate
            .with_alkali(alkali.meq_per_g, alkali.carbonate_mmol_per_g)?;
        let taken_meq_g = taken_up(with_a_gram) - taken_up(water.carbonate);
        (taken_meq_g > 0.0).then(|| (row, -acid.get::<millimole>() / taken_meq_g / 1000.0))
    }

    /// The acid in stock, else the usual one, else none that can be had.
    fn acid(&self) -> Option<&'a WaterAgent> {
        let listed = self.order.shelf.at_hand(Kind::Acid);
        let mut rows = listed.filter_map(|acid| self.agent(acid.catalogue_name()));
        let in_stock = rows.find(|row| acid_product(row).is_some());
        in_stock.or_else(|| self.agent(ACID))
    }

    /// A row of the catalogue, unless the stock says that it cannot be had.
    fn agent(&self, name: &str) -> Option<&'a WaterAgent> {
        match self.order.catalogue.find(name)?.entry {
            EntryRef::WaterAgent(row) => {
                let available = self.order.shelf.available(&row.name, row.kind());
                (available != Available::Nothing).then_some(row)
            }
            _ => None,
        }
    }

    /// A mass as the plant's scale weighs it; too little to weigh is none.
    fn weighed(&self, kg: f64) -> f64 {
        let step = self.order.brewhouse.weighing.salts.as_ref();
        match step.map(|step| in_kilograms(step.value())) {
            Some(step_kg) if self.order.options.weigh_out == WeighOut::Rounded => {
                to_step(kg, step_kg)
            }
            _ => kg,
        }
    }
}

/// What is measured of so much of a liquid.
fn volume_of(row: &WaterAgent, kg: f64) -> Option<Volume> {
    row.density
        .map(|density| litres(kg / density.grams_per_millilitre()))
}

impl Treatment {
    fn add(&mut self, row: &WaterAgent, kg: f64, into: LiquorPart) {
        self.additions.push(LiquorAddition {
            name: row.name.to_string(),
            kind: row.kind(),
            into,
            mass: kilograms(kg),
            volume: volume_of(row, kg),
        });
        self.treated.push(Treated {
            stirred: Stirred::of(row, kg).into_owned(),
            into,
        });
    }
}
