//! Every unit that can be written, with its symbols, dimension and factor.

use super::scales::{
    ebc_to_lovibond, ebc_to_srm, gas_volumes_to_grams_per_litre, grams_per_litre_to_gas_volumes,
    lintner_to_wk, lovibond_to_ebc, srm_to_ebc, wk_to_lintner,
};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// What a unit measures; it decides where the unit may stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum Dimension {
    /// Base kg.
    Mass,
    /// Base L.
    Volume,
    /// Mass per volume, base g/L.
    Concentration,
    /// Volume per volume, base L/L.
    VolumePerVolume,
    /// Base fraction.
    Percent,
    /// Base L/kg.
    VolumePerMass,
    /// Base L/h.
    VolumePerTime,
    /// Base °P.
    Gravity,
    /// A specific gravity, the one unitless form.
    Ratio,
    /// Base EBC.
    Colour,
    /// Base WK.
    DiastaticPower,
    /// Base IBU.
    Bitterness,
    /// Volumes of gas per volume of beer, base g/L.
    GasVolumes,
    /// Base °C.
    Temperature,
    /// Base min.
    Time,
    /// Base m.
    Length,
    /// Base bar.
    Pressure,
    /// Base kJ/K.
    HeatCapacity,
    /// Base kW.
    Power,
    /// Base million cells per mL and °P.
    PitchRate,
    /// Base mmol of acid or base.
    Equivalents,
    /// A number without a unit that names itself: pH.
    Ph,
    /// Packets as sold.
    Packs,
}

impl Dimension {
    /// What to write, for messages: `a temperature (C or F)`.
    pub const fn expected(self) -> &'static str {
        match self {
            Self::Mass => "a mass (`kg`, `g`, `lb` or `oz`)",
            Self::Volume => "a volume (`L`, `hL`, `mL`, `gal` or `bbl`)",
            Self::Concentration => {
                "a mass per volume (`g/L`, `g/hL`, `mg/L`, `oz/gal` or `lb/bbl`)"
            }
            Self::VolumePerVolume => "a volume per volume (`mL/L` or `mL/hL`)",
            Self::Percent => "a share (`%`)",
            Self::VolumePerMass => "litres per kilogram (`L/kg` or `qt/lb`)",
            Self::VolumePerTime => "a volume per hour (`L/h` or `gal/h`)",
            Self::Gravity | Self::Ratio => "a gravity (`P`, or a specific gravity such as `1.050`)",
            Self::Colour => "a colour (`EBC`, `SRM` or `lovibond`)",
            Self::DiastaticPower => "a diastatic power (`WK` or `lintner`)",
            Self::Bitterness => "a bitterness (`IBU`)",
            Self::GasVolumes => "carbon dioxide (`g/L` or `volumes`)",
            Self::Temperature => "a temperature (`C` or `F`)",
            Self::Time => "a time (`min`, `h` or `days`)",
            Self::Length => "an altitude (`m` or `ft`)",
            Self::Pressure => "a pressure (`bar`, `kPa` or `psi`)",
            Self::HeatCapacity => "a heat capacity (`kJ/K`)",
            Self::Power => "a power (`kW` or `W`)",
            Self::PitchRate => "a pitching rate (`M/mL/P`)",
            Self::Equivalents => "an amount of acid (`mEq`)",
            Self::Ph => "a pH",
            Self::Packs => "a number of packs (`pack`)",
        }
    }
}

/// The units of a practice; a unit shared by two stands in the first.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum UnitSystem {
    /// Kilograms, litres, degrees Celsius.
    #[default]
    Metric,
    /// United States customary measure.
    Us,
    /// British imperial measure.
    Imperial,
}

macro_rules! units {
    ($($variant:ident $dimension:ident $factor:literal $system:ident $symbol:literal [$($alias:literal),*])*) => {
        /// A unit that can be written in the notation.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[non_exhaustive]
        #[allow(missing_docs, reason = "each variant is named after its unit")]
        pub enum Unit {
            $($variant,)*
        }

        impl Unit {
            /// Every unit.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)*];

            /// What it measures.
            pub const fn dimension(self) -> Dimension {
                match self { $(Self::$variant => Dimension::$dimension,)* }
            }

            /// The symbol as this crate prints it.
            pub const fn symbol(self) -> &'static str {
                match self { $(Self::$variant => $symbol,)* }
            }

            /// Other spellings that are read.
            pub const fn aliases(self) -> &'static [&'static str] {
                match self { $(Self::$variant => &[$($alias),*],)* }
            }

            /// The practice it belongs to.
            pub const fn system(self) -> UnitSystem {
                match self { $(Self::$variant => UnitSystem::$system,)* }
            }

            const fn factor(self) -> f64 {
                match self { $(Self::$variant => $factor,)* }
            }
        }
    };
}

