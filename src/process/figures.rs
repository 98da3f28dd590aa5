//! What a wort and its beer come to, as a host sees it.

use super::brew::{Brewed, Worked};
use super::plant::{Lautering, boiling_c};
use super::wort::mash_volume_hot_l;
use crate::quantity::{
    AlcoholByVolume, BeerColour, Bitterness, BrewhouseYield, CarbonDioxide, DiastaticPower,
    Extract, Ph, SpecificGravity, Volume, Written, litres,
};
use crate::recipe::{BitternessModel, Targets};
use crate::science::density::{gravity_of, solution_volume_at_l};
use crate::science::liquid::Liquid;
use crate::science::mash_ph::MashPh;
use serde::Serialize;

/// The figures of a wort and its beer. What is unknown is absent.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Figures {
    /// Original extract of the wort into the fermenter.
    #[serde(rename = "original_plato", skip_serializing_if = "Option::is_none")]
    pub original: Option<Extract>,
    /// The same as specific gravity.
    #[serde(rename = "original_sg", skip_serializing_if = "Option::is_none")]
    pub original_gravity: Option<SpecificGravity>,
    /// Apparent final extract of the beer.
    #[serde(rename = "final_plato", skip_serializing_if = "Option::is_none")]
    pub final_extract: Option<Extract>,
    /// The same as specific gravity.
    #[serde(rename = "final_sg", skip_serializing_if = "Option::is_none")]
    pub final_gravity: Option<SpecificGravity>,
    /// Alcohol of the beer.
    #[serde(
        rename = "alcohol_abv_pct",
        with = "crate::quantity::json::option::percent",
        skip_serializing_if = "Option::is_none"
    )]
    pub alcohol: Option<AlcoholByVolume>,
    /// Apparent final extract if every juice ferments in full, where the catalogue holds that some of it does not.
    #[serde(
        rename = "final_if_juice_ferments_plato",
        skip_serializing_if = "Option::is_none"
    )]
    pub final_if_juice_ferments: Option<Extract>,
    /// Alcohol if every juice ferments in full.
    #[serde(
        rename = "alcohol_if_juice_ferments_abv_pct",
        with = "crate::quantity::json::option::percent",
        skip_serializing_if = "Option::is_none"
    )]
    pub alcohol_if_juice_ferments: Option<AlcoholByVolume>,
    /// Bitterness of the beer.
    #[serde(rename = "bitterness_ibu", skip_serializing_if = "Option::is_none")]
    pub bitterness: Option<Bitterness>,
    /// Bitterness of the beer by Tinseth.
    #[serde(
        rename = "bitterness_tinseth_ibu",
        skip_serializing_if = "Option::is_none"
    )]
    pub bitterness_tinseth: Option<Bitterness>,
    /// Bitterness of the beer by isomerisation over the real temperatures.
    #[serde(
        rename = "bitterness_kinetic_ibu",
        skip_serializing_if = "Option::is_none"
    )]
    pub bitterness_kinetic: Option<Bitterness>,
    /// Colour of the beer: the malt part, thinned by what is added later.
    #[serde(rename = "colour_ebc", skip_serializing_if = "Option::is_none")]
    pub colour: Option<BeerColour>,
    /// The same with juice; rough, since the juice's figure is editorial.
    #[serde(
        rename = "colour_with_juice_ebc",
        skip_serializing_if = "Option::is_none"
    )]
    pub colour_with_juice: Option<BeerColour>,
    /// Wort into the fermenter.
    #[serde(
        rename = "batch_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub batch: Option<Volume>,
    /// Beer in the fermenter when it has fermented.
    #[serde(
        rename = "finished_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub finished: Option<Volume>,
    /// Apparent final extract without later additions.
    #[serde(rename = "wort_final_plato", skip_serializing_if = "Option::is_none")]
    pub wort_final: Option<Extract>,
    /// Bitterness of the wort.
    #[serde(
        rename = "wort_bitterness_ibu",
        skip_serializing_if = "Option::is_none"
    )]
    pub wort_bitterness: Option<Bitterness>,
    /// Colour of the wort, by Morey on the grain and linear on the rest; good to about 30 %.
    #[serde(rename = "wort_colour_ebc", skip_serializing_if = "Option::is_none")]
    pub wort_colour: Option<BeerColour>,
    /// Original extract of a wort that would have become this beer at once.
    #[serde(
        rename = "equivalent_original_plato",
        skip_serializing_if = "Option::is_none"
    )]
    pub equivalent_original: Option<Extract>,
    /// Apparent extract just before the first addition of juice or sugar.
    #[serde(
        rename = "plato_before_addition",
        skip_serializing_if = "Option::is_none"
    )]
    pub before_addition: Option<Extract>,
    /// Apparent extract just after it; it may rise.
    #[serde(
        rename = "plato_after_addition",
        skip_serializing_if = "Option::is_none"
    )]
    pub after_addition: Option<Extract>,
    /// Mash pH at room temperature.
    #[serde(rename = "mash_ph", skip_serializing_if = "Option::is_none")]
    pub mash_ph: Option<Ph>,
    /// By how much it may be off, either way.
    #[serde(
        rename = "mash_ph_uncertainty",
        skip_serializing_if = "Option::is_none"
    )]
    pub mash_ph_uncertainty: Option<Ph>,
    /// Carbon dioxide.
    #[serde(rename = "carbonation_g_l", skip_serializing_if = "Option::is_none")]
    pub carbonation: Option<CarbonDioxide>,
    /// Extract in the wort over the laboratory extract of what was mashed.
    #[serde(
        rename = "extract_yield_pct",
        with = "crate::quantity::json::option::percent",
        skip_serializing_if = "Option::is_none"
    )]
    pub extract_yield: Option<BrewhouseYield>,
    /// Mean diastatic power of the grist.
    #[serde(rename = "diastatic_power_wk", skip_serializing_if = "Option::is_none")]
    pub diastatic_power: Option<DiastaticPower>,
}

