//! Rates, and a page to work from.

use super::cases::Sort;
use super::verdict::{Outcome, Scored, Verdict};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use wortwright::diagnostic::Severity;

/// Counts of a set of texts.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Rates {
    pub texts: usize,
    /// Texts without an error.
    pub usable: usize,
    /// Lines that mean something.
    pub lines: usize,
    /// Those of which every fact is read or kept, and that have no error.
    pub lines_read: usize,
    /// Texts all lines of which are read.
    pub whole: usize,
    pub facts: usize,
    /// Facts of each outcome, made-up ones among the misread.
    pub outcomes: BTreeMap<&'static str, usize>,
}

/// What to show.
#[derive(Debug, Clone, Copy, Default)]
pub struct Show {
    /// Misread facts alone.
    pub misread: bool,
    /// Every line, what is read too.
    pub all: bool,
    /// Rates alone.
    pub rates: bool,
    /// Lines of one sort of text.
    pub sort: Option<Sort>,
}

/// The counts of these texts.
pub fn rates<'s>(scored: impl IntoIterator<Item = &'s Scored>) -> Rates {
    let mut rates = Rates::default();
    for text in scored {
        rates.texts += 1;
        let refused = refused(text);
        let usable = if text.case.lines.start() == &1 {
            text.is_usable
        } else {
            refused.is_empty()
        };
        rates.usable += usize::from(usable);
        let mut lines: BTreeMap<usize, bool> = BTreeMap::new();
        for verdict in &text.verdicts {
            let is_read = verdict.outcome <= Outcome::Kept;
            // What is made up counts where nothing is said of it.
            if verdict.meant.is_some() || verdict.outcome == Outcome::Misread {
                *rates.outcomes.entry(verdict.outcome.word()).or_default() += 1;
            }
            rates.facts += usize::from(verdict.meant.is_some());
            let is_right = is_read && (is_ask(verdict) || !refused.contains(&verdict.line));
            *lines.entry(verdict.line).or_insert(true) &= is_right;
        }
        rates.lines += lines.len();
        rates.lines_read += lines.values().filter(|is_read| **is_read).count();
        rates.whole += usize::from(lines.values().all(|is_read| *is_read));
    }
    rates
}

fn is_ask(verdict: &Verdict) -> bool {
    verdict.what.iter().any(|word| word == "ask")
}

fn refused(text: &Scored) -> BTreeSet<usize> {
    let errors = text.diagnostics.iter();
    errors
        .filter(|(_, severity, _)| *severity == Severity::Error)
        .map(|(line, ..)| *line)
        .collect()
}

fn percent(part: usize, whole: usize) -> f64 {
    100.0 * part as f64 / whole.max(1) as f64
}

impl Rates {
    pub fn usable_pct(&self) -> f64 {
        percent(self.usable, self.texts)
    }

    pub fn lines_read_pct(&self) -> f64 {
        percent(self.lines_read, self.lines)
    }

    pub fn outcome(&self, outcome: Outcome) -> usize {
        self.outcomes.get(outcome.word()).copied().unwrap_or(0)
    }

    fn row(&self, label: &str) -> String {
        let mut row = format!(
            "{label:<36}{:>6}{:>7.1} %{:>7.1} %{:>7}{:>7.1} %{:>7}",
            self.texts,
            self.usable_pct(),
            percent(self.whole, self.texts),
            self.lines,
            self.lines_read_pct(),
            self.facts
        );
        for outcome in Outcome::ALL {
            let _ = write!(row, "{:>8}", self.outcome(outcome));
        }
        row
    }
}

