//! Each caution is shown where its trigger applies, and not where it does not.

use wortwright::catalogue::Catalogue;
use wortwright::caution::{BrewStep, Caution, Urgency, for_recipe};
use wortwright::diagnostic::TextRef;
use wortwright::job::Job;
use wortwright::notation::read;
use wortwright::scale::Plan;

/// The cautions of a text on its first plant.
fn cautions(text: &str) -> Vec<Caution> {
    let reading = read(&[TextRef {
        name: "test.gyle",
        text,
    }]);
    assert!(reading.is_usable(), "{text}\n{:#?}", reading.diagnostics);
    let recipe = reading.recipe.unwrap();
    for_recipe(&recipe, reading.brewhouses.first(), &Catalogue::builtin())
}

/// The plan of a text for its first plant.
fn planned(text: &str) -> Plan {
    let job = Job::read([("test.gyle", text)]).unwrap();
    let plant = &job.brewhouses()[0].name;
    job.on(plant).unwrap().plan().unwrap()
}

fn has(text: &str, code: &str) -> bool {
    cautions(text).iter().any(|caution| caution.code == code)
}

#[track_caller]
fn check(code: &str, with: &str, without: &str) {
    assert!(has(with, code), "`{code}` is not shown for\n{with}");
    assert!(!has(without, code), "`{code}` is shown for\n{without}");
}

const NOTHING: &str = "recipe Nothing\nbatch 10 L into fermenter\n";
const MASH: &str =
    "recipe M\nbatch 10 L into fermenter\nmash\n  2 kg pale ale malt\n  rest 66 C for 60 min\n";
const BOIL: &str = "recipe B\nbatch 10 L into fermenter\nboil 60 min\n  20 g northern brewer, 9 % alpha at 60 min\n";
const STAND: &str =
    "recipe S\nbatch 10 L into fermenter\nstand 20 min at 80 C\n  5 g juniper berries for 20 min\n";
const FERMENT: &str =
    "recipe F\nbatch 10 L into fermenter\nferment\n  pitch english ale yeast at 19 C\n";

fn with_line(base: &str, line: &str) -> String {
    format!("{base}{line}\n")
}

#[test]
fn heat_brings_the_cautions_of_heat() {
    for code in [
        "hot_liquids",
        "burner_indoors",
        "electricity_near_water",
        "hot_wort_in_glass",
    ] {
        for hot in [MASH, BOIL, STAND] {
            check(code, hot, NOTHING);
        }
        check(code, MASH, FERMENT);
    }
    check("boil_over", BOIL, MASH);
}

#[test]
fn a_wet_bag_is_heavy_where_there_is_a_bag() {
    let plant = |line: &str| format!("{MASH}brewhouse P\n  batch 5 L into fermenter\n{line}");
    check(
        "wet_bag",
        &plant("  lauter bag\n"),
        &plant("  lauter batch, sparges 2\n"),
    );
    check("wet_bag", &plant(""), MASH);
    // What the model takes to rinse its grain in a tun lifts no bag: a plant above 2 hL, one known by its yield.
    let big = format!("{MASH}brewhouse P\n  batch 20 hL into fermenter\n");
    check("wet_bag", &with_line(&big, "  lauter bag"), &big);
    check("wet_bag", &plant(""), &plant("  extract yield 80 %\n"));
    assert!(!has(
        "recipe B\nbatch 10 L into fermenter\nboil 60 min\n  1 kg honey at 60 min\nbrewhouse P\n  lauter bag\n",
        "wet_bag"
    ));
}

#[test]
fn sugar_scorches() {
    check(
        "heat_off_for_sugar",
        &with_line(BOIL, "  500 g honey at 10 min"),
        BOIL,
    );
    let in_fermenter = with_line(FERMENT, "  add 200 g honey when 5 P");
    assert!(!has(&in_fermenter, "heat_off_for_sugar"));
}

#[test]
fn acid_burns_where_acid_is_used_or_wanted() {
    check("acids", &with_line(MASH, "  pH 5.3"), MASH);
    check("acids", &with_line(MASH, "  2 mL lactic acid 88 %"), BOIL);
}

