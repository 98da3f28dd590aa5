//! Nothing that a brewer adds counts for nothing in silence: it is counted, known to bring nothing, or refused.

use crate::brewing::{l, near, predicted_on};
use wortwright::advice::{Action, DayReading};
use wortwright::diagnostic::Error;
use wortwright::process::Prediction;
use wortwright::quantity::litres;
use wortwright::scale::Outcome;
use wortwright::speech::{Speaks, Style};

/// A beer of 20 L with these lines in its blocks, on a plant where everything is stated.
#[derive(Default, Clone, Copy)]
struct Lines<'a> {
    mash: &'a str,
    boil: &'a str,
    hot: &'a str,
    ferment: &'a str,
    package: &'a str,
    plant: &'a str,
}

const PLAIN: Lines<'_> = Lines {
    mash: "",
    boil: "  30 g northern brewer, 9 % alpha at 60 min\n",
    hot: "",
    ferment: "",
    package: "",
    plant: "",
};

impl Lines<'_> {
    fn text(self) -> String {
        format!(
            "recipe Counted\nbatch 20 L into fermenter\nmash\n  4.5 kg pale ale malt\n{}boil 60 min\n{}{}ferment\n  \
             pitch american ale yeast, attenuation 75 %\n{}package\n  bottle, carbonate 5 g/L at 20 C\n{}\
             brewhouse Home\n  batch 20 L into fermenter\n  extract yield 75 %\n  absorption 1 L/kg\n  evaporation 4 L/h\n  \
             kettle loss 1 L\n  fermenter loss 1 L\n{}",
            self.mash, self.boil, self.hot, self.ferment, self.package, self.plant
        )
    }

    fn predicted(self) -> Prediction {
        predicted_on(&self.text(), "Home")
    }

    fn refused(self) -> Error {
        let job = wortwright::Job::read([("text", self.text())]).unwrap();
        let brew = job.on("Home").unwrap();
        let error = brew.predict().unwrap_err();
        assert_eq!(brew.plan().unwrap_err(), error);
        error
    }

    /// Refused at the line that holds `at`, with a help that holds `help`.
    #[track_caller]
    fn refused_at(self, at: &str, help: &str) {
        let error = self.refused();
        let text = self.text();
        let span = error.span().unwrap_or_else(|| panic!("{error}"));
        let line = text[..span.start as usize].matches('\n').count();
        assert!(text.lines().nth(line).unwrap().contains(at), "{error}");
        assert!(
            error.help().is_some_and(|said| said.contains(help)),
            "{error}"
        );
    }
}

fn abv(found: &Prediction) -> f64 {
    found.predicted.alcohol.unwrap().percent()
}

fn finished_l(found: &Prediction) -> f64 {
    l(found.predicted.finished.unwrap())
}

/// The places that an entry of this code speaks of.
fn places(found: &Prediction, code: &str) -> Vec<String> {
    let entries = found
        .assumptions
        .iter()
        .filter(|entry| entry.code() == code);
    entries
        .filter_map(|entry| entry.place().map(ToString::to_string))
        .collect()
}

/// The batch, the extract and the steam are the same, so that 5 L of water in the kettle leave 5 L less to be drawn from the tap
/// before.
#[test]
fn water_in_the_kettle_is_brewing_water() {
    let plain = PLAIN.predicted();
    let boil = format!("{}  5 L water at 10 min\n", PLAIN.boil);
    let in_boil = Lines {
        boil: &boil,
        ..PLAIN
    };
    let hot = "stand 20 min at 80 C\n  5 L tap water for 20 min\n";
    let in_stand = Lines { hot, ..PLAIN };
    for lines in [in_boil, in_stand] {
        let thinned = lines.predicted();
        let water = |found: &Prediction| l(found.volumes.total_water);
        // Volumes of wort and water do not quite add up: 1 mL of 5 L.
        near(water(&plain) - water(&thinned), 5.0, 3e-4, "water drawn");
        near(l(thinned.volumes.into_fermenter), 20.0, 1e-6, "batch");
        let original = |found: &Prediction| found.predicted.original.unwrap().plato();
        near(original(&thinned), original(&plain), 1e-6, "original");
        // A fifth of the kettle is still missing before the boil.
        let pre_boil = |found: &Prediction| l(found.volumes.pre_boil);
        near(
            pre_boil(&plain) - pre_boil(&thinned),
            5.0,
            0.005,
            "before the boil",
        );
        // The hop meets a stronger wort for most of the boil, and so gives less.
        assert!(thinned.predicted.bitterness < plain.predicted.bitterness);
    }
}

