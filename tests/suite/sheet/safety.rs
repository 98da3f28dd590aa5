//! What a sheet says where a wrong word maims: each sentence that was once wrong or unsafe.

use super::water::column;
use wortwright::advice::{Action, DayReading, Shown};
use wortwright::job::Job;
use wortwright::quantity::{Extract, Ph};
use wortwright::scale::Plan;
use wortwright::sheet::SheetOptions;
use wortwright::speech::{Speaks, Style};

/// An ale on a plant of the same size, with lines of its own.
fn plan(mash: &str, ferment: &str, plant: &str) -> Plan {
    let text = format!(
        "recipe Ale\nbatch 20 L into fermenter\ntarget original 12 P\nmash\n  100 % pale ale malt\n  rest 66 C for 60 min\n{mash}\
         boil 60 min\n  20 g northern brewer, 9 % alpha at 60 min\nferment\n{ferment}\
         brewhouse Pot\n  batch 20 L into fermenter\n  kettle 40 L\n  fermenter 30 L\n  lauter bag\n{plant}"
    );
    let job = Job::read([("ale", text.as_str())]).unwrap_or_else(|error| panic!("{error}"));
    job.on("Pot").unwrap().plan().unwrap()
}

fn plain() -> Plan {
    plan("", "  pitch english ale yeast at 19 C\n", "")
}

