//! No engine code gets a figure out of what is written for people: assumptions, changes, warnings, lists.

use wortwright_tests::sources::{Source, sources};

/// Modules that say or pass on what is said. All others are engine.
const TELLING: [&str; 4] = ["sheet", "job", "exchange", "c_api"];
/// What is said to people, each taken apart in its own file alone, by `Self`.
const SAID: [&str; 7] = [
    "Assumption",
    "Warning",
    "Change",
    "Outcome",
    "Remedy",
    "Practice",
    "Remark",
];
/// Fields of a plan that are written for people.
const LISTS: [&str; 8] = [
    "assumptions",
    "warnings",
    "changes",
    "outcomes",
    "drift",
    "shopping",
    "additions",
    "water",
];

/// What follows a path such as `Change::Batch` and the fields in its braces or brackets.
fn after_fields(text: &str) -> &str {
    let rest = text.trim_start_matches(|c: char| c.is_alphanumeric() || c == '_' || c == ':');
    let inner = rest.trim_start();
    if !inner.starts_with(['{', '(']) {
        return rest;
    }
    let mut depth = 0;
    for (at, c) in inner.char_indices() {
        match c {
            '{' | '(' => depth += 1,
            '}' | ')' => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return &inner[at + 1..];
        }
    }
    ""
}

/// Whether `said::…`, which begins at `at`, is a pattern.
fn is_pattern(code: &str, at: usize) -> bool {
    let before = code[..at].rsplit([';', '{', '}']).next();
    let before = before.unwrap_or_default();
    let mut after = after_fields(&code[at..]);
    while let Some(rest) = after.strip_prefix(", _") {
        after = rest;
    }
    let after = after.trim_start_matches(|c: char| c.is_whitespace() || ")],".contains(c));
    let assigned = after.starts_with('=') && !after.starts_with("==");
    before.contains("matches!(") || assigned || after.starts_with('|') || after.starts_with("if ")
}

/// Every place where something said is taken apart.
fn taken_apart(code: &str) -> Vec<&str> {
    let mut found = Vec::new();
    for said in SAID {
        let path = format!("{said}::");
        for (at, _) in code.match_indices(&path) {
            let is_word = code[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_');
            if !is_word && is_pattern(code, at) {
                found.push(code[at..].lines().next().unwrap_or_default());
            }
        }
    }
    found
}

/// The code with no space or line break around a dot.
fn squeezed(code: &str) -> String {
    let words: Vec<_> = code.split_whitespace().collect();
    words.join(" ").replace(" .", ".")
}

/// What stands within the braces that open first.
fn block(code: &str) -> &str {
    let mut depth = 0;
    for (at, c) in code.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth == 1 => return &code[..at],
            '}' => depth -= 1,
            _ => {}
        }
    }
    code
}

fn is_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// The names by which a file knows a plan, of its parameters and fields; its own methods know it as `self`.
fn plans(code: &str) -> Vec<&str> {
    let mut names = vec!["plan"];
    for kind in [": &Plan", ": &'a Plan", ": &mut Plan", ": Plan"] {
        for (at, _) in code.match_indices(kind) {
            let after = code[at + kind.len()..].starts_with(is_word);
            let name = code[..at].rsplit(|c| !is_word(c)).next();
            names.extend(name.filter(|_| !after));
        }
    }
    names
}

/// Every list of a plan that is read: as a field, whatever the plan is called, or out of a pattern.
fn lists_read(code: &str) -> Vec<String> {
    let code = squeezed(code);
    let mut found = Vec::new();
    let mut seek = |code: &str, plan: &str| {
        for list in LISTS {
            let read = format!("{plan}.{list}");
            for (at, _) in code.match_indices(&read) {
                let before = code[..at].ends_with(|c| is_word(c) || c == '.');
                let after = code[at + read.len()..].starts_with(is_word);
                if !before && !after {
                    found.push(read.clone());
                }
            }
        }
    };
    for plan in plans(&code) {
        seek(&code, plan);
    }
    for methods in ["impl Plan {", "for Plan {"] {
        for (at, _) in code.match_indices(methods) {
            seek(block(&code[at..]), "self");
        }
    }
    for (at, _) in code.match_indices("Plan {") {
        let fields = block(&code[at..]);
        let rest = code[at + fields.len()..].trim_start_matches(['}', ' ', ')']);
        let apart = rest.starts_with('=') || rest.starts_with(": &Plan") || rest.starts_with('|');
        let named = |list: &&&str| fields.split(|c| !is_word(c)).any(|word| word == **list);
        if apart && !code[..at].ends_with(is_word) {
            found.extend(
                LISTS
                    .iter()
                    .filter(named)
                    .map(|list| format!("Plan {{ {list} }}")),
            );
        }
    }
    found
}

#[test]
fn what_is_said_is_not_read_back() {
    let mut count = 0;
    let engine = |source: &&Source| !TELLING.contains(&source.module()) && !source.is_of_tests();
    for source in sources("").iter().filter(engine) {
        count += 1;
        let (code, path) = (source.code(), &source.path);
        let apart = taken_apart(&code);
        assert!(apart.is_empty(), "{path} takes apart {apart:?}");
        let read = lists_read(&code);
        assert!(read.is_empty(), "{path} reads {read:?}");
    }
    assert!(count > 200, "{count}");
}

/// Ways to read a list, and what only looks like one.
#[test]
fn a_list_of_a_plan_is_found_however_it_is_read() {
    for reads in [
        "let malt = plan.additions.first();",
        "let malt = plan\n        .additions\n        .iter();",
        "impl Plan { fn red(&self) -> usize { self\n.additions.len() } }",
        "impl Display for Plan { fn fmt(&self) { self.water.mash } }",
        "fn of(made: &Plan) -> f64 { made.shopping.len() }",
        "struct Day<'a> { whole: &'a Plan } fn of(day: Day) { day.whole.drift; whole.drift }",
        "let Plan { warnings, .. } = plan;",
    ] {
        assert_eq!(lists_read(reads).len(), 1, "{reads}");
    }
    for other in [
        "plan.brewhouse.water.as_ref()",
        "recipe.mash.additions.push(line);",
        "impl Mash { fn of(&self) { self.water.as_ref() } }",
        "plan.additions_l",
        "Plan { water, assumptions: self.notes.assumptions }",
    ] {
        assert!(lists_read(other).is_empty(), "{other}");
    }
}

/// The patterns that stood in the code once, and what stands there by right.
#[test]
fn a_pattern_is_told_from_a_value() {
    for pattern in [
        "let sets = |change: &Change| matches!(change, Change::MashPhSet { .. });",
        "match assumed { Assumption::MashFermentability { factor, .. } => Some(*factor), _ => None }",
        "if let Change::WaterBrought { ions } = change {",
        "match (a, b) { (Assumption::OwnFigures { name, .. }, _) => name, }",
        "Some(Remedy::SmallerBatch { batch, .. }) => batch,",
    ] {
        assert_eq!(taken_apart(pattern).len(), 1, "{pattern}");
    }
    for value in [
        "warnings.push(Warning::YieldHigh { reached: inferred });",
        "outcomes.extend(stopped.map(|stopped| Outcome::MashStops { stopped }));",
        "(None, _) => notes.push(Assumption::CommercialPlant { size: PlantSize::of(batch_l), }), _ => {}",
        "let note = Assumption::MashPhFromClass { names };",
    ] {
        assert!(taken_apart(value).is_empty(), "{value}");
    }
}
