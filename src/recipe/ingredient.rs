//! An ingredient as a recipe names it, with the figures its line states.

use crate::catalogue::{Catalogue, ColourBasis, Kind};
use crate::quantity::{
    AlcoholByVolume, AlphaAcids, Attenuation, Concentration, DiastaticPower, Extract,
    Fermentability, LaboratoryExtract, MaltColour, Moisture, Ph, PitchRate, Protein, Written,
};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::ops::{Deref, DerefMut};

/// An ingredient as a recipe or stock names it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Ingredient {
    /// The name as written.
    pub name: String,
    /// The catalogue entry it means, by that entry's own name; absent when the catalogue does not know it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub entry: Option<String>,
    /// What it is; of one named without its kind, that of the catalogue's entry.
    #[serde(default = "unnamed_kind")]
    pub kind: Kind,
    /// The figures its line states; they override the catalogue's.
    #[serde(default)]
    pub facts: Facts,
}

/// Figures stated for one ingredient, its fields those of [`Stated`]. Most lines state none, and then nothing is kept.
///
/// ```
/// use wortwright::quantity::{Unit, Written};
/// use wortwright::recipe::Facts;
///
/// let mut facts = Facts::default();
/// assert!(facts.alpha.is_none());
/// facts.alpha = Some(Written::new(9.0, Unit::Percent)?);
/// assert_eq!(facts.alpha.map(|alpha| alpha.to_string()).as_deref(), Some("9 %"));
/// # Ok::<(), wortwright::diagnostic::Error>(())
/// ```
#[derive(Debug, Clone, Default)]
pub struct Facts(Option<Box<Stated>>);

/// What can be stated of an ingredient. What is absent comes from the catalogue, and the result says so.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Stated {
    /// Of the laboratory wort for malt, as sold for sugars and extracts.
    #[serde(rename = "colour_ebc", skip_serializing_if = "Option::is_none")]
    pub colour: Option<Written<MaltColour>>,
    /// What the colour of a sugar, syrup or extract refers to; else its catalogue entry decides, and 10 % solution for malt
    /// extract, full strength for others.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub colour_basis: Option<ColourBasis>,
    /// Fine-grind laboratory extract, or the solids of a sugar.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub extract: Option<StatedExtract>,
    /// Moisture as is.
    #[serde(rename = "moisture_pct", skip_serializing_if = "Option::is_none")]
    pub moisture: Option<Written<Moisture>>,
    /// Share of its extract that ferments, by mass.
    #[serde(rename = "fermentable_pct", skip_serializing_if = "Option::is_none")]
    pub fermentability: Option<Written<Fermentability>>,
    /// Starch-degrading power on dry matter.
    #[serde(rename = "diastatic_power_wk", skip_serializing_if = "Option::is_none")]
    pub diastatic_power: Option<Written<DiastaticPower>>,
    /// Protein of dry matter.
    #[serde(rename = "protein_pct", skip_serializing_if = "Option::is_none")]
    pub protein: Option<Written<Protein>>,
    /// Alpha acids of a hop product.
    #[serde(rename = "alpha_pct", skip_serializing_if = "Option::is_none")]
    pub alpha: Option<Written<AlphaAcids>>,
    /// Form of a hop product.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub form: Option<HopForm>,
    /// How fruit was prepared.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fruit_form: Option<FruitForm>,
    /// Soluble solids of a juice or a drink; beside an alcohol a specific gravity is what a hydrometer shows in it.
    #[serde(rename = "brix_plato", skip_serializing_if = "Option::is_none")]
    pub brix: Option<Written<Extract>>,
    /// pH of a juice, or of a distilled-water mash of a malt.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ph: Option<Written<Ph>>,
    /// Titratable acidity of a juice.
    #[serde(rename = "acidity_g_l", skip_serializing_if = "Option::is_none")]
    pub acidity: Option<Written<Concentration>>,
    /// Free sulphur dioxide of a juice.
    #[serde(rename = "sulphite_g_l", skip_serializing_if = "Option::is_none")]
    pub sulphite: Option<Written<Concentration>>,
    /// Sorbic acid of a juice.
    #[serde(rename = "sorbate_g_l", skip_serializing_if = "Option::is_none")]
    pub sorbate: Option<Written<Concentration>>,
    /// Apparent attenuation of the whole pitched wort, stated for a yeast.
    #[serde(rename = "attenuation_pct", skip_serializing_if = "Option::is_none")]
    pub attenuation: Option<Written<Attenuation>>,
    /// Pitching rate stated for a yeast.
    #[serde(
        rename = "pitch_rate_million_per_ml_plato",
        skip_serializing_if = "Option::is_none"
    )]
    pub pitch_rate: Option<Written<PitchRate>>,
    /// Ethanol by volume of a spirit or another drink.
    #[serde(rename = "alcohol_abv_pct", skip_serializing_if = "Option::is_none")]
    pub alcohol: Option<Written<AlcoholByVolume>>,
    /// Its line says `brings nothing`: neither extract nor alcohol, so that only its volume counts, as water. Cautions and
    /// allergens stay.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub brings_nothing: bool,
}

