//! Names as brewers write them, in any order, with what the trade leaves out.

use wortwright::catalogue::*;
use wortwright::quantity::Unit;

static BUILT_IN: Catalogue = Catalogue::builtin();

const MASHED: &[Kind] = &[Kind::Malt, Kind::Grain];

fn one(name: &'static str, kinds: &[Kind]) -> Meant<'static> {
    match BUILT_IN.meaning(name, kinds) {
        Meaning::One(meant) => meant,
        other => panic!("{name}: {other:?}"),
    }
}

#[track_caller]
fn check(name: &'static str, kinds: &[Kind], entry: &str) {
    assert_eq!(one(name, kinds).entry.name(), entry, "{name}");
}

#[track_caller]
fn unknown(name: &str, kinds: &[Kind]) {
    assert_eq!(BUILT_IN.meaning(name, kinds), Meaning::Unknown, "{name}");
}

#[test]
fn words_stand_in_any_order() {
    check("dark Munich", MASHED, "dark munich malt");
    check("Munich malt, dark", MASHED, "dark munich malt");
    check("wheat malt (dark)", MASHED, "dark wheat malt");
    check("DME, light", &[Kind::Sugar], "dried malt extract pale");
    check("Pilsner, German", MASHED, "pilsner malt");
}

#[test]
fn a_name_of_the_tables_is_itself() {
    for entry in BUILT_IN.entries() {
        for name in std::iter::once(entry.name()).chain(entry.aliases()) {
            let Meaning::One(meant) = BUILT_IN.meaning(name, &[entry.kind()]) else {
                panic!("{name}")
            };
            assert_eq!(meant.entry.name(), entry.name(), "{name}");
            assert!(!meant.is_generic(), "{name}");
        }
    }
}

#[test]
fn what_is_left_out_or_unsaid_is_told() {
    let pils = one("German pils", MASHED);
    assert_eq!(
        (pils.entry.name(), pils.understood),
        ("pilsner malt", Some("malt"))
    );
    assert_eq!(
        (pils.left_out[0].text, pils.left_out[0].says),
        ("German", Says::Origin)
    );
    assert!(pils.is_generic());
    let hop = one("Crystal hops", &[Kind::Hop]);
    assert_eq!(
        (hop.entry.name(), hop.left_out[0].says),
        ("Crystal", Says::Thing)
    );
}

#[test]
fn a_colour_comes_back_as_a_figure() {
    for (name, number, unit) in [
        ("C60", 60.0, Some(Unit::Lovibond)),
        ("C-40", 40.0, Some(Unit::Lovibond)),
        ("Crystal 60L", 60.0, Some(Unit::Lovibond)),
        ("caramel 40", 40.0, None),
        ("dark crystal (230 EBC)", 230.0, Some(Unit::Ebc)),
        ("Munich 10L", 10.0, Some(Unit::Lovibond)),
    ] {
        let meant = one(name, MASHED);
        assert_eq!(meant.entry.kind(), Kind::Malt);
        assert_eq!(
            (meant.figures[0].number, meant.figures[0].unit),
            (number, unit),
            "{name}"
        );
    }
    assert!(one("caramel malt, 150 EBC", MASHED).figures.is_empty());
    check("88% lactic", &[Kind::Acid], "lactic acid 88 %");
}

#[test]
fn the_noun_says_what_a_thing_does() {
    unknown("amber malt extract", MASHED);
    unknown("honey", MASHED);
    unknown("barley syrup", &[Kind::Grain, Kind::Malt, Kind::Sugar]);
    unknown("golden syrup", &[Kind::Hop]);
    unknown("yeast starter", &[Kind::Yeast]);
    check(
        "corn sugar",
        &[Kind::Sugar, Kind::Grain],
        "dextrose monohydrate",
    );
    check("flaked corn", MASHED, "flaked maize");
    check(
        "yeast nutrient",
        &[Kind::Yeast, Kind::Aid],
        "yeast nutrient",
    );
}

#[test]
fn a_name_of_two_things_names_both() {
    let Meaning::Several(both) = BUILT_IN.meaning("Crystal", &[]) else {
        panic!()
    };
    let names: Vec<_> = both.iter().map(|meant| meant.entry.name()).collect();
    assert_eq!(names.len(), 2);
    assert!(names.contains(&"Crystal") && names.contains(&"caramel malt 120 EBC"));
    check("Crystal", &[Kind::Hop], "Crystal");
    check("Crystal", MASHED, "caramel malt 120 EBC");
}

#[test]
fn a_hosts_entries_go_first() {
    let mut vienna = Fermentable::new("Vienna malt of the valley");
    vienna.class = Some(FermentableClass::BaseMalt);
    vienna.aliases = vec!["pils malt".into()].into();
    let catalogue = Catalogue::builtin().with([vienna.into()]);
    for name in ["valley Vienna malt", "German pils"] {
        let Meaning::One(meant) = catalogue.meaning(name, MASHED) else {
            panic!("{name}")
        };
        assert_eq!(meant.entry.name(), "Vienna malt of the valley");
    }
    let Meaning::One(meant) = catalogue.meaning("Vienna", MASHED) else {
        panic!()
    };
    assert_eq!(meant.entry.name(), "vienna malt");
}

#[test]
fn a_grain_with_another_word_beside_it_may_be_malt() {
    check("white wheat", MASHED, "pale wheat malt");
    check("English crystal rye", MASHED, "caramel rye malt");
    check("chocolate wheat", MASHED, "chocolate wheat malt");
    // Roasted grain is not malted unless it says so, and a grain alone is what its generic name stands for.
    unknown("roasted millet", MASHED);
    check("naked oats", MASHED, "raw oats");
    check("buckwheat", MASHED, "buckwheat groats");
    // One grain is not left out for another.
    unknown("flaked rye oats spelt", MASHED);
}

#[test]
fn cultivars_of_barley_are_base_malts() {
    check("MO", MASHED, "heritage-variety pale ale malt");
    check("Barke Pilsner", MASHED, "pilsner malt");
    check("Pearl pale ale malt", MASHED, "pale ale malt");
    check("pearl barley", MASHED, "raw barley");
}

#[test]
fn c_and_a_number_are_crystal_malt_and_no_hop() {
    check("C60", MASHED, "caramel malt 120 EBC");
    unknown("C60", &[Kind::Hop]);
    unknown("C60", &[]);
}

#[test]
fn a_concentrate_is_no_juice() {
    check(
        "tart cherry juice conc.",
        &[Kind::Juice],
        "sour cherry juice concentrate",
    );
    unknown("lime juice concentrate", &[Kind::Juice]);
}

#[test]
fn two_names_of_one_thing_are_one() {
    check("Žatec červeňák (Saaz)", &[Kind::Hop], "Saazer");
    check(
        "dextrose (corn sugar)",
        &[Kind::Sugar],
        "dextrose monohydrate",
    );
    unknown("Saaz (Fuggle)", &[Kind::Hop]);
}

#[test]
fn an_aside_in_words_of_other_things_is_talk() {
    check(
        "Hefeweizen yeast (banana)",
        &[Kind::Yeast],
        "wheat beer yeast",
    );
    unknown("malt (extract)", MASHED);
}

#[test]
fn what_several_things_are_called_is_asked() {
    let several = |name: &'static str, kinds: &[Kind]| {
        let Meaning::Several(found) = BUILT_IN.meaning(name, kinds) else {
            panic!("{name}")
        };
        found
            .iter()
            .map(|meant| meant.entry.name())
            .collect::<Vec<_>>()
    };
    assert_eq!(several("sorghum syrup", &[Kind::Sugar]).len(), 2);
    assert_eq!(several("cider", &[Kind::Juice, Kind::Beverage]).len(), 2);
    assert_eq!(several("amber", &[]).len(), 3);
    check("amber", MASHED, "amber malt");
}
