//! The example that serves the exchange on standard input and output, as a process: whatever a line holds, it has an
//! answer, and so has the next.

use super::{demo, request, result};
use serde_json::{Value, json};
use std::env;
use std::io::{BufRead, BufReader, Write};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};

/// The example, built if it is not there already; it stands beside the folder of the tests.
fn example() -> PathBuf {
    let mut build = Command::new(env!("CARGO"));
    // From the top and with the packages of the tests, whose features go into what is built: then nothing is built twice.
    build.current_dir("..");
    build.args(["build", "--offline", "--example", "exchange_lines"]);
    if !cfg!(debug_assertions) {
        build.arg("--release");
    }
    let built = build.output().unwrap();
    assert!(
        built.status.success(),
        "{}",
        String::from_utf8_lossy(&built.stderr)
    );
    let tests = env::current_exe().unwrap();
    let name = format!("exchange_lines{}", env::consts::EXE_SUFFIX);
    tests
        .parent()
        .unwrap()
        .with_file_name("examples")
        .join(name)
}

/// Sends a line and waits for its answer.
fn exchanged(child: &mut Child, answers: &mut impl BufRead, line: &[u8]) -> Value {
    // From a thread: a pipe holds less than a long line.
    let stdin = child.stdin.as_mut().unwrap();
    let mut said = String::new();
    std::thread::scope(|scope| {
        scope.spawn(move || {
            stdin.write_all(line).unwrap();
            stdin.write_all(b"\n").unwrap();
            stdin.flush().unwrap();
        });
        answers.read_line(&mut said).unwrap();
    });
    assert!(said.ends_with('\n'), "{said}");
    serde_json::from_str(&said).unwrap()
}

#[test]
fn after_whatever_line_the_next_is_served() {
    let mut child = Command::new(example())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut answers = BufReader::new(child.stdout.take().unwrap());
    let proposals = request(
        "substitute",
        json!({"documents": demo(), "to": "Stove top", "options": {"limit": 1}}),
    );
    let spelt = result(&proposals)["missing"][0]["proposals"][0].clone();
    let mut rye = demo();
    let text = rye[0]["text"]
        .as_str()
        .unwrap()
        .replace("flaked spelt", "flaked rye");
    rye[0]["text"] = text.into();
    let take = json!([{"missing": "flaked spelt", "proposal": spelt}]);
    let no_longer = request(
        "scale",
        json!({"documents": rye, "to": "Stove top", "take": take}),
    );
    let long = "word ".repeat(1_000_000);
    let texts = [
        ("invalid_json", "what is this".to_owned()),
        (
            "invalid_json",
            r#"{"format":1,"ask":"correct","reading":{"value":NaN}}"#.to_owned(),
        ),
        (
            "invalid_json",
            r#"{"format":1,"ask":"correct","reading":{"value":1e999}}"#.to_owned(),
        ),
        ("wrong_type", "[".repeat(5_000_000)),
        ("unknown_value", r#"{"format":1,"ask":"brew"}"#.to_owned()),
        (
            "unknown_field",
            r#"{"format":1,"ask":"read","documnet":""}"#.to_owned(),
        ),
        (
            "wrong_type",
            r#"{"format":1,"ask":"catalogue","name":["honey"]}"#.to_owned(),
        ),
        ("proposal_does_not_fit", no_longer.to_string()),
        (
            "too_long",
            json!({"format": 1, "ask": "read", "document": long}).to_string(),
        ),
    ];
    let refused = |answer: &Value, code: &str| {
        assert_eq!(answer["ok"], false, "{code}");
        let found = answer["diagnostics"].as_array().unwrap();
        assert!(
            found.iter().any(|found| found["code"] == code),
            "{code}: {found:?}"
        );
        assert!(
            found
                .iter()
                .all(|found| !found["message"].as_str().unwrap().is_empty())
        );
        assert!(found.len() <= 101);
    };
    let lines = texts.iter().map(|(code, text)| (*code, text.as_bytes()));
    let spoilt = ("invalid_json", &b"\xff\xfe{"[..]);
    for (number, (code, line)) in lines.chain([spoilt]).enumerate() {
        refused(&exchanged(&mut child, &mut answers, line), code);
        let next = json!({"format": 1, "id": number, "ask": "catalogue", "name": "flaked oats"});
        // An empty line has no answer; it must not hold up the next.
        let next = format!("\n  \r\n{next}\r");
        let served = exchanged(&mut child, &mut answers, next.as_bytes());
        assert_eq!(
            (&served["ok"], &served["id"]),
            (&json!(true), &json!(number)),
            "after {code}"
        );
    }
    drop(child.stdin.take());
    assert!(child.wait().unwrap().success());
}
