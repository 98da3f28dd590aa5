//! A page of plain text that never grows wider than it may.

use crate::quantity::{Unit, UnitSystem};
use crate::speech::Style;
use std::fmt::Write as _;
use std::str::SplitAsciiWhitespace;

/// The widest line, in characters.
pub(super) const WIDTH: usize = 96;
/// Widths of the columns behind a name: of two, and of four; the last but one of four and the second of two hold a spread.
const TWO: [usize; 2] = [14, 19];
const FOUR: [usize; 4] = [14, 13, 19, 8];
/// Room for an amount in front of what it is an amount of, alone and beside the clock: `8 lb 14.5 oz` and `42.2 imp fl oz` are
/// the widest.
const AMOUNT: [usize; 2] = [12, 11];
const US_AMOUNT: [usize; 2] = [12, 12];
const IMPERIAL_AMOUNT: [usize; 2] = [14, 13];
/// The narrowest column that text is wrapped into.
const NARROWEST: usize = 20;

/// Lines of text, each at most [`WIDTH`] characters.
#[derive(Debug)]
pub(super) struct Page {
    text: String,
    headings: usize,
    amount: [usize; 2],
}

impl Default for Page {
    fn default() -> Self {
        Self {
            text: String::new(),
            headings: 0,
            amount: AMOUNT,
        }
    }
}

impl Page {
    /// An empty page with room for the amounts of a practice.
    pub(super) fn of(style: Style) -> Self {
        let amount = match style.system {
            UnitSystem::Metric => AMOUNT,
            UnitSystem::Us => US_AMOUNT,
            UnitSystem::Imperial => IMPERIAL_AMOUNT,
        };
        Self {
            amount,
            ..Self::default()
        }
    }

    /// The text.
    pub(super) fn into_text(self) -> String {
        self.text
    }

    /// An empty line.
    pub(super) fn gap(&mut self) {
        self.text.push('\n');
    }

    /// A line across the page.
    pub(super) fn rule(&mut self, mark: &str) {
        let _ = writeln!(self.text, "{}", mark.repeat(WIDTH));
    }

    /// A line across the page with a title in its middle; a title too long for that has lines of its own.
    pub(super) fn title(&mut self, title: &str, mark: &str) {
        let title = format!(" {title} ");
        let room = WIDTH.saturating_sub(title.chars().count());
        if room == 0 {
            self.rule(mark);
            self.paragraph(&title);
            return;
        }
        let before = room / 2;
        let (before, after) = (mark.repeat(before), mark.repeat(room - before));
        let _ = writeln!(self.text, "{before}{title}{after}");
    }

    /// A numbered heading.
    pub(super) fn heading(&mut self, name: &str) {
        self.headings += 1;
        let title = format!("{}. {name} ", self.headings);
        let _ = writeln!(self.text, "{title:-<WIDTH$}");
    }

    /// Text after `first`, wrapped under itself; a word longer than its line is broken.
    pub(super) fn hung(&mut self, first: &str, text: &str) {
        let lead = first.chars().count();
        let indent = lead.min(WIDTH - NARROWEST);
        let width = WIDTH - indent;
        if lead > indent {
            // A lead too wide for its column is text like any other.
            self.hung("  ", first);
            self.indent(indent);
        } else {
            self.text.push_str(first);
        }
        let is_ascii = text.is_ascii();
        let length_of = |word: &str| {
            if is_ascii {
                word.len()
            } else {
                word.chars().count()
            }
        };
        let fits = length_of(text) <= width;
        let mut used = 0;
        let mut words = text.split_ascii_whitespace();
        while let Some(word) = words.next() {
            let length = length_of(word);
            if !fits && used > 0 && used + 1 + length + kept_with(word, words.clone()) > width {
                self.end_line();
                self.indent(indent);
                used = 0;
            }
            if used > 0 {
                self.text.push(' ');
                used += 1;
            }
            if length <= width {
                self.text.push_str(word);
                used += length;
                continue;
            }
            for c in word.chars() {
                if used == width {
                    self.end_line();
                    self.indent(indent);
                    used = 0;
                }
                self.text.push(c);
                used += 1;
            }
        }
        self.end_line();
    }

    fn indent(&mut self, spaces: usize) {
        self.text.extend(std::iter::repeat_n(' ', spaces));
    }

