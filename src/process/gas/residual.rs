//! Carbon dioxide that fermentation leaves in a beer, from the temperatures that a recipe holds.
//!
//! Gas leaves a beer that grows warmer, and none comes back when it cools, since none is made then: what is left is that of
//! the warmest temperature since fermentation ended, its own end included, so that a cold crash adds none (notes of a brewer
//! and a supplier, no paper; it follows from Henry's law at the pressure of the air).

use crate::process::formula::{Formula, Stage};
use crate::process::material::Material;
use crate::quantity::{CarbonDioxide, Temperature, Written, in_minutes, metres};
use crate::recipe::{At, Hold, Recipe};
use crate::science::boiling;
use crate::science::carbonation::carbon_dioxide_left;

/// A fermentation has ended after so many days (common practice, no source).
const DAYS: f64 = 7.0;
/// The same below [`COOL_C`] (common practice, no source).
const COOL_DAYS: f64 = 14.0;
/// Between the temperatures of ales and those of lagers, °C (common practice, no source).
const COOL_C: f64 = 15.0;
/// A yeast still works this much below its usual range, °C (common practice, no source).
const BELOW_RANGE_C: f64 = 2.0;
/// A yeast of which nothing is known still works here, °C: as a lager yeast does (common practice, no source).
pub(crate) const WORKS_FROM_C: f64 = 6.0;
/// The range of the table of residual gas, °C. Warmer beer counts as one of its end, which holds a little more.
const TABLE_C: (f64, f64) = (0.0, 30.0);

/// The warmest temperature since the last fermentation ended, from the holds, else from pitching; none where neither is stated. Where
/// every hold is a cold crash, the beer fermented as it was pitched.
pub(super) fn warmest_since_fermented(recipe: &Recipe, formula: &Formula) -> Option<Temperature> {
    let fermentation = &recipe.fermentation;
    let holds = &fermentation.holds;
    let is_crashed = |hold: &Hold| hold.temperature.value().celsius() < WORKS_FROM_C;
    if holds.iter().all(is_crashed) {
        return match &fermentation.pitch.as_ref()?.timing.at {
            Some(At::Temperature(written)) => Some(Written::value(written)),
            _ => None,
        };
    }
    let since = holds.get(ended_in(holds, formula)..).unwrap_or_default();
    let held = since.iter().map(|hold| hold.temperature.value());
    held.max_by(|a, b| a.celsius().total_cmp(&b.celsius()))
}

/// Which hold the last fermentation ends in: the first that is over long enough after it began, else the last that is warm
/// enough for the yeast.
fn ended_in(holds: &[Hold], formula: &Formula) -> usize {
    let coldest_c = formula
        .yeast()
        .and_then(|yeast| yeast.temperature_range)
        .map_or(WORKS_FROM_C, |(coldest, _)| {
            coldest.celsius() - BELOW_RANGE_C
        });
    let works = |hold: &Hold| hold.temperature.value().celsius() >= coldest_c;
    let last = holds.iter().rposition(works);
    let last = last.unwrap_or_else(|| holds.len().saturating_sub(1));
    let Some(began_day) = last_began_day(formula) else {
        return last;
    };
    let mut day = 0.0;
    for (index, hold) in holds.iter().take(last).enumerate() {
        let Some(time) = &hold.time else {
            return last;
        };
        day += in_minutes(time.value()) / 1440.0;
        let cool = hold.temperature.value().celsius() < COOL_C;
        let needed = if cool { COOL_DAYS } else { DAYS };
        if works(hold) && day >= began_day + needed {
            return index;
        }
    }
    last
}

/// The day on which something to ferment goes in last; none where its line gives no day.
fn last_began_day(formula: &Formula) -> Option<f64> {
    formula
        .items
        .values()
        .filter(|item| item.place.stage == Stage::Ferment)
        .filter(|item| matches!(item.material, Material::Fermentable(_)))
        .try_fold(0.0_f64, |latest, item| match &item.timing.at {
            Some(At::AfterPitching(day)) => Some(latest.max(in_minutes(day.value()) / 1440.0)),
            _ => None,
        })
}

/// The pressure of the air at an altitude, for one at sea level.
pub(crate) fn thin_air(altitude_m: f64) -> f64 {
    let pressure = |m| boiling::pressure_at(metres(m)).ok();
    Option::zip(pressure(altitude_m), pressure(0.0)).map_or(1.0, |(here, sea)| (here / sea).value)
}

