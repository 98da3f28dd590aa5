//! What weighing out moved.

use super::solve::Found;
use crate::diagnostic::{Severity, codes};
use crate::process::{Figures, Worked};
use crate::quantity::{AlcoholByVolume, BeerColour, Bitterness, Extract, Mass, kilograms};
use crate::speech::{GravityScale, Speaks, Style, alcohol};
use serde::Serialize;

/// Half of the last digit of a sheet: of the original extract, °P, and of bitterness, IBU.
const SHOWN_PLATO: f64 = 0.05;
const SHOWN_IBU: f64 = 0.5;
/// Colour that is told apart side by side: 1 EBC, or a tenth (a colour difference of CIEDE2000 2 in 5 cm of beer, computed).
const NOTICED_EBC: f64 = 1.0;
const NOTICED_COLOUR: f64 = 0.10;
/// Alcohol that is told apart, % by volume, or a tenth of it (found of wine; of beer nothing is published).
const NOTICED_ABV: f64 = 0.5;
const NOTICED_ALCOHOL: f64 = 0.10;
/// Extract of a beer that is told apart, °P (a ninth of the sugar of a sweet drink; derived).
const NOTICED_PLATO: f64 = 0.4;
/// An amount that is told apart: a quarter more (Weber's fraction 0.26, measured of thickness in the mouth).
const NOTICED_RATIO: f64 = 1.25;

/// A figure that weighing out moved.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Drift {
    /// Original extract.
    Original {
        /// As computed.
        #[serde(rename = "exact_plato")]
        exact: Extract,
        /// As weighed out.
        #[serde(rename = "weighed_plato")]
        weighed: Extract,
    },
    /// Apparent final extract, where the difference is tasted.
    Final {
        /// As computed.
        #[serde(rename = "exact_plato")]
        exact: Extract,
        /// As weighed out.
        #[serde(rename = "weighed_plato")]
        weighed: Extract,
    },
    /// Alcohol of the beer, where the difference is tasted.
    Alcohol {
        /// As computed.
        #[serde(rename = "exact_abv_pct", with = "crate::quantity::json::percent")]
        exact: AlcoholByVolume,
        /// As weighed out.
        #[serde(rename = "weighed_abv_pct", with = "crate::quantity::json::percent")]
        weighed: AlcoholByVolume,
    },
    /// Bitterness of the beer.
    Bitterness {
        /// As computed.
        #[serde(rename = "exact_ibu")]
        exact: Bitterness,
        /// As weighed out.
        #[serde(rename = "weighed_ibu")]
        weighed: Bitterness,
    },
    /// Colour of the beer, malt part, where the difference is seen.
    Colour {
        /// As computed.
        #[serde(rename = "exact_ebc")]
        exact: BeerColour,
        /// As weighed out.
        #[serde(rename = "weighed_ebc")]
        weighed: BeerColour,
    },
    /// Amount of an ingredient, where the step of the scale is too coarse for it.
    Amount {
        /// The ingredient as the recipe writes it.
        name: String,
        /// As computed.
        #[serde(rename = "exact_kg", with = "crate::quantity::json::kilogram")]
        exact: Mass,
        /// As weighed out.
        #[serde(rename = "weighed_kg", with = "crate::quantity::json::kilogram")]
        weighed: Mass,
    },
}

codes! {
    Drift {
        Original = "original",
        Final = "final",
        Alcohol = "alcohol",
        Bitterness = "bitterness",
        Colour = "colour",
        Amount = "amount",
    }
}

