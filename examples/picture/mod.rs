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

/// The page of a brew, as one HTML file.
pub(crate) fn sheet(brew: &Brew) -> Result<String, String> {
    let plan = brew.plan().map_err(|error| error.to_string())?;
    let found = brew.substitutes().map_err(|error| error.to_string())?;
    Ok(page(&Brewing {
        plan: &plan,
        found: &found,
        cautions: &plan.cautions(),
        style: brew.brewhouse().style(),
    }))
}
