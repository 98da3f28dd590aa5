//! A plant as described: what each of its lines says → the lines of a `brewhouse`.

mod figure;
mod finish;
mod left;
mod name;
mod near;
mod power;
mod reader;
mod speaks;
mod water;
mod words;

use crate::notation::free::draft::tokens;
use crate::notation::free::page::{Jotted, Page};

use crate::diagnostic::{Severity, Span};
use crate::notation::free::scan::{scan, scan_apart};
use crate::notation::free::sheet::Sheet;
use crate::notation::free::told::Told;
use crate::notation::tree::Line;
use name::name;
use reader::Reader;
pub(super) use speaks::{parted, speaks};
#[cfg(test)]
pub(super) use words::count_of_words;

/// The `brewhouse` of a page, and what is told of it.
pub(super) fn read(page: &Page, sheet: &mut Sheet<'_>) -> Line<'static> {
    let mut plant = Reader::new(sheet);
    let mut opening = page.opening.clone();
    for (at, typed) in page.lines.iter().enumerate() {
        if typed.is_right {
            plant.as_it_stands(typed.line());
            continue;
        }
        let mut bits = scan(&typed.tokens);
        plant.sheet.gallons.read(&mut bits, &mut plant.sheet.told);
        let mut from = 0;
        if at == 0 && opening.is_none() {
            let (named, length) = name(&bits, &typed.tokens);
            opening = named;
            from = length;
        }
        plant.is_first = at == 0;
        plant.apart = scan_apart(&typed.tokens);
        plant.line(bits.get(from..).unwrap_or(&[]));
    }
    let opening = opening.unwrap_or_else(|| {
        let here = page.lines.first().map_or_else(Span::default, Jotted::span);
        let here = Span::new(here.text, here.start, here.start);
        plant.sheet.told.push(Told::Assumed(
            "a plant without a name".into(),
            "Plant".into(),
            here,
        ));
        tokens("brewhouse Plant", here)
    });
    plant.finish(opening)
}

/// Whether all of a line is read in other words than the notation's.
pub(super) fn reads_whole(typed: &Line<'_>, sheet: &Sheet<'_>) -> bool {
    let mut trial = sheet.trial(true);
    let mut bits = scan(typed.tokens());
    let gallons = trial.gallons;
    gallons.read(&mut bits, &mut trial.told);
    let mut plant = Reader::new(&mut trial);
    plant.line(&bits);
    let is_read = !plant.lines.is_empty() || plant.way.is_some() || plant.bag.is_some();
    let is_fine = |told: &Told| match told {
        Told::Assumed(..) => true,
        Told::Asked(found) => found.severity == Severity::Warning,
        _ => false,
    };
    is_read && trial.told.iter().all(is_fine)
}

/// What a sheet says of the plant that it was brewed on: a plant of the beer's name.
pub(super) fn of_sheet(sheet: &mut Sheet<'_>) -> Option<Line<'static>> {
    let lines = std::mem::take(&mut sheet.equipment);
    let first = lines.first()?.first()?.span;
    let is_recipe = |line: &&Line<'_>| {
        line.tokens()
            .first()
            .is_some_and(|token| token.text() == "recipe")
    };
    let name = sheet
        .draft
        .head
        .iter()
        .find(is_recipe)
        .and_then(|line| line.tokens().get(1))
        .map(|token| token.text().to_owned());
    let is_taken = |name: &str| {
        sheet.draft.last.iter().any(|line| {
            line.tokens()
                .get(1)
                .is_some_and(|token| token.text().eq_ignore_ascii_case(name))
        })
    };
    let name = name
        .filter(|name| !is_taken(name))
        .unwrap_or_else(|| "Plant of the sheet".to_owned());
    let litres = sheet.batch_litres();
    let mut plant = Reader::new(sheet);
    plant.batch_l = litres;
    plant.is_of_sheet = true;
    for mut bits in lines {
        plant.sheet.gallons.read(&mut bits, &mut plant.sheet.told);
        plant.line(&bits);
    }
    let opening = tokens(&format!("brewhouse \"{name}\""), first);
    Some(plant.finish(opening))
}
