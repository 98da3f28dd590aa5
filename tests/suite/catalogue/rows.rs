//! Every row of the catalogue against its own laws. The checks of salts stand in `catalogue_salts`.

use std::collections::BTreeMap;
use wortwright::catalogue::*;
use wortwright::quantity::Share;

static BUILT_IN: Catalogue = Catalogue::builtin();

#[test]
fn every_row_names_its_reference() {
    let mut rows = 0;
    for entry in BUILT_IN.entries() {
        let (reference, provenance) = (entry.reference(), entry.provenance());
        assert!(reference.len() > 10, "{}", entry.name());
        assert_ne!(provenance, Provenance::Host, "{}", entry.name());
        let told_from_memory = reference.contains("memory") || reference.contains("no source");
        assert!(
            provenance != Provenance::Memory || told_from_memory,
            "{}: {reference}",
            entry.name()
        );
        assert_eq!(entry.name().trim(), entry.name());
        rows += 1;
    }
    // Fermentables, juices, hops, botanicals, salts and acids, aids, yeasts.
    assert_eq!(rows, 157 + 163 + 7 + 156 + 105 + 51 + 32 + 47);
}

/// What is not known is said to be so, and how many rows that is.
fn unknown(entry: EntryRef<'_>, count: &mut usize) {
    let reference = entry.reference();
    assert!(reference.contains("not known here"), "{}", entry.name());
    *count += 1;
}

#[test]
fn no_two_rows_share_a_name_or_alias() {
    let mut seen = BTreeMap::new();
    for entry in BUILT_IN.entries() {
        for name in std::iter::once(entry.name()).chain(entry.aliases()) {
            assert!(!name.is_empty());
            if let Some(other) = seen.insert(folded(name), entry.name()) {
                panic!("`{name}` belongs to `{other}` and `{}`", entry.name());
            }
        }
    }
}

#[test]
fn each_row_survives_json() {
    for entry in BUILT_IN.entries() {
        let text = serde_json::to_string(&entry).unwrap();
        let read: Entry = serde_json::from_str(&text).unwrap_or_else(|e| panic!("{text}: {e}"));
        assert_eq!(serde_json::to_string(&read).unwrap(), text);
        assert_eq!(read.name(), entry.name());
        assert_eq!(read.kind(), entry.kind());
    }
}

#[test]
fn extract_and_protein_leave_room_for_each_other() {
    for row in BUILT_IN.fermentables() {
        let (Some(extract), Some(protein)) = (row.extract, row.protein) else {
            continue;
        };
        // 40 per cent of the protein and all of the extract can dissolve; hydrolysis of pure starch adds the rest.
        let sum = extract.percent() + 0.4 * protein.percent();
        assert!(sum <= 103.0, "{}: {sum}", row.name);
    }
}

#[test]
fn fermentables_lie_inside_their_own_ranges() {
    for row in BUILT_IN.fermentables() {
        if let (Some(colour), Some((low, high))) = (row.colour, row.colour_range) {
            assert!(low <= colour && colour <= high, "{}", row.name);
        }
        if let Some(Gelatinisation::Range(low, high)) = row.gelatinisation {
            assert!(
                low < high && low.celsius() > 40.0 && high.celsius() < 100.0,
                "{}",
                row.name
            );
        }
        let share = row.usual_max_share.unwrap();
        assert!(share.fraction() > 0.0, "{}", row.name);
        assert!(row.commonness.is_some() && row.flavour.is_some() && row.class.is_some());
        if let (Some(as_is), Some(dry)) = (row.extract_as_is(), row.extract) {
            assert!(as_is <= dry);
        }
    }
}

#[test]
fn a_darker_caramel_malt_gives_less_extract_and_ferments_less() {
    let mut barley: Vec<_> = BUILT_IN
        .of_class(FermentableClass::CaramelMalt)
        .filter(|row| row.name.starts_with("caramel malt "))
        .map(|row| {
            (
                row.colour.unwrap(),
                row.extract.unwrap(),
                row.fermentability.unwrap(),
                row.usual_max_share.unwrap(),
            )
        })
        .collect();
    barley.sort_by(|a, b| a.0.partial_cmp(&b.0).unwrap());
    assert!(barley.len() > 8);
    for pair in barley.windows(2) {
        assert!(
            pair[1].1 <= pair[0].1 && pair[1].2 <= pair[0].2 && pair[1].3 <= pair[0].3,
            "{pair:?}"
        );
    }
}

