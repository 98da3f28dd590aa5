//! The `package` block.

use super::Lower;
use super::head::Label;
use super::item::Nesting;
use crate::diagnostic::{Code, Diagnostic, Place, Span, nearest};
use crate::notation::cursor::Cursor;
use crate::notation::grammar::{Block, Role, Row, Rule, Table, Takes};
use crate::notation::tree::{Line, Token, span_of};
use crate::quantity::Dimension;
use crate::recipe::Section;

/// What the words of a package open.
pub(super) enum Opens {
    /// A clause, read from behind them.
    Clause(fn(&mut Lower<'_>, Cursor<'_, '_>, Span)),
    /// A container, named by them.
    Container,
    /// A line with an addition.
    Addition,
}

const TEMPERATURE: Role = Role::new("temperature", &[Dimension::Temperature]).after(&["at"]);

/// Clauses of `package`.
pub(super) static PACKAGE: Table<Opens> = Table(&[
    Rule {
        row: Row::new(
            Block::Package,
            &["carbonate", "carbonation"],
            "recipe.package.carbonation_g_l",
        )
        .takes(&[
            Takes::Figure(
                Role::new(
                    "carbon dioxide",
                    &[Dimension::Concentration, Dimension::GasVolumes],
                )
                .after(&["to"]),
            ),
            Takes::Figure(TEMPERATURE.optional()),
        ])
        .example(
            Block::Package,
            "carbonate 5 g/L at 4 C",
            &["carbonate 6 g/L at 4 C", "carbonate to 2.4 volumes at 4 C"],
        ),
        read: Opens::Clause(|lower, cursor, span| {
            lower.carbonate(cursor, span);
        }),
    },
    Rule {
        row: Row::new(
            Block::Package,
            &["prime to", "prime"],
            "recipe.package.carbonation_g_l",
        )
        .takes(&[
            Takes::Figure(Role::new(
                "carbon dioxide",
                &[Dimension::Concentration, Dimension::GasVolumes],
            )),
            Takes::Figure(TEMPERATURE.optional()),
        ])
        .example(
            Block::Package,
            "prime to 1.2 volumes at 12 C",
            &["prime to 1.4 volumes at 12 C", "prime to 3 g/L at 12 C"],
        ),
        read: Opens::Clause(|lower, cursor, span| {
            lower.carbonate(cursor, span);
            lower.recipe.package.primed = true;
        }),
    },
    Rule {
        row: Row::new(Block::Package, &["at"], "recipe.package.temperature_c")
            .takes(&[Takes::Figure(Role::new(
                "temperature",
                &[Dimension::Temperature],
            ))])
            .example(Block::Package, "at 4 C", &["at 8 C", "at 40 F"]),
        read: Opens::Clause(|lower, cursor, span| {
            lower.packaged_at(cursor, span);
        }),
    },
    Rule {
        row: Row::new(Block::Package, &["keg"], "recipe.package.container").example(
            Block::Package,
            "keg",
            &["bottle", "cask"],
        ),
        read: Opens::Container,
    },
    Rule {
        row: Row::new(Block::Package, &["bottle"], "recipe.package.container").example(
            Block::Package,
            "bottle",
            &["keg", "cask"],
        ),
        read: Opens::Container,
    },
    Rule {
        row: Row::new(
            Block::Package,
            &["prime with"],
            "recipe.package.additions[#]",
        )
        .takes(&[Takes::Item])
        .example(
            Block::Package,
            "prime with 50 g table sugar",
            &["prime with 60 g table sugar", "prime with 50 g honey"],
        ),
        read: Opens::Addition,
    },
    Rule {
        row: Row::new(Block::Package, &["add"], "recipe.package.additions[#]")
            .takes(&[Takes::Item])
            .example(
                Block::Package,
                "add 100 g table sugar",
                &["add 120 g table sugar", "add 100 g honey"],
            ),
        read: Opens::Addition,
    },
]);

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
            if let Some((rule, word)) = self.verb(&PACKAGE, cursor)
                && matches!(rule.read, Opens::Addition)
            {
                cursor.pass(word);
                self.package_item(child, cursor);
            } else if cursor.number().is_some() {
                self.package_item(child, cursor);
            } else if !self.misplaced(child, Block::Package) {
                self.expect_no_lines(child);
                self.package_clauses(child.tokens());
            }
        }
    }

    fn package_item(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.next_addition(Section::Package);
        let item = self.item(line, cursor.rest(), Block::Package, Nesting::Alone);
        let additions = &mut self.recipe.package.additions;
        additions.extend(item.map(|item| item.addition));
    }

    fn package_clauses(&mut self, tokens: &[Token<'_>]) {
        for clause in tokens.split(Token::is_comma).filter(|c| !c.is_empty()) {
            let span = span_of(clause).unwrap_or_default();
            let mut cursor = Cursor::new(clause, span);
            match self
                .verb(&PACKAGE, cursor)
                .map(|(rule, word)| (&rule.read, word))
            {
                Some((Opens::Clause(read), word)) => {
                    cursor.pass(word);
                    read(self, cursor, span);
                }
                Some((Opens::Addition, word)) => {
                    cursor.pass(word);
                    let alone = Line {
                        tokens: clause.to_vec().into_boxed_slice(),
                        comment: None,
                        children: Vec::new(),
                    };
                    self.package_item(&alone, cursor);
                }
                // Other containers go by their names too.
                Some((Opens::Container, _)) | None => self.container(cursor, span),
            }
        }
    }

    fn carbonate(&mut self, mut cursor: Cursor<'_, '_>, span: Span) {
        self.states(span, |_| Place::recipe("package.carbonation_g_l"));
        let _ = cursor.eat(&["to"]);
        let read = self.read(&mut cursor, "after `carbonate`");
        let mut slot = self.recipe.package.carbonation.take();
        self.fill(
            &mut slot,
            read,
            Label {
                text: "carbonate",
                span,
            },
        );
        self.recipe.package.carbonation = slot;
        if cursor.eat(&["at"]) {
            self.packaged_at(cursor, span);
        } else {
            self.expect_end(cursor);
        }
    }

    fn packaged_at(&mut self, mut cursor: Cursor<'_, '_>, span: Span) {
        self.states(cursor.here(), |_| Place::recipe("package.temperature_c"));
        let read = self.read(&mut cursor, "after `at`");
        let mut slot = self.recipe.package.temperature.take();
        self.fill(&mut slot, read, Label { text: "at", span });
        self.recipe.package.temperature = slot;
        self.expect_end(cursor);
    }

    /// A container, whose name may be any words without a number.
    fn container(&mut self, cursor: Cursor<'_, '_>, span: Span) {
        let is_part = cursor.rest().first().is_some_and(|first| {
            matches!(first.text(), "half" | "quarter") || first.text().starts_with(['½', '¼', '¾'])
        });
        if is_part || cursor.rest().iter().any(Token::is_number) {
            self.no_clause(cursor, span);
            return;
        }
        self.states(span, |_| Place::recipe("package.container"));
        let name = cursor.text();
        let container = &mut self.recipe.package.container;
        if container.as_ref().is_none_or(|first| *first == name) {
            *container = Some(name);
            return;
        }
        let message = format!("expected one container, found `{name}` beside another");
        self.push(
            Diagnostic::error(Code::ConflictingFacts, span, message)
                .with_help("name one container; put `#` before other words"),
        );
    }

    fn no_clause(&mut self, cursor: Cursor<'_, '_>, span: Span) {
        let first = cursor.rest().first().map_or("", Token::text);
        let near = nearest(first, ["carbonate"]);
        let help = match near.first() {
            Some(near) => format!("did you mean `{near}`?"),
            None => {
                "write `carbonate 5 g/L at 4 C`, or `add` and an amount of an ingredient".into()
            }
        };
        let message = format!(
            "expected a container, `carbonate` or `add`, found `{}`",
            cursor.text()
        );
        self.push(Diagnostic::error(Code::UnexpectedWords, span, message).with_help(help));
    }
}
