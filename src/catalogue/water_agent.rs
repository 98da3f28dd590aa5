//! Salts, acids and sulphites: what changes the ions, the pH or the keeping of a liquid.

use super::row::{Text, row};
use super::{Density, Equivalents, IonYield, Kind, MolarMass, WaterAgentUse};
use crate::quantity::agreement::fields;
use crate::quantity::{AcidConstant, Strength};
use serde::{Deserialize, Serialize};

/// What a gram of the product as named brings; solutions already count their strength. `None`: its formula has none.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct IonsPerGram {
    /// Calcium.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        rename = "calcium_mg_g"
    )]
    pub calcium: Option<IonYield>,
    /// Magnesium.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        rename = "magnesium_mg_g"
    )]
    pub magnesium: Option<IonYield>,
    /// Sodium.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        rename = "sodium_mg_g"
    )]
    pub sodium: Option<IonYield>,
    /// Potassium.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        rename = "potassium_mg_g"
    )]
    pub potassium: Option<IonYield>,
    /// Sulphate.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        rename = "sulphate_mg_g"
    )]
    pub sulphate: Option<IonYield>,
    /// Chloride.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        rename = "chloride_mg_g"
    )]
    pub chloride: Option<IonYield>,
    /// Bicarbonate; for carbonates after full conversion by carbon dioxide.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        rename = "bicarbonate_mg_g"
    )]
    pub bicarbonate: Option<IonYield>,
    /// Zinc.
    #[serde(default, skip_serializing_if = "Option::is_none", rename = "zinc_mg_g")]
    pub zinc: Option<IonYield>,
    /// Nitrogen of ammonium.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        rename = "ammonium_nitrogen_mg_g"
    )]
    pub ammonium_nitrogen: Option<IonYield>,
    /// Sulphur dioxide, theoretical; practice counts about half of it.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        rename = "sulphur_dioxide_mg_g"
    )]
    pub sulphur_dioxide: Option<IonYield>,
}

fields! {
    IonsPerGram {
        calcium magnesium sodium potassium sulphate chloride bicarbonate zinc ammonium_nitrogen sulphur_dioxide
    }
}

row! {
    /// A salt, acid or sulphite. An unknown figure is `None`.
    WaterAgent {
        /// What it is used for.
        usage: Option<WaterAgentUse> => "usage";
        /// Chemical formula, without the water of a solution.
        formula: Text => "formula";
        /// Hydrate, or solution.
        form: Text => "form";
        /// Molar mass of the formula.
        molar_mass: Option<MolarMass> => "molar_mass_g_mol";
        /// Ions brought.
        ions: Option<IonsPerGram> => "ions";
        /// Alkalinity brought: 50.04 mg as calcium carbonate for each milliequivalent.
        alkalinity: Option<Equivalents> => "alkalinity_meq_g";
        /// pK of the first acid group; nominal for strong acids.
        pk1: Option<AcidConstant> => "pk1";
        /// pK of the second acid group.
        pk2: Option<AcidConstant> => "pk2";
        /// pK of the third acid group.
        pk3: Option<AcidConstant> => "pk3";
        /// Active substance in the product.
        strength: Option<Strength> => "strength_pct", "super::percent::One";
        /// Density of a liquid product.
        density: Option<Density> => "density_g_ml";
        /// Protons given up on coming to pH 5.4, by its pK values.
        acidity_at_ph_5_4: Option<Equivalents> => "acidity_at_ph_5_4_meq_g";
        /// What else is to be known.
        note: Text => "note";
    }
}

impl WaterAgent {
    /// `Acid` for acids, else `Salt`.
    #[must_use]
    pub fn kind(&self) -> Kind {
        if self.usage == Some(WaterAgentUse::Acid) {
            Kind::Acid
        } else {
            Kind::Salt
        }
    }
}
