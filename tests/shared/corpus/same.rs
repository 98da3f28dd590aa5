//! Whether a fact held is the one meant.

use super::fact::{Amount, Fact, Figure};
use super::held::Held;
use super::measure::{Measure, Scale};
use super::names::Names;
use super::slots::{Places, is_ingredient, same_slot};
use wortwright::catalogue::Catalogue;
use wortwright::quantity::uom::si::pressure::bar;
use wortwright::quantity::{
    AlphaAcids, Concentration, MaltColour, Mass, Pressure, Temperature, Time, Written,
};
use wortwright::science::carbonation::{air_pressure, carbon_dioxide_at};

/// How a fact held resembles the one meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Likeness {
    Same,
    /// Nothing is other, and this is not held.
    Lacks(Vec<String>),
    /// This is other.
    Differs(Vec<String>),
    /// It is another fact.
    Other,
}

/// What comparing needs beside the two.
#[derive(Debug)]
pub(super) struct Context<'a> {
    pub(super) names: &'a Names,
    pub(super) places: &'a Places,
    pub(super) catalogue: &'a Catalogue,
    /// All that is meant.
    pub(super) meant: &'a [Fact],
    /// The text as typed.
    pub(super) text: &'a str,
    /// All that is held.
    pub(super) held: &'a [Held],
    /// What notes say was assumed where no figure is typed, by line.
    pub(super) assumed: &'a [(usize, String)],
}

/// Days of a year before each month, as every log here fits a common year.
const DAYS_BEFORE: [f64; 12] = [
    0.0, 31.0, 59.0, 90.0, 120.0, 151.0, 181.0, 212.0, 243.0, 273.0, 304.0, 334.0,
];

