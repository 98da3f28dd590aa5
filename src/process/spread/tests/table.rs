//! What is uncertain is as the table has it.

use super::super::effect::{ALCOHOL_FORMULA, BITTERNESS_MODEL, COLOUR_MODEL};

/// Unit and figure of a row of the table, the first of its name.
fn row(quantity: &str) -> (String, String) {
    let text = include_str!("../../../../tests/reference/uncertainty.csv");
    let line = text
        .lines()
        .find(|line| line.split(';').nth(1) == Some(quantity));
    let cells: Vec<&str> = line
        .unwrap_or_else(|| panic!("{quantity}"))
        .split(';')
        .collect();
    (cells[2].to_owned(), cells[4].to_owned())
}

/// Holds a constant against its row: `times` is how many of the row's units it would be as one.
fn check_row(quantity: &str, unit: &str, ours: f64) {
    let (counted_in, sigma) = row(quantity);
    assert_eq!(counted_in, unit, "{quantity}");
    let sigma: f64 = sigma.parse().unwrap();
    assert!((ours - sigma).abs() < 1e-9, "{quantity}: {ours}, {sigma}");
}

#[test]
fn constants_are_those_of_the_table() {
    use super::super::effect::{BITTERNESS_CALIBRATED, COLOUR_CALIBRATED};
    use super::super::input::*;
    use super::super::result::HYDROMETER;
    let relative = |quantity, ours: f64| check_row(quantity, "% relative", 100.0 * ours);
    check_row(
        "pale malt extract of the lot against its type",
        "% dry",
        100.0 * BASE_MALT_LOT,
    );
    check_row("coloured malt extract", "% dry", 100.0 * OTHER_GRAIN_LOT);
    check_row("extract of malt EBC 4.5.1", "% dry", 100.0 * CERTIFICATE);
    check_row("malt moisture at use", "% abs", 100.0 * GRAIN_MOISTURE);
    check_row(
        "moisture liquid malt extract",
        "% abs",
        20.0 * EXTRACT_MOISTURE,
    );
    check_row(
        "moisture of sugars and honey",
        "% abs",
        17.1 * SUGAR_MOISTURE,
    );
    check_row("Brix of shop juice", "Brix", SHOP_JUICE);
    check_row("hand refractometer", "Brix", MEASURED_BRIX);
    relative("sugars of fresh fruit", FRUIT_SUGARS);
    check_row(
        "legal tolerance of declared alcohol",
        "% vol",
        2.0 * DECLARED_ALCOHOL,
    );
    check_row("colour pale malt", "EBC", PALE_COLOUR);
    relative("colour caramel malt", COLOURED);
    relative("colour roasted malt", ROASTED);
    relative("colour malt extract, dry or liquid", EXTRACT_COLOUR);
    relative("colour syrup, caramelised", SYRUP_COLOUR);
    check_row(
        "apparent attenuation, known yeast",
        "points",
        3.5 * KNOWN_YEAST,
    );
    relative("volume by dip stick or marks", VOLUME_MARKS);
    check_row("kitchen scale", "g", 1000.0 * KITCHEN_SCALE_KG);
    check_row("hop scale", "g", 1000.0 * HOP_SCALE_KG);
    check_row("hydrometer, two points checked", "g/L", 1000.0 * HYDROMETER);
    relative("bitterness models, plant not calibrated", BITTERNESS_MODEL);
    relative("bitterness models, plant calibrated", BITTERNESS_CALIBRATED);
    relative("colour by Morey, not calibrated", COLOUR_MODEL);
    relative("colour, plant calibrated", COLOUR_CALIBRATED);
    check_row("alcohol from extracts (formula)", "% vol", ALCOHOL_FORMULA);
    // Rows of a range: the cultivar's figure lies within those of gardens and of years.
    assert_eq!(
        row("alpha acids between years, mean of a cultivar").1,
        "5-20"
    );
    assert!((0.05..0.20).contains(&ALPHA_CULTIVAR));
    assert_eq!(
        row("apparent attenuation, only kind of yeast known").1,
        "3.5"
    );
}
