//! What a source and its plant cannot have done.

use crate::diagnostic::{Error, ErrorKind, Place};
use crate::inverse::stages::never_left;
use crate::numeric::{Bracket, root};
use crate::process::{Brewed, Plant, Stage, Worked, fermentables};
use crate::speech::shortest;

/// Steps by a quarter that span nine powers of ten.
const MOST_STEPS: u32 = 100;

/// Whether a plant yields no more than its grist has.
pub(crate) fn check_yield(plant: &Plant, brewed: &Brewed) -> Result<(), Error> {
    match brewed.mash_yield {
        Some(reached) if reached > 1.0 + 1e-9 => Err(Error::new(
            ErrorKind::Contradiction,
            format!(
                "the yield stated for the plant `{}` implies {} % of the grist's laboratory extract in the kettle",
                plant.name,
                shortest(100.0 * reached, 1)
            ),
        )
        .with_help("check whether the yield is of extract or `of grist`, and in the kettle or `in fermenter`")
        .about(Place::plant(&plant.name, "extract_yield"))),
        _ => Ok(()),
    }
}

/// A printed strength that the source's fermentables do not give on its plant; both as fractions.
pub(super) fn not_on_its_plant(plant: &Plant, printed: f64, strength: f64) -> Error {
    let on = if plant.name.is_empty() {
        "a usual plant".to_owned()
    } else {
        format!("the plant `{}`", plant.name)
    };
    Error::new(
        ErrorKind::Contradiction,
        format!(
            "the recipe prints {} °P, but on {on} its fermentables give {} °P",
            shortest(100.0 * printed, 1),
            shortest(100.0 * strength, 1)
        ),
    )
    .with_help(
        "check the plant that the recipe was brewed on, its batch, and the extract of the fermentables",
    )
    .about(Place::recipe("targets.original_plato"))
}

/// Cold wort at the end of the boil from which `batch_l` are packaged. Later additions make it more and losses make it
/// less, so that it is sought within a bracket and not by proportion.
pub(crate) fn wort_for_packaged(
    batch_l: f64,
    plant: &Plant,
    packaged_l: impl Fn(f64) -> f64,
) -> Result<f64, Error> {
    // The bracket grows from where no addition and no loss would put it, so that what is tried stays near the truth:
    // far from it, printed masses and gravity mean absurd yields.
    let mut low = plant.post_boil_l(batch_l, 0.0);
    let mut high = low;
    let mut steps = 0;
    while packaged_l(high) < batch_l {
        low = high;
        high *= 1.25;
        steps += 1;
        if steps > MOST_STEPS {
            return Err(never_packaged(batch_l));
        }
    }
    while low >= high || packaged_l(low) > batch_l {
        high = low;
        low *= 0.8;
        steps += 1;
        if steps > MOST_STEPS {
            return Err(never_packaged(batch_l));
        }
    }
    root(
        |post_boil_l| packaged_l(post_boil_l) - batch_l,
        Bracket { low, high },
        1e-14 * high,
    )
    .map_err(|_| never_packaged(batch_l))
}

pub(super) fn never_packaged(batch_l: f64) -> Error {
    Error::new(
        ErrorKind::Contradiction,
        format!(
            "{} L packaged cannot be reached with these additions and losses",
            shortest(batch_l, 1)
        ),
    )
    .with_help("check the packaged batch against the later additions and the losses")
    .about(Place::recipe("batch"))
}

/// Stronger is no wort but a syrup, °P (common practice, no source).
pub(crate) const STRONGEST_WORT_PLATO: f64 = 50.0;

/// Refuses amounts that make no beer: a syrup, water that leaves no room for wort, and hops that keep all of the wort or the beer.
pub(crate) fn refuse_impossible(worked: &Worked) -> Result<(), Error> {
    refuse_syrup(worked)?;
    refuse_flooded(worked)?;
    refuse_soaked(worked)
}

/// Refuses a wort that no yeast ferments, at the line that brings most of its extract.
fn refuse_syrup(worked: &Worked) -> Result<(), Error> {
    let plato = 100.0 * worked.brewed.original().strength();
    if plato <= STRONGEST_WORT_PLATO {
        return Ok(());
    }
    let parts = fermentables(&worked.setup.formula, &worked.amounts.of);
    let parts = parts.filter(|(item, ..)| item.place.stage < Stage::Ferment);
    let most = parts
        .max_by(|(_, a, a_kg), (_, b, b_kg)| (a.extract * a_kg).total_cmp(&(b.extract * b_kg)));
    let Some((item, ..)) = most else {
        return Ok(());
    };
    Err(Error::new(
        ErrorKind::Contradiction,
        format!(
            "`{}`: expected a wort of at most {STRONGEST_WORT_PLATO} °P, found {} °P",
            item.ingredient.name,
            shortest(plato, 1)
        ),
    )
    .with_help("check the amount against the batch; stronger is a syrup, which no yeast ferments")
    .about(item.place.line().field("amount")))
}

/// Refuses hops that leave nothing of the wort or the beer in which they lie.
fn refuse_soaked(worked: &Worked) -> Result<(), Error> {
    let (plant, brewed) = (&worked.setup.plant, &worked.brewed);
    if brewed.boiled.volume_l > 0.0 && brewed.into_fermenter_l <= 0.0 {
        return Err(never_left(plant));
    }
    let cellar = &brewed.cellar;
    let kept_l = cellar.kept_l + cellar.kept_in_package_l;
    if kept_l <= 0.0 || cellar.packaged_l > 0.0 {
        return Ok(());
    }
    Err(Error::new(
        ErrorKind::Contradiction,
        format!(
            "dry hops hold {} L of the {} L of beer, which leaves none to package",
            shortest(kept_l, 1),
            shortest(cellar.finished.volume_l(), 1)
        ),
    )
    .with_help("check the masses of the dry hops")
    .about(Place::recipe("fermentation.additions")))
}

/// Less water than this part of the wort is none (rule of the crate).
const NONE_DRAWN: f64 = 1e-6;

/// Refuses water in the kettle that leaves no room for wort.
fn refuse_flooded(worked: &Worked) -> Result<(), Error> {
    let (formula, brewed) = (&worked.setup.formula, &worked.brewed);
    let drawn_l = worked.amounts.liquor.mash_l + worked.amounts.liquor.sparge_l;
    let none_l = NONE_DRAWN * brewed.boiled.volume_l;
    if drawn_l > none_l && brewed.run.volume_l > none_l {
        return Ok(());
    }
    let items = formula.items.with(&worked.amounts.of);
    let drinks = items.filter(|(item, amount)| item.thins_wort() && item.pours() && **amount > 0.0);
    let drinks = drinks.map(|(item, amount)| (item, item.brings(*amount).liquid.volume_l()));
    let drinks: Vec<_> = drinks.collect();
    let Some((first, _)) = drinks.first() else {
        return Ok(());
    };
    let poured_l: f64 = drinks.iter().map(|(_, l)| l).sum();
    Err(Error::new(
        ErrorKind::Contradiction,
        format!(
            "`{}`: {} L go into the kettle, which leaves no room for wort in this batch",
            first.ingredient.name,
            shortest(poured_l, 1)
        ),
    )
    .with_help("write less water here, add it to the fermenter, or make the batch larger")
    .about(first.place.line().field("amount")))
}
