//! What happens in the fermenter and at packaging.

use super::super::figure::{Figure, Measure};
use super::super::page::Line;
use super::{Draw, round};
use wortwright::notation::Block;
use wortwright::quantity::Dimension;

pub(super) const JUICES: [&str; 7] = [
    "sour cherry juice",
    "plum juice",
    "sweet apple juice",
    "redcurrant juice",
    "elderberry juice",
    "raspberry juice",
    "pear juice",
];
const FRUIT: [(&str, &[&str]); 4] = [
    ("raspberry", &["thawed", "puree", "pressed"]),
    ("blackberry", &["thawed", "puree", "pressed"]),
    ("sour cherry", &["thawed", "pitted"]),
    ("apple", &["chopped", "pressed"]),
];
const YEASTS: [&str; 7] = [
    "american ale yeast",
    "english ale yeast",
    "german lager yeast",
    "farmhouse ale yeast",
    "wheat beer yeast",
    "abbey ale yeast",
    "house yeast",
];

impl Draw {
    pub(super) fn cellar(&mut self) -> Vec<Line> {
        let mut ferment = self.line(Block::Text, "ferment");
        let pitched = self.pitched();
        ferment.below.push(pitched);
        if self.chance(0.08) {
            let litres = self.size(0.05 * self.batch_l, 0.2 * self.batch_l, Measure::Volume);
            self.note(Block::Amount, Some(Dimension::Volume));
            let line = self.line(Block::Ferment, "top up with").figure(litres);
            ferment.below.push(line.word("water").floating());
        }
        if self.chance(0.6) {
            for often in [1.0, 0.3] {
                if self.chance(often) {
                    let line = self.hold();
                    ferment.below.push(line);
                }
            }
        }
        if self.chance(0.35) {
            let line = self.later_addition();
            ferment.below.push(line.floating());
        }
        if self.chance(0.2) {
            let line = self.dry_hop();
            ferment.below.push(line);
        }
        if self.chance(0.08) {
            let line = self.line(Block::Ferment, "pitch");
            let grams = self.size(0.2 * self.batch_l, 0.5 * self.batch_l, Measure::Mass);
            let grams = Figure {
                value: grams.value / 1000.0,
                unit: 1,
                ..grams
            };
            let line = line.figure(grams).word("brettanomyces bruxellensis");
            let day = self.day(7, 14);
            ferment
                .below
                .push(line.word(self.say(Block::Timing, "on day")).figure(day));
        }
        let mut lines = vec![ferment];
        if self.chance(0.75) {
            lines.push(self.package());
        }
        lines
    }

    fn day(&mut self, low: u32, high: u32) -> Figure {
        let day = self.between(f64::from(low), f64::from(high)).round();
        Figure::new(day, Measure::Number)
    }

    fn pitched(&mut self) -> Line {
        let mut line = self.line(Block::Ferment, "pitch");
        if self.chance(0.15) {
            self.note(Block::Amount, Some(Dimension::Packs));
            line = line.figure(Figure {
                grows: true,
                ..Figure::new(1.0, Measure::Packs)
            });
        }
        line = line.word(self.one_of(&YEASTS));
        if line.text().contains("house yeast") || self.chance(0.5) {
            let share = self.of(68.0, 84.0, Measure::Share);
            let share = Figure {
                role: "attenuation",
                ..share
            };
            line = self.fact(line, "attenuation", share);
        }
        if self.chance(0.2) {
            let rate = self.of(0.6, 1.4, Measure::PitchRate);
            line = self.plain_fact(line, "pitch rate", rate);
        }
        if self.chance(0.6) {
            let at = self.of(10.0, 24.0, Measure::Temperature);
            line = line.word(self.say(Block::Timing, "at")).figure(at);
        }
        line
    }

    fn hold(&mut self) -> Line {
        let at = self.of(8.0, 24.0, Measure::Temperature);
        let days = self.of(2.0, 12.0, Measure::Number);
        let line = self.line(Block::Ferment, "hold").figure(at);
        line.word("for").figure(days).word("days")
    }

    /// When something goes in; nothing where nothing is said.
    fn when(&mut self, line: Line) -> Line {
        match self.one_of(&["when", "when", "on day", ""]) {
            "when" => {
                let plato = self.of(0.4 * self.plato, 0.8 * self.plato, Measure::Gravity);
                line.word(self.say(Block::Timing, "when")).figure(plato)
            }
            "on day" => {
                let day = self.day(2, 9);
                line.word(self.say(Block::Timing, "on day")).figure(day)
            }
            _ => line,
        }
    }

