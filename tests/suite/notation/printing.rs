//! The laws of printing and of reading anything at all.

use super::texts::clean;
use proptest::prelude::*;
use wortwright::catalogue::{Catalogue, Kind};
use wortwright::diagnostic::{Span, TextRef};
use wortwright::notation::{DecimalComma, Document, Entry, ReadOptions, Reading, read, read_with};
use wortwright::quantity::{Unit, Written};
use wortwright::recipe::{Addition, Amount, Brewhouse, Ingredient, Recipe, Stock};
use wortwright_tests::files;
use wortwright_tests::fixtures::{DEMO, DEMO_LOG, DEMO_PLANT};

fn parse(text: &str) -> Reading<'_> {
    read(&[TextRef::new("text", text)])
}

fn document(text: &str) -> Document<'_> {
    parse(text).documents.remove(0)
}

/// `parse(print(d)) == d`, printing is idempotent, and what is printed means the same, with either kind of comma.
fn laws(text: &str) {
    let catalogue = Catalogue::builtin();
    for comma in [DecimalComma::Refused, DecimalComma::Accepted] {
        let options = ReadOptions::default().with_decimal_comma(comma);
        let first = read_with(&[TextRef::new("text", text)], &catalogue, &options);
        let printed = first.documents[0].to_string();
        let second = read_with(&[TextRef::new("text", &printed)], &catalogue, &options);
        assert_eq!(second.documents[0], first.documents[0], "{printed}");
        assert_eq!(second.documents[0].to_string(), printed);
        assert_eq!(second.documents[0].clone().into_owned(), first.documents[0]);
        same_meaning(&second, &first);
    }
    // A comment that could be an own ingredient has the tree finished before any of it is understood.
    let [step_by_step, at_once] = ["x", "ngr"].map(|last| format!("{text}\n# {last}"));
    let (step_by_step, at_once) = (parse(&step_by_step), parse(&at_once));
    same_meaning(&step_by_step, &at_once);
    assert_eq!(step_by_step.diagnostics, at_once.diagnostics, "{text}");
}

fn same_meaning(one: &Reading<'_>, other: &Reading<'_>) {
    assert_eq!(one.recipe, other.recipe, "{}", one.documents[0]);
    assert_eq!(one.brewhouses, other.brewhouses);
    assert_eq!(one.stock, other.stock);
    assert_eq!(one.logs, other.logs);
    assert_eq!(one.ingredients, other.ingredients);
}

#[test]
fn the_demo_prints_as_it_reads() {
    for text in [DEMO, DEMO_PLANT, DEMO_LOG] {
        laws(text);
    }
}

#[test]
fn every_invalid_text_prints_as_it_reads() {
    for path in files::below("tests/suite/notation/invalid", ".gyle") {
        laws(&files::read(&path));
    }
}

#[test]
fn the_canonical_text_has_columns() {
    let text = include_str!("fixtures/loose.gyle");
    let expected = include_str!("fixtures/canonical.gyle");
    assert_eq!(document(text).to_string(), expected);
}

#[test]
fn comments_stay_where_they_stood() {
    let text = "# head\nrecipe A  # name\nmash\n# not the end of the mash\n  5 kg pale ale malt\n    # deep\n  # last\nboil 60 min\n# end\n";
    let document = document(text);
    let printed = document.to_string();
    let comments: Vec<&str> = printed
        .lines()
        .filter_map(|line| line.split_once('#'))
        .map(|(_, text)| text.trim())
        .collect();
    assert_eq!(
        comments,
        [
            "head",
            "name",
            "not the end of the mash",
            "deep",
            "last",
            "end"
        ]
    );
    laws(text);
}

/// A model written as text and read again is the same model.
#[test]
fn models_written_as_text_read_as_themselves() {
    let reading = read(&[
        TextRef::new("sheet", DEMO),
        TextRef::new("stove", DEMO_PLANT),
    ]);
    let recipe = reading.recipe.clone().unwrap();
    let text = Document::from(&recipe).to_string();
    assert_eq!(clean(&text).recipe.as_ref(), Some(&recipe), "{text}");
    for plant in &reading.brewhouses {
        let text = Document::from(plant).to_string();
        assert_eq!(
            clean(&text).brewhouses,
            std::slice::from_ref(plant),
            "{text}"
        );
    }
    let text = Document::from(&reading.stock).to_string();
    assert_eq!(clean(&text).stock, reading.stock, "{text}");
}

