//! Two answers side by side.

use super::answer::Figures;
use std::fmt::Write as _;

/// Which figures are compared, and how far apart they may be.
#[derive(Debug, Clone, Copy)]
pub struct Within {
    /// Part of the figure, or of what a figure of its kind usually is where it is nearly nothing.
    pub part: f64,
    /// How many times as large the second brew is.
    pub factor: f64,
    /// Which figures are held beside each other.
    pub of: fn(&str) -> bool,
}

/// What a figure of this name usually is at least: a difference of two such figures is good to a part of that.
pub(super) fn usual(name: &str, litres: f64) -> f64 {
    let last = name.rsplit(['.', ']']).next().unwrap_or_default();
    let ends = |units: &[&str]| units.iter().any(|unit| last.ends_with(unit));
    if ends(&["plato", "pct", "_c", "before", "after"]) {
        10.0
    } else if ends(&["_kg"]) {
        0.01 * litres
    } else if ends(&["_l"]) {
        litres
    } else if ends(&["_ibu", "_ebc"]) {
        1.0
    } else if ends(&["mg_l"]) {
        10.0
    } else {
        1e-6
    }
}

/// Whether twice the brew has twice of a figure.
fn grows(name: &str) -> bool {
    let last = name.rsplit(['.', ']']).next().unwrap_or_default();
    let per = ["per_", "mg_l", "g_l", "meq_l", "_sg"];
    let is_share = per.iter().any(|word| last.contains(word));
    let units = [
        "_kg", "_l", "_g", "_kw", "_kj", "_ml", "_meq", "cells", "packs", "l_per_h", "billion",
    ];
    last == "l_per_h" || (!is_share && units.iter().any(|unit| last.ends_with(unit)))
}

/// The figures in which two answers differ, in words; empty where they agree.
pub fn differences(one: &Figures, other: &Figures, within: Within) -> String {
    let litres = one.get("volumes.total_water_l").copied().unwrap_or(10.0);
    let mut told = String::new();
    let names = one
        .keys()
        .chain(other.keys().filter(|name| !one.contains_key(*name)));
    for name in names.filter(|name| (within.of)(name)) {
        match (one.get(name), other.get(name)) {
            (Some(a), Some(b)) => {
                let factor = if grows(name) { within.factor } else { 1.0 };
                let wanted = a * factor;
                let room =
                    within.part * wanted.abs().max(b.abs()).max(factor * usual(name, litres));
                if (wanted - b).abs() > room || b.is_nan() {
                    let _ = writeln!(
                        told,
                        "{name}: {wanted} and {b}, off by {:e}",
                        (b - wanted) / wanted
                    );
                }
            }
            (a, b) => {
                let _ = writeln!(told, "{name}: {a:?} and {b:?}");
            }
        }
    }
    told
}
