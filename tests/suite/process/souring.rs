//! Wort soured before its boil: what bacteria make of its extract, and what hinders them.

use crate::brewing::{job, weighed};
use wortwright::process::{Assumption, Prediction, Stage, Warning};
use wortwright::quantity::{in_kilograms, in_litres};
use wortwright::speech::Speaks as _;

fn text(mash: &str, sour: &str) -> String {
    format!(
        "recipe Try\nbrewed on Pot\nbatch 20 L into fermenter\noriginal 12 P\nmash\n  100 % pale ale malt\n  \
         rest 65 C for 60 min\n{mash}{sour}\nboil 60 min\nferment\n  pitch ale yeast, attenuation 75 %\n\
         brewhouse Pot\n  extract yield 80 %\n  evaporation 2 L/h\n  kettle loss 0 L\n  fermenter loss 0 L\n\
         brewhouse Home\n  batch 10 L into fermenter\n  kettle 20 L\n  lauter bag\n  kettle loss 0 L\n"
    )
}

fn soured(mash: &str, sour: &str) -> Prediction {
    job(&text(mash, sour), "Pot")
        .built()
        .unwrap()
        .as_written()
        .unwrap()
}

fn abv(found: &Prediction) -> f64 {
    found.predicted.alcohol.unwrap().percent()
}

/// At 75 % on malt of 12 °P a mass share of 0.6185 ferments (Balling and Tabarié). From pH 5.4 to 3.4 the wort takes up 2.0 x 50 mmol per kg of
/// extract; lactic acid gives 0.2575 of its protons there: 388 mmol or 35.0 g per kg. Of 0.6185 that leaves 0.5835 for the yeast, and
/// alcohol goes as the extract fermented, but for 0.1 % of volume. To pH 3.2 it is 55.2 g, after a mash at pH 5.2 50.2 g.
#[test]
fn bacteria_take_a_little_sugar_from_the_yeast() {
    let plain = soured("", "");
    for (mash, sour, share) in [
        ("", "sour for 2 days at 38 C to pH 3.4", 0.0350),
        ("", "sour to pH 3.2", 0.0552),
        ("  pH 5.2\n", "sour to pH 3.2", 0.0502),
        // Acid down to pH 4.5 takes 45 of the 100 mmol per kg, where it gives 0.81361 of its protons: 4.98 g that no bacteria make of sugar.
        ("", "sour from pH 4.5 to pH 3.4", 0.0350 - 0.00498),
        (
            "",
            "sour to pH 3.4, acid to pH 4.5 before pitching",
            0.0350 - 0.00498,
        ),
        // Where it ends is not said: at the usual pH.
        ("", "sour for 2 days at 38 C", 0.0350),
    ] {
        let found = soured(mash, sour);
        let left = abv(&found) / abv(&plain);
        assert!(
            (left - (0.6185 - share) / 0.6185).abs() < 2e-3,
            "{sour}: {left}"
        );
        let told = found.assumptions.iter().find_map(|told| match told.what {
            Assumption::Soured { acid, .. } => Some(acid.percent()),
            _ => None,
        });
        assert!((told.unwrap() - 100.0 * share).abs() < 0.01, "{told:?}");
        // The acid stays in the beer: what the yeast leaves is more by just that, 0.35 x 12 °P of 100 g.
        let more = found.predicted.final_extract.unwrap().plato()
            - plain.predicted.final_extract.unwrap().plato();
        // By Balling 1 g less extract fermented in 100 g shows about 1.23 °P more; a hydrometer shows 0.553 of the acid (10 % weigh
        // 1.0199 kg/L, where sugar would weigh 1.0381), so that 0.447 over the 96 g of beer left of 100 g of wort are not seen.
        assert!(
            (more / (1200.0 * share / 100.0) - (1.23 - 0.447 / 0.96)).abs() < 0.04,
            "{more}"
        );
    }
    // What is printed of the end of fermentation decides. Of 12 °P as mashed 5.52 % are acid, of which 0.30 °P are not seen, so that
    // fermentation took a wort of 11.70 °P as read down to 3.
    let fitted = |sour: &str| {
        let text = text("", sour).replace("original 12 P", "original 12 P, final 3 P");
        abv(&job(&text, "Pot").built().unwrap().as_written().unwrap())
    };
    let ratio = fitted("sour to pH 3.2") / fitted("");
    assert!((ratio - 8.70 / 9.0).abs() < 3e-3, "{ratio}");
}

