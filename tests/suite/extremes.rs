//! Extreme but legal recipes and plants: a plan that meets its aim, or a typed outcome or error; never a panic, a
//! figure that is not a number, or a search without end.

use crate::brewing::{BIG, Job, job, l, original, sane};
use wortwright::diagnostic::ErrorKind;
use wortwright::scale::{Outcome, WeighOut};

fn recipe(head: &str, rest: &str) -> String {
    format!("recipe Extreme\nbrewed on Big\n{head}\n{rest}\n")
}

const PLAIN: &str = "
mash
  100 % pale ale malt, extract 80 % dry, moisture 4 %, 6 EBC, fermentable 66 %
  rest 66 C for 60 min
boil 60 min
  30 IBU perle, 8 % alpha at 60 min
ferment
  pitch ale yeast, attenuation 78 %
";
const PLAIN_HEAD: &str = "batch 20 hL into fermenter\ntarget original 12 P, bitterness 30 IBU";

fn on(recipe: &str, small: &str) -> Job {
    job(&format!("{recipe}\n{BIG}\nbrewhouse Small\n{small}\n"), "Small")
}

/// A plan that re-predicts to the source's strength and fills its batch, or outcomes or an error that say why not.
#[track_caller]
fn meets_or_says(job: &Job) -> &'static str {
    let plan = match job.scaled(WeighOut::Exact) {
        Ok(plan) => plan,
        Err(error) => {
            assert!(
                matches!(
                    error.kind(),
                    ErrorKind::Contradiction
                        | ErrorKind::Incomplete
                        | ErrorKind::PlantIncomplete
                        | ErrorKind::OutOfRange
                ),
                "an error of the recipe or the plant, not of the search: {:?} {error}",
                error.kind()
            );
            return "error";
        }
    };
    sane(&plan);
    if plan
        .outcomes
        .iter()
        .any(|o| matches!(o, Outcome::GravityOutOfReach { .. }))
    {
        return "outcome";
    }
    let wanted = plan.source.original.unwrap().plato();
    assert!(
        (original(&plan) - wanted).abs() <= 1e-7 * wanted.abs(),
        "strength {} for {wanted}, outcomes {:?}",
        original(&plan),
        plan.outcomes
    );
    let printed = job.recipe.targets.original.as_ref().map(|w| w.value().plato());
    if let Some(printed) = printed {
        assert!(
            (wanted - printed).abs() <= 1e-7 * printed,
            "the source reads {wanted} for the printed {printed}"
        );
    }
    let batch = job.target.batch.as_ref().unwrap();
    let got = match batch.at {
        wortwright::recipe::BatchPoint::IntoFermenter => plan.volumes.into_fermenter,
        wortwright::recipe::BatchPoint::EndOfBoil => plan.volumes.post_boil,
        wortwright::recipe::BatchPoint::Packaged => plan.volumes.packaged,
    };
    let (got, wanted) = (l(got), l(batch.volume.value()));
    assert!((got - wanted).abs() <= 1e-7 * wanted, "{got} L for {wanted} L");
    "plan"
}

