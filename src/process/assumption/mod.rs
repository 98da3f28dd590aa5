//! Everything that was taken for granted, each with its figure.

mod fermentability_basis;
mod figure;
mod forms;
mod mash_in_unused;
mod no_mash_ph;
mod text;
mod unused;

pub use fermentability_basis::FermentabilityBasis;
pub use figure::Figure;
pub use mash_in_unused::MashInUnused;
pub use no_mash_ph::NoMashPh;
pub use unused::Unused;

use super::container::Container;
use super::plant_defaults::Defaulted;
use super::side::{PlantSize, Side};
use crate::catalogue::ColourBasis;
use crate::diagnostic::codes;
use crate::quantity::{
    Attenuation, BrewhouseYield, Extract, Fermentability, LiquorRatio, Ph, Share, Temperature,
    Volume,
};
use crate::science::heat::Raise;
use crate::science::water::Ion;
use serde::Serialize;

/// Something that the recipe or the plant does not say and that was therefore assumed.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Assumption {
    /// A plant line that is missing; common practice stands in. In JSON the figure is a `value` with its `unit`.
    #[serde(serialize_with = "forms::plant_default_form")]
    #[cfg_attr(feature = "schema", schemars(with = "forms::PlantDefaultForm"))]
    PlantDefault {
        /// Which plant.
        side: Side,
        /// Which line.
        what: Defaulted,
        /// The figure taken, in the base unit of [`Defaulted::unit`]; a share is a fraction.
        value: f64,
    },
    /// The recipe names no plant: one with the stated defaults of its size is taken, a commercial one above 2 hL.
    CommercialPlant {
        /// Which defaults.
        size: PlantSize,
    },
    /// The recipe names no plant; the only one without a batch is taken.
    OnlyOtherPlant {
        /// Its name.
        plant: String,
    },
    /// A name that the trade uses for several things.
    GenericName {
        /// The name as written.
        name: String,
        /// What it was taken for.
        taken: String,
    },
    /// A figure from the catalogue, where the sheet is silent.
    CatalogueFigures {
        /// The ingredient.
        name: String,
        /// Which figures.
        figures: Vec<Figure>,
    },
    /// A figure from an entry of the brewer's own, or from what that is like, where the sheet is silent.
    OwnFigures {
        /// The ingredient.
        name: String,
        /// Which figures.
        figures: Vec<Figure>,
    },
    /// A figure that neither sheet nor catalogue knows: that of the rest of the grist was taken. In JSON it is a `value`
    /// with its `unit`.
    #[serde(serialize_with = "forms::mean_of_grist_form")]
    #[cfg_attr(feature = "schema", schemars(with = "forms::MeanOfGristForm<'static>"))]
    MeanOfGrist {
        /// The ingredient.
        name: String,
        /// The figure.
        figure: Figure,
        /// Its value as a fraction.
        value: f64,
    },
    /// The extract of a grain is stated as is and its moisture nowhere: the water in it is left out.
    MoistureLeftOut {
        /// The ingredient.
        name: String,
    },
    /// Nobody knows how much of a later addition ferments: all of it is taken to.
    FermentsInFull {
        /// The ingredient.
        name: String,
    },
    /// Shares that add up to nearly a hundred were brought to a hundred.
    SharesNormalised {
        /// What they added up to.
        #[serde(rename = "sum_pct", with = "crate::quantity::json::percent")]
        sum: SumOfShares,
    },
    /// The yield of the source plant follows from its masses and its gravity.
    YieldInferred {
        /// The yield.
        #[serde(rename = "yield_pct", with = "crate::quantity::json::percent")]
        reached: BrewhouseYield,
    },
    /// A stated yield stands in for what the lauter lines would give; those give the volumes only.
    YieldOverridesLauter {
        /// Which plant.
        side: Side,
        /// The yield.
        #[serde(rename = "yield_pct", with = "crate::quantity::json::percent")]
        reached: BrewhouseYield,
    },
    /// The recipe's mash water per kilogram of grist is not used on a plant.
    MashInNotUsed {
        /// Which plant.
        side: Side,
        /// What the recipe says.
        #[serde(rename = "liquor_l_per_kg")]
        liquor: LiquorRatio,
        /// Why it is not used.
        because: MashInUnused,
    },
    /// A plant's own stand is not used beside the stands of the recipe.
    StandNotUsed {
        /// Which plant.
        side: Side,
    },
    /// Something is stated and has no figure to change.
    ChangesNoFigure {
        /// The ingredient; none for a figure of the mash.
        #[serde(skip_serializing_if = "Option::is_none")]
        name: Option<String>,
        /// Which figure or addition.
        what: Unused,
    },
    /// The boil's length is not stated.
    BoilTime {
        /// The length taken.
        #[serde(serialize_with = "crate::quantity::json::rounded")]
        time_min: f64,
    },
    /// How much of the extract from malt ferments: an estimate by grist, rests and yeast, times what a printed figure wants.
    MashFermentability {
        /// The factor on the estimate that the printed figure wants; one where none is printed.
        #[serde(serialize_with = "crate::quantity::json::rounded")]
        factor: f64,
        /// What the temperatures and times of the rests make of the starch's fermentability at 65 °C and 60 min; none where no
        /// rest is stated.
        #[serde(
            serialize_with = "crate::quantity::json::rounded_if_known",
            skip_serializing_if = "Option::is_none"
        )]
        rests_factor: Option<f64>,
        /// Whether there is a mash to convert, and not only malt extract.
        #[serde(skip)]
        is_mashed: bool,
        /// The share of the extract from malt and grain that ferments, malt extract included.
        #[serde(rename = "fermentable_pct", with = "crate::quantity::json::percent")]
        share: Fermentability,
        /// What it was fitted to.
        basis: FermentabilityBasis,
    },
    /// A yeast that goes in later ferments what the first one leaves, as far as its attenuation is higher.
    LaterYeast {
        /// Its name.
        name: String,
        /// Attenuation of both, of an all-malt wort of 12 °P.
        #[serde(rename = "attenuation_pct", with = "crate::quantity::json::percent")]
        attenuation: Attenuation,
        /// What of it is beyond the first yeast's.
        #[serde(rename = "beyond_pct", with = "crate::quantity::json::percent")]
        beyond: Share,
    },
    /// Bacteria sour the wort before the boil, and make acid of a little of its extract.
    Soured {
        /// pH of the wort: that of the mash where it is stated.
        #[serde(rename = "from_ph")]
        from: Ph,
        /// pH at which it is boiled, the usual one where none is stated.
        #[serde(rename = "to_ph")]
        to: Ph,
        /// Of the extract from malt.
        #[serde(rename = "acid_pct", with = "crate::quantity::json::percent")]
        acid: Share,
    },
    /// The attenuation that the yeast's line states goes with a printed final gravity or alcohol, which decides.
    AttenuationCompared {
        /// Stated, of an all-malt wort of 12 °P.
        #[serde(rename = "stated_pct", with = "crate::quantity::json::percent")]
        stated: Attenuation,
        /// What the printed figure means for such a wort.
        #[serde(rename = "predicted_pct", with = "crate::quantity::json::percent")]
        predicted: Attenuation,
    },
    /// A stated colour of a sugar, syrup or extract does not say what it refers to.
    ColourBasis {
        /// The ingredient.
        name: String,
        /// What it was taken to refer to.
        basis: ColourBasis,
    },
    /// A last rest too cool for its starch to be converted counts as one at 62 °C.
    CoolLastRest {
        /// The rest.
        #[serde(rename = "temperature_c")]
        temperature: Temperature,
    },
    /// Between rests that are reached by heat the mash rises by 1 °C a minute.
    MashRise {
        /// Which plant.
        side: Side,
    },
    /// The bitterness model knows nothing of stands.
    StandWithoutBitterness {
        /// How many additions it holds.
        additions: usize,
    },
    /// No model of bitterness is chosen, and Tinseth has no answer for hops in a stand: the kinetic one is used.
    KineticForStand,
    /// Hops in the mash give a part of what they would give boiled for 60 min, from the figures of one plant.
    MashHops {
        /// The hop.
        name: String,
    },
    /// Trub and hops keep wort in the kettle.
    KeptInKettle {
        /// Which plant.
        side: Side,
        /// By the trub of the malt.
        #[serde(rename = "trub_l", with = "crate::quantity::json::litre")]
        trub: Volume,
        /// By the hops.
        #[serde(rename = "hops_l", with = "crate::quantity::json::litre")]
        hops: Volume,
        /// Whether it comes on top of the plant's own kettle loss, which holds trub and 2 g/L of hops.
        beyond_loss: bool,
    },
    /// Dry hops keep beer.
    KeptByDryHops {
        /// Which plant.
        side: Side,
        /// How much.
        #[serde(rename = "kept_l", with = "crate::quantity::json::litre")]
        kept: Volume,
    },
    /// The pulp and stones of whole fruit or puree keep beer, to 40 % of it.
    KeptByFruit {
        /// Which plant.
        side: Side,
        /// How much.
        #[serde(rename = "kept_l", with = "crate::quantity::json::litre")]
        kept: Volume,
    },
    /// Coffee, nibs of cocoa or coconut keep wort or beer.
    KeptBySteeped {
        /// Which plant.
        side: Side,
        /// What keeps it.
        names: Vec<String>,
        /// How much.
        #[serde(rename = "kept_l", with = "crate::quantity::json::litre")]
        kept: Volume,
    },
    /// The lines of these hops do not say of what form they are.
    HopsArePellets {
        /// The hops.
        names: Vec<String>,
    },
    /// Dry hops are taken to add no bitterness.
    DryHopsWithoutBitterness,
    /// The bitterness of a hop extract that goes in after the boil is not worked out: one that is isomerised bitters at once, any other not.
    ExtractWithoutBitterness {
        /// The extract.
        name: String,
    },
    /// An enzyme splits dextrins to sugar, how many nobody says: the beer ends drier than predicted.
    DextrinsSplit {
        /// The enzyme.
        name: String,
    },
    /// The rates of isomerisation were measured from 90 °C up; a cooler stand is extrapolated.
    IsomerisationExtrapolated,
    /// The source's mash water is taken to have the ions that the sheet prints, and no others.
    WaterAsStated,
    /// Carbonation is printed as stated; pressure and priming are not worked out.
    CarbonationAsStated,
    /// The recipe states no temperature of fermentation, on which the gas left in the beer hangs.
    FermentedAt {
        /// The temperature taken.
        #[serde(rename = "temperature_c")]
        temperature: Temperature,
    },
    /// The yeast goes into wort that is colder than the plant cools it: it is cooled on in the fermenter.
    CooledOn {
        /// Where the plant's cooling ends.
        #[serde(rename = "from_c")]
        from: Temperature,
        /// Where the yeast goes in.
        #[serde(rename = "to_c")]
        to: Temperature,
    },
    /// A plant that does not mash steeps caramel and roast grain in a bag.
    SteepedInBag {
        /// Which plant.
        side: Side,
        /// What it brings of its laboratory extract.
        #[serde(rename = "gives_pct", with = "crate::quantity::json::percent")]
        gives: Share,
    },
    /// A temperature of packaging sets nothing but the pressure on a keg whose carbonation is stated.
    PackageTemperatureNotUsed {
        /// What the beer is packaged in.
        container: Container,
    },
    /// Juice or sugar that goes in at packaging ferments there: it counts in gravity, alcohol and gas of the beer.
    FermentsInPackage {
        /// The ingredient.
        name: String,
    },
    /// The mash pH is not predicted, and neither salts nor acid are worked out.
    MashPhNotPredicted {
        /// Which plant.
        side: Side,
        /// What is wanting.
        because: NoMashPh,
    },
    /// What these grains do to the mash pH is taken from their class and colour.
    MashPhFromClass {
        /// Their names.
        names: Vec<String>,
    },
    /// The water's own buffering is left out of the acid or alkali for a mash.
    MashWaterLeftOut {
        /// What is wanting.
        because: NoMashPh,
    },
    /// The water report is silent on these ions, which are taken as none, or on the pH.
    WaterReportGaps {
        /// Which plant.
        side: Side,
        /// The ions.
        ions: Vec<Ion>,
        /// The pH taken, where none is stated.
        #[serde(skip_serializing_if = "Option::is_none")]
        ph: Option<Ph>,
    },
    /// Neither recipe nor plant says how the mash is raised from rest to rest.
    MashHeating {
        /// What was taken.
        by: Raise,
    },
    /// The pitching rate is not stated.
    PitchRate {
        /// The rate taken, in million cells per mL and °P.
        #[serde(serialize_with = "crate::quantity::json::rounded")]
        million_per_ml_plato: f64,
    },
    /// An addition in the fermenter has no gravity: it is taken to go in when the wort has fermented.
    LateAddition {
        /// The ingredient.
        name: String,
    },
    /// Water that is listed with the grist: it is part of the mash water, not beside it.
    PartOfMashWater {
        /// The ingredient.
        name: String,
    },
    /// Something that brings no extract is measured by volume: that volume is counted as water.
    CountedAsWater {
        /// The ingredient.
        name: String,
    },
    /// A yeast that is measured by volume: the starter or slurry around it is left out.
    YeastVolumeLeftOut {
        /// The yeast.
        name: String,
    },
    /// Something is carried along per litre, since nothing is known of it.
    CarriedPerLitre {
        /// The ingredient.
        name: String,
    },
    /// The original extract is not printed: it follows from the amounts.
    OriginalPredicted {
        /// What the model gives.
        #[serde(rename = "original_plato")]
        original: Extract,
    },
}