impl Context<'_> {
    /// A line as typed, in lower case.
    pub(super) fn line(&self, number: usize) -> String {
        let line = self.text.lines().nth(number.saturating_sub(1));
        line.unwrap_or("").to_lowercase()
    }

    pub(super) fn likeness(&self, meant: &Fact, held: &Held) -> Likeness {
        if is_ingredient(meant) == held.kinds.is_empty() {
            return Likeness::Other;
        }
        let is_it = if held.kinds.is_empty() {
            same_slot(meant, &held.fact)
        } else {
            same_stage(meant, &held.fact) && is_kind(meant, held) && self.is_named(meant, held)
        };
        if !is_it {
            return Likeness::Other;
        }
        self.figures(meant, held)
    }

    /// Whether it is at least of one function, so that one may have been read for the other.
    pub(super) fn may_stand_for(meant: &Fact, held: &Held) -> bool {
        if held.is_shadow {
            return false;
        }
        if !held.kinds.is_empty() {
            return is_ingredient(meant);
        }
        !is_ingredient(meant)
            && (same_slot(meant, &held.fact)
                || match (meant.amount.measure(), held.fact.amount.measure()) {
                    (Some(one), Some(other)) => one.scale == other.scale,
                    _ => meant.kind == held.fact.kind,
                })
    }

    pub(super) fn is_named(&self, meant: &Fact, held: &Held) -> bool {
        let name = meant.name.as_str();
        // `prime 8 g/L`: of sugar, whichever.
        if meant.kind == "prime" && name == "-" {
            return held.kinds.contains(&"sugar");
        }
        let Some(entry) = &held.entry else {
            return Names::is_kept(name, &held.fact.name);
        };
        // `crystal malt, colour 150 EBC` is the grade of that colour.
        let is_grade = |name: &str| {
            let (found, colour) = (self.catalogue.find(name), meant.measure("colour"));
            let colour = colour.and_then(|colour| MaltColour::from_ebc(colour.total()).ok());
            found.zip(colour).is_some_and(|(found, colour)| {
                self.catalogue.grade(found.entry, colour).name() == entry
            })
        };
        let is = |name: &str| self.names.is(name, entry, self.catalogue) || is_grade(name);
        let with_form = || match meant.figure("form") {
            Some(Figure::Word(form)) => is(&format!("{name} {form}")),
            _ => false,
        };
        // The strength of an acid is part of its name in the catalogue.
        let with_strength = || match meant.measure("strength") {
            Some(strength) => is(&format!("{name} {} %", strength.total())),
            None => false,
        };
        let made_anywhere = matches!(meant.kind.as_str(), "malt" | "grain" | "sugar" | "extract");
        is(name)
            || with_form()
            || with_strength()
            || (made_anywhere && is(&Names::without_origin(name)))
    }

    fn figures(&self, meant: &Fact, held: &Held) -> Likeness {
        let (mut lacks, mut differs) = (Vec::new(), Vec::new());
        match self.amount(meant, held) {
            Likeness::Lacks(what) => lacks.extend(what),
            Likeness::Differs(what) => differs.extend(what),
            _ => {}
        }
        for (label, figure) in &meant.figures {
            if label == "date" {
                self.date(meant, held, &mut lacks, &mut differs);
                continue;
            }
            let found = held.fact.figure(label).or_else(|| held.implied.get(label));
            let no_place = self.places.without_figure(meant, label)
                || (label == "form" && form_of_hop(figure).is_none());
            match found {
                Some(found) if same_figure(label, figure, found) => {}
                Some(_) => differs.push(label.clone()),
                None if label == "at" && is_timed(&held.fact) => {}
                None if no_place || *figure == Figure::Word("ask".into()) => {}
                None => lacks.push(label.clone()),
            }
        }
        for (label, figure) in &held.fact.figures {
            // A batch in the title was pitched on the log's first day.
            let by_date =
                label == "day" && (meant.figures.contains_key("date") || meant.kind == "batch");
            if !meant.figures.contains_key(label)
                && !by_date
                && !self.is_said_elsewhere(meant, label, figure)
                && !((label == "for" || label == "alpha") && self.is_default(&held.fact, label))
            {
                differs.push(label.clone());
            }
        }
        if !differs.is_empty() {
            Likeness::Differs(differs)
        } else if !lacks.is_empty() {
            Likeness::Lacks(lacks)
        } else {
            Likeness::Same
        }
    }

    fn amount(&self, meant: &Fact, held: &Held) -> Likeness {
        let what = || vec!["amount".to_owned()];
        match (&meant.amount, &held.fact.amount) {
            _ if self.places.without_figure(meant, "amount") => Likeness::Same,
            (Amount::Unstated, Amount::Unstated) | (Amount::Ask, _) => Likeness::Same,
            (Amount::Word(one), Amount::Word(other)) if one == other => Likeness::Same,
            (Amount::Is(one), Amount::Is(other)) if self.same_amount(meant, one, held, other) => {
                Likeness::Same
            }
            // A handful: how much that is, a note says.
            (Amount::Unstated, Amount::Is(other)) if self.is_told_amount(&held.fact, other) => {
                Likeness::Same
            }
            (Amount::Is(_), Amount::Unstated) => Likeness::Lacks(what()),
            _ => Likeness::Differs(what()),
        }
    }

    fn same_amount(&self, meant: &Fact, one: &Measure, held: &Held, other: &Measure) -> bool {
        // One fermenter of several is the plant's.
        if meant.kind == "fermenter-size" {
            return one.each().agrees(other);
        }
        let share = meant.measure("share");
        one.agrees(other)
            || is_spoon(one, other)
            || dose(one, meant).is_some_and(|dose| dose.agrees(other))
            || share.is_some_and(|share| share.agrees(other))
            || bitterness_units(one, held).is_some_and(|mass| mass.agrees(other))
            || self.is_weighed(meant, one, other)
            || self.liquor(one).is_some_and(|liquor| liquor.agrees(other))
            || gas_under(one, meant).is_some_and(|gas| gas.agrees(other))
    }

    /// Whether so many pieces are about the mass or the volume that is held: between half and twice what one of them usually is.
    fn is_weighed(&self, meant: &Fact, count: &Measure, held: &Measure) -> bool {
        let weighs = matches!(held.scale, Scale::Kilograms | Scale::Litres);
        let each = self.places.piece(&meant.name);
        let is_near =
            |each: f64| (0.5..=2.0).contains(&(held.total() * 1000.0 / count.total() / each));
        count.scale == Scale::Count && weighs && each.is_some_and(is_near)
    }

    /// Litres of mash water a kilogram of what is mashed.
    fn liquor(&self, litres: &Measure) -> Option<Measure> {
        (litres.scale == Scale::Litres).then_some(())?;
        let mashed = self.held.iter().filter(|held| held.fact.stage == "mash");
        let grist = mashed.filter(|held| matches!(held.kinds[..], ["malt" | "grain", ..]));
        let kilograms: f64 = grist
            .filter_map(|held| held.fact.amount.measure())
            .filter(|measure| measure.scale == Scale::Kilograms)
            .map(Measure::total)
            .sum();
        (kilograms > 0.0)
            .then(|| Measure::new(Scale::LitresPerKilogram, litres.total() / kilograms))
    }

    /// Whether a figure that is held and not meant of this fact is meant of another: the heat of pitching.
    fn is_said_elsewhere(&self, meant: &Fact, label: &str, figure: &Figure) -> bool {
        let Figure::Is(figure) = figure else {
            return false;
        };
        let is_heat = |fact: &&Fact| matches!(fact.kind.as_str(), "pitch" | "cool" | "hold");
        let agrees = |fact: &Fact| {
            fact.amount
                .measure()
                .is_some_and(|heat| heat.agrees(figure))
        };
        // Of a log the heat at which it was pitched, on the line of the wort.
        let is_pitched = |fact: &&Fact| fact.line == meant.line && fact.kind == "pitched";
        let is_at = |fact: &Fact| fact.measure("at").is_some_and(|heat| heat.agrees(figure));
        label == "at"
            && (meant.kind == "yeast" && self.meant.iter().filter(is_heat).any(agrees)
                || meant.kind == "reading" && self.meant.iter().filter(is_pitched).any(is_at))
    }

    /// Whether a note on the line says in how much it read words that are no amount.
    fn is_told_amount(&self, held: &Fact, amount: &Measure) -> bool {
        let mut assumed = self.assumed.iter().filter(|(line, _)| *line == held.line);
        assumed.any(|(_, read)| {
            // A usual dose of what is fined with.
            let dose = read.parse::<Written<Concentration>>().ok();
            if dose
                .as_ref()
                .map(Measure::of)
                .is_some_and(|dose| dose.agrees(amount))
            {
                return true;
            }
            let mass = read.parse::<Written<Mass>>().ok().as_ref().map(Measure::of);
            mass.is_some_and(|mass| {
                let times = amount.total() / mass.total();
                amount.scale == mass.scale && (times - times.round()).abs() < 1e-6
            })
        })
    }

    /// Whether a time that a line needs and does not state is a usual one, and a note says so there.
    pub(super) fn is_default(&self, held: &Fact, label: &str) -> bool {
        let says = |read: &str| {
            let time = read.parse::<Written<Time>>().ok().as_ref().map(Measure::of);
            let alpha = read
                .strip_suffix(" alpha")
                .map(str::parse::<Written<AlphaAcids>>);
            let alpha = alpha.and_then(Result::ok).as_ref().map(Measure::of);
            let read = if label == "alpha" { alpha } else { time };
            matches!((read, held.measure(label)), (Some(read), Some(found)) if read.agrees(found))
        };
        let mut assumed = self.assumed.iter();
        assumed.any(|(line, read)| *line == held.line && says(read))
    }

    /// A date as the day after pitching that a log keeps.
    fn date(&self, meant: &Fact, held: &Held, lacks: &mut Vec<String>, differs: &mut Vec<String>) {
        let has_day = ["reading", "drawn", "added"].contains(&meant.kind.as_str());
        let Some(day) = held.fact.measure("day") else {
            if has_day {
                lacks.push("day".into());
            }
            return;
        };
        let pitched = self.meant.iter().find(|fact| fact.kind == "pitched");
        let pitched =
            pitched.or_else(|| self.meant.iter().find(|fact| fact.figure("date").is_some()));
        let (Some(start), Some(date)) = (pitched.and_then(day_of_year), day_of_year(meant)) else {
            return;
        };
        let mut after = date - start;
        if after < 0.0 {
            after += 365.0;
        }
        // Hours of the day may be counted or not.
        if (after - day.total()).abs() >= 1.0 {
            differs.push("day".into());
        }
    }
}

