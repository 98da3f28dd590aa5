//! A mash whose pH is not as wanted.
//!
//! The measured pH is the truth, so the grist's own pH is shifted until the model gives it; buffering stays that of the catalogue.
//! Acid is counted by what it gives up at the wanted pH, bicarbonate by what its own carbonate leaves of it there, and each amount is put
//! into the model again.

use super::action::Action;
use super::advised::AdvisedAction;
use super::day::{Day, crossing, figures};
use super::doubt::{PH_READ, ReadOf};
use crate::catalogue::{EntryRef, WaterAgent};
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::ledger::Remark;
use crate::process::{
    Assumption, Figures, KnownWater, MIDDLE_MASH_PH, PredictedFigure, Stirred, USUAL_MASH_PH,
    acid_product, grain, liquor, note_classes, predicted, stated_agents, stirred_water,
};
use crate::quantity::{Mass, Ph, Volume, Written, in_kilograms, kilograms, litres};
use crate::scale::{LiquorPart, Plan};
use crate::science::mash_ph::{BufferedMash, BufferingGrain, MashPh};
use crate::science::water::Ions;
use crate::speech::Noted;
use uom::si::amount_of_substance::millimole;

/// Acids that any shop has, the strongest first.
const ACIDS: [&str; 3] = [
    "lactic acid 88 %",
    "phosphoric acid 85 %",
    "phosphoric acid 10 %",
];
/// What lifts a mash pH: each mole brings one of alkali and one of carbonate, which gives some of it back. Chalk would not dissolve.
const ALKALI: &str = "sodium bicarbonate";
/// One sigma of a meter in a buffer (common practice, no source).
const METER: f64 = 0.02;
/// Share by which buffering is uncertain (± 20 %, the catalogue's figures), and with it every shift.
const BUFFERING: f64 = 0.2;
/// Between these a mash can be mended.
const MENDED: std::ops::RangeInclusive<f64> = 4.0..=7.0;
/// pH of a water without ions.
const NEUTRAL: f64 = 7.0;
/// Bicarbonate beyond this is no advice, kg/L of mash water.
const MOST_ALKALI: f64 = 0.01;

/// The mash as it stands.
struct Mash<'a> {
    /// Shifted to give the measured pH.
    grist: Vec<BufferingGrain>,
    liquor: KnownWater,
    mash_l: f64,
    agents: Vec<Stirred<'a>>,
}

pub(super) fn mash_off(
    plan: &Plan,
    (measured, wanted): (Ph, Option<Ph>),
    assumptions: &mut Vec<Noted<Assumption>>,
    remarks: &mut Vec<Noted<Remark>>,
) -> Result<Vec<AdvisedAction>, Error> {
    let stated = plan.recipe.mash.ph.as_ref().map(Written::value);
    let wanted = wanted.or(stated).unwrap_or_else(|| {
        let [lowest, highest] = [*USUAL_MASH_PH.start(), *USUAL_MASH_PH.end()].map(Ph::clamped);
        remarks.push(Remark::UsualMashPh { lowest, highest }.into());
        // Within the usual there is nothing to correct.
        let is_usual = USUAL_MASH_PH.contains(&measured.value());
        Ph::clamped(if is_usual {
            measured.value()
        } else {
            MIDDLE_MASH_PH
        })
    });
    for ph in [measured, wanted] {
        if !MENDED.contains(&ph.value()) {
            return Err(Error::new(
                ErrorKind::OutOfRange,
                format!("expected a mash pH from 4 to 7, found {}", ph.value()),
            )
            .with_help("check the meter in a buffer, and measure a cooled sample"));
        }
    }
    let mash = Mash::of(plan, measured, assumptions)?;
    let planned = &plan.brews().target.brewed;
    let with_ph = |ph: Ph, uncertainty: f64| -> Figures {
        figures(planned).with_mash_ph(Some(MashPh::of(ph, Ph::clamped(uncertainty))))
    };
    let as_it_is = with_ph(measured, METER);
    let mut actions = vec![AdvisedAction::new(Action::GoOn, as_it_is)];
    let shift = wanted.value() - measured.value();
    let figure = PredictedFigure::MashPh;
    let within = Day::of(plan).readable(ReadOf::Figure(figure), PH_READ);
    if shift.abs() <= within {
        remarks.extend(Remark::within(figure, measured.value(), within, shift));
        return Ok(actions);
    }
    let uncertainty = METER + BUFFERING * shift.abs();
    let names: &[&str] = if shift < 0.0 { &ACIDS } else { &[ALKALI] };
    for name in names {
        let catalogue = &plan.brews().catalogue;
        let Some(EntryRef::WaterAgent(row)) = catalogue.find(name).map(|found| found.entry) else {
            continue;
        };
        let dose = if shift < 0.0 {
            mash.acid_kg(row, wanted)
        } else {
            mash.alkali_kg(row, wanted)
        };
        let Some((kg, reached)) = dose.and_then(|kg| Some((kg, mash.with(row, kg)?))) else {
            continue;
        };
        let (name, mass) = (row.name.to_string(), kilograms(kg));
        let volume = row
            .density
            .map(|density| litres(kg / density.grams_per_millilitre()));
        let action = if shift < 0.0 {
            Action::AddAcid { name, mass, volume }
        } else {
            Action::AddAlkali { name, mass }
        };
        actions.push(AdvisedAction::new(action, with_ph(reached, uncertainty)));
    }
    Ok(actions)
}