/// Ethanol and iso-alpha-acids stay, the litres grow: a beer of V litres has V/(V + 5) of its strength. Water and beer shrink by
/// less than 0.02 L on mixing.
#[test]
fn water_in_the_fermenter_thins_the_beer() {
    let plain = PLAIN.predicted();
    let ferment = "  5 L boiled water on day 7\n";
    let thinned = Lines { ferment, ..PLAIN }.predicted();
    near(
        finished_l(&thinned),
        finished_l(&plain) + 5.0,
        0.001,
        "litres",
    );
    let share = finished_l(&plain) / (finished_l(&plain) + 5.0);
    near(abv(&thinned), abv(&plain) * share, 0.001, "alcohol");
    let ibu = |found: &Prediction| found.predicted.bitterness.unwrap().ibu();
    near(ibu(&thinned), ibu(&plain) * share, 0.001, "bitterness");
}

/// A litre of 40 % brings 0.4 L of ethanol: (V·A + 0.4)/(V + 1), and less than 0.02 L are lost on mixing.
#[test]
fn a_spirit_brings_its_alcohol_and_its_water() {
    let plain = PLAIN.predicted();
    let volume = finished_l(&plain);
    for name in ["spirit", "vodka", "plum brandy"] {
        let ferment = format!("  1 L {name}, 40 % alcohol on day 7\n");
        let strong = Lines {
            ferment: &ferment,
            ..PLAIN
        }
        .predicted();
        near(finished_l(&strong), volume + 1.0, 0.001, "litres");
        let by_hand = (volume * abv(&plain) + 40.0) / (volume + 1.0);
        near(abv(&strong), by_hand, 0.001, name);
    }
    // By weight: 40 % by volume is 33.30 % by mass (OIML R 22), so that 948 g are a litre.
    let ferment = "  948.1 g vodka, 40 % alcohol on day 7\n";
    let weighed = Lines { ferment, ..PLAIN }.predicted();
    let by_hand = (volume * abv(&plain) + 40.0) / (volume + 1.0);
    near(abv(&weighed), by_hand, 0.001, "weighed");
    let ferment = "  1 L vodka on day 7\n";
    Lines { ferment, ..PLAIN }.refused_at("vodka", "40 % alcohol");
}

#[test]
fn alcohol_is_refused_where_it_boils_off() {
    let boil = format!("{}  1 L vodka, 40 % alcohol at 5 min\n", PLAIN.boil);
    Lines {
        boil: &boil,
        ..PLAIN
    }
    .refused_at("vodka", "`ferment`");
    let hot = "stand 20 min at 80 C\n  1 L vodka, 40 % alcohol for 5 min\n";
    Lines { hot, ..PLAIN }.refused_at("vodka", "`ferment`");
}

#[test]
fn water_with_the_grist_is_part_of_the_mash_water() {
    let mash = "  5 L water\n";
    let found = Lines { mash, ..PLAIN }.predicted();
    let told = places(&found, "part_of_mash_water");
    assert_eq!(told, ["recipe.mash.additions[1].content.single"]);
    let plain = PLAIN.predicted();
    assert_eq!(found.volumes.total_water, plain.volumes.total_water);
}

/// Half a litre of finings in water is half a litre of water.
#[test]
fn finings_in_solution_bring_their_water() {
    let plain = PLAIN.predicted();
    let ferment = "  500 mL isinglass on day 7\n";
    let fined = Lines { ferment, ..PLAIN }.predicted();
    near(
        finished_l(&fined),
        finished_l(&plain) + 0.5,
        0.001,
        "litres",
    );
    let told = places(&fined, "counted_as_water");
    assert_eq!(told, ["recipe.fermentation.additions[0].amount"]);
    let ferment = "  1 g isinglass on day 7\n";
    let dry = Lines { ferment, ..PLAIN }.predicted();
    assert_eq!(dry.predicted.finished, plain.predicted.finished);
    // It brings no extract, so that it is no addition whose gravity is to be read.
    assert_eq!(fined.predicted.before_addition, None);
}

