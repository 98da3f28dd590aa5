//! How the crate speaks: none of its sentences has a habit that brewers and developers stumble over.

use proc_macro2::{Literal, TokenStream, TokenTree};
use std::collections::BTreeMap;
use wortwright_tests::{files, sources::sources};

/// What no sentence says, with what says it.
const HABITS: [(&str, &str); 82] = [
    ("taken as", "assumed"),
    ("taken for", "assumed"),
    ("taken to", "assumed"),
    ("as if", "assumed"),
    ("for want of", "not known"),
    ("cannot be had", "not available"),
    ("cannot be bought", "not available"),
    ("stands in for", "substitute"),
    ("may stand for", "substitute"),
    ("stands here", "first given here"),
    ("in place of", "instead of"),
    ("nobody", "not known"),
    ("whoever", "the noun"),
    ("rinse the grain", "sparge"),
    ("to rinse", "sparge"),
    ("keeps back", "grain absorption"),
    ("kept back", "reserved"),
    ("works out", "calculates"),
    ("worked out", "calculated"),
    ("reckon", "calculate"),
    ("reckoned", "calculated"),
    ("counted as none", "zero assumed"),
    ("give or take", "±"),
    ("mend", "correct"),
    ("pour in", "add"),
    ("behind", "after"),
    ("an hour", "per hour"),
    ("a litre", "per litre"),
    ("a gram", "per gram"),
    ("the source's", "original"),
    ("your plant", "your brewhouse"),
    ("this plant", "this brewhouse"),
    ("so much", "the thing itself"),
    ("is taken", "assumed"),
    ("are taken", "assumed"),
    ("taken at", "assumed"),
    ("stands for", "substitute"),
    ("had in its place", "substitute"),
    ("stands alone", "is the only one"),
    ("in all", "total"),
    ("rough", "estimate"),
    ("roughly", "about"),
    ("thin", "dilute"),
    ("thinned", "diluted"),
    ("thins", "dilutes"),
    ("thinner", "weaker"),
    ("holdback", "grain absorption"),
    ("what goes in", "the addition"),
    ("what is in the vessel", "the beer in the fermenter"),
    ("lies beyond", "the rest"),
    ("catalogue", "ingredient table"),
    ("lacking", "short"),
    ("nobody's", "not known"),
    ("no reading tells", "not known"),
    ("all the same", "anyway"),
    ("hot stand of your plant", "your brewhouse"),
    ("on your brewhouse", "in your brewhouse"),
    ("on this brewhouse", "in this brewhouse"),
    ("speaks of", "belongs to"),
    ("does nothing", "has no effect"),
    ("hold back", "keep"),
    ("holds back", "keeps"),
    ("drives off", "evaporates"),
    ("stands inside", "is in"),
    ("stands once", "is given once"),
    ("stands twice", "is given twice"),
    ("listed here already", "first listed here"),
    ("look at the sheet again", "check the sheet"),
    ("what goes", "the noun"),
    ("what went", "the noun"),
    ("what was", "the noun"),
    ("what keeps", "the noun"),
    ("what stays", "the noun"),
    ("what no", "the noun"),
    ("what plants", "the noun"),
    ("what holds", "the noun"),
    ("there is no candidate", "no candidate"),
    ("comes to more", "reaches more"),
    ("printed", "on the original sheet"),
    ("keeps", "holds, is unchanged"),
    ("hops keep", "hops hold"),
    ("kept by", "held by"),
];

/// Texts of the brewer that the crate holds as examples.
const TYPED: [&str; 1] = ["source printed sheet"];

/// Pages for brewers and hosts, beside the sentences of the code.
const PAGES: [&str; 3] = ["README.md", "src/cookbook.md", "src/exchange/codes.md"];

/// Files whose texts are words that brewers type, not sentences of the crate.
const READ_NOT_SAID: [&str; 3] = [
    "notation/free/plant_words.rs",
    "notation/lower/plant_word.rs",
    "notation/free/log_words.rs",
];

