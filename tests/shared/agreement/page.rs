//! A page of the notation as figures and words, so that a law may change one thing of it and nothing else.

use super::figure::Figure;
use crate::brewing::Numbers;

#[derive(Debug, Clone, PartialEq)]
pub enum Piece {
    Word(String),
    Figure(Figure),
}

/// A line, with those below it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Line {
    pub pieces: Vec<Piece>,
    pub below: Vec<Line>,
    /// Whether its place among its neighbours says nothing.
    pub floats: bool,
    /// Whether its first figure is an amount that two lines may share.
    pub parts: bool,
    /// Whether its first figure is a share of the wort's fermentables, or a mass of one.
    pub tag: &'static str,
}

/// The lines without indent.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Page {
    pub lines: Vec<Line>,
}

impl Line {
    /// A line of words.
    pub fn of(words: impl Into<String>) -> Self {
        Self::default().word(words)
    }

    #[must_use]
    pub fn word(mut self, words: impl Into<String>) -> Self {
        let words = words.into();
        if !words.is_empty() {
            self.pieces.push(Piece::Word(words));
        }
        self
    }

    #[must_use]
    pub fn figure(mut self, figure: Figure) -> Self {
        self.pieces.push(Piece::Figure(figure));
        self
    }

    #[must_use]
    pub fn floating(mut self) -> Self {
        self.floats = true;
        self
    }

    #[must_use]
    pub fn parting(mut self) -> Self {
        self.parts = true;
        self
    }

    #[must_use]
    pub fn tagged(mut self, tag: &'static str) -> Self {
        self.tag = tag;
        self
    }

    pub fn text(&self) -> String {
        let mut text = String::new();
        for piece in &self.pieces {
            let said = match piece {
                Piece::Word(words) => words.clone(),
                Piece::Figure(figure) => figure.text(),
            };
            if !text.is_empty() && !said.starts_with(',') {
                text.push(' ');
            }
            text += &said;
        }
        text
    }

    fn write(&self, indent: usize, text: &mut String) {
        text.extend(std::iter::repeat_n(' ', indent));
        *text += &self.text();
        text.push('\n');
        for line in &self.below {
            line.write(indent + 2, text);
        }
    }

    /// Its figures and those below it.
    pub fn each_figure(&mut self, change: &mut dyn FnMut(&mut Figure)) {
        for piece in &mut self.pieces {
            if let Piece::Figure(figure) = piece {
                change(figure);
            }
        }
        for line in &mut self.below {
            line.each_figure(change);
        }
    }

    /// The figure that it opens with.
    fn first(&mut self) -> Option<&mut Figure> {
        self.pieces.iter_mut().find_map(|piece| match piece {
            Piece::Figure(figure) => Some(figure),
            Piece::Word(_) => None,
        })
    }

    /// The same line with a part of its amount.
    fn part(&self, part: f64) -> Self {
        let mut line = self.clone();
        if let Some(figure) = line.first() {
            figure.value *= part;
        }
        line
    }
}

impl Page {
    pub fn text(&self) -> String {
        let mut text = String::new();
        for line in &self.lines {
            line.write(0, &mut text);
        }
        text
    }

    pub fn each_figure(&mut self, change: &mut dyn FnMut(&mut Figure)) {
        for line in &mut self.lines {
            line.each_figure(change);
        }
    }

    pub fn figures(&self) -> Vec<Figure> {
        let mut all = Vec::new();
        self.clone()
            .each_figure(&mut |figure| all.push(figure.clone()));
        all
    }

    /// The same page with one of its figures moved.
    #[must_use]
    pub fn moved(&self, at: usize, moved: &dyn Fn(f64) -> f64) -> Self {
        let mut page = self.clone();
        let mut count = 0;
        page.each_figure(&mut |figure| {
            if count == at {
                figure.value = moved(figure.value);
            }
            count += 1;
        });
        page
    }

    /// Every figure in any of its units.
    #[must_use]
    pub fn in_other_units(&self, numbers: &mut Numbers) -> Self {
        let mut page = self.clone();
        page.each_figure(&mut |figure| {
            let count = figure.unit_count();
            figure.unit = (numbers.between(0.0, count as f64) as usize).min(count - 1);
        });
        page
    }

    /// Everything that grows with the brew, so many times.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        let mut page = self.clone();
        page.each_figure(&mut |figure| {
            if figure.grows {
                figure.value *= factor;
            }
        });
        page
    }

    /// The lines whose place says nothing in other places.
    #[must_use]
    pub fn in_other_order(&self, numbers: &mut Numbers) -> Self {
        let mut page = self.clone();
        shuffle(&mut page.lines, numbers);
        for line in &mut page.lines {
            shuffle(&mut line.below, numbers);
            for line in &mut line.below {
                shuffle(&mut line.below, numbers);
            }
        }
        page
    }

    /// One line as two, if there is one that can be, and its text.
    pub fn with_a_line_in_two(&self, numbers: &mut Numbers) -> Option<(Self, String)> {
        let parts: Vec<_> = (0..self.lines.len())
            .flat_map(|at| (0..self.lines[at].below.len()).map(move |below| (at, below)))
            .filter(|(at, below)| self.lines[*at].below[*below].parts)
            .collect();
        let chosen =
            (numbers.between(0.0, parts.len() as f64) as usize).min(parts.len().max(1) - 1);
        let (at, below) = *parts.get(chosen)?;
        let mut page = self.clone();
        let lines = &mut page.lines[at].below;
        let whole = lines[below].clone();
        let part = numbers.between(0.1, 0.9);
        lines[below] = whole.part(part);
        lines.insert(below + 1, whole.part(1.0 - part));
        Some((page, whole.text()))
    }
}

/// What floats goes anywhere; what does not keeps its order.
fn shuffle(lines: &mut Vec<Line>, numbers: &mut Numbers) {
    let (floating, mut others): (Vec<_>, Vec<_>) = std::mem::take(lines)
        .into_iter()
        .partition(|line| line.floats);
    for line in floating {
        let at = numbers.between(0.0, others.len() as f64 + 1.0) as usize;
        others.insert(at.min(others.len()), line);
    }
    *lines = others;
}

impl Line {
    /// Whether it opens the plant of a name.
    pub fn is_plant(&self, name: &str) -> bool {
        let text = self.text();
        text.starts_with("brewhouse ") && text.ends_with(name)
    }

    /// It and the lines below it, as they stand on a page.
    pub fn text_below(&self) -> String {
        let mut text = String::new();
        self.write(0, &mut text);
        text
    }
}
