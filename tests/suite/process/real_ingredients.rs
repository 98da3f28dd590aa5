//! The rows of the references on real ingredients that were checked or partly read, as far as the model can say them, with what it misses
//! them by. Where the catalogue was written from a row, that row is no evidence for the figure, only for what becomes of it.

use crate::brewing::predicted_on;
use crate::reference::rows;
use wortwright::catalogue::{Catalogue, EntryRef, StrainTrait};
use wortwright::process::{GasPlan, Prediction, Warning};
use wortwright::quantity::{
    AlcoholByVolume, AlphaAcids, Attenuation, Extract, Fermentability, Volume,
    uom::si::volume::liter,
};
use wortwright::science::liquid::Liquid;

static BUILT_IN: Catalogue = Catalogue::builtin();

fn entry(name: &str) -> EntryRef<'static> {
    BUILT_IN
        .find(name)
        .unwrap_or_else(|| panic!("`{name}` is unknown"))
        .entry
}

#[track_caller]
fn near(found: f64, wanted: f64, room: f64, what: &str) {
    assert!(
        (found - wanted).abs() <= room,
        "{what}: {found} is not {wanted}"
    );
}

/// 20 L of a beer on a plant that yields 80 % and loses nothing.
fn beer(recipe: &str) -> Prediction {
    let text = format!(
        "recipe Try\nbrewed on Pot\nbatch 20 L into fermenter\n{recipe}brewhouse Pot\n  batch 20 L into fermenter\n  extract yield 80 %\n  \
         evaporation 2 L/h\n  kettle loss 0 L\n  fermenter loss 0 L\n"
    );
    predicted_on(&text, "Pot")
}

/// What yeast takes of an extract lies within the trade's range of each row. Against the typical figure: maltodextrin and all-malt wort a
/// point more, the others the same.
#[test]
fn sugars_ferment_as_their_sources_say() {
    let known = [
        ("sucrose", "sucrose", 0.0),
        (
            "dextrose (solids; monohydrate is 91 % solids)",
            "dextrose monohydrate",
            0.0,
        ),
        ("fructose", "fructose", 0.0),
        ("honey solids", "honey", 0.0),
        ("maltodextrin 5-20 DE", "maltodextrin", 1.0),
        ("lactose", "lactose", 0.0),
        (
            "all-malt wort solids (65 C reference)",
            "pale ale malt",
            1.0,
        ),
    ];
    for row in rows("attenuation_sugars.csv") {
        let own = known.iter().find(|(of, ..)| *of == row.text("ingredient"));
        let (_, name, residual) = own.unwrap_or_else(|| panic!("{}", row.place()));
        let EntryRef::Fermentable(sugar) = entry(name) else {
            panic!("{name}")
        };
        let share = sugar.fermentability.map(Fermentability::percent).unwrap();
        let [low, typical, high] = ["min", "typical", "max"]
            .map(|of| row.number(&format!("fermentable_{of}_pct_of_solids")));
        assert!((low..=high).contains(&share), "{name}: {share}");
        near(share - typical, *residual, 1e-9, name);
    }
}

/// Colour yields of sugars, syrups and extracts, as they come out in a beer: 1 kg in 20 L, so that the colour of the wort is a twentieth. The
/// catalogue states each on a basis of its own; by solids and density it comes to the K of the table within 0.3 %, one within 1.2.
#[test]
fn sugars_and_extracts_colour_by_their_k() {
    for row in rows("colour_per_kg.csv") {
        let name = row.text("name");
        let found = beer(&format!("boil 60 min\n  1 kg {name}\n"));
        let Some(ebc) = found.predicted.wort_colour else {
            panic!("{name} has no colour");
        };
        let k = 20.0 * ebc.ebc();
        let [low, high] = ["K_low", "K_high"].map(|of| row.number(of));
        assert!((low..=high).contains(&k), "{name}: {k} of {low} to {high}");
        // The maker's litre of roasted malt beer weighs 1.19 kg, a solution of its solids 1.177 (ICUMSA).
        let residual = if name == "roasted malt beer extract" {
            0.012
        } else {
            0.0
        };
        near(
            k / row.number("K_EBC_L_per_kg") - 1.0,
            residual,
            0.003,
            name,
        );
    }
}

