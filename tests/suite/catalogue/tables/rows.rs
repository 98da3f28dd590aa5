//! One row of each table as a Rust struct.

use super::csv::{Record, list, text, word};
use wortwright::catalogue::*;
use wortwright::quantity::*;

/// A struct literal from its fields and from what is told of allergens.
fn row(name: &str, record: &Record, own: &[(&str, String)], allergens: &str) -> String {
    let mut fields = vec![
        ("name", record.text("name")),
        ("aliases", record.texts("aliases")),
    ];
    fields.extend(own.iter().cloned());
    let (known, note) = allergens_of(allergens);
    fields.push((
        "allergens",
        list(known.into_iter().map(|a| format!("Allergen::{a:?}"))),
    ));
    fields.push(("allergen_note", text(note)));
    fields.push(("source", record.text("source")));
    fields.push((
        "provenance",
        word(
            record.field("source_quality"),
            Provenance::ALL,
            Provenance::as_str,
        ),
    ));
    let fields: Vec<_> = fields
        .iter()
        .map(|(field, value)| format!("{field}: {value}"))
        .collect();
    format!("{name} {{ {} }}", fields.join(", "))
}

/// The regulated allergens that a column tells of, and the column itself where it says more than their names.
fn allergens_of(told: &str) -> (Vec<Allergen>, &str) {
    let by_name = |name: &str| Allergen::ALL.iter().find(|a| a.as_str() == name).copied();
    if let Some(grains) = told.strip_prefix("gluten:") {
        return (
            grains
                .split('+')
                .map(|grain| by_name(grain).unwrap())
                .collect(),
            "",
        );
    }
    match told {
        "" | "none" => (Vec::new(), ""),
        _ if by_name(told).is_some() => (by_name(told).into_iter().collect(), ""),
        "coconut (regulated as tree nut in some countries)" => (vec![Allergen::TreeNuts], told),
        // Remarks on cross-allergies, which no law counts among the allergens to be declared.
        "none (check wheat source)"
        | "none; latex in unripe fruit"
        | "tree nut labelling not required"
        | "birch pollen cross-allergy"
        | "carrot/celery cross-allergy"
        | "kiwi allergy"
        | "latex-fruit cross-allergy"
        | "strawberry allergy (uncommon)"
        | "Anacardiaceae (cashew, pistachio cross-allergy)"
        | "Apiaceae (celery-mugwort-spice syndrome)"
        | "Asteraceae (ragweed/mugwort cross-allergy)"
        | "Fabaceae"
        | "citrus"
        | "pollen" => (Vec::new(), told),
        _ => {
            let leading = Allergen::ALL.iter().find(|a| told.starts_with(a.as_str()));
            (
                vec![*leading.unwrap_or_else(|| panic!("unknown allergen `{told}`"))],
                told,
            )
        }
    }
}

fn intensities(name: &str, record: &Record, axes: &[&str]) -> String {
    let values: Vec<_> = axes.iter().map(|axis| record.field(axis)).collect();
    assert!(
        values
            .iter()
            .all(|value| (0..=5).contains(&value.parse::<u8>().unwrap()))
    );
    format!("Some({name}::tabled([{}]))", values.join(", "))
}

/// An optional pair as Rust, `Some((a, b))`, turned into an optional variant, `Some(tag(a, b))`.
fn tagged(tag: &str, pair: &str) -> String {
    pair.replacen("Some((", &format!("Some({tag}("), 1)
}

pub(crate) fn fermentable(r: &Record) -> String {
    let gelatinisation = match r.field("gelatinisation_c") {
        "" => "None".to_owned(),
        "pregelatinised" => "Some(Gelatinisation::Pregelatinised)".to_owned(),
        _ => {
            let range = r.dashed("gelatinisation_c", Temperature::from_celsius);
            tagged("Gelatinisation::Range", &range)
        }
    };
    let own = [
        (
            "class",
            r.word("class", FermentableClass::ALL, FermentableClass::as_str),
        ),
        ("botanical", r.text("botanical")),
        ("form", r.text("form")),
        (
            "moisture",
            r.quantity("moisture_pct", 100.0, Moisture::from_fraction),
        ),
        (
            "extract",
            r.quantity(
                "extract_fine_dry_pct",
                100.0,
                LaboratoryExtract::from_fraction,
            ),
        ),
        (
            "coarse_fine_difference",
            r.quantity(
                "coarse_fine_diff_pct",
                100.0,
                LaboratoryExtract::from_fraction,
            ),
        ),
        (
            "colour",
            r.quantity("colour_ebc", 1.0, MaltColour::from_ebc),
        ),
        (
            "colour_range",
            r.dashed("colour_ebc_range", MaltColour::from_ebc),
        ),
        (
            "diastatic_power",
            r.quantity(
                "diastatic_power_wk",
                1.0,
                DiastaticPower::from_windisch_kolbach,
            ),
        ),
        (
            "protein",
            r.quantity("protein_pct_dry", 100.0, Protein::from_fraction),
        ),
        (
            "fermentability",
            r.quantity("fermentability_pct", 100.0, Fermentability::from_fraction),
        ),
        (
            "needs_mash",
            r.word("needs_mash", NeedsMash::ALL, NeedsMash::as_str),
        ),
        ("gelatinisation", gelatinisation),
        (
            "usual_max_share",
            r.quantity("max_share_pct", 100.0, Share::from_fraction),
        ),
        (
            "gum",
            r.word("beta_glucan_or_gum", Level::ALL, Level::as_str),
        ),
        ("mash_ph", r.quantity("mash_di_ph", 1.0, Ph::from_value)),
        (
            "buffering",
            r.quantity(
                "buffering_meq_per_kg_ph",
                1.0,
                Buffering::from_milliequivalents_per_kilogram_ph,
            ),
        ),
        ("flavour", intensities("MaltFlavour", r, &FLAVOUR_AXES)),
        (
            "commonness",
            r.word("commonness", Commonness::ALL, Commonness::as_str),
        ),
    ];
    row("Fermentable", r, &own, r.field("allergens"))
}

