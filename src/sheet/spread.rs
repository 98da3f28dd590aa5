//! A figure with how far it may be off: `15.6 ± 0.4 °P`.

use crate::process::{Figures, PredictedFigure, Spread};
use crate::speech::Style;

/// What ± means.
pub(super) const LEGEND: &str =
    "± = one standard deviation: about two in three brews fall within it";
/// The same where readings follow, some with what brings them back.
pub(super) const LEGEND_OF_THE_DAY: &str =
    "± = one standard deviation (about two in three brews). A reading further off: see below it.";

/// A figure as the style says it; nothing where there is none, or no hops to be bitter of.
pub(super) fn said(figure: PredictedFigure, of: &Figures, style: Style) -> Option<String> {
    let number = figure.of(of)?;
    let is_shown = !figure.is_bitterness() || number > 0.0;
    is_shown.then(|| figure.spoken(number, style).said())
}

/// The same with its one sigma, where its spread is known.
pub(super) fn said_with_spread(
    figure: PredictedFigure,
    (of, spread): (&Figures, Option<&Spread>),
    style: Style,
) -> Option<String> {
    let sigma = spread.and_then(|spread| spread.of(figure));
    match (sigma, figure.of(of)) {
        (Some(sigma), Some(number)) if !figure.is_bitterness() || number > 0.0 => {
            Some(figure.spoken(number, style).with_sigma(sigma.one_sigma))
        }
        _ => said(figure, of, style),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::process::FigureSpread;
    use crate::quantity::{BeerColour, Extract, UnitSystem, litres};
    use std::collections::BTreeMap;

    fn check(system: UnitSystem, figure: PredictedFigure, sigma: f64, expected: &str) {
        let figures = BTreeMap::from([(figure, FigureSpread::plain(sigma))]);
        let spread = Spread::plain(figures);
        let predicted = Figures {
            original: Some(Extract::clamped(15.6)),
            batch: Some(litres(2000.0)),
            colour: Some(BeerColour::clamped(19.0)),
            ..Figures::default()
        };
        let style = Style::customary(system);
        let said = said_with_spread(figure, (&predicted, Some(&spread)), style);
        assert_eq!(said.as_deref(), Some(expected));
    }

    /// Half a hectolitre of 20. 0.43 °P at 15.6 °P are 0.0019 in gravity (0.0043 a degree there); 4 EBC are 2.03 SRM, and 50 L
    /// are 0.43 US barrels of 117.3 L.
    #[test]
    fn a_spread_has_the_unit_of_its_figure() {
        let (metric, us) = (UnitSystem::Metric, UnitSystem::Us);
        check(metric, PredictedFigure::Batch, 50.0, "20.0 ± 0.5 hL");
        check(metric, PredictedFigure::Original, 0.43, "15.6 ± 0.4 °P");
        check(us, PredictedFigure::Original, 0.43, "1.064 ± 0.002");
        check(us, PredictedFigure::Colour, 4.0, "10 ± 2 SRM");
        check(us, PredictedFigure::Batch, 50.0, "17.0 ± 0.4 bbl");
    }
}