/// Whether a day or a gravity says when it goes in: a model has one such, and the heat of the beer is then its place's.
fn is_timed(held: &Fact) -> bool {
    ["day", "when"]
        .iter()
        .any(|label| held.measure(label).is_some())
}

fn is_kind(meant: &Fact, held: &Held) -> bool {
    let kind = meant.kind.as_str();
    matches!(kind, "added" | "pitched" | "prime") || held.kinds.contains(&kind)
}

fn day_of_year(fact: &Fact) -> Option<f64> {
    let Figure::Word(date) = fact.figure("date")? else {
        return None;
    };
    let parts: Vec<&str> = date.split('-').collect();
    let ([month, day] | [_, month, day]) = parts[..] else {
        return None;
    };
    let month: usize = month.parse().ok()?;
    let day: f64 = day.parse().ok()?;
    Some(DAYS_BEFORE.get(month.checked_sub(1)?)? + day)
}

/// Whether the models keep what goes in at the stage meant where it is held: salts of the water are the mash's.
fn same_stage(meant: &Fact, held: &Fact) -> bool {
    meant.stage == held.stage || (meant.stage == "water" && held.stage == "mash")
}

fn same_figure(label: &str, meant: &Figure, held: &Figure) -> bool {
    if label == "form" {
        return form_of_hop(meant) == form_of_hop(held);
    }
    meant.agrees(held)
}

