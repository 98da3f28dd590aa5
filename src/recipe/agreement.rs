//! Whether two recipes mean the same within a tolerance, such as one and its copy from JSON.

use super::{
    Addition, Amount, At, BaseMaltChange, Batch, BatchPoint, Boil, Content, CoolStep, ExtractBasis,
    Facts, Fermentation, FruitForm, Heating, Hold, HopForm, HotStep, Ingredient, IonTargets, Mash,
    Moved, PackSize, Package, Packs, Recipe, RecipeLine, Rest, Section, ShareBasis, Souring,
    Sparge, Stand, Stated, StatedExtract, Swap, SwapPart, Swaps, Targets, Timing,
};
use crate::quantity::agreement::{Agree, equal, fields, variants};

impl Recipe {
    /// Whether every figure agrees with the other recipe's within a relative tolerance, and all else is equal. In which
    /// units figures were written does not matter.
    ///
    /// JSON carries 12 significant digits, so a recipe agrees with its copy from JSON within 1e-11.
    ///
    /// ```
    /// use wortwright::diagnostic::TextRef;
    /// use wortwright::notation::read;
    /// let litres = read(&[TextRef::new("a", "recipe Plain\nbatch 2000 L into fermenter\n")]);
    /// let hectolitres = read(&[TextRef::new("b", "recipe Plain\nbatch 20 hL into fermenter\n")]);
    /// let (one, other) = (litres.recipe.expect("read"), hectolitres.recipe.expect("read"));
    /// assert!(one != other && one.agrees(&other, 1e-12));
    /// ```
    #[must_use]
    pub fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        Agree::agrees(self, other, tolerance)
    }
}

impl Agree for Facts {
    fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        (**self).agrees(&**other, tolerance)
    }
}

/// What was printed before its swaps.
impl Agree for Box<Recipe> {
    fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        (**self).agrees(other, tolerance)
    }
}

equal!(bool RecipeLine Section BatchPoint ShareBasis Heating HopForm FruitForm ExtractBasis);

fields! {
    Recipe { name source brewed_on batch targets share_basis water mash souring boil hot_side fermentation package swaps }
    Swaps { made printed }
    Swap { replaced parts base_malt ferments_at }
    SwapPart { ingredient ratio moved amount }
    Moved { section timing }
    BaseMaltChange { line factor }
    Batch { volume at }
    Targets {
        original final_extract alcohol bitterness colour carbonation wort_final wort_alcohol wort_bitterness wort_colour
    }
    IonTargets { calcium magnesium sodium potassium sulphate chloride bicarbonate alkalinity }
    Mash { additions liquor rests ph sparge }
    Rest { temperature time by }
    Sparge { volume temperature }
    Souring { from to time temperature culture }
    Boil { time additions }
    Stand { time temperature additions }
    CoolStep { to time }
    Fermentation { pitch top_up holds additions }
    Hold { temperature time }
    Package { container carbonation primed temperature additions }
    Packs { count each }
    Addition { content amount timing }
    Timing { at contact }
    Ingredient { name entry kind facts }
    Stated {
        colour colour_basis extract moisture fermentability diastatic_power protein alpha form fruit_form brix ph acidity sulphite sorbate
        attenuation pitch_rate alcohol brings_nothing
    }
    StatedExtract { value basis }
}

variants! {
    HotStep { Stand Cool }
    Content { Single Blend }
    PackSize { Mass Volume }
    At { TimeLeft Temperature Gravity AfterPitching }
}

impl Agree for Amount {
    fn agrees(&self, other: &Self, tolerance: f64) -> bool {
        match (self, other) {
            (Self::Mass(one), Self::Mass(other)) => one.agrees(other, tolerance),
            (Self::Volume(one), Self::Volume(other)) => one.agrees(other, tolerance),
            (Self::Concentration(one), Self::Concentration(other)) => one.agrees(other, tolerance),
            (Self::Share(one), Self::Share(other)) => one.agrees(other, tolerance),
            (Self::Dose(one), Self::Dose(other))
            | (Self::ShareByVolume(one), Self::ShareByVolume(other)) => {
                one.agrees(other, tolerance)
            }
            (Self::Bitterness(one), Self::Bitterness(other)) => one.agrees(other, tolerance),
            (Self::PackCount(one), Self::PackCount(other)) => one.agrees(other, tolerance),
            (Self::Packs(one), Self::Packs(other)) => one.agrees(other, tolerance),
            _ => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Kind;
    use crate::quantity::{Unit, Written};

    fn with_share(percent: f64) -> Recipe {
        let mut recipe = Recipe::new("x");
        let mut addition = Addition::of(Ingredient::new("malt", Kind::Malt));
        let share = Written::new(percent, Unit::Percent).unwrap();
        addition.amount = Some(Amount::Share(share));
        recipe.mash.additions.push(addition);
        recipe
    }

    #[test]
    fn figures_agree_within_the_tolerance_only() {
        let one = with_share(70.0);
        assert!(one.agrees(&with_share(70.0), 0.0));
        assert!(one.agrees(&with_share(70.0 + 1e-11), 1e-12));
        assert!(!one.agrees(&with_share(70.0 + 1e-9), 1e-12));
        assert!(!one.agrees(&with_share(70.0 + 1e-9), 0.0));
    }

    #[test]
    fn anything_else_must_be_equal() {
        let one = with_share(70.0);
        let mut other = one.clone();
        other.mash.additions.pop();
        assert!(!one.agrees(&other, 1.0));
        let mut other = one.clone();
        other.name.push('y');
        assert!(!one.agrees(&other, 1.0));
        let mut other = one.clone();
        other.mash.additions[0].timing.at = Some(At::FirstWort);
        assert!(!one.agrees(&other, 1.0));
        assert!(other.agrees(&other, 0.0));
        let mut other = one.clone();
        let litres = Written::new(70.0, Unit::Litre).unwrap();
        other.mash.additions[0].amount = Some(Amount::Volume(litres));
        assert!(!one.agrees(&other, 1.0));
    }
}
