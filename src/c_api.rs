//! The exchange for hosts that call C: a request goes in as bytes, the answer comes out as a text that the host frees.
//!
//! Built by `cargo rustc --release --lib --features c-api --crate-type cdylib`, or `staticlib`. The header is
//! `examples/c/wortwright.h`; beside it stand a host in C and one in Python.
//!
//! Every answer is that of [`exchange::answer`], valid JSON in UTF-8 and closed by a zero byte. A null pointer and
//! a length that no memory can have are answered like any other request that cannot be read; bytes that are not UTF-8 are
//! read as U+FFFD, which JSON takes in strings only.
//! Nothing is shared between calls, so that any number of them may run at once.
//!
//! This is the one module that may use `unsafe`, for two things only: to look at the bytes of a request, and to take
//! back an answer.
#![allow(unsafe_code)]

use crate::exchange;
use std::ffi::{CStr, CString, c_char};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::ptr;
use std::slice;

/// Answer to a panic, which no request is known to cause. Nothing else has the code `internal`.
const PANICKED: &CStr = cr#"{"format":1,"ok":false,"diagnostics":[{"severity":"error","code":"internal","message":"the library failed on this request","help":"please report it with the request","in":"request"}]}"#;

const VERSION: &CStr =
    match CStr::from_bytes_with_nul(concat!(env!("CARGO_PKG_VERSION"), "\0").as_bytes()) {
        Ok(version) => version,
        Err(_) => c"",
    };

/// The version of the library, such as `0.1.0`. The text lives as long as the library: it is not freed.
#[unsafe(no_mangle)]
pub extern "C" fn wortwright_version() -> *const c_char {
    VERSION.as_ptr()
}

/// The answer to a request of `length` bytes at `request`, as a text that is freed with [`wortwright_free`].
///
/// Null only where there is no memory for even the shortest answer.
///
/// # Safety
///
/// `request` is null or points to `length` bytes that nobody writes to during the call.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn wortwright_answer(request: *const c_char, length: usize) -> *mut c_char {
    let text = catch_unwind(AssertUnwindSafe(|| {
        // SAFETY: the caller sees to it, as this function's own contract says.
        let bytes = unsafe { bytes_at(request, length) };
        owned(&exchange::answer(&String::from_utf8_lossy(bytes)))
    }));
    text.unwrap_or_else(|payload| {
        // Dropping what was thrown may throw again.
        std::mem::forget(payload);
        catch_unwind(|| PANICKED.to_owned().into_raw()).unwrap_or(ptr::null_mut())
    })
}

/// Frees an answer. Null is let pass.
///
/// # Safety
///
/// `answer` is null or an answer of [`wortwright_answer`] that was neither freed nor changed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn wortwright_free(answer: *mut c_char) {
    if !answer.is_null() {
        // SAFETY: the caller sees to it that this came out of `CString::into_raw` and comes back once.
        let text = unsafe { CString::from_raw(answer) };
        drop(catch_unwind(AssertUnwindSafe(|| drop(text))));
    }
}

/// # Safety
///
/// As [`wortwright_answer`].
unsafe fn bytes_at<'a>(start: *const c_char, length: usize) -> &'a [u8] {
    let is_memory = isize::try_from(length).is_ok();
    if start.is_null() || !is_memory {
        return &[];
    }
    // SAFETY: not null and of a size that memory can have; the caller vouches for the bytes, whose alignment is one.
    unsafe { slice::from_raw_parts(start.cast(), length) }
}

/// The answer as a text of C. JSON writes a zero character as `\u0000`, so that none stands inside.
fn owned(answer: &str) -> *mut c_char {
    CString::new(answer)
        .unwrap_or_else(|_| PANICKED.to_owned())
        .into_raw()
}
