//! Beers as somebody might print them: a recipe, the plant that it was brewed on, the plant that is to brew it, what there is
//! in stock and how it fermented, each line drawn from a row of the grammar.

mod cellar;
mod grist;
mod hot_side;
mod log;
mod plant;
mod stock;

use super::figure::{Figure, Measure};
use super::page::{Line, Page};
use super::rows::Drawn;
use crate::brewing::Numbers;
use wortwright::notation::Block;
use wortwright::quantity::Dimension;

/// A drawn beer.
#[derive(Debug)]
pub struct Beer {
    pub page: Page,
    /// Whether its lines have masses and nothing of it is a target, so that its figures are those of its amounts.
    pub is_weighed: bool,
    /// Whether the plant that it was brewed on has a batch and could brew it again.
    pub is_brewed_again: bool,
    pub drawn: Drawn,
}

/// How the recipe says its grist.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// Shares, targets, and a large plant.
    Printed,
    /// Masses and a small plant.
    Weighed,
    /// Masses of extract and sugar, nothing mashed.
    Extract,
}

/// What is drawn so far.
pub(super) struct Draw {
    numbers: Numbers,
    drawn: Drawn,
    way: Way,
    /// Litres into the fermenter on the plant of the recipe.
    batch_l: f64,
    /// The same at home.
    home_l: f64,
    plato: f64,
    /// What of the fermentables goes into the boil.
    kettle: Vec<Line>,
    /// Names of what the recipe uses, for the stock.
    used: Vec<(&'static str, &'static str)>,
    has_targets: bool,
}

/// The beer of a seed.
pub fn beer(seed: u64) -> Beer {
    // Seeds that follow each other are far apart in the sequence.
    let mut numbers = Numbers(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x5851_F42D_4C95_7F2D);
    numbers.between(0.0, 1.0);
    let way = match numbers.between(0.0, 1.0) {
        ..0.5 => Way::Printed,
        ..0.88 => Way::Weighed,
        _ => Way::Extract,
    };
    let mut draw = Draw {
        batch_l: round(match way {
            Way::Printed => numbers.between(500.0, 4000.0),
            _ => numbers.between(10.0, 60.0),
        }),
        home_l: round(numbers.between(5.0, 40.0)),
        plato: round(numbers.between(9.0, 19.0)),
        numbers,
        drawn: Drawn::default(),
        way,
        kettle: Vec::new(),
        used: Vec::new(),
        has_targets: false,
    };
    let mut lines = draw.head();
    lines.extend(draw.mash());
    lines.extend(draw.hot_side());
    lines.extend(draw.cellar());
    lines.extend(draw.plants());
    lines.extend(draw.stock_and_own());
    lines.extend(draw.logs());
    Beer {
        page: Page { lines },
        is_weighed: way != Way::Printed && !draw.has_targets,
        is_brewed_again: true,
        drawn: draw.drawn,
    }
}

/// Four digits of which the last is a seven: nothing stands on a bound that something is told from, such as 18 °P.
pub(super) fn round(value: f64) -> f64 {
    if value == 0.0 {
        return 0.0;
    }
    let scale = 10_f64.powf(2.0 - value.abs().log10().floor());
    // Through its text, so that 0.3 is 0.3.
    format!("{:.7}", ((value * scale).round() + 0.7) / scale)
        .parse()
        .unwrap_or(value)
}

