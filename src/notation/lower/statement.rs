//! Lines without indent, and lines that stand where they do not belong.

use super::LineReader;
use super::Lower;
use super::ferment::FERMENT;
use super::head::TARGETS;
use super::log::LOG;
use super::mash::MASH;
use super::package::PACKAGE;
use super::plant_line::PLANT;
use crate::diagnostic::{Code, Diagnostic, Span, nearest};
use crate::notation::cursor::{ANY, Cursor, opens};
use crate::notation::grammar::{Block, Role, Row, Rule, Table, Takes, begins_with};
use crate::notation::tree::{Line, Token};
use crate::quantity::Dimension;

const fn row(words: &'static [&'static str], field: &'static str) -> Row {
    Row::new(Block::Text, words, field)
}

const NAME: &[Takes] = &[Takes::Text];
const TIME: Role = Role::new("time", &[Dimension::Time]).after(&["for"]);
const TEMPERATURE: Role = Role::new("temperature", &[Dimension::Temperature]);

/// What opens a line without indent.
pub(super) static STATEMENTS: Table<LineReader> = Table(&[
    Rule {
        row: row(&["recipe"], "recipe.name").takes(NAME).example(
            Block::Text,
            "recipe Low Tide",
            &["recipe High Tide", "recipe Spring Tide"],
        ),
        read: |lower, line, cursor| lower.recipe_line(line, cursor),
    },
    Rule {
        row: row(&["source"], "recipe.source").takes(NAME).example(
            Block::Text,
            "source printed sheet",
            &["source a talk", "source printed sheet of a friend"],
        ),
        read: |lower, line, cursor| lower.source_line(line, cursor),
    },
    Rule {
        row: row(&["brewed on"], "recipe.brewed_on").takes(NAME).example(
            Block::Text,
            "brewed on Old works",
            &["brewed on New works", "brewed on Works"],
        ),
        read: |lower, line, cursor| lower.brewed_on(line, cursor),
    },
    Rule {
        row: row(&["batch"], "recipe.batch")
            .takes(super::head::BATCH)
            .example(
                Block::Text,
                "batch 20 L into fermenter",
                &["batch 21 L into fermenter", "batch 20 L packaged"],
            ),
        read: |lower, line, cursor| lower.recipe_batch(line, cursor),
    },
    Rule {
        row: row(&["target", "targets"], "recipe.targets")
            .takes(&[Takes::Figures(Block::Target)])
            .example(
                Block::Text,
                "target original 12 P",
                &["target original 13 P", "target final 3 P"],
            ),
        read: |lower, line, cursor| lower.target_line(line, cursor),
    },
    Rule {
        row: row(&["shares"], "recipe.share_basis")
            .takes(&[Takes::Words(Block::ShareBasis)])
            .example(Block::Text, "shares by weight", &["shares by extract"]),
        read: |lower, line, cursor| lower.shares_line(line, cursor),
    },
    Rule {
        row: row(&["water"], "recipe.water")
            .takes(&[Takes::Figures(Block::Water)])
            .example(
                Block::Text,
                "water calcium 60 mg/L",
                &["water calcium 70 mg/L", "water sodium 60 mg/L"],
            ),
        read: |lower, line, cursor| lower.water_block(line, cursor),
    },
    Rule {
        row: row(&["mash"], "recipe.mash").example(
            Block::Text,
            "mash\n  5 kg pale ale malt",
            &["mash\n  6 kg pale ale malt", "mash\n  5 kg wheat malt"],
        ),
        read: |lower, line, cursor| lower.mash_block(line, cursor),
    },
    Rule {
        row: row(&["sour", "kettle sour", "souring"], "recipe.souring")
            .takes(super::sour::SOUR)
            .example(
                Block::Text,
                "sour for 2 days at 38 C to pH 3.4",
                &[
                    "sour for 1 day at 38 C to pH 3.4",
                    "sour for 2 days at 40 C to pH 3.4",
                    "sour to pH 3.5 for 2 days at 38 C",
                    "kettle sour 48 h at 38 C to pH 3.3",
                ],
            ),
        read: |lower, line, cursor| lower.sour_line(line, cursor),
    },
    Rule {
        row: row(&["boil"], "recipe.boil.time_min")
            .takes(&[Takes::Figure(TIME.optional())])
            .example(
                Block::Text,
                "boil 60 min",
                &["boil 75 min", "boil for 1.5 h"],
            ),
        read: |lower, line, cursor| lower.boil_block(line, cursor),
    },
    Rule {
        row: row(&["stand"], "recipe.hot_side[#].stand")
            .takes(super::kettle::STAND)
            .example(
                Block::Text,
                "stand 40 min at 95 C",
                &["stand 30 min at 95 C", "stand at 90 C for 40 min"],
            ),
        read: |lower, line, cursor| lower.stand_block(line, cursor),
    },
    Rule {
        row: row(&["cool to", "cool"], "recipe.hot_side[#].cool")
            .takes(&[
                Takes::Figure(TEMPERATURE),
                Takes::Figure(
                    Role::new("time", &[Dimension::Time])
                        .after(&["in"])
                        .optional(),
                ),
            ])
            .example(
                Block::Text,
                "cool to 75 C in 10 min",
                &["cool to 70 C in 10 min", "cool to 75 C in 15 min"],
            ),
        read: |lower, line, cursor| lower.cool_line(line, cursor),
    },
    Rule {
        row: row(&["ferment", "fermentation"], "recipe.fermentation").example(
            Block::Text,
            "ferment\n  hold 20 C for 5 days",
            &[
                "ferment\n  hold 19 C for 5 days",
                "ferment\n  hold 20 C for 6 days",
            ],
        ),
        read: |lower, line, cursor| lower.ferment_block(line, cursor),
    },
    Rule {
        row: row(&["package"], "recipe.package").example(
            Block::Text,
            "package keg, carbonate 5 g/L at 4 C",
            &[
                "package keg, carbonate 6 g/L at 4 C",
                "package keg, carbonate 5 g/L at 8 C",
            ],
        ),
        read: |lower, line, cursor| lower.package_block(line, cursor),
    },
    Rule {
        row: row(&["brewhouse"], "brewhouses[*]").takes(NAME).example(
            Block::Text,
            "brewhouse Stove top\n  kettle 16 L",
            &[
                "brewhouse Garage\n  kettle 16 L",
                "brewhouse Stove top\n  kettle 20 L",
            ],
        ),
        read: |lower, line, cursor| lower.brewhouse_block(line, cursor),
    },
    Rule {
        row: row(&["stock"], "stock").example(
            Block::Text,
            "stock\n  6 kg pale ale malt",
            &["stock\n  5 kg pale ale malt", "stock\n  any pale ale malt"],
        ),
        read: |lower, line, cursor| lower.stock_block(line, cursor),
    },
    Rule {
        row: row(&["ingredient"], "ingredients[#]").takes(NAME).example(
            Block::Text,
            "ingredient Barn-smoked malt\n  like pale ale malt",
            &[
                "ingredient Smoked wheat\n  like wheat malt",
                "ingredient Barn-smoked malt\n  like pale ale malt\n  7 EBC",
            ],
        ),
        // Own ingredients were read before everything that may name them; here their inputs are noted.
        read: |lower, line, cursor| {
            if lower.trace.is_some() {
                drop(lower.own_ingredient(line, cursor));
            }
        },
    },
    Rule {
        row: row(&["log"], "logs[*]").takes(NAME).example(
            Block::Text,
            "log second brew\n  reading 1.020 at 20 C on day 5",
            &[
                "log third brew\n  reading 1.020 at 20 C on day 5",
                "log second brew\n  reading 1.012 at 20 C on day 5",
            ],
        ),
        read: |lower, line, cursor| lower.log_block(line, cursor),
    },
]);

