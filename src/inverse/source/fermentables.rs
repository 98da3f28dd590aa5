//! The wort's fermentables: from shares and a gravity, or from masses, to kilograms.

use super::check::not_on_its_plant;
use super::notes::Notes;
use super::stated::{Reading, Stated};
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::inverse::aim::{Aim, SugarShare, WortBill};
use crate::inverse::reach::reach;
use crate::numeric::{Bracket, root};
use crate::process::{
    Assumption, Formula, Item, KettleSugar, KnownYield, Liquor, Material, PerItem, Rule, STEEPED,
    Warning, grist, into_kettle, kettle_drinks, kettle_sugars, lauter, whole,
};
use crate::quantity::BrewhouseYield;
use crate::recipe::{ShareBasis, YieldBasis, YieldPoint};
use crate::science::liquid::Liquid;
use crate::speech::Noted;
use crate::speech::shortest;

/// A yield above this is remarked on (common practice 92-98 %, no source).
const HIGH_YIELD: f64 = 0.98;
/// Stated and inferred yield may differ by this (rule of the crate: three points).
const YIELDS_WITHIN: f64 = 0.03;

/// What such grain may give of its extract (rule of the crate: the widest range of a steep and of a mash).
const STEEPED_YIELD: std::ops::RangeInclusive<f64> = 0.3..=1.0;

pub(super) enum WortRules {
    Shares,
    Masses,
}

/// Whether the wort's fermentables are shares or masses.
pub(super) fn wort_rules(formula: &Formula) -> Result<WortRules, Error> {
    let (mut share, mut mass) = (None, None);
    for item in formula
        .items
        .values()
        .filter(|item| item.is_mashed() || item.is_kettle_sugar())
    {
        match item.rule {
            Rule::Share(_) => share = Some(item),
            Rule::Kilograms(_) | Rule::Litres(_) | Rule::GramsPerLitre(_) => mass = Some(item),
            _ => {
                return Err(Error::new(
                    ErrorKind::Incomplete,
                    format!("`{}` needs a share or a mass", item.ingredient.name),
                )
                .with_help("write `70 %` or `1.4 kg` before its name")
                .about(item.place.place().field("amount")));
            }
        }
    }
    match (share, mass) {
        (Some(share), Some(mass)) => Err(Error::new(
            ErrorKind::Contradiction,
            format!(
                "`{}` is a share and `{}` is a mass; use one or the other throughout",
                share.ingredient.name, mass.ingredient.name
            ),
        )
        .about(mass.place.place().field("amount"))),
        (Some(_), None) => Ok(WortRules::Shares),
        (None, Some(_)) => Ok(WortRules::Masses),
        (None, None) => Err(Error::new(
            ErrorKind::Incomplete,
            "the recipe has no malt, grain or sugar",
        )
        .with_help("list the fermentables under `mash` or `boil`")
        .about(Place::recipe("mash"))),
    }
}

pub(super) fn from_shares(
    stated: &Stated<'_>,
    aim: Aim,
    of: &mut PerItem<f64>,
    notes: &mut Notes,
) -> Result<(), Error> {
    let Stated {
        recipe,
        formula,
        plant,
        ..
    } = stated;
    let share = |item: &Item| match item.rule {
        Rule::Share(share) => share,
        _ => 0.0,
    };
    let sum: f64 = formula.items.values().map(share).sum();
    let place = Place::recipe("mash.additions");
    let sum = whole(sum, "malt, grain and sugar", place, &mut notes.assumptions)
        .map_err(|error| error.with_help("shares under `mash` and `boil` together make 100 %"))?;
    let wanted_kg = Liquid::wort_of(aim.volume_l, aim.strength).extract_kg;
    // First one unit: a kilogram of all fermentables, or the masses that give one kilogram of extract.
    for (item, amount) in formula.items.with_mut(of) {
        if let Material::Fermentable(part) = item.material
            && matches!(item.rule, Rule::Share(_))
        {
            *amount = match recipe.share_basis {
                ShareBasis::Weight => share(item) / sum,
                ShareBasis::Extract if part.extract > 0.0 => share(item) / sum / part.extract,
                ShareBasis::Extract => 0.0,
            };
        }
    }
    let (factor, sugar_factor) = match recipe.share_basis {
        ShareBasis::Extract => {
            let design = design(formula, of, wanted_kg, (wanted_kg, aim.volume_l));
            let reached = reach(&design, aim, plant);
            (reached.factor, wanted_kg)
        }
        ShareBasis::Weight => {
            let size = size_by_weight(stated, of, wanted_kg, aim)?;
            (size, size)
        }
    };
    for (item, amount) in formula.items.with_mut(of) {
        if matches!(item.rule, Rule::Share(_)) {
            *amount *= if item.is_mashed() {
                factor
            } else {
                sugar_factor
            };
        }
    }
    Ok(())
}