/// The wort has its sugars from malt, and a lactose that is boiled in it later is none of the bacteria's.
#[test]
fn a_culture_travels_with_the_wort_and_stands_in_the_answers() {
    let text = text(
        "",
        "sour 36 h at 40 C to pH 3.4 with 10 g lactobacillus culture",
    );
    let plan = weighed(&text, "Home");
    let culture = plan
        .additions
        .iter()
        .find(|a| a.stage == Stage::Sour)
        .unwrap();
    assert_eq!(culture.name, "lactobacillus culture");
    // 10 g for the 20 L of the sheet, 5 g for 10.
    let grams = 1000.0
        * culture
            .mass
            .unwrap()
            .get::<wortwright::quantity::uom::si::mass::kilogram>();
    assert!((grams - 5.0).abs() < 0.2, "{grams}");
    let sheet = plan.to_string();
    for line in [
        "SOURING",
        "40 °C  cool the wort to this",
        "36 h  keep covered and warm until pH 3.4",
        "The clock below is that of day 2.",
        "Acidify the wort below pH 4.5",
        // By hand: 10 L of 12 °P hold 1.256 kg of malt extract, 5.9 mL (science::souring); 0.19 °P of the reading are not seen.
        "5.9 mL  lactic acid 88 %",
        "expect 0.2 °P less",
    ] {
        assert!(sheet.contains(line), "{line}\n{sheet}");
    }
    let at = |word: &str| sheet.find(word).unwrap();
    assert!(at(". MASH ") < at(". SOURING ") && at(". SOURING ") < at(". BOIL "));
    let again = weighed(&format!("{}\n", plan.to_document()), "Home");
    assert_eq!(again.recipe.souring, plan.recipe.souring);
    assert!(
        !weighed(&self::text("", ""), "Home")
            .to_string()
            .contains("SOURING")
    );
}

#[test]
fn hops_before_souring_and_a_wrong_heat_are_told() {
    let warned = |mash: &str, sour: &str| {
        let found = soured(mash, sour);
        let codes = found
            .warnings
            .iter()
            .map(|told| told.what.code().to_owned());
        let places = found.warnings.iter().filter_map(|told| told.place());
        (
            codes.collect::<Vec<_>>(),
            places.map(ToString::to_string).collect::<Vec<_>>(),
        )
    };
    let (codes, places) = warned("  10 g saaz, 3 % alpha\n", "sour to pH 3.4");
    assert!(
        codes.contains(&"hops_before_souring".to_owned()),
        "{codes:?}"
    );
    assert!(
        places.contains(&"recipe.mash.additions[1]".to_owned()),
        "{places:?}"
    );
    let (codes, _) = warned("  10 g saaz, 3 % alpha\n", "");
    assert!(
        !codes.contains(&"hops_before_souring".to_owned()),
        "{codes:?}"
    );
    // Lactobacillus likes 30 to 45 °C.
    let hot = soured("", "sour at 55 C to pH 3.4 with 5 g lactobacillus culture");
    let is_hot = |told: &Warning| matches!(told, Warning::YeastTemperature { .. });
    assert!(hot.warnings.iter().any(|told| is_hot(&told.what)
        && told.place().unwrap().to_string() == "recipe.souring.temperature_c"));
    let right = soured("", "sour at 40 C to pH 3.4 with 5 g lactobacillus culture");
    assert!(!right.warnings.iter().any(|told| is_hot(&told.what)));
}

/// Water into the fermenter changes nothing of the wort: 20 L of 12 °P take the malt that they take with all of it boiled, sour or not, in
/// shares or in weights.
#[test]
fn a_soured_wort_is_made_up_with_water_like_any_other() {
    let malt_kg = |text: &str| -> f64 {
        let plan = job(text, "Pot").exact();
        let original = plan.predicted.original.unwrap().plato();
        assert!((original - 12.0).abs() < 1e-3, "{original}");
        let malts = plan.additions.iter().filter(|a| a.stage == Stage::Mash);
        malts.map(|a| in_kilograms(a.mass.unwrap())).sum()
    };
    let shares = text("", "sour to pH 3.4")
        .replace("original 12 P\n", "original 12 P\nshares by weight\n")
        .replace(
            "brewhouse Pot\n",
            "brewhouse Pot\n  batch 20 L into fermenter\n",
        )
        .replace(
            "100 % pale ale malt",
            "67 % pale ale malt\n  33 % wheat malt",
        );
    let thinned = |text: &str| text.replace("ferment\n", "ferment\n  top up with 5 L water\n");
    let all_boiled_kg = malt_kg(&shares);
    let weights = shares
        .replace("67 %", &format!("{} kg", 0.67 * all_boiled_kg))
        .replace("33 %", &format!("{} kg", 0.33 * all_boiled_kg));
    for made_up in [thinned(&shares), thinned(&weights)] {
        let found_kg = malt_kg(&made_up);
        assert!(
            (found_kg / all_boiled_kg - 1.0).abs() < 1e-3,
            "{found_kg} {all_boiled_kg}"
        );
    }
}

