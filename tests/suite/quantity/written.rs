//! A quantity is one truth: the number and unit as written, and the value that follows from them.

use wortwright::diagnostic::ErrorKind;
use wortwright::quantity::{
    AlcoholByVolume, CarbonDioxide, Extract, MaltColour, Mass, Ph, PitchRate, Quantity, Share,
    SpecificGravity, Temperature, Unit, Volume, VolumeShare, Written,
};

fn from_json<Q: Quantity>(json: &str) -> Result<Written<Q>, String> {
    serde_json::from_str(json).map_err(|error| error.to_string())
}

fn base<Q: Quantity>(json: &str) -> f64 {
    from_json::<Q>(json).expect(json).value().in_base()
}

/// Pound and gallon by their definitions: 0.45359237 kg and 231 cubic inches of 2.54 cm.
#[test]
fn a_quantity_in_json_is_a_text_an_object_or_a_number_of_the_field() {
    let gallons = 4.0 * 231.0 * 2.54_f64.powi(3) / 1000.0;
    for json in [
        r#""4 gal""#,
        r#""4gal""#,
        r#"{"number":4,"unit":"gal"}"#,
        r#"{"range":[3.5,4.5],"unit":"gal","about":true}"#,
        r#"{"value":15.141647136,"number":4,"unit":"gal"}"#,
    ] {
        let volume = base::<Volume>(json);
        assert!((volume - gallons).abs() < 1e-9, "{json}: {volume}");
    }
    assert_eq!(base::<Volume>("20"), 20.0);
    assert_eq!(base::<Volume>(r#"{"value":20}"#), 20.0);
    assert_eq!(base::<Share>("70"), 0.7);
    assert_eq!(base::<Share>(r#""70 %""#), 0.7);
    assert!((base::<Mass>(r#""2 lb 4 oz""#) - 2.25 * 0.453_592_37).abs() < 1e-12);
    // 1.050 is 12.38 °P, to the digits that brewers' tables print.
    assert!((base::<Extract>(r#""1.050""#) - 12.38).abs() < 0.005);
    assert!((base::<Extract>(r#"{"number":1.050,"unit":"SG"}"#) - 12.38).abs() < 0.005);
    // Molar mass and molar volume of carbon dioxide: 44.0095 g/mol by 22.2605 L/mol.
    let gas = base::<CarbonDioxide>(r#""2.5 volumes""#);
    assert!((gas - 2.5 * 44.0095 / 22.2605).abs() < 1e-3);
    assert_eq!(base::<VolumeShare>(r#""5 mL/L""#), 0.005);
}

#[test]
fn an_edited_number_is_never_ignored() {
    let stored = serde_json::to_string(&Written::<Mass>::new(5.0, Unit::Kilogram).unwrap());
    let edited = stored
        .unwrap()
        .replace(r#""number":5.0"#, r#""number":50.0"#);
    assert!(edited.contains("50.0"), "{edited}");
    let refused = from_json::<Mass>(&edited).unwrap_err();
    assert!(
        refused.starts_with("expected the `value` 50 of 50 kg, found 5"),
        "{refused}"
    );
    for (json, told) in [
        (
            r#"{"number":5,"range":[8,10],"unit":"kg"}"#,
            "expected the `number` 9 of its range, found 5",
        ),
        (
            r#"{"range":[10,8],"unit":"kg"}"#,
            "expected a range from low to high, found 10 to 8",
        ),
        (
            r#"{"number":5}"#,
            "expected a `unit` beside the `number` or `range`",
        ),
        (r#"{"unit":"kg"}"#, "expected a `number` beside the `unit`"),
        (
            r#"{"number":5,"unit":"L"}"#,
            "expected a mass (`kg`, `g`, `lb` or `oz`), found `5 L`",
        ),
        (
            r#""five kg""#,
            "expected a mass (`kg`, `g`, `lb` or `oz`), found `five kg`",
        ),
        (
            r#""-5 kg""#,
            "expected a mass from 0 to 1000000000 kg, found -5 kg",
        ),
        ("-5", "expected a mass from 0 to 1000000000 kg, found -5 kg"),
        ("1e300", "expected a mass from 0 to 1000000000 kg, found 1"),
    ] {
        let refused = from_json::<Mass>(json).unwrap_err();
        assert!(refused.starts_with(told), "{json}: {refused}");
    }
    let refused = from_json::<Share>("120").unwrap_err();
    assert!(
        refused.starts_with("expected a share from 0 to 100 %, found 120 %"),
        "{refused}"
    );
    let refused = from_json::<Extract>(r#""0.8 SG""#).unwrap_err();
    assert!(
        refused.starts_with("expected a specific gravity from 0.928 to 1.555, found 0.8"),
        "{refused}"
    );
}

#[test]
fn a_range_below_zero_is_read_as_it_is_printed() {
    let frost = Written::<Temperature>::between(-2.0, -1.0, Unit::Celsius).unwrap();
    assert_eq!(frost.to_string(), "-2--1 C");
    assert_eq!("-2--1 C".parse::<Written<Temperature>>().unwrap(), frost);
    assert_eq!(
        "−2 – −1 C"
            .replace(' ', "")
            .parse::<Written<Temperature>>()
            .unwrap(),
        frost
    );
}

/// A difference in the last digits that JSON keeps is none.
#[test]
fn a_value_computed_by_a_host_may_stand_beside_its_number() {
    let pounds = f64::from(5.0_f32 * 0.453_592_37_f32);
    let json = format!(r#"{{"value":{pounds},"number":5,"unit":"lb"}}"#);
    assert_eq!(
        base::<Mass>(&json),
        Written::<Mass>::new(5.0, Unit::Pound)
            .unwrap()
            .value()
            .in_base()
    );
    assert_eq!(
        base::<Temperature>(r#"{"value":1e-11,"number":32,"unit":"F"}"#),
        0.0
    );
    assert!(from_json::<Temperature>(r#"{"value":0.1,"number":32,"unit":"F"}"#).is_err());
}

fn comes_back<Q: Quantity>(text: &str) {
    let written: Written<Q> = text.parse().expect(text);
    assert_eq!(written.to_string(), text);
    let json = serde_json::to_string(&written).unwrap();
    assert_eq!(
        serde_json::from_str::<Written<Q>>(&json).unwrap(),
        written,
        "{json}"
    );
}

#[test]
fn what_is_written_comes_back_from_text_and_json_equal() {
    comes_back::<Mass>("0.1 kg");
    comes_back::<Mass>("~8-10 lb");
    comes_back::<Volume>("13.7 imp fl oz");
    comes_back::<Extract>("15.6 P");
    comes_back::<Extract>("1.0501");
    comes_back::<Extract>("0.97 SG");
    comes_back::<Extract>("13.5 Bx");
    comes_back::<MaltColour>("3 lovibond");
    comes_back::<Temperature>("151.9 F");
    comes_back::<Temperature>("-2 C");
    comes_back::<Ph>("5.35");
    comes_back::<CarbonDioxide>("2.4 volumes");
    comes_back::<VolumeShare>("3.3 mL/L");
    comes_back::<PitchRate>("0.9 M/mL/P");
}

#[test]
fn a_newtype_reads_what_it_shows_and_shows_no_dust() {
    let third = Extract::from_plato(11.999_999_999_999_998).unwrap();
    assert_eq!(third.to_string(), "12 °P");
    assert_eq!("12 °P".parse::<Extract>().unwrap().plato(), 12.0);
    assert_eq!(
        format!("{:.1}", Extract::from_plato(12.34).unwrap()),
        "12.3 °P"
    );
    assert_eq!(Share::from_fraction(0.07).unwrap().to_string(), "7 %");
    assert_eq!("7%".parse::<Share>().unwrap().fraction(), 0.07);
    assert_eq!("5.5EBC".parse::<MaltColour>().unwrap().ebc(), 5.5);
    assert_eq!("66C".parse::<Temperature>().unwrap().celsius(), 66.0);
    assert_eq!("1.05".parse::<SpecificGravity>().unwrap().ratio(), 1.05);
    assert_eq!("pH 5.4".parse::<Ph>().unwrap().value(), 5.4);
    assert_eq!(
        AlcoholByVolume::from_fraction(0.066).unwrap().to_string(),
        "6.6 %"
    );
    let refused = "12 %".parse::<Temperature>().unwrap_err();
    assert_eq!(refused.kind(), ErrorKind::NotAQuantity);
    assert_eq!(
        refused.to_string(),
        "expected a temperature (`C` or `F`), found `12 %`"
    );
}

#[test]
fn a_computed_quantity_keeps_what_a_text_keeps_of_it() {
    let third = Written::from(Share::from_fraction(1.0 / 3.0).unwrap());
    assert_eq!(third.number(), 33.333_333_333_3);
    assert_eq!(third.to_string().parse::<Written<Share>>().unwrap(), third);
    let volume = Volume::new::<wortwright::quantity::uom::si::volume::liter>(-1.0);
    assert_eq!(
        Written::try_from(volume).unwrap_err().kind(),
        ErrorKind::OutOfRange
    );
    assert!(Written::<Volume>::new(f64::NAN, Unit::Litre).is_err());
    assert!(Written::<Volume>::between(f64::NAN, 2.0, Unit::Litre).is_err());
    assert!(Written::<Volume>::between(3.0, 2.0, Unit::Litre).is_err());
}
