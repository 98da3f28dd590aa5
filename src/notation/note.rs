//! Something assumed in reading.

use crate::diagnostic::{Severity, Span, codes};
use crate::speech::{Speaks, Style};
use serde::Serialize;

/// Something assumed in reading, to be shown with the result.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum ReadingNote {
    /// A generic trade name was taken for one entry of the catalogue.
    GenericName {
        /// The name as written.
        name: String,
        /// The entry it was taken for.
        entry: String,
        /// Why this entry.
        reason: String,
        /// Where it stands.
        span: Span,
    },
    /// A figure without its unit was read with one, or a figure that is not stated was assumed.
    ReadAs {
        /// What is written.
        typed: String,
        /// What it was read as.
        read: String,
        /// Where it stands.
        span: Span,
    },
    /// A figure that no line of the recipe uses.
    NotUsed {
        /// The figure.
        typed: String,
        /// Where it stands.
        span: Span,
    },
    /// Words that say nothing which a recipe holds.
    Remark {
        /// The words.
        text: String,
        /// Where they stand.
        span: Span,
    },
    /// Printed shares added up to nearly a hundred and were brought to it.
    SharesNormalised {
        /// Their sum as printed, per cent.
        sum_pct: f64,
        /// Where they stand.
        span: Span,
    },
}

codes! {
    ReadingNote {
        GenericName = "generic_name",
        ReadAs = "read_as",
        NotUsed = "not_used",
        Remark = "remark",
        SharesNormalised = "shares_normalised",
    }
}

impl ReadingNote {
    /// Where the text that it speaks of stands.
    pub const fn span(&self) -> Span {
        match self {
            Self::GenericName { span, .. }
            | Self::ReadAs { span, .. }
            | Self::NotUsed { span, .. }
            | Self::Remark { span, .. }
            | Self::SharesNormalised { span, .. } => *span,
        }
    }
}

impl Speaks for ReadingNote {
    fn code(&self) -> &'static str {
        self.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Note
    }

    fn text(&self, _: Style) -> String {
        match self {
            Self::GenericName {
                name,
                entry,
                reason,
                ..
            } => format!("Assumed: `{name}` is {entry}; {reason}"),
            Self::ReadAs { typed, read, .. } => format!("Assumed: `{typed}` is {read}"),
            Self::NotUsed { typed, .. } => format!("Not used: {typed}"),
            Self::Remark { text, .. } => format!("Kept as a remark: {text}"),
            Self::SharesNormalised { sum_pct, .. } => {
                format!(
                    "shares on the original sheet add up to {sum_pct:.2} % and were scaled to 100 %"
                )
            }
        }
    }
}
