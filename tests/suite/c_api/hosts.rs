//! The C interface as hosts meet it: the library built, the hosts in C and Python compiled, run and compared.

use crate::exchange::{demo, request};
use serde_json::{Value, json};
use std::env;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::OnceLock;
use wortwright::exchange::answer;

const HOSTS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../examples/c");

/// Where the libraries are built: beside the tests' own folder, so that neither waits for the other's lock.
fn folder() -> &'static Path {
    static FOLDER: OnceLock<PathBuf> = OnceLock::new();
    FOLDER.get_or_init(|| {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("c-interface");
        let built = Command::new(env!("CARGO"))
            .args(["rustc", "--offline", "--lib", "--features", "c-api"])
            .args(["--crate-type", "cdylib,staticlib", "--target-dir"])
            .arg(&folder)
            .args(["--package", "wortwright"])
            .env_remove("CARGO_BUILD_TARGET")
            // Built for a handful of calls: the time goes into the build.
            .env("CARGO_PROFILE_DEV_OPT_LEVEL", "0")
            .env("CARGO_PROFILE_DEV_DEBUG", "none")
            .output()
            .unwrap();
        assert!(built.status.success(), "{}", said(&built));
        folder.join("debug")
    })
}

fn shared() -> PathBuf {
    let name = format!(
        "{}wortwright{}",
        env::consts::DLL_PREFIX,
        env::consts::DLL_SUFFIX
    );
    folder().join(name)
}

/// The host in C, linked with the library of that kind.
fn compiled(name: &str, with: &[&str]) -> PathBuf {
    let program = folder().join(name);
    let made = Command::new("gcc")
        .args([
            "-std=c99",
            "-Wall",
            "-Wextra",
            "-Wpedantic",
            "-Werror",
            "-o",
        ])
        .arg(&program)
        .arg(Path::new(HOSTS).join("host.c"))
        .args(with)
        .output()
        .unwrap();
    assert!(made.status.success(), "{}", said(&made));
    program
}

/// Linked once: two tests that link the same file at once would find it half written.
fn dynamic_host() -> &'static Path {
    static HOST: OnceLock<PathBuf> = OnceLock::new();
    HOST.get_or_init(linked_dynamically)
}

fn linked_dynamically() -> PathBuf {
    let library = shared();
    let place = folder().to_str().unwrap();
    let path = format!("-Wl,-rpath,{place}");
    compiled("host-shared", &[library.to_str().unwrap(), &path])
}

fn said(output: &Output) -> String {
    format!(
        "{}\n{}",
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    )
}

fn fed(command: &mut Command, input: &[u8]) -> Output {
    let mut child = command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // Written from a thread of its own: the host may answer before it has read everything.
    let mut stdin = child.stdin.take().unwrap();
    std::thread::scope(|scope| {
        scope.spawn(move || drop(stdin.write_all(input)));
        child.wait_with_output().unwrap()
    })
}

fn requests() -> Vec<String> {
    vec![
        request("scale", json!({"documents": demo(), "to": "Stove top"})).to_string(),
        request("catalogue", json!({"name": "flaked oats"})).to_string(),
        r#"{"format":1,"id":"é","ask":"raed"}"#.to_owned(),
    ]
}

fn json_of(output: &Output) -> Value {
    assert!(output.status.success(), "{}", said(output));
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{}", said(output)))
}

#[test]
fn a_host_in_c_gets_the_same_answers() {
    let library = folder().join("libwortwright.a");
    let archive = [library.to_str().unwrap(), "-lpthread", "-ldl", "-lm"];
    for host in [dynamic_host().to_owned(), compiled("host-static", &archive)] {
        for asked in requests() {
            let expected: Value = serde_json::from_str(&answer(&asked)).unwrap();
            let argument = Command::new(&host).arg(&asked).output().unwrap();
            assert_eq!(json_of(&argument), expected);
            let input = fed(&mut Command::new(&host), asked.as_bytes());
            assert_eq!(json_of(&input), expected);
        }
        let spoilt = fed(&mut Command::new(&host), b"{\"format\":1,\xff\0");
        assert_eq!(json_of(&spoilt)["ok"], false);
        let nothing = fed(&mut Command::new(&host), b"");
        assert_eq!(json_of(&nothing)["diagnostics"][0]["code"], "invalid_json");
        let huge = fed(&mut Command::new(&host), &vec![b'['; 8_000_000]);
        assert_eq!(json_of(&huge)["ok"], false);
    }
}

#[test]
fn a_host_in_c_leaves_no_memory_behind() {
    let host = dynamic_host();
    for asked in requests() {
        let checked = Command::new("valgrind")
            .args([
                "--quiet",
                "--error-exitcode=99",
                "--leak-check=full",
                "--show-leak-kinds=definite,indirect,possible",
            ])
            .args(["--errors-for-leak-kinds=definite,indirect,possible"])
            .arg(host)
            .arg(&asked)
            .output()
            .unwrap();
        let expected: Value = serde_json::from_str(&answer(&asked)).unwrap();
        assert_eq!(json_of(&checked)["ok"], expected["ok"]);
    }
}

#[test]
fn a_host_in_python_gets_the_same_answers() {
    let library = shared();
    let host = Path::new(HOSTS).join("host.py");
    for asked in requests() {
        let expected: Value = serde_json::from_str(&answer(&asked)).unwrap();
        let input = fed(
            Command::new("python3").arg(&host).arg(&library),
            asked.as_bytes(),
        );
        assert_eq!(json_of(&input), expected);
    }
}

#[test]
fn the_header_declares_what_the_library_exports() {
    let names = |text: &str, before: &str| -> Vec<String> {
        let found = text.match_indices("wortwright_").filter_map(|(at, _)| {
            let line = &text[..at];
            let line = line.rsplit('\n').next().unwrap();
            let is_declared = line.starts_with(before) && !line.contains("//");
            let name = text[at..].split('(').next().unwrap();
            is_declared.then(|| name.to_owned())
        });
        found.collect()
    };
    let source = include_str!("../../../src/c_api.rs");
    let header = include_str!("../../../examples/c/wortwright.h");
    let mut exported = names(source, "pub extern \"C\" fn ");
    exported.extend(names(source, "pub unsafe extern \"C\" fn "));
    let mut declared = names(header, "const char *");
    declared.extend(names(header, "char *"));
    declared.extend(names(header, "void "));
    assert_eq!(exported, declared);
    assert_eq!(exported.len(), 3);
}
