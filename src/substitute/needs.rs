//! The lines that are to be replaced.

use super::kind_group::{KindGroup, group};
use super::setting::Setting;
use crate::catalogue::{Catalogue, EntryRef, YeastUse, folded};
use crate::diagnostic::{Error, ErrorKind, Place, nearest};
use crate::numeric::order;
use crate::process::{Item, ItemIndex, Slot, Stage};
use crate::recipe::{Available, Ingredient, RecipeLine, Section};

/// A line that is to be replaced.
#[derive(Debug, Clone)]
pub(super) struct Need {
    pub(super) line: RecipeLine,
    /// Its place in the formula.
    pub(super) index: ItemIndex,
}

pub(super) const fn section(stage: Stage) -> Section {
    match stage {
        Stage::Mash => Section::Mash,
        Stage::Sour | Stage::Boil => Section::Boil,
        Stage::Stand => Section::Stand,
        Stage::Ferment => Section::Ferment,
        Stage::Package => Section::Package,
    }
}

fn is_bacteria(culture: &Ingredient, catalogue: &Catalogue) -> bool {
    let found = catalogue.find(culture.catalogue_name());
    found.is_some_and(|found| match found.entry {
        EntryRef::Yeast(row) => row.usage == Some(YeastUse::Bacteria),
        _ => false,
    })
}

/// The words of a text, letters and figures alone.
fn words(text: &str) -> Vec<String> {
    let words = text.split(|mark: char| !mark.is_alphanumeric());
    let words = words.filter(|word| !word.is_empty());
    words.map(str::to_lowercase).collect()
}

impl Setting<'_> {
    /// The lines of the names; without names, those of which the stock has none or too little.
    pub(super) fn needs(&self, missing: &[String]) -> Result<Vec<Need>, Error> {
        let mut unlisted = self.lacking.clone();
        if self.options.from_stock {
            let listed = |key| self.lots.contains_key(key);
            // A list without any yeast, or any spice or fining, speaks of none.
            let lists = |kinds: KindGroup| {
                self.lots.iter().any(|((its_kinds, _), held)| {
                    *its_kinds == kinds
                        && held.holding.available() != Available::Nothing
                        && !is_bacteria(&held.ingredient, self.catalogue)
                })
            };
            let of_kind = self.keys.iter().filter(|(_, (kinds, _))| match kinds {
                KindGroup::Other => false,
                KindGroup::Yeast
                | KindGroup::Botanical
                | KindGroup::WaterAgent
                | KindGroup::Aid => lists(*kinds),
                KindGroup::Fermentable | KindGroup::Juice | KindGroup::Hop => true,
            });
            unlisted.extend(
                of_kind
                    .filter(|(_, key)| !listed(*key))
                    .map(|(_, (_, name))| name.clone()),
            );
        }
        let lacking = if missing.is_empty() {
            &unlisted
        } else {
            missing
        };
        let mut needs = Vec::new();
        for name in lacking {
            let key = folded(name);
            let entry = self
                .catalogue
                .find(name)
                .map(|found| folded(found.entry.name()));
            let before = needs.len();
            for (index, item) in self.formula().items.iter() {
                let known_as = folded(item.ingredient.catalogue_name());
                let named = folded(&item.ingredient.name) == key
                    || known_as == key
                    || entry.as_ref() == Some(&known_as);
                // Where bacteria sour the wort no section has lines: those are told of where they are asked for.
                let has_line = item.place.stage != Stage::Sour || !missing.is_empty();
                if named && has_line && group(item.ingredient.kind) != KindGroup::Other {
                    needs.push(Need {
                        line: self.line(index, item),
                        index,
                    });
                }
            }
            if needs.len() == before && !missing.is_empty() {
                needs.extend(self.said_as(name)?);
            }
        }
        order::sort_by_key(&mut needs, |need| need.index);
        needs.dedup_by_key(|need| need.index);
        Ok(needs)
    }

    /// The lines that the texts of the recipe call so; an error where they are none, or of several ingredients.
    fn said_as(&self, name: &str) -> Result<Vec<Need>, Error> {
        let asked = words(name);
        let mut needs: Vec<Need> = Vec::new();
        for (index, item) in self.formula().items.iter() {
            let place = item.place.place();
            let of_line = |(at, text): &&(Place, String)| {
                *at == place
                    && words(text)
                        .windows(asked.len().max(1))
                        .any(|said| *said == asked)
            };
            let can_go = group(item.ingredient.kind) != KindGroup::Other;
            if can_go && self.said.iter().any(|line| of_line(&line)) {
                needs.push(Need {
                    line: self.line(index, item),
                    index,
                });
            }
        }
        let mut names: Vec<&str> = needs.iter().map(|need| need.line.name.as_str()).collect();
        names.dedup();
        match &names[..] {
            [] => Err(self.unknown(name)),
            [_] => Ok(needs),
            several => Err(Error::new(
                ErrorKind::UnknownName,
                format!("`{name}` may be {}", several.join(" or ")),
            )
            .with_help(format!("write `{}`", several.join("` or `")))),
        }
    }

    fn unknown(&self, name: &str) -> Error {
        let names = self
            .formula()
            .items
            .values()
            .filter(|item| group(item.ingredient.kind) != KindGroup::Other)
            .map(|item| item.ingredient.name.as_str());
        let error = Error::new(
            ErrorKind::UnknownName,
            format!("the recipe has no line `{name}` that something could replace"),
        );
        match nearest(name, names).first() {
            Some(near) => error.with_help(format!("did you mean `{near}`?")),
            None => error,
        }
    }

    /// The line of an item: its name and which of that name in its section.
    fn line(&self, index: ItemIndex, item: &Item) -> RecipeLine {
        let nth = self
            .formula()
            .items
            .iter()
            .filter(|(at, other)| {
                *at < index
                    && other.place.stage == item.place.stage
                    && other.ingredient.name == item.ingredient.name
            })
            .count();
        RecipeLine {
            section: section(item.place.stage),
            name: item.ingredient.name.clone(),
            nth,
        }
    }

    /// Whether two lines want the same: so much of one ingredient at one time. Parts of blends stand for themselves.
    pub(super) fn alike(&self, one: &Need, other: &Need) -> bool {
        let (Some(first), Some(second)) = (self.item(one.index), self.item(other.index)) else {
            return false;
        };
        let amounts = &self.planned().amounts.of;
        let place = Slot {
            index: second.place.index,
            ..first.place
        };
        second.place.part.is_none()
            && second.place == place
            && amounts
                .at(one.index)
                .total_cmp(&amounts.at(other.index))
                .is_eq()
            && first.rule == second.rule
            && first.material == second.material
            && first.timing == second.timing
            && first.ingredient == second.ingredient
    }

    /// The line of an item by its place in the formula.
    pub(super) fn line_at(&self, index: ItemIndex) -> Option<RecipeLine> {
        self.item(index).map(|item| self.line(index, item))
    }
}
