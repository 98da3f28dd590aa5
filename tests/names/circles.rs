//! No circles between the folders of a room: a folder's files and those of its neighbour do not need one another.
//!
//! Paths in `use` and in code count, and lead to where the item is defined, through re-exports. A folder and those inside
//! it are one household and don't count.

use crate::public_items::{Names, Tree, from_words};
use std::collections::{BTreeMap, BTreeSet};
use wortwright_tests::sources::{self, sources};

/// A file of the sources: its module and the folder that it lies in.
struct Source {
    module: Names,
    folder: Names,
    code: String,
}

impl Source {
    fn of(source: &sources::Source) -> Self {
        let below = source.path.trim_end_matches(".rs");
        let mut module: Names = below.split('/').map(str::to_owned).collect();
        let folder = module.split_last().unwrap().1.to_vec();
        if module.last().is_some_and(|last| last == "mod") {
            module.pop();
        }
        Self {
            module,
            folder,
            code: source.code(),
        }
    }
}

/// The paths in code that begin at the crate, at the module or above it, as places from the top.
fn paths(source: &Source) -> Vec<Names> {
    let code = &source.code;
    let mut found = Vec::new();
    for start in ["crate::", "super::", "self::"] {
        for (at, _) in code.match_indices(start) {
            let before = code[..at].chars().next_back();
            if before.is_some_and(|c| c.is_alphanumeric() || c == '_' || c == ':') {
                continue;
            }
            let rest = &code[at..];
            let end = rest
                .find(|c: char| !(c.is_alphanumeric() || c == '_' || c == ':'))
                .unwrap_or(rest.len());
            let words: Vec<&str> = rest[..end].split("::").filter(|w| !w.is_empty()).collect();
            found.push(from_words(&words, &source.module));
        }
    }
    found
}

#[test]
fn folders_of_a_room_form_no_circle() {
    let tree = Tree::of_sources();
    let found = sources("");
    let ours = found.iter().filter(|source| !source.is_of_tests());
    let sources: Vec<_> = ours.map(Source::of).collect();
    let folder_of: BTreeMap<&Names, &Names> =
        sources.iter().map(|s| (&s.module, &s.folder)).collect();
    // The nearest module of a place that has a file of its own.
    let home = |place: &[String]| {
        (0..=place.len())
            .rev()
            .find_map(|length| folder_of.get(&place[..length].to_vec()))
            .map(|folder| (*folder).clone())
    };
    let mut needs: BTreeMap<Names, BTreeSet<Names>> = BTreeMap::new();
    let mut counted = 0;
    for source in &sources {
        let brought = tree.brought_into(&source.module);
        for place in brought.into_iter().chain(paths(source)) {
            let defined = (1..=place.len())
                .rev()
                .find_map(|length| tree.defined(&place[..length], 0));
            let Some(at) = defined.and_then(|place| home(&place)) else {
                continue;
            };
            let (here, there) = (&source.folder, &at);
            let is_in_one_room = !here.is_empty() && here.first() == there.first();
            if is_in_one_room && !here.starts_with(there) && !there.starts_with(here) {
                counted += 1;
                needs.entry(here.clone()).or_default().insert(there.clone());
            }
        }
    }
    assert!(counted > 30, "{counted}");
    let mut circles = BTreeSet::new();
    for (one, others) in &needs {
        for other in others {
            if reaches(&needs, other, one) && one < other {
                circles.insert(format!("{} <-> {}", one.join("::"), other.join("::")));
            }
        }
    }
    assert!(circles.is_empty(), "{circles:#?}");
}

fn reaches(needs: &BTreeMap<Names, BTreeSet<Names>>, from: &Names, to: &Names) -> bool {
    let (mut open, mut seen) = (vec![from.clone()], BTreeSet::new());
    while let Some(folder) = open.pop() {
        if folder == *to {
            return true;
        }
        if seen.insert(folder.clone()) {
            open.extend(needs.get(&folder).into_iter().flatten().cloned());
        }
    }
    false
}