/// An extract figure and its basis.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct StatedExtract {
    /// The figure.
    #[serde(rename = "extract_pct")]
    pub value: Written<LaboratoryExtract>,
    /// Of what.
    pub basis: ExtractBasis,
}

/// What an extract figure is a share of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum ExtractBasis {
    /// Of the product as it is weighed.
    AsIs,
    /// Of its dry matter.
    Dry,
}

/// The form of a hop product.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum HopForm {
    /// Pressed pellets.
    Pellet,
    /// Whole cones.
    Whole,
    /// Fresh, undried cones.
    Fresh,
    /// Carbon dioxide or ethanol extract.
    Extract,
}

/// How fruit was prepared, which says how much beer its pulp keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum FruitForm {
    /// Frozen and thawed, or crushed; stone fruit with its stones.
    Thawed,
    /// Chopped; stone fruit with its stones.
    Chopped,
    /// Without its stones.
    Pitted,
    /// A puree.
    Puree,
    /// Pressed when the beer is racked.
    Pressed,
}

impl FruitForm {
    /// The word for it.
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Self::Thawed => "thawed",
            Self::Chopped => "chopped",
            Self::Pitted => "pitted",
            Self::Puree => "puree",
            Self::Pressed => "pressed",
        }
    }
}

impl Ingredient {
    /// How a hop is made up: as its line says, or its name (`hop extract`, `hop oil`).
    pub(crate) fn hop_form(&self) -> Option<HopForm> {
        let is_extract = |word: &str| ["extract", "oil"].contains(&word.to_lowercase().as_str());
        let by_name = || {
            let mut words = self.name.split_whitespace();
            words.any(is_extract).then_some(HopForm::Extract)
        };
        self.facts.form.or_else(by_name)
    }

    /// An ingredient by name alone: [`resolve`](Self::resolve) finds its kind in the catalogue.
    pub fn of(name: impl Into<String>) -> Self {
        Self::new(name, unnamed_kind())
    }

    /// Finds the entry and the kind of one that was named without them. One that the catalogue does not know stays as it
    /// is, a thing of its own.
    pub fn resolve(&mut self, catalogue: &Catalogue) {
        if self.entry.is_none()
            && self.kind == unnamed_kind()
            && let Some(found) = catalogue.find(&self.name)
        {
            self.entry = Some(found.entry.name().to_owned());
            self.kind = found.entry.kind();
        }
    }

    /// An ingredient of a kind, by name, with nothing stated of it.
    pub fn new(name: impl Into<String>, kind: Kind) -> Self {
        Self {
            name: name.into(),
            entry: None,
            kind,
            facts: Facts::default(),
        }
    }

    /// Whether it is grain, malted or not.
    pub(crate) const fn is_grain(&self) -> bool {
        matches!(self.kind, Kind::Malt | Kind::Grain)
    }

    /// The name under which the catalogue knows it, else the name as written.
    pub fn catalogue_name(&self) -> &str {
        self.entry.as_deref().unwrap_or(&self.name)
    }
}

