//! What can be asked, and which fields and options each ask takes.

use serde::Deserialize;

/// What can be asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Ask {
    /// Texts or models as model and as canonical notation.
    Read,
    /// What a recipe gives.
    Predict,
    /// The plan for another plant.
    Scale,
    /// What may stand for what is missing.
    Substitute,
    /// What a log says of its beer.
    Ledger,
    /// The ways on from a reading of the brewing day.
    Correct,
    /// The plan as a brew sheet.
    Sheet,
    /// A plant's figures from its brewing days.
    Learn,
    /// What is known of an ingredient.
    Catalogue,
}

impl Ask {
    /// Everything that can be asked, in the order of the docs.
    pub const ALL: &'static [Self] = &[
        Self::Read,
        Self::Predict,
        Self::Scale,
        Self::Substitute,
        Self::Ledger,
        Self::Correct,
        Self::Sheet,
        Self::Learn,
        Self::Catalogue,
    ];

    /// The word of it in a request.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Read => "read",
            Self::Predict => "predict",
            Self::Scale => "scale",
            Self::Substitute => "substitute",
            Self::Ledger => "ledger",
            Self::Correct => "correct",
            Self::Sheet => "sheet",
            Self::Learn => "learn",
            Self::Catalogue => "catalogue",
        }
    }

    /// The fields that do something for this ask, beside `format`, `ask` and `id`.
    pub(super) const fn fields(self) -> &'static [&'static str] {
        match self {
            Self::Read => &[
                "document",
                "documents",
                "recipe",
                "brewhouses",
                "stock",
                "logs",
                "ingredients",
                "options",
            ],
            Self::Ledger => &[
                "document",
                "documents",
                "logs",
                "log",
                "ingredients",
                "options",
            ],
            Self::Correct => &[
                "document",
                "documents",
                "recipe",
                "brewhouses",
                "stock",
                "ingredients",
                "to",
                "take",
                "reading",
                "options",
            ],
            Self::Predict => &[
                "document",
                "documents",
                "recipe",
                "brewhouses",
                "stock",
                "ingredients",
                "to",
                "options",
            ],
            Self::Scale | Self::Sheet => &[
                "document",
                "documents",
                "recipe",
                "brewhouses",
                "stock",
                "ingredients",
                "to",
                "take",
                "options",
            ],
            Self::Substitute => &[
                "document",
                "documents",
                "recipe",
                "brewhouses",
                "stock",
                "ingredients",
                "to",
                "missing",
                "from_stock",
                "options",
            ],
            Self::Learn => &[
                "document",
                "documents",
                "recipe",
                "brewhouses",
                "stock",
                "logs",
                "ingredients",
                "to",
                "take",
                "days",
                "options",
            ],
            Self::Catalogue => &["name", "class", "ingredients"],
        }
    }

    /// Whether its answer says how far figures may be off.
    pub(super) const fn answers_spread(self) -> bool {
        matches!(self, Self::Predict | Self::Scale | Self::Sheet)
    }

    /// The options that do something for this ask.
    pub(super) const fn options(self) -> &'static [&'static str] {
        match self {
            Self::Read | Self::Learn => &["decimal_comma"],
            Self::Ledger => &["units", "gravity", "decimal_comma"],
            Self::Substitute => &[
                "units",
                "gravity",
                "temperature",
                "colour",
                "bitterness_model",
                "decimal_comma",
                "candidates",
                "colour_match",
                "limit",
                "weights",
            ],
            Self::Correct => &[
                "units",
                "gravity",
                "temperature",
                "colour",
                "bitterness_model",
                "decimal_comma",
            ],
            Self::Predict | Self::Scale => &[
                "units",
                "gravity",
                "temperature",
                "colour",
                "bitterness_model",
                "spread",
                "decimal_comma",
            ],
            Self::Sheet => &[
                "units",
                "gravity",
                "temperature",
                "colour",
                "bitterness_model",
                "spread",
                "decimal_comma",
                "sheet",
                "start",
            ],
            Self::Catalogue => &[],
        }
    }
}