/// A beer that was so warm since it last made gas, and what it then wants to 2.4 volumes (4.7476 g/L): gas within 0.03 volumes, the digits
/// of the table and what a quadratic through it misses; dextrose monohydrate is a tenth heavier than the glucose of a plan.
#[test]
fn gas_is_left_by_the_warmest_that_a_beer_was() {
    let histories = [
        ("ale 19 C, packed at 19", "  hold 19 C for 10 days\n"),
        (
            "ale 18, finished at 22, cold crash 2 C 3 d",
            "  hold 18 C for 6 days\n  hold 22 C for 4 days\n  hold 2 C for 3 days\n",
        ),
        (
            "ale 20, crash 1 C",
            "  hold 20 C for 10 days\n  hold 1 C for 3 days\n",
        ),
        (
            "lager 10, diacetyl rest 16, lagered 1 C",
            "  hold 10 C for 10 days\n  hold 16 C for 3 days\n  hold 1 C for 30 days\n",
        ),
        (
            "lager 9 C to the end, no rest, lagered 1 C after the end",
            "  hold 9 C for 20 days\n  hold 1 C for 30 days\n",
        ),
        (
            "saison ended at 28 C",
            "  hold 22 C for 3 days\n  hold 28 C for 7 days\n",
        ),
        (
            "cold crash 1 C then back to 20 C open",
            "  hold 20 C for 10 days\n  hold 1 C for 3 days\n  hold 20 C for 2 days\n",
        ),
    ];
    for row in rows("co2_residual_history.csv") {
        let case = row.text("case");
        let Some((_, holds)) = histories.iter().find(|(of, _)| *of == case) else {
            // What still ferments while it cools has no line: holds are those of a beer that has done.
            assert_eq!(case, "lager still fermenting while cooled to 4 C");
            continue;
        };
        let yeast = if case.starts_with("lager") {
            "german lager yeast"
        } else {
            "american ale yeast"
        };
        let found = beer(&format!(
            "target original 12 P\nmash\n  100 % pale ale malt\nboil 60 min\nferment\n  pitch {yeast}\n{holds}package\n  \
             bottles, carbonate 2.4 volumes\n"
        ));
        let Some(GasPlan::Conditioned {
            left,
            warmest,
            glucose,
            ..
        }) = found.gas
        else {
            panic!("{case}: {:?}", found.gas)
        };
        near(warmest.celsius(), row.number("temp_to_use_C"), 1e-9, case);
        let volumes = left.grams_per_litre() / 1.97694;
        near(volumes, row.number("residual_volumes"), 0.03, case);
        let packaged_l = crate::brewing::l(found.volumes.packaged);
        let monohydrate = 1000.0 * crate::brewing::kg(glucose) / packaged_l * 198.17 / 180.156;
        let wanted = row.number("dextrose_monohydrate_g_per_L_to_2.4_vol");
        // 4.451 g/L for a volume against 4.451 by the yield of the plan: 1.97694/0.48857 x 1.1.
        near(monohydrate, wanted, 0.03 * 4.45 + 0.02, case);
    }
}

/// Where yeasts stop: the catalogue has the families of another table, which wins. Against the typical figure here its usual limits begin
/// and end at these.
#[test]
fn yeasts_stop_near_where_their_sources_say() {
    let known = [
        (
            "ale, English low-tolerance",
            "english ale yeast",
            (0.0, 2.0),
        ),
        ("lager", "german lager yeast", (0.0, 3.0)),
        ("wine", "white wine yeast", (-2.0, 1.0)),
        ("champagne / bayanus type", "champagne yeast", (-1.0, 1.0)),
    ];
    for row in rows("yeast_alcohol_tolerance.csv") {
        let own = known.iter().find(|(of, ..)| *of == row.text("family"));
        let (_, name, residual) = own.unwrap_or_else(|| panic!("{}", row.place()));
        let EntryRef::Yeast(yeast) = entry(name) else {
            panic!("{name}")
        };
        let (low, high) = yeast.alcohol_limit.unwrap();
        let [low, high] = [low, high].map(AlcoholByVolume::percent);
        let typical = row.number("tolerance_typical_abv_pct");
        near(low - typical, residual.0, 1e-9, name);
        near(high - typical, residual.1, 1e-9, name);
    }
}

