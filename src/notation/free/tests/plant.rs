//! Plants as described.

use super::{codes, understood};
use crate::diagnostic::Code;

#[test]
fn a_plant_is_read_in_any_order() {
    let text = "Garage setup, 10 gal cooler tun, 10 gal kettle\nbatch 5.5 gal into fermenter\nboil off 1.25 gal/hr\ngrain absorbs .125 gal/lb\ndead space: tun 1 qt, kettle 1/2 gal\nefficiency 72%\naltitude 7,500 ft\n";
    let wanted = [
        "brewhouse \"Garage setup\"",
        "mash tun 10 gal",
        "kettle 10 gal",
        "batch 5.5 gal into fermenter",
        "evaporation 1.25 gal/h",
        "absorption 0.125 gal/lb",
        "tun loss 1 qt",
        "kettle loss 0.5 gal",
        "altitude 7500 ft",
        "extract yield 72 % in fermenter",
    ];
    assert_eq!(understood(text), wanted);
    assert_eq!(codes(text), []);
}

#[test]
fn rates_and_losses_are_read_as_spoken() {
    let text = "kettle 12 gal\nI lose half a gallon an hour, and leave a quart behind\nbatch sparge twice\nimmersion chiller, 25 min to 68F\n";
    let wanted = [
        "brewhouse Plant",
        "kettle 12 gal",
        "evaporation 0.5 gal/h",
        "kettle loss 1 qt",
        "lauter batch, sparges 2",
        "cool to 68 F in 25 min by coil",
    ];
    assert_eq!(understood(text), wanted);
    let text = "pot 22 L, bag\nboil an hour costs nothing\nfull volume, no sparge\nevap 12 % an hour\nbag holds 0.6 L per kg\n";
    let lines = understood(text);
    assert!(
        lines.contains(&"lauter bag".to_owned())
            && lines.contains(&"evaporation 12 % per hour".to_owned())
            && lines.contains(&"absorption 0.6 L/kg".to_owned()),
        "{lines:?}"
    );
}

#[test]
fn the_yield_of_a_brewery_is_asked_for() {
    let text = "brewhouse Ten\nbatch 10 hL\nkettle 14 hL\nefficiency 86 %\n";
    assert_eq!(codes(text), [Code::MissingQuantity]);
    assert!(understood(text).contains(&"extract yield 86 %".to_owned()));
}

#[test]
fn a_sheet_may_say_what_plant_it_is_of() {
    let text = "Low Tide\n20 L\n5 kg pale ale malt\nno sparge, 70 % efficiency\nboil off 3 L/h\n";
    let lines = understood(text);
    for wanted in [
        "brewhouse \"Low Tide\"",
        "lauter batch, sparges 0",
        "extract yield 70 % in fermenter",
        "evaporation 3 L/h",
        "5 kg pale ale malt",
    ] {
        assert!(lines.contains(&wanted.to_owned()), "{wanted}: {lines:?}");
    }
}