#[test]
fn every_plant_line_is_written_and_read() {
    let text = include_str!("fixtures/every_plant_line.gyle");
    let plant = clean(text).brewhouses.remove(0);
    assert_eq!(plant.name, "Barn, upstairs");
    assert!(plant.tun_heat.is_some() && plant.grain.is_some() && plant.retention.is_some());
    let written = Document::from(&plant).to_string();
    assert_eq!(written.lines().count(), text.lines().count(), "{written}");
    assert_eq!(clean(&written).brewhouses, [plant]);
    for line in [
        "lauter continuous, yield 96 %",
        "extract yield 76 % of grist in fermenter",
        "lauter bag",
        "no mash",
        "no chill",
        "heat none",
        "batch 20 L packaged",
    ] {
        let plant = clean(&format!("brewhouse A\n  {line}\n"))
            .brewhouses
            .remove(0);
        assert_ne!(plant, Brewhouse::new("A"));
        assert_eq!(
            Document::from(&plant).to_string(),
            format!("brewhouse A\n  {line}\n")
        );
    }
}

#[test]
fn every_recipe_line_is_written_and_read() {
    let text = include_str!("fixtures/every_recipe_line.gyle");
    let reading = parse(text);
    assert!(reading.is_usable(), "{:?}", reading.diagnostics);
    let recipe = reading.recipe.unwrap();
    let written = Document::from(&recipe).to_string();
    assert_eq!(parse(&written).recipe.as_ref(), Some(&recipe), "{written}");
    assert_eq!(recipe.name, "A, # and \"B\"");
    assert_eq!(recipe.fermentation.additions.len(), 3);
    assert!(recipe.souring.is_some());
    assert_eq!(recipe.package.additions.len(), 1);
    assert!(recipe.mash.sparge.is_some());
}

#[test]
fn odd_spaces_and_marks_obey_the_laws() {
    for text in [
        "1 \u{feff}000 g",
        "1\u{a0}000\u{a0}g",
        "1\u{feff}1/2 oz a",
        "\u{feff}\u{feff}a\n\u{feff}# b",
        "a\u{2028}b\r c",
        "5%#a",
        "a,#b",
        "\"a",
        "\"a\"\"",
        "4,5th ~1,5-2,5house 1,234.5 g",
        "\t a\n \tb",
        "a\n   b\n  c\n d\n# e\n   f",
    ] {
        laws(text);
    }
}

#[test]
fn an_empty_model_is_an_empty_text() {
    assert_eq!(Document::from(&Stock::default()).to_string(), "");
    assert_eq!(
        Document::from(&Recipe::new("A")).to_string(),
        "recipe     A\n"
    );
}

