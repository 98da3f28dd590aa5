//! One row of each table as a Rust struct.

use crate::record::{Record, list, text, word};
use crate::words::{axes, variants};

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
        list(known.into_iter().map(|a| format!("Allergen::{a}"))),
    ));
    fields.push(("allergen_note", text(note)));
    fields.push(("reference", record.text("source")));
    fields.push((
        "provenance",
        word("Provenance", record.field("source_quality")),
    ));
    let fields: Vec<_> = fields
        .iter()
        .map(|(field, value)| format!("{field}: {value}"))
        .collect();
    format!("{name} {{ {} }}", fields.join(", "))
}

/// The regulated allergens that a column tells of, and the column itself where it says more than their names.
fn allergens_of(told: &str) -> (Vec<String>, &str) {
    let all = variants("Allergen");
    let found = |fits: &dyn Fn(&str) -> bool| {
        let found = all.iter().find(|(_, name)| fits(name));
        found.map(|(variant, _)| variant.clone())
    };
    let by_name = |name: &str| found(&|known| known == name);
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
        "coconut (regulated as tree nut in some countries)" => {
            (by_name("tree nuts").into_iter().collect(), told)
        }
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
            let leading = found(&|known| told.starts_with(known));
            let leading = leading.unwrap_or_else(|| panic!("unknown allergen `{told}`"));
            (vec![leading], told)
        }
    }
}

fn intensities(name: &str, record: &Record, list: &str) -> String {
    let axes = axes(list);
    let values: Vec<_> = axes.iter().map(|axis| record.field(axis)).collect();
    if values.iter().all(|value| value.is_empty()) {
        return "None".to_owned();
    }
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
            let range = r.dashed("gelatinisation_c", "Temperature");
            tagged("Gelatinisation::Range", &range)
        }
    };
    let own = [
        ("class", r.word("class", "FermentableClass")),
        ("botanical", r.text("botanical")),
        ("form", r.text("form")),
        ("moisture", r.quantity("moisture_pct", 100.0, "Moisture")),
        (
            "extract",
            r.quantity("extract_fine_dry_pct", 100.0, "LaboratoryExtract"),
        ),
        (
            "coarse_fine_difference",
            r.quantity("coarse_fine_diff_pct", 100.0, "LaboratoryExtract"),
        ),
        ("colour", r.quantity("colour_ebc", 1.0, "MaltColour")),
        ("colour_range", r.dashed("colour_ebc_range", "MaltColour")),
        ("colour_basis", r.word("colour_basis", "ColourBasis")),
        (
            "diastatic_power",
            r.quantity("diastatic_power_wk", 1.0, "DiastaticPower"),
        ),
        ("protein", r.quantity("protein_pct_dry", 100.0, "Protein")),
        (
            "fermentability",
            r.quantity("fermentability_pct", 100.0, "Fermentability"),
        ),
        ("maltotriose", r.quantity("maltotriose_pct", 100.0, "Share")),
        ("needs_mash", r.word("needs_mash", "NeedsMash")),
        ("gelatinisation", gelatinisation),
        (
            "usual_max_share",
            r.quantity("max_share_pct", 100.0, "Share"),
        ),
        ("gum", r.word("beta_glucan_or_gum", "Level")),
        ("mash_ph", r.quantity("mash_di_ph", 1.0, "Ph")),
        (
            "buffering",
            r.quantity("buffering_meq_per_kg_ph", 1.0, "Buffering"),
        ),
        ("flavour", intensities("MaltFlavour", r, "FLAVOUR_AXES")),
        ("commonness", r.word("commonness", "Commonness")),
        ("function", r.word("function_class", "FermentableFunction")),
        ("small_mash", r.word("small_mash", "SmallMash")),
    ];
    row("Fermentable", r, &own, r.field("allergens"))
}

pub(crate) fn juice(r: &Record) -> String {
    let share = |column| r.quantity(column, 1.0, "Share");
    let acids = r
        .field("principal_acid")
        .split('/')
        .map(|acid| word("FruitAcid", acid));
    let own = [
        ("family", r.text("family")),
        ("extract", r.quantity("brix_typical", 1.0, "Extract")),
        (
            "extract_range",
            r.range("brix_min", "brix_max", 1.0, "Extract"),
        ),
        ("ph", r.quantity("ph_typical", 1.0, "Ph")),
        (
            "acidity",
            r.quantity("titratable_acidity_g_l", 1.0, "Concentration"),
        ),
        ("acids", list(acids)),
        ("glucose", share("glucose_share")),
        ("fructose", share("fructose_share")),
        ("sucrose", share("sucrose_share")),
        ("sorbitol", share("sorbitol_share")),
        (
            "fermentability",
            r.quantity("fermentability_pct", 100.0, "Fermentability"),
        ),
        ("fruit_class", r.word("fruit_class", "FruitClass")),
        ("pulp", r.quantity("pulp_pct", 100.0, "Share")),
        ("seeds", r.quantity("seeds_pct", 100.0, "Share")),
        ("stones", r.quantity("stones_pct", 100.0, "Share")),
        (
            "assimilable_nitrogen",
            r.quantity("yan_mg_l", 1000.0, "Concentration"),
        ),
        ("colour_class", r.word("colour_class", "ColourClass")),
        (
            "colour",
            r.quantity("colour_ebc_equivalent", 1.0, "BeerColour"),
        ),
        ("anthocyanin", r.word("anthocyanin", "Level")),
        ("tannin", r.word("tannin", "Level")),
        ("pectin", r.word("pectin_haze", "Level")),
        ("aroma", intensities("JuiceAroma", r, "JUICE_AXES")),
        ("cautions", r.text("cautions")),
        ("commonness", r.word("commonness", "Commonness")),
        ("function", r.word("function_class", "JuiceFunction")),
    ];
    row("Juice", r, &own, r.field("allergens_sulphite"))
}