/// What a text may hold beside a recipe, read after a second recipe too.
const BESIDE_A_RECIPE: [&str; 5] = ["recipe", "brewhouse", "stock", "ingredient", "log"];

impl Lower<'_> {
    pub(super) fn statement(&mut self, line: &Line<'_>) {
        let tokens = line.tokens();
        let Some(first) = tokens.first() else {
            return;
        };
        let found = opening(tokens).filter(|(_, word)| {
            // `mash in 3 L/kg` and `mash tun 20 L` are no `mash`.
            let longer = |other: &&str| other.len() > word.len() && opens(tokens, other);
            !lines_opened(tokens).any(|row| row.words.iter().any(&longer))
        });
        let is_of_the_recipe =
            |(rule, _): &(&Rule<LineReader>, &str)| !BESIDE_A_RECIPE.contains(&rule.row.word());
        if self.skipping && found.as_ref().is_none_or(is_of_the_recipe) {
            return;
        }
        match found {
            Some((rule, word)) => {
                let mut cursor = Cursor::new(tokens, first.span());
                cursor.pass(word);
                (rule.read)(self, line, cursor);
            }
            None => self.unknown_statement(line, first),
        }
    }

    fn unknown_statement(&mut self, line: &Line<'_>, first: &Token<'_>) {
        let tokens = line.tokens();
        let mut home = lines_opened(tokens).chain(figures_opened(tokens));
        if let Some((row, word)) = home.find_map(|row| fitting(row, tokens)) {
            let home = row.block.home();
            self.push(
                Diagnostic::error(
                    Code::WrongBlock,
                    first.span(),
                    format!("`{word}` belongs in a `{home}` block, found it without indent"),
                )
                .with_help(format!("indent it below the `{home}` line")),
            );
            return;
        }
        let near = self.near(first.text(), STATEMENTS.words());
        let message = format!(
            "expected a keyword such as `mash` or `boil`, found `{}`",
            first.text()
        );
        let help = match near.first() {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!(
                "begin a line without indent with one of: {}; indent lines that belong to the one above",
                STATEMENTS.listed()
            ),
        };
        self.push(Diagnostic::error(Code::UnknownKeyword, first.span(), message).with_help(help));
    }

    /// Reads a line of a block by the rule of its words; without any, by the rule of an item.
    pub(super) fn line_of(&mut self, table: &Table<LineReader>, block: Block, line: &Line<'_>) {
        let mut cursor = Cursor::new(line.tokens(), line.span());
        let rule = match self.verb(table, cursor) {
            Some((rule, word)) => {
                cursor.pass(word);
                Some(rule)
            }
            None if self.misplaced(line, block) => None,
            None => table.wordless(),
        };
        if let Some(rule) = rule {
            (rule.read)(self, line, cursor);
        }
    }

    /// The rule of a block that a line opens with: what follows fits it, or the line is no name that the catalogue knows.
    pub(super) fn verb<R>(
        &self,
        table: &Table<R>,
        cursor: Cursor<'_, '_>,
    ) -> Option<(&'static Rule<R>, &'static str)> {
        let (rule, word) = table.opening(cursor.rest())?;
        let behind = begins_with(cursor.rest(), word)?;
        // A word that takes nothing is part of a name if anything follows.
        let counts = rule.row.fits(behind)
            || !rule.row.takes.is_empty() && self.catalogue.longest_match(&cursor.text()).is_none();
        counts.then_some((rule, word))
    }

    /// A line of a block that opens with a word of another block, or with a misspelt word of this one.
    pub(super) fn misplaced(&mut self, line: &Line<'_>, block: Block) -> bool {
        let tokens = line.tokens();
        let Some((first, word)) = tokens
            .first()
            .and_then(|first| Some((first, first.word()?)))
        else {
            return false;
        };
        let statement = opening(tokens);
        let elsewhere = lines_opened(tokens).filter(|_| statement.is_none());
        if self.of_another_block(elsewhere, tokens, block) {
            return true;
        }
        // `stand 20 min` below `boil`: a statement that was indented.
        let follows = statement.and_then(|(_, word)| begins_with(tokens, word));
        if follows.is_some_and(|behind| behind.first().is_some_and(Token::is_number))
            && self.catalogue.find(word).is_none()
        {
            self.push(
                Diagnostic::error(
                    Code::WrongBlock,
                    first.span(),
                    format!("`{word}` stands by itself, found it in `{}`", block.home()),
                )
                .with_help("take away its indent, and that of the lines that belong to it"),
            );
            return true;
        }
        // `resst 66 C`: a word close to a verb, and what follows fits the verb.
        if tokens.get(1).is_some_and(Token::is_number) {
            let near = nearest(word, words_of(block));
            // The verb itself is read by the block.
            if let Some(near) = near.first().filter(|near| !near.eq_ignore_ascii_case(word)) {
                self.push(
                    Diagnostic::error(
                        Code::UnknownKeyword,
                        first.span(),
                        format!("expected an amount or a word such as `{near}`, found `{word}`"),
                    )
                    .with_help(format!("did you mean `{near}`?")),
                );
                return true;
            }
        }
        let own = lines_opened(tokens).any(|row| row.block == block);
        !own && self.of_another_block(figures_opened(tokens), tokens, block)
    }

    /// Complains of a line that opens with one of the rows of other blocks.
    fn of_another_block(
        &mut self,
        mut rows: impl Iterator<Item = &'static Row>,
        tokens: &[Token<'_>],
        block: Block,
    ) -> bool {
        let Some((row, word)) = rows.find_map(|row| fitting(row, tokens)) else {
            return false;
        };
        if row.block == block {
            return false;
        }
        let (home, found) = (row.block.home(), block.home());
        self.push(
            Diagnostic::error(
                Code::WrongBlock,
                tokens.first().map_or_else(Span::default, Token::span),
                format!("`{word}` belongs in a `{home}` block, found it in `{found}`"),
            )
            .with_help(format!("move the line below the `{home}` line")),
        );
        true
    }
}

