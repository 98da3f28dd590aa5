//! How swaps are made in a recipe: lines replaced, blends edited, shares brought back to a whole.

use super::edit::{Edit, Mover, ROOM, What, edit_line};
use super::swap::{RecipeLine, Section, Swap, Swaps};
use super::{Addition, Amount, At, PITCH, Recipe, Timing};
use crate::diagnostic::{Error, ErrorKind, nearest};
use crate::quantity::{Temperature, Written};

/// The whole in the one unit of a share, per cent.
const WHOLE_PCT: f64 = 100.0;

impl Recipe {
    /// The same recipe with each swap made, remembering what was replaced.
    ///
    /// Shares are shares of the new whole again; a share of the liquid's volume becomes the new one. Masses and doses
    /// of other lines stay.
    ///
    /// # Errors
    ///
    /// `UnknownName` when a line is not in the recipe; `Contradiction` when a line is replaced twice, has no amount
    /// of its own and several parts, or a part is to be moved into a stand.
    ///
    /// ```
    /// use wortwright::quantity::Proportion;
    /// use wortwright::recipe::{Addition, RecipeLine, Recipe, Section, Swap, SwapPart};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let recipe = Recipe::new("Two malts")
    ///     .mash(Addition::new("pale ale malt", "90 %".parse()?))
    ///     .mash(Addition::new("flaked spelt", "10 %".parse()?));
    /// let wheat = SwapPart::new("flaked wheat", Proportion::from_ratio(1.0)?);
    /// let swap = Swap::new(RecipeLine::first(Section::Mash, "flaked spelt"), [wheat]);
    /// let swapped = recipe.with_swaps(&[swap])?;
    /// assert_eq!(swapped.mash.additions[1].ingredient().expect("a grain").name, "flaked wheat");
    /// assert_eq!(swapped.swaps.expect("one swap").made.len(), 1);
    /// # Ok(())
    /// # }
    /// ```
    pub fn with_swaps(&self, swaps: &[Swap]) -> Result<Self, Error> {
        if swaps.is_empty() {
            return Ok(self.clone());
        }
        let mut swapped = self.clone();
        let before = swapped.share_sum();
        swapped.scale_shares(ROOM)?;
        let mut movers = Vec::new();
        for section in Section::ALL {
            let edits = self.edits(section, swaps)?;
            if edits.is_empty() {
                continue;
            }
            if section == Section::Ferment
                && let Some(pitch) = swapped.fermentation.pitch.take()
            {
                let here: Vec<_> = edits.iter().filter(|e| e.index == PITCH).collect();
                swapped.fermentation.pitch = Some(edit_pitch(pitch, &here, &mut movers)?);
            }
            let mut first = 0;
            for lines in swapped.sections_mut(section) {
                let count = lines.len();
                let mut edited = Vec::with_capacity(count + 2);
                for (offset, line) in std::mem::take(lines).into_iter().enumerate() {
                    let index = first + offset;
                    let here: Vec<_> = edits.iter().filter(|e| e.index == index).collect();
                    edited.extend(edit_line(line, &here, &mut movers)?);
                }
                *lines = edited;
                first += count;
            }
        }
        for Mover { section, addition } in movers {
            let mut lists = swapped.sections_mut(section);
            match (section, lists.first_mut()) {
                (Section::Stand, _) | (_, None) => {
                    return Err(Error::new(
                        ErrorKind::Contradiction,
                        "a substitute cannot be moved into a stand",
                    )
                    .with_help("move it into the boil, with little boiling time left"));
                }
                (_, Some(lines)) => lines.push(addition),
            }
        }
        for at in swaps.iter().filter_map(|swap| swap.ferments_at) {
            swapped.ferment_at(at);
        }
        let after = swapped.share_sum();
        if before > 0.0 && after > 0.0 {
            swapped.scale_shares(before / after)?;
        }
        let (mut made, printed) = match swapped.swaps.take() {
            Some(earlier) => (earlier.made, earlier.printed),
            None => (Vec::new(), Box::new(self.clone())),
        };
        made.extend(swaps.iter().cloned());
        swapped.swaps = Some(Swaps { made, printed });
        Ok(swapped)
    }

    /// Pitches and holds at first at another temperature, where the recipe says one.
    fn ferment_at(&mut self, at: Temperature) {
        let at = Written::in_base_unit(at);
        if let Some(hold) = self.fermentation.holds.first_mut() {
            hold.temperature = at;
        }
        let pitch = self.fermentation.pitch.as_mut();
        if let Some(Addition {
            timing:
                Timing {
                    at: Some(At::Temperature(pitched)),
                    ..
                },
            ..
        }) = pitch
        {
            *pitched = at;
        }
    }

