//! Files of the repository, by their paths from its top.

use std::fs;
use std::path::{Path, PathBuf};

/// Where a path leads, whatever the working directory.
pub fn at(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(path)
}

/// The text of a file.
pub fn read(path: &str) -> String {
    fs::read_to_string(at(path)).unwrap_or_else(|fault| panic!("{path}: {fault}"))
}

/// The files below a folder whose names end so, in order.
pub fn below(folder: &str, ending: &str) -> Vec<String> {
    let mut found = Vec::new();
    for entry in fs::read_dir(at(folder)).unwrap() {
        let entry = entry.unwrap();
        let path = format!("{folder}/{}", entry.file_name().into_string().unwrap());
        if entry.file_type().unwrap().is_dir() {
            found.extend(below(&path, ending));
        } else if path.ends_with(ending) {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// The text of a file that changes only on purpose: `WORTWRIGHT_WRITE=1` first writes what is found now.
pub fn golden(path: &str, found: &str) -> String {
    if std::env::var_os("WORTWRIGHT_WRITE").is_some_and(|value| value == "1") {
        fs::write(at(path), found).unwrap();
    }
    read(path)
}
