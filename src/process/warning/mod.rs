//! What deserves a look, though it stops nothing.

mod text;

use super::container::Container;
use super::side::Side;
use crate::diagnostic::codes;
use crate::quantity::{
    AlcoholByVolume, Attenuation, BeerColour, Bitterness, BrewhouseYield, CarbonDioxide,
    Concentration, DiastaticPower, Extract, Mass, Ph, Power, Pressure, Share, Temperature, Volume,
};
use crate::science::inhibition::Outlook;
use crate::science::water::EquivalentConcentration;
use serde::Serialize;

/// What brings a mash to a pH.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct PhCorrection {
    /// The acid or alkali, by its catalogue name.
    pub name: String,
    /// How much.
    #[serde(rename = "mass_kg", with = "crate::quantity::json::kilogram")]
    pub mass: Mass,
    /// The same measured, for a liquid.
    #[serde(
        rename = "volume_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub volume: Option<Volume>,
    /// The pH that it brings.
    #[serde(rename = "to_ph")]
    pub to: Ph,
}

/// Something that deserves a look.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Warning {
    /// The source's yield is higher than plants usually reach.
    YieldHigh {
        /// The yield.
        #[serde(rename = "yield_pct", with = "crate::quantity::json::percent")]
        reached: BrewhouseYield,
    },
    /// The stated yield of the source and the one that follows from its masses and gravity differ.
    YieldsDisagree {
        /// Stated.
        #[serde(rename = "stated_pct", with = "crate::quantity::json::percent")]
        stated: BrewhouseYield,
        /// From masses and gravity; this one is used.
        #[serde(rename = "inferred_pct", with = "crate::quantity::json::percent")]
        inferred: BrewhouseYield,
    },
    /// The hop lines give another bitterness than the headline; the lines are used.
    BitternessDisagrees {
        /// Printed, finished beer.
        #[serde(rename = "printed_ibu")]
        printed: Bitterness,
        /// What the lines give.
        #[serde(rename = "predicted_ibu")]
        predicted: Bitterness,
    },
    /// The printed alcohol does not follow from the printed gravities.
    AlcoholDisagrees {
        /// Printed.
        #[serde(rename = "printed_pct", with = "crate::quantity::json::percent")]
        printed: AlcoholByVolume,
        /// What the gravities give.
        #[serde(rename = "predicted_pct", with = "crate::quantity::json::percent")]
        predicted: AlcoholByVolume,
    },
    /// The masses of a recipe without a mash give another original extract than the printed one; the masses are kept.
    OriginalDisagrees {
        /// Printed.
        #[serde(rename = "printed_plato")]
        printed: Extract,
        /// What the masses give.
        #[serde(rename = "predicted_plato")]
        predicted: Extract,
    },
    /// The printed final extract of the wort without later additions does not go with that of the beer, which is kept.
    WortFinalDisagrees {
        /// Printed.
        #[serde(rename = "printed_plato")]
        printed: Extract,
        /// What the beer's figures give.
        #[serde(rename = "predicted_plato")]
        predicted: Extract,
    },
    /// The printed alcohol of the wort without later additions does not follow from the other printed figures.
    WortAlcoholDisagrees {
        /// Printed.
        #[serde(rename = "printed_pct", with = "crate::quantity::json::percent")]
        printed: AlcoholByVolume,
        /// What the other figures give.
        #[serde(rename = "predicted_pct", with = "crate::quantity::json::percent")]
        predicted: AlcoholByVolume,
    },
    /// The hop lines give another bitterness of the wort than the printed one; the lines are used.
    WortBitternessDisagrees {
        /// Printed, wort at the end of the boil.
        #[serde(rename = "printed_ibu")]
        printed: Bitterness,
        /// What the lines give.
        #[serde(rename = "predicted_ibu")]
        predicted: Bitterness,
    },
    /// A printed final gravity or alcohol lies beyond two sigma of what grist, rests and kind of yeast give; the printed one is
    /// kept.
    FinalBeyondEstimate {
        /// Printed, or what the printed alcohol means.
        #[serde(rename = "printed_plato")]
        printed: Extract,
        /// The estimate, from.
        #[serde(rename = "lowest_plato")]
        lowest: Extract,
        /// The estimate, to.
        #[serde(rename = "highest_plato")]
        highest: Extract,
    },
    /// The attenuation that the yeast's line states does not go with the printed final gravity or alcohol, which is kept.
    AttenuationDisagrees {
        /// Stated, of an all-malt wort of 12 °P.
        #[serde(rename = "stated_pct", with = "crate::quantity::json::percent")]
        stated: Attenuation,
        /// What the printed figure means for such a wort.
        #[serde(rename = "predicted_pct", with = "crate::quantity::json::percent")]
        predicted: Attenuation,
    },
    /// The printed sparge does not go with the mash water, the absorption and the batch, which are kept.
    SpargeDisagrees {
        /// Printed.
        #[serde(rename = "printed_l", with = "crate::quantity::json::litre")]
        printed: Volume,
        /// What the others leave for it.
        #[serde(rename = "predicted_l", with = "crate::quantity::json::litre")]
        predicted: Volume,
    },
    /// No fermentability of the mash gives the printed final extract.
    FinalNotExplained {
        /// Printed.
        #[serde(rename = "printed_plato")]
        printed: Extract,
        /// The nearest that the model gives.
        #[serde(rename = "nearest_plato")]
        nearest: Extract,
    },
    /// The grist does not explain the printed colour; it is not corrected.
    ColourNotExplained {
        /// Printed, finished beer.
        #[serde(rename = "printed_ebc")]
        printed: BeerColour,
        /// Malt part.
        #[serde(rename = "malt_ebc")]
        malt: BeerColour,
        /// With juice, rough, where there is any.
        #[serde(rename = "with_juice_ebc", skip_serializing_if = "Option::is_none")]
        with_juice: Option<BeerColour>,
    },
    /// An addition's gravity is not met on the way down.
    GravityNotMet {
        /// The ingredient.
        name: String,
        /// The gravity it waits for.
        #[serde(rename = "wanted_plato")]
        wanted: Extract,
        /// Where the beer starts or ends.
        #[serde(rename = "met_plato")]
        met: Extract,
        /// The plant.
        side: Side,
    },
    /// A stand is hotter than boiling at this altitude; it is taken at the boiling point.
    StandClamped {
        /// Wanted.
        #[serde(rename = "wanted_c")]
        wanted: Temperature,
        /// Boiling point.
        #[serde(rename = "boiling_c")]
        boiling: Temperature,
        /// The plant.
        side: Side,
    },
    /// The coolant is too warm: the wort never reaches its pitching temperature.
    NeverCools {
        /// Coolant.
        #[serde(rename = "coolant_c")]
        coolant: Temperature,
        /// Temperature to be reached.
        #[serde(rename = "to_c")]
        to: Temperature,
        /// The plant.
        side: Side,
    },
    /// The boil drives off more than 15 % an hour.
    HardBoil {
        /// Share of the pre-boil volume an hour.
        #[serde(rename = "share_per_h_pct", with = "crate::quantity::json::percent")]
        hourly: Share,
        /// The plant.
        side: Side,
    },
    /// The stated power of the heater, all of it in steam, does not drive off what the boil is said to.
    HeaterWeak {
        /// Water that is said to boil off in an hour, cold.
        #[serde(rename = "hourly_l", with = "crate::quantity::json::litre")]
        hourly: Volume,
        /// What the stated power boils off in an hour at the most.
        #[serde(rename = "most_l", with = "crate::quantity::json::litre")]
        most: Volume,
        /// Power, in steam, that the boil takes.
        #[serde(rename = "needed_kw", with = "crate::quantity::json::kilowatt")]
        needed: Power,
        /// The plant.
        side: Side,
    },
    /// Sparge water draws tannin from the husks above pH 5.8.
    SpargeWaterPh {
        /// Of the water.
        ph: Ph,
        /// Above which it is told.
        limit: Ph,
    },
    /// The printed sparge water is hotter than grain should be sparged with.
    SpargeHot {
        /// As printed.
        #[serde(rename = "water_c")]
        at: Temperature,
        /// Above which it is told.
        #[serde(rename = "limit_c")]
        limit: Temperature,
    },
    /// More alpha acids go into hot wort than it dissolves, and more than a quarter of the bitterness is predicted of the rest.
    HighHopping {
        /// Added hot, in the cold wort at the end of the boil.
        #[serde(rename = "alpha_g_l")]
        alpha: Concentration,
        /// What dissolves.
        #[serde(rename = "dissolves_g_l")]
        dissolves: Concentration,
        /// What of the wort's bitterness is predicted of the rest.
        #[serde(rename = "of_undissolved_ibu")]
        of_undissolved: Bitterness,
        /// Which plant.
        side: Side,
    },
    /// The kettle holds the wort before the boil, and leaves too little room for its foam.
    KettleNearlyFull {
        /// Hot wort when it is fullest.
        #[serde(rename = "filled_l", with = "crate::quantity::json::litre")]
        filled: Volume,
        /// The kettle's capacity.
        #[serde(rename = "capacity_l", with = "crate::quantity::json::litre")]
        capacity: Volume,
        /// What is to be held back, hot, for a tenth of it to stay empty.
        #[serde(rename = "hold_back_l", with = "crate::quantity::json::litre")]
        hold_back: Volume,
    },
    /// The mash goes into its vessel, and leaves too little room to be stirred.
    MashNearlyFull {
        /// Water and grain, hot.
        #[serde(rename = "filled_l", with = "crate::quantity::json::litre")]
        filled: Volume,
        /// The vessel's capacity.
        #[serde(rename = "capacity_l", with = "crate::quantity::json::litre")]
        capacity: Volume,
        /// Water to be held back for a twentieth of it to stay empty.
        #[serde(rename = "hold_back_l", with = "crate::quantity::json::litre")]
        hold_back: Volume,
    },
    /// The recipe states no mash pH, and the one that is predicted is outside of the usual.
    MashPhUnusual {
        /// Predicted.
        #[serde(rename = "predicted_ph")]
        predicted: Ph,
        /// Usual, from.
        #[serde(rename = "lowest_ph")]
        lowest: Ph,
        /// Usual, to.
        #[serde(rename = "highest_ph")]
        highest: Ph,
        /// What brings it back: acid or alkali.
        #[serde(skip_serializing_if = "Option::is_none")]
        by: Option<PhCorrection>,
    },
    /// The fermenter does not hold the wort with its additions and headspace.
    FermenterSmall {
        /// What goes into it, with the cap of fruit.
        #[serde(rename = "filled_l", with = "crate::quantity::json::litre")]
        filled: Volume,
        /// The batch of which everything has room; absent where a measured wort is in question.
        #[serde(
            rename = "largest_batch_l",
            with = "crate::quantity::json::option::litre",
            skip_serializing_if = "Option::is_none"
        )]
        largest_batch: Option<Volume>,
        /// Volume needed, headspace included.
        #[serde(rename = "needed_l", with = "crate::quantity::json::litre")]
        needed: Volume,
        /// Its capacity.
        #[serde(rename = "capacity_l", with = "crate::quantity::json::litre")]
        capacity: Volume,
    },
    /// The kettle does not hold a measured wort, or what would strengthen it.
    KettleSmall {
        /// Volume needed, hot.
        #[serde(rename = "needed_l", with = "crate::quantity::json::litre")]
        needed: Volume,
        /// Its capacity.
        #[serde(rename = "capacity_l", with = "crate::quantity::json::litre")]
        capacity: Volume,
    },
    /// The kettle has no room for all of the water that would thin a wort as planned.
    NoRoomForWater {
        /// Volume needed, hot.
        #[serde(rename = "needed_l", with = "crate::quantity::json::litre")]
        needed: Volume,
        /// The vessel's capacity.
        #[serde(rename = "capacity_l", with = "crate::quantity::json::litre")]
        capacity: Volume,
    },
    /// The grist may not convert itself.
    DiastaticPowerLow {
        /// Mean over the grist.
        #[serde(rename = "diastatic_power_wk")]
        power: DiastaticPower,
    },
    /// The late hops alone are more bitter than the aim, so that no bittering hop is left.
    TooBitterWithoutBittering {
        /// Aim, finished beer.
        #[serde(rename = "aim_ibu")]
        aim: Bitterness,
        /// What the rest gives.
        #[serde(rename = "predicted_ibu")]
        predicted: Bitterness,
    },
    /// A recipe has no hop that can close the gap to its bitterness.
    NoBitteringHop {
        /// Aim, finished beer.
        #[serde(rename = "aim_ibu")]
        aim: Bitterness,
        /// What the hops give.
        #[serde(rename = "predicted_ibu")]
        predicted: Bitterness,
    },
    /// No water can have the ions that the sheet names: every ion of one charge is named, and too little of it.
    IonsUnbalanced {
        /// Positive less negative charge.
        #[serde(rename = "excess_meq_l")]
        excess: EquivalentConcentration,
    },
    /// The beer to be packaged holds more gas than wanted before any sugar is added.
    GasBeyondWanted {
        /// Wanted.
        #[serde(rename = "wanted_g_l")]
        wanted: CarbonDioxide,
        /// What fermentation and the recipe's own additions at packaging give.
        #[serde(rename = "there_g_l")]
        there: CarbonDioxide,
    },
    /// More gas than the container is made for.
    PackageOverLimit {
        /// What the beer is packaged in.
        container: Container,
        /// The most that the beer may come to.
        #[serde(rename = "most_g_l")]
        most: CarbonDioxide,
        /// What such containers are kept below in practice; absent for those that are not made for pressure.
        #[serde(rename = "limit_g_l", skip_serializing_if = "Option::is_none")]
        limit: Option<CarbonDioxide>,
        /// The same for heavy swing-top and returnable wheat-beer bottles.
        #[serde(rename = "heavy_limit_g_l", skip_serializing_if = "Option::is_none")]
        heavy_limit: Option<CarbonDioxide>,
        /// How much of the gas comes of sugar that has not fermented yet.
        #[serde(rename = "from_sugar_g_l")]
        from_sugar: CarbonDioxide,
        /// What brings sugar that can ferment out before packaging.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        to_ferment_out: Vec<String>,
        /// What brings sugar at packaging.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        at_packaging: Vec<String>,
        /// Carbonation that keeps below the limit for all that; absent where none does.
        #[serde(
            rename = "carbonate_at_most_g_l",
            skip_serializing_if = "Option::is_none"
        )]
        carbonate_at_most: Option<CarbonDioxide>,
    },
    /// The package and the printed figures want another carbonation; that of the package is taken.
    CarbonationDisagrees {
        /// Among the printed figures.
        #[serde(rename = "printed_g_l")]
        printed: CarbonDioxide,
        /// Of the package.
        #[serde(rename = "package_g_l")]
        package: CarbonDioxide,
    },
    /// A keg that comes to more pressure than many are made for when it stands warm.
    KegOverLimit {
        /// Above the air's.
        #[serde(rename = "gauge_bar", with = "crate::quantity::json::bar")]
        gauge: Pressure,
        /// How warm it is taken to stand.
        #[serde(rename = "temperature_c")]
        at: Temperature,
        /// What many beer kegs are stamped with.
        #[serde(rename = "limit_bar", with = "crate::quantity::json::bar")]
        limit: Pressure,
    },
    /// Juice brings preservatives that may hinder the yeast. A warning and no prediction: see
    /// [`inhibition`](crate::science::inhibition).
    PreservedJuice {
        /// The juices.
        names: Vec<String>,
        /// Sulphur dioxide in the beer with all of its additions, as if none were bound.
        #[serde(rename = "sulphur_dioxide_g_l")]
        free: Concentration,
        /// The part of it that acts on yeast.
        #[serde(rename = "molecular_sulphur_dioxide_g_l")]
        molecular: Concentration,
        /// Sorbic acid in the same beer.
        #[serde(rename = "sorbic_acid_g_l")]
        sorbic: Concentration,
        /// The pH that was taken: 4.2, usual for beer (common practice, no source), or that of the most acid of these juices
        /// where it is stated and lower. The mix lies between, so that the figures err towards the warning.
        ph: Ph,
        /// What usually follows.
        outlook: Outlook,
    },
    /// The yeast is fermented at a temperature that is not usual for it: it may stop early below, and taste of it above.
    YeastTemperature {
        /// The yeast.
        name: String,
        /// At which it is to ferment.
        #[serde(rename = "temperature_c")]
        at: Temperature,
        /// Usual range, from.
        #[serde(rename = "lowest_c")]
        lowest: Temperature,
        /// Usual range, to.
        #[serde(rename = "highest_c")]
        highest: Temperature,
    },
    /// The beer has more alcohol than the kind of yeast usually makes.
    AlcoholBeyondYeast {
        /// The yeast.
        name: String,
        /// Predicted.
        #[serde(rename = "alcohol_abv_pct", with = "crate::quantity::json::percent")]
        alcohol: AlcoholByVolume,
        /// At which weaker strains stop.
        #[serde(rename = "usual_abv_pct", with = "crate::quantity::json::percent")]
        usual: AlcoholByVolume,
        /// At which stronger ones stop.
        #[serde(rename = "most_abv_pct", with = "crate::quantity::json::percent")]
        most: AlcoholByVolume,
    },
    /// The wort is stronger than an ordinary pitch of yeast bears.
    StrongWort {
        /// Wort into the fermenter.
        #[serde(rename = "original_plato")]
        original: Extract,
    },
    /// Dry hops with yeast present free sugar from dextrins: the beer goes on fermenting, by 0.7 % of alcohol by volume in 5 days and
    /// 1.3 in 40 (10 g/L at 20 °C, Kirkpatrick & Shellhammer, J. Agric. Food Chem. 2018, 66, 9121, second hand). No law in dose and
    /// temperature is known, so nothing is predicted.
    HopCreep,
    /// The same of a beer that is to come to its gas in a closed container: what the hops may let it ferment there, counted as if
    /// none of it had fermented before.
    HopCreepSealed {
        /// What the beer is packaged in.
        container: Container,
        /// Gas of 1.3 % of alcohol by volume.
        #[serde(rename = "gas_g_l")]
        gas: CarbonDioxide,
    },
    /// Hops in the wort before it is soured, whose bitter acids hinder lactic bacteria.
    HopsBeforeSouring {
        /// The hop.
        name: String,
    },
}

