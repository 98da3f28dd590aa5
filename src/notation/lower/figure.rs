//! The figures that can be stated of an ingredient, with their labels.

use super::Lower;
use super::form::{FRUIT_FORMS, HOP_FORMS};
use super::stated::Attribute;
use crate::catalogue::{ColourBasis, Kind};
use crate::notation::grammar::{Block, Role, Row, Rule, Table, Takes, choice};
use crate::quantity::Dimension;
use crate::recipe::{ExtractBasis, Facts};

/// Puts a figure in its place.
pub(super) type AttributeReader = fn(&mut Lower<'_>, &Attribute, &mut Facts);

const fn one(role: Role) -> Takes {
    Takes::Figure(role)
}

const COLOUR: &[Takes] = &[one(Role::new("colour", &[Dimension::Colour]))];
const SHARE: &[Takes] = &[one(Role::new("share", &[Dimension::Percent]))];
const POWER: &[Takes] = &[one(Role::new("power", &[Dimension::DiastaticPower]))];
const GRAVITY: &[Takes] = &[one(Role::new("gravity", &[Dimension::Gravity]))];
const PH: &[Takes] = &[one(Role::new("pH", &[Dimension::Ph]))];
const CONCENTRATION: &[Takes] = &[one(Role::new("concentration", &[Dimension::Concentration]))];
const PITCH_RATE: &[Takes] = &[one(Role::new("rate", &[Dimension::PitchRate]))];

/// The dimensions that an attribute can have.
pub(super) const DIMENSIONS: [Dimension; 7] = [
    Dimension::Colour,
    Dimension::DiastaticPower,
    Dimension::Gravity,
    Dimension::Percent,
    Dimension::Concentration,
    Dimension::PitchRate,
    Dimension::Ph,
];

const MASHED: &[Kind] = &[Kind::Malt, Kind::Grain];
const SOLID: &[Kind] = &[Kind::Malt, Kind::Grain, Kind::Sugar];
/// What dissolves as it is: its colour is of a solution.
const DISSOLVES: &[Kind] = &[Kind::Sugar];
const HAS_COLOUR: &[Kind] = &[
    Kind::Malt,
    Kind::Grain,
    Kind::Sugar,
    Kind::Juice,
    Kind::Beverage,
];
/// Where yeast lives; in the kettle it is boiled and ferments nothing.
const ALIVE: &[Block] = &[
    Block::Sour,
    Block::Pitch,
    Block::Ferment,
    Block::Package,
    Block::Stock,
    Block::Log,
];

const fn of(
    kinds: &'static [Kind],
    words: &'static [&'static str],
    field: &'static str,
    takes: &'static [Takes],
) -> Row {
    Row::new(Block::Attribute, words, field)
        .takes(takes)
        .of(kinds)
}

