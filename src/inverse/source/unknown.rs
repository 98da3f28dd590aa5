//! Additions of unknown make-up: a trace is carried along, more is refused, since it would count for nothing in silence.

use crate::catalogue::{Catalogue, Kind, folded};
use crate::diagnostic::{Error, ErrorKind};
use crate::process::{Item, Material, Stage, Worked};
use crate::quantity::Extract;
use crate::speech::shortest;

/// Up to this much of the unknown, summed over all of it, hardly moves a figure, g/L: as sugar it would give 0.1 % alcohol (rule
/// of the crate).
pub(crate) const TRACE_G_L: f64 = 2.0;

/// An example of a Brix, where nothing is known of the fruit.
const SOME_BRIX: f64 = 9.0;

/// Refuses a brew of which something unknown is more than a trace.
pub(super) fn refuse_unknown(worked: &Worked, catalogue: &Catalogue) -> Result<(), Error> {
    let mut sum_g_l = 0.0;
    let mut most: Option<(&Item, f64)> = None;
    let cellar = &worked.brewed.cellar;
    for (index, item) in worked.setup.formula.items.iter() {
        let amount = worked.amounts.of.at(index);
        let brings_by_packs = item.is_by_packs() && counts_by_mass(item);
        if brings_by_packs && amount > 0.0 {
            return Err(packs_of_unknown_size(item));
        }
        if item.material != Material::Unknown || amount <= 0.0 {
            continue;
        }
        let name = &item.ingredient.name;
        if !item.is_by_mass()
            || item.place.stage == Stage::Package
            || juice_of(name, catalogue).is_some()
        {
            return Err(brings_unknown(item, catalogue));
        }
        let liquid_l = match item.place.stage {
            Stage::Ferment => cellar.vessel_l.at(index),
            _ => worked.brewed.boiled.volume_l,
        };
        let dose_g_l = 1000.0 * amount / liquid_l.max(f64::MIN_POSITIVE);
        sum_g_l += dose_g_l;
        if most.is_none_or(|(_, largest)| dose_g_l > largest) {
            most = Some((item, dose_g_l));
        }
    }
    match most {
        Some((item, _)) if sum_g_l > TRACE_G_L => Err(brings_unknown(item, catalogue)),
        _ => Ok(()),
    }
}

/// Whether what it brings hangs on how much there is of it, beside what is told of it as unknown.
fn counts_by_mass(item: &Item) -> bool {
    let is_salt_or_acid = matches!(item.ingredient.kind, Kind::Salt | Kind::Acid);
    match item.material {
        Material::Inert => is_salt_or_acid,
        Material::Yeast(_) | Material::Unknown => false,
        _ => true,
    }
}

fn packs_of_unknown_size(item: &Item) -> Error {
    let name = &item.ingredient.name;
    Error::new(
        ErrorKind::Incomplete,
        format!("`{name}`: expected its mass or volume, found a number of packs"),
    )
    .with_help(format!(
        "write the size of a pack, such as `2 x 500 g {name}`"
    ))
    .about(item.place.line().field("amount"))
}

fn brings_unknown(item: &Item, catalogue: &Catalogue) -> Error {
    let name = &item.ingredient.name;
    Error::new(
        ErrorKind::Incomplete,
        format!(
            "`{name}`: neither its line nor the ingredient table says what it brings to the beer"
        ),
    )
    .with_help(what_to_write(name, juice_of(name, catalogue)))
    .about(item.place.ingredient().field("facts"))
}

/// What the line of something unknown may say.
pub(crate) fn what_to_write(name: &str, brix: Option<f64>) -> String {
    let brix = shortest(brix.unwrap_or(SOME_BRIX), 1);
    format!(
        "write `{name}, {brix} Bx` of a fruit or a drink, `{name}, 60 % extract` of a sugar, or `{name}, brings nothing`"
    )
}

/// Brix of the juice of a fruit that the name holds, if it holds one.
pub(crate) fn juice_of(name: &str, catalogue: &Catalogue) -> Option<f64> {
    let name = folded(name);
    let words: Vec<&str> = name.split(' ').collect();
    let pressed = catalogue.juices().filter(|juice| !juice.is_whole_fruit());
    let juices = pressed.filter_map(|juice| {
        let known = folded(&juice.name);
        let (fruit, _) = known.rsplit_once(' ')?;
        let is_held = fruit.split(' ').all(|word| words.contains(&word));
        is_held.then(|| (fruit.len(), juice.extract.map_or(SOME_BRIX, Extract::plato)))
    });
    juices
        .max_by_key(|(length, _)| *length)
        .map(|(_, brix)| brix)
}
