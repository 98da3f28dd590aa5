//! The static tables of the catalogue, made from the reviewed rows; `cargo run -p wortwright-tables` writes them.
//!
//! Nothing of the crate is needed, so that tables which no longer compile are made anew all the same. A test of the suite
//! holds the tables against what is made here, and each figure against the range of its type.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::missing_panics_doc
)]

pub mod csv;
// How names are compared is two files of the crate that stand alone.
#[path = "../../src/catalogue/fold.rs"]
#[allow(dead_code, unreachable_pub)]
mod fold;
mod naming;
mod record;
#[path = "../../src/catalogue/respell.rs"]
#[allow(unreachable_pub)]
mod respell;
mod rows;
mod words;

use fold::folded;
use record::Record;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

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

const TABLES: [Table; 8] = [
    table(
        "fermentables",
        "fermentables",
        "Fermentable",
        rows::fermentable,
    ),
    table("juices", "juices", "Juice", rows::juice),
    table("beverages", "beverages", "Beverage", rows::beverage),
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
    format!("// Generated from data/{data} by tests/tables; do not edit.\n\n")
}

fn written(table: &Table) -> String {
    let rows: Vec<_> = record::read(table.data).iter().map(table.row).collect();
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

const CATALOGUE_TYPES: [&str; 43] = [
    "Aid",
    "AidJob",
    "AidPurpose",
    "Allergen",
    "Beverage",
    "Botanical",
    "BotanicalJob",
    "CautionLevel",
    "ColourClass",
    "ColourBasis",
    "Commonness",
    "Density",
    "UsualDose",
    "Equivalents",
    "Fermentable",
    "FermentableClass",
    "FermentableFunction",
    "Flocculation",
    "FruitAcid",
    "FruitClass",
    "Gelatinisation",
    "Hop",
    "HopAroma",
    "HopUse",
    "IonYield",
    "IonsPerGram",
    "Juice",
    "JuiceAroma",
    "JuiceFunction",
    "Level",
    "MaltotrioseUse",
    "MaltFlavour",
    "MolarMass",
    "NeedsMash",
    "OilContent",
    "Provenance",
    "SmallMash",
    "StrainTrait",
    "VolumeDose",
    "WaterAgent",
    "WaterAgentUse",
    "Yeast",
    "YeastUse",
];

const QUANTITY_TYPES: [&str; 19] = [
    "AcidConstant",
    "AlcoholByVolume",
    "AlphaAcids",
    "Attenuation",
    "BeerColour",
    "Buffering",
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
        for (row, record) in record::read(table.data).iter().enumerate() {
            let (name, place) = (record.field("name"), (table.row_type, row));
            places.insert(name.to_owned(), place);
            add(&mut keys, name, place, "Name".to_owned());
            for (alias, name) in record.parts("aliases").iter().enumerate() {
                add(&mut keys, name, place, format!("Alias({alias})"));
            }
        }
    }
    for (at, record) in record::read("generic").iter().enumerate() {
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
    for record in record::read("generic") {
        let (name, reason) = (record.field("name"), record.field("reason"));
        writeln!(
            text,
            "    Generic {{ name: {name:?}, reason: {reason:?} }},"
        )
        .unwrap();
    }
    text + "];\n"
}

fn index(keys: Keys) -> String {
    let longest = keys.keys().map(String::len).max().unwrap();
    let mut text = head("*.csv");
    text += "use super::Table::{Aid, Beverage, Botanical, Fermentable, Hop, Juice, WaterAgent, Yeast};\n";
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

/// Each file of the tables, by its path, with its text.
pub fn tables() -> Vec<(PathBuf, String)> {
    let of_rows = TABLES.iter().map(|table| (table.file, written(table)));
    let keys = keys();
    let rest = [
        ("generic", generic()),
        ("words", naming::written(&keys)),
        ("index", index(keys)),
    ];
    let place = |file: &str| at(&format!("src/catalogue/tables/{file}.rs"));
    let all = of_rows.chain(rest);
    all.map(|(file, text)| (place(file), text)).collect()
}

/// Where a path from the top of the repository leads, whatever the working directory.
fn at(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../..")
        .join(path)
}