// Pound, ounce, gallon, foot: exact by the yard and pound agreement of 1959, the US gallon of 231 cubic inches and the
// UK Units of Measurement Regulations 1995 (4.54609 L); from memory. US beer barrel 31 gal, imperial 36 imp gal (trade).
// A stone is 14 lb (UK Weights and Measures Act 1985, schedule 1; from memory).
units! {
    Kilogram Mass 1.0 Metric "kg" ["kilogram", "kilograms", "kilo", "kilos"]
    Gram Mass 0.001 Metric "g" ["gram", "grams", "gramme", "grammes"]
    Milligram Mass 0.000001 Metric "mg" ["milligram", "milligrams"]
    Tonne Mass 1000.0 Metric "t" ["tonne", "tonnes"]
    Pound Mass 0.45359237 Us "lb" ["lbs", "pound", "pounds"]
    Ounce Mass 0.028349523125 Us "oz" ["ounce", "ounces"]
    Stone Mass 6.35029318 Imperial "stone" ["stones"]
    Litre Volume 1.0 Metric "L" ["l", "litre", "litres", "liter", "liters"]
    Millilitre Volume 0.001 Metric "mL" ["ml", "millilitre", "millilitres", "milliliter", "milliliters"]
    Centilitre Volume 0.01 Metric "cL" ["cl", "centilitre", "centilitres"]
    Hectolitre Volume 100.0 Metric "hL" ["hl", "hectolitre", "hectolitres", "hectoliter", "hectoliters"]
    Gallon Volume 3.785411784 Us "gal" ["gallon", "gallons", "us gal"]
    Quart Volume 0.946352946 Us "qt" ["quart", "quarts"]
    Pint Volume 0.473176473 Us "pt" ["pint", "pints"]
    FluidOunce Volume 0.0295735295625 Us "fl oz" ["floz", "fluid ounce", "fluid ounces"]
    Barrel Volume 117.347765304 Us "bbl" ["bbls", "barrel", "barrels", "us bbl"]
    Teaspoon Volume 0.00492892159375 Us "tsp" ["teaspoon", "teaspoons"]
    Tablespoon Volume 0.01478676478125 Us "tbsp" ["tablespoon", "tablespoons"]
    ImperialGallon Volume 4.54609 Imperial "imp gal" ["imp gallon", "imp gallons", "imperial gallon", "imperial gallons"]
    ImperialQuart Volume 1.1365225 Imperial "imp qt" ["imp quart", "imp quarts"]
    ImperialPint Volume 0.56826125 Imperial "imp pt" ["imp pint", "imp pints"]
    ImperialFluidOunce Volume 0.0284130625 Imperial "imp fl oz" ["imp floz"]
    ImperialBarrel Volume 163.65924 Imperial "imp bbl" ["imp barrel", "imp barrels"]
    GramPerLitre Concentration 1.0 Metric "g/L" ["g/l"]
    MilligramPerLitre Concentration 0.001 Metric "mg/L" ["mg/l", "ppm"]
    GramPerHectolitre Concentration 0.01 Metric "g/hL" ["g/hl"]
    KilogramPerHectolitre Concentration 10.0 Metric "kg/hL" ["kg/hl"]
    PoundPerBarrel Concentration 3.8653686231256983 Us "lb/bbl" ["lbs/bbl"]
    OuncePerBarrel Concentration 0.24158553894535614 Us "oz/bbl" []
    GramPerBarrel Concentration 0.008521679108327369 Us "g/bbl" []
    PoundPerGallon Concentration 119.82642731689664 Us "lb/gal" ["lbs/gal"]
    OuncePerGallon Concentration 7.48915170730604 Us "oz/gal" []
    GramPerGallon Concentration 0.26417205235814845 Us "g/gal" []
    PoundPerImperialBarrel Concentration 2.7715659073083803 Imperial "lb/imp bbl" []
    OuncePerImperialBarrel Concentration 0.17322286920677377 Imperial "oz/imp bbl" []
    OuncePerImperialGallon Concentration 6.236023291443856 Imperial "oz/imp gal" []
    MillilitrePerLitre VolumePerVolume 0.001 Metric "mL/L" ["ml/l"]
    MillilitrePerHectolitre VolumePerVolume 0.00001 Metric "mL/hL" ["ml/hl"]
    Percent Percent 0.01 Metric "%" ["percent", "per cent", "pct"]
    LitrePerKilogram VolumePerMass 1.0 Metric "L/kg" ["l/kg"]
    QuartPerPound VolumePerMass 2.0863511130048327 Us "qt/lb" []
    GallonPerPound VolumePerMass 8.34540445201933 Us "gal/lb" []
    ImperialQuartPerPound VolumePerMass 2.5056032137401254 Imperial "imp qt/lb" []
    LitrePerHour VolumePerTime 1.0 Metric "L/h" ["l/h", "L/hr", "l/hr"]
    HectolitrePerHour VolumePerTime 100.0 Metric "hL/h" ["hl/h"]
    GallonPerHour VolumePerTime 3.785411784 Us "gal/h" ["gal/hr"]
    QuartPerHour VolumePerTime 0.946352946 Us "qt/h" ["qt/hr"]
    BarrelPerHour VolumePerTime 117.347765304 Us "bbl/h" ["bbl/hr"]
    ImperialGallonPerHour VolumePerTime 4.54609 Imperial "imp gal/h" []
    Plato Gravity 1.0 Metric "P" ["°P", "plato", "degrees plato"]
    Brix Gravity 1.0 Metric "Bx" ["°Bx", "brix", "degrees brix"]
    SpecificGravity Ratio 1.0 Us "" ["SG", "sg"]
    Ebc Colour 1.0 Metric "EBC" ["ebc"]
    Srm Colour 1.0 Us "SRM" ["srm"]
    Lovibond Colour 1.0 Us "lovibond" ["°L", "degrees lovibond"]
    WindischKolbach DiastaticPower 1.0 Metric "WK" ["°WK", "wk"]
    Lintner DiastaticPower 1.0 Us "lintner" ["°lintner", "degrees lintner"]
    Ibu Bitterness 1.0 Metric "IBU" ["ibu", "EBU", "BU"]
    GasVolumes GasVolumes 1.0 Us "volumes" ["vol", "vols", "volume"]
    Celsius Temperature 1.0 Metric "C" ["°C", "celsius"]
    Fahrenheit Temperature 1.0 Us "F" ["°F", "fahrenheit"]
    Minute Time 1.0 Metric "min" ["mins", "minute", "minutes"]
    Second Time 0.016666666666666666 Metric "s" ["sec", "second", "seconds"]
    Hour Time 60.0 Metric "h" ["hr", "hrs", "hour", "hours"]
    Day Time 1440.0 Metric "days" ["day", "d"]
    Week Time 10080.0 Metric "weeks" ["week"]
    Metre Length 1.0 Metric "m" ["metre", "metres", "meter", "meters"]
    Foot Length 0.3048 Us "ft" ["feet", "foot"]
    Bar Pressure 1.0 Metric "bar" []
    Kilopascal Pressure 0.01 Metric "kPa" ["kpa"]
    Psi Pressure 0.06894757293168361 Us "psi" []
    KilojoulePerKelvin HeatCapacity 1.0 Metric "kJ/K" ["kJ/C"]
    Kilowatt Power 1.0 Metric "kW" []
    Watt Power 0.001 Metric "W" ["watt", "watts"]
    MillionPerMillilitrePlato PitchRate 1.0 Metric "M/mL/P" ["M/ml/P"]
    MilliEquivalent Equivalents 1.0 Metric "mEq" ["meq"]
    PhValue Ph 1.0 Metric "" ["pH"]
    Pack Packs 1.0 Metric "pack" ["packs", "packet", "packets", "sachet", "sachets"]
}

