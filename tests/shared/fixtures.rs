//! Recipes, plants and logs that are kept as texts beside the tests that read them.

use crate::files::read;

/// The printed recipe of the demo, with its plant.
pub const DEMO: &str = include_str!("../../examples/data/saltmarsh-lantern.gyle");
/// The small plant of the demo, with its stock.
pub const DEMO_PLANT: &str = include_str!("../../examples/data/stove-top.gyle");
/// The log of the demo, with an ingredient of the brewer's own.
pub const DEMO_LOG: &str = include_str!("../../examples/data/stove-top-log.gyle");

/// A text of `tests/suite`: `scale/amber` stands in `scale/fixtures/amber.gyle`, `plain`, which several modules read, in
/// `fixtures/plain.gyle`.
pub fn fixture(name: &str) -> String {
    let (module, name) = name.rsplit_once('/').unwrap_or(("", name));
    read(&format!("tests/suite/{module}/fixtures/{name}.gyle").replace("//", "/"))
}

/// A text with some of its words replaced, each of which must stand in it. In a fixture a comment marks where lines may go in.
pub fn changed(text: &str, changes: &[(&str, &str)]) -> String {
    let mut text = text.to_owned();
    for (from, to) in changes {
        assert!(text.contains(from), "no {from:?} in\n{text}");
        text = text.replace(from, to);
    }
    text
}