    /// Ends a line, without the spaces at its end.
    fn end_line(&mut self) {
        let kept = self.text.trim_end_matches(' ').len();
        self.text.truncate(kept);
        self.text.push('\n');
    }

    /// A paragraph.
    pub(super) fn paragraph(&mut self, text: &str) {
        self.hung("   ", text);
    }

    /// A point of a list.
    pub(super) fn point(&mut self, text: &str) {
        self.hung("   - ", text);
    }

    /// Something to weigh or measure, with a box to tick.
    pub(super) fn tick(&mut self, amount: &str, text: &str) {
        self.hung(&self.ticked(amount), text);
    }

    /// An amount behind its box, or the box alone.
    fn ticked(&self, amount: &str) -> String {
        if amount.is_empty() {
            return "   [ ] ".to_owned();
        }
        let [width, _] = self.amount;
        format!("   [ ] {amount:>width$}  ")
    }

    /// Things to tick, two in a line where both fit.
    pub(super) fn two_columns(&mut self, list: &[(String, String)]) {
        const COLUMN: usize = WIDTH / 2;
        let cells = list
            .iter()
            .map(|(amount, text)| format!("{}{text}", self.ticked(amount)));
        let fits = |cell: &String| cell.chars().count() < COLUMN;
        // Wide ones last, so that they part no pair.
        let (narrow, wide): (Vec<_>, Vec<_>) = cells.zip(list).partition(|(cell, _)| fits(cell));
        let mut narrow = narrow.into_iter();
        while let Some((first, (amount, text))) = narrow.next() {
            match narrow.next() {
                Some((second, _)) => {
                    let _ = writeln!(self.text, "{first:<COLUMN$}{}", second.trim_start());
                }
                None => self.tick(amount, text),
            }
        }
        for (_, (amount, text)) in wide {
            self.tick(amount, text);
        }
    }

    /// Something to do or to add at a time of the clock.
    pub(super) fn timed(&mut self, clock: &str, amount: &str, text: &str) {
        let [_, width] = self.amount;
        let lead = if amount.is_empty() {
            format!("   [ ] {clock:>5}  ")
        } else {
            format!("   [ ] {clock:>5}  {amount:>width$}  ")
        };
        self.hung(&lead, text);
    }

    /// The same with the minutes left in the boil.
    pub(super) fn boiled(&mut self, clock: &str, left: &str, amount: &str, text: &str) {
        let [_, width] = self.amount;
        let lead = format!("   [ ] {clock:>5}  {left:>8}  {amount:>width$}  ");
        self.hung(&lead, text);
    }

    /// A figure to be read on the day, with what is expected and a blank to fill in.
    pub(super) fn reading(&mut self, what: &str, expected: &str) {
        const PLACE: usize = 47;
        let blank = "measured: ________";
        let line = format!("   >> {what:<PLACE$}{expected:>19}  {blank}");
        if what.chars().count() <= PLACE && line.chars().count() <= WIDTH {
            let _ = writeln!(self.text, "{line}");
        } else {
            self.hung("   >> ", &format!("{what}  {expected}  {blank}"));
        }
    }

    /// Blanks to fill in, side by side after `first`, each whole in its line.
    pub(super) fn lines_of_blanks(&mut self, first: &str, blanks: &[&str]) {
        let line = format!("{first}{}", blanks.join("   "));
        if line.chars().count() <= WIDTH {
            let _ = writeln!(self.text, "{line}");
        } else {
            self.hung(first, &blanks.join(" "));
        }
    }

    /// A table with a head and rows to the left, and a column for each of many things, as wide as it needs.
    pub(super) fn side_by_side<const ROWS: usize>(
        &mut self,
        heads: [&str; ROWS],
        columns: &[[String; ROWS]],
    ) {
        let widest = |cells: &[&str]| cells.iter().map(|cell| cell.chars().count()).max();
        let first = widest(&heads).unwrap_or_default();
        for (row, head) in heads.iter().enumerate() {
            let mut line = format!("   {head:<first$}");
            for column in columns {
                let width = column.iter().map(|cell| cell.chars().count()).max();
                let width = width.unwrap_or_default() + 2;
                let cell = column.get(row).map_or("", String::as_str);
                let _ = write!(line, "{cell:>width$}");
            }
            if line.chars().count() <= WIDTH {
                let _ = writeln!(self.text, "{line}");
            } else {
                self.hung("   ", line.trim_start());
            }
        }
    }