    fn later_addition(&mut self) -> Line {
        let what = self.one_of(&[
            "blend", "juice", "juice", "sugar", "fruit", "spirit", "bare",
        ]);
        let add = match what {
            "bare" => {
                self.note(Block::Ferment, None);
                Line::default()
            }
            _ => self.line(Block::Ferment, "add"),
        };
        match what {
            "blend" => {
                let share = self.of(4.0, 18.0, Measure::Share);
                let volume = self.say(Block::Amount, "by volume");
                let mut line = self.when(add.figure(share).word(volume));
                let first = self.between(30.0, 70.0);
                let both = [first, 100.0 - first];
                let names = [self.one_of(&JUICES[..3]), self.one_of(&JUICES[3..])];
                for (name, share) in names.into_iter().zip(both) {
                    self.note(Block::Amount, Some(Dimension::Percent));
                    self.used.push((name, "juice"));
                    let part = Line::default().figure(Figure::new(share, Measure::Share));
                    let part = self.facts_of_juice(part.word(name));
                    line.below.push(part.floating());
                }
                line
            }
            "juice" | "bare" => {
                let amount = self.liquid();
                let name = self.one_of(&JUICES);
                self.used.push((name, "juice"));
                let line = match amount {
                    (amount, Some(words)) => add.figure(amount).word(words),
                    (amount, None) => add.figure(amount),
                };
                let line = self.facts_of_juice(line.word(name));
                self.when(line).parting()
            }
            "sugar" => {
                let dose = self.of(5.0, 25.0, Measure::Dose);
                self.note(Block::Amount, Some(Dimension::Concentration));
                let name = self.one_of(&["sucrose", "honey", "lactose"]);
                self.when(add.figure(dose).word(name)).parting()
            }
            "fruit" => {
                let (name, forms) = FRUIT[(self.between(0.0, 3.99) as usize).min(3)];
                let dose = self.of(60.0, 250.0, Measure::Dose);
                self.note(Block::Amount, Some(Dimension::Concentration));
                let form = self.one_of(forms);
                let line = add.figure(dose).word(name).word(",");
                let line = line.word(self.say(Block::FruitForm, form));
                let day = self.day(4, 9);
                let line = line.word(self.say(Block::Timing, "on day")).figure(day);
                line.parting()
            }
            _ => {
                let litres = self.size(0.002 * self.batch_l, 0.02 * self.batch_l, Measure::Volume);
                self.note(Block::Amount, Some(Dimension::Volume));
                let strength = self.of(37.0, 60.0, Measure::Share);
                let line = self.fact(add.figure(litres).word("spirit"), "alcohol", strength);
                let day = self.day(5, 12);
                let line = line.word(self.say(Block::Timing, "on day")).figure(day);
                line.parting()
            }
        }
    }

    /// An amount of juice, with its words.
    fn liquid(&mut self) -> (Figure, Option<&'static str>) {
        match self.one_of(&["volume", "share", "dose", "mass"]) {
            "volume" => {
                self.note(Block::Amount, Some(Dimension::Volume));
                let litres = self.size(0.04 * self.batch_l, 0.15 * self.batch_l, Measure::Volume);
                (litres, None)
            }
            "share" => {
                let share = self.of(4.0, 15.0, Measure::Share);
                (share, Some(self.say(Block::Amount, "by volume")))
            }
            "dose" => {
                self.note(Block::Amount, Some(Dimension::VolumePerVolume));
                (self.of(30.0, 150.0, Measure::LiquidDose), None)
            }
            _ => {
                self.note(Block::Amount, Some(Dimension::Mass));
                let kg = self.size(0.04 * self.batch_l, 0.15 * self.batch_l, Measure::Mass);
                (kg, None)
            }
        }
    }

    pub(super) fn facts_of_juice(&mut self, mut line: Line) -> Line {
        if self.chance(0.6) {
            let brix = self.of(9.0, 16.0, Measure::Brix);
            line = self.plain_fact(line, "brix", brix);
        }
        if self.chance(0.2) {
            let ph = self.of(3.0, 3.9, Measure::Ph);
            let word = self.say(Block::Attribute, "pH");
            line = line.word(format!(", {word}")).figure(ph);
        }
        if self.chance(0.15) {
            let acid = self.of(4.0, 15.0, Measure::Dose);
            line = self.fact(line, "acidity", acid);
        }
        if self.chance(0.08) {
            let so2 = self.milligrams(5.0, 40.0);
            line = self.fact(line, "SO2", so2);
        }
        if self.chance(0.05) {
            let sorbate = self.milligrams(20.0, 150.0);
            line = self.fact(line, "sorbate", sorbate);
        }
        line
    }

    fn dry_hop(&mut self) -> Line {
        let dose = self.of(1.0, 8.0, Measure::Dose);
        self.note(Block::Amount, Some(Dimension::Concentration));
        let name = self.one_of(&super::hot_side::HOPS);
        let line = self.line(Block::Ferment, "add").figure(dose).word(name);
        let line = self.facts_of_hop(line);
        let day = self.day(4, 9);
        let line = line.word(self.say(Block::Timing, "on day")).figure(day);
        let days = self.of(2.0, 5.0, Measure::Number);
        let line = line.word(self.say(Block::Timing, "for")).figure(days);
        line.word("days").floating().parting()
    }

    fn package(&mut self) -> Line {
        let mut package = self.line(Block::Text, "package");
        let container = self.one_of(&["keg", "bottle"]);
        let mut line = Line::of(self.say(Block::Package, container));
        let gas = self.of(3.6, 5.4, Measure::Gas);
        let at = self.of(2.0, 20.0, Measure::Temperature);
        let how = self.one_of(&["carbonate", "carbonate", "prime to", "", "at"]);
        line = match how {
            "" => line,
            "at" => line
                .word(",")
                .word(self.say(Block::Package, "at"))
                .figure(at),
            how => {
                let line = line
                    .word(",")
                    .word(self.say(Block::Package, how))
                    .figure(gas);
                if self.chance(0.7) {
                    line.word("at").figure(at)
                } else {
                    line
                }
            }
        };
        package.below.push(line);
        if how.is_empty() && self.chance(0.5) {
            let kg = round(self.between(3.0, 7.0) * self.batch_l / 1000.0);
            let grams = Figure {
                grows: true,
                unit: 1,
                ..Figure::new(kg, Measure::Mass)
            };
            self.note(Block::Amount, Some(Dimension::Mass));
            let line = self.line(Block::Package, "prime with").figure(grams);
            package.below.push(line.word("table sugar").floating());
        }
        if self.chance(0.05) {
            let litres = self.size(0.01 * self.batch_l, 0.05 * self.batch_l, Measure::Volume);
            self.note(Block::Amount, Some(Dimension::Volume));
            let line = self.line(Block::Package, "add").figure(litres);
            package
                .below
                .push(line.word("plum juice, 12 Bx").floating());
        }
        package
    }
}
