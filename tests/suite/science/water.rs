//! Water, acids and mash pH against published tables and worked examples.

use crate::reference::{Case, check, rows};
use wortwright::catalogue::{Catalogue, EntryRef, Equivalents, IonYield};
use wortwright::quantity::uom::si::amount_of_substance::{millimole, mole};
use wortwright::quantity::uom::si::f64::{AmountOfSubstance, MolarMass};
use wortwright::quantity::uom::si::mass_density::gram_per_cubic_centimeter;
use wortwright::quantity::uom::si::molar_mass::gram_per_mole;
use wortwright::quantity::uom::si::{
    mass::gram, mass::kilogram, volume::liter, volume::milliliter,
};
use wortwright::quantity::{Buffering, Concentration, Mass, MassDensity, Ph, Strength, Volume};
use wortwright::science::acid::{Acid, AcidProduct};
use wortwright::science::mash_ph::{BufferedMash, BufferingGrain, GrainKnown, MashAcid, MashWater};
use wortwright::science::water::{
    Balance, CarbonateWater, EquivalentConcentration, Ion, Ions, NamedIons,
};

fn mg(value: f64) -> Concentration {
    Concentration::from_grams_per_litre(value / 1000.0).unwrap()
}

fn meq(value: f64) -> EquivalentConcentration {
    EquivalentConcentration::from_milliequivalents_per_litre(value).unwrap()
}

fn ph(value: f64) -> Ph {
    Ph::from_value(value).unwrap()
}

/// Lactic acid of 88 % by mass, of a density in g/mL.
fn lactic_88(density: f64) -> AcidProduct {
    AcidProduct {
        acid: Acid::LACTIC,
        strength: Strength::from_percent(88.0).unwrap(),
        density: Some(MassDensity::new::<gram_per_cubic_centimeter>(density)),
    }
}

/// What a gram of a product gives up at a pH.
fn protons_per_gram(product: &AcidProduct, value: f64) -> AmountOfSubstance {
    let wanted = AmountOfSubstance::new::<mole>(1.0);
    let mass = product.mass_for(wanted, ph(value)).unwrap();
    wanted / mass.get::<gram>()
}

fn malt(kg: f64, own_ph: f64, buffering: f64) -> BufferingGrain {
    BufferingGrain {
        mass: Mass::new::<kilogram>(kg),
        ph: ph(own_ph),
        buffering: Buffering::from_milliequivalents_per_kilogram_ph(buffering).unwrap(),
        known: GrainKnown::Itself,
    }
}

#[test]
fn residual_alkalinity_agrees_with_kolbach() {
    let cases = rows("water_residual_alkalinity.csv")
        .into_iter()
        .flat_map(|row| {
            let water = Ions::default()
                .with(Ion::Calcium, mg(row.number("Ca_mg_L")))
                .with(Ion::Magnesium, mg(row.number("Mg_mg_L")))
                .with(
                    Ion::Alkalinity,
                    meq(row.number("alkalinity_mEq_L")).as_calcium_carbonate(),
                );
            let residual = water.residual_alkalinity();
            let charge = |ion: Ion| ion.equivalents(water.of(ion)).milliequivalents_per_litre();
            let case = |what: &str, ours, column, tolerance| {
                let name = format!("{} {what}", row.place());
                Case::new(name, ours, row.number(column), tolerance)
            };
            [
                case("calcium", charge(Ion::Calcium), "Ca_mEq_L", 5.1e-5),
                case("magnesium", charge(Ion::Magnesium), "Mg_mEq_L", 5.1e-5),
                case(
                    "mEq",
                    residual.milliequivalents_per_litre(),
                    "RA_mEq_L",
                    5.1e-5,
                ),
                // The table computes its last two columns with unrounded factors; 2.804 has a four-digit factor.
                case("dH", residual.german_degrees(), "RA_dH", 1.1e-3),
                case(
                    "CaCO3",
                    residual.milliequivalents_per_litre() * 50.043,
                    "RA_mg_L_as_CaCO3",
                    6e-3,
                ),
            ]
        });
    check(cases, &[]);
}

