//! The table of the grammar: what its rows say is what is read.

use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::{env, fs};
use wortwright::catalogue::{Catalogue, Kind};
use wortwright::diagnostic::{Code, TextRef};
use wortwright::notation::{Block, Document, Models, Row, Takes, grammar, read};
use wortwright::recipe::{Addition, Ingredient, Recipe};
use wortwright_tests::rows::text_with;

/// The models of a text as a host has them in JSON.
fn models(text: &str) -> Value {
    let reading = read(&[TextRef::new("text", text)]);
    assert_eq!(reading.diagnostics, [], "{text}");
    json!({
        "recipe": reading.recipe,
        "brewhouses": reading.brewhouses,
        "stock": reading.stock,
        "logs": reading.logs,
        "ingredients": reading.ingredients,
    })
}

/// The paths of the values in which two differ, numbers of lists left out.
fn differing(one: &Value, other: &Value, path: &str, found: &mut BTreeSet<String>) {
    match (one, other) {
        (Value::Object(one), Value::Object(other)) => {
            let keys: BTreeSet<_> = one.keys().chain(other.keys()).collect();
            for key in keys {
                let value = |of: &serde_json::Map<String, Value>| of.get(key).cloned();
                let (one, other) = (value(one), value(other));
                let path = format!("{path}.{key}");
                differing(
                    &one.unwrap_or(Value::Null),
                    &other.unwrap_or(Value::Null),
                    &path,
                    found,
                );
            }
        }
        (Value::Array(one), Value::Array(other)) if one.len() == other.len() => {
            for (one, other) in one.iter().zip(other) {
                differing(one, other, &format!("{path}[]"), found);
            }
        }
        (one, other) if one != other => {
            found.insert(path.trim_start_matches('.').to_owned());
        }
        _ => {}
    }
}

/// Whether a path of a model is the row's field, below it, or holds it where the other model has nothing there.
fn is_of(path: &str, row: &Row) -> bool {
    let field = row.field.replace("[#]", "[]").replace("[*]", "[]");
    let below = |whole: &str, part: &str| {
        part.strip_prefix(whole)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
    };
    let is_of_an_item = ["facts.", "timing.", "amount"]
        .iter()
        .any(|start| field.starts_with(start));
    if is_of_an_item {
        return path.split_inclusive(['.', ']']).enumerate().any(|(at, _)| {
            let rest: String = path.split_inclusive(['.', ']']).skip(at).collect();
            below(&field, rest.trim_start_matches('.'))
        });
    }
    below(&field, path) || below(path, &field)
}

#[test]
fn every_example_is_read_and_its_bent_ones_change_the_field_of_the_row() {
    for row in grammar() {
        assert!(!row.example.is_empty() && !row.bent.is_empty(), "{row:?}");
        let example = models(&text_with(row, row.example));
        for bent in row.bent {
            let bent = text_with(row, bent);
            let mut paths = BTreeSet::new();
            differing(&example, &models(&bent), "", &mut paths);
            assert!(
                !paths.is_empty(),
                "{}: nothing changed by {bent}",
                row.field
            );
            let elsewhere: Vec<_> = paths.iter().filter(|path| !is_of(path, row)).collect();
            // Another ingredient is another name, entry and kind.
            let other_ingredient = row.block == Block::Amount;
            assert!(
                other_ingredient || elsewhere.is_empty(),
                "{}: {bent}: {elsewhere:?}",
                row.field
            );
            assert!(
                paths.iter().any(|path| is_of(path, row)) || other_ingredient,
                "{}: {bent}: {paths:?}",
                row.field
            );
        }
    }
}

#[test]
fn no_two_rows_of_a_block_share_a_word() {
    let mut words = BTreeSet::new();
    for row in grammar() {
        for word in row.words {
            assert!(
                words.insert((row.block, word.to_lowercase())),
                "{:?} {word}",
                row.block
            );
            assert!(word.split(' ').all(|word| !word.is_empty()), "{word:?}");
        }
    }
    assert!(words.len() > 150, "{}", words.len());
}

