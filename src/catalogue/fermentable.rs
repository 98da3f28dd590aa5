//! Malts, grains, sugars, syrups, honeys, malt extracts and colourings.

use super::row::{Text, row};
use super::{
    ColourBasis, Commonness, FermentableClass, FermentableFunction, Kind, Level, MaltFlavour,
    NeedsMash, SmallMash,
};
use crate::quantity::agreement::Agree;
use crate::quantity::{
    Buffering, DiastaticPower, Fermentability, LaboratoryExtract, MaltColour, Moisture, Ph,
    Protein, Share, Temperature,
};
use serde::{Deserialize, Serialize};

/// At which temperature the starch swells, so that the enzymes of a mash reach it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Gelatinisation {
    /// Flaking, torrefying or roasting has done it.
    Pregelatinised,
    /// The lower and the upper end, in °C.
    #[serde(rename = "range_c")]
    Range(Temperature, Temperature),
}

impl Agree for Gelatinisation {
    fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        match (*self, *other) {
            (Self::Range(low, high), Self::Range(other_low, other_high)) => {
                (low, high).agrees(&(other_low, other_high), tolerance)
            }
            _ => self == other,
        }
    }
}

row! {
    /// A malt, grain, sugar, syrup, honey, malt extract or colouring. An unknown figure is `None`.
    ///
    /// ```
    /// use wortwright::catalogue::{Fermentable, FermentableClass};
    /// use wortwright::quantity::{LaboratoryExtract, Moisture};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let mut malt = Fermentable::new("Barn-smoked malt");
    /// malt.class = Some(FermentableClass::SmokedMalt);
    /// malt.extract = Some(LaboratoryExtract::from_percent(80.0)?);
    /// malt.moisture = Some(Moisture::from_percent(4.5)?);
    /// let as_is = malt.extract_as_is().expect("both figures are known");
    /// assert!((as_is.percent() - 76.4).abs() < 1e-9);
    /// # Ok(())
    /// # }
    /// ```
    Fermentable {
        /// What it is made for.
        class: Option<FermentableClass> => "class";
        /// Plant or origin.
        botanical: Text => "botanical";
        /// Malt, flaked, whole raw grain, crystals, syrup …
        form: Text => "form";
        /// Water, of the product as is.
        moisture: Option<Moisture> => "moisture_pct", "super::percent::One";
        /// Fine-grind hot-water extract on dry matter; for sugars and extracts their soluble solids.
        extract: Option<LaboratoryExtract> => "extract_dry_pct", "super::percent::One";
        /// Fine less coarse extract, in points of per cent.
        coarse_fine_difference: Option<LaboratoryExtract> => "coarse_fine_difference_pct", "super::percent::One";
        /// Typical colour.
        colour: Option<MaltColour> => "colour_ebc";
        /// Usual range of colour in the trade.
        colour_range: Option<(MaltColour, MaltColour)> => "colour_range_ebc";
        /// What the colour of a sugar, syrup or extract refers to: where it is unknown a 10 % solution for malt extract, full
        /// strength for others. Of the laboratory wort for malt and grain.
        colour_basis: Option<ColourBasis> => "colour_basis";
        /// Starch-degrading power on dry matter; 0 where heating has left none.
        diastatic_power: Option<DiastaticPower> => "diastatic_power_wk";
        /// Protein on dry matter (N × 6.25 for malts; 5.7 to 6.31 for raw grain).
        protein: Option<Protein> => "protein_dry_pct", "super::percent::One";
        /// Real (mass) share of its own extract that yeast consumes, in a wort mashed at 65 to 66 °C.
        fermentability: Option<Fermentability> => "fermentable_pct", "super::percent::One";
        /// Share of the solids of a starch sugar that is maltotriose, which some yeasts leave; `None` for all that is none.
        maltotriose: Option<Share> => "maltotriose_pct", "super::percent::One";
        /// Whether it must be mashed.
        needs_mash: Option<NeedsMash> => "needs_mash";
        /// When its starch swells.
        gelatinisation: Option<Gelatinisation> => "gelatinisation";
        /// Usual upper share of the grist (common practice, no source).
        usual_max_share: Option<Share> => "usual_max_share_pct", "super::percent::One";
        /// Beta-glucan or other gum that thickens the wort.
        gum: Option<Level> => "gum";
        /// pH of a mash with distilled water.
        mash_ph: Option<Ph> => "mash_ph";
        /// Buffering between that pH and 5.7.
        buffering: Option<Buffering> => "buffering_meq_kg_ph";
        /// What it tastes of.
        flavour: Option<MaltFlavour> => "flavour";
        /// How easily it is bought.
        commonness: Option<Commonness> => "commonness";
        /// What it does, within which it is replaced first.
        function: Option<FermentableFunction> => "function";
        /// Whether a small mash can use it.
        small_mash: Option<SmallMash> => "small_mash";
    }
}

impl Fermentable {
    /// Fine-grind extract of the product as is: dry extract × (1 − moisture); `None` when either is unknown.
    #[must_use]
    pub fn extract_as_is(&self) -> Option<LaboratoryExtract> {
        let (dry, moisture) = (self.extract?, self.moisture?);
        Some(LaboratoryExtract::clamped(
            dry.fraction() * (1.0 - moisture.fraction()),
        ))
    }

    /// The kind that follows from the class; `Other` while the class is unknown.
    #[must_use]
    pub const fn kind(&self) -> Kind {
        match self.class {
            Some(class) => class.kind(),
            None => Kind::Other,
        }
    }
}
