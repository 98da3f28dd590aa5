//! The sources of the library, for tests that read them.

use crate::files::{below, read};

/// A file of the sources.
#[derive(Debug)]
pub struct Source {
    /// Its path below `src`.
    pub path: String,
    pub text: String,
}

/// Every file of `src`, or of a folder in it.
pub fn sources(folder: &str) -> Vec<Source> {
    let top = format!("src/{folder}");
    let paths = below(top.trim_end_matches('/'), ".rs");
    let source = |path: String| Source {
        text: read(&path),
        path: path.trim_start_matches("src/").to_owned(),
    };
    paths.into_iter().map(source).collect()
}

impl Source {
    /// The module of the top that it belongs to.
    pub fn module(&self) -> &str {
        let first = self.path.split('/').next().unwrap_or_default();
        first.trim_end_matches(".rs")
    }

    /// Whether it is there for tests alone.
    pub fn is_of_tests(&self) -> bool {
        let mut places = self.path.split('/');
        places.any(|place| place == "tests" || place == "tests.rs")
    }

    /// Its code, with neither its tests, which stand at its end, nor comments.
    pub fn code(&self) -> String {
        let lines = self.text.lines();
        let lines = lines.take_while(|line| *line != "#[cfg(test)]");
        let lines = lines.filter(|line| !line.trim_start().starts_with("//"));
        lines.flat_map(|line| [line, "\n"]).collect()
    }
}
