//! Names, as sheets and brewers write them.

use proptest::prelude::*;
use wortwright::catalogue::*;

static BUILT_IN: Catalogue = Catalogue::builtin();

#[track_caller]
fn check(name: &str, entry: &str, kind: Kind) {
    let found = BUILT_IN.find(name).unwrap_or_else(|| panic!("no `{name}`"));
    assert_eq!(
        (found.entry.name(), found.entry.kind()),
        (entry, kind),
        "{name}"
    );
}

#[test]
fn names_of_a_printed_sheet_are_found() {
    check("pale ale malt", "pale ale malt", Kind::Malt);
    check("light munich malt", "light munich malt", Kind::Malt);
    check("flaked spelt", "flaked spelt", Kind::Grain);
    check("caramel malt 150 EBC", "caramel malt 150 EBC", Kind::Malt);
    check("honey", "honey", Kind::Sugar);
    check("northern brewer", "Northern Brewer", Kind::Hop);
    check("styrian golding", "Savinjski Golding", Kind::Hop);
    check("carrageenan", "carrageenan", Kind::Aid);
    check("juniper berries", "juniper berries", Kind::Botanical);
    check("farmhouse ale yeast", "farmhouse ale yeast", Kind::Yeast);
    check("sour cherry juice", "sour cherry juice", Kind::Juice);
    check("elderberry juice", "elderberry juice", Kind::Juice);
    check("plum juice", "plum juice", Kind::Juice);
    check("redcurrant juice", "redcurrant juice", Kind::Juice);
    check("flaked wheat", "flaked wheat", Kind::Grain);
    check("spelt malt", "spelt malt", Kind::Malt);
}

#[test]
fn writing_does_not_matter() {
    check("Fuggles", "Fuggle", Kind::Hop);
    check("JUNIPER-BERRY", "juniper berries", Kind::Botanical);
    check("lactic acid 88 %", "lactic acid 88 %", Kind::Acid);
    check("lactic acid 88%", "lactic acid 88 %", Kind::Acid);
    check("caramel malt 150EBC", "caramel malt 150 EBC", Kind::Malt);
    check("brewers gold", "Brewer's Gold", Kind::Hop);
    check("gypsum", "calcium sulphate dihydrate", Kind::Salt);
    check(
        "calcium sulfate dihydrate",
        "calcium sulphate dihydrate",
        Kind::Salt,
    );
    check("  Irish  moss ", "irish moss", Kind::Aid);
    check("rice hull", "rice hulls", Kind::Grain);
    check("acid malt", "acidulated malt", Kind::Malt);
}

#[test]
fn the_way_to_an_entry_is_told() {
    assert_eq!(BUILT_IN.find("Honey").unwrap().reached, Reached::Name);
    assert_eq!(
        BUILT_IN.find("golden syrup").unwrap().reached,
        Reached::Name
    );
    assert_eq!(
        BUILT_IN.find("Saison yeasts").unwrap().reached,
        Reached::Alias("saison yeast")
    );
    for (name, default) in [
        ("munich malt", "light munich malt"),
        ("crystal malt", "caramel malt 120 EBC"),
        ("Caramel Malt", "caramel malt 120 EBC"),
        ("pale malt", "pale ale malt"),
        ("apple juice", "sweet apple juice"),
        ("ale yeast", "american ale yeast"),
        ("lager yeast", "german lager yeast"),
        ("brewing sugar", "dextrose monohydrate"),
    ] {
        let found = BUILT_IN.find(name).unwrap();
        assert_eq!(found.entry.name(), default);
        let Reached::Generic { name: told, reason } = found.reached else {
            panic!("{name}")
        };
        assert_eq!(folded(told), folded(name));
        assert!(reason.len() > 10);
    }
}

#[test]
fn an_acid_of_unsaid_strength_is_taken_as_the_strongest() {
    for (name, others) in [
        ("lactic acid", "lactic acid"),
        ("phosphoric acid", "phosphoric acid"),
        ("citric acid", "citric acid"),
    ] {
        let EntryRef::WaterAgent(default) = BUILT_IN.find(name).unwrap().entry else {
            panic!()
        };
        for row in BUILT_IN
            .water_agents()
            .filter(|row| row.name.starts_with(others))
        {
            assert!(
                row.acidity_at_ph_5_4 <= default.acidity_at_ph_5_4,
                "{name} {}",
                row.name
            );
        }
    }
}

#[test]
fn every_name_and_alias_leads_home() {
    for entry in BUILT_IN.entries() {
        for name in std::iter::once(entry.name()).chain(entry.aliases()) {
            assert_eq!(BUILT_IN.find(name).unwrap().entry, entry, "{name}");
            let longest = BUILT_IN.longest_match(name).unwrap();
            assert_eq!(
                (longest.found.entry, longest.bytes),
                (entry, name.len()),
                "{name}"
            );
        }
    }
}

#[track_caller]
fn check_match(text: &str, expected: Option<(&str, &str)>) {
    let found = BUILT_IN.longest_match(text);
    let found = found.map(|it| (it.found.entry.name(), text.split_at(it.bytes).1));
    assert_eq!(found, expected, "{text}");
}

