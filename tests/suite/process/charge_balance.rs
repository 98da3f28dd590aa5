//! Charges of a planned mash, added up apart from the crate: what malt, water, hardness, salts and acids give and take
//! at the pH of the plan comes to nothing, within 1e-9 equivalents.
//!
//! Relations: deLange, MBAA TQ 2015, 52(1) 3 (balance), Kolbach 1953 (3.5 and 7). pK 6.35, 10.33 and 14 from memory (CRC
//! Handbook); equivalents by the IUPAC abridged atomic weights (2021).

use crate::brewing::weighed;
use wortwright::catalogue::{Catalogue, EntryRef, Equivalents, IonYield, WaterAgent};
use wortwright::process::Stage;
use wortwright::quantity::uom::si::{mass::kilogram, volume::liter};
use wortwright::quantity::{AcidConstant, Strength};
use wortwright::scale::{LiquorAddition, LiquorPart, Plan};
use wortwright_tests::fixtures::{changed, fixture};

static CATALOGUE: Catalogue = Catalogue::builtin();
/// Milliequivalents: 1e-9 of an equivalent.
const NOTHING_MEQ: f64 = 1e-6;

/// Calcium, magnesium, alkalinity as calcium carbonate, mg/L; pH.
type Report = [f64; 4];

/// What the plant of the fixture has.
const WATER: Report = [78.0, 9.0, 164.0, 7.7];

fn plan(mash: &str, besides: &str) -> Plan {
    let changes = [("  # mash\n", mash), ("# water\n", besides)];
    weighed(&changed(&fixture("process/hard_water"), &changes), "Small")
}

fn agent(name: &str) -> Option<&'static WaterAgent> {
    match CATALOGUE.find(name)?.entry {
        EntryRef::WaterAgent(row) => Some(row),
        _ => None,
    }
}

/// Salts and acids in the mash, grams of each: the recipe's own and those that were worked out.
fn in_the_mash(plan: &Plan) -> Vec<(&'static WaterAgent, f64)> {
    let own = plan.additions.iter().filter_map(|addition| {
        let row = agent(&addition.name).filter(|_| addition.stage == Stage::Mash)?;
        let kg = match (addition.mass, addition.volume) {
            (Some(mass), _) => mass.get::<kilogram>(),
            (None, Some(volume)) => {
                volume.get::<liter>() * row.density.unwrap().grams_per_millilitre()
            }
            (None, None) => 0.0,
        };
        Some((row, 1000.0 * kg))
    });
    let in_mash = |addition: &&LiquorAddition| addition.into == LiquorPart::Mash;
    let found = plan.water.additions.iter().filter(in_mash).map(|addition| {
        let grams = 1000.0 * addition.mass.get::<kilogram>();
        (agent(&addition.name).unwrap(), grams)
    });
    own.chain(found).collect()
}

/// Mean negative charge of carbonate by the shares of its three forms.
fn carbonate_charge(ph: f64) -> f64 {
    let h = 10f64.powf(-ph);
    let (k1, k2) = (10f64.powf(-6.35), 10f64.powf(-10.33));
    let all = h * h + k1 * h + k1 * k2;
    k1 * h / all + 2.0 * k1 * k2 / all
}

fn protons_less_hydroxide_mmol_l(ph: f64) -> f64 {
    (10f64.powf(-ph) - 10f64.powf(-14.0) / 10f64.powf(-ph)) * 1e3
}

/// Protons of a gram of an acid at a pH, mmol, by the shares of its forms.
fn protons_mmol_per_g(row: &WaterAgent, ph: f64) -> f64 {
    let constants: Vec<f64> = [row.pk1, row.pk2, row.pk3]
        .into_iter()
        .flatten()
        .map(AcidConstant::pk)
        .collect();
    let (Some(molar_mass), false) = (row.molar_mass, constants.is_empty()) else {
        return 0.0;
    };
    let h = 10f64.powf(-ph);
    let mut forms = vec![1.0];
    for pk in constants {
        forms.push(forms.last().unwrap() * 10f64.powf(-pk) / h);
    }
    let all: f64 = forms.iter().sum();
    let lost: f64 = (0..).zip(&forms).map(|(n, form)| f64::from(n) * form).sum();
    let strength = row.strength.map_or(1.0, Strength::fraction);
    1000.0 * strength / molar_mass.grams_per_mole() * lost / all
}

