//! The static tables are those that `tests/tables` makes of the reviewed rows, and no figure of theirs is out of range.

use std::fs;
use wortwright::catalogue::*;
use wortwright::quantity::*;

#[test]
fn the_catalogue_tables_are_those_of_the_reviewed_data() {
    for (path, text) in wortwright_tables::tables() {
        assert!(
            fs::read_to_string(&path).unwrap() == text,
            "{} is out of date: run `cargo run -p wortwright-tables`",
            path.display()
        );
    }
}

/// Whether a type has a value.
fn is_in_range(name: &str, value: f64) -> bool {
    macro_rules! of_types {
        ($($name:ident::$from:ident),+ $(,)?) => {
            match name {
                $(stringify!($name) => $name::$from(value).is_ok(),)+
                _ => panic!("no constructor of `{name}` is known here"),
            }
        };
    }
    of_types!(
        AcidConstant::from_pk,
        AlcoholByVolume::from_fraction,
        AlphaAcids::from_fraction,
        Attenuation::from_fraction,
        BeerColour::from_ebc,
        Buffering::from_milliequivalents_per_kilogram_ph,
        Concentration::from_grams_per_litre,
        Density::from_grams_per_millilitre,
        DiastaticPower::from_windisch_kolbach,
        Equivalents::from_milliequivalents_per_gram,
        Extract::from_plato,
        Fermentability::from_fraction,
        IonYield::from_milligrams_per_gram,
        LaboratoryExtract::from_fraction,
        MaltColour::from_ebc,
        Moisture::from_fraction,
        MolarMass::from_grams_per_mole,
        OilContent::from_millilitres_per_100_grams,
        Ph::from_value,
        PitchRate::from_million_per_ml_plato,
        Protein::from_fraction,
        Share::from_fraction,
        Strength::from_fraction,
        Temperature::from_celsius,
        VolumeDose::from_millilitres_per_hectolitre,
    )
}

/// `clamped` would move such a figure in silence.
#[test]
fn every_figure_of_the_tables_is_in_the_range_of_its_type() {
    let mut count = 0;
    for (path, text) in wortwright_tables::tables() {
        for row in text.lines() {
            for (at, call) in row.match_indices("::clamped(") {
                let name = row[..at].rsplit(|c: char| !c.is_alphanumeric()).next();
                let value = row[at + call.len()..].split(')').next().unwrap();
                let (name, value) = (name.unwrap(), value.parse().unwrap());
                assert!(
                    is_in_range(name, value),
                    "{}: no {name} is {value}:\n{row}",
                    path.display()
                );
                count += 1;
            }
        }
    }
    assert!(count > 3000, "{count}");
    assert!(!is_in_range("Share", 1.5));
}
