//! Serves the exchange on standard input and output: one JSON request a line, one JSON answer a line.
//!
//! Any program can be a host this way; it writes a line and waits for one:
//!
//! ```text
//! echo '{"format":1,"ask":"catalogue","name":"flaked oats"}' | cargo run -q --example exchange_lines
//! ```
//!
//! An empty line has no answer. Every other line has one, whatever it holds, so that a host never waits in vain.

use std::io::{self, BufRead, Write};
use wortwright::exchange::answer;

fn main() -> io::Result<()> {
    let mut requests = io::stdin().lock();
    let mut answers = io::stdout().lock();
    let mut line = Vec::new();
    while requests.read_until(b'\n', &mut line)? > 0 {
        // Bytes that are no text become a mark that JSON takes in strings only; elsewhere the answer says so.
        let request = String::from_utf8_lossy(&line);
        if !request.trim().is_empty() {
            writeln!(
                answers,
                "{}",
                answer(request.trim_end_matches(['\r', '\n']))
            )?;
            answers.flush()?;
        }
        line.clear();
    }
    Ok(())
}