/// Positive charge that is too much at a pH, mEq: nothing at that of the mash.
fn too_much_meq(plan: &Plan, agents: &[(&WaterAgent, f64)], ph: f64) -> f64 {
    let litres = plan.volumes.mash_water.get::<liter>();
    let malt: f64 = plan
        .additions
        .iter()
        .filter_map(|addition| match CATALOGUE.find(&addition.name)?.entry {
            EntryRef::Fermentable(row) => {
                let buffering = row.buffering.unwrap().milliequivalents_per_kilogram_ph();
                let kg = addition.mass.unwrap().get::<kilogram>();
                Some(kg * buffering * (row.mash_ph.unwrap().value() - ph))
            }
            _ => None,
        })
        .sum();
    let [mut calcium, mut magnesium, alkalinity, water_ph] = WATER;
    let (mut acids, mut alkali) = (0.0, 0.0);
    for (row, grams) in agents {
        let ions = row.ions.unwrap_or_default();
        let mg = |yields: Option<IonYield>| yields.map_or(0.0, IonYield::milligrams_per_gram);
        calcium += mg(ions.calcium) * grams / litres;
        magnesium += mg(ions.magnesium) * grams / litres;
        let meq = row
            .alkalinity
            .map_or(0.0, Equivalents::milliequivalents_per_gram);
        // Sodium stays, and of each bicarbonate only what is left at the mash's pH stands against it.
        if meq > 0.0 {
            let bicarbonate_mmol = 1000.0 * grams / row.molar_mass.unwrap().grams_per_mole();
            alkali += meq * grams - bicarbonate_mmol * carbonate_charge(ph);
        }
        acids += grams * protons_mmol_per_g(row, ph);
    }
    // Alkalinity is what brings a litre down to pH 4.3.
    let water_itself = protons_less_hydroxide_mmol_l(4.3) - protons_less_hydroxide_mmol_l(water_ph);
    let carbonate_mmol_l =
        (alkalinity / 50.043 - water_itself) / (carbonate_charge(water_ph) - carbonate_charge(4.3));
    let taken_by_water = carbonate_mmol_l * (carbonate_charge(water_ph) - carbonate_charge(ph))
        + protons_less_hydroxide_mmol_l(ph)
        - protons_less_hydroxide_mmol_l(water_ph);
    let set_free = calcium / 20.039 / 3.5 + magnesium / 12.1525 / 7.0;
    // Malt gives protons below its own pH and takes them above: as written, positive where the mash is below it.
    acids - alkali + litres * (set_free - taken_by_water) - malt
}

#[track_caller]
fn balanced(plan: &Plan) -> f64 {
    let ph = plan.predicted.mash_ph.unwrap().value();
    let agents = in_the_mash(plan);
    let rest = too_much_meq(plan, &agents, ph);
    assert!(rest.abs() < NOTHING_MEQ, "{rest} mEq at pH {ph}");
    // The balance would notice a hundredth of a pH.
    assert!(too_much_meq(plan, &agents, ph + 0.01).abs() > 1.0);
    ph
}

const GRIST: &str = "  90 % two-row pale malt\n  7 % light munich malt\n  3 % acidulated malt\n  rest 66 C for 60 min\n";

#[test]
fn water_and_acid_malt_balance() {
    let with = balanced(&plan(GRIST, ""));
    let without = GRIST
        .replace("90 %", "93 %")
        .replace("  3 % acidulated malt\n", "");
    assert!(with < balanced(&plan(&without, "")) - 0.05);
}

#[test]
fn own_salts_and_acids_balance() {
    let own = format!(
        "{GRIST}  400 g calcium chloride dihydrate\n  100 g sodium bicarbonate\n  2 L phosphoric acid 10 %\n  100 mL lactic acid 88 %\n"
    );
    let plan = plan(&own, "");
    assert_eq!(in_the_mash(&plan).len(), 4);
    balanced(&plan);
}

#[test]
fn wanted_ions_and_a_wanted_ph_balance() {
    let wishes = "water\n  calcium 110 mg/L, sulphate 150 mg/L, chloride 60 mg/L\n";
    let plan = plan(&format!("{GRIST}  pH 5.3\n"), wishes);
    let names: Vec<_> = in_the_mash(&plan)
        .iter()
        .map(|(row, _)| row.name.to_string())
        .collect();
    assert!(
        names.len() > 2 && names.contains(&"lactic acid 88 %".to_owned()),
        "{names:?}"
    );
    let ph = balanced(&plan);
    assert!((ph - 5.3).abs() < 1e-9, "{ph}");
}

/// The acid is dosed by what it gives up at the pH it brings the mash to, not by all that it holds.
#[test]
fn acid_is_counted_as_far_as_it_dissociates_at_the_wanted_ph() {
    for (wanted, stock) in [
        (5.3, "lactic acid 88 %"),
        (5.2, "phosphoric acid 10 %"),
        (5.4, "hydrochloric acid 37 %"),
    ] {
        let mash = format!(
            "{}  pH {wanted}\n",
            GRIST
                .replace("90 %", "93 %")
                .replace("  3 % acidulated malt\n", "")
        );
        let text = changed(
            &fixture("process/hard_water"),
            &[
                ("  # mash\n", &mash),
                (" sodium 12 mg/L, sulphate 40 mg/L, chloride 22 mg/L,", ""),
            ],
        );
        let plan = weighed(&format!("{text}stock\n  any {stock}\n"), "Small");
        let [(row, grams)] = in_the_mash(&plan)[..] else {
            panic!("one acid: {:?}", plan.water.additions);
        };
        assert_eq!(row.name, stock);
        // Without it so many protons are wanting at the wanted pH; by itself it gives up as many there.
        let wanting = -too_much_meq(&plan, &[], wanted);
        let given = grams * protons_mmol_per_g(row, wanted);
        assert!(
            (given - wanting).abs() < NOTHING_MEQ,
            "{stock}: {given} of {wanting} mEq"
        );
        assert!(given > 10.0, "{stock}");
        balanced(&plan);
    }
}
