//! Figures that only the catalogue needs: one number each, in one stated unit, within a stated range.

use crate::quantity::figure;

figure!(
    /// Mass of an ion that a gram of the product as named brings: mg/L in the water for each g/L of product.
    /// Above 1000 where a carbonate takes up carbon dioxide.
    IonYield, milligrams_per_gram, from_milligrams_per_gram, "mg/g", 0.0..=3000.0
);
figure!(
    /// Acid or alkali that a gram of the product as named brings.
    Equivalents, milliequivalents_per_gram, from_milliequivalents_per_gram, "mEq/g", 0.0..=100.0
);
figure!(
    /// Mass of a mole of the formula, water of crystallisation included.
    MolarMass, grams_per_mole, from_grams_per_mole, "g/mol", 1.0..=1000.0
);
figure!(
    /// Mass of a millilitre of a solution near room temperature.
    Density, grams_per_millilitre, from_grams_per_millilitre, "g/mL", 0.5..=3.0
);
figure!(
    /// Essential oil in hop cones.
    OilContent, millilitres_per_100_grams, from_millilitres_per_100_grams, "mL/100 g", 0.0..=10.0
);
figure!(
    /// Dose of a process aid sold as a liquid, in the volume treated.
    VolumeDose, millilitres_per_hectolitre, from_millilitres_per_hectolitre, "mL/hL", 0.0..=10000.0
);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::ErrorKind;

    #[test]
    fn figures_outside_their_range_are_refused() {
        assert_eq!(
            IonYield::from_milligrams_per_gram(232.8)
                .unwrap()
                .milligrams_per_gram(),
            232.8
        );
        let error = IonYield::from_milligrams_per_gram(-1.0).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::OutOfRange);
        assert!(MolarMass::from_grams_per_mole(f64::NAN).is_err());
        assert_eq!(Density::clamped(f64::NAN), Density(0.5));
        assert_eq!(Density::clamped(9.0), Density(3.0));
    }
}