/// 5.9 mL by hand, see above, and what burns skin is said to.
#[test]
fn acid_before_the_bacteria_is_bought_and_warned_of() {
    let plan = weighed(&text("", "sour to pH 3.4"), "Home");
    let acid = plan.shopping.iter().find(|p| p.name == "lactic acid 88 %");
    let bought_l = in_litres(acid.unwrap().needed_volume.unwrap());
    assert!((1000.0 * bought_l - 5.9).abs() < 0.05, "{bought_l}");
    let sheet = plan.to_string();
    let souring = sheet.split_once(". SOURING ").unwrap().1;
    assert!(
        souring.contains("Strong acid burns skin and eyes"),
        "{sheet}"
    );
    // Where it ends at pH 4.5 the wort is as warm and as sweet: what the caution says has its amount.
    let mild = weighed(&text("", "sour to pH 4.5"), "Home").to_string();
    assert!(
        mild.contains("Acidify the wort below pH 4.5") && mild.contains("5.9 mL  lactic acid"),
        "{mild}"
    );
}

/// The day goes on from where the bacteria like it, 38 °C, if no other warmth is said; and nothing is added in the fermenter.
#[test]
fn the_day_of_a_soured_wort_goes_on_from_its_warmth() {
    let sheet = |sour: &str| {
        let text = text("", sour).replace("kettle 20 L", "kettle 20 L\n  fermenter 15 L");
        weighed(&text, "Home").to_string()
    };
    let boil = |sheet: &str| sheet.split_once(" BOIL ").unwrap().1.to_owned();
    let (said, unsaid) = (
        sheet("sour for 2 days at 38 C to pH 3.4"),
        sheet("sour for 2 days to pH 3.4"),
    );
    assert_eq!(boil(&said), boil(&unsaid));
    assert!(
        unsaid.contains("pH after souring, sample at room temperature  "),
        "{unsaid}"
    );
    assert!(unsaid.contains("scale the yeast to it"), "{unsaid}");
    assert!(
        unsaid.contains("headspace") && !unsaid.contains("with all additions"),
        "{unsaid}"
    );
}

/// How far acid goes before the bacteria is the recipe's: 10 L of 12 °P hold 1.256 kg of malt extract, whose 62.8 mmol per unit of pH to 4.2
/// are 75.4 mmol; there a mole gives 10^0.34/(1 + 10^0.34) = 0.6863, so that they are 109.8 mmol, 9.89 g, 9.3 mL of 88 %. It stands in the plan's own text.
#[test]
fn acid_before_the_bacteria_is_an_input() {
    let plan = weighed(&text("", "sour for 2 days from pH 4.2 to pH 3.4"), "Home");
    let sheet = plan.to_string();
    assert!(
        sheet.contains("9.3 mL  lactic acid 88 %, about: add half, stir and measure, until pH 4.2"),
        "{sheet}"
    );
    let again = plan.to_document().to_string();
    assert!(
        again.contains("sour for 2 days from pH 4.2 to pH 3.4"),
        "{again}"
    );
    assert_eq!(weighed(&again, "Home").recipe.souring, plan.recipe.souring);
    let refused = wortwright::Job::read([("text", text("", "sour from pH 3 to pH 3.4"))]);
    assert!(refused.unwrap_err().to_string().contains("3.8 to 5.4"));
}

/// What is read of a soured wort is lighter than what was mashed: a reading as planned asks for nothing, before the boil and in the fermenter,
/// and one of the gravity as mashed is too strong.
#[test]
fn advice_reads_a_soured_wort_as_it_shows() {
    use wortwright::advice::{DayReading, Shown};
    let plan = weighed(&text("", "sour to pH 3.2"), "Home");
    let plato = |read: f64| Some(Shown::hydrometer(format!("{read:.4} P").parse().unwrap()));
    // Of 12 °P 5.52 % are acid, of which 0.447 are not seen: 0.30 °P.
    let original = plan.predicted.original.unwrap().plato();
    let actions = |reading: &DayReading| plan.advise(reading).unwrap().actions.len();
    let in_fermenter = |read: f64| DayReading::InFermenter {
        volume: Some(plan.volumes.into_fermenter),
        shown: plato(read),
    };
    assert_eq!(actions(&in_fermenter(original - 0.296)), 1);
    assert!(actions(&in_fermenter(original)) > 1);
    let before = plan.volumes.pre_boil_extract.plato();
    let before_boil = |read: f64| DayReading::BeforeBoil {
        volume: Some(plan.volumes.pre_boil),
        shown: plato(read),
    };
    let unseen = 0.296 * before / original;
    assert_eq!(actions(&before_boil(before - unseen)), 1);
    assert!(actions(&before_boil(before)) > 1);
    // What goes on from it is as planned.
    let advice = plan.advise(&in_fermenter(original - 0.296)).unwrap();
    let found = advice.actions[0].predicted.original.unwrap().plato();
    assert!((found - original).abs() < 0.01, "{found} {original}");
}
