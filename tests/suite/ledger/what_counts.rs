//! Whatever a log says was added is counted, brings nothing, or is refused.

use crate::brewing::{l, near};
use wortwright::diagnostic::Error;
use wortwright::ledger::Ledger;
use wortwright::speech::Speaks;

/// 20 L of 1.050 with this line, and then a reading.
fn followed(line: &str, reading: &str) -> Result<Ledger, Error> {
    let text = format!("log\n  pitched 20 L at 1.050 on day 0\n  {line}\n{reading}");
    let job = wortwright::Job::read([("log", text)]).unwrap();
    job.ledgers().next().unwrap()
}

fn ledger(line: &str) -> Ledger {
    followed(line, "").unwrap()
}

/// By hand. 1.050 is 12.39 °P at 1048.1 kg/m³: 20.962 kg with 2.597 kg of extract. With 5 L of water, 4.991 kg, that is 25.953 kg of
/// 10.007 °P, 1.0402. At 1.010 (2.56 °P) Tabarié and Balling give 4.01 °P of real extract,
/// (10.007 − 4.01)/(2.0665 − 0.010665 · 10.007) = 3.06 % by mass, times 1008.2/789.24 is 3.91 % by volume. Without the water it
/// would be 5.2.
#[test]
fn water_thins_the_beer_of_a_log() {
    for name in ["water", "tap water", "boiled water", "isinglass", "coffee"] {
        let line = format!("added 5 L {name} on day 3");
        let ledger = followed(&line, "  reading 1.010 on day 9\n").unwrap();
        near(ledger.alcohol.by_volume.percent(), 3.91, 0.004, name);
        near(l(ledger.steps[1].volume), 25.0, 0.001, name);
        near(ledger.steps[1].shown_gravity.ratio(), 1.0402, 0.0002, name);
        let told = ledger
            .remarks
            .iter()
            .filter(|told| told.code() == "counted_as_water");
        assert_eq!(told.count(), usize::from(!name.contains("water")), "{name}");
    }
}

/// 0.4 L of ethanol in 21 L are 1.905 %, before anything has fermented; a litre shrinks by less than 0.02 L.
#[test]
fn a_spirit_brings_its_alcohol_to_a_log() {
    let strong = ledger("added 1 L spirit, 40 % alcohol on day 0");
    let step = &strong.steps[1];
    near(l(step.volume), 21.0, 0.001, "litres");
    let ethanol_l = step
        .ethanol
        .get::<wortwright::quantity::uom::si::mass::kilogram>()
        / 0.78924;
    near(ethanol_l, 0.4, 1e-4, "ethanol");
    // As most bottles have it, where the line does not say; kinds of liqueur differ.
    assert_eq!(
        ledger("added 1 L spirit on day 0").steps[1].ethanol,
        step.ethanol
    );
    let error = followed("added 1 L liqueur on day 0", "").unwrap_err();
    assert!(error.help().unwrap().contains("40 % alcohol"), "{error}");
}

/// 2 g/L in 20 L are 40 g.
#[test]
fn the_unknown_is_refused_above_a_trace() {
    let plain = followed("", "").unwrap();
    let trace = ledger("added 38 g unheard powder on day 3");
    assert_eq!(trace.alcohol, plain.alcohol);
    let told: Vec<_> = trace.assumptions.iter().map(Speaks::code).collect();
    assert_eq!(told, ["carried_per_litre"]);
    for line in [
        "added 50 g unheard powder on day 3",
        "added 30 g unheard powder on day 3\n  added 30 g unheard powder on day 4",
        "added 100 mL unheard drink on day 3",
        "added 2.1 g/L unheard powder on day 3",
        "added 5 g carrots on day 3",
    ] {
        let error = followed(line, "").unwrap_err();
        assert_eq!(error.code(), "brings_unknown", "{line}");
        assert!(error.help().unwrap().contains("brings nothing`"), "{error}");
    }
    let said = followed("added 100 g unheard powder, brings nothing on day 3", "").unwrap();
    assert_eq!(said.alcohol, plain.alcohol);
    // 60 % of 500 g are 300 g of extract: 300/2.0665 g of ethanol (Balling), 184 mL in 20.36 L, 0.903 %. The 4.7 % of the 20 L there
    // before are thinned by 0.36/20.36, 0.083.
    let sweet = ledger("added 500 g unheard sugar, 60 % extract on day 3");
    let more = sweet.alcohol.by_volume.percent() - plain.alcohol.by_volume.percent();
    near(more, 0.82, 0.01, "alcohol");
}

#[test]
fn grain_in_a_log_is_refused() {
    let error = followed("added 500 g black malt on day 3", "").unwrap_err();
    assert_eq!(error.code(), "needs_mash");
}

/// 3 kg of thawed raspberries with 7.7 % of pulp bring 2.572 kg of water and 0.196 kg of solubles, 2.70 L at 0.998 and 0.62 L/kg, of which
/// 0.133 kg of sugar ferment; a kilogram of cherries with their stones is 900 g of fruit.
#[test]
fn whole_fruit_is_counted_without_its_pulp() {
    let kilograms = |mass: wortwright::quantity::Mass| {
        mass.get::<wortwright::quantity::uom::si::mass::kilogram>()
    };
    // What is in the beer after the line, less what was there before it.
    let brought = |ledger: &Ledger| {
        let [before, after] = [0, 1].map(|at: usize| kilograms(ledger.steps[at].extract));
        after - before
    };
    let fruit = ledger("added 3 kg raspberries, thawed on day 0");
    near(l(fruit.steps[1].volume), 22.70, 0.001, "litres");
    near(brought(&fruit), 0.195, 0.01, "solubles");
    let cherries =
        |form: &str| brought(&ledger(&format!("added 1 kg sour cherries{form} on day 0")));
    near(cherries(""), 0.9 * cherries(", pitted"), 1e-9, "stones");
}