pub(crate) fn beverage(r: &Record) -> String {
    let own = [
        (
            "alcohol",
            r.quantity("alcohol_abv_pct", 100.0, "AlcoholByVolume"),
        ),
        ("extract", r.quantity("brix", 1.0, "Extract")),
        (
            "fermentability",
            r.quantity("fermentability_pct", 100.0, "Fermentability"),
        ),
        ("colour", r.quantity("colour_ebc", 1.0, "BeerColour")),
    ];
    row("Beverage", r, &own, r.field("allergens"))
}

pub(crate) fn hop(r: &Record) -> String {
    let own = [
        ("usage", r.word("use", "HopUse")),
        (
            "alpha_range",
            r.range("alpha_min_pct", "alpha_max_pct", 100.0, "AlphaAcids"),
        ),
        (
            "beta_range",
            r.range("beta_min_pct", "beta_max_pct", 100.0, "Share"),
        ),
        (
            "cohumulone_range",
            r.range(
                "cohumulone_min_pct_of_alpha",
                "cohumulone_max_pct_of_alpha",
                100.0,
                "Share",
            ),
        ),
        (
            "oil_range",
            r.range("oil_min_ml_100g", "oil_max_ml_100g", 1.0, "OilContent"),
        ),
        (
            "storage_loss",
            r.quantity("storage_loss_pct_6mo_20c", 100.0, "Share"),
        ),
        ("aroma", intensities("HopAroma", r, "HOP_AXES")),
        ("commonness", r.word("commonness", "Commonness")),
        ("circles", r.texts("circles")),
        ("close_to", r.texts("close_to")),
    ];
    row("Hop", r, &own, "")
}

pub(crate) fn botanical(r: &Record) -> String {
    let own = [
        ("botanical", r.text("botanical")),
        ("part", r.text("part")),
        (
            "dose_range",
            r.range("dose_min_g_l", "dose_max_g_l", 1.0, "Concentration"),
        ),
        ("use_stage", r.text("use_stage")),
        ("job", r.word("job", "BotanicalJob")),
        ("caution_level", r.word("caution_level", "CautionLevel")),
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
        format!("{field}: {}", r.quantity(&column, 1.0, "IonYield"))
    });
    let equivalents = |column| r.quantity(column, 1.0, "Equivalents");
    let own = [
        ("usage", r.word("kind", "WaterAgentUse")),
        ("formula", r.text("formula")),
        ("form", r.text("hydrate_or_form")),
        (
            "molar_mass",
            r.quantity("molar_mass_g_mol", 1.0, "MolarMass"),
        ),
        (
            "ions",
            format!("Some(IonsPerGram {{ {} }})", ions.join(", ")),
        ),
        ("alkalinity", equivalents("alkalinity_meq_per_g")),
        ("pk1", r.quantity("pka1", 1.0, "AcidConstant")),
        ("pk2", r.quantity("pka2", 1.0, "AcidConstant")),
        ("pk3", r.quantity("pka3", 1.0, "AcidConstant")),
        ("strength", r.quantity("strength_pct", 100.0, "Strength")),
        ("density", r.quantity("density_g_ml", 1.0, "Density")),
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
            r.range("dose_min", "dose_max", 100.0, "Concentration"),
        ),
        "mL/hL" => ("Volume", r.range("dose_min", "dose_max", 1.0, "VolumeDose")),
        unit => panic!("unknown unit {unit}"),
    };
    let own = [
        ("purpose", r.word("purpose", "AidPurpose")),
        ("job", r.word("job", "AidJob")),
        ("dose", tagged(&format!("UsualDose::{}", dose.0), &dose.1)),
        ("use_stage", r.text("use_stage")),
        ("note", r.text("note")),
    ];
    row("Aid", r, &own, r.field("allergens"))
}

pub(crate) fn yeast(r: &Record) -> String {
    let own = [
        ("species", r.text("species")),
        ("usage", r.word("kind", "YeastUse")),
        (
            "attenuation",
            r.quantity("attenuation_typical_pct", 100.0, "Attenuation"),
        ),
        (
            "attenuation_range",
            r.range(
                "attenuation_min_pct",
                "attenuation_max_pct",
                100.0,
                "Attenuation",
            ),
        ),
        (
            "temperature_range",
            r.range("temperature_min_c", "temperature_max_c", 1.0, "Temperature"),
        ),
        ("flocculation", r.word("flocculation", "Flocculation")),
        ("diastatic", r.word("diastatic", "StrainTrait")),
        ("phenolic", r.word("pof", "StrainTrait")),
        ("esters", r.word("esters", "Level")),
        ("maltotriose", r.word("maltotriose", "MaltotrioseUse")),
        (
            "alcohol_limit",
            r.range(
                "alcohol_limit_low_pct_vol",
                "alcohol_limit_high_pct_vol",
                100.0,
                "AlcoholByVolume",
            ),
        ),
        (
            "pitch_rate",
            r.quantity("pitch_million_per_ml_p", 1.0, "PitchRate"),
        ),
        ("note", r.text("note")),
    ];
    row("Yeast", r, &own, r.field("allergens"))
}
