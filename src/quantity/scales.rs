//! The trade's scales.

use super::scalar::{figure, measured_in, scalar};

/// EBC units per SRM unit: both are absorbance at 430 nm over 1 cm, times 25 and 12.7
/// (EBC method 9.6 and ASBC Beer-10A, as read in `tests/reference`).
const EBC_PER_SRM: f64 = 25.0 / 12.7;

/// Grams of carbon dioxide in a litre of gas at 0 °C and 101.325 kPa: 44.0095 g/mol by the real molar volume
/// 22.2605 L/mol (IUPAC-NIST Solubility Data Series 62). The ideal-gas figure would be 1.9635.
const CARBON_DIOXIDE_PER_VOLUME: f64 = 1.9770;

figure!(
    /// Acid that a kilogram of malt takes up per unit of pH, between its distilled-water mash pH and 5.7.
    Buffering, milliequivalents_per_kilogram_ph, from_milliequivalents_per_kilogram_ph, "mEq/(kg pH)", 0.0..=1000.0
);
figure!(
    /// The pH at which half of an acid's group has given up its proton, at zero ionic strength and 25 °C; strong acids
    /// carry a nominal one below nothing.
    AcidConstant, pk, from_pk, "pK", -10.0..=20.0
);
scalar!(
    /// A temperature on the Celsius scale.
    Temperature, celsius, from_celsius, "°C", -30.0..=200.0
);
scalar!(
    /// The extract of a wort, juice or beer: per cent by mass of the sucrose solution of the same density. Of a wort
    /// it is the real extract; of a fermenting beer it is the apparent one unless a name says otherwise, and may be
    /// below zero.
    Extract, plato, from_plato, "°P", -20.0..=100.0
);
scalar!(
    /// The density of a liquid at 20 °C over that of water at 20 °C.
    SpecificGravity, ratio, from_ratio, "", 0.75..=1.60
);
scalar!(
    /// The colour of a wort or beer: 25 times its absorbance at 430 nm over 1 cm.
    BeerColour, ebc, from_ebc, "EBC", 0.0..=2000.0
);
scalar!(
    /// The colour of a grain, sugar or colouring, by the congress or colour-malt method.
    MaltColour, ebc, from_ebc, "EBC", 0.0..=60000.0
);
scalar!(
    /// Bitterness as milligrams of iso-alpha-acids a litre, nominal (IBU).
    Bitterness, ibu, from_ibu, "IBU", 0.0..=10000.0
);
scalar!(
    /// The starch-degrading power of a malt or grist, on dry matter.
    DiastaticPower, windisch_kolbach, from_windisch_kolbach, "WK", 0.0..=2000.0
);
scalar!(
    /// Dissolved carbon dioxide.
    CarbonDioxide, grams_per_litre, from_grams_per_litre, "g/L", 0.0..=30.0
);
scalar!(
    /// Mass of one thing in a litre of the whole: hops per litre of wort, ions per litre of water.
    Concentration, grams_per_litre, from_grams_per_litre, "g/L", 0.0..=2000.0
);
scalar!(
    /// Apparent absorption: litres of water that went in less litres of first wort that came out, per kilogram of
    /// grain. It is what brewers measure and not the wort that the grain retains.
    Absorption, litres_per_kilogram, from_litres_per_kilogram, "L/kg", 0.0..=5.0
);
scalar!(
    /// Litres of mash water per kilogram of grain.
    LiquorRatio, litres_per_kilogram, from_litres_per_kilogram, "L/kg", 0.5..=50.0
);
scalar!(
    /// Litres of water, at 20 °C, that a boil drives off per hour.
    EvaporationRate, litres_per_hour, from_litres_per_hour, "L/h", 0.0..=100000.0
);
scalar!(
    /// Yeast cells pitched: millions per millilitre of wort and degree Plato.
    PitchRate, million_per_ml_plato, from_million_per_ml_plato, "M/mL/P", 0.01..=20.0
);
scalar!(
    /// Acidity of a solution at room temperature.
    Ph, value, from_value, "", 0.0..=14.0
);
scalar!(
    /// So much of one thing for one of another.
    Proportion, ratio, from_ratio, "", 0.0..=100000.0
);

scalar!(
    /// Packs as sold, of a size that is not stated.
    PackCount, packs, from_packs, "pack", 0.0..=100000.0
);

