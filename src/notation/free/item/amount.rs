//! How much of an ingredient there is.

use super::Item;
use crate::catalogue::Kind;
use crate::catalogue::{AidPurpose, Catalogue, EntryRef, UsualDose};
use crate::notation::free::group::{Figure, Group, Link};
use crate::notation::free::said::Part;
use crate::notation::free::told::Told;
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

impl Item {
    /// `Irish moss, 15 min`: a fining or a nutrient of which nobody says how much, by its usual dose.
    pub(in crate::notation::free) fn usual_dose(&mut self, catalogue: &Catalogue) {
        let found = catalogue.find(&self.name).map(|found| found.entry);
        let (None, Some(EntryRef::Aid(aid))) = (&self.amount, found) else {
            return;
        };
        let is_usual = matches!(aid.purpose, Some(AidPurpose::Fining | AidPurpose::Nutrient));
        let (Some(dose), true) = (aid.dose, is_usual) else {
            return;
        };
        let written = match dose {
            UsualDose::Mass(low, high) => AsWritten::plain(
                round(low.grams_per_litre().midpoint(high.grams_per_litre()) * 100.0),
                Unit::GramPerHectolitre,
            ),
            UsualDose::Volume(low, high) => AsWritten::plain(
                round(
                    low.millilitres_per_hectolitre()
                        .midpoint(high.millilitres_per_hectolitre())
                        / 100.0,
                ),
                Unit::MillilitrePerLitre,
            ),
        };
        let text = written.to_string();
        let told = Told::Default(self.name.clone(), text.clone(), self.name_span);
        self.told.push(told);
        self.amount = Some((text, self.name_span, written));
    }

    pub(super) fn amount(&mut self, group: &mut Group, part: Part) {
        let is_amount = |figure: &Figure, dimension: Dimension| {
            let is_reached =
                matches!(figure.link, Link::When | Link::To) && dimension != Dimension::Bitterness;
            figure.dimension() == Some(dimension) && !is_reached
        };
        let by_rank: &[Dimension] = if self.kind == Kind::Yeast {
            &[
                Dimension::Packs,
                Dimension::Mass,
                Dimension::Volume,
                Dimension::Concentration,
                Dimension::VolumePerVolume,
            ]
        } else {
            &[
                Dimension::Mass,
                Dimension::Packs,
                Dimension::Concentration,
                Dimension::VolumePerVolume,
                Dimension::Bitterness,
                Dimension::Volume,
            ]
        };
        // Grain is not measured in litres.
        let is_grain = matches!(self.kind, Kind::Malt | Kind::Grain);
        let position = by_rank
            .iter()
            .filter(|dimension| !is_grain || **dimension != Dimension::Volume)
            .filter(|dimension| **dimension != Dimension::Bitterness || self.kind == Kind::Hop)
            .find_map(|dimension| {
                group
                    .figures
                    .iter()
                    .position(|figure| is_amount(figure, *dimension))
            });
        if let Some(at) = position {
            let figure = group.figures.remove(at);
            if let Some(written) = figure.written {
                self.amount = Some((written.to_string(), figure.span, written));
            }
            return;
        }
        // A share of the grist, or of the beer.
        let in_beer = matches!(part, Part::Ferment | Part::Package);
        let has_share = matches!(self.kind, Kind::Malt | Kind::Grain | Kind::Sugar) && !in_beer
            || matches!(self.kind, Kind::Juice) && in_beer;
        let is_by_volume = group
            .others
            .iter()
            .any(|word| matches!(word.as_str(), "volume" | "v/v" | "vol"));
        let at = group
            .figures
            .iter()
            .position(|figure| figure.dimension() == Some(Dimension::Percent));
        if let Some(at) = at.filter(|_| has_share && (!in_beer || is_by_volume)) {
            group
                .others
                .retain(|word| !matches!(word.as_str(), "volume" | "v/v" | "vol"));
            let figure = group.figures.remove(at);
            if let Some(written) = figure.written {
                let by = if in_beer { " by volume" } else { "" };
                self.amount = Some((format!("{written}{by}"), figure.span, written));
            }
        }
    }
}

/// A usual dose is known to two digits at most.
fn round(number: f64) -> f64 {
    format!("{number:.1e}").parse().unwrap_or(number)
}
