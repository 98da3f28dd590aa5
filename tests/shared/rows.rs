//! Rows of the grammar as whole texts.

use wortwright::notation::{Block, Row};

/// The smallest text in which a line, such as the example of the row or one of its bent ones, is read as it stands.
#[must_use]
pub fn text_with(row: &Row, line: &str) -> String {
    let before = match row.example_in {
        Block::Text if row.words.contains(&"recipe") => "",
        Block::Text => "recipe A\n",
        Block::Target => "recipe A\nboil 60 min\n  50 g cascade, 5 % alpha at 60 min\ntarget\n  ",
        Block::Water => "recipe A\nwater\n  ",
        Block::Mash => "recipe A\nmash\n  ",
        Block::Boil => "recipe A\nboil 60 min\n  ",
        Block::Stand => "recipe A\nstand 20 min at 85 C\n  ",
        Block::Ferment => "recipe A\nferment\n  ",
        Block::Package => "recipe A\npackage\n  ",
        Block::Brewhouse => "brewhouse Home\n  ",
        Block::Stock => "stock\n  ",
        Block::Ingredient => "ingredient Own\n  ",
        Block::Log => "log\n  ",
        other => panic!("no line stands in {other:?}"),
    };
    format!("{before}{line}\n")
}