/// The rule of a statement, and its words. `Sour raspberry ale` is a title: souring has figures.
fn opening(tokens: &[Token<'_>]) -> Option<(&'static Rule<LineReader>, &'static str)> {
    let (rule, words) = STATEMENTS.opening(tokens)?;
    let behind = begins_with(tokens, words)?;
    (rule.row.word() != "sour" || rule.row.fits(behind)).then_some((rule, words))
}

/// The word that opens a statement.
pub(in crate::notation) fn opens_statement(tokens: &[Token<'_>]) -> Option<&'static str> {
    let (rule, _) = opening(tokens)?;
    Some(rule.row.word())
}

/// The first words of all statements.
pub(in crate::notation) fn statement_words() -> impl Iterator<Item = &'static str> {
    STATEMENTS
        .words()
        .filter_map(|words| words.split(' ').next())
}

/// Whether a line opens with a word of any block.
pub(in crate::notation) fn opens_line(tokens: &[Token<'_>]) -> bool {
    let first = tokens.first().and_then(Token::word).unwrap_or("");
    line_words().any(|word| word.eq_ignore_ascii_case(first))
}

/// Whether a line of a log is of the notation but for its first figure, which measures another thing: `before boil 12 kg`.
pub(in crate::notation) fn measures_amiss(tokens: &[Token<'_>]) -> bool {
    let Some((rule, word)) = LOG.opening(tokens) else {
        return false;
    };
    let mut behind = Cursor::new(tokens, Span::default());
    behind.pass(word);
    let measure = behind.measure(ANY);
    measure.is_some_and(|measure| {
        let dimension = measure.unit.dimension();
        let mut roles = rule.row.roles();
        !roles.any(|role| role.dimensions.contains(&dimension))
    })
}

/// Whether a line opens with a word of any block with a letter gone wrong.
pub(in crate::notation) fn slips_line(tokens: &[Token<'_>]) -> bool {
    let first = tokens
        .first()
        .and_then(Token::word)
        .unwrap_or("")
        .to_lowercase();
    first.len() >= 4 && line_words().any(|word| strsim::osa_distance(word, &first) == 1)
}

fn line_words() -> impl Iterator<Item = &'static str> {
    let words = MASH.words().chain(FERMENT.words()).chain(PACKAGE.words());
    words
        .chain(PLANT.words())
        .chain(LOG.words())
        .chain(STATEMENTS.words())
}

/// The rows of blocks that have words of their own for lines, which the tokens open with.
fn lines_opened(tokens: &[Token<'_>]) -> impl Iterator<Item = &'static Row> {
    let rows = [
        MASH.opening(tokens).map(|(rule, _)| &rule.row),
        FERMENT.opening(tokens).map(|(rule, _)| &rule.row),
        PACKAGE.opening(tokens).map(|(rule, _)| &rule.row),
        PLANT.opening(tokens).map(|(rule, _)| &rule.row),
    ];
    rows.into_iter().flatten()
}

/// The same of figures and events, whose words are more like those of other blocks.
fn figures_opened(tokens: &[Token<'_>]) -> impl Iterator<Item = &'static Row> {
    let rows = [
        TARGETS.opening(tokens).map(|(rule, _)| &rule.row),
        LOG.opening(tokens).map(|(rule, _)| &rule.row),
    ];
    rows.into_iter().flatten()
}

/// The row and its word, if what follows fits.
fn fitting(row: &'static Row, tokens: &[Token<'_>]) -> Option<(&'static Row, &'static str)> {
    let fits = |word: &&&str| begins_with(tokens, word).is_some_and(|behind| row.fits(behind));
    let word = row
        .words
        .iter()
        .filter(fits)
        .max_by_key(|word| word.len())?;
    // What an item may follow is known by its amount.
    let is_item = matches!(row.takes, [Takes::Item]);
    let amount = || {
        begins_with(tokens, word)
            .and_then(<[_]>::first)
            .is_some_and(Token::is_number)
    };
    (!is_item || amount()).then_some((row, *word))
}

/// The words that open a line of a block.
fn words_of(block: Block) -> Vec<&'static str> {
    match block {
        Block::Mash => MASH.words().collect(),
        Block::Ferment => FERMENT.words().collect(),
        Block::Package => PACKAGE.words().collect(),
        Block::Brewhouse => PLANT.words().collect(),
        _ => Vec::new(),
    }
}
