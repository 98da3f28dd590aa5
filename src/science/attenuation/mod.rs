//! Attenuation: from extract to alcohol, and from a hydrometer's reading to both.
//!
//! Two relations do the work. Balling's balance ([`original_extract`], [`alcohol_by_mass`], [`Composition::fermented`])
//! says what becomes of a gram of extract; Tabarié's ([`Composition::density`]) says what liquid results and so what
//! a hydrometer shows. [`Beer`] joins them. The factor 0.8192 that is usually put between apparent and real extract
//! stands nowhere here: against these densities it is wrong by up to 0.3 °P, and not by the same amount for every beer.
//!
//! Extract is per cent by mass (°P) throughout, alcohol by mass or by volume at 20 °C.
//!
//! | word | meaning |
//! |---|---|
//! | original extract | extract of the wort before fermentation |
//! | real extract | extract of the beer, by mass of the beer |
//! | apparent extract | extract of the sucrose solution as dense as the beer: what a hydrometer shows |
//! | apparent attenuation | fall to the apparent extract over the original extract |
//! | real attenuation | fall to the real extract over the original extract |
//! | fermented share | mass of extract consumed over mass of extract in the wort |

mod balling;
mod beer;
mod composition;
mod tabarie;

pub use balling::{
    alcohol_by_mass, apparent_attenuation, fermented_share, original_extract, real_attenuation,
    real_extract,
};
pub use beer::Beer;
pub use composition::Composition;
pub use tabarie::density_by_mass_reading;

pub(crate) use balling::{CARBON_DIOXIDE_PER_ETHANOL, EXTRACT_PER_ETHANOL};
pub(crate) use tabarie::{beer_density_20, fermented_at_density_kg};
