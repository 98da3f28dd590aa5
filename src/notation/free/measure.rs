//! Gallons, pints, barrels and spoons of a text that is not of the United States.

use super::bit::{Bit, What};
use super::scan::scan;
use super::told::Told;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::tree::{Document, Line};
use crate::quantity::lexer::{AsWritten, Marked};
use crate::quantity::{Dimension, Unit};

/// Words of British measure and of British breweries.
const IMPERIAL: &[&str] = &[
    "imperial",
    "imp",
    "brl",
    "brls",
    "firkin",
    "firkins",
    "kilderkin",
    "kilderkins",
    "kils",
    "kil",
    "pins",
    "invert",
    "demijohn",
    "demijohns",
    "gyle",
    "copper",
    "coppers",
    "barm",
];

/// Of them those that no American says.
const BRITISH: &[&str] = &[
    "brl",
    "brls",
    "firkin",
    "firkins",
    "kilderkin",
    "kilderkins",
    "kils",
    "gyle",
    "barm",
];

/// Whose gallons a text speaks of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Gallons {
    Us,
    /// Nothing tells: the US ones, and whose barrels they are is asked.
    Unsaid,
    /// Imperial, because the text speaks in degrees Celsius or litres too, and in nothing that only the United States use.
    ByMetric,
    /// Imperial by a word of that measure, and its barrels with them.
    ByWord,
}

/// What speaks for imperial measure or against it.
#[allow(
    clippy::struct_excessive_bools,
    reason = "each is a sign that a text may have beside the others"
)]
#[derive(Default)]
struct Signs {
    word: bool,
    /// A word or a unit that only the British use, whatever thermometers they have.
    is_strong: bool,
    metric: bool,
    customary: bool,
    quarts: bool,
}

impl Gallons {
    pub(super) fn of(document: &Document<'_>) -> Self {
        let mut signs = Signs::default();
        signs.look(&mut document.lines());
        match (signs.customary, signs.word, signs.metric) {
            _ if signs.is_strong && !signs.quarts => Self::ByWord,
            (false, true, _) => Self::ByWord,
            (false, false, true) => Self::ByMetric,
            (false, false, false) => Self::Unsaid,
            _ => Self::Us,
        }
    }

    /// Reads what is typed in gallons, pints, barrels and spoons by the measure of the text; where that is not the US one it is told.
    pub(super) fn read(self, bits: &mut [Bit], told: &mut Vec<Told>) {
        for bit in bits {
            let What::Quantity(written) = &mut bit.what else {
                continue;
            };
            // The spoons of metric kitchens hold 5 and 15 mL (common practice, no source), and the notation's a little less.
            let spoons = match written.unit {
                Unit::Teaspoon => 5.0,
                Unit::Tablespoon => 15.0,
                _ => 0.0,
            };
            if !matches!(self, Self::Us | Self::Unsaid) && spoons > 0.0 {
                let typed = written.to_string();
                written.number *= spoons;
                written.range = written
                    .range
                    .map(|(low, high)| (low * spoons, high * spoons));
                written.unit = Unit::Millilitre;
                told.push(Told::Assumed(typed, written.to_string(), bit.span));
                continue;
            }
            if written.unit == Unit::Barrel && matches!(self, Self::Unsaid | Self::ByMetric) {
                told.push(Told::Asked(which_barrel(written, bit.span)));
            }
            let unit = match (self, written.unit) {
                (Self::Us | Self::Unsaid, _) => continue,
                (_, Unit::Gallon) => Unit::ImperialGallon,
                (_, Unit::Pint) => Unit::ImperialPint,
                (_, Unit::GallonPerHour) => Unit::ImperialGallonPerHour,
                (Self::ByWord, Unit::Barrel) => Unit::ImperialBarrel,
                _ => continue,
            };
            let typed = written.to_string();
            written.unit = unit;
            told.push(Told::Assumed(typed, written.to_string(), bit.span));
        }
    }
}