impl Draw {
    pub(super) fn say(&mut self, block: Block, word: &str) -> &'static str {
        self.drawn.say(&mut self.numbers, block, word)
    }

    pub(super) fn note(&mut self, block: Block, dimension: Option<Dimension>) {
        self.drawn.note(block, dimension);
    }

    pub(super) fn between(&mut self, low: f64, high: f64) -> f64 {
        round(self.numbers.between(low, high))
    }

    pub(super) fn chance(&mut self, part: f64) -> bool {
        self.numbers.between(0.0, 1.0) < part
    }

    pub(super) fn one_of(&mut self, choices: &[&'static str]) -> &'static str {
        let at = self.numbers.between(0.0, choices.len() as f64) as usize;
        choices[at.min(choices.len() - 1)]
    }

    pub(super) fn of(&mut self, low: f64, high: f64, measure: Measure) -> Figure {
        Figure::new(self.between(low, high), measure)
    }

    /// A figure of the brew's size.
    pub(super) fn size(&mut self, low: f64, high: f64, measure: Measure) -> Figure {
        Figure {
            grows: true,
            ..self.of(low, high, measure)
        }
    }

    /// A line of a block that opens with one of the words of a row.
    pub(super) fn line(&mut self, block: Block, word: &str) -> Line {
        Line::of(self.say(block, word))
    }

    /// A figure of an ingredient behind a comma, its word before it or behind it.
    pub(super) fn fact(&mut self, line: Line, word: &str, figure: Figure) -> Line {
        let said = self.say(Block::Attribute, word);
        if said != "ABV" && said != "vol" && self.chance(0.3) {
            line.word(format!(", {said}")).figure(figure)
        } else {
            line.word(",").figure(figure).word(said)
        }
    }

    /// A figure that its unit tells.
    pub(super) fn plain_fact(&mut self, line: Line, word: &str, figure: Figure) -> Line {
        if self.chance(0.7) {
            self.say(Block::Attribute, word);
            line.word(",").figure(figure)
        } else {
            let said = self.say(Block::Attribute, word);
            line.word(format!(", {said}")).figure(figure)
        }
    }

    /// What the recipe says before the mash.
    fn head(&mut self) -> Vec<Line> {
        let mut lines = vec![self.line(Block::Text, "recipe").word("Drawn beer")];
        if self.chance(0.2) {
            let source = self
                .line(Block::Text, "source")
                .word("a page of a notebook");
            lines.push(source.floating());
        }
        lines.push(self.line(Block::Text, "brewed on").word("Works").floating());
        let litres = Figure {
            grows: true,
            ..Figure::new(self.batch_l, Measure::Volume)
        };
        let batch = self.line(Block::Text, "batch").figure(litres);
        let point = self.one_of(&[
            "into fermenter",
            "into fermenter",
            "at end of boil",
            "packaged",
        ]);
        let batch = batch.word(self.say(Block::BatchPoint, point));
        lines.push(batch.floating());
        lines.extend(self.targets());
        if self.way == Way::Printed && self.chance(0.5) {
            let basis = self.one_of(&["by weight", "by weight", "by extract"]);
            let shares = self.line(Block::Text, "shares");
            lines.push(shares.word(self.say(Block::ShareBasis, basis)).floating());
        }
        if self.chance(0.4) {
            let mut water = self.line(Block::Text, "water");
            for (at, ion) in self.ions().into_iter().enumerate() {
                let comma = if at == 0 { "" } else { "," };
                water = water.word(comma).word(ion.0).figure(ion.1);
            }
            lines.push(water.floating());
        }
        lines
    }

    /// The ions of a water.
    pub(super) fn ions(&mut self) -> Vec<(&'static str, Figure)> {
        let mut ions = Vec::new();
        for (ion, most) in [
            ("calcium", 120.0),
            ("magnesium", 30.0),
            ("sodium", 60.0),
            ("potassium", 10.0),
            ("sulphate", 150.0),
            ("chloride", 120.0),
        ] {
            if self.chance(0.8) {
                let figure = self.milligrams(1.0, most);
                ions.push((self.say(Block::Water, ion), figure));
            }
        }
        let last = self.one_of(&["alkalinity", "bicarbonate"]);
        let figure = self.milligrams(5.0, 180.0);
        ions.push((self.say(Block::Water, last), figure));
        ions
    }

    pub(super) fn milligrams(&mut self, low: f64, high: f64) -> Figure {
        let figure = self.of(low, high, Measure::Dose);
        Figure {
            value: figure.value / 1000.0,
            unit: 2,
            ..figure
        }
    }

    fn targets(&mut self) -> Option<Line> {
        let printed = self.way == Way::Printed;
        if !printed && !self.chance(0.2) {
            return None;
        }
        self.has_targets = true;
        let mut line = self.line(Block::Text, "target");
        let final_plato = round(self.plato * self.between(0.17, 0.3));
        let alcohol = round((self.plato - final_plato) * 0.54);
        let mut figures = Vec::new();
        if printed {
            figures.push(("original", Figure::new(self.plato, Measure::Gravity)));
        }
        let how = self.one_of(&["final", "wort final", "alcohol", "wort alcohol", ""]);
        match how {
            "" => {}
            "alcohol" | "wort alcohol" => figures.push((how, Figure::new(alcohol, Measure::Share))),
            _ => figures.push((how, Figure::new(final_plato, Measure::Gravity))),
        }
        for (word, low, high, measure, often) in [
            ("bitterness", 10.0, 60.0, Measure::Bitterness, 0.5),
            ("wort bitterness", 10.0, 60.0, Measure::Bitterness, 0.1),
            ("colour", 6.0, 80.0, Measure::BeerColour, 0.5),
            ("wort colour", 6.0, 80.0, Measure::BeerColour, 0.1),
            ("carbonation", 3.5, 6.0, Measure::Gas, 0.3),
        ] {
            if self.chance(often) {
                let figure = self.of(low, high, measure);
                figures.push((word, figure));
            }
        }
        if figures.is_empty() {
            figures.push(("bitterness", Figure::new(30.0, Measure::Bitterness)));
        }
        for (at, (word, figure)) in figures.into_iter().enumerate() {
            let comma = if at == 0 { "" } else { "," };
            line = line.word(comma).word(self.say(Block::Target, word));
            line = line.figure(figure);
        }
        Some(line.floating())
    }
}
