//! A figure with how far it may be off: `15.6 ± 0.4 °P`.

use crate::process::{Figures, PredictedFigure, Spread};
use crate::quantity::{Extract, Unit};
use crate::science::density::gravity_of;
use crate::speech::{ColourScale, GravityScale, Style};

/// What ± means.
pub(super) const LEGEND: &str =
    "± = one standard deviation: about two in three brews fall within it";
/// More digits than a figure has are shown of a spread that would else be nothing, so many at most.
const MORE_DIGITS: usize = 2;

/// What is predicted, and how far it may be off.
#[derive(Clone, Copy)]
pub(super) struct Doubted<'a> {
    pub(super) predicted: &'a Figures,
    pub(super) spread: Option<&'a Spread>,
    pub(super) style: Style,
}

impl Doubted<'_> {
    /// A figure as the style says it, with its one sigma before its unit; as it is where no spread is known.
    pub(super) fn said(self, said: String, figure: PredictedFigure) -> String {
        let (number, unit) = said.split_once(' ').unwrap_or((&said, ""));
        let sigma = number
            .parse()
            .ok()
            .and_then(|shown| self.sigma(figure, shown));
        let Some(sigma) = sigma.filter(|sigma| *sigma > 0.0) else {
            return said;
        };
        let digits = number.split_once('.').map_or(0, |(_, digits)| digits.len());
        let shows =
            |digits: &usize| sigma >= 0.5 * 0.1_f64.powi(i32::try_from(*digits).unwrap_or(0));
        let most = digits + MORE_DIGITS;
        let digits = (digits..=most).find(shows).unwrap_or(most);
        format!("{number} ± {sigma:.digits$} {unit}")
            .trim_end()
            .to_owned()
    }

    /// One sigma in the unit in which the style shows the figure as this number.
    fn sigma(self, figure: PredictedFigure, shown: f64) -> Option<f64> {
        let value = figure.of(self.predicted)?;
        let sigma = self.spread?.of(figure)?.one_sigma;
        Some(match figure {
            _ if figure.is_extract() && self.style.gravity == GravityScale::SpecificGravity => {
                let ratio = |plato| gravity_of(Extract::clamped(plato)).ratio();
                ratio(value + sigma) - ratio(value)
            }
            _ if figure.is_colour() && self.style.colour == ColourScale::Srm => {
                Unit::Srm.from_base(sigma)
            }
            // Litres, hectolitres or gallons.
            PredictedFigure::Batch | PredictedFigure::Finished if value > 0.0 => {
                sigma * shown / value
            }
            _ => sigma,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::process::FigureSpread;
    use crate::quantity::{AlcoholByVolume, BeerColour, Bitterness, UnitSystem, litres};
    use std::collections::BTreeMap;

    fn check(said: &str, figure: PredictedFigure, sigma: f64, expected: &str) {
        let figures = BTreeMap::from([(figure, FigureSpread::plain(sigma))]);
        let spread = Spread::plain(figures);
        let predicted = Figures {
            original: Some(Extract::clamped(15.6)),
            batch: Some(litres(2000.0)),
            bitterness: Some(Bitterness::clamped(21.0)),
            colour: Some(BeerColour::clamped(19.0)),
            alcohol: Some(AlcoholByVolume::clamped(0.066)),
            ..Figures::default()
        };
        let is_us = said.contains("SRM") || !said.contains(' ');
        let system = if is_us {
            UnitSystem::Us
        } else {
            UnitSystem::Metric
        };
        let doubted = Doubted {
            predicted: &predicted,
            spread: Some(&spread),
            style: Style::customary(system),
        };
        assert_eq!(doubted.said(said.to_owned(), figure), expected);
    }

    #[test]
    fn a_spread_has_the_digits_of_its_figure() {
        check("15.6 °P", PredictedFigure::Original, 0.43, "15.6 ± 0.4 °P");
        check("21 IBU", PredictedFigure::Bitterness, 5.4, "21 ± 5 IBU");
        check("21 IBU", PredictedFigure::Bitterness, 0.31, "21 ± 0.3 IBU");
        check(
            "6.6 % vol",
            PredictedFigure::Alcohol,
            0.26,
            "6.6 ± 0.3 % vol",
        );
        // Half a hectolitre of 20.
        check("20.0 hL", PredictedFigure::Batch, 50.0, "20.0 ± 0.5 hL");
        check("20.0 hL", PredictedFigure::Batch, 0.0, "20.0 hL");
    }

    /// 0.43 °P at 15.6 °P are 0.0019 in gravity (0.0043 a degree there); 4 EBC are 2.03 SRM.
    #[test]
    fn a_spread_has_the_unit_of_its_figure() {
        check("1.064", PredictedFigure::Original, 0.43, "1.064 ± 0.002");
        check("10 SRM", PredictedFigure::Colour, 4.0, "10 ± 2 SRM");
    }
}