/// Whole fruit: dry matter that dissolves, pulp and sugars as the table has them per 100 g, for every row that the catalogue has.
#[test]
fn fruit_holds_what_its_table_says() {
    let (mut found, mut missing) = (0, Vec::new());
    for row in rows("fruit.csv") {
        let whole = row.text("fruit");
        let name = match whole {
            "grape, vinifera table" => "table grape",
            "grape, slip skin" => "slip-skin grape",
            "grape, muscadine" => "muscadine grape",
            "redcurrant and white currant" => "redcurrant",
            "kiwifruit, green" => "kiwi",
            "passionfruit, purple (pulp with seeds)" => "passion fruit",
            "pomegranate (arils)" => "pomegranate",
            "lime" => "lime fruit",
            "apricot, dried" => "dried apricot",
            "date, deglet noor" => "dried date",
            "prune, dried plum" => "prune",
            "fig, fresh" => "fig",
            other => other.split(',').next().unwrap(),
        };
        let frozen = whole.contains("frozen") && !whole.starts_with("boysenberry");
        let Some(EntryRef::Juice(fruit)) = BUILT_IN.find(name).map(|found| found.entry) else {
            missing.push(whole.to_owned());
            continue;
        };
        if frozen || fruit.pulp.is_none() {
            missing.push(whole.to_owned());
            continue;
        }
        let soluble = fruit.extract.map(Extract::plato).unwrap();
        near(soluble, row.number("soluble_pct"), 0.051, whole);
        near(
            fruit.pulp.unwrap().percent(),
            row.number("insoluble_pct"),
            0.051,
            whole,
        );
        let sugars = fruit.fermentability.map(Fermentability::percent).unwrap() * soluble / 100.0;
        near(sugars, row.number("fermentable_pct"), 0.15, whole);
        found += 1;
    }
    // Frozen fruit is the fresh row of the catalogue; two have none.
    assert_eq!((found, missing.len()), (49, 8), "{missing:?}");
    assert!(
        missing.iter().all(|name| name.contains("frozen")
            || name == "prune puree"
            || name == "tamarind pulp")
    );
}

/// The catalogue's range of alpha acids, which is that of the table but for Magnum, holds the typical figure of each row. Its middle, which
/// stands in for a lot without a figure, is 11 % below (Fuggle) to 24 % above (Northern Brewer, 8.8 to 13.5 % with a typical 9).
#[test]
fn hops_hold_the_alpha_acids_of_their_sources() {
    for row in rows("hop_alpha.csv") {
        let name = row.text("name");
        let EntryRef::Hop(hop) = entry(name) else {
            panic!("{name}")
        };
        let (low, high) = hop.alpha_range.unwrap();
        let [low, high] = [low, high].map(AlphaAcids::percent);
        let typical = row.number("alpha_pct_typical");
        assert!((low..=high).contains(&typical), "{name}");
        // Magnum of German gardens (`hop_alpha_years.csv`) is weaker than that of the trial plots in Oregon.
        if name != "Hallertauer Magnum" {
            let [from, to] = ["low", "high"].map(|of| row.number(&format!("alpha_pct_{of}")));
            near(low, from, 1e-9, name);
            near(high, to, 1e-9, name);
        }
        let off = hop.alpha().unwrap().percent() / typical - 1.0;
        assert!((-0.12..0.24).contains(&off), "{name}: {off}");
    }
}

/// Traits and figures of families of yeast as their table has them.
#[test]
fn yeasts_have_the_figures_of_their_families() {
    let known = [
        ("american ale", "american ale yeast", 0.0),
        ("belgian wheat ale", "belgian wheat yeast", 0.0),
        ("belgian pale ale", "belgian pale ale yeast", 0.0),
        ("abbey ale", "abbey ale yeast", 0.0),
        ("belgian strong golden ale", "strong golden ale yeast", 0.0),
        (
            "saison-type diastatic",
            "diastatic farmhouse ale yeast",
            0.0,
        ),
        ("norwegian farmhouse", "kveik", 0.0),
        // Of an earlier table.
        ("lager, dry", "german lager yeast", -2.0),
        (
            "brettanomyces, secondary",
            "brettanomyces bruxellensis",
            0.0,
        ),
        ("low-alcohol maltose-negative", "low-alcohol yeast", 0.0),
    ];
    // Those without a row: two lager families, a low English ale, brettanomyces alone, bacteria.
    assert_eq!(rows("yeast_families.csv").len(), 15);
    for row in rows("yeast_families.csv") {
        let own = known.iter().find(|(of, ..)| *of == row.text("family"));
        let Some((_, name, residual)) = own else {
            continue;
        };
        let EntryRef::Yeast(yeast) = entry(name) else {
            panic!("{name}")
        };
        let typical = yeast.attenuation.map(Attenuation::percent).unwrap();
        let wanted = row.number("attenuation_apparent_pct_typical");
        near(typical - wanted, *residual, 1e-9, name);
        if let Some((low, high)) = yeast.alcohol_limit {
            let limit = |of: &str| row.number(&format!("alcohol_limit_pct_vol_{of}"));
            near(low.percent(), limit("low"), 1e-9, name);
            near(high.percent(), limit("high"), 1e-9, name);
        }
        let diastatic = match row.text("diastatic") {
            "yes" => StrainTrait::Yes,
            "possible" => StrainTrait::Possible,
            _ => StrainTrait::No,
        };
        assert_eq!(yeast.diastatic, Some(diastatic), "{name}");
    }
}