impl Unit {
    /// The unit in which a value of this dimension is said where nothing else is asked for. Mostly it is the one that
    /// the crate computes in; shares are said in per cent, volumes per volume in mL/L and gas in volumes, and computed
    /// as fractions and in g/L.
    pub const fn base(dimension: Dimension) -> Self {
        match dimension {
            Dimension::Mass => Self::Kilogram,
            Dimension::Volume => Self::Litre,
            Dimension::Concentration => Self::GramPerLitre,
            Dimension::VolumePerVolume => Self::MillilitrePerLitre,
            Dimension::Percent => Self::Percent,
            Dimension::VolumePerMass => Self::LitrePerKilogram,
            Dimension::VolumePerTime => Self::LitrePerHour,
            Dimension::Gravity => Self::Plato,
            Dimension::Ratio => Self::SpecificGravity,
            Dimension::Colour => Self::Ebc,
            Dimension::DiastaticPower => Self::WindischKolbach,
            Dimension::Bitterness => Self::Ibu,
            Dimension::GasVolumes => Self::GasVolumes,
            Dimension::Temperature => Self::Celsius,
            Dimension::Time => Self::Minute,
            Dimension::Length => Self::Metre,
            Dimension::Pressure => Self::Bar,
            Dimension::HeatCapacity => Self::KilojoulePerKelvin,
            Dimension::Power => Self::Kilowatt,
            Dimension::PitchRate => Self::MillionPerMillilitrePlato,
            Dimension::Equivalents => Self::MilliEquivalent,
            Dimension::Ph => Self::PhValue,
            Dimension::Packs => Self::Pack,
        }
    }