codes! {
    Warning {
        YieldHigh = "yield_high",
        YieldsDisagree = "yields_disagree",
        BitternessDisagrees = "bitterness_disagrees",
        AlcoholDisagrees = "alcohol_disagrees",
        OriginalDisagrees = "original_disagrees",
        WortFinalDisagrees = "wort_final_disagrees",
        WortAlcoholDisagrees = "wort_alcohol_disagrees",
        WortBitternessDisagrees = "wort_bitterness_disagrees",
        FinalBeyondEstimate = "final_beyond_estimate",
        AttenuationDisagrees = "attenuation_disagrees",
        SpargeDisagrees = "sparge_disagrees",
        FinalNotExplained = "final_not_explained",
        ColourNotExplained = "colour_not_explained",
        GravityNotMet = "gravity_not_met",
        StandClamped = "stand_clamped",
        NeverCools = "never_cools",
        HardBoil = "hard_boil",
        HeaterWeak = "heater_weak",
        SpargeWaterPh = "sparge_water_ph",
        SpargeHot = "sparge_hot",
        HighHopping = "high_hopping",
        KettleNearlyFull = "kettle_nearly_full",
        MashNearlyFull = "mash_nearly_full",
        MashPhUnusual = "mash_ph_unusual",
        FermenterSmall = "fermenter_small",
        KettleSmall = "kettle_small",
        NoRoomForWater = "no_room_for_water",
        DiastaticPowerLow = "diastatic_power_low",
        TooBitterWithoutBittering = "too_bitter_without_bittering",
        NoBitteringHop = "no_bittering_hop",
        IonsUnbalanced = "ions_unbalanced",
        GasBeyondWanted = "gas_beyond_wanted",
        PackageOverLimit = "package_over_limit",
        CarbonationDisagrees = "carbonation_disagrees",
        KegOverLimit = "keg_over_limit",
        PreservedJuice = "preserved_juice",
        YeastTemperature = "yeast_temperature",
        AlcoholBeyondYeast = "alcohol_beyond_yeast",
        StrongWort = "strong_wort",
        HopCreep = "hop_creep",
        HopCreepSealed = "hop_creep_sealed",
        HopsBeforeSouring = "hops_before_souring",
    }
}

impl Warning {
    /// Whether a container would burst.
    pub(crate) const fn is_of_bursting(&self) -> bool {
        matches!(
            self,
            Self::PackageOverLimit { .. } | Self::KegOverLimit { .. }
        )
    }
}