/// 2 g/L in 20 L are 40 g.
#[test]
fn the_unknown_is_carried_along_as_a_trace_and_refused_above() {
    let ferment = "  38 g unheard powder on day 7\n";
    let trace = Lines { ferment, ..PLAIN }.predicted();
    let told = places(&trace, "carried_per_litre");
    assert_eq!(
        told,
        ["recipe.fermentation.additions[0].content.single.facts"]
    );
    let carried =
        |entry: &&wortwright::speech::Noted<_>| Speaks::code(*entry) == "carried_per_litre";
    let entry = trace.assumptions.iter().find(carried).unwrap();
    assert!(entry.text(Style::default()).contains("safe in food"));
    for ferment in [
        "  50 g unheard powder on day 7\n",
        "  25 g unheard powder on day 7\n  26 g unheard powder on day 8\n",
        "  5 mL unheard powder on day 7\n",
        "  1 g/L unheard powder on day 7\n  1.1 g/L unheard powder on day 8\n",
    ] {
        Lines { ferment, ..PLAIN }.refused_at("unheard powder", "`unheard powder, 60 % extract`");
    }
    let package = "  1 g unheard powder\n";
    Lines { package, ..PLAIN }.refused_at("unheard powder", "`unheard powder, brings nothing`");
    let boil = format!("{}  45 g unheard powder at 5 min\n", PLAIN.boil);
    Lines {
        boil: &boil,
        ..PLAIN
    }
    .refused_at("unheard powder", "9 Bx");
}

#[test]
fn fruit_without_a_brix_is_refused_however_little() {
    let ferment = "  10 g fresh carrots on day 7\n";
    Lines { ferment, ..PLAIN }.refused_at("carrots", "`fresh carrots, 8.5 Bx`");
    // A fruit that the catalogue has without its figures.
    let ferment = "  10 g damsons on day 7\n";
    Lines { ferment, ..PLAIN }.refused_at("damsons", "`12 Bx`");
    // What the help says can be typed. 3 kg of 10.5 °Bx with 7.7 % of pulp, which does not dissolve: 0.315 kg of extract and 2.454 kg
    // of water, at 0.62 and 1.0018 L/kg.
    let ferment = "  3 kg fresh raspberries, 10.5 Bx on day 7\n";
    let found = Lines { ferment, ..PLAIN }.predicted();
    let grown = finished_l(&found) - finished_l(&PLAIN.predicted());
    near(grown, 2.654, 0.01, "litres");
}

/// 60 % of 500 g are 300 g of extract. Of 2.0665 g a gram becomes ethanol (Balling), of 0.7892 g/mL.
#[test]
fn the_line_says_what_it_brings() {
    let plain = PLAIN.predicted();
    let ethanol_ml = |found: &Prediction| 10.0 * abv(found) * finished_l(found);
    for package in [
        "  500 g unheard sugar, 60 % extract on day 7\n",
        "  500 g unheard sugar, 60 % extract when 5 P\n",
    ] {
        let sweet = Lines {
            ferment: package,
            ..PLAIN
        }
        .predicted();
        near(
            ethanol_ml(&sweet) - ethanol_ml(&plain),
            300.0 / 2.0665 / 0.7892,
            0.001,
            "ethanol",
        );
    }
    let ferment = "  500 g unheard powder, brings nothing on day 7\n";
    let nothing = Lines { ferment, ..PLAIN }.predicted();
    assert_eq!(nothing.predicted, plain.predicted);
    assert_eq!(places(&nothing, "carried_per_litre").len(), 1);
    let ferment = "  2 L unheard drink, brings nothing on day 7\n";
    let thin = Lines { ferment, ..PLAIN }.predicted();
    near(finished_l(&thin), finished_l(&plain) + 2.0, 0.001, "litres");
}

