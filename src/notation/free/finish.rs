//! What a sheet says once all of its lines are read.

use super::draft::{Draft, line, tokens};
use super::item::{ALPHA_OF_LOT, WHOLE_BOIL};
use super::log;
use super::plant;
use super::sheet::Sheet;
use super::told::Told;
use crate::diagnostic::Span;
use crate::notation::tree::{Entry, Line, Token};
use crate::quantity::lexer::AsWritten;
use std::collections::BTreeSet;

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
        self.told.extend(self.soured.question().map(Told::Asked));
        self.whole_boils();
        self.alphas_of_lots();
        self.stands_in_order();
        self.pitched_without_yeast();
        (self.draft, self.told)
    }

    /// `pitch at 9 C` on a sheet that names no yeast: the brewery's own.
    fn pitched_without_yeast(&mut self) {
        let Some(figure) = self.pitched_at.take() else {
            return;
        };
        if self.is_pitched {
            self.told.push(Told::NotUsed(figure.text(), figure.span));
            return;
        }
        let yeast = "house yeast";
        let text = format!("pitch {yeast} at {}", figure.text());
        let told = Told::Default("yeast".into(), yeast.into(), figure.span);
        self.told.push(told);
        let pitch = line(tokens(&text, figure.span), Vec::new());
        self.draft.ferment.lines.insert(0, pitch);
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

    /// Gives a hop whose line states no alpha acids those of the other lines of it, where these agree.
    fn alphas_of_lots(&mut self) {
        let lots = std::mem::take(&mut self.lots);
        let told = &mut self.told;
        let mut fill = |line: &mut Line<'static>| {
            let Some(at) = (line.tokens.iter()).position(|token| token.text() == ALPHA_OF_LOT)
            else {
                return;
            };
            let mut whole = std::mem::take(&mut line.tokens).into_vec();
            let span = whole.get(at).map_or_else(Span::default, Token::span);
            let hop = lots.iter().find(|lot| lot.span == span);
            let hop = hop.map_or("", |lot| lot.hop.as_str());
            let stated: BTreeSet<&str> = lots
                .iter()
                .filter(|lot| lot.hop == hop)
                .filter_map(|lot| lot.alpha.as_deref())
                .collect();
            match stated.first().filter(|_| stated.len() == 1) {
                Some(alpha) => {
                    told.push(Told::Default(hop.to_owned(), (*alpha).to_owned(), span));
                    whole.splice(at..=at, tokens(alpha, span));
                }
                // The comma before it goes too.
                None => drop(whole.drain(at.saturating_sub(1)..=at)),
            }
            line.tokens = whole.into_boxed_slice();
        };
        let draft = &mut self.draft;
        for block in [
            &mut draft.boil,
            &mut draft.ferment,
            &mut draft.package,
            &mut draft.mash,
        ] {
            block.lines.iter_mut().for_each(&mut fill);
        }
        for stand in &mut draft.hot {
            for entry in &mut stand.children {
                if let Entry::Line(line) = entry {
                    fill(line);
                }
            }
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
