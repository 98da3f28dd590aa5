//! The `package` block.

use super::Lower;
use super::ferment::opens_with_amount;
use super::item::{Nesting, Stage};
use crate::diagnostic::{Code, Diagnostic, Place, Span, nearest};
use crate::notation::cursor::Cursor;
use crate::notation::tree::{Line, Token, span_of};
use crate::recipe::Section;

impl Lower<'_> {
    pub(super) fn package_block(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.open(line.span());
        if !self.once("package", line.span()) {
            return;
        }
        self.states(line.span(), |_| Place::recipe("package"));
        self.package_clauses(cursor.rest());
        if cursor.is_empty() {
            self.expect_lines(line, "package", "keg, carbonate 5 g/L at 4 C");
        }
        for child in line.lines() {
            let mut cursor = Cursor::new(child.tokens(), child.span());
            if cursor.eat(&["add"]) || opens_with_amount(child.tokens()) {
                self.next_addition(Section::Package);
                let item = self.item(child, cursor.rest(), Stage::Package, Nesting::Alone);
                self.recipe
                    .package
                    .additions
                    .extend(item.map(|item| item.addition));
            } else if !self.misplaced(child, "package") {
                self.expect_no_lines(child);
                self.package_clauses(child.tokens());
            }
        }
    }

    fn package_clauses(&mut self, tokens: &[Token<'_>]) {
        for clause in tokens.split(Token::is_comma) {
            let span = span_of(clause).unwrap_or_default();
            let mut cursor = Cursor::new(clause, span);
            if cursor.is_empty() {
                continue;
            }
            if cursor.eat(&["carbonate"]) || cursor.eat(&["carbonation"]) {
                self.states(span, |_| Place::recipe("package.carbonation_g_l"));
                let _ = cursor.eat(&["to"]);
                let read = self.read(&mut cursor, "after `carbonate`");
                let mut slot = self.recipe.package.carbonation.take();
                self.fill(&mut slot, read, "carbonate", span);
                self.recipe.package.carbonation = slot;
                if cursor.eat(&["at"]) {
                    self.package_temperature(&mut cursor, span);
                }
                self.expect_end(cursor);
            } else if cursor.at(&["at"]) && clause.get(1).is_some_and(Token::is_number) {
                cursor.skip(1);
                self.package_temperature(&mut cursor, span);
                self.expect_end(cursor);
            } else if clause.iter().any(Token::is_number) {
                let text = cursor.text();
                let near = nearest(clause.first().map_or("", Token::text), ["carbonate"]);
                let help = match near.first() {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => {
                        "write `carbonate 5 g/L at 4 C`, or `add` and an amount of an ingredient"
                            .into()
                    }
                };
                let message = format!("expected a container, `carbonate` or `add`, found `{text}`");
                self.push(Diagnostic::error(Code::UnexpectedWords, span, message).with_help(help));
            } else {
                self.states(span, |_| Place::recipe("package.container"));
                let text = cursor.text();
                if self
                    .recipe
                    .package
                    .container
                    .as_ref()
                    .is_some_and(|first| *first != text)
                {
                    let message = format!("expected one container, found `{text}` beside another");
                    self.push(
                        Diagnostic::error(Code::ConflictingFacts, span, message)
                            .with_help("name one container; put `#` before other words"),
                    );
                } else {
                    self.recipe.package.container = Some(text);
                }
            }
        }
    }

    fn package_temperature(&mut self, cursor: &mut Cursor<'_, '_>, span: Span) {
        self.states(cursor.here(), |_| Place::recipe("package.temperature_c"));
        let read = self.read(cursor, "after `at`");
        let mut slot = self.recipe.package.temperature.take();
        self.fill(&mut slot, read, "at", span);
        self.recipe.package.temperature = slot;
    }
}
