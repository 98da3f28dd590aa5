//! A module imports only from the rooms above it.

use std::fs;
use std::path::Path;

const ROOMS: [&str; 21] = [
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

/// The rooms named after `crate::` in a text; grouped imports are read too.
fn imported(text: &str) -> Vec<&str> {
    let mut rooms = Vec::new();
    for (at, _) in text.match_indices("crate::") {
        let rest = &text[at + "crate::".len()..];
        if let Some(group) = rest.strip_prefix('{') {
            let mut depth = 0;
            for part in group.split_inclusive(['{', '}', ',']) {
                if depth == 0 {
                    let word = part.trim().split([':', ',', '{', '}', ' ']).next().unwrap();
                    rooms.push(word);
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
            rooms.push(
                rest.split([':', ';', ' ', ',', '(', ')', '<'])
                    .next()
                    .unwrap(),
            );
        }
    }
    rooms
}

#[test]
fn imports_flow_down_the_list_of_rooms() {
    let mut found = Vec::new();
    files(Path::new("../src"), &mut found);
    assert!(found.len() > 10);
    for file in found {
        let room = file
            .trim_start_matches("../src/")
            .split('/')
            .next()
            .unwrap();
        let room = room.trim_end_matches(".rs");
        let Some(place) = ROOMS.iter().position(|r| *r == room) else {
            panic!("{file} belongs to no room");
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
            if let Some(from) = ROOMS.iter().position(|r| *r == used) {
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
    let seeks = |room: &str| {
        let mut found = Vec::new();
        files(&Path::new("../src").join(room), &mut found);
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