#[test]
fn nothing_is_not_what_is_known_to_bring_something() {
    for name in [
        "sucrose",
        "apple juice",
        "unheard sugar, 60 % extract",
        "vodka",
        "cascade, pellet",
        "gypsum",
    ] {
        let ferment = format!("  50 g {name}, brings nothing on day 7\n");
        Lines {
            ferment: &ferment,
            ..PLAIN
        }
        .refused_at("brings nothing", "delete `brings nothing`");
    }
    // A spice does bring nothing that is counted, and water brings itself.
    let ferment = "  50 g vanilla, brings nothing on day 7\n  1 L water, brings nothing on day 7\n";
    let found = Lines { ferment, ..PLAIN }.predicted();
    near(
        finished_l(&found),
        finished_l(&PLAIN.predicted()) + 1.0,
        0.001,
        "litres",
    );
}

/// 500 g of each: the solids of the catalogue's rows.
#[test]
fn sugars_of_the_kitchen_are_counted() {
    for (name, extract_kg) in [
        ("muscovado sugar", 0.5 * 0.985 * 0.97),
        ("powdered sugar", 0.5),
        ("icing sugar", 0.5),
        ("jam", 0.5 * 0.985 * 0.64),
        ("caster sugar", 0.5),
    ] {
        let text = Lines {
            ferment: &format!("  500 g {name} on day 7\n"),
            ..PLAIN
        }
        .text();
        let job = wortwright::Job::read([("text", text)]).unwrap();
        let plan = job.on("Home").unwrap().plan().unwrap();
        let sugar = plan.additions.iter().find(|a| a.name == name).unwrap();
        near(
            crate::brewing::kg(sugar.extract.unwrap()),
            extract_kg,
            2e-4,
            name,
        );
    }
}

#[test]
fn grain_is_refused_wherever_it_is_not_mashed() {
    let boil = format!("{}  200 g black malt at 5 min\n", PLAIN.boil);
    Lines {
        boil: &boil,
        ..PLAIN
    }
    .refused_at("black malt", "`mash`");
    let hot = "stand 20 min at 80 C\n  200 g black malt for 20 min\n";
    Lines { hot, ..PLAIN }.refused_at("black malt", "`mash`");
    let ferment = "  200 g flaked oats on day 7\n";
    Lines { ferment, ..PLAIN }.refused_at("flaked oats", "`500 mL steeped flaked oats, 4 Bx`");
    let ferment = "  500 mL steeped flaked oats, 4 Bx on day 7\n";
    let found = Lines { ferment, ..PLAIN }.predicted();
    near(
        finished_l(&found),
        finished_l(&PLAIN.predicted()) + 0.5,
        0.001,
        "litres",
    );
}

/// A plan keeps the water per litre, and its text says the same beer.
#[test]
fn a_plan_keeps_water_and_spirit_per_litre() {
    let boil = format!("{}  5 L water at 10 min\n", PLAIN.boil);
    let ferment = "  1 L vodka, 40 % alcohol on day 7\n  2 L water on day 8\n";
    let text = Lines {
        boil: &boil,
        ferment,
        ..PLAIN
    }
    .text();
    let text = format!(
        "{}\nbrewhouse Small\n  batch 10 L into fermenter\n",
        text.replace("recipe Counted", "recipe Counted\nbrewed on Home")
    );
    let plan = crate::brewing::plan(&text, "Small");
    let litres = |name: &str, at: usize| {
        let mut found = plan.additions.iter().filter(|a| a.name == name);
        l(found.nth(at).unwrap().volume.unwrap())
    };
    // Of 21 L at the end of the boil 5 L: in the same share of the other kettle's wort.
    near(
        litres("water", 0) / l(plan.volumes.post_boil),
        5.0 / 21.0,
        1e-9,
        "kettle",
    );
    near(litres("vodka", 0), 0.5, 1e-9, "spirit");
    near(litres("water", 1), 1.0, 1e-9, "fermenter");
    assert!(plan.shopping.iter().all(|bought| bought.name != "water"));
    let again = predicted_on(&plan.to_document().to_string(), "Small");
    let (ours, theirs) = (&plan.predicted, &again.predicted);
    near(
        ours.alcohol.unwrap().percent(),
        theirs.alcohol.unwrap().percent(),
        1e-6,
        "alcohol",
    );
    near(
        l(ours.finished.unwrap()),
        l(theirs.finished.unwrap()),
        1e-6,
        "litres",
    );
    near(
        ours.bitterness.unwrap().ibu(),
        theirs.bitterness.unwrap().ibu(),
        1e-4,
        "bitterness",
    );
}