pub(crate) fn juice(r: &Record) -> String {
    let share = |column| r.quantity(column, 1.0, Share::from_fraction);
    let acids = r
        .field("principal_acid")
        .split('/')
        .map(|acid| word(acid, FruitAcid::ALL, FruitAcid::as_str));
    let own = [
        ("family", r.text("family")),
        (
            "extract",
            r.quantity("brix_typical", 1.0, Extract::from_plato),
        ),
        (
            "extract_range",
            r.range("brix_min", "brix_max", 1.0, Extract::from_plato),
        ),
        ("ph", r.quantity("ph_typical", 1.0, Ph::from_value)),
        (
            "acidity",
            r.quantity(
                "titratable_acidity_g_l",
                1.0,
                Concentration::from_grams_per_litre,
            ),
        ),
        ("acids", list(acids)),
        ("glucose", share("glucose_share")),
        ("fructose", share("fructose_share")),
        ("sucrose", share("sucrose_share")),
        ("sorbitol", share("sorbitol_share")),
        (
            "fermentability",
            r.quantity("fermentability_pct", 100.0, Fermentability::from_fraction),
        ),
        (
            "assimilable_nitrogen",
            r.quantity("yan_mg_l", 1000.0, Concentration::from_grams_per_litre),
        ),
        (
            "colour_class",
            r.word("colour_class", ColourClass::ALL, ColourClass::as_str),
        ),
        (
            "colour",
            r.quantity("colour_ebc_equivalent", 1.0, BeerColour::from_ebc),
        ),
        (
            "anthocyanin",
            r.word("anthocyanin", Level::ALL, Level::as_str),
        ),
        ("tannin", r.word("tannin", Level::ALL, Level::as_str)),
        ("pectin", r.word("pectin_haze", Level::ALL, Level::as_str)),
        ("aroma", intensities("JuiceAroma", r, &JUICE_AXES)),
        ("cautions", r.text("cautions")),
        (
            "commonness",
            r.word("commonness", Commonness::ALL, Commonness::as_str),
        ),
    ];
    row("Juice", r, &own, r.field("allergens_sulphite"))
}

pub(crate) fn hop(r: &Record) -> String {
    let own = [
        ("usage", r.word("use", HopUse::ALL, HopUse::as_str)),
        (
            "alpha_range",
            r.range(
                "alpha_min_pct",
                "alpha_max_pct",
                100.0,
                AlphaAcids::from_fraction,
            ),
        ),
        (
            "beta_range",
            r.range("beta_min_pct", "beta_max_pct", 100.0, Share::from_fraction),
        ),
        (
            "cohumulone_range",
            r.range(
                "cohumulone_min_pct_of_alpha",
                "cohumulone_max_pct_of_alpha",
                100.0,
                Share::from_fraction,
            ),
        ),
        (
            "oil_range",
            r.range(
                "oil_min_ml_100g",
                "oil_max_ml_100g",
                1.0,
                OilContent::from_millilitres_per_100_grams,
            ),
        ),
        (
            "storage_loss",
            r.quantity("storage_loss_pct_6mo_20c", 100.0, Share::from_fraction),
        ),
        ("aroma", intensities("HopAroma", r, &HOP_AXES)),
    ];
    row("Hop", r, &own, "")
}

