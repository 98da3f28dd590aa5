//! The plain-text notation, version 1: a text that looks like a page of a brewing log.
//!
//! Reading never stops at the first mistake and never fails: [`read`] gives the trees, what could be read of recipe,
//! plants, stock, logs and own ingredients, what was assumed, and every finding with its place and what to do.
//!
//! ```
//! use wortwright::diagnostic::TextRef;
//! use wortwright::notation::read;
//!
//! let text = "\
//! recipe  Low Tide
//! batch   20 L into fermenter
//!
//! mash
//!   80 %  pale ale malt, 5 EBC
//!   20 %  wheat malt
//!   rest 66 C for 60 min
//!
//! boil 60 min
//!   25 IBU  northern brewer, 9 % alpha  at 60 min
//! ";
//! let reading = read(&[TextRef::new("low-tide.gyle", text)]);
//! assert!(reading.is_usable());
//! let recipe = reading.recipe.expect("the text holds a recipe");
//! assert_eq!(recipe.mash.additions.len(), 2);
//! assert_eq!(recipe.boil.time.expect("it is stated").to_string(), "60 min");
//! ```
//!
//! # From text to meaning
//!
//! 1. A [`Document`] is the lossless tree: lines within lines, tokens within lines, numbers as written, comments where
//!    they stood. Two documents are equal when they say the same; spans and spacing do not count.
//! 2. A [`Reading`] holds the model that the trees mean. Each figure keeps the number and unit it was written in.
//! 3. `Document::to_string` prints canonical text. What is printed reads as an equal tree, and printing it again gives
//!    the same bytes. `Document::from(&recipe)`, and the same of a plant, a stock and a log, make trees of models;
//!    [`Document::of_ingredient`] makes one of an own ingredient.
//!
//! # Grammar
//!
//! UTF-8, any line ends, a byte-order mark is passed over. A line without indent opens a statement by its first word;
//! lines indented deeper belong to the line above them. Indents are spaces or tabs, one kind in a text. Keywords are
//! read in any case.
//!
//! ```text
//! line      = indent clause { "," clause } [ comment ]
//! comment   = "#" { any }                  at the start of a line, or after a space, comma or quotation; never in quotes
//! clause    = { word | quoted | number }
//! quoted    = '"' { any | '""' } '"'       on one line
//! number    = [ "~" ] ( [ sign ] decimal [ dash decimal ] | [ digits " " ] digits "/" digits )
//! decimal   = digits [ "." digits ] | "." digits                       30 digits at most
//! dash      = "-" | "–" | "−"              between two numbers: a range, whose middle is used
//! sign      = dash                         only a temperature, a gravity or an altitude may be below zero
//!
//! quantity  = number unit { number smaller-unit }      `5EBC`, `70%`, `2 lb 4 oz`, `1 h 30 min`
//! gravity   = number ( "P" | "Bx" ) | number [ "SG" ]  a bare number from 0.980 to 1.200 is a specific gravity
//!
//! item      = [ verb ] [ amount ] name { "," attribute } { timing }
//! amount    = quantity [ "by volume" | "by weight" ] | digits "x" quantity
//! name      = quoted | the longest name the catalogue knows | words up to a comma, a number with a unit, or a timing
//! attribute = label value | value label | value        `9 % alpha`, `pH 3.3`, `80 % extract dry`, `5 EBC`, `pellet`, `brings nothing`
//! timing    = "at" ( time | temperature ) | "at first wort" | "for" time | "when" gravity | "on day" number
//! blend     = [ verb ] ( amount | "blend" ) { timing }, its parts on lines below: the line itself has no name
//! ```
//!
//! What may stand where, in which words, is a table, which [`grammar`] gives to hosts too:
//!
#![doc = include_str!("grammar.md")]
//!
//! # Other words
//!
//! A line that is none of the grammar's is looked at once more, as a brewer would read it: a set of figures and words in any
//! order. The unit of a figure and the part of the sheet tell what it is a figure of; a phrase of the trade says which line of
//! the grammar is meant; what is left is a name. [`Reading::understood`] is the page in lines of the grammar, and the notes of the
//! reading say what was assumed ([`ReadingNote::ReadAs`]), which figures nothing uses ([`ReadingNote::NotUsed`]) and which words
//! say nothing that a recipe holds ([`ReadingNote::Remark`]).
//!
//! ```
//! use wortwright::diagnostic::TextRef;
//! use wortwright::notation::read;
//!
//! let page = "Mudflat Bitter\n5 gal, OG 1.042\nMash 152 F 60 min\n8 lb pale ale malt\nBoil 60 min\n1 oz Fuggle (4.5%) @ 60\n";
//! let reading = read(&[TextRef::new("page", page)]);
//! let understood = reading.understood().iter().map(ToString::to_string).collect::<String>();
//! assert!(understood.contains("1 oz  Fuggle, 4.5 % alpha  at 60 min"), "{understood}");
//! assert!(reading.is_usable());
//! ```
//!
//! A text that holds nothing but statements of the grammar is one that somebody wrote in it: there a line is read in other words
//! only if all of it is understood, so that a slip is still told. A page of other words is read for what it says; what cannot be
//! read is told, and what can be read in two ways is asked. A text of more than 20 000 lines is read by the grammar alone.
//!
//! # Accepted and refused
//!
//! ```
//! use wortwright::diagnostic::{Code, TextRef};
//! use wortwright::notation::read;
//!
//! fn mash_line(line: &str) -> Vec<Code> {
//!     let text = format!("recipe A\nmash\n  {line}\n");
//!     read(&[TextRef::new("text", &text)]).diagnostics.iter().map(|found| found.code).collect()
//! }
//!
//! for accepted in [
//!     "5 kg pale ale malt",
//!     "5kg pale ale malt,5.5EBC,4 % moisture",
//!     "4.5-5 kg pale ale malt  # about a sack's fifth",
//!     "~5 kg pale ale malt, colour 3 °L",
//!     "2 lb 4 oz caramel malt 150 EBC",
//!     "5 kg \"Barn-smoked malt\", 80 % extract dry, 7 EBC  # unknown: a warning",
//!     "rest 152 F for 1 h",
//! ] {
//!     assert!(mash_line(accepted).iter().all(|code| *code == Code::UnknownIngredient), "{accepted}");
//! }
//! for (refused, why) in [
//!     ("5 pale ale malt", Code::MissingUnit),
//!     ("5 C pale ale malt", Code::WrongUnit),
//!     ("4,5 kg pale ale malt", Code::AmbiguousNumber),
//!     ("1 000 g pale ale malt", Code::AmbiguousNumber),
//!     ("5 kg pale ail malt", Code::UnknownIngredient),
//!     ("90 % pale ale malt", Code::SharesDoNotAddUp),
//!     ("resst 66 C for 60 min", Code::UnknownKeyword),
//!     ("hold 20 C for 5 days", Code::WrongBlock),
//! ] {
//!     assert_eq!(mash_line(refused), [why], "{refused}");
//! }
//! ```
//!
//! Bounds: 64 levels of indent, 4000 characters a line, 64 MiB a text, 100 findings listed. Time grows with the length
//! of the text and no faster.

mod cursor;
mod free;
mod grammar;
mod inputs;
mod lex;
mod lower;
mod model_check;
mod models;
mod note;
mod own;
mod parse;
mod piece;
mod print;
mod reading;
mod sink;
mod timing;
mod tree;
mod write;

pub use cursor::Measure;
pub use grammar::{Block, Role, Row, Takes};
pub use inputs::Inputs;
pub use lower::grammar;
pub use model_check::Check;
pub(crate) use models::Format;
pub use models::Models;
pub use note::ReadingNote;
#[cfg(feature = "exchange")]
pub(crate) use reading::inputs_of;
pub use reading::{ReadOptions, Reading, read, read_documents, read_with};
pub(crate) use tree::log_lines;
pub use tree::{Comment, Document, Entry, Line, Token, TokenKind};

pub use crate::quantity::lexer::DecimalComma;
