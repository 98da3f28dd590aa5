//! The index of names by their words, for names as brewers write them.

use crate::fold::folded;
use crate::record::{self, Record};
use crate::respell::respell;
use crate::{Keys, head};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

/// A key of the index: its words, its table and row, how it leads there, and what the entry does.
struct Key {
    words: String,
    place: (&'static str, usize),
    way: String,
    function: &'static str,
}

/// The rows of `words.csv`.
struct Words {
    rows: Vec<Record>,
    same: Vec<(String, String)>,
    stop: BTreeSet<String>,
}

impl Words {
    fn read() -> Self {
        let rows = record::read("words");
        let of_role = |wanted: &'static str| {
            let rows = rows.iter();
            rows.filter(move |row| row.field("role") == wanted)
        };
        let same =
            of_role("same").map(|row| (folded(row.field("word")), folded(row.field("means"))));
        let mut same: Vec<_> = same.collect();
        same.sort();
        for pair in same.windows(2) {
            assert_ne!(pair[0].0, pair[1].0, "two ways to write a word");
        }
        let stop = of_role("stop")
            .map(|row| folded(row.field("word")))
            .collect();
        Self { rows, same, stop }
    }

    /// A name as words.
    fn respelt(&self, name: &str) -> String {
        let folded = folded(name);
        let same: Vec<_> = self
            .same
            .iter()
            .map(|(a, b)| (a.as_str(), b.as_str()))
            .collect();
        let mut words = Vec::new();
        respell(&folded, &same, &mut |word, _| {
            if !self.stop.contains(word) {
                words.push(word.to_owned());
            }
        });
        words.join(" ")
    }

    /// The same key with each other word that names of its function have for one of its own.
    fn alike(&self, key: &str, function: &str) -> Vec<String> {
        let rows = self.rows.iter().filter(|row| row.field("role") == "alike");
        let rows = rows.filter(|row| row.parts("within").contains(&function));
        let mut all = vec![key.to_owned()];
        for row in rows {
            let (word, means) = (folded(row.field("word")), folded(row.field("means")));
            for known in all.clone() {
                for (from, to) in [(&word, &means), (&means, &word)] {
                    let other: Vec<_> = known
                        .split(' ')
                        .map(|w| if w == from { to.as_str() } else { w })
                        .collect();
                    let other = other.join(" ");
                    if !all.contains(&other) {
                        all.push(other);
                    }
                }
            }
        }
        all
    }
}

const FUNCTIONS: [&str; 21] = [
    "malt",
    "grain",
    "hulls",
    "sugar",
    "syrup",
    "honey",
    "malt extract",
    "colouring",
    "juice",
    "fruit",
    "drink",
    "hop",
    "spice",
    "salt",
    "acid",
    "fining",
    "enzyme",
    "nutrient",
    "aid",
    "yeast",
    "other",
];

/// The variant of a function, as `src/catalogue/function.rs` has it.
fn variant(function: &str) -> String {
    assert!(FUNCTIONS.contains(&function), "no function `{function}`");
    let words = function.split(' ');
    words
        .map(|word| word[..1].to_uppercase() + &word[1..])
        .collect()
}

/// What the entry of a row does, as `src/catalogue/function.rs` finds it.
fn function(table: &str, record: &Record) -> &'static str {
    match table {
        "Fermentable" => match record.field("class") {
            "lautering aid" => "hulls",
            "sugar" => "sugar",
            "syrup" => "syrup",
            "honey" => "honey",
            "malt extract" => "malt extract",
            "colouring" => "colouring",
            "roasted grain" | "unmalted grain" => "grain",
            _ => "malt",
        },
        "Juice" if !record.field("fruit_class").is_empty() => "fruit",
        "Juice" => "juice",
        "Beverage" => "drink",
        "Hop" => "hop",
        "Botanical" => "spice",
        "WaterAgent" if record.field("kind") == "acid" => "acid",
        "WaterAgent" => "salt",
        "Aid" => match record.field("purpose") {
            "fining" => "fining",
            "enzyme" => "enzyme",
            "nutrient" => "nutrient",
            _ => "aid",
        },
        "Yeast" => "yeast",
        _ => panic!("no table {table}"),
    }
}