#[test]
fn kinds_follow_from_classes() {
    for row in BUILT_IN.fermentables() {
        let expected =
            if row.name.ends_with("malt") || row.class == Some(FermentableClass::CaramelMalt) {
                Some(Kind::Malt)
            } else if row.name.starts_with("flaked") || row.name.ends_with("hulls") {
                Some(Kind::Grain)
            } else if row.name.ends_with("syrup")
                || row.name.ends_with("honey")
                || row.name.contains("malt extract")
            {
                Some(Kind::Sugar)
            } else {
                None
            };
        assert!(
            expected.is_none_or(|kind| kind == row.kind()),
            "{}",
            row.name
        );
    }
    assert_eq!(BUILT_IN.of_kind(Kind::Acid).count(), 20);
    assert_eq!(BUILT_IN.of_kind(Kind::Other).count(), 0);
}

#[test]
fn sugars_and_acid_of_a_juice_fit_into_its_solids() {
    let mut unknown_rows = 0;
    for row in BUILT_IN.juices() {
        let is_fruit = row.family.starts_with("whole fruit");
        if row.extract.is_none() {
            assert!(is_fruit, "{}", row.name);
            unknown(EntryRef::Juice(row), &mut unknown_rows);
            continue;
        }
        // Sugars of fruit are analysed one by one or only as a sum.
        let fraction = |share: Option<Share>| match share {
            None if is_fruit => 0.0,
            share => share.unwrap().fraction(),
        };
        let yeast_takes = fraction(row.glucose) + fraction(row.fructose) + fraction(row.sucrose);
        let plato = row.extract.unwrap().plato();
        // Grams of solids in a litre, with a density that is right within 1 % up to 70 °Bx (1 + 0.004 Bx + 0.00001 Bx²).
        let solids = 10.0 * plato * (1.0 + 0.004 * plato + 0.00001 * plato * plato);
        let acid = match row.acidity {
            None if is_fruit => 0.0,
            acidity => acidity.unwrap().grams_per_litre() / solids,
        };
        let sum = yeast_takes + fraction(row.sorbitol) + acid;
        assert!(sum <= 1.02, "{}: {sum}", row.name);
        let told = row.fermentability.unwrap().fraction();
        let is_analysed = !is_fruit || row.sucrose.is_some();
        assert!(
            !is_analysed || (told - yeast_takes).abs() <= 0.0051 || is_fruit && yeast_takes < told,
            "{}: {told} {yeast_takes}",
            row.name
        );
        assert!(!row.acids.is_empty() && row.commonness.is_some());
        if is_fruit {
            continue;
        }
        if let Some((low, high)) = row.extract_range {
            let typical = row.extract.unwrap();
            assert!(low <= typical && typical <= high, "{}", row.name);
        }
        let ph = row.ph.unwrap().value();
        assert!((2.0..=7.0).contains(&ph), "{}: {ph}", row.name);
        let is_concentrate = row.name.ends_with("concentrate");
        assert!(is_concentrate || row.aroma.is_some() && row.extract_range.is_some());
    }
    assert_eq!(unknown_rows, 25);
}

#[test]
fn juices_of_one_hue_have_one_editorial_colour() {
    let mut by_class = BTreeMap::new();
    for row in BUILT_IN.juices() {
        let Some(colour) = row.colour else {
            assert!(row.family.starts_with("whole fruit") && row.colour_class.is_none());
            continue;
        };
        let colour = colour.ebc();
        let first = *by_class.entry(row.colour_class.unwrap()).or_insert(colour);
        assert!((first - colour).abs() < 1e-9, "{}", row.name);
    }
    assert!(by_class.len() > 5);
}

#[test]
fn ranges_of_hops_are_in_order() {
    for row in BUILT_IN.hops() {
        let (low, high) = row.alpha_range.unwrap();
        assert!(
            low < high && low.percent() > 1.0 && high.percent() < 22.0,
            "{}",
            row.name
        );
        assert!(low < row.alpha().unwrap() && row.alpha().unwrap() < high);
        let (beta_low, beta_high) = row.beta_range.unwrap();
        let (cohumulone_low, cohumulone_high) = row.cohumulone_range.unwrap();
        let (oil_low, oil_high) = row.oil_range.unwrap();
        assert!(
            beta_low < beta_high && cohumulone_low < cohumulone_high && oil_low <= oil_high,
            "{}",
            row.name
        );
    }
    let unknown_loss = BUILT_IN
        .hops()
        .filter(|row| row.storage_loss.is_none())
        .count();
    assert_eq!(unknown_loss, 1 + 95, "an unknown loss is not 0");
}

