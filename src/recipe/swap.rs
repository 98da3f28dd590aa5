//! What was put in place of something that could not be had.

use super::{Addition, Amount, Content, HotStep, Ingredient, PackSize, Recipe, Timing};
use crate::diagnostic::{Error, ErrorKind, nearest};
use crate::quantity::{Proportion, Quantity, Share, VolumeShare, Written};
use serde::{Deserialize, Serialize};

/// Shares are made so much smaller while they are edited, so that none passes the whole before they add up again.
const ROOM: f64 = 1.0 / 1024.0;

/// A part of the brewing day that has lines of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Section {
    /// The mash.
    Mash,
    /// The boil.
    Boil,
    /// The hot stands, all of them in order.
    Stand,
    /// The fermenter, the yeast aside.
    Ferment,
    /// The package.
    Package,
}

/// One line of a recipe, or one part of a blend.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Line {
    /// Where it stands.
    pub section: Section,
    /// The name as the recipe writes it.
    pub name: String,
    /// Which of the lines of that name in that section: 0 is the first.
    #[serde(default, skip_serializing_if = "is_first")]
    pub nth: usize,
}

/// What replaces one line of a recipe.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Swap {
    /// The line that goes.
    pub replaced: Line,
    /// What comes in its place.
    pub parts: Vec<SwapPart>,
    /// By how much a line of base malt is changed to keep gravity and colour.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub base_malt: Option<BaseMaltChange>,
}

/// One ingredient that comes in place of another.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SwapPart {
    /// The ingredient, with the figures of its lot.
    pub ingredient: Ingredient,
    /// How much of it for one of what is replaced, in the measure in which the recipe states that line: by mass, by
    /// volume, by extract where shares are of extract, by bitterness where the line states IBU.
    pub ratio: Proportion,
    /// Where it goes, if not where the replaced line stood: grain into the mash, sugar into the kettle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub moved: Option<Moved>,
}

/// Another place and time for a part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Moved {
    /// Where it goes; the stands cannot take a part that did not stand there.
    pub section: Section,
    /// When.
    #[serde(default)]
    pub timing: Timing,
}

/// A line of base malt with a new amount.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct BaseMaltChange {
    /// The line.
    pub line: Line,
    /// Its amount for one of what was printed.
    pub factor: Proportion,
}

/// What a recipe remembers of its swaps.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Swaps {
    /// The swaps, in the order of the lines that they replaced.
    pub made: Vec<Swap>,
    /// The recipe as it was printed: its figures, and how far its mash ferments, speak for that one.
    pub printed: Box<Recipe>,
}

#[allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde passes fields by reference"
)]
const fn is_first(nth: &usize) -> bool {
    *nth == 0
}

impl Line {
    /// The first line of this name in a section.
    pub fn first(section: Section, name: impl Into<String>) -> Self {
        Self {
            section,
            name: name.into(),
            nth: 0,
        }
    }
}

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
        for section in [
            Section::Mash,
            Section::Boil,
            Section::Stand,
            Section::Ferment,
            Section::Package,
        ] {
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
            let Some(lines) = swapped.sections_mut(section).into_iter().next() else {
                return Err(Error::new(
                    ErrorKind::Contradiction,
                    "a substitute cannot be moved into a stand",
                ));
            };
            lines.push(addition);
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
        let near = nearest(&line.name, names.iter().copied());
        let error = Error::new(
            ErrorKind::UnknownName,
            format!("the recipe has no line `{}` there", line.name),
        );
        Err(match near.first() {
            Some(near) => error.with_help(format!("did you mean `{near}`?")),
            None => error,
        })
    }

    /// The lines of a section, in order.
    pub fn section(&self, section: Section) -> Box<dyn Iterator<Item = &Addition> + '_> {
        match section {
            Section::Mash => Box::new(self.mash.additions.iter()),
            Section::Boil => Box::new(self.boil.additions.iter()),
            Section::Stand => Box::new(self.stands().flat_map(|stand| &stand.additions)),
            Section::Ferment => Box::new(self.fermentation.additions.iter()),
            Section::Package => Box::new(self.package.additions.iter()),
        }
    }

    fn sections_mut(&mut self, section: Section) -> Vec<&mut Vec<Addition>> {
        match section {
            Section::Mash => vec![&mut self.mash.additions],
            Section::Boil => vec![&mut self.boil.additions],
            Section::Stand => self
                .hot_side
                .iter_mut()
                .filter_map(|step| match step {
                    HotStep::Stand(stand) => Some(&mut stand.additions),
                    HotStep::Cool(_) => None,
                })
                .collect(),
            Section::Ferment => vec![&mut self.fermentation.additions],
            Section::Package => vec![&mut self.package.additions],
        }
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