#[test]
fn no_sentence_has_a_forbidden_habit() {
    let (mut found, mut read): (BTreeMap<String, Vec<String>>, usize) = (BTreeMap::new(), 0);
    for source in sources("") {
        let is_data = source.path.starts_with("catalogue/tables");
        if is_data || source.is_of_tests() || READ_NOT_SAID.contains(&&*source.path) {
            continue;
        }
        let mut texts = Vec::new();
        literals(source.code().parse().unwrap(), &mut texts);
        // One word is a name, a field or a code.
        let is_typed = |text: &str| TYPED.iter().any(|typed| text.starts_with(typed));
        for text in texts
            .iter()
            .filter(|text| text.contains(' ') && !is_typed(text))
        {
            read += 1;
            let told = habits(text);
            if !told.is_empty() {
                found.entry(source.path.clone()).or_default().extend(told);
            }
        }
    }
    for page in PAGES {
        let mut is_code = false;
        for line in files::read(page).lines() {
            is_code ^= line.starts_with("```");
            // What stands between ticks is typed or a name.
            let said: String = line.split('`').step_by(2).collect();
            let told = if is_code { Vec::new() } else { habits(&said) };
            if !told.is_empty() {
                found.entry(page.to_owned()).or_default().extend(told);
            }
        }
    }
    assert!(read > 1000, "{read} texts");
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn a_habit_is_found_wherever_it_stands() {
    let code =
        r#"fn text() { format!("Taken as it is,\n {x}: {} in place of", [f("nobody knows")]) }"#;
    let mut texts = Vec::new();
    literals(code.parse().unwrap(), &mut texts);
    assert_eq!(texts.len(), 2, "{texts:?}");
    assert!(words(&texts[0]).contains(" taken as "));
    assert!(words(&texts[0]).contains(" in place of "));
    assert!(words(&texts[1]).contains(" nobody "));
    // Neither a longer word nor a documentation is a habit.
    assert!(!words("amendment").contains(" mend "));
    let mut none = Vec::new();
    literals("/// nobody knows\nfn x() {}".parse().unwrap(), &mut none);
    assert!(none.is_empty(), "{none:?}");
}

/// The habits of a sentence.
fn habits(text: &str) -> Vec<String> {
    let words = words(text);
    let all = HABITS.iter();
    let had = all.filter(|(habit, _)| words.contains(&format!(" {habit} ")));
    had.map(|(habit, better)| format!("`{habit}` (rather {better}): {text}"))
        .collect()
}

/// The text in small letters without its placeholders, with single spaces for all that is no letter.
fn words(text: &str) -> String {
    let mut inside = false;
    let is_said = |c: &char| {
        inside = *c == '{' || (inside && *c != '}');
        !inside
    };
    let letters: String = text.chars().filter(is_said).collect();
    let letters = letters.to_lowercase();
    let split = letters.split(|c: char| !c.is_alphabetic() && c != '\'' && c != '±');
    let words: Vec<_> = split.filter(|word| !word.is_empty()).collect();
    format!(" {} ", words.join(" "))
}

/// The texts of code, those of attributes and documentation left out.
fn literals(code: TokenStream, texts: &mut Vec<String>) {
    let mut after_hash = false;
    for token in code {
        match token {
            TokenTree::Group(group) => {
                if !after_hash {
                    literals(group.stream(), texts);
                }
                after_hash = false;
            }
            TokenTree::Literal(literal) => {
                texts.extend(text_of(&literal));
                after_hash = false;
            }
            TokenTree::Punct(mark) => {
                // `#![…]` is an attribute too.
                after_hash = mark.as_char() == '#' || (after_hash && mark.as_char() == '!');
            }
            TokenTree::Ident(_) => after_hash = false,
        }
    }
}

fn text_of(literal: &Literal) -> Option<String> {
    let read = syn::parse_str::<syn::LitStr>(&literal.to_string());
    read.ok().map(|text| text.value())
}
