//! One line of a recipe edited by the swaps that concern it.

use super::swap::{Section, Swap};
use super::{Addition, Amount, Content, PackSize, Packs};
use crate::diagnostic::{Error, ErrorKind};
use crate::quantity::{PackCount, Share, VolumeShare, Written};

/// Shares are made so much smaller while they are edited, so that none passes the whole before they add up again.
pub(super) const ROOM: f64 = 1.0 / 1024.0;

/// A swap or a change of base malt at the place that it belongs to.
#[derive(Clone, Copy)]
pub(super) struct Edit<'a> {
    pub(super) index: usize,
    pub(super) part: Option<usize>,
    pub(super) what: What<'a>,
}

#[derive(Clone, Copy)]
pub(super) enum What<'a> {
    Swap(&'a Swap),
    Factor(f64),
}

/// A part that goes to another section, with its amount.
pub(super) struct Mover {
    pub(super) section: Section,
    pub(super) addition: Addition,
}

/// The lines that stand for `line` after the edits that concern it.
pub(super) fn edit_line(
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
    let of_line = swap.parts.iter().filter(|part| part.amount.is_none());
    if line.amount.is_none() && of_line.count() > 1 {
        return Err(Error::new(
            ErrorKind::Contradiction,
            format!(
                "`{}` has no amount of its own, so that only one ingredient can replace it",
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
                _ if part.amount.is_some() => part.amount.clone(),
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
    let share = |part: &Addition| match &part.amount {
        Some(Amount::Share(share)) => share.value().fraction(),
        _ => 0.0,
    };
    // Printed shares may add up to nearly a hundred only.
    let whole = room * parts.iter().map(share).sum::<f64>().max(f64::MIN_POSITIVE);
    let mut left = Vec::new();
    for (index, mut part) in parts.into_iter().enumerate() {
        if let Some(Amount::Share(share)) = &mut part.amount {
            *share = share.times(room)?;
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
            if let (Some(Amount::Share(share)), Some(amount)) =
                (&mover.addition.amount, &blend.amount)
            {
                mover.addition.amount = Some(scaled(amount, share.value().fraction() / whole)?);
            }
        }
    }
    if left.is_empty() {
        return Ok(None);
    }
    let sum: f64 = left.iter().map(share).sum();
    if let Some(amount) = &blend.amount
        && sum > 0.0
    {
        blend.amount = Some(scaled(amount, sum / whole)?);
        for part in &mut left {
            if let Some(Amount::Share(share)) = &mut part.amount {
                *share = share.times(1.0 / sum)?;
            }
        }
    }
    blend.content = Content::Blend(left);
    Ok(Some(blend))
}

/// `factor` times an amount.
fn scaled(amount: &Amount, factor: f64) -> Result<Amount, Error> {
    Ok(match amount {
        Amount::Mass(mass) => Amount::Mass(mass.times(factor)?),
        Amount::Volume(volume) => Amount::Volume(volume.times(factor)?),
        Amount::Concentration(dose) => Amount::Concentration(dose.times(factor)?),
        Amount::Dose(dose) => Amount::Dose(dose.times(factor)?),
        Amount::Share(share) => Amount::Share(share.times(factor)?),
        Amount::ShareByVolume(total) => Amount::ShareByVolume(share_of_volume(total, factor)?),
        Amount::Bitterness(ibu) => Amount::Bitterness(ibu.times(factor)?),
        Amount::Packs(Packs { count, each }) => match each {
            PackSize::Mass(mass) => Amount::Mass(mass.times(factor * f64::from(*count))?),
            PackSize::Volume(volume) => Amount::Volume(volume.times(factor * f64::from(*count))?),
        },
        Amount::PackCount(count) => {
            Amount::PackCount(PackCount::from_packs(count.packs() * factor)?)
        }
    })
}

/// The share of the liquid's volume after the addition when `factor` times as much goes in.
fn share_of_volume(
    total: &Written<VolumeShare>,
    factor: f64,
) -> Result<Written<VolumeShare>, Error> {
    let share = total.value().fraction();
    let added = share / (1.0 - share).max(1e-9) * factor;
    total.times(added / (1.0 + added) / share.max(f64::MIN_POSITIVE))
}