/// Two-row pale malt alone comes to pH 5.6 in distilled water: above that the plan takes bicarbonate, below it acid.
#[test]
fn a_plan_that_lifts_the_ph_needs_no_acid() {
    const PLANT: &str = "boil 60 min\nbrewhouse P\n  batch 5 L into fermenter\n  water calcium 10 mg/L, magnesium 2 mg/L, sodium 5 mg/L, sulphate 8 mg/L, chloride 5 mg/L, alkalinity 20 mg/L\n";
    let malt = MASH.replace("pale ale malt", "two-row pale malt");
    for (lines, agent, burns) in [
        ("  pH 5.3\n", "lactic acid 88 %", true),
        ("  pH 5.8\n", "sodium bicarbonate", false),
        ("  1 g citric acid\n  pH 5.8\n", "", true),
    ] {
        let plan = planned(&format!("{malt}{lines}{PLANT}"));
        let agents = &plan.water.additions;
        assert_eq!(agents.iter().any(|a| a.name == agent), !agent.is_empty());
        let cautions = plan.cautions();
        assert_eq!(cautions.iter().any(|c| c.code == "acids"), burns, "{lines}");
    }
}

/// Whatever pH a mash comes to by itself, a brewer who wants just that needs no acid, and who wants less does.
#[test]
fn a_mash_that_is_at_the_wanted_ph_needs_no_acid() {
    const PLANT: &str = "boil 60 min\nbrewhouse P\n  batch 5 L into fermenter\n";
    const WATER: &str = "  water calcium 10 mg/L, magnesium 2 mg/L, sodium 5 mg/L, sulphate 8 mg/L, chloride 5 mg/L, alkalinity 20 mg/L\n";
    let plan = |ph: Option<f64>, water: &str| {
        let line = ph.map_or_else(String::new, |ph| format!("  pH {ph:.2}\n"));
        planned(&format!("{MASH}{line}{PLANT}{water}"))
    };
    let burns = |plan: &Plan| {
        let cautions = plan.cautions();
        cautions.iter().any(|c| c.code == "acids")
    };
    let by_itself = plan(None, WATER).predicted.mash_ph.unwrap().value();
    let at_it = plan(Some(by_itself), WATER);
    assert!(at_it.water.additions.is_empty(), "{:?}", at_it.water);
    assert!(!burns(&at_it));
    assert!(burns(&plan(Some(by_itself - 0.2), WATER)));
    // Of water that nobody has analysed no pH is predicted: then acid may be needed.
    let unknown = plan(Some(by_itself), "");
    assert_eq!(unknown.predicted.mash_ph, None);
    assert!(burns(&unknown));
}

#[test]
fn cleaning_agents_come_with_any_brewing() {
    check("cleaning_agents", BOIL, NOTHING);
    check("cleaning_agents", FERMENT, NOTHING);
}

#[test]
fn fermentation_gives_gas_and_alcohol() {
    for code in ["sealed_vessels", "carbon_dioxide", "alcohol_and_law"] {
        check(code, FERMENT, BOIL);
    }
}

#[test]
fn gassy_beer_foams_when_something_goes_in() {
    for line in [
        "  add 1 L apple juice when 5 P",
        "  add 200 g sucrose when 5 P",
        "  add 30 g northern brewer, 9 % alpha on day 5",
    ] {
        check("foam_over", &with_line(FERMENT, line), FERMENT);
    }
    let primed = with_line(FERMENT, "package\n  bottle\n  60 g sucrose");
    check("foam_over", &primed, BOIL);
}

#[test]
fn bottles_burst_and_kegs_filled_with_gas_do_not() {
    let bottles = with_line(FERMENT, "package\n  bottle, carbonate 5 g/L");
    let keg = with_line(FERMENT, "package\n  keg, carbonate 5 g/L");
    check("bottles_primed", &bottles, &keg);
    check("bottles_primed", FERMENT, BOIL);
    let primed_keg = with_line(FERMENT, "package\n  keg\n  60 g sucrose");
    check("bottles_primed", &primed_keg, &keg);
    // The yeast may be in another line or none: what is bottled with gas bursts all the same.
    let no_pitch = with_line(BOIL, "package\n  bottle, carbonate 5 g/L");
    check("bottles_primed", &no_pitch, BOIL);
}

