//! The ions of a recipe's `water` and of a plant's.

use super::Lower;
use super::head::{Label, labelled};
use crate::diagnostic::{Code, Diagnostic, Place};
use crate::notation::cursor::Cursor;
use crate::notation::grammar::{Block, Role, Row, Rule, Table, Takes, choice};
use crate::notation::tree::{Line, Token, span_of};
use crate::quantity::{Concentration, Dimension, Ph, Written};
use crate::recipe::{IonTargets, WaterReport};
use std::borrow::Cow;

/// An ion among others.
pub(super) struct Ion {
    slot: fn(&mut IonTargets) -> &mut Option<Written<Concentration>>,
    /// Grams of it that a report means by a gram of calcium carbonate, where reports state it so.
    per_calcium_carbonate: Option<f64>,
}

const CONCENTRATION: &[Takes] = &[Takes::Figure(Role::new(
    "concentration",
    &[Dimension::Concentration],
))];

const fn ion(
    words: &'static [&'static str],
    field: &'static str,
    example: &'static str,
    bent: &'static [&'static str],
) -> Row {
    Row::new(Block::Water, words, field)
        .takes(CONCENTRATION)
        .example(Block::Water, example, bent)
}

// By the molar masses of the IUPAC abridged atomic weights (2021): CaCO3 100.086, Ca 40.078, Mg 24.305, HCO3 61.016 g/mol.
// A mole of carbonate has the hardness of one of calcium or magnesium: 40.078/100.086 = 0.400, 24.305/100.086 = 0.243; and
// the alkalinity of two of bicarbonate: 2 x 61.016/100.086 = 1.22.
const CALCIUM: f64 = 0.400;
const MAGNESIUM: f64 = 0.243;
const BICARBONATE: f64 = 1.22;

/// The ions.
pub(super) static IONS: Table<Ion> = Table(&[
    Rule {
        row: ion(
            &["calcium", "Ca"],
            "recipe.water.calcium_g_l",
            "calcium 60 mg/L",
            &["calcium 70 mg/L", "calcium 60 mg/L as CaCO3"],
        ),
        read: Ion {
            slot: |ions| &mut ions.calcium,
            per_calcium_carbonate: Some(CALCIUM),
        },
    },
    Rule {
        row: ion(
            &["magnesium", "Mg"],
            "recipe.water.magnesium_g_l",
            "magnesium 10 mg/L",
            &["magnesium 15 mg/L", "magnesium 10 mg/L as CaCO3"],
        ),
        read: Ion {
            slot: |ions| &mut ions.magnesium,
            per_calcium_carbonate: Some(MAGNESIUM),
        },
    },
    Rule {
        row: ion(
            &["sodium", "Na"],
            "recipe.water.sodium_g_l",
            "sodium 20 mg/L",
            &["sodium 30 mg/L", "25 mg/L sodium"],
        ),
        read: Ion {
            slot: |ions| &mut ions.sodium,
            per_calcium_carbonate: None,
        },
    },
    Rule {
        row: ion(
            &["potassium", "K"],
            "recipe.water.potassium_g_l",
            "potassium 5 mg/L",
            &["potassium 8 mg/L", "6 mg/L potassium"],
        ),
        read: Ion {
            slot: |ions| &mut ions.potassium,
            per_calcium_carbonate: None,
        },
    },
    Rule {
        row: ion(
            &["sulphate", "sulfate", "SO4"],
            "recipe.water.sulphate_g_l",
            "sulphate 70 mg/L",
            &["sulphate 80 mg/L", "sulfate 90 ppm"],
        ),
        read: Ion {
            slot: |ions| &mut ions.sulphate,
            per_calcium_carbonate: None,
        },
    },
    Rule {
        row: ion(
            &["chloride", "Cl"],
            "recipe.water.chloride_g_l",
            "chloride 70 mg/L",
            &["chloride 80 mg/L", "90 ppm chloride"],
        ),
        read: Ion {
            slot: |ions| &mut ions.chloride,
            per_calcium_carbonate: None,
        },
    },
    Rule {
        row: ion(
            &["bicarbonate", "HCO3"],
            "recipe.water.bicarbonate_g_l",
            "bicarbonate 100 mg/L",
            &["bicarbonate 120 mg/L", "bicarbonate 100 mg/L as CaCO3"],
        ),
        read: Ion {
            slot: |ions| &mut ions.bicarbonate,
            per_calcium_carbonate: Some(BICARBONATE),
        },
    },
    Rule {
        row: ion(
            &["alkalinity"],
            "recipe.water.alkalinity_as_caco3_g_l",
            "alkalinity 60 mg/L",
            &["alkalinity 70 mg/L", "alkalinity 80 mg/L as CaCO3"],
        ),
        read: Ion {
            slot: |ions| &mut ions.alkalinity,
            per_calcium_carbonate: Some(1.0),
        },
    },
]);

