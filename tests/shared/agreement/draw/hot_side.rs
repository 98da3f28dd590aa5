//! Souring, the boil and what follows it until the wort is cold.

use super::super::figure::{Figure, Measure};
use super::super::page::Line;
use super::{Draw, Way, round};
use wortwright::notation::Block;
use wortwright::quantity::Dimension;

pub(super) const HOPS: [&str; 8] = [
    "saaz",
    "perle",
    "cascade",
    "northern brewer",
    "east kent golding",
    "magnum",
    "styrian golding",
    "hersbrucker",
];

impl Draw {
    pub(super) fn hot_side(&mut self) -> Vec<Line> {
        let mut lines = Vec::new();
        if self.chance(0.06) {
            lines.push(self.sour());
        }
        if self.way == Way::Extract {
            self.extracts();
        }
        let boil_min = self.between(50.0, 100.0);
        let time = Figure {
            role: "boil",
            ..Figure::new(boil_min, Measure::Minutes)
        };
        let mut boil = self.line(Block::Text, "boil").figure(time);
        boil.below.append(&mut self.kettle);
        let first = self.hop_line(true, boil_min);
        boil.below.push(first);
        for _ in 0..2 {
            if self.chance(0.6) {
                let line = self.hop_line(false, boil_min);
                boil.below.push(line);
            }
        }
        if self.chance(0.2) {
            let line = self.fining();
            boil.below.push(line);
        }
        lines.push(boil);
        if self.chance(0.35) {
            lines.extend(self.stands());
        }
        lines
    }

    fn sour(&mut self) -> Line {
        let days = self.of(1.0, 3.0, Measure::Number);
        let at = self.of(34.0, 42.0, Measure::Temperature);
        let line = self.line(Block::Text, "sour").word("for").figure(days);
        let line = line.word("days at").figure(at);
        let line = if self.chance(0.8) {
            let ph = self.of(3.2, 3.8, Measure::Ph);
            line.word("to pH").figure(ph)
        } else {
            line
        };
        let grams = self.size(0.2 * self.batch_l, 0.6 * self.batch_l, Measure::Mass);
        let grams = Figure {
            value: grams.value / 1000.0,
            unit: 1,
            ..grams
        };
        self.note(Block::Amount, Some(Dimension::Mass));
        let with = self.say(Block::Sour, "with");
        line.word(with).figure(grams).word("lactobacillus culture")
    }

    /// A charge of hops; the first is the one that makes it bitter.
    fn hop_line(&mut self, first: bool, boil_min: f64) -> Line {
        self.note(Block::Boil, None);
        let way = self.one_of(&["dose", "ibu", "mass"]);
        let amount = match way {
            "ibu" if first || self.chance(0.3) => {
                self.note(Block::Amount, Some(Dimension::Bitterness));
                let most = if first { 45.0 } else { 10.0 };
                self.of(most / 4.0, most, Measure::Bitterness)
            }
            "mass" => {
                self.note(Block::Amount, Some(Dimension::Mass));
                let grams = self.between(0.3, 2.0) * self.batch_l;
                Figure {
                    grows: true,
                    unit: 1,
                    role: if first { "first hop" } else { "hop" },
                    ..Figure::new(round(grams) / 1000.0, Measure::Mass)
                }
            }
            _ => {
                self.note(Block::Amount, Some(Dimension::Concentration));
                let figure = self.of(0.2, 2.0, Measure::Dose);
                Figure {
                    role: if first { "first hop" } else { "hop" },
                    ..figure
                }
            }
        };
        let name = self.one_of(&HOPS);
        self.used.push((name, "hop"));
        let is_by_ibu = amount.measure == Measure::Bitterness;
        let line = Line::default().figure(amount).word(name);
        let mut line = self.facts_of_hop(line);
        if first && !is_by_ibu {
            line.each_figure(&mut |figure| {
                if figure.role == "alpha" {
                    figure.role = "first alpha";
                }
            });
        }
        if first && self.chance(0.1) {
            let at = self.say(Block::Timing, "at first wort");
            return line.word(at).floating().parting().tagged("hop");
        }
        let at = if first {
            self.between(0.6 * boil_min, 0.97 * boil_min)
        } else {
            self.between(0.0, 0.5 * boil_min)
        };
        let at = Figure {
            role: if first && !is_by_ibu {
                "first left"
            } else {
                "left"
            },
            ..Figure::new(at, Measure::Minutes)
        };
        let line = line.word(self.say(Block::Timing, "at")).figure(at);
        line.floating().parting().tagged("hop")
    }

