//! The forms of hops and of fruit.

use crate::catalogue::Kind;
use crate::notation::grammar::{Block, Row, Rule, Table};
use crate::notation::tree::{Token, text_of};
use crate::recipe::{FruitForm, HopForm};

const fn form_of(
    words: &'static [&'static str],
    example: &'static str,
    bent: &'static [&'static str],
) -> Row {
    Row::new(Block::HopForm, words, "facts.form")
        .of(&[Kind::Hop])
        .example(Block::Boil, example, bent)
}

/// The forms of a hop.
pub(super) static HOP_FORMS: Table<HopForm> = Table(&[
    Rule {
        row: form_of(
            &["pellet", "pellets"],
            "50 g cascade, pellet, 5 % alpha at 60 min",
            &[
                "50 g cascade, whole, 5 % alpha at 60 min",
                "50 g cascade, fresh, 5 % alpha at 60 min",
            ],
        ),
        read: HopForm::Pellet,
    },
    Rule {
        row: form_of(
            &[
                "whole",
                "cone",
                "cones",
                "leaf",
                "whole cone",
                "whole cones",
            ],
            "50 g cascade, whole, 5 % alpha at 60 min",
            &[
                "50 g cascade, pellet, 5 % alpha at 60 min",
                "50 g cascade, fresh, 5 % alpha at 60 min",
            ],
        ),
        read: HopForm::Whole,
    },
    Rule {
        row: form_of(
            &["fresh", "wet"],
            "50 g cascade, fresh, 5 % alpha at 60 min",
            &[
                "50 g cascade, pellet, 5 % alpha at 60 min",
                "50 g cascade, whole, 5 % alpha at 60 min",
            ],
        ),
        read: HopForm::Fresh,
    },
    Rule {
        row: form_of(
            &["extract"],
            "50 g cascade, extract, 5 % alpha at 60 min",
            &[
                "50 g cascade, pellet, 5 % alpha at 60 min",
                "50 g cascade, fresh, 5 % alpha at 60 min",
            ],
        ),
        read: HopForm::Extract,
    },
]);

const fn fruit_of(
    words: &'static [&'static str],
    example: &'static str,
    bent: &'static [&'static str],
) -> Row {
    Row::new(Block::FruitForm, words, "facts.fruit_form")
        .of(&[Kind::Juice])
        .example(Block::Ferment, example, bent)
}

/// How fruit is prepared.
pub(super) static FRUIT_FORMS: Table<FruitForm> = Table(&[
    Rule {
        row: fruit_of(
            &["thawed", "frozen", "crushed"],
            "add 3 kg raspberry, thawed on day 5",
            &["add 3 kg raspberry, puree on day 5"],
        ),
        read: FruitForm::Thawed,
    },
    Rule {
        row: fruit_of(
            &["chopped"],
            "add 3 kg apple, chopped on day 5",
            &["add 3 kg apple, thawed on day 5"],
        ),
        read: FruitForm::Chopped,
    },
    Rule {
        row: fruit_of(
            &["pitted", "stoned"],
            "add 3 kg sour cherry, pitted on day 5",
            &["add 3 kg sour cherry, thawed on day 5"],
        ),
        read: FruitForm::Pitted,
    },
    Rule {
        row: fruit_of(
            &["puree", "pureed"],
            "add 3 kg raspberry, puree on day 5",
            &["add 3 kg raspberry, thawed on day 5"],
        ),
        read: FruitForm::Puree,
    },
    Rule {
        row: fruit_of(
            &["pressed"],
            "add 3 kg raspberry, pressed on day 5",
            &["add 3 kg raspberry, thawed on day 5"],
        ),
        read: FruitForm::Pressed,
    },
]);

/// Whether a word is a form of hops.
pub(in crate::notation) fn is_form_of_hops(word: &str) -> bool {
    HOP_FORMS.named(word).is_some() && word != "extract"
}

/// Whether a word is a form of fruit.
pub(in crate::notation) fn is_form_of_fruit(word: &str) -> bool {
    FRUIT_FORMS.named(word).is_some()
}

/// Whether the tokens name the form of a hop or of fruit.
pub(super) fn is_form(tokens: &[Token<'_>]) -> bool {
    let text = text_of(tokens);
    tokens.len() <= 2 && (HOP_FORMS.named(&text).is_some() || FRUIT_FORMS.named(&text).is_some())
}