/// 9.1 % of the alpha acids of mash hops against 44.0 % of a boil of 60 min (Justus 2018): 0.2068 of it, by either model.
#[test]
fn mash_hops_give_a_fifth_of_what_they_would_give_boiled() {
    for plant in ["  bitterness tinseth\n", "  bitterness kinetic\n"] {
        let boiled = Lines { plant, ..PLAIN }.predicted();
        let mash = "  30 g northern brewer, 9 % alpha\n";
        let mashed = Lines {
            mash,
            boil: "",
            plant,
            ..PLAIN
        }
        .predicted();
        let ibu = |found: &Prediction| found.predicted.wort_bitterness.unwrap().ibu();
        assert!(ibu(&boiled) > 10.0, "{}", ibu(&boiled));
        near(ibu(&mashed) / ibu(&boiled), 0.2068, 0.0001, plant);
        assert_eq!(places(&mashed, "mash_hops"), ["recipe.mash.additions[1]"]);
    }
}

#[test]
fn hops_in_a_stand_get_a_model_that_knows_stands() {
    let hot = "stand 20 min at 90 C\n  30 g northern brewer, 9 % alpha for 20 min\n";
    let of = |plant| {
        Lines {
            boil: "",
            hot,
            plant,
            ..PLAIN
        }
        .predicted()
    };
    let (chosen, kinetic, tinseth) = (
        of(""),
        of("  bitterness kinetic\n"),
        of("  bitterness tinseth\n"),
    );
    assert_eq!(chosen.predicted.bitterness, kinetic.predicted.bitterness);
    assert_eq!(
        places(&chosen, "kinetic_for_stand"),
        ["brewhouses[Home].bitterness"]
    );
    assert!(places(&kinetic, "kinetic_for_stand").is_empty());
    // Whoever chooses Tinseth is told that it gives none.
    assert_eq!(tinseth.predicted.bitterness.unwrap().ibu(), 0.0);
    assert_eq!(places(&tinseth, "stand_without_bitterness").len(), 1);
}

#[test]
fn a_spirit_comes_with_its_caution() {
    let of = |ferment| {
        let text = Lines { ferment, ..PLAIN }.text();
        let job = wortwright::Job::read([("text", text)]).unwrap();
        let plan = job.on("Home").unwrap().plan().unwrap();
        plan.cautions()
            .iter()
            .any(|caution| caution.code() == "spirits")
    };
    assert!(of("  100 mL vodka, 40 % alcohol on day 7\n"));
    assert!(!of("  5 L water on day 7\n"));
}

/// Water at the end of the boil: the kettle is fullest then, with 21 L of wort that grow by 4.15 % from 20 to 100 °C.
#[test]
fn a_kettle_holds_what_is_poured_into_it() {
    let kettle = |litres: f64, boil: &str| {
        let plant = format!("  lauter batch, sparges 1\n  kettle {litres} L\n");
        let lines = Lines {
            boil,
            plant: &plant,
            ..PLAIN
        };
        let job = wortwright::Job::read([("text", lines.text())]).unwrap();
        let plan = job.on("Home").unwrap().plan().unwrap();
        plan.outcomes.into_iter().find_map(|told| match told.what {
            Outcome::KettleOverflows { needed, .. } => {
                assert_eq!(told.place.unwrap().to_string(), "brewhouses[Home].kettle_l");
                Some(l(needed))
            }
            _ => None,
        })
    };
    let late = "  10 L water at 0 min\n";
    // 15 L before the boil, 21 L behind it.
    assert_eq!(kettle(22.5, late), None);
    near(kettle(21.0, late).unwrap(), 21.0 * 1.0415, 3e-3, "full");
    // Without it, 25 L before the boil.
    near(kettle(22.5, "").unwrap(), 25.0 * 1.0415, 3e-3, "full");
    // 15 L before the boil, and nearly all of the steam yet to come.
    let early = kettle(22.5, "  10 L water at 45 min\n").unwrap();
    near(early, 24.0 * 1.0415, 3e-3, "full");
}

