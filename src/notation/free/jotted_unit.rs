//! Units as they are jotted: short forms, `degrees`, measures of the kitchen, doses in two units.

use crate::diagnostic::{Code, Diagnostic, Span};
use crate::quantity::Unit;
use crate::quantity::lexer::{Marked, is_space};

/// The words that a unit may be made of.
pub(super) fn words<'t>(text: &'t str) -> impl Fn(usize) -> Option<&'t str> {
    move |at| {
        let word = text
            .split(is_space)
            .filter(|word| !word.is_empty())
            .nth(at)?;
        let end = |c: char| {
            matches!(
                c,
                ',' | ';' | ')' | '(' | ':' | '|' | '"' | '@' | '=' | '!' | '?' | '+'
            )
        };
        let word = word.split(end).next()?;
        // `20g/20g`: the next figure of a row.
        let next = word.match_indices('/').map(|(at, _)| at).find(|at| {
            word.get(at + 1..)
                .is_some_and(|next| next.starts_with(|c: char| c.is_ascii_digit()))
        });
        let word = word.get(..next.unwrap_or(word.len())).unwrap_or(word);
        Some(word.trim_end_matches(['.', '\''])).filter(|word| !word.is_empty())
    }
}

/// Units as they are jotted and never printed, the word and its unit; the longest first where one begins another.
const JOTTED: &[(&str, Unit)] = &[
    ("#", Unit::Pound),
    ("lbs", Unit::Pound),
    ("gals", Unit::Gallon),
    ("gall", Unit::Gallon),
    ("qts", Unit::Quart),
    ("pts", Unit::Pint),
    ("litre", Unit::Litre),
    ("ltr", Unit::Litre),
    ("ltrs", Unit::Litre),
    ("mls", Unit::Millilitre),
    ("gm", Unit::Gram),
    ("gms", Unit::Gram),
    ("grm", Unit::Gram),
    ("kgs", Unit::Kilogram),
    ("brl", Unit::ImperialBarrel),
    ("brls", Unit::ImperialBarrel),
    ("tbs", Unit::Tablespoon),
    ("tablespoonful", Unit::Tablespoon),
    ("teaspoonful", Unit::Teaspoon),
    ("pk", Unit::Pack),
    ("pks", Unit::Pack),
    ("pkt", Unit::Pack),
    ("pkts", Unit::Pack),
    ("pkg", Unit::Pack),
    ("pkgs", Unit::Pack),
    ("package", Unit::Pack),
    ("pouch", Unit::Pack),
    ("pouches", Unit::Pack),
    ("vial", Unit::Pack),
    ("vials", Unit::Pack),
    ("brick", Unit::Pack),
    ("bricks", Unit::Pack),
    ("tablet", Unit::Pack),
    ("tablets", Unit::Pack),
    ("tab", Unit::Pack),
    ("tabs", Unit::Pack),
    ("cap", Unit::Pack),
    ("caps", Unit::Pack),
    ("capsule", Unit::Pack),
    ("capsules", Unit::Pack),
    ("wk", Unit::Week),
    ("wks", Unit::Week),
    ("dy", Unit::Day),
    ("dys", Unit::Day),
    ("ibus", Unit::Ibu),
    ("bu", Unit::Ibu),
    ("bus", Unit::Ibu),
    ("bu's", Unit::Ibu),
    ("ebus", Unit::Ibu),
    ("lov", Unit::Lovibond),
    ("ºc", Unit::Celsius),
    ("ºf", Unit::Fahrenheit),
    ("degc", Unit::Celsius),
    ("degf", Unit::Fahrenheit),
    ("centigrade", Unit::Celsius),
    ("v/v", Unit::GasVolumes),
    ("co2 vol", Unit::GasVolumes),
    ("kilo", Unit::Kilogram),
    ("qts/lb", Unit::QuartPerPound),
    ("quart/lb", Unit::QuartPerPound),
    ("quarts/lb", Unit::QuartPerPound),
    ("lbs/bbl", Unit::PoundPerBarrel),
    ("gal/hour", Unit::GallonPerHour),
    ("gph", Unit::GallonPerHour),
    ("l/hour", Unit::LitrePerHour),
    ("litres/hr", Unit::LitrePerHour),
    ("litres/hour", Unit::LitrePerHour),
    ("litres/h", Unit::LitrePerHour),
    ("liters/hr", Unit::LitrePerHour),
    ("liters/hour", Unit::LitrePerHour),
    ("m/ml/°p", Unit::MillionPerMillilitrePlato),
];

/// A hand full of husks or leaves, and what three fingers hold of a powder (common practice, no source).
pub(super) const HANDFUL_G: f64 = 20.0;
pub(super) const PINCH_G: f64 = 0.3;

/// Measures of the kitchen and the calendar, in how many of a unit: a cup of 8 US fluid ounces, a month of 30 days (common practice, no
/// source).
const MULTIPLES: &[(&str, Unit, f64)] = &[
    ("cup", Unit::FluidOunce, 8.0),
    ("cups", Unit::FluidOunce, 8.0),
    ("handful", Unit::Gram, HANDFUL_G),
    ("handfuls", Unit::Gram, HANDFUL_G),
    ("pinch", Unit::Gram, PINCH_G),
    ("pinches", Unit::Gram, PINCH_G),
    // The British hundredweight of 112 pounds (by definition; from memory).
    ("cwt", Unit::Pound, 112.0),
    ("month", Unit::Day, 30.0),
    ("months", Unit::Day, 30.0),
    ("mo", Unit::Day, 30.0),
    ("mos", Unit::Day, 30.0),
];

