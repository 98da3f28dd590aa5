//! What the brewer has, and ingredients of the brewer's own.

use super::super::figure::{Figure, Measure};
use super::super::page::Line;
use super::Draw;
use wortwright::notation::Block;
use wortwright::quantity::Dimension;

impl Draw {
    pub(super) fn stock_and_own(&mut self) -> Vec<Line> {
        let mut lines = Vec::new();
        if self.chance(0.4) {
            lines.push(self.stock());
        }
        if self.chance(0.1) {
            lines.extend(self.own());
        }
        lines
    }

    fn stock(&mut self) -> Line {
        let mut stock = self.line(Block::Text, "stock").floating();
        let mut used = std::mem::take(&mut self.used);
        used.sort_unstable();
        used.dedup();
        // A brewer who lacks something lacks one thing or another, and has something else.
        let lacking = if self.chance(0.25) {
            Some(self.between(0.0, used.len() as f64 - 0.01) as usize)
        } else {
            None
        };
        for (at, (name, kind)) in used.iter().enumerate() {
            let line = if lacking == Some(at) {
                self.line(Block::Stock, "none").word(*name)
            } else if self.chance(0.5) {
                self.line(Block::Stock, "any").word(*name)
            } else {
                self.held_lot(name, kind)
            };
            stock.below.push(line.floating());
        }
        stock
    }

    /// A lot with its amount, which may be too small, and figures of its own.
    fn held_lot(&mut self, name: &'static str, kind: &'static str) -> Line {
        self.note(Block::Stock, None);
        let litres = self.home_l;
        let mass = |draw: &mut Self, low: f64, high: f64| {
            draw.note(Block::Amount, Some(Dimension::Mass));
            draw.size(low * litres, high * litres, Measure::Mass)
        };
        match kind {
            "malt" => {
                let mass = mass(self, 0.1, 0.6);
                let line = Line::default().figure(mass).word(name);
                if self.chance(0.4) && !name.contains("EBC") {
                    let colour = self.of(4.0, 12.0, Measure::MaltColour);
                    self.plain_fact(line, "colour", colour)
                } else {
                    line
                }
            }
            "hop" => {
                let mass = mass(self, 0.002, 0.02);
                let mass = Figure { unit: 1, ..mass };
                let line = Line::default().figure(mass).word(name);
                if self.chance(0.6) {
                    let alpha = self.of(3.0, 14.0, Measure::Share);
                    self.fact(line, "alpha", alpha)
                } else {
                    line
                }
            }
            "juice" => {
                let count = self.between(1.0, 4.0).round();
                let size = self.size(0.3, 1.0, Measure::Volume);
                let times = self.say(Block::Amount, "x");
                let count = Figure::new(count, Measure::Number);
                let line = Line::default().figure(count).word(times).figure(size);
                self.facts_of_juice(line.word(name))
            }
            _ => {
                let mass = mass(self, 0.01, 0.1);
                Line::default().figure(mass).word(name)
            }
        }
    }

    /// A malt that the catalogue does not know, in stock alone: a candidate.
    fn own(&mut self) -> Vec<Line> {
        let mut own = self.line(Block::Text, "ingredient").word("Barn malt");
        let like = self.line(Block::Ingredient, "like").word("pale ale malt");
        own.below.push(like);
        self.note(Block::Ingredient, None);
        let extract = self.of(74.0, 82.0, Measure::Share);
        let colour = self.of(4.0, 12.0, Measure::MaltColour);
        let line = Line::default().figure(extract);
        let line = line.word(self.say(Block::Attribute, "extract dry"));
        self.say(Block::Attribute, "colour");
        own.below.push(line.word(",").figure(colour));
        vec![own.floating()]
    }
}