/// Each spelling is read as the one that is printed: no line is a word's without its row, and none of a row's is not one.
#[test]
fn every_word_of_a_row_is_found() {
    for row in grammar() {
        let Some((first, others)) = row.words.split_first() else {
            continue;
        };
        let lines = std::iter::once(&row.example).chain(row.bent);
        let Some(line) = lines.clone().find(|line| line.contains(first)) else {
            // A unit that tells its figure alone needs no label.
            assert!(row.block == Block::Attribute, "{row:?}");
            continue;
        };
        let as_printed = models(&text_with(row, line));
        for word in others {
            let line = line.replacen(first, word, 1);
            assert_eq!(models(&text_with(row, &line)), as_printed, "{line}");
        }
        if row.field == "recipe.package.container" {
            // A container goes by its name as written.
            continue;
        }
        let shouted = line.replacen(first, &first.to_uppercase(), 1);
        assert_eq!(models(&text_with(row, &shouted)), as_printed, "{shouted}");
    }
}

/// The figures of examples have the units that their row says.
#[test]
fn the_figures_of_an_example_have_the_roles_of_its_row() {
    let lines = |block: Block| block as usize <= Block::Log as usize;
    let mut seen = 0;
    for row in grammar().filter(|row| lines(row.block)) {
        let all = std::iter::once(&row.example).chain(row.bent);
        let texts = all.filter(|line| !line.contains('\n'));
        let mut measured = BTreeSet::new();
        for text in texts {
            let source = TextRef::new("", text);
            for line in Document::parse(&source).lines() {
                measured.extend(line.quantities().map(|found| found.unit.dimension()));
            }
        }
        for takes in row.takes {
            let Takes::Figure(role) = takes else {
                continue;
            };
            // What has no unit, and what is written without one, is no quantity of a tree.
            if role.dimensions.iter().any(|of| !is_bare(*of)) {
                let found = role.dimensions.iter().any(|of| measured.contains(of));
                assert!(found, "{row:?}: {}", role.name);
                seen += 1;
            }
        }
        if row
            .takes
            .iter()
            .all(|takes| matches!(takes, Takes::Figure(_)))
            && !row.takes.is_empty()
        {
            let roles = row.takes.iter().filter_map(|takes| match takes {
                Takes::Figure(role) => Some(role.dimensions),
                _ => None,
            });
            let allowed: BTreeSet<_> = roles.flatten().copied().collect();
            assert!(measured.is_subset(&allowed), "{row:?}: {measured:?}");
        }
    }
    assert!(seen > 40, "{seen}");
}

fn is_bare(dimension: wortwright::quantity::Dimension) -> bool {
    use wortwright::quantity::Dimension;
    matches!(dimension, Dimension::Ph | Dimension::Ratio)
}

/// A name that begins with a word of the grammar is written so that it reads as a name.
#[test]
fn a_name_may_begin_with_any_word_of_the_grammar() {
    let words: BTreeSet<_> = grammar().flat_map(|row| row.words).copied().collect();
    for word in words {
        let name = format!("{word} thing");
        let thing = || {
            let mut thing = Ingredient::new(&*name, Kind::Other);
            thing.facts.extract = None;
            Addition::new(thing, "10 g".parse().unwrap())
        };
        let recipe = Recipe::new("A")
            .mash(thing())
            .boil(thing())
            .ferment(thing());
        let text = Document::from(&recipe).to_string();
        let reading = read(&[TextRef::new("text", &text)]);
        let additions = reading.recipe.iter().flat_map(Recipe::additions);
        let named = additions.filter_map(|addition| addition.ingredient());
        let names: Vec<_> = named.map(|ingredient| &*ingredient.name).collect();
        assert_eq!(names, [&*name; 3], "{text}");
    }
}

/// The kinds of ingredient, each with one that the catalogue knows and a line that may hold it.
const OF_EACH_KIND: [(Kind, &str); 11] = [
    (Kind::Beverage, "ferment\n  add 1 L spirit"),
    (Kind::Malt, "mash\n  5 kg pale ale malt"),
    (Kind::Grain, "mash\n  1 kg flaked wheat"),
    (Kind::Sugar, "boil 60 min\n  1 kg honey"),
    (Kind::Juice, "ferment\n  add 1 L plum juice"),
    (Kind::Hop, "boil 60 min\n  50 g northern brewer"),
    (Kind::Botanical, "boil 60 min\n  10 g juniper berries"),
    (Kind::Yeast, "ferment\n  pitch ale yeast"),
    (Kind::Salt, "mash\n  5 g gypsum"),
    (Kind::Acid, "mash\n  5 mL lactic acid 80 %"),
    (Kind::Aid, "boil 60 min\n  2 g carrageenan"),
];

