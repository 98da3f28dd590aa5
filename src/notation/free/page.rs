//! The lines of a log or a plant as typed, kept until all are there: which way round dates are, or how large a plant is, may stand
//! on the last of them.

use super::draft::line;
use crate::diagnostic::Span;
use crate::notation::tree::{Class, Line, Token, own_line};

/// What belongs to one heading.
#[derive(Debug, Default)]
pub(super) struct Page {
    /// The line of the notation that opens it, if there is one.
    pub(super) opening: Option<Vec<Token<'static>>>,
    pub(super) lines: Vec<Jotted>,
}

/// A line as typed.
#[derive(Debug)]
pub(super) struct Jotted {
    pub(super) tokens: Vec<Token<'static>>,
    /// Whether the notation reads it as it stands.
    pub(super) is_right: bool,
    /// Whether it is indented below the one before.
    pub(super) is_below: bool,
}

impl Jotted {
    pub(super) fn of(typed: &Line<'_>, is_right: bool, is_below: bool) -> Self {
        let mut tokens = own_line(typed.clone()).tokens.into_vec();
        tokens.extend(numbered(typed));
        Self {
            tokens,
            is_right,
            is_below,
        }
    }

    pub(super) fn line(&self) -> Line<'static> {
        line(self.tokens.clone(), Vec::new())
    }

    pub(super) fn span(&self) -> Span {
        self.line().span()
    }
}

/// The number behind a name, which the sign before it makes a comment: `Low Tide #6`.
pub(super) fn numbered(typed: &Line<'_>) -> Option<Token<'static>> {
    let comment = typed.comment()?;
    let number = comment.text().split(' ').next()?;
    let is_number = !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit());
    let is_name = typed.tokens().iter().all(|token| !token.is_number());
    (is_number && is_name).then(|| Token {
        text: format!("#{number}").into(),
        span: comment.span(),
        class: Class::Word,
    })
}
