//! What a plan costs. `cargo bench --bench scale`; quote minima, since a busy machine only adds.
//!
//! - `scale/whole`: the demo's two texts to a brew sheet: read, scaled, predicted again as weighed out, printed.
//! - `scale/read`, `scale/plan`, `scale/sheet`: its stages, each alone; `plan` holds the source's reading, the search
//!   for amounts, the prediction, water, reasons and shopping list, without the spread, which `scale/spread` has too. `scale/exact`: a plan that is not weighed out.
//! - `scale/slider`: another batch of a brew that has a plan already; `scale/predicted`: the recipe on its own plant.
//! - `scale/out_of_reach`: plans that the plant cannot brew, with their remedies.
//! - `scale/again`: the plan's own recipe predicted on its plant.
//! - `reference/arithmetic`: the plan's beer in plain floating-point arithmetic, its amounts known, what ferments found by
//!   bisection.
//! - `reference/json_in`: content of the recipe and its plant as JSON into plain structs; `reference/json_out`: the plan to JSON.
//! - `reference/copy`: the plan, the recipe and its stock cloned: what owning the answer costs at least.
//!
//! Each case asserts its result once. Allocations are listed with each.
#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used)]

mod demo;
#[allow(dead_code, reason = "only the demo's content is read here")]
mod plain;

use divan::{AllocProfiler, Bencher, black_box};

#[global_allocator]
static ALLOCATIONS: AllocProfiler = AllocProfiler::system();

fn main() {
    divan::main();
}

#[divan::bench_group(name = "scale")]
mod scale_ {
    use super::demo::{PLANT, RECIPE, again as again_on, demo, plan as planned, sources};
    use super::{Bencher, black_box};
    use wortwright::job::Job;
    use wortwright::notation::read;
    use wortwright::scale::{ScaleOptions, WeighOut};
    use wortwright::sheet::SheetOptions;

    fn whole_sheet() -> String {
        let texts = [("recipe", RECIPE), ("plant", PLANT)];
        let job = Job::read(black_box(texts)).unwrap();
        job.on("Stove top").unwrap().plan().unwrap().to_string()
    }

    #[divan::bench]
    fn whole(bencher: Bencher<'_, '_>) {
        assert!(whole_sheet().contains("SALTMARSH LANTERN"));
        bencher.bench_local(whole_sheet);
    }

    #[divan::bench(name = "read")]
    fn texts(bencher: Bencher<'_, '_>) {
        let sources = sources();
        assert!(read(&sources).is_usable());
        bencher.bench_local(|| read(black_box(&sources)));
    }

    #[divan::bench]
    fn plan(bencher: Bencher<'_, '_>) {
        let demo = demo();
        let plan = || planned(black_box(&demo), ScaleOptions::default().without_spread());
        assert!((plan().predicted.original.unwrap().plato() - 15.6).abs() < 0.05);
        bencher.bench_local(plan);
    }

    #[divan::bench]
    fn spread(bencher: Bencher<'_, '_>) {
        let demo = demo();
        let plan = || planned(black_box(&demo), ScaleOptions::default());
        assert!(plan().spread.is_some());
        bencher.bench_local(plan);
    }

    #[divan::bench]
    fn slider(bencher: Bencher<'_, '_>) {
        let options = ScaleOptions::default().without_spread();
        let brew = demo().on_with("Stove top", &options).unwrap();
        assert_eq!(
            brew.batch("8 L").unwrap().plan().unwrap(),
            brew.plan().unwrap()
        );
        bencher.bench_local(|| black_box(&brew).batch("8.4 L").unwrap().plan());
    }