    /// Whether a quantity of `dimension` may be written in this unit.
    pub fn measures(self, dimension: Dimension) -> bool {
        self.dimension() == dimension
    }

    /// `number` of this unit in the base of its dimension, as [`Dimension`] states it.
    pub const fn to_base(self, number: f64) -> f64 {
        match self {
            Self::Srm => srm_to_ebc(number),
            Self::Lovibond => lovibond_to_ebc(number),
            Self::Lintner => lintner_to_wk(number),
            Self::GasVolumes => gas_volumes_to_grams_per_litre(number),
            Self::Fahrenheit => (number - 32.0) / 1.8,
            // Division by an exact hundred is closer than multiplication by a rounded hundredth.
            Self::Percent => number / 100.0,
            _ => number * self.factor(),
        }
    }

    /// A value in the base of the dimension, in this unit.
    pub const fn from_base(self, value: f64) -> f64 {
        match self {
            Self::Srm => ebc_to_srm(value),
            Self::Lovibond => ebc_to_lovibond(value),
            Self::Lintner => wk_to_lintner(value),
            Self::GasVolumes => grams_per_litre_to_gas_volumes(value),
            Self::Fahrenheit => value * 1.8 + 32.0,
            Self::Percent => value * 100.0,
            _ => value / self.factor(),
        }
    }
}

impl Serialize for Unit {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(match self {
            Self::SpecificGravity => "SG",
            Self::PhValue => "pH",
            _ => self.symbol(),
        })
    }
}

