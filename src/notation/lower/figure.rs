//! The figures that can be stated of an ingredient, with their labels.

use crate::catalogue::Kind;
use crate::notation::tree::{Token, text_of};
use crate::quantity::{Dimension, Unit};
use crate::recipe::{ExtractBasis, HopForm};

/// A figure that can be stated of an ingredient.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Figure {
    Colour,
    Extract(Option<ExtractBasis>),
    Moisture,
    Fermentability,
    DiastaticPower,
    Protein,
    Alpha,
    Alcohol,
    Brix,
    Ph,
    Acidity,
    Sulphite,
    Sorbate,
    Attenuation,
    PitchRate,
}

pub(super) const LABELS: [(&str, Figure); 42] = [
    ("colour", Figure::Colour),
    ("color", Figure::Colour),
    ("extract", Figure::Extract(None)),
    ("extract dry", Figure::Extract(Some(ExtractBasis::Dry))),
    ("dry extract", Figure::Extract(Some(ExtractBasis::Dry))),
    ("dry", Figure::Extract(Some(ExtractBasis::Dry))),
    (
        "extract dry basis",
        Figure::Extract(Some(ExtractBasis::Dry)),
    ),
    ("extract as is", Figure::Extract(Some(ExtractBasis::AsIs))),
    ("extract as-is", Figure::Extract(Some(ExtractBasis::AsIs))),
    ("as is", Figure::Extract(Some(ExtractBasis::AsIs))),
    ("as-is", Figure::Extract(Some(ExtractBasis::AsIs))),
    ("moisture", Figure::Moisture),
    ("fermentable", Figure::Fermentability),
    ("fermentability", Figure::Fermentability),
    ("diastatic power", Figure::DiastaticPower),
    ("protein", Figure::Protein),
    ("alpha", Figure::Alpha),
    ("alpha acid", Figure::Alpha),
    ("alpha acids", Figure::Alpha),
    ("aa", Figure::Alpha),
    ("alcohol", Figure::Alcohol),
    ("alcohol by volume", Figure::Alcohol),
    ("abv", Figure::Alcohol),
    ("vol", Figure::Alcohol),
    ("brix", Figure::Brix),
    ("ph", Figure::Ph),
    ("acidity", Figure::Acidity),
    ("acid", Figure::Acidity),
    ("titratable acidity", Figure::Acidity),
    ("so2", Figure::Sulphite),
    ("sulphite", Figure::Sulphite),
    ("sulfite", Figure::Sulphite),
    ("sulphites", Figure::Sulphite),
    ("sulphur dioxide", Figure::Sulphite),
    ("sulfur dioxide", Figure::Sulphite),
    ("sorbate", Figure::Sorbate),
    ("sorbic acid", Figure::Sorbate),
    ("attenuation", Figure::Attenuation),
    ("apparent attenuation", Figure::Attenuation),
    ("pitch rate", Figure::PitchRate),
    ("pitching rate", Figure::PitchRate),
    ("rate", Figure::PitchRate),
];

/// The words of what brings neither extract nor alcohol.
pub(super) const BRINGS_NOTHING: &str = "brings nothing";

pub(super) const FORMS: [(&str, HopForm); 11] = [
    ("pellet", HopForm::Pellet),
    ("pellets", HopForm::Pellet),
    ("whole", HopForm::Whole),
    ("cone", HopForm::Whole),
    ("cones", HopForm::Whole),
    ("leaf", HopForm::Whole),
    ("whole cone", HopForm::Whole),
    ("whole cones", HopForm::Whole),
    ("fresh", HopForm::Fresh),
    ("wet", HopForm::Fresh),
    ("extract", HopForm::Extract),
];

/// The dimensions that an attribute can have.
pub(super) const DIMENSIONS: [Dimension; 7] = [
    Dimension::Colour,
    Dimension::DiastaticPower,
    Dimension::Gravity,
    Dimension::Percent,
    Dimension::Concentration,
    Dimension::PitchRate,
    Dimension::Ph,
];

impl Figure {
    pub(super) const fn dimension(self) -> Dimension {
        match self {
            Self::Colour => Dimension::Colour,
            Self::DiastaticPower => Dimension::DiastaticPower,
            Self::Brix => Dimension::Gravity,
            Self::Ph => Dimension::Ph,
            Self::Acidity | Self::Sulphite | Self::Sorbate => Dimension::Concentration,
            Self::PitchRate => Dimension::PitchRate,
            Self::Extract(_)
            | Self::Moisture
            | Self::Fermentability
            | Self::Protein
            | Self::Alpha
            | Self::Alcohol
            | Self::Attenuation => Dimension::Percent,
        }
    }

    /// The figure that a unit alone tells.
    pub(super) const fn of_unit(unit: Unit) -> Option<Self> {
        match unit.dimension() {
            Dimension::Colour => Some(Self::Colour),
            Dimension::DiastaticPower => Some(Self::DiastaticPower),
            Dimension::Gravity => Some(Self::Brix),
            Dimension::PitchRate => Some(Self::PitchRate),
            Dimension::Ph => Some(Self::Ph),
            _ => None,
        }
    }

    pub(super) fn named(label: &str) -> Option<Self> {
        LABELS
            .iter()
            .find(|(name, _)| name.eq_ignore_ascii_case(label))
            .map(|(_, figure)| *figure)
    }
}

/// Whether extract is what the ingredient is added for.
pub(super) const fn is_fermentable(kind: Kind) -> bool {
    matches!(kind, Kind::Malt | Kind::Grain | Kind::Sugar | Kind::Juice)
}

/// Whether the tokens name the form of a hop.
pub(super) fn is_form(tokens: &[Token<'_>]) -> bool {
    tokens.len() <= 2 && form(&text_of(tokens)).is_some()
}

pub(super) fn form(text: &str) -> Option<HopForm> {
    FORMS
        .iter()
        .find(|(name, _)| name.eq_ignore_ascii_case(text))
        .map(|(_, form)| *form)
}