/// 30 L into the kettle for 21 L of wort at the end of the boil, of which 4 L boil off: nothing is left to be drawn.
#[test]
fn a_kettle_takes_no_more_water_than_its_wort_has() {
    let boil = "  30 L water at 60 min\n";
    Lines { boil, ..PLAIN }.refused_at("30 L water", "fermenter");
    let boil = "  10 L water at 60 min\n";
    let found = Lines { boil, ..PLAIN }.predicted();
    near(l(found.volumes.into_fermenter), 20.0, 1e-6, "batch");
}

/// 24 L of water for 20 L of wort, where 8 L boil off and the extract brings next to none. On a plant that boils 2 L off
/// half of it is 12 L, and 10 L of wort and 2 L of steam have no room for it with the water of the syrup.
#[test]
fn a_kettle_that_boils_off_less_takes_less_water() {
    let text = "recipe Counted\nbrewed on Home\nbatch 20 L at end of boil\nboil 60 min\n  2.5 kg liquid malt extract at 60 min\n  \
                24 L water at 60 min\nferment\n  pitch ale yeast\nbrewhouse Home\n  no mash\n  evaporation 8 L/h\n\
                brewhouse Half\n  batch 10 L at end of boil\n  no mash\n  evaporation EVAPORATION L/h\n";
    let plan = |evaporation: &str| {
        let text = text.replace("EVAPORATION", evaporation);
        let job = wortwright::Job::read([("text", &*text)]).unwrap();
        job.on("Half").unwrap().plan()
    };
    plan("4").unwrap();
    let refused = plan("1").unwrap_err();
    assert!(
        refused.to_string().contains("no room for wort"),
        "{refused}"
    );
    assert_eq!(
        refused.place().unwrap().to_string(),
        "recipe.boil.additions[1].amount"
    );
}

/// Nobody knows the size of a pack: it stays a pack, half of one in half the beer, and is no kilogram.
#[test]
fn a_pack_stays_a_pack() {
    let lines = Lines {
        boil: "  1 pack kettle finings, brings nothing at 10 min\n",
        ferment: "  1 pack clarifier, brings nothing on day 3\n",
        package: "  add 3 packs polish, brings nothing\n",
        plant: "brewhouse Half\n  batch 10 L into fermenter\n  extract yield 75 %\n  kettle loss 0.5 L\n  \
                fermenter loss 0.5 L\n",
        ..PLAIN
    };
    let text = lines
        .text()
        .replace("recipe Counted", "recipe Counted\nbrewed on Home");
    let job = wortwright::Job::read([("text", &*text)]).unwrap();
    let plan = job.on("Half").unwrap().plan().unwrap();
    let of = |name: &str| plan.additions.iter().find(|a| a.name == name).unwrap();
    for (name, packs) in [("kettle finings", 0.5), ("clarifier", 0.5), ("polish", 1.5)] {
        let line = of(name);
        assert_eq!(
            (line.mass, line.volume, line.source_mass),
            (None, None, None),
            "{name}"
        );
        near(line.pack_count.unwrap().packs(), packs, 1e-6, name);
    }
    let bought = plan.shopping.iter().find(|a| a.name == "polish").unwrap();
    assert_eq!(bought.needed_mass, None);
    near(bought.needed_packs.unwrap().packs(), 1.5, 1e-6, "bought");
    let reading = DayReading::Packaging {
        volume: plan.predicted.finished.unwrap() - litres(0.5),
        warmest: None,
        shown: None,
    };
    let advice = plan.advise(&reading).unwrap();
    let doses = advice.actions.iter().find_map(|way| match &way.action {
        Action::PackageLess { doses, .. } => Some(doses),
        _ => None,
    });
    let [polish] = &**doses.unwrap() else {
        panic!("{doses:?}")
    };
    assert_eq!((polish.mass, polish.volume), (None, None));
    near(polish.pack_count.unwrap().packs(), 1.5, 1e-6, "advised");
    assert_eq!(polish.text(Style::default()), "1.5 packs of polish");
    // The plan read again has the packs, and the page shows them.
    let again = wortwright::Job::read([("text", plan.to_document().to_string())]).unwrap();
    let again = again.on("Half").unwrap().plan().unwrap();
    let packs = |plan: &wortwright::scale::Plan| {
        plan.additions
            .iter()
            .filter_map(|a| a.pack_count)
            .map(wortwright::quantity::PackCount::packs)
            .collect::<Vec<_>>()
    };
    for (read, planned) in packs(&again).into_iter().zip(packs(&plan)) {
        near(read, planned, 1e-3, "read again");
    }
    assert_eq!(packs(&again).len(), 3);
    assert!(plan.to_string().contains("packs"), "{plan}");
    // What counts by its mass is refused in packs.
    let boil = "  1 pack table sugar at 10 min\n";
    Lines { boil, ..PLAIN }.refused_at("1 pack", "1.4 kg");
    let ferment = "  1 pack table sugar on day 3\n";
    Lines { ferment, ..PLAIN }.refused_at("1 pack", "2 x 500 g");
    let ferment = "  1 pack cascade on day 3\n";
    Lines { ferment, ..PLAIN }.refused_at("1 pack", "2 x 500 g");
}