/// Volumes of the brewing day; cold (20 °C) unless their name says hot.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Volumes {
    /// Water into the mash; into the kettle where nothing is mashed.
    #[serde(rename = "mash_water_l", with = "crate::quantity::json::litre")]
    pub mash_water: Volume,
    /// Water to rinse the grain with.
    #[serde(rename = "sparge_water_l", with = "crate::quantity::json::litre")]
    pub sparge_water: Volume,
    /// Both.
    #[serde(rename = "total_water_l", with = "crate::quantity::json::litre")]
    pub total_water: Volume,
    /// Mash with its grain, at its first rest.
    #[serde(rename = "mash_volume_hot_l", with = "crate::quantity::json::litre")]
    pub mash_hot: Volume,
    /// Wort before the boil.
    #[serde(rename = "pre_boil_l", with = "crate::quantity::json::litre")]
    pub pre_boil: Volume,
    /// The same at the boiling point.
    #[serde(rename = "pre_boil_hot_l", with = "crate::quantity::json::litre")]
    pub pre_boil_hot: Volume,
    /// Wort when the boil ends.
    #[serde(rename = "post_boil_l", with = "crate::quantity::json::litre")]
    pub post_boil: Volume,
    /// The same at the boiling point.
    #[serde(rename = "post_boil_hot_l", with = "crate::quantity::json::litre")]
    pub post_boil_hot: Volume,
    /// Wort into the fermenter.
    #[serde(rename = "into_fermenter_l", with = "crate::quantity::json::litre")]
    pub into_fermenter: Volume,
    /// In the fermenter after the last addition.
    #[serde(rename = "after_additions_l", with = "crate::quantity::json::litre")]
    pub after_additions: Volume,
    /// Beer that leaves the fermenter.
    #[serde(rename = "racked_l", with = "crate::quantity::json::litre")]
    pub racked: Volume,
    /// Beer packaged, with what goes in at packaging.
    #[serde(rename = "packaged_l", with = "crate::quantity::json::litre")]
    pub packaged: Volume,
    /// Extract of the wort before the boil.
    #[serde(rename = "pre_boil_plato")]
    pub pre_boil_extract: Extract,
}

impl Volumes {
    pub(crate) fn of(worked: &Worked) -> Self {
        let (setup, brewed) = (&worked.setup, &worked.brewed);
        let (liquor, plant) = (worked.amounts.liquor, &setup.plant);
        let boiling_c = boiling_c(plant);
        let hot = |wort: Liquid| {
            litres(solution_volume_at_l(
                wort.water_kg,
                wort.extract_kg,
                boiling_c,
            ))
        };
        let (run, boiled) = (&brewed.run, &brewed.boiled);
        let in_kettle = boiled.wort.with_water_kg(-brewed.top_up.water_kg);
        let mashes = plant.lautering != Lautering::NoMash && brewed.grist.mass_kg > 0.0;
        Self {
            mash_water: litres(liquor.mash_l),
            sparge_water: litres(liquor.sparge_l),
            total_water: litres(liquor.mash_l + liquor.sparge_l),
            mash_hot: litres(if mashes {
                mash_volume_hot_l(brewed.grist, liquor.mash_l, setup.formula.mash_rest_c)
            } else {
                0.0
            }),
            pre_boil: litres(run.volume_l),
            pre_boil_hot: hot(run.wort),
            post_boil: litres(if brewed.top_up.water_kg > 0.0 {
                in_kettle.wort_volume_l()
            } else {
                boiled.volume_l
            }),
            post_boil_hot: hot(in_kettle),
            into_fermenter: litres(brewed.into_fermenter_l),
            after_additions: litres(brewed.cellar.after_additions_l),
            racked: litres(brewed.cellar.racked_l),
            packaged: litres(brewed.cellar.packaged_l),
            pre_boil_extract: run.wort.real_extract(),
        }
    }
}