#[test]
fn the_longest_name_wins() {
    check_match("caramel malt 150 EBC", Some(("caramel malt 150 EBC", "")));
    check_match(
        "caramel malt 60 EBC",
        Some(("caramel malt 120 EBC", " 60 EBC")),
    );
    check_match("lactic acid 88 %", Some(("lactic acid 88 %", "")));
    check_match("lactic acid 60 %", Some(("lactic acid 88 %", " 60 %")));
    check_match("pale ale malt 6 EBC", Some(("pale ale malt", " 6 EBC")));
    check_match("pale ale malt, 6 EBC", Some(("pale ale malt", ", 6 EBC")));
    check_match(
        "crystal malt, 60 L",
        Some(("caramel malt 120 EBC", ", 60 L")),
    );
    check_match(
        "munich malt light 15 EBC",
        Some(("light munich malt", " 15 EBC")),
    );
    check_match("Crystal 4 % alpha", Some(("Crystal", " 4 % alpha")));
    check_match(
        "grains of paradise at 5 min",
        Some(("grains of paradise", " at 5 min")),
    );
    check_match("honey-type biscuits", None);
    check_match("honeydew", None);
    check_match(
        "caramel malt 150EBC for 3",
        Some(("caramel malt 150 EBC", " for 3")),
    );
    check_match("kölsch yeast 1 pack", Some(("german ale yeast", " 1 pack")));
    check_match("", None);
    check_match(", honey", None);
}

#[test]
fn near_misses_are_offered() {
    assert_eq!(BUILT_IN.near("honney", None).first(), Some(&"honey"));
    assert_eq!(
        BUILT_IN.near("nothern brewer", Some(Kind::Hop)),
        ["Northern Brewer"]
    );
    assert_eq!(
        BUILT_IN.near("flakd spelt", Some(Kind::Grain)).first(),
        Some(&"flaked spelt")
    );
    assert!(
        BUILT_IN
            .near("munch malt", Some(Kind::Malt))
            .contains(&"munich malt")
    );
    assert!(
        BUILT_IN
            .near("elderbery juice", Some(Kind::Juice))
            .contains(&"elderberry juice")
    );
    assert!(BUILT_IN.near("honney", Some(Kind::Hop)).is_empty());
    assert!(BUILT_IN.near("zzzzzz", None).is_empty());
    for name in BUILT_IN.near("munch malt", None) {
        assert!(BUILT_IN.find(name).is_some(), "{name}");
    }
}

#[test]
fn a_hosts_entries_win() {
    let mut honey = Fermentable::new("Honey");
    honey.class = Some(FermentableClass::Honey);
    let mut smoked = Fermentable::new("Barn-smoked malt of the upper valley, second kilning");
    smoked.class = Some(FermentableClass::SmokedMalt);
    smoked.aliases = vec!["ale yeast".into(), "gypsum".into()].into();
    let catalogue = Catalogue::builtin().with([honey.into(), smoked.into()]);
    let found = catalogue.find("honey").unwrap();
    assert_eq!(
        (found.entry.name(), found.reached),
        ("Honey", Reached::Name)
    );
    assert_eq!(
        catalogue
            .entries()
            .filter(|entry| folded(entry.name()) == "honey")
            .count(),
        1
    );
    assert_eq!(catalogue.entries().count(), BUILT_IN.entries().count() + 1);
    // An alias of the host hides a generic name and an alias of the tables, but no entry.
    assert_eq!(
        catalogue.find("ale yeast").unwrap().entry.kind(),
        Kind::Malt
    );
    assert_eq!(
        catalogue.find("gypsum").unwrap().reached,
        Reached::Alias("gypsum")
    );
    assert!(catalogue.find("calcium sulphate dihydrate").is_some());
    assert!(
        catalogue
            .find("barn smoked malts of the upper valley second kilning")
            .is_some()
    );
    assert_eq!(catalogue.of_class(FermentableClass::SmokedMalt).count(), 5);
    assert_eq!(
        catalogue
            .near("barn-smokd malt of the upper valley", None)
            .len(),
        1
    );
    // What is added later wins.
    let mut again = Fermentable::new("honey");
    again.form = "comb".into();
    let catalogue = catalogue.with([again.into()]);
    let EntryRef::Fermentable(found) = catalogue.find("honey").unwrap().entry else {
        panic!()
    };
    assert_eq!(found.form, "comb");
    assert_eq!(
        catalogue
            .entries()
            .filter(|entry| folded(entry.name()) == "honey")
            .count(),
        1
    );
}

#[test]
fn a_name_without_letters_names_nothing() {
    let catalogue = Catalogue::builtin().with([Hop::new("--").into(), Hop::new("").into()]);
    assert_eq!(catalogue.find(""), None);
    assert_eq!(catalogue.find("'"), None);
    assert_eq!(
        catalogue.longest_match("- honey"),
        BUILT_IN.longest_match("- honey")
    );
}

#[test]
fn a_catalogue_can_be_shared_between_threads() {
    fn shared<T: Send + Sync + Clone>() {}
    shared::<Catalogue>();
    shared::<Found<'_>>();
    shared::<Entry>();
}

proptest! {
    #[test]
    fn any_text_gives_a_match_that_is_a_name(text in "\\PC{0,60}") {
        let _ = BUILT_IN.find(&text);
        if let Some(it) = BUILT_IN.longest_match(&text) {
            prop_assert_eq!(BUILT_IN.find(&text[..it.bytes]).unwrap().entry.name(), it.found.entry.name());
        }
    }

    #[test]
    fn folding_twice_is_folding_once_for_words(text in "[a-zA-Z' .%0-9-]{0,40}") {
        let once = folded(&text);
        prop_assert!(!once.contains("  ") && !once.starts_with(' ') && !once.ends_with(' '));
        prop_assert_eq!(folded(&text.to_uppercase()), once);
    }
}
