//! A reading of the brewing day, and the ways on from it.
//!
//! Each way carries the figures that the forward model gives when it is taken: nothing here is a rule of thumb but where it says so.
//! Dried extract counts as 95.5 % extract that ferments like the mash; bitterness and colour stay with the wort.

use super::advised::AdvisedAction;
use super::day::{Day, Measured, figures};
use super::juice::juice;
use super::late::{addition_at, gravity_before, late_item};
use super::mash::mash_off;
use super::package::{FinishedBeer, packaging};
use super::reading::{BeerRead, DayReading, Shown, wort};
use super::stopped::stopped;
use super::wort::{Told, wort_ways};
use crate::diagnostic::Error;
use crate::ledger::Remark;
use crate::process::{Assumption, Figures, Warning};
use crate::quantity::{Extract, Volume};
use crate::scale::Plan;
use crate::speech::Noted;
use serde::Serialize;

/// What to do about a reading.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Advice {
    /// Extract that the reading was taken for: the real one of a wort or juice, the apparent one of a beer.
    #[serde(rename = "extract_plato", skip_serializing_if = "Option::is_none")]
    pub extract: Option<Extract>,
    /// Volume that it was taken for, at 20 °C.
    #[serde(
        rename = "volume_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub volume: Option<Volume>,
    /// What the plan had.
    pub planned: Figures,
    /// The ways on, the plainest first.
    pub actions: Vec<AdvisedAction>,
    /// What was taken for granted to find them.
    pub assumptions: Vec<Noted<Assumption>>,
    /// What of the reading itself was.
    pub remarks: Vec<Noted<Remark>>,
    /// What deserves a look: in the beer to be packaged, and in the vessel for what is to be poured in.
    pub warnings: Vec<Noted<Warning>>,
}

impl Plan {
    /// The ways on from a reading, each with what the model gives when it is taken.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a volume or an extract that is none, for beer that was warmer than any yeast bears, and for a mash pH outside of 4 to 7, `UnknownName` for a juice that the plan
    /// does not use, `OutOfModel` for a gravity that the planned wort cannot show and for a wort with more
    /// extract than went into it, `Incomplete` for the pH of a mash without grain and for a
    /// wort of which neither volume nor gravity was measured.
    ///
    /// ```
    /// use wortwright::advice::{DayReading, Action};
    /// use wortwright::job::Job;
    /// use wortwright::quantity::{Ph, uom::si::mass::gram};
    /// # fn main() -> Result<(), Box<dyn std::error::Error>> {
    /// let text = "recipe Plain\nbatch 10 hL into fermenter\ntarget original 12 P\nmash\n  100 % pilsner malt\n\
    ///     brewhouse Kitchen\n  batch 10 L into fermenter\n";
    /// let plan = Job::read([("plain", text)])?.on("Kitchen")?.plan()?;
    /// let reading = DayReading::MashPh { measured: Ph::from_value(5.8)?, wanted: Some(Ph::from_value(5.4)?) };
    /// let advice = plan.advise(&reading)?;
    /// let Action::AddAcid { mass, .. } = &advice.actions[1].action else { return Err("no acid".into()) };
    /// let malt_kg = plan.additions[0].mass.ok_or("no malt")?.get::<uom::si::mass::kilogram>();
    /// // No water report: 40 mEq/(kg pH) of the malt times 0.4, and 9.50 mEq in a gram of lactic acid of 88 % at pH 5.4.
    /// assert!((mass.get::<gram>() - malt_kg * 40.0 * 0.4 / 9.50).abs() < 0.01);
    /// # Ok(())
    /// # }
    /// # use wortwright::quantity::uom;
    /// ```
    pub fn advise(&self, reading: &DayReading) -> Result<Advice, Error> {
        let day = Day::of(self);
        let (mut assumptions, mut warnings, mut remarks) = (Vec::new(), Vec::new(), Vec::new());
        let (mut extract, mut volume) = (None, None);
        let actions = match reading {
            DayReading::BeforeBoil {
                volume: measured,
                shown,
            }
            | DayReading::AfterBoil {
                volume: measured,
                shown,
            }
            | DayReading::InFermenter {
                volume: measured,
                shown,
            } => {
                let at = match reading {
                    DayReading::BeforeBoil { .. } => Measured::BeforeBoil,
                    DayReading::AfterBoil { .. } => Measured::AfterBoil,
                    _ => Measured::InFermenter,
                };
                let read = wort(*measured, *shown, &day.planned_wort(at), &mut remarks)?;
                (volume, extract) = (Some(read.volume), Some(read.extract));
                let mut told = Told {
                    warnings: &mut warnings,
                    remarks: &mut remarks,
                };
                wort_ways(day, at, read, &mut told)?
            }
            DayReading::Juice { name, shown } => {
                let brix = shown.corrected()?;
                extract = Some(brix);
                juice(day, (name, brix), &mut warnings)?
            }
            DayReading::Stopped { shown } => {
                let end = &day.planned().cellar.finished;
                let beer = BeerRead::of(*shown, end.original_extract(), &mut remarks)?;
                extract = Some(beer.apparent);
                stopped(day, self, beer, &mut remarks)?
            }
            DayReading::MashPh { measured, wanted } => {
                mash_off(self, (*measured, *wanted), &mut assumptions, &mut remarks)?
            }
            DayReading::AdditionAt { name, shown } => {
                let (at, item) = late_item(day, name)?;
                let apparent = gravity_before(day, at, item, shown.at_20()?, &mut remarks);
                extract = Some(apparent);
                addition_at(day, at, item, apparent)?
            }
            DayReading::Packaging {
                volume: measured,
                warmest,
                shown,
            } => {
                let original = day.planned().cellar.finished.original_extract();
                let read = |shown: &Shown| BeerRead::of(*shown, original, &mut remarks);
                let read = shown.as_ref().map(read).transpose()?;
                (volume, extract) = (Some(*measured), read.map(|read| read.apparent));
                let beer = FinishedBeer {
                    volume: *measured,
                    warmest: *warmest,
                    read,
                };
                packaging(day, self, beer, &mut warnings)?
            }
        };
        let mut planned = figures(day.planned());
        planned.mash_ph = self.predicted.mash_ph;
        planned.mash_ph_uncertainty = self.predicted.mash_ph_uncertainty;
        Ok(Advice {
            extract,
            volume,
            planned,
            actions,
            assumptions,
            remarks,
            warnings,
        })
    }
}
