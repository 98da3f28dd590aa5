//! Models from a store.

use wortwright::Job;
use wortwright::diagnostic::ErrorKind;
use wortwright::exchange::stored;
use wortwright_tests::fixtures::{DEMO, DEMO_LOG, DEMO_PLANT};

fn kept() -> String {
    let texts = [("beer", DEMO), ("home", DEMO_PLANT), ("log", DEMO_LOG)];
    serde_json::to_string_pretty(&Job::read(texts).unwrap().models()).unwrap()
}

#[test]
fn what_was_stored_is_read_again() {
    let found = stored(&kept()).unwrap();
    assert!(found.unknown.is_empty(), "{:?}", found.unknown);
    assert_eq!(serde_json::to_string_pretty(&found.models).unwrap(), kept());
}

/// A field more at each kind of place: first, amid others, last, alone, in a list, with a value of any kind.
#[test]
fn fields_that_are_not_known_are_left_out_and_noted() {
    let mut text = kept();
    let mut put = |before: &str, more: &str| {
        assert!(text.contains(before), "{before}");
        text = text.replacen(before, &format!("{more}{before}"), 1);
    };
    put("\"recipe\": {", "\"moon\": [1, {\"x\": \"a, b}\"}], ");
    put("\"mash\": {", "\"mesh\": {}, ");
    put("\"kettle_l\": {", "\"kettel_l\": 3, ");
    let last = text.rfind('}').unwrap();
    text.insert_str(last, ", \"last\": null");
    let found = stored(&text).unwrap();
    let paths: Vec<_> = found
        .unknown
        .iter()
        .map(|field| field.path.as_str())
        .collect();
    assert_eq!(
        paths,
        ["moon", "recipe.mesh", "brewhouses[1].kettel_l", "last"]
    );
    assert_eq!(
        found.unknown[1].help.as_deref(),
        Some("did you mean `mash`?")
    );
    assert_eq!(serde_json::to_string_pretty(&found.models).unwrap(), kept());
    assert!(stored(r#"{"only": 1}"#).unwrap().models.recipe.is_none());
}

#[test]
fn what_is_not_safe_to_leave_out_is_refused_with_its_path() {
    let refused = |text: &str| {
        let error = stored(text).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::Unreadable);
        error.message().to_owned()
    };
    let word = refused(
        r#"{"stock": {"lots": [{"any": {"name": "malt", "kind": "mallt", "facts": {}}}]}}"#,
    );
    assert!(
        word.starts_with("`stock.lots[0].any.kind`: expected one of the known words"),
        "{word}"
    );
    assert!(refused(r#"{"format": 3}"#).contains("format 3 is newer than 1"));
    assert!(refused(r#"{"recipe": 7}"#).starts_with("`recipe`: expected an object"));
    assert!(refused("{").starts_with("the stored text is not JSON"));
    let many: Vec<String> = (0..200).map(|n| format!("\"x{n}\": 0")).collect();
    assert!(refused(&format!("{{{}}}", many.join(","))).contains("no field here is called `x100`"));
}
