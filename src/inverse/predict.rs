//! A recipe on the plant it was brewed on.

use super::source::{LaidOut, Notes, Printed};
use crate::catalogue::Kind;
use crate::diagnostic::{Error, Place};
use crate::process::{
    Assumption, Figures, GasNotes, GasPlan, MashWaterKnown, Prediction, ToPackage, Uncertain,
    Volumes, Warning, Worked, carbonation_is_as_stated, colour_gaps, gas_plan, kept_notes, liquor,
    of_brew, preserved_juice, remarks, stated_agents, unused, unusual_temperatures,
    what_is_as_stated,
};
use crate::quantity::Written;
use crate::science::mash_ph::MashPh;
use crate::speech::Noted;

/// Predicts what a recipe gives on the plant that it was printed for, or on a commercial one with stated defaults.
///
/// # Errors
///
/// `Incomplete` when the recipe lacks a batch, an amount or a figure that no default stands in for; `Contradiction`
/// when two of its facts exclude each other. The message names the place and the help says what to write.
pub(crate) fn predict(printed: Printed<'_>, laid_out: LaidOut) -> Result<Prediction, Error> {
    let mut notes = Notes::default();
    let worked = printed.read(laid_out, &mut notes)?.worked;
    let Notes {
        mut assumptions,
        mut warnings,
    } = notes;
    remarks(&worked, &mut warnings);
    kept_notes(&worked, &mut assumptions);
    warnings.extend(preserved_juice(&worked));
    warnings.extend(unusual_temperatures(printed.recipe, &worked.setup.formula));
    let mash_ph = source_mash_ph(printed, &worked, &mut assumptions);
    let mut told = GasNotes {
        assumptions: &mut assumptions,
        warnings: &mut warnings,
    };
    let gas = gas_plan(printed.recipe, ToPackage::of(&worked), &mut told);
    if gas.is_none() {
        carbonation_is_as_stated(printed.recipe, &mut assumptions);
    }
    let predicted = Figures::predicted(&worked.brewed)
        .with_mash_ph(mash_ph)
        .with_carbonation(gas.as_ref().map(GasPlan::reached));
    for gap in colour_gaps(&printed.recipe.targets, &worked) {
        let unexplained = Warning::ColourNotExplained {
            printed: gap.printed,
            malt: gap.malt,
            with_juice: gap.with_juice,
        };
        warnings.push(Noted::at(gap.place, unexplained));
    }
    what_is_as_stated(&worked.setup, &mut assumptions);
    let spread = printed.spread.then(|| {
        let uncertain = Uncertain {
            worked: &worked,
            known: printed.known(&worked),
            predicted: &predicted,
            gas: gas.as_ref(),
        };
        uncertain.spread()
    });
    let known = MashWaterKnown {
        ions: false,
        ph: mash_ph.is_some(),
        planned_ph: mash_ph.is_some(),
    };
    assumptions.extend(unused(printed.recipe, &worked.setup.formula, known));
    Ok(Prediction {
        volumes: Volumes::of(&worked),
        predicted,
        spread,
        gas,
        published: Figures::published(&printed.recipe.targets)
            .with_printed_mash_ph(printed.recipe.mash.ph.as_ref().map(Written::value)),
        assumptions,
        warnings,
    })
}

/// Mash pH of the source: its sheet's water where that is printed, else that of its plant.
pub(crate) fn source_mash_ph(
    printed: Printed<'_>,
    worked: &Worked,
    assumptions: &mut Vec<Noted<Assumption>>,
) -> Option<MashPh> {
    let (recipe, catalogue) = (printed.recipe, printed.catalogue);
    let report = printed.brewhouse.and_then(|plant| plant.water.as_ref());
    // Salts that are listed beside a report are what brings that water to the printed ions: they count on top of it.
    let lists_salts =
        || stated_agents(worked, catalogue).any(|stirred| stirred.agent.kind() == Kind::Salt);
    let (ions, ph) = match report {
        Some(report) if recipe.water.is_empty() || lists_salts() => {
            (&report.ions, report.ph.as_ref())
        }
        None if recipe.water.is_empty() => return None,
        _ => {
            assumptions.push(Noted::at(Place::recipe("water"), Assumption::WaterAsStated));
            (&recipe.water, None)
        }
    };
    // What a sheet does not print of its water is no news: the assumption above covers it.
    let plant = &worked.setup.plant;
    let liquor = liquor(ions, ph, plant, &mut Vec::new()).ok()?;
    of_brew(worked, catalogue, &liquor, assumptions)
}