/// The figures, and the kinds of ingredient that have them.
pub(super) static ATTRIBUTES: Table<AttributeReader> = Table(&[
    Rule {
        row: of(HAS_COLOUR, &["colour", "color"], "facts.colour_ebc", COLOUR).example(
            Block::Mash,
            "5 kg pale ale malt, 5 EBC",
            &[
                "5 kg pale ale malt, 7 EBC",
                "5 kg pale ale malt, colour 4 SRM",
            ],
        ),
        read: |lower, said, facts| lower.fact(&mut facts.colour, said),
    },
    Rule {
        row: of(
            DISSOLVES,
            &["in a 10 % solution", "in 10 % solution", "10 % solution"],
            "facts.colour_basis",
            COLOUR,
        )
        .example(
            Block::Boil,
            "2 kg dried malt extract, 8 EBC in a 10 % solution",
            &[
                "2 kg dried malt extract, 8 EBC full strength",
                "2 kg dried malt extract, 8 EBC per lb/gal",
            ],
        ),
        read: |lower, said, facts| lower.colour(ColourBasis::TenPercentSolution, said, facts),
    },
    Rule {
        row: of(
            DISSOLVES,
            &["full strength", "at full strength"],
            "facts.colour_basis",
            COLOUR,
        )
        .example(
            Block::Boil,
            "2 kg golden syrup, 20 EBC full strength",
            &[
                "2 kg golden syrup, 20 EBC undiluted",
                "2 kg golden syrup, 20 EBC per lb/gal",
            ],
        ),
        read: |lower, said, facts| lower.colour(ColourBasis::FullStrength, said, facts),
    },
    Rule {
        row: of(
            DISSOLVES,
            &["per lb/gal", "lb/gal"],
            "facts.colour_basis",
            COLOUR,
        )
        .example(
            Block::Boil,
            "2 kg golden syrup, 20 EBC per lb/gal",
            &[
                "2 kg golden syrup, 20 EBC full strength",
                "2 kg golden syrup, 20 EBC undiluted",
            ],
        ),
        read: |lower, said, facts| lower.colour(ColourBasis::PoundPerGallon, said, facts),
    },
    Rule {
        row: of(DISSOLVES, &["undiluted"], "facts.colour_basis", COLOUR).example(
            Block::Boil,
            "2 kg maple syrup, 40 EBC undiluted",
            &[
                "2 kg maple syrup, 40 EBC full strength",
                "2 kg maple syrup, 40 EBC per lb/gal",
            ],
        ),
        read: |lower, said, facts| lower.colour(ColourBasis::Undiluted, said, facts),
    },
    Rule {
        row: of(SOLID, &["extract"], "facts.extract", SHARE).example(
            Block::Boil,
            "1 kg honey, 78 % extract",
            &["1 kg honey, 80 % extract", "1 kg honey, extract 82 %"],
        ),
        read: |lower, said, facts| lower.extract(None, said, facts),
    },
    Rule {
        row: of(
            SOLID,
            &["extract dry", "dry extract", "dry", "extract dry basis"],
            "facts.extract",
            SHARE,
        )
        .example(
            Block::Mash,
            "5 kg pale ale malt, 80 % extract dry",
            &[
                "5 kg pale ale malt, 82 % extract dry",
                "5 kg pale ale malt, 80 % extract as is",
            ],
        ),
        read: |lower, said, facts| lower.extract(Some(ExtractBasis::Dry), said, facts),
    },
    Rule {
        row: of(
            SOLID,
            &["extract as is", "extract as-is", "as is", "as-is"],
            "facts.extract",
            SHARE,
        )
        .example(
            Block::Mash,
            "5 kg pale ale malt, 76 % extract as is",
            &[
                "5 kg pale ale malt, 78 % extract as is",
                "5 kg pale ale malt, 76 % extract dry",
            ],
        ),
        read: |lower, said, facts| lower.extract(Some(ExtractBasis::AsIs), said, facts),
    },
    Rule {
        row: of(SOLID, &["moisture"], "facts.moisture_pct", SHARE).example(
            Block::Mash,
            "5 kg pale ale malt, 4 % moisture",
            &[
                "5 kg pale ale malt, 5 % moisture",
                "5 kg pale ale malt, moisture 6 %",
            ],
        ),
        read: |lower, said, facts| lower.fact(&mut facts.moisture, said),
    },
    Rule {
        row: of(
            HAS_COLOUR,
            &["fermentable", "fermentability"],
            "facts.fermentable_pct",
            SHARE,
        )
        .example(
            Block::Boil,
            "1 kg honey, 95 % fermentable",
            &[
                "1 kg honey, 90 % fermentable",
                "1 kg honey, fermentability 85 %",
            ],
        ),
        read: |lower, said, facts| lower.fact(&mut facts.fermentability, said),
    },
    Rule {
        row: of(
            MASHED,
            &["diastatic power"],
            "facts.diastatic_power_wk",
            POWER,
        )
        .example(
            Block::Mash,
            "5 kg pale ale malt, 200 WK",
            &[
                "5 kg pale ale malt, 250 WK",
                "5 kg pale ale malt, diastatic power 60 lintner",
            ],
        ),
        read: |lower, said, facts| lower.fact(&mut facts.diastatic_power, said),
    },
    Rule {
        row: of(MASHED, &["protein"], "facts.protein_pct", SHARE).example(
            Block::Mash,
            "5 kg pale ale malt, 10 % protein",
            &[
                "5 kg pale ale malt, 11 % protein",
                "5 kg pale ale malt, protein 9 %",
            ],
        ),
        read: |lower, said, facts| lower.fact(&mut facts.protein, said),
    },
    Rule {
        row: of(
            &[Kind::Hop],
            &["alpha", "alpha acid", "alpha acids", "AA"],
            "facts.alpha_pct",
            SHARE,
        )
        .example(
            Block::Boil,
            "50 g cascade, 5 % alpha at 60 min",
            &[
                "50 g cascade, 7 % alpha at 60 min",
                "50 g cascade, alpha acids 6 % at 60 min",
            ],
        ),
        read: |lower, said, facts| lower.alpha(said, facts),
    },
    Rule {
        row: of(
            &[Kind::Beverage],
            &["alcohol", "alcohol by volume", "ABV", "vol"],
            "facts.alcohol_abv_pct",
            SHARE,
        )
        .example(
            Block::Ferment,
            "add 200 mL spirit, 40 % alcohol on day 5",
            &[
                "add 200 mL spirit, 38 % alcohol on day 5",
                "add 200 mL spirit, alcohol 43 % on day 5",
            ],
        ),
        read: |lower, said, facts| lower.fact(&mut facts.alcohol, said),
    },
    Rule {
        row: of(
            &[Kind::Juice, Kind::Beverage],
            &["brix"],
            "facts.brix_plato",
            GRAVITY,
        )
        .example(
            Block::Ferment,
            "add 1 L plum juice, 12 Bx on day 5",
            &[
                "add 1 L plum juice, 14 Bx on day 5",
                "add 1 L plum juice, brix 13 Bx on day 5",
            ],
        ),
        read: |lower, said, facts| lower.fact(&mut facts.brix, said),
    },
    Rule {
        row: of(
            &[Kind::Malt, Kind::Grain, Kind::Juice],
            &["pH"],
            "facts.ph",
            PH,
        )
        .example(
            Block::Mash,
            "5 kg pale ale malt, pH 5.8",
            &["5 kg pale ale malt, pH 5.6", "5 kg pale ale malt, pH 5.7"],
        ),
        read: |lower, said, facts| lower.fact(&mut facts.ph, said),
    },
    Rule {
        row: of(
            &[Kind::Juice],
            &["acidity", "acid", "titratable acidity"],
            "facts.acidity_g_l",
            CONCENTRATION,
        )
        .example(
            Block::Ferment,
            "add 1 L plum juice, 9 g/L acidity on day 5",
            &[
                "add 1 L plum juice, 12 g/L acidity on day 5",
                "add 1 L plum juice, acidity 10 g/L on day 5",
            ],
        ),
        read: |lower, said, facts| lower.fact(&mut facts.acidity, said),
    },
    Rule {
        row: of(
            &[Kind::Juice],
            &[
                "SO2",
                "sulphite",
                "sulfite",
                "sulphites",
                "sulphur dioxide",
                "sulfur dioxide",
            ],
            "facts.sulphite_g_l",
            CONCENTRATION,
        )
        .example(
            Block::Ferment,
            "add 1 L plum juice, 30 mg/L SO2 on day 5",
            &[
                "add 1 L plum juice, 50 mg/L SO2 on day 5",
                "add 1 L plum juice, sulphite 40 mg/L on day 5",
            ],
        ),
        read: |lower, said, facts| lower.fact(&mut facts.sulphite, said),
    },
    Rule {
        row: of(
            &[Kind::Juice],
            &["sorbate", "sorbic acid"],
            "facts.sorbate_g_l",
            CONCENTRATION,
        )
        .example(
            Block::Ferment,
            "add 1 L plum juice, 100 mg/L sorbate on day 5",
            &[
                "add 1 L plum juice, 150 mg/L sorbate on day 5",
                "add 1 L plum juice, sorbic acid 120 mg/L on day 5",
            ],
        ),
        read: |lower, said, facts| lower.fact(&mut facts.sorbate, said),
    },
    Rule {
        row: of(
            &[Kind::Yeast],
            &["attenuation", "apparent attenuation"],
            "facts.attenuation_pct",
            SHARE,
        )
        .among(ALIVE)
        .example(
            Block::Ferment,
            "pitch ale yeast, attenuation 75 %",
            &[
                "pitch ale yeast, attenuation 80 %",
                "pitch ale yeast, 78 % apparent attenuation",
            ],
        ),
        read: |lower, said, facts| lower.fact(&mut facts.attenuation, said),
    },
    Rule {
        row: of(
            &[Kind::Yeast],
            &["pitch rate", "pitching rate", "rate"],
            "facts.pitch_rate_million_per_ml_plato",
            PITCH_RATE,
        )
        .among(ALIVE)
        .example(
            Block::Ferment,
            "pitch ale yeast, 0.9 M/mL/P",
            &[
                "pitch ale yeast, 1.2 M/mL/P",
                "pitch ale yeast, pitch rate 1 M/mL/P",
            ],
        ),
        read: |lower, said, facts| lower.fact(&mut facts.pitch_rate, said),
    },
]);