/// What moves a mash, and how much of it; a liquid by its volume too.
pub(crate) struct MashDose {
    pub(crate) name: String,
    pub(crate) mass: Mass,
    pub(crate) volume: Option<Volume>,
}

/// Acid that lowers a mash of this pH by a small step, and alkali that raises it: each in proportion, since over a small step
/// the buffering is as good as even.
pub(crate) fn mash_doses(plan: &Plan, wanted: Ph, step: f64) -> Option<[MashDose; 2]> {
    let mash = Mash::of(plan, wanted, &mut Vec::new()).ok()?;
    let catalogue = &plan.brews().catalogue;
    let row = |name| match catalogue.find(name)?.entry {
        EntryRef::WaterAgent(row) => Some(row),
        _ => None,
    };
    let dose = |row: &WaterAgent, kg: f64| MashDose {
        name: row.name.to_string(),
        mass: kilograms(kg),
        volume: row
            .density
            .map(|density| litres(kg / density.grams_per_millilitre())),
    };
    let [strongest, ..] = ACIDS;
    let (acid, alkali) = (row(strongest)?, row(ALKALI)?);
    let acid_kg = mash.acid_kg(acid, Ph::clamped(wanted.value() - step))?;
    let alkali_kg = mash.alkali_kg(alkali, Ph::clamped(wanted.value() + step))?;
    let is_some = |kg: f64| kg.is_finite() && kg > 0.0;
    (is_some(acid_kg) && is_some(alkali_kg)).then(|| [dose(acid, acid_kg), dose(alkali, alkali_kg)])
}

impl<'a> Mash<'a> {
    fn of(
        plan: &'a Plan,
        measured: Ph,
        assumptions: &mut Vec<Noted<Assumption>>,
    ) -> Result<Self, Error> {
        let brews = plan.brews();
        let (worked, catalogue) = (&brews.target, &brews.catalogue);
        let (mut grist, by_class) = grain(worked, catalogue);
        if grist.is_empty() {
            return Err(Error::new(
                ErrorKind::Incomplete,
                "expected a mash with grain, found none in the plan",
            ));
        }
        note_classes(by_class, assumptions);
        let water_of = &worked.setup.plant;
        let silent = crate::recipe::WaterReport::default();
        let report = plan.brewhouse.water.as_ref().unwrap_or(&silent);
        let found = liquor(&report.ions, report.ph.as_ref(), water_of, assumptions);
        let liquor = found.unwrap_or_else(|because| {
            let place = Place::plant(&water_of.name, because.field());
            assumptions.push(Noted::at(place, Assumption::MashWaterLeftOut { because }));
            KnownWater {
                ions: Ions::default(),
                ph: Ph::clamped(NEUTRAL),
            }
        });
        let mut agents: Vec<_> = stated_agents(worked, catalogue).collect();
        let treated = brews.treated.iter();
        let treated = treated.filter(|treated| treated.into == LiquorPart::Mash);
        agents.extend(treated.map(|treated| {
            let Stirred { agent, kg } = &treated.stirred;
            Stirred::of(agent, *kg)
        }));
        let mash_l = worked.amounts.liquor.mash_l;
        let (water, acids) = stirred_water(&liquor, mash_l, &agents).ok_or_else(|| {
            Error::new(
                ErrorKind::OutOfModel,
                "expected a water report whose pH and alkalinity go together",
            )
        })?;
        // The grist's buffering is what a unit of pH takes; what is wanting at the measured pH shifts the grist.
        let alone = BufferedMash::new(&grist, None, &[])?;
        let alone_at = |ph| alone.acid_for(Ph::clamped(ph)).get::<millimole>();
        let buffering_meq = alone_at(5.0) - alone_at(6.0);
        let missing = BufferedMash::new(&grist, Some(&water), &acids)?.acid_for(measured);
        let shift = -missing.get::<millimole>() / buffering_meq;
        for grain in &mut grist {
            grain.ph = Ph::clamped(grain.ph.value() + shift);
        }
        Ok(Self {
            grist,
            liquor,
            mash_l,
            agents,
        })
    }

    fn acid_kg(&self, row: &WaterAgent, wanted: Ph) -> Option<f64> {
        let (water, acids) = stirred_water(&self.liquor, self.mash_l, &self.agents)?;
        let mash = BufferedMash::new(&self.grist, Some(&water), &acids).ok()?;
        let protons = mash.acid_for(wanted);
        let mass = acid_product(row)?.mass_for(protons, wanted).ok()?;
        Some(in_kilograms(mass))
    }

    fn alkali_kg(&self, row: &'a WaterAgent, wanted: Ph) -> Option<f64> {
        crossing(MOST_ALKALI * self.mash_l, |kg| {
            self.with(row, kg).map_or(f64::NAN, Ph::value) - wanted.value()
        })
    }

    /// The pH with so much more acid or alkali in it, by the model.
    fn with(&self, row: &'a WaterAgent, kg: f64) -> Option<Ph> {
        let mut agents = self.agents.clone();
        agents.push(Stirred::of(row, kg));
        predicted(&self.grist, &self.liquor, self.mash_l, &agents).map(|mash| mash.ph)
    }
}