/// A figure of each row as a line states it.
fn figures() -> Vec<(&'static Row, String)> {
    let rows = grammar().filter(|row| matches!(row.block, Block::Attribute | Block::HopForm));
    rows.map(|row| {
        let line = row
            .example
            .split(", ")
            .find(|clause| !clause.contains("alpha at") || row.words.contains(&"alpha"));
        let figure = row.example.split(", ").nth(1).or(line).unwrap();
        let figure = figure
            .split(" at ")
            .next()
            .unwrap()
            .split(" on ")
            .next()
            .unwrap();
        (row, figure.to_owned())
    })
    .collect()
}

#[test]
fn a_figure_that_its_ingredient_cannot_have_is_an_error_and_any_other_is_read() {
    let (mut refused, mut read_) = (0, 0);
    for (kind, line) in OF_EACH_KIND {
        for (row, figure) in figures() {
            let text = format!("recipe A\n{line}, {figure}\n");
            let reading = read(&[TextRef::new("text", &text)]);
            if row.kinds.is_empty() || row.kinds.contains(&kind) {
                read_ += 1;
                assert_eq!(reading.diagnostics, [], "{text}");
                continue;
            }
            if row.field == "facts.colour_basis" {
                // A page's malt has a colour, and the words behind it are noted as not used.
                continue;
            }
            refused += 1;
            let [said] = reading.diagnostics.as_slice() else {
                panic!("{text}: {:?}", reading.diagnostics)
            };
            assert_eq!(said.code, Code::UnknownAttribute, "{text}");
            assert_eq!(said.span.slice(&text), figure, "{text}");
            assert!(said.help.as_deref().unwrap().contains('`'), "{said:?}");
        }
    }
    // 26 figures, words and forms of 11 kinds, by hand: colour 5, its bases 4 x 1, extract 3 x 3, moisture 3, fermentable 5, diastatic power
    // and protein 2 each, alpha, alcohol 1 each, brix 2, pH 3, acidity and preservatives 3, yeast 2, forms 4, nothing 11.
    assert_eq!((refused, read_), (286 - 57 - 40, 57));
    for (_, figure) in figures() {
        let text = format!("recipe A\nstock\n  1 kg \"Something unheard-of\", {figure}\n");
        let reading = read(&[TextRef::new("text", &text)]);
        assert!(reading.is_usable(), "{text}: {:?}", reading.diagnostics);
    }
}

#[test]
fn a_figure_of_a_model_is_held_against_its_kind_and_found_by_its_path() {
    for (name, kind, refused) in [
        ("pale ale malt", Kind::Malt, true),
        ("My own hop", Kind::Hop, false),
        ("My own malt", Kind::Malt, true),
        ("My own thing", Kind::Other, false),
    ] {
        let mut ingredient = Ingredient::new(name, kind);
        ingredient.facts.alpha = Some("3 %".parse().unwrap());
        let addition = Addition::new(ingredient, "50 g".parse().unwrap());
        let check = Models::new(Recipe::new("A").boil(addition)).check(&Catalogue::builtin());
        let of_alpha = |found: &&wortwright::diagnostic::Diagnostic| {
            found.place.as_ref().is_some_and(|place| {
                place.to_string() == "recipe.boil.additions[0].content.single.facts.alpha_pct"
            })
        };
        let found = check.diagnostics.iter().find(of_alpha);
        assert_eq!(
            found.map(|found| found.code),
            refused.then_some(Code::UnknownAttribute),
            "{name}: {check:?}"
        );
    }
}

