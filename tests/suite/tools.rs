//! The tests' own tools are held too.

use wortwright_tables::csv::cells;
use wortwright_tests::files::{below, read};
use wortwright_tests::fixtures::changed;
use wortwright_tests::reference::{Case, check, last_digit};

#[test]
fn cells_may_be_quoted() {
    assert_eq!(cells(r#"a,"b, ""c""",,d"#), ["a", "b, \"c\"", "", "d"]);
    assert_eq!(cells("a,\"b, c\",,d"), ["a", "b, c", "", "d"]);
}

#[test]
fn digits_are_counted_as_printed() {
    assert_eq!(last_digit("12"), 1.0);
    assert!((last_digit("0.250") - 0.001).abs() < 1e-18);
    assert!((last_digit("7.76e-04") - 1e-6).abs() < 1e-18);
}

#[test]
fn an_unexpected_agreement_fails() {
    let case = || [Case::new("x", 1.0, 1.0, 0.1)];
    assert!(std::panic::catch_unwind(|| check(case(), &["x"])).is_err());
    assert!(std::panic::catch_unwind(|| check(case(), &["y"])).is_err());
    check([Case::new("x", 1.0, 2.0, 0.1)], &["x"]);
    assert!(std::panic::catch_unwind(|| check([Case::new("x", 1.0, 2.0, 0.1)], &[])).is_err());
    assert!(std::panic::catch_unwind(|| check([Case::new("x", f64::NAN, 2.0, 0.1)], &[])).is_err());
}

#[test]
fn a_change_that_changes_nothing_fails() {
    assert_eq!(changed("boil 60 min", &[("60", "75")]), "boil 75 min");
    assert!(std::panic::catch_unwind(|| changed("boil 60 min", &[("90", "75")])).is_err());
}

/// A fixture that no test reads is a fixture too many.
#[test]
fn every_fixture_is_read() {
    let folders = ["tests/suite", "tests/shared"];
    let sources = folders.map(|folder| below(folder, ".rs"));
    let code: String = sources.iter().flatten().map(|path| read(path)).collect();
    let fixtures = below("tests/suite", ".gyle");
    let fixtures = fixtures.iter().filter(|path| path.contains("/fixtures/"));
    for path in fixtures {
        let name = path
            .trim_start_matches("tests/suite/")
            .trim_end_matches(".gyle");
        let (module, name) = name.split_once("fixtures/").unwrap();
        let names = [
            format!("\"{module}{name}\""),
            format!("fixtures/{name}.gyle\""),
        ];
        let is_read = names.iter().any(|name| code.contains(name));
        assert!(is_read, "{path}");
    }
}