/// How the question begins.
pub(super) const WHOSE_BARRELS: &str = "expected whose barrels";

/// How the question begins.
pub(super) const WHOSE_HUNDREDWEIGHT: &str = "expected whose hundredweight";

/// 112 pounds in Britain, 100 in the United States.
pub(super) fn whose_hundredweight(span: Span) -> Diagnostic {
    let message = format!("{WHOSE_HUNDREDWEIGHT} `cwt` is; assumed the British one of 112 lb");
    Diagnostic::warning(Code::MissingUnit, span, message).with_help("state the mass in lb or kg")
}

/// A British barrel is larger than an American one by two fifths.
pub(super) fn which_barrel(written: &AsWritten, span: Span) -> Diagnostic {
    let typed = written.to_string();
    let number = typed.split(' ').next().unwrap_or("");
    let message = format!("{WHOSE_BARRELS} `{typed}` are; assumed US barrels of 31 gallons");
    Diagnostic::warning(Code::MissingUnit, span, message)
        .with_help(format!("write `{number} imp bbl`, or the volume in hL"))
}

impl Signs {
    fn look(&mut self, lines: &mut dyn Iterator<Item = &Line<'_>>) {
        for line in lines {
            let bits = scan(line.tokens());
            // The `L` of `1 lb crystal 20L` is no litre.
            let is_weighed = bits.iter().any(|bit| {
                bit.quantity()
                    .is_some_and(|written| written.unit.dimension() == Dimension::Mass)
            });
            for bit in bits {
                if let Some(written) = bit.quantity() {
                    self.quarts |= matches!(
                        written.unit,
                        Unit::Quart | Unit::QuartPerPound | Unit::GallonPerPound
                    );
                    self.is_strong |= written.unit == Unit::Stone;
                    self.metric |=
                        written.unit == Unit::Celsius || written.unit == Unit::Litre && !is_weighed;
                    self.customary |= matches!(
                        written.unit,
                        Unit::Fahrenheit | Unit::Quart | Unit::QuartPerPound | Unit::GallonPerPound
                    );
                }
                self.is_strong |= bit.word().is_some_and(|word| BRITISH.contains(&word));
                self.word |= bit.word().is_some_and(|word| IMPERIAL.contains(&word));
            }
            self.look(&mut line.lines());
        }
    }
}

/// Brewers' casks in imperial gallons (a barrel is 36: the trade's measure).
pub(super) const CASKS: [(&str, f64); 4] = [
    ("pin", 4.5),
    ("firkin", 9.0),
    ("kilderkin", 18.0),
    ("hogshead", 54.0),
];

/// `Dark mild, one firkin`: what a sheet's head ends in is how much it makes.
pub(super) fn casks(bits: &mut Vec<Bit>, told: &mut Vec<Told>) {
    let measures = |bit: &Bit| {
        bit.quantity()
            .is_some_and(|written| written.unit.dimension() == Dimension::Volume)
    };
    let Some(at) = bits.len().checked_sub(2) else {
        return;
    };
    let (Some(count), Some(cask)) = (bits.get(at), bits.get(at + 1)) else {
        return;
    };
    let number = match count.word() {
        Some("one" | "a" | "1") => Some(1.0),
        _ => count.bare().map(Marked::middle),
    };
    let name = cask.word().map(|word| word.trim_end_matches('s'));
    let size = CASKS.iter().find(|(own, _)| Some(*own) == name);
    let (Some(number), Some((_, gallons))) = (number, size) else {
        return;
    };
    if bits.iter().any(measures) {
        return;
    }
    let span = count.span.to(cask.span);
    let read = AsWritten::plain(number * gallons, Unit::ImperialGallon);
    let typed = format!("{number} {}", name.unwrap_or_default());
    told.push(Told::Assumed(typed, read.to_string(), span));
    let what = What::Quantity(read);
    bits.splice(at.., [Bit { what, span }]);
}