/// Kilograms of all fermentables, whose shares by weight are in `of`, that give `wanted_kg` of extract.
fn size_by_weight(
    stated: &Stated<'_>,
    of: &PerItem<f64>,
    wanted_kg: f64,
    aim: Aim,
) -> Result<f64, Error> {
    let Stated { formula, plant, .. } = stated;
    let unit = grist(formula, of);
    let sugar_kg: f64 = kettle_sugars(formula, of)
        .iter()
        .map(|s| s.liquid.extract_kg)
        .sum();
    if plant.known_yield.is_some() || unit.laboratory_extract_kg <= 0.0 {
        let run = lauter(
            unit,
            Liquor {
                mash_l: 10.0 * unit.mass_kg,
                sparge_l: 0.0,
            },
            plant,
        );
        let per_unit_kg = run.wort.extract_kg + sugar_kg;
        return if per_unit_kg > 0.0 {
            Ok(wanted_kg / per_unit_kg)
        } else {
            Err(not_on_its_plant(plant, aim.strength, 0.0))
        };
    }
    let needed = |size: f64| {
        reach(
            &design(formula, of, size, (wanted_kg, aim.volume_l)),
            aim,
            plant,
        )
        .factor
    };
    let least = wanted_kg / (unit.laboratory_extract_kg + sugar_kg);
    root(
        |size| size - needed(size),
        Bracket {
            low: 0.5 * least,
            high: 20.0 * least,
        },
        1e-13 * least,
    )
    .map_err(|_| {
        let nearest = reach(
            &design(formula, of, least, (wanted_kg, aim.volume_l)),
            aim,
            plant,
        )
        .strength;
        not_on_its_plant(plant, aim.strength, nearest)
    })
}

/// The drinks that go into the kettle, for each of `volume_l` litres at the end of the boil.
pub(super) fn drinks_per_l(
    formula: &Formula,
    of: &PerItem<f64>,
    volume_l: f64,
) -> Vec<KettleSugar> {
    let mut drinks = kettle_drinks(formula, of);
    for drink in &mut drinks {
        drink.liquid = drink.liquid.part(1.0 / volume_l.max(f64::MIN_POSITIVE));
    }
    drinks
}

/// The design of the wort `aim` of `extract_kg` whose sugars are those in `of` times `sugar_factor`.
fn design(
    formula: &Formula,
    of: &PerItem<f64>,
    sugar_factor: f64,
    (extract_kg, volume_l): (f64, f64),
) -> WortBill {
    WortBill {
        unit: grist(formula, of),
        sugars: kettle_sugars(formula, of)
            .iter()
            .filter(|sugar| sugar.liquid.extract_kg > 0.0)
            .map(|sugar| SugarShare {
                share: sugar.liquid.extract_kg * sugar_factor / extract_kg,
                water_per_extract: sugar.liquid.water_kg / sugar.liquid.extract_kg,
                time_left_min: sugar.time_left_min,
            })
            .collect(),
        drinks_per_l: drinks_per_l(formula, of, volume_l),
        boil_min: formula.boil_min,
        mash_c: formula.mash_rest_c,
    }
}

