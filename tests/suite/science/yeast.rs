//! Yeast to pitch against a published table and worked examples.

use super::litres;
use crate::reference::rows;
use wortwright::quantity::uom::si::mass::gram;
use wortwright::quantity::{Extract, PitchRate, Unit};
use wortwright::science::yeast::{CellDensity, cells_to_pitch, dry_yeast};

#[test]
fn yeast_to_pitch_agrees_with_the_table() {
    for row in rows("yeast_pitch.csv") {
        let cells = cells_to_pitch(
            PitchRate::from_million_per_ml_plato(row.number("cells_per_mL_per_P") / 1e6).unwrap(),
            litres(row.number("volume_L")),
            Extract::from_plato(row.number("P")).unwrap(),
        )
        .unwrap();
        row.check("cells_total", cells.billions() * 1e9);
        for (column, billions) in [
            ("g_dry_at_6e9_per_g", 6.0),
            ("g_dry_at_14e9", 14.0),
            ("g_dry_at_20e9", 20.0),
        ] {
            let density = CellDensity::from_billions_per_gram(billions).unwrap();
            row.check(column, dry_yeast(cells, density).get::<gram>());
        }
    }
}

#[test]
fn printed_pitches_come_out() {
    let rate = PitchRate::from_million_per_ml_plato(0.75).unwrap();
    let pitch =
        |volume, plato| cells_to_pitch(rate, volume, Extract::from_plato(plato).unwrap()).unwrap();
    // Y1: 180 thousand million for 20 L of 12 °P.
    assert!((pitch(litres(20.0), 12.0).billions() - 180.0).abs() < 1e-9);
    // Y2: 234 thousand million, 17 g at 14 thousand million a gram, for 5.5 US gallons of 15 °P.
    let cells = pitch(litres(Unit::Gallon.to_base(5.5)), 15.0);
    assert!((cells.billions() - 234.0).abs() < 0.5);
    let density = CellDensity::from_billions_per_gram(14.0).unwrap();
    assert!((dry_yeast(cells, density).get::<gram>() - 17.0).abs() < 0.5);
}
