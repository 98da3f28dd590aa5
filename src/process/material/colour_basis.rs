//! What a colour that is stated of something that dissolves refers to, and what it gives.

use crate::catalogue::{ColourBasis, Fermentable as CatalogueFermentable, FermentableClass};
use crate::recipe::Facts;
use crate::science::colour::malt::malt_colour_units;
use crate::science::density::sucrose_density_20;

/// What the colour of something that dissolves refers to where its line says nothing: as its entry has it, else a 10 % solution for
/// malt extract (MEBAK R-160; trade sheets) and full strength for others.
fn usual_basis(known: Option<&CatalogueFermentable>) -> ColourBasis {
    let by_class = match known.and_then(|known| known.class) {
        Some(FermentableClass::MaltExtract) => ColourBasis::TenPercentSolution,
        _ => ColourBasis::FullStrength,
    };
    known
        .and_then(|known| known.colour_basis)
        .unwrap_or(by_class)
}

/// The basis that was taken for a colour whose line states none.
pub(super) fn assumed_basis(
    facts: &Facts,
    known: Option<&CatalogueFermentable>,
) -> Option<ColourBasis> {
    let is_open = facts.colour.is_some() && facts.colour_basis.is_none();
    is_open.then(|| usual_basis(known))
}

/// Colour of a kilogram made up to a litre, EBC, of something that dissolves with this share of extract (Bouguer, Lambert and Beer:
/// absorbance goes with concentration). The line's own figure goes before the catalogue's.
pub(crate) fn colour_yield(
    facts: &Facts,
    known: Option<&CatalogueFermentable>,
    extract: f64,
) -> Option<f64> {
    let (colour, basis) = match &facts.colour {
        Some(stated) => (stated.value(), facts.colour_basis),
        None => (known?.colour?, None),
    };
    let times = match basis.unwrap_or_else(|| usual_basis(known)) {
        ColourBasis::FullStrength => 1.0,
        // A litre of it weighs 1.038 kg and holds a tenth of that in solids.
        ColourBasis::TenPercentSolution => {
            solids(facts, known, extract) / (sucrose_density_20(0.10) / 1000.0 * 0.10)
        }
        ColourBasis::PoundPerGallon => malt_colour_units(1.0, 1.0),
        ColourBasis::Undiluted => 1000.0 / sucrose_density_20(extract),
    };
    Some(colour.ebc() * times)
}

/// What is not water, a fraction: by the moisture, or by the extract that the line states.
fn solids(facts: &Facts, known: Option<&CatalogueFermentable>, extract: f64) -> f64 {
    let stated = facts.moisture.map(|written| written.value());
    let known = known.and_then(|known| known.moisture);
    match stated.or(known) {
        Some(moisture) if stated.is_some() || facts.extract.is_none() => 1.0 - moisture.fraction(),
        _ => extract,
    }
}
