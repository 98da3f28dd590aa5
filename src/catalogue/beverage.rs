//! Water, spirits and other drinks that are poured in as they are.

use super::row::row;
use crate::quantity::{AlcoholByVolume, BeerColour, Extract, Fermentability};

row! {
    /// Water, a spirit or another drink that is poured in as it is. An unknown figure is `None`.
    ///
    /// ```
    /// use wortwright::catalogue::{Beverage, Catalogue};
    /// use wortwright::quantity::{AlcoholByVolume, Extract};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let mut cider = Beverage::new("farm cider");
    /// cider.alcohol = Some(AlcoholByVolume::from_percent(6.5)?);
    /// cider.extract = Some(Extract::from_plato(2.0)?);
    /// let catalogue = Catalogue::builtin().with([cider.into()]);
    /// assert!(catalogue.find("farm cider").is_some());
    /// # Ok(())
    /// # }
    /// ```
    Beverage {
        /// Ethanol by volume at 20 °C.
        alcohol: Option<AlcoholByVolume> => "alcohol_abv_pct", "super::percent::One";
        /// Extract by mass, what is left when water and ethanol are driven off.
        extract: Option<Extract> => "extract_plato";
        /// Real (mass) share of its own extract that yeast consumes.
        fermentability: Option<Fermentability> => "fermentable_pct", "super::percent::One";
        /// Colour.
        colour: Option<BeerColour> => "colour_ebc";
    }
}