/// Without a way of lautering, cooling and yield each of these lines has its effect; beside the other line it has none.
#[test]
fn a_line_of_a_plant_that_another_leaves_without_effect_is_told() {
    let codes = |lines: &str| {
        let text = format!("brewhouse Home\n  {lines}\n");
        let reading = read(&[TextRef::new("text", &text)]);
        let codes = reading.diagnostics.iter().map(|found| found.code);
        codes.collect::<Vec<_>>()
    };
    for (line, beside, without) in [
        ("sparge mixing 80 %", "lauter bag", "lauter bag, sparge 2 L"),
        (
            "sparge mixing 80 %",
            "lauter batch, sparges 0",
            "lauter batch, sparges 1",
        ),
        (
            "sparge mixing 80 %",
            "lauter continuous",
            "lauter batch, sparges 1",
        ),
        (
            "sparge mixing 80 %",
            "extract yield 90 %",
            "conversion 98 %",
        ),
        (
            "conversion 98 %",
            "extract yield 90 %",
            "extract yield 90 %\n  retention 1 L/kg",
        ),
        ("conversion 98 %", "lauter continuous", "lauter bag"),
        ("conversion 98 %", "no mash", "lauter bag"),
        ("mash in 3 L/kg", "lauter bag", "lauter batch, sparges 1"),
        ("tun loss 1 L", "no mash", "lauter bag"),
        ("heat direct", "no mash", "lauter batch, sparges 1"),
        ("coolant 14 C", "no chill", "cool to 20 C in 25 min by coil"),
        (
            "coolant 14 C",
            "cool to 20 C in 25 min through plate",
            "cool to 20 C in 25 min",
        ),
    ] {
        assert_eq!(codes(line), [], "{line}");
        assert_eq!(
            codes(&format!("{line}\n  {without}")),
            [],
            "{line} beside {without}"
        );
        assert_eq!(
            codes(&format!("{line}\n  {beside}")),
            [Code::UnusedLine],
            "{line} beside {beside}"
        );
    }
    for (one, other) in [
        ("absorption 0.8 L/kg", "retention 1 L/kg"),
        ("extract yield 90 %", "lauter continuous, yield 90 %"),
    ] {
        assert_eq!(
            codes(&format!("{one}\n  {other}")),
            [Code::ConflictingFacts],
            "{one}, {other}"
        );
    }
}

/// The tables of the documentation are the rows.
#[test]
fn the_documentation_shows_the_rows() {
    const FILE: &str = "../src/notation/grammar.md";
    let text = documentation();
    if env::var_os("WORTWRIGHT_WRITE").is_some() {
        fs::write(FILE, &text).unwrap();
    }
    assert!(
        fs::read_to_string(FILE).unwrap() == text,
        "WORTWRIGHT_WRITE=1 writes {FILE} anew"
    );
}

fn documentation() -> String {
    let mut out = String::new();
    let mut block = None;
    for row in grammar() {
        if block != Some(row.block) {
            block = Some(row.block);
            let title = match row.block {
                Block::Text => "Lines without indent".to_owned(),
                other if (other as usize) <= Block::Log as usize => {
                    format!("In `{}`", other.as_str())
                }
                other => {
                    let title = other.as_str();
                    title[..1].to_uppercase() + &title[1..]
                }
            };
            write!(
                out,
                "\n## {title}\n\n| words | with them | example |\n|---|---|---|\n"
            )
            .unwrap();
        }
        let words: Vec<_> = row.words.iter().map(|word| format!("`{word}`")).collect();
        let words = if words.is_empty() {
            "none".to_owned()
        } else {
            words.join(", ")
        };
        let takes: Vec<_> = row.takes.iter().map(said).collect();
        let mut takes = takes.join("; ");
        if !row.kinds.is_empty() {
            let kinds: Vec<_> = row.kinds.iter().map(|kind| kind.as_str()).collect();
            let of = format!("of {}", kinds.join(", "));
            takes = [takes, of]
                .into_iter()
                .filter(|part| !part.is_empty())
                .collect::<Vec<_>>()
                .join(", ");
        }
        let example: Vec<_> = row
            .example
            .lines()
            .map(|line| format!("`{}`", line.trim()))
            .collect();
        writeln!(
            out,
            "| {words} | {takes} | {} |",
            example.join(", below it ")
        )
        .unwrap();
    }
    out.trim_start().to_owned()
}

fn said(takes: &Takes) -> String {
    match takes {
        Takes::Figure(role) => {
            let after: Vec<_> = role.after.iter().map(|word| format!("`{word}`")).collect();
            let after = if after.is_empty() {
                String::new()
            } else {
                format!("{} ", after.join(" or "))
            };
            let maybe = if role.needed { "" } else { ", or none" };
            format!("{after}{}{maybe}", role.name)
        }
        Takes::Words(block) => block.as_str().to_owned(),
        Takes::MaybeWords(block) => format!("{}, or none", block.as_str()),
        Takes::Figures(block) => format!("a list: {}", block.as_str()),
        Takes::Item => "an ingredient".to_owned(),
        Takes::Text => "text to the end of the line".to_owned(),
        other => panic!("{other:?} is not said"),
    }
}
