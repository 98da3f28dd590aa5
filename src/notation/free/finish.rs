//! What a sheet says once all of its lines are read.

use super::draft::{Draft, line, tokens};
use super::item::WHOLE_BOIL;
use super::log;
use super::plant;
use super::sheet::Sheet;
use super::told::Told;
use crate::diagnostic::Span;
use crate::notation::tree::Token;
use crate::quantity::lexer::AsWritten;

impl Sheet<'_> {
    /// The draft, once all lines are read.
    pub(super) fn finish(mut self) -> (Draft, Vec<Told>) {
        for page in std::mem::take(&mut self.plants) {
            let plant = plant::read(&page, &mut self);
            self.draft.last.push(plant);
        }
        if let Some(plant) = plant::of_sheet(&mut self) {
            self.draft.last.push(plant);
        }
        for page in std::mem::take(&mut self.logs) {
            let logs = log::read(&page, &mut self);
            self.draft.last.extend(logs);
        }
        if let Some((water, span)) = self.strike {
            self.liquor(&water, span);
        }
        self.draft.sour = self.soured.line();
        self.whole_boils();
        self.stands_in_order();
        if let Some(figure) = self.pitched_at {
            self.told.push(Told::NotUsed(figure.text(), figure.span));
        }
        (self.draft, self.told)
    }

    /// Gives what goes in at the start of the boil its time.
    fn whole_boils(&mut self) {
        let boil = self.boil_time();
        for line in &mut self.draft.boil.lines {
            let is_it = |token: &Token<'_>| token.text() == WHOLE_BOIL;
            let Some(at) = line.tokens.iter().position(is_it) else {
                continue;
            };
            let mut whole = std::mem::take(&mut line.tokens).into_vec();
            let span = whole.get(at).map_or_else(Span::default, Token::span);
            let time = boil.as_deref().map(|time| tokens(time, span));
            if time.is_none() {
                self.told
                    .push(Told::Remark("start of the boil".into(), span));
            }
            // Without it, the `at` before it goes too.
            let from = if time.is_some() {
                at
            } else {
                at.saturating_sub(1)
            };
            whole.splice(from..=at, time.unwrap_or_default());
            line.tokens = whole.into_boxed_slice();
        }
    }

    /// The water of the mash in litres, said per kilogram of what is mashed.
    fn liquor(&mut self, water: &AsWritten, span: Span) {
        let grist = self.grist.filter(|grist| *grist > 0.0);
        let ratio = grist.map(|grist| water.unit.to_base(water.number) / grist);
        // Thinner or thicker than this is no mash but water for something else (common practice, no source).
        if let Some(ratio) = ratio.filter(|ratio| (1.2..=8.0).contains(ratio)) {
            let text = format!("{ratio:.3} L/kg");
            self.told
                .push(Told::Assumed(water.to_string(), text.clone(), span));
            let tokens = tokens(&format!("mash in {text}"), span);
            self.draft.mash.lines.push(line(tokens, Vec::new()));
        } else {
            self.told.push(Told::NotUsed(water.to_string(), span));
        }
    }
}