/// A plant's own stand that the recipe's stands leave out is told.
#[test]
fn a_stand_that_is_not_used_is_told() {
    let hops = "stand 20 min at 85 C\n  30 g cascade, 6 % alpha for 20 min\n";
    let found = |hot| {
        let plant = "  stand 15 min\n";
        Lines {
            hot,
            plant,
            ..PLAIN
        }
        .predicted()
    };
    assert_eq!(
        places(&found(hops), "stand_not_used"),
        ["brewhouses[Home].stand_min"]
    );
    assert!(places(&found(""), "stand_not_used").is_empty());
}

/// What the notes say changes no figure, by their places.
fn without_figure(lines: Lines<'_>) -> Vec<String> {
    places(&lines.predicted(), "changes_no_figure")
}

/// Figures and additions that no relation asks for: each is told at its own place, and nowhere else.
#[test]
fn what_changes_no_figure_is_told() {
    assert!(without_figure(PLAIN).is_empty());
    let mash = "  500 g wheat malt, 12 % protein\n";
    assert_eq!(
        without_figure(Lines { mash, ..PLAIN }),
        ["recipe.mash.additions[1].content.single.facts.protein_pct"]
    );
    let boil = format!("{}  2 mL lactic acid 80 % at 5 min\n", PLAIN.boil);
    assert_eq!(
        without_figure(Lines {
            boil: &boil,
            ..PLAIN
        }),
        ["recipe.boil.additions[1].amount"]
    );
    let packs = PLAIN
        .text()
        .replace("pitch american", "pitch 2 packs american");
    let found = predicted_on(&packs, "Home");
    assert_eq!(
        places(&found, "changes_no_figure"),
        ["recipe.fermentation.pitch.amount"]
    );
}

/// Gypsum, acid and a wanted pH act in a mash whose water is known; without it each is told, with the line to write.
#[test]
fn salts_acids_and_ph_of_a_mash_without_its_water_are_told() {
    let mash = "  4 g gypsum\n  2 mL lactic acid 80 %\n  pH 5.4\n";
    let dry = Lines { mash, ..PLAIN };
    let told = [
        "recipe.mash.additions[1].amount",
        "recipe.mash.additions[2].amount",
        "recipe.mash.ph",
    ];
    assert_eq!(without_figure(dry), told);
    let job = wortwright::Job::read([("text", dry.text())]).unwrap();
    let sheet = job.on("Home").unwrap().plan().unwrap().to_string();
    assert!(sheet.contains("alkalinity 60 mg/L"), "{sheet}");
    // The line that the note says: now the mash has a pH, and the notes are gone.
    let plant = "  water calcium 20 mg/L, magnesium 2 mg/L, sodium 8 mg/L, sulphate 15 mg/L, chloride 12 mg/L, alkalinity 60 mg/L\n";
    let known = Lines { plant, ..dry };
    assert!(without_figure(known).is_empty());
    let job = wortwright::Job::read([("text", known.text())]).unwrap();
    let plan = job.on("Home").unwrap().plan().unwrap();
    assert!(plan.predicted.mash_ph.is_some());
    let entry = plan.assumptions.iter();
    assert!(
        entry
            .clone()
            .all(|entry| entry.code() != "changes_no_figure")
    );
}

