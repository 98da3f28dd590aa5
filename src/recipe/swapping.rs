//! How swaps are made in a recipe: lines replaced, blends edited, shares brought back to a whole.

use super::swap::{Line, Section, Swap, Swaps};
use super::{Addition, Amount, Content, PackSize, Recipe};
use crate::diagnostic::{Error, ErrorKind, nearest};
use crate::quantity::{Quantity, Share, VolumeShare, Written};

/// Shares are made so much smaller while they are edited, so that none passes the whole before they add up again.
const ROOM: f64 = 1.0 / 1024.0;

/// A swap or a change of base malt at the place that it belongs to.
#[derive(Clone, Copy)]
struct Edit<'a> {
    index: usize,
    part: Option<usize>,
    what: What<'a>,
}

#[derive(Clone, Copy)]
enum What<'a> {
    Swap(&'a Swap),
    Factor(f64),
}

/// A part that goes to another section, with its amount.
struct Mover {
    section: Section,
    addition: Addition,
}

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
    /// use wortwright::catalogue::Kind;
    /// use wortwright::quantity::{Proportion, Share, Written};
    /// use wortwright::recipe::{Addition, Amount, Ingredient, Line, Recipe, Section, Swap, SwapPart};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let mut recipe = Recipe::new("Two malts");
    /// for (name, share) in [("pale ale malt", 0.9), ("flaked spelt", 0.1)] {
    ///     let mut line = Addition::of(Ingredient::new(name, Kind::Grain));
    ///     line.amount = Some(Amount::Share(Written::in_base_unit(Share::from_fraction(share)?)));
    ///     recipe.mash.additions.push(line);
    /// }
    /// let swap = Swap {
    ///     replaced: Line::first(Section::Mash, "flaked spelt"),
    ///     parts: vec![SwapPart {
    ///         ingredient: Ingredient::new("flaked wheat", Kind::Grain),
    ///         ratio: Proportion::from_ratio(1.0)?,
    ///         moved: None,
    ///     }],
    ///     base_malt: None,
    /// };
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
    fn place_of(&self, line: &Line) -> Result<(usize, Option<usize>), Error> {
        let mut seen = 0;
        let mut names = Vec::new();
        for (index, addition) in self.section(line.section).enumerate() {
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
                        *share = times(share, factor)?;
                    }
                }
            }
        }
        Ok(())
    }
}