/// So much in each of several containers as a dose.
fn dose(amount: &Measure, meant: &Fact) -> Option<Measure> {
    let Some(Figure::Word(per)) = meant.figure("per") else {
        return None;
    };
    let litres = Measure::parse(per).filter(|per| per.scale == Scale::Litres)?;
    let of = |scale, factor: f64| Measure::new(scale, amount.total() / litres.total() * factor);
    match amount.scale {
        Scale::Kilograms => Some(of(Scale::GramsPerLitre, 1000.0)),
        Scale::Litres => Some(of(Scale::Percent, 100.0)),
        _ => None,
    }
}

/// Whether two volumes are the same number of spoons, of 5 mL in one kitchen and a sixth of a US fluid ounce in another: a phrase
/// stands in a frame that is of none.
fn is_spoon(one: &Measure, other: &Measure) -> bool {
    const TEASPOONS_L: [f64; 2] = [0.005, 0.004929];
    let is_small = |measure: &Measure| measure.scale == Scale::Litres && measure.total() < 0.1;
    let ratio = one.total() / other.total();
    let [metric, us] = TEASPOONS_L;
    let is_other = |wanted: f64| (ratio / wanted - 1.0).abs() < 1e-3;
    is_small(one) && is_small(other) && (is_other(metric / us) || is_other(us / metric))
}

/// The form of a hop that the models know.
fn form_of_hop(figure: &Figure) -> Option<&'static str> {
    let Figure::Word(word) = figure else {
        return None;
    };
    match word.as_str() {
        "pellet" => Some("pellet"),
        // Plugs are cones, pressed.
        "cone" | "whole" | "leaf" | "plug" => Some("cone"),
        "fresh" => Some("fresh"),
        "extract" => Some("extract"),
        _ => None,
    }
}

/// Ounces times per cent of alpha acids as a mass, where the line states the alpha acids.
fn bitterness_units(amount: &Measure, held: &Held) -> Option<Measure> {
    let is_aau = amount.scale == Scale::Unit("AAU".into());
    let alpha = held.fact.measure("alpha")?.total();
    // An ounce, 28.350 g.
    (is_aau && alpha > 0.0)
        .then(|| Measure::new(Scale::Kilograms, amount.total() / alpha * 0.02835))
}

/// The carbon dioxide that beer keeps under the pressure of a gauge, at the temperature of the fact.
fn gas_under(pressure: &Measure, meant: &Fact) -> Option<Measure> {
    let gauge = (pressure.scale == Scale::Unit("bar".to_owned())).then(|| pressure.total())?;
    let cold = Temperature::from_celsius(meant.measure("at")?.total()).ok()?;
    let gas = carbon_dioxide_at(air_pressure() + Pressure::new::<bar>(gauge), cold).ok()?;
    Some(Measure::new(Scale::Gas, gas.grams_per_litre()))
}
