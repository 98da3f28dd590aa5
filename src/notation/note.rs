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
    /// Printed shares added up to nearly a hundred and were brought to it.
    SharesNormalised {
        /// Their sum as printed, per cent.
        sum_percent: f64,
        /// Where they stand.
        span: Span,
    },
}

codes! {
    ReadingNote {
        GenericName = "generic_name",
        SharesNormalised = "shares_normalised",
    }
}

impl ReadingNote {
    /// Where the text that it speaks of stands.
    pub const fn span(&self) -> Span {
        match self {
            Self::GenericName { span, .. } | Self::SharesNormalised { span, .. } => *span,
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
            Self::SharesNormalised { sum_percent, .. } => {
                format!("printed shares add up to {sum_percent:.2} % and were scaled to 100 %")
            }
        }
    }
}
