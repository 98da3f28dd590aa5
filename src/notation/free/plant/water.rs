//! The water of a plant: `city water Ca 35 Mg 7 Na 20 SO4 30 Cl 22 HCO3 90`.

use super::reader::Reader;
use crate::diagnostic::Span;
use crate::notation::free::bit::Bit;
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// What a report calls an ion → the word of the notation.
const IONS: [(&str, &str); 17] = [
    ("calcium", "calcium"),
    ("ca", "calcium"),
    ("magnesium", "magnesium"),
    ("mg", "magnesium"),
    ("sodium", "sodium"),
    ("na", "sodium"),
    ("potassium", "potassium"),
    ("sulphate", "sulphate"),
    ("sulfate", "sulphate"),
    ("so4", "sulphate"),
    ("chloride", "chloride"),
    ("cl", "chloride"),
    ("bicarbonate", "bicarbonate"),
    ("hco3", "bicarbonate"),
    ("hydrogencarbonate", "bicarbonate"),
    ("alkalinity", "alkalinity"),
    ("alk", "alkalinity"),
];

impl Reader<'_, '_> {
    /// A line that gives two ions at least, in milligrams a litre where no unit stands.
    pub(super) fn water(&mut self, bits: &[Bit], used: &mut [bool]) {
        let mut found: Vec<(&str, String)> = Vec::new();
        let mut place: Option<Span> = None;
        let mut taken = Vec::new();
        for (at, bit) in bits.iter().enumerate() {
            let ion = bit.word().and_then(|word| {
                let mut ions = IONS.iter();
                ions.find(|(name, _)| *name == word).map(|(_, ion)| *ion)
            });
            let Some(ion) = ion else { continue };
            let marks = bits
                .iter()
                .skip(at + 1)
                .take_while(|bit| {
                    [':', '=', '-', '(', ')']
                        .iter()
                        .any(|mark| bit.is_mark(*mark))
                })
                .count();
            let number = at + 1 + marks;
            let Some(written) = bits.get(number).and_then(concentration) else {
                continue;
            };
            if found.iter().all(|(own, _)| *own != ion) {
                found.push((ion, format!("{ion} {written}")));
                place = Some(place.map_or(bit.span, |place| place.to(bit.span)));
                taken.extend([at, number]);
            }
        }
        let Some(place) = place.filter(|_| found.len() > 1) else {
            return;
        };
        let text: Vec<String> = found.into_iter().map(|(_, text)| text).collect();
        if self.put("water", &format!("water {}", text.join(", ")), place) {
            for at in taken {
                if let Some(used) = used.get_mut(at) {
                    *used = true;
                }
            }
        }
    }
}

fn concentration(bit: &Bit) -> Option<AsWritten> {
    let bare = bit
        .bare()
        .filter(|bare| (0.0..=2000.0).contains(&bare.middle()))
        .map(|bare| AsWritten::marked(bare, Unit::MilligramPerLitre));
    let written = bit
        .quantity()
        .filter(|written| written.unit.dimension() == Dimension::Concentration);
    written.copied().or(bare)
}
