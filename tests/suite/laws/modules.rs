//! A module imports only from the modules above it.

use wortwright_tests::sources::sources;

const MODULES: [&str; 22] = [
    "diagnostic",
    "numeric",
    "quantity",
    "science",
    "speech",
    "catalogue",
    "recipe",
    "notation",
    "process",
    "inverse",
    "remedy",
    "scale",
    "substitute",
    "ledger",
    "advice",
    "learn",
    "caution",
    "sheet",
    "job",
    "exchange",
    "c_api",
    "lib",
];

/// The modules named after `crate::` in a text; grouped imports are read too.
fn imported(text: &str) -> Vec<&str> {
    let mut modules = Vec::new();
    for (at, _) in text.match_indices("crate::") {
        let rest = &text[at + "crate::".len()..];
        if let Some(group) = rest.strip_prefix('{') {
            let mut depth = 0;
            for part in group.split_inclusive(['{', '}', ',']) {
                if depth == 0 {
                    let word = part.trim().split([':', ',', '{', '}', ' ']).next().unwrap();
                    modules.push(word);
                }
                depth += part.matches('{').count();
                if part.contains('}') {
                    if depth == 0 {
                        break;
                    }
                    depth -= 1;
                }
            }
        } else {
            modules.push(
                rest.split([':', ';', ' ', ',', '(', ')', '<'])
                    .next()
                    .unwrap(),
            );
        }
    }
    modules
}

#[test]
fn imports_flow_down_the_list_of_modules() {
    let found = sources("");
    assert!(found.len() > 10);
    // Tests may ask from the way in.
    for source in found.iter().filter(|source| !source.is_of_tests()) {
        let (file, module) = (&source.path, source.module());
        let Some(place) = MODULES.iter().position(|r| *r == module) else {
            panic!("{file} belongs to no module");
        };
        for used in imported(&source.code()) {
            if let Some(from) = MODULES.iter().position(|r| *r == used) {
                assert!(
                    from <= place,
                    "{file} imports from `{used}`, which stands below it"
                );
            }
        }
    }
}

/// What a gauge shows at a temperature is a scale of the carbon dioxide in beer, as a hydrometer's is one of its extract.
const READS_A_SCALE: [&str; 1] = ["notation/free/gas.rs"];

/// The reader knows none of brewing's relations, but one scale by another.
#[test]
fn the_reader_knows_no_model() {
    let found = sources("notation");
    assert!(found.len() > 10);
    for source in found {
        let reads_a_scale = READS_A_SCALE.contains(&source.path.as_str());
        let knows = imported(&source.text).contains(&"science");
        assert_eq!(knows, reads_a_scale, "{}", source.path);
    }
    assert!(imported("use crate::{quantity::Ph, science::density};").contains(&"science"));
}

/// The forward model seeks no amounts: what is found by roots stands in `inverse` and below.
#[test]
fn the_forward_model_runs_forward_only() {
    let seeks = |module: &str| {
        let words = ["numeric::root", "Bracket", "root_between"];
        let found = sources(module);
        let seeking = found
            .iter()
            .filter(|source| words.iter().any(|word| source.text.contains(word)));
        seeking.count()
    };
    assert_eq!(seeks("process"), 0);
    assert!(seeks("inverse") > 2);
}
