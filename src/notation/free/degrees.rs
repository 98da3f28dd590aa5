//! Degrees without their scale: `66 degrees` on a page that speaks in US measure is 66 °F.

use super::told::Told;
use crate::diagnostic::{Code, Diagnostic};
use crate::notation::piece::Piece;
use crate::notation::tree::{Document, Entry, Line, Token};
use crate::quantity::Unit;

/// Degrees that beer and brewer meet in °F; what is colder is a figure of something else, or rises by so much.
const FAHRENHEIT: std::ops::RangeInclusive<f64> = 32.0..=212.0;

/// How the question begins.
pub(super) const WHOSE_DEGREES: &str = "expected one scale of the text's degrees";

/// The text with a scale for its degrees, if it speaks in US measure. Where it has degrees Celsius too, each is asked about.
pub(super) fn with_scale(
    document: &Document<'_>,
    is_us: bool,
    told: &mut Vec<Told>,
) -> Option<Document<'static>> {
    let is_mixed = document.lines().any(has_celsius);
    (is_us && document.lines().any(has_degrees)).then_some(())?;
    let mut document = document.clone().into_owned();
    for entry in &mut document.entries {
        if let Entry::Line(line) = entry {
            replace(line, is_mixed, told);
        }
    }
    Some(document)
}

// Depth is bounded by the parser.
fn has_degrees(line: &Line<'_>) -> bool {
    line.tokens().iter().any(is_degrees) || line.lines().any(has_degrees)
}

fn has_celsius(line: &Line<'_>) -> bool {
    let bits = super::scan::scan(line.tokens());
    let mut written = bits.iter().filter_map(super::bit::Bit::quantity);
    let is_said = written.any(|written| written.unit == Unit::Celsius);
    (is_said && !line.tokens().iter().any(is_degrees)) || line.lines().any(has_celsius)
}

/// What stands before the first letter, and the rest: `66` and `deg` of `66deg`.
fn parted<'a>(token: &'a Token<'_>) -> (&'a str, &'a str) {
    let text = token.text();
    text.split_at(text.find(char::is_alphabetic).unwrap_or(text.len()))
}

fn is_degrees(token: &Token<'_>) -> bool {
    let (number, word) = parted(token);
    let word = word.trim_end_matches(['.', ',', ';', ')']).to_lowercase();
    matches!(word.as_str(), "deg" | "degs" | "degree" | "degrees")
        && (number.is_empty() || is_warm(number))
}

/// A figure, or a range of two: `66`, `66-68`.
fn is_warm(number: &str) -> bool {
    let mut ends = number.split(['-', '–']);
    ends.all(|end| {
        let degrees = end.parse();
        degrees.is_ok_and(|degrees: f64| FAHRENHEIT.contains(&degrees))
    })
}

fn replace(line: &mut Line<'_>, is_mixed: bool, told: &mut Vec<Told>) {
    for at in 0..line.tokens.len() {
        let Some(degrees) = line.tokens.get(at).filter(|token| is_degrees(token)) else {
            continue;
        };
        let (attached, word) = parted(degrees);
        let before = at.checked_sub(1).and_then(|at| line.tokens.get(at));
        let (number, typed, span) = match before {
            _ if !attached.is_empty() => (attached, degrees.text().to_owned(), degrees.span()),
            Some(before) => (
                before.text(),
                format!("{} {}", before.text(), degrees.text()),
                before.span().to(degrees.span()),
            ),
            None => continue,
        };
        let is_scaled = line.tokens.get(at + 1).is_some_and(has_scale);
        if !is_warm(number) || is_scaled {
            continue;
        }
        let read = format!("{number} F");
        told.push(if is_mixed {
            let celsius = format!("{number} C");
            let message = format!("{WHOSE_DEGREES}, found `{typed}`; assumed {read}");
            let help = format!("write `{read}` or `{celsius}`");
            let found = Diagnostic::warning(Code::MissingUnit, span, message).with_help(help);
            Told::Asked(found)
        } else {
            Told::Assumed(typed, read, span)
        });
        let behind = word.trim_start_matches(char::is_alphabetic);
        let text = Piece::from(format!("{attached}F{behind}"));
        if let Some(degrees) = line.tokens.get_mut(at) {
            degrees.text = text;
        }
    }
    for entry in &mut line.children {
        if let Entry::Line(line) = entry {
            replace(line, is_mixed, told);
        }
    }
}

/// `C`, `Plato`: the scale of the degrees before it.
fn has_scale(token: &Token<'_>) -> bool {
    let word = token
        .text()
        .trim_end_matches(['.', ',', ';', ')'])
        .to_lowercase();
    matches!(
        word.as_str(),
        "c" | "celsius"
            | "centigrade"
            | "f"
            | "fahrenheit"
            | "p"
            | "plato"
            | "brix"
            | "balling"
            | "l"
            | "lovibond"
            | "lintner"
            | "wk"
            | "ebc"
            | "srm"
    )
}

#[cfg(test)]
mod tests {
    use crate::diagnostic::TextRef;
    use crate::notation::free::tests::understood;
    use crate::notation::read;

    const US: &str = "Pale\n5 gal\n10 lb 2-row\nboil 60 min\n1 oz cascade 60 min\n";

    /// What is understood of a page with a line more.
    fn last(page: &str, typed: &str) -> String {
        understood(&format!("{page}{typed}\n")).join("\n")
    }

    fn is_asked(text: &str) -> bool {
        let reading = read(&[TextRef::new("text", text)]);
        let mut found = reading.diagnostics.iter();
        found.any(|found| found.message.starts_with(super::WHOSE_DEGREES))
    }

    #[test]
    fn degrees_take_the_scale_of_their_page() {
        let pitched = last(US, "american ale yeast, 66 degrees");
        assert!(pitched.contains("at 66 F"), "{pitched}");
        let metric = "Pale\n20 L\n5 kg pilsner malt\nboil 60 min\n20 g saaz 60 min\n";
        let pitched = last(metric, "american ale yeast, 18 degrees");
        assert!(pitched.contains("at 18 C"), "{pitched}");
        // Said already, and a scale of another thing.
        let pitched = last(US, "american ale yeast, 19 degrees C");
        assert!(pitched.contains("at 19 C"), "{pitched}");
        for (typed, at) in [("66-68 degrees", "at 66-68 F"), ("67deg", "at 67 F")] {
            let pitched = last(US, &format!("american ale yeast, {typed}"));
            assert!(pitched.contains(at), "{typed}: {pitched}");
        }
        let power = last(US, "1 lb munich malt, 60 degrees lintner");
        assert!(!power.contains("60 F"), "{power}");
    }

    #[test]
    fn a_page_with_both_scales_is_asked() {
        let both = format!("{US}mash at 67 C\namerican ale yeast, 66 degrees\n");
        assert!(is_asked(&both));
        let indented =
            format!("{US}mash\n  rest 67 C for 60 min\namerican ale yeast, 66 degrees\n");
        assert!(is_asked(&indented));
        assert!(!is_asked(&format!("{US}american ale yeast, 66 degrees\n")));
    }

    /// By hand: 1.5 imperial pints are 0.1875 imperial gallons, 0.852 L; of US ones 0.710.
    #[test]
    fn pints_per_hour_are_those_of_the_page() {
        let of = |page: &str| last(page, "loses 1 1/2 pints an hour");
        let british = of("plant: stove\nkettle 8 L\n");
        assert!(
            british.contains("evaporation 0.1875 imp gal/h"),
            "{british}"
        );
        let american = of("plant: stove\nkettle 5 qt\n");
        assert!(american.contains("evaporation 0.1875 gal/h"), "{american}");
    }
}