/// The lines that stand for `line` after the edits that concern it.
fn edit_line(
    line: Addition,
    edits: &[&Edit<'_>],
    movers: &mut Vec<Mover>,
) -> Result<Vec<Addition>, Error> {
    if edits.is_empty() {
        return Ok(vec![line]);
    }
    if let Content::Blend(parts) = line.content {
        let blend = Addition {
            content: Content::Blend(Vec::new()),
            ..line
        };
        return edit_blend(blend, parts, edits, movers).map(|line| line.into_iter().collect());
    }
    let mut line = line;
    // Several swaps may each ask for a little more or less of one base malt: their changes add up.
    let change: f64 = edits
        .iter()
        .map(|edit| match edit.what {
            What::Factor(factor) => factor - 1.0,
            What::Swap(_) => 0.0,
        })
        .sum();
    if change != 0.0 {
        let factor = (1.0 + change).max(0.0);
        line.amount = line.amount.map(|a| scaled(&a, factor)).transpose()?;
    }
    let Some(swap) = edits.iter().find_map(|edit| match edit.what {
        What::Swap(swap) => Some(swap),
        What::Factor(_) => None,
    }) else {
        return Ok(vec![line]);
    };
    let staying = swap
        .parts
        .iter()
        .filter(|part| part.moved.is_none())
        .count();
    if line.amount.is_none() && swap.parts.len() > 1 {
        return Err(Error::new(
            ErrorKind::Contradiction,
            format!(
                "`{}` has no amount of its own, so that only one ingredient can stand for it",
                swap.replaced.name
            ),
        ));
    }
    // Parts that are a share of the liquid's volume stay one addition, since each would change the volume for the next.
    if let Some(Amount::ShareByVolume(total)) = &line.amount
        && staying > 1
    {
        let blend = Addition {
            content: Content::Blend(Vec::new()),
            amount: Some(Amount::ShareByVolume(*total)),
            timing: line.timing.clone(),
        };
        let whole = Addition {
            amount: Some(Amount::Share(Written::in_base_unit(Share::from_fraction(
                1.0,
            )?))),
            ..line
        };
        let edits: Vec<Edit<'_>> = edits
            .iter()
            .map(|edit| Edit {
                part: Some(0),
                ..**edit
            })
            .collect();
        let edits: Vec<&Edit<'_>> = edits.iter().collect();
        return edit_blend(blend, vec![whole], &edits, movers)
            .map(|line| line.into_iter().collect());
    }
    let mut lines = Vec::new();
    for part in &swap.parts {
        let addition = Addition {
            content: Content::Single(part.ingredient.clone()),
            amount: match &line.amount {
                Some(amount) => Some(scaled(amount, part.ratio.ratio())?),
                None => None,
            },
            timing: line.timing.clone(),
        };
        match &part.moved {
            None => lines.push(addition),
            Some(moved) => movers.push(Mover {
                section: moved.section,
                addition: Addition {
                    timing: moved.timing.clone(),
                    ..addition
                },
            }),
        }
    }
    Ok(lines)
}

/// A blend with some of its parts replaced; none where nothing of it is left.
fn edit_blend(
    mut blend: Addition,
    parts: Vec<Addition>,
    edits: &[&Edit<'_>],
    movers: &mut Vec<Mover>,
) -> Result<Option<Addition>, Error> {
    let room = if blend.amount.is_some() { ROOM } else { 1.0 };
    let mut left = Vec::new();
    for (index, mut part) in parts.into_iter().enumerate() {
        if let Some(Amount::Share(share)) = &mut part.amount {
            *share = times(share, room)?;
        }
        let here: Vec<Edit<'_>> = edits
            .iter()
            .filter(|edit| edit.part == Some(index))
            .map(|edit| Edit {
                part: None,
                ..**edit
            })
            .collect();
        let here: Vec<&Edit<'_>> = here.iter().collect();
        let moved_before = movers.len();
        left.extend(edit_line(part, &here, movers)?);
        // What leaves the blend takes its part of the blend's own amount along.
        for mover in movers.iter_mut().skip(moved_before) {
            if let (Some(Amount::Share(share)), Some(whole)) =
                (&mover.addition.amount, &blend.amount)
            {
                mover.addition.amount = Some(scaled(whole, share.value().fraction() / room)?);
            }
        }
    }
    if left.is_empty() {
        return Ok(None);
    }
    let share = |part: &Addition| match &part.amount {
        Some(Amount::Share(share)) => share.value().fraction(),
        _ => 0.0,
    };
    let sum: f64 = left.iter().map(share).sum();
    if let Some(amount) = &blend.amount
        && sum > 0.0
    {
        blend.amount = Some(scaled(amount, sum / room)?);
        for part in &mut left {
            if let Some(Amount::Share(share)) = &mut part.amount {
                *share = times(share, 1.0 / sum)?;
            }
        }
    }
    blend.content = Content::Blend(left);
    Ok(Some(blend))
}

/// `factor` times an amount.
fn scaled(amount: &Amount, factor: f64) -> Result<Amount, Error> {
    Ok(match amount {
        Amount::Mass(mass) => Amount::Mass(times(mass, factor)?),
        Amount::Volume(volume) => Amount::Volume(times(volume, factor)?),
        Amount::Concentration(dose) => Amount::Concentration(times(dose, factor)?),
        Amount::Dose(dose) => Amount::Dose(times(dose, factor)?),
        Amount::Share(share) => Amount::Share(times(share, factor)?),
        Amount::ShareByVolume(total) => Amount::ShareByVolume(share_of_volume(total, factor)?),
        Amount::Bitterness(ibu) => Amount::Bitterness(times(ibu, factor)?),
        Amount::Packs { count, each } => match each {
            PackSize::Mass(mass) => Amount::Mass(times(mass, factor * f64::from(*count))?),
            PackSize::Volume(volume) => Amount::Volume(times(volume, factor * f64::from(*count))?),
        },
        Amount::PackCount(count) => Amount::PackCount(count * factor),
    })
}

fn times<Q: Quantity>(written: &Written<Q>, factor: f64) -> Result<Written<Q>, Error> {
    let base = written.value().in_base() * factor;
    let value = Q::from_base(base)?;
    Ok(Written::converted(
        value,
        written.unit().from_base(base),
        written.unit(),
    ))
}

/// The share of the liquid's volume after the addition when `factor` times as much goes in.
fn share_of_volume(
    total: &Written<VolumeShare>,
    factor: f64,
) -> Result<Written<VolumeShare>, Error> {
    let share = total.value().fraction();
    let added = share / (1.0 - share).max(1e-9) * factor;
    times(total, added / (1.0 + added) / share.max(f64::MIN_POSITIVE))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Kind;
    use crate::quantity::{Proportion, Unit};
    use crate::recipe::{HotStep, Ingredient, Moved, Stand, SwapPart, Timing};

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

    fn moved_to(section: Section, replaced: Line) -> Swap {
        Swap {
            replaced,
            parts: vec![SwapPart {
                ingredient: Ingredient::new("sucrose", Kind::Sugar),
                ratio: Proportion::from_ratio(0.8).unwrap(),
                moved: Some(Moved {
                    section,
                    timing: Timing::default(),
                }),
            }],
            base_malt: None,
        }
    }

    #[test]
    fn a_substitute_goes_anywhere_but_into_a_stand() {
        let recipe = honey_in_the_boil();
        let line = || Line::first(Section::Boil, "honey");
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
            (error.to_string(), error.help().map(str::to_owned))
        };
        let (message, help) = told(Line::first(Section::Boil, "honney"));
        assert_eq!(message, "the recipe has no line `honney` in `boil`");
        assert_eq!(help.as_deref(), Some("did you mean `honey`?"));
        let mut second = Line::first(Section::Boil, "honey");
        second.nth = 1;
        let (message, help) = told(second);
        assert_eq!(message, "the recipe has no second line `honey` in `boil`");
        assert_eq!(help, None);
    }
}
