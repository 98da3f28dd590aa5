//! What a general-purpose interior-point solver (clarabel 0.11) says of the random programs of the tests, from a table.
//!
//! The solver is no dependency of this crate. The test package makes the table:
//!
//! ```text
//! WORTWRIGHT_WRITE_PROGRAMS=/tmp/programs.txt cargo test -p wortwright --lib general_solver
//! cargo run --release -p wortwright-tests --example general_solver -- /tmp/programs.txt
//! ```

use std::collections::HashMap;
use std::fmt::Write as _;
use std::fs::{self, OpenOptions};
use std::io::Write as _;
use std::sync::OnceLock;

/// A quadratic program of any size: minimise z'Gz − 2h'z under rows and bounds.
pub(crate) struct General {
    pub(crate) gram: Vec<Vec<f64>>,
    pub(crate) linear: Vec<f64>,
    pub(crate) rows: Vec<Vec<f64>>,
    pub(crate) right: Vec<f64>,
    pub(crate) low: Vec<f64>,
    pub(crate) high: Vec<f64>,
}

/// What the solver says of a program.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Verdict {
    /// The least value.
    Least(f64),
    /// It proves that no point satisfies the program.
    Impossible,
    /// It stops short of a proof, as it does at the border of what is possible.
    Unsure,
}

impl General {
    /// What the solver found.
    pub(crate) fn solve(&self) -> Verdict {
        let name = self.fingerprint();
        if let Some(path) = std::env::var_os("WORTWRIGHT_WRITE_PROGRAMS") {
            let mut file = OpenOptions::new().create(true).append(true).open(path);
            file.as_mut()
                .unwrap()
                .write_all(self.written(name).as_bytes())
                .unwrap();
            return Verdict::Unsure;
        }
        let found = table().get(&name).copied();
        found.unwrap_or_else(|| panic!("{name:016x} is not in the table: make it anew, see above"))
    }

    fn lists(&self) -> impl Iterator<Item = &[f64]> {
        let ends = [&self.linear, &self.right, &self.low, &self.high];
        let whole = self.gram.iter().chain(&self.rows).chain(ends);
        whole.map(Vec::as_slice)
    }

    /// FNV-1a (Fowler, Noll, Vo; from memory) over the bits of all figures, which basic arithmetic makes alike everywhere.
    fn fingerprint(&self) -> u64 {
        let bytes = self.lists().flatten().flat_map(|v| v.to_le_bytes());
        bytes.fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        })
    }

    /// Its name, how many rows it has, and its lists, gram first.
    fn written(&self, name: u64) -> String {
        let mut line = format!("{name:016x} {}", self.rows.len());
        for list in self.lists() {
            line.push(';');
            for value in list {
                let _ = write!(line, " {value:e}");
            }
        }
        line + "\n"
    }
}

fn table() -> &'static HashMap<u64, Verdict> {
    static TABLE: OnceLock<HashMap<u64, Verdict>> = OnceLock::new();
    TABLE.get_or_init(|| {
        let path = concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/tests/reference/general_solver.csv"
        );
        let text = fs::read_to_string(path).unwrap();
        let lines = text.lines().filter(|line| !line.starts_with('#')).skip(1);
        lines
            .map(|line| {
                let [name, verdict, value] = line.split(',').collect::<Vec<_>>()[..] else {
                    panic!("{line}");
                };
                let verdict = match verdict {
                    "least" => Verdict::Least(value.parse().unwrap()),
                    "impossible" => Verdict::Impossible,
                    _ => Verdict::Unsure,
                };
                (u64::from_str_radix(name, 16).unwrap(), verdict)
            })
            .collect()
    })
}