#[test]
fn a_mash_uses_up_part_of_the_alkalinity() {
    let cases = rows("water_alkalinity_to_mash_ph.csv")
        .into_iter()
        .map(|row| {
            let alkalinity = meq(row.number("alkalinity_mEq_L_to_pH4.3"));
            let water = CarbonateWater::new(alkalinity, ph(row.number("water_pH"))).unwrap();
            let used = water
                .acid_down_to(ph(row.number("mash_pH")))
                .milliequivalents_per_litre();
            let share = used / alkalinity.milliequivalents_per_litre();
            assert!((0.78..0.94).contains(&share), "{}: {share}", row.place());
            Case::new(row.place(), used, row.number("proton_demand_mEq_L"), 5.1e-5)
        });
    check(cases, &[]);
}

#[test]
fn acids_give_up_their_protons_by_their_constants() {
    let cases = rows("water_acid_charge.csv").into_iter().map(|row| {
        // Molar masses from the IUPAC abridged atomic weights (2021), g/mol.
        let (acid, grams_per_mole) = match row.text("acid") {
            "lactic" => (Acid::LACTIC, 90.078),
            "phosphoric" => (Acid::PHOSPHORIC, 97.994),
            "citric" => (Acid::CITRIC, 192.123),
            "sulfuric_2nd" => (Acid::SULPHURIC, 98.072),
            other => panic!("{other} is not an acid of the table"),
        };
        let pure = AcidProduct {
            acid,
            strength: Strength::from_percent(100.0).unwrap(),
            density: None,
        };
        let released = grams_per_mole * protons_per_gram(&pure, row.number("pH")).get::<mole>();
        Case::new(
            row.place(),
            released,
            row.number("protons_released_per_mole"),
            5.1e-6,
        )
    });
    check(cases, &[]);
}

/// The acidity columns of the catalogue were computed apart from this crate, rounded to 0.01 mEq.
#[test]
fn acids_of_the_catalogue_agree_with_its_own_columns() {
    let catalogue = Catalogue::builtin();
    let mut cases = Vec::new();
    for name in [
        "lactic acid 88 %",
        "lactic acid 80 %",
        "phosphoric acid 85 %",
        "phosphoric acid 10 %",
        "hydrochloric acid 37 %",
        "sulphuric acid 96 %",
        "citric acid anhydrous",
        "malic acid",
        "tartaric acid",
    ] {
        let Some(EntryRef::WaterAgent(agent)) = catalogue.find(name).map(|found| found.entry)
        else {
            panic!("{name} is not in the catalogue");
        };
        let constants: Vec<_> = [agent.pk1, agent.pk2, agent.pk3]
            .into_iter()
            .flatten()
            .collect();
        let mass = MolarMass::new::<gram_per_mole>(agent.molar_mass.unwrap().grams_per_mole());
        let product = AcidProduct {
            acid: Acid::new(mass, &constants).unwrap(),
            strength: agent
                .strength
                .unwrap_or(Strength::from_percent(100.0).unwrap()),
            density: agent.density.map(|density| {
                MassDensity::new::<gram_per_cubic_centimeter>(density.grams_per_millilitre())
            }),
        };
        let per_gram = protons_per_gram(&product, 5.4).get::<millimole>();
        let printed = agent.acidity_at_ph_5_4.unwrap().milliequivalents_per_gram();
        cases.push(Case::new(name, per_gram, printed, 5.1e-3));
    }
    check(cases, &[]);
}

/// P1: 20 L that buffer 0.015 mol/(L pH), from 5.63 to 5.40, by lactic acid of 88 % taken as 11.8 mol/L.
#[test]
fn a_worked_acidification_comes_out() {
    // 20 L · 0.015 mol = 300 mEq per pH.
    let mash = malt(10.0, 5.63, 30.0);
    let protons = BufferedMash::new(&[mash], None, &[])
        .unwrap()
        .acid_for(ph(5.40));
    let lactic = AcidProduct {
        // 11.8 mol/L at 1.206 g/mL.
        strength: Strength::from_percent(100.0 * 11.8 * 90.078 / 1206.0).unwrap(),
        ..lactic_88(1.206)
    };
    let per_litre = 1206.0 * protons_per_gram(&lactic, 5.40).get::<mole>();
    let share = per_litre / 11.8;
    let volume = lactic.volume_for(protons, ph(5.40)).unwrap().unwrap();
    check(
        [
            Case::new("protons, mol", protons.get::<mole>(), 0.069, 5e-5),
            Case::new("dissociated", share, 0.972, 5e-5),
            Case::new("acid, mol", protons.get::<mole>() / share, 0.071, 5e-5),
            Case::new("88 % acid, mL", volume.get::<milliliter>(), 6.0, 0.05),
        ],
        &[],
    );
    // The acid found brings the mash where it was wanted.
    let acid = MashAcid {
        acid: Acid::LACTIC,
        amount: protons / share,
    };
    let reached = BufferedMash::new(&[mash], None, &[acid])
        .unwrap()
        .ph()
        .unwrap();
    assert!((reached.ph.value() - 5.40).abs() < 1e-9);
}