/// The sheet in one line.
fn flat(plan: &Plan) -> String {
    let sheet = plan.sheet(&SheetOptions::default());
    sheet.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[track_caller]
fn says(sheet: &str, words: &[&str]) {
    for words in words {
        assert!(sheet.contains(words), "`{words}` is not in\n{sheet}");
    }
}

#[test]
fn slaked_lime_has_its_own_care() {
    let limed = plan(
        "  2 g calcium hydroxide\n",
        "  pitch english ale yeast at 19 C\n",
        "",
    );
    says(
        &flat(&limed),
        &[
            "Slaked lime and caustic soda burn skin and eyes: goggles, gloves, a little at a time into cold water.",
        ],
    );
    assert!(!flat(&plain()).contains("Slaked lime"));
}

#[test]
fn unchilled_wort_is_filled_into_no_glass_and_pitched_within_a_day() {
    let unchilled = plan("", "  pitch english ale yeast at 19 C\n", "  no chill\n");
    says(
        &flat(&unchilled),
        &[
            "rated for boiling liquid, never glass",
            "pitch within 24 h of filling",
            "above pH 4.6 can grow Clostridium botulinum",
            "Pitch within 24 hours, or keep it below 3 °C, or acidify it below pH 4.6.",
        ],
    );
    assert!(!flat(&plain()).contains("botulinum"));
}

/// Three weeks for what goes on to ferment dextrins, and nowhere the three days of other beers.
#[test]
fn a_yeast_that_goes_on_waits_for_three_weeks() {
    for ferment in [
        "  pitch saison yeast at 22 C\n",
        "  pitch english ale yeast at 19 C\n  add 1 g amyloglucosidase\n",
    ] {
        let goes_on = flat(&plan("", ferment, ""));
        says(
            &goes_on,
            &[
                "[ ] package only when the gravity has not moved for 3 weeks",
                "may ferment dextrins for weeks and burst bottles: package only after 3 weeks of stable gravity.",
            ],
        );
        assert!(!goes_on.contains("three days apart"), "{goes_on}");
    }
    says(
        &flat(&plain()),
        &["[ ] package after two equal readings three days apart"],
    );
}

/// The first box says it, and nothing is primed.
#[test]
fn bottles_that_would_burst_are_in_the_first_box_and_not_primed() {
    let bursting = plan(
        "",
        "  pitch english ale yeast at 19 C\npackage\n  bottle, carbonate 9 g/L\n",
        "",
    );
    let sheet = flat(&bursting);
    let (first, day) = sheet.split_once("1. ").unwrap();
    says(
        first,
        &[
            "STOP: RESOLVE THIS BEFORE BREW DAY",
            "Bottles would reach",
            "and burst",
        ],
    );
    says(day, &["Do not prime: see the box on the first page."]);
    assert!(!day.contains("table sugar"), "{sheet}");
}

/// Salts are flagged by the figure that stands beside the flag, and only what is too much is diluted.
#[test]
fn an_ion_is_flagged_by_the_figure_in_its_row() {
    for (water, flag, dilutes) in [
        (
            "calcium 10 mg/L, chloride 150 mg/L, alkalinity 20 mg/L",
            " high",
            true,
        ),
        (
            "calcium 10 mg/L, chloride 10 mg/L, alkalinity 20 mg/L",
            "",
            false,
        ),
    ] {
        let text = format!(
            "recipe Ale\nbatch 20 L into fermenter\ntarget original 12 P\nwater\n  calcium 60 mg/L, chloride 40 mg/L\nmash\n  \
             100 % pale ale malt\n  rest 66 C for 60 min\nferment\n  pitch english ale yeast at 19 C\nbrewhouse Pot\n  \
             batch 20 L into fermenter\n  water {water}\n"
        );
        let job = Job::read([("ale", text.as_str())]).unwrap();
        let plan = job.on("Pot").unwrap().plan().unwrap();
        let (told, sheet) = (flat(&plan), plan.sheet(&SheetOptions::default()));
        let [_, wanted, after] = column(&sheet, "chloride");
        let reached: f64 = after.split(' ').next().unwrap().parse().unwrap();
        let wanted: f64 = wanted.parse().unwrap();
        assert_eq!(
            after.split_once(' ').map_or("", |_| " high"),
            flag,
            "{sheet}"
        );
        assert!(after.ends_with(flag), "{sheet}");
        assert_eq!(reached > 1.1 * wanted, dilutes, "{sheet}");
        assert_eq!(
            told.contains("Dilute with softer water"),
            dilutes,
            "{sheet}"
        );
    }
}

/// Raw water in cold wort infects it.
#[test]
fn what_joins_cold_wort_has_been_boiled() {
    let plan = plain();
    let read = |plato| Some(Shown::hydrometer(Extract::from_plato(plato).unwrap()));
    let texts = |reading: &DayReading| -> Vec<String> {
        let advice = plan.advise(reading).unwrap();
        let actions = advice.actions.iter();
        let joins = actions.filter(|advised| {
            matches!(
                advised.action,
                Action::AddWater { .. } | Action::AddDriedExtract { .. }
            )
        });
        joins
            .map(|advised| advised.text(Style::default()))
            .collect()
    };
    let volume = Some(plan.volumes.into_fermenter);
    for plato in [11.0, 13.0] {
        let cold = texts(&DayReading::InFermenter {
            volume,
            shown: read(plato),
        });
        assert!(!cold.is_empty());
        assert!(
            cold.iter()
                .all(|text| text.contains("boil") && text.contains("cool")),
            "{cold:?}"
        );
    }
    let volume = Some(plan.volumes.pre_boil);
    let hot = texts(&DayReading::BeforeBoil {
        volume,
        shown: read(13.0),
    });
    assert!(
        hot.iter()
            .any(|text| text.starts_with("add ") && text.contains(" of water")),
        "{hot:?}"
    );
}

#[test]
fn acid_and_alkali_are_handled_alike() {
    let plan = plain();
    let wanted = Ph::from_value(5.4).unwrap();
    for measured in [5.1, 5.8] {
        let measured = Ph::from_value(measured).unwrap();
        let advice = plan
            .advise(&DayReading::MashPh {
                measured,
                wanted: Some(wanted),
            })
            .unwrap();
        let text = advice.actions[1].text(Style::default());
        assert!(text.contains("goggles and gloves on"), "{text}");
    }
}

#[test]
fn cleaners_glass_and_gas_are_told_of() {
    says(
        &flat(&plain()),
        &[
            "Never mix cleaners: chlorine with acid or ammonia gives off toxic gas.",
            "add caustic to cold water (never the reverse)",
            "Never pour hot wort into glass (it shatters)",
            "Glass fermenters break and cut deeply: carry them in a crate or harness",
            "CO2 kills in low, closed rooms (4 % in air)",
            "Fit a CO alarm",
            "Never seal a fermenting vessel without airlock, blow-off or relief valve",
            "follow local regulations and professional practice",
        ],
    );
}

/// Not every other juniper is poisonous.
#[test]
fn a_juniper_is_named_by_its_species() {
    let steeped = plan(
        "",
        "  pitch english ale yeast at 19 C\n  add 10 g juniper berries\n",
        "",
    );
    says(
        &flat(&steeped),
        &["juniper berries: not in pregnancy or kidney disease; use Juniperus communis only."],
    );
}

#[test]
fn fruit_and_dry_hops_get_a_blow_off() {
    for what in ["3 kg raspberries", "40 g cascade, 6 % alpha"] {
        let ferment = format!("  pitch english ale yeast at 19 C\n  add {what} when 4 P\n");
        says(
            &flat(&plan("", &ferment, "")),
            &["clog airlocks, lids burst: fit a wide blow-off tube that ends in water."],
        );
    }
    assert!(!flat(&plain()).contains("clog an airlock"));
}

/// Dogs die of grapes as of hops; a beer without either says nothing of them.
#[test]
fn pets_are_kept_from_hops_and_grapes() {
    let juiced = plan(
        "",
        "  pitch english ale yeast at 19 C\n  add 1 L white table grape juice when 4 P\n",
        "",
    );
    says(
        &flat(&juiced),
        &["Hops, fresh or spent, grapes and raisins can kill dogs"],
    );
    assert!(!flat(&plain()).contains("grapes"));
}

/// Every sentence that was once wrong or unsafe, by its name, on a sheet where it applies.
#[test]
fn each_sentence_that_was_unsafe_is_safe() {
    let yeast = "  pitch english ale yeast at 19 C\n";
    let bottled = format!("{yeast}package\n  bottle, carbonate 5 g/L\n");
    for (name, mash, ferment, plant, words) in [
        (
            "acid",
            "  pH 5.3\n",
            yeast,
            "  water calcium 40 mg/L, chloride 30 mg/L, alkalinity 150 mg/L\n",
            &[
                "goggles, gloves, acid into water, never water into acid",
                "into the mash water; two thirds first, measure pH",
            ][..],
        ),
        (
            "priming sugar",
            "",
            &bottled,
            "",
            &[
                "of dextrose (monohydrate), for bottles: boil it in a little water, mix in evenly",
                "stable gravity first, pressure-rated bottles only",
            ],
        ),
        (
            "wort too weak or too strong in the fermenter",
            "",
            yeast,
            "",
            &[
                "dried malt extract boiled in wort; high:",
                "boiled, cooled water.",
            ],
        ),
        (
            "regulator",
            "",
            "  pitch english ale yeast at 19 C\npackage\n  keg, carbonate 5 g/L at 4 C\n",
            "",
            &[
                "Kegs: below the stamped pressure, with regulator and relief valve; vent before opening.",
                "set the regulator to",
            ],
        ),
        (
            "a yeast that goes on",
            "",
            "  pitch saison yeast at 22 C\n",
            "",
            &["Keep its hoses and vessels apart, or sanitise them."],
        ),
    ] {
        let sheet = flat(&plan(mash, ferment, plant));
        for said in words {
            assert!(sheet.contains(said), "{name}: `{said}` is not in\n{sheet}");
        }
    }
}