#[test]
fn a_blocked_botanical_has_no_dose_and_says_why() {
    let (mut blocked, mut unknown_rows) = (0, 0);
    for row in BUILT_IN.botanicals() {
        let Some((low, high)) = row.dose_range else {
            unknown(EntryRef::Botanical(row), &mut unknown_rows);
            continue;
        };
        assert!(low <= high, "{}", row.name);
        let level = row.caution_level.unwrap();
        assert_eq!(
            level == CautionLevel::Block,
            high.grams_per_litre() == 0.0,
            "{}",
            row.name
        );
        assert!(
            level < CautionLevel::Warn || !row.cautions.is_empty(),
            "{}",
            row.name
        );
        blocked += usize::from(level == CautionLevel::Block);
    }
    assert!(blocked > 3);
    assert_eq!(unknown_rows, 24);
}

#[test]
fn aids_and_yeasts_lie_inside_their_ranges() {
    let mut unknown_rows = 0;
    for row in BUILT_IN.aids() {
        let Some(dose) = row.dose else {
            unknown(EntryRef::Aid(row), &mut unknown_rows);
            continue;
        };
        let in_order = match dose {
            UsualDose::Mass(low, high) => low < high,
            UsualDose::Volume(low, high) => low < high,
        };
        assert!(
            in_order && row.purpose.is_some() && !row.use_stage.is_empty(),
            "{}",
            row.name
        );
    }
    for row in BUILT_IN.yeasts() {
        if let Some((low, high)) = row.attenuation_range {
            let typical = row.attenuation.unwrap();
            assert!(low < typical && typical < high, "{}", row.name);
        } else {
            assert!(row.attenuation.is_none(), "{}", row.name);
        }
        let Some((low, high)) = row.temperature_range else {
            unknown(EntryRef::Yeast(row), &mut unknown_rows);
            continue;
        };
        assert!(low < high, "{}", row.name);
        let is_of_beer = matches!(row.usage, Some(YeastUse::Ale | YeastUse::Lager));
        assert!(!is_of_beer || row.pitch_rate.is_some(), "{}", row.name);
    }
    assert_eq!(unknown_rows, 1 + 4);
}

#[test]
fn allergens_are_told() {
    for (name, expected) in [
        ("pale ale malt", &[Allergen::Barley][..]),
        ("spelt malt", &[Allergen::Wheat]),
        ("triticale malt", &[Allergen::Wheat, Allergen::Rye]),
        ("flaked oats", &[Allergen::Oats]),
        ("lactose", &[Allergen::Milk]),
        ("isinglass", &[Allergen::Fish]),
        ("hazelnut", &[Allergen::TreeNuts]),
        ("celery seed", &[Allergen::Celery]),
        ("flaked rice", &[]),
        ("sucrose", &[]),
        ("potassium metabisulphite", &[Allergen::Sulphites]),
    ] {
        assert_eq!(
            BUILT_IN.find(name).unwrap().entry.allergens(),
            expected,
            "{name}"
        );
    }
    // Every malt of a gluten cereal tells of it.
    for row in BUILT_IN
        .fermentables()
        .filter(|row| row.botanical.starts_with("Hordeum"))
    {
        assert!(row.allergens.contains(&Allergen::Barley), "{}", row.name);
    }
}

#[test]
fn a_row_stands_in_json_with_its_units() {
    let malt = BUILT_IN.find("pale ale malt").unwrap().entry;
    let json = serde_json::to_value(malt).unwrap();
    let malt = &json["fermentable"];
    assert_eq!(malt["moisture_pct"], 3.8);
    assert_eq!(malt["extract_dry_pct"], 81.5);
    assert_eq!(malt["colour_range_ebc"], serde_json::json!([5.0, 7.0]));
    assert_eq!(malt["provenance"], "read");
    let unknown: Result<Entry, _> =
        serde_json::from_str(r#"{"hop":{"name":"x","alfa_range_pct":[1,2]}}"#);
    assert!(unknown.is_err());
    let own: Entry =
        serde_json::from_str(r#"{"hop":{"name":"Garden hop","alpha_range_pct":[4,6]}}"#).unwrap();
    let Entry::Hop(hop) = own else { panic!() };
    assert!((hop.alpha().unwrap().percent() - 5.0).abs() < 1e-12);
    assert_eq!((hop.storage_loss, hop.provenance), (None, Provenance::Host));
}
