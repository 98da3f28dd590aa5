//! All figures of an answer under their names, so that two answers can be held side by side.

use serde_json::Value;
use std::collections::BTreeMap;
use wortwright::Job;
use wortwright::diagnostic::Error;
use wortwright::job::Brew;
use wortwright::notation::ReadOptions;
use wortwright::recipe::BitternessModel;
use wortwright::scale::{Plan, ScaleOptions, WeighOut};

/// Figures by their path.
pub type Figures = BTreeMap<String, f64>;

/// How a plan is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Asked {
    Exact,
    /// The same by one model of bitterness, whatever the plants say.
    By(BitternessModel),
    /// The same with how far it may be off.
    WithSpread,
    Weighed,
}

/// The plant that a drawn beer is to be brewed on.
pub const HOME: &str = "Home";
/// The plant that it was printed for.
pub const WORKS: &str = "Works";

impl Asked {
    fn options(self) -> ScaleOptions {
        let options = ScaleOptions::default();
        match self {
            Self::Exact => options.with_weigh_out(WeighOut::Exact).without_spread(),
            Self::By(model) => Self::Exact.options().with_bitterness(model),
            Self::WithSpread => options.with_weigh_out(WeighOut::Exact),
            Self::Weighed => options.without_spread(),
        }
    }
}

pub fn read(text: &str, options: &ReadOptions) -> Result<Job, Error> {
    let catalogue = wortwright::catalogue::Catalogue::builtin();
    Job::read_with([("beer", text)], &catalogue, options)
}

pub fn brew(text: &str, plant: &str, asked: Asked) -> Result<Brew, Error> {
    read(text, &ReadOptions::default())?.on_with(plant, &asked.options())
}

/// The plan of a text.
///
/// # Errors
///
/// When the text cannot be read or brewed.
pub fn plan(text: &str, plant: &str, asked: Asked) -> Result<Plan, Error> {
    brew(text, plant, asked)?.plan()
}

/// The figures of a plan: amounts, volumes, water, gas, what the source gives and what the plan gives, and how often each code
/// of what is said stands there.
pub fn of_plan(plan: &Plan) -> Figures {
    let mut figures = Figures::new();
    let json = serde_json::to_value(plan).unwrap_or_default();
    for (name, value) in json.as_object().into_iter().flatten() {
        match name.as_str() {
            // Said to people, in figures that the others hold: only what is said.
            "changes" | "assumptions" | "warnings" | "outcomes" | "drift" | "remedy" => {
                codes(name, value, &mut figures);
            }
            _ => flatten(name, value, &mut figures),
        }
    }
    figures
}

/// How far a plan may be off, each sigma under the name of what it is of. A share of a spread that is nothing is dust.
pub fn spread(plan: &Plan) -> Figures {
    let [spread, difference] = [&plan.spread, &plan.spread_of_difference]
        .map(|spread| serde_json::to_value(spread).unwrap_or_default());
    let figures = of("spread", &spread)
        .into_iter()
        .chain(of("spread_of_difference", &difference));
    let figures = figures.map(|(name, figure)| match name.strip_suffix(".one_sigma") {
        Some(of) => (of.to_owned(), figure),
        None => (name, figure),
    });
    figures
        .filter(|(name, figure)| !name.ends_with("share_pct") || *figure > 1e-9)
        .collect()
}

/// What a thing says in numbers.
pub fn of(name: &str, thing: &Value) -> Figures {
    let mut figures = Figures::new();
    flatten(name, thing, &mut figures);
    figures
}

/// The figures of every log of a text.
///
/// # Errors
///
/// When the text cannot be read.
pub fn of_logs(text: &str) -> Result<Figures, Error> {
    let job = read(text, &ReadOptions::default())?;
    let mut figures = Figures::new();
    for (log, ledger) in job.logs().iter().zip(job.ledgers()) {
        let name = format!("log {}", log.name());
        match ledger {
            Ok(ledger) => figures.extend(of(
                &name,
                &serde_json::to_value(&ledger).unwrap_or_default(),
            )),
            Err(error) => {
                figures.insert(format!("{name} refused {}", error.code()), 1.0);
            }
        }
    }
    Ok(figures)
}

/// How often each code stands in a list.
fn codes(name: &str, list: &Value, figures: &mut Figures) {
    let one = [list.clone()];
    let entries = list.as_array().map_or(&one[..], Vec::as_slice);
    for entry in entries {
        let code = ["code", "kind", "what"]
            .iter()
            .find_map(|key| entry[*key].as_str());
        let first = entry.as_object().and_then(|fields| fields.keys().next());
        let code = code
            .map(str::to_owned)
            .or(first.cloned())
            .unwrap_or_default();
        *figures.entry(format!("{name}: {code}")).or_default() += 1.0;
    }
}

/// Numbers below a value; entries of a list under what they are called, so that neither their order nor one line in two changes
/// a name, and added up.
fn flatten(path: &str, value: &Value, figures: &mut Figures) {
    match value {
        Value::Number(number) => {
            *figures.entry(path.to_owned()).or_default() += number.as_f64().unwrap_or(f64::NAN);
        }
        Value::Object(fields) => {
            for (name, field) in fields {
                flatten(&format!("{path}.{name}"), field, figures);
            }
        }
        Value::Array(entries) => {
            let mut of_path: BTreeMap<String, Vec<&Value>> = BTreeMap::new();
            for (index, entry) in entries.iter().enumerate() {
                let called = called(entry).unwrap_or_else(|| index.to_string());
                of_path
                    .entry(format!("{path}[{called}]"))
                    .or_default()
                    .push(entry);
            }
            for (path, entries) in of_path {
                let mut sum = Figures::new();
                for entry in &entries {
                    flatten(&path, entry, &mut sum);
                }
                // What is said of each alike is no sum.
                for (name, total) in sum {
                    let adds_up = [
                        "mass_kg",
                        "volume_l",
                        "extract_kg",
                        "share_pct",
                        "needed",
                        "buy",
                    ]
                    .iter()
                    .any(|word| name.contains(word))
                        || name.ends_with("].bitterness_ibu");
                    let part = if adds_up { 1.0 } else { entries.len() as f64 };
                    figures.insert(name, total / part);
                }
            }
        }
        _ => {}
    }
}

/// What an entry of a list is, by what it says in words and when it goes in.
fn called(entry: &Value) -> Option<String> {
    let fields = entry.as_object()?;
    let words = fields.iter().filter_map(|(name, field)| match field {
        Value::String(word) => Some(word.clone()),
        Value::Number(number)
            if matches!(
                name.as_str(),
                "at_min"
                    | "on_day"
                    | "when_plato"
                    | "stand"
                    | "for_min"
                    | "at_c"
                    | "alpha_pct"
                    | "brix_plato"
            ) =>
        {
            let number = number.as_f64()?;
            Some(format!("{name} {number:.4e}"))
        }
        _ => None,
    });
    let words: Vec<_> = words.collect();
    (!words.is_empty()).then(|| words.join(", "))
}
