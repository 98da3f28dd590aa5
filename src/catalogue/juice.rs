//! Fruit juices, purees and concentrates.

use super::row::{List, Text, row};
use super::{ColourClass, Commonness, FruitAcid, FruitClass, JuiceAroma, JuiceFunction, Level};
use crate::quantity::{BeerColour, Concentration, Extract, Fermentability, Ph, Share};

row! {
    /// A juice, puree or concentrate. An unknown figure is `None`. Figures of a concentrate are those of the concentrate.
    Juice {
        /// Fruit, or group of grape varieties.
        family: Text => "family";
        /// Typical soluble solids.
        extract: Option<Extract> => "extract_plato";
        /// Usual range of soluble solids.
        extract_range: Option<(Extract, Extract)> => "extract_range_plato";
        /// Typical pH.
        ph: Option<Ph> => "ph";
        /// Titratable acidity, as the first of the acids.
        acidity: Option<Concentration> => "acidity_g_l";
        /// Its acids, the leading one first.
        acids: List<FruitAcid> => "acids";
        /// Glucose in the soluble solids.
        glucose: Option<Share> => "glucose_pct", "super::percent::One";
        /// Fructose in the soluble solids.
        fructose: Option<Share> => "fructose_pct", "super::percent::One";
        /// Sucrose in the soluble solids.
        sucrose: Option<Share> => "sucrose_pct", "super::percent::One";
        /// Sorbitol in the soluble solids; yeast leaves it.
        sorbitol: Option<Share> => "sorbitol_pct", "super::percent::One";
        /// Real (mass) share of the soluble solids that yeast consumes.
        fermentability: Option<Fermentability> => "fermentable_pct", "super::percent::One";
        /// How it holds liquid, for fruit as it is; none for what was pressed of it.
        fruit_class: Option<FruitClass> => "fruit_class";
        /// What does not dissolve of the edible part.
        pulp: Option<Share> => "pulp_pct", "super::percent::One";
        /// Seeds in the edible part.
        seeds: Option<Share> => "seeds_pct", "super::percent::One";
        /// Stones and stalks in the fruit as it is bought.
        stones: Option<Share> => "stones_pct", "super::percent::One";
        /// Nitrogen that yeast can take up; varies two- to three-fold.
        assimilable_nitrogen: Option<Concentration> => "assimilable_nitrogen_g_l";
        /// Hue.
        colour_class: Option<ColourClass> => "colour_class";
        /// Not measured: one editorial figure for each hue class.
        colour: Option<BeerColour> => "colour_ebc";
        /// Red pigment.
        anthocyanin: Option<Level> => "anthocyanin";
        /// What dries the mouth, by judgement.
        tannin: Option<Level> => "tannin";
        /// Pectin that leaves a haze.
        pectin: Option<Level> => "pectin";
        /// What it smells of.
        aroma: Option<JuiceAroma> => "aroma";
        /// What to take care of.
        cautions: Text => "cautions";
        /// How easily it is bought.
        commonness: Option<Commonness> => "commonness";
        /// What it does, within which it is replaced first.
        function: Option<JuiceFunction> => "function";
    }
}

impl Juice {
    /// Whether it is fruit as it is, and not what was pressed of it.
    pub(crate) const fn is_whole_fruit(&self) -> bool {
        self.fruit_class.is_some()
    }
}
