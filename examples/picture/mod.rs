//! A plan as a page of a brewing log with pictures.

mod balance;
mod brew;
mod cellar;
mod day;
mod drawing;
mod ferment;
mod glass;
mod page;
mod proposals;
mod rows;
mod spread;
mod style;

use page::{Brewing, page};
use wortwright::job::Brew;
use wortwright::sheet::TimeOfDay;
use wortwright::speech::Style;

/// What may be set for a page.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct PageOptions {
    /// The units; without them those in which the plant was written.
    pub(crate) style: Option<Style>,
    /// When the brewer begins to heat; without it the clock begins at 0:00.
    pub(crate) start: Option<TimeOfDay>,
}

/// The page of a brew, as one HTML file.
pub(crate) fn sheet(brew: &Brew, options: PageOptions) -> Result<String, String> {
    let found = brew.substitutes().map_err(|error| error.to_string())?;
    let plan = found.taken().and_then(|brew| brew.plan());
    let plan = plan.map_err(|error| error.to_string())?;
    let relieved = plan.with_first_remedy();
    let (plan, wanted) = match &relieved {
        Some(relieved) => (relieved, Some(&plan)),
        None => (&plan, None),
    };
    Ok(page(&Brewing {
        plan,
        wanted,
        found: &found,
        cautions: &plan.cautions(),
        schedule: &plan.schedule(options.start),
        style: options.style.unwrap_or_else(|| brew.brewhouse().style()),
    }))
}
