//! Flavour of what is missing against what may stand for it, axis by axis.

use super::canvas::{
    Canvas, Drawn, FAINT, INK, JUICE, MALT, RGB, Said, Side, WATER, along, picture,
};
use wortwright::catalogue::{Catalogue, EntryRef, FLAVOUR_AXES, HOP_AXES, JUICE_AXES};
use wortwright::quantity::uom::si::{mass::kilogram, volume::liter};
use wortwright::substitute::{Part, Proposals};

/// The strongest intensity of the catalogue.
const DOMINANT: f64 = 5.0;
const SHOWN: usize = 3;

/// What each is called, its intensities by axis, and its ink.
struct Tastes<'a> {
    of: Vec<(String, Vec<f64>, &'a RGB)>,
}

/// The picture, or why there is none.
pub(crate) fn drawn(
    found: &Proposals,
    marks: &[String],
    nth: usize,
    catalogue: &Catalogue,
) -> Result<String, String> {
    let unknown = || format!("The catalogue has no flavour of {} to draw.", found.name);
    let (axes, missing) = vector(&found.name, catalogue).ok_or_else(unknown)?;
    let mut tastes = Tastes {
        of: vec![(found.name.clone(), missing, &INK)],
    };
    let inks = [&MALT, &WATER, &JUICE];
    for ((proposal, mark), ink) in found.proposals.iter().zip(marks).zip(inks).take(SHOWN) {
        if let Some(values) = blended(&proposal.parts, axes, catalogue) {
            tastes.of.push((mark.clone(), values, ink));
        }
    }
    let rows: Vec<_> = axes
        .iter()
        .enumerate()
        .map(|(place, axis)| {
            let values: Vec<_> = tastes
                .of
                .iter()
                .map(|(_, of, _)| of.get(place).copied().unwrap_or_default())
                .collect();
            (axis.replace('_', " "), values)
        })
        .filter(|(_, values)| values.iter().any(|value| *value > 0.0))
        .collect();
    let said: Vec<_> = rows
        .iter()
        .map(|(axis, values)| {
            let each: Vec<_> = tastes
                .of
                .iter()
                .zip(values)
                .map(|((name, ..), value)| format!("{name} {value:.1}"))
                .collect();
            format!("{axis}: {}", each.join(", "))
        })
        .collect();
    let said = Said {
        id: &format!("flavour-picture-{nth}"),
        title: &format!(
            "Flavour of {} against its substitutes, from 0 to 5",
            found.name
        ),
        description: &format!("{}.", said.join("; ")),
    };
    let row = 26 * i32::try_from(tastes.of.len()).unwrap_or(1) + 18;
    let height = 84 + row * i32::try_from(rows.len()).unwrap_or(1) + 10;
    picture(&said, height, |canvas| draw(canvas, &tastes, &rows, row))
}

/// The mean of the parts by their amounts, water apart; `None` if any flavour is unknown.
fn blended(parts: &[Part], axes: &[&str], catalogue: &Catalogue) -> Option<Vec<f64>> {
    let (mut sum, mut amount) = (vec![0.0; axes.len()], 0.0);
    for part in parts.iter().filter(|part| part.name != "water") {
        let (of, values) = vector(&part.name, catalogue)?;
        if of != axes {
            return None;
        }
        let weight = part
            .mass
            .map(|mass| mass.get::<kilogram>())
            .or_else(|| part.volume.map(|volume| volume.get::<liter>()))?;
        amount += weight;
        for (sum, value) in sum.iter_mut().zip(values) {
            *sum += weight * value;
        }
    }
    (amount > 0.0).then(|| sum.into_iter().map(|value| value / amount).collect())
}

fn vector(name: &str, catalogue: &Catalogue) -> Option<(&'static [&'static str], Vec<f64>)> {
    let (axes, values): (&'static [&'static str], &[u8]) = match &catalogue.find(name)?.entry {
        EntryRef::Fermentable(row) => (&FLAVOUR_AXES, row.flavour.as_ref()?.values()),
        EntryRef::Juice(row) => (&JUICE_AXES, row.aroma.as_ref()?.values()),
        EntryRef::Hop(row) => (&HOP_AXES, row.aroma.as_ref()?.values()),
        _ => return None,
    };
    Some((axes, values.iter().map(|value| f64::from(*value)).collect()))
}

const LEFT: i32 = 190;
const RIGHT: i32 = 620;

fn draw(
    canvas: &Canvas<'_, '_>,
    tastes: &Tastes<'_>,
    rows: &[(String, Vec<f64>)],
    row: i32,
) -> Drawn {
    let bottom = 84 + row * i32::try_from(rows.len()).unwrap_or(1);
    canvas.text((LEFT, 20), Side::About, (24, INK), "0 none")?;
    canvas.text((RIGHT, 20), Side::About, (24, INK), "5 dominant")?;
    for step in 0..=5 {
        let x = along(f64::from(step), DOMINANT, LEFT, RIGHT);
        canvas.path(vec![(x, 40), (x, bottom)], (1, FAINT))?;
    }
    let mut y = 66;
    for (axis, values) in rows {
        let middle = y + (row - 18) / 2;
        canvas.text((LEFT - 16, middle), Side::UpTo, (26, INK), axis)?;
        let mut top = y;
        for ((name, _, ink), value) in tastes.of.iter().zip(values) {
            let end = along(*value, DOMINANT, LEFT, RIGHT).max(LEFT + 3);
            canvas.bar((LEFT, top + 2), (end, top + 24), **ink)?;
            let label = if name.chars().count() > 2 {
                "missing"
            } else {
                name
            };
            canvas.text((end + 10, top + 13), Side::From, (22, **ink), label)?;
            top += 26;
        }
        y += row;
    }
    Ok(())
}