// An extract is written as a specific gravity too, which takes a density model: `science::density`.
measured_in! {
    Temperature, from_celsius, Temperature;
    SpecificGravity, from_ratio, Ratio;
    BeerColour, from_ebc, Colour;
    MaltColour, from_ebc, Colour;
    Bitterness, from_ibu, Bitterness;
    DiastaticPower, from_windisch_kolbach, DiastaticPower;
    CarbonDioxide, from_grams_per_litre, Concentration or GasVolumes;
    Concentration, from_grams_per_litre, Concentration;
    Absorption, from_litres_per_kilogram, VolumePerMass;
    LiquorRatio, from_litres_per_kilogram, VolumePerMass;
    EvaporationRate, from_litres_per_hour, VolumePerTime;
    PitchRate, from_million_per_ml_plato, PitchRate;
    PackCount, from_packs, Packs;
    Ph, from_value, Ph;
    Proportion, from_ratio, Ratio;
}

impl Temperature {
    /// A temperature in degrees Fahrenheit.
    ///
    /// # Errors
    ///
    /// `OutOfRange` outside -22 to 392 °F.
    pub fn from_fahrenheit(value: f64) -> Result<Self, crate::diagnostic::Error> {
        Self::from_celsius((value - 32.0) / 1.8)
    }

    /// The temperature in degrees Fahrenheit.
    pub const fn fahrenheit(self) -> f64 {
        self.0 * 1.8 + 32.0
    }

    /// The temperature in kelvin.
    pub const fn kelvin(self) -> f64 {
        self.0 + 273.15
    }
}

impl BeerColour {
    /// The colour in SRM units.
    pub const fn srm(self) -> f64 {
        ebc_to_srm(self.0)
    }
}

impl MaltColour {
    /// The colour in degrees Lovibond: (EBC + 1.2) / 2.65 (Noonan, as quoted in trade texts; a maltsters' rule,
    /// 0.375 EBC + 0.56, agrees within 1 %). Laboratories that report SRM as Lovibond differ by up to a third.
    pub const fn lovibond(self) -> f64 {
        ebc_to_lovibond(self.0)
    }
}

impl DiastaticPower {
    /// The power in degrees Lintner: (WK + 16) / 3.5 (from memory; agrees with a printed pair 45 Lintner, 140 WK).
    pub const fn lintner(self) -> f64 {
        wk_to_lintner(self.0)
    }
}

impl CarbonDioxide {
    /// Litres of gas at 0 °C and 101.325 kPa in a litre of beer.
    pub const fn volumes(self) -> f64 {
        grams_per_litre_to_gas_volumes(self.0)
    }
}

impl Concentration {
    /// The unit in which water reports and sulphite are printed.
    pub const fn milligrams_per_litre(self) -> f64 {
        self.0 * 1000.0
    }
}

pub(super) const fn srm_to_ebc(srm: f64) -> f64 {
    srm * EBC_PER_SRM
}

pub(super) const fn ebc_to_srm(ebc: f64) -> f64 {
    ebc / EBC_PER_SRM
}

pub(super) const fn lovibond_to_ebc(lovibond: f64) -> f64 {
    2.65 * lovibond - 1.2
}

pub(super) const fn ebc_to_lovibond(ebc: f64) -> f64 {
    (ebc + 1.2) / 2.65
}

pub(super) const fn lintner_to_wk(lintner: f64) -> f64 {
    3.5 * lintner - 16.0
}

pub(super) const fn wk_to_lintner(wk: f64) -> f64 {
    (wk + 16.0) / 3.5
}

pub(super) const fn gas_volumes_to_grams_per_litre(volumes: f64) -> f64 {
    volumes * CARBON_DIOXIDE_PER_VOLUME
}

pub(super) const fn grams_per_litre_to_gas_volumes(grams_per_litre: f64) -> f64 {
    grams_per_litre / CARBON_DIOXIDE_PER_VOLUME
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;

    #[test]
    fn what_a_scale_shows_is_what_its_unit_reads() {
        let power = DiastaticPower::clamped(140.0);
        // A printed pair, from memory: 45 °Lintner, 140 WK.
        assert!((power.lintner() - 45.0).abs() < 0.5);
        assert_eq!(Unit::Lintner.from_base(140.0), power.lintner());
        let gas = CarbonDioxide::clamped(5.0);
        // 5 g by 44.0095 g/mol and 22.2605 L/mol.
        assert!((gas.volumes() - 5.0 / 44.0095 * 22.2605).abs() < 1e-3);
        assert_eq!(Unit::GasVolumes.from_base(5.0), gas.volumes());
    }
}