fn walk(entries: &[Entry<'_>], good: &impl Fn(Span)) {
    for entry in entries {
        match entry {
            Entry::Comment(comment) => good(comment.span()),
            Entry::Line(line) => {
                line.tokens().iter().for_each(|token| good(token.span()));
                walk(line.entries(), good);
            }
        }
    }
}

fn check_spans(reading: &Reading<'_>, text: &str) {
    let good = |span: Span| {
        let (start, end) = (span.start as usize, span.end as usize);
        let bounds = text.is_char_boundary(start) && text.is_char_boundary(end);
        assert!(start <= end && bounds, "{span:?}");
    };
    for diagnostic in &reading.diagnostics {
        good(diagnostic.span);
        diagnostic.labels.iter().for_each(|label| good(label.span));
    }
    walk(reading.documents[0].entries(), &good);
}

/// Words, numbers and marks that a text is made of, in any order.
fn scrap() -> impl Strategy<Value = String> {
    let word = prop::sample::select(vec![
        "recipe",
        "mash",
        "boil",
        "sour",
        "to pH",
        "with",
        "stand",
        "ferment",
        "package",
        "brewhouse",
        "stock",
        "water",
        "target",
        "rest",
        "log",
        "reading",
        "ingredient",
        "like",
        "pitch",
        "add",
        "70",
        "5.5",
        "1,000",
        "1 000",
        "~8-10",
        "1 1/2",
        "-2",
        "%",
        "kg",
        "EBC",
        "EBC,",
        "°L",
        "L",
        "min",
        "h",
        "fl oz",
        "imp gal",
        "per hour",
        "x",
        "2x700",
        "at",
        "for",
        "when",
        "on day",
        "pale ale malt",
        "honey",
        "cascade",
        "plum juice",
        "any",
        "none",
        "by volume",
        "extract",
        "dry",
        "pH",
        "P",
        "1069",
        "1.050",
        "\"",
        "\"a\"",
        "\"\"",
        "#",
        "# note",
        ",",
        ",,",
        "é",
        "🍺",
        "\u{feff}",
        "\u{a0}",
        "\t",
        "5EBC",
        "70%",
        "7th",
        "4,5th",
        "1,5-2,5",
        "%x",
        "lauter bag",
        "kettle",
        "loss",
        "5%#",
        "1/0",
        "x5",
        ".5",
        "5.",
        "–",
        "3–4",
    ]);
    let gap = prop::sample::select(vec!["", " ", "  ", "\n", "\n  ", "\n    ", "\r\n", "\n\t"]);
    prop::collection::vec((word, gap), 0..40).prop_map(|parts| {
        parts
            .into_iter()
            .flat_map(|(word, gap)| [word, gap])
            .collect()
    })
}

proptest! {
    #[test]
    fn any_text_gives_a_result_and_obeys_the_laws(text in "\\PC{0,80}|[ -~\\n\\t]{0,200}") {
        check_spans(&parse(&text), &text);
        laws(&text);
    }

    #[test]
    fn scraps_of_recipes_give_a_result_and_obey_the_laws(text in scrap()) {
        check_spans(&parse(&text), &text);
        laws(&text);
    }

    #[test]
    fn any_bytes_give_a_result(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        let text = String::from_utf8_lossy(&bytes);
        check_spans(&parse(&text), &text);
    }

    /// Any name and title survive being written, whatever they look like.
    #[test]
    fn any_name_can_be_written(
        title in "[ -~é]{1,20}",
        name in prop_oneof!["[ -~é]{1,20}".boxed(), scrap().boxed(), "(rest|any|x|by volume|at|70 %|5 kg) [a-z]{1,5}( [0-9] kg)?".boxed()],
    ) {
        let mut recipe = Recipe::new(title.clone());
        recipe.source = Some(title.clone());
        recipe.package.container = Some(title.clone());
        let mut addition = Addition::of(Ingredient::new(name.clone(), Kind::Hop));
        addition.amount = Some(Amount::Mass(Written::new(20.0, Unit::Gram).unwrap()));
        recipe.boil.additions.push(addition);
        let written = Document::from(&recipe).to_string();
        let again = parse(&written).recipe.expect("a recipe");
        let line = name.replace(['\n', '\r'], " ");
        prop_assert_eq!(&again.name, &title, "{}", written);
        prop_assert_eq!(&again.source, &recipe.source, "{}", written);
        prop_assert_eq!(&again.package.container, &recipe.package.container, "{}", written);
        prop_assert_eq!(&again.boil.additions[0].ingredient().unwrap().name, &line, "{}", written);
    }

    /// Whatever was read of a text without errors can be written and read again.
    #[test]
    fn what_was_read_can_be_written(text in scrap()) {
        let reading = parse(&text);
        if let Some(recipe) = reading.recipe.as_ref().filter(|_| reading.is_usable()) {
            let written = Document::from(recipe).to_string();
            let again = parse(&written).recipe.expect("a recipe");
            prop_assert_eq!(&again.name, &recipe.name);
            prop_assert_eq!(again.additions().count(), recipe.additions().count());
        }
    }
}