    /// Plans that the plant cannot brew, with their remedies.
    #[divan::bench(args = ["gravity", "kettle", "both", "colour"])]
    fn out_of_reach(bencher: Bencher<'_, '_>, what: &str) {
        let strong = (
            "original 15.6 P, final 3.1 P, alcohol 6.6 %, ",
            "original 27 P, ",
        );
        let small = ("kettle 16 L", "kettle 9 L");
        let dark = ("colour 19 EBC", "colour 60 EBC");
        let changes: &[(&str, &str)] = match what {
            "gravity" => &[strong],
            "kettle" => &[small],
            "both" => &[strong, small],
            _ => &[dark],
        };
        let changed = |text: &str| {
            let replaced = |text: String, (from, to): &(&str, &str)| text.replace(from, to);
            changes.iter().fold(text.to_owned(), replaced)
        };
        let job = Job::read([("recipe", changed(RECIPE)), ("plant", changed(PLANT))]).unwrap();
        let plan = || planned(black_box(&job), ScaleOptions::default().without_spread());
        assert!(plan().outcomes.len() > 2, "{what}: {:?}", plan().outcomes);
        bencher.bench_local(plan);
    }

    #[divan::bench]
    fn predicted(bencher: Bencher<'_, '_>) {
        let options = ScaleOptions::default().without_spread();
        let brew = demo().on_with("Printed plant", &options).unwrap();
        bencher.bench_local(|| black_box(&brew).predict().unwrap());
    }

    #[divan::bench]
    fn exact(bencher: Bencher<'_, '_>) {
        let demo = demo();
        let exact = ScaleOptions::default()
            .with_weigh_out(WeighOut::Exact)
            .without_spread();
        let plan = || planned(black_box(&demo), exact);
        assert!((plan().predicted.original.unwrap().plato() - 15.6).abs() < 1e-6);
        bencher.bench_local(plan);
    }

    #[divan::bench]
    fn again(bencher: Bencher<'_, '_>) {
        let plan = planned(&demo(), ScaleOptions::default());
        let brew = again_on(&plan);
        let again = || black_box(&brew).predict().unwrap();
        let original = again().predicted.original.unwrap();
        assert!((original.plato() - plan.predicted.original.unwrap().plato()).abs() < 0.05);
        bencher.bench_local(again);
    }

    #[divan::bench]
    fn sheet(bencher: Bencher<'_, '_>) {
        let plan = planned(&demo(), ScaleOptions::default());
        let options = SheetOptions::default();
        assert!(plan.sheet(&options).contains("SALTMARSH LANTERN"));
        bencher.bench_local(|| black_box(&plan).sheet(&options));
    }
}

#[divan::bench_group(name = "reference")]
mod reference {
    use super::demo::{arithmetic, demo, numbers, plan as planned};
    use super::plain::Sheet;
    use super::{Bencher, black_box};
    use wortwright::scale::ScaleOptions;

    #[divan::bench]
    fn arithmetic(bencher: Bencher<'_, '_>) {
        let plan = planned(&demo(), ScaleOptions::default());
        let numbers = numbers(&plan);
        let (alcohol, ibu) = arithmetic::beer(&numbers);
        assert!((100.0 * alcohol - plan.predicted.alcohol.unwrap().percent()).abs() < 0.05);
        // It takes the last gravity for the whole boil.
        assert!((ibu / plan.predicted.bitterness.unwrap().ibu() - 1.0).abs() < 0.15);
        bencher.bench_local(|| arithmetic::beer(black_box(&numbers)));
    }

    #[divan::bench]
    fn json_in(bencher: Bencher<'_, '_>) {
        let text = include_str!("data/saltmarsh-lantern.json");
        let sheet: Sheet = serde_json::from_str(text).unwrap();
        assert_eq!(sheet.plants.len(), 1);
        bencher.bench_local(|| serde_json::from_str::<Sheet>(black_box(text)));
    }

    #[divan::bench]
    fn json_out(bencher: Bencher<'_, '_>) {
        let plan = planned(&demo(), ScaleOptions::default());
        assert!(serde_json::to_string(&plan).unwrap().contains("predicted"));
        bencher.bench_local(|| serde_json::to_string(black_box(&plan)));
    }

    #[divan::bench]
    fn copy(bencher: Bencher<'_, '_>) {
        let demo = demo();
        let plan = planned(&demo, ScaleOptions::default());
        assert_eq!(plan.clone(), plan);
        bencher.bench_local(|| {
            let recipe = black_box(&demo).recipe().cloned();
            (black_box(&plan).clone(), recipe, demo.stock().clone())
        });
    }
}