/// A model that means an entry of the catalogue and says another kind is refused at the kind.
#[test]
fn a_kind_that_contradicts_the_entry_is_refused_at_its_place() {
    let job = wortwright::Job::read([("text", PLAIN.text())]).unwrap();
    let mut recipe = job.recipe().unwrap().clone();
    let hop = recipe.boil.additions.remove(0);
    let mut json = serde_json::to_value(&hop).unwrap();
    json["content"]["single"]["kind"] = "salt".into();
    recipe
        .boil
        .additions
        .push(serde_json::from_value(json).unwrap());
    let builder = wortwright::Job::builder(recipe).plant(job.brewhouses()[0].clone());
    let error = builder.build().unwrap().on("Home").unwrap().predict();
    let error = error.unwrap_err();
    let place = error.place().unwrap().to_string();
    assert_eq!(place, "recipe.boil.additions[0].content.single.kind");
    assert!(error.to_string().contains("`hop`"), "{error}");
    // So is a lot of the stock.
    let text = PLAIN.text() + "stock\n  any cascade\n";
    let job = wortwright::Job::read([("text", text)]).unwrap();
    let mut json = serde_json::to_value(job.stock()).unwrap();
    json["lots"][0]["any"]["kind"] = "malt".into();
    let builder = wortwright::Job::builder(job.recipe().unwrap().clone());
    let builder = builder.plant(job.brewhouses()[0].clone());
    let builder = builder.stock(serde_json::from_value(json).unwrap());
    let error = builder.build().unwrap().on("Home").unwrap().plan();
    let place = error.unwrap_err().place().unwrap().to_string();
    assert_eq!(place, "stock.lots[0].any.kind");
}

/// What is named an extract keeps no wort, whatever the plant; its bitterness in the boil is that of its alpha acids, and none is known of
/// one that goes in after it.
#[test]
fn hop_extract_keeps_nothing_and_says_what_is_not_known() {
    let boiled = |line: &str| {
        let lines = Lines {
            boil: line,
            ..PLAIN
        };
        l(lines.predicted().volumes.post_boil)
    };
    let pellets_l = boiled("  20 g northern brewer, pellet, 9 % alpha at 60 min\n");
    let extract_l = boiled("  20 g hop extract, 9 % alpha at 60 min\n");
    let stated_l = boiled("  20 g northern brewer, extract, 9 % alpha at 60 min\n");
    near(extract_l, stated_l, 1e-12, "by its name");
    assert!((pellets_l - extract_l).abs() > 1e-3 || pellets_l >= extract_l);
    let bottled = Lines {
        package: "  add 5 g iso-alpha extract, 30 % alpha\n",
        ..PLAIN
    };
    let found = bottled.predicted();
    assert_eq!(
        places(&found, "extract_without_bitterness"),
        ["recipe.package.additions[0]"]
    );
    assert!(places(&found, "dry_hops_without_bitterness").is_empty());
}

/// Lactose does not ferment in the bottle, and nothing says that it does; honey does.
#[test]
fn what_ferments_in_the_bottle_is_told_of_that_alone() {
    let told = |line: &str| {
        let bottled = Lines {
            package: line,
            ..PLAIN
        };
        places(&bottled.predicted(), "ferments_in_package").len()
    };
    assert_eq!(told("  add 300 g lactose\n"), 0);
    assert_eq!(told("  add 30 g honey\n"), 1);
}

/// Nobody says how far an enzyme takes a beer: it is told that the figures are without it.
#[test]
fn an_enzyme_that_splits_dextrins_is_told() {
    let with = |line: &str| {
        let lines = Lines {
            ferment: line,
            ..PLAIN
        };
        places(&lines.predicted(), "dextrins_split").len()
    };
    assert_eq!(with("  add 2 g glucoamylase on day 1\n"), 1);
    assert_eq!(with("  add 2 g gelatine on day 9\n"), 0);
}
