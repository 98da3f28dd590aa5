//! A page of plain text that never grows wider than it may.

use std::fmt::Write as _;

/// The widest line, in characters.
pub(super) const WIDTH: usize = 96;
/// Room for an amount in front of what it is an amount of.
const AMOUNT: usize = 14;
/// The narrowest column that text is wrapped into.
const NARROWEST: usize = 20;

/// Lines of text, each at most [`WIDTH`] characters.
#[derive(Debug, Default)]
pub(super) struct Page {
    text: String,
    headings: usize,
}

impl Page {
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

    /// A numbered heading.
    pub(super) fn heading(&mut self, name: &str) {
        self.headings += 1;
        let title = format!("{}. {name} ", self.headings);
        let _ = writeln!(self.text, "\n{title:-<WIDTH$}");
    }

    /// Text after `first`, wrapped under itself.
    pub(super) fn hung(&mut self, first: &str, text: &str) {
        let indent = first.chars().count().min(WIDTH - NARROWEST);
        let mut lines = wrapped(text, WIDTH - indent).into_iter();
        let first = if first.chars().count() > indent {
            // A lead too wide for its column is text like any other.
            self.hung("  ", first);
            " ".repeat(indent)
        } else {
            first.to_owned()
        };
        let line = format!("{first}{}", lines.next().unwrap_or_default());
        let _ = writeln!(self.text, "{}", line.trim_end());
        for line in lines {
            let _ = writeln!(self.text, "{}{line}", " ".repeat(indent));
        }
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
        self.hung(&format!("   [ ] {amount:>AMOUNT$}  "), text);
    }

    /// Something to tick at a time.
    pub(super) fn timed(&mut self, time: &str, amount: &str, text: &str) {
        self.hung(&format!("   [ ] {time:>8}  {amount:>AMOUNT$}  "), text);
    }

    /// A figure to be read on the day, with what is expected and a blank to fill in.
    pub(super) fn reading(&mut self, what: &str, expected: &str) {
        const PLACE: usize = 52;
        let blank = "read: ____________";
        let what: String = what.chars().take(PLACE).collect();
        let line = format!("   >> {what:<PLACE$}{expected:>14}  {blank}");
        if line.chars().count() <= WIDTH {
            let _ = writeln!(self.text, "{line}");
        } else {
            self.hung("   >> ", &format!("{what}  {expected}  {blank}"));
        }
    }

    /// Cells in columns: the first to the left and the others to the right, each in its width.
    pub(super) fn columns(&mut self, first: &str, others: &[&str]) {
        let mut line = format!("   {first:<34}");
        for cell in others {
            let _ = write!(line, "{cell:>14} ");
        }
        let line = line.trim_end();
        if line.chars().count() <= WIDTH {
            let _ = writeln!(self.text, "{line}");
        } else {
            self.hung("   ", line.trim_start());
        }
    }
}

/// The words of `text`, a number and its unit as one, so that no line ends between them.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match words.last_mut() {
            Some(last)
                if last.ends_with(|c: char| c.is_ascii_digit())
                    && !last.contains(' ')
                    && word.chars().count() <= 5 =>
            {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// The words of `text` in lines of at most `width` characters; a longer word is broken.
fn wrapped(text: &str, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let (mut line, mut used) = (String::new(), 0);
    for word in words(text) {
        let mut rest: Vec<char> = word.chars().collect();
        if used > 0 && used + 1 + rest.len() > width {
            lines.push(std::mem::take(&mut line));
            used = 0;
        }
        while rest.len() > width {
            let tail = rest.split_off(width);
            lines.push(rest.into_iter().collect());
            rest = tail.into_iter().skip_while(|c| *c == ' ').collect();
        }
        if used > 0 {
            line.push(' ');
            used += 1;
        }
        used += rest.len();
        line.extend(rest);
    }
    if used > 0 {
        lines.push(line);
    }
    lines
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
        let text = format!("{} 10.1 oz of malt", "x".repeat(14));
        assert_eq!(
            wrapped(&text, 20),
            ["x".repeat(14), "10.1 oz of malt".to_owned()]
        );
        // Longer than its line, it is broken like any other word.
        assert_eq!(wrapped("12345678 oz", 8), ["12345678", "oz"]);
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