/// P2 and P3, deLange: a base malt at 5.6 and a darker one at 5.1 (his text has the two pH swapped) to 5.4.
#[test]
fn two_malts_pull_against_each_other() {
    let wanting = |grist: &[BufferingGrain]| {
        let mash = BufferedMash::new(grist, None, &[]).unwrap();
        mash.acid_for(ph(5.4)).get::<millimole>()
    };
    let (base, dark) = (malt(5.0, 5.6, 21.0), malt(1.0, 5.1, 21.0));
    let both = AmountOfSubstance::new::<millimole>(wanting(&[base, dark]));
    // 11.49 mEq/mL in the example is a density of 1.21 g/mL.
    let volume = lactic_88(1.21).volume_for(both, ph(5.4)).unwrap().unwrap();
    check(
        [
            Case::new("base malt, mEq", wanting(&[base]), 21.0, 1e-9),
            Case::new("dark malt, mEq", wanting(&[dark]), -6.3, 1e-9),
            Case::new("both, mEq", both.get::<millimole>(), 14.7, 1e-9),
            Case::new("88 % acid, mL", volume.get::<milliliter>(), 1.28, 5e-3),
        ],
        &[],
    );
}

/// P4: printed as 11.8 N. That is all the acid; at pH 5.4 it gives up 11.5.
#[test]
fn the_printed_normality_of_lactic_acid_is_its_total() {
    let at = |value| 1210.0 * protons_per_gram(&lactic_88(1.21), value).get::<mole>();
    check(
        [
            Case::new("released at pH 5.4, mol/L", at(5.4), 11.49, 5e-3),
            Case::new("all of it, mol/L", at(9.0), 11.82, 5e-3),
            Case::new("released at pH 5.4, as printed", at(5.4), 11.8, 0.05),
        ],
        &["released at pH 5.4, as printed"],
    );
}

/// Kolbach's linear shares against Taylor's figures, at 3 L/kg and 40 mEq/(kg pH), the malt's pH taken from his first.
#[test]
fn the_linear_calcium_model_falls_short_of_taylors_figures() {
    let measured = rows("mash_ph_calcium.csv");
    let own_ph = measured[0].number("mash_ph");
    let cases = measured.iter().map(|row| {
        let calcium = row.number("calcium_mg_l");
        let ions = Ions::default().with(Ion::Calcium, mg(calcium));
        let water = MashWater::new(Volume::new::<liter>(3.0), ions, ph(7.0)).unwrap();
        let grist = [malt(1.0, own_ph, 40.0)];
        let mash = BufferedMash::new(&grist, Some(&water), &[]).unwrap();
        let found = mash.ph().unwrap();
        // By hand: 3 L · calcium/20.039/3.5/40 per kilogram; distilled water itself moves it by less than 0.001.
        let by_hand = own_ph - 3.0 * calcium / 20.039 / 3.5 / 40.0;
        assert!((found.ph.value() - by_hand).abs() < 1e-3);
        // A pH meter in a mash reads to about 0.05.
        let name = format!("calcium {calcium}");
        Case::new(name, found.ph.value(), row.number("mash_ph"), 0.05)
    });
    check(cases, &["calcium 100", "calcium 200", "calcium 300"]);
}

