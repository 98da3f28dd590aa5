//! Names of ingredients: the catalogue's longest match, else what the line itself states.

use super::Lower;
use super::figure::is_fermentable;
use super::form::is_form;
use super::item::Stated;
use crate::catalogue::{Kind, Reached};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::Cursor;
use crate::notation::grammar::Block;
use crate::notation::note::ReadingNote;
use crate::notation::tree::{Token, TokenKind, span_of, text_of};
use crate::recipe::{Amount, Facts, Ingredient, is_called_hop};

/// A name as it stands on a line, and what the catalogue knows under it.
pub(super) struct Named {
    pub(super) text: String,
    pub(super) span: Span,
    known: Option<Known>,
}

struct Known {
    entry: String,
    kind: Kind,
    /// Why this entry stands for a generic name.
    default: Option<String>,
}

impl Named {
    pub(super) fn kind(&self) -> Option<Kind> {
        self.known.as_ref().map(|known| known.kind)
    }
}

impl Lower<'_> {
    /// The name that comes next; what is left behind it are attributes.
    pub(super) fn name(&mut self, cursor: &mut Cursor<'_, '_>) -> Named {
        let tokens = cursor.rest();
        if let Some((first, _)) = tokens.split_first()
            && let TokenKind::Quoted(text) = first.kind()
        {
            cursor.skip(1);
            let known = self.catalogue.find(text).map(known);
            return Named {
                text: text.to_owned(),
                span: first.span(),
                known,
            };
        }
        let mut text = text_of(tokens);
        if let Some(longest) = self.catalogue.longest_match(&text) {
            let (count, length) = tokens_within(tokens, longest.bytes);
            let (name, rest) = tokens.split_at(count.min(tokens.len()));
            if rest.first().is_none_or(Token::is_number) || is_form(rest) {
                cursor.skip(count);
                text.truncate(length);
                return Named {
                    text,
                    span: span_of(name).unwrap_or_default(),
                    known: Some(known(longest.found)),
                };
            }
        }
        // An unknown name ends where a number with something behind it begins.
        let end = tokens
            .windows(2)
            .skip(1)
            .position(|pair| matches!(pair, [number, unit] if number.is_number() && unit.word().is_some()))
            .map_or(tokens.len(), |at| at + 1);
        let (name, _) = tokens.split_at(end);
        cursor.skip(end);
        Named {
            text: text_of(name),
            span: span_of(name).unwrap_or_default(),
            known: None,
        }
    }

    /// The ingredient of a name with its figures; complains of an unknown one that lacks what its stage needs.
    pub(super) fn ingredient(
        &mut self,
        named: Named,
        facts: Facts,
        stage: Block,
        stated: &Stated,
    ) -> Ingredient {
        let Some(mut known) = named.known else {
            let kind = guess(&named.text, &facts, stage, stated);
            self.unknown(&named.text, named.span, kind, &facts, stage);
            return Ingredient {
                name: named.text,
                entry: None,
                kind,
                facts,
            };
        };
        if stage == Block::Pitch && known.kind != Kind::Yeast {
            self.push(
                Diagnostic::error(
                    Code::WrongBlock,
                    named.span,
                    format!("expected a yeast after `pitch`, found `{}`", named.text),
                )
                .with_help("write `add` for additions to the fermenter other than the yeast"),
            );
        }
        if stage == Block::Sour && known.kind != Kind::Yeast {
            let message = format!("expected bacteria after `with`, found `{}`", named.text);
            self.push(
                Diagnostic::error(Code::WrongBlock, named.span, message).with_help(
                    "write a culture, such as `with lactobacillus culture`; hops go in after souring, acid into the mash",
                ),
            );
        }
        // A generic name with a colour of its own is that grade.
        if known.default.is_some()
            && let Some(colour) = &facts.colour
            && let Some(found) = self.catalogue.find(&known.entry)
        {
            let grade = self.catalogue.grade(found.entry, colour.value());
            if grade != found.entry {
                grade.name().clone_into(&mut known.entry);
                known.default = Some("the grade nearest to its colour".to_owned());
            }
        }
        if let Some(reason) = known.default {
            self.notes.push(ReadingNote::GenericName {
                name: named.text.clone(),
                entry: known.entry.clone(),
                reason,
                span: named.span,
            });
        }
        Ingredient {
            name: named.text,
            entry: Some(known.entry),
            kind: known.kind,
            facts,
        }
    }

    fn unknown(&mut self, name: &str, span: Span, kind: Kind, facts: &Facts, stage: Block) {
        if self.sink.is_full() {
            self.push(Diagnostic::error(
                Code::UnknownIngredient,
                span,
                String::new(),
            ));
            return;
        }
        let of_kind = match kind {
            Kind::Hop | Kind::Yeast | Kind::Juice => Some(kind),
            // What is among the malts is no fruit, however near its name.
            Kind::Malt | Kind::Grain if stage == Block::Mash => Some(Kind::Malt),
            _ => None,
        };
        let mut near = self.catalogue.near(name, of_kind);
        // A juice may be misspelt where another fermentable stands; a hop is never mistaken for an acid.
        if near.is_empty() && kind == Kind::Juice {
            near = self.catalogue.near(name, None);
        }
        // `300 g honney` in the boil could be anything, but two letters off a sugar it is no additive.
        let misspelt = near
            .first()
            .filter(|near| strsim::osa_distance(&name.to_lowercase(), &near.to_lowercase()) <= 2);
        let kind = match misspelt.and_then(|near| self.catalogue.find(near)) {
            Some(found) if kind == Kind::Other => found.entry.kind(),
            _ => kind,
        };
        let did_you_mean = match near.as_slice() {
            [] => None,
            names => Some(format!("did you mean `{}`?", names.join("`, or `"))),
        };
        let needs = match kind {
            Kind::Hop => (facts.alpha.is_none() && bitters(stage))
                .then_some("its alpha acids, such as `9 % alpha`"),
            // Bacteria that sour a wort are known by what they come to, a yeast by the printed final gravity or by its grist.
            Kind::Yeast => None,
            Kind::Juice => (facts.brix.is_none()).then_some("its sugar, such as `12 Bx`"),
            Kind::Sugar => {
                (facts.extract.is_none()).then_some("its extract, such as `80 % extract`")
            }
            kind if is_fermentable(kind) => (facts.extract.is_none() || facts.colour.is_none())
                .then_some("its extract and colour, such as `80 % extract dry, 6 EBC`"),
            // What its line says of it is all that needs to be known.
            _ if near.is_empty() && facts.says_what_it_brings() => return,
            _ => None,
        };
        let what = match kind {
            Kind::Hop => "hop",
            Kind::Yeast => "yeast",
            Kind::Juice => "juice",
            Kind::Malt | Kind::Sugar => "fermentable",
            _ => "ingredient",
        };
        let article = if what == "ingredient" { "an" } else { "a" };
        let message = format!("expected {article} {what} of the ingredient table, found `{name}`");
        let is_known_enough =
            kind != Kind::Other || stage == Block::Stock || facts.says_what_it_brings();
        let diagnostic = match needs {
            Some(figures) if stage != Block::Stock => {
                let code = if kind == Kind::Hop { Code::MissingAlpha } else { Code::UnknownIngredient };
                let state = format!("state {figures}");
                Diagnostic::error(code, span, message).with_help(match did_you_mean {
                    Some(near) => format!("{near} Else {state}"),
                    None => state,
                })
            }
            _ => Diagnostic::warning(Code::UnknownIngredient, span, message).with_help(did_you_mean.unwrap_or_else(
                || if kind == Kind::Yeast && stage != Block::Sour && facts.attenuation.is_none() {
                    "state its attenuation, such as `attenuation 75 %`; without it the grist and the final gravity of the original sheet decide".to_owned()
                } else if is_known_enough {
                    "check the spelling; only the figures on its line count".to_owned()
                } else {
                    format!("write its extract, or that it has none: `{name}, 60 % extract`, `{name}, 9 Bx` or `{name}, brings nothing`")
                },
            )),
        };
        self.push(diagnostic);
    }
}

