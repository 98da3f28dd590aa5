//! A module imports only from the modules above it.

use std::fs;
use std::path::Path;

const MODULES: [&str; 21] = [
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
    "caution",
    "sheet",
    "job",
    "exchange",
    "c_api",
    "lib",
];

/// Every source file below a folder.
pub(crate) fn files(folder: &Path, found: &mut Vec<String>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path.to_str().unwrap().replace('\\', "/"));
        }
    }
}

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
    let mut found = Vec::new();
    files(Path::new("../src"), &mut found);
    assert!(found.len() > 10);
    for file in found {
        let module = file
            .trim_start_matches("../src/")
            .split('/')
            .next()
            .unwrap();
        let module = module.trim_end_matches(".rs");
        let Some(place) = MODULES.iter().position(|r| *r == module) else {
            panic!("{file} belongs to no module");
        };
        let text = fs::read_to_string(&file).unwrap();
        // Tests may ask from the way in.
        let code: String = text
            .lines()
            .take_while(|line| *line != "#[cfg(test)]")
            .filter(|line| !line.trim_start().starts_with("//"))
            .map(|line| format!("{line}\n"))
            .collect();
        for used in imported(&code) {
            if let Some(from) = MODULES.iter().position(|r| *r == used) {
                assert!(
                    from <= place,
                    "{file} imports from `{used}`, which stands below it"
                );
            }
        }
    }
}

/// The reader knows none of brewing's relations.
#[test]
fn the_reader_knows_no_model() {
    let mut found = Vec::new();
    files(Path::new("../src/notation"), &mut found);
    assert!(found.len() > 10);
    for file in found {
        let text = fs::read_to_string(&file).unwrap();
        assert!(!imported(&text).contains(&"science"), "{file}");
    }
    assert!(imported("use crate::{quantity::Ph, science::density};").contains(&"science"));
}

/// The forward model seeks no amounts: what is found by roots stands in `inverse` and below.
#[test]
fn the_forward_model_runs_forward_only() {
    let seeks = |module: &str| {
        let mut found = Vec::new();
        files(&Path::new("../src").join(module), &mut found);
        let seeks = |file: &String| {
            let text = fs::read_to_string(file).unwrap();
            ["numeric::root", "Bracket", "root_between"]
                .iter()
                .any(|word| text.contains(word))
        };
        found.into_iter().filter(seeks).count()
    };
    assert_eq!(seeks("process"), 0);
    assert!(seeks("inverse") > 2);
}