/// Gives the place of a figure of a report.
type ReportOf = fn(&mut WaterReport) -> &mut Option<Written<Ph>>;

/// What a plant's water states beside ions.
pub(super) static WATER_REPORT: Table<ReportOf> = Table(&[Rule {
    row: Row::new(Block::WaterReport, &["pH"], "brewhouses[*].water.ph")
        .takes(&[Takes::Figure(Role::new("pH", &[Dimension::Ph]))])
        .example(
            Block::Brewhouse,
            "water pH 7.5",
            &["water pH 8", "water pH 7"],
        ),
    read: |report| &mut report.ph,
}]);

/// Behind a figure that a report states as the calcium carbonate of the same charge.
const AS_CALCIUM_CARBONATE: &str = "as CaCO3";

impl Lower<'_> {
    pub(super) fn water_block(&mut self, line: &Line<'_>, cursor: Cursor<'_, '_>) {
        self.open(line.span());
        if !self.once("water", line.span()) {
            return;
        }
        self.states(line.span(), |_| Place::recipe("water"));
        let mut ions = std::mem::take(&mut self.recipe.water);
        for tokens in std::iter::once(cursor.rest()).chain(line.lines().map(Line::tokens)) {
            for clause in tokens.split(Token::is_comma).filter(|c| !c.is_empty()) {
                self.ion(clause, &mut ions, |_, row| {
                    Place::recipe(row.field_of("recipe"))
                });
            }
        }
        if cursor.is_empty() {
            self.expect_lines(line, "water", "calcium 60 mg/L");
        }
        self.recipe.water = ions;
    }

    /// `calcium 60 mg/L, alkalinity 15 mg/L, pH 7.5`
    pub(super) fn water_report(&mut self, tokens: &[Token<'_>]) -> WaterReport {
        let mut report = WaterReport::default();
        for clause in tokens.split(Token::is_comma).filter(|c| !c.is_empty()) {
            let span = span_of(clause).unwrap_or_default();
            let (text, mut cursor) = labelled(clause, span);
            let Some(Rule { row, read }) = WATER_REPORT.named(&text) else {
                self.ion(clause, &mut report.ions, |trace, row| {
                    let water = trace.of_plant(row.field_of("recipe.water"));
                    water.part("water.ions")
                });
                continue;
            };
            self.states(span, |trace| trace.of_plant(row.field_of("brewhouses[*]")));
            let ph = self.ph(&mut cursor);
            self.fill(
                read(&mut report),
                ph,
                Label {
                    text: row.word(),
                    span,
                },
            );
            self.expect_end(cursor);
        }
        report
    }

    /// `calcium 60 mg/L`, `magnesium 40 mg/L as CaCO3`
    fn ion(
        &mut self,
        clause: &[Token<'_>],
        ions: &mut IonTargets,
        place: impl FnOnce(&mut super::Trace, &'static Row) -> Place,
    ) {
        let span = span_of(clause).unwrap_or_default();
        let (mut text, mut cursor) = labelled(clause, span);
        let behind_the_label = without_carbonate(&text).map(|label| Cow::from(label.to_owned()));
        let mut as_carbonate = behind_the_label.is_some();
        text = behind_the_label.unwrap_or(text);
        let Some(Rule { row, read: ion }) = IONS.named(&text) else {
            self.unknown_figure(&text, span, "an ion", &IONS);
            return;
        };
        self.states(span, |trace| place(trace, row));
        let label = Label { text: &text, span };
        let Some(mut measure) = self.measure(&mut cursor, row.dimensions(), label) else {
            return;
        };
        as_carbonate |= cursor.eat(&["as", "CaCO3"]);
        if as_carbonate {
            let Some(factor) = ion.per_calcium_carbonate else {
                self.no_carbonate(label);
                return;
            };
            measure = measure.times(factor);
        }
        let read = self.written(&measure);
        self.fill((ion.slot)(ions), read, label);
        self.expect_end(cursor);
    }

    fn no_carbonate(&mut self, label: Label<'_>) {
        let stated = IONS
            .0
            .iter()
            .filter(|rule| rule.read.per_calcium_carbonate.is_some());
        let stated = choice(stated.map(|rule| rule.row.word()));
        let message = format!(
            "expected {stated} to be stated {AS_CALCIUM_CARBONATE}, found `{}`",
            label.text
        );
        self.push(
            Diagnostic::error(Code::UnexpectedWords, label.span, message).with_help(format!(
                "delete `{AS_CALCIUM_CARBONATE}` and state `{}` by its own mass",
                label.text
            )),
        );
    }
}

/// The label before the words that a figure is stated as calcium carbonate, if it has them.
fn without_carbonate(label: &str) -> Option<&str> {
    let at = label.len().checked_sub(AS_CALCIUM_CARBONATE.len())?;
    let (label, words) = label.split_at_checked(at)?;
    words
        .eq_ignore_ascii_case(AS_CALCIUM_CARBONATE)
        .then(|| label.trim_end())
}