codes! {
    Assumption {
        PlantDefault = "plant_default",
        CommercialPlant = "commercial_plant",
        OnlyOtherPlant = "only_other_plant",
        GenericName = "generic_name",
        CatalogueFigures = "catalogue_figures",
        OwnFigures = "own_figures",
        MeanOfGrist = "mean_of_grist",
        MoistureLeftOut = "moisture_left_out",
        FermentsInFull = "ferments_in_full",
        SharesNormalised = "shares_normalised",
        YieldInferred = "yield_inferred",
        YieldOverridesLauter = "yield_overrides_lauter",
        MashInNotUsed = "mash_in_not_used",
        StandNotUsed = "stand_not_used",
        ChangesNoFigure = "changes_no_figure",
        BoilTime = "boil_time",
        MashFermentability = "mash_fermentability",
        LaterYeast = "later_yeast",
        Soured = "soured",
        AttenuationCompared = "attenuation_compared",
        ColourBasis = "colour_basis",
        CoolLastRest = "cool_last_rest",
        MashRise = "mash_rise",
        StandWithoutBitterness = "stand_without_bitterness",
        KineticForStand = "kinetic_for_stand",
        MashHops = "mash_hops",
        KeptInKettle = "kept_in_kettle",
        KeptByDryHops = "kept_by_dry_hops",
        KeptByFruit = "kept_by_fruit",
        KeptBySteeped = "kept_by_steeped",
        HopsArePellets = "hops_are_pellets",
        DryHopsWithoutBitterness = "dry_hops_without_bitterness",
        ExtractWithoutBitterness = "extract_without_bitterness",
        DextrinsSplit = "dextrins_split",
        IsomerisationExtrapolated = "isomerisation_extrapolated",
        WaterAsStated = "water_as_stated",
        CarbonationAsStated = "carbonation_as_stated",
        FermentedAt = "fermented_at",
        CooledOn = "cooled_on",
        SteepedInBag = "steeped_in_bag",
        PackageTemperatureNotUsed = "package_temperature_not_used",
        FermentsInPackage = "ferments_in_package",
        MashPhNotPredicted = "mash_ph_not_predicted",
        MashPhFromClass = "mash_ph_from_class",
        MashWaterLeftOut = "mash_water_left_out",
        WaterReportGaps = "water_report_gaps",
        MashHeating = "mash_heating",
        PitchRate = "pitch_rate",
        LateAddition = "late_addition",
        PartOfMashWater = "part_of_mash_water",
        CountedAsWater = "counted_as_water",
        YeastVolumeLeftOut = "yeast_volume_left_out",
        CarriedPerLitre = "carried_per_litre",
        OriginalPredicted = "original_predicted",
    }
}

impl Assumption {
    /// Whether both are the same, or about the figures of one ingredient from one catalogue.
    pub(crate) fn speaks_of_the_same(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::CatalogueFigures { name, .. }, Self::CatalogueFigures { name: again, .. })
            | (Self::OwnFigures { name, .. }, Self::OwnFigures { name: again, .. }) => {
                name == again
            }
            _ => self == other,
        }
    }
}

/// A sum of shares, which may be above one.
pub type SumOfShares = Attenuation;
