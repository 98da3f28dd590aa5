//! The grist, in shares or in masses, and the mash.

use super::super::figure::{Figure, Measure};
use super::super::page::Line;
use super::{Draw, Way, round};
use wortwright::notation::Block;
use wortwright::quantity::Dimension;

const BASE: [&str; 8] = [
    "pale ale malt",
    "pilsner malt",
    "vienna malt",
    "light munich malt",
    "wheat malt",
    "two-row pale malt",
    "spelt malt",
    "rye malt",
];
const SPECIAL: [&str; 14] = [
    "caramel malt 50 EBC",
    "caramel malt 150 EBC",
    "caramel malt 240 EBC",
    "biscuit malt",
    "melanoidin malt",
    "amber malt",
    "chocolate malt",
    "black malt",
    "roasted barley",
    "flaked oats",
    "flaked barley",
    "flaked maize",
    "dark munich malt",
    "dextrin malt",
];
const SUGARS: [&str; 7] = [
    "sucrose",
    "honey",
    "lactose",
    "dextrose",
    "dark candi syrup",
    "golden syrup",
    "maltodextrin",
];
const EXTRACTS: [&str; 3] = [
    "dried malt extract",
    "dried wheat malt extract",
    "liquid malt extract",
];

impl Draw {
    /// Shares of the fermentables, the mashed ones first, that make 100 %; the second number is how many are mashed.
    fn shares(&mut self) -> (Vec<(&'static str, f64)>, usize) {
        let mut shares = Vec::new();
        let mut rest = 100.0;
        let base = self.one_of(&BASE);
        for names in [&SPECIAL[..]; 3] {
            let name = self.one_of(names);
            if self.chance(0.55) && shares.iter().all(|(other, _)| *other != name) {
                let most = if name.contains("black") || name.contains("choc") {
                    5.0
                } else {
                    12.0
                };
                let share = self.between(1.0, most);
                rest -= share;
                shares.push((name, share));
            }
        }
        let second = self.one_of(&BASE);
        if second != base && self.chance(0.4) {
            let share = self.between(5.0, 35.0);
            rest -= share;
            shares.push((second, share));
        }
        let mut kettle = Vec::new();
        if self.chance(0.4) {
            let share = self.between(2.0, 12.0);
            rest -= share;
            kettle.push((self.one_of(&SUGARS), share));
        }
        if self.chance(0.1) {
            let share = self.between(3.0, 12.0);
            rest -= share;
            kettle.push((self.one_of(&EXTRACTS), share));
        }
        shares.insert(0, (base, round_tenth(rest)));
        let mashed = shares.len();
        shares.extend(kettle);
        (shares, mashed)
    }

    /// The mash and, for the boil, what of the fermentables goes there.
    pub(super) fn mash(&mut self) -> Vec<Line> {
        if self.way == Way::Extract {
            return Vec::new();
        }
        let (shares, mashed) = self.shares();
        let mut mash = self.line(Block::Text, "mash");
        for (name, share) in &shares[..mashed] {
            self.note(Block::Mash, None);
            let line = self.amount_of(*share).word(*name);
            let line = self.facts_of_malt(line);
            self.used.push((*name, "malt"));
            mash.below.push(line.floating().parting().tagged("malt"));
        }
        self.kettle_fermentables(&shares[mashed..]);
        if self.chance(0.1) {
            let dose = self.size(0.02 * self.batch_l, 0.1 * self.batch_l, Measure::Mass);
            let dose = Figure {
                value: round(dose.value / 1000.0),
                unit: 1,
                ..dose
            };
            self.note(Block::Amount, Some(Dimension::Mass));
            let salt = self.one_of(&["gypsum", "calcium chloride dihydrate", "lactic acid 80 %"]);
            mash.below
                .push(Line::default().figure(dose).word(salt).floating());
        }
        if self.chance(0.3) {
            let rest = self.rest(50.0, 56.0, true);
            mash.below.push(rest);
        }
        let rest = self.rest(62.0, 70.0, true);
        mash.below.push(rest);
        if self.chance(0.3) {
            let rest = self.rest(71.0, 74.0, true);
            mash.below.push(rest);
        }
        if self.chance(0.3) {
            let rest = self.rest(76.0, 78.0, true);
            mash.below.push(rest);
        }
        if self.chance(0.3) {
            let ratio = self.of(2.5, 4.5, Measure::LitresPerKilogram);
            let line = self.line(Block::Mash, "mash in").figure(ratio);
            mash.below.push(line.floating());
        }
        if self.chance(0.15) {
            let litres = self.size(0.3 * self.batch_l, 0.7 * self.batch_l, Measure::Volume);
            let at = self.of(74.0, 79.0, Measure::Temperature);
            let line = self.line(Block::Mash, "sparge").figure(litres);
            mash.below.push(line.word("at").figure(at).floating());
        }
        if self.chance(0.25) {
            let ph = self.of(5.2, 5.6, Measure::Ph);
            let line = self.line(Block::Mash, "pH").figure(ph);
            mash.below.push(line.floating());
        }
        vec![mash]
    }

    fn rest(&mut self, low: f64, high: f64, may_say: bool) -> Line {
        let at = self.of(low, high, Measure::Temperature);
        let time = self.of(10.0, 70.0, Measure::Minutes);
        let line = self.line(Block::Mash, "rest").figure(at);
        let line = line.word("for").figure(time);
        if may_say && self.chance(0.3) {
            let way = self.one_of(&["by heat", "by infusion", "by decoction"]);
            return line.word(self.say(Block::RestHeating, way));
        }
        line
    }

    /// A share, or the mass that it is of a grist of the batch.
    fn amount_of(&mut self, share: f64) -> Line {
        if self.way == Way::Printed {
            let line = Line::default().figure(Figure::new(share, Measure::Share));
            if self.chance(0.05) {
                return line.word(self.say(Block::Amount, "by weight"));
            }
            self.note(Block::Amount, Some(Dimension::Percent));
            return line;
        }
        self.note(Block::Amount, Some(Dimension::Mass));
        // 0.75 of the mass reaches the wort, about.
        let kg = self.batch_l * self.plato / 100.0 * 1.05 / 0.75 * share / 100.0;
        Line::default().figure(Figure {
            grows: true,
            role: "fermentable",
            ..Figure::new(round(kg), Measure::Mass)
        })
    }

    fn facts_of_malt(&mut self, mut line: Line) -> Line {
        if self.chance(0.4) {
            let colour = self.of(3.0, 14.0, Measure::MaltColour);
            let named = line.text();
            // A shade that a name states is its own.
            if !named.contains("EBC") {
                let times =
                    if named.contains("black") || named.contains("roast") || named.contains("choc")
                    {
                        70.0
                    } else {
                        1.0
                    };
                let colour = Figure {
                    value: colour.value * times,
                    role: "malt colour",
                    ..colour
                };
                line = self.plain_fact(line, "colour", colour);
            }
        }
        if self.chance(0.25) {
            let share = self.of(74.0, 82.0, Measure::Share);
            line = if self.chance(0.5) {
                self.fact(line, "extract dry", share)
            } else {
                let share = Figure {
                    value: share.value - 4.0,
                    ..share
                };
                self.fact(line, "extract as is", share)
            };
        }
        if self.chance(0.2) {
            let share = self.of(3.0, 6.0, Measure::Share);
            line = self.fact(line, "moisture", share);
        }
        if self.chance(0.08) {
            let power = self.of(150.0, 350.0, Measure::DiastaticPower);
            line = self.plain_fact(line, "diastatic power", power);
        }
        if self.chance(0.06) {
            let share = self.of(9.0, 12.0, Measure::Share);
            line = self.fact(line, "protein", share);
        }
        if self.chance(0.06) {
            let share = self.of(70.0, 84.0, Measure::Share);
            line = self.fact(line, "fermentable", share);
        }
        if self.chance(0.06) {
            let ph = self.of(5.5, 5.9, Measure::Ph);
            let word = self.say(Block::Attribute, "pH");
            line = line.word(format!(", {word}")).figure(ph);
        }
        line
    }

    /// Sugars and extracts, for the boil.
    fn kettle_fermentables(&mut self, shares: &[(&'static str, f64)]) {
        for (name, share) in shares {
            let line = self.amount_of(*share).word(*name);
            self.kettle_item(line, name);
        }
    }

    /// An extract beer's sugars.
    pub(super) fn extracts(&mut self) {
        let first = self.one_of(&EXTRACTS);
        let kg = self.batch_l * self.plato / 100.0 * 1.05;
        let sugar = self.between(0.0, 0.2) * kg;
        for (name, kg) in [(first, kg - sugar), (self.one_of(&SUGARS), sugar)] {
            if kg > 0.01 {
                self.note(Block::Amount, Some(Dimension::Mass));
                let figure = Figure {
                    grows: true,
                    role: "fermentable",
                    ..Figure::new(round(kg), Measure::Mass)
                };
                let line = Line::default().figure(figure).word(name);
                self.kettle_item(line, name);
            }
        }
    }

    fn kettle_item(&mut self, mut line: Line, name: &'static str) {
        self.note(Block::Boil, None);
        let is_extract = name.contains("extract");
        if self.chance(0.3) {
            let colour = if is_extract { (6.0, 20.0) } else { (1.0, 60.0) };
            let colour = self.of(colour.0, colour.1, Measure::MaltColour);
            let basis = if is_extract {
                "in a 10 % solution"
            } else {
                "full strength"
            };
            let word = match self.one_of(&[basis, basis, "per lb/gal", "undiluted"]) {
                "undiluted" if is_extract => basis,
                word => word,
            };
            line = line.word(",").figure(colour);
            line = line.word(self.say(Block::Attribute, word));
        }
        if name == "honey" && self.chance(0.6) {
            let share = self.of(76.0, 82.0, Measure::Share);
            line = self.fact(line, "extract", share);
        }
        if self.chance(0.15) && !is_extract {
            let share = self.of(70.0, 98.0, Measure::Share);
            line = self.fact(line, "fermentable", share);
        }
        let at = self.of(0.0, 48.0, Measure::Minutes);
        let line = line.word(self.say(Block::Timing, "at")).figure(at);
        self.used.push((name, "sugar"));
        self.kettle.push(line.floating().parting().tagged("sugar"));
    }
}

/// What is left of 100, to a tenth, through its text.
fn round_tenth(value: f64) -> f64 {
    format!("{value:.4}").parse().unwrap_or(value)
}