#[test]
fn probe() {
    let small = "  batch 8 L into fermenter\n  lauter bag\n  absorption 0.7 L/kg\n  evaporation 2 L/h";
    let mut cases: Vec<(String, Box<dyn Fn() -> &'static str + std::panic::UnwindSafe + Send>)> = vec![];
    let mut add = |name: &str, recipe: String, small: String| {
        cases.push((
            name.to_owned(),
            Box::new(move || meets_or_says(&on(&recipe, &small))),
        ));
    };
    let plain = recipe(PLAIN_HEAD, PLAIN);
    let s = |x: &str| x.to_owned();
    add("plain", plain.clone(), s(small));
    add("1L", plain.clone(), small.replace("8 L", "1 L"));
    add("5000hL", plain.clone(), small.replace("8 L", "5000 hL"));
    for p in [2, 10, 20, 25, 30, 35] {
        add(&format!("{p}P"), recipe(&format!("batch 20 hL into fermenter\ntarget original {p} P, bitterness 30 IBU"), PLAIN), s(small));
        for lauter in ["lauter batch, sparges 1", "lauter batch, sparges 3\n  sparge mixing 60 %", "lauter continuous, yield 90 %", "no mash", "lauter bag\n  kettle 9 L", "lauter batch, sparges 1\n  mash tun 6 L"] {
            add(&format!("{p}P {lauter}"), recipe(&format!("batch 20 hL into fermenter\ntarget original {p} P, bitterness 30 IBU"), PLAIN), format!("  batch 8 L into fermenter\n  {lauter}\n  evaporation 2 L/h"));
        }
        for a in [2.5, 5.0] {
            add(&format!("{p}P absorb {a}"), recipe(&format!("batch 20 hL into fermenter\ntarget original {p} P, bitterness 30 IBU"), PLAIN), small.replace("0.7 L/kg", &format!("{a} L/kg")));
            add(&format!("{p}P retain {a}"), recipe(&format!("batch 20 hL into fermenter\ntarget original {p} P, bitterness 30 IBU"), PLAIN), small.replace("absorption 0.7 L/kg", &format!("retention {a} L/kg")));
            add(&format!("{p}P absorb {a} batch"), recipe(&format!("batch 20 hL into fermenter\ntarget original {p} P, bitterness 30 IBU"), PLAIN), small.replace("0.7 L/kg", &format!("{a} L/kg")).replace("lauter bag", "lauter batch, sparges 2"));
        }
        add(&format!("{p}P thick 1.5"), recipe(&format!("batch 20 hL into fermenter\ntarget original {p} P, bitterness 30 IBU"), PLAIN), format!("{}\n  mash in 1.5 L/kg", small.replace("lauter bag", "lauter batch, sparges 1")));
        add(&format!("{p}P thin 20"), recipe(&format!("batch 20 hL into fermenter\ntarget original {p} P, bitterness 30 IBU"), PLAIN), format!("{}\n  mash in 20 L/kg", small.replace("lauter bag", "lauter batch, sparges 1")));
    }
    for m in [0, 2000, 5000] {
        add(&format!("{m} m"), plain.clone(), format!("{small}\n  altitude {m} m"));
    }
    for e in ["50 % per hour", "90 % per hour", "99 % per hour", "100 % per hour", "20 L/h", "500 L/h", "0 L/h"] {
        add(&format!("evap {e}"), plain.clone(), small.replace("2 L/h", e));
        add(&format!("source evap {e}"), plain.clone(), s(small));
    }
    add("zero boil", recipe(PLAIN_HEAD, &PLAIN.replace("boil 60 min", "boil 0 min").replace("at 60 min", "at 0 min")), s(small));
    add("zero boil no ibu", recipe("batch 20 hL into fermenter\ntarget original 12 P", &PLAIN.replace("boil 60 min", "boil 0 min").replace("30 IBU perle, 8 % alpha at 60 min", "30 g/hL perle, 8 % alpha at 0 min")), s(small));
    add("zero boil open hop", recipe(PLAIN_HEAD, &PLAIN.replace("boil 60 min", "boil 0 min").replace("30 IBU perle, 8 % alpha at 60 min", "perle, 8 % alpha")), s(small));
    add("long boil", recipe(PLAIN_HEAD, &PLAIN.replace("boil 60 min", "boil 20 h")), s(small));
    add("no hops", recipe("batch 20 hL into fermenter\ntarget original 12 P", &PLAIN.replace("  30 IBU perle, 8 % alpha at 60 min\n", "")), s(small));
    add("late hops", recipe(PLAIN_HEAD, &PLAIN.replace("30 IBU perle, 8 % alpha at 60 min", "300 g/hL perle, 8 % alpha at 1 min")), s(small));
    add("all sugar", recipe(PLAIN_HEAD, &PLAIN.replace("100 % pale ale malt, extract 80 % dry, moisture 4 %, 6 EBC, fermentable 66 %\n", "").replace("boil 60 min", "boil 60 min\n  100 % sucrose at 10 min")), s(small));
    add("all sugar nomash", recipe(PLAIN_HEAD, &PLAIN.replace("100 % pale ale malt, extract 80 % dry, moisture 4 %, 6 EBC, fermentable 66 %\n  rest 66 C for 60 min", "").replace("mash", "").replace("boil 60 min", "boil 60 min\n  100 % sucrose at 10 min")), small.replace("lauter bag", "no mash"));
    add("99 sugar", recipe(PLAIN_HEAD, &PLAIN.replace("100 %", "1 %").replace("boil 60 min", "boil 60 min\n  99 % sucrose at 10 min")), s(small));
    add("99 sugar 35P", recipe(&PLAIN_HEAD.replace("12 P", "35 P"), &PLAIN.replace("100 %", "1 %").replace("boil 60 min", "boil 60 min\n  99 % sucrose at 10 min")), s(small));
    add("60 sugar 35P thick", recipe(&PLAIN_HEAD.replace("12 P", "35 P"), &PLAIN.replace("100 %", "40 %").replace("boil 60 min", "boil 60 min\n  60 % honey, 80 % extract at 10 min")), s(small));
    add("all honey 35", recipe(&PLAIN_HEAD.replace("12 P", "35 P"), &PLAIN.replace("100 % pale ale malt, extract 80 % dry, moisture 4 %, 6 EBC, fermentable 66 %\n", "").replace("boil 60 min", "boil 60 min\n  100 % honey, 20 % extract at 10 min")), s(small));
    for share in [12, 30, 60, 90] {
        for trigger in ["when 6 P", "when 40 P", "when 0.5 P", "when -1 P", ""] {
            for at in ["into fermenter", "packaged", "at end of boil"] {
                add(&format!("juice {share} {trigger} {at}"), recipe(PLAIN_HEAD, &format!("{PLAIN}  add {share} % by volume {trigger}\n    100 % apple juice, 12 Bx\n")), small.replace("into fermenter", at));
            }
        }
    }
    for (k, f, b) in [("3 L", "3 L", "1 L packaged"), ("3 L", "3 L", "1 L at end of boil"), ("3 L", "3 L", "1 L into fermenter"), ("0.6 L", "0.5 L", "1 L packaged"), ("0 L", "1.5 L", "1 L packaged")] {
        add(&format!("loss {k} {f} {b}"), plain.clone(), format!("  batch {b}\n  lauter bag\n  evaporation 2 L/h\n  kettle loss {k}\n  fermenter loss {f}"));
    }
    add("tun loss", plain.clone(), format!("{small}\n  tun loss 50 L"));
    add("sparge huge", plain.clone(), small.replace("lauter bag", "lauter bag, sparge 50 L"));
    let malts: String = (0..30).map(|i| format!("  {:.6} % pale ale malt, {} EBC, moisture 4 %\n", 100.0 / 30.0, 5 + i * 20)).collect();
    add("30 malts", recipe(PLAIN_HEAD, &PLAIN.replace("  100 % pale ale malt, extract 80 % dry, moisture 4 %, 6 EBC, fermentable 66 %\n", &malts)), s(small));
    add("conversion 0", plain.clone(), format!("{small}\n  conversion 0 %"));
    add("mixing 0", plain.clone(), format!("{}\n  sparge mixing 0 %", small.replace("lauter bag", "lauter batch, sparges 2")));
    add("yield 0", plain.clone(), small.replace("lauter bag", "extract yield 0 %"));
    add("yield 95 of grist", plain.clone(), small.replace("lauter bag", "extract yield 95 % of grist"));
    add("yield 100 in fermenter, losses", plain.clone(), small.replace("lauter bag", "extract yield 100 % in fermenter\n  kettle loss 3 L"));
    add("alpha 0", recipe(PLAIN_HEAD, &PLAIN.replace("8 % alpha", "0 % alpha")), s(small));
    add("extract 0", recipe(PLAIN_HEAD, &PLAIN.replace("extract 80 % dry", "extract 0 % dry")), s(small));
    add("OG 0", recipe("batch 20 hL into fermenter\ntarget original 0 P, bitterness 30 IBU", PLAIN), s(small));
    add("OG 90", recipe("batch 20 hL into fermenter\ntarget original 90 P, bitterness 30 IBU", PLAIN), s(small));
    add("FG > OG", recipe("batch 20 hL into fermenter\ntarget original 12 P, final 13 P, bitterness 30 IBU", PLAIN), s(small));
    add("FG -5", recipe("batch 20 hL into fermenter\ntarget original 12 P, final -5 P, bitterness 30 IBU", PLAIN), s(small));
    std::panic::set_hook(Box::new(|_| {}));
    let mut bad = 0;
    for (name, case) in cases {
        let (send, get) = std::sync::mpsc::channel();
        let case: Box<dyn Fn() -> &'static str + std::panic::UnwindSafe + Send> = case;
        let case = std::sync::Mutex::new(Some(unsafe_send(case)));
        std::thread::spawn(move || {
            let case = case.lock().unwrap().take().unwrap();
            let got = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| (case.0)())).map_err(|e| {
                e.downcast_ref::<String>().cloned().or(e.downcast_ref::<&str>().map(|s| (*s).to_owned())).unwrap_or_default()
            });
            let _ = send.send(got);
        });
        match get.recv_timeout(std::time::Duration::from_secs(5)) {
            Ok(Ok(what)) => println!("{name:50} {what}"),
            Ok(Err(e)) => { bad += 1; println!("{name:50} FAIL {}", e.chars().take(300).collect::<String>()) }
            Err(_) => { bad += 1; println!("{name:50} ENDLESS") }
        }
    }
    println!("{bad} bad");
}
struct S(Box<dyn Fn() -> &'static str + std::panic::UnwindSafe + Send>);
fn unsafe_send(f: Box<dyn Fn() -> &'static str + std::panic::UnwindSafe + Send>) -> S { S(f) }
