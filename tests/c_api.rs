//! The C interface called as a host calls it: whatever is handed over, an answer comes back and can be freed.
#![allow(missing_docs, clippy::unwrap_used)]

use std::ffi::{CStr, c_char};
use std::ptr;
use wortwright::c_api::{wortwright_answer, wortwright_free, wortwright_version};
use wortwright::exchange;

/// What a host does: asks, copies, frees.
fn ask(request: &[u8]) -> String {
    // SAFETY: a slice is valid for its length.
    let answer = unsafe { wortwright_answer(request.as_ptr().cast(), request.len()) };
    taken(answer)
}

fn taken(answer: *mut c_char) -> String {
    assert!(!answer.is_null());
    // SAFETY: an answer is closed by a zero byte, and is freed once.
    unsafe {
        let text = CStr::from_ptr(answer).to_str().unwrap().to_owned();
        wortwright_free(answer);
        text
    }
}

#[test]
fn answers_are_those_of_the_exchange() {
    for request in [
        r#"{"format":1,"id":"é\u0000","ask":"catalogue","name":"flaked oats"}"#,
        r#"{"format":1,"ask":"raed"}"#,
        "",
        "\0",
    ] {
        assert_eq!(ask(request.as_bytes()), exchange::answer(request));
    }
}

#[test]
fn the_version_is_that_of_the_crate() {
    // SAFETY: the text is constant and closed by a zero byte.
    let version = unsafe { CStr::from_ptr(wortwright_version()) };
    let line = format!("version = \"{}\"", version.to_str().unwrap());
    assert!(include_str!("../Cargo.toml").contains(&line), "{line}");
}

#[test]
fn null_and_impossible_lengths_are_answered() {
    let empty = exchange::answer("");
    // SAFETY: null is let pass, and so is a length that cannot be.
    unsafe {
        assert_eq!(taken(wortwright_answer(ptr::null(), 0)), empty);
        assert_eq!(taken(wortwright_answer(ptr::null(), 9)), empty);
        let byte = b'{';
        let start = ptr::from_ref(&byte).cast();
        assert_eq!(taken(wortwright_answer(start, usize::MAX)), empty);
        assert_eq!(taken(wortwright_answer(start, 0)), empty);
        wortwright_free(ptr::null_mut());
    }
}

#[test]
fn bytes_that_are_no_text_are_answered() {
    assert!(ask(b"\xff\xfe{").contains(r#""code":"invalid_json""#));
    assert!(ask(b"{\"format\":1,\"ask\":\"\xc3").contains(r#""ok":false"#));
    let id = ask(b"{\"format\":1,\"id\":\"\xff\",\"ask\":\"catalogue\",\"name\":\"honey\"}");
    assert!(id.contains("\"id\":\"\u{fffd}\""), "{id}");
}

#[test]
fn a_huge_request_is_answered() {
    let request = vec![b'['; 20_000_000];
    assert!(ask(&request).contains(r#""ok":false"#));
}

#[test]
fn calls_at_once_do_not_meet() {
    let expected: Vec<_> = (0..8).map(|id| exchange::answer(&numbered(id))).collect();
    std::thread::scope(|scope| {
        for (id, expected) in expected.iter().enumerate() {
            scope.spawn(move || {
                for _ in 0..20 {
                    assert_eq!(&ask(numbered(id).as_bytes()), expected);
                }
            });
        }
    });
}

fn numbered(id: usize) -> String {
    format!(r#"{{"format":1,"id":{id},"ask":"catalogue","class":"hop"}}"#)
}
