//! The lines of the notation that a sheet as typed says, by the block that they stand in.

use crate::diagnostic::{Span, TextId};
use crate::notation::lex::Lexer;
use crate::notation::sink::Sink;
use crate::notation::tree::{Document, Entry, Line, Token, own_token};
use crate::quantity::DecimalComma;

/// The statements of a document while its lines are gathered.
#[derive(Debug, Default)]
pub(super) struct Draft {
    /// Lines without indent that stand alone: name, batch, targets, and blocks that were read as they stand.
    pub(super) head: Vec<Line<'static>>,
    pub(super) water: Vec<Line<'static>>,
    pub(super) mash: Block,
    /// Souring, as it is jotted.
    pub(super) sour: Option<Line<'static>>,
    pub(super) boil: Block,
    /// Stands and coolings, in order.
    pub(super) hot: Vec<Line<'static>>,
    pub(super) ferment: Block,
    pub(super) package: Block,
    pub(super) stock: Block,
    /// Plants and logs.
    pub(super) last: Vec<Line<'static>>,
}

/// A block: the line that opens it, and those below.
#[derive(Debug, Default)]
pub(super) struct Block {
    pub(super) opening: Option<Vec<Token<'static>>>,
    pub(super) lines: Vec<Line<'static>>,
}

impl Block {
    fn into_line(self, word: &str) -> Option<Line<'static>> {
        if self.opening.is_none() && self.lines.is_empty() {
            return None;
        }
        let first = self.lines.first().map_or_else(Span::default, Line::span);
        let here = Span::new(first.text, first.start, first.start);
        let opening = self.opening.unwrap_or_else(|| tokens(word, here));
        Some(line(opening, self.lines))
    }
}

impl Draft {
    /// Adds the lines of a draft that goes on from this one: its stand, if it has one, is the last of these.
    pub(super) fn append(&mut self, more: Self) {
        self.head.extend(more.head);
        self.water.extend(more.water);
        let is_stand = |line: &Line<'_>| {
            line.tokens()
                .first()
                .is_some_and(|token| token.text() == "stand")
        };
        let mut hot = more.hot.into_iter();
        if let Some(own) = self.hot.iter_mut().rev().find(|line| is_stand(line))
            && let Some(same) = hot.next()
        {
            own.children.extend(same.children);
        }
        self.hot.extend(hot);
        self.last.extend(more.last);
        let blocks = [
            (&mut self.mash, more.mash),
            (&mut self.boil, more.boil),
            (&mut self.ferment, more.ferment),
            (&mut self.package, more.package),
            (&mut self.stock, more.stock),
        ];
        for (block, more) in blocks {
            if more.opening.is_some() {
                block.opening = more.opening;
            }
            block.lines.extend(more.lines);
        }
    }

    fn blocks(&self) -> impl Iterator<Item = &Block> {
        [
            &self.mash,
            &self.boil,
            &self.ferment,
            &self.package,
            &self.stock,
        ]
        .into_iter()
    }

    /// How many lines there are.
    pub(super) fn count(&self) -> usize {
        let below: usize = self.blocks().map(|block| block.lines.len()).sum();
        below + self.head.len() + self.water.len() + self.hot.len()
    }

    /// Whether it holds an ingredient: a line that begins with an amount.
    pub(super) fn has_item(&self) -> bool {
        let is_item = |line: &Line<'_>| line.tokens().first().is_some_and(Token::is_number);
        self.blocks().any(|block| block.lines.iter().any(is_item))
    }

    /// The document that the lines make.
    pub(super) fn finish(self) -> Document<'static> {
        let mut lines = self.head;
        let water = Block {
            opening: None,
            lines: self.water,
        };
        lines.extend(water.into_line("water"));
        lines.extend(self.mash.into_line("mash"));
        lines.extend(self.sour);
        lines.extend(self.boil.into_line("boil"));
        lines.extend(self.hot);
        lines.extend(self.ferment.into_line("ferment"));
        lines.extend(self.package.into_line("package"));
        lines.extend(self.stock.into_line("stock"));
        lines.extend(self.last);
        Document {
            entries: lines.into_iter().map(Entry::Line).collect(),
        }
    }
}

pub(super) fn line(tokens: Vec<Token<'static>>, below: Vec<Line<'static>>) -> Line<'static> {
    Line {
        tokens: tokens.into_boxed_slice(),
        comment: None,
        children: below.into_iter().map(Entry::Line).collect(),
    }
}

/// The tokens of a text that says what stands at `span`.
pub(super) fn tokens(text: &str, span: Span) -> Vec<Token<'static>> {
    let lexer = Lexer {
        id: TextId::default(),
        comma: DecimalComma::Refused,
    };
    let mut tokens = Vec::new();
    lexer.tokens(text, 0, &mut tokens, &mut Sink::default());
    let at = |token: Token<'_>| Token {
        span,
        ..own_token(token)
    };
    tokens.into_iter().map(at).collect()
}
