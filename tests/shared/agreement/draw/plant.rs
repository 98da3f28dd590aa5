//! The plant that the recipe was printed for, and the one at home.

use super::super::figure::{Figure, Measure};
use super::super::page::Line;
use super::{Draw, Way, round};
use wortwright::notation::Block;

impl Draw {
    pub(super) fn plants(&mut self) -> Vec<Line> {
        let works_l = self.batch_l;
        let works = self.plant("Works", works_l, self.way == Way::Printed);
        let home_l = self.home_l;
        let home = self.plant("Home", home_l, false);
        vec![works, home]
    }

    fn plant(&mut self, name: &'static str, litres: f64, is_large: bool) -> Line {
        let mut plant = self.line(Block::Text, "brewhouse").word(name).floating();
        let batch = Figure {
            grows: true,
            role: "batch",
            ..Figure::new(litres, Measure::Volume)
        };
        let line = self.line(Block::Brewhouse, "batch").figure(batch);
        let point = self.one_of(&[
            "into fermenter",
            "into fermenter",
            "at end of boil",
            "packaged",
        ]);
        let line = line.word(self.say(Block::BatchPoint, point));
        let mut lines = vec![line];
        self.vessels(litres, &mut lines);
        if self.way == Way::Extract {
            let line = if self.chance(0.7) {
                self.line(Block::Brewhouse, "no mash")
            } else {
                let line = self.line(Block::Brewhouse, "lauter");
                line.word(self.say(Block::Lauter, "none"))
            };
            lines.push(line);
        } else {
            self.lauter(litres, is_large, &mut lines);
            self.mashing(litres, &mut lines);
        }
        self.boiling(litres, &mut lines);
        self.cooling(is_large, &mut lines);
        if !is_large && self.chance(0.6) {
            let line = self.weighing(litres);
            lines.push(line);
        }
        if self.way != Way::Extract && self.chance(0.4) {
            let mut line = self.line(Block::Brewhouse, "water");
            for (at, ion) in self.ions().into_iter().enumerate() {
                let comma = if at == 0 { "" } else { "," };
                line = line.word(comma).word(ion.0).figure(ion.1);
            }
            if self.chance(0.4) {
                let ph = self.of(6.8, 8.2, Measure::Ph);
                let word = self.say(Block::WaterReport, "pH");
                line = line.word(",").word(word).figure(ph);
            }
            lines.push(line);
        }
        plant.below = lines.into_iter().map(Line::floating).collect();
        plant
    }

    fn figure_line(&mut self, word: &str, figure: Figure) -> Line {
        self.line(Block::Brewhouse, word).figure(figure)
    }

    fn vessels(&mut self, litres: f64, lines: &mut Vec<Line>) {
        for (word, low, high) in [
            ("mash tun", 1.4, 2.2),
            ("kettle", 1.4, 2.2),
            ("fermenter", 1.2, 2.0),
        ] {
            if self.chance(0.3) && (word != "mash tun" || self.way != Way::Extract) {
                let size = self.size(low * litres, high * litres, Measure::Volume);
                let line = self.figure_line(word, size);
                lines.push(line);
            }
        }
    }

    fn lauter(&mut self, litres: f64, is_large: bool, lines: &mut Vec<Line>) {
        let ways: &[&str] = if is_large {
            &["continuous", "continuous, yield", "yield", "yield", "batch"]
        } else {
            &[
                "bag",
                "bag",
                "bag, sparge",
                "batch",
                "batch",
                "continuous, yield",
                "yield",
                "of grist",
                "in fermenter",
            ]
        };
        match self.one_of_slice(ways) {
            "bag" => {
                let line = self.line(Block::Brewhouse, "lauter");
                lines.push(line.word(self.say(Block::Lauter, "bag")));
                self.held(lines);
            }
            "bag, sparge" => {
                let line = self.line(Block::Brewhouse, "lauter");
                let line = line.word(self.say(Block::Lauter, "bag")).word(",");
                let size = self.size(0.05 * litres, 0.25 * litres, Measure::Volume);
                let line = line
                    .word(self.say(Block::LauterFigure, "sparge"))
                    .figure(size);
                lines.push(line);
                self.held(lines);
            }
            "batch" => {
                let line = self.line(Block::Brewhouse, "lauter");
                let line = line.word(self.say(Block::Lauter, "batch")).word(",");
                let count = self.between(1.0, 3.0).round();
                let line = line.word(self.say(Block::LauterFigure, "sparges"));
                lines.push(line.figure(Figure::new(count, Measure::Number)));
                self.held(lines);
                if self.chance(0.4) {
                    let share = self.of(60.0, 99.0, Measure::Share);
                    let line = self.figure_line("sparge mixing", share);
                    lines.push(line);
                }
            }
            "continuous" => {
                let line = self.line(Block::Brewhouse, "lauter");
                lines.push(line.word(self.say(Block::Lauter, "continuous")));
            }
            "continuous, yield" => {
                let line = self.line(Block::Brewhouse, "lauter");
                let line = line.word(self.say(Block::Lauter, "continuous")).word(",");
                let share = self.of(80.0, 96.0, Measure::Share);
                let line = line
                    .word(self.say(Block::LauterFigure, "yield"))
                    .figure(share);
                lines.push(line);
                self.held(lines);
            }
            how => {
                let share = match how {
                    "of grist" => self.of(55.0, 70.0, Measure::Share),
                    _ => self.of(70.0, 95.0, Measure::Share),
                };
                let line = self.figure_line("extract yield", share);
                let line = match how {
                    "of grist" => line.word(self.say(Block::YieldBasis, "of grist")),
                    "in fermenter" => line.word(self.say(Block::YieldPoint, "in fermenter")),
                    _ => line,
                };
                lines.push(line);
            }
        }
    }

