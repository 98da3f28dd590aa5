//! Shares and yields: one type each, so that they cannot be mixed up.

use super::scalar::{measured_in, scalar};

/// A fraction that is also read and written in per cent.
macro_rules! fraction {
    ($(#[$doc:meta])* $name:ident, $high:literal $(, $other:ident)?) => {
        scalar!($(#[$doc])* $name, fraction, from_fraction, "kg/kg or L/L", 0.0..=$high, shown 100.0, "%");
        measured_in! { $name, from_fraction, Percent $(or $other)?; }

        impl $name {
            /// A value in per cent.
            ///
            /// # Errors
            ///
            /// `OutOfRange` outside the range of the scale.
            pub fn from_percent(value: f64) -> Result<Self, crate::diagnostic::Error> {
                if (0.0..=100.0 * $high).contains(&value) {
                    Ok(Self(value / 100.0))
                } else {
                    Err(super::scalar::out_of_range(
                        &super::scalar::spoken(stringify!($name)), value, "%", 0.0, 100.0 * $high,
                    ))
                }
            }

            /// The value in per cent.
            pub const fn percent(self) -> f64 {
                self.0 * 100.0
            }
        }
    };
}

fraction!(
    /// A part of a whole by mass, or of a blend in the blend's own basis.
    Share, 1.0
);
fraction!(
    /// A part of a liquid by volume.
    VolumeShare, 1.0, VolumePerVolume
);
fraction!(
    /// Water in a grain or sugar, by mass of the product as is.
    Moisture, 1.0
);
fraction!(
    /// Fine-grind laboratory extract by mass. Refined starch reaches 102 % of its dry mass, since hydrolysis binds water.
    LaboratoryExtract, 1.05
);
fraction!(
    /// Extract in cold wort at the end of the boil over the fine-grind as-is laboratory extract of what was mashed.
    BrewhouseYield, 1.0
);
fraction!(
    /// Share of the laboratory extract that dissolves in the mash.
    Conversion, 1.0
);
fraction!(
    /// How thoroughly sparge water mixes with the wort in the grain: 1 is perfect mixing, 0 none.
    Mixing, 1.0
);
fraction!(
    /// Share of an extract's mass that brewer's yeast consumes (real, never apparent).
    Fermentability, 1.0
);
fraction!(
    /// Apparent attenuation: fall of the apparent extract over the original extract. Above 1 for pure sugars.
    Attenuation, 1.3
);
fraction!(
    /// Alpha acids in a hop product, by mass as is.
    AlphaAcids, 1.0
);
fraction!(
    /// Protein in a grain, by mass of dry matter.
    Protein, 1.0
);
fraction!(
    /// Ethanol by volume at 20 °C.
    AlcoholByVolume, 1.0
);
fraction!(
    /// Ethanol by mass.
    AlcoholByMass, 1.0
);
fraction!(
    /// Active substance in a solution, by mass.
    Strength, 1.0
);