/// Doses and rates in two units that the notation says in one: 31 US gallons of 128 fluid ounces a barrel, 8 pints a gallon.
const COMPOUND: &[(&str, Unit, f64)] = &[
    ("gal/bbl", Unit::MillilitrePerLitre, 1000.0 / 31.0),
    ("gal per bbl", Unit::MillilitrePerLitre, 1000.0 / 31.0),
    ("fl oz/bbl", Unit::MillilitrePerLitre, 1000.0 / 3968.0),
    ("fl oz per bbl", Unit::MillilitrePerLitre, 1000.0 / 3968.0),
    ("fl oz/gal", Unit::MillilitrePerLitre, 1000.0 / 128.0),
    ("fl oz per gallon", Unit::MillilitrePerLitre, 1000.0 / 128.0),
    ("l/hl", Unit::MillilitrePerLitre, 10.0),
    ("l per hl", Unit::MillilitrePerLitre, 10.0),
    ("pint per gallon", Unit::MillilitrePerLitre, 125.0),
    ("m cells/ml/p", Unit::MillionPerMillilitrePlato, 1.0),
    ("m cells/ml/°p", Unit::MillionPerMillilitrePlato, 1.0),
    ("m cells per ml per p", Unit::MillionPerMillilitrePlato, 1.0),
    ("million cells/ml/p", Unit::MillionPerMillilitrePlato, 1.0),
    ("million cells/ml/°p", Unit::MillionPerMillilitrePlato, 1.0),
    ("million/ml/p", Unit::MillionPerMillilitrePlato, 1.0),
    ("million/ml/°p", Unit::MillionPerMillilitrePlato, 1.0),
];

/// A unit as it is jotted: a short form, `degrees`, a sign alone; with how many bytes it takes and how many of the unit it is.
pub(super) fn spelt(text: &str, number: Marked) -> Option<(Unit, usize, f64)> {
    let word = text
        .split(|c: char| is_space(c) || matches!(c, ',' | ';' | ')' | '(' | ':' | '|' | '"' | '@'))
        .next()
        .unwrap_or("")
        .trim_end_matches('.');
    let found = JOTTED
        .iter()
        .find(|(jotted, _)| jotted.eq_ignore_ascii_case(word));
    if let Some((_, unit)) = found {
        return Some((*unit, word.len(), 1.0));
    }
    let multiple = MULTIPLES
        .iter()
        .find(|(jotted, ..)| jotted.eq_ignore_ascii_case(word));
    if let Some((_, unit, factor)) = multiple {
        return Some((*unit, word.len(), *factor));
    }
    let long = COMPOUND.iter().find(|(jotted, ..)| {
        let head = text.get(..jotted.len());
        head.is_some_and(|head| head.eq_ignore_ascii_case(jotted))
    });
    if let Some((jotted, unit, factor)) = long {
        return Some((*unit, jotted.len(), *factor));
    }
    if text.starts_with('#') {
        return Some((Unit::Pound, 1, 1.0));
    }
    // `20 degrees C`, `20 ° C`, `165 degree water`.
    let lower = word.to_lowercase();
    if matches!(
        lower.as_str(),
        "deg" | "degs" | "degree" | "degrees" | "°" | "º"
    ) {
        let behind = text
            .get(word.len()..)
            .unwrap_or("")
            .trim_start_matches(['.', ' ']);
        let next = words(behind)(0).unwrap_or("").to_lowercase();
        let length = text.len() - behind.len();
        return Some(match next.as_str() {
            "c" | "celsius" | "centigrade" => (Unit::Celsius, length + next.len(), 1.0),
            "f" | "fahrenheit" => (Unit::Fahrenheit, length + next.len(), 1.0),
            "p" | "plato" => (Unit::Plato, length + next.len(), 1.0),
            "bx" | "brix" => (Unit::Brix, length + next.len(), 1.0),
            _ => (warmth(number.middle()), word.len(), 1.0),
        });
    }
    None
}

/// How the question begins of what may be a comment as well.
pub(super) const POUND_SIGN: &str = "expected `lb` for the sign";

/// `10# pale malt`: with a blank before it the sign opens a comment.
pub(super) fn pound_sign(typed: &str, read: &str, span: Span) -> Diagnostic {
    let message = format!("{POUND_SIGN} `#` of `{typed}`; assumed {read}");
    Diagnostic::warning(Code::MissingUnit, span, message)
        .with_help(format!("write `{read}`; ` #` opens a comment"))
}

/// The scale of degrees that are not named: above 100 there is no other, and wort is not brewed at 45 to 100 °F in °C
/// (mash and boil apart, which stand at 60 to 100 °C).
pub(super) fn warmth(degrees: f64) -> Unit {
    if degrees > 100.0 {
        Unit::Fahrenheit
    } else {
        Unit::Celsius
    }
}