impl<'de> Deserialize<'de> for Unit {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let symbol = <std::borrow::Cow<'de, str>>::deserialize(deserializer)?;
        Self::ALL
            .iter()
            .find(|unit| unit.symbol() == symbol || unit.aliases().contains(&&*symbol))
            .copied()
            .ok_or_else(|| de::Error::custom(format!("unknown unit `{symbol}`")))
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Unit {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Unit".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let spellings = |unit: &Self| {
            let others = unit.aliases().iter().copied();
            std::iter::once(unit.symbol()).chain(others)
        };
        let known: Vec<_> = Self::ALL.iter().flat_map(spellings).collect();
        schemars::json_schema!({"enum": known})
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn composite_factors_follow_from_their_parts() {
        let close = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-10, "{a} {b}");
        let f = Unit::factor;
        let per = |m: Unit, v: Unit| 1000.0 * f(m) / f(v);
        close(f(Unit::Stone), 14.0 * f(Unit::Pound));
        close(f(Unit::PoundPerBarrel), per(Unit::Pound, Unit::Barrel));
        close(f(Unit::OuncePerBarrel), per(Unit::Ounce, Unit::Barrel));
        close(f(Unit::GramPerBarrel), per(Unit::Gram, Unit::Barrel));
        close(f(Unit::PoundPerGallon), per(Unit::Pound, Unit::Gallon));
        close(f(Unit::OuncePerGallon), per(Unit::Ounce, Unit::Gallon));
        close(f(Unit::GramPerGallon), per(Unit::Gram, Unit::Gallon));
        close(
            f(Unit::PoundPerImperialBarrel),
            per(Unit::Pound, Unit::ImperialBarrel),
        );
        close(
            f(Unit::OuncePerImperialBarrel),
            per(Unit::Ounce, Unit::ImperialBarrel),
        );
        close(
            f(Unit::OuncePerImperialGallon),
            per(Unit::Ounce, Unit::ImperialGallon),
        );
        close(f(Unit::QuartPerPound), f(Unit::Quart) / f(Unit::Pound));
        close(f(Unit::GallonPerPound), f(Unit::Gallon) / f(Unit::Pound));
        close(
            f(Unit::ImperialQuartPerPound),
            f(Unit::ImperialQuart) / f(Unit::Pound),
        );
        close(f(Unit::Barrel), 31.0 * f(Unit::Gallon));
        close(f(Unit::ImperialBarrel), 36.0 * f(Unit::ImperialGallon));
        close(f(Unit::Pound), 16.0 * f(Unit::Ounce));
        close(f(Unit::Gallon), 128.0 * f(Unit::FluidOunce));
        close(f(Unit::ImperialGallon), 160.0 * f(Unit::ImperialFluidOunce));
        close(f(Unit::Tablespoon), 3.0 * f(Unit::Teaspoon));
        close(f(Unit::FluidOunce), 2.0 * f(Unit::Tablespoon));
    }

    #[test]
    fn scales_of_their_own_meet_published_pairs() {
        let pairs = [
            // EBC method 9.6 and ASBC Beer-10A: 25 and 12.7 times one absorbance.
            (Unit::Srm, 12.7, 25.0, 1e-12),
            // Noonan's rule, as quoted in trade texts: 2.65 °L - 1.2.
            (Unit::Lovibond, 60.0, 157.8, 1e-12),
            // A printed pair, from memory: 45 °Lintner, 140 WK; the relation gives 141.5.
            (Unit::Lintner, 45.0, 140.0, 1.6),
            // Molar mass and molar volume of carbon dioxide at 0 °C: 44.0095 g/mol by 22.2605 L/mol.
            (Unit::GasVolumes, 22.2605, 44.0095, 1e-3),
            (Unit::Fahrenheit, 212.0, 100.0, 1e-12),
            (Unit::Fahrenheit, -40.0, -40.0, 1e-12),
            (Unit::Percent, 4.5, 0.045, 1e-15),
        ];
        for (unit, written, base, within) in pairs {
            let found = unit.to_base(written);
            assert!((found - base).abs() <= within, "{unit:?}: {found} {base}");
        }
    }

    #[test]
    fn every_unit_leads_to_its_base_and_back_and_is_read_as_it_is_written() {
        for unit in Unit::ALL {
            for written in [0.25, 7.0, 66.5] {
                let back = unit.from_base(unit.to_base(written));
                assert!((back - written).abs() < 1e-12 * 66.5, "{unit:?} {back}");
            }
            let text = serde_json::to_string(unit).unwrap();
            assert!(text.len() > 2, "{unit:?}");
            assert_eq!(
                serde_json::from_str::<Unit>(&text).unwrap(),
                *unit,
                "{text}"
            );
        }
        assert!(serde_json::from_str::<Unit>("\"firkin\"").is_err());
    }

    #[test]
    fn case_matters_first_and_then_only_where_one_unit_fits() {
        let any = [Dimension::Mass, Dimension::Volume];
        assert_eq!(Unit::find("L", &any), Some(Unit::Litre));
        assert_eq!(Unit::find("KG", &any), Some(Unit::Kilogram));
        assert_eq!(Unit::find("°L", &any), None);
        assert_eq!(Unit::find("L", &[Dimension::Colour]), None);
        assert_eq!(
            Unit::find("f", &[Dimension::Temperature]),
            Some(Unit::Fahrenheit)
        );
        assert_eq!(Unit::find("p", &[Dimension::Gravity]), Some(Unit::Plato));
        assert_eq!(Unit::find("", &[Dimension::Ratio]), None);
    }
}
