//! How a beer fermented.

use super::super::figure::{Figure, Measure};
use super::super::page::Line;
use super::Draw;
use wortwright::notation::Block;
use wortwright::quantity::Dimension;

impl Draw {
    pub(super) fn logs(&mut self) -> Vec<Line> {
        let mut lines = Vec::new();
        if self.chance(0.3) {
            lines.push(self.log("first brew"));
            if self.chance(0.2) {
                lines.push(self.log("second brew"));
            }
        }
        lines
    }

    fn on_day(&mut self, line: Line, day: f64) -> Line {
        let word = self.say(Block::Timing, "on day");
        line.word(word).figure(Figure::new(day, Measure::Number))
    }

    fn log(&mut self, name: &'static str) -> Line {
        let mut log = self.line(Block::Text, "log").word(name).floating();
        let litres = self.home_l;
        let plato = self.plato;
        if self.chance(0.4) {
            let ph = self.of(5.2, 5.7, Measure::Ph);
            let line = self.line(Block::Log, "mash pH").figure(ph);
            log.below.push(line);
        }
        for (word, volume, strength) in [
            ("first wort", 0.8, 1.1),
            ("before boil", 1.3, 0.8),
            ("after boil", 1.1, 1.0),
        ] {
            if self.chance(0.4) {
                let size = self.size(
                    0.97 * volume * litres,
                    1.03 * volume * litres,
                    Measure::Volume,
                );
                let gravity = self.of(
                    0.97 * strength * plato,
                    1.03 * strength * plato,
                    Measure::Gravity,
                );
                let line = self.line(Block::Log, word).figure(size);
                log.below.push(line.word("at").figure(gravity));
            }
        }
        let size = self.size(0.95 * litres, litres, Measure::Volume);
        let pitched = self.of(0.97 * plato, 1.03 * plato, Measure::Gravity);
        let line = self.line(Block::Log, "pitched").figure(size.clone());
        let line = line.word("at").figure(pitched.clone());
        let line = self.on_day(line, 0.0);
        log.below.push(line);
        let half = self.of(0.4 * plato, 0.6 * plato, Measure::Gravity);
        let line = self.reading(half, 3.0);
        log.below.push(line);
        if self.chance(0.5) {
            let drawn = self.size(0.01 * litres, 0.03 * litres, Measure::Volume);
            let line = self.line(Block::Log, "drawn").figure(drawn);
            let line = self.on_day(line, 3.0);
            log.below.push(line);
        }
        if self.chance(0.4) {
            self.note(Block::Amount, Some(Dimension::Volume));
            let juice = self.size(0.03 * litres, 0.12 * litres, Measure::Volume);
            let line = self.line(Block::Log, "added").figure(juice);
            let line = self.facts_of_juice(line.word("plum juice"));
            let line = self.on_day(line, 4.0);
            log.below.push(line);
        }
        let last = self.of(0.15 * plato, 0.25 * plato, Measure::Gravity);
        let line = self.reading(last, 14.0);
        log.below.push(line);
        log
    }

    fn reading(&mut self, gravity: Figure, day: f64) -> Line {
        let line = self.line(Block::Log, "reading");
        let line = match self.one_of(&["", "", "hydrometer", "refractometer"]) {
            "hydrometer" => {
                let at = self.of(15.0, 25.0, Measure::Temperature);
                let by = self.say(Block::Instrument, "by hydrometer");
                line.figure(gravity).word(by).word("at").figure(at)
            }
            "refractometer" => {
                // What a refractometer shows of a beer that a hydrometer shows at that (roughly).
                let brix = Figure::new(
                    super::round(0.55 * gravity.value + 0.45 * self.plato),
                    Measure::Brix,
                );
                line.figure(brix)
                    .word(self.say(Block::Instrument, "by refractometer"))
            }
            _ => line.figure(gravity),
        };
        self.on_day(line, day)
    }
}