pub(crate) fn botanical(r: &Record) -> String {
    let own = [
        ("botanical", r.text("botanical")),
        ("part", r.text("part")),
        (
            "dose_range",
            r.range(
                "dose_min_g_l",
                "dose_max_g_l",
                1.0,
                Concentration::from_grams_per_litre,
            ),
        ),
        ("use_stage", r.text("use_stage")),
        (
            "caution_level",
            r.word("caution_level", CautionLevel::ALL, CautionLevel::as_str),
        ),
        ("cautions", r.text("cautions")),
    ];
    row("Botanical", r, &own, r.field("allergen_group"))
}

pub(crate) fn water_agent(r: &Record) -> String {
    let ions = [
        ("calcium", "ca"),
        ("magnesium", "mg"),
        ("sodium", "na"),
        ("potassium", "k"),
        ("sulphate", "so4"),
        ("chloride", "cl"),
        ("bicarbonate", "hco3"),
        ("zinc", "zn"),
        ("ammonium_nitrogen", "nh4_n"),
        ("sulphur_dioxide", "so2"),
    ]
    .map(|(field, ion)| {
        let column = format!("{ion}_mg_per_g");
        format!(
            "{field}: {}",
            r.quantity(&column, 1.0, IonYield::from_milligrams_per_gram)
        )
    });
    let equivalents = |column| r.quantity(column, 1.0, Equivalents::from_milliequivalents_per_gram);
    let own = [
        (
            "usage",
            r.word("kind", WaterAgentUse::ALL, WaterAgentUse::as_str),
        ),
        ("formula", r.text("formula")),
        ("form", r.text("hydrate_or_form")),
        (
            "molar_mass",
            r.quantity("molar_mass_g_mol", 1.0, MolarMass::from_grams_per_mole),
        ),
        (
            "ions",
            format!("Some(IonsPerGram {{ {} }})", ions.join(", ")),
        ),
        ("alkalinity", equivalents("alkalinity_meq_per_g")),
        ("pk1", r.quantity("pka1", 1.0, AcidConstant::from_pk)),
        ("pk2", r.quantity("pka2", 1.0, AcidConstant::from_pk)),
        ("pk3", r.quantity("pka3", 1.0, AcidConstant::from_pk)),
        (
            "strength",
            r.quantity("strength_pct", 100.0, Strength::from_fraction),
        ),
        (
            "density",
            r.quantity("density_g_ml", 1.0, Density::from_grams_per_millilitre),
        ),
        ("acidity_at_ph_5_4", equivalents("acid_meq_per_g_at_ph5_4")),
        ("note", r.text("note")),
    ];
    let allergens = if r.field("kind") == "sulphite" {
        "sulphites"
    } else {
        ""
    };
    row("WaterAgent", r, &own, allergens)
}

pub(crate) fn aid(r: &Record) -> String {
    let dose = match r.field("dose_unit") {
        "g/hL" => (
            "Mass",
            r.range(
                "dose_min",
                "dose_max",
                100.0,
                Concentration::from_grams_per_litre,
            ),
        ),
        "mL/hL" => (
            "Volume",
            r.range(
                "dose_min",
                "dose_max",
                1.0,
                VolumeDose::from_millilitres_per_hectolitre,
            ),
        ),
        unit => panic!("unknown unit {unit}"),
    };
    let own = [
        (
            "purpose",
            r.word("purpose", AidPurpose::ALL, AidPurpose::as_str),
        ),
        ("dose", tagged(&format!("UsualDose::{}", dose.0), &dose.1)),
        ("use_stage", r.text("use_stage")),
        ("note", r.text("note")),
    ];
    row("Aid", r, &own, r.field("allergens"))
}

pub(crate) fn yeast(r: &Record) -> String {
    let own = [
        ("species", r.text("species")),
        ("usage", r.word("kind", YeastUse::ALL, YeastUse::as_str)),
        (
            "attenuation",
            r.quantity("attenuation_typical_pct", 100.0, Attenuation::from_fraction),
        ),
        (
            "attenuation_range",
            r.range(
                "attenuation_min_pct",
                "attenuation_max_pct",
                100.0,
                Attenuation::from_fraction,
            ),
        ),
        (
            "temperature_range",
            r.range(
                "temperature_min_c",
                "temperature_max_c",
                1.0,
                Temperature::from_celsius,
            ),
        ),
        (
            "flocculation",
            r.word("flocculation", Flocculation::ALL, Flocculation::as_str),
        ),
        (
            "diastatic",
            r.word("diastatic", StrainTrait::ALL, StrainTrait::as_str),
        ),
        (
            "phenolic",
            r.word("pof", StrainTrait::ALL, StrainTrait::as_str),
        ),
        (
            "pitch_rate",
            r.quantity(
                "pitch_million_per_ml_p",
                1.0,
                PitchRate::from_million_per_ml_plato,
            ),
        ),
        ("note", r.text("note")),
    ];
    row("Yeast", r, &own, "")
}