impl Figures {
    /// What a sheet prints, and nothing else.
    pub fn published(targets: &Targets) -> Self {
        let original = targets.original.as_ref().map(Written::value);
        let final_extract = targets.final_extract.as_ref().map(Written::value);
        Self {
            original,
            original_gravity: original.map(gravity_of),
            final_extract,
            final_gravity: final_extract.map(gravity_of),
            alcohol: targets.alcohol.as_ref().map(Written::value),
            bitterness: targets.bitterness.as_ref().map(Written::value),
            colour: targets.colour.as_ref().map(Written::value),
            wort_final: targets.wort_final.as_ref().map(Written::value),
            wort_bitterness: targets.wort_bitterness.as_ref().map(Written::value),
            wort_colour: targets.wort_colour.as_ref().map(Written::value),
            carbonation: targets.carbonation.as_ref().map(Written::value),
            ..Self::default()
        }
    }

    /// The same with a mash pH, where one is predicted.
    pub(crate) fn with_mash_ph(mut self, mash: Option<MashPh>) -> Self {
        self.mash_ph = mash.map(|mash| mash.ph);
        self.mash_ph_uncertainty = mash.map(|mash| mash.uncertainty);
        self
    }

    /// The same with a carbonation, where pressure or sugar for it are worked out.
    pub(crate) fn with_carbonation(mut self, gas: Option<CarbonDioxide>) -> Self {
        self.carbonation = gas;
        self
    }

    /// The same with the mash pH that a sheet prints.
    pub(crate) fn with_printed_mash_ph(mut self, printed: Option<Ph>) -> Self {
        self.mash_ph = printed;
        self
    }

    /// What the model predicts.
    pub(crate) fn predicted(brewed: &Brewed) -> Self {
        let beer = &brewed.cellar.beer;
        let original = brewed.original().real_extract();
        let beer_l = beer.volume_l();
        let carried_l = brewed.carried * brewed.into_fermenter_l;
        let final_extract = beer.apparent_extract();
        let colour_ebc = brewed.beer_colour_ebc();
        let beer_ibu = |ibu: f64| Bitterness::clamped(ibu * carried_l / beer_l);
        let first_met = brewed.cellar.first_met;
        Self {
            original: Some(original),
            original_gravity: Some(gravity_of(original)),
            final_extract: Some(final_extract),
            final_gravity: Some(gravity_of(final_extract)),
            alcohol: Some(beer.alcohol_by_volume()),
            final_if_juice_ferments: brewed
                .cellar
                .if_juice_ferments
                .map(Liquid::apparent_extract),
            alcohol_if_juice_ferments: brewed
                .cellar
                .if_juice_ferments
                .map(Liquid::alcohol_by_volume),
            bitterness: Some(beer_ibu(brewed.wort_ibu())),
            bitterness_tinseth: Some(beer_ibu(brewed.wort_ibu_by(BitternessModel::Tinseth))),
            bitterness_kinetic: Some(beer_ibu(brewed.wort_ibu_by(BitternessModel::Kinetic))),
            colour: colour_ebc.map(BeerColour::clamped),
            colour_with_juice: brewed.colour_with_juice_ebc().map(BeerColour::clamped),
            batch: Some(litres(brewed.into_fermenter_l)),
            finished: Some(brewed.cellar.finished.volume()),
            wort_final: Some(brewed.cellar.without_additions.apparent_extract()),
            wort_bitterness: Some(Bitterness::clamped(brewed.wort_ibu())),
            wort_colour: brewed.wort_colour_ebc.map(BeerColour::clamped),
            equivalent_original: Some(beer.original_extract()),
            before_addition: first_met.map(|met| Extract::clamped(met.before_plato)),
            after_addition: first_met.map(|met| Extract::clamped(met.after_plato)),
            mash_ph: None,
            mash_ph_uncertainty: None,
            carbonation: None,
            extract_yield: brewed.mash_yield.map(BrewhouseYield::clamped),
            diastatic_power: brewed.diastatic_wk.map(DiastaticPower::clamped),
        }
    }
}
