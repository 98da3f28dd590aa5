//! The lines of a plant that several of its figures make.

use crate::notation::free::draft::line;

use super::reader::{Chiller, Reader};
use super::words::Tag;
use crate::diagnostic::{Code, Diagnostic};
use crate::notation::free::told::Told;
use crate::notation::tree::{Line, Token};

/// Litres of a batch from which on a plant is a brewery's: the share of the extract that it gets is said of the kettle there, and at home
/// mostly of the fermenter.
const LARGE_L: f64 = 200.0;

impl Reader<'_, '_> {
    pub(super) fn finish(mut self, opening: Vec<Token<'static>>) -> Line<'static> {
        self.lautering();
        self.cooling();
        self.extract_yield();
        line(opening, self.lines)
    }

    pub(super) fn lautering(&mut self) {
        let sparge = self.sparge.take();
        let way = match (self.bag, self.way) {
            (_, Some(("no mash", span))) => Some(("no mash".to_owned(), span)),
            (Some(span), _) => Some((
                sparge.map_or_else(
                    || "lauter bag".to_owned(),
                    |(volume, _)| format!("lauter bag, sparge {volume}"),
                ),
                span,
            )),
            (None, Some((way, span))) => Some((way.to_owned(), span)),
            (None, None) => None,
        };
        if let Some((volume, span)) = sparge.filter(|_| self.bag.is_none()) {
            self.sheet
                .told
                .push(Told::NotUsed(volume.to_string(), span));
        }
        if let Some((text, span)) = way {
            self.put("lauter", &text, span);
        }
    }

    pub(super) fn cooling(&mut self) {
        let Chiller { to, time, by } = std::mem::take(&mut self.chiller);
        let Some((to, span)) = to else {
            if let Some((time, span)) = time {
                self.sheet.told.push(Told::NotUsed(time.to_string(), span));
            }
            if let Some((by, span)) = by {
                self.sheet
                    .told
                    .push(Told::Remark(format!("cooled {by}"), span));
            }
            return;
        };
        let time = time.map_or_else(String::new, |(time, _)| format!(" in {time}"));
        let by = by.map_or_else(String::new, |(by, _)| format!(" {by}"));
        self.put("cool to", &format!("cool to {to}{time}{by}"), span);
    }

    /// The share of the extract that the plant gets: of what a laboratory gets, and at home counted in the fermenter.
    pub(super) fn extract_yield(&mut self) {
        let Some((reached, span, tags)) = self.reached.take() else {
            return;
        };
        if self.stated.contains(&"extract yield") {
            self.sheet
                .told
                .push(Told::NotUsed(reached.to_string(), span));
            return;
        }
        let is_large = self
            .batch_l
            .or(self.kettle_l)
            .is_some_and(|litres| litres >= LARGE_L);
        let says = |tag: Tag| tags.contains(&tag);
        let point = if says(Tag::IntoFermenter) {
            " in fermenter"
        } else if says(Tag::Tun) || says(Tag::EndOfBoil) || says(Tag::Kettle) {
            ""
        } else if is_large {
            let message = format!(
                "expected where a yield of {reached} is counted, found no word of it; assumed the end of the boil"
            );
            let found = Diagnostic::warning(Code::MissingQuantity, span, message)
                .with_help(format!("write `extract yield {reached}` for the end of the boil, or `extract yield {reached} in fermenter`"));
            self.sheet.told.push(Told::Asked(found));
            self.put("extract yield", &format!("extract yield {reached}"), span);
            return;
        } else {
            " in fermenter"
        };
        let text = format!("extract yield {reached}{point}");
        self.sheet.told.push(Told::Assumed(
            reached.to_string(),
            format!("{reached} of laboratory extract{point}"),
            span,
        ));
        self.put("extract yield", &text, span);
    }
}