    /// Where each line that a swap speaks of stands in a section.
    fn edits<'a>(&self, section: Section, swaps: &'a [Swap]) -> Result<Vec<Edit<'a>>, Error> {
        let mut edits: Vec<Edit<'a>> = Vec::new();
        for swap in swaps {
            let base = swap
                .base_malt
                .iter()
                .map(|base| (&base.line, What::Factor(base.factor.ratio())));
            for (line, what) in std::iter::once((&swap.replaced, What::Swap(swap)))
                .chain(base)
                .filter(|(line, _)| line.section == section)
            {
                let (index, part) = self.place_of(line)?;
                let replaced_twice = matches!(what, What::Swap(_))
                    && edits.iter().any(|e| {
                        (e.index, e.part) == (index, part) && matches!(e.what, What::Swap(_))
                    });
                if replaced_twice {
                    return Err(Error::new(
                        ErrorKind::Contradiction,
                        format!("`{}` is replaced twice", line.name),
                    ));
                }
                edits.push(Edit { index, part, what });
            }
        }
        Ok(edits)
    }

    /// The index of a line in its section, and of its part in a blend.
    fn place_of(&self, line: &RecipeLine) -> Result<(usize, Option<usize>), Error> {
        let mut seen = 0;
        let mut names = Vec::new();
        let pitch = self.fermentation.pitch.iter();
        let pitch = pitch.filter(|_| line.section == Section::Ferment);
        let lines = pitch.map(|pitch| (PITCH, pitch));
        for (index, addition) in lines.chain(self.section(line.section).enumerate()) {
            let single = addition.ingredient().map(|i| (None, i));
            let parts = addition
                .parts()
                .iter()
                .enumerate()
                .filter_map(|(part, p)| Some((Some(part), p.ingredient()?)));
            for (part, ingredient) in single.into_iter().chain(parts) {
                names.push(ingredient.name.as_str());
                if ingredient.name == line.name {
                    if seen == line.nth {
                        return Ok((index, part));
                    }
                    seen += 1;
                }
            }
        }
        let which = match seen {
            0 => "",
            1 => "second ",
            _ => "further ",
        };
        let error = Error::new(
            ErrorKind::UnknownName,
            format!(
                "the recipe has no {which}line `{}` in `{}`",
                line.name,
                line.section.word()
            ),
        );
        let near = nearest(&line.name, names.iter().copied().filter(|_| seen == 0));
        Err(match near.first() {
            Some(near) => error.with_help(format!("did you mean `{near}`?")),
            None => error,
        })
    }

    /// The sum of the shares of the wort's fermentables.
    fn share_sum(&self) -> f64 {
        [Section::Mash, Section::Boil, Section::Stand]
            .into_iter()
            .flat_map(|section| self.section(section))
            .filter_map(|addition| match &addition.amount {
                Some(Amount::Share(share)) => Some(share.value().fraction()),
                _ => None,
            })
            .sum()
    }

    fn scale_shares(&mut self, factor: f64) -> Result<(), Error> {
        for section in [Section::Mash, Section::Boil, Section::Stand] {
            for lines in self.sections_mut(section) {
                for line in lines {
                    if let Some(Amount::Share(share)) = &mut line.amount {
                        // No rounding makes a share more than the whole.
                        let pct = (share.number() * factor).min(WHOLE_PCT);
                        *share = Written::new(pct, share.unit())?;
                    }
                }
            }
        }
        Ok(())
    }
}

/// The yeast after the edits that concern it: one stays one.
fn edit_pitch(
    pitch: Addition,
    edits: &[&Edit<'_>],
    movers: &mut Vec<Mover>,
) -> Result<Addition, Error> {
    let name = pitch.ingredient().map(|yeast| yeast.name.clone());
    let edited = edit_line(pitch, edits, movers)?;
    if let Ok([pitch]) = <[Addition; 1]>::try_from(edited) {
        return Ok(pitch);
    }
    let name = name.unwrap_or_default();
    let message = format!("expected one yeast for `{name}`, found none or several");
    Err(Error::new(ErrorKind::Contradiction, message)
        .with_help("add the others to the fermenter, each on a line of its own"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Kind;
    use crate::quantity::{Proportion, Unit};
    use crate::recipe::{HotStep, Ingredient, Moved, Stand, SwapPart};

    fn honey_in_the_boil() -> Recipe {
        let mut recipe = Recipe::new("Honey");
        let mut honey = Addition::of(Ingredient::new("honey", Kind::Sugar));
        honey.amount = Some(Amount::Mass(Written::new(500.0, Unit::Gram).unwrap()));
        recipe.boil.additions.push(honey);
        recipe.hot_side.push(HotStep::Stand(Stand {
            time: Written::new(20.0, Unit::Minute).unwrap(),
            temperature: None,
            additions: Vec::new(),
        }));
        recipe
    }

    fn moved_to(section: Section, replaced: RecipeLine) -> Swap {
        Swap {
            replaced,
            parts: vec![SwapPart {
                ingredient: Ingredient::new("sucrose", Kind::Sugar),
                ratio: Proportion::from_ratio(0.8).unwrap(),
                moved: Some(Moved {
                    section,
                    timing: Timing::default(),
                }),
                amount: None,
            }],
            base_malt: None,
            ferments_at: None,
        }
    }

    #[test]
    fn a_substitute_goes_anywhere_but_into_a_stand() {
        let recipe = honey_in_the_boil();
        let line = || RecipeLine::first(Section::Boil, "honey");
        let swapped = recipe.with_swaps(&[moved_to(Section::Ferment, line())]);
        let swapped = swapped.unwrap();
        assert!(swapped.boil.additions.is_empty());
        let Some(Amount::Mass(mass)) = &swapped.fermentation.additions[0].amount else {
            panic!("a mass");
        };
        assert_eq!(mass.to_string(), "400 g");
        let refused = recipe.with_swaps(&[moved_to(Section::Stand, line())]);
        assert_eq!(refused.unwrap_err().kind(), ErrorKind::Contradiction);
    }

    #[test]
    fn a_line_that_is_not_there_is_told_with_its_place() {
        let recipe = honey_in_the_boil();
        let told = |line| {
            let error = recipe.with_swaps(&[moved_to(Section::Ferment, line)]);
            let error = error.unwrap_err();
            (error.message().to_owned(), error.help().map(str::to_owned))
        };
        let (message, help) = told(RecipeLine::first(Section::Boil, "honney"));
        assert_eq!(message, "the recipe has no line `honney` in `boil`");
        assert_eq!(help.as_deref(), Some("did you mean `honey`?"));
        let mut second = RecipeLine::first(Section::Boil, "honey");
        second.nth = 1;
        let (message, help) = told(second);
        assert_eq!(message, "the recipe has no second line `honey` in `boil`");
        assert_eq!(help, None);
    }
}