/// What weighing out moved: the figures where it can be seen, the amounts where it can be tasted.
pub(super) fn drift(found: &Found, target: &Worked, weighed: &Figures) -> Vec<Drift> {
    let exact = Figures::predicted(&found.brewed);
    let mut drift = Vec::new();
    let original = Option::zip(exact.original, weighed.original);
    drift.extend(
        original
            .filter(|(a, b)| (a.plato() - b.plato()).abs() >= SHOWN_PLATO)
            .map(|(exact, weighed)| Drift::Original { exact, weighed }),
    );
    let end = Option::zip(exact.final_extract, weighed.final_extract);
    drift.extend(
        end.filter(|(a, b)| (a.plato() - b.plato()).abs() >= NOTICED_PLATO)
            .map(|(exact, weighed)| Drift::Final { exact, weighed }),
    );
    let strength = Option::zip(exact.alcohol, weighed.alcohol);
    drift.extend(
        strength
            .filter(|(a, b)| is_noticed(a.percent(), b.percent(), NOTICED_ABV, NOTICED_ALCOHOL))
            .map(|(exact, weighed)| Drift::Alcohol { exact, weighed }),
    );
    let bitterness = Option::zip(exact.bitterness, weighed.bitterness);
    drift.extend(
        bitterness
            .filter(|(a, b)| (a.ibu() - b.ibu()).abs() >= SHOWN_IBU)
            .map(|(exact, weighed)| Drift::Bitterness { exact, weighed }),
    );
    let colour = Option::zip(exact.colour, weighed.colour);
    drift.extend(
        colour
            .filter(|(a, b)| is_noticed(a.ebc(), b.ebc(), NOTICED_EBC, NOTICED_COLOUR))
            .map(|(exact, weighed)| Drift::Colour { exact, weighed }),
    );
    let items = target.setup.formula.items.iter();
    drift.extend(items.filter_map(|(index, item)| {
        let (exact, weighed) = (found.amounts.of.at(index), target.amounts.of.at(index));
        let ratio = weighed / exact;
        let is_coarse = exact > 0.0 && !(1.0 / NOTICED_RATIO..=NOTICED_RATIO).contains(&ratio);
        (is_coarse && item.is_by_mass()).then(|| Drift::Amount {
            name: item.ingredient.name.clone(),
            exact: kilograms(exact),
            weighed: kilograms(weighed),
        })
    }));
    drift
}

/// Whether two figures differ by more than `least` and by more than this share of the first.
fn is_noticed(exact: f64, weighed: f64, least: f64, share: f64) -> bool {
    (weighed - exact).abs() >= least.max(share * exact.abs())
}

impl Speaks for Drift {
    fn code(&self) -> &'static str {
        self.coded()
    }

    fn severity(&self) -> Severity {
        match self {
            Self::Original { .. } | Self::Bitterness { .. } => Severity::Note,
            Self::Final { .. }
            | Self::Alcohol { .. }
            | Self::Colour { .. }
            | Self::Amount { .. } => Severity::Warning,
        }
    }

    fn text(&self, style: Style) -> String {
        match self {
            Self::Original { exact, weighed } => format!(
                "original gravity {} with rounded weights ({} exact)",
                fine_gravity(*weighed, style),
                fine_gravity(*exact, style)
            ),
            Self::Final { exact, weighed } => format!(
                "final gravity {} with rounded weights ({} exact)",
                fine_gravity(*weighed, style),
                fine_gravity(*exact, style)
            ),
            Self::Alcohol { exact, weighed } => format!(
                "alcohol {} with rounded weights ({} exact)",
                alcohol(*weighed),
                alcohol(*exact)
            ),
            Self::Colour { exact, weighed } => format!(
                "colour {} with rounded weights ({} exact): use a finer scale",
                style.beer_colour(*weighed),
                style.beer_colour(*exact)
            ),
            Self::Amount {
                name,
                exact,
                weighed,
            } => format!(
                "{name}: {} as weighed, {} exact: use a finer scale",
                style.mass(*weighed),
                style.mass(*exact)
            ),
            Self::Bitterness { exact, weighed } => format!(
                "bitterness {:.1} IBU with rounded weights ({:.1} exact)",
                weighed.ibu(),
                exact.ibu()
            ),
        }
    }
}

/// A gravity with a digit more than usual, since drifts are small.
fn fine_gravity(extract: Extract, style: Style) -> String {
    match style.gravity {
        GravityScale::Plato => format!("{:.2} °P", extract.plato()),
        GravityScale::SpecificGravity => {
            format!(
                "{:.4}",
                crate::science::density::gravity_of(extract).ratio()
            )
        }
    }
}