    /// Cells in columns: the first to the left and the others to the right, each in its width.
    pub(super) fn columns(&mut self, first: &str, others: &[&str]) {
        let mut line = format!("   {first:<34}");
        let widths: &[usize] = if others.len() > TWO.len() {
            &FOUR
        } else {
            &TWO
        };
        for (cell, width) in others.iter().zip(widths) {
            let _ = write!(line, "{cell:>width$} ");
        }
        let line = line.trim_end();
        if line.chars().count() <= WIDTH {
            let _ = writeln!(self.text, "{line}");
        } else {
            self.hung("   ", line.trim_start());
        }
    }
}

/// How long that is which the line of `word` must hold too: after a number its unit.
/// A space that is meant not to break a line is a part of its word.
fn kept_with<'a>(mut word: &'a str, mut rest: SplitAsciiWhitespace<'a>) -> usize {
    let mut length = 0;
    while is_number(word) || begins_unit(word) {
        let Some(next) = rest.next().filter(|next| keeps(word, next)) else {
            break;
        };
        length += 1 + next.chars().count();
        word = next;
    }
    length
}

fn is_number(word: &str) -> bool {
    word.ends_with(|c: char| c.is_ascii_digit())
}

/// Whether a unit of several words begins with it, as `imp gal` does.
fn begins_unit(word: &str) -> bool {
    matches!(word, "imp" | "fl") || word.ends_with("/imp")
}

/// Whether no line may end between the next word and a number or a word of a unit.
fn keeps(word: &str, next: &str) -> bool {
    /// Shorter words are as good as a unit.
    const SHORT: usize = 5;
    if !is_number(word) {
        return true;
    }
    let bare = next.trim_end_matches([',', '.', ';', ':', ')']);
    !next.starts_with(|c: char| c.is_ascii_digit())
        && (bare.chars().count() <= SHORT || Unit::begins(bare))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_wrapped_under_itself() {
        let mut page = Page::default();
        page.hung("   1 kg  ", &"malt ".repeat(30));
        let text = page.into_text();
        let lines: Vec<_> = text.lines().collect();
        assert!(lines.len() > 1);
        assert!(lines[0].starts_with("   1 kg  malt"));
        assert!(lines[1].starts_with("         malt"));
        assert!(lines.iter().all(|line| line.chars().count() <= WIDTH));
    }

    #[test]
    fn a_number_stays_with_its_unit() {
        let lead = " ".repeat(WIDTH - NARROWEST);
        let mut page = Page::default();
        page.hung(&lead, &format!("{} 10.1 oz of malt", "x".repeat(14)));
        // Longer than its line, it is broken like any other word.
        page.hung(&lead, &format!("{} oz", "1".repeat(NARROWEST)));
        let text = page.into_text();
        let lines: Vec<_> = text.lines().map(str::trim_start).collect();
        let (word, number) = ("x".repeat(14), "1".repeat(NARROWEST));
        assert_eq!(lines, [&word, "10.1 oz of malt", &number, "oz"]);
    }

    /// No unit that the crate writes is parted from its number, whatever mark follows it.
    #[test]
    fn every_unit_stays_with_its_number() {
        let lead = " ".repeat(WIDTH - 2 * NARROWEST);
        for unit in Unit::ALL.iter().map(|unit| unit.symbol()) {
            for mark in ["", ",", ".", ";", ")"] {
                let figure = format!("2.5 {unit}{mark}");
                // Room for the number and a part of the unit, but not for all of it.
                for missing in 1..figure.len() - 3 {
                    let filled = "x".repeat(2 * NARROWEST - 1 - (figure.len() - missing));
                    let mut page = Page::default();
                    page.hung(&lead, &format!("{filled} {figure} of it"));
                    let text = page.into_text();
                    let second = text.lines().nth(1).unwrap().trim_start();
                    assert!(second.starts_with(&figure), "{text}");
                }
            }
        }
    }

    #[test]
    fn a_word_wider_than_the_page_is_broken_and_nothing_is_lost() {
        let word = "ß".repeat(3 * WIDTH);
        let mut page = Page::default();
        page.hung(&word, &word);
        page.columns(&word, &[&word]);
        let text = page.into_text();
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH));
        assert_eq!(text.matches('ß').count(), 4 * 3 * WIDTH);
    }
}