fn known(found: crate::catalogue::Found<'_>) -> Known {
    Known {
        entry: found.entry.name().to_owned(),
        kind: found.entry.kind(),
        default: match found.reached {
            Reached::Generic { reason, .. } => Some(reason.to_owned()),
            _ => None,
        },
    }
}

/// How many tokens the first `bytes` of their joined text take, and how long the joined text of these is.
fn tokens_within(tokens: &[Token<'_>], bytes: usize) -> (usize, usize) {
    let mut length = 0;
    for (at, token) in tokens.iter().enumerate() {
        length += token.text().len() + usize::from(at > 0);
        if length >= bytes {
            return (at + 1, length);
        }
    }
    (tokens.len(), length)
}

/// Whether a hop there may give bitterness, so that its alpha acids must be known.
const fn bitters(stage: Block) -> bool {
    matches!(stage, Block::Mash | Block::Boil | Block::Stand)
}

/// What an unknown name most likely is, by what its line states, by itself and by where it stands.
fn guess(name: &str, facts: &Facts, stage: Block, stated: &Stated) -> Kind {
    let amount = match stated {
        Stated::Amount(amount, _) => Some(amount),
        _ => None,
    };
    if facts.alpha.is_some()
        || facts.form.is_some()
        || matches!(amount, Some(Amount::Bitterness(_)))
    {
        return Kind::Hop;
    }
    if facts.fruit_form.is_some() {
        return Kind::Juice;
    }
    if matches!(stage, Block::Pitch | Block::Sour)
        || facts.attenuation.is_some()
        || facts.pitch_rate.is_some()
    {
        return Kind::Yeast;
    }
    if facts.alcohol.is_some() {
        return Kind::Beverage;
    }
    if facts.brix.is_some() || facts.acidity.is_some() {
        return Kind::Juice;
    }
    let is_fermentable = facts.extract.is_some() || facts.colour.is_some();
    // In the fermenter one without a cultivar brings no bitterness that would have to be known.
    let may_be_hop =
        bitters(stage) || matches!(stage, Block::Stock | Block::Ferment | Block::Package);
    if is_called_hop(name) && !is_fermentable && may_be_hop {
        return Kind::Hop;
    }
    let share = matches!(amount, Some(Amount::Share(_) | Amount::ShareByVolume(_)));
    match stage {
        _ if facts.brings_nothing => Kind::Other,
        Block::Mash => Kind::Malt,
        Block::Ferment if share => Kind::Juice,
        Block::Boil if share => Kind::Sugar,
        Block::Boil | Block::Stand | Block::Ferment | Block::Package | Block::Log
            if facts.extract.is_some() =>
        {
            Kind::Sugar
        }
        _ if is_fermentable => Kind::Malt,
        _ => Kind::Other,
    }
}
