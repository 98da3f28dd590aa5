//! A drawing in SVG: text, lines and shapes whose colours the style sheet of the page decides.

use super::page::escaped;
use std::fmt::Write as _;

/// Every picture is as wide as this, in units that are CSS pixels on a telephone's page.
pub(crate) const WIDTH: f64 = 360.0;
/// Height of letters, and from one line of text to the next.
pub(crate) const LETTER: f64 = 12.0;
pub(crate) const LINE: f64 = 15.0;
/// Mean width of a letter over its height in the widest face of the page, measured in a browser on its labels.
const WIDTH_OF_LETTER: f64 = 0.62;

pub(crate) type Point = (f64, f64);

/// Which side of its place a text stands on.
#[derive(Clone, Copy)]
pub(crate) enum Side {
    From,
    About,
    UpTo,
}

/// The pieces of a drawing, in the order in which they are laid over each other.
#[derive(Default)]
pub(crate) struct Drawing {
    body: String,
}

impl Drawing {
    /// A line of text, its letters standing on the height `y`.
    pub(crate) fn text(&mut self, at: Point, side: Side, text: &str) {
        self.styled("", at, side, text);
    }

    fn styled(&mut self, class: &str, (x, y): Point, side: Side, text: &str) {
        let anchor = match side {
            Side::From => "start",
            Side::About => "middle",
            Side::UpTo => "end",
        };
        let text = escaped(text);
        let class = match class {
            "" => String::new(),
            class => format!(" class=\"{class}\""),
        };
        let _ = writeln!(
            self.body,
            "<text{class} x=\"{x:.1}\" y=\"{y:.1}\" text-anchor=\"{anchor}\">{text}</text>"
        );
    }

    /// Lines of text below each other, their block's middle at the height of the place.
    pub(crate) fn block(&mut self, at: Point, side: Side, lines: &[String]) {
        self.styled_block("", at, side, lines);
    }

    /// The same for the name of something.
    pub(crate) fn name(&mut self, at: Point, side: Side, lines: &[String]) {
        self.styled_block("name", at, side, lines);
    }

    fn styled_block(&mut self, class: &str, (x, middle): Point, side: Side, lines: &[String]) {
        let mut y = middle - block_height(lines) / 2.0 + LETTER;
        for line in lines {
            self.styled(class, (x, y), side, line);
            y += LINE;
        }
    }

    /// A path in SVG's own words.
    pub(crate) fn path(&mut self, class: &str, words: &str) {
        let _ = writeln!(self.body, "<path class=\"{class}\" d=\"{words}\"/>");
    }

    /// A line through points.
    pub(crate) fn line(&mut self, class: &str, points: &[Point]) {
        let mut words = String::new();
        for (place, (x, y)) in points.iter().enumerate() {
            let _ = write!(words, "{}{x:.1} {y:.1}", if place == 0 { "M" } else { "L" });
        }
        self.path(class, &words);
    }

    /// A rectangle between two corners.
    pub(crate) fn bar(&mut self, class: &str, from: Point, to: Point) {
        let (x, y, wide, high) = (from.0, from.1, to.0 - from.0, to.1 - from.1);
        let _ = writeln!(
            self.body,
            "<rect class=\"{class}\" x=\"{x:.1}\" y=\"{y:.1}\" width=\"{wide:.1}\" height=\"{high:.1}\"/>"
        );
    }

    pub(crate) fn dot(&mut self, class: &str, (x, y): Point) {
        let _ = writeln!(
            self.body,
            "<circle class=\"{class}\" cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"3.5\"/>"
        );
    }

    /// A shape in a colour of its own, which no style sheet knows.
    pub(crate) fn painted(&mut self, colour: &str, words: &str) {
        let _ = writeln!(self.body, "<path style=\"fill:{colour}\" d=\"{words}\"/>");
    }
}

/// What a picture says in words.
pub(crate) struct Said<'a> {
    pub(crate) id: &'a str,
    pub(crate) title: &'a str,
    pub(crate) description: &'a str,
}

/// The drawing as an inline SVG with its text alternative.
pub(crate) fn picture(said: &Said<'_>, height: f64, drawing: &Drawing) -> String {
    let (id, title, description) = (said.id, escaped(said.title), escaped(said.description));
    format!(
        "<svg class=\"picture\" role=\"img\" aria-labelledby=\"{id}-title {id}-said\" viewBox=\"0 0 {WIDTH} {height:.0}\" \
         xmlns=\"http://www.w3.org/2000/svg\">\n<title id=\"{id}-title\">{title}</title>\n\
         <desc id=\"{id}-said\">{description}</desc>\n{}</svg>\n",
        drawing.body
    )
}

pub(crate) fn block_height(lines: &[String]) -> f64 {
    LINE * lines.len() as f64
}

/// The width that a text takes up at most.
pub(crate) fn width(text: &str) -> f64 {
    text.chars().count() as f64 * LETTER * WIDTH_OF_LETTER
}

/// Text in lines no wider than `wide`; a number stays with its unit, and a word that is too long is broken.
pub(crate) fn wrapped(text: &str, wide: f64) -> Vec<String> {
    let most = (wide / (LETTER * WIDTH_OF_LETTER)).floor().max(1.0) as usize;
    let (mut lines, mut line) = (Vec::new(), String::new());
    for word in words(text) {
        let mut word = word.as_str();
        if !line.is_empty() && line.chars().count() + 1 + word.chars().count() > most {
            lines.push(std::mem::take(&mut line));
        }
        while let Some((cut, _)) = word.char_indices().nth(most) {
            let (head, tail) = word.split_at(cut);
            lines.push(head.to_owned());
            word = tail;
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    lines.push(line);
    lines
}

/// The words of a text, a number and what follows it as one.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        match words.last_mut() {
            Some(last) if last.ends_with(|c: char| c.is_ascii_digit()) => {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// A label that is to stand as near to its place as the others allow.
pub(crate) struct Label {
    /// The height at which it should stand.
    pub(crate) wanted: f64,
    pub(crate) lines: Vec<String>,
    /// The height at which it stands.
    pub(crate) middle: f64,
}

impl Label {
    pub(crate) fn new(wanted: f64, lines: Vec<String>) -> Self {
        Self {
            wanted,
            lines,
            middle: wanted,
        }
    }
}

/// Moves labels apart, in the order of their places and between two heights, where there is room for all.
pub(crate) fn spread(labels: &mut [Label], (top, bottom): Point) {
    labels.sort_by(|a, b| a.wanted.total_cmp(&b.wanted));
    let mut free = top;
    for label in labels.iter_mut() {
        let half = block_height(&label.lines) / 2.0;
        label.middle = label.wanted.max(free + half);
        free = label.middle + half;
    }
    let mut free = bottom;
    for label in labels.iter_mut().rev() {
        let half = block_height(&label.lines) / 2.0;
        label.middle = label.middle.min(free - half);
        free = label.middle - half;
    }
}

/// The place of `value`, between `none` and `most`, on a way from `start` to `end`.
pub(crate) fn along(value: f64, (none, most): Point, (start, end): Point) -> f64 {
    let share = if most > none {
        (value - none) / (most - none)
    } else {
        0.0
    };
    start + share.clamp(0.0, 1.0) * (end - start)
}
