//! The `brewhouse` block: its name and its lines.

use super::Lower;
use super::once::Seen;
use super::plant_check::Plant;
use super::plant_line::PLANT;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::Cursor;
use crate::notation::grammar::Block;
use crate::notation::tree::{Line, Token};
use crate::recipe::Brewhouse;

impl Lower<'_> {
    pub(super) fn brewhouse_block(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        let span = line.span();
        let name = cursor.text();
        if name.is_empty() {
            self.push(
                Diagnostic::error(
                    Code::MissingName,
                    span,
                    "expected the name of a plant after `brewhouse`",
                )
                .with_help("write a name, such as `brewhouse Stove top`"),
            );
        } else if let Some(first) = self.plants.get(&name.to_lowercase()).copied() {
            self.push(
                Diagnostic::error(
                    Code::DuplicatePlant,
                    span,
                    format!("expected one plant of this name, found `{name}` again"),
                )
                .with_label(first, "first given here")
                .with_help("give one of them another name"),
            );
        }
        self.plants.entry(name.to_lowercase()).or_insert(span);
        self.states(span, |trace| trace.plant(&name));
        let mut plant = Plant {
            brewhouse: Brewhouse::new(name),
            seen: Seen::default(),
        };
        for child in line.lines() {
            self.expect_no_lines(child);
            self.plant_line(child, &mut plant);
        }
        self.check_plant_lines(&plant);
        self.brewhouses.push(plant.brewhouse);
    }

    /// Whether this line of a plant stands for the first time.
    pub(super) fn first_time(&mut self, plant: &mut Plant, what: &'static str, at: Span) -> bool {
        let before = plant.seen.before(what, at);
        if let Some(first) = before {
            self.twice(what, at, first);
        }
        before.is_none()
    }

    pub(super) fn unknown_plant_line(&mut self, line: &Line<'_>) {
        if self.misplaced(line, Block::Brewhouse) {
            return;
        }
        let Some(first) = line.tokens().first() else {
            return;
        };
        let second = line.tokens().get(1).and_then(Token::word).unwrap_or("");
        let two = format!("{} {second}", first.text());
        // `kettle los` is nearer to `kettle loss` than `kettle` is.
        let known = PLANT.words().any(|word| word == first.text());
        let found = if known { two.trim() } else { first.text() };
        let near = self.near(first.text(), PLANT.words());
        let near = if near.is_empty() || known {
            self.near(two.trim(), PLANT.words())
        } else {
            near
        };
        let help = match near.first() {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("begin the line with one of: {}", PLANT.listed()),
        };
        self.push(
            Diagnostic::error(
                Code::UnknownKeyword,
                first.span(),
                format!("expected a line of a plant, found `{found}`"),
            )
            .with_help(help),
        );
    }
}