/// Utilisation that a 50 barrel plant measured into wort, 44.0 % in 60 min, of which 33.7 % were lost in the cellar (Justus, MBAA TQ 2018 55
/// 67-74, abstract; its figures count all bitter matter): 29.2 % in beer, of which the model, which speaks of beer, gives 23.9, 18 % less. Its
/// mash hops, 9.1 %, are what the model's share of 0.21 is from and no evidence.
#[test]
fn an_hour_of_boil_against_a_measured_plant() {
    let found = beer(
        "target original 12 P\nmash\n  100 % pale ale malt\nboil 60 min\n  20 g saaz, pellet, 5 % alpha at 60 min\n",
    );
    let share = found.predicted.wort_bitterness.unwrap().ibu() * 20.0 / (20.0 * 0.05 * 1000.0);
    let measured = 0.440 * (1.0 - 0.337);
    near(share / measured - 1.0, -0.18, 0.005, "60 min");
}

/// Real over apparent attenuation: 81.46 % is the mean of 52 whisky worts (Bringhurst et al., J. Inst. Brew. 1996 102 433-437, abstract; their
/// strength is not in it) and 0.8192 a much printed factor. By Tabarié it is 80.4 % at 12 °P and 75 %, a point less, and falls with strength.
#[test]
fn real_over_apparent_attenuation_against_a_mean_of_worts() {
    let factor = |plato: f64| {
        let extract = |plato: f64| Extract::from_plato(plato).unwrap();
        let wort = Liquid::wort(Volume::new::<liter>(1.0), extract(plato)).unwrap();
        let left = wort.fermented_to(extract(0.25 * plato)).unwrap();
        (plato - left.real_extract().plato()) / (0.75 * plato)
    };
    near(factor(12.0) - 0.8146, -0.0104, 5e-4, "12 P");
    assert!(factor(18.0) < factor(12.0) && factor(12.0) < factor(8.0));
}

/// Guidance of producers and papers (`yeast_pitch_guidance.csv`): 1.0 million cells for a millilitre and a degree Plato as a general rule, 1.5
/// to 2.0 for lager, of which a plan takes 0.75 (a quarter less; Fix) and 1.5; 18 °P are where strong worts begin (16 to 18 and 18 read).
/// Of alcohol for a degree Plato at 75 % the reference reckons 0.41 at 12 °P and 0.43 at 20 with 0.8192 between apparent and real extract;
/// by Tabarié, which beers bear out (532 beers, `science::liquid`), and the mass share of a 12 °P wort, it is 0.398 and 0.413. A seminar has
/// 0.44 for a rule.
#[test]
fn pitching_and_alcohol_against_guidance() {
    let rate = |name: &str| {
        let EntryRef::Yeast(yeast) = entry(name) else {
            panic!("{name}")
        };
        yeast.pitch_rate.unwrap().million_per_ml_plato()
    };
    near(rate("american ale yeast") / 1.0 - 1.0, -0.25, 1e-9, "ale");
    assert!((1.5..=2.0).contains(&rate("german lager yeast")));
    let brewed = |plato: f64, attenuation: f64| {
        beer(&format!(
            "target original {plato} P\nmash\n  100 % pale ale malt\n  rest 65 C for 60 min\nboil 60 min\nferment\n  pitch ale yeast, \
             attenuation {attenuation} %\n"
        ))
    };
    let is_strong = |plato: f64| {
        let found = brewed(plato, 75.0);
        let mut told = found.warnings.iter();
        told.any(|told| matches!(told.what, Warning::StrongWort { .. }))
    };
    assert!(is_strong(18.5) && !is_strong(17.5));
    let per_plato = |plato: f64, attenuation: f64| {
        brewed(plato, attenuation)
            .predicted
            .alcohol
            .unwrap()
            .percent()
            / plato
    };
    near(per_plato(12.0, 75.0) - 0.41, -0.012, 1e-3, "12 P");
    near(per_plato(20.0, 75.0) - 0.43, -0.017, 1e-3, "20 P");
}