/// The masses as they are printed.
pub(super) fn from_masses(stated: &Stated<'_>, post_boil_l: f64, of: &mut PerItem<f64>) {
    let printed_l = stated.printed_l(post_boil_l);
    for (item, amount) in stated.formula.items.with_mut(of) {
        if item.is_mashed() || item.is_kettle_sugar() {
            *amount = match item.rule {
                Rule::Kilograms(kg) => kg,
                Rule::Litres(l) => l,
                Rule::GramsPerLitre(dose) => dose * printed_l / 1000.0,
                _ => 0.0,
            };
        }
    }
}

impl Stated<'_> {
    /// Teaches the plant the yield that its masses and the printed wort mean.
    pub(super) fn infer_yield(
        &mut self,
        wort: Aim,
        of: &PerItem<f64>,
        reading: Reading,
        notes: &mut Notes,
    ) -> Result<(), Error> {
        let mashed = grist(&self.formula, of);
        if mashed.laboratory_extract_kg <= 0.0 {
            return Ok(());
        }
        let sugar_kg: f64 = into_kettle(&self.formula, of)
            .iter()
            .map(|s| s.liquid.extract_kg)
            .sum();
        let from_mash_kg = Liquid::wort_of(wort.volume_l, wort.strength).extract_kg - sugar_kg;
        let reached = from_mash_kg / mashed.laboratory_extract_kg;
        // In a beer of malt extract the little grain that is steeped answers for none of the printed gravity: the weights are kept.
        let is_steeped = mashed.laboratory_extract_kg < STEEPED * sugar_kg;
        if is_steeped && !STEEPED_YIELD.contains(&reached) {
            return Ok(());
        }
        if reading == Reading::Final && !(0.0..=1.0).contains(&reached) {
            return Err(Error::new(
            ErrorKind::Contradiction,
            format!(
                "{} L of wort at {} °P hold {} kg of extract from the mash, but the grist has {} kg: a yield of {} %",
                shortest(wort.volume_l, 1),
                shortest(wort.strength * 100.0, 1),
                shortest(from_mash_kg, 2),
                shortest(mashed.laboratory_extract_kg, 2),
                shortest(reached * 100.0, 1)
            ),
        )
        .with_help("check the masses, the batch and the original gravity against the sheet")
        .about(Place::recipe("targets.original_plato")));
        }
        let inferred = BrewhouseYield::clamped(reached);
        let stated_yield = Place::plant(&self.plant.name, "extract_yield");
        // What the sheet implies goes before what plants like it have.
        notes
            .assumptions
            .retain(|noted| noted.place.as_ref() != Some(&stated_yield));
        notes.assumptions.push(Noted::at(
            stated_yield.clone(),
            Assumption::YieldInferred { reached: inferred },
        ));
        if reached > HIGH_YIELD {
            notes.warnings.push(Noted::at(
                Place::recipe("targets.original_plato"),
                Warning::YieldHigh { reached: inferred },
            ));
        }
        let known = self.plant.known_yield.filter(|known| {
            known.of == YieldBasis::LaboratoryExtract && known.at == YieldPoint::EndOfBoil
        });
        if let Some(stated) = known.filter(|_| self.plant.states_yield)
            && (stated.value - reached).abs() > YIELDS_WITHIN
        {
            let stated = BrewhouseYield::clamped(stated.value);
            notes.warnings.push(Noted::at(
                stated_yield,
                Warning::YieldsDisagree { stated, inferred },
            ));
        }
        self.plant.known_yield = Some(KnownYield {
            value: reached,
            of: YieldBasis::LaboratoryExtract,
            at: YieldPoint::EndOfBoil,
        });
        Ok(())
    }
}