/// What is said of what brings neither extract nor alcohol.
pub(super) static BRINGS_NOTHING: Table<()> = Table(&[Rule {
    row: Row::new(
        Block::Attribute,
        &["brings nothing"],
        "facts.brings_nothing",
    )
    .example(
        Block::Boil,
        "5 g juniper berries, brings nothing",
        &["5 g juniper berries"],
    ),
    read: (),
}]);

/// The rule of the figure that a unit of this dimension alone tells.
pub(super) fn told_by(dimension: Dimension) -> Option<&'static Rule<AttributeReader>> {
    let has_it = |rule: &&Rule<AttributeReader>| {
        rule.row.dimensions().contains(&dimension) && !is_basis(&rule.row)
    };
    let mut rules = ATTRIBUTES.0.iter().filter(has_it);
    let first = rules.next()?;
    rules.next().is_none().then_some(first)
}

/// Whether a row says what a colour refers to: a colour without it is one all the same.
fn is_basis(row: &Row) -> bool {
    row.field == "facts.colour_basis"
}

/// The labels of the figures of that dimension that the kind can have, as a choice.
pub(super) fn labels_of(dimension: Dimension, kind: Option<Kind>) -> String {
    let has_it = |row: &&Row| {
        let is_one = row.dimensions().contains(&dimension) && !is_basis(row);
        is_one && kind.is_none_or(|kind| is_of(row, kind))
    };
    choice(one_a_field(ATTRIBUTES.rows().filter(has_it)))
}