/// Every key: those of the table of names, and the everyday names.
fn keys(words: &Words, exact: &Keys) -> Vec<Key> {
    let mut functions = BTreeMap::new();
    let mut places = BTreeMap::new();
    for table in &crate::TABLES {
        for (row, record) in record::read(table.data).iter().enumerate() {
            let place = (table.row_type, row);
            functions.insert(place, function(table.row_type, record));
            places.insert(record.field("name").to_owned(), place);
        }
    }
    let mut named: Vec<(String, (&'static str, usize), String)> = exact
        .values()
        .map(|(name, table, row, way)| (name.clone(), (*table, *row), way.clone()))
        .collect();
    for (at, record) in everyday().iter().enumerate() {
        for entry in record
            .parts("entries")
            .into_iter()
            .filter(|entry| *entry != "none")
        {
            let place = *places
                .get(entry)
                .unwrap_or_else(|| panic!("no entry `{entry}`"));
            named.push((
                record.field("name").to_owned(),
                place,
                format!("Everyday({at})"),
            ));
        }
    }
    let mut keys: Vec<Key> = Vec::new();
    let mut seen = BTreeSet::new();
    for (name, place, way) in named {
        let function = functions[&place];
        for key in words.alike(&words.respelt(&name), function) {
            let mut set: Vec<_> = key.split(' ').map(str::to_owned).collect();
            set.sort();
            set.dedup();
            if seen.insert((set, place)) {
                keys.push(Key {
                    words: key,
                    place,
                    way: way.clone(),
                    function,
                });
            }
        }
    }
    check(&keys);
    keys
}

/// Two entries of one function whose names are the same words: a fault of the data, unless an everyday name says so.
fn check(keys: &[Key]) {
    let mut known: BTreeMap<(Vec<&str>, &str), &Key> = BTreeMap::new();
    for key in keys.iter().filter(|key| !key.way.starts_with("Everyday")) {
        let mut set: Vec<_> = key.words.split(' ').collect();
        set.sort_unstable();
        if let Some(other) = known.insert((set, key.function), key)
            && other.place != key.place
        {
            panic!(
                "`{}` and `{}` are the same words: {:?} {:?}",
                key.words, other.words, key.place, other.place
            );
        }
    }
}

/// The everyday names in the order in which they are looked up.
fn everyday() -> Vec<Record> {
    let mut rows = record::read("everyday");
    rows.sort_by_key(|row| folded(row.field("name")));
    rows
}

pub(crate) fn written(exact: &Keys) -> String {
    let words = Words::read();
    let keys = keys(&words, exact);
    let mut holding: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (at, key) in keys.iter().enumerate() {
        for word in key.words.split(' ').collect::<BTreeSet<_>>() {
            holding.entry(word).or_default().push(at);
        }
    }
    let mut text = head("*.csv");
    text += "use super::Table::{Aid, Beverage, Botanical, Fermentable, Hop, Juice, WaterAgent, Yeast};\n";
    text += "use super::Way::{Alias, Everyday, Generic, Name};\n";
    text += "use super::Function as F;\nuse super::{Generic as G, Role, RowAt, Word, WordRole, k, r, w};\n\n";
    let rows = everyday();
    let rows = rows.iter().map(|row| {
        format!(
            "G {{ name: {:?}, reason: {:?} }}",
            folded(row.field("name")),
            row.field("reason")
        )
    });
    list(
        &mut text,
        "/// Everyday names, folded.",
        "EVERYDAY",
        "G",
        rows,
    );
    let same = words
        .same
        .iter()
        .map(|(from, to)| format!("({from:?}, {to:?})"));
    list(
        &mut text,
        "/// Folded words, and how they are written in names.",
        "SAME",
        "(&str, &str)",
        same,
    );
    list(
        &mut text,
        "/// What words may be besides parts of a name.",
        "ROLES",
        "WordRole",
        roles(&words),
    );
    let shown = keys.iter().map(|key| {
        format!(
            "k({:?}, {}, {}, {})",
            key.words, key.place.0, key.place.1, key.way
        )
    });
    list(&mut text, "/// Names as words.", "KEYS", "RowAt", shown);
    let mut first = 0;
    let shown = holding.iter().map(|(word, keys)| {
        let shown = format!("w({word:?}, {first})");
        first += keys.len();
        shown
    });
    list(
        &mut text,
        "/// The words of the keys.",
        "WORDS",
        "Word",
        shown,
    );
    let shown = holding.values().flatten().map(usize::to_string);
    list(
        &mut text,
        "/// The numbers of the keys that hold a word, word after word.",
        "KEYS_WITH",
        "u16",
        shown,
    );
    text
}

fn roles(words: &Words) -> Vec<String> {
    let mut roles: Vec<_> = words
        .rows
        .iter()
        .filter_map(|row| {
            let role = match row.field("role") {
                "same" | "alike" => return None,
                "head" => format!("Role::Head(F::{})", variant(row.field("means"))),
                "own" => format!("Role::Own(F::{})", variant(row.field("means"))),
                "understood" => format!("Role::Understood(F::{})", variant(row.field("means"))),
                "origin" => "Role::Origin".to_owned(),
                "form" => "Role::Form".to_owned(),
                "remark" => "Role::Remark".to_owned(),
                "stop" => "Role::Stop".to_owned(),
                "tail" => "Role::Tail".to_owned(),
                role => panic!("no role `{role}`"),
            };
            let within = row.parts("within").into_iter().map(|function| {
                let _ = variant(function);
                1_u32
                    << FUNCTIONS
                        .iter()
                        .position(|known| *known == function)
                        .unwrap()
            });
            let within = within.reduce(|a, b| a | b).unwrap_or(u32::MAX);
            let word = folded(row.field("word"));
            Some((word.clone(), format!("r({word:?}, {role}, {within:#x})")))
        })
        .collect();
    roles.sort();
    roles.into_iter().map(|(_, role)| role).collect()
}

/// A static list, several items a line.
fn list(
    text: &mut String,
    doc: &str,
    name: &str,
    of: &str,
    items: impl IntoIterator<Item = String>,
) {
    writeln!(
        text,
        "{doc}\npub(in crate::catalogue) static {name}: &[{of}] = &["
    )
    .unwrap();
    let mut line = String::from("   ");
    for item in items {
        if line.len() + item.len() > 158 {
            writeln!(text, "{line}").unwrap();
            line = String::from("   ");
        }
        write!(line, " {item},").unwrap();
    }
    writeln!(text, "{line}\n];\n").unwrap();
}