#[test]
fn charges_of_a_mash_add_up_to_nothing() {
    let grist = [
        malt(4.2, 5.65, 40.0),
        malt(0.7, 5.45, 40.0),
        malt(0.2, 4.7, 45.0),
    ];
    let ions = Ions::default()
        .with(Ion::Calcium, mg(60.0))
        .with(Ion::Magnesium, mg(8.0))
        .with(Ion::Alkalinity, mg(120.0));
    let water = MashWater::new(Volume::new::<liter>(15.0), ions, ph(7.6)).unwrap();
    let acid = MashAcid {
        acid: Acid::PHOSPHORIC,
        amount: AmountOfSubstance::new::<millimole>(12.0),
    };
    let acids = [acid];
    let mash = BufferedMash::new(&grist, Some(&water), &acids).unwrap();
    let found = mash.ph().unwrap();
    let left = mash.acid_for(found.ph);
    assert!(left.get::<millimole>().abs() < 1e-9);
    let uncertainty = found.uncertainty.value();
    assert!((0.1..0.2).contains(&uncertainty), "{uncertainty}");
    let guessed = grist.map(|grain| BufferingGrain {
        known: GrainKnown::ByClass,
        ..grain
    });
    let ph_of = |grist: &[_], water, acids: &[_]| {
        let mash = BufferedMash::new(grist, water, acids);
        mash.and_then(|mash| mash.ph())
    };
    let wider = ph_of(&guessed, Some(&water), &acids).unwrap();
    assert!((wider.uncertainty.value() - uncertainty - 0.2).abs() < 1e-9);
    // Alkaline water lifts the mash, acid lowers it.
    let without = ph_of(&grist, Some(&water), &[]).unwrap();
    let distilled = ph_of(&grist, None, &[]).unwrap();
    assert!(without.ph > distilled.ph && found.ph < without.ph);
    assert!(ph_of(&[], None, &[]).is_err());
}

#[test]
fn salts_of_the_catalogue_are_neutral() {
    let catalogue = Catalogue::builtin();
    for name in [
        "calcium sulphate dihydrate",
        "calcium chloride dihydrate",
        "magnesium sulphate heptahydrate",
        "sodium chloride",
        "potassium chloride",
        "sodium bicarbonate",
        "calcium hydroxide",
    ] {
        let Some(EntryRef::WaterAgent(salt)) = catalogue.find(name).map(|found| found.entry) else {
            panic!("{name} is not in the catalogue");
        };
        let ions = salt.ions.unwrap_or_default();
        let mut water = Ions::default();
        for (ion, yields) in [
            (Ion::Calcium, ions.calcium),
            (Ion::Magnesium, ions.magnesium),
            (Ion::Sodium, ions.sodium),
            (Ion::Potassium, ions.potassium),
            (Ion::Sulphate, ions.sulphate),
            (Ion::Chloride, ions.chloride),
        ] {
            water = water.with(ion, mg(yields.map_or(0.0, IonYield::milligrams_per_gram)));
        }
        let alkalinity = salt
            .alkalinity
            .map_or(0.0, Equivalents::milliequivalents_per_gram);
        water = water.with(Ion::Alkalinity, meq(alkalinity).as_calcium_carbonate());
        let charge = |ions: &[Ion]| -> f64 {
            ions.iter()
                .map(|ion| ion.equivalents(water.of(*ion)).milliequivalents_per_litre())
                .sum()
        };
        let cations = [Ion::Calcium, Ion::Magnesium, Ion::Sodium, Ion::Potassium];
        let anions = [Ion::Sulphate, Ion::Chloride, Ion::Alkalinity];
        // Yields are printed to 0.1 mg/g, alkalinity to four figures.
        let (positive, negative) = (charge(&cations), charge(&anions));
        assert!(positive > 1.0, "{name}");
        assert!(
            (positive / negative - 1.0).abs() < 1e-3,
            "{name}: {positive} {negative}"
        );
    }
}

#[test]
fn the_demo_sheets_water_can_exist() {
    // By hand: 60/20.039 = 2.994 against 70/48.028 + 45/35.45 + 15/50.043 = 3.027 mEq/L.
    let sheet = NamedIons::default()
        .with(Ion::Calcium, mg(60.0))
        .with(Ion::Sulphate, mg(70.0))
        .with(Ion::Chloride, mg(45.0))
        .with(Ion::Alkalinity, mg(15.0));
    assert_eq!(sheet.balance(), Balance::Balanced);
    let more = NamedIons::default()
        .with(Ion::Calcium, mg(60.0))
        .with(Ion::Sulphate, mg(300.0));
    let Balance::OpenCations { rest } = more.balance() else {
        panic!("{:?}", more.balance());
    };
    assert!((rest.milliequivalents_per_litre() - 3.2522).abs() < 5e-4);
}