    pub(super) fn facts_of_hop(&mut self, mut line: Line) -> Line {
        if self.chance(0.5) {
            let form = self.one_of(&[
                "pellet", "pellet", "pellet", "whole", "whole", "fresh", "extract",
            ]);
            line = line.word(",").word(self.say(Block::HopForm, form));
        }
        if self.chance(0.8) {
            let alpha = self.of(3.0, 14.0, Measure::Share);
            let alpha = Figure {
                role: "alpha",
                ..alpha
            };
            line = self.fact(line, "alpha", alpha);
        }
        line
    }

    fn fining(&mut self) -> Line {
        self.note(Block::Boil, None);
        let at = self.of(5.0, 15.0, Measure::Minutes);
        let timing = self.say(Block::Timing, "at");
        let line = match self.one_of(&["dose", "spice", "unknown"]) {
            "dose" => {
                self.note(Block::Amount, Some(Dimension::Concentration));
                let dose = self.of(0.04, 0.1, Measure::Dose);
                Line::default().figure(dose).word("carrageenan")
            }
            "spice" => {
                self.note(Block::Amount, Some(Dimension::Concentration));
                let dose = self.of(0.2, 0.8, Measure::Dose);
                Line::default().figure(dose).word("coriander seed")
            }
            _ => {
                self.note(Block::Amount, Some(Dimension::Concentration));
                let dose = self.of(0.1, 0.5, Measure::Dose);
                let nothing = self.say(Block::Attribute, "brings nothing");
                let line = Line::default().figure(dose);
                line.word("juniper berries").word(",").word(nothing)
            }
        };
        line.word(timing).figure(at).floating()
    }

    fn stands(&mut self) -> Vec<Line> {
        let mut lines = Vec::new();
        let time = self.of(15.0, 45.0, Measure::Minutes);
        let at = self.of(82.0, 96.0, Measure::Temperature);
        let at = Figure {
            role: "stand",
            ..at
        };
        let stand = self.line(Block::Text, "stand").figure(time);
        let mut stand = stand.word("at").figure(at);
        if self.chance(0.7) {
            let line = self.stand_hop();
            stand.below.push(line);
        }
        lines.push(stand);
        if self.chance(0.3) {
            let at = self.of(65.0, 78.0, Measure::Temperature);
            let time = self.of(5.0, 20.0, Measure::Minutes);
            let cool = self.line(Block::Text, "cool to").figure(at.clone());
            lines.push(cool.word("in").figure(time));
            let time = self.of(15.0, 40.0, Measure::Minutes);
            let stand = self.line(Block::Text, "stand").figure(time);
            let mut stand = stand.word("at").figure(at);
            let line = self.stand_hop();
            stand.below.push(line);
            lines.push(stand);
        }
        lines
    }

    fn stand_hop(&mut self) -> Line {
        self.note(Block::Stand, None);
        let dose = self.of(0.3, 4.0, Measure::Dose);
        self.note(Block::Amount, Some(Dimension::Concentration));
        let name = self.one_of(&HOPS);
        self.used.push((name, "hop"));
        let line = Line::default().figure(dose).word(name);
        let mut line = self.facts_of_hop(line);
        if self.chance(0.6) {
            let time = self.of(5.0, 15.0, Measure::Minutes);
            line = line.word(self.say(Block::Timing, "for")).figure(time);
        }
        line.floating().parting().tagged("stand hop")
    }
}