/// The kind of an ingredient whose kind was not stated.
const fn unnamed_kind() -> Kind {
    Kind::Other
}

impl From<&str> for Ingredient {
    fn from(name: &str) -> Self {
        Self::of(name)
    }
}

impl StatedExtract {
    /// A certificate's figure and what it is a share of.
    #[must_use]
    pub const fn new(value: Written<LaboratoryExtract>, basis: ExtractBasis) -> Self {
        Self { value, basis }
    }
}

/// Whether a word of the name says that it is a hop, such as `hop pellets`.
pub(crate) fn is_called_hop(name: &str) -> bool {
    let mut words = name.split_whitespace();
    words.any(|word| word.eq_ignore_ascii_case("hop") || word.eq_ignore_ascii_case("hops"))
}

/// Nothing stated.
static NOTHING: Stated = Stated {
    colour: None,
    colour_basis: None,
    extract: None,
    moisture: None,
    fermentability: None,
    diastatic_power: None,
    protein: None,
    alpha: None,
    form: None,
    fruit_form: None,
    brix: None,
    ph: None,
    acidity: None,
    sulphite: None,
    sorbate: None,
    attenuation: None,
    pitch_rate: None,
    alcohol: None,
    brings_nothing: false,
};

impl Deref for Facts {
    type Target = Stated;

    fn deref(&self) -> &Stated {
        self.0.as_deref().unwrap_or(&NOTHING)
    }
}

impl DerefMut for Facts {
    fn deref_mut(&mut self) -> &mut Stated {
        self.0.get_or_insert_default()
    }
}

impl From<Stated> for Facts {
    fn from(figures: Stated) -> Self {
        Self((figures != NOTHING).then(|| Box::new(figures)))
    }
}

/// Equal when they state the same.
impl PartialEq for Facts {
    fn eq(&self, other: &Self) -> bool {
        **self == **other
    }
}

impl Serialize for Facts {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        (**self).serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Facts {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Stated::deserialize(deserializer).map(Self::from)
    }
}

/// The schema of what is stated: that nothing is kept for a line that states nothing does not show.
#[cfg(feature = "schema")]
impl schemars::JsonSchema for Facts {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        Stated::schema_name()
    }

    fn schema_id() -> std::borrow::Cow<'static, str> {
        Stated::schema_id()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        Stated::json_schema(generator)
    }
}

impl Facts {
    /// Whether they say what comes into the beer, or that nothing does.
    pub(crate) fn says_what_it_brings(&self) -> bool {
        self.brings_nothing
            || self.extract.is_some()
            || self.brix.is_some()
            || self.alcohol.is_some()
    }

    /// These figures, with those that `over` states put in their place.
    #[must_use]
    pub(crate) fn overlaid_with(&self, over: &Self) -> Self {
        Self::from(Stated {
            colour: over.colour.or(self.colour),
            // A colour brings its own basis.
            colour_basis: over
                .colour_basis
                .or(self.colour_basis.filter(|_| over.colour.is_none())),
            extract: over.extract.clone().or_else(|| self.extract.clone()),
            moisture: over.moisture.or(self.moisture),
            fermentability: over.fermentability.or(self.fermentability),
            diastatic_power: over.diastatic_power.or(self.diastatic_power),
            protein: over.protein.or(self.protein),
            alpha: over.alpha.or(self.alpha),
            form: over.form.or(self.form),
            fruit_form: over.fruit_form.or(self.fruit_form),
            brix: over.brix.or(self.brix),
            ph: over.ph.or(self.ph),
            acidity: over.acidity.or(self.acidity),
            sulphite: over.sulphite.or(self.sulphite),
            sorbate: over.sorbate.or(self.sorbate),
            attenuation: over.attenuation.or(self.attenuation),
            pitch_rate: over.pitch_rate.or(self.pitch_rate),
            alcohol: over.alcohol.or(self.alcohol),
            brings_nothing: over.brings_nothing || self.brings_nothing,
        })
    }
}
