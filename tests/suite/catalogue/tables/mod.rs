//! Writes the static tables of the catalogue from the reviewed data, and checks that they are up to date.
//!
//! `WORTWRIGHT_WRITE_TABLES=1 cargo test --test suite catalogue_tables` writes them.

mod csv;
mod rows;

use csv::Record;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::{env, fs};
use wortwright::catalogue::folded;

struct Table {
    data: &'static str,
    file: &'static str,
    row_type: &'static str,
    row: fn(&Record) -> String,
}

const fn table(
    data: &'static str,
    file: &'static str,
    row_type: &'static str,
    row: fn(&Record) -> String,
) -> Table {
    Table {
        data,
        file,
        row_type,
        row,
    }
}

const TABLES: [Table; 7] = [
    table(
        "fermentables",
        "fermentables",
        "Fermentable",
        rows::fermentable,
    ),
    table("juices", "juices", "Juice", rows::juice),
    table("hops", "hops", "Hop", rows::hop),
    table(
        "botanicals_cautions",
        "botanicals",
        "Botanical",
        rows::botanical,
    ),
    table(
        "salts_and_acids",
        "water_agents",
        "WaterAgent",
        rows::water_agent,
    ),
    table("aids", "aids", "Aid", rows::aid),
    table("yeasts", "yeasts", "Yeast", rows::yeast),
];

fn head(data: &str) -> String {
    format!("// Generated from data/{data} by tests/suite/catalogue/tables; do not edit.\n\n")
}

fn written(table: &Table) -> String {
    let rows: Vec<_> = csv::read(table.data).iter().map(table.row).collect();
    let body = rows.join("\n");
    // Only the types that the rows name, so that no import is unused.
    let names = |name: &str| {
        body.match_indices(name).any(|(at, _)| {
            let after = &body[at + name.len()..];
            let inside = body[..at].ends_with(char::is_alphanumeric);
            !inside && (after.starts_with("::") || after.starts_with(" {"))
        })
    };
    let used = |module: &str, all: &[&'static str]| {
        let found: Vec<_> = all.iter().filter(|name| names(name)).copied().collect();
        format!("use crate::{module}::{{{}}};\n", found.join(", "))
    };
    let mut text = head(&format!("{}.csv", table.data));
    text += &used("catalogue", &CATALOGUE_TYPES);
    text += &used("quantity", &QUANTITY_TYPES);
    text += "use std::borrow::Cow;\n\n";
    let name = table.file.to_uppercase();
    writeln!(
        text,
        "pub(in crate::catalogue) static {name}: &[{}] = &[",
        table.row_type
    )
    .unwrap();
    for row in rows {
        writeln!(text, "    {row},").unwrap();
    }
    text + "];\n"
}

const CATALOGUE_TYPES: [&str; 36] = [
    "AcidConstant",
    "Aid",
    "AidPurpose",
    "Allergen",
    "Botanical",
    "Buffering",
    "CautionLevel",
    "ColourClass",
    "Commonness",
    "Density",
    "UsualDose",
    "Equivalents",
    "Fermentable",
    "FermentableClass",
    "Flocculation",
    "FruitAcid",
    "Gelatinisation",
    "Hop",
    "HopAroma",
    "HopUse",
    "IonYield",
    "IonsPerGram",
    "Juice",
    "JuiceAroma",
    "Level",
    "MaltFlavour",
    "MolarMass",
    "NeedsMash",
    "OilContent",
    "Provenance",
    "StrainTrait",
    "VolumeDose",
    "WaterAgent",
    "WaterAgentUse",
    "Yeast",
    "YeastUse",
];

const QUANTITY_TYPES: [&str; 16] = [
    "AlphaAcids",
    "Attenuation",
    "BeerColour",
    "Concentration",
    "DiastaticPower",
    "Extract",
    "Fermentability",
    "LaboratoryExtract",
    "MaltColour",
    "Moisture",
    "Ph",
    "PitchRate",
    "Protein",
    "Share",
    "Strength",
    "Temperature",
];

/// Folded names, each with the name as written, its table, its row and how it leads there.
type Keys = BTreeMap<String, (String, &'static str, usize, String)>;

fn add(keys: &mut Keys, name: &str, (table, row): (&'static str, usize), way: String) {
    if let Some((other, ..)) = keys.insert(folded(name), (name.to_owned(), table, row, way)) {
        panic!("`{name}` and `{other}` are the same name");
    }
}

/// Every folded name; one that leads to two places is a fault of the data.
fn keys() -> Keys {
    let mut keys = Keys::new();
    let mut places = BTreeMap::new();
    for table in &TABLES {
        for (row, record) in csv::read(table.data).iter().enumerate() {
            let (name, place) = (record.field("name"), (table.row_type, row));
            places.insert(name.to_owned(), place);
            add(&mut keys, name, place, "Name".to_owned());
            for (alias, name) in record.parts("aliases").iter().enumerate() {
                add(&mut keys, name, place, format!("Alias({alias})"));
            }
        }
    }
    for (at, record) in csv::read("generic").iter().enumerate() {
        let default = record.field("default");
        let place = *places
            .get(default)
            .unwrap_or_else(|| panic!("no entry `{default}`"));
        add(
            &mut keys,
            record.field("name"),
            place,
            format!("Generic({at})"),
        );
    }
    keys
}

fn generic() -> String {
    let mut text = head("generic.csv");
    text += "use super::Generic;\n\npub(in crate::catalogue) static GENERIC: &[Generic] = &[\n";
    for record in csv::read("generic") {
        let (name, reason) = (record.field("name"), record.field("reason"));
        writeln!(
            text,
            "    Generic {{ name: {name:?}, reason: {reason:?} }},"
        )
        .unwrap();
    }
    text + "];\n"
}

fn index() -> String {
    let keys = keys();
    let longest = keys.keys().map(String::len).max().unwrap();
    let mut text = head("*.csv");
    text += "use super::Table::{Aid, Botanical, Fermentable, Hop, Juice, WaterAgent, Yeast};\n";
    text += "use super::Way::{Alias, Generic, Name};\nuse super::{RowAt, k};\n\n";
    writeln!(text, "/// Length of the longest key in bytes.\npub(in crate::catalogue) const LONGEST_KEY: usize = {longest};\n").unwrap();
    text += "pub(in crate::catalogue) static INDEX: &[RowAt] = &[\n";
    let mut line = String::from("   ");
    for (key, (_, table, row, way)) in keys {
        let key = format!(" k({key:?}, {table}, {row}, {way}),");
        if line.len() + key.len() > 160 {
            writeln!(text, "{line}").unwrap();
            line = String::from("   ");
        }
        line += &key;
    }
    writeln!(text, "{line}\n];").unwrap();
    text
}

#[test]
fn the_catalogue_tables_are_those_of_the_reviewed_data() {
    let mut files: Vec<(&str, String)> = TABLES
        .iter()
        .map(|table| (table.file, written(table)))
        .collect();
    files.push(("generic", generic()));
    files.push(("index", index()));
    for (file, text) in files {
        let path = format!(
            "{}/../src/catalogue/tables/{file}.rs",
            env!("CARGO_MANIFEST_DIR")
        );
        if env::var_os("WORTWRIGHT_WRITE_TABLES").is_some_and(|set| set == "1") {
            fs::write(&path, text).unwrap();
        } else {
            assert!(
                fs::read_to_string(&path).unwrap() == text,
                "{path} is out of date: run `WORTWRIGHT_WRITE_TABLES=1 cargo test --test suite catalogue_tables`"
            );
        }
    }
}
