//! The facts of a stock and of a log.

use super::{Gathering, amount, figures, some, stated};
use crate::corpus::fact::{Amount, Figures};
use crate::corpus::measure::{Measure, Scale};
use wortwright::recipe::{Log, LogEntry, LogEvent, Lot, Stock};

impl Gathering<'_> {
    pub(super) fn stock(&mut self, stock: &Stock) {
        let words: Vec<String> = stock
            .lots
            .iter()
            .map(|lot| lot.ingredient().name.clone())
            .collect();
        let lines = self.lines.of_list("stock.lots", &words);
        for (lot, line) in stock.lots.iter().zip(lines) {
            let amount = match lot {
                Lot::Held(held) => stated(&held.amount),
                Lot::Any(_) => Amount::Word("any".into()),
                _ => Amount::Word("none".into()),
            };
            let nothing = Figures::new();
            self.ingredient(
                line,
                "stock",
                lot.ingredient(),
                amount,
                Figures::new(),
                &nothing,
            );
        }
    }

    pub(super) fn log(&mut self, log: &Log) {
        let path = format!("logs[{}]", log.name());
        if let Some(name) = &log.name {
            let line = self.lines.line(&path);
            let slot = ["log", "name", name.as_str()];
            self.setting(line, slot, Amount::Unstated, Figures::new());
        }
        let words: Vec<String> = log.entries.iter().map(word_of_entry).collect();
        let lines = self.lines.of_list(&format!("{path}.entries"), &words);
        for (entry, line) in log.entries.iter().zip(lines) {
            self.entry(entry, line);
        }
    }

    fn entry(&mut self, entry: &LogEntry, line: usize) {
        let day = entry.day.as_ref().map(|day| {
            let days = Measure::of(day).total() / (24.0 * 60.0);
            Measure::new(Scale::Count, days)
        });
        match &entry.what {
            LogEvent::Pitched(pitched) => {
                let time = figures([("day", day.clone())]);
                let slot = ["log", "reading", "original"];
                self.setting(line, slot, amount(&pitched.volume), time);
                let heat = some(pitched.temperature.as_ref());
                let figures = figures([("day", day), ("at", heat)]);
                self.setting(line, slot, amount(&pitched.shown), figures);
            }
            LogEvent::Reading(reading) => {
                let heat = some(reading.temperature.as_ref());
                let figures = figures([("day", day), ("at", heat)]);
                self.setting(
                    line,
                    ["log", "reading", "-"],
                    amount(&reading.shown),
                    figures,
                );
            }
            LogEvent::Drawn(drawn) => {
                let figures = figures([("day", day)]);
                self.setting(line, ["log", "drawn", "-"], amount(&drawn.volume), figures);
            }
            LogEvent::Added(added) => {
                let figures = figures([("day", day)]);
                let amount = stated(&added.amount);
                let nothing = Figures::new();
                self.ingredient(line, "log", &added.ingredient, amount, figures, &nothing);
            }
            _ => {}
        }
    }
}

/// What a line of a log shows of an entry.
fn word_of_entry(entry: &LogEntry) -> String {
    match &entry.what {
        LogEvent::Pitched(pitched) => pitched.volume.number().to_string(),
        LogEvent::Reading(reading) => reading.shown.number().to_string(),
        LogEvent::Drawn(drawn) => drawn.volume.number().to_string(),
        LogEvent::Added(added) => added.ingredient.name.clone(),
        _ => String::new(),
    }
}
