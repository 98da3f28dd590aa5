//! The stable codes of diagnostics, one for each kind of mistake.

use serde::{Serialize, Serializer};

macro_rules! codes {
    ($($(#[$doc:meta])* $variant:ident = $text:literal,)*) => {
        /// Stable code of a kind of mistake; hosts may match on [`Code::as_str`].
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[non_exhaustive]
        pub enum Code {
            $($(#[$doc])* $variant,)*
        }

        impl Code {
            /// Every code there is, in the order of this list.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)*];

            /// The code as hosts see it, such as `missing_unit`.
            pub const fn as_str(self) -> &'static str {
                match self {
                    $(Self::$variant => $text,)*
                }
            }
        }
    };
}

codes! {
    /// A number without a unit where several units fit.
    MissingUnit = "missing_unit",
    /// A unit that does not belong where it stands.
    WrongUnit = "wrong_unit",
    /// A word in a unit's place that is no unit.
    UnknownUnit = "unknown_unit",
    /// A number that can be read in two ways, such as `4,5`.
    AmbiguousNumber = "ambiguous_number",
    /// A number with more digits than anyone can weigh, or a range that runs backwards.
    MalformedNumber = "malformed_number",
    /// A place that needs a quantity and has none.
    MissingQuantity = "missing_quantity",
    /// A figure outside the range of its scale.
    OutOfRange = "out_of_range",
    /// Litres where a colour was meant: `60 L` in place of `60 lovibond`.
    LitresForColour = "litres_for_colour",
    /// A specific gravity without its decimal point, such as `1069`.
    GravityWithoutPoint = "gravity_without_point",
    /// A first word that opens no statement.
    UnknownKeyword = "unknown_keyword",
    /// A label that names no figure, or a figure that its ingredient does not have.
    UnknownAttribute = "unknown_attribute",
    /// Words that nothing on the line calls for.
    UnexpectedWords = "unexpected_words",
    /// Indented lines below a line that takes none.
    UnexpectedLines = "unexpected_lines",
    /// A line that belongs to another block.
    WrongBlock = "wrong_block",
    /// A block that needs lines and has none.
    EmptyBlock = "empty_block",
    /// A block or line that may stand once and stands twice.
    DuplicateBlock = "duplicate_block",
    /// Two plants of one name.
    DuplicatePlant = "duplicate_plant",
    /// A plant that is named and not described.
    UnknownPlant = "unknown_plant",
    /// A second recipe in the texts that are read together.
    SecondRecipe = "second_recipe",
    /// A recipe without a `recipe` line.
    NamelessRecipe = "nameless_recipe",
    /// A line or block that needs a name and has none.
    MissingName = "missing_name",
    /// A fermentable, yeast or juice that the catalogue does not know.
    UnknownIngredient = "unknown_ingredient",
    /// A hop that the catalogue does not know and whose line states no alpha acids.
    MissingAlpha = "missing_alpha",
    /// A bitterness asked of a hop that is never boiled.
    DryHopBitterness = "dry_hop_bitterness",
    /// Shares that do not add up to a hundred.
    SharesDoNotAddUp = "shares_do_not_add_up",
    /// Shares and masses of fermentables in one recipe.
    SharesBesideMasses = "shares_beside_masses",
    /// An extract figure of a malt that is too high to be as is.
    ExtractBasis = "extract_basis",
    /// A timing that does not fit its block.
    WrongTiming = "wrong_timing",
    /// An addition that enters before the boil begins.
    AdditionBeforeBoil = "addition_before_boil",
    /// One fact stated twice with different figures.
    ConflictingFacts = "conflicting_facts",
    /// Sparge water in a plant that does not mash.
    SpargeWithoutMash = "sparge_without_mash",
    /// A line of a plant that another line leaves without effect.
    UnusedLine = "unused_line",
    /// An extract yield that no plant reaches.
    YieldTooHigh = "yield_too_high",
    /// A stock kept in a unit that its ingredient is not measured in.
    StockUnit = "stock_unit",
    /// One ingredient listed in two ways that exclude each other.
    StockConflict = "stock_conflict",
    /// A quotation mark without its partner on the line.
    UnterminatedQuote = "unterminated_quote",
    /// Tabs and spaces in the indents of one text.
    MixedIndent = "mixed_indent",
    /// A line or text longer than is read.
    TooLong = "too_long",
    /// Lines indented deeper than is read.
    TooDeep = "too_deep",
    /// More findings than are listed.
    TooMany = "too_many",
    /// Two logs of one name, or two without.
    DuplicateLog = "duplicate_log",
    /// An own ingredient that does not say what it is like.
    MissingLike = "missing_like",
    /// A bitterness is wanted and no hop boils or steeps.
    NoBitteringHop = "no_bittering_hop",
    /// A gravity to wait for that the beer does not pass on its way down.
    GravityNotPassed = "gravity_not_passed",
    /// Printed figures that do not follow from one another.
    FiguresDisagree = "figures_disagree",
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Code {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Code".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let codes: Vec<_> = Self::ALL.iter().map(|code| code.as_str()).collect();
        schemars::json_schema!({"enum": codes})
    }
}

impl Serialize for Code {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.as_str())
    }
}