#[test]
fn hot_filled_wort_and_puree_may_grow_poison() {
    let plant = |line: &str| format!("{BOIL}brewhouse P\n  batch 5 L into fermenter\n{line}");
    check(
        "kept_without_chilling",
        &plant("  no chill\n"),
        &plant("  cool to 20 C in 25 min\n"),
    );
    let puree = with_line(FERMENT, "  add 1 L mango puree when 5 P");
    let juice = with_line(FERMENT, "  add 1 L apple juice when 5 P");
    check("kept_without_chilling", &puree, &juice);
}

#[test]
fn raw_juice_is_named_unless_it_is_boiled() {
    let juice = with_line(FERMENT, "  add 1 L apple juice when 5 P");
    check("unpasteurised_juice", &juice, FERMENT);
}

#[test]
fn a_diastatic_yeast_is_named() {
    let named = |yeast: &str| {
        format!("recipe F\nbatch 10 L into fermenter\nferment\n  pitch {yeast} at 20 C\n")
    };
    check(
        "diastatic",
        &named("diastatic farmhouse ale yeast"),
        FERMENT,
    );
    check("diastatic", &named("farmhouse ale yeast"), FERMENT);
    let text = cautions(&named("brettanomyces bruxellensis"))
        .into_iter()
        .find(|c| c.code == "diastatic")
        .unwrap();
    assert!(text.text.starts_with("brettanomyces bruxellensis"));
    check(
        "diastatic",
        &with_line(FERMENT, "  add 1 g amyloglucosidase on day 1"),
        &with_line(FERMENT, "  add 1 g gelatine on day 9"),
    );
}

#[test]
fn sulphite_and_sorbitol_are_named() {
    let juice = |name: &str| with_line(FERMENT, &format!("  add 1 L {name} when 5 P"));
    check(
        "sulphites",
        &juice("riesling grape juice"),
        &juice("raspberry juice"),
    );
    check(
        "sulphites",
        &juice("raspberry juice, SO2 20 mg/L"),
        &juice("riesling grape juice, SO2 0 mg/L"),
    );
    check("sorbitol", &juice("pear juice"), &juice("raspberry juice"));
}

#[test]
fn allergens_are_named_with_what_brings_them() {
    let wheat = with_line(MASH, "  200 g flaked wheat");
    let text = |text: &str| {
        cautions(text)
            .into_iter()
            .find(|c| c.code == "allergens")
            .map(|c| c.text.into_owned())
    };
    let both = text(&wheat).unwrap();
    assert!(both.contains("barley (pale ale malt"), "{both}");
    assert!(both.contains("wheat (flaked wheat"), "{both}");
    assert!(!text(MASH).unwrap().contains("wheat"));
    assert_eq!(text(BOIL), None);
    let unknown = with_line(BOIL, "  5 g dragon's breath at 5 min");
    assert!(
        text(&unknown)
            .unwrap()
            .contains("not known for: dragon's breath")
    );
}

#[test]
fn botanicals_are_told_by_their_level() {
    let herb = |name: &str| with_line(BOIL, &format!("  5 g {name} at 5 min"));
    check(
        "botanical_warn",
        &herb("juniper berries"),
        &herb("ceylon cinnamon"),
    );
    check(
        "botanical_limit",
        &herb("wormwood"),
        &herb("juniper berries"),
    );
    check("botanical_block", &herb("tansy"), &herb("wormwood"));
    let first = cautions(&herb("tansy")).into_iter().next().unwrap();
    assert_eq!(
        (first.code, first.urgency),
        ("botanical_block", Urgency::Stop)
    );
}