/// Whether an ingredient of the kind can have it.
pub(super) fn is_of(row: &Row, kind: Kind) -> bool {
    kind == Kind::Other || row.kinds.is_empty() || row.kinds.contains(&kind)
}

/// Whether a word labels a share.
pub(in crate::notation) fn may_label(word: &str) -> bool {
    let rule = ATTRIBUTES.named(word);
    rule.is_some_and(|rule| rule.row.dimensions() == [Dimension::Percent] && word != "dry")
}

/// Whether a word is the label of a concentration, whatever has it: `acidity`.
pub(in crate::notation) fn labels_dose(word: &str) -> bool {
    let rule = ATTRIBUTES.named(word);
    rule.is_some_and(|rule| rule.row.dimensions().contains(&Dimension::Concentration))
}

/// Whether an ingredient of the kind can have the figure of that label.
pub(in crate::notation) fn has_figure(kind: Kind, label: &str) -> bool {
    ATTRIBUTES
        .named(label)
        .is_some_and(|rule| is_of(&rule.row, kind))
}

/// What can be stated of a kind, as a choice.
pub(super) fn stated_of(kind: Kind) -> String {
    let has_it = |row: &&Row| row.kinds.contains(&kind) && !is_basis(row);
    let figures = one_a_field(ATTRIBUTES.rows().filter(has_it));
    let forms = HOP_FORMS.rows().chain(FRUIT_FORMS.rows()).filter(has_it);
    choice(figures.chain(forms.map(Row::word)))
}

/// The words of rows, those of one field by the first.
fn one_a_field(rows: impl Iterator<Item = &'static Row>) -> impl Iterator<Item = &'static str> {
    let mut last = "";
    rows.filter(move |row| std::mem::replace(&mut last, row.field) != row.field)
        .map(Row::word)
}

/// Whether extract is what the ingredient is added for.
pub(super) const fn is_fermentable(kind: Kind) -> bool {
    matches!(kind, Kind::Malt | Kind::Grain | Kind::Sugar | Kind::Juice)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_measured_in_the_dimensions_that_are_looked_for() {
        let of_rows = |dimension| ATTRIBUTES.rows().any(|row| row.dimensions() == [dimension]);
        assert!(DIMENSIONS.into_iter().all(of_rows));
        let known = |row: &Row| {
            row.dimensions()
                .iter()
                .all(|of_row| DIMENSIONS.contains(of_row))
        };
        assert!(ATTRIBUTES.rows().all(known));
    }

    #[test]
    fn a_unit_tells_the_figure_where_only_one_has_it() {
        let told = |dimension| told_by(dimension).map(|rule| rule.row.word());
        assert_eq!(told(Dimension::Colour), Some("colour"));
        assert_eq!(told(Dimension::Gravity), Some("brix"));
        assert_eq!(told(Dimension::Percent), None);
    }
}