/// The page: what fails, line by line, then the rates of each folder and of all.
pub fn report(scored: &[Scored], show: Show) -> String {
    let mut page = String::new();
    let of_sort = |text: &&Scored| show.sort.is_none_or(|sort| sort == text.case.sort);
    if !show.rates {
        for text in scored.iter().filter(of_sort) {
            failing(&mut page, text, show);
        }
    }
    let _ = write!(
        page,
        "\n{:<36}{:>6}{:>9}{:>9}{:>7}{:>9}{:>7}",
        "", "texts", "no error", "all read", "lines", "read", "facts"
    );
    for outcome in Outcome::ALL {
        let _ = write!(page, "{:>8}", outcome.word());
    }
    page.push('\n');
    let mut folders: BTreeSet<String> = BTreeSet::new();
    for text in scored {
        folders.insert(folder(&text.case.path));
    }
    for sort in Sort::ALL {
        let of = |text: &&Scored| text.case.sort == sort;
        if !scored.iter().any(|text| of(&text)) {
            continue;
        }
        for name in &folders {
            let here = scored
                .iter()
                .filter(of)
                .filter(|text| folder(&text.case.path) == *name);
            let found = rates(here);
            if found.texts > 0 {
                let label = format!("{} of {name}", sort.plural());
                page.push_str(&found.row(&label));
                page.push('\n');
            }
        }
        let all = rates(scored.iter().filter(of));
        page.push_str(&all.row(&format!("{}, all", sort.plural())));
        page.push('\n');
    }
    page
}

/// The writer's folder.
fn folder(path: &str) -> String {
    let parts: Vec<&str> = path.split('/').collect();
    let kinds = ["sheets", "logs", "plants"];
    let last = parts.len().saturating_sub(1);
    let at = parts
        .iter()
        .position(|part| kinds.contains(part))
        .unwrap_or(last);
    at.checked_sub(1)
        .and_then(|at| parts.get(at))
        .map_or_else(String::new, |part| (*part).to_owned())
}

fn failing(page: &mut String, text: &Scored, show: Show) {
    let refused = refused(text);
    let mut lines: BTreeMap<usize, Vec<&Verdict>> = BTreeMap::new();
    for verdict in &text.verdicts {
        lines.entry(verdict.line).or_default().push(verdict);
    }
    // A line that means nothing may be refused too.
    for line in &refused {
        lines.entry(*line).or_default();
    }
    for (line, verdicts) in lines {
        let is_shown = |verdict: &&&Verdict| {
            if show.misread {
                verdict.outcome == Outcome::Misread
            } else {
                verdict.outcome > Outcome::Kept
            }
        };
        let asks = verdicts.iter().any(|verdict| is_ask(verdict));
        let is_refused = refused.contains(&line) && !show.misread && !asks;
        if !verdicts.iter().any(|verdict| is_shown(&verdict)) && !is_refused && !show.all {
            continue;
        }
        let typed = line
            .checked_sub(1)
            .and_then(|at| text.case.text.lines().nth(at));
        let place = if text.case.lines.start() == &1 {
            format!("{}:{line}", text.case.path)
        } else {
            text.case.path.clone()
        };
        let _ = writeln!(page, "{place}  {}", typed.unwrap_or("(no line)").trim());
        for (_, severity, message) in text.diagnostics.iter().filter(|(at, ..)| *at == line) {
            let word = match severity {
                Severity::Error => "error",
                Severity::Warning => "warning",
                _ => "note",
            };
            let _ = writeln!(page, "    {word}: {message}");
        }
        for verdict in verdicts {
            let word = verdict.outcome.word();
            let none = || "-".to_owned();
            let meant = verdict
                .meant
                .as_ref()
                .map_or_else(none, ToString::to_string);
            let _ = write!(page, "    {word:<8}{meant}");
            if (verdict.outcome > Outcome::Kept || show.all)
                && let Some(held) = &verdict.held
            {
                let _ = write!(page, "\n        ->  {held}");
                if held.line != line {
                    let _ = write!(page, "   (line {})", held.line);
                }
                if !verdict.what.is_empty() {
                    let _ = write!(page, "   [{}]", verdict.what.join(", "));
                }
            }
            page.push('\n');
        }
    }
}
