//! Pages laid out by a browser, which says where each text stands.

use std::fmt::Write as _;
use std::path::Path;
use std::process::Command;

/// Widths that pages are looked at, in CSS pixels; paper is A4 less its margins.
pub(crate) const WIDTHS: [&str; 4] = ["390", "800", "1280", "paper"];

/// Waits for all frames, then lists what is wrong in each and how many texts it saw.
const MEASURE: &str = include_str!("measure.js");

/// What the browser finds wrong with pages, each at every width.
pub(crate) struct Found {
    pub(crate) faults: Vec<String>,
    /// How many pieces of text it saw.
    pub(crate) seen: usize,
}

/// Lays out all pages in one run of the browser; `name` keeps its files apart from those of other tests.
pub(crate) fn laid_out(name: &str, pages: &[(&str, String)]) -> Found {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("pages.html");
    std::fs::write(&file, frames(pages)).unwrap();
    let told = Command::new("chromium")
        .args([
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-dev-shm-usage",
        ])
        .args(["--virtual-time-budget=20000", "--dump-dom"])
        .arg(format!(
            "--user-data-dir={}",
            folder.join("profile").display()
        ))
        .arg(format!("file://{}", file.display()))
        .output()
        .unwrap_or_else(|fault| panic!("no browser, install Debian's `chromium`: {fault}"));
    let dom = String::from_utf8_lossy(&told.stdout);
    let report = dom
        .split_once("<pre id=\"found\">")
        .and_then(|(_, rest)| rest.split_once("</pre>"));
    let Some((report, _)) = report.filter(|(report, _)| report.contains("texts seen")) else {
        panic!(
            "the browser measured nothing: {}",
            String::from_utf8_lossy(&told.stderr)
        );
    };
    let (faults, seen): (Vec<_>, Vec<_>) = report
        .lines()
        .map(str::to_owned)
        .partition(|line| !line.ends_with("texts seen"));
    let seen = seen
        .iter()
        .filter_map(|line| line.split(' ').next()?.parse::<usize>().ok());
    Found {
        faults,
        seen: seen.sum(),
    }
}

/// A page of frames, one for each page at each width.
fn frames(pages: &[(&str, String)]) -> String {
    let mut html =
        String::from("<!DOCTYPE html><meta charset=\"utf-8\"><pre id=\"found\"></pre>\n");
    for (name, page) in pages {
        for width in WIDTHS {
            // What a printer is told holds for a frame as wide as the paper.
            let (pixels, page) = match width {
                "paper" => ("688", page.replace("@media print", "@media screen")),
                width => (width, page.clone()),
            };
            let source = page.replace('&', "&amp;").replace('"', "&quot;");
            let _ = writeln!(
                html,
                "<iframe name=\"{name} at {width}\" style=\"width:{pixels}px;height:800px;border:0\" srcdoc=\"{source}\"></iframe>"
            );
        }
    }
    let _ = writeln!(html, "<script>{MEASURE}</script>");
    html
}