/// What is left in beer that was at a temperature in the open, under air so many times as dense as at sea level.
pub(crate) fn left(at: Temperature, thin_air: f64) -> Option<CarbonDioxide> {
    let at = Temperature::clamped(at.celsius().clamp(TABLE_C.0, TABLE_C.1));
    let sea = carbon_dioxide_left(at).ok()?;
    Some(CarbonDioxide::clamped(sea.grams_per_litre() * thin_air))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;
    use crate::job::Job;

    /// The temperature found for the holds and later additions of a recipe.
    fn warmest(yeast: &str, ferment: &str) -> f64 {
        let text = format!(
            "recipe Held\nbatch 20 L into fermenter\ntarget original 12 P\nmash\n  100 % pale ale malt\n\
             ferment\n  pitch {yeast}\n{ferment}"
        );
        let job = Job::read([("held", text.as_str())]).unwrap();
        let formula = Formula::of(
            job.recipe().unwrap(),
            &Catalogue::builtin(),
            &mut Vec::new(),
        );
        let found = warmest_since_fermented(job.recipe().unwrap(), &formula.unwrap());
        found.unwrap().celsius()
    }

    /// Histories and the temperature that counts, each from the notes that state the rule.
    #[test]
    fn the_warmest_since_the_end_counts() {
        let holds = |held: &str| {
            let each = held.split(" > ").filter(|hold| !hold.is_empty());
            each.fold(String::new(), |lines, hold| lines + "  hold " + hold + "\n")
        };
        for (yeast, held, at_c) in [
            ("american ale yeast at 19 C", "", 19.0),
            // 4 °C are no fermentation.
            ("american ale yeast at 19 C", "4 C for 2 days", 19.0),
            (
                "american ale yeast",
                "18 C for 5 days > 22 C for 4 days > 2 C for 3 days",
                22.0,
            ),
            ("american ale yeast", "20 C > 1 C", 20.0),
            (
                "american ale yeast",
                "20 C for 9 days > 1 C for 3 days > 20 C for 1 days",
                20.0,
            ),
            (
                "german lager yeast",
                "10 C for 14 days > 16 C for 2 days > 1 C for 30 days",
                16.0,
            ),
            (
                "german lager yeast",
                "9 C for 21 days > 1 C for 40 days",
                9.0,
            ),
            (
                "farmhouse ale yeast",
                "22 C for 2 days > 28 C for 9 days",
                28.0,
            ),
            // A first warm day of a fermentation that goes on cooler gives off no more than the rest makes again.
            (
                "american ale yeast",
                "25 C for 1 days > 18 C for 10 days > 2 C for 2 days",
                18.0,
            ),
            // A rest after the end drives gas off, though the beer is held cooler again.
            (
                "american ale yeast",
                "18 C for 8 days > 22 C for 3 days > 16 C for 5 days",
                22.0,
            ),
        ] {
            assert_eq!(warmest(yeast, &holds(held)), at_c, "{held}");
        }
    }

    /// Fruit or juice ferments once more and fills the beer with gas at the temperature of then.
    #[test]
    fn a_later_addition_ferments_too() {
        let with = |addition: &str| {
            warmest(
                "american ale yeast",
                &format!(
                    "  hold 23 C for 8 days\n  hold 18 C for 12 days\n  hold 2 C for 3 days\n  add 1 L apple juice, 12 Bx {addition}\n"
                ),
            )
        };
        assert_eq!(with("on day 8"), 18.0);
        assert_eq!(with("when 5 P"), 18.0);
        // On day 0 it ferments along.
        assert_eq!(with("on day 0"), 23.0);
    }

    /// 795 hPa of 1013.25 hPa at 2000 m in the standard atmosphere (ISO 2533): 0.785.
    #[test]
    fn thin_air_leaves_less() {
        assert!((thin_air(2000.0) - 0.7846).abs() < 5e-4);
        assert!((thin_air(0.0) - 1.0).abs() < 1e-12);
        let at = Temperature::clamped(20.0);
        let [sea, high] = [1.0, 0.7846].map(|air| left(at, air).unwrap().volumes());
        // 0.88 volumes in the table, 0.862 by its fit.
        assert!((sea - 0.8615).abs() < 1e-3 && (high - 0.676).abs() < 1e-3);
        assert!(left(Temperature::clamped(38.0), 1.0).is_some());
    }
}
