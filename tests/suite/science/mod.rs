//! Relations of the trade against published tables and worked examples.

mod attenuation;
mod bitterness;
mod boiling;
mod carbonation;
mod colour;
mod density;
mod ethanol;
mod fermentability;
mod heat;
mod instruments;
mod lautering;
mod salt_solver;
mod shelf;
mod water;
mod yeast;

use wortwright::quantity::uom::si::{mass::kilogram, volume::liter};
use wortwright::quantity::{Mass, Share, Temperature, Volume};

fn kilograms(value: f64) -> Mass {
    Mass::new::<kilogram>(value)
}

fn litres(value: f64) -> Volume {
    Volume::new::<liter>(value)
}

fn celsius(value: f64) -> Temperature {
    Temperature::from_celsius(value).unwrap()
}

fn share(value: f64) -> Share {
    Share::from_fraction(value).unwrap()
}
