//! Yeasts and other cultures.

use super::row::{Text, row};
use super::{Flocculation, Level, MaltotrioseUse, StrainTrait, YeastUse};
use crate::quantity::{AlcoholByVolume, Attenuation, PitchRate, Temperature};

row! {
    /// A kind of yeast or other culture; single strains differ. An unknown figure is `None`.
    Yeast {
        /// In Latin; empty where the trade does not say.
        species: Text => "species";
        /// What it was selected for.
        usage: Option<YeastUse> => "usage";
        /// Typical apparent attenuation of an all-malt wort of 12 °P.
        attenuation: Option<Attenuation> => "attenuation_pct", "super::percent::One";
        /// Usual range of apparent attenuation.
        attenuation_range: Option<(Attenuation, Attenuation)> => "attenuation_range_pct", "super::percent::Range";
        /// Usual range of fermentation temperature.
        temperature_range: Option<(Temperature, Temperature)> => "temperature_range_c";
        /// How readily it settles.
        flocculation: Option<Flocculation> => "flocculation";
        /// Ferments dextrins by its own enzyme, so that the beer may end drier than predicted.
        diastatic: Option<StrainTrait> => "diastatic";
        /// Makes phenolic notes (clove, smoke).
        phenolic: Option<StrainTrait> => "phenolic";
        /// Fruit that it makes at its usual temperatures, by judgement.
        esters: Option<Level> => "esters";
        /// Whether it ferments maltotriose, the last of the sugars of wort.
        maltotriose: Option<MaltotrioseUse> => "maltotriose";
        /// Alcohol at which it usually stops, the weaker strains and the stronger ones.
        alcohol_limit: Option<(AlcoholByVolume, AlcoholByVolume)> => "alcohol_limit_abv_pct", "super::percent::Range";
        /// Usual pitching rate.
        pitch_rate: Option<PitchRate> => "pitch_rate_million_per_ml_plato";
        /// What else is to be known.
        note: Text => "note";
    }
}
