//! One concept has one name: a field of the JSON is named as its field in Rust, and ends in its unit. `src/names.md` lists
//! the units, and every field that is named otherwise.

use crate::public_items::Tree;
use std::collections::{BTreeMap, BTreeSet};
use syn::{Attribute, Expr, Fields, Item, Lit, Meta, Token, punctuated::Punctuated};
use wortwright_tests::files;

/// Fields named in Rust and in JSON, each with the types that have it.
type Named = BTreeMap<(String, String), BTreeSet<String>>;

/// What the derives of serde are told of a field or type.
fn told(attributes: &[Attribute]) -> Vec<Meta> {
    let of_serde = attributes.iter().filter(|a| a.path().is_ident("serde"));
    of_serde
        .flat_map(|a| {
            a.parse_args_with(Punctuated::<Meta, Token![,]>::parse_terminated)
                .unwrap()
        })
        .collect()
}

fn value(told: &[Meta], key: &str) -> Option<String> {
    told.iter().find_map(|meta| match meta {
        Meta::NameValue(pair) if pair.path.is_ident(key) => match &pair.value {
            Expr::Lit(literal) => match &literal.lit {
                Lit::Str(text) => Some(text.value()),
                _ => None,
            },
            _ => None,
        },
        _ => None,
    })
}

fn has(told: &[Meta], key: &str) -> bool {
    told.iter().any(|meta| meta.path().is_ident(key))
}

fn is_in_json(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        attribute.path().is_ident("derive")
            && attribute.meta.require_list().is_ok_and(|list| {
                let derived = list.tokens.to_string();
                derived.contains("Serialize") || derived.contains("Deserialize")
            })
    })
}

fn snake(name: &str) -> String {
    let mut snake = String::new();
    for letter in name.chars() {
        if letter.is_ascii_uppercase() && !snake.is_empty() {
            snake.push('_');
        }
        snake.push(letter.to_ascii_lowercase());
    }
    snake
}

fn fields(of: &str, fields: &Fields, found: &mut Named) {
    for field in fields {
        let told = told(&field.attrs);
        let Some(name) = &field.ident else { continue };
        if has(&told, "flatten") || has(&told, "skip") {
            continue;
        }
        let name = name.to_string().trim_start_matches("r#").to_owned();
        let json = value(&told, "rename").unwrap_or_else(|| name.clone());
        let types = found.entry((name, json)).or_default();
        types.insert(of.to_owned());
    }
}

fn read(items: &[Item], found: &mut Named) {
    for item in items {
        match item {
            Item::Mod(inner) => {
                let is_test = inner.ident == "tests";
                let content = inner.content.iter().filter(|_| !is_test);
                content.for_each(|(_, items)| read(items, found));
            }
            Item::Struct(item) if is_in_json(&item.attrs) => {
                fields(&item.ident.to_string(), &item.fields, found);
            }
            Item::Enum(item) if is_in_json(&item.attrs) => {
                for variant in &item.variants {
                    let of = format!("{}::{}", item.ident, variant.ident);
                    fields(&of, &variant.fields, found);
                    let renamed = value(&told(&variant.attrs), "rename");
                    if let (Some(json), 1) = (renamed, variant.fields.len()) {
                        let name = snake(&variant.ident.to_string());
                        found.entry((name, json)).or_default().insert(of);
                    }
                }
            }
            _ => {}
        }
    }
}

/// The cells of the table below a heading, backticks taken off; a cell may list several names.
pub(crate) fn table(text: &str, heading: &str) -> Vec<Vec<Vec<String>>> {
    let section = text.split(&format!("## {heading}\n")).nth(1).unwrap();
    let section = section.split("\n## ").next().unwrap();
    let rows = section.lines().filter(|line| line.starts_with("| "));
    rows.skip(1)
        .map(|row| {
            let cells = row.trim_matches(['|', ' ']).split(" | ");
            let names = |cell: &str| {
                cell.split(", ")
                    .map(|name| name.trim_matches(['`', ' ']).to_owned())
                    .collect()
            };
            cells.map(names).collect()
        })
        .collect()
}

#[test]
fn a_field_is_named_as_in_rust_with_its_unit_or_stands_in_the_table() {
    let mut found = Named::new();
    for items in Tree::of_sources().modules() {
        read(items, &mut found);
    }
    assert!(found.len() > 300, "{}", found.len());
    let text = files::read("src/names.md");
    let units: BTreeSet<String> = table(&text, "Units")
        .into_iter()
        .flat_map(|row| row[0].clone())
        .collect();
    let follows = |name: &str, json: &str| {
        let unit = json
            .strip_prefix(name)
            .and_then(|rest| rest.strip_prefix('_'));
        json == name || unit.is_some_and(|unit| units.contains(unit))
    };
    let listed: BTreeSet<(String, String)> = table(&text, "Named otherwise")
        .into_iter()
        .flat_map(|row| {
            let (rust, json) = (row[1].clone(), row[2].clone());
            assert!(rust.len() == 1 || json.len() == 1, "{row:?}");
            rust.into_iter().flat_map(move |rust| {
                let json = json.clone();
                json.into_iter().map(move |json| (rust.clone(), json))
            })
        })
        .collect();
    let otherwise = found
        .iter()
        .filter(|((name, json), _)| !follows(name, json));
    let otherwise: BTreeMap<_, _> = otherwise.collect();
    let missing: Vec<_> = otherwise
        .iter()
        .filter(|(pair, _)| !listed.contains(**pair))
        .collect();
    let idle: Vec<_> = listed
        .iter()
        .filter(|pair| !otherwise.contains_key(pair))
        .collect();
    assert!(
        missing.is_empty() && idle.is_empty(),
        "missing: {missing:#?}\nidle: {idle:#?}"
    );
    let used = |unit: &&String| {
        let ends = |(_, json): &&(String, String)| json.ends_with(&format!("_{unit}"));
        !found.keys().any(|pair| ends(&pair))
    };
    let idle: Vec<_> = units.iter().filter(used).collect();
    assert!(idle.is_empty(), "units of no field: {idle:?}");
}