#[test]
fn fruit_that_needs_care_is_told() {
    let juice = |name: &str| with_line(FERMENT, &format!("  add 1 L {name} when 5 P"));
    check(
        "juice_or_fruit",
        &juice("elderberry juice"),
        &juice("raspberry juice"),
    );
    check(
        "juice_or_fruit",
        &juice("kiwi juice"),
        &juice("peach juice"),
    );
    check(
        "juice_or_fruit",
        &juice("grapefruit juice"),
        &juice("blackberry juice"),
    );
}

#[test]
fn dust_dogs_and_the_limits_of_arithmetic_are_told() {
    check("malt_dust", MASH, BOIL);
    check("pets_and_hops", BOIL, MASH);
    for hops in ["hops", "Hop pellets"] {
        let dry = with_line(FERMENT, &format!("  add 50 g {hops} on day 5 for 3 days"));
        check("pets_and_hops", &dry, FERMENT);
    }
    check(
        "aid_dust",
        &with_line(FERMENT, "  add 5 g kieselguhr on day 9"),
        FERMENT,
    );
    for text in [NOTHING, MASH, BOIL, FERMENT] {
        assert_eq!(cautions(text).last().unwrap().code, "arithmetic_only");
    }
}

#[test]
fn the_most_pressing_comes_first_and_nothing_twice() {
    let all = with_line(
        BOIL,
        "  5 g tansy at 5 min\n  5 g juniper berries at 5 min\n  5 g tansy at 1 min",
    );
    let list = cautions(&all);
    assert!(list.is_sorted_by_key(|caution| caution.urgency));
    for (index, caution) in list.iter().enumerate() {
        assert!(list[..index].iter().all(|other| other.text != caution.text));
    }
}

#[test]
fn a_plan_has_the_cautions_of_its_recipe_on_its_plant() {
    let text = format!(
        "{MASH}{}brewhouse P\n  batch 5 L into fermenter\n  no chill\n",
        "boil 30 min\n  9 g northern brewer, 9 % alpha at 30 min\n"
    );
    let cautions = planned(&text).cautions();
    let codes: Vec<_> = cautions.iter().map(|c| c.code).collect();
    for code in ["wet_bag", "kept_without_chilling", "boil_over", "malt_dust"] {
        assert!(codes.contains(&code), "{code} in {codes:?}");
    }
}

#[test]
fn a_hydroxide_is_handled_with_care() {
    check(
        "caustics",
        &with_line(MASH, "  1 g calcium hydroxide"),
        &with_line(MASH, "  1 g calcium chloride dihydrate"),
    );
}

#[test]
fn glass_breaks_where_a_fermenter_may_be_of_glass() {
    let plant = |size: &str| format!("{FERMENT}brewhouse P\n  batch 10 L\n  fermenter {size}\n");
    check("glass_vessels", &plant("15 L"), &plant("20 hL"));
    check("glass_vessels", FERMENT, MASH);
}

/// A caution stands at the step where the thing is handled.
#[test]
fn every_caution_knows_its_step() {
    let text = format!(
        "{MASH}boil 60 min\n  5 g wormwood at 5 min\nferment\n  pitch english ale yeast\n  add 1 L sour cherry juice\n"
    );
    let found = cautions(&text);
    for (code, step) in [
        ("hot_liquids", BrewStep::WholeDay),
        ("allergens", BrewStep::Shopping),
        ("malt_dust", BrewStep::Mash),
        ("boil_over", BrewStep::Boil),
        ("botanical_limit", BrewStep::Boil),
        ("juice_or_fruit", BrewStep::Additions),
        ("foam_over", BrewStep::Additions),
    ] {
        let caution = found.iter().find(|caution| caution.code == code);
        assert_eq!(caution.map(|caution| caution.step), Some(step), "{code}");
    }
}

#[test]
fn fruit_and_hops_clog_an_airlock_and_juice_does_not() {
    for line in [
        "  add 2 kg raspberry when 4 P",
        "  add 50 g saaz, 4 % alpha on day 5",
    ] {
        check("clogged_airlock", &with_line(FERMENT, line), FERMENT);
    }
    let juice = with_line(FERMENT, "  add 2 L raspberry juice when 4 P");
    assert!(!has(&juice, "clogged_airlock"));
}