    fn one_of_slice(&mut self, choices: &[&'static str]) -> &'static str {
        self.one_of(choices)
    }

    fn held(&mut self, lines: &mut Vec<Line>) {
        if self.chance(0.6) {
            let word = self.one_of(&["absorption", "absorption", "retention"]);
            let ratio = Figure {
                role: "absorption",
                ..self.of(0.5, 1.1, Measure::LitresPerKilogram)
            };
            let line = self.figure_line(word, ratio);
            lines.push(line);
        }
        if self.chance(0.3) {
            let share = self.of(90.0, 99.0, Measure::Share);
            let line = self.figure_line("conversion", share);
            lines.push(line);
        }
    }

    fn mashing(&mut self, litres: f64, lines: &mut Vec<Line>) {
        if self.chance(0.25) {
            let ratio = self.of(2.4, 4.0, Measure::LitresPerKilogram);
            let line = self.figure_line("mash in", ratio);
            lines.push(line);
        }
        if self.chance(0.2) {
            let loss = self.size(0.005 * litres, 0.03 * litres, Measure::Volume);
            let line = self.figure_line("tun loss", loss);
            lines.push(line);
        }
        if self.chance(0.2) {
            let at = self.of(8.0, 24.0, Measure::Temperature);
            let line = self.figure_line("grain at", at);
            lines.push(line);
        }
        if self.chance(0.15) {
            let heat = self.size(0.05 * litres, 0.2 * litres, Measure::HeatCapacity);
            let line = self.figure_line("tun heat", heat);
            lines.push(line);
        }
        match self.one_of(&["", "", "direct", "infusion", "decoction", "none", "power"]) {
            "" => {}
            "power" => {
                let power = self.size(0.08 * litres, 0.25 * litres, Measure::Power);
                let line = self.figure_line("heat direct", power);
                lines.push(line);
            }
            way => {
                let line = self.line(Block::Brewhouse, "heat");
                lines.push(line.word(self.say(Block::Heating, way)));
            }
        }
    }

    fn boiling(&mut self, litres: f64, lines: &mut Vec<Line>) {
        if self.chance(0.7) {
            let line = if self.chance(0.6) {
                let rate = self.size(0.05 * litres, 0.14 * litres, Measure::LitresPerHour);
                let rate = Figure {
                    role: "evaporation",
                    ..rate
                };
                self.figure_line("evaporation", rate)
            } else {
                let share = self.of(4.0, 12.0, Measure::Share);
                let line = self.figure_line("evaporation", share);
                line.word(self.say(Block::Hourly, "per hour"))
            };
            lines.push(line);
        }
        for word in ["kettle loss", "fermenter loss"] {
            if self.chance(0.4) {
                let loss = self.size(0.01 * litres, 0.07 * litres, Measure::Volume);
                let line = self.figure_line(word, loss);
                lines.push(line);
            }
        }
        if self.chance(0.3) {
            let height = self.of(20.0, 1500.0, Measure::Altitude);
            let line = self.figure_line("altitude", height);
            lines.push(line);
        }
        if self.chance(0.4) {
            let model = self.one_of(&["tinseth", "kinetic", "kinetic"]);
            let line = self.line(Block::Brewhouse, "bitterness");
            lines.push(line.word(self.say(Block::BitternessModel, model)));
        }
        if self.chance(0.1) {
            let time = self.of(5.0, 30.0, Measure::Minutes);
            let line = self.figure_line("stand", time);
            lines.push(line);
        }
    }

    fn cooling(&mut self, is_large: bool, lines: &mut Vec<Line>) {
        if self.chance(0.1) {
            lines.push(self.line(Block::Brewhouse, "no chill"));
        } else if self.chance(0.6) {
            let to = self.of(12.0, 24.0, Measure::Temperature);
            let time = self.of(15.0, 60.0, Measure::Minutes);
            let line = self.figure_line("cool to", to);
            let line = line.word("in").figure(time);
            let way = if is_large { "through plate" } else { "by coil" };
            let line = if self.chance(0.5) {
                line.word(self.say(Block::Cooling, way))
            } else {
                line
            };
            lines.push(line);
        }
        if self.chance(0.2) {
            let at = self.of(5.0, 11.0, Measure::Temperature);
            let line = self.figure_line("coolant", at);
            lines.push(line);
        }
    }

    fn weighing(&mut self, litres: f64) -> Line {
        let mut line = self.line(Block::Brewhouse, "weigh");
        let mut comma = "";
        for (word, low, high) in [
            ("malt", 0.1, 1.0),
            ("hops", 0.005, 0.05),
            ("salts", 0.002, 0.02),
        ] {
            let grams = round(self.between(low, high) * litres);
            let step = Figure {
                grows: true,
                unit: 1,
                role: "step",
                ..Figure::new(grams / 1000.0, Measure::Mass)
            };
            line = line.word(comma).word(self.say(Block::Weighing, word));
            line = line.figure(step);
            comma = ",";
        }
        line
    }
}
